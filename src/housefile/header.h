/*
 * What reader and builder both ask of a section's header and of a key's name, so that both say it in the same words.
 */
#ifndef AMPSUM_HEADER_H
#define AMPSUM_HEADER_H

#include "faults.h"

/* The section of that kind word if word and ID are right, else NULL and a fault at the line. */
const struct section *header_check(struct faults *faults, int line, const char *word, const char *id);

/* The key of that name, else NULL and a fault at the line that names the nearest. */
const struct key *key_check(struct faults *faults, int line, const struct section *section, const char *id,
                            const char *name);

#endif
