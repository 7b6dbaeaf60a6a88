/* Findings 5, 7 and 8: wire against breaker, drop with the feeders, another rated voltage. */
#include <stdlib.h>
#include <string.h>

#include "ampsum/assess.h"
#include "ampsum/housefile.h"
#include "runner.h"

/* Severity of the first finding of that number on the first branch, and its text; -1: none. */
static int severity_of(const char *text, int number, struct text *ret_text)
{
    struct house *house = NULL;
    struct error error = {0};
    ck_assert_msg(housefile_read_house_bytes("test", text, strlen(text), &house, &error), "%s", error_message(&error));
    struct assess_options options = {.wires = true};
    struct assessment *assessment = assess_house(house, &options);
    const struct finding_list *list = &assessment->branches[0].findings;
    int severity = -1;
    text_clear(ret_text);
    for (size_t i = 0; i < list->count && severity < 0; i++) {
        if (atoi(list->finding[i].id) == number) {
            severity = (int)list->finding[i].severity;
            text_add(ret_text, list->finding[i].text);
        }
    }
    assess_free(assessment);
    house_free(house);
    return severity;
}

/*
 * 240.4(D): 14, 12, 10 AWG at most 15, 20, 30 A. Without a cable's name: as NM-B 8 AWG copper 40 A, 6 AWG 55 A, 12 AWG
 * 20 A also at 35 degree C; as THHN with ends for 75 degree C 8 AWG 50 A, 6 AWG 65 A. A plug-in load: no next size up.
 */
START_TEST(a_breaker_is_held_against_its_wire)
{
    const struct {
        const char *wire;
        int breaker_a;
        int ambient_c;
        const char *load;
        int severity;
    } rows[] = {
        {"14 AWG copper", 15, 30, "", -1},
        {"14 AWG copper", 20, 30, "", SEVERITY_DANGER},
        {"14 AWG copper", 20, 30, "behaviour = motor\n", SEVERITY_DANGER},
        {"14 AWG copper", 20, 30, "behaviour = motor\nfixed = yes\n", -1},
        {"14 AWG copper", 20, 30, "category = air-conditioning\nfixed = yes\n", -1},
        {"12 AWG copper", 20, 35, "", -1},
        {"12 AWG copper", 25, 20, "", SEVERITY_DANGER},
        {"8 AWG copper", 40, 30, "", -1},
        {"8 AWG copper", 50, 30, "", SEVERITY_WARNING},
        {"8 AWG copper", 60, 30, "", SEVERITY_DANGER},
        {"6 AWG copper", 60, 30, "", SEVERITY_WARNING},
        {"6 AWG copper", 70, 30, "", SEVERITY_DANGER},
        {"2.5 mm2 copper", 20, 30, "", SEVERITY_NOTE},
    };
    struct text found = {0};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct text text = {0};
        text_printf(&text,
                    "[house]\nname = x\nrules = us\nmain_breaker = 100 A\nambient = %d C\n"
                    "[branch b]\nlabel = B\nlegs = A\nbreaker = %d A\nwire = %s\n"
                    "[appliance a]\nname = A\nbranch = b\npower = 100 W\n%s",
                    rows[i].ambient_c, rows[i].breaker_a, rows[i].wire, rows[i].load);
        int severity = severity_of(text_string(&text), 5, &found);
        ck_assert_msg(severity == rows[i].severity, "row %zu: %d '%s'", i, severity, text_string(&found));
        text_done(&text);
    }
    text_done(&found);
}
END_TEST

/*
 * 20 A of one leg, which come back in the neutral, through a feeder of 6 AWG copper, 0.491 ohm in 1000 ft:
 * 40 A x 0.2455 ohm / 120 V = 8.18 % along 500 ft, 4.91 % along 300 ft; the next panel's feeder is not known.
 */
START_TEST(a_feeder_that_is_not_known_hides_no_drop_of_another)
{
    const struct {
        int length_ft;
        int severity;
        const char *words;
    } rows[] = {{500, SEVERITY_NOTE, "8.18 % along feeder and branch"}, {300, -1, ""}};
    struct text found = {0};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct text text = {0};
        text_printf(&text,
                    "[house]\nname = x\nrules = us\nmain_breaker = 100 A\n"
                    "[panel barn]\nbreaker = 60 A\npoles = 2\nlegs = AB\nwire = 6 AWG copper\nlength = %d ft\n"
                    "[panel loft]\nfrom = barn\nbreaker = 30 A\npoles = 2\nlegs = AB\n"
                    "[branch b]\nlabel = B\npanel = loft\nlegs = A\nbreaker = 20 A\nwire = 12 AWG copper\nlength = 0\n"
                    "[appliance a]\nname = A\nbranch = b\npower = 2400 W\n",
                    rows[i].length_ft);
        int severity = severity_of(text_string(&text), 7, &found);
        ck_assert_msg(severity == rows[i].severity, "row %zu: %d '%s'", i, severity, text_string(&found));
        ck_assert_msg(strstr(text_string(&found), rows[i].words) != NULL, "%s", text_string(&found));
        text_done(&text);
    }
    text_done(&found);
}
END_TEST

/* 120 V over the rated voltage: 1.10 and more danger, above 1.06 or below 0.90 a warning. */
START_TEST(another_rated_voltage_is_said)
{
    const struct {
        const char *rated;
        int severity;
    } rows[] = {{"100 V", SEVERITY_DANGER},
                {"109.0909090909 V", SEVERITY_DANGER},
                {"109.1 V", SEVERITY_WARNING},
                {"113.2 V", SEVERITY_WARNING},
                {"113.3 V", -1},
                {"120 V", -1},
                {"133.3 V", -1},
                {"133.4 V", SEVERITY_WARNING},
                {"230 V", SEVERITY_WARNING}};
    struct text found = {0};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct text text = {0};
        text_printf(&text,
                    "[house]\nname = x\nrules = us\nmain_breaker = 100 A\n"
                    "[branch b]\nlabel = B\nlegs = A\nbreaker = 20 A\n"
                    "[appliance a]\nname = A\nbranch = b\npower = 100 W\nrated_voltage = %s\n",
                    rows[i].rated);
        int severity = severity_of(text_string(&text), 8, &found);
        ck_assert_msg(severity == rows[i].severity, "%s: %d '%s'", rows[i].rated, severity, text_string(&found));
        text_done(&text);
    }
    text_done(&found);
}
END_TEST

/*
 * uk and iec: 3 % for lighting, 5 % for other uses. 10 A along 32 m of 1.5 mm2 copper, 29 mV an ampere and metre:
 * 9.3 V of 230 V, 4.0 %. Lighting is what is said to be, or what feeds nothing but lamps.
 */
START_TEST(lighting_has_a_finer_limit)
{
    const struct {
        const char *branch;
        const char *first;
        const char *second;
        bool is_told;
    } rows[] = {
        {"", "lighting", "lighting", true}, {"", "other", "other", false},
        {"", "lighting", "other", false},   {"purpose = lighting\n", "other", "other", true},
        {"", "other", "lighting", false},
    };
    struct text found = {0};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct text text = {0};
        text_printf(&text,
                    "[house]\nname = x\nrules = uk\nmain_breaker = 100 A\n"
                    "[branch b]\nlabel = B\nbreaker = 16 A\nwire = 1.5 mm2 copper\nlength = 32 m\n%s"
                    "[appliance a]\nname = A\nbranch = b\npower = 1150 W\ncategory = %s\n"
                    "[appliance c]\nname = C\nbranch = b\npower = 1150 W\ncategory = %s\n",
                    rows[i].branch, rows[i].first, rows[i].second);
        const int severity = severity_of(text_string(&text), 7, &found);
        ck_assert_msg((severity >= 0) == rows[i].is_told, "row %zu: %d '%s'", i, severity, text_string(&found));
        text_done(&text);
    }
    text_done(&found);
}
END_TEST

Suite *make_suite(void)
{
    Suite *suite = suite_create("findings_wire");
    TCase *tcase = tcase_create("findings_wire");
    tcase_add_test(tcase, a_breaker_is_held_against_its_wire);
    tcase_add_test(tcase, a_feeder_that_is_not_known_hides_no_drop_of_another);
    tcase_add_test(tcase, another_rated_voltage_is_said);
    tcase_add_test(tcase, lighting_has_a_finer_limit);
    suite_add_tcase(suite, tcase);
    return suite;
}
