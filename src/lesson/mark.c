/* All answers of a class: brought together, judged, summed up. */
#include "ampsum/mark.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "ampsum/arena.h"
#include "cells.h"
#include "decide.h"
#include "judge.h"

static const char *const mark_verdict_words[MARK_COUNT] = {"right", "carried", "wrong", "empty", "decide"};

const char *mark_verdict_word(enum mark_verdict verdict)
{
    return mark_verdict_words[verdict];
}

static char *copy_string(const char *string)
{
    size_t size = strlen(string) + 1;
    char *copy = memory_new(size);
    memcpy(copy, string, size);
    return copy;
}

void marks_done(struct marks *marks)
{
    for (size_t i = 0; i < marks->row_count; i++) {
        free(marks->rows[i].part);
        free(marks->rows[i].asked);
        free(marks->rows[i].answer);
        free(marks->rows[i].expected);
        free(marks->rows[i].exact);
        free(marks->rows[i].decided);
        judgement_done(&marks->rows[i].judgement);
    }
    for (size_t i = 0; i < marks->summary_count; i++) {
        free(marks->summaries[i].part);
        free(marks->summaries[i].asked);
    }
    for (size_t i = 0; i < marks->notice_count; i++) {
        free(marks->notices[i].file);
        free(marks->notices[i].word);
    }
    for (size_t i = 0; i < marks->cell_count; i++) {
        free(marks->cells[i].part);
        free(marks->cells[i].answer);
        free(marks->cells[i].file);
    }
    free(marks->rows);
    free(marks->students);
    free(marks->summaries);
    free(marks->notices);
    free(marks->cells);
    free(marks->slips);
    decisions_done(marks);
    *marks = (struct marks){0};
}

void marks_cell(struct marks *marks, unsigned student, size_t question, const char *part, const char *answer,
                const char *file, size_t row)
{
    marks->cells = memory_grow(marks->cells, marks->cell_count, &marks->cell_capacity, sizeof *marks->cells);
    marks->cells[marks->cell_count] = (struct mark_cell){
        student, question, copy_string(part), copy_string(answer), copy_string(file), row, marks->cell_count, false};
    marks->cell_count++;
}

static int compare_cells(const void *a, const void *b)
{
    const struct mark_cell *first = a;
    const struct mark_cell *second = b;
    if (first->student != second->student) {
        return first->student < second->student ? -1 : 1;
    }
    if (first->question != second->question) {
        return first->question < second->question ? -1 : 1;
    }
    return first->order < second->order ? -1 : first->order > second->order;
}

/* Part "b" is written as b, B, (b) or b). */
static bool same_part(const char *written, const char *part)
{
    written += *written == '(' ? 1 : 0;
    for (; *part != '\0'; part++, written++) {
        char c = *written >= 'A' && *written <= 'Z' ? (char)(*written - 'A' + 'a') : *written;
        if (c != *part) {
            return false;
        }
    }
    return strcmp(written, "") == 0 || strcmp(written, ")") == 0;
}

/* The sentence of that key on a row, about a student, a question (0: none) and something more. */
static void notice(struct marks *marks, const struct mark_cell *cell, size_t row, const char *key, const char *place,
                   const char *more)
{
    struct text word = {0};
    struct text student = {0};
    struct text question = {0};
    text_printf(&student, "%u", cell->student);
    text_printf(&question, "%zu", cell->question + 1);
    say(&word, marks->language, key, "student", text_string(&student), "question", text_string(&question), place, more,
        (const char *)NULL);
    marks_notice(marks, cell->file, row, text_string(&word));
    text_done(&word);
    text_done(&student);
    text_done(&question);
}

/* The answer to a part among the cells of a question; the first that holds something counts. */
static const char *find_answer(struct marks *marks, struct mark_cell *cells, size_t count, const char *part)
{
    struct mark_cell *found = NULL;
    for (size_t i = 0; i < count; i++) {
        if (!same_part(cells[i].part, part)) {
            continue;
        }
        cells[i].used = true;
        if (found == NULL || found->answer[0] == '\0') {
            found = &cells[i];
        } else if (cells[i].answer[0] != '\0' && strcmp(cells[i].answer, found->answer) != 0) {
            notice(marks, &cells[i], cells[i].row, "files.second", "part", part);
        }
    }
    return found == NULL ? NULL : found->answer;
}

static struct mark_summary *summary_of(struct marks *marks, size_t question, const char *part, const char *asked)
{
    /* Parts come in order, so the last student's row is near; a class has few parts in all. */
    for (size_t i = 0; i < marks->summary_count; i++) {
        if (marks->summaries[i].question == question && strcmp(marks->summaries[i].part, part) == 0) {
            return &marks->summaries[i];
        }
    }
    marks->summaries =
        memory_grow(marks->summaries, marks->summary_count, &marks->summary_capacity, sizeof *marks->summaries);
    struct mark_summary *summary = &marks->summaries[marks->summary_count++];
    *summary = (struct mark_summary){.question = question, .part = copy_string(part), .asked = copy_string(asked)};
    return summary;
}

/* The judgement's texts go over to the row. */
static struct mark_row *new_row(struct marks *marks, struct judgement *judgement)
{
    marks->rows = memory_grow(marks->rows, marks->row_count, &marks->row_capacity, sizeof *marks->rows);
    struct mark_row *row = &marks->rows[marks->row_count++];
    *row = (struct mark_row){.judgement = *judgement};
    *judgement = (struct judgement){0};
    return row;
}

static void count_row(struct marks *marks, const struct mark_row *row)
{
    const struct judgement *judgement = &row->judgement;
    const bool open = judgement->verdict == MARK_DECIDE;
    struct mark_student *sum = &marks->students[marks->student_count - 1];
    sum->points += judgement->points;
    sum->points_most += judgement->points_most;
    sum->to_decide += open;
    sum->to_decide_points += open ? judgement->points_most : 0;
    sum->row_count++;
    struct mark_summary *summary = summary_of(marks, row->question, row->part, row->asked);
    summary->count[judgement->verdict]++;
    summary->points += open ? 0 : judgement->points;
    summary->points_most += open ? 0 : judgement->points_most;
}

/* Space for one question's answers, kept from question to question. */
struct work {
    struct lesson_question question;
    size_t capacity;
    struct text *part;
    struct text *asked;
    const char **answer; /* as written */
    const char **judged; /* the same, or what a decision reads it as */
    const struct mark_decision **decision;
    struct judgement *judgement;
};

static void work_fit(struct work *work)
{
    size_t count = work->question.count;
    if (count <= work->capacity) {
        return;
    }
    work->part = memory_resize(work->part, count, sizeof *work->part);
    work->asked = memory_resize(work->asked, count, sizeof *work->asked);
    work->answer = memory_resize((void *)work->answer, count, sizeof *work->answer);
    work->judged = memory_resize((void *)work->judged, count, sizeof *work->judged);
    work->decision = memory_resize((void *)work->decision, count, sizeof *work->decision);
    work->judgement = memory_resize(work->judgement, count, sizeof *work->judgement);
    for (size_t i = work->capacity; i < count; i++) {
        work->part[i] = work->asked[i] = (struct text){0};
        work->judgement[i] = (struct judgement){0};
    }
    work->capacity = count;
}

static void work_done(struct work *work)
{
    for (size_t i = 0; i < work->capacity; i++) {
        text_done(&work->part[i]);
        text_done(&work->asked[i]);
        judgement_done(&work->judgement[i]);
    }
    free(work->part);
    free(work->asked);
    free((void *)work->answer);
    free((void *)work->judged);
    free((void *)work->decision);
    free(work->judgement);
    lesson_question_done(&work->question);
}

/* The parts of the question, what is written beside them, and what was decided on that. */
static void gather(struct marks *marks, unsigned student, size_t index, struct mark_cell *cells, size_t count,
                   struct work *work)
{
    const struct lesson_question *question = &work->question;
    const char *sheet = marks->students[marks->student_count - 1].sheet;
    for (size_t i = 0; i < question->count; i++) {
        text_clear(&work->part[i]);
        text_clear(&work->asked[i]);
        work->answer[i] = work->judged[i] = NULL;
        work->decision[i] = NULL;
        if (question->quantities[i].asked == NULL) {
            continue;
        }
        lesson_part(question, i, &work->part[i], &work->asked[i]);
        const char *part = text_string(&work->part[i]);
        const char *answer = find_answer(marks, cells, count, part);
        work->answer[i] = answer;
        work->decision[i] = decision_of(marks, sheet, student, index + 1, part, answer == NULL ? "" : answer);
        work->judged[i] = decision_answer(work->decision[i], answer);
    }
}

/* What would be right, and its fraction where that is rounded; what follows from a reading the key does not know. */
static void add_expected(const struct lesson_plan *plan, const struct lesson_question *question, size_t index,
                         struct text *expected, struct text *exact)
{
    const struct lesson_quantity *quantity = &question->quantities[index];
    if (quantity->measured) {
        text_add(expected, say_plain(plan->language, "reading.as-read"));
    } else if (lesson_rests_on_reading(question, index)) {
        text_add(expected, say_plain(plan->language, "more.by-the-reading"));
    } else if (lesson_answer(plan, question, index, expected)) {
        lesson_fraction(exact, quantity->value, quantity);
    }
}

/* What was decided by hand; what it cost has its reason too. */
static bool apply_decision(struct marks *marks, const struct lesson_plan *plan, unsigned student, size_t i,
                           const struct work *work)
{
    struct judgement *judgement = &work->judgement[i];
    const struct mark_decision *decision = work->decision[i];
    if (!decision_apply(decision, plan->language, judgement)) {
        return false;
    }
    notice_too_many_points(marks, decision, student, judgement->points_most);
    const bool by_hand = decision_answer(decision, NULL) == NULL; /* what was read otherwise has its remark already */
    if (by_hand && judgement->points < judgement->points_most) {
        judge_add_right(plan, &work->question, i, &judgement->remark);
    }
    return true;
}

static void add_row(struct marks *marks, const struct lesson_plan *plan, unsigned student, size_t index, size_t i,
                    struct work *work)
{
    const struct lesson_question *question = &work->question;
    struct text expected = {0};
    struct text exact = {0};
    const bool decided = apply_decision(marks, plan, student, i, work);
    add_expected(plan, question, i, &expected, &exact);
    struct mark_row *row = new_row(marks, &work->judgement[i]);
    row->student = student;
    row->question = index + 1;
    row->part = copy_string(text_string(&work->part[i]));
    row->asked = copy_string(text_string(&work->asked[i]));
    row->answer = copy_string(work->answer[i] == NULL ? "" : work->answer[i]);
    row->expected = copy_string(text_string(&expected));
    row->exact = copy_string(text_string(&exact));
    row->decided = copy_string(!decided                                 ? ""
                               : work->decision[i]->decision[0] == '\0' ? work->decision[i]->points
                                                                        : work->decision[i]->decision);
    count_row(marks, row);
    text_done(&expected);
    text_done(&exact);
}

static void mark_one(struct marks *marks, const struct lesson_plan *plan, unsigned student, size_t index,
                     struct mark_cell *cells, size_t count, struct work *work)
{
    struct lesson_question *question = &work->question;
    lesson_question_make(plan, student, index, question);
    work_fit(work);
    gather(marks, student, index, cells, count, work);
    mark_question(plan, question, work->judged, work->judgement);
    for (size_t i = 0; i < question->count; i++) {
        if (question->quantities[i].asked != NULL) {
            add_row(marks, plan, student, index, i, work);
        }
    }
}

static void notice_unused(struct marks *marks, const struct mark_cell *cells, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        if (!cells[i].used) {
            notice(marks, &cells[i], cells[i].row, "files.no-such-part", "part", cells[i].part);
        }
    }
}

/* The numbers must be those of the sheet that was handed out, or the marks would be another sheet's. */
static bool is_same_sheet(struct marks *marks, const struct lesson_plan *plan, const struct mark_cell *cell)
{
    char code[LESSON_CODE_SIZE];
    if (plan->codes == NULL) {
        return true;
    }
    lesson_sheet_code(plan, cell->student, code);
    bool same = strcmp(code, plan->codes[cell->student - 1]) == 0;
    if (!same) {
        struct text word = {0};
        struct text student = {0};
        text_printf(&student, "%u", cell->student);
        say(&word, plan->language, "files.other-numbers", "student", text_string(&student), "made", code, "handed",
            plan->codes[cell->student - 1], (const char *)NULL);
        marks_notice(marks, cell->file, 0, text_string(&word));
        text_done(&word);
        text_done(&student);
    }
    return same;
}

/* All questions of one student, whose cells stand together. */
static void mark_student(struct marks *marks, const struct lesson_plan *plan, struct mark_cell *cells, size_t count,
                         struct work *work)
{
    if (!is_same_sheet(marks, plan, &cells[0])) {
        return;
    }
    marks->students =
        memory_grow(marks->students, marks->student_count, &marks->student_capacity, sizeof *marks->students);
    marks->students[marks->student_count++] =
        (struct mark_student){.student = cells[0].student, .first_row = marks->row_count};
    lesson_sheet_code(plan, cells[0].student, marks->students[marks->student_count - 1].sheet);
    size_t missing = 0;
    size_t at = 0;
    for (size_t index = 0; index < plan->question_count; index++) {
        size_t first = at;
        while (at < count && cells[at].question == index) {
            at++;
        }
        mark_one(marks, plan, cells[0].student, index, cells + first, at - first, work);
        for (size_t i = 0; i < work->question.count; i++) {
            missing += work->question.quantities[i].asked != NULL && work->answer[i] == NULL;
        }
        notice_unused(marks, cells + first, at - first);
    }
    if (missing > 0) {
        struct text number = {0};
        text_printf(&number, "%zu", missing);
        notice(marks, &cells[0], 0, missing == 1 ? "files.missing-one" : "files.missing", "number",
               text_string(&number));
        text_done(&number);
    }
}

/* The slip that stands most often in a part, for the instructor. */
static void find_slips(struct marks *marks)
{
    for (size_t i = 0; i < marks->summary_count; i++) {
        struct mark_summary *summary = &marks->summaries[i];
        size_t count[SLIP_COUNT] = {0};
        for (size_t k = 0; k < marks->row_count; k++) {
            const struct mark_row *row = &marks->rows[k];
            if (row->judgement.slip != SLIP_NONE && row->question == summary->question &&
                strcmp(row->part, summary->part) == 0) {
                count[row->judgement.slip]++;
            }
        }
        for (int slip = SLIP_NONE + 1; slip < SLIP_COUNT; slip++) {
            if (count[slip] > summary->slip_count) {
                summary->slip_count = count[slip];
                summary->slip = (enum slip)slip;
            }
        }
    }
}

static int compare_slips(const void *a, const void *b)
{
    const struct mark_slip *first = a;
    const struct mark_slip *second = b;
    if (first->students != second->students) {
        return first->students > second->students ? -1 : 1;
    }
    return first->slip < second->slip ? -1 : first->slip > second->slip;
}

/* Over all parts: how many students made each slip. */
static void count_slips(struct marks *marks)
{
    marks->slips = memory_resize(NULL, SLIP_COUNT, sizeof *marks->slips);
    for (int slip = SLIP_NONE + 1; slip < SLIP_COUNT; slip++) {
        size_t students = 0;
        for (size_t i = 0; i < marks->student_count; i++) {
            const struct mark_row *row = &marks->rows[marks->students[i].first_row];
            bool made = false;
            for (size_t k = 0; k < marks->students[i].row_count; k++) {
                made = made || (int)row[k].judgement.slip == slip;
            }
            students += made;
        }
        if (students > 0) {
            marks->slips[marks->slip_count++] = (struct mark_slip){(enum slip)slip, students};
        }
    }
    if (marks->slip_count > 0) {
        qsort(marks->slips, marks->slip_count, sizeof *marks->slips, compare_slips);
    }
}

static double percent(size_t points, size_t most, double otherwise)
{
    return most == 0 ? otherwise : 100.0 * (double)points / (double)most;
}

static void find_shares(struct marks *marks)
{
    for (size_t i = 0; i < marks->student_count; i++) {
        struct mark_student *student = &marks->students[i];
        student->points_possible = student->points + student->to_decide_points;
        student->share_percent = percent(student->points, student->points_most, 0);
    }
    for (size_t i = 0; i < marks->summary_count; i++) {
        marks->summaries[i].points_percent =
            percent(marks->summaries[i].points, marks->summaries[i].points_most, (double)NAN);
    }
}

void marks_finish(struct marks *marks, const struct lesson_plan *plan)
{
    struct work work = {0};
    marks->language = plan->language;
    lesson_question_init(&work.question);
    if (marks->cell_count > 0) {
        qsort(marks->cells, marks->cell_count, sizeof *marks->cells, compare_cells);
    }
    for (size_t first = 0; first < marks->cell_count;) {
        size_t end = first;
        while (end < marks->cell_count && marks->cells[end].student == marks->cells[first].student) {
            end++;
        }
        mark_student(marks, plan, marks->cells + first, end - first, &work);
        first = end;
    }
    find_slips(marks);
    count_slips(marks);
    find_shares(marks);
    notice_odd_decisions(marks);
    work_done(&work);
}
