/*
 * One run of a command: its options parsed with popt, its answer or its error printed.
 */
#include <ctype.h>
#include <errno.h>
#include <langinfo.h>
#include <popt.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/ioctl.h>
#include <unistd.h>

#include "ampsum/reference.h"
#include "ampsum/words.h"
#include "cli.h"
#include "progress.h"

struct given_option {
    const char *name;
    const char *value;
};

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

bool option_next(const struct invocation *invocation, size_t index, const char **ret_name, const char **ret_value)
{
    if (index >= invocation->given_count) {
        return false;
    }
    *ret_name = invocation->given[index].name;
    *ret_value = invocation->given[index].value;
    return true;
}

const char *option_value_at(const struct invocation *invocation, const char *name, size_t index)
{
    for (size_t i = 0; i < invocation->given_count; i++) {
        if (strcmp(invocation->given[i].name, name) == 0 && index-- == 0) {
            return invocation->given[i].value;
        }
    }
    return NULL;
}

size_t option_count(const struct invocation *invocation, const char *name)
{
    size_t count = 0;
    for (size_t i = 0; i < invocation->given_count; i++) {
        count += strcmp(invocation->given[i].name, name) == 0;
    }
    return count;
}

const char *const *option_values(struct invocation *invocation, const char *name, size_t *ret_count)
{
    *ret_count = option_count(invocation, name);
    const char **values = arena_array(invocation->arena, *ret_count, sizeof *values);
    for (size_t i = 0; i < *ret_count; i++) {
        values[i] = option_value_at(invocation, name, i);
    }
    return values;
}

bool option_given(const struct invocation *invocation, const char *name)
{
    return option_count(invocation, name) > 0;
}

const char *option_value(const struct invocation *invocation, const char *name)
{
    size_t count = option_count(invocation, name);
    return count == 0 ? NULL : option_value_at(invocation, name, count - 1);
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
    const char *value = option_value(invocation, "format");
    if (value == NULL) {
        return true;
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
        (struct given_option){spec->name, *value == NULL ? "" : arena_copy(invocation->arena, *value)};
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

/* True where the command is to run; false with the error set, or after --help put the help into `out`. */
static bool parse_options(struct invocation *invocation, int argc, const char **argv)
{
    size_t count = spec_count(invocation->command);
    char **values = arena_array(invocation->arena, count + 1, sizeof *values);
    const char **words = invocation->command->minus ? spell_minus(invocation, argc, argv) : argv;
    poptContext context = poptGetContext(NULL, argc, words, popt_table(invocation, values), 0);
    if (context == NULL) {
        memory_fail();
    }
    int result = 0;
    bool help = false;
    while ((result = poptGetNextOpt(context)) > 0) {
        if (result == POPT_HELP) {
            help = true;
        } else {
            size_t index = (size_t)(result - POPT_FIRST);
            keep_option(invocation, spec_at(invocation->command, index), &values[index]);
        }
    }
    if (result == POPT_ERROR_BADOPT) {
        unknown_option(invocation, poptBadOption(context, POPT_BADOPTION_NOALIAS));
    } else if (result < -1) {
        error_set(&invocation->error, ERROR_INPUT, "%s: %s", poptBadOption(context, POPT_BADOPTION_NOALIAS),
                  poptStrerror(result));
    }
    const char **rest = poptGetArgs(context);
    for (size_t n = 0; rest != NULL && rest[n] != NULL; n++) {
        invocation->operand_count = n + 1;
    }
    invocation->operands = arena_array(invocation->arena, invocation->operand_count, sizeof *invocation->operands);
    for (size_t i = 0; i < invocation->operand_count; i++) {
        invocation->operands[i] = arena_copy(invocation->arena, rest[i]);
    }
    poptFreeContext(context);
    if (help) {
        help_command(invocation->command, &invocation->page, &invocation->out);
    }
    return !help && !error_is_set(&invocation->error) && read_format(invocation);
}

/* Columns: $COLUMNS, else the terminal's, else 80; kept between 40 and 120. */
static size_t columns_now(void)
{
    enum { NARROWEST = 40, WIDEST = 120, USUAL = 80 };
    const char *said = getenv("COLUMNS");
    long columns = said == NULL ? 0 : strtol(said, NULL, 10);
    struct winsize size;
    if (columns <= 0 && isatty(STDOUT_FILENO) && ioctl(STDOUT_FILENO, TIOCGWINSZ, &size) == 0) {
        columns = size.ws_col;
    }
    columns = columns <= 0 ? USUAL : columns > WIDEST ? WIDEST : columns;
    return (size_t)(columns < NARROWEST ? NARROWEST : columns);
}

/* Colour where a person looks at a terminal that has it and has not declined. */
static bool wants_colour(void)
{
    const char *declined = getenv("NO_COLOR");
    const char *terminal = getenv("TERM");
    return isatty(STDOUT_FILENO) && (declined == NULL || declined[0] == '\0') && terminal != NULL &&
           terminal[0] != '\0' && strcmp(terminal, "dumb") != 0;
}

struct page terminal_page(void)
{
    return (struct page){columns_now(), strcmp(nl_langinfo(CODESET), "UTF-8") == 0};
}

/* Prints what the command made. A reader that went away is no error of ours; a full disk is. */
static int print_out(struct invocation *invocation, int status)
{
    struct text plain = {0};
    const struct text *out = &invocation->out;
    if (!invocation->page.utf8 && invocation->format == FORMAT_TABLE) {
        show_plain(text_string(out), &plain);
        out = &plain;
    }
    struct text coloured = {0};
    if (invocation->format == FORMAT_TABLE && wants_colour()) {
        show_coloured(text_string(out), &coloured);
        out = &coloured;
    }
    bool written = fwrite(text_string(out), 1, out->length, stdout) == out->length && fflush(stdout) == 0;
    text_done(&coloured);
    text_done(&plain);
    if (!written && errno != EPIPE) {
        fprintf(stderr, "ampsum: standard output: %s\n", strerror(errno));
        return 3;
    }
    return status;
}

/* FILE:LINE: stands first, alone or among others, so that editors and scripts find the place. */
static bool begins_with_place(const char *message)
{
    const char *end = message[0] == '-' ? NULL : strstr(message, ": "); /* an option's value may hold a colon too */
    const char *at = end;
    while (at != NULL && at > message && isdigit((unsigned char)at[-1])) {
        at--;
    }
    return at != end && at - message > 1 && at[-1] == ':';
}

static void print_error(const struct error *error)
{
    const char *message = error_message(error);
    fputs(strchr(message, '\n') == NULL && !begins_with_place(message) ? "ampsum: " : "", stderr);
    fprintf(stderr, "%s\n", message);
}

int run_command(const struct command *command, int argc, const char **argv)
{
    struct invocation invocation = {
        .command = command, .arena = arena_new(), .page = terminal_page(), .words = argv, .word_count = (size_t)argc};
    int status = 0;
    if (parse_options(&invocation, argc, argv)) {
        if (!command->waits) {
            progress_start(command->name);
        }
        status = command->run(&invocation);
        progress_stop();
    }
    if (error_is_set(&invocation.error)) {
        print_error(&invocation.error);
        status = error_exit_status(&invocation.error);
    }
    status = print_out(&invocation, status);
    house_free(invocation.house);
    text_done(&invocation.out);
    error_done(&invocation.error);
    free(invocation.given);
    arena_free(invocation.arena);
    return status;
}
