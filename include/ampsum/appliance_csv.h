/*
 * A CSV list of appliances, as a spreadsheet writes it: the first row names the columns (`id` and keys of the
 * [appliance] section), each further row is an appliance. An empty cell is a key not given; without an `id` column, or
 * with an empty cell in it, the ID follows from the name.
 *
 * Checked: tests/golden/import-list.
 */
#ifndef AMPSUM_APPLIANCE_CSV_H
#define AMPSUM_APPLIANCE_CSV_H

#include <stdbool.h>
#include <stddef.h>

#include "ampsum/error.h"
#include "ampsum/housefile.h"

/*
 * Adds the rows to a document as [appliance] sections with their line numbers, so that house_build names the file's
 * lines (set document->source to `path` for that: done here). Comma or semicolon, whichever the first row holds; UTF-8,
 * a byte-order mark is accepted; at most 16 MiB. All faults at once, `file:line: what, expected what` (ERROR_INPUT).
 * *ret_count: appliances added.
 */
bool list_read_appliances(const char *path, struct document *document, size_t *ret_count, struct error *error);

#endif
