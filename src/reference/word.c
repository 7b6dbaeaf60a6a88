/* Words in a name that say what a load or a room is. */
#include <stdint.h>
#include <string.h>

#include "ampsum/reference.h"
#include "same.h"

static bool is_letter(unsigned char c)
{
    return (c >= 'A' && c <= 'Z') || (c >= 'a' && c <= 'z') || c >= 0x80;
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

/* Where `word` stands in `text` for the last time as whole words; NULL: nowhere. */
static const char *last_place(const char *text, const char *word)
{
    const char *found = NULL;
    for (const char *at = text; *at != '\0'; at++) {
        bool starts = lower_at(text, at) == (unsigned char)*word && is_letter((unsigned char)*at) &&
                      (at == text || !is_letter((unsigned char)at[-1]));
        const char *end = starts ? follow(text, at, word) : NULL;
        found = end != NULL && ends_word(text, end) ? at : found;
    }
    return found;
}

bool reference_word_in(const char *word, const char *text)
{
    return last_place(text, word) != NULL;
}

static size_t words_in(const char *word)
{
    size_t count = 1;
    for (; *word != '\0'; word++) {
        count += *word == ' ';
    }
    return count;
}

/* A match that is better than another: of more words, else later in the text (the last word names the thing). */
struct match {
    size_t words;
    const char *place;
};

static bool offer(struct match *best, const char *text, const char *word)
{
    struct match match = {words_in(word), last_place(text, word)};
    bool better = match.place != NULL && (best->place == NULL || match.words > best->words ||
                                          (match.words == best->words && match.place > best->place));
    if (better) {
        *best = match;
    }
    return better;
}

static bool tells_nothing(const struct ref_word *row)
{
    return row->category == NULL && row->thing == NULL && row->caution == NULL;
}

/* True where the word at `place` is part of one that means something else: `cooker` in `slow cooker`. */
static bool hidden(const char *text, const char *place)
{
    for (size_t i = 0; i < ref_word_count; i++) {
        const struct ref_word *row = &ref_word_rows[i];
        const char *start = tells_nothing(row) ? last_place(text, row->word) : NULL;
        if (start != NULL && start <= place && place < follow(text, start, row->word)) {
            return true;
        }
    }
    return false;
}

/* How a word begins, as one bit of 64: its first two bytes in lower case. */
static uint64_t beginning(unsigned char first, unsigned char second)
{
    return UINT64_C(1) << ((first * 5U + second) & 0x3f);
}

/* How the words of a text begin. */
static uint64_t beginnings(const char *text)
{
    uint64_t bits = 0;
    for (const char *at = text; *at != '\0'; at++) {
        if (is_letter((unsigned char)*at) && (at == text || !is_letter((unsigned char)at[-1]))) {
            bits |= beginning(lower_at(text, at), lower_at(text, at + 1));
        }
    }
    return bits;
}

const struct ref_word *reference_word(const char *rules, const char *text, enum reference_word_about about)
{
    const uint64_t begin = beginnings(text); /* most names begin like none of the words: told at one look each */
    struct match best = {0, NULL};
    const struct ref_word *found = NULL;
    for (size_t i = 0; i < ref_word_count; i++) {
        const struct ref_word *row = &ref_word_rows[i];
        const bool longer = row->word[1] != ' '; /* a blank stands for other bytes */
        if (longer && (begin & beginning((unsigned char)row->word[0], (unsigned char)row->word[1])) == 0) {
            continue;
        }
        struct match before = best;
        const char *told = about == REFERENCE_WORD_CATEGORY ? row->category : row->thing;
        if (told == NULL || !(same(row->rules, "*") || same(row->rules, rules)) || !offer(&best, text, row->word)) {
            continue;
        }
        if (hidden(text, best.place)) {
            best = before;
        } else {
            found = row;
        }
    }
    return found;
}

const struct ref_word *reference_word_caution(const char *rules, const char *text, const char *caution)
{
    for (size_t i = 0; i < ref_word_count; i++) {
        const struct ref_word *row = &ref_word_rows[i];
        if (row->caution != NULL && same(row->caution, caution) && (same(row->rules, "*") || same(row->rules, rules)) &&
            reference_word_in(row->word, text)) {
            return row;
        }
    }
    return NULL;
}

const struct ref_room_word *reference_room_word(const char *text)
{
    struct match best = {0, NULL};
    const struct ref_room_word *found = NULL;
    for (size_t i = 0; i < ref_room_word_count; i++) {
        if (offer(&best, text, ref_room_word_rows[i].word)) {
            found = &ref_room_word_rows[i];
        }
    }
    return found;
}
