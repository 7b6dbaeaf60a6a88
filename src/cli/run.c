/* One run of a command: its words read, its answer or its error printed. */
#include <ctype.h>
#include <errno.h>
#include <langinfo.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/ioctl.h>
#include <unistd.h>

#include "cli.h"
#include "progress.h"

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
    if (invocation_parse(&invocation, argc, argv)) {
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
