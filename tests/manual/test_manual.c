/* Every command, option and key of the tables stands in the manual pages and completions that were made from them. */
#include "../unit/runner.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "ampsum/keys.h"
#include "cli.h"

/* A built page, its `\-` and `\(aq` as the characters they show and its other marks without their backslash. */
static void read_page(const char *name, struct text *page)
{
    struct text path = {0};
    const char *folder = getenv("AMPSUM_MANUAL");
    text_printf(&path, "%s/%s", folder == NULL ? "." : folder, name);
    FILE *stream = fopen(text_string(&path), "rb");
    ck_assert_msg(stream != NULL, "%s: can't be read", text_string(&path));
    for (int c = fgetc(stream); c != EOF; c = fgetc(stream)) {
        if (c != '\\') {
            text_add_char(page, (char)c);
            continue;
        }
        c = fgetc(stream);
        if (c == '-') {
            text_add_char(page, '-');
        } else if (c == '(' && fgetc(stream) == 'a' && fgetc(stream) == 'q') {
            text_add_char(page, '\'');
        }
    }
    fclose(stream);
    text_done(&path);
}

/* The part of a page from the line that starts with `start` to the next line that starts with `end`. */
static void part_of(const struct text *page, const char *start, const char *end, struct text *part)
{
    const char *from = strstr(text_string(page), start);
    ck_assert_msg(from != NULL, "no %s", start);
    const char *to = strstr(from + strlen(start), end);
    text_add_length(part, from, to == NULL ? strlen(from) : (size_t)(to - from));
}

static void holds(const struct text *part, const char *want)
{
    ck_assert_msg(strstr(text_string(part), want) != NULL, "no `%s` in:\n%s", want, text_string(part));
}

START_TEST(page_has_every_option_of_a_command)
{
    const struct command *command = commands[_i];
    struct text page = {0};
    struct text part = {0};
    struct text want = {0};
    read_page("ampsum.1", &page);
    text_printf(&want, "\n.Ss %s\n", command->name);
    part_of(&page, text_string(&want), "\n.S", &part);
    const struct option_spec *spec = NULL;
    for (size_t i = 0; (spec = command_option(command, i)) != NULL; i++) {
        text_clear(&want);
        text_printf(&want, "Fl Fl %s%s", spec->name, spec->value != NULL ? " Ns = Ns Ar" : "\n");
        holds(&part, text_string(&want));
    }
    holds(&part, command->examples[0]);
    text_done(&want);
    text_done(&part);
    text_done(&page);
}
END_TEST

START_TEST(page_has_every_key_of_a_section)
{
    const struct section *section = &sections[_i];
    struct text page = {0};
    struct text part = {0};
    struct text want = {0};
    read_page("ampsum-house.5", &page);
    text_printf(&want, "\n.Ss [%s%s]\n", section->word, section->takes_id ? " ID" : "");
    part_of(&page, text_string(&want), "\n.S", &part);
    for (size_t i = 0; i < section->key_count; i++) {
        const struct key *key = &section->keys[i];
        text_clear(&want);
        text_printf(&want, "\n.It Ic %s%s", key->name, key->dimension == DIMENSION_NONE ? "" : " Bq ");
        holds(&part, text_string(&want));
        for (const struct choice *choice = key->choices; choice != NULL && choice->word != NULL; choice++) {
            text_clear(&want);
            text_printf(&want, "\n.Cm %s ", choice->word);
            holds(&part, text_string(&want));
        }
    }
    text_done(&want);
    text_done(&part);
    text_done(&page);
}
END_TEST

START_TEST(completions_have_every_option_of_a_command)
{
    static const struct {
        const char *file;
        const char *start; /* of the command's part */
        const char *end;
        const char *option;
    } scripts[] = {{"ampsum.bash", "\n    %s)\n", "\n        ;;\n", "--%s"},
                   {"_ampsum", "\n    %s)\n", "\n        ;;\n", "--%s"},
                   {"ampsum.fish", " -a %s -d ", " -n __fish_use_subcommand ", " -l %s"}};
    const struct command *command = commands[_i];
    for (size_t k = 0; k < sizeof scripts / sizeof scripts[0]; k++) {
        struct text page = {0};
        struct text part = {0};
        struct text want = {0};
        read_page(scripts[k].file, &page);
        const char *mark = strstr(scripts[k].start, "%s");
        text_add_length(&want, scripts[k].start, (size_t)(mark - scripts[k].start));
        text_printf(&want, "%s%s", command->name, mark + 2);
        part_of(&page, text_string(&want), scripts[k].end, &part);
        const struct option_spec *spec = NULL;
        for (size_t i = 0; (spec = command_option(command, i)) != NULL; i++) {
            text_clear(&want);
            text_add_length(&want, scripts[k].option, strlen(scripts[k].option) - 2);
            text_add(&want, spec->name);
            holds(&part, text_string(&want));
        }
        text_done(&want);
        text_done(&part);
        text_done(&page);
    }
}
END_TEST

/* Every option is stored, and has what its way of storing needs: words to choose among, a range, a place of its own
 * (but those whose order matters, which share one). */
START_TEST(a_stored_option_says_its_range)
{
    size_t stored = 0;
    for (size_t c = 0; commands[c] != NULL; c++) {
        for (const struct option_spec *spec = commands[c]->options; spec != NULL && spec->name != NULL; spec++) {
            const bool flag = spec->store == STORE_FLAG;
            const bool chosen = spec->store == STORE_CHOICE || spec->store == STORE_ONE_OF;
            ck_assert_msg(spec->store != STORE_NOT, "%s %s", commands[c]->name, spec->name);
            ck_assert_msg(flag == (spec->value == NULL), "%s", spec->name);
            ck_assert_msg(!chosen || strchr(spec->value, '|') != NULL, "%s", spec->name);
            ck_assert_msg(spec->store != STORE_WHOLE || spec->least < spec->most, "%s", spec->name);
            for (const struct option_spec *other = commands[c]->options; other != spec; other++) {
                const bool steps = spec->store == STORE_STEPS && other->store == STORE_STEPS;
                ck_assert_msg(steps || other->at != spec->at, "%s and %s", spec->name, other->name);
            }
            stored++;
        }
    }
    ck_assert_uint_gt(stored, 100);
}
END_TEST

Suite *make_suite(void)
{
    int command_count = 0;
    while (commands[command_count] != NULL) {
        command_count++;
    }
    Suite *suite = suite_create("manual");
    TCase *tcase = tcase_create("manual");
    tcase_add_test(tcase, a_stored_option_says_its_range);
    tcase_add_loop_test(tcase, page_has_every_option_of_a_command, 0, command_count);
    tcase_add_loop_test(tcase, page_has_every_key_of_a_section, 0, KIND_COUNT);
    tcase_add_loop_test(tcase, completions_have_every_option_of_a_command, 0, command_count);
    suite_add_tcase(suite, tcase);
    return suite;
}
