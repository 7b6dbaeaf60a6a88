/* The last answers, kept while the house's file is the one that they were made from. */
#ifndef AMPSUM_SERVE_KEPT_H
#define AMPSUM_SERVE_KEPT_H

#include <stdbool.h>
#include <stddef.h>

#include "ampsum/text.h"

enum { KEPT_MOST = 8 };

struct visit;

struct kept_answers {
    struct {
        struct text address; /* path and query, which no other address gives */
        struct text body;
        const char *type;
    } row[KEPT_MOST];
    size_t next; /* to be overwritten */
};

/* Gives the visit the answer that was kept for its address; false where there is none. */
bool kept_find(struct kept_answers *kept, struct visit *visit);

/* Keeps the visit's answer in place of the oldest. */
void kept_add(struct kept_answers *kept, const struct visit *visit);

void kept_clear(struct kept_answers *kept);

#endif
