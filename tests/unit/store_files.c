#include "store_files.h"

#include <dirent.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include <check.h>
#include <sqlite3.h>

static char folder[64];
static char path[96];

void files_init(void)
{
    /* In memory where that can be had: the tests sync some thousand times. */
    snprintf(folder, sizeof folder, "%s/ampsum-test-XXXXXX",
             access("/dev/shm", W_OK | X_OK) == 0 ? "/dev/shm" : "/tmp");
    ck_assert_ptr_nonnull(mkdtemp(folder));
    snprintf(path, sizeof path, "%s/house.db", folder);
}

void files_done(void)
{
    DIR *open_folder = opendir(folder);
    for (struct dirent *entry = NULL; open_folder != NULL && (entry = readdir(open_folder)) != NULL;) {
        char *name = NULL;
        if (asprintf(&name, "%s/%s", folder, entry->d_name) > 0) {
            unlink(name);
            free(name);
        }
    }
    if (open_folder != NULL) {
        closedir(open_folder);
    }
    rmdir(folder);
}

const char *files_folder(void)
{
    return folder;
}

const char *files_path(void)
{
    return path;
}

size_t files_count(void)
{
    size_t count = 0;
    DIR *open_folder = opendir(folder);
    ck_assert_ptr_nonnull(open_folder);
    for (struct dirent *entry = NULL; (entry = readdir(open_folder)) != NULL;) {
        count += strcmp(entry->d_name, ".") != 0 && strcmp(entry->d_name, "..") != 0;
    }
    closedir(open_folder);
    return count;
}

void files_sql(const char *file, const char *sql)
{
    sqlite3 *db = NULL;
    char *fault = NULL;
    ck_assert_int_eq(sqlite3_open(file, &db), SQLITE_OK);
    ck_assert_int_eq(sqlite3_exec(db, "PRAGMA ignore_check_constraints = 1; PRAGMA foreign_keys = 0", NULL, NULL, NULL),
                     SQLITE_OK);
    ck_assert_msg(sqlite3_exec(db, sql, NULL, NULL, &fault) == SQLITE_OK, "%s: %s", sql, fault);
    sqlite3_close(db);
}

long files_number(const char *file, const char *sql)
{
    sqlite3 *db = NULL;
    sqlite3_stmt *statement = NULL;
    ck_assert_int_eq(sqlite3_open(file, &db), SQLITE_OK);
    ck_assert_int_eq(sqlite3_prepare_v2(db, sql, -1, &statement, NULL), SQLITE_OK);
    ck_assert_int_eq(sqlite3_step(statement), SQLITE_ROW);
    long number = (long)sqlite3_column_int64(statement, 0);
    sqlite3_finalize(statement);
    sqlite3_close(db);
    return number;
}

void files_write(const char *file, long offset, const void *bytes, size_t length)
{
    FILE *stream = fopen(file, offset < 0 ? "wb" : "r+b");
    ck_assert_ptr_nonnull(stream);
    ck_assert_int_eq(fseek(stream, offset < 0 ? 0 : offset, SEEK_SET), 0);
    ck_assert_uint_eq(fwrite(bytes, 1, length, stream), length);
    ck_assert_int_eq(fclose(stream), 0);
}

struct house *files_read(const char *file, struct error *error)
{
    struct store *store = NULL;
    struct house *house = NULL;
    if (store_open(file, STORE_READ, &store, error)) {
        store_read_house(store, &house, error);
        store_close(store);
    }
    return house;
}
