/*
 * The answers of `cost` as rows and sentences (ampsum/answer_cost.h). Computes nothing.
 *
 * Checked: tests/golden/cost-demo; tests/page/day.mjs.
 */
#ifndef AMPSUM_SHOW_COST_H
#define AMPSUM_SHOW_COST_H

#include "ampsum/answer_cost.h"
#include "ampsum/show.h"
#include "ampsum/show_rows.h"

/* A row for each of a struct cost_rows; for each month of a struct cost_answer; of cost_tariffs; of cost_changed. */
extern const struct show_rows show_cost_rows;
extern const struct show_rows show_month_rows;
extern const struct show_rows show_tariff_rows;
extern const struct show_rows show_change_rows;

/* The answer for programs, whichever it is; its rows as CSV, of the year those of one kind. */
json_t *show_cost_json(const struct cost_asked *answer);
struct table *show_cost_csv(const struct cost_asked *answer, enum cost_by by);

/* What the wires lose in a year beside what its bill counts, and whose wire is left out; nothing where it was not
 * asked. */
void show_cost_loss(const struct cost_changed *answer, struct text *text);

/* True where a tariff prices what changes; a table without money has no currency in its title. */
bool show_change_is_priced(const struct cost_changed *answer);

/* Which appliances are in no figure, since nothing says how long they run; nothing where there are none. */
void show_cost_left_out(const struct cost_answer *answer, bool names, struct text *text);

/* Which are counted with typical hours, and how many; the dearest and the cheapest month. Nothing where there is none.
 */
void show_cost_typical(const struct cost_answer *answer, bool names, struct text *text);
void show_cost_dearest(const struct cost_answer *answer, struct text *text);

/*
 * The answer for people, whichever it is. Of the year the rows of one kind, all of them or those that use energy;
 * `by_command`: where there is no tariff, a command that would add one is proposed below.
 */
void show_cost_text(const struct cost_asked *answer, enum cost_by by, bool all, bool by_command,
                    const struct page *page, struct text *text);

/* What rows are of a bill; and whose hours are spread over the day, by `names` or IDs: nothing where there is none. */
extern const char show_cost_parts[];
void show_cost_spread(const struct cost_answer *answer, bool names, struct text *text);

#endif
