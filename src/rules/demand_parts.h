/* What the files of the demand share: the loads in question, and how a line is added. */
#ifndef AMPSUM_RULES_DEMAND_PARTS_H
#define AMPSUM_RULES_DEMAND_PARTS_H

#include "ampsum/demand.h"
#include "ampsum/reference.h"
#include "ampsum/text.h"

enum { LEG_COUNT = 3 };

/* Kinds of load under us rules. */
enum us_kind {
    US_FIXED,
    US_OWN_BRANCH,
    US_COOKING,
    US_DRYER,
    US_VEHICLE,
    US_HEATING,
    US_HEAT_PUMP,
    US_COOLING,
    US_KIND_COUNT
};

/* A load that is counted by itself: an appliance, all its units, or (diversity) a standard circuit. */
struct demand_item {
    int kind;         /* enum us_kind, or a row of the diversity kinds */
    size_t appliance; /* NO_INDEX: a circuit */
    size_t branch;
    unsigned units;
    double unit_va;
    double unit_current_a; /* in a line */
    bool dropped;          /* another of its group counts */
};

/* Sum, units and arithmetic of the items of a kind that count. */
struct demand_sum {
    double va;
    unsigned units;
    const char *how; /* "4000 + 5100 VA" */
};

struct demand_work {
    const struct house *house;
    const char *rules;
    struct demand_options options;
    struct demand *demand;
    bool quiet; /* no lines, figures only */
    const size_t *branches;
    size_t branch_count; /* of the scope */
    struct demand_item *items;
    size_t item_count;
    size_t item_capacity;
    size_t *group_best; /* places in items, by group and slot */
    size_t small_appliance_count;
    size_t laundry_count;
    struct demand_sum sums[US_KIND_COUNT]; /* us */
    double range_smallest_va;              /* us: rule values asked for once, for each appliance */
    double fixed_least_va;
    double instant_least_va;                 /* iec, uk: from this on a water heater is instantaneous */
    double several_factor;                   /* us: of fixed appliances that are large enough */
    double connected_va;                     /* sub-panel: lighting and plug-in loads */
    double connected_line_a[LEG_COUNT];      /* and their amperes by leg */
    double connected_neutral_va;             /* those between a leg and the neutral */
    double balanced_va;                      /* spread over all legs alike */
    double line_a[LEG_COUNT];                /* the rest, on the legs of its branch */
    double motor_a[LEG_COUNT];               /* unit current of the largest motor on the leg */
    const struct demand_item *motor;         /* the largest motor */
    const struct demand_item *neutral_motor; /* the largest between a leg and the neutral */
    const char *source_id;                   /* the rule row whose source was asked for last, and that text */
    const char *source_text;
    struct text notes; /* lines */
};

/* ------------------------------------------------------------------ demand.c ------------------------------ */

/* Appends a line; counted_va = load_va * factor goes into the total of the list. `how`: the arithmetic, or "". */
void demand_add(struct demand_work *work, struct demand_list *list, enum demand_role role, const char *what,
                const char *how, double load_va, double factor, const char *source);

/* printf into the demand's arena; "" in quiet work. */
const char *demand_text(struct demand_work *work, const char *format, ...) __attribute__((format(printf, 2, 3)));

/* A number with at most two decimals; "" in quiet work. */
const char *demand_figure(struct demand_work *work, double value);

/* Clause, edition and source of a rule row in one line; "" in quiet work. */
const char *demand_rule_source(struct demand_work *work, const char *id);
const char *demand_source(struct demand_work *work, const char *clause, const char *edition, const char *source);

/* Value of a rule row, in its unit. */
double demand_rule(const struct demand_work *work, const char *id);

/* us: what a vehicle counts for at least, VA; 0 under an edition without a rule on it, or by its plate. */
double us_vehicle_least_va(const struct demand_work *work, const struct demand_item *item);

/* Whether the item is an added load. */
bool demand_is_added(const struct demand_work *work, const struct demand_item *item);

/* Adds a note, one sentence. */
void demand_note(struct demand_work *work, const char *sentence);

/* ------------------------------------------------------------------ demand_items.c ------------------------ */

/* Nameplate of one unit: volt-amperes, and amperes in a line, on its branch. */
void demand_nameplate(const struct house *house, const struct appliance *appliance, double *ret_va, double *ret_a);

/* An appliance on its branch as it counts by itself; an added one with the question's factor. Its kind is left 0. */
struct demand_item demand_item_of(const struct demand_work *work, size_t appliance, size_t branch);

void demand_item_add(struct demand_work *work, struct demand_item item);

/* Of each group only the largest counts: marks the others as dropped and adds a line for each. */
void demand_drop_groups(struct demand_work *work, int (*slot_of)(int kind));

/* The slot of a method that compares every member of a group with every other. */
int demand_one_slot(int kind);

double demand_item_va(const struct demand_item *item);

/* Name of the item's appliance, with its count. */
const char *demand_item_name(struct demand_work *work, const struct demand_item *item);

/* "3 x 1500 VA" for several units, else "". */
const char *demand_item_how(struct demand_work *work, const struct demand_item *item);

/* us: the sums of all kinds, kept in work->sums; then that of one kind, with its arithmetic. */
void demand_sum_items(struct demand_work *work);
struct demand_sum demand_sum_of(struct demand_work *work, int kind);

/* us: what a vehicle counts for, VA of all units, with the arithmetic and the rule's row that says so. */
double us_vehicle_va(struct demand_work *work, const struct demand_item *item, const char **ret_how,
                     const char **ret_rule);

/* Puts `share` of the item's amperes on the legs of its branch. */
void demand_item_lines(struct demand_work *work, const struct demand_item *item, double share);

/* ------------------------------------------------------------------ methods ------------------------------- */

void demand_us_gather(struct demand_work *work);
void demand_standard(struct demand_work *work);
void demand_optional(struct demand_work *work);
void demand_existing(struct demand_work *work);
void demand_measured(struct demand_work *work);
void demand_diversity(struct demand_work *work);
void demand_by_load(struct demand_work *work);

/* demand_us.c: parts of the standard method that the neutral of the other methods needs as well. */
struct us_general {
    double gross_va;
    double net_va; /* after the demand table */
};

/* The general load; `list` NULL adds no lines. `table` false: gathered lines only. */
struct us_general us_general_load(struct demand_work *work, struct demand_list *list, bool table);

/* Table 220.55 and 220.54; return the demand, VA. */
double us_cooking(struct demand_work *work, struct demand_list *list);
double us_dryers(struct demand_work *work, struct demand_list *list);

double us_larger(double a, double b);

/* Factor of a fixed appliance under 220.53; 1 for what is none. */
double us_fixed_factor(const struct demand_work *work, const struct demand_item *item);

/* The item stands between a leg and the neutral. */
bool us_on_neutral(const struct demand_work *work, const struct demand_item *item);

/* Whether an item counts in the service load: of heating and cooling only the larger, as `cool` says. */
bool us_item_counts(const struct demand_item *item, bool cool);

/* The line of the largest motor; nothing where it is NULL. */
void us_motor_line(struct demand_work *work, struct demand_list *list, const struct demand_item *motor);

/* demand_neutral.c: the feeder's neutral, 220.61. */
void us_neutral(struct demand_work *work, const struct us_general *general);

#endif
