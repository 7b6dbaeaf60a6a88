/* `ampsum help house`: sections and keys of a house file, from the table that its reader walks. */
#include <string.h>

#include "ampsum/keys.h"
#include "ampsum/reference.h"
#include "ampsum/words.h"
#include "cli.h"

static const char *own_unit(const struct key *key)
{
    static const char *const units[] = {[DIMENSION_CURRENT] = "A",      [DIMENSION_VOLTAGE] = "V",
                                        [DIMENSION_POWER] = "W",        [DIMENSION_APPARENT] = "VA",
                                        [DIMENSION_RESISTANCE] = "ohm", [DIMENSION_LENGTH] = "{by-length}",
                                        [DIMENSION_TIME] = "h",         [DIMENSION_FLOOR_AREA] = "{by-area}",
                                        [DIMENSION_PERCENT] = "%",      [DIMENSION_TEMPERATURE] = "C",
                                        [DIMENSION_FREQUENCY] = "Hz",   [DIMENSION_ENERGY] = "kWh",
                                        [DIMENSION_TRANSFORMER] = "kVA"};
    if (key->type == KEY_HORSEPOWER) {
        return "hp";
    }
    return key->dimension == DIMENSION_NONE ? NULL : units[key->dimension];
}

bool key_own_unit(const struct key *key, struct text *text)
{
    const char *unit = own_unit(key);
    reference_fill(text, unit == NULL ? "" : unit, NULL);
    return unit != NULL;
}

/* Words that the same rule sets know stand together, with those sets behind them: `B, C, D, gG (iec, uk); bs88 (uk)`.
 */
static void add_choices(const struct key *key, struct text *line)
{
    struct text sets = {0};
    struct text next = {0};
    key_choice_sets(key, 0, &sets);
    for (size_t i = 0; key_choice(key, i).word != NULL; i++) {
        const bool last = key_choice(key, i + 1).word == NULL;
        text_clear(&next);
        if (!last) {
            key_choice_sets(key, i + 1, &next);
        }
        const bool ends = last || strcmp(text_string(&sets), text_string(&next)) != 0;
        text_printf(line, "%s%s", i == 0 ? ": " : "", key_choice(key, i).word);
        if (sets.length > 0 && ends) {
            text_printf(line, " (%s)", text_string(&sets));
        }
        text_add(line, last ? "" : ends ? "; " : ", ");
        text_clear(&sets);
        text_add(&sets, text_string(&next));
    }
    text_done(&sets);
    text_done(&next);
}

static void add_key(const struct key *key, const struct page *page, struct text *text)
{
    enum { MEANING_COLUMN = 20 };
    struct text line = {0};
    text_printf(text, "  %-17s ", key->name);
    key_meaning(key, &line);
    if (key->type == KEY_CHOICE) {
        add_choices(key, &line);
    } else if (key->type == KEY_REFERENCE || key->type == KEY_REFERENCE_LIST) {
        text_printf(&line, " (ID of a %s)", sections[key->target].word);
    }
    struct text more = {0};
    if (key_own_unit(key, &more)) {
        text_printf(&line, " [%s]", text_string(&more));
    }
    text_clear(&more);
    if ((key->flags & KEY_REQUIRED) != 0) {
        text_add(&line, "; required");
    } else if (key_fallback(key, NULL, &more)) {
        text_printf(&line, "; else %s", text_string(&more));
    }
    text_done(&more);
    show_line(page, 0, MEANING_COLUMN, &line, text);
}

static void add_section(const struct section *section, const struct page *page, struct text *text)
{
    text_printf(text, "\n[%s%s]\n  ", section->word, section->takes_id ? " ID" : "");
    show_wrap(page, 2, section->meaning, text);
    for (size_t i = 0; i < section->key_count; i++) {
        add_key(&section->keys[i], page, text);
    }
}

void help_house(const struct section *only, const struct page *page, struct text *text)
{
    show_wrap(page, 0,
              "A house file is text: sections, and below each `key = value` lines. An ID is 1 to 40 of a to z, 0 to 9 "
              "and hyphens. A value may carry its unit (1.5 kW, 12 AWG copper, 40 ft); a bare number is in the unit in "
              "brackets. A line that begins with ; is a remark.",
              text);
    text_add(text, "\n  ampsum new my-home.ini      a file to begin with\n"
                   "  ampsum check my-home.ini    every mistake in it, by its line\n"
                   "  man 5 ampsum-house          all of this at length\n");
    for (size_t i = 0; i < KIND_COUNT; i++) {
        if (only == NULL || only == &sections[i]) {
            add_section(&sections[i], page, text);
        }
    }
}
