/*
 * The answer of `fault` as rows and sentences (ampsum/answer_fault.h). Computes nothing.
 *
 * Checked: tests/golden/fault-us, fault-uk.
 */
#ifndef AMPSUM_SHOW_FAULT_H
#define AMPSUM_SHOW_FAULT_H

#include "ampsum/answer_fault.h"
#include "ampsum/show.h"
#include "ampsum/show_rows.h"

/* A row for each point of a struct fault_answer; a row for each of its branches: the run at which the device opens. */
extern const struct show_rows show_fault_rows;
extern const struct show_rows show_fault_longest_rows;

json_t *show_fault_json(const struct fault_answer *answer);

/* What is to be said of this answer beside the cautions of every one: NULL-ended, or NULL. */
const char *const *show_fault_notes(const struct fault_answer *answer);

/* What is taken of the supply, the points, what was found. `longest`: the runs in place of the points. */
void show_fault_text(const struct fault_answer *answer, bool longest, const struct page *page, struct text *text);

/* Each point's loop and currents, line by line, as on a blackboard. */
void show_fault_working(const struct fault_answer *answer, const struct page *page, struct text *text);

/* What it comes to in words: whether the devices open, where the current is least; or what is to be asked of whom. */
void show_fault_plain(const struct fault_answer *answer, struct text *text);

/* One sentence on what is taken of the supply, for any face. */
void show_fault_supply(const struct fault_answer *answer, struct text *text);

#endif
