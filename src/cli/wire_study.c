#include "wire_study.h"

#include <math.h>
#include <string.h>

#include "ampsum/quantity.h"
#include "ampsum/reference.h"
#include "ampsum/words.h"

static void study_init(struct wire_study *study, const char *key)
{
    *study = (struct wire_study){.table = table_new(), .key = key, .rows = json_array()};
}

void wire_study_done(struct wire_study *study)
{
    table_free(study->table);
    text_done(&study->notes);
    json_decref(study->rows);
    *study = (struct wire_study){0};
}

static void add_figure(struct text *text, double value, int decimals, const char *unit)
{
    if (isfinite(value)) {
        text_add_rounded(text, value, decimals);
    } else {
        text_add_char(text, '-');
    }
    text_printf(text, " %s", unit);
}

/* Ampacity of a conductor in place of the branch's own. */
static struct wire_limit limit_of(const struct wire_case *wire_case, const struct ref_conductor *conductor)
{
    const struct branch *branch = wire_case->branch;
    return wire_limit_of(wire_case->house, (struct wire){conductor}, branch->method, true, branch->poles,
                         branch->breaker_a);
}

/* ------------------------------------------------------------------ a broken ring ------------------------- */

/* The segment that ends at an outlet of that ID, or the closing one; 0 where there is none. */
static size_t find_segment(const struct wire_case *wire_case, const char *id, const char **ret_nearest)
{
    struct words_nearest nearest;
    words_nearest_init(&nearest, id);
    for (size_t row = 0; row < wire_row_count(wire_case); row++) {
        const size_t segment = wire_row_segment(&wire_case->wiring, row);
        const char *name = wire_node_id(&wire_case->wiring, segment);
        if (strcmp(name, id) == 0) {
            return segment;
        }
        words_nearest_offer(&nearest, name);
    }
    *ret_nearest = nearest.best;
    return 0;
}

/* A row of the broken ring's figures; returns its worst drop, NAN where it cannot be fed. */
static double add_break(struct wire_case *wire_case, size_t segment, double ampacity_a, struct wire_study *study)
{
    const struct wiring *ring = &wire_case->wiring;
    struct wiring open;
    wiring_break(ring, segment, &open);
    const bool solved = wiring_solve(&open, wire_case->supply_ratio);
    const size_t worst = solved ? wire_worst_node(&open) : 1;
    const double drop_percent = solved ? wiring_drop_percent(&open, worst) : (double)NAN;
    const double largest_a = solved ? wiring_largest_current_a(&open) : (double)NAN;
    const bool over = exceeds(wire_planning_a(wire_case, largest_a), ampacity_a);
    const char *from = wire_node_id(ring, wiring_from(ring, segment));
    const char *to = wire_node_id(ring, segment);
    struct table *table = study->table;
    table_row(table);
    table_text(table, from);
    table_text(table, to);
    table_text(table, solved ? wire_node_id(&open, worst) : NULL);
    table_number(table, solved ? wiring_voltage_v(&open, worst) : (double)NAN, 2);
    table_number(table, drop_percent, 2);
    table_number(table, largest_a, 2);
    table_number(table, ampacity_a, 1);
    table_text(table, !solved ? "cannot be fed" : over ? "over the wire's ampacity" : "");
    json_t *row = json_object();
    json_object_set_new(row, "from", json_text(from));
    json_object_set_new(row, "to", json_text(to));
    json_object_set_new(row, "solved", json_boolean(solved));
    json_object_set_new(row, "worst_outlet", solved ? json_text(wire_node_id(&open, worst)) : json_null());
    json_object_set_new(row, "drop_percent", json_figure(drop_percent));
    json_object_set_new(row, "current_a", json_figure(largest_a));
    json_object_set_new(row, "ampacity_a", json_figure(ampacity_a));
    json_object_set_new(row, "over", json_boolean(over));
    json_array_append_new(study->rows, row);
    if (over) {
        text_printf(&study->notes, "[6] warning: broken between %s and %s, one side of the ring carries ", from, to);
        add_figure(&study->notes, largest_a, 2, "A (planning ");
        add_figure(&study->notes, wire_planning_a(wire_case, largest_a), 2, "A); the wire's ampacity is ");
        add_figure(&study->notes, ampacity_a, 2, "A\n");
    }
    wiring_done(&open);
    return drop_percent;
}

static void break_columns(struct table *table)
{
    table_column(table, "BROKEN FROM", "from", TABLE_LEFT, 20);
    table_column(table, "TO", "to", TABLE_LEFT, 20);
    table_column(table, "WORST OUTLET", "worst_outlet", TABLE_LEFT, 20);
    table_column(table, "VOLT", "voltage_v", TABLE_RIGHT, 0);
    table_column(table, "DROP %", "drop_percent", TABLE_RIGHT, 0);
    table_column(table, "LARGEST A", "current_a", TABLE_RIGHT, 0);
    table_column(table, "WIRE A", "ampacity_a", TABLE_RIGHT, 0);
    table_column(table, "", "remark", TABLE_LEFT, 24);
}

static void note_break(struct wire_case *wire_case, double worst_percent, size_t worst, struct wire_study *study)
{
    const struct wiring *ring = &wire_case->wiring;
    text_add(&study->notes, "Whole ring: worst drop ");
    add_figure(&study->notes, wiring_worst_drop_percent(ring), 2, "%, largest current ");
    add_figure(&study->notes, wiring_largest_current_a(ring), 2, "A.");
    if (worst != 0) {
        text_printf(&study->notes, " Worst break: between %s and %s, drop ",
                    wire_node_id(ring, wiring_from(ring, worst)), wire_node_id(ring, worst));
        add_figure(&study->notes, worst_percent, 2, "%.");
    }
    text_add(&study->notes,
             "\nA ring with a break goes on working and nobody notices: it has to be found by testing.\n");
}

bool wire_study_break(struct wire_case *wire_case, const char *segment, struct wire_study *ret_study)
{
    const char *nearest = NULL;
    const bool all = strcmp(segment, "all") == 0;
    struct error *error = &wire_case->invocation->error;
    if (!wire_case_is_ring(wire_case)) {
        error_set(error, ERROR_INPUT, "--break %s: branch %s is no ring", segment, wire_case->branch->id);
        return false;
    }
    const size_t one = all ? 0 : find_segment(wire_case, segment, &nearest);
    if (!all && one == 0) {
        error_set(error, ERROR_INPUT,
                  "--break %s: the ring has no outlet of that ID; expected the outlet at which the piece ends, panel "
                  "for the way back, or all%s%s",
                  segment, nearest == NULL ? "" : "; the nearest is ", nearest == NULL ? "" : nearest);
        return false;
    }
    study_init(ret_study, "breaks");
    break_columns(ret_study->table);
    const double ampacity_a = limit_of(wire_case, wire_case->branch->wire.conductor).ampacity_a;
    double worst_percent = -1;
    size_t worst = 0;
    for (size_t row = 0; row < wire_row_count(wire_case); row++) {
        const size_t at = wire_row_segment(&wire_case->wiring, row);
        if (all || at == one) {
            const double drop_percent = add_break(wire_case, at, ampacity_a, ret_study);
            worst = drop_percent > worst_percent ? at : worst;
            worst_percent = fmax(worst_percent, drop_percent);
        }
    }
    note_break(wire_case, worst_percent, all ? worst : 0, ret_study);
    return true;
}

/* ------------------------------------------------------------------ a starting motor ---------------------- */

static size_t position_of(const struct wire_case *wire_case, size_t appliance)
{
    const struct index_list *list = &wire_case->branch->appliances;
    for (size_t i = 0; i < list->count; i++) {
        if (list->index[i] == appliance) {
            return i;
        }
    }
    return NO_INDEX;
}

/* The case's loads with one unit of that appliance taken off the running ones, and starting. */
static bool solve_starting(struct wire_case *wire_case, size_t position, double power_factor)
{
    const struct load *loads = wire_case->result->loads;
    const size_t count = wire_case->branch->appliances.count;
    double *units = arena_array(wire_case->invocation->arena, count, sizeof *units);
    for (size_t i = 0; i < count; i++) {
        units[i] = loads[i].counted ? loads[i].units : 0;
    }
    units[position] = fmax(units[position] - 1, 0);
    wiring_load(&wire_case->wiring, units);
    wiring_start(&wire_case->wiring, position, power_factor);
    return wiring_solve(&wire_case->wiring, wire_case->supply_ratio);
}

static void add_start_row(struct wire_study *study, const struct wiring *wiring, size_t node, double running_v)
{
    const double starting_v = wiring->solution.solved ? wiring_voltage_v(wiring, node) : (double)NAN;
    const double share = starting_v / running_v;
    struct table *table = study->table;
    table_row(table);
    table_text(table, wire_node_id(wiring, node));
    table_number(table, running_v, 2);
    table_number(table, starting_v, 2);
    table_number(table, 100 * (1 - share), 2);
    table_number(table, 100 * (1 - share * share), 2);
    json_t *row = json_object();
    json_object_set_new(row, "id", json_text(wire_node_id(wiring, node)));
    json_object_set_new(row, "running_v", json_figure(running_v));
    json_object_set_new(row, "starting_v", json_figure(starting_v));
    json_object_set_new(row, "dip_percent", json_figure(100 * (1 - share)));
    json_object_set_new(row, "lamp_loss_percent", json_figure(100 * (1 - share * share)));
    json_array_append_new(study->rows, row);
}

static void note_start(const struct wire_case *wire_case, const struct appliance *appliance, double power_factor,
                       double running_a, struct wire_study *study)
{
    const struct wire_solution *solution = &wire_case->wiring.solution;
    struct text *notes = &study->notes;
    text_printf(notes, "%s starts at ", appliance->id);
    add_figure(notes, appliance->start_factor, 2, "times its running current, power factor ");
    text_add_rounded(notes, power_factor, 2);
    text_add(notes, " (common practice); its rotor at rest counts as a constant impedance.\n");
    if (solution->solved) {
        text_add(notes, "Current leaving the panel: ");
        add_figure(notes, running_a, 2, "A running, ");
        add_figure(notes, hypot(solution->current_re[0], solution->current_im[0]), 2, "A while it starts.\n");
    } else {
        text_add(notes, "[16] danger: while it starts this wire cannot feed what else is on.\n");
    }
    text_add(notes,
             "The dip counts from the running voltage; a lamp of constant resistance loses power with the square "
             "of the voltage.\n");
}

bool wire_study_start(struct wire_case *wire_case, size_t appliance_index, struct wire_study *ret_study)
{
    const struct appliance *appliance = &wire_case->house->appliances[appliance_index];
    const size_t position = position_of(wire_case, appliance_index);
    if (position == NO_INDEX || appliance->behaviour != BEHAVIOUR_MOTOR) {
        error_set(&wire_case->invocation->error, ERROR_INPUT, "--start %s: %s", appliance->id,
                  position == NO_INDEX ? "it is on another branch" : "it is no motor (behaviour = motor)");
        return false;
    }
    const double power_factor = reference_rule_value("starting-power-factor", rules_word(wire_case->house->rules));
    struct wiring *wiring = &wire_case->wiring;
    const size_t rows = wiring->node_count - 1;
    double *running_v = arena_array(wire_case->invocation->arena, rows, sizeof *running_v);
    for (size_t row = 0; row < rows; row++) {
        running_v[row] = wiring_voltage_v(wiring, wire_row_segment(wiring, row));
    }
    const double running_a = hypot(wiring->solution.current_re[0], wiring->solution.current_im[0]);
    study_init(ret_study, "start");
    table_column(ret_study->table, "OUTLET", "outlet", TABLE_LEFT, 20);
    table_column(ret_study->table, "RUNNING V", "running_v", TABLE_RIGHT, 0);
    table_column(ret_study->table, "STARTING V", "starting_v", TABLE_RIGHT, 0);
    table_column(ret_study->table, "DIP %", "dip_percent", TABLE_RIGHT, 0);
    table_column(ret_study->table, "LAMPS LOSE %", "lamp_loss_percent", TABLE_RIGHT, 0);
    solve_starting(wire_case, position, power_factor);
    for (size_t row = 0; row < rows; row++) {
        add_start_row(ret_study, wiring, wire_row_segment(wiring, row), running_v[row]);
    }
    note_start(wire_case, appliance, power_factor, running_a, ret_study);
    wire_case_reload(wire_case);
    wire_case->solved = wiring_solve(wiring, wire_case->supply_ratio);
    return true;
}

/* ------------------------------------------------------------------ another size -------------------------- */

/*
 * The next conductor of the branch's metal and series (AWG and kcmil, or mm2) from number `at` on, leaving out those
 * whose resistance is not published; NULL past the last.
 */
static const struct ref_conductor *next_conductor(const struct wire_case *wire_case, size_t *at)
{
    const struct ref_conductor *own = wire_case->branch->wire.conductor;
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
static double least_ampacity_a(const struct wire_case *wire_case)
{
    const double ring_a = reference_rule_value("ring-ampacity", rules_word(wire_case->house->rules));
    return wire_case_is_ring(wire_case) && isfinite(ring_a) ? ring_a : wire_case->branch->breaker_a;
}

struct size_row {
    const struct ref_conductor *conductor;
    struct wire_limit limit;
    double drop_percent; /* NAN: cannot be fed */
    double loss_w;
    double planning_a; /* in the most loaded piece */
    bool within;       /* of the advisory drop, and the ampacity not below breaker and planning current */
};

static struct size_row try_size(struct wire_case *wire_case, const struct ref_conductor *conductor,
                                double allowed_percent)
{
    struct wiring *wiring = &wire_case->wiring;
    struct size_row row = {.conductor = conductor, .drop_percent = (double)NAN, .loss_w = (double)NAN};
    row.limit = limit_of(wire_case, conductor);
    wiring_set_wire(wiring, wire_ohm_per_km(wire_case->house, (struct wire){conductor}));
    if (wiring_solve(wiring, wire_case->supply_ratio)) {
        row.drop_percent = wiring_worst_drop_percent(wiring);
        row.loss_w = wiring_loss_w(wiring);
        row.planning_a = wire_planning_a(wire_case, wiring_largest_current_a(wiring));
        row.within = !exceeds(row.drop_percent, allowed_percent) && isfinite(row.limit.ampacity_a) &&
                     !exceeds(least_ampacity_a(wire_case), row.limit.ampacity_a) &&
                     !exceeds(row.planning_a, row.limit.ampacity_a) &&
                     !exceeds(wire_case->branch->breaker_a, row.limit.small_limit_a);
    }
    return row;
}

static void add_size_row(const struct wire_case *wire_case, const struct size_row *row, double allowed_percent,
                         struct wire_study *study)
{
    const bool fed = isfinite(row->drop_percent);
    const bool thin = !isfinite(row->limit.ampacity_a) || exceeds(least_ampacity_a(wire_case), row->limit.ampacity_a) ||
                      exceeds(row->planning_a, row->limit.ampacity_a) ||
                      exceeds(wire_case->branch->breaker_a, row->limit.small_limit_a);
    struct text remark = {0};
    text_add(&remark, !fed ? "cannot be fed" : exceeds(row->drop_percent, allowed_percent) ? "drop" : "");
    text_add(&remark, thin && remark.length > 0 ? ", " : "");
    text_add(&remark, !thin ? "" : isfinite(row->limit.ampacity_a) ? "ampacity" : "in no ampacity table");
    struct table *table = study->table;
    table_row(table);
    table_text(table, row->conductor->size);
    table_text(table, row->conductor->metal);
    table_number(table, row->drop_percent, 2);
    table_number(table, row->loss_w, 2);
    table_number(table, row->limit.ampacity_a, 1);
    table_number(table, row->limit.small_limit_a, 1);
    table_text(table, text_string(&remark));
    json_t *object = json_object();
    json_object_set_new(object, "size", json_text(row->conductor->size));
    json_object_set_new(object, "metal", json_text(row->conductor->metal));
    json_object_set_new(object, "drop_percent", json_figure(row->drop_percent));
    json_object_set_new(object, "loss_w", json_figure(row->loss_w));
    json_object_set_new(object, "ampacity_a", json_figure(row->limit.ampacity_a));
    json_object_set_new(object, "within", json_boolean(row->within));
    json_array_append_new(study->rows, object);
    text_done(&remark);
}

static const char licensed_line[] =
    "Which conductor goes in is for a licensed electrician and the local code to say: this compares published figures, "
    "and knows nothing of smallest sizes, grouping or hot places.\n";

static void note_size(const struct wire_case *wire_case, const struct ref_conductor *first, double allowed_percent,
                      struct text *notes)
{
    text_add(notes, "Advisory limit on the branch's drop here: ");
    add_figure(notes, allowed_percent, 2, "%. ");
    text_add(notes, "Breaker ");
    add_figure(notes, wire_case->branch->breaker_a, 1, "A. ");
    if (first != NULL) {
        text_printf(notes, "First size inside all of these figures: %s %s.\n", first->size, first->metal);
    } else {
        text_add(notes, "No listed size is inside all of these figures.\n");
    }
    text_add(notes, licensed_line);
}

void wire_study_size(struct wire_case *wire_case, struct wire_study *ret_study)
{
    study_init(ret_study, "sizes");
    struct table *table = ret_study->table;
    table_column(table, "SIZE", "size", TABLE_LEFT, 0);
    table_column(table, "METAL", "metal", TABLE_LEFT, 0);
    table_column(table, "DROP %", "drop_percent", TABLE_RIGHT, 0);
    table_column(table, "LOSS W", "loss_w", TABLE_RIGHT, 0);
    table_column(table, "AMPACITY A", "ampacity_a", TABLE_RIGHT, 0);
    table_column(table, "SMALL WIRE A", "small_limit_a", TABLE_RIGHT, 0);
    table_column(table, "OUTSIDE", "outside", TABLE_LEFT, 24);
    const double allowed_percent = branch_drop_allowed_percent(wire_case->assessment, wire_case->index);
    const struct ref_conductor *first = NULL;
    size_t at = 0;
    for (const struct ref_conductor *next = NULL; (next = next_conductor(wire_case, &at)) != NULL;) {
        const struct size_row row = try_size(wire_case, next, allowed_percent);
        add_size_row(wire_case, &row, allowed_percent, ret_study);
        first = row.within && (first == NULL || next->area_mm2 < first->area_mm2) ? next : first;
    }
    note_size(wire_case, first, allowed_percent, &ret_study->notes);
    wiring_set_wire(&wire_case->wiring, wire_ohm_per_km(wire_case->house, wire_case->branch->wire));
    wire_case->solved = wiring_solve(&wire_case->wiring, wire_case->supply_ratio);
}

void wire_study_longest(struct wire_case *wire_case, struct wire_study *ret_study)
{
    study_init(ret_study, "longest");
    struct table *table = ret_study->table;
    table_column(table, "SIZE", "size", TABLE_LEFT, 0);
    table_column(table, "METAL", "metal", TABLE_LEFT, 0);
    table_column(table, "LONGEST M", "longest_m", TABLE_RIGHT, 0);
    table_column(table, "LONGEST FT", NULL, TABLE_RIGHT, 0);
    const double allowed_percent = branch_drop_allowed_percent(wire_case->assessment, wire_case->index);
    size_t at = 0;
    for (const struct ref_conductor *next = NULL; (next = next_conductor(wire_case, &at)) != NULL;) {
        const double ohm_per_km = wire_ohm_per_km(wire_case->house, (struct wire){next});
        const double longest_m = wiring_longest_m(&wire_case->wiring, ohm_per_km, allowed_percent);
        table_row(table);
        table_text(table, next->size);
        table_text(table, next->metal);
        table_number(table, longest_m, 1);
        table_number(table, longest_m / M_PER_FT, 0);
        json_t *object = json_object();
        json_object_set_new(object, "size", json_text(next->size));
        json_object_set_new(object, "metal", json_text(next->metal));
        json_object_set_new(object, "longest_m", json_figure(longest_m));
        json_array_append_new(ret_study->rows, object);
    }
    text_add(&ret_study->notes,
             "Along the longest path, every piece grown alike, at nominal voltage, until the drop is ");
    add_figure(&ret_study->notes, allowed_percent, 2, "%. Ampacity is not looked at here: see --size.\n");
    text_add(&ret_study->notes, licensed_line);
    wiring_set_wire(&wire_case->wiring, wire_ohm_per_km(wire_case->house, wire_case->branch->wire));
    wire_case->solved = wiring_solve(&wire_case->wiring, wire_case->supply_ratio);
}
