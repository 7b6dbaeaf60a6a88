/* A live lesson as one page: the words here, the drawing in src/draw, what moves in src/show/assets. */
#include "ampsum/show_live.h"

#include <math.h>
#include <string.h>

#include "ampsum/asset.h"
#include "ampsum/html.h"
#include "ampsum/show.h"

static void add_asset(struct text *html, const char *name)
{
    for (size_t i = 0; i < show_assets_count; i++) {
        if (strcmp(show_assets[i].name, name) == 0) {
            text_add_length(html, show_assets[i].bytes, show_assets[i].length);
        }
    }
}

static const struct appliance *appliance_of(const struct live_answer *answer, size_t load)
{
    return &answer->house->appliances[answer->loads[load]];
}

static void add_head(const struct live_answer *answer, struct text *html)
{
    html_add(html,
             "<!doctype html>\n<html lang=\"en\"><head><meta charset=\"utf-8\"><meta name=\"viewport\" "
             "content=\"width=device-width\"><meta http-equiv=\"Content-Security-Policy\" content=\"default-src "
             "'none'; style-src 'unsafe-inline'; script-src 'unsafe-inline'\"><title>%s - a circuit to "
             "practise</title><style>\n",
             answer->branch->label);
    add_asset(html, "live_lesson.css");
    html_add(html, "</style></head><body><main><h1>%s</h1>\n", answer->branch->label);
    html_add(html,
             "<p>%zu loads in parallel at %g V behind a breaker of %g A. Open and close them, in the list or in the "
             "drawing; each time the answers are covered again.</p>\n",
             answer->load_count, answer->voltage_v, answer->branch->breaker_a);
    html_add(html, "<noscript><p><strong>The switches need JavaScript, which this browser has turned off.</strong></p>"
                   "</noscript>\n");
}

/* ---- switches and answers */

static void add_switches(const struct live_answer *answer, struct text *html)
{
    html_add(html, "<fieldset id=\"switches\"><legend>Switches: closed where ticked</legend>");
    for (size_t i = 0; i < answer->load_count; i++) {
        const struct appliance *appliance = appliance_of(answer, i);
        html_add(html, "<label><input type=\"checkbox\" checked autocomplete=\"off\"> ");
        if (appliance->count > 1) {
            html_add(html, "%zu x ", (size_t)appliance->count);
        }
        html_add(html, "%s</label>", appliance->name);
    }
    html_add(html, "</fieldset><p><label>I predict, together: <input type=\"text\" id=\"guess\" autocomplete=\"off\">"
                   "</label></p><p><button id=\"cover\">Show the answers</button></p><p id=\"said\" "
                   "aria-live=\"polite\"></p>\n");
}

static void add_table(const struct live_answer *answer, struct text *html)
{
    html_add(html,
             "<table><caption>Each load at %g V</caption><thead><tr><th scope=\"col\">Load</th><th scope=\"col\" "
             "class=\"n\">Power</th><th scope=\"col\" class=\"n\">Current</th><th scope=\"col\" class=\"n\">In the "
             "line to it</th></tr></thead><tbody>",
             answer->voltage_v);
    for (size_t i = 0; i < answer->load_count; i++) {
        html_add(
            html,
            "<tr><th scope=\"row\">%s</th><td class=\"n\">%.0f W</td><td class=\"n\" id=\"own%zu\">covered</td><td "
            "class=\"n\" id=\"line%zu\">covered</td></tr>",
            appliance_of(answer, i)->name, answer->load[i].draw.power_w, i, i);
    }
    html_add(html, "</tbody><tfoot><tr><th scope=\"row\">Together</th><td></td><td class=\"n\" "
                   "id=\"together\">covered</td><td></td></tr></tfoot></table>\n");
}

/* ---- the states, as the script looks them up */

static void add_hundredths(struct text *html, const double *values, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        text_printf(html, "%s%.0f", i == 0 ? "[" : ",", round(values[i] * 100));
    }
    text_add(html, "]");
}

static void add_own(const struct live_answer *answer, struct text *html)
{
    text_add(html, ",\"own\":");
    for (size_t i = 0; i < answer->load_count; i++) {
        text_printf(html, "%s%.0f", i == 0 ? "[" : ",", round(answer->load[i].current_a * 100));
    }
    text_add(html, "],\"line\":[");
    for (size_t i = 0; i < answer->load_count; i++) {
        text_add(html, i == 0 ? "" : ",\n");
        add_hundredths(html, answer->line_a[i], answer->state_count);
    }
    text_add(html, "],\n\"planned\":");
    add_hundredths(html, answer->planning_a, answer->state_count);
}

static void add_states(const struct live_answer *answer, struct text *html)
{
    text_rounded(html, "<script type=\"application/json\" id=\"states\">{\"breaker\":\"", answer->branch->breaker_a, 1,
                 "\",\"words\":[");
    for (int verdict = VERDICT_EMPTY; verdict <= VERDICT_OVER; verdict++) {
        text_printf(html, "%s\"%s\"", verdict == VERDICT_EMPTY ? "" : ",", show_verdict((enum verdict)verdict));
    }
    text_add(html, "],\"word\":\"");
    for (size_t i = 0; i < answer->state_count; i++) {
        text_printf(html, "%d", (int)answer->verdict[i]);
    }
    text_add(html, "\"");
    for (size_t i = 0; i < answer->state_count && answer->groups; i++) {
        text_printf(html, "%s%zu", i == 0 ? ",\"counted\":[" : ",", answer->counted[i]);
    }
    text_add(html, answer->groups ? "]" : "");
    add_own(answer, html);
    text_add(html, "}</script>\n<script>\n");
    add_asset(html, "live_lesson.js");
    text_add(html, "</script>\n");
}

static void add_remarks(const struct live_answer *answer, struct text *html)
{
    html_add(html, "<p>%s</p>\n",
             answer->in_step ? "The line to a junction carries that load and all behind it: at a junction, what flows "
                               "in is what flows out."
                             : "The line to a junction carries that load and all behind it. Where power factors "
                               "differ, the currents are out of step: together they are a little less than their plain "
                               "sum.");
    if (answer->left_count > 0) {
        html_add(html, "<p>%zu smaller loads of this branch are left off here.</p>\n", answer->left_count);
    }
    html_add(html,
             "<p><small>For practice: the answers lie in this file, so it is no test. Made by ampsum from %s; every "
             "state was worked out before, nothing is computed here. %s</small></p>\n",
             answer->house->name, show_cautions[0]);
}

void show_live_html(const struct live_answer *answer, const char *drawing, struct text *html)
{
    add_head(answer, html);
    html_add(html, "<div class=\"board\">");
    text_add(html, drawing);
    html_add(html, "<div>");
    add_switches(answer, html);
    add_table(answer, html);
    html_add(html, "</div></div>\n");
    add_remarks(answer, html);
    html_add(html, "</main>\n");
    add_states(answer, html);
    html_add(html, "</body></html>\n");
}
