/* The rule sets that the program comes with, as places in their table; test_reference holds that they stand there. */
#ifndef AMPSUM_TESTS_RULE_SETS_H
#define AMPSUM_TESTS_RULE_SETS_H

enum { RULES_US, RULES_IEC, RULES_UK };

#endif
