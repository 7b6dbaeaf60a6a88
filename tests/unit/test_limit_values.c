/*
 * Every check value of the limits, tests/outside/limits.tsv, and of protection by room, protection.tsv: read as a
 * house, assessed as `check` does.
 */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "ampsum/assess.h"
#include "ampsum/housefile.h"
#include "fixture.h"
#include "runner.h"

enum { CELLS = 8, LINE_MOST = 2048, ROWS_LEAST = 175, ROOMS_LEAST = 60 };

static const char *const severities[] = {"note", "warning", "danger"};

/* `a=b;c=d` as lines; nothing for `-`. */
static void add_lines(struct text *text, const char *cell)
{
    if (strcmp(cell, "-") == 0) {
        return;
    }
    for (; *cell != '\0'; cell++) {
        text_add_char(text, *cell == ';' ? '\n' : *cell);
    }
    text_add_char(text, '\n');
}

/* Numbers that the rows speak of. */
static bool is_meant(const struct finding *finding)
{
    const int number = atoi(finding->id);
    return (number >= 1 && number <= 9 && number != 7) || (number >= 15 && number <= 20);
}

static void check_figure(const char *id, const struct finding *finding, char *wanted)
{
    char *parts[2] = {NULL, NULL};
    ck_assert_int_eq(fixture_split(wanted, '=', parts, 2), 2);
    for (size_t i = 0; i < finding->figure_count; i++) {
        const struct finding_figure *figure = &finding->figures[i];
        if (strcmp(figure->key, parts[0]) != 0) {
            continue;
        }
        if (strcmp(parts[0], "reading") == 0) {
            ck_assert_msg(figure->word != NULL && strcmp(figure->word, parts[1]) == 0, "%s: reading %s", id,
                          figure->word);
        } else {
            ck_assert_msg(fabs(figure->number - strtod(parts[1], NULL)) < 1e-6, "%s: %s is %.9g, not %s", id, parts[0],
                          figure->number, parts[1]);
        }
        return;
    }
    ck_abort_msg("%s: finding %s has no %s", id, finding->id, parts[0]);
}

static void check_findings(const char *id, const struct finding_list *list, char *wanted)
{
    enum { MOST = 8 };
    char *rows[MOST];
    const int count = strcmp(wanted, "-") == 0 ? 0 : fixture_split(wanted, '|', rows, MOST);
    int found = 0;
    for (size_t i = 0; i < list->count; i++) {
        const struct finding *finding = &list->finding[i];
        if (!is_meant(finding)) {
            continue;
        }
        ck_assert_msg(found < count, "%s: %s %s besides: %s", id, finding->id, severities[finding->severity],
                      finding->text);
        char *parts[3] = {NULL, NULL, NULL};
        const int part_count = fixture_split(rows[found++], ' ', parts, 3);
        ck_assert_msg(strcmp(finding->id, parts[0]) == 0 && strcmp(severities[finding->severity], parts[1]) == 0,
                      "%s: %s %s, not %s %s", id, finding->id, severities[finding->severity], parts[0], parts[1]);
        if (part_count == 3) {
            check_figure(id, finding, parts[2]);
        }
    }
    ck_assert_msg(found == count, "%s: %d findings, not %d", id, found, count);
}

/* The house of a row, and what is found there. */
struct found {
    struct house *house;
    struct assessment *assessment;
};

static struct found found_of(char *const cell[CELLS])
{
    struct text text = {0};
    struct error error = {0};
    struct found found = {0};
    text_add(&text, "[house]\nname = x\n");
    add_lines(&text, cell[1]);
    text_add(&text, "[branch b]\nlabel = b\n");
    add_lines(&text, cell[2]);
    add_lines(&text, cell[3]);
    ck_assert_msg(housefile_read_house_bytes(cell[0], text_string(&text), text.length, &found.house, &error), "%s",
                  error_message(&error));
    text_done(&text);
    const struct assess_options options = {.wires = true};
    found.assessment = assess_house(found.house, &options);
    return found;
}

static void found_done(struct found *found)
{
    assess_free(found->assessment);
    house_free(found->house);
}

static void check_row(char *const cell[CELLS])
{
    struct found found = found_of(cell);
    const struct branch_figures *all = &found.assessment->branches[0].all;
    if (strcmp(cell[4], "-") != 0) {
        ck_assert_msg(fabs(all->planning_a - strtod(cell[4], NULL)) < 1e-6, "%s: plans %.9g A", cell[0],
                      all->planning_a);
    }
    if (strcmp(cell[5], "-") != 0) {
        ck_assert_msg(fabs(all->wire_a - strtod(cell[5], NULL)) < 1e-6, "%s: wire %.9g A", cell[0], all->wire_a);
    }
    check_findings(cell[0], &found.assessment->branches[0].findings, cell[6]);
    found_done(&found);
}

/* The kinds that a finding asks for, parted by `+`; `-`: none. */
static void kinds_of(const struct finding *finding, struct text *text)
{
    for (size_t i = 0; finding != NULL && finding->figures[0].words[i] != NULL; i++) {
        text_printf(text, "%s%s", i == 0 ? "" : "+", finding->figures[0].words[i]);
    }
    text_add(text, text->length == 0 ? "-" : "");
}

static void check_rooms(char *const cell[CELLS])
{
    struct found found = found_of(cell);
    const struct finding_list *list = &found.assessment->branches[0].findings;
    const struct finding *finding = NULL;
    for (size_t i = 0; i < list->count; i++) {
        if (strcmp(list->finding[i].id, "12") == 0) {
            ck_assert_msg(finding == NULL, "%s: two notes", cell[0]);
            finding = &list->finding[i];
        }
    }
    struct text kinds = {0};
    kinds_of(finding, &kinds);
    ck_assert_msg(strcmp(text_string(&kinds), cell[4]) == 0, "%s: %s, not %s", cell[0], text_string(&kinds), cell[4]);
    text_done(&kinds);
    if (strcmp(cell[5], "-") != 0) {
        ck_assert_msg(finding != NULL && strstr(finding->text, cell[5]) != NULL, "%s: no %s", cell[0], cell[5]);
    }
    if (strcmp(cell[6], "-") != 0) {
        ck_assert_msg(finding != NULL && finding->figures[1].flag == (strcmp(cell[6], "no") == 0), "%s: then", cell[0]);
    }
    found_done(&found);
}

/* Calls `check` for each row of a file of tests/outside; at least so many. */
static void check_rows(const char *name, int least, void (*check)(char *const cell[CELLS]))
{
    char path[512];
    char line[LINE_MOST];
    snprintf(path, sizeof path, "%s/outside/%s", getenv("AMPSUM_TESTS"), name);
    FILE *file = fopen(path, "r");
    ck_assert_msg(file != NULL, "%s cannot be opened", path);
    int count = 0;
    while (fgets(line, sizeof line, file) != NULL) {
        if (line[0] == '#' || strncmp(line, "id\t", 3) == 0) {
            continue;
        }
        char *cell[CELLS];
        line[strcspn(line, "\n")] = '\0';
        ck_assert_int_eq(fixture_split(line, '\t', cell, CELLS), CELLS);
        check(cell);
        count++;
    }
    fclose(file);
    ck_assert_int_ge(count, least);
}

START_TEST(every_check_value_comes_out)
{
    check_rows("limits.tsv", ROWS_LEAST, check_row);
}
END_TEST

START_TEST(every_room_asks_for_its_protection)
{
    check_rows("protection.tsv", ROOMS_LEAST, check_rooms);
}
END_TEST

Suite *make_suite(void)
{
    Suite *suite = suite_create("limit_values");
    TCase *tcase = tcase_create("limit_values");
    tcase_add_test(tcase, every_check_value_comes_out);
    tcase_add_test(tcase, every_room_asks_for_its_protection);
    suite_add_tcase(suite, tcase);
    return suite;
}
