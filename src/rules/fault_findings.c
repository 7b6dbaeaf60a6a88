/* What the fault study finds: fault.md 6. A new finding is its row in 020_finding.sql, its check and a line here. */
#include <math.h>
#include <string.h>

#include "ampsum/assess.h"
#include "fault_parts.h"

/* A branch with the finder for its list. */
struct view {
    struct finder finder;
    struct fault_study *study;
    const struct branch *branch;
    const struct fault_branch *result;
    struct subject subject;
};

/* ------------------------------------------------------------------ breaking ------------------------------ */

/* A consumer unit's conditional rating behind the supply fuse stands in for the devices' own. */
static bool has_conditional_rating(const struct fault_study *study, double isc_max_a)
{
    const double rating_a = fault_rule(study, "fault-conditional");
    const double fuse_a = fault_rule(study, "fault-conditional-fuse");
    return isc_max_a <= rating_a * (1 + 1e-9) && !exceeds(study->house->service_a, fuse_a);
}

/* The largest current at a device, and the part of it that rests on no figure from memory. */
struct current {
    double max_a;
    double sure_a;
};

/* A current that rests on an assumed one is a bound, not a finding of fault. */
static const char *breaking_variant(const struct fault_study *study, struct current current, double breaking_a)
{
    if (study->pscc_assumed) {
        return "assumed";
    }
    return exceeds(current.sure_a, breaking_a) ? "" : "memory";
}

static void find_breaking(const struct finder *finder, const struct fault_study *study, struct subject subject,
                          struct current current, double breaking_a, double usual_a)
{
    const double isc_max_a = current.max_a;
    if (has_conditional_rating(study, isc_max_a)) {
        return;
    }
    if (exceeds(isc_max_a, breaking_a)) {
        finding_add(finder, "breaking-exceeded", breaking_variant(study, current, breaking_a), subject,
                    FIGURES(NUMBER("current_a", isc_max_a), NUMBER("limit_a", breaking_a)),
                    "a short circuit at this device may reach %s A%s; it is rated to break %s A",
                    figure(finder, isc_max_a), study->pscc_assumed ? " (taken, not declared)" : "",
                    figure(finder, breaking_a));
    } else if (isnan(breaking_a) && exceeds(isc_max_a, usual_a)) {
        finding_add(finder, "breaking-unknown", "", subject,
                    FIGURES(NUMBER("current_a", isc_max_a), NUMBER("limit_a", usual_a)),
                    "a short circuit at this device may reach %s A; what it can break is not given (household devices "
                    "usually %s A)",
                    figure(finder, isc_max_a), figure(finder, usual_a));
    }
}

static void check_breaking(struct view *view)
{
    const struct current current = {view->result->isc_max_a, view->result->isc_sure_a};
    find_breaking(&view->finder, view->study, view->subject, current, view->result->breaking_a,
                  fault_rule(view->study, "fault-usual-breaking"));
}

/* ------------------------------------------------------------------ disconnection ------------------------- */

/* The point with the largest loop; NULL where none is known. */
static const struct fault_point *farthest(const struct fault_branch *result)
{
    const struct fault_point *found = NULL;
    for (size_t i = 0; i < result->point_count; i++) {
        const struct fault_point *point = &result->points[i];
        if (isfinite(point->zs_hot_ohm) && (found == NULL || point->zs_hot_ohm > found->zs_hot_ohm)) {
            found = point;
        }
    }
    return found;
}

static const char *point_name(const struct view *view, const struct fault_point *point)
{
    return point->outlet == NO_INDEX ? "its end" : view->study->house->outlets[point->outlet].id;
}

#define RESIDUAL_ALONE                                                                                                 \
    ("the residual current device alone cuts an earth fault off, and nothing that lies between line and neutral")

/* Of a fuse no loop is known up to which it opens in time; on less than its rating it never does. */
static void check_fuse_alone(struct view *view, const struct fault_point *point)
{
    const struct finder *finder = &view->finder;
    if (point->opens == FAULT_OPENS_RCD && point->fault_min_a <= view->branch->breaker_a) {
        finding_add(finder, "disconnection-by-rcd", "", view->subject,
                    FIGURES(NUMBER("zs_hot_ohm", point->zs_hot_ohm), NUMBER("limit_ohm", NAN),
                            NUMBER("current_a", point->fault_min_a), NUMBER("longest_m", NAN),
                            NUMBER("disconnect_s", view->result->disconnect_s)),
                    "at %s the loop is %s Ω, %s A, no more than the %s A of its fuse, which never opens on that; %s",
                    point_name(view, point), figure(finder, point->zs_hot_ohm), figure(finder, point->fault_min_a),
                    figure(finder, view->branch->breaker_a), RESIDUAL_ALONE);
    }
}

static void check_disconnection(struct view *view)
{
    const struct finder *finder = &view->finder;
    const struct fault_branch *result = view->result;
    const struct fault_point *point = farthest(result);
    if (point == NULL || (point->opens != FAULT_OPENS_LATE && point->opens != FAULT_OPENS_RCD)) {
        return;
    }
    if (isnan(result->zs_max_ohm)) {
        check_fuse_alone(view, point);
        return;
    }
    const bool late = point->opens == FAULT_OPENS_LATE;
    finding_add(finder, late ? "disconnection-late" : "disconnection-by-rcd",
                late && view->study->ze_assumed ? "assumed" : "", view->subject,
                FIGURES(NUMBER("zs_hot_ohm", point->zs_hot_ohm), NUMBER("limit_ohm", result->zs_max_ohm),
                        NUMBER("current_a", point->fault_min_a), NUMBER("longest_m", result->longest_m),
                        NUMBER("disconnect_s", result->disconnect_s)),
                "at %s the loop is %s Ω, %s A; the device opens at once up to %s Ω, a run of %s m; %s",
                point_name(view, point), figure(finder, point->zs_hot_ohm), figure(finder, point->fault_min_a),
                figure(finder, result->zs_max_ohm), figure(finder, result->longest_m),
                late ? "nothing else is listed that would cut a fault off in time" : RESIDUAL_ALONE);
}

static void check_electrode_alone(struct view *view)
{
    const struct ref_earthing *row = view->study->earthing;
    if (row != NULL && row->has_electrode && isnan(fault_residual_a(view->branch))) {
        finding_add(
            &view->finder, "tt-no-rcd", "", view->subject, NO_FIGURES,
            "an earth electrode, and no residual current device listed: a breaker practically never opens on such "
            "a loop");
    }
}

/* ------------------------------------------------------------------ readings ------------------------------ */

/* The loop at the temperature of the reading, ohm. */
static double loop_at_ohm(const struct view *view, const struct fault_point *point, double temp_c)
{
    const struct ref_conductor *line = view->branch->wire.conductor;
    const double cold_c = view->study->cold_c;
    const double ratio = fault_conductor_ohm(line, 1, temp_c) / fault_conductor_ohm(line, 1, cold_c);
    return view->study->ze_ohm + ratio * (point->zs_cold_ohm - view->study->ze_ohm);
}

static void compare_reading(struct view *view, struct subject subject, const struct fault_point *point,
                            double measured_ohm, double measured_c)
{
    const struct finder *finder = &view->finder;
    const double share = fault_rule(view->study, "fault-measured-share") / 100;
    const double limit_ohm = share * view->result->zs_max_ohm;
    /* finer: the supply's part does not warm */
    const double ze_ohm = view->study->ze_ohm;
    const double finer_ohm = ze_ohm + (view->result->zs_max_ohm - ze_ohm) / view->result->hot_factor;
    if (exceeds(measured_ohm, limit_ohm)) {
        finding_add(finder, "zs-measured-high", "", subject,
                    FIGURES(NUMBER("measured_ohm", measured_ohm), NUMBER("limit_ohm", limit_ohm),
                            NUMBER("finer_ohm", finer_ohm)),
                    "the reading of %s Ω is above %s Ω, %s %% of the largest loop of this device%s%s%s",
                    figure(finder, measured_ohm), figure(finder, limit_ohm), figure(finder, 100 * share),
                    isfinite(finer_ohm) ? " (" : "", isfinite(finer_ohm) ? figure(finder, finer_ohm) : "",
                    isfinite(finer_ohm) ? " Ω by the warming of its own conductors alone)" : "");
    }
    const double differs = fault_rule(view->study, "fault-measured-differs") / 100;
    const double computed_ohm = point == NULL || view->study->ze_assumed ? NAN : loop_at_ohm(view, point, measured_c);
    if (exceeds(fabs(measured_ohm - computed_ohm), differs * computed_ohm)) {
        finding_add(
            finder, "zs-measured-disagrees", "", subject,
            FIGURES(NUMBER("measured_ohm", measured_ohm), NUMBER("computed_ohm", computed_ohm)),
            "the reading is %s Ω, from lengths and sizes it would be %s Ω: a parallel path, a bad joint, or another "
            "length",
            figure(finder, measured_ohm), figure(finder, computed_ohm));
    }
}

static void check_readings(struct view *view)
{
    if (isfinite(view->branch->zs_measured_ohm)) {
        compare_reading(view, view->subject, farthest(view->result), view->branch->zs_measured_ohm,
                        view->branch->measured_at_c);
    }
    for (size_t i = 0; i < view->branch->outlets.count; i++) {
        const struct outlet *outlet = &view->study->house->outlets[view->branch->outlets.index[i]];
        const struct fault_point *point = i < view->result->point_count ? &view->result->points[i] : NULL;
        if (isfinite(outlet->zs_measured_ohm)) {
            compare_reading(view, (struct subject){KIND_OUTLET, outlet->id}, point, outlet->zs_measured_ohm,
                            outlet->measured_at_c);
        }
    }
}

/* ------------------------------------------------------------------ wire ---------------------------------- */

static void check_endurance(struct view *view)
{
    const struct finder *finder = &view->finder;
    for (size_t i = 0; i < view->result->point_count; i++) {
        const struct fault_point *point = &view->result->points[i];
        if (point->survives == FAULT_SURVIVES_NOT) {
            finding_add(finder, "wire-let-through", "", view->subject, FIGURES(NUMBER("current_a", point->fault_min_a)),
                        "at %s a fault of %s A lets more through than line or protective conductor endure",
                        point_name(view, point), figure(finder, point->fault_min_a));
            return;
        }
    }
}

/* The table's protective conductor: as the line to one size, that size to a second, half of it above. */
static double table_area_mm2(const struct fault_study *study, double line_mm2)
{
    const double same_mm2 = fault_rule(study, "fault-cpc-same");
    const double flat_mm2 = fault_rule(study, "fault-cpc-flat");
    if (line_mm2 <= same_mm2 * (1 + 1e-9)) {
        return line_mm2;
    }
    return line_mm2 <= flat_mm2 * (1 + 1e-9) ? same_mm2 : line_mm2 / 2;
}

static bool endures_everywhere(const struct fault_branch *result)
{
    for (size_t i = 0; i < result->point_count; i++) {
        if (result->points[i].survives != FAULT_SURVIVES) {
            return false;
        }
    }
    return result->point_count > 0;
}

static void check_protective_size(struct view *view)
{
    const struct finder *finder = &view->finder;
    const struct ref_conductor *line = view->branch->wire.conductor;
    const struct ref_conductor *given = view->branch->cpc.conductor; /* `same` is never too thin */
    if (line == NULL || given == NULL || endures_everywhere(view->result)) {
        return;
    }
    const double limit_mm2 = table_area_mm2(view->study, line->area_mm2);
    if (exceeds(limit_mm2, given->area_mm2)) {
        finding_add(
            finder, "cpc-small", "", view->subject,
            FIGURES(NUMBER("area_mm2", given->area_mm2), NUMBER("limit_mm2", limit_mm2)),
            "the protective conductor is %s mm²; the table goes with %s mm², and the formula does not show that "
            "less would do",
            figure(finder, given->area_mm2), figure(finder, limit_mm2));
    }
}

static void check_weak(struct view *view)
{
    const struct finder *finder = &view->finder;
    const struct fault_point *point = farthest(view->result);
    const double least = fault_rule(view->study, "fault-weak");
    if (point != NULL && exceeds(least, point->times_breaker)) {
        finding_add(
            finder, "weak-fault", "", view->subject,
            FIGURES(NUMBER("current_a", point->fault_min_a), NUMBER("limit_a", least * view->branch->breaker_a)),
            "a fault at %s draws as little as %s A, %s times the breaker's rating: it may stand for seconds",
            point_name(view, point), figure(finder, point->fault_min_a), figure(finder, point->times_breaker));
    }
}

/* ------------------------------------------------------------------ the house ----------------------------- */

static void check_external(struct fault_study *study, const struct finder *finder, struct subject house)
{
    const struct ref_earthing *row = study->earthing;
    if (row == NULL) {
        return;
    }
    const bool electrode = row->has_electrode;
    const double given_ohm = electrode ? study->house->electrode_ohm : study->house->ze_ohm;
    const double limit_ohm = electrode ? fault_rule(study, "fault-electrode") : row->external_ohm;
    if (exceeds(given_ohm, limit_ohm)) {
        finding_add(finder, "ze-high", electrode ? "electrode" : "", house,
                    FIGURES(NUMBER("given_ohm", given_ohm), NUMBER("limit_ohm", limit_ohm)),
                    electrode ? "the earth electrode of %s Ω is above %s Ω and may not be stable"
                              : "the loop outside the house is %s Ω, usually at most %s Ω with this earthing",
                    figure(finder, given_ohm), figure(finder, limit_ohm));
    }
}

static void say(struct text *text, bool whether, const char *what)
{
    if (whether) {
        text_printf(text, "%s%s", text->length > 0 ? "; " : "", what);
    }
}

/* A declared current below what the loop draws, be it the largest usual one: amperes written for kiloamperes, say. */
static bool contradict(const struct fault_study *study)
{
    const double by_loop_a = study->house->voltage_v / study->ze_ohm;
    return !study->pscc_assumed && exceeds(by_loop_a, fault_rule(study, "fault-contradiction") * study->pscc_a);
}

/* A protective conductor of more than one size above its line is asked about. */
static bool too_large(const struct fault_study *study)
{
    for (size_t i = 0; i < study->house->branch_count; i++) {
        const struct ref_conductor *line = study->house->branches[i].wire.conductor;
        const struct ref_conductor *given = study->house->branches[i].cpc.conductor;
        if (line != NULL && given != NULL && given->size_order >= line->size_order + 2) {
            return true;
        }
    }
    return false;
}

static void check_assumed(struct fault_study *study, const struct finder *finder, struct subject house)
{
    struct text what = {0};
    const struct ref_earthing *row = study->earthing;
    if (study->by_loop) {
        say(&what, row == NULL, "the earthing system is not given");
        say(&what, row != NULL && !row->has_loop, "an IT system is not studied here");
        say(&what, study->ze_assumed, "the loop outside the house is taken at its usual largest");
        const bool electrode = row != NULL && row->has_electrode && isnan(study->house->electrode_ohm);
        say(&what, isnan(study->ze_ohm) && electrode, "the earth electrode is not given");
        say(&what, isnan(study->ze_ohm) && row != NULL && row->has_loop && !electrode, "ze is not given");
    }
    say(&what, study->pscc_assumed, "the prospective current is taken, not declared");
    say(&what, isnan(study->pscc_a),
        study->by_loop ? "pscc is not given" : "the available current is not given: the utility knows it");
    say(&what, study->cpc_assumed, "protective conductors are taken as usual for their cables");
    say(&what, contradict(study),
        study->ze_assumed ? "pscc is less than what even the largest usual loop would draw (A, or kA?)"
                          : "ze and pscc contradict each other");
    say(&what, too_large(study), "a protective conductor is given two sizes above its line");
    if (what.length > 0) {
        finding_add(finder, "earth-assumed", "", house, NO_FIGURES, "%s", text_string(&what));
    }
    text_done(&what);
}

void fault_say_missing(const struct finder *finder, const struct house *house)
{
    const bool by_loop = reference_has_disconnection(finder->rules);
    const bool earthing = earthing_word(house->earthing) != NULL;
    finding_add(finder, "earth-assumed", "", (struct subject){KIND_HOUSE, "house"}, NO_FIGURES,
                "faults are not studied here: %sgive %s",
                by_loop && !earthing ? "the earthing system is not given; " : "",
                by_loop ? "ze or pscc, or a reading (zs_measured)" : "pscc or transformer");
}

/* ------------------------------------------------------------------ all ----------------------------------- */

static void (*const checks[])(struct view *view) = {
    check_breaking,        check_disconnection, check_electrode_alone, check_readings, check_endurance,
    check_protective_size, check_weak,
};

static struct finder finder_of_study(const struct fault_study *study, struct finding_list *list, bool no_texts)
{
    return (struct finder){.arena = study->arena,
                           .list = list,
                           .rules = study->rules,
                           .edition = reference_cited_edition(study->rules, study->house->code_edition),
                           .no_texts = no_texts};
}

static void find_branch(struct fault_study *study, size_t index, bool no_texts)
{
    const struct branch *branch = &study->house->branches[index];
    struct fault_branch *result = &study->branches[index];
    struct view view = {
        finder_of_study(study, &result->findings, no_texts), study, branch, result, {KIND_BRANCH, branch->id}};
    for (size_t i = 0; i < sizeof checks / sizeof *checks; i++) {
        checks[i](&view);
    }
}

void fault_find(struct fault_study *study, bool no_texts)
{
    const double usual_a = fault_rule(study, "fault-usual-breaking");
    for (size_t i = 0; i < study->house->branch_count; i++) {
        find_branch(study, i, no_texts);
    }
    for (size_t i = 0; i < study->house->panel_count; i++) {
        struct fault_panel *result = &study->panels[i];
        const size_t from = study->house->panels[i].from;
        const struct finder finder = finder_of_study(study, &result->findings, no_texts);
        /* a feeder's device stands in the panel before */
        const struct fault_panel *at = i == 0 ? result : &study->panels[from];
        const struct current current = {at->isc_max_a, at->isc_sure_a};
        find_breaking(&finder, study, (struct subject){KIND_PANEL, study->house->panels[i].id}, current,
                      result->breaking_a, i == 0 ? INFINITY : usual_a);
    }
    const struct finder finder = finder_of_study(study, &study->panels[0].findings, no_texts);
    const struct subject house = {KIND_HOUSE, "house"};
    check_external(study, &finder, house);
    check_assumed(study, &finder, house);
    if (study->let_through) {
        finding_add(
            &finder, "let-through-unknown", "", house, NO_FIGURES,
            "some devices open in less than %s s: what they let through until then, and what the wire endures of "
            "it, only their maker's figures say",
            figure(&finder, fault_rule(study, "fault-instant")));
    }
}
