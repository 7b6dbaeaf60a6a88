#include "fixture.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "runner.h"

enum { FIELDS = 6, PANELS_MOST = 8, LINE_ROOM = 4096 };

static void *rows_new(struct house *house, enum kind kind, size_t count)
{
    void *rows = arena_array(house->arena, count, house_row_size(kind));
    house_set_rows(house, kind, rows, 0);
    return rows;
}

struct house *fixture_new(int system, double voltage_v, size_t branch_room, size_t appliance_room)
{
    struct house *house = house_new();
    house->system = system;
    house->voltage_v = voltage_v;
    house->tariff = NO_INDEX;
    house->billing_days = 30;
    house->panels = arena_array(house->arena, PANELS_MOST, sizeof *house->panels);
    house->panels[0] = (struct panel){.id = "main", .from = NO_INDEX, .legs = house_system_legs(house)};
    house->panel_count = 1;
    house->branches = rows_new(house, KIND_BRANCH, branch_room);
    house->appliances = rows_new(house, KIND_APPLIANCE, appliance_room);
    house->rooms = rows_new(house, KIND_ROOM, appliance_room);
    return house;
}

static double voltage_of(const struct house *house, int poles)
{
    if (poles == 1 || house->system == SYSTEM_SINGLE_PHASE) {
        return house->voltage_v;
    }
    return house->voltage_v * (house->system == SYSTEM_SPLIT_PHASE ? 2.0 : sqrt(3.0));
}

struct branch *fixture_branch(struct house *house, unsigned legs, double breaker_a)
{
    int poles = (int)((legs & 1U) + (legs >> 1 & 1U) + (legs >> 2 & 1U));
    struct branch *branch = &house->branches[house->branch_count++];
    *branch = (struct branch){.id = "b", .breaker_a = breaker_a, .poles = poles, .legs = legs};
    branch->voltage_v = voltage_of(house, poles);
    return branch;
}

struct appliance *fixture_appliance(struct house *house, size_t branch, double power_w)
{
    struct appliance *appliance = &house->appliances[house->appliance_count++];
    *appliance = (struct appliance){
        .id = "a",
        .branch = branch,
        .room = NO_INDEX,
        .outlet = NO_INDEX,
        .power_w = power_w,
        .rated_voltage_v = house->branches[branch].voltage_v,
        .power_factor = 1.0,
        .duty_percent = 100.0,
        .days = DAYS_ALL,
        .months = MONTHS_ALL,
        .count = 1,
        .rating = RATING_POWER,
        .group_index = NO_INDEX,
    };
    return appliance;
}

size_t fixture_panel(struct house *house, size_t from, unsigned legs)
{
    house->panels[house->panel_count] = (struct panel){.id = "p", .from = from, .legs = legs};
    return house->panel_count++;
}

void fixture_finish(struct house *house)
{
    for (size_t i = 0; i < house->branch_count; i++) {
        house->branches[i].appliances =
            (struct index_list){.index = arena_array(house->arena, house->appliance_count, sizeof(size_t)), .count = 0};
    }
    for (size_t i = 0; i < house->appliance_count; i++) {
        struct appliance *appliance = &house->appliances[i];
        appliance->plate_v = appliance->rated_voltage_v;
        struct index_list *list = &house->branches[appliance->branch].appliances;
        list->index[list->count++] = i;
        if (appliance->group_index != NO_INDEX && appliance->group_index >= house->group_count) {
            house->group_count = appliance->group_index + 1;
        }
    }
}

/* ------------------------------------------------------------------ words --------------------------------- */

struct window_list fixture_windows(struct house *house, const char *text)
{
    size_t most = 1;
    for (const char *at = text; *at != '\0'; at++) {
        most += *at == ',';
    }
    struct window_list list = {.window = arena_array(house->arena, most, sizeof *list.window)};
    for (const char *at = text; at != NULL; at = strchr(at, ',') != NULL ? strchr(at, ',') + 1 : NULL) {
        int start_h = 0, start_m = 0, end_h = 0, end_m = 0;
        ck_assert_int_eq(sscanf(at, "%d:%d-%d:%d", &start_h, &start_m, &end_h, &end_m), 4);
        list.window[list.count++] = (struct window){start_h * 60 + start_m, end_h * 60 + end_m};
    }
    return list;
}

static unsigned bits_of_words(const char *text, const char *const *words, int count)
{
    unsigned bits = 0;
    for (int i = 0; i < count; i++) {
        bits |= strstr(text, words[i]) != NULL ? 1U << i : 0;
    }
    ck_assert_uint_ne(bits, 0);
    return bits;
}

unsigned fixture_days(const char *text)
{
    static const char *const words[] = {"mon", "tue", "wed", "thu", "fri", "sat", "sun"};
    return bits_of_words(text, words, 7);
}

unsigned fixture_months(const char *text)
{
    static const char *const words[] = {"jan", "feb", "mar", "apr", "may", "jun",
                                        "jul", "aug", "sep", "oct", "nov", "dec"};
    return bits_of_words(text, words, 12);
}

int fixture_split(char *text, char mark, char **ret_parts, int most)
{
    int count = 0;
    for (char *at = text; at != NULL && count < most;) {
        ret_parts[count++] = at;
        at = strchr(at, mark);
        if (at != NULL) {
            *at++ = '\0';
        }
    }
    return count;
}

/* ------------------------------------------------------------------ random -------------------------------- */

unsigned fixture_random(uint64_t *state, unsigned below)
{
    *state = *state * UINT64_C(6364136223846793005) + UINT64_C(1442695040888963407);
    return (unsigned)((*state >> 33) % below);
}

struct window_list fixture_random_windows(struct house *house, uint64_t *state)
{
    unsigned count = fixture_random(state, 4);
    struct window_list list = {.window = arena_array(house->arena, count, sizeof *list.window)};
    /* Cut the round of the day at 2 * count places in order and take every other piece, from a random start. */
    unsigned offset = fixture_random(state, MINUTES_IN_DAY);
    unsigned at = 0;
    for (unsigned i = 0; i < count; i++) {
        unsigned room = (MINUTES_IN_DAY - at) / (count - i);
        unsigned start = at + fixture_random(state, room / 2);
        unsigned end = start + 1 + fixture_random(state, room / 2 - 1);
        at = at + room;
        unsigned start_min = (start + offset) % MINUTES_IN_DAY;
        unsigned end_min = (end + offset) % MINUTES_IN_DAY;
        list.window[list.count++] = (struct window){(int)start_min, end_min == 0 ? MINUTES_IN_DAY : (int)end_min};
    }
    return list;
}

/* ------------------------------------------------------------------ outside values ------------------------ */

void fixture_outside(const char *name, int least, void (*test)(const struct outside *row))
{
    char path[LINE_ROOM];
    char line[LINE_ROOM];
    const char *tests = getenv("AMPSUM_TESTS");
    ck_assert_msg(tests != NULL, "AMPSUM_TESTS names the folder of the tests");
    snprintf(path, sizeof path, "%s/outside/%s", tests, name);
    FILE *rows = fopen(path, "r");
    ck_assert_msg(rows != NULL, "%s cannot be opened", path);
    int count = 0;
    while (fgets(line, sizeof line, rows) != NULL) {
        if (line[0] == '#' || strncmp(line, "id\t", 3) == 0) {
            continue;
        }
        line[strcspn(line, "\n")] = '\0';
        char *fields[FIELDS] = {0};
        ck_assert_msg(fixture_split(line, '\t', fields, FIELDS) == FIELDS, "%s: not six fields", line);
        char *end = NULL;
        struct outside row = {.id = fields[0], .inputs = fields[1], .source = fields[5]};
        row.want = strtod(fields[2], &end);
        ck_assert_msg(end != fields[2] && *end == '\0', "%s: want is no number", row.id);
        row.tolerance = strtod(fields[3], &end);
        ck_assert_msg(end != fields[3] && *end == '\0', "%s: tolerance is no number", row.id);
        test(&row);
        count++;
    }
    fclose(rows);
    ck_assert_msg(count >= least, "%s: %d rows", name, count);
}

void fixture_check(const struct outside *row, double got)
{
    double hair = 1e-9 * fabs(row->want);
    ck_assert_msg(fabs(got - row->want) <= row->tolerance + hair, "%s: got %.10g, want %.10g (%s)", row->id, got,
                  row->want, row->source);
}
