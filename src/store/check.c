/*
 * What must hold between the rows of a house that came out of a file, whoever wrote that: no chain without an end, no
 * list or count beyond its bounds, nothing that a later division, table or loop would trip over. The messages of a
 * house file are housefile's; here one sentence says what is wrong, since it takes another program to make it so.
 */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "ampsum/arena.h"
#include "ampsum/reference.h"
#include "internal.h"

enum { SECONDS_IN_DAY = 86400, DAYS_IN_WEEK = 7 };

static bool wrong(struct text *fault, enum kind kind, const char *id, const char *what)
{
    text_printf(fault, "%s%s%s: %s", kind_word(kind), id[0] == '\0' ? "" : " ", id, what);
    return false;
}

/* ------------------------------------------------------------------ before house_finish ------------------- */

static uint64_t required_bits(const struct section *section)
{
    uint64_t bits = 0;
    for (size_t i = 0; i < section->key_count; i++) {
        bits |= (section->keys[i].flags & KEY_REQUIRED) != 0 ? UINT64_C(1) << i : 0;
    }
    return bits;
}

static bool required_are_given(const struct house *house, enum kind kind, struct text *fault)
{
    uint64_t bits = required_bits(&sections[kind]);
    size_t count = 0;
    const char *row = house_rows(house, kind, &count);
    size_t offset = kind == KIND_HOUSE ? offsetof(struct house, given) : 0;
    for (size_t i = kind == KIND_PANEL ? 1 : 0; i < count; i++) {
        uint64_t given = 0;
        memcpy(&given, row + i * house_row_size(kind) + offset, sizeof given);
        if ((given & bits) != bits) {
            return wrong(fault, kind, house_row_id(house, kind, i), "a required value is missing");
        }
    }
    return true;
}

/* Follows each chain once: a row is open while its chain is walked, done when that has reached an end. */
static bool chains_end(const struct house *house, enum kind kind, struct text *fault)
{
    enum { NEW, OPEN, DONE };
    const struct key *from = section_key(&sections[kind], "from");
    size_t count = 0;
    const char *rows = house_rows(house, kind, &count);
    size_t size = house_row_size(kind);
    unsigned char *state = memory_new(count);
    memset(state, NEW, count);
    bool ok = true;
    for (size_t start = 0; ok && start < count; start++) {
        size_t at = start;
        while (at != NO_INDEX && state[at] == NEW) {
            state[at] = OPEN;
            memcpy(&at, rows + at * size + from->offset, sizeof at);
        }
        ok = at == NO_INDEX || state[at] == DONE || wrong(fault, kind, house_row_id(house, kind, at), "fed by itself");
        for (at = start; ok && at != NO_INDEX && state[at] == OPEN;) {
            state[at] = DONE;
            memcpy(&at, rows + at * size + from->offset, sizeof at);
        }
    }
    free(state);
    return ok;
}

static bool outlets_stay_on_branch(const struct house *house, struct text *fault)
{
    for (size_t i = 0; i < house->outlet_count; i++) {
        const struct outlet *outlet = &house->outlets[i];
        if (strcmp(outlet->id, "panel") == 0 || strcmp(outlet->id, "end") == 0) {
            return wrong(fault, KIND_OUTLET, outlet->id, "a reserved ID");
        }
        if (outlet->from != NO_INDEX && house->outlets[outlet->from].branch != outlet->branch) {
            return wrong(fault, KIND_OUTLET, outlet->id, "fed from another branch");
        }
    }
    return true;
}

static bool appliances_have_place_and_rating(const struct house *house, struct text *fault)
{
    for (size_t i = 0; i < house->appliance_count; i++) {
        const struct appliance *appliance = &house->appliances[i];
        int ratings = !isnan(appliance->power_w) + !isnan(appliance->apparent_va) + !isnan(appliance->current_a) +
                      !isnan(appliance->resistance_ohm) + !isnan(appliance->horsepower_hp);
        if (ratings != 1) {
            return wrong(fault, KIND_APPLIANCE, appliance->id, "not one rating");
        }
        if (appliance->outlet == NO_INDEX && appliance->branch == NO_INDEX) {
            return wrong(fault, KIND_APPLIANCE, appliance->id, "neither outlet nor branch");
        }
    }
    return true;
}

/* A word of another rule set's; a key for which the house's own has no words at all says nothing, and does no harm. */
static bool choices_fit(const struct house *house, enum kind kind, const struct key *key, struct text *fault)
{
    size_t count = 0;
    const char *rows = house_rows(house, kind, &count);
    if (reference_choice(rules_word(house->rules), key->name, 0) == NULL) {
        return true;
    }
    for (size_t i = 0; i < count; i++) {
        const char *row = rows + i * house_row_size(kind);
        int value = 0;
        memcpy(&value, row + key->offset, sizeof value);
        if (key_is_given(&sections[kind], key, row) && !key_choice_allowed(key, house->rules, value)) {
            return wrong(fault, kind, house_row_id(house, kind, i), "a word that its rules do not have");
        }
    }
    return true;
}

static bool all_choices_fit(const struct house *house, struct text *fault)
{
    for (int kind = 0; kind < KIND_COUNT; kind++) {
        for (size_t i = 0; i < sections[kind].key_count; i++) {
            const struct key *key = &sections[kind].keys[i];
            if ((key->flags & KEY_RULE_WORDS) != 0 && !choices_fit(house, (enum kind)kind, key, fault)) {
                return false;
            }
        }
    }
    return true;
}

/* Keys that the main panel may have. */
static uint64_t main_bits(void)
{
    const struct section *panel = &sections[KIND_PANEL];
    uint64_t bits = 0;
    for (size_t i = 0; i < panel->key_count; i++) {
        bits |= (panel->keys[i].flags & KEY_OF_MAIN) != 0 ? UINT64_C(1) << i : 0;
    }
    return bits;
}

bool stored_structure_holds(const struct house *house, struct text *fault)
{
    for (int kind = 0; kind < KIND_COUNT; kind++) {
        if (!required_are_given(house, (enum kind)kind, fault)) {
            return false;
        }
    }
    if (house->panels[0].from != NO_INDEX || (house->panels[0].given & ~main_bits()) != 0) {
        return wrong(fault, KIND_PANEL, "main", "more than is a main panel's");
    }
    if (isnan(house->main_breaker_a) && isnan(house->supply_fuse_a)) {
        return wrong(fault, KIND_HOUSE, "", "neither main breaker nor supply fuse");
    }
    return chains_end(house, KIND_PANEL, fault) && chains_end(house, KIND_OUTLET, fault) &&
           outlets_stay_on_branch(house, fault) && appliances_have_place_and_rating(house, fault) &&
           all_choices_fit(house, fault);
}

/* ------------------------------------------------------------------ after house_finish -------------------- */

static int leg_count(unsigned legs)
{
    return ((legs & LEG_A) != 0) + ((legs & LEG_B) != 0) + ((legs & LEG_C) != 0);
}

/* On a single-phase supply two poles switch line and neutral. */
static bool circuit_fits(const struct house *house, int poles, unsigned legs, const struct panel *panel)
{
    if (house->system == SYSTEM_SINGLE_PHASE) {
        return legs == LEG_A && poles <= 2;
    }
    return leg_count(legs) == poles && (legs & ~panel->legs) == 0;
}

static bool panels_fit(const struct house *house, struct text *fault)
{
    for (size_t i = 1; i < house->panel_count; i++) {
        const struct panel *panel = &house->panels[i];
        if (panel_depth(house, i) > PANELS_DEEP_MOST) {
            return wrong(fault, KIND_PANEL, panel->id, "too many panels behind one another");
        }
        if (!circuit_fits(house, panel->poles, panel->legs, &house->panels[panel->from])) {
            return wrong(fault, KIND_PANEL, panel->id, "poles and legs do not fit");
        }
    }
    return true;
}

static bool outlets_have_runs(const struct house *house, const struct branch *branch)
{
    for (size_t i = 0; i < branch->outlets.count; i++) {
        if (isnan(house->outlets[branch->outlets.index[i]].run_m)) {
            return false;
        }
    }
    return true;
}

/* One chain from the panel: one outlet starts there, no outlet feeds two. `feeds` has an entry for each outlet. */
static bool ring_is_chain(const struct house *house, const struct branch *branch, bool *feeds)
{
    size_t starts = 0;
    for (size_t i = 0; i < branch->outlets.count; i++) {
        const struct outlet *outlet = &house->outlets[branch->outlets.index[i]];
        if (outlet->is_spur) {
            continue;
        }
        if (outlet->run_m == 0) { /* not known is allowed where no wire is given */
            return false;
        }
        if (outlet->from == NO_INDEX) {
            starts++;
        } else if (feeds[outlet->from]) {
            return false;
        } else {
            feeds[outlet->from] = true;
        }
    }
    return starts == 1 && branch->return_m > 0;
}

static bool branch_fits(const struct house *house, const struct branch *branch, bool *feeds, struct text *fault)
{
    if (!circuit_fits(house, branch->poles, branch->legs, &house->panels[branch->panel])) {
        return wrong(fault, KIND_BRANCH, branch->id, "poles and legs do not fit");
    }
    if (branch->wire.conductor != NULL && !outlets_have_runs(house, branch)) {
        return wrong(fault, KIND_BRANCH, branch->id, "an outlet without its run");
    }
    if (branch->layout == LAYOUT_RING ? !ring_is_chain(house, branch, feeds) : !isnan(branch->return_m)) {
        return wrong(fault, KIND_BRANCH, branch->id, "not a ring, or not the lengths of one");
    }
    return true;
}

static bool branches_fit(const struct house *house, struct text *fault)
{
    bool *feeds = memory_new(house->outlet_count * sizeof *feeds);
    memset(feeds, 0, house->outlet_count * sizeof *feeds);
    bool ok = true;
    for (size_t i = 0; ok && i < house->branch_count; i++) {
        ok = branch_fits(house, &house->branches[i], feeds, fault);
    }
    free(feeds);
    return ok;
}

static double window_seconds(const struct window_list *list)
{
    int minutes = 0;
    for (size_t i = 0; i < list->count; i++) {
        int length = list->window[i].end_min - list->window[i].start_min;
        minutes += length > 0 ? length : length + MINUTES_IN_DAY;
    }
    return 60.0 * minutes;
}

/* Half a second beyond the windows' sum is the rounding of a decimal hour. */
static const char *appliance_fault(const struct house *house, const struct appliance *appliance)
{
    if (appliance->rating == RATING_RESISTANCE && appliance->power_factor < 1) {
        return "power_factor";
    }
    double most_s = appliance->use.count > 0 ? window_seconds(&appliance->use) + 0.5 : SECONDS_IN_DAY;
    if (appliance->on_time_s > most_s) {
        return "hours";
    }
    if (appliance->rating == RATING_HORSEPOWER &&
        (!isfinite(appliance->motor_current_a) || house->branches[appliance->branch].poles == 3)) {
        return "horsepower";
    }
    return NULL;
}

static bool appliances_fit(const struct house *house, struct text *fault)
{
    for (size_t i = 0; i < house->appliance_count; i++) {
        const char *what = appliance_fault(house, &house->appliances[i]);
        if (what != NULL) {
            return wrong(fault, KIND_APPLIANCE, house->appliances[i].id, what);
        }
    }
    return true;
}

static bool scenes_fit(const struct house *house, struct text *fault)
{
    for (size_t i = 0; i < house->scene_count; i++) {
        const struct scene *scene = &house->scenes[i];
        for (size_t k = 0; k < scene->on.count; k++) {
            if (scene->on.member[k].units > house->appliances[scene->on.member[k].appliance].count) {
                return wrong(fault, KIND_SCENE, scene->id, "more units than there are");
            }
        }
    }
    return true;
}

/* ------------------------------------------------------------------ tariffs ------------------------------- */

enum { MINUTES_IN_WEEK = DAYS_IN_WEEK * MINUTES_IN_DAY, WEEK_WORDS = (MINUTES_IN_WEEK + 63) / 64 };

/* Which minutes of the week have a price already, for each month. */
struct priced {
    uint64_t minute[MONTHS_IN_YEAR][WEEK_WORDS];
    long count;
};

/* False where one of the minutes had a price. Wraps at the end of the week. */
static bool price_minutes(struct priced *priced, int month, int start_min, int length_min)
{
    for (int left = length_min, at = start_min; left > 0;) {
        at %= MINUTES_IN_WEEK;
        int bits = 64 - at % 64;
        bits = bits < left ? bits : left;
        bits = bits < MINUTES_IN_WEEK - at ? bits : MINUTES_IN_WEEK - at;
        uint64_t mask = (bits == 64 ? UINT64_MAX : (UINT64_C(1) << bits) - 1) << (at % 64);
        uint64_t *word = &priced->minute[month][at / 64];
        if ((*word & mask) != 0) {
            return false;
        }
        *word |= mask;
        at += bits;
        left -= bits;
    }
    priced->count += length_min;
    return true;
}

static bool price_window(struct priced *priced, const struct period *period, const struct window *window)
{
    int length_min = window->end_min - window->start_min;
    length_min += length_min > 0 ? 0 : MINUTES_IN_DAY;
    for (int month = 0; month < MONTHS_IN_YEAR; month++) {
        for (int day = 0; day < DAYS_IN_WEEK; day++) {
            bool applies = (period->months >> month & 1) != 0 && (period->days >> day & 1) != 0;
            if (applies && !price_minutes(priced, month, day * MINUTES_IN_DAY + window->start_min, length_min)) {
                return false;
            }
        }
    }
    return true;
}

static bool periods_fit(const struct house *house, const struct tariff *tariff, struct priced *priced)
{
    memset(priced, 0, sizeof *priced);
    for (size_t i = 0; i < tariff->periods.count; i++) {
        const struct period *period = &house->periods[tariff->periods.index[i]];
        for (size_t k = 0; k < period->hours.count; k++) {
            if (!price_window(priced, period, &period->hours.window[k])) {
                return false;
            }
        }
    }
    return tariff->price != NULL || priced->count == (long)MINUTES_IN_WEEK * MONTHS_IN_YEAR;
}

static bool tariffs_fit(const struct house *house, struct text *fault)
{
    struct priced *priced = memory_new(sizeof *priced);
    bool ok = true;
    for (size_t i = 0; ok && i < house->tariff_count; i++) {
        const struct tariff *tariff = &house->tariffs[i];
        bool blocks = tariff->blocks.count > 0;
        bool periods = tariff->periods.count > 0;
        if (blocks && (periods || tariff->price != NULL)) {
            ok = wrong(fault, KIND_TARIFF, tariff->id, "blocks beside another price");
        } else if (periods && !periods_fit(house, tariff, priced)) {
            ok = wrong(fault, KIND_TARIFF, tariff->id, "periods overlap or leave a minute without a price");
        } else if (!blocks && !periods && tariff->price == NULL) {
            ok = wrong(fault, KIND_TARIFF, tariff->id, "no price");
        }
    }
    free(priced);
    return ok;
}

static bool positions_are_free(const struct house *house, struct text *fault)
{
    size_t count = 0;
    struct panel_space *spaces = house_spaces(house, &count);
    bool ok = true;
    for (size_t i = 1; ok && i < count; i++) {
        if (spaces[i].panel == spaces[i - 1].panel && spaces[i].number == spaces[i - 1].number) {
            ok = wrong(fault, KIND_BRANCH, house->branches[spaces[i].branch].id, "in a position that is taken");
        }
    }
    free(spaces);
    return ok;
}

bool stored_values_hold(const struct house *house, struct text *fault)
{
    return panels_fit(house, fault) && branches_fit(house, fault) && positions_are_free(house, fault) &&
           appliances_fit(house, fault) && scenes_fit(house, fault) && tariffs_fit(house, fault);
}
