#include "ampsum/asked.h"

#include <ctype.h>
#include <string.h>
#include <strings.h>

#include "ampsum/answer_choice.h"
#include "ampsum/keys.h"
#include "ampsum/typed.h"

/* Without blanks and commas at its ends. */
static const char *trimmed(struct arena *arena, const char *start, size_t length)
{
    while (length > 0 && strchr(" ,", start[0]) != NULL) {
        start++;
        length--;
    }
    while (length > 0 && strchr(" ,", start[length - 1]) != NULL) {
        length--;
    }
    return arena_copy_length(arena, start, length);
}

/* `words` without the part from `start` of that length. */
static const char *without(struct arena *arena, const char *words, const char *start, size_t length)
{
    const char *before = trimmed(arena, words, (size_t)(start - words));
    const char *behind = start + length + strspn(start + length, " ");
    return trimmed(arena, arena_printf(arena, "%s%s%s", before, *behind == ',' ? "" : " ", behind),
                   strlen(before) + 1 + strlen(behind));
}

/* ------------------------------------------------------------------ when ---------------------------------- */

/* Windows; NULL where it is no time. Bare numbers, `5-10`, are a name's where no comma parts them from it. */
static const char *windows_of(struct arena *arena, const char *words, bool apart)
{
    const char *use = typed_value(arena, section_key(&sections[KIND_APPLIANCE], "use"), words);
    const bool clock = words[strspn(words, "0123456789- ")] != '\0';
    return use == words || *words == '\0' || (!apart && !clock) ? NULL : use;
}

/* The longest time that ends `end` bytes into the words, `in the evening`, `from 7pm to 10pm`. */
static void take_time(struct asked *asked, size_t end, struct arena *arena)
{
    enum { LONGEST = 100 }; /* bytes of a time in words */
    const char *words = asked->what;
    for (size_t at = end > LONGEST ? end - LONGEST : 1; at < end && asked->use == NULL; at++) {
        if (words[at] == ' ' || words[at] == ',') {
            const char *tail = trimmed(arena, words + at, end - at);
            asked->use = windows_of(arena, tail, words[at] == ',');
            asked->use_said = asked->use == NULL ? NULL : tail;
            asked->what = asked->use == NULL ? words : without(arena, words, words + at, end - at);
        }
    }
}

/* A part between commas that is a time: `heater, tonight, 1500 W`. */
static void take_part(struct asked *asked, struct arena *arena)
{
    for (const char *at = strchr(asked->what, ','); at != NULL && asked->use == NULL; at = strchr(at + 1, ',')) {
        const size_t length = strcspn(at + 1, ",");
        const char *part = trimmed(arena, at + 1, length);
        asked->use = windows_of(arena, part, true);
        if (asked->use != NULL) {
            asked->use_said = part;
            asked->what = without(arena, asked->what, at, length + 1);
            return;
        }
    }
}

/* ------------------------------------------------------------------ in which room ------------------------- */

static const char *without_article(const char *words)
{
    static const char *const articles[] = {"the ", "my ", "our "};
    for (size_t i = 0; i < sizeof articles / sizeof articles[0]; i++) {
        if (strncasecmp(words, articles[i], strlen(articles[i])) == 0) {
            return words + strlen(articles[i]);
        }
    }
    return words;
}

/* The room by its ID, `living-room` and `living room` alike, or by its name. */
static size_t room_called(const struct house *house, const char *name, struct arena *arena)
{
    char *id = arena_copy_length(arena, name, strlen(name));
    for (char *at = id; *at != '\0'; at++) {
        *at = *at == ' ' ? '-' : (char)tolower((unsigned char)*at);
    }
    size_t room = house_find(house, KIND_ROOM, id);
    for (size_t i = 0; i < house->room_count && room == NO_INDEX; i++) {
        room = strcasecmp(house->rooms[i].name, name) == 0 ? i : NO_INDEX;
    }
    return room;
}

/* `in the bedroom`, up to a comma or the end; what no room is called stays, but for `in the ...`, which names one. */
static bool take_room(const struct house *house, struct asked *asked, struct arena *arena, struct error *error)
{
    const char *unknown = NULL;
    for (const char *at = strcasestr(asked->what, " in "); at != NULL; at = strcasestr(at + 1, " in ")) {
        const size_t length = strcspn(at, ",");
        const char *said = trimmed(arena, at, length);
        const char *name = without_article(said + strlen("in "));
        const size_t room = room_called(house, name, arena);
        if (room != NO_INDEX) {
            asked->room = room;
            asked->room_said = said;
            asked->what = without(arena, asked->what, at, length);
            return true;
        }
        unknown = name != said + strlen("in ") ? name : unknown;
    }
    if (unknown != NULL && house->room_count > 0) {
        choice_find(house, KIND_ROOM, unknown, error);
        return false;
    }
    return true;
}

bool asked_read(const struct house *house, const char *said, struct arena *arena, struct asked *ret_asked,
                struct error *error)
{
    *ret_asked = (struct asked){.what = trimmed(arena, said, strlen(said)), .room = NO_INDEX};
    const bool own = strstr(said, "use=") != NULL;
    for (int round = 0; round < 2 && !own; round++) { /* behind the room, or in front of it */
        take_time(ret_asked, strlen(ret_asked->what), arena);
        take_time(ret_asked, strcspn(ret_asked->what, ","), arena);
        take_part(ret_asked, arena);
        if (ret_asked->room == NO_INDEX && !take_room(house, ret_asked, arena, error)) {
            return false;
        }
    }
    if (own && !take_room(house, ret_asked, arena, error)) {
        return false;
    }
    ret_asked->load =
        ret_asked->use == NULL ? ret_asked->what : arena_printf(arena, "%s, use=%s", ret_asked->what, ret_asked->use);
    return true;
}
