#include "ampsum/answer_typical.h"

#include <string.h>

static bool same_source(const struct ref_typical *a, const struct ref_typical *b)
{
    return strcmp(a->source, b->source) == 0 && strcmp(a->edition, b->edition) == 0;
}

static void find_sources(struct typical_answer *answer)
{
    for (size_t i = 0; i < answer->count; i++) {
        bool seen = false;
        for (size_t j = 0; j < answer->source_count; j++) {
            seen = seen || same_source(answer->sources[j], answer->rows[i]);
        }
        if (!seen) {
            answer->sources[answer->source_count++] = answer->rows[i];
        }
    }
}

static void refuse(const char *word, const char *rules, struct error *error)
{
    const struct ref_typical *row;
    bool near;
    if (rules != NULL && reference_typical_find(word, NULL, &row, 1, &near) > 0) {
        error_set(error, ERROR_INPUT, "%s: the %s rules have no typical rating for it", word, rules);
    } else {
        error_set(error, ERROR_INPUT,
                  "%s: no typical rating is near this word; expected an appliance's name such as kettle or heater",
                  word);
    }
}

bool answer_typical(const char *word, const char *rules, struct arena *arena, struct typical_answer *ret_answer,
                    struct error *error)
{
    *ret_answer = (struct typical_answer){.word = word};
    ret_answer->rows = arena_array(arena, ref_typical_count, sizeof *ret_answer->rows);
    ret_answer->sources = arena_array(arena, ref_typical_count, sizeof *ret_answer->sources);
    ret_answer->count = reference_typical_find(word, rules, ret_answer->rows, ref_typical_count, &ret_answer->near);
    if (ret_answer->count == 0) {
        refuse(word, rules, error);
        return false;
    }
    find_sources(ret_answer);
    return true;
}

size_t typical_of_house(const char *word, const char *rules, const struct ref_typical **ret_rows, size_t most,
                        bool *ret_near)
{
    size_t count = reference_typical_find(word, rules, ret_rows, most, ret_near);
    if (count == 0 || *ret_near) {
        count = reference_typical_find(word, NULL, ret_rows, most, ret_near);
    }
    return *ret_near ? reference_typical_find(word, rules, ret_rows, most, ret_near) : count;
}
