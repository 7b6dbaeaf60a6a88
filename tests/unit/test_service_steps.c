/* Demand as other countries count it: printed cases, and the edges of the steps. */
#include "ampsum/service_steps.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "fixture.h"
#include "runner.h"

enum { FIELDS_MAX = 7, INPUTS_MAX = 6, LINE_ROOM = 1024 };

/* What two loads beside a range add to a house that is above the least service. */
static double canada_others(const double *input)
{
    struct service_canada house = {.above_m2 = 269, .heating_w = 20000, .range_w = 11000, .other_w = input};
    const double without_w = service_canada_w(&house);
    house.other_count = 2;
    return service_canada_w(&house) - without_w;
}

/* cooling, range, full, two other loads, and 8,000 W of heating that is not interlocked with the cooling */
static double canada_house(const double *input)
{
    const struct service_canada house = {
        .above_m2 = 269,
        .heating_w = input[5],
        .cooling_w = input[0],
        .range_w = input[1],
        .full_w = input[2],
        .other_w = input + 3,
        .other_count = 2,
    };
    return service_canada_w(&house);
}

static double canada_least(const double *input)
{
    return service_canada_w(&(struct service_canada){.above_m2 = input[0]});
}

static double general(const double *input)
{
    return service_general_va("us", input[0], input[1]);
}

static double australia(const double *input)
{
    return service_australia_a(&(struct service_australia){
        .lighting_points = input[0],
        .outlet_10_points = input[1],
        .outlet_15_points = input[2],
        .cooking_a = input[3],
        .climate_a = input[4],
        .storage_a = input[5],
    });
}

static double building(const double *input)
{
    return service_building_a(service_building_va("de", input[0] > 0, 1), 400);
}

static double multifamily(const double *input)
{
    return service_multifamily_va("us", &(struct service_multifamily){.units = input[0], .unit_va = input[1]});
}

static double multifamily_a(const double *input)
{
    return multifamily(input) / 240;
}

static double supply_es(const double *input)
{
    return service_supply_a("es", input[0]);
}

static double supply_fr(const double *input)
{
    return service_supply_a("fr", input[0]);
}

/* `step-au-lighting`, `share-ca-range`: country and thing stand in the name. */
static double by_name(const char *what, double input)
{
    char country[3] = {0};
    const bool step = strncmp(what, "step-", 5) == 0;
    const char *rest = what + (step ? 5 : 6);
    ck_assert_msg(step || strncmp(what, "share-", 6) == 0, "%s", what);
    memcpy(country, rest, 2);
    return step ? service_step(country, rest + 3, input) : service_share(country, rest + 3, input);
}

static double figure_of(const char *what, const double *input)
{
    static const struct {
        const char *what;
        double (*figure)(const double *input);
    } figures[] = {
        {"canada-others", canada_others}, {"canada-house", canada_house},
        {"canada-least", canada_least},   {"general-us", general},
        {"australia", australia},         {"building-de", building},
        {"multifamily-us", multifamily},  {"multifamily-us-a", multifamily_a},
        {"supply-es", supply_es},         {"supply-fr", supply_fr},
    };
    for (size_t i = 0; i < sizeof figures / sizeof figures[0]; i++) {
        if (strcmp(figures[i].what, what) == 0) {
            return figures[i].figure(input);
        }
    }
    return by_name(what, input[0]);
}

/* id, what, input, want, tolerance, kind, source */
START_TEST(printed_cases_come_out)
{
    char path[LINE_ROOM];
    char line[LINE_ROOM];
    snprintf(path, sizeof path, "%s/outside/service-steps.tsv", getenv("AMPSUM_TESTS"));
    FILE *rows = fopen(path, "r");
    ck_assert_ptr_nonnull(rows);
    int count = 0;
    while (fgets(line, sizeof line, rows) != NULL) {
        char *field[FIELDS_MAX] = {0};
        char *parts[INPUTS_MAX] = {0};
        double input[INPUTS_MAX] = {0};
        line[strcspn(line, "\n")] = '\0';
        if (line[0] == '#' || strncmp(line, "id\t", 3) == 0) {
            continue;
        }
        ck_assert_int_eq(fixture_split(line, '\t', field, FIELDS_MAX), FIELDS_MAX);
        const int inputs = fixture_split(field[2], ' ', parts, INPUTS_MAX);
        for (int i = 0; i < inputs; i++) {
            input[i] = strtod(parts[i], NULL);
        }
        const double got = figure_of(field[1], input);
        const double want = strtod(field[3], NULL);
        ck_assert_msg(fabs(got - want) <= strtod(field[4], NULL) + 1e-9 * fabs(want), "%s: got %.10g, want %s (%s)",
                      field[0], got, field[3], field[6]);
        count++;
    }
    fclose(rows);
    ck_assert_int_ge(count, 36);
}
END_TEST

START_TEST(a_step_is_taken_by_its_first_part)
{
    ck_assert_double_eq(service_step("ca", "area", 0), 0);
    ck_assert_double_eq(service_step("ca", "area", 90), 5000);
    ck_assert_double_eq(service_step("ca", "area", 90.1), 6000);
    ck_assert_double_eq(service_step("ca", "area", 180), 6000);
    ck_assert_double_eq(service_step("ca", "area", nextafter(180, 200)), 6000); /* a hair of rounding */
    ck_assert_double_eq(service_step("au", "outlet-15", 0), 0);
    ck_assert(isnan(service_step("au", "area", 10)));
    ck_assert(isnan(service_step("zz", "lighting", 10)));
}
END_TEST

START_TEST(what_the_rows_do_not_have_is_no_figure)
{
    const double other_w = 5000;
    ck_assert(isnan(service_canada_w(&(struct service_canada){.above_m2 = 90, .other_w = &other_w, .other_count = 1})));
    ck_assert(isnan(service_multifamily_va("us", &(struct service_multifamily){.units = 2, .unit_va = 1})));
    ck_assert(isnan(service_multifamily_va("uk", &(struct service_multifamily){.units = 20, .unit_va = 1})));
    ck_assert(isnan(service_building_va("de", false, 11)));
    ck_assert(isnan(service_supply_a("es", 6000)));
    ck_assert(isnan(service_supply_step_va("fr", 12001)));
    ck_assert_double_eq(service_supply_step_va("fr", 7400), 9000);
}
END_TEST

/* Of heating and cooling that are never on together the larger counts; a basement counts three quarters. */
START_TEST(canada_takes_the_larger_of_what_is_interlocked)
{
    struct service_canada house = {.above_m2 = 300, .heating_w = 14000, .cooling_w = 6000};
    ck_assert_double_eq_tol(service_canada_w(&house), 8000 + 13000 + 6000, 1e-6);
    house.interlocked = true;
    house.basement_m2 = 100; /* 375 m2: one more step */
    house.full_w = 7200;
    ck_assert_double_eq_tol(service_canada_w(&house), 9000 + 13000 + 7200, 1e-6);
}
END_TEST

START_TEST(operators_ask_by_the_size_of_the_load)
{
    ck_assert(!service_notice("de", "tell", "vehicle", 3600));
    ck_assert(service_notice("de", "tell", "vehicle", 11000));
    ck_assert(!service_notice("de", "ask", "vehicle", 12000));
    ck_assert(service_notice("de", "ask", "vehicle", 22000));
    ck_assert(!service_notice("de", "tell", "vehicle", 22000));
    ck_assert(service_notice("de", "controllable", "vehicle", 4300));
    ck_assert(!service_notice("de", "controllable", "vehicle", 4200));
    ck_assert(service_notice("de", "unbalance", "one-phase", 7400));
    ck_assert(service_notice("fr", "subscribe", "vehicle", 7400));
    ck_assert(!service_notice("fr", "subscribe", "vehicle", 3700));
}
END_TEST

Suite *make_suite(void)
{
    Suite *suite = suite_create("service_steps");
    TCase *tcase = tcase_create("service_steps");
    tcase_add_test(tcase, printed_cases_come_out);
    tcase_add_test(tcase, a_step_is_taken_by_its_first_part);
    tcase_add_test(tcase, what_the_rows_do_not_have_is_no_figure);
    tcase_add_test(tcase, canada_takes_the_larger_of_what_is_interlocked);
    tcase_add_test(tcase, operators_ask_by_the_size_of_the_load);
    suite_add_tcase(suite, tcase);
    return suite;
}
