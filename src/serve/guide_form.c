/* The fields of one kind on a page, from the table of fields and the table of keys. */
#include <stdlib.h>
#include <string.h>

#include "ampsum/edit.h"
#include "ampsum/reference.h"
#include "guide.h"

struct guide_form guide_form_new(struct visit *visit, enum kind kind)
{
    return (struct guide_form){.visit = visit, .kind = kind, .id = "", .prefix = ""};
}

/* True where this very form was sent and is shown again. */
static bool is_again(const struct guide_form *form)
{
    const struct form *body = &form->visit->body;
    return (form->again || form->visit->post) && strcmp(form_value(body, "kind"), kind_word(form->kind)) == 0 &&
           strcmp(form_value(body, "id"), form->id) == 0;
}

/* What stands in a field: what was just typed, else what the house says, else what is proposed; "" where nothing. */
static const char *guide_form_value(const struct guide_form *form, const char *key)
{
    if (is_again(form)) {
        return guide_posted(form->visit, form->prefix, key);
    }
    return form->now == NULL ? form_value(&form->proposed, key)
                             : guide_value_now(form->visit, form->kind, form->now, key);
}

/* ---- one field */

/* Of its control, whose name is the prefix and the key: one form may have the same key in several lines. */
static const char *id_of(const struct guide_form *form, const struct guide_field *field)
{
    return arena_printf(form->visit->arena, "%s%s-%s", form->prefix, kind_word(form->kind), field->key);
}

/* What went wrong with this field of this line; NULL: nothing. */
static const struct error_fault *wrong_with(const struct guide_form *form, const struct guide_field *field)
{
    const struct error *error = &form->visit->error;
    for (size_t i = 0; is_again(form) && i < error->fault_count; i++) {
        if (guide_fault_field(form->visit, &error->faults[i]) == field &&
            strcmp(guide_fault_prefix(form->visit, &error->faults[i]), form->prefix) == 0) {
            return &error->faults[i];
        }
    }
    return NULL;
}

static void add_words(struct visit *visit, const struct input *input, const char *chosen)
{
    const struct house *house = visit->house;
    const struct key *key = input_key(input);
    struct text usual = {0};
    key_fallback(key, house == NULL ? NULL : rules_word(house->rules), &usual);
    /* A list of what is usual under each set of rules is no word of this house. */
    const bool is_short = usual.length > 0 && usual.length < 24 && strchr(text_string(&usual), ';') == NULL;
    if ((key->flags & KEY_REQUIRED) == 0) {
        page_option(visit, "", is_short ? arena_printf(visit->arena, "usual: %s", text_string(&usual)) : "as usual",
                    NULL);
    }
    text_done(&usual);
    page_words(visit, key, chosen);
}

static void add_legs(struct visit *visit, const struct input *input, const char *chosen)
{
    if (input->form->now == NULL) {
        page_option(visit, "", "as usual for its space", NULL);
    }
    for (unsigned legs = LEG_A; legs <= (LEG_A | LEG_B | LEG_C); legs++) {
        if ((legs & ~house_system_legs(visit->house)) == 0) {
            page_option(visit, legs_word(legs), legs_word(legs), chosen);
        }
    }
}

/* Only an outlet of the same branch can be where a cable comes from; a panel is not fed by itself. */
static bool is_offered(const struct guide_form *form, const struct key *key, size_t row)
{
    const struct house *house = form->visit->house;
    const bool itself = key->target == form->kind && strcmp(house_row_id(house, key->target, row), form->id) == 0;
    if (key->target == KIND_OUTLET) {
        const size_t branch = house_find(house, KIND_BRANCH, guide_form_value(form, "branch"));
        return !itself && house->outlets[row].branch == branch;
    }
    return !itself;
}

static void add_rows(struct visit *visit, const struct input *input, const char *chosen)
{
    const struct house *house = visit->house;
    const struct key *key = input_key(input);
    size_t count = 0;
    house_rows(house, key->target, &count);
    if ((key->flags & KEY_OR_PANEL) != 0) {
        page_option(visit, "", "the panel", strcmp(chosen, "panel") == 0 ? "" : chosen);
    } else if (key->target != KIND_PANEL && (key->flags & KEY_REQUIRED) == 0) {
        page_option(visit, "", "not given", chosen);
    }
    for (size_t i = 0; i < count; i++) {
        if (is_offered(input->form, key, i)) {
            page_option(visit, house_row_id(house, key->target, i), house_row_name(house, key->target, i), chosen);
        }
    }
}

/* ---- lists to tick */

/* Units of an entry of a list such as `kettle, lamp*2`: 0 where it is not in it, `all` where it stands alone. */
static unsigned units_in(const char *list, const char *id, unsigned all)
{
    const size_t length = strlen(id);
    for (const char *at = list; *at != '\0';) {
        at += strspn(at, ", ");
        if (strcspn(at, ",* ") == length && strncmp(at, id, length) == 0) {
            const unsigned long units = at[length] == '*' ? strtoul(at + length + 1, NULL, 10) : all;
            return units > all ? all : (unsigned)units;
        }
        at += strcspn(at, ",");
    }
    return 0;
}

static void add_tick(struct guide_form *form, const char *key, const char *word, const char *name, bool ticked)
{
    page_add(form->visit, "<label class=\"tick\"><input type=\"checkbox\" name=\"%s%s\" value=\"%s\"%s> %s</label>",
             form->prefix, key, word, ticked ? " checked" : "", name);
}

static void add_protection(struct guide_form *form, const struct guide_field *field)
{
    static const char *const words[] = {"gfci", "afci", "rcd"};
    const char *list = guide_form_value(form, field->key);
    for (size_t i = 0; i < sizeof words / sizeof words[0]; i++) {
        add_tick(form, field->key, words[i], words[i], units_in(list, words[i], 1) > 0);
    }
}

static void add_room_ticks(struct guide_form *form, const struct guide_field *field)
{
    const struct house *house = form->visit->house;
    const char *list = guide_form_value(form, field->key);
    for (size_t i = 0; i < house->room_count; i++) {
        add_tick(form, field->key, house->rooms[i].id, house_row_name(house, KIND_ROOM, i),
                 units_in(list, house->rooms[i].id, 1) > 0);
    }
    page_add(form->visit, house->room_count == 0 ? "<small>No room is known yet.</small>" : "");
}

static void add_appliance_tick(struct guide_form *form, const struct guide_field *field, size_t index, const char *list)
{
    const struct appliance *appliance = &form->visit->house->appliances[index];
    const unsigned units = units_in(list, appliance->id, appliance->count);
    if (appliance->count == 1) {
        add_tick(form, field->key, appliance->id, appliance->name, units > 0);
        return;
    }
    page_add(
        form->visit,
        "<label class=\"tick\"><input type=\"number\" name=\"%sn-%s\" min=\"0\" max=\"%zu\" value=\"%zu\"> of %zu %s"
        "</label>",
        form->prefix, appliance->id, (size_t)appliance->count, (size_t)units, (size_t)appliance->count,
        appliance->name);
}

enum { UNFOLDED_MOST = 12 }; /* appliances that stand below one another without folds */

/* Those of a room; NO_INDEX: of none. How many of them are on, which the page's script counts on. */
static void add_room_group(struct guide_form *form, const struct guide_field *field, size_t room, const char *list)
{
    const struct house *house = form->visit->house;
    size_t count = 0;
    size_t on = 0;
    for (size_t i = 0; i < house->appliance_count; i++) {
        const bool here = house->appliances[i].room == room;
        count += here;
        on += here && units_in(list, house->appliances[i].id, house->appliances[i].count) > 0;
    }
    if (count == 0) {
        return;
    }
    page_add(form->visit,
             house->appliance_count <= UNFOLDED_MOST ? "<details class=\"group\" open>" : "<details class=\"group\">");
    page_add(form->visit, "<summary>%s: <span data-on>%zu</span> of %zu on</summary><div>",
             room == NO_INDEX ? "Room not known" : house_row_name(house, KIND_ROOM, room), on, count);
    for (size_t i = 0; i < house->appliance_count; i++) {
        if (house->appliances[i].room == room) {
            add_appliance_tick(form, field, i, list);
        }
    }
    page_add(form->visit, "</div></details>");
}

/* Room by room, then those whose room is not known. */
static void add_appliance_ticks(struct guide_form *form, const struct guide_field *field)
{
    const char *list = guide_form_value(form, field->key);
    for (size_t room = 0; room < form->visit->house->room_count; room++) {
        add_room_group(form, field, room, list);
    }
    add_room_group(form, field, NO_INDEX, list);
}

/* A hidden empty value in front: so that a list with nothing ticked is sent, too. */
static void add_ticks(struct guide_form *form, const struct guide_field *field, const struct key *key)
{
    page_add(form->visit, "<fieldset class=\"ticks%s\" id=\"%s\" tabindex=\"-1\"><legend>%s</legend>",
             key->type == KEY_SCENE ? " wide" : "", id_of(form, field), field->label);
    const struct error_fault *fault = wrong_with(form, field);
    if (fault != NULL) {
        page_add(form->visit, "<small class=\"wrong\" id=\"%s-wrong\">%s</small>", id_of(form, field),
                 guide_fault_reason(form->visit, fault));
    }
    page_add(form->visit, "<input type=\"hidden\" name=\"%s%s\" value=\"\">", form->prefix, field->key);
    if (key->type == KEY_SCENE) {
        add_appliance_ticks(form, field);
    } else if (key->type == KEY_PROTECTION) {
        add_protection(form, field);
    } else {
        add_room_ticks(form, field);
    }
    if (field->help != NULL) {
        page_add(form->visit, "<small>%s</small>", field->help);
    }
    page_add(form->visit, "</fieldset>");
}

/* ---- the page's own keys */

static void add_unit(struct visit *visit, const struct input *input)
{
    page_add(visit, "<select name=\"%sunit\" aria-label=\"Unit of the rating\">", input->form->prefix);
    guide_rating_units(visit, guide_form_value(input->form, "unit"));
    page_add(visit, "</select>");
}

/* The outlets, or the branches, that are in the room (`near`) or elsewhere. */
static void add_places(struct visit *visit, enum kind kind, size_t room, bool near, const char *chosen)
{
    const struct house *house = visit->house;
    struct arena *arena = visit->arena;
    size_t count = 0;
    house_rows(house, kind, &count);
    for (size_t i = 0; i < count; i++) {
        const bool there =
            kind == KIND_OUTLET ? house->outlets[i].room == room : house_branch_serves_room(house, i, room, arena);
        const char *branch = kind == KIND_OUTLET ? house->branches[house->outlets[i].branch].label : "";
        if ((room != NO_INDEX && there) == near) {
            page_option(
                visit, arena_printf(arena, "%s:%s", kind_word(kind), house_row_id(house, kind, i)),
                arena_printf(arena, "%s%s%s", branch, kind == KIND_OUTLET ? ": " : "", house_row_name(house, kind, i)),
                chosen);
        }
    }
}

/* Those of its room first. */
static void add_place(struct visit *visit, const struct input *input, const char *chosen)
{
    const size_t room = house_find(visit->house, KIND_ROOM, guide_form_value(input->form, "room"));
    for (int near = 1; near >= 0; near--) {
        page_add(visit, "<optgroup label=\"%s\">", near == 1 ? "In this room" : "Elsewhere");
        add_places(visit, KIND_OUTLET, room, near == 1, chosen);
        add_places(visit, KIND_BRANCH, room, near == 1, chosen);
        page_add(visit, "</optgroup>");
    }
}

/* ---- all fields of a form */

static bool is_list(const struct key *key)
{
    return key != NULL && (key->type == KEY_REFERENCE_LIST || key->type == KEY_PROTECTION || key->type == KEY_SCENE);
}

/* Without which nothing is stored; of several lines those without a label are left out. */
static bool is_needed(const struct guide_form *form, const struct guide_field *field, const struct key *key)
{
    return form->prefix[0] == '\0' && (field->own == OWN_PLACE || (key != NULL && (key->flags & KEY_REQUIRED) != 0));
}

typedef void add_options(struct visit *visit, const struct input *input, const char *chosen);

/* What writes its choices; NULL: it is a line of text. */
static add_options *options_of(const struct guide_field *field, const struct key *key)
{
    static add_options *const by_type[] = {
        [KEY_CHOICE] = add_words, [KEY_LEGS] = add_legs, [KEY_REFERENCE] = add_rows, [KEY_PROTECTIVE] = NULL};
    return field->own == OWN_PLACE ? add_place : key == NULL ? NULL : by_type[key->type];
}

static void add_field(struct guide_form *form, const struct guide_field *field)
{
    struct visit *visit = form->visit;
    const struct key *key = guide_field_key(field);
    const struct error_fault *fault = wrong_with(form, field);
    if (is_list(key)) {
        add_ticks(form, field, key);
        return;
    }
    const struct input input = {.name = arena_printf(visit->arena, "%s%s", form->prefix, field->key),
                                .id = id_of(form, field),
                                .kind = field->kind,
                                .key = field->key,
                                .help = form->hint == NULL ? field->help : form->hint,
                                .wrong = fault == NULL ? NULL : guide_fault_reason(visit, fault),
                                .needed = is_needed(form, field, key),
                                .focus = form->focus && !visit->post,
                                .none = field->own == OWN_PLACE ? "please choose" : NULL,
                                .options = options_of(field, key),
                                .beside = field->own == OWN_RATING ? add_unit : NULL,
                                .form = form};
    form->focus = false;
    page_input(visit, &input, guide_form_value(form, field->key));
}

/* The main panel has its breaker and legs from the house: its name is asked, and what its device can break. */
static bool is_shown(const struct guide_form *form, const struct guide_field *field, enum guide_place place)
{
    const struct key *key = guide_field_key(field);
    const bool of_main = key != NULL && (key->flags & KEY_OF_MAIN) != 0;
    if (form->kind == KIND_PANEL && strcmp(form->id, "main") == 0 && !of_main) {
        return false;
    }
    return field->kind == form->kind && field->place == place && guide_field_holds(field, form->visit->house);
}

/* What is asked on a form of this kind at all: a new one has from its page what only a correction asks. */
static bool is_asked(const struct guide_form *form, const struct guide_field *field)
{
    const bool corrected = field->place == FIELD_CORRECT || field->place == FIELD_DEEP;
    return (form->now != NULL || !corrected) && is_shown(form, field, field->place);
}

/* Folded away is what says nothing so far and need not. */
static bool is_folded(const struct guide_form *form, const struct guide_field *field)
{
    return field->place != FIELD_LINE && guide_form_value(form, field->key)[0] == '\0' &&
           wrong_with(form, field) == NULL;
}

/* Those of a line first, then what else is said; or what is folded. */
static size_t add_fields(struct guide_form *form, bool line, bool folded)
{
    size_t count = 0;
    for (size_t i = 0; i < guide_field_count; i++) {
        const struct guide_field *field = &guide_fields[i];
        if (is_asked(form, field) && (field->place == FIELD_LINE) == line && is_folded(form, field) == folded) {
            page_add(form->visit, folded && count == 0 ? "<details class=\"more\"><summary>More, if you know it"
                                                         "</summary><div class=\"fields guide\">"
                                                       : "");
            add_field(form, field);
            count++;
        }
    }
    return count;
}

void guide_form_field(struct guide_form *form, const char *key)
{
    const struct guide_field *field = guide_field_of(form->kind, key);
    add_field(form, field);
    if (form->kind == KIND_APPLIANCE && strcmp(key, "name") == 0) {
        guide_typical_names(form->visit);
    }
}

void guide_form_begin(struct guide_form *form, const char *action)
{
    struct visit *visit = form->visit;
    page_post(visit, action, "fields guide");
    page_hidden(visit, "kind", kind_word(form->kind));
    if (form->id[0] != '\0') {
        page_hidden(visit, "id", form->id);
    }
}

/* Where a wire is asked about, nobody takes a cover off to read it. */
static void add_door_only(struct guide_form *form)
{
    const struct house *house = form->visit->house;
    const struct ref_caution *row = house == NULL ? NULL : reference_caution("page", rules_word(house->rules));
    if (row != NULL && (form->kind == KIND_BRANCH || form->kind == KIND_PANEL || form->kind == KIND_HOUSE)) {
        page_add(form->visit, "<p><small>%s</small></p>", row->text);
    }
}

void guide_form_fields(struct guide_form *form)
{
    add_fields(form, true, false);
    const bool told = add_fields(form, false, false) > 0;
    if (told) {
        add_door_only(form);
    }
    if (add_fields(form, false, true) > 0) {
        page_add(form->visit, "</div>");
        if (!told) {
            add_door_only(form);
        }
        page_add(form->visit, "</details>");
    }
}

void guide_form_line(struct guide_form *form)
{
    add_fields(form, true, false);
}

void guide_form_end(struct guide_form *form, const char *button)
{
    page_add(form->visit, "<p><button>%s</button></p></form>\n", button);
    form_done(&form->proposed);
}

void guide_form_whole(struct guide_form *form, const char *action, const char *button)
{
    guide_form_begin(form, action);
    guide_form_fields(form);
    guide_form_end(form, button);
}
