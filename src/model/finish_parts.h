/* What house_finish is made of: src/model/finish_sets.c. Inside the model only. */
#ifndef AMPSUM_FINISH_PARTS_H
#define AMPSUM_FINISH_PARTS_H

#include "ampsum/model.h"

enum { MEASURED_AT_USUAL_C = 20 }; /* contract, house-file.md */

void finish_rooms(struct house *house);
void finish_outlets(struct house *house);  /* once the branches are there */
void finish_neutrals(struct house *house); /* likewise */

#endif
