/*
 * The answer of `demand` as rows, JSON and sentences (ampsum/answer_demand.h). Computes nothing.
 *
 * Checked: tests/golden/demand-demo, demand-dwelling.
 */
#ifndef AMPSUM_SHOW_DEMAND_H
#define AMPSUM_SHOW_DEMAND_H

#include "ampsum/answer_demand.h"
#include "ampsum/show.h"
#include "ampsum/show_rows.h"

/* Sources met so far, each once, in the order met: what a number in brackets stands for. */
struct show_sources {
    const char **source; /* room for every line */
    size_t count;
};

/* The lines of a method. */
struct show_demand_lines {
    const struct demand_list *list;
    struct show_sources *sources; /* terminal: the lines' sources are numbered into it */
    bool working;                 /* JSON: with the arithmetic */
};

/* A row for each line of a struct show_demand_lines. */
extern const struct show_rows show_demand_line_rows;

json_t *show_demand_json(const struct demand_answer *answer, bool working);

/* `working`: each line with its arithmetic, in place of the table. */
void show_demand_text(const struct demand_answer *answer, bool working, const struct page *page, struct text *text);

/* What was taken for granted, and what else must be said: sentences, NULL-ended, in `arena`. */
const char *const *show_demand_notes(const struct demand_answer *answer, struct arena *arena);

/* Number of a source among those met so far, from 1; a new one is kept. */
size_t show_source_number(struct show_sources *sources, const char *source);

#endif
