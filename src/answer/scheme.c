#include <stdlib.h>
#include <string.h>

#include "ampsum/answer_lesson.h"

enum { FIGURES_LEAST = 2, FIGURES_MOST = 10 };

static bool read_figures(const char *string, struct lesson_scheme *scheme, struct error *error)
{
    const size_t digits = strspn(string, "0123456789");
    const unsigned long figures = digits > 0 && digits < 3 ? strtoul(string, NULL, 10) : 0;
    if (string[digits] != '\0' || figures < FIGURES_LEAST || figures > FIGURES_MOST) {
        error_set(error, ERROR_INPUT, "--figures '%s': expected a whole number from %d to %d", string, FIGURES_LEAST,
                  FIGURES_MOST);
        return false;
    }
    scheme->figures_asked = (unsigned)figures;
    return true;
}

bool answer_language(const char *word, int *ret_language, struct error *error)
{
    *ret_language = word == NULL ? LANGUAGE_ENGLISH : language_find(word);
    if (*ret_language >= 0) {
        return true;
    }
    struct text codes = {0};
    for (size_t i = 0; i < language_count(); i++) {
        text_printf(&codes, "%s%s", i == 0 ? "" : i + 1 == language_count() ? " or " : ", ", language_code((int)i));
    }
    error_set(error, ERROR_INPUT, "--language %s: expected %s", word, text_string(&codes));
    text_done(&codes);
    return false;
}

static bool read_language(const char *word, struct lesson_scheme *scheme, struct error *error)
{
    int language = LANGUAGE_ENGLISH;
    const bool good = answer_language(word, &language, error);
    if (good) {
        scheme->decimal_sign = language_writing(language).decimal;
    }
    return good;
}

static bool read_points(const char *list, struct lesson_scheme *scheme, struct error *error)
{
    struct text fault = {0};
    const bool good = lesson_scheme_points(list, scheme, &fault);
    if (!good) {
        error_set(error, ERROR_INPUT, "--points %s", text_string(&fault));
    }
    text_done(&fault);
    return good;
}

static bool read_tolerance(const char *string, struct lesson_scheme *scheme, struct error *error)
{
    const bool good = lesson_scheme_tolerance(string, scheme);
    if (!good) {
        error_set(error, ERROR_INPUT, "--tolerance '%s': expected 0%% to 20%%", string);
    }
    return good;
}

bool answer_scheme(const struct scheme_question *question, struct lesson_scheme *scheme, bool *ret_given,
                   struct error *error)
{
    *ret_given = question->points != NULL || question->tolerance != NULL || question->figures != NULL;
    return (question->points == NULL || read_points(question->points, scheme, error)) &&
           (question->tolerance == NULL || read_tolerance(question->tolerance, scheme, error)) &&
           (question->figures == NULL || read_figures(question->figures, scheme, error)) &&
           (question->language == NULL || read_language(question->language, scheme, error));
}
