/* Many signs for one thing made one: the first step of reading what people write. */
#ifndef AMPSUM_LESSON_PLAIN_H
#define AMPSUM_LESSON_PLAIN_H

#include "ampsum/text.h"

/*
 * Appends `string` in plain signs: every blank as one, full-width letters and digits, superscripts (as ^2), quotes,
 * minus signs, ohm and micro signs, fraction signs (as " 1/2"), letters without accents. What is not known stays.
 */
void plain_signs(struct text *text, const char *string);

/* Appends `string` in small letters (ASCII). */
void plain_small(struct text *text, const char *string);

#endif
