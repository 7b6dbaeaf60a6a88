/* `ampsum-draw lesson-feedback FOLDER a4|letter LANGUAGE[,large]`: each feedback-*.txt as PDF. Called by `ampsum
 * mark --feedback`. */
#include "lesson_feedback.h"

#include <dirent.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "ampsum/language.h"
#include "lesson_document.h"
#include "lesson_paper.h"

static const double blank_pt = 3;     /* of a blank at a line's start */
static const double section_gap = 10; /* for an empty line */
enum { SECTION_BLANKS = 3 };

/* As on the sheet, with the signs of units; what the student wrote stays as it was written. */
static const char *with_signs(struct print_document *document, int language, const char *line)
{
    const struct writing writing = {.decimal = '.', .voltage = 'V', .signs = true}; /* the rest is written already */
    struct text own = {0};
    struct text right = {0};
    struct text made = {0};
    say(&own, language, "feedback.own", "answer", "", (const char *)NULL);
    say(&right, language, "feedback.right", "answer", "", (const char *)NULL);
    const char *from = line;
    if (strncmp(line, text_string(&own), own.length) == 0) {
        const char *next = line;
        while ((next = strstr(next, text_string(&right))) != NULL) { /* the last one is ours */
            from = next++;
        }
        from = from == line ? line + strlen(line) : from;
    }
    text_add_length(&made, line, (size_t)(from - line));
    language_write(&made, &writing, from);
    const char *kept = arena_copy(document->arena, text_string(&made));
    text_done(&own);
    text_done(&right);
    text_done(&made);
    return kept;
}

/* A page at work, read line by line. */
struct feedback_page {
    struct print_document *document;
    int language;
    bool of_class;              /* its sections are tables: cells have two blanks and more between them */
    bool begun;                 /* the title is there */
    size_t group;               /* what hangs below the line at work; SIZE_MAX: nothing */
    const char *heading;        /* of the section at work */
    struct print_table *table;  /* of the section at work, or NULL */
    struct print_column *heads; /* of its columns */
};

static void end_group(struct feedback_page *page)
{
    if (page->group != SIZE_MAX) {
        print_together_end(page->document, page->group);
        page->group = SIZE_MAX;
    }
}

/* The next cell of a line, "" at its end; moves `at` behind it. */
static const char *next_cell(struct feedback_page *page, const char **at)
{
    const char *from = *at + strspn(*at, " ");
    const char *gap = strstr(from, "  ");
    const size_t length = gap == NULL ? strlen(from) : (size_t)(gap - from);
    *at = from + length;
    return arena_copy_length(page->document->arena, from, length);
}

static size_t count_cells(const char *line)
{
    size_t count = 0;
    for (const char *at = line + strspn(line, " "); *at != '\0'; at += strspn(at, " ")) {
        const char *gap = strstr(at, "  ");
        at = gap == NULL ? at + strlen(at) : gap;
        count++;
    }
    return count;
}

enum { WORDS = 2 }; /* columns of words, before those of figures */

/* What stands over a column of figures, since half a page has no room for words; "%" stays. */
static const char *const signs[] = {"✓", "→", "✗", "–", "?"};
enum { SIGNS = sizeof signs / sizeof signs[0] };

/* "✓ right, → carried, …": above the table. */
static void add_signs(struct feedback_page *page, const char *line, size_t columns)
{
    struct text text = {0};
    for (size_t i = 0; i < columns && i < WORDS + SIGNS; i++) {
        const char *cell = next_cell(page, &line);
        if (i >= WORDS) {
            text_printf(&text, "%s%s %s", i > WORDS ? ", " : "", signs[i - WORDS], cell);
        }
    }
    print_styled(page->document, PRINT_SMALL, 0, text_string(&text));
    text_done(&text);
}

static void begin_table(struct feedback_page *page, const char *line, size_t columns)
{
    static const double weights[] = {12, 40, 12};
    if (columns > WORDS) {
        add_signs(page, line, columns);
    }
    page->heads = arena_array(page->document->arena, columns, sizeof *page->heads);
    for (size_t i = 0; i < columns; i++) {
        const char *cell = next_cell(page, &line);
        cell = i >= WORDS && i < WORDS + SIGNS ? signs[i - WORDS] : cell;
        page->heads[i] = (struct print_column){cell, weights[i < WORDS ? i : WORDS], i >= WORDS};
    }
    page->table = print_table_add(page->document, page->heading, page->heads, columns);
    page->table->halves = true;
}

/* A row, or the line of the group that follows. */
static void add_row(struct feedback_page *page, const char *line)
{
    struct print_table *table = page->table;
    if (count_cells(line) == 1 && table->column_count >= 3) {
        print_group(page->document, table, line + strspn(line, " "), "");
        return;
    }
    for (size_t i = 0; i < table->column_count; i++) {
        print_cell(page->document, table, next_cell(page, &line));
    }
}

static void add_text_line(struct feedback_page *page, const char *line, size_t blanks)
{
    if (blanks <= SECTION_BLANKS) {
        page->group = print_together(page->document, NULL);
    }
    print_styled(page->document, PRINT_SMALL, blank_pt * (double)blanks,
                 with_signs(page->document, page->language, line + blanks));
}

static void begin_page(struct feedback_page *page, const char *title)
{
    print_foot(page->document, title);
    print_heading(page->document, 1, title);
    page->begun = true;
}

/* A heading, which a table has as its caption. */
static void begin_section(struct feedback_page *page, const char *line)
{
    page->table = NULL;
    page->heading = arena_copy(page->document->arena, line);
}

static void end_heading(struct feedback_page *page)
{
    if (page->heading != NULL && page->table == NULL) {
        print_heading(page->document, 3, page->heading);
    }
    page->heading = NULL;
}

/*
 * The first line is the title; a line without blanks in front opens a section; one with up to three blanks begins what
 * hangs below it: it stays with that.
 */
static void add_line(struct feedback_page *page, const char *line)
{
    const size_t blanks = strspn(line, " ");
    const size_t cells = count_cells(line);
    if (blanks <= SECTION_BLANKS) {
        end_group(page);
    }
    if (page->of_class && page->heading != NULL && cells > 1) {
        begin_table(page, line, cells);
        page->heading = NULL;
    } else if (page->table != NULL && blanks > 0 && cells > 0) {
        add_row(page, line);
    } else if (line[blanks] == '\0') {
        end_heading(page);
        print_room(page->document, page->of_class ? section_gap / 4 : section_gap);
    } else if (!page->begun) {
        begin_page(page, line);
    } else if (blanks == 0) {
        end_heading(page);
        begin_section(page, line);
    } else {
        end_heading(page);
        add_text_line(page, line, blanks);
    }
}

static void add_lines(struct feedback_page *page, FILE *file)
{
    char *line = NULL;
    size_t capacity = 0;
    while (getline(&line, &capacity, file) > 0) {
        line[strcspn(line, "\n")] = '\0';
        add_line(page, line);
    }
    end_group(page);
    end_heading(page);
    free(line);
}

static bool write_pdf(const struct lesson_plan *plan, const char *folder, const char *name, enum print_paper paper,
                      size_t *unknown, struct error *error)
{
    struct text from = {0};
    struct text to = {0};
    text_printf(&from, "%s/%s", folder, name);
    text_printf(&to, "%.*spdf", (int)(strlen(name) - strlen("txt")), name);
    FILE *file = fopen(text_string(&from), "r");
    bool ok = file != NULL;
    if (!ok) {
        error_set(error, ERROR_INPUT, "%s: cannot open", text_string(&from));
    } else {
        struct print_document *document = lesson_document_new(plan, say_plain(plan->language, "feedback.name"), paper);
        struct feedback_page page = {.document = document,
                                     .language = plan->language,
                                     .of_class = strcmp(name, "feedback-class.txt") == 0,
                                     .group = SIZE_MAX};
        if (page.of_class && !plan->large) { /* a class of 24 on one page, in letters of 7.5 points */
            document->look.text = 8.5;
            document->look.space = 0.05;
        }
        add_lines(&page, file);
        fclose(file);
        ok = lesson_write_pdf(document, folder, text_string(&to), unknown, error);
    }
    text_done(&from);
    text_done(&to);
    return ok;
}

static int is_feedback(const struct dirent *entry)
{
    const size_t length = strlen(entry->d_name);
    return strncmp(entry->d_name, "feedback-", 9) == 0 && length > 4 && strcmp(entry->d_name + length - 4, ".txt") == 0;
}

/* "de", "de,large". */
static bool read_look(const char *word, struct lesson_plan *plan)
{
    struct text code = {0};
    const size_t length = strcspn(word, ",");
    text_add_length(&code, word, length);
    plan->language = language_find(text_string(&code));
    plan->large = strcmp(word + length, ",large") == 0;
    text_done(&code);
    return plan->language >= 0 && (plan->large || word[length] == '\0');
}

int lesson_feedback_main(int argc, char **argv)
{
    size_t unknown = 0;
    struct error error = {0};
    struct dirent **names = NULL;
    struct lesson_plan plan = {0};
    if (argc != 5 || !read_look(argv[4], &plan)) {
        fprintf(stderr, "ampsum-draw: lesson-feedback: expected FOLDER, a4 or letter, LANGUAGE or LANGUAGE,large\n");
        return 2;
    }
    const enum print_paper paper = strcmp(argv[3], "letter") == 0 ? PRINT_LETTER : PRINT_A4;
    const int count = scandir(argv[2], &names, is_feedback, alphasort);
    bool ok = count >= 0;
    for (int i = 0; i < count; i++) {
        ok = ok && write_pdf(&plan, argv[2], names[i]->d_name, paper, &unknown, &error);
        free(names[i]);
    }
    free(names);
    return lesson_paper_end(ok, unknown, &error);
}
