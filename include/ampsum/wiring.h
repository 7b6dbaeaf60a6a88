/*
 * From the house to the network of a branch and back: which outlet hangs where, what each draws, and the figures of the
 * solved network in the house's terms. Also the drop along a feeder. Knows no table: the conductor comes in as a number
 * of ohm per kilometre. Definitions: contract, engineering.md sections 5 and 10.
 *
 * Single-phase cable (1 and 2 poles) counts two conductors. A 3-pole branch is solved line to neutral, one conductor, a
 * third of each load; its voltages are given line to line, its currents are line currents, its loss that of three
 * conductors. Where a load of a 2-pole branch is connected to two lines and the neutral of a three-phase supply (half
 * of it on each), the loop between the lines counts 2.25 conductors: a half's drop is that of its line and of the
 * neutral, |2 + (-1/2 - j sqrt 3 / 2)| in phase 1.5 I R of V / sqrt 3, and three conductors lose 3 I^2 R, I being sqrt
 * 3 / 2 of the loop's current.
 *
 * Checked: tests/unit/test_wiring.c, tests/outside/wire.tsv.
 */
#ifndef AMPSUM_WIRING_H
#define AMPSUM_WIRING_H

#include <stdbool.h>
#include <stddef.h>

#include "ampsum/engine.h"
#include "ampsum/model.h"
#include "ampsum/wire.h"

/* What one unit of an appliance is to the network. */
struct wiring_unit {
    size_t node;
    double conductance_s; /* constant impedance: G - jB */
    double susceptance_s;
    double constant_w; /* constant power: P + jQ, of one phase on a 3-pole branch */
    double constant_var;
};

/*
 * A branch as wired. Node 0 is the panel; the others are numbered so that each comes after the one that feeds it, in a
 * ring from the panel along the chain. Read the fields; change them by the functions below only.
 */
struct wiring {
    const struct house *house;
    size_t branch;
    size_t node_count;
    size_t *outlet;           /* of each node: index in the house; NO_INDEX for the panel and for `end` */
    size_t *node;             /* of each of the branch's outlets, by place in its list */
    double *length_m;         /* of the segment that ends at each node */
    double *path_m;           /* along the cable from the panel to each node */
    double ring_length_m;     /* of the closing segment; NAN where there is none */
    struct wiring_unit *unit; /* for each of the branch's appliances, in file order */
    double nominal_v;         /* of the branch, as its loads see it */
    double ohm_per_km;        /* of one conductor, at its working temperature */
    double loop_conductors;   /* how many of them lie in the loop that is solved */
    double line_share;        /* current in a line over the loop's */
    struct wire_network network;
    struct wire_solution solution; /* valid after wiring_solve */
    size_t *parent;                /* what the network above points to */
    double *resistance_ohm;
    double *conductance_s;
    double *susceptance_s;
    double *constant_w;
    double *constant_var;
    double *scratch;
    void *memory; /* all of the arrays */
};

/*
 * Builds the network of a branch, without load. A load whose outlet is not known hangs at the outlet with the longest
 * cable path (the first in the file of several; in a ring the last of the chain); where there are no outlets, at a node
 * `end` at the branch's length.
 *
 *   ohm_per_km  resistance of one conductor at its working temperature, >= 0; NAN: no wire is known
 *
 * False, with nothing to free, where wire or length is not known, or the outlets are no tree. Free with wiring_done.
 * Linear in outlets and appliances (times the logarithm of the outlets); no recursion.
 */
bool wiring_init(struct wiring *wiring, const struct house *house, size_t branch, double ohm_per_km);

/* Frees what wiring_init or wiring_break took; a zeroed wiring is allowed. */
void wiring_done(struct wiring *wiring);

/*
 * Puts loads on the network in place of those before: `units` of each of the branch's appliances, in file order; parts
 * of a unit are allowed (an appliance that draws its mean).
 */
void wiring_load(struct wiring *wiring, const double *units);

/* The same with the counted loads of a branch_total: groups are reduced. */
void wiring_load_counted(struct wiring *wiring, const struct load *loads);

/*
 * Adds one unit of the branch's appliance number `position` while it starts: with its rotor at rest a motor is a
 * constant impedance, Vr / (start_factor I), I the running current at rated voltage.
 *
 *   power_factor  of the starting current, 0 < pf <= 1 (common practice, a reference row)
 */
void wiring_start(struct wiring *wiring, size_t position, double power_factor);

/* Gives the whole branch another conductor; loads stay. */
void wiring_set_wire(struct wiring *wiring, double ohm_per_km);

/*
 * Solves for a supply of supply_ratio times the nominal voltage at the panel. Returns solution.solved: false where the
 * wire cannot feed the load, and then there are no figures.
 */
bool wiring_solve(struct wiring *wiring, double supply_ratio);

/* The node of an outlet of the branch, or of `end` for NO_INDEX. */
size_t wiring_node(const struct wiring *wiring, size_t outlet);

/*
 * Cable from the panel to a node as a fault current meets it, metre: the path, but in a ring both sides of it in
 * parallel, x (L - x) / L on a ring of L at x from the panel. At most the path, and of either side of a broken ring.
 */
double wiring_joined_m(const struct wiring *wiring, size_t node);

/* The node that feeds another. */
size_t wiring_from(const struct wiring *wiring, size_t node);

/* Figures of a node and of the segment that ends at it, after a solve that found something; node_count stands for a
 * ring's closing segment. Drop in percent of nominal, counted from the panel's voltage. */
double wiring_voltage_v(const struct wiring *wiring, size_t node);
double wiring_drop_percent(const struct wiring *wiring, size_t node);
double wiring_current_a(const struct wiring *wiring, size_t segment);
double wiring_segment_loss_w(const struct wiring *wiring, size_t segment);

/* Loss of the whole branch; the worst drop; the largest current in any segment. */
double wiring_loss_w(const struct wiring *wiring);
double wiring_worst_drop_percent(const struct wiring *wiring);
double wiring_largest_current_a(const struct wiring *wiring);

/* The drop at one node the other way, segment by segment down to the panel: the part of each that lies along the
 * voltage at the panel, and the rest by which it turns. For the working; equal to wiring_drop_percent. */
double wiring_drop_by_segments_percent(const struct wiring *wiring, size_t node);

/* Whether a segment (node_count: the closing one) is part of a ring, and no spur of it. */
bool wiring_is_of_ring(const struct wiring *wiring, size_t segment);

/*
 * A ring broken at one of its segments: two chains from the panel, with the ring's loads. `segment` is the node at
 * which the broken segment ends, or node_count for the closing one. Free ret_open with wiring_done.
 */
void wiring_break(const struct wiring *ring, size_t segment, struct wiring *ret_open);

/*
 * How long the branch could be, metre along its longest path with every segment grown alike, until its worst drop
 * reaches limit_percent with that conductor and the loads that are on it. NAN where no length reaches it (no load).
 * Bisection on the solver; leaves the wiring with that conductor and unsolved.
 */
double wiring_longest_m(struct wiring *wiring, double ohm_per_km, double limit_percent);

/*
 * Energy that the branch's wire turns to heat in a year, kWh: every distinct set of appliances that the year of section
 * 7 (365 dates from Monday 1 January) brings is solved once and counted by its minutes. An appliance draws its mean
 * while it may be on (duty, and `hours` over its windows; without windows over the 24 hours of its days); that it
 * really cycles adds its own loss alone, f (1 - f) of it (f the share of time), as for appliances that cycle
 * independently of each other. Standby is left out. Groups are not reduced, as in energy.
 *
 * Off by no more than the change of voltage makes (a few percent of itself at drops in use). NAN where a set cannot be
 * fed, or where there are more sets than can be solved in some seconds. Leaves the wiring loaded with another set.
 */
double wiring_loss_kwh_year(struct wiring *wiring);

/* Current of a feeder: that of its largest leg. */
double feeder_current_a(const struct panel_figures *figures);

/*
 * Drop along the feeder of a panel, percent of line to neutral, of its worst leg: (|I leg| + |I neutral|) R, R of one
 * conductor over its length. An upper bound: the two never add up in phase. NAN where the length or the conductor
 * (NAN) is not known, and for the main panel.
 */
double feeder_drop_percent(const struct house *house, size_t panel, const struct panel_figures *figures,
                           double ohm_per_km);

#endif
