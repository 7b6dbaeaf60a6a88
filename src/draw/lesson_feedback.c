/* Feedback as documents, on paper and as HTML, and all its files. */
#include "lesson_feedback.h"

#include "lesson_document.h"

static const double part_indent = 9;
static const double line_indent = 21;
static const double section_gap = 10;
static const double class_gap = 2.5;
static const double class_text = 8.5; /* a class of 24 on one page, in letters of 7.5 points */
static const double class_space = 0.05;

static struct print_document *begin_page(const struct lesson_plan *plan, const char *title, enum print_paper paper)
{
    struct print_document *document = lesson_document_new(plan, title, paper);
    print_foot(document, title);
    print_heading(document, 1, title);
    return document;
}

/* ------------------------------------------------------------------ a student ----------------------------- */

static void add_line(struct print_document *document, double indent, const char *line)
{
    print_styled(document, PRINT_SMALL, indent, line);
    print_last(document)->paper = true;
}

/* On paper a part's lines, which stay together. */
static void add_part(struct print_document *document, const struct feedback_part *part)
{
    const size_t group = print_together(document, NULL);
    add_line(document, part_indent, part->head);
    add_line(document, line_indent, part->answers);
    for (size_t i = 0; part->why[i] != NULL; i++) {
        add_line(document, line_indent, part->why[i]);
    }
    print_together_end(document, group);
}

/* What was carried, and what is to be said. */
static const char *why_cell(struct print_document *document, const struct feedback_part *part)
{
    const char *first = part->why[0] == NULL ? "" : part->why[0];
    return part->why[0] == NULL || part->why[1] == NULL ? first
                                                        : arena_printf(document->arena, "%s; %s", first, part->why[1]);
}

enum { ANSWER_COLUMNS = 5 };

static const struct print_column *answer_columns(struct print_document *document, const struct lesson_plan *plan)
{
    static const struct print_column usual[ANSWER_COLUMNS] = {{"feedback.head-part", 30, false},
                                                              {"feedback.head-own", 15, false},
                                                              {"feedback.head-right", 15, true},
                                                              {"feedback.head-points", 10, true},
                                                              {"feedback.head-why", 40, false}};
    struct print_column *columns = arena_array(document->arena, ANSWER_COLUMNS, sizeof *columns);
    for (size_t i = 0; i < ANSWER_COLUMNS; i++) {
        columns[i] = usual[i];
        columns[i].heading = say_plain(plan->language, usual[i].heading);
    }
    return columns;
}

/* On a screen a question's parts are a table. */
static void add_answers(struct print_document *document, const struct print_column *columns,
                        const struct feedback_question *question)
{
    struct print_table *table = print_table_add(document, question->name, columns, ANSWER_COLUMNS);
    print_last(document)->screen = true;
    for (size_t i = 0; i < question->count; i++) {
        const struct feedback_part *part = &question->parts[i];
        const char *const cells[] = {part->name, part->own, part->right, part->points, why_cell(document, part)};
        for (size_t k = 0; k < ANSWER_COLUMNS; k++) {
            print_cell(document, table, cells[k]);
        }
    }
}

struct print_document *feedback_document(const struct feedback *feedback, const struct lesson_plan *plan,
                                         enum print_paper paper)
{
    struct print_document *document = begin_page(plan, feedback->title, paper);
    const struct print_column *columns = answer_columns(document, plan);
    if (feedback->known[0] != '\0') {
        print_paragraph(document, feedback->known);
    }
    print_styled(document, PRINT_STRONG, 0, feedback->points);
    for (size_t i = 0; i < feedback->count; i++) {
        const struct feedback_question *question = &feedback->questions[i];
        add_answers(document, columns, question);
        print_room(document, section_gap);
        print_heading(document, 3, question->name);
        print_last(document)->paper = true;
        for (size_t k = 0; k < question->count; k++) {
            add_part(document, &question->parts[k]);
        }
    }
    return document;
}

/* ------------------------------------------------------------------ the class ----------------------------- */

/* What stands over a column of figures, since half a page has no room for words; "%" stays. */
static const char *const signs[] = {"✓", "→", "✗", "–", "?"};
enum { SIGNS = sizeof signs / sizeof signs[0] };

/* "✓ right, → carried, …": above the table. */
static void add_signs(struct print_document *document, const struct feedback_table *table)
{
    struct text text = {0};
    for (size_t i = 0; i < SIGNS; i++) {
        text_printf(&text, "%s%s %s", i > 0 ? ", " : "", signs[i], table->heads[FEEDBACK_WORDS + i]);
    }
    print_styled(document, PRINT_SMALL, 0, text_string(&text));
    text_done(&text);
}

static const struct print_column *class_columns(struct print_document *document, const struct feedback_table *table)
{
    static const double weights[] = {12, 40, 12};
    struct print_column *columns = arena_array(document->arena, table->columns, sizeof *columns);
    for (size_t i = 0; i < table->columns; i++) {
        const bool figures = i >= FEEDBACK_WORDS;
        const bool sign = figures && i < FEEDBACK_WORDS + SIGNS;
        const char *head = sign ? signs[i - FEEDBACK_WORDS] : table->heads[i];
        columns[i] =
            (struct print_column){arena_copy(document->arena, head), weights[figures ? FEEDBACK_WORDS : i], figures};
    }
    return columns;
}

static void add_class_table(struct print_document *document, const struct feedback_table *table)
{
    print_room(document, class_gap);
    if (table->columns > FEEDBACK_WORDS) {
        add_signs(document, table);
    }
    struct print_table *printed =
        print_table_add(document, table->heading, class_columns(document, table), table->columns);
    printed->halves = true;
    for (size_t i = 0; i < table->count; i++) {
        if (table->rows[i].line != NULL) {
            print_group(document, printed, table->rows[i].line, "");
        }
        for (size_t k = 0; k < table->columns && table->rows[i].line == NULL; k++) {
            print_cell(document, printed, table->rows[i].cells[k]);
        }
    }
}

struct print_document *feedback_class_document(const struct feedback_class *class, const struct lesson_plan *plan,
                                               enum print_paper paper)
{
    struct print_document *document = begin_page(plan, class->title, paper);
    if (!plan->large) {
        document->look.text = class_text;
        document->look.space = class_space;
    }
    print_room(document, class_gap);
    print_heading(document, 3, class->slips_heading);
    for (size_t i = 0; i < class->slip_count; i++) {
        print_styled(document, PRINT_SMALL, part_indent, class->slips[i]);
    }
    add_class_table(document, &class->parts);
    add_class_table(document, &class->students);
    return document;
}

/* ------------------------------------------------------------------ files --------------------------------- */

/* The text and the documents of a page; the text is emptied. */
static bool write_page(const struct feedback_files *files, const char *name, struct text *text,
                       const struct print_document *document, bool html, struct error *error)
{
    const bool good = lesson_write_file(files->folder, name, "txt", text, error) &&
                      (!html || lesson_write_html(document, files->folder, name, error)) &&
                      (files->backend == NULL ||
                       lesson_write_pdf(document, files->backend, files->folder, name, files->unknown, error));
    text_done(text);
    return good;
}

static bool write_student(const struct marks *marks, const struct lesson_plan *plan, const struct mark_student *student,
                          const struct feedback_files *files, struct error *error)
{
    struct arena *arena = arena_new();
    const struct feedback plain = feedback_of(marks, plan, student, false, arena);
    const struct feedback with_signs = feedback_of(marks, plan, student, true, arena);
    struct print_document *document = feedback_document(&with_signs, plan, files->paper);
    struct text name = {0};
    struct text text = {0};
    lesson_file_name(&name, plan, "feedback", student->student);
    feedback_text(&plain, &text);
    const bool good = write_page(files, text_string(&name), &text, document, true, error);
    print_free(document);
    text_done(&name);
    arena_free(arena);
    return good;
}

static bool write_class(const struct marks *marks, const struct lesson_plan *plan, const struct feedback_files *files,
                        struct error *error)
{
    struct arena *arena = arena_new();
    const struct feedback_class plain = feedback_of_class(marks, plan, false, arena);
    const struct feedback_class with_signs = feedback_of_class(marks, plan, true, arena);
    struct print_document *document = feedback_class_document(&with_signs, plan, files->paper);
    struct text text = {0};
    feedback_class_text(&plain, &text);
    const bool good = write_page(files, "feedback-class", &text, document, false, error);
    print_free(document);
    arena_free(arena);
    return good;
}

bool feedback_write(const struct marks *marks, const struct lesson_plan *plan, const struct feedback_files *files,
                    struct error *error)
{
    bool good = lesson_make_folder(files->folder, error);
    for (size_t i = 0; i < marks->student_count && good; i++) {
        good = write_student(marks, plan, &marks->students[i], files, error);
    }
    return good && write_class(marks, plan, files, error);
}
