#include "lesson_paper.h"

#include "lesson_document.h"

/* Frees the document. */
static bool write(struct print_document *document, const char *folder, const char *name, size_t *unknown,
                  struct error *error)
{
    const bool good = lesson_write_pdf(document, &print_cairo, folder, name, unknown, error);
    print_free(document);
    return good;
}

static bool write_worksheets(const struct lesson_plan *plan, const char *folder, enum print_paper paper,
                             size_t *unknown, struct error *error)
{
    bool ok = true;
    for (unsigned student = 1; student <= plan->students && ok; student++) {
        struct text name = {0};
        lesson_file_name(&name, plan, "worksheet", student);
        ok = write(lesson_document(plan, student, student, false, paper), folder, text_string(&name), unknown, error);
        text_done(&name);
    }
    return ok;
}

static bool write_all(const struct lesson_plan *plan, const char *folder, enum print_paper paper, size_t *unknown,
                      struct error *error)
{
    return write(lesson_document(plan, 1, plan->students, false, paper), folder, "worksheets", unknown, error);
}

bool lesson_paper(const char *folder, enum print_paper paper, bool together, size_t *ret_unknown_glyphs,
                  struct error *error)
{
    struct lesson_plan plan;
    bool key_changed;
    *ret_unknown_glyphs = 0;
    if (!lesson_read(folder, &plan, &key_changed, error)) {
        return false;
    }
    const bool ok =
        (together ? write_all : write_worksheets)(&plan, folder, paper, ret_unknown_glyphs, error) &&
        write(lesson_document(&plan, 1, plan.students, true, paper), folder, "key", ret_unknown_glyphs, error) &&
        write(lesson_answers_document(&plan, paper), folder, "key-short", ret_unknown_glyphs, error);
    lesson_plan_done(&plan);
    return ok;
}
