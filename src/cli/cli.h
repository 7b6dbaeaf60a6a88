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

#include "ampsum/answer_choice.h"
#include "ampsum/error.h"
#include "ampsum/model.h"
#include "ampsum/show.h"
#include "ampsum/show_rows.h"
#include "ampsum/store.h"
#include "ampsum/text.h"

/* As what an option is stored; from STORE_CURRENT on by what the house says. STORE_NOT: --format and --help alone. */
enum option_store {
    STORE_NOT,
    STORE_WORD,
    STORE_ONE_OF,
    STORE_FLAG,
    STORE_WORDS,
    STORE_STEPS,
    STORE_WHOLE,
    STORE_CHOICE,
    STORE_RULES,
    STORE_CURRENT,
    STORE_ROW,
    STORE_ROWS
};

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
    size_t count_at; /* of the field with the number, of STORE_WORDS, STORE_STEPS and STORE_ROWS */
    long least;      /* of STORE_WHOLE */
    long most;
    enum kind kind; /* of STORE_ROW and STORE_ROWS */
};

/* The place of a field of that type, which the compiler checks. */
#define OPTION_FIELD(type_, of_, field_) (offsetof(of_, field_) + 0 * sizeof(&((of_ *)NULL)->field_ == (type_ *)NULL))

/* The last rows of an option: the word given (NULL: none), true, all words, all options that go to that field in the
 * order given, a number, the place of the word among those of `value` (`a|b|c`), that word, the word of a rule set, a
 * current in amperes, and the row of an ID of the house and of all IDs. Not given, a field stays as it is. */
#define TO_WORD(of_, field_) .store = STORE_WORD, .at = OPTION_FIELD(const char *, of_, field_)
#define TO_FLAG(of_, field_) .store = STORE_FLAG, .at = OPTION_FIELD(bool, of_, field_)
#define TO_WORDS(of_, field_, count_)                                                                                  \
    .store = STORE_WORDS, .at = OPTION_FIELD(const char *const *, of_, field_),                                        \
    .count_at = OPTION_FIELD(size_t, of_, count_)
#define TO_STEPS(of_, field_, count_)                                                                                  \
    .store = STORE_STEPS, .at = OPTION_FIELD(const struct choice_said *, of_, field_),                                 \
    .count_at = OPTION_FIELD(size_t, of_, count_)
#define TO_WHOLE(of_, field_, least_, most_)                                                                           \
    .store = STORE_WHOLE, .at = OPTION_FIELD(long, of_, field_), .least = (least_), .most = (most_)
#define TO_CHOICE(of_, field_) .store = STORE_CHOICE, .at = OPTION_FIELD(int, of_, field_)
#define TO_ONE_OF(of_, field_) .store = STORE_ONE_OF, .at = OPTION_FIELD(const char *, of_, field_)
#define TO_RULES(of_, field_) .store = STORE_RULES, .at = OPTION_FIELD(const char *, of_, field_)
#define TO_CURRENT(of_, field_) .store = STORE_CURRENT, .at = OPTION_FIELD(double, of_, field_)
#define TO_ROW(of_, field_, kind_) .store = STORE_ROW, .at = OPTION_FIELD(size_t, of_, field_), .kind = (kind_)
#define TO_ROWS(of_, field_, count_, kind_)                                                                            \
    .store = STORE_ROWS, .at = OPTION_FIELD(const size_t *, of_, field_),                                              \
    .count_at = OPTION_FIELD(size_t, of_, count_), .kind = (kind_)

struct invocation;

struct command {
    const char *name;
    const char *operands;              /* as the usage line shows them: `HOUSE ID` */
    const char *summary;               /* one line: the question it answers */
    const char *const *examples;       /* NULL-ended; each works where `ampsum new --demo` was run */
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
    void *wanted;           /* what invocation_options filled */
    struct text out;        /* what goes to standard output when the command returns */
    struct error error;     /* printed when set, and gives the exit status */
    const char **words;     /* the command line after the program's name, as given */
    size_t word_count;
    struct choice_said *given; /* in the order given; invocation_options stores them */
    size_t given_count;
    size_t given_capacity;
};

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

/* The same where an operand or $AMPSUM_HOUSE names one, or house.db is there; true, too, where nothing does. */
bool invocation_house_if_any(struct invocation *invocation);

/* Sets the error where operands are left over or missing; `names` as in the usage, for the message. */
bool invocation_operands(struct invocation *invocation, size_t least, size_t most);

/* The first operand beside HOUSE; NULL: there is none. As the ID of a branch: false with the error set where no branch
 * has it. */
const char *invocation_operand(const struct invocation *invocation);
bool invocation_branch(struct invocation *invocation, size_t *ret_branch);

/* The row with that ID; NO_INDEX with the error set, naming the nearest, where there is none. */
size_t find_id(struct invocation *invocation, enum kind kind, const char *id);

/*
 * Stores those of the command's options that need no house in `into` as their rows say, in the order of the rows. False
 * with the error set at the first one that is wrong.
 */
bool invocation_options(struct invocation *invocation, void *into);

/* These options, house, operands beside HOUSE, then the options that name what is in the house: how most commands
 * begin. False with the error set. */
bool invocation_begin(struct invocation *invocation, size_t least, size_t most, void *into);

/* What to look at beside everything on, and at which supply: rows OPTIONS_BASIS and OPTION_SUPPLY. */
struct look {
    const char *scene;
    const char *on;
    const char *supply;
};

/* Takes that into the choice (units by appliance, in the arena): without any of them the busiest minute at nominal
 * voltage. False with the error set where they are wrong. */
bool invocation_look(struct invocation *invocation, const struct look *look, struct assess_options *choice);

/* The same of a command that knows the band too. Where --supply asks for both its ends, that is answered here, about
 * one branch or NO_INDEX for all: false with the exit status, as where something is wrong. */
bool invocation_look_or_band(struct invocation *invocation, const struct look *look, size_t branch,
                             struct assess_options *choice, int *ret_status);

/* A path or another word as a shell takes it: in quotes where it holds more than plain characters, never read as an
 * option. In the arena. */
const char *invocation_word(struct invocation *invocation, const char *word);

/* Writes a file of that path, whole or not at all, and says so; false with the error set. `force`: over one that is
 * there. */
bool invocation_write_file(struct invocation *invocation, const char *path, const struct text *bytes, bool force);

/* Appends a line to a table answer, the first one behind "Next:". `HOUSE` in it becomes the house's path. */
void invocation_next(struct invocation *invocation, const char *format, ...) __attribute__((format(printf, 2, 3)));

/* Writes a table as CSV to invocation->out, and frees it. */
void invocation_csv(struct invocation *invocation, struct table *table);

/*
 * Writes an answer for programs, as JSON or a table as CSV, or by rows as CSV, each made where it is asked for; false
 * where people asked, for whom the command writes it.
 */
#define INVOCATION_TABLE(invocation, json, table)                                                                      \
    ((invocation)->format == FORMAT_JSON  ? (json_write((json), &(invocation)->out), true)                             \
     : (invocation)->format == FORMAT_CSV ? (invocation_csv((invocation), (table)), true)                              \
                                          : false)
#define INVOCATION_DATA(invocation, json, rows, answer, count)                                                         \
    INVOCATION_TABLE((invocation), (json), show_table((rows), SHOW_CSV, (answer), (count)))

/* Reads the words behind the program's name. True where the command is to run; false with the error set, or with what
 * --help asks for in `out`. */
bool invocation_parse(struct invocation *invocation, int argc, const char **argv);

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
#define OPTION_FORCE(of_, field_)                                                                                      \
    {                                                                                                                  \
        "force", '\0', NULL, "replace an existing file", TO_FLAG(of_, field_)                                          \
    }
#define OPTION_SCENE(of_, field_)                                                                                      \
    {                                                                                                                  \
        "scene", '\0', "ID", "judge this scene instead of the busiest minute", TO_WORD(of_, field_)                    \
    }
#define OPTIONS_BASIS(of_, look_)                                                                                      \
    OPTION_SCENE(of_, look_.scene),                                                                                    \
    {                                                                                                                  \
        "on", '\0', "A,B*2", "judge these appliances on, all else off", TO_WORD(of_, look_.on)                         \
    }
#define OPTION_RULES(help_, of_, field_)                                                                               \
    {                                                                                                                  \
        "rules", '\0', "{sets}", help_, TO_RULES(of_, field_)                                                          \
    }
#define OPTION_SUPPLY(of_, look_)                                                                                      \
    {                                                                                                                  \
        "supply", '\0', "low|high|band|VOLTS",                                                                         \
            "supply voltage: an end of the published band, both ends (`check`, `wire`), or line to neutral in volts",  \
            TO_WORD(of_, look_.supply)                                                                                 \
    }

#endif
