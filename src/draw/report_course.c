/* Current over the day; voltage along the wires. */
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
    const struct day_row *rows = answer.rows;
    for (size_t i = 0; i < answer.count && good; i++) {
        const struct day_view *view = &answer.views[i];
        struct text what = {0};
        text_printf(&what, "%s%s%s%s", panel ? "Panel " : "", view->label, panel ? ", leg " : "",
                    panel ? view->leg : "");
        const struct picture picture = picture_day(text_string(&what), &view->series, answer.near_percent / 100, arena);
        print_picture(report->document, &picture);
        print_rows(report->document, picture.title, &show_course_rows, rows, view->series.stretch_count);
        print_screen_only(report->document);
        rows += view->series.stretch_count;
        text_done(&what);
    }
    day_answer_done(&answer);
    error_done(&error);
}

void report_part_days(const struct report *report)
{
    enum { PANELS_MOST = 20 };
    print_heading(report->document, 2, "Current over the day");
    print_paragraph(report->document,
                    "The day of the year with the largest planning current. An appliance counts as on at every minute "
                    "of its windows, one without windows all day.");
    for (size_t i = 0; i < report->house->panel_count && i < PANELS_MOST; i++) {
        add_day(report, report->house->panels[i].id, true);
    }
    for (size_t i = 0; i < report->house->branch_count; i++) {
        if (report->pictured[i] && report->assessment->branches[i].verdict >= VERDICT_NEAR) {
            add_day(report, report->house->branches[i].id, false);
        }
    }
}

/* ------------------------------------------------------------------ wires --------------------------------- */

static bool add_wire(const struct report *report, size_t index)
{
    struct arena *arena = report->document->arena;
    struct wire_branch wire;
    if (report->assessment->branches[index].loads == NULL) {
        return false;
    }
    wire_branch_init(&wire, report->assessment, index, arena);
    if (wire.solved) {
        const struct show_points points = {report->house, &wire};
        const struct picture picture = picture_wire(&wire.wiring, wire.result->voltage_v, wire.allowed_percent, arena);
        print_picture(report->document, &picture);
        print_rows(report->document, picture.title, &show_point_rows, &points, wire.outlet_count);
        print_screen_only(report->document);
    }
    wire_branch_done(&wire);
    return wire.solved;
}

void report_part_wires(const struct report *report)
{
    print_heading(report->document, 2, "Voltage along the wire");
    size_t drawn = 0;
    for (size_t i = 0; i < report->house->branch_count; i++) {
        if (report->wired[i] && report->house->branches[i].outlets.count > 0) {
            drawn += add_wire(report, i);
        }
    }
    print_paragraph(report->document,
                    drawn > 0 ? "Resistance of the wire alone, at its working temperature. Branches without listed "
                                "outlets have their drop in the table of branches; where wire or length is not given "
                                "there is none."
                              : "No branch has outlets, wire and lengths listed.");
}
