/* Numbers as people write them. */
#ifndef AMPSUM_LESSON_DIGITS_H
#define AMPSUM_LESSON_DIGITS_H

#include "ampsum/reading.h"

/*
 * Reads the number at `*at` (plain signs) into the ways of `ret_written` and leaves `*at` behind it. Where it cannot
 * be read `ret_written` gets its doubt, and false is returned.
 */
bool digits_read(const char **at, const struct written_context *context, struct written *ret_written);

#endif
