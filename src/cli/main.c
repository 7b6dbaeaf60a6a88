/*
 * The program: finds the command in the table and runs it.
 */
#include <errno.h>
#include <locale.h>
#include <malloc.h>
#include <signal.h>
#include <stdio.h>
#include <string.h>

#include "ampsum/keys.h"
#include "ampsum/text.h"
#include "ampsum/words.h"
#include "cli.h"
#include "config.h"
#include "last_memory.h"
#include "second.h"

static const struct command *command_named(const char *name)
{
    for (size_t i = 0; commands[i] != NULL; i++) {
        if (strcmp(commands[i]->name, name) == 0) {
            return commands[i];
        }
    }
    return NULL;
}

/* `help`: asked for help on it, which `house` is a topic of, too. */
static int unknown_command(const char *name, bool help)
{
    struct words_nearest nearest;
    words_nearest_init(&nearest, name);
    for (size_t i = 0; commands[i] != NULL; i++) {
        words_nearest_offer(&nearest, commands[i]->name);
    }
    if (help) {
        words_nearest_offer(&nearest, "house");
    }
    struct text message = {0};
    text_add(&message, "ampsum: '");
    text_add_shown(&message, name);
    text_add(&message, name[0] == '-' ? "' is no option of ampsum without a command" : "' is not a command");
    if (nearest.best != NULL && name[0] != '-') {
        text_printf(&message, "; the nearest is '%s%s'", help ? "help " : "", nearest.best);
    }
    fprintf(stderr, "%s; `ampsum --help` lists them\n", text_string(&message));
    text_done(&message);
    return 2;
}

/* Prints and frees the text. A reader that went away is no error of ours; a full disk is, as for any command. */
static int print_done(struct text *text)
{
    bool written = fputs(text_string(text), stdout) >= 0 && fflush(stdout) == 0;
    int reason = errno;
    text_done(text);
    if (!written && reason != EPIPE) {
        fprintf(stderr, "ampsum: standard output: %s\n", strerror(reason));
        return 3;
    }
    return 0;
}

static int print_program_help(void)
{
    struct text text = {0};
    help_program(&text);
    return print_done(&text);
}

/* `help house [KIND]` */
static int print_house_help(const char *kind)
{
    const struct section *only = kind == NULL ? NULL : section_named(kind);
    if (kind != NULL && only == NULL) {
        struct text message = {0};
        text_add_shown(&message, kind);
        fprintf(stderr, "ampsum: help house %s: no section of a house file; `ampsum help house` lists them\n",
                text_string(&message));
        text_done(&message);
        return 2;
    }
    const struct page page = terminal_page();
    struct text text = {0};
    help_house(only, &page, &text);
    return print_done(&text);
}

static int print_help(int argc, char **argv)
{
    if (argc < 3) {
        return print_program_help();
    }
    if (strcmp(argv[2], "house") == 0) {
        return print_house_help(argc > 3 ? argv[3] : NULL);
    }
    const struct command *asked = command_named(argv[2]);
    if (asked == NULL) {
        return unknown_command(argv[2], true);
    }
    const char *help_arguments[] = {asked->name, "--help", NULL};
    return run_command(asked, 2, help_arguments);
}

static bool asks_version(const char *word)
{
    return strcmp(word, "--version") == 0 || strcmp(word, "-V") == 0 || strcmp(word, "version") == 0;
}

static int print_version(void)
{
    struct text text = {0};
    text_printf(&text, "ampsum %s\n", AMPSUM_VERSION);
    return print_done(&text);
}

/*
 * SQLite takes and gives back some hundred kilobytes for each row that it inserts (a small table in memory for every
 * list of words that a column is checked against). glibc would hand them to the system and fetch them again each time.
 */
static void keep_freed_memory(void)
{
#ifdef M_TRIM_THRESHOLD
    enum { KEPT_BYTES = 16 << 20 };
    mallopt(M_TRIM_THRESHOLD, KEPT_BYTES);
#endif
}

int main(int argc, char **argv)
{
    keep_freed_memory();
    last_memory_start();
    setlocale(LC_CTYPE, "");
    signal(SIGPIPE, SIG_IGN);
    signal(SIGXFSZ, SIG_IGN); /* a file at its limit is an error as a full disk is: what was begun is taken away */
    const char *word = argc > 1 ? argv[1] : NULL;
    if (word == NULL || strcmp(word, "--help") == 0 || strcmp(word, "-h") == 0) {
        return print_program_help();
    }
    if (asks_version(word)) {
        return print_version();
    }
    if (strcmp(word, "help") == 0) {
        return print_help(argc, argv);
    }
    const struct command *command = command_named(word);
    if (command == NULL) {
        return unknown_command(word, false);
    }
    if (command->run == NULL) {
        return run_second_program(command->program, (const char **)(void *)argv);
    }
    return run_command(command, argc - 1, (const char **)(void *)(argv + 1));
}
