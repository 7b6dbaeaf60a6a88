#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "ampsum/values.h"
#include "internal.h"

void columns_list(const struct section *section, struct text *sql)
{
    text_add(sql, section->takes_id ? "n, id" : "n");
    for (size_t i = 0; i < section->key_count; i++) {
        if (section->keys[i].column != NULL) {
            text_add(sql, ", \"");
            text_add(sql, section->keys[i].column);
            text_add(sql, "\"");
        }
    }
}

int columns_before_keys(const struct section *section)
{
    return section->takes_id ? 2 : 1;
}

void row_numbers_done(struct row_numbers *numbers)
{
    for (int kind = 0; kind < KIND_COUNT; kind++) {
        free(numbers->n[kind]);
        numbers->n[kind] = NULL;
    }
}

static void cell_text(struct cell *cell, const char *text)
{
    cell->type = text == NULL ? SQLITE_NULL : SQLITE_TEXT;
    cell->text = text;
}

static void cell_integer(struct cell *cell, int64_t integer)
{
    cell->type = SQLITE_INTEGER;
    cell->integer = integer;
}

void cell_fill(struct cell *cell, const struct house *house, const struct row_numbers *numbers,
               const struct section *section, const struct key *key, const void *row)
{
    cell->type = SQLITE_NULL;
    if (!key_is_given(section, key, row)) {
        return;
    }
    const char *field = (const char *)row + key->offset;
    int whole = 0;
    size_t index = NO_INDEX;
    const char *string = NULL;
    switch (key->type) {
    case KEY_TEXT:
    case KEY_DECIMAL:
    case KEY_CURRENCY:
        memcpy(&string, field, sizeof string);
        cell_text(cell, string);
        break;
    case KEY_QUANTITY:
    case KEY_RATIO:
    case KEY_HORSEPOWER:
        memcpy(&cell->real, field, sizeof cell->real);
        cell->type = isnan(cell->real) ? SQLITE_NULL : SQLITE_FLOAT;
        break;
    case KEY_CHOICE:
        memcpy(&whole, field, sizeof whole);
        cell_text(cell, key_choice_word(key, whole));
        break;
    case KEY_WHOLE:
    case KEY_DAYS:
    case KEY_MONTHS:
        memcpy(&whole, field, sizeof whole);
        cell_integer(cell, whole);
        break;
    case KEY_REFERENCE:
        memcpy(&index, field, sizeof index);
        if (index != NO_INDEX) {
            cell_integer(cell, numbers->n[key->target][index]);
        }
        break;
    case KEY_WINDOWS:
    case KEY_WIRE:
    case KEY_PROTECTIVE:
    case KEY_POSITION:
    case KEY_LEGS:
    case KEY_PROTECTION:
    case KEY_BLOCKS:
        text_clear(&cell->written);
        value_write(key, house, row, &cell->written);
        cell_text(cell, text_string(&cell->written));
        break;
    case KEY_REFERENCE_LIST:
    case KEY_SCENE:
        break; /* a child table */
    }
}

bool cell_equal(const struct cell *a, const struct cell *b)
{
    if (a->type != b->type) {
        return false;
    }
    switch (a->type) {
    case SQLITE_INTEGER:
        return a->integer == b->integer;
    case SQLITE_FLOAT:
        return a->real == b->real;
    case SQLITE_TEXT:
        return strcmp(a->text, b->text) == 0;
    default:
        return true;
    }
}

int cell_bind(const struct cell *cell, sqlite3_stmt *statement, int index)
{
    switch (cell->type) {
    case SQLITE_INTEGER:
        return sqlite3_bind_int64(statement, index, cell->integer);
    case SQLITE_FLOAT:
        return sqlite3_bind_double(statement, index, cell->real);
    case SQLITE_TEXT:
        /* Valid until the statement has run: in the row, or in the cell, which the next column may write over. */
        return sqlite3_bind_text(statement, index, cell->text, -1,
                                 cell->text == cell->written.bytes ? SQLITE_TRANSIENT : SQLITE_STATIC);
    default:
        return sqlite3_bind_null(statement, index);
    }
}
