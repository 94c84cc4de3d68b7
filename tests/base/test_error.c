/* Errors are filled once, cut to their fields and told with their place. */
#include <pumpday/error.h>

#include <CUnit/CUnit.h>
#include <stdio.h>
#include <string.h>

void suite_error(void);

// what print wrote, read back
static void printed(const struct pd_error *error, char *text, size_t size)
{
    FILE *stream = tmpfile();
    CU_ASSERT_PTR_NOT_NULL_FATAL(stream);
    pd_error_print(stream, error);
    rewind(stream);
    size_t got = fread(text, 1, size - 1, stream);
    text[got] = '\0';
    (void)fclose(stream);
}

static void test_first_one_stands(void)
{
    struct pd_error error = {.code = PD_DONE};
    CU_ASSERT_FALSE(pd_error_set(&error, PD_SOLVER_FAILED, "a.csv", 3, "x", "at %d", 7));
    CU_ASSERT_FALSE(pd_error_set(&error, PD_BAD_INPUT, "b.csv", 4, "y", "later"));
    CU_ASSERT_EQUAL(error.code, PD_SOLVER_FAILED);
    CU_ASSERT_EQUAL(error.line, 3);
    CU_ASSERT_STRING_EQUAL(error.file, "a.csv");
    CU_ASSERT_STRING_EQUAL(error.item, "x");
    CU_ASSERT_STRING_EQUAL(error.text, "at 7");
}

static void test_print_leaves_out_what_is_not_named(void)
{
    char text[256];
    struct pd_error whole = {.code = PD_DONE};
    pd_error_set(&whole, PD_BAD_INPUT, "a.csv", 3, "x", "wrong");
    printed(&whole, text, sizeof text);
    CU_ASSERT_STRING_EQUAL(text, "a.csv:3: x: wrong\n");
    struct pd_error file = {.code = PD_DONE};
    pd_error_set(&file, PD_BAD_INPUT, "a.csv", 0, NULL, "wrong");
    printed(&file, text, sizeof text);
    CU_ASSERT_STRING_EQUAL(text, "a.csv: wrong\n");
    struct pd_error bare = {.code = PD_DONE};
    pd_error_set(&bare, PD_BAD_INPUT, NULL, 0, NULL, "wrong");
    printed(&bare, text, sizeof text);
    CU_ASSERT_STRING_EQUAL(text, "wrong\n");
}

static void test_long_texts_are_cut(void)
{
    static char lengthy[5000];
    struct pd_error error = {.code = PD_DONE};
    memset(lengthy, 'a', sizeof lengthy - 1);
    pd_error_set(&error, PD_BAD_INPUT, lengthy, 1, lengthy, "%s", lengthy);
    CU_ASSERT_EQUAL(strlen(error.file), PD_PATH_MOST - 1);
    CU_ASSERT_EQUAL(strlen(error.item), PD_NAME_MOST - 1);
    CU_ASSERT_EQUAL(strlen(error.text), PD_TEXT_MOST - 1);
}

static void test_faults_past_the_most_are_counted(void)
{
    static struct pd_faults faults;
    char text[8000];
    faults.count = 0;
    for (int i = 0; i < PD_FAULTS_MOST + 3; i++) {
        CU_ASSERT_FALSE(pd_faults_add(&faults, "f", i + 1, NULL, "n%d", i));
    }
    CU_ASSERT_EQUAL(faults.count, PD_FAULTS_MOST + 3);
    CU_ASSERT_STRING_EQUAL(faults.list[PD_FAULTS_MOST - 1].text, "n63");
    CU_ASSERT_EQUAL(faults.list[0].code, PD_BAD_INPUT);
    FILE *stream = tmpfile();
    CU_ASSERT_PTR_NOT_NULL_FATAL(stream);
    pd_faults_print(stream, &faults);
    rewind(stream);
    size_t got = fread(text, 1, sizeof text - 1, stream);
    text[got] = '\0';
    (void)fclose(stream);
    CU_ASSERT_PTR_NOT_NULL(strstr(text, "f:1: n0\nf:2: n1\n"));
    CU_ASSERT_PTR_NOT_NULL(strstr(text, "f:64: n63\nand 3 more\n"));
}

void suite_error(void)
{
    CU_pSuite suite = CU_add_suite("error", NULL, NULL);
    CU_add_test(suite, "the first error stands", test_first_one_stands);
    CU_add_test(suite, "print leaves out what is not named",
                test_print_leaves_out_what_is_not_named);
    CU_add_test(suite, "long texts are cut", test_long_texts_are_cut);
    CU_add_test(suite, "faults past the most are counted", test_faults_past_the_most_are_counted);
}
