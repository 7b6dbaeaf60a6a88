/*
 * The answer of `typical` as rows and sentences (ampsum/answer_typical.h). Computes nothing.
 *
 * Checked: tests/golden/typical-rules.
 */
#ifndef AMPSUM_SHOW_TYPICAL_H
#define AMPSUM_SHOW_TYPICAL_H

#include "ampsum/answer_typical.h"
#include "ampsum/show.h"
#include "ampsum/show_rows.h"

extern const struct show_rows show_typical_rows;

json_t *show_typical_json(const struct typical_answer *answer);
void show_typical_text(const struct typical_answer *answer, const struct page *page, struct text *text);

/* The first of them as a load in words, its rating with it: `Kettle, 1500 W`. Appends. */
void show_typical_load(const struct typical_answer *answer, struct text *text);

#endif
