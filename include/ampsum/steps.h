/*
 * Worked steps, as a teacher writes them on a board: `Heater: I = P / V = 1500 W / 120 V = 12.5 A`. The one source of
 * these sentences: `branch --working` and the lessons' keys add steps of the kinds below, so
 * that no sentence is written twice. Text only; knows neither GMP nor the house. The numbers come in as text, already
 * rounded by the caller (steps_figure for doubles, exact_figure of ampsum/exact.h for exact fractions).
 */
#ifndef AMPSUM_STEPS_H
#define AMPSUM_STEPS_H

#include <stdbool.h>
#include <stddef.h>

#include "ampsum/text.h"

/* One kind of step: its formula and how its numbers stand in it. Operands in the order of the comment. */
enum step_kind {
    STEP_RESISTANCE_FROM_POWER,    /* R = V^2 / P: V, P */
    STEP_RESISTANCE_FROM_CURRENT,  /* R = V / I: V, I */
    STEP_CURRENT_FROM_POWER,       /* I = P / V: P, V */
    STEP_CURRENT_FROM_APPARENT,    /* I = S / V: S, V */
    STEP_CURRENT_FROM_APPARENT_3,  /* I = S / (sqrt 3 V): S, V */
    STEP_CURRENT_FROM_RESISTANCE,  /* I = V / R: V, R */
    STEP_POWER_FROM_CURRENT,       /* P = V I: V, I */
    STEP_APPARENT_FROM_CURRENT,    /* S = V I: V, I */
    STEP_POWER_FROM_RESISTANCE,    /* P = V^2 / R: V, R */
    STEP_POWER_AT_LOADS,           /* P = V^2 / R, V being what the wire leaves: V, R */
    STEP_POWER_IN_RESISTANCE,      /* P = I^2 R: I, R */
    STEP_VOLTAGE,                  /* V = I R: I, R */
    STEP_UNITS_POWER,              /* P = n P1: n, P of one */
    STEP_CURRENT_SUM,              /* I = I1 + I2 + ...: all */
    STEP_CURRENT_ADDED,            /* I after = I before + I of the last one: before, what is new */
    STEP_POWER_SUM,                /* P = P1 + P2 + ...: all */
    STEP_POWER_OF_LEG,             /* P of the leg = sum of its loads: all on it */
    STEP_REACTIVE_SUM,             /* Q = Q1 + Q2 + ...: all */
    STEP_RESISTANCE_SERIES,        /* R = R wire + R loads: all in series */
    STEP_RESISTANCE_PARALLEL,      /* R = 1 / (1/R1 + 1/R2 + ...): all */
    STEP_RESISTANCE_EQUAL,         /* R = R1 / n: R of one, n */
    STEP_RESISTANCE_MISSING,       /* R wanted = 1 / (1/R together - 1/R of each known one): together, the known */
    STEP_CURRENT_SHARE,            /* I1 = I R / R1: I, R together, R1 */
    STEP_CURRENT_DIFFERENCE,       /* I after = I before - I of the last one: before, what is gone */
    STEP_VOLTAGE_DIFFERENCE,       /* V at the loads = V - V in the wire: V, what is lost */
    STEP_POWER_DIFFERENCE,         /* P = P1 - P2 - ...: all */
    STEP_WIRE_BOTH_WAYS,           /* R = 2 R one way: R one way */
    STEP_NEUTRAL,                  /* I N = |I A - I B|: I A, I B */
    STEP_APPARENT_FROM_POWERS,     /* S = sqrt(P^2 + Q^2): P, Q */
    STEP_IMPEDANCE,                /* Z = V / I: V, I */
    STEP_IMPEDANCE_3,              /* Z = V^2 / S, the star equivalent of a three-phase load: V, S */
    STEP_POWER_FACTOR,             /* pf = P / S: P, S */
    STEP_ACTIVE_FROM_POWER_FACTOR, /* P = S pf: S, pf */
    STEP_PERCENT,                  /* share = 100 % a / b: a, b */
    STEP_ENERGY,                   /* E = P t: P, t */
    STEP_ENERGY_SUM,               /* E = E1 + E2 + ...: all */
    STEP_COST,                     /* cost = E price: E, price */
    STEP_PLANNING_CONTINUOUS,      /* planning = factor I, for some hours or more: factor, I, hours */
    STEP_PLANNING_COOKING,         /* planning = share I, by the table or allowance for cooking: share, I */
    STEP_PLANNING_PLATE,           /* planning = units I', the published or the plate's own current: units, I' */
    STEP_PLANNING_PLAIN,           /* planning = I: I */
    STEP_PLANNING_MOTOR,           /* planning + (factor - 1) I of one unit, the largest motor: planning, factor, I */
    STEP_PLANNING_SUM,             /* planning = sum: all */
    STEP_HEADROOM,                 /* headroom = breaker - planning: breaker, planning */
    STEP_IS_OVER,                  /* is I above the breaker's rating? I, breaker */
    STEP_UNCHANGED,                /* the voltage across it stays, so its current stays */
    STEP_OPENED,                   /* no path, so no current flows in it */
    STEP_NOT_COUNTED,              /* another of its group counts */
    STEP_AGREE,                    /* the other way gives the same: first way, other way */
    STEP_DIFFER,                   /* the other way gives something else: first way, other way */
    STEP_TWO_ANGLES,               /* I of two currents that are out of step = root of ...: both, angle between them */
    STEP_OUT_OF_STEP,              /* currents of motors are not in step: plain sum, measured current */
    STEP_FEWEST_PARTS,             /* wanted from parts alike: wanted, one part, the network in words */
    STEP_NOTHING_ON,               /* nothing draws a current */
    STEP_RESISTANCE_SUM,           /* R = R1 + R2 + ...: all in series */
    STEP_RESISTANCE_LESS,          /* R wanted = R together - R of each known one: together, the known */
    STEP_PRODUCT_OVER_SUM,         /* R = R1 R2 / (R1 + R2): both */
    STEP_CONDUCTANCE_SUM,          /* R = 1 / (G1 + G2 + ...): G of all */
    STEP_RESISTANCE_INVERSE,       /* R = 1 / G: G */
    STEP_VOLTAGE_FROM_POWER,       /* V = sqrt(P R): P, R */
    STEP_CURRENT_IN_RESISTANCE,    /* I = sqrt(P / R): P, R */
    STEP_VOLTAGE_SHARE,            /* V1 = V R1 / R: V, R1, R together */
    STEP_JUNCTION,                 /* what flows in flows out: in, out of each path */
    STEP_PUT_BACK,                 /* a found value gives what was known: the value, the known as it comes out */
    STEP_NEAREST_PART,             /* the nearest one on sale: wanted, the part */
    STEP_PRODUCT_BY_SUM,           /* R = product / sum of two in parallel, of any names: both */
    STEP_RESISTANCE_ROW,           /* R = sum of those in series: all */
    STEP_SMALLEST,                 /* the smallest of all */
    STEP_BOUND_BELOW,              /* lower bound = smallest / n: smallest, n */
    STEP_LEAST,                    /* least = R - R t: R, tolerance as a share */
    STEP_GREATEST,                 /* greatest = R + R t: R, tolerance as a share */
    STEP_TREND,                    /* rises, falls or stays: before, afterwards */
    STEP_FLOWS_IN,                 /* sum of the currents that flow into a point: all */
    STEP_FLOWS_OUT,                /* the same out of it: all */
    STEP_CURRENT_MISSING,          /* I = |in - out|: in, out */
    STEP_WAY_MISSING,              /* the missing current's direction: in, out */
    STEP_CONDUCTANCE,              /* G = 1 / R: R */
    STEP_CONDUCTANCE_TOTAL,        /* G = sum of all: all */
    STEP_CONDUCTANCE_SHARE,        /* I of one = I x G of one / G: I, G of one, G */
    STEP_INTERNAL,                 /* r = (V - V at the terminals) / I: V, V at the terminals, I */
    STEP_GROUP_PARALLEL,           /* R of a group in parallel, of any names: all */
    STEP_TERMINAL_VOLTAGE,         /* V at the terminals = V - V inside: V, what is lost inside */
    STEP_UNITS_CURRENT,            /* I = n I of one: n, I of one */
    STEP_CURRENT_LEFT,             /* left = rating - I: rating, I */
    STEP_GROUP_VOLTAGE,            /* V of the group = V - V in front of it: V, V in front */
    STEP_LOADS_WITHIN,             /* n = whole part of breaker / I of one: breaker, I of one */
    STEP_CONDUCTOR,                /* R = r L: r of the conductor, L */
    STEP_LOOP_CONDUCTORS,          /* R = R1 + R2: line, protective conductor */
    STEP_HOT,                      /* R hot = ct R: ct, R */
    STEP_LOOP,                     /* Zs = Ze + R hot: Ze, R hot */
    STEP_FAULT_CURRENT,            /* I = Cmin U0 / Zs: Cmin, U0, Zs */
    STEP_OPENING_CURRENT,          /* Ia = k In: k, rating */
    STEP_LARGEST_LOOP,             /* Zs,max = Cmin U0 / Ia: Cmin, U0, Ia */
    STEP_OPENS,                    /* does the device open at once? Zs, Zs,max */
    STEP_COLD_LIMIT,               /* largest reading on cold conductors = share Zs,max: share, Zs,max */
    STEP_TOUCH_VOLTAGE,            /* V = I R2 hot: I, R2 hot */
    STEP_LOOP_LEFT,                /* left for the cable = Zs,max - Ze: Zs,max, Ze */
    STEP_PAIR_PER_LENGTH,          /* r = ct (r1 + r2): ct, r1, r2 */
    STEP_LONGEST_RUN,              /* L = whole metres of left / r: left, r */
    STEP_RING_RUN,                 /* of a ring four times as much cable: L */
    STEP_PLANNED,                  /* planning = factor I of what is on for long + I of the rest: factor, both */
    STEP_NEUTRAL_3,                /* I of the neutral of three phases, in step: I of each */
    STEP_REASON,                   /* the letter of the right one: its place, then the reason in words */
    STEP_KEEPS_WITHIN,             /* what it may not pass: the bound */
    STEP_LARGEST,                  /* the largest of all, below which a row in series cannot be */
    STEP_SAME_VOLTAGE,             /* in parallel the voltage of one is that of all: V */
    STEP_SAME_FIGURE,              /* the same in another unit: it */
    STEP_FAULT_PART,       /* which part the readings are against: R of each, V, V1, V of the group, I of each */
    STEP_FAULT_KIND,       /* in which way: the same */
    STEP_READING,          /* as read: it */
    STEP_DIFFERENCE_SHARE, /* (read - computed) / computed: both */
    STEP_CURRENT_OF_SOME,  /* I of some of the loads = sum: theirs */
    STEP_GROUP_NOW,        /* R of a group in parallel, 0 where one is a short circuit: all */
    STEP_NEAREST_E12,      /* the nearest part of the series E12: wanted */
    STEP_KIND_COUNT
};

/* One step. All strings belong to the steps. */
struct step {
    enum step_kind kind;
    char *subject;     /* the load, or what stands in front of the colon; "" for none */
    const char *colon; /* as the language writes it, with what stands before it; lives for ever */
    char *formula;     /* "I = P / V"; "" for a step in words */
    char *numbers;     /* "1500 W / 120 V", or the sentence of a step in words */
    char *result;      /* "12.5 A"; "" for none */
    bool rounded;      /* the result is not exact: an about-equal sign stands before it */
};

struct steps {
    struct step *step;
    size_t count;
    size_t capacity;
    int language; /* of ampsum/language.h; 0: English */
};

/* Frees the steps; empty afterwards. `(struct steps){0}` is an empty list. */
void steps_done(struct steps *steps);

/*
 * Adds a step. `subject` and `result` may be NULL. `operands`: operand_count texts with their units, in the order that
 * the kind's comment gives; copied.
 */
void steps_add(struct steps *steps, enum step_kind kind, const char *subject, const char *const *operands,
               size_t operand_count, const char *result, bool rounded);

/* The formula for programs, in which R1, R2 stand for any resistances: "R = R1 R2 / (R1 + R2)". Never NULL. */
const char *step_law(enum step_kind kind);

/*
 * Appends the step as one line without line end: subject, formula, numbers, result. `utf8` false writes plain ASCII
 * for the signs (^2, ohm, x, sqrt), names stay as they are.
 */
void step_write(struct text *text, const struct step *step, bool utf8);

/* Appends all steps, one a line, each with a line end and after `indent`. */
void steps_write(struct text *text, const struct steps *steps, const char *indent, bool utf8);

/*
 * Appends `value` with at least four significant digits, trailing zeros dropped, a blank and the unit ("12.5 A"; "" for
 * a bare number). Returns true where rounding moved it. Finite values only.
 */
bool steps_figure(struct text *text, double value, const char *unit);

/* A load of a branch, all its units together, at the branch's voltage. */
struct steps_load {
    const char *name;
    unsigned units;
    double power_w; /* this and the next two of one line alone where it lies to the neutral by halves */
    double reactive_var;
    double apparent_va;
    double whole_w; /* for its energy; 0: power_w */
    double current_a;
    double unit_current_a; /* of one unit */
    double planned_a;      /* of one unit, what is planned for before the factors; mostly unit_current_a */
    double planning_a;     /* after all factors */
    double hours_day;      /* on-time on a day of use; 0 leaves the energy out */
    bool continuous;
    bool counted;
    bool largest_motor;
    bool to_neutral; /* half from each of two lines to the neutral, beside loads between the lines */
};

struct steps_branch_input {
    double voltage_v; /* line to line on a 3-pole branch, and on one of two poles with loads to the neutral */
    double neutral_v; /* of loads to the neutral; not looked at where there are none */
    int poles;
    double breaker_a;
    double continuous_factor;    /* 1: none */
    double continuous_hours;     /* from which on it counts */
    double largest_motor_factor; /* 1: none */
    const struct steps_load *loads;
    size_t load_count;
};

/*
 * The working of a branch: resistance and current of each load, the total current, equivalent resistance and power,
 * each found in two ways where there are two and with the word whether they agree, planning current and headroom,
 * energy where hours are known. Appends to `steps`. Definitions: contract, engineering.md, sections 1 and 2.
 * Checked: tests/unit/test_steps.c.
 */
void steps_branch(const struct steps_branch_input *input, struct steps *steps);

#endif
