/* The house that a command was given, and what it is asked to look at. */
#include <errno.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

#include "ampsum/housefile.h"
#include "ampsum/quantity.h"
#include "ampsum/reference.h"
#include "ampsum/words.h"
#include "cli.h"

static bool ends_with(const char *string, const char *ending)
{
    size_t length = strlen(string);
    size_t ending_length = strlen(ending);
    return length >= ending_length && strcmp(string + length - ending_length, ending) == 0;
}

static bool looks_like_house(const char *operand)
{
    struct stat status;
    return strcmp(operand, "-") == 0 || ends_with(operand, ".ini") || ends_with(operand, ".db") ||
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
    invocation->house_path = environment != NULL && environment[0] != '\0' ? environment : "house.db";
    return invocation->house_path;
}

bool read_house(const char *path, struct house **ret_house, struct error *error)
{
    if (!store_is_database(path) && !ends_with(path, ".db")) {
        return housefile_read(path, ret_house, error);
    }
    struct store *store = NULL;
    if (!store_open(path, STORE_READ, &store, error)) {
        return false;
    }
    bool read = store_read_house(store, ret_house, error);
    store_close(store);
    return read;
}

bool invocation_is_database(struct invocation *invocation)
{
    const char *path = invocation->house_path;
    if (store_is_database(path) || ends_with(path, ".db")) {
        return true;
    }
    error_set(&invocation->error, ERROR_INPUT,
              "%s: not a house database; a house file is edited with a text editor, or: ampsum import %s -o house.db",
              path, path);
    return false;
}

bool invocation_house(struct invocation *invocation, size_t operands_after)
{
    const char *path = invocation_house_path(invocation, operands_after);
    return read_house(path, &invocation->house, &invocation->error);
}

bool invocation_operands(struct invocation *invocation, size_t least, size_t most)
{
    const struct command *command = invocation->command;
    if (invocation->operand_count < least) {
        error_set(&invocation->error, ERROR_INPUT, "%s: something is missing, expected: ampsum %s %s", command->name,
                  command->name, command->operands);
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
    size_t index = house_find(invocation->house, kind, id);
    if (index != NO_INDEX) {
        return index;
    }
    const char *nearest = house_nearest_id(invocation->house, kind, id);
    error_set(&invocation->error, ERROR_INPUT, "%s: no %s has this ID%s%s", id, kind_word(kind),
              nearest == NULL ? "" : "; the nearest is ", nearest == NULL ? "" : nearest);
    return NO_INDEX;
}

/* One entry of --on: `kettle` or `kettle*2`. */
static bool switch_on(struct invocation *invocation, const char *entry, unsigned *on)
{
    size_t length = strcspn(entry, "*");
    char *id = arena_copy_length(invocation->arena, entry, length);
    size_t appliance = find_id(invocation, KIND_APPLIANCE, id);
    if (appliance == NO_INDEX) {
        return false;
    }
    long units = (long)invocation->house->appliances[appliance].count;
    if (on[appliance] != 0) {
        error_set(&invocation->error, ERROR_INPUT,
                  "--on %s: %s is given twice, expected each once (%s*2 for two of them)", entry, id, id);
        return false;
    }
    if (entry[length] == '*' && units == 1) {
        error_set(&invocation->error, ERROR_INPUT, "--on %s: only one %s is listed, expected %s", entry, id, id);
        return false;
    }
    struct text fault = {0};
    if (entry[length] == '*' && !quantity_read_whole(entry + length + 1, 1, units, &units, &fault)) {
        error_set(&invocation->error, ERROR_INPUT, "--on %s: %s", entry, text_string(&fault));
        text_done(&fault);
        return false;
    }
    on[appliance] = (unsigned)units;
    return true;
}

static bool read_on_list(struct invocation *invocation, const char *list, unsigned *on)
{
    for (const char *at = list; *at != '\0';) {
        at += strspn(at, " ");
        size_t length = strcspn(at, ",");
        size_t used = length;
        while (used > 0 && at[used - 1] == ' ') {
            used--;
        }
        if (used == 0 || (at[length] == ',' && at[length + 1] == '\0')) {
            error_set(&invocation->error, ERROR_INPUT, "--on %s: an entry is empty, expected IDs parted by commas",
                      list);
            return false;
        }
        if (!switch_on(invocation, arena_copy_length(invocation->arena, at, used), on)) {
            return false;
        }
        at += length + (at[length] == ',');
    }
    return true;
}

bool invocation_basis(struct invocation *invocation, struct assess_options *options)
{
    const char *scene = option_value(invocation, "scene");
    const char *list = option_value(invocation, "on");
    options->basis = BASIS_BUSIEST;
    if (scene == NULL && list == NULL) {
        return true;
    }
    if (scene != NULL && list != NULL) {
        error_set(&invocation->error, ERROR_INPUT, "--scene and --on exclude each other: give one of them");
        return false;
    }
    const struct house *house = invocation->house;
    unsigned *on = arena_array(invocation->arena, house->appliance_count, sizeof *on);
    options->on = on;
    if (scene != NULL) {
        options->basis = BASIS_SCENE;
        options->scene = find_id(invocation, KIND_SCENE, scene);
        if (options->scene == NO_INDEX) {
            return false;
        }
        scene_units_on(house, &house->scenes[options->scene], on);
        return true;
    }
    options->basis = BASIS_SET;
    return read_on_list(invocation, list, on);
}

bool invocation_rule_set(struct invocation *invocation, const char **ret_rules)
{
    *ret_rules = option_value(invocation, "rules");
    bool known = *ret_rules == NULL;
    for (int rules = RULES_US; rules <= RULES_UK; rules++) {
        known = known || strcmp(*ret_rules, rules_word(rules)) == 0;
    }
    if (!known) {
        error_set(&invocation->error, ERROR_INPUT, "--rules %s: expected us, iec or uk", *ret_rules);
    }
    return known;
}

bool invocation_supply(struct invocation *invocation, double *ret_ratio)
{
    *ret_ratio = 1;
    const char *value = option_value(invocation, "supply");
    if (value == NULL) {
        return true;
    }
    const char *rules = rules_word(invocation->house->rules);
    if (strcmp(value, "low") == 0) {
        *ret_ratio = 1 - reference_rule_value("supply-under", rules) / 100;
        return true;
    }
    if (strcmp(value, "high") == 0) {
        *ret_ratio = 1 + reference_rule_value("supply-over", rules) / 100;
        return true;
    }
    struct text fault = {0};
    double volt = 0;
    bool good = quantity_read(value, DIMENSION_VOLTAGE, invocation->house->rules, KEY_ABOVE_ZERO, &volt, &fault);
    if (!good) {
        error_set(&invocation->error, ERROR_INPUT, "--supply %s: %s (or low, or high)", value, text_string(&fault));
    } else if (volt < invocation->house->voltage_v / 2 || volt > invocation->house->voltage_v * 2) {
        error_set(
            &invocation->error, ERROR_INPUT,
            "--supply %s: more than twice or less than half of the nominal voltage, expected volts line to neutral",
            value);
        good = false;
    }
    *ret_ratio = good ? volt / invocation->house->voltage_v : 1;
    text_done(&fault);
    return good;
}

void invocation_bill(struct invocation *invocation, const struct house *house, size_t tariff, unsigned rows,
                     struct energy_bill *ret_bill)
{
    const struct ref_currency *currency = reference_currency(house->currency);
    energy_year_rows(house, tariff, currency == NULL ? 2 : currency->minor_units, rows, invocation->arena, ret_bill);
}

void add_shell_path(struct text *out, const char *path)
{
    bool plain = path[0] != '\0';
    for (const unsigned char *at = (const unsigned char *)path; *at != '\0' && plain; at++) {
        plain = *at >= 0x80 || (*at >= '0' && *at <= '9') || (*at >= 'a' && *at <= 'z') || (*at >= 'A' && *at <= 'Z') ||
                strchr("/._-+:@%,", *at) != NULL;
    }
    text_add(out, path[0] == '-' && path[1] != '\0' ? "./" : "");
    if (plain) {
        text_add(out, path);
        return;
    }
    text_add_char(out, '\'');
    for (const char *at = path; *at != '\0'; at++) {
        if (*at == '\'') {
            text_add(out, "'\\''");
        } else {
            text_add_char(out, *at);
        }
    }
    text_add_char(out, '\'');
}

void invocation_next(struct invocation *invocation, const char *const *lines)
{
    struct text *out = &invocation->out;
    for (size_t i = 0; lines[i] != NULL; i++) {
        text_add(out, i == 0 ? "\nNext:  " : "       ");
        for (const char *at = lines[i]; *at != '\0';) {
            if (strncmp(at, "HOUSE", 5) == 0) {
                add_shell_path(out, invocation->house_path);
                at += 5;
            } else {
                text_add_char(out, *at++);
            }
        }
        text_add_char(out, '\n');
    }
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
