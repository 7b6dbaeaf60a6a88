/* The rows of `wire`: branches, points along a cable, and the studies. */
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
    cell->flag = wire->solved;
    cell->none = !wire->known;
}

/* JSON parts the outlets from the pieces between them. */
#define POINT(member) SHOW_IN(struct wire_branch, points, struct wire_point, member)

static const struct show_column outlets[] = {
    {.key = "id", .faces = SHOW_JSON, POINT(id)},
    {.key = "voltage_v", .faces = SHOW_JSON, POINT(voltage_v)},
    {.key = "drop_percent", .faces = SHOW_JSON, POINT(drop_percent)},
};

static const struct show_column segments[] = {
    {.key = "from", .faces = SHOW_JSON, POINT(from)},
    {.key = "to", .faces = SHOW_JSON, POINT(id)},
    {.key = "current_a", .faces = SHOW_JSON, POINT(current_a)},
    {.key = "loss_w", .faces = SHOW_JSON, POINT(loss_w)},
};

#undef POINT

static const struct show_rows outlet_rows = SHOW_ROWS_OF(outlets);
static const struct show_rows segment_rows = SHOW_ROWS_OF(segments);

/* In words where the feeder alone uses the limit up. */
static void get_advisory(const void *answer, size_t row, struct show_cell *cell)
{
    const struct wire_branch *wire = &of(answer)->branches[row];
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

static bool has_breaks(const void *answer)
{
    return of(answer)->break_count > 0;
}

static bool has_starts(const void *answer)
{
    return of(answer)->start_count > 0;
}

static bool has_sizes(const void *answer)
{
    return of(answer)->sizes != NULL;
}

static bool has_longest(const void *answer)
{
    return of(answer)->longest != NULL;
}

#define BRANCHES SHOW_ELEMENT(struct wire_answer, branches, struct wire_branch)
#define WIRE(member) SHOW_IN(struct wire_answer, branches, struct wire_branch, member)
#define BRANCH(member) SHOW_VIA(struct wire_answer, branches, struct wire_branch, branch, struct branch, member)

static const struct show_column wire_columns[] = {
    {.key = "branch", .heading = "BRANCH", .wrap = 20, .faces = SHOW_ROWS, BRANCH(id)},
    {.key = "id", .faces = SHOW_JSON, BRANCH(id)},
    {.key = "solved", .kind = SHOW_FLAG, .faces = SHOW_JSON, .get = get_solved},
    {.key = "outlets", BRANCHES, SHOW_LIST(outlet_rows, struct wire_branch, outlet_count)},
    {.key = "segments", BRANCHES, SHOW_LIST(segment_rows, struct wire_branch, point_count)},
    {.key = "worst_outlet", .heading = "WORST OUTLET", .wrap = 22, .faces = SHOW_ROWS, .get = get_worst},
    {.key = "voltage_v", .heading = "VOLT", .decimals = 2, .faces = SHOW_ROWS, WIRE(voltage_v)},
    {.key = "drop_percent", .heading = "DROP %", .decimals = 2, .faces = SHOW_ROWS, WIRE(drop_percent)},
    {.heading = "ADVISORY %", .right = true, .faces = SHOW_TERMINAL, .get = get_advisory},
    {.key = "advisory_percent", .faces = SHOW_CSV, WIRE(allowed_percent)},
    {.key = "current_a", .heading = "LARGEST A", .decimals = 2, .faces = SHOW_ROWS, WIRE(current_a)},
    {.key = "loss_w", .heading = "LOSS W", .decimals = 2, .faces = SHOW_COMMAND, WIRE(loss_w)},
    {.key = "loss_kwh_year", .heading = "KWH/YEAR", .decimals = 2, .faces = SHOW_COMMAND, WIRE(loss_kwh_year)},
    {.key = "loss_cost_year", .heading = "COST/YEAR", .right = true, .faces = SHOW_COMMAND, WIRE(loss_cost_year)},
    /* A study is of the one branch that was asked for. */
    {.key = "breaks", .asked = has_breaks, SHOW_LIST(show_break_rows, struct wire_answer, break_count)},
    {.key = "start", .asked = has_starts, SHOW_LIST(show_start_rows, struct wire_answer, start_count)},
    {.key = "sizes", .asked = has_sizes, SHOW_LIST(show_size_rows, struct wire_answer, size_count)},
    {.key = "longest", .asked = has_longest, SHOW_LIST(show_longest_rows, struct wire_answer, longest_count)},
};

const struct show_rows show_wire_rows = SHOW_ROWS_OF(wire_columns);

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

#define POINT(member) .at = point_at, SHOW_FIELD(struct wire_point, member)

static const struct show_column point_columns[] = {
    {.title = "Outlet", .faces = SHOW_PRINT, .weight = 40, .get = get_name},
    {SHOW_NAMED(NULL, NULL, "Cable from the panel", "ft"), .decimals = 1, .per = M_PER_FT, .faces = SHOW_PAPER,
     .weight = 20, .asked = in_feet, POINT(path_m)},
    {SHOW_NAMED(NULL, NULL, "Cable from the panel", "m"), .decimals = 1, .faces = SHOW_PAPER, .weight = 20,
     .asked = in_metres, POINT(path_m)},
    {.key = "outlet", .heading = "OUTLET", .wrap = 20, .faces = SHOW_ROWS, POINT(id)},
    {.key = "name", .heading = "NAME", .wrap = 24, .faces = SHOW_ROWS, POINT(name)},
    {SHOW_NAMED("voltage_v", "VOLT", "Voltage", "V"), .decimals = 2, .faces = SHOW_ROWS | SHOW_PRINT, .weight = 14,
     POINT(voltage_v)},
    {SHOW_NAMED("drop_percent", "DROP %", "Drop", "%"), .decimals = 2, .faces = SHOW_ROWS | SHOW_PRINT, .weight = 12,
     POINT(drop_percent)},
    {SHOW_NAMED("fault_min_a", "FAULT A", "Least fault current", "A"), .decimals = 0, .faces = SHOW_ROWS | SHOW_PRINT,
     .weight = 14, .asked = has_fault, POINT(fault_min_a)},
    {.key = "from", .heading = "FED FROM", .wrap = 20, .faces = SHOW_ROWS, POINT(from)},
    {.heading = "METRE", .decimals = 1, .faces = SHOW_TERMINAL, .asked = in_metres, POINT(length_m)},
    {.key = "length_m", .faces = SHOW_CSV, POINT(length_m)},
    {.heading = "FEET", .decimals = 1, .per = M_PER_FT, .faces = SHOW_TERMINAL, .asked = in_feet, POINT(length_m)},
    {SHOW_NAMED("current_a", "AMPERE", "Current to it", "A"), .decimals = 2, .faces = SHOW_ROWS | SHOW_PRINT,
     .weight = 16, POINT(current_a)},
    {.key = "loss_w", .heading = "LOSS W", .decimals = 2, .faces = SHOW_ROWS, POINT(loss_w)},
};

const struct show_rows show_point_rows = SHOW_ROWS_OF(point_columns);

/* ------------------------------------------------------------------ studies ------------------------------- */

static void get_remark(const void *answer, size_t row, struct show_cell *cell)
{
    const struct wire_break *made = &of(answer)->breaks[row];
    cell->words = !made->solved ? "cannot be fed" : made->over ? "over the wire's ampacity" : "";
}

#define BREAK(member) SHOW_IN(struct wire_answer, breaks, struct wire_break, member)

static const struct show_column break_columns[] = {
    {.key = "from", .heading = "BROKEN FROM", .wrap = 20, .faces = SHOW_COMMAND, BREAK(from)},
    {.key = "to", .heading = "TO", .wrap = 20, .faces = SHOW_COMMAND, BREAK(to)},
    {.key = "solved", .faces = SHOW_JSON, BREAK(solved)},
    {.key = "worst_outlet", .heading = "WORST OUTLET", .wrap = 20, .faces = SHOW_COMMAND, BREAK(worst_outlet)},
    {.key = "voltage_v", .heading = "VOLT", .decimals = 2, .faces = SHOW_ROWS, BREAK(voltage_v)},
    {.key = "drop_percent", .heading = "DROP %", .decimals = 2, .faces = SHOW_COMMAND, BREAK(drop_percent)},
    {.key = "current_a", .heading = "LARGEST A", .decimals = 2, .faces = SHOW_COMMAND, BREAK(current_a)},
    {.key = "ampacity_a", .heading = "WIRE A", .decimals = 1, .faces = SHOW_COMMAND, BREAK(ampacity_a)},
    {.key = "over", .faces = SHOW_JSON, BREAK(over)},
    {.key = "remark", .heading = "", .wrap = 24, .faces = SHOW_ROWS, .get = get_remark},
};

const struct show_rows show_break_rows = SHOW_ROWS_OF(break_columns);

#define START(member) SHOW_IN(struct wire_answer, starts, struct wire_start, member)

static const struct show_column start_columns[] = {
    {.key = "outlet", .heading = "OUTLET", .wrap = 20, .faces = SHOW_ROWS, START(id)},
    {.key = "id", .faces = SHOW_JSON, START(id)},
    {.key = "running_v", .heading = "RUNNING V", .decimals = 2, .faces = SHOW_COMMAND, START(running_v)},
    {.key = "starting_v", .heading = "STARTING V", .decimals = 2, .faces = SHOW_COMMAND, START(starting_v)},
    {.key = "dip_percent", .heading = "DIP %", .decimals = 2, .faces = SHOW_COMMAND, START(dip_percent)},
    {SHOW_NAMED("lamp_loss_percent", "LAMPS LOSE %", NULL, NULL), .decimals = 2, .faces = SHOW_COMMAND,
     START(lamp_loss_percent)},
};

const struct show_rows show_start_rows = SHOW_ROWS_OF(start_columns);

#define SIZE(member) SHOW_IN(struct wire_answer, sizes, struct wire_size, member)

static const struct show_column size_columns[] = {
    {.key = "size", .heading = "SIZE", .faces = SHOW_COMMAND, SIZE(size)},
    {.key = "metal", .heading = "METAL", .faces = SHOW_COMMAND, SIZE(metal)},
    {.key = "drop_percent", .heading = "DROP %", .decimals = 2, .faces = SHOW_COMMAND, SIZE(drop_percent)},
    {.key = "loss_w", .heading = "LOSS W", .decimals = 2, .faces = SHOW_COMMAND, SIZE(loss_w)},
    {.key = "ampacity_a", .heading = "AMPACITY A", .decimals = 1, .faces = SHOW_COMMAND, SIZE(ampacity_a)},
    {.key = "small_limit_a", .heading = "SMALL WIRE A", .decimals = 1, .faces = SHOW_ROWS, SIZE(small_limit_a)},
    {.key = "within", .faces = SHOW_JSON, SIZE(within)},
    {.key = "outside", .heading = "OUTSIDE", .wrap = 24, .faces = SHOW_ROWS, SIZE(outside)},
};

const struct show_rows show_size_rows = SHOW_ROWS_OF(size_columns);

#define LONGEST(member) SHOW_IN(struct wire_answer, longest, struct wire_longest, member)

static const struct show_column longest_columns[] = {
    {.key = "size", .heading = "SIZE", .faces = SHOW_COMMAND, LONGEST(size)},
    {.key = "metal", .heading = "METAL", .faces = SHOW_COMMAND, LONGEST(metal)},
    {.key = "longest_m", .heading = "LONGEST M", .decimals = 1, .faces = SHOW_COMMAND, LONGEST(longest_m)},
    {.heading = "LONGEST FT", .faces = SHOW_TERMINAL, LONGEST(longest_ft)},
};

const struct show_rows show_longest_rows = SHOW_ROWS_OF(longest_columns);
