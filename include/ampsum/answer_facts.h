/*
 * Findings of one branch or panel as a person reads them: one line a fact. What several findings say of one load, wire,
 * contact, voltage, motor, neutral or spur is led by the worst of them; the others stand beside it as numbers.
 * Limits 10.
 *
 * Checked: tests/unit/test_answer.c; tests/golden/check-us.
 */
#ifndef AMPSUM_ANSWER_FACTS_H
#define AMPSUM_ANSWER_FACTS_H

#include <stddef.h>

#include "ampsum/arena.h"
#include "ampsum/finding.h"

struct fact {
    const struct finding *lead;    /* the worst, of equals the first */
    const struct finding **others; /* what else is said of it, by other numbers, in the list's order */
    size_t other_count;
};

struct facts {
    struct fact *fact; /* led by a warning or a danger, the gravest first, else in the list's order */
    size_t count;
    size_t note_count; /* notes that stand beside none of them */
};

/* The facts of a list, in `arena`; the list must outlive them. A second finding of a lead's own number is a fact of its
 * own. */
void facts_of(const struct finding_list *list, struct arena *arena, struct facts *ret_facts);

/*
 * All findings of a list, list->count of them in `arena`: the gravest first, of one severity as they stand.
 * `ret_notes`: how many notes end them.
 */
const struct finding *const *findings_gravest_first(const struct finding_list *list, struct arena *arena,
                                                    size_t *ret_notes);

#endif
