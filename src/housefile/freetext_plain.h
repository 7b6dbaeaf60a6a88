/*
 * A load as a person types it, put into the plain form that freetext_read takes: the name, and behind commas what is
 * said of it.
 *
 *   1500 watt space heater -> space heater, 1500 W        2 lamps 60W each -> 2 x lamps, 60W
 *   welder 230V 20A        -> welder, 230V, 20A            Heater (1500 W)  -> Heater, 1500 W
 *
 * Checked: tests/unit/test_freetext.c.
 */
#ifndef AMPSUM_FREETEXT_PLAIN_H
#define AMPSUM_FREETEXT_PLAIN_H

#include "ampsum/arena.h"
#include "ampsum/error.h"

/*
 * The plain form, in the arena, or `string` itself. NULL with the error set where two ratings stand in one name (a name
 * that swallowed one of two loads would be a load too small), a range, or a time that would not be counted.
 */
const char *freetext_plain(struct arena *arena, const char *string, struct error *error);

/*
 * Sets the error with its fault, where none is set: something is missing or said twice. `key` is of an appliance
 * ("power": its rating, whatever the unit); NULL: it is about no one key.
 */
void freetext_fault(struct error *error, const char *key, const char *reason);

/* The same about a piece of what was said, `'VALUE': REASON`. */
void freetext_refuse(struct error *error, const char *key, const char *value, const char *format, ...)
    __attribute__((format(printf, 4, 5)));

#endif
