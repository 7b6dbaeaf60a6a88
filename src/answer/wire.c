#include "ampsum/answer_wire.h"

#include <math.h>
#include <stdlib.h>

#include "ampsum/answer_choice.h"
#include "ampsum/fault_assess.h"
#include "ampsum/reference.h"
#include "wire_study.h"

static double supply_ratio_of(const struct assessment *assessment)
{
    return assessment->options.supply_ratio > 0 ? assessment->options.supply_ratio : 1;
}

const char *wire_node_id(const struct wiring *wiring, size_t node)
{
    if (node == 0 || node == wiring->node_count) {
        return "panel";
    }
    return wiring->outlet[node] == NO_INDEX ? "end" : wiring->house->outlets[wiring->outlet[node]].id;
}

static const char *node_name(const struct wiring *wiring, size_t node)
{
    const char *name = wiring->outlet[node] != NO_INDEX ? wiring->house->outlets[wiring->outlet[node]].name : NULL;
    return name == NULL ? "" : name;
}

size_t wire_row_segment(const struct wiring *wiring, size_t row)
{
    const struct index_list *outlets = &wiring->house->branches[wiring->branch].outlets;
    return outlets->count == 0 || row >= outlets->count ? row + 1 : wiring_node(wiring, outlets->index[row]);
}

size_t wire_worst_node(const struct wiring *wiring)
{
    size_t worst = 1;
    for (size_t k = 2; k < wiring->node_count; k++) {
        worst = wiring_drop_percent(wiring, k) > wiring_drop_percent(wiring, worst) ? k : worst;
    }
    return worst;
}

/* ------------------------------------------------------------------ one branch ---------------------------- */

static struct wire_point point_of(const struct wiring *wiring, size_t segment)
{
    const bool back = segment == wiring->node_count;
    return (struct wire_point){
        .id = wire_node_id(wiring, segment),
        .name = back ? "closes the ring" : node_name(wiring, segment),
        .back = back,
        .voltage_v = back ? (double)NAN : wiring_voltage_v(wiring, segment),
        .drop_percent = back ? (double)NAN : wiring_drop_percent(wiring, segment),
        .from = wire_node_id(wiring, wiring_from(wiring, segment)),
        .length_m = back ? wiring->ring_length_m : wiring->length_m[segment],
        .path_m = back ? (double)NAN : wiring->path_m[segment],
        .current_a = wiring_current_a(wiring, segment),
        .loss_w = wiring_segment_loss_w(wiring, segment),
    };
}

/* The study's points are the outlets in file order, or the end, as the rows here. */
static void fill_faults(struct wire_branch *wire, const struct fault_study *study)
{
    for (size_t row = 0; row < wire->point_count; row++) {
        const bool known = study != NULL && row < study->branches[wire->index].point_count;
        wire->points[row].fault_min_a = known ? study->branches[wire->index].points[row].fault_min_a : (double)NAN;
    }
}

static void fill_solved(struct wire_branch *wire, struct arena *arena)
{
    const struct wiring *wiring = &wire->wiring;
    const size_t worst = wire_worst_node(wiring);
    wire->outlet_count = wiring->node_count - 1;
    wire->point_count = wire->outlet_count + (wire->branch->layout == LAYOUT_RING ? 1 : 0);
    wire->points = arena_array(arena, wire->point_count, sizeof *wire->points);
    for (size_t row = 0; row < wire->point_count; row++) {
        const size_t segment = wire_row_segment(wiring, row);
        wire->points[row] = point_of(wiring, segment);
        wire->worst = segment == worst ? row : wire->worst;
    }
    wire->voltage_v = wire->points[wire->worst].voltage_v;
    wire->drop_percent = wire->points[wire->worst].drop_percent;
    wire->drop_by_segments_percent = wiring_drop_by_segments_percent(wiring, worst);
    wire->current_a = wiring_largest_current_a(wiring);
    wire->loss_w = wiring_loss_w(wiring);
}

void wire_branch_init(struct wire_branch *wire, const struct assessment *assessment, size_t branch, struct arena *arena)
{
    const struct house *house = assessment->house;
    *wire = (struct wire_branch){
        .index = branch,
        .branch = &house->branches[branch],
        .result = &assessment->branches[branch],
        .voltage_v = (double)NAN,
        .drop_percent = (double)NAN,
        .allowed_percent = branch_drop_allowed_percent(assessment, branch),
        .current_a = (double)NAN,
        .loss_w = (double)NAN,
        .loss_kwh_year = (double)NAN,
    };
    wire->known = wiring_init(&wire->wiring, house, branch, wire_ohm_per_km(house, wire->branch->wire));
    if (wire->known) {
        wiring_load_counted(&wire->wiring, wire->result->loads);
        wire->solved = wiring_solve(&wire->wiring, supply_ratio_of(assessment));
    }
    if (wire->solved) {
        fill_solved(wire, arena);
        fill_faults(wire, assessment->fault);
    }
}

void wire_branch_done(struct wire_branch *wire)
{
    if (wire->known) {
        wiring_done(&wire->wiring);
    }
}

/* Money of the year's loss at the branch's own mean price of a kWh; NULL where it has none. */
static const char *year_cost(const struct wire_answer *answer, size_t branch, double loss_kwh)
{
    const struct energy_row *row = &answer->bill.branches[branch];
    const struct ref_currency *currency = reference_currency(answer->house->currency);
    if (row->cost_year == NULL || !(row->kwh_year > 0) || !isfinite(loss_kwh)) {
        return NULL;
    }
    struct text cost = {0};
    const double price = strtod(row->cost_year, NULL) / row->kwh_year;
    text_add_fixed(&cost, loss_kwh * price, currency == NULL ? 2 : currency->minor_units);
    return arena_text(answer->arena, &cost);
}

/* Last of all: it loads the wiring with what the year brings. */
static void fill_year(struct wire_answer *answer, struct wire_branch *wire)
{
    const double loss_kwh = wire->known ? wiring_loss_kwh_year(&wire->wiring) : (double)NAN;
    wire->loss_kwh_year = loss_kwh > 0 ? loss_kwh : (double)NAN;
    wire->loss_cost_year = year_cost(answer, wire->index, wire->loss_kwh_year);
    if (wire->known) {
        wiring_load_counted(&wire->wiring, wire->result->loads);
        wiring_solve(&wire->wiring, supply_ratio_of(answer->assessment));
    }
}

/* ------------------------------------------------------------------ the house ----------------------------- */

static void fill_feeders(struct wire_answer *answer)
{
    const struct house *house = answer->house;
    struct panel_figures *panels = arena_array(answer->arena, house->panel_count, sizeof *panels);
    panels_total(house, answer->assessment->options.on, answer->assessment->factors, panels);
    answer->feeders = arena_array(answer->arena, house->panel_count, sizeof *answer->feeders);
    for (size_t panel = 1; panel < house->panel_count; panel++) {
        answer->feeders[answer->feeder_count++] = (struct wire_feeder){
            .panel = house->panels[panel].id,
            .current_a = feeder_current_a(&panels[panel]),
            .drop_percent =
                feeder_drop_percent(house, panel, &panels[panel], wire_ohm_per_km(house, house->panels[panel].wire)),
        };
    }
}

/* The first branch from that one on whose wire is known. */
static size_t first_known(const struct house *house, size_t from)
{
    for (size_t i = from; i < house->branch_count; i++) {
        struct wiring wiring;
        if (wiring_init(&wiring, house, i, wire_ohm_per_km(house, house->branches[i].wire))) {
            wiring_done(&wiring);
            return i;
        }
    }
    return NO_INDEX;
}

bool wire_find_branch(const struct house *house, const char *id, bool working, struct wire_question *question,
                      struct error *error)
{
    const char *asked = question->broken != NULL ? "break"
                        : question->sizes        ? "size"
                        : question->longest      ? "longest"
                        : working                ? "working"
                                                 : NULL;
    question->only = id != NULL                       ? choice_find(house, KIND_BRANCH, id, error)
                     : question->starting != NO_INDEX ? house->appliances[question->starting].branch
                                                      : NO_INDEX;
    if (id != NULL || asked == NULL || question->only != NO_INDEX) {
        return id == NULL || question->only != NO_INDEX;
    }
    error_set(error, ERROR_INPUT, "--%s: of which branch? expected: ampsum wire HOUSE ID --%s", asked, asked);
    return false;
}

static bool asks_study(const struct wire_question *question)
{
    return question->broken != NULL || question->starting != NO_INDEX || question->sizes || question->longest;
}

static bool run_studies(struct wire_answer *answer, const struct wire_question *question, struct error *error)
{
    struct wire_branch *wire = &answer->branches[0];
    struct wire_study study = {answer, wire, supply_ratio_of(answer->assessment)};
    if (!wire->known) {
        error_set(error, ERROR_INPUT, "%s: wire or length is not known, so nothing can be solved", wire->branch->id);
        return false;
    }
    if ((question->broken != NULL && !study_breaks(&study, question->broken, error)) ||
        (question->starting != NO_INDEX && !study_start(&study, question->starting, error))) {
        return false;
    }
    if (question->sizes) {
        study_sizes(&study);
    }
    if (question->longest) {
        study_longest(&study);
    }
    return true;
}

bool answer_wire(const struct house *house, const struct wire_question *question, struct wire_answer *ret_answer,
                 struct error *error)
{
    struct wire_answer *answer = ret_answer;
    const struct ref_currency *currency = reference_currency(house->currency);
    *answer = (struct wire_answer){.house = house, .arena = arena_new()};
    energy_year_rows(house, house->tariff, currency == NULL ? 2 : currency->minor_units, ENERGY_BRANCHES, answer->arena,
                     &answer->bill);
    answer->assessment = assess_house(house, &question->choice);
    answer->branches = arena_array(answer->arena, house->branch_count, sizeof *answer->branches);
    fill_feeders(answer);
    for (size_t i = 0; i < house->branch_count; i++) {
        if (question->only == NO_INDEX || question->only == i) {
            wire_branch_init(&answer->branches[answer->count++], answer->assessment, i, answer->arena);
        }
    }
    answer->known = first_known(house, question->only == NO_INDEX ? 0 : question->only);
    if (asks_study(question) && question->only != NO_INDEX && !run_studies(answer, question, error)) {
        return false;
    }
    for (size_t i = 0; i < answer->count; i++) {
        fill_year(answer, &answer->branches[i]);
    }
    return true;
}

void wire_answer_done(struct wire_answer *answer)
{
    for (size_t i = 0; i < answer->count; i++) {
        wire_branch_done(&answer->branches[i]);
    }
    assess_free(answer->assessment);
    arena_free(answer->arena);
    *answer = (struct wire_answer){0};
}
