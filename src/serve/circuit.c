#include "circuit.h"

#include "ampsum/wiring.h"

bool circuit_is_on(const struct load *load)
{
    return load->units > 0 && load->counted && load->current_a > 0;
}

void circuit_svg(struct visit *visit, const struct assessment *assessment, size_t branch, enum circuit_look look)
{
    struct text *html = &visit->answer.body;
    const struct picture_list list = pictures_circuit(assessment, branch, look, visit->arena);
    html_add(html, list.count > 0 ? "<div class=\"circuit\">" : "<p>Nothing is connected here.</p>\n");
    for (size_t i = 0; i < list.count; i++) {
        picture_svg(&list.picture[i], html);
    }
    html_add(html, list.count > 0 ? "</div>\n" : "");
}

static const char *node_name(const struct wiring *wiring, size_t node)
{
    if (wiring->outlet[node] == NO_INDEX) {
        return "far end";
    }
    const struct outlet *outlet = &wiring->house->outlets[wiring->outlet[node]];
    return outlet->name == NULL ? outlet->id : outlet->name;
}

void circuit_wire(struct visit *visit, const struct assessment *assessment, size_t index)
{
    struct text *html = &visit->answer.body;
    struct wiring wiring;
    if (!wiring_init(&wiring, visit->house, index, wire_ohm_per_km(visit->house, visit->house->branches[index].wire))) {
        html_add(html,
                 "<p>Wire or length of this branch is not known, so neither is the voltage at its outlets.</p>\n");
        return;
    }
    wiring_load_counted(&wiring, assessment->branches[index].loads);
    if (wiring_solve(&wiring, 1)) {
        html_add(html,
                 "<table class=\"narrow\"><caption>Along the wire</caption><thead><tr><th scope=\"col\">Outlet</th>"
                 "<th scope=\"col\" class=\"n\">V</th><th scope=\"col\" class=\"n\">Drop %%</th>"
                 "<th scope=\"col\" class=\"n\">Wire A</th></tr></thead><tbody>");
        for (size_t node = 1; node < wiring.node_count; node++) {
            html_add(html,
                     "<tr><th scope=\"row\">%s</th><td class=\"n\">%.1f</td><td class=\"n\">%.2f</td><td "
                     "class=\"n\">%.2f</td></tr>",
                     node_name(&wiring, node), wiring_voltage_v(&wiring, node), wiring_drop_percent(&wiring, node),
                     wiring_current_a(&wiring, node));
        }
        html_add(html, "</tbody></table>\n");
    } else {
        html_add(html, "<p>This wire cannot feed what is on: no voltage settles.</p>\n");
    }
    wiring_done(&wiring);
}
