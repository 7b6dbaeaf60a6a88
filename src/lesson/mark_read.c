/*
 * Answer files: rows of CSV, one part of a question each, or one student each with a column for each part. Each line is
 * parsed on its own, so that an open quote spoils its own line and no other.
 */
#include <assert.h>
#include <inttypes.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

#include "ampsum/arena.h"
#include "ampsum/language.h"
#include "ampsum/words.h"
#include "cells.h"
#include "csv_line.h"
#include "plan.h"
#include "sheet.h"

enum { ANSWER_FILE_BYTES_MOST = 64 * 1024 * 1024, ANSWER_LENGTH_MOST = 500, NOTICES_OF_FILE = 200 };

enum column { COLUMN_STUDENT, COLUMN_QUESTION, COLUMN_PART, COLUMN_ANSWER, COLUMN_SHEET, COLUMN_NAME, COLUMN_COUNT };
static const char *const column_words[COLUMN_COUNT] = {"student", "question", "part", "answer", "sheet", "name"};
static const size_t usual_columns[COLUMN_COUNT] = {0, 1, 2, 5, 6, SIZE_MAX}; /* as answers.csv is written */

/* One file while it is read. */
struct reading {
    struct marks *marks;
    const struct lesson_plan *plan;
    char (*codes)[LESSON_CODE_SIZE]; /* of the sheets, made at the first need; NULL before */
    const char *file;
    size_t row;
    unsigned char separator;
    bool heading_seen;
    bool latin_told;
    bool refused;                /* no row can be placed */
    size_t column[COLUMN_COUNT]; /* where each stands; SIZE_MAX: missing */
    size_t heading_count;
    bool wide;             /* a column for each part */
    struct csv_line parts; /* its headings then, in their columns */
    size_t notices;
    unsigned spoilt_told; /* student whose code was told to be spoilt */
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
        marks_notice(reading->marks, reading->file, reading->row, say_plain(reading->plan->language, "files.more"));
    }
}

/* The sentence of that key, its places filled as `say` fills them. */
__attribute__((sentinel)) static void notice_said(struct reading *reading, const char *key, ...)
{
    struct text text = {0};
    va_list places;
    va_start(places, key);
    say_list(&text, reading->plan->language, key, places);
    va_end(places);
    notice(reading, &text);
    text_done(&text);
}

static void notice_plain(struct reading *reading, const char *key)
{
    notice_said(reading, key, (const char *)NULL);
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

/* The heading of answers.csv, or what it is in a language of the sheets. */
static bool is_heading(const char *cell, const char *word)
{
    struct text key = {0};
    struct text small = {0};
    text_printf(&key, "column.%s", word);
    bool found = same_heading(cell, word);
    for (int language = 1; language < (int)language_count(); language++) {
        text_clear(&small);
        for (const char *c = say_plain(language, text_string(&key)); *c != '\0'; c++) {
            text_add_char(&small, *c >= 'A' && *c <= 'Z' ? (char)(*c - 'A' + 'a') : *c);
        }
        found = found || same_heading(cell, text_string(&small));
    }
    text_done(&key);
    text_done(&small);
    return found;
}

/* True where the line holds the headings; they are noted then. */
static bool take_heading(struct reading *reading, const struct csv_line *line)
{
    size_t found = 0;
    for (size_t column = 0; column < COLUMN_COUNT; column++) {
        reading->column[column] = SIZE_MAX;
        for (size_t i = line->count; i-- > 0;) {
            if (is_heading(line->cell[i], column_words[column])) {
                reading->column[column] = i;
                found++;
            }
        }
    }
    return found > 0;
}

/* "12b": a question and a part. False where the cell is none. */
static bool read_place(const char *cell, size_t *ret_question, const char **ret_part)
{
    const size_t digits = strspn(cell, "0123456789");
    const char *part = cell + digits + strspn(cell + digits, " (");
    if (digits == 0 || digits > 4 || *part == '\0') {
        return false;
    }
    for (const char *c = part; *c != '\0'; c++) {
        if (!((*c >= 'a' && *c <= 'z') || (*c >= 'A' && *c <= 'Z') || *c == ')')) {
            return false;
        }
    }
    *ret_question = strtoul(cell, NULL, 10);
    *ret_part = part;
    return true;
}

static bool is_wide(const struct reading *reading, const struct csv_line *line)
{
    bool found = false;
    size_t question;
    const char *part;
    for (size_t i = 0; i < line->count && reading->column[COLUMN_ANSWER] == SIZE_MAX; i++) {
        found = found || read_place(line->cell[i], &question, &part);
    }
    return found;
}

/* The columns without which no row can be placed. */
static void refuse_without(struct reading *reading, enum column column)
{
    notice_said(reading, "files.no-column", "column", column_words[column], (const char *)NULL);
    reading->refused = true;
}

/* The headings stay with the reading where the file is wide. */
static void use_heading(struct reading *reading, struct csv_line *line, bool *ret_consumed)
{
    reading->heading_seen = true;
    *ret_consumed = take_heading(reading, line);
    reading->wide = is_wide(reading, line);
    *ret_consumed = *ret_consumed || reading->wide;
    reading->heading_count = *ret_consumed ? line->count : COLUMN_COUNT + 1; /* asked and unit too, no name */
    if (!*ret_consumed) {
        memcpy(reading->column, usual_columns, sizeof usual_columns);
        notice_plain(reading, "files.no-headings");
        return;
    }
    if (reading->wide) {
        reading->parts = *line;
        *line = (struct csv_line){0};
        return;
    }
    for (size_t column = 0; column <= COLUMN_ANSWER; column++) {
        const bool by_sheet = column == COLUMN_STUDENT && reading->column[COLUMN_SHEET] != SIZE_MAX;
        if (reading->column[column] == SIZE_MAX && !by_sheet) {
            refuse_without(reading, (enum column)column);
        }
    }
}

static const char *cell_of(const struct reading *reading, const struct csv_line *line, enum column column)
{
    size_t at = reading->column[column];
    return at < line->count ? line->cell[at] : "";
}

/* "3", and 3.0 or 3,0 as a program writes it that took the column for one of measurements. */
static bool whole_number(const char *string, unsigned long least, unsigned long most, unsigned long *ret)
{
    const size_t digits = strspn(string, "0123456789");
    const char *rest = string + digits;
    const size_t zeros = *rest == '.' || *rest == ',' ? strspn(rest + 1, "0") : 0;
    if (digits == 0 || digits > 9 || rest[zeros > 0 ? zeros + 1 : 0] != '\0') {
        return false;
    }
    *ret = strtoul(string, NULL, 10);
    return *ret >= least && *ret <= most;
}

/* A sentence with the bytes of a cell in it, short and printable, and with a number. */
static void notice_cell(struct reading *reading, const char *key, const char *place, const char *cell,
                        const char *number_place, size_t number)
{
    enum { SHOWN = 40 };
    struct text shown = {0};
    struct text figure = {0};
    const size_t length = strlen(cell);
    for (size_t i = 0; i < length && i < SHOWN; i++) {
        text_add_char(&shown, (unsigned char)cell[i] < 32 || cell[i] == 127 ? '?' : cell[i]);
    }
    text_add(&shown, length > SHOWN ? "..." : "");
    text_printf(&figure, "%zu", number);
    notice_said(reading, key, place, text_string(&shown), number_place, text_string(&figure), (const char *)NULL);
    text_done(&shown);
    text_done(&figure);
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

/* The student whose sheet has the code; 0 where none has. */
static unsigned owner_of(struct reading *reading, const char *sheet)
{
    unsigned owner = 0;
    for (unsigned other = 1; other <= reading->plan->students && owner == 0; other++) {
        owner = same_code(reading, sheet, code_of(reading, other)) ? other : 0;
    }
    return owner;
}

/* Told once for a student, not in each of the rows. */
static void notice_spoilt(struct reading *reading, const char *sheet, unsigned student)
{
    if (reading->spoilt_told != student) {
        notice_cell(reading, "files.spoilt", "code", sheet, "student", student);
    }
    reading->spoilt_told = student;
}

/* Whose sheet the code in the row belongs to. */
static bool check_sheet(struct reading *reading, const char *sheet, unsigned student)
{
    if (sheet[0] == '\0' || same_code(reading, sheet, code_of(reading, student))) {
        return true;
    }
    if (is_spoilt(reading, sheet)) {
        notice_spoilt(reading, sheet, student);
        return true;
    }
    const unsigned owner = owner_of(reading, sheet);
    if (owner > 0) {
        struct text name = {0};
        text_printf(&name, "%u", owner);
        notice_cell(reading, "files.other-sheet", "owner", text_string(&name), "student", student);
        text_done(&name);
    } else {
        notice_cell(reading, "files.no-sheet", "code", sheet, "student", student);
    }
    return false;
}

/* The one student of that code, or of that name; 0 where there is none, or more than one. */
static unsigned student_of(struct reading *reading, const char *sheet, const char *name)
{
    unsigned found[2] = {0};
    unsigned count[2] = {0};
    for (unsigned student = 1; student <= reading->plan->students; student++) {
        const bool by_sheet = sheet[0] != '\0' && same_code(reading, sheet, code_of(reading, student));
        const bool by_name = name[0] != '\0' && strcasecmp(name, lesson_name(reading->plan, student)) == 0;
        found[0] = by_sheet ? student : found[0];
        count[0] += by_sheet;
        found[1] = by_name ? student : found[1];
        count[1] += by_name;
    }
    return count[0] == 1 ? found[0] : count[1] == 1 ? found[1] : 0;
}

/* Whose row it is; false, with a notice, where it cannot be told. */
static bool read_student(struct reading *reading, const struct csv_line *line, unsigned *ret_student)
{
    const char *number = cell_of(reading, line, COLUMN_STUDENT);
    const char *sheet = cell_of(reading, line, COLUMN_SHEET);
    unsigned long student = 0;
    if (number[0] == '\0') {
        student = student_of(reading, sheet, cell_of(reading, line, COLUMN_NAME));
    } else if (!whole_number(number, 1, reading->plan->students, &student)) {
        student = 0;
    }
    if (student == 0) {
        notice_cell(reading, "files.no-student", "student", number[0] == '\0' ? sheet : number, "most",
                    reading->plan->students);
        return false;
    }
    *ret_student = (unsigned)student;
    return check_sheet(reading, sheet, *ret_student);
}

static void take_answer(struct reading *reading, unsigned student, size_t question, const char *part,
                        const char *answer)
{
    if (strlen(answer) > ANSWER_LENGTH_MOST) {
        notice_cell(reading, "files.too-long", "answer", answer, "most", ANSWER_LENGTH_MOST);
    } else {
        marks_cell(reading->marks, student, question - 1, part, answer, reading->file, reading->row);
    }
}

static void take_row(struct reading *reading, const struct csv_line *line)
{
    unsigned student;
    unsigned long question;
    const char *part = cell_of(reading, line, COLUMN_PART);
    if (!read_student(reading, line, &student)) {
        return;
    }
    if (!whole_number(cell_of(reading, line, COLUMN_QUESTION), 1, reading->plan->question_count, &question)) {
        notice_cell(reading, "files.no-question", "question", cell_of(reading, line, COLUMN_QUESTION), "most",
                    reading->plan->question_count);
    } else if (part[0] == '\0') {
        notice_plain(reading, "files.no-part");
    } else {
        take_answer(reading, student, question, part, cell_of(reading, line, COLUMN_ANSWER));
    }
}

/* One student's answers in a row. */
static void take_wide_row(struct reading *reading, const struct csv_line *line)
{
    unsigned student;
    if (line->count > reading->parts.count) {
        notice_plain(reading, "files.wide");
        return;
    }
    if (!read_student(reading, line, &student)) {
        return;
    }
    for (size_t i = 0; i < reading->parts.count; i++) {
        size_t question;
        const char *part;
        if (read_place(reading->parts.cell[i], &question, &part) && question >= 1 &&
            question <= reading->plan->question_count) {
            take_answer(reading, student, question, part, i < line->count ? line->cell[i] : "");
        }
    }
}

/*
 * A decimal comma without quotes splits an answer in two and moves what stands behind it: the pieces become one answer
 * again.
 */
static void rejoin_answer(const struct reading *reading, struct csv_line *line)
{
    const size_t at = reading->column[COLUMN_ANSWER];
    assert(at < SIZE_MAX); /* a file without the column is refused at its heading */
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

static void drop_empty_ends(const struct reading *reading, struct csv_line *line)
{
    while (line->count > reading->heading_count && line->cell[line->count - 1][0] == '\0') {
        free(line->cell[--line->count]);
    }
}

/* Rows that a spreadsheet leaves behind the last one: nothing stands in any cell. */
static bool is_blank(const struct csv_line *line)
{
    size_t blank = 0;
    while (blank < line->count && line->cell[blank][0] == '\0') {
        blank++;
    }
    return blank == line->count;
}

static void take_cells(struct reading *reading, struct csv_line *line)
{
    bool consumed = is_blank(line);
    if (consumed) {
        return;
    }
    if (!reading->heading_seen) {
        use_heading(reading, line, &consumed);
    }
    if (!consumed && reading->wide) {
        drop_empty_ends(reading, line);
        take_wide_row(reading, line);
    } else if (!consumed && !reading->refused) {
        drop_empty_ends(reading, line);
        rejoin_answer(reading, line);
        take_row(reading, line);
    }
}

/* The line as UTF-8, told once a file where it was none. */
static void take_letters(struct reading *reading, const char *bytes, size_t length, struct text *text)
{
    if (!csv_line_latin(text, bytes, length)) {
        text_add_length(text, bytes, length);
    } else if (!reading->latin_told) {
        notice_plain(reading, "files.latin");
        reading->latin_told = true;
    }
}

static void take_line(struct reading *reading, const char *bytes, size_t length)
{
    struct csv_line line = {0};
    struct text text = {0};
    reading->row++;
    if (memchr(bytes, '\0', length) != NULL) {
        notice_plain(reading, "files.not-text");
        return;
    }
    if (!reading->heading_seen && csv_line_names_separator(bytes, length)) {
        return;
    }
    take_letters(reading, bytes, length, &text);
    if (!csv_line_read(&line, text_string(&text), text.length, reading->separator)) {
        notice_plain(reading, "files.quote");
    } else if (line.count > 0) {
        take_cells(reading, &line);
    }
    csv_line_done(&line);
    text_done(&text);
}

void marks_take(struct marks *marks, const struct lesson_plan *plan, const char *file, const char *bytes, size_t length)
{
    struct reading reading = {.marks = marks, .plan = plan, .file = file};
    if (length >= 2 && (memcmp(bytes, "\xFF\xFE", 2) == 0 || memcmp(bytes, "\xFE\xFF", 2) == 0)) {
        marks_notice(marks, file, 0, say_plain(plan->language, "files.utf-16"));
        return;
    }
    size_t at = length >= 3 && memcmp(bytes, "\xEF\xBB\xBF", 3) == 0 ? 3 : 0;
    reading.separator = csv_separator(bytes + at, length - at);
    if (reading.separator != ',') {
        marks_notice(marks, file, 1,
                     say_plain(plan->language, reading.separator == ';' ? "files.semicolons" : "files.tabs"));
    }
    while (at < length) {
        const size_t end = csv_line_end(bytes, at, length);
        take_line(&reading, bytes + at, end - at);
        at = csv_line_next(bytes, end, length);
    }
    if (!reading.heading_seen) {
        marks_notice(marks, file, 0, say_plain(plan->language, "files.no-row"));
    }
    free(reading.codes);
    csv_line_done(&reading.parts);
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
