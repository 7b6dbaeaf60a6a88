#include "ampsum/engine.h"

#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "schedule.h"
#include "terms.h"

enum { WORDS_IN_DAY = (MINUTES_IN_DAY + 63) / 64, WORD_BITS = 64, MASKS_ON_STACK = 256 };

/* Months, or days of the week, that can't be told apart by what is on carry the same number. */
struct classes {
    int of[MONTHS_IN_YEAR];
    int count;
};

/*
 * What is being looked through, and the best so far. A mask is a set of the branch's loads, one bit each, `words` long.
 */
struct search {
    const struct house *house;
    const struct index_list *list;
    struct planning_factors factors;
    struct terms terms;
    size_t words;
    size_t edge_count;
    short edge_min[MINUTES_IN_DAY]; /* minutes of a day at which something may change, in order */
    uint64_t *today;                /* edge_count masks: on there by a window that started on the same day */
    uint64_t *next;                 /* by one that started the day before */
    uint64_t *starts;               /* one mask: loads that may start today */
    uint64_t *before;               /* one mask: loads that may have started yesterday */
    uint64_t *now;                  /* one mask: what is on */
    uint64_t *best_on;              /* one mask: what is on at the best */
    uint64_t masks_here[MASKS_ON_STACK];
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

static const struct appliance *load_at(const struct search *search, size_t i)
{
    return &search->house->appliances[search->list->index[i]];
}

static void edge_set(uint64_t *minutes, int minute)
{
    minute %= MINUTES_IN_DAY;
    minutes[minute / WORD_BITS] |= UINT64_C(1) << (minute % WORD_BITS);
}

/* More loads never plan for less (lead.h), so that a new maximum can only be where a load comes on. */
static void find_edges(struct search *search)
{
    uint64_t minutes[WORDS_IN_DAY] = {1}; /* midnight is one */
    for (size_t i = 0; i < search->list->count; i++) {
        const struct window_list *use = &load_at(search, i)->use;
        for (size_t k = 0; k < use->count; k++) {
            edge_set(minutes, use->window[k].start_min);
        }
    }
    search->edge_count = 0;
    for (int word = 0; word < WORDS_IN_DAY; word++) {
        for (uint64_t bits = minutes[word]; bits != 0; bits &= bits - 1) {
            search->edge_min[search->edge_count++] = (short)(word * WORD_BITS + __builtin_ctzll(bits));
        }
    }
}

/* The first edge at that minute or after it. */
static size_t edge_from(const struct search *search, int minute)
{
    size_t low = 0;
    size_t high = minute <= 0 ? 0 : search->edge_count;
    while (low < high) {
        const size_t middle = low + (high - low) / 2;
        if (search->edge_min[middle] < minute) {
            low = middle + 1;
        } else {
            high = middle;
        }
    }
    return low;
}

/* Puts load i into the masks of the edges from start_min up to stop_min. */
static void mark(const struct search *search, uint64_t *masks, size_t i, int start_min, int stop_min)
{
    const uint64_t bit = UINT64_C(1) << (i % WORD_BITS);
    for (size_t edge = edge_from(search, start_min); edge < search->edge_count && search->edge_min[edge] < stop_min;
         edge++) {
        masks[edge * search->words + i / WORD_BITS] |= bit;
    }
}

static void mark_loads(const struct search *search)
{
    for (size_t i = 0; i < search->list->count; i++) {
        const struct window_list *use = &load_at(search, i)->use;
        if (use->count == 0) {
            mark(search, search->today, i, 0, MINUTES_IN_DAY);
        }
        for (size_t k = 0; k < use->count; k++) {
            int stop_min = window_stop_min(use->window[k]);
            mark(search, search->today, i, use->window[k].start_min, stop_min);
            if (stop_min > MINUTES_IN_DAY) {
                mark(search, search->next, i, 0, stop_min - MINUTES_IN_DAY);
            }
        }
    }
}

static void masks_init(struct search *search)
{
    search->words = (search->list->count + WORD_BITS - 1) / WORD_BITS;
    size_t count = 2 * (search->edge_count + 2) * search->words;
    uint64_t *masks = search->masks_here;
    if (count > MASKS_ON_STACK) {
        masks = memory_resize(NULL, count, sizeof *masks);
    }
    memset(masks, 0, count * sizeof *masks);
    search->today = masks;
    search->next = search->today + search->edge_count * search->words;
    search->starts = search->next + search->edge_count * search->words;
    search->before = search->starts + search->words;
    search->now = search->before + search->words;
    search->best_on = search->now + search->words;
    mark_loads(search);
}

static void masks_done(struct search *search)
{
    if (search->today != search->masks_here) {
        free(search->today);
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
        unsigned months = load_at(search, i)->months;
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
        const struct appliance *appliance = load_at(search, i);
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

/* Loads of that month that may start on that day. */
static void mask_of_day(const struct search *search, int month, int day, uint64_t *ret_mask)
{
    memset(ret_mask, 0, search->words * sizeof *ret_mask);
    for (size_t i = 0; i < search->list->count; i++) {
        const struct appliance *load = load_at(search, i);
        uint64_t on = load->months >> month & load->days >> day & 1U;
        ret_mask[i / WORD_BITS] |= on << (i % WORD_BITS);
    }
}

/* Sets `now` for an edge; false where nothing is on there that is not on at the best. */
static bool switch_to(struct search *search, size_t edge)
{
    uint64_t more = 0;
    for (size_t w = 0; w < search->words; w++) {
        search->now[w] = (search->today[edge * search->words + w] & search->starts[w]) |
                         (search->next[edge * search->words + w] & search->before[w]);
        more |= search->now[w] & ~search->best_on[w];
    }
    return more != 0;
}

static void terms_switch(struct search *search, const uint64_t *mask)
{
    for (size_t i = 0; i < search->list->count; i++) {
        search->terms.term[i].on = (mask[i / WORD_BITS] >> (i % WORD_BITS) & 1U) != 0;
    }
}

static void look_at_day(struct search *search, int month, int day)
{
    for (size_t edge = 0; edge < search->edge_count; edge++) {
        /* A part of what is on at the best can't plan for more. */
        if (!switch_to(search, edge) && search->best_a >= 0.0) {
            continue;
        }
        terms_switch(search, search->now);
        double planning_a = terms_planning_a(&search->terms, search->factors, NULL);
        if (search->best_a < 0.0 || is_larger(planning_a, search->best_a)) {
            search->best = (struct moment){.month = month, .minute = day * MINUTES_IN_DAY + search->edge_min[edge]};
            search->best_a = planning_a;
            memcpy(search->best_on, search->now, search->words * sizeof *search->now);
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
                mask_of_day(search, month, day, search->starts);
                mask_of_day(search, month, day_before(day), search->before);
                look_at_day(search, month, day);
            }
        }
    }
}

void branch_busiest(const struct house *house, size_t branch, double voltage_v, struct planning_factors factors,
                    unsigned *ret_on, struct moment *ret_moment, struct branch_figures *ret_figures)
{
    branch_busiest_loads(house, branch, voltage_v, factors, ret_on, ret_moment, ret_figures, NULL);
}

void branch_busiest_loads(const struct house *house, size_t branch, double voltage_v, struct planning_factors factors,
                          unsigned *ret_on, struct moment *ret_moment, struct branch_figures *ret_figures,
                          struct load *ret_loads)
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
        find_edges(&search);
        masks_init(&search);
        look_through(&search);
        terms_switch(&search, search.best_on);
        masks_done(&search);
    }
    for (size_t i = 0; ret_on != NULL && i < list->count; i++) {
        ret_on[list->index[i]] = search.terms.term[i].on ? search.terms.term[i].units : 0;
    }
    *ret_moment = search.best;
    size_t motor = NO_INDEX;
    *ret_figures = terms_figures(&search.terms, &house->branches[branch], voltage_v, factors, &motor);
    if (ret_loads != NULL) {
        terms_loads(&search.terms, list, motor, factors, ret_loads);
    }
    terms_done(&search.terms);
}
