/*
 * A year of 1-minute readings (525,600) into a house database: store_meter_write beside a bare loop of prepared
 * inserts into the same table, each into a new copy of the database, one transaction. Aim: at most 1.5 times.
 *
 * Usage: bench_meter DATABASE, a house database without readings; works on copies beside it, which it removes.
 */
#include <sqlite3.h>
#include <stdio.h>
#include <stdlib.h>
#include <time.h>
#include <unistd.h>

#include "ampsum/arena.h"
#include "ampsum/meter.h"
#include "ampsum/store.h"

enum { READINGS = 525600, RUNS = 5 };

static double now_s(void)
{
    struct timespec time;
    clock_gettime(CLOCK_MONOTONIC, &time);
    return (double)time.tv_sec + (double)time.tv_nsec / 1e9;
}

static void copy_file(const char *from, const char *to)
{
    FILE *in = fopen(from, "rb");
    FILE *out = fopen(to, "wb");
    if (in == NULL || out == NULL) {
        perror(in == NULL ? from : to);
        exit(2);
    }
    for (int c = getc(in); c != EOF; c = getc(in)) {
        putc(c, out);
    }
    fclose(in);
    fclose(out);
}

static double bare_s(const char *path, const struct meter_reading *readings)
{
    sqlite3 *db = NULL;
    sqlite3_stmt *insert = NULL;
    sqlite3_open(path, &db);
    double start = now_s();
    sqlite3_exec(db, "BEGIN IMMEDIATE", NULL, NULL, NULL);
    sqlite3_prepare_v2(db, "INSERT INTO meter_reading VALUES (?1, ?2, ?3, ?4)", -1, &insert, NULL);
    for (size_t i = 0; i < READINGS; i++) {
        sqlite3_bind_int64(insert, 1, readings[i].start_s);
        sqlite3_bind_int(insert, 2, readings[i].duration_s);
        sqlite3_bind_int64(insert, 3, readings[i].energy_uwh);
        sqlite3_bind_int(insert, 4, readings[i].utc_offset_s);
        sqlite3_step(insert);
        sqlite3_reset(insert);
    }
    sqlite3_finalize(insert);
    sqlite3_exec(db, "COMMIT", NULL, NULL, NULL);
    double seconds = now_s() - start;
    sqlite3_close(db);
    return seconds;
}

static double ours_s(const char *path, const struct meter_reading *readings)
{
    struct store *store = NULL;
    struct error error = {0};
    struct meter_stored stored = {0};
    if (!store_open(path, STORE_WRITE, &store, &error)) {
        puts(error_message(&error));
        exit(2);
    }
    double start = now_s();
    if (!store_meter_write(store, readings, READINGS, NULL, NULL, &stored, &error) || stored.added != READINGS) {
        puts(error_message(&error));
        exit(2);
    }
    double seconds = now_s() - start;
    store_close(store);
    return seconds;
}

int main(int count, char **arguments)
{
    if (count != 2) {
        fputs("usage: bench_meter DATABASE\n", stderr);
        return 2;
    }
    struct text copy = {0};
    text_printf(&copy, "%s-bench", arguments[1]);
    struct meter_reading *readings = memory_resize(NULL, READINGS, sizeof *readings);
    for (int i = 0; i < READINGS; i++) {
        readings[i] = (struct meter_reading){1735689600 + i * 60, 4000000 + i * 7919LL % 9000000, 60, 3600};
    }
    double bare = 1e9;
    double ours = 1e9;
    for (int run = 0; run < RUNS; run++) {
        copy_file(arguments[1], text_string(&copy));
        double seconds = bare_s(text_string(&copy), readings);
        bare = seconds < bare ? seconds : bare;
        copy_file(arguments[1], text_string(&copy));
        seconds = ours_s(text_string(&copy), readings);
        ours = seconds < ours ? seconds : ours;
    }
    unlink(text_string(&copy));
    printf("%d readings: bare loop %.3f s, store_meter_write %.3f s, ratio %.2f\n", READINGS, bare, ours, ours / bare);
    free(readings);
    text_done(&copy);
    return ours <= 1.5 * bare ? 0 : 1;
}
