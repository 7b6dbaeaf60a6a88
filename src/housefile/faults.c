#include "faults.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { NEAREST_BUDGET = 50000 };

void faults_init(struct faults *faults, const char *source)
{
    *faults = (struct faults){.source = source, .nearest_budget = NEAREST_BUDGET};
}

static void fault_free(struct fault *fault)
{
    free(fault->message);
    free(fault->id);
    free(fault->value);
}

void faults_done(struct faults *faults)
{
    for (size_t i = 0; i < faults->kept_count; i++) {
        fault_free(&faults->kept[i]);
    }
    faults->kept_count = 0;
}

bool faults_want(const struct faults *faults, int line)
{
    return faults->kept_count < HOUSEFILE_FAULTS_MOST || line < faults->kept[faults->kept_count - 1].line;
}

/* Puts the fault behind those of the same or an earlier line; the last one gives way where there is no room. */
static void keep(struct faults *faults, struct fault fault)
{
    if (faults->kept_count == HOUSEFILE_FAULTS_MOST) {
        fault_free(&faults->kept[--faults->kept_count]);
    }
    size_t at = faults->kept_count++;
    while (at > 0 && faults->kept[at - 1].line > fault.line) {
        faults->kept[at] = faults->kept[at - 1];
        at--;
    }
    faults->kept[at] = fault;
}

/* `[branch kitchen] legs = AB: `. */
static void add_subject(const struct fault_place *place, struct text *text)
{
    add_header(text, place->section, place->id);
    if (place->value != NULL) {
        text_printf(text, " %s = ", place->key);
        text_add_shown(text, place->value);
    }
    text_add(text, ": ");
}

static char *copy_of(const char *string)
{
    char *copy = memory_new(strlen(string) + 1);
    memcpy(copy, string, strlen(string) + 1);
    return copy;
}

/* The place in words of the tables, which outlive the document. */
static void set_place(struct fault *fault, const struct fault_place *place)
{
    const struct section *section = section_named(place->section);
    const struct key *key = section == NULL || place->key == NULL ? NULL : section_key(section, place->key);
    fault->section = section == NULL ? NULL : section->word;
    fault->key = key == NULL ? NULL : key->name;
    fault->id = copy_of(place->id);
    fault->value = place->value == NULL ? NULL : copy_of(place->value);
}

void faults_add_list(struct faults *faults, int line, const struct fault_place *place, const char *format,
                     va_list arguments)
{
    faults->count++;
    if (!faults_want(faults, line)) {
        return;
    }
    struct text text = {0};
    struct fault fault = {.line = line};
    if (place->section != NULL) {
        set_place(&fault, place);
        add_subject(place, &text);
    }
    fault.reason_at = text.length;
    text_printf_list(&text, format, arguments);
    fault.message = copy_of(text_string(&text));
    text_done(&text);
    keep(faults, fault);
}

void faults_add_at(struct faults *faults, int line, const struct fault_place *place, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    faults_add_list(faults, line, place, format, arguments);
    va_end(arguments);
}

void faults_add(struct faults *faults, int line, const char *format, ...)
{
    const struct fault_place none = {0};
    va_list arguments;
    va_start(arguments, format);
    faults_add_list(faults, line, &none, format, arguments);
    va_end(arguments);
}

static void add_left_out(const struct faults *faults, struct text *text)
{
    text_printf(text, "%zu more faults, not shown", faults->count - faults->kept_count);
}

/* Those that are in no section, too, so that who walks the faults misses no line of the message. */
static void add_faults(const struct faults *faults, struct error *error)
{
    for (size_t i = 0; i < faults->kept_count; i++) {
        const struct fault *fault = &faults->kept[i];
        error_add_fault(error, &(struct error_fault){fault->section, fault->key, fault->id == NULL ? "" : fault->id,
                                                     fault->value, fault->message + fault->reason_at});
    }
    if (faults->count > faults->kept_count) {
        struct text text = {0};
        add_left_out(faults, &text);
        error_add_fault(error, &(struct error_fault){.id = "", .reason = text_string(&text)});
        text_done(&text);
    }
}

/* `house.ini:12: `; nothing where the document has no source. */
static void add_source(const struct faults *faults, int line, struct text *text)
{
    if (faults->source[0] == '\0') {
        return;
    }
    text_add(text, faults->source);
    if (line > 0) {
        text_printf(text, ":%d", line);
    }
    text_add(text, ": ");
}

bool faults_report(const struct faults *faults, struct error *error)
{
    struct text text = {0};
    for (size_t i = 0; i < faults->kept_count; i++) {
        const struct fault *fault = &faults->kept[i];
        text_add(&text, i > 0 ? "\n" : "");
        add_source(faults, fault->line, &text);
        text_add(&text, fault->message);
    }
    if (faults->count > faults->kept_count) {
        text_add(&text, "\n");
        add_source(faults, 0, &text);
        add_left_out(faults, &text);
    }
    if (faults->count > 0 && error != NULL && !error_is_set(error)) {
        error_set(error, ERROR_INPUT, "%s", text_string(&text));
        add_faults(faults, error);
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
