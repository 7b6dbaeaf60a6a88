/* The circuit of a question, drawn with lines. */
#ifndef AMPSUM_DRAW_LESSON_CIRCUIT_H
#define AMPSUM_DRAW_LESSON_CIRCUIT_H

#include <pango/pangocairo.h>

#include "ampsum/lesson.h"

/* Height that the drawing takes, in points; 0 for a question without one. */
double circuit_height_pt(const struct lesson_question *question);

/*
 * Draws it with its upper left corner at x, y, at most `width_pt` wide. `layout` is used for the lettering, in its own
 * font. Returns the number of characters that no font could show.
 */
int circuit_draw(cairo_t *cairo, PangoLayout *layout, const struct lesson_question *question, double x_pt, double y_pt,
                 double width_pt);

#endif
