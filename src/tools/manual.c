/*
 * Runs while building: writes a manual page or a completion script, named by its file, to standard output.
 *
 *   manual ampsum.1 PROSE...
 *
 * Commands, options and keys come from the tables that the program itself walks, so page and program cannot drift. The
 * prose around them is in src/manual, given as files; each page takes NAME_head.mdoc and NAME_tail.mdoc of them.
 */
#include "manual.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "ampsum/keys.h"
#include "ampsum/quantity.h"
#include "ampsum/reference.h"

static int prose_count;
static char **prose_paths;

/* Appends the prose file of that name. */
static void add_prose(struct text *text, const char *name)
{
    for (int i = 0; i < prose_count; i++) {
        const char *slash = strrchr(prose_paths[i], '/');
        if (strcmp(slash == NULL ? prose_paths[i] : slash + 1, name) != 0) {
            continue;
        }
        FILE *stream = fopen(prose_paths[i], "rb");
        char bytes[4096];
        size_t length = 0;
        while (stream != NULL && (length = fread(bytes, 1, sizeof bytes, stream)) > 0) {
            text_add_length(text, bytes, length);
        }
        if (stream == NULL || ferror(stream) != 0) {
            perror(prose_paths[i]);
            exit(EXIT_FAILURE);
        }
        fclose(stream);
        return;
    }
    fprintf(stderr, "manual: %s is missing\n", name);
    exit(EXIT_FAILURE);
}

/* The code point at *ret_at, which moves behind it; the program's own strings are valid UTF-8. */
static unsigned code_point(const char **ret_at)
{
    const unsigned char *at = (const unsigned char *)*ret_at;
    unsigned code = *at;
    int more = code >= 0xF0 ? 3 : code >= 0xE0 ? 2 : code >= 0xC0 ? 1 : 0;
    code &= more == 0 ? 0x7FU : 0x3FU >> more;
    for (int i = 0; i < more; i++) {
        code = code << 6 | (*++at & 0x3FU);
    }
    *ret_at = (const char *)at + 1;
    return code;
}

/* A blank behind the end of a sentence, where mdoc wants a new line. */
static bool ends_sentence(const char *string, const char *at)
{
    return *at == ' ' && at > string && strchr(".?!", at[-1]) != NULL;
}

/* Appends what is to be shown letter by letter. `macro`: on a macro's line, where words and quotes would be taken. */
static void add_escaped(struct text *text, const char *string, bool macro)
{
    static const char special[] = "\\-^~`'\"";
    static const char *const spelled[] = {"\\e", "\\-", "\\(ha", "\\(ti", "\\(ga", "\\(aq", "\\(dq"};
    bool word = true;
    for (const char *at = string; *at != '\0';) {
        text_add(text, word && (macro || *at == '.') ? "\\&" : "");
        word = *at == ' ';
        unsigned code = code_point(&at);
        const char *found = code < 128 ? strchr(special, (int)code) : NULL;
        if (found != NULL) {
            text_add(text, spelled[found - special]);
        } else if (code >= 128) {
            text_printf(text, "\\[u%04X]", code);
        } else {
            text_add_char(text, !macro && ends_sentence(string, at - 1) ? '\n' : (char)code);
        }
    }
}

static void add_line(struct text *text, const char *string)
{
    add_escaped(text, string, false);
    text_add_char(text, '\n');
}

/* As add_line, as a sentence: a capital at its start and a stop at its end. */
static void add_sentence(struct text *text, const char *string)
{
    size_t start = text->length;
    add_escaped(text, string, false);
    char *first = &text->bytes[start];
    if (*first >= 'a' && *first <= 'z') {
        *first = (char)(*first - 'a' + 'A');
    }
    char last = text->bytes[text->length - 1];
    text_add(text, last == '.' || last == '?' || last == '!' ? "\n" : ".\n");
}

static void add_option(struct text *text, const struct option_spec *spec)
{
    text_add(text, ".It ");
    if (spec->letter != '\0') {
        text_printf(text, "Fl %c , ", spec->letter);
    }
    text_add(text, "Fl Fl ");
    add_escaped(text, spec->name, true);
    if (spec->value != NULL) {
        text_add(text, " Ns = Ns Ar ");
        add_escaped(text, spec->value, true);
    }
    text_add_char(text, '\n');
    add_sentence(text, spec->help);
}

static void add_command(struct text *text, const struct command *command)
{
    text_add(text, ".Ss ");
    add_escaped(text, command->name, true);
    text_add(text, "\n.Nm\n.Cm ");
    add_escaped(text, command->name, true);
    text_add(text, "\n.Ar ");
    add_escaped(text, command->operands, true);
    text_add(text, "\n.Op Ar options\n.Pp\nIt answers: ");
    add_sentence(text, command->summary);
    text_add(text, ".Bl -tag -width Ds\n");
    const struct option_spec *spec = NULL;
    for (size_t i = 0; (spec = command_option(command, i)) != NULL; i++) {
        add_option(text, spec);
    }
    text_add(text, ".El\n");
    struct text detail = {0};
    for (size_t i = 0; command_detail(command, i, &detail); i++) {
        for (const char *at = text_string(&detail); *at != '\0'; at += strspn(at, "\n")) {
            struct text line = {0};
            text_add_length(&line, at, strcspn(at, "\n"));
            text_add(text, ".Pp\n");
            add_line(text, text_string(&line));
            text_done(&line);
            at += strcspn(at, "\n");
        }
        text_clear(&detail);
    }
    text_done(&detail);
    text_add(text, ".Pp\nFor example:\n.Bd -literal -offset indent\n");
    for (size_t i = 0; command->examples[i] != NULL; i++) {
        add_line(text, command->examples[i]);
    }
    text_add(text, ".Ed\n");
}

static void program_page(struct text *text)
{
    add_prose(text, "program_head.mdoc");
    for (size_t i = 0; commands[i] != NULL; i++) {
        add_command(text, commands[i]);
    }
    add_prose(text, "program_tail.mdoc");
}

/* A word, with the rule sets that know it where not all do that know the key. */
static void add_choice(struct text *text, const struct key *key, size_t index)
{
    struct text sets = {0};
    key_choice_sets(key, index, &sets);
    text_add(text, ".Cm ");
    add_escaped(text, key_choice(key, index).word, true);
    if (sets.length > 0) {
        text_printf(text, " Pq No %s", text_string(&sets));
    }
    text_add(text, key_choice(key, index + 1).word == NULL ? " .\n" : " ,\n");
    text_done(&sets);
}

static void add_key(struct text *text, const struct key *key)
{
    struct text words = {0};
    text_add(text, ".It Ic ");
    add_escaped(text, key->name, true);
    if (key_own_unit(key, &words)) {
        text_add(text, " Bq ");
        add_escaped(text, text_string(&words), true);
    }
    text_add_char(text, '\n');
    text_clear(&words);
    key_meaning(key, &words);
    add_sentence(text, text_string(&words));
    if (key->type == KEY_REFERENCE || key->type == KEY_REFERENCE_LIST) {
        text_printf(text, "%s of a %s.\n", key->type == KEY_REFERENCE ? "The ID" : "IDs, each",
                    sections[key->target].word);
    }
    text_add(text, key->type == KEY_CHOICE ? "One of\n" : "");
    for (size_t i = 0; key->type == KEY_CHOICE && key_choice(key, i).word != NULL; i++) {
        add_choice(text, key, i);
    }
    text_clear(&words);
    if ((key->flags & KEY_REQUIRED) != 0) {
        text_add(text, "Required.\n");
    } else if (key_fallback(key, NULL, &words)) {
        text_add(text, "Default: ");
        add_escaped(text, text_string(&words), false);
        text_add(text, ".\n");
    }
    text_done(&words);
}

static void add_section(struct text *text, const struct section *section)
{
    text_printf(text, ".Ss \\&[%s%s]\n", section->word, section->takes_id ? " ID" : "");
    add_sentence(text, section->meaning);
    text_add(text, ".Bl -tag -width Ds\n");
    for (size_t i = 0; i < section->key_count; i++) {
        add_key(text, &section->keys[i]);
    }
    text_add(text, ".El\n");
}

static void house_page(struct text *text)
{
    add_prose(text, "house_head.mdoc");
    for (size_t i = 0; i < KIND_COUNT; i++) {
        add_section(text, &sections[i]);
    }
    add_prose(text, "house_tail.mdoc");
}

int main(int argc, char **argv)
{
    static const struct {
        const char *name;
        void (*write)(struct text *);
    } outputs[] = {{"ampsum.1", program_page},
                   {"ampsum-house.5", house_page},
                   {"ampsum.bash", completion_bash},
                   {"_ampsum", completion_zsh},
                   {"ampsum.fish", completion_fish}};
    prose_count = argc - 2;
    prose_paths = argv + 2;
    for (size_t i = 0; argc > 1 && i < sizeof outputs / sizeof outputs[0]; i++) {
        if (strcmp(argv[1], outputs[i].name) == 0) {
            struct text text = {0};
            outputs[i].write(&text);
            bool written = fwrite(text_string(&text), 1, text.length, stdout) == text.length && fflush(stdout) == 0;
            text_done(&text);
            return written ? EXIT_SUCCESS : EXIT_FAILURE;
        }
    }
    fputs("usage: manual ampsum.1|ampsum-house.5|ampsum.bash|_ampsum|ampsum.fish PROSE...\n", stderr);
    return EXIT_FAILURE;
}
