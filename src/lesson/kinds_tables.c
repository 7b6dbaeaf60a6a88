/*
 * Kinds on units, tables and the bench: prefixes, the grid of a circuit, measured beside computed. Resistors side by
 * side are drawn; the grid is a table.
 */
#include "kinds.h"

/* ------------------------------------------------------------------ prefixes ------------------------------ */

/* The source and resistors of a thousand ohm or about; at levels 3 and 4 some below, some above. */
static struct side_by_side give_kilohms(struct builder *builder, size_t count)
{
    const bool mixed = builder->question->level > 2;
    struct side_by_side set = {.count = count};
    struct ratio resistance[LOADS_MOST];
    unsigned long voltage;
    bool above = false;
    bool below = false;
    choose_parallel(builder, count, resistance, &voltage);
    builder->question->prefixed = builder->question->thousands = true;
    set.voltage = give_voltage(builder, voltage);
    element(builder, 0, ELEMENT_SOURCE, 1, 0, set.voltage);
    for (size_t i = 0; i < count; i++) {
        resistance[i].over *= mixed ? 100 : 1000;
        above = above || resistance[i].over >= 1000 * resistance[i].under;
        below = below || resistance[i].over < 1000 * resistance[i].under;
        set.resistor[i] = give_resistor(builder, i, resistance[i]);
        element(builder, 0, ELEMENT_RESISTOR, 1, 0, set.resistor[i]);
    }
    builder->ok = builder->ok && above && below == mixed;
    builder->question->drawing = DRAW_PARALLEL;
    return set;
}

/* The same figure once more in its plain unit. */
static void ask_plain(struct builder *builder, size_t figure, const char *symbol, const char *asked)
{
    const enum exact_quantity measure = builder->question->quantities[figure].measure;
    const size_t plain = find(builder, symbol, "subject.in-the-plain-unit", measure, STEP_SAME_FIGURE, &figure, 1);
    builder->question->quantities[plain].plain = true;
    ask(builder, plain, asked);
}

void build_prefixes(struct builder *builder)
{
    const unsigned level = builder->question->level;
    struct side_by_side set = give_kilohms(builder, level < 2 ? 1 : level < 4 ? 2 : 3);
    size_t current[LOADS_MOST];
    find_currents(builder, &set, 0, true, current);
    size_t total = current[0];
    if (set.count > 1) {
        total = find(builder, "I", "subject.all-together", EXACT_CURRENT, STEP_CURRENT_SUM, current, set.count);
        probe(builder, total, PROBE_SOURCE_CURRENT, 0, 0);
        ask(builder, total, "asked.total-current");
    }
    const size_t power =
        find_two(builder, "P", "subject.all-together", EXACT_POWER, STEP_POWER_FROM_CURRENT, set.voltage, total);
    probe(builder, power, PROBE_SOURCE_POWER, 0, 0);
    ask(builder, power, "asked.power-of-all-together");
    ask_plain(builder, total, "I in A", "more.the-same-current-without-a-prefix");
    if (level > 1) {
        ask_plain(builder, power, "P in W", "more.the-same-power-without-a-prefix");
    }
}

/* ------------------------------------------------------------------ grid ---------------------------------- */

enum { COLUMN_R, COLUMN_V, COLUMN_I, COLUMN_P, ROW_ALL = 3 };

/* The cells that a level leaves empty, as bits of R, V, I, P (1, 2, 4, 8), rows R1, R2, R3, all: 2, 4, 6, 9 of them. */
static const unsigned empty_cells[LESSON_LEVEL_MOST][LESSON_GRID_SIDE] = {
    {1 << COLUMN_I, 0, 0, 1 << COLUMN_P},
    {1 << COLUMN_I, 1 << COLUMN_R, 1 << COLUMN_P, 1 << COLUMN_I},
    {1 << COLUMN_I, 1 << COLUMN_R | 1 << COLUMN_V, 1 << COLUMN_P, 1 << COLUMN_I | 1 << COLUMN_R},
    {1 << COLUMN_I | 1 << COLUMN_P, 1 << COLUMN_R | 1 << COLUMN_V | 1 << COLUMN_P, 1 << COLUMN_I | 1 << COLUMN_P,
     1 << COLUMN_R | 1 << COLUMN_V},
};

static const enum exact_quantity column_measures[LESSON_GRID_SIDE] = {EXACT_RESISTANCE, EXACT_VOLTAGE, EXACT_CURRENT,
                                                                      EXACT_POWER};

static const char *const cell_names[LESSON_GRID_SIDE][LESSON_GRID_SIDE] = {
    {"R1", "V1", "I1", "P1"}, {"R2", "V2", "I2", "P2"}, {"R3", "V3", "I3", "P3"}, {"R", "V", "I", "P"}};

static const char *const cell_asked[LESSON_GRID_SIDE][LESSON_GRID_SIDE] = {
    {"asked.resistance-1 R1", "asked.voltage-across-1 R1", "asked.current-1 I1", "asked.power-1 P1"},
    {"asked.resistance-1 R2", "asked.voltage-across-1 R2", "asked.current-1 I2", "asked.power-1 P2"},
    {"asked.resistance-1 R3", "asked.voltage-across-1 R3", "asked.current-1 I3", "asked.power-1 P3"},
    {"asked.resistance-of-all-together", "asked.voltage-of-the-source", "asked.total-current",
     "asked.power-of-all-together"}};

static const char *const row_names[LESSON_GRID_SIDE] = {"R1", "R2", "R3", "subject.all-together"};

/* True where the level leaves the cell empty. */
static bool is_empty(const struct builder *builder, size_t row, size_t column)
{
    return (empty_cells[builder->question->level - 1][row] >> column & 1) != 0;
}

/* What a cell holds, from resistances and voltage. */
static void cell_value(const struct ratio *resistance, unsigned long voltage, size_t row, size_t column, mpq_t ret)
{
    mpq_t ohm;
    mpq_t one;
    mpq_inits(ohm, one, NULL);
    for (size_t i = row == ROW_ALL ? 0 : row; i < (row == ROW_ALL ? ROW_ALL : row + 1); i++) {
        mpq_set_ui(one, resistance[i].under, resistance[i].over);
        mpq_canonicalize(one);
        mpq_add(ohm, ohm, one); /* siemens as yet */
    }
    mpq_inv(ohm, ohm);
    mpq_set_ui(one, voltage, 1);
    if (column == COLUMN_R) {
        mpq_set(ret, ohm);
    } else if (column == COLUMN_V) {
        mpq_set(ret, one);
    } else {
        mpq_div(ret, one, ohm);
        mpq_mul(ret, ret, one);
        if (column == COLUMN_I) {
            mpq_div(ret, ret, one);
        }
    }
    mpq_clears(ohm, one, NULL);
}

/* The step by which an empty cell is found from cells that stand before it, and its operands. */
static size_t find_cell(struct builder *builder, size_t row, size_t column)
{
    size_t(*grid)[LESSON_GRID_SIDE] = builder->question->grid;
    const size_t *of = grid[row];
    const size_t paths[] = {grid[0][COLUMN_I], grid[1][COLUMN_I], grid[2][COLUMN_I]};
    const char *name = cell_names[row][column];
    const char *subject = row_names[row];
    switch (column) {
    case COLUMN_R:
        return find_two(builder, name, subject, EXACT_RESISTANCE, STEP_RESISTANCE_FROM_CURRENT, of[COLUMN_V],
                        of[COLUMN_I]);
    case COLUMN_V:
        return find(builder, name, subject, EXACT_VOLTAGE, STEP_SAME_VOLTAGE, &grid[0][COLUMN_V], 1);
    case COLUMN_I:
        return row == ROW_ALL ? find(builder, name, subject, EXACT_CURRENT, STEP_CURRENT_SUM, paths, ROW_ALL)
                              : find_two(builder, name, subject, EXACT_CURRENT, STEP_CURRENT_FROM_RESISTANCE,
                                         of[COLUMN_V], of[COLUMN_R]);
    default:
        return find_two(builder, name, subject, EXACT_POWER, STEP_POWER_FROM_CURRENT, of[COLUMN_V], of[COLUMN_I]);
    }
}

/* Where a meter shows it, whether it is given or found. */
static void probe_cell(struct builder *builder, size_t row, size_t column)
{
    static const enum probe_kind parts[] = {PROBE_NONE, PROBE_VOLTAGE, PROBE_CURRENT, PROBE_POWER};
    static const enum probe_kind whole[] = {PROBE_SEEN, PROBE_VOLTAGE, PROBE_SOURCE_CURRENT, PROBE_SOURCE_POWER};
    const size_t index = builder->question->grid[row][column];
    if (row == ROW_ALL) {
        probe(builder, index, whole[column], 0, 0);
    } else if (column != COLUMN_R) {
        probe(builder, index, parts[column], 0, 1 + row);
    }
}

static void give_cells(struct builder *builder, const struct ratio *resistance, unsigned long voltage)
{
    mpq_t value;
    mpq_init(value);
    for (size_t row = 0; row < LESSON_GRID_SIDE; row++) {
        for (size_t column = 0; column < LESSON_GRID_SIDE; column++) {
            if (!is_empty(builder, row, column)) {
                cell_value(resistance, voltage, row, column, value);
                builder->question->grid[row][column] =
                    give_value(builder, cell_names[row][column], "", column_measures[column], value);
            }
        }
    }
    mpq_clear(value);
}

/* Voltages first, then resistances or currents of the parts, then those of all, powers last. */
static void find_cells(struct builder *builder)
{
    static const struct {
        size_t first_row;
        size_t end_row;
        size_t column;
    } order[] = {{0, 4, COLUMN_V}, {0, 3, COLUMN_I}, {0, 3, COLUMN_R},
                 {3, 4, COLUMN_I}, {3, 4, COLUMN_R}, {0, 4, COLUMN_P}};
    for (size_t i = 0; i < sizeof order / sizeof order[0]; i++) {
        const size_t column = order[i].column;
        for (size_t row = order[i].first_row; row < order[i].end_row; row++) {
            if (is_empty(builder, row, column)) {
                const size_t index = find_cell(builder, row, column);
                builder->question->grid[row][column] = index;
                ask(builder, index, cell_asked[row][column]);
            }
        }
    }
}

void build_grid(struct builder *builder)
{
    struct ratio resistance[LOADS_MOST];
    unsigned long voltage;
    choose_parallel(builder, ROW_ALL, resistance, &voltage);
    give_cells(builder, resistance, voltage);
    find_cells(builder);
    size_t(*grid)[LESSON_GRID_SIDE] = builder->question->grid;
    element(builder, 0, ELEMENT_SOURCE, 1, 0, grid[ROW_ALL][COLUMN_V]);
    for (size_t row = 0; row < LESSON_GRID_SIDE; row++) {
        if (row < ROW_ALL) {
            element(builder, 0, ELEMENT_RESISTOR, 1, 0, grid[row][COLUMN_R]);
        }
        for (size_t column = 0; column < LESSON_GRID_SIDE; column++) {
            probe_cell(builder, row, column);
        }
    }
    builder->question->drawing = DRAW_GRID;
}

/* ------------------------------------------------------------------ lab ----------------------------------- */

/* The reading of a figure, and how far it is off. In the key a reading stands that is a few per cent off. */
static void ask_reading(struct builder *builder, size_t computed, const char *symbol, const char *reading,
                        const char *difference)
{
    static const unsigned long hundredths[] = {94, 95, 96, 98, 102, 104, 105, 106};
    const enum exact_quantity measure = builder->question->quantities[computed].measure;
    mpq_t value;
    mpq_init(value);
    multiple_of(builder, computed, hundredths[pick(builder, sizeof hundredths / sizeof hundredths[0])], 100, value);
    const size_t example = hide(builder, symbol, "subject.example", measure, value);
    builder->ok = builder->ok && exact_digits(value) <= builder->question->figures; /* as one writes it down */
    mpq_clear(value);
    const size_t read = find(builder, symbol, "more.reading", measure, STEP_READING, &example, 1);
    ask(builder, read, reading);
    builder->question->quantities[read].measured = true;
    const size_t off =
        find_two(builder, "subject.difference", "more.reading", EXACT_RATIO, STEP_DIFFERENCE_SHARE, read, computed);
    ask(builder, off, difference);
    builder->question->quantities[off].power = -2;
}

enum { BENCH_V = 24, BENCH_A = 3 }; /* what a pupil may put together */

/* Levels 1 and 2: two resistors; from 2 on R too, from 3 on the current of one path. */
void build_lab(struct builder *builder)
{
    const unsigned level = builder->question->level;
    struct side_by_side set = give_side_by_side(builder, level < 3 ? 2 : 3);
    const size_t together =
        find(builder, "R", "subject.all-together", EXACT_RESISTANCE, STEP_RESISTANCE_PARALLEL, set.resistor, set.count);
    probe(builder, together, PROBE_SEEN, 0, 0);
    ask(builder, together, "asked.resistance-of-all-together-computed");
    if (level >= 2) {
        ask_reading(builder, together, "R read", "more.resistance-of-all-together-your-reading",
                    "more.its-difference-per-cent-of-the-computed-one");
    }
    const size_t current = find_two(builder, "I", "subject.all-together", EXACT_CURRENT, STEP_CURRENT_FROM_RESISTANCE,
                                    set.voltage, together);
    probe(builder, current, PROBE_SOURCE_CURRENT, 0, 0);
    ask(builder, current, "asked.total-current-computed");
    builder->ok = builder->ok && mpq_cmp_ui(builder->question->quantities[set.voltage].value, BENCH_V, 1) <= 0 &&
                  mpq_cmp_ui(builder->question->quantities[current].value, BENCH_A, 1) <= 0;
    ask_reading(builder, current, "I read", "more.total-current-your-reading",
                "more.its-difference-per-cent-of-the-computed-one");
    if (level >= 3) {
        const size_t one =
            find_two(builder, "I1", "R1", EXACT_CURRENT, STEP_CURRENT_FROM_RESISTANCE, set.voltage, set.resistor[0]);
        probe(builder, one, PROBE_CURRENT, 0, 1);
        ask(builder, one, "asked.current-1-computed I1");
        ask_reading(builder, one, "symbol.1-read I1", "more.current-1-your-reading I1",
                    "more.its-difference-per-cent-of-the-computed-one");
    }
}
