/* The answer of `estimate`. */
#include <math.h>
#include <string.h>

#include "ampsum/show_check.h"
#include "ampsum/show_estimate.h"

void show_estimate_cautions(const struct estimate_answer *answer, const char *ret[ESTIMATE_CAUTIONS_MOST + 1])
{
    const size_t count = cautions_of(answer->branch.check.assessment, answer->branch.index, ret);
    ret[count] =
        "An estimate for planning, from the loads as they were typed; the nameplates and what else hangs on the "
        "branch decide. Local codes and a licensed electrician have the last word.";
    ret[count + 1] =
        "A breaker is no thermostat: a current above its rating that has not tripped it yet is still too "
        "much. A larger breaker on the same wire is no remedy: fewer loads at a time are, or another branch.";
    ret[count + 2] = NULL;
}

static void add_part_name(const struct estimate_answer *answer, const struct combos_part *part, struct text *text)
{
    const struct branch *branch = answer->branch.branch;
    const struct appliance *appliance = &answer->house->appliances[branch->appliances.index[part->load]];
    text_add(text, appliance->id);
    if (appliance->count > 1) {
        text_printf(text, "*%u", part->units);
    }
}

/* ------------------------------------------------------------------ sets that pass the rating ------------- */

static void get_set_loads(const void *answer, size_t row, struct show_cell *cell)
{
    const struct combos_set *set = &((const struct estimate_answer *)answer)->sets.sets[row];
    cell->part = json_array();
    for (size_t i = 0; i < set->part_count; i++) {
        add_part_name(answer, &set->parts[i], show_made(cell));
        json_array_append_new(cell->part, json_text(text_string(&cell->made)));
    }
}

static const struct show_column set_columns[] = {
    {.key = "loads", .kind = SHOW_PART, .faces = SHOW_JSON, .get = get_set_loads},
    {.key = "planning_a",
     .faces = SHOW_JSON,
     SHOW_IN(struct estimate_answer, sets.sets, struct combos_set, planning_a)},
    {.key = "current_a", .faces = SHOW_JSON, SHOW_ITEM(struct estimate_answer, set_current_a, double)},
};
static const struct show_rows set_rows = SHOW_ROWS_OF(set_columns);

/* ------------------------------------------------------------------ the answer ---------------------------- */

static const struct estimate_answer *of(const void *answer)
{
    return answer;
}

/* Without a breaker there is nothing to judge by. */
static const void *judged_at(const void *answer, size_t row)
{
    (void)row;
    return of(answer)->judged ? answer : NULL;
}

static bool is_reactive(const void *answer)
{
    return of(answer)->branch.result->all.reactive_var > 0;
}

/* Room below the rating, or what is above it: one of them. */
static void take_headroom(const struct show_column *column, const void *field, struct show_cell *cell)
{
    (void)column;
    const double headroom_a = *(const double *)field;
    cell->figure = headroom_a < 0 ? (double)NAN : headroom_a;
}

static void take_excess(const struct show_column *column, const void *field, struct show_cell *cell)
{
    (void)column;
    const double headroom_a = *(const double *)field;
    cell->figure = headroom_a < 0 ? -headroom_a : (double)NAN;
}

static void get_drop(const void *answer, size_t row, struct show_cell *cell)
{
    (void)row;
    if (isfinite(of(answer)->drop_v)) {
        text_fixed(show_made(cell), "", of(answer)->drop_v, 2, " V, ");
        text_fixed(&cell->made, "", of(answer)->branch.result->drop_percent, 2, " %");
        show_made_done(cell);
    }
}

static void get_cost(const void *answer, size_t row, struct show_cell *cell)
{
    (void)row;
    if (of(answer)->cost_hour != NULL) {
        text_printf(show_made(cell), "%s %s", of(answer)->cost_hour, of(answer)->house->currency);
        show_made_done(cell);
    }
}

/* Of sets that are too many to be counted, and of a number past what a program reads, none. */
static void get_set_count(const void *answer, size_t row, struct show_cell *cell)
{
    (void)row;
    bool fits = false;
    const double count = combos_number_value(&of(answer)->set_count, &fits);
    cell->figure = of(answer)->judged && !(fits && of(answer)->set_count.exact) ? (double)NAN : count;
}

static void get_cautions(const void *answer, size_t row, struct show_cell *cell)
{
    (void)row;
    const char *lines[ESTIMATE_CAUTIONS_MOST + 1];
    show_estimate_cautions(answer, lines);
    cell->part = json_lines(lines);
}

static void get_loads(const void *answer, size_t row, struct show_cell *cell)
{
    (void)row;
    const struct branch_answer *branch = &of(answer)->branch;
    cell->part = show_json_array(&show_load_rows, branch, show_load_count(branch));
}

enum { SEEN = SHOW_TERMINAL | SHOW_PAGE, KNOWN = SEEN | SHOW_JSON };

#define TO_RESULT SHOW_POINTED(struct estimate_answer, branch.result, struct branch_assessment)
#define RESULT(member) TO_RESULT, SHOW_FIELD(struct branch_assessment, member)
#define OWN(member) SHOW_FIELD(struct estimate_answer, member)
#define JUDGED(take_)                                                                                                  \
    .kind = SHOW_FIGURE, .at = judged_at, TO_RESULT, SHOW_TAKEN(struct branch_assessment, all.headroom_a, take_)

static const struct show_column columns[] = {
    {.key = "rules",
     .faces = SHOW_JSON,
     SHOW_POINTED(struct estimate_answer, house, struct house),
     SHOW_TAKEN(struct house, rules, show_take_rules)},
    {.key = "voltage_v", .faces = SHOW_JSON, RESULT(voltage_v)},
    {.key = "breaker_a",
     .faces = SHOW_JSON,
     .at = judged_at,
     SHOW_TO(struct estimate_answer, branch.branch, struct branch, breaker_a)},
    {.key = "status",
     .faces = SHOW_JSON,
     .at = judged_at,
     TO_RESULT,
     SHOW_TAKEN(struct branch_assessment, verdict, show_take_status)},
    {SHOW_NAMED("current_a", "current", "Current", "A"), .decimals = 3, .faces = KNOWN, RESULT(all.current_a)},
    {SHOW_NAMED("planning_a", "planning current", "Planning current", "A"), .decimals = 3, .faces = KNOWN,
     RESULT(all.planning_a)},
    {.key = "wire_a", .faces = SHOW_JSON, RESULT(all.wire_a)},
    {SHOW_NAMED(NULL, "headroom", "Headroom", "A"), .decimals = 3, .faces = SEEN, .known_on = SEEN,
     JUDGED(take_headroom)},
    {SHOW_NAMED(NULL, "above the rating by", "Above the rating by", "A"), .decimals = 3, .faces = SEEN,
     .known_on = SEEN, JUDGED(take_excess)},
    {SHOW_NAMED("power_w", "power", "Power", "W"), .faces = KNOWN, RESULT(all.power_w)},
    {SHOW_NAMED("apparent_va", "apparent power", "Apparent power", "VA"), .faces = KNOWN, .asked = is_reactive,
     .asked_on = SEEN, RESULT(all.apparent_va)},
    {SHOW_NAMED("power_factor", "power factor", "Power factor", NULL), .decimals = 3, .faces = KNOWN,
     .asked = is_reactive, .asked_on = SEEN, RESULT(all.power_factor)},
    {SHOW_NAMED("equivalent_ohm", "equivalent resistance", "Equivalent resistance", "\xCE\xA9"), .decimals = 3,
     .faces = KNOWN, .known_on = SEEN, RESULT(all.equivalent_ohm)},
    {.key = "headroom_a", .faces = SHOW_JSON, .at = judged_at, RESULT(all.headroom_a)},
    {.key = "loads", .kind = SHOW_PART, .faces = SHOW_JSON, .get = get_loads},
    {.key = "sets", SHOW_LIST(set_rows, struct estimate_answer, sets.set_count)},
    {.key = "count", .kind = SHOW_FIGURE, .faces = SHOW_JSON, .get = get_set_count},
    {.heading = "voltage drop", .title = "Voltage drop", .faces = SEEN, .known_on = SEEN, .get = get_drop},
    {.key = "drop_v", .faces = SHOW_JSON, OWN(drop_v)},
    {.key = "drop_percent", .faces = SHOW_JSON, RESULT(drop_percent)},
    {SHOW_NAMED("energy_kwh_hour", "energy of an hour", "Energy of an hour", "kWh"), .decimals = 3, .faces = KNOWN,
     OWN(energy_kwh_hour)},
    {.heading = "cost of an hour", .title = "Cost of an hour", .faces = SEEN, .known_on = SEEN, .get = get_cost},
    {.key = "cost_hour", .faces = SHOW_JSON, OWN(cost_hour)},
    {.key = "findings", SHOW_FINDINGS(struct estimate_answer, findings)},
    {.key = "cautions", .kind = SHOW_PART, .faces = SHOW_JSON, .get = get_cautions},
};

const struct show_rows show_estimate_rows = SHOW_ROWS_OF(columns);

json_t *show_estimate_json(const struct estimate_answer *answer)
{
    json_t *json = json_answer("estimate", NULL);
    show_json_into(&show_estimate_rows, answer, 0, json);
    return json;
}

struct table *show_estimate_table(const struct estimate_answer *answer)
{
    return show_table(&show_load_rows, SHOW_CSV, &answer->branch, show_load_count(&answer->branch));
}

/* ------------------------------------------------------------------ text ---------------------------------- */

static void add_heading(const struct estimate_answer *answer, const struct page *page, struct text *text)
{
    const struct branch_answer *branch = &answer->branch;
    struct text line = {0};
    text_printf(&line, "One branch under %s rules, ", rules_word(answer->house->rules));
    text_rounded(&line, "", branch->result->voltage_v, 1, " V, ");
    if (answer->judged) {
        text_rounded(&line, "breaker ", branch->branch->breaker_a, 1, "");
        text_printf(&line, " A: %s", show_verdict_said(branch->result->verdict));
    } else {
        text_add(&line, "no breaker given, so no verdict");
    }
    show_wrap(page, 0, text_string(&line), text);
    for (size_t i = 0; i < answer->note_count; i++) {
        show_wrap(page, 2, answer->notes[i], text);
    }
    text_add_char(text, '\n');
    text_done(&line);
}

void show_estimate_set(const struct estimate_answer *answer, size_t index, struct text *text)
{
    const struct combos_set *set = &answer->sets.sets[index];
    for (size_t i = 0; i < set->part_count; i++) {
        text_add(text, i > 0 ? " + " : "");
        add_part_name(answer, &set->parts[i], text);
    }
    text_fixed(text, ": ", set->planning_a, 1, " A planned");
}

static void add_set_line(const struct estimate_answer *answer, size_t index, const struct page *page, struct text *text)
{
    struct text line = {0};
    show_estimate_set(answer, index, &line);
    show_line(page, 2, 4, &line, text);
}

static void add_set_lines(const struct estimate_answer *answer, const struct page *page, struct text *text)
{
    if (!answer->judged) {
        return;
    }
    if (answer->sets.set_count == 0) {
        text_add(text, "\nNo set of these loads passes the rating.\n");
        return;
    }
    text_add(text, "\nSmallest sets that pass the rating: ");
    combos_number_text(&answer->set_count, text);
    text_add(text, "\n");
    for (size_t i = 0; i < answer->sets.set_count; i++) {
        add_set_line(answer, i, page, text);
    }
}

void show_estimate_text(const struct estimate_answer *answer, bool working, const struct page *page, struct text *text)
{
    add_heading(answer, page, text);
    show_table_text(&show_load_rows, &answer->branch, show_load_count(&answer->branch), page, text);
    text_add_char(text, '\n');
    text_add(text, "Everything on\n");
    show_figures_text(&show_estimate_rows, answer, 22, text);
    add_set_lines(answer, page, text);
    if (working) {
        show_branch_working(&answer->branch, page, text);
    }
    if (answer->findings.count > 0) {
        text_add(text, "\nFindings\n");
        show_findings_text(&answer->findings, "these loads", true, page, text);
    }
    text_add(text, "\nCautions\n");
    const char *lines[ESTIMATE_CAUTIONS_MOST + 1];
    show_estimate_cautions(answer, lines);
    for (size_t i = 0; lines[i] != NULL; i++) {
        text_add(text, "  ");
        show_wrap(page, 2, lines[i], text);
    }
}
