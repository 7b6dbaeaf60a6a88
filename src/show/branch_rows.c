/* What `branch` says of each load: one row of the table below is one column on every face that it names. */
#include <math.h>

#include "ampsum/show_check.h"

size_t show_load_count(const struct branch_answer *answer)
{
    return answer->result->loads == NULL ? 0 : answer->branch->appliances.count;
}

static const struct load *load_of(const void *answer, size_t row)
{
    return &((const struct branch_answer *)answer)->result->loads[row];
}

static const struct appliance *appliance_of(const void *answer, size_t row)
{
    return &((const struct branch_answer *)answer)->check.house->appliances[load_of(answer, row)->appliance];
}

static const void *load_at(const void *answer, size_t row)
{
    return load_of(answer, row);
}

static const void *appliance_at(const void *answer, size_t row)
{
    return appliance_of(answer, row);
}

/* `2 × Bed lamp (1 on)`: how many there are, its name, and what is not as listed. */
static void get_title(const void *answer, size_t row, struct show_cell *cell)
{
    const struct load *load = load_of(answer, row);
    const struct appliance *appliance = appliance_of(answer, row);
    struct text *name = show_made(cell);
    if (appliance->count > 1) {
        text_printf(name, "%u \xC3\x97 ", appliance->count);
    }
    text_add(name, appliance->name);
    if (!appliance_is_load(appliance)) {
        text_add(name, " (feeds, is no load)");
    } else if (load->units == 0) {
        text_add(name, " (off)");
    } else if (!load->counted) {
        text_add(name, " (not counted: another of its group is on)");
    } else if (load->units < appliance->count) {
        text_printf(name, " (%u on)", load->units);
    }
    show_made_done(cell);
}

static void get_room(const void *answer, size_t row, struct show_cell *cell)
{
    const struct appliance *appliance = appliance_of(answer, row);
    const struct house *house = ((const struct branch_answer *)answer)->check.house;
    cell->words = "";
    if (appliance->room != NO_INDEX) {
        const struct room *room = &house->rooms[appliance->room];
        cell->words = room->name != NULL ? room->name : room->id;
    }
}

static void get_resistance(const void *answer, size_t row, struct show_cell *cell)
{
    const struct branch_answer *branch = answer;
    cell->figure = branch_load_ohm(branch->check.house, branch->result, row);
}

static void get_share(const void *answer, size_t row, struct show_cell *cell)
{
    cell->figure = 100 * load_of(answer, row)->share;
}

static void total_title(const void *answer, struct show_cell *cell)
{
    (void)answer;
    cell->words = "Together";
}

static void total_resistance(const void *answer, struct show_cell *cell)
{
    cell->figure = ((const struct branch_answer *)answer)->shown->equivalent_ohm;
}

static void total_current(const void *answer, struct show_cell *cell)
{
    cell->figure = ((const struct branch_answer *)answer)->shown->current_a;
}

static void total_power(const void *answer, struct show_cell *cell)
{
    cell->figure = ((const struct branch_answer *)answer)->shown->power_w;
}

static void total_planning(const void *answer, struct show_cell *cell)
{
    cell->figure = ((const struct branch_answer *)answer)->shown->planning_a;
}

#define LOAD(member) .at = load_at, SHOW_FIELD(struct load, member)
#define APPLIANCE(member) .at = appliance_at, SHOW_FIELD(struct appliance, member)
#define RESULT(member) SHOW_TO(struct branch_answer, result, struct branch_assessment, member)

static const struct show_column columns[] = {
    {.title = "Load", .faces = SHOW_PRINT, .weight = 36, .get = get_title, .total = total_title},
    {.title = "Room", .faces = SHOW_PAPER, .weight = 22, .get = get_room},
    {.key = "id", .heading = "APPLIANCE", .wrap = 20, .faces = SHOW_COMMAND, APPLIANCE(id)},
    {.key = "name", .faces = SHOW_DATA, APPLIANCE(name)},
    {.key = "count", .heading = "ON", .faces = SHOW_COMMAND, LOAD(units)},
    {SHOW_NAMED("resistance_ohm", "OHM", "Resistance", "ohm"), .json_before = "share_percent", .kind = SHOW_FIGURE,
     .decimals = 2, .faces = SHOW_COMMAND | SHOW_PAGE, .get = get_resistance, .total = total_resistance},
    {.key = "voltage_v", .heading = "VOLT", .decimals = 1, .faces = SHOW_ROWS, RESULT(voltage_v)},
    {SHOW_NAMED("current_a", "AMPERE", "Current", "A"), .decimals = 2, .faces = SHOW_EVERY, .weight = 13,
     LOAD(current_a), .total = total_current},
    {SHOW_NAMED("power_w", "WATT", "Power", "W"), .decimals = 1, .faces = SHOW_EVERY, .weight = 12, LOAD(draw.power_w),
     .total = total_power},
    {SHOW_NAMED("share_percent", "SHARE %", "Share", "%"), .kind = SHOW_FIGURE, .decimals = 1,
     .faces = SHOW_ROWS | SHOW_JSON | SHOW_PAPER, .weight = 12, .get = get_share},
    {SHOW_NAMED("planning_a", "PLANNING A", "Planning", "A"), .json_before = "power_w", .decimals = 2,
     .faces = SHOW_EVERY, .weight = 14, LOAD(planning_a), .total = total_planning},
    {.key = "counted", .faces = SHOW_DATA, LOAD(counted)},
};

const struct show_rows show_load_rows = SHOW_ROWS_OF(columns);
