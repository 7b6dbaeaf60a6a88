/* sheets.json: the plan written and read back. */
#include <assert.h>
#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

#include <jansson.h>

#include "ampsum/arena.h"
#include "plan.h"

static char *copy_string(const char *string)
{
    size_t size = strlen(string) + 1;
    char *copy = memory_new(size);
    memcpy(copy, string, size);
    return copy;
}

static json_t *checked(json_t *json)
{
    if (json == NULL) {
        memory_fail();
    }
    return json;
}

static void set(json_t *object, const char *key, json_t *value)
{
    if (json_object_set_new(object, key, checked(value)) != 0) {
        memory_fail();
    }
}

static void append(json_t *array, json_t *value)
{
    if (json_array_append_new(array, checked(value)) != 0) {
        memory_fail();
    }
}

static json_t *code_json(uint64_t code)
{
    struct text digits = {0};
    text_printf(&digits, "%016" PRIx64, code);
    json_t *json = json_string(text_string(&digits));
    text_done(&digits);
    return json;
}

static json_t *branches_json(const struct lesson_plan *plan)
{
    json_t *branches = checked(json_array());
    for (size_t i = 0; i < plan->branch_count; i++) {
        const struct lesson_branch *branch = &plan->branches[i];
        json_t *row = checked(json_object());
        json_t *loads = checked(json_array());
        for (size_t k = 0; k < branch->load_count; k++) {
            json_t *load = checked(json_object());
            set(load, "name", json_string(branch->loads[k].name));
            set(load, "power_w", json_integer(branch->loads[k].power_w));
            if (branch->loads[k].minutes_day > 0 && plan->generator > LESSON_GENERATOR_FIRST) {
                set(load, "minutes_day", json_integer(branch->loads[k].minutes_day));
            }
            append(loads, load);
        }
        set(row, "label", json_string(branch->label));
        set(row, "breaker_a", json_integer(branch->breaker_a));
        set(row, "loads", loads);
        append(branches, row);
    }
    return branches;
}

static json_t *text_json(const struct text *text)
{
    return json_string(text_string(text));
}

static void add_scheme(json_t *json, const struct lesson_plan *plan)
{
    const struct lesson_scheme *scheme = &plan->scheme;
    const char sign[] = {scheme->decimal_sign, '\0'};
    struct text points = {0};
    struct text percent = {0};
    lesson_scheme_show(scheme, &points);
    lesson_scheme_percent(scheme, &percent);
    set(json, "points", text_json(&points));
    set(json, "tolerance_percent", text_json(&percent));
    set(json, "figures", json_integer(lesson_plan_figures(plan)));
    set(json, "units", json_string(scheme->units_printed ? "printed" : "asked"));
    set(json, "decimal_sign", json_string(sign));
    text_done(&points);
    text_done(&percent);
}

static void add_string(json_t *json, const char *key, const char *string)
{
    if (string != NULL && string[0] != '\0') {
        set(json, key, json_string(string));
    }
}

static void add_class(json_t *json, const struct lesson_plan *plan)
{
    add_string(json, "title", plan->title);
    add_string(json, "class", plan->class_name);
    add_string(json, "date", plan->date);
    set(json, "language", json_string(language_code(plan->language)));
    set(json, "symbols", json_string(plan->zigzag ? "us" : "iec"));
    add_string(json, "font", plan->font);
    if (plan->large) {
        set(json, "large", json_true());
    }
    if (plan->voltage_letter != '\0') {
        const char letter[] = {plan->voltage_letter, '\0'};
        set(json, "voltage_letter", json_string(letter));
    }
    set(json, "room", json_integer(plan->room));
    set(json, "own_percent", json_integer(plan->own_percent));
    if (plan->versions > 0) {
        set(json, "versions", json_integer(plan->versions));
    }
    if (plan->names != NULL) {
        json_t *names = checked(json_array());
        for (unsigned i = 0; i < plan->students; i++) {
            append(names, json_string(plan->names[i]));
        }
        set(json, "names", names);
    }
}

static json_t *plan_json(const struct lesson_plan *plan)
{
    json_t *json = checked(json_object());
    json_t *kinds = checked(json_array());
    for (size_t i = 0; i < plan->question_count; i++) {
        append(kinds, json_string(lesson_kind_word(plan->kinds[i])));
    }
    set(json, "ampsum", json_integer(1));
    if (plan->generator > LESSON_GENERATOR_FIRST) { /* whose files hold no number */
        set(json, "generator", json_integer(plan->generator));
    }
    set(json, "seed", json_integer((json_int_t)plan->seed));
    set(json, "level", json_integer(plan->level));
    set(json, "students", json_integer(plan->students));
    set(json, "questions", kinds);
    set(json, "voltage_v", json_integer(plan->voltage_v));
    if (plan->continuous_percent > 0 && plan->generator > LESSON_GENERATOR_LETTERS) {
        set(json, "continuous_percent", json_integer(plan->continuous_percent));
    }
    set(json, "currency", json_string(plan->currency));
    set(json, "price", json_string(plan->price));
    set(json, "branches", branches_json(plan));
    if (plan->generator > LESSON_GENERATOR_FIRST) {
        add_scheme(json, plan);
        add_class(json, plan);
    }
    return json;
}

static uint64_t json_code(const json_t *json)
{
    char *dump = json_dumps(json, JSON_COMPACT);
    if (dump == NULL) {
        memory_fail();
    }
    uint64_t code = bytes_code(dump, strlen(dump));
    free(dump);
    return code;
}

uint64_t plan_code(const struct lesson_plan *plan)
{
    json_t *json = plan_json(plan);
    uint64_t code = json_code(json);
    json_decref(json);
    return code;
}

static json_t *codes_json(const struct lesson_plan *plan, char (*codes)[LESSON_CODE_SIZE])
{
    json_t *list = checked(json_array());
    for (unsigned i = 0; i < plan->students; i++) {
        append(list, json_string(codes[i]));
    }
    return list;
}

/* Over all but the codes; the first generator's files guard the plan alone, whose sheets' codes follow from that. */
static uint64_t file_code(const json_t *json, unsigned generator)
{
    json_t *copy = checked(json_copy((json_t *)(uintptr_t)json)); /* shallow: jansson takes no const here */
    json_object_del(copy, "code");
    json_object_del(copy, "key_code");
    if (generator == LESSON_GENERATOR_FIRST) {
        json_object_del(copy, "sheets");
    }
    uint64_t code = json_code(copy);
    json_decref(copy);
    return code;
}

void plan_write(struct text *text, const struct lesson_plan *plan, char (*codes)[LESSON_CODE_SIZE], uint64_t key_code)
{
    json_t *json = plan_json(plan);
    set(json, "sheets", codes_json(plan, codes));
    set(json, "key_code", code_json(key_code));
    set(json, "code", code_json(file_code(json, plan->generator)));
    char *dump = json_dumps(json, JSON_INDENT(1));
    if (dump == NULL) {
        memory_fail();
    }
    text_add(text, dump);
    text_add_char(text, '\n');
    free(dump);
    json_decref(json);
}

/* The number of a key, within least and most. */
static bool read_number(const json_t *json, const char *key, json_int_t least, json_int_t most, json_int_t *ret)
{
    const json_t *value = json_object_get(json, key);
    if (!json_is_integer(value) || json_integer_value(value) < least || json_integer_value(value) > most) {
        return false;
    }
    *ret = json_integer_value(value);
    return true;
}

static bool read_string(const json_t *json, const char *key, char **ret)
{
    const char *string = json_string_value(json_object_get(json, key));
    if (string == NULL) {
        return false;
    }
    *ret = copy_string(string);
    return true;
}

static bool read_branch(const json_t *json, struct lesson_plan *plan, size_t *capacity)
{
    json_int_t breaker_a;
    const char *label = json_string_value(json_object_get(json, "label"));
    const json_t *loads = json_object_get(json, "loads");
    if (label == NULL || !json_is_array(loads) || json_array_size(loads) == 0 ||
        !read_number(json, "breaker_a", 1, 1000, &breaker_a)) {
        return false;
    }
    struct lesson_branch *branch = plan_branch(plan, capacity, label, (unsigned)breaker_a);
    size_t load_capacity = 0;
    for (size_t k = 0; k < json_array_size(loads); k++) {
        const json_t *load = json_array_get(loads, k);
        const char *name = json_string_value(json_object_get(load, "name"));
        json_int_t power_w;
        json_int_t minutes = 0;
        if (name == NULL || !read_number(load, "power_w", 1, 1000000, &power_w)) {
            return false;
        }
        if (json_object_get(load, "minutes_day") != NULL && !read_number(load, "minutes_day", 1, 1440, &minutes)) {
            return false;
        }
        plan_load(branch, &load_capacity, name, (unsigned)power_w, (unsigned)minutes);
    }
    return true;
}

static bool read_kinds(const json_t *json, struct lesson_plan *plan)
{
    const json_t *kinds = json_object_get(json, "questions");
    size_t count = json_array_size(kinds);
    if (count == 0 || count > LESSON_QUESTIONS_MOST) {
        return false;
    }
    plan->kinds = memory_resize(NULL, count, sizeof *plan->kinds);
    for (size_t i = 0; i < count; i++) {
        const char *word = json_string_value(json_array_get(kinds, i));
        if (word == NULL || !lesson_kind_find(word, &plan->kinds[i])) {
            return false;
        }
        plan->question_count++;
    }
    return true;
}

static bool read_codes(const json_t *json, struct lesson_plan *plan)
{
    const json_t *list = json_object_get(json, "sheets");
    if (json_array_size(list) != plan->students) {
        return false;
    }
    plan->codes = memory_resize(NULL, plan->students, sizeof *plan->codes);
    for (unsigned i = 0; i < plan->students; i++) {
        const char *code = json_string_value(json_array_get(list, i));
        if (code == NULL || strlen(code) >= LESSON_CODE_SIZE) {
            return false;
        }
        strncpy(plan->codes[i], code, LESSON_CODE_SIZE); /* zeros behind it */
    }
    return true;
}

/* What a file does not say is as usual. */
static bool read_scheme(const json_t *json, struct lesson_plan *plan)
{
    const char *points = json_string_value(json_object_get(json, "points"));
    const char *percent = json_string_value(json_object_get(json, "tolerance_percent"));
    const char *units = json_string_value(json_object_get(json, "units"));
    const char *sign = json_string_value(json_object_get(json, "decimal_sign"));
    struct text fault = {0};
    json_int_t figures = 0;
    lesson_scheme_usual(&plan->scheme);
    bool ok = points == NULL || lesson_scheme_points(points, &plan->scheme, &fault);
    ok = ok && (percent == NULL || lesson_scheme_tolerance(percent, &plan->scheme));
    ok = ok && (json_object_get(json, "figures") == NULL || read_number(json, "figures", 2, 10, &figures));
    plan->scheme.figures_asked = (unsigned)figures;
    plan->scheme.units_printed = units == NULL || strcmp(units, "printed") == 0;
    plan->scheme.decimal_sign = sign != NULL && sign[0] == ',' ? ',' : '.';
    text_done(&fault);
    return ok;
}

static bool read_names(const json_t *json, struct lesson_plan *plan)
{
    const json_t *names = json_object_get(json, "names");
    if (names == NULL) {
        return true;
    }
    if (json_array_size(names) != plan->students) {
        return false;
    }
    plan->names = memory_resize(NULL, plan->students, sizeof *plan->names);
    memset((void *)plan->names, 0, plan->students * sizeof *plan->names);
    bool ok = true;
    for (unsigned i = 0; i < plan->students; i++) {
        const char *name = json_string_value(json_array_get(names, i));
        plan->names[i] = copy_string(name == NULL ? "" : name);
        ok = ok && name != NULL;
    }
    return ok;
}

/* A string that may be missing. */
static void take_string(const json_t *json, const char *key, char **ret)
{
    const char *string = json_string_value(json_object_get(json, key));
    *ret = string == NULL ? NULL : copy_string(string);
}

/* How the sheets look and in which language; folders without a word of it are English, with rectangles. */
static void read_look(const json_t *json, struct lesson_plan *plan)
{
    const char *language = json_string_value(json_object_get(json, "language"));
    const char *symbols = json_string_value(json_object_get(json, "symbols"));
    const char *letter = json_string_value(json_object_get(json, "voltage_letter"));
    const int found = language == NULL ? LANGUAGE_ENGLISH : language_find(language);
    plan->language = found < 0 ? LANGUAGE_ENGLISH : found;
    plan->zigzag = symbols != NULL && strcmp(symbols, "us") == 0;
    plan->large = json_is_true(json_object_get(json, "large"));
    plan->voltage_letter = letter == NULL ? '\0' : letter[0] == 'U' ? 'U' : 'V';
    take_string(json, "font", &plan->font);
}

static bool read_class(const json_t *json, struct lesson_plan *plan)
{
    json_int_t versions = 0;
    json_int_t room = 0;
    json_int_t own = 0;
    take_string(json, "title", &plan->title);
    take_string(json, "class", &plan->class_name);
    take_string(json, "date", &plan->date);
    read_look(json, plan);
    bool ok =
        json_object_get(json, "versions") == NULL || read_number(json, "versions", 1, LESSON_VERSIONS_MOST, &versions);
    ok = ok && (json_object_get(json, "room") == NULL || read_number(json, "room", 0, LESSON_ROOM_MOST, &room));
    ok = ok && (json_object_get(json, "own_percent") == NULL || read_number(json, "own_percent", 0, 100, &own));
    plan->own_percent = (unsigned)own;
    plan->versions = (unsigned)versions;
    plan->room = (unsigned)room;
    return ok && read_names(json, plan);
}

static bool read_plan(const json_t *json, struct lesson_plan *plan)
{
    json_int_t seed;
    json_int_t level;
    json_int_t students;
    json_int_t voltage_v;
    if (!read_number(json, "seed", 0, INT64_MAX, &seed) || !read_number(json, "level", 1, LESSON_LEVEL_MOST, &level) ||
        !read_number(json, "students", 1, LESSON_STUDENTS_MOST, &students) ||
        !read_number(json, "voltage_v", 1, 400, &voltage_v)) {
        return false;
    }
    plan->seed = (uint64_t)seed;
    plan->level = (unsigned)level;
    plan->students = (unsigned)students;
    plan->voltage_v = (unsigned)voltage_v;
    if (json_object_get(json, "continuous_percent") != NULL) {
        json_int_t percent;
        if (!read_number(json, "continuous_percent", 1, 1000, &percent)) {
            return false;
        }
        plan->continuous_percent = (unsigned)percent;
    }
    bool ok = read_kinds(json, plan) && read_string(json, "currency", &plan->currency) &&
              read_string(json, "price", &plan->price);
    const json_t *branches = json_object_get(json, "branches");
    size_t capacity = 0;
    for (size_t i = 0; ok && i < json_array_size(branches); i++) {
        ok = read_branch(json_array_get(branches, i), plan, &capacity);
    }
    return ok && read_scheme(json, plan) && read_class(json, plan) && read_codes(json, plan);
}

static bool read_code(const json_t *json, const char *key, uint64_t *ret_code)
{
    const char *digits = json_string_value(json_object_get(json, key));
    if (digits == NULL || strlen(digits) != 16 || strspn(digits, "0123456789abcdef") != 16) {
        return false;
    }
    *ret_code = strtoull(digits, NULL, 16);
    return true;
}

/* 0 where the number is no number at all. */
static json_int_t generator_of(const json_t *json)
{
    const json_t *number = json_object_get(json, "generator");
    return number == NULL ? LESSON_GENERATOR_FIRST : json_integer_value(number);
}

bool plan_read(const char *path, const char *bytes, size_t length, struct lesson_plan *ret_plan, uint64_t *ret_key_code,
               struct error *error)
{
    json_t *json = json_loadb(bytes, length, JSON_REJECT_DUPLICATES, NULL);
    *ret_plan = (struct lesson_plan){0};
    uint64_t code = 0;
    const json_int_t generator = generator_of(json);
    const bool known = generator >= LESSON_GENERATOR_FIRST && generator <= LESSON_GENERATOR_NOW;
    ret_plan->generator = known ? (unsigned)generator : 0;
    bool ok = known && json_is_object(json) && read_plan(json, ret_plan) && read_code(json, "code", &code) &&
              read_code(json, "key_code", ret_key_code) && file_code(json, ret_plan->generator) == code;
    json_decref(json);
    if (generator > LESSON_GENERATOR_NOW) {
        error_set(
            error, ERROR_INPUT,
            "%s: made by generator %lld of a later program, while this one knows the numbers 1 to %d: mark it with "
            "the program that made it",
            path, (long long)generator, LESSON_GENERATOR_NOW);
    } else if (!ok) {
        error_set(error, ERROR_INPUT, "%s: damaged, or changed since the sheets were written; nothing can be marked",
                  path);
    }
    if (!ok) {
        lesson_plan_done(ret_plan);
    }
    return ok;
}
