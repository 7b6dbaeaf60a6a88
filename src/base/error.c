#include "ampsum/error.h"

#include <stdarg.h>

void error_done(struct error *error)
{
    if (error != NULL) {
        text_done(&error->message);
        error->code = ERROR_NONE;
        error->part = NULL;
        error->place = 0;
    }
}

void error_set(struct error *error, enum error_code code, const char *format, ...)
{
    if (error == NULL || error->code != ERROR_NONE) {
        return;
    }
    error->code = code;
    struct text message = {0};
    va_list arguments;
    va_start(arguments, format);
    text_printf_list(&message, format, arguments);
    va_end(arguments);
    text_clear(&error->message);
    text_add_harmless(&error->message, text_string(&message)); /* names of files, cells of lists, words as typed */
    text_done(&message);
}

void error_part(struct error *error, const char *part, size_t place)
{
    if (error != NULL && error->code != ERROR_NONE && error->part == NULL) {
        error->part = part;
        error->place = place;
    }
}

bool error_is_set(const struct error *error)
{
    return error->code != ERROR_NONE;
}

const char *error_message(const struct error *error)
{
    return text_string(&error->message);
}

int error_exit_status(const struct error *error)
{
    switch (error->code) {
    case ERROR_INPUT:
        return 2;
    case ERROR_STORE:
        return 3;
    case ERROR_NONE:
        break;
    }
    return 0;
}
