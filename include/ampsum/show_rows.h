/*
 * The rows of an answer, described once: what each column is called on every face, how many decimals it has, and how
 * its value is got from the answer. The writers below walk that description, so that a new column is one row of it:
 *
 *     {SHOW_NAMED("headroom_a", NULL, "Headroom", "A"), .decimals = 1, .faces = SHOW_CSV | SHOW_PRINT, .weight = 16,
 *      RESULT(all.headroom_a)},
 *
 * A file names once where the fields of its rows are, so that a row says no more than which field:
 *
 *     #define POINT(member) SHOW_IN(struct wire_branch, points, struct wire_point, member)
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

enum {
    SHOW_ROWS = SHOW_TERMINAL | SHOW_CSV,
    SHOW_DATA = SHOW_CSV | SHOW_JSON,
    SHOW_COMMAND = SHOW_ROWS | SHOW_JSON, /* all that a command prints */
    SHOW_PRINT = SHOW_PAGE | SHOW_PAPER,
    SHOW_EVERY = SHOW_COMMAND | SHOW_PRINT
};

/* What a column's values are: words, a number in the column's unit, yes or no, or an object or array (JSON alone). */
enum show_kind { SHOW_WORDS, SHOW_FIGURE, SHOW_FLAG, SHOW_PART };

/* One value, as a getter leaves it; it holds until the next. */
struct show_cell {
    const char *words; /* NULL: there is none */
    double figure;     /* NAN: not known */
    bool flag;
    bool none;          /* a flag that is not known: "-", null */
    json_t *part;       /* a reference for the writer; NULL: there is none */
    struct text made;   /* for words that a getter puts together (show_made) */
    const void *answer; /* whose value it is */
};

typedef void show_get(const void *answer, size_t row, struct show_cell *cell);

/* The struct in which a column's field stands for a row. */
typedef const void *show_at(const void *answer, size_t row);

/* Of which type a column's field is; each other one is refused by the compiler. */
enum show_type {
    SHOW_NO_FIELD,
    SHOW_OF_DOUBLE,
    SHOW_OF_SIZE,
    SHOW_OF_UNSIGNED,
    SHOW_OF_INT,
    SHOW_OF_LONG,
    SHOW_OF_BOOL,
    SHOW_OF_STRING,
    SHOW_OF_TEXT
};

#define SHOW_TYPE(to)                                                                                                  \
    _Generic((to), double *: SHOW_OF_DOUBLE, size_t *: SHOW_OF_SIZE, unsigned *: SHOW_OF_UNSIGNED, int *: SHOW_OF_INT, \
        long *: SHOW_OF_LONG, bool *: SHOW_OF_BOOL, char **: SHOW_OF_STRING, const char **: SHOW_OF_STRING,            \
        struct text *: SHOW_OF_TEXT)
#define SHOW_KIND(to)                                                                                                  \
    _Generic((to), bool *: SHOW_FLAG, char **: SHOW_WORDS, const char **: SHOW_WORDS, struct text *: SHOW_WORDS,       \
        default: SHOW_FIGURE)

/* Where a struct has a pointer to that type, and no array of it. */
#define SHOW_POINTER(struct_, member_, to_)                                                                            \
    offsetof(struct_, member_) + 0 * _Generic(&((struct_ *)0)->member_, to_ * * : 1, const to_ ** : 1)

/*
 * A column's field: of the answer itself, or of what `.at` gives; of element `row` of an array that the answer points
 * to (SHOW_IN), which may be the value itself (SHOW_ITEM); of a struct that the answer or this element points to. There
 * is no value where `.at` or that pointer is NULL. SHOW_ELEMENT and SHOW_POINTED say where the struct is, for a part or
 * a SHOW_TAKEN of it.
 */
#define SHOW_ELEMENT(answer_, array_, element_)                                                                        \
    .list = SHOW_POINTER(answer_, array_, element_), .stride = sizeof(element_)
#define SHOW_POINTED(answer_, pointer_, type_) .via = 1 + SHOW_POINTER(answer_, pointer_, type_)
#define SHOW_TO(answer_, pointer_, type_, member_) SHOW_POINTED(answer_, pointer_, type_), SHOW_FIELD(type_, member_)
#define SHOW_FIELD(type_, member_)                                                                                     \
    .kind = SHOW_KIND(&((type_ *)0)->member_), .type = SHOW_TYPE(&((type_ *)0)->member_),                              \
    .field = offsetof(type_, member_)
#define SHOW_IN(answer_, array_, element_, member_)                                                                    \
    SHOW_ELEMENT(answer_, array_, element_), SHOW_FIELD(element_, member_)
#define SHOW_ITEM(answer_, array_, element_)                                                                           \
    SHOW_ELEMENT(answer_, array_, element_), .kind = SHOW_KIND((element_ *)0), .type = SHOW_TYPE((element_ *)0)
#define SHOW_VIA(answer_, array_, element_, pointer_, type_, member_)                                                  \
    SHOW_ELEMENT(answer_, array_, element_), SHOW_TO(element_, pointer_, type_, member_)

/* Element `row` of an array that stands in the struct itself: a number, or a field of a struct. */
#define SHOW_EACH(type_, array_)                                                                                       \
    .kind = SHOW_KIND(((type_ *)0)->array_), .type = SHOW_TYPE(&((type_ *)0)->array_[0]),                              \
    .field = offsetof(type_, array_), .step = sizeof((type_ *)0)->array_[0]
#define SHOW_EACH_IN(type_, array_, element_, member_)                                                                 \
    .kind = SHOW_KIND(&((element_ *)0)->member_), .type = SHOW_TYPE(&((element_ *)0)->member_),                        \
    .field = offsetof(type_, array_) + offsetof(element_, member_), .step = sizeof(element_)

/*
 * A part of JSON with rows of its own: one of them as an object, or an array of them (where these have one column
 * without a key, of its values alone): so many, or as many as a field of the struct says. They are of what `.at`,
 * SHOW_ELEMENT or SHOW_POINTED gives (NULL: the part is null), of the struct that is a field of it (SHOW_WITHIN), or of
 * the answer itself, then of the same row. An object without a key has its keys in the one that it is a part of.
 * SHOW_KEYED: an object whose keys are the rows' first column, with the second for values; no key, no value.
 */
#define SHOW_OBJECT(rows_) .kind = SHOW_PART, .faces = SHOW_JSON, .part = &(rows_)
#define SHOW_ARRAY(rows_, most_) SHOW_OBJECT(rows_), .count = (most_)
#define SHOW_LIST(rows_, type_, count_)                                                                                \
    SHOW_OBJECT(rows_), .count_at = 1 + offsetof(type_, count_) + 0 * sizeof(&((type_ *)0)->count_ == (size_t *)0)
#define SHOW_KEYED(rows_, type_, count_) SHOW_LIST(rows_, type_, count_), .keyed = true
#define SHOW_WITHIN(type_, member_) .field = offsetof(type_, member_)

/* The findings of a list that is a field. JSON: the row of a struct finding; those of a struct finding_list. */
#define SHOW_FINDINGS(type_, list_) SHOW_LIST(show_finding_list_rows, type_, list_.count), SHOW_WITHIN(type_, list_)
extern const struct show_rows show_finding_rows;
extern const struct show_rows show_finding_list_rows;

/* Element `row` of an array of strings that the answer points to. */
#define SHOW_STRINGS(answer_, array_)                                                                                  \
    .list = offsetof(answer_, array_) +                                                                                \
            0 * _Generic(&((answer_ *)0)->array_, const char *** : 1, const char *const ** : 1),                       \
    .stride = sizeof(const char *), .type = SHOW_OF_STRING

/* The rows of a table of columns. */
#define SHOW_ROWS_OF(columns_)                                                                                         \
    {                                                                                                                  \
        (columns_), sizeof(columns_) / sizeof(columns_)[0]                                                             \
    }

/* A field that is shown as something else than itself: a word for an enum, a figure of a struct of its own. */
#define SHOW_TAKEN(type_, member_, take_) SHOW_WITHIN(type_, member_), .take = (take_)

/* Defines such a function for a field of that type: the word that another one, or a macro, has for it. */
#define SHOW_WORD_TAKE(take_, type_, word_)                                                                            \
    void take_(const struct show_column *column, const void *field, struct show_cell *cell)                            \
    {                                                                                                                  \
        (void)column;                                                                                                  \
        cell->words = word_(*(const type_ *)field);                                                                    \
    }

/* What a column is called on every face. */
#define SHOW_NAMED(key_, heading_, title_, unit_)                                                                      \
    .key = (key_), .heading = (heading_), .title = (title_), .unit = (unit_)

struct show_column {
    const char *key;                     /* CSV's heading and JSON's key */
    const char *heading;                 /* on a terminal */
    const char *title;                   /* on page and paper, the unit apart; also where there is no heading */
    int (*language)(const void *answer); /* title is a key of that language's sentences, on a terminal in capitals;
                                            NULL: heading and title are the words themselves */
    void (*head)(const void *answer, struct text *text); /* appends what stands before both: a currency */
    const char *unit;                                    /* behind the title or the value; NULL: none */
    const char *live;        /* page: the name by which live.js finds the value, to repaint it; NULL: it stays */
    bool brief;              /* page: stays in sight where a narrow screen folds the other figures of a row */
    const char *json_before; /* JSON: stands before that key; NULL: in the order of the rows */
    enum show_kind kind;
    bool null_if_empty; /* words that there are not are null in JSON, an empty text in CSV */
    bool keyed;         /* SHOW_KEYED */
    bool right;         /* words that stand at the right on a terminal, as money does; figures always do */
    unsigned faces;     /* SHOW_ bits */
    int decimals;       /* for people; CSV and JSON have full precision */
    double per;         /* a field in finer units is divided by this; 0: not */
    size_t wrap;        /* terminal: columns after which words are broken; 0: never */
    double weight;      /* paper: share of the width */
    bool (*asked)(const void *answer); /* NULL: always there; */
    unsigned asked_on;                 /* which faces go by it, SHOW_ bits; 0: all */
    unsigned known_on;                 /* faces that leave it out where the first row, which there is, has no value */
    show_at *at;                       /* the struct with the field; NULL: the answer itself, or the array's element */
    size_t list;                       /* SHOW_IN, SHOW_VIA: where the answer points to the array; */
    size_t stride;                     /* the size of an element; 0: no array; */
    size_t via;                        /* where the element points to the struct with the field, plus 1; 0: in itself */
    size_t field;                      /* where the field is, and of which type; */
    size_t step;                       /* SHOW_EACH: from one row to the next */
    enum show_type type;
    const struct show_rows *part; /* SHOW_OBJECT; with a number of rows an array: */
    size_t count;                 /* this, or */
    size_t count_at;              /* where it stands, plus 1 */
    /* SHOW_TAKEN: fills the cell from the field; may find out by the column's place of it which field it is. */
    void (*take)(const struct show_column *column, const void *field, struct show_cell *cell);
    show_get *get;                                                  /* NULL: the field as it is */
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

/* Adds rows 0 to count - 1 to a table of that description and face. */
void show_more_rows(struct table *table, const struct show_rows *rows, enum show_face face, const void *answer,
                    size_t count);

/* One row for a terminal as lines of what it is and how much, the values behind so many letters. */
void show_figures_text(const struct show_rows *rows, const void *answer, int letters, struct text *text);

/* A table for a terminal, written out. */
void show_table_text(const struct show_rows *rows, const void *answer, size_t count, const struct page *page,
                     struct text *text);

/* One row as an object; rows 0 to count - 1 as an array of them. */
json_t *show_json(const struct show_rows *rows, const void *answer, size_t row);
json_t *show_json_array(const struct show_rows *rows, const void *answer, size_t count);

/* For SHOW_TAKEN: the word of LEG_ bits, of a rule set; an enum verdict as data have it, and as a sentence says it. */
void show_take_legs(const struct show_column *column, const void *field, struct show_cell *cell);
void show_take_rules(const struct show_column *column, const void *field, struct show_cell *cell);
void show_take_status(const struct show_column *column, const void *field, struct show_cell *cell);
void show_take_said(const struct show_column *column, const void *field, struct show_cell *cell);

/* For SHOW_TAKEN: a string that stands in the struct itself. */
void show_take_letters(const struct show_column *column, const void *field, struct show_cell *cell);

/* Adds the row's keys to an object that has keys already. */
void show_json_into(const struct show_rows *rows, const void *answer, size_t row, json_t *object);

/* A whole answer: what every one begins with (json_answer), the row's keys, and behind them the cautions. */
json_t *show_answer_json(const char *command, const char *house, const struct show_rows *rows, const void *answer,
                         const char *const *cautions);

/* A table of the page, its first column the heading of each row; with a last line where a column has a total. */
void show_html_table(const struct show_rows *rows, const char *caption, const void *answer, size_t count,
                     struct text *html);

/* One row of the page as a list of titles and values. */
void show_html_figures(const struct show_rows *rows, const void *answer, size_t row, struct text *html);

#endif
