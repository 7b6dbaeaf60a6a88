/*
 * The pages of one house. A request that the guard let in becomes a visit: it finds its row in the route table
 * (routes.c), gets the house as it stands in the file at that moment, and fills an answer. Knows no socket.
 */
#ifndef AMPSUM_SERVE_SITE_H
#define AMPSUM_SERVE_SITE_H

#include <jansson.h>
#include <signal.h>
#include <stdbool.h>

#include "ampsum/answer_check.h"
#include "ampsum/error.h"
#include "ampsum/housefile.h"
#include "ampsum/html.h"
#include "ampsum/model.h"
#include "ampsum/text.h"
#include "form.h"
#include "guard.h"
#include "kept.h"
#include "stamp.h"

enum { SITE_BODY_BYTES_MOST = 65536 };

/* What most views ask of a house, whatever is switched on: worked out once for each state of it, when first asked. */
struct usual {
    bool known;
    struct check_answer check; /* the busiest minute and everything on, with the whole bill */
};

struct site {
    const char *path;    /* of the house */
    const char *version; /* of the program */
    const char *program; /* of ampsum itself, for answers that a command gives */
    bool read_only;      /* asked for, or a house file */
    bool unasked; /* no house was named: where there is none yet, the page begins with questions that need none */
    /* Not 0 where the program is to end: a command that still runs is then ended; or NULL. */
    const volatile sig_atomic_t *stop;
    struct guard guard;
    struct house *kept; /* as read last, while its file is the one of the stamp */
    char *kept_seen;
    struct usual usual; /* of it */
    struct stamp stamp;
    struct kept_answers answers; /* made from it */
};

struct reply {
    unsigned status;
    const char *type; /* content type */
    struct text body;
    const char *location; /* of a redirect; in the visit's arena */
    const char *download; /* file name where it is to be saved */
    bool sets_key;        /* lets this browser in */
    bool kept;            /* an asset: may be kept by the browser for this start */
};

/* What a change that failed would do with an assent: a second button on the page that says why. */
struct offer {
    const char *title;  /* of that page; NULL: the usual one */
    const char *field;  /* sent with the form again, its value `yes`; NULL: nothing is offered. Begins with `with_` */
    const char *button; /* what it says */
};

/* A line that the form brought: what stands before the names of its fields, and the section that it became. */
struct form_line {
    enum kind kind;
    const char *prefix;
    const char *id;
    const struct form_line *next;
};

struct visit {
    struct site *site;
    bool post;
    const char *path;
    const char *rest; /* what follows the route's path: an ID */
    size_t row;       /* whose it is, where the route says of which kind; NO_INDEX: there is none behind the path */
    int language;     /* of the views for a class (page_language), English elsewhere */
    struct form query;
    struct form body;
    struct arena *arena;
    struct house *house;           /* NULL on routes that need none, or where it can't be read */
    bool lent;                     /* the house is the site's kept one */
    struct usual usual;            /* of a house that is not */
    const char *seen;              /* which state of the database that was, for the forms */
    const struct form_line *lines; /* the last first; NULL: the form brought none */
    struct error error;
    struct offer offer; /* set by a visit_change that fails and could go on with an assent */
    struct reply answer;
};

/* Answers the visit: body, status, type. Cannot fail; what goes wrong becomes a page that says so. */
void site_answer(struct visit *visit);

/* What a route asks for before its view answers. */
enum {
    ROUTE_POST = 1,    /* answers POST, else GET */
    ROUTE_CHANGES = 2, /* changes the house: refused where it is served read-only */
    ROUTE_READS = 4,   /* needs the house */
    ROUTE_LOOKS = 8,   /* has it in head and navigation, where there is one */
    ROUTE_SPEAKS = 16, /* in the language that the query names */
    ROUTE_APART = 32   /* may take long: others are answered meanwhile (apart.h) */
};

/* One path of the site. A path that ends in a slash takes something behind it. */
struct route {
    const char *path;
    unsigned asks; /* ROUTE_ bits */
    void (*answer)(struct visit *visit);
    enum kind kind; /* of what the ID behind it is, which the view gets as visit->row; KIND_HOUSE: it reads it itself */
};

/* True where the visit's path may take long; its house is read then, for whoever answers it. */
bool site_takes_long(struct visit *visit);

/* NULL-ended. */
extern const struct route site_routes[];

/* ---- site.c: what every view uses ---- */

/* Forgets the house that was kept. */
void site_done(struct site *site);

/* Frees all that a visit holds but the visit itself. */
void visit_done(struct visit *visit);

/* Reads the house and its state into the visit, or lends it the kept one; false with visit->error set. */
bool visit_read_house(struct visit *visit);

/* The same for a view that needs none: for its head and navigation. */
void visit_house_if_any(struct visit *visit);

/* True where the house is a database that is still to be made. */
bool site_is_new(const struct site *site);

/* An error page, or an error as JSON on the paths of /api/. */
void visit_refuse(struct visit *visit, unsigned status, const char *title, const char *message);

/* The same with both in the visit's language. */
void visit_refuse_said(struct visit *visit, unsigned status, const char *title, const char *message);

/* Sends the browser on to a path of ours (303). */
void visit_go_to(struct visit *visit, const char *path);

/* What people call the row of that ID; the ID itself where there is none. */
const char *visit_name(const struct visit *visit, enum kind kind, const char *id);

/* The row with the ID in visit->rest or in `id`; NO_INDEX with the refusal made. */
size_t visit_find(struct visit *visit, enum kind kind, const char *id);

/*
 * What the form chooses: `scene=ID`; or `on=kettle,lamp*2` (also repeated) and `n-ID=2`; or everything. Fills `units`
 * (appliance_count entries) and the basis. False with the refusal made where an ID is not there.
 */
bool visit_choice(struct visit *visit, const struct form *form, struct assess_options *options);

/* The answer of `check` about the week, with the wires and all rows of the bill. Not the caller's to free. */
const struct check_answer *visit_check(struct visit *visit);

/* The bill of that answer; and money for an hour at that power, NULL where there is no price. */
const struct energy_bill *visit_bill(struct visit *visit);
const char *visit_hour_cost(struct visit *visit, const struct energy_bill *bill, double power_w);

/* True on the paths of /api/, where a view answers what its page asks with the JSON of the command of that name. */
bool visit_is_api(const struct visit *visit);

/* A JSON answer; takes the reference. The second refuses with visit->error where it is NULL. */
void visit_json(struct visit *visit, json_t *json);
void visit_json_if(struct visit *visit, json_t *json);

/* ---- page.c: the frame ---- */

struct show_rows; /* ampsum/show_rows.h */

/* Appends to the visit's page, as html_add does. */
void page_add(struct visit *visit, const char *format, ...) __attribute__((format(printf, 2, 3)));

void page_begin(struct visit *visit, const char *title);
void page_end(struct visit *visit);

/* A fold that shows its summary, to be ended by `</details>`; and one with a table in it. */
void page_fold(struct visit *visit, bool open, const char *summary, ...) __attribute__((format(printf, 3, 4)));
void page_fold_table(struct visit *visit, bool open, const char *summary, const struct show_rows *rows,
                     const char *caption, const void *answer, size_t count);

/* The word of a verdict with its shape. */
void page_verdict(struct visit *visit, enum verdict verdict);
void page_verdict_word(struct visit *visit, const char *word);

/* A finding as an item of a list, with where it is; NULL: the list says so. */
void page_finding(struct visit *visit, const struct finding *finding, const char *where);

/*
 * A branch's planning current against its rating, as a drawing: dark to the busiest minute (or what was chosen), light
 * to everything on, a mark where near begins and one at the rating.
 */
void page_bar(struct visit *visit, const struct check_answer *answer, size_t branch);

/* Findings with severity, number, source and caution; nothing where there are none. */
void page_findings(struct visit *visit, const struct finding_list *list);

/* The same with its notes folded; nothing where there are none; `told`: a sentence where nothing is graver than they.
 */
void page_findings_folded(struct visit *visit, const struct finding_list *list);
void page_findings_told(struct visit *visit, const struct finding_list *list);

/* The smallest set of a branch's loads that may not run together, and where every such set is; of a branch that is over
 * or at risk. */
struct check_answer; /* ampsum/answer_check.h */
void page_not_together(struct visit *visit, const struct check_answer *week, size_t branch);

/* A choice of a list, selected where `value` is the chosen one (NULL: none is). */
void page_option(struct visit *visit, const char *value, const char *shown, const char *chosen);

/* A paragraph, where there is a sentence; `class` NULL: none. Frees and empties the text. */
void page_paragraph(struct visit *visit, const char *class, struct text *sentence);

/* The links between the pages of cost and day; `path` is the one shown. */
void cost_links(struct visit *visit, const char *path);

struct steps; /* ampsum/steps.h */

/* The first `count` of them as items of a list. */
void page_steps(struct visit *visit, const struct steps *steps, size_t count);

/* The tag of a form that changes something, `class` NULL: none; and what each carries unseen: token and seen state. */
void page_post(struct visit *visit, const char *action, const char *class);

/* ---- program.c: an answer that a command gives ---- */

/* Runs `ampsum` with these words (NULL-ended); false with visit->error set where it failed with status 2 or more. */
bool visit_run(struct visit *visit, const char *const *words);

/* Runs `ampsum` with these words (NULL-ended) for a file of that name, whose bytes become the answer's; false as above.
 */
bool visit_written(struct visit *visit, const char *const *words, const char *file);

/* Runs the program that draws, which stands beside this one, with these words (NULL-ended); false as above. */
bool visit_draw(struct visit *visit, const char *const *words);

/* ---- change.c: changing the database ---- */

/*
 * Changes a document as the visit's form says; `ret_what` says in words what is done. False with visit->error set: each
 * line of it becomes one of the page. Where the person may agree to more (removing a branch with all that hangs on it),
 * it sets visit->offer too: the page then has a button that sends the same form with that field. An assent holds for
 * what was listed: where the house was changed meanwhile the field is dropped and asked for anew.
 */
typedef bool (*visit_change)(struct visit *visit, struct document *document, struct text *ret_what);

/*
 * In one transaction: compares the state that the form had seen, reads the house, changes its document, builds and
 * checks it anew, stores and journals. Answers with a redirect to `next`; or, where the house was changed by someone
 * else meanwhile or a value is wrong, with a page that says so and keeps all that was typed in.
 */
void visit_store(struct visit *visit, visit_change change, const char *next);

/* A form of another start of the program: nothing is changed; all that was typed in, to be sent again. Status 403. */
void visit_form_of_old(struct visit *visit);

struct store;

/* Lists what was done to the house since the state that the visit's form had seen: made, and taken back. */
void page_since(struct visit *visit, struct store *store);

/* ---- views ---- */

void view_house(struct visit *visit);
void api_check(struct visit *visit);
void view_branch(struct visit *visit);
void api_branch(struct visit *visit);
void view_class(struct visit *visit);
void view_class_branch(struct visit *visit);
void download_live(struct visit *visit);
void view_combos(struct visit *visit);
void view_settle(struct visit *visit);
void view_appliance(struct visit *visit);
void keep_appliance(struct visit *visit);
void api_place(struct visit *visit);
void api_try(struct visit *visit);
void view_cost(struct visit *visit);
void api_cost(struct visit *visit);
void view_day(struct visit *visit);
void view_demand(struct visit *visit);
void download_service(struct visit *visit);
void view_fault(struct visit *visit);
void view_files(struct visit *visit);
void view_mark(struct visit *visit);
void mark_class(struct visit *visit);
void download_file(struct visit *visit);
void view_changes(struct visit *visit);
void undo_change(struct visit *visit);
void redo_change(struct visit *visit);
void view_guide(struct visit *visit);
void view_start(struct visit *visit);
void view_solve(struct visit *visit);
void view_estimate(struct visit *visit);

/* The forms of solve and estimate, filled with what the query holds. */
void page_solve_form(struct visit *visit);

#endif
