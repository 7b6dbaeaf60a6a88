#include "peer.h"

#include <arpa/inet.h>
#include <errno.h>
#include <stdlib.h>
#include <unistd.h>

enum { LINE_BYTES_MOST = 512 };

/* A line of the table: addresses as the bytes of a number in this machine's order, ports as written. */
static bool read_line(const char *line, unsigned client_port, unsigned server_port, uid_t *ret_user)
{
    unsigned local = 0;
    unsigned local_port = 0;
    unsigned remote = 0;
    unsigned remote_port = 0;
    unsigned user = 0;
    const int fields = sscanf(line, " %*u: %8x:%4x %8x:%4x %*x %*x:%*x %*x:%*x %*x %u", &local, &local_port, &remote,
                              &remote_port, &user);
    const unsigned loopback = htonl(INADDR_LOOPBACK);
    if (fields != 5 || local != loopback || remote != loopback || local_port != client_port ||
        remote_port != server_port) {
        return false;
    }
    *ret_user = (uid_t)user;
    return true;
}

bool peer_in_table(FILE *table, unsigned client_port, unsigned server_port, uid_t *ret_user)
{
    char line[LINE_BYTES_MOST];
    while (fgets(line, sizeof line, table) != NULL) {
        if (read_line(line, client_port, server_port, ret_user)) {
            return true;
        }
    }
    return false;
}

/* Who called `sudo`, where the program was started so: their browser is not root's. */
static bool is_behind_sudo(uid_t user)
{
    const char *given = geteuid() == 0 ? getenv("SUDO_UID") : NULL;
    char *end = NULL;
    const unsigned long behind = given == NULL ? 0 : strtoul(given, &end, 10);
    return end != NULL && end != given && *end == '\0' && behind == user;
}

bool peer_is_own(unsigned client_port, unsigned server_port)
{
    FILE *table = fopen("/proc/net/tcp", "re");
    if (table == NULL) {
        return true;
    }
    uid_t user = 0;
    const bool found = peer_in_table(table, client_port, server_port, &user);
    fclose(table);
    return found && (user == geteuid() || user == 0 || is_behind_sudo(user));
}

/* A line of a socket that listens (state 0A) at the port, whatever its address. */
static bool is_listener(const char *line, unsigned port, uid_t *ret_user)
{
    unsigned local_port = 0;
    unsigned state = 0;
    unsigned user = 0;
    enum { LISTENS = 0x0A };
    const int fields = sscanf(line, " %*u: %*x:%4x %*x:%*x %2x %*x:%*x %*x:%*x %*x %u", &local_port, &state, &user);
    *ret_user = (uid_t)user;
    return fields == 3 && local_port == port && state == LISTENS;
}

bool peer_listens_own(unsigned port)
{
    char line[LINE_BYTES_MOST];
    FILE *table = fopen("/proc/net/tcp", "re");
    bool own = false;
    while (table != NULL && fgets(line, sizeof line, table) != NULL) {
        uid_t user = 0;
        own = own || (is_listener(line, port, &user) && user == geteuid());
    }
    if (table != NULL) {
        fclose(table);
    }
    return own;
}
