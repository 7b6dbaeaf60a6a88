#include "runner.h"

#include <math.h>
#include <string.h>

#include "ampsum/steps.h"

static struct steps_load resistive(const char *name, double power_w, double voltage_v)
{
    double current_a = power_w / voltage_v;
    return (struct steps_load){.name = name,
                               .units = 1,
                               .power_w = power_w,
                               .apparent_va = power_w,
                               .current_a = current_a,
                               .unit_current_a = current_a,
                               .planned_a = current_a,
                               .planning_a = current_a,
                               .counted = true};
}

static const char *working(const struct steps_branch_input *input, bool utf8, struct text *text)
{
    struct steps steps = {0};
    steps_branch(input, &steps);
    steps_write(text, &steps, "", utf8);
    steps_done(&steps);
    return text_string(text);
}

static void holds(const char *all, const char *want)
{
    ck_assert_msg(strstr(all, want) != NULL, "no \"%s\" in:\n%s", want, all);
}

/* University Physics volume 2, section 10.2, parallel example (OpenStax): 3.00 V; 1.00, 2.00, 2.00 ohm. */
START_TEST(textbook_branch_is_worked_both_ways)
{
    struct steps_load loads[] = {resistive("first", 9, 3), resistive("second", 4.5, 3), resistive("third", 4.5, 3)};
    struct steps_branch_input input = {.voltage_v = 3,
                                       .poles = 1,
                                       .breaker_a = 15,
                                       .continuous_factor = 1,
                                       .largest_motor_factor = 1,
                                       .loads = loads,
                                       .load_count = 3};
    struct text text = {0};
    const char *all = working(&input, false, &text);
    holds(all, "first: R = V^2 / P = (3 V)^2 / 9 W = 1 ohm\n");
    holds(all, "second: I = P / V = 4.5 W / 3 V = 1.5 A\n");
    holds(all, "All together: I = I1 + I2 + ... = 3 A + 1.5 A + 1.5 A = 6 A\n");
    holds(all, "All together: R = 1 / (1/R1 + 1/R2 + ...) = 1 / (1/1 ohm + 1/2 ohm + 1/2 ohm) = 0.5 ohm\n");
    holds(all, "The other way: R = V / I = 3 V / 6 A = 0.5 ohm\n");
    holds(all, "Check: the two ways agree: 0.5 ohm and 0.5 ohm\n");
    holds(all, "Power the other way: P = V x I = 3 V x 6 A = 18 W\n");
    holds(all, "Breaker: headroom = breaker - planning current = 15 A - 6 A = 9 A\n");
    ck_assert_ptr_null(strstr(all, "differ"));
    text_done(&text);
}
END_TEST

/* J. Bird's exercise (check values F-25): lamps 10 A pf 1, 8 A pf 0.7, motor 3 kVA pf 0.8, 250 V: 28.32 A, 6.30 kW. */
START_TEST(reactive_loads_add_by_powers)
{
    struct steps_load loads[] = {resistive("lamps", 2500, 250), resistive("tubes", 1400, 250),
                                 resistive("motor", 2400, 250)};
    loads[1].apparent_va = 2000;
    loads[1].reactive_var = sqrt(2000.0 * 2000 - 1400.0 * 1400);
    loads[1].current_a = loads[1].planned_a = loads[1].planning_a = 8;
    loads[2].apparent_va = 3000;
    loads[2].reactive_var = 1800;
    loads[2].current_a = loads[2].unit_current_a = loads[2].planned_a = 12;
    loads[2].planning_a = 15;
    loads[2].largest_motor = true;
    struct steps_branch_input input = {.voltage_v = 250,
                                       .poles = 1,
                                       .breaker_a = 20,
                                       .continuous_factor = 1.25,
                                       .continuous_hours = 2,
                                       .largest_motor_factor = 1.25,
                                       .loads = loads,
                                       .load_count = 3};
    struct text text = {0};
    const char *all = working(&input, true, &text);
    holds(all, "motor: I = S / V = 3000 VA / 250 V = 12 A\n");
    holds(all, "All together: P = P1 + P2 + … = 2500 W + 1400 W + 2400 W = 6300 W\n");
    holds(all, "I = S / V = 7079 VA / 250 V ≈ 28.32 A\n");
    holds(all, "so the plain sum 30 A is more than a clamp meter's 28.32 A\n");
    holds(all, "12 A + (1.25 − 1) × 12 A = 15 A\n");
    holds(all, "20 A − 33 A = -13 A\n");
    text_done(&text);
}
END_TEST

START_TEST(empty_branch_says_so)
{
    struct steps_branch_input input = {.voltage_v = 120, .poles = 1, .breaker_a = 20};
    struct text text = {0};
    const char *all = working(&input, false, &text);
    holds(all, "nothing is on");
    holds(all, "20 A - 0 A = 20 A");
    text_done(&text);
}
END_TEST

START_TEST(names_stay_as_written_in_ascii)
{
    struct steps_load load = resistive("Öfen × 2", 1500, 120);
    load.units = 2;
    load.counted = false;
    struct steps_branch_input input = {.voltage_v = 120, .poles = 1, .breaker_a = 20, .loads = &load, .load_count = 1};
    struct text text = {0};
    const char *all = working(&input, false, &text);
    holds(all, "Öfen × 2: P = n x P of one = 2 x 750 W = 1500 W\n");
    holds(all, "Öfen × 2: not counted");
    text_done(&text);
}
END_TEST

START_TEST(figures_keep_four_digits)
{
    static const struct {
        double value;
        const char *want;
        bool rounded;
    } rows[] = {{12.5, "12.5 A", false}, {25.0 / 3, "8.333 A", true}, {1500, "1500 A", false},
                {0, "0 A", false},       {0.625, "0.625 A", false},   {1.0 / 1600, "0.000625 A", false},
                {-5.4, "-5.4 A", false}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct text text = {0};
        ck_assert_int_eq(steps_figure(&text, rows[i].value, "A"), rows[i].rounded);
        ck_assert_str_eq(text_string(&text), rows[i].want);
        text_done(&text);
    }
}
END_TEST

/* 20 A / 25/12 A would be another sum. */
START_TEST(a_fraction_below_the_line_is_in_brackets)
{
    static const char *const currents[] = {"20 A", "25/12 A"};
    static const char *const resistors[] = {"12/5 ohm", "3 ohm"};
    struct steps steps = {0};
    struct text text = {0};
    steps_add(&steps, STEP_LOADS_WITHIN, "loads", currents, 2, "9", false);
    steps_add(&steps, STEP_RESISTANCE_PARALLEL, "all", resistors, 2, "4/3 ohm", false);
    steps_write(&text, &steps, "", true);
    holds(text_string(&text), "20 A / (25/12 A) = 9\n");
    holds(text_string(&text), "1 / (1/(12/5 ohm) + 1/3 ohm) = 4/3 ohm\n");
    steps_done(&steps);
    text_done(&text);
}
END_TEST

Suite *make_suite(void)
{
    Suite *suite = suite_create("steps");
    TCase *tests = tcase_create("steps");
    tcase_add_test(tests, textbook_branch_is_worked_both_ways);
    tcase_add_test(tests, a_fraction_below_the_line_is_in_brackets);
    tcase_add_test(tests, reactive_loads_add_by_powers);
    tcase_add_test(tests, empty_branch_says_so);
    tcase_add_test(tests, names_stay_as_written_in_ascii);
    tcase_add_test(tests, figures_keep_four_digits);
    suite_add_tcase(suite, tests);
    return suite;
}
