/* May the service carry one more load: printed cases, what must hold of any house, conditions, findings, bad input. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "ampsum/housefile.h"
#include "ampsum/service.h"
#include "fixture.h"
#include "runner.h"
#include "service_houses.h"

enum { FIELDS_MAX = 9, LINE_ROOM = 1024, HOUSES = 60 };

/* ------------------------------------------------------------------ helpers ------------------------------- */

static struct house *read_text(const char *text)
{
    struct house *house = NULL;
    struct error error = {0};
    bool good = housefile_read_house_bytes("test", text, strlen(text), &house, &error);
    ck_assert_msg(good, "%s", error_message(&error));
    error_done(&error);
    return house;
}

static struct house *read_case(const char *name)
{
    for (size_t i = 0; i < sizeof service_houses / sizeof service_houses[0]; i++) {
        if (strcmp(service_houses[i].name, name) == 0) {
            return read_text(service_houses[i].text);
        }
    }
    for (size_t i = 0; i < sizeof demand_houses / sizeof demand_houses[0]; i++) {
        if (strcmp(demand_houses[i].name, name) == 0) {
            return read_text(demand_houses[i].text);
        }
    }
    ck_abort_msg("no case %s", name);
    return NULL;
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
    suite_add_tcase(suite, tcase);
    return suite;
}
