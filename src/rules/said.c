/* What was taken because the house does not say it: once an output, with the key that settles it. */
#include <string.h>

#include "findings.h"
#include "planning.h"

void said_add(struct assessment *assessment, struct text *line)
{
    struct said *said = &assessment->said;
    if (said->count == said->capacity) {
        const size_t capacity = said->capacity == 0 ? 4 : 2 * said->capacity;
        const char **moved = arena_array(assessment->arena, capacity, sizeof *moved);
        if (said->count > 0) {
            memcpy(moved, said->line, said->count * sizeof *moved);
        }
        said->line = moved;
        said->capacity = capacity;
    }
    said->line[said->count++] = arena_copy(assessment->arena, text_string(line));
    text_done(line);
}

static void say_words(struct assessment *assessment)
{
    const struct house *house = assessment->house;
    struct text line = {0};
    for (size_t i = 0; i < house->appliance_count; i++) {
        const struct appliance *appliance = &house->appliances[i];
        const char *category = load_category(appliance);
        if (appliance->category == CATEGORY_OTHER && strcmp(category, category_word(CATEGORY_OTHER)) != 0) {
            text_printf(&line, "%s%s as %s", line.length == 0 ? "Counted by the words of their names: " : ", ",
                        appliance->name, category);
        }
    }
    if (line.length > 0) {
        text_add(&line, ". The key `category` settles it.");
        said_add(assessment, &line);
    }
}

/* Cooking of several units of which no word tells which is the cooktop. */
static void say_cooking(struct assessment *assessment)
{
    const struct house *house = assessment->house;
    struct text line = {0};
    for (size_t i = 0; i < house->branch_count; i++) {
        struct cooking cooking;
        if (assessment->factors.loads != NULL && branch_cooking(house, i, &cooking) && !cooking.words_tell) {
            text_printf(&line, "%s%s",
                        line.length == 0 ? "Taken for one cooktop with its ovens, since no name says otherwise: "
                                         : ", ",
                        house->branches[i].id);
        }
    }
    if (line.length > 0) {
        text_add(&line, ". A `name` that says cooktop, oven or range settles it.");
        said_add(assessment, &line);
    }
}

/* Under the edition that renumbers, the numbers and figures before it are cited. */
static void say_edition(struct assessment *assessment)
{
    const struct house *house = assessment->house;
    const struct ref_rule *row = reference_rule("renumbering-edition", rules_word(house->rules));
    if (row != NULL && house->code_edition >= (int)row->value) {
        struct text line = {0};
        text_printf(&line, "Numbers are those of the edition before %d: there %s. The key `code_edition` settles it.",
                    house->code_edition, row->note);
        said_add(assessment, &line);
    }
}

/* Showers whose plate is taken to be for another voltage than the house has. */
static void say_showers(struct assessment *assessment)
{
    const struct house *house = assessment->house;
    struct text line = {0};
    for (size_t i = 0; i < house->appliance_count; i++) {
        const struct appliance *appliance = &house->appliances[i];
        if (!appliance_is_shower(house, i)) {
            continue;
        }
        if (line.length == 0) {
            text_add(&line, "Plates taken to be stated at ");
            text_add_number(&line, appliance->rated_voltage_v);
            text_printf(&line, " V: %s", appliance->name);
        } else {
            text_printf(&line, ", %s", appliance->name);
        }
    }
    if (line.length > 0) {
        text_add(&line, ". The key `rated_voltage` settles it.");
        said_add(assessment, &line);
    }
}

/* Cooking between two lines that is taken for two halves to the neutral. */
static void say_connection(struct assessment *assessment)
{
    const struct house *house = assessment->house;
    struct text line = {0};
    for (size_t i = 0; i < house->appliance_count; i++) {
        const struct appliance *appliance = &house->appliances[i];
        if (appliance->connection == CONNECTION_NOT_SAID && appliance->connected == CONNECTION_2L_N) {
            text_printf(&line, "%s%s",
                        line.length == 0
                            ? "Taken to be connected to two lines and the neutral, half its power on each: "
                            : ", ",
                        appliance->name);
        }
    }
    if (line.length > 0) {
        text_add(&line, ". The key `connection` settles it.");
        said_add(assessment, &line);
    }
}

void say_what_was_taken(struct assessment *assessment)
{
    say_words(assessment);
    say_cooking(assessment);
    say_edition(assessment);
    say_showers(assessment);
    say_connection(assessment);
}
