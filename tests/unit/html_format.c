/* Compiled by itself: as it stands it is right; with WRONG a text goes where a number is written, which must not pass.
 */
#include "ampsum/html.h"

void add(struct text *html);

void add(struct text *html)
{
#ifdef WRONG
    html_add(html, "%.1f A", "kettle");
#else
    html_add(html, "%s %zu %.1f %g%%", "kettle", (size_t)1, 8.7, 12.5);
#endif
}
