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

static json_t *end_json(const struct branch_assessment *result)
{
    json_t *figures = show_json(&show_figure_rows, &result->all, 0);
    json_object_set_new(figures, "voltage_v", json_figure(result->voltage_v));
    json_object_set_new(figures, "status", json_text(verdict_word(result->verdict)));
    json_object_set_new(figures, "drop_percent", json_figure(result->drop_percent));
    return figures;
}

static void get_low(const void *answer, size_t row, struct show_cell *cell)
{
    cell->part = end_json(band_of(answer, row)->ends[SUPPLY_LOW]);
}

static void get_nominal(const void *answer, size_t row, struct show_cell *cell)
{
    cell->part = end_json(band_of(answer, row)->ends[SUPPLY_NOMINAL]);
}

static void get_high(const void *answer, size_t row, struct show_cell *cell)
{
    cell->part = end_json(band_of(answer, row)->ends[SUPPLY_HIGH]);
}

static void get_status(const void *answer, size_t row, struct show_cell *cell)
{
    cell->words = verdict_word(band_of(answer, row)->worst->verdict);
}

static void get_said(const void *answer, size_t row, struct show_cell *cell)
{
    cell->words = show_verdict_said(band_of(answer, row)->worst->verdict);
}

#define BAND(member) SHOW_IN(struct supply_answer, branches, struct supply_branch, member)
#define BRANCH(member) .at = branch_at, SHOW_FIELD(struct branch, member)
#define LOW(member)                                                                                                    \
    SHOW_VIA(struct supply_answer, branches, struct supply_branch, ends[SUPPLY_LOW], struct branch_assessment, member)
#define NOMINAL(member)                                                                                                \
    SHOW_VIA(struct supply_answer, branches, struct supply_branch, ends[SUPPLY_NOMINAL], struct branch_assessment,     \
             member)
#define HIGH(member)                                                                                                   \
    SHOW_VIA(struct supply_answer, branches, struct supply_branch, ends[SUPPLY_HIGH], struct branch_assessment, member)

static const struct show_column columns[] = {
    {.key = "id", .heading = "BRANCH", .faces = SHOW_COMMAND, BRANCH(id)},
    {.key = "breaker_a", .heading = "BREAKER", .faces = SHOW_COMMAND, BRANCH(breaker_a)},
    {.key = "low", .kind = SHOW_PART, .faces = SHOW_JSON, .get = get_low},
    {.key = "nominal", .kind = SHOW_PART, .faces = SHOW_JSON, .get = get_nominal},
    {.key = "high", .kind = SHOW_PART, .faces = SHOW_JSON, .get = get_high},
    {.key = "low_planning_a", .heading = "LOW A", .decimals = 2, .faces = SHOW_ROWS, LOW(all.planning_a)},
    {.key = "nominal_planning_a", .heading = "NOMINAL A", .decimals = 2, .faces = SHOW_ROWS, NOMINAL(all.planning_a)},
    {.key = "high_planning_a", .heading = "HIGH A", .decimals = 2, .faces = SHOW_ROWS, HIGH(all.planning_a)},
    {.key = "low_power_w", .heading = "LOW W", .faces = SHOW_ROWS, LOW(all.power_w)},
    {.key = "high_power_w", .heading = "HIGH W", .faces = SHOW_ROWS, HIGH(all.power_w)},
    {.key = "worse", .heading = "WORSE", .faces = SHOW_COMMAND, BAND(worse)},
    {.heading = "VERDICT", .faces = SHOW_TERMINAL, .get = get_said},
    {.key = "status", .faces = SHOW_DATA, .get = get_status},
};

const struct show_rows show_supply_rows = {columns, sizeof columns / sizeof columns[0]};

json_t *show_supply_band_json(const struct supply_answer *answer, const char *command)
{
    json_t *object = json_answer(command, answer->house->name);
    json_object_set_new(object, "supply", json_text("band"));
    json_object_set_new(object, "low_v", json_figure(answer->voltage_v[SUPPLY_LOW]));
    json_object_set_new(object, "high_v", json_figure(answer->voltage_v[SUPPLY_HIGH]));
    json_object_set_new(object, "branches", show_json_array(&show_supply_rows, answer, answer->count));
    json_cautions(object, NULL);
    return object;
}

void show_supply_band_text(const struct supply_answer *answer, const struct page *page, struct text *text)
{
    struct text line = {0};
    text_printf(&line, "%s: everything on, planning current at ", answer->house->name);
    text_rounded(&line, "", answer->voltage_v[SUPPLY_LOW], 1, " V, ");
    text_rounded(&line, "", answer->voltage_v[SUPPLY_NOMINAL], 1, " V and ");
    text_rounded(&line, "", answer->voltage_v[SUPPLY_HIGH], 1, " V line to neutral");
    show_wrap(page, 0, text_string(&line), text);
    text_add_char(text, '\n');
    text_done(&line);
    show_table_text(&show_supply_rows, answer, answer->count, page, text);
    text_add_char(text, '\n');
    show_wrap(page, 0,
              "Resistive loads draw more at high voltage, constant-power ones at low. The verdict is that of the worse "
              "end. The band is the published one: `ampsum rules supply-over`, `ampsum rules supply-under`.",
              text);
    text_add_char(text, '\n');
    show_cautions_text(page, NULL, text);
}
