#include "ampsum/answer_report.h"

#include <math.h>

void answer_report(const struct house *house, const struct assess_options *choice, struct report_answer *ret_answer)
{
    const struct check_question question = {.choice = *choice, .bill_rows = ENERGY_ALL};
    const struct demand_question asked = DEMAND_QUESTION;
    struct error none = {0};
    answer_check(house, &question, &ret_answer->check);
    ret_answer->has_demand = answer_demand(house, &asked, &ret_answer->demand, &none);
    error_done(&none);
}

void report_answer_done(struct report_answer *answer)
{
    demand_answer_done(&answer->demand);
    check_answer_done(&answer->check);
}
