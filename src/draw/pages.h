/* What the paginator's files share. */
#ifndef AMPSUM_DRAW_PAGES_H
#define AMPSUM_DRAW_PAGES_H

#include "walk.h"

static const double page_margin = 48;
static const double page_hand_size = 9.5; /* of tables that hang on a door */
static const double page_cell_size = 8;
static const double page_body_size = 9;
static const double page_gap = 5; /* below a paragraph */
static const struct canvas_pen page_hair = {0.4, CANVAS_SOLID};
static const struct canvas_pen page_rule = {0.9, CANVAS_SOLID};

enum { FLOATING_MOST = 6 };

struct pages {
    const struct print_document *document;
    struct canvas *canvas;
    struct arena *arena; /* for the block at work */
    struct arena *kept;  /* for the whole layout */
    double *heights;     /* by block: of a group without the room that it ends with; 0: not measured yet */
    size_t count;
    size_t all;           /* pages in the end; 0 while they are counted */
    size_t section;       /* pages before the first one of this foot */
    const char *foot;     /* NULL: the document's */
    const char *carry_on; /* heads a page on which a group goes on, or NULL */
    const char *pending;  /* the same of a group of which nothing is drawn yet */
    double foot_room;     /* from the lower edge */
    double width;
    double height;
    double y;                       /* top of what comes next */
    size_t floating[FLOATING_MOST]; /* pictures for which a page had no room: on the next, above what goes on there */
    size_t floating_count;
    bool floated;      /* this page began with some of them */
    bool below_head;   /* of a sheet stands on this page nothing but its head */
    double beside;     /* what a picture at the right edge takes of the width; 0: there is none */
    double beside_end; /* below it */
    double room_share; /* of its room, that a block PRINT_ROOM before the block `room_end` gets */
    size_t room_end;
};

/* Between the margins, or the left one and the picture at the right. */
double pages_width(const struct pages *pages);

/* Where what a page holds ends. */
double pages_bottom(const struct pages *pages);

/* Whether that height still fits on this page; another page, where it does not. */
bool pages_fit(const struct pages *pages, double height);
void pages_next(struct pages *pages);
void pages_make_room(struct pages *pages, double height);

/* The next page, or the one after it where pictures that waited leave less than that height. */
void pages_next_for(struct pages *pages, double height);

/* A size of the report, the text's, and a space between lines in this document's look. */
struct canvas_font pages_font(const struct pages *pages, double size, bool bold);
struct canvas_font pages_body(const struct pages *pages, bool bold);
double pages_line_height(const struct pages *pages, struct canvas_font font);
double pages_space(const struct pages *pages, double points);

/* Draws the block, with all of its group; the next one's place. */
size_t pages_draw_from(struct pages *pages, size_t at);

/* The room that a block PRINT_ROOM gets on this page. */
double pages_room(const struct pages *pages, size_t at);

/* The least of what begins with that block (struct element). */
double pages_least(const struct pages *pages, size_t at);

/* Something of the group is drawn: now it can go on. */
void pages_begun(struct pages *pages);

/* The report's title; the line that heads a page on which a group goes on. */
void pages_title(struct pages *pages);
void pages_carry_on(struct pages *pages);

/* As many of the pictures put off as the page holds, the first in any case. */
void pages_float(struct pages *pages);

/* What comes after a picture, which may stand with the next one. */
size_t pages_after_picture(const struct pages *pages, size_t at);

/* The widths of a table's columns, in the block's arena: `room` between them. */
double *pages_columns(struct pages *pages, struct print_table *table, double size, double room);

#endif
