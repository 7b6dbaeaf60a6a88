/* Worksheets for a class, made here, and what came back, marked here; a child draws the pages of a PDF alone. */
#include <dirent.h>
#include <errno.h>
#include <stdlib.h>
#include <string.h>

#include "../draw/lesson_document.h"
#include "ampsum/show_mark.h"
#include "lesson.h"
#include "scratch.h"
#include "speak.h"
#include "zip.h"

/* Numbers that a lesson takes, within what this page makes while others wait. */
struct lesson_number {
    struct input input; /* its label is a key */
    const char *usual;  /* "": one of each kind */
    unsigned long long least;
    unsigned long long most;
};

static const char digits[] = " inputmode=\"numeric\" pattern=\"[0-9]*\" autocomplete=\"off\"";

static const struct lesson_number lesson_numbers[] = {
    {{"students", "sheets.students", .more = digits}, "1", 1, 40},
    {{"level", "sheets.level", .more = digits}, "1", 1, LESSON_LEVEL_MOST},
    {{"questions", "sheets.questions", .more = digits}, "", 1, 20},
    {{"seed", "sheets.seed", .more = digits}, "1", 0, 9223372036854775807ULL},
};

enum { LESSON_NUMBERS = sizeof lesson_numbers / sizeof lesson_numbers[0] };

/* ---- the form: the same entries for sheets and for marking them */

static void add_numbers(struct visit *visit, const struct form *given)
{
    for (size_t i = 0; i < LESSON_NUMBERS; i++) {
        const struct lesson_number *number = &lesson_numbers[i];
        const char *name = number->input.name;
        struct input input = number->input;
        input.label = page_word(visit, input.label);
        page_input(visit, &input, form_has(given, name) ? form_value(given, name) : number->usual);
    }
    page_language_choice(visit, "sheets.language");
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
    page_add(visit, "><summary>%s</summary><fieldset><legend class=\"hidden\">%s</legend><div class=\"switches\">",
             page_word(visit, "sheets.kinds"), page_word(visit, "sheets.kinds-short"));
    struct lesson_plan plan = {0};
    lesson_plan_house(&plan, visit->house);
    for (int kind = 0; kind < LESSON_KIND_COUNT; kind++) {
        const char *word = lesson_kind_word((enum lesson_kind)kind);
        if (lesson_kind_fits(&plan, (enum lesson_kind)kind) == NULL) {
            page_add(visit, "<label><input type=\"checkbox\" name=\"kind\" value=\"%s\"%s> %s</label>", word,
                     is_chosen(given, word) ? " checked" : "",
                     lesson_kind_about(visit->language, (enum lesson_kind)kind));
        }
    }
    lesson_plan_done(&plan);
    page_add(visit, "</div></fieldset></details>");
}

void page_lesson_form(struct visit *visit)
{
    page_add(visit, "<h2>%s</h2><p>", page_word(visit, "sheets.heading"));
    page_say_marked(visit, "sheets.about", "answers", "<code>answers.csv</code>");
    page_add(visit, "</p><form class=\"fields\" action=\"/files/worksheets.pdf\">");
    add_numbers(visit, &visit->query);
    add_kinds(visit, &visit->query);
    page_add(visit, "<p>");
    for (const struct lesson_file *file = lesson_files; file->name != NULL; file++) {
        page_add(visit, "<button formaction=\"/files/%s\">%s</button> ", file->name, page_word(visit, file->what));
    }
    page_add(visit, "<button formaction=\"/mark\">%s</button></p></form>\n", page_word(visit, "sheets.mark-what"));
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
    visit_refuse_said(visit, 422, page_word(visit, "sheets.no-number"),
                      page_said(visit, "sheets.number", "name", page_word(visit, number->input.label), "least",
                                arena_printf(visit->arena, "%llu", number->least), "most",
                                arena_printf(visit->arena, "%llu", number->most), "lesson", "`ampsum lesson`"));
    return false;
}

static void refuse_kind(struct visit *visit, const char *kind)
{
    struct text shown = {0};
    struct text all = {0};
    text_add_shown(&shown, kind);
    for (int i = 0; i < LESSON_KIND_COUNT; i++) {
        text_printf(&all, "%s%s", i == 0 ? "" : ", ", lesson_kind_word((enum lesson_kind)i));
    }
    visit_refuse_said(visit, 422, page_word(visit, "sheets.no-kind-title"),
                      page_said(visit, "sheets.no-kind", "kind", text_string(&shown), "kinds", text_string(&all)));
    text_done(&shown);
    text_done(&all);
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

/* In the class's language what the house lacks for a kind that was chosen; what else there may be as it is. */
static void refuse_plan(struct visit *visit, const struct plan_question *question, const struct lesson_plan *plan)
{
    for (size_t i = 0; i < question->kind_count; i++) {
        enum lesson_kind kind;
        const char *why = lesson_kind_find(question->kinds[i], &kind) ? lesson_kind_fits(plan, kind) : NULL;
        if (why != NULL) {
            visit_refuse_said(
                visit, 422, page_word(visit, "sheets.no-kind-title"),
                page_said(visit, "sheets.unfit-kind", "kind", lesson_kind_about(visit->language, kind), "why", why));
            return;
        }
    }
    visit_refuse(visit, 422, "No such lesson", error_message(&visit->error));
}

/* What the form asks for; false with the refusal made. */
static bool read_plan(struct visit *visit, const struct form *given, struct lesson_plan *ret_plan)
{
    const char *value[LESSON_NUMBERS];
    page_language(visit, given);
    for (size_t i = 0; i < LESSON_NUMBERS; i++) {
        if (!read_number(visit, given, &lesson_numbers[i], &value[i])) {
            return false;
        }
    }
    struct plan_question question = {.house = visit->house,
                                     .dash = "",
                                     .scheme = {.language = language_code(visit->language)},
                                     .students = value[0],
                                     .level = value[1],
                                     .questions = value[2],
                                     .seed = value[3]};
    if (!read_kinds(visit, given, &question)) {
        return false;
    }
    const bool good = answer_plan(&question, ret_plan, &visit->error);
    if (!good) {
        refuse_plan(visit, &question, ret_plan);
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
    return lesson_folder_write(plan, folder, false, paper, &visit->error) && visit_draw(visit, words);
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
    {"worksheets.pdf", "application/pdf", "sheets.worksheets-pdf", false},
    {"key.pdf", "application/pdf", "sheets.key-pdf", false},
    {"lesson.zip", "application/zip", "sheets.zip", true},
    {NULL, NULL, NULL, false},
};

/* ---- marking */

static void add_mark_form(struct visit *visit, const struct form *given)
{
    page_add(visit, "<p>");
    page_say_marked(visit, "sheets.paste", "answers", "<code>answers.csv</code>", "wide",
                    "<code>answers-wide.csv</code>");
    page_add(visit, "</p>");
    page_post(visit, "/mark", "fields");
    add_numbers(visit, given);
    page_add(visit,
             "<label>%s<textarea name=\"answers\" rows=\"12\" spellcheck=\"false\" required>%s</textarea></label>",
             page_word(visit, "sheets.answers"), form_lines(given, "answers"));
    add_kinds(visit, given);
    page_add(visit, "<p><button>%s</button></p></form>\n", page_word(visit, "sheets.mark-them"));
}

static void add_notices(const struct mark_answer *answer, struct visit *visit)
{
    if (answer->marks.notice_count == 0) {
        return;
    }
    page_add(visit, "<h2>%s</h2><ul>", page_word(visit, "sheets.words"));
    for (size_t i = 0; i < answer->marks.notice_count; i++) {
        const struct mark_notice *notice = &answer->marks.notices[i];
        page_add(visit, "<li>");
        if (notice->row > 0) {
            page_say(visit, "sheets.line", "number", page_count(visit, notice->row));
        }
        page_add(visit, "%s</li>", notice->word);
    }
    page_add(visit, "</ul>\n");
}

static void add_undecided(const struct mark_answer *answer, struct visit *visit)
{
    page_add(visit, "<p class=\"answer\"><strong>");
    page_say(visit, answer->to_decide == 1 ? "sheets.decide-one" : "sheets.decide", "number",
             page_count(visit, answer->to_decide));
    page_add(visit, "</strong> ");
    page_say_marked(visit, "sheets.decide-more", "mark", "<code>ampsum mark</code>");
    page_add(visit, "</p>");
}

static void add_marks(const struct mark_answer *answer, struct visit *visit)
{
    struct text *html = &visit->answer.body;
    if (answer->to_decide > 0) {
        add_undecided(answer, visit);
    }
    show_html_table(&show_students_rows, page_word(visit, "marks.points"), answer, answer->marks.student_count, html);
    show_html_table(&show_parts_rows, page_word(visit, "sheets.class-parts"), answer, answer->marks.summary_count,
                    html);
    if (answer->marks.slip_count > 0) {
        show_html_table(&show_slips_rows, page_word(visit, "sheets.slips"), answer, answer->marks.slip_count, html);
    }
    page_add(visit, "<details><summary>");
    page_say(visit, "sheets.every-count", "number", page_count(visit, answer->lines.count));
    page_add(visit, "</summary>");
    show_html_table(&show_marked_rows, page_word(visit, "sheets.every"), &answer->lines, answer->lines.count, html);
    page_add(visit, "</details>\n");
    add_notices(answer, visit);
}

void view_mark(struct visit *visit)
{
    page_begin(visit, page_word(visit, "sheets.mark-title"));
    page_languages(visit);
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
    const bool good = answer_mark_plan(&plan, &source, &answer, &visit->error);
    page_begin(visit, page_word(visit, good ? "sheets.marked-title" : "sheets.mark-title"));
    if (good) {
        add_marks(&answer, visit);
        page_add(visit, "<h2>%s</h2>", page_word(visit, "sheets.again"));
    } else {
        visit->answer.status = 422;
        page_add(visit, "<div role=\"alert\"><p>%s</p></div>", page_word(visit, "sheets.not-placed"));
        add_notices(&answer, visit);
    }
    add_mark_form(visit, &visit->body);
    page_end(visit);
    mark_answer_done(&answer);
}
