/* SPDX-License-Identifier: BSD-3-Clause */
/* Builds an HDF5 file by the rules that make netCDF readers take it as one of theirs: a dimension scale on
 * every axis, the order of links and attributes kept, texts as UTF-8 of variable length. hdf5_writer.c and hdf5_reader.c
 * are the only files that see HDF5.
 *
 * Once something fails the writer does nothing more, so calls need not be checked one by one; sw_hdf5_build says what
 * failed first. */
#ifndef SW_IO_HDF5_WRITER_H
#define SW_IO_HDF5_WRITER_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

typedef struct sw_hdf5_writer sw_hdf5_writer;

/* A group or dataset that is open; close it with sw_hdf5_close. Negative if it could not be made, which every function
 * here accepts. */
typedef int64_t sw_hdf5_object;

/* A dimension that datasets share. Close it with sw_hdf5_close(axis.scale). */
typedef struct sw_hdf5_axis {
    size_t length;
    sw_hdf5_object scale;
} sw_hdf5_axis;

typedef struct sw_hdf5_building {
    bool good;
    size_t size;       /* of the file */
    int disk_error;    /* else: the error number with which the disk refused more room, or 0 */
    bool no_memory;    /* or it failed for want of memory */
    char failure[256]; /* or what could not be written and why */
} sw_hdf5_building;

/* Builds a file: fill writes everything into it, starting from the root group. It is built in the empty file behind the
 * descriptor, open to read and write, which the caller keeps; memory does not grow with it.
 * HDF5 prints nothing meanwhile, and the caller's own setting of that is as before afterwards. */
sw_hdf5_building sw_hdf5_build(int descriptor,
                               void (*fill)(sw_hdf5_writer *writer, sw_hdf5_object root, const void *data),
                               const void *data);

/* Records that something could not be written; for want of memory if why is NULL. The first record stands. */
void sw_hdf5_fail(sw_hdf5_writer *writer, const char *what, const char *why);

sw_hdf5_object sw_hdf5_group(sw_hdf5_writer *writer, sw_hdf5_object parent, const char *name);
void sw_hdf5_close(sw_hdf5_object object);

/* Attributes of a group or dataset. A byte of text that is no UTF-8, as a file name may have, becomes U+FFFD. */
void sw_hdf5_text(sw_hdf5_writer *writer, sw_hdf5_object object, const char *name, const char *text);
void sw_hdf5_number(sw_hdf5_writer *writer, sw_hdf5_object object, const char *name, double value);
void sw_hdf5_count(sw_hdf5_writer *writer, sw_hdf5_object object, const char *name, int64_t value);

/* A dimension with coordinates: a dataset of its own name. Coordinates are never missing and have no fill value. */
sw_hdf5_axis sw_hdf5_coordinate(sw_hdf5_writer *writer, sw_hdf5_object group, const char *name, size_t length,
                                const double *values, const char *unit, const char *long_name);

/* The same with the coordinates 0, 1, 2, ... */
sw_hdf5_axis sw_hdf5_numbered(sw_hdf5_writer *writer, sw_hdf5_object group, const char *name, size_t length,
                              const char *long_name);

/* A dimension without coordinates, as netCDF writes it. */
sw_hdf5_axis sw_hdf5_bare_axis(sw_hdf5_writer *writer, sw_hdf5_object group, const char *name, size_t length);

/* A dataset of numbers over rank (0..2) axes, NaN where a number is missing. */
sw_hdf5_object sw_hdf5_values(sw_hdf5_writer *writer, sw_hdf5_object group, const char *name, int rank,
                              const sw_hdf5_axis *const *axes, const double *values, const char *unit,
                              const char *long_name);

/* The same, closed: for datasets that get no further attributes. */
void sw_hdf5_dataset(sw_hdf5_writer *writer, sw_hdf5_object group, const char *name, int rank,
                     const sw_hdf5_axis *const *axes, const double *values, const char *unit, const char *long_name);

/* The bounds of cells along the first of two axes; as CF has it they take unit and meaning from the axis, and are never missing. */
void sw_hdf5_bounds(sw_hdf5_writer *writer, sw_hdf5_object group, const char *name, const sw_hdf5_axis *const *axes,
                    const double *values);

/* A dataset of texts: one (axis NULL) or one for each step of the axis. */
void sw_hdf5_texts(sw_hdf5_writer *writer, sw_hdf5_object group, const char *name, const sw_hdf5_axis *axis,
                   const char *const *texts, const char *long_name);

/* Datasets that are written some rows of the first axis at a time; compressed, a chunk holding chunk_rows of them. The
 * numbers are kept as single precision if is_single. Close them with sw_hdf5_close. */
sw_hdf5_object sw_hdf5_reserve(sw_hdf5_writer *writer, sw_hdf5_object group, const char *name, int rank,
                               const sw_hdf5_axis *const *axes, size_t chunk_rows, bool is_single, const char *unit,
                               const char *long_name);
sw_hdf5_object sw_hdf5_reserve_texts(sw_hdf5_writer *writer, sw_hdf5_object group, const char *name,
                                     const sw_hdf5_axis *axis, size_t chunk_rows, const char *long_name);
void sw_hdf5_write_rows(sw_hdf5_writer *writer, sw_hdf5_object set, size_t first, size_t count, const double *values);
void sw_hdf5_write_text_rows(sw_hdf5_writer *writer, sw_hdf5_object set, size_t first, size_t count,
                             const char *const *texts);

/* Version of HDF5, for example "1.10.8". */
const char *sw_hdf5_version(void);

#endif
