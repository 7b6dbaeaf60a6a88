/* Finding 18: neutrals that branches share or that harmonics load (limits 11 of the contract). */
#include <math.h>
#include <string.h>

#include "ampsum/assess.h"
#include "ampsum/housefile.h"
#include "runner.h"

enum { NONE = -1 };

#define ROWS(table) ((int)(sizeof(table) / sizeof((table)[0])))

#define HOUSE(RULES, MORE) "[house]\nname = x\nrules = " RULES "\nmain_breaker = 100 A\n" MORE
#define PAIR(LEG_1, LEG_2, MORE)                                                                                       \
    "[branch b]\nlabel = B\nlegs = " LEG_1 "\nbreaker = 20 A\nwire = 12 AWG copper\nshared_neutral = c\n" MORE         \
    "[branch c]\nlabel = C\nlegs = " LEG_2 "\nbreaker = 20 A\nwire = 12 AWG copper\n"
#define LOADS(A, B)                                                                                                    \
    "[appliance p]\nname = P\nbranch = b\npower = " A "\n[appliance q]\nname = Q\nbranch = c\npower = " B "\n"
#define THREE_POLES(SIZE, PERCENT)                                                                                     \
    "[branch b]\nlabel = B\nlegs = ABC\npoles = 3\nbreaker = 40 A\nmethod = C\nwire = " SIZE " copper\n"               \
    "third_harmonic = " PERCENT "\n[appliance p]\nname = P\nbranch = b\ncurrent = 39 A\n"

static const struct {
    const char *text;
    int severity;
    double neutral_a; /* NAN: not looked at */
    double limit_a;
} rows[] = {
    /* trade press: 20 + 20 A on one leg of 12 AWG; on A and B the difference of the currents */
    {HOUSE("us", "") PAIR("A", "A", "") LOADS("1200 W", "600 W"), SEVERITY_DANGER, 15, 20},
    {HOUSE("us", "") PAIR("A", "B", "tied = yes\n") LOADS("1200 W", "600 W"), NONE, NAN, NAN},
    {HOUSE("us", "") PAIR("A", "B", "") LOADS("1200 W", "600 W"), SEVERITY_NOTE, 5, 20},
    {HOUSE("us", "") PAIR("A", "B", "tied = no\n") LOADS("1200 W", "600 W"), SEVERITY_WARNING, 5, 20},
    {HOUSE("us", "") PAIR("A", "B", "tied = yes\nprotection = gfci\n") LOADS("60 W", "60 W"), NONE, NAN, NAN},
    {HOUSE("us",
           "") "[branch b]\nlabel = B\nlegs = A\nbreaker = 20 A\nshared_neutral = c\ntied = yes\nprotection = gfci\n"
               "[branch c]\nlabel = C\nlegs = B\nbreaker = 20 A\nprotection = gfci\n",
     SEVERITY_NOTE, 0, NAN},
    {HOUSE("us", "") "[branch b]\nlabel = B\nlegs = A\nbreaker = 20 A\nshared_neutral = c\ntied = yes\n"
                     "[branch c]\nlabel = C\nlegs = A\nbreaker = 20 A\n",
     NONE, NAN, NAN},
    /* wye, by hand: 10 A on A and 10 A on B leave 10 A; all three alike leave none */
    {HOUSE("us", "system = three-phase\n") PAIR("A", "B", "") LOADS("1200 W", "1200 W"), SEVERITY_NOTE, 10, 20},
    /* IEC 60364-5-52 Annex E: 39 A of line current with 20, 40, 50 % needs 10, 10, 16 mm2 (C, three loaded) */
    {HOUSE("iec", "system = three-phase\n") THREE_POLES("6 mm2", "0"), NONE, NAN, NAN},
    {HOUSE("iec", "system = three-phase\n") THREE_POLES("6 mm2", "10"), NONE, NAN, NAN},
    {HOUSE("iec", "system = three-phase\n") THREE_POLES("6 mm2", "20"), SEVERITY_WARNING, 23.4, 41},
    {HOUSE("iec", "system = three-phase\n") THREE_POLES("10 mm2", "20"), NONE, NAN, NAN},
    {HOUSE("iec", "system = three-phase\n") THREE_POLES("6 mm2", "40"), SEVERITY_WARNING, 46.8, 41},
    {HOUSE("iec", "system = three-phase\n") THREE_POLES("10 mm2", "40"), NONE, NAN, NAN},
    {HOUSE("iec", "system = three-phase\n") THREE_POLES("10 mm2", "50"), SEVERITY_WARNING, 58.5, 57},
    {HOUSE("iec", "system = three-phase\n") THREE_POLES("16 mm2", "50"), NONE, NAN, NAN},
};

static const struct finding *neutral_of(const struct finding_list *list, int *ret_count)
{
    const struct finding *found = NULL;
    *ret_count = 0;
    for (size_t i = 0; i < list->count; i++) {
        if (strcmp(list->finding[i].id, "18") == 0) {
            found = &list->finding[i];
            ++*ret_count;
        }
    }
    return found;
}

START_TEST(a_neutral_is_held_against_its_wire)
{
    struct house *house = NULL;
    struct error error = {0};
    const char *text = rows[_i].text;
    int count = 0;
    ck_assert_msg(housefile_read_house_bytes("test", text, strlen(text), &house, &error), "%s", error_message(&error));
    struct assess_options options = {.wires = true};
    struct assessment *assessment = assess_house(house, &options);
    for (size_t i = 1; i < house->branch_count; i++) { /* once a set, on the first */
        ck_assert_ptr_null(neutral_of(&assessment->branches[i].findings, &count));
    }
    const struct finding *found = neutral_of(&assessment->branches[0].findings, &count);
    ck_assert_int_le(count, 1);
    ck_assert_msg((found != NULL ? (int)found->severity : NONE) == rows[_i].severity, "row %d: '%s'", _i,
                  found != NULL ? found->text : "");
    if (found != NULL && !isnan(rows[_i].neutral_a)) {
        ck_assert_double_eq_tol(finding_number(found, "neutral_a"), rows[_i].neutral_a, 0.005);
    }
    if (found != NULL && !isnan(rows[_i].limit_a)) {
        ck_assert_double_eq_tol(finding_number(found, "limit_a"), rows[_i].limit_a, 0.005);
    }
    assess_free(assessment);
    house_free(house);
}
END_TEST

Suite *make_suite(void)
{
    Suite *suite = suite_create("findings_neutral");
    TCase *tcase = tcase_create("findings_neutral");
    tcase_add_loop_test(tcase, a_neutral_is_held_against_its_wire, 0, ROWS(rows));
    suite_add_tcase(suite, tcase);
    return suite;
}
