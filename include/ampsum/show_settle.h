/*
 * The answers of `settle` and `settle --legs` as rows and sentences (ampsum/answer_settle.h). Computes nothing.
 *
 * Checked: tests/golden/settle-demo, place-and-settle.
 */
#ifndef AMPSUM_SHOW_SETTLE_H
#define AMPSUM_SHOW_SETTLE_H

#include "ampsum/answer_settle.h"
#include "ampsum/show.h"
#include "ampsum/show_rows.h"

/* `room`, `floor`, `house`. */
const char *show_reach_word(enum decide_reach reach);

/* A row for each of answer->moves. */
extern const struct show_rows show_settle_rows;

json_t *show_settle_json(const struct settle_answer *answer);

/* What was found and proved for an aim, as a sentence; and what every answer says of a move. */
void show_settle_verdict(const struct settle_answer *answer, enum settle_aim aim, struct text *text);
const char *show_settle_caution(void);

void show_settle_text(const struct settle_answer *answer, const struct page *page, struct text *text);

/* A row for each of answer->changes. */
extern const struct show_rows show_legs_rows;

json_t *show_settle_legs_json(const struct legs_answer *answer);
void show_settle_legs_text(const struct legs_answer *answer, const struct page *page, struct text *text);

#endif
