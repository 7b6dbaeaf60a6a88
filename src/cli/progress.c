#include "progress.h"

#include <signal.h>
#include <stdbool.h>
#include <stddef.h>
#include <sys/time.h>
#include <unistd.h>

static volatile sig_atomic_t seconds;
static bool watching;

/* Only write(2) and a counter: allowed in a signal handler. */
static void show(int signal_number)
{
    (void)signal_number;
    static const char words[] = "ampsum: working ...";
    ssize_t written = seconds == 0 ? write(STDERR_FILENO, words, sizeof words - 1) : write(STDERR_FILENO, ".", 1);
    (void)written;
    seconds = seconds + 1;
}

static void set_timer(long first_s, long every_s)
{
    struct itimerval timer = {.it_value = {.tv_sec = first_s}, .it_interval = {.tv_sec = every_s}};
    setitimer(ITIMER_REAL, &timer, NULL);
}

void progress_start(void)
{
    if (!isatty(STDERR_FILENO)) {
        return;
    }
    struct sigaction action = {.sa_handler = show, .sa_flags = SA_RESTART};
    sigemptyset(&action.sa_mask);
    watching = sigaction(SIGALRM, &action, NULL) == 0;
    if (watching) {
        set_timer(1, 1);
    }
}

void progress_stop(void)
{
    if (!watching) {
        return;
    }
    set_timer(0, 0);
    watching = false;
    if (seconds > 0) {
        ssize_t written = write(STDERR_FILENO, "\n", 1);
        (void)written;
    }
}
