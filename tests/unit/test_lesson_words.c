/* Sheets, keys and what comes back hold no English word where the class reads another language. */
#include "runner.h"

#include <ctype.h>
#include <stdlib.h>
#include <string.h>

#include "../../src/language/rows.h"
#include "ampsum/arena.h"
#include "ampsum/mark.h"
#include "lesson_document.h"
#include "lesson_feedback.h"
#include "mark_plan.h"

enum { SHORTEST = 2, STUDENTS = 1, SEEDS = 1, LEVELS = 4 };

static bool is_letter(char c)
{
    return isalpha((unsigned char)c) || (unsigned char)c >= 0x80;
}

/* The next word from there on, in small letters; false at the end. Places of a sentence and tags of HTML are none. */
static bool next_word(const char **at, struct text *word)
{
    text_clear(word);
    while (**at != '\0' && !is_letter(**at)) {
        const char *close = **at == '{' ? strchr(*at, '}') : **at == '<' ? strchr(*at, '>') : NULL;
        *at = close == NULL ? *at + 1 : close + 1;
    }
    for (; is_letter(**at) || **at == '\''; (*at)++) {
        text_add_char(word, **at);
    }
    return word->length > 0;
}

struct words {
    char **word;
    size_t count;
    size_t capacity;
};

static int compare(const void *a, const void *b)
{
    return strcmp(*(char *const *)a, *(char *const *)b);
}

static bool has(const struct words *words, const char *word)
{
    return bsearch(&word, words->word, words->count, sizeof *words->word, compare) != NULL;
}

/* Words of all sentences of the language, in small letters, as often as they stand there. */
static void gather(struct words *words, int language)
{
    struct text word = {0};
    *words = (struct words){0};
    for (size_t row = 0; row < language_key_count; row++) {
        const char *at = language_sentences[language][row];
        while (strncmp(language_keys[row], "language.", 9) != 0 && next_word(&at, &word)) {
            char *copy = memory_new(word.length + 1);
            for (size_t i = 0; i <= word.length; i++) {
                copy[i] = (char)tolower((unsigned char)text_string(&word)[i]);
            }
            words->word = memory_grow(words->word, words->count, &words->capacity, sizeof *words->word);
            words->word[words->count++] = copy;
        }
    }
    qsort((void *)words->word, words->count, sizeof *words->word, compare);
    text_done(&word);
}

static void forget(struct words *words)
{
    for (size_t i = 0; i < words->count; i++) {
        free(words->word[i]);
    }
    free((void *)words->word);
}

static struct words english;
static struct words own;

/* A short word counts where it is written small: In is a rated current. */
static bool is_english(const struct text *word)
{
    struct text small = {0};
    for (size_t i = 0; i < word->length; i++) {
        text_add_char(&small, (char)tolower((unsigned char)word->bytes[i]));
    }
    const bool counts = word->length > SHORTEST || (word->length == SHORTEST && islower((unsigned char)word->bytes[0]));
    const bool found = counts && has(&english, text_string(&small)) && !has(&own, text_string(&small));
    text_done(&small);
    return found;
}

static void check_text(const char *what, const char *text)
{
    enum { AROUND = 60 };
    struct text word = {0};
    for (const char *at = text; next_word(&at, &word);) {
        const size_t before = (size_t)(at - text) < AROUND ? (size_t)(at - text) : AROUND;
        ck_assert_msg(!is_english(&word), "%s: '%s' in '%.*s'", what, text_string(&word), 2 * AROUND, at - before);
    }
    text_done(&word);
}

static void check_paper(const struct lesson_plan *plan, struct print_document *document)
{
    struct text html = {0};
    print_html(document, &html);
    const char *body = strstr(text_string(&html), "<body");
    ck_assert_ptr_nonnull(body);
    check_text("paper", body);
    ck_assert_str_eq(document->words.language, language_code(plan->language));
    text_done(&html);
    print_free(document);
}

static void check_sheets(const struct lesson_plan *plan)
{
    struct text worksheet = {0};
    struct text key = {0};
    struct text brief = {0};
    for (unsigned student = 1; student <= plan->students; student++) {
        lesson_worksheet(&worksheet, plan, student);
        lesson_key(&key, plan, student);
    }
    lesson_short_key(&brief, plan);
    check_text("worksheet", text_string(&worksheet));
    check_text("key", text_string(&key));
    check_text("short key", text_string(&brief));
    check_paper(plan, lesson_document(plan, 1, plan->students, false, PRINT_A4));
    check_paper(plan, lesson_document(plan, 1, plan->students, true, PRINT_A4));
    check_paper(plan, lesson_answers_document(plan, PRINT_A4));
    text_done(&worksheet);
    text_done(&key);
    text_done(&brief);
}

/* Answers by chance: of every kind, and some that nobody can read. */
static void fill_in(struct text *bytes, const struct lesson_plan *plan)
{
    static const char *const written[] = {"12",      "0",     "60 A", "1 kohm",  "12 zzz", "1 2 3", "b",     "R2",
                                          "2,880 W", "x",     "?",    "12.5 MA", "3-Feb",  "12-13", "2 x 3", "V/R",
                                          "0.5 A",   "100 W", "",     "±3 A",    "1/0 A",  "24 V",  "7e99",  "zzz 3"};
    struct lesson_question question;
    uint64_t state = plan->seed;
    lesson_question_init(&question);
    text_add(bytes, "student,question,part,answer\n");
    for (unsigned student = 1; student <= plan->students; student++) {
        for (size_t index = 0; index < plan->question_count; index++) {
            lesson_question_make(plan, student, index, &question);
            for (size_t i = 0; i < question.count; i++) {
                struct text part = {0};
                if (question.quantities[i].asked != NULL) {
                    lesson_part(&question, i, &part, NULL);
                    text_printf(bytes, "%u,%zu,%s,\"%s\"\n", student, index + 1, text_string(&part),
                                written[mark_chance(&state) % (sizeof written / sizeof written[0])]);
                }
                text_done(&part);
            }
        }
    }
    lesson_question_done(&question);
}

static void check_back(const struct lesson_plan *plan)
{
    struct text bytes = {0};
    struct text class_text = {0};
    struct marks marks = {0};
    fill_in(&bytes, plan);
    marks_take(&marks, plan, "answers.csv", text_string(&bytes), bytes.length);
    marks_finish(&marks, plan);
    ck_assert_uint_eq(marks.student_count, plan->students);
    struct arena *arena = arena_new();
    for (size_t i = 0; i < marks.student_count; i++) {
        struct text text = {0};
        const struct feedback feedback = feedback_of(&marks, plan, &marks.students[i], true, arena);
        feedback_text(&feedback, &text);
        check_text("feedback", text_string(&text));
        check_paper(plan, feedback_document(&feedback, plan, PRINT_A4));
        text_done(&text);
    }
    const struct feedback_class class = feedback_of_class(&marks, plan, true, arena);
    feedback_class_text(&class, &class_text);
    check_text("class", text_string(&class_text));
    check_paper(plan, feedback_class_document(&class, plan, PRINT_A4));
    arena_free(arena);
    marks_done(&marks);
    text_done(&bytes);
    text_done(&class_text);
}

START_TEST(no_english_word_is_left)
{
    const int language = 1 + _i % ((int)language_count() - 1);
    const unsigned level = 1 + (unsigned)_i / ((unsigned)language_count() - 1);
    gather(&english, LANGUAGE_ENGLISH);
    gather(&own, language);
    ck_assert(has(&english, "resistance") && has(&english, "of"));
    for (uint64_t seed = 1; seed <= SEEDS; seed++) {
        struct lesson_plan plan = make_plan(100 * level + seed, level, STUDENTS);
        plan.language = language;
        plan.generator = LESSON_GENERATOR_NOW;
        check_sheets(&plan);
        check_back(&plan);
        lesson_plan_done(&plan);
    }
    forget(&english);
    forget(&own);
}
END_TEST

Suite *make_suite(void)
{
    Suite *suite = suite_create("lesson_words");
    TCase *tests = tcase_create("lesson_words");
    tcase_set_timeout(tests, 120);
    tcase_add_loop_test(tests, no_english_word_is_left, 0, LEVELS * ((int)language_count() - 1));
    suite_add_tcase(suite, tests);
    return suite;
}
