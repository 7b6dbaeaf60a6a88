/*
 * What the wire of a branch turns to heat in a year. The year is a few dozen kinds of day; each day is cut where an
 * appliance goes on or off; each distinct set of appliances is solved once.
 */
#include <math.h>
#include <stdint.h>
#include <stdlib.h>

#include "ampsum/arena.h"
#include "schedule.h"
#include "wiring_parts.h"

enum { DECEMBER = 11 };

/* About this many nodes and loads are worked through for one answer: some seconds. */
static const double most_work = 2e7;

/* One appliance goes on (+1) or off (-1). */
struct edge {
    int minute;
    int step;
    size_t place;
};

/* The loss of a set that has been solved. */
struct known_set {
    uint64_t key; /* 0: a free entry */
    double loss_w;
};

struct year {
    struct wiring *wiring;
    const struct index_list *appliances;
    double *share;   /* of its units that each appliance draws on the mean while it may be on; 0: never on */
    double *on_min;  /* minutes of the year that each may be on */
    double *units;   /* what the set at hand draws */
    unsigned *depth; /* windows of each that are open at the minute at hand */
    uint64_t key;    /* of the set at hand */
    struct edge *edge;
    size_t edge_count;
    size_t edge_capacity;
    struct known_set *set;
    size_t set_count;
    size_t set_capacity; /* a power of two */
    double work;
    double loss_w_min;
};

/* How often each kind of day comes: [month][weekday][1: first of its month]. */
typedef int day_kinds[MONTHS_IN_YEAR][DAYS_IN_WEEK][2];

static void year_init(struct year *year, struct wiring *wiring);
static void year_done(struct year *year);
static void count_days(day_kinds kinds);
static void walk_day(struct year *year, int month, int weekday, int month_before, int times);
static double cycling_loss_w_min(struct year *year);

double wiring_loss_kwh_year(struct wiring *wiring)
{
    day_kinds kinds;
    struct year year;
    year_init(&year, wiring);
    count_days(kinds);
    for (int month = 0; month < MONTHS_IN_YEAR; month++) {
        for (int weekday = 0; weekday < DAYS_IN_WEEK; weekday++) {
            for (int first = 0; first < 2; first++) {
                const int before = first == 0 ? month : month == 0 ? DECEMBER : month - 1;
                if (kinds[month][weekday][first] > 0) {
                    walk_day(&year, month, weekday, before, kinds[month][weekday][first]);
                }
            }
        }
    }
    const double loss_w_min = year.loss_w_min + cycling_loss_w_min(&year);
    year_done(&year);
    return loss_w_min / 60 / 1000;
}

/* Share of the time in which it may be on that an appliance really draws. */
static double time_share(const struct appliance *appliance)
{
    const double window_s = appliance->use.count == 0 ? 86400 : 60.0 * windows_length_min(&appliance->use);
    return window_s > 0 ? fmin(1, appliance_energy_time_s(appliance) / window_s) * appliance->duty_percent / 100 : 0;
}

static void year_init(struct year *year, struct wiring *wiring)
{
    const struct branch *branch = &wiring->house->branches[wiring->branch];
    const size_t count = branch->appliances.count;
    *year = (struct year){.wiring = wiring, .appliances = &branch->appliances, .set_capacity = 256};
    year->share = memory_resize(NULL, count, sizeof(double));
    year->on_min = memory_resize(NULL, count, sizeof(double));
    year->units = memory_resize(NULL, count, sizeof(double));
    year->depth = memory_resize(NULL, count, sizeof(unsigned));
    year->set = memory_resize(NULL, year->set_capacity, sizeof(struct known_set));
    for (size_t i = 0; i < year->set_capacity; i++) {
        year->set[i].key = 0;
    }
    for (size_t i = 0; i < count; i++) {
        year->share[i] = time_share(&wiring->house->appliances[branch->appliances.index[i]]);
        year->on_min[i] = 0;
        year->depth[i] = 0;
    }
}

static void year_done(struct year *year)
{
    free(year->share);
    free(year->on_min);
    free(year->units);
    free(year->depth);
    free(year->edge);
    free(year->set);
}

static void count_days(day_kinds kinds)
{
    int weekday = 0; /* 1 January is a Monday */
    for (int month = 0; month < MONTHS_IN_YEAR; month++) {
        for (int day = 0; day < DAYS_IN_WEEK; day++) {
            kinds[month][day][0] = 0;
            kinds[month][day][1] = 0;
        }
        for (int day = 0; day < month_days[month]; day++) {
            kinds[month][weekday][day == 0]++;
            weekday = (weekday + 1) % DAYS_IN_WEEK;
        }
    }
}

static void add_span(struct year *year, size_t place, int start_min, int stop_min)
{
    if (start_min >= stop_min) {
        return;
    }
    const struct edge edges[2] = {{start_min, 1, place}, {stop_min, -1, place}};
    for (int i = 0; i < 2; i++) {
        year->edge = memory_grow(year->edge, year->edge_count, &year->edge_capacity, sizeof(struct edge));
        year->edge[year->edge_count++] = edges[i];
    }
}

static bool is_on_day(const struct appliance *appliance, int month, int weekday)
{
    return (appliance->months >> month & 1U) != 0 && (appliance->days >> weekday & 1U) != 0;
}

/* The spans of one appliance on a day: its windows of that day, and what runs over from the day before. */
static void add_spans(struct year *year, size_t place, int month, int weekday, int month_before)
{
    const size_t index = year->appliances->index[place];
    const struct appliance *appliance = &year->wiring->house->appliances[index];
    const bool today = is_on_day(appliance, month, weekday);
    const bool yesterday = is_on_day(appliance, month_before, day_before(weekday));
    if (!(year->share[place] > 0)) {
        return;
    }
    if (appliance->use.count == 0 && today) {
        add_span(year, place, 0, MINUTES_IN_DAY);
    }
    for (size_t i = 0; i < appliance->use.count; i++) {
        const struct window window = appliance->use.window[i];
        const int stop_min = window_stop_min(window);
        if (today) {
            add_span(year, place, window.start_min, stop_min < MINUTES_IN_DAY ? stop_min : MINUTES_IN_DAY);
        }
        if (yesterday) {
            add_span(year, place, 0, stop_min - MINUTES_IN_DAY);
        }
    }
}

static int compare_edges(const void *a, const void *b)
{
    const struct edge *x = a;
    const struct edge *y = b;
    return (x->minute > y->minute) - (x->minute < y->minute);
}

/* A number of 64 well mixed bits for each place; a set's key is the exclusive or of its members'. */
static uint64_t place_key(size_t place)
{
    uint64_t key = ((uint64_t)place + 1) * 0x9E3779B97F4A7C15U;
    key = (key ^ key >> 30) * 0xBF58476D1CE4E5B9U;
    key = (key ^ key >> 27) * 0x94D049BB133111EBU;
    return key ^ key >> 31;
}

/* Where the set with that key stands, or the free entry where it would. */
static struct known_set *find_set(struct known_set *set, size_t capacity, uint64_t key)
{
    size_t at = (size_t)key & (capacity - 1);
    while (set[at].key != 0 && set[at].key != key) {
        at = (at + 1) & (capacity - 1);
    }
    return &set[at];
}

static void grow_sets(struct year *year)
{
    const size_t capacity = 2 * year->set_capacity;
    struct known_set *set = memory_resize(NULL, capacity, sizeof(struct known_set));
    for (size_t i = 0; i < capacity; i++) {
        set[i].key = 0;
    }
    for (size_t i = 0; i < year->set_capacity; i++) {
        if (year->set[i].key != 0) {
            *find_set(set, capacity, year->set[i].key) = year->set[i];
        }
    }
    free(year->set);
    year->set = set;
    year->set_capacity = capacity;
}

/* Solves for year->units; NAN where that cannot be fed or too much has been asked already. */
static double solve_units_w(struct year *year)
{
    year->work += (double)(year->wiring->node_count + year->appliances->count);
    if (year->work > most_work) {
        return (double)NAN;
    }
    wiring_load(year->wiring, year->units);
    return wiring_solve(year->wiring, 1) ? wiring_loss_w(year->wiring) : (double)NAN;
}

static double set_loss_w(struct year *year)
{
    if (year->key == 0) {
        return 0;
    }
    struct known_set *known = find_set(year->set, year->set_capacity, year->key);
    if (known->key != 0) {
        return known->loss_w;
    }
    for (size_t i = 0; i < year->appliances->count; i++) {
        const unsigned count = year->wiring->house->appliances[year->appliances->index[i]].count;
        year->units[i] = year->depth[i] > 0 ? count * year->share[i] : 0;
    }
    const double loss_w = solve_units_w(year);
    *known = (struct known_set){year->key, loss_w};
    year->set_count++;
    if (2 * year->set_count > year->set_capacity) {
        grow_sets(year);
    }
    return loss_w;
}

static void pass_edge(struct year *year, const struct edge *edge)
{
    const bool was_on = year->depth[edge->place] > 0;
    year->depth[edge->place] += (unsigned)edge->step;
    if (was_on != (year->depth[edge->place] > 0)) {
        year->key ^= place_key(edge->place);
    }
}

static void walk_day(struct year *year, int month, int weekday, int month_before, int times)
{
    year->edge_count = 0;
    for (size_t place = 0; place < year->appliances->count; place++) {
        add_spans(year, place, month, weekday, month_before);
    }
    if (year->edge_count > 0) {
        qsort(year->edge, year->edge_count, sizeof(struct edge), compare_edges);
    }
    int minute = 0;
    for (size_t i = 0; i < year->edge_count; i++) {
        const struct edge *edge = &year->edge[i];
        if (edge->minute > minute) {
            year->loss_w_min += set_loss_w(year) * (edge->minute - minute) * times;
            minute = edge->minute;
        }
        pass_edge(year, edge);
        year->on_min[edge->place] -= (double)edge->step * edge->minute * times;
    }
}

/* What cycling adds to the loss at the mean: f (1 - f) of the loss of one unit alone, for each unit. */
static double cycling_loss_w_min(struct year *year)
{
    double sum_w_min = 0;
    for (size_t i = 0; i < year->appliances->count; i++) {
        const double share = year->share[i];
        if (share >= 1 || !(year->on_min[i] > 0)) {
            continue;
        }
        for (size_t k = 0; k < year->appliances->count; k++) {
            year->units[k] = 0;
        }
        year->units[i] = 1;
        const unsigned count = year->wiring->house->appliances[year->appliances->index[i]].count;
        sum_w_min += count * share * (1 - share) * solve_units_w(year) * year->on_min[i];
    }
    return sum_w_min;
}
