#include "apart.h"

#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/prctl.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

enum { REPLY_BYTES_MOST = 256 * 1024 * 1024, FIRST_FREE = STDERR_FILENO + 1 };

/* The reply's words (NONE: there is none), then its body. */
enum { TYPE, LOCATION, DOWNLOAD, BODY, PARTS };

/* What stands before them; both processes are the same program. */
struct reply_head {
    unsigned status;
    bool sets_key;
    bool kept;
    size_t length[PARTS];
};

static const size_t none = SIZE_MAX;

long clock_ms(void)
{
    struct timespec now;
    clock_gettime(CLOCK_MONOTONIC, &now);
    return (long)now.tv_sec * 1000 + now.tv_nsec / 1000000;
}

/* ---- in the process apart ---- */

/* False where nobody waits for it any more. */
static bool write_reply(FILE *out, const struct reply *reply)
{
    const char *parts[PARTS] = {reply->type, reply->location, reply->download, text_string(&reply->body)};
    struct reply_head head = {.status = reply->status, .sets_key = reply->sets_key, .kept = reply->kept};
    for (size_t i = 0; i < PARTS; i++) {
        head.length[i] = i == BODY ? reply->body.length : parts[i] == NULL ? none : strlen(parts[i]);
    }
    bool good = fwrite(&head, sizeof head, 1, out) == 1;
    for (size_t i = 0; i < PARTS; i++) {
        good = good && (parts[i] == NULL || fwrite(parts[i], 1, head.length[i], out) == head.length[i]);
    }
    return fclose(out) == 0 && good;
}

/* Only the pipe stays open, so that no line to a browser is held by two; it ends where the server does. */
static _Noreturn void answer_apart(int out, struct visit *visit)
{
    prctl(PR_SET_PDEATHSIG, SIGTERM);
    const int null = open("/dev/null", O_RDWR | O_CLOEXEC);
    if (null < 0 || dup2(null, STDIN_FILENO) < 0 || dup2(null, STDOUT_FILENO) < 0 || dup2(out, FIRST_FREE) < 0) {
        _exit(1);
    }
    closefrom(FIRST_FREE + 1);
    fcntl(FIRST_FREE, F_SETFD, FD_CLOEXEC);
    site_answer(visit);
    FILE *reply = fdopen(FIRST_FREE, "w");
    _exit(reply != NULL && write_reply(reply, &visit->answer) ? 0 : 1);
}

/* ---- in the server ---- */

bool apart_start(struct apart *apart, struct visit *visit)
{
    int ends[2] = {-1, -1};
    if (pipe2(ends, O_CLOEXEC) != 0) {
        return false;
    }
    fcntl(ends[0], F_SETFL, O_NONBLOCK);
    *apart = (struct apart){.pipe = ends[0], .end_ms = clock_ms() + APART_MS_MOST};
    apart->pid = fork();
    if (apart->pid == 0) {
        answer_apart(ends[1], visit);
    }
    close(ends[1]);
    if (apart->pid < 0) {
        close(ends[0]);
    }
    return apart->pid > 0;
}

bool apart_look(struct apart *apart)
{
    char bytes[65536];
    while (!apart->ended) {
        const ssize_t count = read(apart->pipe, bytes, sizeof bytes);
        if (count > 0) {
            text_add_length(&apart->bytes, bytes, (size_t)count);
        }
        const bool waits = count < 0 && (errno == EAGAIN || errno == EINTR);
        apart->ended = (count <= 0 && !waits) || apart->bytes.length > REPLY_BYTES_MOST;
        if (waits) {
            break;
        }
    }
    apart->ended = apart->ended || clock_ms() > apart->end_ms;
    return apart->ended;
}

/* Ends the process, if it has not ended: first so that what it started can be ended by it. */
static void reap(struct apart *apart)
{
    close(apart->pipe);
    text_done(&apart->bytes);
    const long end_ms = clock_ms() + APART_STOP_MS;
    pid_t gone = waitpid(apart->pid, NULL, WNOHANG);
    if (gone == 0) {
        kill(apart->pid, SIGTERM);
    }
    while (gone == 0 || (gone < 0 && errno == EINTR)) {
        if (clock_ms() > end_ms) {
            kill(apart->pid, SIGKILL);
        }
        nanosleep(&(struct timespec){.tv_nsec = 2000000}, NULL);
        gone = waitpid(apart->pid, NULL, WNOHANG);
    }
}

/* One of the words; NULL where there is none. Moves on behind it. */
static const char *take_word(struct visit *visit, const char **at, size_t length)
{
    if (length == none) {
        return NULL;
    }
    const char *word = arena_copy_length(visit->arena, *at, length);
    *at += length;
    return word;
}

/* False where the bytes are not one whole reply. */
static bool read_reply(const struct text *bytes, struct visit *visit)
{
    struct reply_head head;
    if (bytes->length < sizeof head) {
        return false;
    }
    memcpy(&head, bytes->bytes, sizeof head);
    size_t length = sizeof head;
    for (size_t i = 0; i < PARTS; i++) {
        length += head.length[i] == none ? 0 : head.length[i];
    }
    if (length != bytes->length) {
        return false;
    }
    const char *at = bytes->bytes + sizeof head;
    struct reply *reply = &visit->answer;
    reply->status = head.status;
    reply->sets_key = head.sets_key;
    reply->kept = head.kept;
    reply->type = take_word(visit, &at, head.length[TYPE]);
    reply->location = take_word(visit, &at, head.length[LOCATION]);
    reply->download = take_word(visit, &at, head.length[DOWNLOAD]);
    text_clear(&reply->body);
    text_add_length(&reply->body, at, head.length[BODY]);
    return true;
}

void apart_take(struct apart *apart, struct visit *visit)
{
    if (!read_reply(&apart->bytes, visit)) {
        visit_refuse(visit, 503, "That took too long",
                     arena_printf(visit->arena, "It was not made within %d seconds, and nothing was changed. %s.",
                                  APART_MS_MOST / 1000, IN_LESS_TIME));
    }
    reap(apart);
}

void apart_stop(struct apart *apart)
{
    reap(apart);
}
