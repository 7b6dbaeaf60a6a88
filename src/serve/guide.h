/*
 * The first house guide: one page for each step, one table of what is asked. Where the guide stands is in the database
 * alone, so it can be left at any step and taken up again, and every step can be undone.
 */
#ifndef AMPSUM_SERVE_GUIDE_H
#define AMPSUM_SERVE_GUIDE_H

#include "input.h"

/* When a field is shown. */
enum guide_place {
    FIELD_LINE,    /* in the form that adds a line, and in every other */
    FIELD_MORE,    /* likewise, folded away under "More" */
    FIELD_CORRECT, /* only where a line is corrected: a new one has it from the page */
    FIELD_DEEP,    /* likewise, folded away: what a meter read or a supplier declared */
};

/* Where a field has no meaning. */
enum {
    FIELD_NO_CHOICE = 1,
    /* the rule set knows no two words for it */ FIELD_NOT_SINGLE_PHASE = 2,
    FIELD_ONE_OF_SEVERAL = 4
};

/*
 * One thing that is asked. The key's type in ampsum/keys.h decides what stands on the page: a choice, a list to tick, a
 * line of text. A new field is a row in guide_fields.c. Three keys are the page's own: `rating` stands for the five
 * ratings of an appliance, `at` for its outlet or branch, `room-kind` for a room's kind.
 */
struct guide_field {
    enum kind kind;
    const char *key;        /* of the house file */
    const char *label;      /* as reference_fill takes it */
    const char *example;    /* NULL: none */
    const char *example_ft; /* where lengths are in feet; NULL: the same */
    const char *help;       /* one sentence; NULL: none */
    enum guide_place place;
    unsigned not_where;
    const char *const *also; /* the keys that it stands for, where they are others; NULL-ended, or NULL */
};

extern const struct guide_field guide_fields[];
extern const size_t guide_field_count;

/* What the word of a choice is called on the page. */
const char *guide_choice_name(const char *key, const char *word, struct arena *arena);

/* The house file's key behind a field's: a form's own `kind` says of which section it is, so a room's has another name.
 */
const char *guide_key(const char *key);

/* The field of that key, its own or one that it stands for; NULL: there is none. */
const struct guide_field *guide_field_of(enum kind kind, const char *key);

/* True where the field is asked in this house (NULL: a house still to be made). */
bool guide_field_holds(const struct guide_field *field, const struct house *house);

/* ---- guide_form.c: the fields of one kind */

struct guide_form {
    struct visit *visit;
    enum kind kind;
    const char *id;                     /* "" where it is a new one */
    const char *prefix;                 /* before each name, where one form holds several lines; else "" */
    const struct document_section *now; /* as it stands; NULL: a new one */
    struct form proposed;               /* values that a new one begins with; guide_form_end frees it */
    bool focus;                         /* the first field takes the focus */
    bool again;                         /* what was typed stands in visit->body, sent or not */
    const char *hint;                   /* in place of the help of its one field; NULL: that */
};

/* The form of a new one. */
struct guide_form guide_form_new(struct visit *visit, enum kind kind);

/* What a section says of a field, in the words of the page; "" where nothing. */
const char *guide_value_now(struct visit *visit, enum kind kind, const struct document_section *section,
                            const char *key);

/* The form from its opening tag with the secrets; then its fields, those under "More" folded; then button and end. */
void guide_form_begin(struct guide_form *form, const char *action);
void guide_form_fields(struct guide_form *form);
void guide_form_line(struct guide_form *form); /* only those of a line, without the folded ones */
void guide_form_end(struct guide_form *form, const char *button);
void guide_form_whole(struct guide_form *form, const char *action, const char *button); /* all of that */

/* The one field of that key, alone; and what it is called, without its unit (NULL: there is none). */
void guide_form_field(struct guide_form *form, const char *key);
const char *guide_field_label(struct visit *visit, enum kind kind, const char *key);
const char *guide_field_title(struct visit *visit, enum kind kind, const char *key); /* with it, where it has one */

/* What people call a value as guide_value_now gives it: a room's name, the line of the door. */
const char *guide_answer_name(struct visit *visit, enum kind kind, const char *key, const char *value);

/* ---- guide_fault.c: what went wrong, by its section and key, never by its sentence */

/* The field of the form that was sent which a fault is about (NULL: none), and what stands before its name. */
const struct guide_field *guide_fault_field(struct visit *visit, const struct error_fault *fault);
const char *guide_fault_prefix(const struct visit *visit, const struct error_fault *fault);

/* The value and what is wrong with it, to stand behind the field's label or beside the field. */
const char *guide_fault_reason(struct visit *visit, const struct error_fault *fault);

/* Sets the visit's error, about a key of the line that was sent. */
void guide_fault_set(struct visit *visit, enum kind kind, const char *key, const char *reason);

/* Keeps of what went wrong that about the field of that key alone. */
void guide_fault_keep(struct visit *visit, const char *key);

/* Each thing that went wrong, `<li>` or `<p>`: the label as a link to its field where the form has one. */
void guide_fault_items(struct visit *visit, const char *tag);
void guide_fault_box(struct visit *visit); /* all of it in its frame */

/* ---- guide_read.c: what a form brought, put into a document */

/* One value of a key, or the ticked ones as a list. */
const char *guide_posted(struct visit *visit, const char *prefix, const char *key);

/* Sets and takes out the keys of the section that the form brought. False with visit->error set. */
bool guide_apply(struct visit *visit, struct document *document, enum kind kind, const char *id, const char *prefix);

/* The number and the unit of a rating that a section has; "" where none. */
void guide_rating(struct visit *visit, const struct document_section *section, const char **ret_number,
                  const char **ret_unit);

/* NULL-ended. */
extern const char *const guide_units[];

/* ---- guide.c: the frame of the steps */

/*
 * Reads the house where the visit has none; false where the answer is made: read-only, unreadable, or still to be made
 * (then the first step).
 */
bool guide_ready(struct visit *visit);

/* Frame of a page: title, way through the steps, what went wrong or was added. `path` is the page's own, for undo. */
void guide_begin(struct visit *visit, const char *path, const char *title);
void guide_end(struct visit *visit, const char *path);

/* Names the line that was added last, where one was. */
void guide_added(struct visit *visit, enum kind kind);

/* A value of the address, or of the form where that is shown again. */
const char *guide_asked(const struct visit *visit, const char *name);

/* Says what a row is, within its line of a list. */
typedef void guide_describe(struct visit *visit, size_t index);

/* Lines that can be corrected and removed, one form for all: those rows, or all of the kind (NULL). */
void guide_list(struct visit *visit, enum kind kind, const struct index_list *rows, guide_describe *describe);

/* The page on which lines of a kind are added: that of the row, or of what the form says where index is NO_INDEX. */
const char *guide_page_of(struct visit *visit, enum kind kind, size_t index);

/* Appends the value of a key as the house file writes it; false where it is not given. */
bool guide_add_value(struct text *html, const struct house *house, enum kind kind, size_t index, const char *key_name);

/* Appends what an appliance takes, as it was given: `1500 W`, `2 x 9 W`. */
void guide_add_rating(struct text *html, const struct house *house, size_t index);

/* ---- the steps, shown again by guide_change.c where a value was wrong */

void view_guide_house(struct visit *visit);
void view_guide_door(struct visit *visit);
void view_guide_rooms(struct visit *visit);
void view_guide_appliances(struct visit *visit);
void view_guide_missing(struct visit *visit);
void view_guide_panels(struct visit *visit);
void view_guide_outlets(struct visit *visit);
void view_guide_outlet(struct visit *visit);
void view_guide_tariff(struct visit *visit);
void view_guide_scenes(struct visit *visit);
void view_guide_correct(struct visit *visit);

/* The next free space of a panel, as typed; where the next appliance of a room likely is; the names with typical
 * ratings. */
const char *guide_next_space(struct visit *visit, size_t panel);
const char *guide_likely_place(struct visit *visit, size_t room);
void guide_typical_names(struct visit *visit);

/* ---- guide_change.c */

/* A visit_change: adds the line that the form brought. */
bool guide_add_to(struct visit *visit, struct document *document, struct text *ret_what);

/* Makes the house of the form and goes on to `next`; status 422 or 503 with visit->error set, and no page. */
void guide_begin_house(struct visit *visit, const char *next);

void guide_first(struct visit *visit);
void guide_add(struct visit *visit);
void guide_set(struct visit *visit);
void guide_remove(struct visit *visit);
void guide_undo(struct visit *visit);

#endif
