/*
 * All that the report of a house says: everything on and the busiest minute, the year's bill, the demand.
 *
 * Checked: tests/golden/report-*; tests/page: the page's report is the command's.
 */
#ifndef AMPSUM_ANSWER_REPORT_H
#define AMPSUM_ANSWER_REPORT_H

#include "ampsum/answer_check.h"
#include "ampsum/answer_demand.h"

struct report_answer {
    struct check_answer check;
    struct demand_answer demand;
    bool has_demand; /* its rules have a method for this house */
};

/* Answers for a house, which must outlive the answer; free with report_answer_done. */
void answer_report(const struct house *house, const struct assess_options *choice, struct report_answer *ret_answer);
void report_answer_done(struct report_answer *answer);

#endif
