/* Circuits drawn: every text within the picture, none over another, every part with its name and value, both signs. */
#include <expat.h>
#include <stdlib.h>
#include <string.h>

#include "ampsum/print_network.h"
#include "node_equations.h"
#include "runner.h"

static const char *const preferred[] = {"1.0", "2.2", "4.7"};

static void work_on(const char *source, const char *circuit, const char *opened, struct circuit_work *work)
{
    const struct circuit_task task = {.input = {.source = source, .circuit = circuit},
                                      .opened = &opened,
                                      .opened_count = opened != NULL,
                                      .breaker = "7.77", /* no current of these circuits */
                                      .series = "E3",
                                      .preferred = preferred,
                                      .preferred_count = 3,
                                      .style = {.figures = CIRCUIT_FIGURES_DEFAULT}};
    struct circuit_fault fault = {0};
    ck_assert_msg(circuit_work(&task, work, &fault), "%s: %s", circuit, text_string(&fault.message));
}

/* ------------------------------------------------------------------ a canvas that remembers --------------- */

enum { TEXTS_MOST = 1000 };

struct seen {
    struct {
        double left, right, top, bottom;
        char string[64];
    } text[TEXTS_MOST];
    size_t count;
    size_t strokes;
    double smallest; /* letters; 0: none yet */
    size_t teeth;    /* lines of more than two points */
};

static void see_page(void *state, double width, double height)
{
    (void)state, (void)width, (void)height;
}

static void see_lines(void *state, const struct canvas_point *points, size_t count, bool joined, struct canvas_pen pen)
{
    struct seen *seen = state;
    (void)points, (void)joined, (void)pen;
    seen->strokes++;
    seen->teeth += count > 5;
}

static void see_area(void *state, const struct canvas_point *points, size_t count, bool tint)
{
    (void)state, (void)points, (void)count, (void)tint;
}

static void see_disc(void *state, struct canvas_point centre, double radius, bool filled, double pen_width)
{
    (void)state, (void)centre, (void)radius, (void)filled, (void)pen_width;
}

static void see_text(void *state, struct canvas_point at, enum canvas_anchor anchor, struct canvas_font font,
                     const char *shown, const char *full)
{
    struct seen *seen = state;
    ck_assert_msg(full == NULL, "%s is cut", shown);
    ck_assert_uint_lt(seen->count, TEXTS_MOST);
    if (shown[0] == '\0') {
        return;
    }
    seen->smallest = seen->smallest > 0 && seen->smallest < font.size ? seen->smallest : font.size;
    const double width = canvas_text_width(font, shown);
    const double left = anchor == CANVAS_START ? at.x : anchor == CANVAS_MIDDLE ? at.x - width / 2 : at.x - width;
    seen->text[seen->count].left = left;
    seen->text[seen->count].right = left + width;
    seen->text[seen->count].top = at.y - font.size * 0.75;
    seen->text[seen->count].bottom = at.y + font.size * 0.2;
    strncpy(seen->text[seen->count].string, shown, sizeof seen->text[0].string - 1);
    seen->count++;
}

static void see_group(void *state, const char *title, const char *description)
{
    (void)state, (void)title, (void)description;
}

static void see_group_end(void *state)
{
    (void)state;
}

static void see_heading(void *state, unsigned level, const char *title, double y)
{
    (void)state, (void)level, (void)title, (void)y;
}

static const struct canvas_backend remembering = {see_page, see_lines, see_area,      see_disc,
                                                  see_text, see_group, see_group_end, see_heading};

static struct seen *draw(const struct picture *picture)
{
    struct seen *seen = calloc(1, sizeof *seen);
    ck_assert_ptr_nonnull(seen);
    struct canvas canvas = {.backend = &remembering, .state = seen};
    picture_draw(picture, &canvas);
    return seen;
}

static void check_places(const struct seen *seen, const struct picture *picture, const char *circuit)
{
    for (size_t i = 0; i < seen->count; i++) {
        ck_assert_msg(seen->text[i].left >= 0 && seen->text[i].right <= picture->width && seen->text[i].top >= 0 &&
                          seen->text[i].bottom <= picture->height,
                      "%s: %s is outside", circuit, seen->text[i].string);
        for (size_t k = 0; k < i; k++) {
            const bool apart = seen->text[i].left >= seen->text[k].right || seen->text[k].left >= seen->text[i].right ||
                               seen->text[i].top >= seen->text[k].bottom || seen->text[k].top >= seen->text[i].bottom;
            ck_assert_msg(apart, "%s: %s over %s", circuit, seen->text[i].string, seen->text[k].string);
        }
    }
}

static size_t times_seen(const struct seen *seen, const char *string)
{
    size_t count = 0;
    for (size_t i = 0; i < seen->count; i++) {
        count += strcmp(seen->text[i].string, string) == 0;
    }
    return count;
}

START_TEST(nothing_is_outside_or_over_another)
{
    uint64_t state = 31;
    size_t drawn = 0;
    size_t narrow = 0;
    for (int n = 0; n < 400; n++) {
        struct network network;
        struct circuit_work work;
        struct picture picture;
        struct arena *arena = arena_new();
        network_random(&state, 14, &network);
        work_on("60 V", text_string(&network.circuit), n % 3 == 0 ? "R1" : NULL, &work);
        const struct network_style style = {.zigzag = n % 2 == 0, .broken = n % 3 == 0, .screen = n % 4 < 2};
        if (picture_network(&work, "60 V", style, arena, &picture)) {
            struct seen *seen = draw(&picture);
            check_places(seen, &picture, text_string(&network.circuit));
            if (style.screen && picture.width <= NETWORK_SCREEN) { /* read on a narrow screen */
                ck_assert_double_ge(seen->smallest, 11);
                narrow++;
            }
            for (size_t i = 0; i < work.circuit.part_count; i++) {
                const char *name = work.circuit.nodes[work.circuit.parts[i]].name;
                ck_assert_msg(times_seen(seen, name) == 1, "%s: %s", text_string(&network.circuit), name);
            }
            ck_assert_uint_eq(times_seen(seen, "7.77 A"), 1);
            ck_assert_uint_eq(seen->teeth, style.zigzag ? work.circuit.part_count : 0);
            free(seen);
            drawn++;
        }
        arena_free(arena);
        circuit_work_done(&work);
        network_done(&network);
    }
    ck_assert_uint_gt(drawn, 390);
    ck_assert_uint_gt(narrow, 20);
}
END_TEST

/* Parts of one count are one sign; what cannot be drawn legibly is said in words. */
START_TEST(a_count_is_one_sign_and_a_crowd_is_words)
{
    struct circuit_work work;
    struct picture picture;
    struct arena *arena = arena_new();
    struct text crowd = {0};
    work_on("24 V", "6 x 1.6k in parallel + 4 x 2.4k in parallel", NULL, &work);
    ck_assert(picture_network(&work, "24 V", (struct network_style){.zigzag = true}, arena, &picture));
    struct seen *seen = draw(&picture);
    ck_assert_uint_eq(times_seen(seen, "R1 to R6, each"), 1);
    ck_assert_uint_eq(seen->teeth, 2);
    free(seen);
    circuit_work_done(&work);
    for (int i = 1; i <= 100; i++) {
        text_printf(&crowd, "%s%d", i == 1 ? "" : " | ", i);
    }
    work_on(NULL, text_string(&crowd), NULL, &work);
    ck_assert(!picture_network(&work, NULL, (struct network_style){0}, arena, &picture));
    ck_assert_msg(strstr(picture.description, "R99 and R100 side by side") != NULL, "%s", picture.description);
    circuit_work_done(&work);
    text_done(&crowd);
    arena_free(arena);
}
END_TEST

/* Side by side, by hand: 12 V on 4, 6 and 12 ohm are 3, 2 and 1 A, so that 6, 3 and 1 A flow towards the three joints;
 * with the second one broken 4, 1 and 1 A. */
START_TEST(currents_stand_beside_the_joints)
{
    static const struct {
        bool broken;
        bool blank;
        const char *string;
        size_t times;
    } rows[] = {
        {false, false, "6 A", 1},       {false, false, "3 A", 1},
        {false, false, "1 A", 1},       {true, false, "4 A", 1},
        {true, false, "1 A", 2},        {true, false, "6 A", 0},
        {true, false, "R2", 1},         {true, false, "6 \xCE\xA9, open, 0 A", 1},
        {false, true, "6 A", 0},        {false, true, "R2", 1},
        {false, true, "6 \xCE\xA9", 1}, {false, false, "12 V", 1},
    };
    struct circuit_work work;
    work_on("12 V", "4 | 6 | 12", "R2", &work);
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        const struct network_style style = {.broken = rows[i].broken, .blank = rows[i].blank};
        struct arena *arena = arena_new();
        struct picture picture;
        ck_assert(picture_network(&work, "12 V", style, arena, &picture));
        struct seen *seen = draw(&picture);
        check_places(seen, &picture, rows[i].string);
        ck_assert_msg(times_seen(seen, rows[i].string) == rows[i].times, "%s %zu times", rows[i].string,
                      times_seen(seen, rows[i].string));
        free(seen);
        arena_free(arena);
    }
    circuit_work_done(&work);
}
END_TEST

/* Two resistors on a narrow screen: as wide as one, in letters of its text; a crowd is wider than one. */
START_TEST(a_narrow_screen_has_letters_of_its_own)
{
    static const char *const circuits[] = {"10 | 20", "1 + 2 + 3 + 4 + 5", "(1 + 2 + 3 + 4) | (5 + 6 + 7 + 8)"};
    for (size_t i = 0; i < 3; i++) {
        struct circuit_work work;
        struct arena *arena = arena_new();
        struct picture screen;
        work_on("12 V", circuits[i], NULL, &work);
        ck_assert(picture_network(&work, "12 V", (struct network_style){.screen = true}, arena, &screen));
        struct seen *seen = draw(&screen);
        check_places(seen, &screen, circuits[i]);
        if (i < 2) {
            ck_assert_double_eq(screen.width, NETWORK_SCREEN);
            ck_assert_double_ge(seen->smallest, 13);
        } else {
            ck_assert_double_gt(screen.width, NETWORK_SCREEN);
        }
        free(seen);
        circuit_work_done(&work);
        arena_free(arena);
    }
}
END_TEST

/* A circuit of groups stands between the same rails: by hand 60 V on 8 + 20 x 30 / 50 = 20 ohm are 3 A beside the first
 * one, none on a sheet to fill in; a row of forty goes on in further lines, none of its parts left out. */
START_TEST(groups_stand_between_the_rails)
{
    struct circuit_work work;
    struct text row = {0};
    for (int blank = 0; blank < 2; blank++) {
        struct arena *arena = arena_new();
        struct picture picture;
        work_on("60 V", "8 + (20 | 30)", NULL, &work);
        ck_assert(picture_network(&work, "60 V", (struct network_style){.blank = blank == 1}, arena, &picture));
        struct seen *seen = draw(&picture);
        ck_assert_uint_eq(times_seen(seen, "3 A"), blank == 1 ? 0 : 1);
        ck_assert_uint_eq(times_seen(seen, "24 V, 3 A"), blank == 1 ? 0 : 1);
        free(seen);
        circuit_work_done(&work);
        arena_free(arena);
    }
    for (int i = 1; i <= 40; i++) {
        text_printf(&row, "%s%d", i == 1 ? "" : " + ", i);
    }
    struct arena *arena = arena_new();
    struct picture picture;
    work_on("60 V", text_string(&row), NULL, &work);
    ck_assert(picture_network(&work, "60 V", (struct network_style){.zigzag = true}, arena, &picture));
    struct seen *seen = draw(&picture);
    check_places(seen, &picture, "a long row");
    ck_assert_uint_eq(seen->teeth, 40);
    free(seen);
    circuit_work_done(&work);
    arena_free(arena);
    text_done(&row);
}
END_TEST

/* ------------------------------------------------------------------ the document -------------------------- */

static void parse(const struct text *markup)
{
    XML_Parser parser = XML_ParserCreate("UTF-8");
    ck_assert_ptr_nonnull(parser);
    ck_assert_int_eq(XML_Parse(parser, text_string(markup), (int)markup->length, 1), XML_STATUS_OK);
    XML_ParserFree(parser);
}

START_TEST(a_sheet_leaves_what_is_to_be_found)
{
    static const struct print_head head = {.file = "solve", .date = "2026-01-01", .version = "1", .paper = PRINT_A4};
    struct circuit_work work;
    work_on("60 V", "8 + (20 | 30)", "R2", &work);
    for (int sheet = 0; sheet < 2; sheet++) {
        struct print_document *document = print_network(&work, "60 V", true, sheet == 1, &head);
        struct text svg = {0};
        print_svg(document, &svg);
        parse(&svg);
        ck_assert_msg(strstr(text_string(&svg), "20 \xCE\xA9") != NULL, "what was given stays");
        ck_assert_msg((strstr(text_string(&svg), "1.8 A") == NULL) == (sheet == 1), "sheet %d", sheet);
        ck_assert_msg((strstr(text_string(&svg), "product over sum") == NULL) == (sheet == 1), "sheet %d", sheet);
        text_clear(&svg);
        print_html(document, &svg);
        const char *told = strstr(text_string(&svg), "across 60 V.</p>");
        ck_assert_msg(told != NULL && strstr(told + 1, "across 60 V.</p>") == NULL, "said once below the picture");
        text_done(&svg);
        print_free(document);
    }
    circuit_work_done(&work);
}
END_TEST

Suite *make_suite(void)
{
    Suite *suite = suite_create("draw_network");
    TCase *pictures = tcase_create("pictures");
    tcase_add_test(pictures, nothing_is_outside_or_over_another);
    tcase_add_test(pictures, a_count_is_one_sign_and_a_crowd_is_words);
    tcase_add_test(pictures, currents_stand_beside_the_joints);
    tcase_add_test(pictures, groups_stand_between_the_rails);
    tcase_add_test(pictures, a_narrow_screen_has_letters_of_its_own);
    tcase_add_test(pictures, a_sheet_leaves_what_is_to_be_found);
    suite_add_tcase(suite, pictures);
    return suite;
}
