/* The circuit of a question as a picture, of the same signs as the report's. */
#ifndef AMPSUM_DRAW_LESSON_PICTURE_H
#define AMPSUM_DRAW_LESSON_PICTURE_H

#include "ampsum/lesson_figure.h"
#include "ampsum/pictures.h"

struct lesson_look {
    double text;   /* size of the lettering, points */
    double stroke; /* width of lines */
    bool zigzag;   /* the sign of a resistor */
    double width;  /* of a circuit of two rails; 0: as wide as is usual */
};

/* Memory from `arena`; the figure must outlive it. Nothing is cut: what is long is broken into lines. */
struct picture lesson_picture(const struct lesson_figure *figure, const struct lesson_look *look, struct arena *arena);

#endif
