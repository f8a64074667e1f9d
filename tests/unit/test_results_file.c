/* SPDX-License-Identifier: BSD-3-Clause */
/* Results files: what is written reads back through HDF5 itself, and a file that cannot be written leaves everything as
 * it was. The rules on attributes, axes and order are those of the netCDF-4 file format specification and of the CF
 * conventions 1.8 (both from memory); the general readers are run by cli/test_results_readers.sh. */
#include "close.h"

#include <stallwright/results_file.h>
#include <stallwright/version.h>

#include <hdf5.h>
#include <hdf5_hl.h>

#include <dlfcn.h>
#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/file.h>
#include <sys/inotify.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <unistd.h>

/* ---- calls of the writer, put here to make them fail or to do something meanwhile ---- */

static void (*meanwhile)(void);
static int fsync_error;
static int link_error;

int fsync(int descriptor)
{
    (void)descriptor;
    if (meanwhile)
        meanwhile();
    errno = fsync_error;
    return fsync_error ? -1 : 0;
}

int link(const char *from, const char *to)
{
    if (!link_error)
        return linkat(AT_FDCWD, from, AT_FDCWD, to, 0);
    errno = link_error;
    return -1;
}

/* A failure of HDF5 that leaves its mark on HDF5's own stack of errors. */
static bool refuse_axes;

herr_t H5DSattach_scale(hid_t set, hid_t scale, unsigned axis)
{
    herr_t (*real)(hid_t, hid_t, unsigned);
    if (refuse_axes)
        return H5Dopen2(set, "nothing", H5P_DEFAULT) < 0 ? -1 : 0;
    *(void **)&real = dlsym(RTLD_NEXT, "H5DSattach_scale");
    return real(set, scale, axis);
}

/* ---- a history made by hand ---- */

enum { ROWS = 600, CELLS = 4, FIELDS = 3 };

static double series[SW_SERIES_COUNT][ROWS];
static double position[CELLS] = {0.005, 0.02, 0.04, 0.06};
static double bounds[CELLS + 1] = {0.0, 0.01, 0.03, 0.05, 0.07};
static double volume[CELLS] = {1e-3, 2e-3, 2e-3, 2e-3};
static double across[CELLS] = {0.0, 0.01, 0.02, 0.03};
static double field_time[FIELDS] = {0.0, 900.0, 1800.0};
static double extent[CELLS] = {0.2, 0.4, 0.6, 0.8};
static double field_temperature[FIELDS * CELLS], field_water[FIELDS * CELLS];

static sw_history history_by_hand(size_t rows)
{
    sw_history h;
    memset(&h, 0, sizeof h);
    sw_scenario_init(&h.scenario);
    snprintf(h.scenario.title, sizeof h.scenario.title, "Village hall supper, f\u00eate");
    h.row_count = rows;
    for (int s = 0; s < SW_SERIES_COUNT; s++) {
        for (int i = 0; i < ROWS; i++)
            series[s][i] = s == SW_SERIES_time ? 60.0 * i : 300.0 + s + 0.1 * i;
        h.series[s] = series[s];
    }
    h.phase_count = 2;
    h.phases[0] = (sw_phase_record){.phase = SW_PHASE_PIT, .end = 30000.0, .probe_at_end = 368.0};
    h.phases[1] = (sw_phase_record){.phase = SW_PHASE_REST, .start = 30000.0, .end = 35940.0, .probe_at_end = 350.0};
    h.cell_count = CELLS;
    h.cell_position = position;
    h.cell_across = across;
    h.cell_bounds = bounds;
    h.cell_volume = volume;
    h.probe_count = 1;
    snprintf(h.probes[0].name, sizeof h.probes[0].name, "centre");
    h.probes[0].height = 0.035;
    h.probe_series[0] = series[SW_SERIES_probe_temperature];
    for (int i = 0; i < FIELDS * CELLS; i++) {
        field_temperature[i] = 280.0 + i;
        field_water[i] = 3.0 - 0.1 * i;
    }
    h.field_count = FIELDS;
    h.field_time = field_time;
    h.field_temperature = field_temperature;
    h.field_water_content = field_water;
    for (int r = 0; r < SW_INNER_REACTION_COUNT; r++)
        h.cell_extent[r] = extent;
    h.probe_extent[0][SW_REACTION_COLLAGEN] = 0.7;
    h.phases[1].sides_at_end[SW_SIDE_END].browning = 0.3;
    h.budget.initial_mass = 6.5;
    h.statistics.steps = 1234;
    return h;
}

/* ---- the folder, and writing into it ---- */

static char folder[] = "/tmp/sw_results_XXXXXX";
static char path[512], part[520];
static sw_context *context;
static const sw_provenance provenance = {"stallwright test", "stallwright cook -o f\u00eate.h5", "title: Village\n"};

static int set_up_folder(void **state)
{
    (void)state;
    if (!mkdtemp(folder) || sw_context_create(&context) != SW_OK)
        return -1;
    snprintf(path, sizeof path, "%s/run.h5", folder);
    snprintf(part, sizeof part, "%s.part", path);
    return 0;
}

static int tear_down_folder(void **state)
{
    (void)state;
    sw_context_destroy(context);
    return rmdir(folder);
}

/* Removes what a test left; a test that leaves anything else makes the folder's removal fail. */
static int clean(void **state)
{
    (void)state;
    meanwhile = NULL;
    fsync_error = link_error = 0;
    unlink(path);
    return 0;
}

static sw_status write_one(const sw_history *h, bool overwrite)
{
    const char *label = "none";
    return sw_results_write(context, path, 1, &h, &label, &provenance, overwrite);
}

static bool is_there(const char *name)
{
    struct stat about;
    return lstat(name, &about) == 0;
}

static void put_bytes(const char *name, const char *text)
{
    FILE *file = fopen(name, "wb");
    assert_non_null(file);
    fputs(text, file);
    assert_int_equal(fclose(file), 0);
}

static void assert_bytes(const char *name, const char *text)
{
    char got[64] = "";
    FILE *file = fopen(name, "rb");
    assert_non_null(file);
    got[fread(got, 1, sizeof got - 1, file)] = '\0';
    fclose(file);
    assert_string_equal(got, text);
}

static void assert_said(const char *words)
{
    if (!strstr(sw_context_message(context), words))
        fail_msg("\"%s\" is not in: %s", words, sw_context_message(context));
    if (!strstr(sw_context_message(context), path))
        fail_msg("the path is not in: %s", sw_context_message(context));
}

/* ---- reading back ---- */

static hid_t open_file(void)
{
    hid_t file = H5Fopen(path, H5F_ACC_RDONLY, H5P_DEFAULT);
    assert_true(file >= 0);
    return file;
}

/* Texts are UTF-8 of variable length: h5py makes bytes of others. */
static void assert_text(hid_t file, const char *object, const char *name, const char *want)
{
    hid_t attribute = H5Aopen_by_name(file, object, name, H5P_DEFAULT, H5P_DEFAULT);
    if (attribute < 0)
        fail_msg("%s has no attribute %s", object, name);
    hid_t type = H5Aget_type(attribute);
    char *got = NULL;
    assert_true(H5Tis_variable_str(type) > 0);
    assert_int_equal(H5Tget_cset(type), H5T_CSET_UTF8);
    assert_true(H5Aread(attribute, type, &got) >= 0);
    assert_string_equal(got, want);
    H5free_memory(got);
    H5Tclose(type);
    H5Aclose(attribute);
}

static void assert_values(hid_t file, const char *name, size_t count, const double *want)
{
    static double got[ROWS];
    hid_t set = H5Dopen2(file, name, H5P_DEFAULT);
    if (set < 0)
        fail_msg("there is no %s", name);
    hid_t space = H5Dget_space(set);
    assert_int_equal(H5Sget_simple_extent_npoints(space), count);
    assert_in_range(count, 1, ROWS);
    assert_true(H5Dread(set, H5T_NATIVE_DOUBLE, H5S_ALL, H5S_ALL, H5P_DEFAULT, got) >= 0);
    for (size_t i = 0; i < count; i++)
        assert_close_abs(got[i], want[i], 0.0);
    H5Sclose(space);
    H5Dclose(set);
}

static void assert_axes(hid_t file, const char *name, int rank, const char *first, const char *second)
{
    const char *const axes[] = {first, second};
    hid_t set = H5Dopen2(file, name, H5P_DEFAULT), space = H5Dget_space(set);
    assert_int_equal(H5Sget_simple_extent_ndims(space), rank);
    for (int i = 0; i < rank; i++) {
        hid_t scale = H5Dopen2(file, axes[i], H5P_DEFAULT);
        if (H5DSis_attached(set, scale, (unsigned)i) <= 0)
            fail_msg("axis %d of %s is not %s", i, name, axes[i]);
        H5Dclose(scale);
    }
    H5Sclose(space);
    H5Dclose(set);
}

static H5D_layout_t layout_of(hid_t file, const char *name, int *filters)
{
    hid_t set = H5Dopen2(file, name, H5P_DEFAULT), list = H5Dget_create_plist(set);
    H5D_layout_t layout = H5Pget_layout(list);
    *filters = H5Pget_nfilters(list);
    H5Pclose(list);
    H5Dclose(set);
    return layout;
}

static herr_t check_order(hid_t file, const char *name, const H5O_info_t *info, void *data)
{
    unsigned flags = 0, both = H5P_CRT_ORDER_TRACKED | H5P_CRT_ORDER_INDEXED;
    if (info->type != H5O_TYPE_GROUP)
        return 0;
    hid_t group = H5Gopen2(file, name, H5P_DEFAULT), list = H5Gget_create_plist(group);
    H5Pget_link_creation_order(list, &flags);
    bool tracked = flags == both;
    H5Pget_attr_creation_order(list, &flags);
    if (!tracked || flags != both)
        fail_msg("the group %s does not keep the order of links and attributes", name);
    ++*(int *)data;
    H5Pclose(list);
    H5Gclose(group);
    return 0;
}

static void test_one_cook(void **state)
{
    (void)state;
    sw_history h = history_by_hand(ROWS);
    assert_int_equal(write_one(&h, false), SW_OK);
    assert_false(is_there(part));
    hid_t file = open_file();

    assert_values(file, "time", ROWS, series[SW_SERIES_time]);
    assert_text(file, "time", "units", "s");
    for (int i = 0; i < SW_SERIES_COUNT; i++) {
        const char *name = sw_series_name((sw_series)i);
        assert_values(file, name, ROWS, series[i]);
        assert_text(file, name, "units", sw_series_unit((sw_series)i));
        assert_text(file, name, "long_name", sw_series_long_name((sw_series)i));
        if (i != SW_SERIES_time)
            assert_axes(file, name, 1, "time", NULL);
    }
    assert_text(file, "probe_1_temperature", "probe_name", "centre");

    const double pairs[] = {0.0, 0.01, 0.01, 0.03, 0.03, 0.05, 0.05, 0.07};
    assert_values(file, "x", CELLS, position);
    assert_text(file, "x", "bounds", "x_bnds");
    assert_values(file, "x_bnds", 2 * CELLS, pairs);
    assert_axes(file, "x_bnds", 2, "x", "nv");
    assert_values(file, "cell_volume", CELLS, volume);
    assert_axes(file, "cell_volume", 1, "x", NULL);
    assert_values(file, "temperature", FIELDS * CELLS, field_temperature);
    assert_axes(file, "temperature", 2, "field_time", "x");
    assert_values(file, "water_content", FIELDS * CELLS, field_water);
    assert_text(file, "water_content", "units", "kg kg-1");

    assert_values(file, "collagen_at_end", CELLS, extent);
    assert_axes(file, "collagen_at_end", 1, "x", NULL);
    const double probe[SW_INNER_REACTION_COUNT] = {[SW_REACTION_COLLAGEN] = 0.7}, browning[] = {0.0, 0.3};
    assert_values(file, "reaction/probe_extent", SW_INNER_REACTION_COUNT, probe);
    assert_axes(file, "reaction/probe_extent", 2, "reaction/probe_number", "reaction/reaction_number");
    assert_values(file, "phase/end_side/browning", 2, browning);
    assert_axes(file, "phase/end_side/browning", 1, "phase/phase_number", NULL);

    const double ends[] = {30000.0, 35940.0}, mass = 6.5;
    assert_values(file, "phase/end", 2, ends);
    assert_axes(file, "phase/end", 1, "phase/phase_number", NULL);
    assert_axes(file, "phase/name", 1, "phase/phase_number", NULL);
    assert_values(file, "budget/initial_mass", 1, &mass);
    assert_text(file, "budget/initial_mass", "units", "kg");
    H5Fclose(file);
}

static void test_phase_names(void **state)
{
    (void)state;
    sw_history h = history_by_hand(ROWS);
    char *names[2] = {NULL, NULL};
    assert_int_equal(write_one(&h, false), SW_OK);
    hid_t file = open_file(), set = H5Dopen2(file, "phase/name", H5P_DEFAULT), type = H5Dget_type(set);
    assert_true(H5Dread(set, type, H5S_ALL, H5S_ALL, H5P_DEFAULT, names) >= 0);
    assert_string_equal(names[0], "pit");
    assert_string_equal(names[1], "rest");
    H5free_memory(names[0]);
    H5free_memory(names[1]);
    H5Tclose(type);
    H5Dclose(set);
    H5Fclose(file);
}

/* A cook without a wrap has no time of wrapping: NaN, and NaN is declared as the fill value. */
static void test_absent_figure(void **state)
{
    (void)state;
    sw_history h = history_by_hand(ROWS);
    double got = 0.0, fill = 0.0;
    assert_int_equal(write_one(&h, false), SW_OK);
    hid_t file = open_file();
    assert_true(H5LTread_dataset_double(file, "outcome/wrap_time", &got) >= 0);
    assert_true(H5LTget_attribute_double(file, "outcome/wrap_time", "_FillValue", &fill) >= 0);
    assert_true(SW_IS_ABSENT(got));
    assert_true(SW_IS_ABSENT(fill));
    /* CF 1.8, appendix A: not allowed for coordinate variables. */
    assert_int_equal(H5Aexists_by_name(file, "time", "_FillValue", H5P_DEFAULT), 0);
    H5Fclose(file);
}

static void test_heading_and_order(void **state)
{
    (void)state;
    sw_history h = history_by_hand(ROWS);
    int groups = 0, filters = 0;
    long long steps = 0;
    assert_int_equal(write_one(&h, false), SW_OK);
    hid_t file = open_file();
    assert_text(file, "/", "Conventions", "CF-1.8");
    assert_text(file, "/", "title", "Village hall supper, f\u00eate");
    assert_text(file, "/", "source", "stallwright test");
    assert_text(file, "/", "sw_file_format", "1.6");
    assert_text(file, "/", "sw_run_status", "complete");
    assert_text(file, "provenance", "command_line", provenance.command_line);
    assert_text(file, "provenance", "hdf5_version", sw_version_of_hdf5());
    assert_true(H5LTget_attribute_long_long(file, "solver", "steps", &steps) >= 0);
    assert_int_equal(steps, 1234);
    assert_true(H5Ovisit1(file, H5_INDEX_NAME, H5_ITER_NATIVE, check_order, &groups) >= 0);
    assert_int_equal(groups, 10); /* root, phase and its three sides, outcome, reaction, budget, solver, provenance */
    /* Only large arrays are chunked, shuffled and compressed. */
    assert_int_equal(layout_of(file, "probe_temperature", &filters), H5D_CHUNKED);
    assert_int_equal(filters, 2);
    assert_int_equal(layout_of(file, "temperature", &filters), H5D_CONTIGUOUS);
    assert_int_equal(filters, 0);
    H5Fclose(file);
}

/* HDF5 keeps at most 64 KiB of an attribute with its object. */
static void test_long_texts(void **state)
{
    (void)state;
    enum { LENGTH = 200000 };
    char *text = malloc(LENGTH + 1);
    assert_non_null(text);
    memset(text, 'a', LENGTH);
    text[LENGTH] = '\0';
    const sw_provenance from = {NULL, text, text};
    sw_history h = history_by_hand(ROWS);
    const sw_history *histories[] = {&h};
    assert_int_equal(sw_results_write(context, path, 1, histories, NULL, &from, false), SW_OK);
    hid_t file = open_file(), set = H5Dopen2(file, "provenance/scenario_text", H5P_DEFAULT), type = H5Dget_type(set);
    char *got = NULL;
    assert_text(file, "provenance", "command_line", text);
    assert_true(H5Dread(set, type, H5S_ALL, H5S_ALL, H5P_DEFAULT, &got) >= 0);
    assert_int_equal(strlen(got), LENGTH);
    H5free_memory(got);
    H5Tclose(type);
    H5Dclose(set);
    H5Fclose(file);
    free(text);
}

/* A file name may be in another character set; the attribute says that it is UTF-8. */
static void test_text_that_is_no_utf8(void **state)
{
    (void)state;
    const sw_provenance from = {NULL, "cook -o f\xEAte.h5 \u00b0 \xC3", NULL};
    sw_history h = history_by_hand(ROWS);
    const sw_history *histories[] = {&h};
    assert_int_equal(sw_results_write(context, path, 1, histories, NULL, &from, false), SW_OK);
    hid_t file = open_file();
    assert_text(file, "provenance", "command_line", "cook -o f\uFFFDte.h5 \u00b0 \uFFFD");
    assert_int_equal(H5Lexists(file, "provenance/scenario_text", H5P_DEFAULT), 0);
    H5Fclose(file);
}

static void test_several_cooks(void **state)
{
    (void)state;
    sw_history first = history_by_hand(ROWS), second = history_by_hand(20);
    const sw_history *histories[] = {&first, &second};
    const char *const labels[] = {"none", "paper-74\u00b0C"};
    assert_int_equal(sw_results_write(context, path, 2, histories, labels, &provenance, false), SW_OK);
    hid_t file = open_file();
    assert_text(file, "/", "sw_cooks", "none paper-74\u00b0C");
    assert_values(file, "none/time", ROWS, series[SW_SERIES_time]);
    assert_values(file, "paper-74\u00b0C/time", 20, series[SW_SERIES_time]);
    assert_axes(file, "none/probe_temperature", 1, "none/time", NULL);
    assert_axes(file, "paper-74\u00b0C/temperature", 2, "paper-74\u00b0C/field_time", "paper-74\u00b0C/x");
    assert_int_equal(H5Lexists(file, "time", H5P_DEFAULT), 0);
    H5Fclose(file);
}

static void test_labels_refused(void **state)
{
    (void)state;
    sw_history h = history_by_hand(ROWS);
    const sw_history *histories[] = {&h, &h};
    static const char *const bad[] = {"", "none", "a/b", ".", "two words", "provenance"};
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++) {
        const char *const labels[] = {"none", bad[i]};
        assert_int_equal(sw_results_write(context, path, 2, histories, labels, &provenance, false), SW_ERR_ARGUMENT);
        assert_false(is_there(path));
    }
    assert_int_equal(sw_results_write(context, path, 0, histories, NULL, &provenance, false), SW_ERR_ARGUMENT);
}

static void test_section(void **state)
{
    (void)state;
    sw_history h = history_by_hand(ROWS);
    h.cell_bounds = NULL;
    h.scenario.meat.shape = SW_SHAPE_SECTION;
    h.scenario.meat.width = 0.2;
    assert_int_equal(write_one(&h, false), SW_OK);
    hid_t file = open_file();
    const double along[] = {0.0, 0.2}, numbers[] = {0, 1, 2, 3};
    assert_values(file, "cell", CELLS, numbers);
    assert_values(file, "cell_along", CELLS, across);
    assert_values(file, "cell_height", CELLS, position);
    assert_axes(file, "temperature", 2, "field_time", "cell");
    assert_text(file, "temperature", "coordinates", "cell_along cell_height");
    assert_axes(file, "outline_along", 1, "corner", NULL);
    double got[SW_OUTLINE_MAX], least = 1.0, most = -1.0;
    hsize_t corners = 0;
    assert_true(H5LTget_dataset_info(file, "outline_along", &corners, NULL, NULL) >= 0);
    assert_in_range(corners, 4, SW_OUTLINE_MAX);
    assert_true(H5LTread_dataset_double(file, "outline_along", got) >= 0);
    for (hsize_t i = 0; i < corners; i++) {
        least = got[i] < least ? got[i] : least;
        most = got[i] > most ? got[i] : most;
    }
    assert_close_abs(least, along[0], 1e-12);
    assert_close_abs(most, along[1], 1e-12);
    H5Fclose(file);
}

/* ---- files that are in the way or cannot be written ---- */

static void test_existing_file(void **state)
{
    (void)state;
    sw_history h = history_by_hand(ROWS);
    put_bytes(path, "mine");
    assert_int_equal(write_one(&h, false), SW_ERR_EXISTS);
    assert_said("exists already");
    assert_bytes(path, "mine");
    assert_false(is_there(part));
    assert_int_equal(write_one(&h, true), SW_OK);
    H5Fclose(open_file());
    assert_false(is_there(part));
}

/* A symbolic link that leads nowhere is somebody's name too. */
static void test_existing_link(void **state)
{
    (void)state;
    sw_history h = history_by_hand(ROWS);
    assert_int_equal(symlink("nowhere", path), 0);
    assert_int_equal(write_one(&h, false), SW_ERR_EXISTS);
    assert_said("exists already");
}

static void somebody_writes_the_target(void)
{
    put_bytes(path, "theirs");
}

/* The target appears after it was found free, on a file system with links and on one without. */
static void test_target_appears_meanwhile(void **state)
{
    (void)state;
    sw_history h = history_by_hand(ROWS);
    static const int errors[] = {0, EPERM};
    for (int i = 0; i < 2; i++) {
        unlink(path);
        link_error = errors[i];
        meanwhile = somebody_writes_the_target;
        assert_int_equal(write_one(&h, false), SW_ERR_EXISTS);
        assert_said("exists already");
        assert_bytes(path, "theirs");
        assert_false(is_there(part));
    }
    assert_int_equal(write_one(&h, true), SW_OK);
    H5Fclose(open_file());
}

static void test_file_system_without_links(void **state)
{
    (void)state;
    sw_history h = history_by_hand(ROWS);
    link_error = EPERM;
    assert_int_equal(write_one(&h, false), SW_OK);
    H5Fclose(open_file());
    assert_false(is_there(part));
}

/* The part may be that of another run, which holds its lock, or somebody's, or a link to a file that matters. */
static void test_part_in_the_way(void **state)
{
    (void)state;
    sw_history h = history_by_hand(ROWS);
    put_bytes(part, "\x89HDF");
    int descriptor = open(part, O_RDWR);
    assert_int_equal(flock(descriptor, LOCK_EX), 0);
    assert_int_equal(write_one(&h, true), SW_ERR_FILE);
    assert_said("another run is writing it");
    assert_bytes(part, "\x89HDF");
    assert_false(is_there(path));
    close(descriptor);

    put_bytes(part, "somebody's");
    assert_int_equal(write_one(&h, false), SW_ERR_FILE);
    assert_said("is in the way, and it is not known");
    assert_bytes(part, "somebody's");
    assert_false(is_there(path));
    unlink(part);

    char elsewhere[600];
    snprintf(elsewhere, sizeof elsewhere, "%s/elsewhere", folder);
    assert_int_equal(symlink(elsewhere, part), 0);
    assert_int_equal(write_one(&h, true), SW_ERR_FILE);
    assert_said("is in the way, and it is not known");
    assert_false(is_there(elsewhere));
    unlink(part);
}

/* A part that nobody writes any more is replaced: without force if it begins as ours do. One that was linked to its final name
 * just before the end is not written into. */
static void test_part_left_behind(void **state)
{
    (void)state;
    static const char *const left[] = {"", "\x89H", "\x89HDF\r\n\x1a\n and more"};
    sw_history h = history_by_hand(ROWS);
    for (size_t i = 0; i < sizeof left / sizeof *left; i++) {
        put_bytes(part, left[i]);
        assert_int_equal(write_one(&h, false), SW_OK);
        assert_false(is_there(part));
        unlink(path);
    }
    put_bytes(part, "somebody's");
    assert_int_equal(write_one(&h, true), SW_OK);
    assert_false(is_there(part));

    char kept[600];
    snprintf(kept, sizeof kept, "%s/kept", folder);
    unlink(path);
    put_bytes(kept, "\x89HDF");
    assert_int_equal(link(kept, part), 0);
    assert_int_equal(write_one(&h, false), SW_OK);
    assert_bytes(kept, "\x89HDF");
    unlink(kept);
    unlink(path);
}

/* What the file is built in never has a name, where the file system can do that: a kill would leave it behind. */
static void test_no_other_names(void **state)
{
    (void)state;
    sw_history h = history_by_hand(ROWS);
    char events[4096] __attribute__((aligned(__alignof__(struct inotify_event))));
    int nameless = open(folder, O_TMPFILE | O_RDWR, 0600), watch = inotify_init1(IN_NONBLOCK);
    if (nameless < 0 || watch < 0)
        skip();
    close(nameless);
    assert_true(inotify_add_watch(watch, folder, IN_CREATE) >= 0);
    assert_int_equal(write_one(&h, false), SW_OK);
    ssize_t size = read(watch, events, sizeof events);
    assert_true(size > 0);
    for (const char *at = events; at < events + size;) {
        const struct inotify_event *event = (const void *)at;
        assert_true(strcmp(event->name, "run.h5.part") == 0 || strcmp(event->name, "run.h5") == 0);
        at += sizeof *event + event->len;
    }
    close(watch);
    unlink(path);
}

static void test_no_regular_file(void **state)
{
    (void)state;
    sw_history h = history_by_hand(ROWS);
    struct stat about;
    assert_int_equal(mkdir(path, 0777), 0);
    assert_int_equal(write_one(&h, true), SW_ERR_FILE);
    assert_said("a directory");
    assert_int_equal(rmdir(path), 0);
    /* As with /dev/null, which a rename would replace. */
    assert_int_equal(mkfifo(path, 0666), 0);
    assert_int_equal(write_one(&h, true), SW_ERR_FILE);
    assert_said("no regular file");
    assert_int_equal(lstat(path, &about), 0);
    assert_true(S_ISFIFO(about.st_mode));
}

static void test_no_such_folder(void **state)
{
    (void)state;
    sw_history h = history_by_hand(ROWS);
    const sw_history *histories[] = {&h};
    char nowhere[600], name[400];
    snprintf(nowhere, sizeof nowhere, "%s/nowhere/run.h5", folder);
    assert_int_equal(sw_results_write(context, nowhere, 1, histories, NULL, &provenance, true), SW_ERR_FILE);
    assert_non_null(strstr(sw_context_message(context), strerror(ENOENT)));
    memset(name, 'n', 300);
    snprintf(nowhere, sizeof nowhere, "%s/%.300s", folder, name);
    assert_int_equal(sw_results_write(context, nowhere, 1, histories, NULL, &provenance, true), SW_ERR_FILE);
    assert_non_null(strstr(sw_context_message(context), strerror(ENAMETOOLONG)));
}

static void test_folder_without_permission(void **state)
{
    (void)state;
    sw_history h = history_by_hand(ROWS);
    /* To root every folder is open. */
    bool is_root = geteuid() == 0;
    if (is_root && seteuid(65534) != 0)
        skip();
    chmod(folder, 0555);
    sw_status status = write_one(&h, false);
    chmod(folder, 0700);
    if (is_root)
        assert_int_equal(seteuid(0), 0);
    assert_int_equal(status, SW_ERR_FILE);
    assert_said(strerror(EACCES));
}

/* A limit on the size of files stands for a full disk: it shows in the midst of writing. */
static void test_full_while_writing(void **state)
{
    (void)state;
    sw_history h = history_by_hand(ROWS);
    struct rlimit before, small;
    put_bytes(path, "mine");
    assert_int_equal(getrlimit(RLIMIT_FSIZE, &before), 0);
    small = before;
    small.rlim_cur = 4096;
    void (*handler)(int) = signal(SIGXFSZ, SIG_IGN);
    assert_int_equal(setrlimit(RLIMIT_FSIZE, &small), 0);
    sw_status status = write_one(&h, true);
    assert_int_equal(setrlimit(RLIMIT_FSIZE, &before), 0);
    signal(SIGXFSZ, handler);
    assert_int_equal(status, SW_ERR_FILE);
    assert_said(strerror(EFBIG));
    assert_bytes(path, "mine");
    assert_false(is_there(part));
}

/* A disk may notice only when the bytes are to reach it. */
static void test_full_while_storing(void **state)
{
    (void)state;
    sw_history h = history_by_hand(ROWS);
    fsync_error = ENOSPC;
    assert_int_equal(write_one(&h, false), SW_ERR_FILE);
    assert_said(strerror(ENOSPC));
    assert_false(is_there(path));
    assert_false(is_there(part));
}

/* ---- HDF5 in the caller's process ---- */

/* Identifiers of one kind are numbered in the order they are made, so a new one bounds those made before. */
typedef struct marks {
    hid_t space, type, list;
} marks;

static marks make_marks(void)
{
    marks m = {H5Screate(H5S_SCALAR), H5Tcopy(H5T_C_S1), H5Pcreate(H5P_DATASET_CREATE)};
    H5Sclose(m.space);
    H5Tclose(m.type);
    H5Pclose(m.list);
    return m;
}

static int count_valid(hid_t from, hid_t to)
{
    int count = 0;
    assert_true(to > from);
    for (hid_t i = from; i <= to; i++)
        count += H5Iis_valid(i) > 0;
    return count;
}

static void assert_all_closed_since(marks before)
{
    marks now = make_marks();
    assert_int_equal(count_valid(before.space, now.space), 0);
    assert_int_equal(count_valid(before.type, now.type), 0);
    assert_int_equal(count_valid(before.list, now.list), 0);
    assert_int_equal(H5Fget_obj_count((hid_t)H5F_OBJ_ALL, H5F_OBJ_ALL), 0);
}

static int printed;

static herr_t count_printed(hid_t stack, void *data)
{
    (void)stack;
    (void)data;
    printed++;
    return 0;
}

static herr_t count_printed_1(void *data)
{
    (void)data;
    printed++;
    return 0;
}

static sw_status write_what_hdf5_refuses(void)
{
    sw_history h = history_by_hand(ROWS);
    refuse_axes = true;
    sw_status status = write_one(&h, true);
    refuse_axes = false;
    assert_said("HDF5 refused probe_temperature: ");
    assert_null(strstr(sw_context_message(context), "no reason"));
    return status;
}

static void test_everything_is_closed(void **state)
{
    (void)state;
    sw_history h = history_by_hand(ROWS), hole = history_by_hand(ROWS);
    hole.series[SW_SERIES_drip_rate] = NULL; /* a mistake of the caller */
    assert_int_equal(write_one(&h, true), SW_OK); /* starts what HDF5 keeps for good */
    marks before = make_marks();
    assert_int_equal(write_one(&h, true), SW_OK);
    assert_all_closed_since(before);
    assert_int_equal(write_one(&hole, true), SW_ERR_FILE);
    assert_said("drip_rate");
    assert_all_closed_since(before);
    assert_int_equal(write_what_hdf5_refuses(), SW_ERR_FILE);
    assert_all_closed_since(before);
    H5Fclose(open_file());
}

static void test_error_printing_is_left_alone(void **state)
{
    (void)state;
    sw_history h = history_by_hand(ROWS);
    H5E_auto2_t old, now;
    void *old_data, *now_data;
    H5Eget_auto2(H5E_DEFAULT, &old, &old_data);

    printed = 0;
    H5Eset_auto2(H5E_DEFAULT, count_printed, &printed);
    assert_int_equal(write_one(&h, true), SW_OK);
    assert_int_equal(write_what_hdf5_refuses(), SW_ERR_FILE);
    H5Eget_auto2(H5E_DEFAULT, &now, &now_data);
    assert_true(now == count_printed && now_data == &printed);
    assert_int_equal(printed, 0);

    /* The interface of HDF5 1.6 for the same. */
    H5E_auto1_t now_1;
    H5Eset_auto1(count_printed_1, &printed);
    assert_int_equal(write_what_hdf5_refuses(), SW_ERR_FILE);
    H5Eget_auto1(&now_1, &now_data);
    assert_true(now_1 == count_printed_1 && now_data == &printed);
    assert_int_equal(printed, 0);
    H5Eset_auto2(H5E_DEFAULT, old, old_data);
}

static void test_version(void **state)
{
    (void)state;
    unsigned major, minor, release;
    char want[64];
    assert_true(H5get_libversion(&major, &minor, &release) >= 0);
    snprintf(want, sizeof want, "%u.%u.%u", major, minor, release);
    assert_int_equal(strncmp(sw_version_of_hdf5(), want, strlen(want)), 0);
}

int main(void)
{
#define TEST(name) cmocka_unit_test_teardown(name, clean)
    const struct CMUnitTest tests[] = {
        TEST(test_one_cook),
        TEST(test_phase_names),
        TEST(test_absent_figure),
        TEST(test_heading_and_order),
        TEST(test_long_texts),
        TEST(test_text_that_is_no_utf8),
        TEST(test_several_cooks),
        TEST(test_labels_refused),
        TEST(test_section),
        TEST(test_existing_file),
        TEST(test_existing_link),
        TEST(test_target_appears_meanwhile),
        TEST(test_file_system_without_links),
        TEST(test_part_in_the_way),
        TEST(test_part_left_behind),
        TEST(test_no_other_names),
        TEST(test_no_regular_file),
        TEST(test_no_such_folder),
        TEST(test_folder_without_permission),
        TEST(test_full_while_writing),
        TEST(test_full_while_storing),
        TEST(test_everything_is_closed),
        TEST(test_error_printing_is_left_alone),
        TEST(test_version),
    };
    return cmocka_run_group_tests(tests, set_up_folder, tear_down_folder);
}
