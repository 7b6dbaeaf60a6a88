/* A load as a person says it: which keys of an appliance its words become. */
#include "rule_sets.h"
#include "runner.h"

#include <string.h>

#include "ampsum/freetext.h"
#include "ampsum/model.h"

/* `pairs`: `key=value` parted by `|`, in the order of reading; NULL: refused, and `refused` is in the message. */
static const struct {
    const char *said;
    const char *pairs;
    const char *refused;
} rows[] = {
    {"Heater, 1500 W", "power=1500 W|name=Heater", NULL},
    {"3x LED lamp 9 W", "count=3|power=9 W|behaviour=electronic|power_factor=0.9|category=lighting|name=LED lamp",
     NULL},
    {"pump 1/2 hp", "horsepower=1/2 hp|name=pump", NULL},
    {"Kettle, 2 kW, 240 V, use=07:00-07:05",
     "power=2 kW|rated_voltage=240 V|use=07:00-07:05|category=cooking|name=Kettle", NULL},
    {"Lamp, 60 W, use=06:30-07:10, 17:00-22:30, days=mon,wed, months=nov-mar",
     "power=60 W|use=06:30-07:10, 17:00-22:30|days=mon, wed|months=nov-mar|category=lighting|name=Lamp", NULL},
    {"Lamp, tall, 60 W", "power=60 W|name=Lamp, tall", NULL},
    {"Lamp 60 W, tall", NULL, "'tall': not a quantity"},
    {"Heater, lots", NULL, "'lots': not a quantity"},
    {"Heater, 15 lots", NULL, "'15 lots': not a quantity"},
    {"Heater,, 1500 W", NULL, "'': not a quantity"},
    {", 1500 W", NULL, "a name is missing"},
    /* a thousands separator or a decimal comma never leaves the half of a number behind */
    {"Heater, 1,500 W", NULL, "no thousands separator and no decimal comma in a number, write 1500 W"},
    {"Heater 1,500 W", NULL, "write 1500 W"},
    {"Heater 1 500 W", NULL, "expected 1500 W for one (no thousands separator)"},
    {"Television 55 120 W", NULL, "a comma before the rating: 'Television 55, 120 W'"},
    {"Television 55, 120 W", "power=120 W|name=Television 55", NULL},
    {"Heater, 1.500,0 W", NULL, "write such as 1500 W"},
    {"Heater, 1 500 W", NULL, "not a quantity"},
    {"Heater, 1,5 kW", NULL, "write 1.5 kW"},
    {"Heater, tall 1,500 W", NULL, "write 1500 W"},
    {"Heater, 240 V, 1,500 W", NULL, "write 1500 W"},
    {"Heater, use=06:00-07:00, 1,500 W", NULL, "write 1500 W"},
    {"Heater, 1,500,W", NULL, "write 1500"},
    {"Heater, power=1,500 W", NULL, "no thousands separator"},
    {"Heater 1, 500 W", "power=500 W|name=Heater 1", NULL},
    {"Heater 1500", NULL, "'1500': which unit?"},
    {"Heater, 1500", NULL, "'1500': which unit?"},
    {"Lamp, 1/2", NULL, "which unit?"},
    {"Heater, 1, 500 W", NULL, "which unit?"},
    {"2 floor lamps, 60 W", NULL, "'2 floor lamps': so many alike? expected '2 x floor lamps'"},
    {"2 floor lamps 60 W", NULL, "so many alike?"},
    {"2 x floor lamps, 60 W", "count=2|power=60 W|category=lighting|typical_hours=8 h|name=floor lamps", NULL},
    {"2 ton unit, 3 kW", "power=3 kW|name=2 ton unit", NULL},
    {"Heater, 1500 W, 500 W", NULL, "two ratings or values for power: '1500 W' and '500 W'"},
    {"Heater 1500 W, 500 W", NULL, "two ratings"},
    {"Heater, 1500 W, power=500 W", NULL, "two ratings"},
    {"Heater, 240 V, 120 V, 1500 W", NULL, "two ratings or values for rated_voltage"},
    {"Heater, power=1500, 240 V", "power=1500|rated_voltage=240 V|name=Heater", NULL},
    /* as people say it: an article, the rating in front, units as words */
    {"a lamp 60 W", "power=60 W|category=lighting|typical_hours=8 h|name=lamp", NULL},
    {"My Lamp, 60 W", "power=60 W|category=lighting|typical_hours=8 h|name=Lamp", NULL},
    {"1500W space heater", "power=1500W|category=space-heating|typical_hours=8 h|name=space heater", NULL},
    {"a 1500 watt space heater", "power=1500 W|category=space-heating|typical_hours=8 h|name=space heater", NULL},
    {"heater 1500 watts", "power=1500 W|name=heater", NULL},
    {"Heater, 12.5 amps", "current=12.5 A|name=Heater", NULL},
    {"60 watt lamps", "power=60 W|category=lighting|typical_hours=8 h|name=lamps", NULL},
    {"100 W equal lamp, 9 W", "power=9 W|name=100 W equal lamp", NULL},
    {"Spaceheater", "power=1500 W|category=space-heating|typical_hours=8 h|name=Spaceheater", NULL},
    {"1500 heater", NULL, "no typical one is known"},
    {"240 V unit, 3 kW", "rated_voltage=240 V|power=3 kW|name=unit", NULL},
    {"12 V lamp", NULL, "no rating"},
    {"1,500 watt heater", NULL, "no thousands separator"},
    /* words as people type them: a rating anywhere, units in words, counts behind */
    {"1500 watt widget", "power=1500 W|name=widget", NULL},
    {"0.5 hp widget", "horsepower=0.5 hp|name=widget", NULL},
    {"WIDGET, 1500 WATTS", "power=1500 W|name=WIDGET", NULL},
    {"widget 12.5 amps", "current=12.5 A|name=widget", NULL},
    {"widget 230V 20A", "rated_voltage=230 V|current=20 A|name=widget", NULL},
    {"240V widget 3kW", "rated_voltage=240 V|power=3 kW|name=widget", NULL},
    {"widget 2e3 watts", "power=2e3 W|name=widget", NULL},
    {"widget, 1 e W", NULL, "not a quantity"},
    {"widget (1500 W)", "power=1500 W|name=widget", NULL},
    {"widget: 1500 W", "power=1500 W|name=widget", NULL},
    {"widget - 1500 W on high", "power=1500 W|name=widget - on high", NULL},
    {"2 widgets 60W each", "count=2|power=60W|name=widgets", NULL},
    {"two widgets 60 W each", "count=2|power=60 W|name=widgets", NULL},
    {"2 x widgets 60 W each", "count=2|power=60 W|name=widgets", NULL},
    {"widget 25W x 4", "count=4|power=25W|name=widget", NULL},
    {"widget 25 W x4", "count=4|power=25 W|name=widget", NULL},
    {"2x1500W widget", "count=2|power=1500W|name=widget", NULL},
    {"two widgets, 60 W", NULL, "so many alike? expected '2 x widgets'"},
    /* no load is swallowed by another's name, no half of a number taken, no time left uncounted */
    {"Heater 1500W and lamp 60W", NULL, "two ratings for one load, '1500W' and '60W'"},
    {"coffee maker 900W; toaster 800W", NULL, "two ratings for one load"},
    {"fan 100W + heater 1500W", NULL, "two ratings for one load"},
    {"Motor 1 1/2 hp", NULL, "1.5 hp for one"},
    {"Heater 1500-2000 W", NULL, "a range is not accepted"},
    {"Heater, 750/1500 W", NULL, "a range is not accepted"},
    {"Heater 1500 W 3 h", NULL, "'3 h': a time is no part of a name"},
    {"Heater, 1500 W, 3 hours a day", NULL, "a time is no part of a name"},
    {"Heater 1500W 4h/day", NULL, "a time is no part of a name"},
    {"pump .5 hp", NULL, "expected 0.5 hp"},
    {"window AC 8000 btu", NULL, "BTU say how much it cools or heats"},
    {"4x25W", NULL, "'4x25W': a name is missing"},
    /* what stays a name */
    {"12 V widget 20 W", "power=20 W|name=12 V widget", NULL},
    {"60W-equivalent widget, 9 W", "power=9 W|name=60W-equivalent widget", NULL},
    {"24h widget 1 W", "power=1 W|name=24h widget", NULL},
    {"Widget (left), 60 W", "power=60 W|name=Widget (left)", NULL},
    {"Widget x1, 150 W", "power=150 W|name=Widget x1", NULL},
    {"HP widget 400 W", "power=400 W|name=HP widget", NULL},
};

START_TEST(words_become_keys)
{
    struct arena *arena = arena_new();
    struct error error = {0};
    struct freetext load = {0};
    const bool read = freetext_read(arena, rows[_i].said, RULES_US, &load, &error);
    ck_assert_msg(read == (rows[_i].pairs != NULL), "%s: %s", rows[_i].said, error_message(&error));
    if (read) {
        struct text pairs = {0};
        for (size_t i = 0; i < load.pair_count; i++) {
            text_printf(&pairs, "%s%s", i > 0 ? "|" : "", load.pairs[i]);
        }
        ck_assert_str_eq(text_string(&pairs), rows[_i].pairs);
        text_done(&pairs);
    } else {
        ck_assert_msg(strstr(error_message(&error), rows[_i].refused) != NULL, "%s", error_message(&error));
    }
    error_done(&error);
    arena_free(arena);
}
END_TEST

static size_t count_pairs(const struct freetext *load, const char *start)
{
    size_t count = 0;
    for (size_t i = 0; i < load->pair_count; i++) {
        count += strncmp(load->pairs[i], start, strlen(start)) == 0;
    }
    return count;
}

/* What a refusal is about: a form marks the field of that key, and where a value stands, the one that holds it. */
static const struct {
    const char *said, *key, *value;
} refused[] = {
    {"Heater, 1,500 W", "power", "1,500 W"},
    {"Heater, lots of it, 1500", "power", "1500"},
    {"Heater, 1500 W, 12 parsec", "power", "12 parsec"},
    {"Heater, 750-1500 W", "power", "750-1500 W"},
    {"Heater 1 500 W", "power", "1 500 W"},
    {"Heater, 3 hours", "power", "3 hours"},
    {"Ketle", "power", NULL}, /* it is missing */
    {"Kettle 7", "power", NULL},
    {"charger", "power", NULL},
    {", 1500 W", "name", ", 1500 W"},
    {"2 ovens 4600 W", "name", "2 ovens"},
    {"Heater 1500 W 12 A", NULL, NULL}, /* about no one of the two */
    {"Heater, 1500 W, power=12 W", NULL, NULL},
};

START_TEST(a_refusal_says_what_it_is_about)
{
    struct arena *arena = arena_new();
    struct freetext load;
    struct error error = {0};
    ck_assert(!freetext_read(arena, refused[_i].said, RULES_FIRST, &load, &error));
    ck_assert_msg(error.fault_count == 1, "%s", error_message(&error));
    ck_assert_pstr_eq(error.faults[0].section, "appliance");
    ck_assert_pstr_eq(error.faults[0].key, refused[_i].key);
    ck_assert_pstr_eq(error.faults[0].value, refused[_i].value);
    ck_assert_ptr_nonnull(strstr(error_message(&error), error.faults[0].reason));
    error_done(&error);
    arena_free(arena);
}
END_TEST

START_TEST(a_typical_row_fills_in_what_was_not_said)
{
    struct arena *arena = arena_new();
    struct error error = {0};
    struct freetext load = {0};
    ck_assert_msg(freetext_read(arena, "refrigerator, frost-free, power_factor=0.95", RULES_US, &load, &error), "%s",
                  error_message(&error));
    ck_assert_str_eq(load.name, "refrigerator, frost-free");
    ck_assert_uint_eq(count_pairs(&load, "power_factor="), 1);
    ck_assert_uint_eq(count_pairs(&load, "power_factor=0.95"), 1);
    ck_assert_uint_eq(count_pairs(&load, "behaviour=motor"), 1);
    ck_assert_uint_eq(count_pairs(&load, "power="), 1);
    ck_assert_ptr_nonnull(load.note);
    arena_free(arena);
}
END_TEST

/* A new refrigerator draws a quarter of what the old lists say: that it is listed too is said, and words take it. */
START_TEST(an_old_kind_names_the_new_one)
{
    static const struct {
        const char *said;
        const char *power;
        const char *beside; /* NULL: nothing that draws half or less */
    } kinds[] = {{"Fridge", "power=725 W", "refrigerator, made after 2000, 180 W"},
                 {"New fridge", "power=180 W", NULL},
                 {"Freezer", "power=160 W", "freezer, new, 80 W"},
                 {"Toaster", "power=1150 W", NULL}};
    for (size_t i = 0; i < sizeof kinds / sizeof kinds[0]; i++) {
        struct arena *arena = arena_new();
        struct error error = {0};
        struct freetext load = {0};
        ck_assert_msg(freetext_read(arena, kinds[i].said, RULES_US, &load, &error), "%s", error_message(&error));
        ck_assert_uint_eq(count_pairs(&load, kinds[i].power), 1);
        ck_assert_msg((strstr(load.note, "listed too") != NULL) == (kinds[i].beside != NULL), "%s", load.note);
        ck_assert(kinds[i].beside == NULL || strstr(load.note, kinds[i].beside) != NULL);
        arena_free(arena);
    }
}
END_TEST

/* L14: the plate replaces only what it says; what was taken is said. */
static const struct {
    const char *said;
    const char *pairs; /* all but the name, in order */
    bool noted;
    bool ordinary;
} plates[] = {
    {"Fridge, 400 W", "power=400 W behaviour=motor power_factor=0.8 category=refrigeration typical_hours=8 h", true,
     false},
    {"Fridges, 3.5 A", "current=3.5 A behaviour=motor power_factor=0.8 category=refrigeration typical_hours=8 h", true,
     false},
    {"fridge, 400 W, power_factor=0.95",
     "power=400 W power_factor=0.95 behaviour=motor category=refrigeration typical_hours=8 h", true, false},
    {"Fridge, 30 ohm", "resistance=30 ohm category=refrigeration typical_hours=8 h", true, false},
    {"Fridge, 1/4 hp", "horsepower=1/4 hp power_factor=0.8 category=refrigeration typical_hours=8 h", true, false},
    {"Fridge, 400 W, category=other", "power=400 W category=other behaviour=motor power_factor=0.8 typical_hours=8 h",
     true, false},
    {"Oven, 3.5 kW", "power=3.5 kW rated_voltage=240 V category=cooking typical_hours=0.43 h", true, false},
    {"Oven, 1200 W", "power=1200 W category=cooking typical_hours=0.43 h", true, false},
    {"Level 2 charger 40A", "current=40 A rated_voltage=240 V behaviour=electronic category=vehicle", true, false},
    {"water heater 4500W", "power=4500W rated_voltage=240 V category=water-heating typical_hours=3 h", true, false},
    {"clothes dryer, 5 kW", "power=5 kW rated_voltage=240 V category=dryer typical_hours=0.53 h", true, false},
    {"EV charger, 40 A", "current=40 A rated_voltage=240 V behaviour=electronic category=vehicle", true, false},
    {"Heat pump, 3 kW",
     "power=3 kW category=heat-pump rated_voltage=240 V behaviour=motor power_factor=0.8 typical_hours=8 h", true,
     false},
    {"Oxygen concentrator, 350 W", "power=350 W category=medical", true, false},
    {"Genset, 3 kW", "power=3 kW category=generator", true, false},
    {"Old fridge in the shed, 400 W", "power=400 W", false, true},
    {"LED lamp, 60 W", "power=60 W category=lighting", true, false},
    {"Widget, 100 W", "power=100 W", false, true},
};

START_TEST(a_plate_beside_a_known_name_keeps_the_rest)
{
    struct arena *arena = arena_new();
    struct error error = {0};
    struct freetext load = {0};
    struct text pairs = {0};
    ck_assert_msg(freetext_read(arena, plates[_i].said, RULES_US, &load, &error), "%s", error_message(&error));
    for (size_t i = 0; i + 1 < load.pair_count; i++) {
        text_printf(&pairs, "%s%s", i == 0 ? "" : " ", load.pairs[i]);
    }
    ck_assert_str_eq(text_string(&pairs), plates[_i].pairs);
    ck_assert_msg((load.note != NULL) == plates[_i].noted, "%s: %s", plates[_i].said, load.note);
    ck_assert(load.ordinary == plates[_i].ordinary);
    ck_assert(load.note == NULL || strstr(load.note, "the rating is yours") != NULL);
    text_done(&pairs);
    arena_free(arena);
}
END_TEST

/* A cooker is no slow cooker (75 W), a fan no fan heater nor a furnace's, a hob not one ring of it. */
START_TEST(a_bare_name_takes_the_rating_of_its_own_kind)
{
    static const struct {
        const char *said;
        int rules;
        const char *power;   /* NULL: refused */
        const char *message; /* of a refusal; what is said to be nearest is of that kind */
        const char *never;
    } cases[] = {
        {"cooker", RULES_UK, "power=12200 W", NULL, NULL},
        {"slow cooker", RULES_UK, "power=75 W", NULL, NULL},
        {"fan", RULES_UK, "power=180 W", NULL, NULL},
        {"Fans", RULES_US, "power=180 W", NULL, NULL},
        {"heater", RULES_US, "power=1500 W", NULL, NULL},
        {"dehumid", RULES_US, "power=480 W", NULL, NULL},
        {"level 2 charger", RULES_US, "power=7680 W", NULL, NULL},
        {"charger", RULES_US, NULL, "which? expected such as 'telephone charger' or 'vehicle charger", "nearest"},
        {"hob", RULES_UK, NULL, "no rating", "nearest"},
        {"steam iron", RULES_UK, NULL, "no rating", "nearest"},
        {"CPAP", RULES_US, NULL, "no rating", "nearest"},
        {"4x3", RULES_US, NULL, "which unit", "nearest"},
        {"kettlle", RULES_UK, NULL, "the nearest is kettle", "refrigerator"}};
    struct arena *arena = arena_new();
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct error error = {0};
        struct freetext load = {0};
        const bool read = freetext_read(arena, cases[i].said, cases[i].rules, &load, &error);
        ck_assert_msg(read == (cases[i].power != NULL), "%s: %s", cases[i].said, error_message(&error));
        if (read) {
            ck_assert_msg(count_pairs(&load, cases[i].power) == 1, "%s: %s", cases[i].said, load.note);
        } else {
            ck_assert_msg(strstr(error_message(&error), cases[i].message) != NULL, "%s", error_message(&error));
            ck_assert_msg(strstr(error_message(&error), cases[i].never) == NULL, "%s", error_message(&error));
        }
        error_done(&error);
    }
    arena_free(arena);
}
END_TEST

START_TEST(a_rating_far_below_the_usual_is_asked_about)
{
    static const struct {
        const char *said;
        bool asked;
    } cases[] = {{"portable space heater, 1.500 W", true},
                 {"portable space heater, 1.500 kW", false},
                 {"phone-charger, 3 W", false},
                 {"Gadget, 3 W", false}};
    struct arena *arena = arena_new();
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct error error = {0};
        struct freetext load = {0};
        ck_assert(freetext_read(arena, cases[i].said, RULES_US, &load, &error));
        const bool asked = load.note != NULL && strstr(load.note, "1.5 W is far below what is usual") != NULL;
        ck_assert_msg(asked == cases[i].asked, "%s: %s", cases[i].said, load.note);
    }
    arena_free(arena);
}
END_TEST

/* The document with a load on each of the branches b0, b1 .. , one after the other or all at once. */
static void written(const char *said, size_t count, bool at_once, struct text *ret_text)
{
    static const char house[] = "[house]\nname = H\nrules = us\nmain_breaker = 100\n[room r]\nname = R\n"
                                "[branch b0]\nbreaker = 20\nlegs = A\n[branch b1]\nbreaker = 20\nlegs = A\n"
                                "[branch b2]\nbreaker = 20\nlegs = A\n[outlet o]\nbranch = b1\nfrom = panel\n"
                                "[appliance lamp-2]\nname = L\nbranch = b0\npower = 5 W\n"
                                "[tariff t]\nname = T\nprice = 0.1\n";
    struct arena *arena = arena_new();
    struct error error = {0};
    struct document *document = NULL;
    struct freetext load = {0};
    ck_assert(housefile_read_bytes("h", house, strlen(house), &document, &error));
    ck_assert(freetext_read(arena, said, RULES_US, &load, &error));
    const struct freetext_place places[] = {{"b0", NULL, "r"}, {NULL, "o", NULL}, {"b2", NULL, NULL}};
    if (at_once) {
        ck_assert(freetext_add_each(document, &load, places, count, &error));
    }
    for (size_t i = 0; i < count && !at_once; i++) {
        const char *id = NULL;
        ck_assert(freetext_add(document, &load, places[i].branch, places[i].outlet, places[i].room, &id, &error));
    }
    document_write(document, ret_text);
    document_free(document);
    arena_free(arena);
}

START_TEST(all_at_once_is_one_after_the_other)
{
    static const char *const said[] = {"Lamp, 500 W", "2x Heater, 1500 W, 240 V, use=07:00-08:00", "kettle"};
    for (size_t i = 0; i < sizeof said / sizeof said[0]; i++) {
        for (size_t count = 0; count <= 3; count++) {
            struct text each = {0};
            struct text all = {0};
            written(said[i], count, false, &each);
            written(said[i], count, true, &all);
            ck_assert_str_eq(text_string(&all), text_string(&each));
            text_done(&each);
            text_done(&all);
        }
    }
}
END_TEST

Suite *make_suite(void)
{
    Suite *suite = suite_create("freetext");
    TCase *tcase = tcase_create("freetext");
    tcase_add_loop_test(tcase, words_become_keys, 0, (int)(sizeof rows / sizeof rows[0]));
    tcase_add_loop_test(tcase, a_refusal_says_what_it_is_about, 0, (int)(sizeof refused / sizeof refused[0]));
    tcase_add_test(tcase, a_typical_row_fills_in_what_was_not_said);
    tcase_add_test(tcase, an_old_kind_names_the_new_one);
    tcase_add_loop_test(tcase, a_plate_beside_a_known_name_keeps_the_rest, 0, (int)(sizeof plates / sizeof plates[0]));
    tcase_add_test(tcase, all_at_once_is_one_after_the_other);
    tcase_add_test(tcase, a_rating_far_below_the_usual_is_asked_about);
    tcase_add_test(tcase, a_bare_name_takes_the_rating_of_its_own_kind);
    suite_add_tcase(suite, tcase);
    return suite;
}
