#include "ampsum/engine.h"

#include <complex.h>
#include <math.h>

#include "terms.h"

enum { LEG_COUNT = 3 };

/* What the loads of a branch that have no group bring to every panel above it. */
struct branch_sum {
    struct draw draw;
    struct draw star; /* of it, what is connected to two lines and the neutral of a three-phase supply */
    double planning_a;
    struct leader motor;  /* the largest of them; of several branches' the panel's largest is found */
    size_t first_grouped; /* its loads that have a group: entries of `grouped` */
    size_t grouped_count;
};

/* A load with a group; whether it counts depends on the panel. */
struct grouped_load {
    size_t appliance;
    struct term term;
};

struct work {
    const struct house *house;
    struct planning_factors factors;
    struct branch_sum *sums;
    struct grouped_load *grouped;
    size_t *group_best;   /* house->group_count entries, into grouped; NO_INDEX: none yet */
    size_t *first_branch; /* panel_count + 1 entries, into branches: those of each panel */
    size_t *branches;
    size_t *scope; /* the panel at hand and all panels that it feeds */
    size_t scope_count;
};

/* Sums of one panel in the making. */
struct bus {
    double complex leg_a[LEG_COUNT];
    double complex neutral_a;
    double planning_a[LEG_COUNT];
    double sum_a; /* planning currents of what counts, each load once */
    struct leader leader;
};

/* ------------------------------------------------------------------ preparing ----------------------------- */

/* The first in the file where both are as large. */
static bool goes_before(double a, size_t a_place, double b, size_t b_place)
{
    return is_larger(a, b) || (!is_larger(b, a) && a_place < b_place);
}

static void sum_load(struct work *work, size_t appliance, units_on on)
{
    const struct appliance *load = &work->house->appliances[appliance];
    struct branch_sum *sum = &work->sums[load->branch];
    unsigned units = on == NULL ? load->count : on[appliance];
    if (units == 0) {
        return;
    }
    struct term term =
        term_of(work->house, appliance, units, work->house->branches[load->branch].voltage_v, work->factors);
    if (term.group != NO_INDEX) {
        size_t place = sum->first_grouped + sum->grouped_count++;
        work->grouped[place] = (struct grouped_load){.appliance = appliance, .term = term};
        return;
    }
    draw_add(&sum->draw, term.draw);
    draw_add(&sum->star, term.star ? term.draw : (struct draw){0});
    sum->planning_a += term.planning_a;
    if (term.motor) {
        double extra_a = motor_extra_a(&term, work->factors);
        leader_offer(&sum->motor, leader_of(appliance, extra_a, term.planning_a, appliance, 0.0), 0.0);
    }
}

/* Room in `grouped` for the loads of each branch that have a group, one branch after the other. */
static void place_grouped(struct work *work)
{
    const struct house *house = work->house;
    for (size_t i = 0; house->group_count > 0 && i < house->appliance_count; i++) {
        work->sums[house->appliances[i].branch].first_grouped += house->appliances[i].group_index != NO_INDEX;
    }
    size_t next = 0;
    for (size_t i = 0; i < house->branch_count; i++) {
        size_t count = work->sums[i].first_grouped;
        work->sums[i].first_grouped = next;
        next += count;
    }
}

/* The branches of a large house's loads lie far apart: asks for the one that a later load needs. */
static void fetch_ahead(const struct work *work, size_t appliance)
{
    enum { AHEAD = 8 };
    if (work->house->appliance_count - appliance > AHEAD) {
        size_t branch = work->house->appliances[appliance + AHEAD].branch;
        __builtin_prefetch(&work->sums[branch]);
        __builtin_prefetch(&work->house->branches[branch].poles);
        __builtin_prefetch(&work->house->branches[branch].voltage_v);
    }
}

/* In the order of the file, as the appliances stand in memory: by branches a large house would miss every cache. */
static void sum_branches(struct work *work, units_on on)
{
    for (size_t i = 0; i < work->house->branch_count; i++) {
        work->sums[i] = (struct branch_sum){.motor = no_leader};
    }
    place_grouped(work);
    for (size_t i = 0; i < work->house->appliance_count; i++) {
        fetch_ahead(work, i);
        sum_load(work, i, on);
    }
}

/* Branches by panel, counted first, then put in place. */
static void sort_branches(struct work *work)
{
    const struct house *house = work->house;
    for (size_t i = 0; i <= house->panel_count; i++) {
        work->first_branch[i] = 0;
    }
    for (size_t i = 0; i < house->branch_count; i++) {
        work->first_branch[house->branches[i].panel + 1]++;
    }
    for (size_t i = 0; i < house->panel_count; i++) {
        work->first_branch[i + 1] += work->first_branch[i];
    }
    for (size_t i = house->branch_count; i-- > 0;) {
        /* From the back: first_branch[p + 1] runs down to where the branches of p start. */
        work->branches[--work->first_branch[house->branches[i].panel + 1]] = i;
    }
    for (size_t i = 0; i < house->panel_count; i++) {
        work->first_branch[i] = work->first_branch[i + 1];
    }
    work->first_branch[house->panel_count] = house->branch_count;
}

/* ------------------------------------------------------------------ one panel ----------------------------- */

/* The panel and all that it feeds. Panels are few, so that looking through all of them for each is no matter. */
static void find_scope(struct work *work, size_t panel)
{
    work->scope[0] = panel;
    work->scope_count = 1;
    for (size_t at = 0; at < work->scope_count; at++) {
        for (size_t i = 1; i < work->house->panel_count; i++) {
            if (work->house->panels[i].from == work->scope[at] && i != panel) {
                work->scope[work->scope_count++] = i;
            }
        }
    }
}

/* Unit phasor of the line-to-neutral voltage of a leg: split-phase 180 degree apart, else A-B-C with B 120 behind A. */
static double complex leg_phasor(int system, int leg)
{
    if (system == SYSTEM_SPLIT_PHASE) {
        return leg == 0 ? 1.0 : -1.0;
    }
    static const double sine[LEG_COUNT] = {0.0, -1.0, 1.0};
    return leg == 0 ? 1.0 : -0.5 + sine[leg] * (SQRT_3 / 2.0) * I;
}

/* The legs of a branch by number; returns how many. */
static int legs_of(unsigned bits, int *ret_legs)
{
    int count = 0;
    for (int leg = 0; leg < LEG_COUNT; leg++) {
        if ((bits >> leg & 1U) != 0) {
            ret_legs[count++] = leg;
        }
    }
    return count;
}

/* Half of what is connected to two lines and the neutral, on each of the two. */
static void bus_add_star(struct bus *bus, const struct house *house, const int *legs, struct draw star)
{
    const double complex half_a = (star.power_w - star.reactive_var * I) / 2 / house->voltage_v;
    for (int i = 0; i < 2; i++) {
        bus->leg_a[legs[i]] += half_a * leg_phasor(house->system, legs[i]);
        bus->neutral_a += half_a * leg_phasor(house->system, legs[i]);
    }
}

/*
 * Adds a load's line currents to the legs that its branch takes. I = conj(S / V). `star` of the draw goes by halves to
 * two legs and the neutral.
 */
static void bus_add(struct bus *bus, const struct house *house, const struct branch *branch, struct draw draw,
                    struct draw star, double planning_a)
{
    int legs[LEG_COUNT];
    int count = legs_of(branch->legs, legs);
    if (count == 2 && (star.power_w > 0 || star.reactive_var > 0)) {
        bus_add_star(bus, house, legs, star);
        draw.power_w -= star.power_w;
        draw.reactive_var -= star.reactive_var;
    }
    double complex line_a = (draw.power_w - draw.reactive_var * I) / branch->voltage_v;
    for (int i = 0; i < count; i++) {
        bus->planning_a[legs[i]] += planning_a;
    }
    if (count == 1) {
        bus->leg_a[legs[0]] += line_a * leg_phasor(house->system, legs[0]);
        bus->neutral_a += line_a * leg_phasor(house->system, legs[0]);
    } else if (count == 2) {
        double complex between = leg_phasor(house->system, legs[0]) - leg_phasor(house->system, legs[1]);
        double complex current_a = line_a * between / cabs(between);
        bus->leg_a[legs[0]] += current_a;
        bus->leg_a[legs[1]] -= current_a;
    } else {
        for (int i = 0; i < count; i++) {
            bus->leg_a[legs[i]] += line_a / SQRT_3 * leg_phasor(house->system, legs[i]);
        }
    }
}

static void choose_in_groups(struct work *work, const struct branch_sum *sum)
{
    for (size_t i = sum->first_grouped; i < sum->first_grouped + sum->grouped_count; i++) {
        const struct grouped_load *load = &work->grouped[i];
        size_t *best = &work->group_best[load->term.group];
        if (*best == NO_INDEX || goes_before(load->term.planning_a, load->appliance,
                                             work->grouped[*best].term.planning_a, work->grouped[*best].appliance)) {
            *best = i;
        }
    }
}

static void sum_branch(const struct work *work, const struct branch_sum *sum, struct bus *bus)
{
    bus->sum_a += sum->planning_a;
    for (size_t i = sum->first_grouped; i < sum->first_grouped + sum->grouped_count; i++) {
        const struct term *term = &work->grouped[i].term;
        bus->sum_a += work->group_best[term->group] == i ? term->planning_a : 0.0;
    }
}

static void offer_motors(const struct work *work, const struct branch_sum *sum, struct bus *bus)
{
    if (sum->motor.load != NO_LEADER) {
        leader_offer(&bus->leader, sum->motor, bus->sum_a);
    }
    for (size_t i = sum->first_grouped; i < sum->first_grouped + sum->grouped_count; i++) {
        const struct term *term = &work->grouped[i].term;
        const struct grouped_load *best = &work->grouped[work->group_best[term->group]];
        if (term->motor) {
            double extra_a = motor_extra_a(term, work->factors);
            struct leader other = leader_of(work->grouped[i].appliance, extra_a, term->planning_a, best->appliance,
                                            best->term.planning_a);
            leader_offer(&bus->leader, other, bus->sum_a);
        }
    }
}

static void add_branch(const struct work *work, size_t index, struct bus *bus)
{
    const struct branch *branch = &work->house->branches[index];
    const struct branch_sum *sum = &work->sums[index];
    bus_add(bus, work->house, branch, sum->draw, sum->star, sum->planning_a);
    for (size_t i = sum->first_grouped; i < sum->first_grouped + sum->grouped_count; i++) {
        const struct term *term = &work->grouped[i].term;
        size_t appliance = work->grouped[i].appliance;
        bool stands = work->group_best[term->group] == i && appliance != bus->leader.instead;
        if (stands || appliance == bus->leader.load) {
            bus_add(bus, work->house, branch, term->draw, term->star ? term->draw : (struct draw){0}, term->planning_a);
        }
    }
}

static void forget_groups(struct work *work, const struct branch_sum *sum)
{
    for (size_t i = sum->first_grouped; i < sum->first_grouped + sum->grouped_count; i++) {
        work->group_best[work->grouped[i].term.group] = NO_INDEX;
    }
}

static void add_motor_extra(const struct work *work, struct bus *bus)
{
    if (bus->leader.load == NO_LEADER) {
        return;
    }
    const size_t motor = bus->leader.load;
    const struct branch *branch = &work->house->branches[work->house->appliances[motor].branch];
    struct term term = term_of(work->house, motor, 1, branch->voltage_v, work->factors);
    int legs[LEG_COUNT];
    int count = legs_of(branch->legs, legs);
    for (int i = 0; i < count; i++) {
        bus->planning_a[legs[i]] += motor_extra_a(&term, work->factors);
    }
}

enum pass { CHOOSE, SUM, LEAD, ADD, FORGET, PASSES };

static void pass_branch(struct work *work, enum pass pass, size_t branch, struct bus *bus)
{
    const struct branch_sum *sum = &work->sums[branch];
    switch (pass) {
    case CHOOSE:
        choose_in_groups(work, sum);
        break;
    case SUM:
        sum_branch(work, sum, bus);
        break;
    case LEAD:
        offer_motors(work, sum, bus);
        break;
    case ADD:
        add_branch(work, branch, bus);
        break;
    default:
        forget_groups(work, sum);
        break;
    }
}

static void total_panel(struct work *work, size_t panel, struct panel_figures *ret_figures)
{
    struct bus bus = {.leader = no_leader};
    find_scope(work, panel);
    for (enum pass pass = CHOOSE; pass < PASSES; pass++) {
        for (size_t s = 0; s < work->scope_count; s++) {
            size_t at = work->scope[s];
            for (size_t i = work->first_branch[at]; i < work->first_branch[at + 1]; i++) {
                pass_branch(work, pass, work->branches[i], &bus);
            }
        }
    }
    add_motor_extra(work, &bus);
    *ret_figures = (struct panel_figures){.neutral_a = cabs(bus.neutral_a)};
    for (int leg = 0; leg < LEG_COUNT; leg++) {
        ret_figures->leg_planning_a[leg] = bus.planning_a[leg];
        ret_figures->leg_current_a[leg] = cabs(bus.leg_a[leg]);
    }
}

void panels_total(const struct house *house, units_on on, struct planning_factors factors,
                  struct panel_figures *panel_rows)
{
    struct arena *arena = arena_new();
    struct work work = {.house = house, .factors = factors};
    work.sums = arena_array(arena, house->branch_count, sizeof *work.sums);
    work.grouped = arena_array(arena, house->group_count > 0 ? house->appliance_count : 0, sizeof *work.grouped);
    work.group_best = arena_array(arena, house->group_count, sizeof *work.group_best);
    work.first_branch = arena_array(arena, house->panel_count + 1, sizeof *work.first_branch);
    work.branches = arena_array(arena, house->branch_count, sizeof *work.branches);
    work.scope = arena_array(arena, house->panel_count, sizeof *work.scope);
    for (size_t i = 0; i < house->group_count; i++) {
        work.group_best[i] = NO_INDEX;
    }
    sum_branches(&work, on);
    sort_branches(&work);
    for (size_t i = 0; i < house->panel_count; i++) {
        total_panel(&work, i, &panel_rows[i]);
    }
    arena_free(arena);
}
