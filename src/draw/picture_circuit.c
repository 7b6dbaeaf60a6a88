/* A branch as a parallel circuit. */
#include <math.h>

#include "ampsum/show.h"
#include "ladder.h"
#include "pictures.h"

enum { RUNGS_MOST = 12 };

static const struct ladder_look paper = {8, 1, false, PICTURE_WIDTH, true, true};
static const struct ladder_look screen = {13.5, 1, false, 360, true, true};

/* A line that carries the breaker's rating, points: on paper, on a screen. */
static const double widest_paper = 4;
static const double widest_screen = 6;

struct circuit {
    const struct assessment *assessment;
    enum circuit_look look;
    size_t branch;
    size_t first; /* place of the first load in the branch's list */
    size_t count;
    bool begins; /* with the breaker */
    bool ends;
    bool in_step;         /* currents add up as plain numbers */
    const double *line_a; /* of all loads of the branch */
    struct arena *arena;
};

/* A class is to find the currents: none is written, and no line's width tells one. */
static bool is_covered(const struct circuit *circuit)
{
    return circuit->look == CIRCUIT_COVERED;
}

static const struct branch *branch_of(const struct circuit *circuit)
{
    return &circuit->assessment->house->branches[circuit->branch];
}

static const struct branch_assessment *result_of(const struct circuit *circuit)
{
    return &circuit->assessment->branches[circuit->branch];
}

/* Of the loads that are drawn: everything, or what was chosen. */
static const struct branch_figures *figures_of(const struct circuit *circuit)
{
    const struct branch_assessment *result = result_of(circuit);
    return circuit->assessment->options.basis == BASIS_BUSIEST ? &result->all : &result->other;
}

static const char *what_is_on(const struct circuit *circuit)
{
    return circuit->assessment->options.basis == BASIS_BUSIEST ? "everything on" : "as chosen";
}

/* As wide as it carries: line and return alike. */
static struct canvas_pen pen_of(const struct circuit *circuit, double current_a)
{
    const double share = current_a / branch_of(circuit)->breaker_a;
    const double widest = circuit->look == CIRCUIT_PAPER ? widest_paper : widest_screen;
    const double width = is_covered(circuit) ? 1 : fmin(fmax(share, 0.1), 1.5) * widest;
    return (struct canvas_pen){width, CANVAS_SOLID};
}

static void add_current(struct text *text, const struct circuit *circuit, double current_a)
{
    if (is_covered(circuit)) {
        text_add(text, "? A");
    } else {
        text_fixed(text, "", current_a, 2, " A");
    }
}

/* ------------------------------------------------------------------ head and foot ------------------------- */

static const char *rail_name(const struct branch *branch, bool left)
{
    if (left) {
        return branch->poles == 1 ? "line" : branch->legs == (LEG_A | LEG_B) || branch->poles == 2 ? "leg" : "lines";
    }
    return branch->poles == 1 ? "neutral" : branch->poles == 2 ? "leg" : "lines";
}

static void add_rail_names(const struct circuit *circuit, struct ladder *ladder)
{
    const struct branch *branch = branch_of(circuit);
    const char *legs = legs_word(branch->legs);
    struct text left = {0};
    struct text right = {0};
    text_printf(&left, "%s %.*s", rail_name(branch, true), branch->poles == 2 ? 1 : 3, legs);
    if (branch->poles == 2) {
        text_printf(&right, "%s %s", rail_name(branch, false), legs + 1);
    } else {
        text_add(&right, branch->poles == 1 ? "neutral" : "one line of three drawn");
    }
    ladder->rail_names[0] = picture_string(circuit->arena, &left);
    ladder->rail_names[2] = picture_string(circuit->arena, &right);
}

/* What stands between the rails: breaker and voltage; the planning current and the verdict, if they are told. */
static void add_head(const struct circuit *circuit, struct ladder *ladder)
{
    struct text text = {0};
    add_rail_names(circuit, ladder);
    ladder->breaker = "";
    ladder->all_poles = branch_of(circuit)->poles > 1;
    text_rounded(&text, "breaker ", branch_of(circuit)->breaker_a, 1, " A, ");
    text_rounded(&text, "", result_of(circuit)->voltage_v, 1, " V");
    ladder->head[0] = picture_string(circuit->arena, &text);
    if (!is_covered(circuit)) {
        text_add(&text, "planning current ");
        add_ampere(&text, figures_of(circuit)->planning_a);
        ladder->head[1] = picture_string(circuit->arena, &text);
        text_printf(&text, "%s; verdict %s", what_is_on(circuit), show_verdict(result_of(circuit)->verdict));
        ladder->head[2] = picture_string(circuit->arena, &text);
    }
}

/* All of them together, and why their currents need not add up. */
static void add_foot(const struct circuit *circuit, struct ladder *ladder)
{
    const struct branch_figures *all = figures_of(circuit);
    struct text text = {0};
    if (!isfinite(all->equivalent_ohm)) {
        ladder->foot[0] = "nothing is on: no path, no current";
    } else if (!is_covered(circuit)) {
        text_fixed(&text, "together ", all->equivalent_ohm, 2, "");
        text_add(&text, branch_of(circuit)->poles == 3 ? " \xCE\xA9 each line to neutral, " : " \xCE\xA9, ");
        add_ampere(&text, all->current_a);
        text_fixed(&text, ", ", all->power_w, 0, " W");
        ladder->foot[0] = picture_string(circuit->arena, &text);
    }
    if (!circuit->in_step) {
        ladder->foot[1] = "power factors differ: currents do not simply add";
    }
}

/* ------------------------------------------------------------------ a rung -------------------------------- */

static const char *name_of(const struct circuit *circuit, const struct load *load, const struct appliance *appliance)
{
    struct text text = {0};
    if (appliance->count > 1) {
        text_printf(&text, "%u \xC3\x97 ", load->counted ? load->units : appliance->count);
    }
    text_add(&text, appliance->name);
    return picture_string(circuit->arena, &text);
}

/* Power and current; the resistance of a heater or lamp, the power factor of what is none. */
static void add_figures(struct text *text, const struct load *load, const struct circuit *circuit)
{
    const struct appliance *appliance = &circuit->assessment->house->appliances[load->appliance];
    const double voltage_v = result_of(circuit)->voltage_v;
    if (load->units == 0) {
        text_add(text, "off");
        return;
    }
    text_rounded(text, "", load->draw.power_w, 1, " W, ");
    add_current(text, circuit, load->current_a);
    if (!load->counted) {
        text_add(text, "; not counted: another of its group is on");
    } else if (is_covered(circuit)) {
        return;
    } else if (appliance->power_factor < 1) {
        text_rounded(text, ", power factor ", appliance->power_factor, 2, "");
    } else if (load->draw.power_w > 0) {
        text_rounded(text, ", ", voltage_v * voltage_v / load->draw.power_w, 2, " \xCE\xA9");
    }
}

/* A load on its wire; one that carries nothing is drawn with its switch open. */
static struct ladder_rung rung_of(const struct circuit *circuit, size_t row)
{
    const struct load *load = &result_of(circuit)->loads[circuit->first + row];
    const struct appliance *appliance = &circuit->assessment->house->appliances[load->appliance];
    const bool on = load->units > 0 && load->counted;
    struct text figures = {0};
    add_figures(&figures, load, circuit);
    return (struct ladder_rung){.name = name_of(circuit, load, appliance),
                                .figures = picture_string(circuit->arena, &figures),
                                .current = on ? "" : NULL,
                                .sign = appliance_sign(appliance),
                                .gate = on ? GATE_NONE : GATE_OPEN,
                                .pen = on ? pen_of(circuit, load->current_a) : (struct canvas_pen){1, CANVAS_DASHED},
                                .to = 1,
                                .row = row};
}

/* The line and its return between this junction and the one before, with the current that flows there. */
static struct ladder_stretch stretch_of(const struct circuit *circuit, size_t row)
{
    const double current_a = circuit->line_a[circuit->first + row];
    struct text text = {0};
    add_current(&text, circuit, current_a);
    return (struct ladder_stretch){.current = picture_string(circuit->arena, &text),
                                   .pen = pen_of(circuit, current_a),
                                   .still = !is_covered(circuit) && !(current_a > 0)};
}

static void add_rungs(const struct circuit *circuit, struct ladder *ladder)
{
    struct ladder_rung *rungs = arena_array(circuit->arena, circuit->count, sizeof *rungs);
    struct ladder_stretch *stretches = arena_array(circuit->arena, circuit->count, sizeof *stretches);
    for (size_t row = 0; row < circuit->count; row++) {
        rungs[row] = rung_of(circuit, row);
        stretches[row] = stretch_of(circuit, row);
    }
    ladder->widest = "88.88 A"; /* nothing moves when the currents are uncovered */
    ladder->rails = 2;
    ladder->rows = circuit->count;
    ladder->rungs = rungs;
    ladder->count = circuit->count;
    ladder->stretches = stretches;
}

/* ------------------------------------------------------------------ making -------------------------------- */

static const char *describe(const struct circuit *circuit, struct arena *arena)
{
    const struct branch_assessment *result = result_of(circuit);
    struct text text = {0};
    text_rounded(&text, "Parallel circuit behind a breaker of ", branch_of(circuit)->breaker_a, 1, "");
    text_printf(&text, " A: %zu of %zu loads, each on a rung between two rails. ", circuit->count,
                branch_of(circuit)->appliances.count);
    if (is_covered(circuit)) {
        text_add(&text, "The currents are covered.");
        return picture_string(arena, &text);
    }
    text_add(&text, "Together ");
    add_ampere(&text, figures_of(circuit)->current_a);
    text_add(&text, ", planning current ");
    add_ampere(&text, figures_of(circuit)->planning_a);
    text_printf(&text, ", verdict %s.", show_verdict(result->verdict));
    return picture_string(arena, &text);
}

static const char *name(const struct circuit *circuit, size_t part, size_t count, struct arena *arena)
{
    struct text text = {0};
    text_printf(&text, "%s: loads in parallel, %s", branch_of(circuit)->label, what_is_on(circuit));
    add_part(&text, part, count);
    return picture_string(arena, &text);
}

static struct picture picture_of(struct circuit circuit, size_t part, size_t parts)
{
    const size_t loads = branch_of(&circuit)->appliances.count;
    struct ladder *ladder = arena_take(circuit.arena, sizeof *ladder);
    circuit.first = part * RUNGS_MOST;
    circuit.count = loads - circuit.first < RUNGS_MOST ? loads - circuit.first : RUNGS_MOST;
    circuit.begins = part == 0;
    circuit.ends = part + 1 == parts;
    ladder->title = name(&circuit, part, parts, circuit.arena);
    ladder->description = describe(&circuit, circuit.arena);
    add_rungs(&circuit, ladder);
    if (circuit.begins) {
        add_head(&circuit, ladder);
    } else {
        ladder->before = "continued from the part before";
    }
    if (circuit.ends) {
        add_foot(&circuit, ladder);
    } else {
        ladder->after = "continued in the next part";
    }
    return ladder_picture(ladder, circuit.look == CIRCUIT_PAPER ? &paper : &screen, circuit.arena);
}

struct picture_list pictures_circuit(const struct assessment *assessment, size_t branch, enum circuit_look look,
                                     struct arena *arena)
{
    const struct branch_assessment *result = &assessment->branches[branch];
    const size_t loads = assessment->house->branches[branch].appliances.count;
    if (loads == 0 || result->loads == NULL) {
        return (struct picture_list){0};
    }
    double *line_a = arena_array(arena, loads, sizeof *line_a);
    const struct circuit circuit = {
        .assessment = assessment,
        .look = look,
        .branch = branch,
        .in_step = branch_junctions(assessment->house, branch, result->loads, result->voltage_v, line_a),
        .line_a = line_a,
        .arena = arena,
    };
    struct picture_list list = {.count = (loads + RUNGS_MOST - 1) / RUNGS_MOST};
    list.picture = arena_array(arena, list.count, sizeof *list.picture);
    for (size_t part = 0; part < list.count; part++) {
        list.picture[part] = picture_of(circuit, part, list.count);
    }
    return list;
}
