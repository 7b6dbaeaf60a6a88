/* A circuit as it was typed, with its counts, before it is spread out into parts. */
#ifndef AMPSUM_CIRCUIT_FORM_H
#define AMPSUM_CIRCUIT_FORM_H

#include "scan.h"

/* One item or list. */
struct form {
    enum circuit_kind kind;
    size_t first; /* members of a list */
    size_t last;
    size_t next;
    const char *place; /* in the line */
    unsigned long count;
    bool joined; /* `in series` or `in parallel` stood behind */
    enum circuit_kind joint;
    char *name;     /* of a part */
    unsigned given; /* how many of that name there are so far */
    enum circuit_given part;
    struct circuit_number number;
    struct circuit_number volts;
    bool has_volts;
};

struct forms {
    struct form *form;
    size_t count;
    size_t capacity;
    size_t root;
    char **notes; /* to be moved to the circuit */
    size_t note_count;
    size_t note_capacity;
    int language; /* of the notes */
};

/* Reads the whole line. False with the fault set. Empty with forms_done either way. */
bool forms_read(const char *line, int language, struct forms *ret_forms, struct circuit_fault *fault);
void forms_done(struct forms *forms);

/* Appends the note; the text is emptied. */
void circuit_note(char ***notes, size_t *count, size_t *capacity, struct text *note);

/* Spreads the forms out into the nodes of the circuit, which has its source already. */
bool circuit_build(struct circuit *circuit, struct forms *forms, const char *line, struct circuit_fault *fault);

/* A new node at the end of the parent's children (CIRCUIT_NONE: none). */
size_t circuit_add_node(struct circuit *circuit, enum circuit_kind kind, size_t parent);

#endif
