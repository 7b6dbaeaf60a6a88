/* All branches, the panels, and the loads of each branch with its circuit. */
#include <math.h>
#include <string.h>

#include "ampsum/show_check.h"
#include "report_parts.h"

static bool busiest(const struct report *report)
{
    return report->assessment->options.basis == BASIS_BUSIEST;
}

void report_part_branches(const struct report *report)
{
    struct text legend = {0};
    print_heading(report->document, 2, "Branches");
    show_legend(report->check, "among its findings", &legend);
    text_add(&legend, busiest(report) ? " Headroom and drop are with everything on."
                                      : " Headroom is with everything on, the drop as chosen.");
    report_paragraph(report, &legend);
    print_rows(report->document, "All branches", &show_check_rows, report->check, report->house->branch_count);
}

void report_part_panels(const struct report *report)
{
    static const struct print_column columns[] = {{"Panel", 26, false},
                                                  {"Breaker, A", 11, true},
                                                  {"Leg A, A", 11, true},
                                                  {"Leg B, A", 11, true},
                                                  {"Leg C, A", 11, true},
                                                  {"Neutral, A", 11, true},
                                                  {"Demand by rules, A", 14, true},
                                                  {"Feeder drop, %", 12, true}};
    print_heading(report->document, 2, "Panels");
    struct print_table *table = print_table_add(report->document, "Currents with everything on", columns, 8);
    for (size_t i = 0; i < report->house->panel_count; i++) {
        const struct panel *panel = &report->house->panels[i];
        const struct panel_assessment *result = &report->assessment->panels[i];
        print_cell(report->document, table, panel->name != NULL ? panel->name : panel->id);
        print_number(report->document, table, panel->breaker_a, 0);
        for (size_t leg = 0; leg < 3; leg++) {
            const bool has = (panel->legs >> leg & 1U) != 0;
            print_number(report->document, table, has ? result->all.leg_current_a[leg] : (double)NAN, 1);
        }
        print_number(report->document, table, result->all.neutral_a, 1);
        print_number(report->document, table, result->demand_a, 1);
        print_number(report->document, table, result->feeder_drop_percent, 2);
    }
}

/* ------------------------------------------------------------------ loads --------------------------------- */

static void add_together(const struct report *report, size_t index)
{
    const struct branch_assessment *result = &report->assessment->branches[index];
    const struct branch_figures *figures = busiest(report) ? &result->all : &result->other;
    struct text text = {0};
    text_add(&text, busiest(report) ? "Everything on: " : "As chosen: ");
    text_add_fixed(&text, figures->power_w, 0);
    text_add(&text, " W, ");
    text_add_fixed(&text, figures->current_a, 2);
    text_add(&text, " A, planning current ");
    text_add_fixed(&text, figures->planning_a, 2);
    text_add(&text, " A on a breaker of ");
    text_add_rounded(&text, report->house->branches[index].breaker_a, 1);
    text_printf(&text, " A: %s.", show_verdict(result->verdict));
    report_paragraph(report, &text);
}

static void add_branch_loads(const struct report *report, size_t index)
{
    const struct branch *branch = &report->house->branches[index];
    const struct branch_answer answer = branch_answer_of(report->check, index);
    struct text name = {0};
    show_branch_name(branch, &name);
    print_heading(report->document, 3, text_string(&name));
    text_done(&name);
    if (branch->appliances.count == 0) {
        print_paragraph(report->document, "No appliance is listed.");
        return;
    }
    add_together(report, index);
    print_rows(report->document, branch->label, &show_load_rows, &answer, show_load_count(&answer));
    if (report->pictured[index] && branch->appliances.count > 1) { /* one load is no parallel circuit */
        print_pictures(report->document,
                       pictures_circuit(report->assessment, index, CIRCUIT_PAPER, report->document->arena));
    }
}

void report_part_loads(const struct report *report)
{
    print_heading(report->document, 2, "Loads of each branch");
    size_t loaded = 0;
    for (size_t i = 0; i < report->house->branch_count; i++) {
        loaded += report->assessment->branches[i].verdict != VERDICT_EMPTY;
    }
    if (loaded > report->pictured_count) {
        struct text text = {0};
        text_printf(&text,
                    "Pictures of single branches are drawn for the %zu with the worst verdicts, of %zu; the tables "
                    "hold every branch.",
                    report->pictured_count, loaded);
        report_paragraph(report, &text);
    }
    for (size_t i = 0; i < report->house->branch_count; i++) {
        add_branch_loads(report, i);
    }
}
