#include "ampsum/show_supply.h"

#include "ampsum/show_check.h"

static const struct supply_branch *band_of(const void *answer, size_t row)
{
    return &((const struct supply_answer *)answer)->branches[row];
}

static const void *branch_at(const void *answer, size_t row)
{
    return &((const struct supply_answer *)answer)->house->branches[band_of(answer, row)->branch];
}

#define END_AT(member) .faces = SHOW_JSON, SHOW_FIELD(struct branch_assessment, member)

static const struct show_column end_columns[] = {
    {SHOW_OBJECT(show_figure_rows), SHOW_WITHIN(struct branch_assessment, all)},
    {.key = "voltage_v", END_AT(voltage_v)},
    {.key = "status", .faces = SHOW_JSON, SHOW_TAKEN(struct branch_assessment, verdict, show_take_status)},
    {.key = "drop_percent", END_AT(drop_percent)},
};
static const struct show_rows end_rows = SHOW_ROWS_OF(end_columns);

#define BAND(member) SHOW_IN(struct supply_answer, branches, struct supply_branch, member)
#define BRANCH(member) .at = branch_at, SHOW_FIELD(struct branch, member)
#define SIDE(pointer)                                                                                                  \
    SHOW_ELEMENT(struct supply_answer, branches, struct supply_branch),                                                \
        SHOW_POINTED(struct supply_branch, pointer, struct branch_assessment)
#define END(end, member) SIDE(ends[end]), SHOW_FIELD(struct branch_assessment, member)
#define WORST_AS(take) SIDE(worst), SHOW_TAKEN(struct branch_assessment, verdict, take)

static const struct show_column columns[] = {
    {.key = "id", .heading = "BRANCH", .faces = SHOW_COMMAND, BRANCH(id)},
    {.key = "breaker_a", .heading = "BREAKER", .faces = SHOW_COMMAND, BRANCH(breaker_a)},
    {.key = "low", SIDE(ends[SUPPLY_LOW]), SHOW_OBJECT(end_rows)},
    {.key = "nominal", SIDE(ends[SUPPLY_NOMINAL]), SHOW_OBJECT(end_rows)},
    {.key = "high", SIDE(ends[SUPPLY_HIGH]), SHOW_OBJECT(end_rows)},
    {.key = "low_planning_a", .heading = "LOW A", .decimals = 2, .faces = SHOW_ROWS, END(SUPPLY_LOW, all.planning_a)},
    {.key = "nominal_planning_a",
     .heading = "NOMINAL A",
     .decimals = 2,
     .faces = SHOW_ROWS,
     END(SUPPLY_NOMINAL, all.planning_a)},
    {.key = "high_planning_a",
     .heading = "HIGH A",
     .decimals = 2,
     .faces = SHOW_ROWS,
     END(SUPPLY_HIGH, all.planning_a)},
    {.key = "low_power_w", .heading = "LOW W", .faces = SHOW_ROWS, END(SUPPLY_LOW, all.power_w)},
    {.key = "high_power_w", .heading = "HIGH W", .faces = SHOW_ROWS, END(SUPPLY_HIGH, all.power_w)},
    {.key = "worse", .heading = "WORSE", .faces = SHOW_COMMAND, BAND(worse)},
    {.heading = "VERDICT", .faces = SHOW_TERMINAL, WORST_AS(show_take_said)},
    {.key = "status", .faces = SHOW_DATA, WORST_AS(show_take_status)},
};

const struct show_rows show_supply_rows = SHOW_ROWS_OF(columns);

#define VOLT(end) .faces = SHOW_JSON, SHOW_FIELD(struct supply_answer, voltage_v[end])

static void get_band(const void *answer, size_t row, struct show_cell *cell)
{
    (void)answer;
    (void)row;
    cell->words = "band";
}

static const struct show_column answer_columns[] = {
    {.key = "supply", .faces = SHOW_JSON, .get = get_band},
    {.key = "low_v", VOLT(SUPPLY_LOW)},
    {.key = "high_v", VOLT(SUPPLY_HIGH)},
    {.key = "branches", SHOW_LIST(show_supply_rows, struct supply_answer, count)},
};

json_t *show_supply_band_json(const struct supply_answer *answer, const char *command)
{
    static const struct show_rows rows = SHOW_ROWS_OF(answer_columns);
    return show_answer_json(command, answer->house->name, &rows, answer, NULL);
}

void show_supply_band_text(const struct supply_answer *answer, const struct page *page, struct text *text)
{
    show_say(page, 0, 0, text, "%s: everything on, planning current at %.1g V, %.1g V and %.1g V line to neutral",
             answer->house->name, answer->voltage_v[SUPPLY_LOW], answer->voltage_v[SUPPLY_NOMINAL],
             answer->voltage_v[SUPPLY_HIGH]);
    text_add_char(text, '\n');
    show_table_text(&show_supply_rows, answer, answer->count, page, text);
    text_add_char(text, '\n');
    show_wrap(page, 0,
              "Resistive loads draw more at high voltage, constant-power ones at low. The verdict is that of the worse "
              "end. The band is the published one: `ampsum rules supply-over`, `ampsum rules supply-under`.",
              text);
    text_add_char(text, '\n');
    show_cautions_text(page, NULL, text);
}
