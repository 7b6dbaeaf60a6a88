/* Text on pages: headings, paragraphs, lists, cautions in a box, and what is written on by hand. */
#include <math.h>

#include "pages.h"

enum { FEW = 3, LINES_LEAST = 4 };

static const double small_share = 0.9;
static const double head_room = 60;   /* below a title */
static const double usual_write = 24; /* from line to line that is written on */

static const struct print_block *block_at(const struct pages *pages, size_t at)
{
    return &pages->document->blocks[at];
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
    const double height = pages_line_height(pages, font);
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
        pages_begun(pages);
    }
    canvas_tag_end(pages->canvas);
}

static double lines_height(const struct pages *pages, struct canvas_font font, double width, const char *string)
{
    const struct canvas_lines lines = canvas_wrap(font, width, (size_t)-1, string, pages->arena);
    return (double)lines.count * pages_line_height(pages, font);
}

/* ------------------------------------------------------------------ headings ------------------------------ */

static double heading_size(const struct pages *pages, int level)
{
    return level <= 1 ? (walk_is_titled(pages->document) ? 17 : 12.5) : level == 2 ? 12.5 : 10;
}

static double space_before(const struct pages *pages, int level)
{
    return level <= 1 ? 0 : level == 2 ? 14 : pages_space(pages, 8);
}

double least_heading(const struct pages *pages, size_t at)
{
    const int level = block_at(pages, at)->level;
    return space_before(pages, level) + 2 * heading_size(pages, level) + pages_least(pages, at + 1);
}

/* Never alone at the foot: with the least of what follows it. */
static void heading(struct pages *pages, int level, const char *string, double following)
{
    static const char *const tags[] = {"H1", "H1", "H2", "H3"};
    const struct canvas_font font = pages_font(pages, heading_size(pages, level), true);
    const double before = space_before(pages, level);
    const double whole = before + 2 * font.size + following;
    pages_make_room(pages, fmin(whole, pages_bottom(pages) - page_margin));
    pages->y += pages->y > page_margin ? before : 0;
    canvas_heading(pages->canvas, (unsigned)level, string, pages->y);
    flow(pages, tags[level], page_margin, pages_width(pages), font, string);
    pages->below_head = pages->below_head || (level == 1 && !walk_is_titled(pages->document));
    if (level == 2) {
        canvas_line(pages->canvas, page_margin, pages->y, pages->width - page_margin, pages->y, page_rule);
    }
    pages->y += pages_space(pages, page_gap);
}

void draw_heading(struct pages *pages, size_t at)
{
    const struct print_block *block = block_at(pages, at);
    heading(pages, block->level, block->string, block->level == 1 ? head_room : pages_least(pages, at + 1));
}

void pages_title(struct pages *pages)
{
    struct text title = {0};
    walk_title(pages->document, &title);
    if (walk_is_titled(pages->document)) {
        heading(pages, 1, text_string(&title), head_room);
    }
    text_done(&title);
}

void pages_carry_on(struct pages *pages)
{
    const struct canvas_font font = pages_font(pages, page_body_size * small_share, false);
    canvas_tag(pages->canvas, "P");
    canvas_text(pages->canvas, page_margin, pages->y + font.size, CANVAS_START, font, pages->carry_on);
    canvas_tag_end(pages->canvas);
    pages->y += pages_line_height(pages, font) + page_gap;
}

/* ------------------------------------------------------------------ paragraphs ---------------------------- */

/* A short paragraph leads to what follows it. */
double least_text(const struct pages *pages, size_t at)
{
    const struct print_block *block = block_at(pages, at);
    const double line = pages_line_height(pages, pages_body(pages, false));
    const double height = lines_height(pages, pages_body(pages, false), pages_width(pages), block->string);
    const bool leads = height < (FEW + 0.5) * line && block->kind == PRINT_PARAGRAPH;
    return leads ? height + page_gap + pages_least(pages, at + 1) : fmin(height, FEW * line) + 2 * line;
}

void draw_paragraph(struct pages *pages, size_t at)
{
    const struct print_block *block = block_at(pages, at);
    const double size = block->style == PRINT_SMALL ? page_body_size * small_share : page_body_size;
    flow(pages, "P", page_margin + block->indent, pages_width(pages) - block->indent,
         pages_font(pages, size, block->style == PRINT_STRONG), block->string);
    pages->y += pages_space(pages, page_gap);
}

/* A list begins and ends with a run of items. */
void draw_item(struct pages *pages, size_t at)
{
    const struct print_block *block = block_at(pages, at);
    const double indent = 12;
    const double width = pages_width(pages) - indent;
    const char *lead = block->lead == NULL ? "" : block->lead;
    const struct canvas_font body_font = pages_body(pages, false);
    const struct canvas_font body_bold = pages_body(pages, true);
    const double whole =
        lines_height(pages, body_bold, width, lead) + lines_height(pages, body_font, width, block->string);
    pages_make_room(pages, fmin(whole, 200)); /* together unless it is very long */
    if (walk_begins_list(pages->document, at, ON_PAPER)) {
        canvas_tag(pages->canvas, "L");
    }
    canvas_tag(pages->canvas, "LI");
    canvas_tag(pages->canvas, "LBody");
    canvas_circle(pages->canvas, page_margin + 4, pages->y + body_font.size * 0.65, 1.6, true, 0);
    flow(pages, "P", page_margin + indent, width, body_bold, lead);
    flow(pages, "P", page_margin + indent, width, body_font, block->string);
    canvas_tag_end(pages->canvas);
    canvas_tag_end(pages->canvas);
    if (walk_ends_list(pages->document, at, ON_PAPER)) {
        canvas_tag_end(pages->canvas);
    }
    pages->y += pages_space(pages, 3);
}

void draw_caution(struct pages *pages, size_t at)
{
    const struct print_block *block = block_at(pages, at);
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

/* ------------------------------------------------------------------ written on by hand -------------------- */

/* The blank stands behind the label's last line, or below it where that leaves too little. */
void draw_field(struct pages *pages, size_t at)
{
    const struct print_block *block = block_at(pages, at);
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
    pages_make_room(pages, pages_line_height(pages, font) * (double)(lines.count + below));
    flow(pages, "P", left, right - left, font, block->string);
    const double base = pages->y - pages_line_height(pages, font) * (below ? 0 : 1) + font.size + 2;
    const double from = below ? left : left + last + 6;
    canvas_line(pages->canvas, from, base, from + blank, base, (struct canvas_pen){stroke, CANVAS_SOLID});
    pages->y += (below ? pages_line_height(pages, font) : 0) + page_gap;
}

static double lines_gap(const struct pages *pages)
{
    return pages->document->look.write > 0 ? pages->document->look.write : usual_write;
}

/* A report's fill what is left of the page, where that is enough. */
static size_t count_lines(const struct pages *pages, size_t most)
{
    const double room = pages_bottom(pages) - pages->y;
    if (!walk_is_titled(pages->document) || room < LINES_LEAST * lines_gap(pages) ||
        room >= lines_gap(pages) * (double)most) {
        return most;
    }
    return (size_t)(room / lines_gap(pages));
}

double least_lines(const struct pages *pages, size_t at)
{
    (void)at;
    return LINES_LEAST * lines_gap(pages);
}

void draw_lines(struct pages *pages, size_t at)
{
    const size_t count = count_lines(pages, block_at(pages, at)->lines);
    pages_make_room(pages, fmin(lines_gap(pages) * (double)count, pages_bottom(pages) - page_margin));
    for (size_t i = 0; i < count; i++) {
        pages_make_room(pages, lines_gap(pages));
        pages->y += lines_gap(pages);
        canvas_line(pages->canvas, page_margin, pages->y, pages->width - page_margin, pages->y, page_hair);
    }
    pages->y += 6;
}
