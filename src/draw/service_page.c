/*
 * For the electrician's folder: may this service carry one more load. First the answer and what to bring, then every
 * line of every method with its source.
 */
#include <math.h>
#include <string.h>

#include "ampsum/arena.h"
#include "ampsum/plain_words.h"
#include "ampsum/show.h"
#include "report_parts.h"

void paper_plain(struct print_document *document, enum print_style style, struct text *text)
{
    plain_paper(text);
    print_styled(document, style, 0, text_string(text));
    text_done(text);
}

void paper_items(struct print_document *document, const char *const *sentence)
{
    for (size_t i = 0; sentence[i] != NULL; i++) {
        struct text text = {0};
        text_add(&text, sentence[i]);
        plain_paper(&text);
        print_item(document, NULL, text_string(&text));
        text_done(&text);
    }
}

/* Under a heading, where there are any. */
static void items(struct print_document *document, const char *heading, const char *const *sentence)
{
    if (sentence[0] != NULL) {
        print_heading(document, 3, heading);
    }
    paper_items(document, sentence);
}

void paper_methods(struct print_document *document, const struct demand_answer *answer)
{
    print_rows(document, "All methods side by side", &show_demand_method_rows, answer, answer->service->method_count);
    paper_items(document, show_demand_methods(answer, document->arena));
}

static void add_answer(struct print_document *document, const struct demand_answer *answer)
{
    struct text sentence = {0};
    struct text rating = {0};
    show_demand_sentence(answer, &sentence);
    show_demand_rating(answer, &rating);
    text_printf(&rating, ". From %s, %s.", document->file, document->date);
    paper_plain(document, PRINT_STRONG, &sentence);
    paper_plain(document, PRINT_BODY, &rating);
    paper_methods(document, answer);
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
    paper_plain(document, PRINT_BODY, &text);
}

void paper_method(struct print_document *document, const struct demand_answer *answer,
                  const struct service_method *method, struct show_sources *sources)
{
    const struct show_demand_lines lines = {.list = &method->demand->lines, .sources = sources};
    struct text caption = {0};
    text_printf(&caption, "Lines by %s (%s)", method->name, method->clause);
    print_rows(document, text_string(&caption), &show_demand_line_rows, &lines, lines.list->count);
    text_done(&caption);
    add_sum(document, answer, method);
}

bool paper_has_lines(const struct service_method *method)
{
    return method->applies && method->demand != NULL;
}

struct show_sources paper_room_for_sources(const struct demand_answer *answer, struct arena *arena)
{
    size_t most = 1;
    for (size_t i = 0; i < answer->service->method_count; i++) {
        const struct service_method *method = &answer->service->methods[i];
        most += paper_has_lines(method) ? method->demand->lines.count : 0;
    }
    return (struct show_sources){.source = arena_array(arena, most, sizeof(const char *))};
}

void paper_sources(struct print_document *document, const struct show_sources *sources)
{
    struct text text = {0};
    for (size_t i = 0; i < sources->count; i++) {
        text_printf(&text, "%s[%zu] %s", i == 0 ? "Sources: " : ". ", i + 1, sources->source[i]);
    }
    if (sources->count > 0) {
        text_add_char(&text, '.');
        paper_plain(document, PRINT_SMALL, &text);
    }
}

/* The chosen method's lines first, then those of the others that apply; the sources of all below them. */
static void add_lines(struct print_document *document, const struct demand_answer *answer)
{
    struct show_sources sources = paper_room_for_sources(answer, document->arena);
    print_heading(document, 2, "How it was counted");
    paper_items(document, show_demand_method_sources(answer, document->arena));
    if (paper_has_lines(answer->chosen)) {
        paper_method(document, answer, answer->chosen, &sources);
    }
    for (size_t i = 0; i < answer->service->method_count; i++) {
        const struct service_method *method = &answer->service->methods[i];
        if (method != answer->chosen && paper_has_lines(method)) {
            paper_method(document, answer, method, &sources);
        }
    }
    paper_sources(document, &sources);
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
