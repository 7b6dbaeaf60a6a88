/* One branch in large type for a room: loads are switched, answers stay hidden until they are asked for. */
#include <math.h>
#include <stdlib.h>

#include "ampsum/report.h"
#include "circuit.h"

void view_class(struct visit *visit)
{
    struct text *html = &visit->answer.body;
    page_begin(visit, "Class");
    html_add(html, "<p>Choose the branch that the class is to see. Its answers stay hidden until you show them.</p>"
                   "<ul class=\"plain\">");
    for (size_t i = 0; i < visit->house->branch_count; i++) {
        const struct branch *branch = &visit->house->branches[i];
        if (branch->appliances.count > 0) {
            html_add(html, "<li><a href=\"/class/%s\">%s</a>, %z loads</li>", branch->id, branch->label,
                     branch->appliances.count);
        }
    }
    html_add(html, "</ul>\n");
    page_end(visit);
}

struct lesson_view {
    struct visit *visit;
    size_t index;
    struct assessment *all; /* nothing opened */
    struct assessment *now;
    struct steps steps;
    size_t shown; /* steps shown; figures are shown with the last of them */
};

static void add_switches(struct lesson_view *view)
{
    struct visit *visit = view->visit;
    struct text *html = &visit->answer.body;
    const struct branch *branch = &visit->house->branches[view->index];
    html_add(html,
             "<form action=\"/class/%s\" class=\"swap\"><input type=\"hidden\" name=\"on\" value=\"\">"
             "<input type=\"hidden\" name=\"shown\" value=\"%z\"><fieldset><legend>Switches</legend><div "
             "class=\"switches\">",
             branch->id, view->shown);
    for (size_t i = 0; i < branch->appliances.count; i++) {
        const struct appliance *appliance = &visit->house->appliances[branch->appliances.index[i]];
        html_add(html, "<label><input type=\"checkbox\" name=\"on\" value=\"%s\" id=\"on-%s\"", appliance->id,
                 appliance->id);
        html_add(html, view->now->options.on[branch->appliances.index[i]] > 0 ? " checked" : "");
        html_add(html, "> %s</label>", appliance->name);
    }
    html_add(html, "</div></fieldset><p class=\"teach\">");
    if (view->shown < view->steps.count) {
        html_add(html,
                 "<button name=\"shown\" value=\"%z\" id=\"next\">Show the next step</button> "
                 "<button name=\"shown\" value=\"%z\" id=\"every\">Show all</button> ",
                 view->shown + 1, view->steps.count);
    }
    html_add(html, "<button name=\"shown\" value=\"0\" id=\"hide\">Hide the answers</button> "
                   "<button class=\"without-script\">Switch</button></p></form>\n");
}

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

static void add_answer(struct text *html, bool shown, double value, const char *unit)
{
    if (shown) {
        html_add(html, "<td class=\"n\">%2 %s</td>", value, unit);
    } else {
        html_add(html, "<td class=\"n\"><span class=\"covered\">hidden</span></td>");
    }
}

static void add_loads(struct lesson_view *view, bool shown)
{
    struct text *html = &view->visit->answer.body;
    const struct branch *branch = &view->visit->house->branches[view->index];
    const struct branch_assessment *before = &view->all->branches[view->index];
    const struct branch_assessment *now = &view->now->branches[view->index];
    html_add(html,
             "<table class=\"narrow\"><caption>Each load at %r V</caption><thead><tr><th scope=\"col\">Load</th>"
             "<th scope=\"col\" class=\"n\">Power</th><th scope=\"col\" class=\"n\">Current</th>"
             "<th scope=\"col\">Against all closed</th></tr></thead><tbody>",
             now->voltage_v);
    for (size_t i = 0; i < branch->appliances.count; i++) {
        const struct load *load = &now->loads[i];
        html_add(html, "<tr><th scope=\"row\">%s</th><td class=\"n\">%0 W</td>",
                 view->visit->house->appliances[load->appliance].name,
                 load->units > 0 ? load->draw.power_w : before->loads[i].draw.power_w);
        add_answer(html, shown, load->units > 0 ? load->current_a : 0, "A");
        html_add(html, "<td>%s</td></tr>", shown ? compare(&before->loads[i], load) : "");
    }
    html_add(html, "</tbody><tfoot><tr><th scope=\"row\">Together</th><td></td>");
    add_answer(html, shown, now->other.current_a, "A");
    html_add(html, "<td>");
    if (shown) {
        html_add(html, "breaker %r A%s", branch->breaker_a, now->verdict == VERDICT_OVER ? ": OVER" : "");
    }
    html_add(html, "</td></tr></tfoot></table>\n");
}

static void add_steps(struct lesson_view *view)
{
    struct text *html = &view->visit->answer.body;
    html_add(html, "<h2>Step by step (%z of %z shown)</h2><ol class=\"steps\" id=\"steps\" aria-live=\"polite\">",
             view->shown, view->steps.count);
    for (size_t i = 0; i < view->shown; i++) {
        struct text line = {0};
        step_write(&line, &view->steps.step[i], true);
        html_add(html, "<li>%s</li>", text_string(&line));
        text_done(&line);
    }
    html_add(html, "</ol>\n");
}

static void add_view(struct lesson_view *view)
{
    struct visit *visit = view->visit;
    struct text *html = &visit->answer.body;
    const struct branch *branch = &visit->house->branches[view->index];
    const bool shown = view->shown >= view->steps.count;
    page_begin(visit, branch->label);
    html_add(html, "<div class=\"class\"><p>A parallel circuit: every load has the same voltage, its current does not "
                   "depend on the others, and the currents add up to what the breaker carries. What does each draw, "
                   "and what do they draw together?</p>");
    add_switches(view);
    if (shown) {
        circuit_svg(html, view->now, view->index);
    }
    add_loads(view, shown);
    add_steps(view);
    html_add(html, "<p><a href=\"/class\">Another branch</a> <a href=\"/branch/%s\">All of this branch</a></p></div>\n",
             branch->id);
    page_end(visit);
}

/* The last `shown`: a button's comes behind the hidden one. */
static size_t steps_shown(const struct form *form, size_t most)
{
    size_t shown = 0;
    for (size_t i = 0; i < form->count; i++) {
        if (form->field[i].name[0] == 's' && form->field[i].name[1] == 'h') {
            shown = (size_t)strtoul(form->field[i].value, NULL, 10);
        }
    }
    return shown > most ? most : shown;
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
    report_branch_steps(view.now, view.index, &view.steps);
    view.shown = steps_shown(&visit->query, view.steps.count);
    add_view(&view);
    steps_done(&view.steps);
    assess_free(view.now);
    assess_free(view.all);
}
