/*
 * The assessment of a house: each branch's figures, verdict and findings, each panel's currents, from the engine's
 * figures and the reference rows of the rule set. Definitions: contract, engineering.md sections 2, 3, 4, 6 and 10.
 *
 * Checked: tests/unit/test_findings_wire.c, test_findings_demand.c; tests/golden/check-us, check-iec, check-uk.
 */
#ifndef AMPSUM_ASSESS_H
#define AMPSUM_ASSESS_H

#include <stdbool.h>
#include <stddef.h>

#include "ampsum/engine.h"
#include "ampsum/finding.h"
#include "ampsum/model.h"

enum verdict { VERDICT_EMPTY, VERDICT_OK, VERDICT_NEAR, VERDICT_AT_RISK, VERDICT_OVER };

/* `over`, `at-risk`, `near`, `ok`, `empty`. */
const char *verdict_word(enum verdict verdict);

/* On what a branch is judged beside `everything on`. */
enum basis { BASIS_BUSIEST, BASIS_SCENE, BASIS_SET };

struct assess_options {
    enum basis basis;
    size_t scene;        /* BASIS_SCENE */
    units_on on;         /* BASIS_SCENE, BASIS_SET: units on by appliance */
    double supply_ratio; /* supply voltage over nominal; 0 means 1 */
    bool loads;          /* fill branch_assessment.loads and scene_loads */
    bool wires;          /* solve the branches' wires (drop, findings 6, 7, 16) */
    bool no_texts;       /* findings without their words, where only verdicts and what was found are wanted */
    bool no_notes;       /* verdicts, dangers and warnings alone: few or no notes, no time to trip, no moments */
};

struct branch_assessment {
    enum verdict verdict;
    double voltage_v;            /* at which the figures hold: nominal times supply_ratio */
    struct branch_figures all;   /* everything on */
    struct branch_figures other; /* busiest minute, or the scene or set */
    struct moment at;            /* BASIS_BUSIEST: when */
    const char *trip;            /* how soon the breaker opens, for `all` or the scene; "" with no_notes */
    bool wire_known;             /* wire and length are given */
    bool wire_solved;
    double drop_percent;      /* worst outlet of the branch, for `all` or the scene; NAN: not known or not solved */
    double loss_w;            /* in the wire, likewise */
    double segment_current_a; /* the largest in any piece of the cable, likewise */
    struct load *loads; /* the branch's appliances.count entries, for `all`, or for the scene; NULL unless asked */
    struct finding_list findings;
};

struct panel_assessment {
    struct panel_figures all;   /* everything on */
    double demand_a;            /* of the service or feeder by the rule set's own method (ampsum/demand.h), its heaviest
                                   leg where one carries more than the rest */
    double feeder_drop_percent; /* of its feeder; NAN: main panel, or not known */
    struct finding_list findings;
};

/* What was taken because the house does not say it: sentences for people, each with the key that settles it. */
struct said {
    const char **line;
    size_t count;
    size_t capacity;
};

struct assessment {
    struct arena *arena; /* owns everything below */
    const struct house *house;
    struct assess_options options;
    struct planning_factors factors;
    struct branch_assessment *branches; /* house->branch_count entries */
    struct panel_assessment *panels;    /* house->panel_count entries */
    struct fault_study *fault;          /* ampsum/fault_assess.h; NULL: the file gives nothing that a study rests on */
    enum verdict status;                /* the worst branch's */
    bool method_assumed;                /* it is said already that the way of lying is assumed */
    struct said said;                   /* empty with no_texts */
};

/*
 * The factors on planning current under the house's rules, and what they make of single loads and branches (limits 1, 3
 * and 7), from the reference rows. What it points to is in `arena`; the house must outlive it. Linear.
 */
struct planning_factors rules_factors(const struct house *house, struct arena *arena);

/*
 * What a plate's last digit may hide, over its value: half a unit of the last digit that is no zero, up to
 * `most_percent` (rule plate-rounding-most); 0 for a size of a published table.
 */
double plate_rounding(double most_percent, const struct appliance *appliance);

/*
 * What it means that nothing was said of how long a load runs, as a sentence in `arena`; `how`: how it is said where
 * the reader is. NULL under a rule set that does not count long-running loads higher. Factor and hours: the reference
 * rows.
 */
const char *rules_running_time_note(int rules, const char *how, struct arena *arena);

/*
 * Assesses the whole house. Never fails; the caller frees with assess_free. Linear in branches and appliances. The
 * house must outlive the assessment.
 */
struct assessment *assess_house(const struct house *house, const struct assess_options *options);
void assess_free(struct assessment *assessment);

/* Number of findings of a severity in the whole assessment. */
size_t assess_count(const struct assessment *assessment, enum severity severity);

/* True where `a` exceeds `b` beyond a relative 1e-9, as every comparison with a limit here. */
bool exceeds(double a, double b);

/* A circuit as its wire is judged: a branch's, or a panel's feeder. */
struct wire_run {
    struct wire wire;
    double breaker_a;
    int poles;
    int method; /* enum install_method */
    bool method_given;
    int cable;       /* enum cable */
    int terminals_c; /* 0: not said */
    int insulation;  /* enum insulation */
    int trip;        /* enum trip; of a feeder TRIP_B where breakers have curves */
    double ambient_c;
    int grouped;
    double in_insulation_m;
    bool loaded_neutral;   /* two lines and the neutral carry a load: three conductors do, as of a four-core cable */
    bool shared_neutral;   /* with another circuit, on two legs of one winding */
    bool several_contacts; /* two places for plugs or more */
};

struct wire_run wire_run_of_branch(const struct house *house, size_t branch);
struct wire_run wire_run_of_panel(const struct house *house, size_t panel);

struct ref_cable; /* ampsum/reference.h */

/* What a wire may carry, by one reading of what is known of it. */
struct wire_reading {
    double ampacity_a;     /* corrected; NAN: in no table of the rule set, no factor for its temperature, no wire */
    double terminal_a;     /* what its ends allow for planning currents, uncorrected; NAN: no such test */
    double largest_a;      /* the largest breaker over it; NAN with the ampacity */
    double sure_a;         /* the ampacity where figures from memory are left out; mostly ampacity_a */
    double sure_largest_a; /* and the largest breaker over that */
    double small_limit_a;  /* the limit on the breaker of a small wire; NAN: none */
    const struct ref_cable *cable; /* NULL where the method of installation counts */
    double terminals_c;            /* the column that caps; 0 likewise */
    /* By the method of installation: what led to it. NAN where a factor does not apply. */
    const char *missing; /* why there is no figure, for a text; NULL where there is one or the method does not count */
    bool flat_twin;      /* from the British table of flat twin-and-earth */
    bool capped;         /* by the table of what the ends stand */
    double ambient_factor;
    double ground_c; /* temperature of the ground that counts */
    double ground_factor;
    double soil_factor;
    double bundle_factor;
    double insulation_factor;
};

/*
 * Limits 2. Under rules that go by cable and terminals, what is not said of them is filled in twice, strictly and
 * leniently; elsewhere, and where both come out alike, there is one reading.
 */
struct wire_limit {
    struct wire_reading strict;
    struct wire_reading lenient;
    bool read; /* by cable and terminals */
    bool one;
};

struct wire_limit wire_limit_of(const struct house *house, const struct wire_run *run);

/* Current-carrying conductors that lie together (us): 310.15(C)(1), 310.15(E). */
double bundle_conductors(const struct wire_run *run);

/*
 * us: ampacity by the column of the insulation, its factors for ambient and bundle, capped by the column of the ends;
 * the ambient's factor above 1 helps the bundle's, never the cap. NAN where a table or factor has no figure.
 */
double column_ampacity_a(const char *rules, const struct ref_conductor *conductor, double insulation_c,
                         double terminals_c, double ambient_c, double bundle_factor);

/* Whether a branch falls under the lighting limit on voltage drop: by its purpose, or every load is lighting. */
bool branch_is_lighting(const struct house *house, size_t branch);

/*
 * What the advisory limits leave for a branch's own drop, percent, once the feeders before it have had theirs (with
 * everything on; an unknown one counts as none): us the branch's limit, or less under the limit of feeder and branch.
 * 0: the feeder alone uses it up.
 */
double branch_drop_allowed_percent(const struct assessment *assessment, size_t branch);

/* Resistance of one conductor at the rule set's operating temperature, ohm per kilometre; NAN where no wire is given.
 */
double wire_ohm_per_km(const struct house *house, struct wire wire);

#endif
