/* SPDX-License-Identifier: BSD-3-Clause */
/* Fat that has rendered since a wrap went on: between the steps at which it is told it goes on at its last rate. */
#ifndef SW_RENDERED_FAT_H
#define SW_RENDERED_FAT_H

#include <math.h>

typedef struct sw_rendered_fat {
    double before; /* rendered before the wrap went on [kg] */
    double mass;   /* since, when last told [kg] */
    double rate;   /* [kg s-1] */
    double time;   /* when last told [s] */
} sw_rendered_fat;

/* A wrap goes on; rendered: so far [kg]. */
static inline sw_rendered_fat sw_rendered_fat_from(double time, double rendered)
{
    return (sw_rendered_fat){.before = rendered, .time = time};
}

static inline double sw_rendered_fat_at(const sw_rendered_fat *f, double time)
{
    return fmax(0.0, f->mass + f->rate * (time - f->time));
}

/* rendered: in all, at that time [kg]. */
static inline void sw_rendered_fat_tell(sw_rendered_fat *f, double time, double rendered)
{
    const double mass = rendered - f->before;
    if (time > f->time)
        f->rate = (mass - f->mass) / (time - f->time);
    f->mass = mass;
    f->time = time;
}

#endif
