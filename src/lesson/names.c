/* The class's names from a file: one a line, or CSV with a column `name`. */
#include <stdlib.h>
#include <string.h>
#include <strings.h>

#include "ampsum/arena.h"
#include "ampsum/words.h"
#include "csv_line.h"
#include "sheet.h"

enum { NAMES_BYTES_MOST = 4 * 1024 * 1024, NAME_LENGTH_MOST = 200 };

/* The file while it is read. */
struct list {
    const char *path;
    size_t row;
    size_t name; /* columns; SIZE_MAX: not there */
    size_t class_name;
    size_t number;
    bool csv;
    struct person {
        char *name;
        char *class_name;
        unsigned long number; /* 0: none */
    } * people;
    size_t count;
    size_t capacity;
};

static char *copy_string(const char *string)
{
    size_t size = strlen(string) + 1;
    char *copy = memory_new(size);
    memcpy(copy, string, size);
    return copy;
}

static void list_done(struct list *list)
{
    for (size_t i = 0; i < list->count; i++) {
        free(list->people[i].name);
        free(list->people[i].class_name);
    }
    free(list->people);
}

static bool add_person(struct list *list, const char *name, const char *class_name, const char *number,
                       struct error *error)
{
    if (name[0] == '\0') {
        return true;
    }
    if (strlen(name) > NAME_LENGTH_MOST || words_has_control(name) || !words_is_utf8(name, strlen(name))) {
        error_set(error, ERROR_INPUT, "%s:%zu: expected a name in UTF-8 of at most %d characters", list->path,
                  list->row, NAME_LENGTH_MOST);
        return false;
    }
    list->people = memory_grow(list->people, list->count, &list->capacity, sizeof *list->people);
    list->people[list->count++] =
        (struct person){copy_string(name), copy_string(class_name), strtoul(number, NULL, 10)};
    return true;
}

static const char *cell(const struct csv_line *line, size_t at)
{
    return at < line->count ? line->cell[at] : "";
}

static size_t column(const struct csv_line *line, const char *word)
{
    for (size_t i = 0; i < line->count; i++) {
        if (strcasecmp(line->cell[i], word) == 0) {
            return i;
        }
    }
    return SIZE_MAX;
}

/* The first line tells whether there are columns. */
static bool take_heading(struct list *list, const struct csv_line *line)
{
    list->name = column(line, "name");
    list->class_name = column(line, "class");
    list->number = column(line, "number");
    list->csv = list->name != SIZE_MAX;
    return list->csv;
}

static bool take_line(struct list *list, const char *bytes, size_t length, unsigned char separator, struct error *error)
{
    struct csv_line line = {0};
    struct text whole = {0};
    list->row++;
    bool ok = csv_line_read(&line, bytes, length, separator);
    if (!ok) {
        error_set(error, ERROR_INPUT, "%s:%zu: a quote that is not closed, or stands inside a cell", list->path,
                  list->row);
    } else if (list->row == 1 && take_heading(list, &line)) {
        /* headings only */
    } else if (list->csv) {
        ok = add_person(list, cell(&line, list->name), cell(&line, list->class_name), cell(&line, list->number), error);
    } else if (line.count > 0) {
        text_add_length(&whole, bytes, length);
        ok = add_person(list, text_string(&whole), "", "", error);
    }
    text_done(&whole);
    csv_line_done(&line);
    return ok;
}

/* Where the numbers are 1 to the count, each once, they are the students' numbers. */
static bool are_places(const struct list *list)
{
    bool *taken = memory_new(list->count);
    memset(taken, 0, list->count);
    bool ok = true;
    for (size_t i = 0; i < list->count && ok; i++) {
        const unsigned long number = list->people[i].number;
        ok = number >= 1 && number <= list->count && !taken[number - 1];
        if (ok) {
            taken[number - 1] = true;
        }
    }
    free(taken);
    return ok;
}

static void give_names(const struct list *list, struct lesson_plan *plan)
{
    const bool placed = are_places(list);
    bool one_class = list->people[0].class_name[0] != '\0';
    plan->students = (unsigned)list->count;
    plan->names = memory_resize(NULL, list->count, sizeof *plan->names);
    for (size_t i = 0; i < list->count; i++) {
        plan->names[placed ? list->people[i].number - 1 : i] = copy_string(list->people[i].name);
        one_class = one_class && strcmp(list->people[i].class_name, list->people[0].class_name) == 0;
    }
    if (one_class && plan->class_name == NULL) {
        plan->class_name = copy_string(list->people[0].class_name);
    }
}

bool lesson_names_read(struct lesson_plan *plan, const char *path, struct error *error)
{
    struct text bytes = {0};
    struct list list = {.path = path};
    bool ok = read_bytes(path, NAMES_BYTES_MOST, &bytes, error);
    const char *start = text_string(&bytes);
    size_t at = ok && bytes.length >= 3 && memcmp(start, "\xEF\xBB\xBF", 3) == 0 ? 3 : 0;
    const unsigned char separator = csv_separator(start + at, bytes.length - at);
    while (ok && at < bytes.length) {
        const size_t end = csv_line_end(start, at, bytes.length);
        ok = take_line(&list, start + at, end - at, separator, error);
        at = csv_line_next(start, end, bytes.length);
    }
    if (ok && (list.count == 0 || list.count > LESSON_STUDENTS_MOST)) {
        error_set(error, ERROR_INPUT, "%s: expected 1 to %d names, one a line, or CSV with a column name", path,
                  LESSON_STUDENTS_MOST);
        ok = false;
    }
    if (ok) {
        give_names(&list, plan);
    }
    list_done(&list);
    text_done(&bytes);
    return ok;
}
