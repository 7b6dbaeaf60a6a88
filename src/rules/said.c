/* What was taken because the house does not say it: once an output, with the key that settles it. */
#include <math.h>
#include <string.h>

#include "ampsum/keys.h"
#include "findings.h"
#include "planning.h"

static void said_add(struct assessment *assessment, struct text *line)
{
    struct said *said = &assessment->said;
    if (said->count == said->capacity) {
        const size_t capacity = said->capacity == 0 ? 4 : 2 * said->capacity;
        const char **moved = arena_array(assessment->arena, capacity, sizeof *moved);
        if (said->count > 0) {
            memcpy(moved, said->line, said->count * sizeof *moved);
        }
        said->line = moved;
        said->capacity = capacity;
    }
    said->line[said->count++] = arena_copy(assessment->arena, text_string(line));
    text_done(line);
}

/* One thing that was taken, for each row of its kind that it holds of: start, the rows' names, end. */
struct saying {
    enum kind kind;
    const char *start;
    const char *end;
    bool (*holds)(const struct assessment *assessment, size_t row);
    const char *(*as)(const struct assessment *assessment, size_t row); /* what the row was taken for; NULL: no word */
};

static bool is_given(enum kind kind, const char *name, const void *row)
{
    return key_is_given(&sections[kind], section_key(&sections[kind], name), row);
}

/* ------------------------------------------------------------------ appliances ----------------------------- */

static bool counts_by_words(const struct assessment *assessment, size_t row)
{
    const struct appliance *appliance = &assessment->house->appliances[row];
    return appliance->category != appliance->read_category;
}

static const char *by_words(const struct assessment *assessment, size_t row)
{
    return category_word(assessment->house->appliances[row].read_category);
}

/* Cooking between two lines that is taken for two halves to the neutral. */
static bool halves_taken(const struct assessment *assessment, size_t row)
{
    const struct appliance *appliance = &assessment->house->appliances[row];
    return appliance->connection == CONNECTION_NOT_SAID && appliance->connected == CONNECTION_2L_N;
}

/* A load that no plug carries, of which nobody said whether it is wired in. */
static bool plug_taken(const struct assessment *assessment, size_t row)
{
    const struct appliance *appliance = &assessment->house->appliances[row];
    const struct finding_list *list = &assessment->branches[appliance->branch].findings;
    const struct finding wanted = {.id = "9", .subject = about_appliance(appliance)};
    const struct finding *finding = finding_find(list, &wanted);
    return finding != NULL && finding->severity >= SEVERITY_WARNING && load_may_be_wired(assessment->house, appliance);
}

/* ------------------------------------------------------------------ branches ------------------------------- */

/* Cooking of several units of which no word tells which is the cooktop. */
static bool cooktop_taken(const struct assessment *assessment, size_t row)
{
    struct cooking cooking;
    return assessment->factors.loads != NULL && branch_cooking(assessment->house, row, &cooking) && !cooking.words_tell;
}

/* The cooker's allowance, of which nobody said whether its switch has a socket. */
static bool socket_taken(const struct assessment *assessment, size_t row)
{
    struct cooking cooking;
    return assessment->factors.loads != NULL && branch_cooking(assessment->house, row, &cooking) && cooking.by_plate &&
           !is_given(KIND_BRANCH, "cooker_socket", &assessment->house->branches[row]);
}

/* Flat twin-and-earth has one table, whatever its insulation. */
static bool flat_twin_taken(const struct assessment *assessment, size_t row)
{
    const struct wire_run run = wire_run_of_branch(assessment->house, row);
    return run.insulation == INSULATION_XLPE && run.wire.conductor != NULL &&
           wire_limit_of(assessment->house, &run).strict.flat_twin;
}

/* Sizes with an ampacity, of which no resistance is published: no drop and no loss. */
static bool resistance_unknown(const struct assessment *assessment, size_t row)
{
    const struct ref_conductor *conductor = assessment->house->branches[row].wire.conductor;
    return conductor != NULL && isnan(conductor->printed_ohm_per_kft) && isnan(conductor->printed_ohm_per_km);
}

/* Three poles that feed electronics alone: their third harmonics add up in the neutral. */
static bool harmonics_unknown(const struct assessment *assessment, size_t row)
{
    const struct house *house = assessment->house;
    const struct branch *branch = &house->branches[row];
    if (branch->poles != 3 || branch->appliances.count == 0 ||
        !reference_key_known(rules_word(house->rules), "third_harmonic") ||
        is_given(KIND_BRANCH, "third_harmonic", branch)) {
        return false;
    }
    bool electronic = true;
    for (size_t i = 0; i < branch->appliances.count; i++) {
        electronic = electronic && house->appliances[branch->appliances.index[i]].behaviour == BEHAVIOUR_ELECTRONIC;
    }
    return electronic;
}

/* ------------------------------------------------------------------ rooms ---------------------------------- */

static bool kind_taken(const struct assessment *assessment, size_t row)
{
    const struct room *room = &assessment->house->rooms[row];
    return room->kind != ROOM_OTHER && !is_given(KIND_ROOM, "kind", room);
}

static const char *by_room_words(const struct assessment *assessment, size_t row)
{
    return room_kind_word(assessment->house->rooms[row].kind);
}

/* ------------------------------------------------------------------ the house ------------------------------ */

/* A device that is taken for the supplier's fuse, under rules that know one. */
static void say_supply(struct assessment *assessment)
{
    const struct house *house = assessment->house;
    const bool knows = reference_key_known(rules_word(house->rules), "supply_fuse");
    const bool unknown = house->supply_fuse_a <= 0;
    struct text line = {0};
    if (!knows || house->supply_fuse_a > 0) {
        return;
    }
    if (isnan(house->main_breaker_a)) {
        text_add(&line, "The supplier's fuse is not known: ");
        text_add_number(&line, house->service_a);
        text_add(&line, " A is taken. The key `supply_fuse` settles it.");
    } else {
        text_add(&line, unknown ? "The supplier's fuse is not known: the main switch of "
                                : "Taken for the supplier's fuse: the main switch of ");
        text_add_number(&line, house->main_breaker_a);
        text_add(&line,
                 unknown ? " A counts. The key `supply_fuse` settles it." : " A. The key `supply_fuse` settles it.");
    }
    said_add(assessment, &line);
}

/* Under the edition that renumbers, the numbers and figures before it are cited. */
static void say_edition(struct assessment *assessment)
{
    const struct house *house = assessment->house;
    const struct ref_rule *row = reference_rule("renumbering-edition", rules_word(house->rules));
    if (row != NULL && house->code_edition >= (int)row->value) {
        struct text line = {0};
        text_printf(&line, "Numbers are those of the edition before %d: there %s. The key `code_edition` settles it.",
                    house->code_edition, row->note);
        said_add(assessment, &line);
    }
}

/* Showers whose plate is taken to be for another voltage than the house has. */
static void say_showers(struct assessment *assessment)
{
    const struct house *house = assessment->house;
    struct text line = {0};
    for (size_t i = 0; i < house->appliance_count; i++) {
        const struct appliance *appliance = &house->appliances[i];
        if (!appliance_is_shower(house, i)) {
            continue;
        }
        if (line.length == 0) {
            text_add(&line, "Plates taken to be stated at ");
            text_add_number(&line, appliance->rated_voltage_v);
            text_printf(&line, " V: %s", appliance->name);
        } else {
            text_printf(&line, ", %s", appliance->name);
        }
    }
    if (line.length > 0) {
        text_add(&line, ". The key `rated_voltage` settles it.");
        said_add(assessment, &line);
    }
}

/* Fuses of a holder that takes any size: the rating given is what was read, and a larger one may sit there. */
static bool fuse_taken(const struct assessment *assessment, size_t row)
{
    const struct branch *branch = &assessment->house->branches[row];
    const struct ref_fuse *fuse = reference_fuse(rules_word(assessment->house->rules), trip_word(branch->trip));
    return fuse != NULL && branch->breaker_a <= fuse->any_size_to_a; /* NAN: none such */
}

static const struct saying sayings[] = {
    {KIND_APPLIANCE, "Counted by the words of their names: ", ". The key `category` settles it.", counts_by_words,
     by_words},
    {KIND_APPLIANCE, "Taken to be plugged in, though no plug carries so much: ", ". The key `fixed` settles it.",
     plug_taken, NULL},
    {KIND_BRANCH, "Taken for one cooktop with its ovens, since no name says otherwise: ",
     ". A `name` that says cooktop, oven or range settles it.", cooktop_taken, NULL},
    {KIND_BRANCH, "No socket on the cooker's switch is counted (5 A more where there is one): ",
     ". The key `cooker_socket` settles it.", socket_taken, NULL},
    {KIND_APPLIANCE, "Taken to be connected to two lines and the neutral, half the power on each: ",
     ". The key `connection` settles it.", halves_taken, NULL},
    {KIND_BRANCH, "Third harmonic not known, none is counted, though the loads are electronic and load the neutral: ",
     ". The key `third_harmonic` settles it.", harmonics_unknown, NULL},
    {KIND_BRANCH, "No resistance is published for the wire, so no drop and no loss are known: ",
     ". The key `wire` settles it.", resistance_unknown, NULL},
    {KIND_BRANCH, "Flat twin-and-earth keeps its one table (70 \u00b0C) with `insulation = xlpe`: ",
     ". The key `method` settles it.", flat_twin_taken, NULL},
    {KIND_BRANCH,
     "Fuses by the rating given; a holder with an Edison base takes any size to 30 A, so that it may have been "
     "raised: ",
     ". What is printed on the fuse settles it, and Type S keeps it (240.51, 240.53).", fuse_taken, NULL},
    {KIND_ROOM, "Kinds of rooms by their names: ", ". The key `kind` settles it.", kind_taken, by_room_words},
};

static const char *name_of(const struct house *house, enum kind kind, size_t row)
{
    return kind == KIND_APPLIANCE ? house->appliances[row].name
           : kind == KIND_ROOM    ? house->rooms[row].name
                                  : house->branches[row].id;
}

static void say(struct assessment *assessment, const struct saying *saying)
{
    size_t count = 0;
    struct text line = {0};
    house_rows(assessment->house, saying->kind, &count);
    for (size_t i = 0; i < count; i++) {
        if (saying->holds(assessment, i)) {
            text_add(&line, line.length == 0 ? saying->start : ", ");
            text_add(&line, name_of(assessment->house, saying->kind, i));
            text_printf(&line, "%s%s", saying->as == NULL ? "" : " as ",
                        saying->as == NULL ? "" : saying->as(assessment, i));
        }
    }
    if (line.length > 0) {
        text_add(&line, saying->end);
        said_add(assessment, &line);
    }
}

void say_what_was_taken(struct assessment *assessment)
{
    say_supply(assessment);
    for (size_t i = 0; i < sizeof sayings / sizeof sayings[0]; i++) {
        say(assessment, &sayings[i]);
    }
    say_edition(assessment);
    say_showers(assessment);
}
