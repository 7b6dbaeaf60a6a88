/* The one way by which a stranger's words get into a page: HTML of the local page and of the report, and SVG. */
#ifndef AMPSUM_MARKUP_H
#define AMPSUM_MARKUP_H

#include "ampsum/text.h"

/*
 * Appends `string` to markup (text or a quoted attribute of HTML or XML): & < > " ' as entities; control characters but
 * line break and tab, bidirectional controls, U+FFFE, U+FFFF and what is no UTF-8 as U+FFFD. NULL appends nothing.
 *
 * Source: HTML Living Standard 13.1.2 (entities), XML 1.0 2.2 (characters). Checked: tests/unit/test_serve.c
 * (names_stay_text, no_byte_becomes_markup).
 */
void markup_add(struct text *text, const char *string);

#endif
