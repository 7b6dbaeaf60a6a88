/* Rules that hold the loop impedance of each circuit against the device: fault.md 3. */
#include <math.h>
#include <string.h>

#include "ampsum/fault.h"
#include "fault_parts.h"

/* Ze: as given, else the usual largest one of the earthing system, with the electrode of the house where it has one. */
static void find_external(struct fault_study *study)
{
    const struct house *house = study->house;
    const struct ref_earthing *row = study->earthing;
    if (row != NULL && !row->has_loop) {
        study->ze_ohm = NAN; /* no loop by intention */
        return;
    }
    study->ze_ohm = house->ze_ohm;
    if (isfinite(house->ze_ohm) || row == NULL) {
        return;
    }
    study->ze_ohm = row->external_ohm + (row->has_electrode ? house->electrode_ohm : 0);
    study->ze_assumed = isfinite(study->ze_ohm);
}

/* Prospective current at the origin: as asked or given, else the one to be taken; else, from a given Ze, none. */
static void find_prospective(struct fault_study *study, double asked_a)
{
    const struct house *house = study->house;
    const double cmax = fault_rule(study, "fault-voltage-most");
    study->pscc_a = asked_a > 0 ? asked_a : house->pscc_a;
    if (isnan(study->pscc_a)) {
        const bool three = house->system == SYSTEM_THREE_PHASE;
        study->pscc_a = fault_rule(study, three ? "fault-prospective-three" : "fault-prospective-single");
        study->pscc_assumed = isfinite(study->pscc_a);
    }
    study->source_ohm = fault_source_ohm(cmax, house->voltage_v, study->pscc_a);
    if (isnan(study->source_ohm)) {
        study->source_ohm = house->ze_ohm; /* never an assumed one, which is a maximum */
    }
}

void fault_loop_origin(struct fault_study *study, double at_panel_a)
{
    const char *word = earthing_word(study->house->earthing);
    study->earthing = word == NULL ? NULL : reference_earthing(study->rules, word);
    find_external(study);
    find_prospective(study, at_panel_a);
}

/* The largest current after a stretch: line to neutral or to the protective conductor; line alone of three phases. */
static double largest_a(const struct fault_study *study, struct fault_stretch stretch, bool three_phase)
{
    const double back_ohm = three_phase ? 0 : fmin(stretch.neutral_ohm, stretch.protective_ohm);
    return fault_current_a(fault_rule(study, "fault-voltage-most"), study->house->voltage_v,
                           study->source_ohm + stretch.line_ohm + back_ohm);
}

void fault_loop_panel(struct fault_study *study, size_t panel)
{
    struct fault_panel *result = &study->panels[panel];
    result->isc_max_a = largest_a(study, result->before, study->house->panels[panel].legs == (LEG_A | LEG_B | LEG_C));
    result->isc_sure_a = result->isc_max_a;
}

/* The upper end of the device's instantaneous band, in multiples of its rating; NAN where none is published. */
static double instant_multiple(const struct fault_study *study, const struct branch *branch)
{
    const struct ref_instantaneous *band = reference_instantaneous(study->rules, trip_word(branch->trip));
    return band == NULL ? NAN : band->upper_multiple;
}

/* Something can be plugged in: it lists outlets, or a load that is not fastened. */
static bool has_sockets(const struct fault_case *fault_case)
{
    const struct branch *branch = fault_case->branch;
    for (size_t i = 0; i < branch->appliances.count; i++) {
        if (!fault_case->house->appliances[branch->appliances.index[i]].fixed) {
            return true;
        }
    }
    return branch->outlets.count > 0 && branch->purpose != PURPOSE_LIGHTING && branch->appliances.count == 0;
}

static double disconnect_s(const struct fault_case *fault_case)
{
    const struct fault_study *study = fault_case->study;
    if (study->earthing == NULL) {
        return NAN;
    }
    const struct ref_disconnection *row =
        reference_disconnection(study->rules, study->earthing->family, study->house->voltage_v);
    const double limit_a = fault_rule(study, has_sockets(fault_case) ? "fault-final-socket" : "fault-final-fixed");
    if (row == NULL) {
        return NAN;
    }
    return fault_case->branch->breaker_a <= limit_a * (1 + 1e-9) ? row->final_s : row->other_s;
}

/* Would the residual current device open on this earth fault, and keep touch voltage down? */
static bool residual_opens(const struct fault_case *fault_case, const struct fault_point *point)
{
    const struct fault_study *study = fault_case->study;
    const double rated_a = fault_residual_a(fault_case->branch);
    const double touch_v = fault_rule(study, "fault-touch-voltage");
    const bool electrode = study->earthing != NULL && study->earthing->has_electrode;
    const double ohm =
        electrode && isfinite(study->house->electrode_ohm) ? study->house->electrode_ohm : point->zs_hot_ohm;
    return point->fault_min_a >= rated_a && ohm * rated_a <= touch_v * (1 + 1e-9);
}

static enum fault_opens opens_of(const struct fault_case *fault_case, const struct fault_point *point)
{
    if (isnan(point->zs_hot_ohm)) {
        return FAULT_OPENS_UNKNOWN;
    }
    if (point->zs_hot_ohm <= fault_case->result->zs_max_ohm * (1 + 1e-9)) {
        return FAULT_OPENS_BREAKER;
    }
    if (residual_opens(fault_case, point)) {
        return FAULT_OPENS_RCD;
    }
    return isnan(fault_case->result->zs_max_ohm) ? FAULT_OPENS_UNKNOWN : FAULT_OPENS_LATE;
}

/* For how long the smallest fault current flows, s; NAN where no published figure says. */
static double flows_s(const struct fault_case *fault_case, const struct fault_point *point)
{
    if (point->opens == FAULT_OPENS_BREAKER) {
        return fault_rule(fault_case->study, "fault-instant");
    }
    if (point->opens != FAULT_OPENS_RCD) {
        return NAN;
    }
    const double rated_a = fault_residual_a(fault_case->branch);
    return reference_residual_time_s(rcd_type_word(fault_case->branch->rcd_type), point->fault_min_a / rated_a, NULL);
}

/* k of the thinner of line and protective conductor against the current; unknown where let-through would decide. */
static enum fault_survives survives(const struct fault_case *fault_case, const struct fault_point *point)
{
    const struct ref_conductor *const pair[] = {fault_case->branch->wire.conductor, fault_case->result->protective};
    const double time_s = flows_s(fault_case, point);
    for (size_t i = 0; i < 2; i++) {
        const struct ref_adiabatic *row = pair[i] == NULL ? NULL : reference_adiabatic(pair[i]->metal, false);
        if (row == NULL || isnan(time_s) || isnan(point->fault_min_a)) {
            return FAULT_SURVIVES_UNKNOWN;
        }
        const double k = fault_adiabatic_k(row->factor, row->beta_c, row->initial_c, row->final_c);
        if (fault_smallest_area_mm2(point->fault_min_a, time_s, k) > pair[i]->area_mm2 * (1 + 1e-9)) {
            fault_case->study->let_through |= point->opens == FAULT_OPENS_BREAKER;
            return point->opens == FAULT_OPENS_BREAKER ? FAULT_SURVIVES_UNKNOWN : FAULT_SURVIVES_NOT;
        }
    }
    return FAULT_SURVIVES;
}

static void study_point(struct fault_case *fault_case, struct fault_point *point)
{
    const struct fault_study *study = fault_case->study;
    const struct fault_branch *result = fault_case->result;
    const double line_ohm = fault_conductor_ohm(fault_case->branch->wire.conductor, point->joined_m, study->cold_c);
    const double protective_ohm = fault_conductor_ohm(result->protective, point->joined_m, study->cold_c);
    const struct fault_stretch here = fault_stretch_add(
        result->before, (struct fault_stretch){line_ohm, protective_ohm, line_ohm, result->hot_factor * line_ohm,
                                               result->hot_factor * protective_ohm});
    const double voltage_v = study->house->voltage_v;
    point->zs_cold_ohm = study->ze_ohm + here.line_ohm + here.protective_ohm;
    point->zs_hot_ohm = study->ze_ohm + here.hot_line_ohm + here.hot_protective_ohm;
    point->fault_min_a = fault_current_a(fault_rule(study, "fault-voltage-least"), voltage_v, point->zs_hot_ohm);
    point->fault_max_a = largest_a(study, here, fault_case->branch->poles == 3);
    point->times_breaker = point->fault_min_a / fault_case->branch->breaker_a;
    point->touch_v = point->fault_min_a * here.hot_protective_ohm;
    point->opens = opens_of(fault_case, point);
    point->survives = survives(fault_case, point);
}

/* Cross-section by the conventional method, whose figure takes the largest stranded size for less than its name. */
static double run_area_mm2(const struct fault_study *study, const struct ref_conductor *conductor)
{
    const double named_mm2 = fault_rule(study, "fault-run-named");
    return fabs(conductor->area_mm2 - named_mm2) < 1e-6 ? fault_rule(study, "fault-run-area") : conductor->area_mm2;
}

/* The run at which the device would still open: of a radial its far end, of a ring its middle, four times as far. */
static void find_longest(struct fault_case *fault_case)
{
    const struct fault_study *study = fault_case->study;
    struct fault_branch *result = fault_case->result;
    const struct ref_conductor *line = fault_case->branch->wire.conductor;
    const double pair_ohm_per_km =
        fault_conductor_ohm(line, 1000, study->cold_c) + fault_conductor_ohm(result->protective, 1000, study->cold_c);
    const double before_ohm = study->ze_ohm + result->before.hot_line_ohm + result->before.hot_protective_ohm;
    const double ring = fault_case->branch->layout == LAYOUT_RING ? 4 : 1;
    result->longest_m = ring * fault_longest_m(result->zs_max_ohm, before_ohm, pair_ohm_per_km, result->hot_factor);
    const double share = fault_rule(study, "fault-run-share") / 100;
    /* the method's resistivity is that of copper */
    const bool copper = line != NULL && result->protective != NULL && strcmp(line->metal, "copper") == 0 &&
                        strcmp(result->protective->metal, "copper") == 0;
    if (isnan(study->ze_ohm) && isfinite(share) && copper) {
        result->conventional = true;
        result->longest_m =
            ring * fault_conventional_longest_m(share, study->house->voltage_v, run_area_mm2(study, line),
                                                run_area_mm2(study, result->protective),
                                                fault_rule(study, "fault-run-resistivity"), result->instant_a);
    }
}

void fault_loop_branch(struct fault_case *fault_case)
{
    const struct fault_study *study = fault_case->study;
    const struct branch *branch = fault_case->branch;
    struct fault_branch *result = fault_case->result;
    const double multiple = instant_multiple(study, branch);
    result->instant_a = multiple * branch->breaker_a;
    result->isc_max_a = largest_a(study, result->before, branch->poles == 3);
    result->isc_sure_a = result->isc_max_a;
    result->zs_max_ohm = fault_largest_loop_ohm(fault_rule(study, "fault-voltage-least"), study->house->voltage_v,
                                                multiple, branch->breaker_a);
    result->disconnect_s = disconnect_s(fault_case);
    for (size_t i = 0; i < result->point_count; i++) {
        study_point(fault_case, &result->points[i]);
    }
    find_longest(fault_case);
}
