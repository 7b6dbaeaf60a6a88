/* The answer of `check` as JSON; its branches: check_rows.c. */
#include <math.h>

#include "ampsum/cautions.h"
#include "ampsum/reference.h"
#include "ampsum/show_check.h"

#define BILL(member) .faces = SHOW_JSON, SHOW_FIELD(struct energy_bill, member)

static const struct show_column bill_columns[] = {
    {.key = "kwh_day", BILL(kwh_day)},
    {.key = "cost_day", BILL(cost_day)},
    {.key = "cost_year", BILL(cost_year)},
};

const struct show_rows show_energy_rows = SHOW_ROWS_OF(bill_columns);

static const struct show_column energy_columns[] = {
    {SHOW_OBJECT(show_energy_rows), SHOW_POINTED(struct check_answer, bill, struct energy_bill)},
    {.key = "currency", .faces = SHOW_JSON, SHOW_TO(struct check_answer, house, struct house, currency)},
};
static const struct show_rows energy_rows = SHOW_ROWS_OF(energy_columns);

static void get_main_breaker(const void *answer, size_t row, struct show_cell *cell)
{
    const struct house *house = ((const struct check_answer *)answer)->house;
    cell->figure = row == 0 ? house->main_breaker_a : house->panels[row].breaker_a;
}

/* Of the main panel alone; 0 is said to be unknown. */
static void get_supply_fuse(const void *answer, size_t row, struct show_cell *cell)
{
    const double fuse_a = ((const struct check_answer *)answer)->house->supply_fuse_a;
    cell->figure = row == 0 && fuse_a > 0 ? fuse_a : (double)NAN;
}

static void get_leg_currents(const void *answer, size_t row, struct show_cell *cell)
{
    const struct check_answer *check = answer;
    cell->part = show_legs_json(check->house->panels[row].legs, check->assessment->panels[row].all.leg_current_a);
}

static const void *panel_at(const void *answer, size_t row)
{
    return &((const struct check_answer *)answer)->house->panels[row];
}

static const void *panel_result_at(const void *answer, size_t row)
{
    return &((const struct check_answer *)answer)->assessment->panels[row];
}

#define PANEL(member) .at = panel_result_at, SHOW_FIELD(struct panel_assessment, member)

static const struct show_column panel_columns[] = {
    {.key = "id", .faces = SHOW_JSON, .at = panel_at, SHOW_FIELD(struct panel, id)},
    {.key = "main_breaker_a", .kind = SHOW_FIGURE, .faces = SHOW_JSON, .get = get_main_breaker},
    {.key = "supply_fuse_a", .kind = SHOW_FIGURE, .faces = SHOW_JSON, .get = get_supply_fuse},
    {.key = "leg_current_a", .kind = SHOW_PART, .faces = SHOW_JSON, .get = get_leg_currents},
    {.key = "neutral_a", .faces = SHOW_JSON, PANEL(all.neutral_a)},
    {.key = "findings", .at = panel_result_at, SHOW_FINDINGS(struct panel_assessment, findings)},
};
static const struct show_rows panel_rows = SHOW_ROWS_OF(panel_columns);

static void get_basis(const void *answer, size_t row, struct show_cell *cell)
{
    static const char *const words[] = {[BASIS_BUSIEST] = "all", [BASIS_SET] = "set"};
    const struct assessment *assessment = answer;
    (void)row;
    if (assessment->options.basis == BASIS_SCENE) {
        text_printf(show_made(cell), "scene %s", assessment->house->scenes[assessment->options.scene].id);
        show_made_done(cell);
    } else {
        cell->words = words[assessment->options.basis];
    }
}

static const struct show_column assessment_columns[] = {
    {.key = "rules",
     .faces = SHOW_JSON,
     SHOW_POINTED(struct assessment, house, struct house),
     SHOW_TAKEN(struct house, rules, show_take_rules)},
    {.key = "basis", .faces = SHOW_JSON, .get = get_basis},
    {SHOW_OBJECT(show_supply_v_rows)},
    {.key = "status", .faces = SHOW_JSON, SHOW_TAKEN(struct assessment, status, show_take_status)},
};
static const struct show_rows assessment_rows = SHOW_ROWS_OF(assessment_columns);

static void get_branches(const void *answer, size_t row, struct show_cell *cell)
{
    (void)row;
    cell->part = show_json_array(&show_check_rows, answer, ((const struct check_answer *)answer)->house->branch_count);
}

static void get_panels(const void *answer, size_t row, struct show_cell *cell)
{
    (void)row;
    cell->part = show_json_array(&panel_rows, answer, ((const struct check_answer *)answer)->house->panel_count);
}

static const struct show_column said_columns[] = {{.faces = SHOW_JSON, SHOW_STRINGS(struct said, line)}};
static const struct show_rows said_rows = SHOW_ROWS_OF(said_columns);

#define ASSESSMENT SHOW_POINTED(struct check_answer, assessment, struct assessment)

static const struct show_column answer_columns[] = {
    {SHOW_OBJECT(assessment_rows), ASSESSMENT},
    {.key = "branches", .kind = SHOW_PART, .faces = SHOW_JSON, .get = get_branches},
    {.key = "panels", .kind = SHOW_PART, .faces = SHOW_JSON, .get = get_panels},
    {.key = "energy", SHOW_OBJECT(energy_rows)},
    {.key = "assumed",
     ASSESSMENT,
     SHOW_LIST(said_rows, struct assessment, said.count),
     SHOW_WITHIN(struct assessment, said)},
};

/* The cautions of a house, and behind them what its rule set lacks. */
json_t *show_check_json(const struct check_answer *answer)
{
    static const struct show_rows rows = SHOW_ROWS_OF(answer_columns);
    struct text missing = {0};
    const char *cautions[CAUTIONS_MOST + 2] = {NULL};
    const size_t count = cautions_of(answer->assessment, NO_INDEX, cautions);
    cautions[count] = reference_missing_add(&missing, rules_word(answer->house->rules)) ? text_string(&missing) : NULL;
    json_t *object = show_answer_json("check", answer->house->name, &rows, answer, cautions);
    text_done(&missing);
    return object;
}
