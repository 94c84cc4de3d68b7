/* Numbers, times of day and the rest of what is done to text. */
#include "base/text.h"

#include <CUnit/CUnit.h>
#include <string.h>

void suite_text(void);

static void test_numbers(void)
{
    static const struct {
        const char *text;
        enum pd_number how;
        double value;
    } rows[] = {
        {"12.5", PD_NUMBER_GOOD, 12.5},  {" -3 ", PD_NUMBER_GOOD, -3},
        {"+.5", PD_NUMBER_GOOD, 0.5},    {"5.", PD_NUMBER_GOOD, 5},
        {"1e3", PD_NUMBER_GOOD, 1000},   {"2E-2", PD_NUMBER_GOOD, 0.02},
        {"", PD_NUMBER_EMPTY, 0},        {"  ", PD_NUMBER_EMPTY, 0},
        {"1e", PD_NUMBER_BAD, 0},        {"0x10", PD_NUMBER_BAD, 0},
        {"1.2.3", PD_NUMBER_BAD, 0},     {"7 L", PD_NUMBER_BAD, 0},
        {"--1", PD_NUMBER_BAD, 0},       {".", PD_NUMBER_BAD, 0},
        {"word", PD_NUMBER_BAD, 0},      {"1,5", PD_NUMBER_COMMA, 0},
        {",5", PD_NUMBER_COMMA, 0},      {"nan", PD_NUMBER_INFINITE, 0},
        {"-INF", PD_NUMBER_INFINITE, 0}, {"1e999", PD_NUMBER_INFINITE, 0},
        {"1 000", PD_NUMBER_BAD, 0},     {"1e-999", PD_NUMBER_GOOD, 0},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        double value = 0;
        CU_ASSERT_EQUAL(pd_text_number(rows[i].text, &value, NULL), rows[i].how);
        CU_ASSERT_TRUE(rows[i].how != PD_NUMBER_GOOD || value == rows[i].value);
    }
}

static void test_number_and_rest(void)
{
    double value = 0;
    const char *rest = NULL;
    CU_ASSERT_EQUAL(pd_text_number("80 L/min", &value, &rest), PD_NUMBER_GOOD);
    CU_ASSERT_EQUAL(value, 80);
    CU_ASSERT_STRING_EQUAL(rest, "L/min");
    // an E of a unit is no exponent
    CU_ASSERT_EQUAL(pd_text_number("10EUR/kWh", &value, &rest), PD_NUMBER_GOOD);
    CU_ASSERT_EQUAL(value, 10);
    CU_ASSERT_STRING_EQUAL(rest, "EUR/kWh");
    CU_ASSERT_EQUAL(pd_text_number("8,5 L", &value, &rest), PD_NUMBER_COMMA);
}

static void test_clock(void)
{
    static const char *const bad[] = {"24:01", "7",    "7:",     "7:60",    ":30",      "07:30:60",
                                      "-1:00", "7:3x", "7:30 h", "7:30:",   "007:30",   "7:300",
                                      "",      "7.30", "7:30am", "7:30:-1", "25:00:00", "7:30: 5"};
    double seconds = 0;
    CU_ASSERT_TRUE(pd_text_clock("06:30", &seconds));
    CU_ASSERT_EQUAL(seconds, 23400);
    CU_ASSERT_TRUE(pd_text_clock(" 6:05:07.5 ", &seconds));
    CU_ASSERT_EQUAL(seconds, 21907.5);
    CU_ASSERT_TRUE(pd_text_clock("24:00", &seconds));
    CU_ASSERT_EQUAL(seconds, 86400);
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        CU_ASSERT_FALSE(pd_text_clock(bad[i], &seconds));
    }
}

static void test_show(void)
{
    char out[12];
    pd_text_show(out, sizeof out, "a\tb\x1b[1m");
    CU_ASSERT_STRING_EQUAL(out, "a?b?[1m");
    pd_text_show(out, sizeof out, "abcdefghijklmn");
    CU_ASSERT_STRING_EQUAL(out, "abcdefgh...");
    // never half of a letter of several bytes
    pd_text_show(out, sizeof out, "abcdefg\xC3\xA9hijk");
    CU_ASSERT_STRING_EQUAL(out, "abcdefg...");
    pd_text_show(out, sizeof out, "abcdefgh\xC3\xA9\xC3\xA9");
    CU_ASSERT_STRING_EQUAL(out, "abcdefgh...");
    pd_text_show(out, sizeof out, "abcdefghi\xC3\xA9");
    CU_ASSERT_STRING_EQUAL(out, "abcdefghi\xC3\xA9");
    pd_text_show(out, 3, "abcdef");
    CU_ASSERT_STRING_EQUAL(out, "ab");
}

/* A character by its number, below 0x10000, as UTF-8. */
static const char *character(unsigned code, char text[4])
{
    if (code < 0x80) {
        (void)snprintf(text, 4, "%c", (int)code);
    } else if (code < 0x800) {
        (void)snprintf(text, 4, "%c%c", (int)(0xC0U | code >> 6U), (int)(0x80U | (code & 0x3FU)));
    } else {
        (void)snprintf(text, 4, "%c%c%c", (int)(0xE0U | code >> 12U),
                       (int)(0x80U | (code >> 6U & 0x3FU)), (int)(0x80U | (code & 0x3FU)));
    }
    return text;
}

static void is_hidden(const char *steers)
{
    char text[16], out[16], put[16];

    (void)snprintf(text, sizeof text, "a%sb", steers);
    CU_ASSERT_FALSE(pd_text_is_visible(text));
    pd_text_show(out, sizeof out, text);
    CU_ASSERT_STRING_EQUAL(out, "a?b");
    FILE *stream = tmpfile();
    CU_ASSERT_PTR_NOT_NULL_FATAL(stream);
    pd_text_put(stream, text);
    rewind(stream);
    put[fread(put, 1, sizeof put - 1, stream)] = '\0';
    (void)fclose(stream);
    CU_ASSERT_STRING_EQUAL(put, "a?b");
}

/* Source: ECMA-48 5.3 (C1, of which U+009B begins a control sequence); Unicode Standard Annex 9,
 * table 4 (characters that steer the direction of writing). */
static void test_steering_is_not_shown(void)
{
    static const unsigned steers[] = {
        0x07,   0x09,   0x0A,   0x0D,   0x1B,   0x7F,   0x80,   0x9B,
        0x9F,   0x061C, 0x200E, 0x200F, 0x2028, 0x2029, 0x202A, 0x202B,
        0x202C, 0x202D, 0x202E, 0x2066, 0x2067, 0x2068, 0x2069,
    };
    static const char plain[] = "A ~ \xC2\xA0\xC3\xA9 \xE2\x82\xAC \xD7\x90 \xF0\x9F\x98\x80";
    char text[64];

    for (size_t i = 0; i < sizeof steers / sizeof steers[0]; i++) {
        is_hidden(character(steers[i], text));
    }
    // no UTF-8
    is_hidden("\x9B");
    is_hidden("\xFF");
    is_hidden("\xC3");
    CU_ASSERT_TRUE(pd_text_is_visible(plain));
    pd_text_show(text, sizeof text, plain);
    CU_ASSERT_STRING_EQUAL(text, plain);
}

static void test_trim(void)
{
    char out[5];
    CU_ASSERT_TRUE(pd_text_trim(out, sizeof out, "  ab \r\n", 7));
    CU_ASSERT_STRING_EQUAL(out, "ab");
    CU_ASSERT_FALSE(pd_text_trim(out, sizeof out, "abcdef", 6));
    CU_ASSERT_STRING_EQUAL(out, "abcd");
    CU_ASSERT_TRUE(pd_text_trim(out, sizeof out, "   ", 3));
    CU_ASSERT_STRING_EQUAL(out, "");
}

static void test_distance(void)
{
    // the textbook pair of the edit distance: two changes and one letter more
    CU_ASSERT_EQUAL(pd_text_distance("kitten", "sitting"), 3);
    CU_ASSERT_EQUAL(pd_text_distance("tank", "tnak"), 1);
    CU_ASSERT_EQUAL(pd_text_distance("tank", "TANK"), 0);
    CU_ASSERT_EQUAL(pd_text_distance("", "abc"), 3);
    CU_ASSERT_EQUAL(pd_text_distance("abc", ""), 3);
}

/* Source: Unicode Standard 15.0, section 3.9: table 3-7 (well-formed byte sequences) and the
 * ill-formed sequences of tables 3-8 to 3-11. */
static void test_utf8_characters(void)
{
    static const struct {
        const char *text;
        size_t length;
    } table[] = {
        {"A", 1},
        {"\xC3\xA9", 2},
        {"\xE2\x82\xAC", 3},
        {"\xF0\x9F\x98\x80", 4},
        {"\xF4\x8F\xBF\xBF", 4},
        // a longer form than needed
        {"\xC0\xAF", 0},
        {"\xE0\x80\xBF", 0},
        {"\xF0\x81\x82\x41", 0},
        // a surrogate, beyond the last character, no first byte
        {"\xED\xA0\x80", 0},
        {"\xF4\x91\x92\x93", 0},
        {"\xFF", 0},
        {"\x80", 0},
        // cut short
        {"\xE1\x80\xE2", 0},
        {"\xF0\x91\x92", 0},
        {"\xC3", 0},
    };

    for (size_t i = 0; i < sizeof table / sizeof table[0]; i++) {
        CU_ASSERT_EQUAL(pd_text_character(table[i].text), table[i].length);
    }
}

static void test_utf8_copy(void)
{
    char out[8];

    pd_text_utf8(out, sizeof out, "caf\xE9");
    CU_ASSERT_STRING_EQUAL(out, "caf\xEF\xBF\xBD");
    // cut between characters, never within one
    pd_text_utf8(out, sizeof out, "123456\xC3\xA9");
    CU_ASSERT_STRING_EQUAL(out, "123456");
    pd_text_utf8(out, sizeof out, "12345\xC3\xA9");
    CU_ASSERT_STRING_EQUAL(out, "12345\xC3\xA9");
}

/* Characters that make a cell a formula: OWASP, "CSV Injection" (= + - @ tab CR LF); an apostrophe
 * before them is how spreadsheets themselves mark text. */
static void test_runs(void)
{
    static const char *const run[] = {
        "=1+1", "+1+1", "-1+1",  "@SUM(A1)", "\tx", "\rx",   "\nx",  "-",   "-x",
        "-1 m", "+ 5",  "'=1+1", "''-x",     "=",   "-0x10", "-1,5", "+1e", "-inf",
    };
    static const char *const stay[] = {
        "", "x", "1-1", "-1", "+1.5e-3", "-.5", " =1", "'", "''", "'x", "'-1", "a=1",
    };
    char cell[16];

    for (size_t i = 0; i < sizeof run / sizeof run[0]; i++) {
        CU_ASSERT_TRUE(pd_text_runs(run[i]));
        (void)snprintf(cell, sizeof cell, "'%s", run[i]);
        pd_text_unguard(cell);
        CU_ASSERT_STRING_EQUAL(cell, run[i]);
    }
    for (size_t i = 0; i < sizeof stay / sizeof stay[0]; i++) {
        CU_ASSERT_FALSE(pd_text_runs(stay[i]));
        (void)snprintf(cell, sizeof cell, "%s", stay[i]);
        pd_text_unguard(cell);
        CU_ASSERT_STRING_EQUAL(cell, stay[i]);
    }
}

void suite_text(void)
{
    CU_pSuite suite = CU_add_suite("text", NULL, NULL);
    CU_add_test(suite, "numbers", test_numbers);
    CU_add_test(suite, "a number and what follows", test_number_and_rest);
    CU_add_test(suite, "times of day", test_clock);
    CU_add_test(suite, "foreign bytes in messages", test_show);
    CU_add_test(suite, "what steers a terminal", test_steering_is_not_shown);
    CU_add_test(suite, "trimming", test_trim);
    CU_add_test(suite, "edit distance", test_distance);
    CU_add_test(suite, "characters of UTF-8", test_utf8_characters);
    CU_add_test(suite, "a copy in UTF-8", test_utf8_copy);
    CU_add_test(suite, "text that a spreadsheet would run", test_runs);
}
