/*
 * The second program `ampsum-draw`: what `ampsum` hands over when a file needs cairo and pango. It takes the same
 * command line, or `lesson-paper FOLDER a4|letter [together]`.
 */
#include <locale.h>
#include <signal.h>
#include <stdio.h>
#include <string.h>

#include "../draw/lesson_paper.h"
#include "cli.h"
#include "last_memory.h"
#include "print_output.h"

int main(int argc, char **argv)
{
    last_memory_start();
    setlocale(LC_CTYPE, "");
    signal(SIGPIPE, SIG_IGN);
    signal(SIGXFSZ, SIG_IGN);
    print_backend = &print_cairo;
    const char *word = argc > 1 ? argv[1] : "";
    if (strcmp(word, "lesson-paper") == 0) {
        return lesson_paper_main(argc, argv);
    }
    static const char *const drawing[] = {"report", "directory", "solve", "demand", "mark"};
    for (size_t i = 0; i < sizeof drawing / sizeof drawing[0]; i++) {
        for (size_t j = 0; strcmp(word, drawing[i]) == 0 && commands[j] != NULL; j++) {
            if (strcmp(commands[j]->name, word) == 0) {
                return run_command(commands[j], argc - 1, (const char **)(void *)(argv + 1));
            }
        }
    }
    fputs("ampsum-draw: a part of ampsum; call `ampsum report` or `ampsum directory`\n", stderr);
    return 2;
}
