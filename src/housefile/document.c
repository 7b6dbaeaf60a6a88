/* Sections, keys and values as text. */
#include <stdlib.h>
#include <string.h>

#include "ampsum/housefile.h"

struct document *document_new(const char *source)
{
    struct document *document = memory_new(sizeof *document);
    *document = (struct document){.arena = arena_new()};
    document->source = arena_copy(document->arena, source);
    return document;
}

void document_free(struct document *document)
{
    if (document == NULL) {
        return;
    }
    for (size_t i = 0; i < document->section_count; i++) {
        free(document->sections[i].keys);
    }
    free(document->sections);
    arena_free(document->arena);
    free(document);
}

struct document *document_copy(const struct document *document)
{
    struct document *copy = document_new(document->source);
    copy->sections = memory_resize(NULL, document->section_count, sizeof copy->sections[0]);
    copy->section_capacity = document->section_count;
    copy->section_count = document->section_count;
    for (size_t i = 0; i < document->section_count; i++) {
        const struct document_section *from = &document->sections[i];
        struct document_section *to = &copy->sections[i];
        *to = *from;
        to->word = arena_copy(copy->arena, from->word);
        to->id = arena_copy(copy->arena, from->id);
        to->keys = memory_resize(NULL, from->key_count, sizeof to->keys[0]);
        to->key_capacity = from->key_count;
        for (size_t j = 0; j < from->key_count; j++) {
            to->keys[j] = from->keys[j];
            to->keys[j].name = arena_copy(copy->arena, from->keys[j].name);
            to->keys[j].value = arena_copy(copy->arena, from->keys[j].value);
        }
    }
    return copy;
}

struct document_section *document_find(struct document *document, const char *word, const char *id)
{
    for (size_t i = 0; i < document->section_count; i++) {
        struct document_section *section = &document->sections[i];
        if (strcmp(section->id, id) == 0 && strcmp(section->word, word) == 0) {
            return section;
        }
    }
    return NULL;
}

/* Place of a kind in a house file; unknown words come last. */
static size_t rank_of(const char *word)
{
    const struct section *section = section_named(word);
    return section != NULL ? (size_t)section->kind : KIND_COUNT;
}

struct document_section *document_add(struct document *document, const char *word, const char *id)
{
    size_t at = document->section_count;
    size_t rank = rank_of(word);
    while (at > 0 && rank_of(document->sections[at - 1].word) != rank) {
        at--;
    }
    at = at > 0 ? at : document->section_count;
    document->sections = memory_grow(document->sections, document->section_count, &document->section_capacity,
                                     sizeof document->sections[0]);
    memmove(&document->sections[at + 1], &document->sections[at],
            (document->section_count - at) * sizeof document->sections[0]);
    document->section_count++;
    document->sections[at] =
        (struct document_section){.word = arena_copy(document->arena, word), .id = arena_copy(document->arena, id)};
    return &document->sections[at];
}

void document_remove(struct document *document, const char *word, const char *id)
{
    struct document_section *section = document_find(document, word, id);
    if (section == NULL) {
        return;
    }
    free(section->keys);
    size_t after = document->section_count - (size_t)(section - document->sections) - 1;
    memmove(section, section + 1, after * sizeof *section);
    document->section_count--;
}

static struct document_key *find_key(const struct document_section *section, const char *name)
{
    for (size_t i = 0; i < section->key_count; i++) {
        if (strcmp(section->keys[i].name, name) == 0) {
            return &section->keys[i];
        }
    }
    return NULL;
}

const char *document_value(const struct document_section *section, const char *name)
{
    const struct document_key *key = find_key(section, name);
    return key != NULL ? key->value : NULL;
}

static void remove_key(struct document_section *section, struct document_key *key)
{
    size_t after = section->key_count - (size_t)(key - section->keys) - 1;
    memmove(key, key + 1, after * sizeof *key);
    section->key_count--;
}

void document_set(struct document *document, struct document_section *section, const char *name, const char *value)
{
    struct document_key *key = find_key(section, name);
    if (value == NULL) {
        if (key != NULL) {
            remove_key(section, key);
        }
        return;
    }
    if (key == NULL) {
        section->keys = memory_grow(section->keys, section->key_count, &section->key_capacity, sizeof section->keys[0]);
        key = &section->keys[section->key_count++];
        *key = (struct document_key){.name = arena_copy(document->arena, name)};
    }
    key->value = arena_copy(document->arena, value);
    key->line = 0; /* no longer what the file says */
}
