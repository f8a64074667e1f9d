/* SPDX-License-Identifier: BSD-3-Clause */
/* What contexts keep for cooks to share: found again by its key alone, and there for as long as somebody holds it. */
#include "close.h"

#include "shelf.h"

#include <stdlib.h>

/* Something to share, which tells when it is gone. */
typedef struct thing {
    sw_shared shared;
    int *gone;
} thing;

static void destroy(sw_shared *shared)
{
    ++*((thing *)shared)->gone;
    free(shared);
}

static thing *make(int *gone)
{
    thing *t = malloc(sizeof *t);
    assert_non_null(t);
    sw_shared_begin(&t->shared, destroy);
    t->gone = gone;
    return t;
}

static void maker(void)
{
}

static int calls_of_another;

/* Of other code than the first: the linker might make one of two alike. */
static void another_maker(void)
{
    calls_of_another++;
}

static sw_shelf_key key_of(const int *number)
{
    return (sw_shelf_key){maker, number, sizeof *number};
}

static void test_kept_until_nobody_holds_it(void **state)
{
    (void)state;
    sw_context *context;
    assert_int_equal(sw_context_create(&context), SW_OK);
    int gone = 0;
    const int number = 7;
    const sw_shelf_key key = key_of(&number);
    thing *t = make(&gone);
    assert_null(sw_shelf_take(context, &key));
    sw_shelf_keep(context, &key, &t->shared);
    assert_ptr_equal(sw_shelf_take(context, &key), &t->shared);
    sw_shared_let_go(&t->shared);
    sw_shared_let_go(&t->shared);
    assert_int_equal(gone, 0); /* the shelf has it */
    assert_ptr_equal(sw_shelf_take(context, &key), &t->shared);
    sw_context_destroy(context);
    assert_int_equal(gone, 0); /* and now only who took it */
    sw_shared_let_go(&t->shared);
    assert_int_equal(gone, 1);
    sw_shared_let_go(NULL);
}

static void test_found_by_all_of_the_key(void **state)
{
    (void)state;
    sw_context *context, *other;
    assert_int_equal(sw_context_create(&context), SW_OK);
    assert_int_equal(sw_context_create(&other), SW_OK);
    int gone = 0;
    const int numbers[] = {1, 0};
    const sw_shelf_key key = key_of(&numbers[0]), of_other_bytes = key_of(&numbers[1]),
                       of_another = {another_maker, &numbers[0], sizeof numbers[0]}, longer = {maker, numbers, sizeof numbers};
    thing *t = make(&gone);
    sw_shelf_keep(context, &key, &t->shared);
    assert_null(sw_shelf_take(context, &of_other_bytes));
    assert_null(sw_shelf_take(context, &of_another));
    assert_null(sw_shelf_take(context, &longer));
    assert_null(sw_shelf_take(other, &key));
    assert_null(sw_shelf_take(NULL, &key));
    const int same = numbers[0];
    const sw_shelf_key elsewhere = key_of(&same);
    assert_ptr_equal(sw_shelf_take(context, &elsewhere), &t->shared);
    sw_shared_let_go(&t->shared);
    sw_shared_let_go(&t->shared);
    sw_context_destroy(context);
    sw_context_destroy(other);
    assert_int_equal(gone, 1);
}

static void test_nowhere_to_keep(void **state)
{
    (void)state;
    sw_context *context;
    assert_int_equal(sw_context_create(&context), SW_OK);
    static const char bytes[SW_SHELF_KEY_MAX + 1];
    const sw_shelf_key longest = {maker, bytes, SW_SHELF_KEY_MAX}, too_long = {maker, bytes, SW_SHELF_KEY_MAX + 1};
    int gone = 0;
    thing *t = make(&gone);
    sw_shelf_keep(NULL, &longest, &t->shared);
    sw_shelf_keep(context, &too_long, &t->shared);
    sw_shared_let_go(&t->shared);
    assert_int_equal(gone, 1);
    t = make(&gone);
    sw_shelf_keep(context, &longest, &t->shared);
    sw_shared_let_go(&t->shared);
    assert_int_equal(gone, 1);
    sw_context_destroy(context);
    assert_int_equal(gone, 2);
}

/* However many kinds of cooks there are, the memory stays bounded, and what came last is there. */
static void test_the_oldest_makes_room(void **state)
{
    (void)state;
    enum { MANY = 100 };
    sw_context *context;
    assert_int_equal(sw_context_create(&context), SW_OK);
    int gone = 0;
    for (int i = 0; i < MANY; i++) {
        const sw_shelf_key key = key_of(&i);
        thing *t = make(&gone);
        sw_shelf_keep(context, &key, &t->shared);
        sw_shared_let_go(&t->shared);
        assert_ptr_equal(sw_shelf_take(context, &key), &t->shared);
        sw_shared_let_go(&t->shared);
    }
    const int kept = MANY - gone;
    assert_in_range(kept, 6, MANY / 2); /* the tables of one cook at least */
    for (int i = 0; i < MANY; i++) {
        const sw_shelf_key key = key_of(&i);
        sw_shared *found = sw_shelf_take(context, &key);
        assert_int_equal(found != NULL, i >= MANY - kept);
        sw_shared_let_go(found);
    }
    sw_context_destroy(context);
    assert_int_equal(gone, MANY);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_kept_until_nobody_holds_it),
        cmocka_unit_test(test_found_by_all_of_the_key),
        cmocka_unit_test(test_nowhere_to_keep),
        cmocka_unit_test(test_the_oldest_makes_room),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
