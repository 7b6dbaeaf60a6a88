/* A branch as a parallel circuit. */
#include <math.h>

#include "ampsum/show.h"
#include "pictures.h"

enum { RUNGS_MOST = 12 };

static const double left_x = 120;
static const double right_x = 440;
static const double first_y = 104;
static const double rung_height = 42;
static const double foot_height = 34;
static const struct canvas_font small = {8, false};
static const struct canvas_font bold = {8.5, true};

struct circuit {
    const struct assessment *assessment;
    size_t branch;
    size_t first; /* place of the first load in the branch's list */
    size_t count;
    bool begins; /* with the breaker */
    bool ends;
    const double *line_a; /* of all loads of the branch */
};

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
    return circuit->assessment->options.basis == BASIS_BUSIEST ? "everything on" : "with what was chosen";
}

static double rung_y(size_t rung)
{
    return first_y + (double)rung * rung_height;
}

/* ------------------------------------------------------------------ head and foot ------------------------- */

static const char *rail_name(const struct branch *branch, bool left)
{
    if (left) {
        return branch->poles == 1 ? "line" : branch->legs == (LEG_A | LEG_B) || branch->poles == 2 ? "leg" : "lines";
    }
    return branch->poles == 1 ? "neutral" : branch->poles == 2 ? "leg" : "lines";
}

static void draw_rail_names(struct canvas *canvas, const struct branch *branch)
{
    struct text left = {0};
    struct text right = {0};
    const char *legs = legs_word(branch->legs);
    text_printf(&left, "%s %.*s", rail_name(branch, true), branch->poles == 2 ? 1 : 3, legs);
    if (branch->poles == 2) {
        text_printf(&right, "%s %s", rail_name(branch, false), legs + 1);
    } else {
        text_add(&right, branch->poles == 1 ? "neutral" : "one line of three drawn");
    }
    canvas_text_fit(canvas, left_x, 12, 200, CANVAS_MIDDLE, small, text_string(&left));
    canvas_text_fit(canvas, right_x, 12, 110, CANVAS_MIDDLE, small, text_string(&right));
    text_done(&left);
    text_done(&right);
}

/* The breaker's sign: a contact that can open, with a cross at its fixed end. */
static void draw_breaker(struct canvas *canvas, double x)
{
    canvas_line(canvas, x, 18, x, 34, pen_line);
    canvas_line(canvas, x - 3, 31, x + 3, 37, pen_line);
    canvas_line(canvas, x - 3, 37, x + 3, 31, pen_line);
    canvas_line(canvas, x, 58, x - 10, 38, pen_line);
    canvas_line(canvas, x, 58, x, first_y, pen_line);
}

static void draw_head(struct canvas *canvas, const struct circuit *circuit)
{
    const struct branch *branch = branch_of(circuit);
    const struct branch_assessment *result = result_of(circuit);
    struct text text = {0};
    draw_rail_names(canvas, branch);
    draw_breaker(canvas, left_x);
    if (branch->poles > 1) {
        draw_breaker(canvas, right_x);
        const double step = 7; /* the poles open together */
        for (double x = left_x - 4; x < right_x - 8; x += step * 2) {
            canvas_line(canvas, x, 48, x + step, 48, pen_thin);
        }
    } else {
        canvas_line(canvas, right_x, 18, right_x, first_y, pen_line);
    }
    text_add(&text, "breaker ");
    text_add_rounded(&text, branch->breaker_a, 1);
    text_add(&text, " A, ");
    text_add_rounded(&text, result->voltage_v, 1);
    text_add(&text, " V");
    canvas_text(canvas, left_x + 12, 38, CANVAS_START, bold, text_string(&text));
    text_clear(&text);
    text_add(&text, "planning current ");
    add_ampere(&text, figures_of(circuit)->planning_a);
    text_printf(&text, ", %s; verdict %s", what_is_on(circuit), show_verdict(result->verdict));
    canvas_text(canvas, left_x + 12, 62, CANVAS_START, small, text_string(&text));
    text_done(&text);
}

static void draw_foot(struct canvas *canvas, const struct circuit *circuit)
{
    const double y = rung_y(circuit->count - 1);
    const double dash_end = y + 30;
    if (!circuit->ends) {
        const struct canvas_pen dashed = {1, CANVAS_DASHED};
        canvas_line(canvas, left_x, y, left_x, dash_end, dashed);
        canvas_line(canvas, right_x, y, right_x, dash_end, dashed);
        canvas_text(canvas, (left_x + right_x) / 2, y + 38, CANVAS_MIDDLE, small, "continued in the next part");
        return;
    }
    const struct branch_figures *all = figures_of(circuit);
    if (!isfinite(all->equivalent_ohm)) {
        return;
    }
    struct text text = {0};
    text_add(&text, "all of them together: ");
    text_add_fixed(&text, all->equivalent_ohm, 2);
    text_add(&text, branch_of(circuit)->poles == 3 ? " \xCE\xA9 each line to neutral, " : " \xCE\xA9, ");
    add_ampere(&text, all->current_a);
    text_add(&text, ", ");
    text_add_fixed(&text, all->power_w, 0);
    text_add(&text, " W");
    canvas_text(canvas, (left_x + right_x) / 2, y + 38, CANVAS_MIDDLE, bold, text_string(&text));
    text_done(&text);
}

/* ------------------------------------------------------------------ a rung -------------------------------- */

static const double middle_x = 280; /* of the rails */

/* Resistor; motor: a circle with M; lamp: a circle with a cross. */
static void draw_sign(struct canvas *canvas, const struct appliance *appliance, double y)
{
    if (appliance->behaviour == BEHAVIOUR_MOTOR) {
        canvas_circle(canvas, middle_x, y, 7, false, 1);
        canvas_text(canvas, middle_x, y + 3, CANVAS_MIDDLE, bold, "M");
    } else if (appliance->category == CATEGORY_LIGHTING) {
        canvas_circle(canvas, middle_x, y, 7, false, 1);
        canvas_line(canvas, middle_x - 4.9, y - 4.9, middle_x + 4.9, y + 4.9, pen_line);
        canvas_line(canvas, middle_x - 4.9, y + 4.9, middle_x + 4.9, y - 4.9, pen_line);
    } else {
        canvas_rectangle(canvas, middle_x - 22, y - 5, 44, 10, CANVAS_CLEAR, 1);
    }
}

static double sign_half(const struct appliance *appliance)
{
    return appliance->behaviour == BEHAVIOUR_MOTOR || appliance->category == CATEGORY_LIGHTING ? 7 : 22;
}

static void draw_wire(struct canvas *canvas, const struct load *load, const struct appliance *appliance, double y)
{
    const double half = sign_half(appliance);
    const struct canvas_pen pen = {1, load->counted ? CANVAS_SOLID : CANVAS_DASHED};
    if (load->counted) {
        canvas_line(canvas, left_x, y, middle_x - half, y, pen);
        draw_arrow_right(canvas, left_x + 30, y);
    } else {
        canvas_line(canvas, left_x, y, left_x + 24, y, pen);
        canvas_line(canvas, left_x + 24, y, left_x + 42, y - 9, pen_line); /* an open switch */
        canvas_line(canvas, left_x + 44, y, middle_x - half, y, pen);
    }
    canvas_line(canvas, middle_x + half, y, right_x, y, pen);
    canvas_circle(canvas, left_x, y, 2, true, 0);
    canvas_circle(canvas, right_x, y, 2, true, 0);
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
    text_add_rounded(text, load->draw.power_w, 1);
    text_add(text, " W, ");
    text_add_fixed(text, load->current_a, 2);
    text_add(text, " A");
    if (load->units > 0 && appliance->power_factor < 1) {
        text_add(text, ", power factor ");
        text_add_rounded(text, appliance->power_factor, 2);
    } else if (load->draw.power_w > 0) {
        text_add(text, ", ");
        text_add_rounded(text, voltage_v * voltage_v / load->draw.power_w, 2);
        text_add(text, " \xCE\xA9");
    }
    if (!load->counted) {
        text_add(text, load->units == 0 ? "; off" : "; not counted: another of its group is on");
    }
}

static void draw_rung(struct canvas *canvas, const struct circuit *circuit, size_t rung)
{
    const struct branch_assessment *result = result_of(circuit);
    const struct load *load = &result->loads[circuit->first + rung];
    const struct appliance *appliance = &circuit->assessment->house->appliances[load->appliance];
    const double y = rung_y(rung);
    struct text name = {0};
    struct text figures = {0};
    add_name(&name, load, appliance);
    add_figures(&figures, load, circuit);
    canvas_group(canvas, text_string(&name), text_string(&figures));
    draw_wire(canvas, load, appliance, y);
    draw_sign(canvas, appliance, y);
    canvas_text_fit(canvas, middle_x, y - 10.5, right_x - left_x - 60, CANVAS_MIDDLE, bold, text_string(&name));
    canvas_text_fit(canvas, middle_x, y + 15.5, right_x - left_x - 20, CANVAS_MIDDLE, small, text_string(&figures));
    canvas_group_end(canvas);
    text_done(&name);
    text_done(&figures);
}

/* The line and its return between this junction and the one before, with the current that flows there. */
static void draw_rail(struct canvas *canvas, const struct circuit *circuit, size_t rung)
{
    const double y = rung_y(rung);
    const double top = rung == 0 ? (circuit->begins ? 58 : first_y - 30) : rung_y(rung - 1);
    const struct canvas_pen pen = {1, rung == 0 && !circuit->begins ? CANVAS_DASHED : CANVAS_SOLID};
    canvas_line(canvas, left_x, top, left_x, y, pen);
    canvas_line(canvas, right_x, rung == 0 && circuit->begins ? first_y - 2 : top, right_x, y, pen);
    const double middle = rung == 0 ? y - 22 : (top + y) / 2;
    draw_arrow_down(canvas, left_x, middle);
    struct text text = {0};
    text_add_fixed(&text, circuit->line_a[circuit->first + rung], 2);
    text_add(&text, " A");
    canvas_text(canvas, left_x - 10, middle + 3, CANVAS_END, small, text_string(&text));
    text_done(&text);
}

static void draw_circuit(struct canvas *canvas, const struct picture *picture)
{
    const struct circuit *circuit = picture->data;
    if (circuit->begins) {
        draw_head(canvas, circuit);
    } else {
        canvas_text(canvas, middle_x, first_y - 40, CANVAS_MIDDLE, small, "continued from the part before");
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
    text_printf(&text, " A: %zu of %zu loads, each on a rung between two rails. Together ", circuit->count,
                branch_of(circuit)->appliances.count);
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

struct picture_list pictures_circuit(const struct assessment *assessment, size_t branch, struct arena *arena)
{
    const struct branch *row = &assessment->house->branches[branch];
    const struct branch_assessment *result = &assessment->branches[branch];
    const size_t loads = row->appliances.count;
    if (loads == 0 || result->loads == NULL) {
        return (struct picture_list){0};
    }
    double *line_a = arena_array(arena, loads, sizeof *line_a);
    branch_junctions(assessment->house, branch, result->loads, result->voltage_v, line_a);
    struct picture_list list = {.count = (loads + RUNGS_MOST - 1) / RUNGS_MOST};
    list.picture = arena_array(arena, list.count, sizeof *list.picture);
    for (size_t part = 0; part < list.count; part++) {
        struct circuit *circuit = arena_array(arena, 1, sizeof *circuit);
        const size_t first = part * RUNGS_MOST;
        const size_t count = loads - first < RUNGS_MOST ? loads - first : RUNGS_MOST;
        *circuit = (struct circuit){assessment, branch, first, count, part == 0, part + 1 == list.count, line_a};
        list.picture[part] = (struct picture){.title = name(circuit, part, list.count, arena),
                                              .description = describe(circuit, arena),
                                              .width = PICTURE_WIDTH,
                                              .height = rung_y(count - 1) + foot_height + 14,
                                              .draw = draw_circuit,
                                              .data = circuit};
    }
    return list;
}
