#include "ampsum/table.h"

#include <csv.h>
#include <libsmartcols.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "ampsum/arena.h"
#include "ampsum/words.h"

struct column {
    const char *heading;
    const char *name;
    enum table_align align;
    size_t wrap_columns;
};

struct cell {
    const char *shown; /* for people */
    const char *plain; /* for CSV, where it differs; NULL: the same */
    bool is_text;
};

struct table {
    struct arena *arena;
    struct column *columns;
    size_t column_count;
    size_t column_capacity;
    struct cell *cells; /* row after row */
    size_t cell_count;
    size_t cell_capacity;
    size_t row_count;
};

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
    cell_add(table, string, NULL, true);
}

void table_number(struct table *table, double value, int decimals)
{
    if (!isfinite(value)) {
        cell_add(table, "-", "", false);
        return;
    }
    struct text shown = {0};
    struct text plain = {0};
    text_add_fixed(&shown, value, decimals);
    text_add_number(&plain, value);
    cell_add(table, text_string(&shown), text_string(&plain), false);
    text_done(&shown);
    text_done(&plain);
}

size_t table_count(const struct table *table)
{
    return table->row_count;
}

/* The cell of a row and column; an empty one where the row is short. */
static const struct cell *table_cell(const struct table *table, size_t row, size_t column)
{
    static const struct cell empty = {"", NULL, true};
    size_t index = row * table->column_count + column;
    return index < table->cell_count ? &table->cells[index] : &empty;
}

/* Breaks at blanks into lines of at most `columns`; a longer word keeps its line to itself. */
static void wrap_words(struct text *text, const char *string, size_t columns)
{
    size_t used = 0;
    const char *at = string;
    while (*at != '\0') {
        size_t blanks = strspn(at, " ");
        size_t length = strcspn(at + blanks, " ");
        struct text word = {0};
        text_add_length(&word, at + blanks, length);
        size_t width = words_columns(text_string(&word));
        if (used > 0 && used + 1 + width > columns) {
            text_add_char(text, '\n');
            used = 0;
        } else if (used > 0) {
            text_add_char(text, ' ');
            used++;
        }
        text_add(text, text_string(&word));
        used += width;
        text_done(&word);
        at += blanks + length;
    }
}

static void need(int result)
{
    if (result != 0) {
        memory_fail();
    }
}

static struct libscols_column *add_column(struct libscols_table *scols, const struct column *column)
{
    int flags = column->align == TABLE_RIGHT ? SCOLS_FL_RIGHT : 0;
    if (column->wrap_columns > 0) {
        flags |= SCOLS_FL_WRAP;
    }
    struct libscols_column *made = scols_table_new_column(scols, column->heading, 0, flags);
    if (made == NULL) {
        memory_fail();
    }
    if (column->wrap_columns > 0) {
        need(scols_column_set_wrapfunc(made, scols_wrapnl_chunksize, scols_wrapnl_nextchunk, NULL));
        need(scols_column_set_safechars(made, "\n"));
    }
    return made;
}

static void fill_rows(const struct table *table, struct libscols_table *scols)
{
    struct text wrapped = {0};
    for (size_t row = 0; row < table->row_count; row++) {
        struct libscols_line *line = scols_table_new_line(scols, NULL);
        if (line == NULL) {
            memory_fail();
        }
        size_t shown_column = 0;
        for (size_t i = 0; i < table->column_count; i++) {
            if (table->columns[i].heading == NULL) {
                continue;
            }
            const char *shown = table_cell(table, row, i)->shown;
            text_clear(&wrapped);
            if (table->columns[i].wrap_columns > 0) {
                wrap_words(&wrapped, shown, table->columns[i].wrap_columns);
                shown = text_string(&wrapped);
            }
            need(scols_line_set_data(line, shown_column++, shown));
        }
    }
    text_done(&wrapped);
}

void table_write_terminal(const struct table *table, size_t width, bool utf8, struct text *text)
{
    if (table->row_count == 0) {
        return;
    }
    struct libscols_table *scols = scols_new_table();
    if (scols == NULL) {
        memory_fail();
    }
    scols_table_enable_ascii(scols, utf8 ? 0 : 1);
    scols_table_enable_minout(scols, 1);
    scols_table_set_termforce(scols, SCOLS_TERMFORCE_ALWAYS);
    scols_table_set_termwidth(scols, width);
    for (size_t i = 0; i < table->column_count; i++) {
        if (table->columns[i].heading != NULL) {
            add_column(scols, &table->columns[i]);
        }
    }
    fill_rows(table, scols);
    char *printed = NULL;
    need(scols_print_table_to_string(scols, &printed));
    text_add(text, printed);
    free(printed);
    scols_unref_table(scols);
    if (text->length > 0 && text->bytes[text->length - 1] != '\n') {
        text_add_char(text, '\n');
    }
}

void csv_cell(struct text *text, const char *string)
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
