/* A table page by page: its head again on each page, a group's line too, narrow ones in two halves side by side. */
#include <math.h>
#include <string.h>

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
    const struct print_table *table;
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

/* ------------------------------------------------------------------ widths -------------------------------- */

/* What a column would like to have, of a letter of size 1: for its cells on one line; its heading so, and on two. */
struct natural {
    double cells;
    double heading;
    double two_lines;
};

/* The narrowest that holds a heading on two lines. */
static double on_two_lines(struct canvas_font font, const char *heading, struct arena *arena)
{
    double least = canvas_text_width(font, heading);
    for (const char *blank = strchr(heading, ' '); blank != NULL; blank = strchr(blank + 1, ' ')) {
        char *first = arena_copy(arena, heading);
        first[blank - heading] = '\0';
        least = fmin(least, fmax(canvas_text_width(font, first), canvas_text_width(font, blank + 1)));
    }
    return least;
}

static const struct natural *measure(const struct print_table *table, struct arena *arena)
{
    static const struct canvas_font plain = {1, false};
    static const struct canvas_font bold = {1, true};
    struct natural *natural = arena_array(arena, table->column_count, sizeof *natural);
    for (size_t i = 0; i < table->column_count; i++) {
        natural[i].heading = canvas_text_width(bold, table->columns[i].heading);
        natural[i].two_lines = on_two_lines(bold, table->columns[i].heading, arena);
    }
    for (size_t at = 0; at < table->cell_count; at++) {
        const size_t column = at % table->column_count;
        if (column == 0 && print_group_name(table, at / table->column_count) != NULL) {
            at += table->column_count - 1;
            continue;
        }
        natural[column].cells = fmax(natural[column].cells, canvas_text_width(plain, table->cells[at]));
    }
    return natural;
}

/* Shares `room` out by weight among the columns that are left open (width below 0). */
static void share_out(const struct print_table *table, double room, double *width)
{
    double sum = 0;
    for (size_t i = 0; i < table->column_count; i++) {
        sum += width[i] < 0 ? table->columns[i].weight : 0;
    }
    for (size_t i = 0; i < table->column_count; i++) {
        width[i] = width[i] < 0 ? room * table->columns[i].weight / sum : width[i];
    }
}

/* Of what is left the headings get what they would like to stand on one line, as far as it goes; returns the rest. */
static double widen_headings(const struct print_table *table, const double *whole, double rest, double *width)
{
    double wanted = 0;
    for (size_t i = 0; i < table->column_count; i++) {
        wanted += fmax(0, whole[i] - width[i]);
    }
    const double share = wanted > 0 ? fmin(1, rest / wanted) : 0;
    for (size_t i = 0; i < table->column_count; i++) {
        width[i] += share * fmax(0, whole[i] - width[i]);
    }
    return rest - share * wanted;
}

/* Every column what it would like, headings the rest, words what is left then; false where there is too little. */
static bool give_all(const struct print_table *table, const double *wish, const double *whole, double room,
                     double *width)
{
    double rest = room;
    double weight = 0;
    bool words = false;
    for (size_t i = 0; i < table->column_count; i++) {
        width[i] = wish[i];
        rest -= wish[i];
        words = words || !table->columns[i].right;
    }
    if (rest < 0) {
        return false;
    }
    rest = widen_headings(table, whole, rest, width);
    for (size_t i = 0; i < table->column_count; i++) {
        weight += !words || !table->columns[i].right ? table->columns[i].weight : 0;
    }
    for (size_t i = 0; i < table->column_count; i++) {
        width[i] += !words || !table->columns[i].right ? rest * table->columns[i].weight / weight : 0;
    }
    return true;
}

/* Figures what they would like, and words too that take no more than their share; false where that leaves too little.
 */
static bool give_figures(const struct print_table *table, const double *wish, double room, double *width)
{
    double rest = room;
    double weight = 0;
    for (size_t i = 0; i < table->column_count; i++) {
        const bool right = table->columns[i].right;
        width[i] = right ? wish[i] : -1;
        rest -= right ? wish[i] : 0;
        weight += right ? 0 : table->columns[i].weight;
    }
    if (rest < room / 4 || weight <= 0) {
        return false;
    }
    for (size_t i = 0; i < table->column_count; i++) {
        const double share = rest * table->columns[i].weight / weight;
        if (width[i] < 0 && wish[i] <= share && weight > table->columns[i].weight) {
            width[i] = wish[i];
            rest -= wish[i];
            weight -= table->columns[i].weight;
            i = (size_t)-1; /* the others' shares have grown */
        }
    }
    share_out(table, rest, width);
    return true;
}

/* By what stands in the columns, in proportion where that is too wide; what is filled in by hand, by the weights. */
static double *column_widths(struct pages *pages, const struct print_table *table, double room)
{
    double *width = arena_array(pages->arena, table->column_count, sizeof *width);
    double *wish = arena_array(pages->arena, table->column_count, sizeof *wish);
    const struct natural *natural = pages_kept(pages, table);
    if (natural == NULL) {
        natural = measure(table, pages->kept);
        pages_keep(pages, table, natural);
    }
    double *whole = arena_array(pages->arena, table->column_count, sizeof *whole);
    const double size = table_font(pages, table, false).size;
    double wished = 0;
    for (size_t i = 0; i < table->column_count; i++) {
        wish[i] = size * fmax(natural[i].cells, natural[i].two_lines) + 0.1;
        whole[i] = size * natural[i].heading + 0.1;
        wished += wish[i];
    }
    if (!table->ruled && (give_all(table, wish, whole, room, width) || give_figures(table, wish, room, width))) {
        return width;
    }
    for (size_t i = 0; i < table->column_count; i++) {
        width[i] = table->ruled ? -1 : room * wish[i] / wished;
    }
    share_out(table, room, width);
    return width;
}

/* ------------------------------------------------------------------ rows ---------------------------------- */

/* A row's cells, wrapped; returns its height. */
static double wrap_row(const struct sheet *sheet, const char *const *cells, struct canvas_font font,
                       struct canvas_lines *ret_lines, struct arena *arena)
{
    size_t most = 1;
    for (size_t i = 0; i < sheet->table->column_count; i++) {
        const double width = sheet->width[i];
        ret_lines[i] = canvas_wrap(font, width, CELL_LINES_MOST, cells[i], arena);
        most = ret_lines[i].count > most ? ret_lines[i].count : most;
    }
    const double height =
        (double)most * canvas_line_height(font) + pages_space(sheet->pages, row_pad); /* as canvas_text_lines draws */
    return sheet->table->ruled ? fmax(height, 22) : height;
}

/* `head`: its cells are heads. */
static void draw_cells(const struct sheet *sheet, bool head, struct canvas_font font, const struct canvas_lines *lines)
{
    struct pages *pages = sheet->pages;
    double x = sheet->strip.x;
    canvas_tag(pages->canvas, "TR");
    for (size_t i = 0; i < sheet->table->column_count; i++) {
        const double width = sheet->width[i];
        const bool right = sheet->table->columns[i].right;
        canvas_tag(pages->canvas, head || (i == 0 && !sheet->table->ruled) ? "TH" : "TD");
        canvas_text_lines(pages->canvas, right ? x + width : x, pages->y + font.size + 1,
                          right ? CANVAS_END : CANVAS_START, font, lines[i]);
        canvas_tag_end(pages->canvas);
        x += width + cell_gap(sheet->table);
    }
    canvas_tag_end(pages->canvas);
}

static void draw_line(const struct sheet *sheet, struct canvas_pen pen)
{
    struct pages *pages = sheet->pages;
    canvas_line(pages->canvas, sheet->strip.x, pages->y, sheet->strip.x + sheet->strip.width, pages->y, pen);
}

/* The line of a group: its name in bold, then what is said of it, below where both are too long for a line. */
struct group_lines {
    struct canvas_lines name;
    struct canvas_lines note;
    double note_x; /* from the left */
    bool below;
    double height;
};

static struct group_lines wrap_group(const struct sheet *sheet, size_t row, bool again, struct arena *arena)
{
    const struct canvas_font bold = table_font(sheet->pages, sheet->table, true);
    struct text name = {0};
    text_add(&name, print_group_name(sheet->table, row));
    if (again) {
        text_printf(&name, " (%s)", sheet->pages->document->words.continued);
    }
    const char *note = again ? "" : print_group_note(sheet->table, row);
    const double name_width = canvas_text_width(bold, text_string(&name));
    struct group_lines lines = {.note_x = name_width + 8};
    lines.below = lines.note_x + canvas_text_width(sheet->font, note) > sheet->strip.width;
    lines.note_x = lines.below ? 0 : lines.note_x;
    lines.name = canvas_wrap(bold, sheet->strip.width, CELL_LINES_MOST, arena_copy(arena, text_string(&name)), arena);
    lines.note = canvas_wrap(sheet->font, sheet->strip.width - lines.note_x, CELL_LINES_MOST, note, arena);
    const size_t count = lines.below ? lines.name.count + lines.note.count : lines.name.count;
    lines.height = (double)count * canvas_line_height(bold) + pages_space(sheet->pages, 2 * row_pad);
    text_done(&name);
    return lines;
}

static void draw_group(const struct sheet *sheet, size_t row, bool again, const struct group_lines *lines)
{
    struct pages *pages = sheet->pages;
    const struct canvas_font bold = table_font(pages, sheet->table, true);
    const double base = pages->y + bold.size + 1 + pages_space(pages, row_pad);
    if (!again) {
        canvas_heading(pages->canvas, 3, print_group_name(sheet->table, row), pages->y);
    }
    canvas_tag(pages->canvas, "TR");
    canvas_tag(pages->canvas, "TH");
    const double name_height = canvas_text_lines(pages->canvas, sheet->strip.x, base, CANVAS_START, bold, lines->name);
    canvas_text_lines(pages->canvas, sheet->strip.x + lines->note_x, base + (lines->below ? name_height : 0),
                      CANVAS_START, sheet->font, lines->note);
    canvas_tag_end(pages->canvas);
    canvas_tag_end(pages->canvas);
    pages->y += lines->height;
    draw_line(sheet, page_hair);
}

static bool is_group(const struct print_table *table, size_t row)
{
    return print_group_name(table, row) != NULL;
}

static double row_height(const struct sheet *sheet, size_t row)
{
    struct arena *arena = arena_new();
    double height;
    if (is_group(sheet->table, row)) {
        height = wrap_group(sheet, row, false, arena).height;
    } else {
        struct canvas_lines *lines = arena_array(arena, sheet->table->column_count, sizeof *lines);
        height = wrap_row(sheet, sheet->table->cells + row * sheet->table->column_count, sheet->font, lines, arena);
    }
    arena_free(arena);
    return height;
}

static void draw_row(struct sheet *sheet, size_t row)
{
    struct pages *pages = sheet->pages;
    struct arena *arena = arena_new();
    if (is_group(sheet->table, row)) {
        const struct group_lines lines = wrap_group(sheet, row, false, arena);
        draw_group(sheet, row, false, &lines);
        sheet->group = row;
    } else {
        struct canvas_lines *lines = arena_array(arena, sheet->table->column_count, sizeof *lines);
        const char *const *cells = sheet->table->cells + row * sheet->table->column_count;
        const double height = wrap_row(sheet, cells, sheet->font, lines, arena);
        draw_cells(sheet, false, sheet->font, lines);
        pages->y += height;
        draw_line(sheet, page_hair);
    }
    arena_free(arena);
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

/* The columns' headings; their height, which alone is found where they are not drawn. */
static double heads(const struct sheet *sheet, bool drawn)
{
    struct pages *pages = sheet->pages;
    struct arena *arena = arena_new();
    const struct canvas_font font = table_font(pages, sheet->table, true);
    const char **cells = arena_array(arena, sheet->table->column_count, sizeof *cells);
    struct canvas_lines *lines = arena_array(arena, sheet->table->column_count, sizeof *lines);
    for (size_t i = 0; i < sheet->table->column_count; i++) {
        cells[i] = sheet->table->columns[i].heading;
    }
    const double height = wrap_row(sheet, cells, font, lines, arena) + 1;
    if (drawn) {
        draw_cells(sheet, true, font, lines);
        pages->y += height - 1;
        draw_line(sheet, page_rule);
        pages->y += 1;
    }
    arena_free(arena);
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
        struct arena *arena = arena_new();
        const struct group_lines lines = wrap_group(sheet, sheet->group, true, arena);
        draw_group(sheet, sheet->group, true, &lines);
        arena_free(arena);
    }
}

/* Again on a further page: caption, heads, and the group that goes on. */
static void draw_again(struct sheet *sheet, size_t row)
{
    draw_caption(sheet, true);
    heads(sheet, true);
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
    heads(sheet, true);
    for (size_t row = 0; row < print_row_count(sheet->table); row++) {
        if (!pages_fit(sheet->pages, kept_height(sheet, row))) {
            turn(sheet, pages_table_least(sheet->pages, sheet->table) + kept_height(sheet, row));
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
    heads(sheet, true);
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
            turn(sheet, pages_table_least(pages, sheet->table));
        }
        draw_caption(sheet, row > 0);
        const double top = pages->y;
        const double height = pages_bottom(pages) - top - heads(sheet, false);
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

static struct sheet sheet_of(struct pages *pages, const struct print_table *table)
{
    const double half = (pages_width(pages) - half_gap) / HALVES;
    const double width = table->halves ? half : pages_width(pages);
    const double gaps = cell_gap(table) * (double)(table->column_count - 1);
    return (struct sheet){.pages = pages,
                          .table = table,
                          .font = table_font(pages, table, false),
                          .strip = {page_margin, width},
                          .width = column_widths(pages, table, width - gaps),
                          .group = no_row,
                          .has_groups = print_row_count(table) > 0 && is_group(table, 0)};
}

double pages_table_least(const struct pages *pages, const struct print_table *table)
{
    struct pages trial = *pages;
    const struct sheet sheet = sheet_of(&trial, table);
    double height = (table->caption[0] == '\0' ? 0 : caption_height) + heads(&sheet, false);
    size_t kept = ROWS_KEPT;
    for (size_t row = 0; row < print_row_count(table) && row < kept; row++) {
        height += row_height(&sheet, row);
        kept += is_group(table, row);
    }
    return height;
}

void pages_table(struct pages *pages, const struct print_table *table)
{
    struct sheet sheet = sheet_of(pages, table);
    pages_make_room(pages, fmin(pages_table_least(pages, table), pages_bottom(pages) - page_margin));
    canvas_tag(pages->canvas, "Table");
    if (table->halves) {
        draw_halves(&sheet);
    } else {
        draw_whole(&sheet);
    }
    canvas_tag_end(pages->canvas);
    pages->y += pages_space(pages, 9);
}
