/* The loads that a demand counts by themselves. */
#include <math.h>
#include <string.h>

#include "ampsum/engine.h"
#include "demand_parts.h"

enum { SLOT_COUNT = 3, HOW_ITEMS_MOST = 8 };

void demand_nameplate(const struct house *house, const struct appliance *appliance, double *ret_va, double *ret_a)
{
    const struct branch *branch = &house->branches[appliance->branch];
    struct draw draw = appliance_draw(house, appliance, appliance->plate_v);
    double rated_a = appliance_line_a(house, appliance, draw.apparent_va, appliance->plate_v);
    if (appliance->rating == RATING_CURRENT || appliance->rating == RATING_HORSEPOWER) {
        /* 220.5(A): amperes of a nameplate count at the nominal voltage. */
        *ret_va = draw.apparent_va / appliance->plate_v * branch->voltage_v;
        *ret_a = rated_a;
        return;
    }
    *ret_va = draw.apparent_va;
    *ret_a = appliance_line_a(house, appliance, draw.apparent_va, branch->voltage_v);
}

bool demand_is_added(const struct demand_work *work, const struct demand_item *item)
{
    return work->options.added_from != NO_INDEX && item->appliance >= work->options.added_from;
}

struct demand_item demand_item_of(const struct demand_work *work, size_t appliance, size_t branch)
{
    const struct appliance *load = &work->house->appliances[appliance];
    struct demand_item item = {.appliance = appliance, .branch = branch, .units = load->count};
    demand_nameplate(work->house, load, &item.unit_va, &item.unit_current_a);
    if (demand_is_added(work, &item) && load->continuous != 0 && work->options.added_times > 0) {
        item.unit_va *= work->options.added_times;
        item.unit_current_a *= work->options.added_times;
    }
    return item;
}

void demand_item_add(struct demand_work *work, struct demand_item item)
{
    work->items = memory_grow(work->items, work->item_count, &work->item_capacity, sizeof *work->items);
    work->items[work->item_count++] = item;
}

double demand_item_va(const struct demand_item *item)
{
    return item->unit_va * item->units;
}

const char *demand_item_name(struct demand_work *work, const struct demand_item *item)
{
    if (work->quiet) {
        return "";
    }
    if (item->appliance == NO_INDEX) {
        return work->house->branches[item->branch].label;
    }
    const char *name = work->house->appliances[item->appliance].name;
    return item->units > 1 ? demand_text(work, "%s, %u of them", name, item->units) : name;
}

const char *demand_item_how(struct demand_work *work, const struct demand_item *item)
{
    return item->units > 1 ? demand_text(work, "%u x %s VA", item->units, demand_figure(work, item->unit_va)) : "";
}

static size_t group_place(const struct demand_work *work, const struct demand_item *item, int (*slot_of)(int kind))
{
    if (item->appliance == NO_INDEX) {
        return NO_INDEX;
    }
    size_t group = work->house->appliances[item->appliance].group_index;
    return group == NO_INDEX ? NO_INDEX : group * SLOT_COUNT + (size_t)slot_of(item->kind);
}

int demand_one_slot(int kind)
{
    (void)kind;
    return 0;
}

static void add_dropped_line(struct demand_work *work, const struct demand_item *item)
{
    const struct appliance *appliance = &work->house->appliances[item->appliance];
    demand_add(work, &work->demand->lines, DEMAND_LEFT_OUT, demand_item_name(work, item),
               demand_text(work, "only one of group %s is on at once, and another is larger", appliance->group),
               demand_item_va(item), 0, demand_rule_source(work, "noncoincident-share"));
}

void demand_drop_groups(struct demand_work *work, int (*slot_of)(int kind))
{
    if (work->house->group_count == 0) {
        return;
    }
    if (work->group_best == NULL) {
        size_t places = work->house->group_count * SLOT_COUNT;
        work->group_best = memory_resize(NULL, places, sizeof *work->group_best);
        memset(work->group_best, 0xFF, places * sizeof *work->group_best); /* NO_INDEX */
    }
    for (size_t i = 0; i < work->item_count; i++) {
        size_t place = group_place(work, &work->items[i], slot_of);
        if (place == NO_INDEX) {
            continue;
        }
        size_t best = work->group_best[place];
        bool larger =
            best == NO_INDEX || demand_item_va(&work->items[i]) > demand_item_va(&work->items[best]) * (1 + 1e-9);
        if (best != NO_INDEX) {
            work->items[larger ? best : i].dropped = true;
        }
        work->group_best[place] = larger ? i : best;
    }
    for (size_t i = 0; i < work->item_count; i++) {
        size_t place = group_place(work, &work->items[i], slot_of);
        if (place != NO_INDEX) {
            work->group_best[place] = NO_INDEX;
            if (work->items[i].dropped) {
                add_dropped_line(work, &work->items[i]);
            }
        }
    }
}

/* "3 x 1500 + 4000 VA", or "" where there are too many, or a single one, to be worth reading. */
static const char *sum_text(struct demand_work *work, int kind)
{
    struct text text = {0};
    size_t parts = 0;
    unsigned most_units = 0;
    for (size_t i = 0; i < work->item_count && parts <= HOW_ITEMS_MOST; i++) {
        const struct demand_item *item = &work->items[i];
        if (item->kind != kind || item->dropped) {
            continue;
        }
        text_add(&text, parts++ > 0 ? " + " : "");
        most_units = item->units > most_units ? item->units : most_units;
        if (item->units > 1) {
            text_printf(&text, "%u x ", item->units);
        }
        text_add_rounded(&text, item->unit_va, 2);
    }
    bool worth = (parts > 1 || most_units > 1) && parts <= HOW_ITEMS_MOST;
    const char *copy = worth ? demand_text(work, "%s VA", text_string(&text)) : "";
    text_done(&text);
    return copy;
}

void demand_sum_items(struct demand_work *work)
{
    for (size_t i = 0; i < work->item_count; i++) {
        const struct demand_item *item = &work->items[i];
        if (!item->dropped) {
            work->sums[item->kind].va += demand_item_va(item);
            work->sums[item->kind].units += item->units;
        }
    }
}

struct demand_sum demand_sum_of(struct demand_work *work, int kind)
{
    struct demand_sum sum = work->sums[kind];
    sum.how = work->quiet ? "" : sum_text(work, kind);
    return sum;
}

void demand_item_lines(struct demand_work *work, const struct demand_item *item, double share)
{
    unsigned legs = work->house->branches[item->branch].legs;
    for (unsigned leg = 0; leg < LEG_COUNT; leg++) {
        if ((legs >> leg & 1U) != 0) {
            work->line_a[leg] += item->unit_current_a * item->units * share;
        }
    }
}
