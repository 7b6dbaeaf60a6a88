#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "ampsum/answer_open.h"
#include "ampsum/edit.h"
#include "ampsum/freetext.h"
#include "ampsum/reference.h"
#include "decide_view.h"
#include "edit_common.h"
#include "try_view.h"

static const char *const examples[] = {
    "ampsum try demo-house/us.ini --add 'Heater, 1500 W' --room study",
    "ampsum try demo-house/us.ini --move bedroom-heater=study",
    "ampsum try demo-house/us.ini --set kettle.power=1200W --remove toaster",
    NULL,
};

static const struct option_spec options[] = {
    {"add", '\0', "LOAD", "a load as you would say it: 'Heater, 1500 W', '3x LED lamp 9 W', 'pump 1/2 hp', 'kettle'"},
    {"branch", '\0', "ID", "where the load before it goes: a branch"},
    {"outlet", '\0', "ID", "where the load before it goes: an outlet"},
    {"room", '\0', "ID", "where the load before it goes: a room (the branch there with the most headroom)"},
    {"remove", '\0', "A", "without this appliance"},
    {"move", '\0', "A=B", "appliance A on branch or outlet B"},
    {"set", '\0', "A.key=value", "appliance A with another value"},
    {"scene", '\0', "ID", "judge this scene instead of the busiest minute"},
    {"on", '\0', "A,B*2", "judge these on (added to the scene where one is named)"},
    {"off", '\0', "A,B", "judge these off (out of the scene, or out of everything)"},
    {"keep", '\0', NULL, "store the change in the house database"},
    {NULL, '\0', NULL, NULL},
};

static const char *const details[] = {
    "Changes are made in the order given. Nothing is stored without --keep; "
    "`ampsum undo` takes a kept change back. Exit status 1: a branch is over after it.",
    NULL};

/* ---- making the changes */

/* Where an added load goes: the options --branch, --outlet, --room that follow its --add. */
struct place {
    const char *branch;
    const char *outlet;
    const char *room;
};

static struct place place_after(const struct invocation *invocation, size_t index)
{
    struct place place = {0};
    const char *name = NULL;
    const char *value = NULL;
    for (size_t i = index + 1; option_next(invocation, i, &name, &value) && strcmp(name, "add") != 0; i++) {
        place.branch = strcmp(name, "branch") == 0 ? value : place.branch;
        place.outlet = strcmp(name, "outlet") == 0 ? value : place.outlet;
        place.room = strcmp(name, "room") == 0 ? value : place.room;
    }
    return place;
}

/* The branch that serves the room and has the most headroom with everything on; NULL where none serves it. */
static const char *roomiest_branch(struct invocation *invocation, const struct house *house, size_t room)
{
    struct assess_options choice = {0};
    struct assessment *assessment = assess_house(house, &choice);
    const char *best = NULL;
    double best_a = -INFINITY;
    for (size_t i = 0; i < house->branch_count; i++) {
        struct index_list rooms = house_branch_serves(house, i, invocation->arena);
        bool serves = false;
        for (size_t r = 0; r < rooms.count; r++) {
            serves = serves || rooms.index[r] == room;
        }
        bool plain = house->branches[i].voltage_v == house->voltage_v;
        if (serves && plain && decide_takes_plugs(house, i, NO_INDEX) &&
            assessment->branches[i].all.headroom_a > best_a) {
            best = house->branches[i].id;
            best_a = assessment->branches[i].all.headroom_a;
        }
    }
    assess_free(assessment);
    return best;
}

/* Settles on a branch where only a room is named. */
static bool settle_place(struct invocation *invocation, const struct document *document, struct place *place,
                         struct text *ret_what)
{
    if (place->branch != NULL || place->outlet != NULL) {
        return true;
    }
    if (place->room == NULL) {
        error_set(&invocation->error, ERROR_INPUT,
                  "--add: where does it go? expected --branch ID, --outlet ID or --room ID behind it");
        return false;
    }
    struct house *house = NULL;
    if (!house_build(document, &house, &invocation->error)) {
        return false;
    }
    size_t room = house_find(house, KIND_ROOM, place->room);
    const char *best = room == NO_INDEX ? NULL : roomiest_branch(invocation, house, room);
    if (room == NO_INDEX) {
        const char *near = edit_nearest_id(document, "room", place->room);
        error_set(&invocation->error, ERROR_INPUT, "--room %s: no room has this ID%s%s", place->room,
                  near == NULL ? "" : "; the nearest is ", near == NULL ? "" : near);
    } else if (best == NULL) {
        error_set(&invocation->error, ERROR_INPUT,
                  "--room %s: no branch with outlets for plugs serves this room; expected --branch ID", place->room);
    } else {
        place->branch = arena_copy(invocation->arena, best);
        text_printf(ret_what, "On %s, the branch of this room with the most headroom.\n", place->branch);
    }
    house_free(house);
    return place->branch != NULL;
}

static int document_rules(struct document *document)
{
    const char *word = document_value(document_find(document, "house", ""), "rules");
    return word == NULL ? RULES_NONE : reference_rule_set_index(word);
}

static bool add_load(struct invocation *invocation, struct document *document, const char *string, size_t index,
                     struct text *ret_what)
{
    struct freetext load;
    struct place place = place_after(invocation, index);
    const char *id = NULL;
    if (!freetext_read(invocation->arena, string, document_rules(document), &load, &invocation->error) ||
        !settle_place(invocation, document, &place, ret_what) ||
        !freetext_add(document, &load, place.branch, place.outlet, place.room, &id, &invocation->error)) {
        return false;
    }
    text_printf(ret_what, "Added as %s.\n", id);
    if (load.note != NULL) {
        text_printf(ret_what, "%s.\n", load.note);
    }
    decide_running_time(invocation, &load, document_rules(document), ret_what);
    return true;
}

static bool move_load(struct invocation *invocation, struct document *document, const char *value)
{
    const char *equals = strchr(value, '=');
    if (equals == NULL) {
        error_set(&invocation->error, ERROR_INPUT, "--move %s: expected APPLIANCE=BRANCH or APPLIANCE=OUTLET", value);
        return false;
    }
    char *appliance = arena_copy_length(invocation->arena, value, (size_t)(equals - value));
    return edit_move(document, appliance, equals + 1, &invocation->error);
}

static bool change(struct invocation *invocation, struct document *document, struct text *ret_what)
{
    const char *name = NULL;
    const char *value = NULL;
    bool good = true;
    for (size_t i = 0; good && option_next(invocation, i, &name, &value); i++) {
        if (strcmp(name, "add") == 0) {
            good = add_load(invocation, document, value, i, ret_what);
        } else if (strcmp(name, "remove") == 0) {
            good = edit_remove(document, "appliance", value, true, ret_what, &invocation->error);
        } else if (strcmp(name, "move") == 0) {
            good = move_load(invocation, document, value);
        } else if (strcmp(name, "set") == 0) {
            good = edit_set_dotted(document, value, &invocation->error);
        }
    }
    return good;
}

/* The IDs that --scene, --on and --off name must exist after the change. */
static bool check_lists(struct invocation *invocation, const struct house *after)
{
    struct house *own = invocation->house;
    invocation->house = (struct house *)(void *)(uintptr_t)after;
    bool good = option_value(invocation, "scene") == NULL ||
                find_id(invocation, KIND_SCENE, option_value(invocation, "scene")) != NO_INDEX;
    static const char *const lists[] = {"on", "off"};
    for (size_t i = 0; good && i < 2; i++) {
        const char *list = option_value(invocation, lists[i]);
        for (const char *at = list == NULL ? "" : list; good && *at != '\0';) {
            at += strspn(at, ", ");
            char *id = arena_copy_length(invocation->arena, at, strcspn(at, ",* "));
            good = id[0] == '\0' || find_id(invocation, KIND_APPLIANCE, id) != NO_INDEX;
            at += strcspn(at, ",");
        }
    }
    invocation->house = own;
    return good;
}

/* Everything in memory: the house as read stays, a changed copy stands beside it. */
static int try_only(struct invocation *invocation)
{
    if (!invocation_house(invocation, 0) || !invocation_operands(invocation, 0, 0)) {
        return 2;
    }
    struct document *document = house_document(invocation->house, "try");
    struct house *after = NULL;
    struct text what = {0};
    int status = 2;
    if (change(invocation, document, &what) && house_build(document, &after, &invocation->error) &&
        check_lists(invocation, after)) {
        status = try_compare(invocation, invocation->house, after, &what, false);
    }
    text_done(&what);
    house_free(after);
    document_free(document);
    return status;
}

static int try_and_keep(struct invocation *invocation)
{
    const char *path = invocation_house_path(invocation, 0);
    struct house *before = NULL;
    struct text what = {0};
    int status = 2;
    if (invocation_operands(invocation, 0, 0) && house_open(path, &before, &invocation->error) &&
        edit_database(invocation, change, &what)) {
        text_add(&what, "Stored; `ampsum undo` takes it back.\n");
        status = try_compare(invocation, before, invocation->house, &what, true);
    }
    text_done(&what);
    house_free(before);
    return status;
}

static bool has_change(struct invocation *invocation)
{
    static const char *const changes[] = {"add", "remove", "move", "set", "on", "off", "scene"};
    for (size_t i = 0; i < sizeof changes / sizeof changes[0]; i++) {
        if (option_given(invocation, changes[i])) {
            return true;
        }
    }
    error_set(&invocation->error, ERROR_INPUT, "try: nothing to try, expected --add, --remove, --move or --set");
    return false;
}

static int run(struct invocation *invocation)
{
    if (!has_change(invocation)) {
        return 2;
    }
    return option_given(invocation, "keep") ? try_and_keep(invocation) : try_only(invocation);
}

const struct command command_try = {
    .name = "try",
    .operands = "[HOUSE]",
    .summary = "what if a load is added, removed, moved or changed: before and after, nothing stored",
    .examples = examples,
    .options = options,
    .details = details,
    .rows = true,
    .run = run,
};
