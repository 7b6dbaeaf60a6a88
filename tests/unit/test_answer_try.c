/* Before and after a change, by hand: 230 V on one leg; oven and heater 10 A each, the pot 5 A. */
#include <string.h>

#include "ampsum/answer_try.h"
#include "ampsum/housefile.h"
#include "runner.h"

static const char text[] =
    "[house]\nname = Test\nrules = iec\nsystem = single-phase\nmain_breaker = 63 A\n[room hall]\nname = Front hall\n"
    "[branch full]\nlabel = full\nbreaker = 10 A\nserves = hall\n"
    "[branch some]\nlabel = some\nbreaker = 16 A\nserves = hall\n"
    "[branch over]\nlabel = over\nbreaker = 10 A\n"
    "[appliance pot]\nname = Pot\nbranch = full\npower = 1150 W\nuse = 07:00-08:00\n"
    "[appliance oven]\nname = Oven\nbranch = some\npower = 2300 W\nuse = 07:00-08:00\n"
    "[appliance stove]\nname = Stove\nbranch = over\npower = 2760 W\nuse = 07:00-08:00\n";

static struct house *house;
static struct try_answer answer;

static void setup(void)
{
    struct error error = {0};
    ck_assert_msg(housefile_read_house_bytes("test", text, strlen(text), &house, &error), "%s", error_message(&error));
    answer = (struct try_answer){0};
}

static void teardown(void)
{
    try_answer_done(&answer);
    house_free(house);
}

static void ask(struct try_change change)
{
    struct error error = {0};
    const struct try_question question = {.changes = &change, .change_count = 1};
    ck_assert_msg(answer_try(house, &question, &answer, &error), "%s", error_message(&error));
}

/* 10 A before, 20 A of 16 A after; the stove's 12 A of 10 A stay. 27 A on the leg become 37 A. */
START_TEST(a_load_that_is_added_changes_its_branch_alone)
{
    ask((struct try_change){.kind = TRY_ADD, .value = "Heater, 2300 W, use=07:00-08:00", .branch = "some"});
    ck_assert_str_eq(answer.done[0].id, "heater");
    ck_assert_uint_eq(answer.row_count, 1);
    ck_assert_str_eq(answer.rows[0].branch->id, "some");
    ck_assert_double_eq_tol(answer.rows[0].was->all.planning_a, 10, 1e-9);
    ck_assert_double_eq_tol(answer.rows[0].then->all.planning_a, 20, 1e-9);
    ck_assert_int_eq(answer.rows[0].fit->class, FIT_ONLY_IF);
    ck_assert_ptr_eq(answer.worst, answer.rows[0].fit);
    ck_assert_uint_eq(answer.over_count, 2);
    ck_assert_str_eq(answer.over[0].branch->id, "some");
    ck_assert(!answer.over[0].already && answer.over[1].already);
    ck_assert_uint_eq(answer.leg_count, 1);
    ck_assert_double_eq_tol(answer.legs[0].before_a, 27, 1e-9);
    ck_assert_double_eq_tol(answer.legs[0].after_a, 37, 1e-9);
    ck_assert_uint_eq(answer.left_out_count, 0);
}
END_TEST

START_TEST(findings_that_come_and_go_are_told_apart)
{
    ask((struct try_change){.kind = TRY_MOVE, .value = "stove=some"});
    size_t news[TRY_CHANGED + 1] = {0};
    for (size_t i = 0; i < answer.finding_count; i++) {
        const struct try_finding *found = &answer.findings[i];
        news[found->news]++;
        if (found->kind == KIND_BRANCH) {
            ck_assert_str_eq(found->where, found->news == TRY_GONE ? "over" : "some");
        }
    }
    ck_assert_uint_gt(news[TRY_NEW], 0);
    ck_assert_uint_gt(news[TRY_GONE], 0);
}
END_TEST

/* Both serve the hall: 6 A are left on some, 5 A on full. */
START_TEST(a_room_takes_the_branch_with_the_most_headroom)
{
    ask((struct try_change){.kind = TRY_ADD, .value = "Lamp, 23 W", .room = "hall"});
    ck_assert_str_eq(answer.done[0].chosen, "some");
    ck_assert_uint_eq(answer.left_out_count, 1); /* nothing was said of its hours */
    ck_assert_str_eq(answer.left_out[0]->id, "lamp");
}
END_TEST

/*
 * 4600 W for 400 V would draw 6.6 A of 230 V, 16.6 A with the oven on 16 A: no such current flows, so no overload is
 * told, but that it is made for another voltage. 60 W for 110 V is a danger there.
 */
START_TEST(another_voltage_is_told_alone)
{
    static const struct {
        const char *load;
        enum verdict status;
        size_t over;
    } rows[] = {{"Boiler, 4600 W, 400 V", VERDICT_OK, 0}, {"Lamp, 60 W, 110 V", VERDICT_OVER, 1}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct error error = {0};
        const struct try_change changes[] = {{TRY_REMOVE, "stove", NULL, NULL, NULL},
                                             {TRY_ADD, rows[i].load, "some", NULL, NULL}};
        const struct try_question question = {.changes = changes, .change_count = 2};
        ck_assert_msg(answer_try(house, &question, &answer, &error), "%s", error_message(&error));
        ck_assert_int_eq(answer.status, rows[i].status);
        ck_assert_uint_eq(answer.over_count, rows[i].over);
        ck_assert_uint_eq(answer.leg_count, 0);
        size_t news = 0;
        for (size_t k = 0; k < answer.finding_count; k++) {
            const bool new = answer.findings[k].news == TRY_NEW;
            ck_assert(!new || strcmp(answer.findings[k].finding->id, "8") == 0);
            news += new;
        }
        ck_assert_uint_eq(news, 1);
        try_answer_done(&answer);
    }
}
END_TEST

/* Each place goes to the load before it; words alone give room and time, but where a place is said. */
START_TEST(changes_are_read_as_they_are_said)
{
    static const struct choice_said said[] = {{"room", "nowhere"},
                                              {"add", "Fan, 60 W"},
                                              {"branch", "full"},
                                              {"remove", "pot"},
                                              {"outlet", "east"},
                                              {"branch", "some"},
                                              {"add", "kettle in the front hall, 7-8am"}};
    struct arena *arena = arena_new();
    struct try_question question = {0};
    struct error error = {0};
    ck_assert_msg(try_read(house, said, 7, arena, &question, &error), "%s", error_message(&error));
    ck_assert_uint_eq(question.change_count, 3);
    ck_assert_int_eq(question.changes[0].kind, TRY_ADD);
    ck_assert_str_eq(question.changes[0].branch, "some");
    ck_assert_str_eq(question.changes[0].outlet, "east");
    ck_assert_ptr_null(question.changes[0].room);
    ck_assert_int_eq(question.changes[1].kind, TRY_REMOVE);
    ck_assert_str_eq(question.changes[2].room, "hall");
    ck_assert_ptr_nonnull(strstr(question.changes[2].value, "use=07:00-08:00"));
    arena_free(arena);
}
END_TEST

START_TEST(nothing_to_try_and_no_such_room_are_refused)
{
    static const struct choice_said said[] = {{"room", "hall"}, {"add", "kettle in the attic"}};
    static const char *const want[] = {"nothing to try", "nothing to try", "attic"};
    for (size_t count = 0; count < 3; count++) {
        struct arena *arena = arena_new();
        struct try_question question = {0};
        struct error error = {0};
        ck_assert(!try_read(house, said, count, arena, &question, &error));
        ck_assert_msg(strstr(error_message(&error), want[count]) != NULL, "%s", error_message(&error));
        error_done(&error);
        arena_free(arena);
    }
}
END_TEST

START_TEST(what_is_not_there_is_refused)
{
    static const struct {
        struct try_change change;
        const char *on;
        const char *want;
    } rows[] = {
        {{TRY_ADD, "Heater, 2 kW", NULL, NULL, NULL}, NULL, "where does it go?"},
        {{TRY_ADD, "Heater, 2 kW", NULL, NULL, "hal"}, NULL, "the nearest is hall"},
        {{TRY_ADD, "Heater, 2 kW", NULL, NULL, "Front hall"}, NULL, "what is called so has the ID hall"},
        {{TRY_MOVE, "stove", NULL, NULL, NULL}, NULL, "expected APPLIANCE=BRANCH"},
        {{TRY_REMOVE, "pot", NULL, NULL, NULL}, "pot", "no appliance has this ID"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct error error = {0};
        const struct try_question question = {.changes = &rows[i].change, .change_count = 1, .on = rows[i].on};
        ck_assert(!answer_try(house, &question, &answer, &error));
        ck_assert_msg(strstr(error_message(&error), rows[i].want) != NULL, "%s", error_message(&error));
        error_done(&error);
        try_answer_done(&answer);
    }
}
END_TEST

Suite *make_suite(void)
{
    Suite *suite = suite_create("answer_try");
    TCase *changes = tcase_create("changes");
    tcase_add_checked_fixture(changes, setup, teardown);
    tcase_add_test(changes, a_load_that_is_added_changes_its_branch_alone);
    tcase_add_test(changes, findings_that_come_and_go_are_told_apart);
    tcase_add_test(changes, a_room_takes_the_branch_with_the_most_headroom);
    tcase_add_test(changes, changes_are_read_as_they_are_said);
    tcase_add_test(changes, nothing_to_try_and_no_such_room_are_refused);
    tcase_add_test(changes, what_is_not_there_is_refused);
    tcase_add_test(changes, another_voltage_is_told_alone);
    suite_add_tcase(suite, changes);
    return suite;
}
