/* May this run here: three fields, one press, one sentence. */
#ifndef AMPSUM_SERVE_ASK_H
#define AMPSUM_SERVE_ASK_H

#include "appliance.h"

/* The box that asks: what, in which room, when. */
void ask_box(struct visit *visit);

/*
 * The sentence: yes; yes, if these stay off; no, try that; with a button that puts it there. `everywhere`: the answer
 * for the whole house, asked where the room has none; else NULL.
 */
void ask_sentence(struct visit *visit, const struct place_answer *answer, const struct place_answer *everywhere);

#endif
