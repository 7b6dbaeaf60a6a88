/* What is likely next while a house is written down, and what is not known yet. */
#include <string.h>

#include "ampsum/answer_next.h"
#include "ampsum/housefile.h"
#include "ampsum/keys.h"
#include "runner.h"

static const char text[] =
    "[house]\nname = Test\nrules = us\nmain_breaker = 100\n[room kitchen]\n[room hall]\n[room attic]\n"
    "[branch a]\nlabel = A\nbreaker = 20\nlegs = A\nposition = 5\nserves = hall\nwire = 12 AWG copper\n"
    "[branch b]\nlabel = B\nbreaker = 20\nlegs = B\nposition = 7\nwire = 12 AWG copper\nlength = 40\n"
    "[branch c]\nlabel = C\nbreaker = 20\nlegs = A\nserves = attic\n"
    "[outlet sink]\nbranch = b\nroom = kitchen\nrun = 5\n"
    "[appliance kettle]\nname = Kettle\npower = 1440 W\noutlet = sink\nrating_from = plate\n"
    "[appliance lamp]\nname = Lamp\npower = 60 W\nbranch = a\nuse = 18:00-22:00\n";

static struct house *house;
static struct arena *arena;

static void setup(void)
{
    struct error error = {0};
    arena = arena_new();
    ck_assert_msg(housefile_read_house_bytes("test", text, strlen(text), &house, &error), "%s", error_message(&error));
}

static void teardown(void)
{
    house_free(house);
    arena_free(arena);
}

/* Rooms, branches and appliances are there; the main panel is none that was written down. */
START_TEST(what_holds_nothing_yet_comes_next)
{
    static const enum kind kinds[] = {KIND_BRANCH, KIND_ROOM, KIND_PANEL, KIND_TARIFF};
    ck_assert_uint_eq(next_count(house, KIND_BRANCH), 3);
    ck_assert_uint_eq(next_count(house, KIND_PANEL), 0);
    ck_assert_uint_eq(next_empty(house, kinds, 4), 2);
    ck_assert_uint_eq(next_empty(house, kinds, 2), 2);
    ck_assert_uint_eq(next_room(house, arena), house_find(house, KIND_ROOM, "hall"));
}
END_TEST

/* 5 and 7 were written one after the other: the door is copied down its column. */
START_TEST(the_next_space_follows_the_column)
{
    ck_assert_int_eq(next_space(house, 0), 9);
    ck_assert_int_eq(next_space_behind(house, 0, 4), 6);
    ck_assert_int_eq(next_space_behind(house, 0, 6), 8);
    ck_assert_int_eq(highest_space(house, 0), 7);
    size_t free[8];
    ck_assert_uint_eq(next_free(house, 0, free, 8), 5); /* 1 to 4 and 6 */
    ck_assert(free[0] == 1 && free[3] == 4 && free[4] == 6);
    ck_assert_uint_eq(next_free(house, 0, free, 2), 2);
}
END_TEST

/* Behind a breaker of two spaces the column goes on, too. */
START_TEST(the_column_goes_on_behind_two_spaces)
{
    static const char door[] = "[house]\nname = Test\nrules = us\nmain_breaker = 100\n"
                               "[branch a]\nlabel = A\nbreaker = 20\nlegs = B\nposition = 3\n"
                               "[branch b]\nlabel = B\nbreaker = 50\npoles = 2\nlegs = AB\nposition = 5,7\n";
    struct error error = {0};
    struct house *other = NULL;
    ck_assert_msg(housefile_read_house_bytes("test", door, strlen(door), &other, &error), "%s", error_message(&error));
    ck_assert_int_eq(next_space(other, 0), 9);
    house_free(other);
}
END_TEST

/* The only branch is the likely one. */
START_TEST(the_only_branch_is_the_place)
{
    static const char door[] = "[house]\nname = Test\nrules = us\nmain_breaker = 100\n[room hall]\n"
                               "[branch a]\nlabel = A\nbreaker = 20\nlegs = A\n";
    struct error error = {0};
    struct house *other = NULL;
    ck_assert_msg(housefile_read_house_bytes("test", door, strlen(door), &other, &error), "%s", error_message(&error));
    ck_assert_uint_eq(next_place(other, 0, arena).index, 0);
    house_free(other);
}
END_TEST

/* Two columns: spaces 1 and 2 are one row, 3 and 4 the next, and rows take the legs in turn. */
START_TEST(legs_go_row_by_row)
{
    ck_assert_uint_eq(next_legs(house, "main", "1", 1), LEG_A);
    ck_assert_uint_eq(next_legs(house, NULL, "2", 1), LEG_A);
    ck_assert_uint_eq(next_legs(house, NULL, "3", 1), LEG_B);
    ck_assert_uint_eq(next_legs(house, NULL, "5", 1), LEG_A);
    ck_assert_uint_eq(next_legs(house, NULL, "3", 2), LEG_A | LEG_B);
    ck_assert_uint_eq(next_legs(house, NULL, NULL, 1), LEG_B);   /* the fourth line */
    ck_assert_uint_eq(next_legs(house, NULL, "no 3", 1), LEG_A); /* as space 1: the refusal names it */
    ck_assert_uint_eq(next_legs(house, "barn", "3", 1), LEG_B);  /* no such panel: the supply's */
    house->panels[0].legs = LEG_B;
    ck_assert_uint_eq(next_legs(house, NULL, "1", 1), LEG_B);
}
END_TEST

START_TEST(a_place_is_the_last_of_its_room_else_a_branch_that_serves_it)
{
    const struct next_place kitchen = next_place(house, house_find(house, KIND_ROOM, "kitchen"), arena);
    const struct next_place attic = next_place(house, house_find(house, KIND_ROOM, "attic"), arena);
    const struct next_place unknown = next_place(house, NO_INDEX, arena);
    ck_assert_int_eq(kitchen.kind, KIND_OUTLET);
    ck_assert_str_eq(house_row_id(house, KIND_OUTLET, kitchen.index), "sink");
    ck_assert_int_eq(attic.kind, KIND_BRANCH);
    ck_assert_str_eq(house_row_name(house, KIND_BRANCH, attic.index), "C");
    ck_assert_int_eq(unknown.kind, KIND_BRANCH); /* the lamp's */
    ck_assert_str_eq(house_row_id(house, KIND_BRANCH, unknown.index), "a");
}
END_TEST

START_TEST(what_was_written_last_goes_on)
{
    static struct tariff tariffs[2];
    ck_assert_uint_eq(next_load_room(house), NO_INDEX); /* the lamp's is not known */
    house->appliance_count = 1;
    ck_assert_uint_eq(next_load_room(house), house->appliances[0].room);
    house->appliance_count = 0;
    ck_assert_uint_eq(next_load_room(house), NO_INDEX);
    ck_assert_uint_eq(next_period_tariff(house), NO_INDEX);
    struct house priced = {.tariffs = tariffs, .tariff_count = 2, .tariff = NO_INDEX};
    ck_assert_uint_eq(next_period_tariff(&priced), 1);
    priced.tariff = 0;
    ck_assert_uint_eq(next_period_tariff(&priced), 0);
    house->appliance_count = 2;
}
END_TEST

/* The rows that lack something, by ID; "" for the house. */
static void check_missing(const struct missing_rows *rows, size_t count, const char *first)
{
    ck_assert_msg(rows->count == count, "%s: %zu", kind_word(rows->kind), rows->count);
    if (count > 0) {
        ck_assert_str_eq(house_row_id(house, rows->kind, rows->index[0]), first);
    }
}

START_TEST(what_is_not_known_is_told_row_by_row)
{
    struct missing_rows rows[MISSING_COUNT];
    answer_missing(house, arena, rows);
    check_missing(&rows[MISSING_NAMEPLATE], 1,
                  "lamp"); /* the kettle's is the plate's, though a typical one has 1440 W too */
    check_missing(&rows[MISSING_WIRE], 1, "c");
    check_missing(&rows[MISSING_LENGTH], 1, "a");
    check_missing(&rows[MISSING_FEEDER], 0, NULL);
    check_missing(&rows[MISSING_LOADS], 1, "c");
    check_missing(&rows[MISSING_USE], 1, "kettle");
    check_missing(&rows[MISSING_ROOM], 1, "lamp");
    check_missing(&rows[MISSING_SPACE], 1, "c");
    check_missing(&rows[MISSING_TARIFF], 1, "");
    check_missing(&rows[MISSING_FLOOR_AREA], 1, "");
}
END_TEST

START_TEST(a_rating_is_typical_by_name_and_figure_unless_it_is_the_plates)
{
    struct appliance kettle = house->appliances[0];
    ck_assert(!rating_is_typical(&kettle));
    kettle.rating_from = 0;
    ck_assert(rating_is_typical(&kettle));
    kettle.power_w += 1;
    ck_assert(!rating_is_typical(&kettle));
}
END_TEST

Suite *make_suite(void)
{
    TCase *tcase = tcase_create("next");
    tcase_add_checked_fixture(tcase, setup, teardown);
    tcase_add_test(tcase, what_was_written_last_goes_on);
    tcase_add_test(tcase, what_holds_nothing_yet_comes_next);
    tcase_add_test(tcase, the_next_space_follows_the_column);
    tcase_add_test(tcase, the_column_goes_on_behind_two_spaces);
    tcase_add_test(tcase, the_only_branch_is_the_place);
    tcase_add_test(tcase, legs_go_row_by_row);
    tcase_add_test(tcase, a_place_is_the_last_of_its_room_else_a_branch_that_serves_it);
    tcase_add_test(tcase, what_is_not_known_is_told_row_by_row);
    tcase_add_test(tcase, a_rating_is_typical_by_name_and_figure_unless_it_is_the_plates);
    Suite *suite = suite_create("answer_next");
    suite_add_tcase(suite, tcase);
    return suite;
}
