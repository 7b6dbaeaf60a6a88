/*
 * The answer of `rules` as rows and sentences (ampsum/answer_rules.h). Computes nothing.
 *
 * Checked: tests/golden/typical-rules.
 */
#ifndef AMPSUM_SHOW_RULES_H
#define AMPSUM_SHOW_RULES_H

#include "ampsum/answer_rules.h"
#include "ampsum/show.h"
#include "ampsum/show_rows.h"

extern const struct show_rows show_rules_rows;

json_t *show_rules_json(const struct rules_answer *answer);

/* The list as a table; one that was asked for in full. */
void show_rules_text(const struct rules_answer *answer, const struct page *page, struct text *text);

#endif
