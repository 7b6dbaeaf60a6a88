#include "lesson_paper.h"

#include <errno.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

#include "lesson_document.h"

bool lesson_write_pdf(struct print_document *document, const char *folder, const char *name, size_t *unknown,
                      struct error *error)
{
    struct text path = {0};
    struct text beside = {0};
    struct text bytes = {0};
    size_t missing = 0;
    text_printf(&path, "%s/%s", folder, name);
    text_printf(&beside, "%s.part", text_string(&path));
    bool ok = print_cairo.write(document, PRINT_PDF, &bytes, &missing, error);
    FILE *file = ok ? fopen(text_string(&beside), "wb") : NULL;
    bool kept = file != NULL && fwrite(text_string(&bytes), 1, bytes.length, file) == bytes.length;
    kept = file != NULL && fclose(file) == 0 && kept;
    kept = kept && rename(text_string(&beside), text_string(&path)) == 0;
    if (ok && !kept) {
        error_set(error, ERROR_INPUT, "%s: cannot write: %s", text_string(&path), strerror(errno));
        unlink(text_string(&beside));
    }
    *unknown += missing;
    print_free(document);
    text_done(&path);
    text_done(&beside);
    text_done(&bytes);
    return ok && kept;
}

static bool write_worksheets(const struct lesson_plan *plan, const char *folder, enum print_paper paper,
                             size_t *unknown, struct error *error)
{
    bool ok = true;
    for (unsigned student = 1; student <= plan->students && ok; student++) {
        struct text name = {0};
        lesson_worksheet_name(&name, plan, student, "pdf");
        ok = lesson_write_pdf(lesson_document(plan, student, student, false, paper), folder, text_string(&name),
                              unknown, error);
        text_done(&name);
    }
    return ok;
}

static bool write_all(const struct lesson_plan *plan, const char *folder, enum print_paper paper, size_t *unknown,
                      struct error *error)
{
    return lesson_write_pdf(lesson_document(plan, 1, plan->students, false, paper), folder, "worksheets.pdf", unknown,
                            error);
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
        lesson_write_pdf(lesson_document(&plan, 1, plan.students, true, paper), folder, "key.pdf", ret_unknown_glyphs,
                         error) &&
        lesson_write_pdf(lesson_answers_document(&plan, paper), folder, "key-short.pdf", ret_unknown_glyphs, error);
    lesson_plan_done(&plan);
    return ok;
}
