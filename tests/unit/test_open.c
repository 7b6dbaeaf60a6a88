/* Opening a house. Links what reads files and databases, and no question. */
#include <stdlib.h>
#include <string.h>

#include "ampsum/answer_open.h"
#include "runner.h"

START_TEST(a_database_is_known_by_its_name_or_its_content)
{
    ck_assert(house_is_database("house.db"));
    ck_assert(house_is_database("nowhere/at-all.db"));
    ck_assert(!house_is_database("house.ini"));
    ck_assert(!house_is_database("house"));
}
END_TEST

START_TEST(a_house_file_is_opened)
{
    struct text path = {0};
    struct error error = {0};
    struct house *house = NULL;
    text_printf(&path, "%s/uk.ini", getenv("AMPSUM_DEMO"));
    ck_assert_msg(house_open(text_string(&path), &house, &error), "%s", error_message(&error));
    ck_assert_uint_gt(house->branch_count, 0);
    house_free(house);
    text_done(&path);
}
END_TEST

START_TEST(a_house_that_is_not_there_is_named)
{
    static const char *const paths[] = {"nowhere.ini", "nowhere.db"};
    for (size_t i = 0; i < sizeof paths / sizeof paths[0]; i++) {
        struct error error = {0};
        struct house *house = NULL;
        ck_assert(!house_open(paths[i], &house, &error));
        ck_assert_ptr_null(house);
        ck_assert_ptr_nonnull(strstr(error_message(&error), paths[i]));
        error_done(&error);
    }
}
END_TEST

Suite *make_suite(void)
{
    Suite *suite = suite_create("open");
    TCase *houses = tcase_create("houses");
    tcase_add_test(houses, a_database_is_known_by_its_name_or_its_content);
    tcase_add_test(houses, a_house_file_is_opened);
    tcase_add_test(houses, a_house_that_is_not_there_is_named);
    suite_add_tcase(suite, houses);
    return suite;
}
