#include "ampsum/error.h"

#include <stdarg.h>
#include <stdlib.h>

#include "ampsum/arena.h"

void error_done(struct error *error)
{
    if (error != NULL) {
        text_done(&error->message);
        arena_free(error->words);
        free(error->faults);
        *error = (struct error){0};
    }
}

/* What others typed, without what a terminal would obey. */
static const char *harmless(struct arena *arena, const char *string)
{
    struct text text = {0};
    text_add_harmless(&text, string);
    const char *copy = arena_copy(arena, text_string(&text));
    text_done(&text);
    return copy;
}

void error_add_fault(struct error *error, const struct error_fault *fault)
{
    if (error == NULL) {
        return;
    }
    struct arena *words = error->words == NULL ? arena_new() : error->words;
    error->words = words;
    error->faults = memory_grow(error->faults, error->fault_count, &error->fault_capacity, sizeof *error->faults);
    error->faults[error->fault_count++] = (struct error_fault){
        fault->section, fault->key, harmless(words, fault->id),
        fault->value == NULL ? NULL : harmless(words, fault->value), harmless(words, fault->reason)};
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

void error_refuse(struct error *error, const char *front, const char *part, const char *value, const char *reason)
{
    if (error != NULL && error->code == ERROR_NONE) {
        error_set(error, ERROR_INPUT, "%s%s%s: %s", front, value == NULL ? "" : " ", value == NULL ? "" : value,
                  reason);
        error_part(error, part, 0);
        error_add_fault(error, &(struct error_fault){.id = "", .value = value, .reason = reason});
    }
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
