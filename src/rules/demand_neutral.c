/* The neutral of a service or feeder under us rules, 220.61. */
#include <stdlib.h>

#include "demand_parts.h"

static double neutral_kind_va(const struct demand_work *work, int kind)
{
    double va = 0;
    for (size_t i = 0; i < work->item_count; i++) {
        const struct demand_item *item = &work->items[i];
        va += item->kind == kind && !item->dropped && us_on_neutral(work, item) ? demand_item_va(item) : 0;
    }
    return va;
}

static void neutral_items(struct demand_work *work, int kind)
{
    for (size_t i = 0; i < work->item_count; i++) {
        const struct demand_item *item = &work->items[i];
        if (item->kind != kind || item->dropped || !us_on_neutral(work, item)) {
            continue;
        }
        demand_add(work, &work->demand->neutral, DEMAND_COUNTED, demand_item_name(work, item), "",
                   us_larger(item->unit_va, kind == US_VEHICLE ? us_vehicle_least_va(work, item) : 0) * item->units,
                   us_fixed_factor(work, item), demand_rule_source(work, "neutral-loads"));
    }
}

static int descending(const void *a, const void *b)
{
    double left = *(const double *)a;
    double right = *(const double *)b;
    return left < right ? 1 : left > right ? -1 : 0;
}

/*
 * Amperes of the line-to-neutral items by Annex D, example D1(b): the largest of leg A stands against the largest of
 * leg B, the next against the next, and the larger of each pair loads the neutral.
 */
static double paired_a(struct demand_work *work)
{
    double *leg_a[2];
    size_t count[2] = {0, 0};
    leg_a[0] = memory_resize(NULL, work->item_count + 1, sizeof(double));
    leg_a[1] = memory_resize(NULL, work->item_count + 1, sizeof(double));
    bool cool =
        neutral_kind_va(work, US_COOLING) > neutral_kind_va(work, US_HEATING) + neutral_kind_va(work, US_HEAT_PUMP);
    for (size_t i = 0; i < work->item_count; i++) {
        const struct demand_item *item = &work->items[i];
        if (!us_item_counts(item, cool) || !us_on_neutral(work, item) || item->kind == US_COOKING ||
            item->kind == US_DRYER) {
            continue;
        }
        size_t leg = work->house->branches[item->branch].legs == LEG_A ? 0 : 1;
        leg_a[leg][count[leg]++] = item->unit_current_a * item->units * us_fixed_factor(work, item);
    }
    qsort(leg_a[0], count[0], sizeof(double), descending);
    qsort(leg_a[1], count[1], sizeof(double), descending);
    double sum_a = 0;
    for (size_t i = 0; i < count[0] || i < count[1]; i++) {
        sum_a += us_larger(i < count[0] ? leg_a[0][i] : 0, i < count[1] ? leg_a[1][i] : 0);
    }
    free(leg_a[0]);
    free(leg_a[1]);
    return sum_a;
}

static void share_line(struct demand_work *work, const char *what, double load_va)
{
    if (load_va > 0) {
        demand_add(work, &work->demand->neutral, DEMAND_COUNTED, what, "", load_va,
                   demand_rule(work, "neutral-share") / 100, demand_rule_source(work, "neutral-share"));
    }
}

static void plain_line(struct demand_work *work, const char *what, double load_va)
{
    if (load_va > 0) {
        demand_add(work, &work->demand->neutral, DEMAND_COUNTED, what, "", load_va, 1,
                   demand_rule_source(work, "neutral-loads"));
    }
}

void us_neutral(struct demand_work *work, const struct us_general *general)
{
    if (work->quiet) {
        return;
    }
    struct demand *demand = work->demand;
    plain_line(work, "General load after the demand table", general->net_va);
    share_line(work, "Cooking appliances", us_cooking(work, NULL));
    share_line(work, "Clothes dryers", us_dryers(work, NULL));
    double balanced_va = demand->neutral_va;
    plain_line(work, "Lighting and plug-in loads as connected", work->connected_neutral_va);
    neutral_items(work, US_FIXED);
    neutral_items(work, US_OWN_BRANCH);
    neutral_items(work, US_VEHICLE);
    double cooling_va = neutral_kind_va(work, US_COOLING);
    double heating_va = neutral_kind_va(work, US_HEATING) + neutral_kind_va(work, US_HEAT_PUMP);
    plain_line(work,
               cooling_va > heating_va ? "Air conditioning between leg and neutral"
                                       : "Space heating between leg and neutral",
               us_larger(cooling_va, heating_va));
    us_motor_line(work, &demand->neutral, work->neutral_motor);
    if (work->house->system == SYSTEM_SPLIT_PHASE && work->options.panel == 0) {
        double share = demand_rule(work, "motor-demand-factor") - 1;
        demand->neutral_line_a = balanced_va / demand->divisor_v + paired_a(work) +
                                 (work->neutral_motor != NULL ? share * work->neutral_motor->unit_current_a : 0);
    }
}
