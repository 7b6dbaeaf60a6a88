#include "plot.h"

#include <math.h>

#include "pictures.h"

const struct canvas_font plot_font = {8, false};
const struct canvas_font plot_bold = {8, true};

double plot_x(const struct plot *plot, double value)
{
    return plot->left + (plot->most_x > 0 ? (plot->right - plot->left) * value / plot->most_x : 0);
}

double plot_y(const struct plot *plot, double value)
{
    return plot->bottom - (plot->bottom - plot->top) * (value - plot->low) / (plot->high - plot->low);
}

void plot_draw_axes(struct canvas *canvas, const struct plot *plot)
{
    const double step = plot_step(plot->high - plot->low, 6);
    const int decimals = step < 0.1 ? 2 : step < 1 ? 1 : 0;
    struct text text = {0};
    canvas_line(canvas, plot->left, plot->top, plot->left, plot->bottom, pen_thin);
    for (double value = ceil(plot->low / step) * step; value <= plot->high + step / 1000; value += step) {
        const double y = plot_y(plot, value);
        text_clear(&text);
        text_fixed(&text, "", value, decimals, plot->unit);
        canvas_line(canvas, plot->left - 3, y, plot->left, y, pen_thin);
        canvas_text_fit(canvas, plot->left - 5, y + 3, plot->left - 5, CANVAS_END, plot_font, text_string(&text));
    }
    canvas_line(canvas, plot->left, plot->bottom, plot->right, plot->bottom, pen_thin);
    text_done(&text);
}

void plot_draw_below(struct canvas *canvas, const struct plot *plot, double value, const char *words)
{
    const double x = plot_x(plot, value);
    canvas_line(canvas, x, plot->bottom, x, plot->bottom + 3, pen_thin);
    canvas_text_fit(canvas, x, plot->bottom + 13, 48, CANVAS_MIDDLE, plot_font, words);
}

void plot_draw_level(struct canvas *canvas, const struct plot *plot, double value, struct canvas_pen pen)
{
    const double y = plot_y(plot, value);
    canvas_line(canvas, plot->left, y, plot->right, y, pen);
}

double plot_step(double span, int most)
{
    static const double steps[] = {1, 2, 5};
    if (!(span > 0) || !isfinite(span)) {
        return 1;
    }
    const double least = span / most;
    const double power = pow(10, floor(log10(least)));
    for (size_t i = 0; i < 3; i++) {
        if (steps[i] * power >= least) {
            return steps[i] * power;
        }
    }
    return 10 * power;
}

static const double key_gap = 5;

void plot_key_fill(struct canvas *canvas, double x, double y, double width, enum canvas_fill fill,
                   struct canvas_font font, const char *words)
{
    canvas_rectangle(canvas, x, y - 7, width, 9, fill, 0.8);
    canvas_text(canvas, x + width + key_gap, y, CANVAS_START, font, words);
}

void plot_key_line(struct canvas *canvas, double x, double y, double width, struct canvas_pen pen, const char *words)
{
    canvas_line(canvas, x, y - 3, x + width, y - 3, pen);
    canvas_text(canvas, x + width + key_gap, y, CANVAS_START, plot_font, words);
}

double bar_x(const struct bar_shape *shape, double share)
{
    return shape->bar_left + fmin(share, 1) * (shape->bar_right - shape->bar_left);
}

void bar_draw(struct canvas *canvas, const struct bar_shape *shape, double top, double share, enum canvas_fill fill)
{
    const double right = bar_x(shape, share);
    const double above = top + shape->bar_top;
    const double below = above + shape->bar_height;
    canvas_rectangle(canvas, shape->bar_left, above, right - shape->bar_left, shape->bar_height, fill,
                     share > 0 ? 0.8 : 0);
    for (double x = right - 8; share > 1 && x < right - 3; x += 4) { /* two slanted strokes */
        canvas_line(canvas, x, below + 2, x + 5, above - 2, pen_line);
    }
}
