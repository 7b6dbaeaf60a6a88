/* A circuit typed in, as the trade draws it: a source, parts in a row and side by side, the way back below. */
#include <math.h>
#include <string.h>

#include "ampsum/language.h"
#include "ampsum/print_network.h"
#include "ladder.h"
#include "pictures.h"

/* Distances of a drawing of scale 1, points. */
static const double source_x = 34;
static const double left_x = 84;
static const double right_x = PICTURE_WIDTH - 14;
static const double resistor_half = 20;
static const double resistor_half_height = 6;
static const double wire_up = 22;   /* room above a part's wire: its name */
static const double wire_down = 30; /* below it: its value, its figures */
static const double part_least = 78;
static const double rail = 14; /* from the end of a group to its joint */
static const double band_gap = 26;
static const double scale_least = 0.55;
static const struct canvas_font name_font = {8.5, true};
static const struct canvas_font value_font = {8, false};

/* What a node takes: its width, and what lies above and below its wire. */
struct box {
    double width;
    double up;
    double down;
};

struct network {
    const struct circuit_work *work;
    const struct circuit_figures *figures;
    struct network_style style;
    struct box *box; /* by node */
    double scale;
    double far_x; /* of the way back, unscaled */
    const char *source;
    struct arena *arena;
};

struct sketch {
    struct canvas *canvas;
    const struct network *network;
};

/* ------------------------------------------------------------------ measuring ----------------------------- */

static const struct circuit *circuit_of(const struct network *network)
{
    return &network->work->circuit;
}

static bool is_broken(const struct network *network, size_t node, enum circuit_break how)
{
    return network->style.broken && network->work->broken != NULL && network->work->broken[node] == how;
}

/* Name, and where the part stands for several, how many. */
static const char *part_name(const struct network *network, size_t node)
{
    struct text text = {0};
    show_circuit_row_name(circuit_of(network), network->work->style.language, node, &text);
    return picture_string(network->arena, &text);
}

static const char *part_value(const struct network *network, size_t node)
{
    struct text text = {0};
    const bool hidden = network->style.blank && node == circuit_of(network)->unknown;
    if (hidden) {
        text_add(&text, "?");
    } else {
        const struct circuit_solution *solution = &network->work->answer.solutions[network->style.solution];
        circuit_write_value(&text, solution->ohm[node], CIRCUIT_R, &network->work->style);
    }
    const bool open = is_broken(network, node, CIRCUIT_OPENED);
    if (open || is_broken(network, node, CIRCUIT_SHORTED)) {
        struct text broken = {0};
        text_add_char(&text, ',');
        say(&broken, network->work->style.language, open ? "solve.is-open" : "solve.is-shorted", "part",
            text_string(&text), (const char *)NULL);
        text_done(&text);
        text = broken;
    }
    return picture_string(network->arena, &text);
}

/* `36 V, 1.8 A`; nothing on a sheet to be filled in. */
static const char *part_figures(const struct network *network, size_t node)
{
    struct text text = {0};
    const struct circuit_figure *cells = network->figures->node[node].cell;
    if (!network->style.blank && cells[CIRCUIT_V].state == CIRCUIT_FINITE && cells[CIRCUIT_I].state == CIRCUIT_FINITE) {
        circuit_write(&text, &cells[CIRCUIT_V], CIRCUIT_V, &network->work->style);
        text_add(&text, ", ");
        circuit_write(&text, &cells[CIRCUIT_I], CIRCUIT_I, &network->work->style);
    }
    return picture_string(network->arena, &text);
}

static struct box measure_part(const struct network *network, size_t node)
{
    const double widest = fmax(canvas_text_width(name_font, part_name(network, node)),
                               fmax(canvas_text_width(value_font, part_value(network, node)),
                                    canvas_text_width(value_font, part_figures(network, node))));
    return (struct box){fmax(part_least, widest + 12), wire_up, wire_down};
}

static void measure(struct network *network, size_t node)
{
    const struct circuit *circuit = circuit_of(network);
    struct box box = {0};
    if (circuit->nodes[node].kind == CIRCUIT_PART) {
        network->box[node] = measure_part(network, node);
        return;
    }
    for (size_t i = circuit->nodes[node].first; i != CIRCUIT_NONE; i = circuit->nodes[i].next) {
        if (circuit_is_repeated(circuit, i)) {
            continue;
        }
        measure(network, i);
        const struct box *one = &network->box[i];
        if (circuit->nodes[node].kind == CIRCUIT_SERIES) {
            box = (struct box){box.width + one->width, fmax(box.up, one->up), fmax(box.down, one->down)};
        } else if (i == circuit->nodes[node].first) {
            box = (struct box){one->width + 2 * rail, one->up, one->down};
        } else {
            box = (struct box){fmax(box.width, one->width + 2 * rail), box.up, box.down + one->up + one->down};
        }
    }
    network->box[node] = box;
}

/* ------------------------------------------------------------------ strokes ------------------------------- */

static void stroke(const struct sketch *sketch, double x1, double y1, double x2, double y2)
{
    const double scale = sketch->network->scale;
    canvas_line(sketch->canvas, x1 * scale, y1 * scale, x2 * scale, y2 * scale, pen_line);
}

static void dot(const struct sketch *sketch, double x, double y)
{
    const double scale = sketch->network->scale;
    canvas_circle(sketch->canvas, x * scale, y * scale, 2, true, 0);
}

static void write_at(const struct sketch *sketch, double x, double y, enum canvas_anchor anchor,
                     struct canvas_font font, const char *string)
{
    const double scale = sketch->network->scale;
    font.size *= scale;
    canvas_text(sketch->canvas, x * scale, y * scale, anchor, font, string);
}

static void draw_resistor(const struct sketch *sketch, double x, double y)
{
    const double scale = sketch->network->scale;
    const struct sign_style style = {scale, 1, 8.5 * scale, sketch->network->style.zigzag};
    sign_resistor(sketch->canvas, &style, x * scale, y * scale, resistor_half * scale, resistor_half_height * scale);
}

/* An open part: its wire broken off, with a gap. A shorted one: a wire across its ends. */
static void draw_fault(const struct sketch *sketch, size_t node, double x, double y)
{
    const double above = 11;
    if (is_broken(sketch->network, node, CIRCUIT_OPENED)) {
        stroke(sketch, x + resistor_half + 3, y - 6, x + resistor_half + 9, y + 6);
        stroke(sketch, x + resistor_half + 7, y - 6, x + resistor_half + 13, y + 6);
    } else if (is_broken(sketch->network, node, CIRCUIT_SHORTED)) {
        stroke(sketch, x - resistor_half - 6, y, x - resistor_half - 6, y - above);
        stroke(sketch, x - resistor_half - 6, y - above, x + resistor_half + 6, y - above);
        stroke(sketch, x + resistor_half + 6, y - above, x + resistor_half + 6, y);
    }
}

static void draw_part(const struct sketch *sketch, size_t node, double x, double y, double width)
{
    const struct network *network = sketch->network;
    const double middle = x + width / 2;
    const bool open = is_broken(network, node, CIRCUIT_OPENED);
    const char *name = part_name(network, node);
    canvas_group(sketch->canvas, name, part_value(network, node));
    stroke(sketch, x, y, middle - resistor_half, y);
    stroke(sketch, middle + resistor_half + (open ? 10 : 0), y, x + width, y);
    if (open) {
        stroke(sketch, middle + resistor_half, y, middle + resistor_half + 6, y);
    }
    draw_resistor(sketch, middle, y);
    draw_fault(sketch, node, middle, y);
    write_at(sketch, middle, y - 14, CANVAS_MIDDLE, name_font, name);
    write_at(sketch, middle, y + 16, CANVAS_MIDDLE, value_font, part_value(network, node));
    write_at(sketch, middle, y + 26, CANVAS_MIDDLE, value_font, part_figures(network, node));
    canvas_group_end(sketch->canvas);
}

/* ------------------------------------------------------------------ groups -------------------------------- */

static void draw_node(const struct sketch *sketch, size_t node, double x, double y);

static void draw_row(const struct sketch *sketch, size_t node, double x, double y)
{
    const struct circuit *circuit = circuit_of(sketch->network);
    for (size_t i = circuit->nodes[node].first; i != CIRCUIT_NONE; i = circuit->nodes[i].next) {
        if (!circuit_is_repeated(circuit, i)) {
            draw_node(sketch, i, x, y);
            x += sketch->network->box[i].width;
        }
    }
}

static void draw_beside(const struct sketch *sketch, size_t node, double x, double y)
{
    const struct circuit *circuit = circuit_of(sketch->network);
    const struct box *whole = &sketch->network->box[node];
    const double left = x + rail;
    const double right = x + whole->width - rail;
    double at = y;
    size_t before = CIRCUIT_NONE;
    stroke(sketch, x, y, left, y);
    stroke(sketch, right, y, x + whole->width, y);
    for (size_t i = circuit->nodes[node].first; i != CIRCUIT_NONE; i = circuit->nodes[i].next) {
        if (circuit_is_repeated(circuit, i)) {
            continue;
        }
        const struct box *one = &sketch->network->box[i];
        const double from = at;
        at += before == CIRCUIT_NONE ? 0 : sketch->network->box[before].down + one->up;
        if (before != CIRCUIT_NONE) {
            stroke(sketch, left, from, left, at);
            stroke(sketch, right, from, right, at);
            dot(sketch, left, from);
            dot(sketch, right, from);
        }
        const double spare = (right - left - one->width) / 2;
        stroke(sketch, left, at, left + spare, at);
        stroke(sketch, right - spare, at, right, at);
        draw_node(sketch, i, left + spare, at);
        before = i;
    }
}

static void draw_node(const struct sketch *sketch, size_t node, double x, double y)
{
    switch (circuit_of(sketch->network)->nodes[node].kind) {
    case CIRCUIT_PART:
        draw_part(sketch, node, x, y, sketch->network->box[node].width);
        break;
    case CIRCUIT_SERIES:
        draw_row(sketch, node, x, y);
        break;
    case CIRCUIT_PARALLEL:
        draw_beside(sketch, node, x, y);
        break;
    }
}

/* ------------------------------------------------------------------ bands --------------------------------- */

/* Members of the root's row from `first` on that go into one band; what comes after them. */
struct band {
    size_t first;
    size_t end; /* CIRCUIT_NONE after the last */
    double width;
    double up;
    double down;
};

static double room(const struct network *network)
{
    return right_x / network->scale - left_x;
}

static struct band take_band(const struct network *network, size_t first)
{
    const struct circuit *circuit = circuit_of(network);
    struct band band = {.first = first, .end = first};
    if (circuit->nodes[circuit->root].kind != CIRCUIT_SERIES) {
        const struct box *box = &network->box[circuit->root];
        return (struct band){circuit->root, CIRCUIT_NONE, box->width, box->up, box->down};
    }
    while (band.end != CIRCUIT_NONE) {
        if (!circuit_is_repeated(circuit, band.end) || band.end == first) {
            const struct box *box = &network->box[band.end];
            if (band.end != first && band.width + box->width > room(network)) {
                break;
            }
            band = (struct band){first, band.end, band.width + box->width, fmax(band.up, box->up),
                                 fmax(band.down, box->down)};
        }
        band.end = circuit->nodes[band.end].next;
    }
    return band;
}

static size_t first_member(const struct circuit *circuit)
{
    return circuit->nodes[circuit->root].kind == CIRCUIT_SERIES ? circuit->nodes[circuit->root].first : circuit->root;
}

/* Height of all bands; ret_width: the widest. */
static double measure_bands(const struct network *network, double *ret_width)
{
    double height = 12;
    *ret_width = 0;
    for (size_t at = first_member(circuit_of(network)); at != CIRCUIT_NONE;) {
        const struct band band = take_band(network, at);
        height += band.up + band.down + band_gap;
        *ret_width = fmax(*ret_width, band.width);
        at = band.end;
    }
    return height + 8;
}

/* A source: long and short stroke of a battery, its value in a gap of the wire; without one, two terminals. */
static void draw_source(const struct sketch *sketch, double top, double bottom)
{
    const double middle = (top + bottom) / 2;
    const double gap = middle + 11; /* of the wire, for the value; below the way back where there is no room */
    const double gap_end = gap + 14;
    const bool given = sketch->network->source != NULL;
    const bool fits = given && gap_end < bottom;
    stroke(sketch, source_x, top, source_x, middle - 4);
    stroke(sketch, source_x, middle + 4, source_x, fits ? gap : bottom);
    if (!given) {
        dot(sketch, source_x, middle - 4);
        dot(sketch, source_x, middle + 4);
        return;
    }
    if (fits) {
        stroke(sketch, source_x, gap_end, source_x, bottom);
    }
    stroke(sketch, source_x - 11, middle - 4, source_x + 11, middle - 4);
    stroke(sketch, source_x - 6, middle + 4, source_x + 6, middle + 4);
    write_at(sketch, source_x + 13, middle - 7, CANVAS_START, value_font, "+");
    write_at(sketch, source_x, fits ? gap + 10 : bottom + 12, CANVAS_MIDDLE, name_font, sketch->network->source);
}

/* The breaker's sign in the wire from the source: a cross at the fixed end of a contact, its rating above. */
static void draw_breaker(const struct sketch *sketch, double y)
{
    const struct circuit_work *work = sketch->network->work;
    struct text rating = {0};
    const double x = source_x + 14;
    stroke(sketch, source_x, y, x, y);
    stroke(sketch, x - 3, y - 3, x + 3, y + 3);
    stroke(sketch, x - 3, y + 3, x + 3, y - 3);
    stroke(sketch, x, y, x + 22, y - 8);
    stroke(sketch, x + 24, y, left_x, y);
    circuit_write_value(&rating, work->breaker_a, CIRCUIT_I, &work->style);
    write_at(sketch, x + 10, y - 12, CANVAS_MIDDLE, value_font, text_string(&rating));
    text_done(&rating);
}

static void draw_band(const struct sketch *sketch, const struct band *band, double y)
{
    const struct circuit *circuit = circuit_of(sketch->network);
    double x = left_x;
    for (size_t i = band->first; i != band->end; i = circuit->nodes[i].next) {
        if (!circuit_is_repeated(circuit, i) || i == band->first) {
            draw_node(sketch, i, x, y);
            x += sketch->network->box[i].width;
        }
        if (i == circuit->root) {
            break;
        }
    }
}

static void draw_network(struct canvas *canvas, const struct picture *picture)
{
    const struct network *network = picture->data;
    const struct sketch sketch = {canvas, network};
    const double far = network->far_x;
    double top = 12;
    double wire = 0;
    double first_wire = 0;
    for (size_t at = first_member(circuit_of(network)); at != CIRCUIT_NONE;) {
        const struct band band = take_band(network, at);
        if (first_wire > 0) { /* from the end of the band before, below it, to the left of this one */
            stroke(&sketch, far, wire, far, top - band_gap / 2);
            stroke(&sketch, far, top - band_gap / 2, left_x - 12, top - band_gap / 2);
            stroke(&sketch, left_x - 12, top - band_gap / 2, left_x - 12, top + band.up);
            stroke(&sketch, left_x - 12, top + band.up, left_x, top + band.up);
        }
        wire = top + band.up;
        first_wire = first_wire > 0 ? first_wire : wire;
        draw_band(&sketch, &band, wire);
        stroke(&sketch, left_x + band.width, wire, far, wire);
        top += band.up + band.down + band_gap;
        at = band.end;
    }
    const double bottom = top - band_gap + 6;
    stroke(&sketch, far, wire, far, bottom);
    stroke(&sketch, far, bottom, source_x, bottom);
    draw_source(&sketch, first_wire, bottom);
    if (network->work->has_breaker) {
        draw_breaker(&sketch, first_wire);
    } else {
        stroke(&sketch, source_x, first_wire, left_x, first_wire);
    }
}

/* ------------------------------------------------------------------ making -------------------------------- */

static const char *title_of(const struct network *network)
{
    struct text text = {0};
    circuit_label(circuit_of(network), circuit_of(network)->root, &text);
    text_add(&text, network->style.broken ? say_plain(network->work->style.language, "solve.behind-fault") : "");
    return picture_string(network->arena, &text);
}

static const char *describe(const struct network *network)
{
    struct text text = {0};
    circuit_sentence(circuit_of(network), &network->work->style, &text);
    for (size_t i = 0; i < circuit_of(network)->part_count; i++) {
        const size_t node = circuit_of(network)->parts[i];
        const bool open = is_broken(network, node, CIRCUIT_OPENED);
        if (open || is_broken(network, node, CIRCUIT_SHORTED)) {
            text_add(&text, "; ");
            say(&text, network->work->style.language, open ? "solve.is-open" : "solve.is-shorted", "part",
                circuit_of(network)->nodes[node].name, (const char *)NULL);
        }
    }
    text_add_char(&text, '.');
    return picture_string(network->arena, &text);
}

/* ------------------------------------------------------------------ side by side -------------------------- */

enum { SIDE_BY_SIDE_MOST = 12 };

/* Parts side by side and nothing else: how many are drawn; 0 for any other circuit, and for a crowd. */
static size_t count_side_by_side(const struct circuit *circuit)
{
    size_t count = 0;
    if (circuit->nodes[circuit->root].kind != CIRCUIT_PARALLEL) {
        return 0;
    }
    for (size_t i = circuit->nodes[circuit->root].first; i != CIRCUIT_NONE; i = circuit->nodes[i].next) {
        if (circuit->nodes[i].kind != CIRCUIT_PART) {
            return 0;
        }
        count += !circuit_is_repeated(circuit, i);
    }
    return count <= SIDE_BY_SIDE_MOST ? count : 0;
}

static struct ladder_rung rung_of(const struct network *network, size_t node, size_t row)
{
    struct text figures = {0};
    const struct circuit_figure *current = &network->figures->node[node].cell[CIRCUIT_I];
    const bool told = !network->style.blank && current->state == CIRCUIT_FINITE;
    text_add(&figures, part_value(network, node));
    if (told) {
        text_add(&figures, ", ");
        circuit_write(&figures, current, CIRCUIT_I, &network->work->style);
    }
    return (struct ladder_rung){.name = part_name(network, node),
                                .figures = picture_string(network->arena, &figures),
                                .current = told && mpq_sgn(current->value) > 0 ? "" : NULL,
                                .gate = is_broken(network, node, CIRCUIT_OPENED) ? GATE_BREAK : GATE_NONE,
                                .bridged = is_broken(network, node, CIRCUIT_SHORTED),
                                .to = 1,
                                .row = row};
}

/* The current in the wire to a part and those behind it; none on a sheet, nor through a short. */
static struct ladder_stretch stretch_of(const struct network *network, size_t node)
{
    struct ladder_stretch stretch = {0};
    mpq_t current;
    mpq_init(current);
    if (!network->style.blank && circuit_behind(circuit_of(network), network->figures, node, current)) {
        struct text text = {0};
        circuit_write_value(&text, current, CIRCUIT_I, &network->work->style);
        stretch.current = picture_string(network->arena, &text);
        stretch.still = mpq_sgn(current) == 0;
    }
    mpq_clear(current);
    return stretch;
}

static const char *rating_of(const struct network *network)
{
    struct text rating = {0};
    if (!network->work->has_breaker) {
        return NULL;
    }
    circuit_write_value(&rating, network->work->breaker_a, CIRCUIT_I, &network->work->style);
    return picture_string(network->arena, &rating);
}

/* The drawing that a branch has, too: loads between two rails. */
static struct picture side_by_side(const struct network *network, size_t count)
{
    const struct circuit *circuit = circuit_of(network);
    struct arena *arena = network->arena;
    struct ladder *ladder = arena_take(arena, sizeof *ladder);
    struct ladder_rung *rungs = arena_array(arena, count, sizeof *rungs);
    struct ladder_stretch *stretches = arena_array(arena, count, sizeof *stretches);
    size_t row = 0;
    for (size_t i = circuit->nodes[circuit->root].first; i != CIRCUIT_NONE; i = circuit->nodes[i].next) {
        if (!circuit_is_repeated(circuit, i)) {
            rungs[row] = rung_of(network, i, row);
            stretches[row] = stretch_of(network, i);
            row++;
        }
    }
    *ladder = (struct ladder){.title = title_of(network),
                              .description = describe(network),
                              .rails = 2,
                              .rows = count,
                              .rungs = rungs,
                              .count = count,
                              .stretches = stretches,
                              .source = network->source,
                              .breaker = rating_of(network)};
    return ladder_picture(ladder, &(struct ladder_look){name_font.size, 1, network->style.zigzag, 0, false, true},
                          arena);
}

/* ------------------------------------------------------------------ either -------------------------------- */

/* One after the other and side by side, at the largest scale that fits; false where none does legibly. */
static bool nested(struct network *network, struct picture *ret_picture)
{
    const struct circuit *circuit = circuit_of(network);
    double width = 0;
    double height = 0;
    measure(network, circuit->root);
    for (; network->scale >= scale_least; network->scale -= 0.05) {
        height = measure_bands(network, &width);
        if (width <= room(network) && height * network->scale <= PICTURE_HEIGHT_MOST) {
            break;
        }
    }
    const bool one_band = take_band(network, first_member(circuit)).end == CIRCUIT_NONE;
    network->far_x = one_band ? fmin(right_x / network->scale, left_x + width + rail) : right_x / network->scale;
    *ret_picture = (struct picture){.title = title_of(network),
                                    .description = describe(network),
                                    .width = network->far_x * network->scale + PICTURE_WIDTH - right_x,
                                    .height = height * network->scale,
                                    .draw = draw_network,
                                    .data = network};
    return network->scale >= scale_least;
}

bool picture_network(const struct circuit_work *work, const char *source, struct network_style style,
                     struct arena *arena, struct picture *ret_picture)
{
    struct network *network = arena_array(arena, 1, sizeof *network);
    *network =
        (struct network){.work = work,
                         .figures = style.broken ? &work->after : &work->answer.solutions[style.solution].figures,
                         .style = style,
                         .box = arena_array(arena, work->circuit.node_count, sizeof(struct box)),
                         .scale = 1,
                         .source = source,
                         .arena = arena};
    const size_t count = count_side_by_side(&work->circuit);
    if (count == 0) {
        return nested(network, ret_picture);
    }
    *ret_picture = side_by_side(network, count);
    return true;
}
