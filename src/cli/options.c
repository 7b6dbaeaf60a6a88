/* A command's options, stored as the rows of its table say. */
#include <string.h>

#include "ampsum/quantity.h"
#include "ampsum/reference.h"
#include "cli.h"

/* ---- as given */

/* The last value of an option; NULL where it is not given. */
static const char *value_of(const struct invocation *invocation, const struct option_spec *spec)
{
    const char *value = NULL;
    for (size_t i = 0; i < invocation->given_count; i++) {
        const struct choice_said *given = &invocation->given[i];
        value = strcmp(given->name, spec->name) == 0 ? given->value : value;
    }
    return value;
}

/* All of them, in the arena. */
static const char *const *values_of(struct invocation *invocation, const struct option_spec *spec, size_t *ret_count)
{
    const char **values = arena_array(invocation->arena, invocation->given_count + 1, sizeof *values);
    *ret_count = 0;
    for (size_t i = 0; i < invocation->given_count; i++) {
        if (strcmp(invocation->given[i].name, spec->name) == 0) {
            values[(*ret_count)++] = invocation->given[i].value;
        }
    }
    return values;
}

static bool is_step(const struct command *command, const char *name, size_t at)
{
    const struct option_spec *spec = command->options;
    while (spec->name != NULL && strcmp(spec->name, name) != 0) {
        spec++;
    }
    return spec->name != NULL && spec->store == STORE_STEPS && spec->at == at;
}

/* The options of all rows that go to the field `at`, in the order given. */
static const struct choice_said *steps_of(struct invocation *invocation, size_t at, size_t *ret_count)
{
    struct choice_said *steps = arena_array(invocation->arena, invocation->given_count + 1, sizeof *steps);
    *ret_count = 0;
    for (size_t i = 0; i < invocation->given_count; i++) {
        if (is_step(invocation->command, invocation->given[i].name, at)) {
            steps[(*ret_count)++] = invocation->given[i];
        }
    }
    return steps;
}

/* ---- what is read from a value; false with the error set */

static bool refuse(struct invocation *invocation, const struct option_spec *spec, const char *value,
                   const struct text *fault)
{
    error_set(&invocation->error, ERROR_INPUT, "--%s %s: %s", spec->name, value, text_string(fault));
    return false;
}

static bool read_whole(struct invocation *invocation, const struct option_spec *spec, const char *value, long *whole)
{
    struct text fault = {0};
    const bool good =
        quantity_read_whole(value, spec->least, spec->most, whole, &fault) || refuse(invocation, spec, value, &fault);
    text_done(&fault);
    return good;
}

/* The place of a value among the words of `a|b|c`. */
static bool read_choice(struct invocation *invocation, const struct option_spec *spec, const char *value, int *choice)
{
    struct text fault = {0};
    const char *words = spec->value;
    bool found = false;
    text_add(&fault, "expected ");
    for (int i = 0; words[0] != '\0' && !found; i++) {
        const size_t length = strcspn(words, "|");
        found = strlen(value) == length && strncmp(words, value, length) == 0;
        *choice = found ? i : *choice;
        text_add(&fault, i == 0 ? "" : words[length] == '\0' ? " or " : ", ");
        text_add_length(&fault, words, length);
        words += length + (words[length] == '|');
    }
    found = found || refuse(invocation, spec, value, &fault);
    text_done(&fault);
    return found;
}

static bool read_one_of(struct invocation *invocation, const struct option_spec *spec, const char *value,
                        const char **word)
{
    int place = 0;
    *word = value;
    return read_choice(invocation, spec, value, &place);
}

static bool read_rules(struct invocation *invocation, const struct option_spec *spec, const char *value,
                       const char **word)
{
    struct text fault = {0};
    *word = value;
    text_add(&fault, "expected ");
    reference_rule_set_list(&fault);
    const bool good = reference_rule_set(value) != NULL || refuse(invocation, spec, value, &fault);
    text_done(&fault);
    return good;
}

static bool read_current(struct invocation *invocation, const struct option_spec *spec, const char *value,
                         double *current_a)
{
    struct text fault = {0};
    const bool good =
        quantity_read(value, DIMENSION_CURRENT, invocation->house->rules, KEY_ABOVE_ZERO, current_a, &fault);
    if (!good) {
        error_set(&invocation->error, ERROR_INPUT, "--%s: %s", spec->name, text_string(&fault));
    }
    text_done(&fault);
    return good;
}

static bool read_row(struct invocation *invocation, const struct option_spec *spec, const char *value, size_t *row)
{
    *row = find_id(invocation, spec->kind, value);
    return *row != NO_INDEX;
}

/* The rows of all IDs given; NULL with the error set. */
static const size_t *read_rows(struct invocation *invocation, const struct option_spec *spec, size_t *ret_count)
{
    const char *const *ids = values_of(invocation, spec, ret_count);
    size_t *rows = arena_array(invocation->arena, *ret_count + 1, sizeof *rows);
    for (size_t i = 0; i < *ret_count; i++) {
        if (!read_row(invocation, spec, ids[i], &rows[i])) {
            return NULL;
        }
    }
    return rows;
}

/* ---- as stored */

/* What has one value, which is given. */
static bool store_value(struct invocation *invocation, const struct option_spec *spec, const char *value, void *at)
{
    switch (spec->store) {
    case STORE_WORD:
        *(const char **)at = value;
        return true;
    case STORE_FLAG:
        *(bool *)at = true;
        return true;
    case STORE_WHOLE:
        return read_whole(invocation, spec, value, at);
    case STORE_CHOICE:
        return read_choice(invocation, spec, value, at);
    case STORE_ONE_OF:
        return read_one_of(invocation, spec, value, at);
    case STORE_RULES:
        return read_rules(invocation, spec, value, at);
    case STORE_CURRENT:
        return read_current(invocation, spec, value, at);
    default:
        return read_row(invocation, spec, value, at);
    }
}

static bool store_option(struct invocation *invocation, const struct option_spec *spec, char *into)
{
    void *at = into + spec->at;
    size_t *count = (void *)(into + spec->count_at);
    const char *value = value_of(invocation, spec);
    switch (spec->store) {
    case STORE_WORDS:
        *(const char *const **)at = values_of(invocation, spec, count);
        return true;
    case STORE_STEPS:
        *(const struct choice_said **)at = steps_of(invocation, spec->at, count);
        return true;
    case STORE_ROWS:
        *(const size_t **)at = read_rows(invocation, spec, count);
        return *(const size_t **)at != NULL;
    default:
        return value == NULL || store_value(invocation, spec, value, at);
    }
}

static bool store_options(struct invocation *invocation, bool of_house, void *into)
{
    const struct option_spec *spec = invocation->command->options;
    for (; spec != NULL && spec->name != NULL; spec++) {
        if ((spec->store >= STORE_CURRENT) == of_house && !store_option(invocation, spec, into)) {
            return false;
        }
    }
    return true;
}

bool invocation_options(struct invocation *invocation, void *into)
{
    invocation->wanted = into;
    return store_options(invocation, false, into);
}

bool invocation_begin(struct invocation *invocation, size_t least, size_t most, void *into)
{
    return invocation_options(invocation, into) && invocation_house(invocation, most) &&
           invocation_operands(invocation, least, most) && store_options(invocation, true, into);
}
