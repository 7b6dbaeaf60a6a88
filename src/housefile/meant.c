#include "meant.h"

#include <string.h>

#include "ampsum/quantity.h"
#include "ampsum/words.h"

/* What people call things, in lower case, and the word here; of keys the first that the section has. */
struct said {
    const char *said;
    const char *word;
};

static const struct said said_keys[] = {
    {"watt", "power"},
    {"watts", "power"},
    {"wattage", "power"},
    {"load", "power"},
    {"amp", "current"},
    {"amps", "current"},
    {"amperes", "current"},
    {"amperage", "current"},
    {"amp", "breaker"},
    {"amps", "breaker"},
    {"amperage", "breaker"},
    {"fuse", "breaker"},
    {"rating", "breaker"},
    {"breaker_size", "breaker"},
    {"breaker", "main_breaker"},
    {"main", "main_breaker"},
    {"service", "main_breaker"},
    {"amps", "main_breaker"},
    {"volt", "rated_voltage"},
    {"volts", "rated_voltage"},
    {"voltage", "rated_voltage"},
    {"volts", "voltage"},
    {"ohms", "resistance"},
    {"hp", "horsepower"},
    {"va", "apparent"},
    {"pf", "power_factor"},
    {"quantity", "count"},
    {"qty", "count"},
    {"number", "count"},
    {"pieces", "count"},
    {"time", "use"},
    {"times", "use"},
    {"schedule", "use"},
    {"type", "category"},
    {"kind", "category"},
    {"type", "purpose"},
    {"kind", "purpose"},
    {"type", "rules"},
    {"code", "rules"},
    {"country", "rules"},
    {"circuit", "branch"},
    {"socket", "outlet"},
    {"receptacle", "outlet"},
    {"location", "room"},
    {"label", "name"},
    {"title", "name"},
    {"description", "name"},
    {"name", "label"},
    {"title", "label"},
    {"description", "label"},
    {"slot", "position"},
    {"space", "position"},
    {"phase", "legs"},
    {"phases", "legs"},
    {"cable", "wire"},
    {"gauge", "wire"},
    {"wire_size", "wire"},
    {"distance", "length"},
    {"length", "run"},
    {"gfci", "protection"},
    {"afci", "protection"},
    {"rcd", "protection"},
    {"rate", "price"},
    {"cost", "price"},
    {"area", "floor_area"},
    {"size", "floor_area"},
    {"money", "currency"},
};

static const struct said said_sections[] = {
    {"device", "appliance"}, {"load", "appliance"},     {"equipment", "appliance"}, {"lamp", "appliance"},
    {"light", "appliance"},  {"circuit", "branch"},     {"breaker", "branch"},      {"fuse", "branch"},
    {"socket", "outlet"},    {"receptacle", "outlet"},  {"plug", "outlet"},         {"area", "room"},
    {"home", "house"},       {"subpanel", "panel"},     {"sub-panel", "panel"},     {"board", "panel"},
    {"rate", "tariff"},      {"electricity", "tariff"}, {"price", "tariff"},
};

const char *meant_key(const struct section *section, const char *name)
{
    for (size_t i = 0; i < sizeof said_keys / sizeof said_keys[0]; i++) {
        if (strcmp(said_keys[i].said, name) == 0 && section_key(section, said_keys[i].word) != NULL) {
            return said_keys[i].word;
        }
    }
    struct words_nearest nearest;
    words_nearest_init(&nearest, name);
    for (size_t i = 0; i < section->key_count; i++) {
        words_nearest_offer(&nearest, section->keys[i].name);
    }
    return nearest.best;
}

const char *meant_section(const char *word)
{
    for (size_t i = 0; i < sizeof said_sections / sizeof said_sections[0]; i++) {
        if (strcmp(said_sections[i].said, word) == 0) {
            return said_sections[i].word;
        }
    }
    struct words_nearest nearest;
    words_nearest_init(&nearest, word);
    for (size_t i = 0; i < KIND_COUNT; i++) {
        words_nearest_offer(&nearest, sections[i].word);
    }
    return nearest.best;
}

void meant_rating(const struct section *section, const struct key *key, const char *value, struct text *fault)
{
    static const char *const ratings[] = {"power", "apparent", "current", "resistance", "horsepower"};
    const struct key *meant = NULL;
    bool is_rating = false;
    const char *unit = quantity_unit(value);
    if (section->kind != KIND_APPLIANCE || unit == NULL) {
        return;
    }
    for (size_t i = 0; i < sizeof ratings / sizeof ratings[0]; i++) {
        const struct key *other = section_key(section, ratings[i]);
        is_rating = is_rating || key == other;
        if (other->type == KEY_HORSEPOWER ? strcmp(unit, "hp") == 0 : quantity_has_unit(other->dimension, unit)) {
            meant = other;
        }
    }
    if (is_rating && meant != NULL && meant != key) {
        text_printf(fault, "; a rating in %s stands in `%s`", unit, meant->name);
    }
}

void meant_id(const char *word, struct text *text)
{
    struct text id = {0};
    for (const char *at = word; *at != '\0'; at++) {
        const char c = *at >= 'A' && *at <= 'Z' ? (char)(*at - 'A' + 'a') : *at;
        text_add_char(&id, c == ' ' || c == '_' || c == '.' ? '-' : c);
    }
    if (words_is_id(text_string(&id))) {
        text_printf(text, ", such as %s", text_string(&id));
    }
    text_done(&id);
}
