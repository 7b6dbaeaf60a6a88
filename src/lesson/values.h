/* Sets of exact values, for the search through networks. */
#ifndef AMPSUM_LESSON_VALUES_H
#define AMPSUM_LESSON_VALUES_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/* A fraction in lowest terms, above 0. */
struct fraction {
    uint64_t over;
    uint64_t under;
};

/* Distinct fractions in the order in which they came, with a table to find them. `(struct value_set){0}` is empty. */
struct value_set {
    struct fraction *value;
    size_t count;
    size_t capacity;
    struct fraction *slot; /* over 0: free */
    size_t slot_count;
    uint64_t bound; /* above 0: no number is larger, and a bit for each pair takes the table's place */
    uint64_t *bit;
};

void value_set_done(struct value_set *set);
bool value_set_has(const struct value_set *set, struct fraction value);

/* For an empty set whose values' numbers are at most `bound`: a table of bits, small enough to stay near. */
void value_set_bound(struct value_set *set, uint64_t bound);

/* Adds the value where it is new. */
void value_set_add(struct value_set *set, struct fraction value);

/* over / under in lowest terms. */
struct fraction fraction_inverse(struct fraction value);

/* a + b, a - b (false where that is not above 0); false too where it does not fit 64 bits. */
bool fraction_add(struct fraction a, struct fraction b, struct fraction *ret_sum);
bool fraction_subtract(struct fraction a, struct fraction b, struct fraction *ret_difference);

#endif
