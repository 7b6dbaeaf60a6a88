#include "ladder_tree.h"

#include <math.h>

/* At scale 1, points. */
static const double part_least = 78;
static const double gated_least = 136; /* a gate stands before the sign */
static const double letters_apart = 12;
static const double rail = 14;     /* from the end of a group to its joint */
static const double line_gap = 18; /* between two lines of a row: the wire from one to the next */

/* ------------------------------------------------------------------ room ---------------------------------- */

static struct tree_box measure_load(const struct tree_look *look, const struct ladder_part *part)
{
    const double scale = look->style.scale;
    const double letters =
        fmax(canvas_text_width(look->strong, part->name),
             fmax(canvas_text_width(look->font, part->figures), canvas_text_width(look->font, part->more)));
    const double least = part->gate == GATE_NONE ? part_least : gated_least;
    const double lines = part->more[0] == '\0' ? 0.6 * look->font.size : look->line + 0.6 * look->font.size;
    return (struct tree_box){fmax(least * scale, letters + letters_apart * scale), look->above + look->line,
                             look->below + lines};
}

static struct tree_box after(struct tree_box box, struct tree_box next)
{
    return (struct tree_box){box.width + next.width, fmax(box.up, next.up), fmax(box.down, next.down)};
}

static struct tree_box measure(const struct tree_look *look, const struct ladder_part *part)
{
    const double joints = 2 * rail * look->style.scale;
    struct tree_box box = {0};
    if (part->kind == LADDER_LOAD) {
        return measure_load(look, part);
    }
    for (size_t i = 0; i < part->count; i++) {
        const struct tree_box one = measure(look, &part->parts[i]);
        if (part->kind == LADDER_ROW) {
            box = after(box, one);
        } else {
            box.up = i == 0 ? one.up : box.up;
            box.down += i == 0 ? one.down : one.up + one.down;
            box.width = fmax(box.width, one.width + joints);
        }
    }
    return box;
}

/* Those that stand one after the other. */
static const struct ladder_part *members(const struct ladder_part *part, size_t *ret_count)
{
    *ret_count = part->kind == LADDER_ROW ? part->count : 1;
    return part->kind == LADDER_ROW ? part->parts : part;
}

struct tree_lines tree_lines(const struct tree_look *look, const struct ladder_part *part, double room,
                             struct arena *arena)
{
    size_t count;
    const struct ladder_part *member = members(part, &count);
    struct tree_lines lines = {.line = arena_array(arena, count, sizeof *lines.line)};
    for (size_t i = 0; i < count; i++) {
        const struct tree_box box = measure(look, &member[i]);
        struct tree_line *last = lines.count == 0 ? NULL : &lines.line[lines.count - 1];
        if (last == NULL || last->box.width + box.width > room) {
            last = &lines.line[lines.count++];
            *last = (struct tree_line){.first = i};
        }
        last->box = after(last->box, box);
        last->end = i + 1;
        lines.width = fmax(lines.width, last->box.width);
    }
    lines.up = lines.line[0].box.up;
    for (size_t i = 0; i < lines.count; i++) {
        struct tree_line *line = &lines.line[i];
        line->y = i == 0 ? 0 : lines.down + line_gap * look->style.scale + line->box.up;
        lines.down = line->y + line->box.down;
    }
    return lines;
}

/* ------------------------------------------------------------------ strokes ------------------------------- */

static void draw(struct canvas *canvas, const struct tree_look *look, const struct ladder_part *part, double x,
                 double y, double width);

static void draw_load(struct canvas *canvas, const struct tree_look *look, const struct ladder_part *part, double x,
                      double y, double width)
{
    const struct rung wire = {
        .x1 = x, .x2 = x + width, .y = y, .gate = part->gate, .bridged = part->bridged, .pen = sign_pen(&look->style)};
    const double middle = x + width / 2;
    canvas_group(canvas, part->name, part->figures);
    draw_rung_wire(canvas, &look->style, &wire);
    canvas_text(canvas, middle, y - look->above, CANVAS_MIDDLE, look->strong, part->name);
    canvas_text(canvas, middle, y + look->below, CANVAS_MIDDLE, look->font, part->figures);
    canvas_text(canvas, middle, y + look->below + look->line, CANVAS_MIDDLE, look->font, part->more);
    canvas_group_end(canvas);
}

static void draw_row(struct canvas *canvas, const struct tree_look *look, const struct ladder_part *part, double x,
                     double y)
{
    for (size_t i = 0; i < part->count; i++) {
        const double width = measure(look, &part->parts[i]).width;
        draw(canvas, look, &part->parts[i], x, y, width);
        x += width;
    }
}

/* The rails of a group from one member's wire to the next one's. */
static void draw_rails(struct canvas *canvas, const struct tree_look *look, double left, double right, double from,
                       double to)
{
    const double ends[] = {left, right};
    for (size_t i = 0; i < 2; i++) {
        sign_wire(canvas, &look->style, ends[i], from, ends[i], to);
        sign_joint(canvas, &look->style, ends[i], from);
    }
}

static void draw_group(struct canvas *canvas, const struct tree_look *look, const struct ladder_part *part, double x,
                       double y, double width)
{
    const double left = x + rail * look->style.scale;
    const double right = x + width - rail * look->style.scale;
    double below = 0; /* of the member before */
    sign_wire(canvas, &look->style, x, y, left, y);
    sign_wire(canvas, &look->style, right, y, x + width, y);
    for (size_t i = 0; i < part->count; i++) {
        const struct tree_box one = measure(look, &part->parts[i]);
        const double from = y;
        const double spare = (right - left - one.width) / 2;
        if (i > 0) {
            y += below + one.up;
            draw_rails(canvas, look, left, right, from, y);
        }
        sign_wire(canvas, &look->style, left, y, left + spare, y);
        sign_wire(canvas, &look->style, right - spare, y, right, y);
        draw(canvas, look, &part->parts[i], left + spare, y, one.width);
        below = one.down;
    }
}

static void draw(struct canvas *canvas, const struct tree_look *look, const struct ladder_part *part, double x,
                 double y, double width)
{
    switch (part->kind) {
    case LADDER_LOAD:
        draw_load(canvas, look, part, x, y, width);
        break;
    case LADDER_ROW:
        draw_row(canvas, look, part, x, y);
        break;
    case LADDER_GROUP:
        draw_group(canvas, look, part, x, y, width);
        break;
    }
}

/* From the end of a line below it to the beginning of the next. */
static void draw_way_back(struct canvas *canvas, const struct tree_look *look, struct canvas_point end,
                          struct canvas_point next, double top)
{
    const double y = top - line_gap * look->style.scale / 2;
    const struct canvas_point points[] = {end, {end.x, y}, {next.x, y}, next};
    canvas_polyline(canvas, points, 4, sign_pen(&look->style));
}

void tree_draw(struct canvas *canvas, const struct tree_look *look, const struct ladder_part *part,
               const struct tree_lines *lines, struct canvas_point left, double right, double side)
{
    size_t count;
    const struct ladder_part *member = members(part, &count);
    const double spare = lines->count == 1 ? (right - left.x - lines->width) / 2 : side;
    for (size_t i = 0; i < lines->count; i++) {
        const struct tree_line *line = &lines->line[i];
        const bool last = i + 1 == lines->count;
        const double y = left.y + line->y;
        const double end = last ? right : right - side / 2;
        const struct ladder_part row = {
            .kind = LADDER_ROW, .parts = member + line->first, .count = line->end - line->first};
        sign_wire(canvas, &look->style, i == 0 ? left.x : left.x + side / 2, y, left.x + spare, y);
        draw_row(canvas, look, &row, left.x + spare, y);
        sign_wire(canvas, &look->style, left.x + spare + line->box.width, y, end, y);
        if (!last) {
            const struct tree_line *next = line + 1;
            draw_way_back(canvas, look, (struct canvas_point){end, y},
                          (struct canvas_point){left.x + side / 2, left.y + next->y}, left.y + next->y - next->box.up);
        }
    }
}
