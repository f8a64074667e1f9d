/* SPDX-License-Identifier: BSD-3-Clause */
#include "hdf5_reader.h"

#include "file_checksum.h"

#include <hdf5.h>

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* A dataset of more elements is no result of a cook, and would ask for gigabytes. */
static const hssize_t elements_max = (hssize_t)1 << 27;

struct sw_hdf5_reader {
    sw_hdf5_reading *reading;
};

/* ---- failures ---- */

bool sw_hdf5_is_good(const sw_hdf5_reader *reader)
{
    return reader->reading->good;
}

void sw_hdf5_refuse(sw_hdf5_reader *reader, const char *why)
{
    sw_hdf5_reading *reading = reader->reading;
    if (!reading->good)
        return;
    reading->good = false;
    reading->no_memory = !why;
    snprintf(reading->failure, sizeof reading->failure, "%s", why ? why : "");
}

/* "it has no ..." or "its ... cannot be read", with the whole name of what is meant. */
static void refuse_part(sw_hdf5_reader *reader, sw_hdf5_object place, const char *name, const char *before,
                        const char *after)
{
    char group[100] = "", why[256];
    if (H5Iget_name(place, group, sizeof group) < 0)
        group[0] = '\0';
    snprintf(why, sizeof why, "%s \"%s%s%.60s\"%s", before, group, strcmp(group, "/") == 0 ? "" : "/", name, after);
    sw_hdf5_refuse(reader, why);
}

static void refuse_missing(sw_hdf5_reader *reader, sw_hdf5_object place, const char *name)
{
    refuse_part(reader, place, name, "it has no", "");
}

static void refuse_unreadable(sw_hdf5_reader *reader, sw_hdf5_object place, const char *name)
{
    refuse_part(reader, place, name, "its", " is damaged or of another kind than in a results file");
}

/* ---- groups and datasets ---- */

bool sw_hdf5_has(sw_hdf5_reader *reader, sw_hdf5_object group, const char *name)
{
    return sw_hdf5_is_good(reader) && H5Lexists(group, name, H5P_DEFAULT) > 0;
}

sw_hdf5_object sw_hdf5_open(sw_hdf5_reader *reader, sw_hdf5_object group, const char *name)
{
    if (!sw_hdf5_is_good(reader))
        return -1;
    if (!sw_hdf5_has(reader, group, name)) {
        refuse_missing(reader, group, name);
        return -1;
    }
    hid_t object = H5Oopen(group, name, H5P_DEFAULT);
    if (object < 0)
        refuse_unreadable(reader, group, name);
    return object;
}

/* Number of elements of an open dataset; -1 if that cannot be told. */
static hssize_t elements_of(hid_t set)
{
    hid_t space = H5Dget_space(set);
    hssize_t count = space < 0 ? -1 : H5Sget_simple_extent_npoints(space);
    if (space >= 0)
        H5Sclose(space);
    return count;
}

size_t sw_hdf5_read_size(sw_hdf5_reader *reader, sw_hdf5_object group, const char *dataset)
{
    hid_t set = sw_hdf5_open(reader, group, dataset);
    hssize_t count = set < 0 ? 0 : elements_of(set);
    if (set >= 0 && (count < 0 || count > elements_max))
        refuse_unreadable(reader, group, dataset);
    sw_hdf5_close(set);
    return sw_hdf5_is_good(reader) ? (size_t)count : 0;
}

void sw_hdf5_read_into(sw_hdf5_reader *reader, sw_hdf5_object group, const char *dataset, size_t count, double *values)
{
    hid_t set = sw_hdf5_open(reader, group, dataset);
    if (set < 0)
        return;
    if (elements_of(set) != (hssize_t)count ||
        H5Dread(set, H5T_NATIVE_DOUBLE, H5S_ALL, H5S_ALL, H5P_DEFAULT, values) < 0)
        refuse_unreadable(reader, group, dataset);
    sw_hdf5_close(set);
}

double *sw_hdf5_read_values(sw_hdf5_reader *reader, sw_hdf5_object group, const char *dataset, size_t count)
{
    if (!sw_hdf5_is_good(reader))
        return NULL;
    double *values = calloc(count ? count : 1, sizeof *values);
    if (!values)
        sw_hdf5_refuse(reader, NULL);
    else
        sw_hdf5_read_into(reader, group, dataset, count, values);
    if (!sw_hdf5_is_good(reader)) {
        free(values);
        return NULL;
    }
    return values;
}

/* ---- texts ---- */

static bool is_text(hid_t type)
{
    return H5Tget_class(type) == H5T_STRING && H5Tis_variable_str(type) > 0;
}

/* Puts a copy in the place of each text that HDF5 allocated. */
static void keep_copies(sw_hdf5_reader *reader, size_t count, char **texts)
{
    for (size_t i = 0; i < count; i++) {
        char *copy = strdup(texts[i] ? texts[i] : "");
        if (!copy)
            sw_hdf5_refuse(reader, NULL);
        H5free_memory(texts[i]);
        texts[i] = copy;
    }
}

static void forget(size_t count, char **texts)
{
    for (size_t i = 0; i < count; i++) {
        free(texts[i]);
        texts[i] = NULL;
    }
}

void sw_hdf5_read_texts(sw_hdf5_reader *reader, sw_hdf5_object group, const char *dataset, size_t count, char **texts)
{
    memset(texts, 0, count * sizeof *texts);
    hid_t set = sw_hdf5_open(reader, group, dataset);
    if (set < 0)
        return;
    hid_t type = H5Dget_type(set);
    if (!is_text(type) || elements_of(set) != (hssize_t)count ||
        H5Dread(set, type, H5S_ALL, H5S_ALL, H5P_DEFAULT, texts) < 0)
        refuse_unreadable(reader, group, dataset);
    keep_copies(reader, count, texts);
    if (!sw_hdf5_is_good(reader))
        forget(count, texts);
    if (type >= 0)
        H5Tclose(type);
    sw_hdf5_close(set);
}

/* ---- rows ---- */

/* An open dataset with its rows chosen in space; negative if it has not that many, or of another width. */
static hid_t open_rows(sw_hdf5_reader *reader, sw_hdf5_object group, const char *dataset, const sw_hdf5_rows *rows,
                       hid_t *space)
{
    hsize_t lengths[2] = {0, 1}, start[2] = {rows->first, 0}, counts[2] = {rows->count, rows->width};
    hid_t set = sw_hdf5_open(reader, group, dataset);
    *space = set < 0 ? -1 : H5Dget_space(set);
    const int rank = *space < 0 ? 0 : H5Sget_simple_extent_ndims(*space);
    if ((rank == 1 || rank == 2) && H5Sget_simple_extent_dims(*space, lengths, NULL) == rank &&
        lengths[0] >= rows->first + rows->count && lengths[1] == rows->width &&
        H5Sselect_hyperslab(*space, H5S_SELECT_SET, start, NULL, counts, NULL) >= 0)
        return set;
    refuse_unreadable(reader, group, dataset);
    if (*space >= 0)
        H5Sclose(*space);
    sw_hdf5_close(set);
    return -1;
}

static bool read_rows(hid_t set, hid_t space, const sw_hdf5_rows *rows, hid_t type, void *values)
{
    const hsize_t count = rows->count * rows->width;
    hid_t memory = H5Screate_simple(1, &count, NULL);
    const bool good = memory >= 0 && H5Dread(set, type, memory, space, H5P_DEFAULT, values) >= 0;
    if (memory >= 0)
        H5Sclose(memory);
    return good;
}

void sw_hdf5_read_rows(sw_hdf5_reader *reader, sw_hdf5_object group, const char *dataset, const sw_hdf5_rows *rows,
                       double *values)
{
    hid_t space, set = open_rows(reader, group, dataset, rows, &space);
    if (set < 0)
        return;
    if (!read_rows(set, space, rows, H5T_NATIVE_DOUBLE, values))
        refuse_unreadable(reader, group, dataset);
    H5Sclose(space);
    sw_hdf5_close(set);
}

void sw_hdf5_read_text_rows(sw_hdf5_reader *reader, sw_hdf5_object group, const char *dataset, const sw_hdf5_rows *rows,
                            char **texts)
{
    memset(texts, 0, rows->count * sizeof *texts);
    hid_t space, set = open_rows(reader, group, dataset, rows, &space);
    if (set < 0)
        return;
    hid_t type = H5Dget_type(set);
    if (!is_text(type) || !read_rows(set, space, rows, type, texts))
        refuse_unreadable(reader, group, dataset);
    keep_copies(reader, rows->count, texts);
    if (!sw_hdf5_is_good(reader))
        forget(rows->count, texts);
    if (type >= 0)
        H5Tclose(type);
    H5Sclose(space);
    sw_hdf5_close(set);
}

/* ---- attributes ---- */

bool sw_hdf5_has_attribute(sw_hdf5_reader *reader, sw_hdf5_object object, const char *name)
{
    return sw_hdf5_is_good(reader) && H5Aexists(object, name) > 0;
}

/* An attribute that is one element, open; negative if there is none. */
static hid_t open_attribute(sw_hdf5_reader *reader, sw_hdf5_object object, const char *name)
{
    if (!sw_hdf5_is_good(reader))
        return -1;
    if (!sw_hdf5_has_attribute(reader, object, name)) {
        refuse_missing(reader, object, name);
        return -1;
    }
    hid_t attribute = H5Aopen(object, name, H5P_DEFAULT), space = attribute < 0 ? -1 : H5Aget_space(attribute);
    if (space < 0 || H5Sget_simple_extent_npoints(space) != 1)
        refuse_unreadable(reader, object, name);
    if (space >= 0)
        H5Sclose(space);
    if (attribute >= 0 && !sw_hdf5_is_good(reader)) {
        H5Aclose(attribute);
        return -1;
    }
    return attribute;
}

char *sw_hdf5_read_text(sw_hdf5_reader *reader, sw_hdf5_object object, const char *attribute)
{
    char *text = NULL;
    hid_t found = open_attribute(reader, object, attribute);
    if (found < 0)
        return NULL;
    hid_t type = H5Aget_type(found);
    if (!is_text(type) || H5Aread(found, type, &text) < 0)
        refuse_unreadable(reader, object, attribute);
    keep_copies(reader, 1, &text);
    if (!sw_hdf5_is_good(reader))
        forget(1, &text);
    if (type >= 0)
        H5Tclose(type);
    H5Aclose(found);
    return text;
}

static void read_attribute(sw_hdf5_reader *reader, sw_hdf5_object object, const char *name, hid_t type, void *value)
{
    hid_t found = open_attribute(reader, object, name);
    if (found < 0)
        return;
    if (H5Aread(found, type, value) < 0)
        refuse_unreadable(reader, object, name);
    H5Aclose(found);
}

double sw_hdf5_read_number(sw_hdf5_reader *reader, sw_hdf5_object object, const char *attribute)
{
    double value = 0.0;
    read_attribute(reader, object, attribute, H5T_NATIVE_DOUBLE, &value);
    return value;
}

int64_t sw_hdf5_read_count(sw_hdf5_reader *reader, sw_hdf5_object object, const char *attribute)
{
    int64_t value = 0;
    read_attribute(reader, object, attribute, H5T_NATIVE_INT64, &value);
    return value;
}

/* ---- the file ---- */

/* Closing a file so opened closes all in it that is still open. */
static hid_t open_file(const char *path)
{
    hid_t access = H5Pcreate(H5P_FILE_ACCESS);
    H5Pset_fclose_degree(access, H5F_CLOSE_STRONG);
    hid_t file = H5Fopen(path, H5F_ACC_RDONLY, access);
    H5Pclose(access);
    return file;
}

static void read_file(sw_hdf5_reader *reader, const char *path,
                      void (*take)(sw_hdf5_reader *reader, sw_hdf5_object root, void *data), void *data)
{
    if (H5Fis_hdf5(path) <= 0) {
        sw_hdf5_refuse(reader, "it is no HDF5 file, or its beginning is damaged");
        return;
    }
    const char *complaint = sw_file_checksum_complaint(path);
    if (complaint) {
        sw_hdf5_refuse(reader, complaint);
        return;
    }
    hid_t file = open_file(path);
    hid_t root = file < 0 ? -1 : H5Gopen2(file, "/", H5P_DEFAULT);
    if (root < 0)
        sw_hdf5_refuse(reader, "it is damaged, or a part of it is missing");
    else
        take(reader, root, data);
    sw_hdf5_close(root);
    if (file >= 0)
        H5Fclose(file);
}

sw_hdf5_reading sw_hdf5_read(const char *path, void (*take)(sw_hdf5_reader *reader, sw_hdf5_object root, void *data),
                             void *data)
{
    sw_hdf5_reading reading = {.good = true};
    sw_hdf5_reader reader = {&reading};
    H5E_BEGIN_TRY
    {
        read_file(&reader, path, take, data);
    }
    H5E_END_TRY;
    return reading;
}
