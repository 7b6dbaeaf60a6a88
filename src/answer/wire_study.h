/* What would be with a branch's wire: the parts of answer_wire beside the plain solution. */
#ifndef AMPSUM_ANSWER_WIRE_STUDY_H
#define AMPSUM_ANSWER_WIRE_STUDY_H

#include "ampsum/answer_wire.h"

/* One branch under study; each study leaves its wiring as it was, solved where it was. */
struct wire_study {
    struct wire_answer *answer;
    struct wire_branch *wire;
    double supply_ratio;
};

/* The ring broken at one piece or at each. False with the error set where the branch is no ring or has no such piece.
 */
bool study_breaks(struct wire_study *study, const char *piece, struct error *error);

/* One unit of a motor of the branch starts while the rest runs. False with the error set where it is no such motor. */
bool study_start(struct wire_study *study, size_t appliance, struct error *error);

/* Each listed conductor of the branch's metal and series: drop, loss, ampacity; how long the branch could be with it.
 */
void study_sizes(struct wire_study *study);
void study_longest(struct wire_study *study);

/* ID of a node: an outlet's, `end`, `panel`. The segment that ends at the point of a row, in any wiring of the branch
 * (a broken ring has the same outlets). The node of the largest drop. */
const char *wire_node_id(const struct wiring *wiring, size_t node);
size_t wire_row_segment(const struct wiring *wiring, size_t row);
size_t wire_worst_node(const struct wiring *wiring);

#endif
