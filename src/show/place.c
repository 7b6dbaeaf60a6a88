/* The answer of `place`: a row for each branch, its JSON, and the sentences of the terminal. */
#include "ampsum/show_place.h"

#include <math.h>
#include <string.h>

#include "ampsum/reference.h"
#include "ampsum/show_combos.h"
#include "ampsum/values.h"

/* ------------------------------------------------------------------ rows ---------------------------------- */

static const struct place_row *row_of(const void *answer, size_t row)
{
    return &((const struct place_answer *)answer)->rows[row];
}

static const void *result_at(const void *answer, size_t row)
{
    static const struct branch_assessment none = {.drop_percent = NAN,
                                                  .all = {.planning_a = NAN, .wire_a = NAN, .headroom_a = NAN},
                                                  .other = {.planning_a = NAN}};
    const struct branch_assessment *result = row_of(answer, row)->result;
    return result == NULL ? &none : result;
}

static void get_status(const void *answer, size_t row, struct show_cell *cell)
{
    const struct branch_assessment *result = row_of(answer, row)->result;
    cell->words = result == NULL ? NULL : verdict_word(result->verdict);
}

static void get_said(const void *answer, size_t row, struct show_cell *cell)
{
    const struct branch_assessment *result = row_of(answer, row)->result;
    cell->words = result == NULL ? NULL : show_verdict_said(result->verdict);
}

/* In CSV what there is not is an empty text. */
static void get_status_csv(const void *answer, size_t row, struct show_cell *cell)
{
    get_status(answer, row, cell);
    cell->words = cell->words == NULL ? "" : cell->words;
}

static void get_outlet_csv(const void *answer, size_t row, struct show_cell *cell)
{
    const char *outlet = row_of(answer, row)->outlet;
    cell->words = outlet == NULL ? "" : outlet;
}

static void get_class(const void *answer, size_t row, struct show_cell *cell)
{
    cell->words = fit_class_word(row_of(answer, row)->fit.class);
}

static void add_times(const struct place_row *row, struct text *text)
{
    for (size_t i = 0; i < row->not_at_count; i++) {
        text_add(text, i > 0 ? ", " : "");
        clock_add_span(text, row->not_at[i].start_min, row->not_at[i].end_min);
    }
}

static void get_not_at(const void *answer, size_t row, struct show_cell *cell)
{
    add_times(row_of(answer, row), show_made(cell));
    show_made_done(cell);
}

static void get_off(const void *answer, size_t row, struct show_cell *cell)
{
    const struct place_row *place = row_of(answer, row);
    struct text *text = show_made(cell);
    for (size_t i = 0; i < place->off_count; i++) {
        text_add(text, i > 0 ? "," : "");
        decide_id(place->off[i], place->off[i]->count, text);
    }
    show_made_done(cell);
}

static void get_not_at_json(const void *answer, size_t row, struct show_cell *cell)
{
    const struct place_row *place = row_of(answer, row);
    cell->part = json_array();
    for (size_t i = 0; i < place->not_at_count; i++) {
        struct text span = {0};
        clock_add_span(&span, place->not_at[i].start_min, place->not_at[i].end_min);
        json_array_append_new(cell->part, json_text(text_string(&span)));
        text_done(&span);
    }
}

static void get_off_json(const void *answer, size_t row, struct show_cell *cell)
{
    const struct place_row *place = row_of(answer, row);
    cell->part = json_array();
    for (size_t i = 0; i < place->off_count; i++) {
        struct text id = {0};
        decide_id(place->off[i], place->off[i]->count, &id);
        json_array_append_new(cell->part, json_text(text_string(&id)));
        text_done(&id);
    }
}

static void get_findings(const void *answer, size_t row, struct show_cell *cell)
{
    const struct place_row *place = row_of(answer, row);
    cell->part = place->result == NULL ? json_array() : show_findings_json(&place->fit.new_findings);
}

static void get_reason(const void *answer, size_t row, struct show_cell *cell)
{
    const char *reason = row_of(answer, row)->fit.reason;
    cell->words = reason == NULL ? "" : reason;
}

#define ROW(member) SHOW_IN(struct place_answer, rows, struct place_row, member)
#define BRANCH(member) SHOW_VIA(struct place_answer, rows, struct place_row, branch, struct branch, member)
#define RESULT(member) .at = result_at, SHOW_FIELD(struct branch_assessment, member)

/* Terminal and CSV in this order; JSON has `class` and `fits` before `status`. */
static const struct show_column columns[] = {
    {.key = "id", .heading = "BRANCH", .faces = SHOW_ROWS, BRANCH(id)},
    {.key = "branch", .faces = SHOW_JSON, BRANCH(id)},
    {.key = "label", .faces = SHOW_JSON, BRANCH(label)},
    {.key = "outlet", .heading = "OUTLET", .faces = SHOW_TERMINAL | SHOW_JSON, ROW(outlet)},
    {.key = "outlet", .faces = SHOW_CSV, .get = get_outlet_csv},
    {.heading = "THEN", .faces = SHOW_TERMINAL, .get = get_said},
    {.key = "status", .faces = SHOW_JSON, .get = get_status},
    {.key = "status", .faces = SHOW_CSV, .get = get_status_csv},
    {.key = "breaker_a", .heading = "BREAKER", .faces = SHOW_COMMAND, BRANCH(breaker_a)},
    {.key = "planning_a", .heading = "ALL ON", .decimals = 1, .faces = SHOW_COMMAND, RESULT(all.planning_a)},
    {.key = "wire_a", .faces = SHOW_JSON, RESULT(all.wire_a)},
    {.key = "busiest_planning_a", .faces = SHOW_JSON, RESULT(other.planning_a)},
    {.key = "headroom_a", .heading = "HEADROOM", .decimals = 1, .faces = SHOW_COMMAND, RESULT(all.headroom_a)},
    {.key = "drop_percent", .heading = "DROP %", .decimals = 1, .faces = SHOW_COMMAND, RESULT(drop_percent)},
    {.key = "class", .heading = "CLASS", .faces = SHOW_COMMAND, .json_before = "status", .get = get_class},
    {.key = "fits", .faces = SHOW_DATA, .json_before = "status", ROW(has_room)},
    {.key = "reason", .faces = SHOW_CSV, .get = get_reason},
    {.key = "reason", .faces = SHOW_JSON, ROW(fit.reason)},
    {.key = "not_at", .faces = SHOW_CSV, .get = get_not_at},
    {.key = "not_at", .kind = SHOW_PART, .faces = SHOW_JSON, .get = get_not_at_json},
    {.key = "off", .faces = SHOW_CSV, .get = get_off},
    {.key = "off", .kind = SHOW_PART, .faces = SHOW_JSON, .get = get_off_json},
    {.key = "findings", .kind = SHOW_PART, .faces = SHOW_JSON, .get = get_findings},
};

const struct show_rows show_place_rows = {columns, sizeof columns / sizeof columns[0]};

/* ------------------------------------------------------------------ programs ------------------------------ */

enum { CAUTIONS = 5 };

/* Cautions that go with where the load may go; ended by NULL. */
static void find_cautions(const struct place_answer *answer, const char *list[CAUTIONS])
{
    const char *rules = rules_word(answer->house->rules);
    size_t count = 0;
    if (place_best(answer) != NULL) {
        list[count++] = "It is used where the branch has its outlets, never over an extension lead.";
    }
    const struct ref_caution *water = answer->by_water ? reference_caution("water", rules) : NULL;
    if (water != NULL) {
        list[count++] = water->text;
    }
    const struct ref_caution *generator = answer->feeds ? reference_caution("generator", rules) : NULL;
    if (generator != NULL) {
        list[count++] = generator->text;
    }
    const struct ref_caution *medical = answer->medical ? reference_caution("medical", rules) : NULL;
    if (medical != NULL) {
        list[count++] = medical->text;
    }
    list[count] = NULL;
}

json_t *show_place_json(const struct place_answer *answer)
{
    const char *cautions[CAUTIONS];
    json_t *json = json_answer("place", answer->house->name);
    json_object_set_new(json, "load", json_text(answer->load.name));
    json_object_set_new(json, "note", json_text(answer->load.note));
    json_object_set_new(json, "room",
                        json_text(answer->room == NO_INDEX ? NULL : answer->house->rooms[answer->room].id));
    json_object_set_new(json, "places", show_json_array(&show_place_rows, answer, answer->count));
    json_object_set_new(json, "fits", json_integer((json_int_t)answer->room_count));
    find_cautions(answer, cautions);
    json_cautions(json, cautions);
    return json;
}

/* ------------------------------------------------------------------ people -------------------------------- */

void show_running_time(const struct freetext *load, int rules, const char *how, struct text *text)
{
    struct arena *arena = arena_new();
    const char *note = rules_running_time_note(rules, how, arena);
    if (note != NULL && freetext_leaves_run_open(load)) {
        text_printf(text, "%s.", note);
    }
    if (load->ordinary) {
        text_printf(text, "%sCounted as ordinary; a category may change that.", text->length > 0 ? " " : "");
    }
    arena_free(arena);
}

const char *show_place_conclusion(const struct place_answer *answer)
{
    if (answer->count == 0) {
        return answer->room == NO_INDEX ? "This house has no branch yet."
                                        : "No branch has an outlet in this room or serves it.";
    }
    if (answer->room_count > 0) {
        return NULL;
    }
    return answer->only_if_count > 0 ? "No branch here has room for it whatever else is on."
                                     : "No branch here can take it. A new branch is a licensed electrician's work.";
}

/* ---- may this run here? */

static const char *of_text(struct arena *arena, struct text *text)
{
    const char *copy = arena_copy(arena, text_string(text));
    text_done(text);
    return copy;
}

/* `Kettle and Toaster stay off while it runs` */
static const char *stays_off(const struct place_row *row, struct arena *arena)
{
    struct text text = {0};
    for (size_t i = 0; i < row->off_count; i++) {
        text_add(&text, i == 0 ? "" : i + 1 == row->off_count ? " and " : ", ");
        text_add(&text, row->off[i]->name);
    }
    text_add(&text, row->off_count == 1 ? " stays off while it runs" : " stay off while it runs");
    return of_text(arena, &text);
}

/* ` (in Study, Hall)`: the rooms of a branch; nothing where none is known. */
static void add_rooms(const struct house *house, size_t branch, struct arena *arena, struct text *text)
{
    const struct index_list rooms = house_branch_serves(house, branch, arena);
    for (size_t i = 0; i < rooms.count; i++) {
        text_printf(text, "%s%s", i == 0 ? " (in " : ", ", house_row_name(house, KIND_ROOM, rooms.index[i]));
    }
    text_add(text, rooms.count > 0 ? ")" : "");
}

/* Words without watts rest on a typical figure, which is said beside the answer. */
static void add_typical(const struct freetext *load, struct text *text)
{
    static const char key[] = "power=";
    for (size_t i = 0; i < load->pair_count && !load->rated; i++) {
        if (strncmp(load->pairs[i], key, strlen(key)) == 0) {
            text_printf(text, " Counted with %s, a typical figure: its nameplate decides.",
                        load->pairs[i] + strlen(key));
        }
    }
}

/* The best row of the whole house in that class, on a branch that was not looked at in the room; NULL: none. */
static const struct place_row *elsewhere(const struct place_answer *answer, const struct place_answer *everywhere,
                                         enum fit_class class)
{
    for (size_t i = 0; everywhere != NULL && i < everywhere->count; i++) {
        bool here = false;
        for (size_t k = 0; k < answer->count; k++) {
            here = here || answer->rows[k].index == everywhere->rows[i].index;
        }
        if (!here && everywhere->rows[i].fit.class == class) {
            return &everywhere->rows[i];
        }
    }
    return NULL;
}

static void say_no(const struct place_answer *answer, const struct place_answer *everywhere, const char *shown,
                   struct arena *arena, struct place_sentence *said)
{
    const bool room = answer->room != NO_INDEX;
    struct text after = {0};
    if (answer->feeds) {
        said->word = "No";
        said->before = ": ";
        said->after = "a generator or a battery is no load, and never feeds an outlet.";
        return;
    }
    said->word =
        room ? arena_printf(arena, "No, not in %s", house_row_name(answer->house, KIND_ROOM, answer->room)) : "No";
    const struct place_row *has_room = elsewhere(answer, everywhere, FIT_ROOM);
    said->row = has_room != NULL ? has_room : elsewhere(answer, everywhere, FIT_ONLY_IF);
    if (said->row == NULL) {
        said->before = ": ";
        text_printf(&after, "no branch %s has room for %s. A new branch is a licensed electrician's work.",
                    room ? "there or elsewhere" : "here", shown);
    } else {
        said->before = ". Try ";
        add_rooms(answer->house, said->row->index, arena, &after);
        text_printf(&after, ": it %s %s", has_room != NULL ? "has room for" : "takes", shown);
        if (has_room == NULL) {
            text_printf(&after, " if %s", stays_off(said->row, arena));
        }
        text_add(&after, ". That is to use it there, never over an extension cord.");
    }
    add_typical(&answer->load, &after);
    said->after = of_text(arena, &after);
}

struct place_sentence show_place_sentence(const struct place_answer *answer, const struct place_answer *everywhere,
                                          const char *shown, struct arena *arena)
{
    struct place_sentence said = {0};
    if (place_best(answer) == NULL) {
        say_no(answer, everywhere, shown, arena, &said);
        return said;
    }
    const bool always = answer->room_count > 0;
    struct text after = {0};
    said.row = place_best(answer);
    said.word = always ? "Yes" : arena_printf(arena, "Yes, if %s", stays_off(said.row, arena));
    said.before = always ? ": " : ": then ";
    text_printf(&after, always ? " has room for %s beside all that may be on." : " takes %s.", shown);
    add_typical(&answer->load, &after);
    const struct ref_caution *water = reference_caution("water", rules_word(answer->house->rules));
    if (answer->by_water && answer->room != NO_INDEX && water != NULL) {
        text_printf(&after, " %s", water->text);
    }
    said.after = of_text(arena, &after);
    return said;
}

static void write_sentence(const struct place_answer *answer, const struct place_answer *everywhere, const char *shown,
                           const struct page *page, struct text *text)
{
    struct arena *arena = arena_new();
    const struct place_sentence said = show_place_sentence(answer, everywhere, shown, arena);
    struct text line = {0};
    text_printf(&line, "%s%s", said.word, said.before);
    if (said.row != NULL) {
        text_add(&line, said.row->branch->id); /* as the rows below and the commands have it */
    }
    text_add(&line, said.after);
    show_line(page, 0, 0, &line, text);
    text_add_char(text, '\n');
    arena_free(arena);
}

static void add_status(const struct place_row *row, struct text *line)
{
    text_printf(line, "%s, ", show_verdict_said(row->result->verdict));
    decide_ampere(row->result->all.planning_a, line);
    text_add(line, " of ");
    decide_ampere(row->branch->breaker_a, line);
    text_add(line, " with everything on");
}

static void add_too_much(const struct place_row *row, struct text *line)
{
    if (row->not_at_count > 0) {
        text_add(line, row->never ? "; too much at any time of the day" : "; too much at ");
        if (!row->never) {
            add_times(row, line);
        }
    }
}

/* The names of what must be off, the first ones of many. */
static void add_off(const struct place_row *row, struct text *line)
{
    enum { NAMED_MOST = 5 };
    for (size_t i = 0; i < row->off_count && i < NAMED_MOST; i++) {
        text_add(line, i > 0 ? ", " : "");
        decide_name(row->off[i], row->off[i]->count, line);
    }
    if (row->off_count > NAMED_MOST) {
        text_printf(line, " and %zu more (all: --format json)", row->off_count - NAMED_MOST);
    }
}

/* Why a branch has room or not, when not, and what would have to be off. */
static void write_reason(const struct place_row *row, const struct page *page, struct text *text)
{
    struct text line = {0};
    text_printf(&line, "%s: ", row->branch->id);
    if (row->fit.class == FIT_ROOM) {
        add_status(row, &line);
    } else {
        if (row->fit.class == FIT_ONLY_IF) {
            add_off(row, &line);
            text_add(&line, " off while it runs; otherwise ");
        }
        text_add(&line, row->fit.reason);
        add_too_much(row, &line);
    }
    text_add_char(&line, '.');
    show_line(page, 2, 4, &line, text);
}

static void write_reasons(const struct place_answer *answer, enum fit_class class, const char *title,
                          const struct page *page, struct text *text)
{
    bool titled = false;
    for (size_t i = 0; i < answer->count; i++) {
        if (answer->rows[i].fit.class == class) {
            text_add(text, titled ? "" : title);
            titled = true;
            write_reason(&answer->rows[i], page, text);
        }
    }
}

/* Which room and which time the words were taken for. */
static void write_taken(const struct place_answer *answer, const struct asked *asked, const struct page *page,
                        struct text *text)
{
    struct text line = {0};
    if (asked->room_said != NULL && answer->room == asked->room) {
        text_printf(&line, "\"%s\" is the room %s", asked->room_said,
                    house_row_name(answer->house, KIND_ROOM, asked->room));
    }
    if (asked->use != NULL) {
        text_printf(&line, "%s\"%s\" is %s", line.length > 0 ? ", " : "", asked->use_said, asked->use);
    }
    if (line.length > 0) {
        struct text whole = {0};
        text_printf(&whole, "Taken: %s.", text_string(&line));
        show_line(page, 0, 2, &whole, text);
    }
    text_done(&line);
}

/* What was assumed of the load. */
static void write_notes(const struct place_answer *answer, const struct page *page, struct text *text)
{
    struct text line = {0};
    if (answer->load.note != NULL) {
        text_printf(&line, "%s.", answer->load.note);
        show_line(page, 0, 2, &line, text);
    }
    show_running_time(&answer->load, answer->house->rules, "say continuous=yes", &line);
    if (line.length > 0) {
        show_wrap(page, 2, text_string(&line), text);
    }
    text_done(&line);
}

/* The rows that have figures: the others stand in the sentences alone. */
static void write_rows(const struct place_answer *answer, const struct page *page, struct text *text)
{
    struct arena *arena = arena_new();
    struct place_answer shown = *answer;
    shown.rows = arena_array(arena, answer->count, sizeof *shown.rows);
    shown.count = 0;
    for (size_t i = 0; i < answer->count; i++) {
        if (answer->rows[i].result != NULL) {
            shown.rows[shown.count++] = answer->rows[i];
        }
    }
    show_table_text(&show_place_rows, &shown, shown.count, page, text);
    text_add(text, shown.count > 0 ? "\n" : "");
    arena_free(arena);
}

void show_place_text(const struct place_answer *answer, const struct place_answer *everywhere,
                     const struct asked *asked, const struct page *page, struct text *text)
{
    const char *cautions[CAUTIONS];
    struct text shown = {0};
    text_printf(&shown, "%s%s%s", asked->what, asked->use == NULL ? "" : ", used ",
                asked->use == NULL ? "" : asked->use);
    write_sentence(answer, everywhere, text_string(&shown), page, text);
    text_done(&shown);
    write_taken(answer, asked, page, text);
    write_notes(answer, page, text);
    text_add_char(text, '\n');
    write_rows(answer, page, text);
    write_reasons(answer, FIT_ROOM, "Room for it, best first\n", page, text);
    write_reasons(answer, FIT_ONLY_IF, "Only if others stay off\n", page, text);
    write_reasons(answer, FIT_NO, "Can't take it\n", page, text);
    if (answer->count == 0) {
        show_wrap(page, 0, show_place_conclusion(answer), text);
    }
    text_add_char(text, '\n');
    find_cautions(answer, cautions);
    show_cautions_text(page, cautions, text);
}
