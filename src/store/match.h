/*
 * Which row of one house is which of another: by ID, within a kind.
 */
#ifndef AMPSUM_STORE_MATCH_H
#define AMPSUM_STORE_MATCH_H

#include "internal.h"

struct match {
    size_t *before; /* for each row after: the row before, NO_INDEX for a new one */
    bool *kept;     /* for each row before: whether it is there after */
};

/* One match a kind. Linear but for rows that changed places. Free with matches_done. */
void matches_make(struct match matches[KIND_COUNT], const struct house *before, const struct house *after);
void matches_done(struct match matches[KIND_COUNT]);

#endif
