/* A document of paragraphs and drawings on pages of paper. */
#ifndef AMPSUM_DRAW_LESSON_BOOK_H
#define AMPSUM_DRAW_LESSON_BOOK_H

#include <cairo.h>
#include <pango/pangocairo.h>
#include <stdbool.h>

#include "ampsum/text.h"
#include "lesson_paper.h"

/* A document while it is written. */
struct book {
    cairo_surface_t *surface;
    cairo_t *cairo;
    PangoLayout *layout;
    double width_pt;
    double height_pt;
    double y_pt; /* where the next block goes */
    unsigned page;
    struct text footer;   /* at the foot of each page, before its number */
    struct text carry_on; /* heads a page that goes on with a question; "" for none */
    int unknown;          /* characters without a picture */
};

#define BOOK_MARGIN_PT 48.0
#define BOOK_GAP_PT 5.0

/* Opens the file; false where it cannot be made. book_close in any case. */
bool book_open(struct book *book, const char *path, enum paper paper, const char *title);

/* Ends the last page and the file; false where something could not be written. */
bool book_close(struct book *book);

void book_next_page(struct book *book);

/* Room that is left on this page, and on an empty one. */
double book_left_pt(const struct book *book);
double book_page_pt(const struct book *book);

/* Height of a paragraph with the gap below it. `font`: "Sans Bold 9". */
double book_measure_pt(struct book *book, const char *font, const char *string, double indent_pt);

/*
 * A paragraph; on the next page where it and `keep_pt` of what follows do not fit here. `tag`: "P", "H1".
 */
void book_paragraph(struct book *book, const char *tag, const char *font, const char *string, double indent_pt,
                    double keep_pt);

void book_set_font(struct book *book, const char *font);

#endif
