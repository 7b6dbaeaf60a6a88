/* The sheet of `solve` as plain text: circuit and grid with what was given, cells and steps left open to be filled in.
 */
#include "ampsum/language.h"
#include "ampsum/show_circuit.h"

enum { LINES_MOST = 12 };

static const char blank[] = "________";

static void add_grid(const struct circuit_work *work, const struct page *page, struct text *text)
{
    struct show_circuit_grid grid;
    show_circuit_grid_init(work, &work->answer.solutions[0].figures, &grid);
    grid.plain = !page->utf8;
    grid.blank = blank;
    show_table_text(&show_circuit_rows, &grid, grid.count, page, text);
    show_circuit_grid_done(&grid);
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
