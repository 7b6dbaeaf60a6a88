/* Cautions where the case is, and only there (limits 13 of the contract). */
#include <string.h>

#include "ampsum/cautions.h"
#include "ampsum/housefile.h"
#include "ampsum/reference.h"
#include "runner.h"

#define ROWS(table) ((int)(sizeof(table) / sizeof((table)[0])))

#define US(MORE) "[house]\nname = x\nrules = us\nmain_breaker = 100 A\n" MORE
#define BRANCH(MORE) "[branch b]\nlabel = B\nlegs = A\nbreaker = 20 A\n" MORE
#define QUIET "[appliance q]\nname = Lamp\nbranch = b\npower = 60 W\n"

static const struct {
    const char *text;
    const char *cases[CAUTIONS_MOST + 1]; /* in their order, ended by NULL */
} rows[] = {
    {US("") BRANCH("") QUIET, {NULL}},
    /* aluminium: 12 AWG gives it, a 2 AWG feeder not */
    {US("") BRANCH("wire = 12 AWG aluminium\nprotection = gfci, afci\n") QUIET, {"danger", "small-aluminium", NULL}},
    {US("") "[panel p]\nbreaker = 70 A\npoles = 2\nlegs = AB\nwire = 2 AWG aluminium\n"
            "[branch b]\nlabel = B\npanel = p\nlegs = A\nbreaker = 20 A\n" QUIET,
     {NULL}},
    {US("built = 1948\n") BRANCH("") QUIET, {"old-wiring", NULL}},
    {US("built = 1951\n") BRANCH("") QUIET, {NULL}},
    {US("") BRANCH("trip = fuse\n") QUIET, {"old-wiring", NULL}},
    {US("") BRANCH("cable = knob-and-tube\n") QUIET, {"old-wiring", NULL}},
    {US("") BRANCH("shared_neutral = c\ntied = yes\n") "[branch c]\nlabel = C\nlegs = B\nbreaker = 20 A\n" QUIET,
     {"shared-neutral", NULL}},
    {US("") BRANCH("") "[appliance g]\nname = Genset\nbranch = b\npower = 5 W\n", {"generator", NULL}},
    {US("") BRANCH("") "[appliance g]\nname = Backup\nbranch = b\npower = 5 W\ncategory = generator\n",
     {"generator", NULL}},
    {US("") BRANCH("") "[appliance o]\nname = Oxygen concentrator\nbranch = b\npower = 350 W\n", {"medical", NULL}},
    {US("") BRANCH("") "[room r]\nname = Bath\n[outlet o]\nbranch = b\nroom = r\n", {"water", NULL}},
    {US("") BRANCH("") "[appliance t]\nname = Hot tub\nbranch = b\npower = 100 W\n", {"water", NULL}},
    {US("")
         BRANCH("") "[appliance h]\nname = Heater\nbranch = b\npower = 2000 W\ncontinuous = yes\nuse = 10:00-15:00\n",
     {"danger", "warm", NULL}},
    /* no more than three, the most urgent first */
    {US("built = 1930\n") BRANCH("") "[appliance h]\nname = Heater\nbranch = b\npower = 2900 W\nuse = 10:00-15:00\n"
                                     "[appliance o]\nname = Oxygen\nbranch = b\npower = 300 W\n"
                                     "[appliance g]\nname = Generator\nbranch = b\npower = 3 W\n",
     {"danger", "medical", "generator", NULL}},
};

START_TEST(cautions_stand_where_the_case_is)
{
    const char *got[CAUTIONS_MOST + 1];
    struct house *house = NULL;
    struct error error = {0};
    const char *text = rows[_i].text;
    ck_assert_msg(housefile_read_house_bytes("test", text, strlen(text), &house, &error), "%s", error_message(&error));
    struct assess_options options = {.wires = true};
    struct assessment *assessment = assess_house(house, &options);
    size_t count = cautions_of(assessment, NO_INDEX, got);
    for (size_t i = 0; i <= count; i++) {
        const char *want = rows[_i].cases[i] != NULL ? reference_caution(rows[_i].cases[i], "us")->text : "none";
        ck_assert_msg(strcmp(got[i] != NULL ? got[i] : "none", want) == 0, "row %d, %zu: got '%s', want '%s'", _i, i,
                      got[i] != NULL ? got[i] : "none", want);
    }
    assess_free(assessment);
    house_free(house);
}
END_TEST

START_TEST(a_branch_has_its_own_cases)
{
    static const char text[] =
        US("") BRANCH("wire = 12 AWG aluminium\n") "[branch c]\nlabel = C\nlegs = B\nbreaker = 15 A\n"
                                                   "[appliance o]\nname = CPAP\nbranch = c\npower = 60 W\n";
    const char *got[CAUTIONS_MOST + 1];
    struct house *house = NULL;
    struct error error = {0};
    ck_assert(housefile_read_house_bytes("test", text, strlen(text), &house, &error));
    struct assess_options options = {.wires = true};
    struct assessment *assessment = assess_house(house, &options);
    ck_assert_uint_eq(cautions_of(assessment, 1, got), 1);
    ck_assert_str_eq(got[0], reference_caution("medical", "us")->text);
    ck_assert_uint_eq(cautions_of(assessment, 0, got), 2);
    ck_assert_str_eq(got[1], reference_caution("small-aluminium", "us")->text);
    assess_free(assessment);
    house_free(house);
}
END_TEST

Suite *make_suite(void)
{
    Suite *suite = suite_create("cautions");
    TCase *tcase = tcase_create("cautions");
    tcase_add_loop_test(tcase, cautions_stand_where_the_case_is, 0, ROWS(rows));
    tcase_add_test(tcase, a_branch_has_its_own_cases);
    suite_add_tcase(suite, tcase);
    return suite;
}
