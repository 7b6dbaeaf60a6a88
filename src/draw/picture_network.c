/* A circuit typed in, as the trade draws it: a source, and between its rails parts in a row and side by side. */
#include "ampsum/language.h"
#include "ampsum/print_network.h"
#include "ladder.h"
#include "pictures.h"

static const double name_size = 8.5; /* of the lettering where the circuit leaves it room */
static const double screen_size = 13.5;
static const double screen_least = 11;
static const double spread = 480;    /* of a circuit that is no narrow screen's: it is told by its width */
static const double screenful = 400; /* height to which smaller letters are the better choice */
static const double scale_least = 0.55;

struct network {
    const struct circuit_work *work;
    const struct circuit_figures *figures;
    struct network_style style;
    const char *source;
    struct arena *arena;
};

/* ------------------------------------------------------------------ words --------------------------------- */

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

/* ------------------------------------------------------------------ parts --------------------------------- */

static enum wire_gate gate_of(const struct network *network, size_t node)
{
    return is_broken(network, node, CIRCUIT_OPENED) ? GATE_BREAK : GATE_NONE;
}

static size_t count_drawn(const struct circuit *circuit, size_t group)
{
    size_t count = 0;
    for (size_t i = circuit->nodes[group].first; i != CIRCUIT_NONE; i = circuit->nodes[i].next) {
        count += !circuit_is_repeated(circuit, i);
    }
    return count;
}

static struct ladder_part part_of(const struct network *network, size_t node)
{
    const struct circuit *circuit = circuit_of(network);
    struct ladder_part part = {0};
    if (circuit->nodes[node].kind == CIRCUIT_PART) {
        return (struct ladder_part){.kind = LADDER_LOAD,
                                    .name = part_name(network, node),
                                    .figures = part_value(network, node),
                                    .more = part_figures(network, node),
                                    .gate = gate_of(network, node),
                                    .bridged = is_broken(network, node, CIRCUIT_SHORTED)};
    }
    struct ladder_part *parts = arena_array(network->arena, count_drawn(circuit, node), sizeof *parts);
    part.kind = circuit->nodes[node].kind == CIRCUIT_SERIES ? LADDER_ROW : LADDER_GROUP;
    part.parts = parts;
    for (size_t i = circuit->nodes[node].first; i != CIRCUIT_NONE; i = circuit->nodes[i].next) {
        if (!circuit_is_repeated(circuit, i)) {
            parts[part.count++] = part_of(network, i);
        }
    }
    return part;
}

/* A part has its value and current below it; where parts have their own, the current stands beside the rail. */
static struct ladder_rung rung_of(const struct network *network, size_t node, size_t row)
{
    struct text figures = {0};
    const struct circuit_figure *current = &network->figures->node[node].cell[CIRCUIT_I];
    const bool told = !network->style.blank && current->state == CIRCUIT_FINITE;
    const bool beside = circuit_of(network)->nodes[circuit_of(network)->root].kind == CIRCUIT_PARALLEL;
    const char *arrow = beside && told && mpq_sgn(current->value) > 0 ? "" : NULL;
    if (!beside || circuit_of(network)->nodes[node].kind != CIRCUIT_PART) {
        struct ladder_part *part = arena_take(network->arena, sizeof *part);
        *part = part_of(network, node);
        return (struct ladder_rung){.inside = part, .current = arrow, .to = 1, .row = row};
    }
    text_add(&figures, part_value(network, node));
    if (told) {
        text_add(&figures, ", ");
        circuit_write(&figures, current, CIRCUIT_I, &network->work->style);
    }
    return (struct ladder_rung){.name = part_name(network, node),
                                .figures = picture_string(network->arena, &figures),
                                .current = arrow,
                                .gate = gate_of(network, node),
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

/* ------------------------------------------------------------------ making -------------------------------- */

/* What is side by side at the outermost has a rung each, anything else one. */
static void add_rungs(const struct network *network, struct ladder *ladder)
{
    const struct circuit *circuit = circuit_of(network);
    const bool beside = circuit->nodes[circuit->root].kind == CIRCUIT_PARALLEL;
    const size_t count = beside ? count_drawn(circuit, circuit->root) : 1;
    struct ladder_rung *rungs = arena_array(network->arena, count, sizeof *rungs);
    struct ladder_stretch *stretches = arena_array(network->arena, count, sizeof *stretches);
    size_t row = 0;
    for (size_t i = beside ? circuit->nodes[circuit->root].first : circuit->root; row < count;
         i = circuit->nodes[i].next) {
        if (row == 0 || !circuit_is_repeated(circuit, i)) {
            rungs[row] = rung_of(network, i, row);
            stretches[row] = stretch_of(network, i);
            row++;
        }
    }
    ladder->rows = count;
    ladder->rungs = rungs;
    ladder->count = count;
    ladder->stretches = stretches;
}

/* At the largest size of the lettering that fits there and is no smaller than `least`; false where none does. */
static bool draw_within(const struct ladder *ladder, struct ladder_look look, double least, double width, double height,
                        struct arena *arena, struct picture *ret_picture)
{
    for (; look.text >= least; look.text -= 0.05 * name_size) {
        *ret_picture = ladder_picture(ladder, &look, arena);
        if (ret_picture->width <= width && ret_picture->height <= height) {
            return true;
        }
    }
    return false;
}

bool picture_network(const struct circuit_work *work, const char *source, struct network_style style,
                     struct arena *arena, struct picture *ret_picture)
{
    const struct network network = {.work = work,
                                    .figures =
                                        style.broken ? &work->after : &work->answer.solutions[style.solution].figures,
                                    .style = style,
                                    .source = source,
                                    .arena = arena};
    struct ladder_look paper = {.text = name_size, .stroke = 1, .zigzag = style.zigzag, .bold = true};
    struct ladder_look screen = paper;
    struct ladder *ladder = arena_take(arena, sizeof *ladder);
    *ladder = (struct ladder){.title = title_of(&network),
                              .description = describe(&network),
                              .rails = 2,
                              .source = source,
                              .breaker = rating_of(&network)};
    add_rungs(&network, ladder);
    screen.text = screen_size;
    screen.width = NETWORK_SCREEN;
    paper.width = style.screen ? spread : 0;
    const double most = PICTURE_HEIGHT_MOST;
    return (style.screen && (draw_within(ladder, screen, screen_least, NETWORK_SCREEN, screenful, arena, ret_picture) ||
                             draw_within(ladder, screen, screen_least, NETWORK_SCREEN, most, arena, ret_picture))) ||
           draw_within(ladder, paper, scale_least * name_size, PICTURE_WIDTH, most, arena, ret_picture);
}
