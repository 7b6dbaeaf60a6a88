#include <math.h>
#include <stdarg.h>

#include "ampsum/language.h"
#include "ampsum/show.h"
#include "pictures.h"

const struct canvas_pen pen_thin = {0.5, CANVAS_SOLID};
const struct canvas_pen pen_line = {1, CANVAS_SOLID};

void picture_draw(const struct picture *picture, struct canvas *canvas)
{
    canvas_group(canvas, picture->title, picture->description);
    picture->draw(canvas, picture);
    canvas_group_end(canvas);
}

void picture_svg(const struct picture *picture, struct text *text)
{
    struct svg svg;
    struct canvas canvas =
        svg_open(&svg, text, picture->width, picture->height, "img", picture->title, picture->description);
    picture->draw(&canvas, picture);
    svg_close(&svg);
}

enum canvas_fill verdict_fill(enum verdict verdict)
{
    static const enum canvas_fill fills[] = {CANVAS_CLEAR, CANVAS_TINT, CANVAS_DOTS, CANVAS_HATCH, CANVAS_CROSS};
    return fills[verdict];
}

const char *picture_string(struct arena *arena, struct text *text)
{
    const char *string = arena_copy(arena, text_string(text));
    text_done(text);
    return string;
}

const char *picture_written(struct arena *arena, int language, struct text *text)
{
    const struct writing writing = language_writing(language);
    struct text written = {0};
    language_write(&written, &writing, text_string(text));
    text_done(text);
    return picture_string(arena, &written);
}

const char *picture_say(struct arena *arena, int language, const char *key, ...)
{
    struct text text = {0};
    va_list places;
    va_start(places, key);
    say_list(&text, language, key, places);
    va_end(places);
    return picture_string(arena, &text);
}

void add_ampere(struct text *text, double current_a)
{
    text_fixed(text, "", current_a, current_a < 100 ? 1 : 0, " A");
}

void add_part(struct text *title, size_t part, size_t count)
{
    if (count > 1) {
        text_printf(title, " (part %zu of %zu)", part + 1, count);
    }
}

void add_verdicts(struct text *text, const char *before, const size_t *counts)
{
    for (int verdict = VERDICT_OVER; verdict >= VERDICT_EMPTY; verdict--) {
        if (counts[verdict] > 0) {
            text_printf(text, "%s%zu %s", before, counts[verdict], show_verdict((enum verdict)verdict));
            before = ", ";
        }
    }
}

double round_step(double span, int most)
{
    static const double steps[] = {1, 2, 5, 10};
    if (!(span > 0) || !isfinite(span)) {
        return 1;
    }
    const double least = span / most;
    const double power = pow(10, floor(log10(least)));
    for (size_t i = 0; i < 4; i++) {
        if (steps[i] * power >= least) {
            return steps[i] * power;
        }
    }
    return 10 * power;
}

double plot_y(const struct plot_scale *scale, double value)
{
    return scale->bottom - (scale->bottom - scale->top) * (value - scale->low) / (scale->high - scale->low);
}

void draw_scale(struct canvas *canvas, const struct plot_scale *scale)
{
    static const struct canvas_font font = {8, false};
    const double step = round_step(scale->high - scale->low, 6);
    const int decimals = step < 0.1 ? 2 : step < 1 ? 1 : 0;
    struct text text = {0};
    canvas_line(canvas, scale->left, scale->top, scale->left, scale->bottom, pen_thin);
    for (double value = ceil(scale->low / step) * step; value <= scale->high + step / 1000; value += step) {
        const double y = plot_y(scale, value);
        text_clear(&text);
        text_fixed(&text, "", value, decimals, scale->unit);
        canvas_line(canvas, scale->left - 3, y, scale->left, y, pen_thin);
        canvas_text_fit(canvas, scale->left - 5, y + 3, scale->left - 5, CANVAS_END, font, text_string(&text));
    }
    text_done(&text);
}

void draw_cut(struct canvas *canvas, double x, double y, double height)
{
    canvas_line(canvas, x - 8, y + height + 2, x - 3, y - 2, pen_line);
    canvas_line(canvas, x - 4, y + height + 2, x + 1, y - 2, pen_line);
}
