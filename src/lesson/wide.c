/* Tables over the whole class: the form with one row a student, and the key on one page. */
#include <stdlib.h>
#include <string.h>

#include "ampsum/arena.h"
#include "plan.h"
#include "sheet.h"

/* What is done with each part of a sheet: question from 1, letter, quantity. */
typedef void (*part_function)(void *data, const struct lesson_plan *plan, const struct lesson_question *question,
                              size_t number, const char *part, size_t index);

static void each_part(const struct lesson_plan *plan, unsigned student, part_function function, void *data)
{
    struct lesson_question question;
    lesson_question_init(&question);
    for (size_t i = 0; i < plan->question_count; i++) {
        lesson_question_make(plan, student, i, &question);
        for (size_t k = 0; k < question.count; k++) {
            struct text part = {0};
            if (question.quantities[k].asked != NULL) {
                lesson_part(&question, k, &part, NULL);
                function(data, plan, &question, i + 1, text_string(&part), k);
            }
            text_done(&part);
        }
    }
    lesson_question_done(&question);
}

static void add_heading(void *data, const struct lesson_plan *plan, const struct lesson_question *question,
                        size_t number, const char *part, size_t index)
{
    (void)plan;
    (void)question;
    (void)index;
    text_printf(data, ",%zu%s", number, part);
}

void wide_heading(struct text *text, const struct lesson_plan *plan)
{
    text_add(text, "sheet,student,name");
    each_part(plan, 1, add_heading, text); /* all students have the same parts */
    text_add_char(text, '\n');
}

static void add_comma(void *data, const struct lesson_plan *plan, const struct lesson_question *question, size_t number,
                      const char *part, size_t index)
{
    (void)plan;
    (void)question;
    (void)number;
    (void)part;
    (void)index;
    text_add_char(data, ',');
}

void wide_row(struct text *text, const struct lesson_plan *plan, unsigned student, const char *sheet)
{
    text_printf(text, "%s,%u,", sheet, student);
    lesson_csv_cell(text, lesson_name(plan, student));
    each_part(plan, 1, add_comma, text);
    text_add_char(text, '\n');
}

/* The cells of the short key: a row of parts for each sheet. */
struct grid {
    char **cell; /* sheets * parts */
    size_t count;
    size_t capacity;
};

static void add_string(struct grid *grid, const struct text *text)
{
    const size_t size = text->length + 1;
    char *copy = memory_new(size);
    memcpy(copy, text_string(text), size);
    grid->cell = memory_grow(grid->cell, grid->count, &grid->capacity, sizeof *grid->cell);
    grid->cell[grid->count++] = copy;
}

static void add_part_name(void *data, const struct lesson_plan *plan, const struct lesson_question *question,
                          size_t number, const char *part, size_t index)
{
    struct text cell = {0};
    (void)plan;
    (void)question;
    (void)index;
    text_printf(&cell, "%zu%s", number, part);
    add_string(data, &cell);
    text_done(&cell);
}

static void add_value(void *data, const struct lesson_plan *plan, const struct lesson_question *question, size_t number,
                      const char *part, size_t index)
{
    struct text cell = {0};
    (void)number;
    (void)part;
    lesson_answer(plan, question, index, &cell);
    add_string(data, &cell);
    text_done(&cell);
}

static void grid_done(struct grid *grid)
{
    for (size_t i = 0; i < grid->count; i++) {
        free(grid->cell[i]);
    }
    free(grid->cell);
}

static size_t width_of(const char *string)
{
    size_t width = 0;
    for (const char *c = string; *c != '\0'; c++) {
        width += ((unsigned char)*c & 0xC0) != 0x80;
    }
    return width;
}

static void add_padded(struct text *text, const char *string, size_t width)
{
    text_add(text, string);
    for (size_t i = width_of(string); i < width; i++) {
        text_add_char(text, ' ');
    }
}

static size_t widest(char *const *cell, size_t count, size_t step)
{
    size_t width = 0;
    for (size_t i = 0; i < count; i++) {
        const size_t own = width_of(cell[i * step]);
        width = own > width ? own : width;
    }
    return width;
}

/* Parts as rows, sheets as columns: few sheets. */
static void write_by_part(struct text *text, const struct grid *grid, size_t parts, size_t rows)
{
    for (size_t part = 0; part < parts; part++) {
        for (size_t row = 0; row < rows; row++) {
            add_padded(text, grid->cell[row * parts + part], widest(grid->cell + row * parts, parts, 1) + 2);
        }
        text_add_char(text, '\n');
    }
}

/* Sheets as rows; the columns of each band of parts fit the line. */
static void write_by_sheet(struct text *text, const struct grid *grid, size_t parts, size_t rows)
{
    enum { LINE = 96 };
    for (size_t first = 1; first < parts;) {
        size_t end = first;
        size_t width = widest(grid->cell, rows, parts) + 2;
        while (end < parts && (end == first || width + widest(grid->cell + end, rows, parts) <= LINE)) {
            width += widest(grid->cell + end, rows, parts) + 2;
            end++;
        }
        for (size_t row = 0; row < rows; row++) {
            add_padded(text, grid->cell[row * parts], widest(grid->cell, rows, parts) + 2);
            for (size_t part = first; part < end; part++) {
                add_padded(text, grid->cell[row * parts + part], widest(grid->cell + part, rows, parts) + 2);
            }
            text_add_char(text, '\n');
        }
        text_add_char(text, '\n');
        first = end;
    }
}

static void add_cell(struct grid *grid, const char *string)
{
    struct text cell = {0};
    text_add(&cell, string);
    add_string(grid, &cell);
    text_done(&cell);
}

static void trim_lines(struct text *text, const struct text *padded)
{
    size_t blanks = 0;
    for (size_t i = 0; i < padded->length; i++) {
        const char c = padded->bytes[i];
        blanks = c == ' ' ? blanks + 1 : blanks;
        if (c == ' ') {
            continue;
        }
        for (; blanks > 0 && c != '\n'; blanks--) {
            text_add_char(text, ' ');
        }
        blanks = 0;
        text_add_char(text, c);
    }
}

void lesson_answers_make(const struct lesson_plan *plan, struct lesson_answers *ret_answers)
{
    char(*codes)[LESSON_CODE_SIZE] = sheet_codes(plan);
    const bool by_version = plan->versions > 0;
    const unsigned sheets = by_version && plan->versions < plan->students ? plan->versions : plan->students;
    struct grid grid = {0};
    add_cell(&grid, say_plain(plan->language, by_version ? "sheet.by-version" : "sheet.student"));
    each_part(plan, 1, add_part_name, &grid);
    *ret_answers = (struct lesson_answers){.sheets = sheets + 1, .parts = grid.count, .by_version = by_version};
    for (unsigned student = 1; student <= sheets; student++) {
        struct text head = {0};
        if (by_version) {
            text_printf(&head, "%c %s", 'A' + (int)student - 1, codes[student - 1]);
        } else {
            text_printf(&head, "%u %s %s", student, codes[student - 1], lesson_name(plan, student));
        }
        add_string(&grid, &head);
        text_done(&head);
        each_part(plan, student, add_value, &grid);
    }
    ret_answers->cell = grid.cell;
    free(codes);
}

/* A cell as it is read; what heads a row, the names among it, stays. */
void lesson_answers_write(const struct lesson_plan *plan, bool paper, struct lesson_answers *answers)
{
    const struct writing writing = lesson_writing(plan, paper);
    for (size_t i = 0; i < answers->sheets * answers->parts; i++) {
        if (i % answers->parts == 0) {
            continue;
        }
        struct text cell = {0};
        language_write(&cell, &writing, answers->cell[i]);
        free(answers->cell[i]);
        answers->cell[i] = memory_new(cell.length + 1);
        memcpy(answers->cell[i], text_string(&cell), cell.length + 1);
        text_done(&cell);
    }
}

void lesson_answers_done(struct lesson_answers *answers)
{
    struct grid grid = {.cell = answers->cell, .count = answers->sheets * answers->parts};
    grid_done(&grid);
}

void lesson_answers_title(struct text *text, const struct lesson_plan *plan)
{
    struct count_word level;
    struct count_word figures;
    say(text, plan->language, "sheet.answers", "level", count_word(&level, plan->level), "figures",
        count_word(&figures, lesson_plan_figures(plan)), (const char *)NULL);
}

void lesson_short_key(struct text *text, const struct lesson_plan *plan)
{
    struct lesson_answers answers;
    struct text table = {0};
    lesson_answers_make(plan, &answers);
    lesson_answers_write(plan, false, &answers);
    const struct grid grid = {.cell = answers.cell};
    lesson_answers_title(text, plan);
    text_add(text, "\n\n");
    (answers.by_version ? write_by_part : write_by_sheet)(&table, &grid, answers.parts, answers.sheets);
    trim_lines(text, &table);
    text_done(&table);
    lesson_answers_done(&answers);
}
