/* What the finding checks share: the context of one branch or panel, and how a finding is added. */
#ifndef AMPSUM_RULES_FINDINGS_H
#define AMPSUM_RULES_FINDINGS_H

#include "ampsum/assess.h"
#include "ampsum/reference.h"
#include "ampsum/text.h"

/* What the checks ask of the rule set for every branch, looked up once for the house. */
struct limits {
    double plug_in_share; /* percent; NAN, as each of these, where the rule set has none */
    double fixed_share;
    double voltage_danger_over; /* times the rated voltage, as the next two */
    double voltage_warning_over;
    double voltage_warning_under;
};

struct limits limits_of(const char *rules);

/* One branch under the checks. */
struct branch_case {
    struct assessment *assessment;
    const struct house *house;
    const char *rules; /* "us", "iec", "uk" */
    size_t index;
    const struct branch *branch;
    struct branch_assessment *result;
    const struct load *loads; /* everything on, in file order, branch->appliances.count entries */
    const struct limits *limits;
};

/* One panel under the checks. */
struct panel_case {
    struct assessment *assessment;
    const struct house *house;
    const char *rules;
    size_t index;
    const struct panel *panel;
    struct panel_assessment *result;
};

/*
 * Adds finding `number` in its `variant` ("" is the usual one); severity, source and caution come from the reference
 * row. Does nothing where the rule set has no such row.
 */
void finding_add(struct assessment *assessment, struct finding_list *list, const char *rules, int number,
                 const char *variant, const char *format, ...) __attribute__((format(printf, 6, 7)));

/* Number of finding checks for a branch or a panel, run in the order of the findings' numbers. */
void findings_of_branch(struct branch_case *branch_case);
void findings_of_panel(struct panel_case *panel_case);

/* A number as findings print it: at most two decimals, no trailing zeros. In the assessment's arena. */
const char *figure(struct assessment *assessment, double value);

/* The appliance of a load. */
const struct appliance *load_appliance(const struct branch_case *branch_case, const struct load *load);

/* The branch serves one appliance only: dedicated, or a single unit on it and no second outlet. */
bool branch_is_individual(const struct branch_case *branch_case);

/* The checks, by subject: findings_load.c, findings_wire.c, findings_use.c, findings_panel.c. */
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
void check_feeder_wire(struct panel_case *panel_case);       /* 5, of a feeder */
void check_panel_demand(struct panel_case *panel_case);      /* 13 */
void check_leg_balance(struct panel_case *panel_case);       /* 14 */

#endif
