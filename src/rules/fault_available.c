/* Rules that ask what current is available at the panel and carry it along the wire: fault.md 4. */
#include <math.h>

#include "ampsum/fault.h"
#include "fault_parts.h"

static const double m_per_ft = 0.3048;

/* Factor on the length, out and back or one of three phases. */
static double legs_of(bool three_phase)
{
    return three_phase ? sqrt(3) : 2;
}

static bool house_is_three_phase(const struct house *house)
{
    return house->system == SYSTEM_THREE_PHASE;
}

/* Line to line where the house has more than one leg. */
static double line_v(const struct house *house)
{
    return house->system == SYSTEM_SINGLE_PHASE ? house->voltage_v : house_circuit_voltage_v(house, 2);
}

/* The currents between lines and line to neutral after a run of a conductor. */
static struct fault_available along(const struct house *house, struct fault_available before,
                                    const struct ref_conductor *conductor, double length_m)
{
    const double c = conductor == NULL ? NAN : reference_point_to_point_c(conductor->size, conductor->metal, NULL);
    const double length_ft = length_m / m_per_ft;
    return (struct fault_available){
        .line_a =
            fault_point_to_point_a(before.line_a, legs_of(house_is_three_phase(house)), length_ft, c, 1, line_v(house)),
        .neutral_a = fault_point_to_point_a(before.neutral_a, 2, length_ft, c, 1, house->voltage_v),
    };
}

/* One conductor's share of a loop behind which a current was known, all in phase: no more than really flows. */
static double sure_a(double before_a, double voltage_v, double legs, double wire_ohm)
{
    return voltage_v / (voltage_v / before_a + legs * wire_ohm);
}

/* As along; where the method's figure is from memory by the published resistance in use, which leaves less. */
static struct fault_available sure_along(const struct fault_study *study, struct fault_available before,
                                         const struct ref_conductor *conductor, double length_m)
{
    const struct house *house = study->house;
    const struct ref_point_to_point *row = NULL;
    if (conductor != NULL) {
        reference_point_to_point_c(conductor->size, conductor->metal, &row);
    }
    if (row == NULL || !reference_from_memory(row->source)) {
        return along(house, before, conductor, length_m);
    }
    const double ohm = fault_conductor_ohm(conductor, length_m, reference_operating_temp_c(study->rules));
    return (struct fault_available){
        .line_a = sure_a(before.line_a, line_v(house), legs_of(house_is_three_phase(house)), ohm),
        .neutral_a = sure_a(before.neutral_a, house->voltage_v, 2, ohm),
    };
}

/* At the transformer's terminals, from its nameplate. */
static struct fault_available at_transformer(const struct fault_study *study)
{
    const struct house *house = study->house;
    const double line_a = fault_transformer_a(1000 * house->transformer_kva, line_v(house), house_is_three_phase(house),
                                              house->transformer_z_percent, fault_rule(study, "fault-plate-tolerance"));
    /* a centre tap halves the winding, but not its impedance; a wye's phases stand each for themselves */
    const bool tapped = house->system == SYSTEM_SPLIT_PHASE;
    return (struct fault_available){line_a, tapped ? line_a * fault_rule(study, "fault-line-neutral") : line_a};
}

void fault_available_origin(struct fault_study *study, double at_panel_a)
{
    const struct house *house = study->house;
    const double given_a = at_panel_a > 0 ? at_panel_a : house->pscc_a;
    study->ze_ohm = NAN;
    study->source_ohm = NAN;
    study->earthing = reference_earthing(study->rules, earthing_word(house->earthing));
    if (isfinite(given_a)) {
        study->origin = (struct fault_available){given_a, given_a};
    } else {
        study->origin = at_transformer(study);
    }
    study->origin_sure = study->origin;
    if (!isfinite(given_a) && house->service_wire.conductor != NULL && isfinite(house->service_run_m)) {
        study->origin_sure = sure_along(study, study->origin, house->service_wire.conductor, house->service_run_m);
        study->origin = along(house, study->origin, house->service_wire.conductor, house->service_run_m);
    }
    study->pscc_a = study->origin.line_a;
}

void fault_available_panel(struct fault_study *study, size_t panel)
{
    const struct house *house = study->house;
    struct fault_panel *result = &study->panels[panel];
    size_t *chain = arena_array(study->arena, house->panel_count, sizeof *chain);
    size_t depth = 0;
    for (size_t at = panel; at != 0; at = house->panels[at].from) {
        chain[depth++] = at;
    }
    result->available = study->origin;
    result->sure = study->origin_sure;
    while (depth-- > 0) {
        const struct panel *feeder = &house->panels[chain[depth]];
        result->available = along(house, result->available, feeder->wire.conductor, feeder->length_m);
        result->sure = sure_along(study, result->sure, feeder->wire.conductor, feeder->length_m);
    }
    result->isc_max_a = fmax(result->available.line_a, result->available.neutral_a);
    result->isc_sure_a = fmax(result->sure.line_a, result->sure.neutral_a);
}

/* The larger current of a point: between the lines of two or three poles, else line to neutral. */
static double largest_a(const struct fault_case *fault_case, const struct fault_point *point)
{
    const struct house *house = fault_case->house;
    const struct fault_available here = along(house, fault_case->study->panels[fault_case->branch->panel].available,
                                              fault_case->branch->wire.conductor, point->joined_m);
    return fault_case->branch->poles == 1 ? here.neutral_a : here.line_a;
}

/*
 * The same by resistances and the impedance behind the panel, which nothing gives the angle of: taken in phase with the
 * wire, as the point-to-point method does, so that the two agree where the wire's own reactance is small.
 */
static double second_largest_a(const struct fault_case *fault_case, const struct fault_point *point)
{
    const struct branch *branch = fault_case->branch;
    const struct fault_available before = fault_case->study->panels[branch->panel].available;
    const double before_a = branch->poles == 1 ? before.neutral_a : before.line_a;
    const double phases = branch->poles == 3 ? sqrt(3) : 1;
    const double out_ohm = fault_conductor_ohm(branch->wire.conductor, point->joined_m, fault_case->study->cold_c);
    const double loop_ohm = branch->voltage_v / phases / before_a + (branch->poles == 3 ? 1 : 2) * out_ohm;
    return fault_current_a(1, branch->voltage_v / phases, loop_ohm);
}

static void study_point(struct fault_case *fault_case, struct fault_point *point)
{
    const struct fault_study *study = fault_case->study;
    const struct fault_branch *result = fault_case->result;
    const struct ref_conductor *line = fault_case->branch->wire.conductor;
    const double hot_c = reference_operating_temp_c(study->rules);
    const double voltage_v = study->house->voltage_v;
    const double source_ohm = voltage_v / study->origin.neutral_a;
    const double low = 1 - fault_rule(study, "supply-under") / 100;
    const struct fault_stretch before = result->before;
    const double hot_protective_ohm =
        before.hot_protective_ohm + fault_conductor_ohm(result->protective, point->joined_m, hot_c);
    point->zs_cold_ohm = source_ohm + before.line_ohm + before.protective_ohm +
                         fault_conductor_ohm(line, point->joined_m, study->cold_c) +
                         fault_conductor_ohm(result->protective, point->joined_m, study->cold_c);
    point->zs_hot_ohm =
        source_ohm + before.hot_line_ohm + fault_conductor_ohm(line, point->joined_m, hot_c) + hot_protective_ohm;
    point->fault_min_a = fault_current_a(low, voltage_v, point->zs_hot_ohm);
    point->fault_max_a = largest_a(fault_case, point);
    point->second_max_a = second_largest_a(fault_case, point);
    point->times_breaker = point->fault_min_a / fault_case->branch->breaker_a;
    point->touch_v = point->fault_min_a * hot_protective_ohm;
    const bool opens = point->fault_min_a >= result->instant_a;
    point->opens = opens ? FAULT_OPENS_BREAKER : FAULT_OPENS_UNKNOWN;
    point->survives = FAULT_SURVIVES_UNKNOWN; /* no published time: UL 489 has no instantaneous limit */
}

void fault_available_branch(struct fault_case *fault_case)
{
    const struct branch *branch = fault_case->branch;
    struct fault_branch *result = fault_case->result;
    const struct fault_available before = fault_case->study->panels[branch->panel].available;
    const struct fault_available sure = fault_case->study->panels[branch->panel].sure;
    result->isc_max_a = branch->poles == 1 ? before.neutral_a : before.line_a;
    result->isc_sure_a = branch->poles == 1 ? sure.neutral_a : sure.line_a;
    result->instant_a = branch->instantaneous_a;
    result->zs_max_ohm = NAN;
    result->disconnect_s = NAN;
    result->longest_m = NAN;
    if (isfinite(branch->instantaneous_a)) {
        result->zs_max_ohm = fault_case->house->voltage_v / branch->instantaneous_a;
    }
    for (size_t i = 0; i < result->point_count; i++) {
        study_point(fault_case, &result->points[i]);
    }
}
