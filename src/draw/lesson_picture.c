#include "lesson_picture.h"

#include <math.h>

#include "pictures.h"
#include "signs.h"

enum { RAILS_MOST = 16 };

static const double usual_text = 8.5;
static const double scale_most = 1.9;
static const double left_room = 44; /* at scale 1: for what stands beside the first rail */
static const double right_room = 12;
static const double pad = 8;
static const double gate_room = 48; /* to each side of the lettering */
static const double current_room = 24;
static const double breaker_long = 24;
static const double source_half = 11; /* height of its sign */

struct drawing {
    const struct lesson_figure *figure;
    struct sign_style style;
    struct canvas_font font;
    double line; /* height of one */
    double rail_x[RAILS_MOST];
    double source_y;
    double *row_y;
    struct canvas_lines *labels; /* by rung */
    struct canvas_lines source;
    double table_y; /* top of the table, where there is one */
    double height;
    double width;
};

/* ------------------------------------------------------------------ places -------------------------------- */

static bool has_head(const struct lesson_figure *figure)
{
    return figure->source != NULL;
}

/* Columns of one rung need less room than those that hold the loads. */
static double column_weight(const struct lesson_figure *figure, size_t column)
{
    size_t rungs = 0;
    for (size_t i = 0; i < figure->count; i++) {
        rungs += figure->rungs[i].from <= column && column < figure->rungs[i].to;
    }
    return rungs > 1 ? 1.5 : 1;
}

static void place_rails(struct drawing *drawing)
{
    const struct lesson_figure *figure = drawing->figure;
    const double scale = drawing->style.scale;
    const double left = left_room * scale;
    const double most = PICTURE_WIDTH - left - right_room * scale;
    const double room = fmin(most, (figure->rails == 2 ? 260 : figure->rails == 3 ? 350 : 440) * scale);
    double sum = 0;
    for (size_t i = 0; i + 1 < figure->rails; i++) {
        sum += column_weight(figure, i);
    }
    drawing->rail_x[0] = left;
    for (size_t i = 0; i + 1 < figure->rails; i++) {
        drawing->rail_x[i + 1] = drawing->rail_x[i] + room * column_weight(figure, i) / sum;
    }
    drawing->width = fmin(PICTURE_WIDTH, left + room + right_room * scale);
}

static double label_room(const struct drawing *drawing, const struct lesson_rung *rung)
{
    const double scale = drawing->style.scale;
    const double side = rung->gate != LESSON_NO_GATE ? gate_room : rung->current != NULL ? current_room : pad;
    return drawing->rail_x[rung->to] - drawing->rail_x[rung->from] - 2 * side * scale;
}

static void wrap_labels(struct drawing *drawing, struct arena *arena)
{
    const struct lesson_figure *figure = drawing->figure;
    const double across = drawing->rail_x[figure->rails - 1] - drawing->rail_x[0];
    drawing->labels = arena_array(arena, figure->count, sizeof *drawing->labels);
    for (size_t i = 0; i < figure->count; i++) {
        const struct lesson_rung *rung = &figure->rungs[i];
        const double room = figure->point ? across / 2 - 2 * pad : label_room(drawing, rung);
        drawing->labels[i] = canvas_wrap(drawing->font, room, (size_t)-1, rung->label, arena);
    }
    drawing->source = canvas_wrap(drawing->font, figure->split ? across / 2 : across, (size_t)-1,
                                  figure->source == NULL ? "" : figure->source, arena);
}

/* From the wire up to the base line of the last line above it, and down to what stands below. */
static double above(const struct drawing *drawing)
{
    bool machine = false;
    for (size_t i = 0; i < drawing->figure->count; i++) {
        machine = machine || drawing->figure->rungs[i].sign == LESSON_MACHINE;
    }
    return (machine ? 13 : 10) * drawing->style.scale; /* clear of its circle */
}

static double below(const struct drawing *drawing)
{
    return 9 * drawing->style.scale;
}

static size_t lines_of_row(const struct drawing *drawing, size_t row)
{
    size_t lines = 1;
    for (size_t i = 0; i < drawing->figure->count; i++) {
        if (drawing->figure->rungs[i].row == row && drawing->labels[i].count > lines) {
            lines = drawing->labels[i].count;
        }
    }
    return lines;
}

/* The rails' names, source, and between it and the first row the breaker or the arrow of the whole current. */
static double place_head(struct drawing *drawing)
{
    const struct lesson_figure *figure = drawing->figure;
    const double scale = drawing->style.scale;
    double y = figure->rail_names[0] != NULL ? drawing->line + 2 : 2;
    if (!has_head(figure)) {
        return y;
    }
    drawing->source_y = y + (double)drawing->source.count * drawing->line + (source_half + 1) * scale;
    y = drawing->source_y + source_half * scale;
    if (figure->breaker != NULL) {
        return fmax(y, drawing->source_y + (breaker_long + 8) * scale);
    }
    return y + (figure->total != NULL ? 4 * scale : 0);
}

static double table_row(const struct drawing *drawing)
{
    return 1.6 * drawing->line;
}

static void place_rows(struct drawing *drawing, struct arena *arena)
{
    const struct lesson_figure *figure = drawing->figure;
    double y = place_head(drawing);
    drawing->row_y = arena_array(arena, figure->rows, sizeof *drawing->row_y);
    for (size_t row = 0; row < figure->rows; row++) {
        y += (double)lines_of_row(drawing, row) * drawing->line + above(drawing);
        drawing->row_y[row] = y;
        y += below(drawing);
    }
    if (figure->point) {
        y += 2 * drawing->line;
    }
    drawing->height = y + (figure->note == NULL ? 0 : drawing->line) + 4;
    if (figure->cells[0][0] != NULL) {
        drawing->table_y = drawing->height + drawing->line / 2;
        drawing->height = drawing->table_y + table_row(drawing) * (LESSON_GRID_SIDE + 1) + 2;
    }
}

/* ------------------------------------------------------------------ strokes ------------------------------- */

static void draw_lettering(struct canvas *canvas, const struct drawing *drawing, double x, double y,
                           struct canvas_lines lines)
{
    for (size_t i = 0; i < lines.count; i++) {
        const double up = (double)(lines.count - 1 - i) * drawing->line;
        canvas_text(canvas, x, y - up, CANVAS_MIDDLE, drawing->font, lines.line[i]);
    }
}

static void draw_line(struct canvas *canvas, const struct drawing *drawing, double x1, double y1, double x2, double y2)
{
    canvas_line(canvas, x1, y1, x2, y2, sign_pen(&drawing->style));
}

static void draw_one_source(struct canvas *canvas, const struct drawing *drawing, double left, double right)
{
    const double middle = (left + right) / 2;
    const double half =
        (drawing->figure->mains ? sign_alternating : sign_battery)(canvas, &drawing->style, middle, drawing->source_y);
    draw_line(canvas, drawing, left, drawing->source_y, middle - half, drawing->source_y);
    draw_line(canvas, drawing, middle + half, drawing->source_y, right, drawing->source_y);
    draw_lettering(canvas, drawing, middle, drawing->source_y - (source_half + 3) * drawing->style.scale,
                   drawing->source);
}

static void draw_sources(struct canvas *canvas, const struct drawing *drawing)
{
    const struct lesson_figure *figure = drawing->figure;
    if (figure->split) {
        draw_one_source(canvas, drawing, drawing->rail_x[0], drawing->rail_x[1]);
        draw_one_source(canvas, drawing, drawing->rail_x[1], drawing->rail_x[2]);
    } else if (has_head(figure)) {
        draw_one_source(canvas, drawing, drawing->rail_x[0], drawing->rail_x[figure->rails - 1]);
    }
}

/* Rows of the first and last rung that ends at the rail; false where none does. */
static bool rows_of_rail(const struct lesson_figure *figure, size_t rail, size_t *ret_first, size_t *ret_last)
{
    bool found = false;
    for (size_t i = 0; i < figure->count; i++) {
        const struct lesson_rung *rung = &figure->rungs[i];
        if (rung->from == rail || rung->to == rail) {
            *ret_first = found && *ret_first < rung->row ? *ret_first : rung->row;
            *ret_last = found && *ret_last > rung->row ? *ret_last : rung->row;
            found = true;
        }
    }
    return found;
}

/* The way down from the source on the first rail: past the breaker, or with the arrow of the whole current. */
static void draw_way_down(struct canvas *canvas, const struct drawing *drawing, double bottom)
{
    const struct lesson_figure *figure = drawing->figure;
    const double scale = drawing->style.scale;
    const double x = drawing->rail_x[0];
    const double y = drawing->source_y + 6 * scale;
    if (figure->breaker == NULL) {
        draw_line(canvas, drawing, x, drawing->source_y, x, bottom);
    } else {
        draw_line(canvas, drawing, x, drawing->source_y, x, y);
        sign_breaker(canvas, &drawing->style, x, y);
        draw_line(canvas, drawing, x, y + breaker_long * scale, x, bottom);
        canvas_text(canvas, x - 11 * scale, y + 12 * scale, CANVAS_END, drawing->font, figure->breaker);
    }
    if (figure->total != NULL) {
        const double tip =
            fmax(drawing->row_y[0] - 4 * scale, y + (breaker_long + 8) * scale * (figure->breaker != NULL));
        sign_arrow(canvas, &drawing->style, x, tip, true);
        canvas_text(canvas, x - 6 * scale, tip, CANVAS_END, drawing->font, figure->total);
    }
}

static void draw_rails(struct canvas *canvas, const struct drawing *drawing)
{
    const struct lesson_figure *figure = drawing->figure;
    for (size_t rail = 0; rail < figure->rails; rail++) {
        size_t first = 0;
        size_t last = 0;
        if (!rows_of_rail(figure, rail, &first, &last)) {
            continue;
        }
        const bool outer = rail == 0 || rail + 1 == figure->rails || figure->split;
        const double top = outer && has_head(figure) ? drawing->source_y : drawing->row_y[first];
        if (rail == 0 && has_head(figure) && !figure->split) {
            draw_way_down(canvas, drawing, drawing->row_y[last]);
        } else {
            draw_line(canvas, drawing, drawing->rail_x[rail], top, drawing->rail_x[rail], drawing->row_y[last]);
        }
        if (figure->rail_names[0] != NULL && rail < 3) {
            canvas_text(canvas, drawing->rail_x[rail], drawing->line - 2, CANVAS_MIDDLE, drawing->font,
                        figure->rail_names[rail]);
        }
    }
}

static void draw_rung(struct canvas *canvas, const struct drawing *drawing, size_t index)
{
    static const enum wire_gate gates[] = {[LESSON_NO_GATE] = GATE_NONE,
                                           [LESSON_SWITCH_CLOSED] = GATE_CLOSED,
                                           [LESSON_SWITCH_OPEN] = GATE_OPEN,
                                           [LESSON_BREAK] = GATE_BREAK};
    static const enum load_sign signs[] = {
        [LESSON_RESISTOR] = SIGN_RESISTOR, [LESSON_MACHINE] = SIGN_MOTOR, [LESSON_BARE] = SIGN_NONE};
    const struct lesson_rung *rung = &drawing->figure->rungs[index];
    const double scale = drawing->style.scale;
    const struct rung wire = {.x1 = drawing->rail_x[rung->from],
                              .x2 = drawing->rail_x[rung->to],
                              .y = drawing->row_y[rung->row],
                              .sign = signs[rung->sign],
                              .gate = gates[rung->gate],
                              .pen = sign_pen(&drawing->style)};
    canvas_group(canvas, rung->label, NULL);
    draw_rung_wire(canvas, &drawing->style, &wire);
    draw_lettering(canvas, drawing, (wire.x1 + wire.x2) / 2, wire.y - above(drawing), drawing->labels[index]);
    if (rung->current != NULL) {
        sign_arrow(canvas, &drawing->style, wire.x1 + 18 * scale, wire.y, false);
        canvas_text(canvas, wire.x1 + 14 * scale, wire.y - 6 * scale, CANVAS_MIDDLE, drawing->font, rung->current);
    }
    canvas_group_end(canvas);
}

/* ------------------------------------------------------------------ a point ------------------------------- */

/* Wires that meet: those that carry in at the left, out at the right, the one that is not marked below. */
static void draw_point(struct canvas *canvas, const struct drawing *drawing)
{
    const struct lesson_figure *figure = drawing->figure;
    const double scale = drawing->style.scale;
    const double left = drawing->rail_x[0];
    const double right = drawing->rail_x[figure->rails - 1];
    const double middle = (left + right) / 2;
    const double bottom = drawing->row_y[figure->rows - 1];
    draw_line(canvas, drawing, middle, drawing->row_y[0], middle, bottom);
    for (size_t i = 0; i < figure->count; i++) {
        const struct lesson_rung *rung = &figure->rungs[i];
        const double y = drawing->row_y[rung->row];
        if (rung->from == 2) {
            const double end = bottom + 1.6 * drawing->line;
            canvas_line(canvas, middle, bottom, middle, end, (struct canvas_pen){drawing->style.stroke, CANVAS_DASHED});
            canvas_text(canvas, middle + 6 * scale, end, CANVAS_START, drawing->font, rung->label);
            continue;
        }
        const double from = rung->from == 0 ? left : middle;
        const double to = rung->from == 0 ? middle : right;
        draw_line(canvas, drawing, from, y, to, y);
        sign_arrow(canvas, &drawing->style, (from + to) / 2, y, false);
        sign_joint(canvas, &drawing->style, middle, y);
        draw_lettering(canvas, drawing, (from + to) / 2, y - above(drawing) + 2, drawing->labels[i]);
    }
    sign_joint(canvas, &drawing->style, middle, bottom);
}

/* The table below the circuit: what is given, and the letters of the parts where it is to be filled in. */
static void draw_table(struct canvas *canvas, const struct drawing *drawing)
{
    enum { SIDE = LESSON_GRID_SIDE + 1 };
    const struct canvas_pen pen = {drawing->style.stroke, CANVAS_SOLID};
    const double left = 2;
    const double column = (drawing->width - 2 * left) / SIDE;
    const double row = table_row(drawing);
    for (size_t i = 0; i <= SIDE; i++) {
        const double x = left + column * (double)i;
        const double y = drawing->table_y + row * (double)i;
        canvas_line(canvas, left, y, left + column * SIDE, y, pen);
        canvas_line(canvas, x, drawing->table_y, x, drawing->table_y + row * SIDE, pen);
    }
    for (size_t i = 0; i < SIDE; i++) {
        for (size_t k = 0; k < SIDE; k++) {
            canvas_text(canvas, left + column * ((double)k + 0.5), drawing->table_y + row * ((double)i + 0.68),
                        CANVAS_MIDDLE, drawing->font, drawing->figure->cells[i][k]);
        }
    }
}

static void draw(struct canvas *canvas, const struct picture *picture)
{
    const struct drawing *drawing = picture->data;
    const struct lesson_figure *figure = drawing->figure;
    if (figure->point) {
        draw_point(canvas, drawing);
        return;
    }
    draw_sources(canvas, drawing);
    draw_rails(canvas, drawing);
    for (size_t i = 0; i < figure->count; i++) {
        draw_rung(canvas, drawing, i);
    }
    if (figure->note != NULL) {
        canvas_text(canvas, (drawing->rail_x[0] + drawing->rail_x[figure->rails - 1]) / 2, drawing->height - 6,
                    CANVAS_MIDDLE, drawing->font, figure->note);
    }
    if (figure->cells[0][0] != NULL) {
        draw_table(canvas, drawing);
    }
}

struct picture lesson_picture(const struct lesson_figure *figure, const struct lesson_look *look, struct arena *arena)
{
    struct drawing *drawing = arena_take(arena, sizeof *drawing);
    *drawing = (struct drawing){.figure = figure,
                                .style = {fmin(look->text / usual_text, scale_most), look->stroke, look->zigzag},
                                .font = {look->text, false}};
    drawing->line = canvas_line_height(drawing->font);
    place_rails(drawing);
    wrap_labels(drawing, arena);
    place_rows(drawing, arena);
    return (struct picture){.title = figure->title,
                            .description = figure->sentence,
                            .width = drawing->width,
                            .height = drawing->height,
                            .draw = draw,
                            .data = drawing};
}
