#include "lesson_scheme.h"

#include <string.h>

#include "../draw/lesson_document.h"
#include "second.h"

bool lesson_paper_is_known(struct invocation *invocation)
{
    return invocation_choice(invocation, "paper", (const char *const[]){"a4", "letter", NULL}, 0) >= 0;
}

enum print_paper lesson_paper_given(const struct invocation *invocation, const struct lesson_plan *plan)
{
    const char *paper = option_value(invocation, "paper");
    return paper == NULL ? lesson_paper_of(plan) : strcmp(paper, "letter") == 0 ? PRINT_LETTER : PRINT_A4;
}

int lesson_draw_papers(struct invocation *invocation, const char *word, const struct lesson_plan *plan,
                       const char *folder, const char *more)
{
    const char *paper = lesson_paper_given(invocation, plan) == PRINT_LETTER ? "letter" : "a4";
    char *words[] = {arena_copy(invocation->arena, "ampsum-draw"), arena_copy(invocation->arena, word),
                     arena_copy(invocation->arena, folder),        arena_copy(invocation->arena, paper),
                     arena_copy(invocation->arena, more),          NULL};
    return call_second_program("ampsum-draw", words);
}
