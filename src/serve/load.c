#include "load.h"

#include <string.h>

#include "ampsum/keys.h"
#include "ampsum/reference.h"
#include "typed.h"

enum { TYPICAL_MOST = 6 };

/* A field that is a key of [appliance]: one row adds it to the form, the commands, the links and what is kept. */
struct load_key {
    const char *key;
    const char *label;   /* as reference_fill takes it */
    const char *shown;   /* in front of its value, where the load is named in words; likewise */
    const char *example; /* shown in the empty field; not for a choice, whose words come from the key */
    bool more;           /* asked behind "More from the nameplate" */
};

static const struct load_key keys[] = {
    {"use", "When is it used?", "used ", "06:30-07:10, 17:00-22:30", false},
    {"days", "On which days", "on ", "weekdays, or mon,wed,fri", true},
    {"months", "In which months", "in ", "nov-mar", true},
    {"hours", "About how long a day?", "hours a day ", "30 minutes, 2 hours", false},
    {"behaviour", "Kind of load", "", NULL, true},
    {"power_factor", "Power factor", "power factor ", "0.9", true},
    {"start_factor", "Motor: starting current over running", "starting factor ", "6", true},
    {"duty", "Thermostat: share of the time it draws, %", "duty ", "40", true},
    {"standby", "Standby, W", "standby ", "0.5", true},
    {"continuous", "{continuous-hours} hours or more at a stretch", "{continuous-hours} h or more: ", NULL, true},
    {"fixed", "Fastened in place or hard-wired", "fixed: ", NULL, true},
    {"group", "Group: only one of it is on at once", "group ", "heat-or-cool", true},
    {"category", "Category", "category ", NULL, true},
};

enum { KEY_COUNT = sizeof keys / sizeof keys[0] };

/* The fields that the words are put together from in a way of their own. */
static const char *const own_fields[] = {"what", "rating", "unit", "volt", "count", "room"};

enum { OWN_COUNT = sizeof own_fields / sizeof own_fields[0] };

const char *load_value(const struct visit *visit, const char *name)
{
    return form_value(visit->post ? &visit->body : &visit->query, name);
}

static bool says(const struct visit *visit, const char *name)
{
    return load_value(visit, name)[0] != '\0';
}

/* True where the number has its unit beside it: `1500 W` typed into the field. (`1,500` has none, and is refused.) */
static bool has_unit(const char *number)
{
    return number[strspn(number, "0123456789., /")] != '\0';
}

static void say_quantity(struct text *text, const char *number, const char *unit)
{
    text_printf(text, has_unit(number) ? ", %s" : ", %s %s", number, unit);
}

/* What was typed for a key, in the words of a house file. */
static const char *typed_of(struct visit *visit, const char *name)
{
    return typed_value(visit->arena, section_key(section_named("appliance"), name), load_value(visit, name));
}

/* In words for people, or with the keys as the command line takes them. */
static const char *say(struct visit *visit, bool in_words)
{
    struct text text = {0};
    if (says(visit, "count") && strcmp(load_value(visit, "count"), "1") != 0) {
        text_printf(&text, "%sx ", load_value(visit, "count"));
    }
    text_add(&text, load_value(visit, "what"));
    if (says(visit, "rating")) {
        say_quantity(&text, typed_rating(visit->arena, load_value(visit, "rating")),
                     says(visit, "unit") ? load_value(visit, "unit") : "W");
    }
    if (says(visit, "volt")) {
        say_quantity(&text, load_value(visit, "volt"), "V");
    }
    text_add(&text, !in_words && says(visit, "rating") ? ", rating_from=plate" : "");
    for (size_t i = 0; i < KEY_COUNT; i++) {
        if (says(visit, keys[i].key)) {
            text_add(&text, ", ");
            reference_fill(&text, in_words ? keys[i].shown : keys[i].key, rules_word(visit->house->rules));
            text_printf(&text, "%s%s", in_words ? "" : "=", typed_of(visit, keys[i].key));
        }
    }
    return arena_text(visit->arena, &text);
}

const char *load_spoken(struct visit *visit)
{
    return say(visit, false);
}

const char *load_shown(struct visit *visit)
{
    return say(visit, true);
}

/* ---- the form */

static void add_what(struct visit *visit)
{
    page_add(visit,
             "<label>What is it? (needed) <input name=\"what\" required list=\"typical\" value=\"%s\" "
             "placeholder=\"Kettle\"></label><datalist id=\"typical\">",
             load_value(visit, "what"));
    for (size_t i = 0; i < ref_typical_count; i++) {
        if (strcmp(ref_typical_rows[i].rules, rules_word(visit->house->rules)) == 0) {
            page_add(visit, "<option value=\"%s\">", ref_typical_rows[i].name);
        }
    }
    page_add(visit, "</datalist>");
}

static void add_rating(struct visit *visit)
{
    static const char *const units[] = {"W", "kW", "A", "VA", "kVA", "hp", "ohm"};
    page_add(visit,
             "<label>Rating on its nameplate <input name=\"rating\" inputmode=\"decimal\" value=\"%s\" "
             "aria-describedby=\"rating-help\" placeholder=\"1500\"></label><label>Unit <select name=\"unit\">",
             load_value(visit, "rating"));
    for (size_t i = 0; i < sizeof units / sizeof units[0]; i++) {
        page_option(visit, units[i], units[i], load_value(visit, "unit"));
    }
    page_add(visit, "</select></label><p id=\"rating-help\" class=\"help\">The nameplate is better than any typical "
                    "figure. Left empty, a typical one is taken and named.</p>");
}

static void add_room(struct visit *visit)
{
    page_add(visit, "<label>Room <select name=\"room\">");
    page_option(visit, "", "anywhere", load_value(visit, "room"));
    for (size_t i = 0; i < visit->house->room_count; i++) {
        const struct room *room = &visit->house->rooms[i];
        page_option(visit, room->id, room->name, load_value(visit, "room"));
    }
    page_add(visit, "</select></label>");
}

static void add_label(struct visit *visit, const struct load_key *row)
{
    struct text label = {0};
    reference_fill(&label, row->label, rules_word(visit->house->rules));
    page_add(visit, "<label>%s ", text_string(&label));
    text_done(&label);
}

static void add_choice(struct visit *visit, const struct load_key *row, const struct key *key)
{
    add_label(visit, row);
    page_add(visit, "<select name=\"%s\">", row->key);
    page_option(visit, "", "not said", load_value(visit, row->key));
    const char *word = NULL;
    for (size_t i = 0; (word = key_choice(key, i).word) != NULL; i++) {
        page_option(visit, word, word, load_value(visit, row->key));
    }
    page_add(visit, "</select></label>");
}

static void add_key(struct visit *visit, const struct load_key *row)
{
    const struct key *key = section_key(section_named("appliance"), row->key);
    if (key->type == KEY_CHOICE) {
        add_choice(visit, row, key);
    } else {
        add_label(visit, row);
        page_add(visit, "<input name=\"%s\" placeholder=\"%s\" value=\"%s\"", row->key, row->example,
                 load_value(visit, row->key));
        page_add(visit, strcmp(row->key, "use") == 0 ? " aria-describedby=\"use-help\"></label>" : "></label>");
    }
}

static void add_keys(struct visit *visit, bool more)
{
    for (size_t i = 0; i < KEY_COUNT; i++) {
        if (keys[i].more == more) {
            add_key(visit, &keys[i]);
        }
    }
}

static bool says_more(const struct visit *visit)
{
    bool said = says(visit, "volt");
    for (size_t i = 0; i < KEY_COUNT && !said; i++) {
        said = keys[i].more && says(visit, keys[i].key);
    }
    return said;
}

void load_form(struct visit *visit)
{
    page_add(visit, "<form action=\"/appliance\" class=\"fields\">");
    add_what(visit);
    add_rating(visit);
    page_add(
        visit,
        "<label>How many alike <input name=\"count\" type=\"number\" min=\"1\" max=\"10000\" value=\"%s\"></label>",
        says(visit, "count") ? load_value(visit, "count") : "1");
    add_room(visit);
    add_keys(visit, false);
    page_add(visit,
             "<p id=\"use-help\" class=\"help\">Times of the day, more than one parted by commas; they may run past "
             "midnight. Left empty, it may be on at any moment.</p><details class=\"more\"%s><summary>More from the "
             "nameplate, and which days</summary><div class=\"fields\"><label>Made for another voltage, V <input "
             "name=\"volt\" inputmode=\"decimal\" value=\"%s\" placeholder=\"%g\"></label>",
             says_more(visit) ? " open" : "", load_value(visit, "volt"), visit->house->voltage_v);
    add_keys(visit, true);
    page_add(visit, "</div></details><p><button>Where could it go?</button></p></form>\n");
}

/* ---- the same again */

static void add_pair(struct text *query, const char *name, const char *value)
{
    text_printf(query, "%s%s=", query->length > 0 ? "&" : "", name);
    html_query(query, value);
}

void load_query(struct visit *visit)
{
    struct text query = {0};
    for (size_t i = 0; i < OWN_COUNT; i++) {
        if (says(visit, own_fields[i])) {
            add_pair(&query, own_fields[i], load_value(visit, own_fields[i]));
        }
    }
    for (size_t i = 0; i < KEY_COUNT; i++) {
        if (says(visit, keys[i].key)) {
            add_pair(&query, keys[i].key, load_value(visit, keys[i].key));
        }
    }
    page_add(visit, "%s", text_string(&query));
    text_done(&query);
}

static void add_hidden(struct visit *visit, const char *name)
{
    if (says(visit, name)) {
        page_add(visit, "<input type=\"hidden\" name=\"%s\" value=\"%s\">", name, load_value(visit, name));
    }
}

void load_hidden(struct visit *visit)
{
    for (size_t i = 0; i < OWN_COUNT; i++) {
        add_hidden(visit, own_fields[i]);
    }
    for (size_t i = 0; i < KEY_COUNT; i++) {
        add_hidden(visit, keys[i].key);
    }
    add_hidden(visit, "at");
}

/* ---- typical ratings */

static void query_number(struct text *query, const char *name, double number)
{
    struct text value = {0};
    text_add_number(&value, number);
    add_pair(query, name, text_string(&value));
    text_done(&value);
}

/* The form with this rating, and with what goes with it; what else was said stays. */
static void add_take(struct visit *visit, const struct ref_typical *row)
{
    static const char *const kept[] = {"count", "room", "use", "days", "months", "hours", "duty", "fixed", "group"};
    struct text query = {0};
    add_pair(&query, "what", row->name);
    query_number(&query, "rating", row->typical_w);
    add_pair(&query, "unit", "W");
    add_pair(&query, "behaviour", row->behaviour);
    add_pair(&query, "category", row->category);
    if (row->power_factor < 1) {
        query_number(&query, "power_factor", row->power_factor);
    }
    if (row->standby_w > 0) {
        query_number(&query, "standby", row->standby_w);
    }
    for (size_t i = 0; i < sizeof kept / sizeof kept[0]; i++) {
        if (says(visit, kept[i])) {
            add_pair(&query, kept[i], load_value(visit, kept[i]));
        }
    }
    page_add(visit, " <a href=\"/appliance?%s\">Take %g W<span class=\"hidden\"> for %s</span></a>",
             text_string(&query), row->typical_w, row->name);
    text_done(&query);
}

/* Those of the house's rules, else of any: as the commands do. */
static size_t find_typical(const struct visit *visit, const struct ref_typical **rows, bool *ret_near)
{
    const char *what = load_value(visit, "what");
    const char *rules = rules_word(visit->house->rules);
    size_t count = reference_typical_find(what, rules, rows, TYPICAL_MOST, ret_near);
    if (count == 0 || *ret_near) {
        count = reference_typical_find(what, NULL, rows, TYPICAL_MOST, ret_near);
    }
    return *ret_near ? reference_typical_find(what, rules, rows, TYPICAL_MOST, ret_near) : count;
}

void load_typical(struct visit *visit)
{
    const struct ref_typical *rows[TYPICAL_MOST];
    bool near = false;
    size_t count = find_typical(visit, rows, &near);
    if (count == 0 || (near && says(visit, "rating"))) {
        return;
    }
    page_add(visit, says(visit, "rating") ? "<details><summary>Typical ratings, to compare</summary>"
                                          : "<h2>Typical ratings, until you have read the nameplate</h2>");
    page_add(visit,
             "<p>%sLow, typical and high are the smallest, the usual and the largest figure among the sources "
             "named. The nameplate of your own decides.</p><ul class=\"plain typical\">",
             near ? "Nothing is known under that name; these are the nearest. " : "");
    for (size_t i = 0; i < count; i++) {
        page_add(visit, "<li><strong>%s</strong>: low %g W, typical %g W, high %g W.", rows[i]->name, rows[i]->low_w,
                 rows[i]->typical_w, rows[i]->high_w);
        add_take(visit, rows[i]);
        page_add(visit, "<small>Source, %s: %s</small></li>", rows[i]->region, rows[i]->source);
    }
    page_add(visit, says(visit, "rating") ? "</ul></details>\n" : "</ul>\n");
}

/* ---- where it goes */

const char *load_says_continuous(struct visit *visit)
{
    struct text text = {0};
    reference_fill(&text, "say yes at \"{continuous-hours} hours or more at a stretch\"",
                   rules_word(visit->house->rules));
    return arena_text(visit->arena, &text);
}

bool load_place(struct visit *visit, const char **ret_branch, const char **ret_outlet)
{
    const char *at = load_value(visit, "at");
    const char *id = strchr(at, ':');
    const bool outlet = strncmp(at, "outlet:", 7) == 0;
    if (id == NULL || (!outlet && strncmp(at, "branch:", 7) != 0)) {
        error_set(&visit->error, ERROR_INPUT, "where does it go? expected branch:ID or outlet:ID");
        return false;
    }
    *ret_branch = outlet ? NULL : id + 1;
    *ret_outlet = outlet ? id + 1 : NULL;
    return true;
}

const char *load_room(const struct visit *visit)
{
    const bool outlet = strncmp(load_value(visit, "at"), "outlet:", 7) == 0;
    return outlet || !says(visit, "room") ? NULL : load_value(visit, "room");
}
