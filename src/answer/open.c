#include "ampsum/answer_open.h"

#include <string.h>
#include <sys/stat.h>

#include "ampsum/housefile.h"
#include "ampsum/store.h"
#include "ampsum/words.h"

bool house_is_database(const char *path)
{
    return store_is_database(path) || words_end_with(path, ".db");
}

bool house_open(const char *path, struct house **ret_house, struct error *error)
{
    if (!house_is_database(path)) {
        return housefile_read(path, ret_house, error);
    }
    struct store *store = NULL;
    if (!store_open(path, STORE_READ, &store, error)) {
        return false;
    }
    const bool read = store_read_house(store, ret_house, error);
    store_close(store);
    return read;
}

bool house_readings(const char *path, struct meter_reading **ret_readings, size_t *ret_count, struct error *error)
{
    struct store *store = NULL;
    const bool read =
        store_open(path, STORE_READ, &store, error) && store_meter_read(store, ret_readings, ret_count, error);
    store_close(store);
    return read;
}

bool readings_open(const char *path, const char *file, const struct meter_options *options, struct meter_set *ret_set,
                   struct error *error)
{
    *ret_set = (struct meter_set){0};
    if (file != NULL) {
        return meter_read_file(file, options, ret_set, error);
    }
    if (!store_is_database(path)) {
        error_set(error, ERROR_INPUT,
                  "%s: a house file holds no readings, expected --file FILE, or a house database with readings", path);
        return false;
    }
    const bool good = house_readings(path, &ret_set->readings, &ret_set->count, error);
    if (good && ret_set->count == 0) {
        error_set(error, ERROR_INPUT, "%s: no meter readings stored, expected some from ampsum import --meter FILE %s",
                  path, path);
    }
    return good && ret_set->count > 0;
}

/* Those of a file, where energy fed back is counted, or those stored, perhaps none. */
static bool open_meter(const char *path, const char *file, const struct meter_options *options,
                       struct meter_set *ret_set, struct error *error)
{
    struct meter_options net = *options;
    net.net = true;
    if (file != NULL) {
        return meter_read_file(file, &net, ret_set, error);
    }
    if (!store_is_database(path)) {
        error_set(error, ERROR_INPUT,
                  "--measured meter: a house file holds no meter readings, expected a house database or a meter file");
        return false;
    }
    return house_readings(path, &ret_set->readings, &ret_set->count, error);
}

static void refuse_measured(const char *said, struct error *error)
{
    struct text shown = {0};
    text_add_shown(&shown, said);
    error_set(error, ERROR_INPUT,
              "--measured %s: expected a figure above zero in W, kW, VA, kVA or A, such as '11.2 kW', a meter file, or "
              "the word meter for what the house database holds",
              text_string(&shown));
    text_done(&shown);
}

bool demand_open_measured(const struct house *house, const char *path, const char *said,
                          const struct meter_options *options, struct demand_question *question,
                          struct meter_set *ret_set, struct error *error)
{
    static const struct meter_reading nothing = {0};
    struct stat status;
    *ret_set = (struct meter_set){0};
    if (said == NULL || demand_read_measured(house, question->panel, said, &question->measured_va)) {
        return true;
    }
    const bool stored = strcmp(said, "meter") == 0;
    if (!stored && stat(said, &status) != 0) {
        refuse_measured(said, error);
        return false;
    }
    const bool good = open_meter(path, stored ? NULL : said, options, ret_set, error);
    question->readings = ret_set->count > 0 ? ret_set->readings : &nothing;
    question->reading_count = ret_set->count;
    question->fed_back = ret_set->net_count > 0 || ret_set->reverse_count > 0;
    return good;
}
