#include "ampsum/fault_assess.h"

#include <math.h>
#include <string.h>

#include "ampsum/keys.h"
#include "ampsum/text.h"
#include "fault_parts.h"

const char *fault_opens_word(enum fault_opens opens)
{
    static const char *const words[] = {NULL, "breaker", "rcd", "late"};
    return words[opens];
}

double fault_rule(const struct fault_study *study, const char *id)
{
    return reference_rule_value(id, study->rules);
}

double fault_conductor_ohm(const struct ref_conductor *conductor, double length_m, double temp_c)
{
    if (conductor == NULL) {
        return NAN;
    }
    return reference_resistance_ohm_per_km(conductor, temp_c) * length_m / 1000;
}

struct fault_stretch fault_stretch_add(struct fault_stretch a, struct fault_stretch b)
{
    return (struct fault_stretch){
        .line_ohm = a.line_ohm + b.line_ohm,
        .protective_ohm = a.protective_ohm + b.protective_ohm,
        .neutral_ohm = a.neutral_ohm + b.neutral_ohm,
        .hot_line_ohm = a.hot_line_ohm + b.hot_line_ohm,
        .hot_protective_ohm = a.hot_protective_ohm + b.hot_protective_ohm,
    };
}

bool fault_is_given(const struct house *house)
{
    if (isfinite(house->ze_ohm) || isfinite(house->pscc_a) || isfinite(house->transformer_kva)) {
        return true;
    }
    for (size_t i = 0; i < house->branch_count; i++) {
        if (isfinite(house->branches[i].zs_measured_ohm)) {
            return true;
        }
    }
    for (size_t i = 0; i < house->outlet_count; i++) {
        if (isfinite(house->outlets[i].zs_measured_ohm)) {
            return true;
        }
    }
    return false;
}

double fault_residual_a(const struct branch *branch)
{
    return branch->rcd_ma > 0 ? branch->rcd_ma / 1000.0 : NAN;
}

/*
 * The protective conductor of a circuit: as given, else the one that usually goes with this cable or breaker, else of
 * the line's own size.
 */
static const struct ref_conductor *protective_of(const struct fault_study *study, struct wire line,
                                                 struct protective given, double breaker_a, bool *ret_assumed)
{
    const struct ref_conductor *wire = line.conductor;
    *ret_assumed = given.conductor == NULL && !given.same;
    if (!*ret_assumed || wire == NULL) {
        return given.same ? wire : given.conductor;
    }
    const struct ref_protective_conductor *row =
        reference_protective_conductor(study->rules, wire->size, wire->metal, breaker_a);
    const struct ref_conductor *usual = row == NULL ? NULL : reference_conductor(row->size, row->metal);
    /* a thin circuit on a large breaker: never taken as thicker than the line */
    return usual == NULL || usual->area_mm2 > wire->area_mm2 ? wire : usual;
}

/* Resistance of a conductor as hot as its terminals allow over that at 20 degree C. */
static double fault_hot_factor(const struct fault_study *study, double terminals_c)
{
    struct text id = {0};
    text_add(&id, "fault-hot-");
    text_add_number(&id, terminals_c);
    const double given = fault_rule(study, text_string(&id));
    text_done(&id);
    return isnan(given) ? fault_rule(study, "fault-hot-70") : given; /* no mark, or one without a row of its own */
}

/* A conductor of a feeder as hot as it may get: by the mark of its ends; where only a current is known, as in use. */
static double feeder_hot_ohm(const struct fault_study *study, const struct panel *panel,
                             const struct ref_conductor *conductor)
{
    if (study->by_loop) {
        return fault_hot_factor(study, panel->terminals_c) *
               fault_conductor_ohm(conductor, panel->length_m, study->cold_c);
    }
    return fault_conductor_ohm(conductor, panel->length_m, reference_operating_temp_c(study->rules));
}

static struct fault_stretch feeder_stretch(struct fault_study *study, const struct panel *panel)
{
    bool assumed = false;
    const struct ref_conductor *protective = protective_of(study, panel->wire, panel->cpc, panel->breaker_a, &assumed);
    study->cpc_assumed = study->cpc_assumed || (assumed && protective != NULL);
    const double line_ohm = fault_conductor_ohm(panel->wire.conductor, panel->length_m, study->cold_c);
    const double protective_ohm = fault_conductor_ohm(protective, panel->length_m, study->cold_c);
    return (struct fault_stretch){line_ohm, protective_ohm, line_ohm,
                                  feeder_hot_ohm(study, panel, panel->wire.conductor),
                                  feeder_hot_ohm(study, panel, protective)};
}

/* From the origin to a panel: its feeder after those before it. */
static struct fault_stretch stretch_before(struct fault_study *study, size_t panel)
{
    struct fault_stretch sum = {0};
    for (; panel != 0; panel = study->house->panels[panel].from) {
        sum = fault_stretch_add(sum, feeder_stretch(study, &study->house->panels[panel]));
    }
    return sum;
}

static void study_panel(struct fault_study *study, size_t index)
{
    struct fault_panel *result = &study->panels[index];
    result->breaking_a = study->house->panels[index].breaking_a;
    result->before = stretch_before(study, index);
    if (study->by_loop) {
        fault_loop_panel(study, index);
    } else {
        fault_available_panel(study, index);
    }
}

/* The points of a branch: its outlets in file order, or its end. */
static void place_points(struct fault_case *fault_case)
{
    struct fault_branch *result = fault_case->result;
    const struct wiring *wiring = fault_case->wiring;
    const struct index_list *outlets = &fault_case->branch->outlets;
    result->point_count = wiring == NULL ? 0 : wiring->node_count - 1;
    result->points = arena_array(fault_case->study->arena, result->point_count, sizeof *result->points);
    for (size_t i = 0; i < result->point_count; i++) {
        const size_t outlet = i < outlets->count ? outlets->index[i] : NO_INDEX;
        result->points[i] = (struct fault_point){
            .outlet = outlet,
            .joined_m = wiring_joined_m(wiring, wiring_node(wiring, outlet)),
            .second_max_a = NAN,
        };
    }
}

static void study_branch(struct fault_study *study, size_t index)
{
    const struct house *house = study->house;
    const struct branch *branch = &house->branches[index];
    struct fault_branch *result = &study->branches[index];
    struct wiring wiring = {0};
    const double ohm_per_km = fault_conductor_ohm(branch->wire.conductor, 1000, study->cold_c);
    const bool known = isfinite(ohm_per_km) && wiring_init(&wiring, house, index, ohm_per_km);
    struct fault_case fault_case = {study, house, index, branch, result, known ? &wiring : NULL};
    result->breaking_a = branch->breaking_a;
    result->before = study->panels[branch->panel].before;
    result->hot_factor = fault_hot_factor(study, branch->terminals_c);
    result->protective =
        protective_of(study, branch->wire, branch->cpc, branch->breaker_a, &result->protective_assumed);
    study->cpc_assumed = study->cpc_assumed || (result->protective_assumed && result->protective != NULL);
    place_points(&fault_case);
    if (study->by_loop) {
        fault_loop_branch(&fault_case);
    } else {
        fault_available_branch(&fault_case);
    }
    wiring_done(&wiring);
}

struct fault_study *fault_study_house(const struct house *house, const struct fault_options *options)
{
    struct arena *arena = arena_new();
    struct fault_study *study = arena_take(arena, sizeof *study);
    *study = (struct fault_study){.arena = arena, .house = house, .rules = rules_word(house->rules)};
    study->panels = arena_array(arena, house->panel_count, sizeof *study->panels);
    study->branches = arena_array(arena, house->branch_count, sizeof *study->branches);
    study->by_loop = reference_has_disconnection(study->rules);
    study->cold_c = fault_rule(study, "fault-cold-temperature");
    if (study->by_loop) {
        fault_loop_origin(study, options->at_panel_a);
    } else {
        fault_available_origin(study, options->at_panel_a);
    }
    for (size_t i = 0; i < house->panel_count; i++) {
        study_panel(study, i);
    }
    for (size_t i = 0; i < house->branch_count; i++) {
        study_branch(study, i);
    }
    fault_find(study, options->no_texts);
    return study;
}

void fault_free(struct fault_study *study)
{
    if (study != NULL) {
        arena_free(study->arena);
    }
}

static size_t list_dangers(const struct finding_list *list)
{
    size_t count = 0;
    for (size_t i = 0; i < list->count; i++) {
        count += list->finding[i].severity == SEVERITY_DANGER;
    }
    return count;
}

size_t fault_dangers(const struct fault_study *study)
{
    size_t count = 0;
    for (size_t i = 0; i < study->house->panel_count; i++) {
        count += list_dangers(&study->panels[i].findings);
    }
    for (size_t i = 0; i < study->house->branch_count; i++) {
        count += list_dangers(&study->branches[i].findings);
    }
    return count;
}
