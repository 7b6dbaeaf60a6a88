#include "faults.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { NEAREST_BUDGET = 50000 };

void faults_init(struct faults *faults, const char *source)
{
    *faults = (struct faults){.source = source, .nearest_budget = NEAREST_BUDGET};
}

void faults_done(struct faults *faults)
{
    for (size_t i = 0; i < faults->kept_count; i++) {
        free(faults->kept[i].message);
    }
    faults->kept_count = 0;
}

bool faults_want(const struct faults *faults, int line)
{
    return faults->kept_count < HOUSEFILE_FAULTS_MOST || line < faults->kept[faults->kept_count - 1].line;
}

/* Puts the message behind those of the same or an earlier line; the last one gives way where there is no room. */
static void keep(struct faults *faults, int line, char *message)
{
    if (faults->kept_count == HOUSEFILE_FAULTS_MOST) {
        free(faults->kept[--faults->kept_count].message);
    }
    size_t at = faults->kept_count++;
    while (at > 0 && faults->kept[at - 1].line > line) {
        faults->kept[at] = faults->kept[at - 1];
        at--;
    }
    faults->kept[at] = (struct fault){line, message};
}

void faults_add(struct faults *faults, int line, const char *format, ...)
{
    faults->count++;
    if (!faults_want(faults, line)) {
        return;
    }
    va_list arguments;
    va_start(arguments, format);
    char *message = NULL;
    if (vasprintf(&message, format, arguments) < 0) {
        memory_fail();
    }
    va_end(arguments);
    keep(faults, line, message);
}

bool faults_report(const struct faults *faults, struct error *error)
{
    struct text text = {0};
    for (size_t i = 0; i < faults->kept_count; i++) {
        const struct fault *fault = &faults->kept[i];
        text_add(&text, i > 0 ? "\n" : "");
        text_add(&text, faults->source);
        if (fault->line > 0) {
            text_printf(&text, ":%d", fault->line);
        }
        text_printf(&text, ": %s", fault->message);
    }
    if (faults->count > faults->kept_count) {
        text_printf(&text, "\n%s: %zu more faults, not shown", faults->source, faults->count - faults->kept_count);
    }
    if (faults->count > 0) {
        error_set(error, ERROR_INPUT, "%s", text_string(&text));
    }
    text_done(&text);
    return faults->count == 0;
}

void faults_offer(struct faults *faults, struct words_nearest *nearest, const char *candidate)
{
    size_t word_length = strlen(nearest->word);
    size_t length = strlen(candidate);
    size_t longer = length > word_length ? length : word_length;
    size_t apart = length > word_length ? length - word_length : word_length - length;
    bool is_near = apart <= (longer + 2) / 3 || strncmp(candidate, nearest->word, word_length) == 0;
    if (is_near && faults->nearest_budget > 0) {
        faults->nearest_budget--;
        words_nearest_offer(nearest, candidate);
    }
}

void add_header(struct text *text, const char *word, const char *id)
{
    text_add(text, "[");
    text_add_shown(text, word);
    text_add(text, id[0] != '\0' ? " " : "");
    text_add_shown(text, id);
    text_add(text, "]");
}
