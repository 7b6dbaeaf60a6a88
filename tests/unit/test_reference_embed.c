/* The check of the published tables while building: each broken table must be refused, and by name. */
#include <dirent.h>
#include <fcntl.h>
#include <spawn.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

#include "runner.h"

extern char **environ;

enum { PATH_ROOM = 1024, FILES_MAX = 100, OUTPUT_ROOM = 16384 };

/* The arguments of one run of the tool: its own name, two outputs, the tables in the order of their numbers. */
struct run {
    char *arguments[FILES_MAX + 5];
    int count;
    char folder[PATH_ROOM];
    char output[OUTPUT_ROOM];
};

static void add_argument(struct run *run, const char *folder, const char *file)
{
    size_t room = strlen(folder) + strlen(file) + 2;
    char *path = malloc(room);
    ck_assert_ptr_nonnull(path);
    ck_assert_int_lt(run->count, FILES_MAX + 4);
    snprintf(path, room, "%s%s%s", folder, *folder != '\0' ? "/" : "", file);
    run->arguments[run->count++] = path;
}

static int is_sql(const struct dirent *entry)
{
    const char *ending = strrchr(entry->d_name, '.');
    return ending != NULL && strcmp(ending, ".sql") == 0;
}

static void run_init(struct run *run)
{
    char tables[PATH_ROOM];
    struct dirent **files = NULL;
    *run = (struct run){0};
    snprintf(run->folder, sizeof run->folder, "%s/ampsum-test-XXXXXX", getenv("TMPDIR") ? getenv("TMPDIR") : "/tmp");
    ck_assert_ptr_nonnull(mkdtemp(run->folder));
    add_argument(run, "", REFERENCE_EMBED);
    add_argument(run, run->folder, "tables.h");
    add_argument(run, run->folder, "tables.c");
    snprintf(tables, sizeof tables, "%s/../schema/reference", getenv("AMPSUM_TESTS"));
    int count = scandir(tables, &files, is_sql, alphasort);
    ck_assert_msg(count > 20 && count < FILES_MAX, "%s: %d tables", tables, count);
    for (int i = 0; i < count; i++) {
        add_argument(run, tables, files[i]->d_name);
        free(files[i]);
    }
    free(files);
}

static void run_done(struct run *run)
{
    static const char *const left[] = {"tables.h", "tables.c", "broken.sql", "messages"};
    char path[2 * PATH_ROOM];
    for (size_t i = 0; i < sizeof left / sizeof left[0]; i++) {
        snprintf(path, sizeof path, "%s/%s", run->folder, left[i]);
        unlink(path);
    }
    rmdir(run->folder);
    for (int i = 0; i < run->count; i++) {
        free(run->arguments[i]);
    }
}

/* Breaks the tables by one more file, loaded after them. */
static void run_break(struct run *run, const char *sql)
{
    add_argument(run, run->folder, "broken.sql");
    FILE *file = fopen(run->arguments[run->count - 1], "w");
    ck_assert_ptr_nonnull(file);
    fprintf(file, "%s\n", sql);
    ck_assert_int_eq(fclose(file), 0);
}

/* Runs the tool; keeps its messages; returns its exit status. */
static int run_tool(struct run *run)
{
    char path[2 * PATH_ROOM];
    snprintf(path, sizeof path, "%s/messages", run->folder);
    posix_spawn_file_actions_t actions;
    pid_t child = 0;
    int status = 0;
    posix_spawn_file_actions_init(&actions);
    posix_spawn_file_actions_addopen(&actions, STDERR_FILENO, path, O_WRONLY | O_CREAT | O_TRUNC, 0600);
    ck_assert_int_eq(posix_spawn(&child, run->arguments[0], &actions, NULL, run->arguments, environ), 0);
    posix_spawn_file_actions_destroy(&actions);
    ck_assert_int_eq(waitpid(child, &status, 0), child);
    FILE *messages = fopen(path, "r");
    ck_assert_ptr_nonnull(messages);
    run->output[fread(run->output, 1, sizeof run->output - 1, messages)] = '\0';
    fclose(messages);
    return WIFEXITED(status) ? WEXITSTATUS(status) : -1;
}

static bool wrote_tables(const struct run *run)
{
    return access(run->arguments[1], F_OK) == 0 || access(run->arguments[2], F_OK) == 0;
}

START_TEST(tables_as_they_are_pass)
{
    struct run run;
    run_init(&run);
    ck_assert_msg(run_tool(&run) == 0, "%s", run.output);
    ck_assert(wrote_tables(&run));
    run_done(&run);
}
END_TEST

static const struct {
    const char *sql; /* after the title line */
    const char *want;
} broken_rows[] = {
    {"UPDATE ref_rule SET source = '' WHERE id = 'near-share'", "CHECK constraint failed"},
    {"INSERT INTO ref_currency VALUES ('AAA', 'a', 2, '2015', NULL)", "NOT NULL constraint failed"},
    {"CREATE TABLE ref_new(a REAL PRIMARY KEY, edition TEXT, source TEXT) STRICT; INSERT INTO ref_new VALUES (1, "
     "'2015', ' ')",
     "row without a source or edition: ref_new row 1"},
    {"CREATE TABLE ref_new(a REAL PRIMARY KEY, edition TEXT, source TEXT) STRICT; INSERT INTO ref_new VALUES (1, NULL, "
     "'x')",
     "row without a source or edition: ref_new row 1"},
    {"CREATE TABLE ref_new(a REAL PRIMARY KEY, edition TEXT) STRICT; INSERT INTO ref_new VALUES (1, '2015')",
     "table without the column: ref_new.source"},
    {"CREATE TABLE ref_new(a REAL PRIMARY KEY, edition TEXT, source TEXT); INSERT INTO ref_new VALUES (1, '2015', 'x')",
     "table that is not STRICT: ref_new"},
    {"CREATE TABLE ref_new(a REAL, edition TEXT, source TEXT) STRICT; INSERT INTO ref_new VALUES (1, '2015', 'x')",
     "table without a primary key: ref_new"},
    {"CREATE TABLE ref_new(a REAL PRIMARY KEY, edition TEXT, source TEXT) STRICT", "table without a row: ref_new"},
    {"CREATE TABLE new(a REAL PRIMARY KEY, edition TEXT, source TEXT) STRICT; INSERT INTO new VALUES (1, '2015', 'x')",
     "table name without ref_: new"},
    {"UPDATE ref_rule SET unit = 'furlong' WHERE id = 'near-share'", "unknown unit: near-share (*): furlong"},
    {"UPDATE ref_rule SET unit = 'V' WHERE id = 'ring-device'",
     "unit of the wrong kind for its quantity: ring-device (uk): V is no unit of current"},
    {"UPDATE ref_rule SET value = -1 WHERE id = 'ring-device'", "limit that is not positive: ring-device"},
    {"UPDATE ref_conductor SET printed_ohm_per_km = 0 WHERE size = '4 mm2'", "CHECK constraint failed"},
    {"UPDATE ref_conductor SET printed_ohm_per_km = 8 WHERE size = '4 mm2'",
     "resistance that does not fall while the size grows: 4 mm2 copper"},
    {"UPDATE ref_conductor SET area_cmil = 100 WHERE size = '4 AWG' AND metal = 'copper'",
     "resistance that does not fall while the size grows: 4 AWG copper"},
    {"UPDATE ref_ampacity_us SET ampacity_a = 0 WHERE size = '8 AWG'", "CHECK constraint failed"},
    {"UPDATE ref_ampacity_us SET ampacity_a = 29 WHERE size = '8 AWG' AND metal = 'copper' AND insulation_temp_c = 60",
     "ampacity that falls while the size grows: 8 AWG copper 60"},
    {"UPDATE ref_ampacity_us SET ampacity_a = 54 WHERE size = '8 AWG' AND metal = 'copper' AND insulation_temp_c = 60",
     "ampacity that falls while the insulation stands more: 8 AWG copper"},
    {"UPDATE ref_ampacity_iec SET ampacity_a = 20 WHERE size = '4 mm2' AND metal = 'copper' AND insulation = 'pvc' AND "
     "method = 'B2' AND loaded = 2",
     "ampacity that falls while the size grows: 4 mm2 copper B2 2"},
    {"UPDATE ref_ampacity_iec SET ampacity_a = 31 WHERE size = '4 mm2' AND metal = 'copper' AND insulation = 'pvc' AND "
     "method = 'B2' AND loaded = 3",
     "three loaded conductors above two: 4 mm2 copper B2"},
    {"UPDATE ref_ampacity_uk_flat_twin SET ampacity_a = 20 WHERE size = '4 mm2'",
     "ampacity that falls while the size grows: 4 mm2 100"},
    {"UPDATE ref_ampacity_iec SET ampacity_a = 29 WHERE size = '4 mm2' AND metal = 'copper' AND insulation = 'xlpe' "
     "AND "
     "method = 'B2' AND loaded = 2",
     "ampacity that falls while the size grows: 4 mm2 copper B2 2"},
    {"UPDATE ref_ampacity_iec SET ampacity_a = 39 WHERE size = '2.5 mm2' AND metal = 'copper' AND insulation = 'pvc' "
     "AND method = 'C' AND loaded = 2",
     "ampacity of XLPE below that of PVC: 2.5 mm2 copper C 2"},
    {"UPDATE ref_soil SET factor = 1.2 WHERE to_km_per_w = 2", "soil factor that rises with the resistivity"},
    {"DELETE FROM ref_bundle WHERE rules = 'us' AND from_count = 4",
     "bundle factor that rises with the count, or a gap between two bands: us air"},
    {"UPDATE ref_in_insulation SET factor = 0.8 WHERE over_mm = 100",
     "insulation factor that rises with the length, or a gap between two bands"},
    {"UPDATE ref_ampacity_us SET size = '7 AWG' WHERE size = '8 AWG'",
     "ampacity of a size that is no conductor: 7 AWG"},
    {"UPDATE ref_ambient SET factor = 0.99 WHERE rules = 'iec' AND to_c = 40", "ambient factor that rises"},
    {"DELETE FROM ref_ambient WHERE rules = 'us' AND to_c = 40", "or a gap between two bands: us 60"},
    {"UPDATE ref_trip_band SET rating_to_a = 40 WHERE rules = 'us' AND outcome = 'within 2 min'",
     "trip bands that overlap: us * 2"},
    {"UPDATE ref_trip_band SET limit_s = 9000 WHERE rules = 'us' AND outcome = 'within 6 min'",
     "trip time that grows with the current: us within 2 h"},
    {"UPDATE ref_demand_band SET over_va = 4000 WHERE over_va = 3000",
     "demand bands with a gap: us lighting over 4000"},
    {"DELETE FROM ref_demand_dryer WHERE from_count = 1", "range or dryer table that does not start at one: 5"},
    {"UPDATE ref_motor_fla SET current_a = 3 WHERE hp_text = '1' AND voltage_v = 230",
     "motor whose current does not grow with its power: 1 230"},
    {"INSERT INTO ref_currency SELECT * FROM ref_currency WHERE code = 'USD'", "UNIQUE constraint failed"},
    {"UPDATE ref_typical SET typical_w = low_w - 1 WHERE id = 'range' AND rules = 'us'",
     "typical rating outside its own range: range (us)"},
    {"UPDATE ref_typical SET high_w = 100 WHERE id = 'kettle' AND rules = 'uk'",
     "typical rating outside its own range: kettle (uk)"},
    {"DELETE FROM ref_typical WHERE rules = 'us'", "fewer than 120 typical ratings: 62"},
    {"DELETE FROM ref_finding WHERE id = '7'", "finding without a row: 7"},
    {"UPDATE ref_rule SET value = 'many' WHERE id = 'near-share'", "cannot store TEXT value in REAL column"},
    {"CREATE TABLE ref_new(a INTEGER, b REAL PRIMARY KEY, edition TEXT, source TEXT) STRICT; INSERT INTO ref_new "
     "VALUES (NULL, 1, '2015', 'x')",
     "an INTEGER that is NULL"},
    {"UPDATE ref_rule_set SET currency = 'XQX' WHERE id = 'uk'",
     "row that names no row of the table it refers to: ref_rule_set row 3: none such in ref_currency"},
    {"DELETE FROM ref_rule_set WHERE id = 'uk'", "row of a rule set that does not exist: ref_finding uk"},
    {"DELETE FROM ref_choice WHERE rules = 'iec' AND key = 'trip'", "rule set lacks its usual word: iec: trip"},
    {"UPDATE ref_choice SET usual = 1 WHERE rules = 'us' AND key = 'demand'", "more than one usual word: us demand"},
    {"DELETE FROM ref_nominal_voltage WHERE rules = 'us' AND system = 'split-phase'",
     "rule set lacks the usual voltage of a supply system: us split-phase"},
    {"DELETE FROM ref_rule WHERE rules = 'uk' AND id = 'continuous-factor'",
     "rule set lacks a row: uk (*): ref_rule continuous-factor"},
    {"DELETE FROM ref_rule WHERE rules = 'iec' AND id = 'voltage-drop-other'",
     "rule set lacks a row: iec (by-use): ref_rule voltage-drop-other"},
    {"DELETE FROM ref_finding WHERE rules = 'us' AND id = '13'",
     "rule set lacks a row: us (demand standard): ref_finding 13"},
    {"DELETE FROM ref_diversity WHERE rules = 'uk'",
     "rule set lacks a row: uk (demand diversity): a row of ref_diversity"},
    {"UPDATE ref_rule_set SET ampacity_from = NULL WHERE id = 'uk'",
     "rule set lacks a row: uk (installation-method): a row of ref_ampacity_iec"},
    {"DELETE FROM ref_finding WHERE rules = 'us' AND id = '3'",
     "rule set lacks a row: us (rule plug-in-share): ref_finding 3"},
    {"DELETE FROM ref_finding WHERE id = '17'", "rule set lacks a row: us (table receptacle_rating): ref_finding 17"},
    {"DELETE FROM ref_finding WHERE id = '18'", "rule set lacks a row: us (*): ref_finding 18"},
    {"DELETE FROM ref_finding WHERE id = '19'", "rule set lacks a row: us (table motor_breaker): ref_finding 19"},
    {"DELETE FROM ref_finding WHERE id = '20'", "rule set lacks a row: uk (rule ring-device): ref_finding 20"},
    {"DELETE FROM ref_finding WHERE id = '21'", "rule set lacks a row: us (rule newer-size): ref_finding 21"},
    {"INSERT INTO ref_rule_set SELECT 'nn', name, frequency_hz, currency, length_unit, area_unit, paper, spaces, NULL, "
     "NULL, NULL, 0, NULL, NULL, NULL, resistor, main_device, edition, source FROM ref_rule_set WHERE id = 'iec'",
     "rule set lacks a row: nn (*): a row of ref_standard_size"},
    {"INSERT INTO ref_nothing VALUES (1)", "no such table: ref_nothing"},
    {"UPDATE ref_rule SET value = \"value of nothing\"", "no such column"},
};

START_TEST(a_broken_table_is_refused)
{
    char sql[PATH_ROOM];
    struct run run;
    run_init(&run);
    snprintf(sql, sizeof sql, "-- A broken table, made by a test.\n%s;", broken_rows[_i].sql);
    run_break(&run, sql);
    int status = run_tool(&run);
    ck_assert_msg(status == 1, "exit %d on: %s", status, broken_rows[_i].sql);
    ck_assert_msg(strstr(run.output, broken_rows[_i].want) != NULL, "want '%s', got: %s", broken_rows[_i].want,
                  run.output);
    run_done(&run);
}
END_TEST

START_TEST(nothing_is_written_from_tables_that_were_refused)
{
    struct run run;
    run_init(&run);
    run_break(&run, "-- A broken table, made by a test.\nDELETE FROM ref_finding WHERE id = '7';");
    ck_assert_int_eq(run_tool(&run), 1);
    ck_assert(!wrote_tables(&run));
    run_done(&run);
}
END_TEST

START_TEST(a_file_must_say_what_its_rows_are)
{
    struct run run;
    run_init(&run);
    run_break(&run, "SELECT 1;");
    ck_assert_int_eq(run_tool(&run), 1);
    ck_assert_ptr_nonnull(strstr(run.output, "the first line must say what a row is"));
    run_done(&run);
}
END_TEST

START_TEST(a_missing_file_is_named)
{
    struct run run;
    run_init(&run);
    add_argument(&run, run.folder, "absent.sql");
    ck_assert_int_eq(run_tool(&run), 1);
    ck_assert_ptr_nonnull(strstr(run.output, "absent.sql"));
    run_done(&run);
}
END_TEST

Suite *make_suite(void)
{
    Suite *suite = suite_create("reference_embed");
    TCase *tcase = tcase_create("reference_embed");
    tcase_add_test(tcase, tables_as_they_are_pass);
    tcase_add_loop_test(tcase, a_broken_table_is_refused, 0, (int)(sizeof broken_rows / sizeof broken_rows[0]));
    tcase_add_test(tcase, nothing_is_written_from_tables_that_were_refused);
    tcase_add_test(tcase, a_file_must_say_what_its_rows_are);
    tcase_add_test(tcase, a_missing_file_is_named);
    suite_add_tcase(suite, tcase);
    return suite;
}
