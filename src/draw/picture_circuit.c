/* A branch as a parallel circuit. */
#include <math.h>
#include <stdarg.h>

#include "ampsum/language.h"
#include "ampsum/show.h"
#include "ladder.h"
#include "pictures.h"

enum { RUNGS_MOST = 12 };

static const struct ladder_look paper = {8, 1, false, PICTURE_WIDTH, true, true, false};
static const struct ladder_look screen = {13.5, 1, false, 360, true, true, false};
static const struct ladder_look board = {13.5, 1, false, 480, true, true, true};

/* A line that carries the breaker's rating, points: on paper, on a screen. */
static const double widest_paper = 4;
static const double widest_screen = 6;

struct circuit {
    const struct assessment *assessment;
    enum circuit_look look;
    int language;
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
    return circuit->look == CIRCUIT_COVERED || circuit->look == CIRCUIT_BOARD_COVERED;
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

static const char *word(const struct circuit *circuit, const char *key)
{
    return say_plain(circuit->language, key);
}

static const char *what_is_on(const struct circuit *circuit)
{
    return word(circuit, circuit->assessment->options.basis == BASIS_BUSIEST ? "rails.everything" : "rails.chosen");
}

static const char *verdict_of(const struct circuit *circuit)
{
    static const char *const keys[] = {"live.empty", "live.room", "live.near", "live.at-risk", "live.over"};
    const enum verdict verdict = result_of(circuit)->verdict;
    return circuit->language == LANGUAGE_ENGLISH ? show_verdict(verdict) : word(circuit, keys[verdict]);
}

/* A figure as it was made, in the writing of the language; empties the text. */
static const char *figure_string(const struct circuit *circuit, struct text *figure)
{
    const struct writing writing = language_writing(circuit->language);
    struct text text = {0};
    language_write(&text, &writing, text_string(figure));
    text_done(figure);
    return picture_string(circuit->arena, &text);
}

static const char *rounded(const struct circuit *circuit, double value, int decimals)
{
    struct text text = {0};
    text_add_rounded(&text, value, decimals);
    return figure_string(circuit, &text);
}

static const char *ampere(const struct circuit *circuit, double current_a)
{
    struct text text = {0};
    add_ampere(&text, current_a);
    return figure_string(circuit, &text);
}

/* The sentence of that key with what fills its places. */
__attribute__((sentinel)) static const char *said(const struct circuit *circuit, const char *key, ...)
{
    struct text text = {0};
    va_list places;
    va_start(places, key);
    say_list(&text, circuit->language, key, places);
    va_end(places);
    return picture_string(circuit->arena, &text);
}

/* As wide as it carries: line and return alike. */
static struct canvas_pen pen_of(const struct circuit *circuit, double current_a)
{
    const double share = current_a / branch_of(circuit)->breaker_a;
    const double widest = circuit->look == CIRCUIT_PAPER ? widest_paper : widest_screen;
    const double width = is_covered(circuit) ? 1 : fmin(fmax(share, 0.1), 1.5) * widest;
    return (struct canvas_pen){width, CANVAS_SOLID};
}

static const char *current_string(const struct circuit *circuit, double current_a)
{
    struct text text = {0};
    if (is_covered(circuit)) {
        return "? A";
    }
    text_fixed(&text, "", current_a, 2, " A");
    return figure_string(circuit, &text);
}

/* ------------------------------------------------------------------ head and foot ------------------------- */

/* Key of the left rail's name. */
static const char *rail_key(const struct branch *branch)
{
    return branch->poles == 1                                      ? "rails.line"
           : branch->legs == (LEG_A | LEG_B) || branch->poles == 2 ? "rails.leg"
                                                                   : "rails.lines";
}

static void add_rail_names(const struct circuit *circuit, struct ladder *ladder)
{
    const struct branch *branch = branch_of(circuit);
    const char *legs = legs_word(branch->legs);
    struct text left = {0};
    struct text right = {0};
    text_printf(&left, "%s %.*s", word(circuit, rail_key(branch)), branch->poles == 2 ? 1 : 3, legs);
    if (branch->poles == 2) {
        text_printf(&right, "%s %s", word(circuit, "rails.leg"), legs + 1);
    } else {
        text_add(&right, word(circuit, branch->poles == 1 ? "rails.neutral" : "rails.one-of-three"));
    }
    ladder->rail_names[0] = picture_string(circuit->arena, &left);
    ladder->rail_names[2] = picture_string(circuit->arena, &right);
}

/* What stands between the rails: breaker and voltage; the planning current and the verdict, if they are told. */
static void add_head(const struct circuit *circuit, struct ladder *ladder)
{
    add_rail_names(circuit, ladder);
    ladder->breaker = "";
    ladder->all_poles = branch_of(circuit)->poles > 1;
    ladder->head[0] = said(circuit, "rails.breaker", "breaker", rounded(circuit, branch_of(circuit)->breaker_a, 1),
                           "voltage", rounded(circuit, result_of(circuit)->voltage_v, 1), (const char *)NULL);
    if (!is_covered(circuit)) {
        ladder->head[1] = said(circuit, "rails.planning", "current", ampere(circuit, figures_of(circuit)->planning_a),
                               (const char *)NULL);
        ladder->head[2] = said(circuit, "rails.verdict", "on", what_is_on(circuit), "verdict", verdict_of(circuit),
                               (const char *)NULL);
    }
}

/* All of them together, and why their currents need not add up. */
static void add_foot(const struct circuit *circuit, struct ladder *ladder)
{
    const struct branch_figures *all = figures_of(circuit);
    if (!isfinite(all->equivalent_ohm)) {
        ladder->foot[0] = word(circuit, "rails.nothing-on");
    } else if (!is_covered(circuit)) {
        struct text ohm = {0};
        struct text power = {0};
        text_add_fixed(&ohm, all->equivalent_ohm, 2);
        text_add_fixed(&power, all->power_w, 0);
        ladder->foot[0] = said(circuit, branch_of(circuit)->poles == 3 ? "rails.together-three" : "rails.together",
                               "ohm", figure_string(circuit, &ohm), "current", ampere(circuit, all->current_a), "power",
                               figure_string(circuit, &power), (const char *)NULL);
    }
    if (!circuit->in_step) {
        ladder->foot[1] = word(circuit, "rails.out-of-step");
    }
}

/* ------------------------------------------------------------------ a rung -------------------------------- */

/* Power and current alone. */
static const char *brief_string(const struct circuit *circuit, const struct load *load)
{
    struct text text = {0};
    if (load->units == 0) {
        return word(circuit, "rails.off");
    }
    text_printf(&text, "%s W, %s", rounded(circuit, load->draw.power_w, 1), current_string(circuit, load->current_a));
    return picture_string(circuit->arena, &text);
}

/* And the resistance of a heater or lamp, the power factor of what is none. */
static const char *figures_string(const struct circuit *circuit, const struct load *load)
{
    const struct appliance *appliance = &circuit->assessment->house->appliances[load->appliance];
    const double voltage_v = result_of(circuit)->voltage_v;
    struct text text = {0};
    const char *figures = brief_string(circuit, load);
    if (load->units == 0) {
        return figures;
    }
    if (!load->counted) {
        return said(circuit, "rails.not-counted", "figures", figures, (const char *)NULL);
    }
    if (is_covered(circuit)) {
        return figures;
    }
    if (appliance->power_factor < 1) {
        return said(circuit, "rails.power-factor", "figures", figures, "factor",
                    rounded(circuit, appliance->power_factor, 2), (const char *)NULL);
    }
    text_add(&text, figures);
    if (load->draw.power_w > 0) {
        text_printf(&text, ", %s \xCE\xA9", rounded(circuit, voltage_v * voltage_v / load->draw.power_w, 2));
    }
    return picture_string(circuit->arena, &text);
}

/* A load on its wire; one that carries nothing is drawn with its switch open. */
static struct ladder_rung rung_of(const struct circuit *circuit, size_t row)
{
    const struct load *load = &result_of(circuit)->loads[circuit->first + row];
    const struct appliance *appliance = &circuit->assessment->house->appliances[load->appliance];
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

static const char *describe(const struct circuit *circuit)
{
    struct text shown = {0};
    struct text all = {0};
    const char *more = word(circuit, "rails.covered");
    if (!is_covered(circuit)) {
        more =
            said(circuit, "rails.uncovered", "current", ampere(circuit, figures_of(circuit)->current_a), "planning",
                 ampere(circuit, figures_of(circuit)->planning_a), "verdict", verdict_of(circuit), (const char *)NULL);
    }
    text_printf(&shown, "%zu", circuit->count);
    text_printf(&all, "%zu", branch_of(circuit)->appliances.count);
    const char *number = picture_string(circuit->arena, &shown);
    return said(circuit, "rails.drawn", "breaker", rounded(circuit, branch_of(circuit)->breaker_a, 1), "shown", number,
                "all", picture_string(circuit->arena, &all), "more", more, (const char *)NULL);
}

static const char *name(const struct circuit *circuit, size_t part, size_t count)
{
    struct text text = {0};
    text_add(&text, said(circuit, "rails.title", "branch", branch_of(circuit)->label, "on", what_is_on(circuit),
                         (const char *)NULL));
    if (count > 1) {
        struct text at = {0};
        struct text all = {0};
        text_printf(&at, "%zu", part + 1);
        text_printf(&all, "%zu", count);
        say(&text, circuit->language, "rails.part", "part", text_string(&at), "all", text_string(&all),
            (const char *)NULL);
        text_done(&at);
        text_done(&all);
    }
    return picture_string(circuit->arena, &text);
}

static const struct ladder_look *look_of(enum circuit_look look)
{
    const bool wide = look == CIRCUIT_BOARD || look == CIRCUIT_BOARD_COVERED;
    return look == CIRCUIT_PAPER ? &paper : wide ? &board : &screen;
}

static struct picture picture_of(struct circuit circuit, size_t part, size_t parts)
{
    const size_t loads = branch_of(&circuit)->appliances.count;
    struct ladder *ladder = arena_take(circuit.arena, sizeof *ladder);
    circuit.first = part * RUNGS_MOST;
    circuit.count = loads - circuit.first < RUNGS_MOST ? loads - circuit.first : RUNGS_MOST;
    circuit.begins = part == 0;
    circuit.ends = part + 1 == parts;
    ladder->title = name(&circuit, part, parts);
    ladder->description = describe(&circuit);
    add_rungs(&circuit, ladder);
    if (circuit.begins) {
        add_head(&circuit, ladder);
    } else {
        ladder->before = word(&circuit, "rails.before");
    }
    if (circuit.ends) {
        add_foot(&circuit, ladder);
    } else {
        ladder->after = word(&circuit, "rails.after");
    }
    return ladder_picture(ladder, look_of(circuit.look), circuit.arena);
}

struct picture_list pictures_circuit(const struct assessment *assessment, size_t branch, enum circuit_look look,
                                     int language, struct arena *arena)
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
        .language = language,
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
