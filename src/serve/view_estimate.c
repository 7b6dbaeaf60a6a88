/* Loads in words on one branch: the page of `estimate`. Asks no house. And the page where there is none yet. */
#include <string.h>

#include "ampsum/reference.h"
#include "ampsum/show_check.h"
#include "ampsum/show_estimate.h"
#include "input.h"

/* ---- the form */

static void add_sets_of_rules(struct visit *visit, const struct input *input, const char *chosen)
{
    (void)input;
    for (size_t i = 0; i < ref_rule_set_count; i++) {
        const struct ref_rule_set *set = &ref_rule_set_rows[i];
        page_option(visit, set->id, arena_printf(visit->arena, "%s: %s", set->id, set->name), chosen);
    }
}

static const struct input loads = {"load", "Load", "Heater, 1500 W"};
static const struct input inputs[] = {
    {"rules", "Rules", .options = add_sets_of_rules}, {"breaker", "Breaker, A", "15"},     {"wire", "Wire", "14 AWG"},
    {"run", "Its length, one way", "60 ft"},          {"price", "Price of a kWh", "0.16"},
};

void page_estimate_form(struct visit *visit)
{
    page_add(visit, "<form action=\"/estimate\" class=\"fields\">");
    page_more_inputs(visit, &loads, "3 x lamp 60 W", 3);
    page_inputs(visit, inputs, sizeof inputs / sizeof inputs[0]);
    page_add(visit, "<p><button>Estimate</button></p></form>\n");
}

/* ---- the answer */

static void add_figure(struct visit *visit, const char *name, double value, const char *unit)
{
    page_add(visit, "<div><dt>%s</dt><dd>%.2f %s</dd></div>", name, value, unit);
}

static void add_figures(const struct estimate_answer *answer, struct visit *visit)
{
    const struct branch_assessment *result = answer->branch.result;
    page_add(visit, "<dl class=\"figures\">");
    add_figure(visit, "Current", result->all.current_a, "A");
    add_figure(visit, "Planning current", result->all.planning_a, "A");
    if (answer->judged) {
        add_figure(visit, "Headroom", result->all.headroom_a, "A");
    }
    add_figure(visit, "Power", result->all.power_w, "W");
    if (result->wire_known && result->wire_solved) {
        add_figure(visit, "Voltage drop", result->drop_percent, "%");
    }
    add_figure(visit, "Energy of an hour", answer->energy_kwh_hour, "kWh");
    if (answer->cost_hour != NULL) {
        page_add(visit, "<div><dt>Cost of an hour</dt><dd>%s %s</dd></div>", answer->cost_hour,
                 answer->house->currency);
    }
    page_add(visit, "</dl>\n");
}

static void add_sets(const struct estimate_answer *answer, struct visit *visit)
{
    if (!answer->judged) {
        page_add(visit, "<p>No breaker given, so no verdict.</p>");
        return;
    }
    page_add(visit, "<p>One branch under %s rules, %g V, breaker %g A: ", rules_word(answer->house->rules),
             answer->branch.result->voltage_v, answer->branch.branch->breaker_a);
    page_verdict(visit, answer->branch.result->verdict);
    page_add(visit, "</p>");
    if (answer->sets.set_count > 0) {
        page_add(visit, "<h2>Smallest sets that pass the rating</h2><ul>");
        for (size_t i = 0; i < answer->sets.set_count; i++) {
            struct text names = {0};
            show_estimate_set(answer, i, &names);
            page_add(visit, "<li>%s</li>", arena_text(visit->arena, &names));
        }
        page_add(visit, "</ul>\n");
    }
}

static void add_answer(const struct estimate_answer *answer, struct visit *visit)
{
    for (size_t i = 0; i < answer->note_count; i++) {
        page_add(visit, "<p>%s.</p>", answer->notes[i]);
    }
    add_sets(answer, visit);
    add_figures(answer, visit);
    show_html_table(&show_load_rows, "Loads", &answer->branch, show_load_count(&answer->branch), &visit->answer.body);
    page_add(visit, "<h2>Findings</h2>");
    page_findings(visit, &answer->findings);
    const char *lines[ESTIMATE_CAUTIONS_MOST + 1];
    show_estimate_cautions(answer, lines);
    for (size_t i = 0; lines[i] != NULL; i++) {
        page_add(visit, "<p class=\"caution\">%s</p>", lines[i]);
    }
}

static int rules_asked(struct visit *visit)
{
    const int rules = reference_rule_set_index(form_value(&visit->query, "rules"));
    return rules == RULES_NONE ? RULES_FIRST : rules;
}

static struct estimate_question read_question(struct visit *visit)
{
    struct estimate_question question = {.rules = rules_asked(visit),
                                         .breaker = form_given(&visit->query, "breaker"),
                                         .wire = form_given(&visit->query, "wire"),
                                         .run = form_given(&visit->query, "run"),
                                         .price = form_given(&visit->query, "price")};
    question.loads = form_all(&visit->query, "load", visit->arena, &question.load_count);
    return question;
}

void view_estimate(struct visit *visit)
{
    visit_house_if_any(visit);
    page_begin(visit, "Loads on one branch");
    page_estimate_form(visit);
    const struct estimate_question question = read_question(visit);
    if (question.load_count > 0) {
        struct estimate_answer answer;
        if (answer_estimate(&question, &answer, &visit->error)) {
            add_answer(&answer, visit);
        } else {
            page_add(visit, "<div role=\"alert\"><p>%s</p></div>", error_message(&visit->error));
        }
        estimate_answer_done(&answer);
    }
    page_end(visit);
}

/* ---- no house yet */

void view_start(struct visit *visit)
{
    visit_house_if_any(visit);
    page_begin(visit, "A question, or a house");
    page_add(visit, "<h2>A circuit on the board?</h2>");
    page_solve_form(visit);
    page_add(visit, "<h2>Loads on one branch?</h2>");
    page_estimate_form(visit);
    page_add(visit,
             "<h2>The whole house?</h2><p>One question a page: the door of the panel line by line, then rooms and "
             "appliances; it can be left and taken up at any step.</p><p class=\"choices\"><a href=\"%s\">%s</a></p>\n",
             site_is_new(visit->site) ? "/first/house" : "/",
             site_is_new(visit->site) ? "Begin a house" : "To the house");
    page_end(visit);
}
