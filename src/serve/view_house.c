/* The house: every branch with its figures, and switches for what is on now. */
#include "ampsum/reference.h"
#include "ampsum/show_check.h"
#include "site.h"

enum { NAMED_MOST = 5 };

struct house_view {
    struct visit *visit;
    const struct check_answer *week; /* busiest minute and everything on; beside it what is switched on */
    struct check_answer now;         /* what is switched on */
};

static void add_money_hour(struct house_view *view)
{
    struct visit *visit = view->visit;
    struct text *html = &visit->answer.body;
    const char *cost = visit_hour_cost(visit, view->week->bill, view->now.power_w);
    html_add(html, "<p class=\"total\" id=\"total\" aria-live=\"polite\">On now: <b id=\"now-power\">%.0f</b> W",
             view->now.power_w);
    if (cost != NULL) {
        html_add(html, ", about <b id=\"now-cost\">%s</b> %s an hour at this house's mean price", cost,
                 visit->house->currency);
    }
    html_add(html, ".</p>\n");
}

static void add_scenes(struct house_view *view)
{
    const struct house *house = view->visit->house;
    struct text *html = &view->visit->answer.body;
    html_add(html, "<p class=\"scenes\">Show: <a href=\"/?all=1\">everything on</a> <a href=\"/\">nothing on</a>");
    for (size_t i = 0; i < house->scene_count; i++) {
        html_add(html, " <a href=\"/?scene=%s\">%s</a>", house->scenes[i].id, house->scenes[i].name);
    }
    html_add(html, "</p>\n");
}

/* A switch; a number where there are several alike. */
static void add_switch(struct house_view *view, size_t index)
{
    const struct appliance *appliance = &view->visit->house->appliances[index];
    struct text *html = &view->visit->answer.body;
    size_t units = view->now.assessment->options.on[index];
    if (appliance->count == 1) {
        html_add(html, "<label><input type=\"checkbox\" name=\"on\" value=\"%s\"", appliance->id);
        html_add(html, units > 0 ? " checked" : "");
        html_add(html, "> %s</label>", appliance->name);
    } else {
        html_add(html,
                 "<label><input type=\"number\" name=\"n-%s\" min=\"0\" max=\"%zu\" value=\"%zu\"> of %zu %s</label>",
                 appliance->id, (size_t)appliance->count, units, (size_t)appliance->count, appliance->name);
    }
}

static void add_branch(struct house_view *view, size_t index)
{
    const struct branch *branch = &view->visit->house->branches[index];
    struct text *html = &view->visit->answer.body;
    html_add(html, "<li class=\"branch\" data-branch=\"%s\"><h3>", branch->id);
    page_verdict(html, view->week->assessment->branches[index].verdict);
    html_add(html, " <a href=\"/branch/%s\">%s</a></h3>", branch->id, branch->label);
    show_html_figures(&show_check_rows, view->week, index, html);
    if (branch->appliances.count > 0) {
        html_add(html, "<details><summary>%zu %s<span class=\"hidden\"> on %s</span></summary><div class=\"switches\">",
                 branch->appliances.count, branch->appliances.count == 1 ? "appliance" : "appliances", branch->label);
        for (size_t i = 0; i < branch->appliances.count; i++) {
            add_switch(view, branch->appliances.index[i]);
        }
        html_add(html, "</div></details>");
    }
    html_add(html, "</li>\n");
}

static void add_panel(struct house_view *view, size_t index)
{
    const struct panel *panel = &view->visit->house->panels[index];
    const struct panel_assessment *result = &view->week->assessment->panels[index];
    struct text *html = &view->visit->answer.body;
    html_add(html,
             "<h3>Panel %s</h3><p>Breaker %g A. With everything on: ", panel->name == NULL ? panel->id : panel->name,
             panel->breaker_a);
    for (size_t leg = 0; leg < 3; leg++) {
        if ((panel->legs & (1u << leg)) != 0) {
            html_add(html, "leg %s %.1f A, ", legs_word(1u << leg), result->all.leg_current_a[leg]);
        }
    }
    html_add(html, "neutral %.1f A.</p>", result->all.neutral_a);
    if (result->findings.count > 0) {
        page_findings(html, &result->findings);
    }
}

/* The branches of that verdict, each a link; a few, where they are many. */
static void add_named(struct house_view *view, enum verdict verdict, size_t count)
{
    const struct house *house = view->visit->house;
    struct text *html = &view->visit->answer.body;
    size_t named = 0;
    for (size_t i = 0; i < house->branch_count && named < NAMED_MOST; i++) {
        if (view->week->assessment->branches[i].verdict == verdict) {
            html_add(html, named == 0 ? "(<a href=\"/branch/%s\">%s</a>" : ", <a href=\"/branch/%s\">%s</a>",
                     house->branches[i].id, house->branches[i].label);
            named++;
        }
    }
    if (count > named) {
        html_add(html, " and %zu more", count - named);
    }
    html_add(html, ") ");
}

static void add_verdicts(struct house_view *view)
{
    struct text *html = &view->visit->answer.body;
    const size_t *counts = view->week->verdicts;
    html_add(html, "<p class=\"verdicts\">");
    for (int verdict = VERDICT_OVER; verdict >= VERDICT_EMPTY; verdict--) {
        if (counts[verdict] > 0) {
            page_verdict(html, (enum verdict)verdict);
            html_add(html, " %zu ", counts[verdict]);
            if (verdict >= VERDICT_AT_RISK) {
                add_named(view, (enum verdict)verdict, counts[verdict]);
            }
        }
    }
    struct text legend = {0};
    show_legend(view->week, "on its own page", &legend);
    html_add(html, "</p><p class=\"legend\">%s On now is what a clamp meter would read.</p>\n", text_string(&legend));
    text_done(&legend);
}

static void add_view(struct house_view *view)
{
    struct visit *visit = view->visit;
    struct text *html = &visit->answer.body;
    const struct house *house = visit->house;
    page_begin(visit, "House");
    struct text line = {0};
    show_house(house, &line);
    html_add(html, "<p>%s.</p>\n", text_string(&line));
    text_clear(&line);
    if (reference_missing_add(&line, rules_word(house->rules))) {
        html_add(html, "<p>%s</p>\n", text_string(&line));
    }
    text_done(&line);
    add_verdicts(view);
    html_add(html, "<form action=\"/\" id=\"house\"><h2>Branches</h2>");
    add_scenes(view);
    add_money_hour(view);
    html_add(html, "<ul class=\"branches\">\n");
    for (size_t i = 0; i < house->branch_count; i++) {
        add_branch(view, i);
    }
    html_add(html, "</ul><p class=\"without-script\"><button>Work out what is switched on</button></p></form>\n"
                   "<h2>Panels</h2>\n");
    for (size_t i = 0; i < house->panel_count; i++) {
        add_panel(view, i);
    }
    html_add(html, "<p>Energy: %.1f kWh a day on average over the year", view->week->bill->kwh_day);
    if (view->week->bill->cost_day != NULL) {
        html_add(html, ", %s %s a day, standing charge and tax included", view->week->bill->cost_day, house->currency);
    }
    html_add(html, ".</p>\n");
    page_end(visit);
}

void view_house(struct visit *visit)
{
    struct check_question chosen = {.choice = {.wires = true, .no_texts = true}, .no_bill = true};
    if (!visit_choice(visit, &visit->query, &chosen.choice)) {
        return;
    }
    struct check_answer week = *visit_check(visit);
    struct house_view view = {.visit = visit, .week = &week};
    answer_check(visit->house, &chosen, &view.now);
    week.now = view.now.assessment;
    add_view(&view);
    check_answer_done(&view.now);
}

/* The answer of `check --format json`; behind it, under the key "now", what the switches cost. */
void api_check(struct visit *visit)
{
    const struct form *form = visit->post ? &visit->body : &visit->query;
    const bool brief = form_has(form, "brief");
    struct check_question question = {.choice = {.wires = true, .loads = !brief, .no_texts = brief}, .no_bill = true};
    bool asked = form_has(form, "scene") || form_has(form, "on") || form_has(form, "all");
    if (asked && !visit_choice(visit, form, &question.choice)) {
        return;
    }
    struct check_answer answer;
    answer_check(visit->house, &question, &answer);
    answer.bill = visit_bill(visit);
    json_t *json = show_check_json(&answer);
    if (asked) {
        json_t *now = json_object();
        json_object_set_new(now, "power_w", json_figure(answer.power_w));
        json_object_set_new(now, "cost_hour", json_text(visit_hour_cost(visit, answer.bill, answer.power_w)));
        json_object_set_new(json, "now", now);
    }
    visit_json(visit, json);
    check_answer_done(&answer);
}
