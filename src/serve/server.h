/* The socket: one loopback address, one thread, libmicrohttpd. The only file that knows HTTP's library. */
#ifndef AMPSUM_SERVE_SERVER_H
#define AMPSUM_SERVE_SERVER_H

#include <signal.h>

#include "site.h"

struct server;

/* Listens on 127.0.0.1:port (0: any free one) and draws the site's secrets. False with the error set. */
bool server_open(struct site *site, unsigned port, struct server **ret_server, struct error *error);

/* Answers until *stop is not 0. One thread: every request is done before the next is looked at. */
void server_run(struct server *server, const volatile sig_atomic_t *stop);

/* Closes all connections. NULL is allowed. */
void server_close(struct server *server);

#endif
