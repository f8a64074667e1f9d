/* SPDX-License-Identifier: BSD-3-Clause */
/* All memory of the library, and of its module for HDF5, comes from the allocator it was given and goes back there. */
#include "close.h"

#include <stallwright/everything.h>

#include <pthread.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

/* Marks every block, so that one from elsewhere is known when it is given back. */
typedef union mark {
    struct {
        size_t size;
        unsigned long word;
    } of;
    max_align_t aligned;
} mark;

static const unsigned long own = 0x5354414CUL, gone = 0x474F4E45UL;
static pthread_mutex_t lock = PTHREAD_MUTEX_INITIALIZER;
static long taken, open_blocks, foreign;

static void count(long blocks)
{
    pthread_mutex_lock(&lock);
    taken += blocks > 0;
    open_blocks += blocks;
    pthread_mutex_unlock(&lock);
}

static void *take(size_t size)
{
    mark *block = malloc(sizeof *block + size);
    if (!block)
        return NULL;
    block->of.size = size;
    block->of.word = own;
    count(1);
    return block + 1;
}

static void *take_zeroed(size_t number, size_t size)
{
    void *block = take(number * size);
    return block ? memset(block, 0, number * size) : NULL;
}

static void give_back(void *given)
{
    mark *block = given;
    if (!given)
        return;
    block--;
    if (block->of.word != own) {
        foreign++;
        return;
    }
    block->of.word = gone;
    count(-1);
    free(block);
}

static void *take_again(void *given, size_t size)
{
    void *block = take(size);
    if (given && block) {
        const size_t before = ((mark *)given - 1)->of.size;
        memcpy(block, given, before < size ? before : size);
        give_back(given);
    }
    return block;
}

static void write_and_read(sw_context *context, const sw_history *history)
{
    char path[] = "/tmp/stallwright_memory_XXXXXX";
    const char *label = "paper";
    sw_results *results;
    const sw_provenance from = {"test", "test", "title: \"a test\"\n"};
    const int file = mkstemp(path);
    assert_true(file >= 0);
    close(file);
    assert_int_equal(sw_results_write(context, path, 1, &history, &label, &from, true), SW_OK);
    assert_int_equal(sw_results_read(context, path, &results), SW_OK);
    assert_int_equal(results->histories[0]->row_count, history->row_count);
    sw_results_destroy(results);
    unlink(path);
}

static void read_a_scenario(sw_context *context, sw_scenario *scenario)
{
    static const char text[] = "title: \"a test\"\nmeat: {mass: 14 lb, shape: slab}\npit: {temperature: 250 F}\nwrap: {kind: paper}\n";
    sw_scenario_reader *reader;
    assert_int_equal(sw_scenario_reader_create(context, &reader), SW_OK);
    assert_int_equal(sw_scenario_read_text(context, reader, "text", text, sizeof text - 1, scenario), SW_OK);
    assert_int_equal(sw_scenario_set(context, reader, "solver.cells=20", scenario), SW_OK);
    assert_int_equal(sw_scenario_set(context, reader, "pit.lid.openings=[2h, 3h]", scenario), SW_OK);
    assert_int_equal(sw_scenario_read_text(context, reader, "text", "meat: {mass: 5 miles}", 21, scenario), SW_ERR_INPUT);
    sw_scenario_reader_destroy(reader);
}

static void all_comes_from_the_allocator(void **state)
{
    (void)state;
    sw_context *context;
    sw_scenario scenario;
    sw_history *history;
    sw_setup *setup;
    sw_account *account;
    assert_int_equal(sw_context_create(&context), SW_OK);
    sw_scenario_init(&scenario);
    read_a_scenario(context, &scenario);
    const long before = taken;
    assert_int_equal(sw_cook_run(context, &scenario, NULL, NULL, &history), SW_OK);
    assert_true(taken > before + 50);
    write_and_read(context, history);
    sw_history_destroy(history);
    /* In two dimensions another solver. */
    scenario.meat.shape = SW_SHAPE_FLAT;
    scenario.solver.rows = 8;
    scenario.solver.columns = 10;
    assert_int_equal(sw_cook_run(context, &scenario, NULL, NULL, &history), SW_OK);
    sw_history_destroy(history);
    assert_int_equal(sw_setup_create(context, &setup), SW_OK);
    assert_int_equal(sw_setup_set_number(context, setup, "solver.cells", 20.0), SW_OK);
    assert_int_equal(sw_setup_explain(context, setup, &account), SW_OK);
    sw_account_destroy(account);
    sw_setup_destroy(setup);
    sw_context_destroy(context);
    assert_int_equal(foreign, 0);
    assert_int_equal(open_blocks, 0);
}

static void half_an_allocator_is_refused(void **state)
{
    (void)state;
    const sw_allocator half = {take, take_zeroed, NULL, give_back};
    const long before = taken;
    sw_context *context;
    assert_int_equal(sw_set_allocator(&half), SW_ERR_ARGUMENT);
    assert_int_equal(sw_context_create(&context), SW_OK);
    assert_true(taken > before);
    sw_context_destroy(context);
    assert_int_equal(sw_set_allocator(NULL), SW_OK);
    const long after = taken;
    assert_int_equal(sw_context_create(&context), SW_OK);
    assert_int_equal(taken, after);
    sw_context_destroy(context);
}

int main(void)
{
    static const sw_allocator all = {take, take_zeroed, take_again, give_back};
    const struct CMUnitTest tests[] = {cmocka_unit_test(all_comes_from_the_allocator), cmocka_unit_test(half_an_allocator_is_refused)};
    if (sw_set_allocator(&all) != SW_OK)
        return 1;
    return cmocka_run_group_tests(tests, NULL, NULL);
}
