/*
 * Where lessons, marks and circuits are made, C code holds keys of schema/language and no sentence: the source is read
 * as text. What is left in English stands below, with how many there are and why; none may come, and who takes one away
 * counts again.
 */
#include "runner.h"

#include <ctype.h>
#include <dirent.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "../../src/language/rows.h"
#include "ampsum/text.h"

/* Folders, and which files of them by the beginning of their names. */
static const struct {
    const char *folder;
    const char *begin;
} rooms[] = {
    {"lesson", ""},     {"circuit", ""},          {"steps", ""},         {"show", "circuit_"},
    {"show", "lesson"}, {"show", "live"},         {"show", "mark"},      {"draw", "lesson_"},
    {"draw", "ladder"}, {"draw", "picture_live"}, {"draw", "picture_n"}, {"draw", "print_ne"},
};

static const struct exception {
    const char *file;
    size_t count;
    const char *why;
} exceptions[] = {
    {"lesson/answer.c", 10, "sheets of the first generator, which were in English alone; --stock"},
    {"lesson/answer_words.c", 23, "words that students write, of all languages"},
    {"lesson/reading.c", 15, "the same"},
    {"lesson/decide.c", 2, "what is written in decide.csv itself"},
    {"lesson/names.c", 3, "refused files, before the class's language is known"},
    {"lesson/plan_file.c", 2, "the same"},
    {"lesson/folder.c", 6, "the same"},
    {"lesson/expect.c", 1, "a refused option"},
    {"lesson/scheme.c", 2, "the same"},
    {"lesson/stock_show.c", 2, "the same"},
    {"lesson/kinds_changes.c", 2, "a letter with its mark, which is in no sentence"},
    {"lesson/kinds_loop.c", 1, "the same"},
    {"steps/steps.c", 1, "letters"},
    {"lesson/slips.c", 1, "an assertion"},
    {"lesson/units.c", 1, "currencies"},
    {"draw/lesson_paper_main.c", 2, "messages of ampsum-draw"},
    {"show/lesson.c", 9, "parts from a shelf, which is no class's: in English"},
};

static void read_file(const char *folder, const char *name, struct text *ret)
{
    struct text path = {0};
    text_printf(&path, "%s/../src/%s/%s", getenv("AMPSUM_TESTS"), folder, name);
    FILE *file = fopen(text_string(&path), "rb");
    ck_assert_msg(file != NULL, "%s", text_string(&path));
    text_clear(ret);
    for (int c = getc(file); c != EOF; c = getc(file)) {
        text_add_char(ret, (char)c);
    }
    fclose(file);
    text_done(&path);
}

/* Behind a comment or a character in quotes that begins there; else the place itself. */
static const char *skip(const char *at)
{
    if (strncmp(at, "/*", 2) == 0) {
        const char *end = strstr(at + 2, "*/");
        return end == NULL ? at + strlen(at) : end + 2;
    }
    if (*at == '\'') {
        at += at[1] == '\\' ? 3 : 2;
        return *at == '\'' ? at + 1 : at;
    }
    return strncmp(at, "#include", 8) == 0 ? at + strcspn(at, "\n") : at;
}

/* The next string of the source, those that stand side by side joined; false at the end. */
static bool next_string(const char **at, struct text *string)
{
    text_clear(string);
    while (**at != '\0' && **at != '"') {
        const char *behind = skip(*at);
        *at = behind > *at ? behind : *at + 1;
    }
    const bool found = **at == '"';
    while (**at == '"') {
        for ((*at)++; **at != '"'; (*at)++) {
            text_add_char(string, **at);
            if (**at == '\\') {
                text_add_char(string, *++*at);
            }
        }
        (*at)++;
        *at += strspn(*at, " \n");
    }
    return found;
}

/* What stands for no word: a conversion of printf, an escape, a tag, a place. */
static const char *skip_sign(const char *at)
{
    const char *end = *at == '<' ? strchr(at, '>') : *at == '{' ? strchr(at, '}') : NULL;
    if (end != NULL) {
        return end + 1;
    }
    if (*at == '%') {
        at += 1 + strspn(at + 1, "-+ 0#*.123456789zl");
        return *at == '\0' ? at : at + 1;
    }
    return *at == '\\' && at[1] != '\0' ? at + 2 : at;
}

/* Two words of two letters and more, with a blank somewhere. */
static bool is_sentence(const char *string)
{
    size_t words = 0;
    const bool blank = strchr(string, ' ') != NULL;
    for (const char *at = string; *at != '\0';) {
        const char *behind = skip_sign(at);
        size_t letters = 0;
        while (behind == at && isalpha((unsigned char)at[letters])) {
            letters++;
        }
        words += letters >= 2;
        at = behind > at ? behind : at + (letters > 0 ? letters : 1);
    }
    return blank && words >= 2;
}

static int compare_key(const void *key, const void *row)
{
    return strcmp(key, *(const char *const *)row);
}

static bool is_key(const char *string)
{
    struct text key = {0};
    text_add_length(&key, string, strcspn(string, " "));
    const bool found =
        bsearch(text_string(&key), language_keys, language_key_count, sizeof language_keys[0], compare_key) != NULL;
    text_done(&key);
    return found;
}

static size_t allowed(const char *file)
{
    for (size_t i = 0; i < sizeof exceptions / sizeof exceptions[0]; i++) {
        if (strcmp(exceptions[i].file, file) == 0) {
            return exceptions[i].count;
        }
    }
    return 0;
}

static void check_file(const char *folder, const char *name)
{
    struct text source = {0};
    struct text string = {0};
    struct text file = {0};
    struct text last = {0};
    size_t count = 0;
    read_file(folder, name, &source);
    text_printf(&file, "%s/%s", folder, name);
    for (const char *at = text_string(&source); next_string(&at, &string);) {
        if (is_sentence(text_string(&string)) && !is_key(text_string(&string))) {
            count++;
            text_clear(&last);
            text_add(&last, text_string(&string));
        }
    }
    ck_assert_msg(count == allowed(text_string(&file)), "%s: %zu sentences in the code, %zu are listed; the last: '%s'",
                  text_string(&file), count, allowed(text_string(&file)), text_string(&last));
    text_done(&source);
    text_done(&string);
    text_done(&file);
    text_done(&last);
}

static bool ends_in(const char *name, const char *ending)
{
    const size_t length = strlen(name);
    return length > strlen(ending) && strcmp(name + length - strlen(ending), ending) == 0;
}

START_TEST(rooms_hold_no_sentence)
{
    struct text path = {0};
    size_t files = 0;
    text_printf(&path, "%s/../src/%s", getenv("AMPSUM_TESTS"), rooms[_i].folder);
    DIR *folder = opendir(text_string(&path));
    ck_assert_ptr_nonnull(folder);
    for (const struct dirent *entry = readdir(folder); entry != NULL; entry = readdir(folder)) {
        if (strncmp(entry->d_name, rooms[_i].begin, strlen(rooms[_i].begin)) == 0 &&
            (ends_in(entry->d_name, ".c") || ends_in(entry->d_name, ".h"))) {
            check_file(rooms[_i].folder, entry->d_name);
            files++;
        }
    }
    closedir(folder);
    ck_assert_uint_gt(files, 0);
    text_done(&path);
}
END_TEST

/* The reader of this test finds what it is to find. */
START_TEST(a_sentence_is_told_from_other_strings)
{
    static const char source[] = "a(\"asked.total-current\"); /* \"not this one\" */ b('\"', \"%zu of\"\n  \" them\");"
                                 " c(\"<td class=\\\"n\\\">\"); d(\"R1 is in \" \"series\");";
    static const bool sentences[] = {false, true, false, true};
    struct text string = {0};
    size_t count = 0;
    for (const char *at = source; next_string(&at, &string); count++) {
        ck_assert_uint_lt(count, sizeof sentences / sizeof sentences[0]);
        ck_assert_msg(is_sentence(text_string(&string)) == sentences[count], "%s", text_string(&string));
    }
    ck_assert_uint_eq(count, sizeof sentences / sizeof sentences[0]);
    ck_assert(is_key("asked.current-in-1 R1") && !is_key("asked.current-in-9 R1"));
    text_done(&string);
}
END_TEST

Suite *make_suite(void)
{
    Suite *suite = suite_create("literals");
    TCase *tests = tcase_create("literals");
    tcase_add_loop_test(tests, rooms_hold_no_sentence, 0, sizeof rooms / sizeof rooms[0]);
    tcase_add_test(tests, a_sentence_is_told_from_other_strings);
    suite_add_tcase(suite, tests);
    return suite;
}
