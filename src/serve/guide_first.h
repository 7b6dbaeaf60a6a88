/*
 * The first house, one question a page. What was answered so far stands in the address, so that Back goes back with it
 * and nothing is lost where the program stops; a line is stored by the last question of its kind, in one press.
 */
#ifndef AMPSUM_SERVE_GUIDE_FIRST_H
#define AMPSUM_SERVE_GUIDE_FIRST_H

#include "guide.h"

/* A question about a field of guide_fields.c; a new question is a row in guide_questions.c. */
struct first_question {
    enum kind kind;
    const char *key;
    const char *ask;  /* in plain words, the page's heading */
    const char *hint; /* one sentence in place of the field's own help */
    const char *said; /* in front of the answer, where a stored line is told; NULL: nothing */
};

extern const struct first_question first_questions[];
extern const size_t first_question_count;

/* Of one kind: in which order they come, what leads on to the next, and where it leads. */
struct first_kind {
    enum kind kind;
    const char *more;  /* what the link says that ends the lines of this kind */
    const char *next;  /* its path */
    const char *fixed; /* a key that is not asked, NULL: none */
    const char *value;
};

/* NULL where nothing is asked about that kind. */
const struct first_kind *first_kind_of(enum kind kind);

void view_first(struct visit *visit);  /* GET: shows the next question, or the one that was answered wrong */
void store_first(struct visit *visit); /* POST: the last answer of a kind; the line is stored */

#endif
