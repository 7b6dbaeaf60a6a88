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

static SHOW_WORD_TAKE(take_class, enum fit_class, fit_class_word)

    static void add_span(const void *row, size_t index, struct text *text)
{
    const struct place_span *span = &((const struct place_row *)row)->not_at[index];
    clock_add_span(text, span->start_min, span->end_min);
}

static void add_off_id(const void *row, size_t index, struct text *text)
{
    const struct appliance *off = ((const struct place_row *)row)->off[index];
    decide_id(off, off->count, text);
}

static void get_not_at(const void *answer, size_t row, struct show_cell *cell)
{
    const struct place_row *place = row_of(answer, row);
    show_items(add_span, place, place->not_at_count, ", ", ", ", show_made(cell));
    show_made_done(cell);
}

static void get_not_at_json(const void *answer, size_t row, struct show_cell *cell)
{
    cell->part = json_items(add_span, row_of(answer, row), row_of(answer, row)->not_at_count);
}

static void get_off(const void *answer, size_t row, struct show_cell *cell)
{
    const struct place_row *place = row_of(answer, row);
    show_items(add_off_id, place, place->off_count, ",", ",", show_made(cell));
    show_made_done(cell);
}

static void get_off_json(const void *answer, size_t row, struct show_cell *cell)
{
    cell->part = json_items(add_off_id, row_of(answer, row), row_of(answer, row)->off_count);
}

static void get_findings(const void *answer, size_t row, struct show_cell *cell)
{
    const struct place_row *place = row_of(answer, row);
    cell->part = place->result == NULL ? json_array() : show_findings_json(&place->fit.new_findings);
}

#define ROW(member) SHOW_IN(struct place_answer, rows, struct place_row, member)
#define BRANCH(member) SHOW_VIA(struct place_answer, rows, struct place_row, branch, struct branch, member)
#define RESULT(member) SHOW_VIA(struct place_answer, rows, struct place_row, result, struct branch_assessment, member)
#define STATUS(take)                                                                                                   \
    SHOW_ELEMENT(struct place_answer, rows, struct place_row),                                                         \
        SHOW_POINTED(struct place_row, result, struct branch_assessment),                                              \
        SHOW_TAKEN(struct branch_assessment, verdict, take)

/* Terminal and CSV in this order; JSON has `class` and `fits` before `status`. */
static const struct show_column columns[] = {
    {.key = "id", .heading = "BRANCH", .faces = SHOW_ROWS, BRANCH(id)},
    {.key = "branch", .faces = SHOW_JSON, BRANCH(id)},
    {.key = "label", .faces = SHOW_JSON, BRANCH(label)},
    {.key = "outlet", .heading = "OUTLET", .null_if_empty = true, .faces = SHOW_COMMAND, ROW(outlet)},
    {.heading = "THEN", .faces = SHOW_TERMINAL, STATUS(show_take_said)},
    {.key = "status", .null_if_empty = true, .faces = SHOW_DATA, STATUS(show_take_status)},
    {.key = "breaker_a", .heading = "BREAKER", .faces = SHOW_COMMAND, BRANCH(breaker_a)},
    {.key = "planning_a", .heading = "ALL ON", .decimals = 1, .faces = SHOW_COMMAND, RESULT(all.planning_a)},
    {.key = "wire_a", .faces = SHOW_JSON, RESULT(all.wire_a)},
    {.key = "busiest_planning_a", .faces = SHOW_JSON, RESULT(other.planning_a)},
    {.key = "headroom_a", .heading = "HEADROOM", .decimals = 1, .faces = SHOW_COMMAND, RESULT(all.headroom_a)},
    {.key = "drop_percent", .heading = "DROP %", .decimals = 1, .faces = SHOW_COMMAND, RESULT(drop_percent)},
    {.key = "class",
     .heading = "CLASS",
     .faces = SHOW_COMMAND,
     .json_before = "status",
     SHOW_ELEMENT(struct place_answer, rows, struct place_row),
     SHOW_TAKEN(struct place_row, fit.class, take_class)},
    {.key = "fits", .faces = SHOW_DATA, .json_before = "status", ROW(has_room)},
    {.key = "reason", .null_if_empty = true, .faces = SHOW_DATA, ROW(fit.reason)},
    {.key = "not_at", .faces = SHOW_CSV, .get = get_not_at},
    {.key = "not_at", .kind = SHOW_PART, .faces = SHOW_JSON, .get = get_not_at_json},
    {.key = "off", .faces = SHOW_CSV, .get = get_off},
    {.key = "off", .kind = SHOW_PART, .faces = SHOW_JSON, .get = get_off_json},
    {.key = "findings", .kind = SHOW_PART, .faces = SHOW_JSON, .get = get_findings},
};

const struct show_rows show_place_rows = SHOW_ROWS_OF(columns);

/* ------------------------------------------------------------------ programs ------------------------------ */

enum { CAUTIONS = 5 };

/* Cautions that go with where the load may go; ended by NULL. */
static void find_cautions(const struct place_answer *answer, const char *list[CAUTIONS])
{
    const struct {
        bool holds;
        const char *word;
    } cases[] = {{answer->by_water, "water"}, {answer->feeds, "generator"}, {answer->medical, "medical"}};
    size_t count = 0;
    if (place_best(answer) != NULL) {
        list[count++] = "It is used where the branch has its outlets, never over an extension lead.";
    }
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        const struct ref_caution *caution =
            cases[i].holds ? reference_caution(cases[i].word, rules_word(answer->house->rules)) : NULL;
        if (caution != NULL) {
            list[count++] = caution->text;
        }
    }
    list[count] = NULL;
}

static void get_room(const void *answer, size_t row, struct show_cell *cell)
{
    const struct place_answer *place = answer;
    (void)row;
    cell->words = place->room == NO_INDEX ? NULL : place->house->rooms[place->room].id;
}

#define ANSWER(member) .faces = SHOW_JSON, SHOW_FIELD(struct place_answer, member)

static const struct show_column answer_columns[] = {
    {.key = "load", ANSWER(load.name)},
    {.key = "note", ANSWER(load.note)},
    {.key = "room", .faces = SHOW_JSON, .get = get_room},
    {.key = "places", SHOW_LIST(show_place_rows, struct place_answer, count)},
    {.key = "fits", ANSWER(room_count)},
};

json_t *show_place_json(const struct place_answer *answer)
{
    static const struct show_rows rows = SHOW_ROWS_OF(answer_columns);
    const char *cautions[CAUTIONS];
    find_cautions(answer, cautions);
    return show_answer_json("place", answer->house->name, &rows, answer, cautions);
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

void show_load_notes(const struct freetext *load, int rules, const struct page *page, struct text *text)
{
    struct text line = {0};
    if (load->note != NULL) {
        show_say(page, 0, 2, text, "%s.", load->note);
    }
    show_running_time(load, rules, "say continuous=yes", &line);
    show_line(page, 0, 2, &line, text);
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

static void add_off_name(const void *row, size_t index, struct text *text)
{
    text_add(text, ((const struct place_row *)row)->off[index]->name);
}

/* `Kettle and Toaster stay off while it runs` */
static const char *stays_off(const struct place_row *row, struct arena *arena)
{
    struct text text = {0};
    show_items(add_off_name, row, row->off_count, ", ", " and ", &text);
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

/* A branch with room may hang on a sub-panel that has none. */
static void add_full_panel(const struct place_answer *answer, const struct place_row *row, struct text *text)
{
    if (row->full_panel != NO_INDEX && row->full_panel != 0) {
        text_printf(text,
                    " But panel %s, which feeds it, carries more than its breaker already: ask a licensed "
                    "electrician.",
                    answer->house->panels[row->full_panel].id);
    }
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
        add_full_panel(answer, said->row, &after);
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
    add_full_panel(answer, said.row, &after);
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
    text_say(line, "%s, %.1f A of %.1f A with everything on", show_verdict_said(row->result->verdict),
             row->result->all.planning_a, row->branch->breaker_a);
}

static void add_too_much(const struct place_row *row, struct text *line)
{
    if (row->not_at_count > 0) {
        text_add(line, row->never ? "; too much at any time of the day" : "; too much at ");
        if (!row->never) {
            show_items(add_span, row, row->not_at_count, ", ", ", ", line);
        }
    }
}

static void add_off_named(const void *row, size_t index, struct text *text)
{
    const struct appliance *off = ((const struct place_row *)row)->off[index];
    decide_name(off, off->count, text);
}

/* The names of what must be off, the first ones of many. */
static void add_off(const struct place_row *row, struct text *line)
{
    enum { NAMED_MOST = 5 };
    const bool many = row->off_count > NAMED_MOST;
    show_items(add_off_named, row, many ? NAMED_MOST : row->off_count, ", ", ", ", line);
    if (many) {
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
        show_say(page, 0, 2, text, "Taken: %s.", text_string(&line));
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
    show_load_notes(&answer->load, answer->house->rules, page, text);
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
