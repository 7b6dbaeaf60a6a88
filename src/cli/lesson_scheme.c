#include "lesson_scheme.h"

#include "../draw/lesson_document.h"
#include "lesson_feedback.h"

enum print_paper lesson_paper_given(int paper, const struct lesson_plan *plan)
{
    return paper == PAPER_UNSAID ? lesson_paper_of(plan) : (enum print_paper)paper;
}

bool lesson_feedback(struct invocation *invocation, const struct mark_answer *answer, const char *output, int paper)
{
    const size_t students = answer->marks.student_count;
    size_t unknown = 0;
    const struct feedback_files files = {output == NULL ? answer->folder : output,
                                         lesson_paper_given(paper, &answer->plan), print_backend, &unknown};
    if (!feedback_write(&answer->marks, &answer->plan, &files, &invocation->error)) {
        return false;
    }
    if (invocation->format == FORMAT_TABLE) {
        text_printf(&invocation->out, "\n%s: a page for each of %zu student%s, and feedback-class.txt\n", files.folder,
                    students, students == 1 ? "" : "s");
    }
    print_output_unknown(files.folder, unknown);
    return true;
}
