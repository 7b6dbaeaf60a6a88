/* The smallest sets of a branch's loads that together overload it. */
#include <string.h>

#include "ampsum/show_check.h"
#include "ampsum/show_combos.h"
#include "site.h"

enum { SETS_MOST = 20 };

static void add_set(struct visit *visit, const struct combos_answer *answer, size_t number)
{
    struct text names = {0};
    const struct combos_row *row = &answer->rows[number];
    decide_names(answer->house, answer->index, row->set, &names);
    page_add(visit, "<li><strong>%s</strong>%s: %.2f A planned, on %g A.</li>", arena_text(visit->arena, &names),
             row->set->units > 1 ? " together" : " alone", row->planning_a, answer->branch->breaker_a);
}

static void add_sets(struct visit *visit, const struct combos_answer *answer)
{
    page_add(visit, "<ol class=\"sets\">");
    for (size_t i = 0; i < answer->count; i++) {
        add_set(visit, answer, i);
    }
    page_add(visit,
             "</ol><p>Leave one load of each set off while the others run. <a href=\"/settle\">What could move to "
             "another branch</a></p>\n");
}

void page_not_together(struct visit *visit, const struct check_answer *week, size_t index)
{
    const struct branch *branch = &visit->house->branches[index];
    const struct combos_question question = {.branch = index, .most = 1};
    struct combos_answer answer;
    if (answer_combos(visit->house, &question, &answer, &visit->error) && answer.count > 0) {
        struct text names = {0};
        decide_names(answer.house, answer.index, answer.rows[0].set, &names);
        page_add(visit,
                 answer.rows[0].set->units > 1 ? "<p class=\"todo\">Not together: <strong>%s</strong>.%s "
                                               : "<p class=\"todo\">Too much alone: <strong>%s</strong>.%s ",
                 text_string(&names), show_check_besides(week, index));
        page_add(visit,
                 "<a href=\"/combos/%s\">Every such set<span class=\"hidden\"> on %s</span></a> <a "
                 "href=\"/settle\">What could move<span class=\"hidden\"> from %s</span></a></p>",
                 branch->id, branch->label, branch->label);
        text_done(&names);
    } else if (strncmp(visit->path, "/branch/", strlen("/branch/")) == 0) {
        page_add(visit, "<p class=\"todo\">Not by its loads, but by a danger that was found: it stands below. Ask a "
                        "licensed electrician.</p>");
    } else {
        page_add(visit,
                 "<p class=\"todo\"><a href=\"/branch/%s\">See why<span class=\"hidden\">: %s</span></a> and ask a "
                 "licensed electrician.</p>",
                 branch->id, branch->label);
    }
    combos_answer_done(&answer);
}

void view_combos(struct visit *visit)
{
    const struct combos_question question = {.branch = visit->row, .most = SETS_MOST};
    struct combos_answer answer;
    answer_combos(visit->house, &question, &answer, &visit->error);
    struct text line = {0};
    page_begin(visit, "What may not run together");
    page_add(visit, "<h2><a href=\"/branch/%s\">%s</a></h2>", answer.branch->id, answer.branch->label);
    show_combos_head(&answer, &line);
    page_paragraph(visit, NULL, &line);
    if (answer.count > 0) {
        add_sets(visit, &answer);
    }
    page_end(visit);
    combos_answer_done(&answer);
}
