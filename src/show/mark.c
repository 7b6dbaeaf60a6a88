/* The answers of `mark`: its JSON, its tables, and the words on the files. */
#include "ampsum/show_mark.h"

/* ------------------------------------------------------------------ programs ------------------------------ */

#define NOTICE(member) SHOW_IN(struct mark_answer, marks.notices, struct mark_notice, member)

static const struct show_column notices[] = {
    {.key = "file", .faces = SHOW_JSON, NOTICE(file)},
    {.key = "row", .faces = SHOW_JSON, NOTICE(row)},
    {.key = "text", .faces = SHOW_JSON, NOTICE(word)},
};

static const struct show_rows notice_rows = SHOW_ROWS_OF(notices);

static void take_points(const struct show_column *column, const void *field, struct show_cell *cell)
{
    (void)column;
    lesson_scheme_show(field, show_made(cell));
    show_made_done(cell);
}

static void take_tolerance(const struct show_column *column, const void *field, struct show_cell *cell)
{
    (void)column;
    cell->part = json_real((double)((const struct lesson_scheme *)field)->tolerance_ppm / 10000);
}

#define LIST(rows, count) SHOW_LIST(rows, struct mark_answer, marks.count)
#define SCHEME(take) .faces = SHOW_JSON, SHOW_TAKEN(struct mark_answer, plan.scheme, take)

static const struct show_column columns[] = {
    {.key = "key_changed", .faces = SHOW_JSON, SHOW_FIELD(struct mark_answer, key_changed)},
    {.key = "points", SCHEME(take_points)},
    {.key = "tolerance_percent", .kind = SHOW_PART, SCHEME(take_tolerance)},
    {.key = "students", LIST(show_students_rows, student_count)},
    {.key = "summary", LIST(show_parts_rows, summary_count)},
    {.key = "slips", LIST(show_slips_rows, slip_count)},
    {.key = "notices", LIST(notice_rows, notice_count)},
};

json_t *show_mark_json(const struct mark_answer *answer)
{
    static const struct show_rows rows = SHOW_ROWS_OF(columns);
    return show_answer_json("mark", NULL, &rows, answer, NULL);
}

struct table *show_mark_csv(const struct mark_answer *answer, const struct mark_view *view)
{
    const struct marks *marks = &answer->marks;
    if (view->summary) {
        return show_table(&show_parts_rows, SHOW_CSV, answer, marks->summary_count);
    }
    if (view->students) {
        return show_table(&show_students_rows, SHOW_CSV, answer, marks->student_count);
    }
    return show_table(&show_marked_rows, SHOW_CSV, &answer->lines, answer->lines.count);
}

json_t *show_expect_json(const struct expect_answer *answer)
{
    json_t *json = json_answer("mark", NULL);
    json_object_set_new(json, "expect", json_text(answer->expect));
    json_object_set_new(json, "figures", json_integer(answer->figures));
    json_object_set_new(json, "answers", show_json_array(&show_expect_rows, &answer->lines, answer->lines.count));
    json_object_set_new(json, "cautions", json_array());
    return json;
}

/* ------------------------------------------------------------------ people -------------------------------- */

static void add_table(const struct show_rows *rows, const void *answer, size_t count, const struct page *page,
                      struct text *text)
{
    text_add(text, text->length > 0 ? "\n" : "");
    show_table_text(rows, answer, count, page, text);
}

/* The class: each part, then the commonest slips over all. */
static void add_class(const struct mark_answer *answer, const struct page *page, struct text *text)
{
    add_table(&show_parts_rows, answer, answer->marks.summary_count, page, text);
    if (answer->marks.slip_count > 0) {
        add_table(&show_slips_rows, answer, answer->marks.slip_count, page, text);
    }
}

/* As it was told. */
static void add_scheme(const struct mark_answer *answer, struct text *text)
{
    struct text points = {0};
    struct text percent = {0};
    struct text figures = {0};
    struct text line = {0};
    lesson_scheme_show(&answer->plan.scheme, &points);
    lesson_scheme_percent(&answer->plan.scheme, &percent);
    text_printf(&figures, "%u", lesson_plan_figures(&answer->plan));
    say(&line, answer->plan.language, "marks.scheme", "points", text_string(&points), "percent", text_string(&percent),
        "figures", text_string(&figures), (const char *)NULL);
    text_printf(text, "\n%s\n", text_string(&line));
    text_done(&points);
    text_done(&percent);
    text_done(&figures);
    text_done(&line);
}

/* The scheme where another one than the sheets hold was told, and what is left to a person. */
static void add_terms(const struct mark_answer *answer, struct text *text)
{
    if (answer->own_scheme) {
        add_scheme(answer, text);
    }
    if (answer->to_decide > 0) {
        struct text number = {0};
        struct text file = {0};
        text_printf(&number, "%u", answer->to_decide);
        text_add_harmless(&file, answer->folder);
        text_add(&file, "/decide.csv");
        text_add_char(text, '\n');
        say(text, answer->plan.language, answer->to_decide == 1 ? "marks.decide-one" : "marks.decide-more", "number",
            text_string(&number), "file", text_string(&file), (const char *)NULL);
        text_add_char(text, '\n');
        text_done(&number);
        text_done(&file);
    }
}

void show_mark_text(const struct mark_answer *answer, const struct mark_view *view, const struct page *page,
                    struct text *text)
{
    const bool none = !view->summary && !view->students && !view->answers;
    struct text words = {0};
    if (view->answers) {
        add_table(&show_marked_rows, &answer->lines, answer->lines.count, page, text);
    }
    if (view->students || view->answers || none) {
        add_table(&show_students_rows, answer, answer->marks.student_count, page, text);
    }
    if (view->summary || view->answers || none) {
        add_class(answer, page, text);
    }
    add_terms(answer, text);
    mark_notices(answer, &words);
    if (words.length > 0) {
        text_printf(text, "\n%s\n%s", say_plain(answer->plan.language, "marks.words"), text_string(&words));
    }
    text_done(&words);
}
