#include "ampsum/wiring.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "ampsum/arena.h"
#include "terms.h"
#include "wiring_parts.h"

/* The outlets of a branch as a forest under the panel; entry `count` of first_child is the panel's. */
struct forest {
    const struct index_list *outlets;
    size_t *first_child;
    size_t *next_sibling;
    size_t *stack;
};

static bool lengths_known(const struct house *house, const struct branch *branch);
static bool number_outlets(struct wiring *wiring);
static void measure_paths(struct wiring *wiring);
static void hang_appliances(struct wiring *wiring);

bool wiring_init(struct wiring *wiring, const struct house *house, size_t branch_index, double ohm_per_km)
{
    const struct branch *branch = &house->branches[branch_index];
    if (isnan(ohm_per_km) || !lengths_known(house, branch)) {
        return false;
    }
    const size_t outlets = branch->outlets.count;
    wiring_take(wiring, house, branch_index, 1 + (outlets > 0 ? outlets : 1));
    if (outlets == 0) {
        wiring->length_m[1] = branch->length_m;
    } else if (!number_outlets(wiring)) {
        wiring_done(wiring);
        return false;
    }
    wiring->ring_length_m = branch->layout == LAYOUT_RING ? branch->return_m : (double)NAN;
    measure_paths(wiring);
    hang_appliances(wiring);
    wiring_set_wire(wiring, ohm_per_km);
    return true;
}

static bool lengths_known(const struct house *house, const struct branch *branch)
{
    const bool ring = branch->layout == LAYOUT_RING;
    if (branch->outlets.count == 0) {
        return !ring && !isnan(branch->length_m);
    }
    for (size_t i = 0; i < branch->outlets.count; i++) {
        if (isnan(house->outlets[branch->outlets.index[i]].run_m)) {
            return false;
        }
    }
    return !ring || branch->return_m > 0;
}

/* How the loads of the branch are connected, and what that makes of its loop. */
static void find_loop(struct wiring *wiring)
{
    const struct branch *branch = &wiring->house->branches[wiring->branch];
    size_t star = 0;
    for (size_t i = 0; i < branch->appliances.count; i++) {
        star += wiring->house->appliances[branch->appliances.index[i]].connected == CONNECTION_2L_N;
    }
    wiring->loop_conductors = wiring_is_three_phase(wiring) ? 1 : star > 0 ? 2.25 : 2;
    wiring->line_share = star > 0 && star == branch->appliances.count ? SQRT_3 / 2 : 1;
}

/* One block for all arrays: doubles first, then sizes. */
void wiring_take(struct wiring *wiring, const struct house *house, size_t branch_index, size_t node_count)
{
    enum { ARRAYS_OF_DOUBLES = 11, ARRAYS_OF_SIZES = 3 };
    const struct branch *branch = &house->branches[branch_index];
    const size_t doubles = ARRAYS_OF_DOUBLES * node_count + wire_scratch_count(node_count);
    const size_t units = branch->appliances.count;
    const size_t bytes =
        doubles * sizeof(double) + units * sizeof(struct wiring_unit) + ARRAYS_OF_SIZES * node_count * sizeof(size_t);
    double *next = memset(memory_new(bytes), 0, bytes);
    *wiring = (struct wiring){.house = house, .branch = branch_index, .node_count = node_count, .memory = next};
    double **const arrays[ARRAYS_OF_DOUBLES] = {&wiring->length_m,
                                                &wiring->path_m,
                                                &wiring->resistance_ohm,
                                                &wiring->conductance_s,
                                                &wiring->susceptance_s,
                                                &wiring->constant_w,
                                                &wiring->constant_var,
                                                &wiring->solution.voltage_re,
                                                &wiring->solution.voltage_im,
                                                &wiring->solution.current_re,
                                                &wiring->solution.current_im};
    for (size_t i = 0; i < ARRAYS_OF_DOUBLES; i++) {
        *arrays[i] = next;
        next += node_count;
    }
    wiring->scratch = next;
    next += wire_scratch_count(node_count);
    wiring->unit = (struct wiring_unit *)(void *)next;
    wiring->outlet = (size_t *)(void *)(wiring->unit + units);
    wiring->parent = wiring->outlet + node_count;
    wiring->node = wiring->parent + node_count;
    for (size_t k = 0; k < node_count; k++) {
        wiring->outlet[k] = NO_INDEX;
    }
    wiring->nominal_v = branch->voltage_v;
    find_loop(wiring);
    wiring->ring_length_m = (double)NAN;
    wiring->network = (struct wire_network){
        .node_count = node_count,
        .parent = wiring->parent,
        .resistance_ohm = wiring->resistance_ohm,
        .ring_resistance_ohm = (double)NAN,
        .conductance_s = wiring->conductance_s,
        .susceptance_s = wiring->susceptance_s,
        .constant_w = wiring->constant_w,
        .constant_var = wiring->constant_var,
    };
}

void wiring_done(struct wiring *wiring)
{
    free(wiring->memory);
    *wiring = (struct wiring){0};
}

/* Place of an outlet in a branch's list, which ascends. */
static size_t place_of(const struct index_list *outlets, size_t outlet)
{
    size_t low = 0;
    size_t high = outlets->count;
    while (low < high) {
        const size_t middle = low + (high - low) / 2;
        if (outlets->index[middle] < outlet) {
            low = middle + 1;
        } else {
            high = middle;
        }
    }
    return low < outlets->count && outlets->index[low] == outlet ? low : NO_INDEX;
}

static void plant(const struct house *house, struct forest *forest)
{
    const size_t count = forest->outlets->count;
    for (size_t i = 0; i <= count; i++) {
        forest->first_child[i] = NO_INDEX;
    }
    for (size_t i = 0; i < count; i++) {
        const size_t from = house->outlets[forest->outlets->index[i]].from;
        const size_t place = from == NO_INDEX ? count : place_of(forest->outlets, from);
        assert(place != NO_INDEX);
        forest->next_sibling[i] = forest->first_child[place];
        forest->first_child[place] = i;
    }
}

static bool place_is_spur(const struct wiring *wiring, const struct forest *forest, size_t place)
{
    return wiring->house->outlets[forest->outlets->index[place]].is_spur;
}

/*
 * Numbers along each cable to its end, then takes the next: chains get consecutive numbers. Siblings are linked last
 * first, so that the first of the file comes off the stack first. From place `here` on, over spurs alone or all but
 * spurs. Returns how many outlets have a number by now.
 */
static size_t walk(struct wiring *wiring, struct forest *forest, size_t here, bool spurs, size_t numbered)
{
    size_t waiting = 0;
    for (;;) {
        for (size_t child = forest->first_child[here]; child != NO_INDEX; child = forest->next_sibling[child]) {
            if (place_is_spur(wiring, forest, child) == spurs) {
                forest->stack[waiting++] = child;
            }
        }
        if (waiting == 0) {
            return numbered;
        }
        here = forest->stack[--waiting];
        const struct outlet *outlet = &wiring->house->outlets[forest->outlets->index[here]];
        const size_t node = ++numbered;
        wiring->node[here] = node;
        wiring->outlet[node] = forest->outlets->index[here];
        wiring->length_m[node] = outlet->run_m;
        wiring->parent[node] = outlet->from == NO_INDEX ? 0 : wiring->node[place_of(forest->outlets, outlet->from)];
    }
}

static bool number_outlets(struct wiring *wiring)
{
    const struct index_list *outlets = &wiring->house->branches[wiring->branch].outlets;
    const size_t count = outlets->count;
    size_t *memory = memory_resize(NULL, 3 * count + 1, sizeof(size_t));
    struct forest forest = {outlets, memory, memory + count + 1, memory + 2 * count + 1};
    plant(wiring->house, &forest);
    size_t reached = walk(wiring, &forest, count, false, 0);
    wiring->network.ring_node = reached; /* a ring's chain comes first, then what hangs on it */
    for (size_t place = 0; place <= count; place++) {
        if (place == count || !place_is_spur(wiring, &forest, place)) {
            reached = walk(wiring, &forest, place, true, reached);
        }
    }
    free(memory);
    return reached == count;
}

static void measure_paths(struct wiring *wiring)
{
    for (size_t k = 1; k < wiring->node_count; k++) {
        wiring->path_m[k] = wiring->path_m[wiring->parent[k]] + wiring->length_m[k];
    }
}

/* Where a load hangs whose outlet is not known. */
static size_t far_node(const struct wiring *wiring)
{
    size_t far = wiring->node_count - 1;
    if (!isnan(wiring->ring_length_m)) {
        return wiring_ring_end(wiring);
    }
    for (size_t k = 1; k < wiring->node_count; k++) {
        const bool farther = wiring->path_m[k] > wiring->path_m[far];
        const bool earlier = !(wiring->path_m[k] < wiring->path_m[far]) && wiring->outlet[k] < wiring->outlet[far];
        far = farther || earlier ? k : far;
    }
    return far;
}

static struct wiring_unit unit_of(const struct wiring *wiring, const struct appliance *appliance)
{
    const struct draw draw = appliance_draw(wiring->house, appliance, wiring->nominal_v);
    const double square = wiring->nominal_v * wiring->nominal_v;
    const double phases = wiring_is_three_phase(wiring) ? 3 : 1;
    if (appliance->behaviour == BEHAVIOUR_RESISTIVE) {
        /* A third of the power at the voltage over sqrt 3: the same admittance. */
        return (struct wiring_unit){.conductance_s = draw.power_w / square,
                                    .susceptance_s = draw.reactive_var / square};
    }
    return (struct wiring_unit){.constant_w = draw.power_w / phases, .constant_var = draw.reactive_var / phases};
}

static void hang_appliances(struct wiring *wiring)
{
    const struct branch *branch = &wiring->house->branches[wiring->branch];
    const size_t far = far_node(wiring);
    for (size_t i = 0; i < branch->appliances.count; i++) {
        const struct appliance *appliance = &wiring->house->appliances[branch->appliances.index[i]];
        wiring->unit[i] = unit_of(wiring, appliance);
        wiring->unit[i].node = appliance->outlet == NO_INDEX ? far : wiring_node(wiring, appliance->outlet);
    }
}

size_t wiring_node(const struct wiring *wiring, size_t outlet)
{
    if (outlet == NO_INDEX) {
        return 1;
    }
    const size_t place = place_of(&wiring->house->branches[wiring->branch].outlets, outlet);
    assert(place != NO_INDEX);
    return wiring->node[place];
}
