/* Completion scripts for bash, zsh and fish, made from the command table and the table of sections. */
#include <string.h>

#include "ampsum/keys.h"
#include "ampsum/lesson.h"
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

/* A part of `low|high|VOLTS` that is typed as it stands: not one in capitals alone, which stands for something else. */
static bool is_word(const char *part, size_t length)
{
    bool has_small = false;
    for (size_t i = 0; i < length; i++) {
        has_small = has_small || (part[i] >= 'a' && part[i] <= 'z') || (part[i] >= '0' && part[i] <= '9');
        if (strchr("abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-", part[i]) == NULL) {
            return false;
        }
    }
    return has_small;
}

/* Appends the words that an option's value is one of, with blanks between them; none where it is something else. */
static void add_value_words(struct text *text, const struct option_spec *spec)
{
    size_t count = 0;
    for (int kind = 0; strcmp(spec->name, "kind") == 0 && kind < LESSON_KIND_COUNT; kind++) {
        text_printf(text, "%s%s", count++ == 0 ? "all " : " ", lesson_kind_word((enum lesson_kind)kind));
    }
    const char *at = spec->value == NULL || strchr(spec->value, '|') == NULL ? "" : spec->value;
    while (*at != '\0') {
        const size_t length = strcspn(at, "|");
        if (is_word(at, length)) {
            text_add(text, count++ == 0 ? "" : " ");
            text_add_length(text, at, length);
        }
        at += length + (at[length] == '|');
    }
}

/* The section whose IDs an option takes; NULL: none. */
static const char *value_kind(const struct option_spec *spec)
{
    static const char *const loads[] = {"on", "off", "remove", "move"};
    const struct section *section = section_named(spec->name);
    for (size_t i = 0; spec->value != NULL && i < sizeof loads / sizeof loads[0]; i++) {
        if (strcmp(spec->name, loads[i]) == 0) {
            return "appliance";
        }
    }
    return spec->value != NULL && strcmp(spec->value, "ID") == 0 && section != NULL ? section->word : NULL;
}

/* True where the command's operand beside the house is the ID of a branch. */
static bool takes_branch(const struct command *command)
{
    return strcmp(command->operands, "[HOUSE] ID") == 0 || strcmp(command->operands, "[HOUSE] [ID]") == 0;
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
    text_add(text, takes_branch(command) ? "        ids=branch\n" : "");
    text_add(text, "        case $option in\n");
    for (size_t i = 0; (spec = command_option(command, i)) != NULL; i++) {
        struct text words = {0};
        add_value_words(&words, spec);
        if (words.length > 0) {
            text_printf(text, "        --%s) values='%s' ;;\n", spec->name, text_string(&words));
        } else if (value_kind(spec) != NULL) {
            text_printf(text, "        --%s) values=$(_ampsum_ids %s) ;;\n", spec->name, value_kind(spec));
        }
        text_done(&words);
    }
    text_add(text, "        esac\n        ;;\n");
}

void completion_bash(struct text *text)
{
    text_add(
        text,
        "# bash completion for ampsum, made from its command table\n"
        "# The IDs of a kind of section of the house that stands in the line, else of the usual one.\n"
        "_ampsum_ids() {\n"
        "    local house=${AMPSUM_HOUSE:-house.db} word\n"
        "    for word in \"${COMP_WORDS[@]:2}\"; do\n"
        "        case $word in *.ini | *.db) house=${word//\\\\/} && break ;; esac\n"
        "    done\n"
        "    [ ! -e \"$house\" ] || ampsum export \"$house\" 2>/dev/null | sed -n \"s/^\\[$1 \\(.*\\)\\]\\$/\\1/p\"\n"
        "}\n"
        "_ampsum() {\n"
        "    local word=${COMP_WORDS[COMP_CWORD]} option=${COMP_WORDS[COMP_CWORD-1]}\n"
        "    local words= operands= values= ids= kind\n"
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
                   "    for kind in $operands; do\n"
                   "        [ \"$option\" != \"$kind\" ] || ids=$kind operands=\n"
                   "    done\n"
                   "    if [ -n \"$values\" ]; then\n"
                   "        COMPREPLY=($(compgen -W \"$values\" -- \"$word\"))\n"
                   "    elif [[ $word == -* ]]; then\n"
                   "        COMPREPLY=($(compgen -W \"$words\" -- \"$word\"))\n"
                   "    else\n"
                   "        [ -z \"$ids\" ] || operands=$(_ampsum_ids \"$ids\")\n"
                   "        # a line for each, since names of files may hold blanks\n"
                   "        mapfile -t COMPREPLY < <(compgen -W \"$operands\" -- \"$word\"; compgen -f -- \"$word\")\n"
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
    struct text values = {0};
    add_value_words(&values, spec);
    if (values.length > 0) {
        text_printf(&words, ":value:(%s)", text_string(&values));
    } else if (value_kind(spec) != NULL) {
        text_printf(&words, ":value:_ampsum_ids %s", value_kind(spec));
    } else if (spec->value != NULL) {
        text_add(&words, ":value:_files");
    }
    text_done(&values);
    text_add(text, "            ");
    add_quoted(text, text_string(&words), false);
    text_add(text, " \\\n");
    text_done(&words);
}

void completion_zsh(struct text *text)
{
    text_add(text,
             "#compdef ampsum\n# made from the command table of ampsum\n"
             "_ampsum_ids() {\n"
             "    local -a ids houses=(${(M)words:#*.(ini|db)})\n"
             "    local house=${${houses[1]:-${AMPSUM_HOUSE:-house.db}}//\\\\/}\n"
             "    ids=(${(f)\"$(ampsum export $house 2>/dev/null | sed -n \"s/^\\[$1 \\(.*\\)\\]\\$/\\1/p\")\"})\n"
             "    compadd -a ids\n"
             "}\n"
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
        text_add(text, takes_kind(commands[i])     ? "            '*:operand:->operand' && return\n"
                       : takes_branch(commands[i]) ? "            '*:branch:->operand' && return\n"
                                                   : "            '*:file:_files'\n");
        if (takes_kind(commands[i])) {
            text_add(text, "        case $words[CURRENT-1] in\n        ");
            for (size_t k = 0; k < KIND_COUNT; k++) {
                text_printf(text, "%s%s", k == 0 ? "" : "|", sections[k].word);
            }
            text_add(text, ") _ampsum_ids $words[CURRENT-1] && return ;;\n        esac\n"
                           "        _alternative 'kinds:kind:(");
            add_kinds(text);
            text_add(text, ")' 'files:file:_files'\n");
        } else if (takes_branch(commands[i])) {
            text_add(text, "        _alternative 'ids:branch:_ampsum_ids branch' 'files:file:_files'\n");
        }
        text_add(text, "        ;;\n");
    }
    text_add(text, "esac\n");
}

static void fish_option(struct text *text, const struct command *command, const struct option_spec *spec)
{
    struct text words = {0};
    add_value_words(&words, spec);
    text_printf(text, "complete -c ampsum -n '__ampsum_is %s' -l %s", command->name, spec->name);
    if (spec->letter != '\0') {
        text_printf(text, " -s %c", spec->letter);
    }
    if (words.length > 0) {
        text_printf(text, " -x -a '%s'", text_string(&words));
    } else if (value_kind(spec) != NULL) {
        text_printf(text, " -x -a '(__ampsum_ids %s)'", value_kind(spec));
    } else if (spec->value != NULL) {
        text_add(text, " -r");
    }
    text_add(text, " -d ");
    add_quoted(text, spec->help, true);
    text_add_char(text, '\n');
    text_done(&words);
}

/* The command is the second word: a later one of that name is an operand. */
static const char fish_functions[] =
    "function __ampsum_is\n"
    "    set -l words (commandline -opc)\n"
    "    test (count $words) -gt 1; and test $words[2] = $argv[1]\n"
    "end\n"
    "function __ampsum_ids\n"
    "    set -l house house.db\n"
    "    set -q AMPSUM_HOUSE; and set house $AMPSUM_HOUSE\n"
    "    for word in (commandline -opc)\n"
    "        string match -rq '\\.(ini|db)$' -- $word; and set house $word\n"
    "    end\n"
    "    ampsum export $house 2>/dev/null | string replace -rf '^\\['$argv[1]' (.*)\\]$' '$1'\n"
    "end\n"
    "function __ampsum_kind\n"
    "    set -l words (commandline -opc)\n"
    "    contains -- $words[-1] $argv; and __ampsum_ids $words[-1]\n"
    "end\n";

void completion_fish(struct text *text)
{
    text_add(text, "# fish completion for ampsum, made from its command table\n");
    text_add(text, fish_functions);
    for (size_t i = 0; commands[i] != NULL; i++) {
        const struct command *command = commands[i];
        text_printf(text, "complete -c ampsum -n __fish_use_subcommand -f -a %s -d ", command->name);
        add_quoted(text, command->summary, true);
        text_add_char(text, '\n');
        const struct option_spec *spec = NULL;
        for (size_t k = 0; (spec = command_option(command, k)) != NULL; k++) {
            fish_option(text, command, spec);
        }
        if (takes_branch(command)) {
            text_printf(text, "complete -c ampsum -n '__ampsum_is %s' -a '(__ampsum_ids branch)'\n", command->name);
        }
        if (takes_kind(command)) {
            text_printf(text, "complete -c ampsum -n '__ampsum_is %s' -a '", command->name);
            add_kinds(text);
            text_printf(text, "'\ncomplete -c ampsum -n '__ampsum_is %s' -a '(__ampsum_kind ", command->name);
            add_kinds(text);
            text_add(text, ")'\n");
        }
    }
}
