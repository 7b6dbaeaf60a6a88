/*
 * Kinds on the loop of an earth fault: contract, fault.md section 3. Resistances of conductors, the sizes that go
 * together, the factors and the multiples at which devices open come from the rows of the reference tables; length,
 * device and the loop outside are chosen.
 */
#include "ampsum/reference_fault.h"
#include "kinds.h"

/* The rows that the exercises take: those of the set that has flat cables with a protective conductor of their own. */
static const char *rows_of(void)
{
    size_t i = 0;
    while (i + 1 < ref_rule_set_count && ref_rule_set_rows[i].cable_table == NULL) {
        i++;
    }
    return ref_rule_set_rows[i].id;
}

/* Cables and devices that go together; `device` as the sheet calls it. */
static const struct circuit_row {
    const char *trip;
    unsigned rating_a;
    const char *device;
    const char *size;
    const char *line;
    const char *protective;
} circuits[] = {
    {"B", 32, "subject.type-b-device", "2.5 mm2", "subject.line-of-2-5-mm2", "subject.protective-conductor-of-1-5-mm2"},
    {"B", 32, "subject.type-b-device", "4 mm2", "subject.line-of-4-mm2", "subject.protective-conductor-of-1-5-mm2"},
    {"B", 16, "subject.type-b-device", "1.5 mm2", "subject.line-of-1-5-mm2", "subject.protective-conductor-of-1-mm2"},
    {"B", 20, "subject.type-b-device", "2.5 mm2", "subject.line-of-2-5-mm2", "subject.protective-conductor-of-1-5-mm2"},
    {"B", 40, "subject.type-b-device", "6 mm2", "subject.line-of-6-mm2", "subject.protective-conductor-of-2-5-mm2"},
    {"C", 16, "subject.type-c-device", "2.5 mm2", "subject.line-of-2-5-mm2", "subject.protective-conductor-of-1-5-mm2"},
    {"C", 20, "subject.type-c-device", "4 mm2", "subject.line-of-4-mm2", "subject.protective-conductor-of-1-5-mm2"},
    {"C", 10, "subject.type-c-device", "1.5 mm2", "subject.line-of-1-5-mm2", "subject.protective-conductor-of-1-mm2"},
};
enum { TYPE_B = 5, CIRCUITS = sizeof circuits / sizeof circuits[0] };

/* What a question of this room begins with; indices of quantities. */
struct loop {
    const struct circuit_row *circuit;
    size_t external;
    size_t per_length[2]; /* of the line and the protective conductor, cold */
    size_t hot;
    size_t cmin;
    size_t voltage;
    size_t rating;
    size_t multiple;
};

/* A row's figure, which has few digits, as a fraction. */
static size_t give_figure(struct builder *builder, const char *symbol, const char *subject, enum exact_quantity measure,
                          double figure)
{
    struct text digits = {0};
    mpq_t value;
    mpq_init(value);
    text_add_number(&digits, figure);
    exact_set_decimal(value, text_string(&digits));
    const size_t index = give_value(builder, symbol, subject, measure, value);
    mpq_clear(value);
    text_done(&digits);
    return index;
}

static size_t give_conductor(struct builder *builder, const char *symbol, const char *subject,
                             const struct ref_conductor *conductor)
{
    const double cold_c = reference_rule_value("fault-cold-temperature", rows_of());
    return give_figure(builder, symbol, subject, EXACT_PER_LENGTH, reference_resistance_ohm_per_km(conductor, cold_c));
}

static struct loop give_loop(struct builder *builder)
{
    static const char *const metal = "copper";
    const unsigned kinds = builder->question->level < 3 ? TYPE_B : CIRCUITS;
    const struct circuit_row *circuit = &circuits[pick(builder, kinds)];
    const struct ref_protective_conductor *with =
        reference_protective_conductor(rows_of(), circuit->size, metal, circuit->rating_a);
    struct loop loop = {.circuit = circuit};
    builder->question->published = true;
    builder->question->drawing = DRAW_LOOP;
    builder->question->mains = true;
    loop.external = give(builder, "Ze", "subject.outside-the-house", EXACT_RESISTANCE, 12 + pick(builder, 24), 100);
    loop.per_length[0] = give_conductor(builder, "r1", circuit->line, reference_conductor(circuit->size, metal));
    loop.per_length[1] = give_conductor(builder, "r2", circuit->protective, reference_conductor(with->size, metal));
    loop.hot = give_figure(builder, "ct", "subject.hot-over-cold", EXACT_RATIO,
                           reference_rule_value("fault-hot-70", rows_of()));
    loop.cmin =
        give_figure(builder, "more.cmin", "", EXACT_RATIO, reference_rule_value("fault-voltage-least", rows_of()));
    loop.voltage = give(builder, "U0", "", EXACT_VOLTAGE, builder->plan->voltage_v, 1);
    return loop;
}

/* The device, and the largest loop at which it opens at once. */
static size_t give_device(struct builder *builder, struct loop *loop)
{
    const double multiple = reference_instantaneous(rows_of(), loop->circuit->trip)->upper_multiple;
    loop->rating = give(builder, "In", loop->circuit->device, EXACT_CURRENT, loop->circuit->rating_a, 1);
    loop->multiple =
        give_figure(builder, "k", "subject.it-opens-at-once-from-k-times-its-rating", EXACT_COUNT, multiple);
    const size_t opening =
        find_two(builder, "Ia", "subject.device", EXACT_CURRENT, STEP_OPENING_CURRENT, loop->multiple, loop->rating);
    ask(builder, opening, "asked.current-ia-from-which-the-device-opens-at-once");
    const size_t largest = find(builder, "Zs most", "subject.device", EXACT_RESISTANCE, STEP_LARGEST_LOOP,
                                (size_t[]){loop->cmin, loop->voltage, opening}, 3);
    ask(builder, largest, "asked.largest-loop-impedance-at-which-it-does");
    return largest;
}

/* Nobody learns from a figure that meets its limit to the hair: a twentieth apart at least. */
static bool stand_apart(const struct lesson_question *question, size_t one, size_t other)
{
    mpq_t ratio;
    mpq_init(ratio);
    mpq_srcptr limit = question->quantities[other].value;
    bool apart = mpq_sgn(limit) > 0;
    if (apart) {
        mpq_div(ratio, question->quantities[one].value, limit);
        apart = mpq_cmp_ui(ratio, 19, 20) < 0 || mpq_cmp_ui(ratio, 21, 20) > 0;
    }
    mpq_clear(ratio);
    return apart;
}

/* Levels: the loop and its current; does the device open; how far a cold reading may go; the touch voltage. */
void build_loop_impedance(struct builder *builder)
{
    const unsigned level = builder->question->level;
    struct loop loop = give_loop(builder);
    const size_t length = give(builder, "L", "subject.cable", EXACT_LENGTH, 8 + pick(builder, level < 2 ? 33 : 73), 1);
    const size_t line =
        find_two(builder, "R1", "subject.line", EXACT_RESISTANCE, STEP_CONDUCTOR, loop.per_length[0], length);
    const size_t protective = find_two(builder, "R2", "subject.protective-conductor", EXACT_RESISTANCE, STEP_CONDUCTOR,
                                       loop.per_length[1], length);
    const size_t cold =
        find_two(builder, "R", "subject.cable-cold", EXACT_RESISTANCE, STEP_LOOP_CONDUCTORS, line, protective);
    ask(builder, cold, "asked.resistance-of-line-and-protective-conductor");
    const size_t hot = find_two(builder, "R hot", "subject.cable-hot", EXACT_RESISTANCE, STEP_HOT, loop.hot, cold);
    const size_t whole = find_two(builder, "Zs", "subject.loop", EXACT_RESISTANCE, STEP_LOOP, loop.external, hot);
    ask(builder, whole, "asked.loop-impedance-zs-hot");
    const size_t current = find(builder, "I", "subject.fault", EXACT_CURRENT, STEP_FAULT_CURRENT,
                                (size_t[]){loop.cmin, loop.voltage, whole}, 3);
    ask(builder, current, "asked.fault-current");
    if (level >= 2) {
        const size_t largest = give_device(builder, &loop);
        ask(builder, find_two(builder, "more.opens", "subject.device", EXACT_YES_NO, STEP_OPENS, whole, largest),
            "asked.does-the-device-open-at-once-yes-or-no");
        builder->ok = builder->ok && stand_apart(builder->question, whole, largest);
        if (level >= 3) {
            const size_t share =
                give_figure(builder, "symbol.share", "subject.of-the-largest-loop-for-a-cold-reading", EXACT_RATIO,
                            reference_rule_value("fault-measured-share", rows_of()) / 100);
            ask(builder,
                find_two(builder, "more.reading", "subject.cold", EXACT_RESISTANCE, STEP_COLD_LIMIT, share, largest),
                "asked.largest-reading-on-cold-conductors");
        }
    }
    if (level >= 4) {
        const size_t warm = find_two(builder, "R2 hot", "subject.protective-conductor-hot", EXACT_RESISTANCE, STEP_HOT,
                                     loop.hot, protective);
        ask(builder, find_two(builder, "V touch", "subject.metal", EXACT_VOLTAGE, STEP_TOUCH_VOLTAGE, current, warm),
            "asked.voltage-along-the-protective-conductor-meanwhile");
    }
}

/* The whole metres must not hang on how someone rounds on the way. */
static bool is_clear_cut(const struct lesson_question *question, size_t left, size_t per_length)
{
    mpq_t metres;
    mpq_t share;
    mpz_t whole;
    mpq_inits(metres, share, NULL);
    mpz_init(whole);
    mpq_div(metres, question->quantities[left].value, question->quantities[per_length].value);
    mpz_mul_ui(mpq_numref(metres), mpq_numref(metres), 1000);
    mpq_canonicalize(metres);
    mpz_fdiv_q(whole, mpq_numref(metres), mpq_denref(metres));
    mpq_set_z(share, whole);
    mpq_sub(share, metres, share);
    const bool clear = mpq_cmp_ui(share, 1, 4) >= 0 && mpq_cmp_ui(share, 3, 4) <= 0;
    mpq_clears(metres, share, NULL);
    mpz_clear(whole);
    return clear;
}

/* Levels 2 and 4: the same cable as a ring; 3 and 4: devices of type C too. */
void build_longest_run(struct builder *builder)
{
    const unsigned level = builder->question->level;
    struct loop loop = give_loop(builder);
    const size_t largest = give_device(builder, &loop);
    const size_t left =
        find_two(builder, "R left", "subject.cable-hot", EXACT_RESISTANCE, STEP_LOOP_LEFT, largest, loop.external);
    ask(builder, left, "asked.what-is-left-of-it-for-the-cable");
    const size_t both = find(builder, "r hot", "subject.both-conductors", EXACT_PER_LENGTH, STEP_PAIR_PER_LENGTH,
                             (size_t[]){loop.hot, loop.per_length[0], loop.per_length[1]}, 3);
    const size_t run = find_two(builder, "L", "subject.cable", EXACT_LENGTH, STEP_LONGEST_RUN, left, both);
    ask(builder, run, "asked.how-many-whole-metres-of-cable-at-most");
    if (level % 2 == 0) {
        ask(builder, find(builder, "L ring", "subject.ring", EXACT_LENGTH, STEP_RING_RUN, &run, 1),
            "asked.the-same-for-a-ring-of-this-cable-all-its-length");
    }
    builder->ok = builder->ok && is_clear_cut(builder->question, left, both);
}
