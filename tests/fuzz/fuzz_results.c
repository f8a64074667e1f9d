/* SPDX-License-Identifier: BSD-3-Clause */
/* Results files. Changed bytes are stopped by the checksum (tests/unit/test_results_reader.c), so the input says how to change
 * what a good file holds, by HDF5 itself and with a checksum that is right: six bytes and a number for each change. Without a whole
 * change the input is the file. */
#include "fuzz.h"

#include "file_checksum.h"

#include <stallwright/results_file.h>

#include <hdf5.h>

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

enum { NAMES_MAX = 1024, NAME_SIZE = 128 };

static char path[] = "/tmp/sw_fuzz_results_XXXXXX";
static unsigned char *good;
static size_t good_size;
static char names[NAMES_MAX][NAME_SIZE];
static size_t name_count;

typedef struct change {
    unsigned char kind, which_high, which_low, place_high, place_low, length;
    double number;
} change;

enum { CHANGE_SIZE = 6 + sizeof(double) };

/* ---- a good file ---- */

static herr_t note_dataset(hid_t root, const char *name, const H5O_info_t *about, void *data)
{
    (void)root;
    (void)data;
    if (about->type == H5O_TYPE_DATASET && name_count < NAMES_MAX)
        snprintf(names[name_count++], NAME_SIZE, "%s", name);
    return 0;
}

static void write_good_file(void)
{
    static sw_scenario s;
    const sw_provenance from = {0};
    sw_history *history;
    sw_scenario_init(&s);
    s.solver.relative_tolerance = 1e-3;
    s.solver.cells = 12;
    s.wrap.kind = SW_WRAP_PAPER;
    fuzz_require(sw_cook_run(fuzz_context(), &s, NULL, NULL, &history) == SW_OK, "a quick cook runs");
    const sw_history *const histories[] = {history};
    fuzz_require(sw_results_write(fuzz_context(), path, 1, histories, NULL, &from, true) == SW_OK,
                 "its results can be written");
    sw_history_destroy(history);
}

static void remove_file(void)
{
    unlink(path);
}

/* What is there before the first input. */
static void prepare(void)
{
    struct stat about;
    int descriptor = mkstemp(path);
    fuzz_require(descriptor >= 0, "there is room for a file");
    close(descriptor);
    atexit(remove_file);
    write_good_file();
    FILE *file = fopen(path, "rb");
    fuzz_require(file && stat(path, &about) == 0, "the results file is there");
    good_size = (size_t)about.st_size;
    good = malloc(good_size);
    fuzz_require(good && fread(good, 1, good_size, file) == good_size, "the results file can be read");
    fclose(file);
    hid_t id = H5Fopen(path, H5F_ACC_RDONLY, H5P_DEFAULT);
    H5Ovisit(id, H5_INDEX_NAME, H5_ITER_INC, note_dataset, NULL);
    H5Fclose(id);
    fuzz_require(name_count > 100, "a results file holds datasets");
}

static void put_file(const void *bytes, size_t size)
{
    FILE *file = fopen(path, "wb");
    fuzz_require(file && fwrite(bytes, 1, size, file) == size && fclose(file) == 0, "the file can be written");
}

/* ---- changes ---- */

static void change_element(hid_t file, const char *name, const change *c)
{
    hid_t set = H5Dopen2(file, name, H5P_DEFAULT), space = H5Dget_space(set), type = H5Dget_type(set);
    hssize_t count = H5Sget_simple_extent_npoints(space);
    double *values = count > 0 && H5Tget_class(type) == H5T_FLOAT ? calloc((size_t)count, sizeof *values) : NULL;
    if (values && H5Dread(set, H5T_NATIVE_DOUBLE, H5S_ALL, H5S_ALL, H5P_DEFAULT, values) >= 0) {
        values[(size_t)(c->place_high << 8 | c->place_low) % (size_t)count] = c->number;
        H5Dwrite(set, H5T_NATIVE_DOUBLE, H5S_ALL, H5S_ALL, H5P_DEFAULT, values);
    }
    free(values);
    H5Tclose(type);
    H5Sclose(space);
    H5Dclose(set);
}

static void put_numbers(hid_t file, const char *name, const change *c)
{
    hsize_t count = c->length;
    double values[256];
    for (size_t i = 0; i < 256; i++)
        values[i] = c->number + (c->place_low & 1 ? (double)i : 0.0);
    H5Ldelete(file, name, H5P_DEFAULT);
    hid_t space = H5Screate_simple(1, &count, NULL);
    hid_t set = H5Dcreate2(file, name, H5T_NATIVE_DOUBLE, space, H5P_DEFAULT, H5P_DEFAULT, H5P_DEFAULT);
    H5Dwrite(set, H5T_NATIVE_DOUBLE, H5S_ALL, H5S_ALL, H5P_DEFAULT, values);
    H5Dclose(set);
    H5Sclose(space);
}

static hid_t create_text_type(void)
{
    hid_t type = H5Tcopy(H5T_C_S1);
    H5Tset_size(type, H5T_VARIABLE);
    return type;
}

static const char *text_of(const change *c)
{
    static const char *const texts[] = {"", "pit", "hold", "none paper", "meat: {mass: 3 kg}\n", "meat: {shape: packer}\n",
                                        "pit: 3\n", "complete"};
    return texts[c->place_low % (sizeof texts / sizeof *texts)];
}

static void put_texts(hid_t file, const char *name, const change *c)
{
    hsize_t count = c->length;
    const char *texts[256];
    for (size_t i = 0; i < 256; i++)
        texts[i] = text_of(c);
    H5Ldelete(file, name, H5P_DEFAULT);
    hid_t space = H5Screate_simple(1, &count, NULL), type = create_text_type();
    hid_t set = H5Dcreate2(file, name, type, space, H5P_DEFAULT, H5P_DEFAULT, H5P_DEFAULT);
    H5Dwrite(set, type, H5S_ALL, H5S_ALL, H5P_DEFAULT, texts);
    H5Dclose(set);
    H5Tclose(type);
    H5Sclose(space);
}

static void put_attribute(hid_t file, const change *c)
{
    static const char *const attributes[] = {"sw_cooks", "sw_thickness_m", "sw_width_m", "sw_shape", "sw_wrap"};
    const char *name = attributes[c->which_low % (sizeof attributes / sizeof *attributes)], *text = text_of(c);
    bool is_text = c->which_high & 1;
    if (H5Aexists(file, name) > 0)
        H5Adelete(file, name);
    if (c->length & 1)
        return;
    hid_t space = H5Screate(H5S_SCALAR), type = is_text ? create_text_type() : H5Tcopy(H5T_NATIVE_DOUBLE);
    hid_t attribute = H5Acreate2(file, name, type, space, H5P_DEFAULT, H5P_DEFAULT);
    H5Awrite(attribute, type, is_text ? (const void *)&text : (const void *)&c->number);
    H5Aclose(attribute);
    H5Tclose(type);
    H5Sclose(space);
}

static void apply(hid_t file, const change *c)
{
    const char *name = names[(size_t)(c->which_high << 8 | c->which_low) % name_count];
    if (c->kind % 8 >= 4 && H5Lexists(file, name, H5P_DEFAULT) > 0)
        change_element(file, name, c);
    else if (c->kind % 8 == 0 && H5Lexists(file, name, H5P_DEFAULT) > 0)
        H5Ldelete(file, name, H5P_DEFAULT);
    else if (c->kind % 8 == 1 && H5Lexists(file, name, H5P_DEFAULT) > 0)
        put_numbers(file, name, c);
    else if (c->kind % 8 == 2 && H5Lexists(file, name, H5P_DEFAULT) > 0)
        put_texts(file, name, c);
    else if (c->kind % 8 == 3)
        put_attribute(file, c);
}

static void change_good_file(const uint8_t *data, size_t size)
{
    struct stat about;
    put_file(good, good_size);
    hid_t file = H5Fopen(path, H5F_ACC_RDWR, H5P_DEFAULT);
    for (size_t at = 0; at + CHANGE_SIZE <= size; at += CHANGE_SIZE) {
        change c = {data[at], data[at + 1], data[at + 2], data[at + 3], data[at + 4], data[at + 5], 0.0};
        memcpy(&c.number, data + at + 6, sizeof c.number);
        apply(file, &c);
    }
    fuzz_require(H5Fclose(file) >= 0, "the changed file can be closed");
    FILE *stream = fopen(path, "rb+");
    fuzz_require(stream && stat(path, &about) == 0 && sw_file_checksum_append(fileno(stream), (size_t)about.st_size) == 0,
                 "the checksum can be put back");
    fclose(stream);
}

static void read_and_judge(void)
{
    static sw_scenario none;
    sw_results *results = NULL;
    sw_outcome outcome;
    if (sw_results_read(fuzz_context(), path, &results) != SW_OK) {
        fuzz_require(results == NULL, "a refusal gives no results");
        fuzz_check_refusal(&none, &none);
        return;
    }
    for (size_t i = 0; i < results->count; i++)
        sw_outcome_evaluate(results->histories[i], &outcome);
    sw_results_destroy(results);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    H5Eset_auto2(H5E_DEFAULT, NULL, NULL);
    if (!good)
        prepare();
    if (size >= CHANGE_SIZE)
        change_good_file(data, size);
    else
        put_file(data, size);
    read_and_judge();
    return 0;
}
