/* Rules on the keys of the supply, of circuits and of appliances that must go together. */
#include "check_circuit.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* ------------------------------------------------------------------ the supply ----------------------------------- */

void check_supply(struct build *build, size_t row)
{
    if (build->section_of[KIND_HOUSE][row] == NULL) {
        return;
    }
    bool main_breaker = row_has_key(build, KIND_HOUSE, 0, "main_breaker");
    bool takes_fuse = (build->foreign[KIND_HOUSE] &
                       key_bit(&sections[KIND_HOUSE], section_key(&sections[KIND_HOUSE], "supply_fuse"))) == 0;
    if (!main_breaker && !takes_fuse) {
        row_fault(build, KIND_HOUSE, 0, "main_breaker",
                  "main_breaker is missing, expected main_breaker = (rating of the service main)");
    } else if (!main_breaker && !row_has_key(build, KIND_HOUSE, 0, "supply_fuse")) {
        row_fault(build, KIND_HOUSE, 0, "main_breaker", "neither main_breaker nor supply_fuse, expected one of them");
    }
}

/* One of two keys that only mean something together. */
static void check_pair(struct build *build, const char *given, const char *missing)
{
    if (row_has_key(build, KIND_HOUSE, 0, given) && !row_has_key(build, KIND_HOUSE, 0, missing)) {
        row_fault(build, KIND_HOUSE, 0, given, "without %s, expected both or neither", missing);
    }
}

void check_transformer(struct build *build, size_t row)
{
    (void)row;
    check_pair(build, "transformer", "transformer_z");
    check_pair(build, "transformer_z", "transformer");
}

/* ------------------------------------------------------------------ breaking capacity ---------------------------- */

static void check_breaking(struct build *build, enum kind kind, size_t row, double breaking_a, double breaker_a)
{
    if (breaking_a < breaker_a) {
        row_fault(build, kind, row, "breaking", "below the device's rating of %g A, expected at least that", breaker_a);
    }
}

void check_branch_breaking(struct build *build, size_t row)
{
    const struct branch *branch = &build->house->branches[row];
    check_breaking(build, KIND_BRANCH, row, branch->breaking_a, branch->breaker_a);
}

void check_panel_breaking(struct build *build, size_t row)
{
    const struct panel *panel = &build->house->panels[row];
    check_breaking(build, KIND_PANEL, row, panel->breaking_a, panel->breaker_a);
}

/* ------------------------------------------------------------------ poles ---------------------------------------- */

void check_third_harmonic(struct build *build, size_t row)
{
    const struct branch *branch = &build->house->branches[row];
    if (row_has_key(build, KIND_BRANCH, row, "third_harmonic") && branch->poles != 3) {
        row_fault(build, KIND_BRANCH, row, "third_harmonic",
                  "is of branches with 3 poles; this one has %d, expected the line left out", branch->poles);
    }
}

void check_connection(struct build *build, size_t row)
{
    static const int poles_of[] = {[CONNECTION_LINE_LINE] = 2, [CONNECTION_2L_N] = 2, [CONNECTION_3L_N] = 3};
    const struct appliance *appliance = &build->house->appliances[row];
    if (appliance->connection == CONNECTION_NOT_SAID || appliance->branch == NO_INDEX) {
        return;
    }
    int poles = build->house->branches[appliance->branch].poles;
    bool fits = appliance->connection == CONNECTION_LINE_LINE ? poles >= 2 : poles == poles_of[appliance->connection];
    if (!fits || build->house->system != SYSTEM_THREE_PHASE) {
        row_fault(build, KIND_APPLIANCE, row, "connection",
                  "on a branch of %d %s in a %s house, expected %d poles and system = three-phase", poles,
                  poles == 1 ? "pole" : "poles", system_word(build->house->system), poles_of[appliance->connection]);
    }
}

/* ------------------------------------------------------------------ shared neutrals ------------------------------ */

/* The IDs of a set, `a, b, c`. */
static void add_members(const struct house *house, size_t set, struct text *text)
{
    bool first = true;
    for (size_t i = set; i < house->branch_count; i++) {
        if (house->branches[i].neutral_set == set) {
            text_printf(text, "%s%s", first ? "" : ", ", house->branches[i].id);
            first = false;
        }
    }
}

static size_t count_members(const struct house *house, size_t set)
{
    size_t count = 0;
    for (size_t i = set; i < house->branch_count; i++) {
        count += house->branches[i].neutral_set == set;
    }
    return count;
}

static void refuse_many(struct build *build, size_t row, size_t most)
{
    struct text members = {0};
    add_members(build->house, build->house->branches[row].neutral_set, &members);
    row_fault(build, KIND_BRANCH, row, "shared_neutral", "one neutral for %s, expected at most %zu branches on one",
              text_string(&members), most);
    text_done(&members);
}

void check_shared_neutral(struct build *build, size_t row)
{
    const struct house *house = build->house;
    const struct branch *branch = &house->branches[row];
    if (branch->shared_neutral == NO_INDEX) {
        return;
    }
    const struct branch *other = &house->branches[branch->shared_neutral];
    size_t most = house->system == SYSTEM_THREE_PHASE ? 3 : 2;
    if (branch->shared_neutral == row) {
        row_fault(build, KIND_BRANCH, row, "shared_neutral", "the branch itself, expected another one");
    } else if (branch->panel != other->panel) {
        row_fault(build, KIND_BRANCH, row, "shared_neutral",
                  "%s is in panel %s, this one in %s, expected the same panel", other->id,
                  house->panels[other->panel].id, house->panels[branch->panel].id);
    } else if (branch->poles != 1 || other->poles != 1) {
        row_fault(build, KIND_BRANCH, row, "shared_neutral", "%d and %d poles, expected 1 pole on both", branch->poles,
                  other->poles);
    } else if (count_members(house, branch->neutral_set) > most) {
        refuse_many(build, row, most);
    }
}

void check_tied(struct build *build, size_t row)
{
    const struct house *house = build->house;
    const struct branch *branch = &house->branches[row];
    const struct key *tied = section_key(&sections[KIND_BRANCH], "tied");
    if (!key_is_given(&sections[KIND_BRANCH], tied, branch)) {
        return;
    }
    if (branch->neutral_set == NO_INDEX) {
        if (!row_has_key(build, KIND_BRANCH, row, "shared_neutral")) {
            row_fault(build, KIND_BRANCH, row, "tied",
                      "shares no neutral with another, expected shared_neutral = ID beside it");
        }
        return;
    }
    for (size_t i = branch->neutral_set; i < row; i++) {
        const struct branch *other = &house->branches[i];
        if (house_share_neutral(house, i, row) && key_is_given(&sections[KIND_BRANCH], tied, other) &&
            build->tied[i] != build->tied[row]) {
            struct text place = {0};
            add_place(build, KIND_BRANCH, i, "tied", &place);
            row_fault(build, KIND_BRANCH, row, "tied", "%s, which shares its neutral, says %s%s, expected the same",
                      other->id, build->tied[i] == TIED_YES ? "yes" : "no", text_string(&place));
            text_done(&place);
            return;
        }
    }
}

/* ------------------------------------------------------------------ plates --------------------------------------- */

void check_plate(struct build *build, size_t row)
{
    const struct appliance *appliance = &build->house->appliances[row];
    if (appliance->maximum_breaker_a < appliance->minimum_ampacity_a) {
        row_fault(build, KIND_APPLIANCE, row, "maximum_breaker",
                  "below minimum_ampacity = %g A, expected at least that", appliance->minimum_ampacity_a);
    }
}
