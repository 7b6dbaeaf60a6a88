/* Opening a house: a file or a database, by its content and its name. Checked: tests/golden/house-refused,
 * files-refused. */
#ifndef AMPSUM_ANSWER_OPEN_H
#define AMPSUM_ANSWER_OPEN_H

#include <stdbool.h>

#include "ampsum/error.h"
#include "ampsum/meter.h"
#include "ampsum/model.h"

/* True where the path is to be read as a database: it begins as one, or its name ends in `.db`. */
bool house_is_database(const char *path);

/* Reads a house from a path. The caller frees it with house_free. False with the error set. */
bool house_open(const char *path, struct house **ret_house, struct error *error);

/* The meter's readings in a house database, perhaps none. The caller frees them with free(). False with the error set.
 */
bool house_readings(const char *path, struct meter_reading **ret_readings, size_t *ret_count, struct error *error);

#endif
