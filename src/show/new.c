/* The house file that a person begins with. */
#include "ampsum/show_new.h"

#include <string.h>

#include "ampsum/keys.h"

/* `main_breaker` or `supply_fuse`: the key by the name that the rule set has for the main device. */
static void main_device_key(const struct ref_rule_set *set, struct text *key)
{
    for (const char *at = set->main_device; *at != '\0'; at++) {
        text_add_char(key, *at == ' ' ? '_' : *at);
    }
    if (section_key(&sections[KIND_HOUSE], text_string(key)) == NULL) {
        text_clear(key);
        text_add(key, "main_breaker");
    }
}

/* `main_breaker = 100 A  ; the number on its handle`; the remark stands in column 32 where there is room. */
static void add_line(struct text *text, const char *key, const char *value, const char *remark)
{
    struct text line = {0};
    text_printf(&line, "%s = %s", key, value);
    text_printf(text, "%-31s ; %s\n", text_string(&line), remark);
    text_done(&line);
}

static void add_amperes(struct text *text, const char *key, const char *rules, double most_a, const char *remark)
{
    struct text value = {0};
    text_rounded(&value, "", reference_standard_size_at_most_a(rules, most_a), 1, " A");
    add_line(text, key, text_string(&value), remark);
    text_done(&value);
}

static void add_house(const struct ref_rule_set *set, struct text *text)
{
    struct text key = {0};
    struct text remark = {0};
    main_device_key(set, &key);
    text_printf(&remark, "the %s: the rating printed on it", set->main_device);
    text_printf(text, "; A house for ampsum. A line that begins with ; is a remark. Put what you find in place of the\n"
                      "; examples, leave out what you do not know, and open nothing to find out.\n"
                      "; Then:  ampsum check THIS FILE      All keys:  ampsum help house\n\n[house]\n");
    add_line(text, "name", "My home", "what you call it");
    add_line(text, "rules", set->id, set->name);
    add_line(text, "system", reference_choice_usual(set->id, "system"), "how the street feeds the house");
    add_amperes(text, text_string(&key), set->id, 100, text_string(&remark));
    add_line(text, ";built", "1985", "year in which it was built or last rewired");
    text_done(&remark);
    text_done(&key);
}

static void add_branch(const struct ref_rule_set *set, struct text *text)
{
    const bool gauges = strcmp(set->length_unit, "ft") == 0;
    text_add(text, "\n; One section for each room.\n[room kitchen]\n");
    add_line(text, "name", "Kitchen", "");
    text_add(text,
             "\n; One section for each breaker. Its ID, behind the word branch, is yours: a to z, 0 to 9, hyphens.\n"
             "[branch kitchen]\n");
    add_line(text, "label", "Kitchen outlets", "what the panel's door says");
    add_amperes(text, "breaker", set->id, gauges ? 20 : 16, "the number on its handle");
    const char *system = reference_choice_usual(set->id, "system");
    if (system != NULL && strcmp(system, "single-phase") != 0) {
        add_line(text, "legs", "A", "A or B: from one row of the panel to the next they take turns; AB: both");
    }
    add_line(text, ";position", "3", "its space in the panel");
    add_line(text, ";wire", gauges ? "12 AWG copper" : "2.5 mm2 copper", "where somebody who may has read it");
    add_line(text, ";length", gauges ? "40 ft" : "12 m", "of the cable, one way");
}

static void add_appliances(struct text *text)
{
    text_add(text,
             "\n; One section for each appliance. Its nameplate beats every typical figure; while it is not read:\n"
             ";   ampsum typical kettle\n[appliance kettle]\n");
    add_line(text, "name", "Kettle", "");
    add_line(text, "branch", "kitchen", "the breaker that it hangs on");
    add_line(text, "room", "kitchen", "");
    add_line(text, "power", "1500 W", "from its nameplate");
    add_line(text, "use", "07:00-07:10", "when it may be on; several: 07:00-07:10, 18:00-18:10");
    text_add(text, "\n;[appliance lamps]\n");
    add_line(text, ";name", "Ceiling lamps", "");
    add_line(text, ";branch", "kitchen", "");
    add_line(text, ";room", "kitchen", "");
    add_line(text, ";power", "9 W", "of one");
    add_line(text, ";count", "4", "alike ones");
    add_line(text, ";use", "17:30-23:00", "");
}

static void add_prices(const struct ref_rule_set *set, struct text *text)
{
    struct text remark = {0};
    text_printf(&remark, "%s for a kWh, from a bill", set->currency);
    text_add(text, "\n; What a kilowatt-hour costs.\n;[tariff bill]\n");
    add_line(text, ";price", "0.20", text_string(&remark));
    text_done(&remark);
}

/* Without the blanks, and without the remark that says nothing. */
static void add_tidy(struct text *text, const char *string)
{
    while (*string != '\0') {
        const size_t length = strcspn(string, "\n");
        size_t kept = length;
        kept -= kept >= 2 && memcmp(string + kept - 2, "; ", 2) == 0 ? 2 : 0;
        while (kept > 0 && string[kept - 1] == ' ') {
            kept--;
        }
        text_add_length(text, string, kept);
        text_add_char(text, '\n');
        string += length + (string[length] == '\n');
    }
}

void show_new_house(const struct ref_rule_set *set, struct text *text)
{
    struct text loose = {0};
    add_house(set, &loose);
    add_branch(set, &loose);
    add_appliances(&loose);
    add_prices(set, &loose);
    add_tidy(text, text_string(&loose));
    text_done(&loose);
}
