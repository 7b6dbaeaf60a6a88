/* The scale of a day's plot, in rows and columns of characters. */
#include <math.h>

#include "ampsum/answer_day.h"

enum { ROWS = 10 };

/* Largest planning current of each column. */
static void set_columns(const struct day_series *series, size_t count, double *ret_columns_a)
{
    size_t stretch = 0;
    for (size_t i = 0; i < count; i++) {
        const int start_min = (int)(i * MINUTES_IN_DAY / count);
        const int end_min = (int)((i + 1) * MINUTES_IN_DAY / count);
        ret_columns_a[i] = 0;
        while (series->stretches[stretch].end_min <= start_min) {
            stretch++;
        }
        for (size_t j = stretch; j < series->stretch_count && series->stretches[j].start_min < end_min; j++) {
            ret_columns_a[i] = fmax(ret_columns_a[i], series->stretches[j].planning_a);
        }
    }
}

void day_plot(const struct day_series *series, size_t columns, struct day_plot *ret_plot)
{
    const double most_a = series->stretches[series->busiest].planning_a;
    /* Eight rows reach up to the rating, so that the rating is the edge of a row; more where the current goes beyond.
     */
    ret_plot->row_a = fmax(series->rating_a, most_a / 2) / (ROWS - 2);
    ret_plot->rating_row = (int)floor(series->rating_a / ret_plot->row_a + 1e-9);
    ret_plot->rows = (int)ceil(fmax(most_a, series->rating_a) / ret_plot->row_a * (1 - 1e-9));
    ret_plot->rows = ret_plot->rows <= ret_plot->rating_row ? ret_plot->rating_row + 1 : ret_plot->rows;
    set_columns(series, columns, ret_plot->columns_a);
}
