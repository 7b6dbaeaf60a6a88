/* The changes of `try`: read as they are said, and made in a document in the order given. */
#include <math.h>
#include <string.h>

#include "ampsum/answer_choice.h"
#include "ampsum/answer_try.h"
#include "ampsum/asked.h"
#include "ampsum/decide.h"
#include "ampsum/edit.h"
#include "ampsum/reference.h"

/* ------------------------------------------------------------------ as they are said ---------------------- */

/* The kind of change of that name; TRY_SET + 1: it is a place. */
static int kind_of(const char *name)
{
    static const char *const names[] = {
        [TRY_ADD] = "add", [TRY_REMOVE] = "remove", [TRY_MOVE] = "move", [TRY_SET] = "set"};
    int kind = TRY_ADD;
    while (kind <= TRY_SET && strcmp(name, names[kind]) != 0) {
        kind++;
    }
    return kind;
}

static void take_place(const struct choice_said *said, struct try_change *load)
{
    const char **place = strcmp(said->name, "branch") == 0   ? &load->branch
                         : strcmp(said->name, "outlet") == 0 ? &load->outlet
                                                             : &load->room;
    *place = said->value;
}

/* Room and time out of the words of a load that has no place. */
static bool take_apart(const struct house *house, struct arena *arena, struct try_change *load, struct error *error)
{
    struct asked asked;
    if (load->kind != TRY_ADD || load->branch != NULL || load->outlet != NULL || load->room != NULL) {
        return true;
    }
    if (!asked_read(house, load->value, arena, &asked, error)) {
        return false;
    }
    load->value = asked.load;
    load->use = asked.use;
    load->use_said = asked.use_said;
    load->room = asked.room == NO_INDEX ? NULL : house->rooms[asked.room].id;
    return true;
}

bool try_read(const struct house *house, const struct choice_said *said, size_t count, struct arena *arena,
              struct try_question *question, struct error *error)
{
    struct try_change *changes = arena_array(arena, count, sizeof *changes);
    struct try_change passed = {0}; /* takes the places before the first load */
    struct try_change *load = &passed;
    bool good = true;
    question->changes = changes;
    for (size_t i = 0; i < count; i++) {
        const int kind = kind_of(said[i].name);
        if (kind > TRY_SET) {
            take_place(&said[i], load);
            continue;
        }
        struct try_change *change = &changes[question->change_count++];
        *change = (struct try_change){.kind = (enum try_change_kind)kind, .value = said[i].value};
        load = kind == TRY_ADD ? change : load;
    }
    for (size_t i = 0; i < question->change_count && good; i++) {
        good = take_apart(house, arena, &changes[i], error);
    }
    if (question->change_count == 0 && question->scene == NULL && question->on == NULL && question->off == NULL) {
        error_set(error, ERROR_INPUT, "try: nothing to try, expected --add, --remove, --move or --set");
        return false;
    }
    return good;
}

/* ------------------------------------------------------------------ as they are made ---------------------- */

/* What the changes share. */
struct making {
    struct document *document;
    struct arena *arena;
    struct error *error;
};

/* The branch that serves the room and has the most headroom with everything on; NULL where none serves it. */
static const char *roomiest_branch(const struct house *house, size_t room, struct arena *arena)
{
    const struct assess_options choice = {0};
    struct assessment *assessment = assess_house(house, &choice);
    const char *best = NULL;
    double best_a = -INFINITY;
    for (size_t i = 0; i < house->branch_count; i++) {
        const bool plain = house->branches[i].voltage_v == house->voltage_v;
        const double headroom_a = assessment->branches[i].all.headroom_a;
        if (plain && headroom_a > best_a && house_branch_serves_room(house, i, room, arena) &&
            decide_takes_plugs(house, i, NO_INDEX)) {
            best = arena_copy(arena, house->branches[i].id);
            best_a = headroom_a;
        }
    }
    assess_free(assessment);
    return best;
}

/* A branch of the room; NULL with the error set. */
static const char *branch_of_room(const struct making *making, const char *id)
{
    struct house *house = NULL;
    if (!house_build(making->document, &house, making->error)) {
        return NULL;
    }
    const size_t room = choice_find(house, KIND_ROOM, id, making->error);
    const char *best = room == NO_INDEX ? NULL : roomiest_branch(house, room, making->arena);
    if (room != NO_INDEX && best == NULL) {
        error_set(making->error, ERROR_INPUT,
                  "--room %s: no branch with outlets for plugs serves this room; expected --branch ID", id);
    }
    house_free(house);
    return best;
}

/* Settles on a branch where only a room is named. */
static bool settle_place(const struct making *making, struct try_change *change, struct try_done *done)
{
    if (change->branch != NULL || change->outlet != NULL) {
        return true;
    }
    if (change->room == NULL) {
        error_set(making->error, ERROR_INPUT,
                  "--add: where does it go? expected --branch ID, --outlet ID or --room ID behind it");
        return false;
    }
    done->chosen = branch_of_room(making, change->room);
    change->branch = done->chosen;
    return done->chosen != NULL;
}

static bool add_load(const struct making *making, const struct try_change *asked, struct try_done *done)
{
    struct try_change change = *asked;
    const char *rules = document_value(document_find(making->document, "house", ""), "rules");
    done->use = change.use;
    done->use_said = change.use_said;
    done->rules = rules == NULL ? RULES_NONE : reference_rule_set_index(rules);
    if (!freetext_read(making->arena, change.value, done->rules, &done->load, making->error) ||
        !settle_place(making, &change, done) ||
        !freetext_add(making->document, &done->load, change.branch, change.outlet, change.room, &done->id,
                      making->error)) {
        return false;
    }
    done->id = arena_copy(making->arena, done->id);
    return true;
}

static bool remove_load(const struct making *making, const char *id, struct try_done *done)
{
    struct text removed = {0};
    struct edit_along_list along = {0};
    const bool good = edit_remove(making->document, "appliance", id, true, &along, making->error);
    edit_along_text(&along, &removed);
    edit_along_done(&along);
    done->removed = removed.length > 0 ? arena_copy(making->arena, text_string(&removed)) : NULL;
    text_done(&removed);
    return good;
}

static bool move_load(const struct making *making, const char *value)
{
    const char *equals = strchr(value, '=');
    if (equals == NULL) {
        error_set(making->error, ERROR_INPUT, "--move %s: expected APPLIANCE=BRANCH or APPLIANCE=OUTLET", value);
        return false;
    }
    const char *appliance = arena_copy_length(making->arena, value, (size_t)(equals - value));
    return edit_move(making->document, appliance, equals + 1, making->error);
}

static bool make_change(const struct making *making, const struct try_change *change, struct try_done *done)
{
    switch (change->kind) {
    case TRY_ADD:
        return add_load(making, change, done);
    case TRY_REMOVE:
        return remove_load(making, change->value, done);
    case TRY_MOVE:
        return move_load(making, change->value);
    case TRY_SET:
        break;
    }
    return edit_set_dotted(making->document, change->value, making->error);
}

bool try_apply(struct document *document, const struct try_question *question, struct arena *arena,
               struct try_done *ret_done, struct error *error)
{
    const struct making making = {document, arena, error};
    bool good = true;
    for (size_t i = 0; i < question->change_count && good; i++) {
        ret_done[i] = (struct try_done){0};
        good = make_change(&making, &question->changes[i], &ret_done[i]);
    }
    return good;
}
