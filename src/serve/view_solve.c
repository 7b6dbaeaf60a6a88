/* A circuit typed in, solved: the page of `solve`. Asks no house. */
#include <string.h>

#include "ampsum/print_network.h"
#include "ampsum/reference.h"
#include "speak.h"

enum { KNOWNS_MOST = 4 };

/* A part named in a field, as a list of one; none where the field is empty. */
static const char *const *one_of(struct visit *visit, const char *name, size_t *ret_count)
{
    const char *const *given = form_all(&visit->query, name, visit->arena, ret_count);
    *ret_count = *ret_count > 0;
    return given;
}

/* What the form brings. */
static struct circuit_task read_task(struct visit *visit)
{
    struct circuit_task task = {.style = circuit_default_style, .series = "E24"};
    circuit_task_write(&task, visit->language, -1);
    task.input.source = form_given(&visit->query, "source");
    task.input.circuit = form_value(&visit->query, "circuit");
    task.input.knowns = form_all(&visit->query, "know", visit->arena, &task.input.known_count);
    task.input.known_count = task.input.known_count > KNOWNS_MOST ? KNOWNS_MOST : task.input.known_count;
    task.opened = one_of(visit, "open", &task.opened_count);
    task.shorted = one_of(visit, "short", &task.shorted_count);
    task.breaker = form_given(&visit->query, "breaker");
    task.preferred = reference_preferred(task.series, visit->arena, &task.preferred_count);
    return task;
}

/* ---- the form */

/* Their labels are keys. */
static const struct input inputs[] = {
    {"source", "solve.ask-source", "60 V"}, {"circuit", "solve.ask-circuit", "8 + (20 | 30)"},
    {"know", "solve.ask-known", "I = 3 A"}, {"breaker", "solve.ask-breaker", "15"},
    {"open", "solve.ask-open", "R2"},       {"short", "solve.ask-short", "R1"},
};

enum { INPUTS = sizeof inputs / sizeof inputs[0] };

/* The fields with their labels in the visit's language. */
static const struct input *said_inputs(struct visit *visit)
{
    struct input *said = arena_array(visit->arena, INPUTS, sizeof *said);
    for (size_t i = 0; i < INPUTS; i++) {
        said[i] = inputs[i];
        said[i].label = page_word(visit, inputs[i].label);
    }
    return said;
}

void page_solve_form(struct visit *visit)
{
    page_add(visit, "<form action=\"/solve#answer\" class=\"fields\">");
    page_carry(visit);
    page_inputs(visit, said_inputs(visit), INPUTS);
    page_add(visit, "<p><button>%s</button></p></form>\n", page_word(visit, "solve.button"));
}

/* ---- the answer */

static void add_grid(const struct circuit_work *work, const struct circuit_figures *figures, const char *caption,
                     struct visit *visit)
{
    struct show_circuit_grid grid;
    show_circuit_grid_init(work, figures, &grid);
    show_html_table(&show_circuit_rows, caption, &grid, grid.count, &visit->answer.body);
    show_circuit_grid_done(&grid);
}

static void add_picture(struct visit *visit, const struct circuit_work *work, size_t index, bool broken)
{
    struct picture picture;
    const struct network_style style = {.zigzag = true, .screen = true, .broken = broken, .solution = index};
    const char *source = form_given(&visit->query, "source");
    const bool drawn = picture_network(work, source, style, visit->arena, &picture);
    if (drawn && picture.width > NETWORK_SCREEN) { /* pushed to and fro */
        page_add(visit, "<div class=\"circuit spread\" tabindex=\"0\" role=\"group\" aria-label=\"%s\">",
                 picture.title);
    } else {
        page_add(visit, "<div class=\"circuit\">");
    }
    if (drawn) {
        picture_svg(&picture, &visit->answer.body);
    }
    page_add(visit, "</div><p>%s</p>\n", picture.description);
}

static void add_steps(const struct circuit_work *work, const char *heading, struct steps *steps, struct visit *visit)
{
    if (steps->count > 0) {
        page_add(visit, "<h2>%s</h2><ol class=\"steps\">", page_word(visit, heading));
        for (size_t i = 0; i < steps->count; i++) {
            struct text line = {0};
            show_circuit_step(work, &steps->step[i], true, &line);
            page_add(visit, "<li>%s</li>", arena_text(visit->arena, &line));
        }
        page_add(visit, "</ol>\n");
    }
    steps_done(steps);
    *steps = (struct steps){.language = visit->language};
}

static void add_solution(struct visit *visit, const struct circuit_work *work, size_t index)
{
    const struct circuit_solution *solution = &work->answer.solutions[index];
    struct steps steps = {.language = visit->language};
    if (work->answer.count > 1) {
        page_add(visit, "<h2>");
        page_say(visit, "solve.answer-of", "number", page_count(visit, index + 1), "all",
                 page_count(visit, work->answer.count));
        page_add(visit, "</h2>");
    }
    add_picture(visit, work, index, false);
    add_grid(work, &solution->figures, page_word(visit, "solve.figures"), visit);
    circuit_steps_found(&work->circuit, solution, &work->style, &steps);
    circuit_steps_main(&work->circuit, solution, &work->style, &steps);
    add_steps(work, "solve.steps", &steps, visit);
    circuit_steps_second(&work->circuit, solution, &work->style, &steps);
    add_steps(work, "solve.second", &steps, visit);
    circuit_steps_checks(&work->circuit, solution, &work->style, &steps);
    add_steps(work, "solve.junctions", &steps, visit);
}

static void add_answer(struct visit *visit, const struct circuit_work *work)
{
    const char *caution[SHOW_CIRCUIT_CAUTIONS];
    for (size_t i = 0; i < work->circuit.note_count; i++) {
        page_add(visit, "<p>%s.</p>", work->circuit.notes[i]);
    }
    for (size_t i = 0; i < work->answer.count; i++) {
        add_solution(visit, work, i);
    }
    if (work->broken != NULL) {
        page_add(visit, "<h2>%s</h2>", page_word(visit, "solve.fault"));
        add_picture(visit, work, 0, true);
        add_grid(work, &work->after, page_word(visit, "solve.after-fault"), visit);
    }
    show_circuit_cautions(work, work->style.language, caution);
    for (size_t i = 0; caution[i] != NULL; i++) {
        page_add(visit, "<p class=\"caution\">%s</p>", caution[i]);
    }
}

/* The fault as the page's own error, which says of which field it is. */
static void take_fault(struct visit *visit, const struct circuit_fault *fault)
{
    error_set(&visit->error, ERROR_INPUT, "%s", circuit_fault_said(fault));
    if (fault->about != CIRCUIT_ABOUT_ANY) {
        error_part(&visit->error, circuit_about_word(fault->about), 0);
    }
}

void view_solve(struct visit *visit)
{
    const bool asked = form_has(&visit->query, "circuit");
    struct circuit_work work = {0};
    struct circuit_fault fault = {0};
    const struct circuit_task task = read_task(visit);
    const bool answered = asked && circuit_work(&task, &work, &fault);
    if (asked && !answered) {
        take_fault(visit, &fault);
    }
    page_begin(visit, page_word(visit, "solve.title"));
    page_languages(visit);
    page_refusal(visit, said_inputs(visit), INPUTS);
    page_solve_form(visit);
    if (answered) {
        page_add(visit, "<div id=\"answer\">");
        add_answer(visit, &work);
        page_add(visit, "</div>\n");
    }
    page_end(visit);
    if (asked) {
        circuit_work_done(&work);
    }
    text_done(&fault.message);
}
