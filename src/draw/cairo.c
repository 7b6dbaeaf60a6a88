/* Pages by cairo and pango: PDF, and PNG with the pages below one another. Linked by the second program alone. */
#include <assert.h>
#include <cairo-pdf.h>
#include <cairo.h>
#include <pango/pangocairo.h>
#include <string.h>

#include "ampsum/print.h"

static const double png_scale = 96.0 / 72.0; /* pixels for each point */

/* The same lesson gives the same bytes, so that its file carries no clock. */
static const char no_date[] = "2000-01-01";

enum { LEVELS = 3, TAGS_MOST = 16 };

enum { PNG_PIXELS_MOST = 30000 }; /* cairo holds up to 32767 rows */

struct painter {
    cairo_t *cairo;
    cairo_font_options_t *options; /* no rounding of widths to pixels */
    cairo_surface_t *pdf;          /* NULL: the pages stand below one another */
    int outline[LEVELS + 1];       /* the last entry of each level; [0] the root */
    size_t count;
    double top;
    const char *font;           /* family */
    const char *tag[TAGS_MOST]; /* that are open */
    size_t tag_count;
    size_t unknown;
    size_t characters;
};

static void paint_page(void *state, double width, double height)
{
    struct painter *painter = state;
    if (painter->count > 0 && painter->pdf != NULL) {
        cairo_show_page(painter->cairo);
    } else if (painter->count > 0) {
        painter->top += height;
    }
    painter->count++;
    if (painter->pdf == NULL) {
        cairo_set_line_width(painter->cairo, 0.5);
        cairo_rectangle(painter->cairo, 0, painter->top, width, height);
        cairo_stroke(painter->cairo);
    }
}

static void set_pen(struct painter *painter, struct canvas_pen pen)
{
    const struct canvas_dash *dash = &canvas_dashes[pen.stroke];
    cairo_set_line_width(painter->cairo, pen.width);
    cairo_set_dash(painter->cairo, dash->length, dash->count, 0);
}

static void trace(struct painter *painter, const struct canvas_point *points, size_t count, bool joined)
{
    for (size_t i = 0; i < count; i++) {
        const double y = points[i].y + painter->top;
        if (i == 0 || (!joined && i % 2 == 0)) {
            cairo_move_to(painter->cairo, points[i].x, y);
        } else {
            cairo_line_to(painter->cairo, points[i].x, y);
        }
    }
}

static void paint_lines(void *state, const struct canvas_point *points, size_t count, bool joined,
                        struct canvas_pen pen)
{
    struct painter *painter = state;
    set_pen(painter, pen);
    trace(painter, points, count, joined);
    cairo_stroke(painter->cairo);
}

static void paint_area(void *state, const struct canvas_point *points, size_t count, bool tinted)
{
    struct painter *painter = state;
    const double light = tinted ? 1 - canvas_tint : 0;
    cairo_set_source_rgb(painter->cairo, light, light, light);
    trace(painter, points, count, true);
    cairo_close_path(painter->cairo);
    cairo_fill(painter->cairo);
    cairo_set_source_rgb(painter->cairo, 0, 0, 0);
}

static void paint_disc(void *state, struct canvas_point centre, double radius, bool filled, double pen_width)
{
    static const double two_pi = 6.28318530717958647692;
    struct painter *painter = state;
    set_pen(painter, (struct canvas_pen){pen_width, CANVAS_SOLID});
    cairo_new_path(painter->cairo);
    cairo_arc(painter->cairo, centre.x, centre.y + painter->top, radius, 0, two_pi);
    if (filled) {
        cairo_fill(painter->cairo);
    } else {
        cairo_stroke(painter->cairo);
    }
}

static PangoLayout *set_text(struct painter *painter, struct canvas_font font, const char *shown)
{
    PangoLayout *layout = pango_cairo_create_layout(painter->cairo);
    pango_cairo_context_set_font_options(pango_layout_get_context(layout), painter->options);
    pango_layout_context_changed(layout);
    PangoFontDescription *description = pango_font_description_new();
    pango_font_description_set_family(description, painter->font);
    pango_font_description_set_absolute_size(description, font.size * PANGO_SCALE);
    pango_font_description_set_weight(description, font.bold ? PANGO_WEIGHT_BOLD : PANGO_WEIGHT_NORMAL);
    pango_layout_set_font_description(layout, description);
    pango_font_description_free(description);
    PangoAttrList *attributes = pango_attr_list_new(); /* one sign a letter: what reads the file finds the words */
    pango_attr_list_insert(attributes, pango_attr_font_features_new("liga=0, clig=0"));
    pango_layout_set_attributes(layout, attributes);
    pango_attr_list_unref(attributes);
    pango_layout_set_single_paragraph_mode(layout, TRUE);
    pango_layout_set_text(layout, shown, -1);
    return layout;
}

static void paint_text(void *state, struct canvas_point at, enum canvas_anchor anchor, struct canvas_font font,
                       const char *shown, const char *full)
{
    (void)full;
    struct painter *painter = state;
    PangoLayout *layout = set_text(painter, font, shown);
    painter->unknown += (size_t)pango_layout_get_unknown_glyphs_count(layout);
    painter->characters += (size_t)pango_layout_get_character_count(layout);
    PangoRectangle extents;
    pango_layout_get_extents(layout, NULL, &extents);
    const double width = (double)extents.width / PANGO_SCALE;
    const double base = (double)pango_layout_get_baseline(layout) / PANGO_SCALE;
    const double room = canvas_text_width(font, shown); /* what the layout set aside for it */
    const double squeeze = width > room && room > 0 ? room / width : 1;
    const double shift[] = {0, width * squeeze / 2, width * squeeze};
    cairo_save(painter->cairo);
    cairo_translate(painter->cairo, at.x - shift[anchor], at.y + painter->top - base);
    cairo_scale(painter->cairo, squeeze, 1);
    pango_cairo_show_layout(painter->cairo, layout);
    cairo_restore(painter->cairo);
    g_object_unref(layout);
}

static void paint_tag(void *state, const char *name)
{
    struct painter *painter = state;
    if (painter->pdf == NULL) {
        return;
    }
    if (name == NULL) {
        cairo_tag_end(painter->cairo, painter->tag[--painter->tag_count]);
        return;
    }
    assert(painter->tag_count < TAGS_MOST);
    cairo_tag_begin(painter->cairo, name, NULL);
    painter->tag[painter->tag_count++] = name;
}

/* An entry of the outline, below the last one of the level above. */
static void paint_heading(void *state, unsigned level, const char *title, double y)
{
    struct painter *painter = state;
    if (painter->pdf == NULL || level < 1 || level > LEVELS) {
        return;
    }
    struct text place = {0};
    text_printf(&place, "page=%zu pos=[0 ", painter->count);
    text_rounded(&place, "", y, 1, "]");
    const int entry =
        cairo_pdf_surface_add_outline(painter->pdf, painter->outline[level - 1], title, text_string(&place),
                                      level < LEVELS ? CAIRO_PDF_OUTLINE_FLAG_OPEN : (cairo_pdf_outline_flags_t)0);
    for (unsigned i = level; i <= LEVELS; i++) {
        painter->outline[i] = entry;
    }
    text_done(&place);
}

static cairo_status_t keep(void *closure, const unsigned char *bytes, unsigned int length)
{
    text_add_length(closure, (const char *)bytes, length);
    return CAIRO_STATUS_SUCCESS;
}

static size_t paint(const struct print_document *document, struct painter *painter)
{
    static const struct canvas_backend backend = {.page = paint_page,
                                                  .lines = paint_lines,
                                                  .area = paint_area,
                                                  .disc = paint_disc,
                                                  .text = paint_text,
                                                  .heading = paint_heading,
                                                  .tag = paint_tag};
    struct canvas canvas = {.backend = &backend, .state = painter};
    return print_pages(document, &canvas);
}

static bool check(const struct painter *painter, cairo_status_t status, struct error *error)
{
    if (status != CAIRO_STATUS_SUCCESS) {
        error_set(error, ERROR_INPUT, "can't draw: %s", cairo_status_to_string(status));
        return false;
    }
    if (painter->characters > 0 && 2 * painter->unknown > painter->characters) {
        error_set(error, ERROR_INPUT,
                  "no font has the letters of %zu of %zu characters; install one (Debian: fonts-dejavu-core) or write "
                  "HTML",
                  painter->unknown, painter->characters);
        return false;
    }
    return true;
}

static void add_metadata(cairo_surface_t *surface, const struct print_document *document)
{
    struct text text = {0};
    text_printf(&text, "%s%s%s", document->house, document->house[0] == '\0' ? "" : ": ", document->title);
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_TITLE, text_string(&text));
    text_clear(&text);
    text_printf(&text, "ampsum %s", document->version);
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_CREATOR, text_string(&text));
    text_clear(&text);
    text_printf(&text, "%sT00:00:00Z", document->date[0] == '\0' ? no_date : document->date);
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_CREATE_DATE, text_string(&text));
    text_done(&text);
}

static bool write_pdf(const struct print_document *document, struct text *bytes, struct painter *painter,
                      struct error *error)
{
    cairo_surface_t *surface =
        cairo_pdf_surface_create_for_stream(keep, bytes, print_width(document->paper), print_height(document->paper));
    add_metadata(surface, document);
    painter->cairo = cairo_create(surface);
    painter->pdf = surface;
    paint_tag(painter, "Document");
    paint(document, painter);
    paint_tag(painter, NULL);
    cairo_show_page(painter->cairo);
    cairo_status_t status = cairo_status(painter->cairo);
    cairo_destroy(painter->cairo);
    cairo_surface_finish(surface);
    status = status == CAIRO_STATUS_SUCCESS ? cairo_surface_status(surface) : status;
    cairo_surface_destroy(surface);
    return check(painter, status, error);
}

static bool write_png(const struct print_document *document, struct text *bytes, struct painter *painter,
                      struct error *error)
{
    struct canvas none = canvas_none();
    const size_t pages = print_pages(document, &none);
    const double height = (double)pages * print_height(document->paper) * png_scale;
    if (height > PNG_PIXELS_MOST) {
        error_set(error, ERROR_INPUT, "%zu pages are more than one PNG holds (%d pixels high); write PDF, HTML or SVG",
                  pages, PNG_PIXELS_MOST);
        return false;
    }
    cairo_surface_t *surface =
        cairo_image_surface_create(CAIRO_FORMAT_RGB24, (int)(print_width(document->paper) * png_scale), (int)height);
    painter->cairo = cairo_create(surface);
    cairo_set_source_rgb(painter->cairo, 1, 1, 1);
    cairo_paint(painter->cairo);
    cairo_set_source_rgb(painter->cairo, 0, 0, 0);
    cairo_scale(painter->cairo, png_scale, png_scale);
    paint(document, painter);
    cairo_status_t status = cairo_status(painter->cairo);
    cairo_destroy(painter->cairo);
    cairo_surface_flush(surface);
    status = status == CAIRO_STATUS_SUCCESS ? cairo_surface_write_to_png_stream(surface, keep, bytes) : status;
    cairo_surface_destroy(surface);
    return check(painter, status, error);
}

static bool write_document(const struct print_document *document, enum print_format format, struct text *bytes,
                           size_t *ret_unknown, struct error *error)
{
    struct text font = {0};
    text_printf(&font, "%s%sDejaVu Sans, sans-serif", document->look.font == NULL ? "" : document->look.font,
                document->look.font == NULL ? "" : ", ");
    struct painter painter = {.options = cairo_font_options_create(), .font = text_string(&font)};
    cairo_font_options_set_hint_style(painter.options, CAIRO_HINT_STYLE_NONE);
    cairo_font_options_set_hint_metrics(painter.options, CAIRO_HINT_METRICS_OFF);
    const bool written =
        format == PRINT_PDF ? write_pdf(document, bytes, &painter, error) : write_png(document, bytes, &painter, error);
    cairo_font_options_destroy(painter.options);
    text_done(&font);
    *ret_unknown = painter.unknown;
    return written;
}

const struct print_backend print_cairo = {.write = write_document};
