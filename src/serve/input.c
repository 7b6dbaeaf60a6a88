#include "input.h"

#include <string.h>

#include "ampsum/keys.h"
#include "ampsum/reference.h"
#include "ampsum/typed.h"
#include "guide.h"
#include "speak.h"

void page_rows(struct visit *visit, enum kind kind, const char *chosen)
{
    size_t count = 0;
    house_rows(visit->house, kind, &count);
    for (size_t i = 0; i < count; i++) {
        page_option(visit, house_row_id(visit->house, kind, i), house_row_name(visit->house, kind, i), chosen);
    }
}

/* NULL: it has none. */
static const struct guide_field *row_of(const struct input *input)
{
    return input->key == NULL ? NULL : guide_field_of(input->kind, input->key);
}

const struct key *input_key(const struct input *input)
{
    const struct guide_field *row = row_of(input);
    return row == NULL ? NULL : guide_field_key(row);
}

/* Chosen from a list, by its row where it has none of its own. */
static bool is_choice(const struct input *input)
{
    const struct key *key = input_key(input);
    return input->options != NULL || input->rows != KIND_HOUSE || (key != NULL && key->type == KEY_CHOICE);
}

static void add_options(struct visit *visit, const struct input *input, const char *chosen)
{
    if (input->none != NULL) {
        page_option(visit, "", input->none, chosen);
    }
    if (input->options != NULL) {
        input->options(visit, input, chosen);
    } else if (input->rows != KIND_HOUSE) {
        page_rows(visit, input->rows, chosen);
    } else {
        page_words(visit, input_key(input), chosen);
    }
}

/* ---- what is refused */

/* The error for people who typed into a form: without an option's, a section's or a key's name in front. */
static const char *own_words(struct visit *visit)
{
    const struct error *error = &visit->error;
    return error->fault_count > 0 ? guide_fault_reason(visit, &error->faults[0]) : error_message(error);
}

static bool is_wrong(const struct visit *visit, const struct input *input)
{
    const struct error *error = &visit->error;
    return error_is_set(error) && error->part != NULL && strcmp(error->part, input->name) == 0 &&
           error->place == input->place;
}

static bool is_described(const struct input *input)
{
    return input->more != NULL && strstr(input->more, "aria-describedby") != NULL;
}

static const char *label_of(struct visit *visit, const struct input *input)
{
    struct text label = {0};
    if (input->label == NULL) {
        return guide_field_title(visit, row_of(input));
    }
    reference_fill(&label, input->label, visit->house == NULL ? NULL : rules_word(visit->house->rules));
    return arena_text(visit->arena, &label);
}

static const char *first_line(struct visit *visit, const char *words)
{
    return arena_printf(visit->arena, "%.*s", (int)strcspn(words, "\n"), words);
}

/* Where a caret in the line below points to; NULL: there is none. */
static const char *place_in(const char *line)
{
    const char *below = line + strcspn(line, "\n");
    size_t columns = below[0] == '\0' ? 0 : strspn(below + 1, " ");
    if (below[0] == '\0' || strcmp(below + 1 + columns, "^") != 0) {
        return NULL;
    }
    while (columns > 0 && line < below) {
        line++;
        columns -= ((unsigned char)*line & 0xC0U) != 0x80U; /* the letter is passed whole */
    }
    return line;
}

/* What was typed, with its caret: not in a line of its own, which would stand elsewhere where the first one wraps. */
static void add_typed(struct visit *visit, const char *typed)
{
    const char *place = place_in(typed);
    const char *line = first_line(visit, typed);
    if (place == NULL) {
        page_add(visit, "<pre>%s</pre>", typed);
        return;
    }
    const size_t before = (size_t)(place - typed);
    page_add(visit, "<pre class=\"typed\">%s<span class=\"here\"></span>%s</pre>",
             arena_copy_length(visit->arena, line, before), line + before);
}

/* True where an earlier fault says the same: the load was tried on several branches. */
static bool was_said(const struct error *error, size_t at)
{
    const struct error_fault *fault = &error->faults[at];
    bool said = false;
    for (size_t i = 0; i < at && !said; i++) {
        const struct error_fault *other = &error->faults[i];
        said = fault->key == other->key && strcmp(fault->reason, other->reason) == 0 &&
               (fault->value == NULL || other->value == NULL ? fault->value == other->value
                                                             : strcmp(fault->value, other->value) == 0);
    }
    return said;
}

/* What else is wrong with a load that was typed, each once: the person did not write the section in which it is. */
static void add_further(struct visit *visit)
{
    const struct error *error = &visit->error;
    for (size_t i = 1; i < error->fault_count; i++) {
        const struct error_fault *fault = &error->faults[i];
        const struct guide_field *field = fault->key == NULL ? NULL : guide_field_of(KIND_APPLIANCE, fault->key);
        const char *label = field == NULL ? NULL : guide_field_label(visit, field);
        if (!was_said(error, i)) {
            page_add(visit, "<p>%s%s%s</p>", label == NULL ? "" : label, label == NULL ? "" : ": ",
                     guide_fault_reason(visit, fault));
        }
    }
}

void page_refused(struct visit *visit, const char *label)
{
    const char *words = own_words(visit);
    const char *more = strchr(words, '\n');
    page_add(visit, "<div role=\"alert\"><p>");
    if (label != NULL) {
        page_add(visit, "<a href=\"#wrong\">%s</a>: ", label);
    }
    page_add(visit, "%s</p>", first_line(visit, words));
    add_further(visit);
    if (more != NULL) {
        add_typed(visit, more + 1);
    }
    page_add(visit, "</div>\n");
}

void page_refusal(struct visit *visit, const struct input *inputs, size_t count)
{
    const char *label = NULL;
    for (size_t i = 0; i < count && label == NULL && visit->error.part != NULL; i++) {
        label = strcmp(visit->error.part, inputs[i].name) == 0 ? label_of(visit, &inputs[i]) : NULL;
    }
    if (error_is_set(&visit->error)) {
        page_refused(visit, label);
    }
}

/* Why it is refused; NULL: it is not. */
static const char *wrong_of(struct visit *visit, const struct input *input)
{
    return input->id != NULL ? input->wrong : is_wrong(visit, input) ? first_line(visit, own_words(visit)) : NULL;
}

/* What only a line of text has: an example, and how it is typed. */
static void add_text_attributes(struct visit *visit, const struct input *input, const char *value)
{
    const struct guide_field *row = row_of(input);
    const struct key *key = input_key(input);
    const char *example = input->example != NULL || row == NULL ? input->example : guide_field_example(visit, row);
    page_add(visit, " value=\"%s\"", value);
    if (example != NULL) {
        page_add(visit, " placeholder=\"%s\"", example);
    }
    if (input->more == NULL && key != NULL) {
        page_add(visit, key->dimension == DIMENSION_CURRENT ? " inputmode=\"decimal\"" : "");
        page_add(visit, input->kind == KIND_APPLIANCE && strcmp(input->key, "name") == 0 ? " list=\"typical\"" : "");
    }
}

static void add_control(struct visit *visit, const struct input *input, const char *value, bool wrong)
{
    const bool choice = is_choice(input);
    page_add(visit, choice ? "<select" : "<input");
    if (!choice) {
        add_text_attributes(visit, input, value);
    }
    text_add(&visit->answer.body, input->more == NULL ? "" : input->more);
    page_add(visit, " name=\"%s\"", input->name);
    if (input->id != NULL || wrong) {
        page_add(visit, " id=\"%s\"", input->id == NULL ? "wrong" : input->id);
    }
    page_add(visit, input->needed && (!choice || input->none != NULL) ? " required" : "");
    page_add(visit, wrong ? " aria-invalid=\"true\"" : "");
    if (input->id != NULL && (wrong || input->help != NULL)) {
        page_add(visit, " aria-describedby=\"%s-%s\"", input->id, wrong ? "wrong" : "help");
    }
    page_add(visit, input->id == NULL && wrong && !is_described(input) ? " aria-describedby=\"why\"" : "");
    page_add(visit, input->focus || (input->id == NULL && wrong) ? " autofocus>" : ">");
    if (choice) {
        add_options(visit, input, value);
        page_add(visit, "</select>");
    }
}

/* Below its control: why it is refused, and its help. */
static void add_below(struct visit *visit, const struct input *input, const char *wrong)
{
    if (wrong != NULL) {
        page_add(visit, "<small class=\"wrong\" id=\"%s%s\">%s</small>", input->id,
                 input->id == NULL ? "why" : "-wrong", wrong);
    }
    if (input->help != NULL) {
        page_add(visit, "<small id=\"%s-help\">%s</small>", input->id, input->help);
    }
}

void page_input(struct visit *visit, const struct input *input, const char *value)
{
    const char *wrong = wrong_of(visit, input);
    const char *needed = input->needed ? " (needed)" : "";
    if (input->id == NULL) {
        page_add(visit, "<label>%s%s ", label_of(visit, input), needed);
    } else {
        page_add(visit, "<div class=\"field\"><label for=\"%s\">%s%s</label>", input->id, label_of(visit, input),
                 needed);
    }
    page_add(visit, input->beside == NULL ? "" : "<span class=\"pair\">");
    add_control(visit, input, value, wrong != NULL);
    if (input->beside != NULL) {
        input->beside(visit, input);
        page_add(visit, "</span>");
    }
    add_below(visit, input, wrong);
    page_add(visit, input->id == NULL ? "</label> " : "</div>");
}

void page_inputs(struct visit *visit, const struct input *inputs, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        page_input(visit, &inputs[i], form_value(&visit->query, inputs[i].name));
    }
}

void page_more_inputs(struct visit *visit, const struct input *input, const char *further, size_t least)
{
    size_t count = 0;
    const char *const *sent = form_all(&visit->query, input->name, visit->arena, &count);
    for (size_t i = 0; i <= count || i < least; i++) {
        struct input line = *input;
        line.label = arena_printf(visit->arena, "%s %zu", input->label, i + 1);
        line.example = i == 0 ? input->example : further;
        line.place = i;
        page_input(visit, &line, i < count ? sent[i] : "");
    }
}

const char *input_given(struct visit *visit, const struct input *input)
{
    const char *given = form_given(&visit->query, input->name);
    return given == NULL ? NULL : typed_value(visit->arena, input_key(input), given);
}

void page_hidden(struct visit *visit, const char *name, const char *value)
{
    page_add(visit, "<input type=\"hidden\" name=\"%s\" value=\"%s\">", name, value);
}

void page_hidden_pairs(struct visit *visit, struct form *pairs)
{
    for (size_t i = 0; i < pairs->count; i++) {
        page_hidden(visit, pairs->field[i].name, pairs->field[i].value);
    }
    form_done(pairs);
}

const char *page_address(struct visit *visit, const char *path, struct form *pairs)
{
    struct text address = {0};
    text_printf(&address, "%s?", path);
    form_query(pairs, &address);
    form_done(pairs);
    return arena_text(visit->arena, &address);
}

void page_switch(struct visit *visit, const struct appliance *appliance, size_t units, bool named)
{
    const bool one = appliance->count == 1;
    page_add(visit,
             one ? "<label><input type=\"checkbox\" name=\"on\" value=\"%s\""
                 : "<label><input type=\"number\" name=\"n-%s\"",
             appliance->id);
    if (named) {
        page_add(visit, " id=\"on-%s\"", appliance->id);
    }
    if (one) {
        page_add(visit, units > 0 ? " checked> %s</label>" : "> %s</label>", appliance->name);
    } else {
        page_add(visit, " min=\"0\" max=\"%zu\" value=\"%zu\"> ", (size_t)appliance->count, units);
        page_say(visit, "board.units", "number", page_count(visit, appliance->count), "name", appliance->name);
        page_add(visit, "</label>");
    }
}
