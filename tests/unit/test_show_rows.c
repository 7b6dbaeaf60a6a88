/* Rows described once: each face has what its column names, in the face's order, and reads what the getter gave. */
#include <math.h>
#include <stdlib.h>

#include "ampsum/show_rows.h"
#include "runner.h"

struct lamp {
    const char *name;
    double power_w;
    bool on;
};

static const struct lamp lamps[] = {{"a, <b>", 60, true}, {NULL, NAN, false}};

static const void *lamp_at(const void *answer, size_t row)
{
    return &((const struct lamp *)answer)[row];
}

static bool never(const void *answer)
{
    return answer == NULL;
}

static void get_twice(const void *answer, size_t row, struct show_cell *cell)
{
    cell->figure = 2 * ((const struct lamp *)answer)[row].power_w;
}

static void get_made(const void *answer, size_t row, struct show_cell *cell)
{
    (void)answer;
    text_printf(show_made(cell), "row %zu", row);
    show_made_done(cell);
}

static void total_power(const void *answer, struct show_cell *cell)
{
    (void)answer;
    cell->figure = 60;
}

static const struct show_column columns[] = {
    {.key = "name",
     .title = "Lamp",
     .faces = SHOW_ROWS | SHOW_JSON | SHOW_PRINT,
     .at = lamp_at,
     SHOW_FIELD(struct lamp, name)},
    {.key = "power_w",
     .heading = "WATT",
     .title = "Power",
     .unit = "W",
     .decimals = 1,
     .faces = SHOW_ROWS | SHOW_JSON | SHOW_PRINT,
     .at = lamp_at,
     SHOW_FIELD(struct lamp, power_w),
     .total = total_power},
    {.key = "never", .title = "Never", .faces = SHOW_ROWS | SHOW_JSON | SHOW_PRINT, .asked = never, .get = get_made},
    {.key = "twice_w", .json_before = "power_w", .kind = SHOW_FIGURE, .faces = SHOW_DATA, .get = get_twice},
    {.key = "made", .title = "Made", .live = "made", .faces = SHOW_PAGE, .get = get_made},
    {.key = "on", .faces = SHOW_DATA, .at = lamp_at, SHOW_FIELD(struct lamp, on)},
};

static const struct show_rows rows = {columns, sizeof columns / sizeof columns[0]};

START_TEST(csv_has_its_columns_in_order)
{
    struct text text = {0};
    struct table *table = show_table(&rows, SHOW_CSV, lamps, 2);
    table_write_csv(table, &text);
    ck_assert_str_eq(text_string(&text), "name,power_w,twice_w,on\n\"a, <b>\",60,120,yes\n,,,no\n");
    table_free(table);
    text_done(&text);
}
END_TEST

START_TEST(terminal_has_headings_and_decimals)
{
    struct text text = {0};
    struct table *table = show_table(&rows, SHOW_TERMINAL, lamps, 2);
    table_write_terminal(table, 80, false, &text);
    ck_assert_str_eq(text_string(&text), "Lamp   WATT\na, <b> 60.0\n-         -\n");
    table_free(table);
    text_done(&text);
}
END_TEST

START_TEST(json_keeps_the_order_that_programs_saw)
{
    json_t *array = show_json_array(&rows, lamps, 2);
    char *printed = json_dumps(array, JSON_COMPACT | JSON_REAL_PRECISION(15));
    ck_assert_str_eq(printed, "[{\"name\":\"a, <b>\",\"twice_w\":120,\"power_w\":60,\"on\":true},"
                              "{\"name\":null,\"twice_w\":null,\"power_w\":null,\"on\":false}]");
    free(printed);
    json_decref(array);
}
END_TEST

START_TEST(markup_escapes_names_and_has_a_last_line)
{
    struct text text = {0};
    show_html_table(&rows, "Lamps & more", lamps, 1, &text);
    ck_assert_str_eq(text_string(&text),
                     "<table><caption>Lamps &amp; more</caption><thead><tr><th scope=\"col\">Lamp</th>"
                     "<th scope=\"col\" class=\"n\">Power, W</th><th scope=\"col\">Made</th></tr></thead><tbody><tr>"
                     "<th scope=\"row\">a, &lt;b&gt;</th><td class=\"n\" data-label=\"Power, W\">60.0</td>"
                     "<td data-label=\"Made\">row 0</td></tr></tbody><tfoot><tr><td></td>"
                     "<td class=\"n\" data-label=\"Power, W\">60.0</td><td></td></tr></tfoot></table>\n");
    text_clear(&text);
    show_html_table(&rows, "None", lamps + 1, 1, &text);
    ck_assert_ptr_nonnull(strstr(text_string(&text), "<td class=\"n none\" data-label=\"Power, W\">-</td>"));
    text_clear(&text);
    show_html_figures(&rows, lamps, 1, &text);
    ck_assert_str_eq(text_string(&text), "<dl class=\"figures\"><div><dt>Lamp</dt><dd>-</dd></div><div><dt>Power</dt>"
                                         "<dd>- W</dd></div><div><dt>Made</dt><dd><span data-figure=\"made\">row 1"
                                         "</span></dd></div></dl>");
    text_done(&text);
}
END_TEST

/* A shelf of boxes: an array that the answer points to, each box with a lamp that it points to. */
struct box {
    size_t place;
    unsigned count;
    int change;
    long number;
    struct text label;
    const struct lamp *lamp;
};

struct shelf {
    const char *name;
    const struct box *boxes;
};

#define BOX(member) SHOW_IN(struct shelf, boxes, struct box, member)
#define LAMP(member) SHOW_VIA(struct shelf, boxes, struct box, lamp, struct lamp, member)

static const struct show_column box_columns[] = {
    {.key = "shelf", .faces = SHOW_JSON, SHOW_FIELD(struct shelf, name)},
    {.key = "place", .faces = SHOW_JSON, BOX(place)},
    {.key = "count", .faces = SHOW_JSON, BOX(count)},
    {.key = "change", .faces = SHOW_JSON, BOX(change)},
    {.key = "number", .faces = SHOW_JSON, BOX(number)},
    {.key = "label", .faces = SHOW_JSON, BOX(label)},
    {.key = "lamp", .faces = SHOW_JSON, LAMP(name)},
    {.key = "on", .faces = SHOW_JSON, LAMP(on)},
};

START_TEST(a_field_of_each_type_is_found_in_its_row)
{
    static const struct show_rows of_boxes = {box_columns, sizeof box_columns / sizeof box_columns[0]};
    struct box boxes[] = {{7, 1, -2, 300, {0}, &lamps[1]}, {8, 4000000000U, 2, -300, {0}, &lamps[0]}};
    const struct shelf shelf = {"top", boxes};
    text_add(&boxes[1].label, "glass");
    json_t *array = show_json_array(&of_boxes, &shelf, 2);
    char *printed = json_dumps(array, JSON_COMPACT);
    ck_assert_str_eq(printed, "[{\"shelf\":\"top\",\"place\":7,\"count\":1,\"change\":-2,\"number\":300,\"label\":\"\","
                              "\"lamp\":null,\"on\":false},{\"shelf\":\"top\",\"place\":8,\"count\":4000000000,"
                              "\"change\":2,\"number\":-300,\"label\":\"glass\",\"lamp\":\"a, <b>\",\"on\":true}]");
    free(printed);
    json_decref(array);
    text_done(&boxes[1].label);
}
END_TEST

/* A room with what stands in it and beside it: parts of JSON. */
struct span {
    double from;
    double to;
};

struct chamber {
    struct span warm;
    double hour_w[2];
    struct lamp lamp[2];
    size_t box_count;
    const struct box *boxes;
    long seconds;
    int side;
};

static const void *nowhere_at(const void *answer, size_t row)
{
    (void)answer;
    (void)row;
    return NULL;
}

static void take_side(const struct show_column *column, const void *field, struct show_cell *cell)
{
    static const char *const words[] = {"left", "right"};
    cell->words = column->field == offsetof(struct chamber, side) ? words[*(const int *)field] : "another field";
}

static const struct show_column span_columns[] = {{.key = "from", .faces = SHOW_JSON, SHOW_FIELD(struct span, from)},
                                                  {.key = "to", .faces = SHOW_JSON, SHOW_FIELD(struct span, to)}};
static const struct show_column hour_columns[] = {
    {.key = "w", .faces = SHOW_JSON, SHOW_EACH(struct chamber, hour_w)},
    {.key = "lamp", .faces = SHOW_JSON, SHOW_EACH_IN(struct chamber, lamp, struct lamp, name)}};
static const struct show_column count_columns[] = {
    {.faces = SHOW_JSON, SHOW_IN(struct chamber, boxes, struct box, count)}};
static const struct show_rows span_rows = SHOW_ROWS_OF(span_columns);
static const struct show_rows hour_rows = SHOW_ROWS_OF(hour_columns);
static const struct show_rows count_rows = SHOW_ROWS_OF(count_columns);

static const struct show_column room_columns[] = {
    {.key = "warm", SHOW_OBJECT(span_rows), SHOW_WITHIN(struct chamber, warm)},
    {.key = "none", SHOW_OBJECT(span_rows), .at = nowhere_at},
    {.key = "hours", SHOW_ARRAY(hour_rows, 2)},
    {.key = "counts", SHOW_LIST(count_rows, struct chamber, box_count)},
    {.key = "h", .per = 3600, .faces = SHOW_JSON, SHOW_FIELD(struct chamber, seconds)},
    {.key = "side", .faces = SHOW_JSON, SHOW_TAKEN(struct chamber, side, take_side)}};

START_TEST(parts_of_json_have_rows_of_their_own)
{
    static const struct show_rows room_rows = SHOW_ROWS_OF(room_columns);
    static const char *const cautions[] = {"Mind the step.", NULL};
    const struct box boxes[] = {{.count = 3}, {.count = 5}};
    const struct chamber room = {{1, 2}, {60, 40}, {{"a", 0, 0}, {NULL, 0, 0}}, 2, boxes, 5400, 1};
    json_t *json = show_answer_json("rooms", "Home", &room_rows, &room, cautions);
    char *printed = json_dumps(json, JSON_COMPACT);
    static const char want[] = "{\"ampsum\":1,\"command\":\"rooms\",\"house\":\"Home\",\"warm\":{\"from\":1,\"to\":2},"
                               "\"none\":null,\"hours\":[{\"w\":60,\"lamp\":\"a\"},{\"w\":40,\"lamp\":null}],"
                               "\"counts\":[3,5],\"h\":1.5,\"side\":\"right\",\"cautions\":[\"Mind the step.\",";
    ck_assert_msg(strncmp(printed, want, strlen(want)) == 0, "%s", printed);
    free(printed);
    json_decref(json);
    struct chamber bare = room;
    bare.box_count = 0;
    json = show_json(&room_rows, &bare, 0);
    ck_assert_uint_eq(json_array_size(json_object_get(json, "counts")), 0);
    ck_assert(json_is_array(json_object_get(json, "counts")));
    json_decref(json);
}
END_TEST

/* A stall: what it points to may not be there; what it holds has names of its own. */
struct stall {
    const char **names;
    size_t name_count;
    const struct lamp *lamp;
    const struct lamp *spare;
    const struct box *boxes;
    size_t box_count;
};

static void get_box_key(const void *answer, size_t row, struct show_cell *cell)
{
    const struct stall *stall = answer;
    if (stall->boxes[row].count > 0) {
        text_printf(show_made(cell), "box %zu", stall->boxes[row].place);
        show_made_done(cell);
    }
}

static const struct show_column name_columns[] = {{.faces = SHOW_JSON, SHOW_STRINGS(struct stall, names)}};
static const struct show_rows name_rows = SHOW_ROWS_OF(name_columns);

static const struct show_column part_columns[] = {
    {.key = "name", .faces = SHOW_JSON, SHOW_FIELD(struct lamp, name)},
    {.key = "on", .faces = SHOW_JSON, SHOW_FIELD(struct lamp, on)},
};
static const struct show_rows part_rows = SHOW_ROWS_OF(part_columns);

static const struct show_column keyed_columns[] = {
    {.faces = SHOW_JSON, .get = get_box_key},
    {SHOW_OBJECT(part_rows), SHOW_ELEMENT(struct stall, boxes, struct box),
     SHOW_POINTED(struct box, lamp, struct lamp)},
};
static const struct show_rows keyed_rows = SHOW_ROWS_OF(keyed_columns);

static const struct show_column box_lamp_columns[] = {
    {.key = "lamp",
     SHOW_OBJECT(part_rows),
     SHOW_ELEMENT(struct stall, boxes, struct box),
     SHOW_POINTED(struct box, lamp, struct lamp)},
};
static const struct show_rows box_lamp_rows = SHOW_ROWS_OF(box_lamp_columns);

#define SPARE(member) SHOW_TO(struct stall, spare, struct lamp, member)

static const struct show_column stall_columns[] = {
    {SHOW_OBJECT(part_rows), SHOW_POINTED(struct stall, lamp, struct lamp)},
    {.key = "spare", SHOW_OBJECT(part_rows), SHOW_POINTED(struct stall, spare, struct lamp)},
    {.key = "spare_name", .title = "Spare", .null_if_empty = true, .faces = SHOW_DATA | SHOW_TERMINAL, SPARE(name)},
    {.key = "spare_w", .title = "W", .faces = SHOW_DATA | SHOW_TERMINAL, SPARE(power_w)},
    {.key = "spare_on", .title = "On", .faces = SHOW_DATA | SHOW_TERMINAL, SPARE(on)},
    {.key = "names", SHOW_LIST(name_rows, struct stall, name_count)},
    {.key = "boxes", SHOW_KEYED(keyed_rows, struct stall, box_count)},
    {.key = "lamps", SHOW_LIST(box_lamp_rows, struct stall, box_count)},
};

START_TEST(what_is_pointed_to_may_not_be_there)
{
    static const struct show_rows stall_rows = SHOW_ROWS_OF(stall_columns);
    const char *names[] = {"one", "two"};
    const struct box boxes[] = {{.place = 1, .count = 1, .number = 10, .lamp = &lamps[0]},
                                {.place = 2, .count = 0, .number = 20, .lamp = NULL},
                                {.place = 3, .count = 1, .number = 30, .lamp = NULL}};
    const struct stall stall = {names, 2, &lamps[0], NULL, boxes, 3};
    json_t *json = show_json(&stall_rows, &stall, 0);
    char *printed = json_dumps(json, JSON_COMPACT);
    ck_assert_str_eq(printed, "{\"name\":\"a, <b>\",\"on\":true,\"spare\":null,\"spare_name\":null,\"spare_w\":null,"
                              "\"spare_on\":null,\"names\":[\"one\",\"two\"],"
                              "\"boxes\":{\"box 1\":{\"name\":\"a, <b>\",\"on\":true},\"box "
                              "3\":null},\"lamps\":[{\"lamp\":{\"name\":\"a, <b>\","
                              "\"on\":true}},{\"lamp\":null},{\"lamp\":null}]}");
    free(printed);
    json_decref(json);
    struct text text = {0};
    struct table *table = show_table(&stall_rows, SHOW_CSV, &stall, 1);
    table_write_csv(table, &text);
    ck_assert_str_eq(text_string(&text), "spare_name,spare_w,spare_on\n\"\",,\n");
    table_free(table);
    text_clear(&text);
    table = show_table(&stall_rows, SHOW_TERMINAL, &stall, 1);
    table_write_terminal(table, 80, true, &text);
    ck_assert_str_eq(text_string(&text), "Spare W On\n-     - -\n");
    table_free(table);
    text_done(&text);
}
END_TEST

/* ------------------------------------------------------------------ ways to a field ----------------------- */

struct rack {
    const struct lamp *best; /* NULL: none */
    const double *price;
    char place[8];
    size_t wires;
};

static const char *wire_word(size_t wires)
{
    return wires == 2 ? "two" : "three";
}

static SHOW_WORD_TAKE(take_wires, size_t, wire_word)

#define SEEN SHOW_TERMINAL

    static const struct show_column shelf_columns[] = {
        {.key = "best_w",
         .heading = "BEST",
         .unit = "W",
         .faces = SHOW_JSON | SEEN,
         .known_on = SEEN,
         SHOW_TO(struct rack, best, struct lamp, power_w)},
        {.key = "best", .faces = SHOW_JSON, SHOW_TO(struct rack, best, struct lamp, name)},
        {.key = "price",
         .heading = "PRICE",
         .decimals = 1,
         .faces = SHOW_JSON | SEEN,
         .asked = never,
         .asked_on = SEEN,
         SHOW_ITEM(struct rack, price, double)},
        {.key = "place",
         .heading = "PLACE",
         .faces = SHOW_JSON | SEEN,
         SHOW_TAKEN(struct rack, place, show_take_letters)},
        {.key = "wires", .heading = "WIRES", .faces = SHOW_JSON | SEEN, SHOW_TAKEN(struct rack, wires, take_wires)},
};
static const struct show_rows shelf_rows = SHOW_ROWS_OF(shelf_columns);

static void ways(const struct rack *shelf, const char *json, const char *terminal)
{
    json_t *object = show_json(&shelf_rows, shelf, 0);
    char *dumped = json_dumps(object, JSON_COMPACT);
    struct text text = {0};
    show_figures_text(&shelf_rows, shelf, 6, &text);
    ck_assert_str_eq(dumped, json);
    ck_assert_str_eq(text_string(&text), terminal);
    text_done(&text);
    free(dumped);
    json_decref(object);
}

START_TEST(a_struct_that_is_not_there_has_no_value_and_people_no_line_of_it)
{
    static const double price = 2.5;
    ways(&(struct rack){&lamps[0], &price, "left", 2},
         "{\"best_w\":60,\"best\":\"a, <b>\",\"price\":2.5,\"place\":\"left\",\"wires\":\"two\"}",
         "  BEST   60 W\n  PLACE  left\n  WIRES  two\n");
    ways(&(struct rack){NULL, &price, "", 3},
         "{\"best_w\":null,\"best\":null,\"price\":2.5,\"place\":\"\",\"wires\":\"three\"}",
         "  PLACE  \n  WIRES  three\n");
}
END_TEST

START_TEST(a_line_is_wrapped_behind_its_blanks_and_an_empty_one_is_none)
{
    const struct page page = {.width = 20};
    struct text line = {0};
    struct text text = {0};
    show_line(&page, 2, 4, &line, &text);
    ck_assert_str_eq(text_string(&text), "");
    text_fixed(&line, "more than ", 1.25, 1, " A on the wire");
    show_line(&page, 2, 4, &line, &text);
    ck_assert_str_eq(text_string(&text), "  more than 1.3 A on\n    the wire\n");
    ck_assert_uint_eq(line.length, 0);
    text_done(&text);
}
END_TEST

Suite *make_suite(void)
{
    Suite *suite = suite_create("show_rows");
    TCase *faces = tcase_create("faces");
    tcase_add_test(faces, csv_has_its_columns_in_order);
    tcase_add_test(faces, terminal_has_headings_and_decimals);
    tcase_add_test(faces, json_keeps_the_order_that_programs_saw);
    tcase_add_test(faces, markup_escapes_names_and_has_a_last_line);
    tcase_add_test(faces, a_field_of_each_type_is_found_in_its_row);
    tcase_add_test(faces, parts_of_json_have_rows_of_their_own);
    tcase_add_test(faces, what_is_pointed_to_may_not_be_there);
    tcase_add_test(faces, a_struct_that_is_not_there_has_no_value_and_people_no_line_of_it);
    tcase_add_test(faces, a_line_is_wrapped_behind_its_blanks_and_an_empty_one_is_none);
    suite_add_tcase(suite, faces);
    return suite;
}
