/* What a question's drawing shows, and the sentence that says it. */
#include "ampsum/lesson_figure.h"

#include <ctype.h>
#include <string.h>

enum { VALUE_FIGURES = 12, NODES_MOST = 16, NO_RAIL = NODES_MOST };

struct maker {
    const struct lesson_plan *plan;
    const struct lesson_question *question;
    struct arena *arena;
    struct lesson_figure *figure;
    struct writing writing;
    size_t capacity;
};

/* The text in the writing of the sheet, in the arena; empties it. */
static const char *taken(const struct maker *maker, struct text *text)
{
    struct text written = {0};
    language_write(&written, &maker->writing, text_string(text));
    const char *string = arena_text(maker->arena, &written);
    text_done(text);
    return string;
}

static void add_said(const struct maker *maker, struct text *text, const char *message)
{
    say_message(text, maker->plan->language, message);
}

/* The number and its unit, which no line's end parts. */
static void add_figure(const struct maker *maker, struct text *text, const struct lesson_quantity *quantity)
{
    struct text figure = {0};
    lesson_amount(&figure, maker->plan->language, quantity->value, quantity, VALUE_FIGURES);
    for (const char *at = text_string(&figure); *at != '\0'; at++) {
        if (*at == ' ') {
            text_add(text, "\xC2\xA0");
        } else {
            text_add_char(text, *at);
        }
    }
    text_done(&figure);
}

/* "R1 = 12 ohm", "R1 = ?". */
static void add_value(const struct maker *maker, struct text *text, const struct lesson_quantity *quantity)
{
    add_said(maker, text, quantity->symbol);
    text_add(text, " = ");
    if (quantity->given) {
        add_figure(maker, text, quantity);
    } else {
        text_add_char(text, '?');
    }
}

static const struct lesson_quantity *quantity_at(const struct maker *maker, size_t index)
{
    return &maker->question->quantities[index];
}

/* The first given quantity of that symbol; NULL where there is none. */
static const struct lesson_quantity *given_as(const struct maker *maker, const char *symbol)
{
    for (size_t i = 0; i < maker->question->count; i++) {
        const struct lesson_quantity *quantity = quantity_at(maker, i);
        if (quantity->given && strcmp(quantity->symbol, symbol) == 0) {
            return quantity;
        }
    }
    return NULL;
}

/* A load with a name: the name and all that is given of it. */
static void add_named(const struct maker *maker, struct text *text, const struct lesson_quantity *quantity)
{
    bool given = false;
    add_said(maker, text, quantity->subject);
    if (text->length > 0 && text->bytes[text->length - 1] == ':') {
        text->bytes[--text->length] = '\0'; /* the story goes on behind it */
        if (text->length > 1 && strcmp(text->bytes + text->length - 2, "\xC2\xA0") == 0) {
            text->length -= 2;
            text->bytes[text->length] = '\0';
        }
    }
    for (size_t i = 0; i < maker->question->count; i++) {
        const struct lesson_quantity *other = quantity_at(maker, i);
        if (other->given && strcmp(other->subject, quantity->subject) == 0) {
            text_add(text, ", ");
            add_value(maker, text, other);
            given = true;
        }
    }
    if (!given) {
        text_add(text, ", ");
        add_value(maker, text, quantity);
    }
}

static bool has_name(const struct maker *maker, const struct lesson_quantity *quantity)
{
    return maker->question->mains && quantity->subject[0] != '\0' && quantity->measure != EXACT_VOLTAGE;
}

static const char *label_of(const struct maker *maker, size_t index)
{
    struct text text = {0};
    (has_name(maker, quantity_at(maker, index)) ? add_named : add_value)(maker, &text, quantity_at(maker, index));
    return taken(maker, &text);
}

/* "I1" for R1 and P1; NULL for what has no number. */
static const char *current_of_load(const struct maker *maker, size_t index)
{
    const char *symbol = quantity_at(maker, index)->symbol;
    if (strchr("RP", symbol[0]) == NULL || symbol[1] == '\0' || symbol[1 + strspn(symbol + 1, "0123456789")] != '\0') {
        return NULL;
    }
    struct text text = {0};
    text_printf(&text, "I%s", symbol + 1);
    return taken(maker, &text);
}

static struct lesson_rung *add_rung(struct maker *maker, const char *label, size_t from, size_t to, size_t row)
{
    struct lesson_figure *figure = maker->figure;
    if (figure->count == maker->capacity) {
        struct lesson_rung *rungs = arena_array(maker->arena, 2 * maker->capacity + 4, sizeof *rungs);
        if (figure->count > 0) {
            memcpy(rungs, figure->rungs, figure->count * sizeof *rungs);
        }
        figure->rungs = rungs;
        maker->capacity = 2 * maker->capacity + 4;
    }
    struct lesson_rung *rung = &figure->rungs[figure->count++];
    *rung = (struct lesson_rung){.label = label, .from = from, .to = to, .row = row};
    figure->rows = row + 1 > figure->rows ? row + 1 : figure->rows;
    return rung;
}

/* The first row in which nothing stands between those rails. */
static size_t free_row(const struct maker *maker, size_t from, size_t to)
{
    size_t row = 0;
    for (size_t i = 0; i < maker->figure->count; i++) {
        const struct lesson_rung *rung = &maker->figure->rungs[i];
        if (rung->row == row && rung->from < to && from < rung->to) {
            row++;
            i = (size_t)-1; /* look again from the first on */
        }
    }
    return row;
}

/* ------------------------------------------------------------------ networks ------------------------------ */

/* The rail of each node: 1 at the left, 0 at the right, the others between in the order of their numbers. */
static size_t find_rails(const struct lesson_circuit *circuit, size_t *ret_rail)
{
    bool there[NODES_MOST] = {false};
    size_t count = 0;
    for (size_t i = 0; i < circuit->count; i++) {
        there[circuit->elements[i].from % NODES_MOST] = true;
        there[circuit->elements[i].to % NODES_MOST] = true;
    }
    for (size_t node = 1; node < NODES_MOST; node++) {
        ret_rail[node] = there[node] ? count++ : NO_RAIL;
    }
    ret_rail[0] = count++;
    return count;
}

static bool is_wire_both_ways(const struct maker *maker, const struct lesson_element *element)
{
    return maker->question->drawing == DRAW_WIRE && maker->question->in_series == NULL && element->from == 1 &&
           element->to == 2;
}

/* The wire out and the wire back, which are one element of the circuit. */
static void add_wire(struct maker *maker, const struct lesson_element *element)
{
    static const char *const keys[] = {"figure.wire-out", "figure.wire-back"};
    const struct lesson_quantity *both = quantity_at(maker, element->quantity);
    for (size_t i = 0; i < 2; i++) {
        struct text text = {0};
        text_add(&text, say_plain(maker->plan->language, keys[i]));
        if (both->operand_count == 1) {
            text_add(&text, ", ");
            add_figure(maker, &text, quantity_at(maker, both->operands[0]));
        }
        add_rung(maker, taken(maker, &text), i == 0 ? 0 : 2, i == 0 ? 1 : 3, 0);
    }
}

static void set_source(struct maker *maker, size_t index)
{
    struct text text = {0};
    add_value(maker, &text, quantity_at(maker, index));
    maker->figure->source = taken(maker, &text);
    maker->figure->total = "I";
    maker->figure->mains = maker->question->mains;
}

static void set_breaker(struct maker *maker)
{
    const struct lesson_quantity *breaker = given_as(maker, "subject.breaker");
    if (breaker != NULL) {
        struct text text = {0};
        add_figure(maker, &text, breaker);
        maker->figure->breaker = taken(maker, &text);
    }
}

static void note_drawn(struct maker *maker, size_t shown, size_t all)
{
    struct text first = {0};
    struct text last = {0};
    struct text note = {0};
    text_printf(&first, "%zu", shown);
    text_printf(&last, "%zu", all);
    say(&note, maker->plan->language, "figure.drawn", "shown", text_string(&first), "all", text_string(&last),
        (const char *)NULL);
    maker->figure->note = taken(maker, &note);
    text_done(&first);
    text_done(&last);
}

static void add_element(struct maker *maker, size_t index, const size_t *rail)
{
    const struct lesson_circuit *circuit = lesson_drawn_circuit(maker->question);
    const struct lesson_element *element = &circuit->elements[index];
    const bool back = maker->question->drawing == DRAW_WIRE && maker->question->in_series == NULL;
    const size_t from = rail[element->from];
    const size_t to = rail[element->to] - (back && element->to == 0 ? 1 : 0);
    struct lesson_rung *rung = add_rung(maker, label_of(maker, element->quantity), from, to, free_row(maker, from, to));
    rung->current = current_of_load(maker, element->quantity);
    rung->gate = maker->question->gate_at == index ? maker->question->gate : LESSON_NO_GATE;
}

static void make_network(struct maker *maker)
{
    const struct lesson_circuit *circuit = lesson_drawn_circuit(maker->question);
    const size_t most = lesson_loads_shown(maker->question);
    size_t rail[NODES_MOST];
    size_t loads = 0;
    maker->figure->rails = find_rails(circuit, rail);
    if (maker->question->drawing == DRAW_WIRE && maker->question->in_series == NULL) {
        rail[0] = maker->figure->rails++; /* the way back has a rail of its own */
    }
    for (size_t i = 0; i < circuit->count; i++) {
        const struct lesson_element *element = &circuit->elements[i];
        if (element->kind == ELEMENT_SOURCE) {
            set_source(maker, element->quantity);
        } else if (is_wire_both_ways(maker, element)) {
            add_wire(maker, element);
        } else if (loads++ < most) {
            add_element(maker, i, rail);
        }
    }
    set_breaker(maker);
    if (loads > most) {
        note_drawn(maker, most, loads);
    }
}

/* Legs A and B with the neutral between them. Two sources and the neutral's wire stand before the loads. */
static void make_split(struct maker *maker)
{
    static const char *const names[] = {"figure.leg-a", "figure.neutral", "figure.leg-b"};
    enum { BEFORE_LOADS = 3 };
    const struct lesson_circuit *circuit = &maker->question->circuit[0];
    const size_t loads = circuit->count - BEFORE_LOADS;
    set_source(maker, circuit->elements[0].quantity);
    maker->figure->total = NULL;
    maker->figure->rails = 3;
    maker->figure->split = true;
    maker->figure->neutral = "I N";
    for (size_t i = 0; i < 3; i++) {
        maker->figure->rail_names[i] = say_plain(maker->plan->language, names[i]);
    }
    for (size_t i = 0; i < loads; i++) {
        const size_t side = i < loads / 2 ? 0 : 1;
        const size_t quantity = circuit->elements[BEFORE_LOADS + i].quantity;
        struct lesson_rung *rung = add_rung(maker, label_of(maker, quantity), side, side + 1, i - side * (loads / 2));
        rung->current = current_of_load(maker, quantity);
    }
}

/* A load from each phase to the neutral's rail, and the neutral's wire back. */
static void make_star(struct maker *maker)
{
    static const char *const phases[] = {"L1", "L2", "L3"};
    static const char *const powers[] = {"P1", "P2", "P3"};
    const struct lesson_quantity *voltage = given_as(maker, "V");
    struct text text = {0};
    maker->figure->rails = 2;
    maker->figure->star = true;
    for (size_t i = 0; i < 3; i++) {
        add_value(maker, &text, given_as(maker, powers[i]));
        add_rung(maker, taken(maker, &text), 0, 1, i)->terminal = phases[i];
    }
    struct lesson_rung *back = add_rung(maker, say_plain(maker->plan->language, "figure.neutral"), 0, 1, 3);
    back->sign = LESSON_BARE;
    back->terminal = "N";
    back->back = true;
    back->current = "I N";
    add_said(maker, &text, voltage->subject);
    text_printf(&text, "%s ", say_plain(maker->plan->language, "language.colon"));
    add_value(maker, &text, voltage);
    maker->figure->note = taken(maker, &text);
}

/* What is used, side by side: the question is about energy, so that its voltage is not told. */
static void make_use(struct maker *maker)
{
    maker->figure->rails = 2;
    maker->figure->source = "";
    maker->figure->mains = true;
    for (size_t i = 0; i < maker->question->count; i++) {
        const struct lesson_quantity *quantity = quantity_at(maker, i);
        if (quantity->given && quantity->measure == EXACT_POWER) {
            struct text text = {0};
            add_named(maker, &text, quantity);
            add_rung(maker, taken(maker, &text), 0, 1, maker->figure->rows);
        }
    }
}

/* ------------------------------------------------------------------ others -------------------------------- */

static void make_machines(struct maker *maker)
{
    maker->figure->rails = 2;
    for (size_t i = 0; i < maker->question->count; i++) {
        const struct lesson_quantity *quantity = quantity_at(maker, i);
        if (quantity->given && quantity->measure == EXACT_VOLTAGE) {
            set_source(maker, i);
        } else if (quantity->given && quantity->measure == EXACT_POWER) {
            add_rung(maker, label_of(maker, i), 0, 1, maker->figure->rows)->sign = LESSON_MACHINE;
        }
    }
}

/* One behind the other, in the order in which they are given. */
static void make_loop(struct maker *maker)
{
    size_t rail = 0;
    for (size_t i = 0; i < maker->question->count; i++) {
        const struct lesson_quantity *quantity = quantity_at(maker, i);
        if (quantity->given && quantity->measure == EXACT_VOLTAGE) {
            set_source(maker, i);
        } else if (quantity->given &&
                   (quantity->measure == EXACT_RESISTANCE || quantity->measure == EXACT_PER_LENGTH)) {
            add_rung(maker, label_of(maker, i), rail, rail + 1, 0);
            rail++;
        }
    }
    maker->figure->rails = rail + 1;
}

static void make_point(struct maker *maker)
{
    size_t rows[2] = {0};
    maker->figure->point = true;
    maker->figure->rails = 2;
    for (size_t i = 0; i < maker->question->count; i++) {
        const struct lesson_quantity *quantity = quantity_at(maker, i);
        const size_t out = strcmp(quantity->subject, "subject.flows-out") == 0;
        if (quantity->given && quantity->measure == EXACT_CURRENT) {
            struct text text = {0};
            add_value(maker, &text, quantity);
            add_rung(maker, taken(maker, &text), out, out, rows[out]++)->sign = LESSON_BARE;
        }
    }
    add_rung(maker, "I = ?", 2, 2, 0)->sign = LESSON_BARE; /* the one that is not marked */
    maker->figure->rows = rows[0] > rows[1] ? rows[0] : rows[1];
}

static void make_shelf(struct maker *maker)
{
    struct text text = {0};
    struct text part = {0};
    struct text wanted = {0};
    maker->figure->rails = 2;
    for (size_t i = 0; i < maker->question->count; i++) {
        const struct lesson_quantity *quantity = quantity_at(maker, i);
        if (quantity->given && quantity->measure == EXACT_VOLTAGE) {
            set_source(maker, i);
        } else if (quantity->given && quantity->measure == EXACT_RESISTANCE) {
            add_value(maker, strcmp(quantity->symbol, "R") == 0 ? &wanted : &part, quantity);
        }
    }
    say(&text, maker->plan->language, "figure.shelf", "wanted", text_string(&wanted), "part", text_string(&part),
        (const char *)NULL);
    add_rung(maker, taken(maker, &text), 0, 1, 0);
    text_done(&part);
    text_done(&wanted);
}

/* A cell of the table: what is given, or the letter of the part that asks for it, in brackets. */
static const char *cell_of(const struct maker *maker, size_t index)
{
    const struct lesson_quantity *quantity = quantity_at(maker, index);
    struct text text = {0};
    if (quantity->given) {
        add_figure(maker, &text, quantity);
    } else {
        text_add_char(&text, '(');
        lesson_part(maker->question, index, &text, NULL);
        text_add_char(&text, ')');
    }
    return taken(maker, &text);
}

static const char *heading_of(const struct maker *maker, const char *message)
{
    struct text text = {0};
    add_said(maker, &text, message);
    return taken(maker, &text);
}

static void make_grid(struct maker *maker)
{
    static const char *const rows[LESSON_GRID_SIDE] = {"R1", "R2", "R3", "subject.all-together"};
    static const char *const columns[LESSON_GRID_SIDE] = {"R", "V", "I", "P"};
    make_network(maker);
    maker->figure->cells[0][0] = "";
    for (size_t i = 0; i < LESSON_GRID_SIDE; i++) {
        maker->figure->cells[0][1 + i] = heading_of(maker, columns[i]);
        maker->figure->cells[1 + i][0] = heading_of(maker, rows[i]);
        for (size_t column = 0; column < LESSON_GRID_SIDE; column++) {
            maker->figure->cells[1 + i][1 + column] = cell_of(maker, maker->question->grid[i][column]);
        }
    }
}

static void make_alike(struct maker *maker)
{
    enum { DRAWN = 3 };
    maker->figure->rails = 2;
    for (size_t i = 0; i < maker->question->count; i++) {
        const struct lesson_quantity *quantity = quantity_at(maker, i);
        if (quantity->given && quantity->measure == EXACT_VOLTAGE && maker->figure->source == NULL) {
            set_source(maker, i);
        } else if (quantity->given && quantity->measure == EXACT_POWER) {
            for (size_t row = 0; row < DRAWN; row++) {
                struct text text = {0};
                (maker->question->own ? add_named : add_value)(maker, &text, quantity);
                add_rung(maker, taken(maker, &text), 0, 1, row)->current = current_of_load(maker, i);
            }
        }
    }
    set_breaker(maker);
    maker->figure->note = say_plain(maker->plan->language, "figure.several");
}

/* ------------------------------------------------------------------ in words ------------------------------ */

/* "R1, R2 and R3". */
static void add_list(const struct maker *maker, struct text *text, const char *const *names, size_t count)
{
    struct text before = {0};
    for (size_t i = 0; i + 1 < count; i++) {
        text_printf(&before, "%s%s", i == 0 ? "" : ", ", names[i]);
    }
    if (count > 1) {
        say(text, maker->plan->language, "figure.and", "before", text_string(&before), "last", names[count - 1],
            (const char *)NULL);
    } else if (count == 1) {
        text_add(text, names[0]);
    }
    text_done(&before);
}

/* Of a load: its name or its letter; what is given of it stands in the question. */
static const char *name_of(const struct maker *maker, const struct lesson_rung *rung)
{
    size_t end = strcspn(rung->label, ",=");
    while (rung->label[end] == ',' && isdigit((unsigned char)rung->label[end + 1])) { /* 1,5 mm2 */
        end += 1 + strcspn(rung->label + end + 1, ",=");
    }
    while (end > 0 && rung->label[end - 1] == ' ') {
        end--;
    }
    return arena_copy_length(maker->arena, rung->label, end);
}

/* Names of the rungs that reach from rail `from` to rail `to`; how many. */
static size_t names_between(const struct maker *maker, size_t from, size_t to, const char **names)
{
    size_t count = 0;
    for (size_t i = 0; i < maker->figure->count; i++) {
        const struct lesson_rung *rung = &maker->figure->rungs[i];
        if (rung->from == from && rung->to == to) {
            names[count++] = name_of(maker, rung);
        }
    }
    return count;
}

/* "R1, R2 and R3", or how many there are of one: "5 of R1". */
static void add_between(const struct maker *maker, struct text *text, size_t from, size_t to)
{
    const char **names = arena_array(maker->arena, maker->figure->count, sizeof *names);
    const size_t count = names_between(maker, from, to, names);
    if (count > 1 && strcmp(names[0], names[1]) == 0) {
        struct text number = {0};
        text_printf(&number, "%zu", lesson_drawn_circuit(maker->question)->count - 1); /* but the source */
        say(text, maker->plan->language, "figure.times", "number", text_string(&number), "part", names[0],
            (const char *)NULL);
        text_done(&number);
    } else {
        add_list(maker, text, names, count);
    }
}

/* "12 V", "230 V of the house", "a source that is not known". */
static void add_source(const struct maker *maker, struct text *text)
{
    const int language = maker->plan->language;
    const char *label = maker->figure->source == NULL ? "?" : maker->figure->source;
    if (label[0] == '\0') {
        text_add(text, say_plain(language, "figure.supply"));
        return;
    }
    const char *equals = strstr(label, "= ");
    const char *value = equals == NULL ? label : equals + 2;
    if (strcmp(value, "?") == 0) {
        text_add(text, say_plain(language, "figure.unknown-source"));
    } else if (maker->figure->mains) {
        say(text, language, "figure.house", "source", value, (const char *)NULL);
    } else {
        text_add(text, value);
    }
}

static void add_gate(const struct maker *maker, struct text *text)
{
    static const char *const keys[] = {[LESSON_SWITCH_CLOSED] = "figure.gate-closed",
                                       [LESSON_SWITCH_OPEN] = "figure.gate-open",
                                       [LESSON_BREAK] = "figure.gate-break"};
    for (size_t i = 0; i < maker->figure->count; i++) {
        const struct lesson_rung *rung = &maker->figure->rungs[i];
        if (rung->gate != LESSON_NO_GATE) {
            say(text, maker->plan->language, keys[rung->gate], "part", name_of(maker, rung), (const char *)NULL);
        }
    }
}

static void say_network(const struct maker *maker, struct text *text)
{
    const struct lesson_figure *figure = maker->figure;
    const int language = maker->plan->language;
    const bool back = maker->question->drawing == DRAW_WIRE && maker->question->in_series == NULL;
    struct text source = {0};
    struct text loads = {0};
    struct text front = {0};
    add_source(maker, &source);
    add_between(maker, &loads, figure->rails > 2 ? 1 : 0, figure->rails - (back ? 2 : 1));
    if (back) {
        text_add(&front, say_plain(language, "figure.wire-both"));
    } else {
        add_between(maker, &front, 0, 1);
    }
    const bool in_series = figure->rails > 2;
    const bool one = figure->count == 1 + (size_t)in_series;
    const char *key = in_series ? (one ? "figure.one-behind" : "figure.behind") : one ? "figure.one" : "figure.beside";
    say(text, language, key, "parts", text_string(&loads), "source", text_string(&source), "front", text_string(&front),
        (const char *)NULL);
    text_done(&source);
    text_done(&loads);
    text_done(&front);
}

static void say_loop(const struct maker *maker, struct text *text)
{
    struct text source = {0};
    struct text parts = {0};
    const char **names = arena_array(maker->arena, maker->figure->count, sizeof *names);
    for (size_t i = 0; i < maker->figure->count; i++) {
        names[i] = name_of(maker, &maker->figure->rungs[i]);
    }
    add_source(maker, &source);
    add_list(maker, &parts, names, maker->figure->count);
    say(text, maker->plan->language, "figure.row", "parts", text_string(&parts), "source", text_string(&source),
        (const char *)NULL);
    text_done(&source);
    text_done(&parts);
}

/* Any other network: what lies between each two rails, from the left. */
static void say_rails(const struct maker *maker, struct text *text)
{
    if (maker->figure->rows == 1) {
        say_loop(maker, text);
        return;
    }
    struct text source = {0};
    struct text parts = {0};
    add_source(maker, &source);
    for (size_t i = 0; i < maker->figure->count; i++) {
        const struct lesson_rung *rung = &maker->figure->rungs[i];
        text_printf(&parts, "%s%s (%zu-%zu)", i == 0 ? "" : ", ", name_of(maker, rung), rung->from + 1, rung->to + 1);
    }
    say(text, maker->plan->language, "figure.network", "parts", text_string(&parts), "source", text_string(&source),
        (const char *)NULL);
    text_done(&source);
    text_done(&parts);
}

static void say_split(const struct maker *maker, struct text *text)
{
    struct text source = {0};
    struct text first = {0};
    struct text second = {0};
    add_source(maker, &source);
    add_between(maker, &first, 0, 1);
    add_between(maker, &second, 1, 2);
    say(text, maker->plan->language, "figure.split", "first", text_string(&first), "second", text_string(&second),
        "source", text_string(&source), (const char *)NULL);
    text_done(&source);
    text_done(&first);
    text_done(&second);
}

static void say_star(const struct maker *maker, struct text *text)
{
    struct text voltage = {0};
    add_figure(maker, &voltage, given_as(maker, "V"));
    say(text, maker->plan->language, "figure.star", "first", name_of(maker, &maker->figure->rungs[0]), "second",
        name_of(maker, &maker->figure->rungs[1]), "third", name_of(maker, &maker->figure->rungs[2]), "source",
        taken(maker, &voltage), (const char *)NULL);
}

static void say_point(const struct maker *maker, struct text *text)
{
    struct text in = {0};
    struct text out = {0};
    add_between(maker, &in, 0, 0);
    add_between(maker, &out, 1, 1);
    say(text, maker->plan->language, "figure.point", "in", text_string(&in), "out", text_string(&out),
        (const char *)NULL);
    text_done(&in);
    text_done(&out);
}

static void say_alike(const struct maker *maker, struct text *text)
{
    struct text source = {0};
    add_source(maker, &source);
    say(text, maker->plan->language, "figure.alike", "part", maker->figure->rungs[0].label, "source",
        text_string(&source), (const char *)NULL);
    text_done(&source);
}

static void say_shelf(const struct maker *maker, struct text *text)
{
    text_add(text, maker->figure->rungs[0].label);
}

/* ------------------------------------------------------------------ all ----------------------------------- */

static const struct {
    void (*make)(struct maker *maker);
    void (*tell)(const struct maker *maker, struct text *text);
} drawings[] = {
    [DRAW_PARALLEL] = {make_network, say_network},
    [DRAW_WIRE] = {make_network, say_network},
    [DRAW_NETWORK] = {make_network, say_rails},
    [DRAW_SPLIT] = {make_split, say_split},
    [DRAW_MACHINES] = {make_machines, say_network},
    [DRAW_POINT] = {make_point, say_point},
    [DRAW_SHELF] = {make_shelf, say_shelf},
    [DRAW_LOOP] = {make_loop, say_loop},
    [DRAW_ALIKE] = {make_alike, say_alike},
    [DRAW_GRID] = {make_grid, say_network},
    [DRAW_STAR] = {make_star, say_star},
    [DRAW_USE] = {make_use, say_network},
};

static const char *sentence_of(const struct maker *maker)
{
    struct text text = {0};
    const int language = maker->plan->language;
    drawings[maker->question->drawing].tell(maker, &text);
    add_gate(maker, &text);
    if (maker->figure->breaker != NULL) {
        say(&text, language, "figure.breaker-before", "rating", maker->figure->breaker, (const char *)NULL);
    }
    text_add_char(&text, '.');
    if (isascii((unsigned char)text.bytes[0]) && maker->question->mains) {
        text.bytes[0] = (char)toupper((unsigned char)text.bytes[0]);
    }
    const char *string =
        arena_copy(maker->arena, text_string(&text)); /* its parts are in the sheet's writing already */
    text_done(&text);
    return string;
}

bool lesson_figure(const struct lesson_plan *plan, const struct lesson_question *question, bool paper,
                   struct arena *arena, struct lesson_figure *ret_figure)
{
    *ret_figure = (struct lesson_figure){0};
    if (question->drawing == DRAW_NONE) {
        return false;
    }
    struct maker maker = {plan, question, arena, ret_figure, lesson_writing(plan, paper), 0};
    drawings[question->drawing].make(&maker);
    ret_figure->title = say_plain(plan->language, "figure.title");
    ret_figure->sentence = sentence_of(&maker);
    return true;
}
