/* The published tables held against what others print: tests/outside/reference-*.tsv. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "ampsum/reference.h"
#include "runner.h"

enum { FIELDS_MAX = 10, LINE_ROOM = 1024 };

/* A field that must be a number, whole or up to a fraction's stroke. */
static double number(const char *text)
{
    char *end = NULL;
    double value = strtod(text, &end);
    ck_assert_msg(end != text && (*end == '\0' || *end == '/'), "no number: %s", text);
    return value;
}

/* Calls `test` for each row of a file of outside values, its fields apart; fails where fewer than `least` rows ran. */
static void each_row(const char *file, int least, int field_count, void (*test)(char *const *fields))
{
    char path[LINE_ROOM];
    char line[LINE_ROOM];
    const char *tests = getenv("AMPSUM_TESTS");
    ck_assert_msg(tests != NULL, "AMPSUM_TESTS names the folder of the tests");
    snprintf(path, sizeof path, "%s/outside/%s", tests, file);
    FILE *rows = fopen(path, "r");
    ck_assert_msg(rows != NULL, "%s cannot be opened", path);
    int count = 0;
    while (fgets(line, sizeof line, rows) != NULL) {
        if (line[0] == '#' || strncmp(line, "id\t", 3) == 0) {
            continue;
        }
        char *fields[FIELDS_MAX] = {0};
        int found = 0;
        for (char *at = line; at != NULL && found < FIELDS_MAX; found++) {
            fields[found] = at;
            at = strpbrk(at, "\t\n");
            if (at != NULL) {
                at = *at == '\n' ? (*at = '\0', NULL) : (*at = '\0', at + 1);
            }
        }
        ck_assert_msg(found == field_count, "%s %s: %d fields", file, fields[0], found);
        test(fields);
        count++;
    }
    fclose(rows);
    ck_assert_msg(count >= least, "%s: %d rows", file, count);
}

static void assert_near(const char *id, double got, const char *want, const char *tolerance, const char *source)
{
    /* the tolerance is a decimal: a hair is allowed for its binary form */
    ck_assert_msg(fabs(got - number(want)) <= number(tolerance) * (1 + 1e-9), "%s: got %.9g, want %s (%s)", id, got,
                  want, source);
}

/* id, size, metal, quantity, temp_c, want, tolerance, kind, source */
static void conductor_row(char *const *field)
{
    const struct ref_conductor *row = reference_conductor(field[1], field[2]);
    ck_assert_msg(row != NULL, "%s: %s", field[0], field[1]);
    double ohm_per_km = reference_resistance_ohm_per_km(row, number(field[4]));
    double got = NAN;
    if (strcmp(field[3], "area_cmil") == 0) {
        got = reference_size_area_mm2(field[1]) / (3.14159265358979323846 / 4 * 0.0254 * 0.0254);
    } else if (strcmp(field[3], "ohm_per_kft") == 0) {
        got = ohm_per_km * 0.3048;
    } else if (strcmp(field[3], "ohm_per_km") == 0) {
        got = ohm_per_km;
    } else if (strcmp(field[3], "loop_mv_per_a_m") == 0) {
        got = 2 * ohm_per_km;
    }
    assert_near(field[0], got, field[5], field[6], field[8]);
}

START_TEST(conductors_as_others_print_them)
{
    each_row("reference-conductor.tsv", 55, 9, conductor_row);
}
END_TEST

/* id, size, method, loaded, ambient_c, want_a, tolerance_a, kind, source */
static void ambient_row(char *const *field)
{
    struct reference_ampacity row =
        reference_ampacity_iec("iec", field[1], "copper", "pvc", field[2], (int)number(field[3]));
    double factor = reference_ambient_factor("iec", 70, number(field[4]), NULL);
    assert_near(field[0], row.ampacity_a * factor, field[5], field[6], field[8]);
}

START_TEST(ampacity_by_ambient_as_a_manual_prints_it)
{
    each_row("reference-ambient.tsv", 60, 9, ambient_row);
}
END_TEST

/* id, service_a, metal, want_size, kind, source */
static void service_row(char *const *field)
{
    double least_a = number(field[1]) * reference_rule_value("service-conductor-share", "us") / 100;
    const struct ref_conductor *smallest = NULL;
    for (size_t i = 0; i < ref_conductor_count; i++) {
        const struct ref_conductor *row = &ref_conductor_rows[i];
        if (strcmp(row->metal, field[2]) == 0 &&
            reference_ampacity_us_a("us", row->size, row->metal, 75, NULL) >= least_a &&
            (smallest == NULL || row->area_mm2 < smallest->area_mm2)) {
            smallest = row;
        }
    }
    ck_assert_msg(smallest != NULL, "%s: no conductor", field[0]);
    ck_assert_msg(strcmp(smallest->size, field[3]) == 0, "%s: got %s, want %s (%s)", field[0], smallest->size, field[3],
                  field[5]);
}

START_TEST(service_conductors_follow_from_the_ampacities)
{
    each_row("reference-service.tsv", 22, 6, service_row);
}
END_TEST

/* id, rules, trip, rating_a, current_a, want, kind, source */
static void trip_row(char *const *field)
{
    double multiple = number(field[4]) / number(field[3]);
    const char *got = reference_trip_text(field[1], field[2], number(field[3]), multiple, NULL);
    ck_assert_msg(strcmp(got, field[5]) == 0, "%s: got %s, want %s (%s)", field[0], got, field[5], field[7]);
}

START_TEST(trip_texts_at_the_published_limits)
{
    each_row("reference-trip.tsv", 90, 8, trip_row);
}
END_TEST

/* id, table, column, count, want, kind, source */
static void demand_row(char *const *field)
{
    int count = (int)number(field[3]);
    double got = reference_demand_dryer_percent("us", count, NULL);
    if (strcmp(field[1], "range") == 0) {
        const struct ref_demand_range *row = reference_demand_range("us", count);
        ck_assert_ptr_nonnull(row);
        got = field[2][0] == 'A'   ? row->a_percent
              : field[2][0] == 'B' ? row->b_percent
                                   : reference_demand_range_kw(row, count);
    }
    assert_near(field[0], got, field[4], "1e-12", field[6]);
}

START_TEST(demand_tables_give_the_printed_cases)
{
    each_row("reference-demand.tsv", 14, 7, demand_row);
}
END_TEST

/* id, power_hp, voltage_v, want_a, kind, source */
static void motor_row(char *const *field)
{
    const char *over = strchr(field[1], '/');
    double power_hp = number(field[1]) / (over != NULL ? number(over + 1) : 1);
    assert_near(field[0], reference_motor_current_a("us", power_hp, number(field[2]), NULL), field[3], "1e-12",
                field[5]);
}

START_TEST(motor_currents_by_nearest_column)
{
    each_row("reference-motor.tsv", 8, 6, motor_row);
}
END_TEST

Suite *make_suite(void)
{
    Suite *suite = suite_create("reference_outside");
    TCase *tcase = tcase_create("reference_outside");
    tcase_add_test(tcase, conductors_as_others_print_them);
    tcase_add_test(tcase, ampacity_by_ambient_as_a_manual_prints_it);
    tcase_add_test(tcase, service_conductors_follow_from_the_ampacities);
    tcase_add_test(tcase, trip_texts_at_the_published_limits);
    tcase_add_test(tcase, demand_tables_give_the_printed_cases);
    tcase_add_test(tcase, motor_currents_by_nearest_column);
    suite_add_tcase(suite, tcase);
    return suite;
}
