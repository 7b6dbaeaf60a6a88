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

void add_verdicts(struct text *text, const char *before, const size_t *counts)
{
    for (int verdict = VERDICT_OVER; verdict >= VERDICT_EMPTY; verdict--) {
        if (counts[verdict] > 0) {
            text_printf(text, "%s%zu %s", before, counts[verdict], show_verdict((enum verdict)verdict));
            before = ", ";
        }
    }
}
