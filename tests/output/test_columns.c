/* Heads, values and quoting of the CSV files. */
#include "output/columns.h"

#include "output/folder.h"
#include "output/text_file.h"
#include "physics/near.h"
#include "scenario/table.h"

#include <CUnit/CUnit.h>

void suite_columns(void);

struct sample {
    const char *name;
    double pressure, volume;
    int count;
    bool open;
};

static const struct pd_column sample_columns[] = {
    {"name", PD_KIND_TEXT, NULL, NULL, PD_STORE_TEXT, offsetof(struct sample, name)},
    {"pressure", PD_KIND_PRESSURE, "kPa", "psi", PD_STORE_DOUBLE,
     offsetof(struct sample, pressure)},
    {"volume", PD_KIND_VOLUME, "L", "gal", PD_STORE_DOUBLE, offsetof(struct sample, volume)},
    {"count", PD_KIND_NUMBER, NULL, NULL, PD_STORE_INT, offsetof(struct sample, count)},
    {"open", PD_KIND_NUMBER, NULL, NULL, PD_STORE_BOOL, offsetof(struct sample, open)},
};

/* Head and one row as text. */
static const char *written(const struct sample *sample, enum pd_unit_system units,
                           char text[TEXT_MOST])
{
    FILE *stream = tmpfile();

    CU_ASSERT_PTR_NOT_NULL_FATAL(stream);
    pd_csv_head(stream, sample_columns, COUNT(sample_columns), units);
    pd_csv_row(stream, sample_columns, COUNT(sample_columns), units, sample);
    (void)stream_text(stream, text);
    (void)fclose(stream);
    return text;
}

/* By definition 1 gal = 231 in3 = 3.785411784 L; 1 psi = 6.894757 kPa (NIST SP 811, appendix B). */
static void heads_and_values_change_together(void)
{
    struct sample sample = {"x", 6894.757293168, 3.785411784e-3, 7, true};
    char text[TEXT_MOST];

    CU_ASSERT(
        same_text(written(&sample, PD_UNITS_SI, text),
                  "name,pressure [kPa],volume [L],count,open\nx,6.89475729,3.78541178,7,1\n"));
    CU_ASSERT(same_text(written(&sample, PD_UNITS_US, text),
                        "name,pressure [psi],volume [gal],count,open\nx,1,1,7,1\n"));
}

/* A volume of so many litres in a row with decimals, written by the C library's own rounding. */
static void row_with_decimals(double litres, int decimals, char text[TEXT_MOST])
{
    int places[PD_KIND_COUNT] = {[PD_KIND_VOLUME] = decimals};
    struct pd_csv_rows rows =
        pd_csv_rows_for(sample_columns, COUNT(sample_columns), PD_UNITS_SI, places);
    struct sample sample = {"a,b", NAN, litres * 1e-3, -7, true};
    FILE *stream = tmpfile();

    CU_ASSERT_PTR_NOT_NULL_FATAL(stream);
    pd_csv_rows_add(stream, &rows, &sample);
    (void)stream_text(stream, text);
    (void)fclose(stream);
}

/* Neither writer takes a unit that the table of units lacks for SI. */
static void an_unknown_unit_is_an_empty_field(void)
{
    const struct pd_column column = {"v",      PD_KIND_VOLUME,  "firkin",
                                     "firkin", PD_STORE_DOUBLE, offsetof(struct sample, volume)};
    const int places[PD_KIND_COUNT] = {0};
    struct pd_csv_rows rows = pd_csv_rows_for(&column, 1, PD_UNITS_SI, places);
    struct sample sample = {"x", 1, 2, 3, true};
    char text[TEXT_MOST];
    FILE *stream = tmpfile();

    CU_ASSERT_PTR_NOT_NULL_FATAL(stream);
    pd_csv_row(stream, &column, 1, PD_UNITS_SI, &sample);
    pd_csv_rows_add(stream, &rows, &sample);
    (void)stream_text(stream, text);
    (void)fclose(stream);
    CU_ASSERT(same_text(text, "\n\n"));
}

static void rows_are_cut_to_decimals(void)
{
    const struct {
        double litres;
        int decimals;
        const char *row;
    } cases[] = {
        {123.456, 3, "\"a,b\",,123.456,-7,1\n"},
        {123.456, 2, "\"a,b\",,123.46,-7,1\n"},
        {123.456, 0, "\"a,b\",,123,-7,1\n"},
        {-0.25, 4, "\"a,b\",,-0.25,-7,1\n"},
        {-1e-9, 4, "\"a,b\",,0,-7,1\n"},
        {1e-5, 5, "\"a,b\",,0.00001,-7,1\n"},
        {1000, 4, "\"a,b\",,1000,-7,1\n"},
        {0.999996, 5, "\"a,b\",,1,-7,1\n"},
        {123456.78901, 6, "\"a,b\",,123456.789,-7,1\n"},
        {4e12, 3, "\"a,b\",,4e+12,-7,1\n"},
    };
    char text[TEXT_MOST];

    for (size_t i = 0; i < COUNT(cases); i++) {
        row_with_decimals(cases[i].litres, cases[i].decimals, text);
        CU_ASSERT(same_text(text, cases[i].row));
    }
    // what the C library reads is the number to half a step, and no longer than it has to be
    for (int i = 0; i < 20000; i++) {
        double litres = ldexp(sin(i * 1.7), i % 14) * 10;
        row_with_decimals(litres, 4, text);
        double read = strtod(text + strlen("\"a,b\",,"), NULL);
        CU_ASSERT(fabs(read - litres) <= 0.5000001e-4);
    }
}

static void unknown_is_an_empty_field(void)
{
    struct sample sample = {"x", NAN, INFINITY, 0, false};
    char text[TEXT_MOST];

    CU_ASSERT(same_text(written(&sample, PD_UNITS_SI, text),
                        "name,pressure [kPa],volume [L],count,open\nx,,,0,0\n"));
}

static void no_negative_zero(void)
{
    struct sample sample = {"x", -0.0, -0.0, 0, false};
    char text[TEXT_MOST];

    CU_ASSERT(same_text(written(&sample, PD_UNITS_US, text),
                        "name,pressure [psi],volume [gal],count,open\nx,0,0,0,0\n"));
}

/* RFC 4180, section 2, rules 5 to 7. */
static void text_is_quoted_where_it_must_be(void)
{
    static const struct {
        const char *plain, *quoted;
    } table[] = {
        {"plain words", "plain words"},
        {"", ""},
        {"a,b", "\"a,b\""},
        {"say \"so\"", "\"say \"\"so\"\"\""},
        {"two\nlines", "\"two\nlines\""},
        {"cr\r", "\"cr\r\""},
        {"short-cycling; low taps", "short-cycling; low taps"},
        {"=1+1", "'=1+1"},
        {"@SUM(A1,\"x\")", "\"'@SUM(A1,\"\"x\"\")\""},
        {"'=1+1", "''=1+1"},
        {"-5", "-5"},
        {"-5 m", "'-5 m"},
        {"\r=1", "\"'\r=1\""},
    };
    char text[TEXT_MOST];

    for (size_t i = 0; i < COUNT(table); i++) {
        FILE *stream = tmpfile();
        CU_ASSERT_PTR_NOT_NULL_FATAL(stream);
        pd_csv_text(stream, table[i].plain);
        CU_ASSERT(same_text(stream_text(stream, text), table[i].quoted));
        (void)fclose(stream);
    }
}

/* Reads the second line of a file of one column by the reader of scenarios. */
static void read_back(const char *path, char cell[TEXT_MOST])
{
    struct pd_table table = {.row_count = 0};
    struct pd_faults faults = {.count = 0};

    (void)snprintf(table.path, sizeof table.path, "%s", path);
    CU_ASSERT(pd_table_read(&table, 9, &faults));
    CU_ASSERT_EQUAL(table.row_count, 2);
    (void)snprintf(cell, TEXT_MOST, "%s", table.row_count == 2 ? pd_table_cell(&table, 1, 0) : "");
    pd_table_free(&table);
}

/* Each of two characters behind each run of apostrophes: what is written comes back, and no cell
 * begins with what a spreadsheet runs. */
static void texts_come_back_as_they_were(void)
{
    static const char signs[] = "=+-@'1x,\"";
    char folder[FOLDER_MOST], path[FOLDER_MOST], text[8], written_text[TEXT_MOST], cell[TEXT_MOST];

    folder_make(folder);
    (void)folder_path(folder, "a.csv", path);
    for (size_t i = 0; i < 3 * strlen(signs) * strlen(signs); i++) {
        (void)snprintf(text, sizeof text, "%.*s%c%c", (int)(i % 3), "''",
                       signs[i / 3 % strlen(signs)], signs[i / 3 / strlen(signs)]);
        FILE *stream = fopen(path, "w");
        CU_ASSERT_PTR_NOT_NULL_FATAL(stream);
        (void)fputs("head\n", stream);
        pd_csv_text(stream, text);
        (void)fclose(stream);
        read_back(path, cell);
        CU_ASSERT(same_text(cell, text));
        const char *first = strchr(file_text(path, written_text), '\n') + 1;
        first += *first == '"' ? 1 : 0;
        CU_ASSERT(strchr("=+-@", *first) == NULL || strcmp(first + 1, "1") == 0);
    }
    folder_remove(folder);
}

void suite_columns(void)
{
    CU_pSuite suite = CU_add_suite("columns", NULL, NULL);

    CU_ADD_TEST(suite, heads_and_values_change_together);
    CU_ADD_TEST(suite, an_unknown_unit_is_an_empty_field);
    CU_ADD_TEST(suite, rows_are_cut_to_decimals);
    CU_ADD_TEST(suite, unknown_is_an_empty_field);
    CU_ADD_TEST(suite, no_negative_zero);
    CU_ADD_TEST(suite, text_is_quoted_where_it_must_be);
    CU_ADD_TEST(suite, texts_come_back_as_they_were);
}
