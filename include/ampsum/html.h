/*
 * Markup of the local page: html_add is the only way by which text gets into one; it escapes with markup_add.
 *
 * Checked: tests/unit/html_format.c, test_serve.c.
 */
#ifndef AMPSUM_HTML_H
#define AMPSUM_HTML_H

#include <stdarg.h>

#include "ampsum/text.h"

/*
 * Appends `format` as markup, with the arguments escaped. Formats and arguments are checked by the compiler as printf's
 * are; of printf's conversions these alone are known (another one asserts):
 *
 *   %s              const char *, escaped; NULL gives nothing
 *   %zu             size_t
 *   %.0f %.1f %.2f  double with that many decimals, a point in every locale; `-` where it is not known
 *   %g              double as short as it reads, at most 3 decimals (12.5, 3)
 *   %%              a per cent sign
 */
void html_add(struct text *html, const char *format, ...) __attribute__((format(printf, 2, 3)));

/* As html_add, for a function that has taken a list of arguments itself; the caller starts and ends the list. */
void html_add_list(struct text *html, const char *format, va_list arguments) __attribute__((format(printf, 2, 0)));

/* Appends `string` for the query of an address: all but letters, digits, - . _ as %XX. */
void html_query(struct text *html, const char *string);

#endif
