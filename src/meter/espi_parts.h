/* What an ESPI file holds, as gathered by espi.c and tied together by espi_resolve.c. */
#ifndef AMPSUM_METER_ESPI_PARTS_H
#define AMPSUM_METER_ESPI_PARTS_H

#include "ampsum/arena.h"
#include "parts.h"

/* Elements that matter; fields of one parent stand together. */
enum tag {
    TAG_OTHER,
    TAG_ENTRY,
    TAG_LINK,
    TAG_METER_READING,
    TAG_READING_TYPE,
    TAG_INTERVAL_BLOCK,
    TAG_INTERVAL_READING,
    TAG_TIME_PERIOD,
    TAG_LOCAL_TIME,
    TAG_START,
    TAG_DURATION,
    TAG_VALUE,
    TAG_UOM,
    TAG_FLOW,
    TAG_MULTIPLIER,
    TAG_BEHAVIOUR,
    TAG_COMMODITY,
    TAG_DST_START,
    TAG_DST_END,
    TAG_DST_OFFSET,
    TAG_TZ_OFFSET,
};

struct espi_link {
    const char *href;
    struct espi_link *next;
};

/* Of a ReadingType; 0 where a field is not there. */
struct espi_type {
    int uom;
    int flow;
    int multiplier;
    int behaviour;
    int commodity;
};

struct espi_entry {
    const char *self; /* hrefs; NULL where there is no such link */
    const char *up;
    struct espi_link *related;
    enum tag kind; /* the resource in it that matters; TAG_OTHER: another one */
    struct espi_type type;
    unsigned long line;
};

struct espi_local_time {
    bool known;
    uint32_t dst_start_rule;
    uint32_t dst_end_rule;
    int32_t dst_offset_s;
    int32_t tz_offset_s;
};

struct espi_reading {
    struct raw raw; /* energy_uwh holds the bare value until the multiplier is known */
    size_t entry;
};

struct espi {
    struct reading_file *file;
    struct arena *arena;
    struct espi_entry *entries;
    size_t entry_count;
    size_t entry_capacity;
    struct espi_reading *readings;
    size_t reading_count;
    size_t reading_capacity;
    struct espi_local_time local;
};

/* Finds each reading's type and hands the forward energy on to the file. */
bool espi_resolve(struct espi *espi);

/*
 * The offset from UTC at a time, by the file's own rules. Bits of a rule (espi.xsd, DstRuleType): 0-11 seconds, 12-16
 * hour, 17-19 weekday (Monday 1), 20-24 day of month, 25-27 operator, 28-31 month; all ones: no daylight saving.
 */
int32_t espi_offset_s(const struct espi_local_time *local, int64_t time_s);

#endif
