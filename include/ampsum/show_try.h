/*
 * The answer of `try` as rows and sentences (ampsum/answer_try.h). Computes nothing.
 *
 * Checked: tests/golden/try-demo, place-class.
 */
#ifndef AMPSUM_SHOW_TRY_H
#define AMPSUM_SHOW_TRY_H

#include "ampsum/answer_try.h"
#include "ampsum/show.h"
#include "ampsum/show_rows.h"

/* A row for each branch that changes. */
extern const struct show_rows show_try_rows;

/* What became of the changes, for a person: a line each, notes of what was assumed among them. */
void show_try_done(const struct try_done *done, size_t count, const struct page *page, struct text *text);

/* `kept`: the change is stored. */
json_t *show_try_json(const struct try_answer *answer, bool kept);

/* `what`: show_try_done, and what else is to stand before the answer. */
void show_try_text(const struct try_answer *answer, const char *what, const struct page *page, struct text *text);

/* What to do where branches are over after it; stands behind their names. */
const char *show_try_over(const struct try_answer *answer);

#endif
