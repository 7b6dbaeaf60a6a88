/* The answer of `solve` for people: source, picture, grid, steps, the second way, checks. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "ampsum/arena.h"
#include "ampsum/exact.h"
#include "ampsum/language.h"
#include "ampsum/show_circuit.h"
#include "ampsum/words.h"

static const char *word(const struct circuit_work *work, const char *key)
{
    return say_plain(work->style.language, key);
}

void show_circuit_cautions(const struct circuit_work *work, int language,
                           const char *ret_caution[SHOW_CIRCUIT_CAUTIONS])
{
    size_t count = 0;
    ret_caution[count++] = say_plain(language, "solve.caution-board");
    if (work->after.source_shorted) {
        ret_caution[count++] = say_plain(language, "solve.caution-short");
    }
    if (work->has_breaker) {
        ret_caution[count++] = say_plain(language, "solve.caution-breaker");
    }
    ret_caution[count] = NULL;
}

void show_circuit_step(const struct circuit_work *work, const struct step *step, bool utf8, struct text *text)
{
    struct writing writing = language_writing(work->style.language);
    struct step bare = *step;
    struct text line = {0};
    char none[] = "";
    writing.grouped = false; /* figures are written already, with at most so many digits */
    bare.subject = none;
    step_write(&line, &bare, utf8);
    if (step->subject[0] != '\0') {
        text_printf(text, "%s%s ", step->subject, step->colon);
    }
    if (writing.voltage == 'V') {
        text_add(text, text_string(&line));
    } else {
        writing.decimal = work->style.comma ? ',' : '.';
        language_write(text, &writing, text_string(&line));
    }
    text_done(&line);
}

/* ------------------------------------------------------------------ the grid ------------------------------ */

static size_t widest_line(const char *string)
{
    size_t widest = 0;
    while (*string != '\0') {
        struct text line = {0};
        const size_t length = strcspn(string, "\n");
        text_add_length(&line, string, length);
        const size_t columns = words_columns(text_string(&line));
        widest = columns > widest ? columns : widest;
        string += length + (string[length] == '\n');
        text_done(&line);
    }
    return widest;
}

/* The grid; the fractions stay away where they would make it wider than the page. */
static void add_figures(const struct circuit_work *work, const struct circuit_figures *figures, const struct page *page,
                        struct text *text)
{
    struct text drawn = {0};
    struct show_circuit_grid grid;
    show_circuit_grid_init(work, figures, &grid);
    grid.plain = !page->utf8;
    show_table_text(&show_circuit_rows, &grid, grid.count, page, &drawn);
    if (widest_line(text_string(&drawn)) > page->width) {
        grid.bare = true;
        text_clear(&drawn);
        show_table_text(&show_circuit_rows, &grid, grid.count, page, &drawn);
    }
    text_add(text, text_string(&drawn));
    show_circuit_grid_done(&grid);
    text_done(&drawn);
}

/* ------------------------------------------------------------------ pieces -------------------------------- */

static void add_line(const struct page *page, size_t indent, const char *string, struct text *text)
{
    for (size_t i = 0; i < indent; i++) {
        text_add_char(text, ' ');
    }
    show_wrap(page, indent + 2, string, text);
}

static void add_steps(const struct circuit_work *work, const char *key, struct steps *steps, const struct page *page,
                      struct text *text)
{
    struct text line = {0};
    if (steps->count > 0) {
        text_printf(text, "\n%s\n", word(work, key));
    }
    for (size_t i = 0; i < steps->count; i++) {
        text_clear(&line);
        show_circuit_step(work, &steps->step[i], page->utf8, &line);
        add_line(page, 2, text_string(&line), text);
    }
    steps_done(steps);
    *steps = (struct steps){0};
    text_done(&line);
}

static void add_working(const struct circuit_work *work, size_t index, const struct page *page, struct text *text)
{
    const struct circuit *circuit = &work->circuit;
    const struct circuit_solution *solution = &work->answer.solutions[index];
    struct steps steps = {0};
    circuit_steps_found(circuit, solution, &work->style, &steps);
    circuit_steps_main(circuit, solution, &work->style, &steps);
    add_steps(work, "solve.steps", &steps, page, text);
    circuit_steps_second(circuit, solution, &work->style, &steps);
    add_steps(work, "solve.second", &steps, page, text);
    circuit_steps_checks(circuit, solution, &work->style, &steps);
    const bool junctions = steps.count > 0 && steps.step[0].kind == STEP_JUNCTION;
    add_steps(work, junctions ? "solve.junctions" : "solve.power", &steps, page, text);
}

static void add_value(const struct circuit_work *work, const struct circuit_figure *figure,
                      enum circuit_quantity quantity, struct text *line)
{
    circuit_write(line, figure, quantity, &work->style);
}

/* A line with a blank one before it. */
static void add_apart(struct text *line, const struct page *page, struct text *text)
{
    text_add_char(text, '\n');
    show_line(page, 0, 2, line, text);
}

/* What the known becomes with the part on sale, the source kept. */
static void add_with_stock(const struct circuit_work *work, size_t index, struct text *line)
{
    const struct circuit *circuit = &work->circuit;
    const enum circuit_quantity quantity = circuit->knowns[0].quantity;
    struct text what = {0};
    struct text value = {0};
    text_add(&what, show_circuit_letter(work, quantity));
    if (circuit->knowns[0].part != CIRCUIT_NONE) {
        text_printf(&what, "(%s)", circuit->nodes[circuit_known_node(circuit)].name);
    }
    circuit_write(&value, &work->beside[index].with_stock, quantity, &work->style);
    say(line, work->style.language, "solve.with-it", "what", text_string(&what), "value", text_string(&value),
        (const char *)NULL);
    text_done(&what);
    text_done(&value);
}

static void add_unknown(const struct circuit_work *work, size_t index, const struct page *page, struct text *text)
{
    const struct circuit *circuit = &work->circuit;
    if (circuit->unknown == CIRCUIT_NONE) {
        return;
    }
    const struct circuit_figure *found = &work->answer.solutions[index].figures.node[circuit->unknown].cell[CIRCUIT_R];
    struct text line = {0};
    struct text nearest = {0};
    text_printf(&line, "%s = ", circuit->nodes[circuit->unknown].name);
    show_circuit_cell(work, found, CIRCUIT_R, true, &line);
    circuit_write_value(&nearest, work->stock[index], CIRCUIT_R, &work->style);
    say(&line, work->style.language, "solve.nearest", "series", work->series, "part", text_string(&nearest),
        (const char *)NULL);
    text_done(&nearest);
    add_with_stock(work, index, &line);
    add_apart(&line, page, text);
}

static void add_terminal(const struct circuit_work *work, size_t index, const struct page *page, struct text *text)
{
    const struct circuit_figure *left = &work->beside[index].terminal_v;
    struct text line = {0};
    struct text value = {0};
    if (left->state == CIRCUIT_FINITE) {
        circuit_write_value(&value, left->value, CIRCUIT_V, &work->style);
        say(&line, work->style.language, "solve.terminals", "value", text_string(&value), (const char *)NULL);
        text_done(&value);
        add_apart(&line, page, text);
    }
}

static void add_breaker(const struct circuit_work *work, size_t index, const struct page *page, struct text *text)
{
    const struct circuit_figure *headroom = &work->beside[index].headroom_a;
    if (headroom->state != CIRCUIT_FINITE) {
        return;
    }
    const bool over = mpq_sgn(headroom->value) < 0;
    struct text line = {0};
    struct text rating = {0};
    struct text value = {0};
    mpq_t size;
    mpq_init(size);
    mpq_abs(size, headroom->value);
    circuit_write_value(&rating, work->breaker_a, CIRCUIT_I, &work->style);
    circuit_write_value(&value, size, CIRCUIT_I, &work->style);
    say(&line, work->style.language, over ? "solve.breaker-over" : "solve.breaker-left", "rating", text_string(&rating),
        "value", text_string(&value), (const char *)NULL);
    text_done(&rating);
    text_done(&value);
    mpq_clear(size);
    add_apart(&line, page, text);
}

/* ------------------------------------------------------------------ faults and tolerance ------------------ */

static void add_trend(const struct circuit_work *work, size_t node, enum circuit_quantity quantity, struct text *line)
{
    const enum circuit_trend trend = circuit_trend(&work->answer.solutions[0].figures.node[node].cell[quantity],
                                                   &work->after.node[node].cell[quantity]);
    static const char *const keys[] = {[CIRCUIT_NO_TREND] = "solve.no-figure",
                                       [CIRCUIT_RISES] = "solve.rises",
                                       [CIRCUIT_FALLS] = "solve.falls",
                                       [CIRCUIT_SAME] = "solve.same"};
    text_printf(line, "%s %s", show_circuit_letter(work, quantity), word(work, keys[trend]));
}

static void add_trend_line(const struct circuit_work *work, size_t node, const struct page *page, struct text *text)
{
    const struct circuit *circuit = &work->circuit;
    struct text line = {0};
    if (node == circuit->root && circuit->nodes[node].kind != CIRCUIT_PART) {
        text_printf(&line, "%s: ", word(work, "solve.total"));
        add_trend(work, node, CIRCUIT_R, &line);
    } else {
        text_printf(&line, "%s: ", circuit->nodes[node].name);
        add_trend(work, node, CIRCUIT_V, &line);
    }
    for (enum circuit_quantity q = CIRCUIT_I; q <= CIRCUIT_P; q++) {
        text_add(&line, ", ");
        add_trend(work, node, q, &line);
    }
    add_line(page, 2, text_string(&line), text);
    text_done(&line);
}

static void add_after(const struct circuit_work *work, const struct page *page, struct text *text)
{
    const struct circuit *circuit = &work->circuit;
    if (work->broken == NULL) {
        return;
    }
    struct text list = {0};
    for (size_t i = 0; i < circuit->part_count; i++) {
        const enum circuit_break broken = work->broken[circuit->parts[i]];
        if (broken != CIRCUIT_WHOLE) {
            text_add(&list, list.length == 0 ? "" : ", ");
            say(&list, work->style.language, broken == CIRCUIT_OPENED ? "solve.is-open" : "solve.is-shorted", "part",
                circuit->nodes[circuit->parts[i]].name, (const char *)NULL);
        }
    }
    text_add_char(text, '\n');
    say(text, work->style.language, "solve.with", "list", text_string(&list), (const char *)NULL);
    text_add_char(text, '\n');
    text_done(&list);
    add_figures(work, &work->after, page, text);
    if (work->after.source_shorted) {
        add_line(page, 0, word(work, "solve.caution-short"), text);
        return;
    }
    add_trend_line(work, circuit->root, page, text);
    for (size_t i = 0; i < circuit->part_count && circuit->part_count > 1; i++) {
        add_trend_line(work, circuit->parts[i], page, text);
    }
}

static void add_span(const struct circuit_work *work, size_t node, enum circuit_quantity quantity, struct text *line)
{
    struct text least = {0};
    struct text greatest = {0};
    add_value(work, &work->bounds.least.node[node].cell[quantity], quantity, &least);
    add_value(work, &work->bounds.greatest.node[node].cell[quantity], quantity, &greatest);
    say(line, work->style.language, "solve.span", "quantity", show_circuit_letter(work, quantity), "least",
        text_string(&least), "greatest", text_string(&greatest), (const char *)NULL);
    text_done(&least);
    text_done(&greatest);
}

static void add_tolerance(const struct circuit_work *work, const struct page *page, struct text *text)
{
    const struct circuit *circuit = &work->circuit;
    if (!work->has_bounds) {
        return;
    }
    struct text line = {0};
    circuit_write_number(&line, work->percent, &work->style);
    text_add_char(text, '\n');
    say(text, work->style.language, "solve.off-by", "percent", text_string(&line), (const char *)NULL);
    text_add_char(text, '\n');
    text_clear(&line);
    text_printf(&line, "%s: ", word(work, "solve.total"));
    add_span(work, circuit->root, CIRCUIT_R, &line);
    for (enum circuit_quantity q = CIRCUIT_I; q <= CIRCUIT_P && work->answer.solutions[0].has_voltage; q++) {
        text_add(&line, ", ");
        add_span(work, circuit->root, q, &line);
    }
    add_line(page, 2, text_string(&line), text);
    for (size_t i = 0; i < circuit->part_count && work->answer.solutions[0].has_voltage; i++) {
        text_clear(&line);
        text_printf(&line, "%s: ", circuit->nodes[circuit->parts[i]].name);
        add_span(work, circuit->parts[i], CIRCUIT_V, &line);
        text_add(&line, ", ");
        add_span(work, circuit->parts[i], CIRCUIT_I, &line);
        add_line(page, 2, text_string(&line), text);
    }
    text_done(&line);
}

/* ------------------------------------------------------------------ all of it ----------------------------- */

static void add_head(const struct circuit_work *work, const char *source, const struct page *page, struct text *text)
{
    struct text line = {0};
    text_add(&line, source == NULL ? word(work, "solve.no-source") : source);
    text_printf(&line, "%s ", word(work, "language.colon"));
    circuit_label(&work->circuit, work->circuit.root, &line);
    add_line(page, 0, text_string(&line), text);
    for (size_t i = 0; i < work->circuit.note_count; i++) {
        text_clear(&line);
        say(&line, work->style.language, "solve.note", "note", work->circuit.notes[i], (const char *)NULL);
        add_line(page, 0, text_string(&line), text);
    }
    text_done(&line);
}

static void add_picture(const struct circuit_work *work, size_t index, const struct page *page, struct text *text)
{
    struct text line = {0};
    circuit_sentence(&work->circuit, &work->style, &line);
    text_add_char(&line, '.');
    if (!show_circuit_drawing(work, index, false, page, text)) {
        add_line(page, 0, text_string(&line), text);
    }
    text_done(&line);
}

static void add_solution(const struct circuit_work *work, size_t index, const struct page *page, struct text *text)
{
    if (work->answer.count > 1) {
        struct text number = {0};
        struct text all = {0};
        text_printf(&number, "%zu", index + 1);
        text_printf(&all, "%zu", work->answer.count);
        text_add_char(text, '\n');
        say(text, work->style.language, "solve.answer-of", "number", text_string(&number), "all", text_string(&all),
            (const char *)NULL);
        text_add_char(text, '\n');
        text_done(&number);
        text_done(&all);
    }
    text_add_char(text, '\n');
    add_picture(work, index, page, text);
    text_add_char(text, '\n');
    add_figures(work, &work->answer.solutions[index].figures, page, text);
    add_working(work, index, page, text);
    add_unknown(work, index, page, text);
    add_terminal(work, index, page, text);
    add_breaker(work, index, page, text);
}

void show_circuit_text(const struct circuit_work *work, const char *source, bool brief, const struct page *page,
                       struct text *text)
{
    const char *caution[SHOW_CIRCUIT_CAUTIONS];
    for (size_t i = 0; i < work->answer.count && brief; i++) {
        add_figures(work, &work->answer.solutions[i].figures, page, text);
    }
    if (brief) {
        return;
    }
    add_head(work, source, page, text);
    for (size_t i = 0; i < work->answer.count; i++) {
        add_solution(work, i, page, text);
    }
    add_after(work, page, text);
    add_tolerance(work, page, text);
    show_circuit_cautions(work, work->style.language, caution);
    text_printf(text, "\n%s\n", word(work, "solve.cautions"));
    for (size_t i = 0; caution[i] != NULL; i++) {
        text_add(text, "  ");
        show_wrap(page, 2, caution[i], text);
    }
}
