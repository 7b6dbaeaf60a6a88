/* What `lesson` makes beside sheets: a branch to practise with, and a resistance from parts on a shelf. */
#include "ampsum/housefile.h"
#include "ampsum/picture_live.h"
#include "ampsum/show_lesson.h"
#include "ampsum/words.h"
#include "lesson_scheme.h"

static bool write_live(struct invocation *invocation, const char *id, int language, const char *path, bool force)
{
    struct text html = {0};
    const size_t branch = find_id(invocation, KIND_BRANCH, id);
    const size_t loads =
        branch == NO_INDEX ? 0 : live_page(invocation->house, branch, language, invocation->arena, &html);
    if (branch != NO_INDEX && loads == 0) {
        error_set(&invocation->error, ERROR_INPUT, "--live %s: nothing on this branch draws a current", id);
    }
    const bool written =
        loads > 0 && file_write_whole(path, text_string(&html), html.length, force, &invocation->error);
    if (written) {
        text_add_harmless(&invocation->out, path);
        text_printf(&invocation->out, ": written; %zu loads, works in any browser without a network\n\n", loads);
        show_cautions_text(&invocation->page, NULL, &invocation->out);
    }
    text_done(&html);
    return written;
}

int lesson_live(struct invocation *invocation, const char *branch, const char *path, const char *language, bool force)
{
    int number = LANGUAGE_ENGLISH;
    if (path == NULL || !(words_end_with(path, ".html") || words_end_with(path, ".htm"))) {
        error_set(&invocation->error, ERROR_INPUT, "lesson: --live expects -o FILE.html, one page");
        return 2;
    }
    if (!invocation_house(invocation, 0) || !invocation_operands(invocation, 0, 0) ||
        !answer_language(language, &number, &invocation->error)) {
        return 2;
    }
    return write_live(invocation, branch, number, path, force) ? 0 : 2;
}

int lesson_shelf(struct invocation *invocation, const struct shelf_question *question)
{
    struct shelf_answer answer;
    if (!invocation_operands(invocation, 0, 0)) {
        return 2;
    }
    const bool good = answer_shelf(question, &answer, &invocation->error);
    if (good && !INVOCATION_DATA(invocation, show_shelf_json(&answer), &show_shelf_rows, &answer, answer.part_count)) {
        show_shelf_text(&answer, &invocation->page, &invocation->out);
        invocation_next(invocation, "ampsum lesson -o FOLDER --kind stock   (worksheets that ask for it)");
    }
    shelf_answer_done(&answer);
    return good ? 0 : 2;
}
