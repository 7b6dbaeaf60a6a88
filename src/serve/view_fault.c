/* If a wire touches metal: the loops and currents of the house, or of one branch with its loop drawn. */
#include <math.h>

#include "ampsum/pictures.h"
#include "ampsum/show_fault.h"
#include "site.h"

static void add_branches(struct visit *visit)
{
    page_add(visit, "<ul class=\"scenes\">");
    for (size_t i = 0; i < visit->house->branch_count; i++) {
        page_add(visit, "<li><a href=\"/fault/%s\">%s</a></li>", visit->house->branches[i].id,
                 visit->house->branches[i].label);
    }
    page_add(visit, "</ul>\n");
}

/* The farthest point of the one branch asked about, drawn. */
static void add_picture(struct visit *visit, const struct fault_answer *answer)
{
    if (answer->far != NULL) {
        const struct picture picture = picture_fault(answer->study, answer->question.branch, answer->far, visit->arena);
        page_add(visit, "<div class=\"circuit\">");
        picture_svg(&picture, &visit->answer.body);
        page_add(visit, "</div>\n");
    }
}

static void add_working(struct visit *visit, const struct fault_answer *answer)
{
    const struct page wide = {.width = SIZE_MAX, .utf8 = true};
    struct text working = {0};
    show_fault_working(answer, &wide, &working);
    page_add(visit, "<details><summary>Step by step</summary><pre>%s</pre></details>\n",
             arena_text(visit->arena, &working));
}

/* Folded where nothing is known of the supply, so that no current is; then where to say it comes first. */
static void add_loops(struct visit *visit, const struct fault_answer *answer)
{
    const bool known = isfinite(answer->study->pscc_a) || isfinite(answer->study->ze_ohm);
    if (!known) {
        page_add(visit,
                 "<p>Say what the supplier declares, or its transformer, under <a href=\"/build/house\">House and "
                 "supply</a>: then the currents stand here.</p><details><summary>Loops, without currents</summary>");
    }
    show_html_table(&show_fault_rows, "Loops and currents", answer, answer->row_count, &visit->answer.body);
    page_add(visit, known ? "" : "</details>\n");
}

static void add_view(struct visit *visit, const struct fault_answer *answer)
{
    const bool one = answer->question.branch != NO_INDEX;
    struct text supply = {0};
    show_fault_supply(answer, &supply);
    page_begin(visit, one ? visit->house->branches[answer->question.branch].label : "If a wire touches metal");
    page_add(visit,
             "<p>%s</p><p>Least: hot wire, weakest supply; so many times the rating, it says whether the device opens. "
             "Most: cold wire, strongest supply; it says whether the device can break it. Touch: along the protective "
             "conductor meanwhile. Wire: does it endure the fault? Measuring is a licensed electrician's work.</p>\n",
             text_string(&supply));
    text_done(&supply);
    if (one) {
        add_picture(visit, answer);
    }
    add_loops(visit, answer);
    if (one) {
        add_working(visit, answer);
    }
    page_add(visit, "<h2>What was found</h2>");
    page_findings(visit, &answer->findings);
    show_html_table(&show_fault_longest_rows, "How far each device would still open", answer, answer->branch_count,
                    &visit->answer.body);
    if (!one) {
        add_branches(visit);
    }
    page_end(visit);
}

void view_fault(struct visit *visit)
{
    struct fault_question question = {.branch = NO_INDEX, .panel = NO_INDEX, .options = {.at_panel_a = NAN}};
    if (visit->rest != NULL && visit->rest[0] != '\0') {
        question.branch = visit_find(visit, KIND_BRANCH, visit->rest);
        if (question.branch == NO_INDEX) {
            return;
        }
    }
    struct fault_answer answer;
    answer_fault(visit->house, &question, &answer);
    add_view(visit, &answer);
    fault_answer_done(&answer);
}

/* The answer of `fault --format json`. */
void api_fault(struct visit *visit)
{
    const struct fault_question question = {.branch = NO_INDEX, .panel = NO_INDEX, .options = {.at_panel_a = NAN}};
    struct fault_answer answer;
    answer_fault(visit->house, &question, &answer);
    visit_json(visit, show_fault_json(&answer));
    fault_answer_done(&answer);
}
