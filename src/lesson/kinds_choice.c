/*
 * Kinds in which one chooses: the right reason (drawn side by side, or with a wire in front), the figure that cannot be
 * (the same), the faulty part (R1 in front of a group).
 */
#include "fault.h"
#include "kinds.h"

/* ------------------------------------------------------------------ why ----------------------------------- */

enum { REASONS = 4, CASES = 2 };

/* A thing that happens, and four reasons, of which the first is right. At levels 3 and 4 there is a wire in front. */
static const struct why_case {
    const char *opening;
    const char *reasons[REASONS];
} why_cases[LESSON_LEVEL_MOST][CASES] = {
    {{"opening.the-resistors-are-connected-in-parallel-when-one",
      {"choice.each-path-more-lets-more-current-through-at-the",
       "choice.the-voltage-of-the-source-rises-with-each-path",
       "choice.the-same-current-is-shared-by-more-resistors-so",
       "choice.a-longer-row-of-resistors-has-less-resistance"}},
     {"opening.the-resistors-are-the-wires-of-lamps-that-are",
      {"choice.each-lamp-has-the-full-voltage-across-itself",
       "choice.the-current-of-the-burnt-lamp-goes-on-through-the", "choice.the-source-gives-the-same-current-as-before",
       "choice.the-burnt-lamp-still-lets-its-current-through"}}},
    {{"opening.the-resistors-are-connected-in-parallel-the-2",
      {"choice.all-have-the-same-voltage-so-the-largest-current",
       "choice.all-have-the-same-current-so-the-largest-voltage", "choice.the-current-takes-the-shortest-way-alone",
       "choice.it-is-nearest-to-the-source"}},
     {"opening.the-resistors-are-connected-in-parallel-behind",
      {"choice.the-currents-of-all-paths-add-up-in-the-breaker", "choice.the-voltages-of-all-paths-add-up-across-the",
       "choice.the-resistance-of-all-together-is-above-each-of",
       "choice.the-breaker-counts-the-largest-current-only"}}},
    {{"opening.the-loads-are-connected-in-parallel-at-the-end-of-2",
      {"choice.the-current-of-all-the-loads-flows-through-the", "choice.the-full-voltage-of-the-source-lies-across-the",
       "choice.only-the-current-that-the-loads-do-not-need-flows",
       "choice.the-current-is-used-up-in-the-wire-before-it"}},
     {"opening.the-loads-are-connected-in-parallel-at-the-end-of-3",
      {"choice.the-larger-total-current-loses-more-voltage-in",
       "choice.the-source-shares-its-voltage-out-among-the-loads",
       "choice.the-new-load-takes-its-current-from-the-others", "choice.the-resistance-of-the-other-loads-rises"}}},
    {{"opening.the-loads-are-connected-in-parallel-at-the-end-of-4",
      {"choice.with-the-current-the-voltage-along-the-wire", "choice.the-resistance-of-the-wire-doubles-with-the",
       "choice.the-voltage-of-the-source-doubles-with-the", "choice.the-power-of-a-resistance-is-the-square-root-of"}},
     {"opening.the-loads-are-connected-in-parallel-at-the-end-of-5",
      {"choice.its-resistance-is-half-as-much-so-at-the-same", "choice.its-resistance-is-twice-as-much-so-less-current",
       "choice.half-of-the-current-flows-outside-the-wire", "choice.the-voltage-of-the-source-falls-with-a-thicker"}}},
};

/* Asks for the letter of the choice at `place`, 0 upwards; the question's reason says why. */
static void ask_choice(struct builder *builder, size_t place, const char *asked)
{
    mpq_t value;
    mpq_init(value);
    mpq_set_ui(value, (unsigned long)place + 1, 1);
    const size_t hidden = hide(builder, "subject.place", "", EXACT_CHOICE, value);
    ask(builder, find(builder, "subject.letter", "symbol.choice", EXACT_CHOICE, STEP_REASON, &hidden, 1), asked);
    mpq_clear(value);
}

void build_why(struct builder *builder)
{
    const struct why_case *row = &why_cases[builder->question->level - 1][pick(builder, CASES)];
    const size_t first = pick(builder, REASONS);
    struct lesson_question *question = builder->question;
    if (question->level < 3) {
        give_side_by_side(builder, 1 + question->level);
    } else {
        give_wired(builder, question->level - 1);
        question->drawing = DRAW_WIRE;
    }
    question->opening = row->opening;
    for (size_t i = 0; i < REASONS; i++) {
        text_add(choice(builder), row->reasons[(i + first) % REASONS]);
    }
    text_add(&question->reason, row->reasons[0]);
    ask_choice(builder, (REASONS - first) % REASONS, "asked.letter-of-the-right-reason");
}

/* ------------------------------------------------------------------ impossible ---------------------------- */

enum { STATEMENTS = 5, FIGURES_SHOWN = 5 };

/* Five figures of a circuit, of which one is made false, and the bound that this one breaks. */
struct statements {
    size_t figure[STATEMENTS];
    const char *what[STATEMENTS];
    size_t false_one;
    size_t bound;
    const char *law;
};

/* A figure that the key finds and the sheet states. */
static size_t state(struct statements *all, size_t at, const char *what, size_t figure)
{
    all->figure[at] = figure;
    all->what[at] = what;
    return figure;
}

/* value x over / under in place of the true figure. */
static size_t falsify(struct builder *builder, size_t from, unsigned long over, unsigned long under)
{
    const enum exact_quantity measure = builder->question->quantities[from].measure;
    mpq_t value;
    mpq_init(value);
    multiple_of(builder, from, over, under, value);
    const size_t index = hide(builder, "false", "false", measure, value);
    mpq_clear(value);
    return index;
}

/* Writes the five in an order by chance, the false figure in its place, and asks for it and for the bound. */
static void ask_impossible(struct builder *builder, const struct statements *all, size_t false_figure)
{
    struct lesson_question *question = builder->question;
    const size_t shift = pick(builder, STATEMENTS);
    for (size_t i = 0; i < STATEMENTS; i++) {
        const size_t at = (i + shift) % STATEMENTS;
        const struct lesson_quantity *shown =
            &question->quantities[at == all->false_one ? false_figure : all->figure[at]];
        struct text *text = choice(builder);
        text_printf(text, "%s: ", all->what[at]);
        const unsigned digits = exact_digits(shown->value);
        builder->ok = builder->ok && digits > 0 && digits <= FIGURES_SHOWN;
        lesson_amount(text, LANGUAGE_ENGLISH, shown->value, shown, FIGURES_SHOWN);
    }
    text_add(&question->reason, all->law);
    const enum exact_quantity measure = question->quantities[all->bound].measure;
    ask_choice(builder, (all->false_one + STATEMENTS - shift) % STATEMENTS,
               "asked.letter-of-the-figure-that-cannot-be");
    const size_t bound = find(builder, "subject.bound", "subject.bound", measure, STEP_KEEPS_WITHIN, &all->bound, 1);
    ask(builder, bound, "asked.the-bound-that-it-must-keep");
}

/* Side by side: at level 1 the whole stands above its smallest part, at level 2 a path's current above the total. */
static void build_impossible_parallel(struct builder *builder)
{
    const bool currents = builder->question->level == 2;
    struct statements all = {.false_one = currents ? 2 : 0};
    struct side_by_side set = give_side_by_side(builder, 3);
    const size_t together =
        find(builder, "R", "subject.all-together", EXACT_RESISTANCE, STEP_RESISTANCE_PARALLEL, set.resistor, 3);
    const size_t total = find_two(builder, "I", "subject.all-together", EXACT_CURRENT, STEP_CURRENT_FROM_RESISTANCE,
                                  set.voltage, together);
    state(&all, 0, "asked.resistance-of-all-together", together);
    for (size_t i = 0; i < 2; i++) {
        state(&all, 1 + i, current_of[i], find_current(builder, i, set.voltage, set.resistor[i], 0));
    }
    state(&all, 3, "asked.total-current", total);
    const size_t power =
        find_two(builder, "P", "subject.all-together", EXACT_POWER, STEP_POWER_FROM_CURRENT, set.voltage, total);
    state(&all, 4, "asked.power-of-all-together", power);
    probe(builder, together, PROBE_SEEN, 0, 0);
    probe(builder, total, PROBE_SOURCE_CURRENT, 0, 0);
    probe(builder, power, PROBE_SOURCE_POWER, 0, 0);
    const size_t smallest =
        find(builder, "R most", "subject.smallest", EXACT_RESISTANCE, STEP_SMALLEST, set.resistor, 3);
    all.bound = currents ? total : smallest;
    all.law = currents ? "subject.no-path-carries-more-than-the-total-current"
                       : "subject.in-parallel-the-whole-is-below-every-part";
    ask_impossible(builder, &all, falsify(builder, all.bound, 5, 4));
}

/* In a row, at level 3 with a group: a part has more voltage than the source; at 4 the whole is below its largest part.
 */
static void build_impossible_series(struct builder *builder)
{
    static const char *const voltage_names[] = {"V1", "V2", "V3"};
    static const char *const voltage_of[] = {"asked.voltage-across-1 R1", "asked.voltage-across-1 R2",
                                             "asked.voltage-across-1 R3"};
    const bool drop = builder->question->level == 3;
    struct statements all = {.false_one = drop ? 2 : 0};
    size_t resistor[3];
    const size_t current_halves = 2 + pick(builder, 12);
    unsigned long sum = 0;
    unsigned long halves[3];
    for (size_t i = 0; i < 3; i++) {
        halves[i] = 4 + pick(builder, 60);
        sum += halves[i];
    }
    const size_t voltage = give(builder, "V", "", EXACT_VOLTAGE, current_halves * sum, 4);
    element(builder, 0, ELEMENT_SOURCE, 1, 0, voltage);
    for (size_t i = 0; i < 3; i++) {
        resistor[i] = give(builder, resistor_names[i], "", EXACT_RESISTANCE, halves[i], 2);
        element(builder, 0, ELEMENT_RESISTOR, i == 0 ? 1 : 1 + i, i == 2 ? 0 : 2 + i, resistor[i]);
    }
    const size_t whole = find(builder, "R", "subject.all", EXACT_RESISTANCE, STEP_RESISTANCE_ROW, resistor, 3);
    const size_t current =
        find_two(builder, "I", "subject.all", EXACT_CURRENT, STEP_CURRENT_FROM_RESISTANCE, voltage, whole);
    probe(builder, state(&all, 0, "asked.resistance-of-all", whole), PROBE_SEEN, 0, 0);
    probe(builder, state(&all, 1, "asked.current", current), PROBE_SOURCE_CURRENT, 0, 0);
    for (size_t i = 0; i < 3; i++) {
        const size_t part =
            find_two(builder, voltage_names[i], resistor_names[i], EXACT_VOLTAGE, STEP_VOLTAGE, current, resistor[i]);
        probe(builder, state(&all, 2 + i, voltage_of[i], part), PROBE_VOLTAGE, 0, 1 + i);
    }
    const size_t largest = find(builder, "R least", "subject.largest", EXACT_RESISTANCE, STEP_LARGEST, resistor, 3);
    all.bound = drop ? voltage : largest;
    all.law = drop ? "subject.no-part-has-more-voltage-than-the-source-gives"
                   : "subject.in-series-the-whole-is-above-every-part";
    builder->question->opening = "opening.the-resistors-are-connected-in-series-one-of-the";
    builder->question->drawing = DRAW_NETWORK;
    ask_impossible(builder, &all, falsify(builder, all.bound, drop ? 5 : 3, 4));
}

void build_impossible(struct builder *builder)
{
    if (builder->question->level < 3) {
        build_impossible_parallel(builder);
    } else {
        build_impossible_series(builder);
    }
}

/* ------------------------------------------------------------------ fault --------------------------------- */

enum { PARTS_MOST = 4 };

/* The circuit as it is: R1, joint and group; what is open has no path. */
struct bench {
    size_t count; /* of parts */
    struct ratio marked[PARTS_MOST];
    size_t part; /* the faulty one, 0 upwards */
    enum lesson_fault fault;
    mpq_t ohm[PARTS_MOST]; /* as they are; of an open or shorted one as marked */
    mpq_t joint;
};

static void bench_init(struct bench *bench)
{
    for (size_t i = 0; i < PARTS_MOST; i++) {
        mpq_init(bench->ohm[i]);
    }
    mpq_init(bench->joint);
}

static void bench_done(struct bench *bench)
{
    for (size_t i = 0; i < PARTS_MOST; i++) {
        mpq_clear(bench->ohm[i]);
    }
    mpq_clear(bench->joint);
}

static bool is_at(const struct bench *bench, size_t part, enum lesson_fault fault)
{
    return bench->part == part && bench->fault == fault;
}

/* Which fault a level may have, and at R1 only at the last one. */
static void choose_fault(struct builder *builder, struct bench *bench)
{
    static const struct ratio factors[] = {{1, 2}, {2, 3}, {3, 2}, {2, 1}};
    const unsigned level = builder->question->level;
    const unsigned faults = level < 3 ? 1 + level : 4;
    struct ratio ignored[PARTS_MOST];
    unsigned long voltage;
    bench->count = level < 3 ? 3 : 4;
    choose_parallel(builder, bench->count - 1, ignored, &voltage);
    bench->marked[0] = (struct ratio){2 + pick(builder, 40), 2};
    for (size_t i = 1; i < bench->count; i++) {
        bench->marked[i] = ignored[i - 1];
    }
    bench->fault = (enum lesson_fault)(1 + pick(builder, faults));
    const unsigned from = level < LESSON_LEVEL_MOST ? 1 : 0;
    bench->part = from + pick(builder, (unsigned)bench->count - from);
    bench->part = bench->fault == LESSON_FAULT_JOINT ? 0 : bench->part;
    const struct ratio factor = factors[pick(builder, sizeof factors / sizeof factors[0])];
    for (size_t i = 0; i < bench->count; i++) {
        const bool other = is_at(bench, i, LESSON_FAULT_VALUE);
        mpq_set_ui(bench->ohm[i], bench->marked[i].over * (other ? factor.over : 1),
                   bench->marked[i].under * (other ? factor.under : 1));
        mpq_canonicalize(bench->ohm[i]);
    }
    const unsigned long joint_halves = 10 + pick(builder, 50);
    mpq_set_ui(bench->joint, bench->fault == LESSON_FAULT_JOINT ? joint_halves : 0, 2);
    mpq_canonicalize(bench->joint);
}

/* Resistance of the group as it is; 0 where a path is shorted. */
static void group_ohm(const struct bench *bench, mpq_t ret)
{
    mpq_srcptr paths[PARTS_MOST];
    size_t count = 0;
    bool shorted = false;
    for (size_t i = 1; i < bench->count; i++) {
        shorted = shorted || is_at(bench, i, LESSON_FAULT_SHORT);
        if (!is_at(bench, i, LESSON_FAULT_OPEN)) {
            paths[count++] = bench->ohm[i];
        }
    }
    exact_parallel(ret, paths, count);
    if (shorted) {
        mpq_set_ui(ret, 0, 1);
    }
}

/* The readings: of R1, of the group, of the source, and the currents. */
struct bench_figures {
    mpq_t source_v;
    mpq_t front_v;
    mpq_t group_v;
    mpq_t total_a;
    mpq_t path_a[PARTS_MOST];
};

static void figures_init(struct bench_figures *figures)
{
    mpq_inits(figures->source_v, figures->front_v, figures->group_v, figures->total_a, NULL);
    for (size_t i = 0; i < PARTS_MOST; i++) {
        mpq_init(figures->path_a[i]);
    }
}

static void figures_done(struct bench_figures *figures)
{
    mpq_clears(figures->source_v, figures->front_v, figures->group_v, figures->total_a, NULL);
    for (size_t i = 0; i < PARTS_MOST; i++) {
        mpq_clear(figures->path_a[i]);
    }
}

/* Ohm's law from the total current, which was chosen; an open R1 takes the whole voltage. */
static void find_figures(const struct bench *bench, unsigned long current_halves, struct bench_figures *figures)
{
    mpq_t group;
    mpq_init(group);
    group_ohm(bench, group);
    mpq_set_ui(figures->total_a, current_halves, 2);
    mpq_canonicalize(figures->total_a);
    if (!is_at(bench, 0, LESSON_FAULT_SHORT)) {
        mpq_mul(figures->front_v, figures->total_a, bench->ohm[0]);
    }
    mpq_mul(figures->group_v, figures->total_a, group);
    mpq_mul(figures->source_v, figures->total_a, bench->joint);
    mpq_add(figures->source_v, figures->source_v, figures->front_v);
    mpq_add(figures->source_v, figures->source_v, figures->group_v);
    if (is_at(bench, 0, LESSON_FAULT_OPEN)) {
        mpq_set(figures->front_v, figures->source_v);
        mpq_set_ui(figures->group_v, 0, 1);
        mpq_set_ui(figures->total_a, 0, 1);
    }
    for (size_t i = 1; i < bench->count; i++) {
        if (is_at(bench, i, LESSON_FAULT_SHORT)) {
            mpq_set(figures->path_a[i], figures->total_a);
        } else if (!is_at(bench, i, LESSON_FAULT_OPEN)) {
            mpq_div(figures->path_a[i], figures->group_v, bench->ohm[i]);
        }
    }
    mpq_clear(group);
}

/* Indices of what the sheet gives, in the order of the steps that judge them. */
struct given_readings {
    size_t operand[LESSON_OPERANDS_MOST];
    size_t count;
    size_t total;
};

static void give_readings(struct builder *builder, const struct bench *bench, const struct bench_figures *figures,
                          struct given_readings *given)
{
    for (size_t i = 0; i < bench->count; i++) {
        given->operand[given->count++] = give(builder, resistor_names[i], "subject.marked", EXACT_RESISTANCE,
                                              bench->marked[i].over, bench->marked[i].under);
    }
    given->operand[given->count++] = give_value(builder, "V", "subject.source", EXACT_VOLTAGE, figures->source_v);
    given->operand[given->count++] =
        give_value(builder, "V1", "subject.read-across-1 R1", EXACT_VOLTAGE, figures->front_v);
    given->operand[given->count++] =
        give_value(builder, "V2", "subject.read-across-the-group", EXACT_VOLTAGE, figures->group_v);
    given->total = give_value(builder, "I", "subject.total-read", EXACT_CURRENT, figures->total_a);
    for (size_t i = 1; i < bench->count; i++) {
        given->operand[given->count++] =
            give_value(builder, current_names[i], "subject.read-2", EXACT_CURRENT, figures->path_a[i]);
    }
}

/* As marked in the first state, as it is in the second; probes of what is read there. */
static void draw_bench(struct builder *builder, const struct bench *bench, const struct given_readings *given)
{
    static const char *const real[] = {"r1", "r2", "r3", "r4"};
    const size_t source = given->operand[bench->count];
    size_t node = 1;
    element(builder, 0, ELEMENT_SOURCE, 1, 0, source);
    probe(builder, source, PROBE_VOLTAGE, 1, element(builder, 1, ELEMENT_SOURCE, 1, 0, source));
    if (bench->fault == LESSON_FAULT_JOINT) {
        node = 3;
    }
    builder->question->zeros = true;
    const size_t joint = hide(builder, "subject.joint", "subject.loose-joint", EXACT_RESISTANCE, bench->joint);
    if (bench->fault == LESSON_FAULT_JOINT) {
        element(builder, 1, ELEMENT_RESISTOR, 1, 3, joint);
    }
    for (size_t i = 0; i < bench->count; i++) {
        element(builder, 0, ELEMENT_RESISTOR, i == 0 ? 1 : 2, i == 0 ? 2 : 0, given->operand[i]);
        const size_t ohm = hide(builder, real[i], "subject.as-it-is", EXACT_RESISTANCE, bench->ohm[i]);
        if (is_at(bench, i, LESSON_FAULT_OPEN)) {
            continue;
        }
        const enum element_kind kind = is_at(bench, i, LESSON_FAULT_SHORT) ? ELEMENT_WIRE : ELEMENT_RESISTOR;
        const size_t at = element(builder, 1, kind, i == 0 ? node : 2, i == 0 ? 2 : 0, ohm);
        const size_t reading = i == 0 ? given->operand[bench->count + 1] : given->operand[bench->count + 2 + i];
        probe(builder, reading, i == 0 ? PROBE_VOLTAGE : PROBE_CURRENT, 1, at);
    }
    builder->question->drawing = DRAW_WIRE;
    builder->question->in_series = "R1";
    builder->question->draw_first = true;
}

/* What each part would show by its marking, beside what was read. */
static void find_marked(struct builder *builder, const struct bench *bench, const struct given_readings *given)
{
    static const char *const names[] = {"", "subject.1-by-marking I2", "subject.1-by-marking I3",
                                        "subject.1-by-marking I4"};
    static const char *const subjects[] = {"", "subject.1-by-its-marking R2", "subject.1-by-its-marking R3",
                                           "subject.1-by-its-marking R4"};
    const size_t group = given->operand[bench->count + 2];
    for (size_t i = 1; i < bench->count; i++) {
        find_two(builder, names[i], subjects[i], EXACT_CURRENT, STEP_CURRENT_FROM_RESISTANCE, group, given->operand[i]);
    }
    find_two(builder, "subject.1-by-marking V1", "subject.1-by-its-marking R1", EXACT_VOLTAGE, STEP_VOLTAGE,
             given->total, given->operand[0]);
    find_two(builder, "subject.1-by-the-source V2", "subject.the-group", EXACT_VOLTAGE, STEP_GROUP_VOLTAGE,
             given->operand[bench->count], given->operand[bench->count + 1]);
}

void build_fault(struct builder *builder)
{
    static const char *const faults[] = {"choice.its-path-is-open", "choice.it-is-shorted",
                                         "choice.it-has-another-value-than-marked-half-to-twice-as",
                                         "choice.a-joint-in-the-line-before-it-is-loose"};
    struct bench bench = {0};
    struct bench_figures figures;
    struct given_readings given = {0};
    bench_init(&bench);
    figures_init(&figures);
    choose_fault(builder, &bench);
    find_figures(&bench, 1 + pick(builder, 20), &figures);
    builder->question->zeros = true;
    give_readings(builder, &bench, &figures, &given);
    draw_bench(builder, &bench, &given);
    find_marked(builder, &bench, &given);
    ask(builder,
        find(builder, "subject.part", "subject.fault", EXACT_PART, STEP_FAULT_PART, given.operand, given.count),
        "asked.which-part-the-fault-is-at-1-2 R1 R2");
    ask(builder,
        find(builder, "subject.fault", "subject.fault", EXACT_CHOICE, STEP_FAULT_KIND, given.operand, given.count),
        "asked.letter-of-the-fault");
    for (size_t i = 0; i < sizeof faults / sizeof faults[0]; i++) {
        text_add(choice(builder), faults[i]);
    }
    bench_done(&bench);
    figures_done(&figures);
}
