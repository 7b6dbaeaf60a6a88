/* Loops, fault currents and how far each device would still open, where the file gives what they rest on. */
#include <math.h>

#include "ampsum/plain_words.h"
#include "ampsum/show_fault.h"
#include "report_parts.h"

static void add_points_left(const struct report *report, const struct fault_rest *rest)
{
    struct text text = {0};
    if (rest->points == 0) {
        return;
    }
    text_printf(&text, "These are the worst; %zu more outlets are left out", rest->points);
    if (rest->points > rest->points_unknown) {
        text_add(&text, ": the loop of none is above ");
        text_add_fixed(&text, rest->zs_most_ohm, 3);
        text_add(&text, " \xCE\xA9, the least current of none below ");
        text_add_fixed(&text, rest->times_least, 1);
        text_add(&text, " times its device's rating");
    }
    if (rest->points_unknown > 0) {
        text_printf(&text, "; of %zu of them nothing is known", rest->points_unknown);
    }
    text_add(&text, ". `ampsum fault --format csv` lists all.");
    report_paragraph(report, &text);
}

static void add_runs_left(const struct report *report, const struct fault_rest *rest)
{
    struct text text = {0};
    if (rest->branches == 0) {
        return;
    }
    text_printf(&text, "%zu more branches are left out", rest->branches);
    if (isfinite(rest->run_most_percent)) {
        text_add(&text, ": the run of none is more than ");
        text_add_fixed(&text, rest->run_most_percent, 1);
        text_add(&text, " % of that at which its device would still open");
    }
    text_add_char(&text, '.');
    report_paragraph(report, &text);
}

static size_t at_most(size_t count, size_t most)
{
    return count < most ? count : most;
}

/* All as in the file; of very many the worst, and what the others come to. */
static void add_tables(const struct report *report, struct fault_answer *answer)
{
    const size_t points = at_most(answer->row_count, REPORT_POINTS_MOST);
    const size_t branches = at_most(answer->branch_count, REPORT_POINTS_MOST);
    if (points < answer->row_count || branches < answer->branch_count) {
        fault_worst_first(answer);
    }
    const struct fault_rest rest = fault_rest(answer, points, branches);
    print_rows(report->document, "Loops and currents", &show_fault_rows, answer, points);
    add_points_left(report, &rest);
    print_rows(report->document, "How far each device would still open", &show_fault_longest_rows, answer, branches);
    add_runs_left(report, &rest);
}

void report_part_faults(const struct report *report)
{
    if (!fault_is_given(report->house)) {
        return;
    }
    const struct fault_question question = {.branch = NO_INDEX, .panel = NO_INDEX, .options = {.at_panel_a = NAN}};
    struct fault_answer answer;
    struct text supply = {0};
    answer_fault(report->house, &question, &answer);
    report_annex(report, "If a wire touches metal");
    show_fault_supply(&answer, &supply);
    text_add(&supply, " The least current (hot wire, weakest supply) says whether the device opens, the largest (cold "
                      "wire, strongest supply) whether it can break it.");
    plain_paper(&supply);
    report_paragraph(report, &supply);
    add_tables(report, &answer);
    fault_answer_done(&answer);
}
