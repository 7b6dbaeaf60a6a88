/*
 * The fault study of a house: loop impedance, fault currents, disconnection, breaking and what the wire endures, at
 * every outlet, from the house's keys and the reference rows. Definitions: contract, fault.md. Network: that of `wire`.
 *
 * What is not known is NAN (null in data); a figure that rests on an assumed value is marked as such and leads to no
 * danger. Arcs are not modelled.
 *
 * Checked: tests/unit/test_fault_house.c; tests/golden/fault-uk, fault-us.
 */
#ifndef AMPSUM_FAULT_ASSESS_H
#define AMPSUM_FAULT_ASSESS_H

#include <stdbool.h>
#include <stddef.h>

#include "ampsum/finding.h"
#include "ampsum/model.h"

/* What cuts an earth fault off at a point. */
enum fault_opens {
    FAULT_OPENS_UNKNOWN,
    FAULT_OPENS_BREAKER, /* the breaker, at once */
    FAULT_OPENS_RCD,     /* the residual current device alone */
    FAULT_OPENS_LATE     /* neither in time */
};

/* `breaker`, `rcd`, `late`; NULL for FAULT_OPENS_UNKNOWN. */
const char *fault_opens_word(enum fault_opens opens);

/* Yes, no, or not known. */
enum fault_survives { FAULT_SURVIVES_UNKNOWN, FAULT_SURVIVES, FAULT_SURVIVES_NOT };

/* Where the study begins: the options of one question. */
struct fault_options {
    double at_panel_a; /* current available at the main panel, in place of `pscc`; 0 or NAN: as the house says */
    bool no_texts;     /* findings without their words */
};

/* One outlet, or the end of a branch without outlets. */
struct fault_point {
    size_t outlet;        /* NO_INDEX: the end */
    double joined_m;      /* cable from the panel, both ways round a ring */
    double zs_cold_ohm;   /* line and protective conductor, at 20 degree C (us 25) */
    double zs_hot_ohm;    /* as warm as the conductors may be */
    double fault_min_a;   /* to the protective conductor, hot wire, weakest supply */
    double fault_max_a;   /* the larger of line to neutral and to the protective conductor, cold, strongest supply */
    double times_breaker; /* fault_min_a over the rating */
    double touch_v;       /* along the protective conductor at fault_min_a */
    enum fault_opens opens;
    enum fault_survives survives;
    double second_max_a; /* us: fault_max_a by complex impedances, the way beside point to point; else NAN */
};

/* Resistances of a stretch, or of all stretches down to a place, ohm: line, protective conductor, neutral. */
struct fault_stretch {
    double line_ohm;
    double protective_ohm;
    double neutral_ohm;
    double hot_line_ohm;
    double hot_protective_ohm;
};

/* Current available between two lines and from a line to neutral. */
struct fault_available {
    double line_a;
    double neutral_a;
};

struct fault_branch {
    double isc_max_a;                       /* largest current at its device */
    double isc_sure_a;                      /* as a panel's */
    double breaking_a;                      /* what the device can break; NAN: not given */
    double zs_max_ohm;                      /* at which the device opens at once; NAN: no published band */
    double disconnect_s;                    /* within which a fault must be cut off */
    double longest_m;                       /* run at which the device would still open; of a ring all of its cable */
    bool conventional;                      /* longest_m by the conventional method, the supply being unknown */
    const struct ref_conductor *protective; /* NULL: not known */
    bool protective_assumed;
    struct fault_stretch before; /* from the origin to its panel */
    double instant_a;            /* current at which the device opens at once; NAN: no published band */
    double hot_factor;
    struct fault_point *points; /* by the branch's outlets in file order, or one for its end; none without wire */
    size_t point_count;
    struct finding_list findings;
};

struct fault_panel {
    double isc_max_a;
    double isc_sure_a; /* no more than isc_max_a, where what a feeder's wire leaves rests on a figure from memory */
    double breaking_a;
    struct fault_stretch before;      /* from the origin to its busbar */
    struct fault_available available; /* us */
    struct fault_available sure;      /* us: by published resistances where the method's own figure is from memory */
    struct finding_list findings;     /* of the main panel: also those of the house */
};

struct fault_study {
    struct arena *arena; /* owns everything below */
    const struct house *house;
    const char *rules;
    const struct ref_earthing *earthing; /* NULL: not said */
    double ze_ohm;                       /* outside the house, with the electrode; NAN: not known, and under us */
    bool ze_assumed;
    double pscc_a; /* at the origin; NAN: not known */
    bool pscc_assumed;
    double source_ohm;                  /* behind the origin, for the largest current; NAN: not known */
    struct fault_available origin;      /* us: at the main panel */
    struct fault_available origin_sure; /* us: as a panel's sure */
    bool by_loop;     /* the rules hold a loop impedance against the device; else the available current counts */
    double cold_c;    /* conductors when the largest current flows */
    bool cpc_assumed; /* of some branch or feeder */
    bool let_through; /* some device opens so soon that its let-through would decide */
    struct fault_panel *panels;    /* house->panel_count entries */
    struct fault_branch *branches; /* house->branch_count entries */
};

/* True where the file gives what a study rests on: `ze`, `pscc`, `transformer` or a `zs_measured`. */
bool fault_is_given(const struct house *house);

/* The study of the whole house. Never fails; the caller frees with fault_free. The house must outlive it. */
struct fault_study *fault_study_house(const struct house *house, const struct fault_options *options);
void fault_free(struct fault_study *study);

/* The one note where nothing that a study rests on is given: what is missing. */
void fault_say_missing(const struct finder *finder, const struct house *house);

/* Number of dangers in the study. */
size_t fault_dangers(const struct fault_study *study);

#endif
