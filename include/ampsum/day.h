/*
 * A day of the house: how the current builds up, how likely it is, and what the meter's energy is made of. Works on
 * structs; knows no file, no clock and no limit of any code (ratings and factors come in with the house and the
 * arguments).
 *
 * In the series an appliance counts as on at every minute of its windows, and one without windows at every minute of
 * its days and months, as at the busiest minute (contract, engineering.md section 2). In the odds and in the energy it
 * is on for its `hours` alone, so the two differ where hours are fewer than the windows.
 */
#ifndef AMPSUM_DAY_H
#define AMPSUM_DAY_H

#include <stdbool.h>
#include <stddef.h>

#include "ampsum/chance.h"
#include "ampsum/engine.h"
#include "ampsum/meter.h"
#include "ampsum/model.h"

/* A day of the week in a month. A window that runs in from the day before belongs to month_before. */
struct day {
    int weekday; /* 0 Monday .. 6 Sunday */
    int month;   /* 0..11 */
    int month_before;
};

/* Where the current is looked at: a branch, or one leg of a panel with all that it feeds. */
struct day_scope {
    size_t branch; /* NO_INDEX: the panel's leg */
    size_t panel;
    int leg; /* 0 A, 1 B, 2 C; of a panel that has it */
};

/* Minutes in which nothing changes. */
struct day_stretch {
    int start_min;
    int end_min;
    double current_a;  /* |phasor sum|, what a clamp meter would read */
    double planning_a; /* after factors */
};

struct day_series {
    struct day day;
    double rating_a;               /* of the branch's breaker; of the panel's feeder, or the main breaker */
    struct day_stretch *stretches; /* in order, together 0..1440 */
    size_t stretch_count;
    size_t busiest;      /* the first stretch with the largest planning_a (relative 1e-9) */
    int over_share_min;  /* minutes with planning_a above near_share of the rating */
    int over_rating_min; /* and above the rating, strictly, beyond a relative 1e-9 */
};

/* True where the appliance may be on at that minute (0..1439) of the day. */
bool day_appliance_is_on(const struct appliance *appliance, struct day day, int minute);

/* The appliances that hang on the scope, one at a call, in file order: *at is 0 at first. NO_INDEX at the end. */
size_t day_scope_next(const struct house *house, struct day_scope scope, size_t *at);

/*
 * `MM-DD` in the common year that begins on a Monday (contract, engineering.md section 7), or `YYYY-MM-DD` of the
 * calendar. False where it is neither or no such date.
 */
bool day_from_text(const char *string, struct day *ret_day);

/*
 * The day's course at nominal voltage. near_share: of the rating, above which a branch is called near, 0..1. Stretches
 * are in `arena`. Never fails. One total of the scope a stretch. Checked: tests/unit/test_day.c, minute by minute
 * against branch_total and against branch_busiest.
 */
void day_course(const struct house *house, struct day_scope scope, struct day day, struct planning_factors factors,
                double near_share, struct arena *arena, struct day_series *ret_series);

/*
 * Of the days in `days` (DAYS_ bits) of the `months` (bits) the one with the largest planning current, the earliest of
 * equals (January to December, Monday to Sunday). Months and days on which the same may be on are looked at once.
 */
struct day day_busiest(const struct house *house, struct day_scope scope, unsigned days, unsigned months,
                       struct planning_factors factors);

/*
 * Odds of the scope's planning current against its rating. Each appliance draws at a minute of its windows with the
 * chance hours / sum of windows times duty; with hours alone hours / 24 times duty; all units of a count together (one
 * switch), which is the unfavourable reading. ret_left_out lists (in `arena`) the appliances of the scope without
 * windows and hours, which count as off. ret_minutes: room for 1,440 entries, or NULL. The grid is CHANCE_GRID_A, ten
 * times coarser as often as it takes to keep the rating below 50,000 steps and steps times appliances below 20,000,000.
 * Definitions and bounds: ampsum/chance.h.
 */
void day_odds(const struct house *house, struct day_scope scope, struct day day, struct planning_factors factors,
              struct arena *arena, struct chance_bounds *ret_minutes, struct chance_figures *ret_figures,
              struct index_list *ret_left_out);

/*
 * Mean power of the whole house in each hour of the day, W: on-time, duty and standby as in the year's energy
 * (contract, engineering.md section 7).
 */
void day_model_w(const struct house *house, struct day day, double ret_hour_w[24]);

/*
 * Energy that the scope draws on the day, kWh, counted as in day_model_w. Of a panel's leg: of all that it feeds; a
 * load between legs counts in equal parts to each. Checked: tests/unit/test_day.c, 365 days against the year's energy.
 */
double day_energy_kwh(const struct house *house, struct day_scope scope, struct day day);

/* Metered and modelled energy of one hour of the day, over all metered days. */
struct day_explained {
    double covered_h; /* metered time */
    double metered_kwh;
    double modelled_kwh;      /* of the listed appliances over the same time */
    double explained_percent; /* modelled of metered; NAN where nothing was metered */
    double to_add_w;          /* mean power that the list lacks, below 0 has too much of; NAN without metered time */
};

/* Sums the metered hours (from meter_hours) and the model beside them by hour of the day, and over all hours. */
void day_explain(const struct house *house, const struct meter_hour *hours, size_t count,
                 struct day_explained ret_hours[24], struct day_explained *ret_all);

#endif
