/*
 * One branch in large type for a room: the class predicts, loads are switched, answers stay covered until they are
 * asked for. What is covered is not in the page at all: a look at its source tells nothing.
 */
#include <stdlib.h>
#include <string.h>

#include "ampsum/answer_live.h"
#include "ampsum/answer_switched.h"
#include "ampsum/language.h"
#include "ampsum/picture_live.h"
#include "ampsum/show_check.h"
#include "ampsum/show_live.h"
#include "circuit.h"
#include "input.h"

void view_class(struct visit *visit)
{
    bool any = false;
    page_begin(visit, "Class");
    page_add(visit,
             "<div class=\"class\"><p>Choose the branch that the class is to see. Its answers stay covered until "
             "you show them.</p>");
    for (size_t i = 0; i < visit->house->branch_count; i++) {
        const struct branch *branch = &visit->house->branches[i];
        if (branch->appliances.count > 0) {
            page_add(visit, any ? "" : "<ul class=\"plain\">");
            page_add(visit, "<li><a href=\"/class/%s\">%s</a>, %zu %s</li>", branch->id, branch->label,
                     branch->appliances.count, branch->appliances.count == 1 ? "load" : "loads");
            any = true;
        }
    }
    page_add(visit, any ? "</ul>" : "<p>No branch of this house has a load yet.</p>");
    page_add(visit, "<p>On paper, with other numbers for each student: <a href=\"/files\">worksheets</a></p></div>\n");
    page_end(visit);
}

struct lesson_view {
    struct visit *visit;
    size_t index;
    struct switched_answer answer;
    size_t shown;  /* steps shown */
    bool uncovers; /* figures shown: asked for, or with the last step */
};

/* ---- what the class is asked */

static void add_question(const struct lesson_view *view)
{
    const struct switched_answer *answer = &view->answer;
    page_add(view->visit, "<p class=\"ask\"><strong>Predict first.</strong> ");
    if (answer->opened_count == 0) {
        page_add(view->visit,
                 "Every load has the same %g V across it. What does each draw, what flows at each junction, and what "
                 "do they draw together? Is that more than the breaker's %g A? Write it down, then look.</p>",
                 answer->now->voltage_v, answer->branch->breaker_a);
        return;
    }
    page_add(view->visit, "Opened: ");
    const char *before = "";
    for (size_t i = 0; i < answer->count; i++) {
        if (answer->loads[i].opened) {
            page_add(view->visit, "%s%s", before, answer->loads[i].appliance->name);
            before = ", ";
        }
    }
    page_add(view->visit, ". Which currents change, and which stay as they were? Write it down, then look.</p>");
}

/* ---- switches and what is shown */

/* What is closed, as one word to compare: units by load. */
static void add_closed(const struct lesson_view *view, struct text *text)
{
    for (size_t i = 0; i < view->answer.count; i++) {
        text_printf(text, "%s%u", i == 0 ? "" : ".", view->answer.loads[i].on);
    }
}

/* What was closed when this was shown: whatever is switched covers the answers again. */
static void add_shown(const struct lesson_view *view)
{
    struct text closed = {0};
    add_closed(view, &closed);
    page_hidden(view->visit, "was", text_string(&closed));
    text_done(&closed);
    if (view->shown == view->answer.steps.count) {
        page_add(view->visit, "<input type=\"hidden\" name=\"shown\" value=\"all\">");
    } else {
        page_add(view->visit, "<input type=\"hidden\" name=\"shown\" value=\"%zu\">", view->shown);
    }
    page_add(view->visit, view->uncovers ? "<input type=\"hidden\" name=\"figures\" value=\"1\">" : "");
}

static void add_buttons(const struct lesson_view *view)
{
    page_add(view->visit, "<p class=\"teach\">");
    if (view->shown < view->answer.steps.count) {
        page_add(view->visit, "<button name=\"shown\" value=\"%zu\" id=\"next\">Show the next step</button> ",
                 view->shown + 1);
    }
    if (!view->uncovers) {
        page_add(view->visit, "<button name=\"figures\" value=\"1\" id=\"figures\">Show the currents</button> ");
    }
    if (view->shown < view->answer.steps.count) {
        page_add(view->visit, "<button name=\"shown\" value=\"all\" id=\"every\">Show all</button> ");
    }
    page_add(view->visit, "<button name=\"shown\" value=\"0\" id=\"hide\">Cover the answers</button> "
                          "<button class=\"without-script\">Switch</button></p>");
}

static void add_switches(const struct lesson_view *view)
{
    page_add(view->visit, "<form action=\"/class/%s\" class=\"swap\"><input type=\"hidden\" name=\"on\" value=\"\">",
             view->answer.branch->id);
    add_shown(view);
    page_add(view->visit, "<fieldset><legend>Switches: closed where ticked</legend><div class=\"switches\">");
    for (size_t i = 0; i < view->answer.count; i++) {
        page_switch(view->visit, view->answer.loads[i].appliance, view->answer.loads[i].on, true);
    }
    page_add(view->visit, "</div></fieldset>");
    add_buttons(view);
    page_add(view->visit, "</form>\n");
}

/* ---- figures */

static void add_answer(const struct lesson_view *view, double current_a)
{
    if (view->uncovers) {
        page_add(view->visit, "<td class=\"n\">%.2f A</td>", current_a);
    } else {
        page_add(view->visit, "<td class=\"n\"><span class=\"covered\">covered</span></td>");
    }
}

static void add_load(const struct lesson_view *view, const struct switched_load *load)
{
    static const char *const changes[] = {
        [SWITCHED_OPEN] = "opened: no current",
        [SWITCHED_UNITS] = "switched",
        [SWITCHED_UNCHANGED] = "unchanged",
        [SWITCHED_CHANGED] = "changed",
    };
    const bool on = load->now->units > 0;
    page_add(view->visit, "<tr><th scope=\"row\">%s<small>%s</small></th><td class=\"n\">%.0f W</td>",
             load->appliance->name, view->uncovers ? changes[load->change] : "",
             on ? load->now->draw.power_w : load->before->draw.power_w);
    add_answer(view, on ? load->now->current_a : 0);
    if (circuit_is_on(load->now)) {
        add_answer(view, load->line_a);
        page_add(view->visit, "</tr>");
    } else {
        page_add(view->visit, "<td class=\"n\">-</td></tr>");
    }
}

static void add_loads(const struct lesson_view *view)
{
    const struct branch_assessment *now = view->answer.now;
    page_add(view->visit,
             "<table class=\"narrow\"><caption>Each load at %g V</caption><thead><tr><th scope=\"col\">Load</th>"
             "<th scope=\"col\" class=\"n\">Power</th><th scope=\"col\" class=\"n\">Current</th>"
             "<th scope=\"col\" class=\"n\">In the line to it</th></tr></thead><tbody>",
             now->voltage_v);
    for (size_t i = 0; i < view->answer.count; i++) {
        add_load(view, &view->answer.loads[i]);
    }
    page_add(view->visit, "</tbody><tfoot><tr><th scope=\"row\">Together<small>breaker %g A%s</small></th><td></td>",
             view->answer.branch->breaker_a, view->uncovers && now->verdict == VERDICT_OVER ? ": OVER" : "");
    add_answer(view, now->other.current_a);
    page_add(view->visit, "<td></td></tr></tfoot></table>\n");
}

/* What was to be seen, in a sentence. */
static void add_conclusion(const struct lesson_view *view)
{
    const struct switched_answer *answer = &view->answer;
    if (view->uncovers && answer->opened_count > 0) {
        page_add(
            view->visit,
            "<p class=\"ask\">Together %.2f A with all closed, %.2f A now. %zu of the %zu loads draw what they drew "
            "before: their voltage is the same, so their current is.</p>",
            answer->before->other.current_a, answer->now->other.current_a, answer->unchanged_count, answer->count);
    } else if (view->uncovers) {
        page_add(view->visit, "<p class=\"ask\">The line to each junction carries that load and all behind it.</p>");
    }
}

static void add_steps(const struct lesson_view *view)
{
    page_add(view->visit,
             "<h2>Step by step (%zu of %zu shown)</h2><ol class=\"steps\" id=\"steps\" aria-live=\"polite\">",
             view->shown, view->answer.steps.count);
    page_steps(view->visit, &view->answer.steps, view->shown);
    page_add(view->visit, "</ol>\n");
}

static void add_links(const struct lesson_view *view)
{
    page_add(view->visit, "<ul class=\"plain\">");
    if (view->answer.takes_plugs) {
        page_add(
            view->visit,
            "<li><a href=\"/appliance?what=Heater&amp;rating=1500&amp;unit=W&amp;at=branch%%3A%s\">What if a 1500 W "
            "heater is plugged in here too?</a></li>",
            view->answer.branch->id);
    }
    page_add(view->visit,
             "<li><a href=\"/live/%s\">One file of it for every student, which works without this program</a></li>",
             view->answer.branch->id);
    page_add(view->visit,
             "<li><a href=\"/class\">Another branch</a></li><li><a href=\"/branch/%s\">All of this branch, its answers "
             "with it</a></li></ul></div>\n",
             view->answer.branch->id);
}

static void add_view(const struct lesson_view *view)
{
    page_begin(view->visit, view->answer.branch->label);
    page_add(view->visit, "<div class=\"class\">");
    add_question(view);
    page_add(view->visit, "<div class=\"board\">");
    circuit_svg(view->visit, view->answer.assessment, view->index, view->uncovers ? CIRCUIT_SCREEN : CIRCUIT_COVERED);
    page_add(view->visit, "<div>");
    add_switches(view);
    add_steps(view);
    add_loads(view);
    add_conclusion(view);
    page_add(view->visit, "</div></div>");
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
    view->shown = steps_shown(query, view->answer.steps.count);
    view->uncovers = !asks_cover(query) &&
                     (form_has(query, "figures") || (view->shown > 0 && view->shown >= view->answer.steps.count));
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
    visit->answer.download = arena_printf(visit->arena, "%s.html", visit->house->branches[branch].id);
    visit->answer.type = "text/html; charset=utf-8";
    struct text drawing = {0};
    const struct picture picture = picture_live(&answer, LANGUAGE_ENGLISH, visit->arena);
    picture_svg(&picture, &drawing);
    show_live_html(&answer, LANGUAGE_ENGLISH, text_string(&drawing), &visit->answer.body);
    text_done(&drawing);
}

void view_class_branch(struct visit *visit)
{
    struct lesson_view view = {.visit = visit, .index = visit_find(visit, KIND_BRANCH, visit->rest)};
    struct assess_options chosen = {.wires = true, .loads = true};
    if (view.index == NO_INDEX) {
        return;
    }
    if (!form_has(&visit->query, "on")) {
        form_add(&visit->query, "all", "1");
    }
    if (!visit_choice(visit, &visit->query, &chosen)) {
        return;
    }
    answer_switched(visit->house, view.index, &chosen, &view.answer);
    read_shown(&view);
    add_view(&view);
    switched_answer_done(&view.answer);
}
