/* A new appliance: what it is and where; then where it could go, what it would do there, and keep or discard. */
#include <string.h>

#include "ampsum/answer_choice.h"
#include "ampsum/asked.h"
#include "ampsum/html.h"
#include "ampsum/show_place.h"
#include "ampsum/show_try.h"
#include "appliance.h"
#include "ask.h"
#include "input.h"
#include "load.h"

static bool ask_place(struct visit *visit, struct place_answer *ret_answer)
{
    const char *room = load_value(visit, "room");
    struct place_question question = {load_spoken(visit), NO_INDEX};
    *ret_answer = (struct place_answer){0};
    if (room[0] != '\0') {
        question.room = choice_find(visit->house, KIND_ROOM, room, &visit->error);
    }
    return (room[0] == '\0' || question.room != NO_INDEX) &&
           answer_place(visit->house, &question, ret_answer, &visit->error);
}

static bool ask_try(struct visit *visit, struct try_answer *ret_answer)
{
    struct try_change change = {.kind = TRY_ADD, .value = load_spoken(visit), .room = load_room(visit)};
    const struct try_question question = {.changes = &change, .change_count = 1};
    *ret_answer = (struct try_answer){0};
    return load_place(visit, &change.branch, &change.outlet) &&
           answer_try(visit->house, &question, ret_answer, &visit->error);
}

/* The form: open while there is no answer to look at. */
static void add_form(struct visit *visit, bool answered)
{
    if (!answered) {
        load_form(visit);
        return;
    }
    page_add(visit, "<details><summary>%s: change what was asked</summary>", load_shown(visit));
    load_form(visit);
    page_add(visit, "</details>\n");
}

static void add_keep(struct visit *visit)
{
    if (visit->site->read_only) {
        page_add(visit, "<p>This house is served for reading, so nothing can be kept.</p>");
        return;
    }
    page_post(visit, "/appliance/keep", NULL);
    struct form places = load_pairs(visit, 0);
    struct form kept = load_pairs(visit, 0);
    form_add(&kept, "at", load_value(visit, "at"));
    page_hidden_pairs(visit, &kept);
    page_add(visit,
             "<p class=\"choices\"><button>Keep it</button> <a href=\"%s\">Look at the other places</a> <a "
             "href=\"/appliance\">Discard</a></p></form>\n",
             page_address(visit, "/appliance", &places));
}

static void begin(struct visit *visit, bool asked, bool answered)
{
    page_begin(visit, "New appliance");
    if (asked && !answered) {
        appliance_error(visit);
    }
    add_form(visit, answered);
}

static void show_trial(struct visit *visit)
{
    struct try_answer answer;
    const bool answered = ask_try(visit, &answer);
    begin(visit, true, answered);
    if (answered) {
        appliance_trial(visit, &answer);
        add_keep(visit);
    }
    try_answer_done(&answer);
}

/* Where the room asked about has nothing, the whole house is asked. */
static void add_sentence(struct visit *visit, const struct place_answer *answer)
{
    const struct place_question question = {load_spoken(visit), NO_INDEX};
    struct place_answer everywhere;
    const bool asked = answer_place_elsewhere(visit->house, &question, answer, &everywhere);
    ask_sentence(visit, answer, asked ? &everywhere : NULL);
    place_answer_done(&everywhere);
}

/* Asked by the three fields of the house's own page, the figures are folded behind the sentence. */
static void show_places(struct visit *visit)
{
    struct place_answer answer;
    const bool answered = ask_place(visit, &answer);
    const bool folded = answered && load_value(visit, "ask")[0] != '\0';
    begin(visit, true, answered);
    if (answered) {
        add_sentence(visit, &answer);
    }
    page_add(visit, folded ? "<details><summary>Why, and the figures of each branch</summary>" : "");
    load_typical(visit);
    if (answered) {
        appliance_places(visit, &answer);
    }
    page_add(visit, folded ? "</details>\n" : "");
    place_answer_done(&answer);
}

/* `space heater in the bedroom tonight` typed into the first of the box's fields: on to the same with all three. */
static bool is_sent_apart(struct visit *visit)
{
    const char *room = load_value(visit, "room");
    const char *use = load_value(visit, "use");
    struct asked asked;
    struct error unread = {0};
    const bool read = load_value(visit, "ask")[0] != '\0' &&
                      asked_read(visit->house, load_value(visit, "what"), visit->arena, &asked, &unread);
    error_done(&unread);
    if (!read || (asked.room == NO_INDEX && asked.use == NULL)) {
        return false;
    }
    struct form pairs = {0};
    form_add(&pairs, "ask", "1");
    form_add(&pairs, "what", asked.what);
    form_add(&pairs, "room",
             room[0] != '\0' || asked.room == NO_INDEX ? room : house_row_id(visit->house, KIND_ROOM, asked.room));
    form_add(&pairs, "use", use[0] != '\0' || asked.use == NULL ? use : asked.use);
    visit_go_to(visit, page_address(visit, "/appliance", &pairs));
    return true;
}

void view_appliance(struct visit *visit)
{
    if (is_sent_apart(visit)) {
        return;
    }
    if (load_value(visit, "at")[0] != '\0') {
        show_trial(visit);
    } else if (load_value(visit, "what")[0] != '\0') {
        show_places(visit);
    } else {
        begin(visit, false, false);
        page_add(visit, "<p>Nothing is stored until you say so at the end.</p>\n");
    }
    page_end(visit);
}

static bool add_load(struct visit *visit, struct document *document, struct text *ret_what)
{
    struct freetext load;
    const char *branch = NULL;
    const char *outlet = NULL;
    const char *id = NULL;
    const char *spoken = load_spoken(visit);
    if (!load_place(visit, &branch, &outlet) ||
        !freetext_read(visit->arena, spoken, visit->house->rules, &load, &visit->error)) {
        return false;
    }
    text_printf(ret_what, "new appliance %s on %s", spoken, outlet != NULL ? outlet : branch);
    return freetext_add(document, &load, branch, outlet, load_room(visit), &id, &visit->error);
}

void keep_appliance(struct visit *visit)
{
    visit_store(visit, add_load, "/changes");
}

/* The answers of `place` and `try` with --format json. */
void api_place(struct visit *visit)
{
    struct place_answer answer;
    visit_json_if(visit, ask_place(visit, &answer) ? show_place_json(&answer) : NULL);
    place_answer_done(&answer);
}

void api_try(struct visit *visit)
{
    struct try_answer answer;
    visit_json_if(visit, ask_try(visit, &answer) ? show_try_json(&answer, false) : NULL);
    try_answer_done(&answer);
}
