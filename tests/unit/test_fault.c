/* Fault current: the formulas on published values, and what must hold of them whatever the numbers. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "ampsum/fault.h"
#include "ampsum/reference_fault.h"
#include "fixture.h"
#include "runner.h"

enum { PARTS_MOST = 12, TEXT_ROOM = 512 };

/* The parts of a row, `key=value` each after the first word. */
struct parts {
    char text[TEXT_ROOM];
    char *part[PARTS_MOST];
    int count;
};

static const char *word_of(const struct parts *parts, const char *key)
{
    const size_t length = strlen(key);
    for (int i = 1; i < parts->count; i++) {
        if (strncmp(parts->part[i], key, length) == 0 && parts->part[i][length] == '=') {
            return parts->part[i] + length + 1;
        }
    }
    ck_abort_msg("no %s", key);
}

/* A number, or that of our own rule row. */
static double number_of(const struct parts *parts, const char *key, const char *rule, const char *rules)
{
    const char *word = word_of(parts, key);
    return strcmp(word, "rule") == 0 ? reference_rule_value(rule, rules) : strtod(word, NULL);
}

static double value_of(const struct parts *parts, const char *key)
{
    return number_of(parts, key, "", "*");
}

static bool has(const struct parts *parts, const char *key)
{
    for (int i = 1; i < parts->count; i++) {
        if (strncmp(parts->part[i], key, strlen(key)) == 0) {
            return true;
        }
    }
    return false;
}

/* Ohm per kilometre of line and protective conductor together, at 20 degree C, from our table. */
static double pair_ohm_per_km(const struct parts *parts)
{
    double sum = 0;
    const char *const keys[] = {"line", "protective"};
    for (size_t i = 0; i < 2; i++) {
        char size[TEXT_ROOM];
        snprintf(size, sizeof size, "%s mm2", word_of(parts, keys[i]));
        const struct ref_conductor *row = reference_conductor(size, "copper");
        ck_assert_msg(row != NULL, "no conductor %s", size);
        sum += reference_resistance_ohm_per_km(row, 20);
    }
    return sum;
}

static double largest_loop(const struct parts *parts)
{
    return fault_largest_loop_ohm(number_of(parts, "cmin", "fault-voltage-least", "uk"), value_of(parts, "volts"),
                                  value_of(parts, "k"), value_of(parts, "amps"));
}

static double reading(const struct parts *parts)
{
    return largest_loop(parts) * reference_rule_value("fault-measured-share", "uk") / 100;
}

static double run(const struct parts *parts)
{
    return pair_ohm_per_km(parts) * value_of(parts, "metres") / 1000;
}

static double left(const struct parts *parts)
{
    return value_of(parts, "zs") * value_of(parts, "share") - value_of(parts, "ze");
}

static double length(const struct parts *parts)
{
    return fault_longest_m(value_of(parts, "zs"), value_of(parts, "ze"), value_of(parts, "mohm"),
                           has(parts, "hot") ? value_of(parts, "hot") : 1);
}

static double current(const struct parts *parts)
{
    return fault_current_a(number_of(parts, "c", "fault-voltage-least", "uk"), value_of(parts, "volts"),
                           value_of(parts, "ohm"));
}

static double area(const struct parts *parts)
{
    return fault_smallest_area_mm2(value_of(parts, "amps"), value_of(parts, "seconds"), value_of(parts, "k"));
}

static double adiabatic(const struct parts *parts)
{
    const struct ref_adiabatic *row = reference_adiabatic(word_of(parts, "metal"), false);
    ck_assert_ptr_nonnull(row);
    return fault_adiabatic_k(row->factor, row->beta_c, value_of(parts, "from"), value_of(parts, "to"));
}

static double transformer(const struct parts *parts)
{
    return fault_transformer_a(1000 * value_of(parts, "kva"), value_of(parts, "volts"), value_of(parts, "phases") > 2,
                               value_of(parts, "percent"),
                               number_of(parts, "tolerance", "fault-plate-tolerance", "us"));
}

static double point(const struct parts *parts)
{
    const double legs = value_of(parts, "legs") > 2 ? sqrt(3) : 2;
    return fault_point_to_point_a(value_of(parts, "amps"), legs, value_of(parts, "feet"), value_of(parts, "c"),
                                  value_of(parts, "parallel"), value_of(parts, "volts"));
}

static double conventional(const struct parts *parts)
{
    return fault_conventional_longest_m(reference_rule_value("fault-run-share", "iec") / 100, value_of(parts, "volts"),
                                        value_of(parts, "line"), value_of(parts, "protective"),
                                        reference_rule_value("fault-run-resistivity", "iec"),
                                        value_of(parts, "k") * value_of(parts, "amps"));
}

/* Three phases: the impedance of the source and of one conductor add up. */
static double add(const struct parts *parts)
{
    const double phase_v = value_of(parts, "volts") / sqrt(3);
    const double source_ohm = fault_source_ohm(1, phase_v, value_of(parts, "amps"));
    const double wire_ohm = value_of(parts, "rho") * value_of(parts, "metres") / value_of(parts, "mm2");
    /* a strong source is nearly all reactance: the two stand at right angles */
    return fault_current_a(1, phase_v, hypot(source_ohm, wire_ohm));
}

static double disconnect(const struct parts *parts)
{
    const struct ref_disconnection *row =
        reference_disconnection("uk", word_of(parts, "family"), value_of(parts, "volts"));
    ck_assert_ptr_nonnull(row);
    return row->final_s;
}

static double residual(const struct parts *parts)
{
    return reference_residual_time_s("general", value_of(parts, "multiple"), NULL);
}

static double external(const struct parts *parts)
{
    const struct ref_earthing *row = reference_earthing("uk", word_of(parts, "earthing"));
    ck_assert_ptr_nonnull(row);
    return row->external_ohm;
}

static double touch(const struct parts *parts)
{
    return reference_rule_value("fault-touch-voltage", "uk") / (value_of(parts, "ma") / 1000);
}

static double loop(const struct parts *parts)
{
    return fault_loop_ohm(value_of(parts, "ze"), run(parts), reference_rule_value("fault-hot-70", "uk"));
}

static const struct {
    const char *word;
    double (*figure)(const struct parts *parts);
} figures[] = {
    {"zs", largest_loop},
    {"reading", reading},
    {"pair", pair_ohm_per_km},
    {"run", run},
    {"left", left},
    {"length", length},
    {"current", current},
    {"area", area},
    {"k", adiabatic},
    {"point", point},
    {"transformer", transformer},
    {"add", add},
    {"residual", residual},
    {"conventional", conventional},
    {"external", external},
    {"touch", touch},
    {"disconnect", disconnect},
    {"loop", loop},
};

static void check_row(const struct outside *row)
{
    struct parts parts = {0};
    ck_assert_uint_lt(strlen(row->inputs), sizeof parts.text);
    memcpy(parts.text, row->inputs, strlen(row->inputs));
    parts.count = fixture_split(parts.text, ' ', parts.part, PARTS_MOST);
    for (size_t i = 0; i < sizeof figures / sizeof *figures; i++) {
        if (strcmp(parts.part[0], figures[i].word) == 0) {
            fixture_check(row, figures[i].figure(&parts));
            return;
        }
    }
    ck_abort_msg("%s: unknown %s", row->id, parts.part[0]);
}

START_TEST(others_print_the_same)
{
    fixture_outside("fault.tsv", 60, check_row);
}
END_TEST

START_TEST(current_falls_along_the_run)
{
    double before_a = INFINITY;
    for (int metre = 0; metre <= 200; metre++) {
        const double now_a = fault_current_a(0.95, 230, fault_loop_ohm(0.35, 0.01951 * metre, 1.2));
        ck_assert_double_lt(now_a, before_a);
        ck_assert_double_le(now_a, fault_current_a(0.95, 230, fault_loop_ohm(0.35, 0.01951 * metre, 1)));
        before_a = now_a;
    }
}
END_TEST

START_TEST(longest_run_is_where_the_device_just_opens)
{
    for (double external_ohm = 0.05; external_ohm < 1.3; external_ohm += 0.05) {
        const double largest_ohm = fault_largest_loop_ohm(0.95, 230, 5, 32);
        const double longest_m = fault_longest_m(largest_ohm, external_ohm, 19.51, 1.2);
        ck_assert_double_eq_tol(fault_loop_ohm(external_ohm, 19.51e-3 * longest_m, 1.2), largest_ohm, 1e-9);
    }
    ck_assert_double_eq(fault_longest_m(1, 1.5, 19.51, 1.2), 0);
}
END_TEST

/* Two stretches one after the other are one stretch of their length: the method is Kirchhoff's. */
START_TEST(point_to_point_adds_up)
{
    const double whole_a = fault_point_to_point_a(10000, 2, 100, 617, 1, 120);
    const double half_a = fault_point_to_point_a(10000, 2, 40, 617, 1, 120);
    ck_assert_double_eq_tol(fault_point_to_point_a(half_a, 2, 60, 617, 1, 120), whole_a, 1e-9);
    /* and the same as the resistances added */
    const double ohm = 120 / 10000.0 + 2 * 100 / (617 * 1000.0) * 1000;
    ck_assert_double_eq_tol(120 / ohm, whole_a, 1e-9);
}
END_TEST

START_TEST(unknown_stays_unknown)
{
    ck_assert(isnan(fault_loop_ohm(NAN, 1, 1)));
    ck_assert(isnan(fault_current_a(1, 230, NAN)));
    ck_assert(isnan(fault_source_ohm(1.1, 230, NAN)));
    ck_assert(isnan(fault_longest_m(NAN, 0.3, 19, 1.2)));
    ck_assert(isnan(fault_longest_m(1.4, NAN, 19, 1.2)));
    ck_assert(isnan(fault_point_to_point_a(NAN, 2, 10, 617, 1, 120)));
    ck_assert_ptr_null(reference_earthing("us", "TT"));
    ck_assert_ptr_null(reference_disconnection("uk", "TN", 50));
    ck_assert_ptr_null(reference_disconnection("us", "TN", 120));
    ck_assert(isnan(reference_residual_time_s("general", 0.5, NULL)));
    ck_assert(isnan(reference_point_to_point_c("2.5 mm2", "copper", NULL)));
}
END_TEST

START_TEST(american_equation_in_square_millimetres)
{
    const struct ref_adiabatic *row = reference_adiabatic("copper", true);
    ck_assert_ptr_nonnull(row);
    ck_assert_double_eq_tol(fault_adiabatic_k_cmil(row->factor, row->beta_c, row->initial_c, row->final_c), 104.5, 0.2);
    ck_assert_double_eq_tol(fault_adiabatic_k_cmil(row->factor, row->beta_c, 70, 160), 114.1, 0.2);
}
END_TEST

/* C of the thin sizes is 1000 over our own resistance at 25 degree C (8 AWG solid there, stranded here: 1.6 % apart),
 * that of the others less. */
START_TEST(point_to_point_agrees_with_resistance)
{
    size_t compared = 0;
    for (size_t i = 0; i < ref_point_to_point_count; i++) {
        const struct ref_point_to_point *row = &ref_point_to_point_rows[i];
        const struct ref_conductor *conductor = reference_conductor(row->size, row->metal);
        if (conductor == NULL) {
            continue; /* the conductor table lists no thin aluminium */
        }
        compared++;
        const double c = 1000 / (reference_resistance_ohm_per_km(conductor, 25) * 0.3048);
        ck_assert_msg(row->c <= c * 1.02, "%s %s: %g, by resistance %g", row->size, row->metal, row->c, c);
        ck_assert_msg(conductor->area_mm2 > 10 || row->c >= c * 0.99, "%s %s: %g, by resistance %g", row->size,
                      row->metal, row->c, c);
    }
    ck_assert_uint_ge(compared, 30);
}
END_TEST

START_TEST(protective_conductors)
{
    ck_assert_str_eq(reference_protective_conductor("uk", "2.5 mm2", "copper", 32)->size, "1.5 mm2");
    ck_assert_str_eq(reference_protective_conductor("us", "12 AWG", "copper", 20)->size, "12 AWG");
    ck_assert_str_eq(reference_protective_conductor("us", "8 AWG", "copper", 50)->size, "10 AWG");
    ck_assert_ptr_null(reference_protective_conductor("iec", "2.5 mm2", "copper", 16));
    ck_assert_ptr_null(reference_protective_conductor("uk", "25 mm2", "copper", 63));
}
END_TEST

Suite *make_suite(void)
{
    Suite *suite = suite_create("fault");
    TCase *tests = tcase_create("fault");
    tcase_add_test(tests, others_print_the_same);
    tcase_add_test(tests, current_falls_along_the_run);
    tcase_add_test(tests, longest_run_is_where_the_device_just_opens);
    tcase_add_test(tests, point_to_point_adds_up);
    tcase_add_test(tests, unknown_stays_unknown);
    tcase_add_test(tests, american_equation_in_square_millimetres);
    tcase_add_test(tests, point_to_point_agrees_with_resistance);
    tcase_add_test(tests, protective_conductors);
    suite_add_tcase(suite, tests);
    return suite;
}
