/*
 * The answer of `estimate` as JSON, text and rows (ampsum/answer_estimate.h). Computes nothing. Keys: contract,
 * circuits.md, A6. Checked: tests/golden/estimate.
 */
#ifndef AMPSUM_SHOW_ESTIMATE_H
#define AMPSUM_SHOW_ESTIMATE_H

#include "ampsum/answer_estimate.h"
#include "ampsum/cautions.h"
#include "ampsum/show_rows.h"

/* What a struct estimate_answer comes to, as one row. */
extern const struct show_rows show_estimate_rows;

json_t *show_estimate_json(const struct estimate_answer *answer);
void show_estimate_text(const struct estimate_answer *answer, bool working, const struct page *page, struct text *text);

/* Appends one of the overloading sets: "kettle + toaster: 17.8 A planned". */
void show_estimate_set(const struct estimate_answer *answer, size_t index, struct text *text);

/* A row for each load. The caller frees with table_free. */
struct table *show_estimate_table(const struct estimate_answer *answer);

enum { ESTIMATE_CAUTIONS_MOST = CAUTIONS_MOST + 2 };

/* The cautions of the case, then those of any estimate; NULL-ended. */
void show_estimate_cautions(const struct estimate_answer *answer, const char *ret[ESTIMATE_CAUTIONS_MOST + 1]);

#endif
