/* Where a new appliance could go: the branches that take it, best first, and why the others can't. */
#include <math.h>
#include <string.h>

#include "ampsum/show.h"
#include "ampsum/show_place.h"
#include "ampsum/values.h"
#include "appliance.h"
#include "input.h"
#include "load.h"

enum { ITEMS_SHOWN = 4, PLACES_SHOWN = 6, REFUSED_SHOWN = 3 };

void appliance_error(struct visit *visit)
{
    load_blame(visit);
    page_refused(visit, load_label(visit, visit->error.part));
}

void appliance_notes(struct visit *visit, const struct freetext *load)
{
    struct text note = {0};
    if (load->note != NULL) {
        page_add(visit, "<p>%s.</p>", load->note);
    }
    show_running_time(load, visit->house->rules, load_says_continuous(visit), &note);
    page_paragraph(visit, NULL, &note);
}

/* `first N and M more`, all of them behind a summary: nothing for an empty list. */
static void add_list(struct visit *visit, const char *before, const char *const *items, size_t count)
{
    /* One more is no reason to hide it. */
    const size_t shown = count > ITEMS_SHOWN + 1 ? ITEMS_SHOWN : count;
    for (size_t i = 0; i < shown; i++) {
        page_add(visit, i == 0 ? "<span class=\"said\">%s%s" : "%s%s", i == 0 ? before : ", ", items[i]);
    }
    if (shown == count) {
        page_add(visit, count == 0 ? "" : ".</span> ");
        return;
    }
    page_add(visit, " and %zu more.</span> <details class=\"rest\"><summary>All %zu</summary><p>", count - shown,
             count);
    for (size_t i = 0; i < count; i++) {
        page_add(visit, i == 0 ? "%s" : ", %s", items[i]);
    }
    page_add(visit, ".</p></details>");
}

/* The times at which it is too much. */
static void add_times(struct visit *visit, const struct place_row *row)
{
    const char **items = arena_array(visit->arena, row->not_at_count, sizeof *items);
    for (size_t i = 0; i < row->not_at_count; i++) {
        struct text span = {0};
        clock_add_span(&span, row->not_at[i].start_min, row->not_at[i].end_min);
        items[i] = arena_text(visit->arena, &span);
    }
    add_list(visit, "Beside all that may be on then, too much at ", items, row->not_at_count);
}

/* What is to stay off: `Kettle`, `Lamp (2 of them)`. */
static void add_off(struct visit *visit, const struct place_row *row)
{
    const char **items = arena_array(visit->arena, row->off_count, sizeof *items);
    for (size_t i = 0; i < row->off_count; i++) {
        const struct appliance *appliance = row->off[i];
        items[i] = appliance->count == 1
                       ? appliance->name
                       : arena_printf(visit->arena, "%s (%u of them)", appliance->name, appliance->count);
    }
    add_list(visit, "Keep off while it runs: ", items, row->off_count);
}

/* What would be found on the branch with the load: behind a summary that counts it. */
static void add_findings_then(struct visit *visit, const struct finding_list *findings)
{
    if (findings->count == 0) {
        return;
    }
    page_add(visit, "<details class=\"rest\"><summary>Findings on this branch with it: ");
    struct text counts = {0};
    show_finding_counts(findings, &counts);
    page_add(visit, "%s</summary>", arena_text(visit->arena, &counts));
    page_findings(visit, findings);
    page_add(visit, "</details>");
}

static void add_figures(struct visit *visit, const struct place_row *row)
{
    const double headroom_a = row->result->all.headroom_a;
    page_add(visit, "With everything on %.1f A of %g A, ", row->result->all.planning_a, row->branch->breaker_a);
    if (headroom_a < 0) {
        page_add(visit, "%.1f A over the breaker", -headroom_a);
    } else {
        page_add(visit, "headroom %.1f A", headroom_a);
    }
    if (isfinite(row->result->drop_percent)) {
        page_add(visit, ", voltage drop %.1f %%", row->result->drop_percent);
    }
    page_add(visit, ". ");
}

static void add_try_link(struct visit *visit, const struct place_row *row)
{
    struct form pairs = load_pairs(visit, 0);
    form_add(&pairs, "at", load_at(visit, row));
    page_add(visit, "<p><a href=\"%s\">Try it here<span class=\"hidden\"> on %s</span></a></p>",
             page_address(visit, "/appliance", &pairs), row->branch->label);
}

static void add_place(struct visit *visit, const struct place_row *row)
{
    page_add(visit, "<li>");
    page_verdict_word(visit, row->result == NULL ? "" : verdict_word(row->result->verdict));
    page_add(visit, " <strong>%s</strong>%s%s ", row->branch->label, row->outlet == NULL ? "" : ", outlet ",
             row->outlet == NULL ? "" : visit_name(visit, KIND_OUTLET, row->outlet));
    if (row->fit.class == FIT_ROOM) {
        page_add(visit, "has room for it, whatever else is on. ");
    } else if (row->fit.class == FIT_ONLY_IF) {
        page_add(visit, "takes it only if others stay off: %s. ", row->fit.reason);
    } else {
        page_add(visit, "can't take it: %s. ", row->fit.reason);
    }
    if (row->result != NULL) {
        add_figures(visit, row);
        if (row->never) {
            page_add(visit, "Too much at any time of the day beside all that may be on. ");
        } else {
            add_times(visit, row);
        }
        add_off(visit, row);
        add_findings_then(visit, &row->fit.new_findings);
        add_try_link(visit, row);
    }
    page_add(visit, "</li>");
}

/* Those that can't take it, or the others, which stand before them: the first ones, the rest behind a summary. */
static void add_group(struct visit *visit, const struct place_row *rows, size_t count, bool fitting, size_t shown_most)
{
    page_add(visit, shown_most > 0 && count > 0 ? "<ul class=\"places\">" : "");
    for (size_t i = 0; i < count; i++) {
        if (i == shown_most) {
            page_add(visit, shown_most > 0 ? "</ul>" : "");
            page_add(visit, "<details><summary>%zu%s%s</summary><ul class=\"places\">", count - i,
                     shown_most > 0 ? " more" : "", fitting ? " that could take it" : " that can't take it, and why");
        }
        add_place(visit, &rows[i]);
    }
    page_add(visit, count == 0 ? "" : count > shown_most ? "</ul></details>\n" : "</ul>\n");
}

void appliance_places(struct visit *visit, const struct place_answer *answer)
{
    const size_t takers = place_takers(answer);
    const char *conclusion = show_place_conclusion(answer);
    page_add(visit, "<h2>Where it could go</h2>");
    appliance_notes(visit, &answer->load);
    if (conclusion != NULL) {
        page_add(visit, "<p>%s</p>", conclusion);
    }
    add_group(visit, answer->rows, takers, true, PLACES_SHOWN);
    add_group(visit, answer->rows + takers, answer->count - takers, false, takers == 0 ? REFUSED_SHOWN : 0);
}
