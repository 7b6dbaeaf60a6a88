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

/* The unit is chosen beside the rating, or typed behind it. */
static void add_units(struct visit *visit, const struct input *input, const char *chosen)
{
    (void)input;
    guide_rating_units(visit, chosen);
}

static const struct input unit_input = {"unit", "Unit", .options = add_units};

static const char *name_of(const struct guide_field *field)
{
    return field->load_name == NULL ? field->key : field->load_name;
}

/* A field as this form asks it. */
static struct input input_of(const struct guide_field *field)
{
    const struct key *key = guide_field_key(field);
    const bool room = key != NULL && key->type == KEY_REFERENCE;
    return (struct input){.name = name_of(field),
                          .label = field->load_label,
                          .more = field->load_more,
                          .needed = key != NULL && (key->flags & KEY_REQUIRED) != 0,
                          .rows = room ? key->target : KIND_HOUSE,
                          .none = room ? "anywhere" : "not said",
                          .kind = field->kind,
                          .key = field->key};
}

const char *load_label(struct visit *visit, const char *name)
{
    const struct guide_field *field = name == NULL ? NULL : guide_load_field(name);
    if (field == NULL) {
        return name != NULL && strcmp(name, unit_input.name) == 0 ? unit_input.label : NULL;
    }
    return field->load_label == NULL ? guide_field_title(visit, field) : field->load_label;
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

/* What was typed for a field, in the words of a house file. */
static const char *typed_of(struct visit *visit, const struct guide_field *field)
{
    return typed_value(visit->arena, guide_field_key(field), load_value(visit, name_of(field)));
}

/* True where what a fault is about is what the field says: one value holds the other. */
static bool is_about(struct visit *visit, const struct error_fault *fault, const struct guide_field *field)
{
    const char *typed = typed_of(visit, field);
    return typed[0] != '\0' &&
           (fault->value == NULL || strstr(fault->value, typed) != NULL || strstr(typed, fault->value) != NULL);
}

void load_blame(struct visit *visit)
{
    const struct error *error = &visit->error;
    const struct error_fault *fault = error->fault_count == 0 ? NULL : &error->faults[0];
    const struct guide_field *wrong =
        fault == NULL || fault->key == NULL ? NULL : guide_field_of(KIND_APPLIANCE, fault->key);
    if (wrong != NULL && wrong->load != 0 && is_about(visit, fault, wrong)) {
        error_part(&visit->error, name_of(wrong), 0);
    }
    error_part(&visit->error, "what", 0);
}

/* `, used 07:00-08:00` in words for people, or with the key as the command line takes it. */
static void say_field(struct visit *visit, const struct guide_field *field, bool in_words, struct text *text)
{
    const char *typed = typed_of(visit, field);
    const struct key *key = guide_field_key(field);
    text_add(text, ", ");
    if (!in_words) {
        text_printf(text, "%s=%s", field->key, typed);
        return;
    }
    reference_fill(text, field->said, rules_word(visit->house->rules));
    text_add(text, key->type == KEY_CHOICE ? typed : guide_answer_name(visit, field, typed));
}

static const char *say(struct visit *visit, bool in_words)
{
    struct text text = {0};
    if (says(visit, "count") && strcmp(load_value(visit, "count"), "1") != 0) {
        text_printf(&text, "%sx ", load_value(visit, "count"));
    }
    text_add(&text, load_value(visit, "what"));
    if (says(visit, "rating")) {
        const char *rating = typed_rating(visit->arena, load_value(visit, "rating"));
        const char *unit = says(visit, "unit") ? load_value(visit, "unit") : "W";
        text_printf(&text, has_unit(rating) ? ", %s" : ", %s %s", rating, unit);
        text_add(&text, in_words ? "" : ", rating_from=plate");
    }
    for (size_t i = 0; i < guide_field_count; i++) {
        if ((guide_fields[i].load & LOAD_SAID) != 0 && says(visit, name_of(&guide_fields[i]))) {
            say_field(visit, &guide_fields[i], in_words, &text);
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
    return arena_printf(visit->arena, "%s, rating_from=plate", spoken);
}

const char *load_shown(struct visit *visit)
{
    return say(visit, true);
}

/* ---- the form */

static void add_field(struct visit *visit, const struct guide_field *field)
{
    const struct input input = input_of(field);
    const char *value = load_value(visit, input.name);
    const bool alike = strcmp(field->key, "count") == 0;
    page_input(visit, &input, value[0] == '\0' && alike ? "1" : value);
    if (field->own == OWN_RATING) {
        page_input(visit, &unit_input, load_value(visit, "unit"));
    }
    if ((field->load & LOAD_HELP) != 0) {
        page_add(visit, "<p id=\"%s-help\" class=\"help\">%s</p>", input.name, field->help);
    }
}

/* Those in one line, or behind "More"; true where one of them says something. */
static bool add_fields(struct visit *visit, unsigned part, bool draws)
{
    bool said = false;
    for (size_t i = 0; i < guide_field_count; i++) {
        if ((guide_fields[i].load & part) != 0) {
            said = said || says(visit, name_of(&guide_fields[i]));
            if (draws) {
                add_field(visit, &guide_fields[i]);
            }
        }
    }
    return said;
}

void load_form(struct visit *visit)
{
    page_add(visit, "<form action=\"/appliance\" class=\"fields\">");
    guide_typical_names(visit);
    add_fields(visit, LOAD_LINE, true);
    page_add(visit,
             "<details class=\"more\"%s><summary>More from the nameplate, and which days</summary><div "
             "class=\"fields\">",
             add_fields(visit, LOAD_MORE, false) ? " open" : "");
    add_fields(visit, LOAD_MORE, true);
    page_add(visit, "</div></details><p><button>Where could it go?</button></p></form>\n");
}

/* ---- the same again */

struct form load_pairs(const struct visit *visit, unsigned flag)
{
    struct form pairs = {0};
    for (size_t i = 0; i < guide_field_count; i++) {
        const struct guide_field *field = &guide_fields[i];
        if (field->load != 0 && (field->load & flag) == flag && says(visit, name_of(field))) {
            form_add(&pairs, name_of(field), load_value(visit, name_of(field)));
        }
    }
    if (flag == 0 && says(visit, "unit")) {
        form_add(&pairs, "unit", load_value(visit, "unit"));
    }
    return pairs;
}

/* ---- typical ratings */

static void add_number(struct visit *visit, struct form *pairs, const char *name, double number)
{
    struct text value = {0};
    text_add_number(&value, number);
    form_add(pairs, name, arena_text(visit->arena, &value));
}

/* The form with this rating, and with what goes with it; what else was said stays. */
static void add_take(struct visit *visit, const struct ref_typical *row)
{
    struct form pairs = {0};
    struct form stays = load_pairs(visit, LOAD_STAYS);
    form_add(&pairs, "what", row->name);
    add_number(visit, &pairs, "rating", row->typical_w);
    form_add(&pairs, "unit", "W");
    form_add(&pairs, "behaviour", row->behaviour);
    form_add(&pairs, "category", row->category);
    if (row->power_factor < 1) {
        add_number(visit, &pairs, "power_factor", row->power_factor);
    }
    if (row->standby_w > 0) {
        add_number(visit, &pairs, "standby", row->standby_w);
    }
    for (size_t i = 0; i < stays.count; i++) {
        form_add(&pairs, stays.field[i].name, stays.field[i].value);
    }
    form_done(&stays);
    page_add(visit, " <a href=\"%s\">Take %g W<span class=\"hidden\"> for %s</span></a>",
             page_address(visit, "/appliance", &pairs), row->typical_w, row->name);
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
    return arena_printf(visit->arena, "say yes at \"%s\"",
                        guide_field_label(visit, guide_field_of(KIND_APPLIANCE, "continuous")));
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

const char *load_at(const struct visit *visit, const struct place_row *row)
{
    return row->outlet == NULL ? arena_printf(visit->arena, "branch:%s", row->branch->id)
                               : arena_printf(visit->arena, "outlet:%s", row->outlet);
}

const char *load_room(const struct visit *visit)
{
    const bool outlet = strncmp(load_value(visit, "at"), "outlet:", 7) == 0;
    return outlet || !says(visit, "room") ? NULL : load_value(visit, "room");
}
