/* What people type into a field that has one meaning: turned into the words of a house file. */
#ifndef AMPSUM_TYPED_H
#define AMPSUM_TYPED_H

#include "ampsum/arena.h"
#include "ampsum/keys.h"

/*
 * `100 amps` is `100 A` for a current, `168 sq ft` is `168 ft2` for an area, `$0.16` and `16 cents` are `0.16` for a
 * price, `usd` is `USD`, `7am-8am`, `7-10pm`, `tonight` and `in the evening` are windows, `3-5` and `3 and 5` are two
 * spaces, `30A 2 pole` is `30 A` for a breaker. What is none of these stays as it was typed, so that a refusal names
 * it. The answer is `typed` or in `arena`.
 */
const char *typed_value(struct arena *arena, const struct key *key, const char *typed);

/* Poles that are named beside a breaker's rating, `30A 2 pole`, `2P 50`; 0 where none are. *ret_rating is the rest. */
int typed_poles(struct arena *arena, const char *typed, const char **ret_rating);

/* The same for a rating, whose unit may be any of a nameplate's: `1500 watts`, `1.5 kilowatts`. */
const char *typed_rating(struct arena *arena, const char *typed);

#endif
