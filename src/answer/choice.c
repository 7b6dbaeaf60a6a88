#include "ampsum/answer_choice.h"

#include <string.h>
#include <strings.h>

#include "ampsum/quantity.h"
#include "ampsum/reference.h"
#include "ampsum/text.h"

/* `--on kettle,: an entry is empty`; what was written may be a stranger's. */
static void refuse(const char *what, const char *written, const char *fault, struct error *error)
{
    struct text shown = {0};
    text_add_shown(&shown, written);
    error_set(error, ERROR_INPUT, "%s %s: %s", what, text_string(&shown), fault);
    text_done(&shown);
}

/* What people call a row; NULL where it has but its ID. */
static const char *row_name(const struct house *house, enum kind kind, size_t index)
{
    switch (kind) {
    case KIND_BRANCH:
        return house->branches[index].label;
    case KIND_APPLIANCE:
        return house->appliances[index].name;
    case KIND_ROOM:
        return house->rooms[index].name;
    case KIND_PANEL:
        return house->panels[index].name;
    default:
        return NULL;
    }
}

/* The ID of the row that people call so, whatever its capitals; NULL where there is none. */
static const char *id_of_name(const struct house *house, enum kind kind, const char *name)
{
    size_t count = 0;
    house_rows(house, kind, &count);
    for (size_t i = 0; i < count; i++) {
        const char *called = row_name(house, kind, i);
        if (called != NULL && strcasecmp(called, name) == 0) {
            return house_row_id(house, kind, i);
        }
    }
    return NULL;
}

void choice_list_ids(const struct house *house, enum kind kind, struct text *text)
{
    enum { LISTED_MOST = 12 };
    size_t count = 0;
    house_rows(house, kind, &count);
    for (size_t i = 0; i < count && i < LISTED_MOST; i++) {
        text_printf(text, "%s%s", i == 0 ? "" : ", ", house_row_id(house, kind, i));
    }
    if (count > LISTED_MOST) {
        text_printf(text, " and %zu more", count - LISTED_MOST);
    }
    text_add(text, count == 0 ? "none" : "");
}

/* What to say instead of an ID that no row has: the ID of what is called so, the nearest one, or those there are. */
static void add_remedy(const struct house *house, enum kind kind, const char *id, struct text *text)
{
    const char *meant = id_of_name(house, kind, id);
    const char *nearest = house_nearest_id(house, kind, id);
    if (meant != NULL) {
        text_printf(text, "; what is called so has the ID %s", meant);
    } else if (nearest != NULL) {
        text_printf(text, "; the nearest is %s", nearest);
    } else {
        text_add(text, "; there are: ");
        choice_list_ids(house, kind, text);
    }
}

size_t choice_find(const struct house *house, enum kind kind, const char *id, struct error *error)
{
    const size_t index = house_find(house, kind, id);
    if (index == NO_INDEX) {
        struct text shown = {0};
        struct text remedy = {0};
        text_add_shown(&shown, id);
        add_remedy(house, kind, id, &remedy);
        error_set(error, ERROR_INPUT, "%s: no %s has this ID%s", text_string(&shown), kind_word(kind),
                  text_string(&remedy));
        text_done(&remedy);
        text_done(&shown);
    }
    return index;
}

/* One entry of a list: `kettle` or `kettle*2`, without blanks around it. */
static bool switch_on(const struct house *house, const char *what, const char *entry, unsigned *on, struct error *error)
{
    const size_t length = strcspn(entry, "*");
    struct text id = {0};
    text_add_length(&id, entry, length);
    const size_t appliance = choice_find(house, KIND_APPLIANCE, text_string(&id), error);
    text_done(&id);
    if (appliance == NO_INDEX) {
        return false;
    }
    const char *known = house->appliances[appliance].id;
    long units = (long)house->appliances[appliance].count;
    struct text fault = {0};
    if (on[appliance] != 0) {
        text_printf(&fault, "%s is given twice, expected each once (%s*2 for two of them)", known, known);
    } else if (entry[length] == '*' && units == 1) {
        text_printf(&fault, "only one %s is listed, expected %s", known, known);
    } else if (entry[length] != '*' || quantity_read_whole(entry + length + 1, 1, units, &units, &fault)) {
        on[appliance] = (unsigned)units;
    }
    const bool good = fault.length == 0;
    if (!good) {
        refuse(what, entry, text_string(&fault), error);
    }
    text_done(&fault);
    return good;
}

bool choice_read_on(const struct house *house, const char *what, const char *list, unsigned *on, struct error *error)
{
    struct text entry = {0};
    bool good = true;
    for (const char *at = list; *at != '\0' && good;) {
        at += strspn(at, " ");
        const size_t length = strcspn(at, ",");
        size_t used = length;
        while (used > 0 && at[used - 1] == ' ') {
            used--;
        }
        text_clear(&entry);
        text_add_length(&entry, at, used);
        good = used > 0 && (at[length] != ',' || at[length + 1] != '\0');
        if (!good) {
            refuse(what, list, "an entry is empty, expected IDs parted by commas", error);
        }
        good = good && switch_on(house, what, text_string(&entry), on, error);
        at += length + (at[length] == ',');
    }
    text_done(&entry);
    return good;
}

bool choice_read_scene(const struct house *house, const char *id, struct arena *arena, struct assess_options *choice,
                       struct error *error)
{
    const size_t scene = choice_find(house, KIND_SCENE, id, error);
    if (scene == NO_INDEX) {
        return false;
    }
    unsigned *on = arena_array(arena, house->appliance_count, sizeof *on);
    scene_units_on(house, &house->scenes[scene], on);
    choice->basis = BASIS_SCENE;
    choice->scene = scene;
    choice->on = on;
    return true;
}

double supply_low_ratio(const struct house *house)
{
    return 1 - reference_rule_value("supply-under", rules_word(house->rules)) / 100;
}

double supply_high_ratio(const struct house *house)
{
    return 1 + reference_rule_value("supply-over", rules_word(house->rules)) / 100;
}

bool choice_read_supply(const struct house *house, const char *what, const char *value, double *ret_ratio,
                        struct error *error)
{
    if (strcmp(value, "low") == 0) {
        *ret_ratio = supply_low_ratio(house);
        return true;
    }
    if (strcmp(value, "high") == 0) {
        *ret_ratio = supply_high_ratio(house);
        return true;
    }
    struct text fault = {0};
    double volt = 0;
    bool good = quantity_read(value, DIMENSION_VOLTAGE, house->rules, KEY_ABOVE_ZERO, &volt, &fault);
    if (!good) {
        text_add(&fault, " (or low, or high)");
    } else if (volt < house->voltage_v / 2 || volt > house->voltage_v * 2) {
        text_add(&fault, "more than twice or less than half of the nominal voltage, expected volts line to neutral");
        good = false;
    }
    if (!good) {
        refuse(what, value, text_string(&fault), error);
    }
    *ret_ratio = good ? volt / house->voltage_v : *ret_ratio;
    text_done(&fault);
    return good;
}
