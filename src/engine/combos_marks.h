/*
 * The best sets found so far where each is 128 bits: of at most 64 loads of one unit each. What comes first in the
 * order is the larger number. Inside the combos library only.
 */
#ifndef AMPSUM_COMBOS_MARKS_H
#define AMPSUM_COMBOS_MARKS_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/* The key in the upper half; in the lower one bit for each load, the file's first highest. */
__extension__ typedef unsigned __int128 set_mark;

enum { MARK_LOADS_MOST = 64 };

static inline uint64_t mark_bit(uint32_t load)
{
    return UINT64_C(1) << (MARK_LOADS_MOST - 1 - load);
}

static inline set_mark mark_of(uint64_t key, uint64_t loads)
{
    return (set_mark)key << 64 | loads;
}

/* Keeps the best `most` of what is offered. */
struct set_marks {
    size_t most;
    size_t room; /* held before the worst are dropped */
    set_mark *found;
    set_mark *spare; /* room for as many */
    size_t found_count;
    size_t held;
    bool full; /* `most` are known: the worst of them binds */
    set_mark worst;
};

void set_marks_init(struct set_marks *marks, size_t most);
void set_marks_done(struct set_marks *marks);
void set_marks_offer(struct set_marks *marks, set_mark mark);

/* Drops all but the best `most`, and puts them in order. */
void set_marks_keep(struct set_marks *marks);

#endif
