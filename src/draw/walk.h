/* How both writers of a document go through it, and how each kind of block is written: page by page, and as HTML. */
#ifndef AMPSUM_DRAW_WALK_H
#define AMPSUM_DRAW_WALK_H

#include "ampsum/print.h"

struct pages;

enum print_face { ON_PAPER, ON_SCREEN };

/* Whether that face shows the block; the next one after it that it does, block_count: none. */
bool walk_shows(const struct print_document *document, size_t at, enum print_face face);
size_t walk_next(const struct print_document *document, size_t at, enum print_face face);

/* Whether the item there begins, or ends, a list: the block that the face shows before, or after it, is none. */
bool walk_begins_list(const struct print_document *document, size_t at, enum print_face face);
bool walk_ends_list(const struct print_document *document, size_t at, enum print_face face);

/* False where the blocks bring their own headings, as a sheet's do, and say what its pictures are of. */
bool walk_is_titled(const struct print_document *document);

/* Appends "house: title", or the title alone. */
void walk_title(const struct print_document *document, struct text *text);

/* What a column would like to have, of a letter of size 1: for its cells on one line; its heading so, and on two. */
struct natural {
    double cells;
    double word; /* the longest of its cells' */
    double heading;
    double heading_word;
    double two_lines;
};

/* Of each column of a table whose rows are all there; lines of groups are none. */
const struct natural *walk_measure(const struct print_document *document, struct print_table *table);

/* HTML at work. */
struct html {
    const struct print_document *document;
    struct text *text;
    bool folded; /* what is written now stands below a folded heading */
};

/* A kind of block. */
struct element {
    /* Height without which what begins with it would leave a heading, or what leads to a table, alone at a page's foot;
     * NULL: none. */
    double (*least)(const struct pages *pages, size_t at);
    void (*draw)(struct pages *pages, size_t at); /* NULL: nothing */
    void (*html)(struct html *html, size_t at);   /* NULL: nothing */
};

/* By enum print_kind. */
extern const struct element elements[];

double least_heading(const struct pages *pages, size_t at);
double least_text(const struct pages *pages, size_t at);
double least_table(const struct pages *pages, size_t at);
double least_picture(const struct pages *pages, size_t at);
double least_lines(const struct pages *pages, size_t at);
double least_group(const struct pages *pages, size_t at);

void draw_heading(struct pages *pages, size_t at);
void draw_paragraph(struct pages *pages, size_t at);
void draw_item(struct pages *pages, size_t at);
void draw_caution(struct pages *pages, size_t at);
void draw_table(struct pages *pages, size_t at);
void draw_picture(struct pages *pages, size_t at);
void draw_lines(struct pages *pages, size_t at);
void draw_page(struct pages *pages, size_t at);
void draw_group(struct pages *pages, size_t at);
void draw_room(struct pages *pages, size_t at);
void draw_field(struct pages *pages, size_t at);
void draw_new_foot(struct pages *pages, size_t at);

void html_heading(struct html *html, size_t at);
void html_paragraph(struct html *html, size_t at);
void html_item(struct html *html, size_t at);
void html_caution(struct html *html, size_t at);
void html_table(struct html *html, size_t at);
void html_picture(struct html *html, size_t at);
void html_lines(struct html *html, size_t at);
void html_page(struct html *html, size_t at);
void html_field(struct html *html, size_t at);

#endif
