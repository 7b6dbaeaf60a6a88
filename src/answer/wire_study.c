#include "wire_study.h"

#include <math.h>
#include <string.h>

#include "ampsum/quantity.h"
#include "ampsum/reference.h"
#include "ampsum/words.h"

/* Ampacity of a conductor in place of the branch's own. */
static struct wire_reading limit_of(const struct wire_study *study, const struct ref_conductor *conductor)
{
    const struct house *house = study->answer->house;
    struct wire_run run = wire_run_of_branch(house, (size_t)(study->wire->branch - house->branches));
    run.wire.conductor = conductor;
    return wire_limit_of(house, &run).strict;
}

/* Planning current that a piece of cable with that current has to carry: the branch's, by the share of its current. */
static double planning_of(const struct wire_study *study, double current_a)
{
    const bool chosen = study->answer->assessment->options.basis != BASIS_BUSIEST;
    const struct branch_figures *figures = chosen ? &study->wire->result->other : &study->wire->result->all;
    return figures->current_a > 0 ? figures->planning_a * current_a / figures->current_a : 0;
}

/* The wiring as it was before a study. */
static void restore(struct wire_study *study)
{
    const struct house *house = study->answer->house;
    wiring_set_wire(&study->wire->wiring, wire_ohm_per_km(house, study->wire->branch->wire));
    wiring_load_counted(&study->wire->wiring, study->wire->result->loads);
    wiring_solve(&study->wire->wiring, study->supply_ratio);
}

/* ------------------------------------------------------------------ a broken ring ------------------------- */

static size_t piece_count(const struct wire_study *study)
{
    return study->wire->wiring.node_count; /* one to each outlet, and the way back */
}

/* The segment that ends at an outlet of that ID, or the closing one; 0 where there is none. */
static size_t find_segment(const struct wire_study *study, const char *id, const char **ret_nearest)
{
    struct words_nearest nearest;
    words_nearest_init(&nearest, id);
    for (size_t row = 0; row < piece_count(study); row++) {
        const size_t segment = wire_row_segment(&study->wire->wiring, row);
        const char *name = wire_node_id(&study->wire->wiring, segment);
        if (strcmp(name, id) == 0) {
            return segment;
        }
        words_nearest_offer(&nearest, name);
    }
    *ret_nearest = nearest.best;
    return 0;
}

static struct wire_break break_at(const struct wire_study *study, size_t segment, double ampacity_a)
{
    const struct wiring *ring = &study->wire->wiring;
    struct wiring open;
    wiring_break(ring, segment, &open);
    struct wire_break row = {
        .from = wire_node_id(ring, wiring_from(ring, segment)),
        .to = wire_node_id(ring, segment),
        .solved = wiring_solve(&open, study->supply_ratio),
        .voltage_v = (double)NAN,
        .drop_percent = (double)NAN,
        .current_a = (double)NAN,
        .planning_a = (double)NAN,
        .ampacity_a = ampacity_a,
    };
    if (row.solved) {
        const size_t worst = wire_worst_node(&open);
        row.worst_outlet = wire_node_id(&open, worst);
        row.voltage_v = wiring_voltage_v(&open, worst);
        row.drop_percent = wiring_drop_percent(&open, worst);
        row.current_a = wiring_largest_current_a(&open);
        row.planning_a = planning_of(study, row.current_a);
        row.over = exceeds(row.planning_a, ampacity_a);
    }
    wiring_done(&open);
    return row;
}

static bool find_piece(const struct wire_study *study, const char *piece, size_t *ret_segment, struct error *error)
{
    const char *nearest = NULL;
    *ret_segment = 0;
    if (study->wire->branch->layout != LAYOUT_RING) {
        error_set(error, ERROR_INPUT, "--break %s: branch %s is no ring", piece, study->wire->branch->id);
        return false;
    }
    if (strcmp(piece, "all") == 0) {
        return true;
    }
    *ret_segment = find_segment(study, piece, &nearest);
    if (*ret_segment != 0 && wiring_is_of_ring(&study->wire->wiring, *ret_segment)) {
        return true;
    }
    error_set(error, ERROR_INPUT,
              "--break %s: the ring has no outlet of that ID; expected the outlet at which the piece ends, panel "
              "for the way back, or all%s%s",
              piece, nearest == NULL ? "" : "; the nearest is ", nearest == NULL ? "" : nearest);
    return false;
}

bool study_breaks(struct wire_study *study, const char *piece, struct error *error)
{
    struct wire_answer *answer = study->answer;
    size_t one = 0;
    if (!find_piece(study, piece, &one, error)) {
        return false;
    }
    const double ampacity_a = limit_of(study, study->wire->branch->wire.conductor).ampacity_a;
    answer->breaks = arena_array(answer->arena, piece_count(study), sizeof *answer->breaks);
    for (size_t row = 0; row < piece_count(study); row++) {
        const size_t at = wire_row_segment(&study->wire->wiring, row);
        if (at == one || (one == 0 && wiring_is_of_ring(&study->wire->wiring, at))) {
            struct wire_break *made = &answer->breaks[answer->break_count++];
            *made = break_at(study, at, ampacity_a);
            const double worst_percent = answer->worst_break == NULL ? -1 : answer->worst_break->drop_percent;
            answer->worst_break = one == 0 && made->drop_percent > worst_percent ? made : answer->worst_break;
        }
    }
    return true;
}

/* ------------------------------------------------------------------ a starting motor ---------------------- */

static size_t position_of(const struct branch *branch, size_t appliance)
{
    for (size_t i = 0; i < branch->appliances.count; i++) {
        if (branch->appliances.index[i] == appliance) {
            return i;
        }
    }
    return NO_INDEX;
}

/* The branch's loads with one unit of that appliance taken off the running ones, and starting. */
static bool solve_starting(struct wire_study *study, size_t position, double power_factor)
{
    const struct load *loads = study->wire->result->loads;
    const size_t count = study->wire->branch->appliances.count;
    double *units = arena_array(study->answer->arena, count, sizeof *units);
    for (size_t i = 0; i < count; i++) {
        units[i] = loads[i].counted ? loads[i].units : 0;
    }
    units[position] = fmax(units[position] - 1, 0);
    wiring_load(&study->wire->wiring, units);
    wiring_start(&study->wire->wiring, position, power_factor);
    return wiring_solve(&study->wire->wiring, study->supply_ratio);
}

static double leaving_a(const struct wiring *wiring)
{
    return hypot(wiring->solution.current_re[0], wiring->solution.current_im[0]) * wiring->line_share;
}

bool study_start(struct wire_study *study, size_t appliance, struct error *error)
{
    struct wire_answer *answer = study->answer;
    struct wiring *wiring = &study->wire->wiring;
    const size_t position = position_of(study->wire->branch, appliance);
    answer->starting = &answer->house->appliances[appliance];
    if (position == NO_INDEX || answer->starting->behaviour != BEHAVIOUR_MOTOR) {
        error_set(error, ERROR_INPUT, "--start %s: %s", answer->starting->id,
                  position == NO_INDEX ? "it is on another branch" : "it is no motor (behaviour = motor)");
        return false;
    }
    answer->start_power_factor = reference_rule_value("starting-power-factor", rules_word(answer->house->rules));
    answer->start_count = wiring->node_count - 1;
    answer->starts = arena_array(answer->arena, answer->start_count, sizeof *answer->starts);
    for (size_t row = 0; row < answer->start_count; row++) {
        answer->starts[row].running_v = wiring_voltage_v(wiring, wire_row_segment(wiring, row));
    }
    answer->running_a = leaving_a(wiring);
    const bool solved = solve_starting(study, position, answer->start_power_factor);
    answer->starting_a = solved ? leaving_a(wiring) : (double)NAN;
    for (size_t row = 0; row < answer->start_count; row++) {
        struct wire_start *start = &answer->starts[row];
        const size_t node = wire_row_segment(wiring, row);
        start->id = wire_node_id(wiring, node);
        start->starting_v = solved ? wiring_voltage_v(wiring, node) : (double)NAN;
        const double share = start->starting_v / start->running_v;
        start->dip_percent = 100 * (1 - share);
        start->lamp_loss_percent = 100 * (1 - share * share);
    }
    restore(study);
    return true;
}

/* ------------------------------------------------------------------ another size -------------------------- */

/*
 * The next conductor of the branch's metal and series (AWG and kcmil, or mm2) from number `at` on, leaving out those
 * whose resistance is not published; NULL past the last.
 */
static const struct ref_conductor *next_conductor(const struct wire_study *study, size_t *at)
{
    const struct ref_conductor *own = study->wire->branch->wire.conductor;
    while (*at < ref_conductor_count) {
        const struct ref_conductor *row = &ref_conductor_rows[(*at)++];
        if (strcmp(row->metal, own->metal) == 0 && isnan(row->area_cmil) == isnan(own->area_cmil) &&
            !isnan(row->resistance_ohm_per_km)) {
            return row;
        }
    }
    return NULL;
}

/* What the wire must carry by these rules: the breaker's rating or, in a uk ring, the ring's own figure. */
static double least_ampacity_a(const struct wire_study *study)
{
    const struct branch *branch = study->wire->branch;
    const double ring_a = reference_rule_value("ring-ampacity", rules_word(study->answer->house->rules));
    return branch->layout == LAYOUT_RING && isfinite(ring_a) ? ring_a : branch->breaker_a;
}

/* What a size is outside of, for people: "" where nothing. */
static const char *outside_of(const struct wire_size *row, bool drop, bool thin)
{
    const bool fed = isfinite(row->drop_percent);
    const bool listed = isfinite(row->ampacity_a);
    if (!thin) {
        return !fed ? "cannot be fed" : drop ? "drop" : "";
    }
    if (listed) {
        return !fed ? "cannot be fed, ampacity" : drop ? "drop, ampacity" : "ampacity";
    }
    return !fed ? "cannot be fed, in no ampacity table" : drop ? "drop, in no ampacity table" : "in no ampacity table";
}

static struct wire_size try_size(struct wire_study *study, const struct ref_conductor *conductor)
{
    struct wiring *wiring = &study->wire->wiring;
    const struct wire_reading limit = limit_of(study, conductor);
    struct wire_size row = {.size = conductor->size,
                            .metal = conductor->metal,
                            .drop_percent = (double)NAN,
                            .loss_w = (double)NAN,
                            .ampacity_a = limit.ampacity_a,
                            .small_limit_a = limit.small_limit_a};
    double planning_a = 0;
    wiring_set_wire(wiring, wire_ohm_per_km(study->answer->house, (struct wire){conductor}));
    if (wiring_solve(wiring, study->supply_ratio)) {
        row.drop_percent = wiring_worst_drop_percent(wiring);
        row.loss_w = wiring_loss_w(wiring);
        planning_a = planning_of(study, wiring_largest_current_a(wiring));
    }
    const bool drop = exceeds(row.drop_percent, study->wire->allowed_percent);
    const bool thin = !isfinite(limit.ampacity_a) || exceeds(least_ampacity_a(study), limit.ampacity_a) ||
                      exceeds(planning_a, limit.ampacity_a) ||
                      exceeds(study->wire->branch->breaker_a, limit.small_limit_a);
    row.within = isfinite(row.drop_percent) && !drop && !thin;
    row.outside = outside_of(&row, drop, thin);
    return row;
}

void study_sizes(struct wire_study *study)
{
    struct wire_answer *answer = study->answer;
    double first_mm2 = INFINITY;
    size_t at = 0;
    answer->sizes = arena_array(answer->arena, ref_conductor_count, sizeof *answer->sizes);
    for (const struct ref_conductor *next = NULL; (next = next_conductor(study, &at)) != NULL;) {
        struct wire_size *row = &answer->sizes[answer->size_count++];
        *row = try_size(study, next);
        if (row->within && next->area_mm2 < first_mm2) {
            answer->first_size = row;
            first_mm2 = next->area_mm2;
        }
    }
    restore(study);
}

void study_longest(struct wire_study *study)
{
    struct wire_answer *answer = study->answer;
    size_t at = 0;
    answer->longest = arena_array(answer->arena, ref_conductor_count, sizeof *answer->longest);
    for (const struct ref_conductor *next = NULL; (next = next_conductor(study, &at)) != NULL;) {
        const double ohm_per_km = wire_ohm_per_km(answer->house, (struct wire){next});
        const double longest_m = wiring_longest_m(&study->wire->wiring, ohm_per_km, study->wire->allowed_percent);
        answer->longest[answer->longest_count++] =
            (struct wire_longest){next->size, next->metal, longest_m, longest_m / M_PER_FT};
    }
    restore(study);
}
