/* SPDX-License-Identifier: BSD-3-Clause */
#include "hdf5_writer.h"

#include "file_checksum.h"
#include "typed_text.h"

#include <hdf5.h>
#include <hdf5_hl.h>

#include <errno.h>
#include <fcntl.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/mman.h>

enum { RANK_MAX = 2, COMPRESS_FROM = 512, CHUNK_MAX = 131072, DEFLATE_LEVEL = 4 };

_Static_assert(sizeof(sw_hdf5_object) >= sizeof(hid_t), "an object must hold an identifier of HDF5");

struct sw_hdf5_writer {
    bool failed;
    bool no_memory;
    char failure[256];
};

/* ---- failures ---- */

void sw_hdf5_fail(sw_hdf5_writer *writer, const char *what, const char *why)
{
    if (writer->failed)
        return;
    writer->failed = true;
    writer->no_memory = !why;
    snprintf(writer->failure, sizeof writer->failure, "HDF5 refused %.80s: %.150s", what, why ? why : "no memory");
}

typedef struct reason {
    bool no_memory;
    char text[160];
} reason;

static herr_t note_innermost(unsigned depth, const H5E_error2_t *error, void *data)
{
    reason *found = data;
    if (error->maj_num == H5E_RESOURCE && (error->min_num == H5E_NOSPACE || error->min_num == H5E_CANTALLOC))
        found->no_memory = true;
    if (depth == 0 && error->desc)
        snprintf(found->text, sizeof found->text, "%s", error->desc);
    return 0;
}

/* What HDF5 says about the call that has just failed; the next call to HDF5 would wipe it. */
static void fail_as_hdf5_says(sw_hdf5_writer *writer, const char *what)
{
    reason found = {false, ""};
    if (writer->failed)
        return;
    H5Ewalk2(H5E_DEFAULT, H5E_WALK_UPWARD, note_innermost, &found);
    sw_hdf5_fail(writer, what, found.no_memory ? NULL : found.text[0] ? found.text : "HDF5 gives no reason");
}

/* ---- property lists, types, attributes ---- */

/* Readers of netCDF ask for the order in which links and attributes were made. When they were made is left out, so that a file made
 * again is the same. */
static void keep_attribute_order(hid_t list)
{
    H5Pset_obj_track_times(list, false);
    H5Pset_attr_creation_order(list, H5P_CRT_ORDER_TRACKED | H5P_CRT_ORDER_INDEXED);
}

static void keep_link_order(hid_t list)
{
    H5Pset_link_creation_order(list, H5P_CRT_ORDER_TRACKED | H5P_CRT_ORDER_INDEXED);
}

static hid_t text_type(void)
{
    hid_t type = H5Tcopy(H5T_C_S1);
    H5Tset_size(type, H5T_VARIABLE);
    H5Tset_cset(type, H5T_CSET_UTF8);
    return type;
}

static void put_attribute(sw_hdf5_writer *writer, hid_t object, const char *name, hid_t file_type, hid_t memory_type,
                          const void *value)
{
    if (writer->failed)
        return;
    hid_t space = H5Screate(H5S_SCALAR);
    hid_t attribute = H5Acreate2(object, name, file_type, space, H5P_DEFAULT, H5P_DEFAULT);
    if (attribute < 0 || H5Awrite(attribute, memory_type, value) < 0)
        fail_as_hdf5_says(writer, name);
    if (attribute >= 0)
        H5Aclose(attribute);
    H5Sclose(space);
}

/* A copy with U+FFFD in place of every byte that is no UTF-8; the caller frees it. NULL without memory. */
static char *copy_as_utf8(const char *text)
{
    static const char stand_in[] = "\xEF\xBF\xBD";
    size_t length = strlen(text), used = 0;
    char *copy = malloc(length * (sizeof stand_in - 1) + 1);
    for (size_t i = 0; copy && i < length;) {
        uint32_t character;
        size_t size = sw_utf8_decode(text + i, length - i, &character);
        memcpy(copy + used, size ? text + i : stand_in, size ? size : sizeof stand_in - 1);
        used += size ? size : sizeof stand_in - 1;
        i += size ? size : 1;
    }
    if (copy)
        copy[used] = '\0';
    return copy;
}

void sw_hdf5_text(sw_hdf5_writer *writer, sw_hdf5_object object, const char *name, const char *text)
{
    char *copy = copy_as_utf8(text);
    hid_t type = text_type();
    if (!copy)
        sw_hdf5_fail(writer, name, NULL);
    put_attribute(writer, object, name, type, type, &copy);
    H5Tclose(type);
    free(copy);
}

void sw_hdf5_number(sw_hdf5_writer *writer, sw_hdf5_object object, const char *name, double value)
{
    put_attribute(writer, object, name, H5T_IEEE_F64LE, H5T_NATIVE_DOUBLE, &value);
}

void sw_hdf5_count(sw_hdf5_writer *writer, sw_hdf5_object object, const char *name, int64_t value)
{
    put_attribute(writer, object, name, H5T_STD_I64LE, H5T_NATIVE_INT64, &value);
}

/* ---- groups and datasets ---- */

sw_hdf5_object sw_hdf5_group(sw_hdf5_writer *writer, sw_hdf5_object parent, const char *name)
{
    if (writer->failed)
        return -1;
    hid_t list = H5Pcreate(H5P_GROUP_CREATE);
    keep_link_order(list);
    keep_attribute_order(list);
    hid_t group = H5Gcreate2(parent, name, H5P_DEFAULT, list, H5P_DEFAULT);
    if (group < 0)
        fail_as_hdf5_says(writer, name);
    H5Pclose(list);
    return group;
}

void sw_hdf5_close(sw_hdf5_object object)
{
    if (object >= 0)
        H5Oclose(object);
}

static void compress_if_large(hid_t list, int rank, const hsize_t *lengths)
{
    hsize_t elements = 1, chunk[RANK_MAX];
    for (int i = 0; i < rank; i++) {
        elements *= lengths[i];
        chunk[i] = lengths[i];
    }
    if (rank == 0 || elements < COMPRESS_FROM)
        return;
    for (; elements > CHUNK_MAX && chunk[0] > 1; elements = chunk[0] * (rank == 2 ? chunk[1] : 1))
        chunk[0] = (chunk[0] + 1) / 2;
    H5Pset_chunk(list, rank, chunk);
    H5Pset_shuffle(list);
    H5Pset_deflate(list, DEFLATE_LEVEL);
}

/* Makes a dataset and writes it, unless values is NULL; attributes are left to the caller. */
static hid_t put_dataset(sw_hdf5_writer *writer, hid_t group, const char *name, int rank, const hsize_t *lengths,
                         hid_t list, hid_t access, hid_t file_type, hid_t memory_type, const void *values)
{
    if (writer->failed)
        return -1;
    hid_t space = rank == 0 ? H5Screate(H5S_SCALAR) : H5Screate_simple(rank, lengths, NULL);
    keep_attribute_order(list);
    hid_t set = H5Dcreate2(group, name, file_type, space, H5P_DEFAULT, list, access);
    if (set < 0 || (values && H5Dwrite(set, memory_type, H5S_ALL, H5S_ALL, H5P_DEFAULT, values) < 0))
        fail_as_hdf5_says(writer, name);
    H5Sclose(space);
    return set;
}

static void attach_axes(sw_hdf5_writer *writer, hid_t set, const char *name, int rank, const sw_hdf5_axis *const *axes)
{
    for (int i = 0; i < rank && !writer->failed; i++)
        if (H5DSattach_scale(set, axes[i]->scale, (unsigned)i) < 0)
            fail_as_hdf5_says(writer, name);
}

sw_hdf5_object sw_hdf5_values(sw_hdf5_writer *writer, sw_hdf5_object group, const char *name, int rank,
                              const sw_hdf5_axis *const *axes, const double *values, const char *unit,
                              const char *long_name)
{
    const double missing = NAN;
    hsize_t lengths[RANK_MAX] = {0};
    if (!values)
        sw_hdf5_fail(writer, name, "there are no values");
    for (int i = 0; i < rank; i++)
        lengths[i] = axes[i]->length;
    hid_t list = H5Pcreate(H5P_DATASET_CREATE);
    H5Pset_fill_value(list, H5T_NATIVE_DOUBLE, &missing);
    compress_if_large(list, rank, lengths);
    hid_t set = put_dataset(writer, group, name, rank, lengths, list, H5P_DEFAULT, H5T_IEEE_F64LE,
                            H5T_NATIVE_DOUBLE, values);
    sw_hdf5_text(writer, set, "units", unit);
    sw_hdf5_text(writer, set, "long_name", long_name);
    sw_hdf5_number(writer, set, "_FillValue", missing);
    attach_axes(writer, set, name, rank, axes);
    H5Pclose(list);
    return set;
}

void sw_hdf5_dataset(sw_hdf5_writer *writer, sw_hdf5_object group, const char *name, int rank,
                     const sw_hdf5_axis *const *axes, const double *values, const char *unit, const char *long_name)
{
    sw_hdf5_close(sw_hdf5_values(writer, group, name, rank, axes, values, unit, long_name));
}

void sw_hdf5_bounds(sw_hdf5_writer *writer, sw_hdf5_object group, const char *name, const sw_hdf5_axis *const *axes,
                    const double *values)
{
    const hsize_t lengths[] = {axes[0]->length, axes[1]->length};
    if (!values)
        sw_hdf5_fail(writer, name, "there are no values");
    hid_t list = H5Pcreate(H5P_DATASET_CREATE);
    compress_if_large(list, 2, lengths);
    hid_t set = put_dataset(writer, group, name, 2, lengths, list, H5P_DEFAULT, H5T_IEEE_F64LE, H5T_NATIVE_DOUBLE, values);
    attach_axes(writer, set, name, 2, axes);
    sw_hdf5_close(set);
    H5Pclose(list);
}

void sw_hdf5_texts(sw_hdf5_writer *writer, sw_hdf5_object group, const char *name, const sw_hdf5_axis *axis,
                   const char *const *texts, const char *long_name)
{
    hsize_t length = axis ? axis->length : 1;
    hid_t type = text_type(), list = H5Pcreate(H5P_DATASET_CREATE);
    hid_t set = put_dataset(writer, group, name, axis ? 1 : 0, &length, list, H5P_DEFAULT, type, type, texts);
    sw_hdf5_text(writer, set, "long_name", long_name);
    attach_axes(writer, set, name, axis ? 1 : 0, &axis);
    sw_hdf5_close(set);
    H5Pclose(list);
    H5Tclose(type);
}

/* ---- datasets written row by row ---- */

static hid_t reserve(sw_hdf5_writer *writer, hid_t group, const char *name, int rank, const sw_hdf5_axis *const *axes,
                     size_t chunk_rows, hid_t list, hid_t type)
{
    hsize_t lengths[RANK_MAX] = {0}, chunk[RANK_MAX] = {0};
    for (int i = 0; i < rank; i++)
        chunk[i] = lengths[i] = axes[i]->length;
    if (chunk[0] > chunk_rows)
        chunk[0] = chunk_rows;
    H5Pset_chunk(list, rank, chunk);
    H5Pset_shuffle(list);
    H5Pset_deflate(list, DEFLATE_LEVEL);
    /* Rows come in their order, so one chunk is all that need be kept; by default each dataset keeps a mebibyte of them. */
    size_t bytes = H5Tget_size(type);
    for (int i = 0; i < rank; i++)
        bytes *= (size_t)chunk[i];
    hid_t access = H5Pcreate(H5P_DATASET_ACCESS);
    H5Pset_chunk_cache(access, 1, bytes, 1.0);
    hid_t set = put_dataset(writer, group, name, rank, lengths, list, access, type, type, NULL);
    H5Pclose(access);
    H5Pclose(list);
    return set;
}

sw_hdf5_object sw_hdf5_reserve(sw_hdf5_writer *writer, sw_hdf5_object group, const char *name, int rank,
                               const sw_hdf5_axis *const *axes, size_t chunk_rows, bool is_single, const char *unit,
                               const char *long_name)
{
    const double missing = NAN;
    const float missing_single = NAN;
    hid_t list = H5Pcreate(H5P_DATASET_CREATE);
    H5Pset_fill_value(list, H5T_NATIVE_DOUBLE, &missing);
    hid_t set = reserve(writer, group, name, rank, axes, chunk_rows, list, is_single ? H5T_IEEE_F32LE : H5T_IEEE_F64LE);
    sw_hdf5_text(writer, set, "units", unit);
    sw_hdf5_text(writer, set, "long_name", long_name);
    /* Readers want the fill value in the type of the numbers. */
    if (is_single)
        put_attribute(writer, set, "_FillValue", H5T_IEEE_F32LE, H5T_NATIVE_FLOAT, &missing_single);
    else
        sw_hdf5_number(writer, set, "_FillValue", missing);
    attach_axes(writer, set, name, rank, axes);
    return set;
}

sw_hdf5_object sw_hdf5_reserve_texts(sw_hdf5_writer *writer, sw_hdf5_object group, const char *name,
                                     const sw_hdf5_axis *axis, size_t chunk_rows, const char *long_name)
{
    hid_t type = text_type();
    hid_t set = reserve(writer, group, name, 1, &axis, chunk_rows, H5Pcreate(H5P_DATASET_CREATE), type);
    sw_hdf5_text(writer, set, "long_name", long_name);
    attach_axes(writer, set, name, 1, &axis);
    H5Tclose(type);
    return set;
}

static void write_rows(sw_hdf5_writer *writer, hid_t set, hid_t type, size_t first, size_t count, const void *values)
{
    if (writer->failed)
        return;
    hsize_t start[RANK_MAX] = {first}, lengths[RANK_MAX] = {0};
    hid_t space = H5Dget_space(set);
    int rank = H5Sget_simple_extent_dims(space, lengths, NULL);
    lengths[0] = count;
    hid_t memory = H5Screate_simple(rank, lengths, NULL);
    if (H5Sselect_hyperslab(space, H5S_SELECT_SET, start, NULL, lengths, NULL) < 0 ||
        H5Dwrite(set, type, memory, space, H5P_DEFAULT, values) < 0)
        fail_as_hdf5_says(writer, "rows of a dataset");
    H5Sclose(memory);
    H5Sclose(space);
}

void sw_hdf5_write_rows(sw_hdf5_writer *writer, sw_hdf5_object set, size_t first, size_t count, const double *values)
{
    write_rows(writer, set, H5T_NATIVE_DOUBLE, first, count, values);
}

void sw_hdf5_write_text_rows(sw_hdf5_writer *writer, sw_hdf5_object set, size_t first, size_t count,
                             const char *const *texts)
{
    hid_t type = text_type();
    write_rows(writer, set, type, first, count, texts);
    H5Tclose(type);
}

/* ---- axes ---- */

static void make_scale(sw_hdf5_writer *writer, hid_t set, const char *name, const char *scale_name)
{
    if (!writer->failed && H5DSset_scale(set, scale_name) < 0)
        fail_as_hdf5_says(writer, name);
}

sw_hdf5_axis sw_hdf5_coordinate(sw_hdf5_writer *writer, sw_hdf5_object group, const char *name, size_t length,
                                const double *values, const char *unit, const char *long_name)
{
    hsize_t lengths[] = {length};
    if (!values)
        sw_hdf5_fail(writer, name, "there are no values");
    hid_t list = H5Pcreate(H5P_DATASET_CREATE);
    compress_if_large(list, 1, lengths);
    sw_hdf5_axis axis = {length, put_dataset(writer, group, name, 1, lengths, list, H5P_DEFAULT, H5T_IEEE_F64LE,
                                             H5T_NATIVE_DOUBLE, values)};
    sw_hdf5_text(writer, axis.scale, "units", unit);
    sw_hdf5_text(writer, axis.scale, "long_name", long_name);
    make_scale(writer, axis.scale, name, name);
    H5Pclose(list);
    return axis;
}

sw_hdf5_axis sw_hdf5_numbered(sw_hdf5_writer *writer, sw_hdf5_object group, const char *name, size_t length,
                              const char *long_name)
{
    double *numbers = malloc((length ? length : 1) * sizeof *numbers);
    if (!numbers)
        sw_hdf5_fail(writer, name, NULL);
    for (size_t i = 0; numbers && i < length; i++)
        numbers[i] = (double)i;
    sw_hdf5_axis axis = sw_hdf5_coordinate(writer, group, name, length, numbers, "1", long_name);
    free(numbers);
    return axis;
}

sw_hdf5_axis sw_hdf5_bare_axis(sw_hdf5_writer *writer, sw_hdf5_object group, const char *name, size_t length)
{
    char scale_name[80];
    hsize_t lengths[] = {length};
    hid_t list = H5Pcreate(H5P_DATASET_CREATE);
    sw_hdf5_axis axis = {length, put_dataset(writer, group, name, 1, lengths, list, H5P_DEFAULT, H5T_IEEE_F32BE,
                                             H5T_NATIVE_FLOAT, NULL)};
    /* By this text readers of netCDF know that the dataset is no variable. */
    snprintf(scale_name, sizeof scale_name, "This is a netCDF dimension but not a netCDF variable.%10zu", length);
    make_scale(writer, axis.scale, name, scale_name);
    H5Pclose(list);
    return axis;
}

/* ---- the file ---- */

/* HDF5 1.10 cannot close a file whose disk has become full, and then crashes when the program ends. So it is made to build
 * the file in memory, and that memory is a mapped file, whose room on the disk is taken before it grows. Once the disk
 * refuses, what HDF5 still needs to close the file is memory that belongs to no file. Mapping anew at each growth gives back
 * the pages that are filled. */
typedef struct mapped_file {
    sw_hdf5_writer *writer;
    int descriptor;
    void *bytes;     /* NULL while nothing is mapped */
    size_t size;     /* of what is mapped */
    size_t reserved; /* how much of it is the file */
    int error;       /* of the disk, 0 for none */
} mapped_file;

/* The file grows so much at once, a multiple of HDF5's own step. */
static const size_t growth = (size_t)1 << 16;

static void stop_at(mapped_file *file, int error)
{
    file->error = error;
    sw_hdf5_fail(file->writer, "the file", strerror(error));
}

static void reserve_room(mapped_file *file, size_t size)
{
    if (file->error != 0)
        return;
    int error = posix_fallocate(file->descriptor, (off_t)file->reserved, (off_t)(size - file->reserved));
    if (error == 0)
        file->reserved = size;
    else
        stop_at(file, error);
}

/* Puts the file over the beginning of new memory. Returns 0 or -1. */
static int lay_file_over(mapped_file *file, void *bytes)
{
    if (file->reserved == 0 || mmap(bytes, file->reserved, PROT_READ | PROT_WRITE, MAP_SHARED | MAP_FIXED, file->descriptor,
                                    0) != MAP_FAILED)
        return 0;
    if (file->bytes)
        return -1;
    /* Not every file system can map files. */
    stop_at(file, errno);
    file->reserved = 0;
    return 0;
}

/* NULL, with what is mapped as it was, if the memory has no room. */
static void *map(mapped_file *file, size_t size)
{
    if (size <= file->size)
        return file->bytes;
    size = (size + growth - 1) / growth * growth;
    reserve_room(file, size);
    char *bytes = mmap(NULL, size, PROT_READ | PROT_WRITE, MAP_PRIVATE | MAP_ANONYMOUS, -1, 0);
    if (bytes == MAP_FAILED)
        return NULL;
    if (lay_file_over(file, bytes) != 0) {
        munmap(bytes, size);
        return NULL;
    }
    if (file->bytes)
        munmap(file->bytes, file->size);
    file->bytes = bytes;
    file->size = size;
    return bytes;
}

static void *image_allocate(size_t size, H5FD_file_image_op_t operation, void *data)
{
    (void)operation;
    return map(data, size);
}

static void *image_copy(void *to, const void *from, size_t size, H5FD_file_image_op_t operation, void *data)
{
    (void)operation;
    (void)data;
    return memcpy(to, from, size);
}

static void *image_resize(void *bytes, size_t size, H5FD_file_image_op_t operation, void *data)
{
    (void)bytes;
    (void)operation;
    return map(data, size);
}

static herr_t image_release(void *bytes, H5FD_file_image_op_t operation, void *data)
{
    mapped_file *file = data;
    (void)operation;
    if (bytes == file->bytes && bytes) {
        munmap(bytes, file->size);
        file->bytes = NULL;
    }
    return 0;
}

static void *image_share(void *data)
{
    return data;
}

static herr_t image_unshare(void *data)
{
    (void)data;
    return 0;
}

static hid_t create_file(mapped_file *file)
{
    /* The file's end is rounded up to a multiple of this. */
    const size_t step = 4096;
    H5FD_file_image_callbacks_t callbacks = {image_allocate, image_copy,    image_resize, image_release,
                                             image_share,    image_unshare, file};
    hid_t access = H5Pcreate(H5P_FILE_ACCESS), list = H5Pcreate(H5P_FILE_CREATE);
    H5Pset_fapl_core(access, step, false);
    H5Pset_file_image_callbacks(access, &callbacks);
    /* 1.8 keeps the order of attributes and stays readable by old tools. */
    H5Pset_libver_bounds(access, H5F_LIBVER_V18, H5F_LIBVER_V18);
    H5Pset_fclose_degree(access, H5F_CLOSE_STRONG);
    keep_link_order(list);
    keep_attribute_order(list);
    hid_t id = H5Fcreate("in memory", H5F_ACC_TRUNC, list, access);
    H5Pclose(access);
    H5Pclose(list);
    return id;
}

/* What HDF5 gives while the file is open has a checksum that readers refuse: it is finished when it is closed. */
static void finish_file(sw_hdf5_writer *writer, hid_t file, sw_hdf5_building *building)
{
    hsize_t size = 0;
    if (!writer->failed && H5Fget_obj_count(file, H5F_OBJ_ALL) != 1)
        sw_hdf5_fail(writer, "the end of the file", "something in it is still open");
    if (H5Fflush(file, H5F_SCOPE_GLOBAL) < 0 || H5Fget_filesize(file, &size) < 0)
        fail_as_hdf5_says(writer, "the whole file");
    if (H5Fclose(file) < 0)
        fail_as_hdf5_says(writer, "the end of the file");
    building->size = (size_t)size;
}

static void append_checksum(sw_hdf5_writer *writer, mapped_file *mapped, sw_hdf5_building *building)
{
    if (writer->failed)
        return;
    int error = sw_file_checksum_append(mapped->descriptor, building->size);
    if (error)
        stop_at(mapped, error);
    building->size += SW_CHECKSUM_SIZE;
}

static void build(sw_hdf5_writer *writer, mapped_file *mapped, sw_hdf5_building *building,
                  void (*fill)(sw_hdf5_writer *writer, sw_hdf5_object root, const void *data), const void *data)
{
    hid_t file = create_file(mapped);
    if (file < 0) {
        fail_as_hdf5_says(writer, "the start of the file");
        return;
    }
    hid_t root = H5Gopen2(file, "/", H5P_DEFAULT);
    if (root < 0)
        fail_as_hdf5_says(writer, "the start of the file");
    else
        fill(writer, root, data);
    sw_hdf5_close(root);
    finish_file(writer, file, building);
    append_checksum(writer, mapped, building);
}

sw_hdf5_building sw_hdf5_build(int descriptor,
                               void (*fill)(sw_hdf5_writer *writer, sw_hdf5_object root, const void *data),
                               const void *data)
{
    sw_hdf5_writer writer = {0};
    sw_hdf5_building building = {0};
    mapped_file mapped = {.writer = &writer, .descriptor = descriptor};
    H5E_BEGIN_TRY
    {
        build(&writer, &mapped, &building, fill, data);
    }
    H5E_END_TRY;
    if (mapped.bytes)
        munmap(mapped.bytes, mapped.size);
    building.good = !writer.failed;
    building.disk_error = mapped.error;
    building.no_memory = writer.no_memory;
    memcpy(building.failure, writer.failure, sizeof building.failure);
    return building;
}
