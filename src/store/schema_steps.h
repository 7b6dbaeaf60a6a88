/*
 * The steps that make a house database, built from schema/steps/NNN_what.sql by src/tools/embed.c. The version of a
 * database (user_version) is the number of steps that made it.
 */
#ifndef AMPSUM_STORE_SCHEMA_STEPS_H
#define AMPSUM_STORE_SCHEMA_STEPS_H

#include <stddef.h>

/* A row of sqlite_schema, by type and name. `sql` is "" for what SQLite made by itself. */
struct schema_object {
    const char *type;
    const char *name;
    const char *table;
    const char *sql;
};

struct schema_step {
    const char *name; /* of its file */
    const char *sql;
    const struct schema_object *objects; /* the whole of sqlite_schema after it */
    size_t object_count;
};

extern const struct schema_step schema_steps[];
extern const int schema_step_count;

#endif
