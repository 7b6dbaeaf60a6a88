#include "ampsum/answer_cost.h"

#include <stdlib.h>

#include "ampsum/reference.h"

int cost_decimals(const struct house *house)
{
    const struct ref_currency *currency = reference_currency(house->currency);
    return currency == NULL ? 2 : currency->minor_units;
}

struct ranked {
    double kwh_year;
    size_t index;
};

static int by_energy(const void *left, const void *right)
{
    const struct ranked *a = left;
    const struct ranked *b = right;
    if (a->kwh_year != b->kwh_year) {
        return a->kwh_year > b->kwh_year ? -1 : 1;
    }
    return a->index < b->index ? -1 : a->index > b->index;
}

static struct cost_rows rank(const struct house *house, enum kind kind, const struct energy_row *rows,
                             struct arena *arena)
{
    struct cost_rows by = {.house = house, .kind = kind, .rows = rows};
    house_rows(house, kind, &by.count);
    by.count += kind == KIND_ROOM && rows[by.count].kwh_year > 0; /* what has no room */
    struct ranked *ranked = arena_array(arena, by.count, sizeof *ranked);
    size_t *order = arena_array(arena, by.count, sizeof *order);
    for (size_t i = 0; i < by.count; i++) {
        ranked[i] = (struct ranked){rows[i].kwh_year, i};
        by.used += rows[i].kwh_year > 0;
    }
    qsort(ranked, by.count, sizeof *ranked, by_energy);
    for (size_t i = 0; i < by.count; i++) {
        order[i] = ranked[i].index;
    }
    by.order = order;
    return by;
}

struct energy_row cost_rest(const struct cost_rows *by, size_t first)
{
    struct energy_row rest = {0};
    for (size_t i = first; i < by->count; i++) {
        rest.kwh_year += by->rows[by->order[i]].kwh_year;
        rest.standby_kwh_year += by->rows[by->order[i]].standby_kwh_year;
    }
    return rest;
}

/* What a month weighs: its money where it has a price, else its energy. */
static double month_weight(const struct energy_month *month)
{
    return month->cost == NULL ? month->kwh : strtod(month->cost, NULL);
}

void cost_find_months(struct cost_answer *answer)
{
    const struct energy_month *months = answer->bill->months;
    int most = 0;
    int least = 0;
    for (int i = 1; i < MONTHS_IN_YEAR; i++) {
        most = month_weight(&months[i]) > month_weight(&months[most]) ? i : most;
        least = month_weight(&months[i]) < month_weight(&months[least]) ? i : least;
    }
    answer->most_month = months[most].kwh > 0 ? most : -1;
    answer->least_month = least;
}

bool cost_is_left_out(const struct cost_answer *answer, size_t appliance)
{
    const struct appliance *it = &answer->house->appliances[appliance];
    const struct energy_row *row = &answer->bill->appliances[appliance];
    return it->use.count == 0 && !(appliance_energy_time_s(it) > 0) && !(row->kwh_year > row->standby_kwh_year);
}

void answer_cost(const struct house *house, size_t tariff, const struct energy_bill *bill,
                 struct cost_answer *ret_answer)
{
    struct cost_answer *answer = ret_answer;
    *answer = (struct cost_answer){.house = house, .tariff = tariff, .bill = bill, .arena = arena_new()};
    if (bill == NULL) {
        struct energy_bill *made = arena_take(answer->arena, sizeof *made);
        energy_year_rows(house, tariff, cost_decimals(house), ENERGY_ALL, answer->arena, made);
        answer->bill = made;
    }
    answer->by[COST_BY_APPLIANCE] = rank(house, KIND_APPLIANCE, answer->bill->appliances, answer->arena);
    answer->by[COST_BY_ROOM] = rank(house, KIND_ROOM, answer->bill->rooms, answer->arena);
    answer->by[COST_BY_BRANCH] = rank(house, KIND_BRANCH, answer->bill->branches, answer->arena);
    cost_find_months(answer);
}

void cost_answer_done(struct cost_answer *answer)
{
    arena_free(answer->arena);
    *answer = (struct cost_answer){0};
}

void answer_cost_tariffs(const struct house *house, const size_t *tariffs, size_t count,
                         struct cost_tariffs *ret_answer)
{
    *ret_answer = (struct cost_tariffs){.house = house, .count = count, .arena = arena_new()};
    ret_answer->rows = arena_array(ret_answer->arena, count, sizeof *ret_answer->rows);
    for (size_t i = 0; i < count; i++) {
        struct cost_tariff *row = &ret_answer->rows[i];
        row->tariff = &house->tariffs[tariffs[i]];
        energy_year_rows(house, tariffs[i], cost_decimals(house), 0, ret_answer->arena, &row->bill);
    }
}

void cost_tariffs_done(struct cost_tariffs *answer)
{
    arena_free(answer->arena);
    *answer = (struct cost_tariffs){0};
}
