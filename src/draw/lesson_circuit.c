#include "lesson_circuit.h"

static const double height_pt = 92;
static const double split_height_pt = 128;
static const double column_most_pt = 86;
static const double box_width_pt = 12;
static const double box_height_pt = 30;
static const double wire_box_pt = 40;

/* Where the drawing goes. */
struct drawing {
    cairo_t *cairo;
    PangoLayout *layout;
    const struct lesson_question *question;
    double label_pt; /* room for a load's lettering; longer names end in an ellipsis */
    int unknown;     /* characters without a picture */
};

double circuit_height_pt(const struct lesson_question *question)
{
    return question->drawing == DRAW_NONE ? 0 : question->drawing == DRAW_SPLIT ? split_height_pt : height_pt;
}

static void line(struct drawing *drawing, double from_x, double from_y, double to_x, double to_y)
{
    cairo_move_to(drawing->cairo, from_x, from_y);
    cairo_line_to(drawing->cairo, to_x, to_y);
    cairo_stroke(drawing->cairo);
}

static void dot(struct drawing *drawing, double x, double y)
{
    cairo_arc(drawing->cairo, x, y, 1.6, 0, 6.2832);
    cairo_fill(drawing->cairo);
}

/* `width_pt` 0: as wide as it is. */
static void letter_within(struct drawing *drawing, const char *string, double x, double y, double width_pt)
{
    pango_layout_set_width(drawing->layout, width_pt > 0 ? (int)(width_pt * PANGO_SCALE) : -1);
    pango_layout_set_ellipsize(drawing->layout, width_pt > 0 ? PANGO_ELLIPSIZE_END : PANGO_ELLIPSIZE_NONE);
    pango_layout_set_text(drawing->layout, string, -1);
    cairo_move_to(drawing->cairo, x, y);
    pango_cairo_show_layout(drawing->cairo, drawing->layout);
    drawing->unknown += pango_layout_get_unknown_glyphs_count(drawing->layout);
}

static void letter(struct drawing *drawing, const char *string, double x, double y)
{
    letter_within(drawing, string, x, y, 0);
}

/* Name and value of an element to the right of it. */
static void label(struct drawing *drawing, size_t quantity, double x, double middle_y)
{
    struct text name = {0};
    struct text value = {0};
    lesson_label(drawing->question, quantity, &name, &value);
    letter_within(drawing, text_string(&name), x, middle_y - 13, drawing->label_pt);
    letter_within(drawing, text_string(&value), x, middle_y, drawing->label_pt);
    text_done(&name);
    text_done(&value);
}

/* A load between two rails, as a box on a line. */
static void load(struct drawing *drawing, size_t quantity, double x, double top_y, double bottom_y)
{
    double middle_y = (top_y + bottom_y) / 2;
    line(drawing, x, top_y, x, middle_y - box_height_pt / 2);
    line(drawing, x, middle_y + box_height_pt / 2, x, bottom_y);
    cairo_rectangle(drawing->cairo, x - box_width_pt / 2, middle_y - box_height_pt / 2, box_width_pt, box_height_pt);
    cairo_stroke(drawing->cairo);
    dot(drawing, x, top_y);
    dot(drawing, x, bottom_y);
    label(drawing, quantity, x + box_width_pt / 2 + 4, middle_y);
}

/* A source: a circle on a line. */
static void source(struct drawing *drawing, size_t quantity, double x, double top_y, double bottom_y)
{
    double middle_y = (top_y + bottom_y) / 2;
    double radius = box_height_pt / 2;
    line(drawing, x, top_y, x, middle_y - radius);
    line(drawing, x, middle_y + radius, x, bottom_y);
    cairo_new_path(drawing->cairo);
    cairo_arc(drawing->cairo, x, middle_y, radius, 0, 6.2832);
    cairo_stroke(drawing->cairo);
    label(drawing, quantity, x + radius + 4, middle_y);
}

static bool is_wire(const struct lesson_question *question, const struct lesson_element *element)
{
    return question->drawing == DRAW_WIRE && element->from == 1 && element->to == 2;
}

/* Source at the left, loads side by side; a wire in series stands in the upper rail behind the source. */
static void draw_ladder(struct drawing *drawing, double x, double y, double width)
{
    const struct lesson_circuit *circuit = lesson_drawn_circuit(drawing->question);
    size_t most = lesson_loads_shown(drawing->question);
    size_t loads = circuit->count - 1 - (drawing->question->drawing == DRAW_WIRE ? 1 : 0);
    size_t shown = loads < most ? loads : most;
    double column = width / (double)(shown + 1);
    column = column > column_most_pt ? column_most_pt : column;
    drawing->label_pt = column - box_height_pt / 2 - 6;
    double top_y = y + 10;
    double bottom_y = y + height_pt - 12;
    double at_x = x + 20;
    double first_x = at_x;
    double last_x = first_x + column * (double)shown;
    size_t drawn = 0;
    for (size_t i = 0; i < circuit->count && drawn <= shown; i++) {
        const struct lesson_element *element = &circuit->elements[i];
        if (is_wire(drawing->question, element)) {
            cairo_rectangle(drawing->cairo, first_x + 20, top_y - box_width_pt / 2, wire_box_pt, box_width_pt);
            cairo_stroke(drawing->cairo);
            letter(drawing, drawing->question->in_series == NULL ? "wire" : drawing->question->in_series, first_x + 30,
                   top_y + 7);
        } else if (drawn == 0) {
            source(drawing, element->quantity, at_x, top_y, bottom_y);
            drawn++;
        } else {
            at_x += column;
            load(drawing, element->quantity, at_x, top_y, bottom_y);
            drawn++;
        }
    }
    if (drawing->question->drawing == DRAW_WIRE) {
        line(drawing, first_x, top_y, first_x + 20, top_y);
        line(drawing, first_x + 20 + wire_box_pt, top_y, last_x, top_y);
    } else {
        line(drawing, first_x, top_y, last_x, top_y);
    }
    line(drawing, first_x, bottom_y, last_x, bottom_y);
    if (shown < loads) {
        struct text more = {0};
        text_printf(&more, "%zu of %zu are drawn", shown, loads);
        letter(drawing, text_string(&more), last_x + 30, bottom_y - 12);
        text_done(&more);
    }
}

/* Legs A and B with the neutral between them. Two sources and the neutral's wire stand before the loads. */
static void draw_split(struct drawing *drawing, double x, double y, double width)
{
    static const char *const rails[] = {"leg A", "neutral", "leg B"};
    enum { BEFORE_LOADS = 3 };
    const struct lesson_circuit *circuit = &drawing->question->circuit[0];
    size_t loads = circuit->count - BEFORE_LOADS;
    double step = (split_height_pt - 24) / 2;
    double start_x = x + 46;
    double column = (width - 60) / (double)(loads / 2 + 1);
    column = column > 110 ? 110 : column;
    drawing->label_pt = column - box_width_pt;
    for (int rail = 0; rail < 3; rail++) {
        double rail_y = y + 10 + step * rail;
        letter(drawing, rails[rail], x, rail_y - 6);
        line(drawing, start_x, rail_y, start_x + column * (double)(loads / 2) + 10, rail_y);
    }
    for (size_t i = 0; i < loads; i++) {
        bool upper = i < loads / 2;
        double at_x = start_x + 20 + column * (double)(upper ? i : i - loads / 2);
        double top_y = y + 10 + (upper ? 0 : step);
        load(drawing, circuit->elements[BEFORE_LOADS + i].quantity, at_x, top_y, top_y + step);
    }
}

int circuit_draw(cairo_t *cairo, PangoLayout *layout, const struct lesson_question *question, double x_pt, double y_pt,
                 double width_pt)
{
    struct drawing drawing = {.cairo = cairo, .layout = layout, .question = question};
    cairo_save(cairo);
    cairo_set_line_width(cairo, 0.8);
    if (question->drawing == DRAW_SPLIT) {
        draw_split(&drawing, x_pt, y_pt, width_pt);
    } else if (question->drawing != DRAW_NONE) {
        draw_ladder(&drawing, x_pt, y_pt, width_pt);
    }
    cairo_restore(cairo);
    pango_layout_set_ellipsize(layout, PANGO_ELLIPSIZE_NONE);
    return drawing.unknown;
}
