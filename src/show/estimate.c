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

/* ------------------------------------------------------------------ JSON ---------------------------------- */

static void add_part_name(const struct estimate_answer *answer, const struct combos_part *part, struct text *text)
{
    const struct branch *branch = answer->branch.branch;
    const struct appliance *appliance = &answer->house->appliances[branch->appliances.index[part->load]];
    text_add(text, appliance->id);
    if (appliance->count > 1) {
        text_printf(text, "*%u", part->units);
    }
}

static json_t *set_json(const struct estimate_answer *answer, size_t index)
{
    const struct combos_set *set = &answer->sets.sets[index];
    json_t *json = json_object();
    json_t *loads = json_array();
    for (size_t i = 0; i < set->part_count; i++) {
        struct text name = {0};
        add_part_name(answer, &set->parts[i], &name);
        json_array_append_new(loads, json_text(text_string(&name)));
        text_done(&name);
    }
    json_object_set_new(json, "loads", loads);
    json_object_set_new(json, "planning_a", json_figure(set->planning_a));
    json_object_set_new(json, "current_a", json_figure(answer->set_current_a[index]));
    return json;
}

/* The figures of everything on, in the contract's order; reactive power stands in none of its keys. */
static void add_figures(const struct estimate_answer *answer, json_t *json)
{
    static const char *const keys[] = {"current_a",   "planning_a",   "wire_a",         "power_w",
                                       "apparent_va", "power_factor", "equivalent_ohm", "headroom_a"};
    json_t *figures = show_json(&show_figure_rows, &answer->branch.result->all, 0);
    if (!answer->judged) {
        json_object_set_new(figures, "headroom_a", json_null());
    }
    for (size_t i = 0; i < sizeof keys / sizeof keys[0]; i++) {
        json_object_set(json, keys[i], json_object_get(figures, keys[i]));
    }
    json_decref(figures);
}

static void add_status(const struct estimate_answer *answer, json_t *json)
{
    const struct branch_answer *branch = &answer->branch;
    json_object_set_new(json, "rules", json_text(rules_word(answer->house->rules)));
    json_object_set_new(json, "voltage_v", json_figure(branch->result->voltage_v));
    json_object_set_new(json, "breaker_a", json_figure(answer->judged ? branch->branch->breaker_a : (double)NAN));
    json_object_set_new(json, "status", json_text(answer->judged ? verdict_word(branch->result->verdict) : NULL));
}

static void add_sets(const struct estimate_answer *answer, json_t *json)
{
    json_t *sets = json_array();
    for (size_t i = 0; i < answer->sets.set_count; i++) {
        json_array_append_new(sets, set_json(answer, i));
    }
    bool fits = false;
    const double count = combos_number_value(&answer->set_count, &fits);
    json_object_set_new(json, "sets", sets);
    json_object_set_new(json, "count", json_figure(answer->judged && !(fits && answer->set_count.exact) ? NAN : count));
}

json_t *show_estimate_json(const struct estimate_answer *answer)
{
    json_t *json = json_answer("estimate", NULL);
    add_status(answer, json);
    add_figures(answer, json);
    json_object_set_new(json, "loads",
                        show_json_array(&show_load_rows, &answer->branch, show_load_count(&answer->branch)));
    add_sets(answer, json);
    json_object_set_new(json, "drop_v", json_figure(answer->drop_v));
    json_object_set_new(json, "drop_percent", json_figure(answer->branch.result->drop_percent));
    json_object_set_new(json, "energy_kwh_hour", json_figure(answer->energy_kwh_hour));
    json_object_set_new(json, "cost_hour", json_text(answer->cost_hour));
    json_object_set_new(json, "findings", show_findings_json(&answer->findings));
    const char *lines[ESTIMATE_CAUTIONS_MOST + 1];
    show_estimate_cautions(answer, lines);
    json_object_set_new(json, "cautions", json_lines(lines));
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

static void add_amount(const char *what, double value, int decimals, const char *unit, struct text *text)
{
    text_printf(text, "  %-22s ", what);
    text_add_fixed(text, value, decimals);
    text_printf(text, "%s%s\n", unit[0] == '\0' ? "" : " ", unit);
}

static void add_totals(const struct estimate_answer *answer, struct text *text)
{
    const struct branch_figures *all = &answer->branch.result->all;
    text_add(text, "Everything on\n");
    add_amount("current", all->current_a, 3, "A", text);
    add_amount("planning current", all->planning_a, 3, "A", text);
    if (answer->judged) {
        add_amount(all->headroom_a < 0 ? "above the rating by" : "headroom", fabs(all->headroom_a), 3, "A", text);
    }
    add_amount("power", all->power_w, 0, "W", text);
    if (all->reactive_var > 0) {
        add_amount("apparent power", all->apparent_va, 0, "VA", text);
        add_amount("power factor", all->power_factor, 3, "", text);
    }
    if (isfinite(all->equivalent_ohm)) {
        add_amount("equivalent resistance", all->equivalent_ohm, 3, "\xCE\xA9", text);
    }
    if (isfinite(answer->drop_v)) {
        text_printf(text, "  %-22s ", "voltage drop");
        text_fixed(text, "", answer->drop_v, 2, " V, ");
        text_fixed(text, "", answer->branch.result->drop_percent, 2, " %\n");
    }
    add_amount("energy of an hour", answer->energy_kwh_hour, 3, "kWh", text);
    if (answer->cost_hour != NULL) {
        text_printf(text, "  %-22s %s %s\n", "cost of an hour", answer->cost_hour, answer->house->currency);
    }
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
    add_totals(answer, text);
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
