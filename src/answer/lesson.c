#include "ampsum/answer_lesson.h"

#include <stdlib.h>
#include <string.h>

#include "ampsum/arena.h"
#include "ampsum/words.h"

enum { HEAD_MOST = 200, FONT_MOST = 100 };

#define SEED_MOST 9223372036854775807ULL

/* ---- numbers */

static bool read_whole(const struct plan_question *question, const char *option, const char *string,
                       unsigned long long least, unsigned long long most, unsigned long long *ret, struct error *error)
{
    if (string == NULL) {
        return true;
    }
    const size_t digits = strspn(string, "0123456789");
    const unsigned long long value = digits > 0 && digits <= 19 ? strtoull(string, NULL, 10) : most + 1;
    if (digits == 0 || string[digits] != '\0' || value < least || value > most) {
        error_set(error, ERROR_INPUT, "%s%s '%s': expected a whole number from %llu to %llu", question->dash, option,
                  string, least, most);
        return false;
    }
    *ret = value;
    return true;
}

/* The plan's small numbers, in the order in which they are read. */
static bool read_numbers(const struct plan_question *question, struct lesson_plan *plan, struct error *error)
{
    const struct {
        const char *option;
        const char *string;
        unsigned *at;
        unsigned least;
        unsigned most;
        unsigned usual;
    } numbers[] = {
        {"level", question->level, &plan->level, 1, LESSON_LEVEL_MOST, 1},
        {"students", question->students, &plan->students, 1, LESSON_STUDENTS_MOST, 1},
        {"versions", question->versions, &plan->versions, 1, LESSON_VERSIONS_MOST, 0},
        {"room", question->room, &plan->room, 0, LESSON_ROOM_MOST, LESSON_ROOM_USUAL},
    };
    unsigned long long seed = 1;
    for (size_t i = 0; i < sizeof numbers / sizeof numbers[0]; i++) {
        unsigned long long value = numbers[i].usual;
        if (!read_whole(question, numbers[i].option, numbers[i].string, numbers[i].least, numbers[i].most, &value,
                        error)) {
            return false;
        }
        *numbers[i].at = (unsigned)value;
    }
    if (!read_whole(question, "seed", question->seed, 0, SEED_MOST, &seed, error)) {
        return false;
    }
    plan->seed = seed;
    return true;
}

/* `50%` or `50`. */
static bool read_own(const struct plan_question *question, struct lesson_plan *plan, struct error *error)
{
    const char *string = question->own;
    char *end = NULL;
    const unsigned long value = string == NULL ? LESSON_OWN_USUAL : strtoul(string, &end, 10);
    if (string != NULL &&
        (string[0] < '0' || string[0] > '9' || value > 100 || (strcmp(end, "") != 0 && strcmp(end, "%") != 0))) {
        error_set(error, ERROR_INPUT, "%sown '%s': expected 0%% to 100%%", question->dash, string);
        return false;
    }
    plan->own_percent = (unsigned)value;
    return true;
}

/* ---- words */

static char *copy(const char *string)
{
    const size_t size = string == NULL ? 0 : strlen(string) + 1;
    return string == NULL ? NULL : memcpy(memory_new(size), string, size);
}

static bool is_line(const char *string, size_t most)
{
    return !words_has_control(string) && words_is_utf8(string, strlen(string)) && strlen(string) <= most;
}

/* What stands in the head of the sheets, and the family of their letters. */
static bool read_heads(const struct plan_question *question, struct lesson_plan *plan, struct error *error)
{
    const struct {
        const char *option;
        const char *string;
        char **at;
    } heads[] = {
        {"title", question->title, &plan->title},
        {"class", question->class_name, &plan->class_name},
        {"date", question->date, &plan->date},
    };
    for (size_t i = 0; i < sizeof heads / sizeof heads[0]; i++) {
        if (heads[i].string != NULL && !is_line(heads[i].string, HEAD_MOST)) {
            error_set(error, ERROR_INPUT, "%s%s: expected one line of UTF-8 text, at most %d bytes", question->dash,
                      heads[i].option, HEAD_MOST);
            return false;
        }
        *heads[i].at = copy(heads[i].string);
    }
    if (question->font != NULL && !is_line(question->font, FONT_MOST)) {
        error_set(error, ERROR_INPUT, "%sfont: expected the name of a family of letters", question->dash);
        return false;
    }
    plan->font = copy(question->font);
    return true;
}

/* Who gets the sheets, where a file names them. */
static bool read_names(const struct plan_question *question, struct lesson_plan *plan, struct error *error)
{
    const unsigned asked_for = plan->students;
    if (question->names == NULL) {
        return true;
    }
    if (!lesson_names_read(plan, question->names, error)) {
        return false;
    }
    if (question->students != NULL && asked_for != plan->students) {
        error_set(error, ERROR_INPUT, "%sstudents %u: %s holds %u names; leave %sstudents away", question->dash,
                  asked_for, question->names, plan->students, question->dash);
        return false;
    }
    return true;
}

/* Place of the word among two; -1 without one. False with the error set where it is neither. */
static bool read_choice(const struct plan_question *question, const char *option, const char *word, const char *first,
                        const char *second, int *ret_place, struct error *error)
{
    *ret_place = word == NULL ? -1 : strcmp(word, first) == 0 ? 0 : 1;
    if (*ret_place == 1 && strcmp(word, second) != 0) {
        error_set(error, ERROR_INPUT, "%s%s %s: expected %s or %s", question->dash, option, word, first, second);
        return false;
    }
    return true;
}

/* How the sheets look and in which language they are. */
static bool read_look(const struct plan_question *question, struct lesson_plan *plan, struct error *error)
{
    int symbols;
    int decimal;
    int letter;
    if (!read_choice(question, "symbols", question->symbols, "us", "iec", &symbols, error) ||
        !read_choice(question, "decimal", question->decimal, "point", "comma", &decimal, error) ||
        !read_choice(question, "voltage-letter", question->voltage_letter, "V", "U", &letter, error)) {
        return false;
    }
    plan->language = question->scheme.language == NULL ? LANGUAGE_ENGLISH : language_find(question->scheme.language);
    plan->zigzag = symbols < 0 ? plan->zigzag : symbols == 0;
    plan->scheme.decimal_sign = decimal < 0 ? plan->scheme.decimal_sign : decimal == 0 ? '.' : ',';
    plan->voltage_letter = letter < 0 ? '\0' : letter == 0 ? 'V' : 'U';
    plan->large = question->large;
    return true;
}

static bool read_units(const struct plan_question *question, struct lesson_plan *plan, struct error *error)
{
    const char *units = question->units;
    plan->scheme.units_printed = units != NULL && strcmp(units, "printed") == 0;
    if (units != NULL && !plan->scheme.units_printed && strcmp(units, "asked") != 0) {
        error_set(error, ERROR_INPUT, "%sunits %s: expected printed, or asked as usual", question->dash, units);
        return false;
    }
    return true;
}

/* ---- kinds of questions */

/* The plan's kinds as they grow. */
struct kinds {
    const struct plan_question *question;
    struct lesson_plan *plan;
    size_t capacity;
    struct error *error;
};

static void add_kind(struct kinds *kinds, enum lesson_kind kind)
{
    struct lesson_plan *plan = kinds->plan;
    plan->kinds = memory_grow(plan->kinds, plan->question_count, &kinds->capacity, sizeof *plan->kinds);
    plan->kinds[plan->question_count++] = kind;
}

static void add_all(struct kinds *kinds)
{
    for (int kind = 0; kind < LESSON_KIND_COUNT; kind++) {
        if (lesson_kind_fits(kinds->plan, (enum lesson_kind)kind) == NULL) {
            add_kind(kinds, (enum lesson_kind)kind);
        }
    }
}

static bool refuse_kind(const struct kinds *kinds, const char *word)
{
    struct words_nearest nearest;
    words_nearest_init(&nearest, word);
    for (int kind = 0; kind < LESSON_KIND_COUNT; kind++) {
        words_nearest_offer(&nearest, lesson_kind_word((enum lesson_kind)kind));
    }
    error_set(kinds->error, ERROR_INPUT, "%skind: '%s' is no kind of question%s%s", kinds->question->dash, word,
              nearest.best == NULL ? "; `ampsum lesson --help` names them" : "; the nearest is ",
              nearest.best == NULL ? "" : nearest.best);
    return false;
}

static bool add_word(struct kinds *kinds, const char *word)
{
    enum lesson_kind kind;
    if (strcmp(word, "all") == 0) {
        add_all(kinds);
        return true;
    }
    if (!lesson_kind_find(word, &kind)) {
        return refuse_kind(kinds, word);
    }
    const char *why = lesson_kind_fits(kinds->plan, kind);
    if (why != NULL) {
        error_set(kinds->error, ERROR_INPUT, "%skind %s: %s", kinds->question->dash, word, why);
        return false;
    }
    add_kind(kinds, kind);
    return true;
}

/* One list of kinds: `unequal,wire`, or `all`. */
static bool add_list(struct kinds *kinds, const char *list)
{
    struct text word = {0};
    bool good = true;
    for (bool more = true; more && good;) {
        const size_t length = strcspn(list, ",");
        const size_t blanks = strspn(list, " ");
        text_clear(&word);
        text_add_length(&word, list + (blanks < length ? blanks : length),
                        length - (blanks < length ? blanks : length));
        while (word.length > 0 && word.bytes[word.length - 1] == ' ') {
            word.bytes[--word.length] = '\0';
        }
        good = add_word(kinds, text_string(&word));
        more = list[length] == ',';
        list += length + 1;
    }
    text_done(&word);
    return good;
}

/* The kinds in turn, as many as there are questions. */
static bool read_kinds(const struct plan_question *question, struct lesson_plan *plan, struct error *error)
{
    struct kinds kinds = {question, plan, 0, error};
    bool good = true;
    if (question->kind_count == 0) {
        add_all(&kinds);
    }
    for (size_t i = 0; i < question->kind_count && good; i++) {
        good = add_list(&kinds, question->kinds[i]);
    }
    unsigned long long questions = plan->question_count;
    good = good && read_whole(question, "questions", question->questions, 1, LESSON_QUESTIONS_MOST, &questions, error);
    const size_t given = plan->question_count;
    for (size_t i = given; good && i < questions; i++) {
        add_kind(&kinds, plan->kinds[i % given]);
    }
    if (good && questions > LESSON_QUESTIONS_MOST) {
        error_set(error, ERROR_INPUT, "%skind: more than %d questions", question->dash, LESSON_QUESTIONS_MOST);
        return false;
    }
    plan->question_count = good ? (size_t)questions : plan->question_count;
    return good;
}

bool answer_plan(const struct plan_question *question, struct lesson_plan *ret_plan, struct error *error)
{
    bool own_scheme;
    *ret_plan = (struct lesson_plan){0};
    lesson_scheme_usual(&ret_plan->scheme);
    if (!answer_scheme(&question->scheme, &ret_plan->scheme, &own_scheme, error) ||
        !read_units(question, ret_plan, error) || !read_numbers(question, ret_plan, error) ||
        !read_heads(question, ret_plan, error) || !read_own(question, ret_plan, error) ||
        !read_names(question, ret_plan, error)) {
        return false;
    }
    if (question->house == NULL) {
        lesson_plan_plain(ret_plan);
    } else {
        lesson_plan_house(ret_plan, question->house);
    }
    return read_look(question, ret_plan, error) && read_kinds(question, ret_plan, error);
}
