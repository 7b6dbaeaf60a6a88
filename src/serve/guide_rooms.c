/* Steps 3 and 4: rooms, and the appliances under the heading of theirs. */
#include <string.h>

#include "ampsum/answer_next.h"
#include "ampsum/reference.h"
#include "guide.h"

/* ---- rooms */

static void add_floor(struct visit *visit, size_t index)
{
    const struct room *room = &visit->house->rooms[index];
    page_add(visit,
             room->floor == NULL ? "<span class=\"what\">%s</span>" : "<span class=\"what\">%s<small>%s</small></span>",
             room->name, room->floor);
}

void view_guide_rooms(struct visit *visit)
{
    if (!guide_ready(visit)) {
        return;
    }
    const struct house *house = visit->house;
    struct guide_form form = guide_form_new(visit, KIND_ROOM);
    form.focus = form_has(&visit->query, "added") || house->room_count == 0;
    guide_begin(visit, "/build/rooms", "Rooms");
    guide_added(visit, KIND_ROOM);
    page_add(visit, "<h2>The next room</h2>");
    if (house->room_count > 0 && house->rooms[house->room_count - 1].floor != NULL) {
        form_add(&form.proposed, "floor", house->rooms[house->room_count - 1].floor);
    }
    guide_form_whole(&form, "/build/add", "Add this room");
    page_add(visit, "<h2>Rooms so far</h2>");
    page_add(visit, house->room_count == 0 ? "<p>None yet. Gardens and sheds count, too.</p>\n" : "");
    guide_list(visit, KIND_ROOM, NULL, add_floor);
    guide_end(visit, "/build/rooms");
}

/* ---- appliances */

/* The names that have a typical rating: offered while typing. */
void guide_typical_names(struct visit *visit)
{
    page_add(visit, "<datalist id=\"typical\">");
    for (size_t i = 0; i < ref_typical_count; i++) {
        if (strcmp(ref_typical_rows[i].rules, rules_word(visit->house->rules)) == 0) {
            page_add(visit, "<option value=\"%s\">typical %.0f W</option>", ref_typical_rows[i].name,
                     ref_typical_rows[i].typical_w);
        }
    }
    page_add(visit, "</datalist>");
}

const char *guide_likely_place(struct visit *visit, size_t room)
{
    const struct next_place place = next_place(visit->house, room, visit->arena);
    return place.index == NO_INDEX ? ""
                                   : arena_printf(visit->arena, "%s:%s", kind_word(place.kind),
                                                  house_row_id(visit->house, place.kind, place.index));
}

static void add_form(struct visit *visit, size_t room)
{
    const struct house *house = visit->house;
    const char *room_id = room == NO_INDEX ? "" : house->rooms[room].id;
    struct guide_form form = guide_form_new(visit, KIND_APPLIANCE);
    form.focus = form_has(&visit->query, "room");
    form_add(&form.proposed, "at", guide_likely_place(visit, room));
    form_add(&form.proposed, "room", room_id);
    guide_form_begin(&form, "/build/add");
    page_hidden(visit, "room", room_id);
    guide_form_fields(&form);
    guide_typical_names(visit);
    guide_form_end(&form, room == NO_INDEX ? "Add this appliance" : "Add it to this room");
}

enum { UNFOLDED_MOST = 12 }; /* appliances of a list that stays in sight */

static void add_appliance(struct visit *visit, size_t index)
{
    const struct house *house = visit->house;
    const struct appliance *appliance = &house->appliances[index];
    page_add(visit, "<span class=\"what\">%s<small>", appliance->name);
    guide_add_rating(&visit->answer.body, house, index);
    page_add(visit, ", on %s", house->branches[appliance->branch].label);
    if (appliance->outlet != NO_INDEX) {
        page_add(visit, ", %s", house_row_name(house, KIND_OUTLET, appliance->outlet));
    }
    page_add(visit, !rating_is_typical(appliance) ? "" : "; a typical rating");
    page_add(visit, "</small></span>");
}

static struct index_list appliances_in(struct visit *visit, size_t room)
{
    const struct house *house = visit->house;
    struct index_list list = {arena_array(visit->arena, house->appliance_count, sizeof *list.index), 0};
    for (size_t i = 0; i < house->appliance_count; i++) {
        if (house->appliances[i].room == room) {
            list.index[list.count++] = i;
        }
    }
    return list;
}

/* In a large house behind a summary; a short list of the room that is filled now stays open. */
static void add_rows(struct visit *visit, const struct index_list *list, bool chosen)
{
    const bool open = visit->house->appliance_count <= UNFOLDED_MOST || (chosen && list->count <= UNFOLDED_MOST);
    page_add(visit, open ? "<details open>" : "<details>");
    page_add(visit, "<summary>%zu %s</summary>", list->count, list->count == 1 ? "appliance" : "appliances");
    guide_list(visit, KIND_APPLIANCE, list, add_appliance);
    page_add(visit, "</details>\n");
}

static void add_room(struct visit *visit, size_t room, bool chosen)
{
    const struct house *house = visit->house;
    const char *id = room == NO_INDEX ? "" : house->rooms[room].id;
    page_add(visit, "<section class=\"room\"><h2 id=\"in-%s\">%s</h2>", id,
             room == NO_INDEX ? "Room not known" : house_row_name(house, KIND_ROOM, room));
    if (chosen) {
        add_form(visit, room);
    } else {
        page_add(visit,
                 "<p><a href=\"/build/appliances?room=%s#in-%s\">Add an appliance here<span class=\"hidden\">, "
                 "%s</span></a></p>",
                 id, id, room == NO_INDEX ? "room not known" : house_row_name(house, KIND_ROOM, room));
    }
    const struct index_list list = appliances_in(visit, room);
    if (list.count > 0) {
        add_rows(visit, &list, chosen);
    }
    page_add(visit, "</section>\n");
}

/* The room asked for; else the first that has nothing yet; else none of them. */
static size_t chosen_room(struct visit *visit, bool *ret_good)
{
    const char *asked = guide_asked(visit, "room");
    *ret_good = true;
    if (asked[0] != '\0') {
        const size_t room = visit_find(visit, KIND_ROOM, asked);
        *ret_good = room != NO_INDEX;
        return room;
    }
    return form_has(&visit->query, "room") || visit->post ? NO_INDEX : next_room(visit->house, visit->arena);
}

void view_guide_appliances(struct visit *visit)
{
    bool good = false;
    if (!guide_ready(visit)) {
        return;
    }
    const struct house *house = visit->house;
    const size_t chosen = chosen_room(visit, &good);
    if (!good) {
        return;
    }
    const char *path = guide_page_of(visit, KIND_APPLIANCE, NO_INDEX);
    guide_begin(visit, path, "Appliances");
    guide_added(visit, KIND_APPLIANCE);
    if (house->branch_count == 0) {
        page_add(visit, "<p>Add a line of the <a href=\"/build/panel\">panel door</a> first: an appliance hangs on a "
                        "branch.</p>\n");
    } else {
        page_add(visit, "<p>The rating stands on the nameplate: at the back, at the bottom, or on the plug.</p>\n");
        for (size_t i = 0; i < house->room_count; i++) {
            add_room(visit, i, i == chosen);
        }
        add_room(visit, NO_INDEX, chosen == NO_INDEX);
    }
    guide_end(visit, path);
}
