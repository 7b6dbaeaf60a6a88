/* One branch: the circuit that is on, its figures, wire, findings and working. */
#include "ampsum/show_check.h"
#include "ampsum/steps.h"
#include "circuit.h"
#include "input.h"

static void add_switches(struct visit *visit, const struct assessment *now, size_t index)
{
    const struct branch *branch = &visit->house->branches[index];
    page_add(visit,
             "<form action=\"/branch/%s\" class=\"swap\"><input type=\"hidden\" name=\"on\" value=\"\">"
             "<fieldset><legend>On now</legend><div class=\"switches\">",
             branch->id);
    for (size_t i = 0; i < branch->appliances.count; i++) {
        const size_t appliance_index = branch->appliances.index[i];
        page_switch(visit, &visit->house->appliances[appliance_index], now->options.on[appliance_index], true);
    }
    page_add(visit,
             "</div></fieldset><p><button class=\"without-script\">Work it out</button> "
             "<a href=\"/branch/%s\">everything on</a></p></form>\n",
             branch->id);
}

static void add_steps(struct visit *visit, const struct branch_answer *now)
{
    struct steps steps;
    branch_answer_steps(now, 0, &steps);
    page_fold(visit, false, "Step by step (%zu)", steps.count);
    if (show_branch_halves(now)[0] != '\0') {
        page_add(visit, "<p>%s</p>", show_branch_halves(now));
    }
    page_add(visit, "<ol class=\"steps\">");
    page_steps(visit, &steps, steps.count);
    page_add(visit, "</ol></details>\n");
    steps_done(&steps);
}

/* Verdict, what to do, and the figures behind both. */
static void add_verdict(struct visit *visit, const struct branch_answer *week)
{
    const struct branch *branch = week->branch;
    const struct branch_assessment *result = week->result;
    struct text everything = {0};
    show_branch_everything(week, &everything);
    page_add(visit, "<p class=\"answer\">");
    page_verdict(visit, result->verdict);
    page_add(visit, " %s</p>\n", arena_text(visit->arena, &everything));
    if (check_advise(&week->check, &week->index, 1, visit->arena)[0] == CHECK_SETS) {
        page_not_together(visit, &week->check, week->index);
    }
    page_add(visit, "<p>%g V, %s. ", result->voltage_v, branch->layout == LAYOUT_RING ? "ring" : "parallel loads");
    page_add(visit, "Trip of the breaker at the busiest minute, by its standard: %s.</p>\n",
             show_trip(result->trip, result->all.current_a, branch->breaker_a));
}

static void add_now(struct visit *visit, const struct branch_answer *now)
{
    const struct branch_assessment *chosen = now->result;
    page_add(visit, "<h2>What is on now</h2><p role=\"status\">%.2f A through the breaker of %g A",
             chosen->other.current_a, now->branch->breaker_a);
    page_add(visit, branch_answer_exceeds(now) ? ": <strong>OVER</strong>" : "");
    page_add(visit, "; planning current %.2f A.</p>\n", chosen->other.planning_a);
    circuit_svg(visit, now->check.assessment, now->index, CIRCUIT_SCREEN);
}

/* The same in figures, each part behind a summary. */
static void add_tables(struct visit *visit, const struct branch_answer *now)
{
    page_fold_table(visit, false, "Each load in figures", &show_load_rows, "Loads", now, show_load_count(now));
    page_fold(visit, false, "Voltage along the wire");
    circuit_wire(visit, now->check.assessment, now->index);
    page_add(visit, "</details>\n");
    add_steps(visit, now);
}

static void add_view(struct visit *visit, const struct branch_answer *now, const struct branch_answer *week)
{
    const struct branch *branch = week->branch;
    page_begin(visit, branch->label);
    add_verdict(visit, week);
    add_switches(visit, now->check.assessment, now->index);
    page_add(visit, "<div class=\"beside\"><div>");
    add_now(visit, now);
    add_tables(visit, now);
    page_add(visit, "</div><div><h2>Findings</h2>");
    page_findings_told(visit, &week->result->findings);
    page_add(visit,
             "</div></div>\n<p class=\"scenes\"><a href=\"/cost/day?of=%s\">Its busiest day</a> <a "
             "href=\"/fault/%s\">If a wire touches "
             "metal</a> <a href=\"/class/%s\">Show this branch to a class</a></p>\n",
             branch->id, branch->id, branch->id);
    page_end(visit);
}

static bool says_choice(const struct visit *visit)
{
    return form_has(&visit->query, "on") || form_has(&visit->query, "scene");
}

/* Everything on where nothing is chosen. */
static bool choose(struct visit *visit, struct assess_options *chosen)
{
    if (!says_choice(visit)) {
        form_add(&visit->query, "all", "1");
    }
    return visit_choice(visit, &visit->query, chosen);
}

void view_branch(struct visit *visit)
{
    struct branch_question question = {.choice = {.wires = true, .loads = true}, .branch = visit->row};
    struct branch_answer now;
    if (!choose(visit, &question.choice)) {
        return;
    }
    const struct branch_answer week = branch_answer_of(visit_check(visit), question.branch);
    answer_branch(visit->house, &question, &now);
    add_view(visit, &now, &week);
    branch_answer_done(&now);
}

/* The answer of `branch --format json`. */
void api_branch(struct visit *visit)
{
    struct branch_question question = {.choice = {.wires = true, .loads = true}, .branch = visit->row, .bill = true};
    struct branch_answer answer;
    if (says_choice(visit) && !visit_choice(visit, &visit->query, &question.choice)) {
        return;
    }
    answer_branch(visit->house, &question, &answer);
    visit_json(visit, show_branch_json(&answer));
    branch_answer_done(&answer);
}
