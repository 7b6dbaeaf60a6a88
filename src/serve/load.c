#include "load.h"

#include <string.h>

#include "ampsum/answer_typical.h"
#include "ampsum/freetext.h"
#include "ampsum/keys.h"
#include "ampsum/reference.h"
#include "ampsum/typed.h"
#include "guide.h"
#include "input.h"

enum { TYPICAL_MOST = 6 };

enum {
    LOAD_MORE = 1, /* asked behind "More from the nameplate" */
    LOAD_STAYS = 2 /* said of its use, so it stays where another rating is taken */
};

/* One row adds a field to the form, the commands, the links and what is kept. */
struct load_field {
    struct input input;
    const char *shown; /* of a key of [appliance]: in front of its value, where the load is named in words */
    const char *help;  /* a paragraph behind it, as markup */
    unsigned flags;
};

static void add_units(struct visit *visit, const struct input *input, const char *chosen)
{
    static const char *const units[] = {"W", "kW", "A", "VA", "kVA", "hp", "ohm"};
    (void)input;
    for (size_t i = 0; i < sizeof units / sizeof units[0]; i++) {
        page_option(visit, units[i], units[i], chosen);
    }
}

static void add_words(struct visit *visit, const struct input *input, const char *chosen)
{
    const struct key *key = section_key(&sections[KIND_APPLIANCE], input->name);
    const char *word = NULL;
    page_option(visit, "", "not said", chosen);
    for (size_t i = 0; (word = key_choice(key, i).word) != NULL; i++) {
        page_option(visit, word, guide_choice_name(key->name, word, visit->arena), chosen);
    }
}

static const char rating_help[] = "<p id=\"rating-help\" class=\"help\">The nameplate is better than any typical "
                                  "figure. Left empty, a typical one is "
                                  "taken and named.</p>";
static const char use_help[] = "<p id=\"use-help\" class=\"help\">Times of the day, more than one parted by commas; "
                               "they may run past midnight. Left "
                               "empty, it may be on at any moment.</p>";

static const struct load_field fields[] = {
    {{"what", "What is it?", "Kettle", " list=\"typical\"", .needed = true}},
    {{"rating", NULL, "1500", " inputmode=\"decimal\" aria-describedby=\"rating-help\""}},
    {{"unit", "Unit", .options = add_units}, .help = rating_help},
    {{"volt", "Made for another voltage, V", NULL, " inputmode=\"decimal\""}, .flags = LOAD_MORE},
    {{"count", NULL, NULL, " type=\"number\" min=\"1\" max=\"10000\""}, .flags = LOAD_STAYS},
    {{"room", NULL, .rows = KIND_ROOM, .none = "anywhere"}, .flags = LOAD_STAYS},
    {{"use", NULL, "06:30-07:10, 17:00-22:30", " aria-describedby=\"use-help\""}, "used ", .flags = LOAD_STAYS},
    {{"days", NULL, "weekdays, or mon,wed,fri"}, "on ", .flags = LOAD_MORE | LOAD_STAYS},
    {{"months", NULL, "nov-mar"}, "in ", .flags = LOAD_MORE | LOAD_STAYS},
    {{"hours", NULL, "30 minutes, 2 hours"}, "hours a day ", use_help, LOAD_STAYS},
    {{"behaviour", NULL, .options = add_words}, "", .flags = LOAD_MORE},
    {{"power_factor", NULL, "0.9"}, "power factor ", .flags = LOAD_MORE},
    {{"start_factor", NULL, "6"}, "starting factor ", .flags = LOAD_MORE},
    {{"duty", NULL, "40"}, "duty ", .flags = LOAD_MORE | LOAD_STAYS},
    {{"standby", NULL, "0.5"}, "standby ", .flags = LOAD_MORE},
    {{"continuous", NULL, .options = add_words}, "{continuous-hours} h or more: ", .flags = LOAD_MORE},
    {{"fixed", NULL, .options = add_words}, "fixed: ", .flags = LOAD_MORE | LOAD_STAYS},
    {{"group", NULL, "heat-or-cool"}, "group ", .flags = LOAD_MORE | LOAD_STAYS},
    {{"category", NULL, .options = add_words}, "category ", .flags = LOAD_MORE},
};

enum { FIELDS = sizeof fields / sizeof fields[0] };

const char *load_label(struct visit *visit, const char *name)
{
    for (size_t i = 0; i < FIELDS && name != NULL; i++) {
        if (strcmp(fields[i].input.name, name) == 0) {
            const char *label = fields[i].input.label;
            return label == NULL ? guide_field_title(visit, KIND_APPLIANCE, name) : label;
        }
    }
    return NULL;
}

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

static void say_quantity(struct text *text, const char *key, const char *number, const char *unit)
{
    text_printf(text, has_unit(number) ? ", %s%s" : ", %s%s %s", key, number, unit);
}

/* What was typed for a key, in the words of a house file. */
static const char *typed_of(struct visit *visit, const char *name)
{
    return typed_value(visit->arena, section_key(section_named("appliance"), name), load_value(visit, name));
}

/* True where what a fault is about is what the field says: one value holds the other. */
static bool is_about(struct visit *visit, const struct error_fault *fault, const char *name)
{
    const char *typed = typed_of(visit, name);
    return says(visit, name) &&
           (fault->value == NULL || strstr(fault->value, typed) != NULL || strstr(typed, fault->value) != NULL);
}

void load_blame(struct visit *visit)
{
    const struct error *error = &visit->error;
    const struct error_fault *fault = error->fault_count == 0 ? NULL : &error->faults[0];
    const struct guide_field *wrong =
        fault == NULL || fault->key == NULL ? NULL : guide_field_of(KIND_APPLIANCE, fault->key);
    for (size_t i = 1; wrong != NULL && i < FIELDS; i++) {
        const char *name = fields[i].input.name;
        if (strcmp(strcmp(name, "volt") == 0 ? "rated_voltage" : name, wrong->key) == 0 &&
            is_about(visit, fault, name)) {
            error_part(&visit->error, name, 0);
        }
    }
    error_part(&visit->error, "what", 0);
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
        say_quantity(&text, "", typed_rating(visit->arena, load_value(visit, "rating")),
                     says(visit, "unit") ? load_value(visit, "unit") : "W");
    }
    if (says(visit, "volt")) {
        say_quantity(&text, in_words ? "" : "rated_voltage=", load_value(visit, "volt"), "V");
    }
    text_add(&text, !in_words && says(visit, "rating") ? ", rating_from=plate" : "");
    for (size_t i = 0; i < FIELDS; i++) {
        const char *name = fields[i].input.name;
        if (fields[i].shown != NULL && says(visit, name)) {
            text_add(&text, ", ");
            reference_fill(&text, in_words ? fields[i].shown : name, rules_word(visit->house->rules));
            text_printf(&text, "%s%s", in_words ? "" : "=", typed_of(visit, name));
        }
    }
    return arena_text(visit->arena, &text);
}

/* True where the words themselves hold the rating: `Kettle, 1440 W` in the one field of a question. */
static bool holds_rating(struct visit *visit, const char *spoken)
{
    struct freetext load;
    struct error unread = {0};
    const bool good = freetext_read(visit->arena, spoken, visit->house->rules, &load, &unread);
    error_done(&unread);
    return good && load.rated && !freetext_says(&load, "rating_from");
}

const char *load_spoken(struct visit *visit)
{
    const char *spoken = say(visit, false);
    if (says(visit, "rating") || !holds_rating(visit, spoken)) {
        return spoken;
    }
    struct text text = {0};
    text_printf(&text, "%s, rating_from=plate", spoken);
    spoken = arena_copy(visit->arena, text_string(&text));
    text_done(&text);
    return spoken;
}

const char *load_shown(struct visit *visit)
{
    return say(visit, true);
}

/* ---- the form */

/* What stands in a field, and in it while it is empty. */
static void add_field(struct visit *visit, const struct load_field *field)
{
    struct input input = field->input;
    const char *value = load_value(visit, input.name);
    if (strcmp(input.name, "volt") == 0) {
        input.example = arena_printf(visit->arena, "%g", visit->house->voltage_v);
    }
    page_input(visit, &input, value[0] == '\0' && strcmp(input.name, "count") == 0 ? "1" : value);
    text_add(&visit->answer.body, field->help == NULL ? "" : field->help);
}

/* Those behind "More", or the others; true where one of them says something. */
static bool add_fields(struct visit *visit, unsigned more, bool draws)
{
    bool said = false;
    for (size_t i = 0; i < FIELDS; i++) {
        if ((fields[i].flags & LOAD_MORE) == more) {
            said = said || says(visit, fields[i].input.name);
            if (draws) {
                add_field(visit, &fields[i]);
            }
        }
    }
    return said;
}

void load_form(struct visit *visit)
{
    page_add(visit, "<form action=\"/appliance\" class=\"fields\">");
    guide_typical_names(visit);
    add_fields(visit, 0, true);
    page_add(visit,
             "<details class=\"more\"%s><summary>More from the nameplate, and which days</summary><div "
             "class=\"fields\">",
             add_fields(visit, LOAD_MORE, false) ? " open" : "");
    add_fields(visit, LOAD_MORE, true);
    page_add(visit, "</div></details><p><button>Where could it go?</button></p></form>\n");
}

/* ---- the same again */

static void add_pair(struct text *query, const char *name, const char *value)
{
    text_printf(query, "%s%s=", query->length > 0 ? "&" : "", name);
    html_query(query, value);
}

/* What was said in the fields with these flags (0: all). */
static void add_said(struct visit *visit, unsigned flags, struct text *query)
{
    for (size_t i = 0; i < FIELDS; i++) {
        const char *name = fields[i].input.name;
        if ((fields[i].flags & flags) == flags && says(visit, name)) {
            add_pair(query, name, load_value(visit, name));
        }
    }
}

void load_query(struct visit *visit)
{
    struct text query = {0};
    add_said(visit, 0, &query);
    page_add(visit, "%s", arena_text(visit->arena, &query));
}

void load_hidden(struct visit *visit)
{
    for (size_t i = 0; i < FIELDS; i++) {
        if (says(visit, fields[i].input.name)) {
            page_hidden(visit, fields[i].input.name, load_value(visit, fields[i].input.name));
        }
    }
    if (says(visit, "at")) {
        page_hidden(visit, "at", load_value(visit, "at"));
    }
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
    add_said(visit, LOAD_STAYS, &query);
    page_add(visit, " <a href=\"/appliance?%s\">Take %g W<span class=\"hidden\"> for %s</span></a>",
             arena_text(visit->arena, &query), row->typical_w, row->name);
}

void load_typical(struct visit *visit)
{
    const struct ref_typical *rows[TYPICAL_MOST];
    bool near = false;
    size_t count =
        typical_of_house(load_value(visit, "what"), rules_word(visit->house->rules), rows, TYPICAL_MOST, &near);
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
    return arena_printf(visit->arena, "say yes at \"%s\"", guide_field_label(visit, KIND_APPLIANCE, "continuous"));
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
