/*
 * The controls of every form: a control is a row, drawn, repeated in links and hidden fields and named in one way. The
 * forms of the guide (guide_form.c) make theirs from the fields of a house.
 */
#ifndef AMPSUM_SERVE_INPUT_H
#define AMPSUM_SERVE_INPUT_H

#include "site.h"

struct guide_form;

struct input {
    const char *name;
    const char *label;   /* as reference_fill takes it; NULL: that of its row, with its unit */
    const char *example; /* in the empty field; NULL: that of its row */
    const char *more;    /* further attributes of the control, as markup; NULL: none */
    bool needed;         /* and said to be */
    enum kind rows;      /* a choice of the rows of that kind; KIND_HOUSE: none */
    const char *none; /* of such a choice, or before its options: what the empty one is called; NULL: there is none */
    size_t place;     /* of several of that name, from 0 */
    enum kind kind;   /* its row of guide_fields.c, by kind and key: what it is called, chosen from and read as */
    const char *key;  /* NULL: it has none */
    /* A choice of what this writes with page_option; NULL: a line of text, or as the rows say. */
    void (*options)(struct visit *visit, const struct input *input, const char *chosen);
    const char *id;    /* its label stands above it; NULL: around it, and it has an ID only where it is refused */
    const char *help;  /* with an ID: one sentence below; NULL: none */
    const char *wrong; /* with an ID: why it is refused; NULL: it is not. Without one, visit->error says so */
    bool focus;
    void (*beside)(struct visit *visit, const struct input *input); /* a second control; NULL: none */
    const struct guide_form *form;                                  /* for these functions; NULL: none */
};

/*
 * What is wrong with what was typed, above its form, with a link to the field that visit->error is about; nothing where
 * there is no error. `inputs`: the form's fields.
 */
void page_refusal(struct visit *visit, const struct input *inputs, size_t count);
void page_refused(struct visit *visit, const char *label); /* of that field; NULL: it is about none */

/* Its key of the house file; NULL: it has none. */
const struct key *input_key(const struct input *input);

/* The control with that value in it. Where it is refused, it is marked and says why; without an ID it has the focus,
 * too. */
void page_input(struct visit *visit, const struct input *input, const char *value);

/* The fields with what the query holds; and one that stands several times: each that was sent, then an empty one, at
 * least so many in all, with `further` as the example of the later ones. */
void page_inputs(struct visit *visit, const struct input *inputs, size_t count);
void page_more_inputs(struct visit *visit, const struct input *input, const char *further, size_t least);

/* A choice for each row of a kind: its ID, shown by its name. */
void page_rows(struct visit *visit, enum kind kind, const char *chosen);

/* What the query gives for it, read as its row's key is (ampsum/typed.h); NULL where it gives nothing. */
const char *input_given(struct visit *visit, const struct input *input);

/* A hidden field; and one for each pair, which is freed. */
void page_hidden(struct visit *visit, const char *name, const char *value);
void page_hidden_pairs(struct visit *visit, struct form *pairs);

/* `path?` with the pairs as its query, which are freed; in the visit's arena. */
const char *page_address(struct visit *visit, const char *path, struct form *pairs);

/* A switch of an appliance with so many units on: a tick, or a number where there are several alike. `named`: with an
 * ID of its own, where the page has one switch for it. */
void page_switch(struct visit *visit, const struct appliance *appliance, size_t units, bool named);

#endif
