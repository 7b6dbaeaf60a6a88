/* What the `place` command shows: every branch that could take a load, and why the others can't. */
#ifndef AMPSUM_CLI_PLACE_VIEW_H
#define AMPSUM_CLI_PLACE_VIEW_H

#include "ampsum/freetext.h"
#include "cli.h"

/* A branch as it would be with the load on it. */
struct candidate {
    size_t branch;      /* in the house as given; the same index in the house that was built */
    size_t appliance;   /* the load, in the house that was built; NO_INDEX where it was not tried */
    const char *outlet; /* NULL: the branch alone */
    const char *id;     /* of the load in the document */
    const struct branch_assessment *result;
    const char *refusal;   /* why it can't; NULL where it could */
    struct text not_at;    /* times of day, parted by commas */
    struct text off;       /* IDs to switch off, with everything else on, parted by commas */
    struct text off_names; /* the first of them, and how many more */
};

struct places {
    struct invocation *invocation;
    struct freetext load;
    size_t room; /* NO_INDEX: the whole house */
    struct candidate *candidates;
    size_t count;
    size_t fits;
    struct house *house; /* with the load on every candidate */
    struct assessment *assessment;
};

/* Writes the answer in the asked format; the candidates are in their order, best first. */
void places_write(const struct places *places);

#endif
