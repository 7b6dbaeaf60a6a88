/* Houses for the tests of the store: built row by row through the key tables, without the house file's reader. */
#ifndef AMPSUM_TEST_STORE_HOUSE_H
#define AMPSUM_TEST_STORE_HOUSE_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "ampsum/model.h"

/* Numbers that look random, the same for the same seed. */
struct dice {
    uint64_t state;
};
unsigned dice_throw(struct dice *dice, unsigned sides); /* 0 .. sides - 1 */

/* Gives a key of a row its value, written as in a house file. The value must be right. */
void give(struct house *house, enum kind kind, size_t index, const char *key, const char *value);

/* The same for a key that names another row. */
void give_row(struct house *house, enum kind kind, size_t index, const char *key, size_t target);

/* A valid house with every kind of row, each key given by chance; `appliances` of them. Not finished. */
struct house *house_by_chance(struct dice *dice, size_t appliances);

/* True where both hold the same rows in the same order and each key is given alike. `ret_where`: the first that
 * differs. */
bool houses_equal(const struct house *a, const struct house *b, const char **ret_where);

#endif
