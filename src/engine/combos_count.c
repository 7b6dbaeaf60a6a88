#include "combos_plan.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

/*
 * Counting without listing. A minimal set is known by its smallest item j and the rest T of it, made of items before j:
 * T does not overload, T and k units of j do, for exactly one k. So the sets whose smallest item is j number as many as
 * there are T with a sum in (limit - count_j * step_j, limit]. Where the lead's head is the smallest, T are the items
 * that weigh more than it, and the window is (limit - head, limit] without it.
 */

#define TABLE_STEPS_QUICK 400000.0 /* tried before listing: below a millisecond */
#define TABLE_STEPS_MOST 5e8       /* words added: about a second */
#define TABLE_CELLS_MOST 16777216.0
#define LIST_NODES_QUICK 400000
#define LIST_NODES_MOST 20000000
#define HALF_ENTRIES_MOST 4194304
#define MERGES_MOST 2e8 /* 40 units take a third of that */

static void number_add(struct combos_number *number, const uint64_t *limbs, int limb_count)
{
    unsigned carry = 0;
    for (int i = 0; i < COMBOS_LIMBS; i++) {
        uint64_t other = i < limb_count ? limbs[i] : 0;
        uint64_t sum = number->limb[i] + other;
        unsigned next = sum < other;
        sum += carry;
        next += sum < carry;
        number->limb[i] = sum;
        carry = next;
    }
}

void number_add_small(struct combos_number *number, uint64_t value)
{
    number_add(number, &value, 1);
}

void combos_number_text(const struct combos_number *number, struct text *text)
{
    uint64_t limb[COMBOS_LIMBS];
    memcpy(limb, number->limb, sizeof limb);
    char digits[80];
    size_t start = sizeof digits - 1;
    digits[start] = '\0';
    bool more = true;
    while (more) {
        uint64_t remainder = 0;
        more = false;
        for (int i = COMBOS_LIMBS - 1; i >= 0; i--) {
            /* two halves of 32 bits, so that the remainder of ten and a half fit together */
            uint64_t high = (remainder << 32) | (limb[i] >> 32);
            uint64_t low = ((high % 10) << 32) | (limb[i] & UINT32_MAX);
            limb[i] = (high / 10) << 32 | low / 10;
            remainder = low % 10;
            more = more || limb[i] > 0;
        }
        digits[--start] = (char)('0' + remainder);
    }
    text_add(text, digits + start);
}

double combos_number_value(const struct combos_number *number, bool *ret_fits)
{
    double value = 0;
    bool fits = number->limb[0] <= INT64_MAX;
    for (int i = COMBOS_LIMBS - 1; i >= 0; i--) {
        value = ldexp(value, 64) + (double)number->limb[i];
        fits = fits && (i == 0 || number->limb[i] == 0);
    }
    if (ret_fits != NULL) {
        *ret_fits = fits;
    }
    return value;
}

/* Number of T by sum, one row of sums for each choice of used groups; `limbs` words of 64 bits a number. */
struct table {
    const struct system *system;
    uint64_t limit;
    size_t width; /* words in a row: (limit + 1) * limbs */
    size_t limbs;
    size_t rows;
    uint64_t *cells;
    uint64_t *spare; /* one row */
};

static inline void add_words(uint64_t *sum, const uint64_t *other, size_t limbs)
{
    uint64_t carry = 0;
    for (size_t i = 0; i < limbs; i++) {
        uint64_t a = sum[i] + other[i];
        uint64_t b = a + carry;
        carry = (uint64_t)(a < other[i]) | (uint64_t)(b < carry);
        sum[i] = b;
    }
}

static inline void take_words(uint64_t *sum, const uint64_t *other, size_t limbs)
{
    uint64_t borrow = 0;
    for (size_t i = 0; i < limbs; i++) {
        uint64_t a = sum[i] - other[i];
        uint64_t b = a - borrow;
        borrow = (uint64_t)(a > sum[i]) | (uint64_t)(b > a);
        sum[i] = b;
    }
}

/* to[s] = from[s] + from[s - step] */
static void row_shift_add(const uint64_t *restrict from, uint64_t *restrict to, size_t width, size_t offset,
                          size_t limbs)
{
    memcpy(to, from, width * sizeof *to);
    if (offset >= width) {
        return;
    }
    if (limbs == 1) {
        for (size_t i = offset; i < width; i++) {
            to[i] += from[i - offset];
        }
        return;
    }
    for (size_t i = offset; i < width; i += limbs) {
        add_words(to + i, from + i - offset, limbs);
    }
}

/* row[s] becomes the sum over 0 .. count units of row[s - k * step]. */
static void row_add_units(uint64_t *row, size_t width, size_t offset, uint32_t count, size_t limbs)
{
    for (size_t i = offset; i < width; i += limbs) {
        add_words(row + i, row + i - offset, limbs);
    }
    size_t window = offset * ((size_t)count + 1);
    if (window >= width) {
        return;
    }
    for (size_t i = width; i > window;) {
        i -= limbs;
        take_words(row + i, row + i - window, limbs);
    }
}

static void table_add_item(struct table *table, const struct item *item)
{
    size_t offset = (size_t)item->step * table->limbs;
    if (item->group != NO_GROUP) {
        size_t bit = (size_t)1 << item->group;
        for (size_t row = 0; row < table->rows; row++) {
            if ((row & bit) != 0) {
                continue;
            }
            uint64_t *from = table->cells + row * table->width;
            uint64_t *to = table->cells + (row | bit) * table->width;
            memcpy(table->spare, from, table->width * sizeof *from);
            row_add_units(table->spare, table->width, offset, item->count, table->limbs);
            for (size_t i = 0; i < table->width; i += table->limbs) {
                take_words(table->spare + i, from + i, table->limbs);
                add_words(to + i, table->spare + i, table->limbs);
            }
        }
        return;
    }
    for (size_t row = 0; row < table->rows; row++) {
        uint64_t *cells = table->cells + row * table->width;
        if (item->count == 1) {
            memcpy(table->spare, cells, table->width * sizeof *cells);
            row_shift_add(table->spare, cells, table->width, offset, table->limbs);
        } else {
            row_add_units(cells, table->width, offset, item->count, table->limbs);
        }
    }
}

/* Adds how many T have a sum in (low, high], of the rows where `group` is not used. */
static void table_query(const struct table *table, uint64_t low, uint64_t high, uint32_t group,
                        struct combos_number *number)
{
    for (size_t row = 0; row < table->rows; row++) {
        if (group != NO_GROUP && (row >> group & 1) != 0) {
            continue;
        }
        const uint64_t *cells = table->cells + row * table->width;
        uint64_t total[COMBOS_LIMBS] = {0};
        if (table->limbs == 1) {
            for (uint64_t s = low + 1; s <= high; s++) {
                total[0] += cells[s];
            }
        } else {
            for (uint64_t s = low + 1; s <= high; s++) {
                add_words(total, cells + s * table->limbs, table->limbs);
            }
        }
        number_add(number, total, (int)table->limbs);
    }
}

static void table_run(struct table *table, struct combos_number *number)
{
    const struct system *system = table->system;
    for (size_t i = 0; i < system->item_count; i++) {
        const struct item *item = &system->items[i];
        if (system->lead != NO_LEAD && i == system->head_place) {
            table_query(table, table->limit - system->head, table->limit, NO_GROUP, number);
        }
        if (i >= system->head_place) {
            uint64_t high = table->limit - system->base;
            uint64_t most = item->step * item->count;
            if (most > high) {
                /* sums from 0 on: the window begins below them */
                table_query(table, UINT64_MAX, high, item->group, number);
            } else {
                table_query(table, high - most, high, item->group, number);
            }
        }
        table_add_item(table, item);
    }
    if (system->lead != NO_LEAD && system->head_place == system->item_count) {
        table_query(table, table->limit - system->head, table->limit, NO_GROUP, number);
    }
}

/* Words that a number needs: all sub-multisets of the items, and one bit to spare; 0 where there are too many. */
static size_t limbs_needed(const struct system *system)
{
    double bits = 2;
    for (size_t i = 0; i < system->item_count; i++) {
        bits += log2((double)system->items[i].count + 1);
    }
    for (size_t limbs = 1; limbs <= COMBOS_LIMBS; limbs *= 2) {
        if (bits <= 64.0 * (double)limbs) {
            return limbs;
        }
    }
    return 0;
}

/* Words that the table would touch; infinite where it can't be used. */
static double table_cost(const struct plan *plan, const struct system *system)
{
    size_t limbs = limbs_needed(system);
    if (!plan->on_grid || limbs == 0 || system->group_count > 12) {
        return INFINITY;
    }
    double cells = (double)(plan->limit + 1) * (double)limbs * ldexp(1, (int)system->group_count);
    return cells <= TABLE_CELLS_MOST ? cells * (double)(system->item_count + 1) : INFINITY;
}

static void table_count(const struct plan *plan, const struct system *system, struct combos_number *number)
{
    if (system->base > plan->limit) {
        number_add_small(number, 1);
        return;
    }
    struct table table = {.system = system, .limit = plan->limit, .limbs = limbs_needed(system)};
    table.width = (size_t)(plan->limit + 1) * table.limbs;
    table.rows = (size_t)1 << system->group_count;
    table.cells = memory_resize(NULL, table.width * table.rows, sizeof *table.cells);
    memset(table.cells, 0, table.width * table.rows * sizeof *table.cells);
    table.spare = memory_resize(NULL, table.width, sizeof *table.spare);
    table.cells[0] = 1;
    table_run(&table, number);
    free(table.cells);
    free(table.spare);
}

/*
 * Two half lists: the items (whole groups together) are dealt to two halves; for each smallest item j the sums of
 * either half, made of the items before j, are listed in order, and the pairs that fall into the window counted in one
 * sweep.
 */
struct halves {
    const struct system *system;
    uint64_t limit;
    uint8_t *half;    /* of each item */
    uint64_t *sum[2]; /* sorted */
    size_t count[2];
    uint64_t *work[2];
    double *merges_left; /* entries that may still be merged, of all systems together */
};

static double choices_bits(const struct system *system, size_t i)
{
    double choices = 1 + system->items[i].count;
    for (size_t j = i + 1; system->items[i].group != NO_GROUP && j < system->item_count; j++) {
        choices += system->items[j].group == system->items[i].group ? system->items[j].count : 0;
    }
    return log2(choices);
}

/* Deals items and groups alternately by weight of choice; returns the bits of the larger half. */
static double deal(struct halves *halves)
{
    const struct system *system = halves->system;
    double bits[2] = {0, 0};
    for (size_t i = 0; i < system->item_count; i++) {
        uint32_t group = system->items[i].group;
        size_t earlier = i;
        for (size_t j = 0; group != NO_GROUP && j < i && earlier == i; j++) {
            earlier = system->items[j].group == group ? j : i;
        }
        if (earlier != i) {
            halves->half[i] = halves->half[earlier];
            continue;
        }
        halves->half[i] = bits[1] < bits[0];
        bits[halves->half[i]] += choices_bits(system, i);
    }
    return bits[0] > bits[1] ? bits[0] : bits[1];
}

/* Merges `count` sorted sums of `list` with those of `base` raised by `raise`, up to `most`; the number of sums. */
static size_t merge_raised(const uint64_t *list, size_t count, const uint64_t *base, size_t base_count, uint64_t raise,
                           uint64_t most, uint64_t *into)
{
    size_t i = 0;
    size_t used = 0;
    for (size_t j = 0; j < base_count; j++) {
        uint64_t raised = base[j] + raise;
        if (raised > most) {
            break;
        }
        while (i < count && list[i] <= raised) {
            into[used++] = list[i++];
        }
        into[used++] = raised;
    }
    memcpy(into + used, list + i, (count - i) * sizeof *into);
    return used + count - i;
}

/* Adds the choices of the item's units to what `grown` holds, from the sums `base` without it. */
static bool grow_half(struct halves *halves, int side, const struct item *item, size_t base_count, uint64_t most)
{
    uint64_t raise = 0;
    for (uint32_t units = 1; units <= item->count; units++) {
        raise += item->step;
        if (raise > most) {
            return true;
        }
        *halves->merges_left -= (double)(halves->count[side] + base_count);
        if (halves->count[side] + base_count > HALF_ENTRIES_MOST || *halves->merges_left < 0) {
            return false;
        }
        halves->count[side] = merge_raised(halves->sum[side], halves->count[side], halves->work[0], base_count, raise,
                                           most, halves->work[1]);
        uint64_t *swapped = halves->sum[side];
        halves->sum[side] = halves->work[1];
        halves->work[1] = swapped;
    }
    return true;
}

/* Lists one half's sums up to `most`, of the items before `end`, without the group `closed`. */
static bool list_half(struct halves *halves, int side, size_t end, uint32_t closed, uint64_t most)
{
    const struct system *system = halves->system;
    halves->sum[side][0] = 0;
    halves->count[side] = 1;
    for (size_t i = 0; i < end; i++) {
        const struct item *item = &system->items[i];
        if (halves->half[i] != side || (item->group != NO_GROUP && item->group == closed)) {
            continue;
        }
        bool begun = false; /* a group is added where its first member stands, all members from the same base */
        for (size_t j = 0; item->group != NO_GROUP && j < i && !begun; j++) {
            begun = system->items[j].group == item->group;
        }
        if (begun) {
            continue;
        }
        size_t base_count = halves->count[side];
        memcpy(halves->work[0], halves->sum[side], base_count * sizeof *halves->work[0]);
        for (size_t j = i; j < end; j++) {
            bool wanted = j == i || (item->group != NO_GROUP && system->items[j].group == item->group);
            if (wanted && !grow_half(halves, side, &system->items[j], base_count, most)) {
                return false;
            }
        }
    }
    return true;
}

/* Pairs of a sum of either half that add up to at most `most`. */
static uint64_t pairs_at_most(const struct halves *halves, uint64_t most)
{
    uint64_t pairs = 0;
    size_t j = halves->count[1];
    for (size_t i = 0; i < halves->count[0] && halves->sum[0][i] <= most; i++) {
        while (j > 0 && halves->sum[0][i] + halves->sum[1][j - 1] > most) {
            j--;
        }
        pairs += j;
    }
    return pairs;
}

static bool halves_query(struct halves *halves, size_t end, uint32_t closed, uint64_t window, uint64_t high,
                         struct combos_number *number)
{
    if (!list_half(halves, 0, end, closed, high) || !list_half(halves, 1, end, closed, high)) {
        return false;
    }
    uint64_t below = window > high ? 0 : pairs_at_most(halves, high - window);
    number_add_small(number, pairs_at_most(halves, high) - below);
    return true;
}

static bool halves_run(struct halves *halves, struct combos_number *number)
{
    const struct system *system = halves->system;
    bool ok = true;
    if (system->lead != NO_LEAD) {
        ok = halves_query(halves, system->head_place, NO_GROUP, system->head, halves->limit, number);
    }
    for (size_t j = system->head_place; j < system->item_count && ok; j++) {
        const struct item *item = &system->items[j];
        ok = halves_query(halves, j, item->group, item->step * item->count, halves->limit - system->base, number);
    }
    return ok;
}

/* False where a half would be longer than is held. */
static bool halves_count(const struct plan *plan, const struct system *system, double *merges_left,
                         struct combos_number *number)
{
    if (system->base > plan->limit) {
        number_add_small(number, 1);
        return true;
    }
    if (system->item_count > 4096) {
        return false;
    }
    struct halves halves = {.system = system, .limit = plan->limit, .merges_left = merges_left};
    halves.half = memory_new(system->item_count);
    double bits = deal(&halves);
    size_t room = bits > 22 ? HALF_ENTRIES_MOST : (size_t)ceil(exp2(bits)) + 2;
    for (int i = 0; i < 2; i++) {
        halves.sum[i] = memory_resize(NULL, room, sizeof **halves.sum);
        halves.work[i] = memory_resize(NULL, room, sizeof **halves.work);
    }
    struct combos_number found = {.exact = true};
    bool ok = halves_run(&halves, &found);
    for (int i = 0; i < 2; i++) {
        free(halves.sum[i]);
        free(halves.work[i]);
    }
    free(halves.half);
    if (ok) {
        number_add(number, found.limb, COMBOS_LIMBS);
    }
    return ok;
}

static bool count_by_list(const struct plan *plan, uint64_t budget, struct combos_number *ret_number)
{
    struct combos_number number = {.exact = true};
    number_add_small(&number, plan->single_count);
    for (size_t i = 0; i < plan->system_count && number.exact; i++) {
        number.exact = list_count(plan, &plan->systems[i], &budget, &number);
    }
    *ret_number = number;
    return number.exact;
}

static bool count_by_tables(const struct plan *plan, double budget, struct combos_number *ret_number)
{
    double cost = 0;
    for (size_t i = 0; i < plan->system_count; i++) {
        cost += table_cost(plan, &plan->systems[i]);
    }
    if (!(cost <= budget)) {
        return false;
    }
    struct combos_number number = {.exact = true};
    number_add_small(&number, plan->single_count);
    for (size_t i = 0; i < plan->system_count; i++) {
        table_count(plan, &plan->systems[i], &number);
    }
    *ret_number = number;
    return true;
}

static bool count_by_halves(const struct plan *plan, struct combos_number *ret_number)
{
    struct combos_number number = {.exact = true};
    double merges_left = MERGES_MOST;
    number_add_small(&number, plan->single_count);
    for (size_t i = 0; i < plan->system_count; i++) {
        if (!halves_count(plan, &plan->systems[i], &merges_left, &number)) {
            return false;
        }
    }
    *ret_number = number;
    return true;
}

struct combos_number combos_count(const struct combos_problem *problem)
{
    struct plan plan;
    plan_init(&plan, problem);
    struct combos_number number = {.exact = false};
    if (plan.too_big) {
        number_add_small(&number, plan.single_count);
    } else if (!count_by_tables(&plan, TABLE_STEPS_QUICK, &number) &&
               !count_by_list(&plan, LIST_NODES_QUICK, &number) && !count_by_tables(&plan, TABLE_STEPS_MOST, &number) &&
               !count_by_halves(&plan, &number)) {
        count_by_list(&plan, LIST_NODES_MOST, &number);
    }
    plan_done(&plan);
    return number;
}
