/* The rows of `wire`: branches, points along a cable, and the studies. */
#include <math.h>

#include "ampsum/show_wire.h"

#include <math.h>

#include "ampsum/fault_assess.h"
#include "ampsum/quantity.h"
#include "ampsum/reference.h"

static const struct wire_answer *of(const void *answer)
{
    return answer;
}

/* ------------------------------------------------------------------ branches ------------------------------ */

static const void *wire_at(const void *answer, size_t row)
{
    return &of(answer)->branches[row];
}

static const void *branch_at(const void *answer, size_t row)
{
    return of(answer)->branches[row].branch;
}

static void get_worst(const void *answer, size_t row, struct show_cell *cell)
{
    const struct wire_branch *wire = &of(answer)->branches[row];
    const struct branch *branch = wire->branch;
    const bool printed =
        branch->wire.conductor == NULL ||
        isfinite(reference_resistance_ohm_per_km(branch->wire.conductor, 20 /* degree Celsius; any will do */));
    cell->words = wire->solved   ? wire->points[wire->worst].id
                  : !wire->known ? printed ? "wire or length unknown" : "no resistance published"
                                 : "cannot be fed";
}

static void get_solved(const void *answer, size_t row, struct show_cell *cell)
{
    const struct wire_branch *wire = &of(answer)->branches[row];
    cell->part = wire->known ? json_boolean(wire->solved) : NULL;
}

/* JSON parts the outlets from the pieces between them. */
static json_t *outlets_json(const struct wire_branch *wire)
{
    json_t *array = json_array();
    for (size_t i = 0; i < wire->outlet_count; i++) {
        json_t *outlet = json_object();
        json_object_set_new(outlet, "id", json_text(wire->points[i].id));
        json_object_set_new(outlet, "voltage_v", json_figure(wire->points[i].voltage_v));
        json_object_set_new(outlet, "drop_percent", json_figure(wire->points[i].drop_percent));
        json_array_append_new(array, outlet);
    }
    return array;
}

static json_t *segments_json(const struct wire_branch *wire)
{
    json_t *array = json_array();
    for (size_t i = 0; i < wire->point_count; i++) {
        json_t *object = json_object();
        json_object_set_new(object, "from", json_text(wire->points[i].from));
        json_object_set_new(object, "to", json_text(wire->points[i].id));
        json_object_set_new(object, "current_a", json_figure(wire->points[i].current_a));
        json_object_set_new(object, "loss_w", json_figure(wire->points[i].loss_w));
        json_array_append_new(array, object);
    }
    return array;
}

static void get_outlets(const void *answer, size_t row, struct show_cell *cell)
{
    cell->part = outlets_json(&of(answer)->branches[row]);
}

static void get_segments(const void *answer, size_t row, struct show_cell *cell)
{
    cell->part = segments_json(&of(answer)->branches[row]);
}

/* In words where the feeder alone uses the limit up. */
static void get_advisory(const void *answer, size_t row, struct show_cell *cell)
{
    const struct wire_branch *wire = wire_at(answer, row);
    if (isnan(wire->allowed_percent)) {
        return;
    }
    struct text *words = show_made(cell);
    if (wire->allowed_percent <= 0) {
        text_add(words, "used up");
    } else {
        text_add_fixed(words, wire->allowed_percent, 2);
    }
    show_made_done(cell);
}

static const struct show_column wire_columns[] = {
    {.key = "branch",
     .heading = "BRANCH",
     .wrap = 20,
     .faces = SHOW_ROWS,
     .at = branch_at,
     SHOW_STRING(struct branch, id)},
    {.key = "id", .faces = SHOW_JSON, .at = branch_at, SHOW_STRING(struct branch, id)},
    {.key = "solved", .kind = SHOW_PART, .faces = SHOW_JSON, .get = get_solved},
    {.key = "outlets", .kind = SHOW_PART, .faces = SHOW_JSON, .get = get_outlets},
    {.key = "segments", .kind = SHOW_PART, .faces = SHOW_JSON, .get = get_segments},
    {.key = "worst_outlet", .heading = "WORST OUTLET", .wrap = 22, .faces = SHOW_ROWS, .get = get_worst},
    {.key = "voltage_v",
     .heading = "VOLT",
     .decimals = 2,
     .faces = SHOW_ROWS,
     .at = wire_at,
     SHOW_DOUBLE(struct wire_branch, voltage_v)},
    {.key = "drop_percent",
     .heading = "DROP %",
     .decimals = 2,
     .faces = SHOW_ROWS,
     .at = wire_at,
     SHOW_DOUBLE(struct wire_branch, drop_percent)},
    {.heading = "ADVISORY %", .right = true, .faces = SHOW_TERMINAL, .get = get_advisory},
    {.key = "advisory_percent", .faces = SHOW_CSV, .at = wire_at, SHOW_DOUBLE(struct wire_branch, allowed_percent)},
    {.key = "current_a",
     .heading = "LARGEST A",
     .decimals = 2,
     .faces = SHOW_ROWS,
     .at = wire_at,
     SHOW_DOUBLE(struct wire_branch, current_a)},
    {.key = "loss_w",
     .heading = "LOSS W",
     .decimals = 2,
     .faces = SHOW_ROWS | SHOW_JSON,
     .at = wire_at,
     SHOW_DOUBLE(struct wire_branch, loss_w)},
    {.key = "loss_kwh_year",
     .heading = "KWH/YEAR",
     .decimals = 2,
     .faces = SHOW_ROWS | SHOW_JSON,
     .at = wire_at,
     SHOW_DOUBLE(struct wire_branch, loss_kwh_year)},
    {.key = "loss_cost_year",
     .heading = "COST/YEAR",
     .right = true,
     .faces = SHOW_ROWS | SHOW_JSON,
     .at = wire_at,
     SHOW_STRING(struct wire_branch, loss_cost_year)},
};

const struct show_rows show_wire_rows = {wire_columns, sizeof wire_columns / sizeof wire_columns[0]};

/* ------------------------------------------------------------------ points -------------------------------- */

static const void *point_at(const void *answer, size_t row)
{
    return &((const struct show_points *)answer)->wire->points[row];
}

/* As the house's file gives lengths; CSV has metres everywhere. */
static bool in_feet(const void *answer)
{
    return house_in_feet(((const struct show_points *)answer)->house);
}

static bool in_metres(const void *answer)
{
    return !in_feet(answer);
}

/* Where the file gives what the fault study rests on. */
static bool has_fault(const void *answer)
{
    return fault_is_given(((const struct show_points *)answer)->house);
}

static void get_name(const void *answer, size_t row, struct show_cell *cell)
{
    const struct wire_point *point = point_at(answer, row);
    const bool end = point->name[0] == '\0';
    cell->words = end ? point->id : point->name;
}

static void get_feet(const void *answer, size_t row, struct show_cell *cell)
{
    cell->figure = ((const struct wire_point *)point_at(answer, row))->length_m / M_PER_FT;
}

static void get_path_feet(const void *answer, size_t row, struct show_cell *cell)
{
    cell->figure = ((const struct wire_point *)point_at(answer, row))->path_m / M_PER_FT;
}

static const struct show_column point_columns[] = {
    {.title = "Outlet", .faces = SHOW_PRINT, .weight = 40, .get = get_name},
    {.title = "Cable from the panel",
     .unit = "ft",
     .kind = SHOW_FIGURE,
     .decimals = 1,
     .faces = SHOW_PAPER,
     .weight = 20,
     .asked = in_feet,
     .get = get_path_feet},
    {.title = "Cable from the panel",
     .unit = "m",
     .decimals = 1,
     .faces = SHOW_PAPER,
     .weight = 20,
     .asked = in_metres,
     .at = point_at,
     SHOW_DOUBLE(struct wire_point, path_m)},
    {.key = "outlet",
     .heading = "OUTLET",
     .wrap = 20,
     .faces = SHOW_ROWS,
     .at = point_at,
     SHOW_STRING(struct wire_point, id)},
    {.key = "name",
     .heading = "NAME",
     .wrap = 24,
     .faces = SHOW_ROWS,
     .at = point_at,
     SHOW_STRING(struct wire_point, name)},
    {.key = "voltage_v",
     .title = "Voltage",
     .unit = "V",
     .heading = "VOLT",
     .decimals = 2,
     .faces = SHOW_ROWS | SHOW_PRINT,
     .weight = 14,
     .at = point_at,
     SHOW_DOUBLE(struct wire_point, voltage_v)},
    {.key = "drop_percent",
     .title = "Drop",
     .unit = "%",
     .heading = "DROP %",
     .decimals = 2,
     .faces = SHOW_ROWS | SHOW_PRINT,
     .weight = 12,
     .at = point_at,
     SHOW_DOUBLE(struct wire_point, drop_percent)},
    {.key = "fault_min_a",
     .title = "Least fault current",
     .unit = "A",
     .heading = "FAULT A",
     .decimals = 0,
     .faces = SHOW_ROWS | SHOW_PRINT,
     .weight = 14,
     .asked = has_fault,
     .at = point_at,
     SHOW_DOUBLE(struct wire_point, fault_min_a)},
    {.key = "from",
     .heading = "FED FROM",
     .wrap = 20,
     .faces = SHOW_ROWS,
     .at = point_at,
     SHOW_STRING(struct wire_point, from)},
    {.heading = "METRE",
     .decimals = 1,
     .faces = SHOW_TERMINAL,
     .asked = in_metres,
     .at = point_at,
     SHOW_DOUBLE(struct wire_point, length_m)},
    {.key = "length_m", .faces = SHOW_CSV, .at = point_at, SHOW_DOUBLE(struct wire_point, length_m)},
    {.heading = "FEET", .kind = SHOW_FIGURE, .decimals = 1, .faces = SHOW_TERMINAL, .asked = in_feet, .get = get_feet},
    {.key = "current_a",
     .title = "Current to it",
     .unit = "A",
     .heading = "AMPERE",
     .decimals = 2,
     .faces = SHOW_ROWS | SHOW_PRINT,
     .weight = 16,
     .at = point_at,
     SHOW_DOUBLE(struct wire_point, current_a)},
    {.key = "loss_w",
     .heading = "LOSS W",
     .decimals = 2,
     .faces = SHOW_ROWS,
     .at = point_at,
     SHOW_DOUBLE(struct wire_point, loss_w)},
};

const struct show_rows show_point_rows = {point_columns, sizeof point_columns / sizeof point_columns[0]};

/* ------------------------------------------------------------------ studies ------------------------------- */

static const void *break_at(const void *answer, size_t row)
{
    return &of(answer)->breaks[row];
}

static void get_remark(const void *answer, size_t row, struct show_cell *cell)
{
    const struct wire_break *made = &of(answer)->breaks[row];
    cell->words = !made->solved ? "cannot be fed" : made->over ? "over the wire's ampacity" : "";
}

static const struct show_column break_columns[] = {
    {.key = "from",
     .heading = "BROKEN FROM",
     .wrap = 20,
     .faces = SHOW_ROWS | SHOW_JSON,
     .at = break_at,
     SHOW_STRING(struct wire_break, from)},
    {.key = "to",
     .heading = "TO",
     .wrap = 20,
     .faces = SHOW_ROWS | SHOW_JSON,
     .at = break_at,
     SHOW_STRING(struct wire_break, to)},
    {.key = "solved", .faces = SHOW_JSON, .at = break_at, SHOW_BOOL(struct wire_break, solved)},
    {.key = "worst_outlet",
     .heading = "WORST OUTLET",
     .wrap = 20,
     .faces = SHOW_ROWS | SHOW_JSON,
     .at = break_at,
     SHOW_STRING(struct wire_break, worst_outlet)},
    {.key = "voltage_v",
     .heading = "VOLT",
     .decimals = 2,
     .faces = SHOW_ROWS,
     .at = break_at,
     SHOW_DOUBLE(struct wire_break, voltage_v)},
    {.key = "drop_percent",
     .heading = "DROP %",
     .decimals = 2,
     .faces = SHOW_ROWS | SHOW_JSON,
     .at = break_at,
     SHOW_DOUBLE(struct wire_break, drop_percent)},
    {.key = "current_a",
     .heading = "LARGEST A",
     .decimals = 2,
     .faces = SHOW_ROWS | SHOW_JSON,
     .at = break_at,
     SHOW_DOUBLE(struct wire_break, current_a)},
    {.key = "ampacity_a",
     .heading = "WIRE A",
     .decimals = 1,
     .faces = SHOW_ROWS | SHOW_JSON,
     .at = break_at,
     SHOW_DOUBLE(struct wire_break, ampacity_a)},
    {.key = "over", .faces = SHOW_JSON, .at = break_at, SHOW_BOOL(struct wire_break, over)},
    {.key = "remark", .heading = "", .wrap = 24, .faces = SHOW_ROWS, .get = get_remark},
};

const struct show_rows show_break_rows = {break_columns, sizeof break_columns / sizeof break_columns[0]};

static const void *start_at(const void *answer, size_t row)
{
    return &of(answer)->starts[row];
}

static const struct show_column start_columns[] = {
    {.key = "outlet",
     .heading = "OUTLET",
     .wrap = 20,
     .faces = SHOW_ROWS,
     .at = start_at,
     SHOW_STRING(struct wire_start, id)},
    {.key = "id", .faces = SHOW_JSON, .at = start_at, SHOW_STRING(struct wire_start, id)},
    {.key = "running_v",
     .heading = "RUNNING V",
     .decimals = 2,
     .faces = SHOW_ROWS | SHOW_JSON,
     .at = start_at,
     SHOW_DOUBLE(struct wire_start, running_v)},
    {.key = "starting_v",
     .heading = "STARTING V",
     .decimals = 2,
     .faces = SHOW_ROWS | SHOW_JSON,
     .at = start_at,
     SHOW_DOUBLE(struct wire_start, starting_v)},
    {.key = "dip_percent",
     .heading = "DIP %",
     .decimals = 2,
     .faces = SHOW_ROWS | SHOW_JSON,
     .at = start_at,
     SHOW_DOUBLE(struct wire_start, dip_percent)},
    {.key = "lamp_loss_percent",
     .heading = "LAMPS LOSE %",
     .decimals = 2,
     .faces = SHOW_ROWS | SHOW_JSON,
     .at = start_at,
     SHOW_DOUBLE(struct wire_start, lamp_loss_percent)},
};

const struct show_rows show_start_rows = {start_columns, sizeof start_columns / sizeof start_columns[0]};

static const void *size_at(const void *answer, size_t row)
{
    return &of(answer)->sizes[row];
}

static const struct show_column size_columns[] = {
    {.key = "size",
     .heading = "SIZE",
     .faces = SHOW_ROWS | SHOW_JSON,
     .at = size_at,
     SHOW_STRING(struct wire_size, size)},
    {.key = "metal",
     .heading = "METAL",
     .faces = SHOW_ROWS | SHOW_JSON,
     .at = size_at,
     SHOW_STRING(struct wire_size, metal)},
    {.key = "drop_percent",
     .heading = "DROP %",
     .decimals = 2,
     .faces = SHOW_ROWS | SHOW_JSON,
     .at = size_at,
     SHOW_DOUBLE(struct wire_size, drop_percent)},
    {.key = "loss_w",
     .heading = "LOSS W",
     .decimals = 2,
     .faces = SHOW_ROWS | SHOW_JSON,
     .at = size_at,
     SHOW_DOUBLE(struct wire_size, loss_w)},
    {.key = "ampacity_a",
     .heading = "AMPACITY A",
     .decimals = 1,
     .faces = SHOW_ROWS | SHOW_JSON,
     .at = size_at,
     SHOW_DOUBLE(struct wire_size, ampacity_a)},
    {.key = "small_limit_a",
     .heading = "SMALL WIRE A",
     .decimals = 1,
     .faces = SHOW_ROWS,
     .at = size_at,
     SHOW_DOUBLE(struct wire_size, small_limit_a)},
    {.key = "within", .faces = SHOW_JSON, .at = size_at, SHOW_BOOL(struct wire_size, within)},
    {.key = "outside",
     .heading = "OUTSIDE",
     .wrap = 24,
     .faces = SHOW_ROWS,
     .at = size_at,
     SHOW_STRING(struct wire_size, outside)},
};

const struct show_rows show_size_rows = {size_columns, sizeof size_columns / sizeof size_columns[0]};

static const void *longest_at(const void *answer, size_t row)
{
    return &of(answer)->longest[row];
}

static const struct show_column longest_columns[] = {
    {.key = "size",
     .heading = "SIZE",
     .faces = SHOW_ROWS | SHOW_JSON,
     .at = longest_at,
     SHOW_STRING(struct wire_longest, size)},
    {.key = "metal",
     .heading = "METAL",
     .faces = SHOW_ROWS | SHOW_JSON,
     .at = longest_at,
     SHOW_STRING(struct wire_longest, metal)},
    {.key = "longest_m",
     .heading = "LONGEST M",
     .decimals = 1,
     .faces = SHOW_ROWS | SHOW_JSON,
     .at = longest_at,
     SHOW_DOUBLE(struct wire_longest, longest_m)},
    {.heading = "LONGEST FT", .faces = SHOW_TERMINAL, .at = longest_at, SHOW_DOUBLE(struct wire_longest, longest_ft)},
};

const struct show_rows show_longest_rows = {longest_columns, sizeof longest_columns / sizeof longest_columns[0]};
