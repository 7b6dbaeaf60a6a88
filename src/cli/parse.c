/* A command's words, read with popt into options and operands. */
#include <ctype.h>
#include <popt.h>
#include <stdlib.h>
#include <string.h>

#include "ampsum/reference.h"
#include "ampsum/words.h"
#include "cli.h"

static const struct option_spec format_option = {"format", '\0', "table|csv|json", "how the answer is printed"};
static const struct option_spec help_option = {"help", 'h', NULL, "this text"};

static const struct option_spec *spec_at(const struct command *command, size_t index)
{
    size_t own = 0;
    while (command->options != NULL && command->options[own].name != NULL) {
        if (own == index) {
            return &command->options[own];
        }
        own++;
    }
    return command->rows && index == own ? &format_option : NULL;
}

const struct option_spec *command_option(const struct command *command, size_t index)
{
    static struct text value;
    static struct text help;
    static struct option_spec filled;
    const struct option_spec *spec = spec_at(command, index);
    const bool past = index > 0 && spec_at(command, index - 1) == NULL;
    if (spec == NULL && past) {
        return NULL;
    }
    filled = spec == NULL ? help_option : *spec;
    text_clear(&value);
    text_clear(&help);
    reference_fill(&value, filled.value == NULL ? "" : filled.value, NULL);
    reference_fill(&help, filled.help, NULL);
    filled.value = filled.value == NULL ? NULL : text_string(&value);
    filled.help = text_string(&help);
    return &filled;
}

bool command_detail(const struct command *command, size_t index, struct text *text)
{
    const bool there = command->details != NULL && command->details[index] != NULL;
    reference_fill(text, there ? command->details[index] : "", NULL);
    return there;
}

static size_t spec_count(const struct command *command)
{
    size_t count = 0;
    while (spec_at(command, count) != NULL) {
        count++;
    }
    return count;
}

static void unknown_option(struct invocation *invocation, const char *bad)
{
    const char *word = bad + strspn(bad, "-");
    char *name = arena_copy_length(invocation->arena, word, strcspn(word, "="));
    struct words_nearest nearest;
    words_nearest_init(&nearest, name);
    for (size_t i = 0; spec_at(invocation->command, i) != NULL; i++) {
        words_nearest_offer(&nearest, spec_at(invocation->command, i)->name);
    }
    struct text message = {0};
    text_printf(&message, "%s: unknown option %s", invocation->command->name, bad);
    if (nearest.best != NULL) {
        text_printf(&message, "; the nearest is --%s", nearest.best);
    }
    text_printf(&message, "; `ampsum %s --help` lists them", invocation->command->name);
    error_set(&invocation->error, ERROR_INPUT, "%s", text_string(&message));
    text_done(&message);
}

static bool read_format(struct invocation *invocation)
{
    static const char *const words[] = {"table", "csv", "json"};
    const char *value = "table";
    for (size_t i = 0; i < invocation->given_count; i++) {
        const struct choice_said *given = &invocation->given[i];
        value = strcmp(given->name, "format") == 0 ? given->value : value;
    }
    for (size_t i = 0; i < 3; i++) {
        if (strcmp(words[i], value) == 0) {
            invocation->format = (enum format)i;
            return true;
        }
    }
    error_set(&invocation->error, ERROR_INPUT, "--format %s: not a format, expected table, csv or json", value);
    return false;
}

enum { POPT_HELP = 1, POPT_FIRST = 2 };

/* The popt table of a command: its own options, --format, --help. */
static struct poptOption *popt_table(struct invocation *invocation, char **values)
{
    size_t count = spec_count(invocation->command);
    struct poptOption *table = arena_array(invocation->arena, count + 2, sizeof *table);
    for (size_t i = 0; i < count; i++) {
        const struct option_spec *spec = spec_at(invocation->command, i);
        table[i] = (struct poptOption){.longName = spec->name,
                                       .shortName = spec->letter,
                                       .argInfo = spec->value != NULL ? POPT_ARG_STRING : POPT_ARG_NONE,
                                       .arg = spec->value != NULL ? (void *)&values[i] : NULL,
                                       .val = POPT_FIRST + (int)i};
    }
    table[count] =
        (struct poptOption){.longName = "help", .shortName = 'h', .argInfo = POPT_ARG_NONE, .val = POPT_HELP};
    return table;
}

static void keep_option(struct invocation *invocation, const struct option_spec *spec, char **value)
{
    invocation->given =
        memory_grow(invocation->given, invocation->given_count, &invocation->given_capacity, sizeof *invocation->given);
    invocation->given[invocation->given_count++] =
        (struct choice_said){spec->name, *value == NULL ? "" : arena_copy(invocation->arena, *value)};
    free(*value);
    *value = NULL;
}

/* The words with a minus sign of its own before every number that a hyphen stands before, so that it is no option. */
static const char **spell_minus(struct invocation *invocation, int argc, const char **argv)
{
    const char **words = arena_array(invocation->arena, (size_t)argc + 1, sizeof *words);
    for (int i = 0; i < argc; i++) {
        words[i] = argv[i];
        if (argv[i][0] == '-' && isdigit((unsigned char)argv[i][1])) {
            words[i] = arena_printf(invocation->arena, "\xE2\x88\x92%s", argv[i] + 1);
        }
    }
    return words;
}

/* Options as they stand on the command line, kept until the last; popt's own error or -1. `ret_help`: --help stands. */
static int read_words(struct invocation *invocation, poptContext context, char **values, bool *ret_help)
{
    int result = 0;
    while ((result = poptGetNextOpt(context)) > 0) {
        if (result == POPT_HELP) {
            *ret_help = true;
        } else {
            const size_t index = (size_t)(result - POPT_FIRST);
            keep_option(invocation, spec_at(invocation->command, index), &values[index]);
        }
    }
    return result;
}

static void keep_operands(struct invocation *invocation, const char **rest)
{
    size_t count = 0;
    while (rest != NULL && rest[count] != NULL) {
        count++;
    }
    invocation->operand_count = count;
    invocation->operands = arena_array(invocation->arena, count, sizeof *invocation->operands);
    for (size_t i = 0; i < count; i++) {
        invocation->operands[i] = arena_copy(invocation->arena, rest[i]);
    }
}

bool invocation_parse(struct invocation *invocation, int argc, const char **argv)
{
    char **values = arena_array(invocation->arena, spec_count(invocation->command) + 1, sizeof *values);
    const char **words = invocation->command->minus ? spell_minus(invocation, argc, argv) : argv;
    poptContext context = poptGetContext(NULL, argc, words, popt_table(invocation, values), 0);
    bool help = false;
    if (context == NULL) {
        memory_fail();
    }
    const int result = read_words(invocation, context, values, &help);
    if (result == POPT_ERROR_BADOPT) {
        unknown_option(invocation, poptBadOption(context, POPT_BADOPTION_NOALIAS));
    } else if (result < -1) {
        error_set(&invocation->error, ERROR_INPUT, "%s: %s", poptBadOption(context, POPT_BADOPTION_NOALIAS),
                  poptStrerror(result));
    }
    keep_operands(invocation, poptGetArgs(context));
    poptFreeContext(context);
    if (help) {
        help_command(invocation->command, &invocation->page, &invocation->out);
    }
    return !help && !error_is_set(&invocation->error) && read_format(invocation);
}
