/* The document page by page. */
#include <math.h>
#include <string.h>

#include "ampsum/print.h"

enum { CELL_LINES_MOST = 14, FOOT_LINES_MOST = 4 };

static const double margin = 48;
static const double foot_space = 46; /* from the lower edge */
static const double foot_edge = 28;  /* below the foot's last line */
static const double cell_gap = 9;
static const double row_pad = 4;
static const double paragraph_gap = 5;
static const double body_size = 9;
static const double cell_size = 8;
static const double hand_size = 9.5; /* of tables that hang on a door */
static const double foot_size = 7;
static const double small_share = 0.9;
static const struct canvas_pen hair = {0.4, CANVAS_SOLID};
static const struct canvas_pen rule = {0.9, CANVAS_SOLID};

struct pages {
    const struct print_document *document;
    struct canvas *canvas;
    struct arena *arena; /* for the block at work */
    size_t count;
    size_t all;           /* pages in the end; 0 while they are counted */
    size_t section;       /* pages before the first one of this foot */
    const char *foot;     /* NULL: the document's */
    const char *carry_on; /* heads a page on which a group goes on, or NULL */
    const char *pending;  /* the same of a group of which nothing is drawn yet */
    double foot_room;     /* from the lower edge */
    double width;
    double height;
    double y; /* top of what comes next */
};

static double text_width(const struct pages *pages)
{
    return pages->width - 2 * margin;
}

/* A size of the report in this document's look. */
static struct canvas_font font_of(const struct pages *pages, double size, bool bold)
{
    const struct print_look *look = &pages->document->look;
    const double scale = look->text > 0 ? look->text / body_size : 1;
    return (struct canvas_font){fmax(size * scale, look->least), bold};
}

static struct canvas_font body_of(const struct pages *pages, bool bold)
{
    return font_of(pages, body_size, bold);
}

static double line_height(const struct pages *pages, struct canvas_font font)
{
    const double gap = pages->document->look.line_gap;
    return gap > 0 ? font.size * gap : canvas_line_height(font);
}

/* A space between lines in this document's look. */
static double space(const struct pages *pages, double points)
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
    const size_t lines = canvas_wrap(font, text_width(pages), FOOT_LINES_MOST, pages->document->sentence, arena).count;
    arena_free(arena);
    return fmax(foot_space, foot_edge + (double)lines * canvas_line_height(font));
}

static double bottom(const struct pages *pages)
{
    const bool sheet = pages->document->house[0] == '\0';
    return pages->height - margin - pages->foot_room + (sheet ? 32 : 20);
}

/* ------------------------------------------------------------------ pages --------------------------------- */

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
    struct text text = {0};
    canvas_line(pages->canvas, margin, y - font.size - 2, pages->width - margin, y - font.size - 2, hair);
    add_page_number(pages, &text);
    const double number_width = canvas_text_width(font, text_string(&text)) + 8;
    canvas_text(pages->canvas, pages->width - margin, y, CANVAS_END, font, text_string(&text));
    text_clear(&text);
    if (pages->foot == NULL) {
        text_printf(&text, "%s   ampsum %s   %s", document->date, document->version, document->file);
    } else {
        text_add(&text, pages->foot);
    }
    canvas_text_fit(pages->canvas, margin, y, text_width(pages) - number_width, CANVAS_START, font, text_string(&text));
    text_done(&text);
    const struct canvas_lines lines =
        canvas_wrap(font, text_width(pages), FOOT_LINES_MOST, document->sentence, pages->arena);
    canvas_text_lines(pages->canvas, margin, y + font.size + 3, CANVAS_START, font, lines);
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
    if (pages->carry_on != NULL) {
        const struct canvas_font font = font_of(pages, body_size * small_share, false);
        canvas_tag(pages->canvas, "P");
        canvas_text(pages->canvas, margin, pages->y + font.size, CANVAS_START, font, pages->carry_on);
        canvas_tag(pages->canvas, NULL);
        pages->y += line_height(pages, font) + paragraph_gap;
    }
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

/* Something of the group is drawn: now it can go on. */
static void set_begun(struct pages *pages)
{
    pages->carry_on = pages->pending == NULL ? pages->carry_on : pages->pending;
    pages->pending = NULL;
}

/*
 * Lines of text from `x` on, onto further pages where they are many: neither the first of them stands alone at a foot
 * nor the last at a head.
 */
static void flow(struct pages *pages, const char *tag, double x, double width, struct canvas_font font,
                 const char *string)
{
    enum { FEW = 3 };
    const double height = line_height(pages, font);
    const struct canvas_lines lines = canvas_wrap(font, width, (size_t)-1, string, pages->arena);
    canvas_tag(pages->canvas, tag);
    for (size_t i = 0; i < lines.count; i++) {
        const size_t kept = lines.count <= FEW && i == 0 ? lines.count : i == 0 || i + 2 == lines.count ? 2 : 1;
        if (!fits(pages, height * (double)kept)) {
            next_page(pages);
            canvas_tag(pages->canvas, tag);
        }
        canvas_text(pages->canvas, x, pages->y + font.size, CANVAS_START, font, lines.line[i]);
        pages->y += height;
        set_begun(pages);
    }
    canvas_tag(pages->canvas, NULL);
}

static void draw_heading(struct pages *pages, const struct print_block *block)
{
    static const char *const tags[] = {"H1", "H1", "H2", "H3"};
    const bool own = pages->document->house[0] == '\0'; /* a sheet's own title, not a report's */
    const double size = block->level <= 1 ? (own ? 12.5 : 17) : block->level == 2 ? 12.5 : 10;
    const struct canvas_font font = font_of(pages, size, true);
    const double before = block->level <= 1 ? 0 : block->level == 2 ? 14 : space(pages, 8);
    make_room(pages, before + 2 * font.size +
                         (block->level == 1 ? 60 : space(pages, 110))); /* a heading never stands alone at the foot */
    pages->y += pages->y > margin ? before : 0;
    canvas_heading(pages->canvas, (unsigned)block->level, block->string, pages->y);
    flow(pages, tags[block->level], margin, text_width(pages), font, block->string);
    if (block->level == 2) {
        canvas_line(pages->canvas, margin, pages->y, pages->width - margin, pages->y, rule);
    }
    pages->y += space(pages, paragraph_gap);
}

static double lines_height(const struct pages *pages, struct canvas_font font, double width, const char *string)
{
    const struct canvas_lines lines = canvas_wrap(font, width, (size_t)-1, string, pages->arena);
    return (double)lines.count * line_height(pages, font);
}

static void draw_item(struct pages *pages, const struct print_block *block)
{
    const double indent = 12;
    const double width = text_width(pages) - indent;
    const char *lead = block->lead == NULL ? "" : block->lead;
    const struct canvas_font body_font = body_of(pages, false);
    const struct canvas_font body_bold = body_of(pages, true);
    const double whole =
        lines_height(pages, body_bold, width, lead) + lines_height(pages, body_font, width, block->string);
    make_room(pages, fmin(whole, 200)); /* together unless it is very long */
    canvas_circle(pages->canvas, margin + 4, pages->y + body_font.size * 0.65, 1.6, true, 0);
    flow(pages, "P", margin + indent, width, body_bold, lead);
    flow(pages, "P", margin + indent, width, body_font, block->string);
    pages->y += space(pages, 3);
}

static void draw_caution(struct pages *pages, const struct print_block *block)
{
    const double pad = 7;
    const double width = text_width(pages) - 2 * pad;
    const struct canvas_font body_font = body_of(pages, false);
    const struct canvas_font body_bold = body_of(pages, true);
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

/* Its title above; none where the document's own words say what it is of. */
static void draw_picture(struct pages *pages, const struct picture *picture)
{
    const bool titled = pages->document->house[0] != '\0';
    const double caption = titled ? 18 : 0;
    make_room(pages, fmin(picture->height + caption + 8, bottom(pages) - margin));
    if (titled) {
        canvas_text_fit(pages->canvas, margin, pages->y + 10, text_width(pages), CANVAS_START, body_of(pages, true),
                        picture->title);
    }
    canvas_tag(pages->canvas, "Figure");
    pages->canvas->x = margin + fmax(0, (text_width(pages) - picture->width) / 2);
    pages->canvas->y = pages->y + caption;
    picture_draw(picture, pages->canvas);
    pages->canvas->x = 0;
    pages->canvas->y = 0;
    canvas_tag(pages->canvas, NULL);
    pages->y += picture->height + caption + (titled ? 12 : 6);
}

static void draw_paragraph(struct pages *pages, const struct print_block *block)
{
    const double size = block->style == PRINT_SMALL ? body_size * small_share : body_size;
    flow(pages, "P", margin + block->indent, text_width(pages) - block->indent,
         font_of(pages, size, block->style == PRINT_STRONG), block->string);
    pages->y += space(pages, paragraph_gap);
}

/* The blank stands behind the label's last line, or below it where that leaves too little. */
static void draw_field(struct pages *pages, const struct print_block *block)
{
    const struct canvas_font font = body_of(pages, false);
    const double blank = 16 * font.size;
    const double left = margin + block->indent;
    const double right = pages->width - margin;
    const struct canvas_lines lines = canvas_wrap(font, right - left, (size_t)-1, block->string, pages->arena);
    const double last = lines.count == 0 ? 0 : canvas_text_width(font, lines.line[lines.count - 1]);
    const bool below = left + last + 6 + blank > right;
    const double stroke = fmax(pages->document->look.stroke, hair.width);
    make_room(pages, line_height(pages, font) * (double)(lines.count + below));
    flow(pages, "P", left, right - left, font, block->string);
    const double base = pages->y - line_height(pages, font) * (below ? 0 : 1) + font.size + 2;
    const double from = below ? left : left + last + 6;
    canvas_line(pages->canvas, from, base, from + blank, base, (struct canvas_pen){stroke, CANVAS_SOLID});
    pages->y += (below ? line_height(pages, font) : 0) + paragraph_gap;
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
    const double height =
        (double)most * canvas_line_height(font) + space(pages, row_pad); /* as canvas_text_lines draws them */
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

static struct canvas_font table_font(const struct pages *pages, const struct print_table *table, bool bold)
{
    return font_of(pages, table->ruled ? hand_size : cell_size, bold);
}

static void draw_table_head(struct pages *pages, const struct print_table *table, bool again)
{
    const struct canvas_font font = table_font(pages, table, true);
    const char **heads = arena_array(pages->arena, table->column_count, sizeof *heads);
    struct canvas_lines *lines = arena_array(pages->arena, table->column_count, sizeof *lines);
    for (size_t i = 0; i < table->column_count; i++) {
        heads[i] = table->columns[i].heading;
    }
    struct text caption = {0};
    text_add(&caption, table->caption);
    if (again) {
        text_printf(&caption, " (%s)", pages->document->words.continued);
    }
    if (caption.length > 0) {
        canvas_text_fit(pages->canvas, margin, pages->y + 10, text_width(pages), CANVAS_START, body_of(pages, true),
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
    make_room(pages, space(pages, 90));
    draw_table_head(pages, table, false);
    const struct canvas_font font = table_font(pages, table, false);
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
    pages->y += space(pages, 9);
}

/* ------------------------------------------------------------------ all ----------------------------------- */

static void set_foot(struct pages *pages, const char *foot)
{
    pages->foot = foot;
    pages->section = pages->count - 1;
}

static void draw_block(struct pages *pages, const struct print_block *block)
{
    switch (block->kind) {
    case PRINT_HEADING:
        draw_heading(pages, block);
        break;
    case PRINT_PARAGRAPH:
        draw_paragraph(pages, block);
        break;
    case PRINT_ITEM:
        draw_item(pages, block);
        break;
    case PRINT_CAUTION:
        draw_caution(pages, block);
        break;
    case PRINT_TABLE:
        draw_table(pages, block->table);
        break;
    case PRINT_PICTURE:
        draw_picture(pages, block->picture);
        break;
    case PRINT_LINES:
        draw_lines(pages, block->lines);
        break;
    case PRINT_FIELD:
        draw_field(pages, block);
        break;
    case PRINT_ROOM:
        pages->y += fmax(0, fmin(block->room, bottom(pages) - pages->y));
        break;
    case PRINT_FOOT:
        set_foot(pages, block->string);
        break;
    case PRINT_PAGE:
        if (pages->y > margin) {
            next_page(pages);
        }
        break;
    case PRINT_TOGETHER:
        break; /* draw_group */
    }
}

/* A heading goes over to the next page with the picture that it stands above. */
static void keep_together(struct pages *pages, const struct print_block *block, const struct print_block *next)
{
    if (block->kind == PRINT_HEADING && next->kind == PRINT_PICTURE) {
        make_room(pages, fmin(next->picture->height + 70, bottom(pages) - margin));
    }
}

static size_t draw_from(struct pages *pages, size_t at);

/* Height of those blocks on one endless page. */
static double measure(const struct pages *pages, size_t first, size_t count)
{
    static const double endless = 1e9;
    struct canvas none = canvas_none();
    struct pages trial = *pages;
    trial.canvas = &none;
    trial.arena = arena_new();
    trial.height = endless;
    trial.y = margin + 1;
    for (size_t at = first; at < first + count;) {
        at = draw_from(&trial, at);
    }
    arena_free(trial.arena);
    return trial.y - margin - 1;
}

/* One that no page holds begins on a new one where little of this is left, and says on each further page what it is. */
static void draw_group(struct pages *pages, size_t group)
{
    const struct print_block *block = &pages->document->blocks[group];
    const double height = measure(pages, group + 1, block->lines);
    const double page = bottom(pages) - margin;
    const double left = bottom(pages) - pages->y;
    const char *outer = pages->carry_on;
    if (height > left && pages->y > margin && (height <= page || left < page / 3)) {
        next_page(pages);
    }
    pages->pending = block->string == NULL ? pages->pending : block->string;
    for (size_t at = group + 1; at <= group + block->lines;) {
        at = draw_from(pages, at);
    }
    pages->pending = block->string == NULL ? pages->pending : NULL;
    pages->carry_on = block->string == NULL ? pages->carry_on : outer;
}

/* Draws the block, with all of its group; the next one's place. */
static size_t draw_from(struct pages *pages, size_t at)
{
    const struct print_document *document = pages->document;
    const struct print_block *block = &document->blocks[at];
    struct arena *outer = pages->arena;
    pages->arena = arena_new();
    if (at + 1 < document->block_count) {
        keep_together(pages, block, block + 1);
    }
    if (block->kind == PRINT_TOGETHER) {
        draw_group(pages, at);
    } else if (!block->screen) {
        draw_block(pages, block);
        set_begun(pages);
    }
    arena_free(pages->arena);
    pages->arena = outer;
    return at + 1 + (block->kind == PRINT_TOGETHER ? block->lines : 0);
}

static void draw_title(struct pages *pages)
{
    struct text title = {0};
    text_printf(&title, "%s: %s", pages->document->house, pages->document->title);
    if (pages->document->house[0] != '\0') {
        draw_heading(pages, &(struct print_block){.level = 1, .string = text_string(&title)});
    }
    text_done(&title);
}

static size_t lay_out(const struct print_document *document, struct canvas *canvas, size_t all)
{
    struct pages pages = {.document = document,
                          .canvas = canvas,
                          .arena = arena_new(),
                          .all = all,
                          .width = print_width(document->paper),
                          .height = print_height(document->paper)};
    pages.foot_room = measure_foot(&pages);
    next_page(&pages);
    draw_title(&pages);
    for (size_t at = 0; at < document->block_count;) {
        at = draw_from(&pages, at);
    }
    end_page(&pages);
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
