/*
 * A house file to begin with: what must stand in it, by the words and sizes of a rule set, a remark behind each line.
 *
 * Checked: tests/golden (new).
 */
#ifndef AMPSUM_SHOW_NEW_H
#define AMPSUM_SHOW_NEW_H

#include "ampsum/reference.h"
#include "ampsum/text.h"

/* Appends the file. */
void show_new_house(const struct ref_rule_set *set, struct text *text);

#endif
