/* The house database: what goes in comes out, and what is not whole or not ours is refused with its own sentence. */
#include "runner.h"

#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include <sqlite3.h>

#include "ampsum/keys.h"
#include "ampsum/store.h"
#include "store_files.h"
#include "store_house.h"

enum { HOUSES = 60, KILLS = 25, NOBODY = 65534 };

static struct house *some_house(unsigned seed, size_t appliances)
{
    struct dice dice = {seed * 2654435761U + 88172645463325252ULL};
    return house_by_chance(&dice, appliances);
}

static void create(const struct house *house, bool replace)
{
    struct error error = {0};
    ck_assert_msg(store_create(files_path(), house, replace, &error), "%s", error_message(&error));
}

static void create_some(unsigned seed, size_t appliances)
{
    struct house *house = some_house(seed, appliances);
    create(house, true);
    house_free(house);
}

START_TEST(what_goes_in_comes_out)
{
    struct house *house = some_house((unsigned)_i, (size_t)_i);
    create(house, false);
    struct error error = {0};
    struct house *back = files_read(files_path(), &error);
    ck_assert_msg(back != NULL, "%s", error_message(&error));
    const char *where = NULL;
    ck_assert_msg(houses_equal(house, back, &where), "differs in %s", where);
    ck_assert_uint_eq(files_count(), 1);
    house_free(back);
    house_free(house);
}
END_TEST

/* The tables follow the table of keys: a key without its column, or a column without its key, shows here. */
START_TEST(each_key_has_its_column)
{
    create_some(1, 3);
    const struct section *section = &sections[_i];
    long columns = section->takes_id ? 2 : 1;
    for (size_t i = 0; i < section->key_count; i++) {
        const struct key *key = &section->keys[i];
        if (key->column == NULL) {
            continue;
        }
        const char *type =
            key->type == KEY_QUANTITY || key->type == KEY_RATIO || key->type == KEY_HORSEPOWER ? "REAL"
            : key->type == KEY_WHOLE || key->type == KEY_DAYS || key->type == KEY_MONTHS || key->type == KEY_REFERENCE
                ? "INTEGER"
                : "TEXT";
        char *sql = sqlite3_mprintf("SELECT count(*) FROM pragma_table_info(%Q) WHERE name = %Q AND type = %Q",
                                    section->word, key->column, type);
        ck_assert_msg(files_number(files_path(), sql) == 1, "%s.%s is not a column of type %s", section->word,
                      key->column, type);
        sqlite3_free(sql);
        columns++;
    }
    char *sql = sqlite3_mprintf("SELECT count(*) FROM pragma_table_info(%Q)", section->word);
    ck_assert_int_eq(files_number(files_path(), sql), columns);
    sqlite3_free(sql);
}
END_TEST

/* ------------------------------------------------------------------ what is refused ----------------------- */

static void refused(const char *path, enum store_access access, enum error_code code, const char *words)
{
    struct error error = {0};
    struct store *store = NULL;
    ck_assert_msg(!store_open(path, access, &store, &error), "%s was opened", path);
    ck_assert_ptr_null(store);
    ck_assert_msg(error.code == code && strstr(error_message(&error), words) != NULL, "%d %s", (int)error.code,
                  error_message(&error));
    ck_assert_msg(strchr(error_message(&error), '\n') == NULL, "not one line: %s", error_message(&error));
    ck_assert_msg(strncmp(error_message(&error), path, strlen(path)) == 0, "begins without the file: %s",
                  error_message(&error));
    error_done(&error);
}

/* What SQL makes of a good file, and the words of the refusal. */
static const struct {
    const char *sql;
    const char *words;
} spoilt_rows[] = {
    {"PRAGMA application_id = 0", "not a house database"},
    {"PRAGMA application_id = 252006673", "not a house database"},
    {"PRAGMA user_version = 99", "made by a newer ampsum (version 99"},
    {"PRAGMA user_version = 0", "damaged (it has no version)"},
    {"PRAGMA user_version = -3", "damaged (it has no version)"},
    {"CREATE TABLE guest(a)", "changed by another program"},
    {"CREATE VIEW guest AS SELECT * FROM house", "changed by another program"},
    {"CREATE TRIGGER guest AFTER UPDATE ON house BEGIN DELETE FROM appliance; END", "changed by another program"},
    {"CREATE INDEX guest ON appliance(branch_n)", "changed by another program"},
    {"ALTER TABLE appliance ADD COLUMN guest INTEGER", "changed by another program"},
    {"DROP TABLE scene_on", "changed by another program"},
    {"DROP TABLE tariff", "changed by another program"},
    {"DROP TABLE journal", "changed by another program"},
};

START_TEST(spoilt_file_is_refused)
{
    create_some(2, 5);
    files_sql(files_path(), spoilt_rows[_i].sql);
    refused(files_path(), STORE_READ, ERROR_STORE, spoilt_rows[_i].words);
    refused(files_path(), STORE_WRITE, ERROR_STORE, spoilt_rows[_i].words);
}
END_TEST

START_TEST(missing_file_and_folder_are_wrong_input)
{
    refused(files_path(), STORE_READ, ERROR_INPUT, "No such file");
    refused(files_path(), STORE_WRITE, ERROR_INPUT, "No such file");
    ck_assert_uint_eq(files_count(), 0);
    refused(files_folder(), STORE_READ, ERROR_INPUT, "a folder");
    refused("/dev/null", STORE_READ, ERROR_INPUT, "not an ordinary file");
}
END_TEST

START_TEST(other_content_is_not_a_house_database)
{
    files_write(files_path(), -1, "", 0);
    refused(files_path(), STORE_READ, ERROR_STORE, "not a house database");
    ck_assert(!store_is_database(files_path()));
    static const char text[] = "[house]\nname = not a database at all, though long enough to be looked at\n";
    files_write(files_path(), -1, text, sizeof text - 1);
    refused(files_path(), STORE_READ, ERROR_STORE, "not a house database");
    ck_assert(!store_is_database(files_path()));
    ck_assert_int_eq(unlink(files_path()), 0);
    create_some(3, 1);
    ck_assert(store_is_database(files_path()));
}
END_TEST

START_TEST(damage_is_reported_as_damage)
{
    create_some(4, 200);
    long pages = files_number(files_path(), "PRAGMA page_count");
    ck_assert_int_gt(pages, 20);
    char junk[512];
    memset(junk, 0xA5, sizeof junk);
    for (long page = 1; page < pages; page++) {
        create_some(4, 200);
        files_write(files_path(), page * 4096, junk, sizeof junk);
        refused(files_path(), STORE_READ, ERROR_STORE, "damaged");
    }
}
END_TEST

START_TEST(cut_file_is_damaged)
{
    for (long length = 512; length < 60000; length += 7919) {
        create_some(5, 50);
        ck_assert_int_eq(truncate(files_path(), length), 0);
        refused(files_path(), STORE_READ, ERROR_STORE, "damaged");
    }
}
END_TEST

/* Rows that no house file could make. The journal is swollen first, so that the file is too large to be looked through
 * as a whole, and the reading itself must find the fault. */
static const char *const hostile_rows[] = {
    "UPDATE appliance SET power_w = 9e999, apparent_va = NULL, current_a = NULL WHERE n = 1",
    "UPDATE appliance SET power_w = -5, apparent_va = NULL, current_a = NULL WHERE n = 1",
    "UPDATE appliance SET power_w = 5, apparent_va = 5 WHERE n = 1",
    "UPDATE appliance SET power_w = NULL, apparent_va = NULL, current_a = NULL WHERE n = 1",
    "UPDATE appliance SET power_factor = 1.5 WHERE n = 2",
    "UPDATE appliance SET count = 0 WHERE n = 2",
    "UPDATE appliance SET count = 9000000000000000000 WHERE n = 2",
    "UPDATE appliance SET days = 0 WHERE n = 2",
    "UPDATE appliance SET months = 4096 WHERE n = 2",
    "UPDATE appliance SET use = '25:00-26:00' WHERE n = 2",
    "UPDATE appliance SET use = '06:00-08:00, 07:00-09:00' WHERE n = 2",
    "UPDATE appliance SET use = '06:00-08:00', hours_s = 7300 WHERE n = 2",
    "UPDATE appliance SET behaviour = 'odd' WHERE n = 2",
    "UPDATE appliance SET outlet_n = NULL, branch_n = NULL WHERE n = 2",
    "UPDATE appliance SET branch_n = 77 WHERE n = 2",
    "UPDATE appliance SET room_n = -1 WHERE n = 2",
    "UPDATE appliance SET id = 'With Space' WHERE n = 2",
    "UPDATE appliance SET name = char(27) || '[2J' WHERE n = 2",
    "UPDATE appliance SET name = 'a' || char(0) || 'b' WHERE n = 2",
    "UPDATE appliance SET name = CAST(x'C328' AS TEXT) WHERE n = 2",
    "UPDATE appliance SET power_w = NULL, apparent_va = NULL, current_a = NULL, horsepower_hp = 0.123 WHERE n = 1",
    "UPDATE appliance SET duty_percent = 101 WHERE n = 1",
    "UPDATE appliance SET n = -4 WHERE n = 1",
    "UPDATE outlet SET from_n = 4 WHERE n = 6",
    "UPDATE outlet SET from_n = 4 WHERE n = 4",
    "UPDATE outlet SET from_n = 1 WHERE n = 5",
    "UPDATE outlet SET from_n = 99 WHERE n = 5",
    "UPDATE outlet SET from_n = 1 WHERE n = 3",
    "UPDATE outlet SET run_m = 0 WHERE n = 1",
    "UPDATE outlet SET id = 'panel' WHERE n = 5",
    "DELETE FROM outlet WHERE n < 4",
    "UPDATE branch SET return_m = NULL WHERE n = 3",
    "UPDATE branch SET return_m = 5 WHERE n = 1",
    "UPDATE branch SET legs = 'ABC' WHERE n = 1",
    "UPDATE branch SET poles = '3' WHERE n = 1",
    "UPDATE branch SET wire = '13 AWG copper' WHERE n = 1",
    "UPDATE branch SET position = '0' WHERE n = 1",
    "UPDATE branch SET position = '41', panel_n = 0 WHERE n IN (1, 2)",
    "UPDATE branch SET protection = 'gfci,' WHERE n = 1",
    "UPDATE branch SET breaker_a = 0 WHERE n = 1",
    "UPDATE panel SET from_n = 1 WHERE n = 2; UPDATE panel SET from_n = 2 WHERE n = 1",
    "UPDATE panel SET from_n = 1 WHERE n = 0",
    "UPDATE panel SET breaker_a = 30 WHERE n = 0",
    "UPDATE panel SET breaker_a = NULL WHERE n = 1",
    "UPDATE panel SET id = 'attic' WHERE n = 0",
    "DELETE FROM panel",
    "DELETE FROM house",
    "INSERT INTO house(n, name, rules, main_breaker_a) VALUES(2, 'second', 'us', 1)",
    "UPDATE house SET currency = 'ABC'",
    "UPDATE house SET voltage_v = 0",
    "UPDATE house SET billing_days = 0",
    "UPDATE house SET ambient_c = -400",
    "UPDATE house SET tariff_n = 44",
    "UPDATE tariff SET price = '1,5' WHERE n = 1",
    "UPDATE tariff SET price = NULL WHERE n = 1",
    "UPDATE tariff SET price = NULL WHERE n = 3",
    "UPDATE tariff SET price = '1' WHERE n = 2",
    "UPDATE tariff SET blocks = '350: 0.14, 100: 0.19, rest: 0.24' WHERE n = 2",
    "UPDATE period SET tariff_n = 2 WHERE n = 1",
    "UPDATE period SET hours = '20:59-23:30' WHERE n = 2",
    "UPDATE period SET hours = '10:00-10:00' WHERE n = 2",
    "UPDATE scene_on SET units = 10001",
    "UPDATE scene_on SET appliance_n = 88 WHERE ordinal = 0",
    "DELETE FROM scene_on",
    "UPDATE branch_serves SET room_n = 77",
};

START_TEST(hostile_row_is_refused)
{
    create_some(6, 9);
    files_sql(files_path(),
              "INSERT INTO journal VALUES(1, '2026-01-31T18:30:00Z', 'big', 'big', zeroblob(6000000), 0)");
    struct error error = {0};
    struct house *house = files_read(files_path(), &error);
    ck_assert_msg(house != NULL, "%s", error_message(&error));
    house_free(house);
    files_sql(files_path(), hostile_rows[_i]);
    house = files_read(files_path(), &error);
    ck_assert_msg(house == NULL, "read in spite of %s", hostile_rows[_i]);
    ck_assert_msg(error.code == ERROR_STORE && strstr(error_message(&error), "damaged") != NULL, "%s",
                  error_message(&error));
    error_done(&error);
}
END_TEST

/* A name of that many bytes asks for no more memory than another. */
START_TEST(long_name_is_refused)
{
    static const struct {
        const char *sql;
        const char *words;
    } rows[] = {
        {"UPDATE appliance SET name = printf('%.*c', 4097, 'a') WHERE n = 1", "4097 bytes"},
        {"UPDATE appliance SET name = printf('%.*c', 50000000, 'a') WHERE n = 1", "longer than any"},
        {"UPDATE house SET name = printf('%.*c', 50000000, 'a')", "longer than any"},
    };
    create_some(6, 9);
    files_sql(files_path(), "UPDATE appliance SET name = printf('%.*c', 4096, 'a') WHERE n = 1");
    struct error error = {0};
    struct house *house = files_read(files_path(), &error);
    ck_assert_msg(house != NULL && strlen(house->appliances[0].name) == 4096, "%s", error_message(&error));
    house_free(house);
    files_sql(files_path(), rows[_i].sql);
    struct rusage before;
    struct rusage after;
    getrusage(RUSAGE_SELF, &before);
    ck_assert_ptr_null(files_read(files_path(), &error));
    getrusage(RUSAGE_SELF, &after);
    ck_assert_msg(strstr(error_message(&error), "damaged") != NULL && strstr(error_message(&error), rows[_i].words),
                  "%s", error_message(&error));
    ck_assert_int_lt(after.ru_maxrss - before.ru_maxrss, 20000); /* kB; the name itself has 50,000 */
    error_done(&error);
}
END_TEST

/* Statistics of another tool say nothing about the house; a table of its own does not come in under their name. */
START_TEST(statistics_of_another_tool_are_taken)
{
    create_some(6, 9);
    files_sql(files_path(), "ANALYZE");
    ck_assert_int_gt(files_number(files_path(), "SELECT count(*) FROM sqlite_schema WHERE name = 'sqlite_stat1'"), 0);
    struct error error = {0};
    struct house *house = files_read(files_path(), &error);
    ck_assert_msg(house != NULL, "%s", error_message(&error));
    house_free(house);
    struct store *store = NULL;
    ck_assert_msg(store_open(files_path(), STORE_WRITE, &store, &error), "%s", error_message(&error));
    store_close(store);
}
END_TEST

/* A form that was filled in for one file is not one for another that was put in its place. */
START_TEST(each_new_file_has_a_number_of_its_own)
{
    uint64_t origin[3] = {0};
    for (int i = 0; i < 3; i++) {
        struct store *store = NULL;
        struct error error = {0};
        if (i < 2) {
            create_some(6, 9);
        }
        ck_assert_msg(store_open(files_path(), STORE_READ, &store, &error), "%s", error_message(&error));
        ck_assert_msg(store_origin(store, &origin[i], &error), "%s", error_message(&error));
        store_close(store);
    }
    ck_assert_uint_ne(origin[0], origin[1]);
    ck_assert_uint_eq(origin[1], origin[2]);
}
END_TEST

/* ------------------------------------------------------------------ other programs and rights ------------- */

START_TEST(locked_file_says_so_after_waiting)
{
    create_some(7, 2);
    sqlite3 *other = NULL;
    ck_assert_int_eq(sqlite3_open(files_path(), &other), SQLITE_OK);
    ck_assert_int_eq(sqlite3_exec(other, "BEGIN EXCLUSIVE", NULL, NULL, NULL), SQLITE_OK);
    refused(files_path(), STORE_READ, ERROR_STORE, "locked by another program");
    sqlite3_close(other);
}
END_TEST

START_TEST(second_program_waits_and_works)
{
    create_some(8, 2);
    int ready[2];
    ck_assert_int_eq(pipe(ready), 0);
    pid_t child = fork();
    if (child == 0) {
        sqlite3 *other = NULL;
        sqlite3_open(files_path(), &other);
        int code = sqlite3_exec(other, "BEGIN IMMEDIATE; UPDATE house SET name = 'first'", NULL, NULL, NULL);
        ssize_t sent = write(ready[1], "x", 1);
        usleep(300000);
        code = code == SQLITE_OK && sent == 1 ? sqlite3_exec(other, "COMMIT", NULL, NULL, NULL) : code;
        _exit(code == SQLITE_OK ? 0 : 1);
    }
    char byte = 0;
    ck_assert_int_eq(read(ready[0], &byte, 1), 1);
    struct error error = {0};
    struct store *store = NULL;
    struct house *house = NULL;
    ck_assert_msg(store_open(files_path(), STORE_WRITE, &store, &error), "%s", error_message(&error));
    ck_assert_msg(store_begin(store, &error) && store_read_house(store, &house, &error), "%s", error_message(&error));
    ck_assert_str_eq(house->name, "first");
    house_free(house);
    store_close(store);
    int status = 0;
    ck_assert_int_eq(waitpid(child, &status, 0), child);
    ck_assert_int_eq(status, 0);
    close(ready[0]);
    close(ready[1]);
}
END_TEST

/* As another user, since root may write everything. Exit status of the child: 0 as wanted, 1 not, 2 can't be tried. */
static int as_nobody(bool (*attempt)(void))
{
    pid_t child = fork();
    if (child == 0) {
        if (geteuid() == 0 && (setgid(NOBODY) != 0 || setuid(NOBODY) != 0)) {
            _exit(2);
        }
        _exit(attempt() ? 0 : 1);
    }
    int status = 0;
    ck_assert_int_eq(waitpid(child, &status, 0), child);
    ck_assert_msg(WIFEXITED(status), "the child ended by signal %d", WTERMSIG(status));
    return WEXITSTATUS(status);
}

static bool reading_works_writing_is_refused(void)
{
    struct error error = {0};
    struct store *store = NULL;
    struct house *house = files_read(files_path(), &error);
    bool refused_well = house != NULL && !store_open(files_path(), STORE_WRITE, &store, &error) &&
                        error.code == ERROR_STORE && strstr(error_message(&error), "can't be written (read-only)");
    fprintf(stderr, "%s", refused_well ? "" : error_message(&error));
    house_free(house);
    error_done(&error);
    return refused_well;
}

START_TEST(read_only_file_is_read_not_written)
{
    create_some(9, 4);
    ck_assert_int_eq(chmod(files_path(), 0444), 0);
    ck_assert_int_eq(chmod(files_folder(), 0555), 0);
    int status = as_nobody(reading_works_writing_is_refused);
    ck_assert_int_eq(chmod(files_folder(), 0755), 0);
    ck_assert_int_eq(status, 0);
}
END_TEST

static bool opening_is_refused(void)
{
    struct error error = {0};
    struct house *house = files_read(files_path(), &error);
    bool well = house == NULL && error.code == ERROR_STORE && strstr(error_message(&error), "can't be opened") != NULL;
    error_done(&error);
    return well;
}

START_TEST(unreadable_file_is_refused)
{
    create_some(9, 4);
    ck_assert_int_eq(chmod(files_path(), 0), 0);
    ck_assert_int_eq(chmod(files_folder(), 0755), 0);
    ck_assert_int_eq(as_nobody(opening_is_refused), 0);
}
END_TEST

static bool creating_is_refused(void)
{
    struct error error = {0};
    struct house *house = some_house(10, 3);
    bool well = !store_create(files_path(), house, false, &error) && error.code == ERROR_STORE &&
                strstr(error_message(&error), "can't be written") != NULL;
    house_free(house);
    error_done(&error);
    return well;
}

START_TEST(read_only_folder_takes_no_new_file)
{
    ck_assert_int_eq(chmod(files_folder(), 0555), 0);
    int status = as_nobody(creating_is_refused);
    ck_assert_int_eq(chmod(files_folder(), 0755), 0);
    ck_assert_int_eq(status, 0);
    ck_assert_uint_eq(files_count(), 0);
}
END_TEST

/* ------------------------------------------------------------------ creating ------------------------------ */

START_TEST(existing_file_stays_unless_replaced)
{
    create_some(11, 3);
    struct house *other = some_house(12, 4);
    struct error error = {0};
    ck_assert(!store_create(files_path(), other, false, &error));
    ck_assert_int_eq(error.code, ERROR_INPUT);
    ck_assert_ptr_nonnull(strstr(error_message(&error), "exists already"));
    error_done(&error);
    ck_assert_int_eq(files_number(files_path(), "SELECT count(*) FROM appliance"), 3);
    create(other, true);
    ck_assert_int_eq(files_number(files_path(), "SELECT count(*) FROM appliance"), 4);
    ck_assert_uint_eq(files_count(), 1);
    house_free(other);
}
END_TEST

START_TEST(other_file_is_never_replaced)
{
    static const char text[] = "a letter to somebody";
    files_write(files_path(), -1, text, sizeof text);
    struct house *house = some_house(13, 1);
    struct error error = {0};
    ck_assert(!store_create(files_path(), house, true, &error));
    ck_assert_int_eq(error.code, ERROR_INPUT);
    ck_assert_ptr_nonnull(strstr(error_message(&error), "something else"));
    ck_assert_uint_eq(files_count(), 1);
    struct stat status;
    ck_assert_int_eq(stat(files_path(), &status), 0);
    ck_assert_int_eq(status.st_size, sizeof text);
    error_done(&error);
    house_free(house);
}
END_TEST

/* Killed at any moment, the file is the old house or the new one. */
START_TEST(killed_while_creating_leaves_a_whole_house)
{
    create_some(14, 300);
    struct dice dice = {99};
    for (int i = 0; i < KILLS; i++) {
        pid_t child = fork();
        if (child == 0) {
            struct house *old = some_house(14, 300);
            struct house *new = some_house(15, 310);
            for (;;) {
                store_create(files_path(), new, true, NULL);
                store_create(files_path(), old, true, NULL);
            }
        }
        usleep(2000 + 1000 * dice_throw(&dice, 60));
        kill(child, SIGKILL);
        ck_assert_int_eq(waitpid(child, NULL, 0), child);
        struct error error = {0};
        struct house *house = files_read(files_path(), &error);
        ck_assert_msg(house != NULL, "%s", error_message(&error));
        struct house *want = house->appliance_count == 300 ? some_house(14, 300) : some_house(15, 310);
        const char *where = NULL;
        ck_assert_msg(houses_equal(house, want, &where), "differs in %s", where);
        house_free(want);
        house_free(house);
    }
}
END_TEST

/* True where the signal came before the file stood in its place: then nothing at all may be left. */
static bool interrupted_in_time(size_t appliances)
{
    pid_t child = fork();
    if (child == 0) {
        signal(SIGINT, SIG_DFL); /* Check has a handler of its own */
        struct house *house = some_house(16, appliances);
        store_create(files_path(), house, false, NULL);
        _exit(3);
    }
    for (int i = 0; i < 5000 && files_count() == 0; i++) {
        usleep(1000);
    }
    kill(child, SIGINT);
    int status = 0;
    ck_assert_int_eq(waitpid(child, &status, 0), child);
    if (access(files_path(), F_OK) == 0) {
        ck_assert_uint_eq(files_count(), 1); /* this program was kept waiting, and the whole house is there */
        ck_assert_int_eq(unlink(files_path()), 0);
        return false;
    }
    ck_assert(WIFSIGNALED(status) && WTERMSIG(status) == SIGINT);
    return true;
}

START_TEST(interrupted_creating_leaves_nothing)
{
    bool in_time = false;
    for (size_t appliances = 60000; appliances < 1000000 && !in_time; appliances *= 2) {
        in_time = interrupted_in_time(appliances);
    }
    ck_assert(in_time);
    ck_assert_uint_eq(files_count(), 0);
}
END_TEST

/* A disk that takes no more: a limit on the size of a file, which fails the same way. */
START_TEST(full_disk_leaves_nothing)
{
    pid_t child = fork();
    if (child == 0) {
        signal(SIGXFSZ, SIG_IGN);
        struct rlimit limit = {100000, 100000};
        struct error error = {0};
        bool well = setrlimit(RLIMIT_FSIZE, &limit) == 0 &&
                    !store_create(files_path(), some_house(17, 5000), false, &error) && error.code == ERROR_STORE;
        _exit(well ? 0 : 1);
    }
    int status = 0;
    ck_assert_int_eq(waitpid(child, &status, 0), child);
    ck_assert_int_eq(status, 0);
    ck_assert_uint_eq(files_count(), 0);
}
END_TEST

/* SQLite takes such a name for the address of a database in memory. */
START_TEST(name_that_looks_like_an_address_is_a_name)
{
    struct house *house = some_house(18, 2);
    struct error error = {0};
    ck_assert_int_eq(chdir(files_folder()), 0);
    ck_assert_msg(store_create("file:a.db?mode=memory", house, false, &error), "%s", error_message(&error));
    ck_assert_uint_eq(files_count(), 1);
    struct house *back = files_read("file:a.db?mode=memory", &error);
    ck_assert_msg(back != NULL, "%s", error_message(&error));
    ck_assert_int_eq(chdir("/"), 0);
    house_free(back);
    house_free(house);
}
END_TEST

Suite *make_suite(void)
{
    Suite *suite = suite_create("store");
    TCase *opening = tcase_create("opening");
    tcase_add_checked_fixture(opening, files_init, files_done);
    tcase_set_timeout(opening, 60);
    tcase_add_loop_test(opening, what_goes_in_comes_out, 0, HOUSES);
    tcase_add_loop_test(opening, each_key_has_its_column, 0, KIND_COUNT);
    tcase_add_loop_test(opening, spoilt_file_is_refused, 0, (int)(sizeof spoilt_rows / sizeof spoilt_rows[0]));
    tcase_add_test(opening, missing_file_and_folder_are_wrong_input);
    tcase_add_test(opening, other_content_is_not_a_house_database);
    tcase_add_test(opening, damage_is_reported_as_damage);
    tcase_add_test(opening, cut_file_is_damaged);
    tcase_add_loop_test(opening, hostile_row_is_refused, 0, (int)(sizeof hostile_rows / sizeof hostile_rows[0]));
    tcase_add_loop_test(opening, long_name_is_refused, 0, 3);
    tcase_add_test(opening, statistics_of_another_tool_are_taken);
    tcase_add_test(opening, each_new_file_has_a_number_of_its_own);
    tcase_add_test(opening, locked_file_says_so_after_waiting);
    tcase_add_test(opening, second_program_waits_and_works);
    tcase_add_test(opening, read_only_file_is_read_not_written);
    tcase_add_test(opening, unreadable_file_is_refused);
    suite_add_tcase(suite, opening);
    TCase *creating = tcase_create("creating");
    tcase_add_checked_fixture(creating, files_init, files_done);
    tcase_set_timeout(creating, 60);
    tcase_add_test(creating, read_only_folder_takes_no_new_file);
    tcase_add_test(creating, existing_file_stays_unless_replaced);
    tcase_add_test(creating, other_file_is_never_replaced);
    tcase_add_test(creating, killed_while_creating_leaves_a_whole_house);
    tcase_add_test(creating, interrupted_creating_leaves_nothing);
    tcase_add_test(creating, full_disk_leaves_nothing);
    tcase_add_test(creating, name_that_looks_like_an_address_is_a_name);
    suite_add_tcase(suite, creating);
    return suite;
}
