/* The answer of `--supply band` as rows and sentences. Checked: tests/golden/check-rows. */
#ifndef AMPSUM_SHOW_SUPPLY_H
#define AMPSUM_SHOW_SUPPLY_H

#include "ampsum/answer_supply.h"
#include "ampsum/show.h"
#include "ampsum/show_rows.h"

/* A row for each branch of a struct supply_answer. */
extern const struct show_rows show_supply_rows;

/* `command`: the one that was asked. */
json_t *show_supply_band_json(const struct supply_answer *answer, const char *command);
void show_supply_band_text(const struct supply_answer *answer, const struct page *page, struct text *text);

#endif
