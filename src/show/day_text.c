/* The answer of `day` on a terminal: a plot of the planning current, and the sentences beside it. */
#include <math.h>

#include "ampsum/show_day.h"

enum { PLOT_COLUMNS_WIDE = DAY_PLOT_COLUMNS_MOST, PLOT_COLUMNS = 48, LABEL_COLUMNS = 8 };

static void plot_cell(double current_a, double low_a, double row_a, bool rating_row, bool utf8, struct text *text)
{
    static const char *const blocks[] = {"\u2581", "\u2582", "\u2583", "\u2584",
                                         "\u2585", "\u2586", "\u2587", "\u2588"};
    double filled = (current_a - low_a) / row_a;
    int eighths = (int)floor(filled * 8 + 0.5);
    if (utf8 && eighths >= 1) {
        text_add(text, blocks[(eighths > 8 ? 8 : eighths) - 1]);
    } else if (!utf8 && filled >= 0.5) {
        text_add_char(text, '#');
    } else if (!utf8 && filled > 0.01) {
        text_add_char(text, '.');
    } else {
        text_add(text, !rating_row ? " " : utf8 ? "\u2500" : "-");
    }
}

static void plot_axis(size_t columns, struct text *text)
{
    text_printf(text, "%*s+", LABEL_COLUMNS, "");
    for (size_t i = 0; i < columns; i++) {
        text_add_char(text, '-');
    }
    text_printf(text, "\n%*s", LABEL_COLUMNS - 1, "");
    for (int hour = 0; hour <= 24; hour += 3) {
        text_printf(text, "%02d%*s", hour, hour < 24 ? (int)(columns / 8) - 2 : 0, "");
    }
    text_add_char(text, '\n');
}

static void write_plot(const struct day_view *view, const struct page *page, struct text *text)
{
    const size_t columns = page->width >= PLOT_COLUMNS_WIDE + LABEL_COLUMNS + 4 ? PLOT_COLUMNS_WIDE : PLOT_COLUMNS;
    struct day_plot plot;
    day_plot(&view->series, columns, &plot);
    for (int row = plot.rows - 1; row >= 0; row--) {
        struct text label = {0};
        if (row == plot.rating_row) {
            text_rounded(&label, "", view->series.rating_a, 1, " A");
        } else if (row == 0) {
            text_add(&label, "0 A");
        }
        text_printf(text, "%*s |", LABEL_COLUMNS - 1, text_string(&label));
        text_done(&label);
        for (size_t i = 0; i < columns; i++) {
            plot_cell(plot.columns_a[i], row * plot.row_a, plot.row_a, row == plot.rating_row, page->utf8, text);
        }
        while (text->length > 0 && text->bytes[text->length - 1] == ' ') {
            text->bytes[--text->length] = '\0';
        }
        text_add(text, row == plot.rating_row ? " rating\n" : "\n");
    }
    plot_axis(columns, text);
}

/* Appends what stands in `line`, broken to the page, and empties it. */
static void wrap(const struct page *page, struct text *line, struct text *text)
{
    if (line->length > 0) {
        show_wrap(page, 2, text_string(line), text);
    }
    text_clear(line);
}

static void write_view(const struct day_answer *answer, const struct day_view *view, const struct page *page,
                       struct text *text)
{
    const struct day_series *series = &view->series;
    struct text line = {0};
    text_printf(&line, "%s%s%s: %s; day shown: %s in %s", view->id, view->leg != NULL ? " leg " : "",
                view->leg != NULL ? view->leg : "", view->label, day_name(series->day.weekday),
                month_name(series->day.month));
    wrap(page, &line, text);
    show_day_untimed(view, &line);
    wrap(page, &line, text);
    text_add(text, "Planning current over the day\n");
    write_plot(view, page, text);
    show_day_busiest(answer->house, view, false, &line);
    wrap(page, &line, text);
    show_day_above(answer, view, &line);
    wrap(page, &line, text);
    show_day_energy(view, &line);
    wrap(page, &line, text);
    show_day_odds(view, &line);
    wrap(page, &line, text);
    show_day_not_exceeded(view, &line);
    wrap(page, &line, text);
    show_day_left_out(answer->house, view, 1, false, &line);
    wrap(page, &line, text);
    text_add_char(text, '\n');
    text_done(&line);
}

static void write_summary(const struct day_answer *answer, const struct page *page, struct text *text)
{
    struct text line = {0};
    show_table_text(&show_day_rows, answer, answer->count, page, text);
    show_wrap(page, 0,
              "ODDS: chance that planning current exceeds the rating, in the worst minute (- where it is not known, "
              "since loads without `use` and `hours` are left out). 99% A: not exceeded 99 % of that day.",
              text);
    text_add_char(text, '\n');
    show_day_left_out(answer->house, answer->views, answer->house->branch_count, false, &line);
    wrap(page, &line, text);
    text_done(&line);
}

void show_day_text(const struct day_answer *answer, const struct page *page, struct text *text)
{
    struct text line = {0};
    for (size_t i = 0; i < answer->count && answer->question->id != NULL; i++) {
        write_view(answer, &answer->views[i], page, text);
    }
    if (answer->question->id == NULL) {
        write_summary(answer, page, text);
    }
    show_day_assumptions(answer, &line);
    wrap(page, &line, text);
    text_add_char(text, '\n');
    show_cautions_text(page, NULL, text);
    text_done(&line);
}
