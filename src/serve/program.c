/* Answers that belong to a command: ampsum itself is run, with the house that is served. */
#include <errno.h>
#include <fcntl.h>
#include <poll.h>
#include <signal.h>
#include <spawn.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

#include "site.h"

extern char **environ;

enum { RUN_MS_MOST = 20000, LOOK_MS = 200, OUT_BYTES_MOST = 32 * 1024 * 1024 };

struct child {
    pid_t pid;
    int out;
    int err;
};

/* A group of its own: what the command starts in turn ends with it. */
static bool spawn(const char *program, char *const *words, int out, int err, pid_t *ret_pid)
{
    posix_spawn_file_actions_t actions;
    posix_spawnattr_t attributes;
    if (posix_spawn_file_actions_init(&actions) != 0) {
        return false;
    }
    if (posix_spawnattr_init(&attributes) != 0) {
        posix_spawn_file_actions_destroy(&actions);
        return false;
    }
    const bool spawned = posix_spawnattr_setflags(&attributes, POSIX_SPAWN_SETPGROUP) == 0 &&
                         posix_spawnattr_setpgroup(&attributes, 0) == 0 &&
                         posix_spawn_file_actions_addopen(&actions, STDIN_FILENO, "/dev/null", O_RDONLY, 0) == 0 &&
                         posix_spawn_file_actions_adddup2(&actions, out, STDOUT_FILENO) == 0 &&
                         posix_spawn_file_actions_adddup2(&actions, err, STDERR_FILENO) == 0 &&
                         posix_spawn_file_actions_addclosefrom_np(&actions, STDERR_FILENO + 1) == 0 &&
                         posix_spawn(ret_pid, program, &actions, &attributes, words, environ) == 0;
    posix_spawnattr_destroy(&attributes);
    posix_spawn_file_actions_destroy(&actions);
    return spawned;
}

static bool start(const char *program, char *const *words, struct child *child)
{
    int out[2] = {-1, -1};
    int err[2] = {-1, -1};
    if (pipe2(out, O_CLOEXEC) != 0) {
        return false;
    }
    if (pipe2(err, O_CLOEXEC) != 0) {
        close(out[0]);
        close(out[1]);
        return false;
    }
    const bool started = spawn(program, words, out[1], err[1], &child->pid);
    close(out[1]);
    close(err[1]);
    child->out = out[0];
    child->err = err[0];
    if (!started) {
        close(out[0]);
        close(err[0]);
    }
    return started;
}

static long now_ms(void)
{
    struct timespec now;
    clock_gettime(CLOCK_MONOTONIC, &now);
    return (long)now.tv_sec * 1000 + now.tv_nsec / 1000000;
}

/* Reads what is there; false at the end of the stream. */
static bool drain(int fd, struct text *text)
{
    char bytes[16384];
    ssize_t count = read(fd, bytes, sizeof bytes);
    if (count > 0) {
        text_add_length(text, bytes, (size_t)count);
    }
    return count > 0 || (count < 0 && errno == EINTR);
}

static bool is_stopping(const struct site *site)
{
    return site->stop != NULL && *site->stop != 0;
}

/* Both streams to their ends; false where that takes too long or is too much, or the server is to stop. */
static bool collect(const struct site *site, const struct child *child, struct text *out, struct text *err)
{
    struct pollfd streams[] = {{child->out, POLLIN, 0}, {child->err, POLLIN, 0}};
    const long end_ms = now_ms() + RUN_MS_MOST;
    while (streams[0].fd >= 0 || streams[1].fd >= 0) {
        long left_ms = end_ms - now_ms();
        if (left_ms <= 0 || is_stopping(site) || out->length > OUT_BYTES_MOST || err->length > OUT_BYTES_MOST) {
            return false;
        }
        if (poll(streams, 2, left_ms < LOOK_MS ? (int)left_ms : LOOK_MS) <= 0) {
            continue;
        }
        if (streams[0].revents != 0 && !drain(child->out, out)) {
            streams[0].fd = -1;
        }
        if (streams[1].revents != 0 && !drain(child->err, err)) {
            streams[1].fd = -1;
        }
    }
    return true;
}

/* The exit status; 3 where it ended in another way. */
static int finish(const struct child *child, bool whole)
{
    int status = 0;
    if (!whole) {
        kill(-child->pid, SIGKILL);
    }
    close(child->out);
    close(child->err);
    while (waitpid(child->pid, &status, 0) < 0 && errno == EINTR) {
    }
    return whole && WIFEXITED(status) ? WEXITSTATUS(status) : 3;
}

/* The command's own sentence, without its name in front. */
static void set_error(struct visit *visit, const char *message)
{
    static const char name[] = "ampsum: ";
    const char *own = strncmp(message, name, strlen(name)) == 0 ? message + strlen(name) : message;
    size_t length = strlen(own);
    while (length > 0 && own[length - 1] == '\n') {
        length--;
    }
    error_set(&visit->error, ERROR_INPUT, "%s",
              length == 0 ? "the command gave no answer in time" : arena_copy_length(visit->arena, own, length));
}

static bool run(struct visit *visit, const char *program, const char *const *words, struct text *ret_out)
{
    size_t count = 0;
    while (words[count] != NULL) {
        count++;
    }
    char **copies = arena_array(visit->arena, count + 2, sizeof *copies);
    copies[0] = arena_copy(visit->arena, program);
    for (size_t i = 0; i < count; i++) {
        copies[i + 1] = arena_copy(visit->arena, words[i]);
    }
    struct child child;
    if (!start(program, copies, &child)) {
        error_set(&visit->error, ERROR_STORE, "%s: can't be run: %s", program, strerror(errno));
        return false;
    }
    struct text err = {0};
    bool whole = collect(visit->site, &child, ret_out, &err);
    int status = finish(&child, whole);
    if (status >= 2) {
        set_error(visit, text_string(&err));
    }
    text_done(&err);
    return status < 2;
}

bool visit_run(struct visit *visit, const char *const *words, struct text *ret_out)
{
    return run(visit, visit->site->program, words, ret_out);
}

bool visit_draw(struct visit *visit, const char *const *words)
{
    char own[4096];
    const ssize_t length = readlink("/proc/self/exe", own, sizeof own);
    size_t folder = length > 0 ? (size_t)length : 0;
    struct text path = {0};
    struct text said = {0};
    while (folder > 0 && own[folder - 1] != '/') {
        folder--;
    }
    text_add_length(&path, own, folder);
    text_add(&path, "ampsum-draw");
    const bool good = run(visit, text_string(&path), words, &said);
    text_done(&said);
    text_done(&path);
    return good;
}
