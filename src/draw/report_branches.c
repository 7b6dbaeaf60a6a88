/* All branches, the panels, and the loads of each branch with its circuit. */
#include <math.h>
#include <string.h>

#include "report_parts.h"

static bool busiest(const struct report *report)
{
    return report->assessment->options.basis == BASIS_BUSIEST;
}

static void add_branch_row(const struct report *report, struct print_table *table, size_t index)
{
    const struct branch *branch = &report->house->branches[index];
    const struct branch_assessment *result = &report->assessment->branches[index];
    struct text text = {0};
    report_branch_name(&text, branch);
    print_cell(report->document, table, text_string(&text));
    print_cell(report->document, table, verdict_shown(result->verdict));
    print_number(report->document, table, branch->breaker_a, 0);
    print_number(report->document, table, result->all.planning_a, 1);
    print_number(report->document, table, result->other.planning_a, 1);
    text_clear(&text);
    if (busiest(report)) {
        branch_moment_add(&text, report->house, index, result->at);
        if (result->at.month >= 0 && branch_has_times(report->house, index)) {
            text_printf(&text, ", %s", month_word(result->at.month));
        }
    }
    print_cell(report->document, table, text_string(&text));
    print_number(report->document, table, result->all.headroom_a, 1);
    print_number(report->document, table, result->drop_percent, 2);
    text_done(&text);
}

void report_part_branches(const struct report *report)
{
    static const struct print_column columns[] = {
        {"Branch", 34, false},    {"Verdict", 12, false}, {"Breaker, A", 11, true},  {"All on, A", 10, true},
        {"Busiest, A", 11, true}, {"When", 18, false},    {"Headroom, A", 16, true}, {"Drop, %", 9, true}};
    static const struct print_column chosen_columns[] = {
        {"Branch", 34, false},   {"Verdict", 12, false}, {"Breaker, A", 11, true},  {"All on, A", 10, true},
        {"Chosen, A", 11, true}, {"", 1, false},         {"Headroom, A", 16, true}, {"Drop, %", 9, true}};
    print_heading(report->document, 2, "Branches");
    print_paragraph(report->document,
                    busiest(report)
                        ? "Amperes are planning currents, after the rules' factors. OVER: more than the breaker's "
                          "rating at the busiest minute of the week. AT RISK: more with everything on. near: over "
                          "80 % with everything on. Headroom and drop are with everything on."
                        : "Amperes are planning currents, after the rules' factors. OVER: what was chosen is more "
                          "than the breaker's rating. AT RISK: more with everything on. near: over 80 % with "
                          "everything on. Headroom is with everything on, the drop as chosen.");
    struct print_table *table =
        print_table_add(report->document, "All branches", busiest(report) ? columns : chosen_columns, 8);
    for (size_t i = 0; i < report->house->branch_count; i++) {
        add_branch_row(report, table, i);
    }
    print_pictures(report->document, pictures_bars(report->assessment, report->document->arena));
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

static const char *room_name(const struct house *house, const struct appliance *appliance)
{
    if (appliance->room == NO_INDEX) {
        return "";
    }
    const struct room *room = &house->rooms[appliance->room];
    return room->name != NULL ? room->name : room->id;
}

static void add_load_row(const struct report *report, struct print_table *table, const struct load *load)
{
    const struct appliance *appliance = &report->house->appliances[load->appliance];
    struct text name = {0};
    if (appliance->count > 1) {
        text_printf(&name, "%u \xC3\x97 ", appliance->count);
    }
    text_add(&name, appliance->name);
    if (!load->counted) {
        text_add(&name, load->units == 0 ? " (off)" : " (not counted: another of its group is on)");
    } else if (load->units < appliance->count) {
        text_printf(&name, " (%u on)", load->units);
    }
    print_cell(report->document, table, text_string(&name));
    print_cell(report->document, table, room_name(report->house, appliance));
    print_number(report->document, table, load->draw.power_w, 0);
    print_number(report->document, table, load->current_a, 2);
    print_number(report->document, table, load->planning_a, 2);
    print_number(report->document, table, 100 * load->share, 1);
    text_done(&name);
}

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
    text_printf(&text, " A: %s.", verdict_shown(result->verdict));
    report_paragraph(report, &text);
}

static void add_branch_loads(const struct report *report, size_t index)
{
    static const struct print_column columns[] = {{"Load", 36, false},       {"Room", 22, false},
                                                  {"Power, W", 12, true},    {"Current, A", 13, true},
                                                  {"Planning, A", 14, true}, {"Share, %", 12, true}};
    const struct branch *branch = &report->house->branches[index];
    const struct branch_assessment *result = &report->assessment->branches[index];
    struct text name = {0};
    report_branch_name(&name, branch);
    print_heading(report->document, 3, text_string(&name));
    text_done(&name);
    if (branch->appliances.count == 0) {
        print_paragraph(report->document, "No appliance is listed.");
        return;
    }
    add_together(report, index);
    struct print_table *table = print_table_add(report->document, branch->label, columns, 6);
    for (size_t i = 0; result->loads != NULL && i < branch->appliances.count; i++) {
        add_load_row(report, table, &result->loads[i]);
    }
    if (report->pictured[index] && branch->appliances.count > 1) { /* one load is no parallel circuit */
        print_pictures(report->document, pictures_circuit(report->assessment, index, report->document->arena));
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
