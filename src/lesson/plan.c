/* What a set of sheets follows from, taken from a house. */
#include "plan.h"

#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "ampsum/arena.h"
#include "ampsum/keys.h"
#include "ampsum/reference_fault.h"

static const char default_price[] = "0.20";

static char *copy_string(const char *string)
{
    size_t size = strlen(string) + 1;
    char *copy = memory_new(size);
    memcpy(copy, string, size);
    return copy;
}

void lesson_plan_done(struct lesson_plan *plan)
{
    for (size_t i = 0; i < plan->branch_count; i++) {
        for (size_t k = 0; k < plan->branches[i].load_count; k++) {
            free(plan->branches[i].loads[k].name);
        }
        free(plan->branches[i].loads);
        free(plan->branches[i].label);
    }
    free(plan->branches);
    free(plan->kinds);
    free(plan->currency);
    free(plan->price);
    free(plan->codes);
    for (unsigned i = 0; plan->names != NULL && i < plan->students; i++) {
        free(plan->names[i]);
    }
    free(plan->names);
    free(plan->title);
    free(plan->class_name);
    free(plan->date);
    free(plan->font);
    *plan = (struct lesson_plan){0};
}

const char *lesson_name(const struct lesson_plan *plan, unsigned student)
{
    return plan->names == NULL ? "" : plan->names[student - 1];
}

/* A whole number of the unit, within what questions show. */
static bool is_whole(double value, unsigned most)
{
    return value >= 1 && value <= most && floor(value) == value;
}

static bool is_lesson_load(const struct house *house, const struct appliance *appliance)
{
    enum { WATTS_MOST = 12000 };
    return appliance->behaviour == BEHAVIOUR_RESISTIVE && appliance->rating == RATING_POWER &&
           appliance->power_factor == 1 && is_whole(appliance->power_w, WATTS_MOST) &&
           appliance->rated_voltage_v == house->voltage_v;
}

void plan_load(struct lesson_branch *branch, size_t *capacity, const char *name, unsigned power_w, unsigned minutes_day)
{
    branch->loads = memory_grow(branch->loads, branch->load_count, capacity, sizeof *branch->loads);
    branch->loads[branch->load_count++] = (struct lesson_load){copy_string(name), power_w, minutes_day};
}

struct lesson_branch *plan_branch(struct lesson_plan *plan, size_t *capacity, const char *label, unsigned breaker_a)
{
    plan->branches = memory_grow(plan->branches, plan->branch_count, capacity, sizeof *plan->branches);
    struct lesson_branch *branch = &plan->branches[plan->branch_count++];
    *branch = (struct lesson_branch){.label = copy_string(label), .breaker_a = breaker_a};
    return branch;
}

static void drop_poor_branch(struct lesson_plan *plan)
{
    struct lesson_branch *branch = &plan->branches[plan->branch_count - 1];
    if (branch->load_count == 0) {
        free(branch->label);
        plan->branch_count--;
    }
}

static const char *house_price(const struct house *house)
{
    if (house->tariff == NO_INDEX) {
        return default_price;
    }
    const struct tariff *tariff = &house->tariffs[house->tariff];
    if (tariff->price != NULL) {
        return tariff->price;
    }
    return tariff->blocks.count > 0 ? tariff->blocks.block[0].price : default_price;
}

/* How many loads have which name now: a table by the name's hash. */
struct name_counts {
    struct arena *arena; /* the names */
    struct name_count {
        const char *name; /* NULL: free */
        size_t count;
    } * slots;
    size_t slot_count; /* a power of two */
};

static struct name_count *count_of(struct name_counts *counts, const char *name)
{
    uint64_t hash = UINT64_C(14695981039346656037); /* FNV-1a */
    for (const char *at = name; *at != '\0'; at++) {
        hash = (hash ^ (unsigned char)*at) * UINT64_C(1099511628211);
    }
    size_t slot = (hash ^ hash >> 32) & (counts->slot_count - 1);
    while (counts->slots[slot].name != NULL && strcmp(counts->slots[slot].name, name) != 0) {
        slot = (slot + 1) & (counts->slot_count - 1);
    }
    if (counts->slots[slot].name == NULL) {
        counts->slots[slot].name = arena_copy(counts->arena, name);
    }
    return &counts->slots[slot];
}

static size_t count_loads(const struct lesson_plan *plan)
{
    size_t count = 0;
    for (size_t i = 0; i < plan->branch_count; i++) {
        count += plan->branches[i].load_count;
    }
    return count;
}

/* Of each load in order how many of its name stand before it; the table then holds the counts of all. */
static void count_names(const struct lesson_plan *plan, struct name_counts *counts, size_t *before)
{
    size_t load = 0;
    for (size_t i = 0; i < plan->branch_count; i++) {
        for (size_t k = 0; k < plan->branches[i].load_count; k++) {
            before[load++] = count_of(counts, plan->branches[i].loads[k].name)->count++;
        }
    }
}

/* Numbers a load if there are more of its name, or if a "Lamp 2" was made of it already. */
static void number_load(struct name_counts *counts, struct lesson_load *load, size_t before)
{
    struct text name = {0};
    text_printf(&name, "%s 2", load->name);
    struct name_count *alike = count_of(counts, load->name);
    if (alike->count > 1 || (before == 0 && count_of(counts, text_string(&name))->count > 0)) {
        alike->count--;
        text_clear(&name);
        text_printf(&name, "%s %zu", load->name, before + 1);
        free(load->name);
        load->name = copy_string(text_string(&name));
        count_of(counts, load->name)->count++;
    }
    text_done(&name);
}

/* Loads of one name get numbers: Lamp 1, Lamp 2. From the last to the first, so that the counts stay true. */
static void number_alike(struct lesson_plan *plan)
{
    size_t load = count_loads(plan);
    struct name_counts counts = {.arena = arena_new(), .slot_count = 8};
    while (counts.slot_count < 4 * (load + 1)) { /* each load, what it is renamed to and a "2" of it: never full */
        counts.slot_count *= 2;
    }
    counts.slots = arena_array(counts.arena, counts.slot_count, sizeof *counts.slots);
    size_t *before = memory_resize(NULL, load, sizeof *before);
    count_names(plan, &counts, before);
    for (size_t i = plan->branch_count; i-- > 0;) {
        for (size_t k = plan->branches[i].load_count; k-- > 0;) {
            load--;
            number_load(&counts, &plan->branches[i].loads[k], before[load]);
        }
    }
    free(before);
    arena_free(counts.arena);
}

/* 0 where the rules do not count what is on for long for more. */
static unsigned continuous_percent(const char *rules)
{
    const double factor = reference_rule_value("continuous-factor", rules);
    return factor > 1 ? (unsigned)lround(100 * factor) : 0;
}

static bool is_zigzag(int rules)
{
    const struct ref_rule_set *set = reference_rule_set_at(rules);
    return set != NULL && strcmp(set->resistor, "zigzag") == 0;
}

void lesson_plan_house(struct lesson_plan *plan, const struct house *house)
{
    enum { BREAKER_MOST = 63, SECONDS_PER_MINUTE = 60 };
    size_t capacity = 0;
    free(plan->currency);
    free(plan->price);
    plan->generator = LESSON_GENERATOR_NOW;
    if (plan->scheme.value == 0) { /* nothing was said of it */
        lesson_scheme_usual(&plan->scheme);
    }
    plan->voltage_v = is_whole(house->voltage_v, 400) ? (unsigned)house->voltage_v : 120;
    plan->split_phase = house->system == SYSTEM_SPLIT_PHASE;
    plan->three_phase = house->system == SYSTEM_THREE_PHASE;
    plan->continuous_percent = continuous_percent(rules_word(house->rules));
    plan->zigzag = is_zigzag(house->rules);
    plan->by_loop = reference_has_disconnection(rules_word(house->rules));
    plan->currency = copy_string(house->currency);
    plan->price = copy_string(house_price(house));
    for (size_t i = 0; i < house->branch_count; i++) {
        const struct branch *branch = &house->branches[i];
        if (branch->poles != 1 || !is_whole(branch->breaker_a, BREAKER_MOST)) {
            continue;
        }
        struct lesson_branch *row = plan_branch(plan, &capacity, branch->label, (unsigned)branch->breaker_a);
        size_t loads = 0;
        for (size_t k = 0; k < branch->appliances.count; k++) {
            const struct appliance *appliance = &house->appliances[branch->appliances.index[k]];
            if (is_lesson_load(house, appliance)) {
                plan_load(row, &loads, appliance->name, (unsigned)appliance->power_w,
                          (unsigned)lround(appliance->on_time_s / SECONDS_PER_MINUTE));
            }
        }
        drop_poor_branch(plan);
    }
    number_alike(plan);
}

void lesson_plan_plain(struct lesson_plan *plan)
{
    free(plan->currency);
    free(plan->price);
    plan->generator = LESSON_GENERATOR_NOW;
    if (plan->scheme.value == 0) { /* nothing was said of it */
        lesson_scheme_usual(&plan->scheme);
    }
    plan->voltage_v = 120;
    plan->split_phase = true;
    plan->continuous_percent = continuous_percent(ref_rule_set_rows[0].id);
    plan->zigzag = true;
    plan->currency = copy_string("USD");
    plan->price = copy_string(default_price);
}
