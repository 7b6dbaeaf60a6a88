/* What the `wire` command shows of one branch: its network as solved, in tables and JSON. */
#ifndef AMPSUM_CLI_WIRE_VIEW_H
#define AMPSUM_CLI_WIRE_VIEW_H

#include "ampsum/assess.h"
#include "ampsum/wiring.h"
#include "cli.h"

/* One branch under the command, with everything on, or the scene or set. */
struct wire_case {
    struct invocation *invocation;
    const struct house *house;
    const struct assessment *assessment;
    const struct branch *branch;
    const struct branch_assessment *result;
    size_t index;
    double supply_ratio;
    bool known;  /* wire and length are given; else there is no wiring */
    bool solved; /* the wire can feed the load; else the wiring has no figures */
    struct wiring wiring;
};

/* Builds, loads and solves. The assessment holds `loads` and outlives the case. Free with wire_case_done. */
void wire_case_init(struct wire_case *wire_case, struct invocation *invocation, const struct assessment *assessment,
                    size_t branch);
void wire_case_done(struct wire_case *wire_case);

/* Puts the case's loads on the network again, after something else was. Unsolved. */
void wire_case_reload(struct wire_case *wire_case);

/* The branch's wire is a ring's. */
bool wire_case_is_ring(const struct wire_case *wire_case);

/* Number of points with a row: the outlets in file order, or `end`; a ring's way back to the panel comes last. */
size_t wire_row_count(const struct wire_case *wire_case);

/* The segment that ends at the point of a row, in any wiring of the case (a broken ring has the same outlets). */
size_t wire_row_segment(const struct wiring *wiring, size_t row);

/* ID of a node: an outlet's, `end`, `panel`. */
const char *wire_node_id(const struct wiring *wiring, size_t node);

/* Name of a node for people; "" where there is none. */
const char *wire_node_name(const struct wiring *wiring, size_t node);

/* The node of the largest drop. */
size_t wire_worst_node(const struct wiring *wiring);

/* Planning current that a piece of cable with that current has to carry: the branch's, by the share of its current. */
double wire_planning_a(const struct wire_case *wire_case, double segment_current_a);

/* Loss of the year, kWh, NAN where no schedule or no wire is known; its money at the branch's own mean price, NULL
 * where it has none. Leaves the case unloaded. */
double wire_year_kwh(struct wire_case *wire_case);
const char *wire_year_cost(const struct wire_case *wire_case, const struct energy_bill *bill, double loss_kwh);

/* One branch as JSON: id, solved, outlets, segments, loss_w. */
json_t *wire_branch_json(const struct wire_case *wire_case);

/* A row for each outlet: voltage, drop, and the segment that ends there. */
struct table *wire_outlet_table(const struct wire_case *wire_case);

/* What the network says of itself: rounds, residuals, and each drop in two ways. */
void wire_working(const struct wire_case *wire_case, struct text *text);

#endif
