/*
 * Runs while building: embed OUTPUT.c STEP.sql... turns the steps of the house database into constant data, so that
 * the program needs no file of its own at run time.
 *
 * Each step is tried on an empty database after the ones before it. A step that fails, or leaves a table that is not
 * STRICT or has no primary key, stops the build. Beside each step stands what sqlite_schema holds after it, which the
 * program compares with the file that it is asked to open.
 */
#include <errno.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <sqlite3.h>

__attribute__((format(printf, 1, 2))) static _Noreturn void stop(const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    fputs("embed: ", stderr);
    vfprintf(stderr, format, arguments);
    fputc('\n', stderr);
    va_end(arguments);
    exit(EXIT_FAILURE);
}

static char *file_content(const char *path)
{
    FILE *file = fopen(path, "rb");
    if (file == NULL) {
        stop("%s: %s", path, strerror(errno));
    }
    size_t length = 0;
    size_t capacity = 65536;
    char *content = malloc(capacity);
    while (content != NULL) {
        length += fread(content + length, 1, capacity - length - 1, file);
        if (length + 1 < capacity) {
            break;
        }
        capacity *= 2;
        char *larger = realloc(content, capacity);
        if (larger == NULL) {
            free(content);
        }
        content = larger;
    }
    if (content == NULL || ferror(file) != 0 || memchr(content, '\0', length) != NULL) {
        stop("%s: can't be read", path);
    }
    content[length] = '\0';
    fclose(file);
    return content;
}

/* As numbers, since a string literal may not be as long as a step. */
static void write_bytes(FILE *output, const char *string)
{
    size_t length = strlen(string);
    for (size_t i = 0; i <= length; i++) {
        fprintf(output, "%d,%s", string[i], i % 24 == 23 ? "\n" : "");
    }
}

static void write_text(FILE *output, int step, const char *what, int row, const char *string)
{
    for (const char *byte = string; *byte != '\0'; byte++) {
        if ((unsigned char)*byte > 126) {
            stop("step %d: %s holds a byte that is not ASCII", step, string);
        }
    }
    fprintf(output, "static const char %s_%d_%d[] = {\n", what, step, row);
    write_bytes(output, string);
    fputs("};\n", output);
}

static sqlite3_stmt *query(sqlite3 *db, const char *sql)
{
    sqlite3_stmt *statement = NULL;
    if (sqlite3_prepare_v2(db, sql, -1, &statement, NULL) != SQLITE_OK) {
        stop("%s: %s", sql, sqlite3_errmsg(db));
    }
    return statement;
}

static void check_tables(sqlite3 *db, const char *step)
{
    static const char sql[] = "SELECT l.name, l.strict, (SELECT count(*) FROM pragma_table_info(l.name) WHERE pk > 0) "
                              "FROM pragma_table_list AS l WHERE l.schema = 'main' AND l.name NOT LIKE 'sqlite%'";
    sqlite3_stmt *statement = query(db, sql);
    while (sqlite3_step(statement) == SQLITE_ROW) {
        if (sqlite3_column_int(statement, 1) != 1 || sqlite3_column_int(statement, 2) < 1) {
            stop("%s: table %s is not STRICT with a primary key", step, sqlite3_column_text(statement, 0));
        }
    }
    sqlite3_finalize(statement);
}

/* Returns the number of rows of sqlite_schema. */
static int write_schema(FILE *output, sqlite3 *db, int step)
{
    static const char sql[] = "SELECT type, name, tbl_name, coalesce(sql, '') FROM sqlite_schema ORDER BY type, name";
    sqlite3_stmt *statement = query(db, sql);
    int rows = 0;
    for (; sqlite3_step(statement) == SQLITE_ROW; rows++) {
        write_text(output, step, "object", rows, (const char *)sqlite3_column_text(statement, 3));
    }
    sqlite3_reset(statement);
    fprintf(output, "static const struct schema_object objects_%d[] = {\n", step);
    for (int row = 0; sqlite3_step(statement) == SQLITE_ROW; row++) {
        fprintf(output, "    {\"%s\", \"%s\", \"%s\", object_%d_%d},\n", sqlite3_column_text(statement, 0),
                sqlite3_column_text(statement, 1), sqlite3_column_text(statement, 2), step, row);
    }
    fputs("};\n\n", output);
    sqlite3_finalize(statement);
    return rows;
}

static const char *base_name(const char *path)
{
    const char *slash = strrchr(path, '/');
    return slash == NULL ? path : slash + 1;
}

int main(int argc, char **argv)
{
    if (argc < 3) {
        stop("usage: embed OUTPUT.c STEP.sql...");
    }
    sqlite3 *db = NULL;
    if (sqlite3_open(":memory:", &db) != SQLITE_OK) {
        stop("no memory");
    }
    FILE *output = fopen(argv[1], "w");
    int *rows = calloc((size_t)argc, sizeof *rows);
    if (output == NULL || rows == NULL) {
        stop("%s: can't be written", argv[1]);
    }
    fputs("/* Made by src/tools/embed.c from schema/steps; never edited. */\n#include \"schema_steps.h\"\n\n", output);
    for (int i = 2; i < argc; i++) {
        int step = i - 1;
        if (strtol(base_name(argv[i]), NULL, 10) != step) {
            stop("%s: this is step %d, so its name begins with that number", argv[i], step);
        }
        char *sql = file_content(argv[i]);
        if (sqlite3_exec(db, sql, NULL, NULL, NULL) != SQLITE_OK) {
            stop("%s: %s", argv[i], sqlite3_errmsg(db));
        }
        check_tables(db, argv[i]);
        write_text(output, step, "step", 0, sql);
        rows[i] = write_schema(output, db, step);
        free(sql);
    }
    fputs("const struct schema_step schema_steps[] = {\n", output);
    for (int i = 2; i < argc; i++) {
        fprintf(output, "    {\"%s\", step_%d_0, objects_%d, %d},\n", base_name(argv[i]), i - 1, i - 1, rows[i]);
    }
    fprintf(output, "};\nconst int schema_step_count = %d;\n", argc - 2);
    free(rows);
    sqlite3_close(db);
    return fclose(output) == 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}
