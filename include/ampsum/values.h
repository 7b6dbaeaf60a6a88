/*
 * One value of a key, between its field in a row and the text that the house file writes. Driven by the key's type, so
 * that the house file, the database and the edit commands spell every value alike.
 *
 * Checked: tests/unit/test_model.c, test_housefile_faults.c.
 */
#ifndef AMPSUM_VALUES_H
#define AMPSUM_VALUES_H

#include <stdbool.h>

#include "ampsum/keys.h"
#include "ampsum/model.h"
#include "ampsum/text.h"

/* No quantity of a house is larger, in its inner unit: keeps every sum finite. value_read refuses more. */
#define VALUE_MOST 1e12

/* And the smallest that is not 0: powers and quotients of both stay far inside a double. */
#define VALUE_LEAST 1e-12

/*
 * Reads `string` into the key's field of `row` (the struct of the key's section). Lists and strings are made in
 * house->arena; house->rules says what a bare length or area means. Every type but those that name other rows
 * (KEY_REFERENCE, KEY_REFERENCE_LIST, KEY_SCENE: asserts), which need an index of IDs. The `given` bit is the caller's.
 *
 * On a fault appends to `fault` what is wrong and what was expected (no line end), gives false and leaves the field
 * alone. Checks the value by itself: its form, range, words, overlapping windows, order of blocks; nothing across keys.
 */
bool value_read(const struct key *key, const char *string, const struct house *house, void *row, struct text *fault);

/*
 * Appends the field's value as the house file writes it, so that value_read gives back the same field. Every type;
 * other rows are named by their ID (an outlet fed from the panel: `panel`). The value must be there (not missing).
 */
void value_write(const struct key *key, const struct house *house, const void *row, struct text *text);

/* `HH:MM` of a minute of the day, 1440 as 24:00; `HH:MM-HH:MM` of a stretch of it. One place for file and faces. */
void clock_add(struct text *text, int minute);
void clock_add_span(struct text *text, int start_min, int end_min);

#endif
