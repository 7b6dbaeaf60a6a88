/* Each published table held cell by cell against a second copy, typed from its source: tests/outside/published-*.tsv.
 */
#include <dirent.h>
#include <sqlite3.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "runner.h"

enum { PATH_ROOM = 1024, COLUMNS_MAX = 16 };

/* A copy and the query that lays the table out like it. The first `keys` columns name a row. */
static const struct copy {
    const char *file;
    int keys;
    const char *sql;
} copies[] = {
    {"ampacity-us", 1,
     "SELECT size, max(ampacity_a) FILTER (WHERE metal = 'copper' AND insulation_temp_c = 60) AS copper_60, "
     "max(ampacity_a) FILTER (WHERE metal = 'copper' AND insulation_temp_c = 75) AS copper_75, "
     "max(ampacity_a) FILTER (WHERE metal = 'copper' AND insulation_temp_c = 90) AS copper_90, "
     "max(ampacity_a) FILTER (WHERE metal = 'aluminium' AND insulation_temp_c = 60) AS aluminium_60, "
     "max(ampacity_a) FILTER (WHERE metal = 'aluminium' AND insulation_temp_c = 75) AS aluminium_75, "
     "max(ampacity_a) FILTER (WHERE metal = 'aluminium' AND insulation_temp_c = 90) AS aluminium_90 "
     "FROM ref_ampacity_us GROUP BY size"},
    {"ampacity-iec", 4,
     "SELECT insulation, loaded, metal, size, max(ampacity_a) FILTER (WHERE method = 'A1') AS A1, "
     "max(ampacity_a) FILTER (WHERE method = 'A2') AS A2, max(ampacity_a) FILTER (WHERE method = 'B1') AS B1, "
     "max(ampacity_a) FILTER (WHERE method = 'B2') AS B2, max(ampacity_a) FILTER (WHERE method = 'C') AS C, "
     "max(ampacity_a) FILTER (WHERE method = 'D1') AS D1, max(ampacity_a) FILTER (WHERE method = 'D2') AS D2 "
     "FROM ref_ampacity_iec GROUP BY insulation, loaded, metal, size"},
    {"ampacity-flat-twin", 1,
     "SELECT size, max(ampacity_a) FILTER (WHERE method = 'C') AS C, "
     "max(ampacity_a) FILTER (WHERE method = '100') AS \"100\", max(ampacity_a) FILTER (WHERE method = '101') AS "
     "\"101\", "
     "max(ampacity_a) FILTER (WHERE method = '102') AS \"102\", max(ampacity_a) FILTER (WHERE method = '103') AS "
     "\"103\", "
     "max(ampacity_a) FILTER (WHERE method = 'A') AS A FROM ref_ampacity_uk_flat_twin GROUP BY size"},
    {"drop-flat-twin", 1, "SELECT size, drop_mv_per_a_m FROM ref_drop_uk_flat_twin"},
    {"ambient", 4, "SELECT rules, medium, insulation_temp_c, to_c, factor FROM ref_ambient"},
    {"soil", 2,
     "SELECT rules, to_km_per_w, max(factor) FILTER (WHERE method = 'D1') AS D1, "
     "max(factor) FILTER (WHERE method = 'D2') AS D2 FROM ref_soil GROUP BY rules, to_km_per_w"},
    {"bundle", 3, "SELECT rules, place, from_count, to_count, factor FROM ref_bundle"},
    {"in-insulation", 3, "SELECT rules, method, over_mm, to_mm, factor FROM ref_in_insulation"},
    {"cable", 1, "SELECT cable, insulation_temp_c, cap_temp_c FROM ref_cable"},
    {"conductor", 2,
     "SELECT size, metal, area_cmil, printed_ohm_per_kft AS ohm_per_kft, printed_ohm_per_km AS ohm_per_km "
     "FROM ref_conductor"},
    {"small-conductor", 2, "SELECT size, metal, breaker_a FROM ref_small_conductor"},
    {"standard-size", 2, "SELECT rules, rating_a FROM ref_standard_size"},
    {"fuse", 2, "SELECT rules, trip, most_share, note_share FROM ref_fuse"},
    {"trip-band", 5,
     "SELECT rules, trip, rating_over_a, rating_to_a, multiple_from, above_edge, outcome, limit_s FROM ref_trip_band"},
    {"instantaneous", 2, "SELECT rules, trip, lower_multiple, upper_multiple FROM ref_instantaneous"},
    {"receptacle", 2, "SELECT circuit_a, receptacle_a, max_load_a FROM ref_receptacle"},
    {"receptacle-rating", 2, "SELECT circuit_a, from_edition, least_a, most_a FROM ref_receptacle_rating"},
    {"branch-wire", 1, "SELECT circuit_a, size, tap_size, max_load_a FROM ref_branch_wire"},
    {"motor", 1,
     "SELECT hp_text AS hp, max(current_a) FILTER (WHERE voltage_v = 115) AS v115, "
     "max(current_a) FILTER (WHERE voltage_v = 200) AS v200, max(current_a) FILTER (WHERE voltage_v = 208) AS v208, "
     "max(current_a) FILTER (WHERE voltage_v = 230) AS v230 FROM ref_motor_fla GROUP BY hp_text"},
    {"motor-breaker", 2,
     "SELECT what, device, note_times, warning_times, next_size, danger_times, danger_times_large "
     "FROM ref_motor_breaker"},
    {"demand-band", 1, "SELECT over_va, to_va, percent FROM ref_demand_band WHERE what = 'lighting'"},
    {"range", 1, "SELECT from_count, a_percent, b_percent, c_kw, c_each_kw FROM ref_demand_range"},
    {"dryer", 1,
     "WITH RECURSIVE n(count) AS (SELECT 1 UNION ALL SELECT count + 1 FROM n WHERE count < 50) "
     "SELECT count, (SELECT percent - less_percent * (count - beyond) FROM ref_demand_dryer WHERE from_count <= count "
     "ORDER BY from_count DESC LIMIT 1) AS percent FROM n"},
    {"diversity", 2,
     "SELECT rules, kind, first_a, balance_percent, largest_percent, second_percent, rest_percent, plus_a "
     "FROM ref_diversity"},
    {"load-step", 2, "SELECT country, what, first_to, first_value, each_to, each_value FROM ref_load_step"},
    {"load-share", 2, "SELECT country, what, from_load, flat, over, percent, over_percent FROM ref_load_share"},
    {"load-least", 2, "SELECT country, from_m2, least_w FROM ref_load_least"},
    {"supply-notice", 4, "SELECT country, what, load, over_va, to_va, least_va, since FROM ref_supply_notice"},
    {"service-method", 2, "SELECT rules, demand, word, clause FROM ref_service_method"},
    {"supply-step", 2, "SELECT country, power_va, current_a FROM ref_supply_step"},
    {"building-demand", 1,
     "SELECT dwellings, max(demand_kva) FILTER (WHERE electric_water = 0) AS kva, "
     "max(demand_kva) FILTER (WHERE electric_water = 1) AS kva_electric_water FROM ref_building_demand "
     "GROUP BY dwellings"},
    {"multifamily", 1,
     "WITH RECURSIVE n(units) AS (SELECT 3 UNION ALL SELECT units + 1 FROM n WHERE units < 65) "
     "SELECT units, (SELECT percent FROM ref_multifamily WHERE from_units <= units ORDER BY from_units DESC LIMIT 1) "
     "AS percent FROM n"},
    {"harmonic", 2, "SELECT rules, over_percent, to_percent, by_neutral, factor FROM ref_harmonic"},
    {"room-protection", 9,
     "SELECT rules, kind, room, what, most_v, most_a, from_edition, to_edition, since, clause FROM "
     "ref_room_protection"},
    {"section", 1,
     "SELECT rule, max(clause) FILTER (WHERE from_edition = 2017) AS e2017, "
     "max(clause) FILTER (WHERE from_edition = 2020) AS e2020, max(clause) FILTER (WHERE from_edition = 2023) AS e2023 "
     "FROM ref_section GROUP BY rule"},
    {"currency", 1, "SELECT code, minor_units FROM ref_currency"},
    {"nominal-voltage", 4,
     "SELECT rules, system, line_to_neutral_v, line_to_line_v FROM ref_nominal_voltage "
     "WHERE rules <> 'iec' OR line_to_neutral_v <> 100"},
    {"protective-conductor", 3,
     "SELECT rules, nullif(line_size, '') AS line_size, breaker_to_a, size FROM ref_protective_conductor"},
    {"adiabatic", 2, "SELECT equation, metal, factor, beta_c, initial_c, final_c FROM ref_adiabatic"},
    {"point-to-point", 1,
     "SELECT size, max(c) FILTER (WHERE metal = 'copper') AS copper, "
     "max(c) FILTER (WHERE metal = 'aluminium') AS aluminium FROM ref_point_to_point GROUP BY size"},
    {"plug", 2, "SELECT rules, id, rating_a FROM ref_plug"},
    {"minimum-branch", 1, "SELECT what, least_va, breaker_a, factor FROM ref_minimum_branch"},
    {"typical", 2, "SELECT rules, id, low_w, high_w FROM ref_typical WHERE source NOT LIKE 'common practice%'"},
    {"earthing", 1, "SELECT earthing, external_ohm FROM ref_earthing WHERE external_ohm IS NOT NULL"},
    {"disconnection", 3,
     "SELECT DISTINCT family, voltage_over_v, voltage_to_v, final_s, other_s FROM ref_disconnection"},
    {"residual-time", 2,
     "SELECT kind, multiple, most_s, iif(multiple = 2, NULL, least_s) AS least_s FROM ref_residual_time"},
    {"preferred-number", 2, "SELECT series, value, tolerance_percent FROM ref_preferred_number"},
};

/* Tables whose every cell is one row: what the layouts above can't show (a method or a year too many) is counted. */
static const struct count {
    const char *file;
    const char *sql; /* number of cells there should be beside the keys */
} counts[] = {
    {"ampacity-us", "SELECT count(*) FROM ref_ampacity_us"},
    {"ampacity-iec", "SELECT count(*) FROM ref_ampacity_iec"},
    {"ampacity-flat-twin", "SELECT count(*) FROM ref_ampacity_uk_flat_twin"},
    {"soil", "SELECT count(*) FROM ref_soil"},
    {"motor", "SELECT count(*) FROM ref_motor_fla"},
    {"demand-band", "SELECT count(*) * 2 - 1 FROM ref_demand_band"},
    {"section", "SELECT count(clause) FROM ref_section"},
};

/* ------------------------------------------------------------------ the tables ---------------------------- */

static char *read_file(const char *path)
{
    FILE *file = fopen(path, "rb");
    ck_assert_msg(file != NULL, "%s cannot be opened", path);
    ck_assert_int_eq(fseek(file, 0, SEEK_END), 0);
    long size = ftell(file);
    ck_assert_int_gt(size, 0);
    rewind(file);
    char *text = malloc((size_t)size + 1);
    ck_assert_ptr_nonnull(text);
    ck_assert_uint_eq(fread(text, 1, (size_t)size, file), (size_t)size);
    text[size] = '\0';
    fclose(file);
    return text;
}

static int is_sql(const struct dirent *entry)
{
    const char *ending = strrchr(entry->d_name, '.');
    return ending != NULL && strcmp(ending, ".sql") == 0;
}

static sqlite3 *open_tables(void)
{
    char folder[PATH_ROOM];
    struct dirent **files = NULL;
    sqlite3 *db = NULL;
    ck_assert_int_eq(sqlite3_open(":memory:", &db), SQLITE_OK);
    snprintf(folder, sizeof folder, "%s/../schema/reference", getenv("AMPSUM_TESTS"));
    int count = scandir(folder, &files, is_sql, alphasort);
    ck_assert_int_gt(count, 20);
    for (int i = 0; i < count; i++) {
        char path[2 * PATH_ROOM];
        snprintf(path, sizeof path, "%s/%s", folder, files[i]->d_name);
        char *sql = read_file(path);
        ck_assert_msg(sqlite3_exec(db, sql, NULL, NULL, NULL) == SQLITE_OK, "%s: %s", path, sqlite3_errmsg(db));
        free(sql);
        free(files[i]);
    }
    free(files);
    return db;
}

/* ------------------------------------------------------------------ rows of text -------------------------- */

struct row {
    char *cell[COLUMNS_MAX];
    int count;
    bool met;
};

struct rows {
    struct row *row;
    int count;
};

static struct row *add_row(struct rows *rows)
{
    rows->row = realloc(rows->row, (size_t)(rows->count + 1) * sizeof *rows->row);
    ck_assert_ptr_nonnull(rows->row);
    rows->row[rows->count] = (struct row){.count = 0};
    return &rows->row[rows->count++];
}

static void add_cell(struct row *row, const char *text)
{
    ck_assert_int_lt(row->count, COLUMNS_MAX);
    row->cell[row->count] = strdup(text);
    ck_assert_ptr_nonnull(row->cell[row->count]);
    row->count++;
}

static void rows_done(struct rows *rows)
{
    for (int i = 0; i < rows->count; i++) {
        for (int k = 0; k < rows->row[i].count; k++) {
            free(rows->row[i].cell[k]);
        }
    }
    free(rows->row);
}

/* The first row holds the names of the columns. */
static struct rows rows_of_copy(const char *name)
{
    char path[PATH_ROOM];
    struct rows rows = {0};
    snprintf(path, sizeof path, "%s/outside/published-%s.tsv", getenv("AMPSUM_TESTS"), name);
    char *text = read_file(path);
    char *next_line = NULL;
    for (char *line = strtok_r(text, "\n", &next_line); line != NULL; line = strtok_r(NULL, "\n", &next_line)) {
        char *next_cell = NULL;
        struct row *row = *line != '#' ? add_row(&rows) : NULL;
        char *cell = row != NULL ? strtok_r(line, "\t", &next_cell) : NULL;
        for (; cell != NULL; cell = strtok_r(NULL, "\t", &next_cell)) {
            add_cell(row, cell);
        }
    }
    free(text);
    return rows;
}

static struct rows rows_of_query(sqlite3 *db, const char *sql)
{
    struct rows rows = {0};
    sqlite3_stmt *stmt = NULL;
    ck_assert_msg(sqlite3_prepare_v2(db, sql, -1, &stmt, NULL) == SQLITE_OK, "%s", sqlite3_errmsg(db));
    struct row *names = add_row(&rows);
    for (int i = 0; i < sqlite3_column_count(stmt); i++) {
        add_cell(names, sqlite3_column_name(stmt, i));
    }
    while (sqlite3_step(stmt) == SQLITE_ROW) {
        struct row *row = add_row(&rows);
        for (int i = 0; i < sqlite3_column_count(stmt); i++) {
            const char *cell = (const char *)sqlite3_column_text(stmt, i);
            add_cell(row, cell != NULL ? cell : "-");
        }
    }
    ck_assert_int_eq(sqlite3_finalize(stmt), SQLITE_OK);
    return rows;
}

/* Equal as texts or as numbers: 10 and 10.0. */
static bool same_cell(const char *a, const char *b)
{
    char *a_end = NULL;
    char *b_end = NULL;
    double a_number = strtod(a, &a_end);
    double b_number = strtod(b, &b_end);
    bool numbers = a_end != a && *a_end == '\0' && b_end != b && *b_end == '\0';
    return strcmp(a, b) == 0 || (numbers && !(a_number < b_number) && !(a_number > b_number));
}

static struct row *row_with_keys(struct rows *rows, const struct row *wanted, int keys)
{
    for (int i = 1; i < rows->count; i++) {
        int same = 0;
        while (same < keys && same_cell(rows->row[i].cell[same], wanted->cell[same])) {
            same++;
        }
        if (same == keys && !rows->row[i].met) {
            return &rows->row[i];
        }
    }
    return NULL;
}

/* The keys of a row, for a message. */
static const char *keys_text(const struct row *row, int keys)
{
    static char text[PATH_ROOM];
    text[0] = '\0';
    for (int i = 0; i < keys; i++) {
        strncat(text, row->cell[i], sizeof text - strlen(text) - 2);
        strncat(text, " ", sizeof text - strlen(text) - 1);
    }
    return text;
}

static void compare_row(const struct copy *copy, const struct row *names, const struct row *want, const struct row *got)
{
    for (int i = copy->keys; i < got->count; i++) {
        ck_assert_msg(same_cell(got->cell[i], want->cell[i]), "%s, %s%s: the table has %s, the copy %s (%s)",
                      copy->file, keys_text(want, copy->keys), names->cell[i], got->cell[i], want->cell[i],
                      want->cell[want->count - 1]);
    }
}

START_TEST(table_is_its_second_copy_cell_by_cell)
{
    const struct copy *copy = &copies[_i];
    sqlite3 *db = open_tables();
    struct rows want = rows_of_copy(copy->file);
    struct rows got = rows_of_query(db, copy->sql);
    ck_assert_int_eq(want.row[0].count, got.row[0].count + 1); /* and the source */
    for (int i = 0; i < got.row[0].count; i++) {
        ck_assert_str_eq(want.row[0].cell[i], got.row[0].cell[i]);
    }
    for (int i = 1; i < want.count; i++) {
        ck_assert_msg(want.row[i].count == want.row[0].count, "%s row %d: %d cells", copy->file, i, want.row[i].count);
        struct row *row = row_with_keys(&got, &want.row[i], copy->keys);
        ck_assert_msg(row != NULL, "%s: the table has no row %s", copy->file, keys_text(&want.row[i], copy->keys));
        row->met = true;
        compare_row(copy, &want.row[0], &want.row[i], row);
    }
    for (int i = 1; i < got.count; i++) {
        ck_assert_msg(got.row[i].met, "%s: the copy has no row %s", copy->file, keys_text(&got.row[i], copy->keys));
    }
    rows_done(&want);
    rows_done(&got);
    sqlite3_close(db);
}
END_TEST

START_TEST(no_cell_stands_outside_the_layout)
{
    sqlite3 *db = open_tables();
    int keys = 0;
    int cells = 0;
    for (size_t i = 0; i < sizeof copies / sizeof copies[0]; i++) {
        keys = strcmp(copies[i].file, counts[_i].file) == 0 ? copies[i].keys : keys;
    }
    struct rows want = rows_of_copy(counts[_i].file);
    for (int i = 1; i < want.count; i++) {
        for (int k = keys; k < want.row[i].count - 1; k++) {
            cells += strcmp(want.row[i].cell[k], "-") != 0;
        }
    }
    struct rows got = rows_of_query(db, counts[_i].sql);
    ck_assert_msg(cells == atoi(got.row[1].cell[0]), "%s: the copy has %d cells, the table %s", counts[_i].file, cells,
                  got.row[1].cell[0]);
    rows_done(&want);
    rows_done(&got);
    sqlite3_close(db);
}
END_TEST

static int is_copy(const struct dirent *entry)
{
    return strncmp(entry->d_name, "published-", strlen("published-")) == 0;
}

START_TEST(every_copy_is_compared)
{
    char folder[PATH_ROOM];
    struct dirent **files = NULL;
    snprintf(folder, sizeof folder, "%s/outside", getenv("AMPSUM_TESTS"));
    int count = scandir(folder, &files, is_copy, alphasort);
    ck_assert_int_eq(count, (int)(sizeof copies / sizeof copies[0]));
    for (int i = 0; i < count; i++) {
        free(files[i]);
    }
    free(files);
}
END_TEST

Suite *make_suite(void)
{
    Suite *suite = suite_create("published");
    TCase *tcase = tcase_create("published");
    tcase_add_loop_test(tcase, table_is_its_second_copy_cell_by_cell, 0, (int)(sizeof copies / sizeof copies[0]));
    tcase_add_loop_test(tcase, no_cell_stands_outside_the_layout, 0, (int)(sizeof counts / sizeof counts[0]));
    tcase_add_test(tcase, every_copy_is_compared);
    suite_add_tcase(suite, tcase);
    return suite;
}
