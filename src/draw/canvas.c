#include "ampsum/canvas.h"

#include <math.h>
#include <string.h>

#include "ampsum/words.h"

enum { MARKS_MOST = 4000 }; /* lines or dots of one pattern; a denser one would be ink */

const struct canvas_dash canvas_dashes[] = {[CANVAS_SOLID] = {0},
                                            [CANVAS_DASHED] = {2, {6, 3}},
                                            [CANVAS_DOTTED] = {2, {1.5, 2.5}},
                                            [CANVAS_DASH_DOT] = {4, {9, 3, 2, 3}}};
const double canvas_tint = 0.13;

static const double hatch_gap = 4.5;
static const double dot_gap = 4.0;

void canvas_page(struct canvas *canvas, double width, double height)
{
    canvas->x = 0;
    canvas->y = 0;
    if (canvas->backend->page != NULL) {
        canvas->backend->page(canvas->state, width, height);
    }
}

static struct canvas_point moved(const struct canvas *canvas, double x, double y)
{
    return (struct canvas_point){canvas->x + x, canvas->y + y};
}

static void put_lines(const struct canvas *canvas, const struct canvas_point *points, size_t count, bool joined,
                      struct canvas_pen pen)
{
    if (canvas->backend->lines != NULL) {
        canvas->backend->lines(canvas->state, points, count, joined, pen);
    }
}

/* The points moved to the page, in memory that the caller frees with arena_free. */
static struct canvas_point *moved_all(const struct canvas *canvas, const struct canvas_point *points, size_t count,
                                      struct arena *arena)
{
    struct canvas_point *page = arena_array(arena, count, sizeof *page);
    for (size_t i = 0; i < count; i++) {
        page[i] = moved(canvas, points[i].x, points[i].y);
    }
    return page;
}

void canvas_line(struct canvas *canvas, double x1, double y1, double x2, double y2, struct canvas_pen pen)
{
    const struct canvas_point ends[] = {moved(canvas, x1, y1), moved(canvas, x2, y2)};
    put_lines(canvas, ends, 2, true, pen);
}

void canvas_polyline(struct canvas *canvas, const struct canvas_point *points, size_t count, struct canvas_pen pen)
{
    struct arena *arena = arena_new();
    put_lines(canvas, moved_all(canvas, points, count, arena), count, true, pen);
    arena_free(arena);
}

void canvas_polygon(struct canvas *canvas, const struct canvas_point *points, size_t count, bool tint)
{
    struct arena *arena = arena_new();
    if (canvas->backend->area != NULL) {
        canvas->backend->area(canvas->state, moved_all(canvas, points, count, arena), count, tint);
    }
    arena_free(arena);
}

void canvas_circle(struct canvas *canvas, double x, double y, double radius, bool filled, double pen_width)
{
    if (canvas->backend->disc != NULL) {
        canvas->backend->disc(canvas->state, moved(canvas, x, y), radius, filled, pen_width);
    }
}

struct box {
    double x;
    double y;
    double width;
    double height;
};

/* Parallel lines at 45 degrees inside the box, rising to the right, or falling. */
static void hatch(struct canvas *canvas, struct box box, bool falling)
{
    const double span = box.width + box.height;
    const size_t count = (size_t)fmin(span / hatch_gap, MARKS_MOST);
    struct arena *arena = arena_new();
    struct canvas_point *ends = arena_array(arena, 2 * count + 2, sizeof *ends);
    size_t used = 0;
    for (size_t i = 1; i <= count; i++) {
        const double offset = (double)i * span / (double)(count + 1);
        const double from = fmax(0, offset - box.height);
        const double to = fmin(box.width, offset);
        const double left_y = falling ? box.height - (offset - from) : offset - from;
        const double right_y = falling ? box.height - (offset - to) : offset - to;
        ends[used++] = moved(canvas, box.x + from, box.y + left_y);
        ends[used++] = moved(canvas, box.x + to, box.y + right_y);
    }
    if (used > 0) {
        put_lines(canvas, ends, used, false, (struct canvas_pen){0.6, CANVAS_SOLID});
    }
    arena_free(arena);
}

static void dots(struct canvas *canvas, struct box box)
{
    size_t left = MARKS_MOST;
    bool odd = false;
    for (double y = dot_gap / 2; y < box.height && left > 0; y += dot_gap / 2, odd = !odd) {
        for (double x = odd ? dot_gap : dot_gap / 2; x < box.width - 0.5 && left > 0; x += dot_gap, left--) {
            canvas_circle(canvas, box.x + x, box.y + y, 0.55, true, 0);
        }
    }
}

static void fill_box(struct canvas *canvas, struct box box, enum canvas_fill fill)
{
    const struct canvas_point corners[] = {{box.x, box.y},
                                           {box.x + box.width, box.y},
                                           {box.x + box.width, box.y + box.height},
                                           {box.x, box.y + box.height}};
    switch (fill) {
    case CANVAS_CLEAR:
        break;
    case CANVAS_TINT:
    case CANVAS_INK:
        canvas_polygon(canvas, corners, 4, fill == CANVAS_TINT);
        break;
    case CANVAS_DOTS:
        dots(canvas, box);
        break;
    case CANVAS_CROSS:
        hatch(canvas, box, true);
        hatch(canvas, box, false);
        break;
    case CANVAS_HATCH:
        hatch(canvas, box, false);
        break;
    }
}

void canvas_rectangle(struct canvas *canvas, double x, double y, double width, double height, enum canvas_fill fill,
                      double pen_width)
{
    if (width > 0 && height > 0) {
        fill_box(canvas, (struct box){x, y, width, height}, fill);
    }
    if (pen_width > 0) {
        const struct canvas_point outline[] = {moved(canvas, x, y), moved(canvas, x + width, y),
                                               moved(canvas, x + width, y + height), moved(canvas, x, y + height),
                                               moved(canvas, x, y)};
        put_lines(canvas, outline, 5, true, (struct canvas_pen){pen_width, CANVAS_SOLID});
    }
}

/* ------------------------------------------------------------------ groups -------------------------------- */

static void add_clean(struct text *text, const char *string)
{
    for (const char *at = string; *at != '\0';) {
        const size_t bytes = words_drawable_bytes(at);
        if (bytes > 0) {
            text_add_length(text, at, bytes);
        } else {
            text_add(text, "\xEF\xBF\xBD");
        }
        at += bytes > 0 ? bytes : words_undrawable_bytes(at);
    }
}

void canvas_group(struct canvas *canvas, const char *title, const char *description)
{
    struct text clean_title = {0};
    struct text clean_description = {0};
    if (canvas->backend->group == NULL) {
        return;
    }
    add_clean(&clean_title, title == NULL ? "" : title);
    add_clean(&clean_description, description == NULL ? "" : description);
    canvas->backend->group(canvas->state, title == NULL ? NULL : text_string(&clean_title),
                           description == NULL ? NULL : text_string(&clean_description));
    text_done(&clean_title);
    text_done(&clean_description);
}

void canvas_mark(struct canvas *canvas, const char *id, size_t number, const char *kind)
{
    if (canvas->backend->mark != NULL) {
        canvas->backend->mark(canvas->state, id, number, kind);
    }
}

void canvas_group_end(struct canvas *canvas)
{
    if (canvas->backend->group_end != NULL) {
        canvas->backend->group_end(canvas->state);
    }
}

void canvas_heading(struct canvas *canvas, unsigned level, const char *title, double y)
{
    if (canvas->backend->heading != NULL) {
        struct text clean = {0};
        add_clean(&clean, title);
        canvas->backend->heading(canvas->state, level, text_string(&clean), canvas->y + y);
        text_done(&clean);
    }
}

void canvas_tag(struct canvas *canvas, const char *name)
{
    if (canvas->backend->tag != NULL) {
        canvas->backend->tag(canvas->state, name);
    }
}

void canvas_tag_end(struct canvas *canvas)
{
    canvas_tag(canvas, NULL);
}

/* ------------------------------------------------------------------ text ---------------------------------- */

static void draw_text(struct canvas *canvas, struct canvas_point at, enum canvas_anchor anchor, struct canvas_font font,
                      const char *shown, const char *full)
{
    struct text clean_shown = {0};
    struct text clean_full = {0};
    if (canvas->backend->text == NULL) {
        return;
    }
    add_clean(&clean_shown, shown);
    add_clean(&clean_full, full == NULL ? "" : full);
    canvas->backend->text(canvas->state, at, anchor, font, text_string(&clean_shown),
                          full == NULL ? NULL : text_string(&clean_full));
    text_done(&clean_shown);
    text_done(&clean_full);
}

void canvas_text(struct canvas *canvas, double x, double y, enum canvas_anchor anchor, struct canvas_font font,
                 const char *string)
{
    draw_text(canvas, moved(canvas, x, y), anchor, font, string, NULL);
}

void canvas_text_fit(struct canvas *canvas, double x, double y, double width, enum canvas_anchor anchor,
                     struct canvas_font font, const char *string)
{
    struct arena *arena = arena_new();
    const struct canvas_lines lines = canvas_wrap(font, width, 1, string, arena);
    const char *shown = lines.count == 0 ? "" : lines.line[0];
    draw_text(canvas, moved(canvas, x, y), anchor, font, shown, strcmp(shown, string) == 0 ? NULL : string);
    arena_free(arena);
}

double canvas_text_lines(struct canvas *canvas, double x, double y, enum canvas_anchor anchor, struct canvas_font font,
                         struct canvas_lines lines)
{
    for (size_t i = 0; i < lines.count; i++) {
        canvas_text(canvas, x, y + (double)i * canvas_line_height(font), anchor, font, lines.line[i]);
    }
    return (double)lines.count * canvas_line_height(font);
}

/* ------------------------------------------------------------------ nothing ------------------------------- */

struct canvas canvas_none(void)
{
    static const struct canvas_backend none = {0};
    return (struct canvas){.backend = &none};
}
