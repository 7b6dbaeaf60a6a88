#include <math.h>
#include <string.h>

#include "ampsum/reference.h"
#include "ampsum/service.h"
#include "ampsum/show.h"
#include "ampsum/words.h"

const char *const show_cautions[] = {
    "Estimates for planning, from what was said of the house. Local codes and a licensed electrician decide.", NULL};

const char *show_house_word(const struct page *page)
{
    return page->house == NULL ? "HOUSE" : page->house;
}

void show_cautions_text(const struct page *page, const char *const *more, struct text *text)
{
    const bool cases = more != NULL && more[0] != NULL;
    text_add(text, cases ? "Cautions\n" : "");
    for (size_t i = 0; cases && more[i] != NULL; i++) {
        text_add(text, "  ");
        show_wrap(page, 2, more[i], text);
    }
    for (size_t i = 0; show_cautions[i] != NULL; i++) {
        text_add(text, cases ? "  " : "");
        show_wrap(page, cases ? 2 : 0, show_cautions[i], text);
    }
}

void show_items(show_item *item, const void *of, size_t count, const char *between, const char *last, struct text *text)
{
    for (size_t i = 0; i < count; i++) {
        text_add(text, i == 0 ? "" : i + 1 == count ? last : between);
        item(of, i, text);
    }
}

void show_moment_in_year(const struct house *house, size_t branch, struct moment at, struct text *text)
{
    branch_moment_add(text, house, branch, at);
    if (at.month >= 0 && branch_has_times(house, branch)) {
        text_printf(text, ", %.3s", month_name(at.month));
    }
}

const char *show_verdict(enum verdict verdict)
{
    static const char *const words[] = {"empty", "room", "near", "AT RISK", "OVER"};
    return words[verdict];
}

const char *show_verdict_said(enum verdict verdict)
{
    return verdict == VERDICT_OK ? show_verdict(verdict) : verdict_word(verdict);
}

const char *show_trip(const char *trip, double current_a, double breaker_a)
{
    static const struct {
        const char *data;
        const char *shown;
    } over[] = {{"none expected", "need not open: the overload goes on and heats the wire"},
                {"may trip", "may carry it up to an hour"}};
    for (size_t i = 0; i < sizeof over / sizeof over[0] && exceeds(current_a, breaker_a); i++) {
        if (strcmp(trip, over[i].data) == 0) {
            return over[i].shown;
        }
    }
    return trip;
}

const char *show_severity(enum severity severity)
{
    static const char *const words[] = {"note", "WARNING", "DANGER"};
    return words[severity];
}

void show_house(const struct house *house, struct text *text)
{
    text_say(text, "%zu %s, %s rules, %s %.1g", house->branch_count, house->branch_count == 1 ? "branch" : "branches",
             rules_word(house->rules), system_word(house->system), house->voltage_v);
    if (house->system != SYSTEM_SINGLE_PHASE) {
        const double named_v =
            reference_line_to_line_v(rules_word(house->rules), system_word(house->system), house->voltage_v);
        text_add_char(text, '/');
        text_add_rounded(text, isfinite(named_v) ? named_v : house_circuit_voltage_v(house, 2), 0);
    }
    text_say(text, " V, %s %.1g A%s",
             house->service_a < house->panels[0].breaker_a ? "service" : main_device_word(house), house->service_a,
             house->service_from == SERVICE_ASSUMED ? " (assumed)" : "");
}

void show_house_counts(const struct house *house, struct text *text)
{
    static const char *const names[][2] = {[KIND_PANEL] = {"panel", "panels"},
                                           [KIND_ROOM] = {"room", "rooms"},
                                           [KIND_BRANCH] = {"branch", "branches"},
                                           [KIND_OUTLET] = {"outlet", "outlets"},
                                           [KIND_APPLIANCE] = {"appliance", "appliances"},
                                           [KIND_SCENE] = {"scene", "scenes"},
                                           [KIND_TARIFF] = {"tariff", "tariffs"}};
    for (enum kind kind = KIND_PANEL; kind <= KIND_TARIFF; kind++) {
        size_t count = 0;
        house_rows(house, kind, &count);
        text_printf(text, "%s%zu %s", kind == KIND_PANEL ? "" : ", ", count, names[kind][count == 1 ? 0 : 1]);
    }
}

void show_branch_name(const struct branch *branch, struct text *text)
{
    text_add(text, branch->label);
    if (strcmp(branch->label, branch->id) != 0) {
        text_printf(text, " (%s)", branch->id);
    }
}

/* Is this word a unit, whatever punctuation follows it? */
static bool is_unit(const char *word)
{
    static const char *const units[] = {"A",  "V",  "W",   "VA", "var", "kW",  "kWh", "%",
                                        "°C", "°F", "ohm", "Ω",  "ft",  "ft2", "m",   "mm2"};
    const size_t length = strcspn(word, " .,;:)");
    for (size_t i = 0; i < sizeof units / sizeof units[0]; i++) {
        if (strlen(units[i]) == length && memcmp(units[i], word, length) == 0) {
            return true;
        }
    }
    return false;
}

/* Length of the word at `at`; a number takes its unit along, so that no line ends between them. */
static size_t word_length(const char *at)
{
    size_t length = strcspn(at, " ");
    if (length > 0 && at[length - 1] >= '0' && at[length - 1] <= '9' && at[length] == ' ' && is_unit(at + length + 1)) {
        length += 1 + strcspn(at + length + 1, " ");
    }
    return length;
}

void show_wrap(const struct page *page, size_t indent, const char *string, struct text *text)
{
    size_t line_start = text->length;
    while (line_start > 0 && text->bytes[line_start - 1] != '\n') {
        line_start--;
    }
    size_t used = words_columns(text_string(text) + line_start);
    bool fresh = true;
    for (const char *at = string; *at != '\0';) {
        size_t blanks = strspn(at, " ");
        size_t length = word_length(at + blanks);
        struct text word = {0};
        text_add_length(&word, at + blanks, length);
        size_t columns = words_columns(text_string(&word));
        if (!fresh && used + 1 + columns > page->width) {
            text_printf(text, "\n%*s", (int)indent, "");
            used = indent;
        } else if (!fresh) {
            text_add_char(text, ' ');
            used++;
        }
        text_add(text, text_string(&word));
        used += columns;
        fresh = false;
        text_done(&word);
        at += blanks + length;
    }
    text_add_char(text, '\n');
}

void show_line(const struct page *page, size_t first, size_t indent, struct text *line, struct text *text)
{
    if (line->length > 0) {
        text_printf(text, "%*s", (int)first, "");
        show_wrap(page, indent, text_string(line), text);
    }
    text_done(line);
}

void show_say(const struct page *page, size_t first, size_t indent, struct text *text, const char *format, ...)
{
    struct text line = {0};
    va_list arguments;
    va_start(arguments, format);
    text_say_list(&line, text_add, format, arguments);
    va_end(arguments);
    show_line(page, first, indent, &line, text);
}

/* Letters of Latin-1 by those they are made of, U+00C0 to U+00FF; \0: none. */
static char plain_letter(const char *at)
{
    static const char letters[] = "AAAAAAACEEEEIIIIDNOOOOOxOUUUUYTsaaaaaaaceeeeiiiidnooooo/ouuuuyty";
    const unsigned char second = (unsigned char)at[1];
    return (unsigned char)at[0] == 0xC3 && second >= 0x80 && second <= 0xBF ? letters[second - 0x80] : '\0';
}

void show_plain(const char *string, struct text *text)
{
    static const struct {
        const char *shown;
        const char *plain;
    } spellings[] = {{"°C", "C"}, {"°", " deg"},  {"Ω", "ohm"},  {"Ω", "ohm"}, {"×", "x"}, {"·", "*"},  {"≤", "<="},
                     {"≥", ">="}, {"√", "sqrt "}, {"–", "-"},    {"—", "-"},   {"²", "2"}, {"µ", "u"},  {"−", "-"},
                     {"≈", "~="}, {"φ", "phi"},   {"Σ", "sum "}, {"→", "->"},  {"’", "'"}, {"…", "..."}};
    for (const char *at = string; *at != '\0';) {
        size_t length = 1;
        const char *plain = NULL;
        for (size_t i = 0; (unsigned char)*at >= 0x80 && i < sizeof spellings / sizeof spellings[0]; i++) {
            if (strncmp(at, spellings[i].shown, strlen(spellings[i].shown)) == 0) {
                plain = spellings[i].plain;
                length = strlen(spellings[i].shown);
                break;
            }
        }
        if (plain != NULL) {
            text_add(text, plain);
        } else if ((unsigned char)*at < 0x80) {
            text_add_char(text, *at);
        } else {
            while (((unsigned char)at[length] & 0xC0) == 0x80) {
                length++;
            }
            text_add_char(text, plain_letter(at) != '\0' ? plain_letter(at) : '?');
        }
        at += length;
    }
}

/* The colour of the word that begins here; NULL where it has none. */
static const char *colour_of(const char *at, size_t *ret_length)
{
    static const struct {
        const char *word;
        const char *colour;
    } words[] = {{"OVER", "31"}, {"DANGER", "31"}, {"AT RISK", "33"}, {"WARNING", "33"}};
    for (size_t i = 0; i < sizeof words / sizeof words[0]; i++) {
        *ret_length = strlen(words[i].word);
        if (strncmp(at, words[i].word, *ret_length) == 0 && at[*ret_length] == ' ') {
            return words[i].colour;
        }
    }
    return NULL;
}

/* A bar of the table stands behind the verdict and has its colour. */
static size_t bar_length(const char *at)
{
    const size_t blanks = strspn(at, " ");
    const size_t length = strspn(at + blanks, "#=|>.");
    return length >= 2 ? blanks + length : 0;
}

void show_coloured(const char *string, struct text *text)
{
    for (const char *at = string; *at != '\0';) {
        const size_t blanks = strspn(at, " ");
        size_t length = 0;
        const char *colour = colour_of(at + blanks, &length);
        text_add_length(text, at, blanks);
        at += blanks;
        if (colour != NULL) {
            length += bar_length(at + length);
            text_printf(text, "\x1B[1;%sm", colour);
            text_add_length(text, at, length);
            text_add(text, "\x1B[0m");
            at += length;
        }
        const size_t rest = strcspn(at, "\n");
        text_add_length(text, at, rest + (at[rest] == '\n'));
        at += rest + (at[rest] == '\n');
    }
}
