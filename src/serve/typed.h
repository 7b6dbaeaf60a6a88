/* What people type into a field that has one meaning: turned into the words of a house file. */
#ifndef AMPSUM_SERVE_TYPED_H
#define AMPSUM_SERVE_TYPED_H

#include "ampsum/arena.h"
#include "ampsum/keys.h"

/*
 * `100 amps` is `100 A` for a current, `168 sq ft` is `168 ft2` for an area, `$0.16` and `16 cents` are `0.16` for a
 * price, `usd` is `USD`, `7am-8am` and `evening` are windows, `3-5` and `3 and 5` are two spaces. What is none of these
 * stays as it was typed, so that a refusal names it. The answer is `typed` or in `arena`.
 */
const char *typed_value(struct arena *arena, const struct key *key, const char *typed);

/* The same for a rating, whose unit may be any of a nameplate's: `1500 watts`, `1.5 kilowatts`. */
const char *typed_rating(struct arena *arena, const char *typed);

#endif
