/*
 * Short decimal numbers without the C library's printf, which takes a thousand instructions for each: what people
 * write has few digits.
 */
#ifndef AMPSUM_DECIMAL_H
#define AMPSUM_DECIMAL_H

#include <stdbool.h>
#include <stdint.h>

#include "ampsum/text.h"

/* digits / 10^decimals, at most 10^15 digits. */
struct decimal {
    uint64_t digits;
    int decimals; /* 0 to 12 */
};

/*
 * The shortest decimal that reads back as exactly `value`, where it has at most 15 digits and six of them behind the
 * point: 0.05 gives 5 and 2, 1500 gives 1500 and 0. False for any other number, for a negative and for one that is
 * not finite; *ret is then left alone.
 */
bool decimal_short(double value, struct decimal *ret);

/*
 * What printf's "%.*f" writes of `value`: the nearest decimal with that many places (0 to 12) to what the double
 * holds, of two equally near ones the even. False where that has more than 15 digits, for a negative and for one that
 * is not finite; *ret is then left alone.
 */
bool decimal_rounded(double value, int decimals, struct decimal *ret);

/* Appends it with all its decimals, behind a minus if asked: 5 and 2 is "0.05". */
void text_add_decimal(struct text *text, bool minus, struct decimal decimal);

#endif
