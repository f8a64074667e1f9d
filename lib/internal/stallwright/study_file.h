/* SPDX-License-Identifier: BSD-3-Clause */
/** @file
 * Reads the factors of a study from text, keeps the results of its runs in a journal while they come in, and writes them
 * to a results file. Layout of both files: docs/reference/sweep-file.md. */
#ifndef STALLWRIGHT_STUDY_FILE_H
#define STALLWRIGHT_STUDY_FILE_H

#include <stallwright/results_file.h>
#include <stallwright/scenario_file.h>
#include <stallwright/study.h>

SW_BEGIN_DECLARATIONS

/** Adds a factor written as "key=values": values are a list "none,paper", a range "225F:300F:15F" (from, to, step),
 * "uniform(6cm,10cm)" or "normal(8cm,0.5cm)" (mean, standard deviation), each value as a scenario file has it.
 * @param text error sentences begin with "--vary" and the key
 * @return SW_OK; SW_ERR_INPUT or SW_ERR_ARGUMENT with a sentence; SW_ERR_MEMORY */
SW_API sw_status sw_study_vary(sw_context *context, sw_scenario_reader *reader, sw_study *study, const char *text);

/** The results of the runs made so far, in a file that only grows. A result is on its way to the disk when it has been
 * appended: whatever ends the program loses none of them, and a loss of power those of the last second. */
typedef struct sw_study_journal sw_study_journal;

/** Begins a journal, or goes on with one that is there.
 * @param path NULL: a temporary file without a name, gone when the journal is closed
 * @param resume whether to go on with the journal at path if there is one; what a cut-short write left at its end is dropped
 * @param overwrite whether a journal that is there, and not gone on with, may be replaced
 * @param journal out: owned by the caller, close with sw_study_journal_close
 * @return SW_OK; SW_ERR_EXISTS; SW_ERR_INPUT (the journal is of another study or version; the sentence says where they
 * differ); SW_ERR_FILE (not to be written, or in use by another program); SW_ERR_RANGE, SW_ERR_MEMORY */
SW_API sw_status sw_study_journal_open(sw_context *context, sw_scenario_reader *reader, const char *path,
                                       const sw_study *study, bool resume, bool overwrite, sw_study_journal **journal);

/** Closes a journal; NULL is allowed.
 * @param keep false removes its file, once the results are in theirs */
SW_API void sw_study_journal_close(sw_study_journal *journal, bool keep);

/** How many runs it holds, how many of those failed, and whether it holds a certain one. */
SW_API size_t sw_study_journal_count(const sw_study_journal *journal);
SW_API size_t sw_study_journal_failures(const sw_study_journal *journal);
SW_API bool sw_study_journal_has(const sw_study_journal *journal, size_t run);

/** Points of the longest curve it holds. */
SW_API size_t sw_study_journal_longest(const sw_study_journal *journal);

/** Appends a result; not from two threads at a time.
 * @return SW_OK; SW_ERR_FILE (the disk is full: what is in the journal stays); SW_ERR_MEMORY */
SW_API sw_status sw_study_journal_append(sw_context *context, sw_study_journal *journal, const sw_study_result *result);

/** Reads a result back, the same to the bit.
 * @param result out: release with sw_study_result_free; unchanged on error
 * @return SW_OK; SW_ERR_ARGUMENT (run not there); SW_ERR_FILE; SW_ERR_MEMORY */
SW_API sw_status sw_study_journal_read(sw_context *context, const sw_study_journal *journal, size_t run,
                                       sw_study_result *result);

/** A result as bytes, to send it to another process of the same program; and back.
 * @param bytes out: owned by the caller (free) */
SW_API sw_status sw_study_result_pack(sw_context *context, const sw_study_result *result, void **bytes, size_t *size);
SW_API sw_status sw_study_result_unpack(sw_context *context, const void *bytes, size_t size, sw_study_result *result);

/** Writes a results file of the runs a journal holds; the others have fill values. Built in a file without a name, copied to
 * "<path>.part" and given its name when complete, so that a reader always finds a whole file.
 * @param run_status for the attribute sw_run_status: "running", "interrupted" or "complete"
 * @return as sw_results_write */
SW_API sw_status sw_study_results_write(sw_context *context, sw_scenario_reader *reader, const char *path,
                                        const sw_study *study, const sw_study_journal *journal,
                                        const sw_provenance *provenance, const char *run_status, bool overwrite);

/** Reads a complete results file of a study back.
 * @param journal out: without a file, holds every run with the same numbers to the bit; the status of one that failed is
 * SW_ERR_SOLVER, whatever it was. Owned by the caller, close with sw_study_journal_close; unchanged on error
 * @return SW_OK; SW_ERR_INPUT (it is no results file of this study, or not complete; the sentence says which); SW_ERR_FILE
 * (no regular file, or not to be read); SW_ERR_RANGE; SW_ERR_MEMORY */
SW_API sw_status sw_study_results_read(sw_context *context, sw_scenario_reader *reader, const char *path,
                                       const sw_study *study, sw_study_journal **journal);

SW_END_DECLARATIONS

#endif
