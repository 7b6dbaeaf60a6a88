/* The sheet of `solve` as plain text: circuit and grid with what was given, cells and steps left open to be filled in.
 */
#include <stdlib.h>

#include "ampsum/arena.h"
#include "ampsum/language.h"
#include "ampsum/show_circuit.h"

enum { LINES_MOST = 12 };

static const char blank[] = "________";

bool show_circuit_is_given(const struct circuit_work *work, size_t node, enum circuit_quantity quantity)
{
    const struct circuit *circuit = &work->circuit;
    const bool part = circuit->nodes[node].kind == CIRCUIT_PART;
    return (quantity == CIRCUIT_R && part && node != circuit->unknown) ||
           (quantity == CIRCUIT_V && node == circuit->root && circuit->has_source_v);
}

static void add_row(const struct circuit_work *work, size_t node, const struct page *page, struct table *table)
{
    struct text cell = {0};
    struct text plain = {0};
    const struct circuit_figures *figures = &work->answer.solutions[0].figures;
    show_circuit_row_name(&work->circuit, work->style.language, node, &cell);
    table_row(table);
    table_text(table, text_string(&cell));
    for (enum circuit_quantity q = CIRCUIT_R; q < CIRCUIT_QUANTITIES; q++) {
        text_clear(&cell);
        text_clear(&plain);
        if (show_circuit_is_given(work, node, q)) {
            show_circuit_cell(work, &figures->node[node].cell[q], q, true, &cell);
        } else {
            text_add(&cell, blank);
        }
        show_plain(text_string(&cell), &plain);
        table_text(table, text_string(page->utf8 ? &cell : &plain));
    }
    text_done(&plain);
    text_done(&cell);
}

static void add_grid(const struct circuit_work *work, const struct page *page, struct text *text)
{
    const struct circuit *circuit = &work->circuit;
    struct table *table = table_new();
    size_t *rows = memory_resize(NULL, 2 * circuit->node_count, sizeof *rows);
    const size_t count = show_circuit_rows(circuit, rows);
    table_column(table, say_plain(work->style.language, "solve.head-part"), NULL, TABLE_LEFT, 24);
    for (enum circuit_quantity q = CIRCUIT_R; q < CIRCUIT_QUANTITIES; q++) {
        table_column(table, show_circuit_letter(work, q), NULL, TABLE_RIGHT, 0);
    }
    for (size_t i = 0; i < count; i++) {
        add_row(work, rows[i], page, table);
    }
    table_write_terminal(table, page->width, page->utf8, text);
    table_free(table);
    free(rows);
}

/* As many lines as the steps would take. */
static void add_room(const char *heading, struct steps *steps, const struct page *page, struct text *text)
{
    if (steps->count > 0) {
        text_printf(text, "\n%s\n", heading);
    }
    for (size_t i = 0; i < steps->count && i < LINES_MOST; i++) {
        text_add_char(text, '\n');
        for (size_t column = 0; column < page->width; column++) {
            text_add_char(text, '_');
        }
        text_add_char(text, '\n');
    }
    steps_done(steps);
    *steps = (struct steps){0};
}

static void add_task(const struct circuit_work *work, const char *source, const struct page *page, struct text *text)
{
    const struct circuit *circuit = &work->circuit;
    const int language = work->style.language;
    struct text line = {0};
    text_add(&line, source == NULL ? say_plain(language, "solve.no-source") : source);
    text_printf(&line, "%s ", say_plain(language, "language.colon"));
    circuit_label(circuit, circuit->root, &line);
    show_wrap(page, 2, text_string(&line), text);
    for (size_t i = 0; i < circuit->note_count; i++) {
        text_clear(&line);
        say(&line, language, "solve.note", "note", circuit->notes[i], (const char *)NULL);
        show_wrap(page, 2, text_string(&line), text);
    }
    for (size_t i = 0; i < circuit->known_count; i++) {
        text_clear(&line);
        say(&line, language, "solve.known", "known", circuit->knowns[i].words, (const char *)NULL);
        show_wrap(page, 2, text_string(&line), text);
    }
    text_add_char(text, '\n');
    text_clear(&line);
    circuit_sentence(circuit, &work->style, &line);
    text_add_char(&line, '.');
    if (!show_circuit_drawing(work, 0, true, page, text)) {
        show_wrap(page, 2, text_string(&line), text);
    }
    text_done(&line);
}

void show_circuit_sheet(const struct circuit_work *work, const char *source, const struct page *page, struct text *text)
{
    const char *caution[SHOW_CIRCUIT_CAUTIONS];
    const struct circuit *circuit = &work->circuit;
    const struct circuit_solution *solution = &work->answer.solutions[0];
    const int language = work->style.language;
    struct steps steps = {0};
    add_task(work, source, page, text);
    text_add_char(text, '\n');
    add_grid(work, page, text);
    circuit_steps_found(circuit, solution, &work->style, &steps);
    circuit_steps_main(circuit, solution, &work->style, &steps);
    add_room(say_plain(language, "solve.steps"), &steps, page, text);
    circuit_steps_second(circuit, solution, &work->style, &steps);
    add_room(say_plain(language, "solve.second"), &steps, page, text);
    circuit_steps_checks(circuit, solution, &work->style, &steps);
    add_room(say_plain(language, "solve.checks"), &steps, page, text);
    show_circuit_cautions(work, language, caution);
    text_add_char(text, '\n');
    show_wrap(page, 0, caution[0], text);
}
