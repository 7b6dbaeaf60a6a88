#include "lesson_paper.h"

#include <cairo-pdf.h>
#include <errno.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

#include "lesson_circuit.h"

static const double margin_pt = 48;
static const double footer_pt = 34;
static const double gap_pt = 5;

/* The same seed gives the same bytes, so the file carries no clock. */
static const char no_date[] = "2000-01-01T00:00:00Z";

static const char caution[] = "Exercises on paper. Measuring or working on a real installation can kill: it is for "
                              "licensed electricians, by the local code.";

/* A document while it is written. */
struct book {
    cairo_surface_t *surface;
    cairo_t *cairo;
    PangoLayout *layout;
    double width_pt;
    double height_pt;
    double y_pt; /* where the next block goes */
    unsigned page;
    struct text footer;
    int unknown;
};

static void paper_size(enum paper paper, double *ret_width_pt, double *ret_height_pt)
{
    *ret_width_pt = paper == PAPER_A4 ? 595.276 : 612;
    *ret_height_pt = paper == PAPER_A4 ? 841.89 : 792;
}

static void set_font(struct book *book, const char *font)
{
    PangoFontDescription *description = pango_font_description_from_string(font);
    pango_layout_set_font_description(book->layout, description);
    pango_font_description_free(description);
}

static bool book_open(struct book *book, const char *path, enum paper paper, const char *title)
{
    *book = (struct book){.page = 1};
    paper_size(paper, &book->width_pt, &book->height_pt);
    book->surface = cairo_pdf_surface_create(path, book->width_pt, book->height_pt);
    cairo_pdf_surface_set_metadata(book->surface, CAIRO_PDF_METADATA_TITLE, title);
    cairo_pdf_surface_set_metadata(book->surface, CAIRO_PDF_METADATA_CREATE_DATE, no_date);
    book->cairo = cairo_create(book->surface);
    cairo_tag_begin(book->cairo, "Document", NULL);
    book->layout = pango_cairo_create_layout(book->cairo);
    book->y_pt = margin_pt;
    return cairo_surface_status(book->surface) == CAIRO_STATUS_SUCCESS;
}

static void write_footer(struct book *book)
{
    struct text line = {0};
    text_printf(&line, "%s   page %u\n%s", text_string(&book->footer), book->page, caution);
    set_font(book, "Sans 7");
    pango_layout_set_width(book->layout, (int)((book->width_pt - 2 * margin_pt) * PANGO_SCALE));
    pango_layout_set_text(book->layout, text_string(&line), -1);
    cairo_move_to(book->cairo, margin_pt, book->height_pt - footer_pt);
    pango_cairo_show_layout(book->cairo, book->layout);
    text_done(&line);
}

static void next_page(struct book *book)
{
    write_footer(book);
    cairo_show_page(book->cairo);
    book->page++;
    book->y_pt = margin_pt;
}

/* Ends the last page and the file; false where something could not be written. */
static bool book_close(struct book *book)
{
    write_footer(book);
    cairo_tag_end(book->cairo, "Document");
    cairo_show_page(book->cairo);
    g_object_unref(book->layout);
    cairo_destroy(book->cairo);
    cairo_surface_finish(book->surface);
    bool ok = cairo_surface_status(book->surface) == CAIRO_STATUS_SUCCESS;
    cairo_surface_destroy(book->surface);
    text_done(&book->footer);
    return ok;
}

static bool fits(const struct book *book, double height)
{
    return book->y_pt + height <= book->height_pt - footer_pt - 8;
}

/* A paragraph; on the next page where it does not fit here. */
static void paragraph(struct book *book, const char *tag, const char *font, const char *string, double indent)
{
    set_font(book, font);
    pango_layout_set_width(book->layout, (int)((book->width_pt - 2 * margin_pt - indent) * PANGO_SCALE));
    pango_layout_set_wrap(book->layout, PANGO_WRAP_WORD_CHAR);
    pango_layout_set_text(book->layout, string, -1);
    int width;
    int height;
    pango_layout_get_size(book->layout, &width, &height);
    double height_pt = (double)height / PANGO_SCALE;
    if (!fits(book, height_pt)) {
        struct text kept = {0};
        text_add(&kept, string);
        next_page(book);
        paragraph(book, tag, font, text_string(&kept), indent);
        text_done(&kept);
        return;
    }
    cairo_tag_begin(book->cairo, tag, NULL);
    cairo_move_to(book->cairo, margin_pt + indent, book->y_pt);
    pango_cairo_show_layout(book->cairo, book->layout);
    cairo_tag_end(book->cairo, tag);
    book->unknown += pango_layout_get_unknown_glyphs_count(book->layout);
    book->y_pt += height_pt + gap_pt;
}

static void heading(struct book *book, const struct lesson_plan *plan, unsigned student, const char *title)
{
    struct text line = {0};
    text_printf(&line, "%s %u", title, student);
    paragraph(book, "H1", "Sans Bold 14", text_string(&line), 0);
    text_clear(&line);
    text_printf(&line, "Level %u. Give each answer with its unit, to %u significant figures or as a fraction.",
                plan->level, lesson_figures(plan->level));
    paragraph(book, "P", "Sans 9", text_string(&line), 0);
    book->y_pt += gap_pt;
    text_clear(&book->footer);
    char code[LESSON_CODE_SIZE];
    lesson_sheet_code(plan, student, code);
    text_printf(&book->footer, "%s %u   sheet %s   ampsum", title, student, code);
    text_done(&line);
}

/* Story and circuit, not parted by a page's end. */
static void show_question(struct book *book, const struct lesson_question *question, size_t number)
{
    enum { STORY_ROOM = 60 };
    struct text story = {0};
    double circuit_pt = circuit_height_pt(question);
    if (!fits(book, circuit_pt + STORY_ROOM)) {
        next_page(book);
    }
    text_printf(&story, "%zu. %s", number, text_string(&question->story));
    paragraph(book, "P", "Sans 10", text_string(&story), 0);
    if (circuit_pt > 0) {
        set_font(book, "Sans 8");
        book->unknown += circuit_draw(book->cairo, book->layout, question, margin_pt + 10, book->y_pt,
                                      book->width_pt - 2 * margin_pt - 20);
        book->y_pt += circuit_pt + gap_pt;
    }
    text_done(&story);
}

static void show_parts(struct book *book, const struct lesson_plan *plan, const struct lesson_question *question,
                       bool answers)
{
    struct text line = {0};
    for (size_t i = 0; i < question->count; i++) {
        text_clear(&line);
        if (lesson_part_line(plan, question, i, answers, &line)) {
            text_add(&line, answers ? "" : " ____________________");
            paragraph(book, "P", answers ? "Sans Bold 9" : "Sans 10", text_string(&line), 16);
        }
    }
    text_done(&line);
    book->y_pt += 2 * gap_pt;
}

static void show_steps(struct book *book, const struct lesson_question *question)
{
    struct steps steps = {0};
    lesson_steps(question, &steps);
    for (size_t i = 0; i < steps.count; i++) {
        struct text line = {0};
        step_write(&line, &steps.step[i], true);
        paragraph(book, "P", "Sans 8.5", text_string(&line), 24);
        text_done(&line);
    }
    steps_done(&steps);
}

static void write_student(struct book *book, const struct lesson_plan *plan, unsigned student, bool key)
{
    struct lesson_question question;
    lesson_question_init(&question);
    heading(book, plan, student, key ? "Key of student" : "Worksheet of student");
    for (size_t i = 0; i < plan->question_count; i++) {
        lesson_question_make(plan, student, i, &question);
        show_question(book, &question, i + 1);
        if (key) {
            show_steps(book, &question);
        }
        show_parts(book, plan, &question, key);
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
            next_page(&book);
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
    ok = ok && write_book(&plan, folder, "key.pdf", paper, 1, plan.students, true, ret_unknown_glyphs, error);
    lesson_plan_done(&plan);
    return ok;
}
