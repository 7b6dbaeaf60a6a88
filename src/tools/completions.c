/* Completion scripts for bash, zsh and fish, made from the command table and the table of sections. */
#include <string.h>

#include "ampsum/keys.h"
#include "manual.h"

/* Appends `string` inside single quotes for sh and zsh, or for fish. */
static void add_quoted(struct text *text, const char *string, bool fish)
{
    text_add_char(text, '\'');
    for (; *string != '\0'; string++) {
        if (*string == '\'') {
            text_add(text, fish ? "\\'" : "'\\''");
        } else {
            text_add(text, fish && *string == '\\' ? "\\" : "");
            text_add_char(text, *string);
        }
    }
    text_add_char(text, '\'');
}

/* The words that an option's value is one of, where its help names plain words alone: `table|csv|json`. */
static const char *value_words(const struct option_spec *spec)
{
    bool words = spec->value != NULL && strchr(spec->value, '|') != NULL &&
                 spec->value[strspn(spec->value, "abcdefghijklmnopqrstuvwxyz-|")] == '\0';
    return words ? spec->value : NULL;
}

/* Appends a|b|c with blanks for bars. */
static void add_words(struct text *text, const char *words)
{
    for (; *words != '\0'; words++) {
        text_add_char(text, *words == '|' ? ' ' : *words);
    }
}

/* Whether the command takes the kind of a section among its operands. */
static bool takes_kind(const struct command *command)
{
    return strstr(command->operands, "KIND") != NULL;
}

static void add_kinds(struct text *text)
{
    for (size_t i = 0; i < KIND_COUNT; i++) {
        text_printf(text, "%s%s", i == 0 ? "" : " ", sections[i].word);
    }
}

static void bash_command(struct text *text, const struct command *command)
{
    const struct option_spec *spec = NULL;
    text_printf(text, "    %s)\n        words='", command->name);
    for (size_t i = 0; (spec = command_option(command, i)) != NULL; i++) {
        text_printf(text, "%s--%s", i == 0 ? "" : " ", spec->name);
        if (spec->letter != '\0') {
            text_printf(text, " -%c", spec->letter);
        }
    }
    text_add(text, "'\n");
    if (takes_kind(command)) {
        text_add(text, "        operands='");
        add_kinds(text);
        text_add(text, "'\n");
    }
    text_add(text, "        case $option in\n");
    for (size_t i = 0; (spec = command_option(command, i)) != NULL; i++) {
        if (value_words(spec) != NULL) {
            text_printf(text, "        --%s) values='", spec->name);
            add_words(text, value_words(spec));
            text_add(text, "' ;;\n");
        }
    }
    text_add(text, "        esac\n        ;;\n");
}

void completion_bash(struct text *text)
{
    text_add(text,
             "# bash completion for ampsum, made from its command table\n"
             "_ampsum() {\n"
             "    local word=${COMP_WORDS[COMP_CWORD]} option=${COMP_WORDS[COMP_CWORD-1]} words= operands= values=\n"
             "    # --name=value is three words here\n"
             "    [ \"$word\" = = ] && word=\n"
             "    [ \"$option\" = = ] && option=${COMP_WORDS[COMP_CWORD-2]}\n"
             "    COMPREPLY=()\n"
             "    if [ \"$COMP_CWORD\" -eq 1 ]; then\n"
             "        COMPREPLY=($(compgen -W '");
    for (size_t i = 0; commands[i] != NULL; i++) {
        text_printf(text, "%s ", commands[i]->name);
    }
    text_add(text, "--help --version' -- \"$word\"))\n"
                   "        return\n"
                   "    fi\n"
                   "    case ${COMP_WORDS[1]} in\n");
    for (size_t i = 0; commands[i] != NULL; i++) {
        bash_command(text, commands[i]);
    }
    text_add(text, "    esac\n"
                   "    if [ -n \"$values\" ]; then\n"
                   "        COMPREPLY=($(compgen -W \"$values\" -- \"$word\"))\n"
                   "    elif [[ $word == -* ]]; then\n"
                   "        COMPREPLY=($(compgen -W \"$words\" -- \"$word\"))\n"
                   "    else\n"
                   "        COMPREPLY=($(compgen -W \"$operands\" -- \"$word\") $(compgen -f -- \"$word\"))\n"
                   "    fi\n"
                   "}\n"
                   "complete -o filenames -F _ampsum ampsum\n");
}

/* `--name[help]:value:(a b c)` with the marks of _arguments escaped. */
static void zsh_option(struct text *text, const struct option_spec *spec)
{
    struct text words = {0};
    text_printf(&words, "*--%s%s[", spec->name, spec->value != NULL ? "=" : "");
    for (const char *at = spec->help; *at != '\0'; at++) {
        text_add(&words, strchr("[]:\\", *at) != NULL ? "\\" : "");
        text_add_char(&words, *at);
    }
    text_add_char(&words, ']');
    if (value_words(spec) != NULL) {
        text_add(&words, ":value:(");
        add_words(&words, value_words(spec));
        text_add_char(&words, ')');
    } else if (spec->value != NULL) {
        text_add(&words, ":value:_files");
    }
    text_add(text, "            ");
    add_quoted(text, text_string(&words), false);
    text_add(text, " \\\n");
    text_done(&words);
}

void completion_zsh(struct text *text)
{
    text_add(text, "#compdef ampsum\n# made from the command table of ampsum\n"
                   "local -a names\n"
                   "if (( CURRENT == 2 )); then\n"
                   "    names=(\n");
    for (size_t i = 0; commands[i] != NULL; i++) {
        struct text line = {0};
        text_printf(&line, "%s:%s", commands[i]->name, commands[i]->summary);
        text_add(text, "        ");
        add_quoted(text, text_string(&line), false);
        text_add_char(text, '\n');
        text_done(&line);
    }
    text_add(text, "    )\n"
                   "    _describe command names\n"
                   "    return\n"
                   "fi\n"
                   "local name=$words[2]\n"
                   "shift words\n"
                   "(( CURRENT-- ))\n"
                   "case $name in\n");
    for (size_t i = 0; commands[i] != NULL; i++) {
        const struct option_spec *spec = NULL;
        text_printf(text, "    %s)\n        _arguments \\\n", commands[i]->name);
        for (size_t k = 0; (spec = command_option(commands[i], k)) != NULL; k++) {
            zsh_option(text, spec);
        }
        text_add(text, takes_kind(commands[i]) ? "            '*:operand:->operand' && return\n"
                                               : "            '*:file:_files'\n");
        if (takes_kind(commands[i])) {
            text_add(text, "        _alternative 'kinds:kind:(");
            add_kinds(text);
            text_add(text, ")' 'files:file:_files'\n");
        }
        text_add(text, "        ;;\n");
    }
    text_add(text, "esac\n");
}

static void fish_option(struct text *text, const struct command *command, const struct option_spec *spec)
{
    text_printf(text, "complete -c ampsum -n '__fish_seen_subcommand_from %s' -l %s", command->name, spec->name);
    if (spec->letter != '\0') {
        text_printf(text, " -s %c", spec->letter);
    }
    if (value_words(spec) != NULL) {
        text_add(text, " -x -a '");
        add_words(text, value_words(spec));
        text_add_char(text, '\'');
    } else if (spec->value != NULL) {
        text_add(text, " -r");
    }
    text_add(text, " -d ");
    add_quoted(text, spec->help, true);
    text_add_char(text, '\n');
}

void completion_fish(struct text *text)
{
    text_add(text, "# fish completion for ampsum, made from its command table\n");
    for (size_t i = 0; commands[i] != NULL; i++) {
        const struct command *command = commands[i];
        text_printf(text, "complete -c ampsum -n __fish_use_subcommand -f -a %s -d ", command->name);
        add_quoted(text, command->summary, true);
        text_add_char(text, '\n');
        const struct option_spec *spec = NULL;
        for (size_t k = 0; (spec = command_option(command, k)) != NULL; k++) {
            fish_option(text, command, spec);
        }
        if (takes_kind(command)) {
            text_printf(text, "complete -c ampsum -n '__fish_seen_subcommand_from %s' -a '", command->name);
            add_kinds(text);
            text_add(text, "'\n");
        }
    }
}
