#include "header.h"

#include <string.h>

#include "meant.h"

static void refuse_word(struct faults *faults, int line, const char *word)
{
    struct text text = {0};
    const char *meant = meant_section(word);
    text_add(&text, "unknown section `");
    text_add_shown(&text, word);
    text_add(&text, "`, expected");
    for (size_t i = 0; i < KIND_COUNT; i++) {
        text_printf(&text, "%s %s", i == 0 ? "" : i + 1 < KIND_COUNT ? "," : " or", sections[i].word);
    }
    if (meant != NULL) {
        text_printf(&text, " (nearest: %s)", meant);
    }
    faults_add(faults, line, "%s", text_string(&text));
    text_done(&text);
}

/* What is wrong with the ID of a section of a known kind, and what was expected; NULL where nothing is. */
static const char *explain_id(const struct section *section, const char *id)
{
    if (!section->takes_id) {
        return id[0] != '\0' ? "[house] takes no ID, expected [house]" : NULL;
    }
    if (id[0] == '\0') {
        return "an ID is missing, expected such as [branch kitchen]";
    }
    if (!words_is_id(id)) {
        return "not an ID, expected 1 to 40 of a-z, 0-9 and -";
    }
    bool is_reserved = section->kind == KIND_OUTLET && (strcmp(id, "panel") == 0 || strcmp(id, "end") == 0);
    return is_reserved ? "a reserved word, expected an outlet's ID other than panel and end" : NULL;
}

const struct section *header_check(struct faults *faults, int line, const char *word, const char *id)
{
    const struct section *section = section_named(word);
    if (section == NULL) {
        refuse_word(faults, line, word);
        return NULL;
    }
    const char *reason = explain_id(section, id);
    if (reason != NULL) {
        struct text text = {0};
        text_add(&text, reason);
        meant_id(section->takes_id && !words_is_id(id) ? id : "", &text);
        faults_add_at(faults, line, &(struct fault_place){.section = word, .id = id}, "%s", text_string(&text));
        text_done(&text);
        return NULL;
    }
    return section;
}

static void refuse_key(struct faults *faults, int line, const struct section *section, const char *id, const char *name)
{
    struct text text = {0};
    const char *meant = meant_key(section, name);
    text_add(&text, "unknown key `");
    text_add_shown(&text, name);
    text_add(&text, "`");
    if (meant != NULL) {
        text_printf(&text, ", expected a key of this section (nearest: %s)", meant);
    } else {
        text_add(&text, ", expected");
        for (size_t i = 0; i < section->key_count; i++) {
            text_printf(&text, "%s %s", i == 0 ? "" : i + 1 < section->key_count ? "," : " or", section->keys[i].name);
        }
    }
    faults_add_at(faults, line, &(struct fault_place){.section = section->word, .id = id}, "%s", text_string(&text));
    text_done(&text);
}

/* Most keys of [panel main] belong to the service. */
static bool is_refused_main(const struct section *section, const char *id, const struct key *key)
{
    return section->kind == KIND_PANEL && strcmp(id, "main") == 0 && (key->flags & KEY_OF_MAIN) == 0;
}

const struct key *key_check(struct faults *faults, int line, const struct section *section, const char *id,
                            const char *name)
{
    const struct key *key = section_key(section, name);
    if (key == NULL) {
        if (faults_want(faults, line)) {
            refuse_key(faults, line, section, id, name);
        } else {
            faults_add(faults, line, "unknown key");
        }
    } else if (is_refused_main(section, id, key)) {
        faults_add(faults, line,
                   "[panel main] %s: not a key of the main panel, expected only name and breaking (the service is "
                   "described in [house])",
                   name);
        return NULL;
    }
    return key;
}
