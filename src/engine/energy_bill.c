#include "energy_bill.h"

#include <stdlib.h>

enum { PERCENT = 100 };

/* ------------------------------------------------------------------ charges ------------------------------- */

/* Energy of one month, over the tally's bottom, from the cells of a tally by month. */
static void month_energy(const struct tally *tally, int month, mpz_t ret_energy)
{
    size_t cells = tally->prices->cell_count;
    mpz_set_ui(ret_energy, 0);
    for (size_t cell = 0; cell < cells; cell++) {
        mpz_add(ret_energy, ret_energy, tally->cell[(size_t)month * cells + cell]);
    }
}

/* The same in kWh. */
static void month_kwh(const struct tally *tally, int month, mpq_t ret_kwh)
{
    month_energy(tally, month, mpq_numref(ret_kwh));
    mpz_mul_ui(mpq_denref(ret_kwh), tally->bottom, MICROWATT_MIN_PER_KWH);
    mpq_canonicalize(ret_kwh);
}

/* Each step's price for the energy between its bounds, each bound times the days of the month over the billing days. */
static void charge_blocks(const struct house *house, const struct block_list *blocks, const mpq_t kwh, int month,
                          mpq_t ret_charge)
{
    mpq_t lower, upper, price;
    mpq_inits(lower, upper, price, NULL);
    mpq_set_ui(ret_charge, 0, 1);
    for (size_t i = 0; i < blocks->count && mpq_cmp(kwh, lower) > 0; i++) {
        if (blocks->block[i].upper_kwh == NULL) {
            mpq_set(upper, kwh);
        } else {
            rational_of_text(upper, blocks->block[i].upper_kwh);
            mpq_set_ui(price, (unsigned long)month_days[month], (unsigned long)house->billing_days);
            mpq_canonicalize(price);
            mpq_mul(upper, upper, price);
        }
        if (mpq_cmp(upper, kwh) > 0) {
            mpq_set(upper, kwh);
        }
        rational_of_text(price, blocks->block[i].price);
        mpq_sub(lower, upper, lower);
        mpq_mul(price, price, lower);
        mpq_add(ret_charge, ret_charge, price);
        mpq_set(lower, upper);
    }
    mpq_clears(lower, upper, price, NULL);
}

/* By the price of each cell: a whole number over a denominator that all share. */
static void charge_cells(const struct tally *tally, const mpz_t *price, const mpz_t price_bottom, int month,
                         mpq_t ret_charge)
{
    size_t cells = tally->prices->cell_count;
    mpz_set_ui(mpq_numref(ret_charge), 0);
    for (size_t cell = 0; cell < cells; cell++) {
        mpz_addmul(mpq_numref(ret_charge), tally->cell[(size_t)month * cells + cell], price[cell]);
    }
    mpz_mul_ui(mpq_denref(ret_charge), tally->bottom, MICROWATT_MIN_PER_KWH);
    mpz_mul(mpq_denref(ret_charge), mpq_denref(ret_charge), price_bottom);
    mpq_canonicalize(ret_charge);
}

/* ------------------------------------------------------------------ weights ------------------------------- */

/* Takes rationals to whole numbers over one denominator. */
static void share_bottom(const mpq_t *value, size_t count, mpz_t *ret_whole, mpz_t ret_bottom)
{
    mpz_set_ui(ret_bottom, 1);
    for (size_t i = 0; i < count; i++) {
        mpz_lcm(ret_bottom, ret_bottom, mpq_denref(value[i]));
    }
    for (size_t i = 0; i < count; i++) {
        mpz_divexact(ret_whole[i], ret_bottom, mpq_denref(value[i]));
        mpz_mul(ret_whole[i], ret_whole[i], mpq_numref(value[i]));
    }
}

/* Takes rational weights of a kWh, before tax, to whole numbers over one denominator, of a microwatt minute, with tax.
 */
static void set_weights(struct money *money, mpq_t *weight)
{
    for (size_t i = 0; i < money->weight_count; i++) {
        mpq_mul(weight[i], weight[i], money->with_tax);
    }
    share_bottom((const mpq_t *)weight, money->weight_count, money->weight, money->weight_bottom);
    mpz_mul_ui(money->weight_bottom, money->weight_bottom, MICROWATT_MIN_PER_KWH);
}

static mpq_t *weights_new(struct money *money, size_t count)
{
    money->weight_count = count;
    money->weight = memory_resize(NULL, count, sizeof *money->weight);
    mpq_t *weight = memory_resize(NULL, count, sizeof *weight);
    for (size_t i = 0; i < count; i++) {
        mpz_init(money->weight[i]);
        mpq_init(weight[i]);
    }
    return weight;
}

static void weights_free(mpq_t *weight, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        mpq_clear(weight[i]);
    }
    free(weight);
}

/* Under blocks a kWh of a month costs what the month's kWh cost on average. */
static void price_blocks(struct money *money, const struct house *house, const struct tally *tally)
{
    mpq_t *weight = weights_new(money, MONTHS_IN_YEAR);
    for (int month = 0; month < MONTHS_IN_YEAR; month++) {
        month_kwh(tally, month, weight[month]);
        charge_blocks(house, &money->tariff->blocks, weight[month], month, money->charge[month]);
        if (mpq_sgn(weight[month]) != 0) {
            mpq_div(weight[month], money->charge[month], weight[month]);
        }
    }
    set_weights(money, weight);
    weights_free(weight, MONTHS_IN_YEAR);
}

static void price_cells(struct money *money, const struct tally *tally)
{
    size_t cells = tally->prices->cell_count;
    mpq_t *weight = weights_new(money, cells);
    for (size_t cell = 0; cell < cells; cell++) {
        rational_of_text(weight[cell], tally->prices->cell_price[cell]);
    }
    share_bottom((const mpq_t *)weight, cells, money->weight, money->weight_bottom);
    for (int month = 0; month < MONTHS_IN_YEAR; month++) {
        charge_cells(tally, (const mpz_t *)money->weight, money->weight_bottom, month, money->charge[month]);
    }
    set_weights(money, weight);
    weights_free(weight, cells);
}

void money_init(struct money *money, const struct house *house, const struct tariff *tariff, const struct tally *tally)
{
    *money = (struct money){.tariff = tariff};
    if (tariff == NULL) {
        return;
    }
    for (int month = 0; month < MONTHS_IN_YEAR; month++) {
        mpq_init(money->charge[month]);
    }
    mpq_inits(money->standing, money->with_tax, NULL);
    mpz_init(money->weight_bottom);
    rational_of_text(money->standing, tariff->standing);
    rational_of_text(money->with_tax, tariff->tax_percent);
    mpz_mul_ui(mpq_denref(money->with_tax), mpq_denref(money->with_tax), PERCENT);
    mpz_add(mpq_numref(money->with_tax), mpq_numref(money->with_tax), mpq_denref(money->with_tax));
    mpq_canonicalize(money->with_tax);
    if (tariff->blocks.count > 0) {
        price_blocks(money, house, tally);
    } else {
        price_cells(money, tally);
    }
}

void money_done(struct money *money)
{
    if (money->tariff == NULL) {
        return;
    }
    for (int month = 0; month < MONTHS_IN_YEAR; month++) {
        mpq_clear(money->charge[month]);
    }
    for (size_t i = 0; i < money->weight_count; i++) {
        mpz_clear(money->weight[i]);
    }
    free(money->weight);
    mpq_clears(money->standing, money->with_tax, NULL);
    mpz_clear(money->weight_bottom);
}

/* ------------------------------------------------------------------ the bill ------------------------------ */

static const char *rational_money(const mpq_t value, int minor_units, struct arena *arena)
{
    return ratio_money(mpq_numref(value), mpq_denref(value), minor_units, arena);
}

static const char *part_money(const mpq_t value, unsigned long parts, int minor_units, struct arena *arena)
{
    mpz_t bottom;
    mpz_init(bottom);
    mpz_mul_ui(bottom, mpq_denref(value), parts);
    const char *text = ratio_money(mpq_numref(value), bottom, minor_units, arena);
    mpz_clear(bottom);
    return text;
}

static void bill_energy(const struct tally *tally, struct energy_bill *bill)
{
    mpz_t energy, year, bottom;
    mpz_inits(energy, year, bottom, NULL);
    mpz_mul_ui(bottom, tally->bottom, MICROWATT_MIN_PER_KWH);
    for (int month = 0; month < MONTHS_IN_YEAR; month++) {
        month_energy(tally, month, energy);
        mpz_add(year, year, energy);
        bill->months[month].kwh = ratio_double(energy, bottom);
    }
    bill->kwh_year = ratio_double(year, bottom);
    mpz_mul_ui(bottom, bottom, DAYS_IN_YEAR);
    bill->kwh_day = ratio_double(year, bottom);
    mpz_clears(energy, year, bottom, NULL);
}

/* The standing charge of some days. */
static void standing_of(const struct money *money, int days, mpq_t ret_standing)
{
    mpq_set(ret_standing, money->standing);
    mpz_mul_ui(mpq_numref(ret_standing), mpq_numref(ret_standing), (unsigned long)days);
    mpq_canonicalize(ret_standing);
}

/* (charge + standing * days) * with_tax as one fraction in whatever terms: lowest terms cost more than the sum. */
static void month_cost(const struct money *money, int month, mpz_t ret_top, mpz_t ret_bottom)
{
    const mpq_t *charge = &money->charge[month];
    mpz_mul_ui(ret_top, mpq_numref(money->standing), (unsigned long)month_days[month]);
    mpz_mul(ret_top, ret_top, mpq_denref(*charge));
    mpz_addmul(ret_top, mpq_numref(*charge), mpq_denref(money->standing));
    mpz_mul(ret_top, ret_top, mpq_numref(money->with_tax));
    mpz_mul(ret_bottom, mpq_denref(money->standing), mpq_denref(*charge));
    mpz_mul(ret_bottom, ret_bottom, mpq_denref(money->with_tax));
}

static void bill_months(const struct money *money, int minor_units, struct arena *arena, struct energy_bill *bill)
{
    mpz_t top, bottom;
    mpz_inits(top, bottom, NULL);
    for (int month = 0; month < MONTHS_IN_YEAR; month++) {
        month_cost(money, month, top, bottom);
        bill->months[month].cost = ratio_money(top, bottom, minor_units, arena);
    }
    mpz_clears(top, bottom, NULL);
}

static void bill_year(const struct money *money, int minor_units, struct arena *arena, struct energy_bill *bill)
{
    mpq_t energy, standing, cost, tax;
    mpq_inits(energy, standing, cost, tax, NULL);
    for (int month = 0; month < MONTHS_IN_YEAR; month++) {
        mpq_add(energy, energy, money->charge[month]);
    }
    standing_of(money, DAYS_IN_YEAR, standing);
    mpq_add(tax, energy, standing);
    mpq_mul(cost, tax, money->with_tax);
    mpq_sub(tax, cost, tax);
    bill->energy_cost = rational_money(energy, minor_units, arena);
    bill->standing_cost = rational_money(standing, minor_units, arena);
    bill->tax = rational_money(tax, minor_units, arena);
    bill->cost_year = rational_money(cost, minor_units, arena);
    bill->cost_day = part_money(cost, DAYS_IN_YEAR, minor_units, arena);
    bill->cost_month = part_money(cost, MONTHS_IN_YEAR, minor_units, arena);
    mpq_clears(energy, standing, cost, tax, NULL);
}

void money_bill(const struct money *money, const struct tally *tally, int minor_units, struct arena *arena,
                struct energy_bill *ret_bill)
{
    *ret_bill = (struct energy_bill){0};
    bill_energy(tally, ret_bill);
    if (money->tariff != NULL) {
        bill_months(money, minor_units, arena, ret_bill);
        bill_year(money, minor_units, arena, ret_bill);
    }
}
