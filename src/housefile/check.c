/* Rules across keys and sections: one function for each, one row of a table for each function. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "ampsum/reference.h"
#include "ampsum/text.h"
#include "build.h"
#include "check_circuit.h"
#include "check_network.h"

struct rule {
    enum kind kind;
    void (*check)(struct build *build, size_t row);
};

static void run(struct build *build, const struct rule *rules, size_t rule_count)
{
    for (size_t i = 0; i < rule_count; i++) {
        size_t count = 0;
        house_rows(build->house, rules[i].kind, &count);
        for (size_t row = 0; row < count; row++) {
            rules[i].check(build, row);
        }
    }
}

/* ------------------------------------------------------------------ where an appliance is ------------------------ */

static void check_appliance_place(struct build *build, size_t row)
{
    const struct appliance *appliance = &build->house->appliances[row];
    if (appliance->outlet == NO_INDEX && appliance->branch == NO_INDEX &&
        !row_has_key(build, KIND_APPLIANCE, row, "outlet") && !row_has_key(build, KIND_APPLIANCE, row, "branch")) {
        row_fault(build, KIND_APPLIANCE, row, "outlet", "neither outlet nor branch, expected one of them");
    }
}

static void check_appliance_branch(struct build *build, size_t row)
{
    const struct house *house = build->house;
    const struct appliance *appliance = &house->appliances[row];
    if (appliance->outlet == NO_INDEX || appliance->branch == NO_INDEX) {
        return;
    }
    const struct outlet *outlet = &house->outlets[appliance->outlet];
    if (outlet->branch != NO_INDEX && outlet->branch != appliance->branch) {
        row_fault(build, KIND_APPLIANCE, row, "branch", "on two branches: its outlet %s is on %s, expected that one",
                  outlet->id, house->branches[outlet->branch].id);
    }
}

static void check_appliance_room(struct build *build, size_t row)
{
    const struct house *house = build->house;
    const struct appliance *appliance = &house->appliances[row];
    if (appliance->outlet == NO_INDEX || appliance->room == NO_INDEX) {
        return;
    }
    const struct outlet *outlet = &house->outlets[appliance->outlet];
    if (outlet->room != NO_INDEX && outlet->room != appliance->room) {
        row_fault(build, KIND_APPLIANCE, row, "room", "its outlet %s is in %s, expected the same room", outlet->id,
                  house->rooms[outlet->room].id);
    }
}

void check_places(struct build *build)
{
    static const struct rule rules[] = {
        {KIND_APPLIANCE, check_appliance_place},
        {KIND_APPLIANCE, check_appliance_branch},
        {KIND_APPLIANCE, check_appliance_room},
    };
    run(build, rules, sizeof rules / sizeof rules[0]);
}

/* ------------------------------------------------------------------ circuits: branches and feeders --------------- */

struct circuit {
    enum kind kind;
    size_t row;
    int poles;
    unsigned legs;
    size_t panel; /* that it starts from */
};

static int count_legs(unsigned legs)
{
    return (legs & LEG_A ? 1 : 0) + (legs & LEG_B ? 1 : 0) + (legs & LEG_C ? 1 : 0);
}

static void check_poles(struct build *build, const struct circuit *circuit)
{
    if (circuit->poles == 3 && build->house->system != SYSTEM_THREE_PHASE) {
        row_fault(build, circuit->kind, circuit->row, "poles", "three poles in a %s house, expected 1 or 2",
                  system_word(build->house->system));
    }
}

static void check_legs(struct build *build, const struct circuit *circuit)
{
    const struct house *house = build->house;
    unsigned has = house_system_legs(house);
    if (circuit->legs == 0) {
        if (!row_has_key(build, circuit->kind, circuit->row, "legs")) {
            row_fault(build, circuit->kind, circuit->row, "legs", "legs is missing, expected %s of %s",
                      circuit->poles == 1   ? "one letter"
                      : circuit->poles == 2 ? "two letters"
                                            : "three letters",
                      legs_word(has));
        }
        return;
    }
    const struct panel *panel = &house->panels[circuit->panel];
    if ((circuit->legs & ~has) != 0) {
        row_fault(build, circuit->kind, circuit->row, "legs", "no leg %s in a %s house, expected of %s",
                  legs_word(circuit->legs & ~has), system_word(house->system), legs_word(has));
    } else if (panel->legs != 0 && (circuit->legs & ~panel->legs) != 0) {
        row_fault(build, circuit->kind, circuit->row, "legs", "no leg %s in panel %s, expected of %s",
                  legs_word(circuit->legs & ~panel->legs), panel->id, legs_word(panel->legs));
    }
    if (house->system != SYSTEM_SINGLE_PHASE && count_legs(circuit->legs) != circuit->poles) {
        row_fault(build, circuit->kind, circuit->row,
                  row_has_key(build, circuit->kind, circuit->row, "legs") ? "legs" : "poles",
                  "%d %s on %d %s, expected as many legs as poles", count_legs(circuit->legs),
                  count_legs(circuit->legs) == 1 ? "leg" : "legs", circuit->poles,
                  circuit->poles == 1 ? "pole" : "poles");
    }
}

static void check_branch_circuit(struct build *build, size_t row)
{
    const struct branch *branch = &build->house->branches[row];
    const struct circuit circuit = {KIND_BRANCH, row, branch->poles, branch->legs, branch->panel};
    check_poles(build, &circuit);
    check_legs(build, &circuit);
}

static void check_feeder_circuit(struct build *build, size_t row)
{
    if (row == 0) {
        return; /* the service itself */
    }
    const struct panel *panel = &build->house->panels[row];
    const struct circuit circuit = {KIND_PANEL, row, panel->poles, panel->legs, panel->from};
    check_poles(build, &circuit);
    check_legs(build, &circuit);
}

/* ------------------------------------------------------------------ panel positions ------------------------------ */

static void refuse_taken(struct build *build, const struct panel_space *first, const struct panel_space *second)
{
    bool in_order = row_line(build, KIND_BRANCH, first->branch, "position") <=
                    row_line(build, KIND_BRANCH, second->branch, "position");
    size_t early = in_order ? first->branch : second->branch;
    size_t late = in_order ? second->branch : first->branch;
    struct text place = {0};
    add_place(build, KIND_BRANCH, early, "position", &place);
    row_fault(build, KIND_BRANCH, late, "position", "space %d of panel %s is taken by %s%s, expected a free one",
              second->number, build->house->panels[second->panel].id, build->house->branches[early].id,
              text_string(&place));
    text_done(&place);
}

static void check_positions(struct build *build, size_t row)
{
    (void)row;
    size_t count = 0;
    struct panel_space *spaces = house_spaces(build->house, &count);
    for (size_t i = 1; i < count; i++) {
        if (spaces[i].panel == spaces[i - 1].panel && spaces[i].number == spaces[i - 1].number) {
            refuse_taken(build, &spaces[i - 1], &spaces[i]);
        }
    }
    free(spaces);
}

/* ------------------------------------------------------------------ appliances ----------------------------------- */

static const char *const rating_keys[] = {"power", "apparent", "current", "resistance", "horsepower"};
enum { RATING_KEYS = sizeof rating_keys / sizeof rating_keys[0] };

static void refuse_ratings(struct build *build, size_t row)
{
    const char *last = NULL;
    int last_line = -1;
    int count = 0;
    for (size_t i = 0; i < RATING_KEYS; i++) {
        if (row_has_key(build, KIND_APPLIANCE, row, rating_keys[i])) {
            int line = row_line(build, KIND_APPLIANCE, row, rating_keys[i]);
            last = line > last_line ? rating_keys[i] : last;
            last_line = line > last_line ? line : last_line;
            count++;
        }
    }
    if (count != 1) {
        row_fault(build, KIND_APPLIANCE, row, last == NULL ? "power" : last,
                  "%s, expected exactly one of power, apparent, current, resistance or horsepower",
                  count == 0 ? "no rating" : "more than one rating");
    }
}

/* A rating whose value is refused counts as given: it is looked for in the document once there are faults. */
static void check_rating(struct build *build, size_t row)
{
    const struct appliance *appliance = &build->house->appliances[row];
    int count = !isnan(appliance->power_w) + !isnan(appliance->apparent_va) + !isnan(appliance->current_a) +
                !isnan(appliance->resistance_ohm) + !isnan(appliance->horsepower_hp);
    if (count != 1 || build->faults->count > 0) {
        refuse_ratings(build, row);
    }
}

static void add_motor_sizes(const char *rules, struct text *text)
{
    const char *size = reference_motor_size(rules, 0);
    for (size_t i = 1; size != NULL; i++) {
        const char *next = reference_motor_size(rules, i);
        text_printf(text, "%s%s", i == 1 ? "" : next != NULL ? ", " : " or ", size);
        size = next;
    }
}

static void check_horsepower(struct build *build, size_t row)
{
    const struct appliance *appliance = &build->house->appliances[row];
    const char *rules = rules_word(build->house->rules);
    if (isnan(appliance->horsepower_hp) || appliance->branch == NO_INDEX) {
        return;
    }
    if (reference_motor_size(rules, 0) == NULL) {
        row_fault(build, KIND_APPLIANCE, row, "horsepower",
                  "the %s rules publish no motor table, expected power, apparent or current", rules);
    } else if (build->house->branches[appliance->branch].poles == 3) {
        row_fault(build, KIND_APPLIANCE, row, "horsepower",
                  "on a 3-pole branch, where the single-phase motor table says nothing, expected power, apparent or "
                  "current");
    } else if (isnan(appliance->motor_current_a)) {
        struct text sizes = {0};
        add_motor_sizes(rules, &sizes);
        row_fault(build, KIND_APPLIANCE, row, "horsepower", "not in the motor table, expected %s hp",
                  text_string(&sizes));
        text_done(&sizes);
    }
}

static void check_power_factor(struct build *build, size_t row)
{
    const struct appliance *appliance = &build->house->appliances[row];
    if (!isnan(appliance->resistance_ohm) && appliance->power_factor < 1) {
        row_fault(build, KIND_APPLIANCE, row, "power_factor", "beside resistance, expected 1 or none");
    }
}

static void check_hours(struct build *build, size_t row)
{
    const struct appliance *appliance = &build->house->appliances[row];
    double sum_s = 0;
    for (size_t i = 0; i < appliance->use.count; i++) {
        int minutes = appliance->use.window[i].end_min - appliance->use.window[i].start_min;
        sum_s += 60.0 * (minutes > 0 ? minutes : minutes + MINUTES_IN_DAY);
    }
    if (appliance->use.count > 0 && appliance->on_time_s > sum_s) {
        row_fault(build, KIND_APPLIANCE, row, "hours", "more than its windows together, expected at most %g h",
                  sum_s / 3600);
    }
}

/* ------------------------------------------------------------------ scenes --------------------------------------- */

static void check_scene(struct build *build, size_t row)
{
    const struct scene *scene = &build->house->scenes[row];
    for (size_t i = 0; i < scene->on.count; i++) {
        const struct appliance *appliance = &build->house->appliances[scene->on.member[i].appliance];
        if (scene->on.member[i].units > appliance->count) {
            row_fault(build, KIND_SCENE, row, "on", "%u of %s, expected at most its count of %u",
                      scene->on.member[i].units, appliance->id, appliance->count);
        }
    }
}

void check_house(struct build *build)
{
    static const struct rule rules[] = {
        {KIND_HOUSE, check_supply},
        {KIND_HOUSE, check_transformer},
        {KIND_PANEL, check_panel_breaking},
        {KIND_BRANCH, check_branch_breaking},
        {KIND_BRANCH, check_third_harmonic},
        {KIND_BRANCH, check_shared_neutral},
        {KIND_BRANCH, check_tied},
        {KIND_APPLIANCE, check_connection},
        {KIND_APPLIANCE, check_plate},
        {KIND_HOUSE, check_panel_loops},
        {KIND_PANEL, check_feeder_circuit},
        {KIND_BRANCH, check_branch_circuit},
        {KIND_HOUSE, check_positions},
        {KIND_BRANCH, check_layout},
        {KIND_OUTLET, check_outlet},
        {KIND_HOUSE, check_outlet_loops},
        {KIND_APPLIANCE, check_rating},
        {KIND_APPLIANCE, check_horsepower},
        {KIND_APPLIANCE, check_power_factor},
        {KIND_APPLIANCE, check_hours},
        {KIND_SCENE, check_scene},
        {KIND_TARIFF, check_tariff},
    };
    run(build, rules, sizeof rules / sizeof rules[0]);
}
