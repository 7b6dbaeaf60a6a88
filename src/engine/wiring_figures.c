/* A wiring's loads, its solution, and the figures of that solution. */
#include <assert.h>
#include <math.h>
#include <stdlib.h>

#include "ampsum/arena.h"
#include "terms.h"
#include "wiring_parts.h"

static void unload(struct wiring *wiring)
{
    for (size_t k = 0; k < wiring->node_count; k++) {
        wiring->conductance_s[k] = 0;
        wiring->susceptance_s[k] = 0;
        wiring->constant_w[k] = 0;
        wiring->constant_var[k] = 0;
    }
    wiring->solution.solved = false;
}

static void add_load(struct wiring *wiring, size_t position, double units)
{
    const struct wiring_unit *unit = &wiring->unit[position];
    wiring->conductance_s[unit->node] += units * unit->conductance_s;
    wiring->susceptance_s[unit->node] += units * unit->susceptance_s;
    wiring->constant_w[unit->node] += units * unit->constant_w;
    wiring->constant_var[unit->node] += units * unit->constant_var;
}

void wiring_load(struct wiring *wiring, const double *units)
{
    const size_t count = wiring->house->branches[wiring->branch].appliances.count;
    unload(wiring);
    for (size_t i = 0; i < count; i++) {
        add_load(wiring, i, units[i]);
    }
}

void wiring_load_counted(struct wiring *wiring, const struct load *loads)
{
    const size_t count = wiring->house->branches[wiring->branch].appliances.count;
    unload(wiring);
    for (size_t i = 0; i < count; i++) {
        add_load(wiring, i, loads[i].counted ? loads[i].units : 0);
    }
}

void wiring_start(struct wiring *wiring, size_t position, double power_factor)
{
    assert(power_factor > 0 && power_factor <= 1);
    const struct branch *branch = &wiring->house->branches[wiring->branch];
    const struct appliance *appliance = &wiring->house->appliances[branch->appliances.index[position]];
    const double rated_v = appliance->plate_v;
    const double running_va = appliance_draw(wiring->house, appliance, rated_v).apparent_va;
    /* Three-phase: (Vr / sqrt 3) over start_factor S / (sqrt 3 Vr) is Vr^2 over start_factor S again. */
    const double admittance_s = appliance->start_factor * running_va / (rated_v * rated_v);
    const size_t node = wiring->unit[position].node;
    wiring->conductance_s[node] += admittance_s * power_factor;
    wiring->susceptance_s[node] += admittance_s * sqrt(1 - power_factor * power_factor);
    wiring->solution.solved = false;
}

void wiring_set_wire(struct wiring *wiring, double ohm_per_km)
{
    const double ohm_per_m = ohm_per_km / 1000 * wiring->loop_conductors;
    wiring->ohm_per_km = ohm_per_km;
    for (size_t k = 1; k < wiring->node_count; k++) {
        wiring->resistance_ohm[k] = wiring->length_m[k] * ohm_per_m;
    }
    wiring->network.ring_resistance_ohm = wiring->ring_length_m * ohm_per_m;
    wiring->solution.solved = false;
}

bool wiring_solve(struct wiring *wiring, double supply_ratio)
{
    const double supply_v = wiring->nominal_v * supply_ratio;
    wiring->network.source_v = wiring_is_three_phase(wiring) ? supply_v / SQRT_3 : supply_v;
    wire_solve(&wiring->network, wiring->scratch, &wiring->solution);
    return wiring->solution.solved;
}

/* Does the cable from the panel to the ring's end pass this node? Each node comes after the one that feeds it. */
static bool lies_on_ring(const struct wiring *wiring, size_t node)
{
    size_t at = wiring_ring_end(wiring);
    while (at > node) {
        at = wiring->parent[at];
    }
    return at == node;
}

double wiring_joined_m(const struct wiring *wiring, size_t node)
{
    if (isnan(wiring->ring_length_m)) {
        return wiring->path_m[node];
    }
    size_t point = node;
    while (!lies_on_ring(wiring, point)) {
        point = wiring->parent[point];
    }
    const double ring_m = wiring->path_m[wiring_ring_end(wiring)] + wiring->ring_length_m;
    const double along_m = wiring->path_m[point];
    return along_m * (ring_m - along_m) / ring_m + wiring->path_m[node] - along_m;
}

size_t wiring_from(const struct wiring *wiring, size_t node)
{
    return node == wiring->node_count ? wiring_ring_end(wiring) : wiring->parent[node];
}

/* From one phase of the network to the branch: voltages line to line. */
static double to_branch_v(const struct wiring *wiring, double voltage_v)
{
    return wiring_is_three_phase(wiring) ? voltage_v * SQRT_3 : voltage_v;
}

double wiring_voltage_v(const struct wiring *wiring, size_t node)
{
    const struct wire_solution *solution = &wiring->solution;
    return to_branch_v(wiring, hypot(solution->voltage_re[node], solution->voltage_im[node]));
}

double wiring_drop_percent(const struct wiring *wiring, size_t node)
{
    const double supply_v = to_branch_v(wiring, wiring->network.source_v);
    return 100 * (supply_v - wiring_voltage_v(wiring, node)) / wiring->nominal_v;
}

static double loop_current_a(const struct wiring *wiring, size_t segment)
{
    const struct wire_solution *solution = &wiring->solution;
    return segment == wiring->node_count ? hypot(solution->ring_current_re, solution->ring_current_im)
                                         : hypot(solution->current_re[segment], solution->current_im[segment]);
}

double wiring_current_a(const struct wiring *wiring, size_t segment)
{
    return loop_current_a(wiring, segment) * wiring->line_share;
}

double wiring_segment_loss_w(const struct wiring *wiring, size_t segment)
{
    const double ohm =
        segment == wiring->node_count ? wiring->network.ring_resistance_ohm : wiring->resistance_ohm[segment];
    const double current_a = loop_current_a(wiring, segment);
    return current_a * current_a * ohm * (wiring_is_three_phase(wiring) ? 3 : 1);
}

double wiring_loss_w(const struct wiring *wiring)
{
    return wiring->solution.loss_w * (wiring_is_three_phase(wiring) ? 3 : 1);
}

double wiring_worst_drop_percent(const struct wiring *wiring)
{
    double worst_percent = wiring_drop_percent(wiring, 1);
    for (size_t k = 2; k < wiring->node_count; k++) {
        worst_percent = fmax(worst_percent, wiring_drop_percent(wiring, k));
    }
    return worst_percent;
}

double wiring_largest_current_a(const struct wiring *wiring)
{
    const bool ring = !isnan(wiring->ring_length_m);
    double largest_a = ring ? wiring_current_a(wiring, wiring->node_count) : 0;
    for (size_t k = 1; k < wiring->node_count; k++) {
        largest_a = fmax(largest_a, wiring_current_a(wiring, k));
    }
    return largest_a;
}

double wiring_drop_by_segments_percent(const struct wiring *wiring, size_t node)
{
    const struct wire_solution *solution = &wiring->solution;
    double fall_re = 0;
    double fall_im = 0;
    for (size_t k = node; k > 0; k = wiring->parent[k]) {
        fall_re += solution->current_re[k] * wiring->resistance_ohm[k];
        fall_im += solution->current_im[k] * wiring->resistance_ohm[k];
    }
    const double left_v = hypot(wiring->network.source_v - fall_re, fall_im);
    return 100 * to_branch_v(wiring, wiring->network.source_v - left_v) / wiring->nominal_v;
}

bool wiring_is_of_ring(const struct wiring *wiring, size_t segment)
{
    return !isnan(wiring->ring_length_m) && (segment <= wiring_ring_end(wiring) || segment == wiring->node_count);
}

/* The node of the broken ring at which a node of the ring stands: first those before the break, then back from the end;
 * spurs stay where they are. */
static size_t node_after_break(size_t node, size_t segment, size_t end)
{
    return node < segment || node > end ? node : segment + (end - node);
}

void wiring_break(const struct wiring *ring, size_t segment, struct wiring *ret_open)
{
    const size_t count = ring->node_count;
    const size_t end = wiring_ring_end(ring);
    assert(segment >= 1 && wiring_is_of_ring(ring, segment));
    const struct branch *branch = &ring->house->branches[ring->branch];
    wiring_take(ret_open, ring->house, ring->branch, count);
    for (size_t k = 1; k < count; k++) {
        const size_t at = node_after_break(k, segment, end);
        const bool turned = k >= segment && k <= end;
        const size_t above = ring->parent[k] == 0 ? 0 : node_after_break(ring->parent[k], segment, end);
        ret_open->outlet[at] = ring->outlet[k];
        ret_open->parent[at] = !turned ? above : k == end ? 0 : at - 1;
        ret_open->length_m[at] = !turned ? ring->length_m[k] : k == end ? ring->ring_length_m : ring->length_m[k + 1];
        ret_open->conductance_s[at] = ring->conductance_s[k];
        ret_open->susceptance_s[at] = ring->susceptance_s[k];
        ret_open->constant_w[at] = ring->constant_w[k];
        ret_open->constant_var[at] = ring->constant_var[k];
    }
    for (size_t k = 1; k < count; k++) {
        ret_open->path_m[k] = ret_open->path_m[ret_open->parent[k]] + ret_open->length_m[k];
    }
    for (size_t i = 0; i < branch->outlets.count; i++) {
        ret_open->node[i] = node_after_break(ring->node[i], segment, end);
    }
    for (size_t i = 0; i < branch->appliances.count; i++) {
        ret_open->unit[i] = ring->unit[i];
        ret_open->unit[i].node = node_after_break(ring->unit[i].node, segment, end);
    }
    wiring_set_wire(ret_open, ring->ohm_per_km);
}

/* True where the branch, with its wire's resistance grown `times`, is within the limit. */
static bool is_within(struct wiring *wiring, double ohm_per_km, double times, double limit_percent)
{
    wiring_set_wire(wiring, ohm_per_km * times);
    return wiring_solve(wiring, 1) && wiring_worst_drop_percent(wiring) <= limit_percent;
}

double wiring_longest_m(struct wiring *wiring, double ohm_per_km, double limit_percent)
{
    double longest_path_m = 0;
    for (size_t k = 1; k < wiring->node_count; k++) {
        longest_path_m = fmax(longest_path_m, wiring->path_m[k]);
    }
    double within = 0;
    double beyond = 1;
    while (beyond < 1e9 && is_within(wiring, ohm_per_km, beyond, limit_percent)) {
        within = beyond;
        beyond *= 2;
    }
    while (beyond < 1e9 && beyond - within > 1e-12 * beyond) {
        const double middle = within + (beyond - within) / 2;
        if (is_within(wiring, ohm_per_km, middle, limit_percent)) {
            within = middle;
        } else {
            beyond = middle;
        }
    }
    wiring_set_wire(wiring, ohm_per_km);
    return beyond < 1e9 && longest_path_m > 0 ? within * longest_path_m : (double)NAN;
}

double feeder_current_a(const struct panel_figures *figures)
{
    return fmax(figures->leg_current_a[0], fmax(figures->leg_current_a[1], figures->leg_current_a[2]));
}

double feeder_drop_percent(const struct house *house, size_t panel, const struct panel_figures *figures,
                           double ohm_per_km)
{
    const double ohm = ohm_per_km / 1000 * house->panels[panel].length_m;
    const double along_v = (feeder_current_a(figures) + figures->neutral_a) * ohm;
    return panel == 0 ? (double)NAN : 100 * along_v / house->voltage_v;
}
