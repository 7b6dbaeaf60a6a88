/* Where a load could go, by hand: 230 V; the load and the oven 10 A each, the pot 5 A, the cooker another voltage. */
#include <string.h>

#include "ampsum/answer_place.h"
#include "ampsum/asked.h"
#include "ampsum/housefile.h"
#include "runner.h"

static const char text[] = "[house]\nname = Test\nrules = iec\nsystem = single-phase\nmain_breaker = 63 A\n[room "
                           "hall]\n[room bath]\nkind = bath\n"
                           "[branch full]\nlabel = full\nbreaker = 10 A\nserves = hall\n"
                           "[branch some]\nlabel = some\nbreaker = 16 A\nserves = bath\n"
                           "[branch free]\nlabel = free\nbreaker = 16 A\nserves = hall\n"
                           "[branch own]\nlabel = own\nbreaker = 16 A\npurpose = dedicated\nserves = hall\n"
                           "[appliance pot]\nname = Pot\nbranch = full\npower = 1150 W\n"
                           "[appliance oven]\nname = Oven\nbranch = some\npower = 2300 W\nuse = 07:00-08:00\n"
                           "[appliance washer]\nname = Washer\nbranch = own\npower = 460 W\n";

static struct house *house;
static struct place_answer answer;

static void setup(void)
{
    struct error error = {0};
    ck_assert_msg(housefile_read_house_bytes("test", text, strlen(text), &house, &error), "%s", error_message(&error));
    answer = (struct place_answer){0};
}

static void teardown(void)
{
    place_answer_done(&answer);
    house_free(house);
}

static void ask(const char *load, const char *room)
{
    struct error error = {0};
    const struct place_question question = {load, room == NULL ? NO_INDEX : house_find(house, KIND_ROOM, room)};
    ck_assert_msg(answer_place(house, &question, &answer, &error), "%s", error_message(&error));
}

/* All on: 10 A on free, 20 A on some (4 A over), 15 A on full (5 A over); own has no place for a plug. */
START_TEST(branches_stand_by_room_then_headroom)
{
    static const char *const want[] = {"free", "some", "full", "own"};
    ask("Heater, 2300 W, use=07:30-09:00", NULL);
    ck_assert_uint_eq(answer.count, 4);
    for (size_t i = 0; i < answer.count; i++) {
        ck_assert_str_eq(answer.rows[i].branch->id, want[i]);
    }
    ck_assert_uint_eq(answer.room_count, 1);
    ck_assert_uint_eq(answer.only_if_count, 2);
    ck_assert_uint_eq(place_takers(&answer), 3);
    ck_assert_ptr_eq(place_best(&answer), &answer.rows[0]);
    ck_assert(answer.rows[0].has_room && !answer.rows[1].has_room);
    ck_assert_double_eq_tol(answer.rows[0].result->all.headroom_a, 6, 1e-9);
    ck_assert_double_eq_tol(answer.rows[1].result->all.headroom_a, -4, 1e-9);
    ck_assert_double_eq_tol(answer.rows[2].result->all.headroom_a, -5, 1e-9);
    ck_assert_int_eq(answer.rows[3].fit.class, FIT_NO);
    ck_assert_ptr_null(answer.rows[3].result);
}
END_TEST

START_TEST(when_it_would_be_too_much_and_what_to_keep_off_are_named)
{
    ask("Heater, 2300 W, use=07:30-09:00", NULL);
    const struct place_row *some = &answer.rows[1];
    ck_assert_uint_eq(some->not_at_count, 1);
    ck_assert_int_eq(some->not_at[0].start_min, 7 * 60 + 30);
    ck_assert_int_eq(some->not_at[0].end_min, 8 * 60);
    ck_assert_uint_eq(some->off_count, 1);
    ck_assert_str_eq(some->off[0]->id, "oven");
    ck_assert_uint_eq(answer.rows[0].off_count + answer.rows[0].not_at_count, 0);
}
END_TEST

/*
 * A ring of 10 m either way to its far outlet, in 21 A cable behind 32 A. There 36 A hang, 18 A a side; with 6 A more
 * near the panel it is 42 A, 23.7 A on one side. One load of 10 A off is enough for the breaker, and leaves that
 * side 18.7 A: the wire's 21 A are those of a side, not of all that the ring carries.
 */
START_TEST(a_ring_is_held_by_its_sides)
{
    static const char ring[] = "[house]\nname = Ring\nrules = uk\nsupply_fuse = 80\n[room hall]\n"
                               "[branch r]\nlabel = r\nbreaker = 32\nlayout = ring\nreturn = 10 m\n"
                               "wire = 2.5 mm2 copper\nmethod = 100\nserves = hall\n"
                               "[outlet near]\nbranch = r\nroom = hall\nrun = 1 m\n"
                               "[outlet far]\nbranch = r\nroom = hall\nfrom = near\nrun = 9 m\n"
                               "[appliance a]\nname = A\noutlet = far\ncurrent = 12\n"
                               "[appliance b]\nname = B\noutlet = far\ncurrent = 11\n"
                               "[appliance c]\nname = C\noutlet = far\ncurrent = 10\n"
                               "[appliance d]\nname = D\noutlet = far\ncurrent = 3\n";
    struct error error = {0};
    house_free(house);
    ck_assert_msg(housefile_read_house_bytes("test", ring, strlen(ring), &house, &error), "%s", error_message(&error));
    ask("Kettle, 6 A", NULL);
    ck_assert_uint_eq(answer.count, 1);
    ck_assert_int_eq(answer.rows[0].fit.class, FIT_ONLY_IF);
    ck_assert_uint_eq(answer.rows[0].off_count, 1);
}
END_TEST

/* A feeder of 20 A that plans 12.5 + 12.5 A on one leg: plugs has room, its panel has none. Hall hangs on the main one.
 */
START_TEST(a_panel_that_is_full_is_named_beside_a_branch_with_room)
{
    static const char cabin[] = "[house]\nname = Cabin\nrules = us\nmain_breaker = 100\n"
                                "[panel cabin]\nbreaker = 20\npoles = 2\nlegs = AB\n"
                                "[branch heat]\nlabel = h\npanel = cabin\nbreaker = 20\nlegs = A\npurpose = dedicated\n"
                                "[branch plugs]\nlabel = p\npanel = cabin\nbreaker = 20\nlegs = A\n"
                                "[branch hall]\nlabel = hall\nbreaker = 15\nlegs = A\n"
                                "[appliance h]\nname = Heater\nbranch = heat\npower = 1500\n"
                                "[appliance k]\nname = Iron\nbranch = plugs\npower = 1500\n";
    struct error error = {0};
    house_free(house);
    ck_assert_msg(housefile_read_house_bytes("test", cabin, strlen(cabin), &house, &error), "%s",
                  error_message(&error));
    ask("Lamp, 60 W", NULL);
    for (size_t i = 0; i < answer.count; i++) {
        const struct place_row *row = &answer.rows[i];
        ck_assert(row->full_panel == (strcmp(row->branch->id, "hall") == 0 ? NO_INDEX : 1));
    }
    ck_assert_uint_eq(answer.room_count, 2);
}
END_TEST

START_TEST(a_room_leaves_its_own_branches)
{
    ask("Heater, 2300 W, use=07:30-09:00", "bath");
    ck_assert_uint_eq(answer.count, 1);
    ck_assert_str_eq(answer.rows[0].branch->id, "some");
    ck_assert(answer.by_water);
    ck_assert(!answer.medical);
}
END_TEST

/* What, in which room, when: however they stand in one line. */
static const struct {
    const char *said;
    const char *load;
    const char *room; /* NULL: none */
} asked_rows[] = {
    {"space heater tonight", "space heater, use=18:00-24:00", NULL},
    {"space heater, 1500 W, tonight", "space heater, 1500 W, use=18:00-24:00", NULL},
    {"space heater tonight, 1500 W", "space heater, 1500 W, use=18:00-24:00", NULL},
    {"heater, tonight, 1500 W", "heater, 1500 W, use=18:00-24:00", NULL},
    {"heater in the Hall tonight", "heater, use=18:00-24:00", "hall"},
    {"heater tonight in the hall", "heater, use=18:00-24:00", "hall"},
    {"heater in hall, 1500 W", "heater, 1500 W", "hall"},
    {"heater in the evening in our bath", "heater, use=18:00-22:00", "bath"},
    {"heater from 7pm to 10pm", "heater, use=19:00-22:00", NULL},
    {"heater 7-10pm", "heater, use=19:00-22:00", NULL},
    {"heater, 5-10", "heater, use=05:00-10:00", NULL},
    {"heater 5-10", "heater 5-10", NULL}, /* watts, hours? asked about later */
    {"night light 5 W", "night light 5 W", NULL},
    {"TV, 90 W, use=18:00-20:00, 21:00-22:00", "TV, 90 W, use=18:00-20:00, 21:00-22:00", NULL},
    {"lamp in line, 5 W", "lamp in line, 5 W", NULL},
    {"tonight", "tonight", NULL},
};

START_TEST(a_question_in_one_line_has_three_parts)
{
    struct arena *arena = arena_new();
    struct error error = {0};
    struct asked asked;
    const char *room = asked_rows[_i].room;
    ck_assert_msg(asked_read(house, asked_rows[_i].said, arena, &asked, &error), "%s", error_message(&error));
    ck_assert_str_eq(asked.load, asked_rows[_i].load);
    ck_assert_uint_eq(asked.room, room == NULL ? NO_INDEX : house_find(house, KIND_ROOM, room));
    ck_assert((asked.room_said != NULL) == (room != NULL));
    ck_assert((asked.use_said != NULL) == (asked.use != NULL));
    arena_free(arena);
}
END_TEST

START_TEST(a_room_that_there_is_not_is_told)
{
    struct arena *arena = arena_new();
    struct error error = {0};
    struct asked asked;
    ck_assert(!asked_read(house, "heater in the attic tonight", arena, &asked, &error));
    ck_assert_ptr_nonnull(strstr(error_message(&error), "attic: no room has this ID; there are: hall, bath"));
    error_done(&error);
    arena_free(arena);
}
END_TEST

START_TEST(a_load_without_a_rating_is_refused)
{
    struct error error = {0};
    const struct place_question question = {"Heater, lots", NO_INDEX};
    ck_assert(!answer_place(house, &question, &answer, &error));
    ck_assert(error_is_set(&error));
    error_done(&error);
}
END_TEST

Suite *make_suite(void)
{
    Suite *suite = suite_create("answer_place");
    TCase *places = tcase_create("places");
    tcase_add_checked_fixture(places, setup, teardown);
    tcase_add_test(places, branches_stand_by_room_then_headroom);
    tcase_add_test(places, when_it_would_be_too_much_and_what_to_keep_off_are_named);
    tcase_add_test(places, a_ring_is_held_by_its_sides);
    tcase_add_test(places, a_panel_that_is_full_is_named_beside_a_branch_with_room);
    tcase_add_test(places, a_room_leaves_its_own_branches);
    tcase_add_loop_test(places, a_question_in_one_line_has_three_parts, 0,
                        (int)(sizeof asked_rows / sizeof asked_rows[0]));
    tcase_add_test(places, a_room_that_there_is_not_is_told);
    tcase_add_test(places, a_load_without_a_rating_is_refused);
    suite_add_tcase(suite, places);
    return suite;
}
