/*
 * Lessons that earlier programs handed out: folders as they were written, with filled-in answers and the points that
 * the program of that day gave. Each must come out the same for as long as its generator's number is known.
 */
#include "runner.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "ampsum/mark.h"

/* One folder of tests/lessons. The points were written by the program whose generator it is. */
static const struct {
    const char *folder;
    unsigned generator;
} stored[] = {{"1/plain", 1}, {"1/us", 1},    {"1/iec", 1},   {"1/uk", 1},    {"2/plain", 2},
              {"2/us", 2},    {"2/iec", 2},   {"2/uk", 2},    {"3/plain", 3}, {"3/us", 3},
              {"3/iec", 3},   {"3/uk", 3},    {"4/plain", 4}, {"4/us", 4},    {"4/iec", 4},
              {"4/uk", 4},    {"5/plain", 5}, {"5/us", 5},    {"5/iec", 5},   {"5/uk", 5}};

static void path_of(struct text *path, size_t row, const char *name)
{
    text_printf(path, "%s/lessons/%s%s%s", getenv("AMPSUM_TESTS") == NULL ? "tests" : getenv("AMPSUM_TESTS"),
                stored[row].folder, name[0] == '\0' ? "" : "/", name);
}

static void read_plan(size_t row, struct lesson_plan *plan)
{
    struct text path = {0};
    struct error error = {0};
    bool changed = true;
    path_of(&path, row, "");
    ck_assert_msg(lesson_read(text_string(&path), plan, &changed, &error), "%s", error_message(&error));
    ck_assert(!changed);
    ck_assert_uint_eq(plan->generator, stored[row].generator);
    text_done(&path);
    error_done(&error);
}

/* The line in the key that says the answer: numbers, units and exact fractions. Wording beside them may change. */
static bool is_answer(const char *line)
{
    return strncmp(line, "   (", 4) == 0 && strstr(line, ") ") != NULL && strstr(line, " = ") != NULL;
}

START_TEST(every_key_still_has_the_same_answers)
{
    struct lesson_plan plan;
    struct text path = {0};
    struct text key = {0};
    read_plan((size_t)_i, &plan);
    for (unsigned student = 1; student <= plan.students; student++) {
        lesson_key(&key, &plan, student);
    }
    path_of(&path, (size_t)_i, "key.txt");
    FILE *file = fopen(text_string(&path), "r");
    ck_assert_ptr_nonnull(file);
    char *line = NULL;
    size_t capacity = 0;
    size_t answers = 0;
    const char *at = text_string(&key);
    while (getline(&line, &capacity, file) > 0) {
        if (is_answer(line)) {
            at = strstr(at, line);
            ck_assert_msg(at != NULL, "%s: not in the key any more, or not in its place: %s", stored[_i].folder, line);
            answers++;
        }
    }
    ck_assert_uint_gt(answers, 50);
    fclose(file);
    free(line);
    text_done(&path);
    text_done(&key);
    lesson_plan_done(&plan);
}
END_TEST

/* The cells of the columns that count, of one line: student, question, part, then points and points_most. */
static void read_expected(char *line, char *ret_cell[5])
{
    enum { AFTER_PART = 7 }; /* asked, answer, verdict, unit, figures, then both; an answer may hold quoted commas */
    size_t column = 0;
    bool quoted = false;
    char *start = line;
    char *cells[16] = {0};
    for (char *c = line;; c++) {
        quoted = *c == '"' ? !quoted : quoted;
        if ((*c == ',' && !quoted) || *c == '\0' || *c == '\n') {
            bool end = *c != ',';
            *c = '\0';
            ck_assert_uint_lt(column, 16);
            cells[column++] = start;
            start = c + 1;
            if (end) {
                break;
            }
        }
    }
    ck_assert_uint_gt(column, AFTER_PART + 2);
    for (size_t i = 0; i < 3; i++) {
        ret_cell[i] = cells[i];
    }
    ret_cell[3] = cells[AFTER_PART + 1];
    ret_cell[4] = cells[AFTER_PART + 2];
}

START_TEST(every_answer_still_has_the_same_points)
{
    struct lesson_plan plan;
    struct text path = {0};
    struct marks marks = {0};
    read_plan((size_t)_i, &plan);
    path_of(&path, (size_t)_i, "filled.csv");
    marks_take_file(&marks, &plan, text_string(&path));
    marks_finish(&marks, &plan);
    ck_assert_uint_eq(marks.student_count, plan.students);
    text_clear(&path);
    path_of(&path, (size_t)_i, "expected.csv");
    FILE *file = fopen(text_string(&path), "r");
    ck_assert_ptr_nonnull(file);
    char *line = NULL;
    size_t capacity = 0;
    size_t rows = 0;
    ck_assert_int_gt(getline(&line, &capacity, file), 0); /* the headings */
    while (getline(&line, &capacity, file) > 0) {
        char *cell[5];
        read_expected(line, cell);
        ck_assert_uint_lt(rows, marks.row_count);
        const struct mark_row *row = &marks.rows[rows++];
        ck_assert_uint_eq(row->student, strtoul(cell[0], NULL, 10));
        ck_assert_uint_eq(row->question, strtoul(cell[1], NULL, 10));
        ck_assert_str_eq(row->part, cell[2]);
        ck_assert_msg(row->judgement.points == strtoul(cell[3], NULL, 10) &&
                          row->judgement.points_most == strtoul(cell[4], NULL, 10),
                      "%s: student %u, %zu %s, \"%s\": %u of %u points, where it had %s of %s", stored[_i].folder,
                      row->student, row->question, row->part, row->answer, row->judgement.points,
                      row->judgement.points_most, cell[3], cell[4]);
    }
    ck_assert_uint_eq(rows, marks.row_count);
    fclose(file);
    free(line);
    text_done(&path);
    marks_done(&marks);
    lesson_plan_done(&plan);
}
END_TEST

/* Whoever gives sheets the next number keeps a folder of it, before it is handed out. */
START_TEST(every_generator_has_its_folders)
{
    enum { EACH = 4 };
    for (unsigned generator = LESSON_GENERATOR_FIRST; generator <= LESSON_GENERATOR_NOW; generator++) {
        size_t folders = 0;
        for (size_t i = 0; i < sizeof stored / sizeof stored[0]; i++) {
            folders += stored[i].generator == generator;
        }
        ck_assert_msg(folders == EACH, "tests/lessons holds %zu folders of generator %u", folders, generator);
    }
}
END_TEST

/* Numbers that this program would make otherwise are told, never marked. */
START_TEST(a_sheet_with_other_numbers_is_not_marked)
{
    static const char bytes[] = "student,question,part,answer\n1,1,a,3 A\n2,1,a,3 A\n";
    struct lesson_plan plan;
    struct marks marks = {0};
    read_plan(0, &plan);
    plan.codes[0][0] = plan.codes[0][0] == '0' ? '1' : '0';
    marks_take(&marks, &plan, "answers.csv", bytes, sizeof bytes - 1);
    marks_finish(&marks, &plan);
    ck_assert_uint_eq(marks.student_count, 1);
    ck_assert_uint_eq(marks.students[0].student, 2);
    ck_assert_ptr_nonnull(strstr(marks.notices[0].word, "not marked"));
    marks_done(&marks);
    lesson_plan_done(&plan);
}
END_TEST

START_TEST(a_later_generator_is_refused_in_one_sentence)
{
    static const char bytes[] = "{\"ampsum\": 1, \"generator\": 4000, \"seed\": 1}";
    char folder[] = "lesson-000000";
    memset(folder + strlen(folder) - 6, 'X', 6); /* as mkdtemp wants it */
    ck_assert_ptr_nonnull(mkdtemp(folder));
    struct text path = {0};
    struct lesson_plan plan;
    struct error error = {0};
    bool changed = false;
    text_printf(&path, "%s/sheets.json", folder);
    FILE *file = fopen(text_string(&path), "w");
    ck_assert_ptr_nonnull(file);
    ck_assert_uint_eq(fwrite(bytes, 1, sizeof bytes - 1, file), sizeof bytes - 1);
    fclose(file);
    ck_assert(!lesson_read(folder, &plan, &changed, &error));
    ck_assert_ptr_nonnull(strstr(error_message(&error), "generator 4000"));
    ck_assert_ptr_null(strchr(error_message(&error), '\n'));
    unlink(text_string(&path));
    ck_assert_int_eq(rmdir(folder), 0);
    text_done(&path);
    error_done(&error);
}
END_TEST

Suite *make_suite(void)
{
    enum { STORED = sizeof stored / sizeof stored[0] };
    Suite *suite = suite_create("lesson_versions");
    TCase *tests = tcase_create("lesson_versions");
    tcase_set_timeout(tests, 60);
    tcase_add_loop_test(tests, every_key_still_has_the_same_answers, 0, STORED);
    tcase_add_loop_test(tests, every_answer_still_has_the_same_points, 0, STORED);
    tcase_add_test(tests, every_generator_has_its_folders);
    tcase_add_test(tests, a_sheet_with_other_numbers_is_not_marked);
    tcase_add_test(tests, a_later_generator_is_refused_in_one_sentence);
    suite_add_tcase(suite, tests);
    return suite;
}
