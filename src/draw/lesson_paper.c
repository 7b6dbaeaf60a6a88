#include "lesson_paper.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "ampsum/arena.h"
#include "lesson_book.h"
#include "lesson_circuit.h"

static const double work_line_pt = 14;
static const double part_indent_pt = 16;
static const double step_indent_pt = 24;

static void heading(struct book *book, const struct lesson_plan *plan, unsigned student, bool key)
{
    struct text line = {0};
    char code[LESSON_CODE_SIZE];
    lesson_sheet_code(plan, student, code);
    lesson_title_line(&line, plan, student, key);
    text_clear(&book->footer);
    text_printf(&book->footer, "%s   sheet %s   ampsum", text_string(&line), code);
    book_paragraph(book, "H1", "Sans Bold 14", text_string(&line), 0, 0);
    text_clear(&line);
    lesson_person_line(&line, plan, student);
    if (!key) {
        text_add(&line, "   ");
        lesson_mark_line(&line, plan, student);
    }
    book_paragraph(book, "P", "Sans 10", text_string(&line), 0, 0);
    text_clear(&line);
    lesson_level_line(&line, plan);
    book_paragraph(book, "P", "Sans 9", text_string(&line), 0, 0);
    book->y_pt += BOOK_GAP_PT;
    text_done(&line);
}

/* A question in lines of text: the story, then steps and parts, each with its font and indent. */
struct block {
    struct text text;
    const char *font;
    double indent_pt;
};

struct blocks {
    struct block *block;
    size_t count;
    size_t capacity;
};

static struct text *add_block(struct blocks *blocks, const char *font, double indent_pt)
{
    blocks->block = memory_grow(blocks->block, blocks->count, &blocks->capacity, sizeof *blocks->block);
    struct block *block = &blocks->block[blocks->count++];
    *block = (struct block){.font = font, .indent_pt = indent_pt};
    return &block->text;
}

static void blocks_done(struct blocks *blocks)
{
    for (size_t i = 0; i < blocks->count; i++) {
        text_done(&blocks->block[i].text);
    }
    free(blocks->block);
}

static void add_steps(struct blocks *blocks, const struct lesson_question *question)
{
    struct steps steps = {0};
    lesson_steps(question, &steps);
    for (size_t i = 0; i < steps.count; i++) {
        step_write(add_block(blocks, "Sans 8.5", step_indent_pt), &steps.step[i], true);
    }
    steps_done(&steps);
}

static void add_parts(struct blocks *blocks, const struct lesson_plan *plan, const struct lesson_question *question,
                      bool key)
{
    for (size_t i = 0; i < question->count; i++) {
        if (question->quantities[i].asked != NULL) {
            struct text *line = add_block(blocks, key ? "Sans Bold 9" : "Sans 10", part_indent_pt);
            lesson_part_line(plan, question, i, key, line);
            text_add(line, key ? "" : " ____________________");
        }
    }
}

static double measure_pt(struct book *book, const struct blocks *blocks, size_t first)
{
    double height_pt = 0;
    for (size_t i = first; i < blocks->count; i++) {
        const struct block *block = &blocks->block[i];
        height_pt += book_measure_pt(book, block->font, text_string(&block->text), block->indent_pt);
    }
    return height_pt;
}

static void show_circuit(struct book *book, const struct lesson_question *question)
{
    double circuit_pt = circuit_height_pt(question);
    if (circuit_pt > 0) {
        book_set_font(book, "Sans 8");
        book->unknown += circuit_draw(book->cairo, book->layout, question, BOOK_MARGIN_PT + 10, book->y_pt,
                                      book->width_pt - 2 * BOOK_MARGIN_PT - 20);
        book->y_pt += circuit_pt + BOOK_GAP_PT;
    }
}

/*
 * A question stays on one page where it fits on one. Else its story and drawing stay together, and a page that goes on
 * with it says so and holds two lines at least.
 */
static void show_question(struct book *book, const struct lesson_plan *plan, const struct lesson_question *question,
                          size_t number, bool key)
{
    struct blocks blocks = {0};
    lesson_story_line(add_block(&blocks, "Sans 10", 0), plan, question, number);
    if (key) {
        add_steps(&blocks, question);
    }
    add_parts(&blocks, plan, question, key);
    const double work_pt = key ? 0 : work_line_pt * plan->room;
    const double circuit_pt = circuit_height_pt(question) + BOOK_GAP_PT;
    const double whole_pt = measure_pt(book, &blocks, 0) + circuit_pt + work_pt;
    if (whole_pt > book_left_pt(book) &&
        (whole_pt <= book_page_pt(book) || book_left_pt(book) < book_page_pt(book) / 3)) {
        book_next_page(book);
    }
    const struct block *story = &blocks.block[0];
    book_paragraph(book, "P", story->font, text_string(&story->text), 0, circuit_pt);
    show_circuit(book, question);
    text_printf(&book->carry_on, "%zu. goes on", number);
    for (size_t i = 1; i < blocks.count; i++) {
        const struct block *block = &blocks.block[i];
        const double last_pt = i + 2 == blocks.count ? measure_pt(book, &blocks, i + 1) : 0;
        book_paragraph(book, "P", block->font, text_string(&block->text), block->indent_pt, last_pt);
    }
    text_clear(&book->carry_on);
    book->y_pt += 2 * BOOK_GAP_PT + work_pt;
    blocks_done(&blocks);
}

static void write_student(struct book *book, const struct lesson_plan *plan, unsigned student, bool key)
{
    struct lesson_question question;
    lesson_question_init(&question);
    heading(book, plan, student, key);
    for (size_t i = 0; i < plan->question_count; i++) {
        lesson_question_make(plan, student, i, &question);
        show_question(book, plan, &question, i + 1, key);
    }
    lesson_question_done(&question);
}

/* Writes beside its place and renames. Students first..last in one file. */
static bool write_book(const struct lesson_plan *plan, const char *folder, const char *name, enum paper paper,
                       unsigned first, unsigned last, bool key, int *unknown, struct error *error)
{
    struct text path = {0};
    struct text beside = {0};
    struct book book;
    text_printf(&path, "%s/%s", folder, name);
    text_printf(&beside, "%s.part", text_string(&path));
    bool ok = book_open(&book, text_string(&beside), paper, key ? "Key" : "Worksheet");
    for (unsigned student = first; student <= last && ok; student++) {
        if (student > first) {
            book_next_page(&book);
        }
        write_student(&book, plan, student, key);
    }
    ok = book_close(&book) && ok && rename(text_string(&beside), text_string(&path)) == 0;
    if (!ok) {
        error_set(error, ERROR_INPUT, "%s: cannot write", text_string(&path));
        unlink(text_string(&beside));
    }
    *unknown += book.unknown;
    text_done(&path);
    text_done(&beside);
    return ok;
}

static bool write_worksheets(const struct lesson_plan *plan, const char *folder, enum paper paper, int *unknown,
                             struct error *error)
{
    bool ok = true;
    for (unsigned student = 1; student <= plan->students && ok; student++) {
        struct text name = {0};
        lesson_worksheet_name(&name, plan, student, "pdf");
        ok = write_book(plan, folder, text_string(&name), paper, student, student, false, unknown, error);
        text_done(&name);
    }
    return ok;
}

/* The answers alone, as the text has them. */
static bool write_short_key(const struct lesson_plan *plan, const char *folder, enum paper paper, int *unknown,
                            struct error *error)
{
    struct text path = {0};
    struct text beside = {0};
    struct text key = {0};
    struct book book;
    lesson_short_key(&key, plan);
    text_printf(&path, "%s/key-short.pdf", folder);
    text_printf(&beside, "%s.part", text_string(&path));
    bool ok = book_open(&book, text_string(&beside), paper, "Answers");
    text_add(&book.footer, "ampsum");
    const char *at = text_string(&key);
    while (ok && *at != '\0') { /* a band of columns stays together */
        const char *end = strstr(at, "\n\n");
        struct text band = {0};
        text_add_length(&band, at, end == NULL ? strlen(at) : (size_t)(end - at));
        book_paragraph(&book, "P", "Monospace 8", text_string(&band), 0, 0);
        text_done(&band);
        at = end == NULL ? "" : end + 2;
    }
    ok = book_close(&book) && ok && rename(text_string(&beside), text_string(&path)) == 0;
    if (!ok) {
        error_set(error, ERROR_INPUT, "%s: cannot write", text_string(&path));
        unlink(text_string(&beside));
    }
    *unknown += book.unknown;
    text_done(&key);
    text_done(&path);
    text_done(&beside);
    return ok;
}

bool lesson_paper(const char *folder, enum paper paper, bool together, int *ret_unknown_glyphs, struct error *error)
{
    struct lesson_plan plan;
    bool key_changed;
    *ret_unknown_glyphs = 0;
    if (!lesson_read(folder, &plan, &key_changed, error)) {
        return false;
    }
    bool ok = together ? write_book(&plan, folder, "worksheets.pdf", paper, 1, plan.students, false, ret_unknown_glyphs,
                                    error)
                       : write_worksheets(&plan, folder, paper, ret_unknown_glyphs, error);
    ok = ok && write_book(&plan, folder, "key.pdf", paper, 1, plan.students, true, ret_unknown_glyphs, error) &&
         write_short_key(&plan, folder, paper, ret_unknown_glyphs, error);
    lesson_plan_done(&plan);
    return ok;
}
