/*
 * A table for people. Where it would pass the page, its headings take two lines, and then its columns of words are
 * broken narrower: nothing is left out.
 */
#include <libsmartcols.h>
#include <stdlib.h>
#include <string.h>

#include "ampsum/show.h"
#include "ampsum/words.h"
#include "table_cells.h"

enum { NARROWEST_COLUMNS = 8 }; /* a column of words is not broken below this */

/* A column as it is shown. */
struct shown {
    const struct column *column;
    size_t index; /* in the table */
    size_t wrap_columns;
    size_t split;   /* bytes of the heading that stand on the upper line, where headings take two */
    size_t heading; /* columns that the heading takes */
    size_t content; /* columns that the widest cell takes */
    bool narrowest;
};

struct table_layout {
    const struct table *table;
    struct shown *shown;
    size_t count;
    bool stacked; /* headings take two lines */
};

/* Breaks at blanks into lines of at most `columns`; a longer word keeps its line to itself. */
static void wrap_words(struct text *text, const char *string, size_t columns)
{
    size_t used = 0;
    const char *at = string;
    while (*at != '\0') {
        size_t blanks = strspn(at, " ");
        size_t length = strcspn(at + blanks, " ");
        size_t width = words_columns_of(at + blanks, length);
        if (used > 0 && used + 1 + width > columns) {
            text_add_char(text, '\n');
            used = 0;
        } else if (used > 0) {
            text_add_char(text, ' ');
            used++;
        }
        text_add_length(text, at + blanks, length);
        used += width;
        at += blanks + length;
    }
}

/* The widest of the lines. */
static size_t lines_columns(const char *string)
{
    size_t widest = 0;
    while (true) {
        const size_t length = strcspn(string, "\n");
        const size_t columns = words_columns_of(string, length);
        widest = columns > widest ? columns : widest;
        if (string[length] == '\0') {
            return widest;
        }
        string += length + 1;
    }
}

static void measure_content(const struct table *table, struct shown *shown)
{
    struct text wrapped = {0};
    shown->content = 0;
    for (size_t row = 0; row < table->row_count; row++) {
        const char *string = table_cell(table, row, shown->index)->shown;
        if (shown->wrap_columns > 0) {
            text_clear(&wrapped);
            wrap_words(&wrapped, string, shown->wrap_columns);
            string = text_string(&wrapped);
        }
        const size_t columns = lines_columns(string);
        shown->content = columns > shown->content ? columns : shown->content;
    }
    text_done(&wrapped);
}

static size_t shown_columns(const struct shown *shown)
{
    return shown->heading > shown->content ? shown->heading : shown->content;
}

static size_t layout_columns(const struct table_layout *layout)
{
    size_t columns = layout->count > 0 ? layout->count - 1 : 0;
    for (size_t i = 0; i < layout->count; i++) {
        columns += shown_columns(&layout->shown[i]);
    }
    return columns;
}

/* Where the heading is best broken: after a blank or a stroke, the longer part as short as it can be; 0: nowhere. */
static void split_heading(struct shown *shown)
{
    const char *heading = shown->column->heading;
    const size_t length = strlen(heading);
    for (size_t at = 1; at < length; at++) {
        if (heading[at - 1] != ' ' && heading[at - 1] != '/') {
            continue;
        }
        const size_t upper = words_columns_of(heading, heading[at - 1] == ' ' ? at - 1 : at);
        const size_t lower = words_columns_of(heading + at, length - at);
        const size_t longer = upper > lower ? upper : lower;
        if (longer < shown->heading) {
            shown->heading = longer;
            shown->split = at;
        }
    }
}

static void stack_headings(struct table_layout *layout)
{
    for (size_t i = 0; i < layout->count; i++) {
        if (layout->shown[i].heading > layout->shown[i].content) {
            split_heading(&layout->shown[i]);
            layout->stacked = layout->stacked || layout->shown[i].split > 0;
        }
    }
}

/* The widest column of words that can still be broken narrower; NULL where there is none. */
static struct shown *widest_words(const struct table_layout *layout)
{
    struct shown *widest = NULL;
    for (size_t i = 0; i < layout->count; i++) {
        struct shown *shown = &layout->shown[i];
        const bool able = shown->wrap_columns > 0 && !shown->narrowest && shown->content > NARROWEST_COLUMNS &&
                          shown->content > shown->heading;
        if (able && (widest == NULL || shown->content > widest->content)) {
            widest = shown;
        }
    }
    return widest;
}

/* Takes up to `excess` columns off it. A word that is longer than the column keeps it as wide as it was. */
static void narrow(const struct table_layout *layout, struct shown *shown, size_t excess)
{
    const size_t before = shown->content;
    const size_t step = (excess + 1) / 2;
    const size_t most = before - NARROWEST_COLUMNS;
    shown->wrap_columns = before - (step < most ? step : most);
    measure_content(layout->table, shown);
    shown->narrowest = shown->content >= before;
}

static void layout_init(struct table_layout *layout, const struct table *table, size_t width)
{
    *layout = (struct table_layout){.table = table,
                                    .shown = memory_resize(NULL, table->column_count + 1, sizeof *layout->shown)};
    for (size_t i = 0; i < table->column_count; i++) {
        const struct column *column = &table->columns[i];
        if (column->heading != NULL) {
            struct shown *shown = &layout->shown[layout->count++];
            *shown = (struct shown){.column = column, .index = i, .wrap_columns = column->wrap_columns};
            shown->heading = words_columns(column->heading);
            measure_content(table, shown);
        }
    }
    if (layout_columns(layout) > width) {
        stack_headings(layout);
    }
    for (struct shown *widest; layout_columns(layout) > width && (widest = widest_words(layout)) != NULL;) {
        narrow(layout, widest, layout_columns(layout) - width);
    }
}

static void need(int result)
{
    if (result != 0) {
        memory_fail();
    }
}

static void add_column(const struct table_layout *layout, const struct shown *shown, struct libscols_table *scols)
{
    const int wraps = shown->wrap_columns > 0 ? SCOLS_FL_WRAP : 0;
    const int right = shown->column->align == TABLE_RIGHT ? SCOLS_FL_RIGHT : 0;
    struct libscols_column *made =
        scols_table_new_column(scols, layout->stacked ? "" : shown->column->heading, 0, wraps | right);
    if (made == NULL) {
        memory_fail();
    }
    if (wraps != 0) {
        need(scols_column_set_wrapfunc(made, scols_wrapnl_chunksize, scols_wrapnl_nextchunk, NULL));
        need(scols_column_set_safechars(made, "\n"));
    }
}

static struct libscols_line *add_line(struct libscols_table *scols)
{
    struct libscols_line *line = scols_table_new_line(scols, NULL);
    if (line == NULL) {
        memory_fail();
    }
    return line;
}

/* Headings on two lines are rows of their own; a heading of one line stands on the lower. */
static void fill_headings(const struct table_layout *layout, struct libscols_table *scols)
{
    struct libscols_line *upper = add_line(scols);
    struct libscols_line *lower = add_line(scols);
    for (size_t i = 0; i < layout->count; i++) {
        const struct shown *shown = &layout->shown[i];
        const char *heading = shown->column->heading;
        struct text first = {0};
        const bool blank = shown->split > 0 && heading[shown->split - 1] == ' ';
        text_add_length(&first, heading, shown->split - (blank ? 1 : 0));
        need(scols_line_set_data(upper, i, text_string(&first)));
        need(scols_line_set_data(lower, i, heading + shown->split));
        text_done(&first);
    }
}

static void fill_rows(const struct table_layout *layout, struct libscols_table *scols)
{
    struct text wrapped = {0};
    for (size_t row = 0; row < layout->table->row_count; row++) {
        struct libscols_line *line = add_line(scols);
        for (size_t i = 0; i < layout->count; i++) {
            const char *string = table_cell(layout->table, row, layout->shown[i].index)->shown;
            if (layout->shown[i].wrap_columns > 0) {
                text_clear(&wrapped);
                wrap_words(&wrapped, string, layout->shown[i].wrap_columns);
                string = text_string(&wrapped);
            }
            need(scols_line_set_data(line, i, string));
        }
    }
    text_done(&wrapped);
}

/* Without the blanks that fill up the last column. */
static void add_trimmed(struct text *text, const char *printed)
{
    while (*printed != '\0') {
        const size_t length = strcspn(printed, "\n");
        size_t kept = length;
        while (kept > 0 && printed[kept - 1] == ' ') {
            kept--;
        }
        text_add_length(text, printed, kept);
        text_add_char(text, '\n');
        printed += length + (printed[length] == '\n');
    }
}

/* What the terminal can't show, spelled as in the sentences around the table. */
static void write_plain(const struct table *table, size_t width, struct text *text)
{
    struct table *plain = table_new();
    struct text shown = {0};
    for (size_t i = 0; i < table->column_count; i++) {
        const struct column *column = &table->columns[i];
        text_clear(&shown);
        show_plain(column->heading == NULL ? "" : column->heading, &shown);
        table_column(plain, column->heading == NULL ? NULL : text_string(&shown), column->name, column->align,
                     column->wrap_columns);
    }
    for (size_t row = 0; row < table->row_count; row++) {
        table_row(plain);
        for (size_t i = 0; i < table->column_count; i++) {
            text_clear(&shown);
            show_plain(table_cell(table, row, i)->shown, &shown);
            table_text(plain, text_string(&shown));
        }
    }
    table_write_terminal(plain, width, true, text);
    text_done(&shown);
    table_free(plain);
}

void table_write_terminal(const struct table *table, size_t width, bool utf8, struct text *text)
{
    if (!utf8) {
        write_plain(table, width, text);
        return;
    }
    if (table->row_count == 0) {
        return;
    }
    struct table_layout layout;
    layout_init(&layout, table, width);
    struct libscols_table *scols = scols_new_table();
    if (scols == NULL) {
        memory_fail();
    }
    scols_table_enable_ascii(scols, 0);
    scols_table_enable_minout(scols, 1);
    scols_table_enable_noheadings(scols, layout.stacked);
    scols_table_set_termforce(scols, SCOLS_TERMFORCE_ALWAYS);
    scols_table_set_termwidth(scols, width);
    for (size_t i = 0; i < layout.count; i++) {
        add_column(&layout, &layout.shown[i], scols);
    }
    if (layout.stacked) {
        fill_headings(&layout, scols);
    }
    fill_rows(&layout, scols);
    char *printed = NULL;
    need(scols_print_table_to_string(scols, &printed));
    add_trimmed(text, printed);
    free(printed);
    scols_unref_table(scols);
    free(layout.shown);
}
