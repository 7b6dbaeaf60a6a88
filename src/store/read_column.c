/* One column of a row: its type, its range, its words, its reference. */
#include "read_column.h"

#include <limits.h>
#include <string.h>

#include "ampsum/arena.h"
#include "ampsum/reference.h"
#include "ampsum/values.h"
#include "ampsum/words.h"

enum { POOL_BYTES = 65536 };

size_t index_of(const struct numbered *rows, int64_t n)
{
    if (rows->count == 0 || n < rows->first || n > rows->last) {
        return NO_INDEX;
    }
    if (rows->n == NULL) {
        return (size_t)(n - rows->first);
    }
    size_t low = 0;
    size_t high = rows->count;
    while (low < high) {
        size_t middle = low + (high - low) / 2;
        if (rows->n[middle] < n) {
            low = middle + 1;
        } else {
            high = middle;
        }
    }
    return low < rows->count && rows->n[low] == n ? low : NO_INDEX;
}

static char *pool_copy(struct reader *reader, const char *bytes, size_t length)
{
    if (length >= reader->pool_left) {
        reader->pool_left = length < POOL_BYTES ? POOL_BYTES : length + 1;
        reader->pool = arena_take(reader->house->arena, reader->pool_left);
    }
    char *copy = reader->pool;
    memcpy(copy, bytes, length);
    copy[length] = '\0';
    reader->pool += length + 1;
    reader->pool_left -= length + 1;
    return copy;
}

static bool is_plain(const char *bytes, size_t length)
{
    unsigned char odd = 0;
    for (size_t i = 0; i < length; i++) {
        unsigned char byte = (unsigned char)bytes[i];
        odd |= (unsigned char)(byte < ' ' || byte > '~');
    }
    return odd == 0;
}

/* A string can be printed, whatever wrote it. */
static bool is_printable(const char *string, size_t length)
{
    return is_plain(string, length) || (words_is_utf8(string, length) && !words_has_control(string));
}

char *take_string(struct reader *reader, sqlite3_value *value)
{
    size_t length = (size_t)sqlite3_value_bytes(value); /* first, it also turns UTF-16 into UTF-8 */
    const char *bytes = sqlite3_value_blob(value);
    if (length > TEXT_BYTES_MOST) {
        text_printf(&reader->fault, "%zu bytes, more than a house file holds in a line", length);
        return NULL;
    }
    if (length == 0 || bytes == NULL || memchr(bytes, '\0', length) != NULL) {
        return NULL;
    }
    char *string = pool_copy(reader, bytes, length);
    return is_printable(string, length) ? string : NULL;
}

static bool take_text(struct reader *reader, sqlite3_value *value, char *field)
{
    const char *string = take_string(reader, value);
    memcpy(field, &string, sizeof string);
    return string != NULL;
}

/* The key's own bounds, where it has some (keys.h). False for what is not a number. */
static bool within(const struct key *key, double value)
{
    bool bound = key->least != 0 || key->most != 0;
    double least = bound ? key->least : (key->flags & KEY_SIGNED) != 0 ? -VALUE_MOST : 0;
    double most = key->most != 0 ? key->most : VALUE_MOST;
    const bool tiny = value > -VALUE_LEAST && value < VALUE_LEAST && (value < 0 || value > 0);
    return !tiny && value >= least && value <= most &&
           ((key->flags & KEY_ABOVE_ZERO) == 0 || value > 0 || (key->flags & KEY_OR_UNKNOWN) != 0);
}

static bool take_amount(const struct key *key, double value, char *field)
{
    if (!within(key, value)) {
        return false;
    }
    memcpy(field, &value, sizeof value);
    return true;
}

static bool take_whole(const struct key *key, int64_t value, char *field)
{
    int64_t least = key->type == KEY_WHOLE ? 0 : 1;
    int64_t most = key->type == KEY_DAYS ? DAYS_ALL : key->type == KEY_MONTHS ? MONTHS_ALL : INT_MAX;
    if (value < least || value > most || !within(key, (double)value)) {
        return false;
    }
    int whole = (int)value;
    memcpy(field, &whole, sizeof whole);
    return true;
}

static bool take_choice(const struct key *key, sqlite3_value *value, char *field)
{
    size_t length = (size_t)sqlite3_value_bytes(value);
    const char *bytes = sqlite3_value_blob(value);
    struct choice choice = {NULL, 0};
    for (size_t i = 0; bytes != NULL && (choice = key_choice(key, i)).word != NULL; i++) {
        if (strlen(choice.word) == length && memcmp(choice.word, bytes, length) == 0) {
            memcpy(field, &choice.value, sizeof choice.value);
            return true;
        }
    }
    return false;
}

/* A kind that names itself (outlet, panel) is not read to its end yet: keeps n, resolved in resolve_own. */
static bool take_reference(struct reader *reader, enum kind own, const struct key *key, int64_t n, char *field)
{
    bool later = key->target == own;
    size_t index = later ? (size_t)n : index_of(&reader->rows[key->target], n);
    memcpy(field, &index, sizeof index);
    return index != NO_INDEX && n >= 0;
}

static size_t field_size(enum key_type type)
{
    switch (type) {
    case KEY_WINDOWS:
        return sizeof(struct window_list);
    case KEY_WIRE:
        return sizeof(struct wire);
    case KEY_PROTECTIVE:
        return sizeof(struct protective);
    case KEY_POSITION:
        return sizeof(struct position_list);
    case KEY_BLOCKS:
        return sizeof(struct block_list);
    case KEY_DECIMAL:
        return sizeof(const char *);
    default: /* KEY_LEGS, KEY_PROTECTION */
        return sizeof(unsigned);
    }
}

static size_t kept_place(const char *bytes, size_t length)
{
    uint32_t hash = 2166136261U; /* FNV-1a */
    for (size_t i = 0; i < length; i++) {
        hash = (hash ^ (unsigned char)bytes[i]) * 16777619U;
    }
    return (hash ^ hash >> 16) % KEPT;
}

/* What values.h reads, none of which holds on to the text. */
static bool take_written(struct reader *reader, const struct key *key, sqlite3_value *value, char *row)
{
    size_t length = (size_t)sqlite3_value_bytes(value);
    const char *bytes = sqlite3_value_blob(value);
    if (length > TEXT_BYTES_MOST) {
        text_printf(&reader->fault, "%zu bytes, more than a house file holds in a line", length);
        return NULL;
    }
    if (length == 0 || bytes == NULL || memchr(bytes, '\0', length) != NULL) {
        return false;
    }
    struct kept *kept = &reader->kept[kept_place(bytes, length)];
    char *field = row + key->offset;
    size_t size = field_size(key->type);
    if (kept->key == key && kept->text.length == length && memcmp(kept->text.bytes, bytes, length) == 0) {
        memcpy(field, &kept->value, size);
        return true;
    }
    kept->key = NULL;
    text_clear(&kept->text);
    text_add_length(&kept->text, bytes, length);
    if (!is_printable(kept->text.bytes, length) ||
        !value_read(key, kept->text.bytes, reader->house, row, &reader->fault)) {
        return false;
    }
    kept->key = key;
    memcpy(&kept->value, field, size);
    return true;
}

static bool take_currency(struct reader *reader, sqlite3_value *value, char *field)
{
    const char *code = take_string(reader, value);
    memcpy(field, &code, sizeof code);
    return code != NULL && reference_currency(code) != NULL;
}

/* The type that the column of a key has in the file. */
static int column_type(enum key_type type)
{
    switch (type) {
    case KEY_QUANTITY:
    case KEY_RATIO:
    case KEY_HORSEPOWER:
        return SQLITE_FLOAT;
    case KEY_WHOLE:
    case KEY_DAYS:
    case KEY_MONTHS:
    case KEY_REFERENCE:
        return SQLITE_INTEGER;
    default:
        return SQLITE_TEXT;
    }
}

bool take_column(struct reader *reader, const struct section *section, const struct key *key, int type,
                 sqlite3_value *value, char *row)
{
    char *field = row + key->offset;
    if (type != column_type(key->type)) {
        return false;
    }
    switch (key->type) {
    case KEY_QUANTITY:
    case KEY_RATIO:
    case KEY_HORSEPOWER:
        return take_amount(key, sqlite3_value_double(value), field);
    case KEY_WHOLE:
    case KEY_DAYS:
    case KEY_MONTHS:
        return take_whole(key, sqlite3_value_int64(value), field);
    case KEY_REFERENCE:
        return take_reference(reader, section->kind, key, sqlite3_value_int64(value), field);
    case KEY_TEXT:
        return take_text(reader, value, field);
    case KEY_CHOICE:
        return take_choice(key, value, field);
    case KEY_CURRENCY:
        return take_currency(reader, value, field);
    default:
        return take_written(reader, key, value, row);
    }
}
