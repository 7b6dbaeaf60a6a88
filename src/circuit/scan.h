/* One line that somebody typed, read from left to right: numbers, units, names; faults with a caret below the place. */
#ifndef AMPSUM_CIRCUIT_SCAN_H
#define AMPSUM_CIRCUIT_SCAN_H

#include "ampsum/circuit.h"

struct scan {
    const char *line;
    const char *at;
    struct circuit_fault *fault;
};

/* What stands behind a number. */
enum scan_unit { SCAN_BARE, SCAN_OHM, SCAN_SIEMENS, SCAN_WATT, SCAN_AMPERE, SCAN_VOLT };

void circuit_number_init(struct circuit_number *number);
void circuit_number_done(struct circuit_number *number);

/* `good` as it is; where it is false, the fault is about that, unless that was said before. */
bool circuit_about(struct circuit_fault *fault, enum circuit_about about, bool good);

/* Sets the fault, unless one is set, with the status and the sentence refuse.KEY, its places filled as `say` does;
 * always false. */
bool circuit_fail(struct circuit_fault *fault, enum circuit_status status, const char *key, ...)
    __attribute__((sentinel));

/* The same for a place in the line: two lines follow, the line itself and the caret. */
bool scan_fail(struct scan *scan, const char *place, const char *key, ...) __attribute__((sentinel));

/* The same for a sentence whose one place is a number. */
bool scan_fail_most(struct scan *scan, const char *place, const char *key, int most);

void scan_blanks(struct scan *scan);

/* Takes the string where it stands next; false, nothing taken, where it does not. */
bool scan_take(struct scan *scan, const char *string);

/* Takes the word where it stands next and no letter or digit follows. */
bool scan_word(struct scan *scan, const char *word);

/* Bytes of a bar (`|`, `||`, `//`, `‖`, `∥`), of a minus sign in any spelling, of a letter of a name at `at`; 0: none.
 */
size_t scan_bar_bytes(const char *at);
size_t scan_minus_bytes(const char *at);
size_t scan_letter_bytes(const char *at);

/* A number and no unit: `4700`, `4.7e3`, `2/3`. ret_whole: digits alone. */
bool scan_number(struct scan *scan, struct circuit_number *ret_number, bool *ret_whole);

/*
 * The unit behind a number, if any; multiplies the number by its prefix. `4k7` is read here too: digits behind the
 * letter. `whole` as scan_number gave it.
 */
bool scan_unit(struct scan *scan, bool whole, struct circuit_number *number, enum scan_unit *ret_unit);

/* Is the value from 1e-12 to 1e12? Else the fault at `place`: that of 0, too small, too large. */
bool scan_in_range(struct scan *scan, const char *place, const mpq_t value, const char *zero);

#endif
