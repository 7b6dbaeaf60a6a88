/* One page for the electrician's folder: may this service carry one more load, with every line and its source. */
#include "ampsum/arena.h"
#include "ampsum/print.h"
#include "ampsum/show.h"
#include "ampsum/show_demand.h"

static void paragraph(struct print_document *document, struct text *text)
{
    print_paragraph(document, text_string(text));
    text_done(text);
}

/* Sentences one behind the other, under a heading. */
static void sentences(struct print_document *document, const char *heading, const char *const *sentence)
{
    struct text text = {0};
    if (sentence[0] == NULL) {
        return;
    }
    if (heading != NULL) {
        print_heading(document, 3, heading);
    }
    for (size_t i = 0; sentence[i] != NULL; i++) {
        text_printf(&text, "%s%s", i > 0 ? " " : "", sentence[i]);
    }
    paragraph(document, &text);
}

static void add_answer(struct print_document *document, const struct demand_answer *answer)
{
    struct text sentence = {0};
    struct text rating = {0};
    show_demand_sentence(answer, &sentence);
    show_demand_rating(answer, &rating);
    text_printf(&rating, ". From %s, %s.", document->file, document->date);
    paragraph(document, &sentence);
    paragraph(document, &rating);
    print_rows(document, "All methods side by side", &show_demand_method_rows, answer, answer->service->method_count);
    sentences(document, NULL, show_demand_methods(answer, document->arena));
    sentences(document, NULL, show_demand_method_sources(answer, document->arena));
}

/* `Sum: 27675 VA over 2 x 120 V is 115.3 A`. */
static void add_sum(struct print_document *document, const struct demand_answer *answer)
{
    const struct demand *demand = answer->demand;
    struct text text = {0};
    text_add(&text, "Sum: ");
    text_add_rounded(&text, demand->total_va, 1);
    text_printf(&text, " VA over %s is ", demand->divisor);
    show_demand_current(answer, demand->current_a, 1, &text);
    text_add(&text, " A.");
    paragraph(document, &text);
}

static void add_lines(struct print_document *document, const struct demand_answer *answer)
{
    if (answer->demand == NULL) {
        return;
    }
    const struct demand_list *list = &answer->demand->lines;
    struct show_sources sources = {.source = arena_array(document->arena, list->count + 1, sizeof *sources.source)};
    const struct show_demand_lines lines = {.list = list, .sources = &sources};
    struct text caption = {0};
    text_printf(&caption, "Lines by %s (%s)", answer->chosen->name, answer->chosen->clause);
    print_rows(document, text_string(&caption), &show_demand_line_rows, &lines, list->count);
    text_done(&caption);
    add_sum(document, answer);
    struct text text = {0};
    for (size_t i = 0; i < sources.count; i++) {
        text_printf(&text, "%s[%zu] %s", i > 0 ? ". " : "Sources: ", i + 1, sources.source[i]);
    }
    text_add(&text, ".");
    paragraph(document, &text);
}

static void add_findings(struct print_document *document, const struct finding_list *list)
{
    if (list->count > 0) {
        print_heading(document, 3, "Findings");
    }
    for (size_t i = 0; i < list->count; i++) {
        const struct finding *finding = &list->finding[i];
        struct text text = {0};
        text_printf(&text, "%s: %s [%s; %s]", show_severity(finding->severity), finding->text, finding->id,
                    finding->source);
        print_item(document, NULL, text_string(&text));
        text_done(&text);
    }
}

struct print_document *print_service(const struct demand_answer *answer, const struct print_head *head)
{
    struct print_document *document = print_new("may the service carry it", answer->house->name, head);
    document->look = (struct print_look){.text = 7, .least = 6.8, .space = 0.2}; /* so that it stays on one sheet */
    const char *const *notes = show_demand_notes(answer, document->arena);
    add_answer(document, answer);
    add_lines(document, answer);
    sentences(document, "Control", show_demand_control(answer, document->arena));
    add_findings(document, &answer->service->findings);
    sentences(document, "To bring to the electrician", show_demand_bring(answer, document->arena));
    sentences(document, "Cautions", notes);
    return document;
}
