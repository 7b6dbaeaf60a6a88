/* What can be taken away: the house file, what commands print or write, worksheets for a class. */
#include <dirent.h>
#include <errno.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "ampsum/lesson.h"
#include "ampsum/show_check.h"
#include "ampsum/show_cost.h"
#include "ampsum/show_day.h"
#include "ampsum/show_demand.h"
#include "scratch.h"
#include "site.h"
#include "zip.h"

enum way {
    WAY_HOUSE,   /* written here */
    WAY_ROWS,    /* the rows of an answer */
    WAY_WRITTEN, /* what it writes with -o FILE */
    WAY_LESSON,  /* a file of a lesson's folder */
    WAY_ARCHIVE  /* all of them */
};

struct download {
    const char *file; /* offered under this name, and the last word of its path */
    enum way way;
    const char *command; /* that writes it; NULL: none */
    const char *type;
    const char *what;
    bool (*rows)(struct visit *visit); /* WAY_ROWS: fills the answer; false with the error set */
};

static bool send_branches(struct visit *visit);
static bool send_day(struct visit *visit);
static bool send_cost(struct visit *visit);
static bool send_demand(struct visit *visit);

static const char csv_type[] = "text/csv; charset=utf-8";

/* In the order of the page; a file of a lesson is a button of its form. */
static const struct download downloads[] = {
    {"house.ini", WAY_HOUSE, NULL, "text/plain; charset=utf-8", "The house file: all of it as text, to keep or edit"},
    {"report.pdf", WAY_WRITTEN, "report", "application/pdf", "The report: verdicts, findings, pictures, cost (PDF)"},
    {"report.html", WAY_WRITTEN, "report", "text/html; charset=utf-8", "The report as one HTML file"},
    {"report.svg", WAY_WRITTEN, "report", "image/svg+xml", "The report's pages as one drawing (SVG)"},
    {"directory.pdf", WAY_WRITTEN, "directory", "application/pdf", "The list for the panel's door (PDF)"},
    {"directory.png", WAY_WRITTEN, "directory", "image/png", "The list for the panel's door as a picture (PNG)"},
    {"branches.csv", WAY_ROWS, NULL, csv_type, "The branches with their verdicts (CSV)", send_branches},
    {"day.csv", WAY_ROWS, NULL, csv_type, "Each branch over its busiest day (CSV)", send_day},
    {"cost.csv", WAY_ROWS, NULL, csv_type, "Energy and cost by appliance (CSV)", send_cost},
    {"demand.csv", WAY_ROWS, NULL, csv_type, "The dwelling's demand with sources (CSV)", send_demand},
    {"worksheets.pdf", WAY_LESSON, "lesson", "application/pdf", "Worksheets (PDF)"},
    {"key.pdf", WAY_LESSON, "lesson", "application/pdf", "Their key (PDF)"},
    {"lesson.zip", WAY_ARCHIVE, "lesson", "application/zip", "All of it (ZIP)"},
};

enum { DOWNLOADS = sizeof downloads / sizeof downloads[0] };

/* Numbers that a lesson takes, within what this page makes while others wait. */
struct lesson_number {
    const char *name;
    const char *label;
    const char *usual; /* "": left to the command */
    unsigned long long least;
    unsigned long long most;
};

static const struct lesson_number lesson_numbers[] = {
    {"students", "Students: a sheet for each", "1", 1, 40},
    {"level", "Level: 1 easy, 4 hard", "1", 1, LESSON_LEVEL_MOST},
    {"questions", "Questions (empty: one of each kind)", "", 1, 20},
    {"seed", "Set: another number, other sheets", "1", 0, 9223372036854775807ULL},
};

enum { LESSON_NUMBERS = sizeof lesson_numbers / sizeof lesson_numbers[0] };

/* ---- the page ---- */

static void add_links(struct visit *visit)
{
    struct text *html = &visit->answer.body;
    html_add(html, "<ul class=\"plain\">");
    for (size_t i = 0; i < DOWNLOADS; i++) {
        if (downloads[i].way < WAY_LESSON) {
            html_add(html, "<li><a href=\"/files/%s\">%s</a></li>\n", downloads[i].file, downloads[i].what);
        }
    }
    html_add(html, "</ul>\n");
}

static void add_kinds(struct visit *visit)
{
    struct text *html = &visit->answer.body;
    html_add(html, "<fieldset><legend>Kinds of questions (none chosen: all)</legend><div "
                   "class=\"switches\">");
    struct lesson_plan plan = {0};
    lesson_plan_house(&plan, visit->house);
    for (int kind = 0; kind < LESSON_KIND_COUNT; kind++) {
        if (lesson_kind_fits(&plan, (enum lesson_kind)kind) != NULL) {
            continue;
        }
        html_add(html, "<label><input type=\"checkbox\" name=\"kind\" value=\"%s\"> %s</label>",
                 lesson_kind_word((enum lesson_kind)kind), lesson_kind_about((enum lesson_kind)kind));
    }
    lesson_plan_done(&plan);
    html_add(html, "</div></fieldset>");
}

static void add_lesson(struct visit *visit)
{
    struct text *html = &visit->answer.body;
    html_add(html,
             "<h2>Worksheets for a class</h2><p>Questions on parallel loads, from this house's own branches where "
             "their figures suit, with a key that shows each step. The same entries give the same sheets again, "
             "so that worksheets and key belong together. All of it is the folder that <code>ampsum lesson"
             "</code> writes, with <code>answers.csv</code> to fill in for <code>ampsum mark</code>.</p>"
             "<form class=\"fields\" action=\"/files/worksheets.pdf\">");
    for (size_t i = 0; i < LESSON_NUMBERS; i++) {
        const struct lesson_number *number = &lesson_numbers[i];
        html_add(html,
                 "<label>%s <input name=\"%s\" value=\"%s\" inputmode=\"numeric\" pattern=\"[0-9]*\" "
                 "></label>",
                 number->label, number->name, number->usual);
    }
    add_kinds(visit);
    html_add(html, "<p>");
    for (size_t i = 0; i < DOWNLOADS; i++) {
        if (downloads[i].way >= WAY_LESSON) {
            html_add(html, "<button formaction=\"/files/%s\">%s</button> ", downloads[i].file, downloads[i].what);
        }
    }
    html_add(html, "</p></form>\n");
}

void view_files(struct visit *visit)
{
    page_begin(visit, "Downloads");
    add_links(visit);
    add_lesson(visit);
    page_end(visit);
}

/* ---- the files ---- */

static void send_house(struct visit *visit)
{
    struct document *document = house_document(visit->house, "house");
    document_write(document, &visit->answer.body);
    document_free(document);
}

static void add_csv(struct visit *visit, const struct show_rows *rows, const void *answer, size_t count)
{
    struct table *table = show_table(rows, SHOW_CSV, answer, count);
    table_write_csv(table, &visit->answer.body);
    table_free(table);
}

static bool send_branches(struct visit *visit)
{
    add_csv(visit, &show_check_rows, visit_check(visit), visit->house->branch_count);
    return true;
}

static bool send_day(struct visit *visit)
{
    const struct day_question question = {.dash = "", .no_odds = true};
    struct day_answer answer;
    const bool good = answer_day(visit->house, &question, &answer, &visit->error);
    if (good) {
        add_csv(visit, &show_course_rows, answer.rows, answer.row_count);
    }
    day_answer_done(&answer);
    return good;
}

static bool send_cost(struct visit *visit)
{
    struct cost_answer answer;
    answer_cost(visit->house, visit->house->tariff, visit_bill(visit), &answer);
    add_csv(visit, &show_cost_rows, &answer.by[COST_BY_APPLIANCE], answer.by[COST_BY_APPLIANCE].count);
    cost_answer_done(&answer);
    return true;
}

static bool send_demand(struct visit *visit)
{
    const struct demand_question question = {.method = DEMAND_METHOD_COUNT, .measured_va = NAN};
    struct demand_answer answer;
    const bool good = answer_demand(visit->house, &question, &answer, &visit->error);
    if (good) {
        const struct show_demand_lines lines = show_demand_lines(answer.chosen);
        add_csv(visit, &show_demand_line_rows, &lines, lines.list->count);
    }
    demand_answer_done(&answer);
    return good;
}

static bool send_written(struct visit *visit, const struct download *download, struct scratch *scratch)
{
    struct text path = {0};
    struct text said = {0};
    scratch_path(scratch, download->file, &path);
    const char *words[] = {download->command, visit->site->path, "-o", text_string(&path), NULL};
    const bool good =
        visit_run(visit, words, &said) && scratch_read(scratch, download->file, &visit->answer.body, &visit->error);
    text_done(&said);
    text_done(&path);
    return good;
}

/* ---- worksheets ---- */

/* `name=value` of the query as `--name=value`; false with the refusal made where it is none of what is allowed. */
static bool add_number(struct visit *visit, const struct lesson_number *number, const char **ret_word)
{
    const char *value = form_value(&visit->query, number->name);
    const size_t digits = strspn(value, "0123456789");
    if (value[0] == '\0') {
        value = number->usual;
    } else if (digits > 19 || value[digits] != '\0' || strtoull(value, NULL, 10) < number->least ||
               strtoull(value, NULL, 10) > number->most) {
        struct text message = {0};
        text_printf(&message, "%s: a whole number from %llu to %llu is expected here.", number->name, number->least,
                    number->most);
        text_add(&message, " More than that is made by `ampsum lesson`.");
        visit_refuse(visit, 422, "That is no number for a lesson", text_string(&message));
        text_done(&message);
        return false;
    }
    struct text word = {0};
    text_printf(&word, "--%s=%s", number->name, value);
    *ret_word = value[0] == '\0' ? NULL : arena_copy(visit->arena, text_string(&word));
    text_done(&word);
    return true;
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

/* `--kind=unequal,trip`: each kind chosen, once; NULL where none is. Not good, and refused, where one is no kind. */
static const char *kind_word_of(struct visit *visit, bool *ret_good)
{
    bool chosen[LESSON_KIND_COUNT] = {false};
    struct text word = {0};
    *ret_good = true;
    for (size_t i = 0; i < visit->query.count && *ret_good; i++) {
        const struct field *field = &visit->query.field[i];
        enum lesson_kind kind;
        if (strcmp(field->name, "kind") != 0) {
            continue;
        }
        *ret_good = lesson_kind_find(field->value, &kind);
        if (!*ret_good) {
            refuse_kind(visit, field->value);
        } else if (!chosen[kind]) {
            text_printf(&word, "%s%s", word.length == 0 ? "--kind=" : ",", lesson_kind_word(kind));
            chosen[kind] = true;
        }
    }
    const char *copy = *ret_good && word.length > 0 ? arena_copy(visit->arena, text_string(&word)) : NULL;
    text_done(&word);
    return copy;
}

enum { LESSON_WORDS_MOST = LESSON_NUMBERS + 7 }; /* numbers; command, house, --together, --kind; -o, folder, NULL */

/* The words of the command for what the query asks; NULL with the refusal made. Without the folder. */
static const char **lesson_words(struct visit *visit, size_t *ret_count)
{
    const char **words = arena_array(visit->arena, LESSON_WORDS_MOST, sizeof *words);
    size_t count = 0;
    bool good = false;
    words[count++] = "lesson";
    words[count++] = visit->site->path;
    words[count++] = "--together";
    for (size_t i = 0; i < LESSON_NUMBERS; i++) {
        const char *word = NULL;
        if (!add_number(visit, &lesson_numbers[i], &word)) {
            return NULL;
        }
        if (word != NULL) {
            words[count++] = word;
        }
    }
    const char *kinds = kind_word_of(visit, &good);
    if (kinds != NULL) {
        words[count++] = kinds;
    }
    *ret_count = count;
    return good ? words : NULL;
}

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

static bool send_lesson(struct visit *visit, const struct download *download, const char **words, size_t count,
                        const struct scratch *scratch)
{
    struct text said = {0};
    words[count++] = "-o";
    words[count++] = text_string(&scratch->folder);
    words[count] = NULL;
    bool good = visit_run(visit, words, &said);
    text_done(&said);
    if (good && download->way == WAY_ARCHIVE) {
        return send_archive(visit, scratch);
    }
    return good && scratch_read(scratch, download->file, &visit->answer.body, &visit->error);
}

/* Makes the file; false with visit->error set, or with the refusal made. */
static bool make_file(struct visit *visit, const struct download *download)
{
    size_t count = 0;
    const char **words = NULL;
    switch (download->way) {
    case WAY_HOUSE:
        send_house(visit);
        return true;
    case WAY_ROWS:
        return download->rows(visit);
    case WAY_LESSON:
    case WAY_ARCHIVE:
        words = lesson_words(visit, &count);
        if (words == NULL) {
            return false;
        }
        break;
    case WAY_WRITTEN:
        break;
    }
    struct scratch scratch = {{0}};
    bool good = scratch_make(&scratch, &visit->error);
    if (good) {
        good = words == NULL ? send_written(visit, download, &scratch)
                             : send_lesson(visit, download, words, count, &scratch);
    }
    scratch_done(&scratch);
    return good;
}

void download_file(struct visit *visit)
{
    const struct download *found = NULL;
    for (size_t i = 0; i < DOWNLOADS; i++) {
        found = strcmp(downloads[i].file, visit->rest) == 0 ? &downloads[i] : found;
    }
    if (found == NULL) {
        visit_refuse(visit, 404, "Not here", "There is no such file.");
    } else if (make_file(visit, found)) {
        visit->answer.type = found->type;
        visit->answer.download = found->file;
    } else if (visit->answer.status == 200) {
        struct text message = {0};
        text_printf(&message, "%s: %s.", found->file, error_message(&visit->error));
        visit_refuse(visit, 503, "This file can't be made now", text_string(&message));
        text_done(&message);
    }
}
