/* What `report` and `directory` share: where the printing goes, on which paper, with which date. */
#ifndef AMPSUM_CLI_PRINT_OUTPUT_H
#define AMPSUM_CLI_PRINT_OUTPUT_H

#include "ampsum/print.h"
#include "cli.h"

enum output_kind { OUTPUT_HTML, OUTPUT_SVG, OUTPUT_PDF, OUTPUT_PNG };

struct output {
    const char *path;
    enum output_kind kind;
    struct print_head head; /* file set by print_output_head */
};

#define OPTIONS_PRINT                                                                                                  \
    {"output", 'o', "FILE", "where to write: a name that ends in .pdf, .html, .svg or .png"},                          \
        {"paper", '\0', "a4|letter", "size of the pages ({by-paper})"}, OPTION_FORCE

/* What draws PDF and PNG; NULL in `ampsum`, which starts without the drawing libraries. Set once, by draw_main.c. */
extern const struct print_backend *print_backend;

/* Reads -o; false with the error set where it is missing or its ending is not known. */
bool print_output_init(struct invocation *invocation, struct output *ret_output);

/* Where the kind needs drawing libraries that this program lacks: runs the second program in place of this one. Returns
 * true where the work is to go on here; else *ret_status is the exit status. */
bool print_output_here(struct invocation *invocation, const struct output *output, int *ret_status);

/* Fills in paper, date and version once the house is read; false with the error set where --paper or the environment's
 * SOURCE_DATE_EPOCH is wrong. */
bool print_output_head(struct invocation *invocation, struct output *output);

/* The same for what comes from no house: `paper` is the size without --paper, `file` what stands in the foot. */
bool print_output_head_of(struct invocation *invocation, struct output *output, enum print_paper paper,
                          const char *file);

/* Writes the document; true where it was written whole. */
bool print_output_write(struct invocation *invocation, const struct output *output,
                        const struct print_document *document);

#endif
