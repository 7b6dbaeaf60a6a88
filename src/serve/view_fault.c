/* If a wire touches metal: the loops and currents of the house, or of one branch with its loop drawn. */
#include <math.h>

#include "ampsum/pictures.h"
#include "ampsum/show_fault.h"
#include "site.h"

/* All but the one that is shown, behind a summary. */
static void add_branches(struct visit *visit)
{
    page_add(visit, "<details><summary>One branch, with its loop drawn (%zu)</summary><ul class=\"links\">",
             visit->house->branch_count);
    for (size_t i = 0; i < visit->house->branch_count; i++) {
        page_add(visit, "<li><a href=\"/fault/%s\">%s</a></li>", visit->house->branches[i].id,
                 visit->house->branches[i].label);
    }
    page_add(visit, "</ul></details>\n");
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

/* What it comes to; and where to say what is not known, so that it does. */
static void add_answer(struct visit *visit, const struct fault_answer *answer, bool known)
{
    struct text line = {0};
    show_fault_plain(answer, &line);
    page_add(visit, "<p class=\"answer\"><strong>%s</strong>", text_string(&line));
    text_clear(&line);
    if (known) {
        show_fault_supply(answer, &line);
        page_add(visit, "</p><p>%s</p>\n", text_string(&line));
    } else if (visit->site->read_only) {
        page_add(visit, "</p>\n");
    } else {
        page_add(visit, " Say it under <a href=\"/build/house\">House and supply</a>.</p>\n");
    }
    text_done(&line);
}

/* The points of the house; nothing where no current is known. */
static void add_loops(struct visit *visit, const struct fault_answer *answer)
{
    page_add(
        visit,
        "<details><summary>Loops and currents (%zu)</summary><p class=\"help\">Least: hot wire, weakest supply; so "
        "many times the rating, it says whether the device opens. Most: cold wire, strongest supply; it says "
        "whether the device can break it. Touch: along the protective conductor meanwhile. Wire: does it endure "
        "the fault? Measuring is a licensed electrician's work.</p>",
        answer->row_count);
    show_html_table(&show_fault_rows, "Loops and currents", answer, answer->row_count, &visit->answer.body);
    page_add(visit, "</details>\n");
}

static void add_longest(struct visit *visit, const struct fault_answer *answer)
{
    static const char what[] = "How far each device would still open";
    page_fold_table(visit, false, arena_printf(visit->arena, "%s (%zu)", what, answer->branch_count),
                    &show_fault_longest_rows, what, answer, answer->branch_count);
}

static void add_view(struct visit *visit, const struct fault_answer *answer)
{
    const bool one = answer->question.branch != NO_INDEX;
    const bool known = fault_is_known(answer);
    page_begin(visit, one ? arena_printf(visit->arena, "If a wire touches metal: %s",
                                         visit->house->branches[answer->question.branch].label)
                          : "If a wire touches metal");
    add_answer(visit, answer, known);
    if (one) {
        add_picture(visit, answer);
    }
    page_add(visit, answer->findings.count > 0 ? "<h2>What was found</h2>" : "");
    page_findings_folded(visit, &answer->findings);
    if (known) {
        add_loops(visit, answer);
    }
    if (fault_knows_longest(answer)) {
        add_longest(visit, answer);
    }
    if (one) {
        add_working(visit, answer);
        page_add(visit,
                 "<p class=\"scenes\"><a href=\"/branch/%s\">The branch itself</a> <a href=\"/fault\">The whole "
                 "house</a></p>\n",
                 visit->house->branches[answer->question.branch].id);
    } else {
        add_branches(visit);
    }
    page_end(visit);
}

void view_fault(struct visit *visit)
{
    const struct fault_question question = {.branch = visit->row, .panel = NO_INDEX, .options = {.at_panel_a = NAN}};
    struct fault_answer answer;
    answer_fault(visit->house, &question, &answer);
    if (visit_is_api(visit)) {
        visit_json(visit, show_fault_json(&answer));
    } else {
        add_view(visit, &answer);
    }
    fault_answer_done(&answer);
}
