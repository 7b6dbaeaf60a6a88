/* What the finding checks share: the context of one branch or panel, and how a finding is added. */
#ifndef AMPSUM_RULES_FINDINGS_H
#define AMPSUM_RULES_FINDINGS_H

#include "ampsum/assess.h"
#include "ampsum/finding.h"
#include "ampsum/reference.h"
#include "ampsum/text.h"

enum { BRANCH_CHECKS = 19 };

/* What the checks ask of the rule set for every branch, looked up once for the house. */
struct limits {
    double plug_in_share; /* percent; NAN, as each of these, where the rule set has none */
    double fixed_share;
    double voltage_danger_over; /* times the rated voltage, as the next two */
    double voltage_warning_over;
    double voltage_warning_under;
    double rounding_most;         /* percent of a plate that its own rounding may hide */
    double shared_to_a;           /* largest branch for which the receptacle table has a share; ampere */
    bool left_out[BRANCH_CHECKS]; /* checks that can add no more than a note, where none is asked for */
};

struct limits limits_of(const char *rules, bool no_notes);

/* One branch under the checks. */
struct branch_case {
    struct finder finder; /* where its findings go */
    struct assessment *assessment;
    const struct house *house;
    const char *rules; /* ID of the house's rule set */
    size_t index;
    const struct branch *branch;
    struct branch_assessment *result;
    const struct load *loads; /* everything on, in file order, branch->appliances.count entries */
    const struct load *other; /* the same at the busiest minute, or of the scene or set */
    const struct limits *limits;
    bool wire_read; /* whether the next two are filled: case_wire */
    struct wire_run run;
    struct wire_limit limit;
};

/* One panel under the checks. */
struct panel_case {
    struct finder finder;
    struct assessment *assessment;
    const struct house *house;
    const char *rules;
    size_t index;
    const struct panel *panel;
    struct panel_assessment *result;
};

/* What a finding is about: the branch, one of its appliances, the panel. */
struct subject about_branch(const struct branch_case *branch_case);
struct subject about_appliance(const struct appliance *appliance);
struct subject about_panel(const struct panel_case *panel_case);

/* Planning current of the counted loads, each less what its plate may hide. */
double rounded_planning_a(const struct branch_case *branch_case, const struct load *loads);

/* What a finding's sentence adds where only that rounding is between figure and limit. */
const char *rounding_text(const struct finder *finder, bool hair);

/* Adds one line to what was taken; empties the text. And all lines that hold of any house. */
void say_what_was_taken(struct assessment *assessment);

/* Runs all checks on a branch or a panel, in the order of the table in findings.c. */
void findings_of_branch(struct branch_case *branch_case);
void findings_of_panel(struct panel_case *panel_case);

/* What a sentence calls the device of a branch: a breaker or a fuse. */
const char *device_word(int trip);

/* The appliance of a load. */
const struct appliance *load_appliance(const struct branch_case *branch_case, const struct load *load);

/* What the branch's wire may carry, in branch_case->run and limit: found once for all checks. */
void case_wire(struct branch_case *branch_case);

/* No more than one plug fits on the branch: what one plug-in appliance may take of it (finding 3) is not asked. Finding
 * 4 does not go by this. */
bool branch_is_individual(const struct branch_case *branch_case);

/* Finding 5, in one of its variants, with the figures that it always has. */
void add_breaker_wire(const struct finder *finder, struct subject subject, const char *variant, double breaker_a,
                      const struct wire_reading *reading, double limit_a, const char *word, const char *text);

/* A ring for which the rule set has a rule of its own, and that rule (5); the method that was assumed (5). */
bool ring_is_ruled(const struct branch_case *branch_case);
void check_ring_wire(struct branch_case *branch_case, const struct wire_run *run, const struct wire_reading *reading,
                     const char *wire_text);
void note_assumed_method(struct branch_case *branch_case, const struct wire_run *run,
                         const struct wire_reading *reading);

/* The checks, by subject: findings_load.c, findings_wire.c, findings_ring.c, findings_use.c, findings_receptacle.c,
 * findings_motor.c, findings_neutral.c, protection.c, findings_panel.c. */
void check_busiest_over(struct branch_case *branch_case);    /* 1 */
void check_all_over(struct branch_case *branch_case);        /* 2 */
void check_plug_in_share(struct branch_case *branch_case);   /* 3 */
void check_fixed_share(struct branch_case *branch_case);     /* 4 */
void check_breaker_wire(struct branch_case *branch_case);    /* 5 */
void check_load_wire(struct branch_case *branch_case);       /* 6 */
void check_drop(struct branch_case *branch_case);            /* 7 */
void check_rated_voltage(struct branch_case *branch_case);   /* 8 */
void check_plug_rating(struct branch_case *branch_case);     /* 9 */
void check_long_running(struct branch_case *branch_case);    /* 10 */
void check_starting(struct branch_case *branch_case);        /* 11 */
void check_protection(struct branch_case *branch_case);      /* 12 */
void check_minimum(struct branch_case *branch_case);         /* 15 */
void check_operating_point(struct branch_case *branch_case); /* 16 */
void check_receptacles(struct branch_case *branch_case);     /* 17 */
void check_odd_size(struct branch_case *branch_case);        /* 21 */
void check_panel_odd_size(struct panel_case *panel_case);    /* 21 */
void check_neutral(struct branch_case *branch_case);         /* 18 */
void check_motor_breaker(struct branch_case *branch_case);   /* 19 */
void check_spurs(struct branch_case *branch_case);           /* 20 */
void check_feeder_wire(struct panel_case *panel_case);       /* 5, of a feeder */
void check_feeder_drop(struct panel_case *panel_case);       /* 7, of a feeder */
void check_panel_demand(struct panel_case *panel_case);      /* 13 */
void check_leg_balance(struct panel_case *panel_case);       /* 14 */

#endif
