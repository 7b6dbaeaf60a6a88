/* A task from what was typed to all its figures. */
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

#include "ampsum/arena.h"
#include "ampsum/exact.h"
#include "ampsum/language.h"
#include "parts.h"

static bool break_parts(struct circuit_work *work, const char *option, const char *const *names, size_t count,
                        enum circuit_break how, struct circuit_fault *fault)
{
    for (size_t i = 0; i < count; i++) {
        const size_t node = circuit_find(&work->circuit, option, names[i], fault);
        if (node == CIRCUIT_NONE) {
            return false;
        }
        if (work->broken[node] != CIRCUIT_WHOLE && work->broken[node] != how) {
            return circuit_fail(fault, CIRCUIT_INPUT, "refuse.open-and-short", "name", names[i], (const char *)NULL);
        }
        work->broken[node] = how;
    }
    return true;
}

static bool read_faults(struct circuit_work *work, const struct circuit_task *task, struct circuit_fault *fault)
{
    if (task->opened_count + task->shorted_count == 0) {
        return true;
    }
    work->broken = memory_resize(NULL, work->circuit.node_count, sizeof *work->broken);
    for (size_t i = 0; i < work->circuit.node_count; i++) {
        work->broken[i] = CIRCUIT_WHOLE;
    }
    return circuit_about(fault, CIRCUIT_ABOUT_OPEN,
                         break_parts(work, "--open", task->opened, task->opened_count, CIRCUIT_OPENED, fault)) &&
           circuit_about(fault, CIRCUIT_ABOUT_SHORT,
                         break_parts(work, "--short", task->shorted, task->shorted_count, CIRCUIT_SHORTED, fault));
}

static bool read_percent(struct circuit_work *work, const char *given, struct circuit_fault *fault)
{
    struct text number = {0};
    size_t length = strlen(given);
    while (length > 0 && (given[length - 1] == ' ' || given[length - 1] == '%')) {
        length--;
    }
    text_add_length(&number, given, length);
    struct scan scan = {text_string(&number), text_string(&number), fault};
    struct circuit_number value;
    bool whole = false;
    circuit_number_init(&value);
    scan_blanks(&scan);
    const bool digit = *scan.at >= '0' && *scan.at <= '9';
    const bool good = digit && scan_number(&scan, &value, &whole) && *scan.at == '\0' && mpq_sgn(value.value) > 0 &&
                      mpq_cmp_ui(value.value, 100, 1) < 0;
    if (!good) {
        circuit_fail(fault, CIRCUIT_INPUT, "refuse.tolerance", "given", given, (const char *)NULL);
    }
    mpq_set(work->percent, value.value);
    work->has_bounds = good;
    circuit_number_done(&value);
    text_done(&number);
    return good;
}

static bool read_options(struct circuit_work *work, const struct circuit_task *task, struct circuit_fault *fault)
{
    work->has_breaker = task->breaker != NULL;
    return read_faults(work, task, fault) &&
           (task->breaker == NULL ||
            circuit_about(fault, CIRCUIT_ABOUT_BREAKER,
                          circuit_read_value("--breaker", task->breaker, CIRCUIT_I, work->breaker_a, fault))) &&
           (task->tolerance == NULL || read_percent(work, task->tolerance, fault));
}

size_t circuit_internal(const struct circuit *circuit)
{
    const size_t own = circuit_named(circuit, "r");
    return own == CIRCUIT_NONE || !circuit->nodes[own].exempt ? CIRCUIT_NONE : own;
}

size_t circuit_known_node(const struct circuit *circuit)
{
    return circuit->knowns[0].part == CIRCUIT_NONE ? circuit->root : circuit->knowns[0].part;
}

double circuit_conductance_s(const struct circuit_figure *whole)
{
    if (whole->state == CIRCUIT_INFINITE) {
        return 0;
    }
    if (whole->state != CIRCUIT_FINITE || mpq_sgn(whole->value) == 0) {
        return NAN;
    }
    mpq_t inverse;
    mpq_init(inverse);
    mpq_inv(inverse, whole->value);
    const double siemens = exact_double(inverse);
    mpq_clear(inverse);
    return siemens;
}

static void copy_figure(const struct circuit_figure *figure, struct circuit_figure *ret_figure)
{
    ret_figure->state = figure->state;
    ret_figure->irrational = figure->irrational;
    mpq_set(ret_figure->value, figure->value);
}

/* The known with the part on sale, the source kept. */
static void put_stock_in(struct circuit_work *work, size_t index)
{
    const struct circuit *circuit = &work->circuit;
    const struct circuit_solution *solution = &work->answer.solutions[index];
    const enum circuit_quantity quantity = circuit->knowns[0].quantity;
    struct circuit_figures figures;
    mpq_t kept;
    mpq_init(kept);
    mpq_set(kept, solution->ohm[circuit->unknown]);
    mpq_set(solution->ohm[circuit->unknown], work->stock[index]);
    circuit_solve(circuit, solution->has_voltage ? solution->voltage : NULL, solution->ohm, NULL, &figures);
    mpq_set(solution->ohm[circuit->unknown], kept);
    copy_figure(&figures.node[circuit_known_node(circuit)].cell[quantity], &work->beside[index].with_stock);
    circuit_figures_done(&figures);
    mpq_clear(kept);
}

/* What is left of the voltage at the terminals, and of the breaker's rating. */
static void find_beside(struct circuit_work *work, size_t index)
{
    const struct circuit_figures *figures = &work->answer.solutions[index].figures;
    const struct circuit_figure *whole = figures->node[work->circuit.root].cell;
    const size_t own = circuit_internal(&work->circuit);
    struct circuit_beside *beside = &work->beside[index];
    if (own != CIRCUIT_NONE) {
        const struct circuit_figure *lost = &figures->node[own].cell[CIRCUIT_V];
        beside->terminal_v.state = lost->state == CIRCUIT_FINITE ? whole[CIRCUIT_V].state : lost->state;
        mpq_sub(beside->terminal_v.value, whole[CIRCUIT_V].value, lost->value);
    }
    if (work->has_breaker) {
        beside->headroom_a.state = whole[CIRCUIT_I].state;
        mpq_sub(beside->headroom_a.value, work->breaker_a, whole[CIRCUIT_I].value);
    }
}

static void answer_more(struct circuit_work *work, const struct circuit_task *task)
{
    const struct circuit_solution *first = &work->answer.solutions[0];
    if (work->broken != NULL) {
        circuit_solve(&work->circuit, first->has_voltage ? first->voltage : NULL, first->ohm, work->broken,
                      &work->after);
    }
    if (work->has_bounds) {
        circuit_tolerance(&work->circuit, first, work->percent, &work->bounds);
    }
    for (size_t i = 0; i < work->answer.count; i++) {
        find_beside(work, i);
        if (work->circuit.unknown != CIRCUIT_NONE) {
            circuit_stock(work->answer.solutions[i].ohm[work->circuit.unknown], task->preferred, task->preferred_count,
                          work->stock[i]);
            put_stock_in(work, i);
        }
    }
}

void circuit_task_write(struct circuit_task *task, int language, int comma)
{
    task->input.language = language;
    task->style.language = language;
    task->style.comma = comma < 0 ? language_writing(language).decimal == ',' : comma > 0;
}

bool circuit_work(const struct circuit_task *task, struct circuit_work *ret_work, struct circuit_fault *fault)
{
    *ret_work = (struct circuit_work){.style = task->style, .series = task->series};
    for (size_t i = 0; i < CIRCUIT_SOLUTIONS_MOST; i++) {
        mpq_init(ret_work->stock[i]);
        mpq_inits(ret_work->beside[i].terminal_v.value, ret_work->beside[i].headroom_a.value,
                  ret_work->beside[i].with_stock.value, (mpq_ptr)NULL);
    }
    mpq_init(ret_work->breaker_a);
    mpq_init(ret_work->percent);
    const bool good =
        circuit_read(&task->input, &ret_work->circuit, fault) && read_options(ret_work, task, fault) &&
        circuit_about(fault, CIRCUIT_ABOUT_KNOWN, circuit_answer(&ret_work->circuit, &ret_work->answer, fault));
    if (good) {
        answer_more(ret_work, task);
    } else {
        ret_work->has_bounds = false;
    }
    return good;
}

void circuit_work_done(struct circuit_work *work)
{
    for (size_t i = 0; i < CIRCUIT_SOLUTIONS_MOST; i++) {
        mpq_clear(work->stock[i]);
        mpq_clears(work->beside[i].terminal_v.value, work->beside[i].headroom_a.value, work->beside[i].with_stock.value,
                   (mpq_ptr)NULL);
    }
    mpq_clear(work->breaker_a);
    mpq_clear(work->percent);
    if (work->has_bounds) {
        circuit_bounds_done(&work->bounds);
    }
    circuit_figures_done(&work->after);
    free(work->broken);
    circuit_answer_done(&work->answer);
    circuit_done(&work->circuit);
}

size_t circuit_named(const struct circuit *circuit, const char *name)
{
    for (size_t i = 0; i < circuit->part_count; i++) {
        if (strcasecmp(circuit->nodes[circuit->parts[i]].name, name) == 0) {
            return circuit->parts[i];
        }
    }
    return CIRCUIT_NONE;
}
