/* One page for the electrician's folder: may this service carry one more load, with every line and its source. */
#include <math.h>
#include <string.h>

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

static void add_line(const struct demand_line *line, struct text *text)
{
    text_add(text, line->what);
    text_add_char(text, ' ');
    text_add_rounded(text, line->load_va, 0);
    if (line->role == DEMAND_COUNTED) {
        text_add(text, " at ");
        text_add_rounded(text, line->factor * 100, 1);
        text_add(text, " % = ");
        text_add_rounded(text, line->counted_va, 0);
    } else if (line->role != DEMAND_GATHERED) {
        text_add(text, " left out");
    }
}

/* A load that only goes into a sum stands in the table already. */
static bool is_above(const struct demand_answer *answer, const struct demand_line *line)
{
    const struct demand_list *above = &answer->demand->lines;
    for (size_t i = 0; i < above->count && line->role == DEMAND_GATHERED; i++) {
        if (strcmp(above->line[i].what, line->what) == 0 && fabs(above->line[i].load_va - line->load_va) < 0.5) {
            return true;
        }
    }
    return false;
}

static void add_list(const struct demand_answer *answer, const struct demand_list *list, struct text *text)
{
    size_t left_out = 0;
    for (size_t i = 0; i < list->count; i++) {
        if (answer->demand != NULL && is_above(answer, &list->line[i])) {
            left_out++;
        } else {
            add_line(&list->line[i], text);
            text_add(text, "; ");
        }
    }
    if (left_out > 0) {
        text_printf(text, "%zu loads as above in its sum; ", left_out);
    }
}

/* The working of the other methods that apply, in VA: each line behind the one before. Their sources stand above. */
static void add_other_lines(struct print_document *document, const struct demand_answer *answer)
{
    for (size_t i = 0; i < answer->service->method_count; i++) {
        const struct service_method *method = &answer->service->methods[i];
        struct text text = {0};
        if (!method->applies || method->demand == NULL || method == answer->chosen) {
            continue;
        }
        text_printf(&text, "Lines by %s (%s), VA: ", method->name, method->clause);
        add_list(answer, &method->demand->lines, &text);
        text_add(&text, "together ");
        text_add_rounded(&text, method->total_va, 0);
        text_add(&text, ", which is ");
        show_demand_current(answer, method->current_a, 1, &text);
        text_add(&text, " A.");
        paragraph(document, &text);
    }
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

static struct print_document *sheet_of(const struct demand_answer *answer, const struct print_head *head, bool others)
{
    struct print_document *document = print_new("may the service carry it", answer->house->name, head);
    document->look = (struct print_look){.text = 7, .least = 6.8, .space = 0.2}; /* so that it stays on one sheet */
    const char *const *notes = show_demand_notes(answer, document->arena);
    add_answer(document, answer);
    add_lines(document, answer);
    if (others) {
        add_other_lines(document, answer);
    } else {
        print_paragraph(document, "The lines of another method do not fit beside these: its own sheet has them "
                                  "(--method).");
    }
    sentences(document, "Control", show_demand_control(answer, document->arena));
    add_findings(document, &answer->service->findings);
    sentences(document, "To bring to the electrician", show_demand_bring(answer, document->arena));
    sentences(document, "Cautions", notes);
    return document;
}

struct print_document *print_service(const struct demand_answer *answer, const struct print_head *head)
{
    struct print_document *document = sheet_of(answer, head, true);
    struct canvas none = canvas_none();
    if (print_pages(document, &none) > 1) { /* of a house of many loads, the lines of one method */
        print_free(document);
        document = sheet_of(answer, head, false);
    }
    return document;
}
