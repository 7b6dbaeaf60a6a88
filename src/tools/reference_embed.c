/*
 * reference_embed - turns the published tables in schema/reference into C arrays, while building.
 *
 *   reference_embed HEADER SOURCE FILE.sql ...
 *
 * Loads all files into one database in memory, refuses tables that are not consistent (exit 1, every fault named), and
 * writes HEADER (one struct for each table) and SOURCE (the rows). So the program itself parses nothing when it starts.
 */
#include <errno.h>
#include <limits.h>
#include <sqlite3.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static _Noreturn void die(const char *format, ...) __attribute__((format(printf, 1, 2)));

static _Noreturn void die(const char *format, ...)
{
    va_list args;
    va_start(args, format);
    fputs("reference_embed: ", stderr);
    vfprintf(stderr, format, args);
    fputc('\n', stderr);
    va_end(args);
    exit(1);
}

/* ------------------------------------------------------------------ database ------------------------------ */

static void execute(sqlite3 *db, const char *what, const char *sql)
{
    char *message = NULL;
    if (sqlite3_exec(db, sql, NULL, NULL, &message) != SQLITE_OK) {
        die("%s: %s", what, message != NULL ? message : sqlite3_errmsg(db));
    }
}

/* Prepares what sqlite3_mprintf makes of the format; dies where that cannot be. */
static sqlite3_stmt *prepare(sqlite3 *db, const char *format, ...)
{
    va_list args;
    va_start(args, format);
    char *sql = sqlite3_vmprintf(format, args);
    va_end(args);
    sqlite3_stmt *stmt = NULL;
    if (sql == NULL || sqlite3_prepare_v2(db, sql, -1, &stmt, NULL) != SQLITE_OK) {
        die("%s in: %s", sqlite3_errmsg(db), sql != NULL ? sql : format);
    }
    sqlite3_free(sql);
    return stmt;
}

static bool next_row(sqlite3 *db, sqlite3_stmt *stmt)
{
    int code = sqlite3_step(stmt);
    if (code != SQLITE_ROW && code != SQLITE_DONE) {
        die("%s in: %s", sqlite3_errmsg(db), sqlite3_sql(stmt));
    }
    return code == SQLITE_ROW;
}

static const char *text_of(sqlite3_stmt *stmt, int column)
{
    const unsigned char *text = sqlite3_column_text(stmt, column);
    return text != NULL ? (const char *)text : "";
}

/* ------------------------------------------------------------------ loading ------------------------------- */

static char *read_file(const char *path)
{
    FILE *file = fopen(path, "rb");
    if (file == NULL) {
        die("%s: %s", path, strerror(errno));
    }
    size_t length = 0;
    size_t room = 4096;
    char *text = malloc(room);
    while (text != NULL) {
        length += fread(text + length, 1, room - length - 1, file);
        if (length + 1 < room) {
            break;
        }
        room *= 2;
        char *grown = realloc(text, room);
        if (grown == NULL) {
            free(text);
        }
        text = grown;
    }
    if (text == NULL || ferror(file)) {
        die("%s: cannot be read", path);
    }
    fclose(file);
    text[length] = '\0';
    return text;
}

/* The first line says what a row is; it becomes the title of the tables that the file creates. */
static void load_file(sqlite3 *db, const char *path)
{
    char *sql = read_file(path);
    if (strncmp(sql, "-- ", 3) != 0) {
        die("%s: the first line must say what a row is, after \"-- \"", path);
    }
    execute(db, path, sql);
    sqlite3_stmt *stmt = prepare(db,
                                 "INSERT INTO temp.embed(name, title) SELECT name, %.*Q FROM main.sqlite_schema "
                                 "WHERE type = 'table' AND name NOT IN (SELECT name FROM temp.embed)",
                                 (int)strcspn(sql + 3, "\r\n"), sql + 3);
    next_row(db, stmt);
    sqlite3_finalize(stmt);
    free(sql);
}

static sqlite3 *load(int file_count, char **paths)
{
    sqlite3 *db = NULL;
    if (sqlite3_open(":memory:", &db) != SQLITE_OK) {
        die("no database in memory");
    }
    sqlite3_db_config(db, SQLITE_DBCONFIG_DQS_DML, 0, NULL); /* "no such column" must not become a string */
    sqlite3_db_config(db, SQLITE_DBCONFIG_DQS_DDL, 0, NULL);
    execute(db, "embed", "CREATE TABLE temp.embed(place INTEGER PRIMARY KEY, name TEXT, title TEXT)");
    for (int i = 0; i < file_count; i++) {
        load_file(db, paths[i]);
    }
    return db;
}

/* ------------------------------------------------------------------ consistency --------------------------- */

/* Each query gives the rows that may not be, in words. */
static const struct check {
    const char *fault;
    const char *sql;
} checks[] = {
    {"row that names no row of the table it refers to",
     "SELECT \"table\" || ' row ' || rowid || ': none such in ' || parent FROM pragma_foreign_key_check"},
    {"rule set lacks its usual word",
     "SELECT id || ': ' || column1 FROM ref_rule_set, (VALUES ('system'), ('trip'), ('method'), ('demand')) WHERE NOT "
     "EXISTS (SELECT 1 FROM ref_choice WHERE rules = ref_rule_set.id AND key = column1 AND usual) AND (column1 IN "
     "('system', 'trip') OR (column1 = 'method' AND ampacity = 'installation-method') OR (column1 = 'demand' AND "
     "EXISTS "
     "(SELECT 1 FROM ref_choice WHERE rules = ref_rule_set.id AND key = column1)))"},
    {"rule set lacks the usual voltage of a supply system",
     "SELECT rules || ' ' || word FROM ref_choice c WHERE key = 'system' AND NOT EXISTS (SELECT 1 FROM "
     "ref_nominal_voltage v WHERE v.rules = c.rules AND v.system = c.word AND v.usual)"},
    {"more than one usual word",
     "SELECT rules || ' ' || key FROM ref_choice GROUP BY rules, key HAVING sum(usual) > 1"},
    {"unknown unit",
     "SELECT id || ' (' || rules || '): ' || unit FROM ref_rule WHERE unit NOT IN (SELECT unit FROM ref_unit)"},
    {"unit of the wrong kind for its quantity",
     "SELECT r.id || ' (' || r.rules || '): ' || r.unit || ' is no unit of ' || r.quantity FROM ref_rule r "
     "WHERE unit IN (SELECT unit FROM ref_unit) "
     "AND NOT EXISTS (SELECT 1 FROM ref_unit u WHERE u.unit = r.unit AND u.quantity = r.quantity)"},
    {"limit that is not positive", "SELECT id || ' (' || rules || '): ' || value FROM ref_rule WHERE value <= 0"},
    {"resistance that is not positive",
     "SELECT size || ' ' || metal FROM ref_conductor WHERE resistance_ohm_per_km <= 0"},
    {"resistance that does not fall while the size grows",
     "SELECT size || ' ' || metal FROM (SELECT size, metal, resistance_ohm_per_km AS now, "
     "lag(resistance_ohm_per_km) OVER w AS before, area_mm2 AS area, lag(area_mm2) OVER w AS area_before "
     "FROM ref_conductor WINDOW w AS (PARTITION BY metal, area_cmil IS NULL ORDER BY size_order)) "
     "WHERE now >= before OR area <= area_before"},
    {"ampacity that is not positive", "SELECT size || ' ' || metal FROM ref_ampacity_us WHERE ampacity_a <= 0 "
                                      "UNION ALL SELECT size || ' ' || metal FROM ref_ampacity_iec WHERE ampacity_a <= "
                                      "0 UNION ALL SELECT size FROM ref_ampacity_uk_flat_twin WHERE ampacity_a <= 0"},
    {"ampacity of a size that is no conductor",
     "SELECT size || ' ' || metal FROM (SELECT size, metal FROM ref_ampacity_us UNION SELECT size, metal FROM "
     "ref_ampacity_iec UNION SELECT size, 'copper' FROM ref_ampacity_uk_flat_twin UNION SELECT size, metal FROM "
     "ref_small_conductor) EXCEPT SELECT size || ' ' || metal FROM ref_conductor"},
    {"ampacity that falls while the size grows",
     "SELECT size || ' ' || metal || ' ' || insulation_temp_c || ' °C' FROM (SELECT a.*, lag(ampacity_a) OVER "
     "(PARTITION BY rules, metal, insulation_temp_c ORDER BY size_order) AS before FROM ref_ampacity_us a "
     "JOIN ref_conductor USING (size, metal)) WHERE ampacity_a < before"},
    {"ampacity that falls while the size grows",
     "SELECT size || ' ' || metal || ' ' || method || ' ' || loaded FROM (SELECT a.*, lag(ampacity_a) OVER "
     "(PARTITION BY rules, metal, insulation, method, loaded ORDER BY size_order) AS before FROM ref_ampacity_iec a "
     "JOIN ref_conductor USING (size, metal)) WHERE ampacity_a < before"},
    {"ampacity that falls while the size grows",
     "SELECT size || ' ' || method FROM (SELECT a.*, lag(ampacity_a) OVER (PARTITION BY method ORDER BY size_order) AS "
     "before "
     "FROM ref_ampacity_uk_flat_twin a JOIN ref_conductor c ON c.size = a.size AND c.metal = 'copper') "
     "WHERE ampacity_a < before"},
    {"ampacity that falls while the insulation stands more",
     "SELECT size || ' ' || metal FROM (SELECT *, lag(ampacity_a) OVER (PARTITION BY rules, size, metal ORDER BY "
     "insulation_temp_c) AS before FROM ref_ampacity_us) WHERE ampacity_a < before"},
    {"three loaded conductors above two",
     "SELECT a.size || ' ' || a.metal || ' ' || a.method FROM ref_ampacity_iec a JOIN ref_ampacity_iec b "
     "USING (size, metal, insulation, method) WHERE a.loaded = 3 AND b.loaded = 2 AND a.ampacity_a > b.ampacity_a"},
    {"ambient factor that rises with the ambient, or a gap between two bands",
     "SELECT rules || ' ' || insulation_temp_c || ' °C, ' || medium || ': up to ' || to_c FROM (SELECT *, lag(factor) "
     "OVER w AS before, lag(to_c) OVER w AS end_before FROM ref_ambient WINDOW w AS (PARTITION BY rules, medium, "
     "insulation_temp_c ORDER BY to_c)) "
     "WHERE factor > before OR over_c <> end_before OR (over_c IS NULL) <> (end_before IS NULL)"},
    {"ampacity of XLPE below that of PVC",
     "SELECT x.size || ' ' || x.metal || ' ' || x.method || ' ' || x.loaded FROM ref_ampacity_iec x JOIN "
     "ref_ampacity_iec p USING (rules, size, metal, method, loaded) WHERE x.insulation = 'xlpe' AND p.insulation = "
     "'pvc' "
     "AND x.ampacity_a < p.ampacity_a"},
    {"soil factor that rises with the resistivity, or a gap between two bands",
     "SELECT rules || ' ' || method || ': up to ' || to_km_per_w FROM (SELECT *, lag(factor) OVER w AS before, "
     "lag(to_km_per_w) OVER w AS end_before FROM ref_soil WINDOW w AS (PARTITION BY rules, method ORDER BY "
     "to_km_per_w)) WHERE factor > before OR over_km_per_w IS NOT end_before"},
    {"bundle factor that rises with the count, or a gap between two bands",
     "SELECT rules || ' ' || place || ': from ' || from_count FROM (SELECT *, lag(factor) OVER w AS before, "
     "lag(to_count, 1, 0.0) OVER w AS end_before FROM ref_bundle WINDOW w AS (PARTITION BY rules, place ORDER BY "
     "from_count)) WHERE factor > before OR from_count IS NOT end_before + 1"},
    {"insulation factor that rises with the length, or a gap between two bands",
     "SELECT rules || ' ' || method || ': over ' || over_mm FROM (SELECT *, lag(factor) OVER w AS before, "
     "lag(to_mm, 1, 0.0) OVER w AS end_before FROM ref_in_insulation WINDOW w AS (PARTITION BY rules, method ORDER BY "
     "over_mm)) WHERE factor > before OR over_mm IS NOT end_before"},
    {"trip bands that overlap",
     "SELECT a.rules || ' ' || a.trip || ' ' || a.multiple_from FROM ref_trip_band a JOIN ref_trip_band b "
     "USING (rules, trip, multiple_from) WHERE a.rating_over_a < b.rating_over_a "
     "AND coalesce(a.rating_to_a, 9e99) > b.rating_over_a"},
    {"trip time that grows with the current",
     "SELECT a.rules || ' ' || a.outcome || ', ' || b.outcome FROM ref_trip_band a JOIN ref_trip_band b USING (rules) "
     "WHERE a.multiple_from < b.multiple_from AND a.limit_s < b.limit_s AND a.trip IN (b.trip, '*') "
     "AND a.rating_over_a < coalesce(b.rating_to_a, 9e99) AND b.rating_over_a < coalesce(a.rating_to_a, 9e99)"},
    {"demand bands with a gap",
     "SELECT rules || ' ' || what || ' over ' || over_va FROM (SELECT *, lag(to_va, 1, 0.0) OVER (PARTITION BY rules, "
     "what ORDER BY over_va) AS end_before FROM ref_demand_band) WHERE over_va IS NOT end_before"},
    {"range or dryer table that does not start at one",
     "SELECT first FROM (SELECT min(from_count) AS first FROM ref_demand_range GROUP BY rules UNION ALL "
     "SELECT min(from_count) FROM ref_demand_dryer GROUP BY rules) WHERE first <> 1"},
    {"motor whose current does not grow with its power",
     "SELECT hp_text || ' ' || voltage_v || ' V' FROM (SELECT *, lag(current_a) OVER (PARTITION BY rules, voltage_v "
     "ORDER BY power_hp) AS before FROM ref_motor_fla) WHERE current_a <= before"},
    {"typical rating outside its own range",
     "SELECT id || ' (' || rules || ')' FROM ref_typical WHERE low_w > typical_w OR typical_w > high_w"},
    {"fewer than 120 typical ratings",
     "SELECT n FROM (SELECT count(DISTINCT region || id) AS n FROM ref_typical) WHERE n < 120"},
    {"finding without a row",
     "WITH RECURSIVE n(i) AS (SELECT 1 UNION ALL SELECT i + 1 FROM n WHERE i < 16) "
     "SELECT i FROM n WHERE CAST(i AS TEXT) NOT IN (SELECT id FROM ref_finding WHERE variant = '')"},
};

/* Prints each row of a query as a fault; true where there was none. */
static bool report(sqlite3 *db, const char *fault, sqlite3_stmt *stmt)
{
    bool none = true;
    while (next_row(db, stmt)) {
        fprintf(stderr, "reference_embed: %s: %s\n", fault, text_of(stmt, 0));
        none = false;
    }
    sqlite3_finalize(stmt);
    return none;
}

static bool has_column(sqlite3 *db, const char *table, const char *column)
{
    sqlite3_stmt *stmt = prepare(db, "SELECT 1 FROM pragma_table_info(%Q) WHERE name = %Q", table, column);
    bool has = next_row(db, stmt);
    sqlite3_finalize(stmt);
    return has;
}

/* What holds for every table, whatever it is about. */
static bool check_table(sqlite3 *db, const char *name)
{
    bool ok = report(db, "table name without ref_", prepare(db, "SELECT %Q WHERE %Q NOT GLOB 'ref_?*'", name, name));
    ok &= report(
        db, "table that is not STRICT",
        prepare(db, "SELECT name FROM pragma_table_list WHERE schema = 'main' AND name = %Q AND NOT strict", name));
    ok &= report(db, "table without a primary key",
                 prepare(db, "SELECT %Q WHERE NOT EXISTS (SELECT 1 FROM pragma_table_info(%Q) WHERE pk)", name, name));
    ok &=
        report(db, "table without a row", prepare(db, "SELECT %Q WHERE NOT EXISTS (SELECT 1 FROM \"%w\")", name, name));
    bool named =
        report(db, "table without the column",
               prepare(db,
                       "SELECT %Q || '.' || column1 FROM (VALUES ('edition'), ('source')) WHERE column1 NOT IN "
                       "(SELECT name FROM pragma_table_info(%Q))",
                       name, name));
    if (named) {
        ok &= report(db, "row without a source or edition",
                     prepare(db,
                             "SELECT %Q || ' row ' || rowid FROM \"%w\" "
                             "WHERE trim(coalesce(source, '')) = '' OR trim(coalesce(edition, '')) = ''",
                             name, name));
    }
    if (has_column(db, name, "rules")) {
        ok &= report(db, "row of a rule set that does not exist",
                     prepare(db,
                             "SELECT %Q || ' ' || rules FROM \"%w\" WHERE rules <> '*' AND rules NOT IN "
                             "(SELECT id FROM ref_rule_set)",
                             name, name));
    }
    return ok && named;
}

/* ------------------------------------------------------------------ rule sets ----------------------------- */

/* The ways of finding things that each rule set takes, as ref_need names them. */
static void list_ways(sqlite3 *db)
{
    execute(
        db, "ways",
        "CREATE TABLE temp.way(rules TEXT, way TEXT, PRIMARY KEY (rules, way));"
        "INSERT INTO temp.way SELECT id, '*' FROM ref_rule_set"
        " UNION SELECT id, ampacity FROM ref_rule_set UNION SELECT id, cable_table FROM ref_rule_set"
        " UNION SELECT id, drop_limit FROM ref_rule_set UNION SELECT id, 'next-size' FROM ref_rule_set WHERE next_size"
        " UNION SELECT rules, key || ' ' || word FROM ref_choice WHERE key = 'demand'"
        " UNION SELECT rules, 'rule ' || id FROM ref_rule");
    sqlite3_stmt *tables = prepare(db, "SELECT name FROM temp.embed WHERE EXISTS (SELECT 1 FROM "
                                       "pragma_table_info(embed.name) WHERE name = 'rules')");
    while (next_row(db, tables)) {
        const char *name = text_of(tables, 0);
        sqlite3_stmt *stmt = prepare(db, "INSERT INTO temp.way SELECT DISTINCT rules, 'table ' || %Q FROM \"%w\"",
                                     name + strlen("ref_"), name);
        next_row(db, stmt);
        sqlite3_finalize(stmt);
    }
    sqlite3_finalize(tables);
}

/* A way and one row that it needs: a fault where the set has it not. Ampacities may be another set's, if it says so. */
static bool check_need(sqlite3 *db, sqlite3_stmt *need)
{
    const char *set = text_of(need, 0);
    const char *table = text_of(need, 2);
    const char *id = text_of(need, 3);
    const char *usual = strcmp(table, "finding") == 0 ? "variant = ''" : "1";
    bool ampacity = strncmp(table, "ampacity_", strlen("ampacity_")) == 0;
    sqlite3_stmt *stmt =
        id[0] != '\0'
            ? prepare(db,
                      "SELECT %Q || ' (' || %Q || '): ref_%s ' || %Q WHERE NOT EXISTS (SELECT 1 FROM "
                      "\"ref_%w\" WHERE id = %Q AND rules IN (%Q, '*') AND %s)",
                      set, text_of(need, 1), table, id, table, id, set, usual)
            : prepare(db,
                      "SELECT %Q || ' (' || %Q || '): a row of ref_%s' WHERE NOT EXISTS (SELECT 1 FROM \"ref_%w\" "
                      "WHERE rules = %Q OR (%d AND rules = (SELECT ampacity_from FROM ref_rule_set WHERE id = %Q)))",
                      set, text_of(need, 1), table, table, set, ampacity, set);
    return report(db, "rule set lacks a row", stmt);
}

static bool check_rule_sets(sqlite3 *db)
{
    bool ok = true;
    list_ways(db);
    sqlite3_stmt *needs = prepare(db, "SELECT rules, way, needs, id FROM temp.way JOIN ref_need USING (way) WHERE "
                                      "rules <> '*' ORDER BY way.rowid, ref_need.rowid");
    while (next_row(db, needs)) {
        ok &= check_need(db, needs);
    }
    sqlite3_finalize(needs);
    return ok;
}

static void check(sqlite3 *db)
{
    bool ok = true;
    sqlite3_stmt *tables = prepare(db, "SELECT name FROM temp.embed ORDER BY place");
    while (next_row(db, tables)) {
        ok &= check_table(db, text_of(tables, 0));
    }
    sqlite3_finalize(tables);
    for (size_t i = 0; i < sizeof checks / sizeof checks[0]; i++) {
        ok &= report(db, checks[i].fault, prepare(db, "%s", checks[i].sql));
    }
    ok &= check_rule_sets(db);
    if (!ok) {
        die("the published tables are not consistent, nothing is written");
    }
}

/* ------------------------------------------------------------------ writing ------------------------------- */

/* A C string literal; bytes that are not plain ASCII as octal escapes, three digits so that nothing runs on. */
static void write_string(FILE *out, const char *text)
{
    fputc('"', out);
    for (const unsigned char *c = (const unsigned char *)text; *c != '\0'; c++) {
        if (*c == '"' || *c == '\\' || *c == '?') {
            fprintf(out, "\\%c", *c);
        } else if (*c < 0x20 || *c > 0x7e) {
            fprintf(out, "\\%03o", *c);
        } else {
            fputc(*c, out);
        }
    }
    fputc('"', out);
}

static const char *c_type(sqlite3_stmt *stmt, int column)
{
    static const struct {
        const char *sql;
        const char *c;
    } types[] = {{"TEXT", "const char *"}, {"REAL", "double "}, {"INTEGER", "int "}};
    const char *declared = sqlite3_column_decltype(stmt, column);
    for (size_t i = 0; i < sizeof types / sizeof types[0]; i++) {
        if (declared != NULL && strcmp(declared, types[i].sql) == 0) {
            return types[i].c;
        }
    }
    die("column %s: type must be TEXT, REAL or INTEGER", sqlite3_column_name(stmt, column));
}

static void write_value(FILE *out, sqlite3_stmt *stmt, int column)
{
    char type = c_type(stmt, column)[0];
    bool null = sqlite3_column_type(stmt, column) == SQLITE_NULL;
    if (type == 'c' && !null) {
        write_string(out, text_of(stmt, column));
    } else if (type == 'c') {
        fputs("NULL", out);
    } else if (type == 'd' && !null) {
        fprintf(out, "%.17g", sqlite3_column_double(stmt, column));
    } else if (type == 'd') {
        fputs("NAN", out);
    } else {
        sqlite3_int64 number = sqlite3_column_int64(stmt, column);
        if (null || number < INT_MIN || number > INT_MAX) {
            die("column %s: an INTEGER that is NULL or no int; use REAL where there may be no value",
                sqlite3_column_name(stmt, column));
        }
        fprintf(out, "%lld", (long long)number);
    }
}

static void write_struct(FILE *out, sqlite3_stmt *rows, const char *name, const char *title)
{
    fprintf(out, "\n/* %s */\nstruct %s {\n", title, name);
    for (int i = 0; i < sqlite3_column_count(rows); i++) {
        fprintf(out, "    %s%s;\n", c_type(rows, i), sqlite3_column_name(rows, i));
    }
    fprintf(out, "};\nextern const struct %s %s_rows[];\nextern const size_t %s_count;\n", name, name, name);
}

static void write_rows(FILE *out, sqlite3 *db, sqlite3_stmt *rows, const char *name)
{
    fprintf(out, "\nconst struct %s %s_rows[] = {\n", name, name);
    size_t count = 0;
    while (next_row(db, rows)) {
        for (int i = 0; i < sqlite3_column_count(rows); i++) {
            fputs(i == 0 ? "    {" : ", ", out);
            write_value(out, rows, i);
        }
        fputs("},\n", out);
        count++;
    }
    fprintf(out, "};\nconst size_t %s_count = %zu;\n", name, count);
}

/* Columns by which rows are found by halving: the rows' numbers in the order of the words, of equal ones as they stand.
 */
static void write_order(FILE *header, FILE *out, sqlite3 *db, const char *name, const char *column)
{
    sqlite3_stmt *rows = prepare(db,
                                 "SELECT n FROM (SELECT row_number() OVER (ORDER BY rowid) - 1 AS n, \"%w\" AS word "
                                 "FROM \"%w\") ORDER BY word COLLATE BINARY, n",
                                 column, name);
    fprintf(header, "extern const unsigned short %s_by_%s[];\n", name, column);
    fprintf(out, "\nconst unsigned short %s_by_%s[] = {", name, column);
    while (next_row(db, rows)) {
        if (sqlite3_column_int64(rows, 0) > USHRT_MAX) {
            die("%s: too many rows to be put in order", name);
        }
        fprintf(out, "%s, ", text_of(rows, 0));
    }
    fputs("};\n", out);
    sqlite3_finalize(rows);
}

static void write_orders(FILE *header, FILE *out, sqlite3 *db, const char *name)
{
    static const char *const ordered[][2] = {
        {"ref_rule", "id"},        {"ref_finding", "id"},     {"ref_room_protection", "what"},
        {"ref_conductor", "size"}, {"ref_currency", "code"},  {"ref_ampacity_us", "size"},
        {"ref_word", "word"},      {"ref_room_word", "word"},
    };
    for (size_t i = 0; i < sizeof ordered / sizeof ordered[0]; i++) {
        if (strcmp(ordered[i][0], name) == 0) {
            write_order(header, out, db, name, ordered[i][1]);
        }
    }
}

/* One entry for each different source of each table, in the order of the rows. */
static void write_sources(FILE *out, sqlite3 *db)
{
    fputs("\nconst struct reference_source reference_sources[] = {\n", out);
    size_t count = 0;
    sqlite3_stmt *tables = prepare(db, "SELECT name, title FROM temp.embed ORDER BY place");
    while (next_row(db, tables)) {
        sqlite3_stmt *stmt = prepare(db,
                                     "SELECT %Q, %Q, edition, source, count(*) FROM \"%w\" GROUP BY edition, source "
                                     "ORDER BY min(rowid)",
                                     text_of(tables, 0) + strlen("ref_"), text_of(tables, 1), text_of(tables, 0));
        while (next_row(db, stmt)) {
            fputs("    {", out);
            for (int i = 0; i < 4; i++) {
                write_string(out, text_of(stmt, i));
                fputs(", ", out);
            }
            fprintf(out, "%s},\n", text_of(stmt, 4));
            count++;
        }
        sqlite3_finalize(stmt);
    }
    sqlite3_finalize(tables);
    fprintf(out, "};\nconst size_t reference_source_count = %zu;\n", count);
}

static FILE *create(const char *path)
{
    FILE *out = fopen(path, "w");
    if (out == NULL) {
        die("%s: %s", path, strerror(errno));
    }
    fputs("/* Written by reference_embed from schema/reference; change the tables there. */\n", out);
    return out;
}

static void finish(FILE *out, const char *path)
{
    bool failed = ferror(out) != 0;
    if (fclose(out) != 0 || failed) {
        die("%s: cannot be written", path);
    }
}

static void write_tables(sqlite3 *db, const char *header_path, const char *source_path)
{
    FILE *header = create(header_path);
    FILE *source = create(source_path);
    fputs("#ifndef REFERENCE_TABLES_H\n#define REFERENCE_TABLES_H\n\n#include <stddef.h>\n", header);
    fputs("#include <math.h>\n#include <stddef.h>\n\n#include \"ampsum/reference.h\"\n", source);
    sqlite3_stmt *tables = prepare(db, "SELECT name, title FROM temp.embed ORDER BY place");
    while (next_row(db, tables)) {
        const char *name = text_of(tables, 0);
        sqlite3_stmt *rows = prepare(db, "SELECT * FROM \"%w\" ORDER BY rowid", name);
        write_struct(header, rows, name, text_of(tables, 1));
        write_rows(source, db, rows, name);
        write_orders(header, source, db, name);
        sqlite3_finalize(rows);
    }
    sqlite3_finalize(tables);
    write_sources(source, db);
    fputs("\n#endif\n", header);
    finish(header, header_path);
    finish(source, source_path);
}

int main(int argc, char **argv)
{
    if (argc < 4) {
        die("usage: reference_embed HEADER SOURCE FILE.sql ...");
    }
    sqlite3 *db = load(argc - 3, argv + 3);
    check(db);
    write_tables(db, argv[1], argv[2]);
    sqlite3_close(db);
    return 0;
}
