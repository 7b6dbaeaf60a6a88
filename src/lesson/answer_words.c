#include "answer_words.h"

#include <stdlib.h>
#include <string.h>

#include "plain.h"

/* Words of four languages, in small letters without accents. `leads`: only where it stands first. */
static const struct meaning {
    enum exact_quantity measure;
    int value;
    const char *words; /* a blank before and behind each */
} meanings[] = {
    {EXACT_YES_NO, 1, " yes y yeah yep true ja j wahr si s verdadero oui o vrai "},
    {EXACT_YES_NO, 0, " no n nope false nein falsch falso non faux "},
    {EXACT_ARROW, 1,
     " rises rise rising up increases increase increasing more higher bigger larger grows steigt steigend zunehmend "
     "mehr "
     "groesser grosser aumenta sube mas mayor augmente monte plus ↑ "},
    {EXACT_ARROW, -1,
     " falls fall falling down decreases decrease decreasing less lower smaller drops drop sinkt fallt abnehmend "
     "weniger "
     "kleiner disminuye baja menos menor diminue baisse moins ↓ "},
    {EXACT_ARROW, 0,
     " stays stay same unchanged constant equal bleibt gleich unverandert konstant igual constante meme pareil "
     "inchange "
     "inchangee = → ↔ "},
    {EXACT_DIRECTION, 1,
     " in into entering enters enter inward inwards inflow incoming hinein herein rein entra entrante entre entrant "},
    {EXACT_DIRECTION, 0,
     " out leaving leaves leave outward outwards outflow outgoing hinaus heraus raus sale saliente sort sortant "},
};

/* The question's own words, for yes and no; turned round by a "not". */
static const struct meaning own_words[] = {
    {EXACT_YES_NO, 1, " trips trip over exceeds above "},
    {EXACT_YES_NO, 0, " holds hold under below "},
};

static const char turning[] = " not doesn't doesnt isn't isnt won't wont nicht pas ";

/* Two words for one thing: they are one before anything is read. */
static const struct {
    const char *words;
    const char *one;
} phrases[] = {
    {"no change", "same"},   {"does not change", "same"}, {"doesn't change", "same"}, {"not change", "same"},
    {"no cambia", "same"},   {"ne change pas", "same"},   {"nimmt zu", "up"},         {"nimmt ab", "down"},
    {"goes up", "up"},       {"goes down", "down"},       {"out of", "out"},          {"the same", "same"},
    {"stays equal", "same"},
};

bool answer_is_word(enum exact_quantity measure)
{
    return measure == EXACT_YES_NO || measure == EXACT_ARROW || measure == EXACT_DIRECTION || measure == EXACT_CHOICE ||
           measure == EXACT_PART;
}

static bool has_word(const char *words, const char *word, size_t length)
{
    for (const char *at = words; (at = strchr(at, ' ')) != NULL && at[1] != '\0';) {
        at++;
        if (strncmp(at, word, length) == 0 && at[length] == ' ') {
            return true;
        }
    }
    return false;
}

/* What the words say so far: one bit for each value, -1, 0, 1. */
struct said {
    unsigned bits;
    int first; /* value of the first word that says something */
    bool turned;
};

static void say(struct said *said, int value)
{
    said->first = said->bits == 0 ? value : said->first;
    said->bits |= 1U << (value + 1);
}

static void take_word(struct said *said, enum exact_quantity measure, const char *word, size_t length)
{
    said->turned = said->turned || has_word(turning, word, length);
    for (size_t i = 0; i < sizeof meanings / sizeof meanings[0]; i++) {
        if (meanings[i].measure == measure && has_word(meanings[i].words, word, length)) {
            say(said, meanings[i].value);
        }
    }
    for (size_t i = 0; i < sizeof own_words / sizeof own_words[0] && measure == EXACT_YES_NO; i++) {
        if (has_word(own_words[i].words, word, length)) {
            say(said, said->turned ? !own_words[i].value : own_words[i].value);
        }
    }
}

static bool is_word_sign(char c)
{
    return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '\'' || c == '=' || (unsigned char)c >= 128;
}

static void join_phrases(struct text *text)
{
    for (size_t i = 0; i < sizeof phrases / sizeof phrases[0]; i++) {
        const char *at = strstr(text_string(text), phrases[i].words);
        if (at != NULL) {
            struct text joined = {0};
            text_add_length(&joined, text_string(text), (size_t)(at - text_string(text)));
            text_add(&joined, phrases[i].one);
            text_add(&joined, at + strlen(phrases[i].words));
            text_done(text);
            *text = joined;
        }
    }
}

static void read_words(const char *plain, enum exact_quantity measure, struct written *written)
{
    struct text small = {0};
    struct said said = {0};
    plain_small(&small, plain);
    join_phrases(&small);
    for (const char *at = text_string(&small); *at != '\0';) {
        size_t length = 0;
        while (is_word_sign(at[length])) {
            length++;
        }
        if (length > 0) {
            take_word(&said, measure, at, length);
        }
        at += length > 0 ? length : 1;
    }
    text_done(&small);
    const bool one = said.bits != 0 && (said.bits & (said.bits - 1)) == 0;
    written->form = one ? ANSWER_WORD : ANSWER_REFUSED;
    written->value = said.first;
    written->why = one ? NULL : said.bits == 0 ? "doubt.words" : "doubt.both";
}

static bool is_letter(char c)
{
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}

/* Behind what joins one answer to another: "or", "/", ","; NULL where nothing does. */
static const char *behind_join(const char *at)
{
    static const char *const words[] = {"or ", "and ", "oder ", "und ", "o ", "y ", "ou ", "et ", ""};
    const size_t marks = strspn(at, " ).,/&;");
    size_t i = 0;
    while (strncmp(at + marks, words[i], strlen(words[i])) != 0) {
        i++;
    }
    at += marks + strlen(words[i]);
    return marks == 0 ? NULL : at + strspn(at, " (");
}

/* "or c" behind a letter, "and R3" behind a part: a second answer and nothing more, so that "b) a further path" is one.
 */
static bool has_second(const char *rest, bool letter)
{
    const char *second = behind_join(rest);
    if (second == NULL) {
        return false;
    }
    second += !letter && (*second == 'R' || *second == 'r') ? 1 : 0;
    second += !letter ? strspn(second, " _") : 0;
    const size_t length = letter ? strspn(second, "abcdeABCDE") : strspn(second, "0123456789");
    return length > 0 && length <= (letter ? 1 : 2) && second[length + strspn(second + length, " ).!?")] == '\0';
}

/* `b`, `(B)`, `b) because`. */
static void read_choice(const char *plain, struct written *written)
{
    plain += strspn(plain, " (");
    const char c = *plain >= 'A' && *plain <= 'Z' ? (char)(*plain - 'A' + 'a') : *plain;
    const bool alone = c >= 'a' && c <= 'e' && !is_letter(plain[1]) && (plain[1] < '0' || plain[1] > '9');
    const bool both = alone && has_second(plain + 1, true);
    written->form = alone && !both ? ANSWER_WORD : ANSWER_REFUSED;
    written->value = alone ? c - 'a' + 1 : 0;
    written->why = both ? "doubt.both" : alone ? NULL : "doubt.letter";
}

/* `R2`, `r 2`, `2`. */
static void read_part(const char *plain, struct written *written)
{
    plain += strspn(plain, " (");
    plain += *plain == 'R' || *plain == 'r' ? 1 : 0;
    plain += strspn(plain, " _");
    const size_t digits = strspn(plain, "0123456789");
    const bool alone = digits > 0 && digits <= 2 && strchr(" ).,;:", plain[digits]) != NULL;
    const bool both = alone && has_second(plain + digits, false);
    written->form = alone && !both ? ANSWER_WORD : ANSWER_REFUSED;
    written->value = alone ? (int)strtol(plain, NULL, 10) : 0;
    written->why = both ? "doubt.both" : alone ? NULL : "doubt.part";
}

void answer_words_read(const char *plain, enum exact_quantity measure, struct written *ret_written)
{
    if (measure == EXACT_CHOICE) {
        read_choice(plain, ret_written);
    } else if (measure == EXACT_PART) {
        read_part(plain, ret_written);
    } else {
        read_words(plain, measure, ret_written);
    }
}
