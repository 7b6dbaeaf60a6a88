#include "refuse.h"

#include "ampsum/exact.h"

/* In the plain unit, at least four significant digits: "-4350 ohm". */
static void add_plain(struct text *text, const mpq_t value, enum circuit_quantity quantity)
{
    const long whole = exact_exponent(value) + 1;
    exact_write_decimal(text, value, whole > CIRCUIT_FIGURES_DEFAULT ? (unsigned)whole : CIRCUIT_FIGURES_DEFAULT);
    text_add_char(text, ' ');
    text_add(text, circuit_unit(quantity));
}

static void add_quantity(struct text *text, const struct circuit *circuit, enum circuit_quantity quantity, size_t part)
{
    text_add(text, circuit_letter(quantity));
    if (part != CIRCUIT_NONE) {
        text_printf(text, "(%s)", circuit->nodes[part].name);
    }
}

bool refuse_misfit(const struct circuit *circuit, const struct circuit_known *known,
                   const struct circuit_figure *computed, struct circuit_fault *fault)
{
    struct text text = {0};
    text_add(&text, known->words);
    text_add(&text, " does not fit: what else is given makes ");
    add_quantity(&text, circuit, known->quantity, known->part);
    text_add_char(&text, ' ');
    add_plain(&text, computed->value, known->quantity);
    text_add(&text, ", not ");
    add_plain(&text, known->number.value, known->quantity);
    circuit_fail(fault, CIRCUIT_CONTRADICTION, "%s", text_string(&text));
    text_done(&text);
    return false;
}

bool refuse_missing(const struct circuit *circuit, bool voltage, size_t missing, struct circuit_fault *fault)
{
    const char *part = circuit->unknown == CIRCUIT_NONE ? NULL : circuit->nodes[circuit->unknown].name;
    return circuit_fail(fault, CIRCUIT_UNDETERMINED, "%s%s%s: %zu known%s missing; give %s, as in --know '%s'",
                        part == NULL ? "" : part, part != NULL && voltage ? " and " : "",
                        voltage ? "the source's voltage" : "", missing, missing == 1 ? " is" : "s are",
                        missing == 1 ? "it" : "them", voltage || circuit->has_source_v ? "I = 4.5 A" : "R = 6 ohm");
}

bool refuse_silent(const struct circuit *circuit, struct circuit_fault *fault)
{
    return circuit_fail(fault, CIRCUIT_UNDETERMINED,
                        "%s: 1 known is missing, since what is given stays the same whatever %s is; give another, as "
                        "in --know '%s = 8 ohm'",
                        circuit->nodes[circuit->unknown].name, circuit->nodes[circuit->unknown].name, "R");
}

/* ------------------------------------------------------------------ why no resistance does it ------------- */

/* The whole resistance that the known asks for; false where it speaks of a part. */
static bool whole_resistance(const struct equations *equations, const struct circuit_known *known, mpq_t ret_ohm,
                             struct text *steps)
{
    const mpq_srcptr voltage = equations->circuit->source_v;
    if (known->part != CIRCUIT_NONE || known->quantity == CIRCUIT_V) {
        return false;
    }
    if (known->quantity == CIRCUIT_R) {
        mpq_set(ret_ohm, known->number.value);
        return true;
    }
    mpq_div(ret_ohm, voltage, known->number.value);
    if (known->quantity == CIRCUIT_P) {
        mpq_mul(ret_ohm, ret_ohm, voltage);
    }
    text_add(steps, known->quantity == CIRCUIT_P ? "R = V^2 / P = (" : "R = V / I = ");
    add_plain(steps, voltage, CIRCUIT_V);
    text_add(steps, known->quantity == CIRCUIT_P ? ")^2 / " : " / ");
    add_plain(steps, known->number.value, known->quantity);
    text_add(steps, " = ");
    add_plain(steps, ret_ohm, CIRCUIT_R);
    text_add(steps, "; ");
    return true;
}

/* What the other members of the node's group make: a sum, or side by side. */
static void others(const struct equations *equations, size_t node, mpq_t ret_ohm)
{
    const struct circuit *circuit = equations->circuit;
    const size_t group = circuit->nodes[node].parent;
    const bool series = circuit->nodes[group].kind == CIRCUIT_SERIES;
    mpq_t one;
    mpq_init(one);
    mpq_set_ui(ret_ohm, 0, 1);
    for (size_t i = circuit->nodes[group].first; i != CIRCUIT_NONE; i = circuit->nodes[i].next) {
        if (i != node) {
            mpq_set(one, equations->at[0].node[i].cell[CIRCUIT_R].value);
            if (!series) {
                mpq_inv(one, one);
            }
            mpq_add(ret_ohm, ret_ohm, one);
        }
    }
    if (!series) {
        mpq_inv(ret_ohm, ret_ohm);
    }
    mpq_clear(one);
}

/* The member of the group that the unknown part is in, or is. */
static size_t towards_unknown(const struct circuit *circuit, size_t group)
{
    size_t node = circuit->unknown;
    while (circuit->nodes[node].parent != group) {
        node = circuit->nodes[node].parent;
    }
    return node;
}

static void add_bound(struct text *text, const struct circuit *circuit, size_t group, const mpq_t wanted,
                      const mpq_t other)
{
    const bool series = circuit->nodes[group].kind == CIRCUIT_SERIES;
    text_add(text,
             series ? "in series the total is above every part: " : "in parallel the total is below every part: ");
    add_plain(text, wanted, CIRCUIT_R);
    text_add(text, mpq_equal(wanted, other) ? " is as much as " : series ? " is below " : " is above ");
    add_plain(text, other, CIRCUIT_R);
    text_add(text, "; ");
}

/* Takes away group by group, from the outside, until one can't be: says why. */
static void peel(const struct equations *equations, mpq_t wanted, struct text *text)
{
    const struct circuit *circuit = equations->circuit;
    mpq_t other;
    mpq_init(other);
    bool possible = true;
    for (size_t group = circuit->root; circuit->nodes[group].kind != CIRCUIT_PART && possible;) {
        const size_t node = towards_unknown(circuit, group);
        const bool series = circuit->nodes[group].kind == CIRCUIT_SERIES;
        others(equations, node, other);
        possible = series ? mpq_cmp(wanted, other) > 0 : mpq_cmp(wanted, other) < 0;
        if (!possible) {
            add_bound(text, circuit, group, wanted, other);
        } else if (series) {
            mpq_sub(wanted, wanted, other);
        } else {
            mpq_inv(wanted, wanted);
            mpq_inv(other, other);
            mpq_sub(wanted, wanted, other);
            mpq_inv(wanted, wanted);
        }
        group = node;
    }
    mpq_clear(other);
}

/* The most that the unknown part can take at that voltage: at x = b / a, where A = a x + b. */
static void add_most_power(const struct equations *equations, struct text *text)
{
    const struct circuit *circuit = equations->circuit;
    struct line voltage;
    mpq_t x;
    mpq_t most;
    line_init(&voltage);
    mpq_init(x);
    mpq_init(most);
    equations_line(equations, circuit->unknown, CIRCUIT_V, &voltage); /* L = slope x */
    mpq_div(x, equations->over.base, equations->over.slope);
    mpq_mul(most, voltage.slope, circuit->source_v);
    mpq_mul(most, most, most);
    mpq_div(most, most, equations->over.slope);
    mpq_div(most, most, equations->over.base);
    mpq_div_2exp(most, most, 2);
    text_add(text, "it takes at most ");
    add_plain(text, most, CIRCUIT_P);
    text_add(text, ", at ");
    add_plain(text, x, CIRCUIT_R);
    line_done(&voltage);
    mpq_clear(x);
    mpq_clear(most);
}

/* Value of the known's quantity at 0 ohm (slope false) or at an open path (slope true); false where it has no bound. */
static bool end_value(const struct equations *equations, const struct circuit_known *known, bool open, mpq_t ret)
{
    struct line line;
    const size_t node = known->part == CIRCUIT_NONE ? equations->circuit->root : known->part;
    const mpq_srcptr under = open ? equations->over.slope : equations->over.base;
    const bool bounded = mpq_sgn(under) != 0;
    line_init(&line);
    equations_line(equations, node, known->quantity == CIRCUIT_P ? CIRCUIT_V : known->quantity, &line);
    if (bounded) {
        mpq_div(ret, open ? line.slope : line.base, under);
        mpq_mul(ret, ret, equations->circuit->source_v);
    }
    if (bounded && known->quantity == CIRCUIT_P) {
        mpq_mul(ret, ret, ret);
        mpq_div(ret, ret, equations->at[0].node[node].cell[CIRCUIT_R].value);
    }
    line_done(&line);
    return bounded;
}

/* V, I or P of another part goes from one end to the other as x does, and no further. */
static void add_span(const struct equations *equations, const struct circuit_known *known, struct text *text)
{
    mpq_t end;
    mpq_init(end);
    text_add(text, "whatever it is, ");
    add_quantity(text, equations->circuit, known->quantity, known->part);
    text_add(text, " stays between ");
    for (int open = 0; open < 2; open++) {
        if (end_value(equations, known, open == 1, end)) {
            add_plain(text, end, known->quantity);
        } else {
            text_add(text, "what has no bound");
        }
        text_add(text, open == 0 ? " (at 0 ohm) and " : " (open); ");
    }
    mpq_clear(end);
}

static void add_value(const struct circuit *circuit, mpq_srcptr root, struct text *text)
{
    struct text prefixed = {0};
    struct text plain = {0};
    add_plain(&plain, root, CIRCUIT_R);
    circuit_write_value(&prefixed, root, CIRCUIT_R, &circuit_default_style);
    text_printf(text, "%s would have to be %s", circuit->nodes[circuit->unknown].name, text_string(&plain));
    if (mpq_sgn(root) != 0 && exact_exponent(root) >= 4) {
        const size_t sign = prefixed.length - 2; /* the sign of ohm is two bytes */
        text_printf(text, " (%.*sohm)", (int)sign, text_string(&prefixed));
    }
    text_done(&prefixed);
    text_done(&plain);
}

bool refuse_roots(const struct equations *equations, const struct circuit_known *known, bool alone, mpq_srcptr root,
                  struct circuit_fault *fault)
{
    const struct circuit *circuit = equations->circuit;
    struct text text = {0};
    mpq_t wanted;
    mpq_init(wanted);
    text_printf(&text, "%s: no resistance gives %s: ", circuit->nodes[circuit->unknown].name, known->words);
    if (!alone) {
        text_add(&text, "beside the other known none above 0 fits");
        text_add(&text, root == NULL ? "" : "; ");
    } else if (whole_resistance(equations, known, wanted, &text)) {
        peel(equations, wanted, &text);
    } else if (known->quantity == CIRCUIT_P && known->part == circuit->unknown) {
        add_most_power(equations, &text);
        root = NULL;
    } else {
        add_span(equations, known, &text);
    }
    if (root != NULL) {
        add_value(circuit, root, &text);
    } else if (text.length > 2 && text.bytes[text.length - 2] == ';') {
        text_add(&text, "only an open path would");
    }
    circuit_fail(fault, CIRCUIT_IMPOSSIBLE, "%s", text_string(&text));
    text_done(&text);
    mpq_clear(wanted);
    return false;
}
