/* Opening a house: a file or a database, by its content and its name. Checked: tests/golden/house-refused,
 * files-refused. */
#ifndef AMPSUM_ANSWER_OPEN_H
#define AMPSUM_ANSWER_OPEN_H

#include <stdbool.h>

#include "ampsum/answer_demand.h"
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

/*
 * Readings of a meter file or, where `file` is NULL, those in the house database of that path: one at least. The caller
 * frees them with meter_set_done, in any case. False with the error set.
 */
bool readings_open(const char *path, const char *file, const struct meter_options *options, struct meter_set *ret_set,
                   struct error *error);

/*
 * Takes what a metered maximum is said to be into the question of `demand`: a figure, a meter file, or `meter` for the
 * readings in the house database of that path; NULL: nothing. Readings stay in `ret_set`, as above. False with the
 * error set.
 */
bool demand_open_measured(const struct house *house, const char *path, const char *said,
                          const struct meter_options *options, struct demand_question *question,
                          struct meter_set *ret_set, struct error *error);

#endif
