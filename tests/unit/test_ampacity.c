/* Limits on a us branch and its wire: cable and terminals, motors' plates, receptacles. */
#include <math.h>
#include <string.h>

#include "ampsum/assess.h"
#include "ampsum/housefile.h"
#include "ampsum/reference.h"
#include "runner.h"

struct assessed {
    struct house *house;
    struct assessment *assessment;
};

/* `head`: keys of [house]; `branch` and `more`: keys of the one branch, and further sections. */
static struct assessed assess(const char *head, const char *branch, const char *more)
{
    struct assessed assessed = {NULL, NULL};
    struct text text = {0};
    text_printf(&text,
                "[house]\nname = x\nrules = us\nsystem = split-phase\nmain_breaker = 200 A\nfloor_area = 10 m2\n%s\n"
                "[branch b]\nlabel = b\n%s\n%s",
                head, branch, more);
    struct error error = {0};
    ck_assert_msg(housefile_read_house_bytes("test", text_string(&text), text.length, &assessed.house, &error),
                  "%s\n%s", error_message(&error), text_string(&text));
    text_done(&text);
    struct assess_options options = {.wires = true};
    assessed.assessment = assess_house(assessed.house, &options);
    return assessed;
}

static void assessed_done(struct assessed *assessed)
{
    assess_free(assessed->assessment);
    house_free(assessed->house);
}

static const struct finding *find_in(const struct finding_list *list, const char *id)
{
    for (size_t i = 0; i < list->count; i++) {
        if (strcmp(list->finding[i].id, id) == 0) {
            return &list->finding[i];
        }
    }
    return NULL;
}

static const struct finding *find(const struct assessed *assessed, const char *id)
{
    return find_in(&assessed->assessment->branches[0].findings, id);
}

/* -1: none. */
static int severity_of(const struct finding *finding)
{
    return finding == NULL ? -1 : (int)finding->severity;
}

static const char *word_of(const struct finding *finding, const char *key)
{
    for (size_t i = 0; i < finding->figure_count; i++) {
        if (strcmp(finding->figures[i].key, key) == 0) {
            return finding->figures[i].word;
        }
    }
    return NULL;
}

#define FIXED(POWER) "[appliance a]\nname = Load\nbranch = b\npower = " POWER "\nfixed = yes\n"
#define ONE(AMPS, WIRE) "breaker = " AMPS "\nlegs = A\npurpose = dedicated\nwire = " WIRE "\n"
#define TWO(AMPS, WIRE) "breaker = " AMPS "\nlegs = AB\npoles = 2\npurpose = dedicated\nwire = " WIRE "\n"

/*
 * 310.15, 110.14(C), 240.4, 334.80: ecmweb Q&A 84; mikeholt 192978, 2571326; diychatroom 20038 (6 AWG: 55 A); the rest
 * by hand from Tables 310.16, 310.15(B)(1) and (C)(1).
 */
static const struct {
    const char *head;
    const char *branch;
    const char *load;
    int severity; /* of 5; -1: none */
    double limit_a;
    double ampacity_a;
    const char *reading;
} wire_rows[] = {
    {"", ONE("20 A", "12 AWG copper\ncable = nm-b\ngrouped = 4"), FIXED("100 W"), -1, 0, 0, ""},
    {"", ONE("20 A", "12 AWG copper\ncable = nm-b\ngrouped = 5"), FIXED("100 W"), SEVERITY_DANGER, 15, 15, "given"},
    {"", ONE("15 A", "14 AWG copper\ncable = nm-b\nambient = 54 C"), FIXED("100 W"), -1, 0, 0, ""},
    {"", ONE("30 A", "10 AWG copper\ncable = nm-b\nambient = 40 C"), FIXED("100 W"), -1, 0, 0, ""},
    {"", TWO("60 A", "6 AWG copper\ncable = nm-b"), FIXED("100 W"), SEVERITY_NOTE, 60, 55, "given"},
    {"", TWO("50 A", "8 AWG copper\ncable = nm-b"), FIXED("100 W"), SEVERITY_DANGER, 40, 40, "given"},
    {"", TWO("60 A", "6 AWG copper\ncable = nm-b\nterminals = 75"), FIXED("100 W"), SEVERITY_NOTE, 60, 55, "given"},
    {"", TWO("60 A", "6 AWG copper\ncable = thhn\nterminals = 60\nambient = 20 C"), FIXED("100 W"), SEVERITY_NOTE, 60,
     55, "given"},
    {"", TWO("60 A", "8 AWG copper"), FIXED("100 W"), SEVERITY_DANGER, 50, 50, "both"},
    {"", TWO("50 A", "8 AWG copper"), FIXED("100 W"), SEVERITY_WARNING, 40, 40, "strict"},
    {"built = 1970", ONE("20 A", "12 AWG copper\nambient = 40 C"), FIXED("100 W"), SEVERITY_NOTE, 20, 16.4, "strict"},
    {"", ONE("20 A", "12 AWG copper\nambient = 40 C"), FIXED("100 W"), -1, 0, 0, ""},
    {"", ONE("20 A", "14 AWG copper"), FIXED("100 W"), SEVERITY_DANGER, 15, 20, "both"},
    {"", ONE("20 A", "12 AWG aluminium"), FIXED("100 W"), SEVERITY_DANGER, 15, 20, "both"},
    {"", ONE("15 A", "14 AWG copper\ncable = tw\nambient = 60 C"), FIXED("100 W"), SEVERITY_NOTE, NAN, NAN, "given"},
    {"", "breaker = 60 A\nlegs = AB\npoles = 2\nwire = 6 AWG copper\ncable = nm-b\n", "", SEVERITY_DANGER, 50, 55,
     "given"},
};

START_TEST(a_wire_allows_its_breaker)
{
    struct assessed assessed = assess(wire_rows[_i].head, wire_rows[_i].branch, wire_rows[_i].load);
    const struct finding *finding = find(&assessed, "5");
    ck_assert_msg(severity_of(finding) == wire_rows[_i].severity, "%s: %d %s", wire_rows[_i].branch,
                  severity_of(finding), finding == NULL ? "" : finding->text);
    if (finding != NULL && isnan(wire_rows[_i].limit_a)) {
        ck_assert(isnan(finding_number(finding, "limit_a")));
    } else if (finding != NULL) {
        ck_assert_double_eq_tol(finding_number(finding, "limit_a"), wire_rows[_i].limit_a, 1e-9);
        ck_assert_double_eq_tol(finding_number(finding, "ampacity_a"), wire_rows[_i].ampacity_a, 1e-9);
        ck_assert_str_eq(word_of(finding, "reading"), wire_rows[_i].reading);
    }
    assessed_done(&assessed);
}
END_TEST

/* 1/0 AWG thhn, three circuits together: 170 x 0.8 = 136 A (mikeholt 192978); 2 AWG aluminium at 75 degree C: 90 A. */
START_TEST(a_feeders_wire_likewise)
{
    static const struct {
        const char *panel;
        int severity;
        double ampacity_a;
        double limit_a;
    } rows[] = {
        {"breaker = 150 A\nwire = 1/0 AWG copper\ncable = thhn\ngrouped = 3\nterminals = 75\n", SEVERITY_NOTE, 136,
         150},
        {"breaker = 90 A\nwire = 2 AWG aluminium\n", SEVERITY_WARNING, 75, 80},
        {"breaker = 90 A\nwire = 2 AWG aluminium\nterminals = 75\n", -1, 0, 0},
    };
    struct text more = {0};
    text_printf(&more, "[panel p]\npoles = 2\nlegs = AB\n%s", rows[_i].panel);
    struct assessed assessed = assess("", ONE("15 A", "14 AWG copper"), text_string(&more));
    text_done(&more);
    const struct finding *finding = find_in(&assessed.assessment->panels[1].findings, "5");
    ck_assert_int_eq(severity_of(finding), rows[_i].severity);
    if (finding != NULL) {
        ck_assert_double_eq_tol(finding_number(finding, "ampacity_a"), rows[_i].ampacity_a, 1e-9);
        ck_assert_double_eq_tol(finding_number(finding, "limit_a"), rows[_i].limit_a, 1e-9);
    }
    assessed_done(&assessed);
}
END_TEST

/* Nine 12 AWG thhn in a pipe: 30 x 0.7 = 21 A (ecmweb Q&A 84), four circuits and an earth wire that does not count. */
START_TEST(conductors_in_a_pipe)
{
    const struct ref_conductor *conductor = reference_conductor("12 AWG", "copper");
    ck_assert_double_eq_tol(column_ampacity_a("us", conductor, 90, 75, 30, reference_bundle("us", NULL, 9)->factor), 21,
                            1e-9);
    const struct wire_run shared = {.grouped = 1, .poles = 1, .shared_neutral = true};
    const struct wire_run three = {.grouped = 3, .poles = 1, .shared_neutral = true};
    const struct wire_run wye = {.grouped = 2, .poles = 3};
    ck_assert_double_eq(bundle_conductors(&shared), 2);
    ck_assert_double_eq(bundle_conductors(&three), 4);
    ck_assert_double_eq(bundle_conductors(&wye), 6);
}
END_TEST

#define CHARGER "[appliance a]\nname = EV charger\nbranch = b\ncurrent = 48 A\nfixed = yes\n"
#define UNIT(AMPS, MORE)                                                                                               \
    "[appliance a]\nname = Unit\nbranch = b\ncurrent = " AMPS "\ncategory = air-conditioning\nfixed = yes\n" MORE

/*
 * 48 A of charging plans 60 A, over the 55 A of 6 AWG nm-b (diychatroom 20038). Plates: 44/60 A on 8 AWG at 75 degree C
 * (ecmweb Q&A 42), 27.7/45 A on 10 AWG (mikeholt 146938). 430.22, 440.32: 1.25 times where there is no plate.
 */
static const struct {
    const char *branch;
    const char *load;
    int five;
    int six;
    int nineteen;
    double current_a; /* of 6 */
    double limit_a;
} load_rows[] = {
    {TWO("60 A", "6 AWG copper\ncable = nm-b"), CHARGER, SEVERITY_NOTE, SEVERITY_WARNING, -1, 60, 55},
    {TWO("60 A", "6 AWG copper"), CHARGER, SEVERITY_NOTE, SEVERITY_NOTE, -1, 60, 55},
    {TWO("60 A", "8 AWG copper\ncable = thhn\nterminals = 75"),
     UNIT("35.2 A", "minimum_ampacity = 44 A\nmaximum_breaker = 60 A\n"), -1, -1, -1, 0, 0},
    {TWO("45 A", "10 AWG copper\ncable = nm-b"), UNIT("22 A", "minimum_ampacity = 27.7 A\nmaximum_breaker = 45 A\n"),
     -1, -1, -1, 0, 0},
    {TWO("50 A", "10 AWG copper\ncable = nm-b"), UNIT("22 A", "minimum_ampacity = 27.7 A\nmaximum_breaker = 45 A\n"),
     -1, -1, SEVERITY_DANGER, 0, 0},
    {TWO("60 A", "10 AWG copper"), UNIT("16 A", ""), -1, -1, SEVERITY_WARNING, 0, 0},
    {TWO("70 A", "8 AWG copper"),
     "[appliance a]\nname = Pump\nbranch = b\nhorsepower = 5 hp\nbehaviour = motor\nfixed = yes\n", -1, -1, -1, 0, 0},
    {TWO("40 A", "12 AWG copper\ncable = nm-b"), UNIT("18 A", ""), -1, SEVERITY_WARNING, SEVERITY_NOTE, 22.5, 20},
    {TWO("40 A", "12 AWG copper\ncable = nm-b"), UNIT("24 A", ""), -1, SEVERITY_DANGER, -1, 30, 20},
};

START_TEST(a_wire_carries_its_load)
{
    struct assessed assessed = assess("", load_rows[_i].branch, load_rows[_i].load);
    const struct finding *six = find(&assessed, "6");
    ck_assert_int_eq(severity_of(find(&assessed, "5")), load_rows[_i].five);
    ck_assert_int_eq(severity_of(six), load_rows[_i].six);
    ck_assert_int_eq(severity_of(find(&assessed, "19")), load_rows[_i].nineteen);
    if (six != NULL) {
        ck_assert_double_eq_tol(finding_number(six, "current_a"), load_rows[_i].current_a, 1e-9);
        ck_assert_double_eq_tol(finding_number(six, "limit_a"), load_rows[_i].limit_a, 1e-9);
    }
    assessed_done(&assessed);
}
END_TEST

#define OUTLET(ID, KEYS) "[outlet " ID "]\nname = " ID "\nbranch = b\n" KEYS
#define PLUGGED(AMPS) "[appliance a]\nname = Load\noutlet = o\ncurrent = " AMPS "\n"

/*
 * Table 210.21(B)(3) and 210.24, 210.21(B)(1) and (B)(2): up.codes T210.24; mikeholt 2585394; garagejournal 351708;
 * allafragor.com.
 */
static const struct {
    const char *head;
    const char *breaker;
    const char *outlets;
    int seventeen;
    int three;
} outlet_rows[] = {
    {"", "30 A", OUTLET("o", "rating = 15 A\n") OUTLET("p", "rating = 15 A\n"), SEVERITY_DANGER, -1},
    {"code_edition = 2020", "15 A", OUTLET("o", "rating = 20 A\n") OUTLET("p", "rating = 20 A\n"), SEVERITY_WARNING,
     -1},
    {"", "15 A", OUTLET("o", "rating = 20 A\n") OUTLET("p", "rating = 20 A\n"), SEVERITY_NOTE, -1},
    {"", "20 A", OUTLET("o", "rating = 15 A\n") PLUGGED("14 A"), -1, SEVERITY_WARNING},
    {"", "20 A", OUTLET("o", "") PLUGGED("14 A"), -1, SEVERITY_NOTE},
    {"", "20 A", OUTLET("o", "rating = 20 A\n") PLUGGED("14 A"), -1, -1},
    {"", "20 A", OUTLET("o", "") PLUGGED("17 A"), -1, SEVERITY_WARNING},
    {"", "20 A", OUTLET("o", "contacts = 1\nrating = 15 A\n"), SEVERITY_WARNING, -1},
    {"", "20 A", OUTLET("o", "contacts = 1\nrating = 15 A\n") OUTLET("p", "contacts = 1\nrating = 15 A\n"), -1, -1},
    {"", "20 A", OUTLET("o", "contacts = 1\nrating = 30 A\n"), -1, -1},
    {"", "30 A", OUTLET("o", "contacts = 1\nrating = 20 A\n"), SEVERITY_DANGER, -1},
    {"", "25 A", OUTLET("o", "") OUTLET("p", ""), SEVERITY_NOTE, -1},
    {"", "15 A", OUTLET("o", ""), -1, -1},
};

START_TEST(receptacles_go_with_their_branch)
{
    struct text branch = {0};
    text_printf(&branch, "breaker = %s\nlegs = A\n", outlet_rows[_i].breaker);
    struct assessed assessed = assess(outlet_rows[_i].head, text_string(&branch), outlet_rows[_i].outlets);
    text_done(&branch);
    ck_assert_int_eq(severity_of(find(&assessed, "17")), outlet_rows[_i].seventeen);
    ck_assert_int_eq(severity_of(find(&assessed, "3")), outlet_rows[_i].three);
    assessed_done(&assessed);
}
END_TEST

/* 240.6(A): 55 A is no standard size, 10 A from 2023 on. */
START_TEST(odd_sizes_are_noted)
{
    static const struct {
        const char *head;
        const char *branch;
        int severity;
    } rows[] = {
        {"", "breaker = 55 A\nlegs = AB\npoles = 2\n", SEVERITY_NOTE},
        {"", "breaker = 50 A\nlegs = AB\npoles = 2\n", -1},
        {"", "breaker = 10 A\nlegs = A\n", -1},
        {"code_edition = 2020", "breaker = 10 A\nlegs = A\n", SEVERITY_NOTE},
    };
    struct assessed assessed = assess(rows[_i].head, rows[_i].branch, "");
    ck_assert_int_eq(severity_of(find(&assessed, "21")), rows[_i].severity);
    assessed_done(&assessed);
}
END_TEST

/* One output cites one edition, with that edition's numbers; ambient correction: 310.15(B)(1) from 2020. */
START_TEST(an_edition_has_its_own_numbers)
{
    static const struct {
        const char *head;
        const char *source;
    } rows[] = {
        {"code_edition = 2017",
         "240.4, 240.4(D), Table 310.15(B)(16), Table 310.15(B)(2)(a), Table 310.15(B)(3)(a) (2017 edition)"},
        {"code_edition = 2020", "240.4, 240.4(D), Table 310.16, Table 310.15(B)(1), Table 310.15(C)(1) (2020 edition)"},
        {"", "240.4, 240.4(D), Table 310.16, Table 310.15(B)(1), Table 310.15(C)(1) (2023 edition)"},
    };
    struct assessed assessed = assess(rows[_i].head, ONE("20 A", "14 AWG copper"), "");
    const char *source = find(&assessed, "5")->source;
    ck_assert_msg(strncmp(source, rows[_i].source, strlen(rows[_i].source)) == 0, "%s", source);
    assessed_done(&assessed);
}
END_TEST

/* 210.23: lighting on more than 20 A. */
START_TEST(lights_on_a_large_branch)
{
    struct assessed assessed = assess("", "breaker = 30 A\nlegs = A\npurpose = lighting\n", "");
    const struct finding *finding = find(&assessed, "17");
    ck_assert_int_eq(severity_of(finding), SEVERITY_WARNING);
    ck_assert_int_eq((int)finding->subject.kind, KIND_BRANCH);
    assessed_done(&assessed);
}
END_TEST

#define ROOM(ID, KIND) "[room " ID "]\nname = " ID "\nkind = " KIND "\n"

/* 210.8, 680.44, 625.54 (nationshomeinspections.com, mikeholt 2579819, inspector-iq 3255): by room and by what it is.
 */
START_TEST(protection_goes_by_room)
{
    static const struct {
        const char *head;
        const char *branch;
        const char *more;
        const char *says; /* NULL: no gfci asked for */
        bool then;        /* asked for when the house was built */
    } rows[] = {
        {"", "breaker = 50 A\nlegs = AB\npoles = 2\n", FIXED("9 kW"), NULL, true},
        {"code_edition = 2020", "breaker = 50 A\nlegs = AB\npoles = 2\n",
         ROOM("g", "garage") "[appliance a]\nname = EV charger\nbranch = b\nroom = g\ncurrent = 40 A\nfixed = yes\n",
         NULL, true},
        {"", "breaker = 50 A\nlegs = AB\npoles = 2\n",
         ROOM("g", "garage") "[appliance a]\nname = EV charger\nbranch = b\nroom = g\ncurrent = 40 A\nfixed = yes\n",
         "210.8(F)", true},
        {"", "breaker = 60 A\nlegs = AB\npoles = 2\n",
         ROOM("g", "garage") "[appliance a]\nname = EV charger\nbranch = b\nroom = g\ncurrent = 48 A\nfixed = yes\n",
         NULL, true},
        {"", "breaker = 50 A\nlegs = AB\npoles = 2\n",
         "[appliance a]\nname = Hot tub\nbranch = b\ncurrent = 40 A\nfixed = yes\n", "680.44", true},
        {"", "breaker = 50 A\nlegs = AB\npoles = 2\n",
         "[appliance a]\nname = Grotto\nbranch = b\ncurrent = 40 A\nfixed = yes\ncategory = pool\n", "680.44", true},
        {"", "breaker = 20 A\nlegs = A\n",
         "[appliance a]\nname = Pool pump\nbranch = b\ncurrent = 8 A\nfixed = yes\ncategory = motor\n", "680.21(C)",
         true},
        {"code_edition = 2020", "breaker = 20 A\nlegs = A\n",
         "[appliance a]\nname = Sump pump\nbranch = b\ncurrent = 8 A\n", "422.5", true},
        {"code_edition = 2017", "breaker = 20 A\nlegs = A\n",
         "[appliance a]\nname = Sump pump\nbranch = b\ncurrent = 8 A\nfixed = yes\n", NULL, true},
        {"", "breaker = 20 A\nlegs = A\n",
         ROOM("o", "outdoors") "[appliance a]\nname = Genset\nbranch = b\nroom = o\ncurrent = 8 A\nfixed = yes\n", NULL,
         true},
        {"", "breaker = 40 A\nlegs = AB\npoles = 2\n",
         ROOM("o", "outdoors") "[appliance a]\nname = Cooler\nbranch = b\nroom = o\ncurrent = 16 A\nfixed = yes\n"
                               "category = air-conditioning\n",
         NULL, true},
        {"", "breaker = 20 A\nlegs = A\n", ROOM("g", "garage") "[outlet o]\nname = o\nbranch = b\nroom = g\n",
         "210.8(A)(2)", true},
        {"built = 1970", "breaker = 20 A\nlegs = A\n", ROOM("w", "bath") "[outlet o]\nname = o\nbranch = b\nroom = w\n",
         "not asked for", false},
        {"", "breaker = 20 A\nlegs = A\nprotection = gfci\n",
         ROOM("w", "bath") "[outlet o]\nname = o\nbranch = b\nroom = w\n", NULL, true},
    };
    struct assessed assessed = assess(rows[_i].head, rows[_i].branch, rows[_i].more);
    const struct finding *finding = find(&assessed, "12");
    const bool asked = finding != NULL && strstr(finding->text, "gfci") != NULL;
    ck_assert_int_eq(asked, rows[_i].says != NULL);
    if (rows[_i].says != NULL) {
        ck_assert_msg(strstr(finding->text, rows[_i].says) != NULL, "%s", finding->text);
        ck_assert_str_eq(finding->figures[0].words[0], "gfci");
        ck_assert_int_eq(finding->figures[1].flag, !rows[_i].then);
    }
    assessed_done(&assessed);
}
END_TEST

Suite *make_suite(void)
{
    Suite *suite = suite_create("ampacity");
    TCase *tcase = tcase_create("ampacity");
    tcase_add_loop_test(tcase, a_wire_allows_its_breaker, 0, sizeof wire_rows / sizeof wire_rows[0]);
    tcase_add_loop_test(tcase, a_feeders_wire_likewise, 0, 3);
    tcase_add_test(tcase, conductors_in_a_pipe);
    tcase_add_loop_test(tcase, a_wire_carries_its_load, 0, sizeof load_rows / sizeof load_rows[0]);
    tcase_add_loop_test(tcase, receptacles_go_with_their_branch, 0, sizeof outlet_rows / sizeof outlet_rows[0]);
    tcase_add_loop_test(tcase, odd_sizes_are_noted, 0, 4);
    tcase_add_loop_test(tcase, an_edition_has_its_own_numbers, 0, 3);
    tcase_add_loop_test(tcase, protection_goes_by_room, 0, 14);
    tcase_add_test(tcase, lights_on_a_large_branch);
    suite_add_tcase(suite, tcase);
    return suite;
}
