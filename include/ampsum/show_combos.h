/*
 * The answer of `combos` as rows and sentences (ampsum/answer_combos.h). Computes nothing.
 *
 * Checked: tests/golden/combos-demo, combos-sets.
 */
#ifndef AMPSUM_SHOW_COMBOS_H
#define AMPSUM_SHOW_COMBOS_H

#include "ampsum/answer_combos.h"
#include "ampsum/show.h"
#include "ampsum/show_rows.h"

/* A row for each set of a struct combos_answer. */
extern const struct show_rows show_combos_rows;

/* Appends the whole JSON answer: the number of sets may be larger than any number type of the JSON library. */
void show_combos_json(const struct combos_answer *answer, struct text *text);

/* How many sets there are, or that there is none: the sentence above them. */
void show_combos_head(const struct combos_answer *answer, struct text *text);

void show_combos_text(const struct combos_answer *answer, const struct page *page, struct text *text);

/* What combos, place and settle say alike. `kettle`, `kettle*2` where there is more than one of it; `2 x Kettle`. */
void decide_id(const struct appliance *appliance, unsigned units, struct text *text);
void decide_name(const struct appliance *appliance, unsigned units, struct text *text);

/* The names of a set on a branch: `A, B and C`. */
void decide_names(const struct house *house, size_t branch, const struct combos_set *set, struct text *text);

#endif
