/*
 * The question of `typical`: published ratings of what a word may mean.
 *
 * Checked: tests/unit/test_answer_rules.c; tests/golden/typical-rules.
 */
#ifndef AMPSUM_ANSWER_TYPICAL_H
#define AMPSUM_ANSWER_TYPICAL_H

#include <stdbool.h>
#include <stddef.h>

#include "ampsum/arena.h"
#include "ampsum/error.h"
#include "ampsum/reference.h"

struct typical_answer {
    const char *word;
    const struct ref_typical **rows; /* best first */
    size_t count;
    bool near;                          /* nothing is called so: these are the nearest */
    const struct ref_typical **sources; /* the first row of each source and edition */
    size_t source_count;
};

/*
 * Answers for a word, of one rule set or of all (`rules` NULL); the lists are in `arena`. False with the error set
 * where there is no row.
 */
bool answer_typical(const char *word, const char *rules, struct arena *arena, struct typical_answer *ret_answer,
                    struct error *error);

/*
 * The first `most` rows of the house's rules that are called so, else of any rules, else the nearest of the house's;
 * how many in `ret_rows`.
 */
size_t typical_of_house(const char *word, const char *rules, const struct ref_typical **ret_rows, size_t most,
                        bool *ret_near);

#endif
