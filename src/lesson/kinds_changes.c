/*
 * One thing changes in a circuit: any path is switched or opened, and what rises, falls and stays; the ways of the
 * third generator (the earlier ones, which take the last path, stand in kinds.c and kinds_circuits.c). Side by side, or
 * with R1 in front, is drawn.
 */
#include <string.h>

#include "kinds.h"

/* A sentence for each path. */
#define FOR_EACH_PATH(KEY)                                                                                             \
    {                                                                                                                  \
        KEY " R1", KEY " R2", KEY " R3", KEY " R4", KEY " R5", KEY " R6"                                               \
    }

static const char *const switched_on[LOADS_MOST] =
    FOR_EACH_PATH("more.the-resistors-are-connected-in-parallel-at-first");
static const char *const switched_off[LOADS_MOST] =
    FOR_EACH_PATH("more.the-resistors-are-connected-in-parallel-all-on");
static const char *const opened[LOADS_MOST] = FOR_EACH_PATH("more.the-resistors-are-connected-in-parallel-then-a");
static const char *const afterwards_symbols[LOADS_MOST] = {"I1 after", "I2 after", "I3 after",
                                                           "I4 after", "I5 after", "I6 after"};
static const char *const afterwards_subjects[LOADS_MOST] = {"subject.1-afterwards R1", "subject.1-afterwards R2",
                                                            "subject.1-afterwards R3", "subject.1-afterwards R4",
                                                            "subject.1-afterwards R5", "subject.1-afterwards R6"};
static const char *const afterwards_asked[LOADS_MOST] = {
    "asked.current-in-1-afterwards R1", "asked.current-in-1-afterwards R2", "asked.current-in-1-afterwards R3",
    "asked.current-in-1-afterwards R4", "asked.current-in-1-afterwards R5", "asked.current-in-1-afterwards R6"};

/* The list without the entry at `at`. */
static void without(const size_t *from, size_t count, size_t at, size_t *ret)
{
    memcpy(ret, from, at * sizeof *ret);
    memcpy(ret + at, from + at + 1, (count - at - 1) * sizeof *ret);
}

/* The circuit of `state` with all paths but that at `at`. */
static void draw_without(struct builder *builder, const struct side_by_side *set, size_t state, size_t at)
{
    builder->question->circuit[state].count = 0;
    element(builder, state, ELEMENT_SOURCE, 1, 0, set->voltage);
    for (size_t i = 0; i < set->count; i++) {
        if (i != at) {
            element(builder, state, ELEMENT_RESISTOR, 1, 0, set->resistor[i]);
        }
    }
}

static void draw_all(struct builder *builder, const struct side_by_side *set, size_t state)
{
    draw_without(builder, set, state, set->count);
}

/* A path that goes on, where that at `at` does not: the first, or the second. */
static size_t staying(size_t at)
{
    return at == 0 ? 1 : 0;
}

/* Levels 2 and 4 take a path away, 1 and 3 put it in; state 0 is what stands before, as told. */
void build_change_any(struct builder *builder)
{
    struct side_by_side set = give_side_by_side(builder, builder->question->level + 2);
    const bool added = builder->question->level % 2 == 1;
    const size_t at = pick(builder, (unsigned)set.count);
    const size_t stays = staying(at);
    size_t current[LOADS_MOST];
    size_t others[LOADS_MOST];
    size_t resistors[LOADS_MOST];
    draw_all(builder, &set, added ? 1 : 0);
    draw_without(builder, &set, added ? 0 : 1, at);
    find_currents(builder, &set, added ? 1 : 0, true, current);
    without(current, set.count, at, others);
    without(set.resistor, set.count, at, resistors);
    const size_t before = find(builder, "I before", "subject.before", EXACT_CURRENT, STEP_CURRENT_OF_SOME,
                               added ? others : current, added ? set.count - 1 : set.count);
    const size_t same = find(builder, afterwards_symbols[stays], afterwards_subjects[stays], EXACT_CURRENT,
                             STEP_UNCHANGED, &current[stays], 1);
    const size_t after = find_two(builder, "I after", "subject.afterwards", EXACT_CURRENT,
                                  added ? STEP_CURRENT_ADDED : STEP_CURRENT_DIFFERENCE, before, current[at]);
    const size_t together = find_two(builder, "symbol.r-after", "subject.afterwards", EXACT_RESISTANCE,
                                     STEP_RESISTANCE_FROM_CURRENT, set.voltage, after);
    other_way(builder, together, STEP_GROUP_PARALLEL, added ? set.resistor : resistors,
              added ? set.count : set.count - 1);
    probe(builder, before, PROBE_SOURCE_CURRENT, 0, 0);
    probe(builder, same, PROBE_CURRENT, 1, 1 + (!added && stays > at ? stays - 1 : stays));
    probe(builder, after, PROBE_SOURCE_CURRENT, 1, 0);
    probe(builder, together, PROBE_SEEN, 1, 0);
    ask(builder, before, "asked.total-current-before");
    ask(builder, same, afterwards_asked[stays]);
    ask(builder, after, "asked.total-current-afterwards");
    ask(builder, together, "asked.resistance-of-all-afterwards");
    if (!added) {
        swap(builder, SLIP_OPEN_CARRIES, after, before);
    }
    builder->question->opening = added ? switched_on[at] : switched_off[at];
    builder->question->gate = added ? LESSON_SWITCH_OPEN : LESSON_SWITCH_CLOSED;
    builder->question->gate_at = 1 + at;
}

void build_open_any(struct builder *builder)
{
    struct side_by_side set = give_side_by_side(builder, builder->question->level + 2);
    const size_t at = pick(builder, (unsigned)set.count);
    const size_t stays = staying(at);
    size_t current[LOADS_MOST];
    size_t others[LOADS_MOST];
    draw_without(builder, &set, 1, at);
    find_currents(builder, &set, 0, false, current);
    without(current, set.count, at, others);
    const size_t before =
        find(builder, "I before", "subject.before", EXACT_CURRENT, STEP_CURRENT_SUM, current, set.count);
    const size_t none = find(builder, "I open", "subject.the-opened-path", EXACT_CURRENT, STEP_OPENED, &current[at], 1);
    const size_t same = find(builder, afterwards_symbols[stays], afterwards_subjects[stays], EXACT_CURRENT,
                             STEP_UNCHANGED, &current[stays], 1);
    const size_t after =
        find(builder, "I after", "subject.afterwards", EXACT_CURRENT, STEP_CURRENT_OF_SOME, others, set.count - 1);
    other_way(builder, after, STEP_CURRENT_DIFFERENCE, (size_t[]){before, current[at]}, 2);
    const size_t power =
        find_two(builder, "P after", "subject.afterwards", EXACT_POWER, STEP_POWER_FROM_CURRENT, set.voltage, after);
    probe(builder, before, PROBE_SOURCE_CURRENT, 0, 0);
    probe(builder, same, PROBE_CURRENT, 1, 1 + (stays > at ? stays - 1 : stays));
    probe(builder, after, PROBE_SOURCE_CURRENT, 1, 0);
    probe(builder, power, PROBE_SOURCE_POWER, 1, 0);
    ask(builder, before, "asked.total-current-before");
    ask(builder, none, "asked.current-in-the-opened-path");
    ask(builder, same, afterwards_asked[stays]);
    ask(builder, after, "asked.total-current-afterwards");
    ask(builder, power, "asked.power-of-all-afterwards");
    swap(builder, SLIP_OPEN_CARRIES, after, before);
    builder->question->opening = opened[at];
    builder->question->gate = LESSON_BREAK;
    builder->question->gate_at = 1 + at;
}

/* ------------------------------------------------------------------ arrows -------------------------------- */

enum change { CHANGE_OPENED, CHANGE_ADDED, CHANGE_RAISED, CHANGE_LOWERED, CHANGE_SHORTED, CHANGES };

static const char *const parallel_changes[CHANGES] = {
    [CHANGE_OPENED] = "opening.the-resistors-are-connected-in-parallel-all-on-2",
    [CHANGE_ADDED] = "opening.the-resistors-are-connected-in-parallel-but-one",
    [CHANGE_RAISED] = "more.the-resistors-are-connected-in-parallel-then-the",
    [CHANGE_LOWERED] = "more.the-resistors-are-connected-in-parallel-then-the-2",
};

static const char *const ladder_changes[CHANGES] = {
    [CHANGE_OPENED] = "more.1-is-in-series-with-the-other-resistors-which-are R1",
    [CHANGE_ADDED] = "more.1-is-in-series-with-the-other-resistors-which-are-2 R1",
    [CHANGE_RAISED] = "more.1-is-in-series-with-the-other-resistors-which-are-3 R1",
    [CHANGE_LOWERED] = "more.1-is-in-series-with-the-other-resistors-which-are-4 R1",
    [CHANGE_SHORTED] = "more.1-is-in-series-with-the-other-resistors-which-are-5 R1",
};

/* The circuit before and after: R1 in front at levels 3 and 4, then a group whose last path changes. */
struct changing {
    enum change change;
    bool front;   /* resistor[0] is in front of the group */
    size_t count; /* of resistors */
    size_t resistor[LOADS_MOST];
    size_t voltage[2];
    size_t last[2]; /* what stands in the last path before and after */
};

/* The state of a path that is not there. */
static bool is_gone(const struct changing *it, size_t state)
{
    return (it->change == CHANGE_OPENED && state == 1) || (it->change == CHANGE_ADDED && state == 0);
}

static size_t hide_multiple(struct builder *builder, const char *symbol, size_t of, unsigned long over,
                            unsigned long under, bool told)
{
    const enum exact_quantity measure = builder->question->quantities[of].measure;
    mpq_t value;
    mpq_init(value);
    multiple_of(builder, of, over, under, value);
    const size_t index = give_value(builder, symbol, "subject.afterwards", measure, value);
    builder->question->quantities[index].hidden = !told;
    mpq_clear(value);
    return index;
}

static struct changing give_changing(struct builder *builder)
{
    const unsigned level = builder->question->level;
    struct changing it = {.front = level > 2, .count = level % 2 == 1 ? 3 : 4};
    struct ratio resistance[LOADS_MOST];
    unsigned long voltage;
    it.change = (enum change)pick(builder, it.front ? CHANGES : CHANGE_SHORTED);
    choose_parallel(builder, it.count, resistance, &voltage);
    it.voltage[0] = give_voltage(builder, voltage);
    for (size_t i = 0; i < it.count; i++) {
        it.resistor[i] = give_resistor(builder, i, resistance[i]);
    }
    it.last[0] = it.resistor[it.count - 1];
    it.voltage[1] = hide_multiple(builder, "symbol.v-after", it.voltage[0], 1, it.change == CHANGE_LOWERED ? 2 : 1,
                                  it.change == CHANGE_LOWERED);
    const unsigned long times = it.change == CHANGE_RAISED ? 2 : it.change == CHANGE_SHORTED ? 0 : 1;
    builder->question->zeros = true; /* a short circuit has no resistance */
    it.last[1] = hide_multiple(builder, "symbol.r-after", it.last[0], times, 1, it.change == CHANGE_RAISED);
    builder->question->opening = it.front ? ladder_changes[it.change] : parallel_changes[it.change];
    return it;
}

static void draw_state(struct builder *builder, const struct changing *it, size_t state)
{
    const size_t group = it->front ? 2 : 1;
    element(builder, state, ELEMENT_SOURCE, 1, 0, it->voltage[state]);
    for (size_t i = 0; i + 1 < it->count; i++) {
        const bool front = it->front && i == 0;
        element(builder, state, ELEMENT_RESISTOR, front ? 1 : group, front ? 2 : 0, it->resistor[i]);
    }
    if (!is_gone(it, state)) {
        const bool shorted = it->change == CHANGE_SHORTED && state == 1;
        element(builder, state, shorted ? ELEMENT_WIRE : ELEMENT_RESISTOR, group, 0, it->last[state]);
    }
}

/* The figures of a state: resistance and current of all, the group's voltage, the current of its first path, power. */
struct figures {
    size_t resistance;
    size_t current;
    size_t group_v;
    size_t path;
    size_t power;
};

static size_t find_group_of(struct builder *builder, const struct changing *it, size_t state, const char *subject)
{
    size_t operands[LOADS_MOST];
    size_t count = 0;
    for (size_t i = it->front ? 1 : 0; i + 1 < it->count; i++) {
        operands[count++] = it->resistor[i];
    }
    if (!is_gone(it, state)) {
        operands[count++] = it->last[state];
    }
    return find(builder, "R group", subject, EXACT_RESISTANCE, STEP_GROUP_NOW, operands, count);
}

static struct figures find_figures_of(struct builder *builder, const struct changing *it, size_t state)
{
    static const char *const subjects[] = {"subject.before", "subject.afterwards"};
    const char *subject = subjects[state];
    const size_t first = it->front ? 1 : 0;
    struct figures figures;
    const size_t group = find_group_of(builder, it, state, subject);
    figures.resistance =
        it->front ? find_two(builder, "R all", subject, EXACT_RESISTANCE, STEP_RESISTANCE_ROW, it->resistor[0], group)
                  : group;
    figures.current = find_two(builder, "I all", subject, EXACT_CURRENT, STEP_CURRENT_FROM_RESISTANCE,
                               it->voltage[state], figures.resistance);
    figures.group_v =
        it->front ? find_two(builder, "V of group", subject, EXACT_VOLTAGE, STEP_VOLTAGE, figures.current, group)
                  : it->voltage[state];
    figures.path = find_two(builder, "I of path", subject, EXACT_CURRENT, STEP_CURRENT_FROM_RESISTANCE, figures.group_v,
                            it->resistor[first]);
    figures.power =
        find_two(builder, "P all", subject, EXACT_POWER, STEP_POWER_FROM_CURRENT, it->voltage[state], figures.current);
    probe(builder, figures.resistance, PROBE_SEEN, state, 0);
    probe(builder, figures.current, PROBE_SOURCE_CURRENT, state, 0);
    if (it->front) {
        probe(builder, figures.group_v, PROBE_VOLTAGE, state, 1 + first);
    }
    probe(builder, figures.path, PROBE_CURRENT, state, 1 + first);
    probe(builder, figures.power, PROBE_SOURCE_POWER, state, 0);
    return figures;
}

/* Side by side at levels 1 and 2; at 3 and 4 R1 is in front, and a path may be shorted. */
void build_arrows_any(struct builder *builder)
{
    builder->question->published = true; /* nobody is asked for the numbers */
    const struct changing it = give_changing(builder);
    draw_state(builder, &it, 0);
    draw_state(builder, &it, 1);
    const struct figures before = find_figures_of(builder, &it, 0);
    const struct figures after = find_figures_of(builder, &it, 1);
    ask_trend(builder, before.resistance, after.resistance, "subject.resistance",
              "asked.resistance-of-all-together-rises-falls-or-stays");
    ask_trend(builder, before.current, after.current, "asked.total-current",
              "asked.total-current-rises-falls-or-stays");
    ask_trend(builder, it.voltage[0], it.voltage[1], "asked.voltage-of-the-source",
              "more.voltage-of-the-source-rises-falls-or-stays");
    if (it.front) {
        ask_trend(builder, before.group_v, after.group_v, "asked.voltage-across-the-group",
                  "more.voltage-across-the-group-rises-falls-or-stays");
        ask_trend(builder, before.path, after.path, "asked.current-in-1 R2",
                  "asked.current-in-1-rises-falls-or-stays R2");
    } else {
        ask_trend(builder, before.path, after.path, "asked.current-in-1 R1",
                  "asked.current-in-1-rises-falls-or-stays R1");
        ask_trend(builder, before.power, after.power, "subject.total-power",
                  "asked.power-of-all-together-rises-falls-or-stays");
    }
    builder->question->drawing = it.front ? DRAW_WIRE : DRAW_PARALLEL;
    builder->question->in_series = it.front ? "R1" : NULL;
    builder->question->gate = it.change == CHANGE_OPENED  ? LESSON_BREAK
                              : it.change == CHANGE_ADDED ? LESSON_SWITCH_OPEN
                                                          : LESSON_NO_GATE;
    builder->question->gate_at = it.count;
}
