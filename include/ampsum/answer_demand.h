/*
 * The question of `demand`: what the dwelling, or a sub-panel's feeder, draws at the most by a published method, with
 * loads added to it. Opens no file: what a meter recorded is handed in.
 *
 * Checked: tests/unit/test_answer_demand.c; tests/golden/demand-demo, demand-dwelling.
 */
#ifndef AMPSUM_ANSWER_DEMAND_H
#define AMPSUM_ANSWER_DEMAND_H

#include <stdbool.h>
#include <stddef.h>

#include "ampsum/demand.h"
#include "ampsum/error.h"
#include "ampsum/meter.h"

struct demand_question {
    enum demand_method method; /* DEMAND_METHOD_COUNT: the one that suits what is asked */
    const char *const *added;  /* loads in words, as freetext.h reads them; added_count of them */
    size_t added_count;
    size_t panel;                         /* 0: the service; else the feeder of that sub-panel */
    double measured_va;                   /* a metered maximum demand; NAN: none */
    const struct meter_reading *readings; /* or what a meter recorded; NULL: nothing */
    size_t reading_count;
};

/* An added load as it was taken. */
struct demand_taken {
    const char *name;
    const char *category; /* taken from the typical row, since none was said; NULL: it was said, or none is known */
    const char *typical;  /* that row's name */
    const char *note;     /* what else was taken for granted; NULL: nothing */
};

/* The maximum demand of meter readings, over the shortest of the usual intervals that they allow. */
struct demand_metered {
    int minutes; /* 0: no readings */
    double largest_w;
    double covered_s; /* by readings */
    bool is_short;    /* fewer than the method asks for */
};

struct demand_answer {
    const struct house *house; /* as asked about */
    struct house *with_added;  /* the same with the added loads, each on a branch of its own; NULL: none */
    struct demand *demand;
    struct demand_taken *taken; /* taken_count of them, in the order asked */
    size_t taken_count;
    struct demand_metered metered;
    double breaker_a; /* of the service, or of the feeder */
    bool is_above;    /* the demand is above it */
    bool lacks_area;  /* the method counts by floor area, and the house gives none */
    struct arena *arena;
};

/*
 * Reads a metered maximum demand as a person writes it, a number above zero with its unit: W, kW, VA, kVA, or A at the
 * voltage of the supply. False where it is none.
 */
bool demand_read_measured(const struct house *house, size_t panel, const char *string, double *ret_va);

/*
 * Answers for a house, which must outlive the answer; free with demand_answer_done in any case. False with the error
 * set: a rule set without a demand, a load that cannot be read, readings that give no demand.
 */
bool answer_demand(const struct house *house, const struct demand_question *question, struct demand_answer *ret_answer,
                   struct error *error);
void demand_answer_done(struct demand_answer *answer);

#endif
