/* Steps 3 and 4: rooms, and the appliances under the heading of theirs. */
#include <string.h>

#include "ampsum/reference.h"
#include "build.h"

static void add_added(struct visit *visit, enum kind kind)
{
    size_t count = 0;
    house_rows(visit->house, kind, &count);
    if (form_has(&visit->query, "added") && count > 0) {
        html_add(&visit->answer.body, "<p role=\"status\">Added: %s.</p>\n", build_name(visit->house, kind, count - 1));
    }
}

/* ---- rooms */

void view_build_rooms(struct visit *visit)
{
    struct text *html = &visit->answer.body;
    if (!build_ready(visit)) {
        return;
    }
    const struct house *house = visit->house;
    struct build_form form = {.visit = visit,
                              .kind = KIND_ROOM,
                              .id = "",
                              .prefix = "",
                              .focus = form_has(&visit->query, "added") || house->room_count == 0};
    build_begin(visit, "/build/rooms", "Rooms");
    add_added(visit, KIND_ROOM);
    html_add(html, "<h2>The next room</h2>");
    if (house->room_count > 0 && house->rooms[house->room_count - 1].floor != NULL) {
        form_add(&form.proposed, "floor", house->rooms[house->room_count - 1].floor);
    }
    build_form_begin(&form, "/build/add");
    build_form_fields(&form);
    build_form_end(&form, "Add this room");
    html_add(html, "<h2>Rooms so far</h2>");
    html_add(html, house->room_count == 0 ? "<p>None yet. Gardens and sheds count, too.</p>\n" : "");
    build_list_begin(visit, KIND_ROOM);
    for (size_t i = 0; i < house->room_count; i++) {
        html_add(html, "<li><span class=\"what\">%s", build_name(house, KIND_ROOM, i));
        if (house->rooms[i].floor != NULL) {
            html_add(html, "<small>%s</small>", house->rooms[i].floor);
        }
        html_add(html, "</span>");
        build_list_buttons(visit, KIND_ROOM, i);
    }
    build_list_end(visit);
    build_end(visit, "/build/rooms");
}

/* ---- appliances */

/* The names that have a typical rating: offered while typing. */
void build_typical_names(struct visit *visit)
{
    struct text *html = &visit->answer.body;
    html_add(html, "<datalist id=\"typical\">");
    for (size_t i = 0; i < ref_typical_count; i++) {
        if (strcmp(ref_typical_rows[i].rules, rules_word(visit->house->rules)) == 0) {
            html_add(html, "<option value=\"%s\">typical %.0f W</option>", ref_typical_rows[i].name,
                     ref_typical_rows[i].typical_w);
        }
    }
    html_add(html, "</datalist>");
}

/* Where the last appliance of the room is; else the only place there is, or the first branch that serves it. */
const char *build_likely_place(struct visit *visit, size_t room)
{
    const struct house *house = visit->house;
    struct text at = {0};
    for (size_t i = house->appliance_count; i-- > 0 && at.length == 0;) {
        const struct appliance *appliance = &house->appliances[i];
        if (appliance->room == room && appliance->outlet != NO_INDEX) {
            text_printf(&at, "outlet:%s", house->outlets[appliance->outlet].id);
        } else if (appliance->room == room) {
            text_printf(&at, "branch:%s", house->branches[appliance->branch].id);
        }
    }
    for (size_t i = 0; i < house->branch_count && at.length == 0 && room != NO_INDEX; i++) {
        const struct index_list serves = house_branch_serves(house, i, visit->arena);
        for (size_t k = 0; k < serves.count && at.length == 0; k++) {
            if (serves.index[k] == room) {
                text_printf(&at, "branch:%s", house->branches[i].id);
            }
        }
    }
    const char *copy = arena_copy(visit->arena, text_string(&at));
    text_done(&at);
    return copy;
}

static void add_form(struct visit *visit, size_t room)
{
    const struct house *house = visit->house;
    const char *room_id = room == NO_INDEX ? "" : house->rooms[room].id;
    struct build_form form = {
        .visit = visit, .kind = KIND_APPLIANCE, .id = "", .prefix = "", .focus = form_has(&visit->query, "room")};
    form_add(&form.proposed, "at", build_likely_place(visit, room));
    form_add(&form.proposed, "room", room_id);
    build_form_begin(&form, "/build/add");
    build_hidden(visit, "room", room_id);
    build_form_fields(&form);
    build_typical_names(visit);
    build_form_end(&form, room == NO_INDEX ? "Add this appliance" : "Add it to this room");
}

static void add_appliance(struct visit *visit, size_t index)
{
    const struct house *house = visit->house;
    const struct appliance *appliance = &house->appliances[index];
    struct text *html = &visit->answer.body;
    html_add(html, "<li><span class=\"what\">%s<small>", appliance->name);
    build_add_rating(html, house, index);
    html_add(html, ", on %s", house->branches[appliance->branch].label);
    if (appliance->outlet != NO_INDEX) {
        html_add(html, ", %s", build_name(house, KIND_OUTLET, appliance->outlet));
    }
    html_add(html, build_typical(appliance) == NULL ? "" : "; a typical rating");
    html_add(html, "</small></span>");
    build_list_buttons(visit, KIND_APPLIANCE, index);
}

static size_t count_in(const struct house *house, size_t room)
{
    size_t count = 0;
    for (size_t i = 0; i < house->appliance_count; i++) {
        count += house->appliances[i].room == room;
    }
    return count;
}

static void add_room(struct visit *visit, size_t room, bool chosen)
{
    const struct house *house = visit->house;
    struct text *html = &visit->answer.body;
    const char *id = room == NO_INDEX ? "" : house->rooms[room].id;
    html_add(html, "<section><h2 id=\"in-%s\">%s", id,
             room == NO_INDEX ? "Room not known" : build_name(house, KIND_ROOM, room));
    html_add(html, "</h2>");
    if (chosen) {
        add_form(visit, room);
    } else {
        html_add(html,
                 "<p><a href=\"/build/appliances?room=%s#in-%s\">Add an appliance here<span class=\"hidden\">, "
                 "%s</span></a></p>",
                 id, id, room == NO_INDEX ? "room not known" : build_name(house, KIND_ROOM, room));
    }
    if (count_in(house, room) > 0) {
        build_list_begin(visit, KIND_APPLIANCE);
        for (size_t i = 0; i < house->appliance_count; i++) {
            if (house->appliances[i].room == room) {
                add_appliance(visit, i);
            }
        }
        build_list_end(visit);
    }
    html_add(html, "</section>\n");
}

/* A short way to each room. */
static void add_jumps(struct visit *visit, size_t chosen)
{
    const struct house *house = visit->house;
    struct text *html = &visit->answer.body;
    html_add(html, "<p class=\"choice\">Add in: ");
    for (size_t i = 0; i < house->room_count; i++) {
        html_add(html, "<a href=\"/build/appliances?room=%s#in-%s\"", house->rooms[i].id, house->rooms[i].id);
        html_add(html, i == chosen ? " aria-current=\"true\"" : "");
        html_add(html, ">%s</a> ", build_name(house, KIND_ROOM, i));
    }
    html_add(html, "</p>\n");
}

/* The room asked for; else the first that has nothing yet; else none of them. */
static size_t chosen_room(struct visit *visit, bool *ret_good)
{
    const struct house *house = visit->house;
    const char *asked = build_asked(visit, "room");
    *ret_good = true;
    if (asked[0] != '\0') {
        const size_t room = visit_find(visit, KIND_ROOM, asked);
        *ret_good = room != NO_INDEX;
        return room;
    }
    for (size_t i = 0; !form_has(&visit->query, "room") && !visit->post && i < house->room_count; i++) {
        if (count_in(house, i) == 0) {
            return i;
        }
    }
    return NO_INDEX;
}

void view_build_appliances(struct visit *visit)
{
    struct text *html = &visit->answer.body;
    bool good = false;
    if (!build_ready(visit)) {
        return;
    }
    const struct house *house = visit->house;
    const size_t chosen = chosen_room(visit, &good);
    if (!good) {
        return;
    }
    const char *path = build_page_of(visit, KIND_APPLIANCE, NO_INDEX);
    build_begin(visit, path, "Appliances");
    add_added(visit, KIND_APPLIANCE);
    if (house->branch_count == 0) {
        html_add(html, "<p>Add a line of the <a href=\"/build/panel\">panel door</a> first: an appliance hangs on a "
                       "branch.</p>\n");
    } else {
        html_add(html, "<p>The rating stands on the nameplate: at the back, at the bottom, or on the plug.</p>\n");
        add_jumps(visit, chosen);
        for (size_t i = 0; i < house->room_count; i++) {
            add_room(visit, i, i == chosen);
        }
        add_room(visit, NO_INDEX, chosen == NO_INDEX);
    }
    build_end(visit, path);
}
