/*
 * Kinds that look at a circuit from another side: from one reading, by conductances, within bounds and tolerances,
 * after a change, with series and parallel mixed. The first generator knows none of them.
 */
#include "kinds.h"

/* The source is not known: one part's current, voltage or power gives it, by the level. */
void build_one_reading(struct builder *builder)
{
    if (is_of_networks(builder) && builder->question->level > 1) {
        build_reading_network(builder);
        return;
    }
    static const unsigned long halves[] = {2, 3, 4, 5, 6, 8, 10, 12, 15, 16, 20, 24};
    const unsigned level = builder->question->level;
    const size_t count = level + 1;
    struct ratio resistance[LOADS_MOST];
    unsigned long ignored;
    size_t resistor[LOADS_MOST] = {0};
    size_t current[LOADS_MOST] = {0};
    choose_parallel(builder, count, resistance, &ignored);
    for (size_t i = 0; i < count; i++) {
        resistor[i] = give_resistor(builder, i, resistance[i]);
    }
    current[0] =
        give(builder, "I1", "subject.read", EXACT_CURRENT, halves[pick(builder, sizeof halves / sizeof halves[0])], 2);
    const size_t voltage = find_asked(builder, "V", "subject.source", EXACT_VOLTAGE, STEP_VOLTAGE, current[0],
                                      resistor[0], "asked.voltage-of-the-source");
    element(builder, 0, ELEMENT_SOURCE, 1, 0, voltage);
    for (size_t i = 0; i < count; i++) {
        element(builder, 0, ELEMENT_RESISTOR, 1, 0, resistor[i]);
    }
    probe(builder, current[0], PROBE_CURRENT, 0, 1);
    probe(builder, voltage, PROBE_VOLTAGE, 0, 0);
    for (size_t i = 1; i < count; i++) {
        current[i] = find_current(builder, i, voltage, resistor[i], 0);
        ask(builder, current[i], current_of[i]);
    }
    const size_t total = find(builder, "I", "subject.all-together", EXACT_CURRENT, STEP_CURRENT_SUM, current, count);
    probe(builder, total, PROBE_SOURCE_CURRENT, 0, 0);
    ask(builder, total, "asked.total-current");
    if (level >= 2) {
        const size_t power =
            find_two(builder, "P", "subject.all-together", EXACT_POWER, STEP_POWER_FROM_CURRENT, voltage, total);
        probe(builder, power, PROBE_SOURCE_POWER, 0, 0);
        ask(builder, power, "asked.power-of-all-together");
    }
    builder->question->drawing = DRAW_PARALLEL;
}

/* Two resistors; at levels 3 and 4 a third goes to the result of the first two. */
void build_product_sum(struct builder *builder)
{
    const unsigned level = builder->question->level;
    const size_t count = level < 3 ? 2 : 3;
    struct side_by_side set = give_side_by_side(builder, count);
    size_t together = find_asked(builder, "R12", "subject.1-and-2 R1 R2", EXACT_RESISTANCE, STEP_PRODUCT_BY_SUM,
                                 set.resistor[0], set.resistor[1], "asked.resistance-of-1-and-2-in-parallel R1 R2");
    if (count > 2) {
        together = find_asked(builder, "R", "subject.all-together", EXACT_RESISTANCE, STEP_PRODUCT_BY_SUM, together,
                              set.resistor[2], "asked.resistance-of-all-together");
    }
    other_way(builder, together, STEP_RESISTANCE_PARALLEL, set.resistor, count);
    probe(builder, together, PROBE_SEEN, 0, 0);
    const size_t current = find_two(builder, "I", "subject.all-together", EXACT_CURRENT, STEP_CURRENT_FROM_RESISTANCE,
                                    set.voltage, together);
    probe(builder, current, PROBE_SOURCE_CURRENT, 0, 0);
    ask(builder, current, "asked.total-current");
}

/* Before anything is worked out: below its smallest part, and not below that over their number. */
void build_bounds(struct builder *builder)
{
    struct side_by_side set = give_side_by_side(builder, builder->question->level + 1);
    const size_t number = give(builder, "n", "", EXACT_COUNT, set.count, 1);
    const size_t smallest =
        find(builder, "R most", "subject.bound-above", EXACT_RESISTANCE, STEP_SMALLEST, set.resistor, set.count);
    ask(builder, smallest, "asked.resistance-that-all-together-stay-below");
    find_asked(builder, "R least", "subject.bound-below", EXACT_RESISTANCE, STEP_BOUND_BELOW, smallest, number,
               "asked.resistance-that-all-together-cannot-fall-below");
    find_together(builder, set.resistor, set.count);
}

void build_conductance(struct builder *builder)
{
    static const char *const names[LOADS_MOST] = {"G1", "G2", "G3", "G4", "G5", "G6"};
    static const char *const asked[LOADS_MOST] = {"asked.conductance-1 G1", "asked.conductance-1 G2",
                                                  "asked.conductance-1 G3", "asked.conductance-1 G4",
                                                  "asked.conductance-1 G5", "asked.conductance-1 G6"};
    struct side_by_side set = give_side_by_side(builder, builder->question->level + 1);
    size_t conductance[LOADS_MOST];
    for (size_t i = 0; i < set.count; i++) {
        conductance[i] =
            find(builder, names[i], resistor_names[i], EXACT_CONDUCTANCE, STEP_CONDUCTANCE, &set.resistor[i], 1);
        ask(builder, conductance[i], asked[i]);
    }
    const size_t sum =
        find(builder, "G", "subject.all-together", EXACT_CONDUCTANCE, STEP_CONDUCTANCE_TOTAL, conductance, set.count);
    ask(builder, sum, "asked.conductance-of-all-together");
    const size_t together =
        find(builder, "R", "subject.all-together", EXACT_RESISTANCE, STEP_RESISTANCE_INVERSE, &sum, 1);
    other_way(builder, together, STEP_RESISTANCE_PARALLEL, set.resistor, set.count);
    probe(builder, together, PROBE_SEEN, 0, 0);
    ask(builder, together, "asked.resistance-of-all-together");
    const size_t total = find_two(builder, "I", "subject.all-together", EXACT_CURRENT, STEP_CURRENT_FROM_RESISTANCE,
                                  set.voltage, together);
    probe(builder, total, PROBE_SOURCE_CURRENT, 0, 0);
    ask(builder, total, "asked.total-current");
    const size_t share =
        find(builder, "I1", "R1", EXACT_CURRENT, STEP_CONDUCTANCE_SHARE, (size_t[]){total, conductance[0], sum}, 3);
    other_way(builder, share, STEP_CURRENT_FROM_RESISTANCE, (size_t[]){set.voltage, set.resistor[0]}, 2);
    probe(builder, share, PROBE_CURRENT, 0, 1);
    ask(builder, share, current_of[0]);
}

/* The source's own resistance: given at levels 1, 2 and 4, from two readings at level 3. */
void build_internal(struct builder *builder)
{
    static const unsigned long halves[] = {2, 3, 4, 5, 6, 8, 10, 12, 15, 16, 20};
    static const unsigned long tenths[] = {1, 2, 4, 5, 8, 10, 15, 20, 25};
    const bool two_readings = builder->question->level == 3;
    const unsigned long current_halves = halves[pick(builder, sizeof halves / sizeof halves[0])];
    const unsigned long inner_tenths = tenths[pick(builder, sizeof tenths / sizeof tenths[0])];
    const unsigned long load_halves = 4 + pick(builder, 56);
    /* V = I (r + R) */
    const size_t voltage = give(builder, "V", "subject.source-without-a-load", EXACT_VOLTAGE,
                                current_halves * (inner_tenths + 5 * load_halves), 20);
    size_t inner;
    size_t load;
    size_t current;
    size_t terminal;
    if (two_readings) {
        terminal = give(builder, "symbol.v-loaded", "subject.at-the-terminals", EXACT_VOLTAGE,
                        current_halves * load_halves, 4);
        current = give(builder, "I", "subject.the-load", EXACT_CURRENT, current_halves, 2);
        inner = find(builder, "r", "subject.source", EXACT_RESISTANCE, STEP_INTERNAL,
                     (size_t[]){voltage, terminal, current}, 3);
        ask(builder, inner, "asked.internal-resistance-r");
        load = find_asked(builder, "R", "subject.load", EXACT_RESISTANCE, STEP_RESISTANCE_FROM_CURRENT, terminal,
                          current, "asked.resistance-of-the-load");
    } else {
        inner = give(builder, "r", "subject.inside-the-source", EXACT_RESISTANCE, inner_tenths, 10);
        load = give(builder, "R", "subject.load", EXACT_RESISTANCE, load_halves, 2);
        const size_t whole =
            find_two(builder, "R whole", "subject.r-and-load", EXACT_RESISTANCE, STEP_RESISTANCE_ROW, inner, load);
        current = find_asked(builder, "I", "subject.all", EXACT_CURRENT, STEP_CURRENT_FROM_RESISTANCE, voltage, whole,
                             "asked.current");
        const size_t lost =
            find_two(builder, "V inside", "subject.lost-inside", EXACT_VOLTAGE, STEP_VOLTAGE, current, inner);
        terminal = find_two(builder, "symbol.v-loaded", "subject.at-the-terminals", EXACT_VOLTAGE,
                            STEP_TERMINAL_VOLTAGE, voltage, lost);
        other_way(builder, terminal, STEP_VOLTAGE, (size_t[]){current, load}, 2);
        ask(builder, terminal, "asked.voltage-at-the-terminals");
        swap(builder, SLIP_R_LEFT_OUT, whole, load);
        swap(builder, SLIP_DROP_FOR_TERMINAL, terminal, lost);
        probe(builder, whole, PROBE_SEEN, 0, 0);
        probe(builder, lost, PROBE_VOLTAGE, 0, 1);
    }
    const size_t power = find_asked(builder, "P", "subject.load", EXACT_POWER, STEP_POWER_FROM_CURRENT, terminal,
                                    current, "asked.power-of-the-load");
    element(builder, 0, ELEMENT_SOURCE, 1, 0, voltage);
    element(builder, 0, ELEMENT_RESISTOR, 1, 2, inner);
    element(builder, 0, ELEMENT_RESISTOR, 2, 0, load);
    probe(builder, current, PROBE_SOURCE_CURRENT, 0, 0);
    probe(builder, terminal, PROBE_VOLTAGE, 0, 2);
    probe(builder, power, PROBE_POWER, 0, 2);
    builder->question->drawing = DRAW_WIRE;
    builder->question->in_series = "r";
}

/* Parts of one tolerance side by side: the whole at both ends, and the current that goes with each. */
void build_tolerance(struct builder *builder)
{
    if (is_of_networks(builder)) {
        build_tolerance_both(builder);
        return;
    }
    static const unsigned long per_cent[] = {1, 2, 5, 10, 20};
    const unsigned level = builder->question->level;
    struct side_by_side set = give_side_by_side(builder, level < 3 ? 2 : 3);
    const size_t tolerance = give(builder, "symbol.tolerance", "subject.each", EXACT_RATIO,
                                  per_cent[pick(builder, sizeof per_cent / sizeof per_cent[0])], 100);
    const size_t together = find_together(builder, set.resistor, set.count);
    const size_t least = find_asked(builder, "R least", "subject.all-together", EXACT_RESISTANCE, STEP_LEAST, together,
                                    tolerance, "asked.least-resistance-of-all-together");
    const size_t greatest = find_asked(builder, "R greatest", "subject.all-together", EXACT_RESISTANCE, STEP_GREATEST,
                                       together, tolerance, "asked.greatest-resistance-of-all-together");
    const size_t least_a = find_asked(builder, "I least", "subject.all-together", EXACT_CURRENT,
                                      STEP_CURRENT_FROM_RESISTANCE, set.voltage, greatest, "asked.least-total-current");
    swap(builder, SLIP_ENDS_SWAPPED, least, greatest);
    swap(builder, SLIP_ENDS_SWAPPED, greatest, least);
    element(builder, 1, ELEMENT_SOURCE, 1, 0, set.voltage);
    element(builder, 1, ELEMENT_RESISTOR, 1, 0, greatest);
    probe(builder, greatest, PROBE_SEEN, 1, 0);
    probe(builder, least_a, PROBE_SOURCE_CURRENT, 1, 0);
}

/* Currents at a point, of which one is missing. How many flow in and out follows from the level. */
void build_junction(struct builder *builder)
{
    const unsigned level = builder->question->level;
    const size_t in_count = level < 3 ? 1 : 2;
    const size_t out_count = level == 1 || level == 3 ? 1 : 2;
    size_t in[2];
    size_t out[2];
    for (size_t i = 0; i < in_count; i++) {
        in[i] = give(builder, current_names[i], "subject.flows-in", EXACT_CURRENT, 1 + pick(builder, 60),
                     4 * ohms_times(builder));
    }
    for (size_t i = 0; i < out_count; i++) {
        out[i] = give(builder, current_names[in_count + i], "subject.flows-out", EXACT_CURRENT, 1 + pick(builder, 60),
                      4 * ohms_times(builder));
    }
    const size_t flows_in = find(builder, "I in", "subject.known", EXACT_CURRENT, STEP_FLOWS_IN, in, in_count);
    const size_t flows_out = find(builder, "I out", "subject.known", EXACT_CURRENT, STEP_FLOWS_OUT, out, out_count);
    find_asked(builder, "I missing", "subject.one-more", EXACT_CURRENT, STEP_CURRENT_MISSING, flows_in, flows_out,
               "asked.current-of-the-one-path-that-is-not-marked");
    find_asked(builder, "more.way", "subject.one-more", EXACT_DIRECTION, STEP_WAY_MISSING, flows_in, flows_out,
               "asked.does-it-flow-in-or-out");
    builder->question->drawing = DRAW_POINT;
}

/* The last path is opened (levels 2 and 4) or put in (1 and 3): five figures, of which two stay. */
void build_arrows(struct builder *builder)
{
    if (is_of_networks(builder)) {
        build_arrows_any(builder);
        return;
    }
    const unsigned level = builder->question->level;
    const bool added = level % 2 == 1;
    struct side_by_side set = give_side_by_side(builder, level < 3 ? 3 : 4);
    const size_t few = set.count - 1;
    struct lesson_circuit *all = &builder->question->circuit[0];
    for (size_t i = 0; i < set.count; i++) {
        element(builder, 1, all->elements[i].kind, 1, 0, all->elements[i].quantity);
    }
    const size_t r_all =
        find(builder, "R", "subject.all-together", EXACT_RESISTANCE, STEP_RESISTANCE_PARALLEL, set.resistor, set.count);
    const size_t r_few = find(builder, "R few", "subject.without-the-last", EXACT_RESISTANCE, STEP_RESISTANCE_PARALLEL,
                              set.resistor, few);
    const size_t i_all =
        find_two(builder, "I", "subject.all-together", EXACT_CURRENT, STEP_CURRENT_FROM_RESISTANCE, set.voltage, r_all);
    const size_t i_few = find_two(builder, "I few", "subject.without-the-last", EXACT_CURRENT,
                                  STEP_CURRENT_FROM_RESISTANCE, set.voltage, r_few);
    const size_t i_one =
        find_two(builder, "I1", "R1", EXACT_CURRENT, STEP_CURRENT_FROM_RESISTANCE, set.voltage, set.resistor[0]);
    const size_t p_all =
        find_two(builder, "P", "subject.all-together", EXACT_POWER, STEP_POWER_FROM_CURRENT, set.voltage, i_all);
    const size_t p_few = find_two(builder, "P few", "subject.without-the-last", EXACT_POWER, STEP_POWER_FROM_CURRENT,
                                  set.voltage, i_few);
    probe(builder, r_all, PROBE_SEEN, 0, 0);
    probe(builder, r_few, PROBE_SEEN, 1, 0);
    probe(builder, i_all, PROBE_SOURCE_CURRENT, 0, 0);
    probe(builder, i_few, PROBE_SOURCE_CURRENT, 1, 0);
    probe(builder, i_one, PROBE_CURRENT, 0, 1);
    probe(builder, p_all, PROBE_SOURCE_POWER, 0, 0);
    probe(builder, p_few, PROBE_SOURCE_POWER, 1, 0);
    ask_trend(builder, added ? r_few : r_all, added ? r_all : r_few, "subject.resistance",
              "asked.resistance-of-all-together-rises-falls-or-stays");
    ask_trend(builder, added ? i_few : i_all, added ? i_all : i_few, "asked.total-current",
              "asked.total-current-rises-falls-or-stays");
    ask_trend(builder, set.voltage, set.voltage, "asked.voltage-across-1 R1",
              "asked.voltage-across-1-rises-falls-or-stays R1");
    ask_trend(builder, i_one, i_one, "asked.current-in-1 R1", "asked.current-in-1-rises-falls-or-stays R1");
    ask_trend(builder, added ? p_few : p_all, added ? p_all : p_few, "subject.total-power",
              "asked.power-of-all-together-rises-falls-or-stays");
    builder->question->gate = added ? LESSON_SWITCH_OPEN : LESSON_BREAK;
    builder->question->gate_at = set.count;
}

/* How many alike loads a breaker carries, and what is left. */
void build_within(struct builder *builder)
{
    static const unsigned low_voltage_breakers[] = {15, 20, 30};
    static const unsigned other_breakers[] = {10, 16, 20, 32};
    const unsigned level = builder->question->level;
    const unsigned voltage_v = builder->plan->voltage_v;
    const char *load = "subject.each-load";
    unsigned long power_w;
    unsigned breaker_a;
    const bool own = is_of_own(builder) && choose_own_load(builder, &load, &power_w, &breaker_a);
    if (!own) {
        breaker_a = voltage_v < 200 ? low_voltage_breakers[pick(builder, 3)] : other_breakers[pick(builder, 4)];
    }
    const size_t voltage = give_voltage(builder, voltage_v);
    const size_t breaker = give(builder, "subject.breaker", "", EXACT_CURRENT, breaker_a, 1);
    const size_t power =
        own ? give(builder, "P1", load, EXACT_POWER, power_w, 1)
            : give(builder, "P1", load, EXACT_POWER, (unsigned long)voltage_v * (4 + pick(builder, 60)), 20);
    const size_t one = find_asked(builder, "I1", load, EXACT_CURRENT, STEP_CURRENT_FROM_POWER, power, voltage,
                                  "asked.current-of-one-load");
    const size_t number = find_asked(builder, "n", "subject.loads", EXACT_COUNT, STEP_LOADS_WITHIN, breaker, one,
                                     "asked.how-many-loads-at-most-keep-within-the-breaker-s");
    const size_t all = find_two(builder, "I", "subject.so-many-loads", EXACT_CURRENT, STEP_UNITS_CURRENT, number, one);
    if (level >= 2) {
        find_asked(builder, "P", "subject.so-many-loads", EXACT_POWER, STEP_UNITS_POWER, number, power,
                   "asked.power-of-so-many-loads");
        find_asked(builder, "I left", "subject.breaker", EXACT_CURRENT, STEP_CURRENT_LEFT, breaker, all,
                   "asked.current-that-is-left-to-the-rating");
    }
    if (is_of_networks(builder) && level >= 3) {
        ask_nearest_part(builder);
    }
    builder->question->drawing = DRAW_ALIKE;
    builder->question->mains = true;
    mpq_srcptr value = builder->question->quantities[number].value;
    /* Neither one load nor a crowd, and no 7, which someone guesses. */
    builder->ok =
        builder->ok && mpq_cmp_ui(value, 2, 1) >= 0 && mpq_cmp_ui(value, 30, 1) <= 0 && mpq_cmp_ui(value, 7, 1) != 0;
}

/* R1 and the group behind it, with what gives the current. */
struct ladder {
    bool unknown; /* the source is; the total current is given */
    size_t count; /* of the group */
    size_t resistor[LOADS_MOST];
    size_t front;
    size_t voltage;
    size_t current;
};

/* V = I (R1 + base / shares), so that the current comes out as chosen. */
static struct ladder give_ladder(struct builder *builder)
{
    static const unsigned long halves[] = {2, 3, 4, 5, 6, 8, 10, 12, 15, 16, 20};
    const unsigned level = builder->question->level;
    struct ladder ladder = {.unknown = level == LESSON_LEVEL_MOST, .count = level < 3 ? level + 1 : 3};
    struct ratio resistance[LOADS_MOST];
    unsigned long ignored;
    choose_parallel(builder, ladder.count, resistance, &ignored);
    const unsigned long front_halves = 2 + pick(builder, 58);
    const unsigned long current_halves = halves[pick(builder, sizeof halves / sizeof halves[0])];
    unsigned long shares = 0;
    for (size_t i = 0; i < ladder.count; i++) {
        shares += resistance[i].under;
    }
    const unsigned long over = current_halves * (front_halves * shares + 2 * resistance[0].over);
    if (ladder.unknown) {
        ladder.current = give(builder, "I", "subject.all-together", EXACT_CURRENT, current_halves, 2);
    } else {
        ladder.voltage = give(builder, "V", "", EXACT_VOLTAGE, over, 4 * shares);
    }
    ladder.front = give(builder, "R1", "subject.in-front", EXACT_RESISTANCE, front_halves, 2);
    for (size_t i = 0; i < ladder.count; i++) {
        ladder.resistor[i] = give_resistor(builder, i + 1, resistance[i]);
    }
    return ladder;
}

static void draw_front(struct builder *builder, const struct ladder *ladder)
{
    element(builder, 0, ELEMENT_SOURCE, 1, 0, ladder->voltage);
    element(builder, 0, ELEMENT_RESISTOR, 1, 2, ladder->front);
    for (size_t i = 0; i < ladder->count; i++) {
        element(builder, 0, ELEMENT_RESISTOR, 2, 0, ladder->resistor[i]);
    }
    builder->question->drawing = DRAW_WIRE;
    builder->question->in_series = "R1";
}

/* R1 in front of a group side by side. At level 4 the source is not known, and the total current gives it. */
static void build_ladder_first(struct builder *builder)
{
    struct ladder ladder = give_ladder(builder);
    const size_t group = find(builder, "R group", "subject.the-group", EXACT_RESISTANCE, STEP_GROUP_PARALLEL,
                              ladder.resistor, ladder.count);
    ask(builder, group, "asked.resistance-of-the-group-in-parallel");
    const size_t whole = find_asked(builder, "R", "subject.all", EXACT_RESISTANCE, STEP_RESISTANCE_ROW, ladder.front,
                                    group, "asked.resistance-of-all");
    if (ladder.unknown) {
        ladder.voltage = find_two(builder, "V", "subject.source", EXACT_VOLTAGE, STEP_VOLTAGE, ladder.current, whole);
        ask(builder, ladder.voltage, "asked.voltage-of-the-source");
    } else {
        ladder.current = find_two(builder, "I", "subject.all-together", EXACT_CURRENT, STEP_CURRENT_FROM_RESISTANCE,
                                  ladder.voltage, whole);
        ask(builder, ladder.current, "asked.total-current");
    }
    const size_t front_v = find_asked(builder, "V1", "R1", EXACT_VOLTAGE, STEP_VOLTAGE, ladder.current, ladder.front,
                                      "asked.voltage-across-1 R1");
    const size_t group_v =
        find_two(builder, "V group", "subject.the-group", EXACT_VOLTAGE, STEP_GROUP_VOLTAGE, ladder.voltage, front_v);
    other_way(builder, group_v, STEP_VOLTAGE, (size_t[]){ladder.current, group}, 2);
    ask(builder, group_v, "asked.voltage-across-the-group");
    const size_t branch = find_asked(builder, "I2", "R2", EXACT_CURRENT, STEP_CURRENT_FROM_RESISTANCE, group_v,
                                     ladder.resistor[0], "asked.current-1 I2");
    const size_t power = find_asked(builder, "P1", "R1", EXACT_POWER, STEP_POWER_IN_RESISTANCE, ladder.current,
                                    ladder.front, "asked.power-of-1 R1");
    draw_front(builder, &ladder);
    probe(builder, group, PROBE_BEHIND, 0, 2);
    probe(builder, whole, PROBE_SEEN, 0, 0);
    probe(builder, ladder.current, PROBE_SOURCE_CURRENT, 0, 0);
    probe(builder, front_v, PROBE_VOLTAGE, 0, 1);
    probe(builder, group_v, PROBE_VOLTAGE, 0, 2);
    probe(builder, branch, PROBE_CURRENT, 0, 2);
    probe(builder, power, PROBE_POWER, 0, 1);
    swap(builder, SLIP_TOTAL_VOLTAGE, group_v, ladder.voltage);
}

void build_ladder(struct builder *builder)
{
    if (is_of_networks(builder) && builder->question->level > 1) {
        build_ladder_network(builder);
    } else {
        build_ladder_first(builder);
    }
}
