/*
 * Lines -> document: contract, house-file.md, "Lexical rules". Reads on behind every fault.
 */
#ifndef AMPSUM_READER_H
#define AMPSUM_READER_H

#include "faults.h"

void document_read(struct document *document, const char *bytes, size_t length, struct faults *faults);

#endif
