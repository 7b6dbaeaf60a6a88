/*
 * The floor of the local page: a bare libmicrohttpd program that answers every request with the bytes of one file.
 *   floor_serve FILE      prints its port, runs until it is stopped
 */
#include <arpa/inet.h>
#include <microhttpd.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { WAIT_MS = 200 };

static enum MHD_Result answer(void *cls, struct MHD_Connection *connection, const char *url, const char *method,
                              const char *version, const char *data, size_t *size, void **state)
{
    (void)url;
    (void)method;
    (void)version;
    (void)data;
    static int begun;
    if (*state == NULL) {
        *state = &begun;
        return MHD_YES;
    }
    if (*size > 0) {
        *size = 0;
        return MHD_YES;
    }
    return MHD_queue_response(connection, MHD_HTTP_OK, cls);
}

static char *read_file(const char *path, size_t *ret_length)
{
    FILE *file = fopen(path, "rb");
    if (file == NULL || fseek(file, 0, SEEK_END) != 0) {
        return NULL;
    }
    const long length = ftell(file);
    rewind(file);
    char *bytes = length < 0 ? NULL : malloc((size_t)length + 1);
    if (bytes == NULL || fread(bytes, 1, (size_t)length, file) != (size_t)length) {
        free(bytes);
        fclose(file);
        return NULL;
    }
    fclose(file);
    *ret_length = (size_t)length;
    return bytes;
}

int main(int argc, char **argv)
{
    size_t length = 0;
    char *bytes = argc == 2 ? read_file(argv[1], &length) : NULL;
    if (bytes == NULL) {
        fputs("floor_serve: give a file\n", stderr);
        return 2;
    }
    struct MHD_Response *response = MHD_create_response_from_buffer(length, bytes, MHD_RESPMEM_MUST_FREE);
    struct sockaddr_in address = {.sin_family = AF_INET, .sin_addr.s_addr = htonl(INADDR_LOOPBACK)};
    struct MHD_Daemon *daemon = MHD_start_daemon(MHD_USE_AUTO, 0, NULL, NULL, answer, response, MHD_OPTION_SOCK_ADDR,
                                                 (struct sockaddr *)&address, MHD_OPTION_END);
    const union MHD_DaemonInfo *bound =
        daemon == NULL ? NULL : MHD_get_daemon_info(daemon, MHD_DAEMON_INFO_BIND_PORT);
    if (response == NULL || bound == NULL) {
        fputs("floor_serve: can't listen\n", stderr);
        return 2;
    }
    printf("%u\n", bound->port);
    fflush(stdout);
    while (MHD_run_wait(daemon, WAIT_MS) == MHD_YES) {
    }
    return 0;
}
