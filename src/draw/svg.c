/* SVG with real text: readable, searchable, spoken by a screen reader. */
#include <math.h>
#include <string.h>

#include "ampsum/canvas.h"
#include "ampsum/markup.h"

static const double pixels_per_point = 96.0 / 72.0; /* CSS, exact */

static void add_number(struct text *text, const char *before, double value)
{
    text_add(text, before);
    text_add_rounded(text, value, 2);
}

static void add_titles(struct text *text, const char *title, const char *description)
{
    if (title != NULL) {
        text_add(text, "<title>");
        markup_add(text, title);
        text_add(text, "</title>");
    }
    if (description != NULL) {
        text_add(text, "<desc>");
        markup_add(text, description);
        text_add(text, "</desc>");
    }
}

static void svg_mark(void *state, const char *id, size_t number, const char *kind)
{
    struct svg *svg = state;
    svg->id = id;
    svg->number = number;
    svg->kind = kind;
}

/* ID and class of what begins, once. */
static void add_mark(struct svg *svg)
{
    if (svg->id != NULL) {
        text_printf(svg->text, " id=\"%s%zu\"", svg->id, svg->number);
    }
    if (svg->kind != NULL) {
        text_printf(svg->text, " class=\"%s\"", svg->kind);
    }
    svg_mark(svg, NULL, 0, NULL);
}

static void svg_page(void *state, double width, double height)
{
    struct svg *svg = state;
    if (svg->page_count > 0) {
        svg->page_top += height + SVG_PAGE_GAP;
    }
    svg->page_count++;
    add_number(svg->text, "<rect fill=\"#fff\" stroke=\"currentColor\" stroke-width=\"0.5\" x=\"0\" y=\"",
               svg->page_top);
    add_number(svg->text, "\" width=\"", width);
    add_number(svg->text, "\" height=\"", height);
    text_add(svg->text, "\"/>\n");
}

static void add_path(struct svg *svg, const struct canvas_point *points, size_t count, bool joined)
{
    for (size_t i = 0; i < count; i++) {
        add_number(svg->text, i == 0 || (!joined && i % 2 == 0) ? "M" : "L", points[i].x);
        add_number(svg->text, " ", points[i].y + svg->page_top);
    }
}

static void svg_lines(void *state, const struct canvas_point *points, size_t count, bool joined, struct canvas_pen pen)
{
    const struct canvas_dash *dash = &canvas_dashes[pen.stroke];
    struct svg *svg = state;
    add_number(svg->text, "<path fill=\"none\" stroke=\"currentColor\" stroke-width=\"", pen.width);
    for (int i = 0; i < dash->count; i++) {
        add_number(svg->text, i == 0 ? "\" stroke-dasharray=\"" : " ", dash->length[i]);
    }
    text_add(svg->text, "\" d=\"");
    add_path(svg, points, count, joined);
    text_add(svg->text, "\"/>\n");
}

static void svg_area(void *state, const struct canvas_point *points, size_t count, bool tint)
{
    struct svg *svg = state;
    text_add(svg->text, "<path");
    add_mark(svg);
    text_add(svg->text, " fill=\"currentColor");
    if (tint) {
        add_number(svg->text, "\" fill-opacity=\"", canvas_tint);
    }
    text_add(svg->text, "\" d=\"");
    add_path(svg, points, count, true);
    text_add(svg->text, "Z\"/>\n");
}

static void svg_disc(void *state, struct canvas_point centre, double radius, bool filled, double pen_width)
{
    struct svg *svg = state;
    add_number(svg->text, "<circle cx=\"", centre.x);
    add_number(svg->text, "\" cy=\"", centre.y + svg->page_top);
    add_number(svg->text, "\" r=\"", radius);
    text_add(svg->text, filled ? "\" fill=\"currentColor" : "\" fill=\"none");
    if (pen_width > 0) {
        add_number(svg->text, "\" stroke=\"currentColor\" stroke-width=\"", pen_width);
    }
    text_add(svg->text, "\"/>\n");
}

static void svg_text(void *state, struct canvas_point at, enum canvas_anchor anchor, struct canvas_font font,
                     const char *shown, const char *full)
{
    static const char *const anchors[] = {"", " text-anchor=\"middle\"", " text-anchor=\"end\""};
    struct svg *svg = state;
    text_add(svg->text, "<text");
    add_mark(svg);
    add_number(svg->text, " x=\"", at.x);
    add_number(svg->text, "\" y=\"", at.y + svg->page_top);
    add_number(svg->text, "\" font-size=\"", font.size);
    text_printf(svg->text, "\"%s%s>", font.bold ? " font-weight=\"bold\"" : "", anchors[anchor]);
    add_titles(svg->text, full, NULL);
    markup_add(svg->text, shown);
    text_add(svg->text, "</text>\n");
}

static void svg_group(void *state, const char *title, const char *description)
{
    struct svg *svg = state;
    text_add(svg->text, "<g");
    add_mark(svg);
    text_add_char(svg->text, '>');
    add_titles(svg->text, title, description);
    text_add_char(svg->text, '\n');
}

static void svg_group_end(void *state)
{
    struct svg *svg = state;
    text_add(svg->text, "</g>\n");
}

struct canvas svg_open(struct svg *svg, struct text *text, double width, double height, const char *role,
                       const char *title, const char *description)
{
    static const struct canvas_backend backend = {.page = svg_page,
                                                  .lines = svg_lines,
                                                  .area = svg_area,
                                                  .disc = svg_disc,
                                                  .text = svg_text,
                                                  .group = svg_group,
                                                  .group_end = svg_group_end,
                                                  .mark = svg_mark};
    *svg = (struct svg){.text = text};
    const bool own_file = strcmp(role, "document") == 0;
    text_printf(text, "<svg%s role=\"%s\"", own_file ? " xmlns=\"http://www.w3.org/2000/svg\"" : "", role);
    add_number(text, " viewBox=\"0 0 ", width);
    add_number(text, " ", height);
    add_number(text, "\" width=\"", ceil(width * pixels_per_point));
    add_number(text, "\" height=\"", ceil(height * pixels_per_point));
    text_add(text, "\">");
    add_titles(text, title, description);
    text_add(text, "<g fill=\"currentColor\" font-family=\"sans-serif\">\n");
    return (struct canvas){.backend = &backend, .state = svg};
}

void svg_close(struct svg *svg)
{
    text_add(svg->text, "</g></svg>\n");
}
