/* The answers of `lesson`: the questions of a set of sheets; a network from parts on the shelf. */
#include "ampsum/show_lesson.h"

#include <math.h>

enum { EVERYWHERE = SHOW_ROWS | SHOW_JSON, FIGURES = 6 };

/* ------------------------------------------------------------------ sheets -------------------------------- */

static void get_question(const void *answer, size_t row, struct show_cell *cell)
{
    (void)answer;
    cell->figure = (double)(row + 1);
}

static SHOW_WORD_TAKE(take_kind, enum lesson_kind, lesson_kind_word)

    static void get_about(const void *answer, size_t row, struct show_cell *cell)
{
    const struct lesson_plan *plan = answer;
    cell->words = lesson_kind_about(plan->language, plan->kinds[row]);
}

static int language_of(const void *answer)
{
    return ((const struct lesson_plan *)answer)->language;
}

#define KIND SHOW_ELEMENT(struct lesson_plan, kinds, enum lesson_kind), .take = take_kind
#define SAID(key_) .title = "marks." key_, .language = language_of

static const struct show_column questions[] = {
    {.key = "question", SAID("question"), .faces = SHOW_ROWS, .kind = SHOW_FIGURE, .get = get_question},
    {.key = "kind", SAID("kind"), .faces = SHOW_ROWS, KIND},
    {.key = "about", SAID("asks"), .faces = SHOW_ROWS, .wrap = 60, .get = get_about},
};

const struct show_rows show_plan_rows = SHOW_ROWS_OF(questions);

static const struct show_column kinds[] = {{.faces = SHOW_JSON, KIND}};
static const struct show_rows kind_rows = SHOW_ROWS_OF(kinds);

static const struct show_column plan_columns[] = {
    {.key = "level", .faces = SHOW_JSON, SHOW_FIELD(struct lesson_plan, level)},
    {.key = "students", .faces = SHOW_JSON, SHOW_FIELD(struct lesson_plan, students)},
    {.key = "questions", SHOW_LIST(kind_rows, struct lesson_plan, question_count)},
};

/* A seed has more digits than a figure. */
json_t *show_plan_json(const struct lesson_plan *plan, const char *house, const char *folder)
{
    static const struct show_rows rows = SHOW_ROWS_OF(plan_columns);
    json_t *json = json_answer("lesson", house);
    json_object_set_new(json, "folder", json_text(folder));
    json_object_set_new(json, "seed", json_integer((json_int_t)plan->seed));
    show_json_into(&rows, plan, 0, json);
    json_cautions(json, NULL);
    return json;
}

static void add_sheets(const struct lesson_plan *plan, struct text *text)
{
    struct text students = {0};
    struct text level = {0};
    struct text seed = {0};
    text_printf(&students, "%u", plan->students);
    text_printf(&level, "%u", plan->level);
    text_printf(&seed, "%llu", (unsigned long long)plan->seed);
    say(text, plan->language, plan->students == 1 ? "marks.sheets-one" : "marks.sheets", "number",
        text_string(&students), "level", text_string(&level), "seed", text_string(&seed), (const char *)NULL);
    text_done(&students);
    text_done(&level);
    text_done(&seed);
}

void show_plan_text(const struct lesson_plan *plan, const char *folder, const struct page *page, struct text *text)
{
    show_table_text(&show_plan_rows, plan, plan->question_count, page, text);
    text_add_char(text, '\n');
    text_add_harmless(text, folder);
    text_add(text, ": ");
    add_sheets(plan, text);
    text_add(text, "\n\n");
    show_wrap(page, 0, say_plain(plan->language, "live.caution"), text);
}

/* ------------------------------------------------------------------ parts from a shelf -------------------- */

static bool has_voltage(const void *answer)
{
    return ((const struct shelf_answer *)answer)->has_voltage;
}

#define PART(member) SHOW_IN(struct shelf_answer, parts, struct shelf_part, member)

#define OF_PART(member) .decimals = 3, PART(member)

static const struct show_column parts[] = {
    {.key = "part", .heading = "PART", .faces = SHOW_ROWS, .kind = SHOW_FIGURE, .get = get_question},
    {.key = "resistance_ohm", .heading = "OHM", .faces = EVERYWHERE, OF_PART(ohm)},
    {.key = "voltage_v",
     .heading = "VOLT",
     .faces = EVERYWHERE,
     .asked = has_voltage,
     .asked_on = SHOW_ROWS,
     OF_PART(voltage_v)},
    {.key = "power_w",
     .heading = "MUST STAND WATT",
     .faces = EVERYWHERE,
     .asked = has_voltage,
     .asked_on = SHOW_ROWS,
     OF_PART(power_w)},
};

const struct show_rows show_shelf_rows = SHOW_ROWS_OF(parts);

json_t *show_shelf_json(const struct shelf_answer *answer)
{
    json_t *json = json_answer("lesson", NULL);
    struct text network = {0};
    stock_words(&network, &answer->stock, &answer->found);
    json_object_set_new(json, "wanted_ohm", json_figure(mpq_get_d(answer->wanted)));
    json_object_set_new(json, "resistance_ohm", json_figure(mpq_get_d(answer->made)));
    json_object_set_new(json, "exact", json_boolean(answer->found.exact));
    json_object_set_new(json, "error_percent", json_figure(mpq_get_d(answer->error_percent)));
    json_object_set_new(json, "complete", json_boolean(answer->found.complete));
    json_object_set_new(json, "part_count", json_integer(answer->found.parts));
    json_object_set_new(json, "network", json_text(text_string(&network)));
    json_object_set_new(json, "low_ohm", json_figure(answer->has_tolerance ? mpq_get_d(answer->low) : (double)NAN));
    json_object_set_new(json, "high_ohm", json_figure(answer->has_tolerance ? mpq_get_d(answer->high) : (double)NAN));
    json_object_set_new(json, "parts", show_json_array(&show_shelf_rows, answer, answer->part_count));
    json_cautions(json, NULL);
    text_done(&network);
    return json;
}

static void add_line(struct text *text, const char *what, const mpq_t value)
{
    text_printf(text, "  %-28s ", what);
    exact_figure(text, value, EXACT_RESISTANCE, FIGURES);
    text_add_char(text, '\n');
}

static void add_made(const struct shelf_answer *answer, struct text *text)
{
    const struct stock_answer *found = &answer->found;
    add_line(text, "wanted", answer->wanted);
    add_line(text, found->exact ? "made, exactly" : "made, the nearest", answer->made);
    if (!found->exact) {
        text_printf(text, "  %-28s ", "off by");
        exact_write_decimal(text, answer->error_percent, 3);
        text_add(text, " %\n");
    }
    text_printf(text, "  %-28s %u\n", found->exact ? "fewest parts" : "parts", found->parts);
    if (answer->has_tolerance) {
        add_line(text, "all parts at the low end", answer->low);
        add_line(text, "all parts at the high end", answer->high);
    }
    if (!found->exact && found->complete) {
        text_printf(text, "\nNo network of up to %u parts makes it exactly.\n", found->searched);
    } else if (!found->exact) {
        text_printf(text, "\nNetworks of %u parts are too many to look at all; there may be a nearer one.\n",
                    found->searched);
    }
}

void show_shelf_text(const struct shelf_answer *answer, const struct page *page, struct text *text)
{
    stock_words(text, &answer->stock, &answer->found);
    text_add(text, "\n\n");
    stock_draw(text, &answer->stock, &answer->found);
    text_add_char(text, '\n');
    add_made(answer, text);
    text_add_char(text, '\n');
    show_table_text(&show_shelf_rows, answer, answer->part_count, page, text);
    text_add_char(text, '\n');
    show_cautions_text(page, NULL, text);
}
