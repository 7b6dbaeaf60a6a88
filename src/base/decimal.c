#include "ampsum/decimal.h"

#include <math.h>
#include <stddef.h>

static const double tens[] = {1e0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12}; /* all exact */

static const double most = 1e15; /* below it every whole number, and half of it, is a double */

bool decimal_short(double value, struct decimal *ret)
{
    enum { DECIMALS_MOST = 6 };
    for (int decimals = 0; decimals <= DECIMALS_MOST && value >= 0; decimals++) {
        const double digits = nearbyint(value * tens[decimals]);
        if (!(digits < most)) {
            return false;
        }
        /* Both are exact, so that the quotient is the double nearest to that decimal: what reading it would give. */
        if (digits / tens[decimals] == value) {
            *ret = (struct decimal){(uint64_t)digits, decimals};
            return true;
        }
    }
    return false;
}

bool decimal_rounded(double value, int decimals, struct decimal *ret)
{
    const double product = value * tens[decimals];
    if (!(value >= 0 && product < most)) {
        return false;
    }
    /*
     * value x 10^decimals is product + rest exactly. Only where the product lies in the very middle of two whole
     * numbers can the rest decide; in the middle of it all the even one holds, which nearbyint took.
     */
    const double rest = fma(value, tens[decimals], -product);
    double digits = nearbyint(product);
    if (fabs(product - digits) == 0.5 && rest != 0) {
        digits = rest > 0 ? ceil(product) : floor(product);
    }
    *ret = (struct decimal){(uint64_t)digits, decimals};
    return true;
}

void text_add_decimal(struct text *text, bool minus, struct decimal decimal)
{
    char written[24];
    char *at = written + sizeof written;
    const char *end = at;
    uint64_t digits = decimal.digits;
    for (int i = 0; i <= decimal.decimals || digits > 0; i++) {
        if (i == decimal.decimals && i > 0) {
            *--at = '.';
        }
        *--at = (char)('0' + digits % 10);
        digits /= 10;
    }
    if (minus) {
        *--at = '-';
    }
    text_add_length(text, at, (size_t)(end - at));
}
