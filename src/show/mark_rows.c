/* The rows of `mark`: students, parts of the class, slips, single answers. */
#include "ampsum/show_mark.h"

enum { EVERYWHERE = SHOW_ROWS | SHOW_JSON, SHOWN = SHOW_TERMINAL | SHOW_PAGE, ALL = EVERYWHERE | SHOW_PAGE };

#define COUNT_OF(cell, value) (cell)->figure = (double)(value)

/* ------------------------------------------------------------------ students ------------------------------ */

static const struct mark_student *student_of(const void *answer, size_t row)
{
    return &((const struct mark_answer *)answer)->marks.students[row];
}

static const void *student_at(const void *answer, size_t row)
{
    return student_of(answer, row);
}

static void get_student(const void *answer, size_t row, struct show_cell *cell)
{
    COUNT_OF(cell, student_of(answer, row)->student);
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

static void get_points(const void *answer, size_t row, struct show_cell *cell)
{
    COUNT_OF(cell, student_of(answer, row)->points);
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

static void get_possible(const void *answer, size_t row, struct show_cell *cell)
{
    COUNT_OF(cell, student_of(answer, row)->points_possible);
}

static void get_most(const void *answer, size_t row, struct show_cell *cell)
{
    COUNT_OF(cell, student_of(answer, row)->points_most);
}

static void get_to_decide(const void *answer, size_t row, struct show_cell *cell)
{
    COUNT_OF(cell, student_of(answer, row)->to_decide);
}

static void get_answers(const void *answer, size_t row, struct show_cell *cell)
{
    const struct mark_answer *mark = answer;
    const struct mark_student *student = student_of(answer, row);
    const struct mark_lines own = {mark->lines.line + student->first_row, student->row_count};
    cell->part = show_json_array(&show_marked_rows, &own, own.count);
}

static const struct show_column students[] = {
    {.key = "student", .heading = "STUDENT", .title = "Student", .faces = ALL, .kind = SHOW_FIGURE, .get = get_student},
    {.key = "name",
     .heading = "NAME",
     .title = "Name",
     .faces = SHOWN,
     .wrap = 24,
     .asked = has_names,
     .get = get_name},
    {.key = "name", .faces = SHOW_DATA, .null_if_empty = true, .get = get_name},
    {.key = "sheet", .title = "Sheet", .faces = SHOW_DATA | SHOW_PAGE, .get = get_sheet},
    {.key = "points", .faces = SHOW_DATA, .kind = SHOW_FIGURE, .get = get_points},
    {.key = "span", .heading = "POINTS", .title = "Points", .faces = SHOWN, .right = true, .get = get_span},
    {.key = "points_possible", .faces = SHOW_DATA, .kind = SHOW_FIGURE, .get = get_possible},
    {.key = "points_most", .heading = "OF", .title = "Of", .faces = ALL, .kind = SHOW_FIGURE, .get = get_most},
    {.key = "to_decide",
     .heading = "TO DECIDE",
     .title = "To decide",
     .faces = ALL,
     .kind = SHOW_FIGURE,
     .get = get_to_decide},
    {.key = "share_percent",
     .heading = "SHARE %",
     .title = "Share",
     .unit = "%",
     .faces = SHOW_ROWS | SHOW_PAGE,
     .decimals = 1,
     .at = student_at,
     SHOW_DOUBLE(struct mark_student, share_percent)},
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

static const void *part_at(const void *answer, size_t row)
{
    return part_of(answer, row);
}

static void get_part_question(const void *answer, size_t row, struct show_cell *cell)
{
    COUNT_OF(cell, part_of(answer, row)->question);
}

static void get_part_place(const void *answer, size_t row, struct show_cell *cell)
{
    set_place(part_of(answer, row)->question, part_of(answer, row)->part, cell);
}

static void get_right(const void *answer, size_t row, struct show_cell *cell)
{
    COUNT_OF(cell, part_of(answer, row)->count[MARK_RIGHT]);
}

static void get_carried(const void *answer, size_t row, struct show_cell *cell)
{
    COUNT_OF(cell, part_of(answer, row)->count[MARK_CARRIED]);
}

static void get_wrong(const void *answer, size_t row, struct show_cell *cell)
{
    COUNT_OF(cell, part_of(answer, row)->count[MARK_WRONG]);
}

static void get_empty(const void *answer, size_t row, struct show_cell *cell)
{
    COUNT_OF(cell, part_of(answer, row)->count[MARK_EMPTY]);
}

static void get_decide(const void *answer, size_t row, struct show_cell *cell)
{
    COUNT_OF(cell, part_of(answer, row)->count[MARK_DECIDE]);
}

static void get_part_points(const void *answer, size_t row, struct show_cell *cell)
{
    COUNT_OF(cell, part_of(answer, row)->points);
}

static void get_part_most(const void *answer, size_t row, struct show_cell *cell)
{
    COUNT_OF(cell, part_of(answer, row)->points_most);
}

static void get_part_slip(const void *answer, size_t row, struct show_cell *cell)
{
    cell->words = slip_word(part_of(answer, row)->slip);
}

static void get_part_slips(const void *answer, size_t row, struct show_cell *cell)
{
    COUNT_OF(cell, part_of(answer, row)->slip_count);
}

static const struct show_column parts[] = {
    {.key = "question", .faces = SHOW_DATA, .kind = SHOW_FIGURE, .get = get_part_question},
    {.key = "part", .faces = SHOW_DATA, .at = part_at, SHOW_STRING(struct mark_summary, part)},
    {.key = "place", .heading = "PART", .title = "Part", .faces = SHOWN, .get = get_part_place},
    {.key = "asked",
     .heading = "ASKED",
     .title = "Asked",
     .faces = ALL,
     .wrap = 30,
     .at = part_at,
     SHOW_STRING(struct mark_summary, asked)},
    {.key = "right", .heading = "RIGHT", .title = "Right", .faces = ALL, .kind = SHOW_FIGURE, .get = get_right},
    {.key = "carried", .heading = "CARRIED", .title = "Carried", .faces = ALL, .kind = SHOW_FIGURE, .get = get_carried},
    {.key = "wrong", .heading = "WRONG", .title = "Wrong", .faces = ALL, .kind = SHOW_FIGURE, .get = get_wrong},
    {.key = "empty", .heading = "EMPTY", .title = "Empty", .faces = ALL, .kind = SHOW_FIGURE, .get = get_empty},
    {.key = "decide",
     .heading = "TO DECIDE",
     .title = "To decide",
     .faces = ALL,
     .kind = SHOW_FIGURE,
     .get = get_decide},
    {.key = "points", .faces = SHOW_JSON, .kind = SHOW_FIGURE, .get = get_part_points},
    {.key = "points_most", .faces = SHOW_JSON, .kind = SHOW_FIGURE, .get = get_part_most},
    {.key = "points_percent",
     .heading = "POINTS %",
     .title = "Points",
     .unit = "%",
     .faces = SHOW_ROWS | SHOW_PAGE,
     .decimals = 1,
     .at = part_at,
     SHOW_DOUBLE(struct mark_summary, points_percent)},
    {.key = "slip",
     .heading = "COMMON SLIP",
     .title = "Common slip",
     .faces = ALL,
     .wrap = 30,
     .null_if_empty = true,
     .get = get_part_slip},
    {.key = "slip_count", .faces = SHOW_DATA, .kind = SHOW_FIGURE, .get = get_part_slips},
};

const struct show_rows show_parts_rows = {parts, sizeof parts / sizeof parts[0]};

/* ------------------------------------------------------------------ slips --------------------------------- */

static const struct mark_slip *slip_of(const void *answer, size_t row)
{
    return &((const struct mark_answer *)answer)->marks.slips[row];
}

static void get_slip_students(const void *answer, size_t row, struct show_cell *cell)
{
    COUNT_OF(cell, slip_of(answer, row)->students);
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

static const struct show_column slips[] = {
    {.key = "students",
     .heading = "STUDENTS",
     .title = "Students",
     .faces = ALL,
     .kind = SHOW_FIGURE,
     .get = get_slip_students},
    {.key = "slip", .heading = "SLIP", .title = "Slip", .faces = ALL, .json_before = "students", .get = get_slip},
    {.key = "about",
     .heading = "WHAT WAS DONE",
     .title = "What was done",
     .faces = SHOW_ROWS | SHOW_PAGE,
     .wrap = 60,
     .get = get_slip_about},
};

const struct show_rows show_slips_rows = {slips, sizeof slips / sizeof slips[0]};

/* ------------------------------------------------------------------ answers ------------------------------- */

static const struct mark_line *line_of(const void *answer, size_t row)
{
    return &((const struct mark_lines *)answer)->line[row];
}

static const void *line_at(const void *answer, size_t row)
{
    return line_of(answer, row);
}

static const void *row_at(const void *answer, size_t row)
{
    return line_of(answer, row)->row;
}

static const void *judgement_at(const void *answer, size_t row)
{
    return line_of(answer, row)->judgement;
}

static void get_line_student(const void *answer, size_t row, struct show_cell *cell)
{
    COUNT_OF(cell, line_of(answer, row)->student->student);
}

static void get_line_sheet(const void *answer, size_t row, struct show_cell *cell)
{
    cell->words = line_of(answer, row)->student->sheet;
}

static void get_question(const void *answer, size_t row, struct show_cell *cell)
{
    COUNT_OF(cell, line_of(answer, row)->row->question);
}

static void get_place(const void *answer, size_t row, struct show_cell *cell)
{
    set_place(line_of(answer, row)->row->question, line_of(answer, row)->row->part, cell);
}

static void get_read_as(const void *answer, size_t row, struct show_cell *cell)
{
    cell->words = text_string(&line_of(answer, row)->judgement->read_as);
}

static void get_from_own(const void *answer, size_t row, struct show_cell *cell)
{
    cell->words = text_string(&line_of(answer, row)->judgement->from_own);
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

static void get_earned(const void *answer, size_t row, struct show_cell *cell)
{
    COUNT_OF(cell, line_of(answer, row)->judgement->points);
}

static void get_earned_most(const void *answer, size_t row, struct show_cell *cell)
{
    COUNT_OF(cell, line_of(answer, row)->judgement->points_most);
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

static void get_remark(const void *answer, size_t row, struct show_cell *cell)
{
    cell->words = text_string(&line_of(answer, row)->judgement->remark);
}

#define OF_ROW(member) .at = row_at, SHOW_STRING(struct mark_row, member)
#define RIGHT(member) .faces = SHOW_JSON, .at = judgement_at, SHOW_BOOL(struct judgement, member)

/* What the answers of a class and single ones have alike. */
#define JUDGED_COLUMNS(remark_columns)                                                                                 \
    {.key = "value", RIGHT(value_right)}, {.key = "unit", RIGHT(unit_right)},                                          \
        {.key = "figures", RIGHT(figures_right)},                                                                      \
        {.key = "points", .faces = SHOW_DATA, .kind = SHOW_FIGURE, .get = get_earned},                                 \
        {.key = "points_most", .faces = SHOW_DATA, .kind = SHOW_FIGURE, .get = get_earned_most},                       \
        {.key = "earned",                                                                                              \
         .heading = "POINTS",                                                                                          \
         .title = "Points",                                                                                            \
         .faces = SHOWN,                                                                                               \
         .right = true,                                                                                                \
         .get = get_earned_of},                                                                                        \
        {.key = "slip", .faces = SHOW_DATA, .null_if_empty = true, .get = get_line_slip},                              \
    {                                                                                                                  \
        .key = "remark", .heading = "REMARK", .title = "Remark", .faces = ALL, .wrap = (remark_columns),               \
        .null_if_empty = true, .get = get_remark                                                                       \
    }

static const struct show_column marked[] = {
    {.key = "student",
     .heading = "STUDENT",
     .title = "Student",
     .faces = SHOW_ROWS | SHOW_PAGE,
     .kind = SHOW_FIGURE,
     .get = get_line_student},
    {.key = "name", .faces = SHOW_CSV, .at = line_at, SHOW_STRING(struct mark_line, name)},
    {.key = "sheet", .faces = SHOW_CSV, .get = get_line_sheet},
    {.key = "question", .faces = SHOW_DATA, .kind = SHOW_FIGURE, .get = get_question},
    {.key = "part", .faces = SHOW_DATA, OF_ROW(part)},
    {.key = "place", .heading = "PART", .title = "Part", .faces = SHOWN, .get = get_place},
    {.key = "asked", .faces = SHOW_DATA, OF_ROW(asked)},
    {.key = "written",
     .heading = "WRITTEN",
     .title = "Written",
     .faces = ALL,
     .wrap = 16,
     .at = line_at,
     SHOW_STRING(struct mark_line, written)},
    {.key = "read_as", .faces = SHOW_DATA, .null_if_empty = true, .get = get_read_as},
    {.key = "expected", .heading = "EXPECTED", .title = "Expected", .faces = ALL, .wrap = 12, OF_ROW(expected)},
    {.key = "exact", .faces = SHOW_DATA, .null_if_empty = true, OF_ROW(exact)},
    {.key = "from_own", .faces = SHOW_DATA, .null_if_empty = true, .get = get_from_own},
    {.key = "verdict", .heading = "VERDICT", .title = "Verdict", .faces = ALL, .get = get_verdict},
    {.key = "value", .faces = SHOW_CSV, .get = get_value},
    {.key = "unit", .faces = SHOW_CSV, .get = get_unit},
    {.key = "figures", .faces = SHOW_CSV, .get = get_figures},
    JUDGED_COLUMNS(34),
    {.key = "decided", .faces = SHOW_DATA, .null_if_empty = true, OF_ROW(decided)},
};

const struct show_rows show_marked_rows = {marked, sizeof marked / sizeof marked[0]};

static const struct show_column expected[] = {
    {.key = "written",
     .heading = "WRITTEN",
     .title = "Written",
     .faces = ALL,
     .wrap = 24,
     .at = line_at,
     SHOW_STRING(struct mark_line, written)},
    {.key = "read_as", .heading = "READ AS", .faces = EVERYWHERE, .null_if_empty = true, .get = get_read_as},
    {.key = "verdict", .heading = "VERDICT", .faces = EVERYWHERE, .get = get_verdict},
    JUDGED_COLUMNS(36),
};

const struct show_rows show_expect_rows = {expected, sizeof expected / sizeof expected[0]};
