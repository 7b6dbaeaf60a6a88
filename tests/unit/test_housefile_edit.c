#include "runner.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "ampsum/edit.h"
#include "ampsum/housefile.h"
#include "housefile_rows.h"

/* ------------------------------------------------------------------ documents ------------------------------------- */

START_TEST(document_is_edited)
{
    struct error error = {0};
    struct document *document = NULL;
    ck_assert(housefile_read_bytes("h.ini", US US_BRANCH LAMP, strlen(US US_BRANCH LAMP), &document, &error));
    struct document *copy = document_copy(document);
    struct document_section *lamp = document_find(copy, "appliance", "lamp");
    ck_assert_ptr_nonnull(lamp);
    document_set(copy, lamp, "power", "75 W");
    document_set(copy, lamp, "duty", "50");
    struct document_section *room = document_add(copy, "room", "hall");
    document_set(copy, room, "floor", "1");
    document_set(copy, room, "floor", NULL);
    ck_assert_ptr_null(document_value(document_find(copy, "room", "hall"), "floor"));
    struct house *house = NULL;
    ck_assert_msg(house_build(copy, &house, &error), "%s", error_message(&error));
    ck_assert(house->appliances[0].power_w == 75 && house->appliances[0].duty_percent == 50);
    ck_assert_uint_eq(house->room_count, 1);
    house_free(house);
    document_remove(copy, "branch", "b");
    ck_assert(!house_build(copy, &house, &error));
    ck_assert_msg(strstr(error_message(&error), "h.ini:11: [appliance lamp] branch = b: no branch") != NULL, "%s",
                  error_message(&error));
    error_done(&error);
    ck_assert_str_eq(document_value(document_find(document, "appliance", "lamp"), "power"), "60");
    ck_assert_ptr_null(document_find(document, "room", "hall"));
    document_free(copy);
    document_free(document);
}
END_TEST

/* What a person types into `set` meets the same checks as a file, without a line. */
static const struct {
    const char *key;
    const char *value;
    const char *says;
} edit_rows[] = {
    {"name", "two\nlines", "set: [appliance lamp] name = two\\x0Alines: a line break"},
    {"name", "a ;b", "begin a comment"},
    {"name", ";b", "begin a comment"},
    {"name", " a", "a blank at an end"},
    {"name", "a ", "a blank at an end"},
    {"name", "a\tb", "control character"},
    {"name", "\xff", "not valid UTF-8"},
    {"name", "\u202ea", "control character"},
    {"name", "", "empty"},
    {"group", " g", "a blank at an end"},
    {"colour", "red", "set: [appliance lamp]: unknown key `colour`"},
    {"power", "", "not a number"},
    {"branch", "", "no branch has the ID ``"},
    {"use", "", "an empty entry"},
};

START_TEST(edit_meets_the_same_checks)
{
    struct error error = {0};
    struct document *document = NULL;
    ck_assert(housefile_read_bytes("set", US US_BRANCH LAMP, strlen(US US_BRANCH LAMP), &document, &error));
    document_set(document, document_find(document, "appliance", "lamp"), edit_rows[_i].key, edit_rows[_i].value);
    for (size_t i = 0; i < document->section_count; i++) {
        document->sections[i].line = 0;
    }
    struct house *house = NULL;
    ck_assert(!house_build(document, &house, &error));
    ck_assert_msg(strstr(error_message(&error), edit_rows[_i].says) != NULL, "%s", error_message(&error));
    error_done(&error);
    document_free(document);
}
END_TEST

/* A text as long as a line can hold is fine, a byte more is not. */
START_TEST(edit_keeps_to_the_line_limit)
{
    struct error error = {0};
    struct document *document = NULL;
    ck_assert(housefile_read_bytes("set", US, strlen(US), &document, &error));
    char name[4096 - 4 + 1]; /* one byte above 4096 - strlen("name=") */
    memset(name, 'x', sizeof name);
    name[sizeof name - 1] = '\0';
    struct house *house = NULL;
    document_set(document, document_find(document, "house", ""), "name", name);
    ck_assert(!house_build(document, &house, &error));
    ck_assert_ptr_nonnull(strstr(error_message(&error), "longer than a line"));
    error_done(&error);
    name[sizeof name - 2] = '\0';
    document_set(document, document_find(document, "house", ""), "name", name);
    ck_assert(house_build(document, &house, &error));
    char *written = write_house(house);
    struct house *again = read_string(written, &error);
    ck_assert_msg(again != NULL, "%s", error_message(&error));
    ck_assert_str_eq(again->name, name);
    house_free(house);
    house_free(again);
    free(written);
    document_free(document);
}
END_TEST

/* ------------------------------------------------------------------ writing files --------------------------------- */

static void expect_content(const char *path, const char *want)
{
    FILE *file = fopen(path, "r");
    ck_assert_ptr_nonnull(file);
    char content[100];
    size_t length = fread(content, 1, sizeof content - 1, file);
    content[length] = '\0';
    fclose(file);
    ck_assert_str_eq(content, want);
}

START_TEST(file_is_written_whole)
{
    const char *temporary = getenv("TMPDIR");
    char folder[200];
    snprintf(folder, sizeof folder, "%s/ampsum-test-XXXXXX", temporary == NULL ? "/tmp" : temporary);
    ck_assert_ptr_nonnull(mkdtemp(folder));
    struct text path = {0};
    text_printf(&path, "%s/h.ini", folder);
    struct error error = {0};
    ck_assert_msg(file_write_whole(text_string(&path), "one", 3, false, &error), "%s", error_message(&error));
    expect_content(text_string(&path), "one");
    ck_assert(!file_write_whole(text_string(&path), "two", 3, false, &error));
    ck_assert_ptr_nonnull(strstr(error_message(&error), "exists already"));
    error_done(&error);
    expect_content(text_string(&path), "one");
    ck_assert(chmod(text_string(&path), 0640) == 0);
    ck_assert(file_write_whole(text_string(&path), "three", 5, true, &error));
    expect_content(text_string(&path), "three");
    struct stat status;
    ck_assert(stat(text_string(&path), &status) == 0 && (status.st_mode & 0777) == 0640);
    ck_assert(!file_write_whole(folder, "x", 1, true, &error));
    error_done(&error);
    ck_assert(!file_write_whole("/nonexistent/x", "x", 1, true, &error));
    error_done(&error);
    ck_assert(!file_write_whole("/dev/full", "x", 1, true, &error));
    ck_assert_int_eq(error.code, ERROR_INPUT);
    error_done(&error);
    ck_assert(unlink(text_string(&path)) == 0);
    ck_assert_msg(rmdir(folder) == 0, "something else was left in the folder");
    text_done(&path);
}
END_TEST

#define ROWS(table) (int)(sizeof(table) / sizeof(table)[0])

/* ------------------------------------------------------------------ removing -------------------------------------- */

/* A branch takes its lamp along; the scene keeps the fan, and the other branch forgets whose neutral it shares. */
START_TEST(a_removal_tells_what_goes_and_what_stays)
{
    static const char string[] =
        US US_BRANCH "[branch c]\nlabel = C\nbreaker = 20\nlegs = B\nshared_neutral = b\n" LAMP
                     "[appliance fan]\nname = Fan\nbranch = c\npower = 40\n[scene s]\nname = S\non = lamp, fan\n";
    static const struct edit_along want[] = {
        {"branch", "c", "shared_neutral", "b"}, {"appliance", "lamp", NULL, NULL}, {"scene", "s", "on", "lamp"}};
    struct error error = {0};
    struct document *document = NULL;
    struct edit_along_list along = {0};
    ck_assert(housefile_read_bytes("h.ini", string, strlen(string), &document, &error));
    ck_assert(edit_remove(document, "branch", "b", true, &along, &error));
    ck_assert_uint_eq(along.count, 3);
    for (size_t i = 0; i < 3; i++) {
        ck_assert_str_eq(along.rows[i].word, want[i].word);
        ck_assert_str_eq(along.rows[i].id, want[i].id);
        ck_assert(want[i].key == NULL ? along.rows[i].key == NULL : strcmp(along.rows[i].key, want[i].key) == 0);
        ck_assert(want[i].named == NULL ? along.rows[i].named == NULL
                                        : strcmp(along.rows[i].named, want[i].named) == 0);
    }
    ck_assert_ptr_null(document_find(document, "appliance", "lamp"));
    edit_along_done(&along);
    document_free(document);
}
END_TEST

Suite *make_suite(void)
{
    Suite *suite = suite_create("housefile_edit");
    TCase *tcase = tcase_create("housefile_edit");
    tcase_set_timeout(tcase, 60);
    tcase_add_test(tcase, document_is_edited);
    tcase_add_test(tcase, a_removal_tells_what_goes_and_what_stays);
    tcase_add_loop_test(tcase, edit_meets_the_same_checks, 0, ROWS(edit_rows));
    tcase_add_test(tcase, edit_keeps_to_the_line_limit);
    tcase_add_test(tcase, file_is_written_whole);
    suite_add_tcase(suite, tcase);
    return suite;
}
