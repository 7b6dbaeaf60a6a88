#include "mark_view.h"

void mark_add_span(struct text *text, const struct mark_student *student)
{
    text_printf(text, "%u", student->points);
    if (student->to_decide_points > 0) {
        text_printf(text, " to %u", student->points + student->to_decide_points);
    }
}

struct table *mark_students_table(const struct marks *marks, const struct lesson_plan *plan)
{
    struct table *table = table_new();
    table_column(table, "STUDENT", "student", TABLE_RIGHT, 0);
    table_column(table, plan->names == NULL ? NULL : "NAME", "name", TABLE_LEFT, 24);
    table_column(table, NULL, "sheet", TABLE_LEFT, 0);
    table_column(table, NULL, "points", TABLE_RIGHT, 0);
    table_column(table, "POINTS", NULL, TABLE_RIGHT, 0);
    table_column(table, NULL, "points_possible", TABLE_RIGHT, 0);
    table_column(table, "OF", "points_most", TABLE_RIGHT, 0);
    table_column(table, "TO DECIDE", "to_decide", TABLE_RIGHT, 0);
    table_column(table, "SHARE %", "share_percent", TABLE_RIGHT, 0);
    for (size_t i = 0; i < marks->student_count; i++) {
        const struct mark_student *student = &marks->students[i];
        struct text span = {0};
        mark_add_span(&span, student);
        table_row(table);
        table_number(table, student->student, 0);
        table_text(table, lesson_name(plan, student->student));
        table_text(table, student->sheet);
        table_number(table, student->points, 0);
        table_text(table, text_string(&span));
        table_number(table, student->points + student->to_decide_points, 0);
        table_number(table, student->points_most, 0);
        table_number(table, student->to_decide, 0);
        table_number(table, student->points_most == 0 ? 0 : 100.0 * student->points / student->points_most, 1);
        text_done(&span);
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

struct table *mark_summary_table(const struct marks *marks)
{
    struct table *table = table_new();
    add_place_columns(table);
    table_column(table, "ASKED", "asked", TABLE_LEFT, 30);
    table_column(table, "RIGHT", "right", TABLE_RIGHT, 0);
    table_column(table, "CARRIED", "carried", TABLE_RIGHT, 0);
    table_column(table, "WRONG", "wrong", TABLE_RIGHT, 0);
    table_column(table, "EMPTY", "empty", TABLE_RIGHT, 0);
    table_column(table, "TO DECIDE", "decide", TABLE_RIGHT, 0);
    table_column(table, "POINTS %", "points_percent", TABLE_RIGHT, 0);
    table_column(table, "COMMON SLIP", "slip", TABLE_LEFT, 30);
    table_column(table, NULL, "slip_count", TABLE_RIGHT, 0);
    for (size_t i = 0; i < marks->summary_count; i++) {
        const struct mark_summary *row = &marks->summaries[i];
        table_row(table);
        add_place(table, row->question, row->part);
        table_text(table, row->asked);
        for (int verdict = 0; verdict < MARK_COUNT; verdict++) {
            table_number(table, (double)row->count[verdict], 0);
        }
        if (row->points_most == 0) {
            table_text(table, "");
        } else {
            table_number(table, 100.0 * (double)row->points / (double)row->points_most, 1);
        }
        table_text(table, slip_word(row->slip));
        table_number(table, (double)row->slip_count, 0);
    }
    return table;
}

struct table *mark_slips_table(const struct marks *marks)
{
    struct table *table = table_new();
    table_column(table, "STUDENTS", "students", TABLE_RIGHT, 0);
    table_column(table, "SLIP", "slip", TABLE_LEFT, 0);
    table_column(table, "WHAT WAS DONE", "about", TABLE_LEFT, 60);
    for (size_t i = 0; i < marks->slip_count; i++) {
        table_row(table);
        table_number(table, (double)marks->slips[i].students, 0);
        table_text(table, slip_word(marks->slips[i].slip));
        table_text(table, slip_about(marks->slips[i].slip));
    }
    return table;
}

static bool was_judged(const struct judgement *judgement)
{
    return judgement->verdict != MARK_EMPTY && judgement->verdict != MARK_DECIDE;
}

static const char *right_word(const struct judgement *judgement, bool right)
{
    return !was_judged(judgement) ? "" : right ? "right" : "wrong";
}

static void answers_columns(struct table *table)
{
    table_column(table, "STUDENT", "student", TABLE_RIGHT, 0);
    table_column(table, NULL, "name", TABLE_LEFT, 0);
    table_column(table, NULL, "sheet", TABLE_LEFT, 0);
    add_place_columns(table);
    table_column(table, NULL, "asked", TABLE_LEFT, 0);
    table_column(table, "WRITTEN", "written", TABLE_LEFT, 16);
    table_column(table, NULL, "read_as", TABLE_LEFT, 0);
    table_column(table, "EXPECTED", "expected", TABLE_LEFT, 12);
    table_column(table, NULL, "exact", TABLE_LEFT, 0);
    table_column(table, NULL, "from_own", TABLE_LEFT, 0);
    table_column(table, "VERDICT", "verdict", TABLE_LEFT, 0);
    table_column(table, NULL, "value", TABLE_LEFT, 0);
    table_column(table, NULL, "unit", TABLE_LEFT, 0);
    table_column(table, NULL, "figures", TABLE_LEFT, 0);
    table_column(table, NULL, "points", TABLE_RIGHT, 0);
    table_column(table, NULL, "points_most", TABLE_RIGHT, 0);
    table_column(table, "POINTS", NULL, TABLE_RIGHT, 0);
    table_column(table, NULL, "slip", TABLE_LEFT, 0);
    table_column(table, "REMARK", "remark", TABLE_LEFT, 34);
    table_column(table, NULL, "decided", TABLE_LEFT, 0);
}

static void answers_row(struct table *table, const struct mark_student *student, const struct mark_row *row,
                        const struct lesson_plan *plan)
{
    const struct judgement *judgement = &row->judgement;
    struct text points = {0};
    text_printf(&points, "%u of %u", judgement->points, judgement->points_most);
    table_row(table);
    table_number(table, row->student, 0);
    table_text(table, lesson_name(plan, row->student));
    table_text(table, student->sheet);
    add_place(table, row->question, row->part);
    table_text(table, row->asked);
    table_text(table, row->answer);
    table_text(table, text_string(&judgement->read_as));
    table_text(table, row->expected);
    table_text(table, row->exact);
    table_text(table, text_string(&judgement->from_own));
    table_text(table, mark_verdict_word(judgement->verdict));
    table_text(table, right_word(judgement, judgement->value_right));
    table_text(table, right_word(judgement, judgement->unit_right));
    table_text(table, right_word(judgement, judgement->figures_right));
    table_number(table, judgement->points, 0);
    table_number(table, judgement->points_most, 0);
    table_text(table, text_string(&points));
    table_text(table, slip_word(judgement->slip));
    table_text(table, text_string(&judgement->remark));
    table_text(table, row->decided);
    text_done(&points);
}

struct table *mark_answers_table(const struct marks *marks, const struct lesson_plan *plan)
{
    struct table *table = table_new();
    answers_columns(table);
    for (size_t i = 0; i < marks->student_count; i++) {
        const struct mark_student *student = &marks->students[i];
        for (size_t k = 0; k < student->row_count; k++) {
            answers_row(table, student, &marks->rows[student->first_row + k], plan);
        }
    }
    return table;
}

static json_t *text_or_null(const char *string)
{
    return string[0] == '\0' ? json_null() : json_text(string);
}

void mark_judgement_json(json_t *object, const struct judgement *judgement)
{
    json_object_set_new(object, "verdict", json_text(mark_verdict_word(judgement->verdict)));
    json_object_set_new(object, "value", json_boolean(judgement->value_right));
    json_object_set_new(object, "unit", json_boolean(judgement->unit_right));
    json_object_set_new(object, "figures", json_boolean(judgement->figures_right));
    json_object_set_new(object, "points", json_integer(judgement->points));
    json_object_set_new(object, "points_most", json_integer(judgement->points_most));
    json_object_set_new(object, "slip", text_or_null(slip_word(judgement->slip)));
    json_object_set_new(object, "remark", text_or_null(text_string(&judgement->remark)));
}

static json_t *row_json(const struct mark_row *row)
{
    json_t *object = json_object();
    json_object_set_new(object, "question", json_integer((json_int_t)row->question));
    json_object_set_new(object, "part", json_text(row->part));
    json_object_set_new(object, "asked", json_text(row->asked));
    json_object_set_new(object, "written", json_text(row->answer));
    json_object_set_new(object, "read_as", text_or_null(text_string(&row->judgement.read_as)));
    json_object_set_new(object, "expected", json_text(row->expected));
    json_object_set_new(object, "exact", text_or_null(row->exact));
    json_object_set_new(object, "from_own", text_or_null(text_string(&row->judgement.from_own)));
    mark_judgement_json(object, &row->judgement);
    json_object_set_new(object, "decided", text_or_null(row->decided));
    return object;
}

static json_t *students_json(const struct marks *marks, const struct lesson_plan *plan)
{
    json_t *students = json_array();
    for (size_t i = 0; i < marks->student_count; i++) {
        const struct mark_student *student = &marks->students[i];
        json_t *object = json_object();
        json_t *rows = json_array();
        for (size_t k = 0; k < student->row_count; k++) {
            json_array_append_new(rows, row_json(&marks->rows[student->first_row + k]));
        }
        json_object_set_new(object, "student", json_integer(student->student));
        json_object_set_new(object, "name", text_or_null(lesson_name(plan, student->student)));
        json_object_set_new(object, "sheet", json_text(student->sheet));
        json_object_set_new(object, "points", json_integer(student->points));
        json_object_set_new(object, "points_possible", json_integer(student->points + student->to_decide_points));
        json_object_set_new(object, "points_most", json_integer(student->points_most));
        json_object_set_new(object, "to_decide", json_integer(student->to_decide));
        json_object_set_new(object, "answers", rows);
        json_array_append_new(students, object);
    }
    return students;
}

static json_t *summary_json(const struct marks *marks)
{
    json_t *rows = json_array();
    for (size_t i = 0; i < marks->summary_count; i++) {
        const struct mark_summary *row = &marks->summaries[i];
        json_t *object = json_object();
        json_object_set_new(object, "question", json_integer((json_int_t)row->question));
        json_object_set_new(object, "part", json_text(row->part));
        json_object_set_new(object, "asked", json_text(row->asked));
        for (int verdict = 0; verdict < MARK_COUNT; verdict++) {
            json_object_set_new(object, mark_verdict_word((enum mark_verdict)verdict),
                                json_integer((json_int_t)row->count[verdict]));
        }
        json_object_set_new(object, "points", json_integer((json_int_t)row->points));
        json_object_set_new(object, "points_most", json_integer((json_int_t)row->points_most));
        json_object_set_new(object, "slip", text_or_null(slip_word(row->slip)));
        json_object_set_new(object, "slip_count", json_integer((json_int_t)row->slip_count));
        json_array_append_new(rows, object);
    }
    return rows;
}

static json_t *slips_json(const struct marks *marks)
{
    json_t *slips = json_array();
    for (size_t i = 0; i < marks->slip_count; i++) {
        json_t *object = json_object();
        json_object_set_new(object, "slip", json_text(slip_word(marks->slips[i].slip)));
        json_object_set_new(object, "students", json_integer((json_int_t)marks->slips[i].students));
        json_array_append_new(slips, object);
    }
    return slips;
}

static json_t *notices_json(const struct marks *marks)
{
    json_t *notices = json_array();
    for (size_t i = 0; i < marks->notice_count; i++) {
        const struct mark_notice *notice = &marks->notices[i];
        json_t *object = json_object();
        json_object_set_new(object, "file", json_text(notice->file));
        json_object_set_new(object, "row", notice->row == 0 ? json_null() : json_integer((json_int_t)notice->row));
        json_object_set_new(object, "text", json_text(notice->word));
        json_array_append_new(notices, object);
    }
    return notices;
}

void mark_json(struct invocation *invocation, const struct marks *marks, const struct lesson_plan *plan,
               bool key_changed)
{
    json_t *json = json_answer("mark", NULL);
    struct text points = {0};
    struct text percent = {0};
    lesson_scheme_show(&plan->scheme, &points);
    lesson_scheme_percent(&plan->scheme, &percent);
    json_object_set_new(json, "key_changed", json_boolean(key_changed));
    json_object_set_new(json, "points", json_text(text_string(&points)));
    json_object_set_new(json, "tolerance_percent", json_real((double)plan->scheme.tolerance_ppm / 10000));
    json_object_set_new(json, "students", students_json(marks, plan));
    json_object_set_new(json, "summary", summary_json(marks));
    json_object_set_new(json, "slips", slips_json(marks));
    json_object_set_new(json, "notices", notices_json(marks));
    json_cautions(json, NULL);
    json_write(json, &invocation->out);
    text_done(&points);
    text_done(&percent);
}
