/* What a new appliance would do: the branches before and after, which of them are over, energy, findings. */
#include <math.h>

#include "ampsum/show_try.h"
#include "appliance.h"
#include "load.h"

enum { FINDINGS_SHOWN = 4 };

static void add_side(struct visit *visit, const char *when, const struct branch_assessment *side, bool other_voltage)
{
    if (side == NULL) {
        return;
    }
    page_add(visit, "%s ", when);
    if (other_voltage) {
        page_add(visit, "another voltage than the load is made for. ");
        return;
    }
    page_verdict(visit, side->verdict);
    page_add(visit, " with %.1f A at the busiest minute and %.1f A with everything on", side->other.planning_a,
             side->all.planning_a);
    if (isfinite(side->drop_percent)) {
        page_add(visit, ", voltage drop %.1f %%", side->drop_percent);
    }
    page_add(visit, ". ");
}

static void add_branches(struct visit *visit, const struct try_answer *answer)
{
    for (size_t i = 0; i < answer->row_count; i++) {
        const struct try_row *row = &answer->rows[i];
        page_add(visit, "<p><strong>%s</strong>, breaker %g A. ", row->branch->label, row->branch->breaker_a);
        add_side(visit, "Now", row->was, false);
        add_side(visit, "Then", row->then, row->other_voltage);
        page_add(visit, "</p>");
    }
    page_add(visit, answer->row_count == 0 ? "<p>No branch changes.</p>" : "");
}

/* Of the branches that change, those that have no room for the load. */
static void add_no_room(struct visit *visit, const struct try_answer *answer)
{
    for (size_t i = 0; i < answer->row_count; i++) {
        const struct try_row *row = &answer->rows[i];
        if (row->fit != NULL && row->fit->class != FIT_ROOM) {
            page_add(visit, "<p class=\"kept-for\"><strong>%s</strong> has %s.</p>", row->branch->label,
                     row->fit->class == FIT_NO ? "no room for it"
                                               : "room for it only if others stay off while it runs");
        }
    }
}

/* Which branches are over after it, and which of them are now. */
static void add_over(struct visit *visit, const struct try_answer *answer)
{
    for (size_t i = 0; i < answer->over_count; i++) {
        const struct try_over *over = &answer->over[i];
        page_add(visit, i > 0 ? ", " : "<p class=\"over\">Over after it: ");
        page_add(visit, "<a href=\"/branch/%s\">%s</a>%s", over->branch->id, over->branch->label,
                 over->already ? " (as before)" : "");
    }
    if (answer->over_count > 0) {
        page_add(visit, ".%s</p>", show_try_over(answer));
    }
}

static void add_energy(struct visit *visit, const struct try_answer *answer)
{
    const struct energy_bill *before = answer->before.bill;
    const struct energy_bill *after = answer->after.bill;
    const char *currency = answer->after.house->currency;
    if (answer->left_out_count > 0) {
        page_add(visit, "<p>Energy: its hours of use are not known, so its energy is left out.</p>");
        return;
    }
    page_add(visit, "<p>Energy a day: %.2f kWh now, %.2f kWh then", before->kwh_day, after->kwh_day);
    if (after->cost_year != NULL) {
        page_add(visit, "; a year %s %s now, %s %s then", before->cost_year, currency, after->cost_year, currency);
    }
    page_add(visit, ".</p>");
}

static void add_found(struct visit *visit, const char *title, const struct try_answer *answer, enum try_news news)
{
    const size_t count = answer->news_count[news];
    size_t shown = 0;
    if (count == 0) {
        return;
    }
    page_add(visit, "<h3>%s</h3><ul class=\"findings\">", title);
    for (size_t i = 0; i < answer->finding_count; i++) {
        if (answer->findings[i].news != news) {
            continue;
        }
        if (shown++ == FINDINGS_SHOWN && count > FINDINGS_SHOWN + 1) {
            page_add(visit, "</ul><details><summary>%zu more</summary><ul class=\"findings\">", count - FINDINGS_SHOWN);
        }
        const struct try_finding *found = &answer->findings[i];
        page_finding(visit, found->finding, visit_name(visit, found->kind, found->where));
    }
    page_add(visit, count > FINDINGS_SHOWN + 1 ? "</ul></details>" : "</ul>");
}

void appliance_trial(struct visit *visit, const struct try_answer *answer)
{
    page_add(visit, "<h2>%s: what it would do there</h2>", load_shown(visit));
    appliance_notes(visit, &answer->done[0].load);
    add_no_room(visit, answer);
    add_branches(visit, answer);
    add_over(visit, answer);
    add_energy(visit, answer);
    add_found(visit, "New findings", answer, TRY_NEW);
    add_found(visit, "Findings that become graver or milder", answer, TRY_CHANGED);
    add_found(visit, "Findings that go", answer, TRY_GONE);
}
