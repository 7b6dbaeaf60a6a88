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

/* Whether the wire of a branch is worked out: it has outlets, wire and lengths, and something hangs on it. */
static bool has_points(const struct report *report, size_t index)
{
    const struct branch_assessment *result = &report->assessment->branches[index];
    return report->house->branches[index].outlets.count > 0 && result->loads != NULL &&
           result->verdict != VERDICT_EMPTY;
}

/* The outlets that are listed so far. */
struct wire_table {
    struct print_table *table; /* NULL: none yet */
    size_t points;
    size_t branches_left;
    size_t points_left;
    double most_left_percent;
};

/* At most as many outlets as have room. */
static size_t take_points(struct wire_table *table, const struct wire_branch *wire)
{
    const size_t room = REPORT_POINTS_MOST - table->points;
    const size_t taken = wire->outlet_count < room ? wire->outlet_count : room;
    table->points += taken;
    table->branches_left += taken == 0;
    table->points_left += wire->outlet_count - taken;
    if (taken < wire->outlet_count) {
        table->most_left_percent = fmax(table->most_left_percent, wiring_worst_drop_percent(&wire->wiring));
    }
    return taken;
}

/* The outlets of a branch as a group of the table, which is begun with the first; its worst drop in per cent, else NAN.
 */
static double add_wire(const struct report *report, size_t index, struct wire_table *table)
{
    struct arena *arena = arena_new();
    struct wire_branch wire;
    double worst_percent = (double)NAN;
    wire_branch_init(&wire, report->assessment, index, arena);
    if (wire.solved) {
        const struct show_points points = {report->house, &wire};
        const size_t taken = take_points(table, &wire);
        struct text name = {0};
        if (table->table == NULL) {
            table->table = print_rows(report->document, "At each outlet, everything on", &show_point_rows, &points, 0);
        }
        if (taken > 0) {
            show_branch_name(&report->house->branches[index], &name);
            print_group(report->document, table->table, text_string(&name), "");
            print_more_rows(report->document, table->table, &show_point_rows, &points, taken);
        }
        worst_percent = wiring_worst_drop_percent(&wire.wiring);
        text_done(&name);
    }
    wire_branch_done(&wire);
    arena_free(arena);
    return worst_percent;
}

static void add_points_left(const struct report *report, const struct wire_table *table)
{
    struct text text = {0};
    if (table->points_left == 0) {
        return;
    }
    text_printf(&text, "Left out are %zu more outlets, with %zu whole branches: the drop to none is above ",
                table->points_left, table->branches_left);
    text_add_fixed(&text, table->most_left_percent, 2);
    text_add(&text, " %. `ampsum wire --format csv` lists all.");
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

/* The branch with the most of those that are not drawn yet, which it then is; NO_INDEX: none. */
static size_t take_worst(double *percent, size_t count)
{
    size_t worst = NO_INDEX;
    for (size_t i = 0; i < count; i++) {
        if (!isnan(percent[i]) && (worst == NO_INDEX || percent[i] > percent[worst])) {
            worst = i;
        }
    }
    if (worst != NO_INDEX) {
        percent[worst] = (double)NAN;
    }
    return worst;
}

void report_part_wires(const struct report *report)
{
    const size_t branches = report->house->branch_count;
    double *percent = arena_array(report->document->arena, branches, sizeof *percent);
    struct wire_table table = {0};
    report_annex(report, "Voltage along the wire");
    print_paragraph(report->document,
                    "Resistance of the wire alone, at its working temperature. Branches without listed outlets have "
                    "their drop in the table of branches; where wire or length is not given there is none.");
    for (size_t i = 0; i < branches; i++) {
        percent[i] = has_points(report, i) ? add_wire(report, i, &table) : (double)NAN;
    }
    if (table.table == NULL) {
        print_paragraph(report->document, "No branch has outlets, wire and lengths listed.");
    }
    add_points_left(report, &table);
    size_t worst = NO_INDEX;
    for (size_t drawn = 0; drawn < report->pictures_most && (worst = take_worst(percent, branches)) != NO_INDEX;
         drawn++) {
        add_wire_picture(report, worst);
    }
}
