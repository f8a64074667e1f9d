/* SPDX-License-Identifier: BSD-3-Clause */
/* Reads datasets and attributes of an HDF5 file that hdf5_writer.c, or anything else, wrote. hdf5_reader.c and
 * hdf5_writer.c are the only files that see HDF5.
 *
 * Once something fails the reader does nothing more: texts and values are then NULL and numbers 0, so calls need not be
 * checked one by one; sw_hdf5_read says what failed first. Whatever is allocated belongs to the caller (free). */
#ifndef SW_IO_HDF5_READER_H
#define SW_IO_HDF5_READER_H

#include "hdf5_writer.h"

typedef struct sw_hdf5_reader sw_hdf5_reader;

typedef struct sw_hdf5_reading {
    bool good;
    bool no_memory;    /* it failed for want of memory */
    char failure[256]; /* else: what is wrong with the file, as the second half of a sentence */
} sw_hdf5_reading;

/* Opens a file and lets take read what it wants, starting from the root group.
 * HDF5 prints nothing meanwhile, and the caller's own setting of that is as before afterwards. */
sw_hdf5_reading sw_hdf5_read(const char *path, void (*take)(sw_hdf5_reader *reader, sw_hdf5_object root, void *data),
                             void *data);

/* Records what is wrong with the file; for want of memory if why is NULL. The first record stands. */
void sw_hdf5_refuse(sw_hdf5_reader *reader, const char *why);
bool sw_hdf5_is_good(const sw_hdf5_reader *reader);

/* Whether a group or dataset has an attribute. */
bool sw_hdf5_has_attribute(sw_hdf5_reader *reader, sw_hdf5_object object, const char *name);

/* Opens a group or dataset; close it with sw_hdf5_close. */
sw_hdf5_object sw_hdf5_open(sw_hdf5_reader *reader, sw_hdf5_object group, const char *name);
bool sw_hdf5_has(sw_hdf5_reader *reader, sw_hdf5_object group, const char *name);

char *sw_hdf5_read_text(sw_hdf5_reader *reader, sw_hdf5_object object, const char *attribute);
double sw_hdf5_read_number(sw_hdf5_reader *reader, sw_hdf5_object object, const char *attribute);
int64_t sw_hdf5_read_count(sw_hdf5_reader *reader, sw_hdf5_object object, const char *attribute);

/* How many elements a dataset has, all axes together. */
size_t sw_hdf5_read_size(sw_hdf5_reader *reader, sw_hdf5_object group, const char *dataset);

/* A dataset of count numbers, or into room for them. */
double *sw_hdf5_read_values(sw_hdf5_reader *reader, sw_hdf5_object group, const char *dataset, size_t count);
void sw_hdf5_read_into(sw_hdf5_reader *reader, sw_hdf5_object group, const char *dataset, size_t count, double *values);

/* Some rows of a dataset of one axis (width 1) or two. */
typedef struct sw_hdf5_rows {
    size_t first, count, width;
} sw_hdf5_rows;

/* Those rows, into room for them: numbers, or texts of a dataset of one axis. */
void sw_hdf5_read_rows(sw_hdf5_reader *reader, sw_hdf5_object group, const char *dataset, const sw_hdf5_rows *rows,
                       double *values);
void sw_hdf5_read_text_rows(sw_hdf5_reader *reader, sw_hdf5_object group, const char *dataset, const sw_hdf5_rows *rows,
                            char **texts);

/* A dataset of count texts, into room for them. */
void sw_hdf5_read_texts(sw_hdf5_reader *reader, sw_hdf5_object group, const char *dataset, size_t count, char **texts);

#endif
