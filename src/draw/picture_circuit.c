/* A branch as a parallel circuit. */
#include <math.h>

#include "ampsum/show.h"
#include "pictures.h"
#include "signs.h"

enum { RUNGS_MOST = 12 };

/* Where things stand, for paper and, in larger type, for a narrow screen. */
struct frame {
    double width;
    double left_x; /* of the rails */
    double right_x;
    double first_y; /* of the first rung, and of one that continues a drawing */
    double rung_height;
    double foot_height;
    double text;   /* size of the small type */
    double widest; /* a line that carries the breaker's rating */
    double above;  /* base line of a rung's name over it, of its figures under it */
    double below;
};

static const struct frame paper = {PICTURE_WIDTH, 120, 440, 104, 42, 48, 8, 4, 10.5, 15.5};
static const struct frame screen = {360, 86, 344, 128, 60, 66, 13.5, 6, 14, 23};

struct circuit {
    const struct frame *frame;
    const struct assessment *assessment;
    size_t branch;
    size_t first; /* place of the first load in the branch's list */
    size_t count;
    bool begins; /* with the breaker */
    bool ends;
    bool covered;         /* a class is to find the currents: none is written, and no line's width tells one */
    bool in_step;         /* currents add up as plain numbers */
    const double *line_a; /* of all loads of the branch */
};

/* The report has one sign for a load of resistance, whatever the rule set. */
static const struct sign_style signs = {1, 1, false};

static struct canvas_font small_of(const struct circuit *circuit)
{
    return (struct canvas_font){circuit->frame->text, false};
}

static struct canvas_font bold_of(const struct circuit *circuit)
{
    return (struct canvas_font){circuit->frame->text + 0.5, true};
}

static double middle_of(const struct circuit *circuit)
{
    return (circuit->frame->left_x + circuit->frame->right_x) / 2;
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

static double rung_y(const struct circuit *circuit, size_t rung)
{
    return circuit->frame->first_y + (double)rung * circuit->frame->rung_height;
}

/* As wide as it carries: line and return alike. */
static struct canvas_pen pen_of(const struct circuit *circuit, double current_a)
{
    const double share = current_a / branch_of(circuit)->breaker_a;
    const double width = circuit->covered ? 1 : fmin(fmax(share, 0.1), 1.5) * circuit->frame->widest;
    return (struct canvas_pen){width, CANVAS_SOLID};
}

static void add_current(struct text *text, const struct circuit *circuit, double current_a)
{
    if (circuit->covered) {
        text_add(text, "? A");
    } else {
        text_add_fixed(text, current_a, 2);
        text_add(text, " A");
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

static void draw_rail_names(struct canvas *canvas, const struct circuit *circuit)
{
    const struct frame *frame = circuit->frame;
    const struct branch *branch = branch_of(circuit);
    struct text left = {0};
    struct text right = {0};
    const char *legs = legs_word(branch->legs);
    text_printf(&left, "%s %.*s", rail_name(branch, true), branch->poles == 2 ? 1 : 3, legs);
    if (branch->poles == 2) {
        text_printf(&right, "%s %s", rail_name(branch, false), legs + 1);
    } else {
        text_add(&right, branch->poles == 1 ? "neutral" : "one line of three drawn");
    }
    const double y = frame->text + 4;
    canvas_text_fit(canvas, frame->left_x, y, 2 * frame->left_x - 20, CANVAS_MIDDLE, small_of(circuit),
                    text_string(&left));
    canvas_text_fit(canvas, fmin(frame->right_x + 30, frame->width - 4), y, frame->width - frame->left_x * 2,
                    CANVAS_END, small_of(circuit), text_string(&right));
    text_done(&left);
    text_done(&right);
}

/* The breaker's sign: a contact that can open, with a cross at its fixed end. */
static void draw_breaker(struct canvas *canvas, const struct circuit *circuit, double x)
{
    const struct canvas_pen carries = pen_of(circuit, circuit->line_a[0]);
    canvas_line(canvas, x, circuit->frame->text + 10, x, 34, pen_line);
    sign_breaker(canvas, &signs, x, 34);
    canvas_line(canvas, x, 58, x, circuit->frame->first_y, carries);
}

/* What stands between the rails: breaker and voltage; the planning current and the verdict, if they are told. */
static void write_head(struct canvas *canvas, const struct circuit *circuit)
{
    const struct frame *frame = circuit->frame;
    const struct branch *branch = branch_of(circuit);
    const double x = frame->left_x + 14;
    const double width = frame->right_x - x - 12;
    const double line = frame->text + 5;
    struct text text = {0};
    text_add(&text, "breaker ");
    text_add_rounded(&text, branch->breaker_a, 1);
    text_add(&text, " A, ");
    text_add_rounded(&text, result_of(circuit)->voltage_v, 1);
    text_add(&text, " V");
    canvas_text_fit(canvas, x, 38, width, CANVAS_START, bold_of(circuit), text_string(&text));
    text_clear(&text);
    text_add(&text, "planning current ");
    add_ampere(&text, figures_of(circuit)->planning_a);
    if (!circuit->covered) {
        canvas_text_fit(canvas, x, 38 + line, width, CANVAS_START, small_of(circuit), text_string(&text));
        text_clear(&text);
        text_printf(&text, "%s; verdict %s", what_is_on(circuit), show_verdict(result_of(circuit)->verdict));
        canvas_text_fit(canvas, x, 38 + 2 * line, width, CANVAS_START, small_of(circuit), text_string(&text));
    }
    text_done(&text);
}

static void draw_head(struct canvas *canvas, const struct circuit *circuit)
{
    const struct frame *frame = circuit->frame;
    draw_rail_names(canvas, circuit);
    draw_breaker(canvas, circuit, frame->left_x);
    if (branch_of(circuit)->poles > 1) {
        draw_breaker(canvas, circuit, frame->right_x);
        const double step = 7; /* the poles open together */
        for (double x = frame->left_x - 4; x < frame->right_x - 8; x += step * 2) {
            canvas_line(canvas, x, 48, x + step, 48, pen_line);
        }
    } else {
        canvas_line(canvas, frame->right_x, frame->text + 10, frame->right_x, frame->first_y,
                    pen_of(circuit, circuit->line_a[0]));
    }
    write_head(canvas, circuit);
}

/* All of them together, and why their currents need not add up. */
static void write_foot(struct canvas *canvas, const struct circuit *circuit, double y)
{
    const struct branch_figures *all = figures_of(circuit);
    const double width = circuit->frame->width - 8;
    struct text text = {0};
    if (!circuit->covered && isfinite(all->equivalent_ohm)) {
        text_add(&text, "together ");
        text_add_fixed(&text, all->equivalent_ohm, 2);
        text_add(&text, branch_of(circuit)->poles == 3 ? " \xCE\xA9 each line to neutral, " : " \xCE\xA9, ");
        add_ampere(&text, all->current_a);
        text_add(&text, ", ");
        text_add_fixed(&text, all->power_w, 0);
        text_add(&text, " W");
        canvas_text_fit(canvas, circuit->frame->width / 2, y, width, CANVAS_MIDDLE, bold_of(circuit),
                        text_string(&text));
    } else if (!isfinite(all->equivalent_ohm)) {
        canvas_text_fit(canvas, circuit->frame->width / 2, y, width, CANVAS_MIDDLE, bold_of(circuit),
                        "nothing is on: no path, no current");
    }
    if (!circuit->in_step) {
        canvas_text_fit(canvas, circuit->frame->width / 2, y + circuit->frame->text + 5, width, CANVAS_MIDDLE,
                        small_of(circuit), "power factors differ: currents do not simply add");
    }
    text_done(&text);
}

static void draw_foot(struct canvas *canvas, const struct circuit *circuit)
{
    const struct frame *frame = circuit->frame;
    const double y = rung_y(circuit, circuit->count - 1);
    const double text_y = y + frame->below + frame->text + 8;
    if (circuit->ends) {
        write_foot(canvas, circuit, text_y);
        return;
    }
    const struct canvas_pen dashed = {1, CANVAS_DASHED};
    canvas_line(canvas, frame->left_x, y, frame->left_x, y + 30, dashed);
    canvas_line(canvas, frame->right_x, y, frame->right_x, y + 30, dashed);
    canvas_text(canvas, middle_of(circuit), text_y, CANVAS_MIDDLE, small_of(circuit), "continued in the next part");
}

/* ------------------------------------------------------------------ a rung -------------------------------- */

static enum load_sign sign_of(const struct appliance *appliance)
{
    return appliance->behaviour == BEHAVIOUR_MOTOR    ? SIGN_MOTOR
           : appliance->category == CATEGORY_LIGHTING ? SIGN_LAMP
                                                      : SIGN_RESISTOR;
}

/* A load's own wire; one that carries nothing is drawn with its switch open. */
static void draw_wire(struct canvas *canvas, const struct circuit *circuit, const struct load *load,
                      const struct appliance *appliance, double y)
{
    const bool on = load->units > 0 && load->counted;
    const struct rung rung = {.x1 = circuit->frame->left_x,
                              .x2 = circuit->frame->right_x,
                              .y = y,
                              .sign = sign_of(appliance),
                              .gate = on ? GATE_NONE : GATE_OPEN,
                              .pen = on ? pen_of(circuit, load->current_a) : (struct canvas_pen){1, CANVAS_DASHED}};
    draw_rung_wire(canvas, &signs, &rung);
}

static void add_name(struct text *text, const struct load *load, const struct appliance *appliance)
{
    if (appliance->count > 1) {
        text_printf(text, "%u \xC3\x97 ", load->counted ? load->units : appliance->count);
    }
    text_add(text, appliance->name);
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
    text_add_rounded(text, load->draw.power_w, 1);
    text_add(text, " W, ");
    add_current(text, circuit, load->current_a);
    if (!load->counted) {
        text_add(text, "; not counted: another of its group is on");
    } else if (circuit->covered) {
        return;
    } else if (appliance->power_factor < 1) {
        text_add(text, ", power factor ");
        text_add_rounded(text, appliance->power_factor, 2);
    } else if (load->draw.power_w > 0) {
        text_add(text, ", ");
        text_add_rounded(text, voltage_v * voltage_v / load->draw.power_w, 2);
        text_add(text, " \xCE\xA9");
    }
}

static void draw_rung(struct canvas *canvas, const struct circuit *circuit, size_t rung)
{
    const struct frame *frame = circuit->frame;
    const struct load *load = &result_of(circuit)->loads[circuit->first + rung];
    const struct appliance *appliance = &circuit->assessment->house->appliances[load->appliance];
    const double y = rung_y(circuit, rung);
    const double room = frame->right_x - frame->left_x - 20;
    struct text name = {0};
    struct text figures = {0};
    add_name(&name, load, appliance);
    add_figures(&figures, load, circuit);
    canvas_group(canvas, text_string(&name), text_string(&figures));
    draw_wire(canvas, circuit, load, appliance, y);
    canvas_text_fit(canvas, middle_of(circuit), y - frame->above, room - 30, CANVAS_MIDDLE, bold_of(circuit),
                    text_string(&name));
    canvas_text_fit(canvas, middle_of(circuit), y + frame->below, room, CANVAS_MIDDLE, small_of(circuit),
                    text_string(&figures));
    canvas_group_end(canvas);
    text_done(&name);
    text_done(&figures);
}

/* The line and its return between this junction and the one before, with the current that flows there. */
static void draw_rail(struct canvas *canvas, const struct circuit *circuit, size_t rung)
{
    const struct frame *frame = circuit->frame;
    const double current_a = circuit->line_a[circuit->first + rung];
    const double y = rung_y(circuit, rung);
    const bool continued = rung == 0 && !circuit->begins;
    const double top = rung == 0 ? frame->first_y - (circuit->begins ? 2 : 30) : rung_y(circuit, rung - 1);
    const struct canvas_pen pen = continued ? (struct canvas_pen){1, CANVAS_DASHED} : pen_of(circuit, current_a);
    canvas_line(canvas, frame->left_x, top, frame->left_x, y, pen);
    canvas_line(canvas, frame->right_x, top, frame->right_x, y, pen);
    const double middle = rung == 0 ? y - 22 : (top + y) / 2;
    if (pen.width < 3) {
        draw_arrow_down(canvas, frame->left_x, middle);
    }
    struct text text = {0};
    add_current(&text, circuit, current_a);
    canvas_text(canvas, frame->left_x - 10, middle + 3, CANVAS_END, small_of(circuit), text_string(&text));
    text_done(&text);
}

static void draw_circuit(struct canvas *canvas, const struct picture *picture)
{
    const struct circuit *circuit = picture->data;
    if (circuit->begins) {
        draw_head(canvas, circuit);
    } else {
        canvas_text(canvas, middle_of(circuit), circuit->frame->first_y - 40, CANVAS_MIDDLE, small_of(circuit),
                    "continued from the part before");
    }
    for (size_t i = 0; i < circuit->count; i++) {
        draw_rail(canvas, circuit, i);
        draw_rung(canvas, circuit, i);
    }
    draw_foot(canvas, circuit);
}

/* ------------------------------------------------------------------ making -------------------------------- */

static const char *describe(const struct circuit *circuit, struct arena *arena)
{
    const struct branch_assessment *result = result_of(circuit);
    struct text text = {0};
    text_add(&text, "Parallel circuit behind a breaker of ");
    text_add_rounded(&text, branch_of(circuit)->breaker_a, 1);
    text_printf(&text, " A: %zu of %zu loads, each on a rung between two rails. ", circuit->count,
                branch_of(circuit)->appliances.count);
    if (circuit->covered) {
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

static struct picture picture_of(const struct circuit *given, size_t part, size_t parts, struct arena *arena)
{
    const size_t loads = branch_of(given)->appliances.count;
    struct circuit *circuit = arena_take(arena, sizeof *circuit);
    *circuit = *given;
    circuit->first = part * RUNGS_MOST;
    circuit->count = loads - circuit->first < RUNGS_MOST ? loads - circuit->first : RUNGS_MOST;
    circuit->begins = part == 0;
    circuit->ends = part + 1 == parts;
    return (struct picture){.title = name(circuit, part, parts, arena),
                            .description = describe(circuit, arena),
                            .width = circuit->frame->width,
                            .height = rung_y(circuit, circuit->count - 1) + circuit->frame->foot_height,
                            .draw = draw_circuit,
                            .data = circuit};
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
        .frame = look == CIRCUIT_PAPER ? &paper : &screen,
        .assessment = assessment,
        .branch = branch,
        .covered = look == CIRCUIT_COVERED,
        .in_step = branch_junctions(assessment->house, branch, result->loads, result->voltage_v, line_a),
        .line_a = line_a,
    };
    struct picture_list list = {.count = (loads + RUNGS_MOST - 1) / RUNGS_MOST};
    list.picture = arena_array(arena, list.count, sizeof *list.picture);
    for (size_t part = 0; part < list.count; part++) {
        list.picture[part] = picture_of(&circuit, part, list.count, arena);
    }
    return list;
}
