/* The questions of `rules` and `typical`: what is listed, what stands once, and what is refused. */
#include <string.h>

#include "ampsum/answer_rules.h"
#include "ampsum/answer_typical.h"
#include "runner.h"

static struct rules_answer ask(const char *id, const char *rules, struct arena *arena)
{
    const struct rules_question question = {id, rules};
    struct rules_answer answer;
    struct error error = {0};
    ck_assert_msg(answer_rules(&question, arena, &answer, &error), "%s", error_message(&error));
    return answer;
}

/* The list has one line for a table, with all its rows; asked for, a line for each source. */
START_TEST(a_table_is_one_line_of_the_list)
{
    struct arena *arena = arena_new();
    const struct rules_answer list = ask(NULL, NULL, arena);
    size_t several = 0;
    for (size_t i = 0; i < list.count; i++) {
        const struct rules_row *row = &list.rows[i];
        if (row->sources < 2) {
            continue;
        }
        const struct rules_answer table = ask(row->id, NULL, arena);
        size_t rows = 0;
        size_t recalled = 0;
        size_t lines = 0;
        for (size_t k = 0; k < table.count; k++) {
            const bool of_table = table.rows[k].sources == 1 && strcmp(table.rows[k].id, row->id) == 0;
            lines += of_table ? 1 : 0; /* a finding may be called as a table is */
            rows += of_table ? table.rows[k].table_rows : 0;
            recalled += of_table ? table.rows[k].recalled : 0;
        }
        ck_assert_uint_eq(lines, row->sources);
        ck_assert_uint_eq(rows, row->table_rows);
        ck_assert_uint_eq(recalled, row->recalled);
        ck_assert(table.one && !list.one);
        several++;
    }
    ck_assert_uint_gt(several, 3);
    arena_free(arena);
}
END_TEST

/* Of one set: its own rows and those of every set, no other's; asked for by --rules and by its ID alike. */
START_TEST(a_set_has_its_rows_and_those_of_all)
{
    struct arena *arena = arena_new();
    for (size_t s = 0; s < ref_rule_set_count; s++) {
        const char *set = ref_rule_set_rows[s].id;
        const struct rules_answer named = ask(set, NULL, arena);
        const struct rules_answer chosen = ask(NULL, set, arena);
        size_t findings = 0;
        ck_assert_str_eq(named.set, set);
        ck_assert_ptr_null(chosen.set);
        ck_assert_uint_eq(named.count, chosen.count);
        for (size_t i = 0; i < named.count; i++) {
            const char *rules = named.rows[i].rules;
            ck_assert(strcmp(rules, "*") == 0 || strcmp(rules, set) == 0);
            findings += named.rows[i].finding != NULL;
        }
        ck_assert_uint_gt(findings, 10);
    }
    arena_free(arena);
}
END_TEST

/* A finding by its number or its name: the same rows; what nothing is called is refused with the nearest. */
START_TEST(a_finding_has_two_names)
{
    struct arena *arena = arena_new();
    const struct rules_question wrong = {"voltage-dropp", NULL};
    const struct rules_answer by_number = ask("1", NULL, arena);
    const struct rules_answer by_name = ask(by_number.rows[0].finding->name, NULL, arena);
    struct rules_answer answer;
    struct error error = {0};
    ck_assert_uint_ge(by_number.count, ref_rule_set_count);
    ck_assert_ptr_eq(by_number.rows[0].finding, by_name.rows[0].finding);
    ck_assert_str_eq(by_number.rows[0].id, "1");
    ck_assert(!answer_rules(&wrong, arena, &answer, &error));
    ck_assert_ptr_nonnull(strstr(error_message(&error), "the nearest is voltage-drop;"));
    error_done(&error);
    arena_free(arena);
}
END_TEST

/* Asked for one set: the first one's rows, or all where that has none; a set that is named goes first. */
START_TEST(an_id_without_a_set_may_be_shown_for_one)
{
    struct arena *arena = arena_new();
    struct rules_question question = {"1", NULL, true};
    struct rules_answer answer;
    struct error error = {0};
    ck_assert(answer_rules(&question, arena, &answer, &error));
    for (size_t i = 0; i < answer.count; i++) {
        ck_assert(strcmp(answer.rows[i].rules, "*") == 0 || strcmp(answer.rows[i].rules, "us") == 0);
    }
    ck_assert_uint_lt(answer.count, ask("1", NULL, arena).count);
    question.rules = "uk";
    ck_assert(answer_rules(&question, arena, &answer, &error));
    ck_assert_str_eq(answer.rows[0].rules, "uk");
    arena_free(arena);
}
END_TEST

/* What another set alone has: told which, as a command; no nearest word that is the very same. */
START_TEST(an_id_of_another_set_is_told)
{
    struct arena *arena = arena_new();
    const struct rules_question wrong = {"service-minimum", "uk"};
    struct rules_answer answer;
    struct error error = {0};
    ck_assert(!answer_rules(&wrong, arena, &answer, &error));
    ck_assert_str_eq(error_message(&error), "service-minimum: the uk rules have no such row, the us rules have: "
                                            "ampsum rules --rules us service-minimum");
    error_done(&error);
    arena_free(arena);
}
END_TEST

START_TEST(each_source_of_a_rating_stands_once)
{
    struct arena *arena = arena_new();
    struct typical_answer answer;
    struct error error = {0};
    ck_assert(answer_typical("heater", NULL, arena, &answer, &error));
    ck_assert(!answer.near);
    ck_assert_uint_gt(answer.count, answer.source_count);
    for (size_t i = 0; i < answer.count; i++) {
        size_t same = 0;
        for (size_t k = 0; k < answer.source_count; k++) {
            same += strcmp(answer.rows[i]->source, answer.sources[k]->source) == 0 &&
                    strcmp(answer.rows[i]->edition, answer.sources[k]->edition) == 0;
        }
        ck_assert_uint_eq(same, 1);
    }
    ck_assert(answer_typical("ketle", NULL, arena, &answer, &error) && answer.near);
    arena_free(arena);
}
END_TEST

START_TEST(a_word_without_a_rating_is_refused)
{
    struct arena *arena = arena_new();
    struct typical_answer answer;
    struct error error = {0};
    ck_assert(!answer_typical("heat pump", "uk", arena, &answer, &error));
    ck_assert_str_eq(error_message(&error), "heat pump: the uk rules have no typical rating for it");
    error_done(&error);
    ck_assert(!answer_typical("qqqqqqqq", "uk", arena, &answer, &error));
    ck_assert_ptr_nonnull(strstr(error_message(&error), "no typical rating is near this word"));
    error_done(&error);
    arena_free(arena);
}
END_TEST

Suite *make_suite(void)
{
    Suite *suite = suite_create("answer_rules");
    TCase *cases = tcase_create("answer_rules");
    tcase_add_test(cases, an_id_without_a_set_may_be_shown_for_one);
    tcase_add_test(cases, a_table_is_one_line_of_the_list);
    tcase_add_test(cases, a_set_has_its_rows_and_those_of_all);
    tcase_add_test(cases, a_finding_has_two_names);
    tcase_add_test(cases, an_id_of_another_set_is_told);
    tcase_add_test(cases, each_source_of_a_rating_stands_once);
    tcase_add_test(cases, a_word_without_a_rating_is_refused);
    suite_add_tcase(suite, cases);
    return suite;
}
