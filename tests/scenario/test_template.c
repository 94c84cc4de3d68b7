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

// numbers are written with six digits where they are turned into another unit
static bool is_near(double value, double wanted, double share)
{
    return isnan(wanted) ? isnan(value) : fabs(value - wanted) <= share * fabs(wanted);
}

// the template of a system, read back; to be freed
static bool read_back(enum pd_unit_system units)
{
    struct folder folder;
    struct pd_error error = {.code = PD_DONE};
    CU_ASSERT_TRUE_FATAL(folder_make(&folder));
    CU_ASSERT_TRUE(
        pd_scenario_write_template(folder.path, &(struct pd_template){.units = units}, &error));
    faults.count = 0;
    bool good = pd_scenario_read(folder.path, NULL, 0, &scenario, &faults);
    CU_ASSERT_TRUE(good);
    pd_faults_print(stdout, &faults);
    folder_remove(&folder);
    return good;
}

static void check_read_back(enum pd_unit_system units)
{
    struct pd_scenario fallback = pd_scenario_default();
    if (!read_back(units)) {
        return;
    }
    CU_ASSERT_STRING_EQUAL(scenario.title, "example house");
    CU_ASSERT_TRUE(scenario.draw_count >= 20);
    CU_ASSERT_TRUE(scenario.pump.has_npsh);
    CU_ASSERT_EQUAL(pd_scenario_units(&scenario), units);
    // the defaults it writes are the defaults
    for (int i = 0; i < PD_ITEM_COUNT; i++) {
        double wanted = fallback.value[i];
        // what is worked out, or by limit.codes, stands behind a comment mark
        CU_ASSERT_TRUE(isnan(pd_items[i].fallback) || scenario.given[i]);
        CU_ASSERT_TRUE(isnan(wanted) || is_near(scenario.value[i], wanted, 5e-6));
    }
    pd_scenario_free(&scenario);
}

static void test_reads_back(void)
{
    check_read_back(PD_UNITS_SI);
    check_read_back(PD_UNITS_US);
}

static void same_pump(const struct pd_pump_points *a, const struct pd_pump_points *b)
{
    CU_ASSERT_EQUAL(a->count, b->count);
    for (size_t i = 0; i < a->count && i < b->count; i++) {
        CU_ASSERT_TRUE(is_near(a->flow[i], b->flow[i], 0.05));
        CU_ASSERT_TRUE(is_near(a->head[i], b->head[i], 0.05));
        CU_ASSERT_TRUE(a->power[i] == b->power[i]);
        CU_ASSERT_TRUE(is_near(a->npsh_required[i], b->npsh_required[i], 0.05));
    }
}

static void same_draws(const struct pd_scenario *a, const struct pd_scenario *b)
{
    CU_ASSERT_EQUAL(a->draw_count, b->draw_count);
    for (size_t i = 0; i < a->draw_count && i < b->draw_count; i++) {
        CU_ASSERT_TRUE(a->draws[i].time == b->draws[i].time);
        CU_ASSERT_TRUE(is_near(a->draws[i].flow, b->draws[i].flow, 0.05));
        CU_ASSERT_TRUE(is_near(a->draws[i].duration, b->draws[i].duration, 0.05));
        CU_ASSERT_TRUE(is_near(a->draws[i].volume, b->draws[i].volume, 0.05));
        CU_ASSERT_STRING_EQUAL(a->draws[i].fixture, b->draws[i].fixture);
    }
}

// written in either system it is one house, in figures that a fitter would write down: items to
// three digits, draws and pump to two (half of the last of them is 5 % at most)
static void test_is_one_house_in_both_systems(void)
{
    if (!read_back(PD_UNITS_SI)) {
        return;
    }
    struct pd_scenario si = scenario;
    CU_ASSERT_DOUBLE_EQUAL(si.value[PD_SUPPLY_PRESSURE], 1.4e5, 1e-6);
    if (read_back(PD_UNITS_US)) {
        for (int i = 0; i < PD_ITEM_COUNT; i++) {
            CU_ASSERT_EQUAL(si.given[i], scenario.given[i]);
            CU_ASSERT_TRUE(is_near(scenario.value[i], si.value[i], 0.05));
        }
        same_pump(&scenario.pump, &si.pump);
        same_draws(&scenario, &si);
        pd_scenario_free(&scenario);
    }
    pd_scenario_free(&si);
}

// what a fitter writes down: no figure of more than three digits
static void test_figures_are_round(void)
{
    static char text[40000];
    char path[128];
    struct folder folder;
    struct pd_error error = {.code = PD_DONE};
    const char *const names[] = {"demand.csv", "pump.csv"};
    CU_ASSERT_TRUE_FATAL(folder_make(&folder));
    CU_ASSERT_TRUE(pd_scenario_write_template(folder.path,
                                              &(struct pd_template){.units = PD_UNITS_US}, &error));
    for (size_t i = 0; i < 2; i++) {
        (void)snprintf(path, sizeof path, "%s/%s", folder.path, names[i]);
        FILE *file = fopen(path, "r");
        CU_ASSERT_PTR_NOT_NULL_FATAL(file);
        text[fread(text, 1, sizeof text - 1, file)] = '\0';
        (void)fclose(file);
        size_t figures = 0;
        for (const char *at = text; (at = strpbrk(at, ".0123456789")) != NULL;) {
            size_t length = strspn(at, ".0123456789");
            figures++;
            CU_ASSERT_TRUE(length <= 3);
            at += length;
        }
        CU_ASSERT_TRUE(figures > 15);
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
    CU_ASSERT_TRUE(pd_scenario_write_template(folder.path,
                                              &(struct pd_template){.units = PD_UNITS_SI}, &error));
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
    CU_ASSERT_TRUE(pd_scenario_write_template(inner.path,
                                              &(struct pd_template){.units = PD_UNITS_SI}, &error));
    folder_remove(&inner);
    // but not the folders above it
    (void)snprintf(path, sizeof path, "%s/no/new", folder.path);
    CU_ASSERT_FALSE(
        pd_scenario_write_template(path, &(struct pd_template){.units = PD_UNITS_SI}, &error));
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
    CU_ASSERT_FALSE(pd_scenario_write_template(
        folder.path, &(struct pd_template){.units = PD_UNITS_SI}, &error));
    CU_ASSERT_EQUAL(error.code, PD_OUTPUT_FAILED);
    CU_ASSERT_PTR_NOT_NULL(strstr(error.text, "not empty"));
    CU_ASSERT_EQUAL(stat(path, &after), 0);
    CU_ASSERT_EQUAL(after.st_size, before.st_size);
    // a file in place of the folder
    error.code = PD_DONE;
    CU_ASSERT_FALSE(
        pd_scenario_write_template(path, &(struct pd_template){.units = PD_UNITS_SI}, &error));
    CU_ASSERT_PTR_NOT_NULL(strstr(error.text, "is no folder"));
    // nothing was added beside it
    folder_remove(&folder);
}

/* A well reads back in both systems of units, the same to two digits, and passes under the strategy
 * that can start on a well. */
static void a_well_can_be_had(void)
{
    double level[2] = {0};

    for (int us = 0; us < 2; us++) {
        struct pd_template template = {.kind = PD_TEMPLATE_WELL,
                                       .units = us ? PD_UNITS_US : PD_UNITS_SI};
        struct folder folder;
        struct pd_error error;
        CU_ASSERT_TRUE_FATAL(folder_make(&folder));
        CU_ASSERT_TRUE(pd_scenario_write_template(folder.path, &template, &error));
        faults.count = 0;
        CU_ASSERT_TRUE_FATAL(pd_scenario_read(folder.path, NULL, 0, &scenario, &faults));
        folder_remove(&folder);
        CU_ASSERT_EQUAL((int)scenario.value[PD_SUPPLY_KIND], PD_SUPPLY_WELL);
        CU_ASSERT_EQUAL(pd_scenario_units(&scenario), template.units);
        CU_ASSERT(scenario.value[PD_PUMP_HEIGHT] < scenario.value[PD_SUPPLY_LEVEL]);
        level[us] = scenario.value[PD_SUPPLY_LEVEL];
        pd_scenario_free(&scenario);
    }
    CU_ASSERT_DOUBLE_EQUAL(level[1], level[0], 0.05 * -level[0]);
}

void suite_template(void)
{
    CU_pSuite suite = CU_add_suite("template", NULL, NULL);
    CU_add_test(suite, "reads back", test_reads_back);
    CU_add_test(suite, "figures are round", test_figures_are_round);
    CU_add_test(suite, "one house in both systems", test_is_one_house_in_both_systems);
    CU_add_test(suite, "every item stands once", test_every_item_stands_once);
    CU_add_test(suite, "a well can be had", a_well_can_be_had);
    CU_add_test(suite, "makes the folder", test_makes_the_folder);
    CU_add_test(suite, "leaves what is there", test_leaves_what_is_there);
}
