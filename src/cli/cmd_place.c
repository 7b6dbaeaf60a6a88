#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "ampsum/freetext.h"
#include "ampsum/housefile.h"
#include "decide_view.h"

static const char *const examples[] = {"ampsum place demo-house/us.ini 'Heater, 1500 W' --room bedroom",
                                       "ampsum place demo-house/uk.ini kettle", NULL};

static const struct option_spec options[] = {
    {"room", '\0', "ID", "only branches that have an outlet in this room or serve it"},
    {NULL, '\0', NULL, NULL},
};

static const char *const details[] = {
    "LOAD is written as you would say it: 'Heater, 1500 W', '3x LED lamp 9 W', 'pump 1/2 hp', 'kettle'. Branches that "
    "could take it come first: by verdict, then headroom with everything on, then voltage drop.",
    NULL};

enum { VOLTAGE_FINDING = 8 };

/* A branch as it would be with the load on it. */
struct candidate {
    size_t branch;      /* in the house as given; the same index in the house that was built */
    size_t appliance;   /* the load, in the house that was built; NO_INDEX where it was not tried */
    const char *outlet; /* NULL: the branch alone */
    const char *id;     /* of the load in the document */
    const struct branch_assessment *result;
    const char *refusal;   /* why it can't; NULL where it could */
    struct text not_at;    /* times of day, parted by commas */
    struct text off;       /* IDs to switch off, with everything else on, parted by commas */
    struct text off_names; /* the first of them, and how many more */
};

struct places {
    struct invocation *invocation;
    struct freetext load;
    size_t room; /* NO_INDEX: the whole house */
    struct candidate *candidates;
    size_t count;
    size_t fits;
    struct house *house; /* with the load on every candidate */
    struct assessment *assessment;
};

/* The first outlet of the branch in the room. */
static const char *outlet_in_room(const struct house *house, size_t branch, size_t room)
{
    const struct index_list *outlets = &house->branches[branch].outlets;
    for (size_t i = 0; i < outlets->count && room != NO_INDEX; i++) {
        if (house->outlets[outlets->index[i]].room == room) {
            return house->outlets[outlets->index[i]].id;
        }
    }
    return NULL;
}

static bool serves(const struct house *house, size_t branch, size_t room, struct arena *arena)
{
    struct index_list rooms = house_branch_serves(house, branch, arena);
    for (size_t i = 0; i < rooms.count; i++) {
        if (rooms.index[i] == room) {
            return true;
        }
    }
    return false;
}

static bool states_voltage(const struct freetext *load)
{
    for (size_t i = 0; i < load->pair_count; i++) {
        if (strncmp(load->pairs[i], "rated_voltage=", strlen("rated_voltage=")) == 0) {
            return true;
        }
    }
    return false;
}

/* Why the branch is not even tried; NULL where it is. */
static const char *refuse(const struct house *house, size_t branch, const struct freetext *load)
{
    const struct branch *what = &house->branches[branch];
    if (what->poles == 3) {
        return "a three-phase branch";
    }
    if (!decide_takes_plugs(house, branch)) {
        return what->purpose == PURPOSE_LIGHTING ? "kept for lights" : "kept for one appliance";
    }
    if (what->voltage_v != house->voltage_v && !states_voltage(load)) {
        return "another voltage than the plain outlets have; state the load's own (', 240 V') where it is made for it";
    }
    return NULL;
}

static void find_candidates(struct places *places, const struct house *house)
{
    struct arena *arena = places->invocation->arena;
    places->candidates = arena_array(arena, house->branch_count, sizeof *places->candidates);
    for (size_t i = 0; i < house->branch_count; i++) {
        const char *outlet = outlet_in_room(house, i, places->room);
        if (places->room != NO_INDEX && outlet == NULL && !serves(house, i, places->room, arena)) {
            continue;
        }
        places->candidates[places->count++] = (struct candidate){
            .branch = i, .appliance = NO_INDEX, .outlet = outlet, .refusal = refuse(house, i, &places->load)};
    }
}

/* The house with the load on every branch at once: branches do not change each other's figures. */
static bool build_with_load(struct places *places, const struct house *house)
{
    struct error *error = &places->invocation->error;
    struct document *document = house_document(house, "place");
    const char *room = places->room == NO_INDEX ? NULL : house->rooms[places->room].id;
    bool good = true;
    for (size_t i = 0; i < places->count && good; i++) {
        struct candidate *candidate = &places->candidates[i];
        if (candidate->refusal == NULL) {
            bool plugged = candidate->outlet != NULL;
            good = freetext_add(document, &places->load, plugged ? NULL : house->branches[candidate->branch].id,
                                candidate->outlet, plugged ? NULL : room, &candidate->id, error);
            candidate->id = good ? arena_copy(places->invocation->arena, candidate->id) : NULL;
        }
    }
    good = good && house_build(document, &places->house, error);
    document_free(document);
    return good;
}

/* IDs and names of what is on beside the load when everything is, but not in the largest set that may stay on. */
static void find_off(struct candidate *candidate, const struct house *house, const struct combos_problem *problem,
                     const struct combos_list *beside, size_t own)
{
    enum { NAMED_MOST = 5 };
    const struct branch *branch = &house->branches[candidate->branch];
    size_t off_count = 0;
    for (size_t i = 0; i < problem->load_count; i++) {
        const struct combos_set *stay = &beside->sets[0];
        unsigned units = i == own ? 0 : problem->loads[i].count;
        for (size_t k = 0; k < stay->part_count; k++) {
            units -= stay->parts[k].load == i ? stay->parts[k].units : 0;
        }
        if (units > 0) {
            const struct appliance *appliance = &house->appliances[branch->appliances.index[i]];
            text_add(&candidate->off, candidate->off.length > 0 ? "," : "");
            decide_id(appliance, units, &candidate->off);
            if (off_count++ < NAMED_MOST) {
                text_add(&candidate->off_names, candidate->off_names.length > 0 ? ", " : "");
                decide_name(appliance, units, &candidate->off_names);
            }
        }
    }
    if (off_count > NAMED_MOST) {
        text_printf(&candidate->off_names, " and %zu more (all: --format json)", off_count - NAMED_MOST);
    }
}

/* Members of one group are not on together anyway: only one of each stands against the load. */
static void find_what_is_off(struct places *places, struct candidate *candidate)
{
    const struct house *house = places->house;
    const struct index_list *appliances = &house->branches[candidate->branch].appliances;
    struct combos_problem problem =
        decide_combos(house, candidate->branch, places->assessment->factors, places->invocation->arena);
    size_t own = 0;
    while (appliances->index[own] != candidate->appliance) {
        own++;
    }
    struct combos_list beside;
    combos_beside(&problem, (struct combos_part){own, problem.loads[own].count}, 1, &beside);
    if (beside.set_count > 0) {
        find_off(candidate, house, &problem, &beside, own);
    }
    combos_list_done(&beside);
}

static void add_time(struct text *text, int start_min, int end_min)
{
    text_printf(text, "%s%02d:%02d-%02d:%02d", text->length > 0 ? ", " : "", start_min / 60, start_min % 60,
                end_min / 60, end_min % 60);
}

static void find_not_at(struct places *places, struct candidate *candidate)
{
    bool over[MINUTES_IN_DAY];
    decide_not_at(places->house, candidate->branch, candidate->appliance, places->assessment->factors, over);
    for (int start = 0; start < MINUTES_IN_DAY; start++) {
        int end = start;
        while (end < MINUTES_IN_DAY && over[end]) {
            end++;
        }
        if (end > start) {
            add_time(&candidate->not_at, start, end);
            start = end;
        }
    }
}

/* The danger that stands against the branch, as a reason. */
static const char *danger_of(const struct branch_assessment *result)
{
    for (size_t i = 0; i < result->findings.count; i++) {
        const struct finding *finding = &result->findings.finding[i];
        if (finding->severity == SEVERITY_DANGER || finding->number == VOLTAGE_FINDING) {
            return finding->text;
        }
    }
    return NULL;
}

static void judge(struct places *places)
{
    for (size_t i = 0; i < places->count; i++) {
        struct candidate *candidate = &places->candidates[i];
        if (candidate->refusal != NULL) {
            continue;
        }
        candidate->appliance = house_find(places->house, KIND_APPLIANCE, candidate->id);
        candidate->result = &places->assessment->branches[candidate->branch];
        candidate->refusal = danger_of(candidate->result);
        if (candidate->refusal == NULL && candidate->result->verdict == VERDICT_OVER) {
            candidate->refusal = "over at its busiest minute";
        }
        if (exceeds(candidate->result->all.planning_a, places->house->branches[candidate->branch].breaker_a)) {
            find_what_is_off(places, candidate);
            find_not_at(places, candidate);
        }
        places->fits += candidate->refusal == NULL;
    }
}

/* Those that could take it first: verdict, headroom with everything on, drop (unknown last), file order. */
static int candidate_order(const void *left, const void *right)
{
    const struct candidate *a = left;
    const struct candidate *b = right;
    if ((a->refusal == NULL) != (b->refusal == NULL)) {
        return a->refusal == NULL ? -1 : 1;
    }
    if ((a->result == NULL) != (b->result == NULL)) {
        return a->result != NULL ? -1 : 1;
    }
    if (a->result != NULL && a->result->verdict != b->result->verdict) {
        return a->result->verdict < b->result->verdict ? -1 : 1;
    }
    if (a->result != NULL && a->result->all.headroom_a != b->result->all.headroom_a) {
        return a->result->all.headroom_a > b->result->all.headroom_a ? -1 : 1;
    }
    double a_percent = a->result == NULL || isnan(a->result->drop_percent) ? INFINITY : a->result->drop_percent;
    double b_percent = b->result == NULL || isnan(b->result->drop_percent) ? INFINITY : b->result->drop_percent;
    if (a_percent != b_percent) {
        return a_percent < b_percent ? -1 : 1;
    }
    return a->branch < b->branch ? -1 : a->branch > b->branch;
}

/* ---- answers */

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
    json_object_set_new(object, "findings", result == NULL ? json_array() : report_findings_json(&result->findings));
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
        if (finding->severity == SEVERITY_WARNING && strstr(finding->text, places->load.name) != NULL) {
            struct text line = {0};
            text_printf(&line, "%s [%d]", finding->text, finding->number);
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
        text_printf(&line, "; off while it runs, of what may be on: %s", text_string(&candidate->off_names));
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
    report_cautions_text(&invocation->page, NULL, out);
    write_next(places);
}

static void write_answer(const struct places *places)
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

static void places_done(struct places *places)
{
    for (size_t i = 0; i < places->count; i++) {
        text_done(&places->candidates[i].not_at);
        text_done(&places->candidates[i].off);
        text_done(&places->candidates[i].off_names);
    }
    assess_free(places->assessment);
    house_free(places->house);
}

static int run(struct invocation *invocation)
{
    struct places places = {.invocation = invocation, .room = NO_INDEX};
    if (!invocation_house(invocation, 1) || !invocation_operands(invocation, 1, 1)) {
        return 2;
    }
    const struct house *house = invocation->house;
    const char *room = option_value(invocation, "room");
    places.room = room == NULL ? NO_INDEX : find_id(invocation, KIND_ROOM, room);
    if ((room != NULL && places.room == NO_INDEX) ||
        !freetext_read(invocation->arena, invocation->operands[0], house->rules, &places.load, &invocation->error)) {
        return 2;
    }
    find_candidates(&places, house);
    bool good = build_with_load(&places, house);
    if (good) {
        struct assess_options choice = {.wires = true};
        places.assessment = assess_house(places.house, &choice);
        judge(&places);
        qsort(places.candidates, places.count, sizeof *places.candidates, candidate_order);
        write_answer(&places);
    }
    places_done(&places);
    return good ? 0 : 2;
}

const struct command command_place = {
    .name = "place",
    .operands = "[HOUSE] LOAD",
    .summary = "every branch that could take a load, best first, and why the others can't",
    .examples = examples,
    .options = options,
    .details = details,
    .rows = true,
    .run = run,
};
