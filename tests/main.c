/* Runs the suites of all test files, or those whose name contains the argument. */
#include <CUnit/Basic.h>
#include <stdio.h>
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

int main(int argc, char **argv)
{
    const char *filter = argc > 1 ? argv[1] : "";

    if (CU_initialize_registry() != CUE_SUCCESS) {
        return (int)CU_get_error();
    }
    for (size_t i = 0; i < sizeof entries / sizeof entries[0]; i++) {
        if (strstr(entries[i].name, filter) != NULL) {
            entries[i].add();
        }
    }
    CU_basic_set_mode(CU_BRM_NORMAL);
    CU_basic_run_tests();
    unsigned failed = CU_get_number_of_failures();
    unsigned run = CU_get_number_of_tests_run();
    CU_cleanup_registry();
    // a filter that matches nothing must not look like success
    if (run == 0) {
        (void)fprintf(stderr, "no test matches \"%s\"\n", filter);
        return 1;
    }
    return failed == 0 ? 0 : 1;
}
