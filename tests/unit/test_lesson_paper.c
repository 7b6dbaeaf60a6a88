/* Worksheets and key as PDF. */
#include "runner.h"

#include <dirent.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "lesson_paper.h"

static char folder[] = "paper-000000";

static void make_folder(unsigned level)
{
    static enum lesson_kind kinds[LESSON_KIND_COUNT];
    for (int kind = 0; kind < LESSON_KIND_COUNT; kind++) {
        kinds[kind] = (enum lesson_kind)kind;
    }
    struct lesson_plan plan = {
        .seed = 12, .level = level, .students = 2, .kinds = kinds, .question_count = LESSON_KIND_COUNT};
    struct error error = {0};
    memset(folder + strlen(folder) - 6, 'X', 6); /* as mkdtemp wants it */
    ck_assert_ptr_nonnull(mkdtemp(folder));
    lesson_plan_plain(&plan);
    ck_assert_msg(lesson_write(&plan, folder, false, &error), "%s", error_message(&error));
    plan.kinds = NULL;
    lesson_plan_done(&plan);
}

/* Removes the folder; the number of files that ended in .part. */
static int drop_folder(void)
{
    DIR *list = opendir(folder);
    int parts = 0;
    for (struct dirent *entry = readdir(list); entry != NULL; entry = readdir(list)) {
        struct text path = {0};
        text_printf(&path, "%s/%s", folder, entry->d_name);
        parts += strstr(entry->d_name, ".part") != NULL;
        unlink(text_string(&path));
        text_done(&path);
    }
    closedir(list);
    rmdir(folder);
    return parts;
}

static void read_file(const char *name, struct text *text)
{
    struct text path = {0};
    text_printf(&path, "%s/%s", folder, name);
    FILE *file = fopen(text_string(&path), "rb");
    ck_assert_msg(file != NULL, "no %s", text_string(&path));
    char block[4096];
    size_t got;
    while ((got = fread(block, 1, sizeof block, file)) > 0) {
        text_add_length(text, block, got);
    }
    fclose(file);
    text_done(&path);
}

/* No clock goes into the file, so the same lesson gives the same bytes. */
START_TEST(same_lesson_same_bytes)
{
    static const char *const names[] = {"worksheet-01.pdf", "worksheet-02.pdf", "key.pdf"};
    struct text first[3] = {0};
    struct error error = {0};
    size_t unknown = SIZE_MAX;
    make_folder((unsigned)_i + 1);
    for (int run = 0; run < 2; run++) {
        ck_assert_msg(lesson_paper(folder, PRINT_A4, false, &unknown, &error), "%s", error_message(&error));
        ck_assert_uint_eq(unknown, 0);
        for (int i = 0; i < 3; i++) {
            struct text bytes = {0};
            read_file(names[i], run == 0 ? &first[i] : &bytes);
            if (run == 1) {
                ck_assert_uint_eq(bytes.length, first[i].length);
                ck_assert_int_eq(memcmp(bytes.bytes, first[i].bytes, bytes.length), 0);
                ck_assert_int_eq(memcmp(bytes.bytes, "%PDF-", 5), 0);
            }
            text_done(&bytes);
        }
    }
    for (int i = 0; i < 3; i++) {
        text_done(&first[i]);
    }
    ck_assert_int_eq(drop_folder(), 0);
}
END_TEST

START_TEST(paper_sizes_differ)
{
    struct error error = {0};
    struct text a4 = {0};
    struct text letter = {0};
    size_t unknown;
    make_folder(1);
    ck_assert(lesson_paper(folder, PRINT_A4, false, &unknown, &error));
    read_file("worksheet-01.pdf", &a4);
    ck_assert(lesson_paper(folder, PRINT_LETTER, false, &unknown, &error));
    read_file("worksheet-01.pdf", &letter);
    ck_assert(a4.length != letter.length || memcmp(a4.bytes, letter.bytes, a4.length) != 0);
    text_done(&a4);
    text_done(&letter);
    drop_folder();
}
END_TEST

/* Pages of a PDF as cairo 1.16 writes it: one dictionary each, not compressed. */
static size_t pages(const char *name)
{
    static const char mark[] = "/Type /Page ";
    struct text bytes = {0};
    size_t count = 0;
    read_file(name, &bytes);
    for (size_t i = 0; i + sizeof mark <= bytes.length; i++) {
        count += memcmp(bytes.bytes + i, mark, sizeof mark - 1) == 0;
    }
    text_done(&bytes);
    return count;
}

/* One file for the printer has the pages of all the single sheets, and takes their place. */
START_TEST(sheets_together)
{
    struct error error = {0};
    size_t unknown;
    make_folder(2);
    ck_assert(lesson_paper(folder, PRINT_A4, true, &unknown, &error));
    struct text single = {0};
    text_printf(&single, "%s/worksheet-01.pdf", folder);
    ck_assert_int_ne(access(text_string(&single), F_OK), 0);
    text_done(&single);
    const size_t together = pages("worksheets.pdf");
    ck_assert(lesson_paper(folder, PRINT_A4, false, &unknown, &error));
    ck_assert_uint_gt(pages("worksheet-01.pdf"), 0);
    ck_assert_uint_eq(together, pages("worksheet-01.pdf") + pages("worksheet-02.pdf"));
    drop_folder();
}
END_TEST

START_TEST(missing_folder_is_an_error)
{
    struct error error = {0};
    size_t unknown;
    ck_assert(!lesson_paper("no-such-folder", PRINT_A4, false, &unknown, &error));
    ck_assert_ptr_nonnull(strstr(error_message(&error), "no-such-folder"));
    error_done(&error);
}
END_TEST

Suite *make_suite(void)
{
    Suite *suite = suite_create("lesson_paper");
    TCase *tests = tcase_create("lesson_paper");
    tcase_set_timeout(tests, 60);
    tcase_add_loop_test(tests, same_lesson_same_bytes, 0, LESSON_LEVEL_MOST);
    tcase_add_test(tests, paper_sizes_differ);
    tcase_add_test(tests, sheets_together);
    tcase_add_test(tests, missing_folder_is_an_error);
    suite_add_tcase(suite, tests);
    return suite;
}
