/* A new appliance: what it is and where; then where it could go, what it would do there, and keep or discard. */
#include <string.h>

#include "ampsum/freetext.h"
#include "answer.h"
#include "load.h"

static json_t *ask_place(struct visit *visit)
{
    const char *load = load_spoken(visit);
    struct text room = {0};
    text_printf(&room, "--room=%s", load_value(visit, "room"));
    const bool everywhere = load_value(visit, "room")[0] == '\0';
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

static json_t *ask_try(struct visit *visit)
{
    const char *place = load_place_option(visit);
    if (place == NULL) {
        return NULL;
    }
    struct text add = {0};
    struct text room = {0};
    text_printf(&add, "--add=%s", load_spoken(visit));
    text_printf(&room, "--room=%s", load_room(visit) == NULL ? "" : load_room(visit));
    const char *words[] = {"try",
                           visit->site->path,
                           "--format=json",
                           text_string(&add),
                           place,
                           load_room(visit) == NULL ? NULL : text_string(&room),
                           NULL};
    json_t *json = visit_run_json(visit, words);
    text_done(&add);
    text_done(&room);
    return json;
}

/* The form: open while there is no answer to look at. */
static void add_form(struct visit *visit, bool answered)
{
    struct text *html = &visit->answer.body;
    if (!answered) {
        load_form(visit);
        return;
    }
    html_add(html, "<details><summary>%s: change what was asked</summary>", load_shown(visit));
    load_form(visit);
    html_add(html, "</details>\n");
}

static void add_keep(struct visit *visit)
{
    struct text *html = &visit->answer.body;
    if (visit->site->read_only) {
        html_add(html, "<p>This house is served for reading, so nothing can be kept.</p>");
        return;
    }
    html_add(html, "<form method=\"post\" action=\"/appliance/keep\">");
    page_form_secrets(visit);
    load_hidden(visit);
    html_add(html, "<p class=\"choices\"><button>Keep it</button> <a href=\"/appliance?");
    load_query(visit);
    html_add(html, "\">Look at the other places</a> <a href=\"/appliance\">Discard</a></p></form>\n");
}

void view_appliance(struct visit *visit)
{
    const bool tries = load_value(visit, "at")[0] != '\0';
    const bool asks = tries || load_value(visit, "what")[0] != '\0';
    json_t *json = tries ? ask_try(visit) : asks ? ask_place(visit) : NULL;
    page_begin(visit, "New appliance");
    if (asks && json == NULL) {
        answer_error(visit);
    }
    add_form(visit, json != NULL);
    if (!asks) {
        html_add(&visit->answer.body, "<p>Nothing is stored until you say so at the end.</p>\n");
    } else if (!tries) {
        load_typical(visit);
    }
    if (json != NULL && tries) {
        answer_trial(visit, json);
        add_keep(visit);
    } else if (json != NULL) {
        answer_places(visit, json);
    }
    page_end(visit);
    json_decref(json);
}

static bool add_load(struct visit *visit, struct document *document, struct text *ret_what)
{
    struct freetext load;
    const char *place = load_place_option(visit);
    const char *id = NULL;
    const char *spoken = load_spoken(visit);
    if (place == NULL || !freetext_read(visit->arena, spoken, visit->house->rules, &load, &visit->error)) {
        return false;
    }
    const char *where = strchr(place, '=') + 1;
    const bool outlet = strncmp(place, "--outlet=", 9) == 0;
    text_printf(ret_what, "new appliance %s on %s", spoken, where);
    return freetext_add(document, &load, outlet ? NULL : where, outlet ? where : NULL, load_room(visit), &id,
                        &visit->error);
}

void keep_appliance(struct visit *visit)
{
    visit_store(visit, add_load, "/changes");
}

static void answer_json(struct visit *visit, json_t *json)
{
    if (json == NULL) {
        visit_refuse(visit, 422, "No answer", error_message(&visit->error));
    } else {
        visit_json(visit, json);
    }
}

/* The answers of `place` and `try` with --format json. */
void api_place(struct visit *visit)
{
    answer_json(visit, ask_place(visit));
}

void api_try(struct visit *visit)
{
    answer_json(visit, ask_try(visit));
}
