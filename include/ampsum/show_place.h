/*
 * The answer of `place` as rows and sentences (ampsum/answer_place.h). Computes nothing.
 *
 * Checked: tests/golden/place-demo, place-class, place-crowd, place-and-settle.
 */
#ifndef AMPSUM_SHOW_PLACE_H
#define AMPSUM_SHOW_PLACE_H

#include "ampsum/answer_place.h"
#include "ampsum/show.h"
#include "ampsum/show_rows.h"

/* A row for each branch that was looked at. */
extern const struct show_rows show_place_rows;

/* The whole answer; takes nothing. */
json_t *show_place_json(const struct place_answer *answer);
void show_place_text(const struct place_answer *answer, const struct page *page, struct text *text);

/* The line that sums up where nothing has room, or where something has only while others stay off; NULL otherwise. */
const char *show_place_conclusion(const struct place_answer *answer);

/* What a load brings on a page or terminal where nothing was said of how long it runs, and that counts; `how`: what to
 * say then. Appends the sentence; nothing where there is none. */
void show_running_time(const struct freetext *load, int rules, const char *how, struct text *text);

#endif
