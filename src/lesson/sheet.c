/* A student's worksheet and its key, as plain text. */
#include "sheet.h"

#include <stdio.h>
#include <string.h>

#include "ampsum/lesson_figure.h"
#include "plan.h"

enum { LINE_WIDTH = 78 };

struct writing lesson_writing(const struct lesson_plan *plan, bool paper)
{
    struct writing writing = language_writing(plan->language);
    writing.decimal = plan->scheme.decimal_sign == '\0' ? writing.decimal : plan->scheme.decimal_sign;
    writing.voltage = plan->voltage_letter == '\0' ? writing.voltage : plan->voltage_letter;
    writing.signs = paper;
    return writing;
}

/* Adds a word, no-break spaces as blanks; returns the characters that it takes. */
static size_t add_word(struct text *text, const char *word, size_t length)
{
    size_t width = 0;
    for (size_t i = 0; i < length; i++) {
        bool no_break = strncmp(word + i, "\xC2\xA0", 2) == 0;
        text_add_char(text, no_break ? ' ' : word[i]);
        width += no_break || ((unsigned char)word[i] & 0xC0) != 0x80;
        i += no_break ? 1 : 0;
    }
    return width;
}

/* Breaks at blanks, so that no line is longer than the paper, and where the string does. */
static void add_wrapped(struct text *text, const char *string)
{
    size_t width = 0;
    struct text word = {0};
    while (*string != '\0') {
        if (*string == '\n') {
            text_add_char(text, '\n');
            width = 0;
            string++;
        }
        size_t length = strcspn(string, " \n");
        text_clear(&word);
        size_t word_width = add_word(&word, string, length);
        if (width > 0 && width + 1 + word_width > LINE_WIDTH) {
            text_add_char(text, '\n');
            width = 0;
        }
        if (width > 0) {
            text_add_char(text, ' ');
            width++;
        }
        text_add(text, text_string(&word));
        width += word_width;
        string += length + strspn(string + length, " ");
    }
    text_add_char(text, '\n');
    text_done(&word);
}

static void add_part_name(struct text *text, size_t part)
{
    if (part >= 26) {
        text_add_char(text, (char)('a' + part / 26 - 1));
    }
    text_add_char(text, (char)('a' + part % 26));
}

static bool is_digit(char c)
{
    return c >= '0' && c <= '9';
}

/* True for R1, "R1 afterwards", "each resistor": what the question itself calls so. */
static bool is_plain_resistor(const char *subject)
{
    static const char of_one[] = "subject.1-";
    const bool one = strncmp(subject, of_one, sizeof of_one - 1) == 0 && strstr(subject, " R") != NULL;
    return one || (subject[0] == 'R' && is_digit(subject[1])) || strcmp(subject, "subject.each-resistor") == 0;
}

/* What "current I1" belongs to, where the load has a name of its own. */
static void add_asked(struct text *text, int language, const struct lesson_quantity *quantity)
{
    say_message(text, language, quantity->asked);
    bool numbered =
        strchr("IPRE", quantity->symbol[0]) != NULL && is_digit(quantity->symbol[1]) && quantity->symbol[2] == '\0';
    if (numbered && quantity->subject[0] != '\0' && !is_plain_resistor(quantity->subject)) {
        text_add(text, " (");
        say_message(text, language, quantity->subject);
        text_add_char(text, ')');
    }
}

void lesson_part(const struct lesson_question *question, size_t index, struct text *ret_part, struct text *ret_asked)
{
    size_t part = 0;
    for (size_t i = 0; i < index; i++) {
        part += question->quantities[i].asked != NULL;
    }
    add_part_name(ret_part, part);
    if (ret_asked != NULL) {
        add_asked(ret_asked, question->language, &question->quantities[index]);
    }
}

void lesson_csv_cell(struct text *text, const char *string)
{
    bool formula = string[0] != '\0' && strchr("=+-@\t\r", string[0]) != NULL;
    bool quoted = strpbrk(string, ",\"\r\n") != NULL || string[0] == ' ';
    text_add(text, quoted ? "\"" : "");
    text_add(text, formula ? "'" : "");
    for (const char *c = string; *c != '\0'; c++) {
        text_add(text, quoted && *c == '"' ? "\"" : "");
        text_add_char(text, *c);
    }
    text_add(text, quoted ? "\"" : "");
}

/* The question as it is made, in the writing of the sheets; empties `made`. */
static void write_made(struct text *text, const struct lesson_plan *plan, struct text *made)
{
    const struct writing writing = lesson_writing(plan, false);
    language_write(text, &writing, text_string(made));
    text_clear(made);
}

/* One row for each part. The sheet's code stands in it, so that a row that strayed to another student shows. */
static void add_answer_rows(struct text *text, const struct lesson_plan *plan, unsigned student, const char *sheet,
                            const struct lesson_question *question, size_t number)
{
    for (size_t i = 0; i < question->count; i++) {
        const struct lesson_quantity *quantity = &question->quantities[i];
        if (quantity->asked == NULL) {
            continue;
        }
        struct text part = {0};
        struct text asked = {0};
        lesson_part(question, i, &part, &asked);
        struct text written = {0};
        text_printf(text, "%u,%zu,%s,", student, number, text_string(&part));
        write_made(&written, plan, &asked);
        lesson_csv_cell(text, text_string(&written));
        text_done(&written);
        text_printf(text, ",%s,,%s\n", plan->scheme.units_printed ? lesson_unit(plan, quantity) : "", sheet);
        text_done(&part);
        text_done(&asked);
    }
}

static bool is_said(const char *string)
{
    return string != NULL && string[0] != '\0';
}

const char *count_word(struct count_word *word, size_t count)
{
    snprintf(word->digits, sizeof word->digits, "%zu", count);
    return word->digits;
}

void lesson_person_line(struct text *text, const struct lesson_plan *plan, unsigned student)
{
    const char *name = lesson_name(plan, student);
    say(text, plan->language, "sheet.name", "name", name[0] == '\0' ? "______________________" : name,
        (const char *)NULL);
    say(text, plan->language, "sheet.class", "class", is_said(plan->class_name) ? plan->class_name : "________",
        (const char *)NULL);
    say(text, plan->language, "sheet.date", "date", is_said(plan->date) ? plan->date : "____________",
        (const char *)NULL);
}

void lesson_known_line(struct text *text, const struct lesson_plan *plan, unsigned student)
{
    struct text line = {0};
    const char *name = lesson_name(plan, student);
    if (name[0] != '\0') {
        say(&line, plan->language, "sheet.name", "name", name, (const char *)NULL);
    }
    if (is_said(plan->class_name)) {
        say(&line, plan->language, "sheet.class", "class", plan->class_name, (const char *)NULL);
    }
    if (is_said(plan->date)) {
        say(&line, plan->language, "sheet.date", "date", plan->date, (const char *)NULL);
    }
    text_add(text, text_string(&line) + strspn(text_string(&line), " "));
    text_done(&line);
}

void lesson_title_line(struct text *text, const struct lesson_plan *plan, unsigned student, bool key)
{
    struct count_word number;
    if (is_said(plan->title)) {
        text_printf(text, "%s%s ", plan->title, say_plain(plan->language, "language.colon"));
    }
    say(text, plan->language, key ? "sheet.key-of" : "sheet.worksheet-of", "student", count_word(&number, student),
        (const char *)NULL);
    if (plan->versions > 0) {
        const char version[] = {(char)('A' + (int)((student - 1) % plan->versions)), '\0'};
        say(text, plan->language, "sheet.version", "version", version, (const char *)NULL);
    }
}

void lesson_level_line(struct text *text, const struct lesson_plan *plan)
{
    struct count_word level;
    struct count_word figures;
    say(text, plan->language, plan->scheme.units_printed ? "sheet.level" : "sheet.level-units", "level",
        count_word(&level, plan->level), "figures", count_word(&figures, lesson_plan_figures(plan)),
        (const char *)NULL);
}

/* The points of all questions of the student. */
static unsigned points_of_sheet(const struct lesson_plan *plan, unsigned student)
{
    unsigned points = 0;
    struct lesson_question question;
    lesson_question_init(&question);
    for (size_t i = 0; i < plan->question_count; i++) {
        lesson_question_make(plan, student, i, &question);
        points += lesson_points(plan, &question);
    }
    lesson_question_done(&question);
    return points;
}

void lesson_mark_line(struct text *text, const struct lesson_plan *plan, unsigned student)
{
    struct count_word points;
    say(text, plan->language, "sheet.mark", "points", count_word(&points, points_of_sheet(plan, student)),
        (const char *)NULL);
}

static void add_heading(struct text *text, const struct lesson_plan *plan, unsigned student, const char *sheet,
                        bool key)
{
    lesson_title_line(text, plan, student, key);
    say(text, plan->language, "sheet.code", "code", sheet, (const char *)NULL);
    text_add_char(text, '\n');
    lesson_person_line(text, plan, student);
    text_add_char(text, '\n');
    if (!key) {
        lesson_mark_line(text, plan, student);
        text_add_char(text, '\n');
    }
    lesson_level_line(text, plan);
    text_add_char(text, '\n');
    add_wrapped(text, say_plain(plan->language, "sheet.caution"));
    text_add_char(text, '\n');
}

void lesson_story_line(struct text *text, const struct lesson_plan *plan, const struct lesson_question *question,
                       size_t number)
{
    const unsigned points = lesson_points(plan, question);
    struct count_word of_question;
    struct count_word of_points;
    say(text, plan->language, points == 1 ? "sheet.story-one" : "sheet.story", "number",
        count_word(&of_question, number), "points", count_word(&of_points, points), "story",
        text_string(&question->story), (const char *)NULL);
}

/* The drawing of plain characters, where there is one, and what it shows in words. */
static void add_figure(struct text *text, const struct lesson_plan *plan, const struct lesson_question *question)
{
    struct arena *arena = arena_new();
    struct lesson_figure figure;
    if (lesson_figure(plan, question, false, arena, &figure)) {
        text_add_char(text, '\n');
        lesson_draw(text, question);
        add_wrapped(text, figure.sentence);
    }
    arena_free(arena);
}

static void add_question(struct text *text, const struct lesson_plan *plan, const struct lesson_question *question,
                         size_t number)
{
    struct text heading = {0};
    lesson_story_line(&heading, plan, question, number);
    add_wrapped(text, text_string(&heading));
    text_done(&heading);
    add_figure(text, plan, question);
    text_add_char(text, '\n');
}

bool lesson_answer(const struct lesson_plan *plan, const struct lesson_question *question, size_t index,
                   struct text *text)
{
    const struct lesson_quantity *quantity = &question->quantities[index];
    const bool rounded = lesson_amount(text, plan->language, quantity->value, quantity, question->figures);
    if (quantity->measure == EXACT_MONEY) {
        text_printf(text, " %s", plan->currency);
    }
    return rounded;
}

static void add_answer(struct text *text, const struct lesson_plan *plan, const struct lesson_question *question,
                       size_t index)
{
    const struct lesson_quantity *quantity = &question->quantities[index];
    text_add(text, " = ");
    if (quantity->measured) {
        text_add(text, say_plain(plan->language, "step.as-read-for-example"));
        text_add_char(text, ' ');
    }
    if (lesson_answer(plan, question, index, text)) {
        struct text fraction = {0};
        lesson_fraction(&fraction, quantity->value, quantity);
        say(text, plan->language, "sheet.exactly", "fraction", text_string(&fraction), (const char *)NULL);
        text_done(&fraction);
    }
}

bool lesson_part_line(const struct lesson_plan *plan, const struct lesson_question *question, size_t index, bool answer,
                      struct text *text)
{
    const struct lesson_quantity *quantity = &question->quantities[index];
    if (quantity->asked == NULL) {
        return false;
    }
    struct text part = {0};
    struct text asked = {0};
    lesson_part(question, index, &part, &asked);
    text_printf(text, "(%s) %s", text_string(&part), text_string(&asked));
    const char *unit = plan->scheme.units_printed ? lesson_unit(plan, quantity) : "";
    if (answer) {
        add_answer(text, plan, question, index);
    } else {
        if (unit[0] != '\0') {
            say(text, plan->language, "sheet.in-unit", "unit", unit, (const char *)NULL);
        }
        const bool question_mark = text->length > 0 && text->bytes[text->length - 1] == '?';
        text_add(text, question_mark ? "" : say_plain(plan->language, "language.colon"));
        text_add_char(text, ' ');
    }
    text_done(&part);
    text_done(&asked);
    return true;
}

/* The parts of a question, each with room for the answer, or with the answer. */
static void add_parts(struct text *text, const struct lesson_plan *plan, const struct lesson_question *question,
                      bool answers)
{
    struct text line = {0};
    for (size_t i = 0; i < question->count; i++) {
        text_clear(&line);
        if (lesson_part_line(plan, question, i, answers, &line)) {
            text_printf(text, "   %s%s\n", text_string(&line), answers ? "" : "______________");
        }
    }
    text_done(&line);
}

static void add_key(struct text *text, const struct lesson_plan *plan, const struct lesson_question *question,
                    size_t number)
{
    struct steps steps = {0};
    add_question(text, plan, question, number);
    lesson_steps(plan, question, &steps);
    steps_write(text, &steps, "      ", true);
    text_add_char(text, '\n');
    add_parts(text, plan, question, true);
    text_add_char(text, '\n');
    steps_done(&steps);
}

static void add_blank_question(struct text *text, const struct lesson_plan *plan,
                               const struct lesson_question *question, size_t number)
{
    add_question(text, plan, question, number);
    add_parts(text, plan, question, false);
    for (unsigned line = 0; line <= plan->room; line++) {
        text_add_char(text, '\n');
    }
}

void lesson_student_texts(const struct lesson_plan *plan, unsigned student, const char *sheet, struct text *worksheet,
                          struct text *key, struct text *answers)
{
    struct lesson_question question;
    struct text made = {0};
    lesson_question_init(&question);
    if (worksheet != NULL) {
        add_heading(worksheet, plan, student, sheet, false);
    }
    if (key != NULL) {
        add_heading(key, plan, student, sheet, true);
    }
    for (size_t i = 0; i < plan->question_count; i++) {
        lesson_question_make(plan, student, i, &question);
        if (worksheet != NULL) {
            add_blank_question(&made, plan, &question, i + 1);
            write_made(worksheet, plan, &made);
        }
        if (key != NULL) {
            add_key(&made, plan, &question, i + 1);
            write_made(key, plan, &made);
        }
        if (answers != NULL) {
            add_answer_rows(answers, plan, student, sheet, &question, i + 1);
        }
    }
    text_done(&made);
    lesson_question_done(&question);
}

void lesson_worksheet(struct text *text, const struct lesson_plan *plan, unsigned student)
{
    char code[LESSON_CODE_SIZE];
    lesson_sheet_code(plan, student, code);
    lesson_student_texts(plan, student, code, text, NULL, NULL);
}

void lesson_key(struct text *text, const struct lesson_plan *plan, unsigned student)
{
    char code[LESSON_CODE_SIZE];
    lesson_sheet_code(plan, student, code);
    lesson_student_texts(plan, student, code, NULL, text, NULL);
}
