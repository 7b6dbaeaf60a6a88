/*
 * The question of `demand`: what the dwelling, or a sub-panel's feeder, draws at the most by a published method, and by
 * all methods of the rule set side by side, with loads added or taken away. Opens no file: what a meter recorded is
 * handed in. The comparison: ampsum/service.h.
 *
 * Checked: tests/unit/test_answer_demand.c; tests/golden/demand-demo, demand-dwelling, demand-service.
 */
#ifndef AMPSUM_ANSWER_DEMAND_H
#define AMPSUM_ANSWER_DEMAND_H

#include <stdbool.h>
#include <stddef.h>

#include "ampsum/demand.h"
#include "ampsum/error.h"
#include "ampsum/meter.h"
#include "ampsum/service.h"

struct demand_question {
    enum demand_method method; /* DEMAND_METHOD_COUNT: the one that suits what is asked */
    const char *const *added;  /* loads in words, as freetext.h reads them; added_count of them */
    size_t added_count;
    const size_t *removed; /* indexes of appliances that are taken away; removed_count of them */
    size_t removed_count;
    size_t panel;                         /* 0: the service; else the feeder of that sub-panel */
    double measured_va;                   /* a metered maximum demand; NAN: none */
    const struct meter_reading *readings; /* or what a meter recorded; NULL: nothing */
    size_t reading_count;
    bool fed_back;        /* the meter saw energy fed into the network */
    const char *setpoint; /* as typed, in ampere: where a control system keeps the whole service; NULL: none */
    const char *kwh;      /* as typed: energy that the vehicle is to get a day; NULL: as much as its windows hold */
};

/*
 * The method named by --method WORD (NULL: DEMAND_METHOD_COUNT), which the house's rule set has and which goes with
 * what a meter says, where that is asked (`measured`); else false with the error set.
 */
bool demand_read_method(const struct house *house, const char *word, bool measured, enum demand_method *ret_method,
                        struct error *error);

/* A question about the service without anything added, by the usual method. */
#define DEMAND_QUESTION                                                                                                \
    {                                                                                                                  \
        .method = DEMAND_METHOD_COUNT, .measured_va = (double)NAN                                                      \
    }

/* An added load as it was taken. */
struct demand_taken {
    const char *name;
    const char *category; /* taken from the typical row, since none was said; NULL: it was said, or none is known */
    const char *typical;  /* that row's name */
    const char *note;     /* what else was taken for granted; NULL: nothing */
    unsigned legs;        /* LEG_ bits: the least loaded of three lines, which it was taken to lie on; 0: no choice */
    bool may_have_three;  /* it was taken so, though it may be made for all three */
};

/* The maximum demand of meter readings, over the shortest of the usual intervals that they allow. */
struct demand_metered {
    int minutes; /* 0: no readings */
    double largest_w;
    double covered_s;       /* by readings */
    struct meter_date when; /* it began, local time */
};

/* What was taken for granted, since the house does not say it. */
struct demand_assumed {
    bool rating;      /* service_rating */
    bool wire;        /* service_wire */
    bool area;        /* floor_area, where a method counts by it */
    size_t not_plate; /* appliances whose rating is typical or a guess */
    size_t unsaid;    /* and those of which it is not said where the rating is from */
    bool control;     /* an added vehicle has none and no set-point: it is counted in full */
};

struct demand_answer {
    const struct house *house; /* as asked about */
    struct house *with_added;  /* the same with the added loads, each on a branch of its own; NULL: none */
    struct service *service;
    const struct service_method *chosen; /* of the service's methods: whose working comes first */
    const struct demand *demand;         /* its working; NULL: it does not apply */
    struct demand_taken *taken;          /* taken_count of them, in the order asked */
    size_t taken_count;
    const char **removed; /* names of what is taken away; removed_count of them */
    size_t removed_count;
    struct demand_metered metered;
    struct demand_assumed assumed;
    const struct service_method *fits; /* the first method that applies and fits, the chosen one before others; NULL */
    const struct service_method *over; /* likewise of those that do not fit */
    double control_a;                  /* it fits only where a control system keeps the service at this; NAN: no such */
    bool working;        /* who shows it wants the lines' arithmetic too; false from here */
    double continuous_a; /* it fits, but not counted as running 3 h or more: then it needs this; NAN: no such */
    struct arena *arena;
};

/*
 * Reads a metered maximum demand as a person writes it, a number above zero with its unit: W, kW, VA, kVA, or A at the
 * voltage of the supply. False where it is none.
 */
bool demand_read_measured(const struct house *house, size_t panel, const char *string, double *ret_va);

/*
 * Answers for a house, which must outlive the answer; free with demand_answer_done in any case. False with the error
 * set: a rule set without a demand, a load that cannot be read, readings that give no demand, a set-point above the
 * rating. The error's part is `add` (and which), `setpoint`, `kwh` or `measured`.
 */
bool answer_demand(const struct house *house, const struct demand_question *question, struct demand_answer *ret_answer,
                   struct error *error);
void demand_answer_done(struct demand_answer *answer);

#endif
