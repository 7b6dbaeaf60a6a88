/* A chance in words, inside the show library. */
#ifndef AMPSUM_SHOW_DAY_WORDS_H
#define AMPSUM_SHOW_DAY_WORDS_H

#include "ampsum/chance.h"
#include "ampsum/text.h"

/* In percent, three significant digits; both bounds where they differ in them. */
void day_percent(struct text *text, struct chance_bounds chance);

#endif
