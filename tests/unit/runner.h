/* What every unit test program shares: one suite, run with Check, reported as TAP. */
#ifndef AMPSUM_TEST_RUNNER_H
#define AMPSUM_TEST_RUNNER_H

#include <check.h>

/* How many times a test draws at random: all in the plain build; a tenth under a sanitizer, which looks for other
 * faults and takes five times as long for each. */
#if defined(__has_feature)
#if __has_feature(address_sanitizer)
#define UNDER_SANITIZER 1
#endif
#endif
#if defined(__SANITIZE_ADDRESS__) || defined(UNDER_SANITIZER)
#define DRAWS(count) (((count) + 9) / 10)
#else
#define DRAWS(count) (count)
#endif

/* Written by each test file: its one suite. */
Suite *make_suite(void);

#endif
