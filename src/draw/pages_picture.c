/* Pictures on pages: alone, two side by side, at the right edge with text beside them, or on the next page. */
#include <math.h>

#include "pages.h"

static const double column_gap = 16;   /* between two pictures side by side */
static const double beside_least = 22; /* of the width beside a picture, letters of the text */

static double picture_height(const struct pages *pages, const struct picture *picture)
{
    return fmin(picture->height + (walk_is_titled(pages->document) ? 30 : 8), pages_bottom(pages) - page_margin);
}

double least_picture(const struct pages *pages, size_t at)
{
    return picture_height(pages, pages->document->blocks[at].picture);
}

/* At x, with its title above; none where the document's own words say what it is of. Returns the height of both. */
static double draw_picture_at(struct pages *pages, const struct picture *picture, double x, double width)
{
    enum { TITLE_LINES_MOST = 2 };
    const struct canvas_font bold = pages_body(pages, true);
    double caption = 0;
    if (walk_is_titled(pages->document)) {
        const struct canvas_lines title = canvas_wrap(bold, width, TITLE_LINES_MOST, picture->title, pages->arena);
        canvas_tag(pages->canvas, "P");
        caption = 6 + canvas_text_lines(pages->canvas, x, pages->y + 10, CANVAS_START, bold, title);
        canvas_tag_end(pages->canvas);
    }
    canvas_tag(pages->canvas, "Figure");
    pages->canvas->x = x + fmax(0, (width - picture->width) / 2);
    pages->canvas->y = pages->y + caption;
    picture_draw(picture, pages->canvas);
    pages->canvas->x = 0;
    pages->canvas->y = 0;
    canvas_tag_end(pages->canvas);
    return caption + picture->height;
}

static double half_width(const struct pages *pages)
{
    return (pages_width(pages) - column_gap) / 2;
}

/* Whether two narrow pictures follow one another from there on: they stand side by side. */
static bool is_pair(const struct pages *pages, size_t at)
{
    const struct print_document *document = pages->document;
    const size_t next = walk_next(document, at, ON_PAPER);
    return next < document->block_count && document->blocks[at].kind == PRINT_PICTURE &&
           document->blocks[next].kind == PRINT_PICTURE && document->blocks[at].picture->width <= half_width(pages) &&
           document->blocks[next].picture->width <= half_width(pages);
}

size_t pages_after_picture(const struct pages *pages, size_t at)
{
    return is_pair(pages, at) ? walk_next(pages->document, at, ON_PAPER) + 1 : at + 1;
}

/* Draws the picture of that block, or it and the next. */
static void draw_pictures(struct pages *pages, size_t at)
{
    const struct print_block *blocks = pages->document->blocks;
    if (!is_pair(pages, at)) {
        pages->y += draw_picture_at(pages, blocks[at].picture, page_margin, pages_width(pages));
    } else {
        const size_t next = walk_next(pages->document, at, ON_PAPER);
        const double width = half_width(pages);
        const double left = draw_picture_at(pages, blocks[at].picture, page_margin, width);
        const double right = draw_picture_at(pages, blocks[next].picture, page_margin + width + column_gap, width);
        pages->y += fmax(left, right);
    }
    pages->y += walk_is_titled(pages->document) ? 10 : 6;
}

static double pictures_height(const struct pages *pages, size_t at)
{
    const struct print_block *blocks = pages->document->blocks;
    const double height = picture_height(pages, blocks[at].picture);
    return is_pair(pages, at)
               ? 10 + fmax(height, picture_height(pages, blocks[walk_next(pages->document, at, ON_PAPER)].picture))
               : height;
}

void pages_float(struct pages *pages)
{
    size_t drawn = 0;
    while (drawn < pages->floating_count &&
           (drawn == 0 || pages_fit(pages, pictures_height(pages, pages->floating[drawn])))) {
        draw_pictures(pages, pages->floating[drawn++]);
    }
    pages->floated = drawn > 0;
    pages->floating_count -= drawn;
    for (size_t i = 0; i < pages->floating_count; i++) {
        pages->floating[i] = pages->floating[i + drawn];
    }
}

/* Whether the picture leaves enough of the width for what is to stand beside it. */
static bool stands_beside(const struct pages *pages, const struct print_block *block)
{
    const double rest = pages_width(pages) - block->picture->width - column_gap;
    return block->beside && rest >= beside_least * pages_body(pages, false).size;
}

static void draw_beside(struct pages *pages, const struct picture *picture)
{
    pages_make_room(pages, picture_height(pages, picture));
    const double height =
        draw_picture_at(pages, picture, page_margin + pages_width(pages) - picture->width, picture->width);
    pages->beside_end = pages->y + height + page_gap;
    pages->beside = picture->width + column_gap;
}

/* A report's picture for which this page has no room waits for the next, and what comes after it goes on here. */
void draw_picture(struct pages *pages, size_t at)
{
    if (stands_beside(pages, &pages->document->blocks[at])) {
        draw_beside(pages, pages->document->blocks[at].picture);
        return;
    }
    const bool waits = pages->floating_count > 0 || !pages_fit(pages, pictures_height(pages, at));
    if (waits && walk_is_titled(pages->document) && pages->y > page_margin && pages->floating_count < FLOATING_MOST) {
        pages->floating[pages->floating_count++] = at;
        return;
    }
    pages_make_room(pages, pictures_height(pages, at));
    draw_pictures(pages, at);
}
