/* Worksheets for a class, made here, and what came back, marked here; a child draws the pages of a PDF alone. */
#include <dirent.h>
#include <errno.h>
#include <stdlib.h>
#include <string.h>

#include "../draw/lesson_document.h"
#include "ampsum/show_mark.h"
#include "input.h"
#include "lesson.h"
#include "scratch.h"
#include "zip.h"

/* Numbers that a lesson takes, within what this page makes while others wait. */
struct lesson_number {
    struct input input;
    const char *usual; /* "": one of each kind */
    unsigned long long least;
    unsigned long long most;
};

static const char digits[] = " inputmode=\"numeric\" pattern=\"[0-9]*\" autocomplete=\"off\"";

static const struct lesson_number lesson_numbers[] = {
    {{"students", "Students: a sheet for each", .more = digits}, "1", 1, 40},
    {{"level", "Level: 1 easy, 4 hard", .more = digits}, "1", 1, LESSON_LEVEL_MOST},
    {{"questions", "Questions (empty: one of each kind)", .more = digits}, "", 1, 20},
    {{"seed", "Set: another number, other sheets", .more = digits}, "1", 0, 9223372036854775807ULL},
};

enum { LESSON_NUMBERS = sizeof lesson_numbers / sizeof lesson_numbers[0] };

/* ---- the form: the same entries for sheets and for marking them */

static void add_numbers(struct visit *visit, const struct form *given)
{
    for (size_t i = 0; i < LESSON_NUMBERS; i++) {
        const struct lesson_number *number = &lesson_numbers[i];
        const char *name = number->input.name;
        page_input(visit, &number->input, form_has(given, name) ? form_value(given, name) : number->usual);
    }
}

static bool is_chosen(const struct form *given, const char *kind)
{
    bool chosen = false;
    for (size_t i = 0; i < given->count; i++) {
        chosen = chosen || (strcmp(given->field[i].name, "kind") == 0 && strcmp(given->field[i].value, kind) == 0);
    }
    return chosen;
}

static void add_kinds(struct visit *visit, const struct form *given)
{
    page_add(visit, "<details%s", form_has(given, "kind") ? " open" : "");
    page_add(visit, "><summary>Kinds of questions (none chosen: all)</summary><fieldset><legend class=\"hidden\">Kinds "
                    "of questions</legend><div class=\"switches\">");
    struct lesson_plan plan = {0};
    lesson_plan_house(&plan, visit->house);
    for (int kind = 0; kind < LESSON_KIND_COUNT; kind++) {
        const char *word = lesson_kind_word((enum lesson_kind)kind);
        if (lesson_kind_fits(&plan, (enum lesson_kind)kind) == NULL) {
            page_add(visit, "<label><input type=\"checkbox\" name=\"kind\" value=\"%s\"%s> %s</label>", word,
                     is_chosen(given, word) ? " checked" : "",
                     lesson_kind_about(LANGUAGE_ENGLISH, (enum lesson_kind)kind));
        }
    }
    lesson_plan_done(&plan);
    page_add(visit, "</div></fieldset></details>");
}

void page_lesson_form(struct visit *visit)
{
    page_add(
        visit,
        "<h2>Worksheets for a class</h2><p>Questions on parallel loads, from this house's own branches where "
        "their figures suit, with a key that shows each step. The same entries give the same sheets again, "
        "so that worksheets and key belong together. All of it in one file holds <code>answers.csv</code> too: "
        "fill it in, and what came back is marked here.</p><form class=\"fields\" action=\"/files/worksheets.pdf\">");
    add_numbers(visit, &visit->query);
    add_kinds(visit, &visit->query);
    page_add(visit, "<p>");
    for (const struct lesson_file *file = lesson_files; file->name != NULL; file++) {
        page_add(visit, "<button formaction=\"/files/%s\">%s</button> ", file->name, file->what);
    }
    page_add(visit, "<button formaction=\"/mark\">Mark what came back</button></p></form>\n");
}

/* ---- the plan of the sheets */

/* A number of the form; NULL where it is left to be the usual. False with the refusal made where it is out of limits.
 */
static bool read_number(struct visit *visit, const struct form *given, const struct lesson_number *number,
                        const char **ret_value)
{
    const char *value = form_value(given, number->input.name);
    const size_t length = strspn(value, "0123456789");
    *ret_value = value[0] == '\0' ? NULL : value;
    if (value[0] == '\0' || (length <= 19 && value[length] == '\0' && strtoull(value, NULL, 10) >= number->least &&
                             strtoull(value, NULL, 10) <= number->most)) {
        return true;
    }
    struct text message = {0};
    text_printf(&message, "%s: a whole number from %llu to %llu is expected here.", number->input.name, number->least,
                number->most);
    text_add(&message, " More than that is made by `ampsum lesson`.");
    visit_refuse(visit, 422, "That is no number for a lesson", text_string(&message));
    text_done(&message);
    return false;
}

static void refuse_kind(struct visit *visit, const char *kind)
{
    struct text message = {0};
    text_add(&message, "No kind of question: ");
    text_add_shown(&message, kind);
    text_add(&message, ". There are: ");
    for (int i = 0; i < LESSON_KIND_COUNT; i++) {
        text_printf(&message, "%s%s", i == 0 ? "" : ", ", lesson_kind_word((enum lesson_kind)i));
    }
    text_add_char(&message, '.');
    visit_refuse(visit, 422, "No such kind of question", text_string(&message));
    text_done(&message);
}

/* The kinds chosen, each once. False with the refusal made where one is none. */
static bool read_kinds(struct visit *visit, const struct form *given, struct plan_question *question)
{
    bool chosen[LESSON_KIND_COUNT] = {false};
    const char **kinds = arena_array(visit->arena, LESSON_KIND_COUNT, sizeof *kinds);
    for (size_t i = 0; i < given->count; i++) {
        const struct field *field = &given->field[i];
        enum lesson_kind kind;
        if (strcmp(field->name, "kind") != 0) {
            continue;
        }
        if (!lesson_kind_find(field->value, &kind)) {
            refuse_kind(visit, field->value);
            return false;
        }
        if (!chosen[kind]) {
            kinds[question->kind_count++] = lesson_kind_word(kind);
        }
        chosen[kind] = true;
    }
    question->kinds = kinds;
    return true;
}

/* What the form asks for; false with the refusal made. */
static bool read_plan(struct visit *visit, const struct form *given, struct lesson_plan *ret_plan)
{
    const char *value[LESSON_NUMBERS];
    for (size_t i = 0; i < LESSON_NUMBERS; i++) {
        if (!read_number(visit, given, &lesson_numbers[i], &value[i])) {
            return false;
        }
    }
    struct plan_question question = {.house = visit->house,
                                     .dash = "",
                                     .students = value[0],
                                     .level = value[1],
                                     .questions = value[2],
                                     .seed = value[3]};
    if (!read_kinds(visit, given, &question)) {
        return false;
    }
    const bool good = answer_plan(&question, ret_plan, &visit->error);
    if (!good) {
        visit_refuse(visit, 422, "No such lesson", error_message(&visit->error));
    }
    return good;
}

/* ---- the files */

/* All files of the folder, by name, as they unpack into a folder of the lesson. */
static bool send_archive(struct visit *visit, const struct scratch *scratch)
{
    struct dirent **entries = NULL;
    const int count = scandir(text_string(&scratch->folder), &entries, NULL, alphasort);
    struct zip zip = {0};
    bool good = count >= 0;
    if (!good) {
        error_set(&visit->error, ERROR_STORE, "the folder of the lesson can't be read: %s", strerror(errno));
    }
    for (int i = 0; i < count; i++) {
        struct text file = {0};
        struct text name = {0};
        if (good && entries[i]->d_name[0] != '.') {
            text_printf(&name, "lesson/%s", entries[i]->d_name);
            good = scratch_read(scratch, entries[i]->d_name, &file, &visit->error);
            zip_add(&zip, &visit->answer.body, text_string(&name), &file);
        }
        text_done(&file);
        text_done(&name);
        free(entries[i]);
    }
    free(entries);
    zip_end(&zip, &visit->answer.body);
    return good;
}

/* The folder of the lesson, with its PDFs. */
static bool make_folder(struct visit *visit, const struct lesson_plan *plan, const char *folder)
{
    const enum print_paper paper = lesson_paper_of(plan);
    const char *const words[] = {"lesson-paper", folder, paper == PRINT_LETTER ? "letter" : "a4", "together", NULL};
    return lesson_write(plan, folder, false, &visit->error) && lesson_html_write(plan, folder, paper, &visit->error) &&
           visit_draw(visit, words);
}

bool send_lesson(struct visit *visit, const struct lesson_file *file)
{
    struct lesson_plan plan = {0};
    struct scratch scratch = {{0}};
    const bool good = read_plan(visit, &visit->query, &plan) && scratch_make(&scratch, &visit->error) &&
                      make_folder(visit, &plan, text_string(&scratch.folder)) &&
                      (file->archive ? send_archive(visit, &scratch)
                                     : scratch_read(&scratch, file->name, &visit->answer.body, &visit->error));
    scratch_done(&scratch);
    lesson_plan_done(&plan);
    return good;
}

const struct lesson_file lesson_files[] = {
    {"worksheets.pdf", "application/pdf", "Worksheets (PDF)", false},
    {"key.pdf", "application/pdf", "Their key (PDF)", false},
    {"lesson.zip", "application/zip", "All of it (ZIP)", true},
    {NULL, NULL, NULL, false},
};

/* ---- marking */

static void add_mark_form(struct visit *visit, const struct form *given)
{
    page_add(visit,
             "<p>Paste what was filled in of <code>answers.csv</code> or <code>answers-wide.csv</code>, with its first "
             "line, beside the entries with which the sheets were made. Nothing is kept.</p>"
             "<form method=\"post\" action=\"/mark\" class=\"fields\">");
    page_form_secrets(visit);
    add_numbers(visit, given);
    page_add(visit,
             "<label>Answers<textarea name=\"answers\" rows=\"12\" spellcheck=\"false\" required>%s</textarea></label>",
             form_lines(given, "answers"));
    page_add(visit, "<details><summary>Kinds of questions</summary>");
    add_kinds(visit, given);
    page_add(visit, "</details><p><button>Mark them</button></p></form>\n");
}

static void add_notices(const struct mark_answer *answer, struct visit *visit)
{
    page_add(visit, answer->marks.notice_count > 0 ? "<h2>Words on the answers</h2><ul>" : "");
    for (size_t i = 0; i < answer->marks.notice_count; i++) {
        const struct mark_notice *notice = &answer->marks.notices[i];
        page_add(visit, "<li>");
        if (notice->row > 0) {
            page_add(visit, "Line %zu: ", notice->row);
        }
        page_add(visit, "%s</li>", notice->word);
    }
    page_add(visit, answer->marks.notice_count > 0 ? "</ul>\n" : "");
}

static void add_marks(const struct mark_answer *answer, struct visit *visit)
{
    if (answer->to_decide > 0) {
        page_add(visit,
                 "<p class=\"answer\"><strong>%zu %s nobody can read but you.</strong> Here they count nothing; "
                 "<code>ampsum mark</code> keeps what you decide.</p>",
                 (size_t)answer->to_decide, answer->to_decide == 1 ? "answer is" : "answers are");
    }
    show_html_table(&show_students_rows, "Points", answer, answer->marks.student_count, &visit->answer.body);
    show_html_table(&show_parts_rows, "The class, part by part", answer, answer->marks.summary_count,
                    &visit->answer.body);
    if (answer->marks.slip_count > 0) {
        show_html_table(&show_slips_rows, "Likely slips", answer, answer->marks.slip_count, &visit->answer.body);
    }
    page_add(visit, "<details><summary>Every answer (%zu)</summary>", answer->lines.count);
    show_html_table(&show_marked_rows, "Every answer", &answer->lines, answer->lines.count, &visit->answer.body);
    page_add(visit, "</details>\n");
    add_notices(answer, visit);
}

void view_mark(struct visit *visit)
{
    page_begin(visit, "Mark a class");
    add_mark_form(visit, &visit->query);
    page_end(visit);
}

void mark_class(struct visit *visit)
{
    const char *answers = form_lines(&visit->body, "answers");
    const struct mark_source source = {"the answers", answers, strlen(answers)};
    struct lesson_plan plan = {0};
    struct mark_answer answer;
    if (!read_plan(visit, &visit->body, &plan)) {
        lesson_plan_done(&plan);
        return;
    }
    const bool good = answer_mark_plan(&plan, &source, 1, &answer, &visit->error);
    page_begin(visit, good ? "A class, marked" : "Mark a class");
    if (good) {
        add_marks(&answer, visit);
        page_add(visit, "<h2>Mark again</h2>");
    } else {
        visit->answer.status = 422;
        page_add(visit, "<div role=\"alert\"><p>No answer could be placed on these sheets.</p></div>");
        add_notices(&answer, visit);
    }
    add_mark_form(visit, &visit->body);
    page_end(visit);
    mark_answer_done(&answer);
}
