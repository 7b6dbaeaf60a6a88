/*
 * Currents of a branch, its busiest minute, and the service: figures from the house alone. Works on structs; knows no
 * file, no clock and no limit of any code (factors come in as arguments). Definitions: contract, engineering.md,
 * sections 1, 2 and 6.
 */
#ifndef AMPSUM_ENGINE_H
#define AMPSUM_ENGINE_H

#include <stdbool.h>
#include <stddef.h>

#include "ampsum/model.h"
#include "ampsum/text.h"

/* Power drawn at some voltage: complex power P + jQ. */
struct draw {
    double power_w;
    double reactive_var; /* >= 0, lagging */
    double apparent_va;
};

/*
 * What ONE unit of the appliance draws at `voltage_v` (line to line on a 3-pole branch): constant impedance scales with
 * the square of the voltage over the rated voltage, constant power stays. Never fails. Section 1.
 */
struct draw appliance_draw(const struct house *house, const struct appliance *appliance, double voltage_v);

/* Current of an apparent power on a circuit of that many poles: S/V, three-pole S/(sqrt 3 V). */
double draw_current_a(double apparent_va, double voltage_v, int poles);

/*
 * Current in a line of a load's branch where the load draws that much at voltage_v between the lines (ampere): as
 * draw_current_a, and for two lines with neutral of a three-phase supply S / (2 V / sqrt 3). Limits 11.
 * Checked: tests/unit/test_wiring.c, test_planning.c.
 */
double appliance_line_a(const struct house *house, const struct appliance *appliance, double apparent_va,
                        double voltage_v);

/* False for a generator, by key or by the words of its name: it draws no current and no energy. Limits 7. */
bool appliance_is_load(const struct appliance *appliance);

/* Whether the continuous factor goes on a load: as its key says, or by what it is. */
enum continuous { CONTINUOUS_AS_GIVEN, CONTINUOUS_NEVER, CONTINUOUS_ALWAYS };

/*
 * How the rules plan for one unit of a load: its current times `factor`, but `least_a` at least, whatever the voltage
 * (a motor's published current; a share of the plate, with a factor of 0).
 */
struct load_plan {
    double factor;
    double least_a;
    enum continuous continuous;
};

/* What motors do to a branch, by all that hangs on it, whatever is on. */
enum motors {
    MOTORS_BESIDE, /* the largest that counts takes the motor factor; also where there is none */
    MOTORS_ALONE   /* fastened motors and cooling alone: no factor against the breaker, one on the wire */
};

/*
 * The rule set's factors on planning current, both 1 where it has none, and what it says of single loads and branches.
 * Made by rules_factors (ampsum/assess.h); without `loads` and `motors` the factors alone hold.
 */
struct planning_factors {
    double continuous;             /* on a continuous load that is no motor */
    double largest_motor;          /* on one unit of the largest motor that counts */
    const struct load_plan *loads; /* by appliance; NULL: each its current */
    const unsigned char *motors;   /* enum motors by branch; NULL: MOTORS_BESIDE */
};

/* The factor of section 2's first step: `continuous` on a continuous load that is no motor, else 1. */
double appliance_continuous_factor(const struct house *house, size_t appliance, struct planning_factors factors);

/* Planning current of one unit before that factor, where the unit draws unit_current_a. */
double appliance_planned_a(size_t appliance, double unit_current_a, struct planning_factors factors);

/* Whether the branch's largest motor takes no factor against the breaker. */
bool branch_motors_alone(size_t branch, struct planning_factors factors);

/* How many units of each appliance are on, by appliance index. NULL means all of each count. */
typedef const unsigned *units_on;

/*
 * Units on in a scene: fills `units`, house->appliance_count entries, by appliance index; 0 for what the scene does not
 * name, never more than the appliance's count.
 */
void scene_units_on(const struct house *house, const struct scene *scene, unsigned *units);

/* One load of a branch on some basis. A load with no unit on is there with zeros, not counted. */
struct load {
    size_t appliance;
    unsigned units;        /* that are on */
    struct draw draw;      /* of those units together, at the voltage of the figures */
    double unit_current_a; /* of one unit */
    double planned_a;      /* of one unit, before the factors */
    double current_a;      /* units * unit_current_a */
    double planning_a;     /* after the continuous factor; the largest motor's extra stands in its row */
    double share;          /* of the arithmetic sum of counted currents, 0..1; 0 where not counted */
    bool counted;          /* false: another member of its group counts instead */
    bool largest_motor;    /* the one that got the motor factor */
};

/* Figures of a branch on a basis. */
struct branch_figures {
    double current_a;  /* |sum of complex currents| of counted loads */
    double planning_a; /* arithmetic sum after factors: what the breaker is held against */
    double wire_a;     /* what the wire must carry: more only where motors are alone */
    double power_w;
    double reactive_var;
    double apparent_va;
    double power_factor;   /* NAN with nothing on */
    double equivalent_ohm; /* NAN with nothing on */
    double headroom_a;     /* breaker_a - planning_a */
};

/*
 * Totals branch `branch` with `on` (NULL: everything) at `voltage_v` (pass the branch's voltage_v for nominal).
 * `loads`: room for the branch's appliances.count entries, filled in file order, or NULL where only totals are wanted.
 * Section 2, in its order of steps: continuous factor; then groups and the largest motor together, so that the total is
 * the largest that any choice of one member a group gives; less than a relative 1e-9 apart is a tie.
 * Never fails; memory is asked for only beyond some dozens of loads. Linear but for sorting the members of groups.
 * An uncounted load keeps its step-1 planning current. current_a exceeds planning_a only where a plan's factor is
 * below 1 (cooking).
 * Checked: tests/outside/current.tsv.
 */
void branch_total(const struct house *house, size_t branch, units_on on, double voltage_v,
                  struct planning_factors factors, struct load *loads, struct branch_figures *ret_figures);

/*
 * Currents in the line between the junctions of a branch drawn as a parallel circuit, loads in the order of `loads`
 * (the branch's appliances.count entries from branch_total, at voltage_v): ret_line_a[i] flows towards junction i, for
 * that load and all after it (Kirchhoff's current law; phasor sum of the counted loads). ret_line_a[0] is the branch's
 * current. Never fails; linear. True where the counted loads' currents add up to that as plain numbers, to 0.005 A;
 * false where their power factors differ too much for it. Checked: tests/unit/test_draw.c.
 */
bool branch_junctions(const struct house *house, size_t branch, const struct load *loads, double voltage_v,
                      double *ret_line_a);

/* A minute of the week in a month; month -1 where nothing is connected. */
struct moment {
    int month;  /* 0..11 */
    int minute; /* of the week, 0 Monday 00:00 .. 10079 */
};

/* Adds a moment as `Mon 18:30`, without its month; `-` where nothing is connected. */
void moment_add(struct text *text, struct moment at);

/* The same in a sentence: `Monday in January, 18:30`. The month is 0 to 11. */
void moment_say(struct text *text, struct moment at);

/* The same for the busiest minute of a branch: `any time` where none of its appliances has times. */
void branch_moment_add(struct text *text, const struct house *house, size_t branch, struct moment at);

/*
 * The minute of the week, over the twelve months, with the largest planning current of the branch (at voltage_v), and
 * the figures there. Ties to the earlier minute (relative 1e-9). `ret_on`: room for house->appliance_count entries,
 * set (only for this branch's appliances) to the units on at that moment; NULL allowed. Section 2, `busiest`.
 * Looks only at minutes at which some load may come on or go off, in months and on days that differ; where no load has
 * windows, days or months the answer is everything, January, Monday 00:00. With nothing connected: month -1, all zero.
 */
void branch_busiest(const struct house *house, size_t branch, double voltage_v, struct planning_factors factors,
                    unsigned *ret_on, struct moment *ret_moment, struct branch_figures *ret_figures);

/*
 * The same with the branch's loads at that minute, in file order (NULL: not asked for). A load that is off has
 * `counted` false; its other figures are those of all its units.
 */
void branch_busiest_loads(const struct house *house, size_t branch, double voltage_v, struct planning_factors factors,
                          unsigned *ret_on, struct moment *ret_moment, struct branch_figures *ret_figures,
                          struct load *ret_loads);

/* True where the appliance may be on at that moment (windows, days, months; a window belongs to the day it starts on).
 */
bool appliance_is_on(const struct appliance *appliance, struct moment moment);

/* Currents at a panel, everything in `on`, groups reduced over all that the panel feeds. Section 6. */
struct panel_figures {
    double leg_current_a[3]; /* A, B, C: phasor sums; 0 for a leg that the panel lacks */
    double neutral_a;
    double leg_planning_a[3]; /* arithmetic sums of planning currents on the leg, after factors */
};

/*
 * `panel_rows`: house->panel_count entries, filled. Each panel carries its branches and the panels it feeds, on the
 * same legs. `on` as in branch_total. Within one panel's scope a group counts once, and one motor gets the largest
 * motor's extra (on every leg that it takes), chosen together as in branch_total, each load's amperes counted once.
 * Linear in branches and appliances for each level of panels.
 */
void panels_total(const struct house *house, units_on on, struct planning_factors factors,
                  struct panel_figures *panel_rows);

#endif
