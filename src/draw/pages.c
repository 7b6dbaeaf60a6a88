/* The document page by page. */
#include <math.h>
#include <string.h>

#include "pages.h"

enum { FOOT_LINES_MOST = 4, LINES_LEAST = 4 };

static const double foot_space = 46; /* from the lower edge */
static const double foot_edge = 28;  /* below the foot's last line */
static const double above_foot = 7;  /* its line keeps clear of what stands on the page */
static const double paragraph_gap = 5;
static const double body_size = 9;
static const double foot_size = 7;
static const double small_share = 0.9;
static const double usual_write = 24;  /* from line to line that is written on */
static const double column_gap = 16;   /* between two pictures side by side */
static const double head_room = 60;    /* below a title */
static const double beside_least = 22; /* of the width beside a picture, letters of the text */

double pages_width(const struct pages *pages)
{
    return pages->width - 2 * page_margin - pages->beside;
}

/* A size of the report in this document's look. */
struct canvas_font pages_font(const struct pages *pages, double size, bool bold)
{
    const struct print_look *look = &pages->document->look;
    const double scale = look->text > 0 ? look->text / body_size : 1;
    return (struct canvas_font){fmax(size * scale, look->least), bold};
}

struct canvas_font pages_body(const struct pages *pages, bool bold)
{
    return pages_font(pages, body_size, bold);
}

static double line_height(const struct pages *pages, struct canvas_font font)
{
    const double gap = pages->document->look.line_gap;
    return gap > 0 ? font.size * gap : canvas_line_height(font);
}

/* A space between lines in this document's look. */
double pages_space(const struct pages *pages, double points)
{
    return pages->document->look.space > 0 ? points * pages->document->look.space : points;
}

static double lines_gap(const struct pages *pages)
{
    return pages->document->look.write > 0 ? pages->document->look.write : usual_write;
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

/* ------------------------------------------------------------------ pictures ------------------------------ */

/* A report's pictures have their titles; what a sheet's are of its own words say. */
static bool is_titled(const struct pages *pages)
{
    return pages->document->house[0] != '\0';
}

static double picture_height(const struct pages *pages, const struct picture *picture)
{
    return fmin(picture->height + (is_titled(pages) ? 30 : 8), pages_bottom(pages) - page_margin);
}

/* At x, with its title above; none where the document's own words say what it is of. Returns the height of both. */
static double draw_picture_at(struct pages *pages, const struct picture *picture, double x, double width)
{
    enum { TITLE_LINES_MOST = 2 };
    const struct canvas_font bold = pages_body(pages, true);
    double caption = 0;
    if (is_titled(pages)) {
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

/* The block after that one which paper shows. */
static size_t next_shown(const struct print_document *document, size_t at)
{
    do {
        at++;
    } while (at < document->block_count && document->blocks[at].screen);
    return at;
}

/* Whether two narrow pictures follow one another from there on: they stand side by side. */
static bool is_pair(const struct pages *pages, size_t at)
{
    const struct print_document *document = pages->document;
    const size_t next = next_shown(document, at);
    return next < document->block_count && document->blocks[at].kind == PRINT_PICTURE &&
           document->blocks[next].kind == PRINT_PICTURE && document->blocks[at].picture->width <= half_width(pages) &&
           document->blocks[next].picture->width <= half_width(pages);
}

/* Draws the picture of that block, or it and the next. */
static void draw_pictures(struct pages *pages, size_t at)
{
    const struct print_block *blocks = pages->document->blocks;
    if (!is_pair(pages, at)) {
        pages->y += draw_picture_at(pages, blocks[at].picture, page_margin, pages_width(pages));
    } else {
        const size_t next = next_shown(pages->document, at);
        const double width = half_width(pages);
        const double left = draw_picture_at(pages, blocks[at].picture, page_margin, width);
        const double right = draw_picture_at(pages, blocks[next].picture, page_margin + width + column_gap, width);
        pages->y += fmax(left, right);
    }
    pages->y += is_titled(pages) ? 10 : 6;
}

static double pictures_height(const struct pages *pages, size_t at)
{
    const struct print_block *blocks = pages->document->blocks;
    const double height = picture_height(pages, blocks[at].picture);
    return is_pair(pages, at)
               ? 10 + fmax(height, picture_height(pages, blocks[next_shown(pages->document, at)].picture))
               : height;
}

/* As many of the pictures put off as the page holds, the first in any case. */
static void draw_floating(struct pages *pages)
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
        const struct canvas_font font = pages_font(pages, body_size * small_share, false);
        canvas_tag(pages->canvas, "P");
        canvas_text(pages->canvas, page_margin, pages->y + font.size, CANVAS_START, font, pages->carry_on);
        canvas_tag_end(pages->canvas);
        pages->y += line_height(pages, font) + paragraph_gap;
    }
    draw_floating(pages);
}

const void *pages_kept(const struct pages *pages, const struct print_table *table)
{
    return pages->keep[table->number];
}

void pages_keep(struct pages *pages, const struct print_table *table, const void *what)
{
    pages->keep[table->number] = what;
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

/* ------------------------------------------------------------------ texts --------------------------------- */

/* Something of the group is drawn: now it can go on. */
static void set_begun(struct pages *pages)
{
    pages->carry_on = pages->pending == NULL ? pages->carry_on : pages->pending;
    pages->pending = NULL;
}

/* With a blank behind it where it goes on: who hears the text hears two words. */
static void draw_line_of(struct pages *pages, double x, struct canvas_font font, const char *line, bool goes_on)
{
    struct text text = {0};
    text_printf(&text, "%s%s", line, goes_on ? " " : "");
    canvas_text(pages->canvas, x, pages->y + font.size, CANVAS_START, font, text_string(&text));
    text_done(&text);
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
    if (string[0] == '\0') {
        return;
    }
    canvas_tag(pages->canvas, tag);
    for (size_t i = 0; i < lines.count; i++) {
        const size_t kept = lines.count <= FEW && i == 0 ? lines.count : i == 0 || i + 2 == lines.count ? 2 : 1;
        if (!pages_fit(pages, height * (double)kept)) {
            canvas_tag_end(pages->canvas);
            pages_next_for(pages, height * (double)kept);
            canvas_tag(pages->canvas, tag);
        }
        draw_line_of(pages, x, font, lines.line[i], i + 1 < lines.count);
        pages->y += height;
        set_begun(pages);
    }
    canvas_tag_end(pages->canvas);
}

static double lines_height(const struct pages *pages, struct canvas_font font, double width, const char *string)
{
    const struct canvas_lines lines = canvas_wrap(font, width, (size_t)-1, string, pages->arena);
    return (double)lines.count * line_height(pages, font);
}

static double heading_size(const struct pages *pages, int level)
{
    const bool own = pages->document->house[0] == '\0'; /* a sheet's own title, not a report's */
    return level <= 1 ? (own ? 12.5 : 17) : level == 2 ? 12.5 : 10;
}

static double space_before(const struct pages *pages, int level)
{
    return level <= 1 ? 0 : level == 2 ? 14 : pages_space(pages, 8);
}

/*
 * Height without which what begins with that block would leave a heading, or what leads to a table, alone at a page's
 * foot.
 */
static double least(const struct pages *pages, size_t at)
{
    enum { FEW = 3 };
    const struct print_document *document = pages->document;
    if (at >= document->block_count) {
        return 0;
    }
    const struct print_block *block = &document->blocks[at];
    const double line = line_height(pages, pages_body(pages, false));
    if (block->screen || block->kind == PRINT_TOGETHER) {
        return least(pages, at + 1);
    }
    switch (block->kind) {
    case PRINT_HEADING:
        return space_before(pages, block->level) + 2 * heading_size(pages, block->level) + least(pages, at + 1);
    case PRINT_PARAGRAPH:
    case PRINT_ITEM:
    case PRINT_CAUTION: {
        const double height = lines_height(pages, pages_body(pages, false), pages_width(pages), block->string);
        const bool leads = height < (FEW + 0.5) * line && block->kind == PRINT_PARAGRAPH;
        return leads ? height + paragraph_gap + least(pages, at + 1) : fmin(height, FEW * line) + 2 * line;
    }
    case PRINT_TABLE:
        return pages_table_least(pages, block->table);
    case PRINT_PICTURE:
        return picture_height(pages, block->picture);
    case PRINT_LINES:
        return LINES_LEAST * lines_gap(pages);
    default:
        return 0;
    }
}

static void draw_heading(struct pages *pages, const struct print_block *block)
{
    static const char *const tags[] = {"H1", "H1", "H2", "H3"};
    const struct canvas_font font = pages_font(pages, heading_size(pages, block->level), true);
    const double before = space_before(pages, block->level);
    const size_t next = (size_t)(block - pages->document->blocks) + 1;
    const double whole = before + 2 * font.size + (block->level == 1 ? head_room : least(pages, next));
    pages_make_room(pages, fmin(whole, pages_bottom(pages) - page_margin)); /* never alone at the foot */
    pages->y += pages->y > page_margin ? before : 0;
    canvas_heading(pages->canvas, (unsigned)block->level, block->string, pages->y);
    flow(pages, tags[block->level], page_margin, pages_width(pages), font, block->string);
    pages->below_head = pages->below_head || (block->level == 1 && !is_titled(pages));
    if (block->level == 2) {
        canvas_line(pages->canvas, page_margin, pages->y, pages->width - page_margin, pages->y, page_rule);
    }
    pages->y += pages_space(pages, paragraph_gap);
}

/* Whether paper shows an item there. */
static bool is_item(const struct print_document *document, size_t at)
{
    return at < document->block_count && document->blocks[at].kind == PRINT_ITEM && !document->blocks[at].screen;
}

/* A list begins and ends with a run of items. */
static void draw_item(struct pages *pages, const struct print_block *block)
{
    const struct print_document *document = pages->document;
    const size_t at = (size_t)(block - document->blocks);
    const double indent = 12;
    const double width = pages_width(pages) - indent;
    const char *lead = block->lead == NULL ? "" : block->lead;
    const struct canvas_font body_font = pages_body(pages, false);
    const struct canvas_font body_bold = pages_body(pages, true);
    const double whole =
        lines_height(pages, body_bold, width, lead) + lines_height(pages, body_font, width, block->string);
    pages_make_room(pages, fmin(whole, 200)); /* together unless it is very long */
    if (at == 0 || !is_item(document, at - 1)) {
        canvas_tag(pages->canvas, "L");
    }
    canvas_tag(pages->canvas, "LI");
    canvas_tag(pages->canvas, "LBody");
    canvas_circle(pages->canvas, page_margin + 4, pages->y + body_font.size * 0.65, 1.6, true, 0);
    flow(pages, "P", page_margin + indent, width, body_bold, lead);
    flow(pages, "P", page_margin + indent, width, body_font, block->string);
    canvas_tag_end(pages->canvas);
    canvas_tag_end(pages->canvas);
    if (!is_item(document, at + 1)) {
        canvas_tag_end(pages->canvas);
    }
    pages->y += pages_space(pages, 3);
}

static void draw_caution(struct pages *pages, const struct print_block *block)
{
    const double pad = 4;
    const double width = pages_width(pages) - 2 * pad;
    const struct canvas_font body_font = pages_body(pages, false);
    const struct canvas_font body_bold = pages_body(pages, true);
    const struct canvas_lines lead =
        canvas_wrap(body_bold, width, 4, block->lead == NULL ? "" : block->lead, pages->arena);
    const struct canvas_lines lines = canvas_wrap(body_font, width, 40, block->string, pages->arena);
    const double height = (double)(lead.count + lines.count) * canvas_line_height(body_font) + 2 * pad;
    pages_make_room(pages, height + 4);
    canvas_rectangle(pages->canvas, page_margin, pages->y, pages_width(pages), height, CANVAS_CLEAR, 1.2);
    double y = pages->y + pad + body_font.size;
    canvas_tag(pages->canvas, "P");
    y += canvas_text_lines(pages->canvas, page_margin + pad, y, CANVAS_START, body_bold, lead);
    canvas_text_lines(pages->canvas, page_margin + pad, y, CANVAS_START, body_font, lines);
    canvas_tag_end(pages->canvas);
    pages->y += height + 5;
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
    pages->beside_end = pages->y + height + paragraph_gap;
    pages->beside = picture->width + column_gap;
}

/*
 * A report's picture for which this page has no room waits for the next, and what comes after it goes on here. Returns
 * the place of what comes after it.
 */
static size_t draw_or_float(struct pages *pages, size_t at)
{
    const size_t after = is_pair(pages, at) ? next_shown(pages->document, at) + 1 : at + 1;
    if (stands_beside(pages, &pages->document->blocks[at])) {
        draw_beside(pages, pages->document->blocks[at].picture);
        return after;
    }
    const bool waits = pages->floating_count > 0 || !pages_fit(pages, pictures_height(pages, at));
    if (waits && is_titled(pages) && pages->y > page_margin && pages->floating_count < FLOATING_MOST) {
        pages->floating[pages->floating_count++] = at;
        return after;
    }
    pages_make_room(pages, pictures_height(pages, at));
    draw_pictures(pages, at);
    return after;
}

static void draw_paragraph(struct pages *pages, const struct print_block *block)
{
    const double size = block->style == PRINT_SMALL ? body_size * small_share : body_size;
    flow(pages, "P", page_margin + block->indent, pages_width(pages) - block->indent,
         pages_font(pages, size, block->style == PRINT_STRONG), block->string);
    pages->y += pages_space(pages, paragraph_gap);
}

/* The blank stands behind the label's last line, or below it where that leaves too little. */
static void draw_field(struct pages *pages, const struct print_block *block)
{
    const struct canvas_font font = pages_body(pages, false);
    static const double usual = 16; /* letters */
    static const double few = 8;    /* still hold a figure with its unit */
    const double left = page_margin + block->indent;
    const double right = page_margin + pages_width(pages);
    const struct canvas_lines lines = canvas_wrap(font, right - left, (size_t)-1, block->string, pages->arena);
    const double last = lines.count == 0 ? 0 : canvas_text_width(font, lines.line[lines.count - 1]);
    const bool below = left + last + 6 + few * font.size > right;
    const double blank = fmin(usual * font.size, below ? right - left : right - left - last - 6);
    const double stroke = fmax(pages->document->look.stroke, page_hair.width);
    pages_make_room(pages, line_height(pages, font) * (double)(lines.count + below));
    flow(pages, "P", left, right - left, font, block->string);
    const double base = pages->y - line_height(pages, font) * (below ? 0 : 1) + font.size + 2;
    const double from = below ? left : left + last + 6;
    canvas_line(pages->canvas, from, base, from + blank, base, (struct canvas_pen){stroke, CANVAS_SOLID});
    pages->y += (below ? line_height(pages, font) : 0) + paragraph_gap;
}

/* A report's fill what is left of the page, where that is enough. */
static size_t count_lines(const struct pages *pages, size_t most)
{
    const double room = pages_bottom(pages) - pages->y;
    if (!is_titled(pages) || room < LINES_LEAST * lines_gap(pages) || room >= lines_gap(pages) * (double)most) {
        return most;
    }
    return (size_t)(room / lines_gap(pages));
}

static void draw_lines(struct pages *pages, size_t most)
{
    const size_t count = count_lines(pages, most);
    pages_make_room(pages, fmin(lines_gap(pages) * (double)count, pages_bottom(pages) - page_margin));
    for (size_t i = 0; i < count; i++) {
        pages_make_room(pages, lines_gap(pages));
        pages->y += lines_gap(pages);
        canvas_line(pages->canvas, page_margin, pages->y, pages->width - page_margin, pages->y, page_hair);
    }
    pages->y += 6;
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
        pages_table(pages, block->table);
        break;
    case PRINT_PICTURE: /* draw_or_float */
    case PRINT_LINES:
        draw_lines(pages, block->lines);
        break;
    case PRINT_FIELD:
        draw_field(pages, block);
        break;
    case PRINT_ROOM:
        end_beside(pages);
        pages->y += fmax(0, fmin(pages_room(pages, block), pages_bottom(pages) - pages->y));
        break;
    case PRINT_FOOT:
        set_foot(pages, block->string);
        break;
    case PRINT_PAGE:
        if (pages->y > page_margin) {
            pages_next(pages);
        }
        break;
    case PRINT_TOGETHER: /* pages_group */
        break;
    }
}

size_t pages_draw_from(struct pages *pages, size_t at)
{
    const struct print_document *document = pages->document;
    const struct print_block *block = &document->blocks[at];
    struct arena *outer = pages->arena;
    pages->arena = arena_new();
    size_t after = at + 1 + (block->kind == PRINT_TOGETHER ? block->lines : 0);
    if (block->kind == PRINT_TOGETHER) {
        pages_group(pages, at);
    } else if (block->kind == PRINT_PICTURE && !block->screen) {
        after = draw_or_float(pages, at);
        set_begun(pages);
    } else if (!block->screen) {
        draw_block(pages, block);
        set_begun(pages);
    }
    arena_free(pages->arena);
    pages->arena = outer;
    return after;
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
                          .kept = arena_new(),
                          .all = all,
                          .width = print_width(document->paper),
                          .height = print_height(document->paper)};
    pages.keep = arena_array(pages.kept, document->block_count, sizeof *pages.keep);
    pages.heights = arena_array(pages.kept, document->block_count, sizeof *pages.heights);
    pages.foot_room = measure_foot(&pages);
    pages_next(&pages);
    draw_title(&pages);
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
    text_printf(&title, "%s: %s", document->house, document->title);
    struct svg svg;
    struct canvas canvas =
        svg_open(&svg, text, print_width(document->paper), (double)count * height + (double)(count - 1) * SVG_PAGE_GAP,
                 "document", text_string(&title), document->sentence);
    lay_out(document, &canvas, count);
    svg_close(&svg);
    text_done(&title);
}
