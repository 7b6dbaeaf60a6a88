/* The house: a question's box, then the panel, a row for each breaker, with switches for what is on now. */
#include <stdlib.h>
#include <string.h>

#include "ampsum/reference.h"
#include "ampsum/show_check.h"
#include "ampsum/show_cost.h"
#include "ask.h"
#include "input.h"

enum {
    UNFOLDED_LEAST = 6, /* rows that stay in sight though all have room */
    FOLDED_LEAST = 4,   /* fewer are not worth a fold */
};

struct house_view {
    struct visit *visit;
    const struct check_answer *week; /* busiest minute and everything on; beside it what is switched on */
    struct check_answer now;         /* what is switched on */
    const size_t *order;             /* of the rows */
};

/* ---- the order of the rows, and which of them are shown */

static bool asks_space(const struct visit *visit)
{
    return strcmp(form_value(&visit->query, "order"), "space") == 0;
}

/* The search stands outside the switches' form; without a script its button asks for the page anew. */
static void add_search(struct visit *visit)
{
    page_add(visit,
             "<form action=\"/\" role=\"search\" class=\"find\"><label>Find <input "
             "type=\"search\" name=\"find\" id=\"find\" placeholder=\"a branch or an appliance\" value=\"%s\"></label> "
             "<button "
             "class=\"without-script\">Find</button> <span class=\"scenes\">Sorted: ",
             form_value(&visit->query, "find"));
    page_add(visit, asks_space(visit)
                        ? "<a href=\"/\">the worst first</a> <a href=\"/?order=space\" aria-current=\"true\">"
                        : "<a href=\"/\" aria-current=\"true\">the worst first</a> <a href=\"/?order=space\">");
    page_add(visit, "by space</a></span>");
    page_add(visit, "<span id=\"none-found\" role=\"status\"></span></form>\n");
}

static void add_money_hour(struct house_view *view)
{
    struct visit *visit = view->visit;
    const char *cost = visit_hour_cost(visit, view->week->bill, view->now.power_w);
    page_add(visit, "<p class=\"total\" id=\"total\" aria-live=\"polite\">On now: <b id=\"now-power\">%.0f</b> W",
             view->now.power_w);
    if (cost != NULL) {
        page_add(visit, ", about <b id=\"now-cost\">%s</b> %s an hour", cost, visit->house->currency);
    }
    page_add(visit, ".</p>\n");
}

/* Folded: most people look at the worst row first, not at a scene. */
static void add_scenes(struct house_view *view)
{
    const struct house *house = view->visit->house;
    page_add(view->visit, view->now.power_w > 0 ? "<details open>" : "<details>");
    page_add(view->visit, "<summary>Switch many at once</summary><p class=\"scenes\"><a href=\"/?all=1\">everything "
                          "on</a> <a href=\"/\">nothing on</a>");
    for (size_t i = 0; i < house->scene_count; i++) {
        page_add(view->visit, " <a href=\"/?scene=%s\">%s</a>", house->scenes[i].id, house->scenes[i].name);
    }
    page_add(view->visit, "</p></details>\n");
}

/* What to do or what is left; over or at risk: the smallest set that may not run together. */
static void add_advice(struct house_view *view, size_t index, enum check_advice advice)
{
    struct text line = {0};
    if (advice == CHECK_SETS) {
        page_not_together(view->visit, view->week, index);
    } else if (advice == CHECK_LEFT) {
        show_check_left(view->week, index, &line);
        page_add(view->visit, "<p class=\"todo left\">%s</p>", arena_text(view->visit->arena, &line));
    }
}

static void add_switches(struct house_view *view, const struct branch *branch)
{
    if (branch->appliances.count == 0) {
        return;
    }
    page_add(view->visit,
             "<details><summary>%zu %s<span class=\"hidden\"> on %s</span></summary><div class=\"switches\">",
             branch->appliances.count, branch->appliances.count == 1 ? "appliance" : "appliances", branch->label);
    for (size_t i = 0; i < branch->appliances.count; i++) {
        const size_t index = branch->appliances.index[i];
        page_switch(view->visit, &view->visit->house->appliances[index], view->now.assessment->options.on[index],
                    false);
    }
    page_add(view->visit, "</div></details>");
}

static void add_branch(struct house_view *view, size_t index, enum check_advice advice)
{
    const struct branch *branch = &view->visit->house->branches[index];
    page_add(view->visit, "<li class=\"branch\" data-branch=\"%s\"><h3>", branch->id);
    page_verdict(view->visit, view->week->assessment->branches[index].verdict);
    page_add(view->visit, " <a href=\"/branch/%s\">%s</a> <small>%g A</small></h3>", branch->id, branch->label,
             branch->breaker_a);
    page_bar(view->visit, view->week, index);
    show_html_figures(&show_check_rows, view->week, index, &view->visit->answer.body);
    add_advice(view, index, advice);
    add_switches(view, branch);
    page_add(view->visit, "</li>\n");
}

/* The first rows of `count` that stay in sight: all but those with room, where the worst come first and all is off. */
static size_t rows_in_sight(const struct house_view *view, size_t count)
{
    const size_t worst = check_without_room(view->week);
    const size_t least = worst < UNFOLDED_LEAST ? UNFOLDED_LEAST : worst;
    const bool searched = form_value(&view->visit->query, "find")[0] != '\0';
    const bool whole = searched || asks_space(view->visit) || view->now.power_w > 0;
    return whole || count < least + FOLDED_LEAST ? count : least;
}

static void add_branches(struct house_view *view)
{
    size_t count = 0;
    const size_t *found = branches_found(view->visit->house, view->order, form_value(&view->visit->query, "find"),
                                         view->visit->arena, &count);
    const enum check_advice *advice = check_advise(view->week, found, count, view->visit->arena);
    const size_t in_sight = rows_in_sight(view, count);
    page_add(view->visit, "<ul class=\"branches\">\n");
    for (size_t i = 0; i < count; i++) {
        if (i == in_sight) {
            page_add(view->visit,
                     "</ul><details class=\"with-room\"><summary>%zu more branches, all with room</summary><ul "
                     "class=\"branches\">\n",
                     count - i);
        }
        add_branch(view, found[i], advice[i]);
    }
    page_add(view->visit, in_sight < count ? "</ul></details>" : "</ul>");
    page_add(view->visit, count == 0 ? "<p>No branch and no appliance is called so.</p>" : "");
}

static void add_panel(struct house_view *view, size_t index)
{
    const struct panel *panel = &view->visit->house->panels[index];
    const struct panel_assessment *result = &view->week->assessment->panels[index];
    page_add(view->visit, "<h3>Panel %s</h3><p>Breaker %g A. With everything on: ", panel->name, panel->breaker_a);
    for (size_t leg = 0; leg < 3; leg++) {
        if ((panel->legs & (1u << leg)) != 0) {
            page_add(view->visit, "leg %s %.1f A, ", legs_word(1u << leg), result->all.leg_current_a[leg]);
        }
    }
    page_add(view->visit, "neutral %.1f A.</p>", result->all.neutral_a);
    struct text need = {0};
    show_check_panel(view->week, index, &need);
    page_paragraph(view->visit, "todo", &need);
    page_findings_folded(view->visit, &result->findings);
}

static void add_verdicts(struct house_view *view)
{
    const size_t *counts = view->week->verdicts;
    page_add(view->visit, "<p class=\"verdicts\">");
    for (int verdict = VERDICT_OVER; verdict >= VERDICT_EMPTY; verdict--) {
        if (counts[verdict] > 0) {
            page_verdict(view->visit, (enum verdict)verdict);
            page_add(view->visit, " %zu ", counts[verdict]);
        }
    }
    struct text legend = {0};
    show_legend(view->week, "on its own page", &legend);
    page_add(view->visit,
             "</p><details class=\"legend\"><summary>What the words and bars mean</summary><p>%s On now is what a "
             "clamp meter would read, its cost an hour is at this house's mean price. Bars end at half more than the "
             "rating, which is the strong line: dark to the "
             "busiest minute, light to everything on; the thin line is where near begins.</p></details>\n",
             text_string(&legend));
    text_done(&legend);
}

/* Supply and rules, and what the rules lack. */
static void add_house_line(struct visit *visit)
{
    struct text line = {0};
    show_house(visit->house, &line);
    text_add_char(&line, '.');
    page_paragraph(visit, NULL, &line);
    reference_missing_add(&line, rules_word(visit->house->rules));
    page_paragraph(visit, NULL, &line);
}

/* A mean day and month, and the months that differ most from it. */
static void add_energy(struct house_view *view)
{
    struct visit *visit = view->visit;
    const char *currency = visit->house->currency;
    struct cost_answer cost = {.house = visit->house, .bill = view->week->bill};
    struct text season = {0};
    page_add(visit, "<p class=\"energy\">Energy: %.1f kWh a day on average over the year", cost.bill->kwh_day);
    if (cost.bill->cost_day != NULL) {
        page_add(visit, ", %s %s a day or %s %s a month, standing charge and tax included", cost.bill->cost_day,
                 currency, cost.bill->cost_month, currency);
    }
    cost_find_months(&cost);
    show_cost_dearest(&cost, &season);
    page_add(visit, ". %s</p>\n", text_string(&season));
    text_done(&season);
}

static void add_view(struct house_view *view)
{
    struct visit *visit = view->visit;
    const struct house *house = visit->house;
    page_begin(visit, "House");
    ask_box(visit);
    add_verdicts(view);
    if (house->branch_count > UNFOLDED_LEAST) {
        add_search(visit);
    }
    page_add(visit, "<form action=\"/\" id=\"house\"");
    page_add(visit, view->now.power_w > 0 ? " class=\"switched\"><h2>The panel</h2>" : "><h2>The panel</h2>");
    add_scenes(view);
    add_money_hour(view);
    add_branches(view);
    page_add(visit, "<p class=\"without-script\"><button>Work out what is switched on</button></p></form>\n"
                    "<h2>Panels</h2>\n");
    for (size_t i = 0; i < house->panel_count; i++) {
        add_panel(view, i);
    }
    add_energy(view);
    add_house_line(visit);
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
    view.order =
        asks_space(visit) ? branches_by_space(visit->house, visit->arena) : check_worst_first(&week, visit->arena);
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
