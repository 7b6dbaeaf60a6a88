/* Fields of a CSV row, and which of its columns hold what. */
#ifndef AMPSUM_METER_CSV_COLUMNS_H
#define AMPSUM_METER_CSV_COLUMNS_H

#include "parts.h"

#define NO_COLUMN ((size_t)-1)

/* Fields one after another, each ended by a NUL byte. */
struct csv_row {
    struct text bytes;
    size_t *starts;
    size_t count;
    size_t capacity;
};

void csv_row_add(struct csv_row *row, const char *bytes, size_t length);
void csv_row_clear(struct csv_row *row);
void csv_row_done(struct csv_row *row);
const char *csv_row_field(const struct csv_row *row, size_t column);

enum csv_unit { UNIT_UNKNOWN, UNIT_KWH, UNIT_WH, UNIT_KW, UNIT_W };

struct csv_columns {
    struct csv_row header;
    size_t count;
    size_t time;
    size_t date; /* NO_COLUMN where `time` holds the date too */
    size_t value;
    enum csv_unit unit;
};

/* Finds the columns by the options, else by the words of the header. Takes the row over. */
bool csv_columns_find(struct csv_columns *columns, struct csv_row *row, struct reading_file *file, unsigned long line);
void csv_columns_done(struct csv_columns *columns);

/* Takes note of a unit written in a cell ("" for none): it must agree with what is known. */
bool csv_columns_unit(struct csv_columns *columns, const char *word, struct reading_file *file, unsigned long line);

const char *csv_unit_word(enum csv_unit unit);
bool csv_unit_is_power(enum csv_unit unit);

/* Power of ten from the unit to microwatt-hours or microwatts. */
int csv_unit_power(enum csv_unit unit);

#endif
