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

static void get_sheet(const void *answer, size_t row, struct show_cell *cell)
{
    cell->words = student_of(answer, row)->sheet;
}

/* "38", or "38 to 42" where answers are still to be decided. */
static void get_span(const void *answer, size_t row, struct show_cell *cell)
{
    const struct mark_student *student = student_of(answer, row);
    text_printf(show_made(cell), "%u", student->points);
    if (student->to_decide_points > 0) {
        text_printf(&cell->made, " to %u", student->points_possible);
    }
    show_made_done(cell);
}

static void get_answers(const void *answer, size_t row, struct show_cell *cell)
{
    const struct mark_answer *mark = answer;
    const struct mark_student *student = student_of(answer, row);
    const struct mark_lines own = {mark->lines.line + student->first_row, student->row_count, mark->lines.writing};
    cell->part = show_json_array(&show_marked_rows, &own, own.count);
}

#define STUDENT(member) SHOW_IN(struct mark_answer, marks.students, struct mark_student, member)

static const struct show_column students[] = {
    {.key = "student", .heading = "STUDENT", .title = "Student", .faces = ALL, STUDENT(student)},
    {SHOW_NAMED("name", "NAME", "Name", NULL), .faces = SHOWN, .wrap = 24, .asked = has_names, .get = get_name},
    {.key = "name", .faces = SHOW_DATA, .null_if_empty = true, .get = get_name},
    {.key = "sheet", .title = "Sheet", .faces = SHOW_DATA | SHOW_PAGE, .get = get_sheet},
    {.key = "points", .faces = SHOW_DATA, STUDENT(points)},
    {.key = "span", .heading = "POINTS", .title = "Points", .faces = SHOWN, .right = true, .get = get_span},
    {.key = "points_possible", .faces = SHOW_DATA, STUDENT(points_possible)},
    {.key = "points_most", .heading = "OF", .title = "Of", .faces = ALL, STUDENT(points_most)},
    {SHOW_NAMED("to_decide", "TO DECIDE", "To decide", NULL), .faces = ALL, STUDENT(to_decide)},
    {SHOW_NAMED("share_percent", "SHARE %", "Share", "%"), .faces = SHOW_ROWS | SHOW_PAGE, .decimals = 1,
     STUDENT(share_percent)},
    {.key = "answers", .faces = SHOW_JSON, .kind = SHOW_PART, .get = get_answers},
};

const struct show_rows show_students_rows = {students, sizeof students / sizeof students[0]};

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

static void get_part_slip(const void *answer, size_t row, struct show_cell *cell)
{
    cell->words = slip_word(part_of(answer, row)->slip);
}

#define OF_CLASS(member) SHOW_IN(struct mark_answer, marks.summaries, struct mark_summary, member)

static const struct show_column parts[] = {
    {.key = "question", .faces = SHOW_DATA, OF_CLASS(question)},
    {.key = "part", .faces = SHOW_DATA, OF_CLASS(part)},
    {.key = "place", .heading = "PART", .title = "Part", .faces = SHOWN, .get = get_part_place},
    {.key = "asked", .heading = "ASKED", .title = "Asked", .faces = ALL, .wrap = 30, OF_CLASS(asked)},
    {.key = "right", .heading = "RIGHT", .title = "Right", .faces = ALL, OF_CLASS(count[MARK_RIGHT])},
    {.key = "carried", .heading = "CARRIED", .title = "Carried", .faces = ALL, OF_CLASS(count[MARK_CARRIED])},
    {.key = "wrong", .heading = "WRONG", .title = "Wrong", .faces = ALL, OF_CLASS(count[MARK_WRONG])},
    {.key = "empty", .heading = "EMPTY", .title = "Empty", .faces = ALL, OF_CLASS(count[MARK_EMPTY])},
    {SHOW_NAMED("decide", "TO DECIDE", "To decide", NULL), .faces = ALL, OF_CLASS(count[MARK_DECIDE])},
    {.key = "points", .faces = SHOW_JSON, OF_CLASS(points)},
    {.key = "points_most", .faces = SHOW_JSON, OF_CLASS(points_most)},
    {SHOW_NAMED("points_percent", "POINTS %", "Points", "%"), .faces = SHOW_ROWS | SHOW_PAGE, .decimals = 1,
     OF_CLASS(points_percent)},
    {SHOW_NAMED("slip", "COMMON SLIP", "Common slip", NULL), .faces = ALL, .wrap = 30, .null_if_empty = true,
     .get = get_part_slip},
    {.key = "slip_count", .faces = SHOW_DATA, OF_CLASS(slip_count)},
};

const struct show_rows show_parts_rows = {parts, sizeof parts / sizeof parts[0]};

/* ------------------------------------------------------------------ slips --------------------------------- */

static const struct mark_slip *slip_of(const void *answer, size_t row)
{
    return &((const struct mark_answer *)answer)->marks.slips[row];
}

static void get_slip(const void *answer, size_t row, struct show_cell *cell)
{
    cell->words = slip_word(slip_of(answer, row)->slip);
}

static void get_slip_about(const void *answer, size_t row, struct show_cell *cell)
{
    const struct mark_answer *mark = answer;
    cell->words = slip_about(mark->plan.language, slip_of(answer, row)->slip);
}

#define SLIP(member) SHOW_IN(struct mark_answer, marks.slips, struct mark_slip, member)

static const struct show_column slips[] = {
    {SHOW_NAMED("students", "STUDENTS", "Students", NULL), .faces = ALL, SLIP(students)},
    {.key = "slip", .heading = "SLIP", .title = "Slip", .faces = ALL, .json_before = "students", .get = get_slip},
    {SHOW_NAMED("about", "WHAT WAS DONE", "What was done", NULL), .faces = SHOW_ROWS | SHOW_PAGE, .wrap = 60,
     .get = get_slip_about},
};

const struct show_rows show_slips_rows = {slips, sizeof slips / sizeof slips[0]};

/* ------------------------------------------------------------------ answers ------------------------------- */

static const struct mark_line *line_of(const void *answer, size_t row)
{
    return &((const struct mark_lines *)answer)->line[row];
}

static void get_line_sheet(const void *answer, size_t row, struct show_cell *cell)
{
    cell->words = line_of(answer, row)->student->sheet;
}

static void get_place(const void *answer, size_t row, struct show_cell *cell)
{
    set_place(line_of(answer, row)->row->question, line_of(answer, row)->row->part, cell);
}

static void get_verdict(const void *answer, size_t row, struct show_cell *cell)
{
    cell->words = mark_verdict_word(line_of(answer, row)->judgement->verdict);
}

static const char *right_word(const struct judgement *judgement, bool right)
{
    const bool judged = judgement->verdict != MARK_EMPTY && judgement->verdict != MARK_DECIDE;
    return !judged ? "" : right ? "right" : "wrong";
}

static void get_value(const void *answer, size_t row, struct show_cell *cell)
{
    const struct judgement *judgement = line_of(answer, row)->judgement;
    cell->words = right_word(judgement, judgement->value_right);
}

static void get_unit(const void *answer, size_t row, struct show_cell *cell)
{
    const struct judgement *judgement = line_of(answer, row)->judgement;
    cell->words = right_word(judgement, judgement->unit_right);
}

static void get_figures(const void *answer, size_t row, struct show_cell *cell)
{
    const struct judgement *judgement = line_of(answer, row)->judgement;
    cell->words = right_word(judgement, judgement->figures_right);
}

static void get_earned_of(const void *answer, size_t row, struct show_cell *cell)
{
    const struct judgement *judgement = line_of(answer, row)->judgement;
    text_printf(show_made(cell), "%u of %u", judgement->points, judgement->points_most);
    show_made_done(cell);
}

static void get_line_slip(const void *answer, size_t row, struct show_cell *cell)
{
    cell->words = slip_word(line_of(answer, row)->judgement->slip);
}

/* For people numbers stand as the class writes them. */
static void set_written(const void *answer, const struct text *made, struct show_cell *cell)
{
    const struct mark_lines *lines = answer;
    language_write(show_made(cell), &lines->writing, text_string(made));
    show_made_done(cell);
}

static void get_remark(const void *answer, size_t row, struct show_cell *cell)
{
    set_written(answer, &line_of(answer, row)->judgement->remark, cell);
}

static void get_expected(const void *answer, size_t row, struct show_cell *cell)
{
    struct text made = {0};
    text_add(&made, line_of(answer, row)->row->expected);
    set_written(answer, &made, cell);
    text_done(&made);
}

#define OF_ROW(member) SHOW_VIA(struct mark_lines, line, struct mark_line, row, struct mark_row, member)
#define WRITER(member) SHOW_VIA(struct mark_lines, line, struct mark_line, student, struct mark_student, member)
#define JUDGED(member) SHOW_VIA(struct mark_lines, line, struct mark_line, judgement, struct judgement, member)

#define RIGHT(member) .faces = SHOW_JSON, JUDGED(member)

/* What the answers of a class and single ones have alike. */
#define JUDGED_COLUMNS(remark_columns)                                                                                 \
    {.key = "value", RIGHT(value_right)}, {.key = "unit", RIGHT(unit_right)},                                          \
        {.key = "figures", RIGHT(figures_right)}, {.key = "points", .faces = SHOW_DATA, JUDGED(points)},               \
        {.key = "points_most", .faces = SHOW_DATA, JUDGED(points_most)},                                               \
        {.key = "earned",                                                                                              \
         .heading = "POINTS",                                                                                          \
         .title = "Points",                                                                                            \
         .faces = SHOWN,                                                                                               \
         .right = true,                                                                                                \
         .get = get_earned_of},                                                                                        \
        {.key = "slip", .faces = SHOW_DATA, .null_if_empty = true, .get = get_line_slip},                              \
        {.key = "remark", .faces = SHOW_DATA, .null_if_empty = true, JUDGED(remark)},                                  \
    {                                                                                                                  \
        .key = "remark_written", .heading = "REMARK", .title = "Remark", .faces = SHOWN, .wrap = (remark_columns),     \
        .get = get_remark                                                                                              \
    }

#define LINE(member) SHOW_IN(struct mark_lines, line, struct mark_line, member)

static const struct show_column marked[] = {
    {SHOW_NAMED("student", "STUDENT", "Student", NULL), .faces = SHOW_ROWS | SHOW_PAGE, WRITER(student)},
    {.key = "name", .faces = SHOW_CSV, LINE(name)},
    {.key = "sheet", .faces = SHOW_CSV, .get = get_line_sheet},
    {.key = "question", .faces = SHOW_DATA, OF_ROW(question)},
    {.key = "part", .faces = SHOW_DATA, OF_ROW(part)},
    {.key = "place", .heading = "PART", .title = "Part", .faces = SHOWN, .get = get_place},
    {.key = "asked", .faces = SHOW_DATA, OF_ROW(asked)},
    {.key = "written", .heading = "WRITTEN", .title = "Written", .faces = ALL, .wrap = 16, LINE(written)},
    {.key = "read_as", .faces = SHOW_DATA, .null_if_empty = true, JUDGED(read_as)},
    {.key = "expected", .faces = SHOW_DATA, OF_ROW(expected)},
    {.key = "expected_written",
     .heading = "EXPECTED",
     .title = "Expected",
     .faces = SHOWN,
     .wrap = 12,
     .get = get_expected},
    {.key = "exact", .faces = SHOW_DATA, .null_if_empty = true, OF_ROW(exact)},
    {.key = "from_own", .faces = SHOW_DATA, .null_if_empty = true, JUDGED(from_own)},
    {.key = "verdict", .heading = "VERDICT", .title = "Verdict", .faces = ALL, .get = get_verdict},
    {.key = "value", .faces = SHOW_CSV, .get = get_value},
    {.key = "unit", .faces = SHOW_CSV, .get = get_unit},
    {.key = "figures", .faces = SHOW_CSV, .get = get_figures},
    JUDGED_COLUMNS(34),
    {.key = "decided", .faces = SHOW_DATA, .null_if_empty = true, OF_ROW(decided)},
};

const struct show_rows show_marked_rows = {marked, sizeof marked / sizeof marked[0]};

static const struct show_column expected[] = {
    {.key = "written", .heading = "WRITTEN", .title = "Written", .faces = ALL, .wrap = 24, LINE(written)},
    {.key = "read_as", .heading = "READ AS", .faces = EVERYWHERE, .null_if_empty = true, JUDGED(read_as)},
    {.key = "verdict", .heading = "VERDICT", .faces = EVERYWHERE, .get = get_verdict},
    JUDGED_COLUMNS(36),
};

const struct show_rows show_expect_rows = {expected, sizeof expected / sizeof expected[0]};
