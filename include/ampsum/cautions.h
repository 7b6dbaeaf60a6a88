/*
 * Cautions by the case that calls for them: what a person should know who lives with what was found. The texts are rows
 * of schema/reference/060_caution.sql; which case holds is read from the house and its assessment.
 *
 * Definitions: contract, limits.md section 13. Checked: tests/unit/test_cautions.c.
 */
#ifndef AMPSUM_CAUTIONS_H
#define AMPSUM_CAUTIONS_H

#include "ampsum/assess.h"

enum { CAUTIONS_MOST = 3 };

/*
 * The cautions of a branch, or of the whole house, the most urgent first; at most CAUTIONS_MOST.
 *
 *   branch  index, or NO_INDEX for the house with all branches and panels
 *   ret     room for CAUTIONS_MOST + 1 texts, ended by NULL; they are constants of the program
 *
 * Returns how many there are. Linear in what is looked at.
 */
size_t cautions_of(const struct assessment *assessment, size_t branch, const char *ret[CAUTIONS_MOST + 1]);

#endif
