/* Circuits and figures in words. */
#include <string.h>

#include "ampsum/exact.h"
#include "ampsum/language.h"
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

static void add_sentence(const struct circuit *circuit, int language, size_t node, struct text *text);

/* A member of a group, a group in brackets. */
static void add_member(const struct circuit *circuit, int language, size_t node, struct text *text)
{
    const bool group = circuit->nodes[node].kind != CIRCUIT_PART;
    text_add(text, group ? "(" : "");
    add_sentence(circuit, language, node, text);
    text_add(text, group ? ")" : "");
}

static void add_sentence(const struct circuit *circuit, int language, size_t node, struct text *text)
{
    const struct circuit_node *row = &circuit->nodes[node];
    if (row->kind == CIRCUIT_PART) {
        text_add(text, row->name);
        return;
    }
    struct text before = {0};
    struct text last = {0};
    struct text all = {0};
    for (size_t i = row->first; i != CIRCUIT_NONE; i = circuit->nodes[i].next) {
        const bool ends = circuit->nodes[i].next == CIRCUIT_NONE;
        text_add(&before, !ends && i != row->first ? ", " : "");
        add_member(circuit, language, i, ends ? &last : &before);
    }
    say(&all, language, "figure.and", "before", text_string(&before), "last", text_string(&last), (const char *)NULL);
    say(text, language, row->kind == CIRCUIT_SERIES ? "solve.row" : "solve.side", "parts", text_string(&all),
        (const char *)NULL);
    text_done(&before);
    text_done(&last);
    text_done(&all);
}

void circuit_sentence(const struct circuit *circuit, const struct circuit_style *style, struct text *text)
{
    struct text parts = {0};
    struct text source = {0};
    add_sentence(circuit, style->language, circuit->root, &parts);
    if (circuit->has_source_v) {
        circuit_write_value(&source, circuit->source_v, CIRCUIT_V, style);
        say(text, style->language, "solve.across", "parts", text_string(&parts), "source", text_string(&source),
            (const char *)NULL);
    } else {
        text_add(text, text_string(&parts));
    }
    text_done(&parts);
    text_done(&source);
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
    text_add(text, figure->state == CIRCUIT_INFINITE ? say_plain(style->language, "solve.open") : "-");
    return false;
}
