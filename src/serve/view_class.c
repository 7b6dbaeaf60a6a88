/*
 * One branch in large type for a room: the class predicts, loads are switched, answers stay covered until they are
 * asked for. What is covered is not in the page at all: a look at its source tells nothing.
 */
#include <stdlib.h>
#include <string.h>

#include "ampsum/answer_switched.h"
#include "ampsum/language.h"
#include "ampsum/picture_live.h"
#include "ampsum/show_check.h"
#include "ampsum/show_live.h"
#include "circuit.h"
#include "speak.h"

static void add_branch(struct visit *visit, const struct branch *branch)
{
    page_add(visit, "<li><a href=\"/class/%s%s\">%s</a>, ", branch->id, page_carried(visit, true), branch->label);
    page_say(visit, branch->appliances.count == 1 ? "board.load-one" : "board.loads", "number",
             page_count(visit, branch->appliances.count));
    page_add(visit, "</li>");
}

void view_class(struct visit *visit)
{
    bool any = false;
    page_begin(visit, page_word(visit, "page.nav-class"));
    page_languages(visit);
    page_add(visit, "<div class=\"class\"><p>%s</p>", page_word(visit, "board.choose"));
    for (size_t i = 0; i < visit->house->branch_count; i++) {
        const struct branch *branch = &visit->house->branches[i];
        if (branch->appliances.count > 0) {
            page_add(visit, any ? "" : "<ul class=\"plain\">");
            add_branch(visit, branch);
            any = true;
        }
    }
    if (any) {
        page_add(visit, "</ul>");
    } else {
        page_add(visit, "<p>%s</p>", page_word(visit, "board.none"));
    }
    page_add(visit, "<p>%s<a href=\"/files%s#lesson\">%s</a></p></div>\n", page_word(visit, "board.paper"),
             page_carried(visit, true), page_word(visit, "board.worksheets"));
    page_end(visit);
}

struct lesson_view {
    struct visit *visit;
    size_t index;
    struct switched_answer answer;
    const char *closed; /* what is, as one word to compare: units by load */
    size_t shown;       /* steps shown */
    bool uncovers;      /* figures shown: asked for, or with the last step */
};

/* ---- what the class is asked */

/* Names of the loads that are opened. */
static const char *opened_names(const struct lesson_view *view)
{
    struct text names = {0};
    for (size_t i = 0; i < view->answer.count; i++) {
        if (view->answer.loads[i].opened) {
            text_printf(&names, "%s%s", names.length == 0 ? "" : ", ", view->answer.loads[i].appliance->name);
        }
    }
    return arena_text(view->visit->arena, &names);
}

static void add_question(const struct lesson_view *view)
{
    const struct switched_answer *answer = &view->answer;
    struct visit *visit = view->visit;
    page_add(visit, "<p class=\"ask\"><strong>%s</strong> ", page_word(visit, "board.predict"));
    if (answer->opened_count == 0) {
        page_say(visit, "board.ask", "voltage", page_rounded(visit, answer->now->voltage_v), "breaker",
                 page_rounded(visit, answer->branch->breaker_a));
    } else {
        page_say(visit, "board.opened", "loads", opened_names(view));
    }
    page_add(visit, "</p>");
}

/* ---- switches and what is shown */

/* What was closed when this was shown: whatever is switched covers the answers again. */
static void add_shown(const struct lesson_view *view)
{
    struct visit *visit = view->visit;
    const bool all = view->shown == view->answer.steps.count;
    page_hidden(visit, "was", view->closed);
    page_hidden(visit, "shown", all ? "all" : arena_printf(visit->arena, "%zu", view->shown));
    if (view->uncovers) {
        page_hidden(visit, "figures", "1");
    }
}

static void add_button(struct visit *visit, const char *name, const char *value, const char *id, const char *key)
{
    page_add(visit, "<button name=\"%s\" value=\"%s\" id=\"%s\">%s</button> ", name, value, id, page_word(visit, key));
}

static void add_buttons(const struct lesson_view *view)
{
    struct visit *visit = view->visit;
    const bool more = view->shown < view->answer.steps.count;
    page_add(visit, "<p class=\"teach\">");
    if (more) {
        add_button(visit, "shown", arena_printf(visit->arena, "%zu", view->shown + 1), "next", "board.next");
    }
    if (!view->uncovers) {
        add_button(visit, "figures", "1", "figures", "board.currents");
    }
    if (more) {
        add_button(visit, "shown", "all", "every", "board.all");
    }
    add_button(visit, "shown", "0", "hide", "board.cover");
    page_add(visit, "<button class=\"without-script\">%s</button></p>", page_word(visit, "board.switch"));
}

static void add_switches(const struct lesson_view *view)
{
    page_add(view->visit, "<form action=\"/class/%s\" class=\"swap\"><input type=\"hidden\" name=\"on\" value=\"\">",
             view->answer.branch->id);
    page_carry(view->visit);
    add_shown(view);
    page_add(view->visit, "<fieldset><legend>%s</legend><div class=\"switches\">",
             page_word(view->visit, "live.switches"));
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
        page_add(view->visit, "<td class=\"n\">%s A</td>", page_figure(view->visit, current_a, 2));
    } else {
        page_add(view->visit, "<td class=\"n\"><span class=\"covered\">%s</span></td>",
                 page_word(view->visit, "live.covered"));
    }
}

static void add_load(const struct lesson_view *view, const struct switched_load *load)
{
    static const char *const changes[] = {
        [SWITCHED_OPEN] = "board.is-opened",
        [SWITCHED_UNITS] = "board.is-switched",
        [SWITCHED_UNCHANGED] = "board.is-unchanged",
        [SWITCHED_CHANGED] = "board.is-changed",
    };
    const bool on = load->now->units > 0;
    page_add(view->visit, "<tr><th scope=\"row\">%s<small>%s</small></th><td class=\"n\">%s W</td>",
             load->appliance->name, view->uncovers ? page_word(view->visit, changes[load->change]) : "",
             page_figure(view->visit, on ? load->now->draw.power_w : load->before->draw.power_w, 0));
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
    const bool over = view->uncovers && now->verdict == VERDICT_OVER;
    struct visit *visit = view->visit;
    page_add(visit, "<table class=\"narrow\"><caption>");
    show_live_head(visit->language, now->voltage_v, &visit->answer.body);
    for (size_t i = 0; i < view->answer.count; i++) {
        add_load(view, &view->answer.loads[i]);
    }
    page_add(visit, "</tbody><tfoot><tr><th scope=\"row\">%s<small>", page_word(visit, "live.together"));
    page_say(visit, over ? "board.breaker-over" : "board.breaker", "breaker",
             page_rounded(visit, view->answer.branch->breaker_a));
    page_add(visit, "</small></th><td></td>");
    add_answer(view, now->other.current_a);
    page_add(visit, "<td></td></tr></tfoot></table>\n");
}

/* What was to be seen, in a sentence. */
static void add_conclusion(const struct lesson_view *view)
{
    const struct switched_answer *answer = &view->answer;
    struct visit *visit = view->visit;
    if (!view->uncovers) {
        return;
    }
    page_add(visit, "<p class=\"ask\">");
    if (answer->opened_count > 0) {
        page_say(visit, "board.after-opening", "before", page_figure(visit, answer->before->other.current_a, 2), "now",
                 page_figure(visit, answer->now->other.current_a, 2), "same",
                 page_count(visit, answer->unchanged_count), "all", page_count(visit, answer->count));
    } else {
        page_add(visit, "%s", page_word(visit, "board.conclusion"));
    }
    page_add(visit, "</p>");
}

static void add_steps(const struct lesson_view *view)
{
    page_add(view->visit, "<h2>");
    page_say(view->visit, "board.steps", "shown", page_count(view->visit, view->shown), "all",
             page_count(view->visit, view->answer.steps.count));
    page_add(view->visit, "</h2><ol class=\"steps\" id=\"steps\" aria-live=\"polite\">");
    page_steps(view->visit, &view->answer.steps, view->shown);
    page_add(view->visit, "</ol>\n");
}

static void add_links(const struct lesson_view *view)
{
    struct visit *visit = view->visit;
    const char *id = view->answer.branch->id;
    page_add(visit, "<ul class=\"plain\">");
    if (view->answer.takes_plugs) {
        page_add(visit,
                 "<li><a href=\"/appliance?what=Heater&amp;rating=1500&amp;unit=W&amp;at=branch%%3A%s\">%s</a></li>",
                 id, page_word(visit, "board.what-if"));
    }
    page_add(visit, "<li><a href=\"/live/%s%s\">%s</a></li>", id, page_carried(visit, true),
             page_word(visit, "board.live"));
    page_add(visit, "<li><a href=\"/class%s\">%s</a></li><li><a href=\"/branch/%s\">%s</a></li></ul></div>\n",
             page_carried(visit, true), page_word(visit, "board.another"), id, page_word(visit, "board.whole"));
}

static void add_view(const struct lesson_view *view)
{
    page_begin(view->visit, view->answer.branch->label);
    page_add(view->visit, "<div class=\"class\">");
    add_question(view);
    page_add(view->visit, "<div class=\"board\">");
    circuit_board(view->visit, view->answer.assessment, view->index, !view->uncovers);
    page_add(view->visit, "<div>");
    add_switches(view);
    add_steps(view);
    add_loads(view);
    add_conclusion(view);
    page_add(view->visit, "</div></div>");
    add_links(view);
    page_languages(view->visit); /* at the end: a projector's screen is for the circuit */
    page_end(view->visit);
}

static const char *closed_now(const struct lesson_view *view)
{
    struct text closed = {0};
    for (size_t i = 0; i < view->answer.count; i++) {
        text_printf(&closed, "%s%u", i == 0 ? "" : ".", view->answer.loads[i].on);
    }
    return arena_text(view->visit->arena, &closed);
}

/*
 * The last `shown` counts: a button's comes behind the hidden one. Covering is the button that asks for no step: it
 * wins over figures that were shown before. Nothing is shown once something was switched.
 */
static void read_shown(struct lesson_view *view)
{
    const struct form *query = &view->visit->query;
    const size_t most = view->answer.steps.count;
    size_t count = 0;
    const char *const *shown = form_all(query, "shown", view->visit->arena, &count);
    const char *last = count == 0 ? "" : shown[count - 1];
    view->closed = closed_now(view);
    if (form_has(query, "was") && strcmp(form_value(query, "was"), view->closed) != 0) {
        return;
    }
    const size_t asked = strcmp(last, "all") == 0 ? most : (size_t)strtoul(last, NULL, 10);
    const bool covers = count > 1 && strcmp(last, "0") == 0;
    view->shown = asked > most ? most : asked;
    view->uncovers = !covers && (form_has(query, "figures") || (view->shown > 0 && view->shown == most));
}

/* The live lesson of the branch, to be saved and handed out. */
void download_live(struct visit *visit)
{
    if (live_page(visit->house, visit->row, visit->language, visit->arena, &visit->answer.body) == 0) {
        visit_refuse(visit, 404, "Nothing to switch", "Nothing on this branch draws a current.");
        return;
    }
    visit->answer.download = arena_printf(visit->arena, "%s.html", visit->house->branches[visit->row].id);
}

void view_class_branch(struct visit *visit)
{
    struct lesson_view view = {.visit = visit, .index = visit->row};
    struct assess_options chosen = {.wires = true, .loads = true};
    if (!form_has(&visit->query, "on")) {
        form_add(&visit->query, "all", "1");
    }
    if (!visit_choice(visit, &visit->query, &chosen)) {
        return;
    }
    answer_switched(visit->house, view.index, &chosen, visit->language, &view.answer);
    read_shown(&view);
    add_view(&view);
    switched_answer_done(&view.answer);
}
