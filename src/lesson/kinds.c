/*
 * The kinds of questions on resistors. Each builder adds the given quantities, the steps and what is asked, and the
 * circuit; it is called again with other numbers until all is presentable. How many loads and steps a question has
 * follows from kind and level alone, so that students' sheets are alike in difficulty.
 */
#include "kinds.h"

static const char *const afterwards_of[LOADS_MOST] = {
    "asked.current-in-1-afterwards R1", "asked.current-in-1-afterwards R2", "asked.current-in-1-afterwards R3",
    "asked.current-in-1-afterwards R4", "asked.current-in-1-afterwards R5", "asked.current-in-1-afterwards R6"};
static bool decimal_ends(unsigned long over, unsigned long under)
{
    for (unsigned long a = over, b = under; b != 0;) { /* greatest common divisor, left in a */
        unsigned long rest = a % b;
        a = b;
        b = rest;
        if (b == 0) {
            under /= a;
        }
    }
    while (under % 2 == 0) {
        under /= 2;
    }
    while (under % 5 == 0) {
        under /= 5;
    }
    return under == 1;
}

void choose_parallel(struct builder *builder, size_t count, struct ratio *resistance, unsigned long *voltage)
{
    static const unsigned long bases[] = {12, 24, 30, 36, 40, 48, 60, 72, 90, 120, 180, 240, 300, 360, 600};
    static const unsigned long voltages[] = {6, 9, 12, 15, 18, 24, 30, 36, 48, 60, 72, 90, 120};
    enum { SHARES = 12 };
    for (int turn = 0; turn < 1000; turn++) {
        unsigned long base = bases[pick(builder, sizeof bases / sizeof bases[0])];
        unsigned long total = 0;
        unsigned taken = 0;
        bool ends = true;
        for (size_t i = 0; i < count; i++) {
            unsigned k = 1 + pick(builder, SHARES);
            while (taken & (1U << k)) {
                k = 1 + k % SHARES;
            }
            taken |= 1U << k;
            total += k;
            resistance[i] = (struct ratio){base, k};
            ends = ends && decimal_ends(base, k);
        }
        if (ends && decimal_ends(base, total)) {
            break;
        }
    }
    *voltage = voltages[pick(builder, sizeof voltages / sizeof voltages[0])];
}

unsigned long ohms_times(const struct builder *builder)
{
    enum { KILO = 1000 };
    return builder->kilo ? KILO : 1;
}

size_t give_resistor(struct builder *builder, size_t i, struct ratio ratio)
{
    return give(builder, resistor_names[i], "", EXACT_RESISTANCE, ohms_times(builder) * ratio.over, ratio.under);
}

size_t give_voltage(struct builder *builder, unsigned long voltage)
{
    return give(builder, "V", "", EXACT_VOLTAGE, voltage, 1);
}

struct side_by_side give_side_by_side(struct builder *builder, size_t count)
{
    struct side_by_side set = {.count = count};
    struct ratio resistance[LOADS_MOST];
    unsigned long voltage;
    choose_parallel(builder, count, resistance, &voltage);
    set.voltage = give_voltage(builder, voltage);
    element(builder, 0, ELEMENT_SOURCE, 1, 0, set.voltage);
    for (size_t i = 0; i < count; i++) {
        set.resistor[i] = give_resistor(builder, i, resistance[i]);
        element(builder, 0, ELEMENT_RESISTOR, 1, 0, set.resistor[i]);
    }
    builder->question->drawing = DRAW_PARALLEL;
    return set;
}

size_t find_together(struct builder *builder, const size_t *resistor, size_t count)
{
    size_t together =
        find(builder, "R", "subject.all-together", EXACT_RESISTANCE, STEP_RESISTANCE_PARALLEL, resistor, count);
    probe(builder, together, PROBE_SEEN, 0, 0);
    ask(builder, together, "asked.resistance-of-all-together");
    return together;
}

size_t find_current(struct builder *builder, size_t i, size_t voltage, size_t resistor, size_t state)
{
    const size_t current = find_two(builder, current_names[i], resistor_names[i], EXACT_CURRENT,
                                    STEP_CURRENT_FROM_RESISTANCE, voltage, resistor);
    probe(builder, current, PROBE_CURRENT, state, 1 + i);
    return current;
}

void find_currents(struct builder *builder, const struct side_by_side *set, size_t state, bool asked,
                   size_t *ret_current)
{
    for (size_t i = 0; i < set->count; i++) {
        ret_current[i] = find_current(builder, i, set->voltage, set->resistor[i], state);
        if (asked) {
            ask(builder, ret_current[i], current_of[i]);
        }
    }
}

void ask_trend(struct builder *builder, size_t before, size_t after, const char *subject, const char *asked)
{
    ask(builder, find_two(builder, "more.trend", subject, EXACT_ARROW, STEP_TREND, before, after), asked);
}

void multiple_of(const struct builder *builder, size_t of, unsigned long over, unsigned long under, mpq_t ret)
{
    mpq_set_ui(ret, over, under);
    mpq_canonicalize(ret);
    mpq_mul(ret, ret, builder->question->quantities[of].value);
}

static size_t find_power(struct builder *builder, size_t voltage, size_t current, size_t together)
{
    size_t power =
        find_two(builder, "P", "subject.all-together", EXACT_POWER, STEP_POWER_FROM_CURRENT, voltage, current);
    other_way(builder, power, STEP_POWER_FROM_RESISTANCE, (size_t[]){voltage, together}, 2);
    probe(builder, power, PROBE_SOURCE_POWER, 0, 0);
    ask(builder, power, "asked.power-of-all-together");
    return power;
}

void build_unequal(struct builder *builder)
{
    unsigned level = builder->question->level;
    struct side_by_side set = give_side_by_side(builder, level + 1);
    size_t together = find_together(builder, set.resistor, set.count);
    size_t current = find_two(builder, "I", "subject.all-together", EXACT_CURRENT, STEP_CURRENT_FROM_RESISTANCE,
                              set.voltage, together);
    probe(builder, current, PROBE_SOURCE_CURRENT, 0, 0);
    ask(builder, current, "asked.total-current");
    if (level >= 3) {
        find_power(builder, set.voltage, current, together);
    }
}

void build_equal(struct builder *builder)
{
    static const unsigned numbers[] = {3, 4, 5, 6, 8, 10};
    static const unsigned long voltages[] = {6, 9, 12, 24, 30, 36, 48, 60, 120};
    unsigned level = builder->question->level;
    unsigned count = numbers[pick(builder, sizeof numbers / sizeof numbers[0])];
    unsigned long voltage_v = voltages[pick(builder, sizeof voltages / sizeof voltages[0])];
    size_t voltage = give_voltage(builder, voltage_v);
    size_t one = give(builder, "R1", "subject.each-resistor", EXACT_RESISTANCE,
                      ohms_times(builder) * (1 + pick(builder, 60)) * count, 2);
    size_t number = give(builder, "n", "", EXACT_COUNT, count, 1);
    element(builder, 0, ELEMENT_SOURCE, 1, 0, voltage);
    for (unsigned i = 0; i < count; i++) {
        element(builder, 0, ELEMENT_RESISTOR, 1, 0, one);
    }
    size_t together =
        find_two(builder, "R", "subject.all-together", EXACT_RESISTANCE, STEP_RESISTANCE_EQUAL, one, number);
    probe(builder, together, PROBE_SEEN, 0, 0);
    ask(builder, together, "asked.resistance-of-all-together");
    size_t current =
        find_two(builder, "I", "subject.all-together", EXACT_CURRENT, STEP_CURRENT_FROM_RESISTANCE, voltage, together);
    probe(builder, current, PROBE_SOURCE_CURRENT, 0, 0);
    ask(builder, current, "asked.total-current");
    if (level >= 2) {
        size_t each =
            find_two(builder, "I1", "subject.each-resistor", EXACT_CURRENT, STEP_CURRENT_FROM_RESISTANCE, voltage, one);
        probe(builder, each, PROBE_CURRENT, 0, 1);
        ask(builder, each, "asked.current-in-each-resistor");
    }
    if (level >= 3) {
        find_power(builder, voltage, current, together);
    }
    builder->question->drawing = DRAW_PARALLEL;
}

void build_find_one(struct builder *builder)
{
    unsigned level = builder->question->level;
    size_t count = level + 1;
    struct ratio resistance[LOADS_MOST];
    unsigned long voltage_v;
    choose_parallel(builder, count, resistance, &voltage_v);
    unsigned long shares = 0;
    for (size_t i = 0; i < count; i++) {
        shares += resistance[i].under;
    }
    size_t voltage = give_voltage(builder, voltage_v);
    size_t operands[LOADS_MOST];
    operands[0] =
        give(builder, "R", "subject.all-together", EXACT_RESISTANCE, ohms_times(builder) * resistance[0].over, shares);
    builder->ok = builder->ok && exact_digits(builder->question->quantities[operands[0]].value) <= 3;
    for (size_t i = 1; i < count; i++) {
        operands[i] = give_resistor(builder, i, resistance[i]);
    }
    size_t missing = find(builder, "R1", "R1", EXACT_RESISTANCE, STEP_RESISTANCE_MISSING, operands, count);
    ask(builder, missing, "asked.resistance-1 R1");
    element(builder, 0, ELEMENT_SOURCE, 1, 0, voltage);
    element(builder, 0, ELEMENT_RESISTOR, 1, 0, missing);
    for (size_t i = 1; i < count; i++) {
        element(builder, 0, ELEMENT_RESISTOR, 1, 0, operands[i]);
    }
    probe(builder, operands[0], PROBE_SEEN, 0, 0);
    size_t current = find_two(builder, "I1", "R1", EXACT_CURRENT, STEP_CURRENT_FROM_RESISTANCE, voltage, missing);
    probe(builder, current, PROBE_CURRENT, 0, 1);
    ask(builder, current, "asked.current-1 I1");
    if (level >= 2) {
        size_t total = find_two(builder, "I", "subject.all-together", EXACT_CURRENT, STEP_CURRENT_FROM_RESISTANCE,
                                voltage, operands[0]);
        probe(builder, total, PROBE_SOURCE_CURRENT, 0, 0);
        ask(builder, total, "asked.total-current");
    }
    builder->question->drawing = DRAW_PARALLEL;
}

void build_divide(struct builder *builder)
{
    static const unsigned long halves[] = {1, 2, 3, 4, 5, 6, 8, 10, 12, 15, 16, 18, 20, 24, 30, 36, 40};
    size_t count = builder->question->level + 1;
    struct ratio resistance[LOADS_MOST];
    unsigned long ignored;
    size_t resistor[LOADS_MOST];
    choose_parallel(builder, count, resistance, &ignored);
    size_t total = give(builder, "I", "subject.all-together", EXACT_CURRENT,
                        halves[pick(builder, sizeof halves / sizeof halves[0])], 2 * ohms_times(builder));
    for (size_t i = 0; i < count; i++) {
        resistor[i] = give_resistor(builder, i, resistance[i]);
    }
    size_t together = find_together(builder, resistor, count);
    size_t voltage = find_two(builder, "V", "subject.all-together", EXACT_VOLTAGE, STEP_VOLTAGE, total, together);
    ask(builder, voltage, "asked.voltage-across-them");
    element(builder, 0, ELEMENT_SOURCE, 1, 0, voltage);
    for (size_t i = 0; i < count; i++) {
        element(builder, 0, ELEMENT_RESISTOR, 1, 0, resistor[i]);
        size_t current = find(builder, current_names[i], resistor_names[i], EXACT_CURRENT, STEP_CURRENT_SHARE,
                              (size_t[]){total, together, resistor[i]}, 3);
        other_way(builder, current, STEP_CURRENT_FROM_RESISTANCE, (size_t[]){voltage, resistor[i]}, 2);
        probe(builder, current, PROBE_CURRENT, 0, 1 + i);
        ask(builder, current, current_of[i]);
    }
    probe(builder, total, PROBE_SOURCE_CURRENT, 0, 0);
    builder->question->drawing = DRAW_PARALLEL;
}

/* Two states: all `count` loads, and all but the last. Levels 2 and 4 take it away, 1 and 3 put it in. */
void build_change(struct builder *builder)
{
    if (is_of_networks(builder)) {
        build_change_any(builder);
        return;
    }
    unsigned level = builder->question->level;
    struct side_by_side set = give_side_by_side(builder, level + 2);
    size_t current[LOADS_MOST];
    bool added = level % 2 == 1;
    size_t last = set.count - 1;
    /* State 0 is what stands before the change, as told; state 1 afterwards. */
    struct lesson_circuit *before = &builder->question->circuit[0];
    for (size_t i = 0; i < (added ? set.count : last) + 1; i++) {
        element(builder, 1, before->elements[i].kind, 1, 0, before->elements[i].quantity);
    }
    before->count = added ? set.count : set.count + 1;
    find_currents(builder, &set, 0, false, current);
    for (size_t i = 0; i < set.count; i++) {
        ask(builder, current[i], current_of[i]);
    }
    if (added) {
        probe(builder, current[last], PROBE_CURRENT, 1, set.count);
    }
    size_t total =
        find(builder, "I before", "subject.before", EXACT_CURRENT, STEP_CURRENT_SUM, current, added ? last : set.count);
    size_t same = find(builder, "I1 after", "subject.1-afterwards R1", EXACT_CURRENT, STEP_UNCHANGED, &current[0], 1);
    size_t after = added ? find_two(builder, "I after", "subject.afterwards", EXACT_CURRENT, STEP_CURRENT_ADDED, total,
                                    current[last])
                         : find_two(builder, "I after", "subject.afterwards", EXACT_CURRENT, STEP_CURRENT_DIFFERENCE,
                                    total, current[last]);
    size_t together = find_two(builder, "symbol.r-after", "subject.afterwards", EXACT_RESISTANCE,
                               STEP_RESISTANCE_FROM_CURRENT, set.voltage, after);
    other_way(builder, together, STEP_RESISTANCE_PARALLEL, set.resistor, added ? set.count : last);
    probe(builder, total, PROBE_SOURCE_CURRENT, 0, 0);
    probe(builder, same, PROBE_CURRENT, 1, 1);
    probe(builder, after, PROBE_SOURCE_CURRENT, 1, 0);
    probe(builder, together, PROBE_SEEN, 1, 0);
    ask(builder, total, "asked.total-current-before");
    ask(builder, same, afterwards_of[0]);
    ask(builder, after, "asked.total-current-afterwards");
    ask(builder, together, "asked.resistance-of-all-afterwards");
    if (!added) {
        swap(builder, SLIP_OPEN_CARRIES, after, total);
    }
    builder->question->gate = added ? LESSON_SWITCH_OPEN : LESSON_SWITCH_CLOSED;
    builder->question->gate_at = set.count;
}

void build_open(struct builder *builder)
{
    if (is_of_networks(builder)) {
        build_open_any(builder);
        return;
    }
    struct side_by_side set = give_side_by_side(builder, builder->question->level + 2);
    size_t current[LOADS_MOST];
    size_t last = set.count - 1;
    find_currents(builder, &set, 0, false, current);
    for (size_t i = 0; i < set.count; i++) {
        element(builder, 1, builder->question->circuit[0].elements[i].kind, 1, 0,
                builder->question->circuit[0].elements[i].quantity);
    }
    size_t before = find(builder, "I before", "subject.before", EXACT_CURRENT, STEP_CURRENT_SUM, current, set.count);
    size_t none = find(builder, "I open", "subject.the-opened-path", EXACT_CURRENT, STEP_OPENED, &current[last], 1);
    size_t same = find(builder, "I1 after", "subject.1-afterwards R1", EXACT_CURRENT, STEP_UNCHANGED, &current[0], 1);
    size_t after = find(builder, "I after", "subject.afterwards", EXACT_CURRENT, STEP_CURRENT_SUM, current, last);
    other_way(builder, after, STEP_CURRENT_DIFFERENCE, (size_t[]){before, current[last]}, 2);
    size_t power =
        find_two(builder, "P after", "subject.afterwards", EXACT_POWER, STEP_POWER_FROM_CURRENT, set.voltage, after);
    probe(builder, before, PROBE_SOURCE_CURRENT, 0, 0);
    probe(builder, same, PROBE_CURRENT, 1, 1);
    probe(builder, after, PROBE_SOURCE_CURRENT, 1, 0);
    probe(builder, power, PROBE_SOURCE_POWER, 1, 0);
    ask(builder, before, "asked.total-current-before");
    ask(builder, none, "asked.current-in-the-opened-path");
    ask(builder, same, afterwards_of[0]);
    ask(builder, after, "asked.total-current-afterwards");
    ask(builder, power, "asked.power-of-all-afterwards");
    swap(builder, SLIP_OPEN_CARRIES, after, before);
    builder->question->gate = LESSON_BREAK;
    builder->question->gate_at = set.count;
}

void build_two_ways(struct builder *builder)
{
    unsigned level = builder->question->level;
    struct side_by_side set = give_side_by_side(builder, level + 1);
    size_t current[LOADS_MOST];
    find_currents(builder, &set, 0, true, current);
    size_t total = find(builder, "I", "subject.all-together", EXACT_CURRENT, STEP_CURRENT_SUM, current, set.count);
    probe(builder, total, PROBE_SOURCE_CURRENT, 0, 0);
    ask(builder, total, "asked.total-current-from-the-sum");
    size_t together = find_together(builder, set.resistor, set.count);
    size_t again = find_two(builder, "I again", "subject.all-together", EXACT_CURRENT, STEP_CURRENT_FROM_RESISTANCE,
                            set.voltage, together);
    probe(builder, again, PROBE_SOURCE_CURRENT, 0, 0);
    ask(builder, again, "asked.total-current-from-v-r");
    if (level >= 3) {
        find_power(builder, set.voltage, again, together);
    }
}

struct wired give_wired(struct builder *builder, size_t count)
{
    static const unsigned long wire_hundredths[] = {5, 10, 20, 25, 40, 50, 75, 100};
    static const unsigned long current_halves[] = {2, 3, 4, 5, 6, 8, 10, 12, 15, 16, 20, 24};
    struct wired wired = {.set.count = count};
    struct ratio resistance[LOADS_MOST];
    unsigned long ignored;
    choose_parallel(builder, count, resistance, &ignored);
    unsigned long shares = 0;
    for (size_t i = 0; i < count; i++) {
        shares += resistance[i].under;
    }
    unsigned long hundredths = wire_hundredths[pick(builder, sizeof wire_hundredths / sizeof wire_hundredths[0])];
    unsigned long halves = current_halves[pick(builder, sizeof current_halves / sizeof current_halves[0])];
    /* V = I (2 R one way + base / shares), so that the current comes out as chosen. */
    unsigned long over = halves * (2 * hundredths * shares + 100 * resistance[0].over);
    wired.set.voltage = give(builder, "V", "", EXACT_VOLTAGE, over, 200 * shares);
    builder->ok = builder->ok && exact_digits(builder->question->quantities[wired.set.voltage].value) <= 4;
    wired.one_way = give(builder, "symbol.r-one-way", "word.wire", EXACT_RESISTANCE, hundredths, 100);
    for (size_t i = 0; i < count; i++) {
        wired.set.resistor[i] = give_resistor(builder, i, resistance[i]);
    }
    wired.wire = find(builder, "symbol.r-wire", "subject.wire-out-and-back", EXACT_RESISTANCE, STEP_WIRE_BOTH_WAYS,
                      &wired.one_way, 1);
    element(builder, 0, ELEMENT_SOURCE, 1, 0, wired.set.voltage);
    element(builder, 0, ELEMENT_RESISTOR, 1, 2, wired.wire);
    for (size_t i = 0; i < count; i++) {
        element(builder, 0, ELEMENT_RESISTOR, 2, 0, wired.set.resistor[i]);
    }
    return wired;
}

/* Less than a third of the whole resistance is wire. */
static bool loses_little(const mpq_t wire, const mpq_t together)
{
    mpq_t three_times;
    mpq_init(three_times);
    mpq_set_ui(three_times, 3, 1);
    mpq_mul(three_times, three_times, wire);
    bool little = mpq_cmp(three_times, together) < 0;
    mpq_clear(three_times);
    return little;
}

void build_wire(struct builder *builder)
{
    unsigned level = builder->question->level;
    struct wired wired = give_wired(builder, level + 1);
    const struct side_by_side *set = &wired.set;
    ask(builder, wired.wire, "asked.resistance-of-the-wire-out-and-back");
    size_t loads = find(builder, "R loads", "subject.loads-together", EXACT_RESISTANCE, STEP_RESISTANCE_PARALLEL,
                        set->resistor, set->count);
    probe(builder, loads, PROBE_BEHIND, 0, 2);
    ask(builder, loads, "asked.resistance-of-the-loads-together");
    size_t together =
        find_two(builder, "R", "subject.wire-and-loads", EXACT_RESISTANCE, STEP_RESISTANCE_SERIES, wired.wire, loads);
    probe(builder, together, PROBE_SEEN, 0, 0);
    ask(builder, together, "asked.resistance-of-wire-and-loads");
    size_t current = find_two(builder, "I", "subject.all-together", EXACT_CURRENT, STEP_CURRENT_FROM_RESISTANCE,
                              set->voltage, together);
    probe(builder, current, PROBE_SOURCE_CURRENT, 0, 0);
    ask(builder, current, "asked.total-current");
    size_t lost = find_two(builder, "V wire", "word.wire", EXACT_VOLTAGE, STEP_VOLTAGE, current, wired.wire);
    probe(builder, lost, PROBE_VOLTAGE, 0, 1);
    ask(builder, lost, "asked.voltage-lost-in-the-wire");
    size_t left =
        find_two(builder, "V loads", "subject.loads", EXACT_VOLTAGE, STEP_VOLTAGE_DIFFERENCE, set->voltage, lost);
    other_way(builder, left, STEP_VOLTAGE, (size_t[]){current, loads}, 2);
    probe(builder, left, PROBE_VOLTAGE, 0, 2);
    ask(builder, left, "asked.voltage-at-the-loads");
    size_t power = find_two(builder, "P1", "R1", EXACT_POWER, STEP_POWER_AT_LOADS, left, set->resistor[0]);
    probe(builder, power, PROBE_POWER, 0, 2);
    ask(builder, power, "asked.power-of-1 R1");
    if (level >= 3) {
        size_t heat =
            find_two(builder, "P wire", "word.wire", EXACT_POWER, STEP_POWER_IN_RESISTANCE, current, wired.wire);
        probe(builder, heat, PROBE_POWER, 0, 1);
        ask(builder, heat, "asked.power-lost-in-the-wire");
    }
    struct lesson_question *question = builder->question;
    /* A supply that one meets, and no more than a third of it lost. */
    mpq_srcptr supply_v = question->quantities[set->voltage].value;
    builder->ok = builder->ok && mpq_cmp_ui(supply_v, 250, 1) <= 0 && mpq_cmp_ui(supply_v, 5, 1) >= 0 &&
                  loses_little(question->quantities[wired.wire].value, question->quantities[together].value);
    question->swaps[0] = (struct lesson_swap){SLIP_ONE_WAY, wired.wire, wired.one_way};
    question->swaps[1] = (struct lesson_swap){SLIP_TOTAL_VOLTAGE, left, set->voltage};
    question->swap_count = 2;
    question->drawing = DRAW_WIRE;
}

/* Values that parts alike reach with 2, 3, 4, 5 of them and no fewer: over / under of one part. */
void build_stock(struct builder *builder)
{
    static const struct ratio reach[LESSON_LEVEL_MOST][6] = {
        {{2, 1}, {1, 2}, {2, 1}, {1, 2}, {2, 1}, {1, 2}},
        {{3, 2}, {2, 3}, {3, 1}, {1, 3}, {3, 2}, {2, 3}},
        {{5, 2}, {2, 5}, {4, 3}, {3, 4}, {5, 3}, {3, 5}},
        {{7, 2}, {2, 7}, {8, 3}, {3, 8}, {8, 5}, {5, 8}},
    };
    static const unsigned long first_parts[] = {10, 12, 15, 18, 20, 24, 30, 36, 40, 48, 60, 80, 90, 120};
    static const unsigned long parts[] = {12, 15, 18, 22, 24, 27, 33, 36, 39, 47, 56, 68, 82, 120};
    struct ratio ratio = reach[builder->question->level - 1][pick(builder, 6)];
    const unsigned chosen = pick(builder, sizeof parts / sizeof parts[0]);
    const unsigned long part = builder->plan->generator == LESSON_GENERATOR_FIRST ? first_parts[chosen] : parts[chosen];
    size_t one = give(builder, "R1", "subject.each-part", EXACT_RESISTANCE, part, 1);
    size_t wanted = give(builder, "R", "subject.wanted", EXACT_RESISTANCE, part * ratio.over, ratio.under);
    size_t voltage = give_voltage(builder, 6 * (1 + pick(builder, 20)));
    size_t number = find_two(builder, "n", "subject.fewest-parts", EXACT_COUNT, STEP_FEWEST_PARTS, wanted, one);
    ask(builder, number, "asked.fewest-parts-needed");
    size_t current =
        find_two(builder, "I", "subject.all-together", EXACT_CURRENT, STEP_CURRENT_FROM_RESISTANCE, voltage, wanted);
    ask(builder, current, "asked.total-current-at-that-voltage");
    size_t power =
        find_two(builder, "P", "subject.all-together", EXACT_POWER, STEP_POWER_FROM_CURRENT, voltage, current);
    other_way(builder, power, STEP_POWER_FROM_RESISTANCE, (size_t[]){voltage, wanted}, 2);
    ask(builder, power, "asked.power-of-all-together");
    builder->question->drawing = DRAW_SHELF;
}
