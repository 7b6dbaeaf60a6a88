#include "ladder.h"

#include <math.h>

#include "ladder_tree.h"
#include "pictures.h"

enum { RAILS_MOST = 16 };

/* Distances at scale 1, points. */
static const double usual_text = 8.5;
static const double scale_most = 1.6;
static const double scale_cut = 1.25; /* where names are cut, room is scarce */
static const double left_room = 44;   /* for what stands beside the first rail */
static const double right_room = 12;
static const double pad = 8;
static const double gate_room = 48; /* to each side of the lettering */
static const double current_room = 24;
static const double breaker_long = 24;
static const double source_half = 11; /* height of its sign */
static const double thick = 6;        /* of a wire that carries the breaker's rating, in a live drawing */
static const double stub = 30;        /* of a rail that goes on elsewhere, not scaled */
static const double beside_rail = 10;
static const double end_radius = 2;  /* radius */
static const double tree_side = 28;  /* between a rail and what a rung holds: room for the arrow */
static const double head_side = 14;  /* from the rails to the head */
static const double flat_left = 24;  /* of a flat look: from the rail to the words, past the arrow */
static const double flat_gate = 48;  /* past a contact */
static const double flat_right = 32; /* from the sign's middle to the rail */
static const double flat_sign = 24;  /* half the room of a sign */
static const double flat_up = 7;     /* from the wire up to the words' base line */

struct drawing {
    const struct ladder *ladder;
    struct ladder_look look;
    struct sign_style style;
    struct canvas_font font;
    struct canvas_font strong; /* of names where they are bold, of the first line of head and foot */
    double line;               /* height of one */
    double rail_x[RAILS_MOST];
    double source_y;
    double way_y;  /* where the first rail begins: under the names */
    double down_y; /* where its first stretch begins: under the breaker */
    double head_y; /* base line of the head's first line */
    double *row_y;
    double *row_end;            /* wire of a row's last line, where the last rail takes it up */
    struct canvas_lines *names; /* by rung */
    struct tree_lines *trees;   /* by rung, where it holds more than a load */
    struct canvas_lines source;
    struct canvas_lines head[LADDER_HEAD]; /* as many lines as they need */
    struct canvas_lines foot[LADDER_FOOT];
    double foot_y;  /* base line of its first line */
    double table_y; /* top of the table */
    double height;
    double width;
};

static size_t last_rail(const struct ladder *ladder)
{
    return ladder->rails - 1;
}

/* A little smaller where the words would be cut else. */
static struct canvas_font fitting(struct canvas_font font, double width, const char *words)
{
    const double least = 0.85;
    const double share = 0.98 * width / canvas_text_width(font, words);
    return (struct canvas_font){font.size * fmin(1, fmax(least, share)), font.bold};
}

static struct canvas_pen pen_or(const struct drawing *drawing, struct canvas_pen pen)
{
    return pen.width > 0 ? pen : sign_pen(&drawing->style);
}

const char *load_name(const struct appliance *appliance, unsigned units, struct arena *arena)
{
    return appliance->count > 1 ? arena_printf(arena, "%u \xC3\x97 %s", units, appliance->name) : appliance->name;
}

enum load_sign appliance_sign(const struct appliance *appliance)
{
    return appliance->behaviour == BEHAVIOUR_MOTOR    ? SIGN_MOTOR
           : appliance->category == CATEGORY_LIGHTING ? SIGN_LAMP
                                                      : SIGN_RESISTOR;
}

/* ------------------------------------------------------------------ across -------------------------------- */

/* Columns of one rung need less room than those that hold the loads. */
static double column_weight(const struct ladder *ladder, size_t column)
{
    size_t rungs = 0;
    for (size_t i = 0; i < ladder->count; i++) {
        rungs += ladder->rungs[i].from <= column && column < ladder->rungs[i].to;
    }
    return rungs > 1 ? 1.5 : 1;
}

/* Room beside the first rail for the widest of what stands there. */
static double room_at_left(const struct drawing *drawing)
{
    const struct ladder *ladder = drawing->ladder;
    const double scale = drawing->style.scale;
    double widest = ladder->widest == NULL ? 0 : canvas_text_width(drawing->font, ladder->widest);
    for (size_t i = 0; i < ladder->rows; i++) {
        const char *current = ladder->stretches[i].current;
        widest = fmax(widest, current == NULL ? 0 : canvas_text_width(drawing->font, current));
    }
    for (size_t i = 0; i < ladder->count && ladder->star; i++) {
        const char *terminal = ladder->rungs[i].terminal;
        widest = fmax(widest, terminal == NULL ? 0 : canvas_text_width(drawing->font, terminal));
    }
    return fmax(left_room * scale, widest + (beside_rail + 4) * scale);
}

/* Some sign is a circle, or some contact rises: the lettering keeps clear of it. */
static bool stands_high(const struct drawing *drawing)
{
    for (size_t i = 0; i < drawing->ladder->count; i++) {
        const struct ladder_rung *rung = &drawing->ladder->rungs[i];
        const bool contact = drawing->look.cut && rung->gate != GATE_NONE;
        if (rung->sign == SIGN_MOTOR || rung->sign == SIGN_LAMP || rung->bridged || contact || rung->inside != NULL) {
            return true;
        }
    }
    return false;
}

/* From the wire up to the base line of the last line above it. */
static double above(const struct drawing *drawing)
{
    return (drawing->look.flat ? flat_up : stands_high(drawing) ? 13 : 10) * drawing->style.scale;
}

static bool has_figures(const struct ladder *ladder)
{
    for (size_t i = 0; i < ladder->count; i++) {
        if (ladder->rungs[i].figures != NULL) {
            return true;
        }
    }
    return false;
}

/* From the wire down to the base line of the figures. */
static double figures_down(const struct drawing *drawing)
{
    return (stands_high(drawing) ? 9 : 8) * drawing->style.scale + 0.8 * drawing->font.size;
}

static struct tree_look tree_look(const struct drawing *drawing)
{
    return (struct tree_look){.style = drawing->style,
                              .font = drawing->font,
                              .strong = drawing->strong,
                              .line = drawing->line,
                              .above = above(drawing),
                              .below = figures_down(drawing)};
}

/* What the rungs hold, in lines where one stands alone; the room between the rails that this asks for. */
static double measure_trees(struct drawing *drawing, double room, struct arena *arena)
{
    const struct ladder *ladder = drawing->ladder;
    const double sides = 2 * tree_side * drawing->style.scale;
    const struct tree_look look = tree_look(drawing);
    double width = 0;
    drawing->trees = arena_array(arena, ladder->count, sizeof *drawing->trees);
    for (size_t i = 0; i < ladder->count; i++) {
        if (ladder->rungs[i].inside != NULL) {
            drawing->trees[i] =
                tree_lines(&look, ladder->rungs[i].inside, ladder->count == 1 ? room - sides : HUGE_VAL, arena);
            width = fmax(width, drawing->trees[i].width + sides);
        }
    }
    return width;
}

/* Between first and last rail: by what rungs hold, else by the lettering, whose names stand there. */
static double room_between(struct drawing *drawing, double left, struct arena *arena)
{
    const double scale = drawing->style.scale;
    const size_t rails = drawing->ladder->rails;
    const double usual = (rails == 2 ? 260 : rails == 3 ? 350 : 440) * drawing->look.text / usual_text;
    const bool given = drawing->look.width > 0;
    const double room = (given ? drawing->look.width : PICTURE_WIDTH) - left - right_room * scale;
    const double trees = measure_trees(drawing, room, arena);
    return trees > 0 ? fmax(trees, usual / 2) : fmin(room, given ? 360 * scale : usual);
}

/* What a name keeps clear of to each side of it. */
static double side_room(const struct drawing *drawing, const struct ladder_rung *rung)
{
    const bool beside = rung->current != NULL && rung->current[0] != '\0';
    const double side = drawing->look.cut ? pad : rung->gate != GATE_NONE ? gate_room : beside ? current_room : pad;
    return side * drawing->style.scale;
}

static double name_room(const struct drawing *drawing, const struct ladder_rung *rung)
{
    return drawing->rail_x[rung->to] - drawing->rail_x[rung->from] - 2 * side_room(drawing, rung);
}

/* Room without which a word of a name in that column would be broken. */
static double column_need(const struct drawing *drawing, size_t column)
{
    double need = 0;
    for (size_t i = 0; i < drawing->ladder->count && !drawing->look.cut; i++) {
        const struct ladder_rung *rung = &drawing->ladder->rungs[i];
        if (rung->from == column && rung->to == column + 1 && rung->inside == NULL) {
            need = fmax(need, canvas_longest_word(drawing->strong, rung->name) + 2 * side_room(drawing, rung) + 1);
        }
    }
    return need;
}

/* Columns share the room by weight, but for those that need more than their share, as far as all needs are met. */
static void share_columns(const struct drawing *drawing, double room, double *width)
{
    const size_t columns = drawing->ladder->rails - 1;
    double weight = 0;
    double needs = 0;
    for (size_t i = 0; i < columns; i++) {
        width[i] = 0;
        weight += column_weight(drawing->ladder, i);
        needs += column_need(drawing, i);
    }
    for (size_t i = 0; i < columns && needs < room; i++) {
        const double own = column_weight(drawing->ladder, i);
        if (width[i] <= 0 && column_need(drawing, i) > room * own / weight) {
            width[i] = column_need(drawing, i);
            room -= width[i];
            weight -= own;
            i = (size_t)-1; /* the others' shares are smaller now */
        }
    }
    for (size_t i = 0; i < columns; i++) {
        width[i] = width[i] > 0 ? width[i] : room * column_weight(drawing->ladder, i) / weight;
    }
}

static void place_rails(struct drawing *drawing, struct arena *arena)
{
    const struct ladder *ladder = drawing->ladder;
    const double scale = drawing->style.scale;
    double left = room_at_left(drawing);
    const double room = room_between(drawing, left, arena);
    const double needed = left + room + right_room * scale;
    double width[RAILS_MOST];
    drawing->width = drawing->look.width > 0 ? drawing->look.width : needed;
    if (drawing->width <= PICTURE_WIDTH + 0.001) { /* but for the last binary digit */
        drawing->width = fmin(drawing->width, PICTURE_WIDTH);
    }
    left += drawing->look.width > 0 ? (drawing->width - needed) / 2 : 0;
    share_columns(drawing, room, width);
    drawing->rail_x[0] = left;
    for (size_t i = 0; i + 1 < ladder->rails; i++) {
        drawing->rail_x[i + 1] = drawing->rail_x[i] + width[i];
    }
}

static void wrap_names(struct drawing *drawing, struct arena *arena)
{
    const struct ladder *ladder = drawing->ladder;
    const double across = drawing->rail_x[last_rail(ladder)] - drawing->rail_x[0];
    drawing->names = arena_array(arena, ladder->count, sizeof *drawing->names);
    for (size_t i = 0; i < ladder->count && !drawing->look.cut; i++) {
        const struct ladder_rung *rung = &ladder->rungs[i];
        if (rung->inside != NULL) {
            continue;
        }
        const double room = ladder->point ? across / 2 - 2 * pad : name_room(drawing, rung);
        drawing->names[i] = canvas_wrap(drawing->strong, room, (size_t)-1, rung->name, arena);
    }
    for (size_t i = 0; i < LADDER_HEAD; i++) {
        const char *words = ladder->head[i] == NULL ? "" : ladder->head[i];
        drawing->head[i] = canvas_wrap(i == 0 ? drawing->strong : drawing->font,
                                       across - 2 * head_side * drawing->style.scale, (size_t)-1, words, arena);
    }
    for (size_t i = 0; i < LADDER_FOOT; i++) {
        const char *words = ladder->foot[i] == NULL ? "" : ladder->foot[i];
        drawing->foot[i] =
            canvas_wrap(i == 0 ? drawing->strong : drawing->font, drawing->width - 4, (size_t)-1, words, arena);
    }
    drawing->source = canvas_wrap(drawing->font, ladder->split ? across / 2 : across, (size_t)-1,
                                  ladder->source == NULL ? "" : ladder->source, arena);
}

/* ------------------------------------------------------------------ down ---------------------------------- */

static double below(const struct drawing *drawing)
{
    if (drawing->look.flat) {
        return 2 * drawing->style.scale;
    }
    return has_figures(drawing->ladder) ? figures_down(drawing) + 0.6 * drawing->font.size : 9 * drawing->style.scale;
}

static size_t lines_of_row(const struct drawing *drawing, size_t row)
{
    size_t lines = 1;
    for (size_t i = 0; i < drawing->ladder->count; i++) {
        if (drawing->ladder->rungs[i].row == row && drawing->names[i].count > lines) {
            lines = drawing->names[i].count;
        }
    }
    return lines;
}

static bool has_rail_names(const struct ladder *ladder)
{
    return ladder->rail_names[0] != NULL;
}

/* Nothing is said of where the rails come from: they end in terminals. */
static bool is_bare(const struct ladder *ladder)
{
    return ladder->source == NULL && ladder->before == NULL && !has_rail_names(ladder) && !ladder->star &&
           !ladder->point;
}

/* The source, and between it and the first row the breaker or the arrow of the whole current. */
static double place_source(struct drawing *drawing, double y)
{
    const struct ladder *ladder = drawing->ladder;
    const double scale = drawing->style.scale;
    drawing->source_y = y + (double)drawing->source.count * drawing->line + (source_half + 1) * scale;
    drawing->way_y = drawing->source_y;
    drawing->down_y = drawing->source_y;
    y = drawing->source_y + source_half * scale;
    if (ladder->breaker != NULL) {
        drawing->down_y = drawing->source_y + (6 + breaker_long) * scale;
        return fmax(y, drawing->down_y + 2 * scale);
    }
    const bool arrow = ladder->stretches[0].current != NULL || ladder->neutral != NULL;
    return y + (ladder->neutral != NULL ? 10 : arrow ? 4 : 0) * scale;
}

static size_t head_lines(const struct drawing *drawing)
{
    size_t lines = 0;
    for (size_t i = 0; i < LADDER_HEAD && drawing->ladder->head[i] != NULL; i++) {
        lines += drawing->head[i].count;
    }
    return lines;
}

/* The rails come from elsewhere: their names, the breaker, and the head beside it. */
static double place_head(struct drawing *drawing, double y)
{
    const struct ladder *ladder = drawing->ladder;
    const double scale = drawing->style.scale;
    const size_t lines = head_lines(drawing);
    y += is_bare(ladder) ? 2 * end_radius * scale : 0;
    drawing->way_y = y;
    drawing->down_y = y + (ladder->breaker != NULL ? (10 + breaker_long) * scale : 0);
    drawing->head_y = y + 4 * scale + drawing->font.size;
    y = fmax(drawing->down_y + 4 * scale, drawing->head_y + (double)lines * drawing->line - 0.6 * drawing->font.size);
    return lines == 0 && ladder->breaker == NULL ? drawing->way_y : y;
}

static double place_top(struct drawing *drawing)
{
    const struct ladder *ladder = drawing->ladder;
    const double y = has_rail_names(ladder) ? drawing->line + 2 : 2;
    if (ladder->before != NULL) {
        drawing->way_y = y + drawing->line;
        drawing->down_y = drawing->way_y;
        return drawing->way_y + 4;
    }
    return ladder->source != NULL ? place_source(drawing, y) : place_head(drawing, y);
}

static double table_row(const struct drawing *drawing)
{
    return 1.6 * drawing->line;
}

/* What stands under the last row. */
static void place_bottom(struct drawing *drawing, double y)
{
    const struct ladder *ladder = drawing->ladder;
    size_t lines = 0;
    for (size_t i = 0; i < LADDER_FOOT; i++) {
        lines += ladder->foot[i] == NULL ? 0 : drawing->foot[i].count;
    }
    y += ladder->point ? 2 * drawing->line : 0;
    if (ladder->after != NULL) {
        y = fmax(y, drawing->row_y[ladder->rows - 1] + stub);
    }
    drawing->foot_y = y + drawing->line - 0.2 * drawing->font.size;
    drawing->height = y + (double)(lines + (ladder->after != NULL)) * drawing->line + 4;
    if (ladder->cells[0][0] != NULL) {
        drawing->table_y = drawing->height + drawing->line / 2;
        drawing->height = drawing->table_y + table_row(drawing) * LADDER_SIDE + 2;
    }
}

/* What the lettering or what a rung holds takes above and below a row's wire; from that to the last line's wire. */
struct row_room {
    double up;
    double down;
    double lines;
};

static struct row_room room_of_row(const struct drawing *drawing, size_t row)
{
    struct row_room room = {0};
    for (size_t i = 0; i < drawing->ladder->count; i++) {
        const struct tree_lines *tree = &drawing->trees[i];
        if (drawing->ladder->rungs[i].row == row && drawing->ladder->rungs[i].inside != NULL) {
            room.lines = tree->line[tree->count - 1].y;
            room.up = fmax(room.up, tree->up);
            room.down = fmax(room.down, tree->down - room.lines);
        } else if (drawing->ladder->rungs[i].row == row) {
            room.up = fmax(room.up, (double)lines_of_row(drawing, row) * drawing->line + above(drawing));
            room.down = fmax(room.down, below(drawing));
        }
    }
    return room;
}

static void place_rows(struct drawing *drawing, struct arena *arena)
{
    const struct ladder *ladder = drawing->ladder;
    double y = place_top(drawing);
    drawing->row_y = arena_array(arena, ladder->rows, sizeof *drawing->row_y);
    drawing->row_end = arena_array(arena, ladder->rows, sizeof *drawing->row_end);
    for (size_t row = 0; row < ladder->rows; row++) {
        const struct row_room room = room_of_row(drawing, row);
        drawing->row_y[row] = y + room.up;
        drawing->row_end[row] = drawing->row_y[row] + room.lines;
        y = drawing->row_end[row] + room.down;
    }
    place_bottom(drawing, y);
}

/* ------------------------------------------------------------------ strokes ------------------------------- */

static void draw_lettering(struct canvas *canvas, const struct drawing *drawing, double x, double y,
                           struct canvas_font font, struct canvas_lines lines)
{
    for (size_t i = 0; i < lines.count; i++) {
        const double up = (double)(lines.count - 1 - i) * drawing->line;
        canvas_text(canvas, x, y - up, CANVAS_MIDDLE, font, lines.line[i]);
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
        (drawing->ladder->mains ? sign_alternating : sign_battery)(canvas, &drawing->style, middle, drawing->source_y);
    draw_line(canvas, drawing, left, drawing->source_y, middle - half, drawing->source_y);
    draw_line(canvas, drawing, middle + half, drawing->source_y, right, drawing->source_y);
    draw_lettering(canvas, drawing, middle, drawing->source_y - (source_half + 3) * drawing->style.scale, drawing->font,
                   drawing->source);
}

static void draw_sources(struct canvas *canvas, const struct drawing *drawing)
{
    const struct ladder *ladder = drawing->ladder;
    if (ladder->split) {
        draw_one_source(canvas, drawing, drawing->rail_x[0], drawing->rail_x[1]);
        draw_one_source(canvas, drawing, drawing->rail_x[1], drawing->rail_x[2]);
    } else if (ladder->source != NULL) {
        draw_one_source(canvas, drawing, drawing->rail_x[0], drawing->rail_x[last_rail(ladder)]);
    }
}

/* The breaker's sign in a rail, from way_y down; its rating beside it. */
static void draw_breaker(struct canvas *canvas, const struct drawing *drawing, size_t rail)
{
    const struct ladder *ladder = drawing->ladder;
    const double scale = drawing->style.scale;
    const double x = drawing->rail_x[rail];
    const double y = drawing->down_y - breaker_long * scale;
    draw_line(canvas, drawing, x, drawing->way_y, x, y);
    sign_breaker(canvas, &drawing->style, x, y);
    if (rail == 0) {
        canvas_text(canvas, x - 11 * scale, y + 12 * scale, CANVAS_END, drawing->font, ladder->breaker);
    }
}

/* Where the head's longest line ends. */
static double head_end(const struct drawing *drawing)
{
    double widest = 0;
    for (size_t i = 0; i < LADDER_HEAD && drawing->ladder->head[i] != NULL; i++) {
        for (size_t line = 0; line < drawing->head[i].count; line++) {
            const struct canvas_font font = i == 0 ? drawing->strong : drawing->font;
            widest = fmax(widest, canvas_text_width(font, drawing->head[i].line[line]));
        }
    }
    return drawing->rail_x[0] + head_side * drawing->style.scale + widest;
}

/* Both poles open together: their contacts are coupled, past the words of the head. */
static void draw_coupling(struct canvas *canvas, const struct drawing *drawing)
{
    const double scale = drawing->style.scale;
    const double y = drawing->down_y - 10 * scale;
    const double left = drawing->rail_x[0] - 5 * scale;
    const double right = drawing->rail_x[last_rail(drawing->ladder)] - 5 * scale;
    const struct canvas_pen pen = {drawing->style.stroke, CANVAS_DASHED};
    canvas_line(canvas, left, y, left + 15 * scale, y, pen);
    canvas_line(canvas, fmin(head_end(drawing) + 5 * scale, right), y, right, y, pen);
}

/* ------------------------------------------------------------------ rails --------------------------------- */

/* Rows of the first and last rung that ends at the rail; false where none does. */
static bool rows_of_rail(const struct ladder *ladder, size_t rail, size_t *ret_first, size_t *ret_last)
{
    bool found = false;
    for (size_t i = 0; i < ladder->count; i++) {
        const struct ladder_rung *rung = &ladder->rungs[i];
        if (rung->from == rail || rung->to == rail) {
            *ret_first = found && *ret_first < rung->row ? *ret_first : rung->row;
            *ret_last = found && *ret_last > rung->row ? *ret_last : rung->row;
            found = true;
        }
    }
    return found;
}

/* Where a row's stretch begins. */
static double stretch_top(const struct drawing *drawing, size_t row, bool breaker)
{
    return row > 0 ? drawing->row_y[row - 1] : breaker ? drawing->down_y : drawing->way_y;
}

static void draw_stretch(struct canvas *canvas, const struct drawing *drawing, size_t rail, size_t row)
{
    const struct ladder *ladder = drawing->ladder;
    const double x = drawing->rail_x[rail];
    const bool breaker = ladder->breaker != NULL && (rail == 0 || ladder->all_poles);
    struct canvas_pen pen = pen_or(drawing, ladder->stretches[row].pen);
    if (row == 0 && ladder->before != NULL) {
        pen = (struct canvas_pen){drawing->style.stroke, CANVAS_DASHED};
    }
    const double end = rail == 0 ? drawing->row_y[row] : drawing->row_end[row];
    canvas_line(canvas, x, stretch_top(drawing, row, breaker), x, end, pen);
    if (ladder->stretches[row].current == NULL || ladder->stretches[row].still) {
        return;
    }
    const double middle = (stretch_top(drawing, row, ladder->breaker != NULL) + drawing->row_y[row]) / 2;
    const double half = 3.5 * drawing->style.scale;
    sign_arrow(canvas, &drawing->style, x, middle + (rail == 0 ? half : -half), rail == 0 ? WAY_DOWN : WAY_UP,
               ladder->marked ? thick : pen.width); /* a script makes the wire as thick as that */
}

/* The current beside the first rail. */
static void write_stretch(struct canvas *canvas, const struct drawing *drawing, size_t row)
{
    const struct ladder *ladder = drawing->ladder;
    if (ladder->stretches[row].current == NULL) {
        return;
    }
    const double middle = (stretch_top(drawing, row, ladder->breaker != NULL) + drawing->row_y[row]) / 2;
    canvas_mark(canvas, ladder->marked ? "drawn" : NULL, row, NULL);
    canvas_text(canvas, drawing->rail_x[0] - beside_rail * drawing->style.scale, middle + 0.36 * drawing->font.size,
                CANVAS_END, drawing->font, ladder->stretches[row].current);
}

/* Line and return of a row, which carry the same. */
static void draw_outer(struct canvas *canvas, const struct drawing *drawing, size_t row, const size_t *last)
{
    const struct ladder *ladder = drawing->ladder;
    if (ladder->marked) {
        canvas_mark(canvas, "rail", row, NULL);
        canvas_group(canvas, NULL, NULL);
    }
    if (!ladder->star && row <= last[0]) {
        draw_stretch(canvas, drawing, 0, row);
    }
    if (row <= last[1] && (!ladder->star || row > 0)) {
        draw_stretch(canvas, drawing, last_rail(ladder), row);
    }
    if (ladder->marked) {
        canvas_group_end(canvas);
    }
    if (!ladder->star) {
        write_stretch(canvas, drawing, row);
    }
}

/* A rail between the others: from its first rung, or the source of which it is the middle, to its last. */
static void draw_inner(struct canvas *canvas, const struct drawing *drawing, size_t rail)
{
    const struct ladder *ladder = drawing->ladder;
    const double scale = drawing->style.scale;
    const double x = drawing->rail_x[rail];
    size_t first = 0;
    size_t last = 0;
    if (!rows_of_rail(ladder, rail, &first, &last)) {
        return;
    }
    draw_line(canvas, drawing, x, ladder->split ? drawing->source_y : drawing->row_y[first], x, drawing->row_y[last]);
    if (ladder->split && ladder->neutral != NULL) {
        const double tip = drawing->source_y + 9 * scale;
        sign_arrow(canvas, &drawing->style, x, tip, WAY_UP, 0);
        canvas_text(canvas, x + 6 * scale, tip + 5 * scale, CANVAS_START, drawing->font, ladder->neutral);
    }
}

static void draw_terminal(struct canvas *canvas, const struct drawing *drawing, double x, double y)
{
    canvas_circle(canvas, x, y, end_radius * drawing->style.scale, false, drawing->style.stroke);
}

static void draw_rails(struct canvas *canvas, const struct drawing *drawing)
{
    const struct ladder *ladder = drawing->ladder;
    size_t first[2] = {0};
    size_t last[2] = {0};
    rows_of_rail(ladder, 0, &first[0], &last[0]);
    rows_of_rail(ladder, last_rail(ladder), &first[1], &last[1]);
    for (size_t row = 0; row < ladder->rows; row++) {
        draw_outer(canvas, drawing, row, last);
    }
    for (size_t rail = 1; rail < last_rail(ladder); rail++) {
        draw_inner(canvas, drawing, rail);
    }
    if (is_bare(ladder)) {
        const double y = drawing->way_y - end_radius * drawing->style.scale;
        draw_terminal(canvas, drawing, drawing->rail_x[0], y);
        draw_terminal(canvas, drawing, drawing->rail_x[last_rail(ladder)], y);
    }
    if (ladder->breaker != NULL) {
        draw_breaker(canvas, drawing, 0);
    }
    if (ladder->breaker != NULL && ladder->all_poles) {
        draw_breaker(canvas, drawing, last_rail(ladder));
        draw_coupling(canvas, drawing);
    }
}

/* Over the first rail from its left on, over the last up to the edge: neither leaves the picture. */
static void write_rail_names(struct canvas *canvas, const struct drawing *drawing)
{
    const struct ladder *ladder = drawing->ladder;
    const double y = drawing->line - 2;
    const double right = drawing->rail_x[last_rail(ladder)];
    const double width = (right - drawing->rail_x[0]) / 2 - pad;
    if (ladder->rail_names[0] != NULL) {
        canvas_text_fit(canvas, drawing->rail_x[0], y, fmin(width, 2 * drawing->rail_x[0]), CANVAS_MIDDLE,
                        drawing->font, ladder->rail_names[0]);
    }
    if (ladder->rails > 2 && ladder->rail_names[1] != NULL) {
        canvas_text(canvas, drawing->rail_x[1], y, CANVAS_MIDDLE, drawing->font, ladder->rail_names[1]);
    }
    if (ladder->rail_names[2] != NULL) {
        const double half = canvas_text_width(drawing->font, ladder->rail_names[2]) / 2;
        canvas_text_fit(canvas, fmin(right + half, drawing->width - 1), y, width, CANVAS_END, drawing->font,
                        ladder->rail_names[2]);
    }
}

/* ------------------------------------------------------------------ rungs --------------------------------- */

static void write_name(struct canvas *canvas, const struct drawing *drawing, size_t index, double x, double y)
{
    const struct ladder_rung *rung = &drawing->ladder->rungs[index];
    if (drawing->look.cut) {
        canvas_text_fit(canvas, x, y, name_room(drawing, rung), CANVAS_MIDDLE, drawing->strong, rung->name);
    } else {
        draw_lettering(canvas, drawing, x, y, drawing->strong, drawing->names[index]);
    }
}

static void draw_current(struct canvas *canvas, const struct drawing *drawing, const struct ladder_rung *rung,
                         const struct rung *wire)
{
    const double scale = drawing->style.scale;
    const double tip = wire->x1 + (rung->back ? 11 : 18) * scale;
    if (rung->current == NULL) {
        return;
    }
    sign_arrow(canvas, &drawing->style, tip, wire->y, rung->back ? WAY_LEFT : WAY_RIGHT, wire->pen.width);
    if (rung->current[0] != '\0') {
        canvas_text(canvas, wire->x1 + 14 * scale, wire->y - 6 * scale, CANVAS_MIDDLE, drawing->font, rung->current);
    }
}

/* What can be pressed: the whole width of the rung, without ink. */
static void draw_touch(struct canvas *canvas, const struct drawing *drawing, const struct rung *wire)
{
    const double up = wire->y - above(drawing) - drawing->line;
    const double down = wire->y + below(drawing);
    const struct canvas_point corners[] = {{wire->x1, up}, {wire->x2, up}, {wire->x2, down}, {wire->x1, down}};
    canvas_mark(canvas, NULL, 0, "touch");
    canvas_polygon(canvas, corners, 4, true);
}

/* The joints of a rung, but of one that closes a single loop; of a star its terminal. */
static void draw_ends(struct canvas *canvas, const struct drawing *drawing, const struct ladder_rung *rung,
                      const struct rung *wire)
{
    const double scale = drawing->style.scale;
    if (drawing->ladder->star) {
        draw_terminal(canvas, drawing, wire->x1, wire->y);
        canvas_text(canvas, wire->x1 - 6 * scale, wire->y + 0.36 * drawing->font.size, CANVAS_END, drawing->font,
                    rung->terminal);
    } else if (drawing->ladder->count > 1) {
        sign_joint(canvas, &drawing->style, wire->x1, wire->y);
    }
    if (drawing->ladder->count > 1) {
        sign_joint(canvas, &drawing->style, wire->x2, wire->y);
    }
}

/* The name over the wire, the figures under it. */
static void write_words(struct canvas *canvas, const struct drawing *drawing, size_t index, const struct rung *wire)
{
    const char *figures = drawing->ladder->rungs[index].figures;
    const double middle = (wire->x1 + wire->x2) / 2;
    write_name(canvas, drawing, index, middle, wire->y - above(drawing));
    if (figures != NULL) {
        const double room = wire->x2 - wire->x1 - 2 * pad;
        const char *brief = drawing->ladder->rungs[index].brief;
        const double least = canvas_text_width(fitting(drawing->font, room, figures), figures);
        figures = brief != NULL && least > room ? brief : figures;
        canvas_text_fit(canvas, middle, wire->y + figures_down(drawing), room, CANVAS_MIDDLE,
                        fitting(drawing->font, room, figures), figures);
    }
}

/* Both on one line: of two that are too long together the figures become brief, then the name small, then it is cut. */
static void write_flat(struct canvas *canvas, const struct drawing *drawing, const struct ladder_rung *rung,
                       const struct rung *wire)
{
    const double scale = drawing->style.scale;
    const double blank = canvas_text_width(drawing->font, "m");
    const double x = wire->x1 + (wire->gate == GATE_NONE ? flat_left : flat_gate) * scale;
    const double y = wire->y - above(drawing);
    const double name = canvas_text_width(drawing->strong, rung->name);
    const char *figures = rung->figures == NULL ? "" : rung->figures;
    double room = wire->sign_x - flat_sign * scale - x;
    if (rung->brief != NULL && name + blank + canvas_text_width(drawing->font, figures) > room) {
        figures = rung->brief;
    }
    room -= blank + canvas_text_width(drawing->font, figures);
    const struct canvas_font font = fitting(drawing->strong, room, rung->name);
    canvas_text_fit(canvas, x, y, room, CANVAS_START, font, rung->name);
    canvas_text(canvas, x + fmin(canvas_text_width(font, rung->name), room) + blank, y, CANVAS_START, drawing->font,
                figures);
}

static void draw_load(struct canvas *canvas, const struct drawing *drawing, size_t index, const struct rung *wire)
{
    const struct ladder *ladder = drawing->ladder;
    const struct ladder_rung *rung = &ladder->rungs[index];
    canvas_mark(canvas, ladder->marked ? "rung" : NULL, index, ladder->marked ? "rung" : NULL);
    canvas_group(canvas, rung->name, rung->figures);
    if (ladder->marked) {
        draw_touch(canvas, drawing, wire);
    }
    draw_rung_wire(canvas, &drawing->style, wire);
    draw_ends(canvas, drawing, rung, wire);
    if (drawing->look.flat) {
        write_flat(canvas, drawing, rung, wire);
    } else {
        write_words(canvas, drawing, index, wire);
    }
    draw_current(canvas, drawing, rung, wire);
    canvas_group_end(canvas);
}

static void draw_rung(struct canvas *canvas, const struct drawing *drawing, size_t index)
{
    const struct ladder_rung *rung = &drawing->ladder->rungs[index];
    const struct rung wire = {
        .x1 = drawing->rail_x[rung->from],
        .x2 = drawing->rail_x[rung->to],
        .y = drawing->row_y[rung->row],
        .sign = rung->sign,
        .gate = rung->gate,
        .bridged = rung->bridged,
        .pen = pen_or(drawing, rung->pen),
        .sign_x = drawing->look.flat ? drawing->rail_x[rung->to] - flat_right * drawing->style.scale : 0};
    if (rung->inside == NULL) {
        draw_load(canvas, drawing, index, &wire);
        return;
    }
    const struct tree_look look = tree_look(drawing);
    tree_draw(canvas, &look, rung->inside, &drawing->trees[index], (struct canvas_point){wire.x1, wire.y}, wire.x2,
              tree_side * drawing->style.scale);
    draw_ends(canvas, drawing, rung, &wire);
    draw_current(canvas, drawing, rung, &wire);
}

/* ------------------------------------------------------------------ a point ------------------------------- */

/* The wire that is not marked goes down from the point. */
static void draw_unmarked(struct canvas *canvas, const struct drawing *drawing, const struct ladder_rung *rung,
                          double x, double y)
{
    const double end = y + 1.6 * drawing->line;
    canvas_line(canvas, x, y, x, end, (struct canvas_pen){drawing->style.stroke, CANVAS_DASHED});
    canvas_text(canvas, x + 6 * drawing->style.scale, end, CANVAS_START, drawing->font, rung->name);
}

/* Wires that meet: those that carry in at the left, out at the right, the one that is not marked below. */
static void draw_point(struct canvas *canvas, const struct drawing *drawing)
{
    const struct ladder *ladder = drawing->ladder;
    const double left = drawing->rail_x[0];
    const double right = drawing->rail_x[last_rail(ladder)];
    const double middle = (left + right) / 2;
    const double bottom = drawing->row_y[ladder->rows - 1];
    draw_line(canvas, drawing, middle, drawing->row_y[0], middle, bottom);
    for (size_t i = 0; i < ladder->count; i++) {
        const struct ladder_rung *rung = &ladder->rungs[i];
        const double y = drawing->row_y[rung->row];
        if (rung->from == 2) {
            draw_unmarked(canvas, drawing, rung, middle, bottom);
            continue;
        }
        const double from = rung->from == 0 ? left : middle;
        const double to = rung->from == 0 ? middle : right;
        draw_line(canvas, drawing, from, y, to, y);
        sign_arrow(canvas, &drawing->style, (from + to) / 2, y, WAY_RIGHT, 0);
        sign_joint(canvas, &drawing->style, middle, y);
        draw_lettering(canvas, drawing, (from + to) / 2, y - above(drawing) + 2, drawing->font, drawing->names[i]);
    }
    sign_joint(canvas, &drawing->style, middle, bottom);
}

/* ------------------------------------------------------------------ around -------------------------------- */

/* The table below the circuit: what is given, and the letters of the parts where it is to be filled in. */
static void draw_table(struct canvas *canvas, const struct drawing *drawing)
{
    const struct canvas_pen pen = {drawing->style.stroke, CANVAS_SOLID};
    const double left = 2;
    const double column = (drawing->width - 2 * left) / LADDER_SIDE;
    const double row = table_row(drawing);
    for (size_t i = 0; i <= LADDER_SIDE; i++) {
        const double x = left + column * (double)i;
        const double y = drawing->table_y + row * (double)i;
        canvas_line(canvas, left, y, left + column * LADDER_SIDE, y, pen);
        canvas_line(canvas, x, drawing->table_y, x, drawing->table_y + row * LADDER_SIDE, pen);
    }
    for (size_t i = 0; i < LADDER_SIDE; i++) {
        for (size_t k = 0; k < LADDER_SIDE; k++) {
            canvas_text(canvas, left + column * ((double)k + 0.5), drawing->table_y + row * ((double)i + 0.68),
                        CANVAS_MIDDLE, drawing->font, drawing->ladder->cells[i][k]);
        }
    }
}

static void write_head(struct canvas *canvas, const struct drawing *drawing)
{
    const double x = drawing->rail_x[0] + head_side * drawing->style.scale;
    double y = drawing->head_y;
    for (size_t i = 0; i < LADDER_HEAD && drawing->ladder->head[i] != NULL; i++) {
        for (size_t line = 0; line < drawing->head[i].count; line++) {
            canvas_text(canvas, x, y, CANVAS_START, i == 0 ? drawing->strong : drawing->font,
                        drawing->head[i].line[line]);
            y += drawing->line;
        }
    }
}

static double middle_of(const struct drawing *drawing)
{
    return (drawing->rail_x[0] + drawing->rail_x[last_rail(drawing->ladder)]) / 2;
}

/* Under the middle of the rails, as long as it fits there. */
static void write_foot(struct canvas *canvas, const struct drawing *drawing)
{
    const struct ladder *ladder = drawing->ladder;
    double y = drawing->foot_y;
    for (size_t i = 0; i < LADDER_FOOT; i++) {
        const struct canvas_font font = i == 0 ? drawing->strong : drawing->font;
        for (size_t line = 0; ladder->foot[i] != NULL && line < drawing->foot[i].count; line++) {
            const char *words = drawing->foot[i].line[line];
            const double half = fmin(canvas_text_width(font, words) / 2, drawing->width / 2 - 2);
            const double x = fmax(fmin(middle_of(drawing), drawing->width - 2 - half), half + 2);
            canvas_text_fit(canvas, x, y, drawing->width - 4, CANVAS_MIDDLE, font, words);
            y += drawing->line;
        }
    }
}

static void draw_continuations(struct canvas *canvas, const struct drawing *drawing)
{
    const struct ladder *ladder = drawing->ladder;
    const struct canvas_pen dashed = {drawing->style.stroke, CANVAS_DASHED};
    if (ladder->before != NULL) {
        canvas_text(canvas, middle_of(drawing), drawing->way_y - 2, CANVAS_MIDDLE, drawing->font, ladder->before);
    }
    if (ladder->after != NULL) {
        const double y = drawing->row_y[ladder->rows - 1];
        canvas_line(canvas, drawing->rail_x[0], y, drawing->rail_x[0], y + stub, dashed);
        canvas_line(canvas, drawing->rail_x[last_rail(ladder)], y, drawing->rail_x[last_rail(ladder)], y + stub,
                    dashed);
        canvas_text(canvas, middle_of(drawing), drawing->foot_y, CANVAS_MIDDLE, drawing->font, ladder->after);
    }
}

static void draw(struct canvas *canvas, const struct picture *picture)
{
    const struct drawing *drawing = picture->data;
    const struct ladder *ladder = drawing->ladder;
    if (ladder->point) {
        draw_point(canvas, drawing);
        return;
    }
    write_rail_names(canvas, drawing);
    draw_sources(canvas, drawing);
    draw_rails(canvas, drawing);
    write_head(canvas, drawing);
    for (size_t i = 0; i < ladder->count; i++) {
        draw_rung(canvas, drawing, i);
    }
    draw_continuations(canvas, drawing);
    write_foot(canvas, drawing);
    if (ladder->cells[0][0] != NULL) {
        draw_table(canvas, drawing);
    }
}

struct picture ladder_picture(const struct ladder *ladder, const struct ladder_look *look, struct arena *arena)
{
    struct drawing *drawing = arena_take(arena, sizeof *drawing);
    const double scale = fmin(look->text / usual_text, look->cut ? scale_cut : scale_most);
    *drawing =
        (struct drawing){.ladder = ladder,
                         .look = *look,
                         .style = {scale, look->stroke, look->cut ? usual_text * scale : look->text, look->zigzag},
                         .font = {look->text, false},
                         .strong = {look->text, look->bold}};
    drawing->line = canvas_line_height(drawing->font);
    place_rails(drawing, arena);
    wrap_names(drawing, arena);
    place_rows(drawing, arena);
    return (struct picture){.title = ladder->title,
                            .description = ladder->description,
                            .width = drawing->width,
                            .height = drawing->height,
                            .draw = draw,
                            .data = drawing};
}
