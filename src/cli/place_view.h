/* What the `place` command shows: every branch that could take a load, and why the others can't. */
#ifndef AMPSUM_CLI_PLACE_VIEW_H
#define AMPSUM_CLI_PLACE_VIEW_H

#include "ampsum/fit.h"
#include "ampsum/freetext.h"
#include "cli.h"

/* A branch as it would be with the load on it. */
struct candidate {
    size_t branch;                          /* in the house as given; the same index in the house that was built */
    const char *outlet;                     /* NULL: the branch alone */
    const char *id;                         /* of the load in the document */
    struct fit fit;                         /* its appliance is NO_INDEX where the load was not tried there */
    const struct branch_assessment *result; /* NULL where it was not tried, or is made for another voltage */
    struct text not_at;                     /* times of day, parted by commas */
    struct text off;                        /* IDs of what must be off while it runs, parted by commas */
    struct text off_names;                  /* the first of them, and how many more */
};

struct places {
    struct invocation *invocation;
    struct freetext load;
    size_t room; /* NO_INDEX: the whole house */
    struct candidate *candidates;
    size_t count;
    size_t fits;         /* that have room */
    size_t only_if;      /* that take it with others off */
    struct house *house; /* with the load on every candidate */
    struct assessment *before;
    struct assessment *assessment;
};

/* Writes the answer in the asked format; the candidates are in their order, best first. */
void places_write(const struct places *places);

#endif
