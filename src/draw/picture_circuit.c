/* A branch as a parallel circuit. */
#include <math.h>

#include "ampsum/answer_branch.h"
#include "ampsum/language.h"
#include "ladder.h"
#include "pictures.h"

enum { RUNGS_MOST = 12 };

static const struct ladder_look paper = {8, 1, false, PICTURE_WIDTH, true, true, false};
static const struct ladder_look screen = {13.5, 1, false, 360, true, true, false};
static const struct ladder_look board = {13.5, 1, false, 480, true, true, true};

/* `widest`: a line that carries the breaker's rating, points. */
static const struct {
    const struct ladder_look *look;
    double widest;
    bool covered;
} looks[] = {[CIRCUIT_PAPER] = {&paper, 4, false},
             [CIRCUIT_SCREEN] = {&screen, 6, false},
             [CIRCUIT_COVERED] = {&screen, 6, true},
             [CIRCUIT_BOARD] = {&board, 6, false},
             [CIRCUIT_BOARD_COVERED] = {&board, 6, true}};

struct circuit {
    const struct house *house;
    const struct branch *branch;
    const struct branch_assessment *result;
    const struct branch_figures *figures; /* of the loads that are drawn: everything, or what was chosen */
    const double *line_a;                 /* of all loads of the branch */
    size_t first;                         /* place of the first load in the branch's list */
    size_t count;
    bool in_step; /* currents add up as plain numbers */
    bool covered; /* a class is to find the currents: none is written, and no line's width tells one */
    double widest;
    const char *on; /* what is, in words */
    int language;
    struct arena *arena;
};

static const char *word(const struct circuit *circuit, const char *key)
{
    return say_plain(circuit->language, key);
}

static const char *verdict_of(const struct circuit *circuit)
{
    static const char *const keys[] = {"live.empty", "live.room", "live.near", "live.at-risk", "live.over"};
    return word(circuit, keys[circuit->result->verdict]);
}

static const char *rounded(const struct circuit *circuit, double value, int decimals)
{
    struct text text = {0};
    text_add_rounded(&text, value, decimals);
    return picture_written(circuit->arena, circuit->language, &text);
}

static const char *fixed(const struct circuit *circuit, double value, int decimals, const char *unit)
{
    struct text text = {0};
    text_fixed(&text, "", value, decimals, unit);
    return picture_written(circuit->arena, circuit->language, &text);
}

static const char *ampere(const struct circuit *circuit, double current_a)
{
    struct text text = {0};
    add_ampere(&text, current_a);
    return picture_written(circuit->arena, circuit->language, &text);
}

/* The sentence of that key with what fills its places, a name and its words each. */
#define said(circuit, ...) picture_say((circuit)->arena, (circuit)->language, __VA_ARGS__, (const char *)NULL)

/* As wide as it carries: line and return alike. */
static struct canvas_pen pen_of(const struct circuit *circuit, double current_a)
{
    const double share = current_a / circuit->branch->breaker_a;
    const double width = circuit->covered ? 1 : fmin(fmax(share, 0.1), 1.5) * circuit->widest;
    return (struct canvas_pen){width, CANVAS_SOLID};
}

static const char *current_string(const struct circuit *circuit, double current_a)
{
    return circuit->covered ? "? A" : fixed(circuit, current_a, 2, " A");
}

/* ------------------------------------------------------------------ head and foot ------------------------- */

/* Key of the left rail's name; a leg is one half of a split-phase supply. */
static const char *rail_key(const struct house *house, const struct branch *branch)
{
    return branch->poles == 3                                          ? "rails.lines"
           : branch->poles == 2 && house->system == SYSTEM_SPLIT_PHASE ? "rails.leg"
                                                                       : "rails.line";
}

/* With the letters of its legs, where the house has more than one. */
static void add_rail_names(const struct circuit *circuit, struct ladder *ladder)
{
    const struct branch *branch = circuit->branch;
    const char *legs = legs_word(branch->legs);
    const char *rail = word(circuit, rail_key(circuit->house, branch));
    ladder->rail_names[0] = house_system_legs(circuit->house) == LEG_A
                                ? rail
                                : arena_printf(circuit->arena, "%s %.*s", rail, branch->poles == 2 ? 1 : 3, legs);
    ladder->rail_names[2] = branch->poles == 2
                                ? arena_printf(circuit->arena, "%s %s", rail, legs + 1)
                                : word(circuit, branch->poles == 1 ? "rails.neutral" : "rails.one-of-three");
}

/* What stands between the rails: breaker and voltage; the planning current and the verdict, if they are told. */
static void add_head(const struct circuit *circuit, struct ladder *ladder)
{
    add_rail_names(circuit, ladder);
    ladder->breaker = "";
    ladder->all_poles = circuit->branch->poles > 1;
    ladder->head[0] = said(circuit, "rails.breaker", "breaker", rounded(circuit, circuit->branch->breaker_a, 1),
                           "voltage", rounded(circuit, circuit->result->voltage_v, 1));
    if (!circuit->covered) {
        ladder->head[1] = said(circuit, "rails.planning", "current", ampere(circuit, circuit->figures->planning_a));
        ladder->head[2] = said(circuit, "rails.verdict", "on", circuit->on, "verdict", verdict_of(circuit));
    }
}

/* All of them together, and why their currents need not add up. */
static void add_foot(const struct circuit *circuit, struct ladder *ladder)
{
    const struct branch_figures *all = circuit->figures;
    const bool to_neutral = circuit->branch->poles == 3 ||
                            branch_answer_halves(circuit->house, circuit->branch, circuit->result) == HALVES_ALL;
    if (!isfinite(all->equivalent_ohm)) {
        ladder->foot[0] = word(circuit, "rails.nothing-on");
    } else if (!circuit->covered) {
        ladder->foot[0] = said(circuit, to_neutral ? "rails.together-three" : "rails.together", "ohm",
                               fixed(circuit, all->equivalent_ohm, 2, ""), "current", ampere(circuit, all->current_a),
                               "power", fixed(circuit, all->power_w, 0, ""));
    }
    if (!circuit->in_step) {
        ladder->foot[1] = word(circuit, "rails.out-of-step");
    }
}

/* ------------------------------------------------------------------ a rung -------------------------------- */

/* Power and current alone. */
static const char *brief_string(const struct circuit *circuit, const struct load *load)
{
    if (load->units == 0) {
        return word(circuit, "rails.off");
    }
    return arena_printf(circuit->arena, "%s W, %s", rounded(circuit, load->draw.power_w, 1),
                        current_string(circuit, load->current_a));
}

/* And the resistance of a heater or lamp, the power factor of what is none. */
static const char *figures_string(const struct circuit *circuit, const struct load *load)
{
    const double factor = circuit->house->appliances[load->appliance].power_factor;
    const double ohm = branch_load_ohm(circuit->house, circuit->result, (size_t)(load - circuit->result->loads));
    const char *figures = brief_string(circuit, load);
    if (load->units > 0 && !load->counted) {
        return said(circuit, "rails.not-counted", "figures", figures);
    }
    if (load->units == 0 || circuit->covered) {
        return figures;
    }
    if (factor < 1) {
        return said(circuit, "rails.power-factor", "figures", figures, "factor", rounded(circuit, factor, 2));
    }
    return isnan(ohm) ? figures : arena_printf(circuit->arena, "%s, %s \xCE\xA9", figures, rounded(circuit, ohm, 2));
}

/* A load on its wire; one that carries nothing is drawn with its switch open. */
static struct ladder_rung rung_of(const struct circuit *circuit, size_t row)
{
    const struct load *load = &circuit->result->loads[circuit->first + row];
    const struct appliance *appliance = &circuit->house->appliances[load->appliance];
    const bool on = load->units > 0 && load->counted;
    return (struct ladder_rung){
        .name = load_name(appliance, load->counted ? load->units : appliance->count, circuit->arena),
        .figures = figures_string(circuit, load),
        .brief = brief_string(circuit, load),
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
    return (struct ladder_stretch){.current = current_string(circuit, current_a),
                                   .pen = pen_of(circuit, current_a),
                                   .still = !circuit->covered && !(current_a > 0)};
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

static const char *describe(const struct circuit *circuit)
{
    const char *more =
        circuit->covered
            ? word(circuit, "rails.covered")
            : said(circuit, "rails.uncovered", "current", ampere(circuit, circuit->figures->current_a), "planning",
                   ampere(circuit, circuit->figures->planning_a), "verdict", verdict_of(circuit));
    return said(circuit, "rails.drawn", "breaker", rounded(circuit, circuit->branch->breaker_a, 1), "shown",
                arena_printf(circuit->arena, "%zu", circuit->count), "all",
                arena_printf(circuit->arena, "%zu", circuit->branch->appliances.count), "more", more);
}

static const char *name(const struct circuit *circuit, size_t part, size_t count)
{
    const char *title = said(circuit, "rails.title", "branch", circuit->branch->label, "on", circuit->on);
    if (count == 1) {
        return title;
    }
    return arena_printf(circuit->arena, "%s%s", title,
                        said(circuit, "rails.part", "part", arena_printf(circuit->arena, "%zu", part + 1), "all",
                             arena_printf(circuit->arena, "%zu", count)));
}

static struct picture picture_of(struct circuit circuit, enum circuit_look look, size_t part, size_t parts)
{
    const size_t loads = circuit.branch->appliances.count;
    struct ladder *ladder = arena_take(circuit.arena, sizeof *ladder);
    circuit.covered = looks[look].covered;
    circuit.widest = looks[look].widest;
    circuit.first = part * RUNGS_MOST;
    circuit.count = loads - circuit.first < RUNGS_MOST ? loads - circuit.first : RUNGS_MOST;
    ladder->title = name(&circuit, part, parts);
    ladder->description = describe(&circuit);
    add_rungs(&circuit, ladder);
    if (part == 0) {
        add_head(&circuit, ladder);
    } else {
        ladder->before = word(&circuit, "rails.before");
    }
    if (part + 1 == parts) {
        add_foot(&circuit, ladder);
    } else {
        ladder->after = word(&circuit, "rails.after");
    }
    return ladder_picture(ladder, looks[look].look, circuit.arena);
}

static struct circuit circuit_of(const struct assessment *assessment, size_t branch, int language, struct arena *arena)
{
    const struct branch_assessment *result = &assessment->branches[branch];
    const bool busiest = assessment->options.basis == BASIS_BUSIEST;
    double *line_a = arena_array(arena, assessment->house->branches[branch].appliances.count, sizeof *line_a);
    return (struct circuit){.house = assessment->house,
                            .branch = &assessment->house->branches[branch],
                            .result = result,
                            .figures = busiest ? &result->all : &result->other,
                            .in_step =
                                branch_junctions(assessment->house, branch, result->loads, result->voltage_v, line_a),
                            .line_a = line_a,
                            .on = say_plain(language, busiest ? "rails.everything" : "rails.chosen"),
                            .language = language,
                            .arena = arena};
}

struct picture_list pictures_circuit(const struct assessment *assessment, size_t branch, enum circuit_look look,
                                     int language, struct arena *arena)
{
    const size_t loads = assessment->house->branches[branch].appliances.count;
    if (loads == 0 || assessment->branches[branch].loads == NULL) {
        return (struct picture_list){0};
    }
    const struct circuit circuit = circuit_of(assessment, branch, language, arena);
    struct picture_list list = {.count = (loads + RUNGS_MOST - 1) / RUNGS_MOST};
    list.picture = arena_array(arena, list.count, sizeof *list.picture);
    for (size_t part = 0; part < list.count; part++) {
        list.picture[part] = picture_of(circuit, look, part, list.count);
        if (look == CIRCUIT_PAPER) {
            struct picture *narrow = arena_take(arena, sizeof *narrow);
            *narrow = picture_of(circuit, CIRCUIT_SCREEN, part, list.count);
            list.picture[part].narrow = narrow;
        }
    }
    return list;
}
