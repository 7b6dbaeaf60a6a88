/* The local page: who may come in, what a form may bring, and that no name becomes markup. */
#include "runner.h"

#include <arpa/inet.h>
#include <fcntl.h>
#include <math.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <time.h>
#include <unistd.h>

#include "ampsum/html.h"
#include "ampsum/markup.h"
#include "ampsum/plain_words.h"
#include "ampsum/typed.h"
#include "apart.h"
#include "bookmark.h"
#include "form.h"
#include "guard.h"
#include "guide.h"
#include "peer.h"
#include "site.h"
#include "stamp.h"

enum { PORT = 4711 };

static struct guard make_guard(void)
{
    struct guard guard;
    ck_assert(guard_init(&guard, PORT));
    return guard;
}

/* ---- words of the terminal in the page's words */

START_TEST(words_of_the_terminal_become_the_pages)
{
    static const char *const rows[][2] = {
        {"<p>ask the utility, or say --fault-at-panel A.</p>",
         "<p>ask the utility, and say it under House and supply.</p>"},
        {"carries 20 A; the key `power_factor` is", "carries 20 A; the key power factor is"},
        {"<input name=\"main_breaker\"> main_breaker, 35 A", "<input name=\"main_breaker\"> main breaker, 35 A"},
        {"has it (`ampsum typical kettle` names the source).", "has it."},
        {"<pre>main_breaker = 100 A</pre>", "<pre>main_breaker = 100 A</pre>"},
        {"<textarea>`wire`</textarea>`wire`", "<textarea>`wire`</textarea>wire"},
        {"a < b <p", "a < b <p"},
        {"a ` b (`ampsum typical x", "a ` b (`ampsum typical x"},
        {"", ""},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct text text = {0};
        text_add(&text, rows[i][0]);
        plain_words(&text);
        ck_assert_str_eq(text_string(&text), rows[i][1]);
        text_done(&text);
    }
}
END_TEST

/* ---- what people type */

static const struct {
    enum kind kind;
    const char *key;
    const char *typed;
    const char *taken;
} typed_rows[] = {
    {KIND_BRANCH, "breaker", "15 amp", "15 A"},
    {KIND_HOUSE, "main_breaker", "100 amps", "100 A"},
    {KIND_HOUSE, "main_breaker", "100Amps", "100 A"},
    {KIND_HOUSE, "main_breaker", "100", "100"},
    {KIND_HOUSE, "main_breaker", "lots", "lots"},
    {KIND_BRANCH, "breaker", "B16", "B16"},
    {KIND_BRANCH, "breaker", "30A 2 pole", "30 A"},
    {KIND_BRANCH, "breaker", "30 amps double pole", "30 A"},
    {KIND_BRANCH, "breaker", "2P 50", "50"},
    {KIND_BRANCH, "breaker", "2 pole", "2 pole"},
    {KIND_BRANCH, "breaker", "30A 4 pole", "30A 4 pole"},
    {KIND_HOUSE, "floor_area", "168 sq ft", "168 ft2"},
    {KIND_HOUSE, "floor_area", "15 m\u00b2", "15 m2"},
    {KIND_ROOM, "area", "168 square feet", "168 ft2"},
    {KIND_BRANCH, "length", "40 feet", "40 ft"},
    {KIND_BRANCH, "length", "40 watts", "40 watts"},
    {KIND_HOUSE, "currency", "usd", "USD"},
    {KIND_TARIFF, "price", "$0.16", "0.16"},
    {KIND_TARIFF, "price", "0.16", "0.16"},
    {KIND_TARIFF, "price", "16 cents", "0.16"},
    {KIND_TARIFF, "price", "7 cents", "0.07"},
    {KIND_TARIFF, "price", "7.5 cents", "0.075"},
    {KIND_TARIFF, "price", "123.4 p per kWh", "1.234"},
    {KIND_TARIFF, "price", "$0.16 / kWh", "0.16"},
    {KIND_TARIFF, "price", "16 dogs", "16 dogs"},
    {KIND_APPLIANCE, "use", "7am-8am", "07:00-08:00"},
    {KIND_APPLIANCE, "use", "7:00-7:30", "07:00-07:30"},
    {KIND_APPLIANCE, "use", "6:30 pm to 10 pm", "18:30-22:00"},
    {KIND_APPLIANCE, "use", "12am-12pm", "00:00-12:00"},
    {KIND_APPLIANCE, "use", "7am-8am, 17:00-22:30", "07:00-08:00, 17:00-22:30"},
    {KIND_APPLIANCE, "use", "Evening", "18:00-22:00"},
    {KIND_APPLIANCE, "use", "tonight", "18:00-24:00"},
    {KIND_APPLIANCE, "use", "in the evening", "18:00-22:00"},
    {KIND_APPLIANCE, "use", "this afternoon", "13:00-17:00"},
    {KIND_APPLIANCE, "use", "at night", "22:00-06:00"},
    {KIND_APPLIANCE, "use", "any time", "00:00-24:00"},
    {KIND_APPLIANCE, "use", "from 7pm to 10pm", "19:00-22:00"},
    {KIND_APPLIANCE, "use", "7-10pm", "19:00-22:00"},
    {KIND_APPLIANCE, "use", "7:30 till 10 pm", "19:30-22:00"},
    {KIND_APPLIANCE, "use", "8-5pm", "08:00-17:00"},
    {KIND_APPLIANCE, "use", "12-1pm", "12:00-13:00"},
    {KIND_APPLIANCE, "use", "7-8, 5pm-6pm", "07:00-08:00, 17:00-18:00"},
    {KIND_APPLIANCE, "use", "06:00-18:00", "06:00-18:00"},
    {KIND_APPLIANCE, "use", "now", "now"},
    {KIND_APPLIANCE, "use", "25:00-26:00", "25:00-26:00"},
    {KIND_APPLIANCE, "use", "13am-2pm", "13am-2pm"},
    {KIND_APPLIANCE, "use", "sometimes", "sometimes"},
    {KIND_BRANCH, "position", "3-5", "3,5"},
    {KIND_BRANCH, "position", "3 and 5", "3,5"},
    {KIND_BRANCH, "position", "9 & 11", "9,11"},
    {KIND_BRANCH, "position", "3,5", "3,5"},
    {KIND_BRANCH, "position", "3", "3"},
    {KIND_BRANCH, "position", "3-5-7", "3-5-7"},
    {KIND_BRANCH, "label", "100 amps", "100 amps"},
};

START_TEST(what_people_type_is_taken)
{
    struct arena *arena = arena_new();
    const struct key *key = section_key(&sections[typed_rows[_i].kind], typed_rows[_i].key);
    ck_assert_ptr_nonnull(key);
    ck_assert_str_eq(typed_value(arena, key, typed_rows[_i].typed), typed_rows[_i].taken);
    arena_free(arena);
}
END_TEST

START_TEST(a_rating_takes_the_words_of_its_unit)
{
    struct arena *arena = arena_new();
    ck_assert_str_eq(typed_rating(arena, "1500 watts"), "1500 W");
    ck_assert_str_eq(typed_rating(arena, "1.5 kilowatts"), "1.5 kW");
    ck_assert_str_eq(typed_rating(arena, "12 amps"), "12 A");
    ck_assert_str_eq(typed_rating(arena, "1500"), "1500");
    ck_assert_str_eq(typed_rating(arena, "many watts"), "many watts");
    static const char *const plates[][4] = {
        /* typed, unit beside it, key, value */
        {"1500", "W", "power", "1500 W"},      {"1500", "", "power", "1500 W"},
        {"12.5", "A", "current", "12.5 A"},    {"1.2 kW", "A", "power", "1.2 kW"},
        {"1/2", "hp", "horsepower", "1/2 hp"}, {"lots", "furlong", "power", "lots W"}};
    for (size_t i = 0; i < sizeof plates / sizeof plates[0]; i++) {
        const char *number = NULL;
        const char *unit = NULL;
        const struct typed_plate plate = typed_plate(arena, plates[i][0], plates[i][1]);
        ck_assert_str_eq(plate.key, plates[i][2]);
        ck_assert_str_eq(plate.value, plates[i][3]);
        typed_plate_parts(arena, plate.key, plate.value, &number, &unit);
        ck_assert_str_eq(arena_printf(arena, "%s %s", number, unit), plate.value);
    }
    ck_assert_str_eq(typed_spaces(arena, "3", 2, true), "3,5");
    ck_assert_str_eq(typed_spaces(arena, "3", 3, false), "3,4,5");
    ck_assert_str_eq(typed_spaces(arena, "3,7", 2, true), "3,7");
    ck_assert_str_eq(typed_spaces(arena, "3", 1, true), "3");
    ck_assert_int_eq(typed_spaces_poles("3,5"), 2);
    ck_assert_int_eq(typed_spaces_poles("3"), 0);
    arena_free(arena);
}
END_TEST

/* A head that is let in, of which each test changes one thing. */
struct letter {
    struct guard guard;
    char cookie[64];
    struct head_field field[GUARD_HEADERS_MOST + 2];
    struct request_head head;
};

static void letter_write(struct letter *letter, const char *method)
{
    letter->guard = make_guard();
    snprintf(letter->cookie, sizeof letter->cookie, "theme=x; ampsum-%d=%s", PORT, letter->guard.key);
    const struct head_field usual[] = {
        {"Host", "127.0.0.1:4711"},          {"Cookie", letter->cookie},
        {"Origin", "http://127.0.0.1:4711"}, {"Content-Type", "application/x-www-form-urlencoded"},
        {"Sec-Fetch-Site", "same-origin"},
    };
    memcpy(letter->field, usual, sizeof usual);
    letter->head = (struct request_head){method, "/", letter->field, sizeof usual / sizeof usual[0]};
}

static void letter_set(struct letter *letter, const char *name, const char *value)
{
    for (size_t i = 0; i < letter->head.field_count; i++) {
        if (strcmp(letter->field[i].name, name) == 0) {
            letter->field[i].value = value;
        }
    }
}

static void letter_drop(struct letter *letter, const char *name)
{
    for (size_t i = 0; i < letter->head.field_count; i++) {
        if (strcmp(letter->field[i].name, name) == 0) {
            letter->field[i] = letter->field[--letter->head.field_count];
            return;
        }
    }
}

static unsigned letter_status(const struct letter *letter)
{
    return guard_check(&letter->guard, &letter->head).status;
}

START_TEST(own_pages_are_let_in)
{
    struct letter letter;
    letter_write(&letter, "GET");
    ck_assert_uint_eq(letter_status(&letter), 0);
    letter_write(&letter, "POST");
    ck_assert_uint_eq(letter_status(&letter), 0);
    letter_set(&letter, "Host", "localhost:4711");
    letter_set(&letter, "Origin", "http://localhost:4711");
    ck_assert_uint_eq(letter_status(&letter), 0);
}
END_TEST

START_TEST(foreign_host_is_refused)
{
    static const char *const hosts[] = {"evil.example:4711",
                                        "127.0.0.1",
                                        "127.0.0.1:4712",
                                        "localhost",
                                        "127.0.0.1:4711 ",
                                        "127.0.0.1:47110",
                                        "127.0.0.2:4711",
                                        "[::1]:4711",
                                        "127.0.0.1:4711.evil.example",
                                        "",
                                        "LOCALHOST:4711",
                                        "0:4711"};
    struct letter letter;
    letter_write(&letter, "GET");
    letter_set(&letter, "Host", hosts[_i]);
    ck_assert_uint_eq(letter_status(&letter), 421);
    letter_write(&letter, "GET");
    letter_drop(&letter, "Host");
    ck_assert_uint_eq(letter_status(&letter), 421);
}
END_TEST

START_TEST(no_header_may_come_twice)
{
    struct letter letter;
    for (size_t i = 0; i < 5; i++) {
        letter_write(&letter, "POST");
        letter.field[letter.head.field_count++] = (struct head_field){letter.field[i].name, letter.field[i].value};
        ck_assert_uint_eq(letter_status(&letter), 400);
    }
    letter_write(&letter, "GET");
    letter.field[letter.head.field_count++] = (struct head_field){"hOST", "127.0.0.1:4711"};
    ck_assert_uint_eq(letter_status(&letter), 400);
}
END_TEST

START_TEST(only_three_methods)
{
    static const char *const methods[] = {"PUT", "DELETE", "OPTIONS", "PATCH", "TRACE", "CONNECT", "get"};
    struct letter letter;
    letter_write(&letter, methods[_i]);
    ck_assert_uint_eq(letter_status(&letter), 405);
    letter_write(&letter, "HEAD");
    ck_assert_uint_eq(letter_status(&letter), 0);
}
END_TEST

START_TEST(without_the_key_nothing_is_read)
{
    struct letter letter;
    letter_write(&letter, "GET");
    letter_drop(&letter, "Cookie");
    ck_assert_uint_eq(letter_status(&letter), 403);
    static const char *const paths[] = {"/enter", "/style.css", "/live.js", "/icon.svg", "/favicon.ico"};
    for (size_t i = 0; i < sizeof paths / sizeof paths[0]; i++) {
        letter.head.path = paths[i];
        ck_assert_uint_eq(letter_status(&letter), 0);
    }
    letter_write(&letter, "GET");
    letter.cookie[strlen(letter.cookie) - 1] ^= 1;
    ck_assert_uint_eq(letter_status(&letter), 403);
    letter_write(&letter, "GET");
    snprintf(letter.cookie, sizeof letter.cookie, "ampsum-%d=%s", PORT + 1, letter.guard.key);
    ck_assert_uint_eq(letter_status(&letter), 403);
}
END_TEST

START_TEST(a_change_needs_our_origin)
{
    static const char *const origins[] = {"http://evil.example",   "null", "https://127.0.0.1:4711", "http://127.0.0.1",
                                          "http://localhost:4711", "",     "http://127.0.0.1:4711/"};
    struct letter letter;
    letter_write(&letter, "POST");
    letter_set(&letter, "Origin", origins[_i]);
    ck_assert_uint_eq(letter_status(&letter), 403);
    letter_write(&letter, "POST");
    letter_drop(&letter, "Origin");
    ck_assert_uint_eq(letter_status(&letter), 403);
}
END_TEST

START_TEST(a_change_needs_a_same_origin_fetch)
{
    static const char *const sites[] = {"cross-site", "same-site", "none", ""};
    struct letter letter;
    letter_write(&letter, "POST");
    letter_set(&letter, "Sec-Fetch-Site", sites[_i]);
    ck_assert_uint_eq(letter_status(&letter), 403);
    letter_drop(&letter, "Sec-Fetch-Site");
    ck_assert_uint_eq(letter_status(&letter), 0);
}
END_TEST

START_TEST(reading_is_for_our_own_pages)
{
    static const struct {
        const char *site;
        unsigned status;
    } rows[] = {{"same-origin", 0}, {"none", 0}, {"same-site", 403}, {"cross-site", 403}, {"", 403}};
    struct letter letter;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        letter_write(&letter, "GET");
        letter_set(&letter, "Sec-Fetch-Site", rows[i].site);
        ck_assert_uint_eq(letter_status(&letter), rows[i].status);
        letter.head.path = "/enter";
        ck_assert_uint_eq(letter_status(&letter), 0);
    }
}
END_TEST

START_TEST(an_entry_is_good_once_and_not_for_long)
{
    struct guard guard = make_guard();
    ck_assert(!guard_entry_take(&guard, "", 0));
    ck_assert(guard_entry_make(&guard, 100, 60));
    char key[GUARD_SECRET_CHARS + 1];
    memcpy(key, guard.entry, sizeof key);
    ck_assert(!guard_entry_take(&guard, guard.key, 110));
    ck_assert(!guard_entry_take(&guard, key, 161));
    ck_assert(guard_entry_take(&guard, key, 160));
    ck_assert(!guard_entry_take(&guard, key, 110));
}
END_TEST

/* As the kernel prints it, on a machine whose numbers have their lowest byte first and on others. */
START_TEST(whose_connection_it_is_stands_in_the_table)
{
    char table[1024];
    const unsigned loopback = htonl(INADDR_LOOPBACK);
    snprintf(table, sizeof table,
             "  sl  local_address rem_address   st tx_queue rx_queue tr tm->when retrnsmt   uid  timeout inode\n"
             "   0: %08X:1267 00000000:0000 0A 00000000:00000000 00:00000000 00000000  1000        0 1 1 0 100 0\n"
             "   1: %08X:1267 %08X:9C40 01 00000000:00000000 00:00000000 00000000  1000        0 2 1 0 20 4 30 10 -1\n"
             "   2: %08X:9C40 0100A8C0:1267 01 00000000:00000000 00:00000000 00000000  1003        0 3 1 0 20 4 30\n"
             "   3: %08X:9C42 %08X:1267 05 00000000:00000000 00:00000000 00000000     0        0 0 1 0 20 4 30 10 -1\n"
             "   4: %08X:9C40 %08X:1267 01 00000000:00000000 00:00000000 00000000  1002        0 4 1 0 20 4 30 10 -1\n",
             loopback, loopback, loopback, loopback, loopback, loopback, loopback, loopback);
    uid_t user = 0;
    FILE *stream = fmemopen(table, strlen(table), "r");
    ck_assert(peer_in_table(stream, 0x9C40, 0x1267, &user));
    ck_assert_uint_eq(user, 1002);
    rewind(stream);
    ck_assert(!peer_in_table(stream, 0x9C41, 0x1267, &user));
    rewind(stream);
    ck_assert(!peer_in_table(stream, 0x9C42, 0x1267, &user)); /* left: nobody's, though shown as root's */
    fclose(stream);
}
END_TEST

static unsigned port_of(int socket_)
{
    struct sockaddr_in address = {0};
    socklen_t length = sizeof address;
    ck_assert_int_eq(getsockname(socket_, (struct sockaddr *)&address, &length), 0);
    return ntohs(address.sin_port);
}

/* A connection of this very program to itself, held and then left. */
START_TEST(a_connection_belongs_to_who_holds_it)
{
    struct sockaddr_in address = {.sin_family = AF_INET, .sin_addr.s_addr = htonl(INADDR_LOOPBACK)};
    const int listener = socket(AF_INET, SOCK_STREAM, 0);
    const int client = socket(AF_INET, SOCK_STREAM, 0);
    ck_assert_int_eq(bind(listener, (struct sockaddr *)&address, sizeof address), 0);
    ck_assert_int_eq(listen(listener, 1), 0);
    const unsigned port = port_of(listener);
    address.sin_port = htons((uint16_t)port);
    ck_assert_int_eq(connect(client, (struct sockaddr *)&address, sizeof address), 0);
    const unsigned client_port = port_of(client);
    const int server = accept(listener, NULL, NULL);
    uid_t user = 12345;
    if (peer_in_kernel(client_port, port, &user)) { /* not every system takes the question */
        ck_assert_uint_eq(user, geteuid());
    }
    ck_assert(peer_is_own(client_port, port));
    ck_assert(!peer_in_kernel(port, port, &user)); /* who listens there is no end of a connection */
    close(client);
    ck_assert(!peer_in_kernel(client_port, port, &user));
    ck_assert(!peer_is_own(client_port, port) || access("/proc/net/tcp", R_OK) != 0);
    close(server);
    close(listener);
}
END_TEST

START_TEST(a_change_is_a_form)
{
    static const char *const types[] = {"text/plain", "application/json", "multipart/form-data; boundary=x", "",
                                        "application/x-www-form-urlencodedx"};
    struct letter letter;
    letter_write(&letter, "POST");
    letter_set(&letter, "Content-Type", types[_i]);
    ck_assert_uint_eq(letter_status(&letter), 415);
    letter_set(&letter, "Content-Type", "application/x-www-form-urlencoded; charset=UTF-8");
    ck_assert_uint_eq(letter_status(&letter), 0);
}
END_TEST

START_TEST(too_many_headers)
{
    static char names[GUARD_HEADERS_MOST + 2][16];
    struct letter letter;
    letter_write(&letter, "GET");
    while (letter.head.field_count <= GUARD_HEADERS_MOST) {
        snprintf(names[letter.head.field_count], sizeof names[0], "X-%zu", letter.head.field_count);
        letter.field[letter.head.field_count] = (struct head_field){names[letter.head.field_count], "1"};
        letter.head.field_count++;
    }
    ck_assert_uint_eq(letter_status(&letter), 400);
    letter.head.field_count--;
    ck_assert_uint_eq(letter_status(&letter), 0);
}
END_TEST

START_TEST(secrets_are_fresh_and_exact)
{
    const struct guard a = make_guard();
    const struct guard b = make_guard();
    ck_assert_uint_eq(strlen(a.key), GUARD_SECRET_CHARS);
    ck_assert_str_ne(a.key, b.key);
    ck_assert_str_ne(a.token, b.token);
    ck_assert_str_ne(a.key, a.token);
    ck_assert(guard_token_holds(&a, a.token, ""));
    ck_assert(guard_token_holds(&a, NULL, a.token));
    ck_assert(!guard_token_holds(&a, NULL, NULL));
    ck_assert(!guard_token_holds(&a, "", ""));
    ck_assert(!guard_token_holds(&a, a.key, b.token));
    char wrong[GUARD_SECRET_CHARS + 2];
    snprintf(wrong, sizeof wrong, "%s0", a.token);
    ck_assert(!guard_token_holds(&a, wrong, ""));
    for (size_t i = 0; i < GUARD_SECRET_CHARS; i++) {
        snprintf(wrong, sizeof wrong, "%s", a.token);
        wrong[i] = 'x';
        ck_assert(!guard_token_holds(&a, wrong, wrong));
        wrong[i] = '\0';
        ck_assert(!guard_token_holds(&a, wrong, wrong));
    }
}
END_TEST

static bool reads(const char *bytes, size_t length, struct form *form, struct arena *arena)
{
    *form = (struct form){0};
    return form_read(form, bytes, length, arena);
}

START_TEST(form_values)
{
    struct arena *arena = arena_new();
    struct form form;
    static const char body[] = "what=Heater%2C+1500+W&on=a&on=b&empty=&bare&%C3%A9=%E2%82%AC&trim=++x++";
    ck_assert(reads(body, strlen(body), &form, arena));
    ck_assert_uint_eq(form.count, 7);
    ck_assert_str_eq(form_value(&form, "what"), "Heater, 1500 W");
    ck_assert_str_eq(form_value(&form, "on"), "a");
    ck_assert_str_eq(form.field[2].value, "b");
    ck_assert_str_eq(form_value(&form, "\xC3\xA9"), "\xE2\x82\xAC");
    ck_assert_str_eq(form_value(&form, "trim"), "x");
    ck_assert(form_has(&form, "empty"));
    ck_assert(form_has(&form, "bare"));
    ck_assert(!form_has(&form, "other"));
    ck_assert_str_eq(form_value(&form, "other"), "");
    form_done(&form);
    ck_assert(reads("", 0, &form, arena));
    ck_assert_uint_eq(form.count, 0);
    form_done(&form);
    arena_free(arena);
}
END_TEST

/* A value of several lines is one line to who reads a field, and as it came to who reads lines. */
START_TEST(form_lines_are_kept)
{
    struct arena *arena = arena_new();
    struct form form;
    static const char body[] = "a=1,%09x%0D%0A2%0D%0A&b=3";
    ck_assert(reads(body, strlen(body), &form, arena));
    ck_assert_str_eq(form_value(&form, "a"), "1, x  2");
    ck_assert_str_eq(form_lines(&form, "a"), "1,\tx\r\n2\r\n");
    ck_assert_str_eq(form_lines(&form, "b"), "3");
    ck_assert_str_eq(form_lines(&form, "c"), "");
    form_done(&form);
    arena_free(arena);
}
END_TEST

START_TEST(form_refuses_what_is_no_text)
{
    static const struct {
        const char *bytes;
        size_t length;
    } rows[] = {{"a=%", 3},          {"a=%4", 4},         {"a=%zz", 5},  {"a=%00", 5},
                {"a=%FF", 5},        {"a=%C3", 5},        {"a=\xFF", 3}, {"a=\0b", 4},
                {"a=%1B%5B31m", 11}, {"a=%E2%80%AE", 11}, {"%00=a", 5},  {"a=%ED%A0%80", 11}};
    struct arena *arena = arena_new();
    struct form form;
    ck_assert(!reads(rows[_i].bytes, rows[_i].length, &form, arena));
    form_done(&form);
    arena_free(arena);
}
END_TEST

START_TEST(names_stay_text)
{
    struct text html = {0};
    markup_add(&html, "<script>alert(1)</script>\"'&amp;");
    ck_assert_str_eq(text_string(&html), "&lt;script&gt;alert(1)&lt;/script&gt;&quot;&#39;&amp;amp;");
    text_clear(&html);
    markup_add(&html, "a\x01\xFFz \xE2\x80\xAEq \xC3\xA9");
    ck_assert_str_eq(text_string(&html), "a\xEF\xBF\xBD\xEF\xBF\xBDz \xEF\xBF\xBDq \xC3\xA9");
    text_clear(&html);
    html_add(&html, "<b title=\"%s\">%s</b>%%%zu %.1f %.0f", "\" onx=\"", "<i>", (size_t)3, 12.25, (double)NAN);
    ck_assert_str_eq(text_string(&html), "<b title=\"&quot; onx=&quot;\">&lt;i&gt;</b>%3 12.3 -");
    text_clear(&html);
    html_query(&html, "a b&c=%\xC3\xA9<");
    ck_assert_str_eq(text_string(&html), "a%20b%26c%3D%25%C3%A9%3C");
    text_done(&html);
}
END_TEST

START_TEST(no_byte_becomes_markup)
{
    for (int byte = 1; byte < 256; byte++) {
        const char string[] = {(char)byte, (char)byte, '\0'};
        struct text html = {0};
        markup_add(&html, string);
        ck_assert_ptr_null(strpbrk(text_string(&html), "<>\"'"));
        text_done(&html);
    }
}
END_TEST

enum { HEAD_BYTES = 28 };

/* A file that begins as a database does: write mode at byte 18, counter in bytes 24 to 27 (SQLite's file format). */
static void write_file(const char *path, const unsigned char *head, size_t length, time_t changed)
{
    FILE *file = fopen(path, "wb");
    ck_assert_ptr_nonnull(file);
    ck_assert_uint_eq(fwrite(head, 1, length, file), length);
    fclose(file);
    const struct timespec times[] = {{.tv_sec = changed}, {.tv_sec = changed}};
    ck_assert_int_eq(utimensat(AT_FDCWD, path, times, 0), 0);
}

START_TEST(stamp_tells_another_state)
{
    char path[64];
    snprintf(path, sizeof path, "stamp-%d.db", (int)getpid());
    unsigned char head[HEAD_BYTES] = "SQLite format 3";
    head[18] = 1;
    const time_t long_ago = time(NULL) - 100;
    write_file(path, head, sizeof head, long_ago);
    const struct stamp first = stamp_take(path);
    const struct stamp again = stamp_take(path);
    ck_assert(stamp_same(&first, &again));
    head[27] = 1;
    write_file(path, head, sizeof head, long_ago);
    const struct stamp counted = stamp_take(path);
    ck_assert(counted.holds && !stamp_same(&first, &counted));
    write_file(path, head, sizeof head, long_ago + 1);
    const struct stamp later = stamp_take(path);
    ck_assert(!stamp_same(&counted, &later));
    head[18] = 2;
    write_file(path, head, sizeof head, long_ago);
    ck_assert(!stamp_take(path).holds);
    head[0] = 's';
    write_file(path, head, sizeof head, long_ago);
    ck_assert(stamp_take(path).holds);
    write_file(path, head, sizeof head, time(NULL));
    ck_assert(!stamp_take(path).holds);
    unlink(path);
    const struct stamp none = stamp_take(path);
    ck_assert(!none.holds && !stamp_same(&none, &none));
}
END_TEST

/* ---- a command that is run for an answer */

/* Runs `sleep` for so long; true where it ended by itself. */
static bool run_sleep(const char *seconds, const volatile sig_atomic_t *stop, time_t *ret_took_s)
{
    struct site site = {.path = "", .program = "/bin/sleep", .stop = stop};
    struct visit visit = {.site = &site, .arena = arena_new()};
    const char *const words[] = {seconds, NULL};
    const time_t begun = time(NULL);
    const bool good = visit_run(&visit, words);
    *ret_took_s = time(NULL) - begun;
    visit_done(&visit);
    return good;
}

START_TEST(a_stop_ends_the_command_that_runs)
{
    volatile sig_atomic_t stop = 0;
    time_t took_s = 0;
    ck_assert(run_sleep("0", &stop, &took_s));
    ck_assert(run_sleep("0", NULL, &took_s));
    stop = 1;
    ck_assert(!run_sleep("15", &stop, &took_s));
    ck_assert(took_s < 10);
}
END_TEST

/* ---- which field of a form went wrong */

/* By section, ID and key: the sentence, whatever it says, names other keys and other lines. */
START_TEST(a_fault_marks_its_field_whatever_it_says)
{
    static const char *const reasons[] = {"", "breaker = lots: \xC3\xA9", "[branch b] label is missing",
                                          "name: x at form"};
    static const struct {
        const char *section, *id, *key, *field, *prefix; /* field NULL: of none */
    } rows[] = {
        {"branch", "a", "position", "position", "1."},
        {"branch", "b", "position", "position", "2."},
        {"branch", "b", "label", "label", "2."},
        {"branch", "elsewhere", "breaker", "breaker", "1."},
        {"appliance", "k", "resistance", "rating", ""},
        {"appliance", "k", "outlet", "at", ""},
        {"appliance", "k", "branch", "at", ""},
        {"room", "r", "kind", "room-kind", ""},
        {"branch", "a", NULL, NULL, "1."},
        {"panel", "p", "breaker", NULL, ""},
        {NULL, "", NULL, NULL, ""},
    };
    const struct form_line room = {KIND_ROOM, "", "r", NULL};
    const struct form_line kettle = {KIND_APPLIANCE, "", "k", &room};
    const struct form_line first = {KIND_BRANCH, "1.", "a", &kettle};
    const struct form_line last = {KIND_BRANCH, "2.", "b", &first};
    struct visit visit = {.arena = arena_new(), .lines = &last};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        for (size_t k = 0; k < sizeof reasons / sizeof reasons[0]; k++) {
            const struct error_fault fault = {rows[i].section, rows[i].key, rows[i].id, "7", reasons[k]};
            const struct guide_field *field = guide_fault_field(&visit, &fault);
            ck_assert_str_eq(guide_fault_prefix(&visit, &fault), rows[i].prefix);
            ck_assert(rows[i].field == NULL ? field == NULL : field != NULL && strcmp(field->key, rows[i].field) == 0);
        }
    }
    arena_free(visit.arena);
}
END_TEST

/* Each form picks its rows by these columns: a row that lacks one of them would leave a hole in some form. */
START_TEST(each_field_has_what_its_forms_show)
{
    for (size_t i = 0; i < guide_field_count; i++) {
        const struct guide_field *field = &guide_fields[i];
        const struct key *key = guide_field_key(field);
        const char *name = field->load_name == NULL ? field->key : field->load_name;
        ck_assert_msg(guide_field_of(field->kind, field->key) == field, "%s twice", field->key);
        ck_assert_msg((key == NULL) == (field->own != OWN_NONE), "%s: of the house file or of the page", field->key);
        ck_assert_msg((field->ask == NULL) == (field->hint == NULL), "%s: a question has a hint", field->key);
        ck_assert_msg(field->load == 0 || guide_load_field(name) == field, "%s twice in a load", name);
        ck_assert_msg((field->load & LOAD_SAID) == 0 || (field->said != NULL && key != NULL), "%s: said how?", name);
        ck_assert_msg((field->load & LOAD_HELP) == 0 || field->help != NULL, "%s: no help", name);
        for (const char *const *also = field->also; also != NULL && *also != NULL; also++) {
            ck_assert_msg(guide_field_of(field->kind, *also) == field, "%s is of another", *also);
        }
    }
}
END_TEST

/* ---- an answer made in a process of its own */

enum { ASKS = 3 };

static const char *const asked[ASKS] = {"/files/house.ini", "/files/branches.csv", "/files/nothing-of-ours"};

static struct visit visit_of(struct site *site, const char *path)
{
    return (struct visit){.site = site, .path = path, .arena = arena_new()};
}

static bool same_word(const char *a, const char *b)
{
    return a == NULL || b == NULL ? a == b : strcmp(a, b) == 0;
}

/* The page as it stands here and as it comes from there: status, words and every byte. */
START_TEST(a_reply_made_apart_is_the_same)
{
    const char *house = "serve-apart.ini";
    FILE *file = fopen(house, "w");
    ck_assert_ptr_nonnull(file);
    fputs("[house]\nrules = uk\n\n[branch b]\nbreaker = 32\n\n[appliance a]\nname = \"A\"\nbranch = b\npower = 3 kW\n",
          file);
    ck_assert_int_eq(fclose(file), 0);
    struct site site = {.path = house, .program = "/bin/false", .read_only = true};
    struct visit here = visit_of(&site, asked[_i]);
    struct visit apart = visit_of(&site, asked[_i]);
    struct apart process;
    ck_assert(site_takes_long(&apart));
    site_answer(&here);
    ck_assert(apart_start(&process, &apart));
    while (!apart_look(&process)) {
        usleep(1000);
    }
    apart_take(&process, &apart);
    ck_assert_uint_eq(apart.answer.status, here.answer.status);
    ck_assert(same_word(apart.answer.type, here.answer.type) && same_word(apart.answer.download, here.answer.download));
    ck_assert(same_word(apart.answer.location, here.answer.location));
    ck_assert_uint_eq(apart.answer.body.length, here.answer.body.length);
    ck_assert_mem_eq(text_string(&apart.answer.body), text_string(&here.answer.body), here.answer.body.length);
    ck_assert_int_lt(kill(process.pid, 0), 0);
    visit_done(&here);
    visit_done(&apart);
    site_done(&site);
    unlink(house);
}
END_TEST

/* Where the process is gone before it said all, the visit is refused; nothing of it is left. */
START_TEST(a_reply_that_breaks_off_is_refused)
{
    struct site site = {.path = "serve-apart-none.ini", .program = "/bin/false", .read_only = true};
    struct visit visit = visit_of(&site, "/files/house.ini");
    struct apart process;
    ck_assert(apart_start(&process, &visit));
    kill(process.pid, SIGKILL);
    while (!apart_look(&process)) {
        usleep(1000);
    }
    text_clear(&process.bytes);
    text_add(&process.bytes, "half");
    apart_take(&process, &visit);
    ck_assert_uint_eq(visit.answer.status, 503);
    ck_assert_ptr_nonnull(strstr(text_string(&visit.answer.body), "took too long"));
    ck_assert_ptr_nonnull(
        strstr(text_string(&visit.answer.body), "within 25 seconds, and nothing was changed. Try again"));
    ck_assert_ptr_nonnull(strstr(text_string(&visit.answer.body), "fewer students"));
    ck_assert_int_lt(kill(process.pid, 0), 0);
    visit_done(&visit);
}
END_TEST

START_TEST(what_takes_no_time_is_answered_here)
{
    struct site site = {.path = "serve-apart-none.ini", .program = "/bin/false", .read_only = true};
    static const char *const quick[] = {"/", "/solve", "/style.css", "/nowhere"};
    for (size_t i = 0; i < sizeof quick / sizeof quick[0]; i++) {
        struct visit visit = visit_of(&site, quick[i]);
        ck_assert(!site_takes_long(&visit));
        visit_done(&visit);
    }
}
END_TEST

/* ---- the address from one start to the next */

static char bookmark_folder[64];

static void bookmark_setup(void)
{
    snprintf(bookmark_folder, sizeof bookmark_folder, "/tmp/ampsum-serve-XXXXXX");
    ck_assert_ptr_nonnull(mkdtemp(bookmark_folder));
    ck_assert_int_eq(setenv("XDG_STATE_HOME", bookmark_folder, 1), 0);
}

/* The one file that is kept; the caller frees it. */
static char *bookmark_file(void)
{
    char found[256] = "";
    char command[128];
    snprintf(command, sizeof command, "ls %s/ampsum/*.address", bookmark_folder);
    FILE *list = popen(command, "r");
    ck_assert_ptr_nonnull(list);
    ck_assert_ptr_nonnull(fgets(found, sizeof found, list));
    pclose(list);
    found[strcspn(found, "\n")] = '\0';
    return strdup(found);
}

static void bookmark_teardown(void)
{
    char command[128];
    snprintf(command, sizeof command, "rm -rf %s", bookmark_folder);
    ck_assert_int_eq(system(command), 0);
}

static const struct bookmark kept_address = {.port = 4711, .key = "0123456789abcdef0123456789abcdef"};

START_TEST(an_address_is_kept_for_its_house_alone)
{
    struct bookmark read;
    ck_assert(!bookmark_read("/tmp/house.db", &read));
    bookmark_write("/tmp/house.db", &kept_address);
    ck_assert(bookmark_read("/tmp/house.db", &read));
    ck_assert_uint_eq(read.port, kept_address.port);
    ck_assert_str_eq(read.key, kept_address.key);
    ck_assert(bookmark_read("/tmp/../tmp/house.db", &read));
    ck_assert(!bookmark_read("/tmp/other.db", &read));
    ck_assert_uint_eq(read.port, 0);
    bookmark_write("/tmp/house.db", &(struct bookmark){0});
    ck_assert(!bookmark_read("/tmp/house.db", &read));
}
END_TEST

/* R3: the key is nobody else's to read. */
START_TEST(an_address_that_others_could_read_is_not_taken)
{
    static const mode_t modes[] = {0640, 0604, 0620, 0602};
    struct stat status;
    struct bookmark read;
    bookmark_write("/tmp/house.db", &kept_address);
    char *path = bookmark_file();
    ck_assert_int_eq(stat(path, &status), 0);
    ck_assert_uint_eq(status.st_mode & 07777u, 0600);
    for (size_t i = 0; i < sizeof modes / sizeof modes[0]; i++) {
        ck_assert_int_eq(chmod(path, modes[i]), 0);
        ck_assert(!bookmark_read("/tmp/house.db", &read));
    }
    ck_assert_int_eq(chmod(path, 0600), 0);
    ck_assert(bookmark_read("/tmp/house.db", &read));
    ck_assert_int_eq(chmod(bookmark_folder, 0777),
                     0); /* a folder in which others could put another file in its place */
    ck_assert(!bookmark_read("/tmp/house.db", &read));
    ck_assert_int_eq(chmod(bookmark_folder, 0700), 0);
    char beside[300];
    snprintf(beside, sizeof beside, "%s/elsewhere", bookmark_folder);
    ck_assert_int_eq(rename(path, beside), 0);
    ck_assert_int_eq(symlink(beside, path), 0);
    ck_assert(!bookmark_read("/tmp/house.db", &read));
    free(path);
}
END_TEST

START_TEST(an_old_address_and_a_strange_one_are_forgotten)
{
    static const char *const strange[] = {"",
                                          "4711\n",
                                          "0 0123456789abcdef0123456789abcdef\n/tmp/house.db\n",
                                          "4711 0123\n/tmp/house.db\n",
                                          "70000 0123456789abcdef0123456789abcdef\n/tmp/house.db\n",
                                          "4711 0123456789abcdef0123456789abcdef\n/tmp/house.db"};
    struct bookmark read;
    bookmark_write("/tmp/house.db", &kept_address);
    char *path = bookmark_file();
    const time_t now = time(NULL);
    const struct timespec times[] = {{.tv_sec = now - 91L * 86400}, {.tv_sec = now - 91L * 86400}};
    ck_assert_int_eq(utimensat(AT_FDCWD, path, times, 0), 0);
    ck_assert(!bookmark_read("/tmp/house.db", &read));
    for (size_t i = 0; i < sizeof strange / sizeof strange[0]; i++) {
        FILE *file = fopen(path, "w");
        ck_assert_ptr_nonnull(file);
        fputs(strange[i], file);
        fclose(file);
        ck_assert(!bookmark_read("/tmp/house.db", &read));
        ck_assert_uint_eq(read.port, 0);
    }
    free(path);
}
END_TEST

Suite *make_suite(void)
{
    Suite *suite = suite_create("serve");
    TCase *guard = tcase_create("guard");
    tcase_add_test(guard, words_of_the_terminal_become_the_pages);
    tcase_add_test(guard, own_pages_are_let_in);
    tcase_add_loop_test(guard, foreign_host_is_refused, 0, 12);
    tcase_add_test(guard, no_header_may_come_twice);
    tcase_add_loop_test(guard, only_three_methods, 0, 7);
    tcase_add_test(guard, without_the_key_nothing_is_read);
    tcase_add_loop_test(guard, a_change_needs_our_origin, 0, 7);
    tcase_add_loop_test(guard, a_change_needs_a_same_origin_fetch, 0, 4);
    tcase_add_test(guard, reading_is_for_our_own_pages);
    tcase_add_test(guard, an_entry_is_good_once_and_not_for_long);
    tcase_add_test(guard, whose_connection_it_is_stands_in_the_table);
    tcase_add_test(guard, a_connection_belongs_to_who_holds_it);
    tcase_add_loop_test(guard, a_change_is_a_form, 0, 5);
    tcase_add_test(guard, too_many_headers);
    tcase_add_test(guard, secrets_are_fresh_and_exact);
    suite_add_tcase(suite, guard);
    TCase *address = tcase_create("address");
    tcase_add_checked_fixture(address, bookmark_setup, bookmark_teardown);
    tcase_add_test(address, an_address_is_kept_for_its_house_alone);
    tcase_add_test(address, an_address_that_others_could_read_is_not_taken);
    tcase_add_test(address, an_old_address_and_a_strange_one_are_forgotten);
    suite_add_tcase(suite, address);
    TCase *text = tcase_create("text");
    tcase_add_loop_test(text, what_people_type_is_taken, 0, (int)(sizeof typed_rows / sizeof typed_rows[0]));
    tcase_add_test(text, a_rating_takes_the_words_of_its_unit);
    tcase_add_test(text, form_values);
    tcase_add_test(text, form_lines_are_kept);
    tcase_add_loop_test(text, form_refuses_what_is_no_text, 0, 12);
    tcase_add_test(text, names_stay_text);
    tcase_add_test(text, no_byte_becomes_markup);
    tcase_add_test(text, a_fault_marks_its_field_whatever_it_says);
    tcase_add_test(text, each_field_has_what_its_forms_show);
    tcase_add_test(text, stamp_tells_another_state);
    tcase_add_test(text, a_stop_ends_the_command_that_runs);
    tcase_add_loop_test(text, a_reply_made_apart_is_the_same, 0, ASKS);
    tcase_add_test(text, a_reply_that_breaks_off_is_refused);
    tcase_add_test(text, what_takes_no_time_is_answered_here);
    suite_add_tcase(suite, text);
    return suite;
}
