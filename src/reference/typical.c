/* Typical ratings by a word: what holds it first, else what is near to it. */
#include <stdlib.h>
#include <string.h>

#include "ampsum/arena.h"
#include "ampsum/reference.h"
#include "ampsum/words.h"

enum { WORD_ROOM = 64, NO_MATCH = 1000 }; /* longer words are near to nothing; names in the table are shorter */

static char lower(char c)
{
    return (char)(c >= 'A' && c <= 'Z' ? c - 'A' + 'a' : c);
}

static bool starts_with(const char *text, const char *word)
{
    while (*word != '\0' && lower(*text) == lower(*word)) {
        text++;
        word++;
    }
    return *word == '\0';
}

/* Where `word` stands in `text`, any case: 0 at its start, 1 at the start of a later word, 2 inside; else NO_MATCH. */
static int place_of(const char *text, const char *word)
{
    int best = NO_MATCH;
    for (size_t i = 0; text[i] != '\0'; i++) {
        if (starts_with(text + i, word)) {
            bool word_start = i > 0 && (text[i - 1] == ' ' || text[i - 1] == '-');
            int place = i == 0 ? 0 : word_start ? 1 : 2;
            best = place < best ? place : best;
        }
    }
    return best;
}

/* Copies a word in lower case, up to a separator; false where it does not fit. */
static bool copy_word(const char *text, const char *separators, char ret_word[WORD_ROOM])
{
    size_t length = strcspn(text, separators);
    for (size_t i = 0; i < length && length < WORD_ROOM; i++) {
        ret_word[i] = lower(text[i]);
    }
    ret_word[length < WORD_ROOM ? length : 0] = '\0';
    return length < WORD_ROOM;
}

/* Edit distance from `word` to the nearest word of `name`, or to all of it; NO_MATCH above a third of its length. */
static int distance_to(const char *name, const char *word)
{
    static const char separators[] = " ,-()";
    char part[WORD_ROOM];
    size_t limit = (strlen(word) + 2) / 3;
    size_t best = copy_word(name, "", part) ? words_distance(part, word) : limit + 1;
    for (const char *at = name; *at != '\0'; at += strcspn(at, separators)) {
        at += strspn(at, separators);
        if (copy_word(at, separators, part)) {
            size_t distance = words_distance(part, word);
            best = distance < best ? distance : best;
        }
    }
    return best <= limit ? (int)best : NO_MATCH;
}

/* `portable heater` in `portable space heater`: 3 where each word begins a word there; else NO_MATCH. */
static int words_place(const char *text, const char *words)
{
    char part[WORD_ROOM];
    for (const char *at = words; *at != '\0'; at += strcspn(at, " "), at += strspn(at, " ")) {
        if (!copy_word(at, " ", part) || part[0] == '\0' || place_of(text, part) > 1) {
            return NO_MATCH;
        }
    }
    return strchr(words, ' ') == NULL ? NO_MATCH : 3;
}

static int lesser(int a, int b)
{
    return a < b ? a : b;
}

static int rank(const struct ref_typical *row, const char *word, bool near)
{
    if (near) {
        return distance_to(row->name, word);
    }
    return lesser(lesser(place_of(row->name, word), place_of(row->id, word)), words_place(row->name, word));
}

/* Stores the rows of each rank in turn, so that the best come first and rows of one rank keep the table's order. */
static size_t collect(const char *word, const char *rules, bool near, const struct ref_typical **ret, size_t ret_max)
{
    size_t count = 0;
    int *ranks = memory_resize(NULL, ref_typical_count, sizeof *ranks);
    for (size_t i = 0; i < ref_typical_count; i++) {
        const bool of_rules = rules == NULL || strcmp(ref_typical_rows[i].rules, rules) == 0;
        ranks[i] = of_rules ? rank(&ref_typical_rows[i], word, near) : NO_MATCH;
    }
    for (int wanted = 0; wanted < WORD_ROOM; wanted++) {
        for (size_t i = 0; i < ref_typical_count && count < ret_max; i++) {
            if (ranks[i] == wanted) {
                ret[count++] = &ref_typical_rows[i];
            }
        }
        if (near && count > 0) {
            break; /* only the nearest are worth naming */
        }
    }
    free(ranks);
    return count;
}

size_t reference_typical_find(const char *word, const char *rules, const struct ref_typical **ret, size_t ret_max,
                              bool *ret_near)
{
    size_t count = collect(word, rules, false, ret, ret_max);
    char wanted[WORD_ROOM];
    *ret_near = count == 0;
    if (count == 0 && copy_word(word, "", wanted)) {
        count = collect(wanted, rules, true, ret, ret_max);
    }
    return count;
}
