#include <stdlib.h>

#include "ampsum/arena.h"
#include "ampsum/meter.h"
#include "internal.h"

enum { ROWS_A_REPORT = 1 << 15 };

static bool write_rows(struct store *store, const struct meter_reading *readings, size_t count,
                       void (*progress)(void *context, uint64_t done, uint64_t all), void *context,
                       struct error *error);
static bool row_fits(const struct meter_reading *reading, int64_t *sum_uwh);

bool store_meter_write(struct store *store, const struct meter_reading *readings, size_t count,
                       void (*progress)(void *context, uint64_t done, uint64_t all), void *context,
                       struct meter_stored *ret_stored, struct error *error)
{
    static const char count_sql[] = "SELECT count(*) FROM meter_reading";
    int64_t before = 0;
    int64_t after = 0;
    if (!store_begin(store, error)) {
        return false;
    }
    int64_t changes_before = sqlite3_total_changes64(store->db);
    bool ok = store_number(store, count_sql, &before, error) &&
              write_rows(store, readings, count, progress, context, error) &&
              store_number(store, count_sql, &after, error);
    int64_t written = sqlite3_total_changes64(store->db) - changes_before;
    if (!ok || !store_commit(store, error)) {
        store_rollback(store);
        return false;
    }
    ret_stored->added = (size_t)(after - before);
    ret_stored->changed = (size_t)(written - (after - before));
    ret_stored->same = count - ret_stored->added - ret_stored->changed;
    return true;
}

static bool write_rows(struct store *store, const struct meter_reading *readings, size_t count,
                       void (*progress)(void *context, uint64_t done, uint64_t all), void *context, struct error *error)
{
    /* Parameters by number here, as the row is bound half a million times. */
    static const char sql[] =
        "INSERT INTO meter_reading(start_s, duration_s, energy_uwh, utc_offset_s) VALUES (?1, ?2, ?3, ?4)"
        " ON CONFLICT(start_s) DO UPDATE SET duration_s = excluded.duration_s, energy_uwh = excluded.energy_uwh,"
        " utc_offset_s = excluded.utc_offset_s WHERE duration_s <> excluded.duration_s OR"
        " energy_uwh <> excluded.energy_uwh OR utc_offset_s <> excluded.utc_offset_s";
    sqlite3_stmt *statement = statement_open(store, sql, error);
    bool ok = statement != NULL;
    for (size_t i = 0; i < count && ok; i++) {
        int code = sqlite3_bind_int64(statement, 1, readings[i].start_s);
        code = code != SQLITE_OK ? code : sqlite3_bind_int(statement, 2, readings[i].duration_s);
        code = code != SQLITE_OK ? code : sqlite3_bind_int64(statement, 3, readings[i].energy_uwh);
        code = code != SQLITE_OK ? code : sqlite3_bind_int(statement, 4, readings[i].utc_offset_s);
        if (code != SQLITE_OK) {
            store_fault(store, code, error);
            ok = false;
            break;
        }
        ok = statement_run(store, statement, error);
        if (progress != NULL && (i + 1) % ROWS_A_REPORT == 0) {
            progress(context, i + 1, count);
        }
    }
    sqlite3_finalize(statement);
    return ok;
}

bool store_meter_read(struct store *store, struct meter_reading **ret_readings, size_t *ret_count, struct error *error)
{
    static const char sql[] =
        "SELECT start_s, duration_s, energy_uwh, utc_offset_s FROM meter_reading ORDER BY start_s";
    struct meter_reading *readings = NULL;
    size_t count = 0;
    size_t capacity = 0;
    int64_t sum_uwh = 0;
    bool row = false;
    sqlite3_stmt *statement = statement_open(store, sql, error);
    bool ok = statement != NULL && statement_row(store, statement, &row, error);
    while (ok && row) {
        readings = memory_grow(readings, count, &capacity, sizeof *readings);
        readings[count++] = (struct meter_reading){
            .start_s = sqlite3_column_int64(statement, 0),
            .duration_s = sqlite3_column_int(statement, 1),
            .energy_uwh = sqlite3_column_int64(statement, 2),
            .utc_offset_s = sqlite3_column_int(statement, 3),
        };
        ok = row_fits(&readings[count - 1], &sum_uwh);
        if (!ok) {
            store_damaged(store, "a meter reading out of range", error);
        }
        ok = ok && statement_row(store, statement, &row, error);
    }
    sqlite3_finalize(statement);
    if (!ok) {
        free(readings);
        return false;
    }
    *ret_readings = readings;
    *ret_count = count;
    return true;
}

/* The file may come from a stranger: what the figures rely on is looked at again. */
static bool row_fits(const struct meter_reading *reading, int64_t *sum_uwh)
{
    return reading->duration_s > 0 && reading->duration_s <= 32 * 86400 && reading->energy_uwh >= 0 &&
           reading->start_s >= -64800 && reading->start_s <= 7289740800 && reading->utc_offset_s >= -64800 &&
           reading->utc_offset_s <= 64800 && !__builtin_add_overflow(*sum_uwh, reading->energy_uwh, sum_uwh);
}
