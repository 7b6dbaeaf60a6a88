/*
 * The kinds of questions. Each builder adds the given quantities, the steps and what is asked, and the circuit; it is
 * called again with other numbers until all is presentable. How many loads and steps a question has follows from kind
 * and level alone, so that students' sheets are alike in difficulty.
 */
#include <string.h>

#include "question.h"

static const char *const resistor_names[LOADS_MOST] = {"R1", "R2", "R3", "R4", "R5", "R6"};
static const char *const current_names[LOADS_MOST] = {"I1", "I2", "I3", "I4", "I5", "I6"};
static const char *const power_names[LOADS_MOST] = {"P1", "P2", "P3", "P4", "P5", "P6"};
static const char *const resistor_of[LOADS_MOST] = {"resistance R1", "resistance R2", "resistance R3",
                                                    "resistance R4", "resistance R5", "resistance R6"};
static const char *const current_of[LOADS_MOST] = {"current I1", "current I2", "current I3",
                                                   "current I4", "current I5", "current I6"};
static const char *const power_of[LOADS_MOST] = {"power P1", "power P2", "power P3",
                                                 "power P4", "power P5", "power P6"};
static const char *const afterwards_of[LOADS_MOST] = {"current in R1 afterwards", "current in R2 afterwards",
                                                      "current in R3 afterwards", "current in R4 afterwards",
                                                      "current in R5 afterwards", "current in R6 afterwards"};
/* Loads of our own invention, each with the powers that one would believe. */
static const struct {
    const char *name;
    unsigned long least_w;
    unsigned long most_w;
} loads_without_house[] = {
    {"heater", 400, 2500},     {"kettle", 700, 3000},   {"toaster", 500, 1500}, {"iron", 500, 2500},
    {"hair dryer", 500, 2300}, {"hotplate", 400, 2500}, {"lamp", 20, 250},      {"rice cooker", 300, 1300},
};

/* A whole fraction. */
struct ratio {
    unsigned long over;
    unsigned long under;
};

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

/*
 * `count` different resistances base / k with small whole k, whose parallel value ends as a decimal. `voltage` gets a
 * whole number of volts at which currents have a chance to be short.
 */
static void choose_parallel(struct builder *builder, size_t count, struct ratio *resistance, unsigned long *voltage)
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

static size_t give_resistor(struct builder *builder, size_t i, struct ratio ratio)
{
    return give(builder, resistor_names[i], "", EXACT_RESISTANCE, ratio.over, ratio.under);
}

static size_t give_voltage(struct builder *builder, unsigned long voltage)
{
    return give(builder, "V", "", EXACT_VOLTAGE, voltage, 1);
}

/* The resistors of a question, side by side across one source. */
struct side_by_side {
    size_t count;
    size_t resistor[LOADS_MOST];
    size_t voltage;
};

static struct side_by_side give_side_by_side(struct builder *builder, size_t count)
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

static size_t find_together(struct builder *builder, const size_t *resistor, size_t count)
{
    size_t together = find(builder, "R", "all together", EXACT_RESISTANCE, STEP_RESISTANCE_PARALLEL, resistor, count);
    probe(builder, together, PROBE_SEEN, 0, 0);
    ask(builder, together, "resistance of all together");
    return together;
}

static void find_branch_currents(struct builder *builder, const struct side_by_side *set, size_t *current, bool asked)
{
    for (size_t i = 0; i < set->count; i++) {
        current[i] = find_two(builder, current_names[i], resistor_names[i], EXACT_CURRENT, STEP_CURRENT_FROM_RESISTANCE,
                              set->voltage, set->resistor[i]);
        probe(builder, current[i], PROBE_CURRENT, 0, 1 + i);
        if (asked) {
            ask(builder, current[i], current_of[i]);
        }
    }
}

static size_t find_power(struct builder *builder, size_t voltage, size_t current, size_t together)
{
    size_t power = find_two(builder, "P", "all together", EXACT_POWER, STEP_POWER_FROM_CURRENT, voltage, current);
    other_way(builder, power, STEP_POWER_FROM_RESISTANCE, (size_t[]){voltage, together}, 2);
    probe(builder, power, PROBE_SOURCE_POWER, 0, 0);
    ask(builder, power, "power of all together");
    return power;
}

static void build_unequal(struct builder *builder)
{
    unsigned level = builder->question->level;
    struct side_by_side set = give_side_by_side(builder, level + 1);
    size_t together = find_together(builder, set.resistor, set.count);
    size_t current =
        find_two(builder, "I", "all together", EXACT_CURRENT, STEP_CURRENT_FROM_RESISTANCE, set.voltage, together);
    probe(builder, current, PROBE_SOURCE_CURRENT, 0, 0);
    ask(builder, current, "total current");
    if (level >= 3) {
        find_power(builder, set.voltage, current, together);
    }
}

static void build_equal(struct builder *builder)
{
    static const unsigned numbers[] = {3, 4, 5, 6, 8, 10};
    static const unsigned long voltages[] = {6, 9, 12, 24, 30, 36, 48, 60, 120};
    unsigned level = builder->question->level;
    unsigned count = numbers[pick(builder, sizeof numbers / sizeof numbers[0])];
    unsigned long voltage_v = voltages[pick(builder, sizeof voltages / sizeof voltages[0])];
    size_t voltage = give_voltage(builder, voltage_v);
    size_t one = give(builder, "R1", "each resistor", EXACT_RESISTANCE, (1 + pick(builder, 60)) * count, 2);
    size_t number = give(builder, "n", "", EXACT_COUNT, count, 1);
    element(builder, 0, ELEMENT_SOURCE, 1, 0, voltage);
    for (unsigned i = 0; i < count; i++) {
        element(builder, 0, ELEMENT_RESISTOR, 1, 0, one);
    }
    size_t together = find_two(builder, "R", "all together", EXACT_RESISTANCE, STEP_RESISTANCE_EQUAL, one, number);
    probe(builder, together, PROBE_SEEN, 0, 0);
    ask(builder, together, "resistance of all together");
    size_t current =
        find_two(builder, "I", "all together", EXACT_CURRENT, STEP_CURRENT_FROM_RESISTANCE, voltage, together);
    probe(builder, current, PROBE_SOURCE_CURRENT, 0, 0);
    ask(builder, current, "total current");
    if (level >= 2) {
        size_t each =
            find_two(builder, "I1", "each resistor", EXACT_CURRENT, STEP_CURRENT_FROM_RESISTANCE, voltage, one);
        probe(builder, each, PROBE_CURRENT, 0, 1);
        ask(builder, each, "current in each resistor");
    }
    if (level >= 3) {
        find_power(builder, voltage, current, together);
    }
    builder->question->drawing = DRAW_PARALLEL;
}

static void build_find_one(struct builder *builder)
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
    operands[0] = give(builder, "R", "all together", EXACT_RESISTANCE, resistance[0].over, shares);
    builder->ok = builder->ok && exact_digits(builder->question->quantities[operands[0]].value) <= 3;
    for (size_t i = 1; i < count; i++) {
        operands[i] = give_resistor(builder, i, resistance[i]);
    }
    size_t missing = find(builder, "R1", "R1", EXACT_RESISTANCE, STEP_RESISTANCE_MISSING, operands, count);
    ask(builder, missing, "resistance R1");
    element(builder, 0, ELEMENT_SOURCE, 1, 0, voltage);
    element(builder, 0, ELEMENT_RESISTOR, 1, 0, missing);
    for (size_t i = 1; i < count; i++) {
        element(builder, 0, ELEMENT_RESISTOR, 1, 0, operands[i]);
    }
    probe(builder, operands[0], PROBE_SEEN, 0, 0);
    size_t current = find_two(builder, "I1", "R1", EXACT_CURRENT, STEP_CURRENT_FROM_RESISTANCE, voltage, missing);
    probe(builder, current, PROBE_CURRENT, 0, 1);
    ask(builder, current, "current I1");
    if (level >= 2) {
        size_t total =
            find_two(builder, "I", "all together", EXACT_CURRENT, STEP_CURRENT_FROM_RESISTANCE, voltage, operands[0]);
        probe(builder, total, PROBE_SOURCE_CURRENT, 0, 0);
        ask(builder, total, "total current");
    }
    builder->question->drawing = DRAW_PARALLEL;
}

static void build_divide(struct builder *builder)
{
    static const unsigned long halves[] = {1, 2, 3, 4, 5, 6, 8, 10, 12, 15, 16, 18, 20, 24, 30, 36, 40};
    size_t count = builder->question->level + 1;
    struct ratio resistance[LOADS_MOST];
    unsigned long ignored;
    size_t resistor[LOADS_MOST];
    choose_parallel(builder, count, resistance, &ignored);
    size_t total =
        give(builder, "I", "all together", EXACT_CURRENT, halves[pick(builder, sizeof halves / sizeof halves[0])], 2);
    for (size_t i = 0; i < count; i++) {
        resistor[i] = give_resistor(builder, i, resistance[i]);
    }
    size_t together = find_together(builder, resistor, count);
    size_t voltage = find_two(builder, "V", "all together", EXACT_VOLTAGE, STEP_VOLTAGE, total, together);
    ask(builder, voltage, "voltage across them");
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

/* Loads with a name and a rated power. */
struct named_load {
    const char *name;
    unsigned long power_w;
};

static bool choose_house_loads(struct builder *builder, size_t count, struct named_load *loads, unsigned *breaker_a)
{
    const struct lesson_plan *plan = builder->plan;
    const struct lesson_branch *branch = &plan->branches[pick(builder, (unsigned)plan->branch_count)];
    if (branch->load_count < count) {
        return false;
    }
    size_t start = pick(builder, (unsigned)branch->load_count);
    size_t skip = pick(builder, (unsigned)(branch->load_count - count) + 1);
    for (size_t i = 0; i < count; i++) {
        size_t at = (start + i + (i > 0 ? skip : 0)) % branch->load_count;
        loads[i] = (struct named_load){branch->loads[at].name, branch->loads[at].power_w};
    }
    *breaker_a = branch->breaker_a;
    builder->question->branch = branch->label;
    return true;
}

/* A power at which the current is a short number and which the load may well have; 0 where chance gave none. */
static unsigned long choose_power_w(struct builder *builder, unsigned name)
{
    enum { TURNS = 20 };
    static const unsigned long tenths[] = {2, 3, 4, 5, 8, 10, 15, 20, 25, 30, 40, 50, 60, 75, 80, 100};
    for (int turn = 0; turn < TURNS; turn++) {
        unsigned long watts_tenths = builder->plan->voltage_v * tenths[pick(builder, sizeof tenths / sizeof tenths[0])];
        if (watts_tenths % 10 == 0 && watts_tenths >= 10 * loads_without_house[name].least_w &&
            watts_tenths <= 10 * loads_without_house[name].most_w) {
            return watts_tenths / 10;
        }
    }
    builder->ok = false;
    return 1;
}

/* From the house while that gives presentable numbers, else powers whose currents are short. */
static void choose_loads(struct builder *builder, size_t count, struct named_load *loads, unsigned *breaker_a)
{
    enum { HOUSE_ATTEMPTS = 24 };
    static const unsigned low_voltage_breakers[] = {15, 20};
    static const unsigned other_breakers[] = {10, 16, 20};
    const struct lesson_plan *plan = builder->plan;
    if (builder->attempt < HOUSE_ATTEMPTS && plan->branch_count > 0 &&
        choose_house_loads(builder, count, loads, breaker_a)) {
        return;
    }
    unsigned names = sizeof loads_without_house / sizeof loads_without_house[0];
    unsigned start = pick(builder, names);
    for (size_t i = 0; i < count; i++) {
        unsigned name = (start + (unsigned)i) % names;
        loads[i] = (struct named_load){loads_without_house[name].name, choose_power_w(builder, name)};
    }
    *breaker_a = plan->voltage_v < 200 ? low_voltage_breakers[pick(builder, 2)] : other_breakers[pick(builder, 3)];
}

/* A row of the table: one of power, resistance or current is given, the other two are found. */
static void find_row(struct builder *builder, size_t voltage, size_t i, const char *name, unsigned long power_w,
                     unsigned known, size_t row[3])
{
    unsigned long voltage_v = mpz_get_ui(mpq_numref(builder->question->quantities[voltage].value));
    if (known == 0) {
        row[0] = give(builder, power_names[i], name, EXACT_POWER, power_w, 1);
        row[1] =
            find_two(builder, resistor_names[i], name, EXACT_RESISTANCE, STEP_RESISTANCE_FROM_POWER, voltage, row[0]);
        row[2] = find_two(builder, current_names[i], name, EXACT_CURRENT, STEP_CURRENT_FROM_POWER, row[0], voltage);
    } else if (known == 1) {
        row[1] = give(builder, resistor_names[i], name, EXACT_RESISTANCE, voltage_v * voltage_v, power_w);
        row[2] =
            find_two(builder, current_names[i], name, EXACT_CURRENT, STEP_CURRENT_FROM_RESISTANCE, voltage, row[1]);
        row[0] = find_two(builder, power_names[i], name, EXACT_POWER, STEP_POWER_FROM_CURRENT, voltage, row[2]);
    } else {
        row[2] = give(builder, current_names[i], name, EXACT_CURRENT, power_w, voltage_v);
        row[1] =
            find_two(builder, resistor_names[i], name, EXACT_RESISTANCE, STEP_RESISTANCE_FROM_CURRENT, voltage, row[2]);
        row[0] = find_two(builder, power_names[i], name, EXACT_POWER, STEP_POWER_FROM_CURRENT, voltage, row[2]);
    }
    static const char *const *const asked[] = {power_of, resistor_of, current_of};
    for (unsigned column = 0; column < 3; column++) {
        if (column != known) {
            ask(builder, row[column], asked[column][i]);
        }
    }
    probe(builder, row[0], PROBE_POWER, 0, 1 + i);
    probe(builder, row[2], PROBE_CURRENT, 0, 1 + i);
    element(builder, 0, ELEMENT_RESISTOR, 1, 0, row[1]);
}

static void build_table(struct builder *builder)
{
    unsigned level = builder->question->level;
    size_t count = level + 1;
    struct named_load loads[LOADS_MOST];
    unsigned breaker_a;
    size_t power[LOADS_MOST];
    size_t resistor[LOADS_MOST];
    size_t current[LOADS_MOST];
    choose_loads(builder, count, loads, &breaker_a);
    size_t voltage = give_voltage(builder, builder->plan->voltage_v);
    element(builder, 0, ELEMENT_SOURCE, 1, 0, voltage);
    for (size_t i = 0; i < count; i++) {
        size_t row[3];
        find_row(builder, voltage, i, loads[i].name, loads[i].power_w, level < 3 ? 0 : (unsigned)i % 3, row);
        power[i] = row[0];
        resistor[i] = row[1];
        current[i] = row[2];
    }
    size_t total_w = find(builder, "P", "all together", EXACT_POWER, STEP_POWER_SUM, power, count);
    size_t total_a = find(builder, "I", "all together", EXACT_CURRENT, STEP_CURRENT_SUM, current, count);
    other_way(builder, total_a, STEP_CURRENT_FROM_POWER, (size_t[]){total_w, voltage}, 2);
    size_t together =
        find_two(builder, "R", "all together", EXACT_RESISTANCE, STEP_RESISTANCE_FROM_CURRENT, voltage, total_a);
    other_way(builder, together, STEP_RESISTANCE_PARALLEL, resistor, count);
    probe(builder, total_w, PROBE_SOURCE_POWER, 0, 0);
    probe(builder, total_a, PROBE_SOURCE_CURRENT, 0, 0);
    probe(builder, together, PROBE_SEEN, 0, 0);
    ask(builder, total_w, "power of all together");
    ask(builder, total_a, "total current");
    ask(builder, together, "resistance of all together");
    builder->question->drawing = DRAW_PARALLEL;
}

/* Two states: all `count` loads, and all but the last. Levels 2 and 4 take it away, 1 and 3 put it in. */
static void build_change(struct builder *builder)
{
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
    find_branch_currents(builder, &set, current, false);
    for (size_t i = 0; i < set.count; i++) {
        ask(builder, current[i], current_of[i]);
    }
    if (added) {
        probe(builder, current[last], PROBE_CURRENT, 1, set.count);
    }
    size_t total =
        find(builder, "I before", "before", EXACT_CURRENT, STEP_CURRENT_SUM, current, added ? last : set.count);
    size_t same = find(builder, "I1 after", "R1 afterwards", EXACT_CURRENT, STEP_UNCHANGED, &current[0], 1);
    size_t after =
        added
            ? find_two(builder, "I after", "afterwards", EXACT_CURRENT, STEP_CURRENT_SUM, total, current[last])
            : find_two(builder, "I after", "afterwards", EXACT_CURRENT, STEP_CURRENT_DIFFERENCE, total, current[last]);
    size_t together =
        find_two(builder, "R after", "afterwards", EXACT_RESISTANCE, STEP_RESISTANCE_FROM_CURRENT, set.voltage, after);
    other_way(builder, together, STEP_RESISTANCE_PARALLEL, set.resistor, added ? set.count : last);
    probe(builder, total, PROBE_SOURCE_CURRENT, 0, 0);
    probe(builder, same, PROBE_CURRENT, 1, 1);
    probe(builder, after, PROBE_SOURCE_CURRENT, 1, 0);
    probe(builder, together, PROBE_SEEN, 1, 0);
    ask(builder, total, "total current before");
    ask(builder, same, afterwards_of[0]);
    ask(builder, after, "total current afterwards");
    ask(builder, together, "resistance of all afterwards");
}

static void build_open(struct builder *builder)
{
    struct side_by_side set = give_side_by_side(builder, builder->question->level + 2);
    size_t current[LOADS_MOST];
    size_t last = set.count - 1;
    find_branch_currents(builder, &set, current, false);
    for (size_t i = 0; i < set.count; i++) {
        element(builder, 1, builder->question->circuit[0].elements[i].kind, 1, 0,
                builder->question->circuit[0].elements[i].quantity);
    }
    size_t before = find(builder, "I before", "before", EXACT_CURRENT, STEP_CURRENT_SUM, current, set.count);
    size_t none = find(builder, "I open", "the opened path", EXACT_CURRENT, STEP_OPENED, &current[last], 1);
    size_t same = find(builder, "I1 after", "R1 afterwards", EXACT_CURRENT, STEP_UNCHANGED, &current[0], 1);
    size_t after = find(builder, "I after", "afterwards", EXACT_CURRENT, STEP_CURRENT_SUM, current, last);
    other_way(builder, after, STEP_CURRENT_DIFFERENCE, (size_t[]){before, current[last]}, 2);
    size_t power = find_two(builder, "P after", "afterwards", EXACT_POWER, STEP_POWER_FROM_CURRENT, set.voltage, after);
    probe(builder, before, PROBE_SOURCE_CURRENT, 0, 0);
    probe(builder, same, PROBE_CURRENT, 1, 1);
    probe(builder, after, PROBE_SOURCE_CURRENT, 1, 0);
    probe(builder, power, PROBE_SOURCE_POWER, 1, 0);
    ask(builder, before, "total current before");
    ask(builder, none, "current in the opened path");
    ask(builder, same, afterwards_of[0]);
    ask(builder, after, "total current afterwards");
    ask(builder, power, "power of all afterwards");
}

/* Loads given by power; their currents. */
static void find_load_currents(struct builder *builder, const struct named_load *loads, size_t count, size_t voltage,
                               size_t *power, size_t *current)
{
    for (size_t i = 0; i < count; i++) {
        power[i] = give(builder, power_names[i], loads[i].name, EXACT_POWER, loads[i].power_w, 1);
        element(builder, 0, ELEMENT_POWER, 1, 0, power[i]);
    }
    for (size_t i = 0; i < count; i++) {
        current[i] = find_two(builder, current_names[i], loads[i].name, EXACT_CURRENT, STEP_CURRENT_FROM_POWER,
                              power[i], voltage);
        probe(builder, current[i], PROBE_CURRENT, 0, 1 + i);
        ask(builder, current[i], current_of[i]);
    }
}

static void build_trip(struct builder *builder)
{
    size_t count = builder->question->level + 1;
    struct named_load loads[LOADS_MOST];
    unsigned breaker_a;
    size_t power[LOADS_MOST];
    size_t current[LOADS_MOST];
    choose_loads(builder, count, loads, &breaker_a);
    size_t voltage = give_voltage(builder, builder->plan->voltage_v);
    element(builder, 0, ELEMENT_SOURCE, 1, 0, voltage);
    size_t breaker = give(builder, "breaker", "", EXACT_CURRENT, breaker_a, 1);
    find_load_currents(builder, loads, count, voltage, power, current);
    size_t total = find(builder, "I", "all together", EXACT_CURRENT, STEP_CURRENT_SUM, current, count);
    probe(builder, total, PROBE_SOURCE_CURRENT, 0, 0);
    ask(builder, total, "total current");
    size_t over = find_two(builder, "over", "breaker", EXACT_YES_NO, STEP_IS_OVER, total, breaker);
    ask(builder, over, "is that more than the breaker's rating? (yes or no)");
    /* Nobody learns from a current far off the rating, nor from one that meets it to the hair. */
    mpq_srcptr value = builder->question->quantities[total].value;
    bool near = mpq_cmp_ui(value, breaker_a, 2) > 0 && mpq_cmp_ui(value, 2 * breaker_a, 1) < 0;
    builder->ok = builder->ok && near && mpq_cmp_ui(value, breaker_a, 1) != 0;
    builder->question->drawing = DRAW_PARALLEL;
}

static void build_two_ways(struct builder *builder)
{
    unsigned level = builder->question->level;
    struct side_by_side set = give_side_by_side(builder, level + 1);
    size_t current[LOADS_MOST];
    find_branch_currents(builder, &set, current, true);
    size_t total = find(builder, "I", "all together", EXACT_CURRENT, STEP_CURRENT_SUM, current, set.count);
    probe(builder, total, PROBE_SOURCE_CURRENT, 0, 0);
    ask(builder, total, "total current from the sum");
    size_t together = find_together(builder, set.resistor, set.count);
    size_t again = find_two(builder, "I again", "all together", EXACT_CURRENT, STEP_CURRENT_FROM_RESISTANCE,
                            set.voltage, together);
    probe(builder, again, PROBE_SOURCE_CURRENT, 0, 0);
    ask(builder, again, "total current from V / R");
    if (level >= 3) {
        find_power(builder, set.voltage, again, together);
    }
}

static void build_energy(struct builder *builder)
{
    static const char *const energy_names[LOADS_MOST] = {"E1", "E2", "E3", "E4", "E5", "E6"};
    static const char *const energy_of[LOADS_MOST] = {"energy E1 in a day", "energy E2 in a day", "energy E3 in a day",
                                                      "energy E4 in a day", "energy E5 in a day", "energy E6 in a day"};
    static const char *const time_names[LOADS_MOST] = {"t1", "t2", "t3", "t4", "t5", "t6"};
    enum { PRICE_ATTEMPTS = 60 };
    size_t count = builder->question->level;
    struct named_load loads[LOADS_MOST];
    unsigned breaker_a;
    size_t energy[LOADS_MOST];
    choose_loads(builder, count, loads, &breaker_a);
    mpq_t price_value;
    mpq_init(price_value);
    if (builder->attempt >= PRICE_ATTEMPTS || !exact_read(price_value, builder->plan->price)) {
        mpq_set_ui(price_value, 1, 5);
    }
    size_t price = give_value(builder, "price", "", EXACT_PRICE, price_value);
    mpq_clear(price_value);
    for (size_t i = 0; i < count; i++) {
        size_t power = give(builder, power_names[i], loads[i].name, EXACT_POWER, loads[i].power_w, 1);
        size_t time = give(builder, time_names[i], loads[i].name, EXACT_TIME, 1 + pick(builder, 12), 2);
        energy[i] = find_two(builder, energy_names[i], loads[i].name, EXACT_ENERGY, STEP_ENERGY, power, time);
        ask(builder, energy[i], energy_of[i]);
    }
    size_t total = energy[0];
    if (count > 1) {
        total = find(builder, "E", "all together", EXACT_ENERGY, STEP_ENERGY_SUM, energy, count);
        ask(builder, total, "energy of all in a day");
    }
    size_t cost = find_two(builder, "cost", "all together", EXACT_MONEY, STEP_COST, total, price);
    ask(builder, cost, "cost of a day");
    /* Whole hundredths of money. */
    builder->ok = builder->ok && 100 % mpz_get_ui(mpq_denref(builder->question->quantities[cost].value)) == 0;
}

/* The wire and what hangs behind it. */
struct wired {
    struct side_by_side set;
    size_t one_way;
    size_t wire;
};

static struct wired give_wired(struct builder *builder, size_t count)
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
    wired.one_way = give(builder, "R one way", "wire", EXACT_RESISTANCE, hundredths, 100);
    for (size_t i = 0; i < count; i++) {
        wired.set.resistor[i] = give_resistor(builder, i, resistance[i]);
    }
    wired.wire =
        find(builder, "R wire", "wire, out and back", EXACT_RESISTANCE, STEP_WIRE_BOTH_WAYS, &wired.one_way, 1);
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

static void build_wire(struct builder *builder)
{
    unsigned level = builder->question->level;
    struct wired wired = give_wired(builder, level + 1);
    const struct side_by_side *set = &wired.set;
    ask(builder, wired.wire, "resistance of the wire, out and back");
    size_t loads = find(builder, "R loads", "loads together", EXACT_RESISTANCE, STEP_RESISTANCE_PARALLEL, set->resistor,
                        set->count);
    probe(builder, loads, PROBE_BEHIND, 0, 2);
    ask(builder, loads, "resistance of the loads together");
    size_t together =
        find_two(builder, "R", "wire and loads", EXACT_RESISTANCE, STEP_RESISTANCE_SERIES, wired.wire, loads);
    probe(builder, together, PROBE_SEEN, 0, 0);
    ask(builder, together, "resistance of wire and loads");
    size_t current =
        find_two(builder, "I", "all together", EXACT_CURRENT, STEP_CURRENT_FROM_RESISTANCE, set->voltage, together);
    probe(builder, current, PROBE_SOURCE_CURRENT, 0, 0);
    ask(builder, current, "total current");
    size_t lost = find_two(builder, "V wire", "wire", EXACT_VOLTAGE, STEP_VOLTAGE, current, wired.wire);
    probe(builder, lost, PROBE_VOLTAGE, 0, 1);
    ask(builder, lost, "voltage lost in the wire");
    size_t left = find_two(builder, "V loads", "loads", EXACT_VOLTAGE, STEP_VOLTAGE_DIFFERENCE, set->voltage, lost);
    other_way(builder, left, STEP_VOLTAGE, (size_t[]){current, loads}, 2);
    probe(builder, left, PROBE_VOLTAGE, 0, 2);
    ask(builder, left, "voltage at the loads");
    size_t power = find_two(builder, "P1", "R1", EXACT_POWER, STEP_POWER_FROM_RESISTANCE, left, set->resistor[0]);
    probe(builder, power, PROBE_POWER, 0, 2);
    ask(builder, power, "power of R1");
    if (level >= 3) {
        size_t heat = find_two(builder, "P wire", "wire", EXACT_POWER, STEP_POWER_IN_RESISTANCE, current, wired.wire);
        probe(builder, heat, PROBE_POWER, 0, 1);
        ask(builder, heat, "power lost in the wire");
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

static void build_neutral(struct builder *builder)
{
    static const char *const leg_currents[] = {"I A", "I B"};
    static const char *const legs[] = {"leg A", "leg B"};
    static const char *const asked[] = {"current on leg A", "current on leg B"};
    unsigned level = builder->question->level;
    size_t on_leg = level % 2 == 0 ? 2 : 1;
    struct named_load loads[LOADS_MOST];
    unsigned breaker_a;
    size_t power[LOADS_MOST];
    size_t leg[2];
    choose_loads(builder, 2 * on_leg, loads, &breaker_a);
    size_t voltage = give(builder, "V", "each leg to neutral", EXACT_VOLTAGE, builder->plan->voltage_v, 1);
    element(builder, 0, ELEMENT_SOURCE, 1, 0, voltage); /* leg A */
    element(builder, 0, ELEMENT_SOURCE, 0, 2, voltage); /* leg B, the other way round */
    size_t neutral_wire = element(builder, 0, ELEMENT_WIRE, 3, 0, voltage);
    for (size_t i = 0; i < 2 * on_leg; i++) {
        power[i] = give(builder, power_names[i], loads[i].name, EXACT_POWER, loads[i].power_w, 1);
        element(builder, 0, ELEMENT_POWER, i < on_leg ? 1 : 3, i < on_leg ? 3 : 2, power[i]);
    }
    for (size_t side = 0; side < 2; side++) {
        size_t total = power[side * on_leg];
        if (on_leg > 1) {
            total = find(builder, side == 0 ? "P A" : "P B", legs[side], EXACT_POWER, STEP_POWER_SUM,
                         power + side * on_leg, on_leg);
        }
        leg[side] =
            find_two(builder, leg_currents[side], legs[side], EXACT_CURRENT, STEP_CURRENT_FROM_POWER, total, voltage);
        probe(builder, leg[side], PROBE_SOURCE_CURRENT, 0, side);
        ask(builder, leg[side], asked[side]);
    }
    size_t neutral = find_two(builder, "I N", "neutral", EXACT_CURRENT, STEP_NEUTRAL, leg[0], leg[1]);
    probe(builder, neutral, PROBE_CURRENT, 0, neutral_wire);
    ask(builder, neutral, "current in the neutral");
    builder->question->branch = NULL; /* the loads are the house's, the two legs are ours */
    builder->question->drawing = DRAW_SPLIT;
}

/* The totals follow from a right-angled triangle of whole numbers, so that nothing needs rounding. */
static void build_power_factor(struct builder *builder)
{
    static const unsigned triples[][3] = {{3, 4, 5}, {4, 3, 5}, {8, 6, 10}, {24, 7, 25}, {24, 18, 30}, {12, 9, 15}};
    static const char *const machines[] = {"motor", "pump", "fan", "compressor"};
    static const char *const reactive_names[] = {"Q1", "Q2", "Q3", "Q4"};
    unsigned level = builder->question->level;
    size_t count = level;
    const unsigned *triple = triples[pick(builder, sizeof triples / sizeof triples[0])];
    unsigned long unit_va = (unsigned long)builder->plan->voltage_v * (1 + pick(builder, 20)); /* per 10 of S */
    size_t active[LOADS_MOST];
    size_t reactive[LOADS_MOST];
    size_t voltage = give_voltage(builder, builder->plan->voltage_v);
    unsigned long left_w = unit_va * triple[0];
    unsigned long left_var = unit_va * triple[1];
    for (size_t i = 0; i < count; i++) {
        unsigned long parts = count - i;
        unsigned long power = i + 1 == count ? left_w : left_w / parts / 10 * (5 + pick(builder, 5));
        unsigned long var = i + 1 == count ? left_var : left_var / parts / 10 * (5 + pick(builder, 5));
        active[i] = give(builder, power_names[i], machines[i], EXACT_POWER, power, 10);
        reactive[i] = give(builder, reactive_names[i], machines[i], EXACT_REACTIVE, var, 10);
        left_w -= power;
        left_var -= var;
    }
    size_t total_w = active[0];
    size_t total_var = reactive[0];
    if (count > 1) {
        total_w = find(builder, "P", "all together", EXACT_POWER, STEP_POWER_SUM, active, count);
        total_var = find(builder, "Q", "all together", EXACT_REACTIVE, STEP_REACTIVE_SUM, reactive, count);
        ask(builder, total_w, "power of all together");
        ask(builder, total_var, "reactive power of all together");
    }
    size_t apparent =
        find_two(builder, "S", "all together", EXACT_APPARENT, STEP_APPARENT_FROM_POWERS, total_w, total_var);
    size_t factor = find_two(builder, "pf", "all together", EXACT_RATIO, STEP_POWER_FACTOR, total_w, apparent);
    size_t current =
        find_two(builder, "I", "all together", EXACT_CURRENT, STEP_CURRENT_FROM_APPARENT, apparent, voltage);
    ask(builder, apparent, "apparent power of all together");
    ask(builder, factor, "power factor");
    ask(builder, current, "total current");
    builder->ok = builder->ok && mpq_cmp_ui(builder->question->quantities[current].value, 32, 1) <= 0;
}

/* Values that parts alike reach with 2, 3, 4, 5 of them and no fewer: over / under of one part. */
static void build_stock(struct builder *builder)
{
    static const struct ratio reach[LESSON_LEVEL_MOST][6] = {
        {{2, 1}, {1, 2}, {2, 1}, {1, 2}, {2, 1}, {1, 2}},
        {{3, 2}, {2, 3}, {3, 1}, {1, 3}, {3, 2}, {2, 3}},
        {{5, 2}, {2, 5}, {4, 3}, {3, 4}, {5, 3}, {3, 5}},
        {{7, 2}, {2, 7}, {8, 3}, {3, 8}, {8, 5}, {5, 8}},
    };
    static const unsigned long parts[] = {10, 12, 15, 18, 20, 24, 30, 36, 40, 48, 60, 80, 90, 120};
    struct ratio ratio = reach[builder->question->level - 1][pick(builder, 6)];
    unsigned long part = parts[pick(builder, sizeof parts / sizeof parts[0])];
    size_t one = give(builder, "R1", "each part", EXACT_RESISTANCE, part, 1);
    size_t wanted = give(builder, "R", "wanted", EXACT_RESISTANCE, part * ratio.over, ratio.under);
    size_t voltage = give_voltage(builder, 6 * (1 + pick(builder, 20)));
    size_t number = find_two(builder, "n", "fewest parts", EXACT_COUNT, STEP_FEWEST_PARTS, wanted, one);
    ask(builder, number, "fewest parts needed");
    size_t current =
        find_two(builder, "I", "all together", EXACT_CURRENT, STEP_CURRENT_FROM_RESISTANCE, voltage, wanted);
    ask(builder, current, "total current at that voltage");
    size_t power = find_two(builder, "P", "all together", EXACT_POWER, STEP_POWER_FROM_CURRENT, voltage, current);
    other_way(builder, power, STEP_POWER_FROM_RESISTANCE, (size_t[]){voltage, wanted}, 2);
    ask(builder, power, "power of all together");
}

const struct kind_row kind_rows[LESSON_KIND_COUNT] = {
    [LESSON_UNEQUAL] = {"unequal", "unequal resistors in parallel",
                        "The resistors are connected in parallel across the supply.", NULL, build_unequal},
    [LESSON_EQUAL] = {"equal", "equal resistors in parallel",
                      "Equal resistors are connected in parallel across the supply.", NULL, build_equal},
    [LESSON_FIND_ONE] = {"find-one", "one resistor of a parallel set from the total",
                         "Resistors are connected in parallel. Find the one whose marking cannot be read.", NULL,
                         build_find_one},
    [LESSON_DIVIDE] = {"divide", "a current that divides over parallel resistors",
                       "A current divides over the resistors, which are connected in parallel.", NULL, build_divide},
    [LESSON_TABLE] = {"table", "resistance, voltage, current and power of each load and the total",
                      "The loads are connected in parallel. Complete the table of resistance, voltage, current and "
                      "power.",
                      NULL, build_table},
    [LESSON_CHANGE] = {"change", "a load is added or removed: what changes, and what does not",
                       "The resistors are connected in parallel; at first all but the last one are on. Then the last "
                       "one is switched on "
                       "too.",
                       "The resistors are connected in parallel, all on. Then the last one is switched off.",
                       build_change},
    [LESSON_OPEN] = {"open", "one path is opened by a fault",
                     "The resistors are connected in parallel. Then a fault opens the path of the last one.", NULL,
                     build_open},
    [LESSON_TRIP] = {"trip", "is the total current above the breaker's rating?", "These loads are on at the same time.",
                     NULL, build_trip},
    [LESSON_TWO_WAYS] = {"two-ways", "two ways to the total current that must agree",
                         "The resistors are connected in parallel. Find the total current in two ways.", NULL,
                         build_two_ways},
    [LESSON_ENERGY] = {"energy", "energy and cost of a day", "Each load is on for the time given in a day.", NULL,
                       build_energy},
    [LESSON_WIRE] = {"wire", "a wire in series with parallel loads, and how lamps dim",
                     "The loads are connected in parallel at the end of a long wire, which has a resistance of its "
                     "own.",
                     NULL, build_wire},
    [LESSON_NEUTRAL] =
        {"neutral", "the neutral of a split-phase circuit",
         "The first load is connected from leg A to the neutral, the second from leg B to the neutral.",
         "The first two loads are connected from leg A to the neutral, the next two from leg B to the neutral.",
         build_neutral},
    [LESSON_POWER_FACTOR] = {"power-factor", "loads with reactive power, and the power factor of the whole",
                             "The machines are connected in parallel. P is power, Q reactive power (lagging).", NULL,
                             build_power_factor},
    [LESSON_STOCK] = {"stock", "a wanted resistance from parts alike",
                      "The shelf holds many parts alike. Make the wanted resistance from as few as you can, in series, "
                      "in parallel or both.",
                      NULL, build_stock},
};
