/*
 * May this service carry one more load? All published methods of the house's rule set side by side: which of them
 * apply, why one does not, their lines and totals, what is left, the largest load that would still fit, what a control
 * system makes of it, and the findings. Definitions: contract, service.md.
 *
 * Each method is worked out by demand_of (ampsum/demand.h): this file compares, it has no demand of its own. Figures
 * stand in schema/reference (010_rule.sql, 350_service.sql, 360_service_finding.sql). Knows no file, no clock, no SQL.
 *
 * What it gives is never "safe" or "complies": it is "by method M the load comes to X A on a service of Y A".
 *
 * Checked: tests/unit/test_service.c, tests/outside/service.tsv.
 */
#ifndef AMPSUM_SERVICE_H
#define AMPSUM_SERVICE_H

#include <stdbool.h>
#include <stddef.h>

#include "ampsum/demand.h"
#include "ampsum/error.h"
#include "ampsum/finding.h"
#include "ampsum/meter.h"
#include "ampsum/model.h"

/* ------------------------------------------------------------------ the question -------------------------- */

enum service_measured_from { SERVICE_MEASURED_NONE, SERVICE_MEASURED_FIGURE, SERVICE_MEASURED_READINGS };

/* A maximum demand that was metered. A bare figure is taken for the year's maximum; readings bring their facts. */
struct service_measured {
    enum service_measured_from from;
    double largest_va; /* the highest demand, > 0; power taken as volt-amperes where no power factor is known */
    /* SERVICE_MEASURED_READINGS alone: */
    double span_days;       /* from the first stamp to the last; by its true length at a clock change */
    double full_days;       /* local days that readings cover whole */
    double interval_min;    /* of the means that largest_va is the highest of */
    double missing_percent; /* of the span that no reading covers */
    unsigned months;        /* bit 0 January ..: months that hold a reading */
    bool fed_back;          /* a net reading below zero, or energy fed into the network */
    const char *at;         /* local date and time of the highest, so that a reader can doubt it; NULL: not known */
    bool is_power;          /* it was metered in watts, and is taken at power factor 1 */
    const struct meter_reading *readings; /* by start; charging that gives way is then counted over their days */
    size_t reading_count;
};

struct service_question {
    const struct house *house;
    size_t added_from;     /* appliances from this on are the added loads, on branches of their own; NO_INDEX: none */
    const size_t *removed; /* indexes of appliances that are taken away; removed_count of them */
    size_t removed_count;
    size_t panel;              /* 0: the service; else the feeder of that sub-panel */
    enum demand_method method; /* the chosen one, whose working is shown first; it must exist in the rule set */
    struct service_measured measured;
    double setpoint_a; /* limit at which a control system keeps the whole service; NAN: none */
    double wanted_kwh; /* energy that the vehicle is to get a day; NAN: as much as the windows hold */
};

/* A question without an added load, a metered figure or a set-point, by the rule set's usual method. */
struct service_question service_question(const struct house *house);

/* ------------------------------------------------------------------ the answer ---------------------------- */

/* What the rating of the service is taken from. */
enum service_rating_from {
    SERVICE_RATING_GIVEN,        /* service_rating */
    SERVICE_RATING_MAIN_BREAKER, /* main_breaker */
    SERVICE_RATING_SUPPLY_FUSE,  /* supply_fuse */
    SERVICE_RATING_FEEDER,       /* the sub-panel's breaker */
    SERVICE_RATING_ASSUMED,      /* supply_fuse = unknown: the rule set's smallest usual one */
};

/* `service_rating`, `main_breaker`, `supply_fuse`, `feeder`; an assumed one is a `supply_fuse`. */
const char *service_rating_word(enum service_rating_from from);

/* Why a method does not apply. Its words stand in ref_service_reason. */
enum service_reason {
    SERVICE_APPLIES,
    SERVICE_NO_AREA,        /* the house gives no floor_area */
    SERVICE_TOO_SMALL,      /* the service is below `limit` ampere; `value` is its rating */
    SERVICE_NOT_THREE_WIRE, /* the method is for a service of two legs and a neutral */
    SERVICE_NO_MEASUREMENT, /* no metered maximum is given */
    SERVICE_GENERATION,     /* own generation or peak shaving behind the meter */
    SERVICE_READINGS_SHORT, /* `value` full days of readings where `limit` are asked for */
    SERVICE_REASON_COUNT
};

/* An added load. Which of its amperes a method counts stands in that method's lines. */
struct service_added {
    size_t appliance;
    const char *what;
    double load_va;   /* nameplate of all units */
    double voltage_v; /* of its branch */
    double current_a; /* in a line, at that voltage */
    bool continuous;
    int control; /* enum control; a vehicle is taken as `setpoint` where the question has a set-point */
    int category;
};

/* The largest load that fits in place of all added ones. All NAN where the method does not apply; 0 VA: none fits. */
struct service_largest {
    double va;
    double current_a; /* at voltage_v */
    double voltage_v; /* of the first added load; without one that of a load between two legs, or of the supply */
    double setting_a; /* largest whole-ampere vehicle setting at voltage_v; NAN: below the pilot's lowest, or below the
                         least load that the edition counts a vehicle with */
};

/* The same with the controlled loads as one group that a listed system limits. */
struct service_group {
    double others_va; /* demand without any controlled load */
    double others_a;
    double free_a;     /* rating less others_a; below 0: nothing */
    double setpoint_a; /* largest whole-ampere set-point of the group, which counts as continuous; NAN: none fits */
    bool charges;      /* it is no less than the least at which a vehicle charges */
};

struct service_method {
    enum demand_method method;
    const char *word; /* METHOD of the contract: `optional` ..., `by-device` */
    const char *name; /* what people call it */
    const char *clause;
    const char *edition;
    const char *source;
    bool by_lines; /* three phases, and a method that counts the heaviest line: current_a is that line's */
    bool applies;
    enum service_reason reason; /* why not, with what it compares: */
    double value;               /* NAN: nothing to compare */
    double limit;
    const char *why_not; /* in words, for people alone; NULL where it applies */
    /* The working; NULL where there is nothing to work out (no metered figure). Where `applies` is false it is no
     * answer: show none of its totals. */
    struct demand *demand;
    double total_va; /* these are NAN where the method does not apply */
    double current_a;
    double headroom_va;
    double headroom_a;
    double headroom_percent; /* of the rating */
    double heaviest_a;       /* the larger of current_a and a count leg by leg, where the method has one */
    bool fits;               /* current_a is no more than the rating, within a relative 1e-9; false where not applies */
    bool near;               /* it fits, above the share of ref_rule `service-near` */
    bool climate_beside;     /* existing: heating or cooling is added and stands beside the sum, (B) */
    double other_va;         /* existing (A), as some read it: without the heating or cooling there; NAN: no such */
    double other_a;
    double continuous_a; /* with the continuous factor on what is added and continuous; NAN: nothing such */
    struct service_largest largest;
    struct service_group group; /* figures NAN where nothing is controlled */
};

/* The whole service under one set-point. */
struct service_setpoint {
    double setpoint_a; /* asked for; NAN: none */
    double counted_a;  /* what it counts as: a set-point is taken as continuous; NAN: none */
    double most_a;     /* the largest whole-ampere set-point that the service carries */
    bool fits;         /* counted_a is no more than the rating */
    const char *clause;
    const char *edition;
    const char *source;
};

/* Charging that gives way, on one day of the house's own week, or of the readings: that on which the most is missing.
 */
struct service_managed {
    size_t appliance; /* the vehicle */
    double setpoint_a;
    int control;           /* CONTROL_SETPOINT or CONTROL_ON_OFF */
    double wanted_kwh;     /* NAN: as much as its windows hold */
    double kwh;            /* charged until the wanted energy was in */
    double short_kwh;      /* missing of it; 0 without a wanted energy */
    double hours;          /* of the windows, until it was in; all of them where it was not */
    double charging_hours; /* of these, those in which it charged at all */
    int month;             /* 0..11, and weekday 0 Monday, on which the windows begin */
    int weekday;
    int ready_min;     /* minute of day when the windows end, 0..1440 */
    double busiest_va; /* the house without the vehicle, at its highest in those windows */
    int busiest_min;   /* minute of day; the first of equals */
    size_t *left_out;  /* appliances with neither `use` nor `hours`, counted as off; left_out_count of them */
    size_t left_out_count;
    bool from_readings; /* by means over the meter's intervals, which hide what is shorter */
};

struct service {
    struct arena *arena; /* owns everything below */
    const struct house *house;
    size_t panel;
    double rating_a;
    enum service_rating_from rating_from;
    double voltage_v; /* between the outer conductors of the supply; single-phase: to neutral */
    double divisor_v; /* turns volt-amperes into amperes; sqrt 3 times voltage_v on three phases */
    double rating_va;
    struct service_added *added;
    size_t added_count;
    struct service_method *methods; /* those of the rule set, in the order of its rows */
    size_t method_count;
    size_t chosen; /* index in methods of the one asked for */
    size_t lead;   /* the one that the findings speak of: the chosen one, else the first that applies; NO_INDEX: none */
    bool any_fits; /* some method that applies carries it */
    struct service_setpoint setpoint;
    const struct service_managed *managed; /* NULL: no vehicle that gives way */
    struct finding_list findings;
    const char *const *notes; /* what else must be said, sentences, NULL-ended */
};

/*
 * Works it out. The house must outlive the answer, which service_free frees. Some dozens of demand_of.
 *
 * False, with the error set and nothing given, where the question is wrong: a rating or set-point not above zero, a
 * set-point above the rating, a method that the rule set lacks, a metered figure not above zero. Names the key.
 */
bool service_of(const struct service_question *question, struct service **ret_service, struct error *error);
void service_free(struct service *service);

/* What a method says of a house as it is, nothing added or metered. */
struct service_brief {
    enum demand_method method;
    const char *name; /* what people call it */
    bool applies;
    bool fits;        /* as in struct service_method */
    double current_a; /* NAN where it does not apply */
};

/*
 * All methods of the rule set, for finding 13; room for DEMAND_METHOD_COUNT of them. Returns how many. Linear in
 * branches and appliances, makes no texts.
 */
size_t service_briefs(const struct house *house, size_t panel, struct service_brief *ret_briefs);

/* The method of that kind in the answer; NULL where the rule set has none. */
const struct service_method *service_method(const struct service *service, enum demand_method method);

/* Amperes as a working prints them: the nearest whole, halves up (220.5(B)). For print alone, never to compare. */
double service_whole_a(double current_a);

/* What a sentence calls a method under a rule set (`the standard method`); NULL where the set has none such. */
const char *service_method_name(const char *rules, enum demand_method method);

/*
 * What a sentence calls the device that the house hangs on: `main breaker`, `supply fuse`, `main switch`. Where rules
 * know a supplier's fuse a main switch alone is taken for it.
 */
const char *main_device_word(const struct house *house);
/* The method of a word of the contract (`diversity` is `by-device`); DEMAND_METHOD_COUNT where it is none. */
enum demand_method service_method_from_word(const char *word);

#endif
