/* What the files of the comparison of methods for a service share. */
#ifndef AMPSUM_RULES_SERVICE_PARTS_H
#define AMPSUM_RULES_SERVICE_PARTS_H

#include "ampsum/reference.h"
#include "ampsum/service.h"
#include "demand_parts.h"

struct service_work {
    const struct service_question *question;
    struct service *service; /* whose arena owns all */
    const char *rules;
    const struct house *with;   /* with the added loads, without the removed ones */
    const struct house *before; /* without either */
    const struct house *others; /* with, less the loads of which a control system would hold back; NULL: none such */
    double season_va;           /* heating or cooling that the readings do not hold */
    double continuous_times;    /* the factor on what is added and continuous; 0: nothing such, or no factor */
};

/* True where `a` is more than `b`, beyond a relative 1e-9: no rounding to whole amperes. */
bool service_over(double a, double b);

/* The question's options of the demand for a method. */
struct demand_options service_options(const struct service_work *work, enum demand_method method);

/* ------------------------------------------------------------------ service_house.c ----------------------- */

bool service_is_added(const struct service_work *work, size_t appliance);
bool service_is_removed(const struct service_work *work, size_t appliance);

/*
 * The loads whose names say a category that no key gives: a demand counts them without it. A sentence in the service's
 * arena; NULL: none such.
 */
const char *service_unkeyed(const struct service_work *work);

/* The three houses of the work. */
void service_houses(struct service_work *work);

/* One more load on a branch of its own, whose volt-amperes are moved until it fits. */
struct service_probe {
    struct house *house; /* `before` with the load at its end */
    struct appliance *load;
    double voltage_v;
    double va_per_a; /* of the branch: its voltage, sqrt 3 times it on three poles */
};

/* Like appliance `like` of the house, or with NO_INDEX a vehicle on two legs, on the only one, or on `line` of three.
 */
struct service_probe service_probe(const struct service_work *work, size_t like, unsigned line);

/* ------------------------------------------------------------------ the rest ------------------------------ */

/* Amperes of a house by a method: its volt-amperes over the supply's voltage, or those of its heaviest line. */
double service_current_a(const struct service_work *work, bool by_lines, const struct house *house,
                         const struct demand_options *options);

/* The largest load that fits by the method, which applies. */
struct service_largest service_largest(const struct service_work *work, const struct service_method *method);

/* service_managed.c: NULL where no vehicle gives way. */
const struct service_managed *service_managed(const struct service_work *work);

/* service_findings.c: all of them, in the order of the rows. */
void service_findings(struct service_work *work);

/* Larger of the heating and the cooling of the house that was there, and what of it the readings do not hold. */
struct service_season {
    bool cooling;
    double missing_va;
};
struct service_season service_season(const struct service_work *work);

#endif
