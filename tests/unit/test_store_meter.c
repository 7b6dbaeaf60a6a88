#include "runner.h"

#include <stdlib.h>
#include <string.h>

#include "ampsum/meter.h"
#include "store_files.h"
#include "store_house.h"

enum { READINGS = 400 };

static void make_readings(struct meter_reading *readings, struct dice *dice)
{
    for (int i = 0; i < READINGS; i++) {
        readings[i] = (struct meter_reading){.start_s = 1772341200 + i * 900,
                                             .energy_uwh = dice_throw(dice, 1000000),
                                             .duration_s = 900,
                                             .utc_offset_s = i < 200 ? -18000 : -14400};
    }
}

static struct store *open_new(void)
{
    struct dice dice = {3};
    struct error error = {0};
    struct house *house = house_by_chance(&dice, 5);
    house_finish(house);
    ck_assert_msg(store_create(files_path(), house, false, &error), "%s", error_message(&error));
    house_free(house);
    struct store *store = NULL;
    ck_assert_msg(store_open(files_path(), STORE_WRITE, &store, &error), "%s", error_message(&error));
    return store;
}

static struct meter_stored write_all(struct store *store, const struct meter_reading *readings, size_t count)
{
    struct meter_stored stored;
    struct error error = {0};
    ck_assert_msg(store_meter_write(store, readings, count, NULL, NULL, &stored, &error), "%s", error_message(&error));
    return stored;
}

START_TEST(readings_come_back_as_written)
{
    struct meter_reading readings[READINGS];
    struct dice dice = {7};
    make_readings(readings, &dice);
    struct store *store = open_new();
    write_all(store, readings, READINGS);
    struct meter_reading *got = NULL;
    size_t count = 0;
    struct error error = {0};
    ck_assert(store_meter_read(store, &got, &count, &error));
    ck_assert_uint_eq(count, READINGS);
    for (size_t i = 0; i < count; i++) {
        ck_assert_int_eq(got[i].start_s, readings[i].start_s);
        ck_assert_int_eq(got[i].energy_uwh, readings[i].energy_uwh);
        ck_assert_int_eq(got[i].duration_s, readings[i].duration_s);
        ck_assert_int_eq(got[i].utc_offset_s, readings[i].utc_offset_s);
    }
    free(got);
    store_close(store);
}
END_TEST

START_TEST(a_second_import_changes_nothing)
{
    struct meter_reading readings[READINGS];
    struct dice dice = {8};
    make_readings(readings, &dice);
    struct store *store = open_new();
    struct meter_stored stored = write_all(store, readings, 300);
    ck_assert_uint_eq(stored.added, 300);
    stored = write_all(store, readings, 300);
    ck_assert_uint_eq(stored.added + stored.changed, 0);
    ck_assert_uint_eq(stored.same, 300);
    readings[5].energy_uwh += 1;
    stored = write_all(store, readings, READINGS);
    ck_assert_uint_eq(stored.added, READINGS - 300);
    ck_assert_uint_eq(stored.changed, 1);
    ck_assert_uint_eq(stored.same, 299);
    store_close(store);
    ck_assert_int_eq(files_number(files_path(), "SELECT count(*) FROM meter_reading"), READINGS);
    ck_assert_int_eq(files_number(files_path(), "SELECT energy_uwh FROM meter_reading WHERE start_s = 1772345700"),
                     readings[5].energy_uwh);
}
END_TEST

/* The last of them is out of range: none is stored, the database is whole. */
START_TEST(a_wrong_reading_stores_none)
{
    struct meter_reading readings[READINGS];
    struct dice dice = {9};
    make_readings(readings, &dice);
    readings[READINGS - 1].energy_uwh = -1;
    struct store *store = open_new();
    struct meter_stored stored;
    struct error error = {0};
    ck_assert(!store_meter_write(store, readings, READINGS, NULL, NULL, &stored, &error));
    ck_assert_int_eq(error_exit_status(&error), 3);
    error_done(&error);
    store_close(store);
    ck_assert_int_eq(files_number(files_path(), "SELECT count(*) FROM meter_reading"), 0);
}
END_TEST

/* Readings are no part of the house: it reads back the same, nothing stands in the journal. */
START_TEST(the_house_and_its_journal_stay)
{
    struct meter_reading readings[READINGS];
    struct dice dice = {10};
    make_readings(readings, &dice);
    struct store *store = open_new();
    struct error error = {0};
    struct house *before = NULL;
    struct house *after = NULL;
    ck_assert(store_read_house(store, &before, &error));
    write_all(store, readings, READINGS);
    ck_assert(store_read_house(store, &after, &error));
    const char *where = "";
    ck_assert_msg(houses_equal(before, after, &where), "%s", where);
    struct text what = {0};
    ck_assert(store_undo(store, &what, &error));
    ck_assert_str_eq(text_string(&what), "");
    text_done(&what);
    house_free(before);
    house_free(after);
    store_close(store);
}
END_TEST

/* A stranger's file: what the guards of the table would refuse was put in with them off. */
START_TEST(readings_out_of_range_are_damage)
{
    store_close(open_new());
    files_sql(files_path(), "PRAGMA ignore_check_constraints = ON; INSERT INTO meter_reading VALUES (0, 0, 1, 0)");
    struct store *store = NULL;
    struct error error = {0};
    struct meter_reading *readings = NULL;
    size_t count = 0;
    ck_assert(store_open(files_path(), STORE_READ, &store, &error));
    ck_assert(!store_meter_read(store, &readings, &count, &error));
    ck_assert_ptr_nonnull(strstr(error_message(&error), "damaged"));
    ck_assert_ptr_null(readings);
    error_done(&error);
    store_close(store);
}
END_TEST

Suite *make_suite(void)
{
    Suite *suite = suite_create("store_meter");
    TCase *tcase = tcase_create("store_meter");
    tcase_add_checked_fixture(tcase, files_init, files_done);
    tcase_add_test(tcase, readings_come_back_as_written);
    tcase_add_test(tcase, a_second_import_changes_nothing);
    tcase_add_test(tcase, a_wrong_reading_stores_none);
    tcase_add_test(tcase, the_house_and_its_journal_stay);
    tcase_add_test(tcase, readings_out_of_range_are_damage);
    suite_add_tcase(suite, tcase);
    return suite;
}
