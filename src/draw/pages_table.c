/* A table page by page: its head again on each page, a group's line too, narrow ones in two halves side by side. */
#include <math.h>

#include "pages.h"

enum { CELL_LINES_MOST = 14, HALVES = 2, ROWS_KEPT = 2 };

static const double usual_gap = 9; /* between cells */
static const double small_gap = 5; /* of many columns in half a page */
static const double row_pad = 3;
static const double caption_height = 15;
static const double half_gap = 22;

/* Where rows stand. */
struct strip {
    double x;
    double width;
};

/* A table at work. */
struct sheet {
    struct pages *pages;
    struct print_table *table;
    struct canvas_font font;
    struct strip strip;
    double *width; /* of each column */
    size_t group;  /* the row that heads the group at work; no_row: none */
    bool has_groups;
};

static const size_t no_row = (size_t)-1;

static struct canvas_font table_font(const struct pages *pages, const struct print_table *table, bool bold)
{
    return pages_font(pages, table->ruled ? page_hand_size : page_cell_size, bold);
}

static double cell_gap(const struct print_table *table)
{
    enum { MANY = 6 };
    return table->halves && table->column_count > MANY ? small_gap : usual_gap;
}

/* ------------------------------------------------------------------ rows ---------------------------------- */

static bool is_group(const struct print_table *table, size_t row)
{
    return print_group_name(table, row) != NULL;
}

/* Below what was drawn. */
static void end_row(const struct sheet *sheet, double height, struct canvas_pen pen)
{
    struct pages *pages = sheet->pages;
    pages->y += height;
    canvas_line(pages->canvas, sheet->strip.x, pages->y, sheet->strip.x + sheet->strip.width, pages->y, pen);
    canvas_tag_end(pages->canvas);
}

/* `head`: its cells are heads. Returns the lines of the highest. */
static size_t draw_cells(const struct sheet *sheet, const char *const *cells, bool head, struct arena *arena)
{
    struct pages *pages = sheet->pages;
    const struct canvas_font font = table_font(pages, sheet->table, head);
    double x = sheet->strip.x;
    size_t most = 1;
    for (size_t i = 0; i < sheet->table->column_count; i++) {
        const double width = sheet->width[i];
        const bool right = sheet->table->columns[i].right;
        const struct canvas_lines lines = canvas_wrap(font, width, CELL_LINES_MOST, cells[i], arena);
        canvas_tag(pages->canvas, head || (i == 0 && !sheet->table->ruled) ? "TH" : "TD");
        canvas_text_lines(pages->canvas, right ? x + width : x, pages->y + font.size + 1,
                          right ? CANVAS_END : CANVAS_START, font, lines);
        canvas_tag_end(pages->canvas);
        x += width + cell_gap(sheet->table);
        most = lines.count > most ? lines.count : most;
    }
    return most;
}

static void draw_cell_row(const struct sheet *sheet, const char *const *cells, bool head)
{
    static const double ruled_least = 22;
    struct pages *pages = sheet->pages;
    struct arena *arena = arena_new();
    canvas_tag(pages->canvas, "TR");
    const size_t lines = draw_cells(sheet, cells, head, arena);
    const double height = (double)lines * canvas_line_height(table_font(pages, sheet->table, head)) +
                          pages_space(pages, row_pad); /* as canvas_text_lines draws */
    end_row(sheet, sheet->table->ruled ? fmax(height, ruled_least) : height, head ? page_rule : page_hair);
    arena_free(arena);
}

/* The line of a group: its name in bold, then what is said of it, below where both are too long for a line. */
static void draw_group_row(const struct sheet *sheet, size_t row, bool again)
{
    struct pages *pages = sheet->pages;
    struct arena *arena = arena_new();
    const struct canvas_font bold = table_font(pages, sheet->table, true);
    const double base = pages->y + bold.size + 1 + pages_space(pages, row_pad);
    const char *name = print_group_name(sheet->table, row);
    const char *note = again ? "" : print_group_note(sheet->table, row);
    if (again) {
        name = arena_printf(arena, "%s (%s)", name, pages->document->words.continued);
    } else {
        canvas_heading(pages->canvas, 3, name, pages->y);
    }
    const double behind = canvas_text_width(bold, name) + 8;
    const bool below = behind + canvas_text_width(sheet->font, note) > sheet->strip.width;
    const double x = below ? 0 : behind;
    const struct canvas_lines names = canvas_wrap(bold, sheet->strip.width, CELL_LINES_MOST, name, arena);
    const struct canvas_lines notes = canvas_wrap(sheet->font, sheet->strip.width - x, CELL_LINES_MOST, note, arena);
    canvas_tag(pages->canvas, "TR");
    canvas_tag(pages->canvas, "TH");
    const double height = canvas_text_lines(pages->canvas, sheet->strip.x, base, CANVAS_START, bold, names);
    canvas_text_lines(pages->canvas, sheet->strip.x + x, base + (below ? height : 0), CANVAS_START, sheet->font, notes);
    canvas_tag_end(pages->canvas);
    const size_t lines = names.count + (below ? notes.count : 0);
    end_row(sheet, (double)lines * canvas_line_height(bold) + pages_space(pages, 2 * row_pad), page_hair);
    arena_free(arena);
}

static void draw_row(struct sheet *sheet, size_t row)
{
    if (is_group(sheet->table, row)) {
        draw_group_row(sheet, row, false);
        sheet->group = row;
    } else {
        draw_cell_row(sheet, sheet->table->cells + row * sheet->table->column_count, false);
    }
}

/* ------------------------------------------------------------------ heads --------------------------------- */

static void draw_caption(const struct sheet *sheet, bool again)
{
    struct pages *pages = sheet->pages;
    struct text caption = {0};
    text_add(&caption, sheet->table->caption);
    if (again) {
        text_printf(&caption, " (%s)", pages->document->words.continued);
    }
    if (caption.length > 0) {
        canvas_tag(pages->canvas, "Caption");
        canvas_text_fit(pages->canvas, page_margin, pages->y + 10, pages_width(pages), CANVAS_START,
                        pages_body(pages, true), text_string(&caption));
        canvas_tag_end(pages->canvas);
        pages->y += caption_height;
    }
    text_done(&caption);
}

static void draw_heads(const struct sheet *sheet)
{
    struct arena *arena = arena_new();
    const char **cells = arena_array(arena, sheet->table->column_count, sizeof *cells);
    for (size_t i = 0; i < sheet->table->column_count; i++) {
        cells[i] = sheet->table->columns[i].heading;
    }
    draw_cell_row(sheet, cells, true);
    sheet->pages->y += 1;
    arena_free(arena);
}

/* ------------------------------------------------------------------ heights ------------------------------- */

/* Of a row, or, for no_row, the columns' headings: what drawing it would take. */
static double row_height(const struct sheet *sheet, size_t row)
{
    struct canvas none = canvas_none();
    struct pages pages = *sheet->pages;
    struct sheet trial = *sheet;
    trial.pages = &pages;
    pages.canvas = &none;
    pages.y = 0;
    if (row == no_row) {
        draw_heads(&trial);
    } else {
        draw_row(&trial, row);
    }
    return pages.y;
}

static struct sheet sheet_of(struct pages *pages, struct print_table *table)
{
    const double half = (pages_width(pages) - half_gap) / HALVES;
    const double width = table->halves ? half : pages_width(pages);
    const double gaps = cell_gap(table) * (double)(table->column_count - 1);
    return (struct sheet){.pages = pages,
                          .table = table,
                          .font = table_font(pages, table, false),
                          .strip = {page_margin, width},
                          .width = pages_columns(pages, table, table_font(pages, table, false).size, width - gaps),
                          .group = no_row,
                          .has_groups = print_row_count(table) > 0 && is_group(table, 0)};
}

/* Of its head with its first rows, below which it does not begin. */
static double table_least(const struct pages *pages, struct print_table *table)
{
    struct pages trial = *pages;
    const struct sheet sheet = sheet_of(&trial, table);
    double height = (table->caption[0] == '\0' ? 0 : caption_height) + row_height(&sheet, no_row);
    size_t kept = ROWS_KEPT;
    for (size_t row = 0; row < print_row_count(table) && row < kept; row++) {
        height += row_height(&sheet, row);
        kept += is_group(table, row);
    }
    return height;
}

/* ------------------------------------------------------------------ whole --------------------------------- */

/* To a further page, whose foot and pictures are no part of the table: to those who hear it, it goes on as another. */
static void turn(const struct sheet *sheet, double height)
{
    canvas_tag_end(sheet->pages->canvas);
    pages_next_for(sheet->pages, height);
    canvas_tag(sheet->pages->canvas, "Table");
}

static void draw_group_again(struct sheet *sheet, size_t row)
{
    if (sheet->group != no_row && !is_group(sheet->table, row)) {
        draw_group_row(sheet, sheet->group, true);
    }
}

/* Again on a further page: caption, heads, and the group that goes on. */
static void draw_again(struct sheet *sheet, size_t row)
{
    draw_caption(sheet, true);
    draw_heads(sheet);
    draw_group_again(sheet, row);
}

/* The line of a group is never the last of a page, nor the last row the first of one. */
static double kept_height(const struct sheet *sheet, size_t row)
{
    const size_t count = print_row_count(sheet->table);
    const bool alone = row + 1 == count || (row + 2 != count && !is_group(sheet->table, row));
    return row_height(sheet, row) + (alone ? 0 : kept_height(sheet, row + 1));
}

static void draw_whole(struct sheet *sheet)
{
    draw_caption(sheet, false);
    draw_heads(sheet);
    for (size_t row = 0; row < print_row_count(sheet->table); row++) {
        if (!pages_fit(sheet->pages, kept_height(sheet, row))) {
            turn(sheet, table_least(sheet->pages, sheet->table) + kept_height(sheet, row));
            draw_again(sheet, row);
        }
        draw_row(sheet, row);
    }
}

/* ------------------------------------------------------------------ halves -------------------------------- */

/* The group's line above a half that goes on with it. */
static double again_height(const struct sheet *sheet, size_t row)
{
    const bool goes_on =
        row > 0 && row < print_row_count(sheet->table) && !is_group(sheet->table, row) && sheet->has_groups;
    return goes_on ? canvas_line_height(sheet->font) + pages_space(sheet->pages, 2 * row_pad) : 0;
}

/* Rows from `row` on that a height holds, at least one; the line of a group is not the last. */
static size_t rows_in(const struct sheet *sheet, size_t row, double height)
{
    const size_t all = print_row_count(sheet->table);
    double sum = again_height(sheet, row);
    size_t count = 0;
    while (row + count < all) {
        sum += row_height(sheet, row + count);
        if (sum > height + 1e-6 && count > 0) {
            break;
        }
        count++;
    }
    return count > 1 && row + count < all && is_group(sheet->table, row + count - 1) ? count - 1 : count;
}

static double rows_height(const struct sheet *sheet, size_t from, size_t to)
{
    double sum = again_height(sheet, from);
    for (size_t i = from; i < to; i++) {
        sum += row_height(sheet, i);
    }
    return sum;
}

/* Rows of the left half: as many as fit, or, where the rest fits beside them, half the height. */
static size_t rows_left(const struct sheet *sheet, size_t row, double height)
{
    const size_t all = print_row_count(sheet->table);
    const size_t left = rows_in(sheet, row, height);
    if (row + left + rows_in(sheet, row + left, height) < all) {
        return left;
    }
    for (size_t count = 1; count < left; count++) {
        const size_t at = row + count;
        if (!is_group(sheet->table, at - 1) &&
            rows_height(sheet, at, all) <= fmin(height, rows_height(sheet, row, at))) {
            return count;
        }
    }
    return left;
}

static void draw_half(struct sheet *sheet, size_t from, size_t count)
{
    draw_heads(sheet);
    draw_group_again(sheet, from);
    for (size_t row = from; row < from + count; row++) {
        draw_row(sheet, row);
    }
}

static void draw_halves(struct sheet *sheet)
{
    struct pages *pages = sheet->pages;
    const size_t all = print_row_count(sheet->table);
    const struct strip left = {page_margin, (pages_width(pages) - half_gap) / HALVES};
    const struct strip right = {page_margin + left.width + half_gap, left.width};
    for (size_t row = 0; row < all;) {
        sheet->strip = left;
        if (row > 0) {
            turn(sheet, table_least(pages, sheet->table));
        }
        draw_caption(sheet, row > 0);
        const double top = pages->y;
        const double height = pages_bottom(pages) - top - row_height(sheet, no_row);
        const size_t first = rows_left(sheet, row, height);
        draw_half(sheet, row, first);
        const double end = pages->y;
        row += first;
        sheet->strip = right;
        if (row < all) {
            const size_t second = rows_in(sheet, row, height);
            pages->y = top;
            draw_half(sheet, row, second);
            row += second;
        }
        pages->y = fmax(end, pages->y);
    }
}

/* ------------------------------------------------------------------ both ---------------------------------- */

double least_table(const struct pages *pages, size_t at)
{
    return table_least(pages, pages->document->blocks[at].table);
}

void draw_table(struct pages *pages, size_t at)
{
    struct print_table *table = pages->document->blocks[at].table;
    struct sheet sheet = sheet_of(pages, table);
    pages_make_room(pages, fmin(table_least(pages, table), pages_bottom(pages) - page_margin));
    canvas_tag(pages->canvas, "Table");
    if (table->halves) {
        draw_halves(&sheet);
    } else {
        draw_whole(&sheet);
    }
    canvas_tag_end(pages->canvas);
    pages->y += pages_space(pages, 9);
}
