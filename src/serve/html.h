/* Markup with every stranger's word escaped: html_add is the only way by which text gets into a page. */
#ifndef AMPSUM_SERVE_HTML_H
#define AMPSUM_SERVE_HTML_H

#include "ampsum/text.h"

/* Appends `string` with & < > " ' as entities, and what is no UTF-8 or a control character as U+FFFD. */
void html_escape(struct text *html, const char *string);

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
