#include "ampsum/finding.h"

#include <math.h>
#include <stdarg.h>
#include <string.h>

#include "ampsum/reference.h"

static const char *const severity_words[] = {"note", "warning", "danger"};

const char *severity_word(enum severity severity)
{
    return severity_words[severity];
}

static enum severity severity_from_word(const char *word)
{
    enum severity severity = SEVERITY_DANGER;
    while (severity > SEVERITY_NOTE && strcmp(severity_words[severity], word) != 0) {
        severity--;
    }
    return severity;
}

bool finding_same(const struct finding *a, const struct finding *b)
{
    return a->subject.kind == b->subject.kind && strcmp(a->id, b->id) == 0 && strcmp(a->subject.id, b->subject.id) == 0;
}

const struct finding *finding_find(const struct finding_list *list, const struct finding *finding)
{
    for (size_t i = 0; list != NULL && i < list->count; i++) {
        if (finding_same(&list->finding[i], finding)) {
            return &list->finding[i];
        }
    }
    return NULL;
}

bool finding_about(const struct finding_list *list, const char *id, struct subject subject)
{
    const struct finding wanted = {.id = id, .subject = subject};
    return finding_find(list, &wanted) != NULL;
}

double finding_number(const struct finding *finding, const char *key)
{
    for (size_t i = 0; i < finding->figure_count; i++) {
        if (finding->figures[i].form == FIGURE_NUMBER && strcmp(finding->figures[i].key, key) == 0) {
            return finding->figures[i].number;
        }
    }
    return NAN;
}

/* The edition that a source cites: the house's, where the rule set has several and the row is of that set alone. */
static const char *source_edition(const struct finder *finder, const struct ref_finding *row, struct text *room)
{
    if (finder->edition == 0 || strcmp(row->rules, finder->rules) != 0) {
        return row->edition;
    }
    text_printf(room, "%d", finder->edition);
    return text_string(room);
}

static const char *source_line(const struct finder *finder, const struct ref_finding *row)
{
    struct text line = {0};
    struct text edition = {0};
    if (strcmp(row->clause, row->edition) == 0) {
        text_add(&line, row->source);
    } else if (strcmp(row->edition, "common practice") == 0) {
        text_printf(&line, "%s; %s", row->clause, row->source);
    } else {
        reference_clause(&line, finder->rules, row->clause, finder->edition);
        text_printf(&line, " (%s edition), %s", source_edition(finder, row, &edition), row->source);
    }
    text_done(&edition);
    return finder_keep(finder, &line);
}

static struct finding *finding_append(struct arena *arena, struct finding_list *list)
{
    if (list->count == list->capacity) {
        size_t capacity = list->capacity == 0 ? 4 : list->capacity * 2;
        struct finding *moved = arena_array(arena, capacity, sizeof *moved);
        if (list->count > 0) {
            memcpy(moved, list->finding, list->count * sizeof *moved);
        }
        list->finding = moved;
        list->capacity = capacity;
    }
    return &list->finding[list->count++];
}

void finding_list_append(struct arena *arena, struct finding_list *list, const struct finding_list *from)
{
    for (size_t i = 0; i < from->count; i++) {
        *finding_append(arena, list) = from->finding[i];
    }
}

static const void *arena_copy_bytes(struct arena *arena, const void *from, size_t count, size_t size)
{
    void *copy = arena_array(arena, count, size);
    if (count > 0) {
        memcpy(copy, from, count * size);
    }
    return copy;
}

/* The figures with what they point to, so that a check may make them on its stack. */
static const struct finding_figure *keep_figures(struct arena *arena, const struct finding_figure *figures,
                                                 size_t count)
{
    struct finding_figure *kept = arena_array(arena, count, sizeof *kept);
    for (size_t i = 0; i < count; i++) {
        kept[i] = figures[i];
        if (kept[i].form == FIGURE_WORD) {
            kept[i].word = arena_copy(arena, kept[i].word);
        } else if (kept[i].form == FIGURE_WORDS) {
            size_t words = 0;
            while (kept[i].words[words] != NULL) {
                words++;
            }
            kept[i].words = arena_copy_bytes(arena, kept[i].words, words + 1, sizeof *kept[i].words);
        } else if (kept[i].form == FIGURE_LEGS) {
            kept[i].leg_a = arena_copy_bytes(arena, kept[i].leg_a, 3, sizeof *kept[i].leg_a);
        }
    }
    return kept;
}

void finding_add(const struct finder *finder, const char *id, const char *variant, struct subject subject,
                 const struct finding_figure *figures, size_t figure_count, const char *format, ...)
{
    const struct ref_finding *row = reference_finding_variant(id, finder->rules, variant);
    if (row == NULL) {
        return;
    }
    struct finding *finding = finding_append(finder->arena, finder->list);
    *finding = (struct finding){
        .id = row->id,
        .severity = severity_from_word(row->severity),
        .subject = subject,
        .figures = keep_figures(finder->arena, figures, figure_count),
        .figure_count = figure_count,
        .text = "",
        .row = row,
    };
    if (finder->no_texts) {
        return;
    }
    va_list arguments;
    va_start(arguments, format);
    struct text text = {0};
    text_printf_list(&text, format, arguments);
    va_end(arguments);
    finding->text = finder_keep(finder, &text);
    finding->source = source_line(finder, row);
}

const char *finder_keep(const struct finder *finder, struct text *text)
{
    const char *copy = finder->no_texts ? "" : arena_copy(finder->arena, text_string(text));
    text_done(text);
    return copy;
}

const char *figure_beside(const struct finder *finder, double value, double limit)
{
    struct text text = {0};
    int decimals = 2;
    const double apart = fabs(value - limit);
    for (double step = 0.005; decimals < 9 && apart > 0 && apart < step; step /= 10) {
        decimals++;
    }
    if (!finder->no_texts) {
        text_add_rounded(&text, value, decimals);
    }
    return finder_keep(finder, &text);
}

const char *figure(const struct finder *finder, double value)
{
    struct text text = {0};
    if (!finder->no_texts) {
        text_add_rounded(&text, value, 2);
    }
    return finder_keep(finder, &text);
}
