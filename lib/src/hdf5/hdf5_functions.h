/* SPDX-License-Identifier: BSD-3-Clause */
/* HDF5 brings along libraries that take as long to load as a cook takes to run, so what sees it is a module of its own, loaded
 * by the first call that needs it. This is the list of its functions, for the table that the module hands over
 * (hdf5_module.c) and for those that pass calls on to it (hdf5_loader.c). */
#ifndef SW_IO_HDF5_FUNCTIONS_H
#define SW_IO_HDF5_FUNCTIONS_H

#include "hdf5_reader.h"
#include "hdf5_writer.h"

#include <stallwright/memory.h>

/* GIVES(type, name without sw_hdf5_, parameters, arguments); DOES the same without a type, for those that return nothing. */
#define SW_HDF5_FUNCTION_LIST(GIVES, DOES)                                                                               \
    DOES(fail, (sw_hdf5_writer * writer, const char *what, const char *why), (writer, what, why))                        \
    GIVES(sw_hdf5_object, group, (sw_hdf5_writer * writer, sw_hdf5_object parent, const char *name),                     \
          (writer, parent, name))                                                                                        \
    DOES(close, (sw_hdf5_object object), (object))                                                                       \
    DOES(text, (sw_hdf5_writer * writer, sw_hdf5_object object, const char *name, const char *text),                     \
         (writer, object, name, text))                                                                                   \
    DOES(number, (sw_hdf5_writer * writer, sw_hdf5_object object, const char *name, double value),                       \
         (writer, object, name, value))                                                                                  \
    DOES(count, (sw_hdf5_writer * writer, sw_hdf5_object object, const char *name, int64_t value),                       \
         (writer, object, name, value))                                                                                  \
    GIVES(sw_hdf5_axis, coordinate,                                                                                      \
          (sw_hdf5_writer * writer, sw_hdf5_object group, const char *name, size_t length, const double *values,         \
           const char *unit, const char *long_name),                                                                     \
          (writer, group, name, length, values, unit, long_name))                                                        \
    GIVES(sw_hdf5_axis, numbered,                                                                                        \
          (sw_hdf5_writer * writer, sw_hdf5_object group, const char *name, size_t length, const char *long_name),       \
          (writer, group, name, length, long_name))                                                                      \
    GIVES(sw_hdf5_axis, bare_axis,                                                                                       \
          (sw_hdf5_writer * writer, sw_hdf5_object group, const char *name, size_t length),                              \
          (writer, group, name, length))                                                                                 \
    GIVES(sw_hdf5_object, values,                                                                                        \
          (sw_hdf5_writer * writer, sw_hdf5_object group, const char *name, int rank, const sw_hdf5_axis *const *axes,   \
           const double *values, const char *unit, const char *long_name),                                               \
          (writer, group, name, rank, axes, values, unit, long_name))                                                    \
    DOES(dataset,                                                                                                        \
         (sw_hdf5_writer * writer, sw_hdf5_object group, const char *name, int rank, const sw_hdf5_axis *const *axes,    \
          const double *values, const char *unit, const char *long_name),                                                \
         (writer, group, name, rank, axes, values, unit, long_name))                                                     \
    DOES(bounds,                                                                                                         \
         (sw_hdf5_writer * writer, sw_hdf5_object group, const char *name, const sw_hdf5_axis *const *axes,              \
          const double *values),                                                                                         \
         (writer, group, name, axes, values))                                                                            \
    DOES(texts,                                                                                                          \
         (sw_hdf5_writer * writer, sw_hdf5_object group, const char *name, const sw_hdf5_axis *axis,                     \
          const char *const *texts, const char *long_name),                                                              \
         (writer, group, name, axis, texts, long_name))                                                                  \
    GIVES(sw_hdf5_object, reserve,                                                                                       \
          (sw_hdf5_writer * writer, sw_hdf5_object group, const char *name, int rank, const sw_hdf5_axis *const *axes,   \
           size_t chunk_rows, bool is_single, const char *unit, const char *long_name),                                  \
          (writer, group, name, rank, axes, chunk_rows, is_single, unit, long_name))                                     \
    GIVES(sw_hdf5_object, reserve_texts,                                                                                 \
          (sw_hdf5_writer * writer, sw_hdf5_object group, const char *name, const sw_hdf5_axis *axis, size_t chunk_rows, \
           const char *long_name),                                                                                       \
          (writer, group, name, axis, chunk_rows, long_name))                                                            \
    DOES(write_rows,                                                                                                     \
         (sw_hdf5_writer * writer, sw_hdf5_object set, size_t first, size_t count, const double *values),                \
         (writer, set, first, count, values))                                                                            \
    DOES(write_text_rows,                                                                                                \
         (sw_hdf5_writer * writer, sw_hdf5_object set, size_t first, size_t count, const char *const *texts),            \
         (writer, set, first, count, texts))                                                                             \
    DOES(refuse, (sw_hdf5_reader * reader, const char *why), (reader, why))                                              \
    GIVES(bool, is_good, (const sw_hdf5_reader *reader), (reader))                                                       \
    GIVES(bool, has_attribute, (sw_hdf5_reader * reader, sw_hdf5_object object, const char *name),                       \
          (reader, object, name))                                                                                        \
    GIVES(sw_hdf5_object, open, (sw_hdf5_reader * reader, sw_hdf5_object group, const char *name),                       \
          (reader, group, name))                                                                                         \
    GIVES(bool, has, (sw_hdf5_reader * reader, sw_hdf5_object group, const char *name), (reader, group, name))           \
    GIVES(char *, read_text, (sw_hdf5_reader * reader, sw_hdf5_object object, const char *attribute),                    \
          (reader, object, attribute))                                                                                   \
    GIVES(double, read_number, (sw_hdf5_reader * reader, sw_hdf5_object object, const char *attribute),                  \
          (reader, object, attribute))                                                                                   \
    GIVES(int64_t, read_count, (sw_hdf5_reader * reader, sw_hdf5_object object, const char *attribute),                  \
          (reader, object, attribute))                                                                                   \
    GIVES(size_t, read_size, (sw_hdf5_reader * reader, sw_hdf5_object group, const char *dataset),                       \
          (reader, group, dataset))                                                                                      \
    GIVES(double *, read_values,                                                                                         \
          (sw_hdf5_reader * reader, sw_hdf5_object group, const char *dataset, size_t count),                            \
          (reader, group, dataset, count))                                                                               \
    DOES(read_into,                                                                                                      \
         (sw_hdf5_reader * reader, sw_hdf5_object group, const char *dataset, size_t count, double *values),             \
         (reader, group, dataset, count, values))                                                                        \
    DOES(read_rows,                                                                                                      \
         (sw_hdf5_reader * reader, sw_hdf5_object group, const char *dataset, const sw_hdf5_rows *rows, double *values), \
         (reader, group, dataset, rows, values))                                                                         \
    DOES(read_text_rows,                                                                                                 \
         (sw_hdf5_reader * reader, sw_hdf5_object group, const char *dataset, const sw_hdf5_rows *rows, char **texts),   \
         (reader, group, dataset, rows, texts))                                                                          \
    DOES(read_texts,                                                                                                     \
         (sw_hdf5_reader * reader, sw_hdf5_object group, const char *dataset, size_t count, char **texts),               \
         (reader, group, dataset, count, texts))

typedef struct sw_hdf5_functions {
    const char *(*version)(void); /* of stallwright: another version's module is refused */
    sw_status (*set_allocator)(const sw_allocator *allocator); /* what it reads is given back by the library */
    sw_hdf5_building (*build)(int descriptor,
                              void (*fill)(sw_hdf5_writer *writer, sw_hdf5_object root, const void *data),
                              const void *data);
    sw_hdf5_reading (*read)(const char *path, void (*take)(sw_hdf5_reader *reader, sw_hdf5_object root, void *data),
                            void *data);
#define SW_HDF5_GIVES(type, name, parameters, arguments) type(*name) parameters;
#define SW_HDF5_DOES(name, parameters, arguments) void(*name) parameters;
    SW_HDF5_FUNCTION_LIST(SW_HDF5_GIVES, SW_HDF5_DOES)
#undef SW_HDF5_GIVES
#undef SW_HDF5_DOES
} sw_hdf5_functions;

#endif
