/*
 * The question of `place`: every branch that could take a load, best first, and why the others can't.
 *
 * Contract: limits.md, section 10. Checked: tests/unit/test_answer_place.c; tests/golden/place-demo, place-class,
 * place-crowd, place-and-settle.
 */
#ifndef AMPSUM_ANSWER_PLACE_H
#define AMPSUM_ANSWER_PLACE_H

#include "ampsum/fit.h"
#include "ampsum/freetext.h"

struct place_question {
    const char *load; /* as a person says it: ampsum/freetext.h */
    size_t room;      /* only branches that have an outlet in it or serve it; NO_INDEX: the whole house */
};

/* Minutes of a day, the end not among them. */
struct place_span {
    int start_min;
    int end_min;
};

/* A branch as it would be with the load on it. */
struct place_row {
    size_t index; /* of the branch, in the house as given and in the answer's */
    const struct branch *branch;
    const char *outlet;                     /* ID of its first one in the room; NULL: the branch alone */
    struct fit fit;                         /* its appliance is NO_INDEX where the load was not tried there */
    const struct branch_assessment *result; /* NULL where it was not tried, or is made for another voltage */
    bool has_room;
    struct place_span *not_at; /* when it would be too much beside all that may be on then */
    size_t not_at_count;
    bool never;                   /* at any time of the day */
    const struct appliance **off; /* only-if: what must stay off while it runs */
    size_t off_count;
    size_t full_panel; /* the first panel from its own up that is full as the house stands; NO_INDEX: none */
};

struct place_answer {
    struct house *house; /* with the load on every branch that was tried */
    struct freetext load;
    size_t room;
    struct place_row *rows; /* best first: class, those with figures, verdict, headroom, drop, place in the file */
    size_t count;
    size_t room_count; /* rows that have room */
    size_t only_if_count;
    bool by_water; /* a branch that is offered serves a bathroom, a pool or the outdoors */
    bool medical;  /* the load itself is medical equipment */
    bool feeds;    /* it is no load: a generator, a battery */
    struct assessment *before;
    struct assessment *after;
    struct arena *arena;
};

/*
 * Answers for a house, which must outlive the answer; free with place_answer_done in any case. False with the error set
 * where the load can't be read or is no appliance that this house could have.
 */
bool answer_place(const struct house *house, const struct place_question *question, struct place_answer *ret_answer,
                  struct error *error);

/* The whole house asked where the room of that answer can't take the load; true where that was done. Free with
 * place_answer_done in any case. */
bool answer_place_elsewhere(const struct house *house, const struct place_question *question,
                            const struct place_answer *answer, struct place_answer *ret_answer);

/* How many rows take the load, whatever else is on or if others stay off: the first ones; and the best; NULL: none. */
size_t place_takers(const struct place_answer *answer);
const struct place_row *place_best(const struct place_answer *answer);

void place_answer_done(struct place_answer *answer);

#endif
