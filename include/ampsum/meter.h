/*
 * What an electricity meter recorded: interval readings from a CSV file or from NAESB ESPI XML, and figures from them.
 *
 * Energy is held exactly, in whole microwatt-hours (a reading given in watts is rounded half-up to one). A reading
 * carries its own offset from UTC, so that days of 23 and 25 hours come out right without a table of time zones.
 */
#ifndef AMPSUM_METER_H
#define AMPSUM_METER_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "ampsum/error.h"
#include "ampsum/text.h"

enum {
    METER_READINGS_MOST = 20000000, /* of one file */
    METER_UWH_PER_WH = 1000000,     /* microwatt-hours in a watt-hour, exact */
};

struct meter_reading {
    int64_t start_s;      /* Unix time, UTC */
    int64_t energy_uwh;   /* microwatt-hours drawn from the network, >= 0 */
    int32_t duration_s;   /* > 0 */
    int32_t utc_offset_s; /* local time less UTC, at the start */
};

/* What the file does not say, or says twice. All may be left zero. */
struct meter_options {
    const char *time_column;  /* CSV: header text of the column of starts; NULL: detected */
    const char *value_column; /* CSV: header text of the column of energy or power; NULL: detected */
    const char *unit;         /* CSV: `kWh`, `Wh`, `kW` or `W`; NULL: from the header or the cells */
    const char *zone;         /* `+02:00`, `-05:00` or `Z` for stamps without one; ESPI: in place of the file's own */
    int channel;              /* ESPI: which of several meter readings, from 1; 0: the only one */
    bool net;                 /* CSV: a value below zero is energy fed back, taken as nothing drawn and counted */
    void (*progress)(void *context, uint64_t done_bytes, uint64_t all_bytes); /* now and then; NULL: none */
    void *context;
};

struct meter_set {
    struct meter_reading *readings; /* by start, no two alike; freed by meter_set_done */
    size_t count;
    size_t gap_count;     /* places where time is missing between two readings */
    int64_t gap_s;        /* and how much of it */
    size_t overlap_count; /* readings that begin before the one before has ended */
    size_t repeated;      /* readings given twice with the same energy, taken once */
    size_t reverse_count; /* ESPI: readings of energy fed back, kept apart and not stored */
    int64_t reverse_uwh;
    size_t net_count;  /* CSV with options.net: values below zero */
    struct text notes; /* what was detected and what was left out, one sentence a line; no final line break */
};

/*
 * Reads a file, told apart by its first character: `<` is ESPI XML, anything else CSV.
 *
 * CSV: a header, then one row an interval. The start is ISO 8601 (`2026-03-29T01:45+01:00`, a blank for the T, seconds
 * optional); each interval lasts to the next start, at most the file's commonest step. Comma, semicolon or tab.
 * ESPI: every IntervalReading of energy (uom 72) with flowDirection forward; other units and directions are named in
 * the notes.
 *
 * On any fault returns false with `file:line: what, and what was expected` and gives nothing. Refused: a stamp without
 * zone (and no option), a second of 60, negative energy (with options.net: where all of it is), mixed units, a decimal
 * comma, two energies for one start, a file cut off, a DOCTYPE (so no entity is ever expanded and nothing outside is
 * opened), elements nested deeper than 64, more than METER_READINGS_MOST readings, a file without readings.
 *
 * Source of the ESPI fields: NAESB REQ.21 as published in espi.xsd. Checked: tests/unit/test_meter.c.
 */
bool meter_read_file(const char *path, const struct meter_options *options, struct meter_set *ret_set,
                     struct error *error);

void meter_set_done(struct meter_set *set);

/* A calendar date and time of day in local time. month 1..12, weekday 0 Monday. */
struct meter_date {
    int year;
    int month;
    int day;
    int weekday;
    int second; /* of the day, 0..86399 */
};

/* Local date and time at a reading's start. */
struct meter_date meter_local(int64_t start_s, int32_t utc_offset_s);

/* `+02:00`, `-0530`, `+02`, `Z` to seconds; false where it is none of them or beyond 18 hours. */
bool meter_zone_read(const char *string, int32_t *ret_offset_s);

/* Energy of a local day or month. A reading counts where it starts. */
struct meter_total {
    struct meter_date date; /* of the day, or the first of the month; second 0 */
    int64_t energy_uwh;
    int64_t covered_s; /* by readings */
    int64_t length_s; /* of the day as the clock had it: 86,400, or 82,800 or 90,000 at a clock change; 0 for a month */
};

/* Energy of one local hour of one day: what the model is held against. */
struct meter_hour {
    struct meter_date date; /* second = hour * 3600 */
    int64_t energy_uwh;
    int64_t covered_s; /* up to 7,200 in the hour that a clock change repeats */
};

enum { METER_SHARES = 9 };

/* Figures of a whole set. A power is NAN where it can't be had. */
struct meter_figures {
    int64_t energy_uwh;
    int64_t covered_s;
    double mean_w;
    /*
     * Load duration: the mean power of a reading that is reached or exceeded during share_percent[i] of the metered
     * time: 0 (the most), 1, 5, 10, 25, 50, 75, 90, 100 (the least).
     */
    double share_percent[METER_SHARES];
    double share_w[METER_SHARES];
    double base_w; /* median of the mean powers of the readings that start from 02:00 to 04:00 local time */
    /*
     * Maximum demand: the largest mean power over 15, 30 and 60 minutes, made of whole readings without a gap, from any
     * reading's start. NAN where the readings are longer than that or do not add up to it.
     */
    double demand_w[3];
    int64_t demand_start_s[3];
    int32_t demand_offset_s[3];
};

enum { METER_DEMANDS = 3 };
extern const int meter_demand_minutes[METER_DEMANDS];

/* Readings by start, as meter_read_file gives them. Never fails. Linear but for one sort. */
void meter_figures(const struct meter_reading *readings, size_t count, struct meter_figures *ret_figures);

/* How much of which time a set covers. */
struct meter_coverage {
    double span_days;       /* from the first start to the last end, by true length */
    size_t full_days;       /* local days that readings cover whole */
    double missing_percent; /* of the span */
    unsigned months;        /* bit 0 January ..: months in which a reading starts */
};

/* Readings by start. All 0 without any. Linear. */
struct meter_coverage meter_coverage(const struct meter_reading *readings, size_t count);

/* Totals by local day, month and hour, in order. Arrays that the caller frees with free(). */
struct meter_total *meter_days(const struct meter_reading *readings, size_t count, size_t *ret_count);
struct meter_total *meter_months(const struct meter_reading *readings, size_t count, size_t *ret_count);
struct meter_hour *meter_hours(const struct meter_reading *readings, size_t count, size_t *ret_count);

#endif
