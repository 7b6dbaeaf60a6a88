/* Findings as data, and how many of each severity there are. */
#include "ampsum/reference.h"
#include "ampsum/show.h"

static json_t *words_json(const char *const *words)
{
    json_t *array = json_array();
    for (size_t i = 0; words[i] != NULL; i++) {
        json_array_append_new(array, json_text(words[i]));
    }
    return array;
}

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
        return words_json(figure->words);
    case FIGURE_FLAG:
        return json_boolean(figure->flag);
    case FIGURE_LEGS:
        return show_legs_json(figure->legs, figure->leg_a);
    case FIGURE_NUMBER:
        break;
    }
    return json_figure(figure->number);
}

json_t *show_finding_json(const struct finding *finding)
{
    json_t *subject = json_object();
    json_object_set_new(subject, "kind", json_text(kind_word(finding->subject.kind)));
    json_object_set_new(subject, "id", json_text(finding->subject.id));
    json_t *figures = json_object();
    for (size_t i = 0; i < finding->figure_count; i++) {
        json_object_set_new(figures, finding->figures[i].key, figure_json(&finding->figures[i]));
    }
    json_t *object = json_object();
    json_object_set_new(object, "id", json_text(finding->id));
    json_object_set_new(object, "name", json_text(finding->row->name));
    json_object_set_new(object, "severity", json_text(severity_word(finding->severity)));
    json_object_set_new(object, "subject", subject);
    json_object_set_new(object, "figures", figures);
    json_object_set_new(object, "text", json_text(finding->text));
    json_object_set_new(object, "source", json_text(finding->source));
    json_object_set_new(object, "caution", json_text(finding->row->caution));
    return object;
}

json_t *show_findings_json(const struct finding_list *list)
{
    json_t *array = json_array();
    for (size_t i = 0; i < list->count; i++) {
        json_array_append_new(array, show_finding_json(&list->finding[i]));
    }
    return array;
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
