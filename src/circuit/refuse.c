#include "refuse.h"

#include "ampsum/exact.h"
#include "ampsum/language.h"

/* What is made up of letters, figures and units, as that language writes them; English as it was made. */
static void written(struct text *made, int language)
{
    struct writing writing = language_writing(language);
    struct text line = {0};
    if (language != LANGUAGE_ENGLISH) {
        writing.signs = true;
        language_write(&line, &writing, text_string(made));
        text_done(made);
        *made = line;
    }
}

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

/* One figure, written. */
static struct text figure_of(const struct circuit_fault *fault, const mpq_t value, enum circuit_quantity quantity)
{
    struct text text = {0};
    add_plain(&text, value, quantity);
    written(&text, fault->language);
    return text;
}

/* "I(R2)", written. */
static struct text name_of(const struct circuit *circuit, const struct circuit_fault *fault,
                           const struct circuit_known *known)
{
    struct text text = {0};
    add_quantity(&text, circuit, known->quantity, known->part);
    written(&text, fault->language);
    return text;
}

bool refuse_misfit(const struct circuit *circuit, const struct circuit_known *known,
                   const struct circuit_figure *computed, struct circuit_fault *fault)
{
    struct text quantity = name_of(circuit, fault, known);
    struct text made = figure_of(fault, computed->value, known->quantity);
    struct text given = figure_of(fault, known->number.value, known->quantity);
    circuit_fail(fault, CIRCUIT_CONTRADICTION, "refuse.misfit", "known", known->words, "quantity",
                 text_string(&quantity), "made", text_string(&made), "given", text_string(&given), (const char *)NULL);
    text_done(&quantity);
    text_done(&made);
    text_done(&given);
    return false;
}

bool refuse_missing(const struct circuit *circuit, bool voltage, size_t missing, struct circuit_fault *fault)
{
    const char *part = circuit->unknown == CIRCUIT_NONE ? "" : circuit->nodes[circuit->unknown].name;
    struct text what = {0};
    struct text number = {0};
    if (voltage) {
        say(&what, fault->language, part[0] == '\0' ? "refuse.the-voltage" : "refuse.and-the-voltage", "part", part,
            (const char *)NULL);
    } else {
        text_add(&what, part);
    }
    text_printf(&number, "%zu", missing);
    circuit_fail(fault, CIRCUIT_UNDETERMINED, missing == 1 ? "refuse.missing-one" : "refuse.missing-more", "what",
                 text_string(&what), "number", text_string(&number), "example",
                 voltage || circuit->has_source_v ? "I = 4.5 A" : "R = 6 ohm", (const char *)NULL);
    text_done(&what);
    text_done(&number);
    return false;
}

bool refuse_silent(const struct circuit *circuit, struct circuit_fault *fault)
{
    return circuit_fail(fault, CIRCUIT_UNDETERMINED, "refuse.silent", "part", circuit->nodes[circuit->unknown].name,
                        (const char *)NULL);
}

/* ------------------------------------------------------------------ why no resistance does it ------------- */

/* The whole resistance that the known asks for; false where it speaks of a part. */
static bool whole_resistance(const struct equations *equations, const struct circuit_known *known, mpq_t ret_ohm,
                             struct text *ret_steps)
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
    text_add(ret_steps, known->quantity == CIRCUIT_P ? "R = V^2 / P = (" : "R = V / I = ");
    add_plain(ret_steps, voltage, CIRCUIT_V);
    text_add(ret_steps, known->quantity == CIRCUIT_P ? ")^2 / " : " / ");
    add_plain(ret_steps, known->number.value, known->quantity);
    text_add(ret_steps, " = ");
    add_plain(ret_steps, ret_ohm, CIRCUIT_R);
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

/* One more of the reasons, which semicolons part. */
static void add_more(const struct circuit_fault *fault, struct text *why)
{
    text_add(why, why->length > 0 ? say_plain(fault->language, "refuse.then") : "");
}

static void add_bound(const struct circuit_fault *fault, struct text *why, bool series, const mpq_t wanted,
                      const mpq_t other)
{
    struct text total = figure_of(fault, wanted, CIRCUIT_R);
    struct text part = figure_of(fault, other, CIRCUIT_R);
    const bool same = mpq_equal(wanted, other);
    add_more(fault, why);
    say(why, fault->language,
        series ? (same ? "refuse.series-same" : "refuse.series-below")
               : (same ? "refuse.parallel-same" : "refuse.parallel-above"),
        "total", text_string(&total), "part", text_string(&part), (const char *)NULL);
    text_done(&total);
    text_done(&part);
}

/* Takes away group by group, from the outside, until one can't be: says why. */
static void peel(const struct equations *equations, const struct circuit_fault *fault, mpq_t wanted, struct text *why)
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
            add_bound(fault, why, series, wanted, other);
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
static void add_most_power(const struct equations *equations, const struct circuit_fault *fault, struct text *why)
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
    struct text power = figure_of(fault, most, CIRCUIT_P);
    struct text resistance = figure_of(fault, x, CIRCUIT_R);
    say(why, fault->language, "refuse.most-power", "power", text_string(&power), "resistance", text_string(&resistance),
        (const char *)NULL);
    text_done(&power);
    text_done(&resistance);
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
static void add_span(const struct equations *equations, const struct circuit_known *known,
                     const struct circuit_fault *fault, struct text *why)
{
    struct text quantity = name_of(equations->circuit, fault, known);
    struct text ends[2] = {0};
    mpq_t end;
    mpq_init(end);
    for (int open = 0; open < 2; open++) {
        if (end_value(equations, known, open == 1, end)) {
            ends[open] = figure_of(fault, end, known->quantity);
        } else {
            text_add(&ends[open], say_plain(fault->language, "refuse.unbounded"));
        }
    }
    say(why, fault->language, "refuse.span", "quantity", text_string(&quantity), "shorted", text_string(&ends[0]),
        "open", text_string(&ends[1]), (const char *)NULL);
    text_done(&quantity);
    text_done(&ends[0]);
    text_done(&ends[1]);
    mpq_clear(end);
}

/* "R2 would have to be -4350 ohm (-4.35 kohm)" */
static void add_value(const struct circuit *circuit, mpq_srcptr root, const struct circuit_fault *fault,
                      struct text *why)
{
    struct text prefixed = {0};
    struct text value = {0};
    add_plain(&value, root, CIRCUIT_R);
    circuit_write_value(&prefixed, root, CIRCUIT_R, &circuit_default_style);
    if (mpq_sgn(root) != 0 && exact_exponent(root) >= 4) {
        const size_t sign = prefixed.length - 2; /* the sign of ohm is two bytes */
        text_printf(&value, " (%.*sohm)", (int)sign, text_string(&prefixed));
    }
    written(&value, fault->language);
    add_more(fault, why);
    say(why, fault->language, "refuse.would-be", "part", circuit->nodes[circuit->unknown].name, "value",
        text_string(&value), (const char *)NULL);
    text_done(&prefixed);
    text_done(&value);
}

bool refuse_roots(const struct equations *equations, const struct circuit_known *known, bool alone, mpq_srcptr root,
                  struct circuit_fault *fault)
{
    const struct circuit *circuit = equations->circuit;
    struct text why = {0};
    bool whole = true; /* nothing is missing behind it */
    mpq_t wanted;
    mpq_init(wanted);
    if (!alone) {
        text_add(&why, say_plain(fault->language, "refuse.beside-other"));
    } else if (whole_resistance(equations, known, wanted, &why)) {
        written(&why, fault->language);
        peel(equations, fault, wanted, &why);
        whole = false;
    } else if (known->quantity == CIRCUIT_P && known->part == circuit->unknown) {
        add_most_power(equations, fault, &why);
        root = NULL;
    } else {
        add_span(equations, known, fault, &why);
        whole = false;
    }
    if (root != NULL) {
        add_value(circuit, root, fault, &why);
    } else if (!whole && why.length > 0) {
        add_more(fault, &why);
        text_add(&why, say_plain(fault->language, "refuse.only-open"));
    }
    circuit_fail(fault, CIRCUIT_IMPOSSIBLE, "refuse.no-resistance", "part", circuit->nodes[circuit->unknown].name,
                 "known", known->words, "why", text_string(&why), (const char *)NULL);
    text_done(&why);
    mpq_clear(wanted);
    return false;
}
