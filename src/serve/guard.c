#include "guard.h"

#include <stdint.h>
#include <stdio.h>
#include <string.h>
#include <strings.h>
#include <sys/random.h>

static const struct refusal let_in = {0, NULL};

static bool draw_secret(char secret[GUARD_SECRET_CHARS + 1])
{
    unsigned char bytes[GUARD_SECRET_BYTES];
    if (getrandom(bytes, sizeof bytes, 0) != (ssize_t)sizeof bytes) {
        return false;
    }
    for (size_t i = 0; i < sizeof bytes; i++) {
        snprintf(secret + 2 * i, 3, "%02x", bytes[i]);
    }
    return true;
}

bool guard_init(struct guard *guard, unsigned port)
{
    *guard = (struct guard){.port = port};
    return draw_secret(guard->key) && draw_secret(guard->token);
}

void guard_keep_key(struct guard *guard, const char *key)
{
    memcpy(guard->key, key, GUARD_SECRET_CHARS);
}

/* Takes equally long wherever they differ. */
static bool secrets_equal(const char *secret, const char *given)
{
    size_t length = given == NULL ? 0 : strnlen(given, GUARD_SECRET_CHARS + 1);
    unsigned difference = length == GUARD_SECRET_CHARS ? 0 : 1;
    for (size_t i = 0; i < GUARD_SECRET_CHARS; i++) {
        unsigned char other = i < length ? (unsigned char)given[i] : 0;
        difference |= (unsigned)((unsigned char)secret[i] ^ other);
    }
    return difference == 0;
}

bool guard_key_holds(const struct guard *guard, const char *key)
{
    return secrets_equal(guard->key, key);
}

bool guard_entry_make(struct guard *guard, long now_s, long seconds)
{
    guard->entry_until_s = now_s + seconds;
    return draw_secret(guard->entry);
}

bool guard_entry_take(struct guard *guard, const char *key, long now_s)
{
    const bool holds = guard->entry[0] != '\0' && now_s <= guard->entry_until_s && secrets_equal(guard->entry, key);
    if (holds) {
        guard->entry[0] = '\0';
    }
    return holds;
}

bool guard_token_holds(const struct guard *guard, const char *header, const char *field)
{
    bool in_header = secrets_equal(guard->token, header);
    bool in_field = secrets_equal(guard->token, field);
    return in_header || in_field;
}

const char *head_value(const struct request_head *head, const char *name)
{
    for (size_t i = 0; i < head->field_count; i++) {
        if (strcasecmp(head->field[i].name, name) == 0) {
            return head->field[i].value;
        }
    }
    return NULL;
}

static bool has_repeated(const struct request_head *head)
{
    for (size_t i = 0; i < head->field_count; i++) {
        for (size_t k = 0; k < i; k++) {
            if (strcasecmp(head->field[i].name, head->field[k].name) == 0) {
                return true;
            }
        }
    }
    return false;
}

/* `prefix` 127.0.0.1:PORT or localhost:PORT, and nothing else. */
static bool is_ours(const struct guard *guard, const char *prefix, const char *value)
{
    static const char *const names[] = {"127.0.0.1", "localhost"};
    char expected[64];
    for (size_t i = 0; value != NULL && i < sizeof names / sizeof names[0]; i++) {
        snprintf(expected, sizeof expected, "%s%s:%u", prefix, names[i], guard->port);
        if (strcmp(expected, value) == 0) {
            return true;
        }
    }
    return false;
}

/* Cookies do not tell ports apart, so the port is in the name. */
static bool cookie_holds(const struct guard *guard, const char *cookies)
{
    char name[32];
    int length = snprintf(name, sizeof name, "ampsum-%u=", guard->port);
    for (const char *at = cookies == NULL ? "" : cookies; *at != '\0';) {
        at += strspn(at, " ;");
        size_t own = strcspn(at, ";");
        if (strncmp(at, name, (size_t)length) == 0) {
            char given[GUARD_SECRET_CHARS + 2];
            snprintf(given, sizeof given, "%.*s", (int)(own - (size_t)length), at + length);
            return guard_key_holds(guard, given);
        }
        at += own;
    }
    return false;
}

bool guard_shows_key(const struct guard *guard, const struct request_head *head)
{
    return cookie_holds(guard, head_value(head, "Cookie"));
}

/* A browser that says so asks for our own page, or for the person who typed or kept the address. */
static bool is_own_fetch(const struct request_head *head)
{
    const char *site = head_value(head, "Sec-Fetch-Site");
    return site == NULL || strcmp(site, "same-origin") == 0 || strcmp(site, "none") == 0;
}

static bool is_open_path(const char *path)
{
    static const char *const open[] = {"/enter", "/style.css", "/live.js", "/icon.svg", "/favicon.ico"};
    for (size_t i = 0; i < sizeof open / sizeof open[0]; i++) {
        if (strcmp(path, open[i]) == 0) {
            return true;
        }
    }
    return false;
}

static struct refusal check_change(const struct guard *guard, const struct request_head *head)
{
    const char *origin = head_value(head, "Origin");
    const char *host = head_value(head, "Host");
    const char *site = head_value(head, "Sec-Fetch-Site");
    const char *type = head_value(head, "Content-Type");
    if (!is_ours(guard, "http://", origin) || strcmp(origin + strlen("http://"), host) != 0) {
        return (struct refusal){403, "A change must come from a page of this program."};
    }
    if (site != NULL && strcmp(site, "same-origin") != 0) {
        return (struct refusal){403, "A change must come from a page of this program."};
    }
    static const char form[] = "application/x-www-form-urlencoded";
    if (type == NULL || strncasecmp(type, form, strlen(form)) != 0 || strchr("; ", type[strlen(form)]) == NULL) {
        return (struct refusal){415, "Only the content of a form is taken."};
    }
    return let_in;
}

struct refusal guard_check(const struct guard *guard, const struct request_head *head)
{
    if (head->field_count > GUARD_HEADERS_MOST || has_repeated(head)) {
        return (struct refusal){400, "The request has a header twice, or too many of them."};
    }
    if (!is_ours(guard, "", head_value(head, "Host"))) {
        return (struct refusal){421, "This program answers only under the address that it printed."};
    }
    bool post = strcmp(head->method, "POST") == 0;
    if (!post && strcmp(head->method, "GET") != 0 && strcmp(head->method, "HEAD") != 0) {
        return (struct refusal){405, "Only GET, HEAD and POST are answered."};
    }
    if (!is_open_path(head->path) && !guard_shows_key(guard, head)) {
        return (struct refusal){403, "Please open the whole address that the program printed when it was started, or "
                                     "start it with --open: then this browser is let in, and so are its bookmarks."};
    }
    if (!is_open_path(head->path) && !is_own_fetch(head)) {
        return (struct refusal){403,
                                "Another page asked for this. Please type the address, or open it from the house."};
    }
    return post ? check_change(guard, head) : let_in;
}
