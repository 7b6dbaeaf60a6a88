/* The questions of the `wire` command beside the plain solution: a broken ring, a starting motor, another size. */
#ifndef AMPSUM_CLI_WIRE_STUDY_H
#define AMPSUM_CLI_WIRE_STUDY_H

#include "wire_view.h"

/* The answer to one question: rows for people and programs, and sentences under them. */
struct wire_study {
    struct table *table;
    struct text notes; /* lines, each ended */
    const char *key;   /* under which `rows` stand in the JSON answer */
    json_t *rows;
};

/* Frees what is left of it: a JSON array that was put into an answer is no longer the study's (set it NULL). */
void wire_study_done(struct wire_study *study);

/*
 * The ring broken at one segment, named by the outlet at which it ends (`panel`: the closing one), or at each (`all`).
 * False with the invocation's error set where the branch is no ring or has no such segment.
 */
bool wire_study_break(struct wire_case *wire_case, const char *segment, struct wire_study *ret_study);

/* One unit of a motor of the branch starts while the rest runs. False with the error set where it is no such motor. */
bool wire_study_start(struct wire_case *wire_case, size_t appliance, struct wire_study *ret_study);

/* Each listed conductor of the branch's metal and series: drop, loss, ampacity. */
void wire_study_size(struct wire_case *wire_case, struct wire_study *ret_study);

/* How long the branch could be with each. */
void wire_study_longest(struct wire_case *wire_case, struct wire_study *ret_study);

#endif
