/* Rows found by halving in the order that the build wrote beside a table. Inside src/reference only. */
#ifndef AMPSUM_REFERENCE_ORDERED_H
#define AMPSUM_REFERENCE_ORDERED_H

#include <stddef.h>

#include "same.h"

/* A table in the order of one of its columns of words. */
struct ordered {
    const unsigned short *rows; /* numbers of the rows; of equal words the first row first */
    size_t count;
    const void *column; /* the column's field in the first row */
    size_t stride;      /* bytes from row to row */
};

#define ORDERED(table, by)                                                                                             \
    ((struct ordered){table##_by_##by, table##_count, &table##_rows[0].by, sizeof table##_rows[0]})

/* The word at a place of the order. */
static inline const char *ordered_word(const struct ordered *order, size_t place)
{
    const char *cell = (const char *)order->column + order->rows[place] * order->stride;
    return *(const char *const *)(const void *)cell;
}

/* The first place whose word does not come before `word`; order->count where all do. */
static inline size_t ordered_from(const struct ordered *order, const char *word)
{
    size_t low = 0;
    size_t high = order->count;
    while (low < high) {
        const size_t middle = low + (high - low) / 2;
        const char *at = ordered_word(order, middle);
        const int first = (unsigned char)*at - (unsigned char)*word;
        if ((first != 0 ? first : strcmp(at, word)) < 0) {
            low = middle + 1;
        } else {
            high = middle;
        }
    }
    return low;
}

/* The first place whose word begins with these two bytes or comes later. */
static inline size_t ordered_from_bytes(const struct ordered *order, unsigned char first, unsigned char second)
{
    const unsigned wanted = first * 256U + second;
    size_t low = 0;
    size_t high = order->count;
    while (low < high) {
        const size_t middle = low + (high - low) / 2;
        const unsigned char *at = (const unsigned char *)ordered_word(order, middle);
        if (at[0] * 256U + at[1] < wanted) {
            low = middle + 1;
        } else {
            high = middle;
        }
    }
    return low;
}

/* Whether the word at a place, which may lie behind the last, is this one. */
static inline bool ordered_is(const struct ordered *order, size_t place, const char *word)
{
    return place < order->count && same(ordered_word(order, place), word);
}

#endif
