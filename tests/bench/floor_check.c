/*
 * The floor of `check`: opens a house database with the SQLite library alone, reads the columns that `check` reads and
 * sums P/V for each branch. No model, no rules, no words.
 *
 *   floor_check FILE.db
 */
#include <sqlite3.h>
#include <stdio.h>
#include <stdlib.h>

static sqlite3_stmt *prepare(sqlite3 *db, const char *sql)
{
    sqlite3_stmt *statement = NULL;
    if (sqlite3_prepare_v2(db, sql, -1, &statement, NULL) != SQLITE_OK) {
        fprintf(stderr, "floor_check: %s\n", sqlite3_errmsg(db));
        exit(1);
    }
    return statement;
}

/* Touches every column, as a reader must. */
static double touch(sqlite3_stmt *statement, int columns)
{
    double sum = 0;
    for (int i = 0; i < columns; i++) {
        switch (sqlite3_column_type(statement, i)) {
        case SQLITE_TEXT:
            sum += sqlite3_column_text(statement, i)[0] + sqlite3_column_bytes(statement, i);
            break;
        case SQLITE_NULL:
            break;
        default:
            sum += sqlite3_column_double(statement, i);
        }
    }
    return sum;
}

int main(int argc, char **argv)
{
    sqlite3 *db = NULL;
    if (argc != 2 || sqlite3_open_v2(argv[1], &db, SQLITE_OPEN_READONLY, NULL) != SQLITE_OK) {
        return 1;
    }
    sqlite3_stmt *branches = prepare(db, "SELECT * FROM branch ORDER BY n");
    int branch_columns = sqlite3_column_count(branches);
    double check = 0;
    long long most = 0;
    while (sqlite3_step(branches) == SQLITE_ROW) {
        check += touch(branches, branch_columns);
        most = sqlite3_column_int64(branches, 0);
    }
    sqlite3_finalize(branches);
    double *current_a = calloc((size_t)most + 1, sizeof *current_a);
    sqlite3_stmt *appliances = prepare(db, "SELECT branch_n, power_w, appliance.* FROM appliance ORDER BY n");
    int columns = sqlite3_column_count(appliances);
    while (current_a != NULL && sqlite3_step(appliances) == SQLITE_ROW) {
        long long branch = sqlite3_column_int64(appliances, 0);
        if (branch >= 0 && branch <= most) {
            current_a[branch] += sqlite3_column_double(appliances, 1) / 120;
        }
        check += touch(appliances, columns);
    }
    sqlite3_finalize(appliances);
    long over = 0;
    for (long long i = 0; current_a != NULL && i <= most; i++) {
        over += current_a[i] > 20;
    }
    printf("%ld over 20 A, %g\n", over, check);
    free(current_a);
    sqlite3_close(db);
    return 0;
}
