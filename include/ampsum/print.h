/*
 * What goes on paper: a document of blocks (headings, texts, tables, pictures), built once and laid out by whoever
 * writes it: as one self-contained HTML file, or page by page on any canvas (SVG here; PDF and PNG with cairo).
 *
 * Strings may be anybody's: every writer escapes them. Everything is in the document's arena; pictures point to the
 * assessment and bill that they were made from, which must outlive the document.
 *
 * Checked: tests/unit/test_draw.c, tests/print/run.
 */
#ifndef AMPSUM_PRINT_H
#define AMPSUM_PRINT_H

#include <stdbool.h>
#include <stddef.h>

#include "ampsum/answer_check.h"
#include "ampsum/answer_demand.h"
#include "ampsum/canvas.h"
#include "ampsum/energy.h"
#include "ampsum/error.h"
#include "ampsum/pictures.h"
#include "ampsum/show_rows.h"

enum print_paper { PRINT_A4, PRINT_LETTER };

enum print_kind {
    PRINT_HEADING,
    PRINT_PARAGRAPH,
    PRINT_ITEM,    /* of a list */
    PRINT_CAUTION, /* a text in a box */
    PRINT_TABLE,
    PRINT_PICTURE,
    PRINT_LINES,    /* empty lines to write on */
    PRINT_PAGE,     /* begins a new page */
    PRINT_TOGETHER, /* what follows, `lines` blocks of it, stays on one page where one holds it */
    PRINT_ROOM,     /* empty room, cut at the page's end */
    PRINT_FIELD,    /* a label and a blank to write on behind it */
    PRINT_FOOT,     /* what stands at the foot from this page on; the numbers of the pages begin anew */
};

enum print_style { PRINT_BODY, PRINT_STRONG, PRINT_SMALL };

/* How a document looks; a 0 or NULL is the report's. */
struct print_look {
    double text;      /* size of the text, points; small text and headings go with it */
    double least;     /* no text is smaller */
    double line_gap;  /* from base line to base line, of the size */
    double space;     /* share of the report's spaces between lines, rows and blocks */
    double stroke;    /* width of the lines to write on */
    double write;     /* from one of them to the next, where there are several; points */
    const char *font; /* family */
};

/* The few words of the paginator's own. */
struct print_words {
    const char *language; /* "en" */
    const char *page;     /* "page" */
    const char *of;       /* "of" */
    const char *continued;
};

struct print_column {
    const char *heading;
    double weight; /* share of the width */
    bool right;    /* figures */
};

struct print_table {
    const char *caption;
    const struct print_column *columns;
    size_t column_count;
    const char **cells; /* row by row */
    size_t cell_count;
    size_t capacity;               /* cells that there is room for */
    const struct natural *natural; /* of its columns; NULL: not measured yet */
    bool ruled;                    /* a line under every row and room to write: for filling in by hand */
    bool halves;                   /* narrow: on paper its rows go on in a second half beside the first */
};

struct print_block {
    enum print_kind kind;
    int level;          /* PRINT_HEADING: 2 or 3 (1 is the title) */
    const char *string; /* PRINT_HEADING to PRINT_CAUTION */
    const char *lead;   /* PRINT_ITEM, PRINT_CAUTION: what stands before it in bold, or NULL */
    struct print_table *table;
    const struct picture *picture;
    size_t lines;
    double room;   /* PRINT_ROOM: points */
    double indent; /* PRINT_PARAGRAPH, PRINT_FIELD */
    enum print_style style;
    bool screen; /* in HTML alone */
    bool paper;  /* on paper alone: a line to write on, of which the screen has its own */
    bool beside; /* PRINT_PICTURE: on paper at the right edge, with what follows beside it where that has room, up to
                    the next room or page */
    bool folded; /* shown on demand on a screen: a PRINT_TABLE, which says what the picture before it does; what stands
                    below a PRINT_HEADING of level 2, to the next such one */
};

struct print_document {
    struct arena *arena; /* owns the document and all in it */
    const char *title;
    const char *house;    /* name; "" where the blocks bring their own headings */
    const char *file;     /* as given on the command line */
    const char *date;     /* YYYY-MM-DD; "" for none */
    const char *version;  /* of the program */
    const char *sentence; /* of the footer, about safety */
    enum print_paper paper;
    struct print_look look;
    struct print_words words;
    struct print_block *blocks;
    size_t block_count;
    size_t capacity;
};

/* What the caller knows of this printing. */
struct print_head {
    const char *file;
    const char *date;
    const char *version;
    enum print_paper paper;
};

/* Appends today's date, or that of SOURCE_DATE_EPOCH in the environment; false with the error set where that is none.
 */
bool print_date(struct text *text, struct error *error);

/* The rule set's paper. */
enum print_paper print_paper_of(int rules);

/* Width and height in points. */
double print_width(enum print_paper paper);
double print_height(enum print_paper paper);

/* An empty document; strings are copied. Free with print_free. */
struct print_document *print_new(const char *title, const char *house, const struct print_head *head);
void print_free(struct print_document *document);

/* Adding blocks; strings are copied. */
void print_heading(struct print_document *document, int level, const char *string);
void print_paragraph(struct print_document *document, const char *string);
void print_item(struct print_document *document, const char *lead, const char *string);
void print_caution(struct print_document *document, const char *lead, const char *string);
void print_picture(struct print_document *document, const struct picture *picture);
void print_pictures(struct print_document *document, struct picture_list list);
void print_lines(struct print_document *document, size_t lines);
void print_new_page(struct print_document *document);
void print_styled(struct print_document *document, enum print_style style, double indent, const char *string);
void print_room(struct print_document *document, double height);
void print_field(struct print_document *document, double indent, const char *label, const char *unit);
void print_foot(struct print_document *document, const char *string);

/*
 * What is added until print_together_end, which takes the answer of print_together, stays on one page; where it is
 * longer than a page, `carry_on` (NULL: nothing) heads each page that goes on with it. May be nested.
 */
size_t print_together(struct print_document *document, const char *carry_on);
void print_together_end(struct print_document *document, size_t group);

/* A table; `columns` must be constant. Cells are then given row by row. */
struct print_table *print_table_add(struct print_document *document, const char *caption,
                                    const struct print_column *columns, size_t column_count);
/*
 * A line over all columns that heads the rows after it, in a table of three columns and more: a name, which the outline
 * of a PDF leads to, and what is said of it ("": nothing).
 */
void print_group(struct print_document *document, struct print_table *table, const char *name, const char *note);
const char *print_group_name(const struct print_table *table, size_t row); /* NULL: a row of cells */
const char *print_group_note(const struct print_table *table, size_t row);

/* The block just added: where it is to stand may be said of it (`screen`, `paper`, `folded`, `beside`). */
struct print_block *print_last(struct print_document *document);

void print_cell(struct print_document *document, struct print_table *table, const char *string);

/* Whole rows given so far. */
size_t print_row_count(const struct print_table *table);

/* A table of an answer's rows 0 to count - 1, in the columns that their description has for paper. */
struct print_table *print_rows(struct print_document *document, const char *caption, const struct show_rows *rows,
                               const void *answer, size_t count);

/* Adds those rows to a table that has that description's columns. */
void print_more_rows(struct print_document *document, struct print_table *table, const struct show_rows *rows,
                     const void *answer, size_t count);

/* Appends the document as HTML: one file, no script, nothing from outside. */
void print_html(const struct print_document *document, struct text *text);

/* Draws page by page (each begun with canvas_page); returns the number of pages. A canvas_none counts them. */
size_t print_pages(const struct print_document *document, struct canvas *canvas);

/* Appends the pages as one SVG, below one another. */
void print_svg(const struct print_document *document, struct text *text);

/*
 * The report: first verdict, bars, what to do and the bill; then cautions, what exceeds what, branches, loads, findings
 * with sources, days, wires, faults, demand, cost, assumptions, lines for the electrician's notes. The answer was asked
 * with loads, wires and all rows of the bill; it must outlive the document. Circuits, days and wires are drawn for at
 * most `pictures_most` branches each, the worst first; PICTURES_USUAL: one circuit and one wire as examples, and the
 * days of those that are over or at risk. The tables hold all. Free with print_free.
 */
enum { PICTURES_USUAL = 10001, PICTURES_USUAL_MOST = 20 };
struct print_document *print_report(const struct check_answer *check, const struct demand_answer *demand,
                                    size_t pictures_most, const struct print_head *head);

/*
 * The list for the door of each panel: by position, us rules odd ones left and even ones right, iec and uk in running
 * order; label, rating, rooms served, empty lines for entries by hand.
 */
struct print_document *print_directory(const struct house *house, const struct print_head *head);

/*
 * A sheet for the electrician's folder: may the service carry one more load, by all methods; first the answer, what
 * was found and what to bring, then the lines of each method that applies with their sources; in words of people, 9 pt
 * and more. The answer must outlive the document.
 */
struct print_document *print_service(const struct demand_answer *answer, const struct print_head *head);

enum print_format { PRINT_PDF, PRINT_PNG };

/* What needs heavy libraries, in the second program alone. */
struct print_backend {
    /*
     * Appends the document's bytes. ret_unknown: characters for which no installed font has a glyph. False with
     * ERROR_INPUT where it can't be done (no fonts, too many pages for one PNG).
     */
    bool (*write)(const struct print_document *document, enum print_format format, struct text *bytes,
                  size_t *ret_unknown, struct error *error);
};

/* By cairo and pango: src/draw/cairo.c. */
extern const struct print_backend print_cairo;

#endif
