/* Current over the day; voltage along the wires. */
#include <math.h>

#include "ampsum/show_check.h"
#include "ampsum/show_day.h"
#include "ampsum/show_wire.h"
#include "report_parts.h"

/* ------------------------------------------------------------------ days ---------------------------------- */

/* The day with the most current of a branch, or of each leg of a panel. */
static void add_day(const struct report *report, const char *id, bool panel)
{
    struct arena *arena = report->document->arena; /* the pictures are drawn later */
    const struct day_question question = {
        .id = id, .dash = "", .panel = panel, .no_odds = true, .factors = &report->assessment->factors, .arena = arena};
    struct day_answer answer;
    struct error error = {0};
    const bool good = answer_day(report->house, &question, &answer, &error);
    for (size_t i = 0; i < answer.count && good; i++) {
        const struct day_view *view = &answer.views[i];
        struct text what = {0};
        text_printf(&what, "%s%s%s%s", panel ? "Panel " : "", view->label, panel ? ", leg " : "",
                    panel ? view->leg : "");
        const struct picture picture =
            picture_day(text_string(&what), &view->series, answer.near_percent / 100, true, arena);
        print_picture(report->document, &picture);
        print_rows(report->document, picture.title, &show_course_rows, view->rows, view->series.stretch_count);
        print_last(report->document)->screen = true;
        print_last(report->document)->folded = true;
        text_done(&what);
    }
    day_answer_done(&answer);
    error_done(&error);
}

void report_part_days(const struct report *report)
{
    enum { PANELS_MOST = 20 };
    report_annex(report, "Current over the day");
    print_paragraph(report->document,
                    "The day of the year with the largest planning current. An appliance counts as on at every minute "
                    "of its windows, one without windows all day.");
    for (size_t i = 0; i < report->house->panel_count && i < PANELS_MOST; i++) {
        add_day(report, report->house->panels[i].id, true);
    }
    for (size_t i = 0; i < report->house->branch_count; i++) {
        if (report->days[i]) {
            add_day(report, report->house->branches[i].id, false);
        }
    }
}

/* ------------------------------------------------------------------ wires --------------------------------- */

/* The outlets of a branch as a group of the table, which is begun with the first; its worst drop in per cent, else NAN.
 */
static double add_wire(const struct report *report, size_t index, struct print_table **table,
                       struct report_points *listed)
{
    struct arena *arena = arena_new();
    struct wire_branch wire;
    double worst_percent = (double)NAN;
    wire_branch_init(&wire, report->assessment, index, arena);
    if (wire.solved) {
        const struct show_points points = {report->house, &wire};
        const size_t taken = report_points_take(listed, &wire, REPORT_POINTS_MOST);
        struct text name = {0};
        if (*table == NULL) {
            *table = print_rows(report->document, "At each outlet, everything on", &show_point_rows, &points, 0);
        }
        if (taken > 0) {
            show_branch_name(&report->house->branches[index], &name);
            print_group(report->document, *table, text_string(&name), "");
            print_more_rows(report->document, *table, &show_point_rows, &points, taken);
        }
        worst_percent = wiring_worst_drop_percent(&wire.wiring);
        text_done(&name);
    }
    wire_branch_done(&wire);
    arena_free(arena);
    return worst_percent;
}

static void add_points_left(const struct report *report, const struct report_points *listed)
{
    struct text text = {0};
    if (listed->left == 0) {
        return;
    }
    text_say(&text,
             "Left out are %zu more outlets, with %zu whole branches: the drop to none is above %.2f %%. `ampsum wire "
             "--format csv` lists all.",
             listed->left, listed->branches_left, listed->most_left_percent);
    report_paragraph(report, &text);
}

static void add_wire_picture(const struct report *report, size_t index)
{
    struct arena *arena = report->document->arena;
    struct wire_branch wire;
    wire_branch_init(&wire, report->assessment, index, arena);
    const struct picture picture = picture_wire(&wire.wiring, wire.result->voltage_v,
                                                wire.allowed_percent > 0 ? wire.allowed_percent : (double)NAN, arena);
    print_picture(report->document, &picture);
    wire_branch_done(&wire);
}

void report_part_wires(const struct report *report)
{
    const size_t branches = report->house->branch_count;
    double *percent = arena_array(report->document->arena, branches, sizeof *percent);
    struct print_table *table = NULL;
    struct report_points listed = {0};
    report_annex(report, "Voltage along the wire");
    print_paragraph(report->document,
                    "Resistance of the wire alone, at its working temperature. Branches without listed outlets have "
                    "their drop in the table of branches; where wire or length is not given there is none.");
    for (size_t i = 0; i < branches; i++) {
        percent[i] = report_has_points(report->check, i) ? add_wire(report, i, &table, &listed) : (double)NAN;
    }
    if (table == NULL) {
        print_paragraph(report->document, "No branch has outlets, wire and lengths listed.");
    }
    add_points_left(report, &listed);
    size_t drawn;
    const size_t *worst = report_largest(percent, branches, report->pictures_most, report->document->arena, &drawn);
    for (size_t i = 0; i < drawn; i++) {
        add_wire_picture(report, worst[i]);
    }
}
