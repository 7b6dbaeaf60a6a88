/* The sentences of `check` that every face takes from one place. */
#include <string.h>

#include "ampsum/housefile.h"
#include "ampsum/show_check.h"
#include "runner.h"

/* A branch with times, and one whose lamp has none. */
static const char text[] = "[house]\nname = Test\nrules = iec\nvoltage = 230\nmain_breaker = 40\n"
                           "[branch a]\nlabel = Kitchen\nbreaker = 16\n"
                           "[branch b]\nlabel = b\nbreaker = 10\n"
                           "[branch c]\nlabel = Shed\nbreaker = 10\n"
                           "[appliance kettle]\nname = kettle\nbranch = a\npower = 2300\nuse = 07:00-07:30\n"
                           "[appliance lamp]\nname = lamp\nbranch = c\npower = 23\n";

static struct house *house;

static void setup(void)
{
    struct error error = {0};
    ck_assert_msg(housefile_read_house_bytes("test", text, strlen(text), &house, &error), "%s", error_message(&error));
}

static void teardown(void)
{
    house_free(house);
}

/* S4: a danger makes an OVER too, and the share of `near` is the rule's own, in every face's words. */
START_TEST(the_legend_names_dangers_and_the_rules_share)
{
    const struct check_question question = {.no_bill = true};
    struct check_answer answer;
    struct text legend = {0};
    answer_check(house, &question, &answer);
    show_legend(&answer, "on its own page", &legend);
    ck_assert_ptr_nonnull(strstr(text_string(&legend), "week, or a danger on its own page."));
    ck_assert_ptr_nonnull(strstr(text_string(&legend), "near: over 80 % with everything on."));
    text_done(&legend);
    check_answer_done(&answer);
}
END_TEST

/* By hand, iec 230 V: a, 16 A with 2300 W = 10 A, leaves 6.0 A; c, 10 A with 23 W = 0.1 A, leaves 9.9 A; b is empty. */
START_TEST(a_row_that_is_fine_says_what_is_left)
{
    static const char *const want[] = {"6.0 A of its 16 A is left.", "Nothing is connected here.",
                                       "9.9 A of its 10 A is left."};
    const struct check_question question = {.no_bill = true};
    struct check_answer answer;
    answer_check(house, &question, &answer);
    for (size_t i = 0; i < sizeof want / sizeof want[0]; i++) {
        struct text line = {0};
        show_check_left(&answer, i, &line);
        ck_assert_str_eq(text_string(&line), want[i]);
        ck_assert_str_ne(show_verdict(answer.assessment->branches[i].verdict), "ok");
        text_done(&line);
    }
    check_answer_done(&answer);
}
END_TEST

/* A load of 3450 W = 15 A of 16 A, over 80 %: what to do. */
START_TEST(a_row_that_is_near_says_what_to_do)
{
    static const char near[] = "[house]\nname = Test\nrules = iec\nvoltage = 230\nmain_breaker = 40\n"
                               "[branch a]\nlabel = Kitchen\nbreaker = 16\n"
                               "[appliance oven]\nname = oven\nbranch = a\npower = 3450\nuse = 07:00-07:30\n";
    const struct check_question question = {.no_bill = true};
    struct house *full = NULL;
    struct error error = {0};
    struct check_answer answer;
    struct text line = {0};
    ck_assert(housefile_read_house_bytes("test", near, strlen(near), &full, &error));
    answer_check(full, &question, &answer);
    show_check_left(&answer, 0, &line);
    ck_assert_str_eq(text_string(&line), "1.0 A of its 16 A is left: ask before plugging in more.");
    text_done(&line);
    check_answer_done(&answer);
    house_free(full);
}
END_TEST

/* 2300 W / 230 V = 10 A of 16 A; with 2185 W = 9.5 A that is never on with it, 3.5 A over. */
START_TEST(a_branch_says_what_everything_comes_to)
{
    static const char *const want[] = {
        "With everything on 10.0 A, 6.0 A left on its breaker of 16 A; at the busiest minute 10.0 A.",
        "With everything on 19.5 A, 3.5 A over its breaker of 16 A; at the busiest minute 10.0 A."};
    static const char iron[] = "[appliance iron]\nname = iron\nbranch = a\npower = 2185\nuse = 09:00-09:30\n";
    for (size_t i = 0; i < 2; i++) {
        struct text whole = {0};
        struct text line = {0};
        struct house *one = NULL;
        struct error error = {0};
        struct branch_answer answer;
        text_printf(&whole, "%s%s", text, i == 0 ? "" : iron);
        ck_assert(housefile_read_house_bytes("test", text_string(&whole), whole.length, &one, &error));
        answer_branch(one, &(struct branch_question){.branch = 0}, &answer);
        show_branch_everything(&answer, &line);
        ck_assert_str_eq(text_string(&line), want[i]);
        branch_answer_done(&answer);
        house_free(one);
        text_done(&whole);
        text_done(&line);
    }
}
END_TEST

/* Wired to it alone: nobody plugs in more. 20.8 A of 25 A, fixed, without a place for a plug. */
START_TEST(a_row_that_is_near_and_takes_no_plug_says_so)
{
    static const char near[] = "[house]\nname = Test\nrules = us\nmain_breaker = 100\n"
                               "[branch a]\nlabel = Heat\nbreaker = 25\npoles = 2\nlegs = AB\n"
                               "[appliance heat]\nname = Baseboard\nbranch = a\npower = 5000\nfixed = yes\n";
    struct house *full = NULL;
    struct error error = {0};
    struct check_answer answer;
    struct text line = {0};
    ck_assert(housefile_read_house_bytes("test", near, strlen(near), &full, &error));
    answer_check(full, &(struct check_question){.no_bill = true}, &answer);
    show_check_left(&answer, 0, &line);
    ck_assert_str_eq(text_string(&line), "4.2 A of its 25 A is left: ask before wiring more to it.");
    text_done(&line);
    check_answer_done(&answer);
    house_free(full);
}
END_TEST

/* What a terminal says is to be done: not `not all together` of one load, nor of a wire; a full panel is told. */
static const struct {
    const char *house;
    const char *says;
    const char * not ;
} to_do_rows[] = {
    {"[branch ev]\nlabel = ev\nbreaker = 60\npoles = 2\nlegs = AB\nwire = 6 AWG copper\ncable = nm-b\n"
     "[appliance ev]\nname = EV charger\nbranch = ev\ncurrent = 48\nfixed = yes\n",
     "AT RISK ev: ask a licensed electrician; why:", "What could move"},
    {"[branch ev]\nlabel = ev\nbreaker = 50\npoles = 2\nlegs = AB\n"
     "[appliance ev]\nname = EV charger\nbranch = ev\ncurrent = 48\nfixed = yes\n",
     "OVER ev: its one load is too much for it; why:", "What could move"},
    {"[branch b]\nlabel = b\nbreaker = 20\nlegs = A\nwire = 14 AWG copper\n"
     "[appliance h]\nname = Heater\nbranch = b\npower = 1500\n[appliance d]\nname = Iron\nbranch = b\npower = 1200\n",
     "OVER b: not all together, and another danger besides for a licensed electrician", NULL},
    {"[panel cabin]\nbreaker = 20\npoles = 2\nlegs = AB\n[branch h]\nlabel = h\npanel = cabin\nbreaker = 20\nlegs = A\n"
     "[branch k]\nlabel = k\npanel = cabin\nbreaker = 20\nlegs = A\n"
     "[appliance h]\nname = Heater\nbranch = h\npower = 1500\n[appliance k]\nname = Kettle\nbranch = k\npower = 1500\n",
     "2 with room; panel cabin above its breaker.", "room is left on"},
};

START_TEST(what_to_do_follows_why)
{
    struct text house_text = {0};
    struct house *one = NULL;
    struct error error = {0};
    struct check_answer answer;
    struct text out = {0};
    const struct page page = {.width = 400, .utf8 = false, .house = "x.ini"};
    text_printf(&house_text, "[house]\nname = x\nrules = us\nmain_breaker = 200 A\n%s", to_do_rows[_i].house);
    ck_assert_msg(housefile_read_house_bytes("test", text_string(&house_text), house_text.length, &one, &error), "%s",
                  error_message(&error));
    answer_check(one, &(struct check_question){.no_bill = false, .choice = {.wires = true}}, &answer);
    show_check_text(&answer, &page, false, false, &out);
    ck_assert_msg(strstr(text_string(&out), to_do_rows[_i].says) != NULL, "%s", text_string(&out));
    ck_assert(to_do_rows[_i].not == NULL || strstr(text_string(&out), to_do_rows[_i].not ) == NULL);
    check_answer_done(&answer);
    house_free(one);
    text_done(&out);
    text_done(&house_text);
}
END_TEST

/* S5: no face prints a minute where a branch has no times. */
START_TEST(a_branch_without_times_has_no_minute_on_any_face)
{
    static const enum show_face faces[] = {SHOW_TERMINAL, SHOW_PAGE, SHOW_PAPER};
    const struct check_question question = {0};
    struct check_answer answer;
    answer_check(house, &question, &answer);
    for (size_t i = 0; i < sizeof faces / sizeof faces[0]; i++) {
        const struct show_column *columns[SHOW_COLUMNS_MOST];
        const size_t count = show_columns(&show_check_rows, faces[i], &answer, columns);
        bool seen = false;
        for (size_t k = 0; k < count; k++) {
            if (strcmp(columns[k]->title == NULL ? "" : columns[k]->title, "When") == 0) {
                struct show_cell cell = {0};
                show_get_cell(columns[k], &answer, 2, &cell);
                ck_assert_str_eq(cell.words, "any time");
                text_done(&cell.made);
                seen = true;
            }
        }
        ck_assert(seen);
    }
    check_answer_done(&answer);
}
END_TEST

Suite *make_suite(void)
{
    Suite *suite = suite_create("show_check");
    TCase *words = tcase_create("words");
    tcase_add_checked_fixture(words, setup, teardown);
    tcase_add_test(words, the_legend_names_dangers_and_the_rules_share);
    tcase_add_test(words, a_row_that_is_fine_says_what_is_left);
    tcase_add_test(words, a_row_that_is_near_says_what_to_do);
    tcase_add_test(words, a_branch_says_what_everything_comes_to);
    tcase_add_test(words, a_row_that_is_near_and_takes_no_plug_says_so);
    tcase_add_loop_test(words, what_to_do_follows_why, 0, sizeof to_do_rows / sizeof to_do_rows[0]);
    tcase_add_test(words, a_branch_without_times_has_no_minute_on_any_face);
    suite_add_tcase(suite, words);
    return suite;
}
