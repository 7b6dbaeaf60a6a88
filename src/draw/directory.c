/* The list for the panel's door. */
#include <stdlib.h>
#include <string.h>

#include "ampsum/print.h"
#include "ampsum/reference.h"
#include "ampsum/service.h"

enum { SPACES_LEAST = 20, SPARE_LINES = 6, SPACES_MOST = 400 };

static const struct print_column columns[] = {{"No.", 8, true}, {"Serves", 60, false}, {"A", 8, true},
                                              {"No.", 8, true}, {"Serves", 60, false}, {"A", 8, true}};

/* One line of the list. */
struct line {
    const struct branch *branch; /* NULL: empty */
    int space;                   /* 0: none known */
    bool first;                  /* the first space that the branch takes, or it has none */
};

/* The branch with its rooms, at its first space; at the others which that is. */
static void add_served(const struct house *house, const struct line *line, struct text *text, struct arena *arena)
{
    const struct branch *branch = line->branch;
    if (!line->first) {
        text_printf(text, "with %d", branch->position.space[0]);
        return;
    }
    const struct index_list rooms = house_branch_serves(house, (size_t)(branch - house->branches), arena);
    text_add(text, branch->label);
    for (size_t i = 0; i < rooms.count; i++) {
        text_printf(text, "%s%s", i == 0 ? ": " : ", ", house_row_name(house, KIND_ROOM, rooms.index[i]));
    }
}

static void add_line(struct print_document *document, struct print_table *table, const struct house *house,
                     const struct line *line)
{
    struct text served = {0};
    struct text rating = {0};
    if (line->branch != NULL) {
        add_served(house, line, &served, document->arena);
    }
    if (line->first) {
        text_add_rounded(&rating, line->branch->breaker_a, 1);
    }
    print_cell(document, table, line->space > 0 ? arena_printf(document->arena, "%d", line->space) : "");
    print_cell(document, table, text_string(&served));
    print_cell(document, table, text_string(&rating));
    text_done(&served);
    text_done(&rating);
}

static int most_space(const struct house *house, size_t panel)
{
    int most = 0;
    for (size_t i = 0; i < house->branch_count; i++) {
        const struct branch *branch = &house->branches[i];
        for (size_t j = 0; branch->panel == panel && j < branch->position.count; j++) {
            most = branch->position.space[j] > most ? branch->position.space[j] : most;
        }
    }
    return most < SPACES_MOST ? most : SPACES_MOST;
}

/* Lines by space, index 0 is space 1; `count` entries. */
static void place(const struct house *house, size_t panel, struct line *lines, int count)
{
    for (int i = 0; i < count; i++) {
        lines[i] = (struct line){.space = i + 1};
    }
    for (size_t i = 0; i < house->branch_count; i++) {
        const struct branch *branch = &house->branches[i];
        for (size_t j = 0; branch->panel == panel && j < branch->position.count; j++) {
            const int space = branch->position.space[j];
            if (space <= count) {
                lines[space - 1].branch = branch;
                lines[space - 1].first = j == 0;
            }
        }
    }
}

/* Branches of the panel without a position (or beyond what the list holds), after those with one. */
static size_t gather_rest(const struct house *house, size_t panel, struct line *lines)
{
    size_t count = 0;
    for (size_t i = 0; i < house->branch_count; i++) {
        const struct branch *branch = &house->branches[i];
        if (branch->panel == panel && (branch->position.count == 0 || branch->position.space[0] > SPACES_MOST)) {
            lines[count++] = (struct line){branch, branch->position.count == 0 ? 0 : branch->position.space[0], true};
        }
    }
    return count;
}

/* Rows of two lines each: left[i] beside right[i], either may be missing. */
static void add_rows(struct print_document *document, struct print_table *table, const struct house *house,
                     const struct line *lines, size_t count, bool odd_left)
{
    static const struct line empty = {0};
    const size_t rows = (count + 1) / 2;
    for (size_t row = 0; row < rows; row++) {
        const size_t left = odd_left ? 2 * row : row;
        const size_t right = odd_left ? 2 * row + 1 : rows + row;
        add_line(document, table, house, &lines[left]);
        add_line(document, table, house, right < count ? &lines[right] : &empty);
    }
}

static void add_panel(struct print_document *document, const struct house *house, size_t panel)
{
    const struct panel *row = &house->panels[panel];
    const bool odd_left = house_has_two_columns(house);
    int spaces = most_space(house, panel);
    spaces = (spaces > SPACES_LEAST || spaces == 0 ? spaces : SPACES_LEAST);
    spaces += spaces % 2;
    struct line *lines =
        arena_array(document->arena, (size_t)spaces + house->branch_count + SPARE_LINES, sizeof *lines);
    place(house, panel, lines, spaces);
    size_t rest = gather_rest(house, panel, lines + spaces);
    rest += SPARE_LINES;
    struct text text = {0};
    text_printf(&text, "Panel %s", row->name);
    print_heading(document, 2, text_string(&text));
    text_clear(&text);
    text_add_capital(&text, panel == 0 ? main_device_word(house) : "fed by a breaker of");
    text_add_char(&text, ' ');
    text_add_rounded(&text, row->breaker_a, 1);
    text_printf(&text, " A. %s.",
                odd_left ? "Odd positions left, even ones right" : "In running order, down the left column first");
    print_paragraph(document, text_string(&text));
    if (spaces > 0) {
        struct print_table *table = print_table_add(document, "By position", columns, 6);
        table->ruled = true;
        add_rows(document, table, house, lines, (size_t)spaces, odd_left);
    }
    struct print_table *more = print_table_add(
        document, rest > SPARE_LINES ? "Position not known; lines for entries by hand" : "Lines for entries by hand",
        columns, 6);
    more->ruled = true;
    add_rows(document, more, house, lines + spaces, rest, odd_left);
    text_done(&text);
}

struct print_document *print_directory(const struct house *house, const struct print_head *head)
{
    struct print_document *document = print_new("list of the panel's branches", house->name, head);
    for (size_t i = 0; i < house->panel_count; i++) {
        if (i > 0) {
            print_new_page(document);
        }
        add_panel(document, house, i);
    }
    return document;
}
