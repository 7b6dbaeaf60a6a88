#include "site.h"

#include <errno.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

#include "ampsum/answer_choice.h"
#include "ampsum/answer_open.h"
#include "ampsum/language.h"
#include "ampsum/reference.h"
#include "ampsum/show.h"
#include "ampsum/store.h"
#include "ampsum/words.h"
#include "speak.h"

/* The route of a path; `ret_rest` is the ID behind it. NULL where there is none with that method; *ret_known tells
 * whether the path is there with another one. */
static const struct route *find_route(const struct visit *visit, const char **ret_rest, bool *ret_known)
{
    *ret_known = false;
    for (const struct route *route = site_routes; route->path != NULL; route++) {
        size_t length = strlen(route->path);
        bool takes_id = length > 1 && route->path[length - 1] == '/';
        bool fits = takes_id ? strncmp(visit->path, route->path, length) == 0 && visit->path[length] != '\0'
                             : strcmp(visit->path, route->path) == 0;
        if (fits && ((route->asks & ROUTE_POST) != 0) == visit->post) {
            *ret_rest = visit->path + (takes_id ? length : strlen(visit->path));
            return route;
        }
        *ret_known = *ret_known || fits;
    }
    return NULL;
}

static void refuse_path(struct visit *visit, bool known)
{
    visit_house_if_any(visit);
    visit_refuse(visit, known ? 405 : 404, "Not here",
                 known ? "This address takes what a form sends. Go back to the form and press its button."
                       : "There is no such page.");
}

/* What the route asks for is there; false with the reply made. */
static bool prepare(struct visit *visit, const struct route *route)
{
    const bool reads = (route->asks & ROUTE_READS) != 0;
    if ((route->asks & ROUTE_CHANGES) != 0 && visit->site->read_only) {
        visit_refuse(visit, 403, "Read only",
                     "This house is served for reading. A house database, served without --read-only, can be changed.");
        return false;
    }
    if (reads && site_is_new(visit->site)) {
        visit_go_to(visit, visit->site->unasked ? "/start" : "/build");
        return false;
    }
    if (reads && !visit_read_house(visit)) {
        visit_refuse(visit, 503, "The house can't be read now", error_message(&visit->error));
        return false;
    }
    if ((route->asks & ROUTE_LOOKS) != 0) {
        visit_house_if_any(visit);
    }
    return true;
}

static void answer(struct visit *visit, const struct route *route)
{
    visit->row = route->kind == KIND_HOUSE ? NO_INDEX : visit_find(visit, route->kind, visit->rest);
    if (route->kind != KIND_HOUSE && visit->row == NO_INDEX) {
        return;
    }
    if ((route->asks & ROUTE_SPEAKS) != 0) {
        page_language(visit, &visit->query);
    }
    const size_t asked = visit->query.count;
    route->answer(visit);
    visit->query.count = asked; /* views add to it */
}

void site_answer(struct visit *visit)
{
    bool known = false;
    visit->answer.status = 200;
    visit->answer.type = "text/html; charset=utf-8";
    const struct route *route = find_route(visit, &visit->rest, &known);
    if (route == NULL) {
        refuse_path(visit, known);
        return;
    }
    if (!prepare(visit, route)) {
        return;
    }
    /* The same question about the same house has the same answer. */
    const bool keeps = visit->lent && !visit->post && (route->asks & ROUTE_READS) != 0;
    if (keeps && kept_find(&visit->site->answers, visit)) {
        return;
    }
    answer(visit, route);
    if (keeps && visit->answer.status == 200 && visit->answer.download == NULL) {
        kept_add(&visit->site->answers, visit);
    }
}

bool site_takes_long(struct visit *visit)
{
    bool known = false;
    const char *rest = NULL;
    const struct route *route = find_route(visit, &rest, &known);
    const bool apart = route != NULL && (route->asks & ROUTE_APART) != 0 && (route->asks & ROUTE_CHANGES) == 0;
    if (apart && (route->asks & ROUTE_READS) != 0 && !site_is_new(visit->site)) {
        visit_read_house(visit); /* where that fails the answer says why */
    }
    return apart;
}

bool site_is_new(const struct site *site)
{
    struct stat status;
    return !site->read_only && words_end_with(site->path, ".db") && stat(site->path, &status) != 0 && errno == ENOENT;
}

void visit_house_if_any(struct visit *visit)
{
    if (!site_is_new(visit->site)) {
        visit_read_house(visit);
    }
}

static int minor_units(const struct visit *visit)
{
    const struct ref_currency *currency = reference_currency(visit->house->currency);
    return currency == NULL ? 2 : currency->minor_units;
}

static struct usual *usual_of(struct visit *visit)
{
    return visit->lent ? &visit->site->usual : &visit->usual;
}

static void usual_done(struct usual *usual)
{
    check_answer_done(&usual->check);
    usual->known = false;
}

const struct check_answer *visit_check(struct visit *visit)
{
    struct usual *usual = usual_of(visit);
    if (!usual->known) {
        const struct check_question question = {.choice = {.wires = true}, .bill_rows = ENERGY_ALL};
        answer_check(visit->house, &question, &usual->check);
        usual->known = true;
    }
    return &usual->check;
}

const struct energy_bill *visit_bill(struct visit *visit)
{
    return visit_check(visit)->bill;
}

void site_done(struct site *site)
{
    usual_done(&site->usual);
    house_free(site->kept);
    free(site->kept_seen);
    site->kept = NULL;
    site->kept_seen = NULL;
    site->stamp = (struct stamp){0};
    kept_clear(&site->answers);
}

void visit_done(struct visit *visit)
{
    form_done(&visit->query);
    form_done(&visit->body);
    text_done(&visit->answer.body);
    error_done(&visit->error);
    usual_done(&visit->usual);
    if (!visit->lent) {
        house_free(visit->house);
    }
    arena_free(visit->arena);
}

static bool read_file(struct visit *visit)
{
    const char *path = visit->site->path;
    visit->seen = "";
    if (!house_is_database(path)) {
        return housefile_read(path, &visit->house, &visit->error);
    }
    struct store *store = NULL;
    if (!store_open(path, STORE_READ, &store, &visit->error)) {
        return false;
    }
    /* The state first: a change in between makes it older than the house, and a form of it is then asked again. */
    bool read = (visit->site->read_only || store_seen(store, visit->arena, &visit->seen, &visit->error)) &&
                store_read_house(store, &visit->house, &visit->error);
    store_close(store);
    return read;
}

bool visit_read_house(struct visit *visit)
{
    struct site *site = visit->site;
    const struct stamp stamp = stamp_take(site->path);
    if (site->kept == NULL || !stamp_same(&stamp, &site->stamp)) {
        site_done(site);
        if (!read_file(visit)) {
            return false;
        }
        if (!stamp.holds) {
            return true;
        }
        site->kept = visit->house;
        site->kept_seen = memory_new(strlen(visit->seen) + 1);
        memcpy(site->kept_seen, visit->seen, strlen(visit->seen) + 1);
        site->stamp = stamp;
    }
    visit->house = site->kept;
    visit->seen = arena_copy(visit->arena, site->kept_seen);
    visit->lent = true;
    return true;
}

bool visit_is_api(const struct visit *visit)
{
    return strncmp(visit->path, "/api/", 5) == 0;
}

/* What can't be answered now may be in a moment: the same once more, or back to the form as it was filled in. */
static void add_again(struct visit *visit)
{
    page_add(visit, visit->post ? "<p>Nothing was changed. Go back: what you typed is still there to be sent again.</p>"
                                : "<p><a href=\"\">Try again</a></p>");
}

/* A paragraph for each line, and the way back. */
static void add_refusal(struct visit *visit, const char *message)
{
    for (const char *line = NULL; (line = arena_line(visit->arena, &message)) != NULL;) {
        page_add(visit, "<p>%s</p>", line);
    }
    if (visit->answer.status == 503) {
        add_again(visit);
    }
    page_add(visit, "<p><a href=\"/\">%s</a></p>", say_plain(visit->language, "page.to-house"));
}

void visit_refuse(struct visit *visit, unsigned status, const char *title, const char *message)
{
    visit->language = LANGUAGE_ENGLISH;
    visit_refuse_said(visit, status, title, message);
}

void visit_refuse_said(struct visit *visit, unsigned status, const char *title, const char *message)
{
    text_clear(&visit->answer.body);
    visit->answer.status = status;
    if (visit_is_api(visit)) {
        json_t *json = json_object();
        json_object_set_new(json, "ampsum", json_integer(1));
        json_object_set_new(json, "error", json_text(message));
        visit_json(visit, json);
        return;
    }
    visit->answer.type = "text/html; charset=utf-8";
    if (visit->house != NULL) {
        page_begin(visit, title);
        add_refusal(visit, message);
        page_end(visit);
        return;
    }
    /* No token and no house here: this page may go to someone who was not let in. */
    page_add(visit,
             "<!doctype html>\n<html lang=\"en\"><head><meta charset=\"utf-8\"><meta name=\"viewport\" "
             "content=\"width=device-width\"><title>%s - ampsum</title><link rel=\"stylesheet\" href=\"/style.css\">"
             "<link rel=\"icon\" href=\"/icon.svg\" type=\"image/svg+xml\"></head><body><main id=\"main\"><h1>%s</h1>",
             title, title);
    add_refusal(visit, message);
    page_add(visit, "</main></body></html>\n");
}

void visit_go_to(struct visit *visit, const char *path)
{
    text_clear(&visit->answer.body);
    visit->answer.status = 303;
    visit->answer.location = arena_copy(visit->arena, path);
    page_add(visit, "<!doctype html><title>ampsum</title><p><a href=\"%s\">Go on</a></p>\n", path);
}

/* Of what there is, by name, where its ID stands in the address. */
static void add_others(struct visit *visit, enum kind kind)
{
    size_t count = 0;
    const size_t length = strlen(visit->path) - strlen(visit->rest);
    const char *path = arena_printf(visit->arena, "%.*s", (int)length, visit->path);
    house_rows(visit->house, kind, &count);
    page_add(visit, "<p>There %s:</p><ul class=\"plain\">", count == 1 ? "is" : "are");
    for (size_t i = 0; i < count; i++) {
        page_add(visit, "<li><a href=\"%s%s\">%s</a></li>", path, house_row_id(visit->house, kind, i),
                 house_row_name(visit->house, kind, i));
    }
    page_add(visit, "</ul>\n");
}

static void refuse_unknown(struct visit *visit, enum kind kind, const char *id, const char *message)
{
    if (visit_is_api(visit)) {
        visit_refuse(visit, 404, "Not in this house", message);
        return;
    }
    text_clear(&visit->answer.body);
    visit->answer.status = 404;
    visit->answer.type = "text/html; charset=utf-8";
    page_begin(visit, "Not in this house");
    page_add(visit, "<p>No %s here is known as “%s”. It may have been renamed or removed.</p>\n", kind_word(kind), id);
    if (visit->rest != NULL && strcmp(visit->rest, id) == 0) {
        add_others(visit, kind);
    }
    page_add(visit, "<p><a href=\"/\">To the house</a></p>");
    page_end(visit);
}

size_t visit_find(struct visit *visit, enum kind kind, const char *id)
{
    struct error error = {0};
    const size_t index = choice_find(visit->house, kind, id, &error);
    if (index == NO_INDEX) {
        refuse_unknown(visit, kind, id, error_message(&error));
    }
    error_done(&error);
    return index;
}

const char *visit_name(const struct visit *visit, enum kind kind, const char *id)
{
    const size_t index = visit->house == NULL ? NO_INDEX : house_find(visit->house, kind, id);
    return index == NO_INDEX ? id : house_row_name(visit->house, kind, index);
}

/* `n-lamp=2`: a number for each appliance that there are several of. */
static bool read_number(struct visit *visit, const struct field *field, unsigned *units, struct error *error)
{
    struct text entry = {0};
    const size_t appliance = house_find(visit->house, KIND_APPLIANCE, field->name + 2);
    const bool wanted = appliance != NO_INDEX && field->value[strspn(field->value, "0 ")] != '\0';
    if (appliance != NO_INDEX) {
        units[appliance] = 0;
        text_printf(&entry, "%s*%s", field->name + 2, field->value);
    }
    const bool good = !wanted || choice_read_on(visit->house, "On now:", text_string(&entry), units, error);
    text_done(&entry);
    return good;
}

static bool read_units(struct visit *visit, const struct form *form, unsigned *units, struct error *error)
{
    for (size_t i = 0; i < form->count; i++) {
        const struct field *field = &form->field[i];
        const bool listed = strcmp(field->name, "on") == 0;
        const bool counted = strncmp(field->name, "n-", 2) == 0;
        if ((listed && !choice_read_on(visit->house, "On now:", field->value, units, error)) ||
            (counted && !read_number(visit, field, units, error))) {
            return false;
        }
    }
    return true;
}

bool visit_choice(struct visit *visit, const struct form *form, struct assess_options *options)
{
    const struct house *house = visit->house;
    const char *scene = form_value(form, "scene");
    struct error error = {0};
    bool good = true;
    if (scene[0] != '\0') {
        good = choice_read_scene(house, scene, visit->arena, options, &error);
    } else {
        unsigned *units = arena_array(visit->arena, house->appliance_count, sizeof *units);
        options->on = units;
        options->basis = BASIS_SET;
        if (form_has(form, "all")) {
            for (size_t i = 0; i < house->appliance_count; i++) {
                units[i] = house->appliances[i].count;
            }
        } else {
            good = read_units(visit, form, units, &error);
        }
    }
    if (!good) {
        visit_refuse(visit, 404, "Not in this house", error_message(&error));
    }
    error_done(&error);
    return good;
}

const char *visit_hour_cost(struct visit *visit, const struct energy_bill *bill, double power_w)
{
    return energy_hour_cost(visit->house, bill, minor_units(visit), power_w, visit->arena);
}

void visit_json_if(struct visit *visit, json_t *json)
{
    if (json == NULL) {
        visit_refuse(visit, 422, "No answer", error_message(&visit->error));
    } else {
        visit_json(visit, json);
    }
}

void visit_json(struct visit *visit, json_t *json)
{
    visit->answer.type = "application/json";
    text_clear(&visit->answer.body);
    json_write(json, &visit->answer.body);
}
