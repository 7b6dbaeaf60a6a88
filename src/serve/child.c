#include "child.h"

#include <fcntl.h>
#include <spawn.h>
#include <unistd.h>

extern char **environ;

/* A group of its own and these streams. */
static bool prepare(posix_spawn_file_actions_t *actions, posix_spawnattr_t *attributes, int err)
{
    return posix_spawnattr_setflags(attributes, POSIX_SPAWN_SETPGROUP) == 0 &&
           posix_spawnattr_setpgroup(attributes, 0) == 0 &&
           posix_spawn_file_actions_addopen(actions, STDIN_FILENO, "/dev/null", O_RDWR, 0) == 0 &&
           posix_spawn_file_actions_adddup2(actions, STDIN_FILENO, STDOUT_FILENO) == 0 &&
           posix_spawn_file_actions_adddup2(actions, err < 0 ? STDIN_FILENO : err, STDERR_FILENO) == 0 &&
           posix_spawn_file_actions_addclosefrom_np(actions, STDERR_FILENO + 1) == 0;
}

bool child_start(const char *const *words, int err, pid_t *ret_pid)
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
    const bool started = prepare(&actions, &attributes, err) &&
                         posix_spawnp(ret_pid, words[0], &actions, &attributes, (char *const *)words, environ) == 0;
    posix_spawnattr_destroy(&attributes);
    posix_spawn_file_actions_destroy(&actions);
    return started;
}
