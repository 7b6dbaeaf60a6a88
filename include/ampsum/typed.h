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

/* The keys of [appliance] that a nameplate's rating may stand under, NULL-ended; its units, NULL past the last. */
extern const char *const typed_plate_keys[];
const char *typed_plate_unit(size_t index);

/* A rating under the key of its unit. */
struct typed_plate {
    const char *key;
    const char *value; /* `1500 W` */
};

/* Its unit stands behind it, or was chosen beside it (none of ours: W). */
struct typed_plate typed_plate(struct arena *arena, const char *typed, const char *unit);

/* The other way round: number and unit of the value that stands under that key. */
void typed_plate_parts(struct arena *arena, const char *key, const char *value, const char **ret_number,
                       const char **ret_unit);

/* A breaker of several poles takes as many spaces: where one is named, the others lie behind it in its column. */
const char *typed_spaces(struct arena *arena, const char *typed, int poles, bool two_columns);

/* Two or three spaces are those of a breaker of so many poles; 0 otherwise. */
int typed_spaces_poles(const char *spaces);

#endif
