/* A day of the house, a panel or a branch: how the current builds up, and how likely more than the rating is. */
#include "ampsum/pictures.h"
#include "ampsum/show_day.h"
#include "input.h"

enum { COURSE_ROWS_SHOWN = 12, PLACES_SHOWN = 6 }; /* longer tables are opened by hand */

static void add_places(struct visit *visit, const struct input *input, const char *chosen)
{
    (void)input;
    page_option(visit, "", "Whole house", chosen);
    page_add(visit, "<optgroup label=\"Panels\">");
    page_rows(visit, KIND_PANEL, chosen);
    page_add(visit, "</optgroup>");
    if (visit->house->branch_count > 0) {
        page_add(visit, "<optgroup label=\"Branches\">");
        page_rows(visit, KIND_BRANCH, chosen);
        page_add(visit, "</optgroup>");
    }
}

static void add_days(struct visit *visit, const struct input *input, const char *chosen)
{
    (void)input;
    page_option(visit, "", "the busiest", chosen);
    page_option(visit, "weekday", "the busiest from Monday to Friday", chosen);
    page_option(visit, "weekend", "the busiest of the weekend", chosen);
    for (int day = 0; day < 7; day++) {
        page_option(visit, day_word(day), day_name(day), chosen);
    }
}

static void add_months(struct visit *visit, const struct input *input, const char *chosen)
{
    (void)input;
    page_option(visit, "", "the busiest", chosen);
    for (int month = 0; month < MONTHS_IN_YEAR; month++) {
        page_option(visit, month_word(month), month_name(month), chosen);
    }
}

static void add_form(struct visit *visit)
{
    static const struct input inputs[] = {
        {"of", "Where", .options = add_places},
        {"day", "Day", .options = add_days},
        {"month", "Month", .options = add_months},
        {"on-date", "Or one date", "MM-DD or YYYY-MM-DD"},
    };
    page_add(visit, "<form class=\"fields\" action=\"/cost/day\">");
    page_inputs(visit, inputs, sizeof inputs / sizeof inputs[0]);
    page_add(visit, "<p><button>Show the day</button></p></form>\n");
}

static void add_course(struct visit *visit, const struct day_view *view)
{
    const size_t count = view->series.stretch_count;
    page_fold_table(visit, count <= COURSE_ROWS_SHOWN, "The course as a table", &show_course_rows,
                    "The course of the day", view->rows, count);
}

static void add_picture(struct visit *visit, const struct day_answer *answer, const struct day_view *view)
{
    const char *where = arena_printf(visit->arena, "%s%s%s", view->label, view->leg != NULL ? ", leg " : "",
                                     view->leg != NULL ? view->leg : "");
    for (int slim = 0; slim < 2; slim++) { /* the style shows the one for the screen's width */
        const struct picture picture =
            picture_day(where, &view->series, answer->near_percent / 100, slim == 1, visit->arena);
        page_add(visit, slim == 1 ? "<div class=\"picture slim\">" : "<div class=\"picture wide\">");
        picture_svg(&picture, &visit->answer.body);
        page_add(visit, "</div>\n");
    }
}

static void add_view(struct visit *visit, const struct day_answer *answer, const struct day_view *view)
{
    struct text line = {0};
    if (view->leg != NULL) {
        page_add(visit, "<h2>Leg %s</h2>", view->leg);
    }
    show_day_untimed(view, &line);
    page_paragraph(visit, NULL, &line);
    text_printf(&line, "%s in %s%s. ", day_name(view->series.day.weekday), month_name(view->series.day.month),
                answer->fixed ? "" : ", the busiest of the days asked for");
    show_day_busiest(visit->house, view, true, &line);
    text_add_char(&line, '.');
    page_paragraph(visit, NULL, &line);
    show_day_above(answer, view, &line);
    text_add(&line, ". ");
    show_day_energy(view, &line);
    text_add_char(&line, '.');
    page_paragraph(visit, NULL, &line);
    show_day_odds(view, &line);
    page_paragraph(visit, NULL, &line);
    show_day_not_exceeded(view, &line);
    page_paragraph(visit, NULL, &line);
    show_day_left_out(visit->house, view, 1, true, &line);
    page_paragraph(visit, NULL, &line);
    add_picture(visit, answer, view);
    add_course(visit, view);
}

static void add_views(struct visit *visit, const struct day_answer *answer)
{
    for (size_t i = 0; i < answer->count; i++) {
        add_view(visit, answer, &answer->views[i]);
    }
}

static void add_summary(struct visit *visit, const struct day_answer *answer)
{
    struct text line = {0};
    page_fold(visit, answer->count <= PLACES_SHOWN, "Branches and panels, each in figures (%zu)", answer->count);
    show_html_table(&show_day_rows, answer->fixed ? "On that day" : "Each on its own busiest day of those asked for",
                    answer, answer->count, &visit->answer.body);
    page_add(visit,
             "<p class=\"help\">Odds: chance that the planning current exceeds the rating, in the worst minute (- "
             "where it is not known, since loads without times of use or hours are left out).</p>");
    show_day_left_out(visit->house, answer->views, visit->house->branch_count, true, &line);
    page_paragraph(visit, "help", &line);
    page_add(visit, "</details>\n");
}

static void add_page(struct visit *visit, const struct day_answer *answer, bool whole)
{
    struct text line = {0};
    page_begin(visit, arena_printf(visit->arena, "The day: %s", whole ? "whole house" : answer->views[0].label));
    cost_links(visit, "/cost/day");
    if (whole) {
        show_day_over(answer, &line);
        page_paragraph(visit, "answer", &line);
    }
    add_form(visit);
    if (whole) {
        add_summary(visit, answer);
    } else {
        add_views(visit, answer);
    }
    page_fold(visit, false, "What this assumes");
    show_day_assumptions(answer, &line);
    page_paragraph(visit, NULL, &line);
    page_add(visit, "</details>\n");
    page_end(visit);
}

void view_day(struct visit *visit)
{
    const struct day_question question = {.id = form_value(&visit->query, "of"),
                                          .day = form_value(&visit->query, "day"),
                                          .month = form_value(&visit->query, "month"),
                                          .date = form_value(&visit->query, "on-date"),
                                          .dash = ""};
    struct day_answer answer;
    if (!answer_day(visit->house, &question, &answer, &visit->error)) {
        visit_refuse(visit, answer.unknown_id ? 404 : 422, answer.unknown_id ? "Not in this house" : "No such day",
                     error_message(&visit->error));
    } else if (visit_is_api(visit)) {
        visit_json(visit, show_day_json(&answer));
    } else {
        add_page(visit, &answer, question.id[0] == '\0');
    }
    day_answer_done(&answer);
}
