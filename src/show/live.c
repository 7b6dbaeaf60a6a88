/* A live lesson as one page: the words here, the drawing in src/draw, what moves in src/show/assets. */
#include "ampsum/show_live.h"

#include <math.h>
#include <stdarg.h>
#include <string.h>

#include "ampsum/asset.h"
#include "ampsum/html.h"
#include "ampsum/language.h"
#include "ampsum/show.h"

static void add_asset(struct text *html, const char *name)
{
    for (size_t i = 0; i < show_assets_count; i++) {
        if (strcmp(show_assets[i].name, name) == 0) {
            text_add_length(html, show_assets[i].bytes, show_assets[i].length);
        }
    }
}

/* What all of the page needs. */
struct live_page {
    const struct live_answer *answer;
    int language;
    struct text *html;
};

static const struct appliance *appliance_of(const struct live_answer *answer, size_t load)
{
    return &answer->house->appliances[answer->loads[load]];
}

/* A figure as short as it reads, in the writing of the language. */
static struct text figure_of(const struct live_page *page, double value)
{
    const struct writing writing = language_writing(page->language);
    struct text made = {0};
    struct text text = {0};
    html_add(&made, "%g", value);
    language_write(&text, &writing, text_string(&made));
    text_done(&made);
    return text;
}

static void add_said(const struct live_page *page, const char *key, ...) __attribute__((sentinel));

static void add_said(const struct live_page *page, const char *key, ...)
{
    struct text text = {0};
    va_list places;
    va_start(places, key);
    say_list(&text, page->language, key, places);
    va_end(places);
    html_add(page->html, "%s", text_string(&text));
    text_done(&text);
}

static void add_lead(const struct live_page *page)
{
    struct text loads = figure_of(page, (double)page->answer->load_count);
    struct text voltage = figure_of(page, page->answer->voltage_v);
    struct text breaker = figure_of(page, page->answer->branch->breaker_a);
    add_said(page, "live.lead", "loads", text_string(&loads), "voltage", text_string(&voltage), "breaker",
             text_string(&breaker), (const char *)NULL);
    text_done(&loads);
    text_done(&voltage);
    text_done(&breaker);
}

static void add_head(const struct live_page *page)
{
    html_add(page->html,
             "<!doctype html>\n<html lang=\"%s\"><head><meta charset=\"utf-8\"><meta name=\"viewport\" "
             "content=\"width=device-width\"><meta http-equiv=\"Content-Security-Policy\" content=\"default-src "
             "'none'; style-src 'unsafe-inline'; script-src 'unsafe-inline'\"><title>",
             language_code(page->language));
    add_said(page, "live.title", "branch", page->answer->branch->label, (const char *)NULL);
    html_add(page->html, "</title><style>\n");
    add_asset(page->html, "live_lesson.css");
    html_add(page->html, "</style></head><body><main><h1>%s</h1>\n<p>", page->answer->branch->label);
    add_lead(page);
    html_add(page->html, "</p>\n<noscript><p><strong>%s</strong></p></noscript>\n",
             say_plain(page->language, "live.script"));
}

/* ---- switches and answers */

static void add_switches(const struct live_page *page)
{
    html_add(page->html, "<fieldset id=\"switches\"><legend>%s</legend>", say_plain(page->language, "live.switches"));
    for (size_t i = 0; i < page->answer->load_count; i++) {
        const struct appliance *appliance = appliance_of(page->answer, i);
        html_add(page->html, "<label><input type=\"checkbox\" checked autocomplete=\"off\"> ");
        if (appliance->count > 1) {
            html_add(page->html, "%zu x ", (size_t)appliance->count);
        }
        html_add(page->html, "%s</label>", appliance->name);
    }
    html_add(page->html,
             "</fieldset><p><label>%s<input type=\"text\" id=\"guess\" autocomplete=\"off\">"
             "</label></p><p><button id=\"cover\">%s</button></p><p id=\"said\" "
             "aria-live=\"polite\"></p>\n",
             say_plain(page->language, "live.predict"), say_plain(page->language, "live.show"));
}

void show_live_head(int language, double voltage_v, struct text *html)
{
    static const char *const numbers[] = {"live.power", "live.current", "live.line"};
    const struct live_page page = {.language = language, .html = html};
    struct text voltage = figure_of(&page, voltage_v);
    add_said(&page, "live.each", "voltage", text_string(&voltage), (const char *)NULL);
    html_add(html, "</caption><thead><tr><th scope=\"col\">%s</th>", say_plain(language, "live.load"));
    for (size_t i = 0; i < sizeof numbers / sizeof numbers[0]; i++) {
        html_add(html, "<th scope=\"col\" class=\"n\">%s</th>", say_plain(language, numbers[i]));
    }
    text_add(html, "</tr></thead><tbody>");
    text_done(&voltage);
}

static void add_table(const struct live_page *page)
{
    const char *covered = say_plain(page->language, "live.covered");
    text_add(page->html, "<table><caption>");
    show_live_head(page->language, page->answer->voltage_v, page->html);
    for (size_t i = 0; i < page->answer->load_count; i++) {
        struct text power = figure_of(page, round(page->answer->load[i].draw.power_w));
        html_add(page->html,
                 "<tr><th scope=\"row\">%s</th><td class=\"n\">%s W</td><td class=\"n\" id=\"own%zu\">%s</td><td "
                 "class=\"n\" id=\"line%zu\">%s</td></tr>",
                 appliance_of(page->answer, i)->name, text_string(&power), i, covered, i, covered);
        text_done(&power);
    }
    html_add(page->html,
             "</tbody><tfoot><tr><th scope=\"row\">%s</th><td></td><td class=\"n\" "
             "id=\"together\">%s</td><td></td></tr></tfoot></table>\n",
             say_plain(page->language, "live.together"), covered);
}

/* ---- the states, as the script looks them up */

static void add_hundredths(struct text *html, const double *values, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        text_printf(html, "%s%.0f", i == 0 ? "[" : ",", round(values[i] * 100));
    }
    text_add(html, "]");
}

static void add_own(const struct live_answer *answer, struct text *html)
{
    text_add(html, ",\"own\":");
    for (size_t i = 0; i < answer->load_count; i++) {
        text_printf(html, "%s%.0f", i == 0 ? "[" : ",", round(answer->load[i].current_a * 100));
    }
    text_add(html, "],\"line\":[");
    for (size_t i = 0; i < answer->load_count; i++) {
        text_add(html, i == 0 ? "" : ",\n");
        add_hundredths(html, answer->line_a[i], answer->state_count);
    }
    text_add(html, "],\n\"planned\":");
    add_hundredths(html, answer->planning_a, answer->state_count);
}

/* The sentences that the script says, and the sign of a decimal. */
static void add_sentences(int language, struct text *html)
{
    static const char *const keys[] = {"show", "cover", "covered", "first", "not-counted", "wrote", "total"};
    const char decimal[] = {language_writing(language).decimal, '\0'};
    json_t *json = json_object();
    json_object_set_new(json, "decimal", json_text(decimal));
    for (size_t i = 0; i < sizeof keys / sizeof keys[0]; i++) {
        struct text key = {0};
        text_printf(&key, "live.%s", keys[i]);
        json_object_set_new(json, keys[i], json_text(say_plain(language, text_string(&key))));
        text_done(&key);
    }
    text_add(html, "<script type=\"application/json\" id=\"sentences\">");
    json_write(json, html);
    text_add(html, "</script>\n");
}

static void add_states(const struct live_answer *answer, int language, struct text *html)
{
    static const char *const verdicts[] = {"live.empty", "live.room", "live.near", "live.at-risk", "live.over"};
    text_rounded(html, "<script type=\"application/json\" id=\"states\">{\"breaker\":\"", answer->branch->breaker_a, 1,
                 "\",\"words\":[");
    for (int verdict = VERDICT_EMPTY; verdict <= VERDICT_OVER; verdict++) {
        text_printf(html, "%s\"%s\"", verdict == VERDICT_EMPTY ? "" : ",", say_plain(language, verdicts[verdict]));
    }
    text_add(html, "],\"word\":\"");
    for (size_t i = 0; i < answer->state_count; i++) {
        text_printf(html, "%d", (int)answer->verdict[i]);
    }
    text_add(html, "\"");
    for (size_t i = 0; i < answer->state_count && answer->groups; i++) {
        text_printf(html, "%s%zu", i == 0 ? ",\"counted\":[" : ",", answer->counted[i]);
    }
    text_add(html, answer->groups ? "]" : "");
    add_own(answer, html);
    text_add(html, "}</script>\n<script>\n");
    add_asset(html, "live_lesson.js");
    text_add(html, "</script>\n");
}

static void add_remarks(const struct live_page *page)
{
    const struct live_answer *answer = page->answer;
    html_add(page->html, "<p>%s</p>\n",
             say_plain(page->language, answer->in_step ? "live.in-step" : "live.out-of-step"));
    if (answer->left_count > 0) {
        struct text number = figure_of(page, (double)answer->left_count);
        html_add(page->html, "<p>");
        add_said(page, "live.left", "number", text_string(&number), (const char *)NULL);
        html_add(page->html, "</p>\n");
        text_done(&number);
    }
    html_add(page->html, "<p><small>");
    add_said(page, "live.practice", "house", answer->house->name, "caution", say_plain(page->language, "live.caution"),
             (const char *)NULL);
    html_add(page->html, "</small></p>\n");
}

void show_live_html(const struct live_answer *answer, int language, const char *drawing, struct text *html)
{
    const struct live_page page = {answer, language, html};
    add_head(&page);
    html_add(html, "<div class=\"board\">");
    text_add(html, drawing);
    html_add(html, "<div>");
    add_switches(&page);
    add_table(&page);
    html_add(html, "</div></div>\n");
    add_remarks(&page);
    html_add(html, "</main>\n");
    add_sentences(language, html);
    add_states(answer, language, html);
    html_add(html, "</body></html>\n");
}
