/*
 * The second program behind `ampsum serve`, so that the other commands do not load what a web server needs:
 *   ampsum-serve HOUSE PORT PROGRAM FLAGS      FLAGS: r read-only, o open, f fresh, n no house named, - none
 * `ampsum serve` checks what the person typed and starts it.
 */
#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "ampsum/store.h"
#include "apart.h"
#include "bookmark.h"
#include "child.h"
#include "config.h"
#include "last_memory.h"
#include "peer.h"
#include "server.h"

enum { ENTRY_S = 120 /* for a browser to start in */ };

static volatile sig_atomic_t stop;

static void ask_stop(int number)
{
    stop = 1;
    signal(number, SIG_DFL); /* asked a second time it ends at once: what was stored is whole at every moment */
}

static void catch_stop(void)
{
    struct sigaction action = {.sa_handler = ask_stop};
    sigemptyset(&action.sa_mask);
    sigaction(SIGINT, &action, NULL);
    sigaction(SIGTERM, &action, NULL);
    signal(SIGPIPE, SIG_IGN);
    signal(SIGXFSZ, SIG_IGN);
}

/*
 * A file for this person's eyes alone that sends the browser on: what a command line says, every user of the computer
 * can read. The key in it lets one browser in, once.
 */
static char *write_entry(struct guard *guard)
{
    const char *folder = getenv("XDG_RUNTIME_DIR");
    if (!guard_entry_make(guard, clock_ms() / 1000, ENTRY_S)) {
        return NULL;
    }
    struct text path = {0};
    text_printf(&path, "%s/ampsum-XXXXXX.html", folder != NULL && folder[0] == '/' ? folder : "/tmp");
    const int file = mkostemps(path.bytes, (int)strlen(".html"), O_CLOEXEC); /* 0600 */
    FILE *stream = file < 0 ? NULL : fdopen(file, "w");
    if (stream == NULL) {
        text_done(&path);
        return NULL;
    }
    fprintf(stream,
            "<!doctype html>\n<html lang=\"en\"><head><meta charset=\"utf-8\"><title>ampsum</title>"
            "<meta name=\"referrer\" content=\"no-referrer\"><meta http-equiv=\"refresh\" "
            "content=\"0;url=http://127.0.0.1:%u/enter?key=%s\"></head><body><p>To the house ...</p></body></html>\n",
            guard->port, guard->entry);
    if (fclose(stream) != 0) {
        unlink(path.bytes);
        text_done(&path);
        return NULL;
    }
    return path.bytes;
}

/* The desktop's own way of opening a file; where there is none, the person opens the printed address. The file's path,
 * for the caller to remove and free, or NULL. */
static char *open_browser(struct guard *guard)
{
    char *entry = write_entry(guard);
    const char *const words[] = {"xdg-open", entry, NULL};
    pid_t pid = 0;
    if (entry == NULL || !child_start(words, -1, &pid)) {
        fputs("ampsum: no browser could be started; open the address above\n", stderr);
    }
    return entry;
}

/*
 * At the kept port with the kept key, so that a bookmark lives. Where another user has taken the port meanwhile, who
 * may have been sent the key, both are forgotten.
 */
static bool open_server(struct site *site, unsigned port, struct server **ret_server, struct error *error)
{
    struct bookmark kept;
    struct error busy = {0};
    const bool known = bookmark_read(site->path, &kept);
    const bool again = known && port == 0 && server_open(site, kept.port, ret_server, &busy);
    error_done(&busy);
    if (!again && !server_open(site, port, ret_server, error)) {
        return false;
    }
    const bool elsewhere = known && port == 0 && !again;
    if (known && !elsewhere) {
        guard_keep_key(&site->guard, kept.key);
    }
    if (!elsewhere || !peer_listens_own(kept.port)) {
        struct bookmark now = {.port = site->guard.port};
        memcpy(now.key, site->guard.key, sizeof now.key);
        bookmark_write(site->path, &now);
    }
    return true;
}

static int serve(struct site *site, unsigned port, bool opens)
{
    struct server *server = NULL;
    struct error error = {0};
    if (!open_server(site, port, &server, &error)) {
        fprintf(stderr, "ampsum: %s\n", error_message(&error));
        int status = error_exit_status(&error);
        error_done(&error);
        return status;
    }
    struct text address = {0};
    text_printf(&address, "http://127.0.0.1:%u/enter?key=%s", site->guard.port, site->guard.key);
    printf("%s%s\nOpen that address in a browser on this computer; it is for you alone. Ctrl-C stops it.\n",
           text_string(&address), site->read_only ? "   (read only)" : "");
    fflush(stdout);
    catch_stop();
    char *entry = opens ? open_browser(&site->guard) : NULL;
    server_run(server, &stop);
    if (entry != NULL) {
        unlink(entry);
        free(entry);
    }
    server_close(server);
    text_done(&address);
    puts(access(site->path, F_OK) == 0 ? "Stopped; everything kept is in the file."
                                       : "Stopped; the file is not there any more, or was never begun.");
    return 0;
}

int main(int argc, char **argv)
{
    if (argc != 5) {
        fputs("ampsum-serve: it belongs to ampsum: use `ampsum serve HOUSE`\n", stderr);
        return 2;
    }
    last_memory_start();
    struct text path = {0};
    text_printf(&path, "%s%s", argv[1][0] == '-' ? "./" : "", argv[1]); /* never an option of a command */
    struct site site = {.path = text_string(&path), .version = AMPSUM_VERSION, .program = argv[3], .stop = &stop};
    site.read_only = strchr(argv[4], 'r') != NULL || (!site_is_new(&site) && !store_is_database(site.path));
    site.unasked = strchr(argv[4], 'n') != NULL;
    struct visit first = {.site = &site, .arena = arena_new()};
    bool good = site_is_new(&site) || visit_read_house(&first);
    if (!good) {
        fprintf(stderr, "ampsum: %s\n", error_message(&first.error));
    }
    int status = good ? 0 : error_exit_status(&first.error);
    visit_done(&first);
    if (good && strchr(argv[4], 'f') != NULL) {
        bookmark_write(site.path, &(struct bookmark){0});
    }
    if (good) {
        status = serve(&site, (unsigned)strtoul(argv[2], NULL, 10), strchr(argv[4], 'o') != NULL);
    }
    site_done(&site);
    text_done(&path);
    return status;
}
