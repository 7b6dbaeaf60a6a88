/* Any bytes as source, circuit and knowns, one a line: a fault with a message, or figures that obey Kirchhoff; never a
 * crash. */
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "ampsum/circuit.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

enum { KNOWNS_MOST = 4 };

/* Currents out of each junction make the current into it, voltages in a row the voltage across it. */
static void check_group(const struct circuit *circuit, const struct circuit_figures *figures, size_t group)
{
    const enum circuit_quantity quantity = circuit->nodes[group].kind == CIRCUIT_PARALLEL ? CIRCUIT_I : CIRCUIT_V;
    mpq_t sum;
    mpq_init(sum);
    for (size_t i = circuit->nodes[group].first; i != CIRCUIT_NONE; i = circuit->nodes[i].next) {
        mpq_add(sum, sum, figures->node[i].cell[quantity].value);
    }
    if (!mpq_equal(sum, figures->node[group].cell[quantity].value)) {
        abort();
    }
    mpq_clear(sum);
}

static void check_work(const struct circuit_work *work)
{
    const struct circuit *circuit = &work->circuit;
    size_t *groups = malloc(circuit->node_count * sizeof *groups);
    if (work->answer.count == 0 || circuit->part_count == 0 || groups == NULL) {
        abort();
    }
    const size_t count = circuit_groups(circuit, CIRCUIT_PART, true, groups);
    for (size_t s = 0; s < work->answer.count; s++) {
        struct steps steps = {0};
        struct text text = {0};
        for (size_t i = 0; i < count && work->answer.solutions[s].has_voltage; i++) {
            check_group(circuit, &work->answer.solutions[s].figures, groups[i]);
        }
        circuit_steps_found(circuit, &work->answer.solutions[s], &work->style, &steps);
        circuit_steps_main(circuit, &work->answer.solutions[s], &work->style, &steps);
        circuit_steps_second(circuit, &work->answer.solutions[s], &work->style, &steps);
        circuit_steps_checks(circuit, &work->answer.solutions[s], &work->style, &steps);
        steps_write(&text, &steps, "", true);
        steps_done(&steps);
        text_done(&text);
    }
    free(groups);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    char *copy = malloc(size + 1);
    char *line[2 + KNOWNS_MOST] = {NULL};
    size_t count = 0;
    if (copy == NULL) {
        abort();
    }
    memcpy(copy, data, size);
    copy[size] = '\0';
    for (char *at = copy; at != NULL && count < 2 + KNOWNS_MOST; count++) {
        line[count] = at;
        at = strchr(at, '\n');
        if (at != NULL) {
            *at++ = '\0';
        }
    }
    while (count > 2 && line[count - 1][0] == '\0') {
        count--;
    }
    static const char *const preferred[] = {"1.0", "2.2", "4.7"};
    const struct circuit_task task = {.input = {.source = line[0][0] == '\0' ? NULL : line[0],
                                                .circuit = line[1] == NULL ? "" : line[1],
                                                .knowns = (const char *const *)line + 2,
                                                .known_count = count < 2 ? 0 : count - 2},
                                      .series = "E3",
                                      .preferred = preferred,
                                      .preferred_count = 3,
                                      .style = {.figures = CIRCUIT_FIGURES_DEFAULT}};
    struct circuit_work work;
    struct circuit_fault fault = {0};
    if (circuit_work(&task, &work, &fault)) {
        check_work(&work);
    } else if (fault.status == CIRCUIT_SOLVED || fault.message.length == 0) {
        abort();
    }
    text_done(&fault.message);
    circuit_work_done(&work);
    free(copy);
    return 0;
}
