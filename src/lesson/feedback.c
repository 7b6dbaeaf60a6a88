/* What a student gets back, and the class at a glance: the same rows as plain text and as HTML. */
#include "ampsum/feedback.h"

#include <stdlib.h>
#include <string.h>

#include "ampsum/arena.h"
#include "ampsum/markup.h"
#include "ampsum/words.h"
#include "sheet.h"

/* "32 to 36 of 50, 1 to decide". */
static void add_points(struct text *text, const struct lesson_plan *plan, const struct mark_student *student)
{
    struct count_word points;
    struct count_word more;
    struct count_word most;
    const bool span = student->to_decide_points > 0;
    say(text, plan->language, span ? "feedback.span" : "feedback.of", "points", count_word(&points, student->points),
        "more", count_word(&more, student->points + student->to_decide_points), "most",
        count_word(&most, student->points_most), (const char *)NULL);
    if (student->to_decide > 0) {
        say(text, plan->language, "feedback.to-decide", "number", count_word(&points, student->to_decide),
            (const char *)NULL);
    }
}

/* "Week 3: ", where the lesson has a title. */
static void add_class_title(struct text *text, const struct lesson_plan *plan)
{
    if (plan->title != NULL && plan->title[0] != '\0') {
        text_printf(text, "%s%s ", plan->title, say_plain(plan->language, "language.colon"));
    }
}

static void add_title(struct text *text, const struct lesson_plan *plan, const struct mark_student *student)
{
    const char *name = lesson_name(plan, student->student);
    struct count_word number;
    struct text who = {0};
    if (name[0] == '\0') {
        say(&who, plan->language, "feedback.student", "number", count_word(&number, student->student),
            (const char *)NULL);
    } else {
        text_add(&who, name);
    }
    add_class_title(text, plan);
    say(text, plan->language, "feedback.title", "name", text_string(&who), (const char *)NULL);
    text_done(&who);
}

static const struct mark_row *rows_of(const struct marks *marks, const struct mark_student *student)
{
    return &marks->rows[student->first_row];
}

/* A line as the program made it, in the writing of the sheets; what a student wrote stays. */
static void add_written(struct text *text, const struct lesson_plan *plan, bool signs, const char *made)
{
    const struct writing writing = lesson_writing(plan, signs);
    language_write(text, &writing, made);
}

/* What would have been right, with the fraction. */
static void add_right(struct text *text, const struct lesson_plan *plan, bool signs, const struct mark_row *row)
{
    struct text made = {0};
    text_add(&made, row->expected);
    if (row->exact[0] != '\0') {
        say(&made, plan->language, "sheet.exactly", "fraction", row->exact, (const char *)NULL);
    }
    add_written(text, plan, signs, text_string(&made));
    text_done(&made);
}

/* Why: what was carried, then the remark. */
static void add_why(struct text *text, const struct lesson_plan *plan, bool signs, const struct judgement *judgement,
                    const char *between)
{
    const bool carried = judgement->verdict == MARK_CARRIED;
    struct text own = {0};
    add_written(&own, plan, signs, text_string(&judgement->from_own));
    if (carried) {
        say(text, plan->language, "feedback.carried", "answer", text_string(&own), (const char *)NULL);
    }
    text_add(text, carried && judgement->remark.length > 0 ? between : "");
    add_written(text, plan, signs, text_string(&judgement->remark));
    text_done(&own);
}

static const char *own_answer(const struct lesson_plan *plan, const struct mark_row *row)
{
    return row->answer[0] == '\0' ? say_plain(plan->language, "feedback.none") : row->answer;
}

static void add_answer_text(struct text *text, const struct lesson_plan *plan, const struct mark_row *row)
{
    const struct judgement *judgement = &row->judgement;
    struct count_word points;
    struct count_word most;
    struct text asked = {0};
    struct text right = {0};
    struct text why = {0};
    add_written(&asked, plan, false, row->asked);
    add_right(&right, plan, false, row);
    add_why(&why, plan, false, judgement, "\n       ");
    text_add(text, "   ");
    say(text, plan->language, judgement->points_most == 1 ? "feedback.part-one" : "feedback.part", "part", row->part,
        "asked", text_string(&asked), "points", count_word(&points, judgement->points), "most",
        count_word(&most, judgement->points_most), (const char *)NULL);
    text_add(text, "\n       ");
    say(text, plan->language, "feedback.own", "answer", own_answer(plan, row), (const char *)NULL);
    say(text, plan->language, "feedback.right", "answer", text_string(&right), (const char *)NULL);
    text_add_char(text, '\n');
    if (why.length > 0) {
        text_printf(text, "       %s\n", text_string(&why));
    }
    text_done(&asked);
    text_done(&right);
    text_done(&why);
}

static void add_question_name(struct text *text, int language, size_t question)
{
    struct count_word number;
    say(text, language, "feedback.question", "number", count_word(&number, question), (const char *)NULL);
}

void feedback_text(const struct marks *marks, const struct lesson_plan *plan, const struct mark_student *student,
                   struct text *text)
{
    size_t question = 0;
    add_title(text, plan, student);
    struct text points = {0};
    struct text known = {0};
    say(text, plan->language, "sheet.code", "code", student->sheet, (const char *)NULL);
    text_add_char(text, '\n');
    lesson_known_line(&known, plan, student->student);
    text_printf(text, "%s%s", text_string(&known), known.length > 0 ? "\n" : "");
    text_done(&known);
    add_points(&points, plan, student);
    say(text, plan->language, "feedback.points", "points", text_string(&points), (const char *)NULL);
    text_add_char(text, '\n');
    text_done(&points);
    for (size_t i = 0; i < student->row_count; i++) {
        const struct mark_row *row = &rows_of(marks, student)[i];
        if (row->question != question) {
            question = row->question;
            text_add_char(text, '\n');
            add_question_name(text, plan->language, question);
            text_add_char(text, '\n');
        }
        add_answer_text(text, plan, row);
    }
}

/* The inks of the local page, light and dark; on paper black on white. */
static const char style[] =
    ":root{color-scheme:light dark;--ground:#fff;--ink:#1a1a1a;--line:#757575}\n"
    "@media screen and (prefers-color-scheme:dark){:root{--ground:#16181a;--ink:#ececec;--line:#8f8f8f}}\n"
    "@media print{:root{color-scheme:light;--ink:#000}}\n"
    "body{font-family:sans-serif;max-width:60em;margin:1em auto;padding:0 1em;color:var(--ink);"
    "background:var(--ground)}\n"
    "table{border-collapse:collapse;width:100%}\n"
    "th,td{border:1px solid var(--line);padding:.3em .5em;text-align:left;vertical-align:top}\n"
    "caption{text-align:left;font-weight:bold;padding:.8em 0 .3em}\n";

static void open_html(struct text *html, int language, const char *title)
{
    text_printf(html, "<!DOCTYPE html>\n<html lang=\"%s\">\n", language_code(language));
    text_add(html, "<head>\n<meta charset=\"utf-8\">\n"
                   "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n<title>");
    markup_add(html, title);
    text_printf(html, "</title>\n<style>\n%s</style>\n</head>\n<body>\n<h1>", style);
    markup_add(html, title);
    text_add(html, "</h1>\n");
}

static void close_html(struct text *html)
{
    text_add(html, "</body>\n</html>\n");
}

static void add_cell(struct text *html, const char *tag, const char *string)
{
    text_printf(html, "<%s>", tag);
    markup_add(html, string);
    text_printf(html, "</%.2s>", tag); /* th and td; a scope behind the name is the opening's alone */
}

static void add_headings(struct text *html, const char *const *headings, size_t count)
{
    text_add(html, "<thead><tr>");
    for (size_t i = 0; i < count; i++) {
        add_cell(html, "th scope=\"col\"", headings[i]);
    }
    text_add(html, "</tr></thead>\n<tbody>\n");
}

static void add_answer_html(struct text *html, const struct lesson_plan *plan, const struct mark_row *row)
{
    const struct judgement *judgement = &row->judgement;
    struct text part = {0};
    struct text right = {0};
    struct text points = {0};
    struct text why = {0};
    struct count_word got;
    struct count_word most;
    text_printf(&part, "(%s) ", row->part);
    add_written(&part, plan, true, row->asked);
    add_right(&right, plan, true, row);
    say(&points, plan->language, "feedback.of", "points", count_word(&got, judgement->points), "most",
        count_word(&most, judgement->points_most), (const char *)NULL);
    add_why(&why, plan, true, judgement, "; ");
    text_add(html, "<tr>");
    add_cell(html, "th scope=\"row\"", text_string(&part));
    add_cell(html, "td", own_answer(plan, row));
    add_cell(html, "td", text_string(&right));
    add_cell(html, "td", text_string(&points));
    add_cell(html, "td", text_string(&why));
    text_add(html, "</tr>\n");
    text_done(&part);
    text_done(&right);
    text_done(&points);
    text_done(&why);
}

void feedback_html(const struct marks *marks, const struct lesson_plan *plan, const struct mark_student *student,
                   struct text *html)
{
    const int language = plan->language;
    const char *const headings[] = {say_plain(language, "feedback.head-part"), say_plain(language, "feedback.head-own"),
                                    say_plain(language, "feedback.head-right"),
                                    say_plain(language, "feedback.head-points"),
                                    say_plain(language, "feedback.head-why")};
    struct text points = {0};
    struct text title = {0};
    struct text line = {0};
    size_t question = 0;
    add_title(&title, plan, student);
    open_html(html, language, text_string(&title));
    lesson_known_line(&line, plan, student->student);
    add_points(&points, plan, student);
    say(&line, language, "feedback.sheet", "code", student->sheet, "points", text_string(&points), (const char *)NULL);
    text_done(&points);
    text_add(html, "<p>");
    markup_add(html, text_string(&line));
    text_add(html, "</p>\n");
    for (size_t i = 0; i < student->row_count; i++) {
        const struct mark_row *row = &rows_of(marks, student)[i];
        if (row->question != question) {
            text_add(html, question == 0 ? "" : "</tbody></table>\n");
            question = row->question;
            text_add(html, "<table><caption>");
            add_question_name(html, language, question);
            text_add(html, "</caption>\n");
            add_headings(html, headings, sizeof headings / sizeof headings[0]);
        }
        add_answer_html(html, plan, row);
    }
    text_add(html, question == 0 ? "" : "</tbody></table>\n");
    close_html(html);
    text_done(&title);
    text_done(&line);
}

/* ------------------------------------------------------------------ the class ----------------------------- */

enum { CLASS_COLUMNS = MARK_COUNT + 3 }; /* part, asked, how many of each verdict, share of the points */

static const char class_gap[] = "   "; /* between cells: two blanks and more tell them apart for who draws the page */

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

/* A cell in the arena, with no blanks side by side. */
static const char *kept_cell(struct arena *arena, struct text *text)
{
    struct text cell = {0};
    for (size_t i = 0; i < text->length; i++) {
        if (text->bytes[i] != ' ' || (cell.length > 0 && cell.bytes[cell.length - 1] != ' ')) {
            text_add_char(&cell, text->bytes[i]);
        }
    }
    const char *kept = arena_copy(arena, text_string(&cell));
    text_done(&cell);
    text_done(text);
    return kept;
}

static const char *count_cell(struct arena *arena, size_t number)
{
    struct text text = {0};
    text_printf(&text, "%zu", number);
    return kept_cell(arena, &text);
}

static void fill_part(const struct lesson_plan *plan, const struct mark_summary *row, struct arena *arena,
                      const char **cell)
{
    struct text text = {0};
    text_add(&text, row->part);
    cell[0] = kept_cell(arena, &text);
    add_written(&text, plan, false, row->asked);
    cell[1] = kept_cell(arena, &text);
    for (int i = 0; i < MARK_COUNT; i++) {
        cell[2 + i] = count_cell(arena, row->count[i]);
    }
    text_printf(&text, "%.0f", share_percent(row, 1));
    cell[2 + MARK_COUNT] = kept_cell(arena, &text);
}

static void fill_heads(const struct lesson_plan *plan, const char **cell)
{
    static const char *const keys[MARK_COUNT] = {[MARK_RIGHT] = "class.right",
                                                 [MARK_CARRIED] = "class.carried",
                                                 [MARK_WRONG] = "class.wrong",
                                                 [MARK_EMPTY] = "class.empty",
                                                 [MARK_DECIDE] = "class.decide"};
    cell[0] = say_plain(plan->language, "feedback.head-part");
    cell[1] = say_plain(plan->language, "class.asked");
    for (int i = 0; i < MARK_COUNT; i++) {
        cell[2 + i] = say_plain(plan->language, keys[i]);
    }
    cell[2 + MARK_COUNT] = "%";
}

/* Words to the left, figures to the right; the last cell of words without blanks behind it. */
static void add_cells(struct text *text, const char *const *cell, const size_t *width, size_t columns, size_t words)
{
    for (size_t i = 0; i < columns; i++) {
        const size_t own = words_columns(cell[i]);
        const size_t pad = width[i] > own ? width[i] - own : 0;
        text_printf(text, "%s%*s%s", class_gap, i < words ? 0 : (int)pad, "", cell[i]);
        text_printf(text, "%*s", i < words && i + 1 < columns ? (int)pad : 0, "");
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

/* A heading of the class's page: a line without blanks in front. */
static void add_class_heading(struct text *text, const struct lesson_plan *plan, const char *key)
{
    text_printf(text, "\n%s\n", say_plain(plan->language, key));
}

/* Questions as runs of the summaries, the most missed first. */
static struct class_question *rank_questions(const struct marks *marks, struct arena *arena, size_t *ret_count)
{
    struct class_question *questions = arena_array(arena, marks->summary_count + 1, sizeof *questions);
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

static void add_class_question(const struct lesson_plan *plan, const struct class_question *question, struct text *text)
{
    struct count_word number;
    struct text percent = {0};
    text_printf(&percent, "%.0f", question->share_percent);
    text_add(text, class_gap);
    say(text, plan->language, "class.question", "number", count_word(&number, question->first->question), "percent",
        text_string(&percent), (const char *)NULL);
    text_add_char(text, '\n');
    text_done(&percent);
}

/* A table of all parts by question. */
static void add_class_parts(const struct marks *marks, const struct lesson_plan *plan, struct text *text)
{
    struct arena *arena = arena_new();
    size_t count;
    size_t width[CLASS_COLUMNS] = {0};
    const char *heads[CLASS_COLUMNS];
    const struct class_question *questions = rank_questions(marks, arena, &count);
    const char *(*cells)[CLASS_COLUMNS] = arena_array(arena, marks->summary_count + 1, sizeof *cells);
    fill_heads(plan, heads);
    widen(width, heads, CLASS_COLUMNS);
    for (size_t i = 0; i < marks->summary_count; i++) {
        fill_part(plan, &marks->summaries[i], arena, cells[i]);
        widen(width, cells[i], CLASS_COLUMNS);
    }
    add_class_heading(text, plan, "class.parts");
    add_cells(text, heads, width, CLASS_COLUMNS, 2);
    for (size_t i = 0; i < count; i++) {
        const size_t first = (size_t)(questions[i].first - marks->summaries);
        add_class_question(plan, &questions[i], text);
        for (size_t row = first; row < first + questions[i].count; row++) {
            add_cells(text, cells[row], width, CLASS_COLUMNS, 2);
        }
    }
    arena_free(arena);
}

enum { STUDENT_COLUMNS = 2 };

static void add_class_students(const struct marks *marks, const struct lesson_plan *plan, struct text *text)
{
    struct arena *arena = arena_new();
    size_t width[STUDENT_COLUMNS] = {0};
    const char *(*cells)[STUDENT_COLUMNS] = arena_array(arena, marks->student_count + 1, sizeof *cells);
    cells[0][0] = say_plain(plan->language, "class.student");
    cells[0][1] = say_plain(plan->language, "feedback.head-points");
    for (size_t i = 0; i < marks->student_count; i++) {
        const struct mark_student *student = &marks->students[i];
        struct text cell = {0};
        text_printf(&cell, "%u %s", student->student, lesson_name(plan, student->student));
        cells[i + 1][0] = kept_cell(arena, &cell);
        add_points(&cell, plan, student);
        cells[i + 1][1] = kept_cell(arena, &cell);
    }
    add_class_heading(text, plan, "class.students");
    for (size_t i = 0; i <= marks->student_count; i++) {
        widen(width, cells[i], STUDENT_COLUMNS);
    }
    for (size_t i = 0; i <= marks->student_count; i++) {
        add_cells(text, cells[i], width, STUDENT_COLUMNS, STUDENT_COLUMNS);
    }
    arena_free(arena);
}

static void add_class_slips(const struct marks *marks, const struct lesson_plan *plan, struct text *text)
{
    add_class_heading(text, plan, "class.slips");
    for (size_t i = 0; i < marks->slip_count; i++) {
        struct count_word number;
        text_add(text, "   ");
        say(text, plan->language, marks->slips[i].students == 1 ? "class.slip-one" : "class.slip", "number",
            count_word(&number, marks->slips[i].students), "about", slip_about(plan->language, marks->slips[i].slip),
            "slip", slip_name(plan->language, marks->slips[i].slip), (const char *)NULL);
        text_add_char(text, '\n');
    }
    if (marks->slip_count == 0) {
        text_printf(text, "   %s\n", say_plain(plan->language, "class.no-slip"));
    }
}

void feedback_class_text(const struct marks *marks, const struct lesson_plan *plan, struct text *text)
{
    struct count_word number;
    add_class_title(text, plan);
    say(text, plan->language, marks->student_count == 1 ? "class.title-one" : "class.title", "number",
        count_word(&number, marks->student_count), (const char *)NULL);
    text_add_char(text, '\n');
    add_class_slips(marks, plan, text);
    add_class_parts(marks, plan, text);
    add_class_students(marks, plan, text);
}

/* Appends the name of a student's page: feedback-07.txt. */
static void feedback_name(struct text *name, const struct lesson_plan *plan, unsigned student, const char *ending)
{
    struct text sheet = {0};
    lesson_worksheet_name(&sheet, plan, student, ending);
    text_printf(name, "feedback%s", strchr(text_string(&sheet), '-'));
    text_done(&sheet);
}

static bool write_page(const struct lesson_plan *plan, const char *folder, const struct marks *marks,
                       const struct mark_student *student, struct error *error)
{
    struct text text = {0};
    struct text html = {0};
    struct text name = {0};
    feedback_text(marks, plan, student, &text);
    feedback_html(marks, plan, student, &html);
    feedback_name(&name, plan, student->student, "txt");
    bool ok = write_file(folder, text_string(&name), &text, error);
    text_clear(&name);
    feedback_name(&name, plan, student->student, "html");
    ok = ok && write_file(folder, text_string(&name), &html, error);
    text_done(&text);
    text_done(&html);
    text_done(&name);
    return ok;
}

bool feedback_write(const struct marks *marks, const struct lesson_plan *plan, const char *folder, struct error *error)
{
    struct text class_text = {0};
    bool ok = make_folder(folder, error);
    for (size_t i = 0; i < marks->student_count && ok; i++) {
        ok = write_page(plan, folder, marks, &marks->students[i], error);
    }
    feedback_class_text(marks, plan, &class_text);
    ok = ok && write_file(folder, "feedback-class.txt", &class_text, error);
    text_done(&class_text);
    return ok;
}
