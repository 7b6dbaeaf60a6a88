#include "lesson_scheme.h"

#include "../draw/lesson_document.h"
#include "second.h"

enum print_paper lesson_paper_given(int paper, const struct lesson_plan *plan)
{
    return paper == PAPER_UNSAID ? lesson_paper_of(plan) : (enum print_paper)paper;
}

int lesson_draw_papers(struct invocation *invocation, const char *word, enum print_paper paper, const char *folder,
                       const char *more)
{
    char *words[] = {arena_copy(invocation->arena, "ampsum-draw"),
                     arena_copy(invocation->arena, word),
                     arena_copy(invocation->arena, folder),
                     arena_copy(invocation->arena, paper == PRINT_LETTER ? "letter" : "a4"),
                     arena_copy(invocation->arena, more),
                     NULL};
    return call_second_program("ampsum-draw", words);
}
