/*
 * What is asked of a house: one table of fields, of which every form is a selection (the questions of a first house,
 * the lines of the guide, corrections, what is folded away, the new appliance), and one walk each that writes them,
 * reads what was typed, tells what was taken and names what is wrong. And the guide: one page for each step. Where the
 * guide stands is in the database alone, so it can be left at any step and taken up again, and every step can be
 * undone.
 */
#ifndef AMPSUM_SERVE_GUIDE_H
#define AMPSUM_SERVE_GUIDE_H

#include "ampsum/typed_line.h"
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

/* Fields that are the page's own: they stand for several keys. */
enum guide_own {
    OWN_NONE,
    OWN_RATING, /* `rating`: the five ratings of an appliance, a number with the unit beside it */
    OWN_PLACE,  /* `at`: its outlet or branch, `outlet:ID` or `branch:ID` */
};

/* Where a field is asked of a new appliance that is still to be placed. */
enum {
    LOAD_LINE = 1,
    LOAD_MORE = 2,  /* folded away */
    LOAD_STAYS = 4, /* said of its use, so it stays where another rating is taken */
    LOAD_SAID = 8,  /* said as key=value */
    LOAD_HELP = 16  /* with its help */
};

/*
 * One thing that is asked. The key's type in ampsum/keys.h decides what stands on the page (a choice, a list to tick, a
 * line of text), how it is read (ampsum/typed.h) and stored. A new field is a row in guide_fields.c. `room-kind` is a
 * room's kind, since a form's own `kind` says of which section it is.
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
    enum guide_own own;
    const char *ask;       /* of a first house: the question in plain words, its page's heading; NULL: not asked */
    const char *hint;      /* there, one sentence in place of the help */
    const char *said;      /* in front of its value, where a line is told in a sentence; NULL: nothing */
    unsigned load;         /* LOAD_ bits; 0: not asked of a new appliance */
    const char *load_name; /* there: its name and its label, where they are others; NULL: the same */
    const char *load_label;
    const char *load_more; /* there: further attributes of its control, as markup */
};

extern const struct guide_field guide_fields[];
extern const size_t guide_field_count;

/* The house file's key behind a field's: a form's own `kind` says of which section it is, so a room's has another name.
 */
const char *guide_key(const char *key);

/* The field of that key, its own or one that it stands for; NULL: there is none. */
const struct guide_field *guide_field_of(enum kind kind, const char *key);

/* The field that the form of a new appliance calls so; NULL: there is none. */
const struct guide_field *guide_load_field(const char *name);

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

/* The form from its opening tag with the secrets; then its fields, those under "More" folded; then button and end. */
void guide_form_begin(struct guide_form *form, const char *action);
void guide_form_fields(struct guide_form *form);
void guide_form_line(struct guide_form *form); /* only those of a line, without the folded ones */
void guide_form_end(struct guide_form *form, const char *button);
void guide_form_whole(struct guide_form *form, const char *action, const char *button); /* all of that */

/* The one field of that key, alone. */
void guide_form_field(struct guide_form *form, const char *key);

/* ---- guide_told.c: what a field is called, and what was said of it */

/* Its key of the house file; NULL: it stands for several. */
const struct key *guide_field_key(const struct guide_field *field);

/* What it is called, without its unit; with it, where it has one; an example, NULL: none. */
const char *guide_field_label(struct visit *visit, const struct guide_field *field);
const char *guide_field_title(struct visit *visit, const struct guide_field *field);
const char *guide_field_example(struct visit *visit, const struct guide_field *field);

/* A choice for each word of a key that the rule set knows, by the name that people have for it. */
void page_words(struct visit *visit, const struct key *key, const char *chosen);

/* What a section says of a field, in the words of the page; "" where nothing. */
const char *guide_value_now(struct visit *visit, enum kind kind, const struct document_section *section,
                            const char *key);

/* What people call a value as it is typed or stored: a room's name, the line of the door, `10 min`, `15 A`. */
const char *guide_answer_name(struct visit *visit, const struct guide_field *field, const char *value);

/* What a section says of a field, so called; "" where nothing. */
const char *guide_told(struct visit *visit, const struct guide_field *field, const struct document_section *section);

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

/* The line of that kind that the form brought. */
struct typed_line guide_line(struct visit *visit, enum kind kind, const char *id, const char *prefix);

/* Sets and takes out the keys of the section that the form brought. False with visit->error set. */
bool guide_apply(struct visit *visit, struct document *document, enum kind kind, const char *id, const char *prefix);

/* A choice of the units that a nameplate has. */
void guide_rating_units(struct visit *visit, const char *chosen);

/* ---- guide.c: the frame of the pages, and where the guide stands */

struct guide_spot;

/* A page of the guide. Those with a number are its steps, in their order; those with a name alone are there for who
 * wants them. */
struct guide_page {
    const char *path; /* with a slash at its end it takes an ID, which becomes the end of its title */
    enum kind kind;   /* whose lines it adds; KIND_HOUSE: of none */
    const char *number;
    const char *name;     /* in the way through the steps; NULL: it stands in none */
    const char *good_for; /* one sentence */
    const char *title;
    void (*body)(struct visit *visit, const struct guide_spot *at);
    const char *own;   /* its address about one row, the ID behind it; NULL: it is about none */
    const char *asked; /* the field, and of the address unless that ends in the ID, that says which row */
    enum kind about;   /* of which kind that is */
    const char *intro; /* markup above its body; NULL: none */
};

/* guide_pages.c; ended by a row without a path. */
extern const struct guide_page guide_pages[];

/* A page as it was asked for. */
struct guide_spot {
    const struct guide_page *page;
    const char *path; /* its own, for undo */
    const char *title;
    enum kind kind; /* of the row that it is about */
    size_t row;     /* NO_INDEX: none was named */
    const char *id;
};

/*
 * Reads the house where the visit has none; false where the answer is made: read-only, unreadable, or still to be made
 * (then the first step).
 */
bool guide_ready(struct visit *visit);

/* A value of the address, or of the form where that is shown again. */
const char *guide_asked(const struct visit *visit, const char *name);

/* The page on which lines of a kind are added: that of the row, or of what the form says where index is NO_INDEX. */
const char *guide_page_of(struct visit *visit, enum kind kind, size_t index);

/* GET: the page of the address; and that of a form that was refused, with what was typed. */
void view_guide(struct visit *visit);
void guide_again(struct visit *visit, enum kind kind, bool correction);

/* ---- guide_list.c: lines that can be corrected and removed, one form for all: those rows, or all of the kind (NULL)
 */
void guide_list(struct visit *visit, enum kind kind, const struct index_list *rows);

/* ---- guide_pages.c, and the bodies that it does not hold */

void guide_body_state(struct visit *visit, const struct guide_spot *at);
void guide_body_missing(struct visit *visit, const struct guide_spot *at);

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
void view_first(struct visit *visit);  /* GET: shows the next question, or the one that was answered wrong */
void store_first(struct visit *visit); /* POST: the last answer of a kind; the line is stored */
void guide_add(struct visit *visit);
void guide_set(struct visit *visit);
void guide_remove(struct visit *visit);
void guide_undo(struct visit *visit);

#endif
