/* Findings 5, 6 and 20 under iec and uk: cables as they lie, rings, spurs, fuses (limits 5, 6, 14 of the contract). */
#include <math.h>
#include <string.h>

#include "ampsum/assess.h"
#include "ampsum/housefile.h"
#include "runner.h"

enum { NONE = -1 };

#define ROWS(table) ((int)(sizeof(table) / sizeof((table)[0])))

static struct assessment *assess_text(const char *text, struct house **ret_house)
{
    struct error error = {0};
    ck_assert_msg(housefile_read_house_bytes("test", text, strlen(text), ret_house, &error), "%s\n%s",
                  error_message(&error), text);
    struct assess_options options = {.wires = true};
    return assess_house(*ret_house, &options);
}

static const struct finding *first_finding(const struct finding_list *list, const char *id)
{
    for (size_t i = 0; i < list->count; i++) {
        if (strcmp(list->finding[i].id, id) == 0) {
            return &list->finding[i];
        }
    }
    return NULL;
}

/* One branch of a house, one finding of it. */
struct row {
    const char *rules;
    const char *house;  /* more lines of [house] */
    const char *branch; /* lines of [branch b], the breaker among them */
    const char *rest;   /* further sections */
    const char *id;
    int severity;
    double limit; /* the wire's ampacity that is said; NAN: not looked at */
};

static void check_row(const struct row *row, int index)
{
    struct text text = {0};
    struct house *house = NULL;
    text_printf(&text, "[house]\nname = x\nrules = %s\nmain_breaker = 63 A\n%s[branch b]\nlabel = B\nlegs = %s\n%s%s",
                row->rules, row->house, strstr(row->branch, "poles = 3") != NULL ? "ABC" : "A", row->branch, row->rest);
    struct assessment *assessment = assess_text(text_string(&text), &house);
    const struct finding *found = first_finding(&assessment->branches[0].findings, row->id);
    const int severity = found != NULL ? (int)found->severity : NONE;
    ck_assert_msg(severity == row->severity, "row %d: %d '%s'\n%s", index, severity, found != NULL ? found->text : "",
                  text_string(&text));
    if (found != NULL && !isnan(row->limit)) {
        ck_assert_double_eq_tol(finding_number(found, "ampacity_a"), row->limit, 0.005);
    }
    assess_free(assessment);
    house_free(house);
    text_done(&text);
}

static double limit_of_branch(const char *rules, const char *house_lines, const char *branch_lines)
{
    struct text text = {0};
    struct house *house = NULL;
    text_printf(&text, "[house]\nname = x\nrules = %s\nmain_breaker = 63 A\n%s[branch b]\nlabel = B\nlegs = %s\n%s",
                rules, house_lines, strstr(branch_lines, "poles = 3") != NULL ? "ABC" : "A", branch_lines);
    struct assessment *assessment = assess_text(text_string(&text), &house);
    const struct wire_run run = wire_run_of_branch(house, 0);
    const double limit_a = wire_limit_of(house, &run).strict.ampacity_a;
    assess_free(assessment);
    house_free(house);
    text_done(&text);
    return limit_a;
}

/* ------------------------------------------------------------------ what a cable carries ------------------ */

#define THREE_PHASE "system = three-phase\n"

static const struct {
    const char *rules;
    const char *house;
    const char *branch;
    double want_a; /* NAN: no published figure */
} limits[] = {
    /* machine manuals quoting IEC 60364-5-52: B2 4 mm2 three loaded 27 A, 23 at 40 C; C 16 mm2 at 50 C 54 */
    {"iec", THREE_PHASE, "breaker = 16 A\npoles = 3\nwire = 4 mm2 copper\nmethod = B2\n", 27},
    {"iec", THREE_PHASE, "breaker = 16 A\npoles = 3\nwire = 4 mm2 copper\nmethod = B2\nambient = 40 C\n", 23.49},
    {"iec", THREE_PHASE, "breaker = 16 A\npoles = 3\nwire = 16 mm2 copper\nmethod = C\nambient = 50 C\n", 53.96},
    /* tables and factors: B.52.2, B.52.14 to B.52.17 */
    {"iec", "", "breaker = 16 A\nwire = 10 mm2 copper\nmethod = D1\n", 60},
    {"iec", "", "breaker = 16 A\nwire = 10 mm2 copper\nmethod = D\n", 60},
    {"iec", "ground = 25 C\n", "breaker = 16 A\nwire = 10 mm2 copper\nmethod = D1\n", 60 * 0.95},
    {"iec", "ground = 12 C\nsoil = 1.2\n", "breaker = 16 A\nwire = 10 mm2 copper\nmethod = D2\n", 64 * 1.05 * 1.28},
    {"iec", "ambient = 45 C\n", "breaker = 16 A\nwire = 10 mm2 copper\nmethod = D1\ngrouped = 3\n", 60 * 0.75},
    {"iec", "soil = 3.5\n", "breaker = 16 A\nwire = 10 mm2 copper\nmethod = D1\n", NAN},
    {"iec", "ground = 55 C\n", "breaker = 16 A\nwire = 10 mm2 copper\nmethod = D1\n", NAN},
    {"iec", "", "breaker = 16 A\nwire = 10 mm2 copper\nmethod = D1\ngrouped = 7\n", NAN},
    {"iec", "ambient = 61 C\n", "breaker = 16 A\nwire = 10 mm2 copper\nmethod = B2\n", NAN},
    {"iec", "", "breaker = 16 A\nwire = 2.5 mm2 aluminium\nmethod = B1\n", 18.5},
    {"iec", "", "breaker = 16 A\nwire = 2.5 mm2 aluminium\nmethod = A2\n", 14.5},
    {"iec", "", "breaker = 16 A\nwire = 2.5 mm2 aluminium\nmethod = D2\n", NAN},
    {"iec", "", "breaker = 16 A\nwire = 1 mm2 copper\nmethod = C\n", NAN},
    {"iec", "", "breaker = 16 A\nwire = 2.5 mm2 copper\nmethod = B2\nin_insulation = 0.3 m\n", 23 * 0.51},
    {"iec", "", "breaker = 16 A\nwire = 2.5 mm2 copper\nmethod = A2\nin_insulation = 0.3 m\n", 18.5},
    /* XLPE: capped by the PVC table unless the ends stand 90 C; 40 A x 0.5 x 0.91 is below the cap */
    {"iec", "", "breaker = 16 A\nwire = 4 mm2 copper\nmethod = B2\ninsulation = xlpe\n", 30},
    {"iec", "", "breaker = 16 A\nwire = 4 mm2 copper\nmethod = B2\ninsulation = xlpe\nterminals = 90\n", 40},
    {"iec", "", "breaker = 16 A\nwire = 4 mm2 copper\nmethod = B2\ninsulation = xlpe\nambient = 40 C\ngrouped = 9\n",
     40 * 0.91 * 0.5},
    /* BS 7671 4D5, 4B1, 4C1, 523.9 */
    {"uk", "", "breaker = 16 A\nwire = 6 mm2 copper\nmethod = C\nambient = 35 C\n", 44.18},
    {"uk", "", "breaker = 16 A\nwire = 2.5 mm2 copper\nmethod = C\nambient = 20 C\n", 27.81},
    {"uk", "", "breaker = 16 A\nwire = 6 mm2 copper\nmethod = C\nin_insulation = 0.5 m\n", 23.5},
    {"uk", "", "breaker = 16 A\nwire = 6 mm2 copper\nmethod = 101\nin_insulation = 0.5 m\n", 27},
    {"uk", "", "breaker = 16 A\nwire = 2.5 mm2 copper\nmethod = B1\ngrouped = 7\n", 24 * 0.54},
    {"uk", "", "breaker = 16 A\nwire = 2.5 mm2 copper\nmethod = B1\ngrouped = 6\n", 24 * 0.57},
    {"uk", "", "breaker = 16 A\nwire = 6 mm2 copper\nmethod = C\ninsulation = xlpe\n", 47},
    {"uk", "", "breaker = 16 A\nwire = 25 mm2 copper\nmethod = C\ninsulation = xlpe\nterminals = 90\n", 138},
    {"uk", "", "breaker = 16 A\nwire = 25 mm2 copper\nmethod = A\n", 75},
    {"uk", "", "breaker = 16 A\nwire = 25 mm2 copper\nmethod = 103\n", NAN},
    {"uk", "", "breaker = 16 A\nwire = 2.5 mm2 copper\nmethod = 103\n", 13.5},
};

START_TEST(a_cable_carries_what_its_table_and_factors_say)
{
    const double got_a = limit_of_branch(limits[_i].rules, limits[_i].house, limits[_i].branch);
    if (isnan(limits[_i].want_a)) {
        ck_assert_msg(isnan(got_a), "row %d: %g", _i, got_a);
    } else {
        ck_assert_msg(fabs(got_a - limits[_i].want_a) < 0.005, "row %d: got %g, want %g", _i, got_a, limits[_i].want_a);
    }
}
END_TEST

/* ------------------------------------------------------------------ device against cable ------------------ */

#define RING_OUTLETS                                                                                                   \
    "[outlet o1]\nbranch = b\nrun = 10 m\n[outlet o2]\nbranch = b\nfrom = o1\nrun = 10 m\n"                            \
    "[outlet o3]\nbranch = b\nfrom = o2\nrun = 10 m\n"
#define RING(SIZE, DEVICE, MORE) "breaker = " DEVICE "\nlayout = ring\nreturn = 10 m\nwire = " SIZE " copper\n" MORE

static const struct row wires[] = {
    /* limits 6: 63 A on D1 10 mm2; aluminium by B1 and A2 on 16 A */
    {"iec", "", "breaker = 63 A\nwire = 10 mm2 copper\nmethod = D1\n", "", "5", SEVERITY_DANGER, 60},
    {"iec", "", "breaker = 16 A\nwire = 2.5 mm2 aluminium\nmethod = B1\n", "", "5", NONE, NAN},
    {"iec", "", "breaker = 16 A\nwire = 2.5 mm2 aluminium\nmethod = A2\n", "", "5", SEVERITY_DANGER, 14.5},
    {"iec", "", "breaker = 16 A\nwire = 2.5 mm2 aluminium\nmethod = D2\n", "", "5", SEVERITY_NOTE, NAN},
    {"iec", "", "breaker = 16 A\nwire = 1.5 mm2 copper\nmethod = A1\n", "", "5", SEVERITY_DANGER, 14.5},
    {"iec", "ambient = 65 C\n", "breaker = 6 A\nwire = 2.5 mm2 copper\nmethod = C\n", "", "5", SEVERITY_NOTE, NAN},
    /* 433.1.204, trade forums: 1.5 mm2 on 32 A; methods A, 101, 103 of 2.5 mm2 */
    {"uk", "", RING("1.5 mm2", "32 A", "method = C\n"), RING_OUTLETS, "5", SEVERITY_DANGER, 20},
    {"uk", "", RING("1.5 mm2", "6 A", "method = C\n"), RING_OUTLETS, "5", NONE, NAN},
    {"uk", "", RING("2.5 mm2", "32 A", "method = A\n"), RING_OUTLETS, "5", NONE, NAN},
    {"uk", "", RING("2.5 mm2", "32 A", "method = C\n"), RING_OUTLETS, "5", NONE, NAN},
    {"uk", "", RING("2.5 mm2", "32 A", "method = 101\n"), RING_OUTLETS, "5", SEVERITY_DANGER, 17},
    {"uk", "", RING("2.5 mm2", "32 A", "method = 103\n"), RING_OUTLETS, "5", SEVERITY_DANGER, 13.5},
    {"uk", "", RING("2.5 mm2", "32 A", "method = C\nambient = 55 C\n"), RING_OUTLETS, "5", SEVERITY_DANGER, 16.47},
    {"uk", "", RING("2.5 mm2", "40 A", "method = C\n"), RING_OUTLETS, "5", SEVERITY_DANGER, 27},
    {"uk", "", RING("4 mm2", "32 A", "method = C\n"), RING_OUTLETS, "5", NONE, NAN},
    {"uk", "", "breaker = 32 A\nwire = 2.5 mm2 copper\nmethod = C\n", "", "5", SEVERITY_DANGER, 27},
    /* no method: clipped is assumed, and said where loft insulation would be too much */
    {"uk", "", RING("2.5 mm2", "32 A", ""), RING_OUTLETS, "5", SEVERITY_NOTE, 27},
    {"uk", "", "breaker = 16 A\nwire = 2.5 mm2 copper\n", "", "5", NONE, NAN},
    {"uk", "", "breaker = 20 A\nwire = 2.5 mm2 copper\n", "", "5", SEVERITY_NOTE, 27},
    {"uk", "", "breaker = 20 A\nwire = 2.5 mm2 copper\nmethod = C\n", "", "5", NONE, NAN},
    {"uk", "", "breaker = 32 A\nwire = 2.5 mm2 copper\n", "", "5", SEVERITY_DANGER, 27},
    /* Whitfield 4.3.8: 0.725 of the ampacity; gG 1.45/1.6, elektro.net; BS 88 as a breaker */
    {"uk", "", "breaker = 30 A\ntrip = bs3036\nwire = 6 mm2 copper\nmethod = C\n", "", "5", NONE, NAN},
    {"uk", "", "breaker = 30 A\ntrip = bs3036\nwire = 4 mm2 copper\nmethod = C\n", "", "5", SEVERITY_DANGER, 37},
    {"uk", "", "breaker = 32 A\ntrip = bs88\nwire = 4 mm2 copper\nmethod = C\n", "", "5", NONE, NAN},
    {"uk", "", RING("2.5 mm2", "30 A", "trip = bs3036\nmethod = C\n"), RING_OUTLETS, "5", NONE, NAN},
    {"iec", "", "breaker = 35 A\ntrip = gG\nwire = 4 mm2 copper\nmethod = C\n", "", "5", SEVERITY_NOTE, 36},
    {"iec", "", "breaker = 32 A\ntrip = gG\nwire = 4 mm2 copper\nmethod = C\n", "", "5", NONE, NAN},
    {"iec", "", "breaker = 40 A\ntrip = gG\nwire = 4 mm2 copper\nmethod = C\n", "", "5", SEVERITY_DANGER, 36},
};

START_TEST(a_device_is_held_against_the_cable_as_it_lies)
{
    check_row(&wires[_i], _i);
}
END_TEST

START_TEST(the_assumed_method_is_said_once)
{
    static const char text[] = "[house]\nname = x\nrules = uk\nmain_breaker = 80 A\n"
                               "[branch b]\nlabel = B\nlegs = A\nbreaker = 20 A\nwire = 2.5 mm2 copper\n"
                               "[branch c]\nlabel = C\nlegs = A\nbreaker = 20 A\nwire = 2.5 mm2 copper\n";
    struct house *house = NULL;
    struct assessment *assessment = assess_text(text, &house);
    ck_assert_ptr_nonnull(first_finding(&assessment->branches[0].findings, "5"));
    ck_assert_ptr_null(first_finding(&assessment->branches[1].findings, "5"));
    assess_free(assessment);
    house_free(house);
}
END_TEST

START_TEST(a_feeder_lies_somewhere_too)
{
    static const char text[] = "[house]\nname = x\nrules = iec\nmain_breaker = 63 A\n"
                               "[panel p]\nbreaker = 40 A\nlegs = A\nwire = 10 mm2 copper\nmethod = B2\ngrouped = 4\n"
                               "[branch b]\nlabel = B\npanel = p\nlegs = A\nbreaker = 16 A\n";
    struct house *house = NULL;
    struct assessment *assessment = assess_text(text, &house);
    const struct finding *found = first_finding(&assessment->panels[1].findings, "5");
    ck_assert_ptr_nonnull(found);
    ck_assert_int_eq(found->severity, SEVERITY_DANGER);
    ck_assert_double_eq_tol(finding_number(found, "ampacity_a"), 52 * 0.65, 0.005); /* B.52.2, B.52.17 */
    assess_free(assessment);
    house_free(house);
}
END_TEST

/* ------------------------------------------------------------------ spurs --------------------------------- */

#define ON_RING RING("2.5 mm2", "32 A", "method = C\n")
#define HEATER(OUTLET, WATT) "[appliance a-" OUTLET "]\nname = Heater\noutlet = " OUTLET "\npower = " WATT "\n"

static const struct row spurs[] = {
    {"uk", "", ON_RING, RING_OUTLETS, "20", NONE, NAN},
    {"uk", "", ON_RING, RING_OUTLETS "[outlet s]\nbranch = b\nfrom = o1\nspur = yes\nrun = 3 m\n", "20", NONE, NAN},
    /* Scaddan: an unfused spur feeds one single or one double socket */
    {"uk", "", ON_RING,
     RING_OUTLETS "[outlet s]\nbranch = b\nfrom = o1\nspur = yes\nrun = 3 m\n"
                  "[outlet t]\nbranch = b\nfrom = s\nrun = 3 m\n",
     "20", SEVERITY_WARNING, NAN},
    {"uk", "", ON_RING,
     RING_OUTLETS "[outlet s]\nbranch = b\nfrom = o1\nfuse = 13 A\nrun = 3 m\n"
                  "[outlet t]\nbranch = b\nfrom = s\nrun = 3 m\n[outlet u]\nbranch = b\nfrom = t\nrun = 3 m\n",
     "20", NONE, NAN},
    {"uk", "", ON_RING,
     RING_OUTLETS "[outlet s]\nbranch = b\nfrom = o1\nfuse = 13 A\nrun = 3 m\n"
                  "[outlet t]\nbranch = b\nfrom = s\nrun = 3 m\n" HEATER("s", "2000 W") HEATER("t", "2000 W"),
     "20", SEVERITY_WARNING, NAN},
    {"uk", "", ON_RING,
     RING_OUTLETS "[outlet s]\nbranch = b\nfrom = o1\nfuse = 13 A\nrun = 3 m\n" HEATER("s", "2900 W"), "20", NONE, NAN},
    {"uk", "", ON_RING, RING_OUTLETS "[outlet s]\nbranch = b\nfrom = o1\nfuse = 3 A\nrun = 3 m\n" HEATER("s", "800 W"),
     "20", SEVERITY_WARNING, NAN},
    {"uk", "", "breaker = 20 A\nwire = 2.5 mm2 copper\nmethod = C\n",
     "[outlet s]\nbranch = b\nfuse = 3 A\nrun = 3 m\n[outlet t]\nbranch = b\nfrom = s\nrun = 3 m\n" HEATER("t",
                                                                                                           "800 W"),
     "20", SEVERITY_WARNING, NAN},
    /* more spurs than points */
    {"uk", "", "breaker = 32 A\nlayout = ring\nreturn = 10 m\nwire = 2.5 mm2 copper\nmethod = C\n",
     "[outlet o1]\nbranch = b\nrun = 10 m\n[outlet s1]\nbranch = b\nfrom = o1\nspur = yes\nrun = 3 m\n"
     "[outlet s2]\nbranch = b\nfrom = o1\nspur = yes\nrun = 3 m\n",
     "20", SEVERITY_NOTE, NAN},
};

START_TEST(spurs_feed_one_outlet_or_have_a_fuse)
{
    check_row(&spurs[_i], _i);
}
END_TEST

Suite *make_suite(void)
{
    Suite *suite = suite_create("findings_cable");
    TCase *tcase = tcase_create("findings_cable");
    tcase_add_loop_test(tcase, a_cable_carries_what_its_table_and_factors_say, 0, ROWS(limits));
    tcase_add_loop_test(tcase, a_device_is_held_against_the_cable_as_it_lies, 0, ROWS(wires));
    tcase_add_test(tcase, the_assumed_method_is_said_once);
    tcase_add_test(tcase, a_feeder_lies_somewhere_too);
    tcase_add_loop_test(tcase, spurs_feed_one_outlet_or_have_a_fuse, 0, ROWS(spurs));
    suite_add_tcase(suite, tcase);
    return suite;
}
