#include "ampsum/assess.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "ampsum/demand.h"
#include "ampsum/fault_assess.h"
#include "assess_wire.h"
#include "findings.h"

static const char *const verdict_words[] = {"empty", "ok", "near", "at-risk", "over"};

const char *verdict_word(enum verdict verdict)
{
    return verdict_words[verdict];
}

bool exceeds(double a, double b)
{
    return a > b + 1e-9 * fabs(b);
}

const char *rules_running_time_note(int rules, const char *how, struct arena *arena)
{
    const double factor = reference_rule_value("continuous-factor", rules_word(rules));
    const double hours = reference_rule_value("continuous-hours", rules_word(rules));
    if (!(factor > 1)) {
        return NULL;
    }
    struct text note = {0};
    text_add(&note, "Taken as running less than ");
    text_add_number(&note, hours);
    text_add(&note, " h at a time; if it may run ");
    text_add_number(&note, hours);
    text_printf(&note, " h or more, %s (its current then counts ", how);
    text_add_number(&note, factor);
    text_add(&note, " times)");
    return arena_text(arena, &note);
}

/* Whether a warning of that finding puts a branch at risk. */
static bool is_risk(const struct finding *finding)
{
    static const char *const ids[] = {"1", "2", "5", "6", "15", "17", "18", "19"};
    for (size_t i = 0; i < sizeof ids / sizeof ids[0] && finding->severity == SEVERITY_WARNING; i++) {
        if (strcmp(finding->id, ids[i]) == 0) {
            return true;
        }
    }
    return false;
}

/* The verdict that the findings bring by themselves: over, at risk, else ok. */
static enum verdict judge_findings(const struct finding_list *list)
{
    enum verdict verdict = VERDICT_OK;
    for (size_t i = 0; i < list->count && verdict < VERDICT_OVER; i++) {
        if (list->finding[i].severity == SEVERITY_DANGER) {
            verdict = VERDICT_OVER;
        } else if (is_risk(&list->finding[i])) {
            verdict = VERDICT_AT_RISK;
        }
    }
    return verdict;
}

/* Only the plates' own rounding keeps one of the findings on load and wire a note. */
static bool is_within_a_hair(const struct finding_list *list)
{
    static const char *const ids[] = {"1", "2", "6", "15"};
    for (size_t i = 0; i < list->count; i++) {
        for (size_t k = 0; k < sizeof ids / sizeof ids[0]; k++) {
            if (strcmp(list->finding[i].row->variant, "rounding") == 0 && strcmp(list->finding[i].id, ids[k]) == 0) {
                return true;
            }
        }
    }
    return false;
}

/* Something that draws current: a generator is nothing. */
static bool branch_has_load(const struct house *house, const struct branch *branch)
{
    for (size_t i = 0; i < branch->appliances.count; i++) {
        if (appliance_is_load(&house->appliances[branch->appliances.index[i]])) {
            return true;
        }
    }
    return false;
}

/* Section 3. The scene or set takes the place of the busiest minute. */
static enum verdict judge(const struct house *house, const struct branch *branch,
                          const struct branch_assessment *result, double near_percent)
{
    const enum verdict found = judge_findings(&result->findings);
    if (found > VERDICT_OK) {
        return found;
    }
    if (!branch_has_load(house, branch)) {
        return VERDICT_EMPTY;
    }
    const bool near = exceeds(result->all.planning_a, near_percent / 100 * branch->breaker_a);
    return near || is_within_a_hair(&result->findings) ? VERDICT_NEAR : VERDICT_OK;
}

static struct finder finder_of(const struct assessment *assessment, struct finding_list *list)
{
    const struct house *house = assessment->house;
    return (struct finder){assessment->arena, list, rules_word(house->rules),
                           reference_cited_edition(rules_word(house->rules), house->code_edition),
                           assessment->options.no_texts};
}

/* What is kept from branch to branch, so that a large house allocates and looks up nothing for each. */
struct scratch {
    struct load *loads; /* of everything on */
    struct load *other; /* at the busiest minute, or of the scene or set */
    size_t capacity;
    double near_percent;
    struct limits limits;
};

static void scratch_room(struct scratch *scratch, size_t count)
{
    if (count > scratch->capacity) {
        scratch->loads = memory_resize(scratch->loads, count, sizeof *scratch->loads);
        scratch->other = memory_resize(scratch->other, count, sizeof *scratch->other);
        scratch->capacity = count;
    }
}

/* The figures of one branch, and its loads: everything on, and the busiest minute, scene or set. */
static void total_branch(struct assessment *assessment, size_t index, struct scratch *scratch)
{
    const struct house *house = assessment->house;
    const struct assess_options *options = &assessment->options;
    struct branch_assessment *result = &assessment->branches[index];
    result->voltage_v = house->branches[index].voltage_v * options->supply_ratio;
    branch_total(house, index, NULL, result->voltage_v, assessment->factors, scratch->loads, &result->all);
    result->at = (struct moment){-1, 0};
    if (options->basis == BASIS_BUSIEST) {
        branch_busiest_loads(house, index, result->voltage_v, assessment->factors, NULL, &result->at, &result->other,
                             scratch->other);
        result->at.month = branch_has_load(house, &house->branches[index]) ? result->at.month : -1;
    } else {
        branch_total(house, index, options->on, result->voltage_v, assessment->factors, scratch->other, &result->other);
    }
}

/* The loads that an output lists: of the scene or set where one is named, else of everything. */
static void keep_loads(struct assessment *assessment, size_t index, const struct scratch *scratch)
{
    const bool busiest = assessment->options.basis == BASIS_BUSIEST;
    struct branch_assessment *result = &assessment->branches[index];
    size_t count = assessment->house->branches[index].appliances.count;
    result->loads = arena_array(assessment->arena, count, sizeof *result->loads);
    if (count > 0) {
        memcpy(result->loads, busiest ? scratch->loads : scratch->other, count * sizeof *result->loads);
    }
}

static void assess_branch(struct assessment *assessment, size_t index, struct scratch *scratch)
{
    const struct house *house = assessment->house;
    const struct branch *branch = &house->branches[index];
    struct branch_assessment *result = &assessment->branches[index];
    const char *rules = rules_word(house->rules);
    scratch_room(scratch, branch->appliances.count);
    total_branch(assessment, index, scratch);
    bool scene = assessment->options.basis != BASIS_BUSIEST;
    double current_a = scene ? result->other.current_a : result->all.current_a;
    result->trip = assessment->options.no_notes ? ""
                                                : reference_trip_text(rules, trip_word(branch->trip), branch->breaker_a,
                                                                      current_a / branch->breaker_a, NULL);
    assess_branch_wire(assessment, index, scratch->loads);
    struct branch_case branch_case = {finder_of(assessment, &result->findings),
                                      assessment,
                                      house,
                                      rules,
                                      index,
                                      branch,
                                      result,
                                      scratch->loads,
                                      scratch->other,
                                      &scratch->limits};
    findings_of_branch(&branch_case);
    if (assessment->fault != NULL) {
        finding_list_append(assessment->arena, &result->findings, &assessment->fault->branches[index].findings);
    }
    result->verdict = judge(house, branch, result, scratch->near_percent);
    if (assessment->options.loads) {
        keep_loads(assessment, index, scratch);
    }
    if (result->verdict > assessment->status) {
        assessment->status = result->verdict;
    }
}

static void assess_panels(struct assessment *assessment)
{
    const struct house *house = assessment->house;
    struct panel_figures *figures = memory_resize(NULL, house->panel_count, sizeof *figures);
    panels_total(house, NULL, assessment->factors, figures);
    double *demand_a = memory_resize(NULL, house->panel_count, sizeof *demand_a);
    demand_panels(house, demand_a);
    for (size_t i = 0; i < house->panel_count; i++) {
        assessment->panels[i].all = figures[i];
        assessment->panels[i].demand_a = demand_a[i];
        assess_feeder_wire(assessment, i);
    }
    free(figures);
    free(demand_a);
}

static void find_panels(struct assessment *assessment)
{
    const struct house *house = assessment->house;
    for (size_t i = 0; i < house->panel_count; i++) {
        struct panel_case panel_case = {finder_of(assessment, &assessment->panels[i].findings),
                                        assessment,
                                        house,
                                        rules_word(house->rules),
                                        i,
                                        &house->panels[i],
                                        &assessment->panels[i]};
        findings_of_panel(&panel_case);
        if (assessment->fault != NULL) {
            finding_list_append(assessment->arena, &assessment->panels[i].findings,
                                &assessment->fault->panels[i].findings);
        } else if (i == 0) {
            fault_say_missing(&panel_case.finder, house);
        }
    }
}

struct assessment *assess_house(const struct house *house, const struct assess_options *options)
{
    struct arena *arena = arena_new();
    struct assessment *assessment = arena_take(arena, sizeof *assessment);
    assessment->arena = arena;
    assessment->house = house;
    assessment->options = *options;
    if (!(options->supply_ratio > 0)) {
        assessment->options.supply_ratio = 1;
    }
    assessment->factors = rules_factors(house, arena);
    assessment->branches = arena_array(arena, house->branch_count, sizeof *assessment->branches);
    assessment->panels = arena_array(arena, house->panel_count, sizeof *assessment->panels);
    assess_panels(assessment);
    if (fault_is_given(house)) {
        const struct fault_options fault = {.at_panel_a = NAN, .no_texts = options->no_texts};
        assessment->fault = fault_study_house(house, &fault);
    }
    const char *rules = rules_word(house->rules);
    struct scratch scratch = {.near_percent = reference_rule_value("near-share", rules),
                              .limits = limits_of(rules, options->no_notes)};
    for (size_t i = 0; i < house->branch_count; i++) {
        house_fetch_ahead(house, i + 2);
        house_fetch_windows(house, i + 1);
        assess_branch(assessment, i, &scratch);
    }
    free(scratch.loads);
    free(scratch.other);
    find_panels(assessment);
    if (!assessment->options.no_texts) {
        say_what_was_taken(assessment);
    }
    return assessment;
}

void assess_free(struct assessment *assessment)
{
    if (assessment != NULL) {
        fault_free(assessment->fault);
        arena_free(assessment->arena);
    }
}

static size_t list_count(const struct finding_list *list, enum severity severity)
{
    size_t count = 0;
    for (size_t i = 0; i < list->count; i++) {
        count += list->finding[i].severity == severity;
    }
    return count;
}

size_t assess_count(const struct assessment *assessment, enum severity severity)
{
    size_t count = 0;
    for (size_t i = 0; i < assessment->house->branch_count; i++) {
        count += list_count(&assessment->branches[i].findings, severity);
    }
    for (size_t i = 0; i < assessment->house->panel_count; i++) {
        count += list_count(&assessment->panels[i].findings, severity);
    }
    return count;
}
