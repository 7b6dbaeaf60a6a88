#include <math.h>
#include <string.h>

#include "ampsum/reference.h"
#include "ampsum/show.h"

json_t *show_figures_json(const struct branch_figures *figures)
{
    json_t *object = json_object();
    json_object_set_new(object, "current_a", json_figure(figures->current_a));
    json_object_set_new(object, "planning_a", json_figure(figures->planning_a));
    json_object_set_new(object, "power_w", json_figure(figures->power_w));
    json_object_set_new(object, "reactive_var", json_figure(figures->reactive_var));
    json_object_set_new(object, "apparent_va", json_figure(figures->apparent_va));
    json_object_set_new(object, "power_factor", json_figure(figures->power_factor));
    json_object_set_new(object, "equivalent_ohm", json_figure(figures->equivalent_ohm));
    json_object_set_new(object, "headroom_a", json_figure(figures->headroom_a));
    return object;
}

static json_t *loads_json(const struct assessment *assessment, const struct branch *branch, const struct load *loads)
{
    json_t *array = json_array();
    for (size_t i = 0; loads != NULL && i < branch->appliances.count; i++) {
        const struct load *load = &loads[i];
        const struct appliance *appliance = &assessment->house->appliances[load->appliance];
        double voltage_v = assessment->branches[branch - assessment->house->branches].voltage_v;
        json_t *object = json_object();
        json_object_set_new(object, "id", json_text(appliance->id));
        json_object_set_new(object, "name", json_text(appliance->name));
        json_object_set_new(object, "count", json_integer(load->units));
        json_object_set_new(object, "current_a", json_figure(load->current_a));
        json_object_set_new(object, "planning_a", json_figure(load->planning_a));
        json_object_set_new(object, "power_w", json_figure(load->draw.power_w));
        json_object_set_new(object, "resistance_ohm",
                            json_figure(load->draw.power_w > 0 ? voltage_v * voltage_v / load->draw.power_w : NAN));
        json_object_set_new(object, "share_percent", json_figure(100 * load->share));
        json_object_set_new(object, "counted", json_boolean(load->counted));
        json_array_append_new(array, object);
    }
    return array;
}

/* The figures of the busiest minute with when it is; or of the scene or set. */
static void set_other(json_t *object, const struct assessment *assessment, const struct branch_assessment *result)
{
    json_t *other = show_figures_json(&result->other);
    if (assessment->options.basis != BASIS_BUSIEST) {
        json_object_set_new(object, "scene", other);
        return;
    }
    struct text at = {0};
    moment_add(&at, result->at);
    json_object_set_new(other, "at", json_text(result->at.month < 0 ? NULL : text_string(&at)));
    json_object_set_new(other, "month", json_text(result->at.month < 0 ? NULL : month_word(result->at.month)));
    json_object_set_new(object, "busiest", other);
    text_done(&at);
}

json_t *show_branch_json(const struct assessment *assessment, const struct energy_bill *bill, size_t index)
{
    const struct house *house = assessment->house;
    const struct branch *branch = &house->branches[index];
    const struct branch_assessment *result = &assessment->branches[index];
    json_t *object = json_object();
    json_object_set_new(object, "id", json_text(branch->id));
    json_object_set_new(object, "label", json_text(branch->label));
    json_object_set_new(object, "panel", json_text(house->panels[branch->panel].id));
    json_object_set_new(object, "voltage_v", json_figure(result->voltage_v));
    json_object_set_new(object, "breaker_a", json_figure(branch->breaker_a));
    json_object_set_new(object, "poles", json_integer(branch->poles));
    json_object_set_new(object, "legs", json_text(legs_word(branch->legs)));
    json_object_set_new(object, "status", json_text(verdict_word(result->verdict)));
    json_object_set_new(object, "all", show_figures_json(&result->all));
    set_other(object, assessment, result);
    json_object_set_new(object, "trip", json_text(result->trip));
    json_object_set_new(object, "drop_percent", json_figure(result->drop_percent));
    json_object_set_new(object, "energy_kwh_day", json_figure(bill->branches[index].kwh_day));
    json_object_set_new(object, "cost_day", json_text(bill->branches[index].cost_day));
    json_object_set_new(object, "loads", loads_json(assessment, branch, result->loads));
    json_object_set_new(object, "findings", show_findings_json(&result->findings));
    return object;
}

static json_t *panel_json(const struct assessment *assessment, size_t index)
{
    const struct panel *panel = &assessment->house->panels[index];
    const struct panel_assessment *result = &assessment->panels[index];
    json_t *object = json_object();
    json_object_set_new(object, "id", json_text(panel->id));
    json_object_set_new(object, "main_breaker_a", json_figure(panel->breaker_a));
    json_object_set_new(object, "leg_current_a", show_legs_json(panel->legs, result->all.leg_current_a));
    json_object_set_new(object, "neutral_a", json_figure(result->all.neutral_a));
    json_object_set_new(object, "findings", show_findings_json(&result->findings));
    return object;
}

static json_t *basis_json(const struct assessment *assessment)
{
    switch (assessment->options.basis) {
    case BASIS_SCENE:
        return json_sprintf("scene %s", assessment->house->scenes[assessment->options.scene].id);
    case BASIS_SET:
        return json_text("set");
    case BASIS_BUSIEST:
        break;
    }
    return json_text("all");
}

/* Is the supply another than the nominal voltage? */
static bool supply_differs(const struct assessment *assessment)
{
    const double ratio = assessment->options.supply_ratio;
    return ratio > 0 && ratio != 1;
}

void show_supply_json(const struct assessment *assessment, json_t *answer)
{
    if (supply_differs(assessment)) {
        const double voltage_v = assessment->house->voltage_v * assessment->options.supply_ratio;
        json_object_set_new(answer, "supply_v", json_figure(voltage_v));
    }
}

json_t *show_check_json(const struct assessment *assessment, const struct energy_bill *bill)
{
    const struct house *house = assessment->house;
    json_t *answer = json_answer("check", house->name);
    json_object_set_new(answer, "rules", json_text(rules_word(house->rules)));
    json_object_set_new(answer, "basis", basis_json(assessment));
    show_supply_json(assessment, answer);
    json_object_set_new(answer, "status", json_text(verdict_word(assessment->status)));
    json_t *branches = json_array();
    for (size_t i = 0; i < house->branch_count; i++) {
        json_array_append_new(branches, show_branch_json(assessment, bill, i));
    }
    json_object_set_new(answer, "branches", branches);
    json_t *panels = json_array();
    for (size_t i = 0; i < house->panel_count; i++) {
        json_array_append_new(panels, panel_json(assessment, i));
    }
    json_object_set_new(answer, "panels", panels);
    json_t *energy = json_object();
    json_object_set_new(energy, "kwh_day", json_figure(bill->kwh_day));
    json_object_set_new(energy, "cost_day", json_text(bill->cost_day));
    json_object_set_new(energy, "cost_year", json_text(bill->cost_year));
    json_object_set_new(energy, "currency", json_text(house->currency));
    json_object_set_new(answer, "energy", energy);
    json_cautions(answer, NULL);
    return answer;
}

static const char *shown_verdict(enum verdict verdict)
{
    static const char *const words[] = {"empty", "ok", "near", "AT RISK", "OVER"};
    return words[verdict];
}

struct table *show_check_table(const struct assessment *assessment, const struct energy_bill *bill)
{
    const struct house *house = assessment->house;
    bool scene = assessment->options.basis != BASIS_BUSIEST;
    struct table *table = table_new();
    table_column(table, "VERDICT", "status", TABLE_LEFT, 0);
    table_column(table, "BRANCH", "id", TABLE_LEFT, 0);
    table_column(table, "LABEL", "label", TABLE_LEFT, 24);
    table_column(table, "RATING", "breaker_a", TABLE_RIGHT, 0);
    table_column(table, "ALL ON", "all_planning_a", TABLE_RIGHT, 0);
    table_column(table, scene ? "CHOSEN" : "BUSIEST", scene ? "scene_planning_a" : "busiest_planning_a", TABLE_RIGHT,
                 0);
    table_column(table, scene ? NULL : "WHEN", NULL, TABLE_LEFT, 0);
    table_column(table, NULL, scene ? NULL : "at", TABLE_LEFT, 0);
    table_column(table, NULL, "headroom_a", TABLE_RIGHT, 0);
    table_column(table, NULL, "trip", TABLE_LEFT, 0);
    table_column(table, NULL, "drop_percent", TABLE_RIGHT, 0);
    table_column(table, NULL, "energy_kwh_day", TABLE_RIGHT, 0);
    table_column(table, NULL, "cost_day", TABLE_RIGHT, 0);
    struct text at = {0};
    for (size_t i = 0; i < house->branch_count; i++) {
        const struct branch_assessment *result = &assessment->branches[i];
        table_row(table);
        table_text(table, shown_verdict(result->verdict));
        table_text(table, house->branches[i].id);
        table_text(table, house->branches[i].label);
        table_number(table, house->branches[i].breaker_a, 0);
        table_number(table, result->all.planning_a, 1);
        table_number(table, result->other.planning_a, 1);
        text_clear(&at);
        branch_moment_add(&at, house, i, result->at);
        table_text(table, text_string(&at));
        text_clear(&at);
        moment_add(&at, result->at);
        table_text(table, result->at.month < 0 ? NULL : text_string(&at));
        table_number(table, result->all.headroom_a, 1);
        table_text(table, result->trip);
        table_number(table, result->drop_percent, 2);
        table_number(table, bill->branches[i].kwh_day, 2);
        table_text(table, bill->branches[i].cost_day);
    }
    text_done(&at);
    return table;
}

static void write_finding(const struct finding *finding, const char *where, const struct page *page, struct text *text)
{
    static const char *const shown[] = {"note   ", "WARNING", "DANGER "};
    struct text line = {0};
    text_printf(&line, "%s %s: %s [%s]", shown[finding->severity], where, finding->text, finding->id);
    text_add(text, "  ");
    show_wrap(page, 10, text_string(&line), text);
    text_done(&line);
}

void show_findings_text(const struct finding_list *list, const char *where, bool notes, const struct page *page,
                        struct text *text)
{
    for (int severity = SEVERITY_DANGER; severity >= SEVERITY_NOTE; severity--) {
        for (size_t i = 0; i < list->count; i++) {
            if ((int)list->finding[i].severity == severity && (notes || severity != SEVERITY_NOTE)) {
                write_finding(&list->finding[i], where, page, text);
            }
        }
    }
}

static void write_heading(const struct assessment *assessment, const struct page *page, struct text *text)
{
    const struct house *house = assessment->house;
    struct text line = {0};
    text_printf(&line, "%s: %zu %s, %s rules, %s ", house->name, house->branch_count,
                house->branch_count == 1 ? "branch" : "branches", rules_word(house->rules), system_word(house->system));
    text_add_rounded(&line, house->voltage_v, 1);
    if (house->system != SYSTEM_SINGLE_PHASE) {
        text_add_char(&line, '/');
        text_add_rounded(&line, house_circuit_voltage_v(house, 2), 0);
    }
    text_add(&line, " V, main breaker ");
    text_add_rounded(&line, house->main_breaker_a, 1);
    text_add(&line, " A");
    if (supply_differs(assessment)) {
        text_add(&line, "; supply ");
        text_add_rounded(&line, house->voltage_v * assessment->options.supply_ratio, 1);
        text_add(&line, " V line to neutral");
    }
    show_wrap(page, 0, text_string(&line), text);
    text_done(&line);
}

static void write_verdicts(const struct assessment *assessment, const struct page *page, struct text *text)
{
    static const char *const words[] = {"empty", "ok", "near", "at risk", "over"};
    size_t counts[5] = {0};
    for (size_t i = 0; i < assessment->house->branch_count; i++) {
        counts[assessment->branches[i].verdict]++;
    }
    struct text line = {0};
    bool first = true;
    for (int verdict = VERDICT_OVER; verdict >= VERDICT_EMPTY; verdict--) {
        if (counts[verdict] > 0) {
            text_printf(&line, "%s%zu %s", first ? "" : ", ", counts[verdict], words[verdict]);
            first = false;
        }
    }
    text_add(&line, first ? "No branches yet: a house file takes [branch ID] sections, a house database "
                            "`ampsum add HOUSE branch ID key=value`."
                          : ".");
    show_wrap(page, 0, text_string(&line), text);
    text_done(&line);
}

static void write_legend(const struct assessment *assessment, const struct page *page, struct text *text)
{
    bool busiest = assessment->options.basis == BASIS_BUSIEST;
    show_wrap(
        page, 0,
        busiest
            ? "Amperes are planning currents, after the rules' factors. OVER: more than the breaker at the "
              "busiest minute of the week, or a danger below. AT RISK: more with everything on. near: over 80 % "
              "with everything on."
            : "Amperes are planning currents, after the rules' factors. OVER: what was chosen is more than "
              "the breaker, or a danger below. AT RISK: more with everything on. near: over 80 % with everything on.",
        text);
}

static void write_panels(const struct assessment *assessment, const struct page *page, struct text *text)
{
    for (size_t i = 0; i < assessment->house->panel_count; i++) {
        const struct panel *panel = &assessment->house->panels[i];
        const struct panel_figures *figures = &assessment->panels[i].all;
        struct text line = {0};
        text_printf(&line, "Panel %s, current with everything on%s: ", panel->id,
                    supply_differs(assessment) ? ", at nominal voltage" : "");
        for (size_t leg = 0; leg < 3; leg++) {
            if ((panel->legs & (1u << leg)) != 0) {
                text_printf(&line, "leg %s ", legs_word(1u << leg));
                text_add_fixed(&line, figures->leg_current_a[leg], 1);
                text_add(&line, " A, ");
            }
        }
        text_add(&line, "neutral ");
        text_add_fixed(&line, figures->neutral_a, 1);
        text_add(&line, " A; breaker ");
        text_add_rounded(&line, panel->breaker_a, 1);
        text_add(&line, " A.");
        show_wrap(page, 2, text_string(&line), text);
        text_done(&line);
    }
}

static void write_findings(const struct assessment *assessment, bool notes, const struct page *page, struct text *text)
{
    const struct house *house = assessment->house;
    size_t serious = assess_count(assessment, SEVERITY_DANGER) + assess_count(assessment, SEVERITY_WARNING);
    size_t note_count = assess_count(assessment, SEVERITY_NOTE);
    if (serious + (notes ? note_count : 0) > 0) {
        text_add(text, "\nWhat exceeds what\n");
        for (size_t i = 0; i < house->branch_count; i++) {
            show_findings_text(&assessment->branches[i].findings, house->branches[i].id, notes, page, text);
        }
        for (size_t i = 0; i < house->panel_count; i++) {
            struct text where = {0};
            text_printf(&where, "panel %s", house->panels[i].id);
            show_findings_text(&assessment->panels[i].findings, text_string(&where), notes, page, text);
            text_done(&where);
        }
    }
    if (note_count > 0 && !notes) {
        text_printf(text, "%s%zu %s: the same with --notes\n", serious > 0 ? "  " : "\n", note_count,
                    note_count == 1 ? "note" : "notes");
    }
}

static void write_energy(const struct assessment *assessment, const struct energy_bill *bill, const struct page *page,
                         struct text *text)
{
    struct text line = {0};
    text_add(&line, "Energy: ");
    text_add_fixed(&line, bill->kwh_day, 1);
    text_add(&line, " kWh a day on average over the year");
    if (bill->cost_day != NULL) {
        text_printf(&line, ", %s %s a day, %s %s a year, standing charge and tax included", bill->cost_day,
                    assessment->house->currency, bill->cost_year, assessment->house->currency);
    } else {
        text_add(&line, "; no tariff, so no price");
    }
    text_add_char(&line, '.');
    show_wrap(page, 2, text_string(&line), text);
    text_done(&line);
}

void show_check_text(const struct assessment *assessment, const struct energy_bill *bill, const struct page *page,
                     bool summary, bool notes, struct text *text)
{
    write_heading(assessment, page, text);
    text_add_char(text, '\n');
    if (!summary && assessment->house->branch_count > 0) {
        struct table *table = show_check_table(assessment, bill);
        table_write_terminal(table, page->width, page->utf8, text);
        table_free(table);
        text_add_char(text, '\n');
    }
    write_verdicts(assessment, page, text);
    write_legend(assessment, page, text);
    if (!summary) {
        write_findings(assessment, notes, page, text);
    }
    text_add_char(text, '\n');
    write_panels(assessment, page, text);
    if (!summary) {
        write_energy(assessment, bill, page, text);
    }
    text_add_char(text, '\n');
    show_cautions_text(page, NULL, text);
}
