#include "lesson_document.h"

#include <stdlib.h>
#include <string.h>

#include "lesson_picture.h"

static const double usual_text = 10;
static const double usual_figure = 8.5;
static const double beside_width = 225; /* of a circuit that has the blanks beside it */
static const double large_text = 18;
static const double large_least = 16;
static const double large_gap = 1.5;
static const double large_stroke = 2;
static const double work_line = 14;
static const double part_indent = 16;
static const double step_indent = 24;
static const double question_gap = 10;

struct sheet {
    struct print_document *document;
    const struct lesson_plan *plan;
    struct writing writing;
    bool key;
};

struct print_document *lesson_document_new(const struct lesson_plan *plan, const char *title, enum print_paper paper)
{
    const struct print_head head = {.file = "", .date = "", .version = "", .paper = paper};
    struct print_document *document = print_new(title, "", &head);
    document->look = (struct print_look){.text = usual_text};
    if (plan->large) {
        document->look = (struct print_look){
            .text = large_text, .least = large_least, .line_gap = large_gap, .stroke = large_stroke};
    }
    if (plan->font != NULL && plan->font[0] != '\0') {
        document->look.font = arena_copy(document->arena, plan->font);
    }
    document->words = (struct print_words){language_code(plan->language), say_plain(plan->language, "sheet.page"), "",
                                           say_plain(plan->language, "sheet.continued")};
    document->sentence = say_plain(plan->language, "sheet.caution");
    return document;
}

/* A line as it was made, in the writing of the sheets; empties the text. */
static const char *written(const struct sheet *sheet, struct text *text)
{
    struct text line = {0};
    language_write(&line, &sheet->writing, text_string(text));
    const char *string = arena_text(sheet->document->arena, &line);
    text_done(text);
    return string;
}

/* "Name: Ada", or a blank with that label, where a screen or its reader is. */
static void add_person(const struct sheet *sheet, const char *key, const char *place, const char *said)
{
    struct text line = {0};
    const bool known = said != NULL && said[0] != '\0';
    say(&line, sheet->plan->language, key, place, known ? said : "", (const char *)NULL);
    while (line.length > 0 && line.bytes[line.length - 1] == ' ') {
        line.bytes[--line.length] = '\0';
    }
    const char *string = text_string(&line) + strspn(text_string(&line), " ");
    if (known) {
        print_paragraph(sheet->document, string);
    } else {
        print_field(sheet->document, 0, string, NULL);
    }
    print_last(sheet->document)->screen = true;
    text_done(&line);
}

/* Shortens the longest blank until the line fits the page, however large its letters are. */
static void fit_blanks(const struct sheet *sheet, struct text *line)
{
    enum { LEAST = 6 };
    const struct canvas_font font = {sheet->document->look.text, false};
    const double room = print_width(sheet->document->paper) - 96;
    while (canvas_text_width(font, text_string(line)) > room) {
        size_t longest = 0;
        size_t place = 0;
        for (size_t at = 0; at < line->length;) {
            const size_t run = strspn(line->bytes + at, "_");
            place = run > longest ? at : place;
            longest = run > longest ? run : longest;
            at += run + 1;
        }
        if (longest <= LEAST) {
            return;
        }
        memmove(line->bytes + place, line->bytes + place + 1, line->length - place);
        line->length--;
    }
}

static void add_head(const struct sheet *sheet, unsigned student)
{
    struct print_document *document = sheet->document;
    char code[LESSON_CODE_SIZE];
    struct text title = {0};
    struct text line = {0};
    lesson_sheet_code(sheet->plan, student, code);
    lesson_title_line(&title, sheet->plan, student, sheet->key);
    say(&line, sheet->plan->language, "sheet.foot", "title", text_string(&title), "code", code, (const char *)NULL);
    print_foot(document, text_string(&line));
    print_heading(document, 1, text_string(&title));
    text_clear(&line);
    lesson_person_line(&line, sheet->plan, student);
    fit_blanks(sheet, &line);
    print_paragraph(document, text_string(&line));
    if (!sheet->key) {
        print_last(document)->paper = true;
        add_person(sheet, "sheet.name", "name", lesson_name(sheet->plan, student));
        add_person(sheet, "sheet.class", "class", sheet->plan->class_name);
        add_person(sheet, "sheet.date", "date", sheet->plan->date);
        text_clear(&line);
        lesson_mark_line(&line, sheet->plan, student);
        print_paragraph(document, text_string(&line));
    }
    text_clear(&line);
    lesson_level_line(&line, sheet->plan);
    print_styled(document, PRINT_SMALL, 0, text_string(&line));
    print_room(document, question_gap);
    text_done(&title);
    text_done(&line);
}

static void add_figure(const struct sheet *sheet, const struct lesson_question *question)
{
    struct print_document *document = sheet->document;
    struct lesson_figure *figure = arena_take(document->arena, sizeof *figure);
    const bool large = sheet->plan->large;
    const struct ladder_look look = {.text = large ? large_least : usual_figure,
                                     .stroke = large ? large_stroke : 1,
                                     .zigzag = sheet->plan->zigzag,
                                     .width = large        ? PICTURE_WIDTH
                                              : sheet->key ? 0
                                                           : beside_width};
    if (lesson_figure(sheet->plan, question, true, document->arena, figure)) {
        const struct picture picture = lesson_picture(figure, &look, document->arena);
        print_picture(document, &picture);
        if (!sheet->key) {
            print_last(document)->beside = true;
        }
        print_styled(document, PRINT_SMALL, 0, figure->sentence);
    }
}

/* What is to be chosen from stands below the story, a line each. */
static void add_lines(const struct sheet *sheet, const char *story)
{
    for (bool first = true; *story != '\0'; first = false) {
        const size_t length = strcspn(story, "\n");
        print_styled(sheet->document, PRINT_BODY, first ? 0 : part_indent,
                     arena_copy_length(sheet->document->arena, story, length));
        story += length + (story[length] == '\n');
    }
}

static void add_story(const struct sheet *sheet, const struct lesson_question *question, size_t number)
{
    struct text line = {0};
    const size_t group = print_together(sheet->document, NULL);
    lesson_story_line(&line, sheet->plan, question, number);
    add_lines(sheet, written(sheet, &line));
    add_figure(sheet, question);
    print_together_end(sheet->document, group);
}

/* The steps from quantity `first` to `last`. */
static void add_steps(const struct sheet *sheet, const struct lesson_question *question, size_t first, size_t last)
{
    struct steps steps = {0};
    for (size_t i = first; i <= last; i++) {
        lesson_steps_of(sheet->plan, question, i, &steps);
    }
    for (size_t i = 0; i < steps.count; i++) {
        struct text line = {0};
        step_write(&line, &steps.step[i], true);
        print_styled(sheet->document, PRINT_SMALL, step_indent, written(sheet, &line));
    }
    steps_done(&steps);
}

/* A blank to fill in; in the key the steps that lead to the answer, and it. */
static void add_part(const struct sheet *sheet, const struct lesson_question *question, size_t first, size_t index)
{
    struct text line = {0};
    const size_t group = print_together(sheet->document, NULL);
    if (sheet->key) {
        add_steps(sheet, question, first, index);
    }
    lesson_part_line(sheet->plan, question, index, sheet->key, &line);
    if (sheet->key) {
        print_styled(sheet->document, PRINT_STRONG, part_indent, written(sheet, &line));
    } else {
        print_field(sheet->document, part_indent, written(sheet, &line), NULL);
    }
    print_together_end(sheet->document, group);
}

/* The last two parts stay together: no page begins with one line of a question. */
static void add_parts(const struct sheet *sheet, const struct lesson_question *question)
{
    size_t parts = 0;
    size_t done = 0;
    size_t first = 0;
    size_t group = SIZE_MAX;
    for (size_t i = 0; i < question->count; i++) {
        parts += question->quantities[i].asked != NULL;
    }
    for (size_t i = 0; i < question->count; i++) {
        if (question->quantities[i].asked == NULL) {
            continue;
        }
        if (done + 2 == parts) {
            group = print_together(sheet->document, NULL);
        }
        add_part(sheet, question, first, i);
        first = i + 1;
        done++;
    }
    if (sheet->key && first < question->count) {
        add_steps(sheet, question, first, question->count - 1);
    }
    if (group != SIZE_MAX) {
        print_together_end(sheet->document, group);
    }
}

/* What one jumps to on a screen; on paper the number stands before the story. */
static void add_question_name(const struct sheet *sheet, size_t number, struct text *text)
{
    struct text digits = {0};
    text_printf(&digits, "%zu", number);
    say(text, sheet->plan->language, "feedback.question", "number", text_string(&digits), (const char *)NULL);
    text_done(&digits);
}

static void add_question(const struct sheet *sheet, const struct lesson_question *question, size_t number)
{
    struct text words = {0};
    struct text carry_on = {0};
    text_printf(&words, "%zu", number);
    say(&carry_on, sheet->plan->language, "sheet.goes-on", "number", text_string(&words), (const char *)NULL);
    text_clear(&words);
    add_question_name(sheet, number, &words);
    print_heading(sheet->document, 2, text_string(&words));
    print_last(sheet->document)->screen = true;
    const size_t group = print_together(sheet->document, text_string(&carry_on));
    add_story(sheet, question, number);
    add_parts(sheet, question);
    const double line = sheet->plan->large ? large_text * large_gap : work_line;
    print_room(sheet->document, question_gap + (sheet->key ? 0 : line * sheet->plan->room));
    print_together_end(sheet->document, group);
    text_done(&words);
    text_done(&carry_on);
}

struct print_document *lesson_document(const struct lesson_plan *plan, unsigned first, unsigned last, bool key,
                                       enum print_paper paper)
{
    struct lesson_question question;
    const char *title = say_plain(plan->language, key ? "sheet.key" : "sheet.worksheet");
    const struct sheet sheet = {lesson_document_new(plan, title, paper), plan, lesson_writing(plan, true), key};
    lesson_question_init(&question);
    for (unsigned student = first; student <= last; student++) {
        if (student > first) {
            print_new_page(sheet.document);
        }
        add_head(&sheet, student);
        for (size_t i = 0; i < plan->question_count; i++) {
            lesson_question_make(plan, student, i, &question);
            add_question(&sheet, &question, i + 1);
        }
    }
    lesson_question_done(&question);
    return sheet.document;
}

/* ------------------------------------------------------------------ the short key ------------------------- */

static const double short_text = 9;     /* cells of 8 points */
static const double short_largest = 18; /* cells of 16: large print, where one page holds them */

struct band {
    const struct lesson_answers *answers;
    struct print_document *document;
};

/* A cell of the table as it is read: rows are sheets, or parts where the sheets are few. */
static const char *cell(const struct band *band, size_t row, size_t column)
{
    const struct lesson_answers *answers = band->answers;
    const size_t sheet = answers->by_version ? column : row;
    const size_t part = answers->by_version ? row : column;
    return arena_copy(band->document->arena, answers->cell[sheet * answers->parts + part]);
}

static double column_width(const struct band *band, size_t rows, size_t column)
{
    const struct canvas_font font = {8.5 / short_text * band->document->look.text, true}; /* wider than any cell's */
    double width = 0;
    for (size_t row = 0; row < rows; row++) {
        const double own = canvas_text_width(font, cell(band, row, column));
        width = own > width ? own : width;
    }
    return width + 6;
}

/* Columns from `first` on that fit the page beside the first one; what comes after them. */
static size_t add_band(const struct band *band, size_t rows, size_t columns, size_t first)
{
    const double room = print_width(band->document->paper) - 96;
    double width = column_width(band, rows, 0);
    size_t end = first;
    while (end < columns && (end == first || width + column_width(band, rows, end) <= room)) {
        width += column_width(band, rows, end++);
    }
    struct print_column *head = arena_array(band->document->arena, end - first + 1, sizeof *head);
    head[0] = (struct print_column){cell(band, 0, 0), column_width(band, rows, 0), false};
    for (size_t i = first; i < end; i++) {
        head[i - first + 1] = (struct print_column){cell(band, 0, i), column_width(band, rows, i), false};
    }
    struct print_table *table = print_table_add(band->document, "", head, end - first + 1);
    for (size_t row = 1; row < rows; row++) {
        print_cell(band->document, table, cell(band, row, 0));
        for (size_t i = first; i < end; i++) {
            print_cell(band->document, table, cell(band, row, i));
        }
    }
    return end;
}

/*
 * Parts as rows: as many blocks of them side by side as the page needs, so that a key of few versions is one page.
 * False where not even one block fits the page's width.
 */
static bool add_blocks(const struct band *band, size_t rows, size_t columns)
{
    enum { ROWS_OF_PAGE = 50 };
    const double room = print_width(band->document->paper) - 96;
    const size_t parts = rows - 1;
    double width = 0;
    for (size_t i = 0; i < columns; i++) {
        width += column_width(band, rows, i);
    }
    const size_t wanted = (parts + ROWS_OF_PAGE - 1) / ROWS_OF_PAGE;
    const size_t fitting = (size_t)(room / width);
    const size_t blocks = wanted < fitting ? wanted : fitting;
    if (blocks == 0) {
        return false;
    }
    const size_t each = (parts + blocks - 1) / blocks;
    struct print_column *head = arena_array(band->document->arena, blocks * columns, sizeof *head);
    for (size_t i = 0; i < blocks * columns; i++) {
        head[i] = (struct print_column){cell(band, 0, i % columns), column_width(band, rows, i % columns), false};
    }
    struct print_table *table = print_table_add(band->document, "", head, blocks * columns);
    for (size_t row = 0; row < each; row++) {
        for (size_t i = 0; i < blocks * columns; i++) {
            const size_t part = i / columns * each + row;
            print_cell(band->document, table, part < parts ? cell(band, part + 1, i % columns) : "");
        }
    }
    return true;
}

static struct print_document *answers_of_size(const struct lesson_plan *plan, const struct lesson_answers *answers,
                                              enum print_paper paper, double size)
{
    struct text title = {0};
    lesson_answers_title(&title, plan);
    struct print_document *document = lesson_document_new(plan, text_string(&title), paper);
    document->look.text = size;
    document->look.least = 0;
    document->look.space = 0.05; /* between its rows */
    print_foot(document, text_string(&title));
    print_heading(document, 1, text_string(&title));
    const struct band band = {answers, document};
    const size_t rows = answers->by_version ? answers->parts : answers->sheets;
    const size_t columns = answers->by_version ? answers->sheets : answers->parts;
    const bool whole = answers->by_version && add_blocks(&band, rows, columns);
    for (size_t first = 1; first < columns && !whole;) {
        first = add_band(&band, rows, columns, first);
    }
    text_done(&title);
    return document;
}

static size_t count_pages(const struct print_document *document)
{
    struct canvas none = canvas_none();
    return print_pages(document, &none);
}

/* One page where cells of 8 points make it one; in large print letters as large as keep it so. */
struct print_document *lesson_answers_document(const struct lesson_plan *plan, enum print_paper paper)
{
    struct lesson_answers answers;
    lesson_answers_make(plan, &answers);
    lesson_answers_write(plan, true, &answers);
    struct print_document *document = answers_of_size(plan, &answers, paper, short_text);
    const size_t pages = plan->large ? count_pages(document) : 0;
    for (double size = short_largest; plan->large && size > short_text; size -= 1) {
        struct print_document *larger = answers_of_size(plan, &answers, paper, size);
        const bool fits = count_pages(larger) <= pages;
        print_free(fits ? document : larger);
        if (fits) {
            document = larger;
            break;
        }
    }
    lesson_answers_done(&answers);
    return document;
}
