/* A chance in words, inside the show library. */
#ifndef AMPSUM_SHOW_DAY_WORDS_H
#define AMPSUM_SHOW_DAY_WORDS_H

#include "ampsum/answer_day.h"
#include "ampsum/chance.h"
#include "ampsum/text.h"

/* In percent, three significant digits; both bounds where they differ in them. */
void day_percent(struct text *text, struct chance_bounds chance);

/* When the busiest stretch of a view begins: `Monday in January, 06:50`, `at any time`. */
void day_add_when(const struct day_view *view, struct text *text);

#endif
