/* The last step: what is not known yet and what follows from it, and the verdict of the check. */
#include <math.h>
#include <string.h>

#include "ampsum/reference.h"
#include "ampsum/show_check.h"
#include "guide.h"

enum { NAMES_SHOWN_MOST = 8 };

/* ---- what can be missing, row by row */

static bool lacks_wire(const struct house *house, size_t index)
{
    return house->branches[index].wire.conductor == NULL;
}

static bool lacks_length(const struct house *house, size_t index)
{
    const struct branch *branch = &house->branches[index];
    return branch->wire.conductor != NULL && !isfinite(branch->length_m) && branch->outlets.count == 0;
}

static bool lacks_loads(const struct house *house, size_t index)
{
    return house->branches[index].appliances.count == 0;
}

static bool lacks_position(const struct house *house, size_t index)
{
    return house->branches[index].position.count == 0;
}

static bool lacks_nameplate(const struct house *house, size_t index)
{
    return guide_typical(&house->appliances[index]) != NULL;
}

static bool lacks_use(const struct house *house, size_t index)
{
    return house->appliances[index].use.count == 0;
}

static bool lacks_room(const struct house *house, size_t index)
{
    return house->appliances[index].room == NO_INDEX;
}

static bool lacks_feeder_wire(const struct house *house, size_t index)
{
    const struct panel *panel = &house->panels[index];
    return index > 0 && (panel->wire.conductor == NULL || !isfinite(panel->length_m));
}

static bool lacks_tariff(const struct house *house, size_t index)
{
    (void)index;
    return house->tariff == NO_INDEX;
}

static bool lacks_floor_area(const struct house *house, size_t index)
{
    (void)index;
    return !isfinite(house->floor_area_m2);
}

/* One row for each thing that may be missing. */
static const struct gap {
    enum kind kind;
    bool (*is_missing)(const struct house *house, size_t index);
    const char *what;
    const char *follows;
} gaps[] = {
    {KIND_APPLIANCE, lacks_nameplate, "The typical rating, to the watt",
     "If that was not read from the nameplate, the current is a guess: read it there and correct it."},
    {KIND_BRANCH, lacks_wire, "Wire not known",
     "Whether the breaker protects the wire, and the voltage drop, can't be told."},
    {KIND_BRANCH, lacks_length, "No length and no outlets", "The voltage drop can't be told."},
    {KIND_PANEL, lacks_feeder_wire, "Feeder without wire or length",
     "Whether its breaker protects the feeder, or the voltage drop in it, can't be told."},
    {KIND_BRANCH, lacks_loads, "Nothing on this branch",
     "Its current is taken as nothing. Does it really feed nothing?"},
    {KIND_APPLIANCE, lacks_use, "Time of use not known",
     "Taken as on at any moment, so the busiest minute may come out too high; its energy can't be told without hours."},
    {KIND_APPLIANCE, lacks_room, "Room not known", "Left out where a room is asked about."},
    {KIND_BRANCH, lacks_position, "Space in the panel not known",
     "The list for the panel's door shows no space for it."},
    {KIND_HOUSE, lacks_tariff, "No price of energy", "Energy is shown in kWh only, not in money."},
    {KIND_HOUSE, lacks_floor_area, "Floor area not known",
     "The demand of the whole dwelling is worked out without the general load of its area."},
};

static void add_row(struct visit *visit, const struct gap *gap, size_t index, size_t count)
{
    const char *id = house_row_id(visit->house, gap->kind, index);
    page_add(visit, count == 0 ? ": " : ", ");
    if (gap->kind == KIND_HOUSE) {
        const bool tariff = gap->is_missing == lacks_tariff;
        page_add(visit, "<a href=\"%s\">%s</a>", tariff ? "/build/tariff" : "/build/house",
                 tariff ? "add a tariff" : "add it");
    } else {
        page_add(visit, "<a href=\"/build/correct/%s/%s\">%s</a>", kind_word(gap->kind), id,
                 guide_name(visit->house, gap->kind, index));
    }
}

static size_t count_missing(const struct house *house, const struct gap *gap)
{
    size_t rows = 0;
    size_t missing = 0;
    house_rows(house, gap->kind, &rows);
    for (size_t i = 0; i < rows; i++) {
        missing += gap->is_missing(house, i);
    }
    return missing;
}

static void add_gap(struct visit *visit, const struct gap *gap, size_t missing)
{
    size_t count = 0;
    page_add(visit, "<li><strong>%s</strong>", gap->what);
    for (size_t i = 0; count < missing && count < NAMES_SHOWN_MOST; i++) {
        if (gap->is_missing(visit->house, i)) {
            add_row(visit, gap, i, count++);
        }
    }
    if (missing > count) {
        page_add(visit, " and %zu more", missing - count);
    }
    page_add(visit, ".<small>%s</small></li>", gap->follows);
}

static void add_gaps(struct visit *visit)
{
    const struct house *house = visit->house;
    size_t shown = 0;
    for (size_t i = 0; i < sizeof gaps / sizeof gaps[0]; i++) {
        const size_t missing = count_missing(house, &gaps[i]);
        if (missing > 0) {
            page_add(visit, shown++ == 0 ? "<ul class=\"plain gaps\">" : "");
            add_gap(visit, &gaps[i], missing);
        }
    }
    page_add(visit, shown > 0 ? "</ul>\n" : "<p>Nothing that the program asks for.</p>\n");
}

/* ---- the verdict */

static void add_verdict(struct visit *visit, const struct check_answer *check, enum verdict verdict)
{
    const struct house *house = visit->house;
    struct text *html = &visit->answer.body;
    const char *before = "";
    page_add(visit, "<li>");
    page_verdict(html, verdict);
    for (size_t i = 0; i < house->branch_count; i++) {
        if (check->assessment->branches[i].verdict == verdict) {
            page_add(visit, "%s<a href=\"/branch/%s\">%s</a>", before, house->branches[i].id, house->branches[i].label);
            before = ", ";
        }
    }
    page_add(visit, "</li>");
}

static void add_check(struct visit *visit)
{
    struct text *html = &visit->answer.body;
    const struct check_answer *check = visit_check(visit);
    if (visit->house->branch_count == 0) {
        page_add(visit, "<p>There is no branch to check yet.</p>\n");
        return;
    }
    page_add(visit, "<p>The whole house: ");
    page_verdict(html, check->assessment->status);
    page_add(visit, "</p><ul class=\"plain gaps\">");
    for (int verdict = VERDICT_OVER; verdict >= VERDICT_EMPTY; verdict--) {
        if (check->verdicts[verdict] > 0) {
            add_verdict(visit, check, (enum verdict)verdict);
        }
    }
    struct text legend = {0};
    show_legend(check, "on its own page", &legend);
    page_add(visit, "</ul><p class=\"legend\">%s</p>\n", text_string(&legend));
    text_done(&legend);
    page_add(visit, "<p>Findings: %zu danger, %zu warnings, %zu notes; each branch shows its own.</p>\n",
             assess_count(check->assessment, SEVERITY_DANGER), assess_count(check->assessment, SEVERITY_WARNING),
             assess_count(check->assessment, SEVERITY_NOTE));
}

void view_guide_missing(struct visit *visit)
{
    if (!guide_ready(visit)) {
        return;
    }
    guide_begin(visit, "/build/missing", "What is still missing");
    page_add(visit, "<p>All is stored already. What follows may be added now, later, or never.</p>\n");
    add_gaps(visit);
    page_add(visit, "<h2>What the check says</h2>");
    add_check(visit);
    page_add(
        visit,
        "<p class=\"links\"><a href=\"/\">See the house</a> <a href=\"/files/report.pdf\" download>Report (PDF)</a> "
        "<a href=\"/files/directory.pdf\" download>List for the panel's door (PDF)</a> <a href=\"/files\">All "
        "downloads</a></p>\n");
    guide_end(visit, "/build/missing");
}
