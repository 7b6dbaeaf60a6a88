/* Loops, fault currents and how far each device would still open, where the file gives what they rest on. */
#include <math.h>

#include "ampsum/show_fault.h"
#include "report_parts.h"

void report_part_faults(const struct report *report)
{
    if (!fault_is_given(report->house)) {
        return;
    }
    const struct fault_question question = {.branch = NO_INDEX, .panel = NO_INDEX, .options = {.at_panel_a = NAN}};
    struct fault_answer answer;
    struct text supply = {0};
    answer_fault(report->house, &question, &answer);
    print_heading(report->document, 2, "If a wire touches metal");
    show_fault_supply(&answer, &supply);
    text_add(&supply, " The least current (hot wire, weakest supply) says whether the device opens, the largest (cold "
                      "wire, strongest supply) whether it can break it.");
    report_paragraph(report, &supply);
    print_rows(report->document, "Loops and currents", &show_fault_rows, &answer, answer.row_count);
    print_rows(report->document, "How far each device would still open", &show_fault_longest_rows, &answer,
               answer.branch_count);
    fault_answer_done(&answer);
}
