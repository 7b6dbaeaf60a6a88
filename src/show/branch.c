/* The answer of `branch` in words and as JSON; the rows of its loads: branch_rows.c. */
#include <math.h>
#include <string.h>

#include "ampsum/cautions.h"
#include "ampsum/reference.h"
#include "ampsum/show_check.h"
#include "ampsum/show_wire.h"
#include "ampsum/steps.h"

static void add_amount(struct text *text, const char *what, double value, int decimals, const char *unit)
{
    text_printf(text, "  %-22s ", what);
    if (isfinite(value)) {
        text_add_rounded(text, value, decimals);
        text_printf(text, "%s%s\n", unit[0] == '\0' ? "" : " ", unit);
    } else {
        text_add(text, "-\n");
    }
}

static void write_totals(struct text *text, const char *title, const struct branch_figures *figures)
{
    text_printf(text, "%s\n", title);
    add_amount(text, "current", figures->current_a, 3, "A");
    add_amount(text, "planning current", figures->planning_a, 3, "A");
    add_amount(text, "power", figures->power_w, 1, "W");
    if (figures->reactive_var > 0) {
        add_amount(text, "reactive power", figures->reactive_var, 1, "var");
        add_amount(text, "apparent power", figures->apparent_va, 1, "VA");
        add_amount(text, "power factor", figures->power_factor, 3, "");
    }
    add_amount(text, "equivalent resistance", figures->equivalent_ohm, 3, "Ω");
    add_amount(text, "headroom", figures->headroom_a, 3, "A");
}

const char *show_branch_halves(const struct branch_answer *answer)
{
    static const char *const words[] = {
        [HALVES_NONE] = "",
        [HALVES_ALL] =
            ("Each load is connected to two lines and the neutral, half of it on each line. Worked for one "
             "half, at the voltage from its line to the neutral; the other line carries the same, and so does "
             "the neutral."),
        [HALVES_MIXED] =
            ("Some loads lie between the two lines and some by halves from each line to the neutral: their "
             "currents are out of step, 30 degrees where both are plain heaters. Of halves the power of one line is "
             "worked with; the figures are of the heavier line."),
    };
    return words[branch_answer_halves(answer->check.house, answer->branch, answer->result)];
}

void show_branch_working(const struct branch_answer *answer, const struct page *page, struct text *text)
{
    struct steps steps = {0};
    branch_answer_steps(answer, 0, &steps);
    text_add(text, "\nWorking\n");
    if (show_branch_halves(answer)[0] != '\0') {
        text_add(text, "  ");
        show_wrap(page, 2, show_branch_halves(answer), text);
    }
    for (size_t i = 0; i < steps.count; i++) {
        struct text line = {0};
        step_write(&line, &steps.step[i], page->utf8);
        show_line(page, 2, 6, &line, text);
    }
    steps_done(&steps);
}

static void write_findings(const struct branch_answer *answer, const struct page *page, struct text *text)
{
    if (answer->result->findings.count > 0) {
        text_add(text, "\nFindings\n");
        show_findings_text(&answer->result->findings, answer->branch->id, true, page, text);
    }
}

static void write_heading(const struct branch_answer *answer, const struct page *page, struct text *text)
{
    const struct branch *branch = answer->branch;
    struct text line = {0};
    show_say(page, 0, 0, text, "%s: %s, %.1g V, breaker %.1g A, %s: %s", branch->id, branch->label,
             answer->result->voltage_v, branch->breaker_a,
             branch->layout == LAYOUT_RING ? "ring" : "parallel loads on one branch",
             show_verdict_said(answer->result->verdict));
    reference_missing_add(&line, rules_word(answer->check.house->rules));
    show_line(page, 0, 0, &line, text);
    text_add_char(text, '\n');
}

static void write_loads(const struct branch_answer *answer, const struct page *page, struct text *text)
{
    show_table_text(&show_load_rows, answer, show_load_count(answer), page, text);
    text_add(text, show_load_count(answer) == 0 ? "Nothing is connected here.\n\n" : "\n");
}

static void write_busiest(const struct branch_answer *answer, struct text *text)
{
    struct text title = {0};
    const struct moment at = answer->result->at;
    text_add(&title, "Busiest minute, ");
    if (at.month >= 0 && branch_has_times(answer->check.house, answer->index)) {
        moment_say(&title, at);
    } else {
        branch_moment_add(&title, answer->check.house, answer->index, at);
    }
    write_totals(text, text_string(&title), &answer->result->other);
    text_done(&title);
}

static void write_figures(const struct branch_answer *answer, const struct page *page, struct text *text)
{
    const struct branch_assessment *result = answer->result;
    write_heading(answer, page, text);
    write_loads(answer, page, text);
    write_totals(text, answer->chosen ? "Chosen on" : "Everything on", answer->shown);
    text_printf(text, "  %-22s %s\n", "trip by its standard",
                show_trip(result->trip, answer->shown->current_a, answer->branch->breaker_a));
    if (!answer->chosen && result->at.month >= 0) {
        write_busiest(answer, text);
    }
    if (isfinite(result->drop_percent)) {
        text_add(text, "Wire\n");
        add_amount(text, "voltage drop", result->drop_percent, 2, "% at the worst outlet");
    }
}

void show_branch_everything(const struct branch_answer *answer, struct text *text)
{
    const struct branch_assessment *result = answer->result;
    const double left_a = result->all.headroom_a;
    text_fixed(text, "With everything on ", result->all.planning_a, 1, " A, ");
    text_fixed(text, "", fabs(left_a), 1, left_a < 0 ? " A over" : " A left on");
    text_rounded(text, " its breaker of ", answer->branch->breaker_a, 3, " A; at the busiest minute ");
    text_fixed(text, "", result->other.planning_a, 1, " A.");
}

void show_branch_text(const struct branch_answer *answer, const struct wire_branch *wire, const struct page *page,
                      struct text *text)
{
    const char *cautions[CAUTIONS_MOST + 1];
    write_figures(answer, page, text);
    if (wire != NULL) {
        show_branch_working(answer, page, text);
    }
    if (wire != NULL && wire->solved) {
        text_add(text, "\nWire, working\n");
        show_wire_working(answer->check.house, wire, text);
    }
    write_findings(answer, page, text);
    text_add_char(text, '\n');
    cautions_of(answer->check.assessment, answer->index, cautions);
    show_cautions_text(page, cautions, text);
}

json_t *show_branch_json(const struct branch_answer *answer)
{
    const struct check_answer *check = &answer->check;
    json_t *object = json_answer("branch", check->house->name);
    show_json_into(&show_check_rows, check, answer->index, object);
    const char *cautions[CAUTIONS_MOST + 1];
    cautions_of(check->assessment, answer->index, cautions);
    json_cautions(object, cautions);
    return object;
}
