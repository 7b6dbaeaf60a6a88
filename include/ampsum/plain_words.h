/* What the sentences of all faces say with words of a terminal or a house file, in people's words. */
#ifndef AMPSUM_PLAIN_WORDS_H
#define AMPSUM_PLAIN_WORDS_H

#include "ampsum/text.h"

/*
 * Rewrites the texts of a page (not its tags, nor what stands in pre, code and textarea): options and keys become what
 * the page calls them and where it asks for them. Called once, where a page ends (page_end).
 */
void plain_words(struct text *html);

/* The same of a sentence that goes on paper, which no markup is in and nothing asks on. */
void plain_paper(struct text *text);

#endif
