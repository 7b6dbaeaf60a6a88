#include "ampsum/plain_words.h"

#include <stdbool.h>
#include <string.h>

static const struct phrase {
    const char *said;  /* of all faces */
    const char *until; /* also left out: what follows, up to the end of this; NULL: nothing */
    const char *shown;
    const char *where; /* what the page alone says behind it: where it asks; NULL: nothing */
} phrases[] = {
    {"the keys `cable` and `terminals` settle it", NULL, "the kind of cable and what its ends are marked for settle it",
     ": say them under Rooms and branches"},
    {"`method` settles it, here and on every branch without one", NULL,
     "how it is laid settles it, here and on every branch", ": say it under Rooms and branches"},
    {"give `method`", NULL, "say how it is laid", ", under Rooms and branches"},
    {"give pscc or transformer", NULL, "say what the utility declares, the fault current or its transformer",
     ", under House and supply"},
    {"give ze or pscc, or a reading (zs_measured)", NULL,
     "say the loop impedance outside the house or the fault current, or a reading with its branch",
     ", under House and supply"},
    {"pscc is not given", NULL, "the prospective fault current is not given", NULL},
    {"or say --fault-at-panel A", NULL, "and say it", " under House and supply"},
    {" (--measured)", NULL, "", NULL},
    {" (rating_from)", NULL, "", NULL},
    {" (service_rating)", NULL, "", NULL},
    {" (service_wire)", NULL, "", NULL},
    {" (`ampsum typical ", "names the source)", "", NULL},
    {"where cooker_socket = yes", NULL, "where its branch says that there is one", NULL},
    {" (floor_area)", NULL, "", NULL},
    {" (control, --setpoint)", NULL, "", NULL},
    {"say continuous=yes", NULL, "say so with the appliance", NULL},
    {"neither `use` nor `hours` given", NULL, "no times of use and no hours given", NULL},
    {"neither `use` nor `hours` says how long they run", NULL, "no times and no hours say how long they run", NULL},
    {"behaviour=", NULL, "behaviour ", NULL},
    {"category=", NULL, "kind of load ", NULL},
    {"power_factor=", NULL, "power factor ", NULL},
    {"rated_voltage=", NULL, "voltage ", NULL},
    {"from service_rating", NULL, "as it was said", NULL},
    {"from main_breaker", NULL, "that of the main breaker", NULL},
    {"from supply_fuse", NULL, "that of the supply fuse", NULL},
    {"service_rating", NULL, "rating of the service", NULL},
    {"main_breaker", NULL, "main breaker", NULL},
    {"supply_fuse", NULL, "supply fuse", NULL},
};

/* The bytes that the phrase takes at that place; 0: it does not stand there. */
static size_t taken_by(const struct phrase *phrase, const char *at)
{
    const size_t length = strlen(phrase->said);
    if (strncmp(at, phrase->said, length) != 0) {
        return 0;
    }
    if (phrase->until == NULL) {
        return length;
    }
    const char *end = strstr(at + length, phrase->until);
    return end == NULL ? 0 : (size_t)(end - at) + strlen(phrase->until);
}

/* A key in the marks that other faces put round it: without them, its words apart. */
static size_t add_key(const char *at, struct text *plain)
{
    const size_t length = at[0] == '`' ? strspn(at + 1, "abcdefghijklmnopqrstuvwxyz_") : 0;
    if (length == 0 || at[1 + length] != '`') {
        return 0;
    }
    for (size_t i = 1; i <= length; i++) {
        text_add_char(plain, at[i] == '_' ? ' ' : at[i]);
    }
    return length + 2;
}

static size_t add_phrase(const char *at, bool html, struct text *plain)
{
    for (size_t i = 0; i < sizeof phrases / sizeof phrases[0]; i++) {
        const size_t taken = phrases[i].said[0] == at[0] ? taken_by(&phrases[i], at) : 0;
        if (taken > 0) {
            text_add(plain, phrases[i].shown);
            text_add(plain, html && phrases[i].where != NULL ? phrases[i].where : "");
            return taken;
        }
    }
    return add_key(at, plain);
}

/* A tag as it is, and where what it holds is no sentence, that too, up to its end. */
static size_t add_tag(const char *at, struct text *plain)
{
    static const char *const kept[][2] = {{"<pre", "</pre>"}, {"<code", "</code>"}, {"<textarea", "</textarea>"}};
    const char *end = strchr(at, '>');
    for (size_t i = 0; i < sizeof kept / sizeof kept[0]; i++) {
        const char *close = strncmp(at, kept[i][0], strlen(kept[i][0])) == 0 ? strstr(at, kept[i][1]) : NULL;
        end = close == NULL ? end : close + strlen(kept[i][1]) - 1;
    }
    const size_t length = end == NULL ? strlen(at) : (size_t)(end - at) + 1;
    text_add_length(plain, at, length);
    return length;
}

static void rewrite(struct text *text, bool html)
{
    static const char marks[] = "<`( abcefgmnoprsw";
    struct text plain = {0};
    for (const char *at = text_string(text); *at != '\0';) {
        const size_t far = strcspn(at, marks);
        text_add_length(&plain, at, far);
        at += far;
        const size_t taken = *at == '\0' ? 0 : *at == '<' && html ? add_tag(at, &plain) : add_phrase(at, html, &plain);
        if (taken == 0 && *at != '\0') {
            text_add_char(&plain, *at++);
        }
        at += taken;
    }
    text_done(text);
    *text = plain;
}

void plain_words(struct text *html)
{
    rewrite(html, true);
}

void plain_paper(struct text *text)
{
    rewrite(text, false);
}
