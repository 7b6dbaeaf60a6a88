/* What a person probably meant by a word that is none of ours: for messages alone, nothing is read by it. */
#ifndef AMPSUM_MEANT_H
#define AMPSUM_MEANT_H

#include "ampsum/keys.h"
#include "ampsum/text.h"

/* The key of the section that people call by that name, else the nearest; NULL where none is near. */
const char *meant_key(const struct section *section, const char *name);

/* The kind of section likewise. */
const char *meant_section(const char *word);

/* Appends `; a rating in A stands in the key current` where the value of an appliance's rating has another one's unit.
 */
void meant_rating(const struct section *section, const struct key *key, const char *value, struct text *fault);

/* Appends `, such as desk-lamp` where the word (`Desk lamp`) makes an ID when it is written as one. */
void meant_id(const char *word, struct text *text);

#endif
