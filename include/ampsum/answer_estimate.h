/*
 * The question of `estimate`: what loads in words come to on one branch, without a house. The loads become a house of
 * one branch in memory, so that engine, rules and words are those of `check`.
 *
 * Contract: circuits.md, A6. Checked: tests/unit/test_estimate.c; tests/golden/estimate.
 */
#ifndef AMPSUM_ANSWER_ESTIMATE_H
#define AMPSUM_ANSWER_ESTIMATE_H

#include <stdbool.h>
#include <stddef.h>

#include "ampsum/answer_branch.h"
#include "ampsum/combos.h"
#include "ampsum/error.h"

/* Strings as a person typed them; NULL where not given. */
struct estimate_question {
    const char *const *loads; /* as freetext.h reads them, load_count >= 1 */
    size_t load_count;
    int rules;           /* enum rules */
    const char *volts;   /* nominal; the rules' own without */
    const char *breaker; /* no verdict without */
    const char *wire;    /* size, copper unless the metal is said */
    const char *run;     /* one way, all loads at its end */
    const char *price;   /* money per kWh */
};

enum { ESTIMATE_SETS_MOST = 20 };

struct estimate_answer {
    struct house *house;
    struct branch_answer branch;  /* of everything on; its breaker means nothing unless `judged` */
    bool judged;                  /* a breaker was given */
    struct finding_list findings; /* those that hold here; the strings are the assessment's */
    struct combos_list sets;      /* smallest overloading sets, at most ESTIMATE_SETS_MOST; none unless judged */
    double *set_current_a;        /* drawn by each of them */
    struct combos_number set_count;
    double drop_v;          /* at the loads; NAN: wire or run not known */
    double energy_kwh_hour; /* of one hour with everything on */
    const char *cost_hour;  /* money of that hour, decimal text; NULL without a price */
    const char **notes;     /* what was taken for granted of each load, note_count */
    size_t note_count;
    struct arena *arena;
};

/*
 * False with the error set where something typed is wrong; its part is `load` (and which), `volts`, `breaker`, `wire`,
 * `run` or `price`. Empty with estimate_answer_done either way.
 */
bool answer_estimate(const struct estimate_question *question, struct estimate_answer *ret_answer, struct error *error);
void estimate_answer_done(struct estimate_answer *answer);

#endif
