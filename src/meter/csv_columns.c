#include "csv_columns.h"

#include <stdlib.h>
#include <string.h>
#include <strings.h>

#include "ampsum/arena.h"
#include "ampsum/words.h"

static const struct {
    const char *word;
    int power;
    bool is_power;
} units[] = {
    [UNIT_UNKNOWN] = {"", 0, false}, [UNIT_KWH] = {"kWh", 9, false}, [UNIT_WH] = {"Wh", 6, false},
    [UNIT_KW] = {"kW", 9, true},     [UNIT_W] = {"W", 6, true},
};
enum { UNIT_COUNT = sizeof units / sizeof units[0] };

/* Words of a header, most telling first, that mark the column of starts and, without a unit, that of values. */
static const char *const time_words[] = {"start",   "timestamp", "datetime", "time",  "date",  "stamp", "zeitstempel",
                                         "uhrzeit", "zeit",      "hora",     "heure", "datum", "fecha", NULL};
static const char *const value_words[] = {"energy", "consumption", "usage",        "import",    "power",   "demand",
                                          "load",   "value",       "reading",      "verbrauch", "energie", "bezug",
                                          "wert",   "consumo",     "consommation", "valeur",    NULL};
/* Words of a column that holds a time alone, and those of the date beside it. */
static const char *const clock_words[] = {"time", "uhrzeit", "zeit", "hora", "heure", NULL};
static const char *const date_words[] = {"date", "datum", "fecha", NULL};

const char *csv_unit_word(enum csv_unit unit)
{
    return units[unit].word;
}

bool csv_unit_is_power(enum csv_unit unit)
{
    return units[unit].is_power;
}

int csv_unit_power(enum csv_unit unit)
{
    return units[unit].power;
}

void csv_row_add(struct csv_row *row, const char *bytes, size_t length)
{
    row->starts = memory_grow(row->starts, row->count, &row->capacity, sizeof *row->starts);
    row->starts[row->count++] = row->bytes.length;
    text_add_length(&row->bytes, bytes, length);
    text_add_char(&row->bytes, '\0');
}

void csv_row_clear(struct csv_row *row)
{
    row->count = 0;
    text_clear(&row->bytes);
}

void csv_row_done(struct csv_row *row)
{
    text_done(&row->bytes);
    free(row->starts);
    *row = (struct csv_row){0};
}

const char *csv_row_field(const struct csv_row *row, size_t column)
{
    return row->bytes.bytes + row->starts[column];
}

void csv_columns_done(struct csv_columns *columns)
{
    csv_row_done(&columns->header);
}

static enum csv_unit unit_from_word(const char *word, size_t length)
{
    for (size_t i = 1; i < UNIT_COUNT; i++) {
        if (strlen(units[i].word) == length && strncasecmp(units[i].word, word, length) == 0) {
            return (enum csv_unit)i;
        }
    }
    return UNIT_UNKNOWN;
}

/* The next word of letters at or after *at, its length in *ret_length; NULL at the end. */
static const char *next_word(const char *at, size_t *ret_length)
{
    static const char letters[] = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz";
    at += strcspn(at, letters);
    *ret_length = strspn(at, letters);
    return *ret_length == 0 ? NULL : at;
}

static bool header_has_word(const char *header, const char *wanted)
{
    size_t length = 0;
    for (const char *word = next_word(header, &length); word != NULL; word = next_word(word + length, &length)) {
        if (strlen(wanted) == length && strncasecmp(word, wanted, length) == 0) {
            return true;
        }
    }
    return false;
}

static bool header_has_one(const char *header, const char *const *words)
{
    while (*words != NULL && !header_has_word(header, *words)) {
        words++;
    }
    return *words != NULL;
}

static enum csv_unit unit_of_header(const char *header)
{
    size_t length = 0;
    for (const char *word = next_word(header, &length); word != NULL; word = next_word(word + length, &length)) {
        enum csv_unit unit = unit_from_word(word, length);
        if (unit != UNIT_UNKNOWN) {
            return unit;
        }
    }
    return UNIT_UNKNOWN;
}

static void list_header(const struct csv_columns *columns, struct text *ret_list)
{
    for (size_t i = 0; i < columns->count; i++) {
        text_add(ret_list, i > 0 ? ", '" : "'");
        text_add_shown(ret_list, csv_row_field(&columns->header, i));
        text_add_char(ret_list, '\'');
    }
}

static bool columns_fault(const struct csv_columns *columns, struct reading_file *file, unsigned long line,
                          const char *what)
{
    struct text list = {0};
    list_header(columns, &list);
    meter_file_fault(file, line, "%s; the header has %s", what, text_string(&list));
    text_done(&list);
    return false;
}

/* The column of that name, letter case aside; a fault names the nearest. */
static bool named_column(const struct csv_columns *columns, const char *name, struct reading_file *file,
                         unsigned long line, size_t *ret_column)
{
    struct words_nearest nearest;
    words_nearest_init(&nearest, name);
    for (size_t i = 0; i < columns->count; i++) {
        const char *header = csv_row_field(&columns->header, i);
        if (strcasecmp(header, name) == 0) {
            *ret_column = i;
            return true;
        }
        words_nearest_offer(&nearest, header);
    }
    struct text what = {0};
    text_add(&what, "no column '");
    text_add_shown(&what, name);
    text_add_char(&what, '\'');
    if (nearest.best != NULL) {
        text_add(&what, " (nearest: '");
        text_add_shown(&what, nearest.best);
        text_add(&what, "')");
    }
    columns_fault(columns, file, line, text_string(&what));
    text_done(&what);
    return false;
}

/* The first column whose header holds the earliest of the words. */
static size_t column_by_words(const struct csv_columns *columns, const char *const *words)
{
    for (; *words != NULL; words++) {
        for (size_t i = 0; i < columns->count; i++) {
            if (i != columns->time && header_has_word(csv_row_field(&columns->header, i), *words)) {
                return i;
            }
        }
    }
    return NO_COLUMN;
}

static bool find_time(struct csv_columns *columns, struct reading_file *file, unsigned long line)
{
    if (file->options->time_column != NULL) {
        return named_column(columns, file->options->time_column, file, line, &columns->time);
    }
    columns->time = column_by_words(columns, time_words);
    if (columns->time == NO_COLUMN) {
        return columns_fault(columns, file, line, "no column of times found; name it with --time");
    }
    const char *header = csv_row_field(&columns->header, columns->time);
    if (header_has_one(header, clock_words) && !header_has_one(header, date_words)) {
        columns->date = column_by_words(columns, date_words);
    }
    return true;
}

static bool find_value(struct csv_columns *columns, struct reading_file *file, unsigned long line)
{
    if (file->options->value_column != NULL) {
        return named_column(columns, file->options->value_column, file, line, &columns->value);
    }
    columns->value = NO_COLUMN;
    for (size_t i = 0; i < columns->count; i++) {
        if (i == columns->time || unit_of_header(csv_row_field(&columns->header, i)) == UNIT_UNKNOWN) {
            continue;
        }
        if (columns->value != NO_COLUMN) {
            return columns_fault(columns, file, line, "more than one column of energy or power; name one with --value");
        }
        columns->value = i;
    }
    if (columns->value == NO_COLUMN) {
        columns->value = column_by_words(columns, value_words);
    }
    if (columns->value == NO_COLUMN) {
        return columns_fault(columns, file, line, "no column of energy or power found; name it with --value");
    }
    return true;
}

static bool find_unit(struct csv_columns *columns, struct reading_file *file, unsigned long line)
{
    columns->unit = unit_of_header(csv_row_field(&columns->header, columns->value));
    if (file->options->unit == NULL) {
        return true;
    }
    enum csv_unit given = unit_from_word(file->options->unit, strlen(file->options->unit));
    if (given == UNIT_UNKNOWN) {
        return meter_file_fault(file, 0, "--unit %s: not a unit; kWh, Wh, kW or W", file->options->unit);
    }
    if (columns->unit != UNIT_UNKNOWN && columns->unit != given) {
        return meter_file_fault(file, line, "mixed units: the column says %s, --unit %s", csv_unit_word(columns->unit),
                                csv_unit_word(given));
    }
    columns->unit = given;
    return true;
}

bool csv_columns_find(struct csv_columns *columns, struct csv_row *row, struct reading_file *file, unsigned long line)
{
    columns->header = *row;
    *row = (struct csv_row){0};
    columns->count = columns->header.count;
    columns->time = NO_COLUMN;
    columns->date = NO_COLUMN;
    const char *first = csv_row_field(&columns->header, 0);
    if (*first >= '0' && *first <= '9') {
        return meter_file_fault(file, line, "no header; the first line names the columns, like `start,energy_kwh`");
    }
    return find_time(columns, file, line) && find_value(columns, file, line) && find_unit(columns, file, line);
}

bool csv_columns_unit(struct csv_columns *columns, const char *word, struct reading_file *file, unsigned long line)
{
    if (*word == '\0') {
        return columns->unit != UNIT_UNKNOWN ||
               meter_file_fault(file, line,
                                "neither the header nor the cell names a unit; give --unit kWh, Wh, kW or W");
    }
    enum csv_unit unit = unit_from_word(word, strlen(word));
    if (unit == UNIT_UNKNOWN) {
        struct text shown = {0};
        text_add_shown(&shown, word);
        meter_file_fault(file, line, "'%s' is not a unit; kWh, Wh, kW or W", text_string(&shown));
        text_done(&shown);
        return false;
    }
    if (columns->unit != UNIT_UNKNOWN && columns->unit != unit) {
        return meter_file_fault(file, line, "mixed units: %s here, %s before", csv_unit_word(unit),
                                csv_unit_word(columns->unit));
    }
    columns->unit = unit;
    return true;
}
