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

/* A line of it: addresses as the bytes of a number in this machine's order, ports as written. */
struct line {
    unsigned local;
    unsigned local_port;
    unsigned remote;
    unsigned remote_port;
    unsigned state;
    unsigned user;
    unsigned long inode;
};

typedef bool line_fits(const struct line *line, unsigned port, unsigned remote_port);

/* A connection without an inode was left by who made it, and is said to be root's. */
static bool is_connection(const struct line *line, unsigned port, unsigned remote_port)
{
    const unsigned loopback = htonl(INADDR_LOOPBACK);
    return line->inode != 0 && line->local == loopback && line->remote == loopback && line->local_port == port &&
           line->remote_port == remote_port;
}

/* A socket of this user's that listens at the port, whatever its address. */
static bool is_own_listener(const struct line *line, unsigned port, unsigned remote_port)
{
    enum { LISTENS = 0x0A };
    return line->local_port == port && line->remote_port == remote_port && line->state == LISTENS &&
           line->user == geteuid();
}

/* The first line that fits. */
static bool find_line(FILE *table, line_fits *fits, unsigned port, unsigned remote_port, uid_t *ret_user)
{
    char text[LINE_BYTES_MOST];
    struct line line;
    while (fgets(text, sizeof text, table) != NULL) {
        const int fields =
            sscanf(text, " %*u: %8x:%4x %8x:%4x %2x %*x:%*x %*x:%*x %*x %u %*u %lu", &line.local, &line.local_port,
                   &line.remote, &line.remote_port, &line.state, &line.user, &line.inode);
        if (fields == 7 && fits(&line, port, remote_port)) {
            *ret_user = (uid_t)line.user;
            return true;
        }
    }
    return false;
}

bool peer_in_table(FILE *table, unsigned client_port, unsigned server_port, uid_t *ret_user)
{
    return find_line(table, is_connection, client_port, server_port, ret_user);
}

/* The same in the table of this system; false where it has none. */
static bool find_here(line_fits *fits, unsigned port, unsigned remote_port, uid_t *ret_user)
{
    FILE *table = fopen("/proc/net/tcp", "re");
    const bool found = table != NULL && find_line(table, fits, port, remote_port, ret_user);
    if (table != NULL) {
        fclose(table);
    }
    return found;
}

/* Who called `sudo`, where the program was started so: their browser is not root's. */
static bool is_behind_sudo(uid_t user)
{
    const char *given = geteuid() == 0 ? getenv("SUDO_UID") : NULL;
    char *end = NULL;
    const unsigned long behind = given == NULL ? 0 : strtoul(given, &end, 10);
    return end != NULL && end != given && *end == '\0' && behind == user;
}

/* One question costs the same however many connections the machine has; where the kernel takes none, its table is read.
 */
bool peer_is_own(unsigned client_port, unsigned server_port)
{
    uid_t user = 0;
    if (!peer_in_kernel(client_port, server_port, &user) &&
        !find_here(is_connection, client_port, server_port, &user)) {
        return access("/proc/net/tcp", R_OK) != 0; /* nobody can tell */
    }
    return user == geteuid() || user == 0 || is_behind_sudo(user);
}

bool peer_listens_own(unsigned port)
{
    uid_t user = 0;
    return find_here(is_own_listener, port, 0, &user);
}
