/*
 * A circuit typed in on one line, `60 V` and `8 + (20 | 30)`, solved in exact fractions: the blackboard. A part is a
 * fixed resistance, its power follows from the circuit, and no code's rule is asked. Knows no files and no terminal.
 *
 * Grammar, options and words of the statuses: contract, circuits.md, part A. Formulas: Ohm's law, Kirchhoff's laws,
 * series and parallel resistances. Checked: tests/unit/test_circuit.c (random networks against node equations),
 * tests/outside/solve.tsv (published problems).
 */
#ifndef AMPSUM_CIRCUIT_H
#define AMPSUM_CIRCUIT_H

#include <stdbool.h>
#include <stddef.h>

#include <gmp.h>

#include "ampsum/steps.h"
#include "ampsum/text.h"

enum { CIRCUIT_PARTS_MOST = 100, CIRCUIT_DEPTH_MOST = 20, CIRCUIT_BYTES_MOST = 4096, CIRCUIT_NAME_MOST = 20 };

#define CIRCUIT_NONE ((size_t)-1) /* no node */

/* How a run ends: solved, or why it is not. */
enum circuit_status {
    CIRCUIT_SOLVED,
    CIRCUIT_INPUT,         /* what was typed is wrong */
    CIRCUIT_UNDETERMINED,  /* too little is known */
    CIRCUIT_IMPOSSIBLE,    /* no resistance above 0 does it */
    CIRCUIT_CONTRADICTION, /* a known does not fit */
};

/* The word of a status: "solved", "input" ... */
const char *circuit_status_word(enum circuit_status status);

/* Which part of what was typed a fault is about. */
enum circuit_about {
    CIRCUIT_ABOUT_ANY,
    CIRCUIT_ABOUT_SOURCE,
    CIRCUIT_ABOUT_CIRCUIT,
    CIRCUIT_ABOUT_KNOWN,
    CIRCUIT_ABOUT_OPEN,
    CIRCUIT_ABOUT_SHORT,
    CIRCUIT_ABOUT_BREAKER
};

/* Why there is no answer; the first fault stays. A fault of the grammar brings its line with a caret below the place.
 */
struct circuit_fault {
    enum circuit_status status; /* CIRCUIT_SOLVED: none */
    struct text message;        /* no line end behind */
    int language;               /* of the message; circuit_work and circuit_read take it from what is typed */
    enum circuit_about about;
};

/* The word of that part: "source", "circuit", "know", "open", "short", "breaker"; NULL: any. */
const char *circuit_about_word(enum circuit_about about);

/* The message to who typed into a field: without the option in which a command takes it in front. */
const char *circuit_fault_said(const struct circuit_fault *fault);

enum circuit_quantity { CIRCUIT_R, CIRCUIT_V, CIRCUIT_I, CIRCUIT_P, CIRCUIT_QUANTITIES };

/* The letter "R", the plain unit "ohm" and the unit as people write it. */
const char *circuit_letter(enum circuit_quantity quantity);
const char *circuit_unit(enum circuit_quantity quantity);
const char *circuit_unit_sign(enum circuit_quantity quantity);

enum circuit_kind { CIRCUIT_PART, CIRCUIT_SERIES, CIRCUIT_PARALLEL };

/* How a part was given. */
enum circuit_given {
    CIRCUIT_OHMS,
    CIRCUIT_SIEMENS,
    CIRCUIT_WATTS,   /* rating, at rating_v */
    CIRCUIT_AMPERES, /* rating, at rating_v */
    CIRCUIT_UNKNOWN, /* ? */
};

/* A part, or a group of two and more. Two groups of one kind never stand in one another. */
struct circuit_node {
    enum circuit_kind kind;
    size_t parent; /* CIRCUIT_NONE for the root */
    size_t first;  /* child, CIRCUIT_NONE for a part */
    size_t next;   /* sibling in reading order */
    char *name;    /* of a part, else NULL */
    enum circuit_given given;
    bool exempt;      /* `wire` and `r`: no tolerance */
    bool dead;        /* left over from reading, no part of the circuit */
    size_t run;       /* parts of one count have one number; 0: none */
    mpq_t ohm;        /* of a part, > 0; 0 while it is unknown */
    mpq_t rating;     /* siemens, watt or ampere */
    mpq_t rating_v;   /* volt */
    bool rating_ours; /* `1500 W` without a voltage: at the source's */
};

/* A number as it was written: half a unit of its last place decides what it may stand for. */
struct circuit_number {
    mpq_t value;
    mpq_t half;
};

/* `P3 = 360 W`, or a total as source. */
struct circuit_known {
    enum circuit_quantity quantity;
    size_t part; /* node, CIRCUIT_NONE: the total */
    struct circuit_number number;
    char *words; /* as given */
};

struct circuit {
    struct circuit_node *nodes;
    size_t node_count;
    size_t node_capacity;
    size_t root;
    size_t *parts; /* nodes in reading order, `r` and `wire` first */
    size_t part_count;
    size_t unknown; /* node of the `?` part, or CIRCUIT_NONE */
    bool has_source_v;
    mpq_t source_v;
    bool asks_voltage; /* `? V` */
    struct circuit_known *knowns;
    size_t known_count;
    size_t known_capacity;
    char **notes; /* how something was read */
    size_t note_count;
    size_t note_capacity;
};

/* What is typed. Strings may be NULL where an option is not given. */
struct circuit_input {
    const char *source;
    const char *circuit;
    const char *const *knowns;
    size_t known_count;
    const char *wire;     /* ohm out and back, or `0.1 ohm each way` */
    const char *internal; /* ohm of the source */
    int language;         /* of the notes and of the fault */
};

/*
 * Reads all of it. On a fault false, with `fault` filled. `ret_circuit` is to be emptied with circuit_done either way.
 */
bool circuit_read(const struct circuit_input *input, struct circuit *ret_circuit, struct circuit_fault *fault);
void circuit_done(struct circuit *circuit);

/* Reads `15 A`, `15` (in the quantity's plain unit) above 0; `option` stands before the message. */
bool circuit_read_value(const char *option, const char *string, enum circuit_quantity quantity, mpq_t ret_value,
                        struct circuit_fault *fault);

/* The part of that name, without regard to capitals; CIRCUIT_NONE with the fault set, naming the nearest. */
size_t circuit_find(const struct circuit *circuit, const char *option, const char *name, struct circuit_fault *fault);

enum circuit_method { CIRCUIT_BY_SIZE, CIRCUIT_BY_PRODUCT, CIRCUIT_BY_RECIPROCAL, CIRCUIT_BY_CONDUCTANCE };

/* How a working is written. */
struct circuit_style {
    enum circuit_method method;
    unsigned figures; /* significant figures shown, 2 to 10 */
    bool comma;       /* the sign of a decimal; figures for people alone */
    int language;     /* of the working's sentences */
};

enum { CIRCUIT_FIGURES_DEFAULT = 4 };
extern const struct circuit_style circuit_default_style;

/* Appends "R1 + (R2 | R3)", or for a group inside, "R2 | R3". */
void circuit_label(const struct circuit *circuit, size_t node, struct text *text);

/* Appends what the circuit looks like, in a sentence: "R2 and R3 side by side, in line with R1, across 60 V". */
void circuit_sentence(const struct circuit *circuit, const struct circuit_style *style, struct text *text);

/* Appends a row's name: "R1", "R2 | R3", "R1 to R10, each". */
void circuit_row_label(const struct circuit *circuit, int language, size_t node, struct text *text);

/* A further part of one count, and the last of those that follow the node: `R1 to R10, each` is one row. */
bool circuit_is_repeated(const struct circuit *circuit, size_t node);

/* ------------------------------------------------------------------ figures ------------------------------- */

enum circuit_state {
    CIRCUIT_NO_FIGURE, /* not known, or none */
    CIRCUIT_FINITE,
    CIRCUIT_INFINITE, /* the resistance of an open path */
};

struct circuit_figure {
    enum circuit_state state;
    bool irrational; /* of a root carried to 40 digits */
    mpq_t value;
};

/* R, V, I, P of a node. */
struct circuit_cells {
    struct circuit_figure cell[CIRCUIT_QUANTITIES];
};

/* All figures of one circuit. */
struct circuit_figures {
    struct circuit_cells *node; /* node_count, as in the circuit */
    size_t node_count;
    bool source_shorted;
};

void circuit_figures_done(struct circuit_figures *figures);

enum circuit_break { CIRCUIT_WHOLE, CIRCUIT_OPENED, CIRCUIT_SHORTED };

/*
 * Figures at `voltage` across the whole (NULL: resistances alone). `ohm`: node_count values instead of the nodes' own
 * (NULL: those). `broken`: node_count faults (NULL: none).
 */
void circuit_solve(const struct circuit *circuit, mpq_srcptr voltage, mpq_t *ohm, const enum circuit_break *broken,
                   struct circuit_figures *ret_figures);

/* One answer: the unknown part's resistance and the figures. */
struct circuit_solution {
    struct circuit_figures figures;
    mpq_t *ohm;      /* of each node that is a part, the unknown one's included */
    bool irrational; /* the unknown is */
    bool has_voltage;
    mpq_t voltage;
    bool voltage_irrational;
};

enum { CIRCUIT_SOLUTIONS_MOST = 2 };

struct circuit_answer {
    struct circuit_solution *solutions; /* smaller resistance first */
    size_t count;
};

/*
 * Finds what is unknown from what is known and solves; every known put back gives what was written. False with the
 * fault's status where that can't be done.
 */
bool circuit_answer(const struct circuit *circuit, struct circuit_answer *ret_answer, struct circuit_fault *fault);
void circuit_answer_done(struct circuit_answer *answer);

/* ------------------------------------------------------------------ questions on an answer ---------------- */

enum circuit_trend { CIRCUIT_NO_TREND, CIRCUIT_RISES, CIRCUIT_FALLS, CIRCUIT_SAME };

/* "rises", "falls", "same"; NULL for none. */
const char *circuit_trend_word(enum circuit_trend trend);

/* From one figure to another; an infinite resistance is above every other. */
enum circuit_trend circuit_trend(const struct circuit_figure *before, const struct circuit_figure *after);

/* Least and greatest, of the same place in both. Parts' R and P are left out. */
struct circuit_bounds {
    struct circuit_figures least;
    struct circuit_figures greatest;
};

/*
 * Every part but `wire`, `r` and the unknown off by as much as `percent` (0 < percent < 100), the source's voltage
 * kept. Each extreme is one corner: raising another part's R lowers V and I of a part where their smallest common group
 * is a series one and raises them where it is a parallel one; a part's own R raises its V and lowers its I.
 */
void circuit_tolerance(const struct circuit *circuit, const struct circuit_solution *solution, const mpq_t percent,
                       struct circuit_bounds *ret_bounds);
void circuit_bounds_done(struct circuit_bounds *bounds);

/*
 * The groups of one kind, or of both (CIRCUIT_PART), inner ones before outer ones where `inwards`, else in reading
 * order; their number. `ret_group` has room for node_count entries. A parallel group is a junction.
 */
size_t circuit_groups(const struct circuit *circuit, enum circuit_kind kind, bool inwards, size_t *ret_group);

/* Appends "after R1", "at the source", "before R3". */
void circuit_junction_label(const struct circuit *circuit, int language, size_t group, struct text *text);

/* The solution worked the other way: the other rule for each group, currents by division. True where all agree. */
bool circuit_second_way(const struct circuit *circuit, const struct circuit_solution *solution,
                        struct circuit_figures *ret_second);

/*
 * What flows towards a member of a parallel group and those behind it, in reading order: the current in the wire before
 * it. False where one of them has no finite current.
 */
bool circuit_behind(const struct circuit *circuit, const struct circuit_figures *figures, size_t member,
                    mpq_t ret_current);

/* Sum of the parts' powers; false where there is none. */
bool circuit_parts_power(const struct circuit *circuit, const struct circuit_figures *figures, mpq_t ret_power);

/*
 * The stock value nearest to `wanted` among `preferred` numbers of one decade ("1.0" to "9.1"), the smaller of two
 * equally near.
 */
void circuit_stock(const mpq_t wanted, const char *const *preferred, size_t count, mpq_t ret_stock);

/* ------------------------------------------------------------------ working ------------------------------- */

/* Appends a bare number in that style. Returns true where rounding moved it. */
bool circuit_write_number(struct text *text, const mpq_t value, const struct circuit_style *style);

/*
 * Appends the figure with its fitting prefix and unit: "14.4 mA", "4.7 kΩ". Returns true where rounding moved it. No
 * figure: "-"; infinite: "open".
 */
bool circuit_write(struct text *text, const struct circuit_figure *figure, enum circuit_quantity quantity,
                   const struct circuit_style *style);
bool circuit_write_siemens(struct text *text, const mpq_t value, const struct circuit_style *style);
bool circuit_write_value(struct text *text, const mpq_t value, enum circuit_quantity quantity,
                         const struct circuit_style *style);

/*
 * The working in the order of a board: what was given turned into resistances, the unknown, one reduction a line, then
 * back outwards; then the second way, the current law at each junction, the balance of power.
 */
void circuit_steps_found(const struct circuit *circuit, const struct circuit_solution *solution,
                         const struct circuit_style *style, struct steps *steps);
void circuit_steps_main(const struct circuit *circuit, const struct circuit_solution *solution,
                        const struct circuit_style *style, struct steps *steps);
void circuit_steps_second(const struct circuit *circuit, const struct circuit_solution *solution,
                          const struct circuit_style *style, struct steps *steps);
void circuit_steps_checks(const struct circuit *circuit, const struct circuit_solution *solution,
                          const struct circuit_style *style, struct steps *steps);

/* ------------------------------------------------------------------ one task, whole ----------------------- */

/* All that `solve` is asked. */
struct circuit_task {
    struct circuit_input input;
    const char *const *opened; /* names of parts */
    size_t opened_count;
    const char *const *shorted;
    size_t shorted_count;
    const char *breaker;   /* ampere; NULL: none */
    const char *tolerance; /* percent; NULL: none */
    const char *series;    /* whose numbers `preferred` are: "E24" */
    const char *const *preferred;
    size_t preferred_count;
    struct circuit_style style;
};

/* Writes it in that language; `comma`: the sign of a decimal, below 0 as the language has it. */
void circuit_task_write(struct circuit_task *task, int language, int comma);

/* What is said beside the figures of a solution; what was not asked, or has no figure, is in no finite state. */
struct circuit_beside {
    struct circuit_figure terminal_v; /* the source's voltage less what its own resistance takes */
    struct circuit_figure headroom_a; /* the breaker's rating less the total current */
    struct circuit_figure with_stock; /* the first known with the part on sale in place of the unknown one */
};

/* All that comes of it. */
struct circuit_work {
    struct circuit circuit;
    struct circuit_answer answer;
    struct circuit_style style;
    const char *series; /* of the task */
    mpq_t stock[CIRCUIT_SOLUTIONS_MOST];
    struct circuit_beside beside[CIRCUIT_SOLUTIONS_MOST];
    bool has_breaker;
    mpq_t breaker_a;
    enum circuit_break *broken; /* of each node, NULL: no fault */
    struct circuit_figures after;
    bool has_bounds;
    mpq_t percent;
    struct circuit_bounds bounds; /* of the first solution, as `after` is */
};

/* Reads, solves and answers. False with the fault set. Empty the work with circuit_work_done either way. */
bool circuit_work(const struct circuit_task *task, struct circuit_work *ret_work, struct circuit_fault *fault);
void circuit_work_done(struct circuit_work *work);

/* The source's own resistance (--internal); CIRCUIT_NONE where none is given. */
size_t circuit_internal(const struct circuit *circuit);

/* The node of which the first known is. */
size_t circuit_known_node(const struct circuit *circuit);

/* 1 / R in siemens: 0 of an open circuit, NAN of a short one and where there is no figure. */
double circuit_conductance_s(const struct circuit_figure *whole);

/* The part of that name, without a fault; CIRCUIT_NONE where there is none. */
size_t circuit_named(const struct circuit *circuit, const char *name);

#endif
