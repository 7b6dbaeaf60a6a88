/* What a student gets back, and the class at a glance: what stands there, and the same as plain text. */
#include "ampsum/feedback.h"

#include <stdlib.h>

#include "ampsum/words.h"
#include "sheet.h"

/* What is described at the moment. */
struct work {
    const struct marks *marks;
    const struct lesson_plan *plan;
    struct writing writing;
    struct arena *arena;
};

static struct work work_of(const struct marks *marks, const struct lesson_plan *plan, bool signs, struct arena *arena)
{
    return (struct work){marks, plan, lesson_writing(plan, signs), arena};
}

static const char *word(const struct work *work, const char *key)
{
    return say_plain(work->plan->language, key);
}

/* "32 to 36 of 50, 1 to decide". */
static void add_points(const struct work *work, const struct mark_student *student, struct text *text)
{
    struct count_word points;
    struct count_word more;
    struct count_word most;
    const bool span = student->to_decide_points > 0;
    say(text, work->plan->language, span ? "feedback.span" : "feedback.of", "points",
        count_word(&points, student->points), "more", count_word(&more, student->points + student->to_decide_points),
        "most", count_word(&most, student->points_most), (const char *)NULL);
    if (student->to_decide > 0) {
        say(text, work->plan->language, "feedback.to-decide", "number", count_word(&points, student->to_decide),
            (const char *)NULL);
    }
}

/* "Week 3: ", where the lesson has a title. */
static void add_lesson_title(const struct work *work, struct text *text)
{
    const char *title = work->plan->title;
    if (title != NULL && title[0] != '\0') {
        text_printf(text, "%s%s ", title, word(work, "language.colon"));
    }
}

static const char *make_title(const struct work *work, const struct mark_student *student)
{
    const char *name = lesson_name(work->plan, student->student);
    struct count_word number;
    struct text who = {0};
    struct text title = {0};
    if (name[0] == '\0') {
        say(&who, work->plan->language, "feedback.student", "number", count_word(&number, student->student),
            (const char *)NULL);
    } else {
        text_add(&who, name);
    }
    add_lesson_title(work, &title);
    say(&title, work->plan->language, "feedback.title", "name", text_string(&who), (const char *)NULL);
    say(&title, work->plan->language, "sheet.code", "code", student->sheet, (const char *)NULL);
    text_done(&who);
    return arena_text(work->arena, &title);
}

/* ------------------------------------------------------------------ a part -------------------------------- */

/* A line as the program made it, in the writing of the sheets; what a student wrote stays. */
static const char *written(const struct work *work, const char *made)
{
    struct text text = {0};
    language_write(&text, &work->writing, made);
    return arena_text(work->arena, &text);
}

/* What would have been right, with the fraction. */
static const char *make_right(const struct work *work, const struct mark_row *row)
{
    struct text made = {0};
    text_add(&made, row->expected);
    if (row->exact[0] != '\0') {
        say(&made, work->plan->language, "sheet.exactly", "fraction", row->exact, (const char *)NULL);
    }
    const char *right = written(work, text_string(&made));
    text_done(&made);
    return right;
}

static void add_why(const struct work *work, const struct judgement *judgement, struct feedback_part *part)
{
    size_t count = 0;
    struct text carried = {0};
    if (judgement->verdict == MARK_CARRIED) {
        say(&carried, work->plan->language, "feedback.carried", "answer",
            written(work, text_string(&judgement->from_own)), (const char *)NULL);
        part->why[count++] = arena_text(work->arena, &carried);
    }
    if (judgement->remark.length > 0) {
        part->why[count] = written(work, text_string(&judgement->remark));
    }
}

static struct feedback_part make_part(const struct work *work, const struct mark_row *row)
{
    const int language = work->plan->language;
    const struct judgement *judgement = &row->judgement;
    struct count_word points;
    struct count_word most;
    struct text text = {0};
    struct feedback_part part = {.own = row->answer[0] == '\0' ? word(work, "feedback.none") : row->answer,
                                 .right = make_right(work, row)};
    const char *asked = written(work, row->asked);
    count_word(&points, judgement->points);
    count_word(&most, judgement->points_most);
    part.name = arena_printf(work->arena, "(%s) %s", row->part, asked);
    say(&text, language, "feedback.of", "points", points.digits, "most", most.digits, (const char *)NULL);
    part.points = arena_text(work->arena, &text);
    say(&text, language, judgement->points_most == 1 ? "feedback.part-one" : "feedback.part", "part", row->part,
        "asked", asked, "points", points.digits, "most", most.digits, (const char *)NULL);
    part.head = arena_text(work->arena, &text);
    say(&text, language, "feedback.own", "answer", part.own, (const char *)NULL);
    say(&text, language, "feedback.right", "answer", part.right, (const char *)NULL);
    part.answers = arena_text(work->arena, &text);
    add_why(work, judgement, &part);
    return part;
}

/* ------------------------------------------------------------------ a student ----------------------------- */

static const char *question_name(const struct work *work, size_t question)
{
    struct count_word number;
    struct text text = {0};
    say(&text, work->plan->language, "feedback.question", "number", count_word(&number, question), (const char *)NULL);
    return arena_text(work->arena, &text);
}

/* The rows of a student's answers by question. */
static void add_questions(const struct work *work, const struct mark_student *student, struct feedback *feedback)
{
    struct feedback_part *parts = arena_array(work->arena, student->row_count, sizeof *parts);
    size_t question = 0;
    feedback->questions = arena_array(work->arena, student->row_count, sizeof *feedback->questions);
    for (size_t i = 0; i < student->row_count; i++) {
        const struct mark_row *row = &work->marks->rows[student->first_row + i];
        if (row->question != question) {
            question = row->question;
            feedback->questions[feedback->count++] =
                (struct feedback_question){question_name(work, question), &parts[i], 0};
        }
        parts[i] = make_part(work, row);
        feedback->questions[feedback->count - 1].count++;
    }
}

struct feedback feedback_of(const struct marks *marks, const struct lesson_plan *plan,
                            const struct mark_student *student, bool signs, struct arena *arena)
{
    const struct work work = work_of(marks, plan, signs, arena);
    struct feedback feedback = {.title = make_title(&work, student)};
    struct text points = {0};
    struct text text = {0};
    lesson_known_line(&text, plan, student->student);
    feedback.known = arena_text(arena, &text);
    add_points(&work, student, &points);
    say(&text, plan->language, "feedback.points", "points", text_string(&points), (const char *)NULL);
    feedback.points = arena_text(arena, &text);
    add_questions(&work, student, &feedback);
    text_done(&points);
    return feedback;
}

static void add_part_text(const struct feedback_part *part, struct text *text)
{
    text_printf(text, "   %s\n       %s\n", part->head, part->answers);
    for (size_t i = 0; part->why[i] != NULL; i++) {
        text_printf(text, "       %s\n", part->why[i]);
    }
}

void feedback_text(const struct feedback *feedback, struct text *text)
{
    text_printf(text, "%s\n%s%s%s\n", feedback->title, feedback->known, feedback->known[0] == '\0' ? "" : "\n",
                feedback->points);
    for (size_t i = 0; i < feedback->count; i++) {
        const struct feedback_question *question = &feedback->questions[i];
        text_printf(text, "\n%s\n", question->name);
        for (size_t k = 0; k < question->count; k++) {
            add_part_text(&question->parts[k], text);
        }
    }
}

/* ------------------------------------------------------------------ the class ----------------------------- */

enum { PART_COLUMNS = FEEDBACK_WORDS + MARK_COUNT + 1, STUDENT_COLUMNS = 2 };

/* A question of the sheet: its parts are summaries from `first` on. */
struct class_question {
    const struct mark_summary *first;
    size_t count;
    double share_percent; /* of its points that the class got; what is to decide is left out */
};

static double share_percent(const struct mark_summary *first, size_t count)
{
    double points = 0;
    double most = 0;
    for (size_t i = 0; i < count; i++) {
        points += (double)first[i].points;
        most += (double)first[i].points_most;
    }
    return most > 0 ? 100 * points / most : 0;
}

static int compare_questions(const void *a, const void *b)
{
    const struct class_question *x = a;
    const struct class_question *y = b;
    if (x->share_percent < y->share_percent || x->share_percent > y->share_percent) {
        return x->share_percent < y->share_percent ? -1 : 1;
    }
    return x->first < y->first ? -1 : x->first > y->first; /* as on the sheet */
}

/* Questions as runs of the summaries, the most missed first. */
static struct class_question *rank_questions(const struct work *work, size_t *ret_count)
{
    const struct marks *marks = work->marks;
    struct class_question *questions = arena_array(work->arena, marks->summary_count + 1, sizeof *questions);
    size_t count = 0;
    for (size_t i = 0; i < marks->summary_count; i++) {
        const struct mark_summary *row = &marks->summaries[i];
        if (count == 0 || questions[count - 1].first->question != row->question) {
            questions[count++].first = row;
        }
        questions[count - 1].count++;
    }
    for (size_t i = 0; i < count; i++) {
        questions[i].share_percent = share_percent(questions[i].first, questions[i].count);
    }
    qsort(questions, count, sizeof *questions, compare_questions);
    *ret_count = count;
    return questions;
}

static const char *question_line(const struct work *work, const struct class_question *question)
{
    struct count_word number;
    struct text text = {0};
    say(&text, work->plan->language, "class.question", "number", count_word(&number, question->first->question),
        "percent", arena_printf(work->arena, "%.0f", question->share_percent), (const char *)NULL);
    return arena_text(work->arena, &text);
}

static const char *const *part_cells(const struct work *work, const struct mark_summary *row)
{
    const char **cell = arena_array(work->arena, PART_COLUMNS, sizeof *cell);
    cell[0] = row->part;
    cell[1] = written(work, row->asked);
    for (int i = 0; i < MARK_COUNT; i++) {
        cell[FEEDBACK_WORDS + i] = arena_printf(work->arena, "%zu", row->count[i]);
    }
    cell[PART_COLUMNS - 1] = arena_printf(work->arena, "%.0f", share_percent(row, 1));
    return cell;
}

static const char *const *heads_of(const struct work *work, const char *const *keys, size_t count)
{
    const char **heads = arena_array(work->arena, count, sizeof *heads);
    for (size_t i = 0; i < count; i++) {
        heads[i] = keys[i] == NULL ? "%" : word(work, keys[i]);
    }
    return heads;
}

static struct feedback_table table_of(const struct work *work, const char *heading, const char *const *keys,
                                      size_t columns, size_t most)
{
    return (struct feedback_table){.heading = word(work, heading),
                                   .heads = heads_of(work, keys, columns),
                                   .columns = columns,
                                   .rows = arena_array(work->arena, most, sizeof(struct feedback_row))};
}

/* All parts by question. */
static struct feedback_table class_parts(const struct work *work)
{
    static const char *const keys[PART_COLUMNS] = {"feedback.head-part",
                                                   "class.asked",
                                                   [FEEDBACK_WORDS + MARK_RIGHT] = "class.right",
                                                   [FEEDBACK_WORDS + MARK_CARRIED] = "class.carried",
                                                   [FEEDBACK_WORDS + MARK_WRONG] = "class.wrong",
                                                   [FEEDBACK_WORDS + MARK_EMPTY] = "class.empty",
                                                   [FEEDBACK_WORDS + MARK_DECIDE] = "class.decide"};
    size_t count;
    const struct class_question *questions = rank_questions(work, &count);
    struct feedback_table table =
        table_of(work, "class.parts", keys, PART_COLUMNS, work->marks->summary_count + count + 1);
    for (size_t i = 0; i < count; i++) {
        table.rows[table.count++].line = question_line(work, &questions[i]);
        for (size_t k = 0; k < questions[i].count; k++) {
            table.rows[table.count++].cells = part_cells(work, &questions[i].first[k]);
        }
    }
    return table;
}

static struct feedback_table class_students(const struct work *work)
{
    static const char *const keys[STUDENT_COLUMNS] = {"class.student", "feedback.head-points"};
    const struct marks *marks = work->marks;
    struct feedback_table table = table_of(work, "class.students", keys, STUDENT_COLUMNS, marks->student_count + 1);
    for (size_t i = 0; i < marks->student_count; i++) {
        const struct mark_student *student = &marks->students[i];
        const char **cells = arena_array(work->arena, STUDENT_COLUMNS, sizeof *cells);
        struct text points = {0};
        cells[0] = arena_printf(work->arena, "%u %s", student->student, lesson_name(work->plan, student->student));
        add_points(work, student, &points);
        cells[1] = arena_text(work->arena, &points);
        table.rows[table.count++].cells = cells;
    }
    return table;
}

static const char *slip_line(const struct work *work, const struct mark_slip *slip)
{
    const int language = work->plan->language;
    struct count_word number;
    struct text text = {0};
    say(&text, language, slip->students == 1 ? "class.slip-one" : "class.slip", "number",
        count_word(&number, slip->students), "about", slip_about(language, slip->slip), "slip",
        slip_name(language, slip->slip), (const char *)NULL);
    return arena_text(work->arena, &text);
}

static void add_slips(const struct work *work, struct feedback_class *class)
{
    const struct marks *marks = work->marks;
    class->slips_heading = word(work, "class.slips");
    class->slips = arena_array(work->arena, marks->slip_count + 1, sizeof *class->slips);
    for (size_t i = 0; i < marks->slip_count; i++) {
        class->slips[class->slip_count++] = slip_line(work, &marks->slips[i]);
    }
    if (marks->slip_count == 0) {
        class->slips[class->slip_count++] = word(work, "class.no-slip");
    }
}

struct feedback_class feedback_of_class(const struct marks *marks, const struct lesson_plan *plan, bool signs,
                                        struct arena *arena)
{
    const struct work work = work_of(marks, plan, signs, arena);
    struct count_word number;
    struct text title = {0};
    add_lesson_title(&work, &title);
    say(&title, plan->language, marks->student_count == 1 ? "class.title-one" : "class.title", "number",
        count_word(&number, marks->student_count), (const char *)NULL);
    struct feedback_class class = {
        .title = arena_text(arena, &title), .parts = class_parts(&work), .students = class_students(&work)};
    add_slips(&work, &class);
    return class;
}

static const char class_gap[] = "   "; /* between cells */

/* Words to the left, figures to the right; the last cell of words without blanks behind it. */
static void add_cells(const struct feedback_table *table, const char *const *cell, const size_t *width,
                      struct text *text)
{
    for (size_t i = 0; i < table->columns; i++) {
        const size_t own = words_columns(cell[i]);
        const size_t pad = width[i] > own ? width[i] - own : 0;
        text_printf(text, "%s%*s%s", class_gap, i < FEEDBACK_WORDS ? 0 : (int)pad, "", cell[i]);
        text_printf(text, "%*s", i < FEEDBACK_WORDS && i + 1 < table->columns ? (int)pad : 0, "");
    }
    text_add_char(text, '\n');
}

static void widen(size_t *width, const char *const *cell, size_t columns)
{
    for (size_t i = 0; i < columns; i++) {
        const size_t own = words_columns(cell[i]);
        width[i] = own > width[i] ? own : width[i];
    }
}

static void add_table_text(const struct feedback_table *table, struct text *text)
{
    size_t width[PART_COLUMNS] = {0};
    widen(width, table->heads, table->columns);
    for (size_t i = 0; i < table->count; i++) {
        widen(width, table->rows[i].cells, table->rows[i].line == NULL ? table->columns : 0);
    }
    text_printf(text, "\n%s\n", table->heading);
    add_cells(table, table->heads, width, text);
    for (size_t i = 0; i < table->count; i++) {
        if (table->rows[i].line != NULL) {
            text_printf(text, "%s%s\n", class_gap, table->rows[i].line);
        } else {
            add_cells(table, table->rows[i].cells, width, text);
        }
    }
}

void feedback_class_text(const struct feedback_class *class, struct text *text)
{
    text_printf(text, "%s\n\n%s\n", class->title, class->slips_heading);
    for (size_t i = 0; i < class->slip_count; i++) {
        text_printf(text, "%s%s\n", class_gap, class->slips[i]);
    }
    add_table_text(&class->parts, text);
    add_table_text(&class->students, text);
}
