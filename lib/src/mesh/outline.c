/* SPDX-License-Identifier: BSD-3-Clause */
#include "section_mesh.h"

#include <math.h>

double sw_outline_area(size_t n, const sw_point *v)
{
    double sum = 0.0;
    for (size_t i = 0, j = n - 1; i < n; j = i++)
        sum += (v[j].x - v[0].x) * (v[i].y - v[0].y) - (v[i].x - v[0].x) * (v[j].y - v[0].y);
    return 0.5 * sum;
}

bool sw_outline_contains(size_t n, const sw_point *v, sw_point p)
{
    bool inside = false;
    for (size_t i = 0, j = n - 1; i < n; j = i++)
        if ((v[i].y > p.y) != (v[j].y > p.y) &&
            p.x < (v[j].x - v[i].x) * (p.y - v[i].y) / (v[j].y - v[i].y) + v[i].x)
            inside = !inside;
    return inside;
}

static double turn(sw_point a, sw_point b, sw_point c)
{
    return (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);
}

static bool is_between(double a, double b, double c)
{
    return fmin(a, b) <= c && c <= fmax(a, b);
}

/* Whether the closed segments a-b and c-d share a point. */
static bool segments_meet(sw_point a, sw_point b, sw_point c, sw_point d)
{
    double abc = turn(a, b, c), abd = turn(a, b, d), cda = turn(c, d, a), cdb = turn(c, d, b);
    if (((abc > 0.0 && abd < 0.0) || (abc < 0.0 && abd > 0.0)) && ((cda > 0.0 && cdb < 0.0) || (cda < 0.0 && cdb > 0.0)))
        return true;
    return (abc == 0.0 && is_between(a.x, b.x, c.x) && is_between(a.y, b.y, c.y)) ||
           (abd == 0.0 && is_between(a.x, b.x, d.x) && is_between(a.y, b.y, d.y)) ||
           (cda == 0.0 && is_between(c.x, d.x, a.x) && is_between(c.y, d.y, a.y)) ||
           (cdb == 0.0 && is_between(c.x, d.x, b.x) && is_between(c.y, d.y, b.y));
}

/* Where two segments that meet do; an end of the second if they lie on one line. */
static sw_point crossing_of(sw_point a, sw_point b, sw_point c, sw_point d)
{
    double across = (b.x - a.x) * (d.y - c.y) - (b.y - a.y) * (d.x - c.x);
    if (across == 0.0)
        return turn(a, b, c) == 0.0 && is_between(a.x, b.x, c.x) && is_between(a.y, b.y, c.y) ? c : d;
    double share = ((c.x - a.x) * (d.y - c.y) - (c.y - a.y) * (d.x - c.x)) / across;
    return (sw_point){a.x + share * (b.x - a.x), a.y + share * (b.y - a.y)};
}

static sw_status check_corners(size_t n, const sw_point *v, sw_misfit *misfit)
{
    for (size_t i = 0; i < n; i++) {
        size_t next = (i + 1) % n;
        bool is_number = isfinite(v[i].x) && isfinite(v[i].y), is_same = v[i].x == v[next].x && v[i].y == v[next].y;
        if (is_number && !is_same)
            continue;
        *misfit = (sw_misfit){is_number ? SW_MISFIT_SAME_CORNERS : SW_MISFIT_NO_NUMBER, .number = i, .other = next, .place = v[i]};
        return SW_ERR_RANGE;
    }
    return SW_OK;
}

static sw_status check_crossings(size_t n, const sw_point *v, sw_misfit *misfit)
{
    for (size_t i = 0; i < n; i++)
        for (size_t j = i + 2; j < n; j++) {
            if (i == 0 && j == n - 1)
                continue; /* neighbours round the corner */
            sw_point a = v[i], b = v[i + 1], c = v[j], d = v[(j + 1) % n];
            if (segments_meet(a, b, c, d)) {
                *misfit = (sw_misfit){SW_MISFIT_CROSSING, .number = i, .other = j, .place = crossing_of(a, b, c, d)};
                return SW_ERR_RANGE;
            }
        }
    return SW_OK;
}

sw_status sw_outline_check(size_t n, const sw_point *v, sw_misfit *misfit)
{
    if (n < 3) {
        *misfit = (sw_misfit){SW_MISFIT_FEW_CORNERS, .number = n};
        return SW_ERR_RANGE;
    }
    if (check_corners(n, v, misfit) != SW_OK || check_crossings(n, v, misfit) != SW_OK)
        return SW_ERR_RANGE;
    double low_x = v[0].x, high_x = v[0].x, low_y = v[0].y, high_y = v[0].y;
    for (size_t i = 1; i < n; i++) {
        low_x = fmin(low_x, v[i].x);
        high_x = fmax(high_x, v[i].x);
        low_y = fmin(low_y, v[i].y);
        high_y = fmax(high_y, v[i].y);
    }
    double around = high_x - low_x + high_y - low_y;
    if (fabs(sw_outline_area(n, v)) > 1e-9 * around * around)
        return SW_OK;
    *misfit = (sw_misfit){.kind = SW_MISFIT_NO_AREA};
    return SW_ERR_RANGE;
}
