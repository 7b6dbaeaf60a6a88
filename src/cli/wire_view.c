#include "wire_view.h"

#include <math.h>
#include <stdlib.h>

#include "ampsum/quantity.h"
#include "ampsum/reference.h"

void wire_case_init(struct wire_case *wire_case, struct invocation *invocation, const struct assessment *assessment,
                    size_t branch)
{
    const struct house *house = assessment->house;
    const double ratio = assessment->options.supply_ratio;
    *wire_case = (struct wire_case){
        .invocation = invocation,
        .house = house,
        .assessment = assessment,
        .branch = &house->branches[branch],
        .result = &assessment->branches[branch],
        .index = branch,
        .supply_ratio = ratio > 0 ? ratio : 1,
    };
    const double ohm_per_km = wire_ohm_per_km(house, wire_case->branch->wire);
    wire_case->known = wiring_init(&wire_case->wiring, house, branch, ohm_per_km);
    if (wire_case->known) {
        wire_case_reload(wire_case);
        wire_case->solved = wiring_solve(&wire_case->wiring, wire_case->supply_ratio);
    }
}

void wire_case_done(struct wire_case *wire_case)
{
    if (wire_case->known) {
        wiring_done(&wire_case->wiring);
    }
}

void wire_case_reload(struct wire_case *wire_case)
{
    wiring_load_counted(&wire_case->wiring, wire_case->result->loads);
}

bool wire_case_is_ring(const struct wire_case *wire_case)
{
    return wire_case->branch->layout == LAYOUT_RING;
}

size_t wire_row_count(const struct wire_case *wire_case)
{
    return wire_case->wiring.node_count - 1 + (wire_case_is_ring(wire_case) ? 1 : 0);
}

size_t wire_row_segment(const struct wiring *wiring, size_t row)
{
    const struct index_list *outlets = &wiring->house->branches[wiring->branch].outlets;
    if (outlets->count == 0 || row >= outlets->count) {
        return row + 1;
    }
    return wiring_node(wiring, outlets->index[row]);
}

const char *wire_node_id(const struct wiring *wiring, size_t node)
{
    if (node == 0 || node == wiring->node_count) {
        return "panel";
    }
    return wiring->outlet[node] == NO_INDEX ? "end" : wiring->house->outlets[wiring->outlet[node]].id;
}

const char *wire_node_name(const struct wiring *wiring, size_t node)
{
    const bool outlet = node > 0 && node < wiring->node_count && wiring->outlet[node] != NO_INDEX;
    const char *name = outlet ? wiring->house->outlets[wiring->outlet[node]].name : NULL;
    return name == NULL ? "" : name;
}

size_t wire_worst_node(const struct wiring *wiring)
{
    size_t worst = 1;
    for (size_t k = 2; k < wiring->node_count; k++) {
        worst = wiring_drop_percent(wiring, k) > wiring_drop_percent(wiring, worst) ? k : worst;
    }
    return worst;
}

double wire_planning_a(const struct wire_case *wire_case, double segment_current_a)
{
    const bool chosen = wire_case->assessment->options.basis != BASIS_BUSIEST;
    const struct branch_figures *figures = chosen ? &wire_case->result->other : &wire_case->result->all;
    return figures->current_a > 0 ? figures->planning_a * segment_current_a / figures->current_a : 0;
}

double wire_year_kwh(struct wire_case *wire_case)
{
    const double loss_kwh = wire_case->known ? wiring_loss_kwh_year(&wire_case->wiring) : (double)NAN;
    return loss_kwh > 0 ? loss_kwh : (double)NAN;
}

const char *wire_year_cost(const struct wire_case *wire_case, const struct energy_bill *bill, double loss_kwh)
{
    const struct energy_row *row = &bill->branches[wire_case->index];
    const struct ref_currency *currency = reference_currency(wire_case->house->currency);
    if (row->cost_year == NULL || !(row->kwh_year > 0) || !isfinite(loss_kwh)) {
        return NULL;
    }
    struct text cost = {0};
    const double price = strtod(row->cost_year, NULL) / row->kwh_year;
    text_add_fixed(&cost, loss_kwh * price, currency == NULL ? 2 : currency->minor_units);
    const char *copy = arena_copy(wire_case->invocation->arena, text_string(&cost));
    text_done(&cost);
    return copy;
}

static json_t *outlets_json(const struct wire_case *wire_case)
{
    json_t *array = json_array();
    const size_t count = wire_case->solved ? wire_case->wiring.node_count - 1 : 0;
    for (size_t row = 0; row < count; row++) {
        const size_t node = wire_row_segment(&wire_case->wiring, row);
        json_t *outlet = json_object();
        json_object_set_new(outlet, "id", json_text(wire_node_id(&wire_case->wiring, node)));
        json_object_set_new(outlet, "voltage_v", json_figure(wiring_voltage_v(&wire_case->wiring, node)));
        json_object_set_new(outlet, "drop_percent", json_figure(wiring_drop_percent(&wire_case->wiring, node)));
        json_array_append_new(array, outlet);
    }
    return array;
}

static json_t *segments_json(const struct wire_case *wire_case)
{
    json_t *array = json_array();
    const struct wiring *wiring = &wire_case->wiring;
    const size_t count = wire_case->solved ? wire_row_count(wire_case) : 0;
    for (size_t row = 0; row < count; row++) {
        const size_t segment = wire_row_segment(wiring, row);
        json_t *object = json_object();
        json_object_set_new(object, "from", json_text(wire_node_id(wiring, wiring_from(wiring, segment))));
        json_object_set_new(object, "to", json_text(wire_node_id(wiring, segment)));
        json_object_set_new(object, "current_a", json_figure(wiring_current_a(wiring, segment)));
        json_object_set_new(object, "loss_w", json_figure(wiring_segment_loss_w(wiring, segment)));
        json_array_append_new(array, object);
    }
    return array;
}

json_t *wire_branch_json(const struct wire_case *wire_case)
{
    json_t *object = json_object();
    json_object_set_new(object, "id", json_text(wire_case->branch->id));
    json_object_set_new(object, "solved", wire_case->known ? json_boolean(wire_case->solved) : json_null());
    json_object_set_new(object, "outlets", outlets_json(wire_case));
    json_object_set_new(object, "segments", segments_json(wire_case));
    json_object_set_new(object, "loss_w",
                        wire_case->solved ? json_figure(wiring_loss_w(&wire_case->wiring)) : json_null());
    return object;
}

struct table *wire_outlet_table(const struct wire_case *wire_case)
{
    const struct wiring *wiring = &wire_case->wiring;
    struct table *table = table_new();
    table_column(table, "OUTLET", "outlet", TABLE_LEFT, 20);
    table_column(table, "NAME", "name", TABLE_LEFT, 24);
    table_column(table, "VOLT", "voltage_v", TABLE_RIGHT, 0);
    table_column(table, "DROP %", "drop_percent", TABLE_RIGHT, 0);
    table_column(table, "FED FROM", "from", TABLE_LEFT, 20);
    const bool feet = wire_case->house->rules == RULES_US; /* as its file gives them; CSV has metres everywhere */
    table_column(table, feet ? NULL : "METRE", "length_m", TABLE_RIGHT, 0);
    table_column(table, feet ? "FEET" : NULL, NULL, TABLE_RIGHT, 0);
    table_column(table, "AMPERE", "current_a", TABLE_RIGHT, 0);
    table_column(table, "LOSS W", "loss_w", TABLE_RIGHT, 0);
    const size_t count = wire_case->solved ? wire_row_count(wire_case) : 0;
    for (size_t row = 0; row < count; row++) {
        const size_t segment = wire_row_segment(wiring, row);
        const bool back = segment == wiring->node_count;
        table_row(table);
        table_text(table, wire_node_id(wiring, segment));
        table_text(table, back ? "closes the ring" : wire_node_name(wiring, segment));
        table_number(table, back ? (double)NAN : wiring_voltage_v(wiring, segment), 2);
        table_number(table, back ? (double)NAN : wiring_drop_percent(wiring, segment), 2);
        table_text(table, wire_node_id(wiring, wiring_from(wiring, segment)));
        const double length_m = back ? wiring->ring_length_m : wiring->length_m[segment];
        table_number(table, length_m, 1);
        table_number(table, length_m / M_PER_FT, 1);
        table_number(table, wiring_current_a(wiring, segment), 2);
        table_number(table, wiring_segment_loss_w(wiring, segment), 2);
    }
    return table;
}

static void add_residual(struct text *text, const char *what, double value, const char *unit)
{
    text_printf(text, "  %-44s %.0e%s\n", what, value, unit);
}

void wire_working(const struct wire_case *wire_case, struct text *text)
{
    const struct wiring *wiring = &wire_case->wiring;
    const struct wire_solution *solution = &wiring->solution;
    const size_t worst = wire_worst_node(wiring);
    text_printf(text, "  %-44s ", "resistance of one conductor, as warm as it runs");
    const bool feet = wire_case->house->rules == RULES_US;
    text_add_rounded(text, feet ? wiring->ohm_per_km * M_PER_FT : wiring->ohm_per_km, 4); /* 1000 ft as 1000 m */
    text_printf(text, " ohm/%s, %d of them\n", feet ? "1000 ft" : "km", wire_case->branch->poles == 3 ? 1 : 2);
    text_printf(text, "  %-44s %d\n", "rounds of the solver", solution->iterations);
    add_residual(text, "current law, largest error at an outlet", solution->kcl_residual_a, " A");
    add_residual(text, "power in less loads and losses, share", solution->power_residual, "");
    text_printf(text, "  drop at %s, source less outlet: ", wire_node_id(wiring, worst));
    text_add_fixed(text, wiring_drop_percent(wiring, worst), 6);
    text_add(text, " %\n");
    text_printf(text, "  drop at %s, segment by segment: ", wire_node_id(wiring, worst));
    text_add_fixed(text, wiring_drop_by_segments_percent(wiring, worst), 6);
    text_add(text, " %\n");
}
