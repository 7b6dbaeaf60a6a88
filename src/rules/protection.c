/* Finding 12: kinds of protection that are usual for the room or what hangs there, and that the file does not list. */
#include <string.h>

#include "contacts.h"
#include "findings.h"
#include "planning.h"

enum { ANY_EDITION = 9999 }; /* of rule sets without editions to choose from: the newest rows */

/* What a branch feeds in one place, as the table asks for it. */
struct fed {
    size_t room;
    const char *what[8];
    size_t count;
    double contact_a; /* rating of what one plugs into there; the branch's where none is usual */
};

static void feed(struct fed *fed, bool holds, const char *what)
{
    if (holds) {
        fed->what[fed->count++] = what;
    }
}

/* The rating of a contact that the house says nothing of. */
static double usual_contact_a(const struct branch_case *branch_case)
{
    const struct ref_plug *plug = reference_plug(branch_case->rules, branch_case->branch->breaker_a);
    return plug == NULL ? branch_case->branch->breaker_a : plug->rating_a;
}

static struct fed fed_by_outlet(const struct branch_case *branch_case, size_t outlet)
{
    const double rating_a = branch_case->house->outlets[outlet].rating_a;
    struct fed fed = {.room = branch_case->house->outlets[outlet].room,
                      .contact_a = rating_a > 0 ? rating_a : usual_contact_a(branch_case)};
    const bool plugs = outlet_contacts(branch_case->house, outlet) > 0;
    feed(&fed, plugs && branch_case->branch->purpose == PURPOSE_SMALL_APPLIANCE, "counter");
    feed(&fed, plugs, "receptacle");
    feed(&fed, true, "outlet");
    return fed;
}

/* Things that are named whether they are wired or plugged in. */
static const char *named_thing(const char *rules, const struct appliance *appliance)
{
    static const char *const things[] = {"dishwasher", "sump-pump", "hot-tub", "pool-pump"};
    const struct ref_word *word =
        appliance->name_tells ? reference_word(rules, appliance->name, REFERENCE_WORD_THING) : NULL;
    for (size_t i = 0; word != NULL && i < sizeof things / sizeof things[0]; i++) {
        if (strcmp(word->thing, things[i]) == 0) {
            return things[i];
        }
    }
    return NULL;
}

static struct fed fed_by_appliance(const struct branch_case *branch_case, const struct appliance *appliance)
{
    struct fed fed = {.room = appliance->room, .contact_a = usual_contact_a(branch_case)};
    const char *rules = branch_case->rules;
    if (!appliance_is_load(appliance)) {
        return fed;
    }
    const int category = appliance->read_category;
    const char *thing = named_thing(rules, appliance);
    const bool light = category == CATEGORY_LIGHTING;
    const bool vehicle = category == CATEGORY_VEHICLE;
    const bool plugged = !appliance->fixed;
    const bool heats = category == CATEGORY_COOKING || category == CATEGORY_RANGE || category == CATEGORY_WATER_HEATING;
    const bool pool = thing == NULL && category == CATEGORY_POOL;
    feed(&fed, thing != NULL, thing);
    feed(&fed, pool, "hot-tub");
    feed(&fed, vehicle, "vehicle");
    feed(&fed, vehicle && plugged, "charging-receptacle");
    const bool contact = plugged && branch_case->branch->outlets.count == 0;
    feed(&fed, contact && branch_case->branch->purpose == PURPOSE_SMALL_APPLIANCE, "counter");
    feed(&fed, contact, "receptacle");
    feed(&fed, !plugged && !light && !load_is_cooling(appliance), "hard-wired");
    feed(&fed, true, "outlet"); /* a rule of the room goes before one on lights or cable anywhere */
    feed(&fed, !plugged && light, "lighting");
    feed(&fed, !plugged && heats, "concealed");
    return fed;
}

/* Both feed the same in the same room, so that all rules say the same of them. */
static bool same_fed(const struct fed *a, const struct fed *b)
{
    const bool alike = a->contact_a <= b->contact_a && a->contact_a >= b->contact_a;
    bool same = a->room == b->room && a->count == b->count && alike;
    for (size_t i = 0; same && i < a->count; i++) {
        same = a->what[i] == b->what[i]; /* the words are constants of this file: a copy elsewhere only costs time */
    }
    return same;
}

/* One usual kind that is missing. */
struct usual {
    const struct ref_room_protection *row; /* NULL: none found */
    const char *room;
    const char *what;
};

static const struct {
    unsigned bit;
    const char *word;
} kinds[] = {{PROTECTION_GFCI, "gfci"}, {PROTECTION_AFCI, "afci"}, {PROTECTION_RCD, "rcd"}};

enum { KINDS = sizeof kinds / sizeof kinds[0] };

static bool is_listed(const struct branch_case *branch_case, size_t kind)
{
    return (branch_case->branch->protection & kinds[kind].bit) != 0;
}

/* The current that a row's limit is about: of a receptacle its own rating, else the branch's. */
static double rated_a(const struct branch_case *branch_case, const struct fed *fed, const char *what)
{
    static const char *const plugged[] = {"counter", "receptacle"};
    const bool contact = strcmp(what, plugged[0]) == 0 || strcmp(what, plugged[1]) == 0;
    return contact ? fed->contact_a : branch_case->branch->breaker_a;
}

/* The row for one thing that is fed there; NULL: none. */
static const struct ref_room_protection *row_for(const struct branch_case *branch_case, const char *kind,
                                                 const char *room, const struct fed *fed, const char *what)
{
    const struct house *house = branch_case->house;
    const struct reference_place place = {.rules = branch_case->rules,
                                          .kind = kind,
                                          .room = room,
                                          .what = what,
                                          .voltage_v = branch_case->branch->voltage_v,
                                          .rated_a = rated_a(branch_case, fed, what),
                                          .edition = house->code_edition > 0 ? house->code_edition : ANY_EDITION};
    return reference_room_protection(&place);
}

/* A rule of the very room goes before one of sockets anywhere, where it was one as early. */
static bool goes_before(const struct ref_room_protection *row, const struct ref_room_protection *first)
{
    return strcmp(first->room, "*") == 0 && strcmp(row->room, "*") != 0 && strcmp(first->what, "receptacle") == 0 &&
           row->since <= first->since;
}

static bool ask(const struct branch_case *branch_case, const char *kind, size_t room, const struct fed *fed,
                struct usual *ret)
{
    const char *room_word = room_kind_word(room == NO_INDEX ? ROOM_OTHER : branch_case->house->rooms[room].kind);
    for (size_t i = 0; i < fed->count; i++) {
        const struct ref_room_protection *row = row_for(branch_case, kind, room_word, fed, fed->what[i]);
        if (row != NULL && (ret->row == NULL || goes_before(row, ret->row))) {
            *ret = (struct usual){row, room == NO_INDEX ? NULL : room_word, fed->what[i]};
        }
    }
    return ret->row != NULL;
}

/* In the room of what is fed; where that is not known, in each room that the branch serves. */
static bool ask_rooms(const struct branch_case *branch_case, const char *kind, const struct fed *fed, struct usual *ret)
{
    const struct index_list *serves = &branch_case->branch->serves;
    if (fed->room != NO_INDEX || serves->count == 0) {
        return ask(branch_case, kind, fed->room, fed, ret);
    }
    for (size_t i = 0; i < serves->count; i++) {
        if (ask(branch_case, kind, serves->index[i], fed, ret)) {
            return true;
        }
    }
    return false;
}

/* A branch of which nothing is known but the rooms that it serves and what it is for. */
static struct fed fed_by_branch(const struct branch_case *branch_case)
{
    struct fed fed = {.room = NO_INDEX, .contact_a = usual_contact_a(branch_case)};
    const struct branch *branch = branch_case->branch;
    const bool lights = branch->purpose == PURPOSE_LIGHTING;
    const bool plugs = !lights && branch_contacts(branch_case->house, branch_case->index) > 0;
    feed(&fed, plugs && branch->purpose == PURPOSE_SMALL_APPLIANCE, "counter");
    feed(&fed, plugs, "receptacle");
    feed(&fed, true, "outlet");
    feed(&fed, lights, "lighting");
    return fed;
}

/* What was found so far for each kind that the file does not list; the first place that a rule names holds. */
struct finds {
    struct usual usual[KINDS];
    struct usual charging[KINDS]; /* besides, of a plugged-in vehicle, which has a rule of its own */
    struct fed before;            /* the place that was asked about last */
};

static void ask_kinds(const struct branch_case *branch_case, const struct fed *fed, struct finds *finds)
{
    if (same_fed(fed, &finds->before)) { /* loads of one room are often alike */
        return;
    }
    finds->before = *fed;
    for (size_t i = 0; i < KINDS; i++) {
        if (finds->usual[i].row == NULL && !is_listed(branch_case, i)) {
            ask_rooms(branch_case, kinds[i].word, fed, &finds->usual[i]);
        }
    }
}

static bool all_found(const struct branch_case *branch_case, const struct finds *finds)
{
    for (size_t i = 0; i < KINDS; i++) {
        if (finds->usual[i].row == NULL && !is_listed(branch_case, i)) {
            return false;
        }
    }
    return true;
}

/* A vehicle that is plugged in, where another rule was met first. */
static void find_charging(const struct branch_case *branch_case, struct finds *finds)
{
    static const char charging[] = "charging-receptacle";
    bool plugged = false;
    for (size_t i = 0; i < branch_case->branch->appliances.count && !plugged; i++) {
        const struct appliance *appliance = load_appliance(branch_case, &branch_case->loads[i]);
        plugged = appliance->read_category == CATEGORY_VEHICLE && !appliance->fixed;
    }
    const struct fed fed = {.room = NO_INDEX, .what = {charging}, .count = plugged ? 1 : 0};
    for (size_t i = 0; i < KINDS; i++) {
        if (finds->usual[i].row != NULL && strcmp(finds->usual[i].what, charging) != 0) {
            ask(branch_case, kinds[i].word, NO_INDEX, &fed, &finds->charging[i]);
        }
    }
}

static struct finds find_usual(const struct branch_case *branch_case)
{
    struct finds finds = {.before = {.room = NO_INDEX}};
    const struct branch *branch = branch_case->branch;
    for (size_t i = 0; i < branch->outlets.count && !all_found(branch_case, &finds); i++) {
        const struct fed fed = fed_by_outlet(branch_case, branch->outlets.index[i]);
        ask_kinds(branch_case, &fed, &finds);
    }
    for (size_t i = 0; i < branch->appliances.count && !all_found(branch_case, &finds); i++) {
        const struct fed fed = fed_by_appliance(branch_case, load_appliance(branch_case, &branch_case->loads[i]));
        ask_kinds(branch_case, &fed, &finds);
    }
    find_charging(branch_case, &finds);
    const bool bare = branch->outlets.count == 0 && branch->appliances.count == 0 && branch->serves.count > 0;
    if (bare) {
        const struct fed fed = fed_by_branch(branch_case);
        ask_kinds(branch_case, &fed, &finds);
    }
    return finds;
}

/* Whether anything tells in which room the branch is. */
static bool knows_rooms(const struct branch_case *branch_case)
{
    const struct branch *branch = branch_case->branch;
    bool known = branch->serves.count > 0;
    for (size_t i = 0; i < branch->outlets.count && !known; i++) {
        known = branch_case->house->outlets[branch->outlets.index[i]].room != NO_INDEX;
    }
    for (size_t i = 0; i < branch->appliances.count && !known; i++) {
        known = load_appliance(branch_case, &branch_case->loads[i])->room != NO_INDEX;
    }
    return known;
}

/* The room, as a sentence says it. */
static const char *room_phrase(const char *room)
{
    static const char *const phrases[][2] = {{"bath", " in a bathroom"},
                                             {"kitchen", " in a kitchen"},
                                             {"laundry", " in a laundry"},
                                             {"garage", " in a garage"},
                                             {"outdoors", " outdoors"},
                                             {"basement", " in a basement"},
                                             {"crawl-space", " in a crawl space"},
                                             {"bedroom", " in a bedroom"},
                                             {"living", " in a living room"},
                                             {"hall", " in a hall"}};
    for (size_t i = 0; room != NULL && i < sizeof phrases / sizeof phrases[0]; i++) {
        if (strcmp(phrases[i][0], room) == 0) {
            return phrases[i][1];
        }
    }
    return "";
}

/* What is fed, as a sentence says it. */
static const char *what_phrase(const char *what)
{
    static const char *const phrases[][2] = {{"receptacle", "receptacles"},
                                             {"counter", "counter receptacles"},
                                             {"outlet", "outlets"},
                                             {"lighting", "lights"},
                                             {"hard-wired", "wired equipment"},
                                             {"concealed", "cable that likely lies in a wall"},
                                             {"vehicle", "vehicle charging"},
                                             {"dishwasher", "a dishwasher"},
                                             {"sump-pump", "a sump pump"},
                                             {"hot-tub", "a hot tub or pool"},
                                             {"pool-pump", "a pool pump"},
                                             {"charging-receptacle", "a charging receptacle"}};
    for (size_t i = 0; i < sizeof phrases / sizeof phrases[0]; i++) {
        if (strcmp(phrases[i][0], what) == 0) {
            return phrases[i][1];
        }
    }
    return what;
}

/* Adds what is usual of one kind to the sentence; true where it is, *ret_then where it was when the house was built. */
static bool add_usual(const struct branch_case *branch_case, const char *kind, const struct usual *usual, bool first,
                      struct text *text, bool *ret_then)
{
    if (usual->row != NULL) {
        const int built = branch_case->house->built_year;
        *ret_then = built == 0 || built >= usual->row->since;
        text_printf(text, "%s%s %sfor %s%s (%s%s%s%s)", first ? "" : ", ", kind, first ? "is usual " : "",
                    what_phrase(usual->what), room_phrase(usual->room), usual->row->clause,
                    usual->row->note == NULL ? "" : ": ", usual->row->note == NULL ? "" : usual->row->note,
                    *ret_then ? "" : "; not asked for when the house was built");
        return true;
    }
    const char *purpose = purpose_word(branch_case->branch->purpose);
    const struct branch *branch = branch_case->branch;
    const struct ref_protection *row =
        knows_rooms(branch_case)
            ? NULL
            : reference_protection(branch_case->rules, purpose, kind, branch->voltage_v, branch->breaker_a);
    if (row != NULL) {
        *ret_then = true;
        text_printf(text, "%s%s %sfor a %s branch (", first ? "" : ", ", kind, first ? "is usual " : "", purpose);
        reference_clause(text, branch_case->rules, row->clause, branch_case->finder.edition);
        text_add(text, ")");
    }
    return row != NULL;
}

/* Adds the rule of a plugged-in vehicle to the sentence; true where it was one when the house was built. */
static bool add_charging(const struct branch_case *branch_case, const struct usual *usual, struct text *text)
{
    if (usual->row == NULL) {
        return false;
    }
    text_printf(text, " and for %s (%s)", what_phrase(usual->what), usual->row->clause);
    return branch_case->house->built_year == 0 || branch_case->house->built_year >= usual->row->since;
}

/* 12: one note a branch. */
void check_protection(struct branch_case *branch_case)
{
    const struct finds finds = find_usual(branch_case);
    const char *missing[KINDS + 1] = {NULL};
    size_t count = 0;
    bool any_then = false;
    struct text text = {0};
    for (size_t i = 0; i < KINDS; i++) {
        bool then = false;
        if (!is_listed(branch_case, i) &&
            add_usual(branch_case, kinds[i].word, &finds.usual[i], count == 0, &text, &then)) {
            missing[count++] = kinds[i].word;
            any_then = any_then || then;
            any_then = add_charging(branch_case, &finds.charging[i], &text) || any_then;
        }
    }
    if (count > 0) {
        finding_add(&branch_case->finder, "12", "", about_branch(branch_case),
                    FIGURES(WORDS("kinds", missing), FLAG("not_asked_then", !any_then)), "%s%s", text_string(&text),
                    count > 1 ? ", and none of them is listed here: look whether they are there"
                              : " and is not listed here: look whether it is there");
    }
    text_done(&text);
}
