/* The class's names as they come: lists, tables, other separators, faults. */
#include "runner.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "ampsum/lesson.h"

/* Each: the file, the students' names joined by "|", and the class; names NULL: refused. */
static const struct {
    const char *bytes;
    const char *names;
    const char *class_name;
} rows[] = {
    {"Ada\nBlaise\n\nCarl Friedrich\n", "Ada|Blaise|Carl Friedrich", ""},
    {"\xEF\xBB\xBF"
     "Ada Lovelace\r\nÉmilie\r\n",
     "Ada Lovelace|Émilie", ""},
    {"Lovelace, Ada\nCurie, Marie\n", "Lovelace, Ada|Curie, Marie", ""},
    {"name\nAda\nBlaise\n", "Ada|Blaise", ""},
    {"Name;Class\nAda;10b\nBlaise;10b\n", "Ada|Blaise", "10b"},
    {"class,name\n10a,Ada\n10b,Blaise\n", "Ada|Blaise", ""},
    {"number,name\n3,Carl\n1,Ada\n2,Blaise\n", "Ada|Blaise|Carl", ""},
    {"number,name\n3,Carl\n1,Ada\n3,Blaise\n", "Carl|Ada|Blaise", ""},
    {"name,class\n\"O,Neil\",10b\n,10b\n", "O,Neil", "10b"},
    {"", NULL, NULL},
    {"name,class\n", NULL, NULL},
    {"name\n\"Ada\n", NULL, NULL},
    {"Ada\x1B[31m\n", NULL, NULL},
    {"Ada\xFF\n", NULL, NULL},
};

START_TEST(names_are_read)
{
    char path[] = "names-000000";
    memset(path + strlen(path) - 6, 'X', 6); /* as mkstemp wants it */
    int file = mkstemp(path);
    ck_assert_int_ge(file, 0);
    ck_assert_int_eq(write(file, rows[_i].bytes, strlen(rows[_i].bytes)), (ssize_t)strlen(rows[_i].bytes));
    close(file);
    struct lesson_plan plan = {0};
    struct error error = {0};
    const bool read = lesson_names_read(&plan, path, &error);
    unlink(path);
    ck_assert_msg(read == (rows[_i].names != NULL), "%s", error_message(&error));
    struct text joined = {0};
    for (unsigned student = 1; student <= plan.students; student++) {
        text_printf(&joined, "%s%s", student == 1 ? "" : "|", lesson_name(&plan, student));
    }
    if (read) {
        ck_assert_str_eq(text_string(&joined), rows[_i].names);
        ck_assert_str_eq(plan.class_name == NULL ? "" : plan.class_name, rows[_i].class_name);
    } else {
        ck_assert_ptr_nonnull(strstr(error_message(&error), path));
    }
    text_done(&joined);
    lesson_plan_done(&plan);
    error_done(&error);
}
END_TEST

Suite *make_suite(void)
{
    Suite *suite = suite_create("lesson_names");
    TCase *tests = tcase_create("lesson_names");
    tcase_add_loop_test(tests, names_are_read, 0, sizeof rows / sizeof rows[0]);
    suite_add_tcase(suite, tests);
    return suite;
}
