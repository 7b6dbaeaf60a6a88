/* Circuits and figures in words. */
#include <string.h>

#include "ampsum/exact.h"
#include "parts.h"

enum { PREFIX_LEAST = -12, PREFIX_MOST = 12 };

static const char *const prefix_signs[] = {"p", "n", "\xC2\xB5", "m", "", "k", "M", "G", "T"};

void circuit_label(const struct circuit *circuit, size_t node, struct text *text)
{
    const struct circuit_node *row = &circuit->nodes[node];
    if (row->kind == CIRCUIT_PART) {
        text_add(text, row->name);
        return;
    }
    for (size_t i = row->first; i != CIRCUIT_NONE; i = circuit->nodes[i].next) {
        const bool group = circuit->nodes[i].kind != CIRCUIT_PART;
        text_add(text, i == row->first ? "" : row->kind == CIRCUIT_SERIES ? " + " : " | ");
        text_add(text, group ? "(" : "");
        circuit_label(circuit, i, text);
        text_add(text, group ? ")" : "");
    }
}

bool circuit_is_within(const struct circuit *circuit, size_t node, size_t group)
{
    while (node != CIRCUIT_NONE && node != group) {
        node = circuit->nodes[node].parent;
    }
    return node == group;
}

static void add_between(struct text *text, const struct circuit *circuit, size_t child, size_t first)
{
    if (child != first) {
        text_add(text, circuit->nodes[child].next == CIRCUIT_NONE ? " and " : ", ");
    }
}

static void add_sentence(const struct circuit *circuit, size_t node, struct text *text)
{
    const struct circuit_node *row = &circuit->nodes[node];
    if (row->kind == CIRCUIT_PART) {
        text_add(text, row->name);
        return;
    }
    for (size_t i = row->first; i != CIRCUIT_NONE; i = circuit->nodes[i].next) {
        const bool group = circuit->nodes[i].kind != CIRCUIT_PART;
        add_between(text, circuit, i, row->first);
        text_add(text, group ? "(" : "");
        add_sentence(circuit, i, text);
        text_add(text, group ? ")" : "");
    }
    text_add(text, row->kind == CIRCUIT_SERIES ? " one after the other" : " side by side");
}

void circuit_sentence(const struct circuit *circuit, struct text *text)
{
    add_sentence(circuit, circuit->root, text);
    if (circuit->has_source_v) {
        text_add(text, " across ");
        circuit_write_value(text, circuit->source_v, CIRCUIT_V, &circuit_default_style);
    }
}

/* The prefix with which the rounded value lies from 1 to below 1000. */
static long fitting_prefix(const mpq_t value, unsigned figures)
{
    long exponent = 0;
    double leading = 0;
    if (!exact_scale(value, &exponent, &leading) || leading > 9.9) { /* may be rounded up to the next power */
        mpq_t rounded;
        mpq_init(rounded);
        exact_round(rounded, value, figures);
        exponent = exact_exponent(rounded);
        mpq_clear(rounded);
    }
    exponent = exponent < PREFIX_LEAST ? PREFIX_LEAST : exponent > PREFIX_MOST ? PREFIX_MOST : exponent;
    return exponent >= 0 ? exponent / 3 * 3 : -((2 - exponent) / 3 * 3);
}

const struct circuit_style circuit_default_style = {.figures = CIRCUIT_FIGURES_DEFAULT};

bool circuit_write_number(struct text *text, const mpq_t value, const struct circuit_style *style)
{
    const size_t before = text->length;
    const bool rounded = exact_write_decimal(text, value, style->figures);
    for (size_t i = before; i < text->length && style->comma; i++) {
        text->bytes[i] = text->bytes[i] == '.' ? ',' : text->bytes[i];
    }
    return rounded;
}

static bool write_with(struct text *text, const mpq_t value, const char *sign, const struct circuit_style *style)
{
    const long prefix = fitting_prefix(value, style->figures);
    mpq_t scaled;
    mpq_t power;
    mpq_init(scaled);
    mpq_init(power);
    mpq_set_ui(power, 1, 1);
    mpz_ui_pow_ui(prefix < 0 ? mpq_numref(power) : mpq_denref(power), 10,
                  (unsigned long)(prefix < 0 ? -prefix : prefix));
    mpq_mul(scaled, value, power);
    const bool rounded = circuit_write_number(text, scaled, style);
    text_add_char(text, ' ');
    text_add(text, prefix_signs[(prefix - PREFIX_LEAST) / 3]);
    text_add(text, sign);
    mpq_clear(scaled);
    mpq_clear(power);
    return rounded;
}

bool circuit_write_value(struct text *text, const mpq_t value, enum circuit_quantity quantity,
                         const struct circuit_style *style)
{
    return write_with(text, value, circuit_unit_sign(quantity), style);
}

bool circuit_write_siemens(struct text *text, const mpq_t value, const struct circuit_style *style)
{
    return write_with(text, value, "S", style);
}

bool circuit_write(struct text *text, const struct circuit_figure *figure, enum circuit_quantity quantity,
                   const struct circuit_style *style)
{
    if (figure->state == CIRCUIT_FINITE) {
        return circuit_write_value(text, figure->value, quantity, style);
    }
    text_add(text, figure->state == CIRCUIT_INFINITE ? "open" : "-");
    return false;
}
