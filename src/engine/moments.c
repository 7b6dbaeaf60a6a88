#include "moments.h"

#include <stdlib.h>
#include <string.h>

/* True where the same appliances start on both days (months likewise), so that one stands for the other. */
static bool same_day(const struct house *house, const size_t *index, size_t count, int a, int b)
{
    int a_before = day_before(a);
    int b_before = day_before(b);
    for (size_t i = 0; i < count; i++) {
        unsigned days = house->appliances[index[i]].days;
        if ((days >> a & 1U) != (days >> b & 1U) || (days >> a_before & 1U) != (days >> b_before & 1U)) {
            return false;
        }
    }
    return true;
}

static bool same_month(const struct house *house, const size_t *index, size_t count, int a, int b)
{
    for (size_t i = 0; i < count; i++) {
        unsigned months = house->appliances[index[i]].months;
        if ((months >> a & 1U) != (months >> b & 1U)) {
            return false;
        }
    }
    return true;
}

static void find_edges(struct moments *moments, const struct house *house, const size_t *index, size_t count)
{
    bool is_edge[MINUTES_IN_DAY] = {true};
    for (size_t i = 0; i < count; i++) {
        const struct window_list *use = &house->appliances[index[i]].use;
        for (size_t k = 0; k < use->count; k++) {
            is_edge[use->window[k].start_min % MINUTES_IN_DAY] = true;
            is_edge[use->window[k].end_min % MINUTES_IN_DAY] = true;
        }
    }
    moments->edge_min = memory_resize(NULL, MINUTES_IN_DAY, sizeof *moments->edge_min);
    for (int i = 0; i < MINUTES_IN_DAY; i++) {
        if (is_edge[i]) {
            moments->edge_min[moments->edge_count++] = i;
        }
    }
}

void moments_init(struct moments *moments, const struct house *house, const size_t *index, size_t count)
{
    *moments = (struct moments){0};
    find_edges(moments, house, index, count);
    for (int month = 0; month < MONTHS_IN_YEAR; month++) {
        bool known = false;
        for (size_t i = 0; i < moments->month_count && !known; i++) {
            known = same_month(house, index, count, moments->month[i], month);
        }
        if (!known) {
            moments->month[moments->month_count++] = month;
        }
    }
    for (int day = 0; day < DAYS_IN_WEEK; day++) {
        bool known = false;
        for (size_t i = 0; i < moments->day_count && !known; i++) {
            known = same_day(house, index, count, moments->day[i], day);
        }
        if (!known) {
            moments->day[moments->day_count++] = day;
        }
    }
}

void moments_done(struct moments *moments)
{
    free(moments->edge_min);
}

size_t moments_count(const struct moments *moments)
{
    return moments->edge_count * moments->month_count * moments->day_count;
}

bool moments_next(struct moments *moments, struct moment *ret_at, int *ret_end_min)
{
    if (moments->next == moments_count(moments)) {
        return false;
    }
    size_t number = moments->next++;
    size_t edge = number % moments->edge_count;
    number /= moments->edge_count;
    int day = moments->day[number % moments->day_count];
    *ret_at = (struct moment){.month = moments->month[number / moments->day_count],
                              .minute = day * MINUTES_IN_DAY + moments->edge_min[edge]};
    *ret_end_min = edge + 1 < moments->edge_count ? moments->edge_min[edge + 1] : MINUTES_IN_DAY;
    return true;
}
