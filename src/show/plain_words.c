#include "ampsum/plain_words.h"

#include <ctype.h>
#include <stdbool.h>
#include <string.h>

#include "ampsum/keys.h"

static const struct phrase {
    const char *said;  /* of all faces */
    const char *until; /* also left out: what follows, up to the end of this; NULL: nothing */
    const char *shown;
    const char *where; /* what the page alone says behind it: where it asks; NULL: nothing */
} phrases[] = {
    {"The key `supply_fuse` settles it", NULL, "The supplier's fuse settles it", ": say it under House and supply"},
    {"The key `code_edition` settles it", NULL, "The edition of the code settles it",
     ": say it under House and supply"},
    {"The key `rated_voltage` settles it", NULL, "The voltage on the nameplate settles it",
     ": say it with the appliance, under Rooms and branches"},
    {"The key `category` settles it", NULL, "The kind of load settles it",
     ": say it with the appliance, under Rooms and branches"},
    {"The key `cooker_socket` settles it", NULL, "Whether the cooker's switch has a socket settles it",
     ": say it with the branch, under Rooms and branches"},
    {"The key `connection` settles it", NULL, "Between which conductors it is connected settles it",
     ": say it with the appliance, under Rooms and branches"},
    {"The key `fixed` settles it", NULL, "Whether it is fastened in place or wired in settles it",
     ": say it with the appliance, under Rooms and branches"},
    {"the key `fixed` says so", NULL, "say so", " with the appliance, under Rooms and branches"},
    {"; connection=3L+N in the load says that all three carry it", NULL, "", NULL},
    {"The key `third_harmonic` settles it", NULL, "The third harmonic of the line current settles it",
     ": say it with the branch, under Rooms and branches"},
    {"The key `wire` settles it", NULL, "The wire's size and metal settle it",
     ": say them with the branch, under Rooms and branches"},
    {"The key `method` settles it", NULL, "How the cable is laid settles it",
     ": say it with the branch, under Rooms and branches"},
    {"The key `kind` settles it", NULL, "The kind of the room settles it", ": say it under Rooms and branches"},
    {"A `name` that says cooktop, oven or range settles it", NULL,
     "Its name settles it where it says cooktop, oven or range", NULL},
    {"`tied` settles it", NULL, "that settles it", ": say it under Rooms and branches"},
    {"pscc is less than", NULL, "the prospective fault current is less than", NULL},
    {"ze is not given", NULL, "the loop impedance outside the house is not given", NULL},
    {"ze and pscc contradict", NULL,
     "the loop impedance outside the house and the prospective fault current contradict", NULL},
    {"; --volts says otherwise", NULL, "", NULL},
    {" and not key=value", NULL, "", NULL},
    {"; category=\u2026 behind a load may change that", NULL, "; what kind of load it is may change that", NULL},
    {"; category=... in the load says otherwise", NULL, "; a name that tells what it is says otherwise", NULL},
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
    {"; `ampsum typical ", "lists the known ones", "; its nameplate has it", NULL},
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

static bool is_key_letter(char letter)
{
    return (letter >= 'a' && letter <= 'z') || letter == '_';
}

static bool is_key(const char *name, size_t length)
{
    bool found = false;
    for (size_t kind = 0; kind < KIND_COUNT && !found; kind++) {
        for (size_t i = 0; i < sections[kind].key_count && !found; i++) {
            const char *key = sections[kind].keys[i].name;
            found = strncmp(key, name, length) == 0 && key[length] == '\0';
        }
    }
    return found;
}

/* A key and its value in the marks that other faces put round them: without the marks, and the words apart. */
static size_t add_marked(const char *at, struct text *plain)
{
    const size_t length = at[0] != '`' ? 0 : strcspn(at + 1, "`<\n");
    if (length == 0 || at[1 + length] != '`' || !is_key_letter(at[1])) {
        return 0;
    }
    for (size_t i = 1; i <= length; i++) {
        i += strncmp(at + i, " = ", 3) == 0 ? 2 : 0;
        text_add_char(plain, at[i] == '_' || at[i] == '=' ? ' ' : at[i]);
    }
    return length + 2;
}

/* `power_factor=0.9`, `main_breaker`: a key by its bare name, where no word of the language is spelled so. */
static size_t add_bare(const char *at, struct text *plain)
{
    size_t length = 0;
    while (is_key_letter(at[length])) {
        length++;
    }
    const bool valued = at[length] == '=' && at[length + 1] != '\0' && at[length + 1] != ' ';
    if (length == 0 || !(valued || memchr(at, '_', length) != NULL) || !is_key(at, length)) {
        return 0;
    }
    for (size_t i = 0; i < length; i++) {
        text_add_char(plain, at[i] == '_' ? ' ' : at[i]);
    }
    text_add(plain, valued ? " " : "");
    return length + valued;
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
    const size_t marked = add_marked(at, plain);
    return marked > 0 ? marked : add_bare(at, plain);
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

static bool is_word(char letter)
{
    return isalnum((unsigned char)letter) || letter == '_' || letter == '-' || (unsigned char)letter >= 0x80;
}

/* How much stands as it is: up to a tag, a mark or the beginning of a word. */
static size_t to_look_at(const char *at)
{
    size_t far = 1;
    while (at[far] != '\0' && strchr("<`(; ", at[far]) == NULL && (is_word(at[far - 1]) || !is_word(at[far]))) {
        far++;
    }
    return far;
}

static void rewrite(struct text *text, bool html)
{
    struct text plain = {0};
    for (const char *at = text_string(text); *at != '\0';) {
        size_t taken = *at == '<' && html ? add_tag(at, &plain) : add_phrase(at, html, &plain);
        if (taken == 0) {
            taken = to_look_at(at);
            text_add_length(&plain, at, taken);
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
