/*
 * For the electrician's folder: may this service carry one more load. First the answer and what to bring, then every
 * line of every method with its source.
 */
#include <math.h>
#include <string.h>

#include "ampsum/arena.h"
#include "ampsum/plain_words.h"
#include "ampsum/print.h"
#include "ampsum/show.h"
#include "ampsum/show_demand.h"

static void paragraph(struct print_document *document, enum print_style style, struct text *text)
{
    plain_paper(text);
    print_styled(document, style, 0, text_string(text));
    text_done(text);
}

/* One below the other, under a heading. */
static void items(struct print_document *document, const char *heading, const char *const *sentence)
{
    if (sentence[0] != NULL && heading != NULL) {
        print_heading(document, 3, heading);
    }
    for (size_t i = 0; sentence[i] != NULL; i++) {
        struct text text = {0};
        text_add(&text, sentence[i]);
        plain_paper(&text);
        print_item(document, NULL, text_string(&text));
        text_done(&text);
    }
}

static void add_answer(struct print_document *document, const struct demand_answer *answer)
{
    struct text sentence = {0};
    struct text rating = {0};
    show_demand_sentence(answer, &sentence);
    show_demand_rating(answer, &rating);
    text_printf(&rating, ". From %s, %s.", document->file, document->date);
    paragraph(document, PRINT_STRONG, &sentence);
    paragraph(document, PRINT_BODY, &rating);
    print_rows(document, "All methods side by side", &show_demand_method_rows, answer, answer->service->method_count);
    items(document, NULL, show_demand_methods(answer, document->arena));
}

static void add_findings(struct print_document *document, const struct finding_list *list)
{
    if (list->count > 0) {
        print_heading(document, 3, "What was found");
    }
    for (size_t i = 0; i < list->count; i++) {
        const struct finding *finding = &list->finding[i];
        struct text text = {0};
        text_printf(&text, "%s: %s (%s)", show_severity(finding->severity), finding->text, finding->source);
        plain_paper(&text);
        print_item(document, NULL, text_string(&text));
        text_done(&text);
    }
}

/* ------------------------------------------------------------------ the lines ----------------------------- */

/* `27675 VA over 2 x 120 V is 115.3 A`. */
static void add_sum(struct print_document *document, const struct demand_answer *answer,
                    const struct service_method *method)
{
    struct text text = {0};
    text_rounded(&text, "Sum: ", method->total_va, 1, "");
    text_printf(&text, " VA over %s is ", method->demand->divisor);
    show_demand_current(answer, method->current_a, 1, &text);
    text_add(&text, " A.");
    paragraph(document, PRINT_BODY, &text);
}

static void add_method(struct print_document *document, const struct demand_answer *answer,
                       const struct service_method *method, struct show_sources *sources)
{
    const struct show_demand_lines lines = {.list = &method->demand->lines, .sources = sources};
    struct text caption = {0};
    text_printf(&caption, "Lines by %s (%s)", method->name, method->clause);
    print_rows(document, text_string(&caption), &show_demand_line_rows, &lines, lines.list->count);
    text_done(&caption);
    add_sum(document, answer, method);
}

static bool has_lines(const struct service_method *method)
{
    return method->applies && method->demand != NULL;
}

static struct show_sources room_for_sources(const struct demand_answer *answer, struct arena *arena)
{
    size_t most = 1;
    for (size_t i = 0; i < answer->service->method_count; i++) {
        const struct service_method *method = &answer->service->methods[i];
        most += has_lines(method) ? method->demand->lines.count : 0;
    }
    return (struct show_sources){.source = arena_array(arena, most, sizeof(const char *))};
}

static void add_sources(struct print_document *document, const struct show_sources *sources)
{
    struct text text = {0};
    for (size_t i = 0; i < sources->count; i++) {
        text_printf(&text, "%s[%zu] %s", i == 0 ? "Sources: " : ". ", i + 1, sources->source[i]);
    }
    if (sources->count > 0) {
        text_add_char(&text, '.');
        paragraph(document, PRINT_SMALL, &text);
    }
}

/* The chosen method's lines first, then those of the others that apply; the sources of all below them. */
static void add_lines(struct print_document *document, const struct demand_answer *answer)
{
    struct show_sources sources = room_for_sources(answer, document->arena);
    print_heading(document, 2, "How it was counted");
    items(document, NULL, show_demand_method_sources(answer, document->arena));
    if (has_lines(answer->chosen)) {
        add_method(document, answer, answer->chosen, &sources);
    }
    for (size_t i = 0; i < answer->service->method_count; i++) {
        const struct service_method *method = &answer->service->methods[i];
        if (method != answer->chosen && has_lines(method)) {
            add_method(document, answer, method, &sources);
        }
    }
    add_sources(document, &sources);
}

struct print_document *print_service(const struct demand_answer *answer, const struct print_head *head)
{
    struct print_document *document = print_new("may the service carry it", answer->house->name, head);
    document->look = (struct print_look){.text = 9, .least = 9, .space = 0.5};
    add_answer(document, answer);
    items(document, "If it gives way", show_demand_control(answer, document->arena));
    add_findings(document, &answer->service->findings);
    items(document, "To bring to the electrician", show_demand_bring(answer, document->arena));
    items(document, "What was added, as it was taken", show_demand_taken(answer, document->arena));
    items(document, "What the counting rests on", show_demand_counting(answer, document->arena));
    items(document, "Cautions", show_demand_cautions(answer, document->arena));
    add_lines(document, answer);
    return document;
}
