#include "values.h"

#include <assert.h>
#include <stdlib.h>
#include <string.h>

#include "ampsum/arena.h"

void value_set_done(struct value_set *set)
{
    free(set->value);
    free(set->slot);
    free(set->bit);
    *set = (struct value_set){0};
}

static size_t hash(struct fraction value)
{
    uint64_t mixed = value.over * 0x9E3779B97F4A7C15U ^ value.under * 0xC2B2AE3D27D4EB4FU;
    mixed ^= mixed >> 32;
    return (size_t)(mixed * 0x9E3779B97F4A7C15U >> 20);
}

/* The slot of the value, or the free one where it would go. */
static struct fraction *find_slot(const struct value_set *set, struct fraction value)
{
    size_t at = hash(value) & (set->slot_count - 1);
    while (set->slot[at].over != 0 && (set->slot[at].over != value.over || set->slot[at].under != value.under)) {
        at = (at + 1) & (set->slot_count - 1);
    }
    return &set->slot[at];
}

void value_set_bound(struct value_set *set, uint64_t bound)
{
    size_t words = (size_t)((bound + 1) * (bound + 1) / 64 + 1);
    set->bound = bound;
    set->bit = memory_resize(NULL, words, sizeof *set->bit);
    memset(set->bit, 0, words * sizeof *set->bit);
}

static uint64_t *find_bit(const struct value_set *set, struct fraction value, uint64_t *ret_mask)
{
    uint64_t at = value.over * (set->bound + 1) + value.under;
    *ret_mask = (uint64_t)1 << (at % 64);
    return &set->bit[at / 64];
}

bool value_set_has(const struct value_set *set, struct fraction value)
{
    if (set->bound > 0) {
        uint64_t mask;
        return value.over <= set->bound && value.under <= set->bound && (*find_bit(set, value, &mask) & mask) != 0;
    }
    return set->count > 0 && find_slot(set, value)->over != 0;
}

static void value_set_reserve(struct value_set *set, size_t count)
{
    size_t slots = set->slot_count == 0 ? 16 : set->slot_count;
    while (slots < 2 * count) {
        slots *= 2;
    }
    if (slots == set->slot_count) {
        return;
    }
    free(set->slot);
    set->slot = memory_resize(NULL, slots, sizeof *set->slot);
    memset(set->slot, 0, slots * sizeof *set->slot);
    set->slot_count = slots;
    for (size_t i = 0; i < set->count; i++) {
        *find_slot(set, set->value[i]) = set->value[i];
    }
}

static void append(struct value_set *set, struct fraction value)
{
    set->value = memory_grow(set->value, set->count, &set->capacity, sizeof *set->value);
    set->value[set->count++] = value;
}

static void add_bit(struct value_set *set, struct fraction value)
{
    assert(value.over <= set->bound && value.under <= set->bound);
    uint64_t mask;
    uint64_t *word = find_bit(set, value, &mask);
    if ((*word & mask) == 0) {
        *word |= mask;
        append(set, value);
    }
}

void value_set_add(struct value_set *set, struct fraction value)
{
    if (set->bound > 0) {
        add_bit(set, value);
        return;
    }
    if (2 * (set->count + 1) > set->slot_count) {
        value_set_reserve(set, 4 * (set->count + 1));
    }
    struct fraction *slot = find_slot(set, value);
    if (slot->over == 0) {
        append(set, value);
        *slot = value;
    }
}

/* Greatest common divisor by shifts; both above 0. */
static uint64_t common_divisor(uint64_t a, uint64_t b)
{
    int shift = __builtin_ctzll(a | b);
    a >>= __builtin_ctzll(a);
    while (b != 0) {
        b >>= __builtin_ctzll(b);
        uint64_t smaller = a < b ? a : b;
        b = a < b ? b - a : a - b;
        a = smaller;
    }
    return a << shift;
}

static struct fraction fraction_reduce(uint64_t over, uint64_t under)
{
    uint64_t divisor = common_divisor(over, under);
    return (struct fraction){over / divisor, under / divisor};
}

struct fraction fraction_inverse(struct fraction value)
{
    return (struct fraction){value.under, value.over};
}

/* Knuth, The Art of Computer Programming, volume 2, 4.5.1: only the common part of the denominators can cancel. */
bool fraction_add(struct fraction a, struct fraction b, struct fraction *ret_sum)
{
    uint64_t common = common_divisor(a.under, b.under);
    uint64_t left;
    uint64_t right;
    uint64_t over;
    uint64_t under;
    if (__builtin_mul_overflow(a.over, b.under / common, &left) ||
        __builtin_mul_overflow(b.over, a.under / common, &right) || __builtin_add_overflow(left, right, &over)) {
        return false;
    }
    uint64_t rest = common == 1 ? 1 : common_divisor(over, common);
    if (__builtin_mul_overflow(a.under / common, b.under / rest, &under)) {
        return false;
    }
    *ret_sum = (struct fraction){over / rest, under};
    return true;
}

bool fraction_subtract(struct fraction a, struct fraction b, struct fraction *ret_difference)
{
    uint64_t left;
    uint64_t right;
    uint64_t under;
    if (__builtin_mul_overflow(a.over, b.under, &left) || __builtin_mul_overflow(b.over, a.under, &right) ||
        __builtin_mul_overflow(a.under, b.under, &under) || left <= right) {
        return false;
    }
    *ret_difference = fraction_reduce(left - right, under);
    return true;
}
