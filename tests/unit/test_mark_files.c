/* Marking of files as they come: rows that stray, bytes by chance, folders written and edited. */
#include "runner.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "ampsum/mark.h"
#include "mark_plan.h"

static const char *notice_with(const struct marks *marks, const char *word)
{
    for (size_t i = 0; i < marks->notice_count; i++) {
        if (strstr(marks->notices[i].word, word) != NULL) {
            return marks->notices[i].word;
        }
    }
    return NULL;
}

static void take(struct marks *marks, const struct lesson_plan *plan, const char *bytes, size_t length)
{
    *marks = (struct marks){0};
    marks_take(marks, plan, "answers.csv", bytes, length);
    marks_finish(marks, plan);
}

static const struct mark_row *row_of(const struct marks *marks, unsigned student, size_t question, const char *part)
{
    for (size_t i = 0; i < marks->row_count; i++) {
        const struct mark_row *row = &marks->rows[i];
        if (row->student == student && row->question == question && strcmp(row->part, part) == 0) {
            return row;
        }
    }
    ck_abort_msg("no row for student %u, question %zu (%s)", student, question, part);
    return NULL;
}

/* Letters as spreadsheets save them: what each byte is stands in the Encoding Standard, index windows-1252. */
START_TEST(latin_letters_are_what_they_were)
{
    static const struct {
        const char *written;
        const char *answer;
    } rows[] = {{"Amp\xE8re \xBD \xB5 \xD7", "Ampère ½ µ ×"}, {"\x80 \x96 \x92 \x8A", "€ – ’ Š"}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct lesson_plan plan = make_plan(5, 1, 3);
        struct marks marks;
        struct text bytes = {0};
        text_printf(&bytes, "student,question,part,answer\n1,1,a,%s\n1,1,b,%s\n", rows[i].written, rows[i].written);
        take(&marks, &plan, text_string(&bytes), bytes.length);
        ck_assert_str_eq(row_of(&marks, 1, 1, "a")->answer, rows[i].answer);
        ck_assert_uint_eq(marks.notice_count, 2); /* once, not for each row; and the parts without one */
        text_done(&bytes);
        marks_done(&marks);
        lesson_plan_done(&plan);
    }
}
END_TEST

/* Each file: what it holds, a word that must be noticed ("" none), and what becomes of student 1, question 1 (a). */
static const struct {
    const char *bytes;
    const char *notice;
    enum mark_verdict verdict; /* of 1, 1 (a); MARK_COUNT: nobody is marked */
} file_rows[] = {
    {"student,question,part,asked,unit,answer\n1,1,a,x,ohm,2,5\n", "", MARK_WRONG},
    {"student,question,part,asked,unit,answer\n1,1,a,x,ohm,\"2,5\"\n", "", MARK_WRONG},
    {"student;question;part;asked;unit;answer\n1;1;a;x;ohm;2,5\n", "semicolons", MARK_WRONG},
    {"student\tquestion\tpart\tasked\tunit\tanswer\r\n1\t1\ta\tx\tohm\t1e9\r\n", "tabs", MARK_WRONG},
    {"\xEF\xBB\xBFstudent,question,part,answer\n1,1,(A),1e9\n", "", MARK_WRONG},
    {"1,1,a,x,ohm,1e9\n", "no headings", MARK_WRONG},
    {"student,question,part,answer\n1,1,a,=1+1\n", "", MARK_DECIDE},
    {"student,question,part,answer\n1,1,a,1e9 ohm\n1,1,a,2e9 ohm\n", "second answer", MARK_WRONG},
    {"student,question,part,answer\n1,1,a,1 ohm or 2 ohm\n", "", MARK_DECIDE},
    {"student,question,part,answer\n1,1,a,1e9\n1,1,z,3\n", "no such part", MARK_WRONG},
    {"student,question,part,answer\n1,1,a,1e9\n99,1,a,3\n", "no student", MARK_WRONG},
    {"student,question,part,answer\n1,1,a,1e9\n1,77,a,3\n", "no question", MARK_WRONG},
    {"student,question,part,answer\n1,1,a,1e9\n", "without a row", MARK_WRONG},
    {"student,question,part,answer\n1,1,b,\"3\n1,1,a,1e9\n", "quote", MARK_WRONG},
    {"student,question,part,answer\n1,1,a,1e9 Amp\xE8re\n1,1,b,3\xFF\n", "Latin-1", MARK_WRONG},
    {"student,question,part,answer\n1,1,a,1e9 A \x96 or more\n", "Latin-1", MARK_DECIDE},
    {"sep=;\r\nstudent;question;part;answer\r\n1;1;a;1e9\r\n", "semicolons", MARK_WRONG},
    {"sep=;\r\nstudent;1a;1b\r\n1;1e9;3\r\n", "semicolons", MARK_WRONG},
    {"student,question,part,answer\n1.0,1.0,a,1e9\n", "", MARK_WRONG},
    {"student,question,part,answer\n1.5,1,a,1e9\n", "no student", MARK_COUNT},
    {"student,question,part,answer\n1,1,a,\n", "", MARK_EMPTY},
    {"student,question,part,answer,sheet\n1,1,a,1e9,abcdef\n", "none of these sheets", MARK_COUNT},
    {"student,question,part\n1,1,a\n", "no column \"answer\"", MARK_COUNT},
    {"student,question,part\n1,1,a,12.5 A\n", "no column \"answer\"", MARK_COUNT},
    {"student,part,answer\n1,a,12.5 A,3,4\n", "no column \"question\"", MARK_COUNT},
    {"\xFF\xFEs\n", "UTF-16", MARK_COUNT},
    {"", "empty", MARK_COUNT},
    {"hello\n", "no student", MARK_COUNT},
};

START_TEST(bad_rows_get_a_word_and_the_rest_is_marked)
{
    struct lesson_plan plan = make_plan(5, 1, 3);
    struct marks marks;
    take(&marks, &plan, file_rows[_i].bytes, strlen(file_rows[_i].bytes));
    if (file_rows[_i].notice[0] != '\0') {
        ck_assert_msg(notice_with(&marks, file_rows[_i].notice) != NULL, "no word on \"%s\"", file_rows[_i].notice);
    }
    if (file_rows[_i].verdict == MARK_COUNT) {
        ck_assert_uint_eq(marks.student_count, 0);
    } else {
        ck_assert_int_eq(row_of(&marks, 1, 1, "a")->judgement.verdict, file_rows[_i].verdict);
    }
    marks_done(&marks);
    lesson_plan_done(&plan);
}
END_TEST

/* One file of a class without answers, its rows longer than its heading: told by its line, the others are marked. */
START_TEST(a_file_without_answers_does_not_stop_the_class)
{
    static const char bad[] = "student,question,part\n1,1,a,12.5 A\n1,1,b,3 A,4 A\n";
    static const char good[] = "student,question,part,answer\n2,1,a,1e9\n";
    struct lesson_plan plan = make_plan(5, 1, 3);
    struct marks marks = {0};
    marks_take(&marks, &plan, "bad.csv", bad, sizeof bad - 1);
    marks_take(&marks, &plan, "good.csv", good, sizeof good - 1);
    marks_finish(&marks, &plan);
    ck_assert_str_eq(marks.notices[0].file, "bad.csv");
    ck_assert_uint_eq(marks.notices[0].row, 1);
    ck_assert_uint_eq(marks.student_count, 1);
    ck_assert_uint_eq(marks.students[0].student, 2);
    marks_done(&marks);
    lesson_plan_done(&plan);
}
END_TEST

/* What lies behind the bytes of decide.csv is not looked at, behind a byte order mark either. */
START_TEST(the_separator_is_that_of_the_bytes_given)
{
    static const char heading[] = "\xEF\xBB\xBFsheet,student,part,written,decision,points";
    static const char behind[] = ";;;;;;";
    struct text bytes = {0};
    struct marks marks = {0};
    text_printf(&bytes, "%s%s", heading, behind);
    marks_take_decisions(&marks, "decide.csv", text_string(&bytes), sizeof heading - 1);
    ck_assert_int_eq(marks.decide_separator, ',');
    ck_assert_uint_eq(marks.notice_count, 0);
    marks_done(&marks);
    text_done(&bytes);
}
END_TEST

/* A class that named the columns in its own language. */
START_TEST(headings_may_be_of_a_language)
{
    static const char *const files[] = {"Sch\u00fcler;Aufgabe;Teil;Antwort\n1;1;a;9 A\n",
                                        "alumno,ejercicio,apartado,respuesta\n1,1,a,9 A\n",
                                        "\u00e9l\u00e8ve,question,partie,r\u00e9ponse\n1,1,a,9 A\n"};
    struct lesson_plan plan = make_plan(5, 1, 1);
    struct marks marks = {0};
    marks_take(&marks, &plan, "answers.csv", files[_i], strlen(files[_i]));
    marks_finish(&marks, &plan);
    ck_assert_uint_eq(marks.student_count, 1);
    ck_assert_str_eq(marks.rows[0].answer, "9 A");
    marks_done(&marks);
    lesson_plan_done(&plan);
}
END_TEST

START_TEST(nul_bytes_are_told)
{
    static const char bytes[] = "student,question,part,answer\n1,1,b,3\0x\n1,1,a,1e9\n";
    struct lesson_plan plan = make_plan(5, 1, 3);
    struct marks marks;
    take(&marks, &plan, bytes, sizeof bytes - 1);
    ck_assert_ptr_nonnull(notice_with(&marks, "UTF-8"));
    ck_assert_int_eq(row_of(&marks, 1, 1, "a")->judgement.verdict, MARK_WRONG);
    marks_done(&marks);
    lesson_plan_done(&plan);
}
END_TEST

START_TEST(the_reason_stands_beside_doubtful_answers)
{
    static const char bytes[] = "student,question,part,answer\n1,1,a,2 ohm or 3 ohm\n";
    struct lesson_plan plan = make_plan(5, 1, 3);
    struct marks marks;
    take(&marks, &plan, bytes, sizeof bytes - 1);
    ck_assert_ptr_nonnull(strstr(text_string(&row_of(&marks, 1, 1, "a")->judgement.remark), "more than one number"));
    marks_done(&marks);
    lesson_plan_done(&plan);
}
END_TEST

START_TEST(another_students_sheet_is_told)
{
    struct lesson_plan plan = make_plan(5, 1, 3);
    struct marks marks;
    struct text bytes = {0};
    char third[LESSON_CODE_SIZE];
    char second[LESSON_CODE_SIZE];
    lesson_sheet_code(&plan, 3, third);
    lesson_sheet_code(&plan, 2, second);
    text_printf(&bytes, "student,question,part,answer,sheet\n1,1,a,3,%s\n2,1,a,3,%s\n", third, second);
    take(&marks, &plan, text_string(&bytes), bytes.length);
    ck_assert_ptr_nonnull(notice_with(&marks, "wrong student's sheet"));
    ck_assert_ptr_nonnull(notice_with(&marks, "student 3"));
    ck_assert_uint_eq(marks.student_count, 1);
    ck_assert_uint_eq(marks.students[0].student, 2);
    marks_done(&marks);
    text_done(&bytes);
    lesson_plan_done(&plan);
}
END_TEST

/* Any capitals; a number or a date that a spreadsheet made of the code leaves the student's number to decide. */
START_TEST(spoilt_sheet_codes_do_not_lose_a_student)
{
    struct lesson_plan plan = make_plan(5, 1, 3);
    char code[LESSON_CODE_SIZE];
    lesson_sheet_code(&plan, 1, code);
    ck_assert_uint_eq(strlen(code), 5);
    ck_assert_uint_eq(strspn(code, "bcdfghjklmnpqrstvwxz"), 5);
    for (char *c = code; *c != '\0'; c++) {
        *c = (char)(*c - 'a' + 'A');
    }
    const struct {
        const char *sheet;
        bool marked;
        const char *notice;
    } rows[] = {{code, true, NULL},
                {"1.809E+12", true, "number or a date"},
                {"3-Feb", true, "number or a date"},
                {"bbbbb", false, "none of these sheets"}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct marks marks;
        struct text bytes = {0};
        text_printf(&bytes, "student,question,part,answer,sheet\n1,1,a,3,%s\n", rows[i].sheet);
        take(&marks, &plan, text_string(&bytes), bytes.length);
        ck_assert_uint_eq(marks.student_count, rows[i].marked ? 1 : 0);
        ck_assert(rows[i].notice == NULL || notice_with(&marks, rows[i].notice) != NULL);
        text_done(&bytes);
        marks_done(&marks);
    }
    lesson_plan_done(&plan);
}
END_TEST

/* Random bytes of the alphabet of CSV: never a crash, and whoever is marked has every part. */
START_TEST(any_bytes_are_marked_or_told)
{
    static const char letters[] = "1123,,,,;\"\n\n\rab.=A \t\xEF\xBB\xBF";
    uint64_t state = 8;
    struct lesson_plan plan = make_plan(5, 1, 3);
    for (int turn = 0; turn < 3000; turn++) {
        struct text bytes = {0};
        if (turn % 2 == 0) {
            text_add(&bytes, "student,question,part,answer\n");
        }
        size_t length = mark_chance(&state) % 200;
        for (size_t i = 0; i < length; i++) {
            text_add_char(&bytes, letters[mark_chance(&state) % (sizeof letters - 1)]);
        }
        struct marks marks;
        take(&marks, &plan, text_string(&bytes), bytes.length);
        for (size_t i = 0; i < marks.student_count; i++) {
            ck_assert_uint_eq(marks.students[i].row_count, marks.students[0].row_count);
        }
        marks_done(&marks);
        text_done(&bytes);
    }
    lesson_plan_done(&plan);
}
END_TEST

/* A folder of its own for a test, gone afterwards. */
static char folder[] = "lesson-000000";

static void folder_make(void)
{
    memset(folder + strlen(folder) - 6, 'X', 6); /* as mkdtemp wants it */
    ck_assert_ptr_nonnull(mkdtemp(folder));
}

static void path_in(struct text *path, const char *name)
{
    text_clear(path);
    text_printf(path, "%s/%s", folder, name);
}

static void folder_gone(unsigned students)
{
    static const char *const names[] = {"answers.csv",   "answers-wide.csv", "key.txt",
                                        "key-short.txt", "marks.csv",        "sheets.json"};
    struct text path = {0};
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) {
        path_in(&path, names[i]);
        unlink(text_string(&path));
    }
    for (unsigned student = 1; student <= students; student++) {
        text_clear(&path);
        text_printf(&path, "%s/worksheet-%02u.txt", folder, student);
        unlink(text_string(&path));
    }
    ck_assert_int_eq(rmdir(folder), 0); /* nothing else was left there */
    text_done(&path);
}

static void replace_in(const char *name, const char *from, const char *to)
{
    struct text path = {0};
    struct text content = {0};
    path_in(&path, name);
    FILE *file = fopen(text_string(&path), "r+b");
    ck_assert_ptr_nonnull(file);
    int c;
    while ((c = fgetc(file)) != EOF) {
        text_add_char(&content, (char)c);
    }
    const char *at = strstr(text_string(&content), from);
    ck_assert_ptr_nonnull(at);
    ck_assert_uint_eq(strlen(from), strlen(to));
    ck_assert_int_eq(fseek(file, at - text_string(&content), SEEK_SET), 0);
    ck_assert_uint_eq(fwrite(to, 1, strlen(to), file), strlen(to));
    fclose(file);
    text_done(&path);
    text_done(&content);
}

START_TEST(folder_is_written_and_read_back)
{
    struct lesson_plan plan = make_plan(77, 2, 3);
    struct lesson_plan again;
    struct error error = {0};
    bool changed = true;
    folder_make();
    ck_assert_msg(lesson_write(&plan, folder, false, &error), "%s", error_message(&error));
    ck_assert(lesson_read(folder, &again, &changed, &error));
    ck_assert(!changed);
    char code[LESSON_CODE_SIZE];
    lesson_sheet_code(&plan, 2, code);
    ck_assert_str_eq(again.codes[1], code);
    ck_assert(!lesson_write(&plan, folder, false, &error)); /* there already */
    ck_assert_ptr_nonnull(strstr(error_message(&error), "--force"));
    error_done(&error);
    error = (struct error){0};
    plan.students = 2; /* the third worksheet of the earlier lesson goes */
    ck_assert(lesson_write(&plan, folder, true, &error));
    folder_gone(2);
    lesson_plan_done(&plan);
    lesson_plan_done(&again);
    error_done(&error);
}
END_TEST

START_TEST(edited_key_and_sheets_are_detected)
{
    struct lesson_plan plan = make_plan(77, 2, 3);
    struct lesson_plan again;
    struct error error = {0};
    bool changed = false;
    folder_make();
    ck_assert(lesson_write(&plan, folder, false, &error));
    replace_in("key.txt", "Level 2", "Level 3");
    ck_assert(lesson_read(folder, &again, &changed, &error));
    ck_assert(changed);
    lesson_plan_done(&again);
    replace_in("sheets.json", "\"seed\": 77", "\"seed\": 78");
    ck_assert(!lesson_read(folder, &again, &changed, &error));
    ck_assert_ptr_nonnull(strstr(error_message(&error), "changed"));
    folder_gone(3);
    lesson_plan_done(&plan);
    error_done(&error);
}
END_TEST

START_TEST(formulas_are_escaped_when_written)
{
    static const char *const rows[][2] = {{"=1+1", "'=1+1"}, {"+x", "'+x"},      {"-x", "'-x"},
                                          {"@x", "'@x"},     {"a,b", "\"a,b\""}, {"a\"b,", "\"a\"\"b,\""},
                                          {"2.5 A", "2.5 A"}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct text text = {0};
        lesson_csv_cell(&text, rows[i][0]);
        ck_assert_str_eq(text_string(&text), rows[i][1]);
        text_done(&text);
    }
}
END_TEST

Suite *make_suite(void)
{
    Suite *suite = suite_create("mark_files");
    TCase *tests = tcase_create("mark_files");
    tcase_set_timeout(tests, 60);
    tcase_add_loop_test(tests, bad_rows_get_a_word_and_the_rest_is_marked, 0, sizeof file_rows / sizeof file_rows[0]);
    tcase_add_test(tests, a_file_without_answers_does_not_stop_the_class);
    tcase_add_loop_test(tests, headings_may_be_of_a_language, 0, 3);
    tcase_add_test(tests, latin_letters_are_what_they_were);
    tcase_add_test(tests, nul_bytes_are_told);
    tcase_add_test(tests, the_separator_is_that_of_the_bytes_given);
    tcase_add_test(tests, the_reason_stands_beside_doubtful_answers);
    tcase_add_test(tests, another_students_sheet_is_told);
    tcase_add_test(tests, spoilt_sheet_codes_do_not_lose_a_student);
    tcase_add_test(tests, any_bytes_are_marked_or_told);
    tcase_add_test(tests, folder_is_written_and_read_back);
    tcase_add_test(tests, edited_key_and_sheets_are_detected);
    tcase_add_test(tests, formulas_are_escaped_when_written);
    suite_add_tcase(suite, tests);
    return suite;
}
