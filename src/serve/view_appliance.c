/* A new appliance: what it is and where; then where it could go, what it would do there, and keep or discard. */
#include <math.h>
#include <string.h>

#include "ampsum/freetext.h"
#include "ampsum/reference.h"
#include "site.h"

enum { TYPICAL_MOST = 6 };

/* What the form says of the load. */
static const char *value(const struct visit *visit, const char *name)
{
    return form_value(visit->post ? &visit->body : &visit->query, name);
}

/* `2x Heater, 1500 W, 240 V, use=07:00-07:05` from the fields, as a person would say it on the command line. */
static const char *spoken(struct visit *visit)
{
    const char *what = value(visit, "what");
    const char *rating = value(visit, "rating");
    const char *count = value(visit, "count");
    const char *use = value(visit, "use");
    const char *volt = value(visit, "volt");
    struct text text = {0};
    if (count[0] != '\0' && strcmp(count, "1") != 0) {
        text_printf(&text, "%sx ", count);
    }
    text_add(&text, what);
    if (rating[0] != '\0') {
        text_printf(&text, ", %s %s", rating, value(visit, "unit"));
    }
    if (volt[0] != '\0') {
        text_printf(&text, ", %s V", volt);
    }
    if (use[0] != '\0') {
        text_printf(&text, ", use=%s", use);
    }
    const char *copy = arena_copy(visit->arena, text_string(&text));
    text_done(&text);
    return copy;
}

static void add_option(struct text *html, const char *option, const char *shown, const char *chosen)
{
    html_add(html, "<option value=\"%s\"", option);
    html_add(html, strcmp(option, chosen) == 0 ? " selected" : "");
    html_add(html, ">%s</option>", shown);
}

static void add_form(struct visit *visit)
{
    static const char *const units[] = {"W", "kW", "A", "VA", "hp"};
    struct text *html = &visit->answer.body;
    html_add(html,
             "<form action=\"/appliance\" class=\"fields\"><label>What is it? <input name=\"what\" required "
             "list=\"typical\" value=\"%s\"></label><datalist id=\"typical\">",
             value(visit, "what"));
    for (size_t i = 0; i < ref_typical_count; i++) {
        if (strcmp(ref_typical_rows[i].rules, rules_word(visit->house->rules)) == 0) {
            html_add(html, "<option value=\"%s\">", ref_typical_rows[i].name);
        }
    }
    html_add(html,
             "</datalist><label>Rating on its nameplate <input name=\"rating\" inputmode=\"decimal\" value=\"%s\" "
             "aria-describedby=\"rating-help\"></label><label>Unit <select name=\"unit\">",
             value(visit, "rating"));
    for (size_t i = 0; i < sizeof units / sizeof units[0]; i++) {
        add_option(html, units[i], units[i], value(visit, "unit"));
    }
    html_add(html,
             "</select></label><p id=\"rating-help\" class=\"help\">The nameplate is better than any typical "
             "figure. Left empty, a typical one is taken and named.</p>"
             "<label>Volts, if it is made for another voltage <input name=\"volt\" inputmode=\"decimal\" "
             "value=\"%s\"></label><label>How many alike <input name=\"count\" type=\"number\" min=\"1\" "
             "max=\"10000\" value=\"%s\"></label><label>Room <select name=\"room\">",
             value(visit, "volt"), value(visit, "count")[0] == '\0' ? "1" : value(visit, "count"));
    add_option(html, "", "anywhere", value(visit, "room"));
    for (size_t i = 0; i < visit->house->room_count; i++) {
        const struct room *room = &visit->house->rooms[i];
        add_option(html, room->id, room->name == NULL ? room->id : room->name, value(visit, "room"));
    }
    html_add(html,
             "</select></label><label>When is it used? <input name=\"use\" placeholder=\"06:30-07:10\" "
             "value=\"%s\"></label><p><button>Where could it go?</button></p></form>\n",
             value(visit, "use"));
}

/* What is usual for such a thing, with its source. */
static void add_typical(struct visit *visit)
{
    struct text *html = &visit->answer.body;
    const struct ref_typical *rows[TYPICAL_MOST];
    bool near = false;
    size_t count =
        reference_typical_find(value(visit, "what"), rules_word(visit->house->rules), rows, TYPICAL_MOST, &near);
    if (count == 0 || near || value(visit, "rating")[0] != '\0') {
        return;
    }
    html_add(html, "<h2>Typical ratings, until you have read the nameplate</h2><ul>");
    for (size_t i = 0; i < count; i++) {
        html_add(html, "<li>%s: %0 W (%0 to %0 W) <small>Source: %s</small></li>", rows[i]->name, rows[i]->typical_w,
                 rows[i]->low_w, rows[i]->high_w, rows[i]->source);
    }
    html_add(html, "</ul>\n");
}

static const char *json_word(const json_t *object, const char *key)
{
    const char *word = json_string_value(json_object_get(object, key));
    return word == NULL ? "" : word;
}

static double json_double(const json_t *object, const char *key)
{
    const json_t *number = json_object_get(object, key);
    return json_is_number(number) ? json_number_value(number) : (double)NAN;
}

/* The fields of the load again, in the address of a link. */
static void add_query(struct visit *visit)
{
    static const char *const names[] = {"what", "rating", "unit", "volt", "count", "room", "use"};
    struct text query = {0};
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) {
        text_printf(&query, "%s%s=", i > 0 ? "&" : "", names[i]);
        html_query(&query, value(visit, names[i]));
    }
    html_add(&visit->answer.body, "%s", text_string(&query));
    text_done(&query);
}

static void add_list(struct text *html, const char *before, const json_t *list)
{
    for (size_t i = 0; i < json_array_size(list); i++) {
        html_add(html, "%s%s", i == 0 ? before : ", ", json_string_value(json_array_get(list, i)));
    }
    html_add(html, json_array_size(list) > 0 ? "." : "");
}

static void add_place(struct visit *visit, const json_t *place)
{
    struct text *html = &visit->answer.body;
    const char *outlet = json_word(place, "outlet");
    const bool fits = json_is_true(json_object_get(place, "fits"));
    html_add(html, "<li>");
    if (json_word(place, "status")[0] != '\0') {
        page_verdict_word(html, json_word(place, "status"));
    }
    html_add(html, " <strong>%s</strong>%s%s: ", json_word(place, "label"), outlet[0] == '\0' ? "" : ", outlet ",
             outlet);
    if (fits) {
        html_add(html, "could take it. With everything on %1 A of %r A, headroom %1 A. ",
                 json_double(place, "planning_a"), json_double(place, "breaker_a"), json_double(place, "headroom_a"));
    } else {
        html_add(html, "can't take it: %s. ", json_word(place, "reason"));
    }
    add_list(html, "Not at ", json_object_get(place, "not_at"));
    add_list(html, " Off while it runs, of what may be on: ", json_object_get(place, "off"));
    html_add(html, " <a href=\"/appliance?");
    add_query(visit);
    html_add(html, "&amp;at=%s%%3A%s\">Try it here<span class=\"hidden\"> on %s</span></a></li>",
             outlet[0] == '\0' ? "branch" : "outlet", outlet[0] == '\0' ? json_word(place, "branch") : outlet,
             json_word(place, "label"));
}

static json_t *ask_place(struct visit *visit, const char *load)
{
    struct text room = {0};
    text_printf(&room, "--room=%s", value(visit, "room"));
    const bool everywhere = value(visit, "room")[0] == '\0';
    const char *words[] = {"place",
                           visit->site->path,
                           "--format=json",
                           everywhere ? "--" : text_string(&room),
                           everywhere ? load : "--",
                           everywhere ? NULL : load,
                           NULL};
    json_t *json = visit_run_json(visit, words);
    text_done(&room);
    return json;
}

static void add_places(struct visit *visit)
{
    struct text *html = &visit->answer.body;
    json_t *json = ask_place(visit, spoken(visit));
    if (json == NULL) {
        html_add(html, "<p role=\"alert\">%s</p>\n", error_message(&visit->error));
        return;
    }
    const json_t *places = json_object_get(json, "places");
    const json_t *fits = json_object_get(json, "fits");
    html_add(html, "<h2>Where it could go</h2>");
    if (json_word(json, "note")[0] != '\0') {
        html_add(html, "<p>%s.</p>", json_word(json, "note"));
    }
    if (json_integer_value(fits) == 0) {
        html_add(html, "<p>No branch here can take it as things are. Use it elsewhere or with other loads off; a new "
                       "branch is a licensed electrician's work.</p>");
    }
    html_add(html, "<ul class=\"places\">");
    for (size_t i = 0; i < json_array_size(places); i++) {
        add_place(visit, json_array_get(places, i));
    }
    html_add(html, "</ul>\n");
    json_decref(json);
}

/* `branch:ID` or `outlet:ID` of the form as an option of `try`; NULL where it is neither. */
static const char *place_option(struct visit *visit)
{
    const char *at = value(visit, "at");
    const char *id = strchr(at, ':');
    const bool outlet = strncmp(at, "outlet:", 7) == 0;
    if (id == NULL || (!outlet && strncmp(at, "branch:", 7) != 0)) {
        error_set(&visit->error, ERROR_INPUT, "where does it go? expected branch:ID or outlet:ID");
        return NULL;
    }
    struct text option = {0};
    text_printf(&option, "--%s=%s", outlet ? "outlet" : "branch", id + 1);
    const char *copy = arena_copy(visit->arena, text_string(&option));
    text_done(&option);
    return copy;
}

static json_t *ask_try(struct visit *visit)
{
    const char *place = place_option(visit);
    if (place == NULL) {
        return NULL;
    }
    struct text add = {0};
    text_printf(&add, "--add=%s", spoken(visit));
    const char *words[] = {"try", visit->site->path, "--format=json", text_string(&add), place, NULL};
    json_t *json = visit_run_json(visit, words);
    text_done(&add);
    return json;
}

static void add_side(struct text *html, const char *when, const json_t *side)
{
    html_add(html, "%s ", when);
    page_verdict_word(html, json_word(side, "status"));
    html_add(html, " with %1 A at the busiest minute and %1 A with everything on",
             json_double(json_object_get(side, "busiest"), "planning_a"),
             json_double(json_object_get(side, "all"), "planning_a"));
}

static void add_found(struct text *html, const char *title, const json_t *findings)
{
    if (json_array_size(findings) > 0) {
        html_add(html, "<h3>%s</h3><ul class=\"findings\">", title);
        for (size_t i = 0; i < json_array_size(findings); i++) {
            const json_t *finding = json_array_get(findings, i);
            html_add(html, "<li class=\"f-%s\"><strong>%s</strong> %s: %s <span class=\"number\">[%s]</span></li>",
                     json_word(finding, "severity"), json_word(finding, "severity"), json_word(finding, "where"),
                     json_word(finding, "text"), json_word(finding, "id"));
        }
        html_add(html, "</ul>");
    }
}

static void add_keep(struct visit *visit)
{
    static const char *const names[] = {"what", "rating", "unit", "volt", "count", "room", "use", "at"};
    struct text *html = &visit->answer.body;
    if (visit->site->read_only) {
        html_add(html, "<p>This house is served for reading, so nothing can be kept.</p>");
        return;
    }
    html_add(html, "<form method=\"post\" action=\"/appliance/keep\">");
    page_form_secrets(visit);
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) {
        html_add(html, "<input type=\"hidden\" name=\"%s\" value=\"%s\">", names[i], value(visit, names[i]));
    }
    html_add(html, "<p><button>Keep it</button> <a href=\"/appliance?");
    add_query(visit);
    html_add(html, "\">Look at the other places</a> <a href=\"/appliance\">Discard</a></p></form>\n");
}

static void add_trial(struct visit *visit)
{
    struct text *html = &visit->answer.body;
    json_t *json = ask_try(visit);
    if (json == NULL) {
        html_add(html, "<p role=\"alert\">%s</p>\n", error_message(&visit->error));
        return;
    }
    const json_t *branches = json_object_get(json, "branches");
    const json_t *energy = json_object_get(json, "energy");
    const json_t *before = json_object_get(energy, "before");
    const json_t *after = json_object_get(energy, "after");
    html_add(html, "<h2>%s: what it would do there</h2>", spoken(visit));
    for (size_t i = 0; i < json_array_size(branches); i++) {
        const json_t *branch = json_array_get(branches, i);
        const json_t *then = json_object_get(branch, "after");
        html_add(html, "<p><strong>%s</strong>, breaker %r A. ", json_word(then, "label"),
                 json_double(then, "breaker_a"));
        add_side(html, "Now", json_object_get(branch, "before"));
        add_side(html, "; then", then);
        html_add(html, ".</p>");
    }
    if (strcmp(json_word(json, "status"), "over") == 0) {
        html_add(html,
                 "<p>After it at least one branch is over: run fewer of these at once, move a plug-in appliance, or "
                 "ask a licensed electrician.</p>");
    }
    html_add(html, "<p>Energy a day: %2 kWh now, %2 kWh then", json_double(before, "kwh_day"),
             json_double(after, "kwh_day"));
    if (json_word(after, "cost_year")[0] != '\0') {
        html_add(html, "; a year %s %s now, %s %s then", json_word(before, "cost_year"), json_word(energy, "currency"),
                 json_word(after, "cost_year"), json_word(energy, "currency"));
    }
    html_add(html, ".</p>");
    add_found(html, "New findings", json_object_get(json, "new_findings"));
    add_found(html, "Findings that go", json_object_get(json, "gone_findings"));
    add_keep(visit);
    json_decref(json);
}

void view_appliance(struct visit *visit)
{
    page_begin(visit, "New appliance");
    add_form(visit);
    if (value(visit, "at")[0] != '\0') {
        add_trial(visit);
    } else if (value(visit, "what")[0] != '\0') {
        add_typical(visit);
        add_places(visit);
    } else {
        html_add(&visit->answer.body, "<p>Nothing is stored until you say so at the end.</p>\n");
    }
    page_end(visit);
}

static bool add_load(struct visit *visit, struct document *document, struct text *ret_what)
{
    struct freetext load;
    const char *place = place_option(visit);
    const char *id = NULL;
    const char *load_words = spoken(visit);
    if (place == NULL || !freetext_read(visit->arena, load_words, visit->house->rules, &load, &visit->error)) {
        return false;
    }
    const char *where = strchr(place, '=') + 1;
    const bool outlet = strncmp(place, "--outlet=", 9) == 0;
    const char *room = outlet || value(visit, "room")[0] == '\0' ? NULL : value(visit, "room");
    text_printf(ret_what, "new appliance %s on %s", load_words, where);
    return freetext_add(document, &load, outlet ? NULL : where, outlet ? where : NULL, room, &id, &visit->error);
}

void keep_appliance(struct visit *visit)
{
    visit_store(visit, add_load, "/changes");
}

/* The answers of `place` and `try` with --format json. */
void api_place(struct visit *visit)
{
    json_t *json = ask_place(visit, spoken(visit));
    if (json == NULL) {
        visit_refuse(visit, 422, "No answer", error_message(&visit->error));
        return;
    }
    visit_json(visit, json);
}

void api_try(struct visit *visit)
{
    json_t *json = ask_try(visit);
    if (json == NULL) {
        visit_refuse(visit, 422, "No answer", error_message(&visit->error));
        return;
    }
    visit_json(visit, json);
}
