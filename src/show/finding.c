/* Findings as data and as lines, and how many of each severity there are. */
#include <string.h>

#include "ampsum/answer_facts.h"
#include "ampsum/arena.h"
#include "ampsum/reference.h"
#include "ampsum/show_rows.h"

json_t *show_legs_json(unsigned legs, const double *leg_a)
{
    json_t *object = json_object();
    for (size_t leg = 0; leg < 3; leg++) {
        if ((legs & (1u << leg)) != 0) {
            json_object_set_new(object, legs_word(1u << leg), json_figure(leg_a[leg]));
        }
    }
    return object;
}

static json_t *figure_json(const struct finding_figure *figure)
{
    switch (figure->form) {
    case FIGURE_WORD:
        return json_text(figure->word);
    case FIGURE_WORDS:
        return json_lines(figure->words);
    case FIGURE_FLAG:
        return json_boolean(figure->flag);
    case FIGURE_LEGS:
        return show_legs_json(figure->legs, figure->leg_a);
    case FIGURE_NUMBER:
        break;
    }
    return json_figure(figure->number);
}

static void get_figure(const void *answer, size_t row, struct show_cell *cell)
{
    cell->part = figure_json(&((const struct finding *)answer)->figures[row]);
}

static const struct show_column figure_columns[] = {
    {.faces = SHOW_JSON, SHOW_IN(struct finding, figures, struct finding_figure, key)},
    {.kind = SHOW_PART, .faces = SHOW_JSON, .get = get_figure},
};
static const struct show_rows figure_rows = SHOW_ROWS_OF(figure_columns);

static SHOW_WORD_TAKE(take_kind, enum kind, kind_word) static SHOW_WORD_TAKE(take_severity, enum severity,
                                                                             severity_word)

    static const struct show_column subject_columns[] = {
        {.key = "kind", .faces = SHOW_JSON, SHOW_TAKEN(struct subject, kind, take_kind)},
        {.key = "id", .faces = SHOW_JSON, SHOW_FIELD(struct subject, id)},
};
static const struct show_rows subject_rows = SHOW_ROWS_OF(subject_columns);

#define FINDING(member) .faces = SHOW_JSON, SHOW_FIELD(struct finding, member)
#define ROW(member) .faces = SHOW_JSON, SHOW_TO(struct finding, row, struct ref_finding, member)

static const struct show_column columns[] = {
    {.key = "id", FINDING(id)},
    {.key = "name", ROW(name)},
    {.key = "severity", .faces = SHOW_JSON, SHOW_TAKEN(struct finding, severity, take_severity)},
    {.key = "subject", SHOW_OBJECT(subject_rows), SHOW_WITHIN(struct finding, subject)},
    {.key = "figures", SHOW_KEYED(figure_rows, struct finding, figure_count)},
    {.key = "text", FINDING(text)},
    {.key = "source", FINDING(source)},
    {.key = "caution", ROW(caution)},
};

const struct show_rows show_finding_rows = SHOW_ROWS_OF(columns);

static const struct show_column list_columns[] = {
    {SHOW_OBJECT(show_finding_rows), SHOW_ELEMENT(struct finding_list, finding, struct finding)},
};

const struct show_rows show_finding_list_rows = SHOW_ROWS_OF(list_columns);

json_t *show_findings_json(const struct finding_list *list)
{
    return show_json_array(&show_finding_list_rows, list, list->count);
}

void show_finding_counts(const struct finding_list *list, struct text *text)
{
    const char *before = "";
    for (int severity = SEVERITY_DANGER; severity >= SEVERITY_NOTE; severity--) {
        size_t count = 0;
        for (size_t i = 0; i < list->count; i++) {
            count += (int)list->finding[i].severity == severity;
        }
        if (count > 0) {
            text_printf(text, "%s%zu %s%s", before, count, severity_word((enum severity)severity),
                        count == 1 ? "" : "s");
            before = ", ";
        }
    }
}

/* `WARNING kitchen: ...`; what is about the house as a whole stands under its name. */
static void add_finding(const struct finding *finding, const char *where, struct text *line)
{
    text_printf(line, "%-7s %s: %s", show_severity(finding->severity),
                finding->subject.kind == KIND_HOUSE ? finding->subject.id : where, finding->text);
}

void show_findings_text(const struct finding_list *list, const char *where, bool notes, const struct page *page,
                        struct text *text)
{
    struct arena *arena = arena_new();
    size_t note_count = 0;
    const struct finding *const *findings = findings_gravest_first(list, arena, &note_count);
    for (size_t i = 0; i < list->count - (notes ? 0 : note_count); i++) {
        struct text line = {0};
        add_finding(findings[i], where, &line);
        text_say(&line, " [%s]", findings[i]->id);
        show_line(page, 2, 10, &line, text);
    }
    arena_free(arena);
}

/* The numbers of a fact, its leader's first, each once: `[1 2 3 6]`. */
void show_fact_numbers(const struct fact *fact, struct text *text)
{
    text_printf(text, " [%s", fact->lead->id);
    for (size_t i = 0; i < fact->other_count; i++) {
        bool again = false;
        for (size_t k = 0; k < i; k++) {
            again = again || strcmp(fact->others[k]->id, fact->others[i]->id) == 0;
        }
        text_printf(text, "%s%s", again ? "" : " ", again ? "" : fact->others[i]->id);
    }
    text_add_char(text, ']');
}

size_t show_facts_text(const struct finding_list *list, const char *where, const struct page *page, struct text *text)
{
    struct arena *arena = arena_new();
    struct facts facts = {0};
    facts_of(list, arena, &facts);
    for (size_t i = 0; i < facts.count; i++) {
        struct text line = {0};
        add_finding(facts.fact[i].lead, where, &line);
        show_fact_numbers(&facts.fact[i], &line);
        show_line(page, 2, 10, &line, text);
    }
    arena_free(arena);
    return facts.note_count;
}
