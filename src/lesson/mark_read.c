/*
 * Answer files: rows of CSV, one part of a question each. Each line is parsed on its own (no cell of ours holds a line
 * break), so that an open quote spoils its own line and no other.
 */
#include <assert.h>
#include <inttypes.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

#include <csv.h>

#include "ampsum/arena.h"
#include "ampsum/words.h"
#include "cells.h"
#include "plan.h"
#include "sheet.h"

enum { ANSWER_FILE_BYTES_MOST = 64 * 1024 * 1024, ANSWER_LENGTH_MOST = 500, COLUMNS_MOST = 64, NOTICES_OF_FILE = 200 };

enum column { COLUMN_STUDENT, COLUMN_QUESTION, COLUMN_PART, COLUMN_ANSWER, COLUMN_SHEET, COLUMN_COUNT };
static const char *const column_words[COLUMN_COUNT] = {"student", "question", "part", "answer", "sheet"};
static const size_t usual_columns[COLUMN_COUNT] = {0, 1, 2, 5, 6}; /* as answers.csv is written */

/* One line in cells. */
struct line {
    char *cell[COLUMNS_MOST];
    size_t count;
};

/* One file while it is read. */
struct reading {
    struct marks *marks;
    const struct lesson_plan *plan;
    char (*codes)[LESSON_CODE_SIZE]; /* of the sheets, made at the first need; NULL before */
    const char *file;
    size_t row;
    unsigned char separator;
    bool heading_seen;
    bool refused;                /* no row can be placed */
    size_t column[COLUMN_COUNT]; /* where each stands; SIZE_MAX: missing */
    size_t heading_count;
    size_t notices;
};

static char *copy_string(const char *string)
{
    size_t size = strlen(string) + 1;
    char *copy = memory_new(size);
    memcpy(copy, string, size);
    return copy;
}

void marks_notice(struct marks *marks, const char *file, size_t row, const char *word)
{
    marks->notices = memory_grow(marks->notices, marks->notice_count, &marks->notice_capacity, sizeof *marks->notices);
    marks->notices[marks->notice_count++] = (struct mark_notice){copy_string(file), row, copy_string(word)};
}

/* A word on this row. A file that is wrong throughout does not bury the rest. */
static void notice(struct reading *reading, const struct text *word)
{
    reading->notices++;
    if (reading->notices < NOTICES_OF_FILE) {
        marks_notice(reading->marks, reading->file, reading->row, text_string(word));
    } else if (reading->notices == NOTICES_OF_FILE) {
        marks_notice(reading->marks, reading->file, reading->row, "and more rows like these");
    }
}

static void notice_plain(struct reading *reading, const char *word)
{
    struct text text = {0};
    text_add(&text, word);
    notice(reading, &text);
    text_done(&text);
}

static void line_done(struct line *line)
{
    for (size_t i = 0; i < line->count; i++) {
        free(line->cell[i]);
    }
    line->count = 0;
}

static void take_cell(void *cell, size_t length, void *data)
{
    struct line *line = data;
    if (line->count < COLUMNS_MOST) {
        char *copy = memory_new(length + 1);
        memcpy(copy, cell, length);
        copy[length] = '\0';
        line->cell[line->count++] = copy;
    }
}

/* libcsv keeps blanks at the ends of a cell out. Empty rows give no cells. */
static bool parse_line(const char *bytes, size_t length, unsigned char separator, struct line *line)
{
    struct csv_parser parser;
    if (csv_init(&parser, CSV_STRICT | CSV_STRICT_FINI | CSV_APPEND_NULL) != 0) {
        memory_fail();
    }
    csv_set_delim(&parser, separator);
    bool ok = csv_parse(&parser, bytes, length, take_cell, NULL, line) == length;
    ok = ok && csv_fini(&parser, take_cell, NULL, line) == 0;
    csv_free(&parser);
    return ok;
}

static bool is_utf8(const char *bytes, size_t length)
{
    for (size_t i = 0; i < length;) {
        unsigned char c = (unsigned char)bytes[i];
        size_t more = c < 0x80                ? 0
                      : c >= 0xC2 && c < 0xE0 ? 1
                      : c >= 0xE0 && c < 0xF0 ? 2
                      : c >= 0xF0 && c < 0xF5 ? 3
                                              : 9;
        if (more > length - i - 1) {
            return false;
        }
        for (size_t k = 1; k <= more; k++) {
            if (((unsigned char)bytes[i + k] & 0xC0) != 0x80) {
                return false;
            }
        }
        i += more + 1;
    }
    return true;
}

static bool same_heading(const char *cell, const char *word)
{
    size_t i = 0;
    for (; word[i] != '\0'; i++) {
        char c = cell[i] >= 'A' && cell[i] <= 'Z' ? (char)(cell[i] - 'A' + 'a') : cell[i];
        if (c != word[i]) {
            return false;
        }
    }
    return cell[i] == '\0';
}

/* True where the line holds the headings; they are noted then. */
static bool take_heading(struct reading *reading, const struct line *line)
{
    size_t found = 0;
    for (size_t column = 0; column < COLUMN_COUNT; column++) {
        reading->column[column] = SIZE_MAX;
        for (size_t i = line->count; i-- > 0;) {
            if (same_heading(line->cell[i], column_words[column])) {
                reading->column[column] = i;
                found++;
            }
        }
    }
    return found > 0;
}

static void use_heading(struct reading *reading, const struct line *line, bool *ret_consumed)
{
    reading->heading_seen = true;
    *ret_consumed = take_heading(reading, line);
    reading->heading_count = *ret_consumed ? line->count : COLUMN_COUNT + 2; /* asked and unit too */
    if (!*ret_consumed) {
        memcpy(reading->column, usual_columns, sizeof usual_columns);
        notice_plain(reading, "no headings: columns are taken in the order of answers.csv");
        return;
    }
    for (size_t column = 0; column <= COLUMN_ANSWER; column++) {
        if (reading->column[column] == SIZE_MAX) {
            struct text word = {0};
            text_printf(&word, "no column \"%s\": no row of this file can be placed, so that nothing of it is marked",
                        column_words[column]);
            notice(reading, &word);
            reading->refused = true;
            text_done(&word);
        }
    }
}

static const char *cell_of(const struct reading *reading, const struct line *line, enum column column)
{
    size_t at = reading->column[column];
    return at < line->count ? line->cell[at] : "";
}

static bool whole_number(const char *string, unsigned long least, unsigned long most, unsigned long *ret)
{
    size_t digits = strspn(string, "0123456789");
    if (digits == 0 || digits > 9 || string[digits] != '\0') {
        return false;
    }
    *ret = strtoul(string, NULL, 10);
    return *ret >= least && *ret <= most;
}

/* Bytes of a cell in a message: short, printable. */
static void add_quoted(struct text *text, const char *string)
{
    enum { SHOWN = 40 };
    size_t length = strlen(string);
    text_add_char(text, '"');
    for (size_t i = 0; i < length && i < SHOWN; i++) {
        text_add_char(text, (unsigned char)string[i] < 32 || string[i] == 127 ? '?' : string[i]);
    }
    text_add(text, length > SHOWN ? "...\"" : "\"");
}

static const char *code_of(struct reading *reading, unsigned student)
{
    if (reading->codes == NULL) {
        reading->codes = sheet_codes(reading->plan);
    }
    return reading->codes[student - 1];
}

/* A spreadsheet made a number or a date of the code. The first generator's codes are hexadecimal digits themselves. */
static bool is_spoilt(const struct reading *reading, const char *sheet)
{
    bool hexadecimal = strspn(sheet, "0123456789abcdefABCDEF") == strlen(sheet) && strlen(sheet) < LESSON_CODE_SIZE - 1;
    return strpbrk(sheet, "0123456789") != NULL && !(hexadecimal && reading->plan->generator == LESSON_GENERATOR_FIRST);
}

/* Capitals do not matter, nor zeros that a spreadsheet took from the front of a code of digits. */
static bool same_code(const struct reading *reading, const char *sheet, const char *code)
{
    if (reading->plan->generator == LESSON_GENERATOR_FIRST) {
        return sheet[strspn(sheet, "0123456789abcdefABCDEF")] == '\0' &&
               strtoull(sheet, NULL, 16) == strtoull(code, NULL, 16);
    }
    return strcasecmp(sheet, code) == 0;
}

/* Whose sheet the code in the row belongs to. */
static bool check_sheet(struct reading *reading, const char *sheet, unsigned student)
{
    struct text word = {0};
    if (sheet[0] == '\0' || same_code(reading, sheet, code_of(reading, student))) {
        return true;
    }
    bool spoilt = is_spoilt(reading, sheet);
    if (spoilt) {
        text_add(&word, "a spreadsheet made a number or a date of the sheet's code: ");
        add_quoted(&word, sheet);
        text_printf(&word, "; taken as student %u's by the number in the row", student);
    }
    for (unsigned other = 1; other <= reading->plan->students && word.length == 0; other++) {
        if (same_code(reading, sheet, code_of(reading, other))) {
            text_printf(&word, "a wrong student's sheet: its code is student %u's, the row says student %u; not marked",
                        other, student);
        }
    }
    if (word.length == 0) {
        text_add(&word, "the sheet's code ");
        add_quoted(&word, sheet);
        text_add(&word, " belongs to none of these sheets; not marked");
    }
    notice(reading, &word);
    text_done(&word);
    return spoilt;
}

static void take_row(struct reading *reading, const struct line *line)
{
    unsigned long student;
    unsigned long question;
    const char *part = cell_of(reading, line, COLUMN_PART);
    const char *answer = cell_of(reading, line, COLUMN_ANSWER);
    struct text word = {0};
    if (!whole_number(cell_of(reading, line, COLUMN_STUDENT), 1, reading->plan->students, &student)) {
        add_quoted(&word, cell_of(reading, line, COLUMN_STUDENT));
        text_printf(&word, " is no student of this lesson (1 to %u)", reading->plan->students);
    } else if (!whole_number(cell_of(reading, line, COLUMN_QUESTION), 1, reading->plan->question_count, &question)) {
        add_quoted(&word, cell_of(reading, line, COLUMN_QUESTION));
        text_printf(&word, " is no question of this lesson (1 to %zu)", reading->plan->question_count);
    } else if (part[0] == '\0') {
        text_add(&word, "no part: a letter belongs there");
    } else if (strlen(answer) > ANSWER_LENGTH_MOST) {
        text_printf(&word, "an answer of more than %d characters", ANSWER_LENGTH_MOST);
    } else if (check_sheet(reading, cell_of(reading, line, COLUMN_SHEET), (unsigned)student)) {
        marks_cell(reading->marks, (unsigned)student, question - 1, part, answer, reading->file, reading->row);
    }
    if (word.length > 0) {
        notice(reading, &word);
    }
    text_done(&word);
}

/* The separator that stands most often in the first line. */
static unsigned char find_separator(const char *bytes, size_t length)
{
    static const unsigned char separators[] = {',', ';', '\t'};
    size_t most = 0;
    unsigned char best = ',';
    for (size_t i = 0; i < sizeof separators; i++) {
        size_t count = 0;
        for (size_t k = 0; k < length && bytes[k] != '\n' && bytes[k] != '\r'; k++) {
            count += (unsigned char)bytes[k] == separators[i];
        }
        if (count > most) {
            most = count;
            best = separators[i];
        }
    }
    return best;
}

/*
 * A decimal comma without quotes splits an answer in two and moves what stands behind it: the pieces become one answer
 * again, which is then refused with a hint.
 */
static void rejoin_answer(const struct reading *reading, struct line *line)
{
    const size_t at = reading->column[COLUMN_ANSWER];
    assert(at < COLUMNS_MOST); /* a file without the column is refused at its heading */
    while (line->count > reading->heading_count && at + 1 < line->count) {
        struct text joined = {0};
        text_printf(&joined, "%s,%s", line->cell[at], line->cell[at + 1]);
        free(line->cell[at]);
        free(line->cell[at + 1]);
        line->cell[at] = copy_string(text_string(&joined));
        text_done(&joined);
        line->count--;
        memmove(&line->cell[at + 1], &line->cell[at + 2], (line->count - at - 1) * sizeof line->cell[0]);
    }
}

static void drop_empty_ends(const struct reading *reading, struct line *line)
{
    while (line->count > reading->heading_count && line->cell[line->count - 1][0] == '\0') {
        free(line->cell[--line->count]);
    }
}

static void take_line(struct reading *reading, const char *bytes, size_t length)
{
    struct line line = {0};
    reading->row++;
    bool consumed = false;
    if (memchr(bytes, '\0', length) != NULL || !is_utf8(bytes, length)) {
        notice_plain(reading, "not UTF-8 text: save the file as UTF-8");
    } else if (!parse_line(bytes, length, reading->separator, &line)) {
        notice_plain(reading, "a quote that is not closed, or stands inside a cell; the row is left out");
    } else if (line.count > 0) {
        if (!reading->heading_seen) {
            use_heading(reading, &line, &consumed);
        }
        if (!consumed && !reading->refused) {
            drop_empty_ends(reading, &line);
            rejoin_answer(reading, &line);
            take_row(reading, &line);
        }
    }
    line_done(&line);
}

void marks_take(struct marks *marks, const struct lesson_plan *plan, const char *file, const char *bytes, size_t length)
{
    struct reading reading = {.marks = marks, .plan = plan, .file = file};
    if (length >= 2 && (memcmp(bytes, "\xFF\xFE", 2) == 0 || memcmp(bytes, "\xFE\xFF", 2) == 0)) {
        marks_notice(marks, file, 0, "UTF-16 text: save the file as UTF-8; nothing of it is marked");
        return;
    }
    size_t at = length >= 3 && memcmp(bytes, "\xEF\xBB\xBF", 3) == 0 ? 3 : 0;
    reading.separator = find_separator(bytes + at, length - at);
    if (reading.separator != ',') {
        marks_notice(marks, file, 1,
                     reading.separator == ';' ? "columns are separated by semicolons; read as such"
                                              : "columns are separated by tabs; read as such");
    }
    while (at < length) {
        size_t end = at;
        while (end < length && bytes[end] != '\n' && bytes[end] != '\r') {
            end++;
        }
        take_line(&reading, bytes + at, end - at);
        at = end + (end + 1 < length && bytes[end] == '\r' && bytes[end + 1] == '\n' ? 2 : 1);
    }
    if (!reading.heading_seen) {
        marks_notice(marks, file, 0, "empty: no row to mark");
    }
    free(reading.codes);
}

void marks_take_file(struct marks *marks, const struct lesson_plan *plan, const char *path)
{
    struct text bytes = {0};
    struct error error = {0};
    if (read_bytes(path, ANSWER_FILE_BYTES_MOST, &bytes, &error)) {
        marks_take(marks, plan, path, text_string(&bytes), bytes.length);
    } else {
        /* The notice names the file already. */
        marks_notice(marks, path, 0, error_message(&error) + strlen(path) + strlen(": "));
    }
    text_done(&bytes);
    error_done(&error);
}
