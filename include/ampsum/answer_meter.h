/*
 * The question of `meter`: what the readings say, beside what the listed appliances explain of them.
 *
 * Checked: tests/unit/test_answer_meter.c; tests/golden/meter-demo.
 */
#ifndef AMPSUM_ANSWER_METER_H
#define AMPSUM_ANSWER_METER_H

#include "ampsum/day.h"
#include "ampsum/meter.h"

enum { METER_HOURS = 24 };

struct meter_answer {
    const struct house *house;
    const struct meter_reading *readings;
    size_t count;
    int64_t end_s; /* where the last reading ends */
    int32_t end_offset_s;
    struct meter_figures figures;
    struct meter_total *days;
    size_t day_count;
    struct meter_total *months;
    size_t month_count;
    struct day_explained hours[METER_HOURS]; /* of the day */
    struct day_explained all;
    int lack;   /* the hour in which the list lacks most */
    int excess; /* and in which it has most too much */
};

/*
 * Answers for a house and readings in their order, at least one; both must outlive the answer. Never fails; free with
 * meter_answer_done.
 */
void answer_meter(const struct house *house, const struct meter_reading *readings, size_t count,
                  struct meter_answer *ret_answer);

/* Whether a demand may be worked out from these readings: the rule set has that method, and they tell a maximum. */
bool meter_tells_demand(const struct meter_answer *answer);
void meter_answer_done(struct meter_answer *answer);

#endif
