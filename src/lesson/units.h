/* Units as people write them. */
#ifndef AMPSUM_LESSON_UNITS_H
#define AMPSUM_LESSON_UNITS_H

#include "ampsum/exact.h"

/* What a unit stands for. */
struct unit_meaning {
    enum exact_quantity quantity;
    unsigned long over; /* factor to the quantity's own unit: over / under */
    unsigned long under;
    bool mega;              /* MA, MV, MW: often meant as milli */
    const char *currencies; /* codes that fit a money sign, blank between; NULL: any, or no money */
};

/*
 * The unit that `word` (plain signs) stands for: a symbol, in which capitals tell m from M; a word of four languages,
 * also with one letter wrong, extra, missing or swapped; a money sign or code. False where it is none.
 */
bool unit_find(const char *word, enum exact_quantity asked, struct unit_meaning *ret);

#endif
