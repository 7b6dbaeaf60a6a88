/*
 * Whose connection it is. Every user of this computer reaches a port of 127.0.0.1, and a browser sends its cookies to
 * every port of a host: a key that others may come to see lets nobody in but the person who started the program.
 */
#ifndef AMPSUM_SERVE_PEER_H
#define AMPSUM_SERVE_PEER_H

#include <stdbool.h>
#include <stdio.h>
#include <sys/types.h>

/*
 * The user at the other end of a connection from 127.0.0.1:`client_port` to 127.0.0.1:`server_port`, asked of the
 * kernel (sock_diag(7)). False where it knows none, none that somebody still holds, or takes no such question.
 */
bool peer_in_kernel(unsigned client_port, unsigned server_port, uid_t *ret_user);

/*
 * The same, of a table. The user at the other end of a connection from 127.0.0.1:`client_port` to
 * 127.0.0.1:`server_port`, from the kernel's table of TCP connections (/proc/net/tcp, the columns of
 * Documentation/networking/proc_net_tcp.rst). False where the table has no such line, or one without an inode: nobody
 * holds that connection any more, and it is shown as root's.
 */
bool peer_in_table(FILE *table, unsigned client_port, unsigned server_port, uid_t *ret_user);

/* True for the user who started this program (through sudo, too) and for root. Where the system has no table: for all.
 */
bool peer_is_own(unsigned client_port, unsigned server_port);

/* True where a program of this user listens at that port of 127.0.0.1. */
bool peer_listens_own(unsigned port);

#endif
