/* All branches against their ratings. */
#include <math.h>

#include "ampsum/reference.h"
#include "ampsum/show.h"
#include "pictures.h"
#include "plot.h"

enum { ROWS_MOST = 36 };

/* Of a wide picture, and of a narrow screen's. */
struct shape {
    struct bar_shape row;
    double word_x; /* of the verdict; what it carries stands behind it */
    double carry_x;
    double legend_step;
    double foot_height;
    bool legend_on_two_lines;
};

static const struct shape wide = {.row = {.size = 7.5,
                                          .width = PICTURE_WIDTH,
                                          .name_width = 158,
                                          .bar_left = 166,
                                          .bar_right = 364,
                                          .bar_top = 2.5,
                                          .bar_height = 10,
                                          .row_height = 15,
                                          .base = 10},
                                  .word_x = 372,
                                  .carry_x = 416,
                                  .legend_step = 72,
                                  .foot_height = 34};
static const struct shape slim = {.row = {.size = 9,
                                          .width = PICTURE_HALF_WIDTH,
                                          .name_width = 108,
                                          .bar_left = 1,
                                          .bar_right = 236,
                                          .bar_top = 13,
                                          .bar_height = 10,
                                          .row_height = 28,
                                          .base = 10},
                                  .word_x = 112,
                                  .carry_x = 168,
                                  .legend_step = 60,
                                  .foot_height = 58,
                                  .legend_on_two_lines = true};
static const double head_height = 28;
static const double largest_percent = 250; /* of the rating that a bar shows; a longer one is cut with a sign */

struct bars {
    const struct shape *shape;
    const struct assessment *assessment;
    const size_t *order; /* branches by row; NULL: as in the file */
    size_t first;
    size_t count;
    double scale_percent; /* at bar_right */
    double near_percent;
};

static size_t branch_at(const struct bars *bars, size_t row)
{
    return bars->order == NULL ? bars->first + row : bars->order[bars->first + row];
}

static double x_of(const struct bars *bars, double percent)
{
    return bar_x(&bars->shape->row, percent / bars->scale_percent);
}

static double bar_percent(const struct assessment *assessment, size_t branch, double planning_a)
{
    return 100 * planning_a / assessment->house->branches[branch].breaker_a;
}

static struct canvas_font font_of(const struct bars *bars, bool bold)
{
    return (struct canvas_font){bars->shape->row.size, bold};
}

static double bottom_of(const struct bars *bars)
{
    return head_height + (double)bars->count * bars->shape->row.row_height;
}

/* A line over all rows; between bars that stand below their words it is broken there. */
static void draw_limit(struct canvas *canvas, const struct bars *bars, double x, struct canvas_pen pen)
{
    const struct shape *shape = bars->shape;
    if (shape->row.bar_top < shape->row.base) {
        canvas_line(canvas, x, 24, x, bottom_of(bars), pen);
        return;
    }
    for (size_t i = 0; i < bars->count; i++) {
        const double top = head_height + (double)i * shape->row.row_height + shape->row.bar_top - 1;
        canvas_line(canvas, x, top, x, top + shape->row.bar_height + 2, pen);
    }
}

static void draw_axis(struct canvas *canvas, const struct bars *bars)
{
    const struct canvas_font font = font_of(bars, false);
    const double left = bars->shape->row.bar_left;
    const double near_x = x_of(bars, bars->near_percent);
    const double rating_x = x_of(bars, 100);
    const char *words = "rating of its breaker";
    const double words_x = fmin(rating_x, bars->shape->row.width - canvas_text_width(font_of(bars, true), words));
    struct text text = {0};
    text_rounded(&text, "", bars->near_percent, 0, " %");
    canvas_text(canvas, left, 20, left < 10 ? CANVAS_START : CANVAS_MIDDLE, font, "0");
    canvas_text(canvas, fmin(near_x, words_x - 14), 20, CANVAS_END, font, text_string(&text));
    canvas_text(canvas, words_x, 20, CANVAS_START, font_of(bars, true), words);
    draw_limit(canvas, bars, left, pen_thin);
    draw_limit(canvas, bars, near_x, (struct canvas_pen){0.8, CANVAS_DASHED});
    draw_limit(canvas, bars, rating_x, (struct canvas_pen){1.6, CANVAS_SOLID});
    text_done(&text);
}

static void draw_mark(struct canvas *canvas, double x, double y)
{
    const struct canvas_point points[] = {{x, y - 4}, {x + 4, y}, {x, y + 4}, {x - 4, y}};
    canvas_polygon(canvas, points, 4, false);
}

/* The bar with its mark, in the row from `top` on. */
static void draw_bar(struct canvas *canvas, const struct bars *bars, size_t index, double top)
{
    const struct branch_assessment *result = &bars->assessment->branches[index];
    const struct bar_shape *row = &bars->shape->row;
    const double other_a = result->other.planning_a;
    bar_draw(canvas, row, top, bar_percent(bars->assessment, index, result->all.planning_a) / bars->scale_percent,
             verdict_fill(result->verdict));
    if (other_a > 0) {
        draw_mark(canvas, x_of(bars, bar_percent(bars->assessment, index, other_a)),
                  top + row->bar_top + row->bar_height / 2);
    }
}

static void draw_row(struct canvas *canvas, const struct bars *bars, size_t row)
{
    const struct assessment *assessment = bars->assessment;
    const struct shape *shape = bars->shape;
    const size_t index = branch_at(bars, row);
    const struct branch *branch = &assessment->house->branches[index];
    const struct branch_assessment *result = &assessment->branches[index];
    const double top = head_height + (double)row * shape->row.row_height;
    struct text text = {0};
    add_ampere(&text, result->all.planning_a);
    text_rounded(&text, " of ", branch->breaker_a, 1, " A");
    canvas_group(canvas, branch->label, text_string(&text));
    canvas_text_fit(canvas, 0, top + shape->row.base, shape->row.name_width, CANVAS_START, font_of(bars, false),
                    branch->label);
    draw_bar(canvas, bars, index, top);
    canvas_text(canvas, shape->word_x, top + shape->row.base, CANVAS_START, font_of(bars, true),
                show_verdict(result->verdict));
    canvas_text_fit(canvas, shape->carry_x, top + shape->row.base, shape->row.width - shape->carry_x, CANVAS_START,
                    font_of(bars, false), text_string(&text));
    canvas_group_end(canvas);
    text_done(&text);
}

static const double legend_gap = 12; /* from a word to the next pattern */

static void draw_legend(struct canvas *canvas, const struct bars *bars)
{
    const struct canvas_font font = font_of(bars, false);
    const struct shape *shape = bars->shape;
    double y = bottom_of(bars) + 10;
    double x = shape->legend_on_two_lines ? 0 : shape->row.bar_left - 160;
    for (int verdict = VERDICT_OK; verdict <= VERDICT_OVER; verdict++) {
        const char *word = show_verdict((enum verdict)verdict);
        plot_key_fill(canvas, x, y + 7, 17, verdict_fill((enum verdict)verdict), font, word);
        x += fmax(shape->legend_step, 22 + canvas_text_width(font, word) + legend_gap);
    }
    if (shape->legend_on_two_lines) {
        x = 0;
        y += 16;
    }
    draw_mark(canvas, x + 8, y + 4.5);
    canvas_text(canvas, x + 18, y + 7, CANVAS_START, font,
                bars->assessment->options.basis == BASIS_BUSIEST ? "at the busiest minute of the week" : "as chosen");
    canvas_text(canvas, 0, y + 20, CANVAS_START, font,
                shape->legend_on_two_lines ? "Bars: everything on, as a share of the rating."
                                           : "Bars: planning current with everything on, as a share of the rating.");
}

static void draw_bars(struct canvas *canvas, const struct picture *picture)
{
    const struct bars *bars = picture->data;
    for (size_t i = 0; i < bars->count; i++) {
        draw_row(canvas, bars, i);
    }
    draw_axis(canvas, bars);
    draw_legend(canvas, bars);
}

static double scale_of(const struct assessment *assessment)
{
    double most = 115;
    for (size_t i = 0; i < assessment->house->branch_count; i++) {
        most = fmax(most, bar_percent(assessment, i, assessment->branches[i].all.planning_a) * 1.03);
        most = fmax(most, bar_percent(assessment, i, assessment->branches[i].other.planning_a) * 1.03);
    }
    return fmin(most, largest_percent);
}

static const char *describe(const struct bars *bars, struct arena *arena)
{
    size_t counts[VERDICT_OVER + 1] = {0};
    struct text text = {0};
    for (size_t i = 0; i < bars->count; i++) {
        counts[bars->assessment->branches[branch_at(bars, i)].verdict]++;
    }
    text_printf(&text, "Bars of %zu %s", bars->count, bars->count == 1 ? "branch" : "branches");
    add_verdicts(&text, ": ", counts);
    text_add_char(&text, '.');
    return picture_string(arena, &text);
}

static struct picture bars_picture(const struct bars *bars, const char *title, struct arena *arena)
{
    struct bars *kept = arena_array(arena, 1, sizeof *kept);
    *kept = *bars;
    return (struct picture){.title = title,
                            .description = describe(bars, arena),
                            .width = bars->shape->row.width,
                            .height = bottom_of(bars) + bars->shape->foot_height,
                            .draw = draw_bars,
                            .data = kept};
}

struct picture_list pictures_bars(const struct assessment *assessment, const size_t *order, size_t branches,
                                  struct arena *arena)
{
    const double near_percent = reference_rule_value("near-share", rules_word(assessment->house->rules));
    const double scale_percent = scale_of(assessment);
    struct picture_list list = {.count = (branches + ROWS_MOST - 1) / ROWS_MOST};
    list.picture = arena_array(arena, list.count, sizeof *list.picture);
    for (size_t part = 0; part < list.count; part++) {
        const size_t first = part * ROWS_MOST;
        const size_t count = branches - first < ROWS_MOST ? branches - first : ROWS_MOST;
        struct bars bars = {&wide, assessment, order, first, count, scale_percent, near_percent};
        struct picture *narrow = arena_array(arena, 1, sizeof *narrow);
        const char *title = "Branches against their ratings";
        title = list.count == 1 ? title : arena_printf(arena, "%s (part %zu of %zu)", title, part + 1, list.count);
        list.picture[part] = bars_picture(&bars, title, arena);
        bars.shape = &slim;
        *narrow = bars_picture(&bars, title, arena);
        list.picture[part].narrow = narrow;
    }
    return list;
}
