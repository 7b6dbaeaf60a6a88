#include "ampsum/fit.h"

#include <math.h>
#include <string.h>

#include "ampsum/decide.h"

/* What more current brings about: with other loads off it may go. */
static const char *const load_findings[] = {"1", "2", "6"};

static bool is_of_load(const struct finding *finding)
{
    for (size_t i = 0; i < sizeof load_findings / sizeof load_findings[0]; i++) {
        if (strcmp(finding->id, load_findings[i]) == 0) {
            return true;
        }
    }
    return false;
}

const char *fit_class_word(enum fit_class class)
{
    static const char *const words[] = {[FIT_ROOM] = "room", [FIT_ONLY_IF] = "only-if", [FIT_NO] = "no"};
    return words[class];
}

static bool is_new(const struct assessment *before, const struct fit *fit, const struct finding *finding)
{
    const struct finding_list *old =
        fit->branch_before == NO_INDEX ? NULL : &before->branches[fit->branch_before].findings;
    const struct finding *same = finding_find(old, finding);
    return same == NULL || same->severity < finding->severity;
}

static void list_new(const struct assessment *before, const struct assessment *after, struct arena *arena,
                     struct fit *fit)
{
    const struct finding_list *all = &after->branches[fit->branch].findings;
    fit->new_findings = (struct finding_list){.finding = arena_array(arena, all->count, sizeof *all->finding)};
    for (size_t i = 0; i < all->count; i++) {
        if (is_new(before, fit, &all->finding[i])) {
            fit->new_findings.finding[fit->new_findings.count++] = all->finding[i];
        }
    }
}

/* The finding that the load is made for another voltage. */
static const struct finding *voltage_finding(const struct assessment *after, const struct fit *fit)
{
    const struct finding_list *list = &after->branches[fit->branch].findings;
    const char *id = after->house->appliances[fit->appliance].id;
    for (size_t i = 0; i < list->count; i++) {
        const struct finding *finding = &list->finding[i];
        if (strcmp(finding->id, "8") == 0 && strcmp(finding->subject.id, id) == 0) {
            return finding;
        }
    }
    return NULL;
}

/*
 * What stands against the load and no switching off changes: a danger, or a warning that it brings. NULL: nothing.
 */
static const struct finding *lasting(const struct assessment *before, const struct assessment *after,
                                     const struct fit *fit)
{
    const struct finding_list *list = &after->branches[fit->branch].findings;
    const struct finding *found = NULL;
    for (size_t i = 0; i < list->count; i++) {
        const struct finding *finding = &list->finding[i];
        bool counts = finding->severity == SEVERITY_DANGER ||
                      (finding->severity == SEVERITY_WARNING && is_new(before, fit, finding));
        if (counts && !is_of_load(finding) && (found == NULL || finding->severity > found->severity)) {
            found = finding;
        }
    }
    return found;
}

/* The worst finding that more current brings about, new or not. NULL: the branch carries everything on. */
static const struct finding *too_much(const struct assessment *after, const struct fit *fit)
{
    const struct finding_list *list = &after->branches[fit->branch].findings;
    const struct finding *found = NULL;
    for (size_t i = 0; i < list->count; i++) {
        const struct finding *finding = &list->finding[i];
        if (is_of_load(finding) && finding->severity >= SEVERITY_WARNING &&
            (found == NULL || finding->severity > found->severity)) {
            found = finding;
        }
    }
    return found;
}

static void refuse(struct fit *fit, const char *reason)
{
    fit->class = FIT_NO;
    fit->reason = reason;
}

/* The limit of a finding for all that the branch plans; of a ring the wire's is that of one side, with its share. */
static double branch_limit_a(const struct assessment *after, size_t branch, const struct finding *finding)
{
    const double limit_a = finding_number(finding, "limit_a");
    const bool side = after->house->branches[branch].layout == LAYOUT_RING && strcmp(finding->id, "6") == 0;
    const double times = after->branches[branch].all.planning_a / finding_number(finding, "current_a");
    return side ? limit_a * times : limit_a;
}

/* What the branch may carry: its breaker's rating, or its wire's ampacity where that is passed. */
static double limit_of(const struct assessment *after, const struct fit *fit)
{
    const struct finding_list *list = &after->branches[fit->branch].findings;
    double limit_a = after->house->branches[fit->branch].breaker_a;
    for (size_t i = 0; i < list->count; i++) {
        if (is_of_load(&list->finding[i]) && list->finding[i].severity >= SEVERITY_WARNING) {
            limit_a = fmin(limit_a, branch_limit_a(after, fit->branch, &list->finding[i]));
        }
    }
    return limit_a;
}

static void find_off(const struct assessment *after, struct arena *arena, struct fit *fit)
{
    const struct house *house = after->house;
    const struct index_list *loads = &house->branches[fit->branch].appliances;
    bool *stays = arena_array(arena, loads->count, sizeof *stays);
    fit->off = arena_array(arena, loads->count, sizeof *fit->off);
    for (size_t i = 0; i < loads->count; i++) {
        stays[i] = decide_stays_on(house, &house->appliances[loads->index[i]]);
    }
    bool any = false;
    bool found = decide_off(house, fit->branch, fit->appliance, after->factors, limit_of(after, fit), stays, fit->off);
    for (size_t i = 0; found && i < loads->count; i++) {
        any = any || fit->off[i];
    }
    if (any) {
        fit->class = FIT_ONLY_IF;
    } else {
        fit->off = NULL;
    }
}

static void judge(const struct assessment *before, const struct assessment *after, struct arena *arena, struct fit *fit)
{
    const struct house *house = after->house;
    const struct appliance *load = &house->appliances[fit->appliance];
    const struct finding *voltage = voltage_finding(after, fit);
    list_new(before, after, arena, fit);
    if (!appliance_is_load(load)) {
        fit->no_plug = true;
        refuse(fit, "it feeds, and nothing that feeds goes onto a branch: that kills line workers");
        return;
    }
    if (voltage != NULL) {
        fit->other_voltage = true;
        refuse(fit, voltage->text);
        return;
    }
    bool lamp = load->category == CATEGORY_LIGHTING && house->branches[fit->branch].purpose == PURPOSE_LIGHTING;
    if (load->fixed == 0 && !lamp && !decide_takes_plugs(house, fit->branch, fit->appliance)) {
        fit->no_plug = true;
        refuse(fit, "nothing there to plug into");
        return;
    }
    const struct finding *stays = lasting(before, after, fit);
    const struct finding *current = too_much(after, fit);
    if (stays != NULL) {
        refuse(fit, stays->text);
    } else if (current == NULL) {
        fit->class = FIT_ROOM;
    } else {
        refuse(fit, current->text);
        if (!decide_is_medical(house, load)) {
            find_off(after, arena, fit);
        }
    }
}

void fits_judge(const struct assessment *before, const struct assessment *after, struct arena *arena, struct fit *fits,
                size_t count)
{
    for (size_t i = 0; i < count; i++) {
        judge(before, after, arena, &fits[i]);
    }
}
