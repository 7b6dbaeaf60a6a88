#include "ampsum/answer_try.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "ampsum/answer_choice.h"

static const char voltage_finding[] = "8";

/* ------------------------------------------------------------------ the basis ----------------------------- */

/* Turns appliances of a list on or off by ID; IDs that this side does not have are passed over. */
static void switch_listed(const struct house *house, const char *list, bool on, unsigned *units)
{
    for (size_t i = 0; i < house->appliance_count; i++) {
        const char *id = house->appliances[i].id;
        for (const char *at = list; *at != '\0';) {
            at += strspn(at, ", ");
            size_t length = strcspn(at, ",* ");
            if (strlen(id) == length && length > 0 && strncmp(at, id, length) == 0) {
                long count = at[length] == '*' ? strtol(at + length + 1, NULL, 10) : 0;
                bool counted = count >= 1 && count <= (long)house->appliances[i].count;
                units[i] = !on ? 0 : counted ? (unsigned)count : house->appliances[i].count;
            }
            at += strcspn(at, ",");
        }
    }
}

static bool has_basis(const struct try_question *question)
{
    return question->scene != NULL || question->on != NULL || question->off != NULL;
}

static void choose_basis(const struct house *house, const struct try_question *question, struct arena *arena,
                         struct assess_options *choice)
{
    if (!has_basis(question)) {
        return;
    }
    unsigned *units = arena_array(arena, house->appliance_count, sizeof *units);
    const size_t scene = question->scene == NULL ? NO_INDEX : house_find(house, KIND_SCENE, question->scene);
    if (scene != NO_INDEX) {
        scene_units_on(house, &house->scenes[scene], units);
    }
    for (size_t i = 0; i < house->appliance_count && scene == NO_INDEX && question->on == NULL; i++) {
        units[i] = house->appliances[i].count;
    }
    switch_listed(house, question->on == NULL ? "" : question->on, true, units);
    switch_listed(house, question->off == NULL ? "" : question->off, false, units);
    choice->basis = scene != NO_INDEX && question->on == NULL && question->off == NULL ? BASIS_SCENE : BASIS_SET;
    choice->scene = scene;
    choice->on = units;
}

static void ask_side(const struct house *house, const struct try_question *question, struct arena *arena,
                     struct check_answer *ret_side)
{
    struct check_question check = {.choice.wires = true};
    choose_basis(house, question, arena, &check.choice);
    answer_check(house, &check, ret_side);
}

/* The appliances that a list names must be there. */
static bool check_list(const struct house *after, const char *list, struct arena *arena, struct error *error)
{
    bool good = true;
    for (const char *at = list == NULL ? "" : list; good && *at != '\0';) {
        at += strspn(at, ", ");
        const char *id = arena_copy_length(arena, at, strcspn(at, ",* "));
        good = id[0] == '\0' || choice_find(after, KIND_APPLIANCE, id, error) != NO_INDEX;
        at += strcspn(at, ",");
    }
    return good;
}

static bool check_basis(const struct house *after, const struct try_question *question, struct arena *arena,
                        struct error *error)
{
    return (question->scene == NULL || choice_find(after, KIND_SCENE, question->scene, error) != NO_INDEX) &&
           check_list(after, question->on, arena, error) && check_list(after, question->off, arena, error);
}

/* ------------------------------------------------------------------ what came ----------------------------- */

static bool has_arrived(const struct house *before, const struct house *after, size_t index)
{
    const struct appliance *appliance = &after->appliances[index];
    const size_t other = house_find_near(before, KIND_APPLIANCE, appliance->id, index);
    return other == NO_INDEX ||
           strcmp(before->branches[before->appliances[other].branch].id, after->branches[appliance->branch].id) != 0;
}

/* With everything on, whatever was asked for. */
static void judge_arrivals(struct try_answer *answer, const struct try_question *question, const struct house *before,
                           const struct house *after)
{
    answer->fits = arena_array(answer->arena, after->appliance_count, sizeof *answer->fits);
    for (size_t i = 0; i < after->appliance_count; i++) {
        if (has_arrived(before, after, i)) {
            const size_t branch = after->appliances[i].branch;
            answer->fits[answer->fit_count++] =
                (struct fit){.branch_before = house_find(before, KIND_BRANCH, after->branches[branch].id),
                             .branch = branch,
                             .appliance = i};
        }
    }
    const struct assessment *was = answer->before.assessment;
    const struct assessment *then = answer->after.assessment;
    if (has_basis(question) && answer->fit_count > 0) {
        const struct assess_options choice = {.wires = true};
        was = answer->plain_before = assess_house(before, &choice);
        then = answer->plain_after = assess_house(after, &choice);
    }
    fits_judge(was, then, answer->arena, answer->fits, answer->fit_count);
}

/* The worst of what came to a branch (NO_INDEX: to any); NULL where nothing did. */
static const struct fit *worst_fit(const struct try_answer *answer, size_t branch)
{
    const struct fit *worst = NULL;
    for (size_t i = 0; i < answer->fit_count; i++) {
        const struct fit *fit = &answer->fits[i];
        if ((branch == NO_INDEX || fit->branch == branch) && (worst == NULL || fit->class > worst->class)) {
            worst = fit;
        }
    }
    return worst;
}

static bool is_other_voltage(const struct try_answer *answer, size_t branch)
{
    for (size_t i = 0; i < answer->fit_count; i++) {
        if (answer->fits[i].branch == branch && answer->fits[i].other_voltage) {
            return true;
        }
    }
    return false;
}

/* Some load came that is made for another voltage: what panels and legs would carry means nothing. */
static bool is_fed_other_voltage(const struct try_answer *answer)
{
    bool found = false;
    for (size_t i = 0; i < answer->fit_count; i++) {
        found = found || answer->fits[i].other_voltage;
    }
    return found;
}

/* New loads that the energy leaves out. */
static void find_left_out(struct try_answer *answer)
{
    const struct house *after = answer->after.house;
    answer->left_out = arena_array(answer->arena, after->appliance_count, sizeof *answer->left_out);
    for (size_t i = 0; i < after->appliance_count; i++) {
        const struct appliance *appliance = &after->appliances[i];
        if (house_find_near(answer->before.house, KIND_APPLIANCE, appliance->id, i) == NO_INDEX &&
            !(appliance_energy_time_s(appliance) > 0)) {
            answer->left_out[answer->left_out_count++] = appliance;
        }
    }
}

/* ------------------------------------------------------------------ branches ------------------------------ */

static bool differs(double a, double b)
{
    return !(fabs(a - b) <= 1e-9 * fmax(1, fmax(fabs(a), fabs(b))));
}

/* True where `list` has a finding that `other` lacks, or has with another severity. */
static bool finds_otherwise(const struct finding_list *list, const struct finding_list *other)
{
    for (size_t i = 0; i < list->count; i++) {
        const struct finding *same = finding_find(other, &list->finding[i]);
        if (same == NULL || same->severity != list->finding[i].severity) {
            return true;
        }
    }
    return false;
}

static bool has_changed(const struct branch_assessment *a, const struct branch_assessment *b)
{
    if (a == NULL || b == NULL) {
        return true;
    }
    const bool drop = isnan(a->drop_percent) != isnan(b->drop_percent) ||
                      (!isnan(a->drop_percent) && differs(a->drop_percent, b->drop_percent));
    return a->verdict != b->verdict || differs(a->all.planning_a, b->all.planning_a) ||
           differs(a->all.current_a, b->all.current_a) || differs(a->other.planning_a, b->other.planning_a) || drop ||
           finds_otherwise(&a->findings, &b->findings) || finds_otherwise(&b->findings, &a->findings);
}

static const struct branch_assessment *result_of(const struct check_answer *side, size_t index)
{
    return index == NO_INDEX ? NULL : &side->assessment->branches[index];
}

static void add_row(struct try_answer *answer, size_t before, size_t after)
{
    struct try_row row = {before, after, .was = result_of(&answer->before, before),
                          .then = result_of(&answer->after, after)};
    if (!has_changed(row.was, row.then)) {
        return;
    }
    row.branch = after != NO_INDEX ? &answer->after.house->branches[after] : &answer->before.house->branches[before];
    if (after != NO_INDEX) {
        row.other_voltage = is_other_voltage(answer, after);
        row.fit = worst_fit(answer, after);
    }
    answer->rows[answer->row_count++] = row;
}

static void find_rows(struct try_answer *answer)
{
    const struct house *before = answer->before.house;
    const struct house *after = answer->after.house;
    answer->rows = arena_array(answer->arena, before->branch_count + after->branch_count, sizeof *answer->rows);
    for (size_t i = 0; i < after->branch_count; i++) {
        add_row(answer, house_find_near(before, KIND_BRANCH, after->branches[i].id, i), i);
    }
    for (size_t i = 0; i < before->branch_count; i++) {
        if (house_find_near(after, KIND_BRANCH, before->branches[i].id, i) == NO_INDEX) {
            add_row(answer, i, NO_INDEX);
        }
    }
}

/* A current at the wrong voltage means nothing: the branch is as it was, or over where that voltage is a danger. */
static enum verdict verdict_after(const struct try_answer *answer, size_t branch, const struct branch_assessment *was)
{
    const struct branch_assessment *then = &answer->after.assessment->branches[branch];
    enum verdict verdict = then->verdict;
    if (is_other_voltage(answer, branch)) {
        verdict = was == NULL ? VERDICT_EMPTY : was->verdict;
        for (size_t i = 0; i < then->findings.count; i++) {
            const struct finding *finding = &then->findings.finding[i];
            const bool danger = strcmp(finding->id, voltage_finding) == 0 && finding->severity == SEVERITY_DANGER;
            verdict = danger ? VERDICT_OVER : verdict;
        }
    }
    return verdict;
}

static void find_over(struct try_answer *answer)
{
    const struct house *after = answer->after.house;
    answer->over = arena_array(answer->arena, after->branch_count, sizeof *answer->over);
    for (size_t i = 0; i < after->branch_count; i++) {
        const size_t other = house_find_near(answer->before.house, KIND_BRANCH, after->branches[i].id, i);
        const struct branch_assessment *was = result_of(&answer->before, other);
        const enum verdict verdict = verdict_after(answer, i, was);
        answer->status = verdict > answer->status ? verdict : answer->status;
        if (verdict == VERDICT_OVER) {
            answer->over[answer->over_count++] =
                (struct try_over){&after->branches[i], was != NULL && was->verdict == VERDICT_OVER};
        }
    }
}

/* ------------------------------------------------------------------ findings ------------------------------ */

static size_t count_findings(const struct check_answer *side)
{
    size_t count = 0;
    for (size_t i = 0; i < side->house->branch_count; i++) {
        count += side->assessment->branches[i].findings.count;
    }
    for (size_t i = 0; i < side->house->panel_count; i++) {
        count += side->assessment->panels[i].findings.count;
    }
    return count;
}

static void add_news(struct try_answer *answer, const struct try_finding *found)
{
    answer->findings[answer->finding_count++] = *found;
    answer->news_count[found->news]++;
}

/*
 * Findings of a branch or panel before and after; a side that has none such is NULL. `place`: its kind and ID. With
 * `voltage_alone` what is new beside the voltage follows from currents that never flow.
 */
static void compare_lists(struct try_answer *answer, struct try_finding place, const struct finding_list *before,
                          const struct finding_list *after, bool voltage_alone)
{
    for (size_t i = 0; after != NULL && i < after->count; i++) {
        const struct finding *was = finding_find(before, &after->finding[i]);
        if (voltage_alone && strcmp(after->finding[i].id, voltage_finding) != 0) {
            continue;
        }
        if (was == NULL || was->severity != after->finding[i].severity) {
            place.news = was == NULL ? TRY_NEW : TRY_CHANGED;
            place.finding = &after->finding[i];
            place.severity_before = was == NULL ? after->finding[i].severity : was->severity;
            add_news(answer, &place);
        }
    }
    for (size_t i = 0; before != NULL && i < before->count; i++) {
        if (finding_find(after, &before->finding[i]) == NULL) {
            place.news = TRY_GONE;
            place.finding = &before->finding[i];
            place.severity_before = before->finding[i].severity;
            add_news(answer, &place);
        }
    }
}

bool try_tells(const struct try_answer *answer, const struct try_row *row, const struct finding *finding)
{
    bool tells = row->was != NULL && finding_find(&row->was->findings, finding) != NULL;
    for (size_t i = 0; !tells && i < answer->finding_count; i++) {
        tells = answer->findings[i].finding == finding;
    }
    return tells;
}

static const struct finding_list *panel_findings(const struct check_answer *side, const char *id)
{
    const size_t index = house_find(side->house, KIND_PANEL, id);
    return index == NO_INDEX ? NULL : &side->assessment->panels[index].findings;
}

static void compare_panels(struct try_answer *answer)
{
    const struct house *before = answer->before.house;
    const struct house *after = answer->after.house;
    for (size_t i = 0; i < after->panel_count; i++) {
        const char *id = after->panels[i].id;
        compare_lists(answer, (struct try_finding){.kind = KIND_PANEL, .where = id},
                      panel_findings(&answer->before, id), panel_findings(&answer->after, id),
                      is_fed_other_voltage(answer));
    }
    for (size_t i = 0; i < before->panel_count; i++) {
        const char *id = before->panels[i].id;
        if (house_find(after, KIND_PANEL, id) == NO_INDEX) {
            compare_lists(answer, (struct try_finding){.kind = KIND_PANEL, .where = id},
                          panel_findings(&answer->before, id), NULL, false);
        }
    }
}

static void find_findings(struct try_answer *answer)
{
    const size_t most = count_findings(&answer->before) + count_findings(&answer->after);
    answer->findings = arena_array(answer->arena, most, sizeof *answer->findings);
    for (size_t i = 0; i < answer->row_count; i++) {
        const struct try_row *row = &answer->rows[i];
        compare_lists(answer, (struct try_finding){.kind = KIND_BRANCH, .where = row->branch->id},
                      row->was == NULL ? NULL : &row->was->findings, row->then == NULL ? NULL : &row->then->findings,
                      row->other_voltage);
    }
    compare_panels(answer);
}

static void find_legs(struct try_answer *answer)
{
    enum { LEGS_MOST = 3 };
    const struct house *after = answer->after.house;
    answer->legs = arena_array(answer->arena, LEGS_MOST * after->panel_count, sizeof *answer->legs);
    for (size_t i = 0; i < after->panel_count && !is_fed_other_voltage(answer); i++) {
        const size_t other = house_find(answer->before.house, KIND_PANEL, after->panels[i].id);
        for (size_t leg = 0; leg < LEGS_MOST && other != NO_INDEX; leg++) {
            const double before_a = answer->before.assessment->panels[other].all.leg_current_a[leg];
            const double after_a = answer->after.assessment->panels[i].all.leg_current_a[leg];
            if ((after->panels[i].legs & (1u << leg)) != 0 && differs(before_a, after_a)) {
                answer->legs[answer->leg_count++] = (struct try_leg){&after->panels[i], 1u << leg, before_a, after_a};
            }
        }
    }
}

/* ------------------------------------------------------------------ the question -------------------------- */

static void compare(const struct house *before, const struct house *after, const struct try_question *question,
                    struct try_answer *answer)
{
    ask_side(before, question, answer->arena, &answer->before);
    ask_side(after, question, answer->arena, &answer->after);
    judge_arrivals(answer, question, before, after);
    answer->worst = worst_fit(answer, NO_INDEX);
    find_rows(answer);
    find_over(answer);
    find_findings(answer);
    find_legs(answer);
    find_left_out(answer);
}

void try_compare(const struct house *before, const struct house *after, const struct try_question *question,
                 struct try_answer *ret_answer)
{
    *ret_answer = (struct try_answer){.arena = arena_new()};
    compare(before, after, question, ret_answer);
}

bool answer_try(const struct house *house, const struct try_question *question, struct try_answer *ret_answer,
                struct error *error)
{
    struct try_answer *answer = ret_answer;
    *answer = (struct try_answer){.arena = arena_new(), .done_count = question->change_count};
    answer->done = arena_array(answer->arena, answer->done_count, sizeof *answer->done);
    struct document *document = house_document(house, "try");
    const bool good = try_apply(document, question, answer->arena, answer->done, error) &&
                      house_build(document, &answer->house, error) &&
                      check_basis(answer->house, question, answer->arena, error);
    document_free(document);
    if (good) {
        compare(house, answer->house, question, answer);
    }
    return good;
}

void try_answer_done(struct try_answer *answer)
{
    check_answer_done(&answer->before);
    check_answer_done(&answer->after);
    assess_free(answer->plain_before);
    assess_free(answer->plain_after);
    house_free(answer->house);
    arena_free(answer->arena);
    *answer = (struct try_answer){0};
}
