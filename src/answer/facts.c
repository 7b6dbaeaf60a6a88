#include "ampsum/answer_facts.h"

#include <stdlib.h>
#include <string.h>

/* What a finding is a fact of. */
enum about {
    ABOUT_LOAD,
    ABOUT_WIRE,
    ABOUT_CONTACT,
    ABOUT_VOLTAGE,
    ABOUT_MOTOR,
    ABOUT_NEUTRAL,
    ABOUT_SPUR,
    ABOUT_ITSELF
};

static bool has(const struct finding_list *list, const char *id)
{
    for (size_t i = 0; i < list->count; i++) {
        if (strcmp(list->finding[i].id, id) == 0) {
            return true;
        }
    }
    return false;
}

/* A load too much for the wire goes with the load where the breaker is passed too, else with the wire. */
static enum about about_of(const struct finding *finding, bool overloaded)
{
    static const struct {
        const char *id;
        enum about about;
    } rows[] = {{"1", ABOUT_LOAD},     {"2", ABOUT_LOAD},    {"3", ABOUT_LOAD},   {"4", ABOUT_LOAD},
                {"10", ABOUT_LOAD},    {"15", ABOUT_LOAD},   {"5", ABOUT_WIRE},   {"9", ABOUT_CONTACT},
                {"17", ABOUT_CONTACT}, {"8", ABOUT_VOLTAGE}, {"19", ABOUT_MOTOR}, {"18", ABOUT_NEUTRAL},
                {"20", ABOUT_SPUR}};
    if (strcmp(finding->id, "6") == 0) {
        return overloaded ? ABOUT_LOAD : ABOUT_WIRE;
    }
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        if (strcmp(rows[i].id, finding->id) == 0) {
            return rows[i].about;
        }
    }
    return ABOUT_ITSELF;
}

/* The fact that a finding stands beside; NULL: none yet. */
static struct fact *fact_for(struct facts *facts, const struct finding *finding, bool overloaded)
{
    const enum about about = about_of(finding, overloaded);
    for (size_t i = 0; i < facts->count && about != ABOUT_ITSELF; i++) {
        const struct finding *lead = facts->fact[i].lead;
        if (about_of(lead, overloaded) == about && strcmp(lead->id, finding->id) != 0) {
            return &facts->fact[i];
        }
    }
    return NULL;
}

/* In the order of the list, in which their numbers ascend. */
static void add_other(struct fact *fact, const struct finding *finding)
{
    size_t at = fact->other_count++;
    for (; at > 0 && fact->others[at - 1] > finding; at--) {
        fact->others[at] = fact->others[at - 1];
    }
    fact->others[at] = finding;
}

static void take(struct facts *facts, const struct finding *finding, size_t most, bool overloaded, struct arena *arena)
{
    struct fact *fact = fact_for(facts, finding, overloaded);
    if (fact != NULL) {
        add_other(fact, finding);
    } else if (finding->severity == SEVERITY_NOTE) {
        facts->note_count++;
    } else {
        facts->fact[facts->count++] =
            (struct fact){.lead = finding, .others = arena_array(arena, most, sizeof(const struct finding *))};
    }
}

const struct finding *const *findings_gravest_first(const struct finding_list *list, struct arena *arena,
                                                    size_t *ret_notes)
{
    const struct finding **order = arena_array(arena, list->count, sizeof *order);
    size_t count = 0;
    *ret_notes = 0;
    for (int severity = SEVERITY_DANGER; severity >= SEVERITY_NOTE; severity--) {
        for (size_t i = 0; i < list->count; i++) {
            if ((int)list->finding[i].severity == severity) {
                order[count++] = &list->finding[i];
                *ret_notes += severity == SEVERITY_NOTE;
            }
        }
    }
    return order;
}

void facts_of(const struct finding_list *list, struct arena *arena, struct facts *ret_facts)
{
    size_t notes = 0;
    const struct finding *const *findings = findings_gravest_first(list, arena, &notes);
    const bool overloaded = has(list, "1") || has(list, "2");
    *ret_facts = (struct facts){.fact = arena_array(arena, list->count, sizeof *ret_facts->fact)};
    for (size_t i = 0; i < list->count; i++) {
        take(ret_facts, findings[i], list->count, overloaded, arena);
    }
}
