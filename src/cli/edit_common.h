/* What the commands that change a house database share: add, set, remove, try --keep. */
#ifndef AMPSUM_CLI_EDIT_COMMON_H
#define AMPSUM_CLI_EDIT_COMMON_H

#include "ampsum/housefile.h"
#include "cli.h"

/* A change to a document; `ret_what` takes further lines for the person. False with invocation->error set. */
typedef bool (*document_change)(struct invocation *invocation, struct document *document, struct text *ret_what);

/*
 * Opens the database for writing and, in one transaction, reads the house, changes its document, builds and checks the
 * house anew, stores the difference and journals it under the command line. Nothing is stored on any fault. True where
 * something was stored; invocation->house is the house as it is now.
 */
bool edit_database(struct invocation *invocation, document_change change, struct text *ret_what);

/* The whole run of such a command, behind its operands: what the change says (`lamp: added`) and what to do next. Gives
 * the exit status where no error is set. */
int edit_run(struct invocation *invocation, document_change change);

#endif
