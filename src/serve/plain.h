/* What the sentences of all faces say with words of a terminal or a house file, in the page's words. */
#ifndef AMPSUM_SERVE_PLAIN_H
#define AMPSUM_SERVE_PLAIN_H

#include "ampsum/text.h"

/*
 * Rewrites the texts of a page (not its tags, nor what stands in pre, code and textarea): options and keys become what
 * the page calls them and where it asks for them.
 */
void plain_words(struct text *html);

#endif
