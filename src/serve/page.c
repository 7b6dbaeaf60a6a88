/* The frame of every page, and the parts that several views share. */
#include <math.h>
#include <string.h>

#include "ampsum/answer_facts.h"
#include "ampsum/plain_words.h"
#include "ampsum/reference.h"
#include "ampsum/show_rows.h"
#include "ampsum/steps.h"
#include "input.h"
#include "speak.h"

void page_add(struct visit *visit, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    html_add_list(&visit->answer.body, format, arguments);
    va_end(arguments);
}

struct view_link {
    const char *path;
    const char *name; /* its key */
    bool changes;     /* of no use where nothing can be changed */
    bool alone;       /* needs no house */
    bool speaks;      /* in the language of a class, which goes on with the link */
};

/* In the order in which people need them. */
static const struct view_link links[] = {
    {"/", "page.nav-house", false},
    {"/appliance", "page.nav-appliance", false},
    {"/class", "page.nav-class", false, .speaks = true},
    {"/cost", "page.nav-cost", false},
    {"/demand", "page.nav-service", false},
    {"/solve", "page.nav-circuit", false, true, true},
    {"/estimate", "page.nav-estimate", false, true},
    {"/files", "page.nav-files", false, .speaks = true},
    {"/build", "page.nav-build", true, true},
    {"/changes", "page.nav-changes", true},
};

/* True for the link of the view that is shown, or that it belongs to. */
static bool is_current(const struct view_link *link, const char *path)
{
    size_t length = strlen(link->path);
    if (length == 1) {
        return strcmp(path, "/") == 0 || strncmp(path, "/branch/", 8) == 0 || strncmp(path, "/combos/", 8) == 0 ||
               strncmp(path, "/fault", 6) == 0 || strcmp(path, "/settle") == 0;
    }
    return strncmp(path, link->path, length) == 0 && (path[length] == '\0' || path[length] == '/');
}

static void add_navigation(struct visit *visit)
{
    page_add(visit, "<nav aria-label=\"%s\"><ul>", page_word(visit, "page.views"));
    for (size_t i = 0; i < sizeof links / sizeof links[0]; i++) {
        if ((links[i].changes && visit->site->read_only) || (visit->house == NULL && !links[i].alone)) {
            continue;
        }
        page_add(visit, "<li><a href=\"%s%s\"", links[i].path, links[i].speaks ? page_carried(visit, true) : "");
        page_add(visit, is_current(&links[i], visit->path) ? " aria-current=\"page\"" : "");
        page_add(visit, ">%s</a></li>", page_word(visit, links[i].name));
    }
    page_add(visit, "</ul></nav>");
}

void page_begin(struct visit *visit, const char *title)
{
    const char *house = visit->house == NULL ? page_word(visit, "page.new-house") : visit->house->name;
    page_add(visit,
             "<!doctype html>\n<html lang=\"%s\"><head><meta charset=\"utf-8\">"
             "<meta name=\"viewport\" content=\"width=device-width\"><title>%s%s - %s - ampsum</title>"
             "<meta name=\"ampsum-token\" content=\"%s\"><link rel=\"stylesheet\" href=\"/style.css\">"
             "<link rel=\"icon\" href=\"/icon.svg\" type=\"image/svg+xml\"><script src=\"/live.js\" defer></script>"
             "</head><body><a class=\"skip\" href=\"#main\">%s</a>"
             "<header><p class=\"house\">%s%s</p>",
             language_code(visit->language), error_is_set(&visit->error) ? page_word(visit, "page.error") : "", title,
             house, visit->site->guard.token, page_word(visit, "page.skip"), house,
             visit->site->read_only ? page_word(visit, "page.read-only") : "");
    if (visit->house != NULL || site_is_new(visit->site)) {
        add_navigation(visit);
    }
    page_add(visit, "</header>\n<main id=\"main\" tabindex=\"-1\"");
    if (visit->language != LANGUAGE_ENGLISH) {
        page_add(visit, " data-unanswered=\"%s\"", page_word(visit, "page.unanswered"));
    }
    page_add(visit, "><h1>%s</h1>\n", title);
}

void page_end(struct visit *visit)
{
    page_add(visit, "</main>\n<footer><h2>%s</h2><ul>", page_word(visit, "solve.cautions"));
    if (visit->language == LANGUAGE_ENGLISH) {
        for (size_t i = 0; show_cautions[i] != NULL; i++) {
            page_add(visit, "<li>%s</li>", show_cautions[i]);
        }
    } else {
        page_add(visit, "<li>%s</li>", page_word(visit, "live.caution"));
    }
    page_add(visit, "</ul></footer></body></html>\n");
    if (visit->language == LANGUAGE_ENGLISH) {
        plain_words(&visit->answer.body);
    }
}

void page_fold(struct visit *visit, bool open, const char *summary, ...)
{
    va_list arguments;
    page_add(visit, open ? "<details open><summary>" : "<details><summary>");
    va_start(arguments, summary);
    html_add_list(&visit->answer.body, summary, arguments);
    va_end(arguments);
    page_add(visit, "</summary>");
}

void page_fold_table(struct visit *visit, bool open, const char *summary, const struct show_rows *rows,
                     const char *caption, const void *answer, size_t count)
{
    page_fold(visit, open, "%s", summary);
    show_html_table(rows, caption, answer, count, &visit->answer.body);
    page_add(visit, "</details>\n");
}

void page_verdict_word(struct visit *visit, const char *word)
{
    /* A shape of its own for each, so that no colour is needed. */
    static const struct {
        const char *word;
        const char *shown;
        const char *path;
    } rows[] = {
        {"empty", "empty", "M3 7h10v2H3z"},
        {"ok", "room", "M8 2a6 6 0 1 0 .01 0z"},
        {"near", "near", "M8 2l7 12H1z"},
        {"at-risk", "AT RISK", "M8 0l8 8-8 8-8-8z"},
        {"over", "OVER", "M1 1h14v14H1zM4 7v2h8V7z"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        if (strcmp(rows[i].word, word) == 0) {
            page_add(visit,
                     "<span class=\"verdict v-%s\"><svg viewBox=\"0 0 16 16\" aria-hidden=\"true\" "
                     "focusable=\"false\"><path fill-rule=\"evenodd\" d=\"%s\"/></svg>%s</span>",
                     word, rows[i].path, rows[i].shown);
        }
    }
}

void page_verdict(struct visit *visit, enum verdict verdict)
{
    page_verdict_word(visit, verdict_word(verdict));
}

/* Its source folded, but where it stands in a fold itself. */
static void add_finding(struct visit *visit, const struct finding *finding, const char *where, bool folds)
{
    page_add(visit, "<li class=\"f-%s\"><strong>%s</strong> %s%s%s <span class=\"number\">[%s]</span>",
             severity_word(finding->severity), show_severity(finding->severity), where == NULL ? "" : where,
             where == NULL ? "" : ": ", finding->text, finding->id);
    page_add(visit, "<span class=\"caution\">%s</span>", finding->row->caution);
    if (folds) {
        page_add(visit, "<details class=\"source\"><summary>Source<span class=\"hidden\"> of [%s]</span></summary>",
                 finding->id);
    }
    page_add(visit, folds ? "<small>%s</small></details></li>" : "<small>Source: %s</small></li>", finding->source);
}

void page_finding(struct visit *visit, const struct finding *finding, const char *where)
{
    add_finding(visit, finding, where, true);
}

/* Shares of the rating along a drawing that shows half more than it. */
void page_bar(struct visit *visit, const struct check_answer *answer, size_t branch)
{
    const struct branch_assessment *result = &answer->assessment->branches[branch];
    const double rating_a = answer->house->branches[branch].breaker_a;
    const double most = 150;
    const double all = fmin(100 * result->all.planning_a / rating_a, most);
    const double other = fmin(100 * result->other.planning_a / rating_a, most);
    const double near = 100 * check_near_share(answer);
    page_add(visit,
             "<svg class=\"bar\" viewBox=\"0 0 150 14\" preserveAspectRatio=\"none\" aria-hidden=\"true\" "
             "focusable=\"false\"><rect class=\"bar-all\" y=\"2\" width=\"%.1f\" height=\"10\"/><rect "
             "class=\"bar-busiest\" y=\"2\" width=\"%.1f\" height=\"10\"/>",
             all, other);
    page_add(visit, "<path class=\"bar-near\" d=\"M%.1f 1v12\"/><path class=\"bar-rating\" d=\"M100 0v14\"/></svg>",
             near);
}

static const char nothing_found[] = "<p>Nothing exceeds a limit that the program knows.</p>\n";

static void add_findings(struct visit *visit, const struct finding *const *findings, size_t count, bool folds)
{
    page_add(visit, count > 0 ? "<ul class=\"findings\">" : "");
    for (size_t i = 0; i < count; i++) {
        add_finding(visit, findings[i], NULL, folds);
    }
    page_add(visit, count > 0 ? "</ul>\n" : "");
}

void page_findings(struct visit *visit, const struct finding_list *list)
{
    size_t notes = 0;
    text_add(&visit->answer.body, list->count == 0 ? nothing_found : "");
    add_findings(visit, findings_gravest_first(list, visit->arena, &notes), list->count, false);
}

/* The gravest in sight, the notes folded; `nothing`: what is said where there are no graver ones. */
static void add_folded(struct visit *visit, const struct finding_list *list, const char *nothing)
{
    size_t notes = 0;
    const struct finding *const *findings = findings_gravest_first(list, visit->arena, &notes);
    const size_t grave = list->count - notes;
    text_add(&visit->answer.body, grave == 0 ? nothing : "");
    add_findings(visit, findings, grave, true);
    if (notes > 0) {
        page_fold(visit, false, "%zu %s", notes, notes == 1 ? "note" : "notes");
        add_findings(visit, findings + grave, notes, false);
        page_add(visit, "</details>\n");
    }
}

void page_findings_folded(struct visit *visit, const struct finding_list *list)
{
    add_folded(visit, list, "");
}

void page_findings_told(struct visit *visit, const struct finding_list *list)
{
    add_folded(visit, list, nothing_found);
}

void page_option(struct visit *visit, const char *value, const char *shown, const char *chosen)
{
    page_add(visit, "<option value=\"%s\"", value);
    page_add(visit, chosen != NULL && strcmp(value, chosen) == 0 ? " selected" : "");
    page_add(visit, ">%s</option>", shown);
}

void page_post(struct visit *visit, const char *action, const char *class)
{
    page_add(visit,
             class == NULL ? "<form method=\"post\" action=\"%s\">"
                           : "<form method=\"post\" action=\"%s\" class=\"%s\">",
             action, class);
    page_hidden(visit, "token", visit->site->guard.token);
    page_hidden(visit, "seen", visit->seen == NULL ? "" : visit->seen);
}

void page_steps(struct visit *visit, const struct steps *steps, size_t count)
{
    static char none[] = "";
    for (size_t i = 0; i < count; i++) {
        struct step bare = steps->step[i];
        struct text line = {0};
        page_add(visit, "<li>%s%s%s", bare.subject, bare.subject[0] == '\0' ? "" : bare.colon,
                 bare.subject[0] == '\0' ? "" : " ");
        bare.subject = none; /* a name stays as it is */
        step_write(&line, &bare, true);
        page_written(visit, text_string(&line));
        page_add(visit, "</li>");
        text_done(&line);
    }
}

void page_paragraph(struct visit *visit, const char *class, struct text *sentence)
{
    if (sentence->length > 0) {
        page_add(visit, class == NULL ? "<p>" : "<p class=\"%s\">", class);
        page_add(visit, "%s</p>\n", text_string(sentence));
    }
    text_done(sentence);
}
