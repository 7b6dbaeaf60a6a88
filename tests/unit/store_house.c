#include "store_house.h"

#include <assert.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "ampsum/keys.h"
#include "ampsum/values.h"

unsigned dice_throw(struct dice *dice, unsigned sides)
{
    dice->state ^= dice->state << 13;
    dice->state ^= dice->state >> 7;
    dice->state ^= dice->state << 17;
    return (unsigned)(dice->state >> 33) % sides;
}

static void mark_given(enum kind kind, char *row, const struct key *key)
{
    size_t offset = kind == KIND_HOUSE ? offsetof(struct house, given) : 0;
    uint64_t given = 0;
    memcpy(&given, row + offset, sizeof given);
    given |= key_bit(&sections[kind], key);
    memcpy(row + offset, &given, sizeof given);
}

static char *row_at(const struct house *house, enum kind kind, size_t index)
{
    size_t count = 0;
    char *rows = house_rows(house, kind, &count);
    assert(index < count);
    return rows + index * house_row_size(kind);
}

void give(struct house *house, enum kind kind, size_t index, const char *name, const char *value)
{
    const struct key *key = section_key(&sections[kind], name);
    char *row = row_at(house, kind, index);
    struct text fault = {0};
    if (!value_read(key, value, house, row, &fault)) {
        fprintf(stderr, "%s = %s: %s\n", name, value, text_string(&fault));
        abort();
    }
    text_done(&fault);
    mark_given(kind, row, key);
}

void give_row(struct house *house, enum kind kind, size_t index, const char *name, size_t target)
{
    const struct key *key = section_key(&sections[kind], name);
    char *row = row_at(house, kind, index);
    memcpy(row + key->offset, &target, sizeof target);
    mark_given(kind, row, key);
}

static void name_rows(struct house *house, enum kind kind, size_t count)
{
    size_t first = kind == KIND_PANEL ? 1 : 0;
    char *rows = house_add_rows(house, kind, count + first);
    for (size_t i = 0; i < count + first; i++) {
        struct text id = {0};
        text_printf(&id, i < first ? "main" : "%s-%zu", kind_word(kind), i);
        const char *kept = arena_copy(house->arena, text_string(&id));
        memcpy(rows + i * house_row_size(kind) + sizeof(uint64_t), &kept, sizeof kept);
        text_done(&id);
    }
}

/* One of the values at times, nothing at others. */
static void perhaps(struct house *house, struct dice *dice, enum kind kind, size_t index, const char *key,
                    const char *const *values)
{
    unsigned count = 0;
    while (values[count] != NULL) {
        count++;
    }
    unsigned pick = dice_throw(dice, count + 1);
    if (pick < count) {
        give(house, kind, index, key, values[pick]);
    }
}

#define ANY(...) ((const char *const[]){__VA_ARGS__, NULL})

static void house_row_by_chance(struct house *house, struct dice *dice)
{
    static const char *const rules[] = {"us", "iec", "uk"};
    static const char *const systems[] = {"split-phase", "three-phase", "single-phase"};
    unsigned pick = dice_throw(dice, 3);
    give(house, KIND_HOUSE, 0, "name", "Häuschen am \"Hang\"");
    give(house, KIND_HOUSE, 0, "rules", rules[pick]);
    give(house, KIND_HOUSE, 0, "system", systems[pick]);
    give(house, KIND_HOUSE, 0, "main_breaker", "100 A");
    perhaps(house, dice, KIND_HOUSE, 0, "voltage", ANY("121.5 V", "230 V"));
    perhaps(house, dice, KIND_HOUSE, 0, "frequency", ANY("50", "60"));
    perhaps(house, dice, KIND_HOUSE, 0, "floor_area", ANY("1800 ft2", "77.7 m2"));
    perhaps(house, dice, KIND_HOUSE, 0, "currency", ANY("USD", "JPY"));
    perhaps(house, dice, KIND_HOUSE, 0, "billing_days", ANY("31"));
    perhaps(house, dice, KIND_HOUSE, 0, "ambient", ANY("-5 C", "41.5 C"));
    perhaps(house, dice, KIND_HOUSE, 0, "service_rating", ANY("60 A"));
    perhaps(house, dice, KIND_HOUSE, 0, "service_wire", ANY("16 mm2 copper"));
    perhaps(house, dice, KIND_HOUSE, 0, "service_run", ANY("12 m"));
    perhaps(house, dice, KIND_HOUSE, 0, "generation", ANY("yes", "no"));
    perhaps(house, dice, KIND_HOUSE, 0, "built", ANY("1962"));
    perhaps(house, dice, KIND_HOUSE, 0, "pscc", ANY("6 kA"));
    if (pick == 0) {
        perhaps(house, dice, KIND_HOUSE, 0, "code_edition", ANY("2017", "2026"));
        perhaps(house, dice, KIND_HOUSE, 0, "transformer", ANY("25 kVA"));
        perhaps(house, dice, KIND_HOUSE, 0, "transformer_z", ANY("2 %"));
    } else {
        perhaps(house, dice, KIND_HOUSE, 0, "supply_fuse", ANY("80 A", "unknown"));
        perhaps(house, dice, KIND_HOUSE, 0, "ground", ANY("-2 C"));
        perhaps(house, dice, KIND_HOUSE, 0, "soil", ANY("1.5"));
        perhaps(house, dice, KIND_HOUSE, 0, "earthing", ANY("TN-S", "IT"));
        perhaps(house, dice, KIND_HOUSE, 0, "ze", ANY("0.35"));
        perhaps(house, dice, KIND_HOUSE, 0, "electrode", ANY("100"));
    }
    give_row(house, KIND_HOUSE, 0, "tariff", dice_throw(dice, 3));
}

static void tariffs_by_chance(struct house *house, struct dice *dice)
{
    name_rows(house, KIND_TARIFF, 3);
    give(house, KIND_TARIFF, 0, "price", "0.1234");
    give(house, KIND_TARIFF, 1, "blocks", "350: 0.14, 1000: 0.19, rest: 0.24");
    give(house, KIND_TARIFF, 2, "price", "0.3");
    for (size_t i = 0; i < 3; i++) {
        perhaps(house, dice, KIND_TARIFF, i, "name", ANY("Day and night", "ügly"));
        perhaps(house, dice, KIND_TARIFF, i, "standing", ANY("0.5", "12"));
        perhaps(house, dice, KIND_TARIFF, i, "tax", ANY("5", "19 %"));
    }
    name_rows(house, KIND_PERIOD, 2);
    give_row(house, KIND_PERIOD, 0, "tariff", 2);
    give(house, KIND_PERIOD, 0, "price", "0.45");
    give(house, KIND_PERIOD, 0, "hours", "17:00-21:00");
    give(house, KIND_PERIOD, 0, "days", "weekdays");
    give_row(house, KIND_PERIOD, 1, "tariff", 2);
    give(house, KIND_PERIOD, 1, "price", "0.08");
    give(house, KIND_PERIOD, 1, "hours", "23:00-05:30, 12:00-13:00");
    perhaps(house, dice, KIND_PERIOD, 1, "months", ANY("nov-mar", "jan,jun,dec"));
}

static const char *leg(const struct house *house, struct dice *dice)
{
    static const char *const legs[] = {"A", "B", "C"};
    unsigned have[] = {[SYSTEM_SINGLE_PHASE] = 1, [SYSTEM_SPLIT_PHASE] = 2, [SYSTEM_THREE_PHASE] = 3};
    return legs[dice_throw(dice, have[house->system])];
}

/* How the wire of a branch or feeder lies, and what its device can break. */
static void lay_by_chance(struct house *house, struct dice *dice, enum kind kind, size_t i)
{
    bool us = strcmp(rules_word(house->rules), "us") == 0;
    perhaps(house, dice, kind, i, "terminals", us ? ANY("60", "75") : ANY("70", "90"));
    perhaps(house, dice, kind, i, "ambient", ANY("-5 C", "50 C"));
    perhaps(house, dice, kind, i, "grouped", ANY("1", "20"));
    perhaps(house, dice, kind, i, "breaking", ANY("6 kA"));
    perhaps(house, dice, kind, i, "cpc", ANY("1.5 mm2", "14 AWG copper", "same"));
    if (us) {
        perhaps(house, dice, kind, i, "cable", ANY("nm-b", "knob-and-tube"));
    } else {
        perhaps(house, dice, kind, i, "insulation", ANY("pvc", "xlpe"));
        perhaps(house, dice, kind, i, "in_insulation", ANY("0", "0.5 m"));
    }
}

static void panels_and_rooms_by_chance(struct house *house, struct dice *dice)
{
    static const char *const whole[] = {"A", "AB", "ABC"};
    static const char *const poles[] = {"1", "2", "3"};
    name_rows(house, KIND_PANEL, 2);
    perhaps(house, dice, KIND_PANEL, 0, "name", ANY("Hall"));
    perhaps(house, dice, KIND_PANEL, 0, "breaking", ANY("10 kA"));
    for (size_t i = 1; i <= 2; i++) {
        give(house, KIND_PANEL, i, "breaker", "60 A");
        give(house, KIND_PANEL, i, "poles", poles[house->system]);
        give(house, KIND_PANEL, i, "legs", whole[house->system]);
        perhaps(house, dice, KIND_PANEL, i, "wire", ANY("6 AWG copper", "16 mm2 copper"));
        perhaps(house, dice, KIND_PANEL, i, "method", ANY("A1", "D"));
        perhaps(house, dice, KIND_PANEL, i, "length", ANY("12.5 m", "30 ft"));
        lay_by_chance(house, dice, KIND_PANEL, i);
    }
    give_row(house, KIND_PANEL, 1, "from", dice_throw(dice, 2) == 0 ? 0 : 2);
    name_rows(house, KIND_ROOM, 3);
    for (size_t i = 0; i < 3; i++) {
        perhaps(house, dice, KIND_ROOM, i, "name", ANY("Kitchen", "Küche; groß"));
        perhaps(house, dice, KIND_ROOM, i, "floor", ANY("1", "cellar"));
        perhaps(house, dice, KIND_ROOM, i, "area", ANY("12 m2", "140 ft2"));
        perhaps(house, dice, KIND_ROOM, i, "kind", ANY("bath", "other", "crawl-space"));
    }
}

static void ring(struct house *house, size_t branch, size_t first_outlet)
{
    give(house, KIND_BRANCH, branch, "layout", "ring");
    give(house, KIND_BRANCH, branch, "return", "7.25 m");
    for (size_t i = 0; i < 3; i++) {
        give_row(house, KIND_OUTLET, first_outlet + i, "branch", branch);
        give(house, KIND_OUTLET, first_outlet + i, "run", "4.1 m");
        if (i > 0) {
            give_row(house, KIND_OUTLET, first_outlet + i, "from", first_outlet + i - 1);
        }
    }
}

enum { BRANCHES = 5, OUTLETS = 6 };

static void branches_by_chance(struct house *house, struct dice *dice)
{
    static const char *const spaces[BRANCHES] = {"", "11", "12", "13", "15"}; /* no space is taken twice */
    name_rows(house, KIND_BRANCH, BRANCHES);
    for (size_t i = 0; i < BRANCHES; i++) {
        give(house, KIND_BRANCH, i, "label", "Sockets");
        give(house, KIND_BRANCH, i, "breaker", i == 2 ? "32 A" : "16 A");
        give(house, KIND_BRANCH, i, "legs", leg(house, dice));
        if (dice_throw(dice, 2) == 0) {
            give_row(house, KIND_BRANCH, i, "panel", dice_throw(dice, 3));
        }
        perhaps(house, dice, KIND_BRANCH, i, "wire", ANY("12 AWG copper", "2.5 mm2 copper"));
        perhaps(house, dice, KIND_BRANCH, i, "position", i == 0 ? ANY("3", "5,7") : ANY(spaces[i]));
        perhaps(house, dice, KIND_BRANCH, i, "purpose", ANY("lighting", "small-appliance"));
        perhaps(house, dice, KIND_BRANCH, i, "protection", ANY("gfci, afci", "rcd"));
        perhaps(house, dice, KIND_BRANCH, i, "length", ANY("20 m", "33.3 ft"));
        lay_by_chance(house, dice, KIND_BRANCH, i);
        if (strcmp(rules_word(house->rules), "us") == 0) {
            perhaps(house, dice, KIND_BRANCH, i, "instantaneous", ANY("180 A"));
        } else {
            perhaps(house, dice, KIND_BRANCH, i, "rcd_ma", ANY("10", "500"));
            perhaps(house, dice, KIND_BRANCH, i, "rcd_type", ANY("general", "selective"));
            perhaps(house, dice, KIND_BRANCH, i, "zs_measured", ANY("1.05"));
            perhaps(house, dice, KIND_BRANCH, i, "measured_at", ANY("-1 C"));
        }
    }
    if (dice_throw(dice, 2) == 0) {
        give_row(house, KIND_BRANCH, 4, "shared_neutral", 3);
        perhaps(house, dice, KIND_BRANCH, 3, "tied", ANY("yes", "no"));
    }
    struct branch *branch = &house->branches[0];
    branch->serves = (struct index_list){arena_array(house->arena, 2, sizeof(size_t)), 2};
    branch->serves.index[0] = 2;
    branch->given |= key_bit(&sections[KIND_BRANCH], section_key(&sections[KIND_BRANCH], "serves"));
    name_rows(house, KIND_OUTLET, OUTLETS);
    ring(house, 2, 0);
    for (size_t i = 3; i < OUTLETS; i++) {
        give_row(house, KIND_OUTLET, i, "branch", 1);
        give(house, KIND_OUTLET, i, "run", "3 m");
        perhaps(house, dice, KIND_OUTLET, i, "rating", ANY("13 A"));
        perhaps(house, dice, KIND_OUTLET, i, "name", ANY("By the sink"));
        perhaps(house, dice, KIND_OUTLET, i, "contacts", ANY("1", "2"));
        if (strcmp(rules_word(house->rules), "uk") == 0) {
            perhaps(house, dice, KIND_OUTLET, i, "spur", ANY("yes", "no"));
            perhaps(house, dice, KIND_OUTLET, i, "fuse", ANY("3 A", "13 A"));
            perhaps(house, dice, KIND_OUTLET, i, "zs_measured", ANY("0.9 ohm"));
            perhaps(house, dice, KIND_OUTLET, i, "measured_at", ANY("25 C"));
        }
    }
    give_row(house, KIND_OUTLET, 3, "from", 5); /* named before it stands */
}

static void appliances_by_chance(struct house *house, struct dice *dice, size_t count)
{
    static const char *const ratings[][2] = {{"power", "1500 W"}, {"apparent", "750 VA"}, {"current", "3.7 A"}};
    name_rows(house, KIND_APPLIANCE, count);
    for (size_t i = 0; i < count; i++) {
        const char *const *rating = ratings[dice_throw(dice, 3)];
        give(house, KIND_APPLIANCE, i, "name", i % 3 == 0 ? "Lamp" : "Kettle, 1.5 l");
        give(house, KIND_APPLIANCE, i, rating[0], rating[1]);
        if (dice_throw(dice, 2) == 0) {
            give_row(house, KIND_APPLIANCE, i, "outlet", dice_throw(dice, OUTLETS));
        } else {
            give_row(house, KIND_APPLIANCE, i, "branch", dice_throw(dice, BRANCHES));
            give_row(house, KIND_APPLIANCE, i, "room", dice_throw(dice, 3));
        }
        perhaps(house, dice, KIND_APPLIANCE, i, "rated_voltage", ANY("115 V"));
        perhaps(house, dice, KIND_APPLIANCE, i, "power_factor", ANY("0.1", "0.95"));
        perhaps(house, dice, KIND_APPLIANCE, i, "behaviour", ANY("electronic", "motor"));
        perhaps(house, dice, KIND_APPLIANCE, i, "start_factor", ANY("4.5"));
        perhaps(house, dice, KIND_APPLIANCE, i, "count", ANY("3", "10000"));
        perhaps(house, dice, KIND_APPLIANCE, i, "fixed", ANY("yes", "no"));
        perhaps(house, dice, KIND_APPLIANCE, i, "continuous", ANY("yes", "no"));
        perhaps(house, dice, KIND_APPLIANCE, i, "use", ANY("06:30-07:10, 17:00-22:30", "22:00-06:00"));
        perhaps(house, dice, KIND_APPLIANCE, i, "hours", ANY("0.5 h"));
        perhaps(house, dice, KIND_APPLIANCE, i, "days", ANY("weekend", "all", "mon,wed"));
        perhaps(house, dice, KIND_APPLIANCE, i, "months", ANY("oct-apr", "all"));
        perhaps(house, dice, KIND_APPLIANCE, i, "duty", ANY("35.5 %"));
        perhaps(house, dice, KIND_APPLIANCE, i, "standby", ANY("0.4 W"));
        perhaps(house, dice, KIND_APPLIANCE, i, "group", ANY("climate"));
        perhaps(house, dice, KIND_APPLIANCE, i, "category", ANY("cooking", "other", "heat-pump", "generator"));
        perhaps(house, dice, KIND_APPLIANCE, i, "rating_from", ANY("plate", "guess"));
        perhaps(house, dice, KIND_APPLIANCE, i, "control", ANY("none", "setpoint", "on-off"));
        if (strcmp(rules_word(house->rules), "us") == 0) {
            perhaps(house, dice, KIND_APPLIANCE, i, "minimum_ampacity", ANY("27.7 A"));
            perhaps(house, dice, KIND_APPLIANCE, i, "maximum_breaker", ANY("45 A"));
        }
    }
}

static void scenes_by_chance(struct house *house, struct dice *dice)
{
    name_rows(house, KIND_SCENE, 2);
    perhaps(house, dice, KIND_SCENE, 0, "name", ANY("Evening"));
    for (size_t i = 0; i < 2; i++) {
        struct scene *scene = &house->scenes[i];
        size_t count = house->appliance_count < 2 ? house->appliance_count : 2;
        scene->on = (struct scene_list){arena_array(house->arena, count, sizeof(struct scene_member)), count};
        for (size_t k = 0; k < count; k++) {
            scene->on.member[k] = (struct scene_member){count - 1 - k, dice_throw(dice, 2)};
        }
        scene->given |= key_bit(&sections[KIND_SCENE], section_key(&sections[KIND_SCENE], "on"));
    }
}

struct house *house_by_chance(struct dice *dice, size_t appliances)
{
    struct house *house = house_new();
    tariffs_by_chance(house, dice);
    house_row_by_chance(house, dice);
    panels_and_rooms_by_chance(house, dice);
    branches_by_chance(house, dice);
    appliances_by_chance(house, dice, appliances);
    if (appliances > 0) {
        scenes_by_chance(house, dice);
    }
    return house;
}

static bool rows_equal(const struct house *a, const struct house *b, enum kind kind, size_t index,
                       const char **ret_where)
{
    const struct section *section = &sections[kind];
    const char *row_a = row_at(a, kind, index);
    const char *row_b = row_at(b, kind, index);
    bool equal = strcmp(house_row_id(a, kind, index), house_row_id(b, kind, index)) == 0;
    *ret_where = equal ? NULL : "id";
    struct text text_a = {0};
    struct text text_b = {0};
    for (size_t i = 0; equal && i < section->key_count; i++) {
        const struct key *key = &section->keys[i];
        equal = key_is_given(section, key, row_a) == key_is_given(section, key, row_b);
        if (equal && key_is_given(section, key, row_a)) {
            text_clear(&text_a);
            text_clear(&text_b);
            value_write(key, a, row_a, &text_a);
            value_write(key, b, row_b, &text_b);
            equal = strcmp(text_string(&text_a), text_string(&text_b)) == 0;
        }
        *ret_where = equal ? NULL : key->name;
    }
    text_done(&text_a);
    text_done(&text_b);
    return equal;
}

bool houses_equal(const struct house *a, const struct house *b, const char **ret_where)
{
    for (int kind = 0; kind < KIND_COUNT; kind++) {
        size_t count_a = 0;
        size_t count_b = 0;
        house_rows(a, (enum kind)kind, &count_a);
        house_rows(b, (enum kind)kind, &count_b);
        *ret_where = kind_word((enum kind)kind);
        if (count_a != count_b) {
            return false;
        }
        for (size_t i = 0; i < count_a; i++) {
            if (!rows_equal(a, b, (enum kind)kind, i, ret_where)) {
                return false;
            }
        }
    }
    return true;
}
