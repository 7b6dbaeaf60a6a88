/* A circuit on paper. */
#include "ampsum/print_network.h"

#include "ampsum/arena.h"
#include "ampsum/language.h"

struct paper {
    struct print_document *document;
    const struct circuit_work *work;
    const char *source;
    bool zigzag;
    bool sheet;
    bool tight; /* a sheet whose steps are to stand on one page: fewer lines */
};

static const char *word(const struct paper *paper, const char *key)
{
    return say_plain(paper->work->style.language, key);
}

static void add_grid(const struct paper *paper, const struct circuit_figures *figures, const char *caption)
{
    struct show_circuit_grid grid;
    show_circuit_grid_init(paper->work, figures, &grid);
    grid.blank = paper->sheet ? "" : NULL;
    print_rows(paper->document, caption, &show_circuit_rows, &grid, grid.count)->ruled = paper->sheet;
    show_circuit_grid_done(&grid);
}

static void add_picture(const struct paper *paper, size_t solution, bool broken)
{
    const struct network_style style = {
        .zigzag = paper->zigzag, .blank = paper->sheet, .broken = broken, .solution = solution};
    struct arena *arena = paper->document->arena;
    struct picture *picture = arena_take(arena, sizeof *picture);
    if (picture_network(paper->work, paper->source, style, arena, picture)) {
        print_picture(paper->document, picture);
    }
    print_paragraph(paper->document, picture->description);
}

/* Lines for the steps of a sheet: one each; of a tight one two for three steps. */
static size_t count_lines(const struct paper *paper, size_t steps)
{
    enum { MOST = 12 };
    const size_t wanted = paper->tight && steps > 2 ? (2 * steps + 2) / 3 : steps;
    return wanted < MOST ? wanted : MOST;
}

static void add_steps(const struct paper *paper, const char *heading, struct steps *steps)
{
    if (steps->count > 0) {
        print_heading(paper->document, paper->tight ? 3 : 2, heading);
    }
    for (size_t i = 0; i < steps->count && !paper->sheet; i++) {
        struct text line = {0};
        show_circuit_step(paper->work, &steps->step[i], true, &line);
        print_paragraph(paper->document, text_string(&line));
        text_done(&line);
    }
    if (paper->sheet && steps->count > 0) {
        print_lines(paper->document, count_lines(paper, steps->count));
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
    add_grid(paper, &solution->figures, word(paper, "solve.figures"));
    circuit_steps_found(circuit, solution, style, &steps);
    circuit_steps_main(circuit, solution, style, &steps);
    add_steps(paper, word(paper, "solve.steps"), &steps);
    circuit_steps_second(circuit, solution, style, &steps);
    add_steps(paper, word(paper, "solve.second"), &steps);
    circuit_steps_checks(circuit, solution, style, &steps);
    add_steps(paper, word(paper, "solve.checks"), &steps);
}

static void add_after(const struct paper *paper)
{
    if (paper->work->broken != NULL) {
        print_heading(paper->document, 2, word(paper, "solve.fault"));
        add_picture(paper, 0, true);
        add_grid(paper, &paper->work->after, word(paper, "solve.after-fault"));
    }
}

static void add_notes(const struct paper *paper)
{
    for (size_t i = 0; i < paper->work->circuit.note_count; i++) {
        print_paragraph(paper->document, paper->work->circuit.notes[i]);
    }
    for (size_t i = 0; i < paper->work->circuit.known_count; i++) {
        struct text line = {0};
        say(&line, paper->work->style.language, "solve.known", "known", paper->work->circuit.knowns[i].words,
            (const char *)NULL);
        print_paragraph(paper->document, text_string(&line));
        text_done(&line);
    }
}

/* `write`: from line to line that is written on; 0: the usual. */
static struct print_document *make(struct paper paper, double write, const struct print_head *head)
{
    const char *caution[SHOW_CIRCUIT_CAUTIONS];
    const int language = paper.work->style.language;
    struct text title = {0};
    circuit_label(&paper.work->circuit, paper.work->circuit.root, &title);
    const char *name = paper.source == NULL ? say_plain(language, "solve.circuit") : paper.source;
    paper.document = print_new(text_string(&title), name, head);
    paper.document->look = (struct print_look){.write = write, .space = write > 0 ? 0.5 : 0};
    paper.document->words =
        (struct print_words){language_code(language), say_plain(language, "sheet.page"),
                             say_plain(language, "solve.of"), say_plain(language, "sheet.continued")};
    show_circuit_cautions(paper.work, language, caution);
    paper.document->sentence = caution[0];
    add_notes(&paper);
    for (size_t i = 0; i < (paper.sheet ? 1 : paper.work->answer.count); i++) {
        add_solution(&paper, i);
    }
    add_after(&paper);
    for (size_t i = 1; caution[i] != NULL; i++) {
        print_caution(paper.document, word(&paper, "solve.caution"), caution[i]);
    }
    text_done(&title);
    return paper.document;
}

static bool is_one_page(const struct print_document *document)
{
    struct canvas none = canvas_none();
    return print_pages(document, &none) == 1;
}

/* A sheet to fill in is one page where closer lines, and fewer of them, make it one: both ways side by side. */
struct print_document *print_network(const struct circuit_work *work, const char *source, bool zigzag, bool sheet,
                                     const struct print_head *head)
{
    static const double closer[] = {20, 17}; /* points; 6 mm */
    struct paper paper = {.work = work, .source = source, .zigzag = zigzag, .sheet = sheet};
    struct print_document *document = make(paper, 0, head);
    for (size_t i = 0; i < sizeof closer / sizeof closer[0] && sheet && !is_one_page(document); i++) {
        paper.tight = true;
        struct print_document *tight = make(paper, closer[i], head);
        if (is_one_page(tight)) {
            print_free(document);
            return tight;
        }
        print_free(tight);
    }
    return document;
}
