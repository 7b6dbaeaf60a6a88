#include "circuit.h"

#include "speak.h"

#include "ampsum/show_wire.h"

bool circuit_is_on(const struct load *load)
{
    return load->units > 0 && load->counted && load->current_a > 0;
}

void circuit_svg(struct visit *visit, const struct assessment *assessment, size_t branch, enum circuit_look look)
{
    const struct picture_list list = pictures_circuit(assessment, branch, look, visit->language, visit->arena);
    if (list.count == 0) {
        page_add(visit, "<p>%s</p>\n", page_word(visit, "board.nothing"));
        return;
    }
    page_add(visit, "<div class=\"circuit\">");
    for (size_t i = 0; i < list.count; i++) {
        picture_svg(&list.picture[i], &visit->answer.body);
    }
    page_add(visit, "</div>\n");
}

void circuit_board(struct visit *visit, const struct assessment *assessment, size_t branch, bool covered)
{
    page_add(visit, "<div><div class=\"wide-screen\">");
    circuit_svg(visit, assessment, branch, covered ? CIRCUIT_BOARD_COVERED : CIRCUIT_BOARD);
    page_add(visit, "</div><div class=\"small-screen\">");
    circuit_svg(visit, assessment, branch, covered ? CIRCUIT_COVERED : CIRCUIT_SCREEN);
    page_add(visit, "</div></div>\n");
}

/* Nothing is known of the cable: said, with the way to the form that asks for it. */
static void add_unknown(struct visit *visit, size_t index)
{
    page_add(visit, "<p>Wire or length of this branch is not known, so neither is the voltage at its outlets.");
    if (!visit->site->read_only) {
        page_add(visit, " <a href=\"/build/correct/branch/%s\">Say which cable feeds it</a>.",
                 visit->house->branches[index].id);
    }
    page_add(visit, "</p>\n");
}

void circuit_wire(struct visit *visit, const struct assessment *assessment, size_t index)
{
    struct wire_branch wire;
    wire_branch_init(&wire, assessment, index, visit->arena);
    if (wire.solved) {
        const struct show_points points = {visit->house, &wire};
        show_html_table(&show_point_rows, "Along the wire", &points, wire.outlet_count, &visit->answer.body);
    } else if (wire.known) {
        page_add(visit, "<p>This wire cannot feed what is on: no voltage settles.</p>\n");
    } else {
        add_unknown(visit, index);
    }
    wire_branch_done(&wire);
}
