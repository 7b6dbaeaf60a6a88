/* All branches against their ratings. */
#include <math.h>

#include "ampsum/reference.h"
#include "ampsum/show.h"
#include "pictures.h"

enum { ROWS_MOST = 36 };

static const double word_width = 44;

static const double name_width = 158;
static const double bar_left = 166;
static const double bar_right = 364;
static const double head_height = 28;
static const double row_height = 15;
static const double foot_height = 34;
static const double largest_percent = 250; /* of the rating that a bar shows; a longer one is cut with a sign */
static const struct canvas_font small = {7.5, false};
static const struct canvas_font bold = {7.5, true};

struct bars {
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
    return bar_left + fmin(percent / bars->scale_percent, 1) * (bar_right - bar_left);
}

static double bar_percent(const struct assessment *assessment, size_t branch, double planning_a)
{
    return 100 * planning_a / assessment->house->branches[branch].breaker_a;
}

static void draw_axis(struct canvas *canvas, const struct bars *bars)
{
    const double bottom = head_height + (double)bars->count * row_height;
    struct text text = {0};
    text_rounded(&text, "", bars->near_percent, 0, " %");
    const double near_x = x_of(bars, bars->near_percent);
    const double rating_x = x_of(bars, 100);
    canvas_text(canvas, bar_left, 20, CANVAS_MIDDLE, small, "0");
    canvas_text(canvas, fmin(near_x, rating_x - 14), 20, CANVAS_END, small, text_string(&text));
    canvas_text(canvas, rating_x, 20, CANVAS_START, bold, "rating of its breaker");
    canvas_line(canvas, bar_left, 24, bar_left, bottom, pen_thin);
    canvas_line(canvas, near_x, 24, near_x, bottom, (struct canvas_pen){0.8, CANVAS_DASHED});
    canvas_line(canvas, rating_x, 24, rating_x, bottom, (struct canvas_pen){1.6, CANVAS_SOLID});
    text_done(&text);
}

static void draw_mark(struct canvas *canvas, double x, double y)
{
    const struct canvas_point points[] = {{x, y - 4}, {x + 4, y}, {x, y + 4}, {x - 4, y}};
    canvas_polygon(canvas, points, 4, false);
}

static void draw_row(struct canvas *canvas, const struct bars *bars, size_t row)
{
    const struct assessment *assessment = bars->assessment;
    const size_t index = branch_at(bars, row);
    const struct branch *branch = &assessment->house->branches[index];
    const struct branch_assessment *result = &assessment->branches[index];
    const double top = head_height + (double)row * row_height;
    const double middle = top + row_height / 2;
    const double percent = bar_percent(assessment, index, result->all.planning_a);
    const double other_percent = bar_percent(assessment, index, result->other.planning_a);
    struct text text = {0};
    add_ampere(&text, result->all.planning_a);
    text_rounded(&text, " of ", branch->breaker_a, 1, " A");
    canvas_group(canvas, branch->label, text_string(&text));
    canvas_text_fit(canvas, 0, middle + 2.5, name_width, CANVAS_START, small, branch->label);
    canvas_rectangle(canvas, bar_left, top + 2.5, x_of(bars, percent) - bar_left, row_height - 5,
                     verdict_fill(result->verdict), percent > 0 ? 0.8 : 0);
    if (percent > bars->scale_percent) {
        draw_cut(canvas, bar_right, top + 2.5, row_height - 5);
    }
    if (result->other.planning_a > 0) {
        draw_mark(canvas, x_of(bars, other_percent), middle);
    }
    const double words_x = bar_right + 8;
    canvas_text(canvas, words_x, middle + 2.5, CANVAS_START, bold, show_verdict(result->verdict));
    canvas_text_fit(canvas, words_x + word_width, middle + 2.5, PICTURE_WIDTH - words_x - word_width, CANVAS_START,
                    small, text_string(&text));
    canvas_group_end(canvas);
    text_done(&text);
}

static void draw_legend(struct canvas *canvas, const struct bars *bars)
{
    const double y = head_height + (double)bars->count * row_height + 10;
    double x = bar_left - 160;
    for (int verdict = VERDICT_OK; verdict <= VERDICT_OVER; verdict++) {
        canvas_rectangle(canvas, x, y, 18, 9, verdict_fill((enum verdict)verdict), 0.8);
        canvas_text(canvas, x + 22, y + 7, CANVAS_START, small, show_verdict((enum verdict)verdict));
        x += 72;
    }
    draw_mark(canvas, x + 8, y + 4.5);
    canvas_text(canvas, x + 18, y + 7, CANVAS_START, small,
                bars->assessment->options.basis == BASIS_BUSIEST ? "at the busiest minute of the week" : "as chosen");
    canvas_text(canvas, 0, y + 20, CANVAS_START, small,
                "Bars: planning current with everything on, as a share of the rating.");
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
    size_t counts[5] = {0};
    for (size_t i = 0; i < bars->count; i++) {
        counts[bars->assessment->branches[branch_at(bars, i)].verdict]++;
    }
    struct text text = {0};
    text_printf(&text, "Bars of %zu branches: %zu over, %zu at risk, %zu near, %zu ok, %zu empty.", bars->count,
                counts[VERDICT_OVER], counts[VERDICT_AT_RISK], counts[VERDICT_NEAR], counts[VERDICT_OK],
                counts[VERDICT_EMPTY]);
    return picture_string(arena, &text);
}

struct picture_list pictures_bars(const struct assessment *assessment, const size_t *order, size_t branches,
                                  struct arena *arena)
{
    const double near_percent = reference_rule_value("near-share", rules_word(assessment->house->rules));
    const double scale_percent = scale_of(assessment);
    struct picture_list list = {.count = (branches + ROWS_MOST - 1) / ROWS_MOST};
    list.picture = arena_array(arena, list.count, sizeof *list.picture);
    for (size_t part = 0; part < list.count; part++) {
        struct bars *bars = arena_array(arena, 1, sizeof *bars);
        const size_t first = part * ROWS_MOST;
        const size_t count = branches - first < ROWS_MOST ? branches - first : ROWS_MOST;
        *bars = (struct bars){assessment, order, first, count, scale_percent, near_percent};
        struct text title = {0};
        text_add(&title, "Branches against their ratings");
        add_part(&title, part, list.count);
        list.picture[part] = (struct picture){.title = picture_string(arena, &title),
                                              .description = describe(bars, arena),
                                              .width = PICTURE_WIDTH,
                                              .height = head_height + (double)count * row_height + foot_height,
                                              .draw = draw_bars,
                                              .data = bars};
    }
    return list;
}
