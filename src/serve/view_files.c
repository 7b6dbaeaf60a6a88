/* What can be taken away: the house file, rows as CSV, the report, the list for the door, a lesson's files. */
#include <math.h>
#include <string.h>

#include "ampsum/answer_report.h"
#include "ampsum/housefile.h"
#include "ampsum/print.h"
#include "ampsum/show_check.h"
#include "ampsum/show_cost.h"
#include "ampsum/show_day.h"
#include "ampsum/show_demand.h"
#include "lesson.h"
#include "speak.h"

struct download {
    const char *file; /* offered under this name, and the last word of its path */
    const char *type;
    const char *what;
    bool (*send)(struct visit *visit); /* fills the answer; false with the error set. NULL: it is written by */
    const char *command;
};

/* ---- the house, and rows of answers */

static bool send_house(struct visit *visit)
{
    struct document *document = house_document(visit->house, "house");
    document_write(document, &visit->answer.body);
    document_free(document);
    return true;
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

/* ---- on paper: what needs no fonts is written here, PDF and PNG by the command */

static bool read_head(struct visit *visit, struct print_head *ret_head)
{
    const char *slash = strrchr(visit->site->path, '/');
    struct text date = {0};
    const bool good = print_date(&date, &visit->error);
    *ret_head = (struct print_head){.file = slash == NULL ? visit->site->path : slash + 1,
                                    .date = arena_copy(visit->arena, text_string(&date)),
                                    .version = visit->site->version,
                                    .paper = print_paper_of(visit->house->rules)};
    text_done(&date);
    return good;
}

static bool send_report(struct visit *visit, void (*write)(const struct print_document *document, struct text *text))
{
    const struct assess_options choice = {.wires = true, .loads = true};
    struct print_head head;
    struct report_answer answer;
    if (!read_head(visit, &head)) {
        return false;
    }
    answer_report(visit->house, &choice, &answer);
    struct print_document *document =
        print_report(&answer.check, answer.has_demand ? &answer.demand : NULL, PICTURES_USUAL, &head);
    write(document, &visit->answer.body);
    print_free(document);
    report_answer_done(&answer);
    return true;
}

static bool send_report_html(struct visit *visit)
{
    return send_report(visit, print_html);
}

static bool send_report_svg(struct visit *visit)
{
    return send_report(visit, print_svg);
}

static bool send_written(struct visit *visit, const char *command, const char *file)
{
    const char *const words[] = {command, visit->site->path, NULL};
    return visit_written(visit, words, file);
}

/* ---- the page */

static const char csv_type[] = "text/csv; charset=utf-8";

/* In the order of the page. */
static const struct download downloads[] = {
    {"house.ini", "text/plain; charset=utf-8", "The house file: all of it as text, to keep or edit", send_house},
    {"report.pdf", "application/pdf", "The report: verdicts, findings, pictures, cost (PDF)", NULL, "report"},
    {"report.html", "text/html; charset=utf-8", "The report as one HTML file", send_report_html},
    {"report.svg", "image/svg+xml", "The report's pages as one drawing (SVG)", send_report_svg},
    {"directory.pdf", "application/pdf", "The list for the panel's door (PDF)", NULL, "directory"},
    {"directory.png", "image/png", "The list for the panel's door as a picture (PNG)", NULL, "directory"},
    {"branches.csv", csv_type, "The branches with their verdicts (CSV)", send_branches},
    {"day.csv", csv_type, "Each branch over its busiest day (CSV)", send_day},
    {"cost.csv", csv_type, "Energy and cost by appliance (CSV)", send_cost},
    {"demand.csv", csv_type, "The dwelling's demand with sources (CSV)", send_demand},
};

enum { DOWNLOADS = sizeof downloads / sizeof downloads[0] };

void view_files(struct visit *visit)
{
    page_begin(visit, "Downloads");
    page_add(visit, "<ul class=\"plain\">");
    for (size_t i = 0; i < DOWNLOADS; i++) {
        page_add(visit, "<li><a href=\"/files/%s\">%s</a></li>\n", downloads[i].file, downloads[i].what);
    }
    page_add(visit, "</ul>\n");
    page_language(visit, &visit->query);
    page_add(visit, "<section id=\"lesson\" lang=\"%s\">", language_code(visit->language));
    page_lesson_form(visit);
    page_add(visit, "</section>\n");
    visit->language = LANGUAGE_ENGLISH;
    page_end(visit);
}

/* What a file was asked for ends in: sent, or refused by name, where that was not yet said. */
static void finish(struct visit *visit, bool sent, const char *type, const char *file)
{
    if (sent) {
        visit->answer.type = type;
        visit->answer.download = file;
    } else if (visit->answer.status == 200) {
        visit_refuse(visit, 503, "This file can't be made now",
                     arena_printf(visit->arena, "%s: %s.", file, error_message(&visit->error)));
    }
}

void download_file(struct visit *visit)
{
    for (size_t i = 0; i < DOWNLOADS; i++) {
        const struct download *found = &downloads[i];
        if (strcmp(found->file, visit->rest) == 0) {
            const bool sent =
                found->send == NULL ? send_written(visit, found->command, found->file) : found->send(visit);
            finish(visit, sent, found->type, found->file);
            return;
        }
    }
    for (const struct lesson_file *file = lesson_files; file->name != NULL; file++) {
        if (strcmp(file->name, visit->rest) == 0) {
            finish(visit, send_lesson(visit, file), file->type, file->name);
            return;
        }
    }
    visit_refuse(visit, 404, "Not here", "There is no such file.");
}
