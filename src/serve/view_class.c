/*
 * One branch in large type for a room: the class predicts, loads are switched, answers stay covered until they are
 * asked for. What is covered is not in the page at all: a look at its source tells nothing.
 */
#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "ampsum/answer_live.h"
#include "ampsum/show_check.h"
#include "ampsum/show_live.h"
#include "circuit.h"

void view_class(struct visit *visit)
{
    struct text *html = &visit->answer.body;
    bool any = false;
    page_begin(visit, "Class");
    html_add(html, "<div class=\"class\"><p>Choose the branch that the class is to see. Its answers stay covered until "
                   "you show them.</p>");
    for (size_t i = 0; i < visit->house->branch_count; i++) {
        const struct branch *branch = &visit->house->branches[i];
        if (branch->appliances.count > 0) {
            html_add(html, any ? "" : "<ul class=\"plain\">");
            html_add(html, "<li><a href=\"/class/%s\">%s</a>, %zu %s</li>", branch->id, branch->label,
                     branch->appliances.count, branch->appliances.count == 1 ? "load" : "loads");
            any = true;
        }
    }
    html_add(html, any ? "</ul>" : "<p>No branch of this house has a load yet.</p>");
    html_add(html, "<p>On paper, with other numbers for each student: <a href=\"/files\">worksheets</a></p></div>\n");
    page_end(visit);
}

struct lesson_view {
    struct visit *visit;
    size_t index;
    struct assessment *all; /* nothing opened */
    struct assessment *now;
    struct steps steps;
    size_t shown;   /* steps shown */
    bool uncovers;  /* figures shown: asked for, or with the last step */
    double *line_a; /* towards each load's junction, now */
};

static const struct branch *branch_of(const struct lesson_view *view)
{
    return &view->visit->house->branches[view->index];
}

static const struct appliance *appliance_of(const struct lesson_view *view, size_t load)
{
    return &view->visit->house->appliances[branch_of(view)->appliances.index[load]];
}

/* ---- what the class is asked */

static bool is_opened(const struct lesson_view *view, size_t load)
{
    return view->now->branches[view->index].loads[load].units < view->all->branches[view->index].loads[load].units;
}

static size_t count_opened(const struct lesson_view *view)
{
    size_t count = 0;
    for (size_t i = 0; i < branch_of(view)->appliances.count; i++) {
        count += is_opened(view, i);
    }
    return count;
}

static void add_question(const struct lesson_view *view)
{
    struct text *html = &view->visit->answer.body;
    const struct branch *branch = branch_of(view);
    html_add(html, "<p class=\"ask\"><strong>Predict first.</strong> ");
    if (count_opened(view) == 0) {
        html_add(html,
                 "Every load has the same %g V across it. What does each draw, what flows at each junction, and what "
                 "do they draw together? Is that more than the breaker's %g A? Write it down, then look.</p>",
                 view->now->branches[view->index].voltage_v, branch->breaker_a);
        return;
    }
    html_add(html, "Opened: ");
    const char *before = "";
    for (size_t i = 0; i < branch->appliances.count; i++) {
        if (is_opened(view, i)) {
            html_add(html, "%s%s", before, appliance_of(view, i)->name);
            before = ", ";
        }
    }
    html_add(html, ". Which currents change, and which stay as they were? Write it down, then look.</p>");
}

/* ---- switches and what is shown */

static void add_switch(const struct lesson_view *view, size_t load)
{
    struct text *html = &view->visit->answer.body;
    const struct appliance *appliance = appliance_of(view, load);
    const size_t units = view->now->options.on[branch_of(view)->appliances.index[load]];
    if (appliance->count == 1) {
        html_add(html, "<label><input type=\"checkbox\" name=\"on\" value=\"%s\" id=\"on-%s\"", appliance->id,
                 appliance->id);
        html_add(html, units > 0 ? " checked> %s</label>" : "> %s</label>", appliance->name);
        return;
    }
    html_add(html,
             "<label><input type=\"number\" name=\"n-%s\" id=\"on-%s\" min=\"0\" max=\"%zu\" value=\"%zu\"> of %zu "
             "%s</label>",
             appliance->id, appliance->id, (size_t)appliance->count, units, (size_t)appliance->count, appliance->name);
}

/* What is closed, as one word to compare: units by load. */
static void add_closed(const struct lesson_view *view, struct text *text)
{
    for (size_t i = 0; i < branch_of(view)->appliances.count; i++) {
        text_printf(text, "%s%u", i == 0 ? "" : ".", view->now->options.on[branch_of(view)->appliances.index[i]]);
    }
}

/* What was closed when this was shown: whatever is switched covers the answers again. */
static void add_shown(const struct lesson_view *view)
{
    struct text *html = &view->visit->answer.body;
    struct text closed = {0};
    add_closed(view, &closed);
    html_add(html, "<input type=\"hidden\" name=\"was\" value=\"%s\">", text_string(&closed));
    text_done(&closed);
    if (view->shown == view->steps.count) {
        html_add(html, "<input type=\"hidden\" name=\"shown\" value=\"all\">");
    } else {
        html_add(html, "<input type=\"hidden\" name=\"shown\" value=\"%zu\">", view->shown);
    }
    html_add(html, view->uncovers ? "<input type=\"hidden\" name=\"figures\" value=\"1\">" : "");
}

static void add_buttons(const struct lesson_view *view)
{
    struct text *html = &view->visit->answer.body;
    html_add(html, "<p class=\"teach\">");
    if (view->shown < view->steps.count) {
        html_add(html, "<button name=\"shown\" value=\"%zu\" id=\"next\">Show the next step</button> ",
                 view->shown + 1);
    }
    if (!view->uncovers) {
        html_add(html, "<button name=\"figures\" value=\"1\" id=\"figures\">Show the currents</button> ");
    }
    if (view->shown < view->steps.count) {
        html_add(html, "<button name=\"shown\" value=\"all\" id=\"every\">Show all</button> ");
    }
    html_add(html, "<button name=\"shown\" value=\"0\" id=\"hide\">Cover the answers</button> "
                   "<button class=\"without-script\">Switch</button></p>");
}

static void add_switches(const struct lesson_view *view)
{
    struct text *html = &view->visit->answer.body;
    html_add(html, "<form action=\"/class/%s\" class=\"swap\"><input type=\"hidden\" name=\"on\" value=\"\">",
             branch_of(view)->id);
    add_shown(view);
    html_add(html, "<fieldset><legend>Switches: closed where ticked</legend><div class=\"switches\">");
    for (size_t i = 0; i < branch_of(view)->appliances.count; i++) {
        add_switch(view, i);
    }
    html_add(html, "</div></fieldset>");
    add_buttons(view);
    html_add(html, "</form>\n");
}

/* ---- figures */

/* How a load's current stands against what it was before anything was opened. */
static const char *compare(const struct load *before, const struct load *now)
{
    if (now->units == 0) {
        return "opened: no current";
    }
    if (now->units != before->units || now->counted != before->counted) {
        return "switched";
    }
    return fabs(before->current_a - now->current_a) <= 1e-9 * fmax(1, before->current_a) ? "unchanged" : "changed";
}

static void add_answer(const struct lesson_view *view, double current_a)
{
    if (view->uncovers) {
        html_add(&view->visit->answer.body, "<td class=\"n\">%.2f A</td>", current_a);
    } else {
        html_add(&view->visit->answer.body, "<td class=\"n\"><span class=\"covered\">covered</span></td>");
    }
}

static void add_load(const struct lesson_view *view, size_t load)
{
    struct text *html = &view->visit->answer.body;
    const struct load *before = &view->all->branches[view->index].loads[load];
    const struct load *now = &view->now->branches[view->index].loads[load];
    html_add(html, "<tr><th scope=\"row\">%s<small>%s</small></th><td class=\"n\">%.0f W</td>",
             appliance_of(view, load)->name, view->uncovers ? compare(before, now) : "",
             now->units > 0 ? now->draw.power_w : before->draw.power_w);
    add_answer(view, now->units > 0 ? now->current_a : 0);
    if (circuit_is_on(now)) {
        add_answer(view, view->line_a[load]);
        html_add(html, "</tr>");
    } else {
        html_add(html, "<td class=\"n\">-</td></tr>");
    }
}

static void add_loads(const struct lesson_view *view)
{
    struct text *html = &view->visit->answer.body;
    const struct branch_assessment *now = &view->now->branches[view->index];
    html_add(html,
             "<table class=\"narrow\"><caption>Each load at %g V</caption><thead><tr><th scope=\"col\">Load</th>"
             "<th scope=\"col\" class=\"n\">Power</th><th scope=\"col\" class=\"n\">Current</th>"
             "<th scope=\"col\" class=\"n\">In the line to it</th></tr></thead><tbody>",
             now->voltage_v);
    for (size_t i = 0; i < branch_of(view)->appliances.count; i++) {
        add_load(view, i);
    }
    html_add(html, "</tbody><tfoot><tr><th scope=\"row\">Together<small>breaker %g A%s</small></th><td></td>",
             branch_of(view)->breaker_a, view->uncovers && now->verdict == VERDICT_OVER ? ": OVER" : "");
    add_answer(view, now->other.current_a);
    html_add(html, "<td></td></tr></tfoot></table>\n");
}

/* What was to be seen, in a sentence. */
static void add_conclusion(const struct lesson_view *view)
{
    struct text *html = &view->visit->answer.body;
    size_t unchanged = 0;
    if (!view->uncovers) {
        return;
    }
    for (size_t i = 0; i < branch_of(view)->appliances.count; i++) {
        unchanged +=
            strcmp(compare(&view->all->branches[view->index].loads[i], &view->now->branches[view->index].loads[i]),
                   "unchanged") == 0;
    }
    if (count_opened(view) > 0) {
        html_add(
            html,
            "<p class=\"ask\">Together %.2f A with all closed, %.2f A now. %zu of the %zu loads draw what they drew "
            "before: their voltage is the same, so their current is.</p>",
            view->all->branches[view->index].other.current_a, view->now->branches[view->index].other.current_a,
            unchanged, branch_of(view)->appliances.count);
    } else {
        html_add(html, "<p class=\"ask\">The line to each junction carries that load and all behind it.</p>");
    }
}

static void add_steps(const struct lesson_view *view)
{
    struct text *html = &view->visit->answer.body;
    html_add(html, "<h2>Step by step (%zu of %zu shown)</h2><ol class=\"steps\" id=\"steps\" aria-live=\"polite\">",
             view->shown, view->steps.count);
    for (size_t i = 0; i < view->shown; i++) {
        struct text line = {0};
        step_write(&line, &view->steps.step[i], true);
        html_add(html, "<li>%s</li>", text_string(&line));
        text_done(&line);
    }
    html_add(html, "</ol>\n");
}

/* Where a plug-in load may be asked for: no branch that is kept for one appliance or for lights, nor of higher voltage.
 */
static bool takes_plugs(const struct lesson_view *view)
{
    const struct branch *branch = branch_of(view);
    return branch->purpose != PURPOSE_DEDICATED && branch->purpose != PURPOSE_LIGHTING && branch->poles == 1;
}

static void add_links(const struct lesson_view *view)
{
    struct text *html = &view->visit->answer.body;
    html_add(html, "<ul class=\"plain\">");
    if (takes_plugs(view)) {
        html_add(
            html,
            "<li><a href=\"/appliance?what=Heater&amp;rating=1500&amp;unit=W&amp;at=branch%%3A%s\">What if a 1500 W "
            "heater is plugged in here too?</a></li>",
            branch_of(view)->id);
    }
    html_add(html,
             "<li><a href=\"/live/%s\">One file of it for every student, which works without this program</a></li>",
             branch_of(view)->id);
    html_add(html,
             "<li><a href=\"/class\">Another branch</a></li><li><a href=\"/branch/%s\">All of this branch, its answers "
             "with it</a></li></ul></div>\n",
             branch_of(view)->id);
}

static void add_view(const struct lesson_view *view)
{
    struct text *html = &view->visit->answer.body;
    page_begin(view->visit, branch_of(view)->label);
    html_add(html, "<div class=\"class\">");
    add_question(view);
    html_add(html, "<div class=\"board\">");
    circuit_svg(view->visit, view->now, view->index, view->uncovers ? CIRCUIT_SCREEN : CIRCUIT_COVERED);
    html_add(html, "<div>");
    add_switches(view);
    add_steps(view);
    add_loads(view);
    add_conclusion(view);
    html_add(html, "</div></div>");
    add_links(view);
    page_end(view->visit);
}

/* The last `shown`: a button's comes behind the hidden one. */
static size_t steps_shown(const struct form *form, size_t most)
{
    size_t shown = 0;
    for (size_t i = 0; i < form->count; i++) {
        if (strcmp(form->field[i].name, "shown") == 0) {
            const char *value = form->field[i].value;
            shown = strcmp(value, "all") == 0 ? most : (size_t)strtoul(value, NULL, 10);
        }
    }
    return shown > most ? most : shown;
}

/* Covering is the button that asks for no step: it wins over figures that were shown before. */
static bool asks_cover(const struct form *form)
{
    size_t count = 0;
    const char *last = "";
    for (size_t i = 0; i < form->count; i++) {
        if (strcmp(form->field[i].name, "shown") == 0) {
            last = form->field[i].value;
            count++;
        }
    }
    return count > 1 && strcmp(last, "0") == 0;
}

/* Whether something was switched since the page that asks was shown. */
static bool was_switched(const struct lesson_view *view)
{
    const char *was = form_value(&view->visit->query, "was");
    struct text closed = {0};
    add_closed(view, &closed);
    const bool switched = form_has(&view->visit->query, "was") && strcmp(was, text_string(&closed)) != 0;
    text_done(&closed);
    return switched;
}

static void read_shown(struct lesson_view *view)
{
    const struct form *query = &view->visit->query;
    if (was_switched(view)) {
        return;
    }
    view->shown = steps_shown(query, view->steps.count);
    view->uncovers =
        !asks_cover(query) && (form_has(query, "figures") || (view->shown > 0 && view->shown >= view->steps.count));
}

/* The live lesson of the branch, to be saved and handed out. */
void download_live(struct visit *visit)
{
    const size_t branch = visit_find(visit, KIND_BRANCH, visit->rest);
    struct live_answer answer;
    if (branch == NO_INDEX) {
        return;
    }
    answer_live(visit->house, branch, visit->arena, &answer);
    if (answer.load_count == 0) {
        visit_refuse(visit, 404, "Nothing to switch", "Nothing on this branch draws a current.");
        return;
    }
    struct text name = {0};
    text_printf(&name, "%s.html", visit->house->branches[branch].id);
    visit->answer.download = arena_copy(visit->arena, text_string(&name));
    visit->answer.type = "text/html; charset=utf-8";
    text_done(&name);
    show_live_html(&answer, &visit->answer.body);
}

void view_class_branch(struct visit *visit)
{
    struct lesson_view view = {.visit = visit, .index = visit_find(visit, KIND_BRANCH, visit->rest)};
    struct assess_options chosen = {.wires = true, .loads = true};
    struct assess_options closed = {.loads = true};
    struct form all = {0};
    if (view.index == NO_INDEX) {
        return;
    }
    form_add(&all, "all", "1");
    visit_choice(visit, &all, &closed);
    form_done(&all);
    if (!form_has(&visit->query, "on")) {
        form_add(&visit->query, "all", "1");
    }
    if (!visit_choice(visit, &visit->query, &chosen)) {
        return;
    }
    view.all = assess_house(visit->house, &closed);
    view.now = assess_house(visit->house, &chosen);
    const struct check_answer check = {.house = visit->house, .assessment = view.now};
    const struct branch_answer answer = branch_answer_of(&check, view.index);
    branch_answer_steps(&answer, &view.steps);
    read_shown(&view);
    view.line_a = arena_array(visit->arena, branch_of(&view)->appliances.count + 1, sizeof *view.line_a);
    const struct branch_assessment *now = &view.now->branches[view.index];
    branch_junctions(visit->house, view.index, now->loads, now->voltage_v, view.line_a);
    add_view(&view);
    steps_done(&view.steps);
    assess_free(view.now);
    assess_free(view.all);
}
