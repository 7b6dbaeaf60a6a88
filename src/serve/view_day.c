/* A day of the house, a panel or a branch: how the current builds up, and how likely more than the rating is. */
#include <string.h>

#include "ampsum/day_assess.h"
#include "ampsum/pictures.h"
#include "ampsum/reference.h"
#include "ampsum/show.h"
#include "ampsum/values.h"
#include "view_cost.h"

enum { COURSE_ROWS_SHOWN = 12 }; /* longer tables are opened by hand */

/* What the query asks for. */
struct asked {
    const char *of; /* ID of a branch or panel; "": the whole house */
    struct day_words words;
    struct day_choice choice;
};

static struct asked read_asked(const struct visit *visit)
{
    return (struct asked){.of = form_value(&visit->query, "of"),
                          .words = {.day = form_value(&visit->query, "day"),
                                    .month = form_value(&visit->query, "month"),
                                    .date = form_value(&visit->query, "on-date")}};
}

/* The views asked for; NULL with the refusal made. */
static struct day_view *find_views(struct visit *visit, struct asked *asked, size_t *ret_count)
{
    struct day_view *views = NULL;
    if (!day_choice_read(&asked->words, "", &asked->choice, &visit->error)) {
        visit_refuse(visit, 422, "No such day", error_message(&visit->error));
        return NULL;
    }
    const char *id = asked->of[0] == '\0' ? NULL : asked->of;
    if (!day_views(visit->house, id, &asked->choice, visit->arena, &views, ret_count)) {
        visit_find(visit, KIND_BRANCH, asked->of); /* says so, with the nearest */
        return NULL;
    }
    return views;
}

static void add_places(struct visit *visit, const char *chosen)
{
    struct text *html = &visit->answer.body;
    const struct house *house = visit->house;
    html_add(html, "<label>Where <select name=\"of\">");
    page_option(html, "", "Whole house", chosen);
    html_add(html, "<optgroup label=\"Panels\">");
    for (size_t i = 0; i < house->panel_count; i++) {
        const struct panel *panel = &house->panels[i];
        page_option(html, panel->id, panel->name != NULL ? panel->name : panel->id, chosen);
    }
    html_add(html, "</optgroup>");
    if (house->branch_count > 0) {
        html_add(html, "<optgroup label=\"Branches\">");
        for (size_t i = 0; i < house->branch_count; i++) {
            page_option(html, house->branches[i].id, house->branches[i].label, chosen);
        }
        html_add(html, "</optgroup>");
    }
    html_add(html, "</select></label>");
}

static void add_form(struct visit *visit, const struct asked *asked)
{
    struct text *html = &visit->answer.body;
    html_add(html, "<form class=\"fields\" action=\"/cost/day\">");
    add_places(visit, asked->of);
    html_add(html, "<label>Day <select name=\"day\">");
    page_option(html, "", "the busiest", asked->words.day);
    page_option(html, "weekday", "the busiest from Monday to Friday", asked->words.day);
    page_option(html, "weekend", "the busiest of the weekend", asked->words.day);
    for (int day = 0; day < 7; day++) {
        page_option(html, day_word(day), show_day_name(day), asked->words.day);
    }
    html_add(html, "</select></label><label>Month <select name=\"month\">");
    page_option(html, "", "the busiest", asked->words.month);
    for (int month = 0; month < MONTHS_IN_YEAR; month++) {
        page_option(html, month_word(month), show_month_name(month), asked->words.month);
    }
    html_add(html,
             "</select></label><label>Or one date <input name=\"on-date\" "
             "value=\"%s\" placeholder=\"MM-DD or YYYY-MM-DD\" autocomplete=\"off\"></label>"
             "<p><button>Show the day</button></p></form>\n",
             asked->words.date);
}

static void add_where(struct text *text, const struct day_view *view)
{
    text_add(text, view->label);
    text_printf(text, "%s%s", view->leg != NULL ? ", leg " : "", view->leg != NULL ? view->leg : "");
}

static void add_course(struct visit *visit, const struct day_series *series)
{
    struct text *html = &visit->answer.body;
    html_add(html, "<details%s", series->stretch_count <= COURSE_ROWS_SHOWN ? " open" : "");
    html_add(html, "><summary>The course as a table</summary><table class=\"narrow\"><caption>The course of the day"
                   "</caption><thead><tr><th scope=\"col\">From</th><th scope=\"col\">To</th><th scope=\"col\" "
                   "class=\"n\">Current A</th><th scope=\"col\" class=\"n\">Planning A</th></tr></thead><tbody>");
    for (size_t i = 0; i < series->stretch_count; i++) {
        const struct day_stretch *stretch = &series->stretches[i];
        struct text times[2] = {{0}, {0}};
        clock_add(&times[0], stretch->start_min);
        clock_add(&times[1], stretch->end_min);
        html_add(html, "<tr><td>%s</td><td>%s</td><td class=\"n\">%.2f</td><td class=\"n\">%.2f</td></tr>",
                 text_string(&times[0]), text_string(&times[1]), stretch->current_a, stretch->planning_a);
        text_done(&times[0]);
        text_done(&times[1]);
    }
    html_add(html, "</tbody></table></details>\n");
}

static void add_picture(struct visit *visit, const struct day_view *view)
{
    struct text *html = &visit->answer.body;
    struct text where = {0};
    const double near_share = reference_rule_value("near-share", rules_word(visit->house->rules)) / 100;
    add_where(&where, view);
    const struct picture picture = picture_day(text_string(&where), &view->series, near_share, visit->arena);
    html_add(html, "<div class=\"picture\">");
    picture_svg(&picture, html);
    html_add(html, "</div>\n");
    text_done(&where);
}

static void add_view(struct visit *visit, const struct asked *asked, const struct day_view *view)
{
    struct text *html = &visit->answer.body;
    struct text line = {0};
    if (view->leg != NULL) {
        html_add(html, "<h2>Leg %s</h2>", view->leg);
    }
    show_day_untimed(visit->house, view, &line);
    cost_paragraph(html, NULL, &line);
    text_printf(&line, "%s in %s%s. ", show_day_name(view->series.day.weekday), show_month_name(view->series.day.month),
                asked->choice.fixed ? "" : ", the busiest of the days asked for");
    show_day_busiest(visit->house, view, true, &line);
    text_add_char(&line, '.');
    cost_paragraph(html, NULL, &line);
    show_day_above(visit->house, view, &line);
    text_add(&line, ". ");
    show_day_energy(view, &line);
    text_add_char(&line, '.');
    cost_paragraph(html, NULL, &line);
    show_day_odds(view, &line);
    cost_paragraph(html, NULL, &line);
    show_day_not_exceeded(view, &line);
    cost_paragraph(html, NULL, &line);
    show_day_left_out(visit->house, view, 1, true, &line);
    cost_paragraph(html, NULL, &line);
    add_picture(visit, view);
    add_course(visit, &view->series);
    text_done(&line);
}

static void add_row(struct visit *visit, const struct asked *asked, const struct day_view *view)
{
    struct text *html = &visit->answer.body;
    const struct day_series *series = &view->series;
    struct text where = {0};
    struct text at = {0};
    struct text odds = {0};
    add_where(&where, view);
    if (!show_day_when(visit->house, view, &at)) {
        text_add(&at, "-");
    }
    show_day_percent(&odds, (struct chance_bounds){view->chance.worst.upper, view->chance.worst.upper});
    html_add(html, "<tr><th scope=\"row\"><a href=\"/cost/day?of=");
    html_query(html, view->id);
    html_add(html, "&amp;day=%s&amp;month=%s&amp;on-date=%s\">%s</a></th>", asked->words.day, asked->words.month,
             asked->words.date, text_string(&where));
    html_add(html, "<td data-label=\"Busiest\">%s</td><td class=\"n\" data-label=\"Planning A\">%.1f</td>",
             text_string(&at), series->stretches[series->busiest].planning_a);
    html_add(html, "<td class=\"n\" data-label=\"Rating A\">%g</td><td class=\"n\" data-label=\"Hours over\">%.1f</td>",
             series->rating_a, series->over_rating_min / 60.0);
    html_add(html, "<td class=\"n\" data-label=\"Odds\">%s</td></tr>\n",
             show_day_chance_known(view) ? text_string(&odds) : "-");
    text_done(&where);
    text_done(&at);
    text_done(&odds);
}

static void add_summary(struct visit *visit, const struct asked *asked, const struct day_view *views, size_t count)
{
    struct text *html = &visit->answer.body;
    struct text line = {0};
    html_add(html,
             "<table class=\"stack\"><caption>%s</caption><thead><tr><th scope=\"col\">Where</th>"
             "<th scope=\"col\">Busiest</th><th scope=\"col\" class=\"n\">Planning A</th><th scope=\"col\" "
             "class=\"n\">Rating A</th><th scope=\"col\" class=\"n\">Hours over</th><th scope=\"col\" "
             "class=\"n\">Odds</th></tr></thead><tbody>\n",
             asked->choice.fixed ? "On that day" : "Each on its own busiest day of those asked for");
    for (size_t i = 0; i < count; i++) {
        add_row(visit, asked, &views[i]);
    }
    html_add(html,
             "</tbody></table>\n<p class=\"help\">Odds: chance that the planning current exceeds the rating, in "
             "the worst minute (- where it is not known, since loads without times of use or hours are left out).</p>");
    show_day_left_out(visit->house, views, visit->house->branch_count, true, &line);
    cost_paragraph(html, "help", &line);
    text_done(&line);
}

void view_day(struct visit *visit)
{
    struct text *html = &visit->answer.body;
    struct asked asked = read_asked(visit);
    size_t count = 0;
    const struct day_view *views = find_views(visit, &asked, &count);
    if (views == NULL) {
        return;
    }
    struct text line = {0};
    text_printf(&line, "The day: %s", asked.of[0] == '\0' ? "whole house" : views[0].label);
    page_begin(visit, text_string(&line));
    text_clear(&line);
    cost_links(visit, "/cost/day");
    add_form(visit, &asked);
    if (asked.of[0] == '\0') {
        add_summary(visit, &asked, views, count);
    }
    for (size_t i = 0; i < count && asked.of[0] != '\0'; i++) {
        add_view(visit, &asked, &views[i]);
    }
    html_add(html, "<h2>What this assumes</h2>");
    show_day_assumptions(views, count, &line);
    cost_paragraph(html, NULL, &line);
    text_done(&line);
    page_end(visit);
}

/* The answer of `day --format json`. */
void api_day(struct visit *visit)
{
    struct asked asked = read_asked(visit);
    size_t count = 0;
    const struct day_view *views = find_views(visit, &asked, &count);
    if (views != NULL) {
        visit_json(visit, show_day_json(visit->house, views, count));
    }
}
