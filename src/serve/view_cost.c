/* The day of a branch and what the year costs. */
#include <stdlib.h>
#include <string.h>

#include "ampsum/day.h"
#include "ampsum/pictures.h"
#include "ampsum/reference.h"
#include "ampsum/report.h"
#include "site.h"

static void add_day_form(struct visit *visit, size_t chosen)
{
    struct text *html = &visit->answer.body;
    html_add(html, "<form action=\"/cost\"><p><label>Branch <select name=\"branch\">");
    for (size_t i = 0; i < visit->house->branch_count; i++) {
        html_add(html, "<option value=\"%s\"", visit->house->branches[i].id);
        html_add(html, i == chosen ? " selected" : "");
        html_add(html, ">%s</option>", visit->house->branches[i].label);
    }
    html_add(html, "</select></label> <button>Show its busiest day</button></p></form>\n");
}

static void add_course(struct visit *visit, const struct day_series *series)
{
    struct text *html = &visit->answer.body;
    html_add(html,
             "<table class=\"narrow\"><caption>The course of that day</caption><thead><tr><th scope=\"col\">From</th>"
             "<th scope=\"col\">To</th><th scope=\"col\" class=\"n\">Current A</th><th scope=\"col\" "
             "class=\"n\">Planning A</th></tr></thead><tbody>");
    for (size_t i = 0; i < series->stretch_count; i++) {
        const struct day_stretch *stretch = &series->stretches[i];
        char times[2][8];
        snprintf(times[0], sizeof times[0], "%02d:%02d", stretch->start_min / 60 % 25, stretch->start_min % 60);
        snprintf(times[1], sizeof times[1], "%02d:%02d", stretch->end_min / 60 % 25, stretch->end_min % 60);
        html_add(html, "<tr><td>%s</td><td>%s</td><td class=\"n\">%1</td><td class=\"n\">%1</td></tr>", times[0],
                 times[1], stretch->current_a, stretch->planning_a);
    }
    html_add(html, "</tbody></table>\n");
}

static const char *const day_names[] = {"Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday"};
static const char *const month_names[] = {"January", "February", "March",     "April",   "May",      "June",
                                          "July",    "August",   "September", "October", "November", "December"};

static void add_day(struct visit *visit, size_t branch)
{
    struct text *html = &visit->answer.body;
    const struct house *house = visit->house;
    const struct day_scope scope = {.branch = branch, .panel = house->branches[branch].panel};
    const struct planning_factors factors = rules_factors(house->rules);
    const double near_share = reference_rule_value("near-share", rules_word(house->rules)) / 100;
    const struct day day = day_busiest(house, scope, DAYS_ALL, MONTHS_ALL, factors);
    struct day_series series;
    day_course(house, scope, day, factors, near_share, visit->arena, &series);
    html_add(html, "<p>%s on a %s in %s; breaker %r A; over it for %z minutes of that day.</p>\n",
             house->branches[branch].label, day_names[day.weekday], month_names[day.month], series.rating_a,
             (size_t)series.over_rating_min);
    const struct picture picture = picture_day(house->branches[branch].label, &series, near_share, visit->arena);
    html_add(html, "<div class=\"picture\">");
    picture_svg(&picture, html);
    html_add(html, "</div>\n");
    add_course(visit, &series);
}

static void add_months(struct visit *visit, const struct energy_bill *bill)
{
    struct text *html = &visit->answer.body;
    html_add(html,
             "<table class=\"narrow\"><caption>By month</caption><thead><tr><th scope=\"col\">Month</th><th "
             "scope=\"col\" class=\"n\">kWh</th><th scope=\"col\" class=\"n\">%s</th></tr></thead><tbody>",
             visit->house->currency);
    for (int month = 0; month < MONTHS_IN_YEAR; month++) {
        html_add(html, "<tr><th scope=\"row\">%s</th><td class=\"n\">%1</td><td class=\"n\">%s</td></tr>",
                 month_names[month], bill->months[month].kwh,
                 bill->months[month].cost == NULL ? "-" : bill->months[month].cost);
    }
    html_add(html, "</tbody></table>\n");
}

/* Rows by energy, largest first; equal ones in file order. */
struct ranked {
    double kwh_year;
    size_t index;
};

static int by_energy(const void *left, const void *right)
{
    const struct ranked *a = left;
    const struct ranked *b = right;
    if (a->kwh_year != b->kwh_year) {
        return a->kwh_year > b->kwh_year ? -1 : 1;
    }
    return a->index < b->index ? -1 : a->index > b->index;
}

static void add_appliances(struct visit *visit, const struct energy_bill *bill)
{
    struct text *html = &visit->answer.body;
    const size_t count = visit->house->appliance_count;
    struct ranked *rows = arena_array(visit->arena, count, sizeof *rows);
    for (size_t i = 0; i < count; i++) {
        rows[i] = (struct ranked){bill->appliances[i].kwh_year, i};
    }
    qsort(rows, count, sizeof *rows, by_energy);
    html_add(html,
             "<table class=\"narrow\"><caption>By appliance, the largest first</caption><thead><tr><th "
             "scope=\"col\">Appliance</th><th scope=\"col\" class=\"n\">kWh a year</th><th scope=\"col\" "
             "class=\"n\">%s a year</th></tr></thead><tbody>",
             visit->house->currency);
    for (size_t i = 0; i < count && rows[i].kwh_year > 0; i++) {
        const char *cost = bill->appliances[rows[i].index].cost_year;
        html_add(html, "<tr><th scope=\"row\">%s</th><td class=\"n\">%1</td><td class=\"n\">%s</td></tr>",
                 visit->house->appliances[rows[i].index].name, rows[i].kwh_year, cost == NULL ? "-" : cost);
    }
    html_add(html, "</tbody></table>\n");
}

void view_cost(struct visit *visit)
{
    struct text *html = &visit->answer.body;
    const char *id = form_value(&visit->query, "branch");
    size_t branch = id[0] == '\0' ? 0 : visit_find(visit, KIND_BRANCH, id);
    if (branch == NO_INDEX) {
        return;
    }
    const struct energy_bill *bill = visit_bill(visit);
    page_begin(visit, "Day and cost");
    html_add(html, "<h2>The year</h2><p>%1 kWh a year, %2 kWh a day", bill->kwh_year, bill->kwh_day);
    if (bill->cost_year != NULL) {
        html_add(html, ". Energy %s, standing charge %s, tax %s: %s %s a year, %s %s a day", bill->energy_cost,
                 bill->standing_cost, bill->tax, bill->cost_year, visit->house->currency, bill->cost_day,
                 visit->house->currency);
    } else {
        html_add(html, "; no tariff, so no price");
    }
    html_add(html, ".</p>\n");
    if (visit->house->branch_count > 0) {
        html_add(html, "<h2>The busiest day of a branch</h2>");
        add_day_form(visit, branch);
        add_day(visit, branch);
    }
    html_add(html, "<h2>Where the energy goes</h2>");
    add_months(visit, bill);
    add_appliances(visit, bill);
    page_end(visit);
}

/* The answer of `cost --format json`. */
void api_cost(struct visit *visit)
{
    const char *words[] = {"cost", visit->site->path, "--format=json", NULL};
    json_t *json = visit_run_json(visit, words);
    if (json == NULL) {
        visit_refuse(visit, 422, "No answer", error_message(&visit->error));
        return;
    }
    visit_json(visit, json);
}
