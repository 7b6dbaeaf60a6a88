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

#include "apart.h"
#include "scratch.h"
#include "site.h"

extern char **environ;

enum { RUN_MS_MOST = 20000, LOOK_MS = 200, SAID_BYTES_MOST = 1024 * 1024 };

struct child {
    pid_t pid;
    int err; /* what it says */
};

/* A group of its own: what the command starts in turn ends with it. */
static bool spawn(const char *program, char *const *words, int err, pid_t *ret_pid)
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
                         posix_spawn_file_actions_addopen(&actions, STDOUT_FILENO, "/dev/null", O_WRONLY, 0) == 0 &&
                         posix_spawn_file_actions_adddup2(&actions, err, STDERR_FILENO) == 0 &&
                         posix_spawn_file_actions_addclosefrom_np(&actions, STDERR_FILENO + 1) == 0 &&
                         posix_spawn(ret_pid, program, &actions, &attributes, words, environ) == 0;
    posix_spawnattr_destroy(&attributes);
    posix_spawn_file_actions_destroy(&actions);
    return spawned;
}

static bool start(const char *program, char *const *words, struct child *child)
{
    int ends[2] = {-1, -1};
    if (pipe2(ends, O_CLOEXEC) != 0) {
        return false;
    }
    const bool started = spawn(program, words, ends[1], &child->pid);
    close(ends[1]);
    child->err = ends[0];
    if (!started) {
        close(ends[0]);
    }
    return started;
}

/* Reads what is there; false at the end of the stream. */
static bool drain(int fd, struct text *text)
{
    char bytes[4096];
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

/* What it says to the end; false where that takes too long or is too much, or the server is to stop. */
static bool collect(const struct site *site, const struct child *child, struct text *said)
{
    struct pollfd stream = {child->err, POLLIN, 0};
    const long end_ms = clock_ms() + RUN_MS_MOST;
    for (;;) {
        const long left_ms = end_ms - clock_ms();
        if (left_ms <= 0 || is_stopping(site) || said->length > SAID_BYTES_MOST) {
            return false;
        }
        if (poll(&stream, 1, left_ms < LOOK_MS ? (int)left_ms : LOOK_MS) > 0 && !drain(child->err, said)) {
            return true;
        }
    }
}

/* The exit status; 3 where it ended in another way. */
static int finish(const struct child *child, bool whole)
{
    int status = 0;
    if (!whole) {
        kill(-child->pid, SIGKILL);
    }
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
              length == 0 ? "the program that makes it ended without a word"
                          : arena_copy_length(visit->arena, own, length));
}

static bool run(struct visit *visit, const char *program, const char *const *words)
{
    struct child child;
    struct text said = {0};
    size_t count = 0;
    while (words[count] != NULL) {
        count++;
    }
    char **copies = arena_array(visit->arena, count + 2, sizeof *copies);
    copies[0] = arena_copy(visit->arena, program);
    for (size_t i = 0; i < count; i++) {
        copies[i + 1] = arena_copy(visit->arena, words[i]);
    }
    if (!start(program, copies, &child)) {
        error_set(&visit->error, ERROR_STORE, "%s: can't be run: %s", program, strerror(errno));
        return false;
    }
    const bool whole = collect(visit->site, &child, &said);
    const int status = finish(&child, whole);
    if (!whole) {
        error_set(&visit->error, ERROR_INPUT, "it was not made within %d seconds. " IN_LESS_TIME, RUN_MS_MOST / 1000);
    } else if (status >= 2) {
        set_error(visit, text_string(&said));
    }
    text_done(&said);
    return status < 2;
}

bool visit_run(struct visit *visit, const char *const *words)
{
    return run(visit, visit->site->program, words);
}

bool visit_written(struct visit *visit, const char **words, size_t count, const char *file)
{
    struct scratch scratch = {{0}};
    struct text path = {0};
    bool good = scratch_make(&scratch, &visit->error);
    if (good) {
        scratch_path(&scratch, file, &path);
        words[count] = "-o";
        words[count + 1] = text_string(&path);
        words[count + 2] = NULL;
        good =
            run(visit, visit->site->program, words) && scratch_read(&scratch, file, &visit->answer.body, &visit->error);
    }
    scratch_done(&scratch);
    text_done(&path);
    return good;
}

bool visit_draw(struct visit *visit, const char *const *words)
{
    char own[4096];
    const ssize_t length = readlink("/proc/self/exe", own, sizeof own);
    size_t folder = length > 0 ? (size_t)length : 0;
    while (folder > 0 && own[folder - 1] != '/') {
        folder--;
    }
    return run(visit, arena_printf(visit->arena, "%sampsum-draw", arena_copy_length(visit->arena, own, folder)), words);
}
