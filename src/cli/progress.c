#include "progress.h"

#include <signal.h>
#include <stdbool.h>
#include <stddef.h>
#include <string.h>
#include <sys/time.h>
#include <unistd.h>

enum { LINE_ROOM = 80, NUMBER_ROOM = 8 };

static bool watching;
static const char *watched; /* the command's name */
static volatile sig_atomic_t seconds;
static volatile sig_atomic_t percent = -1;
static const char *volatile stage;

/* Everything from here to show is called in a signal handler: no allocation, no stdio, only write(2). */

static size_t add_string(char *line, size_t length, const char *string)
{
    size_t more = strlen(string);
    more = more < LINE_ROOM - length ? more : LINE_ROOM - length;
    memcpy(line + length, string, more);
    return length + more;
}

static size_t add_number(char *line, size_t length, sig_atomic_t number)
{
    char digits[NUMBER_ROOM] = {0};
    size_t at = NUMBER_ROOM - 1;
    do {
        digits[--at] = (char)('0' + number % 10);
        number /= 10;
    } while (number > 0 && at > 0);
    return add_string(line, length, digits + at);
}

static void write_line(const char *line, size_t length)
{
    ssize_t written = write(STDERR_FILENO, line, length);
    (void)written;
}

static void show(int signal_number)
{
    (void)signal_number;
    char line[LINE_ROOM];
    const char *what = stage;
    seconds = seconds + 1;
    size_t length = add_string(line, 0, "\rampsum ");
    length = add_string(line, length, watched);
    length = add_string(line, length, ": ");
    length = add_string(line, length, what == NULL ? "working" : what);
    if (percent >= 0) {
        length = add_string(line, length, " ");
        length = add_number(line, length, percent);
        length = add_string(line, length, " %");
    }
    length = add_string(line, length, ", ");
    length = add_number(line, length, seconds);
    length = add_string(line, length, " s  "); /* the last line may have been longer */
    write_line(line, length);
}

static void set_timer(long first_s, long every_s)
{
    struct itimerval timer = {.it_value = {.tv_sec = first_s}, .it_interval = {.tv_sec = every_s}};
    setitimer(ITIMER_REAL, &timer, NULL);
}

void progress_start(const char *command)
{
    if (!isatty(STDERR_FILENO)) {
        return;
    }
    watched = command;
    struct sigaction action = {.sa_handler = show, .sa_flags = SA_RESTART};
    sigemptyset(&action.sa_mask);
    watching = sigaction(SIGALRM, &action, NULL) == 0;
    if (watching) {
        set_timer(1, 1);
    }
}

void progress_share(const char *what, uint64_t done, uint64_t all)
{
    const uint64_t share = all == 0 || done >= all ? 100 : (uint64_t)(100.0 * (double)done / (double)all);
    stage = what;
    percent = (sig_atomic_t)share;
}

void progress_stop(void)
{
    if (!watching) {
        return;
    }
    set_timer(0, 0);
    watching = false;
    if (seconds > 0) {
        char line[LINE_ROOM];
        memset(line, ' ', sizeof line);
        line[0] = line[sizeof line - 1] = '\r';
        write_line(line, sizeof line);
    }
}
