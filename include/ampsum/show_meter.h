/*
 * The answer of `meter` as rows and sentences (ampsum/answer_meter.h). Computes nothing.
 *
 * Checked: tests/golden/meter-demo.
 */
#ifndef AMPSUM_SHOW_METER_H
#define AMPSUM_SHOW_METER_H

#include "ampsum/answer_meter.h"
#include "ampsum/show.h"
#include "ampsum/show_rows.h"

enum meter_by { METER_BY_HOUR, METER_BY_DAY, METER_BY_MONTH, METER_KINDS };

/* The rows of an answer, a row for each hour of the day, each day or each month; and how many there are. */
const struct show_rows *show_meter_rows(const struct meter_answer *answer, enum meter_by by, size_t *ret_count);

json_t *show_meter_json(const struct meter_answer *answer);

/* `notes`: what was detected in the file and what was left out, a sentence a line. */
void show_meter_text(const struct meter_answer *answer, const char *notes, enum meter_by by, const struct page *page,
                     struct text *text);

/* Sentences, one a line, each wrapped. */
void show_meter_notes(const char *notes, const struct page *page, struct text *text);

#endif
