/* Household cooking appliances by Table 220.55, us rules. */
#include <math.h>

#include "demand_parts.h"

#define VA_PER_KVA 1000.0 /* exact; ranges count kVA as kW */

/* The appliances of one column. */
struct column {
    unsigned count;
    double sum_va;
    double at_least_va; /* column C: each taken as no smaller than the column's rating */
};

struct columns {
    struct column a, b, c;
};

static void put(struct column *column, const struct demand_item *item, double least_va)
{
    column->count += item->units;
    column->sum_va += demand_item_va(item);
    column->at_least_va += (item->unit_va > least_va ? item->unit_va : least_va) * item->units;
}

static struct columns sort_columns(const struct demand_work *work)
{
    struct columns columns = {0};
    double a_va = demand_rule(work, "range-column-a");
    double b_va = demand_rule(work, "range-column-b");
    double c_va = demand_rule(work, "range-column-c");
    for (size_t i = 0; work->sums[US_COOKING].units > 0 && i < work->item_count; i++) {
        const struct demand_item *item = &work->items[i];
        if (item->kind != US_COOKING || item->dropped) {
            continue;
        }
        struct column *column = item->unit_va < a_va                 ? &columns.a
                                : item->unit_va <= b_va * (1 + 1e-9) ? &columns.b
                                                                     : &columns.c;
        put(column, item, c_va);
    }
    return columns;
}

static const char *table_source(struct demand_work *work)
{
    const struct ref_demand_range *row = reference_demand_range(work->rules, 1);
    return demand_source(work, "", row->edition, row->source);
}

static void add(struct demand_work *work, struct demand_list *list, const char *what, const char *how, double load_va,
                double counted_va)
{
    if (list != NULL) {
        demand_add(work, list, DEMAND_COUNTED, what, how, load_va, counted_va / load_va, table_source(work));
    }
}

/*
 * Columns A and B, each by its own number (note 3); column C for all of them together where that is less, as the table
 * stands in the first place.
 */
static double small_va(struct demand_work *work, struct demand_list *list, const struct columns *columns)
{
    const struct column *a = &columns->a;
    const struct column *b = &columns->b;
    unsigned count = a->count + b->count;
    if (count == 0) {
        return 0;
    }
    const struct ref_demand_range *row_a = reference_demand_range(work->rules, (int)a->count);
    const struct ref_demand_range *row_b = reference_demand_range(work->rules, (int)b->count);
    double a_va = row_a != NULL ? a->sum_va * row_a->a_percent / 100 : 0;
    double b_va = row_b != NULL ? b->sum_va * row_b->b_percent / 100 : 0;
    double c_va = reference_demand_range_kw(reference_demand_range(work->rules, (int)count), (int)count) * VA_PER_KVA;
    if (c_va < a_va + b_va) {
        add(work, list, demand_text(work, "Cooking appliances, %u of them, column C", count),
            demand_text(work, "%s VA for all, less than by columns A and B", demand_figure(work, c_va)),
            a->sum_va + b->sum_va, c_va);
        return c_va;
    }
    if (a->count > 0) {
        add(work, list, demand_text(work, "Cooking appliances, %u of them, column A", a->count), "", a->sum_va, a_va);
    }
    if (b->count > 0) {
        add(work, list, demand_text(work, "Cooking appliances, %u of them, column B", b->count), "", b->sum_va, b_va);
    }
    return a_va + b_va;
}

/* Column C with notes 1 and 2: 5 % more for each kW, or major fraction, of the average above the column's rating. */
static double large_va(struct demand_work *work, struct demand_list *list, const struct column *c)
{
    if (c->count == 0) {
        return 0;
    }
    double rating_va = demand_rule(work, "range-column-c");
    double average_va = c->at_least_va / c->count;
    double over_kw = (average_va - rating_va) / VA_PER_KVA;
    double steps = over_kw > 0 ? floor(over_kw + 0.5) : 0;
    double increase = steps * demand_rule(work, "range-increase") / 100;
    double table_va =
        reference_demand_range_kw(reference_demand_range(work->rules, (int)c->count), (int)c->count) * VA_PER_KVA;
    double counted_va = table_va * (1 + increase);
    const char *how = demand_text(work, "%s VA for %u", demand_figure(work, table_va), c->count);
    if (increase > 0) {
        how = demand_text(work, "%s, and %s %% more: the average of %s VA is %s kW over", how,
                          demand_figure(work, 100 * increase), demand_figure(work, average_va),
                          demand_figure(work, steps));
    }
    add(work, list, c->count > 1 ? demand_text(work, "Ranges, %u of them, column C", c->count) : "Range, column C", how,
        c->sum_va, counted_va);
    return counted_va;
}

double us_cooking(struct demand_work *work, struct demand_list *list)
{
    struct columns columns = sort_columns(work);
    double va = small_va(work, list, &columns);
    return va + large_va(work, list, &columns.c);
}
