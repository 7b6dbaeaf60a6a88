/* Words in the names of loads and rooms, protection by room, cautions, editions. */
#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

#include "ampsum/reference.h"
#include "runner.h"

#define ROWS(table) ((int)(sizeof(table) / sizeof((table)[0])))

static const struct {
    const char *text;
    const char *category; /* NULL: no word tells */
} category_rows[] = {
    {"EV charger", "vehicle"},
    {"Garage EV-Chargers, 2 of them", "vehicle"},
    {"evse1", "vehicle"},
    {"Phone charger", NULL},
    {"charger", NULL},
    {"Never", NULL},
    {"Wallbox", "vehicle"},
    {"Wallboxes", "vehicle"},
    {"charge_points", "vehicle"},
    {"Heat pump", "heat-pump"},
    {"HEAT  PUMPS", "heat-pump"},
    {"heat and pump", NULL},
    {"Pool heat pump", "heat-pump"},
    {"pool pump", "pool"},
    {"Hot tub", "pool"},
    {"Spare room lamp", NULL},
    {"W\xc3\xa4rmepumpe", "heat-pump"},
    {"W\xc3\x84RMEPUMPE", "heat-pump"},
    {"Electric cooker", "cooking"},
    {"Stoves", "cooking"},
    {"Range", "range"},
    {"Orange lamp", NULL},
    {"Slow cooker", NULL},
    {"Range hood", NULL},
    {"Microwave oven", NULL},
    {"Wall oven", "cooking"},
    {"Oxygen concentrator", "medical"},
    {"CPAP", "medical"},
    {"Genset", "generator"},
    {"Solar panels", "generator"},
    {"Home battery", "generator"},
    {"battery", NULL},
    {"Inverter cooler", NULL},
    {"Solar pump", NULL},
    {"Dishwasher", NULL},
    {"", NULL},
    {"123", NULL},
};

START_TEST(category_by_the_words_of_a_name)
{
    const struct ref_word *row = reference_word("us", category_rows[_i].text, REFERENCE_WORD_CATEGORY);
    const char *got = row != NULL ? row->category : "none";
    const char *want = category_rows[_i].category != NULL ? category_rows[_i].category : "none";
    ck_assert_msg(strcmp(got, want) == 0, "'%s': got %s, want %s", category_rows[_i].text, got, want);
}
END_TEST

/* A name made of words of the table, some with a plural's ending or run into another. */
static void made_name(uint64_t *state, char ret[400])
{
    static const char *const between[] = {" ", "-", ", 2 ", "s ", "es/", "", "x"};
    ret[0] = '\0';
    size_t length = 0;
    for (int i = 0; i < 3; i++) {
        *state = *state * UINT64_C(6364136223846793005) + 1442695040888963407U;
        const char *word = ref_word_rows[(*state >> 40) % ref_word_count].word;
        const char *gap = between[(*state >> 20) % ROWS(between)];
        length += (size_t)snprintf(ret + length, 400 - length, "%s%s", word, gap);
        for (size_t k = 0; (*state >> 30 & 3) == 0 && k < length; k++) {
            ret[k] = (char)(ret[k] >= 'a' && ret[k] <= 'z' ? ret[k] - 'a' + 'A' : ret[k]);
        }
    }
}

/* The first row of the table that calls for a caution and stands in the text, one row after the other. */
static const struct ref_word *first_caution(const char *text, const char *caution)
{
    for (size_t i = 0; i < ref_word_count; i++) {
        const struct ref_word *row = &ref_word_rows[i];
        const bool of = strcmp(row->rules, "*") == 0 || strcmp(row->rules, "uk") == 0;
        const bool meant = row->caution != NULL && (caution == NULL || strcmp(row->caution, caution) == 0);
        if (of && meant && reference_word_in(row->word, text)) {
            return row;
        }
    }
    return NULL;
}

static size_t blanks_in(const char *word)
{
    size_t count = 0;
    for (; *word != '\0'; word++) {
        count += *word == ' ';
    }
    return count;
}

/* Some row stands in the text that tells as much and has more words, where none of the text's words tells nothing. */
static bool has_better(const char *text, const struct ref_word *than)
{
    bool better = false;
    for (size_t i = 0; i < ref_word_count; i++) {
        const struct ref_word *row = &ref_word_rows[i];
        const bool of = strcmp(row->rules, "*") == 0 || strcmp(row->rules, "uk") == 0;
        const bool in = reference_word_in(row->word, text);
        if (in && row->category == NULL && row->thing == NULL && row->caution == NULL) {
            return false;
        }
        better = better ||
                 (in && of && row->category != NULL && (than == NULL || blanks_in(row->word) > blanks_in(than->word)));
    }
    return better;
}

START_TEST(a_walk_over_the_text_finds_what_the_rows_find)
{
    uint64_t state = 7;
    size_t found = 0;
    for (int round = 0; round < 5000; round++) {
        char name[400];
        made_name(&state, name);
        const struct ref_word *water = reference_word_caution("uk", name, "water");
        ck_assert_msg(water == first_caution(name, "water"), "%s", name);
        ck_assert_msg(reference_word_caution("uk", name, NULL) == first_caution(name, NULL), "%s", name);
        const struct ref_word *row = reference_word("uk", name, REFERENCE_WORD_CATEGORY);
        ck_assert_msg(row == NULL || (row->category != NULL && reference_word_in(row->word, name)), "%s", name);
        ck_assert_msg(!has_better(name, row), "%s", name);
        found += water != NULL && row != NULL;
    }
    ck_assert_uint_gt(found, 100);
}
END_TEST

static const struct {
    const char *text;
    const char *thing; /* NULL: none */
} thing_rows[] = {
    {"Induction hob", "cooktop"},
    {"Gas range with electric oven", "oven"},
    {"stove", "range"},
    {"Tankless water heater", "instant-heater"},
    {"Shower", "instant-heater"},
    {"Water heater", NULL},
    {"Sump pump", "sump-pump"},
    {"Boiler pump", "heating-pump"},
    {"whirlpool", "hot-tub"},
    {"Pool pump", "pool-pump"},
    {"Dishwasher, 1.2 kW", "dishwasher"},
    {"Rice cooker", NULL},
};

START_TEST(thing_by_the_words_of_a_name)
{
    const struct ref_word *row = reference_word("uk", thing_rows[_i].text, REFERENCE_WORD_THING);
    const char *got = row != NULL ? row->thing : "none";
    const char *want = thing_rows[_i].thing != NULL ? thing_rows[_i].thing : "none";
    ck_assert_msg(strcmp(got, want) == 0, "'%s': got %s, want %s", thing_rows[_i].text, got, want);
}
END_TEST

START_TEST(cautions_by_word_and_case)
{
    ck_assert_ptr_nonnull(reference_word_caution("us", "Hot tub heat pump", "water"));
    ck_assert_ptr_nonnull(reference_word_caution("iec", "Oxygen concentrator", "medical"));
    ck_assert_ptr_null(reference_word_caution("iec", "Oxygen concentrator", "water"));
    ck_assert_ptr_null(reference_word_caution("us", "Kettle", "medical"));
    for (size_t i = 0; i < ref_word_count; i++) { /* every case that a word calls for has its text */
        ck_assert(ref_word_rows[i].caution == NULL || reference_caution(ref_word_rows[i].caution, "iec") != NULL);
    }
    ck_assert_str_eq(reference_caution("danger", "us")->rules, "us");
    ck_assert_str_eq(reference_caution("danger", "uk")->rules, "*");
    ck_assert_ptr_null(reference_caution("rain", "us"));
}
END_TEST

static const struct {
    const char *text;
    const char *kind; /* NULL: none */
} room_rows[] = {
    {"bath-1", "bath"},
    {"Master bathroom", "bath"},
    {"Living room", "living"},
    {"living_room", "living"},
    {"Den", "living"},
    {"Garden", "outdoors"},
    {"hardened", NULL},
    {"Crawl space", "crawl-space"},
    {"crawl-space", "crawl-space"},
    {"K\xc3\xbc"
     "che",
     "kitchen"},
    {"Basement laundry", "laundry"},
    {"Bedroom 2", "bedroom"},
    {"bedroom2", "bedroom"},
    {"Pool", "pool"},
    {"Room 7", NULL},
    {"", NULL},
};

START_TEST(kind_of_a_room_by_its_words)
{
    const struct ref_room_word *row = reference_room_word(room_rows[_i].text);
    const char *got = row != NULL ? row->kind : "none";
    const char *want = room_rows[_i].kind != NULL ? room_rows[_i].kind : "none";
    ck_assert_msg(strcmp(got, want) == 0, "'%s': got %s, want %s", room_rows[_i].text, got, want);
}
END_TEST

static const struct {
    struct reference_place place;
    int since; /* 0: not usual there */
    const char *clause;
} place_rows[] = {
    {{"us", "gfci", "garage", "receptacle", 120, 20, 2017}, 1978, "210.8(A)(2)"},
    {{"us", "gfci", "garage", "receptacle", 240, 20, 2017}, 0, ""},
    {{"us", "gfci", "garage", "receptacle", 240, 20, 2020}, 2020, "210.8(A)(2)"},
    {{"us", "gfci", "bath", "receptacle", 120, 20, 2023}, 1975, "210.8(A)(1)"},
    {{"us", "gfci", "laundry", "receptacle", 120, 20, 2020}, 2014, "210.8(A)(10)"},
    {{"us", "gfci", "laundry", "receptacle", 120, 20, 2023}, 2014, "210.8(A)(11)"},
    {{"us", "gfci", "kitchen", "counter", 120, 20, 2017}, 1996, "210.8(A)(6)"},
    {{"us", "gfci", "kitchen", "receptacle", 120, 20, 2020}, 0, ""},
    {{"us", "gfci", "kitchen", "receptacle", 120, 20, 2023}, 2023, "210.8(A)(6)"},
    {{"us", "gfci", "garage", "hard-wired", 240, 50, 2020}, 0, ""},
    {{"us", "gfci", "garage", "hard-wired", 240, 50, 2023}, 2023, "210.8(F)"},
    {{"us", "gfci", "garage", "hard-wired", 240, 60, 2023}, 0, ""},
    {{"us", "gfci", "outdoors", "hard-wired", 240, 50, 2020}, 2020, "210.8(F)"},
    {{"us", "gfci", "other", "hot-tub", 240, 50, 2023}, 1978, "680.44"},
    {{"us", "gfci", "other", "charging-receptacle", 240, 50, 2023}, 2017, "625.54"},
    {{"us", "gfci", "other", "vehicle", 240, 50, 2023}, 0, ""},
    {{"us", "afci", "bedroom", "outlet", 120, 15, 2023}, 2002, "210.12"},
    {{"us", "afci", "bath", "outlet", 120, 20, 2023}, 0, ""},
    {{"us", "afci", "living", "outlet", 240, 20, 2023}, 0, ""},
    {{"uk", "rcd", "bath", "outlet", 230, 40, 2018}, 2008, "701.411.3.3"},
    {{"uk", "rcd", "kitchen", "receptacle", 230, 32, 2018}, 2018, "411.3.3"},
    {{"uk", "rcd", "kitchen", "receptacle", 230, 20, 2018}, 2008, "411.3.3"},
    {{"uk", "rcd", "kitchen", "receptacle", 230, 40, 2018}, 0, ""},
    {{"uk", "rcd", "hall", "lighting", 230, 6, 2018}, 2018, "411.3.4"},
    {{"iec", "rcd", "bath", "outlet", 230, 16, 2018}, 2006, "701.415.1"},
    {{"iec", "gfci", "bath", "outlet", 230, 16, 2018}, 0, ""},
};

START_TEST(protection_by_room_and_what_is_connected)
{
    const struct ref_room_protection *row = reference_room_protection(&place_rows[_i].place);
    ck_assert_int_eq(row != NULL ? row->since : 0, place_rows[_i].since);
    ck_assert_str_eq(row != NULL ? row->clause : "", place_rows[_i].clause);
}
END_TEST

START_TEST(clauses_move_with_the_edition)
{
    /* 2020 and 2023 changes, trade press */
    ck_assert_str_eq(reference_section("us", "ampacity", 2017)->clause, "Table 310.15(B)(16)");
    ck_assert_str_eq(reference_section("us", "ampacity", 2020)->clause, "Table 310.16");
    ck_assert_str_eq(reference_section("us", "floor-area", 2017)->clause, "220.12");
    ck_assert_str_eq(reference_section("us", "floor-area", 2026)->clause, "220.41");
    ck_assert_str_eq(reference_section("us", "lighting-demand", 2023)->clause, "Table 220.45");
    ck_assert_ptr_null(reference_section("us", "vehicle-demand", 2017)->clause);
    ck_assert_str_eq(reference_section("us", "vehicle-demand", 2023)->clause, "220.57");
    ck_assert_ptr_null(reference_section("us", "no-such-rule", 2023));
    ck_assert_ptr_null(reference_section("uk", "ampacity", 2023));
}
END_TEST

static const struct {
    const char *word;
    const char *rules;
    const char *first; /* ID of the first row; NULL: none, or only near */
} typical_rows[] = {
    {"AC", "us", "air-conditioner-window"},
    {"ac", "uk", "air-conditioner-split"},
    {"Electric stove", "us", "range"},
    {"electric stoves", "us", "range"},
    {"Electric stove", "uk", NULL},
    {"floor lamps", "us", "lamp-60"},
    {"EV charger", "us", "vehicle-charger-32"},
    {"EV charger", "uk", "vehicle-charger-32"},
    {"wallboxes", "iec", "vehicle-charger-32"},
    {"heat pump", "us", "heat-pump-heating"},
    {"oven", "us", "oven"},
    {"fax", "us", "fax"},
    {"vacu", "us", "vacuum-cleaner"},
    {"va", "us", NULL},
    {"cuum", "us", NULL},
};

START_TEST(typical_ratings_by_whole_words_and_other_names)
{
    const struct ref_typical *row = NULL;
    bool near = false;
    size_t count = reference_typical_find(typical_rows[_i].word, typical_rows[_i].rules, &row, 1, &near);
    const char *got = count == 1 && !near ? row->id : "none";
    const char *want = typical_rows[_i].first != NULL ? typical_rows[_i].first : "none";
    ck_assert_msg(strcmp(got, want) == 0, "'%s': got %s, want %s", typical_rows[_i].word, got, want);
}
END_TEST

START_TEST(every_other_name_finds_its_row_first)
{
    for (size_t i = 0; i < ref_typical_name_count; i++) {
        const struct ref_typical_name *name = &ref_typical_name_rows[i];
        const struct ref_typical *row = NULL;
        bool near = true;
        ck_assert_uint_eq(reference_typical_find(name->name, name->rules, &row, 1, &near), 1);
        ck_assert(!near);
        ck_assert_msg(strcmp(row->id, name->id) == 0, "%s %s: got %s, want %s", name->rules, name->name, row->id,
                      name->id);
    }
}
END_TEST

static const struct {
    double plates_va;
    double want_va;
} range_rows[] = {
    /* Table 220.55 with notes: trade forum cases (6.6 + 7.45 kW, 12 kW, 7.2 + 8.75 kW, 14 kW, 16 kW) */
    {14050, 8800}, {12000, 8000}, {15950, 9600},  {14000, 8800},  {16000, 9600}, {8750, 7000}, {8751, 8000},
    {12499, 8000}, {12500, 8400}, {27000, 14000}, {27001, 27001}, {0, 0},        {5000, 4000},
};

START_TEST(cooking_on_one_branch)
{
    ck_assert_double_eq_tol(reference_range_demand_va("us", range_rows[_i].plates_va), range_rows[_i].want_va, 1e-9);
    ck_assert(isnan(reference_range_demand_va("uk", range_rows[_i].plates_va)));
}
END_TEST

START_TEST(cooker_allowances)
{
    /* a college page (12 kW at 240 V), two trade forums */
    ck_assert_double_eq_tol(reference_cooker_allowance_a("uk", 50, false), 22, 1e-9);
    ck_assert_double_eq_tol(reference_cooker_allowance_a("uk", 50, true), 27, 1e-9);
    ck_assert_double_eq_tol(reference_cooker_allowance_a("uk", 9400.0 / 230, false), 19.26, 0.005);
    ck_assert_double_eq_tol(reference_cooker_allowance_a("uk", 5800.0 / 240, true), 19.25, 0.005);
    ck_assert_double_eq_tol(reference_cooker_allowance_a("iec", 6000.0 / 230, false), 14.83, 0.005);
    ck_assert_double_eq(reference_cooker_allowance_a("uk", 8, false), 8);
    ck_assert(isnan(reference_cooker_allowance_a("us", 50, false)));
}
END_TEST

START_TEST(fuses_are_no_breakers)
{
    /* 0.725: Whitfield 4.3.8; 1.6 times the rating: trade journal; UL 248-14 */
    ck_assert_double_eq(reference_fuse("uk", "bs3036")->most_share, 0.725);
    ck_assert_double_eq(reference_fuse("iec", "gG")->note_share, 0.9);
    ck_assert_ptr_null(reference_fuse("uk", "B"));
    ck_assert_ptr_null(reference_fuse("iec", "bs88"));
    ck_assert_str_eq(reference_trip_text("iec", "gG", 16, 1.2, NULL), "none expected");
    ck_assert_str_eq(reference_trip_text("iec", "gG", 16, 1.5, NULL), "may trip");
    ck_assert_str_eq(reference_trip_text("iec", "gG", 16, 1.6, NULL), "within 1 h");
    ck_assert_str_eq(reference_trip_text("iec", "gG", 80, 3, NULL), "within 2 h");
    ck_assert_str_eq(reference_trip_text("uk", "bs3036", 30, 1.9, NULL), "may trip");
    ck_assert_str_eq(reference_trip_text("us", "fuse", 20, 1.35, NULL), "within 1 h");
    ck_assert_str_eq(reference_trip_text("us", "fuse", 20, 2, NULL), "within 2 min");
    ck_assert_str_eq(reference_trip_text("us", "fuse", 60, 2, NULL), "within 4 min");
    ck_assert_str_eq(reference_trip_text("us", "fuse", 15, 1, NULL), "none expected");
}
END_TEST

START_TEST(devices_of_motors_receptacles_harmonics)
{
    /* Table 430.52, 440.22(A); Table 210.21(B)(3) of 2020 and 2023; Annex E */
    ck_assert_double_eq(reference_motor_breaker("us", "motor", "breaker")->warning_times, 2.5);
    ck_assert_double_eq(reference_motor_breaker("us", "motor", "fuse")->warning_times, 3);
    ck_assert_double_eq(reference_motor_breaker("us", "cooling", "breaker")->note_times, 1.75);
    ck_assert_ptr_null(reference_motor_breaker("uk", "motor", "breaker"));
    ck_assert_double_eq(reference_receptacle_rating("us", 15, 2020)->most_a, 15);
    ck_assert(isnan(reference_receptacle_rating("us", 15, 2023)->most_a));
    ck_assert_double_eq(reference_receptacle_rating("us", 30, 2026)->least_a, 30);
    ck_assert_ptr_null(reference_receptacle_rating("us", 25, 2023));
    ck_assert_double_eq(reference_harmonic("iec", 0)->factor, 1);
    ck_assert_double_eq(reference_harmonic("uk", 20)->factor, 0.86);
    ck_assert_int_eq(reference_harmonic("uk", 33)->by_neutral, 0);
    ck_assert_int_eq(reference_harmonic("iec", 40)->by_neutral, 1);
    ck_assert_double_eq(reference_harmonic("iec", 50)->factor, 1);
    ck_assert_ptr_null(reference_harmonic("us", 20));
}
END_TEST

START_TEST(wires_of_the_summary_carry_their_branch)
{
    for (size_t i = 0; i < ref_branch_wire_count; i++) {
        const struct ref_branch_wire *row = &ref_branch_wire_rows[i];
        ck_assert_double_ge(reference_ampacity_us_a("us", row->size, "copper", 60, NULL), row->circuit_a);
        ck_assert_double_eq(row->max_load_a, row->circuit_a);
        ck_assert_ptr_nonnull(reference_receptacle_rating("us", row->circuit_a, 2017));
    }
}
END_TEST

/* Article 100 and common practice alike: three hours; the near share is 80 % everywhere. */
START_TEST(figures_of_rules_stand_in_words)
{
    static const struct {
        const char *words;
        const char *rules;
        const char *want;
    } rows[] = {
        {"may run {continuous-hours} h or more", "us", "may run 3 h or more"},
        {"may run {continuous-hours} h or more", NULL, "may run 3 h or more"},
        {"{near-share} % and {no-such-rule}.", "iec", "80 % and ."},
        {"supply {supply-under} %", NULL, "supply 5 to 10 %"},
        {"no figure", "uk", "no figure"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct text text = {0};
        reference_fill(&text, rows[i].words, rows[i].rules);
        ck_assert_str_eq(text_string(&text), rows[i].want);
        text_done(&text);
    }
}
END_TEST

static void says_resistor(const struct ref_rule_set *set, const void *context, struct text *text)
{
    text_add(text, strcmp(set->resistor, context) == 0 ? context : "");
}

static void says_all(const struct ref_rule_set *set, const void *context, struct text *text)
{
    (void)set;
    text_add(text, context);
}

/* Sets that have the same stand together, in the order of their rows; what all have needs no set before it. */
START_TEST(rule_sets_are_told_apart_by_their_rows)
{
    static const struct {
        const char *words;
        const char *want;
    } rows[] = {
        {"size ({by-paper})", "size (us letter; iec, uk a4)"},
        {"{by-length}", "us ft; iec, uk m"},
        {"{by-currency}", "us USD; iec EUR; uk GBP"},
        {"{by-voltage}", "us 120 V; iec, uk 230 V"},
        {"{by-frequency}", "us 60 Hz; iec, uk 50 Hz"},
        {"{by-contacts}", "us 2 on a branch to 20 A; uk 2; otherwise 1"},
        {"{by-interval}", "us 15 minutes; iec, uk 30 minutes"},
        {"--rules {sets} ({first-set})", "--rules us|iec|uk (us)"},
    };
    struct text text = {0};
    for (size_t i = 0; i < ROWS(rows); i++) {
        text_clear(&text);
        reference_fill(&text, rows[i].words, NULL);
        ck_assert_str_eq(text_string(&text), rows[i].want);
    }
    text_clear(&text);
    reference_by_set(&text, says_resistor, "zigzag", "a rectangle");
    ck_assert_str_eq(text_string(&text), "us zigzag; otherwise a rectangle");
    text_clear(&text);
    reference_by_set(&text, says_all, "the same", NULL);
    ck_assert_str_eq(text_string(&text), "the same");
    text_clear(&text);
    reference_by_set(&text, says_all, "", "nothing");
    ck_assert_str_eq(text_string(&text), "nothing");
    text_done(&text);
}
END_TEST

START_TEST(who_knows_a_key_is_said)
{
    struct text text = {0};
    ck_assert(!reference_key_is_partial("wire") && !reference_key_is_partial("system"));
    ck_assert(reference_key_is_partial("ze") && reference_key_is_partial("cable"));
    reference_key_knowing(&text, "ze", NULL);
    text_add(&text, " / ");
    reference_key_knowing(&text, "trip", "bs88");
    ck_assert_str_eq(text_string(&text), "iec, uk / uk");
    text_done(&text);
}
END_TEST

Suite *make_suite(void)
{
    Suite *suite = suite_create("reference_words");
    TCase *tcase = tcase_create("reference_words");
    tcase_add_loop_test(tcase, category_by_the_words_of_a_name, 0, ROWS(category_rows));
    tcase_add_test(tcase, a_walk_over_the_text_finds_what_the_rows_find);
    tcase_add_loop_test(tcase, thing_by_the_words_of_a_name, 0, ROWS(thing_rows));
    tcase_add_test(tcase, cautions_by_word_and_case);
    tcase_add_loop_test(tcase, kind_of_a_room_by_its_words, 0, ROWS(room_rows));
    tcase_add_loop_test(tcase, protection_by_room_and_what_is_connected, 0, ROWS(place_rows));
    tcase_add_test(tcase, clauses_move_with_the_edition);
    tcase_add_test(tcase, figures_of_rules_stand_in_words);
    tcase_add_test(tcase, rule_sets_are_told_apart_by_their_rows);
    tcase_add_test(tcase, who_knows_a_key_is_said);
    tcase_add_loop_test(tcase, typical_ratings_by_whole_words_and_other_names, 0, ROWS(typical_rows));
    tcase_add_test(tcase, every_other_name_finds_its_row_first);
    tcase_add_loop_test(tcase, cooking_on_one_branch, 0, ROWS(range_rows));
    tcase_add_test(tcase, cooker_allowances);
    tcase_add_test(tcase, fuses_are_no_breakers);
    tcase_add_test(tcase, devices_of_motors_receptacles_harmonics);
    tcase_add_test(tcase, wires_of_the_summary_carry_their_branch);
    suite_add_tcase(suite, tcase);
    return suite;
}
