/* The figures of a circuit as rows, described once for terminal, CSV, JSON, page and paper. */
#include <math.h>
#include <stdlib.h>

#include "ampsum/arena.h"
#include "ampsum/exact.h"
#include "ampsum/language.h"
#include "ampsum/show_circuit.h"

enum { FRACTION_BYTES_MOST = 12 };

static const struct show_circuit_grid *grid_of(const void *answer)
{
    return answer;
}

/* ------------------------------------------------------------------ which rows ---------------------------- */

void show_circuit_grid_init(const struct circuit_work *work, const struct circuit_figures *figures,
                            struct show_circuit_grid *ret_grid)
{
    const struct circuit *circuit = &work->circuit;
    struct show_circuit_grid *grid = ret_grid;
    *grid = (struct show_circuit_grid){.work = work, .figures = figures};
    grid->nodes = memory_resize(NULL, 2 * circuit->node_count, sizeof *grid->nodes);
    for (size_t i = 0; i < circuit->part_count; i++) {
        if (!circuit_is_repeated(circuit, circuit->parts[i])) {
            grid->nodes[grid->count++] = circuit->parts[i];
        }
    }
    grid->count += circuit_groups(circuit, CIRCUIT_PART, true, grid->nodes + grid->count);
}

void show_circuit_grid_done(struct show_circuit_grid *grid)
{
    free(grid->nodes);
    *grid = (struct show_circuit_grid){0};
}

/* Parts, then groups, then the total: each part by itself. A circuit of one part is part and total. */
static void data_grid_init(const struct circuit_work *work, size_t index, struct show_circuit_grid *ret_grid)
{
    const struct circuit *circuit = &work->circuit;
    show_circuit_grid_init(work, &work->answer.solutions[index].figures, ret_grid);
    size_t *nodes = ret_grid->nodes;
    ret_grid->solution = index;
    for (size_t i = 0; i < circuit->part_count; i++) {
        nodes[i] = circuit->parts[i];
    }
    const size_t groups = circuit_groups(circuit, CIRCUIT_PART, true, nodes + circuit->part_count);
    ret_grid->count = circuit->part_count + (groups == 0 ? 1 : groups);
    nodes[ret_grid->count - 1] = circuit->root;
}

/* ------------------------------------------------------------------ names --------------------------------- */

void show_circuit_row_name(const struct circuit *circuit, int language, size_t node, struct text *text)
{
    if (node == circuit->root && circuit->nodes[node].kind != CIRCUIT_PART) {
        text_add(text, say_plain(language, "solve.total"));
    } else {
        circuit_row_label(circuit, language, node, text);
    }
}

const char *show_circuit_letter(const struct circuit_work *work, enum circuit_quantity quantity)
{
    return quantity == CIRCUIT_V && language_writing(work->style.language).voltage == 'U' ? "U"
                                                                                          : circuit_letter(quantity);
}

static void get_solution(const void *answer, size_t row, struct show_cell *cell)
{
    (void)row;
    cell->figure = (double)(grid_of(answer)->solution + 1);
}

static void get_kind(const void *answer, size_t row, struct show_cell *cell)
{
    const struct show_circuit_grid *grid = answer;
    cell->words = row < grid->work->circuit.part_count ? "part" : row + 1 < grid->count ? "group" : "total";
}

static void get_label(const void *answer, size_t row, struct show_cell *cell)
{
    circuit_label(&grid_of(answer)->work->circuit, grid_of(answer)->nodes[row], show_made(cell));
    show_made_done(cell);
}

static void get_name(const void *answer, size_t row, struct show_cell *cell)
{
    const struct circuit_work *work = grid_of(answer)->work;
    show_circuit_row_name(&work->circuit, work->style.language, grid_of(answer)->nodes[row], show_made(cell));
    show_made_done(cell);
}

static int language_of(const void *answer)
{
    return grid_of(answer)->work->style.language;
}

static void head_voltage(const void *answer, struct text *text)
{
    text_add(text, show_circuit_letter(grid_of(answer)->work, CIRCUIT_V));
}

/* ------------------------------------------------------------------ figures for people -------------------- */

bool show_circuit_is_given(const struct circuit_work *work, size_t node, enum circuit_quantity quantity)
{
    const struct circuit *circuit = &work->circuit;
    const bool part = circuit->nodes[node].kind == CIRCUIT_PART;
    return (quantity == CIRCUIT_R && part && node != circuit->unknown) ||
           (quantity == CIRCUIT_V && node == circuit->root && circuit->has_source_v);
}

void show_circuit_cell(const struct circuit_work *work, const struct circuit_figure *figure,
                       enum circuit_quantity quantity, bool fraction_too, struct text *text)
{
    circuit_write(text, figure, quantity, &work->style);
    if (!fraction_too || figure->state != CIRCUIT_FINITE || figure->irrational || exact_digits(figure->value) > 0) {
        return;
    }
    struct text fraction = {0};
    exact_write_fraction(&fraction, figure->value);
    if (fraction.length <= FRACTION_BYTES_MOST) {
        text_printf(text, " (%s %s)", text_string(&fraction), circuit_unit_sign(quantity));
    }
    text_done(&fraction);
}

static void set_figure(const void *answer, size_t row, enum circuit_quantity quantity, struct show_cell *cell)
{
    const struct show_circuit_grid *grid = answer;
    const size_t node = grid->nodes[row];
    struct text figure = {0};
    if (grid->blank != NULL && !show_circuit_is_given(grid->work, node, quantity)) {
        cell->words = grid->blank;
        return;
    }
    show_circuit_cell(grid->work, &grid->figures->node[node].cell[quantity], quantity, !grid->bare, &figure);
    if (grid->plain) {
        show_plain(text_string(&figure), show_made(cell));
    } else {
        text_add(show_made(cell), text_string(&figure));
    }
    show_made_done(cell);
    text_done(&figure);
}

static void get_resistance(const void *answer, size_t row, struct show_cell *cell)
{
    set_figure(answer, row, CIRCUIT_R, cell);
}

static void get_voltage(const void *answer, size_t row, struct show_cell *cell)
{
    set_figure(answer, row, CIRCUIT_V, cell);
}

static void get_current(const void *answer, size_t row, struct show_cell *cell)
{
    set_figure(answer, row, CIRCUIT_I, cell);
}

static void get_power(const void *answer, size_t row, struct show_cell *cell)
{
    set_figure(answer, row, CIRCUIT_P, cell);
}

/* ------------------------------------------------------------------ figures for programs ------------------ */

static const void *cells_at(const void *answer, size_t row)
{
    return &grid_of(answer)->figures->node[grid_of(answer)->nodes[row]];
}

static void take_number(const struct show_column *column, const void *field, struct show_cell *cell)
{
    (void)column;
    const struct circuit_figure *figure = field;
    cell->figure = figure->state == CIRCUIT_FINITE ? exact_double(figure->value) : (double)NAN;
}

/* As a fraction, where it is one. */
static void take_exact(const struct show_column *column, const void *field, struct show_cell *cell)
{
    (void)column;
    const struct circuit_figure *figure = field;
    if (figure->state == CIRCUIT_FINITE && !figure->irrational) {
        exact_write_fraction(show_made(cell), figure->value);
        show_made_done(cell);
    }
}

#define OF_CIRCUIT(q_) .kind = SHOW_FIGURE, .at = cells_at, SHOW_TAKEN(struct circuit_cells, cell[q_], take_number)
#define EXACT(q_) .faces = SHOW_JSON, SHOW_TAKEN(struct circuit_cells, cell[q_], take_exact)

static const struct show_column exact_columns[] = {
    {.key = "resistance_ohm", EXACT(CIRCUIT_R)},
    {.key = "voltage_v", EXACT(CIRCUIT_V)},
    {.key = "current_a", EXACT(CIRCUIT_I)},
    {.key = "power_w", EXACT(CIRCUIT_P)},
};
static const struct show_rows exact_rows = SHOW_ROWS_OF(exact_columns);

/* ------------------------------------------------------------------ the columns --------------------------- */

enum { SEEN = SHOW_TERMINAL | SHOW_PRINT };

#define SEEN_FIGURE .right = true, .weight = 18, .faces = SEEN

static const struct show_column columns[] = {
    {.key = "solution", .kind = SHOW_FIGURE, .faces = SHOW_CSV, .get = get_solution},
    {.key = "kind", .faces = SHOW_CSV, .get = get_kind},
    {.key = "name", .faces = SHOW_DATA, .get = get_label},
    {.title = "solve.part", .language = language_of, .wrap = 24, .weight = 26, .faces = SEEN, .get = get_name},
    {.key = "resistance_ohm", .faces = SHOW_DATA, OF_CIRCUIT(CIRCUIT_R)},
    {.title = "R", SEEN_FIGURE, .get = get_resistance},
    {.key = "voltage_v", .faces = SHOW_DATA, OF_CIRCUIT(CIRCUIT_V)},
    {.head = head_voltage, SEEN_FIGURE, .get = get_voltage},
    {.key = "current_a", .faces = SHOW_DATA, OF_CIRCUIT(CIRCUIT_I)},
    {.title = "I", SEEN_FIGURE, .get = get_current},
    {.key = "power_w", .faces = SHOW_DATA, OF_CIRCUIT(CIRCUIT_P)},
    {.title = "P", SEEN_FIGURE, .get = get_power},
    {.key = "exact", SHOW_OBJECT(exact_rows), .at = cells_at},
};

const struct show_rows show_circuit_rows = SHOW_ROWS_OF(columns);

json_t *show_circuit_parts_json(const struct circuit_work *work, const struct circuit_figures *figures)
{
    const struct show_circuit_grid parts = {.work = work, .figures = figures, .nodes = work->circuit.parts};
    return show_json_array(&show_circuit_rows, &parts, work->circuit.part_count);
}

struct table *show_circuit_table(const struct circuit_work *work)
{
    struct table *table = NULL;
    for (size_t i = 0; i < work->answer.count; i++) {
        struct show_circuit_grid grid;
        data_grid_init(work, i, &grid);
        if (table == NULL) {
            table = show_table(&show_circuit_rows, SHOW_CSV, &grid, grid.count);
        } else {
            show_more_rows(table, &show_circuit_rows, SHOW_CSV, &grid, grid.count);
        }
        show_circuit_grid_done(&grid);
    }
    return table;
}

/* ------------------------------------------------------------------ the total ----------------------------- */

/* Where the whole is looked at by itself, its fractions stand in another order than a part's. */
static const struct show_column exact_total_columns[] = {
    {.key = "resistance_ohm", EXACT(CIRCUIT_R)},
    {.key = "current_a", EXACT(CIRCUIT_I)},
    {.key = "voltage_v", EXACT(CIRCUIT_V)},
    {.key = "power_w", EXACT(CIRCUIT_P)},
};
static const struct show_rows exact_total_rows = SHOW_ROWS_OF(exact_total_columns);

static void take_conductance(const struct show_column *column, const void *field, struct show_cell *cell)
{
    (void)column;
    cell->figure = circuit_conductance_s(field);
}

static const struct show_column total_columns[] = {
    {.key = "resistance_ohm", .faces = SHOW_JSON, OF_CIRCUIT(CIRCUIT_R)},
    {.key = "voltage_v", .faces = SHOW_JSON, OF_CIRCUIT(CIRCUIT_V)},
    {.key = "current_a", .faces = SHOW_JSON, OF_CIRCUIT(CIRCUIT_I)},
    {.key = "power_w", .faces = SHOW_JSON, OF_CIRCUIT(CIRCUIT_P)},
    {.key = "conductance_s",
     .kind = SHOW_FIGURE,
     .faces = SHOW_JSON,
     .at = cells_at,
     SHOW_TAKEN(struct circuit_cells, cell[CIRCUIT_R], take_conductance)},
    {.key = "exact", SHOW_OBJECT(exact_total_rows), .at = cells_at},
};

json_t *show_circuit_total_json(const struct circuit_work *work, const struct circuit_figures *figures)
{
    static const struct show_rows rows = SHOW_ROWS_OF(total_columns);
    size_t root = work->circuit.root;
    const struct show_circuit_grid total = {.work = work, .figures = figures, .nodes = &root};
    return show_json(&rows, &total, 0);
}
