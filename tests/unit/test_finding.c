/* Findings as data: what they are about, what they compare, and when two of them are the same. */
#include <math.h>
#include <string.h>

#include "ampsum/assess.h"
#include "ampsum/housefile.h"
#include "runner.h"

/* Two plug-in heaters of unlike names and sizes, both over their share of a 15 A branch; a motor; a weak wire. */
static const char two_heaters[] = "[house]\nname = x\nrules = us\nmain_breaker = 30 A\nfloor_area = 200 m2\n"
                                  "[branch b]\nlabel = b\nlegs = A\nbreaker = 15 A\nwire = 14 AWG copper\n"
                                  "[outlet o]\nbranch = b\nrun = 60 ft\n[outlet p]\nbranch = b\nfrom = o\nrun = 30 ft\n"
                                  "[appliance first]\nname = Heater 1\noutlet = o\npower = 1500 W\n"
                                  "[appliance second]\nname = Heater 2\noutlet = p\npower = 1600 W\n";

struct assessed {
    struct house *house;
    struct assessment *assessment;
};

static struct assessed assess(const char *text, bool no_texts)
{
    struct assessed assessed = {NULL, NULL};
    struct error error = {0};
    ck_assert_msg(housefile_read_house_bytes("test", text, strlen(text), &assessed.house, &error), "%s",
                  error_message(&error));
    struct assess_options options = {.wires = true, .no_texts = no_texts};
    assessed.assessment = assess_house(assessed.house, &options);
    return assessed;
}

static void assessed_done(struct assessed *assessed)
{
    assess_free(assessed->assessment);
    house_free(assessed->house);
}

static const struct finding *find(const struct assessed *assessed, const char *id, enum kind kind, const char *subject)
{
    const struct finding wanted = {.id = id, .subject = {kind, subject}};
    const struct finding *found = finding_find(&assessed->assessment->branches[0].findings, &wanted);
    ck_assert_msg(found != NULL, "no finding %s about %s", id, subject);
    return found;
}

/* 1500 W and 1600 W at 120 V are 12.5 A and 13.333 A; 80 % of 15 A are 12 A (210.23(A)(1)). */
START_TEST(figures_and_subject_are_data)
{
    struct assessed assessed = assess(two_heaters, _i == 1);
    const struct finding *first = find(&assessed, "3", KIND_APPLIANCE, "first");
    const struct finding *second = find(&assessed, "3", KIND_APPLIANCE, "second");
    ck_assert(!finding_same(first, second));
    ck_assert(finding_same(first, first));
    ck_assert_double_eq(finding_number(first, "current_a"), 12.5);
    ck_assert_double_eq_tol(finding_number(second, "current_a"), 1600.0 / 120, 1e-12);
    ck_assert_double_eq(finding_number(second, "limit_a"), 12);
    ck_assert(isnan(finding_number(second, "limit_percent")));
    const struct finding *over = find(&assessed, "2", KIND_BRANCH, "b");
    ck_assert_double_eq_tol(finding_number(over, "current_a"), 3100.0 / 120, 1e-12);
    ck_assert_double_eq(finding_number(over, "limit_a"), 15);
    ck_assert_double_gt(finding_number(find(&assessed, "7", KIND_BRANCH, "b"), "drop_percent"), 3);
    ck_assert_int_eq(first->text[0] == '\0', _i == 1);
    assessed_done(&assessed);
}
END_TEST

/* The same house under other names, with other sizes: other sentences, the same findings. */
START_TEST(other_words_are_the_same_finding)
{
    struct assessed before = assess(two_heaters, false);
    char renamed[sizeof two_heaters];
    strcpy(renamed, two_heaters);
    memcpy(strstr(renamed, "Heater 1"), "Toaster!", strlen("Toaster!"));
    memcpy(strstr(renamed, "1600"), "1700", 4);
    struct assessed after = assess(renamed, false);
    const struct finding_list *list = &after.assessment->branches[0].findings;
    const struct finding_list *was = &before.assessment->branches[0].findings;
    ck_assert_uint_ge(list->count, 4);
    ck_assert_uint_eq(list->count, was->count);
    for (size_t i = 0; i < list->count; i++) {
        ck_assert_msg(finding_find(was, &list->finding[i]) != NULL, "%s", list->finding[i].text);
    }
    ck_assert_str_ne(find(&before, "3", KIND_APPLIANCE, "first")->text,
                     find(&after, "3", KIND_APPLIANCE, "first")->text);
    assessed_done(&before);
    assessed_done(&after);
}
END_TEST

/* A finding known by its word fits in: same rules of identity, and a row of its own is all that it needs. */
START_TEST(words_are_ids_too)
{
    const struct finding by_word = {.id = "service-over", .subject = {KIND_HOUSE, "house"}};
    const struct finding other = {.id = "service-near", .subject = {KIND_HOUSE, "house"}};
    struct finding one[] = {by_word};
    const struct finding_list list = {.finding = one, .count = 1};
    ck_assert_ptr_eq(finding_find(&list, &by_word), &one[0]);
    ck_assert_ptr_null(finding_find(&list, &other));
    ck_assert_ptr_null(finding_find(NULL, &other));
    ck_assert(!finding_about(&list, "service-over", (struct subject){KIND_BRANCH, "house"}));
}
END_TEST

/* What stands in one list never has number and subject twice, so that a comparison cannot mix two up. */
START_TEST(a_list_has_no_finding_twice)
{
    static const char crowded[] = "[house]\nname = x\nrules = uk\nmain_breaker = 100 A\n"
                                  "[branch b]\nlabel = b\nbreaker = 32 A\ntrip = B\n"
                                  "[outlet o]\nbranch = b\nrating = 5 A\n"
                                  "[appliance one]\nname = Pump\noutlet = o\npower = 4 kW\nbehaviour = motor\n"
                                  "[appliance two]\nname = Saw\noutlet = o\npower = 3.5 kW\nbehaviour = motor\n";
    struct assessed assessed = assess(crowded, false);
    const struct finding_list *list = &assessed.assessment->branches[0].findings;
    ck_assert_uint_ge(list->count, 4);
    for (size_t i = 0; i < list->count; i++) {
        const struct finding_list before = {.finding = list->finding, .count = i};
        ck_assert_msg(finding_find(&before, &list->finding[i]) == NULL, "%s twice", list->finding[i].id);
    }
    find(&assessed, "9", KIND_APPLIANCE, "one");
    find(&assessed, "9", KIND_APPLIANCE, "two");
    ck_assert_double_eq_tol(finding_number(find(&assessed, "11", KIND_BRANCH, "b"), "limit_a"), 96, 1e-9);
    assessed_done(&assessed);
}
END_TEST

Suite *make_suite(void)
{
    Suite *suite = suite_create("finding");
    TCase *tcase = tcase_create("finding");
    tcase_add_loop_test(tcase, figures_and_subject_are_data, 0, 2);
    tcase_add_test(tcase, other_words_are_the_same_finding);
    tcase_add_test(tcase, words_are_ids_too);
    tcase_add_test(tcase, a_list_has_no_finding_twice);
    suite_add_tcase(suite, tcase);
    return suite;
}
