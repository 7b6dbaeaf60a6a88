/* The document page by page. */
#include <math.h>
#include <string.h>

#include "ampsum/print.h"

enum { CELL_LINES_MOST = 14 };

static const double margin = 48;
static const double foot_space = 46; /* from the lower edge */
static const double cell_gap = 9;
static const double row_pad = 4;
static const struct canvas_font body_font = {9, false};
static const struct canvas_font body_bold = {9, true};
static const struct canvas_font cell_font = {8, false};
static const struct canvas_font cell_bold = {8, true};
static const struct canvas_font hand_font = {9.5, false}; /* of tables that hang on a door */
static const struct canvas_font hand_bold = {9.5, true};
static const struct canvas_font foot_font = {7, false};
static const struct canvas_pen hair = {0.4, CANVAS_SOLID};
static const struct canvas_pen rule = {0.9, CANVAS_SOLID};

struct pages {
    const struct print_document *document;
    struct canvas *canvas;
    struct arena *arena; /* for the block at work */
    size_t count;
    size_t all; /* pages in the end; 0 while they are counted */
    double width;
    double height;
    double y; /* top of what comes next */
};

static double text_width(const struct pages *pages)
{
    return pages->width - 2 * margin;
}

static double bottom(const struct pages *pages)
{
    return pages->height - margin - foot_space + 20;
}

/* ------------------------------------------------------------------ pages --------------------------------- */

static void draw_foot(struct pages *pages)
{
    const struct print_document *document = pages->document;
    const double y = pages->height - foot_space;
    struct text text = {0};
    canvas_line(pages->canvas, margin, y - 9, pages->width - margin, y - 9, hair);
    text_printf(&text, "page %zu of %zu", pages->count, pages->all);
    const double number_width = canvas_text_width(foot_font, text_string(&text)) + 8;
    canvas_text(pages->canvas, pages->width - margin, y, CANVAS_END, foot_font, text_string(&text));
    text_clear(&text);
    text_printf(&text, "%s   ampsum %s   %s", document->date, document->version, document->file);
    canvas_text_fit(pages->canvas, margin, y, text_width(pages) - number_width, CANVAS_START, foot_font,
                    text_string(&text));
    text_done(&text);
    const struct canvas_lines lines = canvas_wrap(foot_font, text_width(pages), 2, document->sentence, pages->arena);
    canvas_text_lines(pages->canvas, margin, y + 10, CANVAS_START, foot_font, lines);
}

static void end_page(struct pages *pages)
{
    if (pages->count > 0) {
        draw_foot(pages);
    }
}

static void next_page(struct pages *pages)
{
    end_page(pages);
    pages->count++;
    canvas_page(pages->canvas, pages->width, pages->height);
    pages->y = margin;
}

static bool fits(const struct pages *pages, double height)
{
    return pages->y + height <= bottom(pages);
}

static void make_room(struct pages *pages, double height)
{
    if (!fits(pages, height)) {
        next_page(pages);
    }
}

/* ------------------------------------------------------------------ texts --------------------------------- */

/* Lines of text from `x` on, onto further pages where they are many. */
static void flow(struct pages *pages, double x, double width, struct canvas_font font, const char *string)
{
    const double height = canvas_line_height(font);
    const struct canvas_lines lines = canvas_wrap(font, width, (size_t)-1, string, pages->arena);
    for (size_t i = 0; i < lines.count; i++) {
        make_room(pages, height);
        canvas_text(pages->canvas, x, pages->y + font.size, CANVAS_START, font, lines.line[i]);
        pages->y += height;
    }
}

static void draw_heading(struct pages *pages, const struct print_block *block)
{
    const struct canvas_font font = {block->level <= 1 ? 17 : block->level == 2 ? 12.5 : 10, true};
    const double before = block->level <= 1 ? 0 : block->level == 2 ? 14 : 8;
    make_room(pages,
              before + 2 * font.size + (block->level == 1 ? 60 : 110)); /* a heading never stands alone at the foot */
    pages->y += pages->y > margin ? before : 0;
    canvas_heading(pages->canvas, (unsigned)block->level, block->string, pages->y);
    flow(pages, margin, text_width(pages), font, block->string);
    if (block->level == 2) {
        canvas_line(pages->canvas, margin, pages->y, pages->width - margin, pages->y, rule);
    }
    pages->y += 5;
}

static double lines_height(const struct pages *pages, struct canvas_font font, double width, const char *string)
{
    const struct canvas_lines lines = canvas_wrap(font, width, (size_t)-1, string, pages->arena);
    return (double)lines.count * canvas_line_height(font);
}

static void draw_item(struct pages *pages, const struct print_block *block)
{
    const double indent = 12;
    const double width = text_width(pages) - indent;
    const char *lead = block->lead == NULL ? "" : block->lead;
    const double whole =
        lines_height(pages, body_bold, width, lead) + lines_height(pages, body_font, width, block->string);
    make_room(pages, fmin(whole, 200)); /* together unless it is very long */
    canvas_circle(pages->canvas, margin + 4, pages->y + body_font.size * 0.65, 1.6, true, 0);
    flow(pages, margin + indent, width, body_bold, lead);
    flow(pages, margin + indent, width, body_font, block->string);
    pages->y += 3;
}

static void draw_caution(struct pages *pages, const struct print_block *block)
{
    const double pad = 7;
    const double width = text_width(pages) - 2 * pad;
    const struct canvas_lines lead =
        canvas_wrap(body_bold, width, 4, block->lead == NULL ? "" : block->lead, pages->arena);
    const struct canvas_lines lines = canvas_wrap(body_font, width, 40, block->string, pages->arena);
    const double height = (double)(lead.count + lines.count) * canvas_line_height(body_font) + 2 * pad - 2;
    make_room(pages, height + 4);
    canvas_rectangle(pages->canvas, margin, pages->y, text_width(pages), height, CANVAS_CLEAR, 1.2);
    double y = pages->y + pad + body_font.size - 1;
    y += canvas_text_lines(pages->canvas, margin + pad, y, CANVAS_START, body_bold, lead);
    canvas_text_lines(pages->canvas, margin + pad, y, CANVAS_START, body_font, lines);
    pages->y += height + 5;
}

static void draw_picture(struct pages *pages, const struct picture *picture)
{
    const double caption = 18;
    make_room(pages, fmin(picture->height + caption + 8, bottom(pages) - margin));
    canvas_text_fit(pages->canvas, margin, pages->y + 10, text_width(pages), CANVAS_START, body_bold, picture->title);
    pages->canvas->x = margin + fmax(0, (text_width(pages) - picture->width) / 2);
    pages->canvas->y = pages->y + caption;
    picture_draw(picture, pages->canvas);
    pages->canvas->x = 0;
    pages->canvas->y = 0;
    pages->y += picture->height + caption + 12;
}

static void draw_lines(struct pages *pages, size_t count)
{
    const double gap = 24;
    make_room(pages, fmin(gap * (double)count, bottom(pages) - margin));
    for (size_t i = 0; i < count; i++) {
        make_room(pages, gap);
        pages->y += gap;
        canvas_line(pages->canvas, margin, pages->y, pages->width - margin, pages->y, hair);
    }
    pages->y += 6;
}

/* ------------------------------------------------------------------ tables -------------------------------- */

static double column_width(const struct pages *pages, const struct print_table *table, size_t column)
{
    double sum = 0;
    for (size_t i = 0; i < table->column_count; i++) {
        sum += table->columns[i].weight;
    }
    const double gaps = cell_gap * (double)(table->column_count - 1);
    return (text_width(pages) - gaps) * table->columns[column].weight / sum;
}

/* A row's cells, wrapped; returns its height. */
static double wrap_row(struct pages *pages, const struct print_table *table, const char **cells,
                       struct canvas_font font, struct canvas_lines *ret_lines)
{
    size_t most = 1;
    for (size_t i = 0; i < table->column_count; i++) {
        ret_lines[i] = canvas_wrap(font, column_width(pages, table, i), CELL_LINES_MOST, cells[i], pages->arena);
        most = ret_lines[i].count > most ? ret_lines[i].count : most;
    }
    const double height = (double)most * canvas_line_height(font) + row_pad;
    return table->ruled ? fmax(height, 22) : height;
}

static void draw_row(struct pages *pages, const struct print_table *table, struct canvas_font font,
                     const struct canvas_lines *lines)
{
    double x = margin;
    for (size_t i = 0; i < table->column_count; i++) {
        const double width = column_width(pages, table, i);
        const bool right = table->columns[i].right;
        canvas_text_lines(pages->canvas, right ? x + width : x, pages->y + font.size + 1,
                          right ? CANVAS_END : CANVAS_START, font, lines[i]);
        x += width + cell_gap;
    }
}

static void draw_table_head(struct pages *pages, const struct print_table *table, bool again)
{
    const struct canvas_font font = table->ruled ? hand_bold : cell_bold;
    const char **heads = arena_array(pages->arena, table->column_count, sizeof *heads);
    struct canvas_lines *lines = arena_array(pages->arena, table->column_count, sizeof *lines);
    for (size_t i = 0; i < table->column_count; i++) {
        heads[i] = table->columns[i].heading;
    }
    struct text caption = {0};
    text_printf(&caption, "%s%s", table->caption, again ? " (continued)" : "");
    if (caption.length > 0) {
        canvas_text_fit(pages->canvas, margin, pages->y + 10, text_width(pages), CANVAS_START, body_bold,
                        text_string(&caption));
        pages->y += 15;
    }
    text_done(&caption);
    const double height = wrap_row(pages, table, heads, font, lines);
    draw_row(pages, table, font, lines);
    pages->y += height;
    canvas_line(pages->canvas, margin, pages->y, pages->width - margin, pages->y, rule);
    pages->y += 1;
}

static void draw_table(struct pages *pages, const struct print_table *table)
{
    make_room(pages, 90);
    draw_table_head(pages, table, false);
    const struct canvas_font font = table->ruled ? hand_font : cell_font;
    struct arena *outer = pages->arena;
    for (size_t row = 0; row < print_row_count(table); row++) {
        pages->arena = arena_new();
        struct canvas_lines *lines = arena_array(pages->arena, table->column_count, sizeof *lines);
        const double height = wrap_row(pages, table, table->cells + row * table->column_count, font, lines);
        if (!fits(pages, height)) {
            next_page(pages);
            draw_table_head(pages, table, true);
        }
        draw_row(pages, table, font, lines);
        pages->y += height;
        canvas_line(pages->canvas, margin, pages->y, pages->width - margin, pages->y, hair);
        arena_free(pages->arena);
    }
    pages->arena = outer;
    pages->y += 9;
}

/* ------------------------------------------------------------------ all ----------------------------------- */

static void draw_block(struct pages *pages, const struct print_block *block)
{
    switch (block->kind) {
    case PRINT_HEADING:
        draw_heading(pages, block);
        break;
    case PRINT_PARAGRAPH:
        flow(pages, margin, text_width(pages), body_font, block->string);
        pages->y += 5;
        break;
    case PRINT_ITEM:
        draw_item(pages, block);
        break;
    case PRINT_CAUTION:
        draw_caution(pages, block);
        break;
    case PRINT_TABLE:
        if (!block->screen) {
            draw_table(pages, block->table);
        }
        break;
    case PRINT_PICTURE:
        draw_picture(pages, block->picture);
        break;
    case PRINT_LINES:
        draw_lines(pages, block->lines);
        break;
    case PRINT_PAGE:
        if (pages->y > margin) {
            next_page(pages);
        }
        break;
    }
}

/* A heading goes over to the next page with the picture that it stands above. */
static void keep_together(struct pages *pages, const struct print_block *block, const struct print_block *next)
{
    if (block->kind == PRINT_HEADING && next->kind == PRINT_PICTURE) {
        make_room(pages, fmin(next->picture->height + 70, bottom(pages) - margin));
    }
}

static size_t lay_out(const struct print_document *document, struct canvas *canvas, size_t all)
{
    struct pages pages = {.document = document,
                          .canvas = canvas,
                          .arena = arena_new(),
                          .all = all,
                          .width = print_width(document->paper),
                          .height = print_height(document->paper)};
    next_page(&pages);
    struct text title = {0};
    text_printf(&title, "%s: %s", document->house, document->title);
    draw_heading(&pages, &(struct print_block){.level = 1, .string = text_string(&title)});
    for (size_t i = 0; i < document->block_count; i++) {
        arena_free(pages.arena);
        pages.arena = arena_new();
        if (i + 1 < document->block_count) {
            keep_together(&pages, &document->blocks[i], &document->blocks[i + 1]);
        }
        draw_block(&pages, &document->blocks[i]);
    }
    end_page(&pages);
    text_done(&title);
    arena_free(pages.arena);
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
    text_printf(&title, "%s: %s", document->house, document->title);
    struct svg svg;
    struct canvas canvas =
        svg_open(&svg, text, print_width(document->paper), (double)count * height + (double)(count - 1) * SVG_PAGE_GAP,
                 "document", text_string(&title), document->sentence);
    lay_out(document, &canvas, count);
    svg_close(&svg);
    text_done(&title);
}
