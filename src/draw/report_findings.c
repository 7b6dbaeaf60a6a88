/* What exceeds what; all findings with their sources. */
#include "ampsum/answer_facts.h"
#include "ampsum/plain_words.h"
#include "ampsum/reference.h"
#include "ampsum/show.h"
#include "ampsum/show_report.h"
#include "report_parts.h"

static void add_more(const struct report *report, size_t more, const char *what)
{
    if (more > 0) {
        struct text text = {0};
        text_printf(&text, "Left out are %zu more %s. `ampsum check --format json` lists all.", more, what);
        report_paragraph(report, &text);
    }
}

static void add_fact(const struct report *report, const struct found_where *where, const struct fact *fact)
{
    struct text title = {0};
    struct text text = {0};
    text_printf(&title, "%s: ", show_severity(fact->lead->severity));
    show_found_where(where, &title);
    text_add_char(&title, ':');
    text_add(&text, fact->lead->text);
    show_fact_numbers(fact, &text);
    text_printf(&text, ". %s", fact->lead->row->caution);
    plain_paper(&text);
    print_item(report->document, text_string(&title), text_string(&text));
    text_done(&title);
    text_done(&text);
}

/* One line a fact, those of that severity, as long as there is room; returns how many had none. */
static size_t add_facts(const struct report *report, enum severity severity, size_t *room)
{
    struct arena *arena = arena_new();
    size_t places;
    size_t more = 0;
    const struct found_list *place = report_places(report->check, arena, &places);
    for (size_t i = 0; i < places; i++) {
        struct facts facts;
        facts_of(place[i].list, arena, &facts);
        for (size_t k = 0; k < facts.count; k++) {
            if (facts.fact[k].lead->severity != severity) {
                continue;
            }
            if (*room == 0) {
                more++;
                continue;
            }
            (*room)--;
            add_fact(report, &place[i].where, &facts.fact[k]);
        }
    }
    arena_free(arena);
    return more;
}

void report_verdicts(const struct report *report)
{
    const size_t *counts = report->check->verdicts;
    struct text text = {0};
    const char *before = "Of the branches ";
    for (int verdict = VERDICT_OVER; verdict >= VERDICT_EMPTY; verdict--) {
        if (counts[verdict] > 0) {
            const bool one = counts[verdict] == 1;
            const char *verb = verdict == VERDICT_OK ? (one ? "has" : "have") : one ? "is" : "are";
            text_printf(&text, "%s%zu %s %s", before, counts[verdict], verb, show_verdict((enum verdict)verdict));
            before = ", ";
        }
    }
    text_add(&text, text.length == 0 ? "There is no branch yet." : ".");
    report_paragraph(report, &text);
}

void report_part_findings(const struct report *report)
{
    size_t room = REPORT_FINDINGS_MOST;
    print_heading(report->document, 2, "What exceeds what");
    if (assess_count(report->assessment, SEVERITY_DANGER) + assess_count(report->assessment, SEVERITY_WARNING) == 0) {
        print_paragraph(report->document,
                        "No danger and no warning from what the house file says. A finding that does not appear is no "
                        "clearance: the file may lack what would bring it up.");
        return;
    }
    const size_t more = add_facts(report, SEVERITY_DANGER, &room);
    add_more(report, more + add_facts(report, SEVERITY_WARNING, &room), "that exceed something");
}

void report_part_sources(const struct report *report)
{
    struct arena *arena = report->document->arena;
    size_t numbers;
    size_t notes;
    const struct found *number = report_numbers(report->check, arena, &numbers);
    const struct found *note = report_found(report->check, SEVERITY_NOTE, SEVERITY_NOTE, arena, &notes);
    const size_t shown = notes < REPORT_FINDINGS_MOST ? notes : REPORT_FINDINGS_MOST;
    report_annex(report, "Findings and their sources");
    if (numbers == 0) {
        print_paragraph(report->document, "There are no findings.");
        return;
    }
    print_rows(report->document, "Numbers in brackets", &show_report_number_rows, number, numbers);
    if (notes > 0) {
        print_rows(report->document, "Notes, beside what exceeds what", &show_report_note_rows, note, shown);
        add_more(report, notes - shown, "notes");
    }
}
