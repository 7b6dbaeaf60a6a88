/* Step 2, the panel's door copied line by line; and further panels. */
#include <stdlib.h>

#include "ampsum/answer_check.h"
#include "ampsum/answer_next.h"
#include "guide.h"

enum { LINES_MOST = 12, FREE_SHOWN_MOST = 8 };

/* ---- spaces */

/* Those below the highest that is taken, the first of them, and all above it. */
static void add_free(struct visit *visit, size_t panel)
{
    size_t spaces[FREE_SHOWN_MOST];
    const int highest = highest_space(visit->house, panel);
    const size_t count = next_free(visit->house, panel, spaces, FREE_SHOWN_MOST);
    if (highest > 0) {
        page_add(visit, "Spaces still free: ");
        for (size_t i = 0; i < count; i++) {
            page_add(visit, i + 1 < FREE_SHOWN_MOST ? "%zu, " : "%zu ... ", spaces[i]);
        }
        page_add(visit, "%zu and up.", (size_t)highest + 1);
    }
}

/* ---- the lines so far */

static void add_spaces(struct visit *visit, const struct branch *branch)
{
    page_add(visit, "<span class=\"space\">");
    for (size_t i = 0; i < branch->position.count; i++) {
        page_add(visit, "%s%zu", i == 0 ? "" : ",", (size_t)branch->position.space[i]);
    }
    page_add(visit, branch->position.count == 0 ? "-</span> " : "</span> ");
}

static void add_line(struct visit *visit, size_t index)
{
    const struct branch *branch = &visit->house->branches[index];
    add_spaces(visit, branch);
    page_add(visit, "<span class=\"what\"><a href=\"/branch/%s\">%s</a><small>%g A, %zu %s", branch->id, branch->label,
             branch->breaker_a, (size_t)branch->poles, branch->poles == 1 ? "pole" : "poles");
    if (visit->house->system != SYSTEM_SINGLE_PHASE) {
        page_add(visit, ", %s %s", branch->poles == 1 ? "leg" : "legs", legs_word(branch->legs));
    }
    if (branch->purpose != PURPOSE_GENERAL) {
        page_add(visit, ", %s", purpose_word(branch->purpose));
    }
    page_add(visit, branch->wire.conductor == NULL ? ", wire not known" : "");
    page_add(visit, "</small></span>");
}

static void add_lines(struct visit *visit, size_t panel)
{
    const struct house *house = visit->house;
    const size_t *order = branches_by_space(house, visit->arena);
    struct index_list rows = {arena_array(visit->arena, house->branch_count, sizeof *rows.index), 0};
    for (size_t i = 0; i < house->branch_count; i++) {
        if (house->branches[order[i]].panel == panel) {
            rows.index[rows.count++] = order[i];
        }
    }
    page_add(visit, rows.count == 0 ? "<h2>The door so far</h2><p>Nothing yet.</p>\n" : "<h2>The door so far</h2>");
    if (rows.count > 0) {
        guide_list(visit, KIND_BRANCH, &rows, add_line);
    }
}

/* ---- the form */

/* Each line is a group of its own, so that the same labels stand apart for who hears them. */
static void add_group(struct visit *visit, struct guide_form *form, size_t number)
{
    page_add(visit, "<fieldset class=\"fields guide\"><legend>Line %zu</legend>", number);
    guide_form_line(form);
    page_add(visit, "</fieldset>");
}

const char *guide_next_space(struct visit *visit, size_t panel)
{
    return arena_printf(visit->arena, "%d", next_space(visit->house, panel));
}

static void add_several(struct visit *visit, size_t panel, size_t count)
{
    const char *id = visit->house->panels[panel].id;
    struct guide_form form = guide_form_new(visit, KIND_BRANCH);
    int space = next_space(visit->house, panel);
    form.focus = !visit->post;
    guide_form_begin(&form, "/build/add");
    page_hidden(visit, "panel", id);
    page_hidden(visit, "lines", arena_printf(visit->arena, "%zu", count));
    for (size_t i = 1; i <= count; i++) {
        form.prefix = arena_printf(visit->arena, "%zu.", i);
        page_hidden(visit, arena_printf(visit->arena, "%zu.panel", i), id);
        form_add(&form.proposed, "position", arena_printf(visit->arena, "%d", space));
        add_group(visit, &form, i);
        form_done(&form.proposed);
        space = next_space_behind(visit->house, panel, space);
    }
    page_add(visit, "<p class=\"help\">Lines without a label are left out. All are stored, or none.</p>");
    guide_form_end(&form, "Add these lines");
}

static void add_one(struct visit *visit, size_t panel)
{
    const struct house *house = visit->house;
    struct guide_form form = guide_form_new(visit, KIND_BRANCH);
    form.focus = form_has(&visit->query, "added") || house->branch_count == 0;
    form_add(&form.proposed, "position", guide_next_space(visit, panel));
    guide_form_begin(&form, "/build/add");
    page_hidden(visit, "panel", house->panels[panel].id);
    guide_form_fields(&form);
    page_add(visit, "<p class=\"help\">");
    add_free(visit, panel);
    if (house->system != SYSTEM_SINGLE_PHASE) {
        page_add(visit, " Legs as usual: by the space, as most panels are built; if yours shows "
                        "otherwise, choose them.");
    }
    page_add(visit, "</p>");
    guide_form_end(&form, "Add this line");
}

static void add_doors(struct visit *visit, size_t shown)
{
    const struct house *house = visit->house;
    for (size_t i = 0; house->panel_count > 1 && i < house->panel_count; i++) {
        page_add(visit, i == 0 ? "<p class=\"choice\">Door of: " : " ");
        page_add(visit, "<a href=\"/build/panel?panel=%s\"", house->panels[i].id);
        page_add(visit, i == shown ? " aria-current=\"true\"" : "");
        page_add(visit, ">%s</a>", house_row_name(house, KIND_PANEL, i));
    }
    page_add(visit, house->panel_count > 1 ? "</p>\n" : "");
}

void view_guide_door(struct visit *visit)
{
    if (!guide_ready(visit)) {
        return;
    }
    const char *asked = guide_asked(visit, "panel");
    const size_t panel = asked[0] == '\0' ? 0 : visit_find(visit, KIND_PANEL, asked);
    const unsigned long several = strtoul(guide_asked(visit, "lines"), NULL, 10);
    if (panel == NO_INDEX) {
        return;
    }
    const char *id = visit->house->panels[panel].id;
    const char *path = panel == 0 ? "/build/panel" : guide_page_of(visit, KIND_BRANCH, NO_INDEX);
    guide_begin(visit, path, "Panel door");
    add_doors(visit, panel);
    guide_added(visit, KIND_BRANCH);
    page_add(visit, "<h2>%s</h2>", several > 0 ? "The next lines" : "The next line");
    if (several > 0) {
        add_several(visit, panel, several > LINES_MOST ? LINES_MOST : several);
        page_add(visit, "<p><a href=\"/build/panel?panel=%s\">One line at a time</a></p>\n", id);
    } else {
        add_one(visit, panel);
        page_add(visit, "<p><a href=\"/build/panel?panel=%s&amp;lines=6\">Copy six lines at once</a></p>\n", id);
    }
    add_lines(visit, panel);
    guide_end(visit, path);
}

/* ---- further panels */

static void add_panel(struct visit *visit, size_t index)
{
    const struct house *house = visit->house;
    const struct panel *panel = &house->panels[index];
    page_add(visit, "<span class=\"what\"><a href=\"/build/panel?panel=%s\">%s</a><small>%g A", panel->id,
             house_row_name(house, KIND_PANEL, index), panel->breaker_a);
    if (index != 0) {
        page_add(visit, ", fed from %s", house_row_name(house, KIND_PANEL, panel->from));
    }
    page_add(visit, "</small></span>");
}

void view_guide_panels(struct visit *visit)
{
    if (!guide_ready(visit)) {
        return;
    }
    guide_begin(visit, "/build/panels", "Further panels");
    page_add(visit, "<p>Needed only where a second panel hangs on the main one, in a garage say: its feeder is checked "
                    "like a branch, and its branches stand on a door of their own.</p>");
    guide_list(visit, KIND_PANEL, NULL, add_panel);
    page_add(visit, "<h2>Another panel</h2>");
    struct guide_form form = guide_form_new(visit, KIND_PANEL);
    guide_form_whole(&form, "/build/add", "Add this panel");
    guide_end(visit, "/build/panels");
}
