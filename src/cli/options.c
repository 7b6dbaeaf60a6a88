/* A command's options, stored as the rows of its table say. */
#include <string.h>

#include "ampsum/quantity.h"
#include "cli.h"

/* An option's whole number from `least` to `most`, `otherwise` where it is not given; false with the error set. */
static bool invocation_whole(struct invocation *invocation, const char *option, long least, long most, long otherwise,
                             long *ret_value)
{
    *ret_value = otherwise;
    const char *value = option_value(invocation, option);
    struct text fault = {0};
    const bool good = value == NULL || quantity_read_whole(value, least, most, ret_value, &fault);
    if (!good) {
        error_set(&invocation->error, ERROR_INPUT, "--%s %s: %s", option, value, text_string(&fault));
    }
    text_done(&fault);
    return good;
}

int invocation_choice(struct invocation *invocation, const char *option, const char *const *words, int otherwise)
{
    const char *value = option_value(invocation, option);
    struct text known = {0};
    for (int i = 0; words[i] != NULL; i++) {
        if (value == NULL || strcmp(words[i], value) == 0) {
            text_done(&known);
            return value == NULL ? otherwise : i;
        }
        text_printf(&known, "%s%s", i == 0 ? "" : words[i + 1] == NULL ? " or " : ", ", words[i]);
    }
    error_set(&invocation->error, ERROR_INPUT, "--%s %s: expected %s", option, value, text_string(&known));
    text_done(&known);
    return -1;
}

/* The words of `value`, `a|b|c`, NULL-ended. */
static const char *const *words_of(struct arena *arena, const char *value)
{
    size_t count = 2;
    for (const char *at = value; *at != '\0'; at++) {
        count += *at == '|';
    }
    const char **words = arena_array(arena, count, sizeof *words);
    for (size_t i = 0; i + 1 < count; i++) {
        const size_t length = strcspn(value, "|");
        words[i] = arena_copy_length(arena, value, length);
        value += length + (value[length] == '|');
    }
    words[count - 1] = NULL;
    return words;
}

/* The rows of all IDs given; NULL with the error set. */
static const size_t *rows_of(struct invocation *invocation, const struct option_spec *spec, size_t *ret_count)
{
    const char *const *ids = option_values(invocation, spec->name, ret_count);
    size_t *rows = arena_array(invocation->arena, *ret_count + 1, sizeof *rows);
    for (size_t i = 0; i < *ret_count; i++) {
        rows[i] = find_id(invocation, spec->kind, ids[i]);
        if (rows[i] == NO_INDEX) {
            return NULL;
        }
    }
    return rows;
}

static bool store_number(struct invocation *invocation, const struct option_spec *spec, void *at)
{
    if (spec->store == STORE_WHOLE) {
        long *whole = at;
        return invocation_whole(invocation, spec->name, spec->least, spec->most, *whole, whole);
    }
    if (spec->store == STORE_CHOICE) {
        int *choice = at;
        if (option_given(invocation, spec->name)) {
            *choice = invocation_choice(invocation, spec->name, words_of(invocation->arena, spec->value), 0);
        }
        return !error_is_set(&invocation->error);
    }
    size_t *row = at;
    const char *id = option_value(invocation, spec->name);
    *row = id == NULL ? *row : find_id(invocation, spec->kind, id);
    return id == NULL || *row != NO_INDEX;
}

static bool store_option(struct invocation *invocation, const struct option_spec *spec, char *into)
{
    void *at = into + spec->at;
    switch (spec->store) {
    case STORE_NOT:
        return true;
    case STORE_WORD:
        *(const char **)at = option_value(invocation, spec->name);
        return true;
    case STORE_FLAG:
        *(bool *)at = option_given(invocation, spec->name);
        return true;
    case STORE_WORDS:
        *(const char *const **)at = option_values(invocation, spec->name, (size_t *)(void *)(into + spec->count_at));
        return true;
    case STORE_ROWS:
        *(const size_t **)at = rows_of(invocation, spec, (size_t *)(void *)(into + spec->count_at));
        return *(const size_t **)at != NULL;
    default:
        return store_number(invocation, spec, at);
    }
}

bool invocation_options(struct invocation *invocation, void *into)
{
    const struct option_spec *spec = invocation->command->options;
    while (spec != NULL && spec->name != NULL) {
        if (!store_option(invocation, spec, into)) {
            return false;
        }
        spec++;
    }
    return true;
}
