/* The published tables: what others print (tests/outside/reference-*.tsv), and what every row must hold. */
#include <ctype.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "ampsum/reference.h"
#include "runner.h"

#define ROWS(table) ((int)(sizeof(table) / sizeof(table)[0]))

/* ------------------------------------------------------------------ outside values ------------------------ */

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
    struct reference_ampacity row = reference_ampacity_iec("iec", field[1], "copper", field[2], (int)number(field[3]));
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
        if (strcmp(row->metal, field[2]) == 0 && reference_ampacity_us_a(row->size, row->metal, 75, NULL) >= least_a &&
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

/* ------------------------------------------------------------------ conductors ---------------------------- */

START_TEST(table_8_follows_from_the_conductivity_of_its_metals)
{
    /* IACS (NBS Handbook 100): 10.371 ohm circular mil per foot at 20 C; aluminium 61 % of it; stranding adds 2 % */
    int checked = 0;
    for (size_t i = 0; i < ref_conductor_count; i++) {
        const struct ref_conductor *row = &ref_conductor_rows[i];
        if (isnan(row->area_cmil)) {
            continue;
        }
        bool copper = strcmp(row->metal, "copper") == 0;
        double lay = strcmp(row->construction, "stranded") == 0 ? 1.02 : 1;
        double ohm_cmil_per_ft = copper ? 10.371 : 10.371 / 0.61;
        double warm = 1 + (copper ? 0.00393 : 0.00403) * (75 - 20);
        double want_ohm_per_kft = 1000 * ohm_cmil_per_ft * lay * warm / row->area_cmil;
        ck_assert_msg(fabs(row->printed_ohm_per_kft / want_ohm_per_kft - 1) < 0.006, "%s %s: printed %g, computed %g",
                      row->size, row->metal, row->printed_ohm_per_kft, want_ohm_per_kft);
        checked++;
    }
    ck_assert_int_eq(checked, 39);
}
END_TEST

START_TEST(every_area_is_that_of_its_name)
{
    for (size_t i = 0; i < ref_conductor_count; i++) {
        const struct ref_conductor *row = &ref_conductor_rows[i];
        double area_mm2 = reference_size_area_mm2(row->size);
        /* the printed circular mils of the AWG sizes are rounded to four digits, some to three */
        ck_assert_msg(fabs(row->area_mm2 / area_mm2 - 1) < 3e-3, "%s: %g mm2, by name %g", row->size, row->area_mm2,
                      area_mm2);
    }
    ck_assert_double_eq_tol(reference_size_area_mm2("500 kcmil"), 253.354, 0.0005); /* 0.5067075 mm2 per kcmil */
}
END_TEST

static const struct {
    const char *size;
    const char *want; /* as listed; NULL: not found */
} size_rows[] = {
    {"14 AWG", "14 AWG"},
    {"14AWG", "14 AWG"},
    {"0 AWG", "1/0 AWG"},
    {"1/0 AWG", "1/0 AWG"},
    {"4/0 AWG", "4/0 AWG"},
    {"2.50 mm2", "2.5 mm2"},
    {"2.5 mm\u00b2", "2.5 mm2"},
    {"02.5 mm2", "2.5 mm2"},
    {"250 kcmil", "250 kcmil"},
    {"13 AWG", NULL},
    {"3 mm2", NULL},
    {"14", NULL},
    {"AWG", NULL},
    {"", NULL},
    {"14.5 AWG", NULL},
    {"5/0 AWG", NULL},
    {"2.5/0 mm2", NULL},
    {"-1 mm2", NULL},
    {"0 mm2", NULL},
    {"0x10 mm2", NULL},
    {"inf mm2", NULL},
    {"2.5 mm2 ", NULL},
    {"99999999999999999999 mm2", NULL},
};

START_TEST(sizes_are_found_by_what_they_mean)
{
    const struct ref_conductor *row = reference_conductor(size_rows[_i].size, "copper");
    const char *got = row != NULL ? row->size : "none";
    const char *want = size_rows[_i].want != NULL ? size_rows[_i].want : "none";
    ck_assert_msg(strcmp(got, want) == 0, "'%s': got %s, want %s", size_rows[_i].size, got, want);
}
END_TEST

static const struct {
    const char *size;
    const char *metal;
    const char *smaller;
    const char *larger;
} neighbour_rows[] = {
    {"13 AWG", "copper", "14 AWG", "12 AWG"},    {"0 AWG", "aluminium", "1 AWG", "2/0 AWG"},
    {"14 AWG", "aluminium", NULL, "12 AWG"},     {"225 kcmil", "copper", "4/0 AWG", "250 kcmil"},
    {"1000 kcmil", "copper", "600 kcmil", NULL}, {"3 mm2", "copper", "2.5 mm2", "4 mm2"},
    {"2.5 mm2", "aluminium", NULL, "10 mm2"},
};

START_TEST(neighbours_stand_in_the_same_series)
{
    const struct ref_conductor *smaller = NULL;
    const struct ref_conductor *larger = NULL;
    ck_assert(reference_conductor_neighbours(neighbour_rows[_i].size, neighbour_rows[_i].metal, &smaller, &larger));
    ck_assert_pstr_eq(smaller != NULL ? smaller->size : NULL, neighbour_rows[_i].smaller);
    ck_assert_pstr_eq(larger != NULL ? larger->size : NULL, neighbour_rows[_i].larger);
}
END_TEST

START_TEST(no_neighbours_of_what_is_no_size)
{
    const struct ref_conductor *smaller = &ref_conductor_rows[0];
    const struct ref_conductor *larger = &ref_conductor_rows[0];
    ck_assert(!reference_conductor_neighbours("thick", "copper", &smaller, &larger));
    ck_assert_ptr_null(smaller);
    ck_assert_ptr_null(larger);
    ck_assert(isnan(reference_size_area_mm2("thick")));
}
END_TEST

START_TEST(resistance_at_its_own_temperature_is_as_printed)
{
    for (size_t i = 0; i < ref_conductor_count; i++) {
        const struct ref_conductor *row = &ref_conductor_rows[i];
        double printed = isnan(row->printed_ohm_per_km) ? row->printed_ohm_per_kft / 0.3048 : row->printed_ohm_per_km;
        ck_assert_double_eq(reference_resistance_ohm_per_km(row, row->reference_temp_c), printed);
    }
    ck_assert_double_eq(reference_operating_temp_c("us"), 75);
    ck_assert_double_eq(reference_operating_temp_c("iec"), 70);
    ck_assert_double_eq(reference_operating_temp_c("uk"), 70);
}
END_TEST

/* ------------------------------------------------------------------ ampacity ------------------------------ */

static const struct {
    const char *size;
    const char *metal;
    int temp_c;
    double want_a;
} us_rows[] = {
    /* 2018 International Residential Code, Table E3705.1 */
    {"14 AWG", "copper", 60, 15},   {"12 AWG", "copper", 90, 30},   {"6 AWG", "copper", 60, 55},
    {"3 AWG", "copper", 75, 100},   {"4/0 AWG", "copper", 75, 230}, {"12 AWG", "aluminium", 60, 15},
    {"8 AWG", "aluminium", 60, 35}, {"2 AWG", "aluminium", 75, 90}, {"14 AWG", "aluminium", 60, NAN},
    {"2.5 mm2", "copper", 60, NAN}, {"16 AWG", "copper", 60, NAN},  {"12 AWG", "copper", 70, NAN},
};

START_TEST(us_ampacities)
{
    const struct ref_ampacity_us *row = NULL;
    double got_a = reference_ampacity_us_a(us_rows[_i].size, us_rows[_i].metal, us_rows[_i].temp_c, &row);
    ck_assert_int_eq(isnan(got_a) != 0, isnan(us_rows[_i].want_a) != 0);
    ck_assert_int_eq(row == NULL, isnan(us_rows[_i].want_a) != 0);
    if (row != NULL) {
        ck_assert_double_eq(got_a, us_rows[_i].want_a);
    }
}
END_TEST

static const struct {
    const char *rules;
    const char *size;
    const char *metal;
    const char *method;
    int loaded;
    double want_a;
} iec_rows[] = {
    /* IEC 60364-5-52 B.52.2, B.52.4 in ABNT NBR 5410 Table 36; BS 7671 Table 4D5 for the flat twin */
    {"iec", "2.5 mm2", "copper", "A1", 2, 19.5}, {"iec", "2.5 mm2", "copper", "B2", 2, 23},
    {"iec", "1.5 mm2", "copper", "B1", 3, 15.5}, {"iec", "2.5 mm2", "copper", "C", 2, 27},
    {"iec", "16 mm2", "copper", "D", 3, 67},     {"iec", "16 mm2", "aluminium", "C", 2, 66},
    {"iec", "1.5 mm2", "copper", "C", 2, 19.5},  {"uk", "1.5 mm2", "copper", "C", 2, 20},
    {"uk", "6 mm2", "copper", "C", 2, 47},       {"uk", "6 mm2", "copper", "C", 3, 41},
    {"uk", "6 mm2", "copper", "B2", 2, 38},      {"uk", "25 mm2", "copper", "C", 2, 112},
    {"uk", "16 mm2", "aluminium", "C", 2, 66},   {"iec", "12 AWG", "copper", "C", 2, NAN},
    {"uk", "4 mm2", "aluminium", "C", 2, NAN},   {"us", "4 mm2", "copper", "C", 2, NAN},
    {"iec", "4 mm2", "copper", "E", 2, NAN},     {"iec", "4 mm2", "copper", "C", 4, NAN},
};

START_TEST(iec_and_uk_ampacities)
{
    struct reference_ampacity got = reference_ampacity_iec(iec_rows[_i].rules, iec_rows[_i].size, iec_rows[_i].metal,
                                                           iec_rows[_i].method, iec_rows[_i].loaded);
    if (isnan(iec_rows[_i].want_a)) {
        ck_assert(isnan(got.ampacity_a));
        ck_assert_ptr_null(got.source);
    } else {
        ck_assert_double_eq(got.ampacity_a, iec_rows[_i].want_a);
        ck_assert_ptr_nonnull(got.table);
        ck_assert_ptr_nonnull(got.source);
    }
}
END_TEST

static const struct {
    const char *rules;
    int insulation_c;
    double ambient_c;
    double want;
} factor_rows[] = {
    /* 2018 International Residential Code, Table E3705.2, bands as printed */
    {"us", 60, 30, 1.00},
    {"us", 60, 30.01, 0.91},
    {"us", 60, 35, 0.91},
    {"us", 60, 40, 0.82},
    {"us", 75, 40, 0.88},
    {"us", 60, 25, 1.08},
    {"us", 60, 25.5, 1.00},
    {"us", 60, -20, 1.29},
    {"us", 60, 55, 0.41},
    {"us", 60, 56, NAN},
    {"us", 90, 75, 0.50},
    {"us", 90, 75.1, NAN},
    {"us", 70, 30, NAN},
    /* IEC 60364-5-52 B.52.14: the step at or above the ambient */
    {"iec", 70, 30, 1.00},
    {"iec", 70, 31, 0.94},
    {"iec", 70, 40, 0.87},
    {"uk", 70, 45, 0.79},
    {"uk", 70, 60, 0.50},
    {"iec", 70, 61, NAN},
    {"iec", 70, 0, 1.22},
    {"iec", 90, 30, NAN},
};

START_TEST(ambient_factors_at_the_ends_of_their_bands)
{
    double got =
        reference_ambient_factor(factor_rows[_i].rules, factor_rows[_i].insulation_c, factor_rows[_i].ambient_c, NULL);
    if (isnan(factor_rows[_i].want)) {
        ck_assert(isnan(got));
    } else {
        ck_assert_double_eq(got, factor_rows[_i].want);
    }
}
END_TEST

START_TEST(us_ambient_factors_follow_their_formula)
{
    /* sqrt((Tc - Ta) / (Tc - 30)) at the warm end of each band; NEC equation 310.15(B)(2), printed to two decimals */
    for (size_t i = 0; i < ref_ambient_count; i++) {
        const struct ref_ambient *row = &ref_ambient_rows[i];
        if (strcmp(row->rules, "us") == 0 && row->to_c < row->insulation_temp_c) {
            double want = sqrt((row->insulation_temp_c - row->to_c) / (row->insulation_temp_c - 30));
            ck_assert_msg(fabs(row->factor - want) <= 0.0051, "%d C, up to %g C: %g, formula %g",
                          row->insulation_temp_c, row->to_c, row->factor, want);
        }
    }
}
END_TEST

START_TEST(small_conductors_have_their_own_limit)
{
    ck_assert_double_eq(reference_small_conductor("us", "14 AWG", "copper")->breaker_a, 15);
    ck_assert_double_eq(reference_small_conductor("us", "12 AWG", "copper")->breaker_a, 20);
    ck_assert_double_eq(reference_small_conductor("us", "10 AWG", "aluminium")->breaker_a, 25);
    ck_assert_ptr_null(reference_small_conductor("us", "8 AWG", "copper"));
    ck_assert_ptr_null(reference_small_conductor("iec", "14 AWG", "copper"));
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
    ck_assert_str_eq(reference_finding(1, "us")->severity, "danger");
    ck_assert_str_eq(reference_finding(2, "iec")->severity, "warning");
    ck_assert_ptr_null(reference_finding(4, "uk"));
    ck_assert_ptr_null(reference_finding(11, "us"));
    ck_assert_str_eq(reference_finding_variant(5, "us", "motor")->severity, "warning");
    ck_assert_str_eq(reference_finding_variant(5, "us", "next-size")->severity, "note");
    ck_assert_str_eq(reference_finding_variant(5, "uk", "no-table")->severity, "note");
    ck_assert_str_eq(reference_finding_variant(8, "uk", "mild")->severity, "warning");
    ck_assert_ptr_null(reference_finding(17, "us"));
}
END_TEST

START_TEST(protection_and_smallest_breakers)
{
    ck_assert_ptr_nonnull(reference_protection("us", "bathroom", "gfci"));
    ck_assert_ptr_null(reference_protection("us", "dedicated", "gfci"));
    ck_assert_ptr_nonnull(reference_protection("uk", "lighting", "rcd"));
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
        ck_assert_msg(strlen(caution) > 20 && isupper((unsigned char)caution[0]), "finding %d: %s",
                      ref_finding_rows[i].number, caution);
        ck_assert_msg(strstr(caution, " safe") == NULL && strstr(caution, "compl") == NULL, "%s", caution);
    }
}
END_TEST

Suite *make_suite(void)
{
    Suite *suite = suite_create("reference");
    TCase *tcase = tcase_create("reference");
    tcase_add_test(tcase, conductors_as_others_print_them);
    tcase_add_test(tcase, ampacity_by_ambient_as_a_manual_prints_it);
    tcase_add_test(tcase, service_conductors_follow_from_the_ampacities);
    tcase_add_test(tcase, trip_texts_at_the_published_limits);
    tcase_add_test(tcase, demand_tables_give_the_printed_cases);
    tcase_add_test(tcase, motor_currents_by_nearest_column);
    tcase_add_test(tcase, table_8_follows_from_the_conductivity_of_its_metals);
    tcase_add_test(tcase, every_area_is_that_of_its_name);
    tcase_add_loop_test(tcase, sizes_are_found_by_what_they_mean, 0, ROWS(size_rows));
    tcase_add_loop_test(tcase, neighbours_stand_in_the_same_series, 0, ROWS(neighbour_rows));
    tcase_add_test(tcase, no_neighbours_of_what_is_no_size);
    tcase_add_test(tcase, resistance_at_its_own_temperature_is_as_printed);
    tcase_add_loop_test(tcase, us_ampacities, 0, ROWS(us_rows));
    tcase_add_loop_test(tcase, iec_and_uk_ampacities, 0, ROWS(iec_rows));
    tcase_add_loop_test(tcase, ambient_factors_at_the_ends_of_their_bands, 0, ROWS(factor_rows));
    tcase_add_test(tcase, us_ambient_factors_follow_their_formula);
    tcase_add_test(tcase, small_conductors_have_their_own_limit);
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
