/*
 * The journal of a database as rows and lines (ampsum/store.h). Computes nothing.
 *
 * Checked: tests/golden/edit-journal.
 */
#ifndef AMPSUM_SHOW_LOG_H
#define AMPSUM_SHOW_LOG_H

#include "ampsum/show_rows.h"
#include "ampsum/store.h"

struct log_answer {
    struct journal_entry *entries; /* newest last */
    size_t count;
};

extern const struct show_rows show_log_rows;

json_t *show_log_json(const struct log_answer *answer);
void show_log_text(const struct log_answer *answer, struct text *text);

#endif
