/* The kinds of questions on loads with a name and a power: the house's own, or made up. */
#include "ampsum/written.h"
#include "kinds.h"

/* Loads of our own invention, each with the powers that one would believe. */
static const struct {
    const char *name;
    unsigned long least_w;
    unsigned long most_w;
} loads_without_house[] = {
    {"subject.heater", 400, 2500}, {"subject.kettle", 700, 3000},      {"subject.toaster", 500, 1500},
    {"subject.iron", 500, 2500},   {"subject.hair-dryer", 500, 2300},  {"subject.hotplate", 400, 2500},
    {"subject.lamp", 20, 250},     {"subject.rice-cooker", 300, 1300},
};

/* Loads with a name and a rated power. */
struct named_load {
    const char *name;
    unsigned long power_w;
    unsigned minutes_day; /* 0: not known */
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
        loads[i] = (struct named_load){branch->loads[at].name, branch->loads[at].power_w, 0};
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

/* A branch with at least so many loads; SIZE_MAX where there is none. */
static size_t choose_branch(struct builder *builder, size_t count)
{
    const struct lesson_plan *plan = builder->plan;
    size_t fit = 0;
    for (size_t i = 0; i < plan->branch_count; i++) {
        fit += plan->branches[i].load_count >= count;
    }
    size_t left = fit == 0 ? 0 : pick(builder, (unsigned)fit);
    for (size_t i = 0; i < plan->branch_count && fit > 0; i++) {
        if (plan->branches[i].load_count >= count && left-- == 0) {
            return i;
        }
    }
    return SIZE_MAX;
}

/* The load at `at` of the house, all branches one behind the other. */
static const struct lesson_load *load_at(const struct lesson_plan *plan, size_t at)
{
    size_t branch = 0;
    while (at >= plan->branches[branch].load_count) {
        at -= plan->branches[branch++].load_count;
    }
    return &plan->branches[branch].loads[at];
}

static size_t count_house_loads(const struct lesson_plan *plan)
{
    size_t count = 0;
    for (size_t i = 0; i < plan->branch_count; i++) {
        count += plan->branches[i].load_count;
    }
    return count;
}

static void take_load(struct named_load *load, const struct lesson_load *own)
{
    *load = (struct named_load){own->name, own->power_w, own->minutes_day};
}

/* All loads of a branch, and made-up ones beside them: where a question needs a breaker and one branch alone will not
 * do. */
static bool choose_with_guests(struct builder *builder, size_t count, struct named_load *loads, unsigned *breaker_a)
{
    const struct lesson_plan *plan = builder->plan;
    const struct lesson_branch *branch = &plan->branches[pick(builder, (unsigned)plan->branch_count)];
    if (branch->load_count >= count) {
        return false;
    }
    const unsigned names = sizeof loads_without_house / sizeof loads_without_house[0];
    const unsigned start = pick(builder, names);
    for (size_t i = 0; i < count; i++) {
        const unsigned name = (start + (unsigned)i) % names;
        if (i < branch->load_count) {
            take_load(&loads[i], &branch->loads[i]);
        } else {
            loads[i] = (struct named_load){loads_without_house[name].name, choose_power_w(builder, name), 0};
        }
    }
    *breaker_a = branch->breaker_a;
    builder->question->branch = branch->label;
    builder->question->brought = count - branch->load_count;
    builder->question->own = true;
    return true;
}

/*
 * Loads of one branch of the house; where none has so many and the question needs no breaker, of the whole house. Their
 * numbers are taken as they are.
 */
static bool choose_own_loads(struct builder *builder, size_t count, struct named_load *loads, unsigned *breaker_a,
                             bool one_branch)
{
    enum { ALONE_ATTEMPTS = 100 };
    const struct lesson_plan *plan = builder->plan;
    const bool mixed = builder->attempt >= ALONE_ATTEMPTS; /* one branch alone gives nothing to ask for */
    const size_t branch = mixed ? SIZE_MAX : choose_branch(builder, count);
    const size_t all = branch == SIZE_MAX ? count_house_loads(plan) : plan->branches[branch].load_count;
    if (one_branch && branch == SIZE_MAX) {
        return choose_with_guests(builder, count, loads, breaker_a);
    }
    if (all < count) {
        return false;
    }
    const size_t start = pick(builder, (unsigned)all);
    const size_t skip = pick(builder, (unsigned)(all - count) + 1);
    for (size_t i = 0; i < count; i++) {
        const size_t at = (start + i + (i > 0 ? skip : 0)) % all;
        take_load(&loads[i], branch == SIZE_MAX ? load_at(plan, at) : &plan->branches[branch].loads[at]);
    }
    *breaker_a = branch == SIZE_MAX ? 0 : plan->branches[branch].breaker_a;
    builder->question->branch = branch == SIZE_MAX ? NULL : plan->branches[branch].label;
    builder->question->own = true;
    return true;
}

bool choose_own_load(struct builder *builder, const char **ret_name, unsigned long *ret_power_w,
                     unsigned *ret_breaker_a)
{
    enum { OWN_ATTEMPTS = 400 };
    const size_t branch = choose_branch(builder, 1);
    if (!builder->wants_own || builder->attempt >= OWN_ATTEMPTS || branch == SIZE_MAX) {
        return false;
    }
    const struct lesson_branch *row = &builder->plan->branches[branch];
    const struct lesson_load *load = &row->loads[pick(builder, (unsigned)row->load_count)];
    *ret_name = load->name;
    *ret_power_w = load->power_w;
    *ret_breaker_a = row->breaker_a;
    builder->question->branch = row->label;
    builder->question->own = true;
    return true;
}

/* From the house while that gives presentable numbers, else powers whose currents are short. */
static void choose_loads(struct builder *builder, size_t count, struct named_load *loads, unsigned *breaker_a,
                         bool one_branch)
{
    enum { OWN_ATTEMPTS = 400, HOUSE_ATTEMPTS = 24 };
    builder->question->mains = true;
    const bool wants_own = builder->wants_own && builder->attempt < OWN_ATTEMPTS && builder->plan->branch_count > 0;
    if (wants_own && choose_own_loads(builder, count, loads, breaker_a, one_branch)) {
        return;
    }
    builder->ok = builder->ok && !wants_own; /* try again for the house's, before any are made up */
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
        loads[i] = (struct named_load){loads_without_house[name].name, choose_power_w(builder, name), 0};
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

void build_table(struct builder *builder)
{
    unsigned level = builder->question->level;
    size_t count = level + 1;
    struct named_load loads[LOADS_MOST];
    unsigned breaker_a;
    size_t power[LOADS_MOST];
    size_t resistor[LOADS_MOST];
    size_t current[LOADS_MOST];
    choose_loads(builder, count, loads, &breaker_a, false);
    size_t voltage = give_voltage(builder, builder->plan->voltage_v);
    element(builder, 0, ELEMENT_SOURCE, 1, 0, voltage);
    for (size_t i = 0; i < count; i++) {
        size_t row[3];
        find_row(builder, voltage, i, loads[i].name, loads[i].power_w,
                 level < 3 || builder->question->own ? 0 : (unsigned)i % 3, row);
        power[i] = row[0];
        resistor[i] = row[1];
        current[i] = row[2];
    }
    size_t total_w = find(builder, "P", "subject.all-together", EXACT_POWER, STEP_POWER_SUM, power, count);
    size_t total_a = find(builder, "I", "subject.all-together", EXACT_CURRENT, STEP_CURRENT_SUM, current, count);
    other_way(builder, total_a, STEP_CURRENT_FROM_POWER, (size_t[]){total_w, voltage}, 2);
    size_t together = find_two(builder, "R", "subject.all-together", EXACT_RESISTANCE, STEP_RESISTANCE_FROM_CURRENT,
                               voltage, total_a);
    other_way(builder, together, STEP_RESISTANCE_PARALLEL, resistor, count);
    probe(builder, total_w, PROBE_SOURCE_POWER, 0, 0);
    probe(builder, total_a, PROBE_SOURCE_CURRENT, 0, 0);
    probe(builder, together, PROBE_SEEN, 0, 0);
    ask(builder, total_w, "asked.power-of-all-together");
    ask(builder, total_a, "asked.total-current");
    ask(builder, together, "asked.resistance-of-all-together");
    builder->question->drawing = DRAW_PARALLEL;
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

void build_trip(struct builder *builder)
{
    size_t count = builder->question->level + 1;
    struct named_load loads[LOADS_MOST];
    unsigned breaker_a;
    size_t power[LOADS_MOST];
    size_t current[LOADS_MOST];
    choose_loads(builder, count, loads, &breaker_a, true);
    size_t voltage = give_voltage(builder, builder->plan->voltage_v);
    element(builder, 0, ELEMENT_SOURCE, 1, 0, voltage);
    size_t breaker = give(builder, "subject.breaker", "", EXACT_CURRENT, breaker_a, 1);
    find_load_currents(builder, loads, count, voltage, power, current);
    size_t total = find(builder, "I", "subject.all-together", EXACT_CURRENT, STEP_CURRENT_SUM, current, count);
    probe(builder, total, PROBE_SOURCE_CURRENT, 0, 0);
    ask(builder, total, "asked.total-current");
    size_t over = find_two(builder, "over", "subject.breaker", EXACT_YES_NO, STEP_IS_OVER, total, breaker);
    ask(builder, over, "asked.is-that-more-than-the-breaker-s-rating-yes-or-no");
    /* Nobody learns from a current far off the rating, nor from one that meets it to the hair. */
    mpq_srcptr value = builder->question->quantities[total].value;
    bool near = mpq_cmp_ui(value, breaker_a, 2) > 0 && mpq_cmp_ui(value, 2 * breaker_a, 1) < 0;
    builder->ok = builder->ok && near && mpq_cmp_ui(value, breaker_a, 1) != 0;
    builder->question->drawing = DRAW_PARALLEL;
}

void build_energy(struct builder *builder)
{
    static const char *const energy_names[LOADS_MOST] = {"E1", "E2", "E3", "E4", "E5", "E6"};
    static const char *const energy_of[LOADS_MOST] = {"asked.energy-1-in-a-day E1", "asked.energy-1-in-a-day E2",
                                                      "asked.energy-1-in-a-day E3", "asked.energy-1-in-a-day E4",
                                                      "asked.energy-1-in-a-day E5", "asked.energy-1-in-a-day E6"};
    static const char *const time_names[LOADS_MOST] = {"t1", "t2", "t3", "t4", "t5", "t6"};
    enum { PRICE_ATTEMPTS = 12 }; /* before the house's loads are given up */
    size_t count = builder->question->level;
    struct named_load loads[LOADS_MOST];
    unsigned breaker_a;
    size_t energy[LOADS_MOST];
    choose_loads(builder, count, loads, &breaker_a, false);
    mpq_t price_value;
    mpq_init(price_value);
    const bool other_price = builder->attempt >= PRICE_ATTEMPTS && !builder->question->own;
    if (other_price || !exact_read(price_value, builder->plan->price)) {
        mpq_set_ui(price_value, 1, 5);
    }
    size_t price = give_value(builder, "symbol.price", "", EXACT_PRICE, price_value);
    mpq_clear(price_value);
    for (size_t i = 0; i < count; i++) {
        size_t power = give(builder, power_names[i], loads[i].name, EXACT_POWER, loads[i].power_w, 1);
        const unsigned half_hours = 1 + pick(builder, 12);
        const bool known = loads[i].minutes_day > 0 && loads[i].minutes_day % 3 == 0; /* a twentieth of an hour */
        size_t time = known ? give(builder, time_names[i], loads[i].name, EXACT_TIME, loads[i].minutes_day, 60)
                            : give(builder, time_names[i], loads[i].name, EXACT_TIME, half_hours, 2);
        energy[i] = find_two(builder, energy_names[i], loads[i].name, EXACT_ENERGY, STEP_ENERGY, power, time);
        ask(builder, energy[i], energy_of[i]);
    }
    size_t total = energy[0];
    if (count > 1) {
        total = find(builder, "E", "subject.all-together", EXACT_ENERGY, STEP_ENERGY_SUM, energy, count);
        ask(builder, total, "asked.energy-of-all-in-a-day");
    }
    size_t cost = find_two(builder, "more.cost", "subject.all-together", EXACT_MONEY, STEP_COST, total, price);
    ask(builder, cost, "asked.cost-of-a-day");
    builder->question->drawing = DRAW_USE;
    /* Whole hundredths of money. */
    builder->ok = builder->ok && (builder->question->own ||
                                  100 % mpz_get_ui(mpq_denref(builder->question->quantities[cost].value)) == 0);
}

void build_neutral(struct builder *builder)
{
    static const char *const leg_currents[] = {"I A", "I B"};
    static const char *const legs[] = {"figure.leg-a", "figure.leg-b"};
    static const char *const asked[] = {"asked.current-on-leg-a", "asked.current-on-leg-b"};
    unsigned level = builder->question->level;
    size_t on_leg = level % 2 == 0 ? 2 : 1;
    struct named_load loads[LOADS_MOST];
    unsigned breaker_a;
    size_t power[LOADS_MOST];
    size_t leg[2] = {0};
    choose_loads(builder, 2 * on_leg, loads, &breaker_a, false);
    size_t voltage = give(builder, "V", "subject.each-leg-to-neutral", EXACT_VOLTAGE, builder->plan->voltage_v, 1);
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
            total = find(builder, side == 0 ? "P A" : "P B", legs[side], EXACT_POWER, STEP_POWER_OF_LEG,
                         power + side * on_leg, on_leg);
        }
        leg[side] =
            find_two(builder, leg_currents[side], legs[side], EXACT_CURRENT, STEP_CURRENT_FROM_POWER, total, voltage);
        probe(builder, leg[side], PROBE_SOURCE_CURRENT, 0, side);
        ask(builder, leg[side], asked[side]);
    }
    size_t neutral = find_two(builder, "I N", "figure.neutral", EXACT_CURRENT, STEP_NEUTRAL, leg[0], leg[1]);
    probe(builder, neutral, PROBE_CURRENT, 0, neutral_wire);
    ask(builder, neutral, "asked.current-in-the-neutral");
    builder->question->branch = NULL; /* the loads are the house's, the two legs are ours */
    builder->question->drawing = DRAW_SPLIT;
}

/* The totals follow from a right-angled triangle of whole numbers, so that nothing needs rounding. */
void build_power_factor(struct builder *builder)
{
    static const unsigned triples[][3] = {{3, 4, 5}, {4, 3, 5}, {8, 6, 10}, {24, 7, 25}, {24, 18, 30}, {12, 9, 15}};
    static const char *const machines[] = {"subject.motor", "subject.pump", "subject.fan", "subject.compressor"};
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
        total_w = find(builder, "P", "subject.all-together", EXACT_POWER, STEP_POWER_SUM, active, count);
        total_var = find(builder, "Q", "subject.all-together", EXACT_REACTIVE, STEP_REACTIVE_SUM, reactive, count);
        ask(builder, total_w, "asked.power-of-all-together");
        ask(builder, total_var, "asked.reactive-power-of-all-together");
    }
    size_t apparent =
        find_two(builder, "S", "subject.all-together", EXACT_APPARENT, STEP_APPARENT_FROM_POWERS, total_w, total_var);
    size_t factor = find_two(builder, "pf", "subject.all-together", EXACT_RATIO, STEP_POWER_FACTOR, total_w, apparent);
    size_t current =
        find_two(builder, "I", "subject.all-together", EXACT_CURRENT, STEP_CURRENT_FROM_APPARENT, apparent, voltage);
    ask(builder, apparent, "asked.apparent-power-of-all-together");
    ask(builder, factor, "asked.power-factor");
    ask(builder, current, "asked.total-current");
    builder->ok = builder->ok && mpq_cmp_ui(builder->question->quantities[current].value, 32, 1) <= 0;
    builder->question->drawing = DRAW_MACHINES;
    builder->question->mains = true;
}

/* The sum of some currents, asked for; of one alone that one. */
static size_t sum_of(struct builder *builder, const char *symbol, const char *subject, const size_t *current,
                     size_t count, const char *asked)
{
    if (count == 1) {
        return current[0];
    }
    const size_t sum = find(builder, symbol, subject, EXACT_CURRENT, STEP_CURRENT_OF_SOME, current, count);
    ask(builder, sum, asked);
    return sum;
}

/* us: what may be on for long counts at 125 %. One load of it at levels 1 and 3, two at 2 and 4. */
void build_continuous(struct builder *builder)
{
    const unsigned level = builder->question->level;
    const size_t count = level < 2 ? 2 : level < 4 ? 3 : 4;
    const size_t of_long = level % 2 == 0 ? 2 : 1;
    struct named_load loads[LOADS_MOST];
    unsigned breaker_a;
    size_t power[LOADS_MOST];
    size_t current[LOADS_MOST];
    choose_loads(builder, count, loads, &breaker_a, true);
    const size_t voltage = give_voltage(builder, builder->plan->voltage_v);
    element(builder, 0, ELEMENT_SOURCE, 1, 0, voltage);
    const size_t breaker = give(builder, "subject.breaker", "", EXACT_CURRENT, breaker_a, 1);
    builder->question->published = true; /* a factor above 1 */
    const size_t factor = give(builder, "more.factor", "more.for-what-is-on-for-long", EXACT_RATIO,
                               builder->plan->continuous_percent, 100);
    builder->question->published = false;
    find_load_currents(builder, loads, count, voltage, power, current);
    const size_t on_long =
        sum_of(builder, "I long", "more.on-for-long", current, of_long, "more.current-of-what-may-be-on-for-long");
    const size_t rest =
        sum_of(builder, "I rest", "more.the-rest", current + of_long, count - of_long, "more.current-of-the-rest");
    const size_t planned = find(builder, "planning", "subject.all-together", EXACT_CURRENT, STEP_PLANNED,
                                (size_t[]){factor, on_long, rest}, 3);
    ask(builder, planned, "more.planning-current-of-all-together");
    const size_t over = find_two(builder, "over", "subject.breaker", EXACT_YES_NO, STEP_IS_OVER, planned, breaker);
    ask(builder, over, "asked.is-that-more-than-the-breaker-s-rating-yes-or-no");
    mpq_srcptr value = builder->question->quantities[planned].value;
    const bool near = mpq_cmp_ui(value, breaker_a, 2) > 0 && mpq_cmp_ui(value, 2 * breaker_a, 1) < 0;
    builder->ok = builder->ok && near && mpq_cmp_ui(value, breaker_a, 1) != 0;
    builder->question->drawing = DRAW_PARALLEL;
}

/* Differences x, y of the phase currents at which x² + y² + x y is a square. */
void build_three_neutral(struct builder *builder)
{
    static const unsigned long steps[][2] = {{3, 5}, {5, 3}, {7, 8}, {8, 7}, {5, 16}, {16, 5}, {6, 10}, {10, 6}};
    static const char *const phase_names[] = {"I L1", "I L2", "I L3"};
    static const char *const asked[] = {"asked.current-on-1 L1", "asked.current-on-1 L2", "asked.current-on-1 L3"};
    const unsigned level = builder->question->level;
    const unsigned long voltage_v = builder->plan->voltage_v;
    const unsigned long *step = steps[pick(builder, sizeof steps / sizeof steps[0])];
    const unsigned long least_tenths = 5 * (1 + pick(builder, 30));
    const unsigned long unit_tenths = level < 3 ? 5 : 1 + pick(builder, 5);
    const unsigned long tenths[] = {least_tenths, least_tenths + unit_tenths * step[0],
                                    least_tenths + unit_tenths * (step[0] + step[1])};
    const size_t first = pick(builder, 3);
    size_t current[3];
    size_t power[3];
    const size_t voltage = give(builder, "V", "more.each-phase-to-neutral", EXACT_VOLTAGE, voltage_v, 1);
    const size_t equal =
        give(builder, "P", "more.each-of-the-equal-loads", EXACT_POWER, voltage_v * (4 + pick(builder, 40)), 4);
    for (size_t i = 0; i < 3; i++) {
        power[i] = give(builder, power_names[i], "", EXACT_POWER, voltage_v * tenths[(i + first) % 3], 10);
    }
    const size_t each = find_two(builder, "I", "subject.each", EXACT_CURRENT, STEP_CURRENT_FROM_POWER, equal, voltage);
    ask(builder, each, "asked.current-on-each-phase-with-the-equal-loads");
    const size_t none = find(builder, "I N equal", "more.neutral-equal-loads", EXACT_CURRENT, STEP_NEUTRAL_3,
                             (size_t[]){each, each, each}, 3);
    ask(builder, none, "asked.current-in-the-neutral-with-them");
    for (size_t i = 0; i < 3; i++) {
        current[i] = find_two(builder, phase_names[i], phase_names[i] + 2, EXACT_CURRENT, STEP_CURRENT_FROM_POWER,
                              power[i], voltage);
        ask(builder, current[i], asked[i]);
    }
    const size_t neutral =
        find(builder, "I N", "more.neutral-unequal-loads", EXACT_CURRENT, STEP_NEUTRAL_3, current, 3);
    ask(builder, neutral, "asked.current-in-the-neutral-with-the-unequal-loads");
    builder->question->drawing = DRAW_STAR;
}
