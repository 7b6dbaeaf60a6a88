/* How answers count: points, tolerance, figures. */
#include <stdlib.h>
#include <string.h>

#include "ampsum/lesson.h"
#include "ampsum/written.h"

enum { POINTS_MOST = 100, PPM_OF_PERCENT = 10000, PERCENT_MOST = 20, FIGURES_MOST = 10 };

/* The words of --points, in the order in which they are shown. */
static const struct {
    const char *word;
    size_t offset;
    unsigned usual;
} point_rows[] = {
    {"value", offsetof(struct lesson_scheme, value), 2},     {"unit", offsetof(struct lesson_scheme, unit), 1},
    {"figures", offsetof(struct lesson_scheme, figures), 1}, {"prefix", offsetof(struct lesson_scheme, prefix), 1},
    {"yesno", offsetof(struct lesson_scheme, yes_no), 2},    {"choice", offsetof(struct lesson_scheme, choice), 2},
    {"arrow", offsetof(struct lesson_scheme, arrow), 1},     {"way", offsetof(struct lesson_scheme, way), 1},
    {"part", offsetof(struct lesson_scheme, part), 1},
};
enum { POINT_ROWS = sizeof point_rows / sizeof point_rows[0] };

static unsigned *points_at(struct lesson_scheme *scheme, size_t row)
{
    return (unsigned *)(void *)((char *)scheme + point_rows[row].offset);
}

void lesson_scheme_usual(struct lesson_scheme *ret_scheme)
{
    *ret_scheme = (struct lesson_scheme){.tolerance_ppm = PPM_OF_PERCENT, .decimal_sign = '.'};
    for (size_t i = 0; i < POINT_ROWS; i++) {
        *points_at(ret_scheme, i) = point_rows[i].usual;
    }
}

/* One `word=n`. */
static bool read_points(const char *word, size_t length, struct lesson_scheme *scheme)
{
    const char *equals = memchr(word, '=', length);
    if (equals == NULL) {
        return false;
    }
    const size_t digits = strspn(equals + 1, "0123456789");
    const unsigned long points = strtoul(equals + 1, NULL, 10);
    const size_t name = (size_t)(equals - word);
    for (size_t i = 0; i < POINT_ROWS; i++) {
        if (strlen(point_rows[i].word) == name && strncmp(point_rows[i].word, word, name) == 0) {
            *points_at(scheme, i) = (unsigned)points;
            return digits > 0 && digits <= 3 && name + 1 + digits == length && points <= POINTS_MOST;
        }
    }
    return false;
}

bool lesson_scheme_points(const char *list, struct lesson_scheme *scheme, struct text *fault)
{
    while (true) {
        list += strspn(list, " ");
        size_t length = strcspn(list, ",");
        size_t word = length;
        while (word > 0 && list[word - 1] == ' ') {
            word--;
        }
        if (!read_points(list, word, scheme)) {
            text_add_char(fault, '\'');
            text_add_length(fault, list, word);
            text_add(fault, "': expected NAME=POINTS with a whole number up to 100, of the names");
            for (size_t i = 0; i < POINT_ROWS; i++) {
                text_printf(fault, "%s %s", i == 0 ? "" : ",", point_rows[i].word);
            }
            return false;
        }
        if (list[length] == '\0') {
            break;
        }
        list += length + 1;
    }
    if (scheme->value == 0) {
        text_add(fault, "value: a number that is right needs at least one point");
        return false;
    }
    return true;
}

void lesson_scheme_show(const struct lesson_scheme *scheme, struct text *text)
{
    struct lesson_scheme copy = *scheme;
    for (size_t i = 0; i < POINT_ROWS; i++) {
        text_printf(text, "%s%s=%u", i == 0 ? "" : ",", point_rows[i].word, *points_at(&copy, i));
    }
}

bool lesson_scheme_tolerance(const char *string, struct lesson_scheme *scheme)
{
    mpq_t percent;
    struct text number = {0};
    size_t length = strlen(string);
    length -= length > 0 && string[length - 1] == '%' ? 1 : 0;
    text_add_length(&number, string, length);
    mpq_init(percent);
    bool ok =
        exact_read(percent, text_string(&number)) && mpq_sgn(percent) >= 0 && mpq_cmp_ui(percent, PERCENT_MOST, 1) <= 0;
    if (ok) {
        mpz_mul_ui(mpq_numref(percent), mpq_numref(percent), PPM_OF_PERCENT);
        mpz_fdiv_q(mpq_numref(percent), mpq_numref(percent), mpq_denref(percent));
        scheme->tolerance_ppm = (unsigned)mpz_get_ui(mpq_numref(percent));
    }
    mpq_clear(percent);
    text_done(&number);
    return ok;
}

void lesson_scheme_percent(const struct lesson_scheme *scheme, struct text *text)
{
    mpq_t percent;
    mpq_init(percent);
    mpq_set_ui(percent, scheme->tolerance_ppm, PPM_OF_PERCENT);
    mpq_canonicalize(percent);
    exact_write_decimal(text, percent, FIGURES_MOST);
    mpq_clear(percent);
}
