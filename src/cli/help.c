#include <string.h>

#include "ampsum/words.h"
#include "cli.h"

void help_program(struct text *text)
{
    static const struct page page = {.width = 80};
    text_add(text, "ampsum tells what is on each branch of a house, what it draws together, how near\n"
                   "that is to the breaker, and what a day costs. It plans; local codes and a\n"
                   "licensed electrician decide.\n\n"
                   "  ampsum new --demo               writes demo-house, which the examples use\n"
                   "  ampsum check demo-house/us.ini\n\n"
                   "HOUSE is a house file (.ini) or a house database (.db), else $AMPSUM_HOUSE, else\n"
                   "house.db.\n\n");
    for (size_t i = 0; commands[i] != NULL; i++) {
        text_printf(text, "  %-10s ", commands[i]->name);
        show_wrap(&page, 13, commands[i]->summary, text);
    }
    text_add(text, "\n`ampsum COMMAND --help` shows options and an example, `ampsum help house` the\n"
                   "keys of a house file, `ampsum --version` the version.\n"
                   "Exit status: 0 done; 1 done, and a branch is over; 2 wrong command line or\n"
                   "input; 3 the house database can't be read or written.\n");
}

static void help_option(const struct option_spec *spec, const struct page *page, struct text *text)
{
    struct text left = {0};
    if (spec->letter != '\0') {
        text_printf(&left, "-%c, ", spec->letter);
    }
    text_printf(&left, "--%s%s%s", spec->name, spec->value != NULL ? "=" : "", spec->value != NULL ? spec->value : "");
    if (words_columns(text_string(&left)) > 22) {
        text_printf(text, "  %s\n%25s", text_string(&left), "");
    } else {
        text_printf(text, "  %-22s ", text_string(&left));
    }
    show_wrap(page, 25, spec->help, text);
    text_done(&left);
}

/* The commands; where the demo houses are that they name, for who has no sources. */
static void help_examples(const struct command *command, struct text *text)
{
    bool demo = false;
    for (size_t i = 0; command->examples[i] != NULL; i++) {
        text_printf(text, "%s  %s\n", i == 0 ? "Example:" : "        ", command->examples[i]);
        demo = demo || strstr(command->examples[i], "demo-house/") != NULL;
    }
    text_add(text, demo ? "(No demo-house here? `ampsum new --demo` writes it.)\n" : "");
}

void help_command(const struct command *command, const struct page *page, struct text *text)
{
    help_examples(command, text);
    text_printf(text, "\nampsum %s %s [OPTIONS]\n  ", command->name, command->operands);
    show_wrap(page, 2, command->summary, text);
    text_add_char(text, '\n');
    const struct option_spec *spec = NULL;
    for (size_t i = 0; (spec = command_option(command, i)) != NULL; i++) {
        help_option(spec, page, text);
    }
    struct text detail = {0};
    for (size_t i = 0; command_detail(command, i, &detail); i++) {
        text_add(text, i == 0 ? "\n" : "");
        for (const char *at = text_string(&detail); *at != '\0'; at += strspn(at, "\n")) {
            struct text line = {0};
            text_add_length(&line, at, strcspn(at, "\n"));
            show_line(page, 0, 0, &line, text);
            at += strcspn(at, "\n");
        }
        text_clear(&detail);
    }
    text_done(&detail);
}
