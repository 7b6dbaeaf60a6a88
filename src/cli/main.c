/*
 * The program: finds the command in the table and runs it.
 */
#include <locale.h>
#include <signal.h>
#include <stdio.h>
#include <string.h>

#include "ampsum/words.h"
#include "cli.h"
#include "config.h"
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

static int unknown_command(const char *name)
{
    struct words_nearest nearest;
    words_nearest_init(&nearest, name);
    for (size_t i = 0; commands[i] != NULL; i++) {
        words_nearest_offer(&nearest, commands[i]->name);
    }
    fprintf(stderr, "ampsum: '%s' is not a command", name);
    if (nearest.best != NULL) {
        fprintf(stderr, "; the nearest is '%s'", nearest.best);
    }
    fputs("; `ampsum --help` lists them\n", stderr);
    return 2;
}

static int print_program_help(FILE *stream)
{
    struct text text = {0};
    help_program(&text);
    fputs(text_string(&text), stream);
    text_done(&text);
    return 0;
}

int main(int argc, char **argv)
{
    setlocale(LC_CTYPE, "");
    signal(SIGPIPE, SIG_IGN);
    const char *word = argc > 1 ? argv[1] : NULL;
    if (word == NULL || strcmp(word, "--help") == 0 || strcmp(word, "-h") == 0) {
        print_program_help(stdout);
        return 0;
    }
    if (strcmp(word, "--version") == 0) {
        printf("ampsum %s\n", AMPSUM_VERSION);
        return 0;
    }
    if (strcmp(word, "help") == 0) {
        if (argc < 3) {
            return print_program_help(stdout);
        }
        const struct command *asked = command_named(argv[2]);
        const char *help_arguments[] = {"ampsum", "--help", NULL};
        return asked == NULL ? unknown_command(argv[2]) : run_command(asked, 2, help_arguments);
    }
    const struct command *command = command_named(word);
    if (command == NULL) {
        return unknown_command(word);
    }
    if (command->run == NULL) {
        return run_second_program(command->program, argv);
    }
    return run_command(command, argc - 1, (const char **)(void *)(argv + 1));
}
