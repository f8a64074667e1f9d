#include <stallwright/results_file.h>

#include <stallwright/version.h>

#include <hdf5.h>
#include <hdf5_hl.h>

#include <errno.h>
#include <fcntl.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <time.h>
#include <unistd.h>

/* The only file of the project that sees HDF5. Layout and rules: docs/results-file.md. */

enum { RANK_MAX = 2, PATH_SIZE = 4096, COMPRESS_FROM = 512, DEFLATE_LEVEL = 4 };

const char *sw_version_of_hdf5(void)
{
    static const char version[] = H5_VERS_INFO;
    static const char prefix[] = "HDF5 library version: ";
    return strncmp(version, prefix, sizeof prefix - 1) == 0 ? version + sizeof prefix - 1 : version;
}

/* Once something fails the writer does nothing more; the first failure is what is reported. */
typedef struct writer {
    hid_t file;
    bool failed;
    char what[128]; /* what could not be written */
} writer;

static void fail(writer *w, const char *what)
{
    if (!w->failed)
        snprintf(w->what, sizeof w->what, "%s", what);
    w->failed = true;
}

/* ---- attributes ---- */

static void put_text(writer *w, hid_t object, const char *name, const char *text)
{
    if (w->failed)
        return;
    hid_t type = H5Tcopy(H5T_C_S1), space = H5Screate(H5S_SCALAR);
    H5Tset_size(type, H5T_VARIABLE);
    H5Tset_cset(type, H5T_CSET_UTF8);
    hid_t attribute = H5Acreate2(object, name, type, space, H5P_DEFAULT, H5P_DEFAULT);
    if (attribute < 0 || H5Awrite(attribute, type, &text) < 0)
        fail(w, name);
    if (attribute >= 0)
        H5Aclose(attribute);
    H5Sclose(space);
    H5Tclose(type);
}

static void put_number(writer *w, hid_t object, const char *name, double value)
{
    if (w->failed)
        return;
    hid_t space = H5Screate(H5S_SCALAR);
    hid_t attribute = H5Acreate2(object, name, H5T_IEEE_F64LE, space, H5P_DEFAULT, H5P_DEFAULT);
    if (attribute < 0 || H5Awrite(attribute, H5T_NATIVE_DOUBLE, &value) < 0)
        fail(w, name);
    if (attribute >= 0)
        H5Aclose(attribute);
    H5Sclose(space);
}

/* ---- groups and datasets ---- */

/* Readers of netCDF ask for the order in which links and attributes were made. */
static void track_order(hid_t list, bool is_group)
{
    if (is_group)
        H5Pset_link_creation_order(list, H5P_CRT_ORDER_TRACKED | H5P_CRT_ORDER_INDEXED);
    H5Pset_attr_creation_order(list, H5P_CRT_ORDER_TRACKED | H5P_CRT_ORDER_INDEXED);
}

static hid_t make_group(writer *w, hid_t parent, const char *name)
{
    if (w->failed)
        return -1;
    hid_t list = H5Pcreate(H5P_GROUP_CREATE);
    track_order(list, true);
    hid_t group = H5Gcreate2(parent, name, H5P_DEFAULT, list, H5P_DEFAULT);
    H5Pclose(list);
    if (group < 0)
        fail(w, name);
    return group;
}

static void close_group(hid_t group)
{
    if (group >= 0)
        H5Gclose(group);
}

/* An axis of datasets: a dimension scale with its length. */
typedef struct axis {
    const char *name;
    hsize_t length;
    hid_t scale;
} axis;

static hid_t creation_list(const hsize_t *lengths, int rank)
{
    hid_t list = H5Pcreate(H5P_DATASET_CREATE);
    const double missing = NAN;
    hsize_t elements = 1, chunk[RANK_MAX];
    track_order(list, false);
    H5Pset_fill_value(list, H5T_NATIVE_DOUBLE, &missing);
    for (int i = 0; i < rank; i++) {
        elements *= lengths[i];
        chunk[i] = lengths[i];
    }
    if (rank > 0 && elements >= COMPRESS_FROM) {
        /* About a megabyte a chunk. */
        while (rank == 2 && chunk[0] > 1 && chunk[0] * chunk[1] > 131072)
            chunk[0] = (chunk[0] + 1) / 2;
        H5Pset_chunk(list, rank, chunk);
        H5Pset_shuffle(list);
        H5Pset_deflate(list, DEFLATE_LEVEL);
    }
    return list;
}

/* Writes numbers on the given axes (none: a scalar) and returns the open dataset; close it with H5Dclose. */
static hid_t put_values(writer *w, hid_t group, const char *name, int rank, const axis *const *axes,
                        const double *values, const char *unit, const char *long_name)
{
    if (w->failed)
        return -1;
    hsize_t lengths[RANK_MAX] = {0};
    for (int i = 0; i < rank; i++)
        lengths[i] = axes[i]->length;
    hid_t space = rank == 0 ? H5Screate(H5S_SCALAR) : H5Screate_simple(rank, lengths, NULL);
    hid_t list = creation_list(lengths, rank);
    hid_t set = H5Dcreate2(group, name, H5T_IEEE_F64LE, space, H5P_DEFAULT, list, H5P_DEFAULT);
    if (set < 0 || H5Dwrite(set, H5T_NATIVE_DOUBLE, H5S_ALL, H5S_ALL, H5P_DEFAULT, values) < 0)
        fail(w, name);
    H5Pclose(list);
    H5Sclose(space);
    if (set < 0)
        return -1;
    put_text(w, set, "units", unit);
    put_text(w, set, "long_name", long_name);
    put_number(w, set, "_FillValue", NAN);
    for (int i = 0; i < rank && !w->failed; i++)
        if (axes[i]->scale >= 0 && H5DSattach_scale(set, axes[i]->scale, (unsigned)i) < 0)
            fail(w, name);
    return set;
}

static void put_dataset(writer *w, hid_t group, const char *name, int rank, const axis *const *axes,
                        const double *values, const char *unit, const char *long_name)
{
    hid_t set = put_values(w, group, name, rank, axes, values, unit, long_name);
    if (set >= 0)
        H5Dclose(set);
}

/* A coordinate: a dataset on itself that is a dimension scale. */
static axis put_axis(writer *w, hid_t group, const char *name, size_t length, const double *values, const char *unit,
                     const char *long_name)
{
    axis made = {name, length, -1};
    const axis *own = &made;
    made.scale = put_values(w, group, name, 1, &own, values, unit, long_name);
    if (!w->failed && H5DSset_scale(made.scale, name) < 0)
        fail(w, name);
    return made;
}

/* A dimension without a coordinate of its own, as netCDF writes it. */
static axis put_bare_axis(writer *w, hid_t group, const char *name, size_t length)
{
    axis made = {name, length, -1};
    if (w->failed)
        return made;
    hsize_t count = length;
    char text[80];
    hid_t space = H5Screate_simple(1, &count, NULL), list = H5Pcreate(H5P_DATASET_CREATE);
    track_order(list, false);
    made.scale = H5Dcreate2(group, name, H5T_IEEE_F32BE, space, H5P_DEFAULT, list, H5P_DEFAULT);
    snprintf(text, sizeof text, "This is a netCDF dimension but not a netCDF variable.%10d", (int)length);
    if (made.scale < 0 || H5DSset_scale(made.scale, text) < 0)
        fail(w, name);
    H5Pclose(list);
    H5Sclose(space);
    return made;
}

static void close_axis(axis *a)
{
    if (a->scale >= 0)
        H5Dclose(a->scale);
}

/* A text as a scalar dataset: attributes hold at most 64 KiB. */
static void put_long_text(writer *w, hid_t group, const char *name, const char *text)
{
    if (w->failed || !text)
        return;
    hid_t type = H5Tcopy(H5T_C_S1), space = H5Screate(H5S_SCALAR), list = H5Pcreate(H5P_DATASET_CREATE);
    track_order(list, false);
    H5Tset_size(type, H5T_VARIABLE);
    H5Tset_cset(type, H5T_CSET_UTF8);
    hid_t set = H5Dcreate2(group, name, type, space, H5P_DEFAULT, list, H5P_DEFAULT);
    if (set < 0 || H5Dwrite(set, type, H5S_ALL, H5S_ALL, H5P_DEFAULT, &text) < 0)
        fail(w, name);
    if (set >= 0)
        H5Dclose(set);
    H5Pclose(list);
    H5Sclose(space);
    H5Tclose(type);
}

/* ---- a cook ---- */

static void put_series(writer *w, hid_t group, const sw_history *h)
{
    axis time = put_axis(w, group, "time", h->row_count, h->series[SW_SERIES_time], "s",
                         sw_series_long_name(SW_SERIES_time));
    const axis *axes[] = {&time};
    if (time.scale >= 0) {
        put_text(w, time.scale, "standard_name", "time");
        put_text(w, time.scale, "axis", "T");
    }
    for (int i = 1; i < SW_SERIES_COUNT; i++)
        put_dataset(w, group, sw_series_name((sw_series)i), 1, axes, h->series[i], sw_series_unit((sw_series)i),
                    sw_series_long_name((sw_series)i));
    for (size_t i = 0; i < h->probe_count; i++) {
        char name[64], long_name[96];
        snprintf(name, sizeof name, "probe_%zu_temperature", i + 1);
        snprintf(long_name, sizeof long_name, "temperature at the probe \"%s\"", h->probes[i].name);
        hid_t set = put_values(w, group, name, 1, axes, h->probe_series[i], "K", long_name);
        if (set < 0)
            continue;
        put_text(w, set, "probe_name", h->probes[i].name);
        put_number(w, set, "along_m", h->probes[i].across);
        put_number(w, set, "height_m", h->probes[i].height);
        H5Dclose(set);
    }
    close_axis(&time);
}

/* Cells in a row have an axis x; the cells of a section are numbered and carry their place. */
static axis put_cells(writer *w, hid_t group, const sw_history *h)
{
    if (h->cell_bounds) {
        axis x = put_axis(w, group, "x", h->cell_count, h->cell_position, "m",
                          "cell centre: height, or distance from the axis or centre");
        axis pair = put_bare_axis(w, group, "nv", 2);
        const axis *axes[] = {&x, &pair};
        double *bounds = malloc(2 * h->cell_count * sizeof *bounds);
        for (size_t i = 0; bounds && i < h->cell_count; i++) {
            bounds[2 * i] = h->cell_bounds[i];
            bounds[2 * i + 1] = h->cell_bounds[i + 1];
        }
        if (!bounds)
            fail(w, "x_bnds");
        put_dataset(w, group, "x_bnds", 2, axes, bounds, "m", "cell edges");
        if (x.scale >= 0)
            put_text(w, x.scale, "bounds", "x_bnds");
        free(bounds);
        close_axis(&pair);
        return x;
    }
    double *number = malloc(h->cell_count * sizeof *number);
    for (size_t i = 0; number && i < h->cell_count; i++)
        number[i] = (double)i;
    if (!number)
        fail(w, "cell");
    axis cell = put_axis(w, group, "cell", h->cell_count, number, "1", "number of the cell");
    const axis *axes[] = {&cell};
    put_dataset(w, group, "cell_along", 1, axes, h->cell_across, "m", "cell centre along the section");
    put_dataset(w, group, "cell_height", 1, axes, h->cell_position, "m", "cell centre above the lowest point");
    free(number);
    return cell;
}

static void put_outline(writer *w, hid_t group, const sw_history *h)
{
    double corners[SW_OUTLINE_MAX][2], number[SW_OUTLINE_MAX], along[SW_OUTLINE_MAX], height[SW_OUTLINE_MAX];
    size_t count = sw_section_outline(&h->scenario.meat, corners);
    if (count == 0)
        return;
    for (size_t i = 0; i < count; i++) {
        number[i] = (double)i;
        along[i] = corners[i][0];
        height[i] = corners[i][1];
    }
    axis corner = put_axis(w, group, "corner", count, number, "1", "number of the outline's corner");
    const axis *axes[] = {&corner};
    put_dataset(w, group, "outline_along", 1, axes, along, "m", "corner of the outline, along the section");
    put_dataset(w, group, "outline_height", 1, axes, height, "m", "corner of the outline, above the lowest point");
    close_axis(&corner);
}

static void put_fields(writer *w, hid_t group, const sw_history *h)
{
    axis cells = put_cells(w, group, h);
    axis time = put_axis(w, group, "field_time", h->field_count, h->field_time, "s", "time of the stored cross-sections");
    const axis *axes[] = {&time, &cells};
    put_dataset(w, group, "cell_volume", 1, &axes[1], h->cell_volume, "m3", "raw volume of the cell in the whole cut");
    hid_t set = put_values(w, group, "temperature", 2, axes, h->field_temperature, "K", "temperature of the cell");
    if (set >= 0) {
        put_text(w, set, "cell_measures", "volume: cell_volume");
        H5Dclose(set);
    }
    set = put_values(w, group, "water_content", 2, axes, h->field_water_content, "kg kg-1", "water content of the cell");
    if (set >= 0) {
        put_text(w, set, "comment", "dry basis: kg water per kg dry matter, fat not counted as dry matter");
        put_text(w, set, "cell_measures", "volume: cell_volume");
        H5Dclose(set);
    }
    put_outline(w, group, h);
    close_axis(&time);
    close_axis(&cells);
}

static void put_phases(writer *w, hid_t parent, const sw_history *h)
{
    hid_t group = make_group(w, parent, "phase");
    double number[SW_PHASE_COUNT], start[SW_PHASE_COUNT], end[SW_PHASE_COUNT], probe[SW_PHASE_COUNT];
    char names[128] = "";
    for (size_t i = 0; i < h->phase_count; i++) {
        number[i] = (double)h->phases[i].phase;
        start[i] = h->phases[i].start;
        end[i] = h->phases[i].end;
        probe[i] = h->phases[i].probe_at_end;
    }
    for (int i = 0; i < SW_PHASE_COUNT; i++) {
        strcat(names, i ? " " : "");
        strcat(names, sw_phase_name((sw_phase)i));
    }
    axis phase = put_axis(w, group, "phase_number", h->phase_count, number, "1", "kind of the phase");
    const axis *axes[] = {&phase};
    if (phase.scale >= 0)
        put_text(w, phase.scale, "comment", names);
    put_dataset(w, group, "start", 1, axes, start, "s", "when the phase began");
    put_dataset(w, group, "end", 1, axes, end, "s", "when the phase ended");
    put_dataset(w, group, "probe_at_end", 1, axes, probe, "K", "probe temperature when the phase ended");
    close_axis(&phase);
    close_group(group);
}

static void put_figures(writer *w, hid_t parent, const sw_history *h)
{
    sw_outcome o;
    sw_outcome_evaluate(h, &o);
    hid_t group = make_group(w, parent, "outcome");
    if (group >= 0)
        put_text(w, group, "comment", "a figure that does not exist, such as the start of a stall that did not happen, "
                                      "has the fill value");
#define PUT(name, unit, long_name) put_dataset(w, group, #name, 0, NULL, &o.name, unit, long_name);
    SW_OUTCOME_LIST(PUT)
#undef PUT
    close_group(group);
    group = make_group(w, parent, "budget");
#define PUT(name, unit, long_name) put_dataset(w, group, #name, 0, NULL, &h->budget.name, unit, long_name);
    SW_BUDGET_LIST(PUT)
#undef PUT
    close_group(group);
}

static void put_solver(writer *w, hid_t parent, const sw_history *h)
{
    hid_t group = make_group(w, parent, "solver");
    if (group < 0)
        return;
    put_text(w, group, "integrator", "CVODES, variable-order BDF");
    put_number(w, group, "relative_tolerance", h->scenario.solver.relative_tolerance);
    put_number(w, group, "cells", (double)h->cell_count);
    put_number(w, group, "steps", (double)h->statistics.steps);
    put_number(w, group, "right_hand_sides", (double)h->statistics.right_hand_sides);
    put_number(w, group, "jacobians", (double)h->statistics.jacobians);
    put_number(w, group, "error_test_failures", (double)h->statistics.error_test_failures);
    put_number(w, group, "convergence_failures", (double)h->statistics.convergence_failures);
    close_group(group);
}

static void put_cook(writer *w, hid_t group, const sw_history *h)
{
    put_series(w, group, h);
    put_fields(w, group, h);
    put_phases(w, group, h);
    put_figures(w, group, h);
    put_solver(w, group, h);
}

static void put_heading(writer *w, const sw_history *first, const sw_provenance *from, const char *cooks)
{
    char date[32] = "", history[512];
    time_t now = time(NULL);
    struct tm utc;
    if (gmtime_r(&now, &utc))
        strftime(date, sizeof date, "%Y-%m-%dT%H:%M:%SZ", &utc);
    put_text(w, w->file, "Conventions", "CF-1.8");
    put_text(w, w->file, "title", first->scenario.title);
    put_text(w, w->file, "source", from->program ? from->program : "stallwright");
    snprintf(history, sizeof history, "%s: %.400s", date, from->command_line ? from->command_line : "written by a program");
    put_text(w, w->file, "history", history);
    put_text(w, w->file, "date_created", date);
    put_text(w, w->file, "sw_file_format", "1.0");
    put_text(w, w->file, "sw_run_status", "complete");
    if (cooks)
        put_text(w, w->file, "sw_cooks", cooks);
}

static void put_provenance(writer *w, const sw_provenance *from)
{
    hid_t group = make_group(w, w->file, "provenance");
    if (group < 0)
        return;
    put_text(w, group, "stallwright_version", sw_version());
    put_text(w, group, "sundials_version", sw_version_of_sundials());
    put_text(w, group, "hdf5_version", sw_version_of_hdf5());
    if (from->command_line)
        put_text(w, group, "command_line", from->command_line);
    put_long_text(w, group, "scenario_text", from->scenario_text);
    close_group(group);
}

static void put_all(writer *w, size_t count, const sw_history *const *histories, const char *const *labels,
                    const sw_provenance *from)
{
    char cooks[1024] = "";
    for (size_t i = 0; i < count; i++)
        snprintf(cooks + strlen(cooks), sizeof cooks - strlen(cooks), "%s%s", i ? " " : "", labels[i]);
    put_heading(w, histories[0], from, count > 1 ? cooks : NULL);
    if (count == 1) {
        put_cook(w, w->file, histories[0]);
    } else {
        for (size_t i = 0; i < count; i++) {
            hid_t group = make_group(w, w->file, labels[i]);
            put_cook(w, group, histories[i]);
            close_group(group);
        }
    }
    put_provenance(w, from);
}

/* The file is built in memory and written to the disk by this project's own calls: HDF5 1.10 cannot close a file whose
 * disk has become full, and then crashes when the program ends. HDF5 hands the finished bytes over when it closes the
 * file: what it gives while the file is open has a checksum that readers refuse. */
typedef struct image {
    void *bytes;
    hsize_t size;
} image;

static void *image_allocate(size_t size, H5FD_file_image_op_t operation, void *data)
{
    (void)operation;
    (void)data;
    return malloc(size);
}

static void *image_copy(void *to, const void *from, size_t size, H5FD_file_image_op_t operation, void *data)
{
    (void)operation;
    (void)data;
    return memcpy(to, from, size);
}

static void *image_resize(void *bytes, size_t size, H5FD_file_image_op_t operation, void *data)
{
    (void)operation;
    (void)data;
    return realloc(bytes, size);
}

/* Keeps the bytes of the closing file. */
static herr_t image_release(void *bytes, H5FD_file_image_op_t operation, void *data)
{
    if (operation == H5FD_FILE_IMAGE_OP_FILE_CLOSE)
        ((image *)data)->bytes = bytes;
    else
        free(bytes);
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

static hid_t create_file(const char *name, image *kept)
{
    const size_t growth = 1 << 18;
    H5FD_file_image_callbacks_t callbacks = {image_allocate, image_copy,    image_resize, image_release,
                                             image_share,    image_unshare, kept};
    hid_t access = H5Pcreate(H5P_FILE_ACCESS), list = H5Pcreate(H5P_FILE_CREATE);
    H5Pset_fapl_core(access, growth, false);
    H5Pset_file_image_callbacks(access, &callbacks);
    /* 1.8 keeps the order of attributes and stays readable by old tools. */
    H5Pset_libver_bounds(access, H5F_LIBVER_V18, H5F_LIBVER_V18);
    H5Pset_fclose_degree(access, H5F_CLOSE_STRONG);
    track_order(list, true);
    hid_t file = H5Fcreate(name, H5F_ACC_TRUNC, list, access);
    H5Pclose(access);
    H5Pclose(list);
    return file;
}

/* Writes bytes to a new file and makes sure that they have reached the disk; errno tells why not. */
static bool write_bytes(const char *path, const char *bytes, size_t size)
{
    int descriptor = open(path, O_WRONLY | O_CREAT | O_TRUNC, 0666);
    if (descriptor < 0)
        return false;
    while (size > 0) {
        ssize_t written = write(descriptor, bytes, size);
        if (written < 0 && errno == EINTR)
            continue;
        if (written <= 0) {
            int why = errno;
            close(descriptor);
            errno = why;
            return false;
        }
        bytes += written;
        size -= (size_t)written;
    }
    bool synced = fsync(descriptor) == 0;
    return close(descriptor) == 0 && synced;
}

static sw_status write_file(sw_context *context, const char *path, const char *temporary, size_t count,
                            const sw_history *const *histories, const char *const *labels, const sw_provenance *from)
{
    image finished = {NULL, 0};
    writer w = {.file = create_file(temporary, &finished)};
    if (w.file < 0)
        return sw_fail(context, SW_ERR_MEMORY, "memory for the results file \"%.300s\" could not be allocated", path);
    put_all(&w, count, histories, labels, from);
    if (H5Fflush(w.file, H5F_SCOPE_GLOBAL) < 0 || H5Fget_filesize(w.file, &finished.size) < 0)
        fail(&w, "the whole file");
    if (H5Fclose(w.file) < 0 || !finished.bytes)
        fail(&w, "the end of the file");
    if (w.failed) {
        free(finished.bytes);
        return sw_fail(context, SW_ERR_FILE, "the results file \"%.300s\" cannot be made: HDF5 refused %s", path, w.what);
    }
    errno = 0;
    bool done = write_bytes(temporary, finished.bytes, finished.size) && rename(temporary, path) == 0;
    free(finished.bytes);
    if (!done)
        return sw_fail(context, SW_ERR_FILE, "the results file \"%.300s\" cannot be written: %s", path,
                       errno ? strerror(errno) : "the disk refused it");
    return SW_OK;
}

static sw_status check_target(sw_context *context, const char *path, bool overwrite)
{
    struct stat about;
    if (stat(path, &about) == 0 && S_ISDIR(about.st_mode))
        return sw_fail(context, SW_ERR_FILE, "the results file \"%.300s\" is a directory", path);
    if (!overwrite && lstat(path, &about) == 0)
        return sw_fail(context, SW_ERR_EXISTS, "the results file \"%.300s\" exists already; it is only replaced if forced",
                       path);
    return SW_OK;
}

sw_status sw_results_write(sw_context *context, const char *path, size_t count, const sw_history *const *histories,
                           const char *const *labels, const sw_provenance *provenance, bool overwrite)
{
    char temporary[PATH_SIZE];
    if (count == 0)
        return sw_fail(context, SW_ERR_ARGUMENT, "there is no cook to write to \"%.300s\"", path);
    if (snprintf(temporary, sizeof temporary, "%s.part", path) >= (int)sizeof temporary)
        return sw_fail(context, SW_ERR_FILE, "the path \"%.60s...\" is too long", path);
    sw_status status = check_target(context, path, overwrite);
    if (status != SW_OK)
        return status;

    /* HDF5 would print its own errors; the caller's setting comes back afterwards. */
    H5E_auto2_t printer;
    void *printer_data;
    H5Eget_auto2(H5E_DEFAULT, &printer, &printer_data);
    H5Eset_auto2(H5E_DEFAULT, NULL, NULL);
    status = write_file(context, path, temporary, count, histories, labels, provenance);
    H5Eset_auto2(H5E_DEFAULT, printer, printer_data);
    if (status != SW_OK)
        unlink(temporary);
    return status;
}
