/*
 * Resistors in series and in parallel in one circuit, and what follows from one reading: the ways of the third
 * generator (the earlier ones stand in kinds_circuits.c). Networks are drawn; at level 1 R1 stands in front of a group.
 */
#include "kinds.h"

/* Halves of an ampere that come out in short voltages. */
static const unsigned long current_halves[] = {1, 2, 3, 4, 5, 6, 8, 10, 12, 15, 16, 20};

static unsigned long pick_halves(struct builder *builder)
{
    return current_halves[pick(builder, sizeof current_halves / sizeof current_halves[0])];
}

/* Two resistors whose parallel value ends as a decimal; their numbers begin at `first`. */
static void give_pair(struct builder *builder, size_t first, size_t *ret_resistor)
{
    struct ratio resistance[2];
    unsigned long ignored;
    choose_parallel(builder, 2, resistance, &ignored);
    for (size_t i = 0; i < 2; i++) {
        ret_resistor[i] = give_resistor(builder, first + i, resistance[i]);
    }
}

/* One path, and beside it two in a row that are together a fifth to four fifths: path, first and second of the row. */
static void give_path_and_row(struct builder *builder, size_t first, size_t ret_resistor[3])
{
    enum { FIFTHS = 5 };
    struct ratio resistance[2];
    unsigned long ignored;
    choose_parallel(builder, 2, resistance, &ignored);
    const unsigned long part = 1 + pick(builder, FIFTHS - 1);
    ret_resistor[0] = give_resistor(builder, first, resistance[0]);
    ret_resistor[1] =
        give_resistor(builder, first + 1, (struct ratio){resistance[1].over * part, resistance[1].under * FIFTHS});
    ret_resistor[2] = give_resistor(builder, first + 2,
                                    (struct ratio){resistance[1].over * (FIFTHS - part), resistance[1].under * FIFTHS});
}

static size_t give_front(struct builder *builder)
{
    return give_resistor(builder, 0, (struct ratio){2 + pick(builder, 58), 2});
}

/* The voltage at which the whole resistance carries so many halves of an ampere. */
static size_t give_voltage_for(struct builder *builder, size_t whole, unsigned long halves)
{
    mpq_t value;
    mpq_init(value);
    multiple_of(builder, whole, halves, 2, value);
    builder->ok = builder->ok && exact_digits(value) <= 4;
    const size_t voltage = give_value(builder, "V", "", EXACT_VOLTAGE, value);
    mpq_clear(value);
    return voltage;
}

static size_t find_group(struct builder *builder, const char *symbol, const char *subject, size_t one, size_t other,
                         const char *asked)
{
    const size_t group = find_two(builder, symbol, subject, EXACT_RESISTANCE, STEP_GROUP_PARALLEL, one, other);
    ask(builder, group, asked);
    return group;
}

/* What every network asks of its whole: resistance, then the current from the voltage. */
struct whole {
    size_t resistance;
    size_t voltage;
    size_t current;
};

static struct whole find_whole(struct builder *builder, const size_t *row, size_t count)
{
    struct whole whole;
    whole.resistance = find(builder, "R", "subject.all", EXACT_RESISTANCE, STEP_RESISTANCE_ROW, row, count);
    ask(builder, whole.resistance, "asked.resistance-of-all");
    whole.voltage = give_voltage_for(builder, whole.resistance, pick_halves(builder));
    whole.current = find_two(builder, "I", "subject.all-together", EXACT_CURRENT, STEP_CURRENT_FROM_RESISTANCE,
                             whole.voltage, whole.resistance);
    ask(builder, whole.current, "asked.total-current");
    element(builder, 0, ELEMENT_SOURCE, 1, 0, whole.voltage);
    probe(builder, whole.resistance, PROBE_SEEN, 0, 0);
    probe(builder, whole.current, PROBE_SOURCE_CURRENT, 0, 0);
    return whole;
}

static void resistor_between(struct builder *builder, size_t from, size_t to, size_t resistor)
{
    element(builder, 0, ELEMENT_RESISTOR, from, to, resistor);
}

/* (R1 | R2) + (R3 | R4) */
static void build_two_groups(struct builder *builder)
{
    size_t first[2];
    size_t second[2];
    give_pair(builder, 0, first);
    give_pair(builder, 2, second);
    size_t group[2];
    group[0] = find_group(builder, "R first", "subject.1-and-2 R1 R2", first[0], first[1],
                          "asked.resistance-of-1-and-2-in-parallel R1 R2");
    group[1] = find_group(builder, "R second", "subject.1-and-2 R3 R4", second[0], second[1],
                          "asked.resistance-of-1-and-2-in-parallel R3 R4");
    const struct whole whole = find_whole(builder, group, 2);
    const size_t first_v = find_asked(builder, "V first", "subject.1-and-2 R1 R2", EXACT_VOLTAGE, STEP_VOLTAGE,
                                      whole.current, group[0], "more.voltage-across-1-and-2 R1 R2");
    const size_t second_v = find_two(builder, "V second", "subject.1-and-2 R3 R4", EXACT_VOLTAGE, STEP_GROUP_VOLTAGE,
                                     whole.voltage, first_v);
    other_way(builder, second_v, STEP_VOLTAGE, (size_t[]){whole.current, group[1]}, 2);
    ask(builder, second_v, "more.voltage-across-1-and-2 R3 R4");
    const size_t path = find_asked(builder, "I3", "R3", EXACT_CURRENT, STEP_CURRENT_FROM_RESISTANCE, second_v,
                                   second[0], "asked.current-1 I3");
    const size_t power = find_asked(builder, "P1", "R1", EXACT_POWER, STEP_POWER_FROM_RESISTANCE, first_v, first[0],
                                    "asked.power-of-1 R1");
    resistor_between(builder, 1, 2, first[0]);
    resistor_between(builder, 1, 2, first[1]);
    resistor_between(builder, 2, 0, second[0]);
    resistor_between(builder, 2, 0, second[1]);
    probe(builder, group[0], PROBE_BEHIND, 0, 1);
    probe(builder, group[1], PROBE_BEHIND, 0, 3);
    probe(builder, first_v, PROBE_VOLTAGE, 0, 1);
    probe(builder, second_v, PROBE_VOLTAGE, 0, 3);
    probe(builder, path, PROBE_CURRENT, 0, 3);
    probe(builder, power, PROBE_POWER, 0, 1);
    swap(builder, SLIP_TOTAL_VOLTAGE, second_v, whole.voltage);
    builder->question->opening = "more.1-and-2-are-in-parallel-3-and-4-are-in-parallel R1 R2 R3 R4";
}

/* R1 + (R2 | (R3 + R4)) */
static void build_row_in_group(struct builder *builder)
{
    size_t resistor[3];
    const size_t front = give_front(builder);
    give_path_and_row(builder, 1, resistor);
    const size_t row = find_asked(builder, "R row", "subject.1-and-2 R3 R4", EXACT_RESISTANCE, STEP_RESISTANCE_ROW,
                                  resistor[1], resistor[2], "more.resistance-of-1-and-2-in-series R3 R4");
    const size_t group = find_group(builder, "R group", "subject.the-group", resistor[0], row,
                                    "more.resistance-of-the-group-of-1-2-and-3 R2 R3 R4");
    const struct whole whole = find_whole(builder, (size_t[]){front, group}, 2);
    const size_t front_v =
        find_asked(builder, "V1", "R1", EXACT_VOLTAGE, STEP_VOLTAGE, whole.current, front, "asked.voltage-across-1 R1");
    const size_t group_v =
        find_two(builder, "V group", "subject.the-group", EXACT_VOLTAGE, STEP_GROUP_VOLTAGE, whole.voltage, front_v);
    other_way(builder, group_v, STEP_VOLTAGE, (size_t[]){whole.current, group}, 2);
    ask(builder, group_v, "asked.voltage-across-the-group");
    const size_t path = find_asked(builder, "I3", "subject.1-and-2 R3 R4", EXACT_CURRENT, STEP_CURRENT_FROM_RESISTANCE,
                                   group_v, row, "more.current-in-1-and-2 R3 R4");
    const size_t power = find_asked(builder, "P1", "R1", EXACT_POWER, STEP_POWER_IN_RESISTANCE, whole.current, front,
                                    "asked.power-of-1 R1");
    resistor_between(builder, 1, 2, front);
    resistor_between(builder, 2, 0, resistor[0]);
    resistor_between(builder, 2, 3, resistor[1]);
    resistor_between(builder, 3, 0, resistor[2]);
    probe(builder, group, PROBE_BEHIND, 0, 2);
    probe(builder, front_v, PROBE_VOLTAGE, 0, 1);
    probe(builder, group_v, PROBE_VOLTAGE, 0, 2);
    probe(builder, path, PROBE_CURRENT, 0, 3);
    probe(builder, power, PROBE_POWER, 0, 1);
    swap(builder, SLIP_TOTAL_VOLTAGE, group_v, whole.voltage);
    builder->question->opening = "more.1-is-in-series-with-a-group-in-which-2-is-in R1 R2 R3 R4";
}

/* R1 + (R2 | R3) + (R4 | (R5 + R6)); the source is not known. */
static void build_six_parts(struct builder *builder)
{
    size_t pair[2];
    size_t resistor[3];
    const size_t current = give(builder, "I", "subject.all-together", EXACT_CURRENT, pick_halves(builder), 2);
    const size_t front = give_front(builder);
    give_pair(builder, 1, pair);
    give_path_and_row(builder, 3, resistor);
    const size_t group = find_group(builder, "R first", "subject.1-and-2 R2 R3", pair[0], pair[1],
                                    "asked.resistance-of-1-and-2-in-parallel R2 R3");
    const size_t row = find_asked(builder, "R row", "subject.1-and-2 R5 R6", EXACT_RESISTANCE, STEP_RESISTANCE_ROW,
                                  resistor[1], resistor[2], "more.resistance-of-1-and-2-in-series R5 R6");
    const size_t last = find_group(builder, "R second", "more.1-to-2 R4 R6", resistor[0], row,
                                   "more.resistance-of-the-group-of-1-2-and-3 R4 R5 R6");
    const size_t whole =
        find(builder, "R", "subject.all", EXACT_RESISTANCE, STEP_RESISTANCE_ROW, (size_t[]){front, group, last}, 3);
    ask(builder, whole, "asked.resistance-of-all");
    const size_t voltage = find_asked(builder, "V", "subject.source", EXACT_VOLTAGE, STEP_VOLTAGE, current, whole,
                                      "asked.voltage-of-the-source");
    const size_t group_v = find_asked(builder, "V first", "subject.1-and-2 R2 R3", EXACT_VOLTAGE, STEP_VOLTAGE, current,
                                      group, "more.voltage-across-1-and-2 R2 R3");
    const size_t last_v = find_asked(builder, "V second", "more.1-to-2 R4 R6", EXACT_VOLTAGE, STEP_VOLTAGE, current,
                                     last, "asked.voltage-across-1 R4");
    const size_t path = find_asked(builder, "I5", "subject.1-and-2 R5 R6", EXACT_CURRENT, STEP_CURRENT_FROM_RESISTANCE,
                                   last_v, row, "more.current-in-1-and-2 R5 R6");
    const size_t power = find_asked(builder, "P4", "R4", EXACT_POWER, STEP_POWER_FROM_RESISTANCE, last_v, resistor[0],
                                    "asked.power-of-1 R4");
    element(builder, 0, ELEMENT_SOURCE, 1, 0, voltage);
    resistor_between(builder, 1, 2, front);
    resistor_between(builder, 2, 3, pair[0]);
    resistor_between(builder, 2, 3, pair[1]);
    resistor_between(builder, 3, 0, resistor[0]);
    resistor_between(builder, 3, 4, resistor[1]);
    resistor_between(builder, 4, 0, resistor[2]);
    probe(builder, current, PROBE_SOURCE_CURRENT, 0, 0);
    probe(builder, voltage, PROBE_VOLTAGE, 0, 0);
    probe(builder, whole, PROBE_SEEN, 0, 0);
    probe(builder, group, PROBE_BEHIND, 0, 2);
    probe(builder, last, PROBE_BEHIND, 0, 4);
    probe(builder, group_v, PROBE_VOLTAGE, 0, 2);
    probe(builder, last_v, PROBE_VOLTAGE, 0, 4);
    probe(builder, path, PROBE_CURRENT, 0, 5);
    probe(builder, power, PROBE_POWER, 0, 4);
    swap(builder, SLIP_TOTAL_VOLTAGE, last_v, voltage);
    builder->question->opening = "more.in-series-are-1-then-2-and-3-which-are-in R1 R2 R3 R4 R5 R6";
}

void build_ladder_network(struct builder *builder)
{
    static void (*const builders[])(struct builder *) = {build_two_groups, build_row_in_group, build_six_parts};
    builders[builder->question->level - 2](builder);
    builder->question->drawing = DRAW_NETWORK;
}

/* ------------------------------------------------------------------ one reading --------------------------- */

/* The power of R1 in parallel gives the voltage. */
static void build_power_read(struct builder *builder)
{
    enum { COUNT = 3 };
    struct ratio resistance[COUNT];
    size_t resistor[COUNT];
    size_t current[COUNT];
    unsigned long volts;
    mpq_t value;
    mpq_t ohm;
    mpq_inits(value, ohm, NULL);
    choose_parallel(builder, COUNT, resistance, &volts);
    for (size_t i = 0; i < COUNT; i++) {
        resistor[i] = give_resistor(builder, i, resistance[i]);
    }
    mpq_set_ui(value, volts * volts, 1);
    mpq_div(value, value, builder->question->quantities[resistor[0]].value);
    const size_t read = give_value(builder, "P1", "subject.read", EXACT_POWER, value);
    mpq_clears(value, ohm, NULL);
    const size_t voltage = find_asked(builder, "V", "subject.source", EXACT_VOLTAGE, STEP_VOLTAGE_FROM_POWER, read,
                                      resistor[0], "asked.voltage-of-the-source");
    element(builder, 0, ELEMENT_SOURCE, 1, 0, voltage);
    for (size_t i = 0; i < COUNT; i++) {
        element(builder, 0, ELEMENT_RESISTOR, 1, 0, resistor[i]);
        current[i] = find_current(builder, i, voltage, resistor[i], 0);
        ask(builder, current[i], current_of[i]);
    }
    const size_t total = find(builder, "I", "subject.all-together", EXACT_CURRENT, STEP_CURRENT_SUM, current, COUNT);
    ask(builder, total, "asked.total-current");
    const size_t power = find_asked(builder, "P", "subject.all-together", EXACT_POWER, STEP_POWER_FROM_CURRENT, voltage,
                                    total, "asked.power-of-all-together");
    probe(builder, read, PROBE_POWER, 0, 1);
    probe(builder, voltage, PROBE_VOLTAGE, 0, 0);
    probe(builder, total, PROBE_SOURCE_CURRENT, 0, 0);
    probe(builder, power, PROBE_SOURCE_POWER, 0, 0);
    builder->question->opening = "more.the-resistors-are-connected-in-parallel-the R1";
    builder->question->drawing = DRAW_PARALLEL;
}

/* The total current from what was read at R1 in front: its voltage at level 3, its power at level 4. */
static size_t read_front(struct builder *builder, size_t front, size_t *ret_read)
{
    const bool by_power = builder->question->level == LESSON_LEVEL_MOST;
    mpq_srcptr ohm = builder->question->quantities[front].value;
    mpq_t value;
    mpq_init(value);
    mpq_set_ui(value, pick_halves(builder), 2);
    mpq_canonicalize(value);
    if (by_power) {
        mpq_mul(value, value, value);
    }
    mpq_mul(value, value, ohm);
    *ret_read =
        give_value(builder, by_power ? "P1" : "V1", "subject.read", by_power ? EXACT_POWER : EXACT_VOLTAGE, value);
    mpq_clear(value);
    return find_two(builder, "I", "subject.all-together", EXACT_CURRENT,
                    by_power ? STEP_CURRENT_IN_RESISTANCE : STEP_CURRENT_FROM_RESISTANCE, *ret_read, front);
}

/* R1 in front of R2 and R3. */
static void build_front_read(struct builder *builder)
{
    size_t pair[2];
    size_t read;
    const bool by_power = builder->question->level == LESSON_LEVEL_MOST;
    const size_t front = give_front(builder);
    give_pair(builder, 1, pair);
    const size_t current = read_front(builder, front, &read);
    ask(builder, current, "asked.total-current");
    const size_t group = find_group(builder, "R group", "subject.the-group", pair[0], pair[1],
                                    "asked.resistance-of-1-and-2-in-parallel R2 R3");
    const size_t whole = find_two(builder, "R", "subject.all", EXACT_RESISTANCE, STEP_RESISTANCE_ROW, front, group);
    const size_t voltage = find_asked(builder, "V", "subject.source", EXACT_VOLTAGE, STEP_VOLTAGE, current, whole,
                                      "asked.voltage-of-the-source");
    const size_t group_v = find_asked(builder, "V group", "subject.the-group", EXACT_VOLTAGE, STEP_VOLTAGE, current,
                                      group, "more.voltage-across-1-and-2 R2 R3");
    const size_t path = find_asked(builder, "I2", "R2", EXACT_CURRENT, STEP_CURRENT_FROM_RESISTANCE, group_v, pair[0],
                                   "asked.current-1 I2");
    const size_t power = find_asked(builder, "P", "subject.all-together", EXACT_POWER, STEP_POWER_FROM_CURRENT, voltage,
                                    current, "asked.power-of-all-together");
    element(builder, 0, ELEMENT_SOURCE, 1, 0, voltage);
    resistor_between(builder, 1, 2, front);
    resistor_between(builder, 2, 0, pair[0]);
    resistor_between(builder, 2, 0, pair[1]);
    probe(builder, read, by_power ? PROBE_POWER : PROBE_VOLTAGE, 0, 1);
    probe(builder, current, PROBE_SOURCE_CURRENT, 0, 0);
    probe(builder, group, PROBE_BEHIND, 0, 2);
    probe(builder, whole, PROBE_SEEN, 0, 0);
    probe(builder, voltage, PROBE_VOLTAGE, 0, 0);
    probe(builder, group_v, PROBE_VOLTAGE, 0, 2);
    probe(builder, path, PROBE_CURRENT, 0, 2);
    probe(builder, power, PROBE_SOURCE_POWER, 0, 0);
    swap(builder, SLIP_TOTAL_VOLTAGE, group_v, voltage);
    builder->question->opening = by_power ? "more.1-is-in-series-with-2-and-3-which-are-in-parallel R1 R2 R3 R1"
                                          : "more.1-is-in-series-with-2-and-3-which-are-in-parallel-2 R1 R2 R3 R1";
    builder->question->drawing = DRAW_WIRE;
    builder->question->in_series = "R1";
}

void build_reading_network(struct builder *builder)
{
    if (builder->question->level == 2) {
        build_power_read(builder);
    } else {
        build_front_read(builder);
    }
}

/* ------------------------------------------------------------------ tolerance ----------------------------- */

/* Side by side at levels 1 and 3, in a row at 2 and 4. */
static struct side_by_side give_row(struct builder *builder, size_t count)
{
    struct side_by_side set = {.count = count};
    set.voltage = give_voltage(builder, 6 * (1 + pick(builder, 20)));
    element(builder, 0, ELEMENT_SOURCE, 1, 0, set.voltage);
    for (size_t i = 0; i < count; i++) {
        set.resistor[i] = give_resistor(builder, i, (struct ratio){2 + pick(builder, 100), 2});
        resistor_between(builder, 1 + i, i + 1 == count ? 0 : 2 + i, set.resistor[i]);
    }
    builder->question->opening = "more.the-resistors-are-connected-in-series-across-the";
    builder->question->drawing = DRAW_NETWORK;
    return set;
}

static size_t ask_current_at(struct builder *builder, const char *symbol, size_t voltage, size_t resistance,
                             const char *asked)
{
    const size_t current = find_two(builder, symbol, "subject.all-together", EXACT_CURRENT,
                                    STEP_CURRENT_FROM_RESISTANCE, voltage, resistance);
    ask(builder, current, asked);
    return current;
}

void build_tolerance_both(struct builder *builder)
{
    static const unsigned long per_cent[] = {1, 2, 5, 10, 20};
    const unsigned level = builder->question->level;
    const bool row = level % 2 == 0;
    const size_t count = level < 3 ? 2 : 3;
    builder->question->published = true; /* the ends are what they are */
    struct side_by_side set = row ? give_row(builder, count) : give_side_by_side(builder, count);
    const size_t tolerance = give(builder, "symbol.tolerance", "subject.each", EXACT_RATIO,
                                  per_cent[pick(builder, sizeof per_cent / sizeof per_cent[0])], 100);
    const size_t together = find(builder, "R", "subject.all-together", EXACT_RESISTANCE,
                                 row ? STEP_RESISTANCE_ROW : STEP_RESISTANCE_PARALLEL, set.resistor, count);
    ask(builder, together, "asked.resistance-of-all-together");
    const size_t least = find_asked(builder, "R least", "subject.all-together", EXACT_RESISTANCE, STEP_LEAST, together,
                                    tolerance, "asked.least-resistance-of-all-together");
    const size_t greatest = find_asked(builder, "R greatest", "subject.all-together", EXACT_RESISTANCE, STEP_GREATEST,
                                       together, tolerance, "asked.greatest-resistance-of-all-together");
    const size_t least_a = ask_current_at(builder, "I least", set.voltage, greatest, "asked.least-total-current");
    const size_t most_a = ask_current_at(builder, "I greatest", set.voltage, least, "more.greatest-total-current");
    swap(builder, SLIP_ENDS_SWAPPED, least, greatest);
    swap(builder, SLIP_ENDS_SWAPPED, greatest, least);
    swap(builder, SLIP_ENDS_SWAPPED, least_a, most_a);
    element(builder, 1, ELEMENT_SOURCE, 1, 0, set.voltage);
    element(builder, 1, ELEMENT_RESISTOR, 1, 0, greatest);
    probe(builder, together, PROBE_SEEN, 0, 0);
    probe(builder, greatest, PROBE_SEEN, 1, 0);
    probe(builder, least_a, PROBE_SOURCE_CURRENT, 1, 0);
    builder->question->draw_first = true;
}

/* The resistor for a wanted current, the nearest part on sale, and the current with it. */
void ask_nearest_part(struct builder *builder)
{
    static const unsigned long voltages[] = {3, 6, 9, 12, 15, 18, 24};
    const size_t voltage = give(builder, "V2", "more.a-resistor-across", EXACT_VOLTAGE,
                                voltages[pick(builder, sizeof voltages / sizeof voltages[0])], 1);
    const size_t wanted = give(builder, "I2", "more.is-to-carry", EXACT_CURRENT, 2 + pick(builder, 100), 100);
    const size_t ohm = find_asked(builder, "R2", "more.the-resistor", EXACT_RESISTANCE, STEP_RESISTANCE_FROM_CURRENT,
                                  voltage, wanted, "more.resistance-of-the-resistor-that-carries-1-across I2 V2");
    const size_t part = find(builder, "R part", "more.nearest-part", EXACT_RESISTANCE, STEP_NEAREST_E12, &ohm, 1);
    ask(builder, part, "more.nearest-part-of-the-series-1 E12");
    find_asked(builder, "I part", "more.with-that-part", EXACT_CURRENT, STEP_CURRENT_FROM_RESISTANCE, voltage, part,
               "more.current-with-that-part");
}
