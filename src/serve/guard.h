/*
 * Who may come in. Decides from the head of a request alone and knows no socket. The rules, in this order:
 *
 *   1. no header twice, not too many of them;
 *   2. Host is exactly 127.0.0.1:PORT or localhost:PORT, so that a name which was made to point here gets nothing;
 *   3. only GET, HEAD and POST;
 *   4. the key in the cookie (the printed address sets it): other people on this computer can reach the
 *      port, too. Where the browser says on whose behalf it asks (Sec-Fetch-Site), that is our own page or the person:
 * a page of another port is of the same site, and would be sent with the cookie;
 *   5. a POST also needs an Origin that is ours, Sec-Fetch-Site `same-origin` where it is sent, a form as its content,
 *      and - once the body is there - the token of this start, in the header X-Ampsum-Token or the field `token`.
 */
#ifndef AMPSUM_SERVE_GUARD_H
#define AMPSUM_SERVE_GUARD_H

#include <stdbool.h>
#include <stddef.h>

enum { GUARD_SECRET_BYTES = 16, GUARD_SECRET_CHARS = 2 * GUARD_SECRET_BYTES, GUARD_HEADERS_MOST = 64 };

struct guard {
    unsigned port;
    char key[GUARD_SECRET_CHARS + 1];   /* lets read: in the printed address, then in the cookie */
    char token[GUARD_SECRET_CHARS + 1]; /* lets change: in each page */
    char entry[GUARD_SECRET_CHARS + 1]; /* lets a browser that was started for the person in, once; "" when used */
    long entry_until_s;                 /* and not after this, on the clock that only counts on */
};

struct head_field {
    const char *name;
    const char *value;
};

struct request_head {
    const char *method;
    const char *path;
    const struct head_field *field;
    size_t field_count;
};

/* Why a request is refused: an HTTP status and a sentence. Status 0: it is not. */
struct refusal {
    unsigned status;
    const char *reason;
};

/* Draws both secrets from the system's random numbers; false where it gives none. */
bool guard_init(struct guard *guard, unsigned port);

/* Takes the key of an earlier start, GUARD_SECRET_CHARS long. */
void guard_keep_key(struct guard *guard, const char *key);

/* Rules 1 to 5 but for the token. The address that sets the cookie (/enter) and the assets are let in without a key. */
struct refusal guard_check(const struct guard *guard, const struct request_head *head);

/* The token, compared in constant time. `header` and `field` may be NULL or "". */
bool guard_token_holds(const struct guard *guard, const char *header, const char *field);

/* The key of the printed address, likewise. */
bool guard_key_holds(const struct guard *guard, const char *key);

/* True where the request has the key in its cookie. */
bool guard_shows_key(const struct guard *guard, const struct request_head *head);

/* Draws the key of one entry, good for `seconds` from `now_s` on. */
bool guard_entry_make(struct guard *guard, long now_s, long seconds);

/* True for the key of the entry, once. */
bool guard_entry_take(struct guard *guard, const char *key, long now_s);

/* The value of a header by its name (any case); NULL where it is not there. */
const char *head_value(const struct request_head *head, const char *name);

#endif
