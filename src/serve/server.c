#include "server.h"

#include <arpa/inet.h>
#include <errno.h>
#include <microhttpd.h>
#include <netinet/in.h>
#include <stdlib.h>
#include <string.h>
#include <sys/queue.h>
#include <sys/socket.h>
#include <time.h>

#include "apart.h"
#include "peer.h"

static const long COOKIE_S = 30L * 24 * 60 * 60; /* a bookmark lives on when the browser was closed */

enum {
    CONNECTIONS_MOST = 256,
    CONNECTIONS_CROWD = 224, /* from here on the oldest that has not shown the key makes room */
    HEAD_MS_MOST = 5000,     /* from connecting to a head with the key in it */
    CONNECTION_BYTES_MOST = 32 * 1024,
    IDLE_S = 10,
    LOOK_MS = 200,               /* how often a stop is looked for where nothing comes in */
    LOOK_APART_MS = 5,           /* the same, and for replies, while one is made in a process of its own */
    DROPPED_BYTES_MOST = 1 << 20 /* of a body that is too large, before the line is cut */
};

/* One connection, from its first moment on. */
struct place {
    TAILQ_ENTRY(place) beside;
    int socket;
    long since_ms;
    bool let_in; /* a request on it had the key */
    bool cut;
};

struct pending;

struct server {
    struct MHD_Daemon *daemon;
    struct site *site;
    TAILQ_HEAD(, place) places; /* both in the order of their coming */
    size_t place_count;
    TAILQ_HEAD(, pending) long_ones; /* that are answered apart */
};

/* How far a request is that is answered apart. */
enum stage { STAGE_HERE, STAGE_WAITS, STAGE_RUNS, STAGE_REPLIED };

/* A request that is still coming in, or is answered apart. */
struct pending {
    struct MHD_Connection *connection;
    enum stage stage;
    struct apart apart;
    TAILQ_ENTRY(pending) beside; /* among the server's long ones */
    struct visit visit;
    struct request_head head;
    struct head_field field[GUARD_HEADERS_MOST + 1]; /* one more: the guard refuses so many */
    struct text body;
    size_t dropped;
    bool strange; /* a value that no form of ours sends */
};

static void pending_free(struct pending *pending)
{
    if (pending != NULL) {
        text_done(&pending->body);
        visit_done(&pending->visit);
        free(pending);
    }
}

static enum MHD_Result take_header(void *cls, enum MHD_ValueKind kind, const char *name, const char *value)
{
    (void)kind;
    struct pending *pending = cls;
    pending->field[pending->head.field_count++] = (struct head_field){name, value == NULL ? "" : value};
    return pending->head.field_count <= GUARD_HEADERS_MOST ? MHD_YES : MHD_NO;
}

static enum MHD_Result take_query(void *cls, enum MHD_ValueKind kind, const char *name, size_t name_length,
                                  const char *value, size_t value_length)
{
    (void)kind;
    struct pending *pending = cls;
    const char *given = value == NULL ? "" : value;
    while (value_length > 0 && given[value_length - 1] == ' ' && strlen(given) == value_length) {
        value_length--;
    }
    char *copy = arena_copy_length(pending->visit.arena, given, value_length);
    if (!form_text_is_plain(name, name_length) || !form_text_is_plain(copy, value_length)) {
        pending->strange = true;
        return MHD_YES;
    }
    form_add(&pending->visit.query, arena_copy_length(pending->visit.arena, name, name_length), copy);
    return MHD_YES;
}

static const char policy[] = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; connect-src "
                             "'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'";

static void add_header(struct MHD_Response *response, bool *good, const char *name, const char *value)
{
    *good = MHD_add_response_header(response, name, value) == MHD_YES && *good;
}

/*
 * False where one could not be added: no page goes out without its policy.
 * Referrer-Policy is not `no-referrer`: under that a browser sends its own forms with `Origin: null`.
 */
static bool add_headers(struct MHD_Response *response, const struct visit *visit)
{
    bool good = true;
    static const char *const always[][2] = {
        {"Content-Security-Policy", policy},
        {"X-Content-Type-Options", "nosniff"},
        {"Referrer-Policy", "same-origin"},
        {"Cross-Origin-Opener-Policy", "same-origin"},
        {"Cross-Origin-Resource-Policy", "same-origin"},
    };
    for (size_t i = 0; i < sizeof always / sizeof always[0]; i++) {
        add_header(response, &good, always[i][0], always[i][1]);
    }
    const struct reply *answer = &visit->answer;
    add_header(response, &good, "Content-Type", answer->type);
    add_header(response, &good, "Cache-Control", answer->kept ? "private, max-age=600" : "no-store");
    struct text value = {0};
    if (answer->location != NULL) {
        add_header(response, &good, "Location", answer->location);
    }
    if (answer->download != NULL) {
        text_printf(&value, "attachment; filename=\"%s\"", answer->download);
        add_header(response, &good, "Content-Disposition", text_string(&value));
    }
    if (answer->sets_key) {
        text_clear(&value);
        text_printf(&value, "ampsum-%u=%s; Path=/; HttpOnly; SameSite=Strict; Max-Age=%ld", visit->site->guard.port,
                    visit->site->guard.key, COOKIE_S);
        add_header(response, &good, "Set-Cookie", text_string(&value));
    }
    if (answer->status == 405) {
        add_header(response, &good, "Allow", "GET, HEAD, POST");
    }
    text_done(&value);
    return good;
}

static enum MHD_Result send_answer(struct MHD_Connection *connection, struct visit *visit)
{
    struct text *body = &visit->answer.body;
    struct MHD_Response *response = MHD_create_response_from_buffer(body->length, body->bytes, MHD_RESPMEM_MUST_FREE);
    if (response == NULL) {
        return MHD_NO;
    }
    *body = (struct text){0};
    enum MHD_Result result =
        add_headers(response, visit) ? MHD_queue_response(connection, visit->answer.status, response) : MHD_NO;
    MHD_destroy_response(response);
    return result;
}

static enum MHD_Result refuse(struct MHD_Connection *connection, struct pending *pending, unsigned status,
                              const char *reason)
{
    visit_refuse(&pending->visit, status, "Not answered", reason);
    return send_answer(connection, &pending->visit);
}

static struct place *place_of(struct MHD_Connection *connection)
{
    const union MHD_ConnectionInfo *info = MHD_get_connection_info(connection, MHD_CONNECTION_INFO_SOCKET_CONTEXT);
    return info == NULL ? NULL : info->socket_context;
}

/* The head is there: lets it in or refuses it at once, before any body is read. */
static enum MHD_Result take_head(struct server *server, struct MHD_Connection *connection, struct pending *pending)
{
    const char *path = pending->visit.path;
    MHD_get_connection_values(connection, MHD_HEADER_KIND, take_header, pending);
    MHD_get_connection_values_n(connection, MHD_GET_ARGUMENT_KIND, take_query, pending);
    pending->head.field = pending->field;
    struct refusal refusal = guard_check(&server->site->guard, &pending->head);
    if (refusal.status != 0) {
        return refuse(connection, pending, refusal.status, refusal.reason);
    }
    struct place *place = place_of(connection);
    if (place != NULL && guard_shows_key(&server->site->guard, &pending->head)) {
        place->let_in = true;
    }
    if (pending->strange || !form_text_is_plain(path, strlen(path))) {
        return refuse(connection, pending, 400, "The address holds something that is no text.");
    }
    const char *length = head_value(&pending->head, "Content-Length");
    if (length != NULL && strtoull(length, NULL, 10) > SITE_BODY_BYTES_MOST) {
        return refuse(connection, pending, 413, "That is more than a form of this program sends (64 kB).");
    }
    return MHD_YES; /* answered once the body is there: an answer before it would end the connection */
}

static enum MHD_Result take_body(struct pending *pending, const char *data, size_t *size)
{
    if (pending->body.length + *size > SITE_BODY_BYTES_MOST || pending->dropped > 0) {
        pending->dropped += *size;
    } else {
        text_add_length(&pending->body, data, *size);
    }
    *size = 0;
    return pending->dropped > DROPPED_BYTES_MOST ? MHD_NO : MHD_YES;
}

/* ------------------------------------------------------------------ answers made apart -------------------- */

/* Answers at once; what may take long waits, with its connection, for a process of its own. */
static enum MHD_Result answer(struct server *server, struct MHD_Connection *connection, struct pending *pending)
{
    if (!site_takes_long(&pending->visit)) {
        site_answer(&pending->visit);
        return send_answer(connection, &pending->visit);
    }
    pending->connection = connection;
    pending->stage = STAGE_WAITS;
    TAILQ_INSERT_TAIL(&server->long_ones, pending, beside);
    MHD_suspend_connection(connection);
    return MHD_YES;
}

/* Takes one that waits: where there can be no process for it, it is answered here. */
static void begin(struct pending *pending)
{
    pending->stage = STAGE_RUNS;
    if (!apart_start(&pending->apart, &pending->visit)) {
        site_answer(&pending->visit);
        pending->stage = STAGE_REPLIED;
    }
}

/* Starts those whose turn it is and goes on with the connections of those that are ready. */
static void look_apart(struct server *server)
{
    size_t running = 0;
    struct pending *next = NULL;
    for (struct pending *pending = TAILQ_FIRST(&server->long_ones); pending != NULL; pending = next) {
        next = TAILQ_NEXT(pending, beside);
        if (pending->stage == STAGE_RUNS && apart_look(&pending->apart)) {
            apart_take(&pending->apart, &pending->visit);
            pending->stage = STAGE_REPLIED;
        } else if (pending->stage == STAGE_WAITS && running < APART_MOST) {
            begin(pending);
        }
        running += pending->stage == STAGE_RUNS;
        if (pending->stage == STAGE_REPLIED) {
            TAILQ_REMOVE(&server->long_ones, pending, beside);
            MHD_resume_connection(pending->connection);
        }
    }
}

/* The server ends: no connection may be waiting then. */
static void end_apart(struct server *server)
{
    struct pending *pending = NULL;
    while ((pending = TAILQ_FIRST(&server->long_ones)) != NULL) {
        if (pending->stage == STAGE_RUNS) {
            apart_stop(&pending->apart);
        }
        pending->stage = STAGE_HERE; /* `finish` refuses it */
        TAILQ_REMOVE(&server->long_ones, pending, beside);
        MHD_resume_connection(pending->connection);
    }
}

static enum MHD_Result finish(struct server *server, struct MHD_Connection *connection, struct pending *pending)
{
    struct visit *visit = &pending->visit;
    if (pending->stage == STAGE_REPLIED) {
        return send_answer(connection, visit);
    }
    if (pending->dropped > 0) {
        return refuse(connection, pending, 413, "That is more than a form of this program sends (64 kB).");
    }
    if (*server->site->stop != 0) { /* however many are waiting, the one being answered is the last */
        return refuse(connection, pending, 503, "The program is ending. Start it again to go on.");
    }
    if (!visit->post) {
        return answer(server, connection, pending);
    }
    if (!form_read(&visit->body, pending->body.length == 0 ? "" : pending->body.bytes, pending->body.length,
                   visit->arena)) {
        return refuse(connection, pending, 400, "The form holds something that is no text, or too many fields.");
    }
    if (!guard_token_holds(&server->site->guard, head_value(&pending->head, "X-Ampsum-Token"),
                           form_value(&visit->body, "token"))) {
        visit_form_of_old(visit);
        return send_answer(connection, visit);
    }
    return answer(server, connection, pending);
}

static enum MHD_Result take(void *cls, struct MHD_Connection *connection, const char *url, const char *method,
                            const char *version, const char *data, size_t *size, void **state)
{
    (void)version;
    struct server *server = cls;
    struct pending *pending = *state;
    if (pending == NULL) {
        pending = memory_new(sizeof *pending);
        struct arena *arena = arena_new();
        const char *path = arena_copy(arena, url);
        const char *kept_method = arena_copy(arena, method);
        *pending = (struct pending){
            .visit = {.site = server->site, .post = strcmp(method, "POST") == 0, .path = path, .arena = arena},
            .head = {.method = kept_method, .path = path},
        };
        *state = pending;
        return take_head(server, connection, pending);
    }
    if (*size > 0) {
        return take_body(pending, data, size);
    }
    return finish(server, connection, pending);
}

static void completed(void *cls, struct MHD_Connection *connection, void **state, enum MHD_RequestTerminationCode code)
{
    (void)cls;
    (void)connection;
    (void)code;
    pending_free(*state);
    *state = NULL;
}

/* ------------------------------------------------------------------ who has a place ----------------------- */

/* Another user's connection is closed before a byte of it is read. */
static enum MHD_Result may_connect(void *cls, const struct sockaddr *address, socklen_t length)
{
    const struct server *server = cls;
    struct sockaddr_in client = {0};
    if (length < (socklen_t)sizeof client || address->sa_family != AF_INET) {
        return MHD_NO;
    }
    memcpy(&client, address, sizeof client);
    return peer_is_own(ntohs(client.sin_port), server->site->guard.port) ? MHD_YES : MHD_NO;
}

/* libmicrohttpd sees the end of it and gives the place back. */
static void cut(struct place *place)
{
    if (place != NULL && !place->cut) {
        shutdown(place->socket, SHUT_RDWR);
        place->cut = true;
    }
}

static void cut_oldest(struct server *server)
{
    struct place *place = TAILQ_FIRST(&server->places);
    while (place != NULL && (place->let_in || place->cut)) {
        place = TAILQ_NEXT(place, beside);
    }
    cut(place);
}

static void cut_slow(struct server *server)
{
    const long now = clock_ms();
    struct place *place = NULL;
    TAILQ_FOREACH(place, &server->places, beside)
    {
        if (!place->let_in && now - place->since_ms > HEAD_MS_MOST) {
            cut(place);
        }
    }
}

static void place_add(struct server *server, struct MHD_Connection *connection, void **context)
{
    const union MHD_ConnectionInfo *info = MHD_get_connection_info(connection, MHD_CONNECTION_INFO_CONNECTION_FD);
    struct place *place = memory_new(sizeof *place);
    *place = (struct place){.socket = info->connect_fd, .since_ms = clock_ms()};
    TAILQ_INSERT_TAIL(&server->places, place, beside);
    server->place_count++;
    *context = place;
    if (server->place_count > CONNECTIONS_CROWD) {
        cut_oldest(server);
    }
}

static void connection_changes(void *cls, struct MHD_Connection *connection, void **context,
                               enum MHD_ConnectionNotificationCode code)
{
    struct server *server = cls;
    if (code == MHD_CONNECTION_NOTIFY_STARTED) {
        place_add(server, connection, context);
    } else if (*context != NULL) {
        struct place *gone = *context;
        TAILQ_REMOVE(&server->places, gone, beside);
        server->place_count--;
        free(gone);
        *context = NULL;
    }
}

bool server_open(struct site *site, unsigned port, struct server **ret_server, struct error *error)
{
    struct sockaddr_in address = {
        .sin_family = AF_INET, .sin_port = htons((uint16_t)port), .sin_addr.s_addr = htonl(INADDR_LOOPBACK)};
    struct server *server = memory_new(sizeof *server);
    *server = (struct server){.site = site};
    TAILQ_INIT(&server->places);
    TAILQ_INIT(&server->long_ones);
    server->daemon = MHD_start_daemon(
        MHD_USE_AUTO | MHD_ALLOW_SUSPEND_RESUME, (uint16_t)port, may_connect, server, take, server,
        MHD_OPTION_SOCK_ADDR, (struct sockaddr *)&address, MHD_OPTION_CONNECTION_LIMIT, (unsigned)CONNECTIONS_MOST,
        MHD_OPTION_CONNECTION_TIMEOUT, (unsigned)IDLE_S, MHD_OPTION_CONNECTION_MEMORY_LIMIT,
        (size_t)CONNECTION_BYTES_MOST, MHD_OPTION_STRICT_FOR_CLIENT, 1, MHD_OPTION_NOTIFY_COMPLETED, completed, NULL,
        MHD_OPTION_NOTIFY_CONNECTION, connection_changes, server, MHD_OPTION_END);
    const union MHD_DaemonInfo *bound =
        server->daemon == NULL ? NULL : MHD_get_daemon_info(server->daemon, MHD_DAEMON_INFO_BIND_PORT);
    if (bound == NULL) {
        error_set(error, ERROR_INPUT, "serve: can't listen on 127.0.0.1 port %u: %s; --port 0 takes a free one", port,
                  strerror(errno));
        server_close(server);
        return false;
    }
    if (!guard_init(&site->guard, bound->port)) {
        error_set(error, ERROR_STORE, "serve: the system gives no random numbers for the address's key");
        server_close(server);
        return false;
    }
    *ret_server = server;
    return true;
}

void server_run(struct server *server, const volatile sig_atomic_t *stop)
{
    while (*stop == 0) {
        const int wait_ms = !TAILQ_EMPTY(&server->long_ones) ? LOOK_APART_MS : LOOK_MS;
        if (MHD_run_wait(server->daemon, wait_ms) != MHD_YES && *stop == 0 && errno != EINTR) {
            break;
        }
        look_apart(server);
        cut_slow(server);
    }
}

void server_close(struct server *server)
{
    if (server != NULL) {
        if (server->daemon != NULL) {
            end_apart(server);
            MHD_run(server->daemon); /* takes up what was waiting */
            MHD_stop_daemon(server->daemon);
        }
        free(server);
    }
}
