/*
 * IDs of one kind -> row, by open addressing.
 */
#ifndef AMPSUM_IDS_H
#define AMPSUM_IDS_H

#include <stdint.h>

#include "ampsum/model.h"

struct ids {
    uint32_t *slots; /* row + 1; 0: free */
    size_t mask;
    const char **id; /* of each row */
};

/* Room for `count` rows. */
void ids_init(struct ids *ids, size_t count);
void ids_done(struct ids *ids);

/* Puts a row's ID in; the ID must stay. Gives the row that has it already, or NO_INDEX. */
size_t ids_add(struct ids *ids, const char *id, size_t row);

/* The row of the ID, or NO_INDEX. */
size_t ids_find(const struct ids *ids, const char *id);

#endif
