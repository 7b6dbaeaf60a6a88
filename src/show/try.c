/* The answer of `try`: a row for each branch that changes, its JSON, and the sentences of the terminal. */
#include "ampsum/show_try.h"

#include <math.h>

#include "ampsum/cautions.h"
#include "ampsum/show_check.h"
#include "ampsum/show_place.h"

/* ------------------------------------------------------------------ rows ---------------------------------- */

static const struct try_row *row_of(const void *answer, size_t row)
{
    return &((const struct try_answer *)answer)->rows[row];
}

/* NULL where no figure of the branch means anything. */
static const void *then_at(const void *answer, size_t row)
{
    const struct try_row *change = row_of(answer, row);
    return change->other_voltage ? NULL : change->then;
}

static json_t *side_json(const struct check_answer *side, size_t index)
{
    return index == NO_INDEX ? json_null() : show_json(&show_check_rows, side, index);
}

static void get_before_json(const void *answer, size_t row, struct show_cell *cell)
{
    cell->part = side_json(&((const struct try_answer *)answer)->before, row_of(answer, row)->before);
}

/* A load made for another voltage: no status and no current of its branch means anything. */
static void forget_currents(json_t *branch)
{
    static const char *const bases[] = {"all", "busiest", "scene"};
    static const char *const keys[] = {"current_a", "planning_a", "wire_a", "headroom_a"};
    json_object_set_new(branch, "status", json_null());
    for (size_t i = 0; i < sizeof bases / sizeof bases[0]; i++) {
        json_t *basis = json_object_get(branch, bases[i]);
        for (size_t k = 0; k < sizeof keys / sizeof keys[0]; k++) {
            if (json_object_get(basis, keys[k]) != NULL) {
                json_object_set_new(basis, keys[k], json_null());
            }
        }
    }
}

/* Nor does a finding that was not there before, but the voltage's. */
static void forget_findings(const struct try_answer *answer, size_t row, json_t *branch)
{
    const struct try_row *change = row_of(answer, row);
    json_t *kept = json_array();
    for (size_t i = 0; i < change->then->findings.count; i++) {
        if (try_tells(answer, change, &change->then->findings.finding[i])) {
            json_array_append_new(kept, show_json(&show_finding_rows, &change->then->findings.finding[i], 0));
        }
    }
    json_object_set_new(branch, "findings", kept);
}

static void get_after_json(const void *answer, size_t row, struct show_cell *cell)
{
    cell->part = side_json(&((const struct try_answer *)answer)->after, row_of(answer, row)->after);
    if (row_of(answer, row)->other_voltage) {
        forget_currents(cell->part);
        forget_findings(answer, row, cell->part);
    }
}

static SHOW_WORD_TAKE(take_class, enum fit_class, fit_class_word)

    static void take_fits(const struct show_column *column, const void *field, struct show_cell *cell)
{
    (void)column;
    cell->flag = *(const enum fit_class *)field == FIT_ROOM;
}

#define CHANGE SHOW_ELEMENT(struct try_answer, rows, struct try_row)
#define BRANCH(member) SHOW_VIA(struct try_answer, rows, struct try_row, branch, struct branch, member)
#define WAS(member) SHOW_VIA(struct try_answer, rows, struct try_row, was, struct branch_assessment, member)
#define WAS_AS(take)                                                                                                   \
    CHANGE, SHOW_POINTED(struct try_row, was, struct branch_assessment),                                               \
        SHOW_TAKEN(struct branch_assessment, verdict, take)
#define THEN(member) .at = then_at, SHOW_FIELD(struct branch_assessment, member)
#define THEN_AS(take) .at = then_at, SHOW_TAKEN(struct branch_assessment, verdict, take)
#define FIT(take) .faces = SHOW_JSON, SHOW_TAKEN(struct fit, class, take)
#define FIT_HERE(take) CHANGE, SHOW_POINTED(struct try_row, fit, struct fit), FIT(take)

static const struct show_column columns[] = {
    {.key = "id", .heading = "BRANCH", .faces = SHOW_ROWS, BRANCH(id)},
    {.key = "breaker_a", .heading = "BREAKER", .faces = SHOW_ROWS, BRANCH(breaker_a)},
    {.heading = "BEFORE", .faces = SHOW_TERMINAL, WAS_AS(show_take_said)},
    {.key = "before_status", .faces = SHOW_CSV, WAS_AS(show_take_status)},
    {.key = "before_all_planning_a", .heading = "ALL ON", .decimals = 1, .faces = SHOW_ROWS, WAS(all.planning_a)},
    {.key = "before_planning_a", .heading = "BUSIEST", .decimals = 1, .faces = SHOW_ROWS, WAS(other.planning_a)},
    {.heading = "AFTER", .faces = SHOW_TERMINAL, THEN_AS(show_take_said)},
    {.key = "after_status", .faces = SHOW_CSV, THEN_AS(show_take_status)},
    {.key = "after_all_planning_a", .heading = "ALL ON", .decimals = 1, .faces = SHOW_ROWS, THEN(all.planning_a)},
    {.key = "after_planning_a", .heading = "BUSIEST", .decimals = 1, .faces = SHOW_ROWS, THEN(other.planning_a)},
    {.key = "before", .kind = SHOW_PART, .faces = SHOW_JSON, .get = get_before_json},
    {.key = "after", .kind = SHOW_PART, .faces = SHOW_JSON, .get = get_after_json},
    {.key = "class", FIT_HERE(take_class)},
    {.key = "fits", .kind = SHOW_FLAG, FIT_HERE(take_fits)},
};

const struct show_rows show_try_rows = SHOW_ROWS_OF(columns);

/* ------------------------------------------------------------------ programs ------------------------------ */

static bool is_changed(const void *found)
{
    return ((const struct try_finding *)found)->news == TRY_CHANGED;
}

static SHOW_WORD_TAKE(take_severity, enum severity, severity_word)

    /* A finding with the branch or panel in whose list it stands. */
    static const struct show_column found_columns[] = {
        {SHOW_OBJECT(show_finding_rows), SHOW_POINTED(struct try_finding, finding, struct finding)},
        {.key = "where", .faces = SHOW_JSON, SHOW_FIELD(struct try_finding, where)},
        {.key = "severity_before",
         .faces = SHOW_JSON,
         .asked = is_changed,
         SHOW_TAKEN(struct try_finding, severity_before, take_severity)},
};

static json_t *findings_json(const struct try_answer *answer, enum try_news news)
{
    static const struct show_rows rows = SHOW_ROWS_OF(found_columns);
    json_t *array = json_array();
    for (size_t i = 0; i < answer->finding_count; i++) {
        if (answer->findings[i].news == news) {
            json_array_append_new(array, show_json(&rows, &answer->findings[i], 0));
        }
    }
    return array;
}

static void get_new(const void *answer, size_t row, struct show_cell *cell)
{
    (void)row;
    cell->part = findings_json(answer, TRY_NEW);
}

static void get_gone(const void *answer, size_t row, struct show_cell *cell)
{
    (void)row;
    cell->part = findings_json(answer, TRY_GONE);
}

static void get_changed(const void *answer, size_t row, struct show_cell *cell)
{
    (void)row;
    cell->part = findings_json(answer, TRY_CHANGED);
}

static const struct show_column energy_columns[] = {
    {.key = "before", SHOW_OBJECT(show_energy_rows), SHOW_POINTED(struct try_answer, before.bill, struct energy_bill)},
    {.key = "after", SHOW_OBJECT(show_energy_rows), SHOW_POINTED(struct try_answer, after.bill, struct energy_bill)},
    {.key = "currency", .faces = SHOW_JSON, SHOW_TO(struct try_answer, after.house, struct house, currency)},
};
static const struct show_rows energy_rows = SHOW_ROWS_OF(energy_columns);

#define CLASS(take) SHOW_POINTED(struct try_answer, worst, struct fit), FIT(take)
#define NEWS .kind = SHOW_PART, .faces = SHOW_JSON

static const struct show_column answer_columns[] = {
    {.key = "status", .faces = SHOW_JSON, SHOW_TAKEN(struct try_answer, status, show_take_status)},
    {.key = "status_before",
     .faces = SHOW_JSON,
     SHOW_POINTED(struct try_answer, before.assessment, struct assessment),
     SHOW_TAKEN(struct assessment, status, show_take_status)},
    {.key = "kept", .faces = SHOW_JSON, SHOW_FIELD(struct try_answer, kept)},
    {.key = "class", CLASS(take_class)},
    {.key = "fits", .kind = SHOW_FLAG, CLASS(take_fits)},
    {.key = "branches", SHOW_LIST(show_try_rows, struct try_answer, row_count)},
    {.key = "new_findings", NEWS, .get = get_new},
    {.key = "gone_findings", NEWS, .get = get_gone},
    {.key = "changed_findings", NEWS, .get = get_changed},
    {.key = "energy", SHOW_OBJECT(energy_rows)},
};

json_t *show_try_json(const struct try_answer *answer, bool kept)
{
    static const struct show_rows rows = SHOW_ROWS_OF(answer_columns);
    const char *cautions[CAUTIONS_MOST + 1];
    struct try_answer shown = *answer;
    shown.kept = kept;
    cautions_of(answer->after.assessment, NO_INDEX, cautions);
    return show_answer_json("try", answer->after.house->name, &rows, &shown, cautions);
}

/* ------------------------------------------------------------------ people -------------------------------- */

static void write_done(const struct try_done *done, const struct page *page, struct text *text)
{
    text_add(text, done->removed == NULL ? "" : done->removed);
    if (done->chosen != NULL) {
        text_printf(text, "On %s, the branch of this room with the most headroom.\n", done->chosen);
    }
    if (done->id != NULL) {
        text_printf(text, "Added as %s.\n", done->id);
        if (done->use != NULL) {
            text_printf(text, "\"%s\" is %s.\n", done->use_said, done->use);
        }
        show_load_notes(&done->load, done->rules, page, text);
    }
}

void show_try_done(const struct try_done *done, size_t count, const struct page *page, struct text *text)
{
    for (size_t i = 0; i < count; i++) {
        write_done(&done[i], page, text);
    }
}

static void add_off(const struct house *house, const struct fit *fit, struct text *line)
{
    const struct index_list *loads = &house->branches[fit->branch].appliances;
    const char *before = "";
    for (size_t i = 0; i < loads->count; i++) {
        if (fit->off[i]) {
            text_printf(line, "%s%s", before, house->appliances[loads->index[i]].name);
            before = ", ";
        }
    }
}

/* Whether each load that came has room where it is now. */
static void write_arrivals(const struct try_answer *answer, const struct page *page, struct text *text)
{
    const struct house *house = answer->after.house;
    struct text line = {0};
    for (size_t i = 0; i < answer->fit_count; i++) {
        const struct fit *fit = &answer->fits[i];
        text_printf(&line, "%s on %s: ", house->appliances[fit->appliance].name, house->branches[fit->branch].id);
        if (fit->class == FIT_ROOM) {
            text_add(&line, "room for it");
        } else if (fit->class == FIT_ONLY_IF) {
            text_add(&line, "only if these stay off while it runs: ");
            add_off(house, fit, &line);
        } else {
            text_printf(&line, "no, %s", fit->reason);
        }
        text_add_char(&line, '.');
        show_line(page, 0, 2, &line, text);
    }
}

static void write_findings(const struct try_answer *answer, const struct page *page, struct text *text)
{
    struct text line = {0};
    text_add(text, answer->finding_count > 0 ? "Findings\n" : "");
    for (size_t i = 0; i < answer->finding_count; i++) {
        const struct try_finding *found = &answer->findings[i];
        const struct finding *finding = found->finding;
        if (found->news == TRY_CHANGED) {
            text_printf(&line, "was %s, now", show_severity(found->severity_before));
        } else {
            text_add(&line, found->news == TRY_NEW ? "new" : "gone");
        }
        text_printf(&line, " %s %s%s: %s [%s]", show_severity(finding->severity),
                    found->kind == KIND_PANEL ? "panel " : "", found->where, finding->text, finding->id);
        show_line(page, 2, 4, &line, text);
    }
    text_add(text, answer->finding_count > 0 ? "\n" : "");
}

static void write_panels(const struct try_answer *answer, struct text *text)
{
    for (size_t i = 0; i < answer->leg_count; i++) {
        const struct try_leg *leg = &answer->legs[i];
        text_say(text, "  panel %s, leg %s, everything on: %.1f A -> %.1f A\n", leg->panel->id, legs_word(leg->leg),
                 leg->before_a, leg->after_a);
    }
}

static void write_energy(const struct try_answer *answer, const struct page *page, struct text *text)
{
    const struct energy_bill *before = answer->before.bill;
    const struct energy_bill *after = answer->after.bill;
    text_say(text, "  a day: %.2f -> %.2f kWh", before->kwh_day, after->kwh_day);
    if (before->cost_day != NULL && after->cost_day != NULL) {
        const char *currency = answer->after.house->currency;
        text_printf(text, ", %s -> %s %s; a year: %s -> %s %s", before->cost_day, after->cost_day, currency,
                    before->cost_year, after->cost_year, currency);
    }
    text_add_char(text, '\n');
    for (size_t i = 0; i < answer->left_out_count; i++) {
        show_say(page, 2, 4, text, "%s: its hours of use are not known, so its energy is left out.",
                 answer->left_out[i]->name);
    }
}

static bool is_other_voltage(const struct try_answer *answer)
{
    return answer->worst != NULL && answer->worst->other_voltage;
}

const char *show_try_over(const struct try_answer *answer)
{
    return is_other_voltage(answer)
               ? " Never connect it there: it is made for another voltage."
               : " Run fewer of these at once, move a plug-in appliance, or ask a licensed electrician.";
}

/* Which branches are over after it, and which of them were before. */
static void write_over(const struct try_answer *answer, const struct page *page, struct text *text)
{
    struct text line = {0};
    for (size_t i = 0; i < answer->over_count; i++) {
        text_printf(&line, "%s%s%s", i == 0 ? "Over after it: " : ", ", answer->over[i].branch->id,
                    answer->over[i].already ? " (as before)" : "");
    }
    text_printf(&line, "%s%s", answer->over_count == 0 ? "Over after it." : ".", show_try_over(answer));
    show_line(page, 0, 0, &line, text);
    text_add_char(text, '\n');
}

void show_try_text(const struct try_answer *answer, const char *what, const struct page *page, struct text *text)
{
    const char *cautions[CAUTIONS_MOST + 1];
    write_arrivals(answer, page, text);
    text_add(text, answer->fit_count > 0 && what[0] != '\0' ? "\n" : "");
    text_add(text, what);
    text_add(text, what[0] != '\0' || answer->fit_count > 0 ? "\n" : "");
    if (answer->row_count == 0) {
        text_add(text, "No branch changes.\n");
    }
    show_table_text(&show_try_rows, answer, answer->row_count, page, text);
    text_add_char(text, '\n');
    write_findings(answer, page, text);
    if (!is_other_voltage(answer)) {
        text_add(text, "Panels and energy\n");
        write_panels(answer, text);
        write_energy(answer, page, text);
        text_add_char(text, '\n');
    }
    if (answer->status == VERDICT_OVER) {
        write_over(answer, page, text);
    }
    cautions_of(answer->after.assessment, NO_INDEX, cautions);
    show_cautions_text(page, cautions, text);
}
