/* May the service carry one more load: a form, the answer in one sentence, the figures folded behind it. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "ampsum/answer_open.h"
#include "ampsum/reference.h"
#include "ampsum/show_demand.h"
#include "ampsum/typed.h"
#include "input.h"

enum { ADDED_LEAST = 2 };

/* What a meter recorded, as it is stored with the house. */
struct stored_readings {
    struct meter_reading *readings;
    size_t count;
};

/* ---- the form */

enum { ADD, REMOVE, MEASURED, SETPOINT, KWH, INPUTS };

static const struct input inputs[INPUTS] = {
    [ADD] = {"add", "New load", "Car charger, 32 A, 240 V"},
    [REMOVE] = {"remove", "In place of", .rows = KIND_APPLIANCE, .none = "nothing"},
    [MEASURED] = {"measured", "The meter's maximum of a year", "11.2 kW"},
    [SETPOINT] = {"setpoint", "A control system keeps the service at, A", "80", .kind = KIND_HOUSE,
                  .key = "main_breaker"},
    [KWH] = {"kwh", "For the car a day, kWh", "20"},
};

/* One of the fields that are folded. */
static bool says_more(const struct visit *visit)
{
    bool says = false;
    for (size_t i = MEASURED; i < INPUTS; i++) {
        says = says || form_given(&visit->query, inputs[i].name) != NULL;
    }
    return says;
}

static void add_form(struct visit *visit)
{
    page_add(visit, "<form action=\"/demand\" class=\"fields\">");
    page_more_inputs(visit, &inputs[ADD], "Hot tub, 6 kW, 240 V", ADDED_LEAST);
    page_inputs(visit, &inputs[REMOVE], 1);
    page_fold(visit, says_more(visit), "Measured, and giving way");
    page_add(visit, "<div class=\"fields\">");
    page_inputs(visit, &inputs[MEASURED], 1);
    if (house_is_database(visit->site->path)) {
        page_add(visit,
                 "<div class=\"switches\"><label><input type=\"checkbox\" name=\"meter\" value=\"yes\"%s> by the "
                 "readings that are stored here</label></div>",
                 form_has(&visit->query, "meter") ? " checked" : "");
    }
    page_inputs(visit, &inputs[SETPOINT], INPUTS - SETPOINT);
    page_add(visit, "</div></details><p><button>May the service carry it?</button></p></form>\n");
}

/* ---- the question */

static bool read_removed(struct visit *visit, struct demand_question *question)
{
    const char *id = form_value(&visit->query, "remove");
    size_t *removed = arena_array(visit->arena, 1, sizeof *removed);
    if (id[0] == '\0') {
        return true;
    }
    *removed = visit_find(visit, KIND_APPLIANCE, id);
    question->removed = removed;
    question->removed_count = 1;
    return *removed != NO_INDEX;
}

static bool read_measured(struct visit *visit, struct demand_question *question, struct stored_readings *ret_stored)
{
    const char *figure = typed_rating(visit->arena, form_value(&visit->query, "measured"));
    if (figure[0] != '\0' && !demand_read_measured(visit->house, 0, figure, &question->measured_va)) {
        error_refuse(&visit->error, "measured", "measured", figure,
                     "expected a figure above zero in W, kW, VA, kVA or A, such as 11.2 kW");
        return false;
    }
    if (figure[0] != '\0' || !form_has(&visit->query, "meter") || !house_is_database(visit->site->path)) {
        return true;
    }
    const bool good = house_readings(visit->site->path, &ret_stored->readings, &ret_stored->count, &visit->error);
    if (good && ret_stored->count == 0) {
        error_set(&visit->error, ERROR_INPUT, "No readings of a meter are stored with this house.");
        return false;
    }
    question->readings = ret_stored->readings;
    question->reading_count = ret_stored->count;
    return good;
}

/* ---- the answer */

static void add_sentences(struct visit *visit, const char *const *sentence)
{
    for (size_t i = 0; sentence[i] != NULL; i++) {
        page_add(visit, "<p>%s</p>", sentence[i]);
    }
}

static void add_folded(struct visit *visit, const char *summary, const char *const *sentence)
{
    if (sentence[0] != NULL) {
        page_fold(visit, false, "%s", summary);
        add_sentences(visit, sentence);
        page_add(visit, "</details>\n");
    }
}

static void add_methods(struct visit *visit, const struct demand_answer *answer)
{
    struct text rating = {0};
    show_demand_rating(answer, &rating);
    page_fold(visit, false, "All methods side by side");
    page_add(visit, "<p>%s.</p>", arena_text(visit->arena, &rating));
    show_html_table(&show_demand_method_rows, "What each comes to on this service", answer,
                    answer->service->method_count, &visit->answer.body);
    add_sentences(visit, show_demand_methods(answer, visit->arena));
    add_sentences(visit, show_demand_method_sources(answer, visit->arena));
    page_add(visit, "</details>\n");
}

static void add_lines(struct visit *visit, const struct demand_answer *answer)
{
    if (answer->demand == NULL) {
        return;
    }
    const struct demand_list *list = &answer->demand->lines;
    struct show_sources sources = {.source = arena_array(visit->arena, list->count + 1, sizeof *sources.source)};
    const struct show_demand_lines lines = {.list = list, .sources = &sources};
    page_fold(visit, false, "Line by line");
    show_html_table(&show_demand_line_rows, answer->chosen->name, &lines, list->count, &visit->answer.body);
    page_add(visit, "<ol>");
    for (size_t i = 0; i < sources.count; i++) {
        page_add(visit, "<li>%s</li>", sources.source[i]);
    }
    page_add(visit, "</ol></details>\n");
}

/* The field of the question; NULL: it is none. */
static const struct input *input_named(const char *name)
{
    for (size_t i = 0; i < INPUTS; i++) {
        if (strcmp(inputs[i].name, name) == 0) {
            return &inputs[i];
        }
    }
    return NULL;
}

/* The same question for the page on paper. */
static void add_paper(struct visit *visit)
{
    page_add(visit, "<form action=\"/demand/service.pdf\"><p>");
    for (size_t i = 0; i < visit->query.count; i++) {
        const struct field *field = &visit->query.field[i];
        if (input_named(field->name) != NULL || strcmp(field->name, "meter") == 0) {
            page_hidden(visit, field->name, field->value);
        }
    }
    page_add(visit, "<button>A sheet for the electrician's folder (PDF)</button></p></form>\n");
}

/* The figures behind the sentence. */
static void add_answer(struct visit *visit, const struct demand_answer *answer)
{
    add_methods(visit, answer);
    add_lines(visit, answer);
    add_folded(visit, "If it gives way", show_demand_control(answer, visit->arena));
    page_fold(visit, false, "What was found");
    page_findings(visit, &answer->service->findings);
    page_add(visit, "</details>\n");
    add_folded(visit, "To bring to the electrician", show_demand_bring(answer, visit->arena));
    add_folded(visit, "What this rests on", show_demand_notes(answer, visit->arena));
    add_paper(visit);
}

/* The sentence first, then the form. `answer` NULL: there is none, and the error says why. */
static void add_page(struct visit *visit, const struct demand_answer *answer)
{
    page_begin(visit, "May the service carry one more load?");
    page_refusal(visit, inputs, INPUTS);
    if (answer != NULL) {
        struct text sentence = {0};
        show_demand_sentence(answer, &sentence);
        page_add(visit, "<p class=\"answer\"><strong>%s</strong></p>\n", arena_text(visit->arena, &sentence));
    }
    add_form(visit);
    if (answer != NULL) {
        add_answer(visit, answer);
    }
    page_end(visit);
}

/* What the form asks, answered; false with the error set. The stored readings are the caller's to free. */
static bool ask(struct visit *visit, struct demand_question *question, struct stored_readings *ret_stored,
                struct demand_answer *ret_answer)
{
    question->added = form_all(&visit->query, "add", visit->arena, &question->added_count);
    question->setpoint = input_given(visit, &inputs[SETPOINT]);
    question->kwh = form_given(&visit->query, "kwh");
    return read_measured(visit, question, ret_stored) &&
           answer_demand(visit->house, question, ret_answer, &visit->error);
}

void view_demand(struct visit *visit)
{
    struct demand_question question = DEMAND_QUESTION;
    struct stored_readings stored = {0};
    struct demand_answer answer = {0};
    if (!read_removed(visit, &question)) {
        return;
    }
    const bool good = ask(visit, &question, &stored, &answer);
    if (visit_is_api(visit)) {
        visit_json_if(visit, good ? show_demand_json(&answer, false) : NULL);
    } else {
        add_page(visit, good ? &answer : NULL);
    }
    demand_answer_done(&answer);
    free(stored.readings);
}

/* ---- the page on paper */

static const char *word_of(struct visit *visit, const char *option, const char *value)
{
    return arena_printf(visit->arena, "--%s=%s", option, value);
}

/* The words of the command, NULL-ended; a measured figure that is none is left to it to refuse, never opened as a file.
 */
static const char **paper_words(struct visit *visit)
{
    enum { OWN = 4 };
    const char **words = arena_array(visit->arena, visit->query.count + OWN, sizeof *words);
    const char *measured = form_value(&visit->query, "measured");
    size_t count = 0;
    double va = NAN;
    words[count++] = "demand";
    words[count++] = visit->site->path;
    for (size_t i = 0; i < visit->query.count; i++) {
        const struct field *field = &visit->query.field[i];
        const struct input *input = input_named(field->name);
        if (input != NULL && input != &inputs[MEASURED] && field->value[strspn(field->value, " ")] != '\0') {
            words[count++] = word_of(visit, field->name, field->value);
        }
    }
    if (demand_read_measured(visit->house, 0, measured, &va)) {
        words[count++] = word_of(visit, "measured", measured);
    } else if (form_has(&visit->query, "meter") && house_is_database(visit->site->path)) {
        words[count++] = "--measured=meter";
    }
    return words;
}

void download_service(struct visit *visit)
{
    static const char name[] = "service.pdf";
    if (strcmp(visit->rest, name) != 0) {
        visit_refuse(visit, 404, "Not here", "There is no such file.");
        return;
    }
    visit->answer.type = "application/pdf";
    visit->answer.download = name;
    if (!visit_written(visit, paper_words(visit), name)) {
        visit_refuse(visit, 422, "This page can't be made", error_message(&visit->error));
    }
}
