/* How many places for plugs a branch has. Limits 4. Inside the rules only. */
#ifndef AMPSUM_RULES_CONTACTS_H
#define AMPSUM_RULES_CONTACTS_H

#include "ampsum/model.h"

/* Places for plugs of an outlet: none where only fastened loads hang on it, or lights without a plug. */
int outlet_contacts(const struct house *house, size_t outlet);

/*
 * Of a branch: the sum of its outlets'. Where it lists none: 0 where all its loads are fastened, 1 where it is kept for
 * one appliance, else 2, which stands for several.
 */
int branch_contacts(const struct house *house, size_t branch);

/*
 * Ratings of which breakers and fuses are made under the house's rules and edition, ampere: the smallest that is no
 * less than a current (NAN: none), and the largest that is no more than a limit (0: none). In ampacity.c.
 */
double next_standard_size_a(const struct house *house, double current_a);
double standard_size_at_most_a(const struct house *house, double limit_a);

#endif
