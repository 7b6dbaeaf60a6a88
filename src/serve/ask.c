#include "ask.h"

#include "ampsum/show_place.h"
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

/* One press puts it there. */
static void add_keep(struct visit *visit, const struct place_row *row)
{
    if (visit->site->read_only) {
        return;
    }
    page_post(visit, "/appliance/keep", "inline");
    struct form pairs = load_pairs(visit, 0);
    form_add(&pairs, "at", load_at(visit, row));
    page_hidden_pairs(visit, &pairs);
    page_add(visit, "<button>Put it on %s</button></form>\n", row->branch->label);
}

void ask_sentence(struct visit *visit, const struct place_answer *answer, const struct place_answer *everywhere)
{
    const struct place_sentence said = show_place_sentence(answer, everywhere, load_shown(visit), visit->arena);
    const bool taken = place_best(answer) != NULL;
    const char *look = !taken ? "no" : answer->room_count > 0 ? "yes" : "if";
    page_add(visit, "<p class=\"said %s\" role=\"status\"><strong>%s</strong>%s", look, said.word, said.before);
    if (said.row != NULL) {
        page_add(visit, "<a href=\"/branch/%s\">%s</a>", said.row->branch->id, said.row->branch->label);
    }
    page_add(visit, "%s</p>\n", said.after);
    if (taken) {
        add_keep(visit, said.row);
    }
}
