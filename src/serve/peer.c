#include "peer.h"

#include <arpa/inet.h>
#include <errno.h>
#include <linux/inet_diag.h>
#include <linux/netlink.h>
#include <linux/sock_diag.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>
#include <sys/socket.h>
#include <unistd.h>

enum { LINE_BYTES_MOST = 512 };

/* ------------------------------------------------------------------ one connection asked for -------------- */

static bool send_question(int channel, unsigned client_port, unsigned server_port)
{
    struct {
        struct nlmsghdr head;
        struct inet_diag_req_v2 body;
    } question = {
        .head = {.nlmsg_len = sizeof question, .nlmsg_type = SOCK_DIAG_BY_FAMILY, .nlmsg_flags = NLM_F_REQUEST},
        .body = {.sdiag_family = AF_INET,
                 .sdiag_protocol = IPPROTO_TCP,
                 .idiag_states = UINT32_MAX,
                 .id = {.idiag_sport = htons((uint16_t)client_port),
                        .idiag_dport = htons((uint16_t)server_port),
                        .idiag_src = {htonl(INADDR_LOOPBACK)},
                        .idiag_dst = {htonl(INADDR_LOOPBACK)},
                        .idiag_cookie = {INET_DIAG_NOCOOKIE, INET_DIAG_NOCOOKIE}}},
    };
    struct sockaddr_nl kernel = {.nl_family = AF_NETLINK};
    return sendto(channel, &question, sizeof question, 0, (struct sockaddr *)&kernel, sizeof kernel) ==
           (ssize_t)sizeof question;
}

bool peer_in_kernel(unsigned client_port, unsigned server_port, uid_t *ret_user)
{
    int channel = socket(AF_NETLINK, SOCK_RAW | SOCK_CLOEXEC, NETLINK_SOCK_DIAG);
    if (channel < 0) {
        return false;
    }
    union {
        struct nlmsghdr head;
        char bytes[1024];
    } answer;
    memset(&answer, 0, sizeof answer);
    const ssize_t length = send_question(channel, client_port, server_port)
                               ? recv(channel, &answer, sizeof answer, 0) /* the kernel answers at once */
                               : -1;
    close(channel);
    struct inet_diag_msg found;
    if (length < (ssize_t)(NLMSG_HDRLEN + sizeof found) || answer.head.nlmsg_type != SOCK_DIAG_BY_FAMILY) {
        return false;
    }
    memcpy(&found, answer.bytes + NLMSG_HDRLEN, sizeof found);
    *ret_user = found.idiag_uid;
    /* Where there is no such connection, who listens at the client's port is the answer. */
    return found.idiag_inode != 0 && found.id.idiag_sport == htons((uint16_t)client_port) &&
           found.id.idiag_dport == htons((uint16_t)server_port);
}

/* ------------------------------------------------------------------ the table of all of them -------------- */

/* A line of the table: addresses as the bytes of a number in this machine's order, ports as written. A connection
 * without an inode was left by who made it, and is said to be root's. */
static bool read_line(const char *line, unsigned client_port, unsigned server_port, uid_t *ret_user)
{
    unsigned long inode = 0;
    unsigned local = 0;
    unsigned local_port = 0;
    unsigned remote = 0;
    unsigned remote_port = 0;
    unsigned user = 0;
    const int fields = sscanf(line, " %*u: %8x:%4x %8x:%4x %*x %*x:%*x %*x:%*x %*x %u %*u %lu", &local, &local_port,
                              &remote, &remote_port, &user, &inode);
    const unsigned loopback = htonl(INADDR_LOOPBACK);
    if (fields != 6 || inode == 0 || local != loopback || remote != loopback || local_port != client_port ||
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

static bool owner(unsigned client_port, unsigned server_port, uid_t *ret_user)
{
    FILE *table = fopen("/proc/net/tcp", "re");
    const bool found = table != NULL && peer_in_table(table, client_port, server_port, ret_user);
    if (table != NULL) {
        fclose(table);
    }
    return found;
}

/* One question costs the same however many connections the machine has; where the kernel takes none, its table is read.
 */
bool peer_is_own(unsigned client_port, unsigned server_port)
{
    uid_t user = 0;
    if (!peer_in_kernel(client_port, server_port, &user) && !owner(client_port, server_port, &user)) {
        return access("/proc/net/tcp", R_OK) != 0; /* nobody can tell */
    }
    return user == geteuid() || user == 0 || is_behind_sudo(user);
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
