/*
 * The answer of `day` as rows and sentences (ampsum/answer_day.h). Computes nothing.
 *
 * Checked: tests/golden/day-demo, day-course, day-untimed; tests/page/day.mjs.
 */
#ifndef AMPSUM_SHOW_DAY_H
#define AMPSUM_SHOW_DAY_H

#include "ampsum/answer_day.h"
#include "ampsum/show.h"
#include "ampsum/show_rows.h"

/* A row for each view; a row for each stretch of a run of struct day_row, its first one being the answer. */
extern const struct show_rows show_day_rows;
extern const struct show_rows show_course_rows;

json_t *show_day_json(const struct day_answer *answer);
void show_day_text(const struct day_answer *answer, const struct page *page, struct text *text);

/*
 * The sentences of a view, for terminal and page: that every day is alike; what is on in the busiest stretch (IDs or
 * `names` in file order) and that stretch; the time above the rating; the energy; the odds in two. Nothing where there
 * is nothing to say. What the odds left out is said of views, what they assume once per answer.
 */
void show_day_untimed(const struct day_view *view, struct text *text);
void show_day_busiest(const struct house *house, const struct day_view *view, bool names, struct text *text);
void show_day_above(const struct day_answer *answer, const struct day_view *view, struct text *text);
void show_day_energy(const struct day_view *view, struct text *text);
void show_day_odds(const struct day_view *view, struct text *text);
void show_day_not_exceeded(const struct day_view *view, struct text *text);
void show_day_left_out(const struct house *house, const struct day_view *views, size_t count, bool names,
                       struct text *text);
void show_day_assumptions(const struct day_answer *answer, struct text *text);

/* Which views go above their rating, how far and when; or that none does. */
void show_day_over(const struct day_answer *answer, struct text *text);

#endif
