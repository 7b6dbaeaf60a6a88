/* The house that a command was given, and what it is asked to look at. */
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "ampsum/answer_choice.h"
#include "ampsum/answer_open.h"
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

void add_shell_path(struct text *out, const char *path)
{
    text_add(out, path[0] == '-' && path[1] != '\0' ? "./" : "");
    struct text word = {0};
    text_add_shell(&word, path);
    text_add_harmless(out, text_string(&word));
    text_done(&word);
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
    struct text word = {0};
    add_shell_path(&word, path);
    invocation->page.house = arena_text(invocation->arena, &word);
    return house_open(path, &invocation->house, &invocation->error);
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

bool invocation_basis(struct invocation *invocation, struct assess_options *options)
{
    const char *scene = option_value(invocation, "scene");
    const char *list = option_value(invocation, "on");
    const struct house *house = invocation->house;
    options->basis = BASIS_BUSIEST;
    if (scene != NULL && list != NULL) {
        error_set(&invocation->error, ERROR_INPUT, "--scene and --on exclude each other: give one of them");
        return false;
    }
    if (scene != NULL) {
        return choice_read_scene(house, scene, invocation->arena, options, &invocation->error);
    }
    if (list != NULL) {
        unsigned *on = arena_array(invocation->arena, house->appliance_count, sizeof *on);
        options->basis = BASIS_SET;
        options->on = on;
        return choice_read_on(house, "--on", list, on, &invocation->error);
    }
    return true;
}

bool invocation_rule_set(struct invocation *invocation, const char **ret_rules)
{
    *ret_rules = option_value(invocation, "rules");
    if (*ret_rules == NULL || reference_rule_set(*ret_rules) != NULL) {
        return true;
    }
    struct text known = {0};
    reference_rule_set_list(&known);
    error_set(&invocation->error, ERROR_INPUT, "--rules %s: expected %s", *ret_rules, text_string(&known));
    text_done(&known);
    return false;
}

bool invocation_supply(struct invocation *invocation, double *ret_ratio)
{
    const char *value = option_value(invocation, "supply");
    *ret_ratio = 1;
    return value == NULL || choice_read_supply(invocation->house, "--supply", value, ret_ratio, &invocation->error);
}

bool invocation_asks_band(const struct invocation *invocation)
{
    const char *value = option_value(invocation, "supply");
    return value != NULL && strcmp(value, "band") == 0;
}

int invocation_answer_band(struct invocation *invocation, const struct assess_options *choice, size_t branch)
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
            add_shell_path(out, invocation->house_path);
            at += 5;
        } else {
            text_add_char(out, *at++);
        }
    }
    text_add_char(out, '\n');
    text_done(&line);
}

void invocation_table(struct invocation *invocation, const struct table *table)
{
    if (invocation->format == FORMAT_CSV) {
        table_write_csv(table, &invocation->out);
    } else {
        table_write_terminal(table, invocation->page.width, invocation->page.utf8, &invocation->out);
    }
}

void invocation_csv(struct invocation *invocation, const struct show_rows *rows, const void *answer, size_t count)
{
    struct table *table = show_table(rows, SHOW_CSV, answer, count);
    table_write_csv(table, &invocation->out);
    table_free(table);
}
