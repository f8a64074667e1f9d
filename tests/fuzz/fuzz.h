/* SPDX-License-Identifier: BSD-3-Clause */
/* What the fuzz targets share: each throws bytes at a reader of the library and sees that it answers as its header says. */
#ifndef SW_TEST_FUZZ_H
#define SW_TEST_FUZZ_H

#include <stallwright/context.h>
#include <stallwright/scenario_file.h>

#include <stddef.h>
#include <stdint.h>

/* Called by libFuzzer for each input. */
int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

/* Ends the program with a word of what is broken, which libFuzzer reports with the input. */
void fuzz_require(int holds, const char *what);

/* A context and a reader, created by the first call. */
sw_context *fuzz_context(void);
sw_scenario_reader *fuzz_reader(void);

/* A copy that ends with NUL; the caller frees it. */
char *fuzz_text(const uint8_t *data, size_t size);

/* The path of the one file that has the input now. */
const char *fuzz_file(const uint8_t *data, size_t size);

/* After a call that failed: there is one sentence that no terminal is upset by. */
void fuzz_check_sentence(void);

/* After a call that failed: there is one sentence that no terminal is upset by, and before is still in *now. */
void fuzz_check_refusal(const sw_scenario *before, const sw_scenario *now);

/* After a call that worked: the scenario can be checked, and if it is good, written and read back as the same. */
void fuzz_check_scenario(const sw_scenario *scenario);

#endif
