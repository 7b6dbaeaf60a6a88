/* The answer of `solve` for programs. */
#include <math.h>
#include <stdlib.h>

#include "ampsum/arena.h"
#include "ampsum/exact.h"
#include "ampsum/language.h"
#include "ampsum/show_circuit.h"

static const char *const keys[CIRCUIT_QUANTITIES] = {"resistance_ohm", "voltage_v", "current_a", "power_w"};

static json_t *cell_json(const struct circuit_figure *cell)
{
    return json_figure(cell->state == CIRCUIT_FINITE ? exact_double(cell->value) : NAN);
}

static json_t *exact(const struct circuit_figure *cell)
{
    if (cell->state != CIRCUIT_FINITE || cell->irrational) {
        return json_text(NULL);
    }
    struct text text = {0};
    exact_write_fraction(&text, cell->value);
    json_t *json = json_text(text_string(&text));
    text_done(&text);
    return json;
}

/* ------------------------------------------------------------------ a solution ---------------------------- */

static json_t *unknown_block(const struct circuit_work *work, size_t index)
{
    const size_t node = work->circuit.unknown;
    if (node == CIRCUIT_NONE) {
        return json_null();
    }
    const struct circuit_figure *found = &work->answer.solutions[index].figures.node[node].cell[CIRCUIT_R];
    json_t *json = json_object();
    json_object_set_new(json, "name", json_text(work->circuit.nodes[node].name));
    json_object_set_new(json, "resistance_ohm", cell_json(found));
    json_object_set_new(json, "exact", exact(found));
    json_object_set_new(json, "stock_ohm", json_figure(exact_double(work->stock[index])));
    json_object_set_new(json, "stock_series", json_text(work->series));
    return json;
}

static json_t *breaker_block(const struct circuit_work *work, const struct circuit_figure *headroom)
{
    if (!work->has_breaker) {
        return json_null();
    }
    const bool known = headroom->state == CIRCUIT_FINITE;
    json_t *json = json_object();
    json_object_set_new(json, "rating_a", json_figure(exact_double(work->breaker_a)));
    json_object_set_new(json, "headroom_a", cell_json(headroom));
    json_object_set_new(json, "over", known ? json_boolean(mpq_sgn(headroom->value) < 0) : json_null());
    return json;
}

static json_t *plain(const char *string)
{
    struct text text = {0};
    show_plain(string, &text);
    json_t *json = json_text(text_string(&text));
    text_done(&text);
    return json;
}

static json_t *steps_block(const struct circuit_work *work, size_t index)
{
    struct steps steps = {0};
    json_t *json = json_array();
    circuit_steps_found(&work->circuit, &work->answer.solutions[index], &work->style, &steps);
    circuit_steps_main(&work->circuit, &work->answer.solutions[index], &work->style, &steps);
    for (size_t i = 0; i < steps.count; i++) {
        json_t *step = json_object();
        json_object_set_new(step, "subject", json_text(steps.step[i].subject));
        json_object_set_new(step, "formula", plain(step_law(steps.step[i].kind)));
        json_object_set_new(step, "numbers", plain(steps.step[i].numbers));
        json_object_set_new(step, "result", plain(steps.step[i].result));
        json_array_append_new(json, step);
    }
    steps_done(&steps);
    return json;
}

static json_t *junction_block(const struct circuit *circuit, const struct circuit_figures *figures, size_t group)
{
    struct text label = {0};
    circuit_junction_label(circuit, LANGUAGE_ENGLISH, group, &label);
    json_t *json = json_object();
    json_t *out = json_array();
    for (size_t i = circuit->nodes[group].first; i != CIRCUIT_NONE; i = circuit->nodes[i].next) {
        json_array_append_new(out, cell_json(&figures->node[i].cell[CIRCUIT_I]));
    }
    json_object_set_new(json, "at", json_text(text_string(&label)));
    json_object_set_new(json, "in_a", cell_json(&figures->node[group].cell[CIRCUIT_I]));
    json_object_set_new(json, "out_a", out);
    text_done(&label);
    return json;
}

static json_t *checks_block(const struct circuit_work *work, const struct circuit_solution *solution)
{
    const struct circuit *circuit = &work->circuit;
    struct circuit_figures second;
    json_t *json = json_object();
    json_t *junctions = json_array();
    size_t *groups = memory_resize(NULL, circuit->node_count, sizeof *groups);
    const size_t count = circuit_groups(circuit, CIRCUIT_PARALLEL, false, groups);
    mpq_t sum;
    mpq_init(sum);
    json_object_set_new(json, "ways_agree", json_boolean(circuit_second_way(circuit, solution, &second)));
    for (size_t i = 0; i < count && solution->has_voltage; i++) {
        json_array_append_new(junctions, junction_block(circuit, &solution->figures, groups[i]));
    }
    json_object_set_new(json, "junctions", junctions);
    const bool known = circuit_parts_power(circuit, &solution->figures, sum);
    json_object_set_new(json, "parts_power_w", json_figure(known ? exact_double(sum) : NAN));
    json_object_set_new(json, "source_power_w", cell_json(&solution->figures.node[circuit->root].cell[CIRCUIT_P]));
    circuit_figures_done(&second);
    mpq_clear(sum);
    free(groups);
    return json;
}

static json_t *solution_block(const struct circuit_work *work, size_t index)
{
    const struct circuit_solution *solution = &work->answer.solutions[index];
    json_t *json = json_object();
    json_object_set_new(json, "total", show_circuit_total_json(work, &solution->figures));
    json_object_set_new(json, "parts", show_circuit_parts_json(work, &solution->figures));
    if (circuit_internal(&work->circuit) != CIRCUIT_NONE) {
        json_object_set_new(json, "terminal_v", cell_json(&work->beside[index].terminal_v));
    }
    json_object_set_new(json, "unknown", unknown_block(work, index));
    json_object_set_new(json, "breaker", breaker_block(work, &work->beside[index].headroom_a));
    json_object_set_new(json, "steps", steps_block(work, index));
    json_object_set_new(json, "checks", checks_block(work, solution));
    return json;
}

/* ------------------------------------------------------------------ faults and tolerance ------------------ */

static json_t *trend(const struct circuit_figure *before, const struct circuit_figure *after)
{
    return json_text(circuit_trend_word(circuit_trend(before, after)));
}

static json_t *trend_of(const struct circuit_work *work, size_t node, enum circuit_quantity first)
{
    const struct circuit_figure *before = work->answer.solutions[0].figures.node[node].cell;
    const struct circuit_figure *after = work->after.node[node].cell;
    json_t *json = json_object();
    json_object_set_new(json, keys[first], trend(&before[first], &after[first]));
    /* Across the bare source a short takes more than any figure. */
    const bool endless = work->after.source_shorted && first == CIRCUIT_R;
    for (enum circuit_quantity q = CIRCUIT_I; q <= CIRCUIT_P; q++) {
        json_object_set_new(json, keys[q], endless ? json_text("rises") : trend(&before[q], &after[q]));
    }
    return json;
}

static json_t *after_block(const struct circuit_work *work)
{
    const struct circuit *circuit = &work->circuit;
    if (work->broken == NULL) {
        return json_null();
    }
    json_t *json = json_object();
    json_t *trends = json_object();
    json_object_set_new(json, "total", show_circuit_total_json(work, &work->after));
    json_object_set_new(json, "parts", show_circuit_parts_json(work, &work->after));
    json_object_set_new(json, "source_shorted", json_boolean(work->after.source_shorted));
    json_object_set_new(trends, "total", trend_of(work, circuit->root, CIRCUIT_R));
    for (size_t i = 0; i < circuit->part_count; i++) {
        json_object_set_new(trends, circuit->nodes[circuit->parts[i]].name,
                            trend_of(work, circuit->parts[i], CIRCUIT_V));
    }
    json_object_set_new(json, "trend", trends);
    return json;
}

static void add_bounds(const struct circuit_work *work, size_t node, enum circuit_quantity quantity, json_t *json)
{
    json_t *bounds = json_object();
    json_object_set_new(bounds, "least", cell_json(&work->bounds.least.node[node].cell[quantity]));
    json_object_set_new(bounds, "greatest", cell_json(&work->bounds.greatest.node[node].cell[quantity]));
    json_object_set_new(json, keys[quantity], bounds);
}

static json_t *tolerance_block(const struct circuit_work *work)
{
    const struct circuit *circuit = &work->circuit;
    if (!work->has_bounds) {
        return json_null();
    }
    json_t *json = json_object();
    json_t *total = json_object();
    json_t *parts = json_array();
    json_object_set_new(json, "percent", json_figure(exact_double(work->percent)));
    add_bounds(work, circuit->root, CIRCUIT_R, total);
    add_bounds(work, circuit->root, CIRCUIT_I, total);
    add_bounds(work, circuit->root, CIRCUIT_P, total);
    json_object_set_new(json, "total", total);
    for (size_t i = 0; i < circuit->part_count; i++) {
        json_t *part = json_object();
        json_object_set_new(part, "name", json_text(circuit->nodes[circuit->parts[i]].name));
        add_bounds(work, circuit->parts[i], CIRCUIT_I, part);
        add_bounds(work, circuit->parts[i], CIRCUIT_V, part);
        json_array_append_new(parts, part);
    }
    json_object_set_new(json, "parts", parts);
    return json;
}

/* ------------------------------------------------------------------ all of it ----------------------------- */

json_t *show_circuit_json(const struct circuit_work *work)
{
    json_t *json = json_answer("solve", NULL);
    struct text label = {0};
    json_t *notes = json_array();
    json_t *solutions = json_array();
    const char *caution[SHOW_CIRCUIT_CAUTIONS];
    circuit_label(&work->circuit, work->circuit.root, &label);
    json_object_set_new(json, "status", json_text(circuit_status_word(CIRCUIT_SOLVED)));
    json_object_set_new(json, "read_as", json_text(text_string(&label)));
    for (size_t i = 0; i < work->circuit.note_count; i++) {
        json_array_append_new(notes, plain(work->circuit.notes[i]));
    }
    json_object_set_new(json, "notes", notes);
    for (size_t i = 0; i < work->answer.count; i++) {
        json_array_append_new(solutions, solution_block(work, i));
    }
    json_object_set_new(json, "solutions", solutions);
    json_object_set_new(json, "after", after_block(work));
    json_object_set_new(json, "tolerance", tolerance_block(work));
    show_circuit_cautions(work, LANGUAGE_ENGLISH, caution);
    json_object_set_new(json, "cautions", json_lines(caution));
    text_done(&label);
    return json;
}

json_t *show_circuit_fault_json(const struct circuit_fault *fault)
{
    json_t *json = json_answer("solve", NULL);
    json_object_set_new(json, "status", json_text(circuit_status_word(fault->status)));
    json_object_set_new(json, "message", json_text(text_string(&fault->message)));
    return json;
}
