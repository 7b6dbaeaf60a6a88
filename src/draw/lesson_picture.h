/* The circuit of a question as a picture, of the same signs as the report's. */
#ifndef AMPSUM_DRAW_LESSON_PICTURE_H
#define AMPSUM_DRAW_LESSON_PICTURE_H

#include "ampsum/lesson_figure.h"
#include "ladder.h"

/*
 * Memory from `arena`; the figure must outlive it. Nothing is cut: what is long is broken into lines. The look's width
 * is that of a circuit of two rails, another is as wide as is usual.
 */
struct picture lesson_picture(const struct lesson_figure *figure, const struct ladder_look *look, struct arena *arena);

#endif
