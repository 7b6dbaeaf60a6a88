/*
 * The house as text: lines -> document (sections, keys, values as written) -> house, and back.
 *
 * A document is what every edit works on too: `set`, `add`, `try` change a document and build the house anew, so that
 * there is one set of checks with one set of messages.
 *
 * Checked: tests/unit/test_housefile.c, test_housefile_faults.c, test_housefile_edit.c, test_roundtrip.c;
 * tests/fuzz/fuzz_housefile.c.
 */
#ifndef AMPSUM_HOUSEFILE_H
#define AMPSUM_HOUSEFILE_H

#include <stdbool.h>
#include <stddef.h>

#include "ampsum/error.h"
#include "ampsum/keys.h"
#include "ampsum/model.h"

struct document_key {
    const char *name;
    const char *value;
    int line; /* 1 upwards; 0: not from a file */
};

struct document_section {
    const char *word; /* `branch` */
    const char *id;   /* "" for [house] */
    int line;
    struct document_key *keys;
    size_t key_count;
    size_t key_capacity;
};

struct document {
    struct arena *arena; /* owns the strings */
    const char *source;  /* the file's name as given, or what the person did ("set"), for messages */
    struct document_section *sections;
    size_t section_count;
    size_t section_capacity;
};

enum { HOUSEFILE_LINE_BYTES_MOST = 4096, HOUSEFILE_BYTES_MOST = 16 * 1024 * 1024, HOUSEFILE_FAULTS_MOST = 50 };

struct document *document_new(const char *source);
void document_free(struct document *document);

/* A copy that can be changed alone. */
struct document *document_copy(const struct document *document);

/* The section, or NULL. Linear. */
struct document_section *document_find(struct document *document, const char *word, const char *id);

/* Adds an empty section at the end of its kind. The pointer is valid until the next section is added. */
struct document_section *document_add(struct document *document, const char *word, const char *id);

/* Removes the section; nothing where there is none. */
void document_remove(struct document *document, const char *word, const char *id);

/* The value of a key, or NULL. */
const char *document_value(const struct document_section *section, const char *key);

/* Sets a key (value NULL: takes it out). Strings are copied. */
void document_set(struct document *document, struct document_section *section, const char *key, const char *value);

/*
 * Reads lines into a document, free it with document_free. A fault of form gives false and every message, one a line,
 * `file:line: what, expected what` (ERROR_INPUT); `source` stands for the file's name. Lexical rules: contract,
 * house-file.md.
 */
bool housefile_read_bytes(const char *source, const char *bytes, size_t length, struct document **ret_document,
                          struct error *error);

/*
 * Builds and checks a house from a document: all faults at once (up to HOUSEFILE_FAULTS_MOST), in line order. The
 * caller frees the house with house_free. Linear in the size of the document but for hash look-ups.
 */
bool house_build(const struct document *document, struct house **ret_house, struct error *error);

/* Both in one, from a file (`-` is standard input) or from memory; faults of both are reported together. */
bool housefile_read(const char *path, struct house **ret_house, struct error *error);
bool housefile_read_house_bytes(const char *source, const char *bytes, size_t length, struct house **ret_house,
                                struct error *error);

/* The document that says the same as the house: the keys that were given, in table order. */
struct document *house_document(const struct house *house, const char *source);

/* Appends the house file of a document (canonical: house first, kinds in order, one blank line between sections). */
void document_write(const struct document *document, struct text *text);

/*
 * Writes text to `path` through a file beside it and a rename, so that the target is whole at every moment. An existing
 * target is refused unless `replace`. `-` is standard output. ERROR_INPUT where the target can't be written.
 */
bool file_write_whole(const char *path, const char *bytes, size_t length, bool replace, struct error *error);

#endif
