#include "ampsum/table.h"

#include <csv.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "table_cells.h"

struct table *table_new(void)
{
    struct table *table = memory_new(sizeof *table);
    *table = (struct table){.arena = arena_new()};
    return table;
}

void table_free(struct table *table)
{
    if (table != NULL) {
        arena_free(table->arena);
        free(table->columns);
        free(table->cells);
        free(table);
    }
}

void table_column(struct table *table, const char *heading, const char *name, enum table_align align,
                  size_t wrap_columns)
{
    table->columns = memory_grow(table->columns, table->column_count, &table->column_capacity, sizeof *table->columns);
    table->columns[table->column_count++] =
        (struct column){arena_copy(table->arena, heading), arena_copy(table->arena, name), align, wrap_columns};
}

/* Fills the row with empty cells up to its end, so that a short row stays in its columns. */
static void row_finish(struct table *table)
{
    while (table->cell_count < table->row_count * table->column_count) {
        table_text(table, "");
    }
}

void table_row(struct table *table)
{
    row_finish(table);
    table->row_count++;
}

static void cell_add(struct table *table, const char *shown, const char *plain, bool is_text)
{
    table->cells = memory_grow(table->cells, table->cell_count, &table->cell_capacity, sizeof *table->cells);
    table->cells[table->cell_count++] =
        (struct cell){arena_copy(table->arena, shown), arena_copy(table->arena, plain), is_text};
}

void table_text(struct table *table, const char *string)
{
    cell_add(table, string == NULL ? "-" : string, string == NULL ? "" : NULL, string != NULL);
}

void table_shown_number(struct table *table, double value, int decimals)
{
    struct text shown = {0};
    if (isfinite(value)) {
        text_add_fixed(&shown, value, decimals);
    }
    cell_add(table, shown.length > 0 ? text_string(&shown) : "-", NULL, false);
    text_done(&shown);
}

void table_plain_number(struct table *table, double value)
{
    struct text plain = {0};
    if (isfinite(value)) {
        text_add_number(&plain, value);
    }
    cell_add(table, text_string(&plain), NULL, false);
    text_done(&plain);
}

size_t table_count(const struct table *table)
{
    return table->row_count;
}

const struct cell *table_cell(const struct table *table, size_t row, size_t column)
{
    static const struct cell empty = {"", NULL, true};
    size_t index = row * table->column_count + column;
    return index < table->cell_count ? &table->cells[index] : &empty;
}

/* Appends one CSV cell with those rules. */
static void csv_cell(struct text *text, const char *string)
{
    struct text guarded = {0};
    if (string[0] != '\0' && strchr("=+-@\t", string[0]) != NULL) {
        text_add_char(&guarded, '\'');
    }
    text_add(&guarded, string);
    size_t room = 2 * guarded.length + 3;
    char *quoted = memory_new(room);
    size_t length = csv_write(quoted, room, text_string(&guarded), guarded.length);
    text_add_length(text, quoted, length);
    free(quoted);
    text_done(&guarded);
}

/* A plain word or number needs no quotes. */
static bool needs_quotes(const char *string)
{
    return string[0] == '\0' || strpbrk(string, "\",\r\n '") != NULL || strchr("=+-@\t", string[0]) != NULL;
}

static void csv_row(const struct table *table, size_t row, struct text *text)
{
    bool first = true;
    for (size_t i = 0; i < table->column_count; i++) {
        if (table->columns[i].name == NULL) {
            continue;
        }
        const struct cell *cell = table_cell(table, row, i);
        const char *string = cell->plain != NULL ? cell->plain : cell->shown;
        text_add(text, first ? "" : ",");
        first = false;
        if (cell->is_text && needs_quotes(string)) {
            csv_cell(text, string);
        } else {
            text_add(text, string);
        }
    }
    text_add_char(text, '\n');
}

void table_write_csv(const struct table *table, struct text *text)
{
    bool first = true;
    for (size_t i = 0; i < table->column_count; i++) {
        if (table->columns[i].name != NULL) {
            text_printf(text, "%s%s", first ? "" : ",", table->columns[i].name);
            first = false;
        }
    }
    text_add_char(text, '\n');
    for (size_t row = 0; row < table->row_count; row++) {
        csv_row(table, row, text);
    }
}
