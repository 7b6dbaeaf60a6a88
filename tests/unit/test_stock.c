#include "runner.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "ampsum/stock.h"

/* OEIS A048211: distinct values of series-parallel networks of n equal resistors. */
static const size_t published_counts[] = {0, 1, 2, 4, 9, 22, 53, 131, 337, 869, 2213, 5691, 14517};

START_TEST(counts_are_those_published)
{
    size_t counts[13];
    stock_count_alike(12, counts);
    for (size_t n = 1; n <= 12; n++) {
        ck_assert_uint_eq(counts[n], published_counts[n]);
    }
}
END_TEST

static uint64_t next(uint64_t *state)
{
    *state = *state * 6364136223846793005U + 1442695040888963407U;
    return *state >> 33;
}

/*
 * Exhaustive search of its own: joins any two of the networks at hand, in series or in parallel, in plain doubles,
 * until one is left or the subset is used up. Visits every network of every subset. Least number of parts that comes
 * within 1e-9 of the wanted value, and least error over all.
 */
struct exhaustive {
    double wanted;
    unsigned fewest;
    double least_error;
};

static void look(struct exhaustive *search, const double *ohm, const unsigned *parts, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        double error = fabs(ohm[i] - search->wanted);
        search->least_error = fmin(search->least_error, error);
        if (error < 1e-9 * search->wanted && parts[i] < search->fewest) {
            search->fewest = parts[i];
        }
    }
    for (size_t i = 0; i < count; i++) {
        for (size_t j = i + 1; j < count; j++) {
            double next_ohm[6];
            unsigned next_parts[6];
            size_t rest = 0;
            for (size_t k = 0; k < count; k++) {
                if (k != i && k != j) {
                    next_ohm[rest] = ohm[k];
                    next_parts[rest++] = parts[k];
                }
            }
            next_parts[rest] = parts[i] + parts[j];
            next_ohm[rest] = ohm[i] + ohm[j];
            look(search, next_ohm, next_parts, rest + 1);
            next_ohm[rest] = ohm[i] * ohm[j] / (ohm[i] + ohm[j]);
            look(search, next_ohm, next_parts, rest + 1);
        }
    }
}

static double recompute(const struct stock_answer *answer, size_t node)
{
    const struct network_node *it = &answer->nodes[node];
    if (it->kind == NETWORK_PART) {
        return mpq_get_d(it->ohm);
    }
    double left = recompute(answer, it->left);
    double right = recompute(answer, it->right);
    return it->kind == NETWORK_SERIES ? left + right : left * right / (left + right);
}

static unsigned leaves(const struct stock_answer *answer, size_t *used)
{
    unsigned count = 0;
    for (size_t i = 0; i < answer->count; i++) {
        if (answer->nodes[i].kind == NETWORK_PART) {
            used[answer->nodes[i].part]++;
            count++;
        }
    }
    return count;
}

static void compare_with_exhaustive(struct stock *stock, const double *ohm, size_t count, const mpq_t wanted)
{
    unsigned ones[6] = {1, 1, 1, 1, 1, 1};
    struct exhaustive search = {.wanted = mpq_get_d(wanted), .fewest = 99, .least_error = INFINITY};
    look(&search, ohm, ones, count);
    struct stock_answer answer;
    stock_find(stock, wanted, (unsigned)count, &answer);
    ck_assert_int_eq(answer.exact, search.fewest < 99);
    ck_assert(answer.complete);
    if (answer.exact) {
        ck_assert_uint_eq(answer.parts, search.fewest);
    }
    double got = recompute(&answer, answer.root);
    ck_assert_double_eq_tol(got, mpq_get_d(answer.nodes[answer.root].ohm), 1e-9 * got);
    ck_assert_double_eq_tol(fabs(got - search.wanted), search.least_error, 1e-9 * search.wanted);
    size_t used[6] = {0};
    ck_assert_uint_eq(leaves(&answer, used), answer.parts);
    for (size_t i = 0; i < stock->count; i++) {
        ck_assert(stock->parts[i].most == 0 || used[i] <= stock->parts[i].most);
    }
    stock_answer_done(&answer);
}

/* Stocks of different parts, each there once; wanted values that some network makes, and others. */
START_TEST(mixed_stock_agrees_with_exhaustive_search)
{
    uint64_t state = 3;
    for (int turn = 0; turn < 60; turn++) {
        size_t count = 1 + next(&state) % 5;
        struct stock stock = {0};
        double ohm[6];
        mpq_t value;
        mpq_init(value);
        for (size_t i = 0; i < count; i++) {
            unsigned long ohms = 1 + next(&state) % 60;
            mpq_set_ui(value, ohms, 1);
            stock_add(&stock, value, 1);
            ohm[i] = (double)ohms;
        }
        mpq_set_ui(value, 1 + next(&state) % 120, 1 + next(&state) % 4);
        mpq_canonicalize(value);
        compare_with_exhaustive(&stock, ohm, count, value);
        stock_done(&stock);
        mpq_clear(value);
    }
}
END_TEST

START_TEST(six_alike_agree_with_exhaustive_search)
{
    static const unsigned long wanted[][2] = {{17, 1}, {34, 1}, {102, 1}, {68, 7}, {390, 11},
                                              {33, 1}, {68, 6}, {180, 1}, {41, 1}, {240, 7}};
    struct stock stock = {0};
    mpq_t value;
    mpq_init(value);
    mpq_set_ui(value, 68, 1);
    stock_add(&stock, value, 0);
    double ohm[6] = {68, 68, 68, 68, 68, 68};
    for (size_t i = 0; i < sizeof wanted / sizeof wanted[0]; i++) {
        mpq_set_ui(value, wanted[i][0], wanted[i][1]);
        mpq_canonicalize(value);
        compare_with_exhaustive(&stock, ohm, 6, value);
    }
    stock_done(&stock);
    mpq_clear(value);
}
END_TEST

/* OEIS A006351: series-parallel networks of n labelled parts. Primes: no two networks give one value. */
START_TEST(number_of_values_of_different_parts)
{
    static const unsigned long primes[] = {101, 211, 307, 401, 503, 601};
    static const size_t published[] = {0, 1, 2, 8, 52, 472, 5504};
    for (size_t count = 1; count <= 6; count++) {
        struct stock stock = {0};
        mpq_t value;
        mpq_init(value);
        for (size_t i = 0; i < count; i++) {
            mpq_set_ui(value, primes[i], 1);
            stock_add(&stock, value, 1);
        }
        ck_assert_uint_eq(stock_count_different(&stock), published[count]);
        stock_done(&stock);
        mpq_clear(value);
    }
}
END_TEST

static void find_words(const char *list, const char *wanted_ohm, const char *want_words, const char *want_drawing)
{
    struct stock stock = {0};
    struct stock_answer answer;
    struct text fault = {0};
    struct text words = {0};
    struct text drawing = {0};
    mpq_t wanted;
    mpq_init(wanted);
    mpq_set_str(wanted, wanted_ohm, 10);
    ck_assert_msg(stock_read(list, &stock, &fault), "%s", text_string(&fault));
    stock_find(&stock, wanted, 8, &answer);
    stock_words(&words, &stock, &answer);
    stock_draw(&drawing, &stock, &answer);
    ck_assert_str_eq(text_string(&words), want_words);
    ck_assert_str_eq(text_string(&drawing), want_drawing);
    stock_answer_done(&answer);
    stock_done(&stock);
    text_done(&fault);
    text_done(&words);
    text_done(&drawing);
    mpq_clear(wanted);
}

START_TEST(networks_are_drawn)
{
    find_words("68 ohm", "17", "68 ohm || 68 ohm || 68 ohm || 68 ohm",
               "o--+--[68 ohm]--+--o\n"
               "   +--[68 ohm]--+\n"
               "   +--[68 ohm]--+\n"
               "   +--[68 ohm]--+\n");
    find_words("56 ohm", "42", "56 ohm || (56 ohm + 56 ohm + 56 ohm)",
               "o--+--[56 ohm]--------------------------+--o\n"
               "   +--[56 ohm]----[56 ohm]----[56 ohm]--+\n");
    find_words("4.7 kohm*1", "4700", "4700 ohm", "o--[4700 ohm]--o\n");
}
END_TEST

/* Voltages and powers: each part's power adds up to what the source gives. */
START_TEST(powers_add_up)
{
    struct stock stock = {0};
    struct stock_answer answer;
    struct text fault = {0};
    mpq_t value;
    mpq_t sum;
    mpq_inits(value, sum, NULL);
    ck_assert(stock_read("12 ohm", &stock, &fault));
    mpq_set_ui(value, 30, 1);
    stock_find(&stock, value, 8, &answer);
    ck_assert(answer.exact);
    mpq_t *volt = malloc(answer.count * sizeof *volt);
    mpq_t *watt = malloc(answer.count * sizeof *watt);
    for (size_t i = 0; i < answer.count; i++) {
        mpq_inits(volt[i], watt[i], NULL);
    }
    mpq_set_ui(value, 13, 1);
    stock_powers(&answer, value, volt, watt);
    for (size_t i = 0; i < answer.count; i++) {
        if (answer.nodes[i].kind == NETWORK_PART) {
            mpq_add(sum, sum, watt[i]);
        }
    }
    ck_assert_int_eq(mpq_cmp_ui(sum, 169, 30), 0); /* 13 V squared over 30 ohm */
    for (size_t i = 0; i < answer.count; i++) {
        mpq_clears(volt[i], watt[i], NULL);
    }
    free(volt);
    free(watt);
    stock_answer_done(&answer);
    stock_done(&stock);
    text_done(&fault);
    mpq_clears(value, sum, NULL);
}
END_TEST

START_TEST(lists_that_cannot_be_read)
{
    static const char *const lists[] = {"",       "56 V",  "56 ohm*", "56 ohm*0",           "56 ohm*2x", "56 ohm,",
                                        "-3 ohm", "0 ohm", "ten",     "56 ohm*99999999999", "2,5 ohm,"};
    for (size_t i = 0; i < sizeof lists / sizeof lists[0]; i++) {
        struct stock stock = {0};
        struct text fault = {0};
        ck_assert_msg(!stock_read(lists[i], &stock, &fault), "\"%s\" was read", lists[i]);
        ck_assert_uint_gt(fault.length, 0);
        stock_done(&stock);
        text_done(&fault);
    }
}
END_TEST

START_TEST(series_surround_the_wanted_value)
{
    struct stock stock = {0};
    unsigned tolerance = 0;
    mpq_t wanted;
    mpq_init(wanted);
    mpq_set_ui(wanted, 137, 1);
    ck_assert(stock_series("E12", 3, wanted, &stock, &tolerance));
    ck_assert_uint_eq(tolerance, 10);
    ck_assert_uint_eq(stock.count, 36);
    ck_assert_int_eq(mpq_cmp_ui(stock.parts[0].ohm, 10, 1), 0);
    ck_assert_int_eq(mpq_cmp_ui(stock.parts[35].ohm, 8200, 1), 0);
    ck_assert(!stock_series("E13", 3, wanted, &stock, &tolerance));
    stock_done(&stock);
    mpq_clear(wanted);
}
END_TEST

Suite *make_suite(void)
{
    Suite *suite = suite_create("stock");
    TCase *tests = tcase_create("stock");
    tcase_set_timeout(tests, 60);
    tcase_add_test(tests, counts_are_those_published);
    tcase_add_test(tests, mixed_stock_agrees_with_exhaustive_search);
    tcase_add_test(tests, six_alike_agree_with_exhaustive_search);
    tcase_add_test(tests, number_of_values_of_different_parts);
    tcase_add_test(tests, networks_are_drawn);
    tcase_add_test(tests, powers_add_up);
    tcase_add_test(tests, lists_that_cannot_be_read);
    tcase_add_test(tests, series_surround_the_wanted_value);
    suite_add_tcase(suite, tests);
    return suite;
}
