/* The folder of a lesson: worksheets, answer rows to fill in, key, marks table, and the sheet file. */
#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "ampsum/arena.h"
#include "ampsum/place.h"
#include "plan.h"
#include "sheet.h"

enum { SHEETS_BYTES_MOST = 16 * 1024 * 1024 };

static void add_path(struct text *path, const char *folder, const char *name)
{
    text_printf(path, "%s/%s", folder, name);
}

bool write_file(const char *folder, const char *name, const struct text *content, struct error *error)
{
    struct text path = {0};
    struct text beside = {0};
    add_path(&path, folder, name);
    text_printf(&beside, "%s.part", text_string(&path));
    FILE *file = fopen(text_string(&beside), "wb");
    bool ok = file != NULL && fwrite(text_string(content), 1, content->length, file) == content->length;
    ok = file != NULL && fclose(file) == 0 && ok;
    ok = ok && rename(text_string(&beside), text_string(&path)) == 0;
    if (!ok) {
        error_set(error, ERROR_INPUT, "%s: cannot write: %s", text_string(&path), strerror(errno));
        unlink(text_string(&beside));
    }
    text_done(&path);
    text_done(&beside);
    return ok;
}

void lesson_file_name(struct text *name, const struct lesson_plan *plan, const char *kind, unsigned student)
{
    int digits = plan->students < 100 ? 2 : plan->students < 1000 ? 3 : 5;
    text_printf(name, "%s-%0*u", kind, digits, student);
}

static void worksheet_name(struct text *name, const struct lesson_plan *plan, unsigned student, const char *ending)
{
    lesson_file_name(name, plan, "worksheet", student);
    text_printf(name, ".%s", ending);
}

static bool exists(const char *folder, const char *name)
{
    struct text path = {0};
    add_path(&path, folder, name);
    bool there = access(text_string(&path), F_OK) == 0;
    text_done(&path);
    return there;
}

static bool refuse_existing(const struct lesson_plan *plan, const char *folder, struct error *error)
{
    static const char *const names[] = {"sheets.json", "answers.csv",   "answers-wide.csv",
                                        "key.txt",     "key-short.txt", "marks.csv"};
    struct text name = {0};
    bool found = false;
    for (size_t i = 0; i < sizeof names / sizeof names[0] && !found; i++) {
        text_clear(&name);
        text_add(&name, names[i]);
        found = exists(folder, names[i]);
    }
    for (unsigned student = 1; student <= plan->students && !found; student++) {
        text_clear(&name);
        worksheet_name(&name, plan, student, "txt");
        found = exists(folder, text_string(&name));
    }
    if (found) {
        error_set(error, ERROR_INPUT, "%s/%s is there already: choose another folder, or --force to write over it",
                  folder, text_string(&name));
    }
    text_done(&name);
    return found;
}

bool lesson_make_folder(const char *folder, struct error *error)
{
    struct stat status;
    if (mkdir(folder, 0777) == 0 || (stat(folder, &status) == 0 && S_ISDIR(status.st_mode))) {
        return true;
    }
    error_set(error, ERROR_INPUT, "%s: cannot make the folder: %s", folder, strerror(errno));
    return false;
}

static void add_marks_header(struct text *marks, const struct lesson_plan *plan)
{
    text_add(marks, "student,name");
    for (size_t i = 1; i <= plan->question_count; i++) {
        text_printf(marks, ",question %zu", i);
    }
    text_add(marks, ",total\n");
}

static void add_marks_row(struct text *marks, const struct lesson_plan *plan, unsigned student)
{
    text_printf(marks, "%u,", student);
    lesson_csv_cell(marks, lesson_name(plan, student));
    for (size_t i = 0; i <= plan->question_count; i++) {
        text_add_char(marks, ',');
    }
    text_add_char(marks, '\n');
}

static void drop_file(const char *folder, const char *name)
{
    struct text path = {0};
    add_path(&path, folder, name);
    unlink(text_string(&path)); /* where it is not there, it need not go */
    text_done(&path);
}

/* The sheets of an earlier lesson in the folder would be taken for ones of this lesson. */
static void drop_earlier(const char *folder)
{
    static const char *const endings[] = {"txt", "pdf", "html"};
    struct lesson_plan earlier;
    struct error ignored = {0};
    bool key_changed;
    if (lesson_read(folder, &earlier, &key_changed, &ignored)) {
        for (unsigned student = 1; student <= earlier.students; student++) {
            for (size_t i = 0; i < sizeof endings / sizeof endings[0]; i++) {
                struct text name = {0};
                worksheet_name(&name, &earlier, student, endings[i]);
                drop_file(folder, text_string(&name));
                text_done(&name);
            }
        }
        drop_file(folder, "worksheets.pdf");
        drop_file(folder, "key.pdf");
        drop_file(folder, "key-short.pdf");
        lesson_plan_done(&earlier);
    }
    error_done(&ignored);
}

bool lesson_write(const struct lesson_plan *plan, const char *folder, bool force, struct error *error)
{
    if (!lesson_make_folder(folder, error) || (!force && refuse_existing(plan, folder, error))) {
        return false;
    }
    if (force) {
        drop_earlier(folder);
    }
    struct text answers = {0};
    struct text key = {0};
    struct text marks = {0};
    struct text sheets = {0};
    struct text wide = {0};
    struct text brief = {0};
    bool ok = true;
    char(*codes)[LESSON_CODE_SIZE] = sheet_codes(plan);
    text_add(&answers, "student,question,part,asked,unit,answer,sheet\n");
    add_marks_header(&marks, plan);
    wide_heading(&wide, plan);
    lesson_short_key(&brief, plan);
    for (unsigned student = 1; student <= plan->students && ok; student++) {
        struct text worksheet = {0};
        struct text name = {0};
        lesson_student_texts(plan, student, codes[student - 1], &worksheet, &key, &answers);
        add_marks_row(&marks, plan, student);
        wide_row(&wide, plan, student, codes[student - 1]);
        worksheet_name(&name, plan, student, "txt");
        ok = write_file(folder, text_string(&name), &worksheet, error);
        text_done(&worksheet);
        text_done(&name);
    }
    plan_write(&sheets, plan, codes, bytes_code(text_string(&key), key.length));
    ok = ok && write_file(folder, "answers.csv", &answers, error) &&
         write_file(folder, "answers-wide.csv", &wide, error) && write_file(folder, "key-short.txt", &brief, error) &&
         write_file(folder, "key.txt", &key, error) && write_file(folder, "marks.csv", &marks, error) &&
         write_file(folder, "sheets.json", &sheets, error);
    text_done(&answers);
    text_done(&key);
    text_done(&marks);
    text_done(&sheets);
    text_done(&wide);
    text_done(&brief);
    free(codes);
    return ok;
}

bool read_bytes(const char *path, size_t most, struct text *ret_bytes, struct error *error)
{
    const char *why = "";
    FILE *file = file_stream_to_read(path, &why);
    if (file == NULL) {
        error_set(error, ERROR_INPUT, "%s: cannot open: %s", path, why);
        return false;
    }
    char block[65536];
    size_t got;
    while ((got = fread(block, 1, sizeof block, file)) > 0 && ret_bytes->length <= most) {
        text_add_length(ret_bytes, block, got);
    }
    bool failed = ferror(file) != 0;
    fclose(file);
    if (failed) {
        error_set(error, ERROR_INPUT, "%s: cannot read: %s", path, strerror(errno));
    } else if (ret_bytes->length > most) {
        error_set(error, ERROR_INPUT, "%s: larger than %zu MiB", path, most / 1024 / 1024);
        failed = true;
    }
    return !failed;
}

static bool key_has_code(const char *folder, uint64_t code)
{
    struct text path = {0};
    struct text key = {0};
    struct error ignored = {0};
    add_path(&path, folder, "key.txt");
    bool same = read_bytes(text_string(&path), SIZE_MAX / 2, &key, &ignored) &&
                bytes_code(text_string(&key), key.length) == code;
    text_done(&path);
    text_done(&key);
    error_done(&ignored);
    return same;
}

bool lesson_read(const char *folder, struct lesson_plan *ret_plan, bool *ret_key_changed, struct error *error)
{
    struct text path = {0};
    struct text bytes = {0};
    uint64_t key_code = 0;
    add_path(&path, folder, "sheets.json");
    bool ok = read_bytes(text_string(&path), SHEETS_BYTES_MOST, &bytes, error);
    ok = ok && plan_read(text_string(&path), text_string(&bytes), bytes.length, ret_plan, &key_code, error);
    if (ok) {
        *ret_key_changed = !key_has_code(folder, key_code);
    }
    text_done(&path);
    text_done(&bytes);
    return ok;
}
