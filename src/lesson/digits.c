#include "digits.h"

#include <string.h>
#include <strings.h>

enum { DIGITS_MOST = 40, EXPONENT_MOST = 30, GROUPS_MOST = 16, GROUP = 3 };

static const char own_sign_doubt[] = "doubt.own-sign";

static bool is_digit(char c)
{
    return c >= '0' && c <= '9';
}

static const char *skip_blanks(const char *at)
{
    return at + strspn(at, " ");
}

static bool doubt(struct written *written, const char *why)
{
    written->form = ANSWER_REFUSED;
    written->why = why;
    return false;
}

/* Runs of digits and the signs between them: 1.234,5 is 1 . 234 , 5. */
struct runs {
    const char *start[GROUPS_MOST];
    size_t length[GROUPS_MOST];
    char sign[GROUPS_MOST]; /* in front of the run; 0 of the first */
    size_t count;
    size_t digits;
};

/* A blank or an apostrophe only parts groups of three. */
static bool goes_on(const char *at)
{
    if (*at == '.' || *at == ',') {
        return is_digit(at[1]);
    }
    return (*at == ' ' || *at == '\'') && strspn(at + 1, "0123456789") == GROUP && at[1 + GROUP] != '/';
}

static const char *find_runs(const char *at, struct runs *runs)
{
    char sign = 0;
    do {
        size_t length = strspn(at, "0123456789");
        runs->start[runs->count] = at;
        runs->length[runs->count] = length;
        runs->sign[runs->count++] = sign;
        runs->digits += length;
        at += length;
        sign = *at;
        if (!goes_on(at)) {
            return at;
        }
        at++;
    } while (runs->count < GROUPS_MOST);
    return at;
}

/* Significant digits. Zeros at the end of a whole number may or may not count. */
static void count_figures(const struct runs *runs, bool point, struct written_way *way)
{
    unsigned all = 0;
    unsigned zeros = 0;
    for (size_t i = 0; i < runs->count; i++) {
        for (size_t k = 0; k < runs->length[i]; k++) {
            char c = runs->start[i][k];
            all += all > 0 || c != '0';
            zeros = c == '0' ? zeros + 1 : 0;
        }
    }
    way->figures_most = all;
    way->figures_least = point || zeros >= all ? all : all - zeros;
}

/* All digits as one whole number over 10^decimals. */
static void set_way(const struct runs *runs, size_t decimals, bool point, struct written_way *way)
{
    mpz_ptr whole = mpq_numref(way->number);
    mpz_set_ui(whole, 0);
    for (size_t i = 0; i < runs->count; i++) {
        for (size_t k = 0; k < runs->length[i]; k++) {
            mpz_mul_ui(whole, whole, 10);
            mpz_add_ui(whole, whole, (unsigned long)(runs->start[i][k] - '0'));
        }
    }
    mpz_ui_pow_ui(mpq_denref(way->number), 10, decimals);
    mpq_canonicalize(way->number);
    way->fraction = false;
    way->doubt = NULL;
    count_figures(runs, point, way);
}

/* Groups of three up to run `last`, parted by one sign. */
static bool are_groups(const struct runs *runs, size_t last)
{
    bool ok = runs->length[0] >= 1 && runs->length[0] <= GROUP && runs->start[0][0] != '0';
    for (size_t i = 1; i <= last; i++) {
        ok = ok && runs->length[i] == GROUP && runs->sign[i] == runs->sign[1];
    }
    return ok;
}

/* 2.880: the class's own decimal sign makes it a decimal, the other one thousands first. */
static void set_both_ways(const struct runs *runs, char decimal_sign, struct written *written)
{
    bool own = runs->sign[1] == decimal_sign;
    set_way(runs, GROUP, true, &written->way[own ? 0 : 1]);
    set_way(runs, 0, false, &written->way[own ? 1 : 0]);
    written->way[1].doubt = own ? own_sign_doubt : NULL;
    written->way_count = 2;
}

static bool read_runs(const struct runs *runs, char decimal_sign, struct written *written)
{
    const size_t last = runs->count - 1;
    const bool mark = runs->sign[last] == '.' || runs->sign[last] == ',';
    const bool grouped = last > 0 && are_groups(runs, last);
    if (runs->digits == 0 || runs->digits > DIGITS_MOST || runs->count == GROUPS_MOST) {
        return doubt(written, "doubt.no-number");
    }
    written->way_count = 1;
    if (last == 0) {
        set_way(runs, 0, false, &written->way[0]);
    } else if (grouped && last == 1 && mark) {
        set_both_ways(runs, decimal_sign, written);
    } else if (grouped) {
        set_way(runs, 0, false, &written->way[0]);
    } else if (mark && (last == 1 || (are_groups(runs, last - 1) && runs->sign[last] != runs->sign[1]))) {
        set_way(runs, runs->length[last], true, &written->way[0]);
    } else {
        return doubt(written, "doubt.several");
    }
    return true;
}

/* Takes `ways * 10^exponent`. */
static bool scale(struct written *written, long exponent)
{
    mpq_t power;
    if (exponent > EXPONENT_MOST || exponent < -EXPONENT_MOST) {
        return doubt(written, "doubt.power-size");
    }
    mpq_init(power);
    mpq_set_ui(power, 1, 1);
    mpz_ui_pow_ui(exponent < 0 ? mpq_denref(power) : mpq_numref(power), 10,
                  (unsigned long)(exponent < 0 ? -exponent : exponent));
    for (size_t i = 0; i < written->way_count; i++) {
        mpq_mul(written->way[i].number, written->way[i].number, power);
    }
    mpq_clear(power);
    return true;
}

static const char *read_exponent(const char *at, long *ret_exponent)
{
    bool minus = *at == '-';
    at += *at == '-' || *at == '+';
    *ret_exponent = 0;
    for (; is_digit(*at); at++) {
        *ret_exponent = *ret_exponent > EXPONENT_MOST ? *ret_exponent : *ret_exponent * 10 + (*at - '0');
    }
    *ret_exponent = minus ? -*ret_exponent : *ret_exponent;
    return at;
}

/* 1.25e1, 1.25 x 10^1, 1.25*10**1. */
static bool read_power(const char **at, struct written *written)
{
    const char *c = *at;
    long exponent;
    if ((*c == 'e' || *c == 'E') && is_digit(c[strspn(c + 1, "+-") > 0 ? 2 : 1])) {
        *at = read_exponent(c + 1, &exponent);
        return scale(written, exponent);
    }
    c = skip_blanks(c);
    size_t sign = strncmp(c, "**", 2) == 0 ? 2 : *c == 'x' || *c == 'X' || *c == '*' ? 1 : 0;
    const char *ten = skip_blanks(c + sign);
    if (sign == 0 || strncmp(ten, "10", 2) != 0 || is_digit(ten[2])) {
        return true; /* no power of ten stands here */
    }
    c = skip_blanks(ten + 2);
    const size_t hat = *c == '^' ? 1 : strncmp(c, "**", 2) == 0 ? 2 : 0;
    c = skip_blanks(c + hat);
    if (hat == 0 || !is_digit(c[*c == '-' || *c == '+' ? 1 : 0])) {
        return doubt(written, "doubt.power-sign");
    }
    *at = read_exponent(c, &exponent);
    return scale(written, exponent);
}

static void set_digits(mpz_t whole, const char *start, size_t length)
{
    mpz_set_ui(whole, 0);
    for (size_t i = 0; i < length; i++) {
        mpz_mul_ui(whole, whole, 10);
        mpz_add_ui(whole, whole, (unsigned long)(start[i] - '0'));
    }
}

/* `25/2`, or ` 1/2` behind a whole number; the way is a whole number so far. */
static bool read_fraction(const char **at, struct written *written)
{
    const char *over = skip_blanks(*at);
    const size_t over_length = strspn(over, "0123456789");
    const char *slash = skip_blanks(over + over_length);
    const char *under = *slash == '/' ? skip_blanks(slash + 1) : slash; /* nothing stands behind the end */
    const size_t under_length = *slash == '/' ? strspn(under, "0123456789") : 0;
    const char after = under_length > 0 ? under[under_length] : '\0';
    if (*slash != '/') {
        return true;
    }
    if (under_length == 0 || over_length + under_length > DIGITS_MOST || after == '.' || after == ',') {
        return doubt(written, "doubt.formula");
    }
    struct written_way *way = &written->way[0];
    mpq_t part;
    mpq_init(part);
    set_digits(mpq_denref(part), under, under_length);
    bool ok = mpz_sgn(mpq_denref(part)) != 0;
    if (over_length > 0) {
        set_digits(mpq_numref(part), over, over_length);
    } else {
        mpz_set(mpq_numref(part), mpq_numref(way->number));
        mpq_set_ui(way->number, 0, 1);
    }
    if (ok) {
        mpq_canonicalize(part);
        mpq_add(way->number, way->number, part);
        way->fraction = true;
        *at = under + under_length;
    }
    mpq_clear(part);
    return ok || doubt(written, "doubt.over-0");
}

/* 4k7 and 1R5: the letter stands for the decimal sign. */
static bool read_letter(const char **at, struct written *written)
{
    const char *digits = *at + 1;
    const size_t length = strspn(digits, "0123456789");
    struct written_way *way = &written->way[0];
    mpq_t part;
    if (length == 0 || length > DIGITS_MOST / 2) {
        return true;
    }
    mpq_init(part);
    set_digits(mpq_numref(part), digits, length);
    mpz_ui_pow_ui(mpq_denref(part), 10, length);
    mpq_canonicalize(part);
    mpq_add(way->number, way->number, part);
    mpq_clear(part);
    way->figures_least = way->figures_most += (unsigned)length;
    written->has_unit = true;
    written->quantity = EXACT_RESISTANCE;
    mpq_set_ui(written->factor, **at == 'R' ? 1 : **at == 'M' ? 1000000 : 1000, 1);
    const char *sign = skip_blanks(digits + length); /* 4k7 ohm: said twice */
    *at = strcasecmp(sign, "ohm") == 0 || strcasecmp(sign, "ohms") == 0 ? sign + strlen(sign) : digits + length;
    return true;
}

bool digits_read(const char **at, const struct written_context *context, struct written *ret_written)
{
    struct runs runs = {0};
    const char *c = *at;
    const bool minus = *c == '-';
    c = skip_blanks(c + (*c == '-' || *c == '+'));
    const bool fraction_first = (*c == '.' || *c == ',') && is_digit(c[1]);
    if (fraction_first) { /* .667: an empty run before the sign */
        runs = (struct runs){.start = {c}, .count = 1};
        struct runs behind = {0};
        const char *end = find_runs(c + 1, &behind);
        if (behind.count > 1) {
            return doubt(ret_written, "doubt.several");
        }
        runs.start[1] = c + 1;
        runs.length[1] = behind.length[0];
        runs.sign[1] = *c;
        runs.count = 2;
        runs.digits = behind.digits;
        c = end;
    } else {
        c = find_runs(c, &runs);
    }
    if (!read_runs(&runs, context->decimal_sign, ret_written)) {
        return false;
    }
    bool ok = true;
    if (runs.count == 1 && context->measure == EXACT_RESISTANCE && *c != '\0' && strchr("RkKM", *c) != NULL) {
        ok = read_letter(&c, ret_written);
    } else if (runs.count == 1) {
        ok = read_fraction(&c, ret_written);
    }
    if (*c == '.' && !is_digit(c[1])) {
        c++; /* 12. A: the point counts all digits */
        ret_written->way[0].figures_least = ret_written->way[0].figures_most;
    }
    ok = ok && read_power(&c, ret_written);
    for (size_t i = 0; i < ret_written->way_count && minus; i++) {
        mpq_neg(ret_written->way[i].number, ret_written->way[i].number);
    }
    *at = c;
    return ok;
}
