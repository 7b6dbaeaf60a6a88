/* Current over the day; voltage along the wires. */
#include <math.h>
#include <string.h>

#include "ampsum/reference.h"
#include "ampsum/show_wire.h"
#include "ampsum/values.h"
#include "report_parts.h"

/* ------------------------------------------------------------------ days ---------------------------------- */

static void add_clock(const struct report *report, struct print_table *table, int minute)
{
    struct text text = {0};
    clock_add(&text, minute);
    print_cell(report->document, table, text_string(&text));
    text_done(&text);
}

static void add_day(const struct report *report, const char *what, struct day_scope scope)
{
    static const struct print_column columns[] = {
        {"From", 20, false}, {"To", 20, false}, {"Planning, A", 20, true}, {"Current, A", 20, true}};
    const double near_share = reference_rule_value("near-share", rules_word(report->house->rules)) / 100;
    struct arena *arena = report->document->arena;
    struct day_series *series = arena_take(arena, sizeof *series);
    const struct day day = day_busiest(report->house, scope, DAYS_ALL, MONTHS_ALL, report->assessment->factors);
    day_course(report->house, scope, day, report->assessment->factors, near_share, arena, series);
    const struct picture picture = picture_day(what, series, near_share, arena);
    print_picture(report->document, &picture);
    struct print_table *table = print_table_add(report->document, picture.title, columns, 4);
    print_screen_only(report->document);
    for (size_t i = 0; i < series->stretch_count; i++) {
        add_clock(report, table, series->stretches[i].start_min);
        add_clock(report, table, series->stretches[i].end_min);
        print_number(report->document, table, series->stretches[i].planning_a, 1);
        print_number(report->document, table, series->stretches[i].current_a, 1);
    }
}

static void add_panel_days(const struct report *report, size_t panel)
{
    const struct panel *row = &report->house->panels[panel];
    for (int leg = 0; leg < 3; leg++) {
        if ((row->legs >> leg & 1U) != 0) {
            struct text what = {0};
            text_printf(&what, "Panel %s, leg %s", row->name != NULL ? row->name : row->id, legs_word(1U << leg));
            add_day(report, text_string(&what), (struct day_scope){NO_INDEX, panel, leg});
            text_done(&what);
        }
    }
}

void report_part_days(const struct report *report)
{
    enum { PANELS_MOST = 20 };
    print_heading(report->document, 2, "Current over the day");
    print_paragraph(report->document,
                    "The day of the year with the largest planning current. An appliance counts as on at every minute "
                    "of its windows, one without windows all day.");
    for (size_t i = 0; i < report->house->panel_count && i < PANELS_MOST; i++) {
        add_panel_days(report, i);
    }
    for (size_t i = 0; i < report->house->branch_count; i++) {
        if (report->pictured[i] && report->assessment->branches[i].verdict >= VERDICT_NEAR) {
            add_day(report, report->house->branches[i].label, (struct day_scope){i, NO_INDEX, 0});
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
        if (report->pictured[i] && report->house->branches[i].outlets.count > 0) {
            drawn += add_wire(report, i);
        }
    }
    print_paragraph(report->document,
                    drawn > 0 ? "Resistance of the wire alone, at its working temperature. Branches without listed "
                                "outlets have their drop in the table of branches; where wire or length is not given "
                                "there is none."
                              : "No branch has outlets, wire and lengths listed.");
}
