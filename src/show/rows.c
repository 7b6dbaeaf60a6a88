/* The writers that walk a description of rows: terminal and CSV by a table, JSON, markup. Paper: src/draw/paper_rows.c.
 */
#include "ampsum/show_rows.h"

#include <assert.h>
#include <math.h>
#include <string.h>

#include "ampsum/html.h"
#include "ampsum/language.h"
#include "ampsum/show.h"

const struct show_column *show_column_of(const struct show_rows *rows, const char *key)
{
    size_t i = 0;
    while (strcmp(rows->columns[i].key, key) != 0) {
        i++;
        assert(i < rows->column_count);
    }
    return &rows->columns[i];
}

struct text *show_made(struct show_cell *cell)
{
    text_clear(&cell->made);
    return &cell->made;
}

void show_made_done(struct show_cell *cell)
{
    cell->words = text_string(&cell->made);
}

/* The struct with a column's field for a row; NULL: there is none. */
static const char *struct_of(const struct show_column *column, const void *answer, size_t row)
{
    const char *at = column->at == NULL ? answer : column->at(answer, row);
    if (at != NULL && column->stride > 0) {
        memcpy(&at, at + column->list, sizeof at);
        at += row * column->stride;
    }
    if (at != NULL && column->via > 0) {
        memcpy(&at, at + column->via - 1, sizeof at);
    }
    return at == NULL ? NULL : at + row * column->step;
}

static json_t *value_json(const struct show_column *column, const struct show_cell *cell)
{
    switch (column->kind) {
    case SHOW_FIGURE:
        return json_figure(cell->figure);
    case SHOW_FLAG:
        return cell->none ? json_null() : json_boolean(cell->flag);
    case SHOW_PART:
        return cell->part == NULL ? json_null() : cell->part;
    case SHOW_WORDS:
        break;
    }
    const bool none = column->null_if_empty && cell->words != NULL && cell->words[0] == '\0';
    return json_text(none ? NULL : cell->words);
}

/* An object whose keys are the rows' own. */
static json_t *keyed_json(const struct show_rows *rows, const void *answer, size_t count)
{
    struct show_cell key = {0};
    struct show_cell value = {0};
    json_t *object = json_object();
    for (size_t row = 0; row < count; row++) {
        show_get_cell(&rows->columns[0], answer, row, &key);
        if (key.words != NULL) {
            show_get_cell(&rows->columns[1], answer, row, &value);
            json_object_set_new(object, key.words, value_json(&rows->columns[1], &value));
        }
    }
    text_done(&key.made);
    text_done(&value.made);
    return object;
}

/* The part that has rows of its own; NULL where there is nothing of which they are. */
static json_t *part_of(const struct show_column *column, const void *answer, size_t row)
{
    const char *at = struct_of(column, answer, row);
    if (at == NULL) {
        return NULL;
    }
    const void *of = at + column->field;
    const size_t *count = column->count_at > 0 ? (const void *)(at + column->count_at - 1) : &column->count;
    return column->keyed                          ? keyed_json(column->part, of, *count)
           : column->count_at + column->count > 0 ? show_json_array(column->part, of, *count)
                                                  : show_json(column->part, of, of == answer ? row : 0);
}

void show_get_cell(const struct show_column *column, const void *answer, size_t row, struct show_cell *cell)
{
    *cell = (struct show_cell){.figure = NAN, .made = cell->made, .answer = answer};
    if (column->get != NULL) {
        column->get(answer, row, cell);
        return;
    }
    if (column->part != NULL) {
        cell->part = part_of(column, answer, row);
        return;
    }
    const char *at = struct_of(column, answer, row);
    if (at == NULL) {
        cell->none = true;
        return;
    }
    const void *field = at + column->field;
    if (column->take != NULL) {
        column->take(column, field, cell);
        return;
    }
    switch (column->type) {
    case SHOW_OF_DOUBLE:
        cell->figure = *(const double *)field;
        break;
    case SHOW_OF_SIZE:
        cell->figure = (double)*(const size_t *)field;
        break;
    case SHOW_OF_UNSIGNED:
        cell->figure = *(const unsigned *)field;
        break;
    case SHOW_OF_INT:
        cell->figure = *(const int *)field;
        break;
    case SHOW_OF_LONG:
        cell->figure = (double)*(const long *)field;
        break;
    case SHOW_OF_BOOL:
        cell->flag = *(const bool *)field;
        break;
    case SHOW_OF_STRING:
        cell->words = *(const char *const *)field;
        break;
    case SHOW_OF_TEXT:
        cell->words = text_string(field);
        break;
    case SHOW_NO_FIELD:
        break;
    }
    cell->figure /= column->per > 0 ? column->per : 1;
}

void show_value(const struct show_column *column, const struct show_cell *cell, struct text *text)
{
    if (column->kind == SHOW_FLAG && !cell->none) {
        text_add(text, cell->flag ? "yes" : "no");
    } else if (column->kind == SHOW_FIGURE && isfinite(cell->figure)) {
        text_add_fixed(text, cell->figure, column->decimals);
    } else {
        text_add(text, column->kind == SHOW_FIGURE || cell->words == NULL ? "-" : cell->words);
    }
}

/* A letter of Latin-1 stands in two bytes of UTF-8, whose capital is 0x20 before it. */
static void add_capitals(struct text *text, const char *words)
{
    for (const char *at = words; *at != '\0'; at++) {
        const unsigned char c = (unsigned char)*at;
        const bool behind = at > words && (unsigned char)at[-1] == 0xC3;
        const bool small = behind ? c >= 0xA0 && c <= 0xBE && c != 0xB7 : c >= 'a' && c <= 'z';
        text_add_char(text, small ? (char)(c - 0x20) : *at);
    }
}

/* The heading in the answer's language; the unit stands behind it in capitals too. */
static void add_said(const struct show_column *column, bool terminal, const void *answer, struct text *text)
{
    const char *words = say_plain(column->language(answer), column->title);
    if (terminal) {
        add_capitals(text, words);
        text_printf(text, "%s%s", column->unit == NULL ? "" : " ", column->unit == NULL ? "" : column->unit);
    } else {
        text_add(text, words);
    }
}

void show_heading(const struct show_column *column, enum show_face face, const void *answer, struct text *text)
{
    const bool terminal = face == SHOW_TERMINAL;
    const char *words = terminal && column->heading != NULL ? column->heading : column->title;
    if (column->head != NULL) {
        column->head(answer, text);
        text_add(text, words == NULL ? "" : " ");
    }
    if (column->language != NULL) {
        add_said(column, terminal, answer, text);
    } else {
        text_add(text, words == NULL ? "" : words);
    }
    if (!terminal && column->unit != NULL) {
        text_printf(text, ", %s", column->unit);
    }
}

static size_t place_of(const struct show_column *const *columns, size_t count, const char *key)
{
    size_t place = 0;
    while (place < count && (columns[place]->key == NULL || strcmp(columns[place]->key, key) != 0)) {
        place++;
    }
    return place;
}

static bool is_known(const struct show_column *column, const void *answer)
{
    struct show_cell cell = {0};
    show_get_cell(column, answer, 0, &cell);
    const bool known = column->kind == SHOW_FIGURE ? !isnan(cell.figure) : cell.words != NULL;
    text_done(&cell.made);
    return known;
}

static bool is_left_out(const struct show_column *column, enum show_face face, const void *answer)
{
    const bool goes_by = column->asked_on == 0 || (column->asked_on & face) != 0;
    return (column->asked != NULL && goes_by && !column->asked(answer)) ||
           ((column->known_on & face) != 0 && !is_known(column, answer));
}

size_t show_columns(const struct show_rows *rows, enum show_face face, const void *answer,
                    const struct show_column **ret_columns)
{
    size_t count = 0;
    assert(rows->column_count <= SHOW_COLUMNS_MOST);
    for (int moved = 0; moved < 2; moved++) {
        for (size_t i = 0; i < rows->column_count; i++) {
            const struct show_column *column = &rows->columns[i];
            const bool moves = face == SHOW_JSON && column->json_before != NULL;
            if ((column->faces & face) == 0 || moves != (moved == 1) || is_left_out(column, face, answer)) {
                continue;
            }
            const size_t place = moves ? place_of(ret_columns, count, column->json_before) : count;
            memmove(&ret_columns[place + 1], &ret_columns[place], (count - place) * sizeof(const struct show_column *));
            ret_columns[place] = column;
            count++;
        }
    }
    return count;
}

/* ------------------------------------------------------------------ terminal and CSV ---------------------- */

static void add_cell(const struct show_column *column, const struct show_cell *cell, enum show_face face,
                     struct table *table)
{
    if (column->kind == SHOW_FIGURE && face == SHOW_CSV) {
        table_plain_number(table, cell->figure);
    } else if (column->kind == SHOW_FIGURE) {
        table_shown_number(table, cell->figure, column->decimals);
    } else if (column->kind == SHOW_FLAG) {
        table_text(table, cell->none ? NULL : cell->flag ? "yes" : "no");
    } else {
        const bool empty = face == SHOW_CSV && column->null_if_empty && cell->words == NULL;
        table_text(table, empty ? "" : cell->words);
    }
}

static void add_headings(const struct show_rows *rows, enum show_face face, const void *answer, struct table *table)
{
    const struct show_column *columns[SHOW_COLUMNS_MOST];
    const size_t column_count = show_columns(rows, face, answer, columns);
    struct text heading = {0};
    for (size_t i = 0; i < column_count; i++) {
        const struct show_column *column = columns[i];
        const enum table_align align = column->kind == SHOW_FIGURE || column->right ? TABLE_RIGHT : TABLE_LEFT;
        text_clear(&heading);
        if (face == SHOW_TERMINAL) {
            show_heading(column, face, answer, &heading);
            table_column(table, text_string(&heading), NULL, align, column->wrap);
        } else {
            table_column(table, NULL, column->key, align, column->wrap);
        }
    }
    text_done(&heading);
}

void show_more_rows(struct table *table, const struct show_rows *rows, enum show_face face, const void *answer,
                    size_t count)
{
    const struct show_column *columns[SHOW_COLUMNS_MOST];
    const size_t column_count = show_columns(rows, face, answer, columns);
    struct show_cell cell = {0};
    for (size_t row = 0; row < count; row++) {
        table_row(table);
        for (size_t i = 0; i < column_count; i++) {
            show_get_cell(columns[i], answer, row, &cell);
            add_cell(columns[i], &cell, face, table);
        }
    }
    text_done(&cell.made);
}

struct table *show_table(const struct show_rows *rows, enum show_face face, const void *answer, size_t count)
{
    struct table *table = table_new();
    add_headings(rows, face, answer, table);
    show_more_rows(table, rows, face, answer, count);
    return table;
}

void show_table_text(const struct show_rows *rows, const void *answer, size_t count, const struct page *page,
                     struct text *text)
{
    struct table *table = show_table(rows, SHOW_TERMINAL, answer, count);
    table_write_terminal(table, page->width, page->utf8, text);
    table_free(table);
}

void show_figures_text(const struct show_rows *rows, const void *answer, int letters, struct text *text)
{
    const struct show_column *columns[SHOW_COLUMNS_MOST];
    const size_t count = show_columns(rows, SHOW_TERMINAL, answer, columns);
    struct show_cell cell = {0};
    for (size_t i = 0; i < count; i++) {
        const char *unit = columns[i]->unit == NULL ? "" : columns[i]->unit;
        show_get_cell(columns[i], answer, 0, &cell);
        text_printf(text, "  %-*s ", letters, columns[i]->heading);
        show_value(columns[i], &cell, text);
        text_printf(text, "%s%s\n", unit[0] == '\0' ? "" : " ", unit);
    }
    text_done(&cell.made);
}

/* ------------------------------------------------------------------ JSON ---------------------------------- */

static void row_into(const struct show_column *const *columns, size_t column_count, const void *answer, size_t row,
                     struct show_cell *cell, json_t *object)
{
    for (size_t i = 0; i < column_count; i++) {
        show_get_cell(columns[i], answer, row, cell);
        if (columns[i]->key == NULL) {
            json_object_update_new(object, cell->part == NULL ? show_json(columns[i]->part, NULL, 0) : cell->part);
        } else {
            json_object_set_new(object, columns[i]->key, value_json(columns[i], cell));
        }
    }
}

void show_json_into(const struct show_rows *rows, const void *answer, size_t row, json_t *object)
{
    const struct show_column *columns[SHOW_COLUMNS_MOST];
    const size_t column_count = show_columns(rows, SHOW_JSON, answer, columns);
    struct show_cell cell = {0};
    row_into(columns, column_count, answer, row, &cell, object);
    text_done(&cell.made);
}

json_t *show_json(const struct show_rows *rows, const void *answer, size_t row)
{
    json_t *object = json_object();
    show_json_into(rows, answer, row, object);
    return object;
}

json_t *show_json_array(const struct show_rows *rows, const void *answer, size_t count)
{
    const struct show_column *columns[SHOW_COLUMNS_MOST];
    const size_t column_count = show_columns(rows, SHOW_JSON, answer, columns);
    struct show_cell cell = {0};
    json_t *array = json_array();
    const bool bare = column_count == 1 && columns[0]->key == NULL;
    for (size_t row = 0; row < count; row++) {
        json_t *value = bare ? NULL : json_object();
        if (bare) {
            show_get_cell(columns[0], answer, row, &cell);
            value = value_json(columns[0], &cell);
        } else {
            row_into(columns, column_count, answer, row, &cell, value);
        }
        json_array_append_new(array, value);
    }
    text_done(&cell.made);
    return array;
}

void show_take_letters(const struct show_column *column, const void *field, struct show_cell *cell)
{
    (void)column;
    cell->words = field;
}

SHOW_WORD_TAKE(show_take_legs, unsigned, legs_word)
SHOW_WORD_TAKE(show_take_rules, int, rules_word)
SHOW_WORD_TAKE(show_take_status, enum verdict, verdict_word)
SHOW_WORD_TAKE(show_take_said, enum verdict, show_verdict_said)

json_t *show_answer_json(const char *command, const char *house, const struct show_rows *rows, const void *answer,
                         const char *const *cautions)
{
    json_t *json = json_answer(command, house);
    show_json_into(rows, answer, 0, json);
    json_cautions(json, cautions);
    return json;
}

/* ------------------------------------------------------------------ markup -------------------------------- */

enum { SLIM_MOST = 3 }; /* columns that fit the narrowest page side by side */

static bool is_right(const struct show_column *column)
{
    return column->kind == SHOW_FIGURE || column->right;
}

static void html_heads(const struct show_column *const *columns, size_t count, const void *answer, struct text *html)
{
    struct text heading = {0};
    html_add(html, "<thead><tr>");
    for (size_t i = 0; i < count; i++) {
        text_clear(&heading);
        show_heading(columns[i], SHOW_PAGE, answer, &heading);
        html_add(html, is_right(columns[i]) ? "<th scope=\"col\" class=\"n\">" : "<th scope=\"col\">");
        html_add(html, "%s</th>", text_string(&heading));
    }
    html_add(html, "</tr></thead>");
    text_done(&heading);
}

/* A cell with its value; `heads`: the heading of its row. `url`: where it leads; empty: nowhere. */
static void html_cell(const struct show_column *column, const void *answer, const struct show_cell *cell, bool heads,
                      const struct text *url, struct text *html)
{
    struct text value = {0};
    struct text heading = {0};
    show_value(column, cell, &value);
    if (heads) {
        html_add(html, "<th scope=\"row\">");
    } else {
        show_heading(column, SHOW_PAGE, answer, &heading);
        const bool none = strcmp(text_string(&value), "-") == 0; /* left out where rows stand below one another */
        html_add(html, is_right(column) ? none ? "<td class=\"n none\"" : "<td class=\"n\""
                       : none           ? "<td class=\"none\""
                                        : "<td");
        html_add(html, " data-label=\"%s\">", text_string(&heading));
    }
    if (url->length > 0) {
        html_add(html, "<a href=\"%s\">%s</a>", text_string(url), text_string(&value));
    } else {
        html_add(html, "%s", text_string(&value));
    }
    html_add(html, heads ? "</th>" : "</td>");
    text_done(&heading);
    text_done(&value);
}

static void html_totals(const struct show_column *const *columns, size_t count, const void *answer, struct text *html)
{
    const struct text nowhere = {0};
    struct show_cell cell = {0};
    bool any = false;
    for (size_t i = 0; i < count; i++) {
        any = any || columns[i]->total != NULL;
    }
    html_add(html, any ? "<tfoot><tr>" : "");
    for (size_t i = 0; i < count && any; i++) {
        if (columns[i]->total == NULL) {
            html_add(html, "<td></td>");
            continue;
        }
        columns[i]->total(answer, &cell);
        html_cell(columns[i], answer, &cell, i == 0, &nowhere, html);
    }
    html_add(html, any ? "</tr></tfoot>" : "");
    text_done(&cell.made);
}

void show_html_table(const struct show_rows *rows, const char *caption, const void *answer, size_t count,
                     struct text *html)
{
    const struct show_column *columns[SHOW_COLUMNS_MOST];
    const size_t column_count = show_columns(rows, SHOW_PAGE, answer, columns);
    struct show_cell cell = {0};
    struct text url = {0};
    html_add(html, column_count <= SLIM_MOST ? "<table>" : "<table class=\"stack\">");
    html_add(html, "<caption>%s</caption>", caption);
    html_heads(columns, column_count, answer, html);
    html_add(html, "<tbody>");
    for (size_t row = 0; row < count; row++) {
        html_add(html, "<tr>");
        for (size_t i = 0; i < column_count; i++) {
            show_get_cell(columns[i], answer, row, &cell);
            text_clear(&url);
            if (columns[i]->link != NULL) {
                columns[i]->link(answer, row, &url);
            }
            html_cell(columns[i], answer, &cell, i == 0, &url, html);
        }
        html_add(html, "</tr>");
    }
    html_add(html, "</tbody>");
    html_totals(columns, column_count, answer, html);
    html_add(html, "</table>\n");
    text_done(&url);
    text_done(&cell.made);
}

void show_html_figures(const struct show_rows *rows, const void *answer, size_t row, struct text *html)
{
    const struct show_column *columns[SHOW_COLUMNS_MOST];
    const size_t column_count = show_columns(rows, SHOW_PAGE, answer, columns);
    struct show_cell cell = {0};
    struct text value = {0};
    html_add(html, "<dl class=\"figures\">");
    for (size_t i = 0; i < column_count; i++) {
        const struct show_column *column = columns[i];
        show_get_cell(column, answer, row, &cell);
        text_clear(&value);
        show_value(column, &cell, &value);
        html_add(html, column->brief && column->live != NULL ? "<div class=\"brief live\">"
                       : column->brief                       ? "<div class=\"brief\">"
                                                             : "<div>");
        html_add(html, "<dt>%s</dt><dd>", column->title);
        if (column->live != NULL) {
            html_add(html, "<span data-figure=\"%s\">%s</span>", column->live, text_string(&value));
        } else {
            html_add(html, "%s", text_string(&value));
        }
        html_add(html, "%s%s</dd></div>", column->unit == NULL ? "" : " ", column->unit == NULL ? "" : column->unit);
    }
    html_add(html, "</dl>");
    text_done(&value);
    text_done(&cell.made);
}
