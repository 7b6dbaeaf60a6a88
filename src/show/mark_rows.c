/* The rows of `mark`: students, parts of the class, slips, single answers. */
#include "ampsum/show_mark.h"

enum { EVERYWHERE = SHOW_ROWS | SHOW_JSON, SHOWN = SHOW_TERMINAL | SHOW_PAGE, ALL = EVERYWHERE | SHOW_PAGE };

/* ------------------------------------------------------------------ students ------------------------------ */

static const struct mark_student *student_of(const void *answer, size_t row)
{
    return &((const struct mark_answer *)answer)->marks.students[row];
}

static bool has_names(const void *answer)
{
    return ((const struct mark_answer *)answer)->plan.names != NULL;
}

static void get_name(const void *answer, size_t row, struct show_cell *cell)
{
    cell->words = lesson_name(&((const struct mark_answer *)answer)->plan, student_of(answer, row)->student);
}

/* The class's language. */
static int language_of(const void *answer)
{
    return ((const struct mark_answer *)answer)->plan.language;
}

static int lines_language(const void *answer)
{
    return ((const struct mark_lines *)answer)->language;
}

/* What a column is called: its key among the sentences of [marks]. */
#define SAID(key_) .title = "marks." key_, .language = language_of
#define SAID_OF_LINES(key_) .title = "marks." key_, .language = lines_language

/* Two numbers in the sentence of that key. */
static void set_two(int language, const char *key, const char *place, unsigned first, unsigned second,
                    struct show_cell *cell)
{
    struct text points = {0};
    struct text other = {0};
    text_printf(&points, "%u", first);
    text_printf(&other, "%u", second);
    say(show_made(cell), language, key, "points", text_string(&points), place, text_string(&other), (const char *)NULL);
    show_made_done(cell);
    text_done(&points);
    text_done(&other);
}

/* "38", or "38 to 42" where answers are still to be decided. */
static void get_span(const void *answer, size_t row, struct show_cell *cell)
{
    const struct mark_student *student = student_of(answer, row);
    if (student->to_decide_points > 0) {
        set_two(language_of(answer), "marks.span", "more", student->points, student->points_possible, cell);
        return;
    }
    text_printf(show_made(cell), "%u", student->points);
    show_made_done(cell);
}

static void get_answers(const void *answer, size_t row, struct show_cell *cell)
{
    const struct mark_answer *mark = answer;
    const struct mark_student *student = student_of(answer, row);
    const struct mark_lines own = {mark->lines.line + student->first_row, student->row_count, mark->lines.language,
                                   mark->lines.writing};
    cell->part = show_json_array(&show_marked_rows, &own, own.count);
}

#define STUDENT(member) SHOW_IN(struct mark_answer, marks.students, struct mark_student, member)

static const struct show_column students[] = {
    {.key = "student", SAID("student"), .faces = ALL, STUDENT(student)},
    {.key = "name",
     SAID("name"),
     .faces = ALL,
     .null_if_empty = true,
     .wrap = 24,
     .asked = has_names,
     .asked_on = SHOWN,
     .get = get_name},
    {.key = "sheet",
     SAID("sheet"),
     .faces = SHOW_DATA | SHOW_PAGE,
     SHOW_ELEMENT(struct mark_answer, marks.students, struct mark_student),
     SHOW_TAKEN(struct mark_student, sheet, show_take_letters)},
    {.key = "points", .faces = SHOW_DATA, STUDENT(points)},
    {.key = "span", SAID("points"), .faces = SHOWN, .right = true, .get = get_span},
    {.key = "points_possible", .faces = SHOW_DATA, STUDENT(points_possible)},
    {.key = "points_most", SAID("most"), .faces = ALL, STUDENT(points_most)},
    {.key = "to_decide", SAID("to-decide"), .faces = ALL, STUDENT(to_decide)},
    {.key = "share_percent",
     SAID("share"),
     .unit = "%",
     .faces = SHOW_ROWS | SHOW_PAGE,
     .decimals = 1,
     STUDENT(share_percent)},
    {.key = "answers", .faces = SHOW_JSON, .kind = SHOW_PART, .get = get_answers},
};

const struct show_rows show_students_rows = SHOW_ROWS_OF(students);

/* ------------------------------------------------------------------ parts of the class -------------------- */

/* For people question and part are one word, `2 a`; data keep them apart. */
static void set_place(size_t question, const char *part, struct show_cell *cell)
{
    text_printf(show_made(cell), "%zu%s%s", question, part[0] == '\0' ? "" : " ", part);
    show_made_done(cell);
}

static const struct mark_summary *part_of(const void *answer, size_t row)
{
    return &((const struct mark_answer *)answer)->marks.summaries[row];
}

static void get_part_place(const void *answer, size_t row, struct show_cell *cell)
{
    set_place(part_of(answer, row)->question, part_of(answer, row)->part, cell);
}

#define OF_CLASS(member) SHOW_IN(struct mark_answer, marks.summaries, struct mark_summary, member)

static SHOW_WORD_TAKE(take_slip, enum slip, slip_word)

    /* Of people, who read a slip's name in the class's language. */
    static void take_slip_name(const struct show_column *column, const void *field, struct show_cell *cell)
{
    cell->words = slip_name(column->language(cell->answer), *(const enum slip *)field);
}

#define SLIP_OF_CLASS(take)                                                                                            \
    SHOW_ELEMENT(struct mark_answer, marks.summaries, struct mark_summary), SHOW_TAKEN(struct mark_summary, slip, take)

static const struct show_column parts[] = {
    {.key = "question", .faces = SHOW_DATA, OF_CLASS(question)},
    {.key = "part", .faces = SHOW_DATA, OF_CLASS(part)},
    {.key = "place", SAID("part"), .faces = SHOWN, .get = get_part_place},
    {.key = "asked", SAID("asked"), .faces = ALL, .wrap = 30, OF_CLASS(asked)},
    {.key = "right", SAID("right"), .faces = ALL, OF_CLASS(count[MARK_RIGHT])},
    {.key = "carried", SAID("carried"), .faces = ALL, OF_CLASS(count[MARK_CARRIED])},
    {.key = "wrong", SAID("wrong"), .faces = ALL, OF_CLASS(count[MARK_WRONG])},
    {.key = "empty", SAID("empty"), .faces = ALL, OF_CLASS(count[MARK_EMPTY])},
    {.key = "decide", SAID("to-decide"), .faces = ALL, OF_CLASS(count[MARK_DECIDE])},
    {.key = "points", .faces = SHOW_JSON, OF_CLASS(points)},
    {.key = "points_most", .faces = SHOW_JSON, OF_CLASS(points_most)},
    {.key = "points_percent",
     SAID("points"),
     .unit = "%",
     .faces = SHOW_ROWS | SHOW_PAGE,
     .decimals = 1,
     OF_CLASS(points_percent)},
    {.key = "slip", .faces = SHOW_DATA, .null_if_empty = true, SLIP_OF_CLASS(take_slip)},
    {.key = "slip_name", SAID("common-slip"), .faces = SHOWN, .wrap = 30, SLIP_OF_CLASS(take_slip_name)},
    {.key = "slip_count", .faces = SHOW_DATA, OF_CLASS(slip_count)},
};

const struct show_rows show_parts_rows = SHOW_ROWS_OF(parts);

/* ------------------------------------------------------------------ slips --------------------------------- */

static void take_slip_about(const struct show_column *column, const void *field, struct show_cell *cell)
{
    cell->words = slip_about(column->language(cell->answer), *(const enum slip *)field);
}

#define TO_SLIP SHOW_ELEMENT(struct mark_answer, marks.slips, struct mark_slip)
#define SLIP(take) TO_SLIP, SHOW_TAKEN(struct mark_slip, slip, take)

static const struct show_column slips[] = {
    {.key = "students", SAID("students"), .faces = ALL, TO_SLIP, SHOW_FIELD(struct mark_slip, students)},
    {.key = "slip", .faces = SHOW_DATA, .json_before = "students", SLIP(take_slip)},
    {.key = "slip_name", SAID("slip"), .faces = SHOWN, SLIP(take_slip_name)},
    {.key = "about", SAID("about"), .faces = SHOW_ROWS | SHOW_PAGE, .wrap = 60, SLIP(take_slip_about)},
};

const struct show_rows show_slips_rows = SHOW_ROWS_OF(slips);

/* ------------------------------------------------------------------ answers ------------------------------- */

static const struct mark_line *line_of(const void *answer, size_t row)
{
    return &((const struct mark_lines *)answer)->line[row];
}

static void get_place(const void *answer, size_t row, struct show_cell *cell)
{
    set_place(line_of(answer, row)->row->question, line_of(answer, row)->row->part, cell);
}

static SHOW_WORD_TAKE(take_verdict, enum mark_verdict, mark_verdict_word)

    /* Of people. */
    static void take_verdict_said(const struct show_column *column, const void *field, struct show_cell *cell)
{
    static const char *const keys[MARK_COUNT] = {"marks.is-right", "marks.is-carried", "marks.is-wrong",
                                                 "marks.is-empty", "marks.is-decide"};
    cell->words = say_plain(column->language(cell->answer), keys[*(const enum mark_verdict *)field]);
}

/* Whether value, unit or figures are right, where that was judged. */
static void take_right(const struct show_column *column, const void *field, struct show_cell *cell)
{
    const struct judgement *judgement = (const void *)((const char *)field - column->field);
    const bool judged = judgement->verdict != MARK_EMPTY && judgement->verdict != MARK_DECIDE;
    cell->words = !judged ? "" : *(const bool *)field ? "right" : "wrong";
}

static void get_earned_of(const void *answer, size_t row, struct show_cell *cell)
{
    const struct judgement *judgement = line_of(answer, row)->judgement;
    set_two(lines_language(answer), "marks.of", "most", judgement->points, judgement->points_most, cell);
}

/* For people numbers stand as the class writes them. */
static void set_written(const char *made, struct show_cell *cell)
{
    const struct mark_lines *lines = cell->answer;
    language_write(show_made(cell), &lines->writing, made);
    show_made_done(cell);
}

static void take_written(const struct show_column *column, const void *field, struct show_cell *cell)
{
    (void)column;
    set_written(text_string(field), cell);
}

static void take_written_string(const struct show_column *column, const void *field, struct show_cell *cell)
{
    (void)column;
    set_written(*(const char *const *)field, cell);
}

#define TO(pointer, type)                                                                                              \
    SHOW_ELEMENT(struct mark_lines, line, struct mark_line), SHOW_POINTED(struct mark_line, pointer, type)
#define OF_ROW(member) TO(row, struct mark_row), SHOW_FIELD(struct mark_row, member)
#define JUDGED(member) TO(judgement, struct judgement), SHOW_FIELD(struct judgement, member)
#define JUDGED_AS(member, take) TO(judgement, struct judgement), SHOW_TAKEN(struct judgement, member, take)

#define RIGHT(member) .faces = SHOW_JSON, JUDGED(member)

/* What the answers of a class and single ones have alike. */
#define JUDGED_COLUMNS(remark_columns)                                                                                 \
    {.key = "value", RIGHT(value_right)}, {.key = "unit", RIGHT(unit_right)},                                          \
        {.key = "figures", RIGHT(figures_right)}, {.key = "points", .faces = SHOW_DATA, JUDGED(points)},               \
        {.key = "points_most", .faces = SHOW_DATA, JUDGED(points_most)},                                               \
        {.key = "earned", SAID_OF_LINES("points"), .faces = SHOWN, .right = true, .get = get_earned_of},               \
        {.key = "slip", .faces = SHOW_DATA, .null_if_empty = true, JUDGED_AS(slip, take_slip)},                        \
        {.key = "remark", .faces = SHOW_DATA, .null_if_empty = true, JUDGED(remark)},                                  \
    {                                                                                                                  \
        .key = "remark_written", SAID_OF_LINES("remark"), .faces = SHOWN, .wrap = (remark_columns),                    \
        JUDGED_AS(remark, take_written)                                                                                \
    }

#define LINE(member) SHOW_IN(struct mark_lines, line, struct mark_line, member)

static const struct show_column marked[] = {
    {.key = "student",
     SAID_OF_LINES("student"),
     .faces = SHOW_ROWS | SHOW_PAGE,
     TO(student, struct mark_student),
     SHOW_FIELD(struct mark_student, student)},
    {.key = "name", .faces = SHOW_CSV, LINE(name)},
    {.key = "sheet",
     .faces = SHOW_CSV,
     TO(student, struct mark_student),
     SHOW_TAKEN(struct mark_student, sheet, show_take_letters)},
    {.key = "question", .faces = SHOW_DATA, OF_ROW(question)},
    {.key = "part", .faces = SHOW_DATA, OF_ROW(part)},
    {.key = "place", SAID_OF_LINES("part"), .faces = SHOWN, .get = get_place},
    {.key = "asked", .faces = SHOW_DATA, OF_ROW(asked)},
    {.key = "written", SAID_OF_LINES("written"), .faces = ALL, .wrap = 16, LINE(written)},
    {.key = "read_as", .faces = SHOW_DATA, .null_if_empty = true, JUDGED(read_as)},
    {.key = "expected", .faces = SHOW_DATA, OF_ROW(expected)},
    {.key = "expected_written",
     SAID_OF_LINES("expected"),
     .faces = SHOWN,
     .wrap = 12,
     TO(row, struct mark_row),
     SHOW_TAKEN(struct mark_row, expected, take_written_string)},
    {.key = "exact", .faces = SHOW_DATA, .null_if_empty = true, OF_ROW(exact)},
    {.key = "from_own", .faces = SHOW_DATA, .null_if_empty = true, JUDGED(from_own)},
    {.key = "verdict", .faces = SHOW_DATA, JUDGED_AS(verdict, take_verdict)},
    {.key = "verdict_said", SAID_OF_LINES("verdict"), .faces = SHOWN, JUDGED_AS(verdict, take_verdict_said)},
    {.key = "value", .faces = SHOW_CSV, JUDGED_AS(value_right, take_right)},
    {.key = "unit", .faces = SHOW_CSV, JUDGED_AS(unit_right, take_right)},
    {.key = "figures", .faces = SHOW_CSV, JUDGED_AS(figures_right, take_right)},
    JUDGED_COLUMNS(34),
    {.key = "decided", .faces = SHOW_DATA, .null_if_empty = true, OF_ROW(decided)},
};

const struct show_rows show_marked_rows = SHOW_ROWS_OF(marked);

static const struct show_column expected[] = {
    {.key = "written", SAID_OF_LINES("written"), .faces = ALL, .wrap = 24, LINE(written)},
    {.key = "read_as", .faces = SHOW_DATA, .null_if_empty = true, JUDGED(read_as)},
    {.key = "read_as_written", SAID_OF_LINES("read-as"), .faces = SHOWN, JUDGED_AS(read_as, take_written)},
    {.key = "verdict", .faces = SHOW_DATA, JUDGED_AS(verdict, take_verdict)},
    {.key = "verdict_said", SAID_OF_LINES("verdict"), .faces = SHOWN, JUDGED_AS(verdict, take_verdict_said)},
    JUDGED_COLUMNS(36),
};

const struct show_rows show_expect_rows = SHOW_ROWS_OF(expected);
