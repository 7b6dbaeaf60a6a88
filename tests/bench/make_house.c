/*
 * Writes a house database of BRANCHES branches and APPLIANCES appliances for the benchmarks: appliances spread over the
 * branches in no order (worst locality), two windows each, a third of them with a power factor.
 *
 *   make_house BRANCHES APPLIANCES FILE.db
 */
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>

#include "ampsum/keys.h"
#include "ampsum/reference.h"
#include "ampsum/store.h"

static unsigned long long state = 88172645463325252ULL;

static unsigned pick(unsigned below)
{
    state ^= state << 13;
    state ^= state >> 7;
    state ^= state << 17;
    return (unsigned)((state >> 33) % below);
}

static uint64_t bits(enum kind kind, const char *const *names)
{
    uint64_t given = 0;
    for (size_t i = 0; names[i] != NULL; i++) {
        given |= key_bit(&sections[kind], section_key(&sections[kind], names[i]));
    }
    return given;
}

static const char *named(struct arena *arena, const char *format, ...) __attribute__((format(printf, 2, 3)));

static const char *named(struct arena *arena, const char *format, ...)
{
    char name[40];
    va_list arguments;
    va_start(arguments, format);
    vsnprintf(name, sizeof name, format, arguments);
    va_end(arguments);
    return arena_copy(arena, name);
}

static void make_branches(struct house *house, unsigned count)
{
    static const char *const keys[] = {"label", "breaker", "legs", NULL};
    static const unsigned breakers_a[] = {15, 20, 20, 30};
    struct branch *rows = house_add_rows(house, KIND_BRANCH, count);
    for (unsigned i = 0; i < count; i++) {
        rows[i].given = bits(KIND_BRANCH, keys);
        rows[i].id = named(house->arena, "b%u", i);
        rows[i].label = named(house->arena, "Branch %u", i);
        rows[i].breaker_a = breakers_a[pick(4)];
        rows[i].legs = i % 2 == 0 ? LEG_A : LEG_B;
    }
}

static struct window_list two_windows(struct arena *arena)
{
    struct window_list list = {arena_array(arena, 2, sizeof *list.window), 2};
    list.window[0] = (struct window){(int)(300 + pick(180)), (int)(540 + pick(180))};
    list.window[1] = (struct window){(int)(960 + pick(180)), (int)(1200 + pick(180))};
    return list;
}

static void make_appliances(struct house *house, unsigned branches, unsigned count)
{
    static const char *const plain[] = {"name", "branch", "power", "use", NULL};
    static const char *const with_factor[] = {"name", "branch", "power", "use", "power_factor", NULL};
    struct appliance *rows = house_add_rows(house, KIND_APPLIANCE, count);
    for (unsigned i = 0; i < count; i++) {
        rows[i].given = bits(KIND_APPLIANCE, i % 3 == 0 ? with_factor : plain);
        rows[i].id = named(house->arena, "a%u", i);
        rows[i].name = named(house->arena, "Appliance %u", i);
        rows[i].branch = pick(branches);
        rows[i].power_w = 5 + pick(400);
        rows[i].power_factor = 0.6 + pick(4) / 10.0;
        rows[i].use = two_windows(house->arena);
    }
}

static void make_tariff(struct house *house)
{
    static const char *const keys[] = {"price", NULL};
    struct tariff *tariff = house_add_rows(house, KIND_TARIFF, 1);
    tariff->given = bits(KIND_TARIFF, keys);
    tariff->id = "t";
    tariff->price = "0.15";
}

int main(int argc, char **argv)
{
    if (argc != 4) {
        fprintf(stderr, "usage: make_house BRANCHES APPLIANCES FILE.db\n");
        return 2;
    }
    static const char *const keys[] = {"name", "rules", "main_breaker", NULL};
    unsigned branches = (unsigned)strtoul(argv[1], NULL, 10);
    struct house *house = house_new();
    house->given = bits(KIND_HOUSE, keys);
    house->name = "Bench";
    house->rules = reference_rule_set_index("us");
    house->main_breaker_a = 200;
    make_branches(house, branches);
    make_appliances(house, branches, (unsigned)strtoul(argv[2], NULL, 10));
    make_tariff(house);
    house_finish(house);
    struct error error = {0};
    bool made = store_create(argv[3], house, true, &error);
    if (!made) {
        fprintf(stderr, "make_house: %s\n", error_message(&error));
    }
    house_free(house);
    error_done(&error);
    return made ? 0 : 1;
}
