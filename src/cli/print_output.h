/* What `report` and `directory` share: where the printing goes, on which paper, with which date. */
#ifndef AMPSUM_CLI_PRINT_OUTPUT_H
#define AMPSUM_CLI_PRINT_OUTPUT_H

#include "ampsum/print.h"
#include "cli.h"

enum output_kind { OUTPUT_HTML, OUTPUT_SVG, OUTPUT_PDF, OUTPUT_PNG };

/* `path`, `paper` (enum print_paper, PAPER_UNSAID) and `force` as OPTIONS_PRINT stores them. */
struct output {
    const char *path;
    int paper;
    bool force;
    enum output_kind kind;
    struct print_head head; /* file set by print_output_house */
};

enum { PAPER_UNSAID = -1 };

#define OPTIONS_PRINT(of_, output_)                                                                                    \
    {"output", 'o', "FILE", "where to write: a name that ends in .pdf, .html, .svg or .png",                           \
     TO_WORD(of_, output_.path)},                                                                                      \
        {"paper", '\0', "a4|letter", "size of the pages ({by-paper})", TO_CHOICE(of_, output_.paper)},                 \
        OPTION_FORCE(of_, output_.force)

/* What draws PDF and PNG; NULL in `ampsum`, which starts without the drawing libraries. Set once, by draw_main.c. */
extern const struct print_backend *print_backend;

/* Runs the whole command line in the second program, in place of this one; where that fails, the exit status. */
int print_output_hand_over(struct invocation *invocation);

/* Says so where characters of a drawn file are in no font. */
void print_output_unknown(const char *path, size_t unknown);

/* What kind of file the path names. False where the work doesn't go on here: the path is missing or its ending not
 * known, with the error set; or the kind needs drawing libraries that this program lacks, and the second program ran in
 * place of this one, with its exit status. */
bool print_output_begin(struct invocation *invocation, struct output *output, int *ret_status);

/* How a command that draws a house begins: options into `wanted`, kind of the file, house without further operands,
 * what options say about it, head. False as above. */
bool print_output_house(struct invocation *invocation, struct output *output, void *wanted, int *ret_status);

/* Paper, date and version of what comes from no house: `paper` is the size without --paper, `file` what stands in the
 * foot. False with the error set where the environment's SOURCE_DATE_EPOCH is wrong. */
bool print_output_head_of(struct invocation *invocation, struct output *output, enum print_paper paper,
                          const char *file);

/* Writes the document and frees it; gives the exit status. */
int print_output_write(struct invocation *invocation, const struct output *output, struct print_document *document);

#endif
