#include <math.h>
#include <stdio.h>

#include "ampsum/mark.h"
#include "cli.h"

static const char *const examples[] = {"ampsum mark sheets sheets/answers.csv",
                                       "ampsum mark sheets sheets/answers.csv --summary --format csv", NULL};

static const struct option_spec options[] = {
    {"summary", '\0', NULL, "the class by question, without each student's answers"},
    {"students", '\0', NULL, "each student's points alone"},
    {"answers", '\0', NULL, "every answer with its judgement (what --format csv gives without a choice)"},
    {NULL, '\0', NULL, NULL},
};

static const char *const details[] = {
    "Each answer: 2 points for the value, 1 for the unit, 1 for the significant figures; yes or no: 2.",
    "An answer that follows rightly from the student's own earlier wrong one keeps its points (carried forward).",
    "A number without a unit is taken in the unit that the sheet names beside the answer, and keeps the unit's point.",
    "Figures: as many as the sheet asks for. An exact value may stand as a fraction or written out, in fewer or more "
    "figures, but not with zeros beyond those asked for: 15 and 15.0 keep the point, 15.0000 does not.",
    "The key is worked out anew; key.txt is never read. Answer files are never changed.",
    NULL};

static struct table *students_table(const struct marks *marks)
{
    struct table *table = table_new();
    table_column(table, "STUDENT", "student", TABLE_RIGHT, 0);
    table_column(table, "POINTS", "points", TABLE_RIGHT, 0);
    table_column(table, "OF", "points_most", TABLE_RIGHT, 0);
    table_column(table, "SHARE %", "share_percent", TABLE_RIGHT, 0);
    for (size_t i = 0; i < marks->student_count; i++) {
        const struct mark_student *student = &marks->students[i];
        table_row(table);
        table_number(table, student->student, 0);
        table_number(table, student->points, 0);
        table_number(table, student->points_most, 0);
        table_number(table, 100.0 * student->points / student->points_most, 1);
    }
    return table;
}

/* For people question and part are one word, `2 a`; CSV keeps them apart. */
static void add_place_columns(struct table *table)
{
    table_column(table, NULL, "question", TABLE_RIGHT, 0);
    table_column(table, NULL, "part", TABLE_LEFT, 0);
    table_column(table, "PART", NULL, TABLE_LEFT, 0);
}

static void add_place(struct table *table, size_t question, const char *part)
{
    struct text place = {0};
    text_printf(&place, "%zu%s%s", question, part[0] == '\0' ? "" : " ", part);
    table_number(table, (double)question, 0);
    table_text(table, part);
    table_text(table, text_string(&place));
    text_done(&place);
}

static struct table *summary_table(const struct marks *marks)
{
    struct table *table = table_new();
    add_place_columns(table);
    table_column(table, "ASKED", "asked", TABLE_LEFT, 30);
    table_column(table, "RIGHT", "right", TABLE_RIGHT, 0);
    table_column(table, "CARRIED", "carried", TABLE_RIGHT, 0);
    table_column(table, "WRONG", "wrong", TABLE_RIGHT, 0);
    table_column(table, "EMPTY", "empty", TABLE_RIGHT, 0);
    table_column(table, "NOT READ", "not_read", TABLE_RIGHT, 0);
    table_column(table, "POINTS %", "points_percent", TABLE_RIGHT, 0);
    table_column(table, "COMMON SLIP", "slip", TABLE_LEFT, 30);
    for (size_t i = 0; i < marks->summary_count; i++) {
        const struct mark_summary *row = &marks->summaries[i];
        table_row(table);
        add_place(table, row->question, row->part);
        table_text(table, row->asked);
        for (int verdict = 0; verdict < MARK_COUNT; verdict++) {
            table_number(table, (double)row->count[verdict], 0);
        }
        table_number(table, 100.0 * (double)row->points / (double)row->points_most, 1);
        struct text slip = {0};
        text_add(&slip, slip_word(row->slip));
        if (row->slip_count > 1) {
            text_printf(&slip, " (%zu)", row->slip_count);
        }
        table_text(table, text_string(&slip));
        text_done(&slip);
    }
    return table;
}

/* The slip and the word on the answer, for people in one column. */
static void add_remark(struct table *table, const struct mark_row *row)
{
    const char *slip = slip_word(row->judgement.slip);
    struct text remark = {0};
    text_printf(&remark, "%s%s%s", slip, slip[0] != '\0' && row->word[0] != '\0' ? "; " : "", row->word);
    table_text(table, slip);
    table_text(table, row->word);
    table_text(table, text_string(&remark));
    text_done(&remark);
}

static void add_points(struct table *table, const struct judgement *judgement)
{
    struct text points = {0};
    text_printf(&points, "%d of %d", judgement->points, judgement->points_most);
    table_number(table, judgement->points, 0);
    table_number(table, judgement->points_most, 0);
    table_text(table, text_string(&points));
    text_done(&points);
}

static struct table *answers_table(const struct marks *marks)
{
    struct table *table = table_new();
    table_column(table, "STUDENT", "student", TABLE_RIGHT, 0);
    add_place_columns(table);
    table_column(table, NULL, "asked", TABLE_LEFT, 0);
    table_column(table, "ANSWER", "answer", TABLE_LEFT, 20);
    table_column(table, "VALUE", "verdict", TABLE_LEFT, 9);
    table_column(table, "UNIT", "unit", TABLE_LEFT, 0);
    table_column(table, "FIGURES", "figures", TABLE_LEFT, 0);
    table_column(table, NULL, "points", TABLE_RIGHT, 0);
    table_column(table, NULL, "points_most", TABLE_RIGHT, 0);
    table_column(table, "POINTS", NULL, TABLE_RIGHT, 0);
    table_column(table, NULL, "slip", TABLE_LEFT, 0);
    table_column(table, NULL, "word", TABLE_LEFT, 0);
    table_column(table, "REMARK", NULL, TABLE_LEFT, 30);
    for (size_t i = 0; i < marks->row_count; i++) {
        const struct mark_row *row = &marks->rows[i];
        const struct judgement *judgement = &row->judgement;
        bool judged = judgement->verdict != MARK_EMPTY && judgement->verdict != MARK_REFUSED;
        table_row(table);
        table_number(table, row->student, 0);
        add_place(table, row->question, row->part);
        table_text(table, row->asked);
        table_text(table, row->answer);
        table_text(table, mark_verdict_word(judgement->verdict));
        table_text(table, !judged ? "" : judgement->unit_right ? "right" : "wrong");
        table_text(table, !judged ? "" : judgement->figures_right ? "right" : "wrong");
        add_points(table, judgement);
        add_remark(table, row);
    }
    return table;
}

static json_t *rows_json(const struct marks *marks, const struct mark_student *student)
{
    json_t *rows = json_array();
    for (size_t i = 0; i < student->row_count; i++) {
        const struct mark_row *row = &marks->rows[student->first_row + i];
        json_t *object = json_object();
        json_object_set_new(object, "question", json_integer((json_int_t)row->question));
        json_object_set_new(object, "part", json_text(row->part));
        json_object_set_new(object, "asked", json_text(row->asked));
        json_object_set_new(object, "answer", json_text(row->answer));
        json_object_set_new(object, "verdict", json_text(mark_verdict_word(row->judgement.verdict)));
        json_object_set_new(object, "unit_right", json_boolean(row->judgement.unit_right));
        json_object_set_new(object, "figures_right", json_boolean(row->judgement.figures_right));
        json_object_set_new(object, "points", json_integer(row->judgement.points));
        json_object_set_new(object, "points_most", json_integer(row->judgement.points_most));
        json_object_set_new(object, "slip",
                            row->judgement.slip == SLIP_NONE ? json_null() : json_text(slip_word(row->judgement.slip)));
        json_object_set_new(object, "word", row->word[0] == '\0' ? json_null() : json_text(row->word));
        json_array_append_new(rows, object);
    }
    return rows;
}

static json_t *students_json(const struct marks *marks)
{
    json_t *students = json_array();
    for (size_t i = 0; i < marks->student_count; i++) {
        json_t *object = json_object();
        json_object_set_new(object, "student", json_integer(marks->students[i].student));
        json_object_set_new(object, "points", json_integer(marks->students[i].points));
        json_object_set_new(object, "points_most", json_integer(marks->students[i].points_most));
        json_object_set_new(object, "answers", rows_json(marks, &marks->students[i]));
        json_array_append_new(students, object);
    }
    return students;
}

static json_t *summary_json(const struct marks *marks)
{
    static const char *const keys[MARK_COUNT] = {"right", "carried", "wrong", "empty", "not_read"};
    json_t *rows = json_array();
    for (size_t i = 0; i < marks->summary_count; i++) {
        const struct mark_summary *row = &marks->summaries[i];
        json_t *object = json_object();
        json_object_set_new(object, "question", json_integer((json_int_t)row->question));
        json_object_set_new(object, "part", json_text(row->part));
        json_object_set_new(object, "asked", json_text(row->asked));
        for (int verdict = 0; verdict < MARK_COUNT; verdict++) {
            json_object_set_new(object, keys[verdict], json_integer((json_int_t)row->count[verdict]));
        }
        json_object_set_new(object, "points", json_integer((json_int_t)row->points));
        json_object_set_new(object, "points_most", json_integer((json_int_t)row->points_most));
        json_object_set_new(object, "slip", row->slip == SLIP_NONE ? json_null() : json_text(slip_word(row->slip)));
        json_object_set_new(object, "slip_count", json_integer((json_int_t)row->slip_count));
        json_array_append_new(rows, object);
    }
    return rows;
}

static void write_json(struct invocation *invocation, const struct marks *marks, bool key_changed)
{
    json_t *json = json_answer("mark", NULL);
    json_t *notices = json_array();
    for (size_t i = 0; i < marks->notice_count; i++) {
        json_t *object = json_object();
        json_object_set_new(object, "file", json_text(marks->notices[i].file));
        json_object_set_new(object, "row",
                            marks->notices[i].row == 0 ? json_null() : json_integer((json_int_t)marks->notices[i].row));
        json_object_set_new(object, "text", json_text(marks->notices[i].word));
        json_array_append_new(notices, object);
    }
    json_object_set_new(json, "key_changed", json_boolean(key_changed));
    json_object_set_new(json, "students", students_json(marks));
    json_object_set_new(json, "summary", summary_json(marks));
    json_object_set_new(json, "notices", notices);
    json_cautions(json, NULL);
    json_write(json, &invocation->out);
}

static void add_notices(const struct marks *marks, const char *folder, bool key_changed, struct text *text)
{
    if (key_changed) {
        text_printf(text, "%s/key.txt: changed or gone since the sheets were written; marking does not use it\n",
                    folder);
    }
    for (size_t i = 0; i < marks->notice_count; i++) {
        const struct mark_notice *notice = &marks->notices[i];
        text_add(text, notice->file);
        if (notice->row > 0) {
            text_printf(text, ":%zu", notice->row);
        }
        text_printf(text, ": %s\n", notice->word);
    }
}

/* What could not be read is told apart from the marks: beneath them for people, on standard error beside CSV. */
static void write_notices(struct invocation *invocation, const struct marks *marks, const char *folder,
                          bool key_changed)
{
    struct text notices = {0};
    add_notices(marks, folder, key_changed, &notices);
    if (invocation->format == FORMAT_CSV) {
        fputs(text_string(&notices), stderr);
    } else if (notices.length > 0) {
        text_printf(&invocation->out, "\nWords on the files\n%s", text_string(&notices));
    }
    text_done(&notices);
}

static void write_table(struct invocation *invocation, struct table *table)
{
    if (invocation->out.length > 0) {
        text_add_char(&invocation->out, '\n');
    }
    invocation_table(invocation, table);
    table_free(table);
}

/* Without a choice: points and class for people, every answer for CSV, which is one table. */
static void write_tables(struct invocation *invocation, const struct marks *marks)
{
    bool summary = option_given(invocation, "summary");
    bool students = option_given(invocation, "students");
    bool answers = option_given(invocation, "answers");
    bool csv = invocation->format == FORMAT_CSV;
    bool none = !summary && !students && !answers;
    if (csv) {
        write_table(invocation, summary    ? summary_table(marks)
                                : students ? students_table(marks)
                                           : answers_table(marks));
        return;
    }
    if (answers) {
        write_table(invocation, answers_table(marks));
    }
    if (students || answers || none) {
        write_table(invocation, students_table(marks));
    }
    if (summary || answers || none) {
        write_table(invocation, summary_table(marks));
    }
}

/* The other half of the answer: each answer after the totals, the totals for a table program after the answers. */
static void write_next(struct invocation *invocation)
{
    struct text line = {0};
    text_add(&line, "ampsum mark");
    for (size_t i = 0; i < invocation->operand_count; i++) {
        text_add_char(&line, ' ');
        add_shell_path(&line, invocation->operands[i]);
    }
    text_add(&line, option_given(invocation, "answers") ? " --format csv" : " --answers");
    const char *const next[] = {text_string(&line), NULL};
    invocation_next(invocation, next);
    text_done(&line);
}

static int run(struct invocation *invocation)
{
    struct lesson_plan plan = {0};
    struct marks marks = {0};
    bool key_changed = false;
    if (!invocation_operands(invocation, 2, SIZE_MAX) ||
        !lesson_read(invocation->operands[0], &plan, &key_changed, &invocation->error)) {
        return 2;
    }
    for (size_t i = 1; i < invocation->operand_count; i++) {
        marks_take_file(&marks, &plan, invocation->operands[i]);
    }
    marks_finish(&marks, &plan);
    if (marks.student_count == 0) {
        struct text notices = {0};
        add_notices(&marks, invocation->operands[0], key_changed, &notices);
        error_set(&invocation->error, ERROR_INPUT, "%smark: no answer could be placed", text_string(&notices));
        text_done(&notices);
    } else if (invocation->format == FORMAT_JSON) {
        write_json(invocation, &marks, key_changed);
    } else {
        write_tables(invocation, &marks);
        write_notices(invocation, &marks, invocation->operands[0], key_changed);
        if (invocation->format == FORMAT_TABLE) {
            write_next(invocation);
        }
    }
    marks_done(&marks);
    lesson_plan_done(&plan);
    return error_is_set(&invocation->error) ? 2 : 0;
}

const struct command command_mark = {
    .name = "mark",
    .operands = "FOLDER ANSWERS.csv ...",
    .summary = "marks the answers to a lesson, with credit carried forward and likely slips",
    .examples = examples,
    .options = options,
    .details = details,
    .rows = true,
    .run = run,
};
