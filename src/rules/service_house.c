/* Houses like the one in question, with loads more or less. */
#include <math.h>
#include <string.h>

#include "service_parts.h"

bool service_is_added(const struct service_work *work, size_t appliance)
{
    return work->question->added_from != NO_INDEX && appliance >= work->question->added_from;
}

bool service_is_removed(const struct service_work *work, size_t appliance)
{
    for (size_t i = 0; i < work->question->removed_count; i++) {
        if (work->question->removed[i] == appliance) {
            return true;
        }
    }
    return false;
}

/* Whether a control system would hold the load back: by its key, or an added vehicle. */
static bool service_is_controlled(const struct service_work *work, size_t appliance)
{
    const struct appliance *load = &work->question->house->appliances[appliance];
    return load->control != CONTROL_NONE || (service_is_added(work, appliance) && load->category == CATEGORY_VEHICLE);
}

static bool stays_with(const struct service_work *work, size_t appliance)
{
    return !service_is_removed(work, appliance);
}

static bool stays_before(const struct service_work *work, size_t appliance)
{
    return !service_is_removed(work, appliance) && !service_is_added(work, appliance);
}

static bool stays_others(const struct service_work *work, size_t appliance)
{
    return !service_is_removed(work, appliance) && !service_is_controlled(work, appliance);
}

/* The house with the loads for which `stays` holds; its rows are shared, lists are the arena's. */
static struct house *service_house_of(const struct service_work *work,
                                      bool (*stays)(const struct service_work *work, size_t appliance))
{
    struct arena *arena = work->service->arena;
    const struct house *from = work->question->house;
    struct house *house = arena_take(arena, sizeof *house);
    *house = *from;
    house->branches = arena_array(arena, from->branch_count, sizeof *house->branches);
    for (size_t i = 0; i < from->branch_count; i++) {
        struct branch *branch = &house->branches[i];
        const struct index_list *all = &from->branches[i].appliances;
        *branch = from->branches[i];
        branch->appliances = (struct index_list){.index = arena_array(arena, all->count, sizeof(size_t))};
        for (size_t k = 0; k < all->count; k++) {
            if (stays(work, all->index[k])) {
                branch->appliances.index[branch->appliances.count++] = all->index[k];
            }
        }
    }
    return house;
}

void service_houses(struct service_work *work)
{
    const struct service_question *question = work->question;
    const bool adds = question->added_from != NO_INDEX && question->added_from < question->house->appliance_count;
    const bool same = question->removed_count == 0;
    bool controls = false;
    for (size_t i = 0; i < question->house->appliance_count; i++) {
        controls = controls || (service_is_controlled(work, i) && !service_is_removed(work, i));
    }
    work->with = same ? question->house : service_house_of(work, stays_with);
    work->before = adds ? service_house_of(work, stays_before) : work->with;
    work->others = controls ? service_house_of(work, stays_others) : NULL;
}

static bool hangs_on(const struct service_work *work, const struct appliance *appliance)
{
    const struct house *house = work->question->house;
    size_t panel = house->branches[appliance->branch].panel;
    while (panel != work->question->panel && panel != 0) {
        panel = house->panels[panel].from;
    }
    return panel == work->question->panel;
}

const char *service_unkeyed(const struct service_work *work)
{
    const struct house *house = work->question->house;
    struct text text = {0};
    for (size_t i = 0; i < house->appliance_count; i++) {
        const struct appliance *appliance = &house->appliances[i];
        const bool says = appliance->read_category != appliance->category && !service_is_removed(work, i);
        if (says && hangs_on(work, appliance)) {
            text_add(&text,
                     text.length == 0 ? "A demand goes by keys alone, though names say another category: " : ", ");
            text_printf(&text, "%s as %s", appliance->name, category_word(appliance->read_category));
        }
    }
    if (text.length == 0) {
        return NULL;
    }
    text_add(&text, ". The key `category` settles it.");
    return arena_text(work->service->arena, &text);
}

/* ------------------------------------------------------------------ one more load ------------------------- */

/* A branch for a vehicle: on the first two legs of the panel, on the only one where there is one; `line` of three. */
static struct branch plain_branch(const struct service_work *work, unsigned line)
{
    const struct house *house = work->before;
    const size_t panel = work->question->panel;
    const unsigned all = panel == 0 ? house_system_legs(house) : house->panels[panel].legs;
    const unsigned first = all & (~all + 1U);
    const unsigned rest = all & ~first;
    const unsigned second = rest & (~rest + 1U);
    /* Two legs where the house has them for its large loads; three lines serve single-phase loads from one. */
    const bool pair = second != 0 && house_system_legs(house) != (LEG_A | LEG_B | LEG_C);
    return (struct branch){
        .id = "",
        .label = "",
        .panel = panel,
        .breaker_a = work->service->rating_a,
        .poles = pair ? 2 : 1,
        .legs = pair        ? first | second
                : line != 0 ? line
                            : first,
        .purpose = PURPOSE_DEDICATED,
        .neutral_set = NO_INDEX,
        .shared_neutral = NO_INDEX,
        .voltage_v = house_circuit_voltage_v(house, pair ? 2 : 1),
    };
}

static struct appliance plain_load(void)
{
    return (struct appliance){.id = "",
                              .name = "",
                              .outlet = NO_INDEX,
                              .room = NO_INDEX,
                              .behaviour = BEHAVIOUR_ELECTRONIC,
                              .category = CATEGORY_VEHICLE,
                              .read_category = CATEGORY_VEHICLE,
                              .group = NULL};
}

struct service_probe service_probe(const struct service_work *work, size_t like, unsigned line)
{
    struct arena *arena = work->service->arena;
    const struct house *from = work->before;
    struct house *house = arena_take(arena, sizeof *house);
    *house = *from;
    house->branches = arena_array(arena, from->branch_count + 1, sizeof *house->branches);
    house->appliances = arena_array(arena, from->appliance_count + 1, sizeof *house->appliances);
    if (from->branch_count > 0) {
        memcpy(house->branches, from->branches, from->branch_count * sizeof *house->branches);
    }
    if (from->appliance_count > 0) {
        memcpy(house->appliances, from->appliances, from->appliance_count * sizeof *house->appliances);
    }
    struct branch *branch = &house->branches[house->branch_count++];
    *branch = like == NO_INDEX ? plain_branch(work, line) : from->branches[from->appliances[like].branch];
    struct appliance *load = &house->appliances[house->appliance_count];
    *load = like == NO_INDEX ? plain_load() : from->appliances[like];
    branch->outlets = (struct index_list){0};
    branch->appliances = (struct index_list){.index = arena_array(arena, 1, sizeof(size_t)), .count = 1};
    branch->appliances.index[0] = house->appliance_count++;
    load->branch = house->branch_count - 1;
    load->rating = RATING_APPARENT;
    load->apparent_va = 0;
    load->rated_voltage_v = branch->voltage_v;
    load->plate_v = branch->voltage_v;
    load->power_factor = 1;
    load->count = 1;
    load->fixed = 1;
    load->group = NULL;
    load->group_index = NO_INDEX;
    return (struct service_probe){
        .house = house,
        .load = load,
        .voltage_v = branch->voltage_v,
        .va_per_a = branch->poles == 3 ? sqrt(3.0) * branch->voltage_v : branch->voltage_v,
    };
}
