#include "values.h"

#include <stdlib.h>
#include <string.h>

#include "ampsum/arena.h"

void value_set_done(struct value_set *set)
{
    free(set->value);
    free(set->slot);
    *set = (struct value_set){0};
}

static size_t hash(struct fraction value)
{
    uint64_t mixed = value.over * 0x9E3779B97F4A7C15U ^ value.under * 0xC2B2AE3D27D4EB4FU;
    mixed ^= mixed >> 32;
    return (size_t)(mixed * 0x9E3779B97F4A7C15U >> 20);
}

/* The slot of the value, or the free one where it would go. */
static size_t find_slot(const struct value_set *set, struct fraction value)
{
    size_t at = hash(value) & (set->slot_count - 1);
    while (set->slot[at] != 0) {
        const struct fraction *there = &set->value[set->slot[at] - 1];
        if (there->over == value.over && there->under == value.under) {
            break;
        }
        at = (at + 1) & (set->slot_count - 1);
    }
    return at;
}

bool value_set_has(const struct value_set *set, struct fraction value)
{
    return set->count > 0 && set->slot[find_slot(set, value)] != 0;
}

static void value_set_spread(struct value_set *set)
{
    size_t slots = set->slot_count == 0 ? 16 : set->slot_count * 4;
    free(set->slot);
    set->slot = memory_resize(NULL, slots, sizeof *set->slot);
    memset(set->slot, 0, slots * sizeof *set->slot);
    set->slot_count = slots;
    for (size_t i = 0; i < set->count; i++) {
        set->slot[find_slot(set, set->value[i])] = (uint32_t)(i + 1);
    }
}

void value_set_add(struct value_set *set, struct fraction value)
{
    if (2 * (set->count + 1) > set->slot_count) {
        value_set_spread(set);
    }
    size_t at = find_slot(set, value);
    if (set->slot[at] == 0) {
        set->value = memory_grow(set->value, set->count, &set->capacity, sizeof *set->value);
        set->value[set->count++] = value;
        set->slot[at] = (uint32_t)set->count;
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

struct fraction fraction_reduce(uint64_t over, uint64_t under)
{
    uint64_t divisor = common_divisor(over, under);
    return (struct fraction){over / divisor, under / divisor};
}

struct fraction fraction_inverse(struct fraction value)
{
    return (struct fraction){value.under, value.over};
}

bool fraction_add(struct fraction a, struct fraction b, struct fraction *ret_sum)
{
    uint64_t left;
    uint64_t right;
    uint64_t over;
    uint64_t under;
    if (__builtin_mul_overflow(a.over, b.under, &left) || __builtin_mul_overflow(b.over, a.under, &right) ||
        __builtin_add_overflow(left, right, &over) || __builtin_mul_overflow(a.under, b.under, &under)) {
        return false;
    }
    *ret_sum = fraction_reduce(over, under);
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
