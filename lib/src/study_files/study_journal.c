/* SPDX-License-Identifier: BSD-3-Clause */
#include <stallwright/study_file.h>

#include "checksum.h"
#include "study_description.h"
#include "typed_text.h"

#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <time.h>
#include <unistd.h>

/* A journal is a row of records: the length and the checksum of what follows, then the bytes. The first record is the
 * description of the study, every other a packed result. A record that a dying program or disk cut short does not fit its
 * checksum; it and what follows are dropped when the journal is opened again. */

static const char magic[8] = {'s', 'w', 's', 't', 'u', 'd', 'y', '1'};

typedef struct record_head {
    uint32_t length;
    uint32_t checksum;
} record_head;

enum { LONGEST_RECORD = 1 << 24 };

struct sw_study_journal {
    char *path; /* NULL: a temporary file */
    FILE *temporary;
    int descriptor;
    off_t end;         /* behind the last good record */
    off_t *record_at;  /* of each run; 0: not there */
    size_t run_count;
    size_t count, failures, longest;
    time_t stored; /* when it was last made to reach the disk */
};

static const char *name_of(const sw_study_journal *j)
{
    return j->path ? j->path : "of this run";
}

static sw_status refuse_writing(sw_context *context, const sw_study_journal *j, int error)
{
    return sw_fail(context, SW_ERR_FILE, "the journal \"%.300s\" cannot be written: %s", name_of(j),
                   error ? strerror(error) : "the disk refused it");
}

static sw_status no_memory(sw_context *context)
{
    return sw_fail(context, SW_ERR_MEMORY, "memory for the journal of a study could not be allocated");
}

/* ---- bytes ---- */

/* 0 or an error number. */
static int write_at(int descriptor, const void *bytes, size_t size, off_t at)
{
    const char *from = bytes;
    while (size > 0) {
        errno = 0;
        ssize_t written = pwrite(descriptor, from, size, at);
        if (written < 0 && errno == EINTR)
            continue;
        if (written <= 0)
            return errno ? errno : ENOSPC;
        from += written;
        size -= (size_t)written;
        at += written;
    }
    return 0;
}

static bool read_at(int descriptor, void *bytes, size_t size, off_t at)
{
    char *to = bytes;
    while (size > 0) {
        ssize_t got = pread(descriptor, to, size, at);
        if (got < 0 && errno == EINTR)
            continue;
        if (got <= 0)
            return false;
        to += got;
        size -= (size_t)got;
        at += got;
    }
    return true;
}

/* The record at a place, whole and sound, for the caller to free; NULL if it is not. */
static unsigned char *read_record(const sw_study_journal *j, off_t at, record_head *head)
{
    if (!read_at(j->descriptor, head, sizeof *head, at) || head->length == 0 || head->length > LONGEST_RECORD)
        return NULL;
    /* One byte more, so that a text ends. */
    unsigned char *bytes = calloc((size_t)head->length + 1, 1);
    if (bytes && read_at(j->descriptor, bytes, head->length, at + (off_t)sizeof *head) &&
        sw_checksum(0, bytes, head->length) == head->checksum)
        return bytes;
    free(bytes);
    return NULL;
}

/* A power cut loses at most what came within a second. */
static int store_now_and_then(sw_study_journal *j)
{
    time_t now = time(NULL);
    if (!j->path || now == j->stored)
        return 0;
    j->stored = now;
    return fdatasync(j->descriptor) == 0 || errno == EINTR ? 0 : errno;
}

static sw_status append_record(sw_context *context, sw_study_journal *j, const void *bytes, size_t size)
{
    record_head head = {(uint32_t)size, sw_checksum(0, bytes, size)};
    unsigned char *record = malloc(sizeof head + size);
    if (!record)
        return no_memory(context);
    memcpy(record, &head, sizeof head);
    memcpy(record + sizeof head, bytes, size);
    int error = write_at(j->descriptor, record, sizeof head + size, j->end);
    free(record);
    if (!error)
        error = store_now_and_then(j);
    if (error) {
        /* Whatever this leaves behind the end is dropped when the journal is opened again. */
        if (ftruncate(j->descriptor, j->end) != 0)
            errno = 0;
        return refuse_writing(context, j, error);
    }
    j->end += (off_t)(sizeof head + size);
    return SW_OK;
}

/* ---- opening ---- */

static sw_status begin(sw_context *context, sw_study_journal *j, const char *description)
{
    int error = write_at(j->descriptor, magic, sizeof magic, 0);
    if (error)
        return refuse_writing(context, j, error);
    j->end = sizeof magic;
    return append_record(context, j, description, strlen(description));
}

/* Says in which line two descriptions differ first. */
static sw_status refuse_other_study(sw_context *context, const sw_study_journal *j, const char *journal, const char *study)
{
    char was[128], now[128], was_quoted[SW_QUOTE_SIZE], now_quoted[SW_QUOTE_SIZE];
    for (;;) {
        size_t a = strcspn(journal, "\n"), b = strcspn(study, "\n");
        if (a != b || strncmp(journal, study, a) != 0 || !journal[a] || !study[b])
            break;
        journal += a + 1;
        study += b + 1;
    }
    snprintf(was, sizeof was, "%.*s", (int)strcspn(journal, "\n"), journal);
    snprintf(now, sizeof now, "%.*s", (int)strcspn(study, "\n"), study);
    return sw_fail(context, SW_ERR_INPUT, "the journal \"%.300s\" is of another sweep: it has %s where this one has %s",
                   name_of(j), sw_quote(was, was_quoted), sw_quote(now, now_quoted));
}

static void index_result(sw_study_journal *j, const sw_study_result *result, off_t at)
{
    if (j->record_at[result->run] == 0) {
        j->count++;
        j->failures += result->status != SW_OK;
    }
    j->record_at[result->run] = at;
    j->longest = result->point_count > j->longest ? result->point_count : j->longest;
}

/* Takes over the results that are there. */
static sw_status scan(sw_context *context, sw_study_journal *j)
{
    for (;;) {
        record_head head;
        sw_study_result result;
        unsigned char *bytes = read_record(j, j->end, &head);
        if (!bytes)
            break;
        sw_status status = sw_study_result_unpack(context, bytes, head.length, &result);
        free(bytes);
        if (status == SW_ERR_MEMORY)
            return status;
        if (status != SW_OK)
            break;
        if (result.run < j->run_count)
            index_result(j, &result, j->end);
        sw_study_result_free(&result);
        j->end += (off_t)(sizeof head + head.length);
    }
    return ftruncate(j->descriptor, j->end) == 0 ? SW_OK : refuse_writing(context, j, errno);
}

static sw_status go_on(sw_context *context, sw_study_journal *j, const char *description)
{
    char found[sizeof magic];
    record_head head;
    struct stat about;
    if (fstat(j->descriptor, &about) != 0)
        return refuse_writing(context, j, errno);
    /* It was ended before it held anything. */
    bool has_magic = read_at(j->descriptor, found, sizeof found, 0);
    unsigned char *bytes = has_magic ? read_record(j, sizeof magic, &head) : NULL;
    if (has_magic && memcmp(found, magic, sizeof magic) != 0) {
        free(bytes);
        return sw_fail(context, SW_ERR_INPUT, "\"%.300s\" is no journal of a sweep", name_of(j));
    }
    if (!bytes && about.st_size > (off_t)(sizeof magic + sizeof head + strlen(description)))
        return sw_fail(context, SW_ERR_INPUT, "the journal \"%.300s\" is damaged at its beginning", name_of(j));
    if (!bytes)
        return ftruncate(j->descriptor, 0) == 0 ? begin(context, j, description) : refuse_writing(context, j, errno);
    sw_status status = SW_OK;
    if (strcmp((const char *)bytes, description) != 0)
        status = refuse_other_study(context, j, (const char *)bytes, description);
    free(bytes);
    if (status != SW_OK)
        return status;
    j->end = (off_t)(sizeof magic + sizeof head + head.length);
    return scan(context, j);
}

static sw_status lock(sw_context *context, const sw_study_journal *j)
{
    struct flock whole = {.l_type = F_WRLCK, .l_whence = SEEK_SET};
    if (fcntl(j->descriptor, F_SETLK, &whole) == 0)
        return SW_OK;
    if (errno == EACCES || errno == EAGAIN)
        return sw_fail(context, SW_ERR_FILE, "the journal \"%.300s\" is in use: another sweep is writing it", name_of(j));
    return SW_OK; /* a file system without locks */
}

/* Opens or creates the file; *is_new says which. */
static sw_status open_file(sw_context *context, sw_study_journal *j, bool resume, bool overwrite, bool *is_new)
{
    *is_new = true;
    if (!j->path) {
        j->temporary = tmpfile();
        if (!j->temporary)
            return sw_fail(context, SW_ERR_FILE, "a temporary file for the results cannot be made: %s", strerror(errno));
        j->descriptor = fileno(j->temporary);
        return SW_OK;
    }
    j->descriptor = open(j->path, O_RDWR | O_CREAT | O_EXCL | O_CLOEXEC, 0666);
    if (j->descriptor >= 0)
        return lock(context, j);
    if (errno != EEXIST)
        return refuse_writing(context, j, errno);
    if (!resume && !overwrite)
        return sw_fail(context, SW_ERR_EXISTS,
                       "the journal \"%.300s\" of an unfinished sweep exists; resume that sweep, or replace it by force",
                       j->path);
    struct stat about;
    if (lstat(j->path, &about) == 0 && !S_ISREG(about.st_mode))
        return sw_fail(context, SW_ERR_FILE, "the journal \"%.300s\" cannot be written: it is no regular file", j->path);
    j->descriptor = open(j->path, O_RDWR | O_CLOEXEC | O_NOFOLLOW);
    if (j->descriptor < 0)
        return refuse_writing(context, j, errno);
    *is_new = !resume;
    sw_status status = lock(context, j);
    if (status == SW_OK && !resume && ftruncate(j->descriptor, 0) != 0)
        status = refuse_writing(context, j, errno);
    return status;
}

static void discard(sw_study_journal *j)
{
    if (j->temporary)
        fclose(j->temporary);
    else if (j->descriptor >= 0)
        close(j->descriptor);
    free(j->path);
    free(j->record_at);
    free(j);
}

static sw_status open_journal(sw_context *context, sw_scenario_reader *reader, sw_study_journal *j, const sw_study *study,
                              bool resume, bool overwrite)
{
    bool is_new;
    char *description;
    sw_status status = sw_study_describe(context, reader, study, &description);
    if (status != SW_OK)
        return status;
    status = open_file(context, j, resume, overwrite, &is_new);
    if (status == SW_OK)
        status = is_new ? begin(context, j, description) : go_on(context, j, description);
    free(description);
    return status;
}

sw_status sw_study_journal_open(sw_context *context, sw_scenario_reader *reader, const char *path, const sw_study *study,
                                bool resume, bool overwrite, sw_study_journal **journal)
{
    sw_study_journal *j = calloc(1, sizeof *j);
    if (!j)
        return no_memory(context);
    j->descriptor = -1;
    j->run_count = sw_study_run_count(study);
    j->record_at = calloc(j->run_count, sizeof *j->record_at);
    j->path = path ? strdup(path) : NULL;
    sw_status status = j->record_at && (j->path || !path) ? open_journal(context, reader, j, study, resume, overwrite)
                                                          : no_memory(context);
    if (status == SW_OK)
        *journal = j;
    else
        discard(j);
    return status;
}

void sw_study_journal_close(sw_study_journal *j, bool keep)
{
    if (!j)
        return;
    if (!keep && j->path)
        unlink(j->path);
    discard(j);
}

/* ---- results ---- */

size_t sw_study_journal_count(const sw_study_journal *j)
{
    return j->count;
}

size_t sw_study_journal_failures(const sw_study_journal *j)
{
    return j->failures;
}

bool sw_study_journal_has(const sw_study_journal *j, size_t run)
{
    return run < j->run_count && j->record_at[run] != 0;
}

size_t sw_study_journal_longest(const sw_study_journal *j)
{
    return j->longest;
}

sw_status sw_study_journal_append(sw_context *context, sw_study_journal *j, const sw_study_result *result)
{
    void *bytes;
    size_t size;
    if (result->run >= j->run_count)
        return sw_fail(context, SW_ERR_ARGUMENT, "run %zu is none of the %zu of this study", result->run, j->run_count);
    sw_status status = sw_study_result_pack(context, result, &bytes, &size);
    if (status != SW_OK)
        return status;
    off_t at = j->end;
    status = append_record(context, j, bytes, size);
    free(bytes);
    if (status == SW_OK)
        index_result(j, result, at);
    return status;
}

sw_status sw_study_journal_read(sw_context *context, const sw_study_journal *j, size_t run, sw_study_result *result)
{
    record_head head;
    if (!sw_study_journal_has(j, run))
        return sw_fail(context, SW_ERR_ARGUMENT, "run %zu is not in the journal", run);
    unsigned char *bytes = read_record(j, j->record_at[run], &head);
    if (!bytes)
        return sw_fail(context, SW_ERR_FILE, "the journal \"%.300s\" cannot be read any more: run %zu is damaged",
                       name_of(j), run);
    sw_status status = sw_study_result_unpack(context, bytes, head.length, result);
    free(bytes);
    return status;
}
