#include "ampsum/freetext.h"

#include <ctype.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

#include "ampsum/edit.h"
#include "ampsum/quantity.h"
#include "ampsum/reference.h"
#include "ampsum/spoken.h"
#include "ampsum/words.h"
#include "freetext_plain.h"

/* What is being put together. */
struct reading {
    struct arena *arena;
    int rules;
    const char **pairs;
    size_t pair_count;
    size_t pair_capacity;
    bool rated;
    struct error *error;
    const char *voltage; /* rated voltage that a typical row brought; NULL: none */
    const char *odd;     /* the first part that went to the name for want of another meaning; NULL: none */
};

static void add_pair(struct reading *reading, const char *key, const char *value)
{
    struct text pair = {0};
    text_printf(&pair, "%s=%s", key, value);
    reading->pairs =
        memory_grow((void *)reading->pairs, reading->pair_count, &reading->pair_capacity, sizeof *reading->pairs);
    reading->pairs[reading->pair_count++] = arena_text(reading->arena, &pair);
}

/* The value that was said of a key; NULL: none. */
static const char *said_value(const struct reading *reading, const char *key)
{
    const size_t length = strlen(key);
    for (size_t i = 0; i < reading->pair_count; i++) {
        if (strncmp(reading->pairs[i], key, length) == 0 && reading->pairs[i][length] == '=') {
            return reading->pairs[i] + length + 1;
        }
    }
    return NULL;
}

static bool is_bare_number(const char *string)
{
    return (isdigit((unsigned char)string[0]) || string[0] == '.') &&
           string[strspn(string, "0123456789.eE+-/ ")] == '\0';
}

/* Of two values for one key neither is taken: the wrong one may be the smaller. */
static bool add_once(struct reading *reading, const char *key, const char *value)
{
    const char *before = said_value(reading, key);
    if (before != NULL) {
        const char *hint = is_bare_number(before) ? " (a number has no thousands separator: write 1500 W)" : "";
        const char *reason = arena_printf(reading->arena, "two ratings or values for %s: '%s' and '%s', expected one%s",
                                          key, before, value, hint);
        freetext_fault(reading->error, NULL, reason);
        return false;
    }
    add_pair(reading, key, value);
    return true;
}

/* Adds the quantity under the key that its unit belongs to; false where it is none, or with the error set. */
static bool add_quantity(struct reading *reading, const char *string)
{
    static const struct {
        const char *key;
        enum dimension dimension;
        bool rating;
    } rows[] = {
        {"power", DIMENSION_POWER, true},
        {"apparent", DIMENSION_APPARENT, true},
        {"current", DIMENSION_CURRENT, true},
        {"resistance", DIMENSION_RESISTANCE, true},
        {"rated_voltage", DIMENSION_VOLTAGE, false},
    };
    struct text unused = {0};
    double value = 0;
    const char *key = NULL;
    const char *spoken = spoken_quantity(reading->arena, string, DIMENSION_NONE); /* `1500 watts` */
    string = spoken == NULL ? string : spoken;
    for (size_t i = 0; key == NULL && i < sizeof rows / sizeof rows[0]; i++) {
        if (quantity_read(string, rows[i].dimension, reading->rules, KEY_ABOVE_ZERO, &value, &unused)) {
            key = rows[i].key;
            reading->rated = reading->rated || rows[i].rating;
        }
    }
    if (key == NULL && strpbrk(string, "pP") != NULL && quantity_read_horsepower(string, &value, &unused)) {
        key = "horsepower";
        reading->rated = true;
    }
    text_done(&unused);
    return key != NULL && add_once(reading, key, string);
}

static char *trimmed(struct arena *arena, const char *start, size_t length)
{
    while (length > 0 && *start == ' ') {
        start++;
        length--;
    }
    while (length > 0 && start[length - 1] == ' ') {
        length--;
    }
    return arena_copy_length(arena, start, length);
}

/* Takes `3x `, `3 x ` or `3*` from the front. */
static const char *take_count(struct reading *reading, const char *name)
{
    size_t digits = strspn(name, "0123456789");
    size_t blanks = strspn(name + digits, " ");
    const char *sign = name + digits + blanks;
    size_t sign_length = *sign == 'x' || *sign == 'X' || *sign == '*' ? 1 : strncmp(sign, "×", 2) == 0 ? 2 : 0;
    if (digits == 0 || sign_length == 0 ||
        (sign[sign_length] != ' ' && *sign == 'x' && isalpha((unsigned char)sign[1]))) {
        return name;
    }
    add_pair(reading, "count", arena_copy_length(reading->arena, name, digits));
    return trimmed(reading->arena, sign + sign_length, strlen(sign + sign_length));
}

static bool is_rating(const char *key)
{
    static const char *const ratings[] = {"power", "apparent", "current", "resistance", "horsepower", "rated_voltage"};
    bool found = false;
    for (size_t i = 0; i < sizeof ratings / sizeof ratings[0]; i++) {
        found = found || strcmp(key, ratings[i]) == 0;
    }
    return found;
}

/* `a space heater`, `my kettle`: the first word tells nothing of it. */
static const char *without_article(const char *name)
{
    static const char *const words[] = {"a ", "an ", "the ", "my ", "our "};
    for (size_t i = 0; i < sizeof words / sizeof words[0]; i++) {
        const size_t length = strlen(words[i]);
        if (strncasecmp(name, words[i], length) == 0) {
            return name + length + strspn(name + length, " ");
        }
    }
    return name;
}

/* A part after the first comma: a quantity, or key=value. False: belongs to the value before it, or error set. */
static bool take_part(struct reading *reading, const char *part)
{
    const char *equals = strchr(part, '=');
    if (equals == NULL) {
        return !is_bare_number(part) && add_quantity(reading, part);
    }
    char *key = trimmed(reading->arena, part, (size_t)(equals - part));
    reading->rated = reading->rated || (is_rating(key) && strcmp(key, "rated_voltage") != 0);
    return add_once(reading, key, trimmed(reading->arena, equals + 1, strlen(equals + 1)));
}

/* `1,500 W` is no 500 W: what stands on both sides of the comma is one number. */
static void refuse_comma(struct reading *reading, const char *number, const char *rest)
{
    static const char refusal[] = "no thousands separator and no decimal comma in a number, write";
    const size_t digits = strspn(rest, "0123456789");
    const char *unit = rest + digits + strspn(rest + digits, " ");
    const char *value = arena_printf(reading->arena, "%s,%s", number, rest);
    if (strspn(number, "0123456789") < strlen(number)) {
        freetext_refuse(reading->error, "power", value, "%s such as 1500 W", refusal);
    } else {
        freetext_refuse(reading->error, "power", value, "%s %s%s%.*s%s%s", refusal, number, digits == 3 ? "" : ".",
                        (int)digits, rest, *unit == '\0' ? "" : " ", unit);
    }
}

/* Windows and lists hold commas themselves: what is no part of its own goes on with the value before it. */
static bool go_on(struct reading *reading, const char *part)
{
    if (reading->pair_count == 0) {
        return false;
    }
    reading->pairs[reading->pair_count - 1] =
        arena_printf(reading->arena, "%s, %s", reading->pairs[reading->pair_count - 1], part);
    return true;
}

/* `Refrigerator, frost-free`: a comma in the name itself, ahead of all quantities and keys. */
static bool name_goes_on(struct reading *reading, const char *part, const char **name)
{
    if (part[0] == '\0' || isdigit((unsigned char)part[0])) {
        return false;
    }
    *name = arena_printf(reading->arena, "%s, %s", *name, part);
    reading->odd = reading->odd == NULL ? part : reading->odd;
    return true;
}

/* A last word that is a number without a unit: `1` of `Heater 1,500 W`; NULL where none is. */
static const char *number_at_end(const char *words)
{
    const char *blank = strrchr(words, ' ');
    const char *word = blank == NULL ? words : blank + 1;
    return is_bare_number(word) ? word : NULL;
}

static const char *part_reason(struct arena *arena, const char *part)
{
    return is_bare_number(part) ? arena_printf(arena, "which unit? expected such as %s W", part)
                                : "not a quantity with a unit and not key=value, expected such as 1500 W";
}

static void refuse_part(const struct reading *reading, const char *part)
{
    freetext_refuse(reading->error, "power", part, "%s", part_reason(reading->arena, part));
}

/* Takes the parts behind the name, which grows where a comma is its own. */
static bool take_parts(struct reading *reading, const char *string, const char **name)
{
    bool value_before = false;
    bool any_before = reading->rated;
    const char *number = number_at_end(*name); /* in front of the comma */
    while (*string == ',') {
        string++;
        size_t length = strcspn(string, ",");
        char *part = trimmed(reading->arena, string, length);
        if (number != NULL && isdigit((unsigned char)string[0])) { /* but `Heater 1, 500 W` is the first heater */
            refuse_comma(reading, number, part);
            return false;
        }
        bool taken = part[0] != '\0' && take_part(reading, part);
        number = number_at_end(part);
        const bool halved = number == part && string[length] == ',' && isdigit((unsigned char)string[length + 1]);
        const bool goes_on =
            !taken &&
            (halved || (value_before ? go_on(reading, part) : !any_before && name_goes_on(reading, part, name)));
        if (!error_is_set(reading->error) && !taken && !goes_on) {
            refuse_part(reading, part);
        }
        if (error_is_set(reading->error)) {
            return false;
        }
        value_before = value_before || strchr(part, '=') != NULL;
        any_before = any_before || taken;
        string += length;
    }
    return true;
}

/* Another make of the same thing that draws half as much or less: a new refrigerator beside one of the old kind. */
static const struct ref_typical *far_below(const struct ref_typical *row)
{
    const size_t length = strlen(row->id);
    for (size_t i = 0; i < ref_typical_count; i++) {
        const struct ref_typical *other = &ref_typical_rows[i];
        if (strcmp(other->rules, row->rules) == 0 && strncmp(other->id, row->id, length) == 0 &&
            other->id[length] == '-' && other->typical_w <= row->typical_w / 2) {
            return other;
        }
    }
    return NULL;
}

static const char *typical_note(struct reading *reading, const struct ref_typical *row, const struct text *taken)
{
    struct text note = {0};
    text_printf(&note, "%s: no rating given, the typical ", row->name);
    text_add_rounded(&note, row->typical_w, 1);
    text_add(&note, " W is taken");
    if (row->low_w < row->high_w) {
        text_rounded(&note, " (", row->low_w, 1, " to ");
        text_rounded(&note, "", row->high_w, 1, " W)");
    }
    text_add(&note, "; the nameplate decides");
    const struct ref_typical *other = far_below(row);
    if (other != NULL) {
        text_printf(&note, " (listed too, if it is that: %s, ", other->name);
        text_add_rounded(&note, other->typical_w, 1);
        text_add(&note, " W)");
    }
    text_printf(&note, "%s%s. Source: ", taken->length > 0 ? ". Taken with it: " : "", text_string(taken));
    reference_add_source(&note, row->source, row->edition);
    return arena_text(reading->arena, &note);
}

/* `1.500 W` is 1.5 W here: a question where all typical ratings of the name are far above. NULL: nothing is odd. */
static const char *small_note(struct reading *reading, const char *name)
{
    enum { ROWS_MOST = 32 };
    const char *rules = rules_word(reading->rules);
    const struct ref_typical *rows[ROWS_MOST];
    struct text note = {0};
    bool near = false;
    double power_w = 0;
    const char *said = said_value(reading, "power");
    size_t count = reference_typical_find(name, NULL, rows, ROWS_MOST, &near);
    bool odd = said != NULL && count > 0 && !near &&
               quantity_read(said, DIMENSION_POWER, reading->rules, KEY_ABOVE_ZERO, &power_w, &note) &&
               power_w < reference_rule_value("slip-power", rules);
    for (size_t i = 0; odd && i < count; i++) {
        odd = rows[i]->low_w > reference_rule_value("usual-power", rules);
    }
    text_clear(&note);
    if (odd) {
        text_add_number(&note, power_w);
        text_printf(&note, " W is far below what is usual for %s (", rows[0]->name);
        text_add_rounded(&note, rows[0]->typical_w, 1);
        text_add(&note, " W): look whether number and unit are right; a point parts decimals, not thousands");
    }
    const char *copy = odd ? arena_copy(reading->arena, text_string(&note)) : NULL;
    text_done(&note);
    return copy;
}

/* One key of the typical row, where nothing else was said of it; it goes to the list of what was taken. */
static void take_key(struct reading *reading, const char *key, const char *value, struct text *taken)
{
    if (said_value(reading, key) == NULL) {
        add_pair(reading, key, value);
        text_printf(taken, "%s%s=%s", taken->length == 0 ? "" : ", ", key, value);
    }
}

/*
 * What a thing of that kind is beside its rating of power_w: voltage (of the house's own rules alone: 240 V of a us
 * range is no plate's under uk), behaviour, power factor, category. Far below the usual it is not made for the wall's
 * other voltage (a 1200 W oven), far above it not of that make (a 60 W lamp is no LED).
 */
static void add_kind(struct reading *reading, const struct ref_typical *row, double power_w, struct text *taken)
{
    enum { FAR = 2 };
    const bool voltage = power_w >= row->low_w / FAR && strcmp(row->rules, rules_word(reading->rules)) == 0;
    const bool alike = power_w <= row->high_w * FAR;
    const bool resistance = said_value(reading, "resistance") != NULL; /* which has no power factor */
    const bool horsepower = said_value(reading, "horsepower") != NULL; /* which is a motor's */
    struct text value = {0};
    if (voltage && isfinite(row->rated_v)) {
        text_add_number(&value, row->rated_v);
        text_add(&value, " V");
        reading->voltage =
            said_value(reading, "rated_voltage") == NULL ? arena_copy(reading->arena, text_string(&value)) : NULL;
        take_key(reading, "rated_voltage", text_string(&value), taken);
        text_clear(&value);
    }
    if (alike && !resistance && !horsepower && strcmp(row->behaviour, "resistive") != 0) {
        take_key(reading, "behaviour", row->behaviour, taken);
    }
    if (alike && !resistance && row->power_factor < 1) {
        text_add_number(&value, row->power_factor);
        take_key(reading, "power_factor", text_string(&value), taken);
        text_clear(&value);
    }
    if (strcmp(row->category, "other") != 0) {
        take_key(reading, "category", row->category, taken);
    }
    if (alike && row->hours_day > 0 && said_value(reading, "hours") == NULL && said_value(reading, "use") == NULL) {
        text_clear(&value);
        text_add_number(&value, row->hours_day);
        text_add(&value, " h");
        take_key(reading, "typical_hours", text_string(&value), taken);
    }
    text_done(&value);
}

/* Categories that no typical row has: here the words of the name go first. */
static bool only_by_words(const char *category)
{
    static const char *const words[] = {"heat-pump", "pool", "medical", "generator"};
    for (size_t i = 0; i < sizeof words / sizeof words[0]; i++) {
        if (strcmp(category, words[i]) == 0) {
            return true;
        }
    }
    return false;
}

/* The category that the words of the name propose, stored as if it had been said. */
static void take_word(struct reading *reading, const char *name, bool first, struct text *taken)
{
    const struct ref_word *word = reference_word(rules_word(reading->rules), name, REFERENCE_WORD_CATEGORY);
    if (word != NULL && (!first || only_by_words(word->category))) {
        take_key(reading, "category", word->category, taken);
    }
}

/* The last word of a name that holds letters alone, to look for; "" where there is none. */
static const char *word_to_look_for(struct reading *reading, const char *name)
{
    const char *found = "";
    for (const char *at = name; *at != '\0';) {
        const size_t length = strcspn(at, " ");
        const char *word = arena_copy_length(reading->arena, at, length);
        found = length > 1 && strpbrk(word, "0123456789()\"'+&/;:") == NULL ? word : found;
        at += length + strspn(at + length, " ");
    }
    return found;
}

/* Letters by which the last words of two names may differ and still be one misspelt. */
static size_t slip_of(const char *word)
{
    return strlen(word) / 4;
}

/* The last word up to a comma or the end, in lower case and without a plural's `s`. */
static const char *head_word(struct arena *arena, const char *name)
{
    const size_t length = strcspn(name, ",(");
    char *part = arena_copy_length(arena, name, length);
    size_t end = length;
    for (size_t i = 0; i < length; i++) {
        part[i] = part[i] >= 'A' && part[i] <= 'Z' ? (char)(part[i] - 'A' + 'a') : part[i];
    }
    while (end > 0 && part[end - 1] == ' ') {
        end--;
    }
    end -= end > 3 && part[end - 1] == 's' && part[end - 2] != 's' ? 1 : 0;
    part[end] = '\0';
    while (end > 0 && strchr(" -/", part[end - 1]) == NULL) {
        end--;
    }
    return part + end;
}

/* `lamp` of `LED lamp`, `fridge` of `fridges`, `kettlle`; `fan` is no head of `fan heater`, nor `hob` of `hob ring`. */
static bool same_head(struct reading *reading, const char *one, const char *name)
{
    const char *head = head_word(reading->arena, name);
    while (*one != '\0') {
        const char *other = head_word(reading->arena, one);
        const bool begins = strlen(head) > 2 && strncmp(other, head, strlen(head)) == 0;
        if (begins || strcmp(other, head) == 0 || words_distance(other, head) <= slip_of(head)) {
            return true;
        }
        one += strcspn(one, ",(");
        one += strspn(one, ",( ");
    }
    return false;
}

/* The row is of the kind that the name's last word says, by its own name or by one that people have for it. */
static bool is_of_kind(struct reading *reading, const struct ref_typical *row, const char *name)
{
    bool found = same_head(reading, row->name, name) || same_head(reading, row->id, name);
    for (size_t i = 0; !found && i < ref_typical_name_count; i++) {
        const struct ref_typical_name *other = &ref_typical_name_rows[i];
        found = strcmp(other->id, row->id) == 0 && strcmp(other->rules, row->rules) == 0 &&
                same_head(reading, other->name, name);
    }
    return found;
}

/* A telephone's charger and a vehicle's: taking one for the other would be no estimate. */
static bool are_far_apart(const struct ref_typical *one, const struct ref_typical *other)
{
    enum { FAR = 50 };
    return one->typical_w > FAR * other->typical_w || other->typical_w > FAR * one->typical_w;
}

/*
 * The typical row of a name: the one called so, first of the house's rules; else one of that kind (`heater` is a
 * portable space heater, a `cooker` no slow cooker while one row is called cooker). NULL with *ret_near, or NULL there
 * too: none. *ret_other: another of that kind, but so far apart that the word says too little (`charger`); NULL: none.
 */
static const struct ref_typical *typical_of(struct reading *reading, const char *name,
                                            const struct ref_typical **ret_near, const struct ref_typical **ret_other)
{
    enum { ROWS_MOST = 32 };
    const char *const rules[] = {rules_word(reading->rules),
                                 NULL}; /* better from elsewhere, named as such, than none */
    const struct ref_typical *row = reference_typical_named(name, rules[0]);
    *ret_near = NULL;
    *ret_other = NULL;
    for (size_t i = 0; row == NULL && i < 2; i++) {
        const struct ref_typical *rows[ROWS_MOST];
        bool near = false;
        const size_t count = reference_typical_find(name, rules[i], rows, ROWS_MOST, &near);
        for (size_t k = 0; k < count; k++) {
            const bool kind = is_of_kind(reading, rows[k], name);
            row = kind && !near && row == NULL ? rows[k] : row;
            *ret_near = kind && *ret_near == NULL ? rows[k] : *ret_near;
            *ret_other = kind && !near && row != NULL && are_far_apart(row, rows[k]) ? rows[k] : *ret_other;
        }
    }
    return row;
}

/* `nearest`: of a typical row, NULL: none. */
static void refuse_unrated(struct reading *reading, const char *name, const char *nearest, struct error *error)
{
    const char *word = strchr(name, ' ') != NULL || nearest == NULL ? word_to_look_for(reading, name) : nearest;
    if (strcasestr(name, "btu") != NULL) {
        freetext_refuse(
            error, "name", name,
            "BTU say how much it cools or heats, not what it draws; expected the W or A of its plate behind "
            "a comma, such as 'Window unit, 700 W', or its kind alone for a typical rating");
        return;
    }
    freetext_fault(error, "power",
                   arena_printf(reading->arena,
                                "'%s': no rating, and no typical one is known%s%s; expected such as '%s, 1500 W'; "
                                "`ampsum typical %s` lists the known ones",
                                name, nearest != NULL ? "; the nearest is " : "", nearest != NULL ? nearest : "", name,
                                word[0] == '\0' ? "heater" : word));
}

/* Fills in the typical rating of a bare name. */
static bool take_typical(struct reading *reading, const char *name, const char **ret_note, struct error *error)
{
    const struct ref_typical *near = NULL;
    const struct ref_typical *other = NULL;
    const struct ref_typical *row = typical_of(reading, name, &near, &other);
    const char *odd = reading->odd == NULL ? number_at_end(name) : reading->odd;
    if (row == NULL && odd != NULL) {
        freetext_fault(error, "power", arena_printf(reading->arena, "'%s': %s", odd, part_reason(reading->arena, odd)));
        return false;
    }
    if (other != NULL) {
        freetext_fault(error, "power",
                       arena_printf(reading->arena,
                                    "'%s': which? expected such as '%s' or '%s', or its rating: '%s, 1500 W'", name,
                                    row->name, other->name, name));
        return false;
    }
    if (row == NULL) {
        refuse_unrated(reading, name, near != NULL ? near->id : NULL, error);
        return false;
    }
    struct text value = {0};
    text_add_number(&value, row->typical_w);
    text_add(&value, " W");
    add_pair(reading, "power", text_string(&value));
    text_done(&value);
    struct text taken = {0};
    take_word(reading, name, true, &taken);
    add_kind(reading, row, row->typical_w, &taken);
    take_word(reading, name, false, &taken);
    *ret_note = typical_note(reading, row, &taken);
    text_done(&taken);
    return true;
}

/* A plate beside the name of a known thing: it replaces only what it says. */
static void take_kind(struct reading *reading, const char *name, const char **ret_note)
{
    const struct ref_typical *row = reference_typical_named(name, rules_word(reading->rules));
    const char *said = said_value(reading, "power");
    double power_w = row == NULL ? 0 : row->typical_w;
    struct text text = {0};
    struct text taken = {0};
    if (said != NULL) {
        quantity_read(said, DIMENSION_POWER, reading->rules, KEY_ABOVE_ZERO, &power_w, &text);
        text_clear(&text);
    }
    take_word(reading, name, true, &taken);
    if (row != NULL) {
        add_kind(reading, row, power_w, &taken);
    }
    take_word(reading, name, false, &taken);
    if (taken.length > 0) {
        text_printf(&text, "%s: the rating is yours, with %s", name, text_string(&taken));
        const bool category_alone = strncmp(text_string(&taken), "category=", strlen("category=")) == 0 &&
                                    strchr(text_string(&taken), ',') == NULL;
        if (row == NULL || category_alone) {
            text_add(&text, " by its name");
        } else {
            text_printf(&text, " as the typical %s has it (`ampsum typical %s` names the source)", row->name, row->id);
        }
        *ret_note = arena_copy(reading->arena, text_string(&text));
    }
    text_done(&taken);
    text_done(&text);
}

/* `2 floor lamps`: two of them, or both together? The watts behind it belong to one of two readings. */
static bool is_bare_count(struct reading *reading, const char *name)
{
    const size_t digits = strspn(name, "0123456789");
    const size_t length = strlen(name);
    const bool several = digits > 0 && name[digits] == ' ' && strspn(name, "01 ") < digits + 1;
    if (!several || length < digits + 4 || name[length - 1] != 's' || name[length - 2] == 's') {
        return false;
    }
    freetext_refuse(reading->error, "name", name, "so many alike? expected '%.*s x %s' and the rating of one of them",
                    (int)digits, name, name + digits + 1);
    return true;
}

static bool read_all(struct reading *reading, const char *string, struct freetext *ret_load, struct error *error)
{
    size_t length = strcspn(string, ",");
    const char *name = take_count(reading, without_article(trimmed(reading->arena, string, length)));
    if (name[0] == '\0') {
        freetext_refuse(error, "name", string, "a name is missing, expected such as 'Heater, 1500 W'");
        return false;
    }
    if (is_bare_count(reading, name)) {
        return false;
    }
    ret_load->note = NULL;
    if (!take_parts(reading, string + length, &name)) {
        return false;
    }
    if (!reading->rated && name[strspn(name, "0123456789 .-+/*")] == '\0') {
        refuse_part(reading, name);
        return false;
    }
    ret_load->name = name;
    ret_load->rated = reading->rated;
    if (reading->rated) {
        const char *odd = small_note(reading, name);
        take_kind(reading, name, &ret_load->note);
        ret_load->note = odd != NULL ? odd : ret_load->note;
    } else if (!take_typical(reading, name, &ret_load->note, error)) {
        return false;
    }
    add_pair(reading, "name", name);
    ret_load->taken_voltage = reading->voltage;
    ret_load->ordinary = said_value(reading, "category") == NULL;
    return true;
}

bool freetext_read(struct arena *arena, const char *string, int rules, struct freetext *ret_load, struct error *error)
{
    struct reading reading = {.arena = arena, .rules = rules, .error = error};
    const char *plain = freetext_plain(arena, string, error);
    bool good = plain != NULL && read_all(&reading, plain, ret_load, error);
    if (good) {
        ret_load->pair_count = reading.pair_count;
        ret_load->pairs = arena_array(arena, reading.pair_count, sizeof *ret_load->pairs);
        memcpy((void *)ret_load->pairs, (const void *)reading.pairs, reading.pair_count * sizeof *ret_load->pairs);
    }
    free((void *)reading.pairs);
    return good;
}

bool freetext_says(const struct freetext *load, const char *key)
{
    const size_t length = strlen(key);
    for (size_t i = 0; i < load->pair_count; i++) {
        if (strncmp(load->pairs[i], key, length) == 0 && load->pairs[i][length] == '=') {
            return true;
        }
    }
    return false;
}

/* True where nothing was said of its times: neither `use` nor `hours`. */
static bool freetext_lacks_times(const struct freetext *load)
{
    return !freetext_says(load, "use") && !freetext_says(load, "hours");
}

bool freetext_leaves_run_open(const struct freetext *load)
{
    for (size_t i = 0; i < load->pair_count; i++) {
        if (strcmp(load->pairs[i], "category=vehicle") == 0 || strcmp(load->pairs[i], "category=generator") == 0) {
            return false; /* counts as continuous by itself; is no load */
        }
    }
    return freetext_lacks_times(load) && !freetext_says(load, "continuous");
}

const char *freetext_id(struct document *document, const char *name)
{
    return edit_free_id(document, "appliance", name, "load");
}

static void set_place(struct document *document, struct document_section *section, const struct freetext_place *place)
{
    document_set(document, section, "outlet", place->outlet);
    document_set(document, section, "branch", place->outlet == NULL ? place->branch : NULL);
    if (place->room != NULL) {
        document_set(document, section, "room", place->room);
    }
}

static bool add_with_id(struct document *document, const struct freetext *load, const char *id,
                        const struct freetext_place *place, struct error *error)
{
    if (!edit_add(document, "appliance", id, load->pairs, load->pair_count, error)) {
        return false;
    }
    set_place(document, document_find(document, "appliance", id), place);
    return true;
}

bool freetext_add(struct document *document, const struct freetext *load, const char *branch, const char *outlet,
                  const char *room, const char **ret_id, struct error *error)
{
    *ret_id = freetext_id(document, load->name);
    const struct freetext_place place = {.branch = branch, .outlet = outlet, .room = room};
    return add_with_id(document, load, *ret_id, &place, error);
}

bool freetext_add_each(struct document *document, const struct freetext *load, const struct freetext_place *places,
                       size_t count, struct error *error)
{
    if (count == 0) {
        return true;
    }
    const char **ids = arena_array(document->arena, count, sizeof *ids);
    edit_free_ids(document, "appliance", load->name, "load", count, ids);
    if (!add_with_id(document, load, ids[0], &places[0], error)) {
        return false;
    }
    const struct document_section *first = document_find(document, "appliance", ids[0]);
    const size_t first_at = (size_t)(first - document->sections);
    for (size_t i = 1; i < count; i++) { /* its keys hold what the load says: one look at them was enough */
        struct document_section *section = document_add(document, "appliance", ids[i]);
        first = &document->sections[first_at];
        for (size_t k = 0; k < first->key_count; k++) {
            document_set(document, section, first->keys[k].name, first->keys[k].value);
        }
        document_set(document, section, "room", NULL);
        set_place(document, section, &places[i]);
    }
    return true;
}
