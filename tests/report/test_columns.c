/* Heads, values and quoting of the CSV files. */
#include "report/columns.h"

#include "physics/near.h"
#include "report/text_file.h"

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

void suite_columns(void)
{
    CU_pSuite suite = CU_add_suite("columns", NULL, NULL);

    CU_ADD_TEST(suite, heads_and_values_change_together);
    CU_ADD_TEST(suite, unknown_is_an_empty_field);
    CU_ADD_TEST(suite, no_negative_zero);
    CU_ADD_TEST(suite, text_is_quoted_where_it_must_be);
}
