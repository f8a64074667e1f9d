/* SPDX-License-Identifier: BSD-3-Clause */
#include <stallwright/ranking.h>

static size_t best_by(sw_criterion by, const sw_run *runs, size_t count)
{
    sw_ranking other;
    sw_rank(by, runs, count, &other);
    return other.order[0];
}

static bool is_price(sw_criterion by, const sw_run *first, const sw_run *best)
{
    return sw_is_better(by, best, first) && (by != SW_BY_TENDER || best->outcome.tenderness != first->outcome.tenderness);
}

static void find_prices(const sw_run *runs, size_t count, sw_recommendation *r)
{
    for (int i = 0; i < SW_BY_COUNT; i++) {
        const sw_criterion by = (sw_criterion)i;
        const size_t best = best_by(by, runs, count);
        if (by != r->ranking.by && is_price(by, &runs[r->first], &runs[best]))
            r->prices[r->price_count++] = (sw_price){by, best};
    }
}

void sw_recommend(sw_criterion by, const sw_run *runs, size_t count, sw_recommendation *r)
{
    *r = (sw_recommendation){.level = 0};
    sw_rank(by, runs, count, &r->ranking);
    const sw_ranking *ranking = &r->ranking;
    while (r->level < ranking->count && ranking->place[r->level] == 1)
        r->level++;
    if (r->level == 0)
        return;
    r->first = ranking->order[0];
    r->last = ranking->order[ranking->count - 1];
    r->has_contrast = r->level < ranking->count;
    find_prices(runs, count, r);
}
