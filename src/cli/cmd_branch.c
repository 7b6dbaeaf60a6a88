#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "ampsum/steps.h"
#include "cli.h"
#include "wire_view.h"

static const char *const examples[] = {"ampsum branch demo-house/us.ini bedroom --working", NULL};

static const struct option_spec options[] = {
    {"working", '\0', NULL, "each step in words and figures, and both ways of finding a total"},
    OPTIONS_BASIS,
    OPTION_SUPPLY,
    {NULL, '\0', NULL, NULL},
};

static struct table *loads_table(const struct house *house, const struct branch *branch,
                                 const struct branch_assessment *result)
{
    struct table *table = table_new();
    table_column(table, "APPLIANCE", "id", TABLE_LEFT, 20);
    table_column(table, NULL, "name", TABLE_LEFT, 0);
    table_column(table, "ON", "count", TABLE_RIGHT, 0);
    table_column(table, "OHM", "resistance_ohm", TABLE_RIGHT, 0);
    table_column(table, "VOLT", "voltage_v", TABLE_RIGHT, 0);
    table_column(table, "AMPERE", "current_a", TABLE_RIGHT, 0);
    table_column(table, "WATT", "power_w", TABLE_RIGHT, 0);
    table_column(table, "SHARE %", "share_percent", TABLE_RIGHT, 0);
    table_column(table, "PLANNING A", "planning_a", TABLE_RIGHT, 0);
    table_column(table, NULL, "counted", TABLE_LEFT, 0);
    for (size_t i = 0; i < branch->appliances.count; i++) {
        const struct load *load = &result->loads[i];
        const struct appliance *appliance = &house->appliances[load->appliance];
        double power_w = load->draw.power_w;
        table_row(table);
        table_text(table, appliance->id);
        table_text(table, appliance->name);
        table_number(table, load->units, 0);
        table_number(table, power_w > 0 ? result->voltage_v * result->voltage_v / power_w : NAN, 2);
        table_number(table, result->voltage_v, 1);
        table_number(table, load->current_a, 2);
        table_number(table, power_w, 1);
        table_number(table, 100 * load->share, 1);
        table_number(table, load->planning_a, 2);
        table_text(table, load->counted ? "yes" : "no");
    }
    return table;
}

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

static void write_working(const struct assessment *assessment, size_t index, const struct page *page, struct text *text)
{
    struct steps steps = {0};
    show_branch_steps(assessment, index, &steps);
    text_add(text, "\nWorking\n");
    for (size_t i = 0; i < steps.count; i++) {
        struct text line = {0};
        step_write(&line, &steps.step[i], page->utf8);
        text_add(text, "  ");
        show_wrap(page, 6, text_string(&line), text);
        text_done(&line);
    }
    steps_done(&steps);
}

/* The drop in two ways, and how well the laws are kept. */
static void write_wire_working(struct invocation *invocation, const struct assessment *assessment, size_t index)
{
    struct wire_case wire_case;
    wire_case_init(&wire_case, invocation, assessment, index);
    if (wire_case.solved) {
        text_add(&invocation->out, "\nWire, working\n");
        wire_working(&wire_case, &invocation->out);
    }
    wire_case_done(&wire_case);
}

static void write_heading(const struct assessment *assessment, size_t index, const struct page *page, struct text *text)
{
    const struct branch *branch = &assessment->house->branches[index];
    const struct branch_assessment *result = &assessment->branches[index];
    struct text line = {0};
    text_printf(&line, "%s: %s, ", branch->id, branch->label);
    text_add_rounded(&line, result->voltage_v, 1);
    text_add(&line, " V, breaker ");
    text_add_rounded(&line, branch->breaker_a, 1);
    text_printf(&line, " A, %s: %s", branch->layout == LAYOUT_RING ? "ring" : "parallel loads on one branch",
                verdict_word(result->verdict));
    show_wrap(page, 0, text_string(&line), text);
    text_add_char(text, '\n');
    text_done(&line);
}

static void write_text(struct invocation *invocation, const struct assessment *assessment, size_t index)
{
    struct text *text = &invocation->out;
    const struct branch_assessment *result = &assessment->branches[index];
    const struct branch *branch = &invocation->house->branches[index];
    bool scene = assessment->options.basis != BASIS_BUSIEST;
    write_heading(assessment, index, &invocation->page, text);
    struct table *table = loads_table(invocation->house, branch, result);
    invocation_table(invocation, table);
    text_add(text, table_count(table) == 0 ? "Nothing is connected here.\n\n" : "\n");
    table_free(table);
    write_totals(text, scene ? "Chosen on" : "Everything on", scene ? &result->other : &result->all);
    text_printf(text, "  %-22s %s\n", "trip by its standard", result->trip);
    if (!scene && result->at.month >= 0) {
        struct text at = {0};
        text_add(&at, "Busiest minute, ");
        const size_t before = at.length;
        branch_moment_add(&at, invocation->house, index, result->at);
        if (strcmp(text_string(&at) + before, "any time") != 0) {
            text_printf(&at, " in %s", month_word(result->at.month));
        }
        write_totals(text, text_string(&at), &result->other);
        text_done(&at);
    }
    if (isfinite(result->drop_percent)) {
        text_add(text, "Wire\n");
        add_amount(text, "voltage drop", result->drop_percent, 2, "% at the worst outlet");
    }
    if (option_given(invocation, "working")) {
        write_working(assessment, index, &invocation->page, text);
        write_wire_working(invocation, assessment, index);
    }
    if (result->findings.count > 0) {
        text_add(text, "\nFindings\n");
        show_findings_text(&result->findings, branch->id, true, &invocation->page, text);
    }
    text_add_char(text, '\n');
    show_cautions_text(&invocation->page, NULL, text);
    struct text next = {0};
    text_printf(&next, "ampsum combos HOUSE %s", branch->id);
    const char *lines[] = {text_string(&next), "ampsum check HOUSE", NULL};
    invocation_next(invocation, lines);
    text_done(&next);
}

static void write_json(struct invocation *invocation, const struct assessment *assessment, size_t index)
{
    struct energy_bill bill;
    invocation_bill(invocation, invocation->house, invocation->house->tariff, ENERGY_BRANCHES, &bill);
    json_t *answer = json_answer("branch", invocation->house->name);
    json_t *branch = show_branch_json(assessment, &bill, index);
    json_object_update_missing(answer, branch);
    json_decref(branch);
    json_cautions(answer, NULL);
    json_write(answer, &invocation->out);
}

static int run(struct invocation *invocation)
{
    struct assess_options choice = {.wires = true, .loads = true};
    if (!invocation_house(invocation, 1) || !invocation_operands(invocation, 1, 1) ||
        !invocation_basis(invocation, &choice) || !invocation_supply(invocation, &choice.supply_ratio)) {
        return 2;
    }
    size_t index = find_id(invocation, KIND_BRANCH, invocation->operands[0]);
    if (index == NO_INDEX) {
        return 2;
    }
    struct assessment *assessment = assess_house(invocation->house, &choice);
    if (invocation->format == FORMAT_JSON) {
        write_json(invocation, assessment, index);
    } else if (invocation->format == FORMAT_CSV) {
        struct table *table =
            loads_table(invocation->house, &invocation->house->branches[index], &assessment->branches[index]);
        invocation_table(invocation, table);
        table_free(table);
    } else {
        write_text(invocation, assessment, index);
    }
    int status = assessment->branches[index].verdict == VERDICT_OVER ? 1 : 0;
    assess_free(assessment);
    return status;
}

const struct command command_branch = {
    .name = "branch",
    .operands = "[HOUSE] ID",
    .summary = "one branch's loads: resistance, voltage, current, power of each and the total",
    .examples = examples,
    .options = options,
    .rows = true,
    .run = run,
};
