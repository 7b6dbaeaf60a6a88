/* A circuit on paper. */
#include "ampsum/print_network.h"

#include <stdlib.h>

#include "ampsum/arena.h"

struct paper {
    struct print_document *document;
    const struct circuit_work *work;
    const char *source;
    bool zigzag;
    bool sheet;
};

static const struct print_column columns[] = {
    {"Part", 26, false}, {"R", 18, true}, {"V", 18, true}, {"I", 18, true}, {"P", 18, true}};

static void add_row(const struct paper *paper, const struct circuit_figures *figures, size_t node,
                    struct print_table *table)
{
    struct text text = {0};
    show_circuit_row_name(&paper->work->circuit, node, &text);
    print_cell(paper->document, table, text_string(&text));
    for (enum circuit_quantity q = CIRCUIT_R; q < CIRCUIT_QUANTITIES; q++) {
        text_clear(&text);
        if (!paper->sheet || show_circuit_is_given(paper->work, node, q)) {
            show_circuit_cell(paper->work, &figures->node[node].cell[q], q, true, &text);
        }
        print_cell(paper->document, table, text_string(&text));
    }
    text_done(&text);
}

static void add_grid(const struct paper *paper, const struct circuit_figures *figures, const char *caption)
{
    const struct circuit *circuit = &paper->work->circuit;
    struct print_table *table = print_table_add(paper->document, caption, columns, sizeof columns / sizeof columns[0]);
    size_t *rows = memory_resize(NULL, 2 * circuit->node_count, sizeof *rows);
    const size_t count = show_circuit_rows(circuit, rows);
    table->ruled = paper->sheet;
    for (size_t i = 0; i < count; i++) {
        add_row(paper, figures, rows[i], table);
    }
    free(rows);
}

static void add_picture(const struct paper *paper, size_t solution, bool broken)
{
    const struct network_style style = {paper->zigzag, paper->sheet, broken, solution};
    struct arena *arena = paper->document->arena;
    struct picture *picture = arena_take(arena, sizeof *picture);
    if (picture_network(paper->work, paper->source, style, arena, picture)) {
        print_picture(paper->document, picture);
    }
    print_paragraph(paper->document, picture->description);
}

static void add_steps(const struct paper *paper, const char *heading, struct steps *steps)
{
    if (steps->count > 0) {
        print_heading(paper->document, 2, heading);
    }
    for (size_t i = 0; i < steps->count && !paper->sheet; i++) {
        struct text line = {0};
        step_write(&line, &steps->step[i], true);
        print_paragraph(paper->document, text_string(&line));
        text_done(&line);
    }
    if (paper->sheet && steps->count > 0) {
        print_lines(paper->document, steps->count < 12 ? steps->count : 12);
    }
    steps_done(steps);
    *steps = (struct steps){0};
}

static void add_solution(const struct paper *paper, size_t index)
{
    const struct circuit *circuit = &paper->work->circuit;
    const struct circuit_solution *solution = &paper->work->answer.solutions[index];
    const struct circuit_style *style = &paper->work->style;
    struct steps steps = {0};
    add_picture(paper, index, false);
    add_grid(paper, &solution->figures, "Resistance, voltage, current, power");
    circuit_steps_found(circuit, solution, style, &steps);
    circuit_steps_main(circuit, solution, style, &steps);
    add_steps(paper, "Steps", &steps);
    circuit_steps_second(circuit, solution, style, &steps);
    add_steps(paper, "The second way", &steps);
    circuit_steps_checks(circuit, solution, style, &steps);
    add_steps(paper, "Checks", &steps);
}

static void add_after(const struct paper *paper)
{
    if (paper->work->broken != NULL) {
        print_heading(paper->document, 2, "With the fault");
        add_picture(paper, 0, true);
        add_grid(paper, &paper->work->after, "After the fault");
    }
}

static void add_notes(const struct paper *paper)
{
    for (size_t i = 0; i < paper->work->circuit.note_count; i++) {
        print_paragraph(paper->document, paper->work->circuit.notes[i]);
    }
    for (size_t i = 0; i < paper->work->circuit.known_count; i++) {
        struct text line = {0};
        text_printf(&line, "Known: %s", paper->work->circuit.knowns[i].words);
        print_paragraph(paper->document, text_string(&line));
        text_done(&line);
    }
}

struct print_document *print_network(const struct circuit_work *work, const char *source, bool zigzag, bool sheet,
                                     const struct print_head *head)
{
    const char *caution[SHOW_CIRCUIT_CAUTIONS];
    struct text title = {0};
    circuit_label(&work->circuit, work->circuit.root, &title);
    struct paper paper = {print_new(text_string(&title), source == NULL ? "Circuit" : source, head), work, source,
                          zigzag, sheet};
    show_circuit_cautions(work, caution);
    paper.document->sentence = caution[0];
    add_notes(&paper);
    for (size_t i = 0; i < (sheet ? 1 : work->answer.count); i++) {
        add_solution(&paper, i);
    }
    add_after(&paper);
    for (size_t i = 1; caution[i] != NULL; i++) {
        print_caution(paper.document, "Caution", caution[i]);
    }
    text_done(&title);
    return paper.document;
}
