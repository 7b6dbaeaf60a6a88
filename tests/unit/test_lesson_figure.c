/* What the drawings of questions show, in things, in words and on paper. */
#include "runner.h"

#include <ctype.h>
#include <stdlib.h>
#include <string.h>

#include "ampsum/lesson_figure.h"
#include "ampsum/markup.h"
#include "lesson_document.h"
#include "lesson_picture.h"

enum { SEEDS = 20 };

static enum lesson_kind all_kinds[LESSON_KIND_COUNT];

static struct lesson_plan make_plan(uint64_t seed, unsigned level)
{
    struct lesson_plan plan = {.generator = LESSON_GENERATOR_NOW,
                               .seed = seed,
                               .level = level,
                               .students = 1,
                               .question_count = LESSON_KIND_COUNT};
    for (int kind = 0; kind < LESSON_KIND_COUNT; kind++) {
        all_kinds[kind] = (enum lesson_kind)kind;
    }
    plan.kinds = all_kinds;
    lesson_plan_plain(&plan);
    lesson_scheme_usual(&plan.scheme);
    return plan;
}

static void free_plan(struct lesson_plan *plan)
{
    plan->kinds = NULL;
    lesson_plan_done(plan);
}

/* Each word of a label that may be broken into lines stands in the drawing: nothing is cut. */
static void check_whole(const char *label, const char *svg)
{
    for (const char *at = label + strspn(label, " "); *at != '\0'; at += strspn(at, " ")) {
        const size_t length = strcspn(at, " ");
        struct text word = {0};
        struct text shown = {0};
        text_add_length(&word, at, length);
        markup_add(&shown, text_string(&word));
        ck_assert_msg(strstr(svg, text_string(&shown)) != NULL, "no '%s' in the drawing", text_string(&word));
        text_done(&word);
        text_done(&shown);
        at += length;
    }
}

static void check_rungs(const struct lesson_question *question, const struct lesson_figure *figure)
{
    for (size_t i = 0; i < figure->count; i++) {
        const struct lesson_rung *rung = &figure->rungs[i];
        ck_assert_uint_gt(strlen(rung->label), 0);
        ck_assert_uint_lt(rung->row, figure->rows);
        for (size_t k = 0; k < i && !figure->point; k++) {
            const struct lesson_rung *other = &figure->rungs[k];
            ck_assert_msg(rung->row != other->row || rung->to <= other->from || other->to <= rung->from,
                          "%s: %s lies on %s", lesson_kind_word(question->kind), rung->label, other->label);
        }
        ck_assert(figure->point || (rung->from < rung->to && rung->to < figure->rails));
    }
}

static void check_picture(const struct lesson_figure *figure, double text_size, double width, struct arena *arena)
{
    const struct ladder_look look = {.text = text_size, .stroke = 1, .width = width};
    struct text svg = {0};
    const struct picture picture = lesson_picture(figure, &look, arena);
    ck_assert_msg(picture.width <= PICTURE_WIDTH && picture.height <= PICTURE_HEIGHT_MOST, "%s: %g x %g",
                  figure->sentence, picture.width, picture.height);
    picture_svg(&picture, &svg);
    for (size_t i = 0; i < figure->count; i++) {
        check_whole(figure->rungs[i].label, text_string(&svg));
    }
    ck_assert_ptr_nonnull(strstr(text_string(&svg), "<desc>"));
    text_done(&svg);
}

START_TEST(every_kind_is_drawn_whole_and_said_in_words)
{
    const unsigned level = (unsigned)_i + 1;
    struct lesson_question question;
    lesson_question_init(&question);
    for (uint64_t seed = 1; seed <= SEEDS; seed++) {
        struct lesson_plan plan = make_plan(seed, level);
        for (size_t kind = 0; kind < LESSON_KIND_COUNT; kind++) {
            struct arena *arena = arena_new();
            struct lesson_figure figure;
            lesson_question_make(&plan, 1, kind, &question);
            const bool drawn = lesson_figure(&plan, &question, true, arena, &figure);
            ck_assert_msg(drawn, "%s", lesson_kind_word((enum lesson_kind)kind));
            ck_assert_int_eq(figure.sentence[strlen(figure.sentence) - 1], '.');
            check_rungs(&question, &figure);
            check_picture(&figure, 8.5, 0, arena);
            check_picture(&figure, 8.5, 225, arena); /* as it stands beside the blanks */
            check_picture(&figure, 16, 0, arena);
            arena_free(arena);
        }
        free_plan(&plan);
    }
    lesson_question_done(&question);
}
END_TEST

/* The sentence of the contract, a switch, a break. */
START_TEST(sentences_read_as_written)
{
    static const struct {
        enum lesson_kind kind;
        unsigned level;
        const char *end;
    } rows[] = {
        {LESSON_UNEQUAL, 2, "R1, R2 and R3 side by side across "},
        {LESSON_CHANGE, 1, " is open at first."},
        {LESSON_CHANGE, 2, " is closed at first."},
        {LESSON_OPEN, 1, " is broken."},
        {LESSON_WIRE, 1, ", with the wire out and back in series before them."},
        {LESSON_INTERNAL, 1, ", with r in series before it."},
        {LESSON_TRIP, 1,
         "\xC2\xA0"
         "A stands before them."},
        {LESSON_NEUTRAL, 1, " between leg A and the neutral, "},
        {LESSON_ENERGY, 1, " across the house's supply."},
        {LESSON_THREE_NEUTRAL, 1, "P1 from L1, P2 from L2 and P3 from L3 to the neutral, "},
    };
    struct lesson_question question;
    lesson_question_init(&question);
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct lesson_plan plan = make_plan(5, rows[i].level);
        struct arena *arena = arena_new();
        struct lesson_figure figure;
        lesson_question_make(&plan, 1, rows[i].kind, &question);
        ck_assert(lesson_figure(&plan, &question, true, arena, &figure));
        ck_assert_msg(strstr(figure.sentence, rows[i].end) != NULL, "'%s' is not in '%s'", rows[i].end,
                      figure.sentence);
        arena_free(arena);
        free_plan(&plan);
    }
    lesson_question_done(&question);
}
END_TEST

/* Letters, units and numbers alone need no row: "R1", "Zs most" of a step does, where a sheet shows it. */
static void check_said(const char *message, const char *kind, const char *what)
{
    struct text text = {0};
    const size_t letters = strspn(message, "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz");
    const bool plain = letters <= 2 || strspn(message, "ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789") == strlen(message);
    ck_assert_msg(plain || say_message(&text, 1, message), "%s: no row of schema/language for the %s '%s'", kind, what,
                  message);
    text_done(&text);
}

static void check_question(struct lesson_question *question)
{
    const char *kind = lesson_kind_word(question->kind);
    struct steps steps = {0};
    struct steps others = {0};
    for (size_t i = 0; i < question->count; i++) {
        const struct lesson_quantity *quantity = &question->quantities[i];
        if (quantity->asked != NULL) {
            check_said(quantity->asked, kind, "part");
        }
        if (quantity->given && !quantity->hidden) {
            check_said(quantity->symbol, kind, "letter");
        }
        if (!quantity->given || !quantity->hidden) {
            check_said(quantity->subject, kind, "subject");
        }
    }
    lesson_steps(NULL, question, &steps);
    question->language = 1;
    lesson_steps(NULL, question, &others);
    question->language = LANGUAGE_ENGLISH;
    for (size_t i = 0; i < steps.count; i++) {
        /* a word of four letters or more is a sentence of some language */
        size_t letters = 0;
        for (const char *at = steps.step[i].formula; *at != '\0' && letters < 4; at++) {
            letters = isalpha((unsigned char)*at) ? letters + 1 : 0;
        }
        const bool symbols = letters < 4 || strcmp(steps.step[i].formula, "I = Cmin × U0 / Zs") == 0;
        ck_assert_msg(symbols || strcmp(steps.step[i].formula, others.step[i].formula) != 0,
                      "%s: no row of schema/language for the step '%s'", kind, steps.step[i].formula);
    }
    steps_done(&steps);
    steps_done(&others);
}

/* Whoever adds a kind adds its sentences: a row in each file of schema/language. */
START_TEST(every_sentence_of_a_kind_is_a_row)
{
    struct lesson_question question;
    lesson_question_init(&question);
    for (uint64_t seed = 1; seed <= SEEDS; seed++) {
        struct lesson_plan plan = make_plan(seed, (unsigned)_i + 1);
        plan.own_percent = 0;
        for (size_t kind = 0; kind < LESSON_KIND_COUNT; kind++) {
            lesson_question_make(&plan, 1, kind, &question);
            check_question(&question);
        }
        free_plan(&plan);
    }
    lesson_question_done(&question);
}
END_TEST

/* No word of the English is left on a sheet of another language, whatever the kind. */
START_TEST(no_english_is_left)
{
    static const char *const words[] = {" the ", " The ", " and ",    " of ",      "resist",  " load",  "breaker",
                                        "wire",  "Given", "Question", " current ", "voltage", " each ", "afterwards"};
    const int language = _i / LESSON_LEVEL_MOST + 1;
    struct lesson_plan plan = make_plan(4, (unsigned)_i % LESSON_LEVEL_MOST + 1);
    struct text text = {0};
    plan.language = language;
    lesson_key(&text, &plan, 1);
    for (size_t i = 0; i < sizeof words / sizeof words[0]; i++) {
        const bool shared = strcmp(words[i], "resist") == 0 || (language == 3 && strstr(words[i], "current") != NULL);
        const char *found = strstr(text_string(&text), words[i]);
        ck_assert_msg(shared || found == NULL, "%s: '%.60s'", language_code(language), found);
    }
    text_done(&text);
    free_plan(&plan);
}
END_TEST

/* How often each page begins anew, and what stands on it first. */
struct seen {
    size_t pages;
    bool fresh;
    size_t stray;
    double least; /* size of the smallest text */
};

static void see_page(void *state, double width, double height)
{
    struct seen *seen = state;
    (void)width, (void)height;
    seen->pages++;
    seen->fresh = true;
}

static void see_text(void *state, struct canvas_point at, enum canvas_anchor anchor, struct canvas_font font,
                     const char *shown, const char *full)
{
    struct seen *seen = state;
    (void)at, (void)anchor, (void)full;
    seen->least = font.size < seen->least ? font.size : seen->least;
    if (seen->fresh) {
        const bool question = isdigit((unsigned char)shown[0]) && strchr(shown, '.') != NULL;
        const bool head = strstr(shown, "of student") != NULL;
        seen->stray += !question && !head;
        seen->fresh = false;
    }
}

static void see_lines(void *state, const struct canvas_point *points, size_t count, bool joined, struct canvas_pen pen)
{
    (void)state, (void)points, (void)count, (void)joined, (void)pen;
}

static void see_area(void *state, const struct canvas_point *points, size_t count, bool tint)
{
    (void)state, (void)points, (void)count, (void)tint;
}

static void see_disc(void *state, struct canvas_point centre, double radius, bool filled, double pen_width)
{
    (void)state, (void)centre, (void)radius, (void)filled, (void)pen_width;
}

static void see_group(void *state, const char *title, const char *description)
{
    (void)state, (void)title, (void)description;
}

static void see_group_end(void *state)
{
    (void)state;
}

/* Large print too: each page begins with a head, with a question, or says which one goes on. */
START_TEST(no_page_begins_with_a_stray_line)
{
    static const struct canvas_backend backend = {.page = see_page,
                                                  .lines = see_lines,
                                                  .area = see_area,
                                                  .disc = see_disc,
                                                  .text = see_text,
                                                  .group = see_group,
                                                  .group_end = see_group_end};
    struct seen seen = {.least = 100};
    struct canvas canvas = {.backend = &backend, .state = &seen};
    struct lesson_plan plan = make_plan(9, (unsigned)_i / 4 + 1);
    plan.students = 10;
    plan.room = 5;
    plan.large = _i % 2 == 1;
    struct print_document *document = lesson_document(&plan, 1, plan.students, _i / 2 % 2 == 1, PRINT_LETTER);
    ck_assert_uint_eq(print_pages(document, &canvas), seen.pages);
    ck_assert_uint_ge(seen.pages, 3 * plan.students);
    ck_assert_uint_eq(seen.stray, 0);
    ck_assert(!plan.large || seen.least >= 15.99); /* battery's and motor's signs too */
    print_free(document);
    free_plan(&plan);
}
END_TEST

/* How often `part` stands in `whole`. */
static size_t count_of(const char *whole, const char *part)
{
    size_t count = 0;
    for (const char *at = strstr(whole, part); at != NULL; at = strstr(at + 1, part)) {
        count++;
    }
    return count;
}

/* Each label names the blank beside it, and no other has that name. */
static void check_labels(const char *html)
{
    static const char label[] = "<label for=\"";
    for (const char *at = strstr(html, label); at != NULL; at = strstr(at + 1, label)) {
        const char *name = at + strlen(label);
        struct text blank = {0};
        text_add(&blank, "<input type=\"text\" id=\"");
        text_add_length(&blank, name, strcspn(name, "\"") + 1);
        ck_assert_uint_eq(count_of(html, text_string(&blank)), 1);
        text_done(&blank);
    }
}

/* A sheet as a page of HTML: its language, a heading for each question, figures in words, labelled blanks. */
START_TEST(sheet_as_html_is_told_in_words)
{
    struct lesson_plan plan = make_plan(3, (unsigned)_i + 1);
    struct text html = {0};
    plan.language = language_find("de");
    struct print_document *document = lesson_document(&plan, 1, 1, false, PRINT_A4);
    print_html(document, &html);
    const char *page = text_string(&html);
    ck_assert_ptr_nonnull(strstr(page, "<html lang=\"de\">"));
    ck_assert_uint_eq(count_of(page, "<h1>"), 1);
    ck_assert_uint_eq(count_of(page, "<h2>"), LESSON_KIND_COUNT);
    ck_assert_uint_eq(count_of(page, "<svg "), count_of(page, "<desc>"));
    ck_assert_uint_ge(count_of(page, "<svg "), LESSON_KIND_COUNT / 2);
    ck_assert_uint_eq(count_of(page, "<desc></desc>"), 0);
    ck_assert_uint_ge(count_of(page, "<label "), LESSON_KIND_COUNT);
    ck_assert_uint_eq(count_of(page, "<label "), count_of(page, "<input "));
    check_labels(page);
    ck_assert_uint_eq(count_of(page, ">Name:</label>"), 1);
    ck_assert_uint_eq(count_of(page, ">Datum:</label>"), 1);
    ck_assert_ptr_null(strstr(page, "____")); /* a line to write on is for paper */
    text_done(&html);
    print_free(document);
    free_plan(&plan);
}
END_TEST

Suite *make_suite(void)
{
    Suite *suite = suite_create("lesson_figure");
    TCase *tests = tcase_create("lesson_figure");
    tcase_set_timeout(tests, 120);
    tcase_add_loop_test(tests, every_kind_is_drawn_whole_and_said_in_words, 0, LESSON_LEVEL_MOST);
    tcase_add_test(tests, sentences_read_as_written);
    tcase_add_loop_test(tests, every_sentence_of_a_kind_is_a_row, 0, LESSON_LEVEL_MOST);
    tcase_add_loop_test(tests, no_english_is_left, 0, LESSON_LEVEL_MOST * ((int)language_count() - 1));
    tcase_add_loop_test(tests, no_page_begins_with_a_stray_line, 0, 4 * LESSON_LEVEL_MOST);
    tcase_add_loop_test(tests, sheet_as_html_is_told_in_words, 0, LESSON_LEVEL_MOST);
    suite_add_tcase(suite, tests);
    return suite;
}
