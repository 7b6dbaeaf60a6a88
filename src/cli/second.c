#include "second.h"

#include <errno.h>
#include <stdio.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

#include "ampsum/arena.h"
#include "ampsum/text.h"
#include "config.h"

enum { PATH_BYTES = 4096 };

/* The folder that holds this program, with a slash at its end; "" where it can't be told. */
static void own_folder(struct text *folder)
{
    char path[PATH_BYTES];
    ssize_t length = readlink("/proc/self/exe", path, sizeof path);
    while (length > 0 && path[length - 1] != '/') {
        length--;
    }
    if (length > 0) {
        text_add_length(folder, path, (size_t)length);
    }
}

int call_second_program(const char *program, const char *const *argv)
{
    fflush(NULL);
    pid_t child = fork();
    if (child == 0) {
        _exit(run_second_program(program, argv));
    }
    int status = 0;
    while (child > 0 && waitpid(child, &status, 0) < 0 && errno == EINTR) {
    }
    if (child < 0 || !WIFEXITED(status)) {
        fprintf(stderr, "ampsum: %s: %s\n", program, child < 0 ? strerror(errno) : "ended before its time");
        return 3;
    }
    return WEXITSTATUS(status);
}

int run_second_program(const char *program, const char *const *argv)
{
    struct text path = {0};
    own_folder(&path);
    text_add(&path, program);
    execv(text_string(&path), (char **)(void *)argv);
    text_clear(&path);
    text_printf(&path, "%s/%s", AMPSUM_LIBEXEC, program);
    execv(text_string(&path), (char **)(void *)argv);
    fprintf(stderr, "ampsum: %s: %s; it belongs beside ampsum or in %s\n", program, strerror(errno), AMPSUM_LIBEXEC);
    text_done(&path);
    return 3;
}
