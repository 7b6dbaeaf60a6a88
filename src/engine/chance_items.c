#include "chance_items.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "ampsum/arena.h"

struct builder {
    struct items *items;
    const struct chance_load *loads;
    const struct chance_span *spans;
    double grid_a;
    size_t *ranks;   /* of each load */
    size_t *stretch; /* of each minute, the stretch that begins there */
};

static void edges_init(struct builder *builder, size_t span_count);
static void ranks_init(struct builder *builder, size_t load_count);
static void add_single(struct builder *builder, const struct chance_span *span);
static size_t *group_spans(const struct builder *builder, size_t span_count, size_t *ret_count);
static void add_group(struct builder *builder, const size_t *order, size_t count);
static int compare_items(const void *a, const void *b, void *items);

static bool is_grouped(const struct builder *builder, const struct chance_span *span)
{
    return builder->loads[span->load].group != CHANCE_NO_GROUP;
}

void chance_items_init(struct items *items, const struct chance_load *loads, size_t load_count,
                       const struct chance_span *spans, size_t span_count, int minutes, double grid_a)
{
    *items = (struct items){.minutes = minutes, .on_grid = true};
    struct builder builder = {.items = items, .loads = loads, .spans = spans, .grid_a = grid_a};
    edges_init(&builder, span_count);
    ranks_init(&builder, load_count);
    for (size_t i = 0; i < span_count; i++) {
        assert(spans[i].load < load_count && spans[i].probability >= 0 && spans[i].probability <= 1);
        if (spans[i].probability > 0 && !is_grouped(&builder, &spans[i])) {
            add_single(&builder, &spans[i]);
        }
    }
    size_t grouped = 0;
    size_t *order = group_spans(&builder, span_count, &grouped);
    for (size_t i = 0, end; i < grouped; i = end) {
        end = i + 1;
        while (end < grouped && loads[spans[order[end]].load].group == loads[spans[order[i]].load].group) {
            end++;
        }
        add_group(&builder, order + i, end - i);
    }
    free(order);
    free(builder.ranks);
    free(builder.stretch);
    if (items->row_count > 1) {
        qsort_r(items->rows, items->row_count, sizeof *items->rows, compare_items, items);
    }
}

void chance_items_done(struct items *items)
{
    free(items->edges);
    free(items->rows);
    free(items->outcomes);
}

size_t chance_items_mean_steps(const struct items *items)
{
    double *changes = memory_resize(NULL, items->stretch_count + 1, sizeof *changes);
    for (size_t i = 0; i <= items->stretch_count; i++) {
        changes[i] = 0;
    }
    for (size_t i = 0; i < items->row_count; i++) {
        for (size_t j = 0; j < items->rows[i].outcome_count; j++) {
            const struct outcome *outcome = &items->outcomes[items->rows[i].first_outcome + j];
            changes[items->rows[i].first] += outcome->probability * (double)outcome->steps_down;
            changes[items->rows[i].end] -= outcome->probability * (double)outcome->steps_down;
        }
    }
    double now = 0;
    double most = 0;
    for (size_t i = 0; i < items->stretch_count; i++) {
        now += changes[i];
        most = fmax(most, now);
    }
    free(changes);
    return (size_t)fmin(most, 1e15);
}

static void edges_init(struct builder *builder, size_t span_count)
{
    size_t minutes = (size_t)builder->items->minutes;
    bool *is_edge = memory_new(minutes + 1);
    memset(is_edge, 0, minutes + 1);
    is_edge[0] = true;
    is_edge[minutes] = true;
    for (size_t i = 0; i < span_count; i++) {
        const struct chance_span *span = &builder->spans[i];
        assert(span->start_min >= 0 && span->start_min < span->end_min && span->end_min <= builder->items->minutes);
        is_edge[span->start_min] = true;
        is_edge[span->end_min] = true;
    }
    builder->items->edges = memory_resize(NULL, minutes + 1, sizeof *builder->items->edges);
    builder->stretch = memory_resize(NULL, minutes + 1, sizeof *builder->stretch);
    size_t count = 0;
    for (size_t minute = 0; minute <= minutes; minute++) {
        builder->stretch[minute] = count;
        if (is_edge[minute]) {
            builder->items->edges[count++] = (int)minute;
        }
    }
    builder->items->stretch_count = count - 1;
    free(is_edge);
}

struct motor_order {
    const struct chance_load *loads;
};

static int compare_motors(const void *a, const void *b, void *order_void)
{
    const struct motor_order *order = order_void;
    size_t i = *(const size_t *)a;
    size_t j = *(const size_t *)b;
    double i_a = order->loads[i].motor_unit_a;
    double j_a = order->loads[j].motor_unit_a;
    return i_a > j_a ? -1 : i_a < j_a ? 1 : i < j ? -1 : i > j;
}

/* Ranks the motors, the largest unit current first; where no motor brings an extra, all are plain loads. */
static void ranks_init(struct builder *builder, size_t load_count)
{
    builder->ranks = memory_resize(NULL, load_count, sizeof *builder->ranks);
    size_t *motors = memory_resize(NULL, load_count, sizeof *motors);
    size_t count = 0;
    double extra_a = 0;
    for (size_t i = 0; i < load_count; i++) {
        builder->ranks[i] = NO_RANK;
        if (builder->loads[i].motor_unit_a > 0) {
            motors[count++] = i;
            extra_a = fmax(extra_a, builder->loads[i].motor_extra_a);
        }
    }
    if (extra_a > 0) {
        struct motor_order order = {builder->loads};
        qsort_r(motors, count, sizeof *motors, compare_motors, &order);
        for (size_t i = 0; i < count; i++) {
            builder->ranks[motors[i]] = i;
        }
    }
    free(motors);
}

static void steps_from_current(const struct builder *builder, double current_a, size_t *ret_down, size_t *ret_up)
{
    assert(isfinite(current_a) && current_a >= 0);
    double steps = fmin(current_a / builder->grid_a, 1e12); /* above any limit all the same */
    double nearest = nearbyint(steps);
    if (fabs(steps - nearest) <= 1e-9 * fmax(1, steps)) {
        *ret_down = *ret_up = (size_t)nearest;
        return;
    }
    *ret_down = (size_t)floor(steps);
    *ret_up = (size_t)ceil(steps);
    builder->items->on_grid = false;
}

static void add_outcome(struct builder *builder, size_t load, double probability)
{
    struct items *items = builder->items;
    const struct chance_load *row = &builder->loads[load];
    struct outcome outcome = {.probability = probability, .rank = builder->ranks[load]};
    steps_from_current(builder, row->planning_a, &outcome.steps_down, &outcome.steps_up);
    steps_from_current(builder, row->planning_a + row->motor_extra_a, &outcome.largest_steps_down,
                       &outcome.largest_steps_up);
    items->outcomes =
        memory_grow(items->outcomes, items->outcome_count, &items->outcome_capacity, sizeof *items->outcomes);
    items->outcomes[items->outcome_count++] = outcome;
}

/* An item of the outcomes added since `first_outcome`. */
static void add_item_row(struct builder *builder, size_t first_outcome, int start_min, int end_min, double off)
{
    struct items *items = builder->items;
    struct item item = {
        .first = builder->stretch[start_min],
        .end = builder->stretch[end_min],
        .first_outcome = first_outcome,
        .outcome_count = items->outcome_count - first_outcome,
        .off = off,
    };
    for (size_t i = first_outcome; i < items->outcome_count; i++) {
        item.motor = item.motor || items->outcomes[i].rank != NO_RANK;
    }
    items->motor_items += item.motor;
    items->rows = memory_grow(items->rows, items->row_count, &items->row_capacity, sizeof *items->rows);
    items->rows[items->row_count++] = item;
}

static void add_single(struct builder *builder, const struct chance_span *span)
{
    size_t first_outcome = builder->items->outcome_count;
    add_outcome(builder, span->load, span->probability);
    add_item_row(builder, first_outcome, span->start_min, span->end_min, 1 - span->probability);
}

static int compare_spans(const void *a, const void *b, void *builder_void)
{
    const struct builder *builder = builder_void;
    size_t i = *(const size_t *)a;
    size_t j = *(const size_t *)b;
    size_t i_group = builder->loads[builder->spans[i].load].group;
    size_t j_group = builder->loads[builder->spans[j].load].group;
    return i_group < j_group ? -1 : i_group > j_group ? 1 : i < j ? -1 : i > j;
}

/* Indices of the spans of grouped loads, group by group. The caller frees. */
static size_t *group_spans(const struct builder *builder, size_t span_count, size_t *ret_count)
{
    size_t *order = memory_resize(NULL, span_count, sizeof *order);
    size_t count = 0;
    for (size_t i = 0; i < span_count; i++) {
        if (builder->spans[i].probability > 0 && is_grouped(builder, &builder->spans[i])) {
            order[count++] = i;
        }
    }
    struct builder copy = *builder;
    if (count > 1) {
        qsort_r(order, count, sizeof *order, compare_spans, &copy);
    }
    *ret_count = count;
    return order;
}

/* The group's members on between two neighbouring edges of the group: one item, scaled where they add up beyond 1. */
static void add_group_part(struct builder *builder, const size_t *order, size_t count, int start_min, int end_min)
{
    const struct chance_span *spans = builder->spans;
    double sum = 0;
    for (size_t i = 0; i < count; i++) {
        bool covers = spans[order[i]].start_min <= start_min && end_min <= spans[order[i]].end_min;
        sum += covers ? spans[order[i]].probability : 0;
    }
    if (sum <= 0) {
        return;
    }
    double scale = sum > 1 ? 1 / sum : 1;
    size_t first_outcome = builder->items->outcome_count;
    for (size_t i = 0; i < count; i++) {
        const struct chance_span *span = &spans[order[i]];
        if (span->start_min <= start_min && end_min <= span->end_min) {
            add_outcome(builder, span->load, span->probability * scale);
        }
    }
    add_item_row(builder, first_outcome, start_min, end_min, sum < 1 ? 1 - sum : 0);
}

static int compare_minutes(const void *a, const void *b)
{
    return *(const int *)a - *(const int *)b;
}

static void add_group(struct builder *builder, const size_t *order, size_t count)
{
    int *edges = memory_resize(NULL, count * 2, sizeof *edges);
    for (size_t i = 0; i < count; i++) {
        edges[i * 2] = builder->spans[order[i]].start_min;
        edges[i * 2 + 1] = builder->spans[order[i]].end_min;
    }
    qsort(edges, count * 2, sizeof *edges, compare_minutes);
    for (size_t i = 0; i + 1 < count * 2; i++) {
        if (edges[i] < edges[i + 1]) {
            add_group_part(builder, order, count, edges[i], edges[i + 1]);
        }
    }
    free(edges);
}

static size_t largest_steps(const struct items *items, const struct item *item)
{
    size_t most = 0;
    for (size_t i = 0; i < item->outcome_count; i++) {
        size_t steps = items->outcomes[item->first_outcome + i].steps_up;
        most = steps > most ? steps : most;
    }
    return most;
}

static int compare_items(const void *a, const void *b, void *items)
{
    const struct item *i = a;
    const struct item *j = b;
    size_t i_steps = largest_steps(items, i);
    size_t j_steps = largest_steps(items, j);
    if (i_steps != j_steps) {
        return i_steps < j_steps ? -1 : 1;
    }
    return i->first_outcome < j->first_outcome ? -1 : i->first_outcome > j->first_outcome;
}
