/*
 * Houses in which every finding of `check` is raised, in each of its cases: a check that is left out of the table, or a
 * case that can no longer be reached, shows as a row that nothing raises. Their words are in
 * tests/golden/every-finding.
 */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "ampsum/arena.h"
#include "ampsum/assess.h"
#include "ampsum/housefile.h"
#include "ampsum/reference.h"
#include "ampsum/reference_fault.h"
#include "runner.h"

static const char *const houses[] = {"us", "iec", "uk", "uk-tt", "uk-three", "us-service", "iec-service", "uk-service"};

/* Findings of `demand` alone: service.md; tests/unit/test_findings_demand.c raises them. */
static bool is_of_demand(const struct ref_finding *row)
{
    static const char *const starts[] = {"added-continuous", "car-not-full", "control-needed", "measured-",
                                         "methods-disagree", "operator",     "service-"};
    for (size_t i = 0; i < sizeof starts / sizeof starts[0]; i++) {
        if (strncmp(row->id, starts[i], strlen(starts[i])) == 0) {
            return true;
        }
    }
    return false;
}

static void note_list(const struct finding_list *list, bool *raised)
{
    for (size_t i = 0; i < list->count; i++) {
        const struct finding *finding = &list->finding[i];
        raised[finding->row - ref_finding_rows] = true;
        ck_assert_ptr_nonnull(finding->text);
        ck_assert_msg(finding->text[0] != '\0' && strstr(finding->text, "nan") == NULL, "%s: %s", finding->id,
                      finding->text);
    }
}

/* The house's own order: the numbers of a branch's findings never go down. */
static void check_order(const struct finding_list *list)
{
    for (size_t i = 1; i < list->count; i++) {
        const int before = atoi(list->finding[i - 1].id);
        const int now = atoi(list->finding[i].id);
        ck_assert_msg(now == 0 || before <= now, "%d before %d", before, now);
    }
}

static void raise_in(const char *name, bool *raised)
{
    char path[512];
    struct house *house = NULL;
    struct error error = {0};
    snprintf(path, sizeof path, "%s/golden/every-finding/%s.ini", getenv("AMPSUM_TESTS"), name);
    ck_assert_msg(housefile_read(path, &house, &error), "%s", error_message(&error));
    struct assess_options options = {.wires = true};
    struct assessment *assessment = assess_house(house, &options);
    for (size_t i = 0; i < house->branch_count; i++) {
        note_list(&assessment->branches[i].findings, raised);
        check_order(&assessment->branches[i].findings);
    }
    for (size_t i = 0; i < house->panel_count; i++) {
        note_list(&assessment->panels[i].findings, raised);
        check_order(&assessment->panels[i].findings);
    }
    assess_free(assessment);
    house_free(house);
}

/* Dangers and warnings of `all` are those of `some`, in the same order. */
static void same_but_notes(const struct finding_list *all, const struct finding_list *some)
{
    size_t k = 0;
    for (size_t i = 0; i < all->count; i++) {
        if (all->finding[i].severity == SEVERITY_NOTE) {
            continue;
        }
        while (k < some->count && some->finding[k].severity == SEVERITY_NOTE) {
            k++;
        }
        ck_assert_uint_lt(k, some->count);
        ck_assert(some->finding[k].row == all->finding[i].row && finding_same(&some->finding[k], &all->finding[i]));
        k++;
    }
    ck_assert_uint_ge(all->count, some->count);
}

START_TEST(without_notes_verdicts_dangers_and_warnings_are_the_same)
{
    size_t left_out = 0;
    for (size_t i = 0; i < sizeof houses / sizeof houses[0]; i++) {
        char path[512];
        struct house *house = NULL;
        struct error error = {0};
        snprintf(path, sizeof path, "%s/golden/every-finding/%s.ini", getenv("AMPSUM_TESTS"), houses[i]);
        ck_assert_msg(housefile_read(path, &house, &error), "%s", error_message(&error));
        const struct assess_options whole = {.wires = true};
        const struct assess_options brief = {.wires = true, .no_texts = true, .no_notes = true};
        struct assessment *all = assess_house(house, &whole);
        struct assessment *some = assess_house(house, &brief);
        for (size_t k = 0; k < house->branch_count; k++) {
            ck_assert_int_eq(all->branches[k].verdict, some->branches[k].verdict);
            same_but_notes(&all->branches[k].findings, &some->branches[k].findings);
        }
        left_out += assess_count(all, SEVERITY_NOTE) - assess_count(some, SEVERITY_NOTE);
        assess_free(some);
        assess_free(all);
        house_free(house);
    }
    ck_assert_uint_gt(left_out, 0);
}
END_TEST

START_TEST(every_finding_is_raised_in_each_of_its_cases)
{
    bool *raised = calloc(ref_finding_count, sizeof *raised);
    ck_assert_ptr_nonnull(raised);
    for (size_t i = 0; i < sizeof houses / sizeof houses[0]; i++) {
        raise_in(houses[i], raised);
    }
    struct text missing = {0};
    for (size_t i = 0; i < ref_finding_count; i++) {
        const struct ref_finding *row = &ref_finding_rows[i];
        if (!raised[i] && !is_of_demand(row)) {
            text_printf(&missing, "%s %s '%s'\n", row->id, row->rules, row->variant);
        }
    }
    ck_assert_msg(missing.length == 0, "raised by no house:\n%s", text_string(&missing));
    text_done(&missing);
    free(raised);
}
END_TEST

/* What is remembered alone makes no danger: whatever raises one rests on something that was read. */
START_TEST(no_danger_stands_on_memory)
{
    size_t dangers = 0;
    for (size_t i = 0; i < ref_finding_count; i++) {
        const struct ref_finding *row = &ref_finding_rows[i];
        if (strcmp(row->severity, "danger") == 0) {
            dangers++;
            ck_assert_msg(!reference_from_memory(row->source), "%s %s '%s': %s", row->id, row->rules, row->variant,
                          row->source);
        }
    }
    ck_assert_uint_ge(dangers, 18);
}
END_TEST

/* Nor does a danger rest on a remembered number: those that its comparisons take were read. */
START_TEST(the_numbers_behind_dangers_were_read)
{
    static const char *const ids[] = {"continuous-factor",
                                      "largest-motor-factor",
                                      "plate-voltage-least",
                                      "plate-voltage-most",
                                      "insulation-temperature",
                                      "insulation-temperature-large",
                                      "insulation-temperature-best",
                                      "insulation-temperature-limit",
                                      "next-size-limit",
                                      "ring-device",
                                      "ring-ampacity",
                                      "ring-size",
                                      "voltage-danger-over",
                                      "operating-temperature",
                                      "cooking-by-allowance",
                                      "fault-voltage-least",
                                      "fault-voltage-most",
                                      "fault-hot-70",
                                      "fault-hot-90",
                                      "fault-touch-voltage",
                                      "fault-instant",
                                      "fault-final-socket",
                                      "fault-final-fixed",
                                      "fault-line-neutral",
                                      "fault-plate-tolerance",
                                      "fault-conditional",
                                      "fault-conditional-fuse"};
    size_t rows = 0;
    for (size_t i = 0; i < ref_rule_count; i++) {
        const struct ref_rule *row = &ref_rule_rows[i];
        for (size_t k = 0; k < sizeof ids / sizeof ids[0]; k++) {
            if (strcmp(row->id, ids[k]) == 0) {
                rows++;
                ck_assert_msg(!reference_from_memory(row->source), "%s %s: %s", row->id, row->rules, row->source);
            }
        }
    }
    ck_assert_uint_ge(rows, sizeof ids / sizeof ids[0]);
}
END_TEST

#define READ_IN_PRINT(TABLE)                                                                                           \
    for (size_t i = 0; i < TABLE##_count; i++) {                                                                       \
        ck_assert_msg(!reference_from_memory(TABLE##_rows[i].source), #TABLE " row %zu: %s", i,                        \
                      TABLE##_rows[i].source);                                                                         \
    }                                                                                                                  \
    ck_assert_uint_ge(TABLE##_count, 4)

START_TEST(the_tables_behind_dangers_were_read)
{
    READ_IN_PRINT(ref_ampacity_us);
    READ_IN_PRINT(ref_ampacity_iec);
    READ_IN_PRINT(ref_ampacity_uk_flat_twin);
    READ_IN_PRINT(ref_ambient);
    READ_IN_PRINT(ref_conductor);
    READ_IN_PRINT(ref_small_conductor);
    READ_IN_PRINT(ref_motor_fla);
    READ_IN_PRINT(ref_motor_breaker);
    READ_IN_PRINT(ref_demand_range);
    READ_IN_PRINT(ref_receptacle);
    READ_IN_PRINT(ref_receptacle_rating);
    READ_IN_PRINT(ref_instantaneous);
    READ_IN_PRINT(ref_disconnection);
    READ_IN_PRINT(ref_residual_time);
}
END_TEST

Suite *make_suite(void)
{
    Suite *suite = suite_create("every_finding");
    TCase *tcase = tcase_create("every_finding");
    tcase_add_test(tcase, no_danger_stands_on_memory);
    tcase_add_test(tcase, the_numbers_behind_dangers_were_read);
    tcase_add_test(tcase, the_tables_behind_dangers_were_read);
    tcase_add_test(tcase, without_notes_verdicts_dangers_and_warnings_are_the_same);
    tcase_add_test(tcase, every_finding_is_raised_in_each_of_its_cases);
    suite_add_tcase(suite, tcase);
    return suite;
}
