/*
 * The busiest day of a scope. Each minute of each day gets a cheap upper bound (every load that is on counts, and the
 * largest motor's extra always); the minutes are then totalled properly, the highest bound first, until no bound can
 * beat the best total. The answer is that of totalling them all.
 */
#include <math.h>
#include <stdlib.h>

#include "ampsum/arena.h"
#include "day_parts.h"

enum { DAYS_MOST = 7 * MONTHS_IN_YEAR };

/* A stretch of a day that may hold the peak. `order` counts them in time. */
struct candidate {
    double most_a;
    struct day day;
    int minute;
    size_t order;
};

struct search {
    const struct house *house;
    struct day_scope scope;
    struct planning_factors factors;
    struct index_list list;
    struct chance_load *loads; /* of the list */
    double extra_a;
    struct candidate *candidates;
    size_t count;
    size_t capacity;
};

static size_t distinct_days(const struct search *search, unsigned days, unsigned months, struct day *ret_days);
static void add_candidates(struct search *search, struct day day);
static int compare_candidates(const void *a, const void *b);
static struct day best_day(const struct search *search, struct arena *scratch);

struct day day_busiest(const struct house *house, struct day_scope scope, unsigned days, unsigned months,
                       struct planning_factors factors)
{
    struct arena *scratch = arena_new();
    struct search search = {.house = house, .scope = scope, .factors = factors};
    search.list = day_scope_appliances(house, scope, scratch);
    search.loads = arena_array(scratch, search.list.count, sizeof *search.loads);
    day_scope_loads(house, scope, factors, scratch, search.loads);
    for (size_t i = 0; i < search.list.count; i++) {
        search.extra_a = fmax(search.extra_a, search.loads[i].motor_extra_a);
    }
    struct day looked[DAYS_MOST];
    size_t count = distinct_days(&search, days, months, looked);
    for (size_t i = 0; i < count; i++) {
        add_candidates(&search, looked[i]);
    }
    qsort(search.candidates, search.count, sizeof *search.candidates, compare_candidates);
    struct day best = best_day(&search, scratch);
    free(search.candidates);
    arena_free(scratch);
    return best;
}

/* True where every appliance of the scope may be on alike on both days. */
static bool days_alike(const struct search *search, struct day a, struct day b)
{
    for (size_t i = 0; i < search->list.count; i++) {
        const struct appliance *appliance = &search->house->appliances[search->list.index[i]];
        if (day_starts_on(appliance, a.weekday, a.month) != day_starts_on(appliance, b.weekday, b.month) ||
            day_starts_on(appliance, (a.weekday + 6) % 7, a.month_before) !=
                day_starts_on(appliance, (b.weekday + 6) % 7, b.month_before)) {
            return false;
        }
    }
    return true;
}

/* January to December, Monday to Sunday; of alike days the first. */
static size_t distinct_days(const struct search *search, unsigned days, unsigned months, struct day *ret_days)
{
    size_t count = 0;
    for (int month = 0; month < MONTHS_IN_YEAR; month++) {
        for (int weekday = 0; weekday < 7; weekday++) {
            struct day day = {weekday, month, month};
            bool known = (days >> weekday & 1U) == 0 || (months >> month & 1U) == 0;
            for (size_t i = 0; i < count && !known; i++) {
                known = days_alike(search, ret_days[i], day);
            }
            if (!known) {
                ret_days[count++] = day;
            }
        }
    }
    return count;
}

/* Steps of the bound at each minute: what comes on there, less what goes off. */
static void bound_steps(const struct search *search, struct day day, double steps_a[MINUTES_IN_DAY + 1])
{
    for (int minute = 0; minute <= MINUTES_IN_DAY; minute++) {
        steps_a[minute] = 0;
    }
    for (size_t i = 0; i < search->list.count; i++) {
        const struct appliance *appliance = &search->house->appliances[search->list.index[i]];
        if (appliance->use.count == 0 && day_appliance_is_on(appliance, day, 0)) {
            steps_a[0] += search->loads[i].planning_a;
        }
        for (size_t j = 0; j < appliance->use.count; j++) {
            struct window parts[2];
            int count = 0;
            day_window_part(appliance, day, j, parts, &count);
            for (int k = 0; k < count; k++) {
                steps_a[parts[k].start_min] += search->loads[i].planning_a;
                steps_a[parts[k].end_min] -= search->loads[i].planning_a;
            }
        }
    }
}

static void add_candidates(struct search *search, struct day day)
{
    bool is_edge[MINUTES_IN_DAY + 1];
    double steps_a[MINUTES_IN_DAY + 1];
    double whole_a = 0;
    double now_a = 0;
    day_edges(search->house, &search->list, day, is_edge);
    bound_steps(search, day, steps_a);
    for (size_t i = 0; i < search->list.count; i++) {
        whole_a += search->loads[i].planning_a;
    }
    for (int minute = 0; minute < MINUTES_IN_DAY; minute++) {
        now_a += steps_a[minute];
        if (!is_edge[minute]) {
            continue;
        }
        search->candidates =
            memory_grow(search->candidates, search->count, &search->capacity, sizeof *search->candidates);
        /* The running sum may be off by the rounding of what came and went. */
        double most_a = now_a + search->extra_a + 1e-9 * whole_a;
        search->candidates[search->count] = (struct candidate){most_a, day, minute, search->count};
        search->count++;
    }
}

static int compare_candidates(const void *a, const void *b)
{
    const struct candidate *i = a;
    const struct candidate *j = b;
    if (i->most_a > j->most_a || i->most_a < j->most_a) {
        return i->most_a > j->most_a ? -1 : 1;
    }
    return i->order < j->order ? -1 : i->order > j->order;
}

static struct day best_day(const struct search *search, struct arena *scratch)
{
    const double hair = 1e-9;
    unsigned *on = arena_array(scratch, search->house->appliance_count, sizeof *on);
    struct panel_figures *panels = arena_array(scratch, search->house->panel_count, sizeof *panels);
    const struct candidate *best = NULL;
    double best_a = 0;
    for (size_t i = 0; i < search->count; i++) {
        const struct candidate *candidate = &search->candidates[i];
        if (best != NULL && candidate->most_a < best_a * (1 - hair)) {
            break;
        }
        double total_a = day_look_at(search->house, search->scope, &search->list, candidate->day, candidate->minute,
                                     search->factors, on, panels)
                             .planning_a;
        bool tie = best != NULL && fabs(total_a - best_a) <= hair * fmax(total_a, best_a);
        if (best == NULL || (tie && candidate->order < best->order) || (!tie && total_a > best_a)) {
            best = candidate;
            best_a = fmax(best_a, total_a);
        }
    }
    return best != NULL ? best->day : (struct day){0};
}
