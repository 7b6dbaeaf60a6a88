#include "lesson_scheme.h"

#include <stdlib.h>
#include <string.h>

enum { FIGURES_LEAST = 2, FIGURES_MOST = 10 };

static bool read_figures(struct invocation *invocation, struct lesson_scheme *scheme)
{
    const char *string = option_value(invocation, "figures");
    const size_t digits = string == NULL ? 0 : strspn(string, "0123456789");
    const unsigned long figures = digits > 0 && digits < 3 ? strtoul(string, NULL, 10) : 0;
    if (string == NULL) {
        return true;
    }
    if (string[digits] != '\0' || figures < FIGURES_LEAST || figures > FIGURES_MOST) {
        error_set(&invocation->error, ERROR_INPUT, "--figures '%s': expected a whole number from %d to %d", string,
                  FIGURES_LEAST, FIGURES_MOST);
        return false;
    }
    scheme->figures_asked = (unsigned)figures;
    return true;
}

static bool read_language(struct invocation *invocation, struct lesson_scheme *scheme)
{
    const char *word = option_value(invocation, "language");
    const int language = word == NULL ? LANGUAGE_ENGLISH : language_find(word);
    if (language < 0) {
        struct text codes = {0};
        for (size_t i = 0; i < language_count(); i++) {
            text_printf(&codes, "%s%s", i == 0 ? "" : i + 1 == language_count() ? " or " : ", ", language_code((int)i));
        }
        error_set(&invocation->error, ERROR_INPUT, "--language %s: expected %s", word, text_string(&codes));
        text_done(&codes);
    } else if (word != NULL) {
        scheme->decimal_sign = language_writing(language).decimal;
    }
    return language >= 0;
}

bool lesson_scheme_read(struct invocation *invocation, struct lesson_scheme *scheme, bool *ret_given)
{
    const char *points = option_value(invocation, "points");
    const char *tolerance = option_value(invocation, "tolerance");
    struct text fault = {0};
    bool ok = points == NULL || lesson_scheme_points(points, scheme, &fault);
    if (!ok) {
        error_set(&invocation->error, ERROR_INPUT, "--points %s", text_string(&fault));
    } else if (tolerance != NULL && !lesson_scheme_tolerance(tolerance, scheme)) {
        error_set(&invocation->error, ERROR_INPUT, "--tolerance '%s': expected 0%% to 20%%", tolerance);
        ok = false;
    }
    text_done(&fault);
    *ret_given = points != NULL || tolerance != NULL || option_given(invocation, "figures");
    return ok && read_figures(invocation, scheme) && read_language(invocation, scheme);
}
