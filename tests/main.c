/* Runs the suites of all test files, or those whose name contains the argument.
 *
 * `--suite NAME PART PARTS` runs one file's suite alone, and of its tests one part of several: for
 * suites side by side. */
#include <CUnit/Basic.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define X(name) void suite_##name(void);
#include "suites.h"
#undef X

struct entry {
    const char *name;
    void (*add)(void);
};

static const struct entry entries[] = {
#define X(name) {#name, suite_##name},
#include "suites.h"
#undef X
};

static void add_suites(const char *name, bool whole_name)
{
    for (size_t i = 0; i < sizeof entries / sizeof entries[0]; i++) {
        const char *own = entries[i].name;
        if (whole_name ? strcmp(own, name) == 0 : strstr(own, name) != NULL) {
            entries[i].add();
        }
    }
}

/* Leaves of a suite's tests those of one part, from 1: neighbours, since these share what they
 * make. */
static void keep_part(CU_pSuite suite, unsigned part, unsigned parts)
{
    unsigned at = 0;

    for (CU_pTest test = suite->pTest; test != NULL; test = test->pNext, at++) {
        bool kept = at * parts / suite->uiNumberOfTests + 1 == part;
        (void)CU_set_test_active(test, kept ? CU_TRUE : CU_FALSE);
    }
}

static bool choose(int argc, char **argv)
{
    if (argc == 5 && strcmp(argv[1], "--suite") == 0) {
        unsigned part = (unsigned)strtoul(argv[3], NULL, 10);
        unsigned parts = (unsigned)strtoul(argv[4], NULL, 10);
        add_suites(argv[2], true);
        for (CU_pSuite suite = CU_get_registry()->pSuite; suite != NULL; suite = suite->pNext) {
            keep_part(suite, part, parts);
        }
        CU_set_fail_on_inactive(CU_FALSE);
        return true;
    }
    add_suites(argc > 1 ? argv[1] : "", false);
    return argc <= 2;
}

int main(int argc, char **argv)
{
    if (CU_initialize_registry() != CUE_SUCCESS) {
        return (int)CU_get_error();
    }
    if (!choose(argc, argv)) {
        (void)fprintf(stderr, "usage: run-tests [FILTER | --suite NAME PART PARTS]\n");
        return 2;
    }
    CU_basic_set_mode(CU_BRM_NORMAL);
    CU_basic_run_tests();
    unsigned failed = CU_get_number_of_failures();
    unsigned run = CU_get_number_of_tests_run();
    CU_cleanup_registry();
    // a name that matches nothing must not look like success
    if (run == 0) {
        (void)fprintf(stderr, "no test matches \"%s\"\n", argc > 1 ? argv[argc > 2 ? 2 : 1] : "");
        return 1;
    }
    return failed == 0 ? 0 : 1;
}
