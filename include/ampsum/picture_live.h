/*
 * The drawing of a live lesson: a branch's loads, each with a contact that a script opens and closes. No current is in
 * it; the script finds the places by ID and class: `rung0` (class `rung`, with `open`, `closed` and `wire` inside),
 * `rail0` (line and return to that junction) and `drawn0` (the current beside them).
 *
 * Checked: tests/unit/test_draw.c, tests/page/live.mjs.
 */
#ifndef AMPSUM_PICTURE_LIVE_H
#define AMPSUM_PICTURE_LIVE_H

#include "ampsum/answer_live.h"
#include "ampsum/pictures.h"

/* Takes its memory from `arena`; the answer must outlive it. It has a load. */
struct picture picture_live(const struct live_answer *answer, int language, struct arena *arena);

/* Appends the whole lesson, one page that works without the program. Gives the number of its loads; 0: there is none,
 * and so no page. */
size_t live_page(const struct house *house, size_t branch, int language, struct arena *arena, struct text *html);

#endif
