/* What a student gets back, and the class at a glance: the same rows as plain text and as HTML. */
#include "ampsum/feedback.h"

#include <stdlib.h>
#include <string.h>

#include "ampsum/arena.h"
#include "ampsum/markup.h"
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

static void add_title(struct text *text, const struct lesson_plan *plan, const struct mark_student *student)
{
    const char *name = lesson_name(plan, student->student);
    const bool titled = plan->title != NULL && plan->title[0] != '\0';
    struct count_word number;
    struct text who = {0};
    if (name[0] == '\0') {
        say(&who, plan->language, "feedback.student", "number", count_word(&number, student->student),
            (const char *)NULL);
    } else {
        text_add(&who, name);
    }
    text_printf(text, "%s%s", titled ? plan->title : "", titled ? ": " : "");
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

static void open_html(struct text *html, int language, const char *title)
{
    text_printf(html, "<!DOCTYPE html>\n<html lang=\"%s\">\n", language_code(language));
    text_add(html, "<head>\n<meta charset=\"utf-8\">\n"
                   "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n<title>");
    markup_add(html, title);
    text_add(html, "</title>\n<style>\nbody { font-family: sans-serif; max-width: 60em; margin: 1em auto; padding: 0 "
                   "1em; color: #111; background: #fff }\ntable { border-collapse: collapse; width: 100% }\nth, td { "
                   "border: 1px solid #555; padding: 0.3em 0.5em; text-align: left; vertical-align: top }\ncaption { "
                   "text-align: left; font-weight: bold; padding: 0.8em 0 0.3em }\n</style>\n</head>\n<body>\n<h1>");
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

/* The share of its points that a part got, for the class; what is to decide is left out. */
static double share_percent(const struct mark_summary *row)
{
    return row->points_most == 0 ? 0 : 100.0 * (double)row->points / (double)row->points_most;
}

static int compare_shares(const void *a, const void *b)
{
    const struct mark_summary *first = *(const struct mark_summary *const *)a;
    const struct mark_summary *second = *(const struct mark_summary *const *)b;
    const double shares[] = {share_percent(first), share_percent(second)};
    if (shares[0] < shares[1] || shares[0] > shares[1]) {
        return shares[0] < shares[1] ? -1 : 1;
    }
    return first < second ? -1 : first > second; /* as on the sheet */
}

/* "2 right, 1 carried, ...". */
static void add_counts(struct text *text, int language, const struct mark_summary *row)
{
    struct count_word word[MARK_COUNT];
    for (int i = 0; i < MARK_COUNT; i++) {
        count_word(&word[i], row->count[i]);
    }
    say(text, language, "class.counts", "right", word[MARK_RIGHT].digits, "carried", word[MARK_CARRIED].digits, "wrong",
        word[MARK_WRONG].digits, "empty", word[MARK_EMPTY].digits, "decide", word[MARK_DECIDE].digits,
        (const char *)NULL);
}

static void add_class_part(const struct lesson_plan *plan, const struct mark_summary *row, struct text *text)
{
    struct text part = {0};
    struct text asked = {0};
    struct text percent = {0};
    struct text counts = {0};
    text_printf(&part, "%zu%s", row->question, row->part);
    add_written(&asked, plan, false, row->asked);
    text_printf(&percent, "%.0f", share_percent(row));
    add_counts(&counts, plan->language, row);
    text_add(text, "   ");
    say(text, plan->language, "class.part", "part", text_string(&part), "asked", text_string(&asked), "percent",
        text_string(&percent), "counts", text_string(&counts), (const char *)NULL);
    text_add_char(text, '\n');
    text_done(&part);
    text_done(&asked);
    text_done(&percent);
    text_done(&counts);
}

/* A heading of the class's page: a line without blanks in front. */
static void add_class_heading(struct text *text, const struct lesson_plan *plan, const char *key)
{
    text_printf(text, "\n%s\n", say_plain(plan->language, key));
}

/* The parts, the most missed first. */
static void add_class_parts(const struct marks *marks, const struct lesson_plan *plan, struct text *text)
{
    const struct mark_summary **order = memory_resize(NULL, marks->summary_count + 1, sizeof *order);
    for (size_t i = 0; i < marks->summary_count; i++) {
        order[i] = &marks->summaries[i];
    }
    if (marks->summary_count > 0) {
        qsort((void *)order, marks->summary_count, sizeof *order, compare_shares);
    }
    add_class_heading(text, plan, "class.parts");
    for (size_t i = 0; i < marks->summary_count; i++) {
        add_class_part(plan, order[i], text);
    }
    free((void *)order);
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
    const bool titled = plan->title != NULL && plan->title[0] != '\0';
    struct count_word number;
    text_printf(text, "%s%s", titled ? plan->title : "", titled ? ": " : "");
    say(text, plan->language, marks->student_count == 1 ? "class.title-one" : "class.title", "number",
        count_word(&number, marks->student_count), (const char *)NULL);
    text_add_char(text, '\n');
    add_class_slips(marks, plan, text);
    add_class_parts(marks, plan, text);
    add_class_heading(text, plan, "class.students");
    for (size_t i = 0; i < marks->student_count; i++) {
        const struct mark_student *student = &marks->students[i];
        const char *name = lesson_name(plan, student->student);
        text_printf(text, "   %u%s%s: ", student->student, name[0] == '\0' ? "" : " ", name);
        add_points(text, plan, student);
        text_add_char(text, '\n');
    }
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
