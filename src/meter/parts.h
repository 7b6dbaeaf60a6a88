/* What the files of src/meter share: one file being read. */
#ifndef AMPSUM_METER_PARTS_H
#define AMPSUM_METER_PARTS_H

#include <stdio.h>

#include "ampsum/meter.h"

/* A reading as found, before sorting. duration_s 0: not stated (CSV), or of no length (ESPI). */
struct raw {
    int64_t start_s;
    int64_t energy_uwh; /* CSV in watts: microwatts until the durations are known */
    int32_t duration_s;
    int32_t utc_offset_s;
    unsigned long line;
};

enum { CHUNK_BYTES = 1 << 16 };

struct reading_file {
    const char *name;
    const struct meter_options *options;
    FILE *stream;
    uint64_t done_bytes;
    uint64_t all_bytes;
    char chunk[CHUNK_BYTES];
    size_t chunk_length; /* the first chunk is read before csv_read or espi_read */
    bool ended;
    struct raw *raws;
    size_t raw_count;
    size_t raw_capacity;
    struct meter_set *set; /* notes and counts go here */
    struct error *error;
};

/* Reads on into file->chunk; false at the end (chunk_length 0) or on a fault (error set). */
bool meter_file_next_chunk(struct reading_file *file);

/* The fault of a line. Always false. */
bool meter_file_fault(struct reading_file *file, unsigned long line, const char *format, ...)
    __attribute__((format(printf, 3, 4)));

/* Appends one sentence to the notes. */
void meter_file_note(struct reading_file *file, const char *format, ...) __attribute__((format(printf, 2, 3)));

/* Appends a reading; false (fault set) beyond METER_READINGS_MOST. */
bool meter_file_add(struct reading_file *file, const struct raw *raw);

bool csv_read(struct reading_file *file);
bool espi_read(struct reading_file *file);

/* Sorts raws by start, then longest first, then line. */
void meter_raws_sort(struct raw *raws, size_t count);

enum { READING_UWH_MOST_POWER = 15 }; /* a reading is at most 10^15 microwatt-hours, 1 GWh */

/*
 * `digits[.digits][e[+-]digits]` times 10^power to a whole number, rounded half-up. The fault (why not) goes to
 * ret_fault: a constant string. At most 10^READING_UWH_MOST_POWER.
 */
bool decimal_scaled(const char *string, size_t length, int power, int64_t *ret_value, const char **ret_fault);

/* Days since 1970-01-01 of a date of the Gregorian calendar, and back. month 1..12. */
int64_t days_from_date(int year, int month, int day);
int days_in_month(int year, int month);

/*
 * ISO 8601: date, T or blank, HH:MM[:SS[.0]], and Z or an offset. Sets *ret_zoned to whether an offset stood there
 * (then *ret_offset_s); *ret_local_s counts seconds as if local time were UTC. On a fault gives false and a constant
 * string.
 */
bool stamp_read(const char *string, int64_t *ret_local_s, bool *ret_zoned, int32_t *ret_offset_s,
                const char **ret_fault);

#endif
