/* Words in a name that say what a load or a room is. */
#include <string.h>

#include "ampsum/reference.h"
#include "ordered.h"
#include "same.h"

static bool is_letter(unsigned char c)
{
    return (unsigned char)((c | 0x20) - 'a') < 26 || c >= 0x80;
}

/* The byte at `at` in lower case; of the letters beyond ASCII those from U+00C0 to U+00DE (UTF-8 C3 80 .. C3 9E). */
static unsigned char lower_at(const char *text, const char *at)
{
    unsigned char c = (unsigned char)*at;
    if (c >= 'A' && c <= 'Z') {
        return (unsigned char)(c - 'A' + 'a');
    }
    bool capital = c >= 0x80 && c <= 0x9e && c != 0x97 && at > text && (unsigned char)at[-1] == 0xc3;
    return capital ? (unsigned char)(c + 0x20) : c;
}

/* What follows `word` in `text` from `at` on, a blank of the word standing for whatever is no letter; NULL: no match.
 */
static const char *follow(const char *text, const char *at, const char *word)
{
    for (; *word != '\0'; word++) {
        if (*word == ' ') {
            const char *before = at;
            while (*at != '\0' && !is_letter((unsigned char)*at)) {
                at++;
            }
            if (at == before) {
                return NULL;
            }
        } else if (lower_at(text, at) != (unsigned char)*word) {
            return NULL;
        } else {
            at++;
        }
    }
    return at;
}

/* True where a word ends: nothing, or a plural's ending, and then no letter. */
static bool ends_word(const char *text, const char *at)
{
    static const char *const endings[] = {"", "s", "es"};
    for (size_t i = 0; i < sizeof endings / sizeof endings[0]; i++) {
        const char *end = follow(text, at, endings[i]);
        if (end != NULL && !is_letter((unsigned char)*end)) {
            return true;
        }
    }
    return false;
}

/* Whether a word of `text` starts at `at`. */
static bool starts_word(const char *text, const char *at)
{
    return is_letter((unsigned char)*at) && (at == text || !is_letter((unsigned char)at[-1]));
}

/* Where `word` stands in `text` for the last time as whole words; NULL: nowhere. */
static const char *last_place(const char *text, const char *word)
{
    const char *found = NULL;
    for (const char *at = text; *at != '\0'; at++) {
        bool starts = lower_at(text, at) == (unsigned char)*word && starts_word(text, at);
        const char *end = starts ? follow(text, at, word) : NULL;
        found = end != NULL && ends_word(text, end) ? at : found;
    }
    return found;
}

bool reference_word_in(const char *word, const char *text)
{
    return last_place(text, word) != NULL;
}

/* ------------------------------------------------------------------ words of a table in a text ------------ */

enum { NOT_LOOKED_UP = -1 };

/* A walk over all places of a text at which a word of a table stands. */
struct walk {
    struct ordered words;
    const char *text;
    const char *at;   /* the place */
    long order;       /* in `words`: where to look next at that place */
    size_t row;       /* the row whose word stands there */
    const char *word; /* that word */
};

static struct walk walk_start(struct ordered words, const char *text)
{
    return (struct walk){.words = words, .text = text, .at = text, .order = NOT_LOOKED_UP};
}

/* The next word at the walk's place; false where there is none (any more). Words begin with two letters. */
static bool next_here(struct walk *walk)
{
    const unsigned char first = lower_at(walk->text, walk->at);
    const unsigned char second = lower_at(walk->text, walk->at + 1);
    if (walk->order == NOT_LOOKED_UP) {
        walk->order = (long)ordered_from_bytes(&walk->words, first, second);
    }
    for (; (size_t)walk->order < walk->words.count; walk->order++) {
        const char *word = ordered_word(&walk->words, (size_t)walk->order);
        if ((unsigned char)word[0] != first || (unsigned char)word[1] != second) {
            return false;
        }
        const char *end = follow(walk->text, walk->at, word);
        if (end != NULL && ends_word(walk->text, end)) {
            walk->row = walk->words.rows[walk->order++];
            walk->word = word;
            return true;
        }
    }
    return false;
}

/* Goes on to the next word of the table, from the text's start to its end; false behind the last one. */
static bool walk_next(struct walk *walk)
{
    bool inside = walk->at > walk->text && is_letter((unsigned char)walk->at[-1]); /* of a word */
    for (; *walk->at != '\0'; walk->at++) {
        const bool letter = is_letter((unsigned char)*walk->at);
        if (letter && !inside && next_here(walk)) {
            return true;
        }
        inside = letter;
        walk->order = NOT_LOOKED_UP;
    }
    return false;
}

bool reference_word_any(const char *text)
{
    struct walk walk = walk_start(ORDERED(ref_word, word), text);
    return walk_next(&walk);
}

static size_t words_in(const char *word)
{
    size_t count = 1;
    for (; *word != '\0'; word++) {
        count += *word == ' ';
    }
    return count;
}

/*
 * A match that is better than another: of more words, else later in the text (the last word names the thing), else of
 * the row that stands first in the table.
 */
struct match {
    size_t words; /* 0: none yet */
    const char *place;
    size_t row;
};

/* Takes the walk's word for the best if it is; a word that the text has several times stands at its last place. */
static bool is_better(const struct match *best, const struct walk *walk)
{
    const size_t words = words_in(walk->word);
    const bool better = words != best->words      ? words > best->words
                        : walk->at != best->place ? walk->at > best->place
                                                  : walk->row < best->row;
    return better && last_place(walk->text, walk->word) == walk->at;
}

static struct match match_of(const struct walk *walk)
{
    return (struct match){words_in(walk->word), walk->at, walk->row};
}

static bool tells_nothing(const struct ref_word *row)
{
    return row->category == NULL && row->thing == NULL && row->caution == NULL;
}

/* True where the word at `place` is part of one that means something else: `cooker` in `slow cooker`. */
static bool hidden(const char *text, const char *place)
{
    struct walk walk = walk_start(ORDERED(ref_word, word), text);
    while (walk_next(&walk) && walk.at <= place) {
        const bool covers = tells_nothing(&ref_word_rows[walk.row]) && place < follow(text, walk.at, walk.word);
        if (covers && last_place(text, walk.word) == walk.at) {
            return true;
        }
    }
    return false;
}

static bool row_is_of(const struct ref_word *row, const char *rules)
{
    return same(row->rules, "*") || same(row->rules, rules);
}

const struct ref_word *reference_word(const char *rules, const char *text, enum reference_word_about about)
{
    struct walk walk = walk_start(ORDERED(ref_word, word), text);
    struct match best = {0, NULL, 0};
    while (walk_next(&walk)) {
        const struct ref_word *row = &ref_word_rows[walk.row];
        const char *told = about == REFERENCE_WORD_CATEGORY ? row->category : row->thing;
        if (told != NULL && row_is_of(row, rules) && is_better(&best, &walk) && !hidden(text, walk.at)) {
            best = match_of(&walk);
        }
    }
    return best.words == 0 ? NULL : &ref_word_rows[best.row];
}

const struct ref_word *reference_word_caution(const char *rules, const char *text, const char *caution)
{
    struct walk walk = walk_start(ORDERED(ref_word, word), text);
    size_t found = ref_word_count;
    while (walk_next(&walk)) {
        const struct ref_word *row = &ref_word_rows[walk.row];
        const bool meant = row->caution != NULL && (caution == NULL || same(row->caution, caution));
        if (meant && row_is_of(row, rules) && walk.row < found) {
            found = walk.row;
        }
    }
    return found == ref_word_count ? NULL : &ref_word_rows[found];
}

const struct ref_room_word *reference_room_word(const char *text)
{
    struct walk walk = walk_start(ORDERED(ref_room_word, word), text);
    struct match best = {0, NULL, 0};
    while (walk_next(&walk)) {
        if (is_better(&best, &walk)) {
            best = match_of(&walk);
        }
    }
    return best.words == 0 ? NULL : &ref_room_word_rows[best.row];
}
