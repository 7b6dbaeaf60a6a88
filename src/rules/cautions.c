#include "ampsum/cautions.h"

#include <stdlib.h>
#include <string.h>

#include "ampsum/finding.h"
#include "ampsum/reference.h"

/* What is looked at: one branch, or all of the house. */
struct scope {
    const struct assessment *assessment;
    const struct house *house;
    const char *rules;
    size_t branch;   /* NO_INDEX: all */
    size_t *telling; /* the loads in it whose category or name tells a caution at all: few of any house */
    size_t telling_count;
};

static bool any_branch(const struct scope *scope, bool (*test)(const struct scope *scope, size_t branch))
{
    if (scope->branch != NO_INDEX) {
        return test(scope, scope->branch);
    }
    for (size_t i = 0; i < scope->house->branch_count; i++) {
        if (test(scope, i)) {
            return true;
        }
    }
    return false;
}

static bool in_scope(const struct scope *scope, const struct appliance *appliance)
{
    return scope->branch == NO_INDEX || appliance->branch == scope->branch;
}

/* Each name is read once, not once for each caution. */
static void find_telling(struct scope *scope)
{
    size_t capacity = 0;
    for (size_t i = 0; i < scope->house->appliance_count; i++) {
        const struct appliance *load = &scope->house->appliances[i];
        const int category = load->category;
        const bool told = category == CATEGORY_MEDICAL || category == CATEGORY_GENERATOR || category == CATEGORY_POOL;
        if (!in_scope(scope, load) ||
            (!told && (!load->name_tells || reference_word_caution(scope->rules, load->name, NULL) == NULL))) {
            continue;
        }
        if (scope->telling_count == capacity) {
            capacity = capacity == 0 ? 8 : 2 * capacity;
            scope->telling = memory_resize(scope->telling, capacity, sizeof *scope->telling);
        }
        scope->telling[scope->telling_count++] = i;
    }
}

/* Some load is of the category, or its name has a word for the caution. */
static bool any_load(const struct scope *scope, int category, const char *caution)
{
    for (size_t i = 0; i < scope->telling_count; i++) {
        const struct appliance *load = &scope->house->appliances[scope->telling[i]];
        if (load->category == category || reference_word_caution(scope->rules, load->name, caution) != NULL) {
            return true;
        }
    }
    return false;
}

static bool list_has(const struct finding_list *list, enum severity least, const char *const *ids)
{
    for (size_t i = 0; i < list->count; i++) {
        bool meant = ids == NULL;
        for (size_t k = 0; !meant && ids[k] != NULL; k++) {
            meant = strcmp(list->finding[i].id, ids[k]) == 0;
        }
        if (meant && list->finding[i].severity >= least) {
            return true;
        }
    }
    return false;
}

/* Any finding of danger; of the house also those of panels and feeders. */
static bool branch_in_danger(const struct scope *scope, size_t branch)
{
    return list_has(&scope->assessment->branches[branch].findings, SEVERITY_DANGER, NULL);
}

static bool is_danger(const struct scope *scope)
{
    bool found = any_branch(scope, branch_in_danger);
    for (size_t i = 0; !found && scope->branch == NO_INDEX && i < scope->house->panel_count; i++) {
        found = list_has(&scope->assessment->panels[i].findings, SEVERITY_DANGER, NULL);
    }
    return found;
}

/* What makes wires, plugs and outlets warm: findings 6, 9 and 10. */
static bool branch_is_warm(const struct scope *scope, size_t branch)
{
    static const char *const ids[] = {"6", "9", "10", NULL};
    return list_has(&scope->assessment->branches[branch].findings, SEVERITY_WARNING, ids);
}

static bool is_warm(const struct scope *scope)
{
    return any_branch(scope, branch_is_warm);
}

static bool is_medical(const struct scope *scope)
{
    return any_load(scope, CATEGORY_MEDICAL, "medical");
}

static bool is_generator(const struct scope *scope)
{
    return any_load(scope, CATEGORY_GENERATOR, "generator");
}

static bool is_wet_room(const struct house *house, size_t room)
{
    const int kind = room != NO_INDEX ? house->rooms[room].kind : (int)ROOM_OTHER;
    return kind == ROOM_BATH || kind == ROOM_OUTDOORS || kind == ROOM_POOL;
}

/* A load in a wet room. */
static bool any_load_in_wet_room(const struct scope *scope)
{
    for (size_t i = 0; i < scope->house->appliance_count; i++) {
        const struct appliance *load = &scope->house->appliances[i];
        if (load->room != NO_INDEX && in_scope(scope, load) && is_wet_room(scope->house, load->room)) {
            return true;
        }
    }
    return false;
}

static bool branch_is_wet(const struct scope *scope, size_t index)
{
    const struct branch *branch = &scope->house->branches[index];
    bool wet = branch->purpose == PURPOSE_BATHROOM;
    for (size_t i = 0; !wet && i < branch->serves.count; i++) {
        wet = is_wet_room(scope->house, branch->serves.index[i]);
    }
    for (size_t i = 0; !wet && i < branch->outlets.count; i++) {
        wet = is_wet_room(scope->house, scope->house->outlets[branch->outlets.index[i]].room);
    }
    return wet;
}

static bool is_wet(const struct scope *scope)
{
    return any_branch(scope, branch_is_wet) || any_load_in_wet_room(scope) || any_load(scope, CATEGORY_POOL, "water");
}

/* Aluminium of the sizes that were once put in for lights and outlets. */
static bool branch_is_thin_aluminium(const struct scope *scope, size_t index)
{
    const struct ref_conductor *conductor = scope->house->branches[index].wire.conductor;
    return conductor != NULL && strcmp(conductor->metal, "aluminium") == 0 &&
           !exceeds(conductor->area_mm2, reference_rule_value("thin-aluminium", scope->rules));
}

static bool is_thin_aluminium(const struct scope *scope)
{
    return any_branch(scope, branch_is_thin_aluminium);
}

static bool branch_is_old(const struct scope *scope, size_t index)
{
    const struct branch *branch = &scope->house->branches[index];
    return branch->cable == CABLE_KNOB_AND_TUBE || branch->trip == TRIP_FUSE || branch->trip == TRIP_BS3036;
}

static bool is_old(const struct scope *scope)
{
    const int built = scope->house->built_year;
    const bool old_house = built > 0 && built < reference_rule_value("old-wiring", scope->rules);
    return old_house || any_branch(scope, branch_is_old);
}

static bool branch_shares(const struct scope *scope, size_t index)
{
    return scope->house->branches[index].neutral_set != NO_INDEX;
}

static bool is_shared(const struct scope *scope)
{
    return any_branch(scope, branch_shares);
}

/* The cases in the order of their urgency. A new case is one row here and one in the table of texts. */
static const struct {
    const char *caution;
    bool (*holds)(const struct scope *scope);
} cases[] = {
    {"danger", is_danger},
    {"medical", is_medical},
    {"generator", is_generator},
    {"warm", is_warm},
    {"small-aluminium", is_thin_aluminium},
    {"old-wiring", is_old},
    {"shared-neutral", is_shared},
    {"water", is_wet},
};

size_t cautions_of(const struct assessment *assessment, size_t branch, const char *ret[CAUTIONS_MOST + 1])
{
    struct scope scope = {.assessment = assessment,
                          .house = assessment->house,
                          .rules = rules_word(assessment->house->rules),
                          .branch = branch};
    size_t count = 0;
    find_telling(&scope);
    for (size_t i = 0; i < sizeof cases / sizeof cases[0] && count < CAUTIONS_MOST; i++) {
        const struct ref_caution *row = reference_caution(cases[i].caution, scope.rules);
        if (row != NULL && cases[i].holds(&scope)) {
            ret[count++] = row->text;
        }
    }
    free(scope.telling);
    ret[count] = NULL;
    return count;
}
