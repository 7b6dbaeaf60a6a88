#include "lesson_book.h"

#include <cairo-pdf.h>

static const double footer_pt = 34;
static const double footer_gap_pt = 8;

/* The same seed gives the same bytes, so the file carries no clock. */
static const char no_date[] = "2000-01-01T00:00:00Z";

static const char caution[] = "Exercises on paper. Measuring or working on a real installation can kill: it is for "
                              "licensed electricians, by the local code.";

static void paper_size(enum paper paper, double *ret_width_pt, double *ret_height_pt)
{
    *ret_width_pt = paper == PAPER_A4 ? 595.276 : 612;
    *ret_height_pt = paper == PAPER_A4 ? 841.89 : 792;
}

void book_set_font(struct book *book, const char *font)
{
    PangoFontDescription *description = pango_font_description_from_string(font);
    pango_layout_set_font_description(book->layout, description);
    pango_font_description_free(description);
}

bool book_open(struct book *book, const char *path, enum paper paper, const char *title)
{
    *book = (struct book){.page = 1};
    paper_size(paper, &book->width_pt, &book->height_pt);
    book->surface = cairo_pdf_surface_create(path, book->width_pt, book->height_pt);
    cairo_pdf_surface_set_metadata(book->surface, CAIRO_PDF_METADATA_TITLE, title);
    cairo_pdf_surface_set_metadata(book->surface, CAIRO_PDF_METADATA_CREATE_DATE, no_date);
    book->cairo = cairo_create(book->surface);
    cairo_tag_begin(book->cairo, "Document", NULL);
    book->layout = pango_cairo_create_layout(book->cairo);
    book->y_pt = BOOK_MARGIN_PT;
    return cairo_surface_status(book->surface) == CAIRO_STATUS_SUCCESS;
}

static void write_footer(struct book *book)
{
    struct text line = {0};
    text_printf(&line, "%s   page %u\n%s", text_string(&book->footer), book->page, caution);
    book_set_font(book, "Sans 7");
    pango_layout_set_width(book->layout, (int)((book->width_pt - 2 * BOOK_MARGIN_PT) * PANGO_SCALE));
    pango_layout_set_text(book->layout, text_string(&line), -1);
    cairo_move_to(book->cairo, BOOK_MARGIN_PT, book->height_pt - footer_pt);
    pango_cairo_show_layout(book->cairo, book->layout);
    text_done(&line);
}

void book_next_page(struct book *book)
{
    write_footer(book);
    cairo_show_page(book->cairo);
    book->page++;
    book->y_pt = BOOK_MARGIN_PT;
}

bool book_close(struct book *book)
{
    write_footer(book);
    cairo_tag_end(book->cairo, "Document");
    cairo_show_page(book->cairo);
    g_object_unref(book->layout);
    cairo_destroy(book->cairo);
    cairo_surface_finish(book->surface);
    bool ok = cairo_surface_status(book->surface) == CAIRO_STATUS_SUCCESS;
    cairo_surface_destroy(book->surface);
    text_done(&book->footer);
    text_done(&book->carry_on);
    return ok;
}

double book_left_pt(const struct book *book)
{
    return book->height_pt - footer_pt - footer_gap_pt - book->y_pt;
}

double book_page_pt(const struct book *book)
{
    return book->height_pt - footer_pt - footer_gap_pt - BOOK_MARGIN_PT;
}

/* Sets font, width and text of the layout; its height. */
static double lay_out_pt(struct book *book, const char *font, const char *string, double indent_pt)
{
    int width;
    int height;
    book_set_font(book, font);
    pango_layout_set_width(book->layout, (int)((book->width_pt - 2 * BOOK_MARGIN_PT - indent_pt) * PANGO_SCALE));
    pango_layout_set_wrap(book->layout, PANGO_WRAP_WORD_CHAR);
    pango_layout_set_text(book->layout, string, -1);
    pango_layout_get_size(book->layout, &width, &height);
    return (double)height / PANGO_SCALE;
}

double book_measure_pt(struct book *book, const char *font, const char *string, double indent_pt)
{
    return lay_out_pt(book, font, string, indent_pt) + BOOK_GAP_PT;
}

static void show(struct book *book, const char *tag, const char *font, const char *string, double indent_pt)
{
    double height_pt = lay_out_pt(book, font, string, indent_pt);
    cairo_tag_begin(book->cairo, tag, NULL);
    cairo_move_to(book->cairo, BOOK_MARGIN_PT + indent_pt, book->y_pt);
    pango_cairo_show_layout(book->cairo, book->layout);
    cairo_tag_end(book->cairo, tag);
    book->unknown += pango_layout_get_unknown_glyphs_count(book->layout);
    book->y_pt += height_pt + BOOK_GAP_PT;
}

void book_paragraph(struct book *book, const char *tag, const char *font, const char *string, double indent_pt,
                    double keep_pt)
{
    struct text kept = {0};
    text_add(&kept, string); /* a page's end needs the layout for its footer */
    double height_pt = lay_out_pt(book, font, text_string(&kept), indent_pt);
    if (height_pt + keep_pt > book_left_pt(book) && book->y_pt > BOOK_MARGIN_PT) {
        book_next_page(book);
        if (book->carry_on.length > 0) {
            show(book, "P", "Sans Italic 9", text_string(&book->carry_on), 0);
        }
    }
    show(book, tag, font, text_string(&kept), indent_pt);
    text_done(&kept);
}
