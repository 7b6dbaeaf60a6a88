/* Loads in words on one branch: the page of `estimate`. Asks no house. And the page where there is none yet. */
#include <string.h>

#include "ampsum/reference.h"
#include "ampsum/show_check.h"
#include "ampsum/show_estimate.h"
#include "input.h"

/* ---- the form */

enum { LOAD, RULES, BREAKER, WIRE, RUN, PRICE, INPUTS };

static const struct input inputs[INPUTS] = {
    [LOAD] = {"load", "Load", "Heater, 1500 W"},
    [RULES] = {"rules", "Rules", .kind = KIND_HOUSE, .key = "rules"},
    [BREAKER] = {"breaker", NULL, "15", .kind = KIND_BRANCH, .key = "breaker"},
    [WIRE] = {"wire", NULL, "14 AWG", .kind = KIND_BRANCH, .key = "wire"},
    [RUN] = {"run", "Its length, one way", "60 ft", .kind = KIND_BRANCH, .key = "length"},
    [PRICE] = {"price", NULL, "0.16", .kind = KIND_TARIFF, .key = "price"},
};

static void page_estimate_form(struct visit *visit)
{
    page_add(visit, "<form action=\"/estimate\" class=\"fields\">");
    page_more_inputs(visit, &inputs[0], "3 x lamp 60 W", 3);
    page_inputs(visit, &inputs[1], INPUTS - 1);
    page_add(visit, "<p><button>Estimate</button></p></form>\n");
}

/* ---- the answer */

static void add_sets(const struct estimate_answer *answer, struct visit *visit)
{
    if (!answer->judged) {
        page_add(visit, "<p class=\"answer\">No breaker given, so no verdict: %.1f A together.</p>",
                 answer->branch.result->all.current_a);
        return;
    }
    page_add(visit, "<p class=\"answer\">");
    page_verdict(visit, answer->branch.result->verdict);
    page_add(visit, " %.1f A planned on a breaker of %g A. One branch under %s rules, %g V.</p>",
             answer->branch.result->all.planning_a, answer->branch.branch->breaker_a, rules_word(answer->house->rules),
             answer->branch.result->voltage_v);
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
    show_html_figures(&show_estimate_rows, answer, 0, &visit->answer.body);
    for (size_t i = 0; i < answer->note_count; i++) {
        page_add(visit, "<p>%s.</p>", answer->notes[i]);
    }
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
                                         .breaker = input_given(visit, &inputs[BREAKER]),
                                         .wire = input_given(visit, &inputs[WIRE]),
                                         .run = input_given(visit, &inputs[RUN]),
                                         .price = input_given(visit, &inputs[PRICE])};
    question.loads = form_all(&visit->query, "load", visit->arena, &question.load_count);
    return question;
}

/* The verdict first, then the form, then the figures behind it. */
void view_estimate(struct visit *visit)
{
    const struct estimate_question question = read_question(visit);
    struct estimate_answer answer = {0};
    const bool answered = question.load_count > 0 && answer_estimate(&question, &answer, &visit->error);
    page_begin(visit, "Loads on one branch");
    page_refusal(visit, inputs, INPUTS);
    if (answered) {
        add_sets(&answer, visit);
    }
    page_estimate_form(visit);
    if (answered) {
        add_answer(&answer, visit);
    }
    page_end(visit);
    estimate_answer_done(&answer);
}

/* ---- no house yet */

void view_start(struct visit *visit)
{
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
