/*
 * One set of drawing functions with several backends: our SVG writer, a counter that draws nothing (canvas_none), and
 * cairo (ampsum/print.h, in the second program alone). Black and white: kinds of line and patterns, never a colour.
 *
 * Lengths are points (1/72 inch), x to the right, y downwards. Texts are UTF-8 of any length; what no drawing may hold
 * (control characters, bidirectional controls, broken bytes) is drawn as U+FFFD.
 *
 * Widths of texts are estimates from the advance widths of a wide sans-serif face, on the high side for every other
 * one, so that a layout is the same in every backend and what was laid out apart does not meet on paper.
 *
 * Checked: tests/unit/test_draw.c, on what is drawn with it.
 */
#ifndef AMPSUM_CANVAS_H
#define AMPSUM_CANVAS_H

#include <stdbool.h>
#include <stddef.h>

#include "ampsum/arena.h"
#include "ampsum/text.h"

enum canvas_anchor { CANVAS_START, CANVAS_MIDDLE, CANVAS_END };
enum canvas_stroke { CANVAS_SOLID, CANVAS_DASHED, CANVAS_DOTTED, CANVAS_DASH_DOT };
enum canvas_fill { CANVAS_CLEAR, CANVAS_TINT, CANVAS_DOTS, CANVAS_HATCH, CANVAS_CROSS, CANVAS_INK };

/* For backends: strokes and gaps by canvas_stroke, points; how much ink a tint has. */
struct canvas_dash {
    int count;
    double length[4];
};
extern const struct canvas_dash canvas_dashes[];
extern const double canvas_tint;

struct canvas_point {
    double x;
    double y;
};

struct canvas_pen {
    double width;
    enum canvas_stroke stroke;
};

struct canvas_font {
    double size;
    bool bold;
};

/*
 * What a backend does. Coordinates are of the page. Strings are clean UTF-8, valid during the call. `full` of text is
 * the whole string where `shown` was shortened, else NULL. What is NULL is not drawn.
 */
struct canvas_backend {
    void (*page)(void *state, double width, double height);
    void (*lines)(void *state, const struct canvas_point *points, size_t count, bool joined, struct canvas_pen pen);
    void (*area)(void *state, const struct canvas_point *points, size_t count, bool tint);
    void (*disc)(void *state, struct canvas_point centre, double radius, bool filled, double pen_width);
    void (*text)(void *state, struct canvas_point at, enum canvas_anchor anchor, struct canvas_font font,
                 const char *shown, const char *full);
    void (*group)(void *state, const char *title, const char *description);
    void (*group_end)(void *state);
    void (*heading)(void *state, unsigned level, const char *title, double y);
    void (*tag)(void *state, const char *name); /* NULL: the innermost ends */
    void (*mark)(void *state, const char *id, size_t number, const char *kind);
};

struct canvas {
    const struct canvas_backend *backend;
    void *state;
    double x; /* of the origin on the page; whoever moves it puts it back */
    double y;
};

/* Begins the next page; the origin goes back to its corner. */
void canvas_page(struct canvas *canvas, double width, double height);

void canvas_line(struct canvas *canvas, double x1, double y1, double x2, double y2, struct canvas_pen pen);
void canvas_polyline(struct canvas *canvas, const struct canvas_point *points, size_t count, struct canvas_pen pen);

/* A filled polygon: ink, or a light tint of it. */
void canvas_polygon(struct canvas *canvas, const struct canvas_point *points, size_t count, bool tint);

/* A rectangle with a pattern inside and an outline (pen width 0: none). */
void canvas_rectangle(struct canvas *canvas, double x, double y, double width, double height, enum canvas_fill fill,
                      double pen_width);

/* A circle, filled with ink or empty. */
void canvas_circle(struct canvas *canvas, double x, double y, double radius, bool filled, double pen_width);

/* One line of text; y is its base line. */
void canvas_text(struct canvas *canvas, double x, double y, enum canvas_anchor anchor, struct canvas_font font,
                 const char *string);

/* The same in at most `width`: shortened with an ellipsis where longer; an SVG then holds the whole in a <title>. */
void canvas_text_fit(struct canvas *canvas, double x, double y, double width, enum canvas_anchor anchor,
                     struct canvas_font font, const char *string);

/* What belongs together, with what a screen reader says of it (either may be NULL). Groups nest. */
void canvas_group(struct canvas *canvas, const char *title, const char *description);
void canvas_group_end(struct canvas *canvas);

/*
 * The group, text or filled polygon that is drawn next can be found by that ID, a word and a number, and has that
 * class; either word may be NULL, both outlive the drawing. For a script beside an SVG; elsewhere nothing.
 */
void canvas_mark(struct canvas *canvas, const char *id, size_t number, const char *kind);

/* A heading of that level (1 to 3) stands here: a place that the outline of a PDF leads to. Draws nothing. */
void canvas_heading(struct canvas *canvas, unsigned level, const char *title, double y);

/*
 * What is drawn until canvas_tag_end is a paragraph, a heading, a cell: "P", "H1", "TD", a name of ISO 32000-1, 14.8.4,
 * that outlives the drawing. They nest ("Table", "TR", "TD"); only what holds no other is drawn in. For the structure
 * of a PDF; what stands in none is for the eye alone (lines, heads that come again, a page's foot).
 */
void canvas_tag(struct canvas *canvas, const char *name);
void canvas_tag_end(struct canvas *canvas);

/* Estimated width, on the high side. */
double canvas_text_width(struct canvas_font font, const char *string);

/* The same of the longest piece without a blank. */
double canvas_longest_word(struct canvas_font font, const char *string);

/* Distance between the base lines of two lines of text. */
double canvas_line_height(struct canvas_font font);

/* A text broken at blanks into lines of at most `width` (a longer word inside), the last of `most` with an ellipsis. */
struct canvas_lines {
    const char **line;
    size_t count;
};
struct canvas_lines canvas_wrap(struct canvas_font font, double width, size_t most, const char *string,
                                struct arena *arena);

/* Draws those lines, the first with its base line at y; returns the height that they take. */
double canvas_text_lines(struct canvas *canvas, double x, double y, enum canvas_anchor anchor, struct canvas_font font,
                         struct canvas_lines lines);

/* A canvas on which nothing is drawn, to measure. */
struct canvas canvas_none(void);

/*
 * SVG with real <text>, appended to `text`. `svg_open` writes the root element with title and description; role `img`
 * for a picture inside HTML, `document` for pages in a file of its own. Ink is currentColor. Close with svg_close.
 */
enum { SVG_PAGE_GAP = 12 };
struct svg {
    struct text *text;
    double page_top; /* pages stand below one another, SVG_PAGE_GAP apart */
    size_t page_count;
    const char *id; /* of what is drawn next, with its number; NULL: none */
    size_t number;
    const char *kind;
};
struct canvas svg_open(struct svg *svg, struct text *text, double width, double height, const char *role,
                       const char *title, const char *description);
void svg_close(struct svg *svg);

#endif
