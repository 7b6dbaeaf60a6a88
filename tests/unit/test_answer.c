/* Questions and their answers. Links no writer: an answer knows none. */
#include <math.h>
#include <string.h>

#include "ampsum/answer_branch.h"
#include "ampsum/answer_facts.h"
#include "ampsum/answer_fault.h"
#include "ampsum/answer_report.h"
#include "ampsum/answer_supply.h"
#include "ampsum/answer_wire.h"
#include "ampsum/housefile.h"
#include "ampsum/steps.h"
#include "runner.h"

/* One branch that a kettle and a heater overload together, one that is empty, one whose wire is too thin for its
 * breaker, which is a danger with nothing but a lamp on it. */
static const char text[] = "[house]\nname = Test\nrules = iec\nvoltage = 230\nmain_breaker = 40\n"
                           "[branch a]\nlabel = Kitchen\nbreaker = 16\n"
                           "[branch b]\nlabel = b\nbreaker = 10\n"
                           "[branch c]\nlabel = Shed\nbreaker = 40\nwire = 1.5 mm2 copper\nlength = 10 m\n"
                           "[appliance kettle]\nname = kettle\nbranch = a\npower = 2300\nuse = 07:00-07:30\n"
                           "[appliance heater]\nname = heater\nbranch = a\npower = 1840\nuse = 08:00-09:00\n"
                           "[appliance lamp]\nname = lamp\nbranch = c\npower = 23\n";

static struct house *house;

static void setup(void)
{
    struct error error = {0};
    ck_assert_msg(housefile_read_house_bytes("test", text, strlen(text), &house, &error), "%s", error_message(&error));
}

static void teardown(void)
{
    house_free(house);
}

/* As people read them: each finding once, no graver one behind, those of one severity as they stood, the notes last. */
static void check_gravest_first(const struct finding_list *list)
{
    struct arena *arena = arena_new();
    size_t notes = 0;
    size_t counted = 0;
    const struct finding *const *order = findings_gravest_first(list, arena, &notes);
    for (size_t i = 0; i < list->count; i++) {
        const bool ranked = i == 0 || order[i - 1]->severity > order[i]->severity ||
                            (order[i - 1]->severity == order[i]->severity && order[i - 1] < order[i]);
        ck_assert_msg(ranked, "%s at %zu", order[i]->id, i);
        counted += order[i]->severity == SEVERITY_NOTE;
    }
    ck_assert_uint_eq(counted, notes);
    arena_free(arena);
}

static void facts_in(const char *branch_and_loads, struct text *ret_lines, size_t *ret_notes)
{
    struct text house_text = {0};
    struct house *one = NULL;
    struct error error = {0};
    text_printf(&house_text, "[house]\nname = x\nrules = us\nmain_breaker = 100 A\n%s", branch_and_loads);
    ck_assert_msg(housefile_read_house_bytes("test", text_string(&house_text), house_text.length, &one, &error), "%s",
                  error_message(&error));
    const struct assess_options options = {.wires = true};
    struct assessment *assessment = assess_house(one, &options);
    struct arena *arena = arena_new();
    struct facts facts;
    check_gravest_first(&assessment->branches[0].findings);
    facts_of(&assessment->branches[0].findings, arena, &facts);
    for (size_t i = 0; i < facts.count; i++) {
        text_printf(ret_lines, "%s%s", i == 0 ? "" : " | ", facts.fact[i].lead->id);
        for (size_t k = 0; k < facts.fact[i].other_count; k++) {
            text_printf(ret_lines, " %s", facts.fact[i].others[k]->id);
        }
    }
    *ret_notes = facts.note_count;
    arena_free(arena);
    assess_free(assessment);
    house_free(one);
    text_done(&house_text);
}

/* Limits 10: a 1500 W heater for 5 h on 15 A is one line with 1 2 3 6 10, a note of 12 apart. */
static const struct {
    const char *house;
    const char *lines;
    size_t notes;
} fact_rows[] = {
    {"[branch b]\nlabel = b\nbreaker = 15 A\nlegs = A\nwire = 14 AWG copper\nlength = 10\n"
     "[appliance h]\nname = Heater\nbranch = b\npower = 1500 W\nhours = 5\n",
     "1 2 3 6 10", 1},
    /* a wire too thin for its breaker and for its load, which the breaker takes */
    {"[branch b]\nlabel = b\nbreaker = 30 A\nlegs = A\npurpose = dedicated\nwire = 14 AWG copper\nlength = 10\n"
     "[appliance k]\nname = Kiln\nbranch = b\ncurrent = 22 A\nfixed = yes\n",
     "5 6", 0},
    /* two lamps for another voltage are two facts */
    {"[branch b]\nlabel = b\nbreaker = 15 A\nlegs = AB\npoles = 2\n"
     "[appliance k]\nname = Lamp\nbranch = b\npower = 60 W\nrated_voltage = 120 V\nfixed = yes\n"
     "[appliance l]\nname = Other lamp\nbranch = b\npower = 60 W\nrated_voltage = 120 V\nfixed = yes\n",
     "8 | 8", 0},
    {"[branch b]\nlabel = b\nbreaker = 15 A\nlegs = A\npurpose = dedicated\n", "", 0},
};

START_TEST(one_line_tells_a_fact)
{
    struct text lines = {0};
    size_t notes = 0;
    facts_in(fact_rows[_i].house, &lines, &notes);
    ck_assert_str_eq(text_string(&lines), fact_rows[_i].lines);
    ck_assert_uint_eq(notes, fact_rows[_i].notes);
    text_done(&lines);
}
END_TEST

START_TEST(check_counts_its_verdicts)
{
    const struct check_question question = {.choice = {.wires = true}};
    struct check_answer answer;
    answer_check(house, &question, &answer);
    ck_assert_uint_eq(answer.verdicts[VERDICT_AT_RISK], 1); /* 4140 W / 230 V = 18 A of 16 A, never at once */
    ck_assert_uint_eq(answer.verdicts[VERDICT_EMPTY], 1);
    ck_assert_uint_eq(answer.verdicts[VERDICT_OVER], 1);
    ck_assert_uint_eq(answer.worst, 2);
    ck_assert_uint_eq(check_without_room(&answer), 2);
    struct arena *arena = arena_new();
    const size_t *order = check_worst_first(&answer, arena);
    ck_assert(order[0] == 2 && order[1] == 0 && order[2] == 1);
    size_t count = 0;
    const size_t *found = branches_found(house, order, "KE", arena, &count); /* in kettle */
    ck_assert(count == 1 && found[0] == 0);
    found = branches_found(house, order, "h", arena, &count); /* Shed; Kitchen, with a heater */
    ck_assert(count == 2 && found[0] == 2 && found[1] == 0);
    branches_found(house, order, "garage", arena, &count);
    ck_assert_uint_eq(count, 0);
    arena_free(arena);
    ck_assert_str_eq(check_first_finding(&answer, false), "5"); /* of the branch that leads, its gravest */
    ck_assert_double_eq_tol(answer.power_w, 2300 + 23, 1e-9);
    check_answer_done(&answer);
}
END_TEST

/* Of the house above, worst first: c with the lamp of 23 W, a with 2300 + 1840 W, b empty. */
START_TEST(a_report_chooses_and_tells_what_it_left_out)
{
    const struct check_question question = {.choice = {.loads = true, .wires = true}};
    struct check_answer answer;
    struct arena *arena = arena_new();
    answer_check(house, &question, &answer);
    const bool *chosen = report_worst(&answer, 1, VERDICT_EMPTY, arena);
    ck_assert(chosen[2] && !chosen[0] && !chosen[1]);
    struct report_rest rest = report_rest(&answer, chosen);
    ck_assert(rest.branches == 2 && rest.loads == 2);
    ck_assert(rest.verdicts[VERDICT_AT_RISK] == 1 && rest.verdicts[VERDICT_EMPTY] == 1);
    ck_assert_double_eq_tol(rest.power_w, 2300 + 1840, 1e-9);
    chosen = report_worst(&answer, 3, VERDICT_AT_RISK, arena);
    ck_assert(chosen[2] && chosen[0] && !chosen[1]);
    chosen = report_listed(&answer, 3, 9, arena);
    ck_assert(chosen[0] && chosen[1] && chosen[2]);
    chosen = report_listed(&answer, 2, 9, arena); /* one load, then no room for two, then none to list */
    ck_assert(chosen[2] && !chosen[0] && chosen[1]);
    chosen = report_listed(&answer, 2, 1, arena); /* the first load of each */
    ck_assert(chosen[2] && chosen[0] && chosen[1]);
    ck_assert_double_eq_tol(report_most_leg_a(&answer, 0), (2300 + 1840 + 23) / 230.0, 1e-9);
    ck_assert_double_eq(report_most_leg_a(&answer, 1), 0);
    arena_free(arena);
    check_answer_done(&answer);
}
END_TEST

/* The two branches that are over or at risk, worst first, and fewer where fewer fit. */
START_TEST(a_report_advises_on_the_worst)
{
    const struct check_question question = {.choice = {.loads = true, .wires = true}, .bill_rows = ENERGY_APPLIANCES};
    struct check_answer answer;
    struct arena *arena = arena_new();
    size_t count;
    answer_check(house, &question, &answer);
    const size_t *advised = report_advised(&answer, 6, 9, arena, &count);
    ck_assert(count == 2 && advised[0] == 2 && advised[1] == 0);
    report_advised(&answer, 1, 9, arena, &count);
    ck_assert_uint_eq(count, 1);
    advised = report_advised(&answer, 6, 1, arena, &count);
    ck_assert(count == 1 && advised[0] == 2);
    const struct report_assumed assumed = report_assumed(&answer);
    ck_assert_uint_eq(assumed.no_wire + assumed.no_length, 2);
    ck_assert(assumed.unused <= house->appliance_count && assumed.no_method <= house->branch_count);
    arena_free(arena);
    check_answer_done(&answer);
}
END_TEST

START_TEST(the_largest_come_first_and_what_is_not_known_not_at_all)
{
    const double percent[] = {1, (double)NAN, 3, 3, 2};
    struct arena *arena = arena_new();
    size_t count;
    const size_t *largest = report_largest(percent, 5, 9, arena, &count);
    ck_assert(count == 4 && largest[0] == 2 && largest[1] == 3 && largest[2] == 4 && largest[3] == 0);
    largest = report_largest(percent, 5, 1, arena, &count);
    ck_assert(count == 1 && largest[0] == 2);
    report_largest(percent, 0, 9, arena, &count);
    ck_assert_uint_eq(count, 0);
    arena_free(arena);
}
END_TEST

/* Outlets up to the room that there is, then those that are left, with the largest drop among them. */
START_TEST(outlets_without_room_are_counted)
{
    static const char three[] =
        "[house]\nname = x\nrules = iec\nmain_breaker = 40\n"
        "[branch b]\nlabel = b\nbreaker = 16\nwire = 1.5 mm2 copper\n[room r]\n"
        "[outlet p]\nbranch = b\nroom = r\nrun = 5 m\n[outlet q]\nbranch = b\nroom = r\nfrom = p\nrun = 5 m\n"
        "[outlet s]\nbranch = b\nroom = r\nfrom = q\nrun = 5 m\n"
        "[appliance kettle]\nname = kettle\noutlet = s\npower = 2300\n";
    struct report_points points = {0};
    struct house *wired = NULL;
    struct error error = {0};
    struct arena *arena = arena_new();
    struct wire_branch wire;
    struct check_answer answer;
    const struct check_question question = {.choice = {.loads = true, .wires = true}};
    ck_assert_msg(housefile_read_house_bytes("test", three, strlen(three), &wired, &error), "%s",
                  error_message(&error));
    answer_check(wired, &question, &answer);
    ck_assert(report_has_points(&answer, 0));
    wire_branch_init(&wire, answer.assessment, 0, arena);
    ck_assert_uint_eq(report_points_take(&points, &wire, 5), 3);
    ck_assert_uint_eq(report_points_take(&points, &wire, 5), 2);
    ck_assert(points.left == 1 && points.branches_left == 0);
    ck_assert_uint_eq(report_points_take(&points, &wire, 5), 0);
    ck_assert(points.listed == 5 && points.left == 4 && points.branches_left == 1);
    ck_assert_double_eq(points.most_left_percent, wiring_worst_drop_percent(&wire.wiring));
    wire_branch_done(&wire);
    check_answer_done(&answer);
    house_free(wired);
    arena_free(arena);
    error_done(&error);
}
END_TEST

/* Each number once, in the order of the table of findings; as many findings as the lists hold. */
START_TEST(a_report_names_each_number_once)
{
    const struct check_question question = {.choice = {.wires = true}};
    struct check_answer answer;
    struct arena *arena = arena_new();
    size_t places;
    size_t all;
    size_t dangers;
    size_t numbers;
    size_t listed = 0;
    answer_check(house, &question, &answer);
    const struct found_list *place = report_places(&answer, arena, &places);
    ck_assert_uint_eq(places, house->panel_count + house->branch_count);
    ck_assert(place[0].where.panel && !place[places - 1].where.panel);
    ck_assert_str_eq(place[places - 1].where.name, "Shed");
    for (size_t i = 0; i < places; i++) {
        listed += place[i].list->count;
    }
    report_found(&answer, SEVERITY_NOTE, SEVERITY_DANGER, arena, &all);
    ck_assert_uint_eq(all, listed);
    const struct found *found = report_found(&answer, SEVERITY_DANGER, SEVERITY_DANGER, arena, &dangers);
    ck_assert(dangers > 0 && found[0].finding->severity == SEVERITY_DANGER);
    found = report_numbers(&answer, arena, &numbers);
    ck_assert(numbers > 1 && numbers <= all);
    for (size_t i = 1; i < numbers; i++) {
        ck_assert(found[i - 1].finding->row < found[i].finding->row);
    }
    arena_free(arena);
    check_answer_done(&answer);
}
END_TEST

/* By hand, us: what makes each branch over or at risk. */
static const struct {
    const char *branch;
    enum check_cause cause;
    bool danger_besides;
    bool takes_plugs;
} cause_rows[] = {
    /* 12.5 + 10 A of 15 A */
    {"[branch b]\nlabel = b\nbreaker = 15\nlegs = A\n[appliance h]\nname = Heater\nbranch = b\npower = 1500\n"
     "[appliance d]\nname = Dryer\nbranch = b\npower = 1200\n",
     CHECK_TOGETHER, false, true},
    /* the same on 14 AWG behind 20 A */
    {"[branch b]\nlabel = b\nbreaker = 20\nlegs = A\nwire = 14 AWG copper\n[appliance h]\nname = Heater\nbranch = b\n"
     "power = 1500\n[appliance d]\nname = Dryer\nbranch = b\npower = 1200\n",
     CHECK_TOGETHER, true, true},
    /* one charger of 48 A, 60 A planned, on 50 A; two of them */
    {"[branch b]\nlabel = b\nbreaker = 50\npoles = 2\nlegs = AB\npurpose = dedicated\n[appliance h]\n"
     "name = EV charger\nbranch = b\ncurrent = 48\nfixed = yes\n",
     CHECK_ALONE, false, false},
    {"[branch b]\nlabel = b\nbreaker = 50\npoles = 2\nlegs = AB\npurpose = dedicated\n[appliance h]\n"
     "name = EV charger\nbranch = b\ncurrent = 48\ncount = 2\nfixed = yes\n",
     CHECK_TOGETHER, false, false},
    /* 60 A planned on a breaker of 60 A and a wire of 55 A: a warning of 6 alone */
    {"[branch b]\nlabel = b\nbreaker = 60\npoles = 2\nlegs = AB\nwire = 6 AWG copper\ncable = nm-b\n"
     "purpose = dedicated\n[appliance h]\nname = EV charger\nbranch = b\ncurrent = 48\nfixed = yes\n",
     CHECK_OTHERWISE, false, false},
};

START_TEST(a_branch_is_over_by_its_loads_by_one_or_otherwise)
{
    struct text house_text = {0};
    struct house *one = NULL;
    struct error error = {0};
    struct check_answer answer;
    text_printf(&house_text, "[house]\nname = x\nrules = us\nmain_breaker = 200 A\n%s", cause_rows[_i].branch);
    ck_assert_msg(housefile_read_house_bytes("test", text_string(&house_text), house_text.length, &one, &error), "%s",
                  error_message(&error));
    answer_check(one, &(struct check_question){.no_bill = true, .choice = {.wires = true}}, &answer);
    ck_assert_int_ge(answer.assessment->status, VERDICT_AT_RISK);
    ck_assert_int_eq(check_cause_of(&answer, 0), cause_rows[_i].cause);
    ck_assert_int_eq(check_danger_besides(&answer, 0), cause_rows[_i].danger_besides);
    ck_assert_int_eq(check_takes_plugs(&answer, 0), cause_rows[_i].takes_plugs);
    check_answer_done(&answer);
    house_free(one);
    text_done(&house_text);
}
END_TEST

/* A feeder of 30 A whose branches plan 15.6 + 12.5 + 8.3 A on one leg, each with room; what hangs behind it, too. */
START_TEST(a_panel_that_is_full_is_known_by_its_branches)
{
    static const char cabin[] = "[house]\nname = Cabin\nrules = us\nmain_breaker = 100\n"
                                "[panel cabin]\nbreaker = 30\npoles = 2\nlegs = AB\n"
                                "[panel loft]\nfrom = cabin\nbreaker = 30\npoles = 2\nlegs = AB\n"
                                "[branch heat]\nlabel = h\npanel = cabin\nbreaker = 20\nlegs = A\n"
                                "[branch kettle]\nlabel = k\npanel = cabin\nbreaker = 20\nlegs = A\n"
                                "[branch loft]\nlabel = l\npanel = loft\nbreaker = 15\nlegs = A\n"
                                "[branch hall]\nlabel = hall\nbreaker = 15\nlegs = A\n"
                                "[appliance h]\nname = Heater\nbranch = heat\npower = 1500\nuse = 18:00-23:00\n"
                                "[appliance k]\nname = Kettle\nbranch = kettle\npower = 1500\n"
                                "[appliance i]\nname = Iron\nbranch = loft\npower = 1000\n";
    struct house *one = NULL;
    struct error error = {0};
    struct check_answer answer;
    ck_assert_msg(housefile_read_house_bytes("test", cabin, strlen(cabin), &one, &error), "%s", error_message(&error));
    answer_check(one, &(struct check_question){.no_bill = true}, &answer);
    ck_assert_int_eq(check_panel_need(answer.assessment, 0), CHECK_PANEL_NOTHING);
    ck_assert_int_eq(check_panel_need(answer.assessment, 1), CHECK_PANEL_OVER);
    ck_assert_int_eq(check_panel_need(answer.assessment, 2), CHECK_PANEL_NOTHING);
    ck_assert(check_full_panel(answer.assessment, 0) == 1 && check_full_panel(answer.assessment, 2) == 1);
    ck_assert(check_full_panel(answer.assessment, 3) == NO_INDEX);
    check_answer_done(&answer);
    house_free(one);
}
END_TEST

/* iec, three lines: 4.6 kW on one of them is 20 A there, a third of it spread evenly (finding 13 and `demand`: 20 A).
 */
START_TEST(three_lines_are_counted_by_the_heaviest)
{
    static const char flat[] = "[house]\nname = Flat\nrules = iec\nsystem = three-phase\nmain_breaker = 35\n"
                               "[branch b]\nlabel = b\nbreaker = 25\nlegs = B\n"
                               "[appliance w]\nname = Water\nbranch = b\npower = 4600\nfixed = yes\n"
                               "category = water-heating\n";
    struct house *one = NULL;
    struct error error = {0};
    struct check_answer answer;
    ck_assert_msg(housefile_read_house_bytes("test", flat, strlen(flat), &one, &error), "%s", error_message(&error));
    answer_check(one, &(struct check_question){.no_bill = true}, &answer);
    ck_assert_double_eq_tol(answer.demand.current_a, 20, 1e-9);
    check_answer_done(&answer);
    house_free(one);
}
END_TEST

/* 1500 square feet and a range of 12 kW: 4500 + 4500 + 12000 VA by the methods of an existing and of a new dwelling. */
START_TEST(a_house_that_stands_is_counted_by_the_method_for_such)
{
    static const char old[] = "[house]\nname = Old\nrules = us\nmain_breaker = 100\nfloor_area = 1500\nbuilt = 1962\n"
                              "[branch r]\nlabel = r\nbreaker = 50\npoles = 2\nlegs = AB\npurpose = dedicated\n"
                              "[appliance r]\nname = Range\nbranch = r\npower = 12 kW\ncategory = range\nfixed = yes\n";
    const struct check_question question = {.no_bill = true};
    struct house *stands = NULL;
    struct error error = {0};
    struct check_answer answer;
    ck_assert_msg(housefile_read_house_bytes("test", old, strlen(old), &stands, &error), "%s", error_message(&error));
    answer_check(stands, &question, &answer);
    ck_assert_str_eq(answer.existing.clause, "220.83");
    ck_assert_double_eq_tol(answer.existing.current_a, (8000 + 0.4 * (21000 - 8000)) / 240, 1e-9);
    ck_assert_double_eq_tol(answer.demand.current_a, (3000 + 0.35 * 6000 + 8000) / 240, 1e-9);
    check_answer_done(&answer);
    stands->built_year = 0;
    answer_check(stands, &question, &answer);
    ck_assert_ptr_null(answer.existing.name);
    check_answer_done(&answer);
    house_free(stands);
}
END_TEST

/* Nine branches that are over, the tenth with too many loads for a set, the last calm. */
START_TEST(sets_are_advised_for_the_first_few)
{
    enum { OVER = 9, CROWD = 25 };
    struct text lines = {0};
    struct house *many = NULL;
    struct error error = {0};
    struct check_answer answer;
    text_add(&lines, "[house]\nname = Many\nrules = iec\nmain_breaker = 100\n");
    for (int b = 0; b < OVER + 2; b++) {
        text_printf(&lines, "[branch b%d]\nlabel = B%d\nbreaker = 16\n", b, b);
    }
    for (int a = 0; a < OVER + CROWD; a++) {
        text_printf(&lines, "[appliance a%d]\nname = A\nbranch = b%d\npower = 4600 W\nuse = 07:00-08:00\n", a,
                    a < OVER ? a : OVER);
    }
    ck_assert_msg(housefile_read_house_bytes("test", text_string(&lines), lines.length, &many, &error), "%s",
                  error_message(&error));
    answer_check(many, &(struct check_question){.no_bill = true}, &answer);
    const size_t order[] = {OVER, OVER + 1, 0, 1, 2, 3, 4, 5, 6, 7, 8};
    struct arena *arena = arena_new();
    const enum check_advice *advice = check_advise(&answer, order, OVER + 2, arena);
    ck_assert(advice[0] == CHECK_NOTHING && advice[1] == CHECK_LEFT);
    for (size_t i = 2; i < OVER + 1; i++) {
        ck_assert_int_eq(advice[i], CHECK_SETS);
    }
    ck_assert_int_eq(advice[OVER + 1], CHECK_NOTHING);
    ck_assert_int_eq(check_advise(&answer, &order[OVER + 1], 1, arena)[0], CHECK_SETS);
    arena_free(arena);
    check_answer_done(&answer);
    house_free(many);
    text_done(&lines);
}
END_TEST

START_TEST(a_branch_is_judged_as_the_house_is)
{
    unsigned on[3] = {0, 1, 0};
    const struct branch_question question = {
        .choice = {.loads = true, .basis = BASIS_SET, .on = on}, .branch = 0, .bill = true};
    struct branch_answer answer;
    answer_branch(house, &question, &answer);
    ck_assert(answer.chosen);
    ck_assert_double_eq_tol(answer.shown->current_a, 8, 1e-9); /* 1840 W / 230 V */
    ck_assert(!branch_answer_exceeds(&answer));
    ck_assert_ptr_eq(answer.result, &answer.check.assessment->branches[0]);
    struct steps steps;
    branch_answer_steps(&answer, 0, &steps);
    ck_assert_uint_gt(steps.count, 0);
    steps_done(&steps);
    branch_answer_done(&answer);
    on[0] = 1; /* 4140 W / 230 V = 18 A of 16 A */
    answer_branch(house, &question, &answer);
    ck_assert(branch_answer_exceeds(&answer));
    branch_answer_done(&answer);
}
END_TEST

/* The one reader of what is on, for command line and page. */
/* Loads by halves to the neutral beside loads between the lines: the working ends at the engine's current. By hand:
 * 4.6 kW by halves is 10 A a line, 4 kW between the lines 10.04 A, 30 degree apart: 19.36 A. */
static const struct {
    const char *loads;
    const char *says; /* in one of the steps */
} mixed_rows[] = {
    {"[appliance h]\nname = Hob\nbranch = b\npower = 4.6 kW\nfixed = yes\ncategory = cooking\nhours = 2\n"
     "[appliance w]\nname = Heater\nbranch = b\npower = 4 kW\nfixed = yes\n",
     "19.36 A"},
    {"[appliance h]\nname = Hob\nbranch = b\npower = 4.6 kW\nfixed = yes\ncategory = cooking\nhours = 2\n"
     "[appliance w]\nname = Motor\nbranch = b\npower = 4 kW\nfixed = yes\nbehaviour = motor\npower_factor = 0.6\n",
     "on each line: I = P / V = 2300 W / 230 V = 10 A"},
    {"[appliance h]\nname = Motor\nbranch = b\npower = 4 kW\nbehaviour = motor\npower_factor = 0.7\n"
     "fixed = yes\nconnection = 2L+N\n"
     "[appliance w]\nname = Other\nbranch = b\npower = 3 kW\nfixed = yes\n"
     "[appliance v]\nname = Third\nbranch = b\npower = 1 kW\nfixed = yes\ncount = 2\nhours = 1\n",
     "2 kW \u00d7 1 h = 2 kWh"},
};

/* 230 V to the neutral: of 4 kW by halves one is 230^2 / 2000 = 26.45 ohm; 3 kW between the lines 3 x 230^2 / 3000. */
START_TEST(a_load_has_its_resistance_by_how_it_is_connected)
{
    static const char pair[] = "[house]\nname = x\nrules = iec\nsystem = three-phase\nsupply_fuse = 63\n[branch b]\n"
                               "label = b\nbreaker = 32\npoles = 2\nlegs = AB\npurpose = dedicated\n"
                               "[appliance h]\nname = Hob\nbranch = b\npower = 4 kW\nfixed = yes\nconnection = 2L+N\n"
                               "[appliance w]\nname = Other\nbranch = b\npower = 3 kW\nfixed = yes\n"
                               "connection = line-line\n";
    struct house *two = NULL;
    struct error error = {0};
    ck_assert_msg(housefile_read_house_bytes("test", pair, strlen(pair), &two, &error), "%s", error_message(&error));
    const struct branch_question question = {.choice = {.loads = true, .basis = BASIS_BUSIEST}, .branch = 0};
    struct branch_answer answer;
    answer_branch(two, &question, &answer);
    ck_assert_double_eq_tol(branch_load_ohm(two, answer.result, 0), 26.45, 1e-6);
    ck_assert_double_eq_tol(branch_load_ohm(two, answer.result, 1), 52.9, 1e-6);
    branch_answer_done(&answer);
    house_free(two);
}
END_TEST

START_TEST(halves_beside_line_loads_are_worked)
{
    struct text house_text = {0};
    struct house *mixed = NULL;
    struct error error = {0};
    text_printf(&house_text,
                "[house]\nname = x\nrules = iec\nsystem = three-phase\nsupply_fuse = 63\n[branch b]\nlabel = b\n"
                "breaker = 32\npoles = 2\nlegs = AB\npurpose = dedicated\n%s",
                mixed_rows[_i].loads);
    ck_assert_msg(housefile_read_house_bytes("test", text_string(&house_text), house_text.length, &mixed, &error), "%s",
                  error_message(&error));
    const struct branch_question question = {.choice = {.loads = true, .basis = BASIS_BUSIEST}, .branch = 0};
    struct branch_answer answer;
    answer_branch(mixed, &question, &answer);
    struct steps steps;
    branch_answer_steps(&answer, 0, &steps);
    struct text lines = {0};
    struct text wanted = {0};
    for (size_t i = 0; i < steps.count; i++) {
        step_write(&lines, &steps.step[i], true);
        text_add_char(&lines, '\n');
    }
    steps_figure(&wanted, answer.shown->current_a, "A");
    const char *heavier = strstr(text_string(&lines), "I of the heavier line");
    ck_assert_ptr_nonnull(heavier);
    const char *found = strstr(heavier, text_string(&wanted));
    ck_assert_msg(found != NULL && found < strchr(heavier, '\n'), "%s: %s", text_string(&wanted), text_string(&lines));
    ck_assert_msg(strstr(text_string(&lines), mixed_rows[_i].says) != NULL, "%s", text_string(&lines));
    text_done(&wanted);
    text_done(&lines);
    steps_done(&steps);
    branch_answer_done(&answer);
    house_free(mixed);
    text_done(&house_text);
}
END_TEST

START_TEST(a_list_of_what_is_on_is_read_or_refused)
{
    static const struct {
        const char *list;
        const char *fault; /* NULL: good */
    } rows[] = {{"kettle", NULL},
                {" kettle , lamp ", NULL},
                {"", NULL},
                {"kettle,,lamp", "an entry is empty"},
                {"kettle,", "an entry is empty"},
                {"ketle", "nearest is kettle"},
                {"kettle,kettle", "given twice"},
                {"kettle*1", "only one kettle"}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        unsigned on[3] = {0};
        struct error error = {0};
        const bool good = choice_read_on(house, "--on", rows[i].list, on, &error);
        ck_assert_msg(good == (rows[i].fault == NULL), "'%s'", rows[i].list);
        ck_assert(good || strstr(error_message(&error), rows[i].fault) != NULL);
        ck_assert(!good || on[0] == (rows[i].list[0] == '\0' ? 0 : 1));
        error_done(&error);
    }
}
END_TEST

/* iec: 230 V +- 10 % (published band, IEC 60038); a plain resistance draws 10 % less or more. */
START_TEST(both_ends_of_the_supply_band_are_compared)
{
    const struct assess_options choice = {.wires = true};
    struct supply_answer answer;
    answer_supply(house, &choice, 0, &answer);
    ck_assert_uint_eq(answer.count, 1);
    ck_assert_double_eq_tol(answer.voltage_v[SUPPLY_HIGH], 253, 1e-9);
    const struct supply_branch *branch = &answer.branches[0];
    ck_assert_double_eq_tol(branch->ends[SUPPLY_LOW]->all.current_a, 0.9 * 18, 1e-9);
    ck_assert_double_eq_tol(branch->ends[SUPPLY_HIGH]->all.current_a, 1.1 * 18, 1e-9);
    ck_assert_str_eq(branch->worse, "high");
    supply_answer_done(&answer);
}
END_TEST

/* Branch c by hand, 10 m of 1.5 mm2 there and back with a lamp of 2300 ohm: R of one conductor at its working
 * temperature from the reference rows, drop = 2 R / (2 R + 2300) of 230 V. */
START_TEST(a_wire_is_answered_with_its_drop_and_other_sizes)
{
    const struct wire_question question = {
        .choice = {.wires = true, .loads = true}, .only = 2, .starting = NO_INDEX, .sizes = true, .longest = true};
    struct wire_answer answer;
    struct error error = {0};
    ck_assert(answer_wire(house, &question, &answer, &error));
    ck_assert_uint_eq(answer.count, 1);
    const struct wire_branch *wire = &answer.branches[0];
    ck_assert(wire->known && wire->solved);
    ck_assert_uint_eq(wire->point_count, 1);
    const double loop_ohm = 2 * 0.010 * wire_ohm_per_km(house, house->branches[2].wire);
    ck_assert_double_eq_tol(wire->drop_percent, 100 * loop_ohm / (loop_ohm + 2300), 1e-9);
    ck_assert_str_eq(wire->points[0].id, "end");
    ck_assert_str_eq(wire->points[0].from, "panel");
    ck_assert_uint_gt(answer.size_count, 3);
    ck_assert_uint_eq(answer.longest_count, answer.size_count);
    ck_assert_ptr_nonnull(answer.first_size); /* 40 A needs more than 1.5 mm2 */
    ck_assert_double_ge(answer.first_size->ampacity_a, 40);
    wire_answer_done(&answer);
}
END_TEST

START_TEST(a_study_that_does_not_suit_is_refused)
{
    static const struct {
        size_t only;
        const char *broken;
        size_t starting;
        const char *want;
    } rows[] = {{2, "all", NO_INDEX, "branch c is no ring"},
                {2, NULL, 0, "on another branch"},
                {2, NULL, 2, "no motor"},
                {0, "all", NO_INDEX, "wire or length is not known"}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        const struct wire_question question = {
            .choice = {.loads = true}, .only = rows[i].only, .broken = rows[i].broken, .starting = rows[i].starting};
        struct wire_answer answer;
        struct error error = {0};
        ck_assert(!answer_wire(house, &question, &answer, &error));
        ck_assert_ptr_nonnull(strstr(error_message(&error), rows[i].want));
        wire_answer_done(&answer);
        error_done(&error);
    }
}
END_TEST

/* Of many points a report lists the worst: nothing that is left out is worse than what stands. */
START_TEST(the_worst_loops_come_first)
{
    static const char loops[] = "[house]\nname = x\nrules = uk\nmain_breaker = 100 A\nearthing = TN-C-S\npscc = 6 kA\n"
                                "[branch near]\nlabel = n\nbreaker = B16\nwire = 2.5 mm2 copper\nlength = 5 m\n"
                                "[branch far]\nlabel = f\nbreaker = B16\nwire = 2.5 mm2 copper\n"
                                "[outlet one]\nbranch = far\nrun = 30 m\n[outlet two]\nbranch = far\nrun = 70 m\n"
                                "[branch bare]\nlabel = b\nbreaker = B16\n"
                                "[branch same]\nlabel = s\nbreaker = B16\nwire = 2.5 mm2 copper\nlength = 5 m\n";
    static const size_t want[] = {1, 1, 0, 3, 2}; /* the two alike in file order, what is not known last */
    struct house *wired = NULL;
    struct error error = {0};
    ck_assert_msg(housefile_read_house_bytes("x", loops, strlen(loops), &wired, &error), "%s", error_message(&error));
    const struct fault_question question = {.branch = NO_INDEX, .panel = NO_INDEX, .options = {.at_panel_a = NAN}};
    struct fault_answer answer;
    answer_fault(wired, &question, &answer);
    fault_worst_first(&answer);
    ck_assert_uint_eq(answer.row_count, sizeof want / sizeof want[0]);
    for (size_t i = 0; i < answer.row_count; i++) {
        ck_assert_uint_eq(answer.rows[i].branch, want[i]);
    }
    ck_assert(fault_is_known(&answer));
    ck_assert_double_lt(answer.rows[0].point->times_breaker, answer.rows[1].point->times_breaker);
    ck_assert_uint_eq(answer.branches[0], 1);
    const struct fault_rest rest = fault_rest(&answer, 1, 1);
    ck_assert_uint_eq(rest.points, 4);
    ck_assert_uint_eq(rest.points_unknown, 1);
    ck_assert_double_eq(rest.times_least, answer.rows[1].point->times_breaker);
    ck_assert_double_eq(rest.zs_most_ohm, answer.rows[1].point->zs_hot_ohm);
    ck_assert_uint_eq(rest.branches, 3);
    ck_assert_double_eq_tol(rest.run_most_percent, 100 * 5 / answer.study->branches[0].longest_m, 1e-9);
    fault_answer_done(&answer);
    house_free(wired);
}
END_TEST

/* Both fuses stand behind a residual current device. Of a, 364 A on 30 A, no time is known; b never opens on 1.8 A. */
START_TEST(a_fuse_of_unknown_time_is_told_apart)
{
    static const char *const earth[] = {"earthing = TN-C-S\nze = 0.3\n", "earthing = TT\nze = 121\n"};
    for (size_t i = 0; i < 2; i++) {
        struct text lines = {0};
        struct house *wired = NULL;
        struct error error = {0};
        struct fault_answer answer;
        text_printf(&lines,
                    "[house]\nname = x\nrules = uk\nsupply_fuse = 60\n%s"
                    "[branch a]\nlabel = a\nbreaker = 30\ntrip = bs3036\nwire = 4 mm2 copper\nlength = 15 m\n"
                    "protection = rcd\n",
                    earth[i]);
        ck_assert_msg(housefile_read_house_bytes("x", text_string(&lines), lines.length, &wired, &error), "%s",
                      error_message(&error));
        const struct fault_question question = {.branch = NO_INDEX, .panel = NO_INDEX, .options = {.at_panel_a = NAN}};
        answer_fault(wired, &question, &answer);
        const struct fault_tally tally = fault_tally(&answer);
        ck_assert_uint_eq(tally.opens[FAULT_OPENS_RCD], 1);
        ck_assert_uint_eq(tally.beside_fuse, i == 0 ? 1 : 0);
        fault_answer_done(&answer);
        house_free(wired);
        text_done(&lines);
    }
}
END_TEST

/* An ID is a branch's or a panel's; none: all of them. */
START_TEST(a_fault_is_asked_of_a_branch_or_a_panel)
{
    struct fault_question question = {.branch = 0};
    struct error error = {0};
    ck_assert(fault_find_place(house, NULL, &question, &error));
    ck_assert(question.branch == NO_INDEX && question.panel == NO_INDEX);
    ck_assert(fault_find_place(house, house->branches[1].id, &question, &error));
    ck_assert(question.branch == 1 && question.panel == NO_INDEX);
    ck_assert(fault_find_place(house, house->panels[0].id, &question, &error));
    ck_assert(question.branch == NO_INDEX && question.panel == 0);
    ck_assert(!fault_find_place(house, "no-such", &question, &error));
    error_done(&error);
}
END_TEST

Suite *make_suite(void)
{
    Suite *suite = suite_create("answer");
    TCase *questions = tcase_create("questions");
    tcase_add_checked_fixture(questions, setup, teardown);
    tcase_add_test(questions, a_fault_is_asked_of_a_branch_or_a_panel);
    tcase_add_test(questions, check_counts_its_verdicts);
    tcase_add_test(questions, a_report_chooses_and_tells_what_it_left_out);
    tcase_add_test(questions, a_report_advises_on_the_worst);
    tcase_add_test(questions, the_largest_come_first_and_what_is_not_known_not_at_all);
    tcase_add_test(questions, outlets_without_room_are_counted);
    tcase_add_test(questions, a_report_names_each_number_once);
    tcase_add_loop_test(questions, a_branch_is_over_by_its_loads_by_one_or_otherwise, 0,
                        sizeof cause_rows / sizeof cause_rows[0]);
    tcase_add_test(questions, a_panel_that_is_full_is_known_by_its_branches);
    tcase_add_test(questions, three_lines_are_counted_by_the_heaviest);
    tcase_add_test(questions, sets_are_advised_for_the_first_few);
    tcase_add_test(questions, a_house_that_stands_is_counted_by_the_method_for_such);
    tcase_add_loop_test(questions, one_line_tells_a_fact, 0, sizeof fact_rows / sizeof fact_rows[0]);
    tcase_add_test(questions, a_branch_is_judged_as_the_house_is);
    tcase_add_test(questions, a_load_has_its_resistance_by_how_it_is_connected);
    tcase_add_loop_test(questions, halves_beside_line_loads_are_worked, 0, sizeof mixed_rows / sizeof mixed_rows[0]);
    tcase_add_test(questions, a_list_of_what_is_on_is_read_or_refused);
    tcase_add_test(questions, both_ends_of_the_supply_band_are_compared);
    tcase_add_test(questions, a_wire_is_answered_with_its_drop_and_other_sizes);
    tcase_add_test(questions, a_study_that_does_not_suit_is_refused);
    tcase_add_test(questions, the_worst_loops_come_first);
    tcase_add_test(questions, a_fuse_of_unknown_time_is_told_apart);
    suite_add_tcase(suite, questions);
    return suite;
}
