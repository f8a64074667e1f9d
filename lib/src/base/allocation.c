/* SPDX-License-Identifier: BSD-3-Clause */
#include <stallwright/memory.h>

/* The C library's functions by their own names: the header that stands before every source gives them others. */
#undef malloc
#undef calloc
#undef realloc
#undef free

static const sw_allocator of_c_library = {malloc, calloc, realloc, free};

/* Set before anything is allocated; then never changed. */
static sw_allocator used = {malloc, calloc, realloc, free};

sw_status sw_set_allocator(const sw_allocator *allocator)
{
    if (allocator && !(allocator->allocate && allocator->allocate_zeroed && allocator->reallocate && allocator->release))
        return SW_ERR_ARGUMENT;
    used = allocator ? *allocator : of_c_library;
    return SW_OK;
}

const sw_allocator *sw_allocator_used(void)
{
    return &used;
}

void *sw_allocate(size_t size)
{
    return used.allocate(size);
}

void *sw_allocate_zeroed(size_t count, size_t size)
{
    return used.allocate_zeroed(count, size);
}

void *sw_reallocate(void *block, size_t size)
{
    return used.reallocate(block, size);
}

void sw_release(void *block)
{
    used.release(block);
}

char *sw_copy_beginning(const char *text, size_t size)
{
    const char *end = memchr(text, '\0', size);
    const size_t length = end ? (size_t)(end - text) : size;
    char *copy = sw_allocate(length + 1);
    if (!copy)
        return NULL;
    memcpy(copy, text, length);
    copy[length] = '\0';
    return copy;
}

char *sw_copy_text(const char *text)
{
    return sw_copy_beginning(text, strlen(text));
}

char *sw_adopt_text(char *text)
{
    char *copy = sw_copy_text(text);
    free(text);
    return copy;
}
