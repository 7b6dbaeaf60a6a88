#include "runner.h"

#include <string.h>

#include "ampsum/housefile.h"
#include "ampsum/keys.h"
#include "ampsum/typed_line.h"

static const char file[] =
    "[house]\nname = Home\nrules = us\nmain_breaker = 100\n"
    "[room kitchen]\nname = Kitchen\n"
    "[branch counter]\nlabel = Counter\nbreaker = 20\nlegs = A\nposition = 1\nwire = 12 AWG copper\n"
    "[outlet left]\nbranch = counter\nroom = kitchen\nrun = 3\n"
    "[appliance lamp]\nname = Lamp\nbranch = counter\npower = 60\nduty = 50\n";

/* Up to eight fields and what is typed into them, and the lines of the section that come of it. */
static const struct {
    enum kind kind;
    const char *id; /* of a new section, where the house has none of it */
    struct typed_pair pairs[8];
    const char *keys;  /* `key = value; ...`, as asked for; NULL: it is refused */
    const char *fault; /* its key, and a part of its reason */
    const char *reason;
} rows[] = {
    {KIND_BRANCH, "counter", {{"breaker", "15 amps"}, {"wire", ""}}, "breaker = 15 A; wire = -; position = 1"},
    {KIND_BRANCH,
     "range",
     {{"label", "Range"}, {"breaker", "50A 2 pole"}, {"position", "2"}},
     "breaker = 50 A; poles = 2; position = 2,4"},
    {KIND_BRANCH,
     "dryer",
     {{"label", "Dryer"}, {"breaker", "30"}, {"position", "5 and 7"}, {"wire", ""}},
     "poles = 2; position = 5,7; wire = -"},
    {KIND_BRANCH,
     "hall",
     {{"breaker", "15"}, {"poles", "1"}, {"position", "9"}, {"panel", "main"}},
     "poles = 1; position = 9; panel = -"},
    {KIND_APPLIANCE,
     "kettle",
     {{"name", "Window air conditioner"}, {"rating", "1.5 kW"}, {"at", "branch:counter"}},
     "power = 1.5 kW; branch = counter; rating_from = plate; behaviour = motor"},
    {KIND_APPLIANCE,
     "iron",
     {{"name", "Iron"}, {"rating", "10"}, {"unit", "A"}, {"at", "outlet:left"}, {"room", "kitchen"}},
     "current = 10 A; outlet = left; branch = -; room = -"},
    {KIND_APPLIANCE,
     "radio",
     {{"name", "Radio, 20 W"}, {"at", "branch:counter"}, {"duty", ""}, {"room", "kitchen"}},
     "name = Radio; power = 20 W; rating_from = plate; room = kitchen; duty = -"},
    {KIND_APPLIANCE,
     "lamp",
     {{"name", "Lamp"}, {"rating", "60"}, {"unit", "W"}, {"at", "branch:counter"}, {"duty", ""}},
     "power = 60 W; duty = -; rating_from = -"},
    {KIND_APPLIANCE,
     "lamp",
     {{"name", "Lamp"}, {"rating", "2"}, {"unit", "A"}, {"at", "branch:counter"}},
     "power = -; current = 2 A; rating_from = plate; duty = 50"},
    {KIND_APPLIANCE,
     "lamp",
     {{"name", "Lamp"}, {"rating", "2"}, {"unit", "A"}, {"at", "branch:counter"}, {"rating_from", "guess"}},
     "current = 2 A; rating_from = guess"},
    {KIND_APPLIANCE, "x", {{"name", ""}, {"at", "branch:counter"}}, NULL, "name", "is missing"},
    {KIND_APPLIANCE, "x", {{"name", "Zorg"}, {"at", "branch:counter"}}, NULL, "rating", "no typical one"},
    {KIND_APPLIANCE, "x", {{"name", "Kettle"}, {"at", ""}}, NULL, "at", "please choose"},
    {KIND_APPLIANCE, "x", {{"name", "Kettle"}, {"at", "branch:nowhere"}}, NULL, "at", "nowhere"},
};

static struct typed_line line_of(size_t row, const struct house *house)
{
    struct typed_line line = {.kind = rows[row].kind, .id = rows[row].id, .pairs = rows[row].pairs, .house = house};
    while (line.count < 8 && rows[row].pairs[line.count].key != NULL) {
        line.count++;
    }
    line.is_new = house_find(house, line.kind, line.id) == NO_INDEX;
    return line;
}

/* Each `key = value` of the list stands so in the section; `-`: it is not given. */
static void check_keys(const struct document_section *section, const char *keys, struct arena *arena)
{
    for (const char *at = keys; *at != '\0'; at += strspn(at, "; ")) {
        const size_t length = strcspn(at, ";");
        const char *equals = strstr(at, " = ");
        const char *key = arena_copy_length(arena, at, (size_t)(equals - at));
        const char *want = arena_copy_length(arena, equals + 3, length - (size_t)(equals + 3 - at));
        const char *value = document_value(section, key);
        ck_assert_msg(strcmp(value == NULL ? "-" : value, want) == 0, "%s: %s, not %s", key,
                      value == NULL ? "-" : value, want);
        at += length;
    }
}

START_TEST(a_line_is_put)
{
    struct error error = {0};
    struct document *document = NULL;
    struct house *house = NULL;
    struct arena *arena = arena_new();
    ck_assert(housefile_read_bytes("h.ini", file, strlen(file), &document, &error));
    ck_assert_msg(house_build(document, &house, &error), "%s", error_message(&error));
    const struct typed_line line = line_of((size_t)_i, house);
    const char *word = kind_word(line.kind);
    if (line.is_new) {
        document_add(document, word, line.id);
    }
    const bool good = typed_line_put(&line, document, arena, &error);
    ck_assert_msg(good == (rows[_i].keys != NULL), "%s", error_message(&error));
    if (good) {
        check_keys(document_find(document, word, line.id), rows[_i].keys, arena);
    } else {
        ck_assert_uint_eq(error.fault_count, 1);
        ck_assert_str_eq(error.faults[0].key, rows[_i].fault);
        ck_assert_str_eq(error.faults[0].section, word);
        ck_assert_str_eq(error.faults[0].id, line.id);
        ck_assert_msg(strstr(error.faults[0].reason, rows[_i].reason) != NULL, "%s", error.faults[0].reason);
    }
    error_done(&error);
    house_free(house);
    document_free(document);
    arena_free(arena);
}
END_TEST

static const struct {
    enum kind kind;
    struct typed_pair pairs[2];
    const char *name;
} names[] = {
    {KIND_BRANCH, {{"label", "Hall"}, {"name", "x"}}, "Hall"},
    {KIND_APPLIANCE, {{"name", "Kettle, 1500 W"}}, "Kettle"},
    {KIND_APPLIANCE, {{"name", "Kettle, 1500 W"}, {"rating", "2 kW"}}, "Kettle, 1500 W"},
    {KIND_APPLIANCE, {{"name", ""}}, ""},
    {KIND_OUTLET, {{"branch", "counter"}, {"name", ""}}, "counter 2"},
    {KIND_OUTLET, {{"branch", "nowhere"}, {"name", ""}}, "nowhere 1"},
    {KIND_OUTLET, {{"branch", "counter"}, {"name", "sink"}}, "sink"},
    {KIND_PERIOD, {{"hours", "21:00-07:00"}, {"days", "weekdays"}}, "21:00-07:00"},
    {KIND_PERIOD, {{"hours", ""}, {"days", "weekdays"}}, "weekdays"},
    {KIND_ROOM, {{"name", "Attic"}}, "Attic"},
};

START_TEST(a_new_line_has_a_name)
{
    struct error error = {0};
    struct document *document = NULL;
    struct house *house = NULL;
    struct arena *arena = arena_new();
    ck_assert(housefile_read_bytes("h.ini", file, strlen(file), &document, &error));
    ck_assert(house_build(document, &house, &error));
    const struct typed_line line = {.kind = names[_i].kind,
                                    .id = "",
                                    .is_new = true,
                                    .pairs = names[_i].pairs,
                                    .count = names[_i].pairs[1].key == NULL ? 1 : 2,
                                    .house = house};
    ck_assert_str_eq(typed_line_name(&line, arena), names[_i].name);
    house_free(house);
    document_free(document);
    arena_free(arena);
}
END_TEST

Suite *make_suite(void)
{
    Suite *whole = suite_create("typed_line");
    TCase *lines = tcase_create("lines");
    tcase_add_loop_test(lines, a_line_is_put, 0, sizeof rows / sizeof rows[0]);
    tcase_add_loop_test(lines, a_new_line_has_a_name, 0, sizeof names / sizeof names[0]);
    suite_add_tcase(whole, lines);
    return whole;
}
