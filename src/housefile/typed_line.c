#include "ampsum/typed_line.h"

#include <stdlib.h>
#include <string.h>

#include "ampsum/edit.h"
#include "ampsum/freetext.h"
#include "ampsum/keys.h"
#include "ampsum/typed.h"

/* A line on its way into a document. */
struct putting {
    const struct typed_line *line;
    struct document *document;
    struct arena *arena;
    struct error *error;
};

/* What was typed for that key; "" where nothing was. */
static const char *says(const struct typed_line *line, const char *key)
{
    for (size_t i = 0; i < line->count; i++) {
        if (strcmp(line->pairs[i].key, key) == 0) {
            return line->pairs[i].typed;
        }
    }
    return "";
}

static bool put(const struct putting *putting, const char *key, const char *value)
{
    return edit_put(putting->document, putting->line->kind, putting->line->id, key, value, putting->error);
}

static const struct document_section *section_of(const struct putting *putting)
{
    return document_find(putting->document, kind_word(putting->line->kind), putting->line->id);
}

/* Sets the error, about that field. */
static void refuse(const struct putting *putting, const char *key, const char *reason)
{
    const struct typed_line *line = putting->line;
    const struct error_fault fault = {.section = kind_word(line->kind), .key = key, .id = line->id, .reason = reason};
    error_done(putting->error);
    error_set(putting->error, ERROR_INPUT, "%s: %s", key, reason);
    error_add_fault(putting->error, &fault);
}

/* ---- the rating of an appliance */

void typed_line_rating(const struct document_section *section, struct arena *arena, const char **ret_number,
                       const char **ret_unit)
{
    for (size_t i = 0; typed_plate_keys[i] != NULL && section != NULL; i++) {
        const char *value = document_value(section, typed_plate_keys[i]);
        if (value != NULL) {
            typed_plate_parts(arena, typed_plate_keys[i], value, ret_number, ret_unit);
            return;
        }
    }
}

/* The rating under the key of its unit (NULL: none); the other keys of ratings are taken out. */
static bool put_rating(const struct putting *putting, const struct typed_plate *plate)
{
    bool good = true;
    for (size_t i = 0; typed_plate_keys[i] != NULL && good; i++) {
        const bool other = plate == NULL || strcmp(typed_plate_keys[i], plate->key) != 0;
        good = !other || put(putting, typed_plate_keys[i], "");
    }
    return good && (plate == NULL || put(putting, plate->key, plate->value));
}

/* What is wrong with a name that stands alone: it is missing, its rating is, or what stands beside it. */
static void say_unread(const struct putting *putting, const char *name)
{
    const struct error_fault *fault = putting->error->fault_count == 0 ? NULL : &putting->error->faults[0];
    const bool lacks = fault != NULL && fault->key != NULL && strcmp(fault->key, "power") == 0 && fault->value == NULL;
    if (name[0] == '\0') {
        refuse(putting, "name", "is missing, expected what it is");
    } else if (lacks) {
        refuse(putting, "rating",
               arena_printf(putting->arena,
                            "no rating, and no typical one is known of '%s'; expected what its nameplate says, such as "
                            "1500 W",
                            name));
    } else {
        refuse(putting, "name", arena_copy(putting->arena, error_message(putting->error)));
    }
}

static bool put_load(const struct putting *putting, const struct freetext *load)
{
    return edit_set(putting->document, kind_word(KIND_APPLIANCE), putting->line->id, load->pairs, load->pair_count,
                    putting->error);
}

/* The name may hold the rating, `Kettle, 1500 W`; without one, the typical rating of such a thing is taken. */
static bool put_spoken(const struct putting *putting, const char *name)
{
    struct freetext load;
    if (name[0] == '\0' || !freetext_read(putting->arena, name, putting->line->house->rules, &load, putting->error)) {
        say_unread(putting, name);
        return false;
    }
    return put_rating(putting, NULL) && put_load(putting, &load) &&
           put(putting, "rating_from", load.rated ? "plate" : "");
}

static const char *rating_now(const struct putting *putting)
{
    const char *number = "";
    const char *unit = "";
    typed_line_rating(section_of(putting), putting->arena, &number, &unit);
    return arena_printf(putting->arena, "%s %s", number, unit);
}

/* Where a rating came from: typed into the field of the nameplate, it is the plate's, unless something else is said. */
static bool put_origin(const struct putting *putting, const char *before)
{
    const char *said = says(putting->line, "rating_from");
    const char *stored = document_value(section_of(putting), "rating_from");
    const bool repeats = strcmp(said, stored == NULL ? "" : stored) == 0; /* a form sends what stood there */
    return put(putting, "rating_from", repeats && strcmp(rating_now(putting), before) != 0 ? "plate" : said);
}

/* A new thing with a rating typed beside its name is what things of that name are; the plate replaces only what it
 * says. */
static bool put_rated(const struct putting *putting, const char *name, const char *rating)
{
    struct freetext load;
    struct error unread = {0};
    const char *before = rating_now(putting);
    const struct typed_plate plate = typed_plate(putting->arena, rating, says(putting->line, "unit"));
    const char *spoken = arena_printf(putting->arena, "%s, %s", name, plate.value);
    const bool known = putting->line->is_new &&
                       freetext_read(putting->arena, spoken, putting->line->house->rules, &load, &unread) &&
                       strcmp(load.name, name) == 0;
    const bool good = !known || put_load(putting, &load);
    error_done(&unread);
    return good && put(putting, "name", name) && put_rating(putting, &plate) && put_origin(putting, before);
}

/* Name, rating and place, of which each needs the others. */
static bool put_appliance(const struct putting *putting)
{
    const char *name = says(putting->line, "name");
    const char *rating = typed_rating(putting->arena, says(putting->line, "rating"));
    const char *at = says(putting->line, "at");
    if (!(rating[0] == '\0' ? put_spoken(putting, name) : put_rated(putting, name, rating))) {
        return false;
    }
    if (at[0] == '\0') {
        refuse(putting, "at", "please choose where the appliance is");
        return false;
    }
    const bool moved = edit_move(putting->document, putting->line->id, at, putting->error);
    if (!moved) {
        refuse(putting, "at", arena_copy(putting->arena, error_message(putting->error)));
    }
    return moved;
}

/* ---- the other keys */

/* Those that put_appliance has seen to; and the room, which an outlet has already. */
static bool is_done(const struct typed_line *line, const char *key)
{
    static const char *const done[] = {"name", "rating", "unit", "rating_from", "at"};
    bool found = strcmp(key, "room") == 0 && strncmp(says(line, "at"), "outlet:", 7) == 0;
    for (size_t i = 0; i < sizeof done / sizeof done[0] && !found; i++) {
        found = strcmp(done[i], key) == 0;
    }
    return found && line->kind == KIND_APPLIANCE;
}

/* What was said of a breaker's poles: in their own field, or beside its rating as `30A 2 pole`; 0 for nothing. */
static int said_poles(const struct putting *putting)
{
    const char *rating = NULL;
    const char *said = says(putting->line, "poles");
    return said[0] != '\0' ? (int)strtol(said, NULL, 10)
                           : typed_poles(putting->arena, says(putting->line, "breaker"), &rating);
}

/* What was typed for a key, in the words of a house file. */
static const char *value_of(const struct putting *putting, const char *name)
{
    const struct house *house = putting->line->house;
    const struct key *key = section_key(&sections[putting->line->kind], name);
    const char *value = typed_value(putting->arena, key, says(putting->line, name));
    const bool spaces = key != NULL && key->type == KEY_POSITION && house != NULL;
    return spaces ? typed_spaces(putting->arena, value, said_poles(putting), house_has_two_columns(house)) : value;
}

/* Poles that stand beside the rating, or follow from the spaces; what stands in their own field is put as it is. */
static bool put_poles(const struct putting *putting)
{
    const int said = said_poles(putting);
    const int poles = said != 0 ? said : typed_spaces_poles(value_of(putting, "position"));
    return poles == 0 || says(putting->line, "poles")[0] != '\0' ||
           put(putting, "poles", arena_printf(putting->arena, "%d", poles));
}

bool typed_line_put(const struct typed_line *line, struct document *document, struct arena *arena, struct error *error)
{
    const struct putting putting = {line, document, arena, error};
    bool good = line->kind != KIND_APPLIANCE || put_appliance(&putting);
    for (size_t i = 0; i < line->count && good; i++) {
        const char *key = line->pairs[i].key;
        const bool told = !is_done(line, key) && !(line->is_new && line->pairs[i].typed[0] == '\0');
        good = !told || put(&putting, key, value_of(&putting, key));
    }
    return good && (line->kind != KIND_BRANCH || put_poles(&putting));
}

/* ---- what a new line is called */

/* `Kettle, 1500 W`: the rating is no part of the name. */
static const char *load_name(const struct typed_line *line, struct arena *arena)
{
    struct freetext load = {.name = says(line, "name")};
    struct error unread = {0};
    if (says(line, "rating")[0] == '\0') {
        freetext_read(arena, load.name, line->house->rules, &load, &unread);
    }
    error_done(&unread);
    return load.name;
}

/* Its branch's ID and a number, so that it is no branch's ID. */
static const char *outlet_name(const struct typed_line *line, struct arena *arena)
{
    const char *branch = says(line, "branch");
    const size_t index = house_find(line->house, KIND_BRANCH, branch);
    return arena_printf(arena, "%s %zu", branch,
                        index == NO_INDEX ? 1 : line->house->branches[index].outlets.count + 1);
}

const char *typed_line_name(const struct typed_line *line, struct arena *arena)
{
    const char *name = says(line, line->kind == KIND_BRANCH ? "label" : "name");
    if (line->kind == KIND_PERIOD) {
        const char *hours = says(line, "hours");
        return hours[0] == '\0' ? says(line, "days") : hours;
    }
    if (line->kind == KIND_APPLIANCE) {
        return load_name(line, arena);
    }
    return name[0] == '\0' && line->kind == KIND_OUTLET ? outlet_name(line, arena) : name;
}
