/* A line of CSV on its own: no cell of ours holds a line break, so an open quote spoils its own line and no other. */
#ifndef AMPSUM_LESSON_CSV_LINE_H
#define AMPSUM_LESSON_CSV_LINE_H

#include <stdbool.h>
#include <stddef.h>

#include "ampsum/text.h"

enum { CSV_CELLS_MOST = 20000 };

struct csv_line {
    char **cell;
    size_t count;
    size_t capacity;
};
void csv_line_done(struct csv_line *line);

/* Cells without blanks at their ends; empty rows give none. False where a quote is not closed or stands inside. */
bool csv_line_read(struct csv_line *line, const char *bytes, size_t length, unsigned char separator);

/* The separator that stands most often in the first line: comma, semicolon or tab. */
unsigned char csv_separator(const char *bytes, size_t length);

/*
 * True where the line is no UTF-8: it is appended as UTF-8, read as Windows-1252 (which holds Latin-1), as spreadsheets
 * save "CSV". What each byte is: the Encoding Standard's index windows-1252.
 */
bool csv_line_latin(struct text *text, const char *bytes, size_t length);

/* The line in front of the headings by which a spreadsheet names its separator: sep=; */
bool csv_line_names_separator(const char *bytes, size_t length);

/* Where the line that begins at `at` ends, and where the next one begins. */
size_t csv_line_end(const char *bytes, size_t at, size_t length);
size_t csv_line_next(const char *bytes, size_t end, size_t length);

#endif
