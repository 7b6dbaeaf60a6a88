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

/* What would have been right, with the fraction. */
static void add_right(struct text *text, int language, const struct mark_row *row)
{
    text_add(text, row->expected);
    if (row->exact[0] != '\0') {
        say(text, language, "sheet.exactly", "fraction", row->exact, (const char *)NULL);
    }
}

static void add_carried(struct text *text, int language, const struct judgement *judgement)
{
    say(text, language, "feedback.carried", "answer", text_string(&judgement->from_own), (const char *)NULL);
}

static void add_answer_text(struct text *text, int language, const struct mark_row *row)
{
    const struct judgement *judgement = &row->judgement;
    struct count_word points;
    struct count_word most;
    struct text right = {0};
    text_add(text, "   ");
    say(text, language, judgement->points_most == 1 ? "feedback.part-one" : "feedback.part", "part", row->part, "asked",
        row->asked, "points", count_word(&points, judgement->points), "most", count_word(&most, judgement->points_most),
        (const char *)NULL);
    text_add(text, "\n       ");
    say(text, language, "feedback.own", "answer",
        row->answer[0] == '\0' ? say_plain(language, "feedback.none") : row->answer, (const char *)NULL);
    add_right(&right, language, row);
    say(text, language, "feedback.right", "answer", text_string(&right), (const char *)NULL);
    text_add_char(text, '\n');
    if (judgement->verdict == MARK_CARRIED) {
        text_add(text, "       ");
        add_carried(text, language, judgement);
        text_add_char(text, '\n');
    }
    if (judgement->remark.length > 0) {
        text_printf(text, "       %s\n", text_string(&judgement->remark));
    }
    text_done(&right);
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
    say(text, plan->language, "sheet.code", "code", student->sheet, (const char *)NULL);
    text_add_char(text, '\n');
    lesson_person_line(text, plan, student->student);
    text_add_char(text, '\n');
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
        add_answer_text(text, plan->language, row);
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

static void add_answer_html(struct text *html, int language, const struct mark_row *row)
{
    const struct judgement *judgement = &row->judgement;
    struct text part = {0};
    struct text right = {0};
    struct text points = {0};
    struct text why = {0};
    text_printf(&part, "(%s) %s", row->part, row->asked);
    struct count_word got;
    struct count_word most;
    add_right(&right, language, row);
    say(&points, language, "feedback.of", "points", count_word(&got, judgement->points), "most",
        count_word(&most, judgement->points_most), (const char *)NULL);
    if (judgement->verdict == MARK_CARRIED) {
        add_carried(&why, language, judgement);
        text_add(&why, judgement->remark.length > 0 ? "; " : "");
    }
    text_add(&why, text_string(&judgement->remark));
    text_add(html, "<tr>");
    add_cell(html, "th scope=\"row\"", text_string(&part));
    add_cell(html, "td", row->answer[0] == '\0' ? say_plain(language, "feedback.none") : row->answer);
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
    lesson_person_line(&line, plan, student->student);
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
        add_answer_html(html, language, row);
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

/* The parts, the most missed first. */
static void add_class_parts(const struct marks *marks, struct text *text)
{
    const struct mark_summary **order = memory_resize(NULL, marks->summary_count + 1, sizeof *order);
    for (size_t i = 0; i < marks->summary_count; i++) {
        order[i] = &marks->summaries[i];
    }
    if (marks->summary_count > 0) {
        qsort((void *)order, marks->summary_count, sizeof *order, compare_shares);
    }
    text_add(text, "\nParts, the most missed first\n");
    for (size_t i = 0; i < marks->summary_count; i++) {
        const struct mark_summary *row = order[i];
        text_printf(text, "   %zu%s %s: %.0f %% of the points; ", row->question, row->part, row->asked,
                    share_percent(row));
        for (int verdict = 0; verdict < MARK_COUNT; verdict++) {
            text_printf(text, "%s%zu %s", verdict == 0 ? "" : ", ", row->count[verdict],
                        verdict == MARK_DECIDE ? "to decide" : mark_verdict_word((enum mark_verdict)verdict));
        }
        text_add_char(text, '\n');
    }
    free((void *)order);
}

void feedback_class_text(const struct marks *marks, const struct lesson_plan *plan, struct text *text)
{
    const bool titled = plan->title != NULL && plan->title[0] != '\0';
    text_printf(text, "%s%sThe class, %zu student%s\n", titled ? plan->title : "", titled ? ": " : "",
                marks->student_count, marks->student_count == 1 ? "" : "s");
    text_add(text, "\nCommonest slips\n");
    for (size_t i = 0; i < marks->slip_count; i++) {
        text_printf(text, "   %zu student%s: %s (%s)\n", marks->slips[i].students,
                    marks->slips[i].students == 1 ? "" : "s", slip_about(marks->slips[i].slip),
                    slip_word(marks->slips[i].slip));
    }
    text_add(text, marks->slip_count == 0 ? "   none\n" : "");
    add_class_parts(marks, text);
    text_add(text, "\nStudents\n");
    for (size_t i = 0; i < marks->student_count; i++) {
        const struct mark_student *student = &marks->students[i];
        const char *name = lesson_name(plan, student->student);
        text_printf(text, "   %u%s%s: ", student->student, name[0] == '\0' ? "" : " ", name);
        add_points(text, plan, student);
        text_add_char(text, '\n');
    }
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

void feedback_name(struct text *name, const struct lesson_plan *plan, unsigned student, const char *ending)
{
    struct text sheet = {0};
    lesson_worksheet_name(&sheet, plan, student, ending);
    text_printf(name, "feedback%s", strchr(text_string(&sheet), '-'));
    text_done(&sheet);
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
