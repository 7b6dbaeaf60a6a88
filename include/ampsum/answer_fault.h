/*
 * The question of `fault`: if a wire touches metal at this outlet, how large is the current, does the device open, can
 * it break the current, does the wire survive.
 *
 * Checked: tests/unit/test_fault_house.c; tests/golden/fault-us, fault-uk.
 */
#ifndef AMPSUM_ANSWER_FAULT_H
#define AMPSUM_ANSWER_FAULT_H

#include "ampsum/error.h"
#include "ampsum/fault_assess.h"

struct fault_question {
    struct fault_options options;
    size_t branch; /* this one alone; NO_INDEX: all */
    size_t panel;  /* the branches of this one alone; NO_INDEX: all */
};

/* A branch asked about, and one of its points; `point` NULL where wire or length is not known. */
struct fault_row {
    size_t branch;
    const struct fault_point *point;
    bool first; /* of its branch */
};

struct fault_answer {
    const struct house *house;
    struct fault_question question;
    struct fault_study *study;
    struct fault_row *rows; /* branch after branch, in file order */
    size_t row_count;
    size_t *branches; /* those asked about */
    size_t branch_count;
    size_t *panels; /* those asked about */
    size_t panel_count;
    size_t danger_count;           /* in what was asked about */
    struct finding_list findings;  /* of the panels asked about, then of the branches */
    const struct fault_point *far; /* the farthest point of the rows by its cable; NULL: none */
    bool untold; /* some device asked about has no published band, where loops are judged by one: a fuse */
};

/* Answers for a house, which must outlive the answer. Never fails; free with fault_answer_done. */
void answer_fault(const struct house *house, const struct fault_question *question, struct fault_answer *ret_answer);

/* The branch or panel of that ID (NULL: all of them) as what is asked about; false with the error set where none has
 * it. */
bool fault_find_place(const struct house *house, const char *id, struct fault_question *question, struct error *error);
void fault_answer_done(struct fault_answer *answer);

/*
 * Puts what is worst first: points by the least current as a share of what their device is rated (unknown ones last),
 * branches by their run as a share of the run at which the device would still open; alike ones in file order.
 */
void fault_worst_first(struct fault_answer *answer);

/* What the points from row `from` on, and the branches from place `branch_from` on, come to; NAN: none is known. */
struct fault_rest {
    size_t points;
    size_t points_unknown; /* no wire, length or supply */
    double times_least;    /* least current over the rating of the device */
    double zs_most_ohm;
    size_t branches;
    double run_most_percent; /* of the run at which the device would still open */
};

struct fault_rest fault_rest(const struct fault_answer *answer, size_t from, size_t branch_from);

/* What cuts the points asked about off, how many wires would not endure it, and the one with the least times its
 * rating. */
struct fault_tally {
    size_t points;
    size_t opens[FAULT_OPENS_LATE + 1]; /* by enum fault_opens */
    size_t beside_fuse; /* of those of a residual current device: how many have a fuse too, whose time is not known */
    size_t perish;
    const struct fault_row *least; /* NULL: no current is known */
};

struct fault_tally fault_tally(const struct fault_answer *answer);

/* True where some current is known: else the first thing to do is to say of the supply what [house] takes. */
bool fault_is_known(const struct fault_answer *answer);

/* True where for some branch asked about it is known at which run its device would still open. */
bool fault_knows_longest(const struct fault_answer *answer);

/* The run of a branch to its farthest point, as its ends are joined, metres; NAN where it is not known. */
double fault_run_m(const struct fault_answer *answer, size_t branch);

/* Whether the two ways of working the most current out come to the same, as near as the rules ask. */
bool fault_ways_agree(const struct fault_answer *answer, const struct fault_point *point);

#endif
