/* The fault study of whole houses: worked cases, what must hold of any house, and what is not known. */
#include <math.h>
#include <string.h>

#include "ampsum/fault_assess.h"
#include "ampsum/housefile.h"
#include "ampsum/text.h"
#include "runner.h"

/* A house of one branch, with further lines for its house, its branch and below. */
struct home {
    const char *rules;
    const char *house;
    const char *branch;
    const char *rest;
};

struct found {
    struct house *house;
    struct fault_study *study;
};

static struct found study_of(struct home home, double at_panel_a)
{
    struct text text = {0};
    struct error error = {0};
    struct found found = {0};
    text_printf(&text,
                "[house]\nname = x\nrules = %s\nmain_breaker = 100 A\n%s\n[branch b]\nlabel = B\nlegs = A\n%s\n%s\n",
                home.rules, home.house, home.branch, home.rest == NULL ? "" : home.rest);
    ck_assert_msg(housefile_read_house_bytes("test", text_string(&text), text.length, &found.house, &error), "%s",
                  error_message(&error));
    text_done(&text);
    struct fault_options options = {.at_panel_a = at_panel_a};
    found.study = fault_study_house(found.house, &options);
    return found;
}

static void done(struct found *found)
{
    fault_free(found->study);
    house_free(found->house);
}

static const struct fault_branch *branch_of(const struct found *found)
{
    return &found->study->branches[0];
}

static const struct fault_point *end_of(const struct found *found)
{
    ck_assert_uint_ge(branch_of(found)->point_count, 1);
    return &branch_of(found)->points[branch_of(found)->point_count - 1];
}

static const struct finding *in_list(const struct finding_list *list, const char *id)
{
    for (size_t i = 0; i < list->count; i++) {
        if (strcmp(list->finding[i].id, id) == 0) {
            return &list->finding[i];
        }
    }
    return NULL;
}

/* The finding of that word about branch or house; NULL where there is none. */
static const struct finding *finding_of(const struct found *found, const char *id)
{
    const struct finding *finding = in_list(&branch_of(found)->findings, id);
    return finding != NULL ? finding : in_list(&found->study->panels[0].findings, id);
}

static void check_severity(const struct found *found, const char *id, int severity)
{
    const struct finding *finding = finding_of(found, id);
    ck_assert_msg(finding != NULL, "no %s", id);
    ck_assert_msg((int)finding->severity == severity, "%s: severity %d", id, (int)finding->severity);
}

#define NEAR(GOT, WANT, TOLERANCE)                                                                                     \
    ck_assert_msg(fabs((GOT) - (WANT)) <= (TOLERANCE), #GOT " is %.8g, want %.8g", (double)(GOT), (double)(WANT))

static const char twin[] = "breaker = B32\nwire = 2.5 mm2 copper\nlength = %s\n";

/* A 32 A radial of 2.5/1.5 mm2 twin-and-earth, TN-C-S with Ze 0.35 ohm given. */
static struct found radial(const char *length, const char *more)
{
    struct text branch = {0};
    text_printf(&branch, twin, length);
    text_add(&branch, more);
    struct found found = study_of((struct home){"uk", "earthing = TN-C-S\nze = 0.35", text_string(&branch), NULL}, NAN);
    text_done(&branch);
    return found;
}

/* Case (a): 0.35 + 0.5853 x 1.2 = 1.0524 ohm, 207.6 A with Cmin. */
START_TEST(thirty_metres_open)
{
    struct found found = radial("30", "");
    NEAR(end_of(&found)->zs_cold_ohm, 0.9353, 1e-4);
    NEAR(end_of(&found)->zs_hot_ohm, 1.0524, 1e-4);
    NEAR(end_of(&found)->fault_min_a, 207.6, 0.1);
    NEAR(branch_of(&found)->zs_max_ohm, 1.365625, 1e-9);
    NEAR(branch_of(&found)->longest_m, 43.4, 0.05);
    NEAR(end_of(&found)->times_breaker, 207.6 / 32, 0.01);
    ck_assert_int_eq(end_of(&found)->opens, FAULT_OPENS_BREAKER);
    ck_assert_ptr_null(finding_of(&found, "disconnection-late"));
    ck_assert_uint_eq(fault_dangers(found.study), 0);
    /* touch voltage: the share of the protective conductor, 12.1 of 19.51 mohm/m */
    NEAR(end_of(&found)->touch_v, end_of(&found)->fault_min_a * 0.0121 * 30 * 1.2, 1e-6);
    done(&found);
}
END_TEST

/* Ends marked for 90 degree C: the conductor may be hotter, 1.28 in place of 1.20. */
START_TEST(hotter_ends_make_a_larger_loop)
{
    struct found found = radial("30", "terminals = 90\n");
    NEAR(end_of(&found)->zs_hot_ohm, 0.35 + 1.28 * 0.5853, 1e-4);
    done(&found);
    found = radial("30", "terminals = 70\n");
    NEAR(end_of(&found)->zs_hot_ohm, 1.0524, 1e-4);
    done(&found);
}
END_TEST

/* Case (b): at 50 m too late, and with a residual current device only that. */
START_TEST(fifty_metres_are_late)
{
    struct found found = radial("50", "");
    NEAR(end_of(&found)->zs_hot_ohm, 1.5206, 1e-4);
    ck_assert_int_eq(end_of(&found)->opens, FAULT_OPENS_LATE);
    check_severity(&found, "disconnection-late", SEVERITY_DANGER);
    ck_assert_int_eq(end_of(&found)->survives, FAULT_SURVIVES_UNKNOWN);
    done(&found);
    found = radial("50", "protection = rcd\n");
    ck_assert_int_eq(end_of(&found)->opens, FAULT_OPENS_RCD);
    check_severity(&found, "disconnection-by-rcd", SEVERITY_NOTE);
    ck_assert_ptr_null(finding_of(&found, "disconnection-late"));
    ck_assert_int_eq(end_of(&found)->survives, FAULT_SURVIVES);
    done(&found);
}
END_TEST

START_TEST(assumed_loop_is_never_a_danger)
{
    struct found found = study_of(
        (struct home){"uk", "earthing = TN-C-S", "breaker = B32\nwire = 2.5 mm2 copper\nlength = 50\n", NULL}, NAN);
    ck_assert(found.study->ze_assumed);
    NEAR(found.study->ze_ohm, 0.35, 1e-12);
    check_severity(&found, "disconnection-late", SEVERITY_WARNING);
    check_severity(&found, "earth-assumed", SEVERITY_NOTE);
    ck_assert_uint_eq(fault_dangers(found.study), 0);
    done(&found);
}
END_TEST

/* Case (d): an electrode of 100 ohm and 21 ohm outside. */
START_TEST(electrode_needs_a_residual_current_device)
{
    const char *const branch = "breaker = B16\nwire = 2.5 mm2 copper\nlength = 0\n";
    struct found found = study_of((struct home){"uk", "earthing = TT\nelectrode = 100 ohm", branch, NULL}, NAN);
    NEAR(found.study->ze_ohm, 121, 1e-9);
    NEAR(end_of(&found)->fault_min_a, 1.806, 1e-3);
    ck_assert_int_eq(end_of(&found)->opens, FAULT_OPENS_LATE);
    check_severity(&found, "tt-no-rcd", SEVERITY_WARNING);
    done(&found);
    found = study_of((struct home){"uk", "earthing = TT\nelectrode = 100 ohm",
                                   "breaker = B16\nwire = 2.5 mm2 copper\nlength = 0\nprotection = rcd\n", NULL},
                     NAN);
    ck_assert_int_eq(end_of(&found)->opens, FAULT_OPENS_RCD);
    ck_assert_ptr_null(finding_of(&found, "tt-no-rcd"));
    done(&found);
    found = study_of((struct home){"uk", "earthing = TT", branch, NULL}, NAN);
    ck_assert(isnan(end_of(&found)->zs_hot_ohm));
    check_severity(&found, "tt-no-rcd", SEVERITY_WARNING);
    done(&found);
    found = study_of((struct home){"uk", "earthing = TT\nelectrode = 300 ohm", branch, NULL}, NAN);
    check_severity(&found, "ze-high", SEVERITY_WARNING);
    done(&found);
}
END_TEST

/* Case (e): the usual house of which nothing is given. */
/* Of a fuse no largest loop is known: behind a residual current device too nothing is said of one (it was an abort). */
START_TEST(a_fuse_behind_a_residual_current_device)
{
    static const struct {
        const char *house;
        const char *trip;
        bool alone; /* less than the fuse's rating flows, so that it never opens */
    } rows[] = {
        {"earthing = TT\nelectrode = 180 ohm", "bs88", true},
        {"earthing = TT\nelectrode = 180 ohm", "bs3036", true},
        {"earthing = TN-S\nze = 0.3 ohm", "bs88", false},
    };
    struct text branch = {0};
    text_printf(&branch, "breaker = 40\ntrip = %s\nwire = 6 mm2 copper\nlength = 12\nprotection = rcd\n",
                rows[_i].trip);
    struct found found = study_of((struct home){"uk", rows[_i].house, text_string(&branch), NULL}, NAN);
    ck_assert(isnan(branch_of(&found)->zs_max_ohm));
    ck_assert_int_eq(end_of(&found)->opens, FAULT_OPENS_RCD);
    const struct finding *finding = finding_of(&found, "disconnection-by-rcd");
    ck_assert_int_eq(finding != NULL, rows[_i].alone);
    if (finding != NULL) {
        ck_assert_int_eq(finding->severity, SEVERITY_NOTE);
        ck_assert(isnan(finding_number(finding, "limit_ohm")));
        ck_assert_ptr_nonnull(strstr(finding->text, "no more than the 40 A of its fuse"));
    }
    ck_assert_uint_eq(fault_dangers(found.study), 0);
    text_done(&branch);
    done(&found);
}
END_TEST

START_TEST(usual_devices_in_a_consumer_unit)
{
    struct found found = study_of(
        (struct home){"uk", "", "breaker = B32\nbreaking = 6 kA\nwire = 2.5 mm2 copper\nlength = 20\n", NULL}, NAN);
    ck_assert_uint_eq(fault_dangers(found.study), 0);
    ck_assert_ptr_null(finding_of(&found, "breaking-exceeded"));
    NEAR(found.study->pscc_a, 16000, 1e-9);
    ck_assert(found.study->pscc_assumed);
    check_severity(&found, "earth-assumed", SEVERITY_NOTE);
    ck_assert(isnan(end_of(&found)->zs_hot_ohm));
    done(&found);
}
END_TEST

/* A current asked with stands in place of the declared or the usual one, under rules of loops too. */
START_TEST(current_at_the_panel_is_taken_everywhere)
{
    const struct home home = {"uk", "earthing = TN-S\nze = 0.5\npscc = 9 kA",
                              "breaker = B32\nwire = 2.5 mm2 copper\nlength = 20\n", NULL};
    struct found found = study_of(home, 3000);
    NEAR(found.study->pscc_a, 3000, 1e-9);
    NEAR(found.study->panels[0].isc_max_a, 3000, 1e-6);
    ck_assert(!found.study->pscc_assumed);
    done(&found);
    found = study_of(home, NAN);
    NEAR(found.study->pscc_a, 9000, 1e-9);
    done(&found);
}
END_TEST

/* 16 A written where 16 kA was meant: less than the largest usual loop of TN-S draws, 230 V / 0.8 ohm = 287.5 A. */
START_TEST(prospective_current_below_any_loop_is_asked_about)
{
    static const char *const house[] = {"earthing = TN-S\npscc = 16", "earthing = TN-S\npscc = 16 kA",
                                        "earthing = TN-S\nze = 0.01\npscc = 6 kA", "earthing = TN-S"};
    static const char *const words[] = {"largest usual loop", NULL, "contradict", NULL};
    for (size_t i = 0; i < sizeof house / sizeof house[0]; i++) {
        struct found found =
            study_of((struct home){"uk", house[i], "breaker = B32\nwire = 2.5 mm2 copper\nlength = 20\n", NULL}, NAN);
        const struct finding *note = finding_of(&found, "earth-assumed");
        ck_assert_ptr_nonnull(note);
        ck_assert_msg(words[i] == NULL || strstr(note->text, words[i]) != NULL, "%s", note->text);
        ck_assert_msg(words[i] != NULL || strstr(note->text, "draw") == NULL, "%s", note->text);
        done(&found);
    }
}
END_TEST

/* Case (f): so near to the source the device opens sooner than any table says. */
START_TEST(let_through_is_the_makers)
{
    struct found found = study_of(
        (struct home){"uk", "earthing = TN-C-S\nze = 0.2", "breaker = B32\nwire = 2.5 mm2 copper\nlength = 2\n", NULL},
        NAN);
    ck_assert_uint_eq(fault_dangers(found.study), 0);
    check_severity(&found, "let-through-unknown", SEVERITY_NOTE);
    ck_assert_int_eq(end_of(&found)->survives, FAULT_SURVIVES_UNKNOWN);
    done(&found);
}
END_TEST

START_TEST(breaking_capacity)
{
    const char *const branch = "breaker = B16\nbreaking = 6 kA\nwire = 2.5 mm2 copper\nlength = 20\n";
    struct found found = study_of((struct home){"iec", "earthing = TN-S\npscc = 10 kA", branch, NULL}, NAN);
    NEAR(branch_of(&found)->isc_max_a, 10000, 1e-6);
    check_severity(&found, "breaking-exceeded", SEVERITY_DANGER);
    done(&found);
    found = study_of((struct home){"iec", "earthing = TN-S\npscc = 5 kA", branch, NULL}, NAN);
    ck_assert_ptr_null(finding_of(&found, "breaking-exceeded"));
    done(&found);
    found = study_of((struct home){"iec", "earthing = TN-S\npscc = 10 kA",
                                   "breaker = B16\nwire = 2.5 mm2 copper\nlength = 20\n", NULL},
                     NAN);
    check_severity(&found, "breaking-unknown", SEVERITY_NOTE);
    done(&found);
    found = study_of((struct home){"us", "pscc = 22 kA",
                                   "breaker = 20\nbreaking = 10 kA\nwire = 12 AWG copper\nlength = 30\n", NULL},
                     NAN);
    check_severity(&found, "breaking-exceeded", SEVERITY_DANGER);
    done(&found);
}
END_TEST

/* Behind a feeder whose wire's figure is from memory the plain resistance has to agree before there is a danger. */
START_TEST(a_remembered_figure_makes_no_danger_of_breaking)
{
    static const struct {
        const char *wire;
        const char *breaking;
        int severity;
    } cases[] = {
        {"4 AWG copper", "4100 A", SEVERITY_WARNING}, /* 4208 A by a remembered figure, 3734 A by resistance in use */
        {"4 AWG copper", "3500 A", SEVERITY_DANGER},
        {"12 AWG copper", "870 A", SEVERITY_DANGER}, /* 875 A by a figure that was read */
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct text branch = {0};
        struct text rest = {0};
        text_printf(&branch, "panel = barn\nbreaker = 15\nbreaking = %s\n", cases[i].breaking);
        text_printf(&rest, "[panel barn]\nbreaker = 20\npoles = 2\nlegs = AB\nlength = 40 ft\nwire = %s\n",
                    cases[i].wire);
        struct found found =
            study_of((struct home){"us", "pscc = 16 kA", text_string(&branch), text_string(&rest)}, NAN);
        check_severity(&found, "breaking-exceeded", cases[i].severity);
        text_done(&branch);
        text_done(&rest);
        done(&found);
    }
}
END_TEST

START_TEST(readings_beside_the_table)
{
    struct found found = radial("30", "zs_measured = 1.2 ohm\n");
    check_severity(&found, "zs-measured-high", SEVERITY_WARNING); /* above 0.8 x 1.3656 = 1.0925 */
    /* the finer limit beside it: 0.35 + (1.3656 - 0.35) / 1.2 */
    NEAR(finding_number(finding_of(&found, "zs-measured-high"), "finer_ohm"), 1.1964, 1e-3);
    check_severity(&found, "zs-measured-disagrees", SEVERITY_NOTE);
    done(&found);
    found = radial("30", "zs_measured = 0.95 ohm\n");
    ck_assert_ptr_null(finding_of(&found, "zs-measured-high"));
    ck_assert_ptr_null(finding_of(&found, "zs-measured-disagrees"));
    done(&found);
}
END_TEST

START_TEST(conventional_method_where_nothing_is_known)
{
    struct found found =
        study_of((struct home){"iec", "earthing = TN-S",
                               "breaker = B16\nwire = 2.5 mm2 copper\ncpc = same\nlength = 20\n", NULL},
                 NAN);
    ck_assert(branch_of(&found)->conventional);
    /* 0.8 x 230 x 2.5 / (0.023 x 2 x 80) */
    NEAR(branch_of(&found)->longest_m, 125, 1e-9);
    ck_assert(isnan(end_of(&found)->zs_hot_ohm));
    ck_assert_ptr_null(finding_of(&found, "disconnection-late"));
    done(&found);
}
END_TEST

/* Case (c): 10,000 A available, 75 ft of 12 AWG: 470 A line to neutral. */
START_TEST(workshop_far_from_its_panel)
{
    struct found found =
        study_of((struct home){"us", "", "breaker = 20\nwire = 12 AWG copper\nlength = 75\n", NULL}, 10000);
    NEAR(end_of(&found)->fault_max_a, 470.4, 0.1);
    ck_assert_double_lt(fabs(end_of(&found)->second_max_a / end_of(&found)->fault_max_a - 1), 0.1);
    ck_assert_double_lt(end_of(&found)->fault_min_a, end_of(&found)->fault_max_a);
    ck_assert_int_eq(end_of(&found)->opens, FAULT_OPENS_UNKNOWN);
    ck_assert_ptr_null(finding_of(&found, "weak-fault"));
    done(&found);
    found = study_of((struct home){"us", "", "breaker = 20\nwire = 14 AWG copper\nlength = 600\n", NULL}, 10000);
    check_severity(&found, "weak-fault", SEVERITY_NOTE);
    done(&found);
    found = study_of((struct home){"us", "", "breaker = 20\nwire = 12 AWG copper\nlength = 75\n", NULL}, NAN);
    ck_assert(isnan(end_of(&found)->fault_max_a));
    check_severity(&found, "earth-assumed", SEVERITY_NOTE);
    done(&found);
}
END_TEST

/* 25 kVA, 240 V, 2 %: 25000 / 240 x 100 / 1.8 = 5787 A between lines, half as much again to the neutral. */
START_TEST(transformer_gives_the_available_current)
{
    struct found found = study_of((struct home){"us", "transformer = 25 kVA\ntransformer_z = 2 %",
                                                "breaker = 20\nwire = 12 AWG copper\nlength = 75\n", NULL},
                                  NAN);
    NEAR(found.study->origin.line_a, 5787.04, 0.01);
    NEAR(found.study->origin.neutral_a, 8680.56, 0.01);
    done(&found);
}
END_TEST

START_TEST(nothing_is_asserted_of_an_unearthed_system)
{
    struct found found = study_of(
        (struct home){"iec", "earthing = IT\nze = 1 ohm", "breaker = B16\nwire = 2.5 mm2 copper\nlength = 20\n", NULL},
        NAN);
    ck_assert(isnan(end_of(&found)->zs_hot_ohm));
    check_severity(&found, "earth-assumed", SEVERITY_NOTE);
    ck_assert_uint_eq(fault_dangers(found.study), 0);
    done(&found);
}
END_TEST

/* Along any tree: the loop grows away from the panel, hot is never below cold, the largest falls. */
START_TEST(loop_grows_away_from_the_panel)
{
    struct found found = study_of(
        (struct home){"uk", "earthing = TN-S\nze = 0.6", "breaker = C16\nwire = 2.5 mm2 copper\n",
                      "[outlet a]\nbranch = b\nrun = 10\n[outlet c]\nbranch = b\nfrom = a\nrun = 7\n"
                      "[outlet d]\nbranch = b\nfrom = a\nrun = 21\n[outlet e]\nbranch = b\nfrom = d\nrun = 1\n"},
        NAN);
    const struct fault_branch *branch = branch_of(&found);
    static const size_t parent[] = {0, 0, 0, 2};
    ck_assert_uint_eq(branch->point_count, 4);
    for (size_t i = 1; i < branch->point_count; i++) {
        const struct fault_point *here = &branch->points[i];
        const struct fault_point *before = &branch->points[parent[i]];
        ck_assert_double_gt(here->zs_cold_ohm, before->zs_cold_ohm);
        ck_assert_double_gt(here->zs_hot_ohm, here->zs_cold_ohm);
        ck_assert_double_lt(here->fault_min_a, before->fault_min_a);
        ck_assert_double_lt(here->fault_max_a, before->fault_max_a);
        ck_assert_double_le(here->fault_min_a, here->fault_max_a);
    }
    done(&found);
}
END_TEST

/* The middle of a ring: a quarter of its cable, never more than either way round. */
START_TEST(ring_counts_both_ways)
{
    struct found found =
        study_of((struct home){"uk", "earthing = TN-C-S\nze = 0.35",
                               "breaker = B32\nwire = 2.5 mm2 copper\nlayout = ring\nreturn = 30\n",
                               "[outlet a]\nbranch = b\nrun = 10\n[outlet c]\nbranch = b\nfrom = a\nrun = 20\n"},
                 NAN);
    NEAR(end_of(&found)->zs_cold_ohm, 0.35 + 0.01951 * 15, 1e-5);
    NEAR(branch_of(&found)->points[0].zs_cold_ohm, 0.35 + 0.01951 * 10 * 50 / 60, 1e-5);
    NEAR(branch_of(&found)->longest_m, 4 * 43.38, 0.2);
    done(&found);
}
END_TEST

/* A larger protective conductor never makes the loop larger; one below the table is told unless the formula shows it.
 */
START_TEST(protective_conductor_sizes)
{
    double before_ohm = INFINITY;
    static const char *const sizes[] = {"1 mm2 copper", "1.5 mm2 copper", "2.5 mm2 copper", "same"};
    for (size_t i = 0; i < 4; i++) {
        struct text more = {0};
        text_printf(&more, "cpc = %s\n", sizes[i]);
        struct found found = radial("30", text_string(&more));
        ck_assert_double_le(end_of(&found)->zs_hot_ohm, before_ohm);
        before_ohm = end_of(&found)->zs_hot_ohm;
        ck_assert_ptr_null(finding_of(&found, "cpc-small")); /* the formula shows that 1 mm2 endures 0.1 s */
        done(&found);
        text_done(&more);
    }
    struct found found = radial("70", "cpc = 1 mm2 copper\n");
    check_severity(&found, "cpc-small", SEVERITY_WARNING);
    done(&found);
}
END_TEST

/* A feeder heats too: both stretches count hot. */
START_TEST(feeder_then_branch)
{
    struct found found = study_of(
        (struct home){"uk", "earthing = TN-C-S\nze = 0.2",
                      "panel = shed\nbreaker = B16\nwire = 2.5 mm2 copper\ncpc = same\nlength = 10\n",
                      "[panel shed]\nlegs = A\nbreaker = 40 A\nwire = 10 mm2 copper\ncpc = same\nlength = 25\n"},
        NAN);
    const double cold_ohm = 0.2 + 2 * 0.025 * 1.83 + 2 * 0.010 * 7.41;
    NEAR(end_of(&found)->zs_cold_ohm, cold_ohm, 1e-6);
    NEAR(end_of(&found)->zs_hot_ohm, 0.2 + 1.2 * (cold_ohm - 0.2), 1e-6);
    ck_assert_double_lt(branch_of(&found)->isc_max_a, found.study->pscc_a);
    done(&found);
}
END_TEST

/* us: feeder and branch alike at 75 degree C, 0.00393 more for each kelvin (copper: 234.5 + 75 over 234.5 + 25). */
START_TEST(american_feeder_is_as_hot_as_the_branch)
{
    struct found found = study_of(
        (struct home){
            "us", "", "panel = shed\nbreaker = 20\nwire = 12 AWG copper\ncpc = same\nlength = 40\n",
            "[panel shed]\nlegs = AB\npoles = 2\nbreaker = 60 A\nwire = 6 AWG copper\ncpc = same\nlength = 100\n"},
        5000);
    const double source_ohm = 120.0 / 5000;
    const double hot = (end_of(&found)->zs_hot_ohm - source_ohm) / (end_of(&found)->zs_cold_ohm - source_ohm);
    NEAR(hot, (234.5 + 75) / (234.5 + 25), 1e-3);
    done(&found);
}
END_TEST

/* ------------------------------------------------------------------ generated houses ---------------------- */

static unsigned long draw_from(unsigned long *state, unsigned long below)
{
    *state = *state * 6364136223846793005UL + 1442695040888963407UL;
    return (*state >> 33) % below;
}

enum { POINTS_MOST = 12 };

/* Outlets p0, p1 ...: a tree, or a chain that a ring closes. `parents[i]` feeds outlet i; its own index: the panel. */
static void add_points(unsigned long *state, bool ring, size_t count, size_t *parents, struct text *text)
{
    for (size_t i = 0; i < count; i++) {
        parents[i] = i == 0 ? 0 : ring ? i - 1 : draw_from(state, i);
        text_printf(text, "[outlet p%zu]\nbranch = b\nrun = %lu\n", i, 1 + draw_from(state, 30));
        if (i > 0) {
            text_printf(text, "from = p%zu\n", parents[i]);
        }
    }
}

/* A branch of any British kind; `cpc`: one step thicker than usual, where asked for. */
static struct found generated(unsigned long seed, bool ring, bool thick, size_t *parents, size_t *ret_count)
{
    static const char *const devices[] = {"B6", "B16", "B32", "C10", "C32", "D16"};
    unsigned long state = seed;
    struct text branch = {0};
    struct text rest = {0};
    struct text house = {0};
    *ret_count = 2 + draw_from(&state, POINTS_MOST - 2);
    text_printf(&house, "earthing = TN-S\nze = 0.%02lu", 10 + draw_from(&state, 70));
    text_printf(&branch, "breaker = %s\nwire = 2.5 mm2 copper\n", devices[draw_from(&state, 6)]);
    text_printf(&branch, "cpc = %s\n", thick ? "2.5 mm2 copper" : "1.5 mm2 copper");
    if (ring) {
        text_printf(&branch, "layout = ring\nreturn = %lu\n", 1 + draw_from(&state, 30));
    }
    add_points(&state, ring, *ret_count, parents, &rest);
    struct found found =
        study_of((struct home){"uk", text_string(&house), text_string(&branch), text_string(&rest)}, NAN);
    text_done(&house);
    text_done(&branch);
    text_done(&rest);
    return found;
}

/* Away from the panel the loop grows and the currents fall; hot wire never gives more than cold. */
START_TEST(generated_trees_fall_away_from_the_panel)
{
    for (unsigned long seed = 1; seed <= 200; seed++) {
        size_t parents[POINTS_MOST];
        size_t count = 0;
        struct found found = generated(seed, false, false, parents, &count);
        const struct fault_point *points = branch_of(&found)->points;
        ck_assert_uint_eq(branch_of(&found)->point_count, count);
        for (size_t i = 0; i < count; i++) {
            ck_assert_double_gt(points[i].zs_hot_ohm, points[i].zs_cold_ohm);
            ck_assert_double_lt(points[i].fault_min_a, points[i].fault_max_a);
            if (i > 0) {
                ck_assert_double_gt(points[i].zs_hot_ohm, points[parents[i]].zs_hot_ohm);
                ck_assert_double_lt(points[i].fault_max_a, points[parents[i]].fault_max_a);
            }
            const bool opens = points[i].zs_hot_ohm <= branch_of(&found)->zs_max_ohm * (1 + 1e-9);
            ck_assert_int_eq(points[i].opens == FAULT_OPENS_BREAKER, opens);
        }
        done(&found);
    }
}
END_TEST

/* A ring is never worse than the same cable open, and a thicker protective conductor never makes the loop larger. */
START_TEST(generated_rings_and_thicker_conductors_help)
{
    for (unsigned long seed = 1; seed <= 200; seed++) {
        size_t parents[POINTS_MOST];
        size_t count = 0;
        struct found ring = generated(seed, true, false, parents, &count);
        struct found thick = generated(seed, true, true, parents, &count);
        double along_m = 0;
        for (size_t i = 0; i < count; i++) {
            const struct house *house = ring.house;
            along_m += house->outlets[i].run_m;
            ck_assert_double_lt(branch_of(&ring)->points[i].joined_m, along_m);
            ck_assert_double_lt(branch_of(&thick)->points[i].zs_hot_ohm, branch_of(&ring)->points[i].zs_hot_ohm);
            ck_assert(branch_of(&ring)->points[i].opens != FAULT_OPENS_BREAKER ||
                      branch_of(&thick)->points[i].opens == FAULT_OPENS_BREAKER);
        }
        done(&ring);
        done(&thick);
    }
}
END_TEST

Suite *make_suite(void)
{
    Suite *suite = suite_create("fault_house");
    TCase *tests = tcase_create("fault_house");
    tcase_add_test(tests, thirty_metres_open);
    tcase_add_test(tests, hotter_ends_make_a_larger_loop);
    tcase_add_test(tests, fifty_metres_are_late);
    tcase_add_test(tests, assumed_loop_is_never_a_danger);
    tcase_add_test(tests, electrode_needs_a_residual_current_device);
    tcase_add_loop_test(tests, a_fuse_behind_a_residual_current_device, 0, 3);
    tcase_add_test(tests, usual_devices_in_a_consumer_unit);
    tcase_add_test(tests, current_at_the_panel_is_taken_everywhere);
    tcase_add_test(tests, prospective_current_below_any_loop_is_asked_about);
    tcase_add_test(tests, let_through_is_the_makers);
    tcase_add_test(tests, breaking_capacity);
    tcase_add_test(tests, a_remembered_figure_makes_no_danger_of_breaking);
    tcase_add_test(tests, readings_beside_the_table);
    tcase_add_test(tests, conventional_method_where_nothing_is_known);
    tcase_add_test(tests, workshop_far_from_its_panel);
    tcase_add_test(tests, transformer_gives_the_available_current);
    tcase_add_test(tests, nothing_is_asserted_of_an_unearthed_system);
    tcase_add_test(tests, loop_grows_away_from_the_panel);
    tcase_add_test(tests, ring_counts_both_ways);
    tcase_add_test(tests, protective_conductor_sizes);
    tcase_add_test(tests, feeder_then_branch);
    tcase_add_test(tests, american_feeder_is_as_hot_as_the_branch);
    tcase_add_test(tests, generated_trees_fall_away_from_the_panel);
    tcase_add_test(tests, generated_rings_and_thicker_conductors_help);
    suite_add_tcase(suite, tests);
    return suite;
}
