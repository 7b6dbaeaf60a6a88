/* The published tables: conductors, ampacities, ambient factors. */
#include <math.h>
#include <string.h>

#include "ampsum/reference.h"
#include "runner.h"

#define ROWS(table) ((int)(sizeof(table) / sizeof(table)[0]))

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
    {"2.5 mm2", "aluminium", NULL, "4 mm2"},
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
        if (isnan(row->resistance_ohm_per_km)) {
            /* IEC 60228 begins at 10 mm2 for aluminium */
            ck_assert(strcmp(row->metal, "aluminium") == 0 && row->area_mm2 < 10);
            ck_assert(isnan(reference_resistance_ohm_per_km(row, 70)));
            continue;
        }
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
    double got_a = reference_ampacity_us_a("us", us_rows[_i].size, us_rows[_i].metal, us_rows[_i].temp_c, &row);
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
    const char *insulation;
    const char *method;
    int loaded;
    double want_a;
} iec_rows[] = {
    /* IEC 60364-5-52:2009 B.52.2 to B.52.5; BS 7671 Table 4D5 for the flat twin; reprints */
    {"iec", "2.5 mm2", "copper", "pvc", "A1", 2, 19.5},    {"iec", "2.5 mm2", "copper", "pvc", "B2", 2, 23},
    {"iec", "1.5 mm2", "copper", "pvc", "B1", 3, 15.5},    {"iec", "2.5 mm2", "copper", "pvc", "C", 2, 27},
    {"iec", "16 mm2", "copper", "pvc", "D", 3, 64},        {"iec", "16 mm2", "copper", "pvc", "D1", 3, 64},
    {"iec", "10 mm2", "copper", "pvc", "D1", 2, 60},       {"iec", "16 mm2", "copper", "pvc", "D2", 3, 70},
    {"iec", "16 mm2", "aluminium", "pvc", "C", 2, 66},     {"iec", "2.5 mm2", "aluminium", "pvc", "B1", 2, 18.5},
    {"iec", "2.5 mm2", "aluminium", "pvc", "A2", 2, 14.5}, {"iec", "2.5 mm2", "aluminium", "pvc", "D2", 2, NAN},
    {"iec", "4 mm2", "copper", "xlpe", "B2", 2, 40},       {"iec", "4 mm2", "aluminium", "xlpe", "B2", 3, 28},
    {"iec", "1 mm2", "copper", "pvc", "C", 2, NAN},        {"iec", "1.5 mm2", "copper", "pvc", "C", 2, 19.5},
    {"iec", "2.5 mm2", "copper", "pvc", "100", 2, NAN},    {"iec", "2.5 mm2", "copper", "pvc", "A", 2, NAN},
    {"uk", "1 mm2", "copper", "pvc", "C", 2, 16},          {"uk", "1.5 mm2", "copper", "pvc", "C", 2, 20},
    {"uk", "6 mm2", "copper", "pvc", "C", 2, 47},          {"uk", "6 mm2", "copper", "xlpe", "C", 2, 47},
    {"uk", "6 mm2", "copper", "pvc", "C", 3, 41},          {"uk", "6 mm2", "copper", "pvc", "B2", 2, 38},
    {"uk", "6 mm2", "copper", "pvc", "B", 2, 38},          {"uk", "25 mm2", "copper", "pvc", "C", 2, 112},
    {"uk", "2.5 mm2", "copper", "pvc", "A", 2, 20},        {"uk", "25 mm2", "copper", "pvc", "A", 2, 75},
    {"uk", "2.5 mm2", "copper", "pvc", "101", 2, 17},      {"uk", "2.5 mm2", "copper", "pvc", "103", 2, 13.5},
    {"uk", "25 mm2", "copper", "pvc", "103", 2, NAN},      {"uk", "2.5 mm2", "copper", "pvc", "103", 3, NAN},
    {"uk", "16 mm2", "aluminium", "pvc", "C", 2, 66},      {"iec", "12 AWG", "copper", "pvc", "C", 2, NAN},
    {"uk", "4 mm2", "aluminium", "pvc", "C", 2, 28},       {"us", "4 mm2", "copper", "pvc", "C", 2, NAN},
    {"iec", "4 mm2", "copper", "pvc", "E", 2, NAN},        {"iec", "4 mm2", "copper", "pvc", "C", 4, NAN},
    {"iec", "4 mm2", "copper", "rubber", "C", 2, NAN},
};

START_TEST(iec_and_uk_ampacities)
{
    struct reference_ampacity got =
        reference_ampacity_iec(iec_rows[_i].rules, iec_rows[_i].size, iec_rows[_i].metal, iec_rows[_i].insulation,
                               iec_rows[_i].method, iec_rows[_i].loaded);
    if (isnan(iec_rows[_i].want_a)) {
        ck_assert(isnan(got.ampacity_a));
        ck_assert_ptr_null(got.source);
    } else {
        ck_assert_double_eq(got.ampacity_a, iec_rows[_i].want_a);
        ck_assert_int_eq(got.insulation_temp_c, got.flat_twin || iec_rows[_i].insulation[0] == 'p' ? 70 : 90);
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
    {"iec", 90, 30, 1.00},
    {"iec", 90, 40, 0.91},
    {"iec", 75, 30, NAN},
    /* BS 7671 Table 4B1 begins at 25 degree C */
    {"uk", 70, 25, 1.03},
    {"uk", 70, 0, 1.03},
    {"uk", 70, 26, 1.00},
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

START_TEST(ambient_factors_follow_their_formula)
{
    /* sqrt((Tc - Ta) / (Tc - T0)) at the warm end of each band, T0 30 in air, 20 in the ground; NEC equation
     * 310.15(B)(2), printed to two decimals; IEC tables follow the same law of heat, the British one below 30 does not
     */
    for (size_t i = 0; i < ref_ambient_count; i++) {
        const struct ref_ambient *row = &ref_ambient_rows[i];
        bool british = strcmp(row->rules, "uk") == 0 && row->to_c < 30 && strcmp(row->medium, "air") == 0;
        if (row->to_c < row->insulation_temp_c && !british) {
            double table_c = strcmp(row->medium, "air") == 0 ? 30 : 20;
            double want = sqrt((row->insulation_temp_c - row->to_c) / (row->insulation_temp_c - table_c));
            ck_assert_msg(fabs(row->factor - want) <= 0.0055, "%s %d C, up to %g C: %g, formula %g", row->rules,
                          row->insulation_temp_c, row->to_c, row->factor, want);
        }
    }
}
END_TEST

START_TEST(the_ground_has_factors_of_its_own)
{
    /* IEC 60364-5-52:2009 B.52.15, B.52.16; reprints */
    ck_assert_double_eq(reference_ground_factor("iec", 70, 20, NULL), 1);
    ck_assert_double_eq(reference_ground_factor("uk", 70, 21, NULL), 0.95);
    ck_assert_double_eq(reference_ground_factor("iec", 90, -5, NULL), 1.07);
    ck_assert(isnan(reference_ground_factor("iec", 70, 51, NULL)));
    ck_assert(isnan(reference_ground_factor("us", 75, 20, NULL)));
    ck_assert_double_eq(reference_soil_factor("iec", "D", 2.5), 1);
    ck_assert_double_eq(reference_soil_factor("iec", "D1", 1), 1.18);
    ck_assert_double_eq(reference_soil_factor("uk", "D2", 1.2), 1.28);
    ck_assert_double_eq(reference_soil_factor("iec", "D2", 0.1), 1.88);
    ck_assert(isnan(reference_soil_factor("iec", "D1", 3.1)));
    ck_assert(isnan(reference_soil_factor("iec", "C", 2.5)));
}
END_TEST

static const struct {
    const char *rules;
    const char *method;
    int count;
    double want;
} bundle_rows[] = {
    /* Table 310.15(C)(1) in conductors; 4C1 and B.52.17 item 1 in circuits; buried circuits that touch */
    {"us", NULL, 3, 1},      {"us", NULL, 4, 0.8},   {"us", NULL, 6, 0.8},   {"us", NULL, 9, 0.7},
    {"us", NULL, 10, 0.5},   {"us", NULL, 21, 0.45}, {"us", NULL, 40, 0.4},  {"us", NULL, 41, 0.35},
    {"uk", "C", 1, 1},       {"uk", "C", 6, 0.57},   {"uk", "103", 7, 0.54}, {"uk", "C", 10, 0.45},
    {"iec", "B2", 20, 0.38}, {"iec", "B2", 21, NAN}, {"iec", "D", 2, 0.85},  {"iec", "D1", 6, 0.6},
    {"iec", "D2", 2, 0.75},  {"uk", "D2", 7, NAN},
};

START_TEST(bundles_take_from_the_ampacity)
{
    const struct ref_bundle *row =
        reference_bundle(bundle_rows[_i].rules, bundle_rows[_i].method, bundle_rows[_i].count);
    ck_assert_int_eq(row == NULL, isnan(bundle_rows[_i].want) != 0);
    if (row != NULL) {
        ck_assert_double_eq(row->factor, bundle_rows[_i].want);
    }
}
END_TEST

START_TEST(thermal_insulation_takes_from_the_ampacity)
{
    /* BS 7671 523.9: 100 mm and 500 mm read */
    ck_assert_double_eq(reference_in_insulation_factor("uk", "C", 0), 1);
    ck_assert_double_eq(reference_in_insulation_factor("uk", "C", 0.05), 0.88);
    ck_assert_double_eq(reference_in_insulation_factor("uk", "C", 0.1), 0.78);
    ck_assert_double_eq(reference_in_insulation_factor("uk", "B", 0.5), 0.5);
    ck_assert_double_eq(reference_in_insulation_factor("iec", "B1", 0.21), 0.51);
    ck_assert_double_eq(reference_in_insulation_factor("iec", "A1", 0.5), 1);
    ck_assert_double_eq(reference_in_insulation_factor("uk", "101", 0.5), 1);
    ck_assert_double_eq(reference_in_insulation_factor("uk", "D1", 0.5), 1);
}
END_TEST

START_TEST(kinds_of_cable_have_a_column_and_a_cap)
{
    ck_assert_int_eq(reference_cable("us", "nm-b")->insulation_temp_c, 90);
    ck_assert_double_eq(reference_cable("us", "nm-b")->cap_temp_c, 60);
    ck_assert(isnan(reference_cable("us", "thhn")->cap_temp_c));
    ck_assert_int_eq(reference_cable("us", "thwn")->insulation_temp_c, 75);
    ck_assert_ptr_null(reference_cable("us", "rope"));
    ck_assert_ptr_null(reference_cable("uk", "nm-b"));
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

Suite *make_suite(void)
{
    Suite *suite = suite_create("reference_wire");
    TCase *tcase = tcase_create("reference_wire");
    tcase_add_test(tcase, table_8_follows_from_the_conductivity_of_its_metals);
    tcase_add_test(tcase, every_area_is_that_of_its_name);
    tcase_add_loop_test(tcase, sizes_are_found_by_what_they_mean, 0, ROWS(size_rows));
    tcase_add_loop_test(tcase, neighbours_stand_in_the_same_series, 0, ROWS(neighbour_rows));
    tcase_add_test(tcase, no_neighbours_of_what_is_no_size);
    tcase_add_test(tcase, resistance_at_its_own_temperature_is_as_printed);
    tcase_add_loop_test(tcase, us_ampacities, 0, ROWS(us_rows));
    tcase_add_loop_test(tcase, iec_and_uk_ampacities, 0, ROWS(iec_rows));
    tcase_add_loop_test(tcase, ambient_factors_at_the_ends_of_their_bands, 0, ROWS(factor_rows));
    tcase_add_test(tcase, ambient_factors_follow_their_formula);
    tcase_add_test(tcase, the_ground_has_factors_of_its_own);
    tcase_add_loop_test(tcase, bundles_take_from_the_ampacity, 0, ROWS(bundle_rows));
    tcase_add_test(tcase, thermal_insulation_takes_from_the_ampacity);
    tcase_add_test(tcase, kinds_of_cable_have_a_column_and_a_cap);
    tcase_add_test(tcase, small_conductors_have_their_own_limit);
    suite_add_tcase(suite, tcase);
    return suite;
}
