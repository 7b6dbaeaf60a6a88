/* The document page by page. */
#include <math.h>
#include <string.h>

#include "pages.h"

enum { FOOT_LINES_MOST = 4 };

static const double foot_space = 46; /* from the lower edge */
static const double foot_edge = 28;  /* below the foot's last line */
static const double above_foot = 7;  /* its line keeps clear of what stands on the page */
static const double foot_size = 7;

double pages_width(const struct pages *pages)
{
    return pages->width - 2 * page_margin - pages->beside;
}

struct canvas_font pages_font(const struct pages *pages, double size, bool bold)
{
    const struct print_look *look = &pages->document->look;
    const double scale = look->text > 0 ? look->text / page_body_size : 1;
    return (struct canvas_font){fmax(size * scale, look->least), bold};
}

struct canvas_font pages_body(const struct pages *pages, bool bold)
{
    return pages_font(pages, page_body_size, bold);
}

double pages_line_height(const struct pages *pages, struct canvas_font font)
{
    const double gap = pages->document->look.line_gap;
    return gap > 0 ? font.size * gap : canvas_line_height(font);
}

double pages_space(const struct pages *pages, double points)
{
    return pages->document->look.space > 0 ? points * pages->document->look.space : points;
}

static struct canvas_font foot_font(const struct pages *pages)
{
    return (struct canvas_font){fmax(foot_size, pages->document->look.least), false};
}

static double measure_foot(const struct pages *pages)
{
    struct arena *arena = arena_new();
    const struct canvas_font font = foot_font(pages);
    const size_t lines = canvas_wrap(font, pages_width(pages), FOOT_LINES_MOST, pages->document->sentence, arena).count;
    arena_free(arena);
    return fmax(foot_space, foot_edge + (double)lines * canvas_line_height(font));
}

/* From the line above the foot to the base line of its first words. */
static double foot_top(const struct pages *pages)
{
    const double size = foot_font(pages).size;
    return size + 2 + (size - foot_size) / 2;
}

double pages_bottom(const struct pages *pages)
{
    return pages->height - pages->foot_room - foot_top(pages) - above_foot;
}

static void add_page_number(const struct pages *pages, struct text *text)
{
    const struct print_words *words = &pages->document->words;
    text_printf(text, "%s %zu", words->page, pages->count - pages->section);
    if (pages->foot == NULL) {
        text_printf(text, " %s %zu", words->of, pages->all);
    }
}

static void draw_foot(struct pages *pages)
{
    const struct print_document *document = pages->document;
    const struct canvas_font font = foot_font(pages);
    const double y = pages->height - pages->foot_room - (font.size - foot_size) / 2;
    const double line_y = pages->height - pages->foot_room - foot_top(pages);
    struct text text = {0};
    canvas_line(pages->canvas, page_margin, line_y, pages->width - page_margin, line_y, page_hair);
    add_page_number(pages, &text);
    const double number_width = canvas_text_width(font, text_string(&text)) + 8;
    canvas_text(pages->canvas, pages->width - page_margin, y, CANVAS_END, font, text_string(&text));
    text_clear(&text);
    if (pages->foot == NULL) {
        text_printf(&text, "%s   ampsum %s   %s", document->date, document->version, document->file);
    } else {
        text_add(&text, pages->foot);
    }
    canvas_text_fit(pages->canvas, page_margin, y, pages_width(pages) - number_width, CANVAS_START, font,
                    text_string(&text));
    text_done(&text);
    const struct canvas_lines lines =
        canvas_wrap(font, pages_width(pages), FOOT_LINES_MOST, document->sentence, pages->arena);
    canvas_text_lines(pages->canvas, page_margin, y + font.size + 3, CANVAS_START, font, lines);
}

static void end_page(struct pages *pages)
{
    if (pages->count > 0) {
        draw_foot(pages);
    }
}

bool pages_fit(const struct pages *pages, double height)
{
    return pages->y + height <= pages_bottom(pages);
}

/* ------------------------------------------------------------------ pages --------------------------------- */

/* What comes next stands below the picture at the right edge. */
static void end_beside(struct pages *pages)
{
    pages->y = fmax(pages->y, pages->beside_end);
    pages->beside = 0;
    pages->beside_end = 0;
}

void pages_next(struct pages *pages)
{
    end_beside(pages);
    end_page(pages);
    pages->count++;
    pages->below_head = false;
    canvas_page(pages->canvas, pages->width, pages->height);
    pages->y = page_margin;
    if (pages->carry_on != NULL) {
        pages_carry_on(pages);
    }
    pages_float(pages);
}

void pages_next_for(struct pages *pages, double height)
{
    do {
        pages_next(pages);
    } while (pages->floated && !pages_fit(pages, height));
}

void pages_make_room(struct pages *pages, double height)
{
    if (!pages_fit(pages, height)) {
        pages_next_for(pages, height);
    }
}

void pages_begun(struct pages *pages)
{
    pages->carry_on = pages->pending == NULL ? pages->carry_on : pages->pending;
    pages->pending = NULL;
}

/* ------------------------------------------------------------------ blocks -------------------------------- */

double pages_least(const struct pages *pages, size_t at)
{
    const struct print_document *document = pages->document;
    while (at < document->block_count && !walk_shows(document, at, ON_PAPER)) {
        at++;
    }
    return at < document->block_count && elements[document->blocks[at].kind].least != NULL
               ? elements[document->blocks[at].kind].least(pages, at)
               : 0;
}

/* Their numbers begin anew. */
void draw_new_foot(struct pages *pages, size_t at)
{
    pages->foot = pages->document->blocks[at].string;
    pages->section = pages->count - 1;
}

void draw_page(struct pages *pages, size_t at)
{
    (void)at;
    if (pages->y > page_margin) {
        pages_next(pages);
    }
}

void draw_room(struct pages *pages, size_t at)
{
    end_beside(pages);
    pages->y += fmax(0, fmin(pages_room(pages, at), pages_bottom(pages) - pages->y));
}

static size_t block_after(const struct pages *pages, size_t at)
{
    const struct print_block *block = &pages->document->blocks[at];
    return block->kind == PRINT_TOGETHER  ? at + 1 + block->lines
           : block->kind == PRINT_PICTURE ? pages_after_picture(pages, at)
                                          : at + 1;
}

size_t pages_draw_from(struct pages *pages, size_t at)
{
    struct arena *outer = pages->arena;
    const enum print_kind kind = pages->document->blocks[at].kind;
    if (!walk_shows(pages->document, at, ON_PAPER)) {
        return at + 1;
    }
    const size_t after = block_after(pages, at);
    pages->arena = arena_new();
    elements[kind].draw(pages, at);
    if (kind != PRINT_TOGETHER) { /* which tells what is begun itself */
        pages_begun(pages);
    }
    arena_free(pages->arena);
    pages->arena = outer;
    return after;
}

static size_t lay_out(const struct print_document *document, struct canvas *canvas, size_t all)
{
    struct pages pages = {.document = document,
                          .canvas = canvas,
                          .arena = arena_new(),
                          .kept = arena_new(),
                          .all = all,
                          .width = print_width(document->paper),
                          .height = print_height(document->paper)};
    pages.heights = arena_array(pages.kept, document->block_count, sizeof *pages.heights);
    pages.foot_room = measure_foot(&pages);
    pages_next(&pages);
    pages_title(&pages);
    for (size_t at = 0; at < document->block_count;) {
        at = pages_draw_from(&pages, at);
    }
    while (pages.floating_count > 0) {
        pages_next(&pages);
    }
    end_page(&pages);
    arena_free(pages.arena);
    arena_free(pages.kept);
    return pages.count;
}

size_t print_pages(const struct print_document *document, struct canvas *canvas)
{
    struct canvas none = canvas_none();
    return lay_out(document, canvas, lay_out(document, &none, 0));
}

void print_svg(const struct print_document *document, struct text *text)
{
    struct canvas none = canvas_none();
    const size_t count = lay_out(document, &none, 0);
    const double height = print_height(document->paper);
    struct text title = {0};
    walk_title(document, &title);
    struct svg svg;
    struct canvas canvas =
        svg_open(&svg, text, print_width(document->paper), (double)count * height + (double)(count - 1) * SVG_PAGE_GAP,
                 "document", text_string(&title), document->sentence);
    lay_out(document, &canvas, count);
    svg_close(&svg);
    text_done(&title);
}
