/* A circuit in plain characters: a row from left to right, side by side below one another. */
#include <stdlib.h>
#include <string.h>

#include "ampsum/arena.h"
#include "ampsum/show_circuit.h"
#include "ampsum/words.h"

/* Lines of one width; the wire comes in and goes out on the first. */
struct block {
    struct text *line;
    size_t count;
    size_t capacity;
    size_t width;
};

struct pen {
    const struct circuit_work *work;
    size_t index; /* of the solution */
    bool blank;   /* what is to be found stays open */
    bool utf8;
};

static struct block draw_node(const struct pen *pen, size_t node);

static void block_done(struct block *block)
{
    for (size_t i = 0; i < block->count; i++) {
        text_done(&block->line[i]);
    }
    free(block->line);
    *block = (struct block){0};
}

static struct text *add_line(struct block *block)
{
    block->line = memory_grow(block->line, block->count, &block->capacity, sizeof *block->line);
    block->line[block->count] = (struct text){0};
    return &block->line[block->count++];
}

static void pad(struct text *line, size_t columns, size_t width, char with)
{
    for (; columns < width; columns++) {
        text_add_char(line, with);
    }
}

/* `-[R1 8 Ω]-`; parts of one count once: `-[R1 to R10, each 275 Ω]-`. */
static struct block draw_part(const struct pen *pen, size_t node)
{
    struct block block = {0};
    struct text label = {0};
    const struct circuit *circuit = &pen->work->circuit;
    show_circuit_row_name(circuit, pen->work->style.language, node, &label);
    text_add_char(&label, ' ');
    if (pen->blank && !show_circuit_is_given(pen->work, node, CIRCUIT_R)) {
        text_add_char(&label, '?');
    } else {
        circuit_write(&label, &pen->work->answer.solutions[pen->index].figures.node[node].cell[CIRCUIT_R], CIRCUIT_R,
                      &pen->work->style);
    }
    struct text *line = add_line(&block);
    text_add(line, "-[");
    if (pen->utf8) {
        text_add(line, text_string(&label));
    } else {
        show_plain(text_string(&label), line);
    }
    text_add(line, "]-");
    block.width = words_columns(text_string(line));
    text_done(&label);
    return block;
}

/* Puts the other to the right of the block, wire to wire; takes it. */
static void put_beside(struct block *block, struct block *other)
{
    while (block->count < other->count) {
        pad(add_line(block), 0, block->width, ' ');
    }
    for (size_t i = 0; i < block->count; i++) {
        if (i < other->count) {
            text_add(&block->line[i], text_string(&other->line[i]));
        } else {
            pad(&block->line[i], 0, other->width, ' ');
        }
    }
    block->width += other->width;
    block_done(other);
}

static struct block draw_series(const struct pen *pen, size_t node)
{
    const struct circuit *circuit = &pen->work->circuit;
    struct block block = {0};
    for (size_t i = circuit->nodes[node].first; i != CIRCUIT_NONE; i = circuit->nodes[i].next) {
        if (!circuit_is_repeated(circuit, i)) {
            struct block one = draw_node(pen, i);
            put_beside(&block, &one);
        }
    }
    return block;
}

/* One member below those before it: a joint at either end of its wire, the rails going on to the last. */
static void put_below(struct block *block, const struct block *one, bool first, bool last)
{
    for (size_t i = 0; i < one->count; i++) {
        struct text *line = add_line(block);
        const bool wire = i == 0;
        const char *left = wire ? first ? "-+" : " +" : last ? "  " : " |";
        const char *right = wire ? first ? "+-" : "+ " : last ? "  " : "| ";
        text_add(line, left);
        text_add(line, text_string(&one->line[i]));
        pad(line, one->width, block->width - 4, wire ? '-' : ' ');
        text_add(line, right);
    }
}

static struct block draw_parallel(const struct pen *pen, size_t node)
{
    const struct circuit *circuit = &pen->work->circuit;
    struct block block = {0};
    struct block *members = NULL;
    size_t count = 0;
    size_t capacity = 0;
    for (size_t i = circuit->nodes[node].first; i != CIRCUIT_NONE; i = circuit->nodes[i].next) {
        if (!circuit_is_repeated(circuit, i)) {
            members = memory_grow(members, count, &capacity, sizeof *members);
            members[count] = draw_node(pen, i);
            block.width = members[count].width + 4 > block.width ? members[count].width + 4 : block.width;
            count++;
        }
    }
    for (size_t i = 0; i < count; i++) {
        put_below(&block, &members[i], i == 0, i + 1 == count);
        block_done(&members[i]);
    }
    free(members);
    return block;
}

static struct block draw_node(const struct pen *pen, size_t node)
{
    switch (pen->work->circuit.nodes[node].kind) {
    case CIRCUIT_SERIES:
        return draw_series(pen, node);
    case CIRCUIT_PARALLEL:
        return draw_parallel(pen, node);
    case CIRCUIT_PART:
        break;
    }
    return draw_part(pen, node);
}

static void write_block(const struct block *block, bool goes_on, struct text *text)
{
    for (size_t i = 0; i < block->count; i++) {
        const char *line = text_string(&block->line[i]);
        size_t length = strlen(line);
        while (length > 0 && line[length - 1] == ' ') {
            length--;
        }
        text_add(text, "  ");
        text_add_length(text, line, length);
        text_add(text, i == 0 && goes_on ? ">\n" : "\n");
    }
}

/* A long row in several bands, an arrow where it goes on; false where one member alone is too wide. */
static bool draw_bands(const struct pen *pen, size_t root, size_t width, struct text *text)
{
    const struct circuit *circuit = &pen->work->circuit;
    struct block band = {0};
    bool fits = true;
    for (size_t i = circuit->nodes[root].first; i != CIRCUIT_NONE && fits; i = circuit->nodes[i].next) {
        if (circuit_is_repeated(circuit, i)) {
            continue;
        }
        struct block one = draw_node(pen, i);
        fits = one.width <= width;
        if (band.count > 0 && band.width + one.width > width) {
            write_block(&band, true, text);
            block_done(&band);
        }
        put_beside(&band, &one);
    }
    write_block(&band, false, text);
    block_done(&band);
    return fits;
}

bool show_circuit_drawing(const struct circuit_work *work, size_t index, bool blank, const struct page *page,
                          struct text *text)
{
    const struct pen pen = {work, index, blank, page->utf8};
    const size_t width = page->width - 3;
    const size_t root = work->circuit.root;
    struct text drawn = {0};
    bool fits = true;
    if (work->circuit.nodes[root].kind == CIRCUIT_SERIES) {
        fits = draw_bands(&pen, root, width, &drawn);
    } else {
        struct block block = draw_node(&pen, root);
        fits = block.width <= width;
        write_block(&block, false, &drawn);
        block_done(&block);
    }
    text_add(text, fits ? text_string(&drawn) : "");
    text_done(&drawn);
    return fits;
}
