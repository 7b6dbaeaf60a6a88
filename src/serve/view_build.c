/*
 * A house from nothing: supply and rules, the panel's door line by line, rooms, appliances by room. Where it stands is
 * in the database alone, so it can be left at any step and taken up again, and every step can be undone.
 */
#include <string.h>

#include "ampsum/edit.h"
#include "ampsum/freetext.h"
#include "ampsum/store.h"
#include "site.h"

enum { PAIRS_MOST = 16 };

/* ---- step 1: the house */

static void add_rules(struct text *html)
{
    html_add(html,
             "<label>Published rules <select name=\"rules\"><option value=\"us\">us: United States</option><option "
             "value=\"uk\">uk: United Kingdom</option><option value=\"iec\">iec: elsewhere under IEC "
             "60364</option></select></label>"
             "<label>Supply <select name=\"system\"><option value=\"\">as usual there</option><option>"
             "single-phase</option><option>split-phase</option><option>three-phase</option></select></label>");
}

static void add_first(struct visit *visit)
{
    struct text *html = &visit->answer.body;
    page_begin(visit, "A first house");
    html_add(html,
             "<p>Step 1 of 4. Nothing is known of this house yet. Everything can be changed later, and every step can "
             "be undone.</p><form method=\"post\" action=\"/build/house\" class=\"fields\">");
    page_form_secrets(visit);
    html_add(html, "<label>What do you call it? <input name=\"name\" required></label>");
    add_rules(html);
    html_add(html, "<label>Main breaker, A <input name=\"main_breaker\" required inputmode=\"decimal\"></label>"
                   "<p><button>Begin</button></p></form>\n");
    page_end(visit);
}

static void add_pair(struct visit *visit, const char **pairs, size_t *count, const char *key, const char *value)
{
    if (value[0] != '\0' && *count < PAIRS_MOST) {
        struct text pair = {0};
        text_printf(&pair, "%s=%s", key, value);
        pairs[(*count)++] = arena_copy(visit->arena, text_string(&pair));
        text_done(&pair);
    }
}

/* What was typed in again, with the reason. */
static void refuse_first(struct visit *visit)
{
    struct text *html = &visit->answer.body;
    visit->answer.status = 422;
    page_begin(visit, "That can't be stored");
    html_add(html, "<p role=\"alert\">%s</p><form method=\"post\" action=\"/build/house\" class=\"fields\">",
             error_message(&visit->error));
    page_form_secrets(visit);
    html_add(html, "<label>What do you call it? <input name=\"name\" required value=\"%s\"></label>",
             form_value(&visit->body, "name"));
    add_rules(html);
    html_add(html,
             "<label>Main breaker, A <input name=\"main_breaker\" required value=\"%s\"></label>"
             "<p><button>Try again</button></p></form>\n",
             form_value(&visit->body, "main_breaker"));
    page_end(visit);
}

void build_first(struct visit *visit)
{
    static const char *const keys[] = {"name", "rules", "system", "main_breaker"};
    const char *pairs[PAIRS_MOST];
    size_t count = 0;
    if (!site_is_new(visit->site)) {
        visit_refuse(visit, 409, "This house is there already", "Someone has begun it meanwhile. Nothing was changed.");
        return;
    }
    for (size_t i = 0; i < sizeof keys / sizeof keys[0]; i++) {
        add_pair(visit, pairs, &count, keys[i], form_value(&visit->body, keys[i]));
    }
    struct document *document = document_new("form");
    struct house *house = NULL;
    document_add(document, "house", "");
    const bool stored = edit_set(document, "house", "", pairs, count, &visit->error) &&
                        house_build(document, &house, &visit->error) &&
                        store_create(visit->site->path, house, false, &visit->error);
    house_free(house);
    document_free(document);
    if (stored) {
        visit_go_to(visit, "/build");
    } else {
        refuse_first(visit);
    }
}

/* ---- steps 2 to 4: what the house has */

static void begin_add(struct visit *visit, const char *kind)
{
    html_add(&visit->answer.body,
             "<form method=\"post\" action=\"/build/add\" class=\"fields\"><input type=\"hidden\" "
             "name=\"kind\" value=\"%s\">",
             kind);
    page_form_secrets(visit);
}

static void add_remove(struct visit *visit, const char *kind, const char *id, const char *name)
{
    struct text *html = &visit->answer.body;
    html_add(html,
             "<form method=\"post\" action=\"/build/remove\" class=\"inline\"><input type=\"hidden\" name=\"kind\" "
             "value=\"%s\"><input type=\"hidden\" name=\"id\" value=\"%s\">",
             kind, id);
    page_form_secrets(visit);
    html_add(html, "<button class=\"small\">Remove<span class=\"hidden\"> %s</span></button></form>", name);
}

static void add_branches(struct visit *visit)
{
    const struct house *house = visit->house;
    struct text *html = &visit->answer.body;
    html_add(html, "<h2>Step 2: the panel's door, line by line</h2><ul class=\"plain\">");
    for (size_t i = 0; i < house->branch_count; i++) {
        const struct branch *branch = &house->branches[i];
        html_add(html, "<li><a href=\"/branch/%s\">%s</a>, breaker %r A ", branch->id, branch->label,
                 branch->breaker_a);
        add_remove(visit, "branch", branch->id, branch->label);
        html_add(html, "</li>");
    }
    html_add(html, "</ul>");
    begin_add(visit, "branch");
    html_add(html,
             "<label>What the door says <input name=\"label\" required id=\"branch-label\"></label><label>Breaker, A "
             "<input name=\"breaker\" required inputmode=\"decimal\"></label><label>Poles <select "
             "name=\"poles\"><option value=\"1\">1</option><option value=\"2\">2</option><option "
             "value=\"3\">3</option></select></label>");
    if (house->system != SYSTEM_SINGLE_PHASE) {
        html_add(html, "<label>Legs <select name=\"legs\">");
        for (unsigned legs = LEG_A; legs <= (LEG_A | LEG_B | LEG_C); legs++) {
            if ((legs & ~house_system_legs(house)) == 0) {
                html_add(html, "<option>%s</option>", legs_word(legs));
            }
        }
        html_add(html, "</select></label>");
    }
    html_add(html,
             "<label>Space in the panel <input name=\"position\" placeholder=\"3 or 5,7\"></label><label>Kept for "
             "<select name=\"purpose\"><option>general</option><option>lighting</option><option>small-appliance"
             "</option><option>laundry</option><option>bathroom</option><option>dedicated</option></select></label>"
             "<label>Wire, if you know it <input name=\"wire\" placeholder=\"%s\"></label><label>Length to the far "
             "end, if you know it <input name=\"length\" placeholder=\"%s\"></label>"
             "<p><button>Add this branch</button></p></form>\n",
             house->rules == RULES_US ? "12 AWG copper" : "2.5 mm2 copper",
             house->rules == RULES_US ? "40 ft" : "12 m");
}

static void add_rooms(struct visit *visit)
{
    struct text *html = &visit->answer.body;
    html_add(html, "<h2>Step 3: rooms</h2><ul class=\"plain\">");
    for (size_t i = 0; i < visit->house->room_count; i++) {
        const struct room *room = &visit->house->rooms[i];
        html_add(html, "<li>%s ", room->name);
        add_remove(visit, "room", room->id, room->name);
        html_add(html, "</li>");
    }
    html_add(html, "</ul>");
    begin_add(visit, "room");
    html_add(html, "<label>Name of the room <input name=\"name\" required id=\"room-name\"></label><label>Floor <input "
                   "name=\"floor\"></label><p><button>Add this room</button></p></form>\n");
}

static void add_appliances(struct visit *visit, size_t room)
{
    const struct house *house = visit->house;
    struct text *html = &visit->answer.body;
    bool any = false;
    html_add(html, "<h3>%s</h3>", room == NO_INDEX ? "Room not known" : house->rooms[room].name);
    for (size_t i = 0; i < house->appliance_count; i++) {
        const struct appliance *appliance = &house->appliances[i];
        if (appliance->room == room) {
            html_add(html, any ? "<li>" : "<ul class=\"plain\"><li>");
            html_add(html, "%s on %s ", appliance->name, house->branches[appliance->branch].label);
            add_remove(visit, "appliance", appliance->id, appliance->name);
            html_add(html, "</li>");
            any = true;
        }
    }
    html_add(html, any ? "</ul>\n" : "<p>Nothing here yet.</p>\n");
}

static void add_appliance_form(struct visit *visit)
{
    const struct house *house = visit->house;
    struct text *html = &visit->answer.body;
    begin_add(visit, "appliance");
    html_add(html,
             "<label>Appliance, as you would say it <input name=\"load\" required id=\"load\" placeholder=\"Kettle, "
             "1500 W\" aria-describedby=\"load-help\"></label><p class=\"help\" id=\"load-help\">With the rating of "
             "its nameplate; without one a typical rating is taken and the change says so.</p><label>Room <select "
             "name=\"room\"><option value=\"\">not known</option>");
    for (size_t i = 0; i < house->room_count; i++) {
        html_add(html, "<option value=\"%s\">%s</option>", house->rooms[i].id, house->rooms[i].name);
    }
    html_add(html, "</select></label><label>Branch <select name=\"branch\">");
    for (size_t i = 0; i < house->branch_count; i++) {
        html_add(html, "<option value=\"%s\">%s</option>", house->branches[i].id, house->branches[i].label);
    }
    html_add(html,
             "</select></label><label>When is it used? <input name=\"use\" placeholder=\"06:30-07:10, 17:00-18:00\">"
             "</label><p><button>Add this appliance</button></p></form>\n");
}

static void add_undo(struct visit *visit)
{
    struct text *html = &visit->answer.body;
    html_add(html, "<form method=\"post\" action=\"/undo\" class=\"inline\"><input type=\"hidden\" name=\"back\" "
                   "value=\"build\">");
    page_form_secrets(visit);
    html_add(html, "<button>Undo the last step</button></form>\n");
}

void view_build(struct visit *visit)
{
    struct text *html = &visit->answer.body;
    if (visit->site->read_only) {
        visit_refuse(visit, 404, "Not here", "This house is served for reading.");
        return;
    }
    if (site_is_new(visit->site)) {
        add_first(visit);
        return;
    }
    if (!visit_read_house(visit)) {
        visit_refuse(visit, 503, "The house can't be read now", error_message(&visit->error));
        return;
    }
    const struct house *house = visit->house;
    page_begin(visit, "Rooms and branches");
    html_add(html,
             "<p>%s: %s rules, %s, main breaker %r A. So far: %z branches, %z rooms, %z appliances. Leave at any step; "
             "it goes on from here. <a href=\"/\">See what the check says</a></p>\n",
             house->name, rules_word(house->rules), system_word(house->system), house->main_breaker_a,
             house->branch_count, house->room_count, house->appliance_count);
    add_undo(visit);
    add_branches(visit);
    add_rooms(visit);
    html_add(html, "<h2>Step 4: appliances, room by room</h2>");
    for (size_t i = 0; i < house->room_count; i++) {
        add_appliances(visit, i);
    }
    add_appliances(visit, NO_INDEX);
    if (house->branch_count > 0) {
        add_appliance_form(visit);
    } else {
        html_add(html, "<p>Add a branch first: an appliance hangs on one.</p>\n");
    }
    page_end(visit);
}

/* A free ID of the kind for a name: lower case, hyphens, a number behind it where it is taken. */
static const char *free_id(struct visit *visit, struct document *document, const char *kind, const char *name)
{
    struct text id = {0};
    for (const char *at = name; *at != '\0' && id.length < 32; at++) {
        char c = *at >= 'A' && *at <= 'Z' ? (char)(*at - 'A' + 'a') : *at;
        if ((c >= 'a' && c <= 'z') || (c >= '0' && c <= '9')) {
            text_add_char(&id, c);
        } else if (id.length > 0 && id.bytes[id.length - 1] != '-') {
            text_add_char(&id, '-');
        }
    }
    while (id.length > 0 && id.bytes[id.length - 1] == '-') {
        id.bytes[--id.length] = '\0';
    }
    const char *base = id.length == 0 ? kind : arena_copy(visit->arena, text_string(&id));
    for (unsigned number = 1;; number++) {
        text_clear(&id);
        text_add(&id, base);
        if (number > 1) {
            text_printf(&id, "-%u", number);
        }
        const bool reserved = strcmp(text_string(&id), "main") == 0 || strcmp(text_string(&id), "panel") == 0;
        if (!reserved && document_find(document, kind, text_string(&id)) == NULL) {
            break;
        }
    }
    const char *copy = arena_copy(visit->arena, text_string(&id));
    text_done(&id);
    return copy;
}

static bool add_load(struct visit *visit, struct document *document, struct text *ret_what)
{
    const char *room = form_value(&visit->body, "room");
    const char *use = form_value(&visit->body, "use");
    struct freetext load;
    const char *id = NULL;
    if (!freetext_read(visit->arena, form_value(&visit->body, "load"), visit->house->rules, &load, &visit->error) ||
        !freetext_add(document, &load, form_value(&visit->body, "branch"), NULL, room[0] == '\0' ? NULL : room, &id,
                      &visit->error)) {
        return false;
    }
    text_printf(ret_what, "add appliance %s%s%s", load.name, load.note == NULL ? "" : "; ",
                load.note == NULL ? "" : load.note);
    const char *pairs[PAIRS_MOST];
    size_t count = 0;
    add_pair(visit, pairs, &count, "use", use);
    return edit_set(document, "appliance", id, pairs, count, &visit->error);
}

static bool add_section(struct visit *visit, struct document *document, struct text *ret_what)
{
    static const char *const branch_keys[] = {"label",   "breaker", "poles",  "legs", "position",
                                              "purpose", "wire",    "length", NULL};
    static const char *const room_keys[] = {"name", "floor", NULL};
    const char *kind = form_value(&visit->body, "kind");
    if (strcmp(kind, "appliance") == 0) {
        return add_load(visit, document, ret_what);
    }
    const bool branch = strcmp(kind, "branch") == 0;
    if (!branch && strcmp(kind, "room") != 0) {
        error_set(&visit->error, ERROR_INPUT, "only a branch, a room or an appliance is added here");
        return false;
    }
    const char *const *keys = branch ? branch_keys : room_keys;
    const char *pairs[PAIRS_MOST];
    size_t count = 0;
    for (size_t i = 0; keys[i] != NULL; i++) {
        add_pair(visit, pairs, &count, keys[i], form_value(&visit->body, keys[i]));
    }
    const char *name = form_value(&visit->body, branch ? "label" : "name");
    text_printf(ret_what, "add %s %s", kind, name);
    return edit_add(document, kind, free_id(visit, document, kind, name), pairs, count, &visit->error);
}

void build_add(struct visit *visit)
{
    visit_store(visit, add_section, "/build");
}

static bool remove_section(struct visit *visit, struct document *document, struct text *ret_what)
{
    struct text also = {0};
    const char *kind = form_value(&visit->body, "kind");
    const char *id = form_value(&visit->body, "id");
    text_printf(ret_what, "remove %s %s", kind, id);
    const bool with_all = form_has(&visit->body, "with_all");
    const bool removed = edit_remove(document, kind, id, with_all, &also, &visit->error);
    text_done(&also);
    return removed;
}

void build_remove(struct visit *visit)
{
    visit_store(visit, remove_section, "/build");
}
