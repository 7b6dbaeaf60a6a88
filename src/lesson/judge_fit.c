/* When a written number is a value, and whether its figures are those asked for. */
#include <stdlib.h>

#include "judge.h"

enum { PPM = 1000000, FIGURES_LEAST = 2 };

/* Half a unit in the last of `figures` places of `value`, which is not 0. */
static void half_place(mpq_t ret_half, const mpq_t value, unsigned figures)
{
    long exponent = exact_exponent(value) - (long)figures + 1;
    mpq_set_ui(ret_half, 1, 1);
    mpz_ui_pow_ui(exponent < 0 ? mpq_denref(ret_half) : mpq_numref(ret_half), 10, (unsigned long)labs(exponent));
    mpq_div_2exp(ret_half, ret_half, 1);
}

static void distance(mpq_t ret, const mpq_t a, const mpq_t b)
{
    mpq_sub(ret, a, b);
    mpq_abs(ret, ret);
}

/* True where `written`, a number of `figures` figures, is the value rounded to them; a tie either way. */
static bool is_rounded(const mpq_t written, const mpq_t value, unsigned figures)
{
    mpq_t half;
    mpq_t off;
    mpq_inits(half, off, NULL);
    half_place(half, value, figures);
    distance(off, written, value);
    bool rounded = mpq_cmp(off, half) <= 0;
    mpq_clears(half, off, NULL);
    return rounded;
}

bool written_agrees(const struct written_way *way, const mpq_t written, const mpq_t value)
{
    if (mpq_equal(written, value)) {
        return true;
    }
    if (way->fraction || mpq_sgn(value) == 0) {
        return false;
    }
    bool agrees = false;
    unsigned least = way->figures_least > FIGURES_LEAST ? way->figures_least : FIGURES_LEAST;
    for (unsigned figures = least; figures <= way->figures_most && !agrees; figures++) {
        agrees = is_rounded(written, value, figures);
    }
    return agrees;
}

bool written_fits(const struct written_way *way, const mpq_t written, const mpq_t value, unsigned tolerance_ppm)
{
    if (written_agrees(way, written, value)) {
        return true;
    }
    mpq_t most;
    mpq_t off;
    mpq_inits(most, off, NULL);
    mpq_set_ui(most, tolerance_ppm, PPM);
    mpq_canonicalize(most);
    mpq_mul(most, most, value);
    mpq_abs(most, most);
    distance(off, written, value);
    bool near = mpq_sgn(written) == mpq_sgn(value) && mpq_cmp(off, most) <= 0;
    mpq_clears(most, off, NULL);
    return near;
}

bool written_figures_fit(const struct written_way *way, const mpq_t written, const mpq_t value, unsigned figures)
{
    if (way->fraction || mpq_sgn(value) == 0) {
        return true;
    }
    if (mpq_equal(written, value)) {
        return way->figures_least <= figures || way->figures_least <= exact_digits(way->number);
    }
    return way->figures_least <= figures && figures <= way->figures_most && is_rounded(written, value, figures);
}
