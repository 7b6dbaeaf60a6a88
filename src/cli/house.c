/* The house that a command was given, and what it is asked to look at. */
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "ampsum/answer_choice.h"
#include "ampsum/answer_open.h"
#include "ampsum/housefile.h"
#include "ampsum/quantity.h"
#include "ampsum/reference.h"
#include "ampsum/show_supply.h"
#include "ampsum/words.h"
#include "cli.h"

static bool looks_like_house(const char *operand)
{
    struct stat status;
    return strcmp(operand, "-") == 0 || words_end_with(operand, ".ini") || words_end_with(operand, ".db") ||
           stat(operand, &status) == 0;
}

const char *invocation_house_path(struct invocation *invocation, size_t operands_after)
{
    bool named = invocation->operand_count > operands_after ||
                 (invocation->operand_count > 0 && looks_like_house(invocation->operands[0]));
    if (named) {
        invocation->house_path = invocation->operands[0];
        invocation->operands++;
        invocation->operand_count--;
        return invocation->house_path;
    }
    const char *environment = getenv("AMPSUM_HOUSE");
    invocation->house_unsaid = environment == NULL || environment[0] == '\0';
    invocation->house_path = environment != NULL && environment[0] != '\0' ? environment : "house.db";
    return invocation->house_path;
}

bool invocation_is_database(struct invocation *invocation)
{
    const char *path = invocation->house_path;
    if (house_is_database(path)) {
        return true;
    }
    error_set(&invocation->error, ERROR_INPUT,
              "%s: not a house database; a house file is edited with a text editor, or: ampsum import %s -o house.db",
              path, path);
    return false;
}

const char *invocation_word(struct invocation *invocation, const char *word)
{
    struct text quoted = {0};
    struct text shown = {0};
    text_add_shell(&quoted, word);
    text_add(&shown, word[0] == '-' && word[1] != '\0' ? "./" : "");
    text_add_harmless(&shown, text_string(&quoted));
    text_done(&quoted);
    return arena_text(invocation->arena, &shown);
}

bool invocation_house(struct invocation *invocation, size_t operands_after)
{
    const char *path = invocation_house_path(invocation, operands_after);
    const bool unsaid = strcmp(path, "house.db") == 0 && invocation->house_unsaid && access(path, F_OK) != 0;
    if (unsaid) {
        error_set(&invocation->error, ERROR_INPUT,
                  "%s: no house was given, and there is no house.db here; expected: ampsum %s %s; to begin a house: "
                  "ampsum new my-home.ini",
                  invocation->command->name, invocation->command->name, invocation->command->operands);
        return false;
    }
    invocation->page.house = invocation_word(invocation, path);
    return house_open(path, &invocation->house, &invocation->error);
}

bool invocation_house_if_any(struct invocation *invocation)
{
    const char *environment = getenv("AMPSUM_HOUSE");
    const bool none = invocation->operand_count == 0 && (environment == NULL || environment[0] == '\0') &&
                      access("house.db", F_OK) != 0;
    return none || invocation_house(invocation, 0);
}

bool invocation_operands(struct invocation *invocation, size_t least, size_t most)
{
    const struct command *command = invocation->command;
    if (invocation->operand_count < least) {
        struct text ids = {0};
        if (strcmp(command->operands, "[HOUSE] ID") == 0 && invocation->house != NULL) {
            text_add(&ids, "; branches: ");
            choice_list_ids(invocation->house, KIND_BRANCH, &ids);
        }
        error_set(&invocation->error, ERROR_INPUT, "%s: something is missing, expected: ampsum %s %s%s", command->name,
                  command->name, command->operands, text_string(&ids));
        text_done(&ids);
        return false;
    }
    if (invocation->operand_count > most) {
        error_set(&invocation->error, ERROR_INPUT, "%s: '%s' is one too many, expected: ampsum %s %s", command->name,
                  invocation->operands[most], command->name, command->operands);
        return false;
    }
    return true;
}

size_t find_id(struct invocation *invocation, enum kind kind, const char *id)
{
    return choice_find(invocation->house, kind, id, &invocation->error);
}

const char *invocation_operand(const struct invocation *invocation)
{
    return invocation->operand_count > 0 ? invocation->operands[0] : NULL;
}

bool invocation_branch(struct invocation *invocation, size_t *ret_branch)
{
    *ret_branch = find_id(invocation, KIND_BRANCH, invocation->operands[0]);
    return *ret_branch != NO_INDEX;
}

static bool read_basis(struct invocation *invocation, const struct look *look, struct assess_options *choice)
{
    const struct house *house = invocation->house;
    choice->basis = BASIS_BUSIEST;
    if (look->scene != NULL && look->on != NULL) {
        error_set(&invocation->error, ERROR_INPUT, "--scene and --on exclude each other: give one of them");
        return false;
    }
    if (look->scene != NULL) {
        return choice_read_scene(house, look->scene, invocation->arena, choice, &invocation->error);
    }
    if (look->on == NULL) {
        return true;
    }
    unsigned *on = arena_array(invocation->arena, house->appliance_count, sizeof *on);
    choice->basis = BASIS_SET;
    choice->on = on;
    return choice_read_on(house, "--on", look->on, on, &invocation->error);
}

bool invocation_look(struct invocation *invocation, const struct look *look, struct assess_options *choice)
{
    choice->supply_ratio = 1;
    return read_basis(invocation, look, choice) &&
           (look->supply == NULL ||
            choice_read_supply(invocation->house, "--supply", look->supply, &choice->supply_ratio, &invocation->error));
}

/* Both ends of the band beside each other; the exit status. */
static int answer_band(struct invocation *invocation, const struct assess_options *choice, size_t branch)
{
    struct supply_answer answer;
    answer_supply(invocation->house, choice, branch, &answer);
    if (!INVOCATION_DATA(invocation, show_supply_band_json(&answer, invocation->command->name), &show_supply_rows,
                         &answer, answer.count)) {
        show_supply_band_text(&answer, &invocation->page, &invocation->out);
        invocation_next(invocation, "ampsum check HOUSE --supply high");
        invocation_next(invocation, "ampsum check HOUSE --supply low");
    }
    const int status = answer.over ? 1 : 0;
    supply_answer_done(&answer);
    return status;
}

bool invocation_look_or_band(struct invocation *invocation, const struct look *look, size_t branch,
                             struct assess_options *choice, int *ret_status)
{
    const bool band = look->supply != NULL && strcmp(look->supply, "band") == 0;
    const struct look at_nominal = {look->scene, look->on, NULL};
    *ret_status = 2;
    if (!invocation_look(invocation, band ? &at_nominal : look, choice)) {
        return false;
    }
    if (band) {
        *ret_status = answer_band(invocation, choice, branch);
    }
    return !band;
}

bool invocation_write_file(struct invocation *invocation, const char *path, const struct text *bytes, bool force)
{
    const bool written = file_write_whole(path, text_string(bytes), bytes->length, force, &invocation->error);
    if (written) {
        text_add_harmless(&invocation->out, path);
        text_add(&invocation->out, ": written\n");
    }
    return written;
}

void invocation_next(struct invocation *invocation, const char *format, ...)
{
    struct text *out = &invocation->out;
    struct text line = {0};
    va_list arguments;
    va_start(arguments, format);
    text_printf_list(&line, format, arguments);
    va_end(arguments);
    text_add(out, invocation->next_said ? "       " : "\nNext:  ");
    invocation->next_said = true;
    for (const char *at = text_string(&line); *at != '\0';) {
        if (strncmp(at, "HOUSE", 5) == 0) {
            text_add(out, invocation_word(invocation, invocation->house_path));
            at += 5;
        } else {
            text_add_char(out, *at++);
        }
    }
    text_add_char(out, '\n');
    text_done(&line);
}

void invocation_csv(struct invocation *invocation, struct table *table)
{
    table_write_csv(table, &invocation->out);
    table_free(table);
}
