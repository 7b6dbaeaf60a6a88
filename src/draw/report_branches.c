/* All branches, the panels, and the loads of each branch with its circuit. */
#include "ampsum/language.h"
#include "ampsum/show_check.h"
#include "ampsum/show_report.h"
#include "pictures.h"
#include "report_parts.h"

static bool busiest(const struct report *report)
{
    return report->assessment->options.basis == BASIS_BUSIEST;
}

/* What the table does not hold: how many have which verdict, and what they draw together. */
static void add_branches_left(const struct report *report)
{
    const struct report_rest rest = report_rest(
        report->check, report_worst(report->check, REPORT_BRANCHES_MOST, VERDICT_EMPTY, report->document->arena));
    struct text text = {0};
    text_printf(&text, "These are the worst; %zu more are left out:", rest.branches);
    add_verdicts(&text, " ", rest.verdicts);
    text_fixed(&text, "; with everything on they draw ", rest.power_w, 0,
               " W together. `ampsum check --format csv` lists every branch.");
    report_paragraph(report, &text);
}

/* All branches as in the file; of very many the worst. */
static void add_branches(const struct report *report)
{
    const size_t count = report->house->branch_count;
    if (count <= REPORT_BRANCHES_MOST) {
        print_rows(report->document, "All branches", &show_check_rows, report->check, count);
        return;
    }
    struct check_answer ranked = *report->check;
    ranked.order = check_worst_first(report->check, report->document->arena);
    print_rows(report->document, "The worst branches", &show_check_rows, &ranked, REPORT_BRANCHES_MOST);
    add_branches_left(report);
}

void report_part_branches(const struct report *report)
{
    struct text legend = {0};
    report_annex(report, "Branches");
    show_legend(report->check, "among its findings", &legend);
    text_add(&legend, busiest(report) ? " Headroom and drop are with everything on."
                                      : " Headroom is with everything on, the drop as chosen.");
    report_paragraph(report, &legend);
    add_branches(report);
}

void report_part_panels(const struct report *report)
{
    const size_t count = report->house->panel_count;
    const size_t shown = count < REPORT_PANELS_MOST ? count : REPORT_PANELS_MOST;
    report_annex(report, "Panels");
    print_rows(report->document, "Currents with everything on", &show_report_panel_rows, report->check, shown);
    if (shown < count) {
        struct text text = {0};
        text_printf(&text, "%zu more panels are left out: no leg of theirs carries more than ", count - shown);
        text_fixed(&text, "", report_most_leg_a(report->check, shown), 1,
                   " A. `ampsum check --format json` lists all.");
        report_paragraph(report, &text);
    }
}

/* ------------------------------------------------------------------ loads --------------------------------- */

/* What all loads of a branch come to, behind its name. */
static void add_together(const struct report *report, size_t index, struct text *text)
{
    const struct branch_assessment *result = &report->assessment->branches[index];
    const struct branch_figures *figures = busiest(report) ? &result->all : &result->other;
    if (report->house->branches[index].appliances.count == 0) {
        text_add(text, "no appliance is listed");
        return;
    }
    text_fixed(text, "", figures->power_w, 0, " W, ");
    text_fixed(text, "", figures->current_a, 2, " A; planning current ");
    text_fixed(text, "", figures->planning_a, 2, " of ");
    text_add_rounded(text, report->house->branches[index].breaker_a, 1);
    text_printf(text, " A: %s", show_verdict(result->verdict));
}

/* How many loads of a branch are listed, as in the file. */
static size_t loads_shown(const struct report *report, size_t index)
{
    const struct branch_answer answer = branch_answer_of(report->check, index);
    const size_t count = show_load_count(&answer);
    return count < REPORT_BRANCH_LOADS_MOST ? count : REPORT_BRANCH_LOADS_MOST;
}

/* What the loads of a branch that are not listed come to. */
static void add_loads_cut(const struct branch_answer *answer, size_t shown, struct text *text)
{
    const size_t count = show_load_count(answer);
    double power_w = 0;
    for (size_t i = shown; i < count; i++) {
        power_w += answer->result->loads[i].draw.power_w;
    }
    if (shown < count) {
        text_printf(text, "; listed are its first %zu loads, the other %zu come to ", shown, count - shown);
        text_add_fixed(text, power_w, 0);
        text_add(text, " W (`ampsum branch` lists all)");
    }
}

/* The branch's line and its loads; the table is begun with the first. */
static struct print_table *add_branch_loads(const struct report *report, size_t index, struct print_table *table)
{
    const struct branch_answer answer = branch_answer_of(report->check, index);
    struct text name = {0};
    struct text note = {0};
    if (table == NULL) {
        table =
            print_rows(report->document, busiest(report) ? "Everything on" : "As chosen", &show_load_rows, &answer, 0);
    }
    show_branch_name(&report->house->branches[index], &name);
    add_together(report, index, &note);
    const size_t shown = loads_shown(report, index);
    add_loads_cut(&answer, shown, &note);
    print_group(report->document, table, text_string(&name), text_string(&note));
    print_more_rows(report->document, table, &show_load_rows, &answer, shown);
    text_done(&name);
    text_done(&note);
    return table;
}

static void add_circuits(const struct report *report)
{
    for (size_t i = 0; i < report->house->branch_count; i++) {
        if (report->circuits[i] &&
            report->house->branches[i].appliances.count > 1) { /* one load is no parallel circuit */
            print_pictures(report->document, pictures_circuit(report->assessment, i, CIRCUIT_PAPER, LANGUAGE_ENGLISH,
                                                              report->document->arena));
        }
    }
}

static void add_loads_left(const struct report *report, const bool *listed)
{
    const struct report_rest rest = report_rest(report->check, listed);
    if (rest.branches > 0) {
        struct text text = {0};
        text_printf(&text, "Left out are %zu branches that are no worse than these, with %zu appliances that draw ",
                    rest.branches, rest.loads);
        text_fixed(&text, "", rest.power_w, 0, " W with everything on. `ampsum branch` shows each of them.");
        report_paragraph(report, &text);
    }
}

void report_part_loads(const struct report *report)
{
    const bool *listed =
        report_listed(report->check, REPORT_LOADS_MOST, REPORT_BRANCH_LOADS_MOST, report->document->arena);
    struct print_table *table = NULL;
    report_annex(report, "Loads of each branch");
    if (report->circuit_count > 0) {
        struct text text = {0};
        text_printf(&text, "The circuit of %s stands below; the others are like it, with the loads of the table.",
                    report->circuit_count == 1 ? "the worst branch" : "the worst branches");
        report_paragraph(report, &text);
    }
    for (size_t i = 0; i < report->house->branch_count; i++) {
        if (listed[i]) {
            table = add_branch_loads(report, i, table);
        }
    }
    add_loads_left(report, listed);
    add_circuits(report);
}
