/* May the service carry one more load: printed cases, what must hold of any house, conditions, findings, bad input. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "ampsum/service.h"
#include "fixture.h"
#include "read_house.h"
#include "service_houses.h"

enum { FIELDS_MAX = 9, LINE_ROOM = 1024, HOUSES = 60 };

/* ------------------------------------------------------------------ helpers ------------------------------- */

static struct house *read_case(const char *name)
{
    struct house *house = read_named(service_houses, sizeof service_houses / sizeof service_houses[0], name);
    house = house != NULL ? house : read_named(demand_houses, sizeof demand_houses / sizeof demand_houses[0], name);
    ck_assert_msg(house != NULL, "no case %s", name);
    return house;
}

static struct service *answer_to(const struct service_question *question)
{
    struct service *service = NULL;
    struct error error = {0};
    ck_assert_msg(service_of(question, &service, &error), "%s", error_message(&error));
    return service;
}

static struct service_question asking(const struct house *house, size_t added)
{
    struct service_question question = service_question(house);
    question.added_from = added > 0 ? house->appliance_count - added : NO_INDEX;
    return question;
}

static void measure(struct service_question *question, double largest_va)
{
    question->measured.from = SERVICE_MEASURED_FIGURE;
    question->measured.largest_va = largest_va;
}

/* Readings that a year's demand may be taken from. */
static void measure_year(struct service_question *question, double largest_va)
{
    question->measured = (struct service_measured){
        .from = SERVICE_MEASURED_READINGS,
        .largest_va = largest_va,
        .span_days = 365,
        .full_days = 365,
        .interval_min = 15,
        .missing_percent = 0,
        .months = MONTHS_ALL,
    };
}

static const struct finding *found(const struct service *service, const char *id)
{
    for (size_t i = 0; i < service->findings.count; i++) {
        if (strcmp(service->findings.finding[i].id, id) == 0) {
            return &service->findings.finding[i];
        }
    }
    return NULL;
}

static void assert_close(const char *what, double got, double want)
{
    ck_assert_msg(fabs(got - want) <= 1e-9 * fmax(1, fabs(want)), "%s: got %.12g, want %.12g", what, got, want);
}

/* ------------------------------------------------------------------ printed cases ------------------------- */

static double line_va(const struct service_method *method, const char *what)
{
    for (size_t i = 0; i < method->demand->lines.count; i++) {
        if (strcmp(method->demand->lines.line[i].what, what) == 0) {
            return method->demand->lines.line[i].counted_va;
        }
    }
    return NAN;
}

static double column_of(const struct service *service, const struct service_method *method, const char *column)
{
    const struct {
        const char *name;
        double value;
    } columns[] = {
        {"total_va", method->total_va},
        {"current_a", method->current_a},
        {"headroom_a", method->headroom_a},
        {"whole_a", service_whole_a(method->current_a)},
        {"fits", method->fits},
        {"near", method->near},
        {"applies", method->applies},
        {"largest_va", method->largest.va},
        {"largest_a", method->largest.current_a},
        {"setting_a", method->largest.setting_a},
        {"others_va", method->group.others_va},
        {"others_a", method->group.others_a},
        {"free_a", method->group.free_a},
        {"rating_va", service->rating_va},
        {"most_setpoint_a", service->setpoint.most_a},
        {"added_va", service->added_count > 0 ? service->added[0].load_va : NAN},
    };
    for (size_t i = 0; i < sizeof columns / sizeof columns[0]; i++) {
        if (strcmp(columns[i].name, column) == 0) {
            return columns[i].value;
        }
    }
    ck_assert_msg(strncmp(column, "line ", 5) == 0, "no column %s", column);
    return line_va(method, column + 5);
}

/* `added=1 measured_va=9600`, or `-`. */
static struct service_question read_question(const struct house *house, char *text)
{
    struct service_question question = service_question(house);
    char *parts[4] = {0};
    const int count = strcmp(text, "-") == 0 ? 0 : fixture_split(text, ' ', parts, 4);
    for (int i = 0; i < count && parts[i] != NULL; i++) {
        const char *value = strchr(parts[i], '=') + 1;
        if (strncmp(parts[i], "added=", 6) == 0) {
            question.added_from = house->appliance_count - strtoul(value, NULL, 10);
        } else {
            ck_assert_msg(strncmp(parts[i], "measured_va=", 12) == 0, "%s", parts[i]);
            measure(&question, strtod(value, NULL));
        }
    }
    return question;
}

/* id, case, method, question, column, want, tolerance, kind, source */
static void outside_row(char *const *field)
{
    struct house *house = read_case(field[1]);
    struct service_question question = read_question(house, field[3]);
    question.method = service_method_from_word(field[2]);
    struct service *service = answer_to(&question);
    const struct service_method *method = service_method(service, question.method);
    ck_assert_msg(method != NULL && method->applies, "%s: %s does not apply", field[0], field[2]);
    const double got = column_of(service, method, field[4]);
    const double want = strtod(field[5], NULL);
    ck_assert_msg(fabs(got - want) <= strtod(field[6], NULL) + 1e-9 * fabs(want), "%s: got %.10g, want %s (%s)",
                  field[0], got, field[5], field[8]);
    service_free(service);
    house_free(house);
}

START_TEST(printed_cases_come_out)
{
    char path[LINE_ROOM];
    char line[LINE_ROOM];
    snprintf(path, sizeof path, "%s/outside/service.tsv", getenv("AMPSUM_TESTS"));
    FILE *rows = fopen(path, "r");
    ck_assert_ptr_nonnull(rows);
    int count = 0;
    while (fgets(line, sizeof line, rows) != NULL) {
        if (line[0] == '#' || strncmp(line, "id\t", 3) == 0) {
            continue;
        }
        line[strcspn(line, "\n")] = '\0';
        char *fields[FIELDS_MAX] = {0};
        ck_assert_int_eq(fixture_split(line, '\t', fields, FIELDS_MAX), FIELDS_MAX);
        outside_row(fields);
        count++;
    }
    fclose(rows);
    ck_assert_int_ge(count, 53);
}
END_TEST

/* ------------------------------------------------------------------ generated houses ---------------------- */

/* A house of loads of many kinds, the last `added` of them on branches of their own; room heaters by their number make
 * the published shares fall, so they are left out where `plain`. */
static struct house *any_house(uint64_t *state, const char *rules, size_t loads, size_t added, bool plain)
{
    static const char *const kinds[] = {"range",   "dryer",         "vehicle",      "air-conditioning",
                                        "cooking", "water-heating", "motor",        "lighting",
                                        "other",   "heat-pump",     "space-heating"};
    const bool us = strcmp(rules, "us") == 0;
    struct text text = {0};
    text_printf(&text, "[house]\nname = x\nrules = %s\nmain_breaker = %u A\nfloor_area = %u\n", rules,
                100 + 25 * fixture_random(state, 12), us ? 800 + fixture_random(state, 3000) : 80);
    for (size_t i = 0; i < loads + added; i++) {
        const bool pair = us && fixture_random(state, 2) == 0;
        text_printf(&text, "[branch b%zu]\nlabel = b\nbreaker = 40 A\npurpose = dedicated\n%s", i,
                    !us    ? ""
                    : pair ? "poles = 2\nlegs = AB\n"
                           : "legs = A\n");
        text_printf(&text, "[appliance a%zu]\nname = a%zu\nbranch = b%zu\npower = %u W\ncategory = %s\n%s", i, i, i,
                    100 + fixture_random(state, 6000), kinds[fixture_random(state, plain ? 9 : 11)],
                    fixture_random(state, 2) == 0 ? "fixed = yes\n" : "");
    }
    struct house *house = read_text(text_string(&text));
    text_done(&text);
    return house;
}

static const char *const rule_sets[] = {"us", "uk", "iec"};

/* Every figure of an answer agrees with the others. */
static void check_answer(const struct service *service)
{
    for (size_t i = 0; i < service->method_count; i++) {
        const struct service_method *method = &service->methods[i];
        ck_assert_int_eq(method->applies, method->reason == SERVICE_APPLIES);
        ck_assert_int_eq(method->applies, method->why_not == NULL);
        ck_assert(method->applies || (isnan(method->total_va) && isnan(method->largest.va) && !method->fits));
        if (!method->applies) {
            continue;
        }
        assert_close("current", method->current_a, method->total_va / service->divisor_v);
        assert_close("headroom", method->headroom_a, service->rating_a - method->current_a);
        assert_close("headroom", method->headroom_va, service->rating_va - method->total_va);
        ck_assert_int_eq(method->fits, method->current_a <= service->rating_a * (1 + 1e-9));
        assert_close("lines", method->total_va, method->demand->total_va);
        ck_assert(method->largest.va >= 0);
    }
}

START_TEST(any_answer_agrees_with_itself)
{
    uint64_t state = 11;
    for (int i = 0; i < HOUSES; i++) {
        struct house *house = any_house(&state, rule_sets[i % 3], 1 + fixture_random(&state, 9), 1, false);
        struct service_question question = asking(house, 1);
        measure_year(&question, 1000 + fixture_random(&state, 20000));
        struct service *service = answer_to(&question);
        check_answer(service);
        service_free(service);
        house_free(house);
    }
}
END_TEST

/* Put back, the largest load gives the rating itself. */
START_TEST(the_largest_load_put_back_gives_the_rating)
{
    uint64_t state = 12;
    int checked = 0;
    for (int i = 0; i < HOUSES; i++) {
        struct house *house = any_house(&state, rule_sets[i % 3], 1 + fixture_random(&state, 6), 1, true);
        struct service_question question = asking(house, 1);
        question.house = house;
        struct appliance *load = &house->appliances[house->appliance_count - 1];
        load->category = CATEGORY_OTHER;
        load->fixed = 1;
        measure(&question, 1000 + fixture_random(&state, 5000));
        struct service *service = answer_to(&question);
        for (size_t m = 0; m < service->method_count; m++) {
            const struct service_method *method = &service->methods[m];
            /* With fewer than four large appliances the standard method steps down where the load becomes large. */
            if (!method->applies || !(method->largest.va > 500)) {
                continue;
            }
            load->rating = RATING_APPARENT;
            load->apparent_va = method->largest.va;
            const struct demand_options options = {.method = method->method,
                                                   .measured_va = question.measured.largest_va,
                                                   .added_from = question.added_from};
            const double back_va = demand_total_va(house, &options);
            ck_assert_msg(fabs(back_va - service->rating_va) <= 1e-9 * service->rating_va, "%s: %.12g, rating %.12g",
                          method->word, back_va, service->rating_va);
            checked++;
        }
        service_free(service);
        house_free(house);
    }
    ck_assert_int_ge(checked, HOUSES);
}
END_TEST

/* By the methods for what is there; room heaters apart, whose share falls with their number by the published rule. */
START_TEST(one_more_load_never_lowers_the_demand)
{
    uint64_t state = 13;
    static const enum demand_method methods[] = {DEMAND_OPTIONAL, DEMAND_EXISTING, DEMAND_MEASURED};
    for (int i = 0; i < HOUSES; i++) {
        struct house *house = any_house(&state, "us", 2 + fixture_random(&state, 6), 2, true);
        const size_t count = house->appliance_count;
        struct service_question question = asking(house, 2);
        measure(&question, 4000);
        const size_t last = count - 1;
        struct service *two = answer_to(&question);
        question.removed = &last;
        question.removed_count = 1;
        struct service *one = answer_to(&question);
        for (size_t m = 0; m < sizeof methods / sizeof methods[0]; m++) {
            const double more_va = service_method(two, methods[m])->total_va;
            const double less_va = service_method(one, methods[m])->total_va;
            ck_assert_msg(more_va >= less_va * (1 - 1e-9), "%s: %g then %g", demand_method_word(methods[m]), less_va,
                          more_va);
        }
        ck_assert_uint_eq(one->added_count, 1);
        service_free(one);
        service_free(two);
        house_free(house);
    }
}
END_TEST

START_TEST(without_heating_the_existing_method_gives_no_more_than_the_optional)
{
    uint64_t state = 14;
    for (int i = 0; i < HOUSES; i++) {
        struct house *house = any_house(&state, "us", 3 + fixture_random(&state, 6), 0, true);
        for (size_t a = 0; a < house->appliance_count; a++) {
            const bool cools = house->appliances[a].category == CATEGORY_AIR_CONDITIONING;
            house->appliances[a].category = cools ? (int)CATEGORY_OTHER : house->appliances[a].category;
        }
        struct service_question question = asking(house, 0);
        struct service *service = answer_to(&question);
        const double existing_va = service_method(service, DEMAND_EXISTING)->total_va;
        const double optional_va = service_method(service, DEMAND_OPTIONAL)->total_va;
        ck_assert(existing_va <= optional_va * (1 + 1e-9));
        service_free(service);
        house_free(house);
    }
}
END_TEST

START_TEST(the_order_of_the_loads_does_not_matter)
{
    uint64_t state = 15;
    for (int i = 0; i < HOUSES; i++) {
        struct house *house = any_house(&state, rule_sets[i % 3], 6, 0, false);
        struct service_question question = asking(house, 0);
        struct service *before = answer_to(&question);
        for (size_t a = 0; a < 3; a++) { /* the loads keep their branches, the branches change places */
            struct branch branch = house->branches[a];
            house->branches[a] = house->branches[5 - a];
            house->branches[5 - a] = branch;
            house->appliances[house->branches[a].appliances.index[0]].branch = a;
            house->appliances[house->branches[5 - a].appliances.index[0]].branch = 5 - a;
        }
        struct service *after = answer_to(&question);
        for (size_t m = 0; m < before->method_count; m++) {
            if (before->methods[m].applies) {
                assert_close(before->methods[m].word, after->methods[m].total_va, before->methods[m].total_va);
            }
        }
        service_free(before);
        service_free(after);
        house_free(house);
    }
}
END_TEST

/* ------------------------------------------------------------------ which methods apply ------------------- */

static enum service_reason reason_in(const struct house *house, const struct service_question *question,
                                     enum demand_method method)
{
    (void)house;
    struct service *service = answer_to(question);
    const enum service_reason reason = service_method(service, method)->reason;
    service_free(service);
    return reason;
}

START_TEST(a_method_that_does_not_apply_says_why)
{
    static const struct {
        const char *text;
        enum demand_method method;
        enum service_reason reason;
    } rows[] = {
        {SERVICE("60"), DEMAND_OPTIONAL, SERVICE_TOO_SMALL},
        {SERVICE("100"), DEMAND_OPTIONAL, SERVICE_APPLIES},
        {SERVICE("60"), DEMAND_EXISTING, SERVICE_APPLIES},
        {SMALL_US("60"), DEMAND_EXISTING, SERVICE_NO_AREA},
        {SMALL_US("200"), DEMAND_OPTIONAL, SERVICE_NO_AREA},
        {SMALL_US("200"), DEMAND_STANDARD, SERVICE_NO_AREA},
        {SMALL_US("200"), DEMAND_MEASURED, SERVICE_NO_MEASUREMENT},
        {SERVICE("200") "system = three-phase\n", DEMAND_OPTIONAL, SERVICE_NOT_THREE_WIRE},
        {SERVICE("200") "system = three-phase\n", DEMAND_EXISTING, SERVICE_NOT_THREE_WIRE},
        {SERVICE("200") "system = single-phase\n", DEMAND_EXISTING, SERVICE_NOT_THREE_WIRE},
        {SERVICE("200") "system = three-phase\n", DEMAND_STANDARD, SERVICE_APPLIES},
    };
    struct house *house = read_text(rows[_i].text);
    struct service_question question = service_question(house);
    ck_assert_int_eq(reason_in(house, &question, rows[_i].method), rows[_i].reason);
    house_free(house);
}
END_TEST

START_TEST(the_reason_is_said_with_its_figures)
{
    struct house *house = read_text(SMALL_US("60"));
    struct service_question question = service_question(house);
    struct service *service = answer_to(&question);
    ck_assert_str_eq(service_method(service, DEMAND_EXISTING)->why_not, "floor_area is missing");
    const struct service_method *optional = service_method(service, DEMAND_OPTIONAL);
    ck_assert_str_eq(optional->why_not, "220.82 is for a service of 100 A or more; this one is 60 A");
    assert_close("value", optional->value, 60);
    assert_close("limit", optional->limit, 100);
    service_free(service);
    house_free(house);
}
END_TEST

/* A year of readings, or thirty full days; a bare figure is taken for the year's maximum. */
START_TEST(readings_must_be_long_enough)
{
    static const struct {
        double span_days, full_days;
        bool applies;
    } rows[] = {{365, 365, true}, {364.5, 200, true}, {364.4, 29, false}, {364.4, 30, true},
                {30.5, 30, true}, {30.5, 29, false},  {7, 7, false}};
    struct house *house = read_text(SERVICE("100"));
    struct service_question question = service_question(house);
    measure_year(&question, 5000);
    question.measured.span_days = rows[_i].span_days;
    question.measured.full_days = rows[_i].full_days;
    struct service *service = answer_to(&question);
    const struct service_method *measured = service_method(service, DEMAND_MEASURED);
    ck_assert_int_eq(measured->applies, rows[_i].applies);
    ck_assert_int_eq(found(service, "measured-short") != NULL, !rows[_i].applies);
    if (!rows[_i].applies) {
        ck_assert_int_eq(measured->reason, SERVICE_READINGS_SHORT);
        assert_close("days", measured->value, rows[_i].full_days);
        ck_assert(isnan(measured->total_va) && isnan(measured->largest.va));
    }
    service_free(service);
    house_free(house);
}
END_TEST

START_TEST(own_generation_forbids_a_metered_maximum)
{
    for (int i = 0; i < 3; i++) {
        struct house *house = read_text(i == 0 ? SERVICE("100") "generation = yes\n" : SERVICE("100"));
        struct service_question question = service_question(house);
        measure_year(&question, 5000);
        question.measured.fed_back = i == 1;
        struct service *service = answer_to(&question);
        const struct finding *finding = found(service, "measured-not-allowed");
        ck_assert_int_eq(service_method(service, DEMAND_MEASURED)->applies, i == 2);
        ck_assert_int_eq(finding != NULL, i < 2);
        ck_assert(finding == NULL || (finding->severity == SEVERITY_WARNING && strstr(finding->source, "220.87")));
        service_free(service);
        house_free(house);
    }
}
END_TEST

/* ------------------------------------------------------------------ readings ------------------------------ */

enum { QUARTER_S = 900, DAY_QUARTERS = 96 };

/* Readings of a quarter of an hour, 100 Wh each, from 2025-01-01 00:00 local time, one hour ahead of UTC. */
static struct meter_reading *new_readings(size_t count)
{
    struct meter_reading *readings = calloc(count, sizeof *readings);
    ck_assert_ptr_nonnull(readings);
    for (size_t i = 0; i < count; i++) {
        readings[i] = (struct meter_reading){.start_s = 1735686000 + (int64_t)i * QUARTER_S,
                                             .energy_uwh = (int64_t)100 * METER_UWH_PER_WH,
                                             .duration_s = QUARTER_S,
                                             .utc_offset_s = 3600};
    }
    return readings;
}

/* Means over twice the time are never higher. */
START_TEST(a_longer_interval_never_gives_more)
{
    uint64_t state = 21;
    const size_t all = (size_t)40 * DAY_QUARTERS;
    struct meter_reading *readings = new_readings(all);
    double before_w = INFINITY;
    for (size_t i = 0; i < all; i++) {
        readings[i].energy_uwh = (int64_t)fixture_random(&state, 3000) * METER_UWH_PER_WH;
    }
    for (size_t at = 0; at < METER_DEMANDS; at++) { /* 15, 30, 60 minutes */
        const size_t count = all >> at;
        struct meter_figures figures;
        meter_figures(readings, count, &figures);
        ck_assert(figures.demand_w[at] > 0 && figures.demand_w[at] <= before_w);
        before_w = figures.demand_w[at];
        for (size_t i = 0; i < count / 2; i++) {
            const int64_t second_uwh = readings[2 * i + 1].energy_uwh;
            readings[i] = readings[2 * i];
            readings[i].duration_s *= 2;
            readings[i].energy_uwh += second_uwh;
        }
    }
    free(readings);
}
END_TEST

/* ------------------------------------------------------------------ charging that gives way --------------- */

#define HEATING "category = space-heating\n"
#define EVENING(keys)                                                                                                  \
    SERVICE("100")                                                                                                     \
    PAIR("pair") LOAD("heat", "Heater", "pair", "power = 6 kW\nfixed = yes\nuse = 18:00-22:00\n" HEATING keys)
#define NIGHT_CAR(keys) CHARGER("power = 7.2 kW\nuse = 18:00-06:00\n" keys)

static const struct {
    const char *text;
    double setpoint_a, wanted_kwh, kwh, short_kwh, hours, charging_hours;
} charges[] = {
    /* 40 A: 9.6 kVA, so 3.6 kW beside the heater until 22:00, then all of 7.2 kW */
    {EVENING("") NIGHT_CAR(""), 40, 30, 30, 0, 4 + 15.6 / 7.2, 4 + 15.6 / 7.2},
    {EVENING("") NIGHT_CAR(""), 40, 80, 72, 8, 12, 12},
    {EVENING("") NIGHT_CAR(""), 40, NAN, 72, 0, 12, 12},
    /* on or off: nothing beside the heater */
    {EVENING("") NIGHT_CAR("control = on-off\n"), 40, 30, 30, 0, 4 + 30 / 7.2, 30 / 7.2},
    /* 30 A: 1.2 kVA is below 6 A at 240 V */
    {EVENING("") NIGHT_CAR(""), 30, 60, 57.6, 2.4, 12, 8},
    /* 31 A: 1.44 kVA is 6 A */
    {EVENING("") NIGHT_CAR(""), 31, NAN, 4 * 1.44 + 57.6, 0, 12, 12},
    /* what is switched off still draws its standby: 9.6 - 0.6 kVA from 22:00 on are enough */
    {EVENING("standby = 600 W\n") NIGHT_CAR(""), 28, NAN, 8 * 6.12, 0, 12, 8},
    {EVENING("standby = 600 W\n") NIGHT_CAR(""), 40, NAN, 72, 0, 12, 12}, /* and none beside what it draws */
    /* the heater is on half of its time */
    {EVENING("duty = 50 %\n") NIGHT_CAR(""), 30, NAN, 4 * 4.2 + 57.6, 0, 12, 12},
};

/* Energy that is asked for and goes nowhere is said, not passed over. */
START_TEST(energy_for_no_vehicle_is_said)
{
    static const char *const cars[] = {(NIGHT_CAR("control = none\n")), (NIGHT_CAR("control = setpoint\n"))};
    for (size_t i = 0; i < 2; i++) {
        struct text text = {0};
        text_printf(&text, "%s%s", EVENING(""), cars[i]);
        struct house *house = read_text(text_string(&text));
        struct service_question question = asking(house, 1);
        question.wanted_kwh = 10;
        struct service *service = answer_to(&question);
        bool said = false;
        for (size_t k = 0; service->notes[k] != NULL; k++) {
            said = said || strstr(service->notes[k], "no vehicle gives way") != NULL;
        }
        ck_assert_msg(said == (i == 0), "%zu", i);
        service_free(service);
        house_free(house);
        text_done(&text);
    }
}
END_TEST

START_TEST(a_vehicle_that_gives_way_gets_what_is_left)
{
    struct house *house = read_text(charges[_i].text);
    struct service_question question = asking(house, 1);
    question.setpoint_a = charges[_i].setpoint_a;
    question.wanted_kwh = charges[_i].wanted_kwh;
    struct service *service = answer_to(&question);
    const struct service_managed *managed = service->managed;
    ck_assert_ptr_nonnull(managed);
    assert_close("kwh", managed->kwh, charges[_i].kwh);
    assert_close("short", managed->short_kwh, charges[_i].short_kwh);
    ck_assert_msg(fmod(charges[_i].hours * 60, 1) != 0 || managed->hours == charges[_i].hours, "%.17g h",
                  managed->hours); /* whole minutes to the last digit */
    assert_close("hours", managed->hours, charges[_i].hours);
    assert_close("charging", managed->charging_hours, charges[_i].charging_hours);
    ck_assert_int_eq(managed->busiest_min, 18 * 60);
    ck_assert_int_eq(managed->ready_min, 6 * 60);
    ck_assert_uint_eq(managed->left_out_count, 0);
    ck_assert_int_eq(found(service, "car-not-full") != NULL, charges[_i].short_kwh > 0);
    service_free(service);
    house_free(house);
}
END_TEST

/* The day on which the most is missing; what has no time is off, and named. */
START_TEST(the_worst_day_is_told)
{
    struct house *house =
        read_text(EVENING("days = wed\nmonths = feb\n") LOAD("lamp", "Lamp", "pair", "power = 60 W\n") NIGHT_CAR(""));
    struct service_question question = asking(house, 1);
    question.setpoint_a = 31;
    question.wanted_kwh = 80;
    struct service *service = answer_to(&question);
    ck_assert_int_eq(service->managed->month, 1);
    ck_assert_int_eq(service->managed->weekday, 2);
    assert_close("short", service->managed->short_kwh, 80 - 57.6 - 4 * 1.44);
    ck_assert_uint_eq(service->managed->left_out_count, 1);
    ck_assert_str_eq(house->appliances[service->managed->left_out[0]].id, "lamp");
    service_free(service);
    question.setpoint_a = NAN; /* nothing gives way */
    service = answer_to(&question);
    ck_assert_ptr_null(service->managed);
    service_free(service);
    house_free(house);
}
END_TEST

static double managed_kwh(const char *text, size_t added, const size_t *removed)
{
    struct house *house = read_text(text);
    struct service_question question = asking(house, added);
    question.setpoint_a = 31;
    question.removed = removed;
    question.removed_count = removed != NULL ? 1 : 0;
    struct service *service = answer_to(&question);
    const double kwh = service->managed != NULL ? service->managed->kwh : NAN;
    service_free(service);
    house_free(house);
    return kwh;
}

/* Days on which the car is not there, a Sunday night that runs into Monday, what is taken away, a car without control.
 */
START_TEST(only_the_days_and_loads_in_question_count)
{
    static const size_t heater = 0;
    assert_close("all of it", managed_kwh(EVENING("") NIGHT_CAR(""), 1, &heater), 12 * 7.2);
    assert_close("on the weekend", managed_kwh(EVENING("days = wed\n") NIGHT_CAR("days = weekend\n"), 1, NULL),
                 12 * 7.2);
    assert_close("into Monday",
                 managed_kwh(SERVICE("100") PAIR("pair")
                                 LOAD("heat", "Heater", "pair", "power = 6 kW\nuse = 23:00-03:00\ndays = sun\n" HEATING)
                                     CHARGER("power = 7.2 kW\nuse = 00:00-06:00\ndays = mon\n"),
                             1, NULL),
                 3 * 1.44 + 3 * 7.2);
    ck_assert(isnan(managed_kwh(EVENING("") NIGHT_CAR(""), 0, NULL)));
    assert_close("its own control", managed_kwh(EVENING("") NIGHT_CAR("control = setpoint\n"), 0, NULL),
                 4 * 1.44 + 8 * 7.2);
}
END_TEST

/* The busiest minute is of all the time in question, though the car was full before it. */
START_TEST(the_busiest_minute_may_come_later)
{
    struct house *house = read_text(SERVICE("100") PAIR("pair") LOAD(
        "iron", "Iron", "pair", "power = 3 kW\nuse = 05:00-05:30\n") NIGHT_CAR("control = on-off\n"));
    struct service_question question = asking(house, 1);
    question.setpoint_a = 40; /* beside the iron it does not charge */
    question.wanted_kwh = 7.2;
    struct service *service = answer_to(&question);
    assert_close("hours", service->managed->hours, 1);
    assert_close("busiest", service->managed->busiest_va, 3000);
    ck_assert_int_eq(service->managed->busiest_min, 5 * 60);
    service_free(service);
    house_free(house);
}
END_TEST

/* Over the meter's days: 400 W beside the car, and one evening of 6 kW. */
START_TEST(a_vehicle_gives_way_to_what_was_metered)
{
    const size_t count = (size_t)40 * DAY_QUARTERS;
    struct meter_reading *readings = new_readings(count);
    struct house *house = read_text(SERVICE("100") NIGHT_CAR(""));
    struct service_question question = asking(house, 1);
    for (size_t i = 0; i < 16; i++) { /* 2025-01-09, a Thursday, 18:00 to 22:00 */
        readings[8 * DAY_QUARTERS + 72 + i].energy_uwh = (int64_t)1500 * METER_UWH_PER_WH;
    }
    measure_year(&question, 6000);
    question.measured.readings = readings;
    question.measured.reading_count = count;
    question.setpoint_a = 40;
    question.wanted_kwh = 80;
    struct service *service = answer_to(&question);
    ck_assert_ptr_nonnull(service->managed);
    ck_assert(service->managed->from_readings);
    assert_close("kwh", service->managed->kwh, 4 * 3.6 + 8 * 7.2);
    ck_assert_int_eq(service->managed->weekday, 3);
    ck_assert_int_eq(service->managed->month, 0);
    assert_close("busiest", service->managed->busiest_va, 6000);
    ck_assert_ptr_nonnull(found(service, "car-not-full"));
    service_free(service);
    question.measured.reading_count = 80; /* to 20:00 on the first day: no night was read whole */
    service = answer_to(&question);
    ck_assert_ptr_null(service->managed);
    service_free(service);
    house_free(house);
    free(readings);
}
END_TEST

/* ------------------------------------------------------------------ findings ------------------------------ */

#define FIXED(kw) LOAD("big", "Kiln", "pair", "power = " kw " kW\nfixed = yes\n")
#define US_100 SERVICE("100") PAIR("pair")
#define UK_80 "[house]\nname = Example\nrules = uk\nsupply_fuse = 80 A\n[branch one]\nlabel = one\nbreaker = 40 A\n"
#define UK_LOAD(keys) LOAD("new", "New", "one", "power = 7 kW\nfixed = yes\n" keys)
#define H1_48 SERVICE("100") H1_LOADS COOLING CHARGER("current = 48 A")
#define H1_30 SERVICE("100") H1_LOADS COOLING CHARGER("power = 7.2 kW")
#define UK_WIRE(fuse) "[house]\nname = x\nrules = uk\nsupply_fuse = " fuse " A\nservice_wire = 16 mm2 copper\n"

/* Each finding raised and not raised, with its severity; `measured_va` 0: none. */
static const struct {
    const char *text;
    size_t added;
    double measured_va, setpoint_a;
    const char *id;
    const char *severity; /* NULL: not raised */
} raised[] = {
    {H1_48, 1, 0, NAN, "service-over", "warning"},
    {H1_48, 1, 5000, NAN, "service-over", "note"}, /* the metered maximum carries it */
    {US_100 FIXED("1"), 0, 0, NAN, "service-over", NULL},
    {H1_30, 1, 0, NAN, "service-near", "note"},
    {US_100 FIXED("1"), 0, 0, NAN, "service-near", NULL},
    {H1_30, 1, 0, NAN, "methods-disagree", "note"},
    {US_100 FIXED("1"), 0, 0, NAN, "methods-disagree", NULL},
    {US_100 CHARGER("power = 11 kW"), 1, 10000, NAN, "added-continuous", "warning"},
    {US_100 CHARGER("power = 7.2 kW"), 1, 8000, NAN, "added-continuous", NULL},
    {SERVICE("60"), 0, 0, NAN, "service-minimum", "note"},
    {SERVICE("100"), 0, 0, NAN, "service-minimum", NULL},
    {UK_80, 0, 0, NAN, "service-minimum", NULL},
    {SERVICE("100") "service_wire = 6 AWG copper\n", 0, 0, NAN, "service-wire", "danger"}, /* 65 A on 83 */
    {SERVICE("100") "service_wire = 4 AWG copper\n", 0, 0, NAN, "service-wire", NULL},     /* 85 A */
    {SERVICE("60") "service_wire = 6 AWG copper\n", 0, 0, NAN, "service-wire", NULL},      /* no 83 % below 100 A */
    {SERVICE("60") "service_wire = 8 AWG copper\n", 0, 0, NAN, "service-wire", "danger"},  /* 50 A */
    {UK_WIRE("80"), 0, 0, NAN, "service-wire", NULL},                                      /* 85 A */
    {UK_WIRE("100"), 0, 0, NAN, "service-wire", "danger"},
    {SERVICE("100") "service_wire = 4 AWG copper\n" H1_LOADS COOLING CHARGER("power = 7.2 kW"), 1, 0, NAN,
     "service-wire", "danger"}, /* 85 A, and no method asks for less than 96 A */
    /* 10 kW on one leg: 83.3 A and half of the general load's 5,100 VA, 104.6 A; 62.9 A spread evenly */
    {SERVICE("100") BRANCH("one", "legs = A\n") LOAD("kiln", "Kiln", "one", "power = 10 kW\nfixed = yes\n"), 0, 0, NAN,
     "service-over", "warning"},
    {SERVICE("100") BRANCH("one", "legs = A\n") LOAD("kiln", "Kiln", "one", "power = 9 kW\nfixed = yes\n"), 0, 0, NAN,
     "service-over", NULL},
    {H1_48, 1, 0, 80, "control-needed", "note"},
    {H1_48, 1, 0, 90, "control-needed", NULL}, /* counts as 112.5 A */
    {H1_30, 1, 0, 80, "control-needed", NULL}, /* fits by one method without */
    {UK_80 UK_LOAD("category = vehicle\n"), 1, 0, NAN, "operator", "note"},
    {UK_80 UK_LOAD("category = heat-pump\n"), 1, 0, NAN, "operator", "note"},
    {UK_80 UK_LOAD("category = cooking\n"), 1, 0, NAN, "operator", NULL},
    {UK_80 UK_LOAD("category = vehicle\n"), 0, 0, NAN, "operator", NULL},
    {US_100 CHARGER("power = 7.2 kW"), 1, 0, NAN, "operator", NULL},
};
enum { RAISED = sizeof raised / sizeof raised[0] };

START_TEST(findings_stand_where_their_case_is)
{
    struct house *house = read_text(raised[_i].text);
    struct service_question question = asking(house, raised[_i].added);
    question.setpoint_a = raised[_i].setpoint_a;
    if (raised[_i].measured_va > 0) {
        measure(&question, raised[_i].measured_va);
    }
    struct service *service = answer_to(&question);
    const struct finding *finding = found(service, raised[_i].id);
    ck_assert_int_eq(finding != NULL, raised[_i].severity != NULL);
    if (finding != NULL) {
        ck_assert_str_eq(severity_word(finding->severity), raised[_i].severity);
        ck_assert_int_eq(finding->subject.kind, KIND_HOUSE);
        ck_assert_str_eq(finding->subject.id, "house");
        ck_assert(finding->text[0] != '\0' && finding->source[0] != '\0');
    }
    service_free(service);
    house_free(house);
}
END_TEST

/* Facts of readings, each passed and not passed. */
START_TEST(what_readings_lack_is_found)
{
    static const struct {
        double interval_min, missing_percent;
        unsigned months;
        double span_days;
        const char *id;
        bool raised;
    } rows[] = {
        {60, 0, 0x3F, 40, "measured-coarse", true},  {15, 0, 0x3F, 40, "measured-coarse", false},
        {15, 5.1, 0x3F, 40, "measured-gaps", true},  {15, 5, 0x3F, 40, "measured-gaps", false},
        {15, 0, 0x60, 40, "measured-season", true}, /* June and July; heating is from November to March */
        {15, 0, 0x07, 40, "measured-season", false}, {15, 0, 0x60, 365, "measured-season", false},
    };
    struct house *house =
        read_text(US_100 LOAD("heat", "Heat", "pair", "power = 9 kW\nfixed = yes\nmonths = nov-mar\n" HEATING) LOAD(
            "cool", "Cooler", "pair", "power = 2 kW\nfixed = yes\nmonths = jun-aug\ncategory = air-conditioning\n"));
    struct service_question question = service_question(house);
    measure_year(&question, 5000);
    question.measured.span_days = rows[_i].span_days;
    question.measured.full_days = rows[_i].span_days;
    question.measured.interval_min = rows[_i].interval_min;
    question.measured.missing_percent = rows[_i].missing_percent;
    question.measured.months = rows[_i].months;
    struct service *service = answer_to(&question);
    const struct service_method *measured = service_method(service, DEMAND_MEASURED);
    ck_assert_int_eq(found(service, rows[_i].id) != NULL, rows[_i].raised);
    const bool season = found(service, "measured-season") != NULL;
    assert_close("total", measured->total_va, 1.25 * (5000 + (season ? 9000 : 0)));
    service_free(service);
    house_free(house);
}
END_TEST

/* What is added was in no reading, and what is taken away asks for none. */
START_TEST(a_season_is_of_what_was_there)
{
    struct house *house =
        read_text(US_100 LOAD("heat", "Heat", "pair", "power = 9 kW\nfixed = yes\nmonths = nov-mar\n" HEATING));
    const size_t heat = 0;
    struct service_question question = asking(house, 1);
    measure_year(&question, 5000);
    question.measured.span_days = 40;
    question.measured.months = 0x60;
    struct service *service = answer_to(&question);
    ck_assert_ptr_null(found(service, "measured-season"));
    assert_close("added", service_method(service, DEMAND_MEASURED)->total_va, 1.25 * 5000 + 9000);
    service_free(service);
    question.added_from = NO_INDEX;
    question.removed = &heat;
    question.removed_count = 1;
    service = answer_to(&question);
    ck_assert_ptr_null(found(service, "measured-season"));
    assert_close("taken away", service_method(service, DEMAND_MEASURED)->total_va, 1.25 * 5000);
    service_free(service);
    house_free(house);
}
END_TEST

/* 100.03 A on 100 A is over; so it is printed, and a hair over with as many decimals as it takes. */
START_TEST(a_hair_over_is_over_in_print_too)
{
    struct house *house = read_case("h1-9600");
    struct service_question question = asking(house, 1);
    question.method = DEMAND_EXISTING;
    struct service *service = answer_to(&question);
    const char *text = found(service, "service-over")->text;
    ck_assert_str_eq(
        text, "By the method for existing dwellings the house with Charger comes to 100.03 A; the service is 100 A.");
    service_free(service);
    house_free(house);
    house = read_case("bare-100");
    question = service_question(house);
    question.method = DEMAND_MEASURED;
    measure(&question, 24000.0 * (1 + 1e-6) / 1.25);
    service = answer_to(&question);
    ck_assert_str_eq(found(service, "service-over")->text,
                     "By a metered maximum demand the house comes to 100.0001 A; the service is 100 A.");
    service_free(service);
    house_free(house);
}
END_TEST

/* ------------------------------------------------------------------ edges --------------------------------- */

/* Two added loads of one group: only the larger; an added load may replace one that is there. */
START_TEST(added_loads_may_exclude_each_other_or_replace_one)
{
    struct house *house = read_text(US_100 FIXED("3") CHARGER("power = 8 kW\ngroup = car")
                                        LOAD("other", "Tub", "new", "power = 6 kW\nfixed = yes\ngroup = car\n"));
    const size_t kiln = 0;
    const double with_va = 8000 + 0.4 * (9000 + 3000 + 8000 - 8000);
    struct service_question question = asking(house, 2);
    measure(&question, 4000);
    struct service *service = answer_to(&question);
    assert_close("the larger", service_method(service, DEMAND_MEASURED)->total_va, 5000 + 8000);
    assert_close("with both", service_method(service, DEMAND_EXISTING)->total_va, with_va);
    service_free(service);
    question.removed = &kiln;
    question.removed_count = 1;
    service = answer_to(&question);
    const struct service_method *existing = service_method(service, DEMAND_EXISTING);
    assert_close("without the kiln", existing->total_va, with_va - 0.4 * 3000);
    assert_close("largest", existing->largest.va, (24000 - 8000) / 0.4 + 8000 - 9000);
    assert_close("others", existing->group.others_va, 8000 + 0.4 * (9000 + 6000 - 8000)); /* the tub, not the car */
    service_free(service);
    house_free(house);
}
END_TEST

#define THREE_LINES(rules) "[house]\nname = x\nrules = " rules "\nsystem = three-phase\nmain_breaker = 25 A\n"

/* A charger on one of three lines: 32 A there, on 25 A, though spread evenly it would be 10.7 A. */
START_TEST(one_of_three_lines_may_be_too_much)
{
    struct house *house = read_text(THREE_LINES("iec") BRANCH("new", "legs = B\n") LOAD(
        "car", "Charger", "new", "power = 7.36 kW\nfixed = yes\ncategory = vehicle\n"));
    struct service_question question = asking(house, 1);
    measure(&question, 6900); /* 10 A a line */
    struct service *service = answer_to(&question);
    const struct service_method *by_device = service_method(service, DEMAND_DIVERSITY);
    assert_close("line B", by_device->current_a, 32);
    ck_assert(!by_device->fits);
    assert_close("largest", by_device->largest.va, 25 * 230);
    assert_close("setting", by_device->largest.setting_a, 25);
    const struct service_method *measured = service_method(service, DEMAND_MEASURED);
    assert_close("metered and added", measured->current_a, 10 + 32);
    assert_close("total", measured->total_va, 6900 + 7360);
    assert_close("left", measured->group.free_a, 15);
    assert_close("setting", measured->largest.setting_a, 15);
    service_free(service);
    house_free(house);
}
END_TEST

/* us: by 220.87 on three phases the volt-amperes count against sqrt 3 x 208 V. */
START_TEST(three_phases_of_the_metered_method_are_one_sum)
{
    struct house *house = read_text(THREE_LINES("us") BRANCH("new", "poles = 2\nlegs = AB\n") LOAD(
        "car", "Charger", "new", "apparent = 7.2 kVA\nfixed = yes\ncategory = vehicle\n"));
    struct service_question question = asking(house, 1);
    measure(&question, 1440);
    struct service *service = answer_to(&question);
    const struct service_method *measured = service_method(service, DEMAND_MEASURED);
    assert_close("current", measured->current_a, (1.25 * 1440 + 7200) / 360);
    ck_assert(measured->fits);
    ck_assert_ptr_nonnull(found(service, "service-over")); /* 5 + 34.6 A on line A */
    service_free(service);
    house_free(house);
}
END_TEST

/* A heat pump counts once, as heating, with its strips. */
START_TEST(a_heat_pump_counts_once)
{
    struct house *house = read_text(
        SERVICE("200") PAIR("pair")
            LOAD("pump", "Pump", "pair", "apparent = 5 kVA\nfixed = yes\nbehaviour = motor\ncategory = heat-pump\n")
                LOAD("strips", "Strips", "pair", "power = 10 kW\nfixed = yes\n" HEATING)
                    LOAD("cool", "Cooler", "pair", "power = 3 kW\nfixed = yes\ncategory = air-conditioning\n"));
    struct service_question question = service_question(house);
    struct service *service = answer_to(&question);
    assert_close("optional", service_method(service, DEMAND_OPTIONAL)->total_va, 9000 + 5000 + 6500);
    const struct service_method *existing = service_method(service, DEMAND_EXISTING);
    assert_close("existing", existing->total_va, 8000 + 0.4 * (9000 + 15000 - 8000));
    assert_close("as some read it", existing->other_va, 8000 + 0.4 * 1000);
    service_free(service);
    house_free(house);
}
END_TEST

/* Heating that is added: few heaters beside the sum in full, four of them inside it. */
START_TEST(many_heaters_stand_in_the_sum)
{
    for (int count = 3; count <= 4; count++) {
        struct text text = {0};
        text_printf(&text, US_100 LOAD("heat", "Heaters", "pair", "count = %d\npower = 1 kW\nfixed = yes\n" HEATING),
                    count);
        struct house *house = read_text(text_string(&text));
        struct service_question question = asking(house, 1);
        struct service *service = answer_to(&question);
        const struct service_method *existing = service_method(service, DEMAND_EXISTING);
        const double sum_va = 9000 + (count == 4 ? 4000 : 0);
        assert_close("demand", existing->total_va, 8000 + 0.4 * (sum_va - 8000) + (count == 4 ? 0 : 3000));
        ck_assert(existing->climate_beside);
        service_free(service);
        house_free(house);
        text_done(&text);
    }
}
END_TEST

/* A heat pump's strips are no heaters of their own; a sum below the first tier counts in full. */
START_TEST(small_sums_and_strips)
{
    struct house *house = read_text(
        US_100 LOAD("pump", "Pump", "pair", "apparent = 5 kVA\nfixed = yes\nbehaviour = motor\ncategory = heat-pump\n")
            LOAD("heat", "Strips", "pair", "count = 4\npower = 1 kW\nfixed = yes\n" HEATING));
    struct service_question question = asking(house, 1);
    struct service *service = answer_to(&question);
    assert_close("strips beside", service_method(service, DEMAND_EXISTING)->total_va, 8000 + 0.4 * 1000 + 9000);
    service_free(service);
    house_free(house);
    house = read_text(SMALL_US("100") "floor_area = 500 ft2\n" PAIR("pair") COOLING);
    question = asking(house, 0);
    service = answer_to(&question);
    const struct service_method *existing = service_method(service, DEMAND_EXISTING);
    assert_close("in the sum", existing->total_va, 8000 + 0.4 * (6000 + 6720 - 8000));
    assert_close("as some read it", existing->other_va, 6000);
    service_free(service);
    house_free(house);
}
END_TEST

/* 220.57 is of 2023: 7,200 VA at least, by the methods that sum up too. */
START_TEST(a_small_vehicle_counts_by_its_edition)
{
    const double counted_va = _i == 0 ? 7200 : 5000;
    struct text text = {0};
    text_printf(&text, SERVICE("200") "code_edition = %s\n" CHARGER("power = 5 kW"), _i == 0 ? "2023" : "2020");
    struct house *house = read_text(text_string(&text));
    struct service_question question = asking(house, 1);
    struct service *service = answer_to(&question);
    assert_close("existing", service_method(service, DEMAND_EXISTING)->total_va, 8000 + 0.4 * (1000 + counted_va));
    assert_close("optional", service_method(service, DEMAND_OPTIONAL)->total_va,
                 10000 + 0.4 * (9000 + counted_va - 10000));
    service_free(service);
    house_free(house);
    text_done(&text);
}
END_TEST

/* A set-point counts as continuous: 80 A on 100 A, 90 A do not; where the rest is too much no group's set-point fits.
 */
START_TEST(a_set_point_is_continuous)
{
    struct house *house = read_text(US_100 FIXED("60") CHARGER("power = 7.2 kW"));
    struct service_question question = asking(house, 1);
    question.setpoint_a = 80;
    struct service *service = answer_to(&question);
    assert_close("80 A", service->setpoint.counted_a, 100);
    ck_assert(service->setpoint.fits);
    ck_assert(isnan(service_method(service, DEMAND_EXISTING)->group.setpoint_a));
    ck_assert_int_eq(service->added[0].control, CONTROL_SETPOINT);
    service_free(service);
    question.setpoint_a = 90;
    service = answer_to(&question);
    assert_close("90 A", service->setpoint.counted_a, 112.5);
    ck_assert(!service->setpoint.fits);
    service_free(service);
    house_free(house);
}
END_TEST

/* A load that is there already and gives way is not among the others; one without control is. */
START_TEST(a_controlled_load_is_not_among_the_others)
{
    static const struct {
        const char *control;
        double others_va;
    } rows[] = {{"setpoint", 8000 + 0.4 * 1000}, {"on-off", 8000 + 0.4 * 1000}, {"none", NAN}};
    struct text text = {0};
    text_printf(&text, SERVICE("100") CHARGER("power = 7.2 kW\ncontrol = %s"), rows[_i].control);
    struct house *house = read_text(text_string(&text));
    struct service_question question = service_question(house);
    struct service *service = answer_to(&question);
    const double got_va = service_method(service, DEMAND_EXISTING)->group.others_va;
    ck_assert(isnan(rows[_i].others_va) ? isnan(got_va) : fabs(got_va - rows[_i].others_va) < 1e-6);
    service_free(service);
    house_free(house);
    text_done(&text);
}
END_TEST

/* uk: what is added is cooking, of which a third counts; a setting is a vehicle's, which counts in full. */
START_TEST(a_setting_is_a_vehicles_whatever_is_added)
{
    struct house *house = read_text(UK_80 LOAD("new", "New", "one", "power = 7 kW\nfixed = yes\ncategory = cooking\n"));
    struct service_question question = asking(house, 1);
    struct service *service = answer_to(&question);
    const struct service_largest *largest = &service_method(service, DEMAND_DIVERSITY)->largest;
    assert_close("cooking", largest->current_a, 10 + 70 / 0.3);
    assert_close("setting", largest->setting_a, 80);
    service_free(service);
    house_free(house);
}
END_TEST

/* A feeder to a flat is held against its own breaker. */
START_TEST(a_feeder_has_its_own_rating)
{
    struct house *house = read_text(SMALL_US("200") "[panel flat]\nbreaker = 60 A\npoles = 2\nlegs = AB\n");
    struct service_question question = service_question(house);
    question.panel = 1;
    struct service *service = answer_to(&question);
    ck_assert(service_method(service, DEMAND_EXISTING)->applies); /* a feeder has no floor area to lack */
    assert_close("rating", service->rating_a, 60);
    ck_assert_str_eq(service_rating_word(service->rating_from), "feeder");
    service_free(service);
    question.panel = 0;
    service = answer_to(&question);
    ck_assert_str_eq(service_rating_word(service->rating_from), "main_breaker");
    service_free(service);
    house_free(house);
}
END_TEST

/* 6 A is the lowest setting, and 7,200 VA the least that counts from 2023 on. */
START_TEST(a_setting_is_a_whole_ampere_within_the_rules)
{
    static const struct {
        const char *edition;
        double measured_va, setting_a;
    } rows[] = {
        {"2023", 13440, 30},                      /* 7,200 VA are left */
        {"2023", 13441, NAN},                     /* 1 VA less */
        {"2020", 13441, 29},  {"2020", 18048, 6}, /* 1,440 VA */
        {"2020", 18049, NAN},
    };
    struct text text = {0};
    text_printf(&text, SERVICE("100") "code_edition = %s\n", rows[_i].edition);
    struct house *house = read_text(text_string(&text));
    struct service_question question = service_question(house);
    measure(&question, rows[_i].measured_va);
    struct service *service = answer_to(&question);
    const double got_a = service_method(service, DEMAND_MEASURED)->largest.setting_a;
    ck_assert(isnan(rows[_i].setting_a) ? isnan(got_a) : got_a == rows[_i].setting_a);
    service_free(service);
    house_free(house);
    text_done(&text);
}
END_TEST

static bool says(const struct service *service, const char *words)
{
    for (size_t i = 0; service->notes[i] != NULL; i++) {
        if (strstr(service->notes[i], words) != NULL) {
            return true;
        }
    }
    return false;
}

/* limits.md 5: the household sum is high, and what a measured half hour would give; us has no such sum. */
START_TEST(a_household_sum_is_said_to_be_high)
{
    struct house *uk = read_case("uk-select");
    struct house *us = read_text(SERVICE("100") H1_LOADS);
    struct service_question question = service_question(uk);
    struct service *service = answer_to(&question);
    ck_assert(says(service, "household sum is high") && says(service, "highest half hour"));
    service_free(service);
    measure(&question, 5000);
    service = answer_to(&question);
    ck_assert(!says(service, "household sum is high"));
    service_free(service);
    question = service_question(us);
    service = answer_to(&question);
    ck_assert(!says(service, "household sum"));
    service_free(service);
    house_free(uk);
    house_free(us);
}
END_TEST

/* limits.md, head: `demand` reads keys alone and names the loads whose words say another category. */
START_TEST(names_that_say_a_category_are_named)
{
    struct house *house = read_text(SERVICE("100") PAIR("pair") LOAD("a", "EV charger", "pair", "power = 7.2 kW\n")
                                        LOAD("b", "Car charger", "pair", "power = 7.2 kW\ncategory = vehicle\n")
                                            LOAD("c", "Hot tub", "pair", "power = 6 kW\nfixed = yes\n"));
    const size_t removed[] = {0};
    struct service_question question = service_question(house);
    struct service *service = answer_to(&question);
    ck_assert(says(service, "another category: EV charger as vehicle, Hot tub as pool. The key `category`"));
    service_free(service);
    question.removed = removed;
    question.removed_count = 1;
    service = answer_to(&question);
    ck_assert(says(service, "another category: Hot tub as pool."));
    service_free(service);
    house_free(house);
}
END_TEST

START_TEST(what_is_taken_for_granted_is_said)
{
    struct house *house = read_text(SERVICE("100") H1_LOADS);
    struct house *newer = read_text(SERVICE("100") "code_edition = 2026\n");
    struct service_question question = service_question(house);
    struct service *service = answer_to(&question);
    ck_assert(!says(service, "whole year") && !says(service, "power factor") && !says(service, "2026"));
    ck_assert(says(service, "gives less than the one for a new dwelling"));
    service_free(service);
    measure(&question, 5000);
    question.measured.is_power = true;
    service = answer_to(&question);
    ck_assert(says(service, "whole year") && says(service, "power factor 1"));
    service_free(service);
    question = service_question(newer);
    service = answer_to(&question);
    ck_assert(says(service, "2026"));
    ck_assert_str_eq(service_method(service, DEMAND_OPTIONAL)->edition, "2023");
    service_free(service);
    house_free(house);
    house_free(newer);
}
END_TEST

/* 220.70 is of 2023: before it no rule says what a set-point counts as. */
START_TEST(an_older_edition_knows_no_set_point)
{
    static const char *const editions[] = {"2017", "2020", "2023"};
    struct text text = {0};
    text_printf(&text, SERVICE("100") "code_edition = %s\n", editions[_i]);
    struct house *house = read_text(text_string(&text));
    struct service_question question = service_question(house);
    struct service *service = answer_to(&question);
    ck_assert(!says(service, "220.70"));
    ck_assert_str_eq(service_method(service, DEMAND_EXISTING)->edition, editions[_i]);
    service_free(service);
    question.setpoint_a = 80;
    service = answer_to(&question);
    ck_assert_int_eq(says(service, "220.70"), _i < 2);
    ck_assert(_i > 0 || says(service, "that of 2017 has none"));
    service_free(service);
    house_free(house);
    text_done(&text);
}
END_TEST

/* ------------------------------------------------------------------ bad input ----------------------------- */

START_TEST(a_wrong_question_is_named)
{
    struct house *house = read_text(SERVICE("100"));
    struct service *service = NULL;
    const struct {
        double setpoint_a, wanted_kwh, measured_va;
        enum demand_method method;
        const char *names;
    } rows[] = {
        {101, NAN, 0, DEMAND_STANDARD, "setpoint: 101 A is above the service's 100 A"},
        {0, NAN, 0, DEMAND_STANDARD, "setpoint"},
        {-5, NAN, 0, DEMAND_STANDARD, "setpoint"},
        {INFINITY, NAN, 0, DEMAND_STANDARD, "setpoint"},
        {NAN, 0, 0, DEMAND_STANDARD, "kwh"},
        {NAN, NAN, -1, DEMAND_STANDARD, "measured"},
        {NAN, NAN, INFINITY, DEMAND_STANDARD, "measured"},
        {NAN, NAN, 0, DEMAND_DIVERSITY, "method"},
        {NAN, NAN, 0, DEMAND_METHOD_COUNT, "method"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct error error = {0};
        struct service_question question = service_question(house);
        question.setpoint_a = rows[i].setpoint_a;
        question.wanted_kwh = rows[i].wanted_kwh;
        question.method = rows[i].method;
        if (rows[i].measured_va != 0) {
            measure(&question, rows[i].measured_va);
        }
        ck_assert(!service_of(&question, &service, &error));
        ck_assert_ptr_null(service);
        ck_assert_int_eq(error_exit_status(&error), 2);
        ck_assert_msg(strstr(error_message(&error), rows[i].names) != NULL, "%s", error_message(&error));
        error_done(&error);
    }
    house_free(house);
}
END_TEST

Suite *make_suite(void)
{
    Suite *suite = suite_create("service");
    TCase *tcase = tcase_create("service");
    tcase_add_test(tcase, printed_cases_come_out);
    tcase_add_test(tcase, any_answer_agrees_with_itself);
    tcase_add_test(tcase, the_largest_load_put_back_gives_the_rating);
    tcase_add_test(tcase, one_more_load_never_lowers_the_demand);
    tcase_add_test(tcase, without_heating_the_existing_method_gives_no_more_than_the_optional);
    tcase_add_test(tcase, the_order_of_the_loads_does_not_matter);
    tcase_add_loop_test(tcase, a_method_that_does_not_apply_says_why, 0, 11);
    tcase_add_test(tcase, the_reason_is_said_with_its_figures);
    tcase_add_loop_test(tcase, readings_must_be_long_enough, 0, 7);
    tcase_add_test(tcase, own_generation_forbids_a_metered_maximum);
    tcase_add_test(tcase, a_longer_interval_never_gives_more);
    tcase_add_test(tcase, energy_for_no_vehicle_is_said);
    tcase_add_loop_test(tcase, a_vehicle_that_gives_way_gets_what_is_left, 0, 9);
    tcase_add_test(tcase, the_worst_day_is_told);
    tcase_add_test(tcase, only_the_days_and_loads_in_question_count);
    tcase_add_test(tcase, the_busiest_minute_may_come_later);
    tcase_add_test(tcase, a_vehicle_gives_way_to_what_was_metered);
    tcase_add_loop_test(tcase, findings_stand_where_their_case_is, 0, RAISED);
    tcase_add_loop_test(tcase, what_readings_lack_is_found, 0, 7);
    tcase_add_test(tcase, a_season_is_of_what_was_there);
    tcase_add_test(tcase, a_hair_over_is_over_in_print_too);
    tcase_add_test(tcase, added_loads_may_exclude_each_other_or_replace_one);
    tcase_add_test(tcase, one_of_three_lines_may_be_too_much);
    tcase_add_test(tcase, three_phases_of_the_metered_method_are_one_sum);
    tcase_add_test(tcase, a_heat_pump_counts_once);
    tcase_add_test(tcase, many_heaters_stand_in_the_sum);
    tcase_add_test(tcase, small_sums_and_strips);
    tcase_add_loop_test(tcase, a_small_vehicle_counts_by_its_edition, 0, 2);
    tcase_add_test(tcase, a_set_point_is_continuous);
    tcase_add_loop_test(tcase, a_controlled_load_is_not_among_the_others, 0, 3);
    tcase_add_test(tcase, a_setting_is_a_vehicles_whatever_is_added);
    tcase_add_test(tcase, a_feeder_has_its_own_rating);
    tcase_add_loop_test(tcase, a_setting_is_a_whole_ampere_within_the_rules, 0, 5);
    tcase_add_test(tcase, what_is_taken_for_granted_is_said);
    tcase_add_test(tcase, names_that_say_a_category_are_named);
    tcase_add_test(tcase, a_household_sum_is_said_to_be_high);
    tcase_add_loop_test(tcase, an_older_edition_knows_no_set_point, 0, 3);
    tcase_add_test(tcase, a_wrong_question_is_named);
    suite_add_tcase(suite, tcase);
    return suite;
}
