#include "ampsum/engine.h"

#include <math.h>
#include <stdint.h>
#include <string.h>

#include "schedule.h"
#include "terms.h"

enum { WORDS_IN_DAY = (MINUTES_IN_DAY + 63) / 64 };

/* The minutes of a day at which something may change, one bit each, so that they come sorted and once only. */
struct edges {
    uint64_t word[WORDS_IN_DAY];
};

/* Months, or days of the week, that can't be told apart by what is on carry the same number. */
struct classes {
    int of[MONTHS_IN_YEAR];
    int count;
};

/* What is being looked through, and the best so far. */
struct search {
    const struct house *house;
    const struct index_list *list;
    struct planning_factors factors;
    struct terms terms;
    struct edges edges;
    struct moment best;
    double best_a;
};

static bool is_limited(const struct appliance *appliance)
{
    return appliance->use.count > 0 || appliance->days != DAYS_ALL || appliance->months != MONTHS_ALL;
}

/* True where some load of the branch is not on at every minute of the year. */
static bool any_limited(const struct house *house, const struct index_list *list)
{
    for (size_t i = 0; i < list->count; i++) {
        if (is_limited(&house->appliances[list->index[i]])) {
            return true;
        }
    }
    return false;
}

static void edges_set(struct edges *edges, int minute)
{
    minute %= MINUTES_IN_DAY;
    edges->word[minute / 64] |= UINT64_C(1) << (minute % 64);
}

/*
 * Without groups more loads never plan for less, so that a new maximum can only be where a load comes on. In a group a
 * load may give way to one that plans for less once the largest motor is looked at, so that ends count too.
 */
static void edges_init(struct search *search)
{
    bool ends = search->terms.grouped_count > 0;
    memset(&search->edges, 0, sizeof search->edges);
    edges_set(&search->edges, 0);
    for (size_t i = 0; i < search->list->count; i++) {
        const struct window_list *use = &search->house->appliances[search->list->index[i]].use;
        for (size_t k = 0; k < use->count; k++) {
            edges_set(&search->edges, use->window[k].start_min);
            if (ends) {
                edges_set(&search->edges, use->window[k].end_min);
            }
        }
    }
}

/* Parts every class by one bit of `mask`: bit i belongs to entry i. Numbers go by first appearance. */
static void classes_part(struct classes *classes, int entries, unsigned mask)
{
    int renamed[2 * MONTHS_IN_YEAR];
    memset(renamed, -1, sizeof renamed);
    classes->count = 0;
    for (int i = 0; i < entries; i++) {
        int *name = &renamed[2 * classes->of[i] + (int)(mask >> i & 1U)];
        if (*name < 0) {
            *name = classes->count++;
        }
        classes->of[i] = *name;
    }
}

static void classes_of_months(const struct search *search, struct classes *ret_classes)
{
    *ret_classes = (struct classes){.count = 1};
    for (size_t i = 0; i < search->list->count; i++) {
        unsigned months = search->house->appliances[search->list->index[i]].months;
        if (months != MONTHS_ALL) {
            classes_part(ret_classes, MONTHS_IN_YEAR, months);
        }
    }
}

/* Days differ by what starts on them, and by what runs in from the day before. */
static void classes_of_days(const struct search *search, struct classes *ret_classes)
{
    *ret_classes = (struct classes){.count = 1};
    for (size_t i = 0; i < search->list->count; i++) {
        const struct appliance *appliance = &search->house->appliances[search->list->index[i]];
        if (appliance->days == DAYS_ALL) {
            continue;
        }
        classes_part(ret_classes, DAYS_IN_WEEK, appliance->days);
        if (windows_cross_midnight(&appliance->use)) {
            unsigned before = (appliance->days << 1 | appliance->days >> (DAYS_IN_WEEK - 1)) & DAYS_ALL;
            classes_part(ret_classes, DAYS_IN_WEEK, before);
        }
    }
}

static void switch_to(struct search *search, struct moment moment)
{
    for (size_t i = 0; i < search->list->count; i++) {
        search->terms.term[i].on = appliance_is_on(&search->house->appliances[search->list->index[i]], moment);
    }
}

static void look_at(struct search *search, struct moment moment)
{
    switch_to(search, moment);
    double planning_a = terms_planning_a(&search->terms, search->factors, NULL);
    if (is_larger(planning_a, search->best_a)) {
        search->best = moment;
        search->best_a = planning_a;
    }
}

static void look_at_day(struct search *search, int month, int day)
{
    for (int word = 0; word < WORDS_IN_DAY; word++) {
        for (uint64_t bits = search->edges.word[word]; bits != 0; bits &= bits - 1) {
            int minute = word * 64 + __builtin_ctzll(bits);
            look_at(search, (struct moment){.month = month, .minute = day * MINUTES_IN_DAY + minute});
        }
    }
}

/* In the order of time; a month or day like an earlier one can't be larger than that was. */
static void look_through(struct search *search)
{
    struct classes months;
    struct classes days;
    classes_of_months(search, &months);
    classes_of_days(search, &days);
    edges_init(search);
    int months_seen = 0;
    for (int month = 0; month < MONTHS_IN_YEAR; month++) {
        if (months.of[month] != months_seen) {
            continue;
        }
        months_seen++;
        int days_seen = 0;
        for (int day = 0; day < DAYS_IN_WEEK; day++) {
            if (days.of[day] == days_seen) {
                days_seen++;
                look_at_day(search, month, day);
            }
        }
    }
}

void branch_busiest(const struct house *house, size_t branch, double voltage_v, struct planning_factors factors,
                    unsigned *ret_on, struct moment *ret_moment, struct branch_figures *ret_figures)
{
    const struct index_list *list = &house->branches[branch].appliances;
    struct search search;
    search.house = house;
    search.list = list;
    search.factors = factors;
    search.best = (struct moment){.month = list->count == 0 ? -1 : 0};
    search.best_a = -1.0;
    terms_init(&search.terms, house, branch, NULL, voltage_v, factors);
    if (any_limited(house, list)) {
        look_through(&search);
        switch_to(&search, search.best);
    }
    for (size_t i = 0; ret_on != NULL && i < list->count; i++) {
        ret_on[list->index[i]] = search.terms.term[i].on ? search.terms.term[i].units : 0;
    }
    *ret_moment = search.best;
    *ret_figures = terms_figures(&search.terms, &house->branches[branch], voltage_v, factors, NULL);
    terms_done(&search.terms);
}
