#include "section_mesh.h"

#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

/* A cell cut to less than this share of its rectangle joins a neighbour: slivers add stiffness and no accuracy. */
static const double smallest_share = 0.2;

/* Lengths below this share of a cell's edge are round-off of the clipping. */
static const double round_off = 1e-9;

enum { LEFT, RIGHT, BELOW, ABOVE, EDGE_COUNT };

/* A piece of the outline inside a cell. */
typedef struct segment {
    sw_point from, to;
} segment;

/* What is left of a grid rectangle inside the outline. */
typedef struct cut_cell {
    double area;                 /* in the plane [m2] */
    sw_point centroid;
    double aperture[EDGE_COUNT]; /* length of each grid edge inside the outline [m] */
    size_t first_segment, segment_count;
    size_t number;               /* in the mesh; SIZE_MAX if empty */
} cut_cell;

typedef struct builder {
    const sw_section *section;
    size_t nx, ny;
    cut_cell *cells; /* column by column, upwards */
    segment *segments;
    size_t segment_count, segment_capacity;
    sw_point *polygon, *clipped; /* scratch */
} builder;

static cut_cell *cell_at(const builder *b, size_t i, size_t j)
{
    return &b->cells[i * b->ny + j];
}

/* Keeps the part of a polygon on one side of a grid line (Sutherland and Hodgman). axis 0 clips x, 1 clips y. */
static size_t clip(const sw_point *in, size_t n, sw_point *out, int axis, double line, bool keep_above)
{
    size_t count = 0;
    for (size_t k = 0; k < n; k++) {
        sw_point p = in[k], q = in[(k + 1) % n];
        double dp = (axis == 0 ? p.x : p.y) - line, dq = (axis == 0 ? q.x : q.y) - line;
        bool p_in = keep_above ? dp >= 0.0 : dp <= 0.0, q_in = keep_above ? dq >= 0.0 : dq <= 0.0;
        if (p_in)
            out[count++] = p;
        if (p_in != q_in && dp != 0.0 && dq != 0.0) {
            double t = dp / (dp - dq);
            sw_point at = {p.x + t * (q.x - p.x), p.y + t * (q.y - p.y)};
            if (axis == 0)
                at.x = line;
            else
                at.y = line;
            out[count++] = at;
        }
    }
    return count;
}

static int add_segment(builder *b, sw_point from, sw_point to)
{
    if (b->segment_count == b->segment_capacity) {
        size_t capacity = b->segment_capacity ? 2 * b->segment_capacity : 256;
        segment *larger = realloc(b->segments, capacity * sizeof *larger);
        if (!larger)
            return -1;
        b->segments = larger;
        b->segment_capacity = capacity;
    }
    b->segments[b->segment_count++] = (segment){from, to};
    return 0;
}

/* Area, centroid, apertures and segments of the clipped polygon of a cell. */
static int measure(builder *b, cut_cell *cell, const sw_point *v, size_t n, double left, double right, double low,
                   double high)
{
    double area = 0.0, mx = 0.0, my = 0.0;
    double smallest = round_off * (right - left + high - low);
    cell->first_segment = b->segment_count;
    for (size_t k = 0; k < n; k++) {
        sw_point p = v[k], q = v[(k + 1) % n];
        double px = p.x - v[0].x, py = p.y - v[0].y, qx = q.x - v[0].x, qy = q.y - v[0].y;
        double cross = px * qy - qx * py;
        area += 0.5 * cross;
        mx += cross * (px + qx) / 6.0;
        my += cross * (py + qy) / 6.0;
        if (p.x == left && q.x == left)
            cell->aperture[LEFT] += p.y - q.y;
        else if (p.x == right && q.x == right)
            cell->aperture[RIGHT] += q.y - p.y;
        else if (p.y == low && q.y == low)
            cell->aperture[BELOW] += q.x - p.x;
        else if (p.y == high && q.y == high)
            cell->aperture[ABOVE] += p.x - q.x;
        else if (hypot(q.x - p.x, q.y - p.y) > smallest && add_segment(b, p, q) != 0)
            return -1;
    }
    cell->segment_count = b->segment_count - cell->first_segment;
    if (area > round_off * (right - left) * (high - low)) {
        cell->area = area;
        cell->centroid = (sw_point){v[0].x + mx / area, v[0].y + my / area};
    } else {
        cell->segment_count = 0;
    }
    return 0;
}

static int cut_all(builder *b)
{
    const sw_section *s = b->section;
    for (size_t i = 0; i < b->nx; i++)
        for (size_t j = 0; j < b->ny; j++) {
            double left = s->lines_x[i], right = s->lines_x[i + 1], low = s->lines_y[j], high = s->lines_y[j + 1];
            size_t n = s->vertex_count;
            memcpy(b->polygon, s->vertices, n * sizeof *b->polygon);
            n = clip(b->polygon, n, b->clipped, 0, left, true);
            n = clip(b->clipped, n, b->polygon, 0, right, false);
            n = clip(b->polygon, n, b->clipped, 1, low, true);
            n = clip(b->clipped, n, b->polygon, 1, high, false);
            if (n >= 3 && measure(b, cell_at(b, i, j), b->polygon, n, left, right, low, high) != 0)
                return -1;
        }
    return 0;
}

/* Numbers the cells; a sliver takes the number of the whole cell it shares its longest edge with. */
static size_t number_cells(builder *b)
{
    const sw_section *s = b->section;
    size_t count = 0;
    for (size_t k = 0; k < b->nx * b->ny; k++) {
        size_t i = k / b->ny, j = k % b->ny;
        double whole = (s->lines_x[i + 1] - s->lines_x[i]) * (s->lines_y[j + 1] - s->lines_y[j]);
        b->cells[k].number = b->cells[k].area >= smallest_share * whole ? count++ : SIZE_MAX;
    }
    size_t whole_count = count;
    for (size_t k = 0; k < b->nx * b->ny; k++) {
        cut_cell *cell = &b->cells[k];
        if (cell->number != SIZE_MAX || cell->area <= 0.0)
            continue;
        size_t i = k / b->ny, j = k % b->ny;
        const cut_cell *around[EDGE_COUNT] = {i > 0 ? cell_at(b, i - 1, j) : NULL,
                                              i + 1 < b->nx ? cell_at(b, i + 1, j) : NULL,
                                              j > 0 ? cell_at(b, i, j - 1) : NULL,
                                              j + 1 < b->ny ? cell_at(b, i, j + 1) : NULL};
        double longest = 0.0;
        for (int e = 0; e < EDGE_COUNT; e++)
            if (around[e] && around[e]->number < whole_count && cell->aperture[e] > longest) {
                longest = cell->aperture[e];
                cell->number = around[e]->number;
            }
        if (cell->number == SIZE_MAX)
            cell->number = count++;
    }
    return count;
}

/* Length in the third dimension at a distance along the section. */
static double depth_at(const sw_section *s, double x)
{
    return s->is_turned ? 2.0 * SW_PI * x * s->depth : s->depth;
}

static double safe_distance(double distance, double area)
{
    return fmax(distance, 1e-3 * sqrt(area));
}

static void fill_cells(const builder *b, sw_mesh *m)
{
    for (size_t k = 0; k < b->nx * b->ny; k++) {
        const cut_cell *cell = &b->cells[k];
        if (cell->number == SIZE_MAX)
            continue;
        /* Sums first: area in volume, moments in the centres. */
        m->volume[cell->number] += cell->area;
        m->across[cell->number] += cell->area * cell->centroid.x;
        m->position[cell->number] += cell->area * cell->centroid.y;
    }
    for (size_t i = 0; i < m->cell_count; i++) {
        m->across[i] /= m->volume[i];
        m->position[i] /= m->volume[i];
        /* By Pappus the volume of a turned cell is its area times the path of its centroid. */
        m->volume[i] *= depth_at(b->section, m->across[i]);
        if (b->section->region)
            m->region[i] = b->section->region((sw_point){m->across[i], m->position[i]}, b->section->region_data);
    }
}

static void add_face(const builder *b, sw_mesh *m, size_t a, size_t c, double length, double x, double y, bool upright,
                     double area_a, double area_c)
{
    if (a == c)
        return;
    double middle = upright ? x : 0.0;
    sw_face *f = &m->faces[m->face_count++];
    f->a = a;
    f->b = c;
    f->area = length * depth_at(b->section, x);
    f->distance_a = safe_distance(fabs(upright ? middle - m->across[a] : y - m->position[a]), area_a);
    f->distance_b = safe_distance(fabs(upright ? middle - m->across[c] : y - m->position[c]), area_c);
    f->along_fibres = upright && b->section->fibres_along;
}

static void add_outer_face(const builder *b, sw_mesh *m, const cut_cell *cell, sw_point from, sw_point to)
{
    double dx = to.x - from.x, dy = to.y - from.y, length = hypot(dx, dy);
    sw_point middle = {0.5 * (from.x + to.x), 0.5 * (from.y + to.y)};
    double nx = dy / length, ny = -dx / length; /* outward of a counter-clockwise outline */
    double distance = nx * (middle.x - m->across[cell->number]) + ny * (middle.y - m->position[cell->number]);
    m->boundary_faces[m->boundary_face_count++] = (sw_boundary_face){
        .cell = cell->number,
        .area = length * depth_at(b->section, middle.x),
        .distance = safe_distance(distance, cell->area),
        .height = middle.y - b->section->lines_y[0],
        .facing = ny,
        .along_fibres = b->section->fibres_along ? nx * nx : 0.0,
        .across = middle.x,
        .side = ny > 0.5 ? SW_SIDE_TOP : ny < -0.5 ? SW_SIDE_BOTTOM : SW_SIDE_END,
    };
}

/* The part of a grid edge that is inside one cell but not open to its neighbour is outer surface. */
static void add_closed_edge(const builder *b, sw_mesh *m, const cut_cell *cell, int edge, double length, size_t i,
                            size_t j)
{
    const sw_section *s = b->section;
    double left = s->lines_x[i], right = s->lines_x[i + 1], low = s->lines_y[j], high = s->lines_y[j + 1];
    if (length <= round_off * (right - left + high - low))
        return;
    if (edge == LEFT && i == 0 && (s->insulated_left || s->is_turned))
        return;
    /* Placed level with the cell's centroid, which is where its middle lies when the whole edge is closed. */
    double x = cell->centroid.x, y = cell->centroid.y, half = 0.5 * length;
    switch (edge) {
    case LEFT:
        add_outer_face(b, m, cell, (sw_point){left, y + half}, (sw_point){left, y - half});
        break;
    case RIGHT:
        add_outer_face(b, m, cell, (sw_point){right, y - half}, (sw_point){right, y + half});
        break;
    case BELOW:
        add_outer_face(b, m, cell, (sw_point){x - half, low}, (sw_point){x + half, low});
        break;
    default:
        add_outer_face(b, m, cell, (sw_point){x + half, high}, (sw_point){x - half, high});
        break;
    }
}

static void fill_faces(const builder *b, sw_mesh *m)
{
    const sw_section *s = b->section;
    for (size_t i = 0; i < b->nx; i++)
        for (size_t j = 0; j < b->ny; j++) {
            const cut_cell *cell = cell_at(b, i, j);
            if (cell->number == SIZE_MAX)
                continue;
            const cut_cell *right = i + 1 < b->nx ? cell_at(b, i + 1, j) : NULL;
            const cut_cell *above = j + 1 < b->ny ? cell_at(b, i, j + 1) : NULL;
            const cut_cell *left = i > 0 ? cell_at(b, i - 1, j) : NULL;
            const cut_cell *below = j > 0 ? cell_at(b, i, j - 1) : NULL;
            const cut_cell *around[EDGE_COUNT] = {left, right, below, above};
            const int opposite[EDGE_COUNT] = {RIGHT, LEFT, ABOVE, BELOW};
            double open[EDGE_COUNT];
            for (int e = 0; e < EDGE_COUNT; e++) {
                bool there = around[e] && around[e]->number != SIZE_MAX;
                open[e] = there ? fmax(0.0, fmin(cell->aperture[e], around[e]->aperture[opposite[e]])) : 0.0;
                add_closed_edge(b, m, cell, e, cell->aperture[e] - open[e], i, j);
            }
            double smallest = round_off * (s->lines_x[i + 1] - s->lines_x[i] + s->lines_y[j + 1] - s->lines_y[j]);
            if (open[RIGHT] > smallest)
                add_face(b, m, cell->number, right->number, open[RIGHT], s->lines_x[i + 1], cell->centroid.y, true,
                         cell->area, right->area);
            if (open[ABOVE] > smallest)
                add_face(b, m, cell->number, above->number, open[ABOVE], cell->centroid.x, s->lines_y[j + 1], false,
                         cell->area, above->area);
            for (size_t k = 0; k < cell->segment_count; k++) {
                const segment *piece = &b->segments[cell->first_segment + k];
                add_outer_face(b, m, cell, piece->from, piece->to);
            }
        }
}

static sw_mesh *allocate_section(size_t cells, size_t grid, size_t segments)
{
    sw_mesh *m = calloc(1, sizeof *m);
    if (!m)
        return NULL;
    m->cell_count = cells;
    m->volume = calloc(cells, sizeof *m->volume);
    m->position = calloc(cells, sizeof *m->position);
    m->across = calloc(cells, sizeof *m->across);
    m->region = calloc(cells, sizeof *m->region);
    m->faces = calloc(2 * grid, sizeof *m->faces);
    m->boundary_faces = calloc(4 * grid + segments, sizeof *m->boundary_faces);
    if (!m->volume || !m->position || !m->across || !m->region || !m->faces || !m->boundary_faces) {
        sw_mesh_destroy(m);
        return NULL;
    }
    return m;
}

static bool grid_covers_outline(const sw_section *s)
{
    for (size_t k = 0; k < s->vertex_count; k++)
        if (s->vertices[k].x < s->lines_x[0] || s->vertices[k].x > s->lines_x[s->line_count_x - 1] ||
            s->vertices[k].y < s->lines_y[0] || s->vertices[k].y > s->lines_y[s->line_count_y - 1])
            return false;
    return true;
}

static void free_builder(builder *b)
{
    free(b->cells);
    free(b->segments);
    free(b->polygon);
    free(b->clipped);
}

sw_status sw_section_mesh_create(const sw_section *section, sw_mesh **mesh)
{
    if (section->line_count_x < 2 || section->line_count_y < 2 || section->vertex_count < 3 ||
        !grid_covers_outline(section) || sw_outline_area(section->vertex_count, section->vertices) <= 0.0)
        return SW_ERR_ARGUMENT;
    builder b = {.section = section, .nx = section->line_count_x - 1, .ny = section->line_count_y - 1};
    size_t grid = b.nx * b.ny, scratch = 2 * section->vertex_count + 16;
    b.cells = calloc(grid, sizeof *b.cells);
    b.polygon = malloc(scratch * sizeof *b.polygon);
    b.clipped = malloc(scratch * sizeof *b.clipped);
    if (!b.cells || !b.polygon || !b.clipped || cut_all(&b) != 0) {
        free_builder(&b);
        return SW_ERR_MEMORY;
    }
    sw_mesh *m = allocate_section(number_cells(&b), grid, b.segment_count);
    if (!m) {
        free_builder(&b);
        return SW_ERR_MEMORY;
    }
    m->mirrored_left = section->insulated_left || section->is_turned;
    fill_cells(&b, m);
    fill_faces(&b, m);
    free_builder(&b);
    *mesh = m;
    return SW_OK;
}

sw_probe sw_section_probe(const sw_mesh *mesh, sw_point place)
{
    size_t nearest = 0;
    double best = HUGE_VAL;
    for (size_t i = 0; i < mesh->cell_count; i++) {
        double distance = hypot(mesh->across[i] - place.x, mesh->position[i] - place.y);
        if (distance < best) {
            best = distance;
            nearest = i;
        }
    }
    sw_probe probe = {.count = 1, .cell = {nearest}, .weight = {1.0}};
    bool has_cell_to_the_left = false;
    double dx[SW_PROBE_CELLS_MAX], dy[SW_PROBE_CELLS_MAX], xx = 0.0, xy = 0.0, yy = 0.0;
    for (size_t i = 0; i < mesh->face_count && probe.count < SW_PROBE_CELLS_MAX; i++) {
        const sw_face *face = &mesh->faces[i];
        if (face->a != nearest && face->b != nearest)
            continue;
        size_t k = probe.count++, other = face->a == nearest ? face->b : face->a;
        probe.cell[k] = other;
        dx[k] = mesh->across[other] - mesh->across[nearest];
        dy[k] = mesh->position[other] - mesh->position[nearest];
        xx += dx[k] * dx[k];
        xy += dx[k] * dy[k];
        yy += dy[k] * dy[k];
        has_cell_to_the_left = has_cell_to_the_left || dx[k] < -fabs(dy[k]);
    }
    double determinant = xx * yy - xy * xy, px = place.x - mesh->across[nearest], py = place.y - mesh->position[nearest];
    /* Towards a plane of symmetry the temperature levels out: the gradient to the other side would be carried too far. */
    if (mesh->mirrored_left && px < 0.0 && !has_cell_to_the_left)
        px = 0.0;
    if (!(determinant > 1e-9 * xx * yy)) {
        probe.count = 1; /* neighbours on one line give no gradient */
        return probe;
    }
    for (size_t k = 1; k < probe.count; k++) {
        double gx = (yy * dx[k] - xy * dy[k]) / determinant, gy = (xx * dy[k] - xy * dx[k]) / determinant;
        probe.weight[k] = px * gx + py * gy;
        probe.weight[0] -= probe.weight[k];
    }
    return probe;
}
