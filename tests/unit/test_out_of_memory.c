/* SPDX-License-Identifier: BSD-3-Clause */
/* Out of memory: every allocation of a call fails in its turn, alone and with all that follow, in a process of its own each
 * time. The answer is SW_ERR_MEMORY in a sentence about memory, or the right result where a library goes without. */
#include "close.h"

#include <stallwright/everything.h>

#include <dlfcn.h>
#include <errno.h>
#include <libfyaml.h>
#include <signal.h>
#include <stdlib.h>
#include <string.h>
#include <sundials/sundials_context.h>
#include <sundials/sundials_matrix.h>
#include <sys/wait.h>
#include <udunits2.h>
#include <unistd.h>

/* ---- an allocator that fails when it is told to: the executable's own stands before the C library's for all libraries ---- */

void *__libc_malloc(size_t size);
void *__libc_calloc(size_t count, size_t size);
void *__libc_realloc(void *block, size_t size);
void *__libc_memalign(size_t alignment, size_t size);

static long allocations, failing; /* of the call under test; the number of the one that fails, 0 for none */
static bool is_counting, fails_on;

static size_t refused_from; /* the size from which all fail; 0 for none */

static bool is_refused(size_t size)
{
    if (!is_counting)
        return false;
    allocations++;
    const bool too_large = refused_from > 0 && size >= refused_from;
    const bool refused = too_large || (failing > 0 && (fails_on ? allocations >= failing : allocations == failing));
    if (refused)
        errno = ENOMEM;
    return refused;
}

void *malloc(size_t size)
{
    return is_refused(size) ? NULL : __libc_malloc(size);
}

void *calloc(size_t count, size_t size)
{
    return is_refused(count * size) ? NULL : __libc_calloc(count, size);
}

void *realloc(void *block, size_t size)
{
    return is_refused(size) ? NULL : __libc_realloc(block, size);
}

void *aligned_alloc(size_t alignment, size_t size)
{
    return is_refused(size) ? NULL : __libc_memalign(alignment, size);
}

int posix_memalign(void **block, size_t alignment, size_t size)
{
    if (is_refused(size))
        return ENOMEM;
    *block = __libc_memalign(alignment, size);
    return *block ? 0 : ENOMEM;
}

/* ---- calls that end or crash the program themselves where an allocation of theirs fails: DEVELOPERS.md ---- */

static void *real_function(const char *name)
{
    void *real = dlsym(RTLD_NEXT, name);
    assert_non_null(real);
    return real;
}

ut_system *ut_read_xml(const char *path)
{
    ut_system *(*real)(const char *);
    const bool was_counting = is_counting;
    is_counting = false;
    *(void **)&real = real_function("ut_read_xml");
    ut_system *system = real(path);
    is_counting = was_counting;
    return system;
}

ut_unit *ut_parse(const ut_system *system, const char *string, const ut_encoding encoding)
{
    ut_unit *(*real)(const ut_system *, const char *, ut_encoding);
    if (is_refused(0)) /* where it does answer */
        return NULL;
    const bool was_counting = is_counting;
    is_counting = false;
    *(void **)&real = real_function("ut_parse");
    ut_unit *unit = real(system, string, encoding);
    is_counting = was_counting;
    return unit;
}

ut_unit *ut_divide(const ut_unit *numerator, const ut_unit *denominator)
{
    ut_unit *(*real)(const ut_unit *, const ut_unit *);
    const bool was_counting = is_counting;
    is_counting = false;
    *(void **)&real = real_function("ut_divide");
    ut_unit *unit = real(numerator, denominator);
    is_counting = was_counting;
    return unit;
}

cv_converter *ut_get_converter(ut_unit *const from, ut_unit *const to)
{
    cv_converter *(*real)(ut_unit *, ut_unit *);
    const bool was_counting = is_counting;
    is_counting = false;
    *(void **)&real = real_function("ut_get_converter");
    cv_converter *converter = real(from, to);
    is_counting = was_counting;
    return converter;
}

int fy_parser_set_string(struct fy_parser *parser, const char *string, size_t length)
{
    int (*real)(struct fy_parser *, const char *, size_t);
    const bool was_counting = is_counting;
    is_counting = false;
    *(void **)&real = real_function("fy_parser_set_string");
    const int flag = real(parser, string, length);
    is_counting = was_counting;
    return flag;
}

int SUNContext_Create(void *communicator, SUNContext *made_context)
{
    int (*real)(void *, SUNContext *);
    const bool was_counting = is_counting;
    is_counting = false;
    *(void **)&real = real_function("SUNContext_Create");
    const int flag = real(communicator, made_context);
    is_counting = was_counting;
    return flag;
}

SUNMatrix SUNMatClone(SUNMatrix matrix)
{
    SUNMatrix (*real)(SUNMatrix);
    const bool was_counting = is_counting;
    is_counting = false;
    *(void **)&real = real_function("SUNMatClone");
    SUNMatrix made = real(matrix);
    is_counting = was_counting;
    return made;
}

/* ---- the calls under test ---- */

static sw_context *context;
static sw_scenario_reader *reader;
static sw_scenario slab, section;
static sw_history *history;
static char folder[] = "/tmp/stallwright-memory-XXXXXX", file[128], made[128];

static const char text[] = "title: 'a short cook'\nmeat:\n  shape: packer\n  mass: 12 lb\n  probes:\n"
                           "    - {name: flat, along: 10 cm, up: 3 cm}\npit:\n  temperature:\n    - {from: 0 h, temperature: 110 C}\n"
                           "    - {from: 1h, temperature: 250 F}\n  lid: {openings: [1 h, 90 min]}\n"
                           "wrap: {kind: paper, when: 160 F, paper: {permeance: 2e-9 kg/s/m2/Pa}}\n"
                           "pull: 203 F\nrest: {until: 1h 30min}\nstall: {rate: 5 F/h}\n";

static sw_status cook(const sw_scenario *s)
{
    sw_history *h = NULL;
    sw_status status = sw_cook_run(context, s, NULL, NULL, &h);
    sw_history_destroy(h);
    return status;
}

static sw_status cook_slab(void)
{
    return cook(&slab);
}

static sw_status cook_section(void)
{
    return cook(&section);
}

static sw_status read_text(void)
{
    sw_scenario s;
    sw_scenario_init(&s);
    return sw_scenario_read_text(context, reader, "cook.yaml", text, sizeof text - 1, &s);
}

static sw_status set_value(void)
{
    sw_scenario s;
    sw_scenario_init(&s);
    return sw_scenario_set(context, reader, "pull=1h 20min", &s);
}

static sw_status write_results(void)
{
    const sw_history *h = history;
    return sw_results_write(context, made, 1, &h, NULL, NULL, true);
}

static sw_status read_results(void)
{
    sw_results *results = NULL;
    sw_status status = sw_results_read(context, file, &results);
    sw_results_destroy(results);
    return status;
}

static sw_status create_reader(void)
{
    sw_scenario_reader *own = NULL;
    sw_status status = sw_scenario_reader_create(context, &own);
    sw_scenario_reader_destroy(own);
    return status;
}

/* ---- the test ---- */

enum { ANSWERED = 0, WRONG = 10 };

/* In a child: the call with its n-th allocation failing. */
static int answer(sw_status (*call)(void), long number, bool and_all_after)
{
    failing = number;
    fails_on = and_all_after;
    allocations = 0;
    is_counting = true;
    const sw_status status = call();
    is_counting = false;
    if (status == SW_OK || (status == SW_ERR_MEMORY && strstr(sw_context_message(context), "memory")))
        return ANSWERED;
    fprintf(stderr, "allocation %ld%s: status %d, %s\n", number, and_all_after ? " and all after" : "", (int)status,
            sw_context_message(context));
    return WRONG;
}

static long count_allocations(sw_status (*call)(void))
{
    failing = 0;
    allocations = 0;
    is_counting = true;
    const sw_status status = call();
    is_counting = false;
    if (status != SW_OK)
        fail_msg("%s", sw_context_message(context));
    return allocations;
}

static void check_allocations(const char *name, sw_status (*call)(void))
{
    const long count = count_allocations(call);
    long tried = 0, wrong = 0;
    for (int and_all_after = 0; and_all_after < 2; and_all_after++)
        for (long number = 1; number <= count; number++) {
            int state = 0;
            const pid_t child = fork();
            assert_true(child >= 0);
            if (child == 0) {
                signal(SIGSEGV, SIG_DFL);
                signal(SIGABRT, SIG_DFL);
                _exit(answer(call, number, and_all_after));
            }
            assert_int_equal(waitpid(child, &state, 0), child);
            tried++;
            if (WIFEXITED(state) && WEXITSTATUS(state) == ANSWERED)
                continue;
            wrong++;
            print_error("  %s: allocation %ld%s: %s %d\n", name, number, and_all_after ? " and all after" : "",
                        WIFSIGNALED(state) ? "signal" : "exit", WIFSIGNALED(state) ? WTERMSIG(state) : WEXITSTATUS(state));
        }
    print_message("  %s: %ld allocations, %ld failures tried\n", name, count, tried);
    assert_int_equal(wrong, 0);
}

static void test_cooks(void **state)
{
    (void)state;
    check_allocations("a slab", cook_slab);
    check_allocations("a section", cook_section);
}

static void test_scenarios(void **state)
{
    (void)state;
    check_allocations("a reader", create_reader);
    check_allocations("one value", set_value);
    check_allocations("a scenario", read_text);
}

/* HDF5 crashes where its own allocations fail: it is not begun unless there is memory. */
static void test_results(void **state)
{
    (void)state;
    is_counting = true;
    refused_from = (size_t)24 << 20; /* more than the unit database asks for, less than HDF5 */
    failing = 0;
    const sw_status written = write_results(), read = read_results();
    is_counting = false;
    refused_from = 0;
    assert_int_equal(written, SW_ERR_MEMORY);
    assert_int_equal(read, SW_ERR_MEMORY);
    assert_non_null(strstr(sw_context_message(context), "memory"));
    assert_int_equal(access(made, F_OK), -1);
    assert_int_equal(write_results(), SW_OK); /* without provenance, as the header allows */
    assert_int_equal(read_results(), SW_OK);
}

static void make_scenarios(void)
{
    sw_scenario_init(&slab);
    slab.meat.initial_temperature = 303.15;
    slab.wrap.kind = SW_WRAP_OPEN_TRAY;
    slab.wrap.when = (sw_ending){SW_ENDING_DURATION, 360.0};
    slab.spritz.amount = 0.02;
    slab.spritz.from = 100.0;
    slab.pull = (sw_ending){SW_ENDING_DURATION, 720.0};
    slab.rest.until = slab.hold.until = (sw_ending){SW_ENDING_DURATION, 60.0};
    slab.rest.kind = SW_PLACE_BOX;
    slab.solver.cells = 10;
    slab.solver.rows = slab.solver.columns = 8;
    slab.solver.relative_tolerance = 1e-4;
    slab.solver.output_interval = slab.solver.field_interval = 20.0;
    section = slab;
    section.meat.shape = SW_SHAPE_PACKER;
    section.meat.fat_cap_thickness = 0.006;
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_cooks),
        cmocka_unit_test(test_scenarios),
        cmocka_unit_test(test_results),
    };
    make_scenarios();
    if (!mkdtemp(folder) || sw_context_create(&context) != SW_OK || sw_scenario_reader_create(context, &reader) != SW_OK ||
        sw_cook_run(context, &slab, NULL, NULL, &history) != SW_OK)
        return 1;
    snprintf(file, sizeof file, "%s/cook.h5", folder);
    snprintf(made, sizeof made, "%s/made.h5", folder);
    const sw_history *h = history;
    if (sw_results_write(context, file, 1, &h, NULL, &(sw_provenance){0}, false) != SW_OK) {
        fprintf(stderr, "%s\n", sw_context_message(context));
        return 1;
    }
    int failed = cmocka_run_group_tests(tests, NULL, NULL);
    unlink(file);
    unlink(made);
    rmdir(folder);
    sw_history_destroy(history);
    sw_scenario_reader_destroy(reader);
    sw_context_destroy(context);
    return failed;
}
