/* Where a new appliance could go: the branches that take it, best first, and why the others can't. */
#include <math.h>
#include <string.h>

#include "ampsum/show.h"
#include "ampsum/show_place.h"
#include "ampsum/values.h"
#include "appliance.h"
#include "guide.h"
#include "load.h"

enum { ITEMS_SHOWN = 4, PLACES_SHOWN = 6, REFUSED_SHOWN = 3 };

/* True where an earlier fault says the same: the load was tried on several branches. */
static bool was_said(const struct error *error, size_t at)
{
    const struct error_fault *fault = &error->faults[at];
    bool said = false;
    for (size_t i = 0; i < at && !said; i++) {
        const struct error_fault *other = &error->faults[i];
        said = fault->key == other->key && strcmp(fault->reason, other->reason) == 0 &&
               (fault->value == NULL || other->value == NULL ? fault->value == other->value
                                                             : strcmp(fault->value, other->value) == 0);
    }
    return said;
}

/* The other things that are wrong with the load, each once: the person did not write the section in which they are. */
static void add_further(struct visit *visit, size_t from)
{
    const struct error *error = &visit->error;
    for (size_t i = from; i < error->fault_count; i++) {
        const struct error_fault *fault = &error->faults[i];
        const struct guide_field *field = fault->key == NULL ? NULL : guide_field_of(KIND_APPLIANCE, fault->key);
        const char *label = field == NULL ? NULL : guide_field_label(visit, field);
        if (!was_said(error, i)) {
            page_add(visit, "<p>%s%s%s</p>", label == NULL ? "" : label, label == NULL ? "" : ": ",
                     guide_fault_reason(visit, fault));
        }
    }
}

void appliance_error(struct visit *visit)
{
    load_blame(visit);
    const char *label = load_label(visit, visit->error.part);
    page_add(visit, "<div role=\"alert\">");
    if (label != NULL) {
        const char *words = page_own_words(visit);
        page_add(visit, "<p><a href=\"#wrong\">%s</a>: %s</p>", label,
                 arena_copy_length(visit->arena, words, strcspn(words, "\n")));
    }
    if (visit->error.fault_count > 0) {
        add_further(visit, label == NULL ? 0 : 1);
    } else if (label == NULL || strchr(error_message(&visit->error), '\n') != NULL) {
        guide_fault_items(visit, "p");
    }
    page_add(visit, "</div>\n");
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

/* Appends item number `index` of a list. */
typedef void add_item(const struct place_row *row, size_t index, struct text *text);

static void add_items(struct visit *visit, const struct place_row *row, add_item *add, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        struct text item = {0};
        add(row, i, &item);
        page_add(visit, i == 0 ? "%s" : ", %s", arena_text(visit->arena, &item));
    }
}

/* `first N, and M more`, all of them behind a summary: nothing for an empty list. */
static void add_list(struct visit *visit, const char *before, const struct place_row *row, add_item *add, size_t count)
{
    /* One more is no reason to hide it. */
    const size_t shown = count > ITEMS_SHOWN + 1 ? ITEMS_SHOWN : count;
    if (count == 0) {
        return;
    }
    page_add(visit, "<span class=\"said\">%s", before);
    add_items(visit, row, add, shown);
    if (shown == count) {
        page_add(visit, ".</span> ");
        return;
    }
    page_add(visit, " and %zu more.</span> <details class=\"rest\"><summary>All %zu</summary><p>", count - shown,
             count);
    add_items(visit, row, add, count);
    page_add(visit, ".</p></details>");
}

static void add_time(const struct place_row *row, size_t index, struct text *text)
{
    clock_add_span(text, row->not_at[index].start_min, row->not_at[index].end_min);
}

/* `Kettle`, `Lamp (2 of them)`. */
static void add_off(const struct place_row *row, size_t index, struct text *text)
{
    const struct appliance *appliance = row->off[index];
    text_add(text, appliance->name);
    if (appliance->count > 1) {
        text_printf(text, " (%u of them)", appliance->count);
    }
}

static void add_not_at(struct visit *visit, const struct place_row *row)
{
    if (row->never) {
        page_add(visit, "Too much at any time of the day beside all that may be on. ");
    } else {
        add_list(visit, "Beside all that may be on then, too much at ", row, add_time, row->not_at_count);
    }
    add_list(visit, "Keep off while it runs: ", row, add_off, row->off_count);
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
        add_not_at(visit, row);
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
