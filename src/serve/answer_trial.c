/* What `try` answers: the branches before and after, which of them are over, energy, findings. */
#include <math.h>
#include <string.h>

#include "ampsum/decide.h"
#include "ampsum/freetext.h"
#include "answer.h"
#include "load.h"

enum { FINDINGS_SHOWN = 4 };

static void add_side(struct text *html, const char *when, const json_t *side)
{
    if (!json_is_object(side)) {
        return;
    }
    const double drop_percent = json_double(side, "drop_percent");
    html_add(html, "%s ", when);
    if (json_word(side, "status")[0] == '\0') {
        html_add(html, "another voltage than the load is made for. ");
        return;
    }
    page_verdict_word(html, json_word(side, "status"));
    html_add(html, " with %.1f A at the busiest minute and %.1f A with everything on",
             json_double(json_object_get(side, "busiest"), "planning_a"),
             json_double(json_object_get(side, "all"), "planning_a"));
    if (isfinite(drop_percent)) {
        html_add(html, ", voltage drop %.1f %%", drop_percent);
    }
    html_add(html, ". ");
}

static const json_t *branch_of(const json_t *branches, const char *id)
{
    for (size_t i = 0; i < json_array_size(branches); i++) {
        const json_t *branch = json_array_get(branches, i);
        if (strcmp(json_word(json_object_get(branch, "after"), "id"), id) == 0) {
            return branch;
        }
    }
    return NULL;
}

static void add_branches(struct visit *visit, const json_t *branches)
{
    struct text *html = &visit->answer.body;
    for (size_t i = 0; i < json_array_size(branches); i++) {
        const json_t *branch = json_array_get(branches, i);
        const json_t *then = json_object_get(branch, "after");
        html_add(html, "<p><strong>%s</strong>, breaker %g A. ", json_word(then, "label"),
                 json_double(then, "breaker_a"));
        add_side(html, "Now", json_object_get(branch, "before"));
        add_side(html, "Then", then);
        html_add(html, "</p>");
    }
    html_add(html, json_array_size(branches) == 0 ? "<p>No branch changes.</p>" : "");
}

/* Which branches are over after it, and which of them are now: `try` lists those that change, the house the others. */
static void add_over(struct visit *visit, const json_t *branches)
{
    struct text *html = &visit->answer.body;
    struct assess_options busiest = {.wires = true};
    struct assessment *now = assess_house(visit->house, &busiest);
    bool any = false;
    for (size_t i = 0; i < visit->house->branch_count; i++) {
        const struct branch *branch = &visit->house->branches[i];
        const json_t *changed = branch_of(branches, branch->id);
        const bool over_now = now->branches[i].verdict == VERDICT_OVER;
        const bool over_then = changed == NULL ? over_now
                                               : strcmp(json_word(json_object_get(changed, "after"), "status"),
                                                        verdict_word(VERDICT_OVER)) == 0;
        if (over_then) {
            html_add(html, any ? ", " : "<p class=\"over\">Over after it: ");
            html_add(html, "<a href=\"/branch/%s\">%s</a>%s", branch->id, branch->label,
                     over_now ? " (as before)" : "");
            any = true;
        }
    }
    html_add(html,
             any ? ". Run fewer of these at once, move a plug-in appliance, or ask a licensed electrician.</p>" : "");
    assess_free(now);
}

static const char *where_name(const struct visit *visit, const char *id)
{
    const size_t branch = house_find(visit->house, KIND_BRANCH, id);
    const size_t panel = house_find(visit->house, KIND_PANEL, id);
    if (branch != NO_INDEX) {
        return visit->house->branches[branch].label;
    }
    return panel == NO_INDEX || visit->house->panels[panel].name == NULL ? id : visit->house->panels[panel].name;
}

static void add_finding(struct visit *visit, const json_t *finding)
{
    struct text *html = &visit->answer.body;
    html_add(html, "<li class=\"f-%s\"><strong>%s</strong> %s: %s <span class=\"number\">[%s]</span>",
             json_word(finding, "severity"), json_word(finding, "severity"),
             where_name(visit, json_word(finding, "where")), json_word(finding, "text"), json_word(finding, "id"));
    html_add(html, "<span class=\"caution\">%s</span><small>Source: %s</small></li>", json_word(finding, "caution"),
             json_word(finding, "source"));
}

static void add_found(struct visit *visit, const char *title, const json_t *findings)
{
    struct text *html = &visit->answer.body;
    const size_t count = json_array_size(findings);
    if (count == 0) {
        return;
    }
    html_add(html, "<h3>%s</h3><ul class=\"findings\">", title);
    for (size_t i = 0; i < count; i++) {
        if (i == FINDINGS_SHOWN && count > FINDINGS_SHOWN + 1) {
            html_add(html, "</ul><details><summary>%zu more</summary><ul class=\"findings\">", count - i);
        }
        add_finding(visit, json_array_get(findings, i));
    }
    html_add(html, count > FINDINGS_SHOWN + 1 ? "</ul></details>" : "</ul>");
}

static void add_energy(struct text *html, const json_t *energy, bool left_out)
{
    const json_t *before = json_object_get(energy, "before");
    const json_t *after = json_object_get(energy, "after");
    html_add(html, "<p>Energy a day: %.2f kWh now, %.2f kWh then", json_double(before, "kwh_day"),
             json_double(after, "kwh_day"));
    if (json_word(after, "cost_year")[0] != '\0') {
        html_add(html, "; a year %s %s now, %s %s then", json_word(before, "cost_year"), json_word(energy, "currency"),
                 json_word(after, "cost_year"), json_word(energy, "currency"));
    }
    html_add(html, left_out ? "; its hours of use are not known, so its energy is left out.</p>" : ".</p>");
}

/* What was assumed of it, where no rating was given. */
static void add_note(struct visit *visit, const struct freetext *load)
{
    if (load->note != NULL) {
        html_add(&visit->answer.body, "<p>%s.</p>", load->note);
    }
    answer_running_time(visit, load);
}

/* Of the branches that change, those that have no room for the load. */
static void add_no_room(struct visit *visit, const json_t *branches)
{
    static const struct {
        const char *class;
        const char *words;
    } kinds[] = {{"only-if", "has room for it only if others stay off while it runs"}, {"no", "has no room for it"}};
    for (size_t i = 0; i < json_array_size(branches); i++) {
        const json_t *branch = json_array_get(branches, i);
        for (size_t k = 0; k < sizeof kinds / sizeof kinds[0]; k++) {
            if (strcmp(json_word(branch, "class"), kinds[k].class) == 0) {
                html_add(&visit->answer.body, "<p class=\"kept-for\"><strong>%s</strong> %s.</p>",
                         json_word(json_object_get(branch, "after"), "label"), kinds[k].words);
            }
        }
    }
}

void answer_trial(struct visit *visit, const json_t *json)
{
    struct text *html = &visit->answer.body;
    const json_t *branches = json_object_get(json, "branches");
    html_add(html, "<h2>%s: what it would do there</h2>", load_shown(visit));
    struct freetext load = {0};
    struct error error = {0};
    const bool read = freetext_read(visit->arena, load_spoken(visit), visit->house->rules, &load, &error);
    error_done(&error); /* `try` answered, so that it was read */
    if (read) {
        add_note(visit, &load);
    }
    add_no_room(visit, branches);
    add_branches(visit, branches);
    add_over(visit, branches);
    add_energy(html, json_object_get(json, "energy"), read && freetext_lacks_times(&load));
    add_found(visit, "New findings", json_object_get(json, "new_findings"));
    add_found(visit, "Findings that become graver or milder", json_object_get(json, "changed_findings"));
    add_found(visit, "Findings that go", json_object_get(json, "gone_findings"));
}
