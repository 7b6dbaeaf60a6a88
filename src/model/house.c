/* The house as rows of each kind: making, finding and freeing them. */
#include <assert.h>
#include <math.h>
#include <string.h>

#include "ampsum/keys.h"
#include "ampsum/model.h"
#include "ampsum/reference.h"
#include "ampsum/words.h"

/* Where a kind's rows stand in struct house. */
struct rows_place {
    size_t rows;
    size_t count;
    size_t size;
    size_t id;
};

#define PLACE(plural, counter, row)                                                                                    \
    {                                                                                                                  \
        offsetof(struct house, plural), offsetof(struct house, counter), sizeof(struct row), offsetof(struct row, id)  \
    }

static const struct rows_place places[KIND_COUNT] = {
    [KIND_HOUSE] = {0, 0, sizeof(struct house), 0},
    [KIND_PANEL] = PLACE(panels, panel_count, panel),
    [KIND_ROOM] = PLACE(rooms, room_count, room),
    [KIND_BRANCH] = PLACE(branches, branch_count, branch),
    [KIND_OUTLET] = PLACE(outlets, outlet_count, outlet),
    [KIND_APPLIANCE] = PLACE(appliances, appliance_count, appliance),
    [KIND_SCENE] = PLACE(scenes, scene_count, scene),
    [KIND_TARIFF] = PLACE(tariffs, tariff_count, tariff),
    [KIND_PERIOD] = PLACE(periods, period_count, period),
};

static void set_missing(const struct key *key, char *row)
{
    switch (key->type) {
    case KEY_QUANTITY:
    case KEY_RATIO:
    case KEY_HORSEPOWER:
        memcpy(row + key->offset, &(double){NAN}, sizeof(double));
        break;
    case KEY_REFERENCE:
        memcpy(row + key->offset, &(size_t){NO_INDEX}, sizeof(size_t));
        break;
    default:
        break; /* zero bytes: NULL, an empty list, the first word */
    }
}

static void set_all_missing(enum kind kind, void *row)
{
    const struct section *section = &sections[kind];
    for (size_t i = 0; i < section->key_count; i++) {
        set_missing(&section->keys[i], row);
    }
}

struct house *house_new(void)
{
    struct arena *arena = arena_new();
    struct house *house = arena_take(arena, sizeof *house);
    set_all_missing(KIND_HOUSE, house);
    house->arena = arena;
    struct panel *main_panel = house_add_rows(house, KIND_PANEL, 1);
    main_panel->id = "main";
    return house;
}

void house_free(struct house *house)
{
    if (house != NULL) {
        arena_free(house->arena);
    }
}

void *house_add_rows(struct house *house, enum kind kind, size_t count)
{
    size_t size = house_row_size(kind);
    char *rows = arena_array(house->arena, count, size);
    if (count > 0) {
        set_all_missing(kind, rows);
    }
    for (size_t i = 1; i < count; i++) {
        memcpy(rows + i * size, rows, size);
    }
    house_set_rows(house, kind, rows, count);
    return rows;
}

void *house_rows(const struct house *house, enum kind kind, size_t *ret_count)
{
    if (kind == KIND_HOUSE) {
        *ret_count = 1;
        return (void *)house;
    }
    void *rows = NULL;
    memcpy(&rows, (const char *)house + places[kind].rows, sizeof rows);
    memcpy(ret_count, (const char *)house + places[kind].count, sizeof *ret_count);
    return rows;
}

size_t house_row_size(enum kind kind)
{
    return places[kind].size;
}

void house_set_rows(struct house *house, enum kind kind, void *rows, size_t count)
{
    assert(kind != KIND_HOUSE);
    memcpy((char *)house + places[kind].rows, &rows, sizeof rows);
    memcpy((char *)house + places[kind].count, &count, sizeof count);
}

const char *house_row_id(const struct house *house, enum kind kind, size_t index)
{
    if (kind == KIND_HOUSE) {
        return "";
    }
    size_t count = 0;
    const char *rows = house_rows(house, kind, &count);
    assert(index < count);
    const char *id = NULL;
    memcpy(&id, rows + index * places[kind].size + places[kind].id, sizeof id);
    return id;
}

const char *house_row_name(const struct house *house, enum kind kind, size_t index)
{
    switch (kind) {
    case KIND_HOUSE:
        return house->name;
    case KIND_PANEL:
        return house->panels[index].name;
    case KIND_ROOM:
        return house->rooms[index].name;
    case KIND_BRANCH:
        return house->branches[index].label;
    case KIND_OUTLET:
        return house->outlets[index].name;
    case KIND_APPLIANCE:
        return house->appliances[index].name;
    case KIND_SCENE:
        return house->scenes[index].name;
    case KIND_TARIFF:
        return house->tariffs[index].name;
    default:
        return house_row_id(house, kind, index);
    }
}

size_t house_find_near(const struct house *house, enum kind kind, const char *id, size_t near)
{
    size_t count = 0;
    house_rows(house, kind, &count);
    size_t at = near < count ? near : 0;
    for (size_t i = 0; i < count; i++) {
        if (strcmp(house_row_id(house, kind, at), id) == 0) {
            return at;
        }
        at = at + 1 < count ? at + 1 : 0;
    }
    return NO_INDEX;
}

size_t house_find(const struct house *house, enum kind kind, const char *id)
{
    return house_find_near(house, kind, id, 0);
}

bool appliance_has_times(const struct appliance *appliance)
{
    return appliance->use.count > 0 || appliance->days != DAYS_ALL || appliance->months != MONTHS_ALL;
}

bool branch_has_times(const struct house *house, size_t branch)
{
    const struct index_list *appliances = &house->branches[branch].appliances;
    for (size_t i = 0; i < appliances->count; i++) {
        if (appliance_has_times(&house->appliances[appliances->index[i]])) {
            return true;
        }
    }
    return false;
}

const char *house_nearest_id(const struct house *house, enum kind kind, const char *id)
{
    struct words_nearest nearest;
    words_nearest_init(&nearest, id);
    size_t count = 0;
    house_rows(house, kind, &count);
    for (size_t i = 0; i < count; i++) {
        words_nearest_offer(&nearest, house_row_id(house, kind, i));
    }
    return nearest.best;
}

void house_fetch_ahead(const struct house *house, size_t branch)
{
    enum { CACHE_LINE_BYTES = 64 };
    for (size_t i = 0; branch < house->branch_count && i < house->branches[branch].appliances.count; i++) {
        const char *row = (const char *)&house->appliances[house->branches[branch].appliances.index[i]];
        for (size_t at = 0; at < sizeof(struct appliance); at += CACHE_LINE_BYTES) {
            __builtin_prefetch(row + at);
        }
    }
}

void house_fetch_windows(const struct house *house, size_t branch)
{
    for (size_t i = 0; branch < house->branch_count && i < house->branches[branch].appliances.count; i++) {
        __builtin_prefetch(house->appliances[house->branches[branch].appliances.index[i]].use.window);
    }
}

bool house_share_neutral(const struct house *house, size_t a, size_t b)
{
    return house->branches[a].neutral_set != NO_INDEX &&
           house->branches[a].neutral_set == house->branches[b].neutral_set;
}

double house_circuit_voltage_v(const struct house *house, int poles)
{
    if (poles == 3 || (poles == 2 && house->system == SYSTEM_THREE_PHASE)) {
        return house->voltage_v * sqrt(3.0);
    }
    return poles == 2 && house->system == SYSTEM_SPLIT_PHASE ? house->voltage_v * 2 : house->voltage_v;
}

const struct ref_rule_set *house_rule_set(const struct house *house)
{
    return reference_rule_set_at(house->rules);
}

bool house_in_feet(const struct house *house)
{
    return reference_finds(house_rule_set(house)->length_unit, "ft");
}

bool house_has_two_columns(const struct house *house)
{
    return reference_finds(house_rule_set(house)->spaces, "two-columns");
}

unsigned house_system_legs(const struct house *house)
{
    switch (house->system) {
    case SYSTEM_SPLIT_PHASE:
        return LEG_A | LEG_B;
    case SYSTEM_THREE_PHASE:
        return LEG_A | LEG_B | LEG_C;
    default:
        return LEG_A;
    }
}

struct index_list house_branch_serves(const struct house *house, size_t branch_index, struct arena *arena)
{
    const struct branch *branch = &house->branches[branch_index];
    struct index_list list = {arena_array(arena, house->room_count, sizeof(size_t)), 0};
    bool *served = arena_array(arena, house->room_count, sizeof(bool));
    for (size_t i = 0; i < branch->serves.count; i++) {
        served[branch->serves.index[i]] = true;
    }
    for (size_t i = 0; branch->serves.count == 0 && i < branch->outlets.count; i++) {
        size_t room = house->outlets[branch->outlets.index[i]].room;
        if (room != NO_INDEX) {
            served[room] = true;
        }
    }
    for (size_t i = 0; branch->serves.count == 0 && i < branch->appliances.count; i++) {
        size_t room = house->appliances[branch->appliances.index[i]].room;
        if (room != NO_INDEX) {
            served[room] = true;
        }
    }
    for (size_t room = 0; room < house->room_count; room++) {
        if (served[room]) {
            list.index[list.count++] = room;
        }
    }
    return list;
}

bool house_branch_serves_room(const struct house *house, size_t branch, size_t room, struct arena *arena)
{
    const struct index_list rooms = house_branch_serves(house, branch, arena);
    for (size_t i = 0; i < rooms.count; i++) {
        if (rooms.index[i] == room) {
            return true;
        }
    }
    return false;
}

size_t panel_depth(const struct house *house, size_t panel)
{
    size_t depth = 0;
    for (size_t at = panel; at != 0 && at != NO_INDEX && depth <= PANELS_DEEP_MOST; at = house->panels[at].from) {
        depth++;
    }
    return depth;
}
