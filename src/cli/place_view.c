#include "place_view.h"

#include <math.h>
#include <string.h>

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
    json_object_set_new(object, "fits", json_boolean(candidate->refusal == NULL));
    json_object_set_new(object, "status", json_text(result == NULL ? NULL : verdict_word(result->verdict)));
    json_object_set_new(object, "breaker_a", json_figure(branch->breaker_a));
    json_object_set_new(object, "planning_a", json_figure(result == NULL ? NAN : result->all.planning_a));
    json_object_set_new(object, "busiest_planning_a", json_figure(result == NULL ? NAN : result->other.planning_a));
    json_object_set_new(object, "headroom_a", json_figure(result == NULL ? NAN : result->all.headroom_a));
    json_object_set_new(object, "drop_percent", json_figure(result == NULL ? NAN : result->drop_percent));
    json_object_set_new(object, "reason", json_text(candidate->refusal));
    json_object_set_new(object, "not_at", split_json(text_string(&candidate->not_at)));
    json_object_set_new(object, "off", split_json(text_string(&candidate->off)));
    json_object_set_new(object, "findings", result == NULL ? json_array() : show_findings_json(&result->findings));
    return object;
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
    json_cautions(json, NULL);
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
        table_text(table, candidate->refusal == NULL ? "yes" : "no");
        table_text(table, candidate->refusal == NULL ? "" : candidate->refusal);
        table_text(table, text_string(&candidate->not_at));
        table_text(table, text_string(&candidate->off));
    }
    return table;
}

/* Warnings of the load itself on that branch. */
static void write_warnings(const struct places *places, const struct candidate *candidate)
{
    const struct branch_assessment *result = candidate->result;
    for (size_t i = 0; i < result->findings.count; i++) {
        const struct finding *finding = &result->findings.finding[i];
        const bool own = finding->subject.kind == KIND_APPLIANCE && strcmp(finding->subject.id, candidate->id) == 0;
        if (finding->severity == SEVERITY_WARNING && own) {
            struct text line = {0};
            text_printf(&line, "%s [%s]", finding->text, finding->id);
            decide_line(places->invocation, 4, 4, text_string(&line));
            text_done(&line);
        }
    }
}

/* Why a branch can or can't take it, when not, and what would have to be off. */
static void write_reason(const struct places *places, const struct candidate *candidate)
{
    const struct branch *branch = &places->house->branches[candidate->branch];
    struct text line = {0};
    text_printf(&line, "%s: ", branch->id);
    if (candidate->refusal == NULL) {
        text_printf(&line, "%s, ", verdict_word(candidate->result->verdict));
        decide_ampere(candidate->result->all.planning_a, &line);
        text_add(&line, " of ");
        decide_ampere(branch->breaker_a, &line);
        text_add(&line, " with everything on");
    } else {
        text_add(&line, candidate->refusal);
    }
    if (candidate->not_at.length > 0) {
        const bool always = strcmp(text_string(&candidate->not_at), "00:00-24:00") == 0;
        text_printf(&line, "; not at %s", always ? "any time of the day" : text_string(&candidate->not_at));
    }
    if (candidate->off_names.length > 0) {
        text_printf(&line, "; keep off while it runs: %s", text_string(&candidate->off_names));
    } else if (candidate->result != NULL && candidate->result->all.headroom_a < 0) {
        text_add(&line, "; even alone it would be too much here");
    }
    text_add_char(&line, '.');
    decide_line(places->invocation, 2, 4, text_string(&line));
    text_done(&line);
    if (candidate->result != NULL && candidate->refusal == NULL) {
        write_warnings(places, candidate);
    }
}

static void write_reasons(const struct places *places, bool fitting, const char *title)
{
    bool titled = false;
    for (size_t i = 0; i < places->count; i++) {
        if ((places->candidates[i].refusal == NULL) == fitting) {
            text_add(&places->invocation->out, titled ? "" : title);
            titled = true;
            write_reason(places, &places->candidates[i]);
        }
    }
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
    write_reasons(places, true, "Could take it, best first\n");
    write_reasons(places, false, "Can't take it\n");
    if (places->count == 0) {
        decide_line(invocation, 0, 0,
                    places->room == NO_INDEX ? "This house has no branch yet."
                                             : "No branch has an outlet in this room or serves it.");
    } else if (places->fits == 0) {
        decide_line(invocation, 0, 0,
                    "No branch here can take it as things are. Use it elsewhere or with other loads off; a new branch "
                    "is a licensed electrician's work.");
    }
    text_add_char(out, '\n');
    show_cautions_text(&invocation->page, NULL, out);
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
