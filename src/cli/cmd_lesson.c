#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "../draw/lesson_document.h"
#include "ampsum/answer_live.h"
#include "ampsum/arena.h"
#include "ampsum/housefile.h"
#include "ampsum/lesson.h"
#include "ampsum/show_live.h"
#include "ampsum/words.h"
#include "cli.h"
#include "lesson_scheme.h"
#include "lesson_stock.h"
#include "second.h"

static const char *const examples[] = {"ampsum lesson demo-house/us.ini -o sheets --level 2 --students 24 --seed 7",
                                       "ampsum lesson demo-house/us.ini -o sheets --kind unequal,wire,trip --force",
                                       "ampsum lesson demo-house/us.ini --live bedroom -o bedroom.html",
                                       "ampsum lesson --stock '56 ohm, 68 ohm' --want '90 ohm'",
                                       "ampsum lesson --series E12 --want '137 ohm' --voltage '9 V'",
                                       NULL};

static const struct option_spec options[] = {
    {"output", 'o', "FOLDER", "where worksheets, answer rows, key and marks table go"},
    {"kind", '\0', "KIND,KIND", "kinds of questions, or all (all)"},
    {"level", '\0', "1..4", "how hard (1)"},
    {"students", '\0', "N", "one sheet for each (1)"},
    {"questions", '\0', "N", "questions on a sheet, going through the kinds in turn (one of each)"},
    {"seed", '\0', "S", "a whole number: the same seed makes the same sheets (1)"},
    {"pdf", '\0', NULL, "worksheets and key as PDF too, with the circuits drawn"},
    {"together", '\0', NULL, "all worksheets in one PDF for the printer, beside the key's"},
    {"paper", '\0', "a4|letter", "for the PDF (letter where the currency is USD, else a4)"},
    {"names", '\0', "FILE", "the class: a name a line, or CSV with name, class, number; sets --students"},
    {"title", '\0', "TEXT", "in the head of each sheet"},
    {"class", '\0', "TEXT", "the same"},
    {"date", '\0', "TEXT", "the same"},
    {"own", '\0', "P%", "of the questions that name loads take them from the house, at every level (50%)"},
    {"versions", '\0', "1..26", "so many different sheets, dealt in turn (each student has an own one)"},
    {"units", '\0', "printed", "units stand beside the blanks and have no point"},
    {"room", '\0', "LINES", "space to work under each question (5)"},
    {"large", '\0', NULL, "large print: text of 18 points, 16 in figures, strokes of 2"},
    {"font", '\0', "NAME", "family of the PDF's and the HTML's letters (DejaVu Sans)"},
    {"symbols", '\0', "us|iec", "the sign of a resistor: zigzag or rectangle (by the house's rules)"},
    {"decimal", '\0', "point|comma", "the sign of a decimal (by the language)"},
    {"voltage-letter", '\0', "V|U", "the letter of a voltage (by the language)"},
    LESSON_SCHEME_OPTIONS,
    {"force", '\0', NULL, "write over the files of an earlier lesson"},
    {"live", '\0', "BRANCH", "that branch as one page to practise with, which works without ampsum: -o FILE.html"},
    {"stock", '\0', "PARTS", "parts on the shelf: '56 ohm' (any number), '56 ohm*2, 68 ohm*1'"},
    {"series", '\0', "E6|E12|E24", "preferred values instead of a stock"},
    {"want", '\0', "R", "the resistance to make from them"},
    {"parts", '\0', "N", "at most so many parts (12 alike, all of a counted stock, else 5, of a series 3)"},
    {"voltage", '\0', "V", "across the network: what each part must stand"},
    {NULL, '\0', NULL, NULL},
};

static const char *const details[] = {
    "Kinds: unequal, equal, find-one, divide, table, change, open, trip, two-ways, energy, wire, "
    "power-factor, stock, one-reading, product-sum, bounds, conductance, internal, tolerance, junction, arrows, "
    "within, ladder, prefixes, grid, why, impossible, fault, lab. Only where the house is so: neutral (two legs), "
    "three-neutral (three phases), continuous (rules that count long use for more), loop-impedance and longest-run "
    "(rules that hold the loop of a fault against the device).",
    "Without a HOUSE the loads are made up, on 120 V. Where the house's own loads give short numbers they are used.",
    "mark reads the answers: hand out worksheet-NN.txt, have answers.csv or answers-wide.csv filled in, keep key.txt.",
    "--points, --tolerance and --figures are kept with the sheets. --tolerance beside --stock or --series is that of "
    "the "
    "parts.",
    NULL};

static bool read_whole(struct invocation *invocation, const char *option, unsigned long long least,
                       unsigned long long most, unsigned long long *ret)
{
    const char *string = option_value(invocation, option);
    if (string == NULL) {
        return true;
    }
    size_t digits = strspn(string, "0123456789");
    unsigned long long value = digits > 0 && digits <= 19 ? strtoull(string, NULL, 10) : most + 1;
    if (digits == 0 || string[digits] != '\0' || value < least || value > most) {
        error_set(&invocation->error, ERROR_INPUT, "--%s '%s': expected a whole number from %llu to %llu", option,
                  string, least, most);
        return false;
    }
    *ret = value;
    return true;
}

/* `50%` or `50`. */
static bool read_percent(struct invocation *invocation, const char *option, unsigned long long *ret)
{
    const char *string = option_value(invocation, option);
    char *end = NULL;
    const unsigned long value = string == NULL ? 0 : strtoul(string, &end, 10);
    if (string == NULL) {
        return true;
    }
    if (string[0] < '0' || string[0] > '9' || value > 100 || (strcmp(end, "") != 0 && strcmp(end, "%") != 0)) {
        error_set(&invocation->error, ERROR_INPUT, "--%s '%s': expected 0%% to 100%%", option, string);
        return false;
    }
    *ret = value;
    return true;
}

static void add_kind(struct lesson_plan *plan, size_t *capacity, enum lesson_kind kind)
{
    plan->kinds = memory_grow(plan->kinds, plan->question_count, capacity, sizeof *plan->kinds);
    plan->kinds[plan->question_count++] = kind;
}

static bool unknown_kind(struct invocation *invocation, const char *word)
{
    struct words_nearest nearest;
    words_nearest_init(&nearest, word);
    for (int kind = 0; kind < LESSON_KIND_COUNT; kind++) {
        words_nearest_offer(&nearest, lesson_kind_word((enum lesson_kind)kind));
    }
    error_set(&invocation->error, ERROR_INPUT, "--kind: '%s' is no kind of question%s%s", word,
              nearest.best == NULL ? "; `ampsum lesson --help` names them" : "; the nearest is ",
              nearest.best == NULL ? "" : nearest.best);
    return false;
}

/* One list of kinds: `unequal,wire`, or `all`. */
static bool add_kinds(struct invocation *invocation, const char *list, struct lesson_plan *plan, size_t *capacity)
{
    while (true) {
        size_t length = strcspn(list, ",");
        const char *start = list + strspn(list, " ");
        size_t word_length = length - (size_t)(start - list) > length ? 0 : length - (size_t)(start - list);
        while (word_length > 0 && start[word_length - 1] == ' ') {
            word_length--;
        }
        const char *word = arena_copy_length(invocation->arena, start, word_length);
        enum lesson_kind kind;
        if (strcmp(word, "all") == 0) {
            for (int each = 0; each < LESSON_KIND_COUNT; each++) {
                if (lesson_kind_fits(plan, (enum lesson_kind)each) == NULL) {
                    add_kind(plan, capacity, (enum lesson_kind)each);
                }
            }
        } else if (lesson_kind_find(word, &kind)) {
            const char *why = lesson_kind_fits(plan, kind);
            if (why != NULL) {
                error_set(&invocation->error, ERROR_INPUT, "--kind %s: %s", word, why);
                return false;
            }
            add_kind(plan, capacity, kind);
        } else {
            return unknown_kind(invocation, word);
        }
        if (list[length] == '\0') {
            return true;
        }
        list += length + 1;
    }
}

static bool read_kinds(struct invocation *invocation, struct lesson_plan *plan)
{
    size_t capacity = 0;
    size_t lists = option_count(invocation, "kind");
    bool ok = lists > 0 || add_kinds(invocation, "all", plan, &capacity);
    for (size_t i = 0; i < lists && ok; i++) {
        ok = add_kinds(invocation, option_value_at(invocation, "kind", i), plan, &capacity);
    }
    unsigned long long questions = plan->question_count;
    ok = ok && read_whole(invocation, "questions", 1, LESSON_QUESTIONS_MOST, &questions);
    size_t kinds = plan->question_count;
    for (size_t i = kinds; ok && i < questions; i++) {
        add_kind(plan, &capacity, plan->kinds[i % kinds]);
    }
    if (ok) {
        plan->question_count = questions;
        if (questions > LESSON_QUESTIONS_MOST) {
            error_set(&invocation->error, ERROR_INPUT, "--kind: more than %d questions", LESSON_QUESTIONS_MOST);
            ok = false;
        }
    }
    return ok;
}

/* The house is optional: without one the loads are made up. */
static bool read_plan_house(struct invocation *invocation, struct lesson_plan *plan)
{
    const char *environment = getenv("AMPSUM_HOUSE");
    bool none = invocation->operand_count == 0 && (environment == NULL || environment[0] == '\0') &&
                access("house.db", F_OK) != 0;
    if (none) {
        lesson_plan_plain(plan);
        return true;
    }
    if (!invocation_house(invocation, 0) || !invocation_operands(invocation, 0, 0)) {
        return false;
    }
    lesson_plan_house(plan, invocation->house);
    return true;
}

static char *copy_option(const struct invocation *invocation, const char *option)
{
    const char *string = option_value(invocation, option);
    const size_t size = string == NULL ? 0 : strlen(string) + 1;
    return string == NULL ? NULL : memcpy(memory_new(size), string, size);
}

/* What stands in the head of the sheets, and who gets them. */
static bool read_class(struct invocation *invocation, struct lesson_plan *plan)
{
    static const char *const heads[] = {"title", "class", "date"};
    const char *names = option_value(invocation, "names");
    unsigned long long versions = 0;
    unsigned long long room = LESSON_ROOM_USUAL;
    unsigned long long own = LESSON_OWN_USUAL;
    for (size_t i = 0; i < sizeof heads / sizeof heads[0]; i++) {
        const char *head = option_value(invocation, heads[i]);
        if (head != NULL && (words_has_control(head) || !words_is_utf8(head, strlen(head)) || strlen(head) > 200)) {
            error_set(&invocation->error, ERROR_INPUT, "--%s: expected one line of UTF-8 text, at most 200 bytes",
                      heads[i]);
            return false;
        }
    }
    plan->title = copy_option(invocation, "title");
    plan->class_name = copy_option(invocation, "class");
    plan->date = copy_option(invocation, "date");
    const unsigned asked_for = plan->students;
    if (!read_whole(invocation, "versions", 1, LESSON_VERSIONS_MOST, &versions) ||
        !read_whole(invocation, "room", 0, LESSON_ROOM_MOST, &room) || !read_percent(invocation, "own", &own) ||
        (names != NULL && !lesson_names_read(plan, names, &invocation->error))) {
        return false;
    }
    plan->versions = (unsigned)versions;
    plan->room = (unsigned)room;
    plan->own_percent = (unsigned)own;
    if (names != NULL && option_given(invocation, "students") && asked_for != plan->students) {
        error_set(&invocation->error, ERROR_INPUT, "--students %u: %s holds %u names; leave --students away", asked_for,
                  names, plan->students);
        return false;
    }
    return true;
}

/* Place of the word among two; -1 without the option. False with the error set where it is neither. */
static bool read_choice(struct invocation *invocation, const char *option, const char *first, const char *second,
                        int *ret_place)
{
    const char *word = option_value(invocation, option);
    *ret_place = word == NULL ? -1 : strcmp(word, first) == 0 ? 0 : 1;
    if (*ret_place == 1 && strcmp(word, second) != 0) {
        error_set(&invocation->error, ERROR_INPUT, "--%s %s: expected %s or %s", option, word, first, second);
        return false;
    }
    return true;
}

/* How the sheets look and in which language they are. */
static bool read_look(struct invocation *invocation, struct lesson_plan *plan)
{
    enum { FONT_MOST = 100 };
    const char *font = option_value(invocation, "font");
    const char *language = option_value(invocation, "language"); /* lesson_scheme_read knew it */
    int symbols;
    int decimal;
    int letter;
    if (!read_choice(invocation, "symbols", "us", "iec", &symbols) ||
        !read_choice(invocation, "decimal", "point", "comma", &decimal) ||
        !read_choice(invocation, "voltage-letter", "V", "U", &letter)) {
        return false;
    }
    if (font != NULL && (words_has_control(font) || !words_is_utf8(font, strlen(font)) || strlen(font) > FONT_MOST)) {
        error_set(&invocation->error, ERROR_INPUT, "--font: expected the name of a family of letters");
        return false;
    }
    plan->language = language == NULL ? LANGUAGE_ENGLISH : language_find(language);
    plan->zigzag = symbols < 0 ? plan->zigzag : symbols == 0;
    plan->scheme.decimal_sign = decimal < 0 ? plan->scheme.decimal_sign : decimal == 0 ? '.' : ',';
    plan->voltage_letter = letter < 0 ? '\0' : letter == 0 ? 'V' : 'U';
    plan->large = option_given(invocation, "large");
    plan->font = copy_option(invocation, "font");
    return true;
}

static bool read_units(struct invocation *invocation, struct lesson_plan *plan)
{
    const char *units = option_value(invocation, "units");
    plan->scheme.units_printed = units != NULL && strcmp(units, "printed") == 0;
    if (units != NULL && !plan->scheme.units_printed && strcmp(units, "asked") != 0) {
        error_set(&invocation->error, ERROR_INPUT, "--units %s: expected printed, or asked as usual", units);
        return false;
    }
    return true;
}

static bool read_plan(struct invocation *invocation, struct lesson_plan *plan)
{
    unsigned long long level = 1;
    unsigned long long students = 1;
    unsigned long long seed = 1;
    bool own_scheme;
    lesson_scheme_usual(&plan->scheme);
    if (!lesson_scheme_read(invocation, &plan->scheme, &own_scheme) || !read_units(invocation, plan) ||
        !read_whole(invocation, "level", 1, LESSON_LEVEL_MOST, &level) ||
        !read_whole(invocation, "students", 1, LESSON_STUDENTS_MOST, &students) ||
        !read_whole(invocation, "seed", 0, 9223372036854775807ULL, &seed)) {
        return false;
    }
    plan->level = (unsigned)level;
    plan->students = (unsigned)students;
    plan->seed = seed;
    return read_class(invocation, plan) && read_plan_house(invocation, plan) && read_look(invocation, plan) &&
           read_kinds(invocation, plan);
}

static void write_json(struct invocation *invocation, const struct lesson_plan *plan, const char *folder)
{
    json_t *json = json_answer("lesson", invocation->house == NULL ? NULL : invocation->house->name);
    json_t *kinds = json_array();
    for (size_t i = 0; i < plan->question_count; i++) {
        json_array_append_new(kinds, json_text(lesson_kind_word(plan->kinds[i])));
    }
    json_object_set_new(json, "folder", json_text(folder));
    json_object_set_new(json, "seed", json_integer((json_int_t)plan->seed));
    json_object_set_new(json, "level", json_integer(plan->level));
    json_object_set_new(json, "students", json_integer(plan->students));
    json_object_set_new(json, "questions", kinds);
    json_cautions(json, NULL);
    json_write(json, &invocation->out);
}

static void write_next(struct invocation *invocation, const char *folder)
{
    struct text answers = {0};
    struct text line = {0};
    text_printf(&answers, "%s/answers.csv", folder);
    text_add(&line, "ampsum mark ");
    add_shell_path(&line, folder);
    text_add_char(&line, ' ');
    add_shell_path(&line, text_string(&answers));
    text_add(&line, "   (when it is filled in)");
    const char *const next[] = {text_string(&line), NULL};
    invocation_next(invocation, next);
    text_done(&answers);
    text_done(&line);
}

static void write_answer(struct invocation *invocation, const struct lesson_plan *plan, const char *folder)
{
    if (invocation->format == FORMAT_JSON) {
        write_json(invocation, plan, folder);
        return;
    }
    struct table *table = table_new();
    table_column(table, "QUESTION", "question", TABLE_RIGHT, 0);
    table_column(table, "KIND", "kind", TABLE_LEFT, 0);
    table_column(table, "WHAT IT ASKS", "about", TABLE_LEFT, 60);
    for (size_t i = 0; i < plan->question_count; i++) {
        table_row(table);
        table_number(table, (double)(i + 1), 0);
        table_text(table, lesson_kind_word(plan->kinds[i]));
        table_text(table, lesson_kind_about(plan->kinds[i]));
    }
    invocation_table(invocation, table);
    table_free(table);
    if (invocation->format == FORMAT_TABLE) {
        text_printf(&invocation->out,
                    "\n%s: %u worksheet%s of level %u, seed %llu; answers.csv or answers-wide.csv to fill in; key.txt, "
                    "key-short.txt and marks.csv for the instructor\n\n",
                    folder, plan->students, plan->students == 1 ? "" : "s", plan->level,
                    (unsigned long long)plan->seed);
        show_cautions_text(&invocation->page, NULL, &invocation->out);
        write_next(invocation, folder);
    }
}

static enum print_paper paper_of(const struct invocation *invocation, const struct lesson_plan *plan)
{
    const char *paper = option_value(invocation, "paper");
    const bool letter = paper == NULL ? strcmp(plan->currency, "USD") == 0 : strcmp(paper, "letter") == 0;
    return letter ? PRINT_LETTER : PRINT_A4;
}

/* For who reads with a screen reader, or large: each worksheet as one page of HTML with its figures in words. */
static bool write_html(struct invocation *invocation, const struct lesson_plan *plan, const char *folder)
{
    bool ok = true;
    for (unsigned student = 1; student <= plan->students && ok; student++) {
        struct text path = {0};
        struct text html = {0};
        struct print_document *document = lesson_document(plan, student, student, false, paper_of(invocation, plan));
        print_html(document, &html);
        print_free(document);
        text_printf(&path, "%s/", folder);
        lesson_worksheet_name(&path, plan, student, "html");
        ok = file_write_whole(text_string(&path), text_string(&html), html.length, true, &invocation->error);
        text_done(&path);
        text_done(&html);
    }
    return ok;
}

/* Drawn by the second program, which alone loads what drawing needs. */
static int write_pdf(struct invocation *invocation, const struct lesson_plan *plan, const char *folder)
{
    const bool letter = paper_of(invocation, plan) == PRINT_LETTER;
    char program[] = "ampsum-draw";
    char command[] = "lesson-paper";
    char a4_size[] = "a4";
    char letter_size[] = "letter";
    char together[] = "together";
    char *words[] = {program,
                     command,
                     arena_copy(invocation->arena, folder),
                     letter ? letter_size : a4_size,
                     option_given(invocation, "together") ? together : NULL,
                     NULL};
    return call_second_program(program, words);
}

static bool paper_is_known(struct invocation *invocation)
{
    const char *paper = option_value(invocation, "paper");
    bool known = paper == NULL || strcmp(paper, "a4") == 0 || strcmp(paper, "letter") == 0;
    if (!known) {
        error_set(&invocation->error, ERROR_INPUT, "--paper %s: expected a4 or letter", paper);
    }
    return known;
}

static int write_live(struct invocation *invocation, size_t branch, const char *path)
{
    struct live_answer answer;
    struct text html = {0};
    answer_live(invocation->house, branch, invocation->arena, &answer);
    if (answer.load_count == 0) {
        error_set(&invocation->error, ERROR_INPUT, "--live %s: nothing on this branch draws a current",
                  answer.branch->id);
        return 2;
    }
    show_live_html(&answer, &html);
    const bool written =
        file_write_whole(path, text_string(&html), html.length, option_given(invocation, "force"), &invocation->error);
    if (written) {
        text_add_harmless(&invocation->out, path);
        text_printf(&invocation->out, ": written; %zu loads, works in any browser without a network\n\n",
                    answer.load_count);
        show_cautions_text(&invocation->page, NULL, &invocation->out);
    }
    text_done(&html);
    return written ? 0 : 2;
}

static int run_live(struct invocation *invocation)
{
    const char *path = option_value(invocation, "output");
    if (path == NULL || !(words_end_with(path, ".html") || words_end_with(path, ".htm"))) {
        error_set(&invocation->error, ERROR_INPUT, "lesson: --live expects -o FILE.html, one page");
        return 2;
    }
    if (!invocation_house(invocation, 0) || !invocation_operands(invocation, 0, 0)) {
        return 2;
    }
    const size_t branch = find_id(invocation, KIND_BRANCH, option_value(invocation, "live"));
    return branch == NO_INDEX ? 2 : write_live(invocation, branch, path);
}

static int run(struct invocation *invocation)
{
    if (option_given(invocation, "live")) {
        return run_live(invocation);
    }
    if (option_given(invocation, "stock") || option_given(invocation, "series") || option_given(invocation, "want")) {
        return lesson_stock(invocation);
    }
    const char *folder = option_value(invocation, "output");
    struct lesson_plan plan = {0};
    int status = 0;
    if (folder == NULL) {
        error_set(&invocation->error, ERROR_INPUT, "lesson: expected -o FOLDER for the sheets");
    } else if (paper_is_known(invocation) && read_plan(invocation, &plan) &&
               lesson_write(&plan, folder, option_given(invocation, "force"), &invocation->error) &&
               write_html(invocation, &plan, folder)) {
        write_answer(invocation, &plan, folder);
        status = option_given(invocation, "pdf") || option_given(invocation, "together")
                     ? write_pdf(invocation, &plan, folder)
                     : 0;
    }
    lesson_plan_done(&plan);
    return error_is_set(&invocation->error) ? 2 : status;
}

const struct command command_lesson = {
    .name = "lesson",
    .operands = "[HOUSE] -o FOLDER",
    .summary = "worksheets with answer keys, from the house's own branches",
    .examples = examples,
    .options = options,
    .details = details,
    .rows = true,
    .run = run,
};
