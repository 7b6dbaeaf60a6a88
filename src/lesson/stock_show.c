/* The shelf read from a list or a series, and the network that was found: in words, drawn, with powers. */
#include <stdlib.h>
#include <string.h>

#include "ampsum/arena.h"
#include "ampsum/reference.h"
#include "ampsum/stock.h"
#include "ampsum/written.h"

enum { FIGURES = 6, ALIKE_MOST = 6 };

void stock_done(struct stock *stock)
{
    for (size_t i = 0; i < stock->count; i++) {
        mpq_clear(stock->parts[i].ohm);
    }
    free(stock->parts);
    *stock = (struct stock){0};
}

void stock_add(struct stock *stock, const mpq_t ohm, unsigned most)
{
    stock->parts = memory_grow(stock->parts, stock->count, &stock->capacity, sizeof *stock->parts);
    struct stock_part *part = &stock->parts[stock->count++];
    part->most = most;
    mpq_init(part->ohm);
    mpq_set(part->ohm, ohm);
}

/* The `*n` behind a part; false where n is no count. */
static bool read_most(const char *star, unsigned *ret_most, struct text *fault)
{
    char *end;
    *ret_most = 0;
    if (star == NULL) {
        return true;
    }
    unsigned long most = star[1] >= '0' && star[1] <= '9' ? strtoul(star + 1, &end, 10) : 0;
    if (most == 0 || most > STOCK_PARTS_MOST || end[strspn(end, " \t")] != '\0') {
        text_printf(fault, "\"%s\": after * stands how many there are, 1 to %d", star, STOCK_PARTS_MOST);
        return false;
    }
    *ret_most = (unsigned)most;
    return true;
}

static bool read_part(char *string, struct stock *stock, struct text *fault)
{
    struct answer answer;
    answer_init(&answer);
    char *star = strchr(string, '*');
    unsigned most;
    bool ok = read_most(star, &most, fault);
    if (ok) {
        if (star != NULL) {
            *star = '\0';
        }
        text_printf(fault, "\"%s\": ", string);
        answer_read(string, &answer, fault);
        bool ohms = !answer.has_unit || answer.quantity == EXACT_RESISTANCE;
        ok = answer.form == ANSWER_NUMBER && ohms && mpq_sgn(answer.number) > 0 && stock->count < STOCK_KINDS_MOST;
        if (ok) {
            mpq_mul(answer.number, answer.number, answer.factor);
            stock_add(stock, answer.number, most);
            text_clear(fault);
        } else if (answer.form != ANSWER_REFUSED) {
            text_add(fault, "not a resistance above 0, such as 4.7 kohm or 56 ohm*2");
        }
    }
    answer_done(&answer);
    return ok;
}

bool stock_read(const char *list, struct stock *stock, struct text *fault)
{
    bool ok = true;
    const char *at = list;
    while (ok) {
        size_t length = strcspn(at, ",");
        struct text part = {0};
        text_add_length(&part, at, length);
        ok = read_part(part.bytes, stock, fault);
        text_done(&part);
        if (at[length] == '\0') {
            break;
        }
        at += length + 1;
    }
    return ok;
}

bool stock_series(const char *series, unsigned decades, const mpq_t wanted, struct stock *stock,
                  unsigned *ret_tolerance_percent)
{
    bool found = false;
    mpq_t decade;
    mpq_t ohm;
    mpq_t ten;
    mpq_init(decade);
    mpq_init(ohm);
    mpq_init(ten);
    mpq_set_ui(ten, 10, 1);
    mpq_set_ui(decade, 1, 1);
    /* The decade that holds the wanted value, then one up and one down. */
    for (; mpq_cmp(decade, wanted) > 0; mpq_div(decade, decade, ten)) {
    }
    for (mpq_mul(ohm, decade, ten); mpq_cmp(ohm, wanted) <= 0; mpq_mul(ohm, decade, ten)) {
        mpq_set(decade, ohm);
    }
    if (decades > 2) {
        mpq_div(decade, decade, ten);
    }
    for (unsigned d = 0; d < decades; d++) {
        for (size_t i = 0; i < ref_preferred_number_count; i++) {
            if (strcmp(ref_preferred_number_rows[i].series, series) == 0 &&
                exact_read(ohm, ref_preferred_number_rows[i].value)) {
                found = true;
                *ret_tolerance_percent = (unsigned)ref_preferred_number_rows[i].tolerance_percent;
                mpq_mul(ohm, ohm, decade);
                stock_add(stock, ohm, 0);
            }
        }
        mpq_mul(decade, decade, ten);
    }
    mpq_clear(decade);
    mpq_clear(ohm);
    mpq_clear(ten);
    return found;
}

/* The networks that are joined in one way, side by side or in a row: a || b || c is one joint of three. */
struct members {
    size_t *node;
    size_t count;
    size_t capacity;
};

static void collect(const struct stock_answer *answer, size_t index, enum network_kind kind, struct members *members)
{
    if (answer->nodes[index].kind == kind) {
        collect(answer, answer->nodes[index].left, kind, members);
        collect(answer, answer->nodes[index].right, kind, members);
    } else {
        members->node = memory_grow(members->node, members->count, &members->capacity, sizeof *members->node);
        members->node[members->count++] = index;
    }
}

static void write_part(struct text *text, const struct network_node *node)
{
    unsigned digits = exact_digits(node->ohm);
    exact_figure(text, node->ohm, EXACT_RESISTANCE, digits > 0 ? digits : FIGURES);
}

static void write_network(struct text *text, const struct stock_answer *answer, size_t index)
{
    const struct network_node *node = &answer->nodes[index];
    if (node->kind == NETWORK_PART) {
        write_part(text, node);
        return;
    }
    struct members members = {0};
    collect(answer, index, node->kind, &members);
    for (size_t i = 0; i < members.count; i++) {
        bool joint = answer->nodes[members.node[i]].kind != NETWORK_PART;
        text_add(text, i == 0 ? "" : node->kind == NETWORK_SERIES ? " + " : " || ");
        text_add(text, joint ? "(" : "");
        write_network(text, answer, members.node[i]);
        text_add(text, joint ? ")" : "");
    }
    free(members.node);
}

void stock_words(struct text *text, const struct stock *stock, const struct stock_answer *answer)
{
    (void)stock;
    if (answer->parts > 0) {
        write_network(text, answer, answer->root);
    }
}

/* A drawing: lines of equal width; the current enters and leaves on line `axis`. */
struct sketch {
    struct text *line;
    size_t count;
    size_t width;
    size_t axis;
};

static void sketch_done(struct sketch *sketch)
{
    for (size_t i = 0; i < sketch->count; i++) {
        text_done(&sketch->line[i]);
    }
    free(sketch->line);
}

static struct sketch sketch_new(size_t lines, size_t axis)
{
    struct sketch sketch = {.line = memory_resize(NULL, lines, sizeof(struct text)), .count = lines, .axis = axis};
    memset(sketch.line, 0, lines * sizeof(struct text));
    return sketch;
}

static void add_times(struct text *text, char c, size_t times)
{
    for (size_t i = 0; i < times; i++) {
        text_add_char(text, c);
    }
}

static struct sketch draw_network(const struct stock_answer *answer, size_t index);

static struct sketch draw_part(const struct network_node *node)
{
    struct sketch sketch = sketch_new(1, 0);
    text_add(&sketch.line[0], "--[");
    write_part(&sketch.line[0], node);
    text_add(&sketch.line[0], "]--");
    sketch.width = sketch.line[0].length;
    return sketch;
}

/* One behind the other, all on one axis. */
static struct sketch draw_series(const struct sketch *part, size_t count)
{
    size_t above = 0;
    size_t below = 0;
    for (size_t i = 0; i < count; i++) {
        above = part[i].axis > above ? part[i].axis : above;
        size_t under = part[i].count - 1 - part[i].axis;
        below = under > below ? under : below;
    }
    struct sketch sketch = sketch_new(above + below + 1, above);
    for (size_t i = 0; i < count; i++) {
        for (size_t line = 0; line < sketch.count; line++) {
            size_t own = line + part[i].axis - above; /* wraps where the part has no such line */
            if (line + part[i].axis >= above && own < part[i].count) {
                text_add(&sketch.line[line], text_string(&part[i].line[own]));
            } else {
                add_times(&sketch.line[line], ' ', part[i].width);
            }
        }
        sketch.width += part[i].width;
    }
    return sketch;
}

/* One above the other between two rails. */
static struct sketch draw_parallel(const struct sketch *part, size_t count)
{
    size_t lines = 0;
    size_t width = 0;
    for (size_t i = 0; i < count; i++) {
        lines += part[i].count;
        width = part[i].width > width ? part[i].width : width;
    }
    size_t first = part[0].axis;
    size_t last = lines - part[count - 1].count + part[count - 1].axis;
    struct sketch sketch = sketch_new(lines, first);
    sketch.width = width + 6;
    size_t line = 0;
    for (size_t i = 0; i < count; i++) {
        for (size_t own = 0; own < part[i].count; own++, line++) {
            bool axis = own == part[i].axis;
            char rail = line < first || line > last ? ' ' : axis ? '+' : '|';
            text_add(&sketch.line[line], line == first ? "--" : "  ");
            text_add_char(&sketch.line[line], rail);
            text_add(&sketch.line[line], text_string(&part[i].line[own]));
            add_times(&sketch.line[line], axis ? '-' : ' ', width - part[i].width);
            text_add_char(&sketch.line[line], rail);
            text_add(&sketch.line[line], line == first ? "--" : "  ");
        }
    }
    return sketch;
}

static struct sketch draw_network(const struct stock_answer *answer, size_t index)
{
    const struct network_node *node = &answer->nodes[index];
    if (node->kind == NETWORK_PART) {
        return draw_part(node);
    }
    struct members members = {0};
    collect(answer, index, node->kind, &members);
    struct sketch *part = memory_resize(NULL, members.count, sizeof *part);
    for (size_t i = 0; i < members.count; i++) {
        part[i] = draw_network(answer, members.node[i]);
    }
    struct sketch sketch =
        node->kind == NETWORK_SERIES ? draw_series(part, members.count) : draw_parallel(part, members.count);
    for (size_t i = 0; i < members.count; i++) {
        sketch_done(&part[i]);
    }
    free(part);
    free(members.node);
    return sketch;
}

void stock_draw(struct text *text, const struct stock *stock, const struct stock_answer *answer)
{
    (void)stock;
    if (answer->parts == 0) {
        return;
    }
    struct sketch sketch = draw_network(answer, answer->root);
    for (size_t line = 0; line < sketch.count; line++) {
        size_t start = text->length;
        text_add(text, line == sketch.axis ? "o" : " ");
        text_add(text, text_string(&sketch.line[line]));
        text_add(text, line == sketch.axis ? "o" : "");
        while (text->length > start && text->bytes[text->length - 1] == ' ') {
            text->bytes[--text->length] = '\0';
        }
        text_add_char(text, '\n');
    }
    sketch_done(&sketch);
}

/* Nodes stand behind their parts, so the voltages come about from the last node to the first. */
void stock_powers(const struct stock_answer *answer, const mpq_t voltage, mpq_t *ret_voltage, mpq_t *ret_power)
{
    for (size_t i = answer->count; i-- > 0;) {
        const struct network_node *node = &answer->nodes[i];
        if (i == answer->root) {
            mpq_set(ret_voltage[i], voltage);
        }
        mpq_mul(ret_power[i], ret_voltage[i], ret_voltage[i]);
        mpq_div(ret_power[i], ret_power[i], node->ohm);
        if (node->kind == NETWORK_PARALLEL) {
            mpq_set(ret_voltage[node->left], ret_voltage[i]);
            mpq_set(ret_voltage[node->right], ret_voltage[i]);
        } else if (node->kind == NETWORK_SERIES) {
            mpq_mul(ret_voltage[node->left], ret_voltage[i], answer->nodes[node->left].ohm);
            mpq_div(ret_voltage[node->left], ret_voltage[node->left], node->ohm);
            mpq_sub(ret_voltage[node->right], ret_voltage[i], ret_voltage[node->left]);
        }
    }
}

static void find_alike(const mpq_t wanted, const mpq_t part, struct stock *stock, struct stock_answer *answer)
{
    *stock = (struct stock){0};
    *answer = (struct stock_answer){0};
    if (mpq_sgn(wanted) > 0 && mpq_sgn(part) > 0) {
        stock_add(stock, part, 0);
        stock_find(stock, wanted, ALIKE_MOST, answer);
    }
}

bool stock_alike_count(const mpq_t wanted, const mpq_t part, mpq_t ret_count)
{
    struct stock stock;
    struct stock_answer answer;
    find_alike(wanted, part, &stock, &answer);
    bool exact = answer.exact;
    if (exact) {
        mpq_set_ui(ret_count, answer.parts, 1);
    }
    stock_answer_done(&answer);
    stock_done(&stock);
    return exact;
}

void stock_alike_words(const mpq_t wanted, const mpq_t part, struct text *text)
{
    struct stock stock;
    struct stock_answer answer;
    find_alike(wanted, part, &stock, &answer);
    stock_words(text, &stock, &answer);
    stock_answer_done(&answer);
    stock_done(&stock);
}
