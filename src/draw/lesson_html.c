#include "ampsum/housefile.h"
#include "lesson_document.h"

#include <string.h>

enum print_paper lesson_paper_of(const struct lesson_plan *plan)
{
    return strcmp(plan->currency, "USD") == 0 ? PRINT_LETTER : PRINT_A4;
}

bool lesson_html_write(const struct lesson_plan *plan, const char *folder, enum print_paper paper, struct error *error)
{
    bool good = true;
    for (unsigned student = 1; student <= plan->students && good; student++) {
        struct text path = {0};
        struct text html = {0};
        struct print_document *document = lesson_document(plan, student, student, false, paper);
        print_html(document, &html);
        print_free(document);
        text_printf(&path, "%s/", folder);
        lesson_worksheet_name(&path, plan, student, "html");
        good = file_write_whole(text_string(&path), text_string(&html), html.length, true, error);
        text_done(&path);
        text_done(&html);
    }
    return good;
}
