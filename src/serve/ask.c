#include "ask.h"

#include "input.h"
#include "load.h"

void ask_box(struct visit *visit)
{
    static const struct input inputs[] = {
        {"what", "What, and its watts", "Heater, 1500 W", " required"},
        {"room", "In which room", .rows = KIND_ROOM, .none = "anywhere"},
        {"use", "When (empty: at any time)", "18:00-21:00"},
    };
    page_add(visit,
             "<form action=\"/appliance\" class=\"ask-box\" aria-labelledby=\"ask\"><h2 id=\"ask\">May I plug this "
             "in here?</h2>");
    page_hidden(visit, "ask", "1");
    page_add(visit, "<p>");
    for (size_t i = 0; i < sizeof inputs / sizeof inputs[0]; i++) {
        page_input(visit, &inputs[i], "");
    }
    page_add(visit, "<button>Tell me</button></p></form>\n");
}

static void add_off(struct visit *visit, const struct place_row *row)
{
    for (size_t i = 0; i < row->off_count; i++) {
        page_add(visit, i == 0 ? "%s" : i + 1 == row->off_count ? " and %s" : ", %s", row->off[i]->name);
    }
    page_add(visit, row->off_count == 1 ? " stays off while it runs" : " stay off while it runs");
}

/* The rooms of a branch, as `Study and Hall`; nothing where none is known. */
static void add_rooms(struct visit *visit, size_t branch)
{
    const struct index_list rooms = house_branch_serves(visit->house, branch, visit->arena);
    for (size_t i = 0; i < rooms.count; i++) {
        page_add(visit, i == 0 ? " (in %s" : ", %s", house_row_name(visit->house, KIND_ROOM, rooms.index[i]));
    }
    page_add(visit, rooms.count > 0 ? ")" : "");
}

/* One press puts it there. */
static void add_keep(struct visit *visit, const struct place_row *row)
{
    if (visit->site->read_only) {
        return;
    }
    page_add(visit, "<form method=\"post\" action=\"/appliance/keep\" class=\"inline\">");
    page_form_secrets(visit);
    load_hidden(visit);
    page_add(visit, "<input type=\"hidden\" name=\"at\" value=\"%s:%s\"><button>Put it on %s</button></form>\n",
             row->outlet == NULL ? "branch" : "outlet", row->outlet == NULL ? row->branch->id : row->outlet,
             row->branch->label);
}

static void add_no(struct visit *visit, const struct place_answer *answer, const struct place_answer *everywhere)
{
    page_add(visit, "<p class=\"said no\" role=\"status\"><strong>No%s%s</strong>",
             answer->room == NO_INDEX ? "" : ", not in ",
             answer->room == NO_INDEX ? "" : house_row_name(visit->house, KIND_ROOM, answer->room));
    if (everywhere == NULL || everywhere->room_count == 0) {
        page_add(visit, ": no branch %s has room for %s. A new branch is a licensed electrician's work.</p>\n",
                 answer->room == NO_INDEX ? "here" : "there or elsewhere", load_shown(visit));
        return;
    }
    const struct place_row *row = &everywhere->rows[0];
    page_add(visit, ". Try <a href=\"/branch/%s\">%s</a>", row->branch->id, row->branch->label);
    add_rooms(visit, row->index);
    page_add(visit, ": it has room for %s. That is to use it there, never over an extension cord.</p>\n",
             load_shown(visit));
}

void ask_sentence(struct visit *visit, const struct place_answer *answer, const struct place_answer *everywhere)
{
    if (answer->room_count == 0 && answer->only_if_count == 0) {
        add_no(visit, answer, everywhere);
        return;
    }
    const struct place_row *row = &answer->rows[0];
    if (answer->room_count > 0) {
        page_add(visit,
                 "<p class=\"said yes\" role=\"status\"><strong>Yes</strong>: <a href=\"/branch/%s\">%s</a> has room "
                 "for %s beside all that may be on.</p>\n",
                 row->branch->id, row->branch->label, load_shown(visit));
    } else {
        page_add(visit, "<p class=\"said if\" role=\"status\"><strong>Yes, if ");
        add_off(visit, row);
        page_add(visit, "</strong>: then <a href=\"/branch/%s\">%s</a> takes %s.</p>\n", row->branch->id,
                 row->branch->label, load_shown(visit));
    }
    add_keep(visit, row);
}
