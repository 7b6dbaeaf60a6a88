#include "place_view.h"

#include <math.h>
#include <string.h>

#include "ampsum/reference.h"
#include "decide_view.h"

static json_t *split_json(const char *list)
{
    json_t *array = json_array();
    for (const char *at = list; *at != '\0';) {
        at += strspn(at, ", ");
        size_t length = strcspn(at, ",");
        json_array_append_new(array, json_stringn(at, length));
        at += length;
    }
    return array;
}

static json_t *candidate_json(const struct places *places, const struct candidate *candidate)
{
    const struct branch *branch = &places->house->branches[candidate->branch];
    const struct branch_assessment *result = candidate->result;
    json_t *object = json_object();
    json_object_set_new(object, "branch", json_text(branch->id));
    json_object_set_new(object, "label", json_text(branch->label));
    json_object_set_new(object, "outlet", json_text(candidate->outlet));
    json_object_set_new(object, "class", json_text(fit_class_word(candidate->fit.class)));
    json_object_set_new(object, "fits", json_boolean(candidate->fit.class == FIT_ROOM));
    json_object_set_new(object, "status", json_text(result == NULL ? NULL : verdict_word(result->verdict)));
    json_object_set_new(object, "breaker_a", json_figure(branch->breaker_a));
    json_object_set_new(object, "planning_a", json_figure(result == NULL ? NAN : result->all.planning_a));
    json_object_set_new(object, "busiest_planning_a", json_figure(result == NULL ? NAN : result->other.planning_a));
    json_object_set_new(object, "headroom_a", json_figure(result == NULL ? NAN : result->all.headroom_a));
    json_object_set_new(object, "drop_percent", json_figure(result == NULL ? NAN : result->drop_percent));
    json_object_set_new(object, "reason", json_text(candidate->fit.reason));
    json_object_set_new(object, "not_at", split_json(text_string(&candidate->not_at)));
    json_object_set_new(object, "off", split_json(text_string(&candidate->off)));
    json_object_set_new(object, "findings",
                        result == NULL ? json_array() : show_findings_json(&candidate->fit.new_findings));
    return object;
}

/* Whether water is near some branch that is offered. */
static bool is_near_water(const struct places *places)
{
    const struct house *house = places->house;
    for (size_t i = 0; i < places->count; i++) {
        struct index_list rooms = house_branch_serves(house, places->candidates[i].branch, places->invocation->arena);
        for (size_t k = 0; places->candidates[i].fit.class != FIT_NO && k < rooms.count; k++) {
            int kind = house->rooms[rooms.index[k]].kind;
            if (kind == ROOM_BATH || kind == ROOM_OUTDOORS || kind == ROOM_POOL) {
                return true;
            }
        }
    }
    return false;
}

/* Whether the load itself is medical equipment, where it was tried at all. */
static bool is_medical(const struct places *places)
{
    for (size_t i = 0; i < places->count; i++) {
        size_t appliance = places->candidates[i].fit.appliance;
        if (appliance != NO_INDEX) {
            return decide_is_medical(places->house, &places->house->appliances[appliance]);
        }
    }
    return false;
}

/* Cautions that go with where the load may go; ended by NULL. */
static const char *const *cautions_of(const struct places *places)
{
    enum { MOST = 4 };
    const char **list = arena_array(places->invocation->arena, MOST, sizeof *list);
    size_t count = 0;
    if (places->fits + places->only_if > 0) {
        list[count++] = "It is used where the branch has its outlets, never over an extension lead.";
    }
    const struct ref_caution *water = reference_caution("water", rules_word(places->house->rules));
    if (is_near_water(places) && water != NULL) {
        list[count++] = water->text;
    }
    const struct ref_caution *medical = reference_caution("medical", rules_word(places->house->rules));
    if (is_medical(places) && medical != NULL) {
        list[count++] = medical->text;
    }
    return list;
}

static void write_json(const struct places *places)
{
    struct invocation *invocation = places->invocation;
    json_t *json = json_answer("place", places->house->name);
    json_object_set_new(json, "load", json_text(places->load.name));
    json_object_set_new(json, "note", json_text(places->load.note));
    json_object_set_new(json, "room",
                        json_text(places->room == NO_INDEX ? NULL : places->house->rooms[places->room].id));
    json_t *array = json_array();
    for (size_t i = 0; i < places->count; i++) {
        json_array_append_new(array, candidate_json(places, &places->candidates[i]));
    }
    json_object_set_new(json, "places", array);
    json_object_set_new(json, "fits", json_integer((json_int_t)places->fits));
    json_cautions(json, cautions_of(places));
    json_write(json, &invocation->out);
}

static struct table *places_table(const struct places *places)
{
    struct table *table = table_new();
    const char *none = places->invocation->format == FORMAT_TABLE ? "-" : "";
    table_column(table, "BRANCH", "id", TABLE_LEFT, 0);
    table_column(table, "OUTLET", "outlet", TABLE_LEFT, 0);
    table_column(table, "THEN", "status", TABLE_LEFT, 0);
    table_column(table, "BREAKER", "breaker_a", TABLE_RIGHT, 0);
    table_column(table, "ALL ON", "planning_a", TABLE_RIGHT, 0);
    table_column(table, "HEADROOM", "headroom_a", TABLE_RIGHT, 0);
    table_column(table, "DROP %", "drop_percent", TABLE_RIGHT, 0);
    table_column(table, "CLASS", "class", TABLE_LEFT, 0);
    table_column(table, NULL, "fits", TABLE_LEFT, 0);
    table_column(table, NULL, "reason", TABLE_LEFT, 0);
    table_column(table, NULL, "not_at", TABLE_LEFT, 0);
    table_column(table, NULL, "off", TABLE_LEFT, 0);
    for (size_t i = 0; i < places->count; i++) {
        const struct candidate *candidate = &places->candidates[i];
        const struct branch *branch = &places->house->branches[candidate->branch];
        const struct branch_assessment *result = candidate->result;
        if (result == NULL && places->invocation->format == FORMAT_TABLE) {
            continue;
        }
        table_row(table);
        table_text(table, branch->id);
        table_text(table, candidate->outlet == NULL ? none : candidate->outlet);
        table_text(table, result == NULL ? none : verdict_word(result->verdict));
        table_number(table, branch->breaker_a, 0);
        table_number(table, result == NULL ? NAN : result->all.planning_a, 1);
        table_number(table, result == NULL ? NAN : result->all.headroom_a, 1);
        table_number(table, result == NULL ? NAN : result->drop_percent, 1);
        table_text(table, fit_class_word(candidate->fit.class));
        table_text(table, candidate->fit.class == FIT_ROOM ? "yes" : "no");
        table_text(table, candidate->fit.reason == NULL ? "" : candidate->fit.reason);
        table_text(table, text_string(&candidate->not_at));
        table_text(table, text_string(&candidate->off));
    }
    return table;
}

/* What the load brings on a branch that has room for it: notes are left to --format json. */
static void write_status(const struct places *places, const struct candidate *candidate, struct text *line)
{
    text_printf(line, "%s, ", verdict_word(candidate->result->verdict));
    decide_ampere(candidate->result->all.planning_a, line);
    text_add(line, " of ");
    decide_ampere(places->house->branches[candidate->branch].breaker_a, line);
    text_add(line, " with everything on");
}

static void add_times(const struct candidate *candidate, struct text *line)
{
    if (candidate->not_at.length > 0) {
        const bool always = strcmp(text_string(&candidate->not_at), "00:00-24:00") == 0;
        text_printf(line, "; too much at %s", always ? "any time of the day" : text_string(&candidate->not_at));
    }
}

/* Why a branch has room or not, when not, and what would have to be off. */
static void write_reason(const struct places *places, const struct candidate *candidate)
{
    const struct branch *branch = &places->house->branches[candidate->branch];
    struct text line = {0};
    text_printf(&line, "%s: ", branch->id);
    if (candidate->fit.class == FIT_ROOM) {
        write_status(places, candidate, &line);
    } else if (candidate->fit.class == FIT_ONLY_IF) {
        text_printf(&line, "%s off while it runs; with everything on: %s", text_string(&candidate->off_names),
                    candidate->fit.reason);
        add_times(candidate, &line);
    } else {
        text_add(&line, candidate->fit.reason);
        add_times(candidate, &line);
    }
    text_add_char(&line, '.');
    decide_line(places->invocation, 2, 4, text_string(&line));
    text_done(&line);
}

static void write_reasons(const struct places *places, enum fit_class class, const char *title)
{
    bool titled = false;
    for (size_t i = 0; i < places->count; i++) {
        if (places->candidates[i].fit.class == class) {
            text_add(&places->invocation->out, titled ? "" : title);
            titled = true;
            write_reason(places, &places->candidates[i]);
        }
    }
}

/* The line that sums up where nothing has room; NULL where something has. */
static const char *conclusion(const struct places *places)
{
    if (places->count == 0) {
        return places->room == NO_INDEX ? "This house has no branch yet."
                                        : "No branch has an outlet in this room or serves it.";
    }
    if (places->fits > 0) {
        return NULL;
    }
    return places->only_if > 0 ? "No branch here has room for it whatever else is on."
                               : "No branch here can take it. A new branch is a licensed electrician's work.";
}

static void write_next(const struct places *places)
{
    struct invocation *invocation = places->invocation;
    struct text next = {0};
    /* a quote in the load would end the quotes of the shell */
    const char *string = strchr(invocation->operands[0], '\'') == NULL ? invocation->operands[0] : places->load.name;
    if (places->fits > 0) {
        const struct candidate *best = &places->candidates[0];
        bool plugged = best->outlet != NULL;
        text_printf(&next, "ampsum try HOUSE --add '%s' --%s %s", string, plugged ? "outlet" : "branch",
                    plugged ? best->outlet : places->house->branches[best->branch].id);
    } else {
        text_add(&next,
                 places->room != NO_INDEX ? "ampsum place HOUSE LOAD   (the whole house)" : "ampsum check HOUSE");
    }
    const char *lines[] = {text_string(&next), "ampsum settle HOUSE", NULL};
    invocation_next(invocation, lines);
    text_done(&next);
}

static void write_text(const struct places *places)
{
    struct invocation *invocation = places->invocation;
    struct text *out = &invocation->out;
    if (places->load.note != NULL) {
        struct text note = {0};
        text_printf(&note, "%s.", places->load.note);
        decide_line(invocation, 0, 2, text_string(&note));
        text_done(&note);
    }
    decide_running_time(invocation, &places->load, places->house->rules, out);
    struct table *table = places_table(places);
    invocation_table(invocation, table);
    text_add(out, table_count(table) > 0 ? "\n" : "");
    table_free(table);
    write_reasons(places, FIT_ROOM, "Room for it, best first\n");
    write_reasons(places, FIT_ONLY_IF, "Only if others stay off\n");
    write_reasons(places, FIT_NO, "Can't take it\n");
    if (conclusion(places) != NULL) {
        decide_line(invocation, 0, 0, conclusion(places));
    }
    text_add_char(out, '\n');
    show_cautions_text(&invocation->page, cautions_of(places), out);
    write_next(places);
}

void places_write(const struct places *places)
{
    struct invocation *invocation = places->invocation;
    if (invocation->format == FORMAT_JSON) {
        write_json(places);
    } else if (invocation->format == FORMAT_CSV) {
        struct table *table = places_table(places);
        invocation_table(invocation, table);
        table_free(table);
    } else {
        write_text(places);
    }
}
