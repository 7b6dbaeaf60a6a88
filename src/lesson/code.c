/* Codes by which changed files, and sheets that stray to another student, show. */
#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>

#include "ampsum/arena.h"
#include "plan.h"

#define CODE_START 0xCBF29CE484222325U

/* FNV-1a. Tells a changed file from an unchanged one; no seal against someone who means to cheat. */
static uint64_t code_on(uint64_t code, const char *bytes, size_t length)
{
    for (size_t i = 0; i < length; i++) {
        code = (code ^ (unsigned char)bytes[i]) * 0x100000001B3U;
    }
    return code;
}

uint64_t bytes_code(const char *bytes, size_t length)
{
    return code_on(CODE_START, bytes, length);
}

/* The first generator's: of the plan and the student's number, 24 bits. */
static void code_of_plan(uint64_t plan, unsigned student, char ret_code[LESSON_CODE_SIZE])
{
    uint64_t mixed = (plan ^ student) * 0x9E3779B97F4A7C15U;
    mixed = (mixed ^ (mixed >> 29)) * 0xBF58476D1CE4E5B9U;
    snprintf(ret_code, LESSON_CODE_SIZE, "%06" PRIx64, mixed >> 40);
}

/* Every number of the sheet, given or found, and which of them are asked. */
static uint64_t numbers_code(const struct lesson_plan *plan, unsigned student)
{
    uint64_t code = CODE_START;
    struct lesson_question question;
    struct text numbers = {0};
    lesson_question_init(&question);
    for (size_t i = 0; i < plan->question_count; i++) {
        text_clear(&numbers);
        lesson_question_make(plan, student, i, &question);
        for (size_t k = 0; k < question.count; k++) {
            text_add(&numbers, question.quantities[k].asked == NULL ? " " : " ?");
            exact_write_fraction(&numbers, question.quantities[k].value);
        }
        code = code_on(code, text_string(&numbers), numbers.length);
    }
    text_done(&numbers);
    lesson_question_done(&question);
    return code;
}

static void code_in_letters(uint64_t code, char ret_code[LESSON_CODE_SIZE])
{
    static const char letters[] = "bcdfghjklmnpqrstvwxz";
    enum { LETTERS = sizeof letters - 1, LENGTH = 5 };
    code ^= code >> 32;
    for (size_t i = 0; i < LENGTH; i++) {
        ret_code[i] = letters[code % LETTERS];
        code /= LETTERS;
    }
    ret_code[LENGTH] = '\0';
}

void lesson_sheet_code(const struct lesson_plan *plan, unsigned student, char ret_code[LESSON_CODE_SIZE])
{
    if (plan->generator == LESSON_GENERATOR_FIRST) {
        code_of_plan(plan_code(plan), student, ret_code);
    } else {
        code_in_letters(numbers_code(plan, student), ret_code);
    }
}

char (*sheet_codes(const struct lesson_plan *plan))[LESSON_CODE_SIZE]
{
    char(*codes)[LESSON_CODE_SIZE] = memory_resize(NULL, plan->students, sizeof *codes);
    const uint64_t first = plan->generator == LESSON_GENERATOR_FIRST ? plan_code(plan) : 0;
    for (unsigned i = 0; i < plan->students; i++) {
        if (plan->generator == LESSON_GENERATOR_FIRST) {
            code_of_plan(first, i + 1, codes[i]); /* one walk over the plan for all */
        } else {
            lesson_sheet_code(plan, i + 1, codes[i]);
        }
    }
    return codes;
}
