/*
 * Rows for people (terminal, libsmartcols) and for programs (CSV, libcsv) from one set of cells.
 */
#ifndef AMPSUM_TABLE_H
#define AMPSUM_TABLE_H

#include <stdbool.h>
#include <stddef.h>

#include "ampsum/text.h"

struct table;

enum table_align { TABLE_LEFT, TABLE_RIGHT };

/* An empty table; table_free frees it. */
struct table *table_new(void);
void table_free(struct table *table);

/*
 * Adds a column. `heading` is what people read, `name` what CSV's first row says (NULL: not in the CSV; heading NULL:
 * in the CSV alone). `wrap_columns` above 0 breaks longer text at blanks into lines of that many columns.
 */
void table_column(struct table *table, const char *heading, const char *name, enum table_align align,
                  size_t wrap_columns);

/* Starts the next row; cells are then given in the order of the columns. */
void table_row(struct table *table);

/* A text, copied; NULL, what there is not: `-` for people, empty in CSV. */
void table_text(struct table *table, const char *string);

/* A number of a table that is written for people: `decimals` places, `-` where NAN; of one that is written as CSV: full
 * precision, empty where NAN. */
void table_shown_number(struct table *table, double value, int decimals);
void table_plain_number(struct table *table, double value);

/* Number of rows. */
size_t table_count(const struct table *table);

/*
 * Appends the table for a terminal of `width` columns; `utf8` false gives plain ASCII lines. No rows: nothing. A table
 * that would pass the width has its headings on two lines, then narrower columns of words (`wrap_columns` above 0).
 * Checked: tests/unit/test_table.c.
 */
void table_write_terminal(const struct table *table, size_t width, bool utf8, struct text *text);

/*
 * Appends the table as CSV with a heading row (RFC 4180, line ends \n). A text cell that a spreadsheet would take for a
 * formula (begins with = + - @ or a tab) gets an apostrophe in front.
 */
void table_write_csv(const struct table *table, struct text *text);

#endif
