/* Changes of a house database: what is written, the journal, undo and redo, upgrades, and what goes wrong on the way.
 */
#include "runner.h"

#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <sqlite3.h>

#include "../../src/store/internal.h"
#include "ampsum/keys.h"
#include "ampsum/values.h"
#include "store_files.h"
#include "store_house.h"

enum { STEPS = 12, SERIES = 25, OLD_VERSIONS = 6 };

static void create_some(unsigned seed, size_t appliances)
{
    struct dice dice = {seed * 2654435761U + 88172645463325252ULL};
    struct house *house = house_by_chance(&dice, appliances);
    struct error error = {0};
    ck_assert_msg(store_create(files_path(), house, true, &error), "%s", error_message(&error));
    house_free(house);
}

static struct store *open_to_write(void)
{
    struct error error = {0};
    struct store *store = NULL;
    ck_assert_msg(store_open(files_path(), STORE_WRITE, &store, &error), "%s", error_message(&error));
    return store;
}

static struct house *read_house(struct store *store)
{
    struct error error = {0};
    struct house *house = NULL;
    ck_assert_msg(store_read_house(store, &house, &error), "%s", error_message(&error));
    return house;
}

static void assert_equal(const struct house *a, const struct house *b)
{
    const char *where = NULL;
    ck_assert_msg(houses_equal(a, b, &where), "differs in %s", where);
}

/* ------------------------------------------------------------------ edits by hand ------------------------- */

static void edit_value(struct house *house, struct dice *dice)
{
    static const char *const watts[] = {"0.1 W", "2 W", "3.75 W"};
    size_t row = dice_throw(dice, (unsigned)house->appliance_count);
    give(house, KIND_APPLIANCE, row, "standby", watts[dice_throw(dice, 3)]);
    give(house, KIND_APPLIANCE, row, "name", dice_throw(dice, 2) == 0 ? "Kettle" : "Müller's lamp");
}

static void edit_house(struct house *house, struct dice *dice)
{
    give(house, KIND_HOUSE, 0, "ambient", dice_throw(dice, 2) == 0 ? "22 C" : "-1.5 C");
    give(house, KIND_ROOM, dice_throw(dice, 3), "floor", dice_throw(dice, 2) == 0 ? "attic" : "2");
}

static void edit_take_back(struct house *house, struct dice *dice)
{
    struct appliance *appliance = &house->appliances[dice_throw(dice, (unsigned)house->appliance_count)];
    appliance->given &= ~key_bit(&sections[KIND_APPLIANCE], section_key(&sections[KIND_APPLIANCE], "use"));
    appliance->given &= ~key_bit(&sections[KIND_APPLIANCE], section_key(&sections[KIND_APPLIANCE], "hours"));
}

static void edit_add(struct house *house, struct dice *dice)
{
    size_t count = house->appliance_count;
    struct appliance *old = house->appliances;
    struct appliance *rows = house_add_rows(house, KIND_APPLIANCE, count + 1);
    memcpy(rows, old, count * sizeof *rows);
    struct text id = {0};
    text_printf(&id, "new-%u", dice_throw(dice, 1000000));
    rows[count].id = arena_copy(house->arena, text_string(&id));
    text_done(&id);
    give(house, KIND_APPLIANCE, count, "name", "New one");
    give(house, KIND_APPLIANCE, count, "power", "60 W");
    give_row(house, KIND_APPLIANCE, count, "branch", dice_throw(dice, (unsigned)house->branch_count));
}

/* Takes an appliance out, from the scenes first. */
static void edit_remove(struct house *house, struct dice *dice)
{
    if (house->appliance_count < 4) {
        return;
    }
    size_t row = dice_throw(dice, (unsigned)house->appliance_count);
    for (size_t i = 0; i < house->scene_count; i++) {
        struct scene_list *on = &house->scenes[i].on;
        size_t left = 0;
        for (size_t k = 0; k < on->count; k++) {
            struct scene_member member = on->member[k];
            if (member.appliance != row) {
                member.appliance -= member.appliance > row ? 1 : 0;
                on->member[left++] = member;
            }
        }
        on->count = left;
    }
    size_t scenes = 0;
    for (size_t i = 0; i < house->scene_count; i++) {
        if (house->scenes[i].on.count > 0) {
            house->scenes[scenes++] = house->scenes[i];
        }
    }
    house->scene_count = scenes;
    memmove(&house->appliances[row], &house->appliances[row + 1],
            (house->appliance_count - row - 1) * sizeof house->appliances[0]);
    house->appliance_count--;
}

static void edit_lists(struct house *house, struct dice *dice)
{
    struct branch *branch = &house->branches[dice_throw(dice, (unsigned)house->branch_count)];
    size_t count = 1 + dice_throw(dice, 2);
    branch->serves = (struct index_list){arena_array(house->arena, count, sizeof(size_t)), count};
    for (size_t i = 0; i < count; i++) {
        branch->serves.index[i] = (i + dice_throw(dice, 2)) % 3;
    }
    branch->serves.count = count == 2 && branch->serves.index[0] == branch->serves.index[1] ? 1 : count;
    branch->given |= key_bit(&sections[KIND_BRANCH], section_key(&sections[KIND_BRANCH], "serves"));
    if (house->scene_count > 0) {
        house->scenes[0].on.member[0].units ^= 1;
    }
}

static void edit_rename(struct house *house, struct dice *dice)
{
    struct text id = {0};
    text_printf(&id, "renamed-%u", dice_throw(dice, 1000000));
    house->rooms[dice_throw(dice, 3)].id = arena_copy(house->arena, text_string(&id));
    text_done(&id);
}

static void (*const edits[])(struct house *, struct dice *) = {edit_value,  edit_house, edit_take_back, edit_add,
                                                               edit_remove, edit_lists, edit_rename};

/* A few edits of any kind (NULL) or one of a kind in one transaction; returns the house as it is then. */
static struct house *change(struct store *store, struct dice *dice, void (*edit)(struct house *, struct dice *),
                            const char *command)
{
    struct error error = {0};
    ck_assert_msg(store_begin(store, &error), "%s", error_message(&error));
    struct house *before = read_house(store);
    struct house *after = read_house(store);
    for (unsigned i = edit != NULL ? 1 : dice_throw(dice, 3) + 1; i > 0; i--) {
        (edit != NULL ? edit : edits[dice_throw(dice, sizeof edits / sizeof edits[0])])(after, dice);
    }
    ck_assert_msg(store_change(store, before, after, command, &error), "%s", error_message(&error));
    ck_assert_msg(store_commit(store, &error), "%s", error_message(&error));
    house_free(before);
    house_free(after);
    return read_house(store);
}

static void turn(struct store *store, bool undo, bool there)
{
    struct error error = {0};
    struct text what = {0};
    ck_assert_msg((undo ? store_undo : store_redo)(store, &what, &error), "%s", error_message(&error));
    ck_assert_str_eq(text_string(&what), there ? "an edit" : "");
    text_done(&what);
}

/* ------------------------------------------------------------------ undo and redo ------------------------- */

START_TEST(undo_gives_back_every_house_on_the_way)
{
    struct dice dice = {(uint64_t)_i * 7919 + 12345};
    create_some((unsigned)_i, 8);
    struct store *store = open_to_write();
    struct house *houses[STEPS + 1] = {read_house(store)};
    int last = 0;
    for (int i = 0; i < STEPS; i++) {
        struct house *house = change(store, &dice, NULL, "an edit");
        const char *where = NULL;
        if (houses_equal(house, houses[last], &where)) {
            house_free(house); /* the edits of this step undid each other: nothing to journal */
        } else {
            houses[++last] = house;
        }
    }
    ck_assert_int_gt(last, STEPS / 2);
    for (int round = 0; round < 2; round++) {
        for (int i = last - 1; i >= 0; i--) {
            turn(store, true, true);
            struct house *house = read_house(store);
            assert_equal(house, houses[i]);
            house_free(house);
        }
        turn(store, true, false);
        for (int i = 1; i <= last; i++) {
            turn(store, false, true);
            struct house *house = read_house(store);
            assert_equal(house, houses[i]);
            house_free(house);
        }
        turn(store, false, false);
    }
    for (int i = 0; i <= last; i++) {
        house_free(houses[i]);
    }
    store_close(store);
}
END_TEST

START_TEST(change_after_undo_drops_what_was_undone)
{
    struct dice dice = {5};
    create_some(1, 8);
    struct store *store = open_to_write();
    for (int i = 0; i < 3; i++) {
        house_free(change(store, &dice, edit_add, "an edit"));
    }
    turn(store, true, true);
    turn(store, true, true);
    house_free(change(store, &dice, edit_add, "another way"));
    turn(store, false, false);
    ck_assert_int_eq(files_number(files_path(), "SELECT count(*) FROM journal"), 2);
    store_close(store);
}
END_TEST

START_TEST(only_what_differs_is_written)
{
    create_some(2, 8);
    struct store *store = open_to_write();
    struct error error = {0};
    struct house *before = read_house(store);
    struct house *after = read_house(store);
    ck_assert(store_begin(store, &error));
    int start = sqlite3_total_changes(store->db);
    ck_assert(store_change(store, before, after, "nothing", &error));
    ck_assert_int_eq(sqlite3_total_changes(store->db), start);
    give(after, KIND_APPLIANCE, 3, "name", "Renamed");
    ck_assert(store_change(store, before, after, "rename", &error));
    ck_assert_int_eq(sqlite3_total_changes(store->db), start + 2); /* the row and the journal's */
    ck_assert(store_commit(store, &error));
    store_close(store);
    house_free(before);
    house_free(after);
}
END_TEST

START_TEST(journal_says_what_changed)
{
    create_some(3, 4);
    struct store *store = open_to_write();
    struct error error = {0};
    struct house *before = read_house(store);
    struct house *after = read_house(store);
    give(after, KIND_HOUSE, 0, "main_breaker", "125 A");
    after->appliances[2].id = "moved-in";
    after->scene_count = 1;
    ck_assert(store_begin(store, &error));
    ck_assert_msg(store_change(store, before, after, "set main_breaker=125", &error), "%s", error_message(&error));
    ck_assert(store_commit(store, &error));
    struct arena *arena = arena_new();
    struct journal_entry *entries = NULL;
    size_t count = 0;
    ck_assert(store_journal(store, arena, &entries, &count, &error));
    ck_assert_uint_eq(count, 1);
    ck_assert_str_eq(entries[0].command, "set main_breaker=125");
    ck_assert_str_eq(entries[0].changes, "scene scene-1: removed\nappliance appliance-2: removed\n"
                                         "house: main_breaker 100 A -> 125 A\nappliance moved-in: added");
    ck_assert_uint_eq(strlen(entries[0].time), strlen("2026-01-31T18:30:00Z"));
    ck_assert(!entries[0].undone);
    arena_free(arena);
    house_free(before);
    house_free(after);
    store_close(store);
}
END_TEST

static void change_as(struct store *store, const char *command, const char *watts)
{
    struct error error = {0};
    struct house *before = read_house(store);
    struct house *after = read_house(store);
    give(after, KIND_APPLIANCE, 0, "standby", watts);
    ck_assert(store_begin(store, &error));
    ck_assert_msg(store_change(store, before, after, command, &error), "%s", error_message(&error));
    ck_assert(store_commit(store, &error));
    house_free(before);
    house_free(after);
}

static void undo_one(struct store *store)
{
    struct text what = {0};
    struct error error = {0};
    ck_assert(store_undo(store, &what, &error));
    text_done(&what);
}

static struct journal_since since_of(struct store *store, const char *seen, struct arena *arena)
{
    struct journal_since since;
    struct error error = {0};
    ck_assert_msg(store_since(store, seen, arena, &since, &error), "%s", error_message(&error));
    return since;
}

/* A form saw two changes; one is taken back, named until another takes its number; then two stand that it never saw. */
START_TEST(what_was_done_since_a_form_was_opened)
{
    create_some(5, 4);
    struct store *store = open_to_write();
    struct arena *arena = arena_new();
    struct error error = {0};
    const char *seen = NULL;
    change_as(store, "one", "0.5 W");
    change_as(store, "two", "1.5 W");
    ck_assert_msg(store_seen(store, arena, &seen, &error), "%s", error_message(&error));
    struct journal_since since = since_of(store, seen, arena);
    ck_assert(since.known && since.made_count == 0 && since.gone_count == 0);
    undo_one(store);
    since = since_of(store, seen, arena);
    ck_assert(since.known && since.made_count == 0 && since.gone_count == 1 && since.gone != NULL);
    ck_assert_str_eq(since.gone[0].command, "two");
    change_as(store, "three", "2.5 W");
    change_as(store, "four", "3.5 W");
    since = since_of(store, seen, arena);
    ck_assert(since.known && since.gone_count == 1 && since.gone == NULL && since.made_count == 2);
    ck_assert_str_eq(since.made[0].command, "three");
    ck_assert_str_eq(since.made[1].command, "four");
    since = since_of(store, "7-0123456789abcdef", arena); /* of another house */
    ck_assert(!since.known && since.gone_count == 0 && since.made_count == 3);
    arena_free(arena);
    store_close(store);
}
END_TEST

START_TEST(rolled_back_change_leaves_no_trace)
{
    struct dice dice = {77};
    create_some(4, 8);
    struct store *store = open_to_write();
    struct house *first = read_house(store);
    struct error error = {0};
    ck_assert(store_begin(store, &error));
    struct house *after = read_house(store);
    edit_value(after, &dice);
    edit_add(after, &dice);
    ck_assert(store_change(store, first, after, "tried only", &error));
    store_rollback(store);
    struct house *now = read_house(store);
    assert_equal(first, now);
    ck_assert_int_eq(files_number(files_path(), "SELECT count(*) FROM journal"), 0);
    house_free(now);
    house_free(after);
    house_free(first);
    store_close(store);
}
END_TEST

START_TEST(house_changed_in_the_meantime_is_not_written_over)
{
    create_some(5, 4);
    struct store *store = open_to_write();
    struct error error = {0};
    struct house *before = read_house(store);
    struct house *after = read_house(store);
    files_sql(files_path(), "UPDATE room SET id = 'other' WHERE n = 1");
    ck_assert(store_begin(store, &error));
    ck_assert(!store_change(store, before, after, "late", &error));
    ck_assert_ptr_nonnull(strstr(error_message(&error), "changed in the meantime"));
    error_done(&error);
    store_close(store);
    house_free(before);
    house_free(after);
}
END_TEST

/* ------------------------------------------------------------------ spoilt journals ----------------------- */

/* What SQL makes of a file with one change in its journal: undoing it is refused and changes nothing. */
static const char *const spoilt_journals[] = {
    "UPDATE journal SET changeset = x'00'",
    "UPDATE journal SET changeset = x''",
    "UPDATE journal SET changeset = substr(changeset, 1, length(changeset) - 3)",
    "UPDATE journal SET changeset = randomblob(200)",
    "UPDATE journal SET command = char(27) || 'c'",
    "UPDATE appliance SET standby_w = 99 WHERE n = 1",
    "DELETE FROM scene_on; DELETE FROM scene; DELETE FROM appliance WHERE n = 1",
};

START_TEST(undo_that_does_not_fit_changes_nothing)
{
    create_some(6, 4);
    struct store *store = open_to_write();
    struct error error = {0};
    struct house *before = read_house(store);
    struct house *after = read_house(store);
    give(after, KIND_APPLIANCE, 0, "standby", "12 W");
    ck_assert(store_begin(store, &error));
    ck_assert(store_change(store, before, after, "an edit", &error));
    ck_assert(store_commit(store, &error));
    house_free(before);
    house_free(after);
    files_sql(files_path(), spoilt_journals[_i]);
    struct house *spoilt = read_house(store);
    struct text what = {0};
    ck_assert(!store_undo(store, &what, &error));
    ck_assert_int_eq(error.code, ERROR_STORE);
    ck_assert_str_eq(text_string(&what), "");
    struct house *now = read_house(store);
    assert_equal(spoilt, now);
    ck_assert_int_eq(files_number(files_path(), "SELECT count(*) FROM journal WHERE undone = 1"), 0);
    house_free(now);
    house_free(spoilt);
    error_done(&error);
    store_close(store);
}
END_TEST

/* ------------------------------------------------------------------ kills and full disks ------------------ */

/* The change stands in the file, the transaction is not ended, the program is gone: the next one sees the old house. */
static void die_in_a_change(void)
{
    struct dice dice = {3};
    struct store *store = open_to_write();
    struct house *before = read_house(store);
    struct house *after = read_house(store);
    for (int i = 0; i < 20; i++) {
        edit_add(after, &dice);
    }
    bool ok = store_begin(store, NULL) && store_change(store, before, after, "cut short", NULL) &&
              sqlite3_db_cacheflush(store->db) == SQLITE_OK;
    _exit(ok ? 0 : 1);
}

START_TEST(killed_in_a_change_is_as_before)
{
    create_some(7, 30);
    struct error error = {0};
    struct house *first = files_read(files_path(), &error);
    pid_t child = fork();
    if (child == 0) {
        die_in_a_change();
    }
    int status = 0;
    ck_assert_int_eq(waitpid(child, &status, 0), child);
    ck_assert_int_eq(status, 0);
    ck_assert_uint_eq(files_count(), 2); /* the rollback journal was left behind */
    struct house *now = NULL;
    if (_i == 0) {
        now = files_read(files_path(), &error);
    } else {
        struct store *store = open_to_write();
        now = read_house(store);
        store_close(store);
    }
    ck_assert_msg(now != NULL, "%s", error_message(&error));
    assert_equal(first, now);
    ck_assert_uint_eq(files_count(), 1);
    house_free(now);
    house_free(first);
}
END_TEST

/* The rollback journal of a killed change must not be taken for one of the file that comes in its place. */
START_TEST(file_with_unfinished_change_is_replaced_whole)
{
    create_some(8, 30);
    pid_t child = fork();
    if (child == 0) {
        die_in_a_change();
    }
    ck_assert_int_eq(waitpid(child, NULL, 0), child);
    create_some(9, 12);
    struct error error = {0};
    struct house *now = files_read(files_path(), &error);
    ck_assert_msg(now != NULL, "%s", error_message(&error));
    ck_assert_uint_eq(now->appliance_count, 12);
    ck_assert_uint_eq(files_count(), 1);
    house_free(now);
}
END_TEST

START_TEST(full_disk_in_a_change_is_as_before)
{
    create_some(10, 30);
    struct error error = {0};
    struct house *first = files_read(files_path(), &error);
    long bytes = files_number(files_path(), "SELECT page_count * page_size FROM pragma_page_count, pragma_page_size");
    pid_t child = fork();
    if (child == 0) {
        struct dice dice = {3};
        signal(SIGXFSZ, SIG_IGN);
        struct rlimit limit = {(rlim_t)bytes, (rlim_t)bytes};
        struct store *store = open_to_write();
        struct house *before = read_house(store);
        struct house *after = read_house(store);
        for (int i = 0; i < 2000; i++) {
            edit_add(after, &dice);
        }
        bool well = setrlimit(RLIMIT_FSIZE, &limit) == 0 && store_begin(store, &error) &&
                    !(store_change(store, before, after, "too much", &error) && store_commit(store, &error)) &&
                    error.code == ERROR_STORE;
        store_close(store);
        _exit(well ? 0 : 1);
    }
    int status = 0;
    ck_assert_int_eq(waitpid(child, &status, 0), child);
    ck_assert_int_eq(status, 0);
    struct house *now = files_read(files_path(), &error);
    ck_assert_msg(now != NULL, "%s", error_message(&error));
    assert_equal(first, now);
    house_free(now);
    house_free(first);
}
END_TEST

/* ------------------------------------------------------------------ upgrades ------------------------------ */

/* tests/golden/version-N.db was made by the first N steps alone; each holds the same house. */
static void take_old_file(int version)
{
    const char *tests = getenv("AMPSUM_TESTS");
    ck_assert_ptr_nonnull(tests);
    struct text from = {0};
    text_printf(&from, "%s/golden/version-%d.db", tests, version);
    FILE *stream = fopen(text_string(&from), "rb");
    ck_assert_ptr_nonnull(stream);
    static char bytes[1 << 20];
    size_t length = fread(bytes, 1, sizeof bytes, stream);
    ck_assert_uint_gt(length, 0);
    ck_assert_uint_lt(length, sizeof bytes);
    fclose(stream);
    files_write(files_path(), -1, bytes, length);
    text_done(&from);
}

START_TEST(old_file_is_upgraded_when_it_is_written)
{
    take_old_file(_i);
    ck_assert_int_eq(files_number(files_path(), "PRAGMA user_version"), _i);
    struct error error = {0};
    ck_assert_ptr_null(files_read(files_path(), &error));
    ck_assert_int_eq(error.code, ERROR_STORE);
    ck_assert_ptr_nonnull(strstr(error_message(&error), "made by an older ampsum"));
    error_done(&error);
    ck_assert_int_eq(files_number(files_path(), "PRAGMA user_version"), _i);
    struct store *store = open_to_write();
    struct dice dice = {4};
    struct house *house = read_house(store);
    ck_assert_str_eq(house->name, "An old house");
    ck_assert_uint_eq(house->appliance_count, 2);
    ck_assert_str_eq(house->appliances[1].id, "kettle");
    ck_assert(house->appliances[1].power_w == 2000);
    struct house *changed = change(store, &dice, edit_add, "an edit");
    turn(store, true, true);
    struct house *back = read_house(store);
    assert_equal(house, back);
    store_close(store);
    struct house *read = files_read(files_path(), &error);
    ck_assert_msg(read != NULL, "%s", error_message(&error));
    assert_equal(house, read);
    house_free(read);
    house_free(back);
    house_free(changed);
    house_free(house);
}
END_TEST

struct old_value {
    enum kind kind;
    size_t row;
    const char *key;
    const char *value;
};

/* What tests/golden/version-5.db was made of beside: the house, which step 6 makes anew, holds every column. */
static const struct old_value house_values[] = {
    {KIND_HOUSE, 0, "service_rating", "90 A"}, {KIND_HOUSE, 0, "service_wire", "4 AWG copper"},
    {KIND_HOUSE, 0, "service_run", "40 ft"},   {KIND_HOUSE, 0, "generation", "yes"},
    {KIND_HOUSE, 0, "code_edition", "2020"},   {KIND_HOUSE, 0, "built", "1990"},
    {KIND_HOUSE, 0, "earthing", "grounded"},   {KIND_HOUSE, 0, "pscc", "5000 A"},
    {KIND_HOUSE, 0, "transformer", "25 kVA"},  {KIND_HOUSE, 0, "transformer_z", "2%"},
};

/* What tests/golden/version-4.db was made of: the tables that step 5 makes anew hold every column. */
static const struct old_value old_values[] = {
    {KIND_HOUSE, 0, "rules", "us"},
    {KIND_HOUSE, 0, "system", "split-phase"},
    {KIND_HOUSE, 0, "voltage", "115 V"},
    {KIND_HOUSE, 0, "frequency", "60"},
    {KIND_HOUSE, 0, "main_breaker", "100 A"},
    {KIND_HOUSE, 0, "floor_area", "1500 ft2"},
    {KIND_HOUSE, 0, "currency", "CAD"},
    {KIND_HOUSE, 0, "tariff", "flat"},
    {KIND_HOUSE, 0, "billing_days", "31"},
    {KIND_HOUSE, 0, "ambient", "-5 C"},
    {KIND_PANEL, 0, "name", "Hall"},
    {KIND_PANEL, 1, "name", "Shed"},
    {KIND_PANEL, 1, "from", "main"},
    {KIND_PANEL, 1, "breaker", "60 A"},
    {KIND_PANEL, 1, "poles", "2"},
    {KIND_PANEL, 1, "legs", "AB"},
    {KIND_PANEL, 1, "wire", "6 AWG copper"},
    {KIND_PANEL, 1, "method", "D"},
    {KIND_PANEL, 1, "length", "40 ft"},
    {KIND_ROOM, 0, "name", "Kitchen"},
    {KIND_ROOM, 0, "floor", "1"},
    {KIND_ROOM, 0, "area", "120 ft2"},
    {KIND_BRANCH, 0, "label", "Sockets"},
    {KIND_BRANCH, 0, "panel", "shed"},
    {KIND_BRANCH, 0, "position", "3"},
    {KIND_BRANCH, 0, "breaker", "20 A"},
    {KIND_BRANCH, 0, "trip", "inverse-time"},
    {KIND_BRANCH, 0, "poles", "1"},
    {KIND_BRANCH, 0, "legs", "A"},
    {KIND_BRANCH, 0, "wire", "12 AWG copper"},
    {KIND_BRANCH, 0, "method", "A1"},
    {KIND_BRANCH, 0, "layout", "ring"},
    {KIND_BRANCH, 0, "return", "9 ft"},
    {KIND_BRANCH, 0, "serves", "kitchen"},
    {KIND_BRANCH, 0, "purpose", "small-appliance"},
    {KIND_BRANCH, 0, "protection", "gfci, afci"},
    {KIND_BRANCH, 1, "length", "33 ft"},
    {KIND_OUTLET, 0, "branch", "b"},
    {KIND_OUTLET, 0, "room", "kitchen"},
    {KIND_OUTLET, 0, "name", "By the sink"},
    {KIND_OUTLET, 0, "run", "7 ft"},
    {KIND_OUTLET, 0, "rating", "20 A"},
    {KIND_OUTLET, 1, "from", "o"},
    {KIND_APPLIANCE, 0, "name", "Lamp"},
    {KIND_APPLIANCE, 0, "branch", "c"},
    {KIND_APPLIANCE, 0, "room", "kitchen"},
    {KIND_APPLIANCE, 0, "apparent", "60 VA"},
    {KIND_APPLIANCE, 0, "rated_voltage", "120 V"},
    {KIND_APPLIANCE, 0, "power_factor", "0.9"},
    {KIND_APPLIANCE, 0, "behaviour", "electronic"},
    {KIND_APPLIANCE, 0, "count", "3"},
    {KIND_APPLIANCE, 0, "fixed", "yes"},
    {KIND_APPLIANCE, 0, "continuous", "no"},
    {KIND_APPLIANCE, 0, "use", "06:00-08:00"},
    {KIND_APPLIANCE, 0, "hours", "0.5 h"},
    {KIND_APPLIANCE, 0, "days", "weekend"},
    {KIND_APPLIANCE, 0, "months", "nov-mar"},
    {KIND_APPLIANCE, 0, "duty", "50%"},
    {KIND_APPLIANCE, 0, "standby", "0.4 W"},
    {KIND_APPLIANCE, 0, "group", "climate"},
    {KIND_APPLIANCE, 0, "category", "lighting"},
    {KIND_APPLIANCE, 1, "outlet", "o"},
    {KIND_APPLIANCE, 1, "start_factor", "4"},
    {KIND_SCENE, 0, "on", "kettle, lamp*2"},
    {KIND_TARIFF, 0, "price", "0.2"},
    {KIND_TARIFF, 1, "blocks", "350: 0.14, rest: 0.24"},
    {KIND_PERIOD, 0, "tariff", "flat"},
    {KIND_PERIOD, 0, "hours", "23:00-05:00"},
};

static void assert_values(const struct house *house, const struct old_value *values, size_t value_count)
{
    for (size_t i = 0; i < value_count; i++) {
        const struct section *section = &sections[values[i].kind];
        const struct key *key = section_key(section, values[i].key);
        size_t count = 0;
        const char *rows = house_rows(house, values[i].kind, &count);
        ck_assert_uint_lt(values[i].row, count);
        const char *row = rows + values[i].row * house_row_size(values[i].kind);
        struct text value = {0};
        ck_assert_msg(key_is_given(section, key, row), "%s %s is gone", section->word, key->name);
        value_write(key, house, row, &value);
        ck_assert_str_eq(text_string(&value), values[i].value);
        text_done(&value);
    }
}

START_TEST(every_old_value_is_kept)
{
    enum { HOUSE_VALUES_SINCE = 5 };
    take_old_file(_i);
    struct store *store = open_to_write();
    struct house *house = read_house(store);
    store_close(store);
    assert_values(house, old_values, sizeof old_values / sizeof *old_values);
    if (_i >= HOUSE_VALUES_SINCE) {
        assert_values(house, house_values, sizeof house_values / sizeof *house_values);
    }
    ck_assert_int_eq(files_number(files_path(), "SELECT count(*) FROM pragma_foreign_key_check"), 0);
    house_free(house);
}
END_TEST

Suite *make_suite(void)
{
    Suite *suite = suite_create("store_change");
    TCase *changes = tcase_create("changes");
    tcase_add_checked_fixture(changes, files_init, files_done);
    tcase_set_timeout(changes, 60);
    tcase_add_loop_test(changes, undo_gives_back_every_house_on_the_way, 0, SERIES);
    tcase_add_test(changes, change_after_undo_drops_what_was_undone);
    tcase_add_test(changes, only_what_differs_is_written);
    tcase_add_test(changes, journal_says_what_changed);
    tcase_add_test(changes, what_was_done_since_a_form_was_opened);
    tcase_add_test(changes, rolled_back_change_leaves_no_trace);
    tcase_add_test(changes, house_changed_in_the_meantime_is_not_written_over);
    tcase_add_loop_test(changes, undo_that_does_not_fit_changes_nothing, 0,
                        (int)(sizeof spoilt_journals / sizeof spoilt_journals[0]));
    tcase_add_loop_test(changes, killed_in_a_change_is_as_before, 0, 2);
    tcase_add_test(changes, file_with_unfinished_change_is_replaced_whole);
    tcase_add_test(changes, full_disk_in_a_change_is_as_before);
    tcase_add_loop_test(changes, old_file_is_upgraded_when_it_is_written, 1, OLD_VERSIONS + 1);
    tcase_add_loop_test(changes, every_old_value_is_kept, 4, OLD_VERSIONS + 1);
    suite_add_tcase(suite, changes);
    return suite;
}
