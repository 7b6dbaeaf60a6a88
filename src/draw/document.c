/* A document of blocks. */
#include <assert.h>
#include <stdlib.h>
#include <string.h>

#include "ampsum/print.h"
#include "ampsum/reference.h"
#include "ampsum/show.h"

enum print_paper print_paper_of(int rules)
{
    const struct ref_rule_set *set = reference_rule_set_at(rules);
    return set != NULL && reference_finds(set->paper, "letter") ? PRINT_LETTER : PRINT_A4;
}

double print_width(enum print_paper paper)
{
    return paper == PRINT_A4 ? 595.28 : 612; /* 210 mm; 8.5 in */
}

double print_height(enum print_paper paper)
{
    return paper == PRINT_A4 ? 841.89 : 792; /* 297 mm; 11 in */
}

struct print_document *print_new(const char *title, const char *house, const struct print_head *head)
{
    struct arena *arena = arena_new();
    struct print_document *document = arena_take(arena, sizeof *document);
    *document = (struct print_document){.arena = arena,
                                        .title = arena_copy(arena, title),
                                        .house = arena_copy(arena, house),
                                        .file = arena_copy(arena, head->file),
                                        .date = arena_copy(arena, head->date),
                                        .version = arena_copy(arena, head->version),
                                        .sentence = show_cautions[0],
                                        .paper = head->paper,
                                        .words = {"en", "page", "of", "continued"}};
    return document;
}

void print_free(struct print_document *document)
{
    if (document == NULL) {
        return;
    }
    for (size_t i = 0; i < document->block_count; i++) {
        if (document->blocks[i].table != NULL) {
            free(document->blocks[i].table->cells);
        }
    }
    free(document->blocks);
    arena_free(document->arena);
}

static struct print_block *add_block(struct print_document *document, enum print_kind kind)
{
    document->blocks =
        memory_grow(document->blocks, document->block_count, &document->capacity, sizeof *document->blocks);
    struct print_block *block = &document->blocks[document->block_count++];
    *block = (struct print_block){.kind = kind};
    return block;
}

void print_heading(struct print_document *document, int level, const char *string)
{
    struct print_block *block = add_block(document, PRINT_HEADING);
    block->level = level;
    block->string = arena_copy(document->arena, string);
}

void print_paragraph(struct print_document *document, const char *string)
{
    add_block(document, PRINT_PARAGRAPH)->string = arena_copy(document->arena, string);
}

static void add_led(struct print_document *document, enum print_kind kind, const char *lead, const char *string)
{
    struct print_block *block = add_block(document, kind);
    block->lead = arena_copy(document->arena, lead);
    block->string = arena_copy(document->arena, string);
}

void print_item(struct print_document *document, const char *lead, const char *string)
{
    add_led(document, PRINT_ITEM, lead, string);
}

void print_caution(struct print_document *document, const char *lead, const char *string)
{
    add_led(document, PRINT_CAUTION, lead, string);
}

void print_picture(struct print_document *document, const struct picture *picture)
{
    struct picture *copy = arena_take(document->arena, sizeof *copy);
    *copy = *picture;
    add_block(document, PRINT_PICTURE)->picture = copy;
}

void print_pictures(struct print_document *document, struct picture_list list)
{
    for (size_t i = 0; i < list.count; i++) {
        print_picture(document, &list.picture[i]);
    }
}

void print_lines(struct print_document *document, size_t lines)
{
    add_block(document, PRINT_LINES)->lines = lines;
}

void print_new_page(struct print_document *document)
{
    add_block(document, PRINT_PAGE);
}

void print_styled(struct print_document *document, enum print_style style, double indent, const char *string)
{
    struct print_block *block = add_block(document, PRINT_PARAGRAPH);
    block->style = style;
    block->indent = indent;
    block->string = arena_copy(document->arena, string);
}

void print_room(struct print_document *document, double height)
{
    add_block(document, PRINT_ROOM)->room = height;
}

void print_field(struct print_document *document, double indent, const char *label, const char *unit)
{
    struct print_block *block = add_block(document, PRINT_FIELD);
    block->indent = indent;
    block->string = arena_copy(document->arena, label);
    block->lead = arena_copy(document->arena, unit);
}

void print_foot(struct print_document *document, const char *string)
{
    add_block(document, PRINT_FOOT)->string = arena_copy(document->arena, string);
}

size_t print_together(struct print_document *document, const char *carry_on)
{
    struct print_block *block = add_block(document, PRINT_TOGETHER);
    block->string = carry_on == NULL ? NULL : arena_copy(document->arena, carry_on);
    return document->block_count - 1;
}

void print_together_end(struct print_document *document, size_t group)
{
    document->blocks[group].lines = document->block_count - group - 1;
}

struct print_table *print_table_add(struct print_document *document, const char *caption,
                                    const struct print_column *columns, size_t column_count)
{
    struct print_table *table = arena_take(document->arena, sizeof *table);
    *table = (struct print_table){
        .caption = arena_copy(document->arena, caption), .columns = columns, .column_count = column_count};
    add_block(document, PRINT_TABLE)->table = table;
    return table;
}

struct print_block *print_last(struct print_document *document)
{
    return &document->blocks[document->block_count - 1];
}

static void add_string(struct print_table *table, const char *string)
{
    table->cells = memory_grow(table->cells, table->cell_count, &table->capacity, sizeof *table->cells);
    table->cells[table->cell_count++] = string;
}

void print_cell(struct print_document *document, struct print_table *table, const char *string)
{
    add_string(table, arena_copy(document->arena, string == NULL ? "" : string));
}

/* As a row whose second cell is none and whose third is the note. */
void print_group(struct print_document *document, struct print_table *table, const char *name, const char *note)
{
    assert(table->column_count >= 3);
    add_string(table, arena_copy(document->arena, name));
    add_string(table, NULL);
    add_string(table, arena_copy(document->arena, note));
    for (size_t i = 3; i < table->column_count; i++) {
        add_string(table, "");
    }
}

static const char *const *row_cells(const struct print_table *table, size_t row)
{
    return table->cells + row * table->column_count;
}

const char *print_group_name(const struct print_table *table, size_t row)
{
    return table->column_count >= 3 && row_cells(table, row)[1] == NULL ? row_cells(table, row)[0] : NULL;
}

const char *print_group_note(const struct print_table *table, size_t row)
{
    return row_cells(table, row)[2];
}

size_t print_row_count(const struct print_table *table)
{
    return table->cell_count / table->column_count;
}
