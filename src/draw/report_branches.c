/* All branches, the panels, and the loads of each branch with its circuit. */
#include <math.h>
#include <string.h>

#include "ampsum/language.h"
#include "ampsum/show_check.h"
#include "pictures.h"
#include "report_parts.h"

static bool busiest(const struct report *report)
{
    return report->assessment->options.basis == BASIS_BUSIEST;
}

/* What the table does not hold: how many have which verdict, and what they draw together. */
static void add_branches_left(const struct report *report, const size_t *order)
{
    const size_t count = report->house->branch_count;
    size_t verdicts[VERDICT_OVER + 1] = {0};
    double power_w = 0;
    struct text text = {0};
    for (size_t i = REPORT_BRANCHES_MOST; i < count; i++) {
        const struct branch_assessment *result = &report->assessment->branches[order[i]];
        verdicts[result->verdict]++;
        power_w += result->all.power_w;
    }
    text_printf(&text, "These are the worst; %zu more are left out:", count - REPORT_BRANCHES_MOST);
    add_verdicts(&text, " ", verdicts);
    text_fixed(&text, "; with everything on they draw ", power_w, 0,
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
    add_branches_left(report, ranked.order);
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

static void add_panels_left(const struct report *report)
{
    struct text text = {0};
    double most_a = 0;
    if (report->house->panel_count <= REPORT_PANELS_MOST) {
        return;
    }
    for (size_t i = REPORT_PANELS_MOST; i < report->house->panel_count; i++) {
        for (size_t leg = 0; leg < 3; leg++) {
            most_a = fmax(most_a, report->assessment->panels[i].all.leg_current_a[leg]);
        }
    }
    text_printf(&text, "%zu more panels are left out: no leg of theirs carries more than ",
                report->house->panel_count - REPORT_PANELS_MOST);
    text_add_fixed(&text, most_a, 1);
    text_add(&text, " A. `ampsum check --format json` lists all.");
    report_paragraph(report, &text);
}

/* Legs that some panel of the house has: 1 to 3. */
static size_t count_legs(const struct house *house)
{
    size_t legs = 1;
    for (size_t i = 0; i < house->panel_count; i++) {
        for (size_t leg = legs; leg < 3; leg++) {
            legs = (house->panels[i].legs >> leg & 1U) != 0 ? leg + 1 : legs;
        }
    }
    return legs;
}

static const struct print_column *panel_columns(const struct report *report, size_t legs, size_t *ret_count)
{
    static const struct print_column before[] = {{"Panel", 26, false}, {"Breaker, A", 11, true}};
    static const struct print_column leg[] = {{"Leg A, A", 11, true}, {"Leg B, A", 11, true}, {"Leg C, A", 11, true}};
    static const struct print_column after[] = {
        {"Neutral, A", 11, true}, {"Demand by rules, A", 14, true}, {"Feeder drop, %", 12, true}};
    struct print_column *columns = arena_array(report->document->arena, 5 + legs, sizeof *columns);
    memcpy(columns, before, sizeof before);
    memcpy(columns + 2, leg, legs * sizeof *leg);
    memcpy(columns + 2 + legs, after, sizeof after);
    *ret_count = 5 + legs;
    return columns;
}

void report_part_panels(const struct report *report)
{
    const size_t legs = count_legs(report->house);
    size_t count;
    const struct print_column *columns = panel_columns(report, legs, &count);
    report_annex(report, "Panels");
    struct print_table *table = print_table_add(report->document, "Currents with everything on", columns, count);
    for (size_t i = 0; i < report->house->panel_count && i < REPORT_PANELS_MOST; i++) {
        const struct panel *panel = &report->house->panels[i];
        const struct panel_assessment *result = &report->assessment->panels[i];
        print_cell(report->document, table, panel->name != NULL ? panel->name : panel->id);
        print_number(report->document, table, panel->breaker_a, 0);
        for (size_t leg = 0; leg < legs; leg++) {
            const bool has = (panel->legs >> leg & 1U) != 0;
            print_number(report->document, table, has ? result->all.leg_current_a[leg] : (double)NAN, 1);
        }
        print_number(report->document, table, result->all.neutral_a, 1);
        print_number(report->document, table, result->demand_a, 1);
        print_number(report->document, table, result->feeder_drop_percent, 2);
    }
    add_panels_left(report);
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

/* The branches whose loads are listed: all, or of very many loads the worst branches. By branch. */
static const bool *choose_listed(const struct report *report)
{
    const struct house *house = report->house;
    struct arena *arena = report->document->arena;
    const size_t *order = check_worst_first(report->check, arena);
    bool *listed = arena_array(arena, house->branch_count, sizeof *listed);
    size_t loads = 0;
    for (size_t i = 0; i < house->branch_count; i++) {
        const size_t more = loads_shown(report, order[i]);
        listed[order[i]] = house->appliance_count <= REPORT_LOADS_MOST || i == 0 || loads + more <= REPORT_LOADS_MOST;
        loads += listed[order[i]] ? more : 0;
    }
    return listed;
}

static void add_loads_left(const struct report *report, const bool *listed)
{
    size_t branches = 0;
    size_t loads = 0;
    double power_w = 0;
    for (size_t i = 0; i < report->house->branch_count; i++) {
        if (!listed[i]) {
            branches++;
            loads += report->house->branches[i].appliances.count;
            power_w += report->assessment->branches[i].all.power_w;
        }
    }
    if (branches > 0) {
        struct text text = {0};
        text_printf(&text, "Left out are %zu branches that are no worse than these, with %zu appliances that draw ",
                    branches, loads);
        text_fixed(&text, "", power_w, 0, " W with everything on. `ampsum branch` shows each of them.");
        report_paragraph(report, &text);
    }
}

void report_part_loads(const struct report *report)
{
    const bool *listed = choose_listed(report);
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
