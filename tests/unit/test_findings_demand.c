/* Finding 13: where the demand of a service or feeder stands above its breaker. */
#include <stdio.h>
#include <string.h>

#include "ampsum/assess.h"
#include "read_house.h"

/* The finding's text goes to `ret_text`, "" where the panel has none; its severity is returned. */
static enum severity finding_of(const struct house *house, size_t panel, struct text *ret_text)
{
    struct assess_options options = {0};
    struct assessment *assessment = assess_house(house, &options);
    const struct finding_list *list = &assessment->panels[panel].findings;
    enum severity severity = SEVERITY_DANGER;
    text_clear(ret_text);
    for (size_t i = 0; i < list->count; i++) {
        if (strcmp(list->finding[i].id, "13") == 0) {
            severity = list->finding[i].severity;
            ck_assert(list->finding[i].source[0] != '\0');
            text_add(ret_text, list->finding[i].text);
        }
    }
    assess_free(assessment);
    return severity;
}

/* us without floor area: two small-appliance circuits and a laundry one, 3000 + 35 % of 1500 = 3525 VA; 240 V. */
START_TEST(a_service_at_its_breaker_and_a_hair_above)
{
    const struct {
        double heat_va;
        bool found;
    } rows[] = {{100 * 240 - 3525, false}, {100 * 240 - 3525 + 0.01, true}, {1000, false}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct text text = {0};
        struct text found = {0};
        text_printf(&text,
                    "[house]\nname = x\nrules = us\nmain_breaker = 100 A\n"
                    "[branch h]\nlabel = Heat\nbreaker = 100 A\npoles = 2\nlegs = AB\n"
                    "[appliance h]\nname = Heat\nbranch = h\ncategory = space-heating\nfixed = yes\npower = %.3f W\n",
                    rows[i].heat_va);
        struct house *house = read_text(text_string(&text));
        finding_of(house, 0, &found);
        ck_assert_msg((found.length > 0) == rows[i].found, "%g VA: '%s'", rows[i].heat_va, text_string(&found));
        ck_assert(!rows[i].found || strstr(text_string(&found), "floor_area") != NULL);
        house_free(house);
        text_done(&text);
        text_done(&found);
    }
}
END_TEST

/* One leg of the service above the breaker, while the whole spread evenly is not: NEC Annex D1(b) asks for 110 A. */
START_TEST(the_heavier_leg_counts)
{
    const struct {
        const char *breaker;
        bool found;
    } rows[] = {{"100 A", true}, {"110 A", false}};
    for (size_t i = 0; i < 2; i++) {
        struct text text = {0};
        struct text found = {0};
        text_printf(&text,
                    "[house]\nname = x\nrules = us\nmain_breaker = %s\nfloor_area = 1500 ft2\n"
                    "[branch p]\nlabel = Pair\nbreaker = 50 A\npoles = 2\nlegs = AB\n"
                    "[branch a]\nlabel = A\nbreaker = 20 A\nlegs = A\n[branch b]\nlabel = B\nbreaker = 20 A\nlegs = B\n"
                    "[appliance r]\nname = Range\nbranch = p\npower = 12 kW\ncategory = range\n"
                    "[appliance d]\nname = Dryer\nbranch = p\npower = 5.5 kW\ncategory = dryer\n"
                    "[appliance c]\nname = Cooler\nbranch = p\ncurrent = 6 A\nbehaviour = motor\n"
                    "category = air-conditioning\n"
                    "[appliance e]\nname = Cooler\nbranch = a\ncurrent = 12 A\nbehaviour = motor\n"
                    "category = air-conditioning\n"
                    "[appliance f]\nname = Disposer\nbranch = b\ncurrent = 8 A\nbehaviour = motor\nfixed = yes\n"
                    "[appliance g]\nname = Dishwasher\nbranch = b\ncurrent = 10 A\nfixed = yes\n",
                    rows[i].breaker);
        struct house *house = read_text(text_string(&text));
        finding_of(house, 0, &found);
        ck_assert_msg((found.length > 0) == rows[i].found, "%s: '%s'", rows[i].breaker, text_string(&found));
        house_free(house);
        text_done(&text);
        text_done(&found);
    }
}
END_TEST

START_TEST(a_feeder_has_its_own_finding)
{
    struct house *house = read_text("[house]\nname = x\nrules = uk\nmain_breaker = 100 A\n"
                                    "[panel shed]\nbreaker = 32 A\n"
                                    "[branch s]\nlabel = Shower\nbreaker = 40 A\npanel = shed\npurpose = dedicated\n"
                                    "[appliance s]\nname = Shower\nbranch = s\npower = 9.2 kW\nfixed = yes\n"
                                    "category = water-heating\n");
    struct text found = {0};
    finding_of(house, 0, &found);
    ck_assert_str_eq(text_string(&found), "");
    finding_of(house, 1, &found);
    ck_assert_str_eq(text_string(&found),
                     "counted by the diversity allowances, each circuit by its device, this panel draws up to 40 A at "
                     "a time, 8 A over its 32 A breaker");
    text_done(&found);
    house_free(house);
}
END_TEST

/* Two loads of 6 kW on one leg: 2 x 6000 / 230 = 52.17 A on 40 A where they run at the same time; no diversity hides
 * it. */
START_TEST(a_feeders_busiest_leg_counts)
{
    static const struct {
        const char *leg;
        const char *use;
        const char *found;
    } rows[] = {
        {"A", "use = 19:00-21:00\ndays = sat\n",
         "at the busiest minute (Saturday in January, 19:00) leg A of the feeder is planned for 52.17 A, 12.17 A over its 40 A "
         "breaker"},
        {"A", "",
         "at the busiest minute (Monday in January, 18:00) leg A of the feeder is planned for 52.17 A, 12.17 A over its 40 A "
         "breaker"},
        {"A", "use = 20:00-21:00\n",
         "counted by the diversity allowances, each circuit by its device, this panel draws up to 44.8 A at a time, "
         "4.8 A over its 40 A breaker"},
        {"B", "use = 19:00-21:00\n", ""},
    };
    struct text text = {0};
    struct text found = {0};
    text_printf(&text,
                "[house]\nname = x\nrules = iec\nsystem = three-phase\nmain_breaker = 63 A\n"
                "[panel cellar]\nbreaker = 40 A\npoles = 3\nlegs = ABC\n"
                "[branch a]\nlabel = A\nbreaker = 32 A\nlegs = A\npanel = cellar\n"
                "[branch b]\nlabel = B\nbreaker = 32 A\nlegs = %s\npanel = cellar\n"
                "[appliance x]\nname = Kiln\nbranch = a\npower = 6 kW\nuse = 18:00-20:00\n"
                "[appliance y]\nname = Other kiln\nbranch = b\npower = 6 kW\n%s",
                rows[_i].leg, rows[_i].use);
    struct house *house = read_text(text_string(&text));
    finding_of(house, 1, &found);
    ck_assert_str_eq(text_string(&found), rows[_i].found);
    finding_of(house, 0, &found);
    ck_assert_str_eq(text_string(&found), "");
    house_free(house);
    text_done(&text);
    text_done(&found);
}
END_TEST

/* Annex D1(a) asks for 78 A by the standard method: on 70 A the method for existing dwellings carries it, the optional
 * one is for 100 A and more; on 60 A nothing does. 8000 + 0.4 x (27,500 - 8000) = 15,800 VA, 65.83 A. */
START_TEST(another_method_that_carries_it_makes_a_note)
{
    static const struct {
        const char *breaker;
        enum severity severity;
        const char *says;
    } rows[] = {
        {"70 A", SEVERITY_NOTE, "; counted by the method for existing dwellings up to 65.83 A, within it"},
        {"60 A", SEVERITY_WARNING, "; counted by the method for existing dwellings up to 65.83 A, over it too"},
    };
    struct text text = {0};
    struct text found = {0};
    text_printf(&text,
                "[house]\nname = x\nrules = us\nmain_breaker = %s\nfloor_area = 1500 ft2\n"
                "[branch p]\nlabel = Pair\nbreaker = 50 A\npoles = 2\nlegs = AB\n"
                "[appliance r]\nname = Range\nbranch = p\npower = 12 kW\ncategory = range\n"
                "[appliance d]\nname = Dryer\nbranch = p\npower = 5.5 kW\ncategory = dryer\n"
                "[appliance w]\nname = Water heater\nbranch = p\npower = 1 kW\nfixed = yes\n",
                rows[_i].breaker);
    struct house *house = read_text(text_string(&text));
    ck_assert_int_eq(finding_of(house, 0, &found), rows[_i].severity);
    ck_assert_msg(strstr(text_string(&found), rows[_i].says) != NULL, "%s", text_string(&found));
    ck_assert_ptr_null(strstr(text_string(&found), "optional"));
    house_free(house);
    text_done(&text);
    text_done(&found);
}
END_TEST

Suite *make_suite(void)
{
    Suite *suite = suite_create("findings_demand");
    TCase *tcase = tcase_create("findings_demand");
    tcase_add_test(tcase, a_service_at_its_breaker_and_a_hair_above);
    tcase_add_test(tcase, the_heavier_leg_counts);
    tcase_add_test(tcase, a_feeder_has_its_own_finding);
    tcase_add_loop_test(tcase, a_feeders_busiest_leg_counts, 0, 4);
    tcase_add_loop_test(tcase, another_method_that_carries_it_makes_a_note, 0, 2);
    suite_add_tcase(suite, tcase);
    return suite;
}
