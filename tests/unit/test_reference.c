/* The published tables: devices, rules, demand, money, typical ratings, sources. */
#include <ctype.h>
#include <math.h>
#include <string.h>

#include "ampsum/reference.h"
#include "rule_sets.h"
#include "runner.h"

#define ROWS(table) ((int)(sizeof(table) / sizeof(table)[0]))

/* ------------------------------------------------------------------ rule sets ----------------------------- */

/* Contract of the house file, [house] and [branch]: the defaults of each rule set. */
static const struct {
    const char *id;
    int index;
    const char *system;
    int frequency_hz;
    const char *currency;
    const char *length_unit;
    const char *trip;
    const char *method;
    const char *demand;
} set_rows[] = {{"us", RULES_US, "split-phase", 60, "USD", "ft", "inverse-time", "", "standard"},
                {"iec", RULES_IEC, "single-phase", 50, "EUR", "m", "B", "B2", "diversity"},
                {"uk", RULES_UK, "single-phase", 50, "GBP", "m", "B", "C", "diversity"}};

/* ------------------------------------------------------------------ rows found by halving ----------------- */

/* Every row once, in the order of its word, rows of one word as they stand in the table. */
static void check_order(const char *table, const unsigned short *rows, size_t count, const void *column, size_t stride)
{
    static bool seen[4096];
    memset(seen, 0, sizeof seen);
    ck_assert_uint_le(count, sizeof seen);
    const char *before = "";
    for (size_t i = 0; i < count; i++) {
        ck_assert_msg(rows[i] < count && !seen[rows[i]], "%s: row %d", table, rows[i]);
        seen[rows[i]] = true;
        const char *word = *(const char *const *)(const void *)((const char *)column + rows[i] * stride);
        const int order = strcmp(before, word);
        ck_assert_msg(order < 0 || (order == 0 && (i == 0 || rows[i - 1] < rows[i])), "%s: %s, %s", table, before,
                      word);
        before = word;
    }
}

#define CHECK_ORDER(table, by)                                                                                         \
    check_order(#table, table##_by_##by, table##_count, &table##_rows[0].by, sizeof table##_rows[0])

START_TEST(orders_hold_every_row)
{
    CHECK_ORDER(ref_rule, id);
    CHECK_ORDER(ref_finding, id);
    CHECK_ORDER(ref_room_protection, what);
    CHECK_ORDER(ref_conductor, size);
    CHECK_ORDER(ref_currency, code);
    CHECK_ORDER(ref_ampacity_us, size);
    CHECK_ORDER(ref_word, word);
    CHECK_ORDER(ref_room_word, word);
}
END_TEST

/* Each row by its key; what no row has, before, between and behind them, is not found. */
START_TEST(every_row_is_found_by_its_key)
{
    for (size_t i = 0; i < ref_rule_count; i++) {
        const struct ref_rule *row = &ref_rule_rows[i];
        ck_assert_ptr_eq(reference_rule(row->id, row->rules), row);
    }
    for (size_t i = 0; i < ref_finding_count; i++) {
        const struct ref_finding *row = &ref_finding_rows[i];
        ck_assert_ptr_eq(reference_finding_variant(row->id, row->rules, row->variant), row);
    }
    for (size_t i = 0; i < ref_conductor_count; i++) {
        const struct ref_conductor *row = &ref_conductor_rows[i];
        ck_assert_ptr_eq(reference_conductor(row->size, row->metal), row);
    }
    for (size_t i = 0; i < ref_currency_count; i++) {
        ck_assert_ptr_eq(reference_currency(ref_currency_rows[i].code), &ref_currency_rows[i]);
    }
    static const char *const none[] = {"", "!", "m", "near-shar", "near-share ", "~"};
    for (size_t i = 0; i < ROWS(none); i++) {
        ck_assert_ptr_null(reference_rule(none[i], "us"));
        ck_assert_ptr_null(reference_finding(none[i], "us"));
        ck_assert_ptr_null(reference_conductor(none[i], "copper"));
        ck_assert_ptr_null(reference_currency(none[i]));
    }
    ck_assert_ptr_null(reference_conductor("14 AWG", "silver"));
    ck_assert_ptr_eq(reference_conductor("14AWG", "copper"), reference_conductor("14 AWG", "copper"));
}
END_TEST

static const char *usual_or_none(const char *rules, const char *key)
{
    const char *word = reference_choice_usual(rules, key);
    return word == NULL ? "" : word;
}

START_TEST(rule_sets_have_the_defaults_of_the_house_file)
{
    const char *id = set_rows[_i].id;
    const struct ref_rule_set *set = reference_rule_set(id);
    ck_assert_int_eq(reference_rule_set_index(id), set_rows[_i].index);
    ck_assert_ptr_eq(set, reference_rule_set_at(set_rows[_i].index));
    ck_assert_int_eq(set->frequency_hz, set_rows[_i].frequency_hz);
    ck_assert_str_eq(set->currency, set_rows[_i].currency);
    ck_assert_str_eq(set->length_unit, set_rows[_i].length_unit);
    ck_assert_str_eq(usual_or_none(id, "system"), set_rows[_i].system);
    ck_assert_str_eq(usual_or_none(id, "trip"), set_rows[_i].trip);
    ck_assert_str_eq(usual_or_none(id, "method"), set_rows[_i].method);
    ck_assert_str_eq(usual_or_none(id, "demand"), set_rows[_i].demand);
}
END_TEST

START_TEST(what_is_no_rule_set_has_no_row)
{
    ck_assert_int_eq(reference_rule_set_index("US"), -1);
    ck_assert_ptr_null(reference_rule_set(""));
    ck_assert_ptr_null(reference_rule_set_at(-1));
    ck_assert_ptr_null(reference_rule_set_at((int)ref_rule_set_count));
    ck_assert(!reference_finds(NULL, "by-use") && !reference_finds("by", "by-use"));
}
END_TEST

/* A 100 A switch of a British house protects nothing: it is no main breaker (limits of a branch, United Kingdom). */
START_TEST(british_houses_have_no_main_breaker)
{
    ck_assert_str_eq(reference_rule_set("us")->main_device, "main breaker");
    ck_assert_ptr_null(strstr(reference_rule_set("uk")->main_device, "breaker"));
}
END_TEST

START_TEST(words_of_a_rule_set_are_listed_for_messages)
{
    struct text text = {0};
    reference_choice_list(&text, "iec", "trip");
    text_add_char(&text, ';');
    reference_choice_list(&text, "us", "trip");
    text_add_char(&text, ';');
    reference_choice_list(&text, "us", "insulation");
    text_add_char(&text, ';');
    reference_rule_set_list(&text);
    ck_assert_str_eq(text_string(&text), "B, C, D or gG;inverse-time or fuse;;us, iec or uk");
    text_done(&text);
    ck_assert(reference_choice_known("uk", "trip", "D") && !reference_choice_known("uk", "trip", "inverse-time"));
}
END_TEST

/* ------------------------------------------------------------------ devices ------------------------------- */

static const struct {
    const char *rules;
    double current_a;
    double want_a;
} size_up_rows[] = {
    {"us", 0, 15},     {"us", 15, 15},   {"us", 15.01, 20},
    {"us", 52, 60},    {"us", 55, 60},   {"us", 600.5, 700},
    {"us", 6001, NAN}, {"iec", 26, 32},  {"iec", 16 * (1 + 5e-10), 16},
    {"uk", 16.1, 20},  {"uk", 126, NAN},
};

START_TEST(next_standard_size_is_at_least_the_current)
{
    double got_a = reference_next_standard_size_a(size_up_rows[_i].rules, size_up_rows[_i].current_a, NULL);
    if (isnan(size_up_rows[_i].want_a)) {
        ck_assert(isnan(got_a));
    } else {
        ck_assert_double_eq(got_a, size_up_rows[_i].want_a);
    }
}
END_TEST

static const struct {
    const char *rules;
    const char *trip;
    double rating_a;
    double multiple;
    const char *want;
} edge_rows[] = {
    /* contract: edges count as reached within a relative 1e-9; nothing connected is "none expected" */
    {"us", "inverse-time", 20, 0, "none expected"},
    {"us", "inverse-time", 20, 1 + 5e-10, "none expected"},
    {"us", "inverse-time", 20, 1 + 2e-9, "may trip"},
    {"us", "inverse-time", 20, 1.35 * (1 - 5e-10), "within 1 h"},
    {"us", "inverse-time", 20, 1.35 * (1 - 2e-9), "may trip"},
    {"us", "inverse-time", 20, 2 * (1 - 5e-10), "within 2 min"},
    {"us", "inverse-time", 20, 2 * (1 - 2e-9), "within 1 h"},
    {"us", "inverse-time", 30, 50, "within 2 min"},
    {"us", "inverse-time", 35, 2, "within 4 min"},
    {"us", "inverse-time", 60, 1.5, "within 2 h"},
    {"us", "inverse-time", 110, 2, "within 8 min"},
    {"us", "inverse-time", 3000, 2, "within 2 h"},
    {"iec", "B", 16, 1.13 * (1 + 5e-10), "none expected"},
    {"iec", "B", 16, 1.13 * (1 + 2e-9), "may trip"},
    {"iec", "B", 16, 1.45 * (1 - 5e-10), "within 1 h"},
    {"iec", "B", 16, 5 * (1 - 5e-10), "at once"},
    {"iec", "B", 16, 5 * (1 - 2e-9), "within 60 s"},
    {"iec", "C", 16, 5, "within 60 s"},
    {"uk", "C", 40, 10, "at once"},
    {"uk", "D", 40, 10, "within 120 s"},
    {"uk", "D", 40, 20, "at once"},
};

START_TEST(trip_text_at_a_hair_to_either_side)
{
    const char *got = reference_trip_text(edge_rows[_i].rules, edge_rows[_i].trip, edge_rows[_i].rating_a,
                                          edge_rows[_i].multiple, NULL);
    ck_assert_str_eq(got, edge_rows[_i].want);
}
END_TEST

START_TEST(instantaneous_bands_meet_the_trip_text)
{
    static const char *const trips[] = {"B", "C", "D"};
    for (int i = 0; i < ROWS(trips); i++) {
        const struct ref_instantaneous *band = reference_instantaneous("iec", trips[i]);
        ck_assert_ptr_nonnull(band);
        ck_assert_str_eq(reference_trip_text("iec", trips[i], 16, band->upper_multiple, NULL), "at once");
        ck_assert_str_ne(reference_trip_text("iec", trips[i], 16, band->upper_multiple * 0.999, NULL), "at once");
    }
    ck_assert_double_eq(reference_instantaneous("uk", "B")->lower_multiple, 3); /* IEC 60898-1 */
    ck_assert_ptr_null(reference_instantaneous("us", "inverse-time"));
}
END_TEST

START_TEST(receptacles_and_plugs)
{
    /* NEC Table 210.21(B)(2); BS 1363; CEE 7 */
    ck_assert_double_eq(reference_receptacle("us", 20, 15)->max_load_a, 12);
    ck_assert_double_eq(reference_receptacle("us", 20, 0)->max_load_a, 16);
    ck_assert_double_eq(reference_receptacle("us", 15, 0)->max_load_a, 12);
    ck_assert_ptr_null(reference_receptacle("us", 25, 0));
    ck_assert_ptr_null(reference_receptacle("uk", 20, 0));
    ck_assert_double_eq(reference_plug("us", 15)->rating_a, 15);
    ck_assert_double_eq(reference_plug("us", 40)->rating_a, 50);
    ck_assert_ptr_null(reference_plug("us", 60));
    ck_assert_double_eq(reference_plug("uk", 32)->rating_a, 13);
    ck_assert_double_eq(reference_plug("iec", 16)->rating_a, 16);
    ck_assert_double_eq(reference_long_running_a("us", 15), 12);
    ck_assert_double_eq(reference_long_running_a("uk", 32), 10);
    ck_assert_double_eq(reference_long_running_a("iec", 16), 10);
    ck_assert(isnan(reference_long_running_a("us", 100)));
}
END_TEST

START_TEST(motor_table_keeps_its_ratios)
{
    /* printed table: 115 V is twice 230 V in every row, 208 V 1.10 times and 200 V 1.15 times, rounded */
    size_t count = 0;
    for (const char *size; (size = reference_motor_size("us", count)) != NULL; count++) {
        const struct ref_motor_fla *row = NULL;
        for (size_t i = 0; i < ref_motor_fla_count; i++) {
            row = strcmp(ref_motor_fla_rows[i].hp_text, size) == 0 ? &ref_motor_fla_rows[i] : row;
        }
        ck_assert_ptr_nonnull(row);
        double at_230_a = reference_motor_current_a("us", row->power_hp, 230, NULL);
        ck_assert_double_eq(reference_motor_current_a("us", row->power_hp, 115, NULL), 2 * at_230_a);
        ck_assert_double_eq_tol(reference_motor_current_a("us", row->power_hp, 208, NULL), 1.10 * at_230_a, 0.051);
        ck_assert_double_eq_tol(reference_motor_current_a("us", row->power_hp, 200, NULL), 1.15 * at_230_a, 0.051);
    }
    ck_assert_uint_eq(count, 12);
    ck_assert_ptr_null(reference_motor_size("iec", 0));
}
END_TEST

START_TEST(motor_column_ties_go_to_the_lower)
{
    const struct ref_motor_fla *row = NULL;
    reference_motor_current_a("us", 1, 204, &row);
    ck_assert_double_eq(row->voltage_v, 200);
    reference_motor_current_a("us", 1, 219, &row);
    ck_assert_double_eq(row->voltage_v, 208);
    ck_assert(isnan(reference_motor_current_a("us", 0.6, 115, &row)));
    ck_assert_ptr_null(row);
    ck_assert(isnan(reference_motor_current_a("uk", 1, 230, NULL)));
}
END_TEST

/* ------------------------------------------------------------------ rules --------------------------------- */

START_TEST(rule_of_the_set_comes_before_the_common_one)
{
    ck_assert_double_eq(reference_rule_value("continuous-factor", "us"), 1.25);
    ck_assert_double_eq(reference_rule_value("continuous-factor", "iec"), 1);
    ck_assert_double_eq(reference_rule_value("near-share", "uk"), 80);
    ck_assert_str_eq(reference_rule("near-share", "uk")->rules, "*");
    ck_assert(isnan(reference_rule_value("fixed-share", "iec")));
    ck_assert_ptr_null(reference_rule("no-such-rule", "us"));
}
END_TEST

START_TEST(findings_by_number_rules_and_case)
{
    ck_assert_str_eq(reference_finding("1", "us")->severity, "danger");
    ck_assert_str_eq(reference_finding("2", "iec")->severity, "warning");
    ck_assert_ptr_null(reference_finding("4", "uk"));
    ck_assert_ptr_null(reference_finding("11", "us"));
    ck_assert_str_eq(reference_finding_variant("19", "us", "danger")->severity, "danger");
    ck_assert_str_eq(reference_finding_variant("5", "us", "next-size")->severity, "note");
    ck_assert_str_eq(reference_finding_variant("5", "uk", "no-table")->severity, "note");
    ck_assert_str_eq(reference_finding_variant("8", "uk", "mild")->severity, "warning");
    ck_assert_ptr_null(reference_finding("17", "uk"));
}
END_TEST

START_TEST(protection_and_smallest_breakers)
{
    ck_assert_ptr_nonnull(reference_protection("us", "bathroom", "gfci", 120, 20));
    ck_assert_ptr_null(reference_protection("us", "dedicated", "gfci", 120, 20));
    ck_assert_ptr_nonnull(reference_protection("us", "general", "afci", 120, 20));
    ck_assert_ptr_null(reference_protection("us", "general", "afci", 120, 25));
    ck_assert_ptr_null(reference_protection("us", "general", "afci", 240, 20));
    ck_assert_ptr_nonnull(reference_protection("uk", "lighting", "rcd", 230, 6));
    ck_assert_ptr_nonnull(reference_protection("uk", "general", "rcd", 230, 32));
    ck_assert_ptr_null(reference_protection("uk", "general", "rcd", 230, 40));
    ck_assert_double_eq(reference_minimum_branch("us", "range", 8750)->breaker_a, 40);
    ck_assert_ptr_null(reference_minimum_branch("us", "range", 8749));
    ck_assert_double_eq(reference_minimum_branch("us", "water-heating", 4500)->factor, 1.25);
    ck_assert_ptr_null(reference_minimum_branch("iec", "range", 12000));
}
END_TEST

START_TEST(demand_tables_outside_their_range)
{
    ck_assert_ptr_null(reference_demand_range("us", 0));
    ck_assert_ptr_null(reference_demand_range("uk", 1));
    ck_assert_double_eq(reference_demand_range("us", 100)->b_percent, 16);
    ck_assert_double_eq(reference_demand_range_kw(reference_demand_range("us", 40), 40), 55); /* 15 kW and 1 kW each */
    ck_assert_double_eq(reference_demand_dryer_percent("us", 0, NULL), 100);
    ck_assert_double_eq(reference_demand_dryer_percent("us", 42, NULL), 25.5); /* 35 less 0.5 for each above 23 */
    ck_assert(isnan(reference_demand_dryer_percent("iec", 1, NULL)));
}
END_TEST

START_TEST(diversity_gives_the_printed_cooker)
{
    /* 12 kW at 240 V is 50 A, counted as 22 A; 5800 W with a socket on the unit 19.25 A (trade pages) */
    const struct ref_diversity *row = reference_diversity("uk", "cooking");
    double large_a = row->first_a + (12000 / 240.0 - row->first_a) * row->balance_percent / 100;
    double small_a = row->first_a + (5800 / 240.0 - row->first_a) * row->balance_percent / 100 + row->plus_a;
    ck_assert_double_eq_tol(large_a, 22, 1e-9);
    ck_assert_double_eq_tol(small_a, 19.25, 1e-9);
    ck_assert_double_eq(reference_diversity("iec", "shower")->rest_percent, 25);
    ck_assert_ptr_null(reference_diversity("us", "cooking"));
}
END_TEST

/* ------------------------------------------------------------------ money, typical, sources --------------- */

static const struct {
    const char *code;
    int want; /* decimals of ISO 4217; -1: unknown */
} currency_rows[] = {
    {"USD", 2}, {"EUR", 2}, {"GBP", 2}, {"JPY", 0}, {"KRW", 0}, {"KWD", 3},  {"BHD", 3},  {"TND", 3}, {"CLP", 0},
    {"CLF", 4}, {"ISK", 0}, {"VND", 0}, {"XOF", 0}, {"INR", 2}, {"usd", -1}, {"ZZZ", -1}, {"", -1},
};

START_TEST(currencies_have_their_minor_unit)
{
    const struct ref_currency *row = reference_currency(currency_rows[_i].code);
    ck_assert_int_eq(row != NULL ? row->minor_units : -1, currency_rows[_i].want);
}
END_TEST

START_TEST(typical_ratings_by_a_word)
{
    const struct ref_typical *rows[200];
    bool near = true;
    size_t count = reference_typical_find("Kettle", "uk", rows, 200, &near);
    ck_assert_uint_ge(count, 1);
    ck_assert(!near);
    ck_assert_str_eq(rows[0]->id, "kettle");
    count = reference_typical_find("heater", NULL, rows, 200, &near);
    ck_assert_uint_ge(count, 5);
    ck_assert_uint_eq(reference_typical_find("heater", NULL, rows, 2, &near), 2);
    static const char *const plugged_rules[] = {"uk", "iec"};
    for (size_t i = 0; i < 2; i++) { /* a plain heater is plugged in: no immersion heater */
        ck_assert_uint_ge(reference_typical_find("heater", plugged_rules[i], rows, 200, &near), 2);
        ck_assert_str_eq(rows[0]->id, "fan-heater");
    }
    ck_assert_uint_eq(reference_typical_find("portable heater", "us", rows, 200, &near), 1);
    ck_assert(!near);
    ck_assert_str_eq(rows[0]->id, "space-heater");
    count = reference_typical_find("toster", "us", rows, 200, &near);
    ck_assert_uint_ge(count, 1);
    ck_assert(near);
    ck_assert_ptr_nonnull(strstr(rows[0]->name, "toaster"));
    ck_assert_uint_eq(reference_typical_find("zzzzzzzz", NULL, rows, 200, &near), 0);
    ck_assert_uint_ge(reference_typical_find("", "iec", rows, 200, &near), 40);
}
END_TEST

START_TEST(a_word_longer_than_any_name_is_near_to_nothing)
{
    char word[5000];
    const struct ref_typical *row = NULL;
    bool near = false;
    memset(word, 'a', sizeof word - 1);
    word[sizeof word - 1] = '\0';
    ck_assert_uint_eq(reference_typical_find(word, NULL, &row, 1, &near), 0);
}
END_TEST

START_TEST(at_least_120_typical_ratings)
{
    size_t different = 0;
    for (size_t i = 0; i < ref_typical_count; i++) {
        bool seen = false;
        for (size_t j = 0; j < i && !seen; j++) {
            seen = strcmp(ref_typical_rows[i].name, ref_typical_rows[j].name) == 0;
        }
        different += !seen;
    }
    ck_assert_uint_ge(different, 120);
}
END_TEST

START_TEST(every_source_is_named)
{
    ck_assert_uint_gt(reference_source_count, 50);
    for (size_t i = 0; i < reference_source_count; i++) {
        const struct reference_source *row = &reference_sources[i];
        ck_assert_msg(strlen(row->source) >= 8 && strlen(row->edition) >= 4 && strlen(row->title) > 10,
                      "%s: '%s', '%s'", row->table, row->edition, row->source);
        ck_assert_uint_gt(row->row_count, 0);
    }
}
END_TEST

START_TEST(every_finding_cautions_without_a_verdict)
{
    for (size_t i = 0; i < ref_finding_count; i++) {
        const char *caution = ref_finding_rows[i].caution;
        ck_assert_msg(strlen(caution) > 20 && isupper((unsigned char)caution[0]), "finding %s: %s",
                      ref_finding_rows[i].id, caution);
        ck_assert_msg(strstr(caution, " safe") == NULL && strstr(caution, "compl") == NULL, "%s", caution);
    }
}
END_TEST

Suite *make_suite(void)
{
    Suite *suite = suite_create("reference");
    TCase *tcase = tcase_create("reference");
    tcase_add_loop_test(tcase, rule_sets_have_the_defaults_of_the_house_file, 0, ROWS(set_rows));
    tcase_add_test(tcase, what_is_no_rule_set_has_no_row);
    tcase_add_test(tcase, orders_hold_every_row);
    tcase_add_test(tcase, every_row_is_found_by_its_key);
    tcase_add_test(tcase, british_houses_have_no_main_breaker);
    tcase_add_test(tcase, words_of_a_rule_set_are_listed_for_messages);
    tcase_add_loop_test(tcase, next_standard_size_is_at_least_the_current, 0, ROWS(size_up_rows));
    tcase_add_loop_test(tcase, trip_text_at_a_hair_to_either_side, 0, ROWS(edge_rows));
    tcase_add_test(tcase, instantaneous_bands_meet_the_trip_text);
    tcase_add_test(tcase, receptacles_and_plugs);
    tcase_add_test(tcase, motor_table_keeps_its_ratios);
    tcase_add_test(tcase, motor_column_ties_go_to_the_lower);
    tcase_add_test(tcase, rule_of_the_set_comes_before_the_common_one);
    tcase_add_test(tcase, findings_by_number_rules_and_case);
    tcase_add_test(tcase, protection_and_smallest_breakers);
    tcase_add_test(tcase, demand_tables_outside_their_range);
    tcase_add_test(tcase, diversity_gives_the_printed_cooker);
    tcase_add_loop_test(tcase, currencies_have_their_minor_unit, 0, ROWS(currency_rows));
    tcase_add_test(tcase, typical_ratings_by_a_word);
    tcase_add_test(tcase, a_word_longer_than_any_name_is_near_to_nothing);
    tcase_add_test(tcase, at_least_120_typical_ratings);
    tcase_add_test(tcase, every_source_is_named);
    tcase_add_test(tcase, every_finding_cautions_without_a_verdict);
    suite_add_tcase(suite, tcase);
    return suite;
}
