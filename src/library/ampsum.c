/* The interface for other programs: each function translates, none computes. */
#include "ampsum/ampsum.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "ampsum/answer_open.h"
#include "ampsum/assess.h"
#include "ampsum/energy.h"
#include "ampsum/reference.h"

#define STRING(X) #X
#define DOTTED(A, B, C) STRING(A) "." STRING(B) "." STRING(C)

struct ampsum_house {
    struct house *house;
    struct arena *arena; /* of its energy */
};

struct ampsum_check {
    struct arena *arena; /* of the question */
    struct assessment *assessment;
};

const char *ampsum_version(void)
{
    return DOTTED(AMPSUM_VERSION_MAJOR, AMPSUM_VERSION_MINOR, AMPSUM_VERSION_PATCH);
}

/* Hands the message out and empties the error. */
static enum ampsum_status status_of(struct error *error, char **ret_fault)
{
    const enum ampsum_status status = (enum ampsum_status)error_exit_status(error);
    if (status != AMPSUM_DONE && ret_fault != NULL) {
        const char *message = error_message(error);
        *ret_fault = memory_new(strlen(message) + 1);
        memcpy(*ret_fault, message, strlen(message) + 1);
    }
    error_done(error);
    return status;
}

/* ------------------------------------------------------------------ a house --------------------------------- */

enum ampsum_status ampsum_open(const char *path, struct ampsum_house **ret_house, char **ret_fault)
{
    struct house *house = NULL;
    struct error error = {0};
    if (house_open(path, &house, &error)) {
        *ret_house = memory_new(sizeof **ret_house);
        **ret_house = (struct ampsum_house){house, arena_new()};
    }
    return status_of(&error, ret_fault);
}

void ampsum_close(struct ampsum_house *house)
{
    if (house != NULL) {
        house_free(house->house);
        arena_free(house->arena);
        free(house);
    }
}

void ampsum_fault_free(char *fault)
{
    free(fault);
}

const char *ampsum_house_name(const struct ampsum_house *house)
{
    return house->house->name;
}

const char *ampsum_house_rules(const struct ampsum_house *house)
{
    return rules_word(house->house->rules);
}

size_t ampsum_find_branch(const struct ampsum_house *house, const char *id)
{
    return house_find(house->house, KIND_BRANCH, id);
}

/* ------------------------------------------------------------------ asking --------------------------------- */

static size_t find(const struct house *house, enum kind kind, const char *id, struct error *error)
{
    const size_t index = house_find(house, kind, id);
    if (index == NO_INDEX) {
        error_set(error, ERROR_INPUT, "%s: no %s has this ID", id, kind_word(kind));
    }
    return index;
}

static void ask_scene(const struct house *house, const char *id, unsigned *on, struct assess_options *options,
                      struct error *error)
{
    options->basis = BASIS_SCENE;
    options->scene = find(house, KIND_SCENE, id, error);
    if (options->scene != NO_INDEX) {
        scene_units_on(house, &house->scenes[options->scene], on);
    }
}

static void ask_set(const struct house *house, const struct ampsum_question *question, unsigned *on,
                    struct assess_options *options, struct error *error)
{
    options->basis = BASIS_SET;
    for (size_t i = 0; i < question->on_count; i++) {
        const size_t appliance = find(house, KIND_APPLIANCE, question->on[i], error);
        if (appliance != NO_INDEX) {
            on[appliance] = house->appliances[appliance].count;
        }
    }
}

/* Half to twice the nominal voltage, as at the command line. */
static void ask_supply(const struct house *house, double supply_v, struct assess_options *options, struct error *error)
{
    const double ratio = supply_v / house->voltage_v;
    if (supply_v != 0 && !(ratio >= 0.5 && ratio <= 2)) {
        error_set(error, ERROR_INPUT, "supply %g V: expected half to twice the nominal %g V", supply_v,
                  house->voltage_v);
    }
    options->supply_ratio = supply_v == 0 ? 1 : ratio;
}

static void ask(const struct house *house, const struct ampsum_question *question, struct arena *arena,
                struct assess_options *options, struct error *error)
{
    unsigned *on = arena_array(arena, house->appliance_count, sizeof *on);
    ask_supply(house, question->supply_v, options, error);
    if (question->scene != NULL && question->on != NULL) {
        error_set(error, ERROR_INPUT, "a scene and a list at once: expected one of them");
    } else if (question->scene != NULL) {
        options->on = on;
        ask_scene(house, question->scene, on, options, error);
    } else if (question->on != NULL) {
        options->on = on;
        ask_set(house, question, on, options, error);
    }
}

enum ampsum_status ampsum_check(const struct ampsum_house *house, const struct ampsum_question *question,
                                struct ampsum_check **ret_check, char **ret_fault)
{
    static const struct ampsum_question everything = {0};
    struct error error = {0};
    struct arena *arena = arena_new();
    struct assess_options options = {.basis = BASIS_BUSIEST, .loads = true, .wires = true};
    ask(house->house, question == NULL ? &everything : question, arena, &options, &error);
    if (error_is_set(&error)) {
        arena_free(arena);
    } else {
        *ret_check = memory_new(sizeof **ret_check);
        **ret_check = (struct ampsum_check){arena, assess_house(house->house, &options)};
    }
    return status_of(&error, ret_fault);
}

void ampsum_check_free(struct ampsum_check *check)
{
    if (check != NULL) {
        assess_free(check->assessment);
        arena_free(check->arena);
        free(check);
    }
}

/* ------------------------------------------------------------------ its answer ------------------------------ */

static enum ampsum_verdict verdict_of(enum verdict verdict)
{
    static const enum ampsum_verdict verdicts[] = {
        [VERDICT_EMPTY] = AMPSUM_EMPTY,     [VERDICT_OK] = AMPSUM_OK,     [VERDICT_NEAR] = AMPSUM_NEAR,
        [VERDICT_AT_RISK] = AMPSUM_AT_RISK, [VERDICT_OVER] = AMPSUM_OVER,
    };
    return verdicts[verdict];
}

enum ampsum_verdict ampsum_check_verdict(const struct ampsum_check *check)
{
    return verdict_of(check->assessment->status);
}

bool ampsum_check_branch(const struct ampsum_check *check, size_t index, struct ampsum_branch *ret_branch)
{
    const struct house *house = check->assessment->house;
    if (index >= house->branch_count) {
        return false;
    }
    const struct branch *branch = &house->branches[index];
    const struct branch_assessment *assessed = &check->assessment->branches[index];
    *ret_branch = (struct ampsum_branch){
        .id = branch->id,
        .label = branch->label,
        .panel = house->panels[branch->panel].id,
        .verdict = verdict_of(assessed->verdict),
        .breaker_a = branch->breaker_a,
        .voltage_v = assessed->voltage_v,
        .current_a = assessed->all.current_a,
        .planning_a = assessed->all.planning_a,
        .power_w = assessed->all.power_w,
        .apparent_va = assessed->all.apparent_va,
        .other_current_a = assessed->other.current_a,
        .other_planning_a = assessed->other.planning_a,
        .drop_percent = assessed->drop_percent,
        .load_count = branch->appliances.count,
        .finding_count = assessed->findings.count,
    };
    return true;
}

bool ampsum_check_load(const struct ampsum_check *check, size_t branch, size_t index, struct ampsum_load *ret_load)
{
    const struct house *house = check->assessment->house;
    if (branch >= house->branch_count || index >= house->branches[branch].appliances.count) {
        return false;
    }
    const struct branch_assessment *assessed = &check->assessment->branches[branch];
    const struct load *load = &assessed->loads[index];
    const struct appliance *appliance = &house->appliances[load->appliance];
    *ret_load = (struct ampsum_load){
        .id = appliance->id,
        .name = appliance->name,
        .units = load->units,
        .power_w = load->draw.power_w,
        .apparent_va = load->draw.apparent_va,
        .current_a = load->current_a,
        .planning_a = load->planning_a,
        .equivalent_ohm = load->current_a > 0 ? assessed->voltage_v / load->current_a : (double)NAN,
        .counted = load->counted,
    };
    return true;
}

bool ampsum_check_panel(const struct ampsum_check *check, size_t index, struct ampsum_panel *ret_panel)
{
    const struct house *house = check->assessment->house;
    if (index >= house->panel_count) {
        return false;
    }
    const struct panel_assessment *assessed = &check->assessment->panels[index];
    *ret_panel = (struct ampsum_panel){
        .id = house->panels[index].id,
        .name = house->panels[index].name,
        .neutral_a = assessed->all.neutral_a,
        .demand_a = assessed->demand_a,
        .feeder_drop_percent = assessed->feeder_drop_percent,
        .finding_count = assessed->findings.count,
    };
    memcpy(ret_panel->leg_current_a, assessed->all.leg_current_a, sizeof ret_panel->leg_current_a);
    return true;
}

static bool finding_at(const struct finding_list *list, size_t index, struct ampsum_finding *ret_finding)
{
    static const enum ampsum_severity severities[] = {
        [SEVERITY_NOTE] = AMPSUM_NOTE,
        [SEVERITY_WARNING] = AMPSUM_WARNING,
        [SEVERITY_DANGER] = AMPSUM_DANGER,
    };
    if (index >= list->count) {
        return false;
    }
    const struct finding *finding = &list->finding[index];
    *ret_finding = (struct ampsum_finding){
        .id = finding->id,
        .severity = severities[finding->severity],
        .subject_kind = kind_word(finding->subject.kind),
        .subject_id = finding->subject.id,
        .text = finding->text,
        .source = finding->source,
    };
    return true;
}

bool ampsum_branch_finding(const struct ampsum_check *check, size_t branch, size_t index,
                           struct ampsum_finding *ret_finding)
{
    return branch < check->assessment->house->branch_count &&
           finding_at(&check->assessment->branches[branch].findings, index, ret_finding);
}

bool ampsum_panel_finding(const struct ampsum_check *check, size_t panel, size_t index,
                          struct ampsum_finding *ret_finding)
{
    return panel < check->assessment->house->panel_count &&
           finding_at(&check->assessment->panels[panel].findings, index, ret_finding);
}

void ampsum_energy(struct ampsum_house *house, struct ampsum_energy *ret_energy)
{
    const struct ref_currency *currency = reference_currency(house->house->currency);
    struct energy_bill bill = {0};
    energy_year_rows(house->house, house->house->tariff, currency == NULL ? 2 : currency->minor_units, 0, house->arena,
                     &bill);
    *ret_energy = (struct ampsum_energy){
        .kwh_day = bill.kwh_day,
        .kwh_year = bill.kwh_year,
        .currency = house->house->currency,
        .cost_day = bill.cost_day,
        .cost_month = bill.cost_month,
        .cost_year = bill.cost_year,
    };
}
