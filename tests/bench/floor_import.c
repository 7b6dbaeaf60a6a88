/*
 * The floor of `import`: a bare loop of prepared inserts, with the SQLite library alone, of the rows of a house
 * database into a new one of the same tables, constraints and indices on, in one transaction. The rows come out of
 * SQLite, as they must come from somewhere; import reads and checks a house file for them.
 *
 *   floor_import FROM.db TO.db     (TO.db is written anew)
 */
#include <sqlite3.h>
#include <stdio.h>
#include <stdlib.h>
#include <unistd.h>

static void must(sqlite3 *db, int code)
{
    if (code != SQLITE_OK && code != SQLITE_ROW && code != SQLITE_DONE) {
        fprintf(stderr, "floor_import: %s\n", sqlite3_errmsg(db));
        exit(1);
    }
}

static sqlite3_stmt *prepare(sqlite3 *db, const char *sql)
{
    sqlite3_stmt *statement = NULL;
    must(db, sql == NULL ? SQLITE_NOMEM : sqlite3_prepare_v2(db, sql, -1, &statement, NULL));
    return statement;
}

static void make_tables(sqlite3 *from, sqlite3 *to)
{
    sqlite3_stmt *schema = prepare(from, "SELECT sql FROM sqlite_schema WHERE sql IS NOT NULL ORDER BY rowid");
    while (sqlite3_step(schema) == SQLITE_ROW) {
        must(to, sqlite3_exec(to, (const char *)sqlite3_column_text(schema, 0), NULL, NULL, NULL));
    }
    sqlite3_finalize(schema);
}

static sqlite3_stmt *prepare_insert(sqlite3 *to, const char *table, int columns)
{
    sqlite3_str *sql = sqlite3_str_new(to);
    sqlite3_str_appendf(sql, "INSERT INTO \"%w\" VALUES(?", table);
    for (int i = 1; i < columns; i++) {
        sqlite3_str_appendall(sql, ", ?");
    }
    sqlite3_str_appendall(sql, ")");
    char *text = sqlite3_str_finish(sql);
    sqlite3_stmt *insert = prepare(to, text);
    sqlite3_free(text);
    return insert;
}

static void copy_rows(sqlite3 *from, sqlite3 *to, const char *table)
{
    char *sql = sqlite3_mprintf("SELECT * FROM \"%w\"", table);
    sqlite3_stmt *rows = prepare(from, sql);
    sqlite3_free(sql);
    int columns = sqlite3_column_count(rows);
    sqlite3_stmt *insert = prepare_insert(to, table, columns);
    while (sqlite3_step(rows) == SQLITE_ROW) {
        for (int i = 0; i < columns; i++) {
            must(to, sqlite3_bind_value(insert, i + 1, sqlite3_column_value(rows, i)));
        }
        must(to, sqlite3_step(insert));
        must(to, sqlite3_reset(insert));
    }
    sqlite3_finalize(insert);
    sqlite3_finalize(rows);
}

int main(int argc, char **argv)
{
    sqlite3 *from = NULL;
    sqlite3 *to = NULL;
    if (argc != 3) {
        fprintf(stderr, "usage: floor_import FROM.db TO.db\n");
        return 2;
    }
    unlink(argv[2]);
    must(from, sqlite3_open_v2(argv[1], &from, SQLITE_OPEN_READONLY, NULL));
    must(to, sqlite3_open(argv[2], &to));
    must(to, sqlite3_exec(to, "PRAGMA foreign_keys = ON; BEGIN", NULL, NULL, NULL));
    make_tables(from, to);
    sqlite3_stmt *tables = prepare(from, "SELECT name FROM sqlite_schema WHERE type = 'table' ORDER BY rowid");
    while (sqlite3_step(tables) == SQLITE_ROW) {
        copy_rows(from, to, (const char *)sqlite3_column_text(tables, 0));
    }
    sqlite3_finalize(tables);
    must(to, sqlite3_exec(to, "COMMIT", NULL, NULL, NULL));
    sqlite3_close(to);
    sqlite3_close(from);
    return 0;
}
