/*
 * What every command shares: its row in the table, its parsed options, the house it was given, and its output.
 *
 * A command is one file, src/cli/cmd_NAME.c, that defines `const struct command command_NAME`, and one row in
 * src/cli/commands.c. Help, man page, completion and the nearest-name hints walk that table.
 */
#ifndef AMPSUM_CLI_H
#define AMPSUM_CLI_H

#include <stdbool.h>
#include <stddef.h>

#include "ampsum/error.h"
#include "ampsum/model.h"
#include "ampsum/show.h"
#include "ampsum/show_rows.h"
#include "ampsum/store.h"
#include "ampsum/text.h"

/* As what an option is stored: STORE_NOT: the command asks for it by its name. */
enum option_store { STORE_NOT, STORE_WORD, STORE_FLAG, STORE_WORDS, STORE_WHOLE, STORE_CHOICE, STORE_ROW, STORE_ROWS };

/*
 * One option: all that is known of it. `value` is what stands for its argument in the help (NULL: a flag). Any option
 * may be repeated. The rest is filled in by the macros below: where invocation_options stores it, and its range.
 */
struct option_spec {
    const char *name;
    char letter; /* '\0': none */
    const char *value;
    const char *help; /* this and the value as reference_fill takes them */
    enum option_store store;
    size_t at;       /* of the field in what invocation_options fills */
    size_t count_at; /* of the field with the number, of STORE_WORDS and STORE_ROWS */
    long least;      /* of STORE_WHOLE */
    long most;
    enum kind kind; /* of STORE_ROW and STORE_ROWS */
};

/* The place of a field of that type, which the compiler checks. */
#define OPTION_FIELD(type_, of_, field_) (offsetof(of_, field_) + 0 * sizeof(&((of_ *)NULL)->field_ == (type_ *)NULL))

/* The last rows of an option: the word given (NULL: none), true, all words, a number, the place of the word among those
 * of `value` (`a|b|c`), and the row of an ID of the house and of all IDs. Not given, a field stays as it is. */
#define TO_WORD(of_, field_) .store = STORE_WORD, .at = OPTION_FIELD(const char *, of_, field_)
#define TO_FLAG(of_, field_) .store = STORE_FLAG, .at = OPTION_FIELD(bool, of_, field_)
#define TO_WORDS(of_, field_, count_)                                                                                  \
    .store = STORE_WORDS, .at = OPTION_FIELD(const char *const *, of_, field_),                                        \
    .count_at = OPTION_FIELD(size_t, of_, count_)
#define TO_WHOLE(of_, field_, least_, most_)                                                                           \
    .store = STORE_WHOLE, .at = OPTION_FIELD(long, of_, field_), .least = (least_), .most = (most_)
#define TO_CHOICE(of_, field_) .store = STORE_CHOICE, .at = OPTION_FIELD(int, of_, field_)
#define TO_ROW(of_, field_, kind_) .store = STORE_ROW, .at = OPTION_FIELD(size_t, of_, field_), .kind = (kind_)
#define TO_ROWS(of_, field_, count_, kind_)                                                                            \
    .store = STORE_ROWS, .at = OPTION_FIELD(const size_t *, of_, field_),                                              \
    .count_at = OPTION_FIELD(size_t, of_, count_), .kind = (kind_)

struct invocation;

struct command {
    const char *name;
    const char *operands;              /* as the usage line shows them: `HOUSE ID` */
    const char *summary;               /* one line: the question it answers */
    const char *const *examples;       /* NULL-ended; each works from the top of the project on demo-house */
    const struct option_spec *options; /* ended by a NULL name; NULL: none of its own */
    const char *const *details;        /* further lines of the help, NULL-ended; NULL: none */
    bool rows;                         /* takes --format */
    bool minus;                        /* `-5 V` is a value that the command refuses itself, no option */
    bool waits;                        /* runs until it is stopped: shows no progress */
    const char *program;               /* NULL, or the second program that runs it (`ampsum-draw`) */
    int (*run)(struct invocation *);   /* gives the exit status */
};

/* All commands in the order of the help, NULL-ended: src/cli/commands.c. */
extern const struct command *const commands[];

enum format { FORMAT_TABLE, FORMAT_CSV, FORMAT_JSON };

/* One run of a command. Everything is freed when it returns; what a command makes itself it frees itself. */
struct invocation {
    const struct command *command;
    struct arena *arena;
    enum format format;
    struct page page;      /* of the terminal */
    const char **operands; /* without HOUSE once invocation_house_path was called */
    size_t operand_count;
    const char *house_path; /* set by invocation_house_path */
    bool house_unsaid;      /* neither the command line nor $AMPSUM_HOUSE names one */
    struct house *house;    /* set by invocation_house */
    bool next_said;         /* invocation_next was called */
    struct text out;        /* what goes to standard output when the command returns */
    struct error error;     /* printed when set, and gives the exit status */
    const char **words;     /* the command line after the program's name, as given */
    size_t word_count;
    struct given_option *given; /* private */
    size_t given_count;
    size_t given_capacity;
};

/* Options as given. option_value gives the last one, NULL where not given. */
bool option_given(const struct invocation *invocation, const char *name);
const char *option_value(const struct invocation *invocation, const char *name);
size_t option_count(const struct invocation *invocation, const char *name);
const char *option_value_at(const struct invocation *invocation, const char *name, size_t index);

/* All values of an option in the order given, in the arena. */
const char *const *option_values(struct invocation *invocation, const char *name, size_t *ret_count);

/* Every option in the order given, for commands where the order matters: name and value of number `index`; false past
 * the last. */
bool option_next(const struct invocation *invocation, size_t index, const char **ret_name, const char **ret_value);

/*
 * The house's path: the first operand where it ends in .ini or .db, is `-` or names an existing file, else
 * $AMPSUM_HOUSE, else house.db. Takes the operand off the list. `operands_after`: how many operands the command needs
 * beside HOUSE at least; with more operands than that the first one is HOUSE whatever it looks like.
 */
const char *invocation_house_path(struct invocation *invocation, size_t operands_after);

/* False, with the error set, where invocation->house_path names a house file, which no command writes. */
bool invocation_is_database(struct invocation *invocation);

/* Reads that house (file or database) into invocation->house; false with invocation->error set. */
bool invocation_house(struct invocation *invocation, size_t operands_after);

/* Sets the error where operands are left over or missing; `names` as in the usage, for the message. */
bool invocation_operands(struct invocation *invocation, size_t least, size_t most);

/* The row with that ID; NO_INDEX with the error set, naming the nearest, where there is none. */
size_t find_id(struct invocation *invocation, enum kind kind, const char *id);

/*
 * What to look at beside everything on, from --scene ID and --on A,B (units by appliance, in the arena). False with the
 * error set where they are wrong. Without either, BASIS_BUSIEST.
 */
bool invocation_basis(struct invocation *invocation, struct assess_options *options);

/* The rule set of --rules, NULL without it; false with the error set where it is none. */
bool invocation_rule_set(struct invocation *invocation, const char **ret_rules);

/*
 * Stores the command's options in `into` as their rows say, in the order of the rows; what IDs name is looked up in the
 * house, which is read first. False with the error set at the first one that is wrong.
 */
bool invocation_options(struct invocation *invocation, void *into);

/* The place of an option's value among `words`, NULL-ended; `otherwise` where it is not given; -1 with the error set.
 */
int invocation_choice(struct invocation *invocation, const char *option, const char *const *words, int otherwise);

/* Supply voltage from --supply low|high|VOLTS over nominal; 1 without it. */
bool invocation_supply(struct invocation *invocation, double *ret_ratio);

/* True where --supply asks for both ends of the band; the answer to that (about one branch, or NO_INDEX for all), and
 * its exit status. */
bool invocation_asks_band(const struct invocation *invocation);
int invocation_answer_band(struct invocation *invocation, const struct assess_options *choice, size_t branch);

/* The path as a shell takes it: in quotes where it holds more than plain characters, never read as an option. */
void add_shell_path(struct text *out, const char *path);

/* Appends a line to a table answer, the first one behind "Next:". `HOUSE` in it becomes the house's path. */
void invocation_next(struct invocation *invocation, const char *format, ...) __attribute__((format(printf, 2, 3)));

/* Writes a table in the asked format, terminal or CSV, to invocation->out. */
void invocation_table(struct invocation *invocation, const struct table *table);

/* Writes rows 0 to count - 1 of an answer as CSV to invocation->out. */
void invocation_csv(struct invocation *invocation, const struct show_rows *rows, const void *answer, size_t count);

/*
 * Writes an answer for programs, as JSON (made where it is asked for) or by rows as CSV; false where people asked, for
 * whom the command writes it.
 */
#define INVOCATION_DATA(invocation, json, rows, answer, count)                                                         \
    ((invocation)->format == FORMAT_JSON  ? (json_write((json), &(invocation)->out), true)                             \
     : (invocation)->format == FORMAT_CSV ? (invocation_csv((invocation), (rows), (answer), (count)), true)            \
                                          : false)

/* Runs a command on its words (argv[0] is the command's own name), prints what it made and gives the exit status. */
int run_command(const struct command *command, int argc, const char **argv);

/*
 * Option number `index` of a command, --format and --help included, as help, manual and completions show them (words
 * in braces filled, ampsum/reference.h: reference_fill); NULL past the last. It holds until the next call.
 */
const struct option_spec *command_option(const struct command *command, size_t index);

/* Appends further line `index` of a command's help, filled likewise, perhaps several lines; false past the last. */
bool command_detail(const struct command *command, size_t index, struct text *text);

/* Help of the program, of a command; usage lines. */
void help_program(struct text *text);
void help_command(const struct command *command, const struct page *page, struct text *text);

/* Sections and keys of a house file; of one section alone where `only` is not NULL. */
struct section;
struct key;
void help_house(const struct section *only, const struct page *page, struct text *text);

/* Appends the unit that a bare number has for a key, as help and manual show it in brackets; false: there is none. */
bool key_own_unit(const struct key *key, struct text *text);

/* The terminal that standard output is, or 80 columns where it is none. */
struct page terminal_page(void);

/* Shared option rows. */
#define OPTION_FORCE                                                                                                   \
    {                                                                                                                  \
        "force", '\0', NULL, "replace an existing file"                                                                \
    }
#define OPTION_SCENE                                                                                                   \
    {                                                                                                                  \
        "scene", '\0', "ID", "judge this scene instead of the busiest minute"                                          \
    }
#define OPTIONS_BASIS                                                                                                  \
    OPTION_SCENE,                                                                                                      \
    {                                                                                                                  \
        "on", '\0', "A,B*2", "judge these appliances on, all else off"                                                 \
    }
#define OPTION_RULES(help_)                                                                                            \
    {                                                                                                                  \
        "rules", '\0', "{sets}", help_                                                                                 \
    }
#define OPTION_SUPPLY                                                                                                  \
    {                                                                                                                  \
        "supply", '\0', "low|high|band|VOLTS",                                                                         \
            "supply voltage: an end of the published band, both ends (`check`, `wire`), or line to neutral in volts"   \
    }

#endif
