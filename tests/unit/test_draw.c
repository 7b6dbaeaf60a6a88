/* Pictures and pages: nothing overlaps, nothing is lost, and no name breaks out of the markup. */
#include <expat.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "ampsum/housefile.h"
#include "ampsum/language.h"
#include "ampsum/markup.h"
#include "ampsum/picture_live.h"
#include "ampsum/print.h"
#include "runner.h"

/* ------------------------------------------------------------------ a house ------------------------------- */

static const char hostile[] = "<b>&\"'</title>]]> kettle \xCE\xA9 = -- with a name that goes on and on, past every "
                              "column that anyone would set aside for the name of a kettle in a list of kettles";

/* A house whose branches, outlets and appliances all have that name. */
static void add_house(struct text *text, const char *rules, const char *name, int branches, int loads)
{
    text_printf(text,
                "[house]\nname = %s\nrules = %s\nsystem = single-phase\nvoltage = %s\nmain_breaker = 100 A\n"
                "floor_area = 100 m2\n[room r]\nname = %s\n",
                name, rules, strcmp(rules, "us") == 0 ? "120 V" : "230 V", name);
    for (int b = 1; b <= branches; b++) {
        const bool ring = b == 3 && strcmp(rules, "uk") == 0;
        text_printf(text, "[branch b%d]\nlabel = %s\nbreaker = %d A\nlegs = A\nwire = %s copper\nposition = %d\n%s", b,
                    name, strcmp(rules, "us") == 0 ? 20 : 32, strcmp(rules, "us") == 0 ? "12 AWG" : "2.5 mm2", b,
                    ring ? "layout = ring\nreturn = 9 m\n" : "");
        for (int o = 1; o <= 5; o++) {
            text_printf(text, "[outlet b%d-%d]\nname = %s\nbranch = b%d\nroom = r\nrun = %d m\n", b, o, name, b, 3 + o);
            if (o > 1) {
                text_printf(text, "from = b%d-%d\n", b, ring || o != 4 ? o - 1 : 1);
            }
        }
        for (int a = 1; a <= loads; a++) {
            text_printf(text,
                        "[appliance b%d-a%d]\nname = %s\noutlet = b%d-%d\npower = %d W\ncount = %d\n"
                        "use = %02d:00-%02d:40\nstandby = 2 W\n%s%s",
                        b, a, name, b, 1 + a % 5, 30 + 97 * a % 400, 1 + a % 2, a % 24, a % 24,
                        a % 3 == 0 ? "behaviour = motor\npower_factor = 0.8\n" : "", a % 4 == 0 ? "group = g\n" : "");
        }
    }
}

struct scene_of_test {
    struct house *house;
    struct check_answer check;
    const struct assessment *assessment;
    struct demand_answer demand;
    struct arena *arena;
};

static void setup(struct scene_of_test *scene, const char *rules, const char *name, int branches, int loads)
{
    struct text text = {0};
    struct error error = {0};
    add_house(&text, rules, name, branches, loads);
    ck_assert_msg(housefile_read_house_bytes("test", text_string(&text), text.length, &scene->house, &error), "%s",
                  error_message(&error));
    const struct check_question question = {.choice = {.wires = true, .loads = true}, .bill_rows = ENERGY_ALL};
    const struct demand_question demand = DEMAND_QUESTION;
    scene->arena = arena_new();
    answer_check(scene->house, &question, &scene->check);
    scene->assessment = scene->check.assessment;
    ck_assert(answer_demand(scene->house, &demand, &scene->demand, &error));
    text_done(&text);
}

static void teardown(struct scene_of_test *scene)
{
    demand_answer_done(&scene->demand);
    check_answer_done(&scene->check);
    arena_free(scene->arena);
    house_free(scene->house);
}

/* ------------------------------------------------------------------ a canvas that keeps boxes -------------- */

enum { BOXES_MOST = 4000 };

struct box {
    double left;
    double right;
    double top;
    double bottom;
    char text[48];
};

/* A long upright line. */
struct rail {
    double top;
    double bottom;
    double width;
};

enum { RAILS_MOST = 100 };

struct lying {
    double left;
    double right;
    double y;
};

struct keeper {
    struct rail rails[RAILS_MOST];
    size_t rail_count;
    struct lying lying[RAILS_MOST]; /* wires from left to right */
    size_t lying_count;
    size_t arrow_count;
    double arrow_least; /* breadth of their heads */
    double arrow_most;
    struct box box[BOXES_MOST];
    size_t count;
    size_t pages;
    double width;
    double height;
    size_t outside; /* texts beyond the page */
    size_t overlaps;
    double smallest; /* of the sizes of text; 0: no text yet */
    char worst[200];
};

static void check_page(struct keeper *keeper)
{
    for (size_t i = 0; i < keeper->count; i++) {
        const struct box *a = &keeper->box[i];
        if (a->left < -0.01 || a->right > keeper->width + 0.01 || a->top < -0.5 || a->bottom > keeper->height + 0.5) {
            keeper->outside++;
            snprintf(keeper->worst, sizeof keeper->worst, "outside: '%s' %.1f..%.1f, %.1f..%.1f", a->text, a->left,
                     a->right, a->top, a->bottom);
        }
        for (size_t j = 0; j < i; j++) {
            const struct box *b = &keeper->box[j];
            if (a->left < b->right && b->left < a->right && a->top < b->bottom && b->top < a->bottom) {
                keeper->overlaps++;
                snprintf(keeper->worst, sizeof keeper->worst, "overlap: '%s' and '%s'", a->text, b->text);
            }
        }
    }
    keeper->count = 0;
}

static void keep_page(void *state, double width, double height)
{
    struct keeper *keeper = state;
    check_page(keeper);
    keeper->pages++;
    keeper->width = width;
    keeper->height = height;
}

static void keep_text(void *state, struct canvas_point at, enum canvas_anchor anchor, struct canvas_font font,
                      const char *shown, const char *full)
{
    struct keeper *keeper = state;
    (void)full;
    ck_assert_uint_lt(keeper->count, BOXES_MOST);
    const double width = canvas_text_width(font, shown);
    const double left = at.x - (anchor == CANVAS_START ? 0 : anchor == CANVAS_MIDDLE ? width / 2 : width);
    struct box *box = &keeper->box[keeper->count];
    *box = (struct box){left, left + width, at.y - 0.73 * font.size, at.y + 0.18 * font.size, ""};
    snprintf(box->text, sizeof box->text, "%s", shown);
    keeper->count += shown[0] != '\0';
    keeper->smallest = keeper->smallest == 0 ? font.size : fmin(keeper->smallest, font.size);
}

static void keep_lines(void *state, const struct canvas_point *points, size_t count, bool joined, struct canvas_pen pen)
{
    struct keeper *keeper = state;
    (void)joined;
    if (count == 2 && points[0].x == points[1].x && points[1].y - points[0].y > 35 && keeper->rail_count < RAILS_MOST) {
        keeper->rails[keeper->rail_count++] = (struct rail){points[0].y, points[1].y, pen.width};
    }
    if (count == 2 && points[0].y == points[1].y && keeper->lying_count < RAILS_MOST) {
        keeper->lying[keeper->lying_count++] =
            (struct lying){fmin(points[0].x, points[1].x), fmax(points[0].x, points[1].x), points[0].y};
    }
    for (size_t i = 0; i < count; i++) {
        ck_assert(isfinite(points[i].x) && isfinite(points[i].y));
    }
}

static void keep_area(void *state, const struct canvas_point *points, size_t count, bool tint)
{
    struct keeper *keeper = state;
    (void)tint;
    ck_assert_uint_gt(count, 2);
    if (count == 3) { /* the base of an arrow head */
        const double base = hypot(points[1].x - points[0].x, points[1].y - points[0].y);
        keeper->arrow_least = keeper->arrow_count == 0 ? base : fmin(keeper->arrow_least, base);
        keeper->arrow_most = fmax(keeper->arrow_most, base);
        keeper->arrow_count++;
    }
}

/* The upper and lower end of a sign's circle are kept as short wires. */
static void keep_disc(void *state, struct canvas_point centre, double radius, bool filled, double pen_width)
{
    struct keeper *keeper = state;
    (void)pen_width;
    ck_assert(isfinite(centre.x) && isfinite(centre.y) && radius > 0);
    for (int end = -1; end <= 1 && !filled && keeper->lying_count < RAILS_MOST; end += 2) {
        keeper->lying[keeper->lying_count++] =
            (struct lying){centre.x - radius / 4, centre.x + radius / 4, centre.y + end * radius};
    }
}

static void keep_group(void *state, const char *title, const char *description)
{
    (void)state, (void)title, (void)description;
}

static void keep_group_end(void *state)
{
    (void)state;
}

static struct keeper keeper;

static struct canvas keeping_canvas(double width, double height)
{
    static const struct canvas_backend backend = {.page = keep_page,
                                                  .lines = keep_lines,
                                                  .area = keep_area,
                                                  .disc = keep_disc,
                                                  .text = keep_text,
                                                  .group = keep_group,
                                                  .group_end = keep_group_end};
    keeper = (struct keeper){.width = width, .height = height};
    return (struct canvas){.backend = &backend, .state = &keeper};
}

static void assert_apart(void)
{
    check_page(&keeper);
    ck_assert_msg(keeper.overlaps == 0 && keeper.outside == 0, "%zu overlaps, %zu outside; %s", keeper.overlaps,
                  keeper.outside, keeper.worst);
}

/* ------------------------------------------------------------------ pictures ------------------------------- */

static bool well_formed(const char *xml, size_t length, size_t *ret_texts);

static void check_picture(const struct picture *picture)
{
    struct canvas canvas = keeping_canvas(picture->width, picture->height);
    picture_draw(picture, &canvas);
    ck_assert_uint_gt(keeper.count, 3);
    assert_apart();
    /* only paper has an end */
    ck_assert(picture->width < PICTURE_WIDTH ||
              (picture->height <= PICTURE_HEIGHT_MOST && picture->width == PICTURE_WIDTH));
    struct text svg = {0};
    size_t texts = 0;
    picture_svg(picture, &svg);
    ck_assert(well_formed(text_string(&svg), svg.length, &texts));
    ck_assert_uint_gt(texts, 3);
    ck_assert_ptr_nonnull(strstr(text_string(&svg), "<desc>"));
    text_done(&svg);
}

static void check_list(struct picture_list list, size_t least)
{
    ck_assert_uint_ge(list.count, least);
    for (size_t i = 0; i < list.count; i++) {
        check_picture(&list.picture[i]);
    }
}

static const struct {
    const char *rules;
    const char *name;
    int branches;
    int loads;
} houses[] = {{"us", "Kettle", 2, 1},  {"us", "Kettle", 3, 5},
              {"us", hostile, 40, 30}, {"iec", hostile, 28, 13},
              {"uk", hostile, 5, 25},  {"uk", "\xD0\xA9\xD0\xA9\xD0\xA9 \xE6\xB0\xB4\xE6\xB0\xB4", 4, 12},
              {"iec", "x", 27, 12},    {"us", "W W W W W W W W W W W W W W W W W W W W W W W W W W W W W W W", 55, 3}};

START_TEST(pictures_keep_texts_apart)
{
    struct scene_of_test scene;
    setup(&scene, houses[_i].rules, houses[_i].name, houses[_i].branches, houses[_i].loads);
    check_list(pictures_bars(scene.assessment, NULL, scene.assessment->house->branch_count, scene.arena), 1);
    for (size_t i = 0; i < scene.house->branch_count; i++) {
        for (int look = CIRCUIT_PAPER; look <= CIRCUIT_BOARD_COVERED; look++) {
            check_list(pictures_circuit(scene.assessment, i, (enum circuit_look)look, LANGUAGE_ENGLISH, scene.arena),
                       1);
        }
    }
    struct cost_answer cost;
    answer_cost(scene.house, scene.house->tariff, scene.check.bill, &cost);
    const struct picture energy = picture_energy(&cost, 24, scene.arena);
    check_picture(&energy);
    check_picture(energy.narrow);
    cost_answer_done(&cost);
    teardown(&scene);
}
END_TEST

START_TEST(courses_keep_texts_apart)
{
    struct scene_of_test scene;
    setup(&scene, houses[_i].rules, houses[_i].name, houses[_i].branches, houses[_i].loads);
    for (size_t i = 0; i < scene.house->branch_count && i < 5; i++) {
        const struct day_scope scope = {i, NO_INDEX, 0};
        struct day_series series;
        const struct day day = day_busiest(scene.house, scope, DAYS_ALL, MONTHS_ALL, scene.assessment->factors);
        day_course(scene.house, scope, day, scene.assessment->factors, 0.8, scene.arena, &series);
        const struct picture course = picture_day(hostile, &series, 0.8, i % 2 == 1, scene.arena);
        check_picture(&course);
        struct wiring wiring;
        ck_assert(wiring_init(&wiring, scene.house, i, wire_ohm_per_km(scene.house, scene.house->branches[i].wire)));
        wiring_load_counted(&wiring, scene.assessment->branches[i].loads);
        if (wiring_solve(&wiring, 1)) {
            const struct picture plot =
                picture_wire(&wiring, wiring.nominal_v, i % 2 == 0 ? 3 : (double)NAN, scene.arena);
            check_picture(&plot);
        }
        wiring_done(&wiring);
    }
    teardown(&scene);
}
END_TEST

/* Seventy outlets at the same length of cable: their points coincide, their numbers may not. */
START_TEST(numbers_of_one_point_stay_apart)
{
    struct text text = {0};
    struct error error = {0};
    struct house *house = NULL;
    text_add(&text, "[house]\nname = star\nrules = iec\nsystem = single-phase\nmain_breaker = 63 A\n[branch b]\n"
                    "label = star\nbreaker = 16 A\nlegs = A\nwire = 2.5 mm2 copper\n");
    for (int i = 0; i < 70; i++) {
        text_printf(&text,
                    "[outlet o%d]\nbranch = b\nrun = %d m\n[appliance a%d]\nname = a\noutlet = o%d\npower = 30 W\n", i,
                    8 + i / 35, i, i);
    }
    ck_assert_msg(housefile_read_house_bytes("test", text_string(&text), text.length, &house, &error), "%s",
                  error_message(&error));
    const struct assess_options options = {.wires = true, .loads = true};
    struct assessment *assessment = assess_house(house, &options);
    struct arena *arena = arena_new();
    struct wiring wiring;
    ck_assert(wiring_init(&wiring, house, 0, wire_ohm_per_km(house, house->branches[0].wire)));
    wiring_load_counted(&wiring, assessment->branches[0].loads);
    ck_assert(wiring_solve(&wiring, 1));
    const struct picture plot = picture_wire(&wiring, wiring.nominal_v, 4, arena);
    check_picture(&plot);
    wiring_done(&wiring);
    arena_free(arena);
    assess_free(assessment);
    house_free(house);
    text_done(&text);
}
END_TEST

/* Kirchhoff's current law by hand: 3, 5 and 2 A of heaters at 120 V leave 10, 7 and 2 A in the line. */
START_TEST(junctions_sum_what_is_behind)
{
    static const char text[] =
        "[house]\nname = h\nrules = us\nsystem = single-phase\nmain_breaker = 100 A\n[branch b]\nlabel = b\n"
        "breaker = 20 A\nlegs = A\n[appliance a1]\nname = a\nbranch = b\npower = 360 W\n[appliance a2]\nname = a\n"
        "branch = b\npower = 600 W\n[appliance a3]\nname = a\nbranch = b\npower = 240 W\n";
    struct house *house = NULL;
    struct error error = {0};
    ck_assert_msg(housefile_read_house_bytes("test", text, sizeof text - 1, &house, &error), "%s",
                  error_message(&error));
    struct load loads[3];
    struct branch_figures figures;
    double line_a[3];
    branch_total(house, 0, NULL, 120, (struct planning_factors){1.25, 1.25, NULL, NULL}, loads, &figures);
    ck_assert(branch_junctions(house, 0, loads, 120, line_a));
    const double want_a[] = {10, 7, 2};
    for (size_t i = 0; i < 3; i++) {
        ck_assert_double_eq_tol(line_a[i], want_a[i], 1e-9);
    }
    house_free(house);
}
END_TEST

/* P8: what is off stays drawn, as an open switch; line and return alike are as wide as they carry; where power factors
 * differ it is said that currents do not add. By hand: 10 A of a heater and 7.07 A at power factor 0.707 are 15.8 A. */
START_TEST(a_circuit_shows_what_is_off_and_out_of_step)
{
    static const char text[] =
        "[house]\nname = h\nrules = us\nsystem = single-phase\nmain_breaker = 100 A\n[branch b]\nlabel = b\n"
        "breaker = 20 A\nlegs = A\n[appliance a1]\nname = heater\nbranch = b\npower = 1200 W\n[appliance a2]\n"
        "name = fan\nbranch = b\npower = 600 W\npower_factor = 0.707\n";
    static const struct {
        unsigned on[2];
        size_t off;
        bool note;
    } rows[] = {{{1, 1}, 0, true}, {{1, 0}, 1, false}, {{0, 0}, 2, false}};
    struct house *house = NULL;
    struct error error = {0};
    ck_assert_msg(housefile_read_house_bytes("test", text, sizeof text - 1, &house, &error), "%s",
                  error_message(&error));
    struct arena *arena = arena_new();
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        const struct assess_options options = {.basis = BASIS_SET, .on = rows[i].on, .loads = true};
        struct assessment *assessment = assess_house(house, &options);
        const struct picture_list list = pictures_circuit(assessment, 0, CIRCUIT_SCREEN, LANGUAGE_ENGLISH, arena);
        struct text svg = {0};
        size_t off = 0;
        ck_assert_uint_eq(list.count, 1);
        picture_svg(&list.picture[0], &svg);
        for (const char *at = text_string(&svg); (at = strstr(at, "<desc>off</desc>")) != NULL; at++) {
            off++;
        }
        ck_assert_uint_eq(off, rows[i].off);
        ck_assert(rows[i].note == (strstr(text_string(&svg), "currents do not simply add") != NULL));
        ck_assert(rows[i].note == (strstr(text_string(&svg), ">15.81 A<") != NULL));
        text_done(&svg);
        assess_free(assessment);
    }
    arena_free(arena);
    house_free(house);
}
END_TEST

/* A rail has the letter of its leg where the house has more than one. */
START_TEST(one_line_has_no_letter)
{
    static const struct {
        const char *system;
        const char *legs;
        int poles;
        const char *name;
    } rows[] = {{"single-phase", "A", 1, ">line<"},
                {"split-phase", "B", 1, ">line B<"},
                {"split-phase", "AB", 2, ">leg A<"},
                {"three-phase", "BC", 2, ">line C<"}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct house *house = NULL;
        struct error error = {0};
        struct text text = {0};
        struct text svg = {0};
        struct arena *arena = arena_new();
        text_printf(&text,
                    "[house]\nname = h\nrules = us\nsystem = %s\nmain_breaker = 100 A\n[branch b]\nlabel = b\n"
                    "breaker = 20 A\nlegs = %s\npoles = %d\n[appliance a]\nname = heater\nbranch = b\npower = 1200 W\n",
                    rows[i].system, rows[i].legs, rows[i].poles);
        ck_assert_msg(housefile_read_house_bytes("test", text_string(&text), text.length, &house, &error), "%s",
                      error_message(&error));
        const struct assess_options options = {.basis = BASIS_BUSIEST, .loads = true};
        struct assessment *assessment = assess_house(house, &options);
        const struct picture_list list = pictures_circuit(assessment, 0, CIRCUIT_SCREEN, LANGUAGE_ENGLISH, arena);
        picture_svg(&list.picture[0], &svg);
        ck_assert_msg(strstr(text_string(&svg), rows[i].name) != NULL, "%s", text_string(&svg));
        text_done(&text);
        text_done(&svg);
        assess_free(assessment);
        arena_free(arena);
        house_free(house);
    }
}
END_TEST

/* By hand: 4 kW in halves on two lines and the neutral are 230^2 / 2000 = 26.45 ohm each, on the rung as together. */
START_TEST(halves_have_their_own_resistance)
{
    static const char text[] = "[house]\nname = h\nrules = iec\nsystem = three-phase\nmain_breaker = 63 A\n[branch b]\n"
                               "label = b\nbreaker = 32\npoles = 2\nlegs = AB\npurpose = dedicated\n"
                               "[appliance h]\nname = Hob\nbranch = b\npower = 4 kW\nfixed = yes\nconnection = 2L+N\n";
    struct house *house = NULL;
    struct error error = {0};
    struct text svg = {0};
    struct arena *arena = arena_new();
    ck_assert_msg(housefile_read_house_bytes("test", text, sizeof text - 1, &house, &error), "%s",
                  error_message(&error));
    const struct assess_options options = {.basis = BASIS_BUSIEST, .loads = true};
    struct assessment *assessment = assess_house(house, &options);
    const struct picture_list list = pictures_circuit(assessment, 0, CIRCUIT_SCREEN, LANGUAGE_ENGLISH, arena);
    picture_svg(&list.picture[0], &svg);
    ck_assert_msg(strstr(text_string(&svg), ">4000 W, 8.70 A, 26.45 \xCE\xA9<") != NULL, "%s", text_string(&svg));
    ck_assert_ptr_nonnull(strstr(text_string(&svg), "together 26.45 \xCE\xA9 each line to neutral"));
    text_done(&svg);
    assess_free(assessment);
    arena_free(arena);
    house_free(house);
}
END_TEST

static size_t occurrences(const char *string, const char *part)
{
    size_t count = 0;
    for (const char *at = string; (at = strstr(at, part)) != NULL; at += strlen(part)) {
        count++;
    }
    return count;
}

/* A live drawing: each load's rung, stretch and current can be found once, its contact is there open and closed, no
 * current is told, and the file that it stands in names no other place. */
START_TEST(a_live_drawing_has_its_places)
{
    static const char *const parts[] = {"rung", "rail", "drawn"};
    struct scene_of_test scene;
    setup(&scene, houses[_i].rules, houses[_i].name, houses[_i].branches, houses[_i].loads);
    struct live_answer answer;
    struct text svg = {0};
    answer_live(scene.house, 0, scene.arena, &answer);
    const struct picture picture = picture_live(&answer, LANGUAGE_ENGLISH, scene.arena);
    check_picture(&picture);
    picture_svg(&picture, &svg);
    for (size_t i = 0; i < answer.load_count; i++) {
        for (size_t part = 0; part < sizeof parts / sizeof parts[0]; part++) {
            struct text id = {0};
            text_printf(&id, " id=\"%s%zu\"", parts[part], i);
            ck_assert_uint_eq(occurrences(text_string(&svg), text_string(&id)), 1);
            text_done(&id);
        }
    }
    ck_assert_uint_eq(occurrences(text_string(&svg), "class=\"open\""), answer.load_count);
    ck_assert_uint_eq(occurrences(text_string(&svg), "class=\"closed\""), answer.load_count);
    ck_assert_uint_eq(occurrences(text_string(&svg), ">? A<"), answer.load_count);
    ck_assert_ptr_null(strstr(text_string(&svg), "http"));
    text_done(&svg);
    teardown(&scene);
}
END_TEST

/* A pair of poles is coupled past the words between them, no sign stands in a word, and a note is whole, covered or
 * not. */
START_TEST(no_wire_strikes_out_a_word)
{
    static const char text[] =
        "[house]\nname = h\nrules = us\nmain_breaker = 100 A\n[branch b]\nlabel = b\npoles = 2\n"
        "breaker = 50 A\nlegs = AB\n[appliance a1]\nname = range\nbranch = b\npower = 9600 W\n[appliance a2]\n"
        "name = pump\nbranch = b\npower = 600 W\npower_factor = 0.7\nbehaviour = motor\n";
    struct house *house = NULL;
    struct error error = {0};
    ck_assert_msg(housefile_read_house_bytes("test", text, sizeof text - 1, &house, &error), "%s",
                  error_message(&error));
    struct arena *arena = arena_new();
    const struct assess_options options = {.loads = true};
    struct assessment *assessment = assess_house(house, &options);
    for (int look = CIRCUIT_PAPER; look <= CIRCUIT_BOARD_COVERED; look++) {
        const struct picture_list list =
            pictures_circuit(assessment, 0, (enum circuit_look)look, LANGUAGE_ENGLISH, arena);
        struct canvas canvas = keeping_canvas(PICTURE_WIDTH, 2000);
        struct text svg = {0};
        picture_draw(&list.picture[0], &canvas);
        ck_assert_uint_gt(keeper.lying_count, 4);
        for (size_t i = 0; i < keeper.lying_count * keeper.count; i++) {
            const struct lying *wire = &keeper.lying[i / keeper.count];
            const struct box *box = &keeper.box[i % keeper.count];
            ck_assert_msg(wire->y < box->top || wire->y > box->bottom || wire->right < box->left ||
                              wire->left > box->right,
                          "a wire strikes out '%s'", box->text);
        }
        picture_svg(&list.picture[0], &svg);
        ck_assert_ptr_nonnull(strstr(text_string(&svg), ">power factors differ: currents do not simply add<"));
        text_done(&svg);
    }
    assess_free(assessment);
    arena_free(arena);
    house_free(house);
}
END_TEST

/* Line, return and rung have arrows, that stand out of the thickest wire; what is off has none. */
START_TEST(arrows_stand_out_of_the_wire)
{
    static const char text[] =
        "[house]\nname = h\nrules = us\nsystem = single-phase\nmain_breaker = 100 A\n[branch b]\nlabel = b\n"
        "breaker = 20 A\nlegs = A\n[appliance a1]\nname = heater\nbranch = b\npower = 3000 W\n[appliance a2]\n"
        "name = fan\nbranch = b\npower = 600 W\n";
    static const unsigned on[] = {1, 0};
    struct house *house = NULL;
    struct error error = {0};
    ck_assert_msg(housefile_read_house_bytes("test", text, sizeof text - 1, &house, &error), "%s",
                  error_message(&error));
    struct arena *arena = arena_new();
    const struct assess_options options = {.basis = BASIS_SET, .on = on, .loads = true};
    struct assessment *assessment = assess_house(house, &options);
    for (int look = CIRCUIT_PAPER; look <= CIRCUIT_SCREEN; look++) {
        const struct picture_list list =
            pictures_circuit(assessment, 0, (enum circuit_look)look, LANGUAGE_ENGLISH, arena);
        struct canvas canvas = keeping_canvas(PICTURE_WIDTH, 2000);
        picture_draw(&list.picture[0], &canvas);
        ck_assert_uint_eq(keeper.arrow_count, 3); /* line and return to the first junction, and the heater's rung */
        ck_assert_double_gt(keeper.arrow_least, look == CIRCUIT_PAPER ? 5 : 6);
        ck_assert_double_gt(keeper.arrow_most, 1.25 * (look == CIRCUIT_PAPER ? 4 : 6)); /* 25 A on 20 A */
    }
    assess_free(assessment);
    arena_free(arena);
    house_free(house);
}
END_TEST

/* The loop of a fault is for a narrow screen: as wide as one, its type no smaller than text there, nothing overlaps. */
START_TEST(a_loop_is_read_on_a_narrow_screen)
{
    enum { NARROW = 360, TYPE_LEAST = 12 };
    static const char *const ids[] = {"x", "the-far-end-of-the-long-hedge"};
    for (size_t i = 0; i < sizeof ids / sizeof ids[0]; i++) {
        struct text text = {0};
        struct house *house = NULL;
        struct error error = {0};
        text_printf(&text,
                    "[house]\nname = h\nrules = uk\nmain_breaker = 100 A\nearthing = TN-C-S\n%s[branch b]\nlabel = b\n"
                    "breaker = C32\nwire = 2.5 mm2 copper\n[outlet %s]\nbranch = b\nrun = 128.5 m\n",
                    i == 0 ? "ze = 0.345\n" : "", ids[i]);
        ck_assert_msg(housefile_read_house_bytes("test", text_string(&text), text.length, &house, &error), "%s",
                      error_message(&error));
        const struct fault_options options = {.at_panel_a = NAN};
        struct fault_study *study = fault_study_house(house, &options);
        struct arena *arena = arena_new();
        const struct picture picture = picture_fault(study, 0, &study->branches[0].points[0], arena);
        struct text svg = {0};
        check_picture(&picture);
        ck_assert_double_le(picture.width, NARROW);
        picture_svg(&picture, &svg);
        size_t sizes = 0;
        for (const char *at = text_string(&svg); (at = strstr(at, "font-size=\"")) != NULL; sizes++) {
            at += strlen("font-size=\"");
            ck_assert_double_ge(strtod(at, NULL), TYPE_LEAST);
        }
        ck_assert_uint_gt(sizes, 4);
        text_done(&svg);
        arena_free(arena);
        fault_free(study);
        house_free(house);
        text_done(&text);
    }
}
END_TEST

START_TEST(a_return_is_as_wide_as_its_line)
{
    struct scene_of_test scene;
    setup(&scene, "iec", "Kettle", 3, 5);
    for (int look = CIRCUIT_PAPER; look <= CIRCUIT_COVERED; look++) {
        const struct picture_list list =
            pictures_circuit(scene.assessment, 0, (enum circuit_look)look, LANGUAGE_ENGLISH, scene.arena);
        struct canvas canvas = keeping_canvas(PICTURE_WIDTH, 2000);
        picture_draw(&list.picture[0], &canvas);
        ck_assert_uint_gt(keeper.rail_count, 3);
        for (size_t i = 0; i + 1 < keeper.rail_count; i++) {
            for (size_t k = i + 1; k < keeper.rail_count; k++) {
                const bool level =
                    keeper.rails[i].top == keeper.rails[k].top && keeper.rails[i].bottom == keeper.rails[k].bottom;
                ck_assert(!level || keeper.rails[i].width == keeper.rails[k].width);
                ck_assert(look != CIRCUIT_COVERED || keeper.rails[i].width == keeper.rails[k].width);
            }
        }
    }
    teardown(&scene);
}
END_TEST

/* ------------------------------------------------------------------ markup --------------------------------- */

static void XMLCALL start(void *state, const XML_Char *name, const XML_Char **attributes)
{
    (void)attributes;
    *(size_t *)state += strcmp(name, "text") == 0;
}

static bool well_formed(const char *xml, size_t length, size_t *ret_texts)
{
    XML_Parser parser = XML_ParserCreate(NULL);
    ck_assert_ptr_nonnull(parser);
    XML_SetUserData(parser, ret_texts);
    XML_SetElementHandler(parser, start, NULL);
    const bool good = XML_Parse(parser, xml, (int)length, 1) == XML_STATUS_OK;
    if (!good) {
        fprintf(stderr, "line %lu: %s\n", XML_GetCurrentLineNumber(parser), XML_ErrorString(XML_GetErrorCode(parser)));
    }
    XML_ParserFree(parser);
    return good;
}

START_TEST(markup_is_escaped)
{
    static const struct {
        const char *string;
        const char *want;
    } rows[] = {{"a&b", "a&amp;b"},
                {"<b>", "&lt;b&gt;"},
                {"\"'", "&quot;&#39;"},
                {"\xCE\xA9", "\xCE\xA9"},
                {"a\x1b[2Jb", "a\xEF\xBF\xBD[2Jb"},
                {"\xE2\x80\xAE", "\xEF\xBF\xBD"}, /* right-to-left override */
                {"\xC3", "\xEF\xBF\xBD"},         /* cut short */
                {"\xED\xA0\x80", "\xEF\xBF\xBD"}, /* a surrogate */
                {"\xEF\xBF\xBF", "\xEF\xBF\xBD"}, /* no character of XML */
                {"", ""}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct text text = {0};
        markup_add(&text, rows[i].string);
        ck_assert_str_eq(text_string(&text), rows[i].want);
        text_done(&text);
    }
}
END_TEST

START_TEST(any_bytes_make_well_formed_svg)
{
    unsigned state = 12345;
    for (int round = 0; round < 300; round++) {
        char bytes[60];
        for (size_t i = 0; i + 1 < sizeof bytes; i++) {
            state = state * 1103515245U + 12345U;
            bytes[i] = (char)(1 + (state >> 16) % 255);
        }
        bytes[sizeof bytes - 1] = '\0';
        struct text text = {0};
        struct svg svg;
        size_t texts = 0;
        struct canvas canvas = svg_open(&svg, &text, 100, 100, "img", bytes, bytes);
        canvas_text(&canvas, 1, 10, CANVAS_START, (struct canvas_font){8, false}, bytes);
        canvas_text_fit(&canvas, 1, 20, 30, CANVAS_END, (struct canvas_font){8, true}, bytes);
        canvas_group(&canvas, bytes, bytes);
        canvas_group_end(&canvas);
        svg_close(&svg);
        ck_assert(well_formed(text_string(&text), text.length, &texts));
        ck_assert_uint_eq(texts, 2);
        text_done(&text);
    }
}
END_TEST

/* ------------------------------------------------------------------ lines ---------------------------------- */

START_TEST(lines_fit_and_lose_nothing)
{
    const struct canvas_font font = {8, false};
    for (double width = 12; width < 400; width += 7) {
        struct arena *arena = arena_new();
        const struct canvas_lines lines = canvas_wrap(font, width, (size_t)-1, hostile, arena);
        struct text joined = {0};
        for (size_t i = 0; i < lines.count; i++) {
            ck_assert_double_le(canvas_text_width(font, lines.line[i]), width);
            for (const char *at = lines.line[i]; *at != '\0'; at++) {
                text_add_length(&joined, at, *at != ' ');
            }
        }
        struct text wanted = {0};
        for (const char *at = hostile; *at != '\0'; at++) {
            text_add_length(&wanted, at, *at != ' ');
        }
        ck_assert_str_eq(text_string(&joined), text_string(&wanted));
        text_done(&joined);
        text_done(&wanted);
        arena_free(arena);
    }
}
END_TEST

START_TEST(a_cut_line_says_so)
{
    const struct canvas_font font = {8, true};
    for (double width = 20; width < 400; width += 11) {
        struct arena *arena = arena_new();
        const struct canvas_lines lines = canvas_wrap(font, width, 1, hostile, arena);
        ck_assert_uint_eq(lines.count, 1);
        ck_assert_double_le(canvas_text_width(font, lines.line[0]), width);
        ck_assert_str_eq(lines.line[0] + strlen(lines.line[0]) - 3, "\xE2\x80\xA6");
        arena_free(arena);
    }
}
END_TEST

/* ------------------------------------------------------------------ documents ------------------------------ */

static const struct print_head head = {"a & b.ini", "2026-01-02", "9.9", PRINT_A4};

START_TEST(pages_keep_texts_apart)
{
    struct scene_of_test scene;
    setup(&scene, houses[_i].rules, houses[_i].name, houses[_i].branches, houses[_i].loads);
    struct print_document *report = print_report(&scene.check, &scene.demand, 8, &head);
    struct canvas canvas = keeping_canvas(print_width(PRINT_A4), print_height(PRINT_A4));
    const size_t pages = print_pages(report, &canvas);
    ck_assert_uint_eq(pages, keeper.pages);
    ck_assert_uint_gt(pages, 2);
    assert_apart();
    print_free(report);
    struct print_document *list = print_directory(scene.house, &head);
    canvas = keeping_canvas(print_width(PRINT_A4), print_height(PRINT_A4));
    print_pages(list, &canvas);
    assert_apart();
    print_free(list);
    teardown(&scene);
}
END_TEST

/* No heading stands over nothing: the end, or one of its own level or above. */
START_TEST(every_heading_has_something_below)
{
    struct scene_of_test scene;
    setup(&scene, houses[_i].rules, houses[_i].name, houses[_i].branches, houses[_i].loads);
    struct print_document *report = print_report(&scene.check, &scene.demand, 8, &head);
    size_t headings = 0;
    for (size_t i = 0; i < report->block_count; i++) {
        if (report->blocks[i].kind == PRINT_HEADING) {
            headings++;
            ck_assert_uint_lt(i + 1, report->block_count);
            const struct print_block *next = &report->blocks[i + 1];
            ck_assert_msg(next->kind != PRINT_PAGE && next->kind != PRINT_HEADING, "%s", report->blocks[i].string);
            ck_assert_msg(next->kind != PRINT_TABLE || print_row_count(next->table) > 0, "%s",
                          report->blocks[i].string);
        }
    }
    ck_assert_uint_gt(headings, 8);
    print_free(report);
    teardown(&scene);
}
END_TEST

/* A group's line and its rows on every face: whole on paper, where it leads the outline, and as a row over all columns.
 */
START_TEST(a_group_heads_its_rows)
{
    static const struct print_column columns[] = {{"Load", 4, false}, {"A", 1, true}, {"W", 1, true}};
    struct print_document *document = print_new("test", "A house", &head);
    struct print_table *table = print_table_add(document, "Loads", columns, 3);
    table->halves = true;
    for (size_t i = 0; i < 300; i++) {
        if (i % 50 == 0) {
            print_group(document, table, i == 0 ? "Kitchen" : "Cellar", "20 A");
        }
        print_cell(document, table, "Kettle");
        print_cell(document, table, arena_printf(document->arena, "%zu", (size_t)i));
        print_cell(document, table, "1000");
    }
    ck_assert_str_eq(print_group_name(table, 0), "Kitchen");
    ck_assert_str_eq(print_group_note(table, 0), "20 A");
    ck_assert_ptr_null(print_group_name(table, 1));
    struct canvas canvas = keeping_canvas(print_width(PRINT_A4), print_height(PRINT_A4));
    const size_t halves = print_pages(document, &canvas);
    assert_apart();
    table->halves = false;
    canvas = keeping_canvas(print_width(PRINT_A4), print_height(PRINT_A4));
    const size_t whole = print_pages(document, &canvas);
    assert_apart();
    ck_assert_uint_gt(halves, 2);
    ck_assert_uint_le(halves, whole / 2 + 1);
    struct text html = {0};
    print_html(document, &html);
    ck_assert_uint_eq(occurrences(text_string(&html), "scope=\"rowgroup\""), 6);
    ck_assert_uint_eq(occurrences(text_string(&html), "<tbody"), 6);
    text_done(&html);
    print_free(document);
}
END_TEST

/* However many rows a table has, its last one is not the only one on a page. */
START_TEST(the_last_row_is_not_alone)
{
    static const struct print_column columns[] = {{"Name of it", 1, false}, {"kWh a day", 1, true}};
    struct print_document *document = print_new("test", "House", &head);
    struct print_table *table = print_table_add(document, "Rows", columns, 2);
    for (int row = 0; row <= _i; row++) {
        struct text text = {0};
        text_printf(&text, "row %d.", row);
        print_cell(document, table, text_string(&text));
        print_cell(document, table, "1");
        text_done(&text);
    }
    struct canvas canvas = keeping_canvas(print_width(PRINT_A4), print_height(PRINT_A4));
    print_pages(document, &canvas);
    size_t rows = 0;
    for (size_t i = 0; i < keeper.count; i++) { /* of the last page */
        rows += strncmp(keeper.box[i].text, "row ", 4) == 0;
    }
    ck_assert_uint_ge(rows, 2);
    print_free(document);
}
END_TEST

static void has_every_line(const char *html, const struct demand_list *list)
{
    for (size_t i = 0; i < list->count; i++) {
        struct text line = {0};
        markup_add(&line, list->line[i].what);
        ck_assert_msg(strstr(html, text_string(&line)) != NULL, "%s", text_string(&line));
        text_done(&line);
    }
}

/* The sheet for the electrician's folder is read without a glass and without a terminal, and nothing is lost on it. */
START_TEST(whether_the_service_carries_it_is_read_on_paper)
{
    enum { SIZE_LEAST = 9 };
    static const char *const words_of_a_terminal[] = {"--", "ampsum typical", "service_", "main_breaker",
                                                      "rating_from"};
    struct scene_of_test scene;
    setup(&scene, _i == 0 ? "us" : "uk", "A house", 12, 6); /* of the second, two methods apply */
    struct print_document *sheet = print_service(&scene.demand, &head);
    struct canvas canvas = keeping_canvas(print_width(PRINT_A4), print_height(PRINT_A4));
    ck_assert_uint_le(print_pages(sheet, &canvas), 3);
    assert_apart();
    ck_assert_double_ge(keeper.smallest, SIZE_LEAST);
    struct text html = {0};
    size_t applying = 0;
    print_html(sheet, &html);
    for (size_t i = 0; i < scene.demand.service->method_count; i++) {
        const struct service_method *method = &scene.demand.service->methods[i];
        ck_assert_ptr_nonnull(strstr(text_string(&html), method->word));
        if (method->applies && method->demand != NULL) {
            applying++;
            has_every_line(text_string(&html), &method->demand->lines);
        }
    }
    ck_assert_uint_gt(applying, (size_t)_i);
    ck_assert(scene.demand.chosen->applies);
    ck_assert_uint_eq(occurrences(text_string(&html), "<caption>Lines by "), applying);
    ck_assert_ptr_nonnull(strstr(text_string(&html), "Sources: [1] "));
    ck_assert_ptr_nonnull(strstr(text_string(&html), "an electrician"));
    const char *words = strstr(text_string(&html), "</style>");
    for (size_t i = 0; i < sizeof words_of_a_terminal / sizeof words_of_a_terminal[0]; i++) {
        ck_assert_msg(strstr(words, words_of_a_terminal[i]) == NULL, "%s", words_of_a_terminal[i]);
    }
    text_done(&html);
    print_free(sheet);
    teardown(&scene);
}
END_TEST

START_TEST(every_page_has_its_footer)
{
    struct scene_of_test scene;
    setup(&scene, "us", hostile, 12, 6);
    struct print_document *report = print_report(&scene.check, &scene.demand, 8, &head);
    struct canvas none = canvas_none();
    const size_t pages = print_pages(report, &none);
    struct text svg = {0};
    size_t texts = 0;
    print_svg(report, &svg);
    ck_assert(well_formed(text_string(&svg), svg.length, &texts));
    for (size_t page = 1; page <= pages; page++) {
        struct text want = {0};
        text_printf(&want, ">page %zu of %zu<", page, pages);
        ck_assert_uint_eq(occurrences(text_string(&svg), text_string(&want)), 1);
        text_done(&want);
    }
    ck_assert_uint_eq(occurrences(text_string(&svg), ">2026-01-02   ampsum 9.9   a &amp; b.ini<"), pages);
    ck_assert_uint_ge(occurrences(text_string(&svg), "Local codes and a licensed electrician decide."), pages);
    text_done(&svg);
    print_free(report);
    teardown(&scene);
}
END_TEST

START_TEST(html_holds_every_name_as_text)
{
    struct scene_of_test scene;
    setup(&scene, "iec", hostile, 6, 7);
    struct print_document *report = print_report(&scene.check, &scene.demand, 8, &head);
    struct text html = {0};
    struct text escaped = {0};
    print_html(report, &html);
    markup_add(&escaped, hostile);
    ck_assert_ptr_null(strstr(text_string(&html), "<b>"));
    ck_assert_ptr_null(strstr(text_string(&html), "<script"));
    static const char *const outside[] = {"src=", "href=", "url(", "@import"};
    for (size_t i = 0; i < sizeof outside / sizeof outside[0]; i++) {
        ck_assert_ptr_null(strstr(text_string(&html), outside[i]));
    }
    /* in the table of loads and in that of energy, once for each appliance, whole */
    ck_assert_uint_ge(occurrences(text_string(&html), text_string(&escaped)), 2 * scene.house->appliance_count);
    ck_assert_uint_eq(occurrences(text_string(&html), "<h1"), 1);
    text_done(&html);
    text_done(&escaped);
    print_free(report);
    teardown(&scene);
}
END_TEST

/* Under us rules space 1 stands left of space 2; elsewhere the left column runs on first. */
START_TEST(a_directory_follows_the_rules)
{
    struct scene_of_test scene;
    setup(&scene, _i == 0 ? "us" : "iec", "Kettle", 4, 1);
    struct print_document *list = print_directory(scene.house, &head);
    const struct print_table *table = NULL;
    for (size_t i = 0; table == NULL && i < list->block_count; i++) {
        table = list->blocks[i].table;
    }
    ck_assert_ptr_nonnull(table);
    ck_assert_str_eq(table->cells[0], "1");
    ck_assert_str_eq(table->cells[3], _i == 0 ? "2" : "11");
    ck_assert_str_eq(table->cells[6], _i == 0 ? "3" : "2");
    ck_assert_str_eq(table->cells[1], "Kettle: Kettle");
    ck_assert_str_eq(table->cells[2], _i == 0 ? "20" : "32");
    print_free(list);
    teardown(&scene);
}
END_TEST

Suite *make_suite(void)
{
    Suite *suite = suite_create("draw");
    TCase *pictures = tcase_create("pictures");
    const int count = (int)(sizeof houses / sizeof houses[0]);
    tcase_set_timeout(pictures, 60);
    tcase_add_loop_test(pictures, pictures_keep_texts_apart, 0, count);
    tcase_add_loop_test(pictures, courses_keep_texts_apart, 0, count);
    tcase_add_loop_test(pictures, pages_keep_texts_apart, 0, count);
    tcase_add_loop_test(pictures, every_heading_has_something_below, 0, count);
    tcase_add_test(pictures, a_group_heads_its_rows);
    tcase_add_test(pictures, numbers_of_one_point_stay_apart);
    tcase_add_test(pictures, junctions_sum_what_is_behind);
    tcase_add_test(pictures, markup_is_escaped);
    tcase_add_test(pictures, any_bytes_make_well_formed_svg);
    tcase_add_test(pictures, lines_fit_and_lose_nothing);
    tcase_add_test(pictures, a_cut_line_says_so);
    tcase_add_loop_test(pictures, the_last_row_is_not_alone, 1, 120);
    tcase_add_loop_test(pictures, whether_the_service_carries_it_is_read_on_paper, 0, 2);
    tcase_add_test(pictures, every_page_has_its_footer);
    tcase_add_test(pictures, a_circuit_shows_what_is_off_and_out_of_step);
    tcase_add_test(pictures, one_line_has_no_letter);
    tcase_add_test(pictures, halves_have_their_own_resistance);
    tcase_add_test(pictures, a_loop_is_read_on_a_narrow_screen);
    tcase_add_test(pictures, a_return_is_as_wide_as_its_line);
    tcase_add_loop_test(pictures, a_live_drawing_has_its_places, 0, count);
    tcase_add_test(pictures, arrows_stand_out_of_the_wire);
    tcase_add_test(pictures, no_wire_strikes_out_a_word);
    tcase_add_test(pictures, html_holds_every_name_as_text);
    tcase_add_loop_test(pictures, a_directory_follows_the_rules, 0, 2);
    suite_add_tcase(suite, pictures);
    return suite;
}
