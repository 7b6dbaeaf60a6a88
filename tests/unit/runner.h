/* What every unit test program shares: one suite, run with Check, reported as TAP. */
#ifndef AMPSUM_TEST_RUNNER_H
#define AMPSUM_TEST_RUNNER_H

#include <check.h>

/* Written by each test file: its one suite. */
Suite *make_suite(void);

#endif
