#include "answer.h"

#include <math.h>
#include <string.h>

#include "load.h"

enum { ITEMS_SHOWN = 4, PLACES_SHOWN = 6, REFUSED_SHOWN = 3 };

const char *json_word(const json_t *object, const char *key)
{
    const char *word = json_string_value(json_object_get(object, key));
    return word == NULL ? "" : word;
}

double json_double(const json_t *object, const char *key)
{
    const json_t *number = json_object_get(object, key);
    return json_is_number(number) ? json_number_value(number) : (double)NAN;
}

static void add_items(struct text *html, const char *const *items, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        html_add(html, i == 0 ? "%s" : ", %s", items[i]);
    }
}

void answer_list(struct text *html, const char *before, const char *const *items, size_t count)
{
    /* One more is no reason to hide it. */
    const size_t shown = count > ITEMS_SHOWN + 1 ? ITEMS_SHOWN : count;
    if (count == 0) {
        return;
    }
    html_add(html, "<span class=\"said\">%s", before);
    add_items(html, items, shown);
    if (shown == count) {
        html_add(html, ".</span> ");
        return;
    }
    html_add(html, " and %zu more.</span> <details class=\"rest\"><summary>All %zu</summary><p>", count - shown, count);
    add_items(html, items, count);
    html_add(html, ".</p></details>");
}

/* The line without `try: [appliance heater] ` in front: the person did not write that section. */
static const char *own_part(const char *line)
{
    static const char section[] = ": [appliance ";
    const char *found = strstr(line, section);
    const char *end = found == NULL ? NULL : strstr(found, "] ");
    return end == NULL ? line : end + 2;
}

void answer_error(struct visit *visit)
{
    struct text *html = &visit->answer.body;
    struct text said = {0};
    html_add(html, "<div role=\"alert\">");
    for (const char *line = error_message(&visit->error); *line != '\0';) {
        const size_t length = strcspn(line, "\n");
        const char *own = own_part(arena_copy_length(visit->arena, line, length));
        if (strstr(text_string(&said), own) == NULL) {
            html_add(html, "<p>%s</p>", own);
            text_printf(&said, "%s\n", own);
        }
        line += length + (line[length] == '\n');
    }
    html_add(html, "</div>\n");
    text_done(&said);
}

/* ---- place */

/* `kettle` or `lamp*2` by the name that people know. */
static const char *named_units(struct visit *visit, const char *id)
{
    const char *star = strchr(id, '*');
    const char *plain = star == NULL ? id : arena_copy_length(visit->arena, id, (size_t)(star - id));
    const size_t index = house_find(visit->house, KIND_APPLIANCE, plain);
    const char *name = index == NO_INDEX ? plain : visit->house->appliances[index].name;
    struct text text = {0};
    text_printf(&text, star == NULL ? "%s" : "%s (%s of them)", name, star == NULL ? "" : star + 1);
    const char *copy = arena_copy(visit->arena, text_string(&text));
    text_done(&text);
    return copy;
}

static const char *outlet_name(const struct visit *visit, const char *id)
{
    const size_t index = house_find(visit->house, KIND_OUTLET, id);
    return index == NO_INDEX || visit->house->outlets[index].name == NULL ? id : visit->house->outlets[index].name;
}

static const char **strings_of(struct visit *visit, const json_t *list, bool appliances)
{
    const char **items = arena_array(visit->arena, json_array_size(list), sizeof *items);
    for (size_t i = 0; i < json_array_size(list); i++) {
        const char *word = json_string_value(json_array_get(list, i));
        items[i] = appliances ? named_units(visit, word) : arena_copy(visit->arena, word);
    }
    return items;
}

static void add_not_at(struct visit *visit, const json_t *place)
{
    struct text *html = &visit->answer.body;
    const json_t *times = json_object_get(place, "not_at");
    const json_t *off = json_object_get(place, "off");
    const char **items = strings_of(visit, times, false);
    if (json_array_size(times) == 1 && strcmp(items[0], "00:00-24:00") == 0) {
        html_add(html, "Too much at any time of the day beside all that may be on. ");
    } else {
        answer_list(html, "Beside all that may be on then, too much at ", items, json_array_size(times));
    }
    answer_list(html, "Keep off while it runs: ", strings_of(visit, off, true), json_array_size(off));
}

static void add_finding(struct text *html, const json_t *finding)
{
    html_add(html,
             "<li class=\"f-%s\"><strong>%s</strong> %s <span class=\"number\">[%s]</span><span "
             "class=\"caution\">%s</span><small>Source: %s</small></li>",
             json_word(finding, "severity"), json_word(finding, "severity"), json_word(finding, "text"),
             json_word(finding, "id"), json_word(finding, "caution"), json_word(finding, "source"));
}

static size_t count_severity(const json_t *findings, const char *severity)
{
    size_t count = 0;
    for (size_t i = 0; i < json_array_size(findings); i++) {
        count += strcmp(json_word(json_array_get(findings, i), "severity"), severity) == 0;
    }
    return count;
}

/* What would be found on the branch with the load: behind a summary that counts it. */
static void add_findings_then(struct text *html, const json_t *findings)
{
    static const char *const severities[] = {"danger", "warning", "note"};
    if (json_array_size(findings) == 0) {
        return;
    }
    html_add(html, "<details class=\"rest\"><summary>Findings on this branch with it: ");
    const char *before = "";
    for (size_t i = 0; i < sizeof severities / sizeof severities[0]; i++) {
        const size_t count = count_severity(findings, severities[i]);
        if (count > 0) {
            html_add(html, "%s%zu %s%s", before, count, severities[i], count == 1 ? "" : "s");
            before = ", ";
        }
    }
    html_add(html, "</summary><ul class=\"findings\">");
    for (size_t i = 0; i < json_array_size(findings); i++) {
        add_finding(html, json_array_get(findings, i));
    }
    html_add(html, "</ul></details>");
}

static void add_figures(struct text *html, const json_t *place)
{
    const double headroom_a = json_double(place, "headroom_a");
    html_add(html, "With everything on %.1f A of %g A, ", json_double(place, "planning_a"),
             json_double(place, "breaker_a"));
    if (headroom_a < 0) {
        html_add(html, "%.1f A over the breaker", -headroom_a);
    } else {
        html_add(html, "headroom %.1f A", headroom_a);
    }
    if (isfinite(json_double(place, "drop_percent"))) {
        html_add(html, ", voltage drop %.1f %%", json_double(place, "drop_percent"));
    }
    html_add(html, ". ");
}

static void add_try_link(struct visit *visit, const json_t *place)
{
    struct text *html = &visit->answer.body;
    const char *outlet = json_word(place, "outlet");
    html_add(html, "<p><a href=\"/appliance?");
    load_query(visit);
    html_add(html, "&amp;at=%s%%3A%s\">Try it here<span class=\"hidden\"> on %s</span></a></p>",
             outlet[0] == '\0' ? "branch" : "outlet", outlet[0] == '\0' ? json_word(place, "branch") : outlet,
             json_word(place, "label"));
}

static void add_place(struct visit *visit, const json_t *place)
{
    struct text *html = &visit->answer.body;
    const char *outlet = json_word(place, "outlet");
    const bool tried = json_word(place, "status")[0] != '\0';
    html_add(html, "<li>");
    page_verdict_word(html, json_word(place, "status"));
    html_add(html, " <strong>%s</strong>%s%s ", json_word(place, "label"), outlet[0] == '\0' ? "" : ", outlet ",
             outlet[0] == '\0' ? "" : outlet_name(visit, outlet));
    if (strcmp(json_word(place, "class"), "room") == 0) {
        html_add(html, "has room for it, whatever else is on. ");
    } else if (strcmp(json_word(place, "class"), "only-if") == 0) {
        html_add(html, "takes it only if others stay off. With everything on: %s. ", json_word(place, "reason"));
    } else {
        html_add(html, "can't take it: %s. ", json_word(place, "reason"));
    }
    if (tried) {
        add_figures(html, place);
        add_not_at(visit, place);
        add_findings_then(html, json_object_get(place, "findings"));
        add_try_link(visit, place);
    }
    html_add(html, "</li>");
}

/* Those that can't take it, or the others: the first ones, and the rest behind a summary. */
static void add_group(struct visit *visit, const json_t *places, bool fitting, size_t count, size_t shown_most)
{
    struct text *html = &visit->answer.body;
    size_t at = 0;
    if (count == 0) {
        return;
    }
    html_add(html, shown_most > 0 ? "<ul class=\"places\">" : "");
    for (size_t i = 0; i < json_array_size(places); i++) {
        const json_t *place = json_array_get(places, i);
        if ((strcmp(json_word(place, "class"), "no") != 0) == fitting) {
            if (at == shown_most) {
                html_add(html, shown_most > 0 ? "</ul>" : "");
                html_add(html, "<details><summary>%zu%s%s</summary><ul class=\"places\">", count - at,
                         shown_most > 0 ? " more" : "",
                         fitting ? " that could take it" : " that can't take it, and why");
            }
            add_place(visit, place);
            at++;
        }
    }
    html_add(html, at > shown_most ? "</ul></details>\n" : "</ul>\n");
}

void answer_running_time(struct visit *visit, const struct freetext *load)
{
    const char *note =
        rules_running_time_note(visit->house->rules, "say yes at \"3 hours or more at a stretch\"", visit->arena);
    if (note != NULL && freetext_leaves_run_open(load)) {
        html_add(&visit->answer.body, "<p>%s.</p>", note);
    }
}

/* Places that have room, or have it with other loads off. */
static size_t count_takers(const json_t *places)
{
    size_t count = 0;
    for (size_t i = 0; i < json_array_size(places); i++) {
        count += strcmp(json_word(json_array_get(places, i), "class"), "no") != 0;
    }
    return count;
}

void answer_places(struct visit *visit, const json_t *json)
{
    struct text *html = &visit->answer.body;
    const json_t *places = json_object_get(json, "places");
    const size_t fits = count_takers(places);
    const size_t others = json_array_size(places) - fits;
    html_add(html, "<h2>Where it could go</h2>");
    if (json_word(json, "note")[0] != '\0') {
        html_add(html, "<p>%s.</p>", json_word(json, "note"));
    }
    struct freetext load = {0};
    struct error error = {0};
    if (freetext_read(visit->arena, load_spoken(visit), visit->house->rules, &load, &error)) {
        answer_running_time(visit, &load);
    }
    error_done(&error);
    if (fits == 0) {
        html_add(html, "<p>No branch here can take it. A new branch is a licensed electrician's work.</p>");
    }
    add_group(visit, places, true, fits, PLACES_SHOWN);
    add_group(visit, places, false, others, fits == 0 ? REFUSED_SHOWN : 0);
}
