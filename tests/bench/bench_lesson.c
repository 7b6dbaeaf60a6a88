/*
 * How long the classroom takes: sheets with keys for 500 students of 12 questions, their marking, networks of equal
 * parts and of different ones. Each figure is processor time, the least of several
 * runs.
 *
 *   bench_lesson        all of it; the folder bench-lesson is made, written and left
 *
 * Not part of the test run. Build with: ninja tests/bench/bench_lesson
 */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include "ampsum/mark.h"
#include "ampsum/stock.h"

enum { STUDENTS = 500, QUESTIONS = 12, RUNS = 5 };

static double now_s(void)
{
    struct timespec time;
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &time); /* others may be at work on the machine */
    return (double)time.tv_sec + 1e-9 * (double)time.tv_nsec;
}

static void make_plan(struct lesson_plan *plan, unsigned level)
{
    *plan = (struct lesson_plan){.seed = 7, .level = level, .students = STUDENTS, .question_count = QUESTIONS};
    plan->kinds = malloc(QUESTIONS * sizeof *plan->kinds);
    for (int i = 0; i < QUESTIONS; i++) {
        plan->kinds[i] = (enum lesson_kind)i;
    }
    lesson_plan_plain(plan);
}

/* Every answer as the key has it. */
static void fill_in(const struct lesson_plan *plan, struct text *text)
{
    struct lesson_question question;
    lesson_question_init(&question);
    text_add(text, "student,question,part,answer\n");
    for (unsigned student = 1; student <= plan->students; student++) {
        for (size_t i = 0; i < plan->question_count; i++) {
            lesson_question_make(plan, student, i, &question);
            for (size_t k = 0; k < question.count; k++) {
                if (question.quantities[k].asked != NULL) {
                    struct text asked = {0};
                    text_printf(text, "%u,%zu,", student, i + 1);
                    lesson_part(&question, k, text, &asked);
                    text_add_char(text, ',');
                    exact_figure(text, question.quantities[k].value, question.quantities[k].measure, question.figures);
                    text_add_char(text, '\n');
                    text_done(&asked);
                }
            }
        }
    }
    lesson_question_done(&question);
}

static void bench_sheets(unsigned level)
{
    struct lesson_plan plan;
    struct error error = {0};
    double written_s = 1e9;
    double marked_s = 1e9;
    size_t rows = 0;
    struct text answers = {0};
    make_plan(&plan, level);
    fill_in(&plan, &answers);
    for (int run = 0; run < RUNS; run++) {
        double start_s = now_s();
        if (!lesson_write(&plan, "bench-lesson", true, &error)) {
            fprintf(stderr, "%s\n", error_message(&error));
            exit(1);
        }
        double middle_s = now_s();
        struct marks marks = {0};
        marks_take(&marks, &plan, "answers", text_string(&answers), answers.length);
        marks_finish(&marks, &plan);
        double end_s = now_s();
        rows = marks.row_count;
        marks_done(&marks);
        written_s = middle_s - start_s < written_s ? middle_s - start_s : written_s;
        marked_s = end_s - middle_s < marked_s ? end_s - middle_s : marked_s;
    }
    printf("level %u: %d x %d sheets, keys, answer rows %7.3f s   mark %zu answers %7.3f s\n", level, STUDENTS,
           QUESTIONS, written_s, rows, marked_s);
    text_done(&answers);
    lesson_plan_done(&plan);
    error_done(&error);
}

static void bench_alike(unsigned parts)
{
    double least_s = 1e9;
    size_t count = 0;
    for (int run = 0; run < RUNS; run++) {
        double start_s = now_s();
        count = stock_count_alike(parts, NULL);
        double taken_s = now_s() - start_s;
        least_s = taken_s < least_s ? taken_s : least_s;
    }
    printf("%u equal parts: %zu values, all up to there %9.3f ms\n", parts, count, 1e3 * least_s);
}

static void bench_different(void)
{
    static const unsigned long tenths[] = {10, 15, 22, 33, 47, 68, 82};
    struct stock stock = {0};
    double least_s = 1e9;
    size_t count = 0;
    mpq_t value;
    mpq_init(value);
    for (size_t i = 0; i < sizeof tenths / sizeof tenths[0]; i++) {
        mpq_set_ui(value, tenths[i], 10);
        mpq_canonicalize(value);
        stock_add(&stock, value, 1);
    }
    for (int run = 0; run < RUNS; run++) {
        double start_s = now_s();
        count = stock_count_different(&stock);
        double taken_s = now_s() - start_s;
        least_s = taken_s < least_s ? taken_s : least_s;
    }
    printf("7 different parts: %zu values with all of them %9.3f ms\n", count, 1e3 * least_s);
    stock_done(&stock);
    mpq_clear(value);
}

int main(void)
{
    for (unsigned level = 1; level <= LESSON_LEVEL_MOST; level++) {
        bench_sheets(level);
    }
    bench_alike(12);
    bench_alike(16);
    bench_different();
    return 0;
}
