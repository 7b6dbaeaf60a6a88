/*
 * Changes to a house as a person types them, made on its document: one section added, changed or removed. The house is
 * then built anew from the document, so every check is that of the house file.
 */
#ifndef AMPSUM_EDIT_H
#define AMPSUM_EDIT_H

#include <stdbool.h>
#include <stddef.h>

#include "ampsum/error.h"
#include "ampsum/housefile.h"
#include "ampsum/text.h"

/*
 * Adds a section `word id` with the `key=value` pairs. ERROR_INPUT where the kind or a key is unknown (names the
 * nearest), the ID is no ID or taken, or a pair has no `=` or no value. Values are checked by house_build.
 */
bool edit_add(struct document *document, const char *word, const char *id, const char *const *pairs, size_t pair_count,
              struct error *error);

/* Changes keys of a section that exists; `id` is "" for the house. As edit_add. */
bool edit_set(struct document *document, const char *word, const char *id, const char *const *pairs, size_t pair_count,
              struct error *error);

/* Takes keys out of a section, so that their defaults hold again. A key that is not there is an error. */
bool edit_unset(struct document *document, const char *word, const char *id, const char *key, struct error *error);

/*
 * Sets a key of a section that exists, or takes it out where the value is empty or goes without saying (the main
 * panel); nothing where it is so already.
 */
bool edit_put(struct document *document, enum kind kind, const char *id, const char *key, const char *value,
              struct error *error);

/* What became of another section where one was removed: it went along, or lost what it said of it. */
struct edit_along {
    const char *word;
    const char *id;
    const char *key;   /* that changed; NULL: the section is gone */
    const char *named; /* whom the key names no longer; NULL: it means nothing any more, and was taken out */
};
struct edit_along_list {
    struct edit_along *rows; /* strings are the document's */
    size_t count;
    size_t capacity;
};
void edit_along_done(struct edit_along_list *list);

/* Appends a line for each: `appliance kettle: removed with it`. */
void edit_along_text(const struct edit_along_list *list, struct text *text);

/*
 * Removes a section. What hangs on it (sections that name it) is listed in the error and nothing is removed, unless
 * `with_all`: then sections that cannot be without it go too, and others lose the key or list entry that names it.
 * `ret_along` gets what became of them; free it with edit_along_done in any case.
 */
bool edit_remove(struct document *document, const char *word, const char *id, bool with_all,
                 struct edit_along_list *ret_along, struct error *error);

/*
 * Puts an appliance on another outlet or branch: `target` is the ID of either, or `outlet:ID`, `branch:ID` where both
 * exist. An appliance keeps its room on a branch, and takes that of an outlet.
 */
bool edit_move(struct document *document, const char *appliance, const char *target, struct error *error);

/* `kettle.power=1200W` of `--set`: the appliance, then as edit_set. */
bool edit_set_dotted(struct document *document, const char *assignment, struct error *error);

/*
 * A free ID of the kind for a name: its letters a-z and digits, hyphens between, a number at its end where it is taken
 * or reserved; `other` where the name has none of these. In the document's arena.
 */
const char *edit_free_id(struct document *document, const char *word, const char *name, const char *other);

/* The first `count` such IDs, each free beside the others; linear in the size of the document and their number. */
void edit_free_ids(struct document *document, const char *word, const char *name, const char *other, size_t count,
                   const char **ret_ids);

#endif
