/* House -> document -> text. */
#include <string.h>

#include "ampsum/housefile.h"
#include "ampsum/values.h"

static void add_row(struct document *document, const struct house *house, const struct section *section, const char *id,
                    const void *row)
{
    document->sections = memory_grow(document->sections, document->section_count, &document->section_capacity,
                                     sizeof document->sections[0]);
    struct document_section *into = &document->sections[document->section_count++];
    *into = (struct document_section){.word = section->word, .id = arena_copy(document->arena, id)};
    struct text value = {0};
    for (size_t i = 0; i < section->key_count; i++) {
        const struct key *key = &section->keys[i];
        if (!key_is_given(section, key, row)) {
            continue;
        }
        text_clear(&value);
        value_write(key, house, row, &value);
        into->keys = memory_grow(into->keys, into->key_count, &into->key_capacity, sizeof into->keys[0]);
        into->keys[into->key_count++] =
            (struct document_key){.name = key->name, .value = arena_copy(document->arena, text_string(&value))};
    }
    text_done(&value);
}

struct document *house_document(const struct house *house, const char *source)
{
    struct document *document = document_new(source);
    for (int kind = KIND_HOUSE; kind < KIND_COUNT; kind++) {
        size_t count = 0;
        const char *rows = house_rows(house, (enum kind)kind, &count);
        for (size_t i = 0; i < count; i++) {
            const char *row = rows + i * house_row_size((enum kind)kind);
            bool is_unwritten = kind == KIND_PANEL && i == 0 && house->panels[0].given == 0;
            if (!is_unwritten) {
                add_row(document, house, &sections[kind], house_row_id(house, (enum kind)kind, i), row);
            }
        }
    }
    return document;
}

static void write_key(const struct document_key *key, struct text *text)
{
    size_t length = strlen(key->name) + strlen(" = ") + strlen(key->value);
    text_add(text, key->name);
    text_add(text, length <= HOUSEFILE_LINE_BYTES_MOST ? " = " : "=");
    text_add(text, key->value);
    text_add_char(text, '\n');
}

static void write_section(const struct document_section *section, struct text *text)
{
    if (text->length > 0) {
        text_add_char(text, '\n');
    }
    text_printf(text, "[%s%s%s]\n", section->word, section->id[0] != '\0' ? " " : "", section->id);
    for (size_t i = 0; i < section->key_count; i++) {
        write_key(&section->keys[i], text);
    }
}

void document_write(const struct document *document, struct text *text)
{
    struct text own = {0};
    for (int kind = KIND_HOUSE; kind < KIND_COUNT; kind++) {
        for (size_t i = 0; i < document->section_count; i++) {
            if (strcmp(document->sections[i].word, sections[kind].word) == 0) {
                write_section(&document->sections[i], &own);
            }
        }
    }
    text_add(text, text_string(&own));
    text_done(&own);
}
