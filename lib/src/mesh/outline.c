#include "section_mesh.h"

#include <math.h>
#include <stdio.h>

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

sw_status sw_outline_check(size_t n, const sw_point *v, char *reason, size_t size)
{
    if (n < 3) {
        snprintf(reason, size, "it has %zu corners; at least 3 are needed", n);
        return SW_ERR_RANGE;
    }
    for (size_t i = 0; i < n; i++) {
        size_t next = (i + 1) % n;
        if (!isfinite(v[i].x) || !isfinite(v[i].y)) {
            snprintf(reason, size, "corner %zu is not a number", i + 1);
            return SW_ERR_RANGE;
        }
        if (v[i].x == v[next].x && v[i].y == v[next].y) {
            snprintf(reason, size, "corners %zu and %zu are the same point", i + 1, next + 1);
            return SW_ERR_RANGE;
        }
    }
    for (size_t i = 0; i < n; i++)
        for (size_t j = i + 2; j < n; j++) {
            if (i == 0 && j == n - 1)
                continue; /* neighbours round the corner */
            if (segments_meet(v[i], v[i + 1], v[j], v[(j + 1) % n])) {
                snprintf(reason, size, "its edges %zu and %zu cross or touch", i + 1, j + 1);
                return SW_ERR_RANGE;
            }
        }
    double low_x = v[0].x, high_x = v[0].x, low_y = v[0].y, high_y = v[0].y;
    for (size_t i = 1; i < n; i++) {
        low_x = fmin(low_x, v[i].x);
        high_x = fmax(high_x, v[i].x);
        low_y = fmin(low_y, v[i].y);
        high_y = fmax(high_y, v[i].y);
    }
    if (!(fabs(sw_outline_area(n, v)) > 1e-9 * (high_x - low_x + high_y - low_y) * (high_x - low_x + high_y - low_y))) {
        snprintf(reason, size, "it encloses no area");
        return SW_ERR_RANGE;
    }
    return SW_OK;
}
