/* The template reads back, holds every item, and leaves what is there alone. */
#include "scenario/folder.h"

#include <pumpday/scenario.h>

#include <CUnit/CUnit.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

void suite_template(void);

static struct pd_scenario scenario;
static struct pd_faults faults;

static void test_reads_back(void)
{
    struct folder folder;
    struct pd_error error = {.code = PD_DONE};
    CU_ASSERT_TRUE_FATAL(folder_make(&folder));
    CU_ASSERT_TRUE(pd_scenario_write_template(folder.path, &error));
    faults.count = 0;
    bool good = pd_scenario_read(folder.path, NULL, 0, &scenario, &faults);
    CU_ASSERT_TRUE(good);
    pd_faults_print(stdout, &faults);
    if (good) {
        struct pd_scenario fallback = pd_scenario_default();
        CU_ASSERT_STRING_EQUAL(scenario.title, "example house");
        CU_ASSERT_TRUE(scenario.draw_count >= 20);
        CU_ASSERT_TRUE(scenario.pump.has_npsh);
        // the defaults it writes are the defaults
        for (int i = 0; i < PD_ITEM_COUNT; i++) {
            double wanted = fallback.value[i];
            // what is worked out, or by limit.codes, stands behind a comment mark
            CU_ASSERT_TRUE(isnan(pd_items[i].fallback) || scenario.given[i]);
            CU_ASSERT_TRUE(isnan(wanted) ||
                           fabs(scenario.value[i] - wanted) <= 1e-9 * fabs(wanted));
        }
        pd_scenario_free(&scenario);
    }
    folder_remove(&folder);
}

// how often a name begins a line, or stands behind a comment mark
static int count_rows(const char *text, const char *name)
{
    int count = 0;
    size_t length = strlen(name);
    for (const char *line = text; line != NULL; line = strchr(line, '\n')) {
        line += *line == '\n';
        const char *word = strncmp(line, "# ", 2) == 0 ? line + 2 : line;
        count += strncmp(word, name, length) == 0 && word[length] == ',';
    }
    return count;
}

static void test_every_item_stands_once(void)
{
    static char text[40000];
    char path[128];
    struct folder folder;
    struct pd_error error = {.code = PD_DONE};
    CU_ASSERT_TRUE_FATAL(folder_make(&folder));
    CU_ASSERT_TRUE(pd_scenario_write_template(folder.path, &error));
    (void)snprintf(path, sizeof path, "%s/site.csv", folder.path);
    FILE *file = fopen(path, "rb");
    CU_ASSERT_PTR_NOT_NULL_FATAL(file);
    size_t got = fread(text, 1, sizeof text - 1, file);
    text[got] = '\0';
    (void)fclose(file);
    // what must be given is not told to be none
    CU_ASSERT_PTR_NULL(strstr(text, "Unless given: none"));
    CU_ASSERT_PTR_NOT_NULL(strstr(text, " A main needs it or supply.csv."));
    for (int i = 0; i < PD_ITEM_COUNT; i++) {
        CU_ASSERT_EQUAL(count_rows(text, pd_items[i].name), 1);
    }
    folder_remove(&folder);
}

static void test_makes_the_folder(void)
{
    char path[128];
    struct folder folder;
    struct folder inner;
    struct pd_error error = {.code = PD_DONE};
    CU_ASSERT_TRUE_FATAL(folder_make(&folder));
    (void)snprintf(inner.path, sizeof inner.path, "%.40s/new", folder.path);
    CU_ASSERT_TRUE(pd_scenario_write_template(inner.path, &error));
    folder_remove(&inner);
    // but not the folders above it
    (void)snprintf(path, sizeof path, "%s/no/new", folder.path);
    CU_ASSERT_FALSE(pd_scenario_write_template(path, &error));
    CU_ASSERT_EQUAL(error.code, PD_OUTPUT_FAILED);
    folder_remove(&folder);
}

static void test_leaves_what_is_there(void)
{
    char path[128];
    struct folder folder;
    struct stat before;
    struct stat after;
    struct pd_error error = {.code = PD_DONE};
    CU_ASSERT_TRUE_FATAL(folder_make(&folder));
    folder_write_text(&folder, "pump.csv", "mine");
    (void)snprintf(path, sizeof path, "%s/pump.csv", folder.path);
    CU_ASSERT_EQUAL(stat(path, &before), 0);
    CU_ASSERT_FALSE(pd_scenario_write_template(folder.path, &error));
    CU_ASSERT_EQUAL(error.code, PD_OUTPUT_FAILED);
    CU_ASSERT_PTR_NOT_NULL(strstr(error.text, "not empty"));
    CU_ASSERT_EQUAL(stat(path, &after), 0);
    CU_ASSERT_EQUAL(after.st_size, before.st_size);
    // a file in place of the folder
    error.code = PD_DONE;
    CU_ASSERT_FALSE(pd_scenario_write_template(path, &error));
    CU_ASSERT_PTR_NOT_NULL(strstr(error.text, "is no folder"));
    // nothing was added beside it
    folder_remove(&folder);
}

void suite_template(void)
{
    CU_pSuite suite = CU_add_suite("template", NULL, NULL);
    CU_add_test(suite, "reads back", test_reads_back);
    CU_add_test(suite, "every item stands once", test_every_item_stands_once);
    CU_add_test(suite, "makes the folder", test_makes_the_folder);
    CU_add_test(suite, "leaves what is there", test_leaves_what_is_there);
}
