/*
 * The answer of `demand` as rows, JSON and sentences (ampsum/answer_demand.h). Computes nothing.
 *
 * Checked: tests/golden/demand-demo, demand-dwelling.
 */
#ifndef AMPSUM_SHOW_DEMAND_H
#define AMPSUM_SHOW_DEMAND_H

#include "ampsum/answer_demand.h"
#include "ampsum/show.h"
#include "ampsum/show_rows.h"

/* Sources met so far, each once, in the order met: what a number in brackets stands for. */
struct show_sources {
    const char **source; /* room for every line */
    size_t count;
};

/* The lines of a method. */
struct show_demand_lines {
    const struct demand_list *list;
    struct show_sources *sources; /* the lines' sources are numbered into it; NULL: they stand there in full */
    bool working;                 /* JSON: with the arithmetic */
};

/* A row for each line of a struct show_demand_lines. */
extern const struct show_rows show_demand_line_rows;

/* A row for each method of a struct demand_answer; figures stand there only where it applies. */
extern const struct show_rows show_demand_method_rows;

/* The lines of a method of the answer, their sources in full; none where it does not apply. */
struct show_demand_lines show_demand_lines(const struct service_method *method);

json_t *show_demand_json(const struct demand_answer *answer, bool working);

/* `working`: each line with its arithmetic, in place of the table. */
void show_demand_text(const struct demand_answer *answer, bool working, const struct page *page, struct text *text);

/* The answer in one sentence: it fits, it does not, or the methods disagree; by which, with both figures. */
void show_demand_sentence(const struct demand_answer *answer, struct text *text);

/* `Service: 100 A, from main_breaker; at its voltage 24000 VA`. */
void show_demand_rating(const struct demand_answer *answer, struct text *text);

/* Amperes with as many decimals as keep `difference` from vanishing, `least` at least: 100.03 A beside 100 A. */
void show_demand_beside(double current_a, double difference_a, int least, struct text *text);

/* A current beside the rating of the service. */
void show_demand_current(const struct demand_answer *answer, double current_a, int least, struct text *text);

/*
 * Sentences, NULL-ended, in `arena`: which methods do not apply and why, and what the largest load means; the sources
 * of the methods; what a control system makes of it; what was not said of the house, to bring to the electrician; how
 * each added load was taken; what the counting rests on, readings included; the cautions, the one about old services
 * at their end; these three in one (`notes`).
 */
const char *const *show_demand_methods(const struct demand_answer *answer, struct arena *arena);
const char *const *show_demand_method_sources(const struct demand_answer *answer, struct arena *arena);
const char *const *show_demand_control(const struct demand_answer *answer, struct arena *arena);
const char *const *show_demand_bring(const struct demand_answer *answer, struct arena *arena);
const char *const *show_demand_taken(const struct demand_answer *answer, struct arena *arena);
const char *const *show_demand_counting(const struct demand_answer *answer, struct arena *arena);
const char *const *show_demand_cautions(const struct demand_answer *answer, struct arena *arena);
const char *const *show_demand_notes(const struct demand_answer *answer, struct arena *arena);

/* Number of a source among those met so far, from 1; a new one is kept. */
size_t show_source_number(struct show_sources *sources, const char *source);

#endif
