/* What the rules make of single loads and branches. Inside the rules only; rules_factors stands in ampsum/assess.h. */
#ifndef AMPSUM_RULES_PLANNING_H
#define AMPSUM_RULES_PLANNING_H

#include <stdbool.h>

#include "ampsum/assess.h"

/*
 * The category of a load as `check` reads it: the key's, else what the words of its name say, else `other`. The demand
 * of a dwelling never asks this: it reads keys alone.
 */
const char *load_category(const struct appliance *appliance);

/* Air conditioning or a heat pump. */
bool load_is_cooling(const struct appliance *appliance);

/* A fixed water heater whose plate is taken to be stated at another voltage than its branch has (British showers). */
bool appliance_is_shower(const struct house *house, size_t appliance);

/*
 * Whether a load that no plug carries may be wired in: one plug is for all branches, no outlet is named, and nobody
 * said whether it is fastened in place.
 */
bool load_may_be_wired(const struct house *house, const struct appliance *appliance);

/* A range, or cooking equipment that is fastened in place or has a branch of its own. */
bool load_is_cooking(const struct house *house, const struct appliance *appliance);

/* The cooking of a branch where the rules plan for less than the sum of its plates. */
struct cooking {
    double least_va;  /* of one unit above which it is meant; 0 where all are */
    bool by_plate;    /* the share is one of the plates' own currents, whatever the branch's voltage */
    double share;     /* planned for over plates */
    double plates_a;  /* of all units together, ampere */
    double planned_a; /* likewise, what is planned for */
    bool words_tell;  /* which unit is what follows from their words */
};

/* False where nothing is planned for less: no cooking, or it counts in full. Limits 1. */
bool branch_cooking(const struct house *house, size_t branch, struct cooking *ret);

/*
 * The household allowance for the cooking of a radial branch, ampere, whether the rule set plans by it or not; NAN:
 * none. The sum of the plates' currents goes to ret_plates_a.
 */
double cooking_allowance_a(const struct house *house, size_t branch, double *ret_plates_a);

#endif
