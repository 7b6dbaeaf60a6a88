/*
 * reference.h - the published figures: conductors, ampacities, breakers, motors, rules, typical ratings.
 *
 * The figures are rows of schema/reference/NNN_NAME.sql, each with its edition and source. While building,
 * src/tools/reference_embed.c checks them and writes reference_tables.h, which holds for every table
 *
 *   struct ref_NAME             one row; TEXT is const char * (NULL where the row has no value), REAL is double
 *                               (NAN where the row has no value), INTEGER is int
 *   ref_NAME_rows, ref_NAME_count   all rows, in the order of the file
 *
 * The rows are constants of the program: valid for ever, never freed, never written. Nothing in this header
 * allocates, fails, keeps anything between calls, or reads a file.
 *
 * `rules` is always the ID of a rule set, a row of ref_rule_set. `metal` is "copper" or "aluminium". A `size` is
 * written as in the table: "14 AWG", "1/0 AWG", "250 kcmil", "2.5 mm2"; where a size is looked up, an equal one is
 * found as well
 * ("2.50 mm2", "0 AWG").
 *
 * Checked: tests/unit/test_reference.c, tests/outside/reference-*.tsv.
 */
#ifndef AMPSUM_REFERENCE_H
#define AMPSUM_REFERENCE_H

#include <stdbool.h>
#include <stddef.h>

#include "ampsum/text.h"
#include "reference_tables.h" /* generated, see above */

/* ------------------------------------------------------------------ rule sets ----------------------------- */

/* Row of a rule set by its ID: its index in ref_rule_set_rows, -1 where there is none; the row itself, else NULL. */
int reference_rule_set_index(const char *id);
const struct ref_rule_set *reference_rule_set(const char *id);

/* The row of an index; NULL where there is none (a house whose rules are not known). */
const struct ref_rule_set *reference_rule_set_at(int index);

/* Whether a column that names a way of finding something (ampacity, drop_limit ...) names this one; false for NULL. */
bool reference_finds(const char *way, const char *named);

/*
 * The words that a rule set knows for a key of the house file, or for `demand`: word `index` in the order of the rows,
 * NULL past the last, so that a caller counts up until then. A key without a word is not of that rule set.
 */
const struct ref_choice *reference_choice(const char *rules, const char *key, size_t index);

/* Whether the rule set knows that word; the one it takes where nothing is said, NULL where it has none. */
bool reference_choice_known(const char *rules, const char *key, const char *word);
const char *reference_choice_usual(const char *rules, const char *key);

/*
 * Whether the rule set knows the key of the house file: a row of ref_key or words in ref_choice; a key in neither is
 * known to all. Whether any rule set has words of its own for the key. And the IDs of the sets that know it, `iec or
 * uk`, appended.
 */
bool reference_key_known(const char *rules, const char *key);
bool reference_key_has_words(const char *key);
void reference_key_sets(struct text *text, const char *key);

/* The IDs of the rule sets that know the word for the key, appended likewise. */
void reference_choice_sets(struct text *text, const char *key, const char *word);

/*
 * What a rule set has no rows for, that others have: part `index` in words, NULL past the last. And the sentence that
 * names all of them; false, with nothing appended, where none is missing.
 */
bool reference_missing_add(struct text *text, const char *rules);

/* For messages: appends those words, `B, C or D`; nothing where there is none. */
void reference_choice_list(struct text *text, const char *rules, const char *key);

/* Likewise the IDs of the rule sets, `us, iec or uk`. */
void reference_rule_set_list(struct text *text);

/* ------------------------------------------------------------------ conductors ---------------------------- */

/*
 * The conductor of a size and metal.
 *
 * Returns its row, or NULL where the size is in no table for that metal.
 */
const struct ref_conductor *reference_conductor(const char *size, const char *metal);

/*
 * The listed sizes on either side of a size that is not listed, for the message that refuses it. AWG and kcmil are
 * one series, mm2 the other; the neighbours come from the series of the size given.
 *
 *   size         any size text, e.g. "11 AWG", "3 mm2"
 *   ret_smaller  the next smaller listed conductor of that metal, NULL where there is none
 *   ret_larger   the next larger one, NULL where there is none
 *
 * Returns false (both NULL) where `size` is not the text of a size at all.
 */
bool reference_conductor_neighbours(const char *size, const char *metal, const struct ref_conductor **ret_smaller,
                                    const struct ref_conductor **ret_larger);

/*
 * Cross-section that a size's name stands for, mm2. AWG n: (pi/4)(0.127 mm * 92^((36-n)/39))^2, ASTM B258; kcmil:
 * thousand circles of 0.001 inch; mm2 itself. NAN where `size` is not the text of a size.
 */
double reference_size_area_mm2(const char *size);

/*
 * d.c. resistance of one conductor at a temperature, ohm per kilometre: the printed figure taken from the temperature
 * it is printed for to `temp_c` by R(T) = R20 (1 + alpha (T - 20)). Engineering notes, section 5.
 *
 *   temp_c  working temperature, degree Celsius
 */
double reference_resistance_ohm_per_km(const struct ref_conductor *conductor, double temp_c);

/* Operating temperature at which the rule set takes a conductor's resistance, degree Celsius (us 75, iec and uk 70). */
double reference_operating_temp_c(const char *rules);

/* ------------------------------------------------------------------ ampacity ------------------------------ */

/*
 * Rule sets that take the column of the terminals' temperature: ampacity of a conductor, ampere, at 30 degree C
 * ambient, up to three current-carrying conductors.
 *
 *   insulation_temp_c  60, 75 or 90: the column
 *   ret_row            where not NULL: the row, NULL where there is none
 *
 * Returns NAN where the table has no figure.
 */
double reference_ampacity_us_a(const char *rules, const char *size, const char *metal, int insulation_temp_c,
                               const struct ref_ampacity_us **ret_row);

/* us: what a kind of cable is good for: the insulation's column and the column that caps it; NULL where unknown. */
const struct ref_cable *reference_cable(const char *rules, const char *cable);

/* One published ampacity of the iec or uk rules, whichever table it came from. */
struct reference_ampacity {
    double ampacity_a;     /* at 30 degree C air (D1, D2: 20 degree C ground, 2.5 K m/W); NAN: in no table */
    int insulation_temp_c; /* conductor temperature that the table is for, hence the column of its factors; 0: no table
                            */
    bool flat_twin;        /* from the British flat twin-and-earth table, which knows one insulation only */
    const char *table;     /* what the table is, for the finding's text; NULL where in no table */
    const char *edition;   /* NULL where in no table */
    const char *source;    /* NULL where in no table */
};

/*
 * iec, uk: ampacity of a conductor as it lies. uk, two loaded copper conductors up to 16 mm2, methods C, A, 100 to 103:
 * the flat twin-and-earth table (BS 7671 Table 4D5), whatever the insulation; everything else the IEC tables
 * (IEC 60364-5-52 B.52.2 to B.52.5).
 *
 *   insulation  "pvc", "xlpe"
 *   method      "A1" "A2" "B1" "B2" "C" "D1" "D2"; "D" is D1; uk also "A" (A2 where the cable is no flat twin), "B"
 *               (B2), "100" to "103" (flat twin only)
 *   loaded      2 (single-phase) or 3 (three-phase)
 */
struct reference_ampacity reference_ampacity_iec(const char *rules, const char *size, const char *metal,
                                                 const char *insulation, const char *method, int loaded);

/*
 * Factor on an ampacity for the ambient air temperature. us: by band, as printed. iec, uk: the published step, that is
 * the factor of the next listed temperature at or above the ambient (nothing is interpolated).
 *
 *   insulation_temp_c  us 60, 75, 90; iec, uk 70 (PVC), 90 (XLPE)
 *   ret_row            where not NULL: the row, NULL where there is none
 *
 * Returns NAN where the table has no figure (hotter than the insulation allows).
 */
double reference_ambient_factor(const char *rules, int insulation_temp_c, double ambient_c,
                                const struct ref_ambient **ret_row);

/* iec, uk: the same for the temperature of the ground, methods D1 and D2 (IEC 60364-5-52 Table B.52.15). */
double reference_ground_factor(const char *rules, int insulation_temp_c, double ground_c,
                               const struct ref_ambient **ret_row);

/*
 * iec, uk: factor for the soil around a buried cable (IEC 60364-5-52 Table B.52.16); between two printed resistivities
 * the drier soil's.
 *
 *   method  "D1" (or "D"), "D2"
 *
 * Returns NAN above the driest soil of the table.
 */
double reference_soil_factor(const char *rules, const char *method, double km_per_w);

/*
 * Factor for circuits that lie together. us: by current-carrying conductors (Table 310.15(C)(1)); iec, uk: by circuits
 * (Table B.52.17 item 1, BS 7671 Table 4C1; in the ground: touching). Between two printed counts the larger one's.
 *
 *   method  how the cable lies: "D", "D1", "D2" take the ground's tables, all else (and us, NULL) the one for air
 *   count   itself included, at least 1
 *
 * Returns the row, or NULL where the table ends before `count`.
 */
const struct ref_bundle *reference_bundle(const char *rules, const char *method, int count);

/*
 * iec, uk: factor for a length of cable wholly surrounded by thermal insulation (523.9); 1 for no length, and for the
 * methods that count their insulation already (A, 100 to 103) or lie in the ground.
 *
 *   length_m  metre, >= 0
 */
double reference_in_insulation_factor(const char *rules, const char *method, double length_m);

/* The same by the rows alone that were read somewhere: that of the longest such length which is passed. */
double reference_in_insulation_sure(const char *rules, const char *method, double length_m);

/* Whether a row's source says that its figure is from memory: such a figure makes no danger of its own. */
bool reference_from_memory(const char *source);

/* us: largest overcurrent device of a small conductor, NULL where the size and metal has no such limit. */
const struct ref_small_conductor *reference_small_conductor(const char *rules, const char *size, const char *metal);

/* ------------------------------------------------------------------ overcurrent devices ------------------- */

/*
 * The smallest standard rating that is at least `current_a` (equal within a relative 1e-9 counts), ampere; NAN above
 * the largest. The row goes to ret_row where that is not NULL.
 */
double reference_next_standard_size_a(const char *rules, double current_a, const struct ref_standard_size **ret_row);

/* The largest standard rating that is at most `limit_a`, ampere; 0 below the smallest, NAN where limit_a is. */
double reference_standard_size_at_most_a(const char *rules, double limit_a);

/*
 * How soon a device opens at a steady multiple of its rating, from its published calibration limits alone, in the fixed
 * words of the engineering notes, section 4: "none expected", "may trip", "within 1 h", ..., "at once".
 *
 *   trip       "inverse-time" (us), "B", "C", "D" (iec, uk)
 *   rating_a   rating of the device, > 0
 *   multiple   current over rating, >= 0; an edge counts as reached within a relative 1e-9
 *   ret_row    where not NULL: the row that said so, NULL for "none expected" with nothing connected
 *
 * Never NULL: what no band reaches is "none expected".
 */
const char *reference_trip_text(const char *rules, const char *trip, double rating_a, double multiple,
                                const struct ref_trip_band **ret_row);

/* The published band of instantaneous tripping, in multiples of the rating; NULL where none is published (us). */
const struct ref_instantaneous *reference_instantaneous(const char *rules, const char *trip);

/* What a fuse may be rated over its wire's ampacity; NULL where `trip` is no fuse of the rule set (a circuit-breaker).
 */
const struct ref_fuse *reference_fuse(const char *rules, const char *trip);

/* ------------------------------------------------------------------ plugs and receptacles ----------------- */

/*
 * us: the receptacle table's largest cord-and-plug load on a branch with two or more receptacles.
 *
 *   circuit_a     rating of the branch
 *   receptacle_a  rating of the receptacle; 0 or less: the largest that the table lists for the circuit
 *
 * NULL where the table has no such row, and for iec and uk.
 */
const struct ref_receptacle *reference_receptacle(const char *rules, double circuit_a, double receptacle_a);

/* The largest branch for which that table prints a plug-in load, ampere; NAN: no table. */
double reference_receptacle_load_to_a(const char *rules);

/* us: ratings of receptacles on a branch with two or more contacts; NULL where no table lists the branch's rating. */
const struct ref_receptacle_rating *reference_receptacle_rating(const char *rules, double circuit_a, int edition);

/*
 * The plug or receptacle that a plug-in appliance is taken to use where the house says nothing: uk the 13 A plug, iec
 * the 16 A one, us the largest receptacle allowed on the branch. NULL where none is listed (a larger branch).
 *
 *   breaker_a  rating of the branch
 */
const struct ref_plug *reference_plug(const char *rules, double breaker_a);

/*
 * The largest current, ampere, that an appliance may draw for hours from a plug-in outlet before finding 10 speaks:
 * us 80 % of the receptacle; iec, uk 10 A. All common practice.
 */
double reference_long_running_a(const char *rules, double breaker_a);

/* ------------------------------------------------------------------ motors -------------------------------- */

/*
 * Published full-load current of a single-phase motor, ampere: the column nearest to `voltage_v`, the lower one in a
 * tie. NAN where the rule set publishes no table (iec, uk) or the table does not list the size.
 *
 *   power_hp  within 1e-6 relative of a listed size
 *   ret_row   where not NULL: the row, NULL where there is none
 */
double reference_motor_current_a(const char *rules, double power_hp, double voltage_v,
                                 const struct ref_motor_fla **ret_row);

/*
 * The listed motor sizes of a rule set, smallest first.
 *
 *   index  0 ..; NULL past the last, so that a caller counts up until then. A rule set without a table has none.
 */
const char *reference_motor_size(const char *rules, size_t index);

/*
 * us: the multiples of a motor's or cooling unit's current that its overcurrent device is held against (430.52,
 * 440.22).
 *
 *   what    "motor", "cooling"
 *   device  "breaker" (inverse-time), "fuse" (without time delay)
 */
const struct ref_motor_breaker *reference_motor_breaker(const char *rules, const char *what, const char *device);

/* ------------------------------------------------------------------ cooking, harmonics -------------------- */

/*
 * us: demand of the household cooking on one branch, VA (Table 220.55, column B for one up to 8.75 kW, column C with
 * Note 1 above): 80 % to 8.75 kW, 8 kW to 12 kW, 5 % more for each kW above it (a half counts as one) to 27 kW; above
 * that no table, the sum itself.
 *
 *   plates_va  sum of the nameplates, >= 0
 *
 * NAN where the rule set has no table (iec, uk).
 */
double reference_range_demand_va(const char *rules, double plates_va);

/*
 * uk (iec publishes none and borrows it): allowance for the household cooking on one circuit, ampere: the first 10 A in
 * full, 30 % of the rest, 5 A for a socket on the cooker's switch. NAN under us.
 *
 *   plates_a  sum of the rated currents, >= 0
 */
double reference_cooker_allowance_a(const char *rules, double plates_a, bool socket);

/*
 * iec, uk: by which current and factor a four-core cable is sized whose lines hold third harmonics
 * (IEC 60364-5-52 Annex E).
 *
 *   third_percent  third harmonic of the line current, 0 to 100
 */
const struct ref_harmonic *reference_harmonic(const char *rules, double third_percent);

/* ------------------------------------------------------------------ rules and findings -------------------- */

/*
 * The row of a limit: that of the rule set, else the one for every rule set ("*"), else NULL.
 *
 *   id  e.g. "continuous-factor"; all of them stand in schema/reference/010_rule.sql
 */
const struct ref_rule *reference_rule(const char *id, const char *rules);

/* Its value, in the row's own unit; NAN where there is no row. */
double reference_rule_value(const char *id, const char *rules);

/* Volt line to neutral that is taken where a house says none; NAN where the list has none. Source: ref_nominal_voltage.
 */
double reference_usual_voltage_v(const char *rules, const char *system);

/* Volt between two lines as the published list names it beside a nominal voltage to neutral (230 V: 400 V, though the
 * root of 3 makes 398.4 V); NAN where the list has no such row or one line alone. Source: ref_nominal_voltage. */
double reference_line_to_line_v(const char *rules, const char *system, double line_to_neutral_v);

/*
 * What finding `id` is under a rule set: its name, severity, sources and the caution that goes with it; the row of
 * the rule set, else the one for every rule set, else NULL (the finding does not exist there).
 *
 *   id  "1" to "16", as in the engineering notes, or the word of a finding without a number
 */
const struct ref_finding *reference_finding(const char *id, const char *rules);

/* The same for a case with a severity of its own, e.g. "motor", "next-size", "no-table" (5), "mild" (8); "": usual. */
const struct ref_finding *reference_finding_variant(const char *id, const char *rules, const char *variant);

/*
 * Protection kinds that are usual for a purpose or category, for finding 12.
 *
 *   purpose  a branch's purpose, or an appliance's category
 *   kind     "gfci", "afci", "rcd"
 *   voltage_v, breaker_a  of the branch: a row may be of low voltages and small branches alone
 *
 * Returns the row, or NULL where that kind is not usually asked for there.
 */
const struct ref_protection *reference_protection(const char *rules, const char *purpose, const char *kind,
                                                  double voltage_v, double breaker_a);

/* What is asked about a usual protection: what is connected where. */
struct reference_place {
    const char *rules;
    const char *kind; /* "gfci", "afci", "rcd" */
    const char *room; /* kind of room, "other" where it has none */
    const char *what; /* "receptacle", "hard-wired" ...: the words of ref_room_protection.what */
    double voltage_v; /* of the branch */
    double rated_a;   /* of the branch; of what one plugs into its own rating */
    int edition;      /* of the rules, a year; iec, uk: any year from 2017 on */
};

/*
 * The row that makes a kind of protection usual there, for finding 12: with clause and the year since when it has been
 * asked for; NULL where it is not usual.
 */
const struct ref_room_protection *reference_room_protection(const struct reference_place *place);

/*
 * Clause of a rule in an edition, for rules that editions moved (us): "ampacity", "ambient", "vehicle-demand" ...
 *
 * Returns the row, whose clause is NULL where the edition has no such rule and it is not applied; NULL where the rule
 * was never moved: its own row names the clause then.
 */
const struct ref_section *reference_section(const char *rules, const char *rule, int edition);

/*
 * The edition whose numbers stand beside a rule: the house's own (0 stays 0), but the one before where the house's
 * gives rules new numbers that are not known here.
 */
int reference_cited_edition(const char *rules, int edition);

/*
 * Appends the clause of a row as an edition numbers it: `{ampacity}` in it stands for reference_section's clause of
 * that rule, nothing where the edition has none. Edition 0: the one that is usual under the rules.
 */
void reference_clause(struct text *text, const char *rules, const char *clause, int edition);

/* Appends `French Broad EMC appliance table (2021), 2021`: a row's source and edition, which several sources have each
 * their own of (`as each source`) and name themselves. */
void reference_add_source(struct text *text, const char *source, const char *edition);

/* Appends what a rule set has; nothing where it has nothing. */
typedef void reference_set_says(const struct ref_rule_set *set, const void *context, struct text *text);

/*
 * Appends what the rule sets have, those that have the same together: `us ft; iec, uk m`; the words alone where all
 * have the same. `otherwise` (NULL: nothing) stands for the sets that have nothing: `us grounded; otherwise not known`.
 */
void reference_by_set(struct text *text, reference_set_says *says, const void *context, const char *otherwise);

/* The same for a name in braces: `by-paper`, `by-length`, ... and `sets`, `first-set`. False where there is no such
 * name. */
bool reference_fill_by_set(struct text *text, const char *name);

/* Whether not all rule sets know a key of the house file; and the IDs of those that do, or of those that know a word
 * of it: `iec, uk`. */
bool reference_key_is_partial(const char *key);
void reference_key_knowing(struct text *text, const char *key, const char *word);

/*
 * Appends words in which `{by-paper}` stands for what the rule sets have (above), and `{continuous-hours}` stands for
 * the value of that rule, in the row's own unit, under the rules; NULL: under all of them, `3` or `2 to 3`.
 */
void reference_fill(struct text *text, const char *words, const char *rules);

/* Whether the edition (0 as above) has a rule that editions moved or brought. */
bool reference_has_section(const char *rules, const char *rule, int edition);

/* The caution of a case ("danger", "water", "medical" ...), one line; NULL where there is none. */
const struct ref_caution *reference_caution(const char *caution, const char *rules);

/*
 * The rules' smallest breaker for a branch that serves one appliance, for finding 15.
 *
 *   what  the appliance's category, or the branch's purpose
 *   rated_va  the appliance's rating; a row may ask for a smallest one
 *
 * Returns the row with the largest demand, or NULL.
 */
const struct ref_minimum_branch *reference_minimum_branch(const char *rules, const char *what, double rated_va);

/* ------------------------------------------------------------------ dwelling demand ----------------------- */

/* Table row for `count` household ranges (>= 1): columns A and B in percent, C in kW; NULL below 1 or under iec, uk. */
const struct ref_demand_range *reference_demand_range(const char *rules, int count);

/* Column C of that row for `count` ranges, kW: the flat figure plus what each range adds. */
double reference_demand_range_kw(const struct ref_demand_range *row, int count);

/* Demand of `count` household dryers, percent of their sum; 100 below 1. NAN where the rule set has no table. */
double reference_demand_dryer_percent(const char *rules, int count, const struct ref_demand_dryer **ret_row);

/* Diversity allowance of a kind of load (uk, iec), NULL where there is none; kinds are rows of ref_diversity. */
const struct ref_diversity *reference_diversity(const char *rules, const char *kind);

/* ------------------------------------------------------------------ words --------------------------------- */

/*
 * True where `word` (lower case, one word or several) stands in `text` as whole words: any case, plurals in s and es
 * too, whatever is no letter between the words. "ev charger" is in "EV-Chargers 2", "spa" is not in "spare".
 */
bool reference_word_in(const char *word, const char *text);

/* What is asked of the words in a load's name. */
enum reference_word_about {
    REFERENCE_WORD_CATEGORY, /* the category that they propose, where the house file gives none */
    REFERENCE_WORD_THING     /* what a rule calls it: "oven", "cooktop", "range", "sump-pump" ... */
};

/*
 * The word of a load's name that tells its category, or its thing; of several the one of more words, then the later.
 * A word that means something else ("slow cooker") tells nothing.
 *
 * Returns the row, whose category (or thing) is not NULL then, or NULL where no word tells.
 */
const struct ref_word *reference_word(const char *rules, const char *text, enum reference_word_about about);

/* Whether any word of that table stands in `text`, of whatever rule set and case: where none does, nothing is told. */
bool reference_word_any(const char *text);

/*
 * A word of the text that calls for a caution: "water", "medical", "generator", NULL for any of them; NULL where there
 * is none.
 */
const struct ref_word *reference_word_caution(const char *rules, const char *text, const char *caution);

/* The word of a room's ID or name that tells its kind; NULL where none does. */
const struct ref_room_word *reference_room_word(const char *text);

/* ------------------------------------------------------------------ money, typical ratings, sources ------- */

/* A currency by its ISO 4217 code (upper case), NULL where unknown. */
const struct ref_currency *reference_currency(const char *code);

/*
 * Typical ratings for a word: rows whose name, ID or other name (ref_typical_name) holds it as whole words (any case, a
 * plural too), best match first, then those that hold each of several words, then those of which a word begins with it
 * (three letters or more); where none does, the rows whose words are nearest to it.
 *
 *   rules    rows of this rule set and of "*" count; NULL: all
 *   ret      room for `ret_max` rows
 *   ret_near set to true where the rows are only near, not NULL
 *
 * Returns how many rows were stored (0 where nothing is near).
 */
size_t reference_typical_find(const char *word, const char *rules, const struct ref_typical **ret, size_t ret_max,
                              bool *ret_near);

/*
 * The row whose whole name, ID or other name this is, any case, a plural too; first of this rule set, else of any.
 * NULL: none is.
 */
const struct ref_typical *reference_typical_named(const char *name, const char *rules);

/* One source of one table: what the `rules` command lists beside the rule rows. */
struct reference_source {
    const char *table;   /* name without the leading "ref_" */
    const char *title;   /* what a row is: the first line of its .sql file */
    const char *edition; /* as on the rows */
    const char *source;  /* as on the rows */
    size_t row_count;    /* rows of the table with this edition and source */
};

extern const struct reference_source reference_sources[]; /* by table, then in the order of the rows */
extern const size_t reference_source_count;

struct arena;

/* The preferred numbers of one decade of a series (`E24`), as printed; in the arena. *ret_count 0: no such series. */
const char *const *reference_preferred(const char *series, struct arena *arena, size_t *ret_count);

#endif
