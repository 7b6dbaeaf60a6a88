/* What plots and bars share: axes with round steps, levels across, keys of what is drawn, bars that may go on. */
#ifndef AMPSUM_DRAW_PLOT_H
#define AMPSUM_DRAW_PLOT_H

#include "ampsum/canvas.h"

extern const struct canvas_font plot_font;
extern const struct canvas_font plot_bold;

/* Values from 0 to `most_x` along it; up its left side, with their unit, from `low` to `high`. */
struct plot {
    double left;
    double right;
    double top;
    double bottom;
    double most_x;
    double low;
    double high;
    const char *unit; /* " V" */
};

double plot_x(const struct plot *plot, double value);
double plot_y(const struct plot *plot, double value);

/* Both axes, the left one with its values; a value below the other; a line across. */
void plot_draw_axes(struct canvas *canvas, const struct plot *plot);
void plot_draw_below(struct canvas *canvas, const struct plot *plot, double value, const char *words);
void plot_draw_level(struct canvas *canvas, const struct plot *plot, double value, struct canvas_pen pen);

/* A round step (1, 2 or 5 times a power of ten) of which at most `most` make up the span. */
double plot_step(double span, int most);

/* Keys: a pattern or a line of that width, and beside it what it means; y is the base line of the words. */
void plot_key_fill(struct canvas *canvas, double x, double y, double width, enum canvas_fill fill,
                   struct canvas_font font, const char *words);
void plot_key_line(struct canvas *canvas, double x, double y, double width, struct canvas_pen pen, const char *words);

/* Where a row of bars has its things: name, bar and words beside one another, or the bar below name and words. */
struct bar_shape {
    double size; /* of the letters */
    double width;
    double name_width;
    double bar_left;
    double bar_right;
    double bar_top; /* within the row */
    double bar_height;
    double row_height;
    double base; /* of the words, within the row */
};

/* The end of a bar of that share of the longest; the bar of the row from `top` on, which says where it goes on beyond.
 */
double bar_x(const struct bar_shape *shape, double share);
void bar_draw(struct canvas *canvas, const struct bar_shape *shape, double top, double share, enum canvas_fill fill);

#endif
