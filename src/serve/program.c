/* Answers that belong to a command: ampsum itself is run, with the house that is served. */
#include <errno.h>
#include <fcntl.h>
#include <poll.h>
#include <signal.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

#include "apart.h"
#include "child.h"
#include "scratch.h"
#include "site.h"

enum { RUN_MS_MOST = 20000, LOOK_MS = 200, SAID_BYTES_MOST = 1024 * 1024 };

struct child {
    pid_t pid;
    int err; /* what it says */
};

static bool start(const char *const *words, struct child *child)
{
    int ends[2] = {-1, -1};
    if (pipe2(ends, O_CLOEXEC) != 0) {
        return false;
    }
    const bool started = child_start(words, ends[1], &child->pid);
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

/* The program's words, which a file to write to may follow; NULL-ended. */
static const char **whole_words(struct visit *visit, const char *program, const char *const *words, const char *file)
{
    size_t count = 0;
    while (words[count] != NULL) {
        count++;
    }
    const char **whole = arena_array(visit->arena, count + 4, sizeof *whole);
    whole[0] = program;
    memcpy(whole + 1, words, count * sizeof *whole);
    if (file != NULL) {
        whole[count + 1] = "-o";
        whole[count + 2] = file;
    }
    return whole;
}

/* Runs it, `file` NULL where it is told none to write to; false with visit->error set. */
static bool run(struct visit *visit, const char *program, const char *const *words, const char *file)
{
    struct child child;
    struct text said = {0};
    if (!start(whole_words(visit, program, words, file), &child)) {
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
    return run(visit, visit->site->program, words, NULL);
}

bool visit_written(struct visit *visit, const char *const *words, const char *file)
{
    struct scratch scratch = {{0}};
    struct text path = {0};
    bool good = scratch_make(&scratch, &visit->error);
    if (good) {
        scratch_path(&scratch, file, &path);
        good = run(visit, visit->site->program, words, text_string(&path)) &&
               scratch_read(&scratch, file, &visit->answer.body, &visit->error);
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
    return run(visit, arena_printf(visit->arena, "%.*sampsum-draw", (int)folder, own), words, NULL);
}
