#include "ampsum/energy.h"

#include <stdlib.h>

#include "energy_bill.h"

/* What every row needs. */
struct rows_work {
    const struct house *house;
    const struct money *money;
    struct tally *tally;
    int minor_units;
    struct arena *arena;
};

/* Fills a row from what the tally holds. */
static void settle_row(struct rows_work *work, struct energy_row *ret_row)
{
    struct tally *tally = work->tally;
    const struct money *money = work->money;
    tally_settle(tally);
    mpz_t energy, cost, bottom;
    mpz_inits(energy, cost, bottom, NULL);
    for (size_t cell = 0; cell < tally->cell_count; cell++) {
        mpz_add(energy, energy, tally->cell[cell]);
        if (money->tariff != NULL) {
            mpz_addmul(cost, tally->cell[cell], money->weight[cell]);
        }
    }
    mpz_mul_ui(bottom, tally->bottom, MICROWATT_MIN_PER_KWH);
    ret_row->kwh_year = ratio_double(energy, bottom);
    ret_row->standby_kwh_year = ratio_double(tally->standby_energy, bottom);
    mpz_mul_ui(bottom, bottom, DAYS_IN_YEAR);
    ret_row->kwh_day = ratio_double(energy, bottom);
    if (money->tariff != NULL) {
        mpz_mul(bottom, tally->bottom, money->weight_bottom);
        ret_row->cost_year = ratio_money(cost, bottom, work->minor_units, work->arena);
        mpz_mul_ui(bottom, bottom, DAYS_IN_YEAR);
        ret_row->cost_day = ratio_money(cost, bottom, work->minor_units, work->arena);
    }
    mpz_clears(energy, cost, bottom, NULL);
}

static void add_to_row(struct rows_work *work, size_t appliance, struct energy_row *row)
{
    tally_add(work->tally, &work->house->appliances[appliance]);
    row->spread_over_day = row->spread_over_day || is_spread_over_day(&work->house->appliances[appliance]);
}

static struct energy_row *appliance_rows(struct rows_work *work)
{
    struct energy_row *rows = arena_array(work->arena, work->house->appliance_count, sizeof *rows);
    for (size_t i = 0; i < work->house->appliance_count; i++) {
        tally_clear(work->tally);
        add_to_row(work, i, &rows[i]);
        settle_row(work, &rows[i]);
    }
    return rows;
}

static struct energy_row *branch_rows(struct rows_work *work)
{
    struct energy_row *rows = arena_array(work->arena, work->house->branch_count, sizeof *rows);
    for (size_t i = 0; i < work->house->branch_count; i++) {
        const struct index_list *list = &work->house->branches[i].appliances;
        tally_clear(work->tally);
        for (size_t k = 0; k < list->count; k++) {
            add_to_row(work, list->index[k], &rows[i]);
        }
        settle_row(work, &rows[i]);
    }
    return rows;
}

/* Appliances by room: next_in_room of each, first of each room, behind them of those without one; NO_INDEX ends a
 * chain. */
static size_t *chain_rooms(const struct house *house, size_t *ret_first)
{
    size_t *next = memory_resize(NULL, house->appliance_count + 1, sizeof *next);
    for (size_t i = 0; i <= house->room_count; i++) {
        ret_first[i] = NO_INDEX;
    }
    for (size_t i = house->appliance_count; i-- > 0;) {
        const size_t given = house->appliances[i].room;
        const size_t room = given == NO_INDEX ? house->room_count : given;
        next[i] = ret_first[room];
        ret_first[room] = i;
    }
    return next;
}

static struct energy_row *room_rows(struct rows_work *work)
{
    struct energy_row *rows = arena_array(work->arena, work->house->room_count + 1, sizeof *rows);
    size_t *first = memory_resize(NULL, work->house->room_count + 1, sizeof *first);
    size_t *next = chain_rooms(work->house, first);
    for (size_t i = 0; i <= work->house->room_count; i++) {
        tally_clear(work->tally);
        for (size_t k = first[i]; k != NO_INDEX; k = next[k]) {
            add_to_row(work, k, &rows[i]);
        }
        settle_row(work, &rows[i]);
    }
    free(next);
    free(first);
    return rows;
}

static void fill_rows(struct rows_work *work, unsigned rows, struct energy_bill *bill)
{
    if ((rows & ENERGY_APPLIANCES) != 0) {
        bill->appliances = appliance_rows(work);
    }
    if ((rows & ENERGY_ROOMS) != 0) {
        bill->rooms = room_rows(work);
    }
    if ((rows & ENERGY_BRANCHES) != 0) {
        bill->branches = branch_rows(work);
    }
}

void energy_year_rows(const struct house *house, size_t tariff, int minor_units, unsigned rows, struct arena *arena,
                      struct energy_bill *ret_bill)
{
    struct arena *scratch = arena_new();
    const struct tariff *priced = tariff == NO_INDEX ? NULL : &house->tariffs[tariff];
    bool blocks = priced != NULL && priced->blocks.count > 0;
    struct prices prices;
    prices_init(&prices, house, priced, scratch);
    struct tally tally;
    tally_init(&tally, house, &prices, true);
    for (size_t i = 0; i < house->appliance_count; i++) {
        tally_add(&tally, &house->appliances[i]);
    }
    tally_settle(&tally);
    struct money money;
    money_init(&money, house, priced, &tally);
    money_bill(&money, &tally, minor_units, arena, ret_bill);
    tally_done(&tally);
    if (rows != 0) {
        tally_init(&tally, house, &prices, blocks);
        struct rows_work work = {house, &money, &tally, minor_units, arena};
        fill_rows(&work, rows, ret_bill);
        tally_done(&tally);
    }
    money_done(&money);
    arena_free(scratch);
}
