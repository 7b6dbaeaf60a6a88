/*
 * Demand of a dwelling, or of a sub-panel's feeder, by the published methods of the house's rule set, line by line with
 * factor and source. Every factor is a reference row. Definitions: contract, engineering.md section 8.
 *
 * Which line an appliance falls under follows from the house's keys.
 *
 * us, all methods but `measured`:
 *   floor_area              general lighting and receptacles of the service. It covers all lighting and whatever is
 *                           plugged in on a common branch. A sub-panel has no floor area of its own: its lighting and
 *                           plug-in loads are counted as they are connected.
 *   purpose small-appliance, laundry   so many branch circuits, no fewer than the rules ask of a dwelling; what is
 *                           plugged in there is covered
 *   own place               fixed = yes, or a branch of purpose dedicated, or a load between legs: counted by its
 *                           nameplate. Other appliances are covered by the lines above.
 *   range; cooking          above the range table's smallest rating and, for cooking, in its own place: range table
 *   dryer                   in its own place: dryer table
 *   vehicle                 always counted, by the edition's least load where it has one
 *   air-conditioning        always counted; the larger of heating and cooling
 *   heat-pump               always counted, as heating; other space heating is then its supplementary heat
 *   space-heating           in its own place. behaviour motor: a heat pump likewise
 *   generator               never
 *   other in its own place  fixed = yes: a fixed appliance, with the factor for several; else at 100 %
 *   refrigeration           not fixed and on one leg: covered, also on a branch of its own
 *
 * iec, uk (`diversity`; `by-load` differs in the standard circuits alone, which count by the loads connected to them,
 * no more than their breaker's rating): standard circuit        layout ring, or a branch with outlets or plug-in loads
 * that is neither dedicated nor for lighting: counted by its breaker's rating, with all that is on it lighting;
 * cooking, range; vehicle   by category water-heating           from the power that ref_rule
 * `instantaneous-water-heater` gives on: instantaneous; else with thermostat space-heating           continuous:
 * thermal storage; else heating and power other                   fixed: heating and power; else stationary equipment
 * on an outlet of its own
 *
 * A nameplate in amperes or horsepower counts at the circuit's nominal voltage, one in watts or volt-amperes as it is
 * printed. Of a `group` only the largest counts (heating and cooling are compared after their factors instead).
 * Not covered: thermal storage heating under us rules, several dwellings, loads above the range table's 27 kW.
 */
#ifndef AMPSUM_DEMAND_H
#define AMPSUM_DEMAND_H

#include <stdbool.h>
#include <stddef.h>

#include "ampsum/model.h"

enum demand_method {
    DEMAND_STANDARD,  /* us: 220 part III */
    DEMAND_OPTIONAL,  /* us: 220.82 */
    DEMAND_EXISTING,  /* us: 220.83, existing dwelling with an added load */
    DEMAND_MEASURED,  /* from a metered maximum demand; us: 220.87 */
    DEMAND_DIVERSITY, /* iec, uk: allowances by kind of load, circuits by their device */
    DEMAND_BY_LOAD,   /* iec, uk: the same, circuits by their loads */
    DEMAND_METHOD_COUNT
};

/* `standard` .. `by-load`. */
const char *demand_method_word(enum demand_method method);

/* Whether the rule set's demand counts a load by floor area. */
bool demand_takes_area(const struct house *house);

/* The rule set's own method, that of its usual `demand` in ref_choice; DEMAND_METHOD_COUNT where it has none. */
enum demand_method demand_default_method(int rules);

/* True where the rule set publishes the method. */
bool demand_method_exists(int rules, enum demand_method method);

struct demand_options {
    enum demand_method method;
    size_t panel;       /* 0: the service; else the feeder of that sub-panel */
    double measured_va; /* DEMAND_MEASURED: the maximum demand, > 0 */
    size_t added_from;  /* appliances from this index on are the added load; NO_INDEX: none */
    double added_times; /* factor on what is added and continuous; 0: none */
    bool plates;        /* added vehicles by their plates, whatever least load the edition has for them */
    double season_va;   /* DEMAND_MEASURED: heating or cooling that the readings do not hold; 0: none */
};

enum demand_role {
    DEMAND_COUNTED,
    DEMAND_GATHERED, /* factor 0: counted by a later line, together with others */
    DEMAND_LEFT_OUT, /* factor 0: never on together with something larger */
};

struct demand_line {
    enum demand_role role;
    const char *what;
    const char *how; /* arithmetic behind load or factor, "" where there is none */
    double load_va;
    double factor; /* counted_va / load_va; 1 where both are 0 */
    double counted_va;
    const char *source; /* clause, edition, where it was read */
};

struct demand_list {
    struct demand_line *line;
    size_t count;
    size_t capacity; /* the list's own book-keeping */
};

struct demand {
    struct arena *arena; /* owns everything below */
    enum demand_method method;
    size_t panel;
    struct demand_list lines;   /* total_va is the sum of their counted_va */
    struct demand_list neutral; /* likewise for neutral_va */
    double total_va;
    double divisor_v;    /* current_a = total_va / divisor_v */
    const char *divisor; /* "2 x 120 V" */
    double current_a;    /* not rounded */
    bool climate_beside; /* DEMAND_EXISTING: heating or cooling is added and stands beside the sum, (B) */
    double other_va;     /* DEMAND_EXISTING (A): the total as some read it, without heating and cooling; else NAN */
    /*
     * Leg by leg: what balances by its VA, each other load in its nameplate amperes on the legs of its branch, and the
     * motor factor on the largest motor of the leg. NAN where the method does not count so, or the panel lacks the leg.
     */
    double leg_current_a[3];
    double heaviest_a;        /* the larger of current_a and the legs */
    double neutral_va;        /* NAN: two-wire supply, a single leg, or a method without one */
    double neutral_current_a; /* neutral_va / divisor_v */
    double neutral_line_a;    /* by lines as in Annex D, example D1(b); NAN where there are not two legs */
    double service_a;         /* first standard size that covers heaviest_a (us service: not below the minimum); NAN */
    const char *service_source;
    const char *const *notes; /* what else must be said, NULL-ended */
};

/* What turns volt-amperes of the service or a feeder into amperes: 2 V, 3 V or V line to neutral, sqrt 3 V on two of
 * three phases. */
double demand_divisor_v(const struct house *house, size_t panel);

/* Works out the demand. Never fails; free it with demand_free. The house must outlive it. Linear in branches and
 * appliances but for sorting what is counted. Checked: tests/outside/demand.tsv, tests/unit/test_demand.c. */
struct demand *demand_of(const struct house *house, const struct demand_options *options);
void demand_free(struct demand *demand);

/* total_va, and heaviest_a, of demand_of alone, without making a text. */
double demand_total_va(const struct house *house, const struct demand_options *options);
double demand_heaviest_a(const struct house *house, const struct demand_options *options);

/*
 * heaviest_a by the default method for every panel (house->panel_count entries), for finding 13. Linear in branches
 * and appliances for each level of panels; makes no texts. NAN for all where the rule set has no method.
 */
void demand_panels(const struct house *house, double *ret_heaviest_a);

#endif
