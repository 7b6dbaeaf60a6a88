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

static bool is_letter(char c)
{
    return (c >= 'A' && c <= 'Z') || (c >= 'a' && c <= 'z') || (unsigned char)c >= 0x80;
}

/* Ranks of a match, best first. */
enum rank { RANK_EQUAL, RANK_START, RANK_LATER, RANK_EACH_WORD, RANK_BEGINNING, RANKS };

enum { BEGINNING_LEAST = 3 }; /* letters from which on the beginning of a word is a match too */

/* Rank of `word` as whole words of `text`, any case; RANK_BEGINNING where only a word there begins with it. */
static int place_of(const char *text, const char *word)
{
    const size_t length = strlen(word);
    int best = NO_MATCH;
    for (size_t i = 0; text[i] != '\0'; i++) {
        if ((i > 0 && is_letter(text[i - 1])) || !starts_with(text + i, word)) {
            continue;
        }
        const bool whole = length == 0 || !is_letter(text[i + length]);
        const int start = i > 0 ? RANK_LATER : length > 0 && text[length] == '\0' ? RANK_EQUAL : RANK_START;
        const int rank = whole ? start : length >= BEGINNING_LEAST ? RANK_BEGINNING : NO_MATCH;
        best = rank < best ? rank : best;
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

/* Edit distance, or `limit` + 1 where the lengths alone lie further apart, which is the case for most. */
static size_t distance_within(const char *a, const char *b, size_t b_length, size_t limit)
{
    const size_t a_length = strlen(a);
    const size_t apart = a_length > b_length ? a_length - b_length : b_length - a_length;
    return apart > limit ? limit + 1 : words_distance(a, b);
}

/* Edit distance from `word` to the nearest word of `name`, or to all of it; NO_MATCH above a third of its length. */
static int distance_to(const char *name, const char *word)
{
    static const char separators[] = " ,-()";
    char part[WORD_ROOM];
    const size_t length = strlen(word);
    const size_t limit = (length + 2) / 3;
    size_t best = copy_word(name, "", part) ? distance_within(part, word, length, limit) : limit + 1;
    for (const char *at = name; *at != '\0'; at += strcspn(at, separators)) {
        at += strspn(at, separators);
        if (copy_word(at, separators, part)) {
            size_t distance = distance_within(part, word, length, limit);
            best = distance < best ? distance : best;
        }
    }
    return best <= limit ? (int)best : NO_MATCH;
}

/* `portable heater` in `portable space heater`: each word is a word there. */
static int words_place(const char *text, const char *words)
{
    char part[WORD_ROOM];
    for (const char *at = words; *at != '\0'; at += strcspn(at, " "), at += strspn(at, " ")) {
        if (!copy_word(at, " ", part) || part[0] == '\0' || place_of(text, part) > RANK_LATER) {
            return NO_MATCH;
        }
    }
    return strchr(words, ' ') == NULL ? NO_MATCH : RANK_EACH_WORD;
}

/* `Spaceheater`, `hair-dryer`: the same letters, however they are parted. */
static bool same_letters(const char *text, const char *word)
{
    static const char parting[] = " -";
    for (;; text++, word++) {
        text += strspn(text, parting);
        word += strspn(word, parting);
        if (lower(*text) != lower(*word)) {
            return false;
        }
        if (*text == '\0') {
            return true;
        }
    }
}

static int lesser(int a, int b)
{
    return a < b ? a : b;
}

static int rank_of(const char *name, const char *word, bool near)
{
    if (near) {
        return distance_to(name, word);
    }
    return same_letters(name, word) ? RANK_EQUAL : lesser(place_of(name, word), words_place(name, word));
}

/* The best of its name, its ID and the other names that people have for it. */
static int rank(const struct ref_typical *row, const char *word, bool near)
{
    int best = rank_of(row->name, word, near);
    best = near ? best : lesser(best, same_letters(row->id, word) ? RANK_EQUAL : place_of(row->id, word));
    for (size_t i = 0; i < ref_typical_name_count; i++) {
        const struct ref_typical_name *other = &ref_typical_name_rows[i];
        if (strcmp(other->id, row->id) == 0 && strcmp(other->rules, row->rules) == 0) {
            best = lesser(best, rank_of(other->name, word, near));
        }
    }
    return best;
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
    for (int wanted = 0; wanted < (near ? WORD_ROOM : RANKS); wanted++) {
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

/* The word without a plural's `s` or `es`; false where it has none or is too long for any name. */
static bool singular(const char *word, const char *ending, char ret_word[WORD_ROOM])
{
    const size_t length = strlen(word);
    const size_t tail = strlen(ending);
    if (length <= tail + 1 || !starts_with(word + length - tail, ending) || !copy_word(word, "", ret_word)) {
        return false;
    }
    ret_word[length - tail] = '\0';
    return true;
}

size_t reference_typical_find(const char *word, const char *rules, const struct ref_typical **ret, size_t ret_max,
                              bool *ret_near)
{
    static const char *const endings[] = {"s", "es"};
    char wanted[WORD_ROOM];
    size_t count = collect(word, rules, false, ret, ret_max);
    for (size_t i = 0; i < 2 && count == 0; i++) {
        count = singular(word, endings[i], wanted) ? collect(wanted, rules, false, ret, ret_max) : 0;
    }
    *ret_near = count == 0;
    if (count == 0 && copy_word(word, "", wanted)) {
        count = collect(wanted, rules, true, ret, ret_max);
    }
    return count;
}

/* The row that is called so, of a rule set; NULL for all. */
static const struct ref_typical *called(const char *name, const char *rules)
{
    static const char *const endings[] = {"", "s", "es"};
    char wanted[WORD_ROOM];
    for (size_t k = 0; k < sizeof endings / sizeof endings[0]; k++) {
        for (size_t i = 0; i < ref_typical_count && singular(name, endings[k], wanted); i++) {
            const struct ref_typical *row = &ref_typical_rows[i];
            if ((rules == NULL || strcmp(row->rules, rules) == 0) && rank(row, wanted, false) == RANK_EQUAL) {
                return row;
            }
        }
    }
    return NULL;
}

const struct ref_typical *reference_typical_named(const char *name, const char *rules)
{
    const struct ref_typical *row = called(name, rules);
    return row != NULL ? row : called(name, NULL);
}
