/* Quantities as people say them: `1500 watts`, `100 amps`, `168 sq ft`. A house file has units alone. */
#ifndef AMPSUM_SPOKEN_H
#define AMPSUM_SPOKEN_H

#include <stdbool.h>
#include <stddef.h>

#include "ampsum/arena.h"
#include "ampsum/keys.h"

/* True where the first `length` bytes are one of the words, which bars part, whatever their capitals. */
bool spoken_is(const char *words, const char *word, size_t length);

/*
 * The number as it was said, `1,800` and `12.5` included, and the unit of the house file behind it: `100 A` for
 * `100 amps`. `dimension` is what the unit must measure, DIMENSION_NONE for any. NULL where the word behind the number
 * is none of ours. The answer is in `arena`.
 */
const char *spoken_quantity(struct arena *arena, const char *said, enum dimension dimension);

#endif
