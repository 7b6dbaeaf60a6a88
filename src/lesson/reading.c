#include "ampsum/reading.h"

#include <ctype.h>
#include <string.h>

#include "answer_words.h"
#include "digits.h"
#include "plain.h"
#include "units.h"

enum { NAME_MOST = 40 };

void written_init(struct written *written)
{
    *written = (struct written){.form = ANSWER_EMPTY};
    mpq_init(written->factor);
    for (size_t i = 0; i < WRITTEN_WAYS_MOST; i++) {
        mpq_init(written->way[i].number);
    }
}

void written_done(struct written *written)
{
    mpq_clear(written->factor);
    for (size_t i = 0; i < WRITTEN_WAYS_MOST; i++) {
        mpq_clear(written->way[i].number);
    }
}

static void written_clear(struct written *written)
{
    for (size_t i = 0; i < WRITTEN_WAYS_MOST; i++) {
        struct written_way *way = &written->way[i];
        mpq_set_ui(way->number, 0, 1);
        way->figures_least = way->figures_most = 0;
        way->fraction = false;
        way->doubt = NULL;
    }
    mpq_set_ui(written->factor, 1, 1);
    written->form = ANSWER_EMPTY;
    written->way_count = 0;
    written->has_unit = written->mega = written->query = false;
    written->quantity = EXACT_RATIO;
    written->currencies = NULL;
    written->code[0] = '\0';
    written->value = 0;
    written->why = NULL;
}

static void refuse(struct written *written, const char *why)
{
    written->form = ANSWER_REFUSED;
    written->why = why;
}

static bool is_letter(char c)
{
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}

static bool is_digit(char c)
{
    return c >= '0' && c <= '9';
}

/* A stretch of the answer while its ends are taken off. */
struct span {
    const char *start;
    size_t length;
};

static void trim(struct span *span)
{
    while (span->length > 0 && *span->start == ' ') {
        span->start++;
        span->length--;
    }
    while (span->length > 0 && span->start[span->length - 1] == ' ') {
        span->length--;
    }
}

static bool has_digit(struct span span)
{
    for (size_t i = 0; i < span.length; i++) {
        if (is_digit(span.start[i])) {
            return true;
        }
    }
    return false;
}

/* `string` at the start of the span, any capitals, not going on as a word. */
static bool starts_with_word(struct span span, const char *string)
{
    size_t length = strlen(string);
    if (span.length < length) {
        return false;
    }
    for (size_t i = 0; i < length; i++) {
        if (tolower((unsigned char)span.start[i]) != string[i]) {
            return false;
        }
    }
    return span.length == length || !is_letter(span.start[length]) || !is_letter(string[length - 1]);
}

static bool is_nothing(const char *plain)
{
    static const char *const words[] = {"",
                                        "-",
                                        "--",
                                        "---",
                                        "?",
                                        "??",
                                        "???",
                                        "n/a",
                                        "na",
                                        "x",
                                        "idk",
                                        "don't know",
                                        "dont know",
                                        "i don't know",
                                        "i dont know",
                                        "keine ahnung",
                                        "no se",
                                        "no lo se",
                                        "je ne sais pas",
                                        "weiss nicht",
                                        "no idea"};
    struct text small = {0};
    plain_small(&small, plain);
    struct span span = {text_string(&small), small.length};
    trim(&span);
    while (span.length > 1 && strchr(".!", span.start[span.length - 1]) != NULL) {
        span.length--;
    }
    bool found = false;
    for (size_t i = 0; i < sizeof words / sizeof words[0] && !found; i++) {
        found = strlen(words[i]) == span.length && strncmp(words[i], span.start, span.length) == 0;
    }
    text_done(&small);
    return found;
}

/* A digit in front of which no letter stands: not that of R1 or I_1. */
static bool has_digit_alone(struct span span)
{
    for (size_t i = 0; i < span.length; i++) {
        if (is_digit(span.start[i]) && (i == 0 || !(is_letter(span.start[i - 1]) || span.start[i - 1] == '_'))) {
            return true;
        }
    }
    return false;
}

/* What stands behind the last `=`, or before it where only a letter stands behind; the letter of `I: 12.5 A`, `I ~ 12.5
 * A` goes. */
static void take_name_off(struct span *span)
{
    for (size_t i = span->length; i-- > 0;) {
        if (span->start[i] != '=') {
            continue;
        }
        struct span behind = {span->start + i + 1, span->length - i - 1};
        if (has_digit(behind) && !(is_letter(behind.start[strspn(behind.start, " ")]) && i > 0 &&
                                   has_digit((struct span){span->start, i}) && behind.length <= 4)) {
            *span = behind;
            break;
        }
        span->length = i;
    }
    trim(span);
    for (size_t i = 0; i + 1 < span->length && i < NAME_MOST && is_letter(span->start[0]); i++) {
        if (span->start[i] == ':' || (span->start[i] == '~' && !has_digit_alone((struct span){span->start, i}))) {
            *span = (struct span){span->start + i + 1, span->length - i - 1};
            break;
        }
    }
    trim(span);
}

static const char *const about_words[] = {
    "~",        "about", "approximately",   "approx.", "approx", "roughly", "ca.",  "ca",      "circa", "etwa",
    "ungefahr", "rund",  "aproximadamente", "aprox.",  "aprox",  "unos",    "unas", "environ", "env.",  "env"};

static void take_about_off(struct span *span)
{
    for (bool again = true; again;) {
        again = false;
        for (size_t i = 0; i < sizeof about_words / sizeof about_words[0] && !again; i++) {
            if (starts_with_word(*span, about_words[i])) {
                span->start += strlen(about_words[i]);
                span->length -= strlen(about_words[i]);
                trim(span);
                again = true;
            }
        }
    }
}

/* That word at the end goes, where no letter stands before it. */
static bool take_word_off_end(struct span *span, const char *word)
{
    const size_t length = strlen(word);
    const bool ends = span->length > length &&
                      starts_with_word((struct span){span->start + span->length - length, length}, word) &&
                      !(is_letter(word[0]) && is_letter(span->start[span->length - length - 1]));
    span->length -= ends ? length : 0;
    trim(span);
    return ends;
}

/* Points and marks at the end, and "total", "each", "approx.". */
static void take_end_off(struct span *span, bool *ret_query)
{
    static const char *const words[] = {"in total",   "en total",  "au total", "total",   "each",
                                        "altogether", "insgesamt", "gesamt",   "jeweils", "je",
                                        "cada uno",   "cada una",  "chacun",   "chacune"};
    for (bool again = true; again && span->length > 0;) {
        again = strchr(".,;!?", span->start[span->length - 1]) != NULL;
        *ret_query = *ret_query || span->start[span->length - 1] == '?';
        span->length -= again ? 1 : 0;
        trim(span);
        for (size_t i = 0; i < sizeof words / sizeof words[0] && !again; i++) {
            again = take_word_off_end(span, words[i]);
        }
        for (size_t i = 0; i < sizeof about_words / sizeof about_words[0] && !again; i++) {
            again = take_word_off_end(span, about_words[i]);
        }
    }
}

/* 3-Feb, 01.04., 2024-03-02: what a spreadsheet makes of 2/3. */
static bool is_date(struct span span)
{
    size_t digits = 0;
    while (digits < span.length && is_digit(span.start[digits])) {
        digits++;
    }
    if (digits == 0 || digits >= span.length) {
        size_t letters = 0;
        while (letters < span.length && is_letter(span.start[letters])) {
            letters++;
        }
        return letters == 3 && letters + 1 < span.length && span.start[letters] == '-' &&
               is_digit(span.start[letters + 1]);
    }
    const char *behind = span.start + digits;
    const size_t left = span.length - digits;
    bool month_name = left >= 4 && (behind[0] == '-' || behind[0] == '.') && is_letter(behind[1]) &&
                      is_letter(behind[2]) && is_letter(behind[3]);
    bool iso = digits == 4 && left == 6 && behind[0] == '-' && behind[3] == '-';
    bool points = digits == 2 && left >= 4 && behind[0] == '.' && is_digit(behind[1]) && is_digit(behind[2]) &&
                  behind[3] == '.' && (behind[1] == '0' || (behind[1] == '1' && behind[2] <= '2'));
    bool slashes = digits <= 2 && left >= 5 && behind[0] == '/' && memchr(behind + 1, '/', left - 1) != NULL;
    return month_name || iso || points || slashes;
}

/* A remark with a digit that is no further answer: (60/4.8), (= 12500 mA), (I1 + I2). */
static bool is_working(const char *remark)
{
    return strpbrk(remark, "+*/=") != NULL || strstr(remark, " x ") != NULL;
}

/* The whole answer in brackets comes out of them. */
static void take_brackets_off(struct span *span)
{
    const char *close = span->length > 2 && *span->start == '(' ? memchr(span->start, ')', span->length) : NULL;
    if (close == span->start + span->length - 1 && close != NULL) {
        *span = (struct span){span->start + 1, span->length - 2};
        trim(span);
    }
}

/* A remark in brackets goes; a unit in brackets comes out of them. False where a remark holds what may be an answer. */
static bool open_brackets(struct text *text, enum exact_quantity asked)
{
    for (size_t start = 0; start < text->length; start++) {
        const char c = text->bytes[start];
        const char *close = c == '['   ? strchr(text->bytes + start, ']')
                            : c == '(' ? strchr(text->bytes + start, ')')
                                       : NULL;
        if (close == NULL) {
            continue;
        }
        struct text inside = {0};
        struct text rest = {0};
        struct unit_meaning ignored;
        text_add_length(&inside, text->bytes + start + 1, (size_t)(close - text->bytes) - start - 1);
        bool plural = strcmp(text_string(&inside), "s") == 0 && start > 0 && is_letter(text->bytes[start - 1]);
        bool unit = !plural && unit_find(text_string(&inside), asked, &ignored);
        bool digits =
            has_digit((struct span){text_string(&inside), inside.length}) && !is_working(text_string(&inside));
        text_add_length(&rest, text->bytes, start);
        text_add(&rest, plural ? "s" : unit ? " " : "");
        text_add(&rest, unit ? text_string(&inside) : "");
        text_add(&rest, close + 1);
        text_done(&inside);
        text_done(text);
        *text = rest;
        if (digits) {
            return false;
        }
    }
    return true;
}

static bool take_unit(struct written *written, const char *word, enum exact_quantity asked)
{
    struct unit_meaning meaning;
    bool letter = asked == EXACT_RESISTANCE && strlen(word) == 1 && strchr("kKM", word[0]) != NULL;
    if (letter) {
        meaning = (struct unit_meaning){EXACT_RESISTANCE, word[0] == 'M' ? 1000000 : 1000, 1, false, NULL};
    } else if (!unit_find(word, asked, &meaning)) {
        return false;
    }
    written->has_unit = true;
    written->quantity = meaning.quantity;
    written->mega = meaning.mega;
    mpq_set_ui(written->factor, meaning.over, meaning.under);
    mpq_canonicalize(written->factor);
    written->currencies = meaning.currencies;
    if (meaning.currencies == word) { /* a code of three letters that no list holds */
        memcpy(written->code, word, sizeof written->code - 1);
        written->code[sizeof written->code - 1] = '\0';
        written->currencies = written->code;
    }
    return true;
}

/* A unit or a money sign in front: `A 12.5`, `$0.54`. Returns what stands behind it. */
static const char *read_unit_in_front(const char *at, struct written *written, enum exact_quantity asked)
{
    size_t length = 0;
    while (at[length] != '\0' && strchr(" 0123456789.,+-", at[length]) == NULL) {
        length++;
    }
    if (length == 0) {
        return at;
    }
    struct text word = {0};
    text_add_length(&word, at, length);
    bool known = take_unit(written, text_string(&word), asked);
    text_done(&word);
    return known ? at + length + strspn(at + length, " ") : at;
}

static const char *why_not_read(const char *rest)
{
    rest += strspn(rest, " ");
    if (strpbrk(rest, "0123456789") == NULL) {
        return strpbrk(rest, "+*/^") != NULL ? "doubt.formula" : "doubt.unit";
    }
    return strstr(rest, "\xC2\xB1") != NULL ? "doubt.span"
           : *rest == '-'                   ? "doubt.range"
           : strpbrk(rest, "+*/x^") != NULL ? "doubt.formula"
                                            : "doubt.several";
}

static void read_number(struct written *written, const char *string, const struct written_context *context)
{
    const char *at = read_unit_in_front(string, written, context->measure);
    if (strstr(string, "\xC2\xB1") != NULL || strstr(string, "+-") != NULL || strstr(string, "+/-") != NULL) {
        refuse(written, "doubt.span");
        return;
    }
    if (strpbrk(at, "0123456789") == NULL || (!is_digit(*at) && strchr("+-.,", *at) == NULL)) {
        refuse(written, strpbrk(at, "0123456789") == NULL ? "doubt.no-number" : "doubt.front");
        return;
    }
    written->form = ANSWER_NUMBER;
    if (!digits_read(&at, context, written)) {
        return;
    }
    at += strspn(at, " ");
    if (*at != '\0' && (written->has_unit || !take_unit(written, at, context->measure))) {
        refuse(written, why_not_read(at));
    }
}

static void read_plain(const char *plain, const struct written_context *context, struct written *written)
{
    struct span span = {plain, strlen(plain)};
    struct text bare = {0};
    trim(&span);
    if (is_date(span)) {
        refuse(written, "doubt.date");
        return;
    }
    take_brackets_off(&span);
    take_name_off(&span);
    take_about_off(&span);
    text_add_length(&bare, span.start, span.length);
    bool ok = open_brackets(&bare, context->measure);
    span = (struct span){text_string(&bare), bare.length};
    trim(&span);
    take_end_off(&span, &written->query);
    struct text number = {0};
    text_add_length(&number, span.start, span.length);
    if (!ok) {
        refuse(written, "doubt.several");
    } else {
        read_number(written, text_string(&number), context);
    }
    text_done(&number);
    text_done(&bare);
}

void written_read(const char *string, const struct written_context *context, struct written *ret_written)
{
    struct text plain = {0};
    written_clear(ret_written);
    plain_signs(&plain, string);
    const char *at = text_string(&plain);
    at += strspn(at, " ");
    at += *at == '\'' ? 1 : 0; /* keeps a spreadsheet from taking the cell for a formula */
    const bool arrow = context->measure == EXACT_ARROW && at[0] == '-'; /* falls, or nothing at all? */
    if (!arrow && is_nothing(at)) {
        ret_written->form = ANSWER_EMPTY;
    } else if (answer_is_word(context->measure)) {
        answer_words_read(at, context->measure, ret_written);
    } else {
        read_plain(at, context, ret_written);
    }
    text_done(&plain);
}

void written_show(const struct written *written, size_t way, struct text *text)
{
    enum { FIGURES_SHOWN = 12 };
    mpq_t value;
    mpq_init(value);
    mpq_mul(value, written->way[way].number, written->factor);
    if (written->way[way].fraction && exact_digits(value) == 0) {
        exact_write_fraction(text, value);
    } else {
        exact_write_decimal(text, value, FIGURES_SHOWN);
    }
    const char *unit = !written->has_unit                 ? ""
                       : written->quantity == EXACT_MONEY ? (written->currencies == NULL ? "" : written->currencies)
                       : written->quantity == EXACT_RATIO ? ""
                                                          : exact_unit(written->quantity);
    text_printf(text, "%s%.*s", unit[0] == '\0' ? "" : " ", unit == written->currencies ? 3 : 8, unit);
    mpq_clear(value);
}
