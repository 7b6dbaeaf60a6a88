/*
 * The classroom: questions on parallel loads, made from a seed so that every machine makes the same sheets, with keys
 * that show each step. A question is a list of quantities, each given or found by one step of ampsum/steps.h from
 * earlier ones, in exact fractions: the key, the marking and the working all come from that list.
 * Checked: tests/unit/test_lesson.c (node equations over 1,000 seeds), tests/outside/lesson.tsv (published problems).
 */
#ifndef AMPSUM_LESSON_H
#define AMPSUM_LESSON_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include <gmp.h>

#include "ampsum/error.h"
#include "ampsum/exact.h"
#include "ampsum/language.h"
#include "ampsum/model.h"
#include "ampsum/steps.h"
#include "ampsum/text.h"

/* The number of a kind is part of a sheet's numbers and never changes: a new kind goes to the end. */
enum lesson_kind {
    LESSON_UNEQUAL,        /* unequal resistors in parallel */
    LESSON_EQUAL,          /* equal ones */
    LESSON_FIND_ONE,       /* one of them from the total */
    LESSON_DIVIDE,         /* currents that divide */
    LESSON_TABLE,          /* resistance, voltage, current, power of each load and the total */
    LESSON_CHANGE,         /* a load is added, or removed: what changes, and what does not */
    LESSON_OPEN,           /* one path is opened by a fault */
    LESSON_TRIP,           /* is the current above the breaker's rating? */
    LESSON_TWO_WAYS,       /* two ways to the total that must agree */
    LESSON_ENERGY,         /* energy and cost */
    LESSON_WIRE,           /* a wire in series with parallel loads */
    LESSON_NEUTRAL,        /* the neutral of a split-phase circuit */
    LESSON_POWER_FACTOR,   /* loads with a power factor */
    LESSON_STOCK,          /* a wanted resistance from parts on the shelf */
    LESSON_ONE_READING,    /* the source from one part's current, voltage or power */
    LESSON_PRODUCT_SUM,    /* product over sum, two at a time */
    LESSON_BOUNDS,         /* between which resistances the whole must lie */
    LESSON_CONDUCTANCE,    /* conductances that add up */
    LESSON_INTERNAL,       /* a source with a resistance of its own */
    LESSON_TOLERANCE,      /* least and greatest of parts with a tolerance */
    LESSON_JUNCTION,       /* the missing current at a point, and its direction */
    LESSON_ARROWS,         /* what rises, falls and stays after a change */
    LESSON_WITHIN,         /* how many alike loads keep within the breaker */
    LESSON_LADDER,         /* series and parallel in one circuit */
    LESSON_LOOP_IMPEDANCE, /* of an earth fault: the loop, the current, does the device open? */
    LESSON_LONGEST_RUN,    /* at which the device still opens */
    LESSON_PREFIXES,       /* kilohms, milliamperes, kilowatts */
    LESSON_GRID,           /* a table of resistance, voltage, current, power with empty cells */
    LESSON_CONTINUOUS,     /* what is on for long counts for more */
    LESSON_THREE_NEUTRAL,  /* the neutral of three phases */
    LESSON_WHY,            /* the right reason */
    LESSON_IMPOSSIBLE,     /* the figure that cannot be */
    LESSON_FAULT,          /* which part is faulty, and how, from readings */
    LESSON_LAB,            /* measured beside computed */
    LESSON_KIND_COUNT
};

/* Likely slips, by the number that they lead to. What each is stands beside its name in src/lesson/slips.c. */
enum slip {
    SLIP_NONE,
    SLIP_ADDED,         /* resistances in parallel */
    SLIP_NOT_INVERTED,  /* the sum of reciprocals */
    SLIP_HALVED,        /* instead of dividing by n */
    SLIP_PREFIX,        /* of the unit */
    SLIP_TOTAL_VOLTAGE, /* for a part of the circuit */
    SLIP_ONE_WAY,       /* of the wire */
    SLIP_NOT_SQUARED,
    SLIP_SERIES_AS_PARALLEL,
    SLIP_PRODUCT_ONLY,
    SLIP_SUM_OVER_PRODUCT,
    SLIP_TOTAL_CURRENT,
    SLIP_TOTAL_FOR_PART, /* power */
    SLIP_WRONG_PATH,
    SLIP_SWAPPED,
    SLIP_MULTIPLIED,
    SLIP_OPEN_CARRIES,
    SLIP_ALL_CHANGE,
    SLIP_OPEN_FOR_SHORT,
    SLIP_ALL_ADDED,
    SLIP_SIGN,
    SLIP_R_LEFT_OUT,
    SLIP_DROP_FOR_TERMINAL,
    SLIP_HOURS_LEFT_OUT,
    SLIP_WATTS_FOR_KILOWATTS,
    SLIP_PRICE_LEFT_OUT,
    SLIP_FACTOR_ON_ALL,
    SLIP_FACTOR_LEFT_OUT,
    SLIP_ENDS_SWAPPED,
    SLIP_DOUBLED,
    SLIP_SWAPPED_BASE,
    SLIP_ROUNDED_UP,
    SLIP_CUT,
    SLIP_COUNT
};

/*
 * Which generator made a sheet's numbers. It stands in sheets.json; folders without a number are the first one's. Every
 * earlier generator stays, so that what was handed out marks as it did: whoever changes the numbers that a seed leads
 * to, or how an answer is judged, gives the new way the next number (tests/lessons holds folders of each).
 * LESSON_GENERATOR_NEXT makes no sheets yet: `mark --expect`, which no sheet holds to an earlier way, is judged by it.
 */
enum {
    LESSON_GENERATOR_FIRST = 1,
    LESSON_GENERATOR_LETTERS = 2,
    LESSON_GENERATOR_NETWORKS = 3,
    LESSON_GENERATOR_OWN = 4,
    LESSON_GENERATOR_MARKS = 5, /* the numbers of 4; judged by the rule of points to its letter */
    LESSON_GENERATOR_NOW = LESSON_GENERATOR_MARKS,
    LESSON_GENERATOR_NEXT = LESSON_GENERATOR_NOW + 1
};

enum {
    LESSON_LEVEL_MOST = 4,
    LESSON_OPERANDS_MOST = 12,
    LESSON_CHOICES_MOST = 5,
    LESSON_GRID_SIDE = 4,
    LESSON_STUDENTS_MOST = 10000,
    LESSON_QUESTIONS_MOST = 100,
    LESSON_CODE_SIZE = 8,
    LESSON_VERSIONS_MOST = 26,
    LESSON_ROOM_USUAL = 5,
    LESSON_ROOM_MOST = 40,
    LESSON_OWN_USUAL = 50
};

/* The word for --kind, and one line on what it asks in that language. */
const char *lesson_kind_word(enum lesson_kind kind);
const char *lesson_kind_about(int language, enum lesson_kind kind);

/* The kind of that word; false where there is none. */
bool lesson_kind_find(const char *word, enum lesson_kind *ret_kind);

struct lesson_plan;

/* NULL where the kind can be asked of the plan's house; else why it cannot, in the plan's language. */
const char *lesson_kind_fits(const struct lesson_plan *plan, enum lesson_kind kind);

/* A load of the house that questions may name. */
struct lesson_load {
    char *name;
    unsigned power_w;     /* of one unit, a whole number */
    unsigned minutes_day; /* on-time on a day; 0: not known */
};

/* A branch of the house with its resistive plug-in and fixed loads. */
struct lesson_branch {
    char *label;
    unsigned breaker_a;
    struct lesson_load *loads;
    size_t load_count;
};

/* How answers count. */
struct lesson_scheme {
    unsigned value; /* points: of a number's value, its unit, its significant figures */
    unsigned unit;
    unsigned figures;
    unsigned prefix; /* of a number that is right but for a thousand or a million */
    unsigned yes_no;
    unsigned choice;
    unsigned arrow;
    unsigned way;
    unsigned part;
    unsigned tolerance_ppm; /* a number so far off at most is right: 10,000 is 1 % */
    unsigned figures_asked; /* 0: those of the level */
    bool units_printed;     /* beside the blank, and without a point */
    char decimal_sign;      /* of the class, '.' or ',' */
};

/* 2 points for a value, 1 each for unit and figures, 2 for yes or no and for a choice, else 1; 1 %; point. */
void lesson_scheme_usual(struct lesson_scheme *ret_scheme);

/* Reads `value=2,unit=1`; what is not named stays. False with a word in `fault`. */
bool lesson_scheme_points(const char *list, struct lesson_scheme *scheme, struct text *fault);

/* Appends the points in that form, all of them. */
void lesson_scheme_show(const struct lesson_scheme *scheme, struct text *text);

/* Reads `2%` or `0.5`, 0 to 20; and appends the number of per cent. */
bool lesson_scheme_tolerance(const char *string, struct lesson_scheme *scheme);
void lesson_scheme_percent(const struct lesson_scheme *scheme, struct text *text);

/* All that a set of sheets follows from. */
struct lesson_plan {
    unsigned generator; /* LESSON_GENERATOR_FIRST..NOW */
    uint64_t seed;
    unsigned level;    /* 1..LESSON_LEVEL_MOST */
    unsigned students; /* 1..LESSON_STUDENTS_MOST */
    enum lesson_kind *kinds;
    size_t question_count;       /* entries of kinds: one question each */
    unsigned voltage_v;          /* nominal, line to neutral */
    bool split_phase;            /* the house has two legs and a neutral between them */
    bool three_phase;            /* it has three phases */
    unsigned continuous_percent; /* what is on for 3 h or more counts for so much; 0: the rules have no such factor */
    bool by_loop;                /* its rules hold the loop of an earth fault against the device */
    unsigned own_percent;        /* of the questions that name loads take them from the house, where it has enough */
    char *currency;
    char *price; /* decimal text, money per kWh; never NULL */
    struct lesson_branch *branches;
    size_t branch_count;
    struct lesson_scheme scheme;
    char **names;                    /* of the students, students entries; NULL: none are known */
    char *title;                     /* of the sheets, "" for the usual one; NULL as "" */
    char *class_name;                /* the same */
    char *date;                      /* as it is to stand there; the same */
    int language;                    /* of what stands on the sheets */
    bool large;                      /* print for those who see little */
    bool zigzag;                     /* the sign of a resistor: teeth, else a rectangle */
    char *font;                      /* family; NULL or "" for the usual one */
    char voltage_letter;             /* 'V' or 'U'; 0 for that of the language */
    unsigned room;                   /* lines to work in under each question */
    unsigned versions;               /* so many different sheets, dealt in turn; 0: each student has an own one */
    char (*codes)[LESSON_CODE_SIZE]; /* of the sheets as they were handed out, students entries; NULL: not read back */
};

/* Empties the plan. */
void lesson_plan_done(struct lesson_plan *plan);

/*
 * Reads the class's names into the plan, and how many students there are: one name a line, or CSV with the columns name
 * and perhaps class and number. False with the error set.
 */
bool lesson_names_read(struct lesson_plan *plan, const char *path, struct error *error);

/* The student's name; "" where none is known. */
const char *lesson_name(const struct lesson_plan *plan, unsigned student);

/* Significant figures that the sheets of a level ask for; and those that the plan asks for. */
unsigned lesson_plan_figures(const struct lesson_plan *plan);

/*
 * Takes voltage, currency, the first plain price and the branches with whole-number resistive loads from the house, in
 * file order. Sets nothing else of the plan.
 */
void lesson_plan_house(struct lesson_plan *plan, const struct house *house);

/* The same for questions without a house: 120 V, US dollars, a price of 0.20, no branches. */
void lesson_plan_plain(struct lesson_plan *plan);

/* Where a quantity could be measured in the circuit; tests solve it again from this. */
enum probe_kind {
    PROBE_NONE,
    PROBE_CURRENT, /* of element */
    PROBE_VOLTAGE,
    PROBE_POWER,
    PROBE_SOURCE_CURRENT, /* out of element, a source */
    PROBE_SOURCE_POWER,
    PROBE_SEEN,  /* resistance that element, a source, sees */
    PROBE_BEHIND /* voltage across element over the source's current */
};

struct lesson_quantity {
    const char *symbol;  /* "I1" */
    const char *subject; /* what it belongs to: "R1", "kettle", "all together" */
    enum exact_quantity measure;
    bool given;
    bool hidden;         /* given to the key alone: the sheet does not say it */
    bool measured;       /* the student's own reading; has no points, and what follows from it is right */
    bool plain;          /* in its plain unit, whatever the prefixes of the question */
    int power;           /* of ten, of the unit in which the sheet gives or asks it: -3 for mA, -2 for per cent */
    enum step_kind kind; /* how it is found */
    size_t operands[LESSON_OPERANDS_MOST];
    size_t operand_count;
    bool has_other; /* a second way, for the check and for answers that follow from it */
    enum step_kind other_kind;
    size_t other_operands[LESSON_OPERANDS_MOST];
    size_t other_count;
    const char *asked; /* "current in R1"; NULL where the sheet does not ask for it */
    enum probe_kind probe;
    size_t state;   /* of the circuit: 0 before, 1 after a change */
    size_t element; /* that the probe looks at */
    mpq_t value;
};

enum element_kind { ELEMENT_SOURCE, ELEMENT_RESISTOR, ELEMENT_POWER, ELEMENT_WIRE };

/* A part of the circuit between two nodes. */
struct lesson_element {
    enum element_kind kind;
    size_t from;
    size_t to;
    size_t quantity; /* index of its voltage, resistance, or power at the first source's voltage */
};

/* Node equations can be written from this alone. Node 0 is the reference. */
struct lesson_circuit {
    struct lesson_element *elements;
    size_t count;
    size_t capacity;
};

/* A slip: someone takes quantity `taken` where quantity `meant` belongs. */
struct lesson_swap {
    enum slip slip;
    size_t meant;
    size_t taken;
};

enum lesson_drawing {
    DRAW_NONE,
    DRAW_PARALLEL, /* loads side by side */
    DRAW_WIRE,     /* something in series before them */
    DRAW_SPLIT,    /* two legs and a neutral */
    DRAW_NETWORK,  /* any other circuit: a rail for each node, in the order of their numbers, 0 the last */
    DRAW_MACHINES, /* the given powers, side by side */
    DRAW_POINT,    /* the given currents, in and out of a point */
    DRAW_SHELF,    /* a resistance to be made from parts */
    DRAW_LOOP,     /* the given resistances, one behind the other around the house's source */
    DRAW_ALIKE,    /* several loads alike behind a breaker */
    DRAW_GRID,     /* a table of the question's cells */
    DRAW_STAR,     /* a load from each of three phases to the neutral */
    DRAW_USE       /* the given powers with their names, side by side at the house's supply */
};

/* What can interrupt, or has interrupted, the wire of an element. */
enum lesson_gate { LESSON_NO_GATE, LESSON_SWITCH_CLOSED, LESSON_SWITCH_OPEN, LESSON_BREAK };

/* One student's question. Strings of the quantities belong to the plan or are fixed; story belongs to the question. */
struct lesson_question {
    enum lesson_kind kind;
    unsigned level;
    unsigned figures;
    int language;
    const char *currency; /* of prices; the plan's */
    struct text story;
    struct lesson_quantity *quantities;
    size_t count;
    size_t ready; /* quantities whose value is initialised */
    size_t capacity;
    struct lesson_circuit circuit[2]; /* before and after */
    enum lesson_drawing drawing;
    bool mains;                  /* the source is the house's, and alternates */
    enum lesson_gate gate;       /* as it stands before the change */
    size_t gate_at;              /* element of the drawn circuit that it stands before */
    const char *in_series;       /* what stands in front of the loads; NULL: the wire */
    const char *branch;          /* label of the house's branch whose loads these are, or NULL */
    struct lesson_swap swaps[4]; /* slips of this circuit */
    size_t swap_count;
    const char *opening;                      /* of the story; NULL: that of the kind */
    bool prefixed;                            /* kilohms, milliamperes: each figure with the prefix that fits it */
    bool thousands;                           /* its figures may be a thousand times more or less than usual */
    bool zeros;                               /* a reading may be 0 */
    bool draw_first;                          /* the first circuit is the one to draw, whatever the second has */
    struct text choices[LESSON_CHOICES_MOST]; /* between which one chooses; a, b ... */
    size_t choice_count;
    struct text reason;                              /* of a choice, for the key */
    size_t grid[LESSON_GRID_SIDE][LESSON_GRID_SIDE]; /* quantities: R1, R2, R3 and all by R, V, I, P */
    bool published; /* the numbers are those of a published table, whatever they are: answers are rounded as asked */
    bool own;       /* the loads are the house's, whatever their numbers: answers are rounded as asked */
    size_t brought; /* of them, the last ones are made up, to go with those of the branch */
    bool relaxed;   /* no presentable numbers were found; must not happen */
};

void lesson_question_init(struct lesson_question *question);
void lesson_question_done(struct lesson_question *question);

/*
 * Makes question `index` of `student` (1 upwards) of the plan; the question is filled anew and may be used again. The
 * same plan, student and index give the same question on every machine: whole numbers only.
 */
void lesson_question_make(const struct lesson_plan *plan, unsigned student, size_t index,
                          struct lesson_question *question);

/*
 * What quantity `index` is when each quantity has the value in `values` (question->count entries): its step taken with
 * those operands, or its other way. False where that has no value (division by zero).
 */
bool lesson_find(const struct lesson_question *question, size_t index, bool other, const mpq_srcptr *values, mpq_t ret);

/* A step taken with operands; false where it has no value. */
bool lesson_step_value(enum step_kind kind, const mpq_srcptr *operands, size_t count, mpq_t ret);

/* Appends the step by which quantity `index` is found, as one line without line end. */
void lesson_step_text(const struct lesson_question *question, size_t index, struct text *text);

/* Appends the steps of the whole question: how each quantity is found, and the check by the other way. */
void lesson_steps(const struct lesson_plan *plan, const struct lesson_question *question, struct steps *steps);

/* The same of quantity `index` alone; nothing for a given one. */
void lesson_steps_of(const struct lesson_plan *plan, const struct lesson_question *question, size_t index,
                     struct steps *steps);

/* How numbers and letters stand on the sheets; on paper the ohm has its Greek letter. */
struct writing lesson_writing(const struct lesson_plan *plan, bool paper);

/* Loads that a drawing shows at most: equal ones only by the first few. */
size_t lesson_loads_shown(const struct lesson_question *question);

/* The circuit that a drawing shows: the one with more elements. */
const struct lesson_circuit *lesson_drawn_circuit(const struct lesson_question *question);

/* Appends the circuit, drawn with plain characters; nothing for a question without a drawing. */
void lesson_draw(struct text *text, const struct lesson_question *question);

/* Points that a question has at most. */
unsigned lesson_points(const struct lesson_plan *plan, const struct lesson_question *question);

/* The unit that the sheet asks for: with its prefix, or the plan's currency. */
const char *lesson_unit(const struct lesson_plan *plan, const struct lesson_quantity *quantity);

/* Appends a value of the quantity's measure, with the unit in which the sheet gives it; true where it is rounded. */
bool lesson_amount(struct text *text, int language, const mpq_t value, const struct lesson_quantity *quantity,
                   unsigned figures);

/* The same as a fraction, without the unit. */
void lesson_fraction(struct text *text, const mpq_t value, const struct lesson_quantity *quantity);

/* True where the quantity follows from the student's own reading. */
bool lesson_rests_on_reading(const struct lesson_question *question, size_t index);

/* Appends the quantity's value with its unit or currency; true where it is rounded. */
bool lesson_answer(const struct lesson_plan *plan, const struct lesson_question *question, size_t index,
                   struct text *text);

/* The letter of the part that quantity `index` (which is asked) has on the sheet, and what is asked (NULL: not wanted).
 */
void lesson_part(const struct lesson_question *question, size_t index, struct text *ret_part, struct text *ret_asked);

/*
 * Appends that part as sheet and key say it: `(a) total current, in A: ` before the room for the answer, or with
 * `answer` `(a) total current = 12.5 A`. False, with nothing appended, where the quantity is not asked.
 */
bool lesson_part_line(const struct lesson_plan *plan, const struct lesson_question *question, size_t index, bool answer,
                      struct text *text);

/*
 * A short code over a student's numbers: on the sheet and in each answer row, so that a mixed-up sheet shows, and
 * sheets whose numbers this program would make otherwise. Five letters without vowels, which no spreadsheet takes for a
 * number, a date or a word; six hexadecimal digits on the sheets of the first generator.
 */
void lesson_sheet_code(const struct lesson_plan *plan, unsigned student, char ret_code[LESSON_CODE_SIZE]);

/*
 * The lines of a sheet's head, without line ends: title and student; name, class and date, with blanks for what is not
 * known; room for the mark; what is asked for. And a question's story behind its number and points.
 */
void lesson_title_line(struct text *text, const struct lesson_plan *plan, unsigned student, bool key);
void lesson_person_line(struct text *text, const struct lesson_plan *plan, unsigned student);
void lesson_mark_line(struct text *text, const struct lesson_plan *plan, unsigned student);
void lesson_level_line(struct text *text, const struct lesson_plan *plan);
void lesson_story_line(struct text *text, const struct lesson_plan *plan, const struct lesson_question *question,
                       size_t number);

/* What of name, class and date is known, without blanks to fill in: for what is handed back. Nothing where nothing is.
 */
void lesson_known_line(struct text *text, const struct lesson_plan *plan, unsigned student);

/* Appends a student's worksheet, or key, as plain text. */
void lesson_worksheet(struct text *text, const struct lesson_plan *plan, unsigned student);
void lesson_key(struct text *text, const struct lesson_plan *plan, unsigned student);

/* The answers alone: a row for each sheet, its first cell the sheet's name, and in row 0 the names of the parts. */
struct lesson_answers {
    char **cell;     /* sheets * parts */
    size_t sheets;   /* with row 0 */
    size_t parts;    /* with the first cell */
    bool by_version; /* few sheets: to be read with the parts as rows */
};
void lesson_answers_make(const struct lesson_plan *plan, struct lesson_answers *ret_answers);

/* Turns the answers into the writing of the sheets, once. */
void lesson_answers_write(const struct lesson_plan *plan, bool paper, struct lesson_answers *answers);
void lesson_answers_done(struct lesson_answers *answers);
void lesson_answers_title(struct text *text, const struct lesson_plan *plan);

/*
 * Appends the answers alone: students as rows and parts as columns; with versions, parts as rows and versions as
 * columns. Bands of columns are parted by an empty line.
 */
void lesson_short_key(struct text *text, const struct lesson_plan *plan);

/*
 * Writes worksheets, answers.csv, key.txt, marks.csv and sheets.json into the folder, which is made where it is
 * missing. Refuses where one of these files is there already, unless `force`, which also takes the worksheets and
 * PDFs of the earlier lesson away. Nothing is left half-written: each file
 * is written beside its place and renamed.
 */
bool lesson_write(const struct lesson_plan *plan, const char *folder, bool force, struct error *error);

/*
 * Reads the plan back from the folder's sheets.json. Refuses what a generator made that this program does not know.
 * `ret_key_changed`: key.txt is no longer what was written (a
 * warning: marking works out every number anew and never reads it). False, with an error, where sheets.json is missing
 * or was changed.
 */
bool lesson_read(const char *folder, struct lesson_plan *ret_plan, bool *ret_key_changed, struct error *error);

/* Appends the name of a student's file without its ending: worksheet-07. */
void lesson_file_name(struct text *name, const struct lesson_plan *plan, const char *kind, unsigned student);

/* Makes the folder where it is missing; false with the error set. */
bool lesson_make_folder(const char *folder, struct error *error);

/* Appends a CSV cell, quoted where needed; text that a spreadsheet would take for a formula gets an apostrophe. */
void lesson_csv_cell(struct text *text, const char *string);

#endif
