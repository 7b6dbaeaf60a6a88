/* Markup of the pages: html_add is the only way by which text gets into one; it escapes with markup_add. */
#ifndef AMPSUM_SERVE_HTML_H
#define AMPSUM_SERVE_HTML_H

#include "ampsum/text.h"

/*
 * Appends `format` as markup, with the arguments escaped:
 *
 *   %s  const char *, escaped; NULL gives nothing
 *   %z  size_t
 *   %0 %1 %2  double with that many decimals; `-` where it is not known
 *   %r  double as short as it reads (12.5, 3)
 *   %%  a per cent sign
 */
void html_add(struct text *html, const char *format, ...);

/* Appends `string` for the query of an address: all but letters, digits, - . _ as %XX. */
void html_query(struct text *html, const char *string);

#endif
