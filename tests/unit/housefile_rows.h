/* Samples that the tests of the house file share: beginnings of files whose lines are counted. */
#ifndef AMPSUM_TEST_HOUSEFILE_ROWS_H
#define AMPSUM_TEST_HOUSEFILE_ROWS_H

#include "ampsum/housefile.h"

/* Reads a string as the house h.ini; on a fault NULL, and the message is in `error`. */
struct house *read_string(const char *string, struct error *error);

/* True where some line of the messages names the file and line (0: the file alone) and says the text. */
bool message_has(const char *messages, int line, const char *says);

/* The house as text; the caller frees. */
char *write_house(const struct house *house);

/* Lines 1 to 4; what follows begins at line 5. */
#define US "[house]\nname = H\nrules = us\nmain_breaker = 100\n"
#define US_THREE "[house]\nname = H\nrules = us\nmain_breaker = 100\nsystem = three-phase\n" /* line 6 */
#define US_SINGLE "[house]\nname = H\nrules = us\nmain_breaker = 100\nsystem = single-phase\n"
#define IEC "[house]\nname = H\nrules = iec\nmain_breaker = 63\n"
#define UK "[house]\nname = H\nrules = uk\nmain_breaker = 100\n"

/* Four lines: a branch on leg A (us) or the only leg (iec, uk). */
#define US_BRANCH "[branch b]\nlabel = B\nbreaker = 20\nlegs = A\n" /* after US: lines 5 to 8, next 9 */
#define UK_BRANCH "[branch b]\nlabel = B\nbreaker = 32\n"           /* after UK: lines 5 to 7, next 8 */

/* Four lines: a lamp on branch b. */
#define LAMP "[appliance lamp]\nname = Lamp\nbranch = b\npower = 60\n"

#endif
