#include "combos_marks.h"

#include <stdlib.h>
#include <string.h>

#include "ampsum/arena.h"

/* Places by key, for so many that a place is left with few. */
enum { PLACES = 1024, RUN = 12 };

void set_marks_init(struct set_marks *marks, size_t most)
{
    *marks = (struct set_marks){.most = most, .room = 2 * most + 32};
}

void set_marks_done(struct set_marks *marks)
{
    free(marks->found);
    free(marks->spare);
}

/* The largest first. */
static void sort_few(set_mark *found, size_t count)
{
    for (size_t i = 1; i < count; i++) {
        const set_mark moved = found[i];
        size_t j = i;
        for (; j > 0 && moved > found[j - 1]; j--) {
            found[j] = found[j - 1];
        }
        found[j] = moved;
    }
}

/* Merge sort, the largest first; `spare` for half as many. */
static void sort_marks(set_mark *found, set_mark *spare, size_t count)
{
    if (count <= RUN) {
        sort_few(found, count);
        return;
    }
    const size_t middle = count / 2;
    sort_marks(found, spare, middle);
    sort_marks(found + middle, spare, count - middle);
    memcpy(spare, found, middle * sizeof *found);
    size_t i = 0;
    size_t j = middle;
    size_t k = 0;
    while (i < middle && j < count) {
        const bool right = found[j] > spare[i];
        found[k++] = right ? found[j] : spare[i];
        i += !right;
        j += right;
    }
    memcpy(found + k, spare + i, (middle - i) * sizeof *found);
}

static uint64_t key_of(set_mark mark)
{
    return (uint64_t)(mark >> 64);
}

/* By how many bits keys between those are to be shifted, so that they fall on PLACES places. */
static unsigned shift_of(uint64_t least, uint64_t most)
{
    unsigned shift = 0;
    while ((most - least) >> shift >= PLACES) {
        shift++;
    }
    return shift;
}

/* Where each place starts, largest keys first: PLACES + 1 entries. */
static unsigned find_places(const struct set_marks *marks, uint64_t *ret_largest, uint32_t *ret_start)
{
    uint64_t least = UINT64_MAX;
    uint64_t most = 0;
    for (size_t i = 0; i < marks->found_count; i++) {
        const uint64_t key = key_of(marks->found[i]);
        least = key < least ? key : least;
        most = key > most ? key : most;
    }
    const unsigned shift = shift_of(least, most);
    memset(ret_start, 0, (PLACES + 1) * sizeof *ret_start);
    for (size_t i = 0; i < marks->found_count; i++) {
        ret_start[((most - key_of(marks->found[i])) >> shift) + 1]++;
    }
    for (size_t place = 0; place < PLACES; place++) {
        ret_start[place + 1] += ret_start[place];
    }
    *ret_largest = most;
    return shift;
}

/* Puts the marks into their places, in `spare`; those of places that start behind `most` are left out. */
static void put_in_places(const struct set_marks *marks, uint64_t largest, unsigned shift, const uint32_t *start)
{
    uint32_t next[PLACES];
    memcpy(next, start, sizeof next);
    for (size_t i = 0; i < marks->found_count; i++) {
        const size_t place = (size_t)((largest - key_of(marks->found[i])) >> shift);
        if (start[place] < marks->most) {
            marks->spare[next[place]++] = marks->found[i];
        }
    }
}

/* Drops all but the best `most`; puts them in order, or the worst of them last. */
static void drop_others(struct set_marks *marks, bool in_order)
{
    if (marks->found_count == 0 || marks->most == 0) {
        marks->found_count = 0;
        return;
    }
    uint32_t start[PLACES + 1];
    uint64_t largest;
    const unsigned shift = find_places(marks, &largest, start);
    put_in_places(marks, largest, shift, start);
    for (size_t place = 0; place < PLACES && start[place] < marks->most; place++) {
        const size_t count = start[place + 1] - start[place];
        if (count > 1 && (in_order || start[place + 1] >= marks->most)) {
            sort_marks(marks->spare + start[place], marks->found, count); /* what was found is copied: room to work */
        }
    }
    set_mark *kept = marks->spare;
    marks->spare = marks->found;
    marks->found = kept;
    if (marks->found_count >= marks->most) {
        marks->found_count = marks->most;
        marks->full = true;
        marks->worst = marks->found[marks->most - 1];
    }
}

void set_marks_keep(struct set_marks *marks)
{
    drop_others(marks, true);
}

/* Room for twice as many. */
static void hold_more(struct set_marks *marks)
{
    marks->held = marks->held == 0 ? 64 : 2 * marks->held;
    marks->found = memory_resize(marks->found, marks->held, sizeof *marks->found);
    free(marks->spare);
    marks->spare = memory_resize(NULL, marks->held, sizeof *marks->spare);
}

void set_marks_offer(struct set_marks *marks, set_mark mark)
{
    if (marks->full && mark <= marks->worst) {
        return;
    }
    if (marks->found_count == marks->room) {
        drop_others(marks, false);
    }
    if (marks->found_count == marks->held) {
        hold_more(marks);
    }
    marks->found[marks->found_count++] = mark;
}
