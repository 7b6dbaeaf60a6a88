/* The last step: what is not known yet and what follows from it, and the verdict of the check. */
#include "ampsum/answer_next.h"
#include "ampsum/show_check.h"
#include "guide.h"

enum { NAMES_SHOWN_MOST = 8, BRANCHES_SHOWN_MOST = 20 };

/* What each is called, what follows from it, and the key that is missing (NULL: no single one). */
static const char *const words[MISSING_COUNT][3] = {
    [MISSING_NAMEPLATE] = {"The typical rating, to the watt",
                           "If that was not read from the nameplate, the current is a guess: read it there and correct "
                           "it.",
                           "rating"},
    [MISSING_WIRE] = {"Wire not known", "Whether the breaker protects the wire, and the voltage drop, can't be told.",
                      "wire"},
    [MISSING_LENGTH] = {"No length and no outlets", "The voltage drop can't be told.", "length"},
    [MISSING_FEEDER] = {"Feeder without wire or length",
                        "Whether its breaker protects the feeder, or the voltage drop in it, can't be told.", "wire"},
    [MISSING_LOADS] = {"Nothing on this branch", "Its current is taken as nothing. Does it really feed nothing?"},
    [MISSING_USE] = {"Time of use not known",
                     "Taken as on at any moment, so the busiest minute may come out too high; "
                     "its energy can't be told without hours.",
                     "use"},
    [MISSING_ROOM] = {"Room not known", "Left out where a room is asked about.", "room"},
    [MISSING_SPACE] = {"Space in the panel not known", "The list for the panel's door shows no space for it.",
                       "position"},
    [MISSING_TARIFF] = {"No price of energy", "Energy is shown in kWh only, not in money."},
    [MISSING_FLOOR_AREA] = {"Floor area not known",
                            "The demand of the whole dwelling is worked out without the general load of its area.",
                            "floor_area"},
};

static void add_row(struct visit *visit, enum missing what, enum kind kind, size_t index)
{
    if (what == MISSING_TARIFF) {
        page_add(visit, "<a href=\"/build/tariff\">add a tariff</a>");
    } else if (kind == KIND_HOUSE) {
        page_add(visit, "<a href=\"/build/house#house-%s\">add it</a>", words[what][2]);
    } else {
        page_add(visit, "<a href=\"/build/correct/%s/%s", kind_word(kind), house_row_id(visit->house, kind, index));
        if (words[what][2] != NULL) {
            page_add(visit, "#%s-%s", kind_word(kind), words[what][2]);
        }
        page_add(visit, "\">%s</a>", house_row_name(visit->house, kind, index));
    }
}

static void add_gap(struct visit *visit, enum missing what, const struct missing_rows *rows)
{
    page_add(visit, "<li><strong>%s</strong>", words[what][0]);
    for (size_t i = 0; i < rows->count && i < NAMES_SHOWN_MOST; i++) {
        page_add(visit, i == 0 ? ": " : ", ");
        add_row(visit, what, rows->kind, rows->index[i]);
    }
    if (rows->count > NAMES_SHOWN_MOST) {
        page_add(visit, " and %zu more", rows->count - NAMES_SHOWN_MOST);
    }
    page_add(visit, ".<small>%s</small></li>", words[what][1]);
}

static void add_gaps(struct visit *visit)
{
    struct missing_rows rows[MISSING_COUNT];
    bool any = false;
    answer_missing(visit->house, visit->arena, rows);
    for (int what = 0; what < MISSING_COUNT; what++) {
        if (rows[what].count > 0) {
            page_add(visit, any ? "" : "<ul class=\"plain gaps\">");
            add_gap(visit, (enum missing)what, &rows[what]);
            any = true;
        }
    }
    page_add(visit, any ? "</ul>\n" : "<p>Nothing that the program asks for.</p>\n");
}

/* ---- the verdict */

static void add_verdict(struct visit *visit, const struct check_answer *check, enum verdict verdict)
{
    const struct house *house = visit->house;
    size_t shown = 0;
    page_add(visit, "<li>");
    page_verdict(visit, verdict);
    for (size_t i = 0; i < house->branch_count && shown < BRANCHES_SHOWN_MOST; i++) {
        if (check->assessment->branches[i].verdict == verdict) {
            page_add(visit, "%s<a href=\"/branch/%s\">%s</a>", shown == 0 ? "" : ", ", house->branches[i].id,
                     house->branches[i].label);
            shown++;
        }
    }
    if (check->verdicts[verdict] > shown) {
        page_add(visit, " and <a href=\"/\">%zu more</a>", check->verdicts[verdict] - shown);
    }
    page_add(visit, "</li>");
}

static void add_count(struct visit *visit, const struct check_answer *check, enum severity severity, const char *word,
                      const char *after)
{
    const size_t count = assess_count(check->assessment, severity);
    page_add(visit, "%zu %s%s%s", count, word, count == 1 ? "" : "s", after);
}

static void add_check(struct visit *visit)
{
    const struct check_answer *check = visit_check(visit);
    if (visit->house->branch_count == 0) {
        page_add(visit, "<p>There is no branch to check yet.</p>\n");
        return;
    }
    page_add(visit, "<p>The whole house: ");
    page_verdict(visit, check->assessment->status);
    page_add(visit, "</p><ul class=\"plain gaps\">");
    for (int verdict = VERDICT_OVER; verdict >= VERDICT_EMPTY; verdict--) {
        if (check->verdicts[verdict] > 0) {
            add_verdict(visit, check, (enum verdict)verdict);
        }
    }
    struct text legend = {0};
    show_legend(check, "on its own page", &legend);
    page_add(visit, "</ul><p class=\"legend\">%s</p>\n", arena_text(visit->arena, &legend));
    page_add(visit, "<p>Findings: ");
    add_count(visit, check, SEVERITY_DANGER, "danger", ", ");
    add_count(visit, check, SEVERITY_WARNING, "warning", ", ");
    add_count(visit, check, SEVERITY_NOTE, "note", "");
    page_add(visit, "; each branch shows its own.</p>\n");
}

void guide_body_missing(struct visit *visit, const struct guide_spot *at)
{
    (void)at;
    add_gaps(visit);
    page_add(visit, "<h2>What the check says</h2>");
    add_check(visit);
    page_add(
        visit,
        "<p class=\"links\"><a href=\"/\">See the house</a> <a href=\"/files/report.pdf\" download>Report (PDF)</a> "
        "<a href=\"/files/directory.pdf\" download>List for the panel's door (PDF)</a> <a href=\"/files\">All "
        "downloads</a></p>\n");
}
