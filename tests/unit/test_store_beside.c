/* What a journal beside a database may bring about. tests/planted/run tries the same with each command. */
#include "runner.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "../../src/store/internal.h"
#include "store_files.h"
#include "store_house.h"

static void create_some(void)
{
    struct dice dice = {11};
    struct house *house = house_by_chance(&dice, 5);
    struct error error = {0};
    ck_assert_msg(store_create(files_path(), house, true, &error), "%s", error_message(&error));
    house_free(house);
}

static void beside(const char *ending, char *name, size_t bytes)
{
    ck_assert_int_lt(snprintf(name, bytes, "%s%s", files_path(), ending), (int)bytes);
}

static void put32(unsigned char *at, size_t number)
{
    for (int i = 0; i < 4; i++) {
        at[i] = (unsigned char)(number >> (24 - 8 * i));
    }
}

/* A journal that restores nothing and names `victim` (https://www.sqlite.org/fileformat2.html, 3). */
static size_t journal_make(unsigned char *bytes, const char *victim)
{
    static const unsigned char magic[8] = {0xd9, 0xd5, 0x05, 0xf9, 0x20, 0xa1, 0x63, 0xd7};
    const size_t length = strlen(victim);
    size_t sum = 0;
    for (size_t i = 0; i < length; i++) {
        sum += (unsigned char)victim[i];
    }
    memset(bytes, 0, 512);
    memcpy(bytes, magic, sizeof magic);
    put32(bytes + 16, (size_t)files_number(files_path(), "PRAGMA page_count"));
    put32(bytes + 20, 512);
    put32(bytes + 24, 4096);
    put32(bytes + 512, 262145);
    memcpy(bytes + 516, victim, length);
    put32(bytes + 516 + length, length);
    put32(bytes + 520 + length, sum);
    memcpy(bytes + 524 + length, magic, sizeof magic);
    return 532 + length;
}

static void plant(char *victim, char *journal, size_t room)
{
    unsigned char bytes[1024];
    beside(".victim", victim, room);
    beside("-journal", journal, room);
    files_write(victim, -1, "kept", 4);
    const size_t length = journal_make(bytes, victim);
    files_write(journal, -1, bytes, length);
}

/* Shows that the journal made here is one that SQLite obeys; the other tests would prove nothing without it. */
START_TEST(sqlite_alone_would_delete_it)
{
    char victim[128];
    char journal[128];
    create_some();
    plant(victim, journal, sizeof victim);
    ck_assert_int_eq(files_number(files_path(), "SELECT count(*) FROM house"), 1);
    ck_assert_int_ne(access(victim, F_OK), 0);
}
END_TEST

START_TEST(journal_that_names_a_file_is_refused)
{
    char victim[128];
    char journal[128];
    create_some();
    plant(victim, journal, sizeof victim);
    struct store *store = NULL;
    struct error error = {0};
    ck_assert(!store_open(files_path(), _i == 0 ? STORE_READ : STORE_WRITE, &store, &error));
    ck_assert_int_eq((int)error.code, ERROR_STORE);
    ck_assert_msg(strncmp(error_message(&error), journal, strlen(journal)) == 0, "%s", error_message(&error));
    ck_assert_int_eq(access(victim, F_OK), 0);
    ck_assert_int_eq(access(journal, F_OK), 0);
    error_done(&error);
}
END_TEST

/* Put there after it was looked for: the connection itself opens and deletes nothing but the house's own files. */
START_TEST(connection_deletes_no_other_file)
{
    char victim[128];
    char journal[128];
    create_some();
    plant(victim, journal, sizeof victim);
    struct store *store = store_new(files_path(), STORE_WRITE);
    struct error error = {0};
    int64_t id = 0;
    ck_assert(!(store_connect(store, files_path(), SQLITE_OPEN_READWRITE, &error) &&
                store_number(store, "SELECT count(*) FROM house", &id, &error)));
    store_close(store);
    ck_assert_int_eq(access(victim, F_OK), 0);
    error_done(&error);
}
END_TEST

/* An ordinary change makes its journal and takes it away through the same connection. */
START_TEST(own_journal_comes_and_goes)
{
    create_some();
    struct store *store = NULL;
    struct error error = {0};
    ck_assert_msg(store_open(files_path(), STORE_WRITE, &store, &error), "%s", error_message(&error));
    ck_assert(store_begin(store, &error) && store_execute(store, "UPDATE house SET name = 'New'", &error));
    ck_assert_int_eq(sqlite3_db_cacheflush(store->db), SQLITE_OK);
    ck_assert_uint_eq(files_count(), 2);
    ck_assert(store_commit(store, &error));
    ck_assert_uint_eq(files_count(), 1);
    store_close(store);
}
END_TEST

Suite *make_suite(void)
{
    Suite *suite = suite_create("store_beside");
    TCase *tcase = tcase_create("beside");
    tcase_add_checked_fixture(tcase, files_init, files_done);
    tcase_add_test(tcase, sqlite_alone_would_delete_it);
    tcase_add_loop_test(tcase, journal_that_names_a_file_is_refused, 0, 2);
    tcase_add_test(tcase, connection_deletes_no_other_file);
    tcase_add_test(tcase, own_journal_comes_and_goes);
    suite_add_tcase(suite, tcase);
    return suite;
}
