#include "ampsum/answer_next.h"

#include <limits.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

#include "ampsum/reference.h"

/* ---- what holds nothing yet */

size_t next_count(const struct house *house, enum kind kind)
{
    size_t count = 0;
    house_rows(house, kind, &count);
    return kind == KIND_PANEL ? count - 1 : count;
}

size_t next_empty(const struct house *house, const enum kind *kinds, size_t count)
{
    size_t at = 0;
    while (at < count && next_count(house, kinds[at]) > 0) {
        at++;
    }
    return at;
}

size_t next_room(const struct house *house, struct arena *arena)
{
    bool *lived = arena_array(arena, house->room_count + 1, sizeof *lived);
    for (size_t i = 0; i < house->appliance_count; i++) {
        const size_t room = house->appliances[i].room;
        lived[room == NO_INDEX ? house->room_count : room] = true;
    }
    for (size_t i = 0; i < house->room_count; i++) {
        if (!lived[i]) {
            return i;
        }
    }
    return NO_INDEX;
}

/* ---- the spaces of a panel */

static bool is_taken(const struct house *house, size_t panel, int space)
{
    for (size_t i = 0; i < house->branch_count; i++) {
        const struct branch *branch = &house->branches[i];
        for (size_t k = 0; branch->panel == panel && k < branch->position.count; k++) {
            if (branch->position.space[k] == space) {
                return true;
            }
        }
    }
    return false;
}

int highest_space(const struct house *house, size_t panel)
{
    int highest = 0;
    for (size_t i = 0; i < house->branch_count; i++) {
        const struct branch *branch = &house->branches[i];
        for (size_t k = 0; branch->panel == panel && k < branch->position.count; k++) {
            highest = branch->position.space[k] > highest ? branch->position.space[k] : highest;
        }
    }
    return highest;
}

/* The branch added last but `back` in that panel, of those with a space; NULL where there is none. */
static const struct branch *recent(const struct house *house, size_t panel, size_t back)
{
    for (size_t i = house->branch_count; i-- > 0;) {
        const struct branch *branch = &house->branches[i];
        if (branch->panel == panel && branch->position.count > 0 && back-- == 0) {
            return branch;
        }
    }
    return NULL;
}

static int last_space(const struct branch *branch)
{
    return branch == NULL ? 0 : branch->position.space[branch->position.count - 1];
}

int next_space_behind(const struct house *house, size_t panel, int space)
{
    do {
        space++;
    } while (is_taken(house, panel, space));
    return space;
}

int next_space(const struct house *house, size_t panel)
{
    const struct branch *now = recent(house, panel, 0);
    const int before = last_space(recent(house, panel, 1));
    if (before == 0 || now->position.space[0] - before != 2) { /* else down a column, whatever spaces each takes */
        return next_space_behind(house, panel, last_space(now));
    }
    int space = last_space(now) + 2;
    while (is_taken(house, panel, space)) {
        space += 2;
    }
    return space;
}

static unsigned legs_of(const struct house *house, unsigned there, int space, int poles)
{
    unsigned legs[3] = {LEG_A};
    int count = 0;
    for (unsigned leg = LEG_A; leg <= LEG_C; leg <<= 1) {
        if ((there & leg) != 0) {
            legs[count++] = leg;
        }
    }
    const int row = house_has_two_columns(house) ? (space - 1) / 2 : space - 1;
    unsigned taken = poles == 1 && count > 0 ? legs[row % count] : legs[0];
    for (int i = 1; i < poles && i < count; i++) {
        taken |= legs[i];
    }
    return taken;
}

unsigned next_legs(const struct house *house, const char *panel, const char *space, int poles)
{
    const size_t index = panel == NULL ? 0 : house_find(house, KIND_PANEL, panel);
    const long at = space == NULL ? (long)house->branch_count + 1 : strtol(space, NULL, 10);
    return legs_of(house, index == NO_INDEX ? house_system_legs(house) : house->panels[index].legs,
                   at < 1 || at > INT_MAX ? 1 : (int)at, poles);
}

size_t next_free(const struct house *house, size_t panel, size_t *ret_spaces, size_t most)
{
    const int highest = highest_space(house, panel);
    size_t count = 0;
    for (int space = next_space_behind(house, panel, 0); space < highest && count < most;
         space = next_space_behind(house, panel, space)) {
        ret_spaces[count++] = (size_t)space;
    }
    return count;
}

/* ---- the place of an appliance */

struct next_place next_place(const struct house *house, size_t room, struct arena *arena)
{
    for (size_t i = house->appliance_count; i-- > 0;) {
        const struct appliance *appliance = &house->appliances[i];
        if (appliance->room == room) {
            return appliance->outlet != NO_INDEX ? (struct next_place){KIND_OUTLET, appliance->outlet}
                                                 : (struct next_place){KIND_BRANCH, appliance->branch};
        }
    }
    for (size_t i = 0; room != NO_INDEX && i < house->branch_count; i++) {
        if (house_branch_serves_room(house, i, room, arena)) {
            return (struct next_place){KIND_BRANCH, i};
        }
    }
    return (struct next_place){KIND_BRANCH, house->branch_count == 1 ? 0 : NO_INDEX};
}

size_t next_load_room(const struct house *house)
{
    return house->appliance_count == 0 ? NO_INDEX : house->appliances[house->appliance_count - 1].room;
}

size_t next_period_tariff(const struct house *house)
{
    return house->tariff != NO_INDEX || house->tariff_count == 0 ? house->tariff : house->tariff_count - 1;
}

/* ---- what is not known yet */

bool rating_is_typical(const struct appliance *appliance)
{
    const bool own = appliance->rating_from == RATING_FROM_PLATE || appliance->rating_from == RATING_FROM_GUESS;
    for (size_t i = 0; i < ref_typical_count && !own && appliance->rating == RATING_POWER; i++) {
        const struct ref_typical *row = &ref_typical_rows[i];
        if (row->typical_w == appliance->power_w &&
            (strcasestr(row->name, appliance->name) != NULL || strcasestr(row->id, appliance->name) != NULL)) {
            return true;
        }
    }
    return false;
}

static bool branch_lacks(const struct branch *branch, enum missing what)
{
    const bool wired = branch->wire.conductor != NULL;
    return what == MISSING_WIRE     ? !wired
           : what == MISSING_LENGTH ? wired && !isfinite(branch->length_m) && branch->outlets.count == 0
           : what == MISSING_LOADS  ? branch->appliances.count == 0
                                    : branch->position.count == 0;
}

static bool appliance_lacks(const struct appliance *appliance, enum missing what)
{
    return what == MISSING_NAMEPLATE ? rating_is_typical(appliance)
           : what == MISSING_USE     ? appliance->use.count == 0
                                     : appliance->room == NO_INDEX;
}

static bool lacks(const struct house *house, enum kind kind, size_t index, enum missing what)
{
    switch (kind) {
    case KIND_BRANCH:
        return branch_lacks(&house->branches[index], what);
    case KIND_APPLIANCE:
        return appliance_lacks(&house->appliances[index], what);
    case KIND_PANEL: /* the main one has no feeder of its own */
        return index > 0 && (house->panels[index].wire.conductor == NULL || !isfinite(house->panels[index].length_m));
    default:
        return what == MISSING_TARIFF ? house->tariff == NO_INDEX : !isfinite(house->floor_area_m2);
    }
}

void answer_missing(const struct house *house, struct arena *arena, struct missing_rows *ret_rows)
{
    static const enum kind kinds[MISSING_COUNT] = {
        [MISSING_NAMEPLATE] = KIND_APPLIANCE, [MISSING_WIRE] = KIND_BRANCH,  [MISSING_LENGTH] = KIND_BRANCH,
        [MISSING_FEEDER] = KIND_PANEL,        [MISSING_LOADS] = KIND_BRANCH, [MISSING_USE] = KIND_APPLIANCE,
        [MISSING_ROOM] = KIND_APPLIANCE,      [MISSING_SPACE] = KIND_BRANCH, [MISSING_TARIFF] = KIND_HOUSE,
        [MISSING_FLOOR_AREA] = KIND_HOUSE,
    };
    for (int what = 0; what < MISSING_COUNT; what++) {
        size_t count = 0;
        struct missing_rows *rows = &ret_rows[what];
        house_rows(house, kinds[what], &count);
        *rows = (struct missing_rows){kinds[what], arena_array(arena, count, sizeof *rows->index), 0};
        for (size_t i = 0; i < count; i++) {
            if (lacks(house, rows->kind, i, (enum missing)what)) {
                rows->index[rows->count++] = i;
            }
        }
    }
}
