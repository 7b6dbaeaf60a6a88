#include "circuit.h"

#include <math.h>
#include <stdlib.h>

#include "ampsum/wiring.h"

enum { LEFT = 76, BOX = 96, BOX_END = 380, RIGHT = 468, TOP = 40, RUNG = 46, NAME_CHARACTERS = 20 };

/* How many are on; the drawing has a rung for each. */
static size_t count_on(const struct assessment *assessment, size_t branch)
{
    size_t count = 0;
    for (size_t i = 0; i < assessment->house->branches[branch].appliances.count; i++) {
        count += circuit_is_on(&assessment->branches[branch].loads[i]);
    }
    return count;
}

bool circuit_is_on(const struct load *load)
{
    return load->units > 0 && load->counted && load->current_a > 0;
}

/* One drawing: on a class view its currents, and the widths that would tell them, stay covered until asked for. */
struct drawing {
    struct text *html;
    double breaker_a;
    bool covered;
};

/* Width of a line for a current: the breaker's rating is 10 wide. */
static double line_width(const struct drawing *drawing, double current_a)
{
    return drawing->covered ? 2 : fmin(fmax(10 * current_a / drawing->breaker_a, 0.8), 20);
}

static void add_current(const struct drawing *drawing, double current_a)
{
    html_add(drawing->html, drawing->covered ? "? A" : "%.2f A", current_a);
}

static void add_line(struct text *html, double x1, double y1, double x2, double y2, double width)
{
    html_add(html, "<line x1=\"%.1f\" y1=\"%.1f\" x2=\"%.1f\" y2=\"%.1f\" stroke-width=\"%.2f\"/>", x1, y1, x2, y2,
             width);
}

/* The breaker and what leads to the first junction. */
static void add_supply(const struct drawing *drawing, const struct branch_assessment *result, double bottom)
{
    struct text *html = drawing->html;
    html_add(html, "<text x=\"4\" y=\"16\">Supply %g V, breaker %g A</text>", result->voltage_v, drawing->breaker_a);
    html_add(html, "<rect x=\"20\" y=\"30\" width=\"34\" height=\"20\" class=\"box\"/>");
    const double width = line_width(drawing, result->other.current_a);
    add_line(html, 54, TOP, LEFT + width / 2, TOP, width);
    html_add(html, "<text x=\"96\" y=\"45\" class=\"current\">");
    add_current(drawing, result->other.current_a);
    html_add(html, " in all</text>");
    add_line(html, 8, TOP, 20, TOP, width);
    add_line(html, 8, bottom, RIGHT, bottom, 1.5);
    html_add(html, "<text x=\"4\" y=\"%.1f\">return</text>", bottom + 16);
}

/* A rung hangs between the left rail (live) and the right rail, which leads down to the return. */
static void add_rung(const struct drawing *drawing, const struct appliance *appliance, const struct load *load,
                     double y)
{
    struct text *html = drawing->html;
    const double width = line_width(drawing, load->current_a);
    add_line(html, LEFT, y, BOX, y, width);
    html_add(html, "<circle cx=\"76\" cy=\"%.1f\" r=\"3\" class=\"dot\"/>", y);
    html_add(html, "<rect x=\"96\" y=\"%.1f\" width=\"284\" height=\"30\" class=\"box\"/>", y - 15);
    html_add(html, "<text x=\"104\" y=\"%.1f\">", y + 4);
    struct text name = {0};
    size_t characters = 0;
    for (const char *at = appliance->name; *at != '\0' && characters < NAME_CHARACTERS; at++) {
        text_add_char(&name, *at);
        characters += ((unsigned char)at[1] & 0xC0) != 0x80;
    }
    html_add(html, "%s%s", text_string(&name), appliance->name[name.length] == '\0' ? "" : "…");
    text_done(&name);
    if (appliance->count > 1) {
        html_add(html, " (%zu)", (size_t)load->units);
    }
    html_add(html, "<title>%s</title></text>", appliance->name);
    html_add(html, "<text x=\"372\" y=\"%.1f\" text-anchor=\"end\">%.0f W</text>", y + 4, load->draw.power_w);
    add_line(html, BOX_END, y, RIGHT, y, width);
    html_add(html, "<text x=\"460\" y=\"%.1f\" text-anchor=\"end\" class=\"current\">", y - 6 - width / 2);
    add_current(drawing, load->current_a);
    html_add(html, "</text>");
}

/* The line down to the next junction, with what flows in it. */
static void add_rail(const struct drawing *drawing, double y, double current_a)
{
    add_line(drawing->html, LEFT, y, LEFT, y + RUNG, line_width(drawing, current_a));
    html_add(drawing->html, "<text x=\"64\" y=\"%.1f\" text-anchor=\"end\" class=\"rail\">", y + RUNG - 6);
    add_current(drawing, current_a);
    html_add(drawing->html, "</text>");
}

static void add_words(const struct drawing *drawing, const struct branch *branch, size_t count, double current_a)
{
    struct text *html = drawing->html;
    html_add(html,
             "<title id=\"circuit-title\">%s as a parallel circuit</title><desc id=\"circuit-text\">%zu loads are on. "
             "Each is a rung of its own between the two conductors, behind a breaker of %g A. ",
             branch->label, count, branch->breaker_a);
    html_add(html,
             drawing->covered ? "The currents are covered."
                              : "Together they draw %.2f A. The table below holds every figure.",
             current_a);
    html_add(html, "</desc>");
}

static void draw(const struct drawing *drawing, const struct assessment *assessment, size_t index)
{
    struct text *html = drawing->html;
    const struct branch *branch = &assessment->house->branches[index];
    const struct branch_assessment *result = &assessment->branches[index];
    const size_t count = count_on(assessment, index);
    const double bottom = TOP + RUNG * (double)(count + 1);
    double *rail_a = memory_resize(NULL, branch->appliances.count + 1, sizeof *rail_a);
    branch_junctions(assessment->house, index, result->loads, result->voltage_v, rail_a);
    html_add(html,
             "<svg class=\"circuit\" viewBox=\"0 0 480 %.0f\" role=\"img\" aria-labelledby=\"circuit-title "
             "circuit-text\">",
             bottom + 24);
    add_words(drawing, branch, count, result->other.current_a);
    html_add(html, "<g>");
    add_supply(drawing, result, bottom);
    double y = TOP;
    for (size_t i = 0; i < branch->appliances.count; i++) {
        const struct load *load = &result->loads[i];
        if (circuit_is_on(load)) {
            add_rail(drawing, y, rail_a[i]);
            y += RUNG;
            add_rung(drawing, &assessment->house->appliances[load->appliance], load, y);
        }
    }
    add_line(html, RIGHT, count > 0 ? TOP + RUNG : bottom, RIGHT, bottom, 1.5);
    if (count == 0) {
        html_add(html, "<text x=\"96\" y=\"66\">Nothing is on: no path, no current.</text>");
    }
    html_add(html, "</g></svg>\n");
    free(rail_a);
}

void circuit_svg(struct text *html, const struct assessment *assessment, size_t index)
{
    const struct drawing drawing = {html, assessment->house->branches[index].breaker_a, false};
    draw(&drawing, assessment, index);
}

void circuit_svg_covered(struct text *html, const struct assessment *assessment, size_t index)
{
    const struct drawing drawing = {html, assessment->house->branches[index].breaker_a, true};
    draw(&drawing, assessment, index);
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
