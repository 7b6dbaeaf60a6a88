/*
 * The loads of a scope (a branch) as plain terms: which of them count, and what they plan for. Inside the engine only.
 */
#ifndef AMPSUM_ENGINE_TERMS_H
#define AMPSUM_ENGINE_TERMS_H

#include <math.h>
#include <stdbool.h>
#include <stddef.h>

#include "ampsum/engine.h"
#include "lead.h"

#define SQRT_3 1.7320508075688772

enum { TERMS_ON_STACK = 48 };

/* One load, all of its units that are on together. */
struct term {
    struct draw draw;
    unsigned units;
    double unit_current_a;
    double planned_a; /* of one unit, before the factors */
    double plate_a;   /* what the plate of one unit asks of the wire; NAN: nothing */
    double current_a;
    double planning_a; /* step 1: after the continuous factor */
    size_t group;      /* NO_INDEX without one */
    bool motor;
    bool on;
    bool star;    /* two lines with neutral of a three-phase supply */
    bool counted; /* set by terms_planning_a */
};

/* A term that has a group. */
struct grouped {
    size_t group;
    size_t term;
    size_t best; /* the term of the group that plans for most, set by terms_planning_a; NO_LEADER where none is on */
};

/* The terms of a branch, in file order, with the members of each group gathered. */
struct terms {
    struct term *term;
    size_t count;
    struct grouped *grouped; /* sorted by group, then by place */
    size_t grouped_count;
    bool motors_alone;                     /* no motor takes an extra against the breaker; each may on the wire */
    struct term term_here[TERMS_ON_STACK]; /* room for the usual branch without asking for memory */
    struct grouped grouped_here[TERMS_ON_STACK];
};

/*
 * Current in the heavier line of what draws `all` together at voltage_v, of which `star` is connected to two lines and
 * the neutral of a three-phase supply.
 */
double line_a(struct draw all, struct draw star, double voltage_v, int poles);

/* Fills the terms of a branch; units of `on` (NULL: all). Free with terms_done. */
void terms_init(struct terms *terms, const struct house *house, size_t branch, units_on on, double voltage_v,
                struct planning_factors factors);
void terms_done(struct terms *terms);

/* What the term's motor brings on top where it is the largest that counts: one of its units. */
static inline double motor_extra_a(const struct term *term, struct planning_factors factors)
{
    return (factors.largest_motor - 1.0) * term->planned_a;
}

/* What it brings on top on the wire of motors alone: up to its plate where that says so. */
static inline double wire_extra_a(const struct term *term, struct planning_factors factors)
{
    return isnan(term->plate_a) ? motor_extra_a(term, factors) : term->plate_a - term->planned_a;
}

/* Adds active and reactive power; the apparent is left to whoever asks for it. */
static inline void draw_add(struct draw *sum, struct draw draw)
{
    sum->power_w += draw.power_w;
    sum->reactive_var += draw.reactive_var;
}

/* One term: step 1 of the planning current. */
struct term term_of(const struct house *house, size_t appliance, unsigned units, double voltage_v,
                    struct planning_factors factors);

/*
 * Steps 2 and 3 over the terms that are on: marks those that count and returns the sum of their planning currents with
 * the largest motor's extra, the largest that any choice of members gives. `ret_motor` (may be NULL): the term that got
 * the extra, NO_INDEX where none did.
 */
double terms_planning_a(struct terms *terms, struct planning_factors factors, size_t *ret_motor);

/* The same for what the wire must carry; marks those that count for it. */
double terms_wire_a(struct terms *terms, struct planning_factors factors);

/* The figures of a branch from its terms; marks and `ret_motor` as terms_planning_a. */
struct branch_figures terms_figures(struct terms *terms, const struct branch *branch, double voltage_v,
                                    struct planning_factors factors, size_t *ret_motor);

/* The terms as loads of the branch, once terms_figures has marked those that count and named the motor. */
void terms_loads(const struct terms *terms, const struct index_list *appliances, size_t motor,
                 struct planning_factors factors, struct load *loads);

/* The power of appliance_draw alone, W, the same to the last bit: what energy needs, without a root. */
double appliance_power_w(const struct house *house, const struct appliance *appliance, double voltage_v);

#endif
