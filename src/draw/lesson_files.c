#include "ampsum/housefile.h"
#include "lesson_document.h"

#include <string.h>

enum print_paper lesson_paper_of(const struct lesson_plan *plan)
{
    return strcmp(plan->currency, "USD") == 0 ? PRINT_LETTER : PRINT_A4;
}

bool lesson_write_file(const char *folder, const char *name, const char *ending, const struct text *content,
                       struct error *error)
{
    struct text path = {0};
    text_printf(&path, "%s/%s.%s", folder, name, ending);
    const bool good = file_write_whole(text_string(&path), text_string(content), content->length, true, error);
    text_done(&path);
    return good;
}

bool lesson_write_html(const struct print_document *document, const char *folder, const char *name, struct error *error)
{
    struct text html = {0};
    print_html(document, &html);
    const bool good = lesson_write_file(folder, name, "html", &html, error);
    text_done(&html);
    return good;
}

bool lesson_write_pdf(const struct print_document *document, const struct print_backend *backend, const char *folder,
                      const char *name, size_t *unknown, struct error *error)
{
    struct text bytes = {0};
    size_t missing = 0;
    const bool good = backend->write(document, PRINT_PDF, &bytes, &missing, error) &&
                      lesson_write_file(folder, name, "pdf", &bytes, error);
    *unknown += missing;
    text_done(&bytes);
    return good;
}

bool lesson_folder_write(const struct lesson_plan *plan, const char *folder, bool force, enum print_paper paper,
                         struct error *error)
{
    bool good = lesson_write(plan, folder, force, error);
    for (unsigned student = 1; student <= plan->students && good; student++) {
        struct text name = {0};
        struct print_document *document = lesson_document(plan, student, student, false, paper);
        lesson_file_name(&name, plan, "worksheet", student);
        good = lesson_write_html(document, folder, text_string(&name), error);
        print_free(document);
        text_done(&name);
    }
    return good;
}
