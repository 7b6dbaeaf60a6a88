/* The list of answers that a person decides: decide.csv in the lesson's folder, read, obeyed and added to. */
#include "decide.h"

#include <stdlib.h>
#include <string.h>
#include <strings.h>
#include <unistd.h>

#include "ampsum/arena.h"
#include "csv_line.h"
#include "judge.h"
#include "sheet.h"

static const char decide_name[] = "decide.csv";
static const char heading[] = "sheet,student,name,part,asked,written,why,proposed,expected,decision,points,note";
enum { DECIDE_BYTES_MOST = 16 * 1024 * 1024 };

enum column { COLUMN_SHEET, COLUMN_STUDENT, COLUMN_PART, COLUMN_WRITTEN, COLUMN_DECISION, COLUMN_POINTS, COLUMN_COUNT };
static const char *const column_words[COLUMN_COUNT] = {"sheet", "student", "part", "written", "decision", "points"};

static char *copy_string(const char *string)
{
    size_t size = strlen(string) + 1;
    char *copy = memory_new(size);
    memcpy(copy, string, size);
    return copy;
}

void decisions_done(struct marks *marks)
{
    for (size_t i = 0; i < marks->decision_count; i++) {
        struct mark_decision *row = &marks->decisions[i];
        free(row->sheet);
        free(row->student);
        free(row->part);
        free(row->written);
        free(row->decision);
        free(row->points);
    }
    free(marks->decisions);
}

/* The mark that keeps a spreadsheet from reading a cell as a formula is not the student's. */
static const char *without_mark(const char *cell)
{
    return cell[0] == '\'' ? cell + 1 : cell;
}

static void take_decision(struct marks *marks, const struct csv_line *line, const size_t *columns, size_t row)
{
    const char *cell[COLUMN_COUNT];
    for (size_t i = 0; i < COLUMN_COUNT; i++) {
        cell[i] = columns[i] < line->count ? line->cell[columns[i]] : "";
    }
    marks->decisions =
        memory_grow(marks->decisions, marks->decision_count, &marks->decision_capacity, sizeof *marks->decisions);
    marks->decisions[marks->decision_count++] =
        (struct mark_decision){.sheet = copy_string(cell[COLUMN_SHEET]),
                               .student = copy_string(cell[COLUMN_STUDENT]),
                               .part = copy_string(cell[COLUMN_PART]),
                               .written = copy_string(without_mark(cell[COLUMN_WRITTEN])),
                               .decision = copy_string(cell[COLUMN_DECISION]),
                               .points = copy_string(cell[COLUMN_POINTS]),
                               .row = row};
}

static bool find_columns(const struct csv_line *line, size_t *ret_columns)
{
    size_t found = 0;
    for (size_t i = 0; i < COLUMN_COUNT; i++) {
        ret_columns[i] = SIZE_MAX;
        for (size_t k = 0; k < line->count; k++) {
            if (ret_columns[i] == SIZE_MAX && strcasecmp(line->cell[k], column_words[i]) == 0) {
                ret_columns[i] = k;
                found++;
            }
        }
    }
    return found == COLUMN_COUNT;
}

void marks_take_decisions(struct marks *marks, const char *file, const char *bytes, size_t length)
{
    size_t columns[COLUMN_COUNT];
    bool headed = false;
    size_t row = 0;
    size_t at = length >= 3 && memcmp(bytes, "\xEF\xBB\xBF", 3) == 0 ? 3 : 0;
    marks->decide_separator = (char)csv_separator(bytes + at, length - at);
    while (at < length) {
        struct csv_line line = {0};
        struct text latin = {0};
        size_t end = csv_line_end(bytes, at, length);
        const bool is_latin = csv_line_latin(&latin, bytes + at, end - at);
        row++;
        if (!headed && csv_line_names_separator(bytes + at, end - at)) {
            /* the headings follow */
        } else if (!csv_line_read(&line, is_latin ? text_string(&latin) : bytes + at,
                                  is_latin ? latin.length : end - at, (unsigned char)marks->decide_separator)) {
            marks_notice(marks, file, row, say_plain(marks->language, "files.quote"));
        } else if (line.count > 0 && headed) {
            take_decision(marks, &line, columns, row);
        } else if (line.count > 0) {
            headed = true;
            if (!find_columns(&line, columns)) {
                marks_notice(marks, file, row, say_plain(marks->language, "files.decide-headings"));
                at = length;
            }
        }
        csv_line_done(&line);
        text_done(&latin);
        at = at == length ? at : csv_line_next(bytes, end, length);
    }
}

void marks_take_folder_decisions(struct marks *marks, const char *folder)
{
    struct text path = {0};
    struct text bytes = {0};
    struct error error = {0};
    text_printf(&path, "%s/%s", folder, decide_name);
    if (access(text_string(&path), F_OK) != 0) {
        /* nothing was doubtful yet */
    } else if (read_bytes(text_string(&path), DECIDE_BYTES_MOST, &bytes, &error)) {
        marks_take_decisions(marks, text_string(&path), text_string(&bytes), bytes.length);
    } else {
        marks_notice(marks, text_string(&path), 0, error_message(&error));
    }
    text_done(&path);
    text_done(&bytes);
    error_done(&error);
}

/* "2b", also as (b) of question 2 written 2 b. */
static bool same_part(const char *written, size_t question, const char *part)
{
    struct text bare = {0};
    struct text own = {0};
    text_printf(&own, "%zu%s", question, part);
    for (const char *c = written; *c != '\0'; c++) {
        text_add_length(&bare, c, strchr(" ().", *c) == NULL ? 1 : 0);
    }
    bool same = strcasecmp(text_string(&bare), text_string(&own)) == 0;
    text_done(&bare);
    text_done(&own);
    return same;
}

static bool is_of_student(const struct mark_decision *decision, unsigned student)
{
    return decision->student[0] == '\0' || strtoul(decision->student, NULL, 10) == student;
}

const struct mark_decision *decision_of(struct marks *marks, const char *sheet, unsigned student, size_t question,
                                        const char *part, const char *written)
{
    const struct mark_decision *found = NULL;
    const struct mark_decision *changed = NULL;
    for (size_t i = 0; i < marks->decision_count; i++) {
        const struct mark_decision *row = &marks->decisions[i];
        if (strcasecmp(row->sheet, sheet) != 0 || !is_of_student(row, student) ||
            !same_part(row->part, question, part)) {
            continue;
        }
        if (strcmp(row->written, without_mark(written)) == 0) {
            found = row;
        } else if (row->decision[0] != '\0' || row->points[0] != '\0') {
            changed = row;
        }
    }
    if (found == NULL && changed != NULL) {
        struct text word = {0};
        struct text number = {0};
        struct text place = {0};
        text_printf(&number, "%u", student);
        text_printf(&place, "%zu%s", question, part);
        say(&word, marks->language, "files.decide-changed", "student", text_string(&number), "part",
            text_string(&place), "before", changed->written, "now", written, (const char *)NULL);
        marks_notice(marks, decide_name, changed->row, text_string(&word));
        text_done(&word);
        text_done(&number);
        text_done(&place);
    }
    return found;
}

static bool is_open(const struct mark_decision *decision)
{
    return decision->decision[0] == '\0' && decision->points[0] == '\0';
}

const char *decision_answer(const struct mark_decision *decision, const char *written)
{
    static const char reading[] = "read as ";
    bool other = decision != NULL && strncasecmp(decision->decision, reading, sizeof reading - 1) == 0;
    return other ? decision->decision + sizeof reading - 1 : written;
}

static void set_verdict(struct judgement *judgement, int language, unsigned points)
{
    const unsigned most = judgement->points_most;
    judgement->points = points < most ? points : most;
    judgement->value_right = points > 0;
    judgement->unit_right = judgement->figures_right = judgement->points == most;
    judgement->verdict = points > 0 ? MARK_RIGHT : MARK_WRONG;
    judgement->slip = SLIP_NONE;
    text_clear(&judgement->remark);
    text_add(&judgement->remark, judgement->points == most ? "" : say_plain(language, "remark.by-hand"));
}

/* The points that were written, as a whole number. */
static bool read_points(const struct mark_decision *decision, unsigned long *ret_points)
{
    char *end = decision->points;
    *ret_points = strtoul(decision->points, &end, 10);
    return decision->points[0] >= '0' && decision->points[0] <= '9' && *end == '\0';
}

void notice_too_many_points(struct marks *marks, const struct mark_decision *decision, unsigned student, unsigned most)
{
    unsigned long points;
    if (read_points(decision, &points) && points > most) {
        struct text word = {0};
        struct text number = {0};
        struct text most_points = {0};
        text_printf(&number, "%u", student);
        text_printf(&most_points, "%u", most);
        say(&word, marks->language, "files.decide-many", "student", text_string(&number), "part", decision->part,
            "points", decision->points, "most", text_string(&most_points), (const char *)NULL);
        marks_notice(marks, decide_name, decision->row, text_string(&word));
        text_done(&word);
        text_done(&number);
        text_done(&most_points);
    }
}

bool decision_apply(const struct mark_decision *decision, int language, struct judgement *judgement)
{
    if (decision == NULL || is_open(decision)) {
        return false;
    }
    unsigned long points;
    if (read_points(decision, &points)) {
        set_verdict(judgement, language, points < judgement->points_most ? (unsigned)points : judgement->points_most);
    } else if (strcasecmp(decision->decision, "right") == 0) {
        set_verdict(judgement, language, judgement->points_most);
    } else if (strcasecmp(decision->decision, "wrong") == 0) {
        set_verdict(judgement, language, 0);
    } else {
        return decision_answer(decision, NULL) != NULL; /* read as: judged already */
    }
    return true;
}

void notice_odd_decisions(struct marks *marks)
{
    for (size_t i = 0; i < marks->decision_count; i++) {
        const struct mark_decision *row = &marks->decisions[i];
        struct judgement judgement = {.points_most = 1};
        if (!is_open(row) && !decision_apply(row, LANGUAGE_ENGLISH, &judgement)) {
            struct text word = {0};
            say(&word, marks->language, "files.decide-odd", "decision",
                row->decision[0] != '\0' ? row->decision : row->points, (const char *)NULL);
            marks_notice(marks, decide_name, row->row, text_string(&word));
            text_done(&word);
        }
        judgement_done(&judgement);
    }
}

static bool is_listed(const struct marks *marks, const struct mark_student *student, const struct mark_row *row)
{
    for (size_t i = 0; i < marks->decision_count; i++) {
        const struct mark_decision *decision = &marks->decisions[i];
        if (strcasecmp(decision->sheet, student->sheet) == 0 && is_of_student(decision, student->student) &&
            same_part(decision->part, row->question, row->part) &&
            strcmp(decision->written, without_mark(row->answer)) == 0) {
            return true;
        }
    }
    return false;
}

static void add_cell(struct text *text, const char *string, char separator)
{
    struct text cell = {0};
    lesson_csv_cell(&cell, string);
    bool quote = separator != ',' && strchr(string, separator) != NULL && cell.bytes[0] != '"';
    text_add(text, quote ? "\"" : "");
    text_add(text, text_string(&cell));
    text_add(text, quote ? "\"" : "");
    text_done(&cell);
}

static void add_row(struct text *text, const struct lesson_plan *plan, const struct mark_student *student,
                    const struct mark_row *row, char separator)
{
    struct text proposed = {0};
    struct text number = {0};
    struct text part = {0};
    if (row->judgement.read_as.length > 0) {
        text_printf(&proposed, "read as %s", text_string(&row->judgement.read_as));
    }
    text_printf(&number, "%u", student->student);
    text_printf(&part, "%zu%s", row->question, row->part);
    const char *const cells[] = {student->sheet,
                                 text_string(&number),
                                 lesson_name(plan, student->student),
                                 text_string(&part),
                                 row->asked,
                                 row->answer,
                                 text_string(&row->judgement.remark),
                                 text_string(&proposed),
                                 row->expected,
                                 "",
                                 "",
                                 ""};
    for (size_t i = 0; i < sizeof cells / sizeof cells[0]; i++) {
        if (i > 0) {
            text_add_char(text, separator);
        }
        add_cell(text, cells[i], separator);
    }
    text_add_char(text, '\n');
    text_done(&proposed);
    text_done(&number);
    text_done(&part);
}

bool marks_write_decisions(const struct marks *marks, const struct lesson_plan *plan, const char *folder,
                           size_t *ret_added, struct error *error)
{
    struct text content = {0};
    struct text path = {0};
    bool ok = true;
    char separator = marks->decide_separator == 0 ? ',' : marks->decide_separator;
    *ret_added = 0;
    text_printf(&path, "%s/%s", folder, decide_name);
    if (marks->decide_separator == 0) {
        text_printf(&content, "%s\n", heading);
    } else {
        ok = read_bytes(text_string(&path), DECIDE_BYTES_MOST, &content, error);
        bool ended = content.length == 0 || strchr("\r\n", content.bytes[content.length - 1]) != NULL;
        text_add(&content, ended ? "" : "\n");
    }
    for (size_t i = 0; i < marks->student_count; i++) {
        const struct mark_student *student = &marks->students[i];
        for (size_t k = 0; k < student->row_count; k++) {
            const struct mark_row *row = &marks->rows[student->first_row + k];
            if (row->judgement.verdict == MARK_DECIDE && !is_listed(marks, student, row)) {
                add_row(&content, plan, student, row, separator);
                ++*ret_added;
            }
        }
    }
    ok = ok && (*ret_added == 0 || write_file(folder, decide_name, &content, error));
    text_done(&content);
    text_done(&path);
    return ok;
}
