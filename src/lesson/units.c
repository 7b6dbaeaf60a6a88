#include "units.h"

#include <string.h>
#include <strings.h>

#include "ampsum/words.h"
#include "plain.h"

enum { FUZZY_LEAST = 4 };

/* Symbols that take a prefix. Where `exact`, capitals count: S is no s. */
static const struct symbol {
    const char *symbol;
    bool exact;
    enum exact_quantity quantity;
    unsigned long over;
    unsigned long under;
} symbols[] = {
    {"A", false, EXACT_CURRENT, 1, 1},      {"V", false, EXACT_VOLTAGE, 1, 1},
    {"W", false, EXACT_POWER, 1, 1},        {"VA", false, EXACT_APPARENT, 1, 1},
    {"var", false, EXACT_REACTIVE, 1, 1},   {"ohm", false, EXACT_RESISTANCE, 1, 1},
    {"S", true, EXACT_CONDUCTANCE, 1, 1},   {"Wh", false, EXACT_ENERGY, 1, 1000},
    {"J", true, EXACT_ENERGY, 1, 3600000},  {"J/s", false, EXACT_POWER, 1, 1},
    {"V/A", false, EXACT_RESISTANCE, 1, 1}, {"R", true, EXACT_RESISTANCE, 1, 1},
};

/* Symbols and short words without a prefix. */
static const struct plain_symbol {
    const char *symbol;
    struct unit_meaning meaning;
} plain_symbols[] = {
    {"h", {EXACT_TIME, 1, 1, false, NULL}},         {"min", {EXACT_TIME, 1, 60, false, NULL}},
    {"s", {EXACT_TIME, 1, 3600, false, NULL}},      {"%", {EXACT_RATIO, 1, 100, false, NULL}},
    {"omh", {EXACT_RESISTANCE, 1, 1, false, NULL}}, {"m", {EXACT_LENGTH, 1, 1, false, NULL}},
    {"km", {EXACT_LENGTH, 1000, 1, false, NULL}},   {"cm", {EXACT_LENGTH, 1, 100, false, NULL}},
    {"mm", {EXACT_LENGTH, 1, 1000, false, NULL}},   {"pct", {EXACT_RATIO, 1, 100, false, NULL}},
};

static const struct prefix {
    char symbol;
    const char *word;
    unsigned long over;
    unsigned long under;
} prefixes[] = {
    {'u', "micro", 1, 1000000}, {'m', "milli", 1, 1000},   {'k', "kilo", 1000, 1},
    {'K', "kilo", 1000, 1},     {'M', "mega", 1000000, 1}, {'G', "giga", 1000000000, 1},
};

/* Words in small letters without accents, blanks and hyphens. */
static const struct unit_word {
    const char *word;
    enum exact_quantity quantity;
    unsigned long under; /* factor 1 / under */
} unit_words[] = {
    {"amp", EXACT_CURRENT, 1},
    {"amps", EXACT_CURRENT, 1},
    {"ampere", EXACT_CURRENT, 1},
    {"amperes", EXACT_CURRENT, 1},
    {"amperio", EXACT_CURRENT, 1},
    {"amperios", EXACT_CURRENT, 1},
    {"volt", EXACT_VOLTAGE, 1},
    {"volts", EXACT_VOLTAGE, 1},
    {"voltio", EXACT_VOLTAGE, 1},
    {"voltios", EXACT_VOLTAGE, 1},
    {"watt", EXACT_POWER, 1},
    {"watts", EXACT_POWER, 1},
    {"vatio", EXACT_POWER, 1},
    {"vatios", EXACT_POWER, 1},
    {"ohm", EXACT_RESISTANCE, 1},
    {"ohms", EXACT_RESISTANCE, 1},
    {"ohmio", EXACT_RESISTANCE, 1},
    {"ohmios", EXACT_RESISTANCE, 1},
    {"siemens", EXACT_CONDUCTANCE, 1},
    {"voltampere", EXACT_APPARENT, 1},
    {"voltamperes", EXACT_APPARENT, 1},
    {"voltamp", EXACT_APPARENT, 1},
    {"voltamps", EXACT_APPARENT, 1},
    {"voltamperio", EXACT_APPARENT, 1},
    {"voltamperios", EXACT_APPARENT, 1},
    {"vars", EXACT_REACTIVE, 1},
    {"watthour", EXACT_ENERGY, 1000},
    {"watthours", EXACT_ENERGY, 1000},
    {"wattstunde", EXACT_ENERGY, 1000},
    {"wattstunden", EXACT_ENERGY, 1000},
    {"vatiohora", EXACT_ENERGY, 1000},
    {"vatioshora", EXACT_ENERGY, 1000},
    {"wattheure", EXACT_ENERGY, 1000},
    {"wattheures", EXACT_ENERGY, 1000},
    {"joule", EXACT_ENERGY, 3600000},
    {"joules", EXACT_ENERGY, 3600000},
    {"hour", EXACT_TIME, 1},
    {"hours", EXACT_TIME, 1},
    {"hr", EXACT_TIME, 1},
    {"hrs", EXACT_TIME, 1},
    {"stunde", EXACT_TIME, 1},
    {"stunden", EXACT_TIME, 1},
    {"std", EXACT_TIME, 1},
    {"hora", EXACT_TIME, 1},
    {"horas", EXACT_TIME, 1},
    {"heure", EXACT_TIME, 1},
    {"heures", EXACT_TIME, 1},
    {"mins", EXACT_TIME, 60},
    {"minute", EXACT_TIME, 60},
    {"minutes", EXACT_TIME, 60},
    {"minuten", EXACT_TIME, 60},
    {"minuto", EXACT_TIME, 60},
    {"minutos", EXACT_TIME, 60},
    {"sec", EXACT_TIME, 3600},
    {"secs", EXACT_TIME, 3600},
    {"second", EXACT_TIME, 3600},
    {"seconds", EXACT_TIME, 3600},
    {"sekunde", EXACT_TIME, 3600},
    {"sekunden", EXACT_TIME, 3600},
    {"segundo", EXACT_TIME, 3600},
    {"segundos", EXACT_TIME, 3600},
    {"seconde", EXACT_TIME, 3600},
    {"secondes", EXACT_TIME, 3600},
    {"percent", EXACT_RATIO, 100},
    {"metre", EXACT_LENGTH, 1},
    {"metres", EXACT_LENGTH, 1},
    {"meter", EXACT_LENGTH, 1},
    {"meters", EXACT_LENGTH, 1},
    {"metro", EXACT_LENGTH, 1},
    {"metros", EXACT_LENGTH, 1},
    {"prozent", EXACT_RATIO, 100},
    {"porciento", EXACT_RATIO, 100},
    {"pourcent", EXACT_RATIO, 100},
};

/* kilohm and megohm leave a letter out. */
static const struct whole_word {
    const char *word;
    unsigned long over;
} whole_words[] = {{"kilohm", 1000}, {"kilohms", 1000}, {"megohm", 1000000}, {"megohms", 1000000}};

static const char dollars[] = "USD CAD AUD NZD SGD HKD MXN";

static const struct money_word {
    const char *word;
    unsigned long under;
    const char *currencies;
} money_words[] = {
    {"$", 1, dollars},       {"dollar", 1, dollars}, {"dollars", 1, dollars}, {"€", 1, "EUR"},
    {"euro", 1, "EUR"},      {"euros", 1, "EUR"},    {"£", 1, "GBP"},         {"pound", 1, "GBP"},
    {"pounds", 1, "GBP"},    {"pence", 100, "GBP"},  {"penny", 100, "GBP"},   {"p", 100, "GBP"},
    {"cent", 100, NULL},     {"cents", 100, NULL},   {"¢", 100, NULL},        {"ct", 100, NULL},
    {"cts", 100, NULL},      {"centimo", 100, NULL}, {"centimos", 100, NULL}, {"centime", 100, NULL},
    {"centimes", 100, NULL}, {"c", 100, NULL},
};

static bool same_symbol(const char *word, const struct symbol *symbol)
{
    return symbol->exact ? strcmp(word, symbol->symbol) == 0 : strcasecmp(word, symbol->symbol) == 0;
}

static bool find_symbol(const char *word, struct unit_meaning *ret)
{
    for (size_t i = 0; i < sizeof plain_symbols / sizeof plain_symbols[0]; i++) {
        if (strcmp(word, plain_symbols[i].symbol) == 0) {
            *ret = plain_symbols[i].meaning;
            return true;
        }
    }
    for (size_t i = 0; i < sizeof symbols / sizeof symbols[0]; i++) {
        const struct symbol *row = &symbols[i];
        if (same_symbol(word, row)) {
            *ret = (struct unit_meaning){row->quantity, row->over, row->under, false, NULL};
            return true;
        }
        for (size_t k = 0; k < sizeof prefixes / sizeof prefixes[0]; k++) {
            if (word[0] == prefixes[k].symbol && same_symbol(word + 1, row)) {
                bool mega = word[0] == 'M' && strlen(row->symbol) == 1 && strchr("AVW", row->symbol[0]) != NULL;
                *ret = (struct unit_meaning){row->quantity, row->over * prefixes[k].over,
                                             row->under * prefixes[k].under, mega, NULL};
                return true;
            }
        }
    }
    return false;
}

static bool find_money(const char *word, const char *small, enum exact_quantity asked, struct unit_meaning *ret)
{
    for (size_t i = 0; i < sizeof money_words / sizeof money_words[0]; i++) {
        if (strcmp(small, money_words[i].word) == 0) {
            *ret = (struct unit_meaning){EXACT_MONEY, 1, money_words[i].under, false, money_words[i].currencies};
            return true;
        }
    }
    static const char *const codes[] = {"USD", "EUR", "GBP", "CHF", "CAD", "AUD"};
    const char *code = NULL;
    for (size_t i = 0; i < sizeof codes / sizeof codes[0]; i++) {
        code = strcasecmp(word, codes[i]) == 0 ? codes[i] : code;
    }
    bool other = asked == EXACT_MONEY && strlen(word) == 3 && strspn(word, "ABCDEFGHIJKLMNOPQRSTUVWXYZ") == 3;
    if (code == NULL && !other) {
        return false;
    }
    *ret = (struct unit_meaning){EXACT_MONEY, 1, 1, false, code == NULL ? word : code};
    return true;
}

/* Looks at all words; those within `slack` letters. False also where two units are equally near. */
static bool find_word(const char *small, size_t slack, struct unit_meaning *ret)
{
    size_t found = 0;
    for (size_t i = 0; i < sizeof unit_words / sizeof unit_words[0]; i++) {
        const struct unit_word *row = &unit_words[i];
        for (size_t k = 0; k <= sizeof prefixes / sizeof prefixes[0]; k++) {
            bool bare = k == sizeof prefixes / sizeof prefixes[0];
            struct text word = {0};
            text_printf(&word, "%s%s", bare ? "" : prefixes[k].word, row->word);
            bool same = slack == 0 ? strcmp(small, text_string(&word)) == 0
                                   : word.length >= FUZZY_LEAST && words_distance(small, text_string(&word)) <= slack;
            text_done(&word);
            if (!same) {
                continue;
            }
            struct unit_meaning meaning = {row->quantity, bare ? 1 : prefixes[k].over,
                                           row->under * (bare ? 1 : prefixes[k].under), false, NULL};
            if (found > 0 &&
                (ret->quantity != meaning.quantity || ret->over != meaning.over || ret->under != meaning.under)) {
                return false;
            }
            *ret = meaning;
            found++;
        }
    }
    for (size_t i = 0; i < sizeof whole_words / sizeof whole_words[0] && found == 0; i++) {
        if (words_distance(small, whole_words[i].word) <= slack) {
            *ret = (struct unit_meaning){EXACT_RESISTANCE, whole_words[i].over, 1, false, NULL};
            found++;
        }
    }
    return found > 0;
}

/* mAmps, kohms: the letter of a prefix in front of a word that is rightly written. */
static bool find_prefixed(const char *word, const char *small, struct unit_meaning *ret)
{
    struct unit_meaning bare;
    for (size_t i = 0; i < sizeof prefixes / sizeof prefixes[0]; i++) {
        if (word[0] == prefixes[i].symbol && find_word(small + 1, 0, &bare) && strlen(small) >= FUZZY_LEAST) {
            *ret = (struct unit_meaning){bare.quantity, bare.over * prefixes[i].over, bare.under * prefixes[i].under,
                                         word[0] == 'M', NULL};
            return true;
        }
    }
    return false;
}

bool unit_find(const char *word, enum exact_quantity asked, struct unit_meaning *ret)
{
    struct text joined = {0}; /* kilowatt-hours, kW h, kW*h */
    struct text small = {0};
    for (const char *c = word; *c != '\0'; c++) {
        text_add_length(&joined, c, strchr(" -*", *c) == NULL ? 1 : 0);
    }
    plain_small(&small, text_string(&joined));
    if (asked == EXACT_LENGTH && strcmp(text_string(&joined), "M") == 0) {
        joined.bytes[0] = 'm'; /* 36 M of cable: there is no other unit of one letter that could be meant */
    }
    bool found =
        joined.length > 0 && (find_symbol(text_string(&joined), ret) || find_word(text_string(&small), 0, ret) ||
                              find_money(word, text_string(&small), asked, ret) ||
                              find_prefixed(text_string(&joined), text_string(&small), ret) ||
                              (small.length + 1 >= FUZZY_LEAST && find_word(text_string(&small), 1, ret)));
    text_done(&joined);
    text_done(&small);
    return found;
}
