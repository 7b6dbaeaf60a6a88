#include "ampsum/answer_open.h"

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
