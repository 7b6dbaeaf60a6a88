/* The circuit of a question, drawn with plain characters. */
#include <stdlib.h>
#include <string.h>

#include "ampsum/arena.h"
#include "ampsum/lesson.h"
#include "sheet.h"

enum { EXACT_FIGURES = 12, LOADS_SHOWN_MOST = 10, ALIKE_SHOWN_MOST = 3 };

/* A column of the drawing: two lines of lettering between the rails. */
struct column {
    struct text name;
    struct text value;
    size_t width;
};

static void add_times(struct text *text, char c, size_t times)
{
    for (size_t i = 0; i < times; i++) {
        text_add_char(text, c);
    }
}

/* Characters that a UTF-8 text takes on paper (names of a house may hold any letters). */
static size_t shown_width(const char *string)
{
    size_t width = 0;
    for (const char *c = string; *c != '\0'; c++) {
        width += ((unsigned char)*c & 0xC0) != 0x80;
    }
    return width;
}

/*
 * How a drawing names the element that quantity `index` belongs to, and its value; "?" where it is not given.
 */
static void lesson_label(const struct lesson_question *question, size_t index, struct text *ret_name,
                         struct text *ret_value)
{
    const struct lesson_quantity *quantity = &question->quantities[index];
    bool named = question->kind == LESSON_TABLE ? quantity->measure != EXACT_VOLTAGE : quantity->measure == EXACT_POWER;
    say_message(ret_name, question->language, named ? quantity->subject : quantity->symbol);
    if (quantity->given) {
        lesson_amount(ret_value, question->language, quantity->value, quantity, EXACT_FIGURES);
    } else {
        text_add(ret_value, "?");
    }
}

size_t lesson_loads_shown(const struct lesson_question *question)
{
    return question->kind == LESSON_EQUAL ? ALIKE_SHOWN_MOST : LOADS_SHOWN_MOST;
}

const struct lesson_circuit *lesson_drawn_circuit(const struct lesson_question *question)
{
    return &question->circuit[!question->draw_first && question->circuit[1].count > question->circuit[0].count];
}

/* A long name would tear the drawing apart: its start and two points. The full name stands above the drawing. */
static void shorten(struct text *name)
{
    enum { NAME_MOST = 16 };
    if (shown_width(text_string(name)) <= NAME_MOST) {
        return;
    }
    size_t width = 0;
    size_t length = 0;
    while (width < NAME_MOST - 2 || ((unsigned char)name->bytes[length] & 0xC0) == 0x80) {
        width += ((unsigned char)name->bytes[length] & 0xC0) != 0x80;
        length++;
    }
    name->length = length;
    name->bytes[length] = '\0';
    text_add(name, "..");
}

static void column_init(struct column *column, const struct lesson_question *question, size_t index)
{
    *column = (struct column){0};
    lesson_label(question, index, &column->name, &column->value);
    shorten(&column->name);
    size_t name = shown_width(text_string(&column->name));
    size_t value = shown_width(text_string(&column->value));
    column->width = (name > value ? name : value) + 2;
}

static void column_done(struct column *column)
{
    text_done(&column->name);
    text_done(&column->value);
}

/* `string` in the middle of the column. */
static void add_centred(struct text *text, const char *string, size_t width)
{
    size_t shown = shown_width(string);
    size_t before = (width - shown) / 2;
    add_times(text, ' ', before);
    text_add(text, string);
    add_times(text, ' ', width - shown - before);
}

static void end_line(struct text *text)
{
    while (text->length > 0 && text->bytes[text->length - 1] == ' ') {
        text->bytes[--text->length] = '\0';
    }
    text_add_char(text, '\n');
}

static void add_rail(struct text *text, const struct column *column, size_t count, const char *in_wire)
{
    text_add(text, "  ");
    for (size_t i = 0; i < count; i++) {
        size_t before = (column[i].width - 1) / 2;
        add_times(text, i == 0 ? ' ' : '-', before);
        text_add_char(text, '+');
        add_times(text, i + 1 == count ? ' ' : '-', column[i].width - before - 1);
        if (i == 0) {
            text_add(text, in_wire);
        }
    }
    end_line(text);
}

enum column_line { LINE_STEM, LINE_NAME, LINE_VALUE };

static void add_columns(struct text *text, const struct column *column, size_t count, enum column_line line, size_t gap)
{
    text_add(text, "  ");
    for (size_t i = 0; i < count; i++) {
        const char *string = line == LINE_STEM   ? "|"
                             : line == LINE_NAME ? text_string(&column[i].name)
                                                 : text_string(&column[i].value);
        add_centred(text, string, column[i].width);
        if (i == 0) {
            add_times(text, ' ', gap);
        }
    }
    end_line(text);
}

/* Loads side by side between two rails. */
static void draw_ladder(struct text *text, const struct column *column, size_t count, const char *in_wire)
{
    size_t gap = shown_width(in_wire);
    struct text plain = {0};
    add_times(&plain, '-', gap);
    add_rail(text, column, count, in_wire);
    add_columns(text, column, count, LINE_STEM, gap);
    add_columns(text, column, count, LINE_NAME, gap);
    add_columns(text, column, count, LINE_VALUE, gap);
    add_columns(text, column, count, LINE_STEM, gap);
    add_rail(text, column, count, text_string(&plain));
    text_done(&plain);
}

/* Source and loads; a wire in series stands in the upper rail. Many equal loads are shown by the first few. */
static void draw_circuit(struct text *text, const struct lesson_question *question)
{
    const struct lesson_circuit *circuit = lesson_drawn_circuit(question);
    struct column column[LOADS_SHOWN_MOST + 1];
    struct text wire = {0};
    size_t count = 0;
    size_t shown = lesson_loads_shown(question);
    for (size_t i = 0; i < circuit->count && count <= shown; i++) {
        const struct lesson_element *element = &circuit->elements[i];
        bool is_wire = question->drawing == DRAW_WIRE && element->from == 1 && element->to == 2;
        if (is_wire) {
            text_printf(&wire, "--[ %s ]--",
                        question->in_series == NULL ? say_plain(question->language, "word.wire") : question->in_series);
        } else {
            column_init(&column[count++], question, element->quantity);
        }
    }
    draw_ladder(text, column, count, text_string(&wire));
    if (circuit->count > shown + 1) {
        struct count_word of_shown;
        struct count_word of_all;
        text_add(text, "   (");
        say(text, question->language, "figure.drawn", "shown", count_word(&of_shown, shown), "all",
            count_word(&of_all, circuit->count - 1), (const char *)NULL);
        text_add(text, ")\n");
    }
    for (size_t i = 0; i < count; i++) {
        column_done(&column[i]);
    }
    text_done(&wire);
}

static void add_leg(struct text *text, const struct lesson_question *question, size_t first, size_t count)
{
    struct column column[LOADS_SHOWN_MOST] = {0};
    for (size_t i = 0; i < count; i++) {
        column_init(&column[i], question, question->circuit[0].elements[first + i].quantity);
    }
    add_columns(text, column, count, LINE_STEM, 0);
    add_columns(text, column, count, LINE_NAME, 0);
    add_columns(text, column, count, LINE_VALUE, 0);
    add_columns(text, column, count, LINE_STEM, 0);
    for (size_t i = 0; i < count; i++) {
        column_done(&column[i]);
    }
}

/* "  leg A ---": as long in every language. */
static void add_leg_name(struct text *text, const char *name)
{
    enum { RAIL = 36 };
    const size_t width = shown_width(name);
    text_printf(text, "  %s ", name);
    add_times(text, '-', width < RAIL ? RAIL - width - 1 : 1);
    text_add_char(text, '\n');
}

/* Leg A, neutral, leg B as three rails. The loads stand behind two sources and the neutral's wire. */
static void draw_split(struct text *text, const struct lesson_question *question)
{
    size_t loads = question->circuit[0].count - 3;
    add_leg_name(text, say_plain(question->language, "figure.leg-a"));
    add_leg(text, question, 3, loads / 2);
    add_leg_name(text, say_plain(question->language, "figure.neutral"));
    add_leg(text, question, 3 + loads / 2, loads - loads / 2);
    add_leg_name(text, say_plain(question->language, "figure.leg-b"));
}

/* A cell of the grid: what is given, or the letter of the part that asks for it. */
static void add_cell(struct text *text, const struct lesson_question *question, size_t index)
{
    enum { CELL = 14 };
    const struct lesson_quantity *quantity = &question->quantities[index];
    struct text cell = {0};
    if (quantity->given) {
        lesson_amount(&cell, question->language, quantity->value, quantity, EXACT_FIGURES);
    } else {
        text_add(&cell, "(");
        lesson_part(question, index, &cell, NULL);
        text_add(&cell, ") ____");
    }
    add_times(text, ' ', CELL - shown_width(text_string(&cell)) % CELL);
    text_add(text, text_string(&cell));
    text_done(&cell);
}

static void draw_grid(struct text *text, const struct lesson_question *question)
{
    static const char *const rows[LESSON_GRID_SIDE] = {"R1", "R2", "R3", "subject.all"};
    const char *head = say_plain(question->language, "grid.row");
    const char *last = say_form(question->language, rows[LESSON_GRID_SIDE - 1]);
    const size_t width = shown_width(head) > shown_width(last) ? shown_width(head) : shown_width(last);
    text_printf(text, "  %s", head);
    add_times(text, ' ', width - shown_width(head));
    text_add(text, "             R             V             I             P\n");
    for (size_t row = 0; row < LESSON_GRID_SIDE; row++) {
        const char *name = row + 1 < LESSON_GRID_SIDE ? rows[row] : last;
        text_printf(text, "  %s", name);
        add_times(text, ' ', width - shown_width(name));
        for (size_t column = 0; column < LESSON_GRID_SIDE; column++) {
            add_cell(text, question, question->grid[row][column]);
        }
        text_add_char(text, '\n');
    }
}

void lesson_draw(struct text *text, const struct lesson_question *question)
{
    if (question->drawing == DRAW_SPLIT) {
        draw_split(text, question);
    } else if (question->drawing == DRAW_GRID) {
        draw_grid(text, question);
    } else if (question->drawing == DRAW_PARALLEL || question->drawing == DRAW_WIRE) {
        draw_circuit(text, question);
    }
}
