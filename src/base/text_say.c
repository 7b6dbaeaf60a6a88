/* Sentences with figures: the format that text_say and the page's markup have. */
#include <assert.h>
#include <math.h>
#include <string.h>

#include "ampsum/text.h"

static bool takes(const char **at, const char *conversion)
{
    const size_t length = strlen(conversion);
    const bool same = strncmp(*at, conversion, length) == 0;
    *at += same ? length : 0;
    return same;
}

/* `%.1f` or `%.1g`, behind which `at` stands afterwards. */
static void say_figure(struct text *text, const char **at, double value)
{
    const bool precise = (*at)[1] == '.';
    const int decimals = precise ? (*at)[2] - '0' : 3;
    const char form = (*at)[precise ? 3 : 1];
    assert(decimals >= 0 && decimals <= 9 && (form == 'g' || (form == 'f' && precise)));
    *at += precise ? 4 : 2;
    if (!isfinite(value)) {
        text_add_char(text, '-');
    } else if (form == 'f') {
        text_add_fixed(text, value, decimals);
    } else {
        text_add_rounded(text, value, decimals);
    }
}

void text_say_list(struct text *text, void (*add)(struct text *text, const char *string), const char *format,
                   va_list arguments)
{
    for (const char *at = format; *at != '\0';) {
        const size_t literal = strcspn(at, "%");
        text_add_length(text, at, literal);
        at += literal;
        if (takes(&at, "%s")) {
            const char *string = va_arg(arguments, const char *);
            add(text, string == NULL ? "" : string);
        } else if (takes(&at, "%zu")) {
            text_printf(text, "%zu", va_arg(arguments, size_t));
        } else if (takes(&at, "%d")) {
            text_printf(text, "%d", va_arg(arguments, int));
        } else if (takes(&at, "%u")) {
            text_printf(text, "%u", va_arg(arguments, unsigned));
        } else if (takes(&at, "%%")) {
            text_add_char(text, '%');
        } else if (*at != '\0') {
            say_figure(text, &at, va_arg(arguments, double));
        }
    }
}

void text_say(struct text *text, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    text_say_list(text, text_add, format, arguments);
    va_end(arguments);
}
