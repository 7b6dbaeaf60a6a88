/* What the pages of the day and of the cost share. */
#ifndef AMPSUM_SERVE_VIEW_COST_H
#define AMPSUM_SERVE_VIEW_COST_H

#include "site.h"

/* The links between the pages; `path` is the one shown. */
void cost_links(struct visit *visit, const char *path);

/* A paragraph; `class` NULL: none. Empties the text. */
void cost_paragraph(struct text *html, const char *class, struct text *sentence);

#endif
