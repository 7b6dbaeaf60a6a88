/*
 * The items of a comma list, one after the other. Blanks around an item mean nothing; an empty item is a fault.
 *
 * Checked: tests/unit/test_housefile_faults.c (lists with empty items, commas at the end).
 */
#ifndef AMPSUM_ITEMS_H
#define AMPSUM_ITEMS_H

#include <stdbool.h>
#include <stddef.h>

#include "ampsum/text.h"

struct items {
    const char *next; /* where the next item begins; NULL: at the end */
    struct text item; /* the item read last, without blanks around it */
    bool is_faulty;   /* an empty item was met; the reason is in the fault */
};

/* Begins a walk over the list; end it with items_done. */
void items_init(struct items *items, const char *list);
void items_done(struct items *items);

/* Moves on; false at the end or at an empty item (is_faulty, with the reason appended to `fault`). */
bool items_next(struct items *items, struct text *fault);

/* Splits an item at the first `mark` into two trimmed strings, in place: NULL where the mark is not there. */
char *item_split(char *item, char mark);

/* Number of items that a list can have at most: its commas and one. */
size_t items_most(const char *list);

#endif
