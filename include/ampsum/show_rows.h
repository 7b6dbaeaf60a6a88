/*
 * The rows of an answer, described once: what each column is called on every face, how many decimals it has, and how
 * its value is got from the answer. The writers below walk that description, so that a new column is one row of it:
 *
 *     {.key = "headroom_a", .title = "Headroom", .unit = "A", .decimals = 1, .faces = SHOW_CSV | SHOW_PRINT,
 *      .weight = 16, .at = result_at, SHOW_DOUBLE(struct branch_assessment, all.headroom_a)},
 *
 * Checked: tests/unit/test_show_rows.c; tests/golden holds the rows of each command.
 */
#ifndef AMPSUM_SHOW_ROWS_H
#define AMPSUM_SHOW_ROWS_H

#include <jansson.h>
#include <stdbool.h>
#include <stddef.h>

#include "ampsum/show.h"
#include "ampsum/table.h"
#include "ampsum/text.h"

enum show_face { SHOW_TERMINAL = 1, SHOW_CSV = 2, SHOW_JSON = 4, SHOW_PAGE = 8, SHOW_PAPER = 16 };

enum { SHOW_ROWS = SHOW_TERMINAL | SHOW_CSV, SHOW_DATA = SHOW_CSV | SHOW_JSON, SHOW_PRINT = SHOW_PAGE | SHOW_PAPER };

/* What a column's values are: words, a number in the column's unit, yes or no, or an object or array (JSON alone). */
enum show_kind { SHOW_WORDS, SHOW_FIGURE, SHOW_FLAG, SHOW_PART };

/* One value, as a getter leaves it; it holds until the next. */
struct show_cell {
    const char *words; /* NULL: there is none */
    double figure;     /* NAN: not known */
    bool flag;
    json_t *part;     /* a reference for the writer; NULL: there is none */
    struct text made; /* for words that a getter puts together (show_made) */
};

typedef void show_get(const void *answer, size_t row, struct show_cell *cell);

/* The struct in which a column's field stands for a row. */
typedef const void *show_at(const void *answer, size_t row);

/* A column's field, of a type that the compiler checks: `.at = branch_at, SHOW_DOUBLE(struct branch, breaker_a)`. */
#define SHOW_OFFSET(type, member, of) offsetof(type, member) + 0 * sizeof(char[_Generic(((type *)0)->member, of)])
#define SHOW_DOUBLE(type, member) .kind = SHOW_FIGURE, .field = SHOW_OFFSET(type, member, double : 1)
#define SHOW_BOOL(type, member) .kind = SHOW_FLAG, .field = SHOW_OFFSET(type, member, bool : 1)
#define SHOW_STRING(type, member)                                                                                      \
    .kind = SHOW_WORDS,                                                                                                \
    .field = offsetof(type, member) + 0 * sizeof(char[_Generic(((type *)0)->member, char * : 1, const char * : 1)])

struct show_column {
    const char *key;     /* CSV's heading and JSON's key */
    const char *heading; /* on a terminal */
    const char *title;   /* on page and paper, the unit apart; also where there is no heading */
    void (*head)(const void *answer, struct text *text); /* appends what stands before both: a currency */
    const char *unit;                                    /* behind the title or the value; NULL: none */
    const char *live;        /* page: the name by which live.js finds the value, to repaint it; NULL: it stays */
    bool brief;              /* page: stays in sight where a narrow screen folds the other figures of a row */
    const char *json_before; /* JSON: stands before that key; NULL: in the order of the rows */
    enum show_kind kind;
    bool null_if_empty; /* JSON: words without a letter are null; CSV keeps them */
    bool right;         /* words that stand at the right on a terminal, as money does; figures always do */
    unsigned faces;     /* SHOW_ bits */
    int decimals;       /* for people; CSV and JSON have full precision */
    size_t wrap;        /* terminal: columns after which words are broken; 0: never */
    double weight;      /* paper: share of the width */
    bool (*asked)(const void *answer); /* NULL: always there */
    show_at *at;                       /* the struct with the field; NULL: the answer itself */
    size_t field;                      /* SHOW_DOUBLE, SHOW_BOOL, SHOW_STRING */
    show_get *get;                     /* NULL: the field as it is */
    void (*link)(const void *answer, size_t row, struct text *url); /* page: where the value leads; NULL: nowhere */
    void (*total)(const void *answer, struct show_cell *cell); /* page: the last line, over all rows; NULL: empty */
};

struct show_rows {
    const struct show_column *columns; /* constant, at most SHOW_COLUMNS_MOST */
    size_t column_count;
};

enum { SHOW_COLUMNS_MOST = 40 };

/* The column with that key, which there is. */
const struct show_column *show_column_of(const struct show_rows *rows, const char *key);

/* Fills a cell with words put together: the cell's own text, emptied. The words are set by show_made_done. */
struct text *show_made(struct show_cell *cell);
void show_made_done(struct show_cell *cell);

/* Gets a column's value of a row into a cell, which may hold another one's; cell->made is the caller's to free. */
void show_get_cell(const struct show_column *column, const void *answer, size_t row, struct show_cell *cell);

/* That value, as a terminal, a page or paper shows it; "-" where there is none. Appends. */
void show_value(const struct show_column *column, const struct show_cell *cell, struct text *text);

/* Appends what a column is called, with its unit but on a terminal. */
void show_heading(const struct show_column *column, enum show_face face, const void *answer, struct text *text);

/* Which columns a face has of an answer, in its order; the number of them. `ret_columns`: SHOW_COLUMNS_MOST entries. */
size_t show_columns(const struct show_rows *rows, enum show_face face, const void *answer,
                    const struct show_column **ret_columns);

/* Rows 0 to count - 1 for the terminal or for CSV. The caller frees with table_free. */
struct table *show_table(const struct show_rows *rows, enum show_face face, const void *answer, size_t count);

/* The same for a terminal, written out. */
void show_table_text(const struct show_rows *rows, const void *answer, size_t count, const struct page *page,
                     struct text *text);

/* One row as an object; rows 0 to count - 1 as an array of them. */
json_t *show_json(const struct show_rows *rows, const void *answer, size_t row);
json_t *show_json_array(const struct show_rows *rows, const void *answer, size_t count);

/* Adds the row's keys to an object that has keys already. */
void show_json_into(const struct show_rows *rows, const void *answer, size_t row, json_t *object);

/* A table of the page, its first column the heading of each row; with a last line where a column has a total. */
void show_html_table(const struct show_rows *rows, const char *caption, const void *answer, size_t count,
                     struct text *html);

/* One row of the page as a list of titles and values. */
void show_html_figures(const struct show_rows *rows, const void *answer, size_t row, struct text *html);

#endif
