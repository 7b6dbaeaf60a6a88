/* With libFuzzer: the end of its processor time (`ulimit -S -t`) ends a run after the input at hand, as SIGUSR1 does. */
#include <signal.h>
#include <string.h>

static void end_gracefully(int number)
{
    (void)number;
    raise(SIGUSR1);
}

__attribute__((constructor)) static void watch_clock(void)
{
    struct sigaction action;
    memset(&action, 0, sizeof action);
    action.sa_handler = end_gracefully;
    action.sa_flags = SA_RESTART;
    sigaction(SIGXCPU, &action, NULL);
}
