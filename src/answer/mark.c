#include "ampsum/answer_mark.h"

#include <stdlib.h>

#include "ampsum/arena.h"

enum { FIGURES_USUAL = 3 };

void mark_notices(const struct mark_answer *answer, struct text *text)
{
    if (answer->key_changed) {
        text_add_harmless(text, answer->folder);
        text_printf(text, "/key.txt: %s\n", say_plain(answer->plan.language, "files.key-changed"));
    }
    for (size_t i = 0; i < answer->marks.notice_count; i++) {
        const struct mark_notice *notice = &answer->marks.notices[i];
        text_add_harmless(text, notice->file);
        if (notice->row > 0) {
            text_printf(text, ":%zu", notice->row);
        }
        text_printf(text, ": %s\n", notice->word);
    }
}

static void list_lines(struct mark_answer *answer)
{
    const struct marks *marks = &answer->marks;
    struct mark_lines *lines = &answer->lines;
    lines->line = memory_resize(NULL, marks->row_count + 1, sizeof *lines->line);
    lines->writing = lesson_writing(&answer->plan, false);
    lines->language = answer->plan.language;
    for (size_t i = 0; i < marks->student_count; i++) {
        const struct mark_student *student = &marks->students[i];
        answer->to_decide += student->to_decide;
        for (size_t k = 0; k < student->row_count; k++) {
            const struct mark_row *row = &marks->rows[student->first_row + k];
            lines->line[lines->count++] = (struct mark_line){student, row, &row->judgement, row->answer,
                                                             lesson_name(&answer->plan, student->student)};
        }
    }
}

/* Judges what was taken; false where that is nothing. */
static bool finish(struct mark_answer *answer, struct error *error)
{
    marks_finish(&answer->marks, &answer->plan);
    list_lines(answer);
    if (answer->marks.student_count == 0) {
        struct text notices = {0};
        mark_notices(answer, &notices);
        error_set(error, ERROR_INPUT, "%smark: no answer could be placed", text_string(&notices));
        text_done(&notices);
    }
    return answer->marks.student_count > 0;
}

/* The sheets' own scheme, or what was said of it. */
static bool read_scheme(const struct scheme_question *scheme, struct mark_answer *answer, struct error *error)
{
    if (!answer_scheme(scheme, &answer->plan.scheme, &answer->own_scheme, error)) {
        return false;
    }
    if (answer->own_scheme && answer->plan.generator == LESSON_GENERATOR_FIRST) {
        error_set(error, ERROR_INPUT,
                  "%s: sheets of an earlier program keep the points with which they were handed out; leave --points, "
                  "--tolerance and --figures away",
                  answer->folder);
        return false;
    }
    return true;
}

bool answer_mark(const char *folder, const struct scheme_question *scheme, const char *const *files, size_t count,
                 struct mark_answer *ret_answer, struct error *error)
{
    size_t added = 0;
    *ret_answer = (struct mark_answer){.folder = folder};
    if (!lesson_read(folder, &ret_answer->plan, &ret_answer->key_changed, error) ||
        !read_scheme(scheme, ret_answer, error)) {
        return false;
    }
    ret_answer->marks.language = ret_answer->plan.language;
    for (size_t i = 0; i < count; i++) {
        marks_take_file(&ret_answer->marks, &ret_answer->plan, files[i]);
    }
    marks_take_folder_decisions(&ret_answer->marks, folder);
    return finish(ret_answer, error) &&
           marks_write_decisions(&ret_answer->marks, &ret_answer->plan, folder, &added, error);
}

bool answer_mark_plan(struct lesson_plan *plan, const struct mark_source *source, struct mark_answer *ret_answer,
                      struct error *error)
{
    *ret_answer = (struct mark_answer){.plan = *plan, .marks.language = plan->language};
    *plan = (struct lesson_plan){0};
    marks_take(&ret_answer->marks, &ret_answer->plan, source->name, source->bytes, source->length);
    return finish(ret_answer, error);
}

void mark_answer_done(struct mark_answer *answer)
{
    free(answer->lines.line);
    marks_done(&answer->marks);
    lesson_plan_done(&answer->plan);
}

/* ---- single answers */

bool answer_expect(const struct scheme_question *question, const char *expect, const char *const *written, size_t count,
                   struct expect_answer *ret_answer, struct error *error)
{
    struct lesson_scheme scheme;
    struct text fault = {0};
    bool own;
    *ret_answer = (struct expect_answer){.expect = expect};
    lesson_scheme_usual(&scheme);
    if (!answer_scheme(question, &scheme, &own, error)) {
        return false;
    }
    ret_answer->figures = scheme.figures_asked > 0 ? scheme.figures_asked : FIGURES_USUAL;
    ret_answer->judgements = memory_resize(NULL, count + 1, sizeof *ret_answer->judgements);
    ret_answer->lines.line = memory_resize(NULL, count + 1, sizeof *ret_answer->lines.line);
    const int language = question->language == NULL ? LANGUAGE_ENGLISH : language_find(question->language);
    ret_answer->lines.language = language;
    ret_answer->lines.writing = language_writing(language);
    bool good = true;
    for (size_t i = 0; i < count && good; i++) {
        struct judgement *judgement = &ret_answer->judgements[i];
        *judgement = (struct judgement){0};
        ret_answer->lines.line[ret_answer->lines.count++] =
            (struct mark_line){.judgement = judgement, .written = written[i]};
        good = mark_expect(&scheme, language, expect, ret_answer->figures, written[i], judgement, &fault);
    }
    if (!good) {
        error_set(error, ERROR_INPUT, "--expect %s", text_string(&fault));
    }
    text_done(&fault);
    return good;
}

void expect_answer_done(struct expect_answer *answer)
{
    for (size_t i = 0; i < answer->lines.count; i++) {
        judgement_done(&answer->judgements[i]);
    }
    free(answer->judgements);
    free(answer->lines.line);
}
