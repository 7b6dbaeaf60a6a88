/*
 * Answers that take long, made in a process of their own, so that the page goes on answering others meanwhile. The
 * process is a copy of this one as it stands at that moment: it answers the visit as the server would and hands the
 * reply back through a pipe. What it would keep for later visits is lost with it.
 */
#ifndef AMPSUM_SERVE_APART_H
#define AMPSUM_SERVE_APART_H

#include <stdbool.h>
#include <sys/types.h>

#include "ampsum/text.h"
#include "site.h"

enum {
    APART_MOST = 3,        /* at once: the rest wait for their turn */
    APART_MS_MOST = 25000, /* from start to the whole reply; a command within it has 20 s of its own */
    APART_STOP_MS = 2000   /* from being asked to end to being ended */
};

/* What to do where something was not made in time. */
#define IN_LESS_TIME                                                                                                   \
    "Try again while the computer has less to do, or ask for less at once: of worksheets, fewer students or fewer "    \
    "questions. The command of the same name has no limit of time"

/* Of CLOCK_MONOTONIC. */
long clock_ms(void);

struct apart {
    pid_t pid;
    int pipe;          /* non-blocking; the reply comes out of it */
    struct text bytes; /* of it so far */
    long end_ms;       /* on the clock of CLOCK_MONOTONIC */
    bool ended;        /* nothing more comes */
};

/* Starts answering the visit. False where no process can be had: the caller then answers itself. */
bool apart_start(struct apart *apart, struct visit *visit);

/* Takes what is there and waits for nothing; true where the reply is whole, broken off or out of time. */
bool apart_look(struct apart *apart);

/* The reply becomes the visit's; where none came whole the visit is refused. Ends with nothing left of the process. */
void apart_take(struct apart *apart, struct visit *visit);

/* Ends it without a reply. */
void apart_stop(struct apart *apart);

#endif
