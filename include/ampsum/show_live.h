/*
 * A live lesson: one file in which a branch's switches can be moved, its currents predicted, uncovered and covered
 * again, without the program and without a network. Every figure was worked out before (ampsum/answer_live.h).
 *
 * Checked: tests/golden/lesson-live; tests/page/live.mjs.
 */
#ifndef AMPSUM_SHOW_LIVE_H
#define AMPSUM_SHOW_LIVE_H

#include "ampsum/answer_live.h"

/* Appends the page around its drawing, an <svg> of picture_live. At most 100 kB for LIVE_LOADS_MOST loads with names of
 * ordinary length. In that language of ampsum/language.h, its numbers too. */
void show_live_html(const struct live_answer *answer, int language, const char *drawing, struct text *html);

/* The caption of a table of loads at that voltage, behind `<caption>`, and its head: to the first row of the body. */
void show_live_head(int language, double voltage_v, struct text *html);

#endif
